"""The page of a mock-up trial: no word covers another, ridges at natural size, and no more said than may be."""

from __future__ import annotations

import dataclasses
import math
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from typing import get_args

import numpy as np
import pytest
import zxingcpp
from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.facts.build import day_facts
from fieldassist.facts.model import AgreementFact, DayFacts, ToldFact, TrialFact, TrialReleaseFact
from fieldassist.language import Words
from fieldassist.qr import qr_modules
from fieldassist.report import fonts, grid
from fieldassist.report.build.area import area_pages
from fieldassist.report.build.figures import measure
from fieldassist.report.build.trial import trial_report
from fieldassist.report.grid import MEASURE, MM, paper_of
from fieldassist.report.pictures import Album
from fieldassist.report.sheet import Sheet, SheetPage, wrap
from fieldassist.report.tags import Tag
from fieldassist.report.trial_model import TrialReport
from fieldassist.report.trial_page import TrialPages
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Quantity, Units
from fieldassist.trial import telling
from fieldassist.trial.model import Chance
from tests.report import trials
from tests.report.days import DAYS


@cache
def day(name: str, units: Units = "metric") -> DayFacts:
    """The facts of a day with a trial by its name here."""
    words = Words("en", units)
    if name == "twelve":
        both = {"part": "sides", "one": "one", "other": "both"}
        area = trials.area_of(trials.TWELVE, questions=(*trials.ASKED, both), repeats=3)
        return trials.facts_of(area, 3, words=words)
    if name == "two of each":
        return trials.facts_of(trials.area_of(trials.EIGHT[:4], repeats=2), 2, words=words)
    if name == "one of each":
        return trials.facts_of(trials.area_of(trials.EIGHT[:4], repeats=1), 1, words=words)
    return trials.facts_of(trials.area_of(trials.EIGHT, questions=trials.ASKED), words=words, spoil=11)


def tried(facts: DayFacts) -> TrialFact:
    trial = facts.areas[0].trial
    assert trial is not None
    return trial


def told(name: str, units: Units = "metric", facts: DayFacts | None = None, **trial: object) -> TrialReport:
    """What is told of a trial; trial: what of it is changed first."""
    facts = facts or day(name, units)
    (area,) = facts.areas
    report = trial_report(
        facts, area.model_copy(update={"trial": tried(facts).model_copy(update=trial)}), Words("en", units)
    )
    assert report is not None
    return report


@cache
def drawn(name: str, units: Units = "metric") -> Sheet:
    words = Words("en", units)
    sheet = Sheet(LETTER if units == "us" else A4, words)
    area = area_pages(day(name, units), 0, words)
    assert area.trial is not None
    with sheet.tagged("Sect"):
        TrialPages(sheet, area.trial, Album(lambda _: None)).draw(area)
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
        for name, x, y, face, size, _, text in (step for _, step in page.steps if step[0] == "text")
        if text.strip()
    ]


def covered(found: Sequence[Box]) -> Iterator[tuple[str, str]]:
    for at, one in enumerate(found):
        yield from ((one.text, other.text) for other in found[at + 1 :] if one.covers(other))


@pytest.mark.parametrize(("name", "units"), [("eight", "metric"), ("eight", "us"), ("twelve", "us"),
                                             ("two of each", "metric")])  # fmt: skip
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


def test_texts_of_the_greatest_length_leave_the_page_whole_and_no_release_is_lost() -> None:
    """A plan's text has up to 400 letters, a name up to 60."""
    facts, words = day("eight"), Words("en", "us")
    release = TrialReleaseFact(
        letter="G", areas=["w" * 60] * 6, by="v" * 60, deputy_for="w" * 60, why="the ropewalk " * 30, mean=97, low=95,
        high=98, chance=None, at="2026-03-04T15:41:09+01:00", event=90,
    )  # fmt: skip
    trial = tried(facts)
    mixed = [
        one.model_copy(update={"mortar_name": "L" * 400, "mortar": f"{at}"})
        for at, one in enumerate(trial.combinations)
    ]
    trial = trial.model_copy(update={"releases": [release] * 8, "readers": ["w" * 60] * 2, "combinations": mixed})
    area = facts.areas[0].model_copy(update={"trial": trial, "name": "w" * 60, "where": "the ropewalk " * 30})
    pages = area_pages(facts.model_copy(update={"areas": [area], "site": "Q" * 400}), 0, words)
    assert pages.trial is not None
    sheet = Sheet(LETTER, words)
    with sheet.tagged("Sect"):
        TrialPages(sheet, pages.trial, Album(lambda _: None)).draw(pages)
    found = [boxes(page) for page in sheet.pages]
    assert [list(covered(page)) for page in found] == [[]] * len(found)
    assert max(box.bottom for page in found for box in page) <= paper_of(sheet).bottom + 0.1
    assert sum(box.text.count("15:41") for page in found for box in page) == 8


