"""The page of a mock-up trial: no word covers another, ridges at natural size, and no more said than may be."""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Iterator, Sequence
from functools import cache
from typing import get_args

import numpy as np
import pytest
import zxingcpp
from fieldassist.report.report_model import DayReport
from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.checklist import rules
from fieldassist.checklist.plan import MockUp
from fieldassist.qr import qr_modules
from fieldassist.report import fonts, grid
from fieldassist.report.build import checked_report
from fieldassist.report.build.trial import SECTION_MM, ReleasedMethod, TrialRecord, section, trial_report
from fieldassist.report.grid import MEASURE, MM, paper_of
from fieldassist.report.pictures import Album
from fieldassist.report.sheet import Sheet, SheetPage, wrap
from fieldassist.report.trial_model import TrialReport
from fieldassist.report.trial_page import TrialPages
from fieldassist.trade import ridges
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Units
from fieldassist.trial import telling
from fieldassist.trial.design import can_tell
from fieldassist.trial.model import Chance
from fieldassist.trial.readers import ReadersAgreement
from tests.report import trials
from tests.report.conftest import Site

TWELVE = tuple(
    {"notch": notch, "sides": sides, "seating": seating, "movement": "none", "shown": True}
    for notch in ("quarter inch square", "quarter by half inch U", "half inch square")
    for sides in ("one", "both")
    for seating in ("by hand", "vibrated")
)


@cache
def a_day() -> DayReport:
    record = Site().record()
    return checked_report(record.events, record.hashes)


@cache
def recorded(name: str) -> TrialRecord:
    """A trial by its name here."""
    if name == "twelve":
        both = {"part": "sides", "one": "one", "other": "both"}
        return trials.record_of(trials.area_of(TWELVE, questions=(*trials.ASKED, both), repeats=3), 3)
    if name == "two of each":
        return trials.record_of(trials.area_of(trials.EIGHT[:4], repeats=2), 2)
    if name == "one of each":
        return trials.record_of(trials.area_of(trials.EIGHT[:4], repeats=1), 1)
    return trials.record_of(trials.area_of(trials.EIGHT, questions=trials.ASKED, repeats=4), spoil=11)


def told(name: str, units: Units = "metric") -> TrialReport:
    return trial_report(trials.words(units), recorded(name))


@cache
def drawn(name: str, units: Units = "metric") -> Sheet:
    sheet = Sheet(LETTER if units == "us" else A4)
    day = dataclasses.replace(a_day(), units=units)
    TrialPages(sheet, day, told(name, units), Album(lambda _: None), trials.HEAD).draw("trial-1")
    return sheet


@dataclasses.dataclass(frozen=True)
class Box:
    """Where a text stands on a page: y counts downwards."""

    left: float
    top: float
    right: float
    bottom: float
    text: str

    def covers(self, other: Box) -> bool:
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.2 and down > 0.2


def boxes(page: SheetPage) -> list[Box]:
    """The boxes of a page's texts, from the height of a figure down to the line."""
    return [
        Box(x, y - 0.7 * size, x + fonts.width(text, face, size), y, text)
        for name, x, y, face, size, _, text in (step for step in page.steps if step[0] == "text")
        if text.strip()
    ]


def covered(found: Sequence[Box]) -> Iterator[tuple[str, str]]:
    for at, one in enumerate(found):
        yield from ((one.text, other.text) for other in found[at + 1 :] if one.covers(other))


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", ["eight", "twelve", "two of each"])
def test_no_word_covers_another_and_none_leaves_the_measure_or_the_page(name: str, units: Units) -> None:
    sheet = drawn(name, units)
    paper = paper_of(sheet)
    for page in sheet.pages:
        found = boxes(page)
        assert list(covered(found)) == []
        assert [
            box
            for box in found
            if box.left < paper.side - 0.1
            or box.right > paper.side + MEASURE + 0.1
            or box.top < paper.top - 0.1
            or box.bottom > paper.bottom + 0.1
        ] == []


