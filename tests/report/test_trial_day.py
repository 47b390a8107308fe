"""A day of mock-up trials on paper: handed over for what they show, sealed and verified as any day."""

from __future__ import annotations

import dataclasses
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from pypdf import PdfReader

from fieldassist.checklist.plan import AreaPlan, Role
from fieldassist.language import Words
from fieldassist.proof.known import known_by
from fieldassist.proof.verify import verify
from fieldassist.record.keys import Keyring, fingerprint
from fieldassist.record.log import DayLog
from fieldassist.report.build import build_report, checked_report
from fieldassist.report.daily import Record, lay_out, record_of, write_daily_pdf
from fieldassist.report.report_model import DayReport
from fieldassist.report.sheet import SheetPage
from fieldassist.trade.message import message
from tests.report.conftest import Site, plan_of
from tests.trial.worked import planned, worked

MEANS = {"A": 84.0, "B": 96.0}
TRIED = [{"notch": "half inch square", "sides": ["one", "both"]}]


def read(letter: str, number: int, reader: str) -> float:
    """Invented figures: the second reader reads a point less."""
    return MEANS[letter] + number - 2 - (reader == "otto")


@dataclass(frozen=True)
class PrintedTrial:
    """A sealed day with one trial, one of whose samples was spoiled and whose best method was released."""

    record: Record
    day: DayReport
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
    return PrintedTrial(
        record, checked_report(record.events, record.hashes), folder / "day.pdf", fingerprint(key.public_key)
    )


def printed(page: SheetPage) -> str:
    return " ".join(step[-1] for step in page.steps if step[0] == "text")


def test_page_one_of_a_day_of_trials_is_the_ranking_and_reads_from_its_title_to_its_foot(trial: PrintedTrial) -> None:
    pages = PdfReader(trial.path).pages
    lines = pages[0].extract_text().splitlines()
    words = Words("en", "metric")
    assert lines[0] == words(message("trialpage-title"))
    assert lines[-1].endswith(words(message("trialpage-page", number=1, total=len(pages))))
    assert trial.record.hashes[-1][:4] in "".join(lines)


def test_whoever_answers_stands_on_page_one_with_key_and_right_behind_the_samples(trial: PrintedTrial) -> None:
    sheet = lay_out(trial.day, head=trial.record.hashes[-1])
    first = printed(sheet.pages[0]).replace(" ", "")
    assert trial.key.replace(" ", "") in first
    on_grid = [page.on_grid for page in sheet.pages]
    count = on_grid.index(False)
    assert not any(on_grid[count:])
    assert trial.key in printed(sheet.pages[count])


def test_the_record_says_of_each_sample_what_the_pages_say(trial: PrintedTrial) -> None:
    told = trial.day.areas[0].trial
    assert told is not None
    assert [line.letter for line in told.samples if line.spoiled] == [told.order[0].split()[1]]
    best = told.rows[0]
    assert (best.letter, best.samples) == ("B", (94.5, 95.5))
    (released,) = told.released
    assert "hall" in released
    assert [line.number for line in told.samples] == [1, 2, 3, 4, 5]


def test_a_day_of_trials_is_verified_as_a_day_its_pages_too(trial: PrintedTrial) -> None:
    judgment = verify(trial.path, known=known_by(trial.key))
    assert judgment.ok, [Words("en")(told) for told in judgment.told]


def test_beside_other_work_a_trial_has_its_row_and_its_page_in_place_of_the_areas(trial: PrintedTrial) -> None:
    hall = AreaPlan.model_validate(
        {**planned().areas[0].model_dump(), "name": "hall", "id": None, "trial": None, "size": "10 m2"}
    )
    day = dataclasses.replace(trial.day, plan=trial.day.plan.with_area(hall), not_started=(hall,))
    sheet = lay_out(day, head=trial.record.hashes[-1])
    told = trial.day.areas[0].trial
    assert told is not None
    assert not sheet.pages[0].on_grid
    assert told.verdict.split(".")[0] in " ".join(printed(page) for page in sheet.pages[:2])
    at = [page.on_grid for page in sheet.pages].index(True)
    assert sheet.places["trial-1"] == at + 1


def test_a_day_that_is_no_work_says_so_on_every_page_of_a_trial(trial: PrintedTrial, tmp_path: Path) -> None:
    opened = trial.record.events[0]
    practice = opened.model_copy(update={"body": opened.body.model_copy(update={"kind": "practice"})})
    record = dataclasses.replace(trial.record, events=(practice, *trial.record.events[1:]))
    write_daily_pdf(record, tmp_path / "day.pdf")
    pages = PdfReader(tmp_path / "day.pdf").pages
    assert all("PRACTICE" in page.extract_text() for page in pages[:3])


def test_where_a_released_method_is_used_the_pages_say_its_trial_with_head_figures_and_chance() -> None:
    plan = plan_of()
    shown = {"date": "2026-03-02", "site": "Žofín Quay Baths", "area": "bench", "head": "ab" * 32, "letter": "D",
             "samples": 4, "mean": 97.8, "low": 95.2, "high": 98.9, "chance": "about 3 in 4", "centre": 3.2,
             "variance": 0.05, "spread": 0.4, "bed_mm": 4.2, "by": "ruth"}  # fmt: skip
    made = {"date": "2026-03-02", "percent": 95, "corners": "full", "by": "ana and ben", "trial": shown}
    plan["areas"][0]["mock_up"] = made
    site = Site(plan).speak("ana").start("shower wall").release().batch().tile().lift("96")
    area = build_report(site.events).areas[0]
    (period,) = area.periods
    said = r"2026-03-02, bench, method D: 97 % \(95 to 98\), .*about 3 in 4; released by Ruth; record abab"
    assert re.search(said, period.rests)
    assert re.search(r"96 % .*single tiles of D .*2026-03-02.*97 % \(95 to 98\)", area.lifts[0].beside)