def test_words_that_cover_each_other_would_be_found() -> None:
    one, other = Box(0, 0, 10, 5, "95"), Box(9, 4, 20, 9, "96")
    assert list(covered([one, other])) == [("95", "96")]
    assert list(covered([one, Box(10, 0, 20, 5, "97")])) == []


# --- ridges -------------------------------------------------------------------------------------------------------


def lines(page: SheetPage) -> list[tuple[float, float, float, float, float]]:
    """Rules of a page: x1, y1, x2, y2, thickness."""
    steps = [step for _, step in page.steps if step[0] == "line"]
    return [(x1, y1, x2, y2, thick) for _, x1, y1, x2, y2, thick, _ in steps]


@pytest.mark.parametrize(("units", "long_mm"), [("metric", 40.0), ("us", 38.1)])
def test_the_line_that_must_measure_something_measures_it_on_paper(units: Units, long_mm: float) -> None:
    page = drawn("eight", units).pages[0]
    (label,) = (s for _, s in page.steps if s[0] == "text" and s[-1].startswith("this line must measure"))
    under = [x2 - x1 for x1, y1, x2, y2, _ in lines(page) if x1 == label[1] and y1 == y2 and 0 < y1 - label[2] < 9]
    assert [long / MM for long in under] == [pytest.approx(long_mm)]


def test_each_row_draws_its_ridges_at_natural_size() -> None:
    shapes = [step[1] for _, step in drawn("eight").pages[0].steps if step[0] == "shape"]
    highs = {round((max(y for _, y in one) - min(y for _, y in one)) / MM, 1) for one in shapes}
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
    ticks = [y for x1, y, x2, y2, thick in lines(drawn("eight").pages[0]) if y == y2 and thick == 1.2 and x2 - x1 < 4]
    assert len(ticks) >= sum(map(len, trial.ties))


def test_means_and_ends_of_intervals_are_whole_and_rounded_down() -> None:
    for row in told("eight").rows:
        assert row.mean is not None
        assert row.low is not None
        assert row.high is not None
        assert row.told == f"{math.floor(row.mean)} ({math.floor(row.low)} to {math.floor(row.high)})"
    printed = " ".join(box.text for box in boxes(drawn("eight").pages[0]))
    assert re.findall(r"\d\.\d+ (?:%|\()", printed) == []


def test_the_chance_is_told_in_a_step_and_never_in_percent() -> None:
    steps = {Words()(telling.chance(step)) for step in get_args(Chance)}
    found = {row.chance for row in told("eight").rows}
    assert found <= steps
    assert len(found) >= 2


def test_where_methods_are_not_told_apart_the_page_says_how_easily_a_difference_is_missed() -> None:
    analysis = tried(day("eight")).analysis
    assert analysis is not None
    assert len(analysis.contenders) > 1
    missed = analysis.overlooked
    assert missed is not None
    assert (missed.low, missed.high) == (85, 95)
    said = " ".join(told("eight").after)
    assert f"85 % against 95 % would be missed in about {missed.tenths} trial" in said
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
    assert [s for _, s in drawn("one of each").pages[0].steps if s[0] == "rect" and s[5] == grid.BAR] == []


def test_what_is_ruled_out_is_named_with_its_reason_and_what_is_only_shown_is_marked() -> None:
    (out,) = (one for one in tried(day("eight")).combinations if one.ruled_out)
    assert (out.letter, out.run) == ("F", False)
    assert out.ruled_out[0].text.rstrip(".") in told("eight").legend
    assert "F" not in {row.letter for row in told("eight").rows}
    shown = [row for row in told("twelve").rows if not row.eligible]
    assert shown
    assert {row.chance for row in shown} == {Words()(message("trialpage-not-eligible"))}