def test_words_that_cover_each_other_would_be_found() -> None:
    one, other = Box(0, 0, 10, 5, "95"), Box(9, 4, 20, 9, "96")
    assert list(covered([one, other])) == [("95", "96")]
    assert list(covered([one, Box(10, 0, 20, 5, "97")])) == []


# --- ridges -------------------------------------------------------------------------------------------------------


def lines(page: SheetPage) -> list[tuple[float, float, float, float, float]]:
    """Rules of a page: x1, y1, x2, y2, thickness."""
    return [(x1, y1, x2, y2, thick) for name, x1, y1, x2, y2, thick, _ in (s for s in page.steps if s[0] == "line")]


@pytest.mark.parametrize(("units", "long_mm"), [("metric", 40.0), ("us", 38.1)])
def test_the_line_that_must_measure_something_measures_it_on_paper(units: Units, long_mm: float) -> None:
    page = drawn("eight", units).pages[0]
    (label,) = (step for step in page.steps if step[0] == "text" and step[-1].startswith("this line must measure"))
    under = [x2 - x1 for x1, y1, x2, y2, _ in lines(page) if x1 == label[1] and y1 == y2 and 0 < y1 - label[2] < 9]
    assert [long / MM for long in under] == [pytest.approx(long_mm)]


def shapes(page: SheetPage) -> list[Sequence[tuple[float, float]]]:
    return [step[1] for step in page.steps if step[0] == "shape"]


def test_ridges_are_drawn_at_natural_size_foreshortened_by_the_angle_of_the_trowel() -> None:
    """The outline of `trade.ridges`, which has its own check; at 45 degrees ridges have 0.707 of the notch's depth."""
    plan = trials.area_of([{"notch": "quarter inch square"}, {"notch": "quarter inch square", "sides": "both"}])
    assert plan.trial is not None
    one, both = plan.trial.combinations
    made = section(one, 2.25)
    notch = rules.notch_of(one)
    assert made.base_high == pytest.approx(6.35 * math.sin(math.radians(45)))
    assert made.base_high == pytest.approx(ridges.ridge(notch, 45).height_mm)
    widths = [max(x for x, _ in ridge) - min(x for x, _ in ridge) for ridge in made.on_base]
    assert widths == [pytest.approx(6.35)] * 2
    assert made.on_base[1][0][0] - made.on_base[0][0][0] == pytest.approx(12.7)
    assert (made.on_back, section(both, 4.5).on_back) == ((), made.on_base)


def test_a_leaning_ridge_leans_and_is_cut_at_the_ends_of_the_section() -> None:
    plan = trials.area_of([{"notch": "half inch slanted, narrow tooth"}, {"notch": "half inch square"}])
    assert plan.trial is not None
    made = section(plan.trial.combinations[0], 6.0)
    assert len(made.on_base) == 3
    assert all(-1e-9 <= x <= SECTION_MM + 1e-9 for ridge in made.on_base for x, _ in ridge)
    feet, tops = ([x for x, y in made.on_base[1] if (y < 1) is low] for low in (True, False))
    assert min(tops) - min(feet) == pytest.approx(12.7 * math.tan(math.radians(30)))


def test_a_drawn_ridge_has_its_size_on_paper() -> None:
    page = drawn("eight").pages[0]
    highs = {round((max(y for _, y in one) - min(y for _, y in one)) / MM, 1) for one in shapes(page)}
    # Half an inch deep at 45 degrees, and three eighths; what is cut off at the edge is lower.
    assert highs >= {9.0, 6.7}
    assert max(highs) == 9.0


# --- what is said -------------------------------------------------------------------------------------------------


def test_methods_stand_by_their_means_with_ranks_as_ranges_and_what_is_not_told_apart_joined() -> None:
    trial = told("eight")
    means = [row.mean for row in trial.rows if row.mean is not None]
    assert means == sorted(means, reverse=True)
    assert trial.rows[0].rank == "1–4"
    assert trial.ties[0][0] == trial.rows[0].letter
    middles = [y for x1, y, x2, y2, thick in lines(drawn("eight").pages[0]) if y == y2 and thick == 1.2 and x2 - x1 < 4]
    assert len(middles) >= sum(map(len, trial.ties))


