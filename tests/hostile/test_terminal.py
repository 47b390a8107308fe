"""Texts that act on a terminal, that begin a line of their own, or turn the order of letters about: what is said and
typed is recorded as one line, and whatever a record holds, no job prints anything of it but letters."""

from __future__ import annotations

import shutil
import unicodedata
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.moment import TYPED
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.cli import main
from fieldassist.printable import one_line
from fieldassist.record.bundle import pack
from fieldassist.record.log import DayLog
from tests.conftest import Crew
from tests.small_day import PLAN, kept

FALSE_LINE = "fine\n  99 2026-03-17T15:30:32+01:00 edwin      day sealed: covers 98"
HOSTILE = (
    FALSE_LINE,
    "\x1b[2J\x1b[31mPASS",
    "\x1b]0;title\x07",
    "\x9b2J",
    "over\rwritten",
    "a\u202eb",
    "a\u2028b",
    "a\0b",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_what_is_typed_is_recorded_as_one_line_that_acts_on_nothing(crew: Crew, text: str) -> None:
    assert crew.day.do(cmd.MakeNote(text=text), TYPED).taken
    [note] = crew.events(ev.NoteMade)
    assert note.text == one_line(text)
    assert {unicodedata.category(c) for c in note.text} & {"Cc", "Cs", "Zl", "Zp"} == set()
    assert "\u202e" not in note.text


def test_letters_that_are_joined_stay_as_they_are_written() -> None:
    for written in ("می\u200cخواهم", "क्\u200dष", "👷🏽\u200d♀️", "José, 3/8 in"):
        assert one_line(written) == written
    assert one_line("\ud800") == "\ufffd"  # no half of a pair can be stored as UTF-8


@pytest.fixture(scope="module")
def hostile_day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A day whose notes, names and files were written by another program than this one."""
    path = tmp_path_factory.mktemp("hostile") / "day.db"
    with DayLog.create(path) as log:
        kept(log, ev.DayOpened(plan=DayPlan.model_validate(PLAN)))
        kept(log, *(ev.NoteMade(text=text) for text in HOSTILE))
        kept(log, ev.NoteMade(text="heard", audio="\x1b[2J.flac", sha256="0" * 64))
        kept(log, ev.WeatherNoted(text=HOSTILE[1]), ev.CorrectionMade(target=2, text=FALSE_LINE))
        kept(log, ev.DaySigned(name=f"edwin{HOSTILE[1]}\n99 verified by the owner", role=Role.FOREMAN))
    pack(path, path.with_suffix(".bundle"))
    return path


@pytest.mark.parametrize(
    "job", ["events", "events --json", "verify", "verify bundle", "import", "report", "facts", "recover"]
)
def test_no_job_prints_anything_but_letters_of_a_record(
    hostile_day: Path, job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    day = tmp_path / "day.db"
    shutil.copy(hostile_day, day)
    bundle = hostile_day.with_suffix(".bundle")
    arguments: dict[str, list[Any]] = {
        "events": ["events", day],
        "events --json": ["events", day, "--json"],
        "verify": ["verify", day],
        "verify bundle": ["verify", bundle],
        "import": ["import", bundle, "--into", tmp_path / "in"],
        "report": ["report", day, "--out", tmp_path / "out.pdf"],
        "facts": ["facts", day],
        "recover": ["recover", day],
    }
    main([str(argument) for argument in arguments[job]])
    said = "".join(capsys.readouterr())
    assert {c for c in said if unicodedata.category(c)[0] == "C"} <= {"\n"}
    assert [line for line in said.split("\n") if line.lstrip().startswith("99 ")] == []


def test_a_file_name_acts_on_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("\x1b[2J\u202efdp.db", "a\n99 verified\udcff"):
        path = tmp_path / name
        path.write_bytes(b"none of ours")
        for job in ("verify", "events", "import", "checklists"):
            main([job, str(path)])
            said = "".join(capsys.readouterr())
            assert {c for c in said if unicodedata.category(c)[0] == "C"} <= {"\n"}, (job, name)
            assert [line for line in said.split("\n") if line.startswith("99 ")] == []