def test_over_nine_methods_go_on_on_a_second_page() -> None:
    first, second, *_ = drawn("twelve", "us").pages
    letters = [row.letter for row in told("twelve", "us").rows]
    on_first = [letter for letter in letters if letter in {box.text for box in boxes(first)}]
    assert len(on_first) <= 9
    assert {box.text for box in boxes(second)} >= set(letters[len(on_first) :])


def test_what_was_asked_beforehand_stands_with_its_gain() -> None:
    (asked,) = told("eight").blocks[:1]
    analysis = tried(day("eight")).analysis
    assert analysis is not None
    # The gain of several pairs, and which mean it is: the one of the model.
    assert len(analysis.gains) == 1
    assert len(analysis.gains[0].pairs) > 1
    assert len(asked.paragraphs) == 2
    assert str(round(analysis.gains[0].points)) in asked.paragraphs[0]


def test_a_release_stands_with_its_areas_its_reason_and_what_became_of_its_signature() -> None:
    one = TrialReleaseFact(
        letter="G", areas=["hall floor", "landing"], by="ruth", deputy_for="", why="no vibrator in the hall", mean=97,
        low=95, high=98, chance=None, at="2026-03-04T15:41:09+01:00", event=90,
    )  # fmt: skip
    (said,) = told("eight", releases=[one]).released
    assert re.search(r"Ruth.* G .*hall floor and landing.*15:41.*no vibrator in the hall", said)
    assert said.endswith(Words()(message("trialpage-pin-unchecked")))


def test_every_sample_is_listed_and_a_spoiled_one_struck_through_with_its_reason() -> None:
    trial = told("eight")
    assert [line.number for line in trial.samples] == [sample.number for sample in tried(day("eight")).samples]
    assert [line.number for line in trial.samples if line.spoiled] == [11]
    printed = [box.text for page in drawn("eight").pages for box in boxes(page)]
    assert any("the piece slipped off the wall" in text for text in printed)
    assert trials.HEAD in " ".join(printed)
    assert [len(letters.split()) for letters in trial.order] == [8] * 4


def test_a_sample_that_was_measured_on_its_photo_shows_it_squared_with_its_interval_and_says_how() -> None:
    record = DAYS["measured"]().record()
    measured = day_facts(record.events, record.hashes, Words("en", "metric"))
    back, analysis = measured.areas[0].lifts[0].back, tried(day("eight")).analysis
    assert back is not None
    assert analysis is not None
    letter = analysis.contenders[0]
    samples = [
        one.model_copy(update={"back": back, "counted": 97.0, "photos": ["a.jpg"]})
        if one.letter == letter and one.counts
        else one
        for one in tried(day("eight")).samples
    ]
    kept = measured.photos[0].model_copy(update={"file": "a.jpg"})
    facts = day("eight").model_copy(update={"photos": [kept]})
    trial = told("eight", facts=facts, samples=samples)
    (shown,) = trial.photos
    assert (shown.file, shown.over and shown.over.cells) == (back.picture_file, back.cells_file)
    interval = message("area-between", low="96", high=Quantity(Fraction(98), "percent"))
    on_photo = message("trialpage-on-photo", way="painted", contact=measure(97, "percent"), between=interval)
    seen = [line.seen for line in trial.samples if line.letter == letter and not line.spoiled]
    assert seen
    assert all(Words("en", "metric")(on_photo) in text and "grid" not in text for text in seen)
    assert len(trial.measured) == 1
    assert told("eight").measured == ()


def test_a_readers_own_bias_is_nowhere_on_the_pages() -> None:
    """Figures of a person stay with that person: the page tells how far two readers lie apart, not who reads high."""
    apart = AgreementFact(
        readers=["otto", "rosa"], pairs=32, mean=-1.4, low=-2, high=-0.8, least=-4, most=1.2, largest=3.0,
        told=ToldFact(code="", figures={}, text="otto reads low"),
    )  # fmt: skip
    (readers,) = (
        block.paragraphs[0] for block in told("eight", agreement=apart).blocks if "read apart" in block.paragraphs[0]
    )
    # Bland and Altman (1986), from memory: the mean difference tells which way, the largest only how far.
    said = message("trialpage-agreement", alike="no", mean=measure(1.4, "count"), most=measure(3.0, "count"))
    assert Words()(said) in readers
    assert not re.search(r"[-−]1\.4|reads low", readers)