def test_means_and_ends_of_intervals_are_whole_and_rounded_down() -> None:
    trial = told("eight")
    for row in trial.rows:
        assert row.mean is not None
        assert row.low is not None
        assert row.high is not None
        assert row.told == f"{math.floor(row.mean)} ({math.floor(row.low)} to {math.floor(row.high)})"
    printed = " ".join(box.text for box in boxes(drawn("eight").pages[0]))
    assert re.findall(r"\d\.\d+ (?:%|\()", printed) == []


def test_the_chance_is_told_in_a_step_and_never_in_percent() -> None:
    steps = {trials.words()(telling.chance(step)) for step in get_args(Chance)}
    found = {row.chance for row in told("eight").rows}
    assert found <= steps
    assert len(found) >= 2


def test_where_methods_are_not_told_apart_the_page_says_how_easily_a_difference_is_missed() -> None:
    record = recorded("eight")
    assert len(record.analysis.contenders) > 1
    (power,) = (one.power for one in can_tell(record.design.letters, 4) if (one.question, one.low) == (None, 85))
    said = " ".join(told("eight").after)
    assert f"85 against 95 would be missed in about {round(10 * (1 - power))} trials of ten" in said
    assert "equal" not in said


def test_with_two_of_each_no_rank_no_bracket_and_no_chance_is_told() -> None:
    trial = told("two of each")
    assert trial.claim == "intervals"
    assert (trial.ties, {row.rank for row in trial.rows}, {row.chance for row in trial.rows}) == ((), {""}, {""})
    assert all(row.low is not None for row in trial.rows)


def test_with_one_of_each_no_interval_is_drawn() -> None:
    trial = told("one of each")
    assert trial.claim == "pictures"
    assert {row.told for row in trial.rows} == {str(math.floor(row.mean or 0)) for row in trial.rows}
    bars = [step for step in drawn("one of each").pages[0].steps if step[0] == "rect" and step[5] == grid.BAR]
    assert bars == []


def test_what_is_ruled_out_is_named_with_its_reason_and_what_is_only_shown_is_marked() -> None:
    words, ruled = trials.words(), recorded("eight").ruled_out
    assert "F" in ruled
    assert words(ruled["F"][0]) in told("eight").legend
    assert "F" not in {row.letter for row in told("eight").rows}
    shown = [row for row in told("twelve").rows if not row.eligible]
    assert shown
    assert {row.chance for row in shown} == {words(message("trialpage-not-eligible"))}


def test_over_nine_methods_go_on_on_a_second_page() -> None:
    first, second, *_ = drawn("twelve").pages
    letters = [row.letter for row in told("twelve").rows]
    on_first = [letter for letter in letters if letter in {box.text for box in boxes(first)}]
    assert len(on_first) <= 9
    assert {box.text for box in boxes(second)} >= set(letters[len(on_first) :])


def test_what_was_asked_beforehand_stands_with_its_gain() -> None:
    (asked,) = told("eight").blocks[:1]
    gains = recorded("eight").analysis.gains
    assert len(asked.paragraphs) == len(gains) == 1
    assert str(round(gains[0].points)) in asked.paragraphs[0]


def test_a_release_stands_with_its_areas_and_its_reason() -> None:
    record = recorded("eight")
    shown = {"date": "2026-03-04", "site": "Quay Baths", "area": "mock-up bench", "head": trials.HEAD, "letter": "G",
             "samples": 4, "mean": 97, "centre": 3.2, "variance": 0.05, "spread": 0.4, "bed_mm": 4.2, "by": "ruth",
             "why": "no vibrator in the hall"}  # fmt: skip
    made = MockUp.model_validate(
        {"date": "2026-03-04", "percent": 95, "corners": "full", "by": "rosa and otto", "trial": shown}
    )
    one = ReleasedMethod("G", ("hall floor", "landing"), made, "Ruth", "15:41", "")
    (said,) = trial_report(trials.words(), dataclasses.replace(record, released=(one,))).released
    assert re.search(r"Ruth.* G .*hall floor and landing.*15:41.*no vibrator in the hall", said)


