"""In the pseudo-language no job tells a sentence in plain English: what does was never put into words."""

from __future__ import annotations

import io
import re
import shutil
import sqlite3
from pathlib import Path

import pytest

from fieldassist.checklist.loader import load_plan
from fieldassist.cli import main
from fieldassist.cli.program import JOBS
from fieldassist.cli.terminal import LANGUAGE
from fieldassist.record.log import DayLog
from tests import SITE
from tests.spoken import recording

pytestmark = pytest.mark.usefixtures("cheap_hash")

PLAN = SITE
RECORDING = recording("next tile")
# What people gave a name, and what stands for itself in every language.
_PLAN = load_plan(PLAN)
NAMES = sorted(
    {
        _PLAN.site,
        *(person.name for person in _PLAN.crew),
        *(area.name for area in _PLAN.areas),
        *(area.piece.product for area in _PLAN.areas),
        "fieldassist",
        "No such file or directory",  # the system's own words, in its own language
        "database disk image is malformed",  # SQLite's
    },
    key=len,
    reverse=True,
)
_APART = [
    re.compile(r"“[^”]*”|(?<!\w)'[^']*'(?!\w)"),  # phrases to say, and what was heard or typed; no apostrophe
    re.compile(r"\S*[/\\]\S*"),  # paths
    re.compile(r"\S+\.(?:db|pdf|bundle|yaml|json|jsonl|md|attached|flac|pem)\b\S*"),
    re.compile(r"--?[a-z][a-z-]*"),  # options
    re.compile(r"\b[0-9a-f]{4,64}\b"),  # hashes and fingerprints
    re.compile(r"\b[A-Z]{2,}\b"),  # what stands for a value on a page of help
    re.compile(r"`[^`]*`"),  # commands to type
]
_WORDS = re.compile(r"(?<![\w-])[A-Za-z]{2,}(?:[ ,;:]+[A-Za-z]{2,})+(?![\w-])")


def plain_english(told: str) -> list[str]:
    """Runs of two plain words or more that are no name, path, option or quoted phrase."""
    for name in NAMES:
        told = re.sub(re.escape(name), "·", told, flags=re.IGNORECASE)
    for apart in _APART:
        told = apart.sub("·", told)
    return [found for line in told.splitlines() for found in _WORDS.findall(line)]


def test_the_search_finds_a_sentence_and_spares_names() -> None:
    assert plain_english("Ḱept. This was never translated.") == ["This was never translated"]
    assert plain_english("Shower Wall, edwin: “next tile” --units /a path.db 4f00aa ŚÓ") == []