def test_before_the_order_is_drawn_the_page_claims_nothing() -> None:
    trial = told("eight", analysis=None, samples=[], orders=[], agreement=None)
    assert trial.verdict == Words()(message("trial-nothing-read"))
    assert (trial.rows, trial.ties, trial.best) == ((), (), "")


# --- the structure --------------------------------------------------------------------------------------------


def elements(tag: Tag) -> Iterator[Tag]:
    yield tag
    for held in tag.holds:
        if isinstance(held, Tag):
            yield from elements(held)


def test_each_method_is_a_row_whose_drawings_are_told_in_words() -> None:
    trial, tags = told("eight"), list(elements(drawn("eight").document))
    figures = [tag.alt for tag in tags if tag.kind == "Figure"]
    assert all(figures)
    shown = [alt for row in trial.rows for alt in (row.section_alt, row.bed_alt, row.samples_alt)]
    assert figures[: len(shown) + 1] == [*shown, trial.ties_told]
    assert [tag.kind for tag in tags if tag.kind == "H1"] == ["H1"]
    ranking = next(tag for tag in tags if tag.kind == "Table")
    rows = [held for held in ranking.holds if isinstance(held, Tag)]
    assert [len(row.holds) for row in rows] == [5] * 9


# --- the grid -----------------------------------------------------------------------------------------------------


def test_the_measure_is_the_same_on_both_papers_and_a_line_breaks_alike() -> None:
    papers = [grid.paper_of(Sheet(size, Words())) for size in (A4, LETTER)]
    assert [paper.size[0] - 2 * paper.side for paper in papers] == [pytest.approx(174 * MM)] * 2
    assert [round((paper.bottom - paper.top) / MM, 1) for paper in papers] == [269.0, 255.4]


def test_a_number_stays_with_its_unit() -> None:
    text = "the contact is 95 % at 21 °C and the bed 12 mm"
    for room in range(20, 200):
        assert not any(re.search(r"\d$", line) for line in wrap(text, grid.FLOW, room))


def test_letters_that_a_face_lacks_are_set_in_another_and_no_box_stands_for_what_none_has() -> None:
    sheet = Sheet(A4, Words())
    sheet.new_page()
    with sheet.tagged("P"):
        sheet.text(10, 10, "Bay ▲ 2", grid.FLOW)
        sheet.text(10, 30, "Bay \U00013080", grid.FLOW)
        # From right to left, and its letters joined: as it would be set here nobody could read it.
        sheet.text(10, 50, "قاعة 2", grid.FLOW)
    faces = [(step[3], step[6]) for _, step in sheet.pages[0].steps if step[6].strip()]
    assert [face for face, _ in faces] == [fonts.REGULAR, "Other", *[fonts.REGULAR] * 3]
    assert (faces[1][1], faces[3][1], faces[4][1]) == ("▲", "Bay (…)", "(…) 2")


def test_regular_and_bold_figures_are_equally_wide() -> None:
    """Measured on the fonts themselves: 580 of 1000 in each weight, so that a bold figure lines up in its column."""
    fonts.register()
    for face in (fonts.REGULAR, fonts.SEMIBOLD, fonts.HEAVY):
        assert {round(fonts.width(digit, face, 1000)) for digit in "0123456789"} == {580}


def test_a_camera_reads_date_and_head_off_the_code() -> None:
    facts = day("eight")
    (step,) = (step for _, step in drawn("eight").pages[0].steps if step[0] == "squares")
    light = np.pad(~np.array(step[4]), 4, constant_values=True)
    (read,) = zxingcpp.read_barcodes((np.kron(light, np.ones((6, 6))) * 255).astype(np.uint8))
    assert read.text == f"fieldassist day {facts.date} head {grid.in_fours(facts.head[:24])}"


def test_a_full_code_has_41_modules() -> None:
    text = f"fieldassist day 2026-03-10 head {' '.join(['51c7'] * 6)} key {' '.join(['7ff4'] * 8)}"
    assert len(qr_modules(text)) == 41
