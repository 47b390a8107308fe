"""A day of mock-up trials on paper: handed over for what they show, sealed and verified as any day."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from pathlib import Path

import pytest
from pypdf import PdfReader

from fieldassist.checklist.plan import Role
from fieldassist.facts.build import day_facts
from fieldassist.language import Words
from fieldassist.proof.known import known_by
from fieldassist.proof.verify import verify
from fieldassist.record.keys import Keyring, fingerprint
from fieldassist.record.log import DayLog
from fieldassist.report.build import day_pages
from fieldassist.report.daily import Record, lay_out, print_pages, record_of, write_daily_pdf
from fieldassist.report.model import DayPages
from fieldassist.report.sheet import SheetPage
from fieldassist.trade.message import message
from tests.trial.worked import planned, worked

MEANS = {"A": 84.0, "B": 96.0}
TRIED = [{"notch": "half inch square", "sides": ["one", "both"]}]
WORDS = Words("en", "metric")


def read(letter: str, number: int, reader: str) -> float:
    """Invented figures: the second reader reads a point less."""
    return MEANS[letter] + number - 2 - (reader == "otto")


@dataclass(frozen=True)
class PrintedTrial:
    """A sealed day with one trial, one of whose samples was spoiled and whose best method was released."""

    record: Record
    pages: DayPages
    path: Path
    key: str


@pytest.fixture(scope="module")
def trial(tmp_path_factory: pytest.TempPathFactory) -> PrintedTrial:
    folder = tmp_path_factory.mktemp("trial")
    crew = worked(folder / "day.db", read, planned(repeats=2, a_batch=3, **{"try": TRIED}))
    crew.all_samples(spoiled={2: "sample ruined piece slipped"})
    keys = Keyring(folder / "keys")
    key = keys.set_pin("edwin", Role.FOREMAN, "471182", now=crew.clock.now())
    assert crew.day.release_method(keys, "471182", "edwin", "B", ["hall"]).taken
    for words in ("finish area", "this is edwin"):
        crew.say(words)
    assert crew.day.sign(keys, "471182", accept_open=True).taken
    crew.day.close()
    with DayLog.open(folder / "day.db", read_only=True) as log:
        record = record_of(log)
        write_daily_pdf(record, folder / "day.pdf")
    pages = day_pages(day_facts(record.events, record.hashes, WORDS), WORDS)
    return PrintedTrial(record, pages, folder / "day.pdf", fingerprint(key.public_key))


def printed(page: SheetPage) -> str:
    return " ".join(step[-1] for _, step in page.steps if step[0] == "text")


def test_page_one_of_a_day_of_trials_is_the_ranking_and_reads_from_its_title_to_its_foot(trial: PrintedTrial) -> None:
    pages = PdfReader(trial.path).pages
    lines = pages[0].extract_text().splitlines()
    assert lines[0] == WORDS(message("trialpage-title"))
    assert lines[-1].endswith(WORDS(message("page-number", number=1, total=len(pages))))
    assert trial.record.hashes[-1][:4] in "".join(lines)


def test_whoever_answers_stands_on_page_one_with_key_and_right_behind_the_samples(trial: PrintedTrial) -> None:
    sheet = lay_out(trial.pages, WORDS)
    assert trial.key.replace(" ", "") in printed(sheet.pages[0]).replace(" ", "")
    (area,) = trial.pages.areas
    assert (sheet.places[area.key], sheet.places[f"{area.key}-samples"]) == (1, 2)


def test_the_record_says_of_each_sample_what_the_pages_say(trial: PrintedTrial) -> None:
    told = trial.pages.areas[0].trial
    assert told is not None
    assert [line.letter for line in told.samples if line.spoiled] == [told.order[0].split()[1]]
    best = told.rows[0]
    assert (best.letter, best.samples) == ("B", (94.5, 95.5))
    (released,) = told.released
    assert "hall" in released
    # The signature by PIN is good, so nothing is said of it.
    assert "SIGNATURE" not in released
    assert [line.number for line in told.samples] == [1, 2, 3, 4, 5]
    assert {line.made.split()[-1] for line in told.samples} == {"Rosa"}


def test_a_day_of_trials_is_verified_as_a_day_its_pages_too(trial: PrintedTrial) -> None:
    judgment = verify(trial.path, known=known_by(trial.key))
    assert judgment.ok, [WORDS(told) for told in judgment.told]


def test_beside_other_work_the_front_page_comes_before_a_trial(trial: PrintedTrial) -> None:
    sheet = lay_out(dataclasses.replace(trial.pages, trials_alone=False), WORDS)
    assert sheet.places[trial.pages.areas[0].key] == 2


def test_a_day_that_is_no_work_says_so_on_every_page_of_a_trial(trial: PrintedTrial, tmp_path: Path) -> None:
    opened = trial.record.events[0]
    practice = opened.model_copy(update={"body": opened.body.model_copy(update={"kind": "practice"})})
    record = dataclasses.replace(trial.record, events=(practice, *trial.record.events[1:]))
    (tmp_path / "day.pdf").write_bytes(print_pages(record).content)
    pages = PdfReader(tmp_path / "day.pdf").pages
    assert all("PRACTICE" in page.extract_text() for page in pages)