class Spoken:
    """Everything that the jobs print in the pseudo-language."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv(LANGUAGE, "pseudo")
        monkeypatch.setenv("FIELDASSIST_DATA", str(folder / "data"))
        monkeypatch.chdir(folder)
        self._capsys, self._patch = capsys, monkeypatch

    def run(self, *arguments: str | Path, typed: str = "", code: int = 0) -> str:
        """What a job told; it must have come to `code`, and hold no plain English."""
        self._patch.setattr("sys.stdin", io.StringIO(typed))
        self._capsys.readouterr()
        assert main([str(argument) for argument in arguments]) == code
        out, err = self._capsys.readouterr()
        told = out + err
        assert told.strip()
        assert plain_english(told) == [], told
        return told


@pytest.fixture
def spoken(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Spoken:
    return Spoken(tmp_path, capsys, monkeypatch)


@pytest.mark.parametrize("job", ["", *(name for names in JOBS.values() for name in names)])
def test_help_in_another_language_has_no_english(spoken: Spoken, job: str) -> None:
    spoken.run(*filter(None, [job]), "--help")


WORK = """this is rosa
start area shower wall
understood
understood
air temperature 21 degrees
yes
wall temperature 2 degrees
yes
air temperature 90 mm
?
how long
what now
scratch that
weather rain
note the gate stays locked
note
next tile
sign off the day
this is edwin
sign off the day
something else
leave
"""


def test_a_day_from_its_plan_to_its_bundle_has_no_english(spoken: Spoken, tmp_path: Path) -> None:
    spoken.run("begin", PLAN, "day.db", "--today")
    spoken.run("begin", PLAN, "day.db", "--today", code=2)
    spoken.run("work", "day.db", "--quiet", typed=WORK)
    spoken.run("people", "edwin", "--role", "foreman", typed="271828\n271828\n")
    spoken.run("people", "edwin", "--role", "foreman", typed="9999\n314159\n314159\n", code=2)
    spoken.run("people", "rosa", "--role", "installer", typed="123456\n123456\n", code=2)
    spoken.run("people", "otto", code=2)
    spoken.run("people")
    spoken.run("people", "edwin", "--public-key", "edwin.pem")
    spoken.run("sign", "day.db", "--as", "edwin", typed="271828\n", code=1)
    spoken.run("sign", "day.db", "--with-open-points", typed="1111\n", code=1)
    spoken.run("sign", "day.db", "--with-open-points", typed="271828\n")
    spoken.run("sign", "day.db", typed="271828\n", code=1)
    spoken.run("correct", "day.db", "2", "···", code=1)
    spoken.run("addendum", "day.db", "···")
    spoken.run("correct", "day.db", "2", "···")
    spoken.run("events", "day.db")
    spoken.run("report", "day.db")
    spoken.run("bundle", "day.db")
    spoken.run("import", "day.bundle", "--into", "office")
    spoken.run("import", "day.bundle", "--into", "office")
    spoken.run("import", "none.bundle", code=2)
    for file in ("day.db", "day.bundle", "daily-log.pdf"):
        spoken.run("verify", file, "--key", "edwin.pem", code=3)
    spoken.run("verify", "none.pdf", code=2)
    spoken.run("verify", "day.db", "--key", "none.pem", code=2)
    spoken.run("people", "edwin", "--forget")
    assert (tmp_path / "office").is_dir()


def test_what_is_damaged_is_told_without_english(spoken: Spoken, tmp_path: Path) -> None:
    spoken.run("begin", PLAN, "day.db", "--today")
    shutil.copy(tmp_path / "day.db", tmp_path / "cut.db")
    (tmp_path / "empty.db").touch()
    connection = sqlite3.connect(tmp_path / "day.db")
    connection.execute("DROP TRIGGER events_are_never_updated")
    connection.execute("UPDATE events SET text = replace(text, '4', '5') WHERE seq = 3")
    connection.commit()
    connection.close()
    (tmp_path / "day.db.lines").unlink()
    spoken.run("recover", "cut.db", code=2)
    spoken.run("events", "empty.db", code=2)
    spoken.run("events", "none.db", code=2)
    spoken.run("events", "day.db", code=2)
    spoken.run("verify", "day.db", code=1)
    spoken.run("recover", "day.db")
    with DayLog.open(tmp_path / "day.db", read_only=True) as log:
        assert [event.body.type for event in log.events[2:]] == ["day recovered"]
    assert (tmp_path / "day.db.islands.lines").is_file(), "what is behind the gap is kept"
    with sqlite3.connect(tmp_path / "cut.db") as old:
        old.execute("PRAGMA user_version = 2")
    spoken.run("events", "cut.db", code=2)


def test_hearing_and_models_are_told_without_english(spoken: Spoken, tmp_path: Path) -> None:
    spoken.run("hear", RECORDING, tmp_path / "none.wav", code=1)
    spoken.run("hear", "--can-say", "nothing", RECORDING, code=2)
    spoken.run("hear", "--can-say", "wet-area-wall:nothing", RECORDING, code=2)
    spoken.run("hear", "--attention", "zweitausend assist", RECORDING, code=2)
    spoken.run("models")
    spoken.run("models", "--model", "none", code=2)
    spoken.run("checklists")
    (tmp_path / "wrong.yaml").write_text("checklist: Wrong Id\n", encoding="utf-8")
    spoken.run("checklists", "wrong.yaml", code=1)


@pytest.mark.parametrize(
    "typed", ["", "begn", "begin", "begin x y z", "events x --jsn", "work x --pcm a", "report --units"]
)
def test_misuse_is_told_without_english(spoken: Spoken, typed: str) -> None:
    spoken.run(*typed.split(), code=2)