def test_every_sample_is_listed_and_a_spoiled_one_struck_through_with_its_reason() -> None:
    record, trial = recorded("eight"), told("eight")
    assert [line.number for line in trial.samples] == [sample.number for sample in record.samples]
    assert [line.number for line in trial.samples if line.spoiled] == [11]
    printed = [box.text for page in drawn("eight").pages for box in boxes(page)]
    assert any("the piece slipped off the wall" in text for text in printed)
    assert trials.HEAD in " ".join(printed)
    assert [len(letters.split()) for letters in trial.order] == [8] * 4


def test_a_readers_own_bias_is_nowhere_on_the_pages() -> None:
    """Figures of a person stay with that person: the page tells how far two readers lie apart, not who reads high."""
    apart = ReadersAgreement(("otto", "rosa"), 32, -1.4, -2, -0.8, -4, 1.2, 3.0, 7)
    record = dataclasses.replace(recorded("eight"), agreement=apart)
    (readers,) = (
        block.paragraphs[0]
        for block in trial_report(trials.words(), record).blocks
        if "read apart" in block.paragraphs[0]
    )
    assert "1.4 on average, 3 at most" in readers
    assert not re.search(r"[-−]1\.4", readers)


# --- the grid -----------------------------------------------------------------------------------------------------


def test_the_measure_is_the_same_on_both_papers_and_a_line_breaks_alike() -> None:
    papers = [grid.paper_of(Sheet(size)) for size in (A4, LETTER)]
    assert [paper.size[0] - 2 * paper.side for paper in papers] == [pytest.approx(174 * MM)] * 2
    assert [round((paper.bottom - paper.top) / MM, 1) for paper in papers] == [269.0, 255.4]


def test_a_number_stays_with_its_unit() -> None:
    style = grid.FLOW
    text = "the contact is 95 % and the bed 12 mm"
    for room in range(20, 200):
        broken = wrap(text, style, room)
        assert not any(re.search(r"\d$", line) for line in broken)


def test_letters_that_a_face_lacks_are_set_in_another_and_what_none_has_is_named() -> None:
    sheet = Sheet(A4)
    sheet.text(10, 10, "Bay ▲ 2", grid.FLOW)
    sheet.text(10, 30, "Bay \U00013080", grid.FLOW)
    faces = [(step[3], step[6]) for step in sheet.pages[0].steps]
    assert faces == [
        (fonts.REGULAR, "Bay "),
        (fonts.BODY, "▲"),
        (fonts.REGULAR, " 2"),
        (fonts.REGULAR, f"Bay {fonts.LACKING}"),
    ]


def test_regular_and_bold_figures_are_equally_wide() -> None:
    """Measured on the fonts themselves: 580 of 1000 in each weight, so that a bold figure lines up in its column."""
    for face in (fonts.REGULAR, fonts.SEMIBOLD, fonts.HEAVY):
        assert {round(fonts.width(digit, face, 1000)) for digit in "0123456789"} == {580}


def test_a_camera_reads_date_head_and_key_off_the_code() -> None:
    sheet = drawn("eight")
    (step,) = (step for step in sheet.pages[0].steps if step[0] == "squares")
    rows = step[4]
    light = np.pad(~np.array(rows), 4, constant_values=True)
    (read,) = zxingcpp.read_barcodes((np.kron(light, np.ones((6, 6))) * 255).astype(np.uint8))
    assert read.text == f"fieldassist day {a_day().plan.date} head {' '.join([trials.HEAD[:4]] * 6)}"


def test_a_full_code_has_41_modules() -> None:
    text = f"fieldassist day 2026-03-10 head {' '.join(['51c7'] * 6)} key {' '.join(['7ff4'] * 8)}"
    assert len(qr_modules(text)) == 41
