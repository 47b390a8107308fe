"""Page one: what it says, that it says it on one page, and that nothing on it lies on something else."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
import zxingcpp
from PIL import Image
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas

from fieldassist.facts.build import day_facts
from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report import fonts
from fieldassist.report.build import day_pages
from fieldassist.report.build.front import front
from fieldassist.report.front_model import DOUBT, NOTHING, ChartLift, ChartPanel, FrontArea, FrontPage, LiftChart
from fieldassist.report.front_page import MORE, front_page
from fieldassist.report.grid import MEASURE, OPEN_TODAY, paper_of
from fieldassist.report.keys import APPENDIX, LIMITS, area_key, lift_key
from fieldassist.report.letters import with_letters_named
from fieldassist.report.sheet import Sheet
from fieldassist.report.tags import Tag
from fieldassist.trade.message import Several, message
from tests.report.conftest import HandedOver
from tests.report.days import DAYS

WORDS = Words(units="metric")


def facts_of(site: Any, words: Words = WORDS) -> DayFacts:
    record = site.record()
    return day_facts(record.events, record.hashes, words)


def says(code: str, **figures: Any) -> str:
    return WORDS(message(code, **figures))


def told(site: Any) -> FrontPage:
    return front(facts_of(site), WORDS)


def laid(page: FrontPage, size: tuple[float, float] = A4) -> Sheet:
    sheet = Sheet(size, WORDS)
    sheet.running = "what stood before"
    front_page(sheet, page)
    assert sheet.pages[0].running == ""
    return sheet


def texts(sheet: Sheet, page: int = 0) -> list[tuple[float, float, str, float, Any, str]]:
    """x, y, face, size, colour and words of each text of a page."""
    return [step[1:] for _, step in sheet.pages[page].steps if step[0] == "text" and step[6].strip()]


def words_of(sheet: Sheet, page: int = 0) -> str:
    return " ".join(" ".join(one[5] for one in texts(sheet, page)).split())


@pytest.fixture(scope="module")
def eventful_front(eventful: Any) -> FrontPage:
    return told(eventful)


# --- the sentence of verdict --------------------------------------------------------------------------------------


def test_the_verdict_begins_with_what_is_open_and_goes_on_with_counts(eventful_front: FrontPage) -> None:
    page = eventful_front
    assert page.alarm == says(
        "front-open-failures", count=1, number=says("front-number-1"), areas="plunge pool", named="yes"
    )
    finished = says(
        "front-finished-some", count=1, finished=says("front-number-1"), areas=says("front-number-2"), name=""
    )
    reach = says("front-reach-all", areas=1, tiles=4, accepted=0, number="")
    assert page.verdict == f"{finished} {reach}"


def test_a_day_on_which_nothing_was_started_says_so_and_who_signed_for_it_nobody(site: Any) -> None:
    page = told(site)
    assert page.alarm == ""
    assert page.verdict == says("front-nothing", count=2, number=says("front-number-2"), name="")
    assert page.goes_on.startswith(says("front-not-signed"))
    assert page.chart is None
    assert (page.answers.told, page.answers.key) == ("", "")
    assert page.answers.alarms == (says("front-answers-nobody"),)


def test_a_rehearsal_begins_with_proving_nothing(eventful: Any) -> None:
    facts = facts_of(eventful).model_copy(update={"kind": "rehearsal"})
    assert front(facts, WORDS).verdict.startswith(says("front-no-work-rehearsal"))


def test_tiles_that_the_foreman_accepted_are_counted_apart_from_those_in_reach(eventful: Any) -> None:
    facts = facts_of(eventful)
    wall = facts.areas[0]
    tiles = [wall.tiles[0].model_copy(update={"state": "accepted"}), *wall.tiles[1:]]
    facts = facts.model_copy(update={"areas": [wall.model_copy(update={"tiles": tiles}), *facts.areas[1:]]})
    page = front(facts, WORDS)
    assert says("front-reach-all", areas=1, tiles=4, accepted=1, number=says("front-number-1")) in page.verdict
    assert (page.areas[0].reach, page.areas[0].reach_note) == (
        "3 of 4",
        says("front-reach-note", state="accepted", count=1),
    )
    assert page.areas[0].reach_red


# --- rows, chart, failures ----------------------------------------------------------------------------------------


def test_a_row_tells_set_of_planned_required_worst_mean_lifts_and_reach(eventful_front: FrontPage) -> None:
    wall, pool = eventful_front.areas
    # Four tiles of 1.2 m by 0.6 m; lifts of 92 (failed, set again), 97, 95, 99 and 96 percent.
    assert (wall.set_of, wall.short) == ("2.88 of 9.60 m²", True)
    assert wall.required == says("front-required", percent="95 %", sign="yes")
    assert (wall.worst, wall.mean, wall.lifts, wall.reach) == ("95 %", "96 %", "4 of 5", "4 of 4")
    # Its only lift failed, and still stands so.
    assert (pool.worst, pool.worst_open, pool.mean, pool.lifts) == ("90 %", True, "", "0 of 1")
    assert pool.reach_note == says("front-reach-note", state="lifted-failed", count=1)
    assert (pool.released, pool.waits) == (says("front-not-released"), True)


def test_a_lift_that_was_not_judged_is_none_of_the_good_and_page_one_does_not_say_that_nothing_failed(
    site: Any,
) -> None:
    site.start("shower wall").release().batch().tile().lift_up()
    site.photo()
    assert told(site).none_failed == says("front-none-failed", count=0, points="")
    short = told(site.read("lift", "coverage", "61", "percent"))
    assert short.areas[0].lifts == says("front-of", part=0, whole=1)
    assert short.areas[0].reach_note == says("front-reach-note", state="not-judged", count=1)
    (number,) = (point.number for point in short.points if point.lead == says("front-lead-doubt-not-judged"))
    assert short.none_failed == says("front-none-failed", count=1, points=str(number))


def test_a_cured_failure_is_black_and_an_open_one_red_with_its_word(eventful_front: FrontPage) -> None:
    assert [one.open for one in eventful_front.failures] == [False, False, False, False, True]
    red = [one[5] for one in texts(laid(eventful_front)) if one[4] == OPEN_TODAY]
    assert any(text.startswith("NOT CURED") for text in red)
    # A grey print shows red as the paler black: what is open has a word and a bar of its own.
    leads = [point.lead for point in eventful_front.points if point.red]
    assert leads[0] == says("front-lead-open-failure")
    bars = [step for _, step in laid(eventful_front).pages[0].steps if step[0] == "rect" and step[5] == OPEN_TODAY]
    assert len(bars) == len(leads) + 3, "the verdict, the area's row, the failure"
    cured = eventful_front.failures[0].cure.split()[0]
    assert not any(cured == text.split()[0] for text in red)


def test_every_lift_is_told_to_whoever_cannot_see_the_chart(eventful_front: FrontPage) -> None:
    chart = eventful_front.chart
    assert chart is not None
    assert chart.lifts == 6
    lift = says(
        "front-chart-lift",
        lift="1",
        piece="tile 1",
        at="07:20",
        percent="92 %",
        verdict="failed",
        eye="yes",
        sure="no",
        between="",
    )
    assert lift in chart.alt
    for row, count, good in zip(eventful_front.areas, (5, 1), (4, 0), strict=True):
        about = {"required": "95 %", "count": count, "good": good, "worst": row.worst, "mean": row.mean or "none"}
        told = says("front-chart-area", area=row.name, told=0, lifts="", **about)
        assert told.removesuffix(".") in chart.alt, "in the figures of the area's row"
    figures = [tag for tag in tags(laid(eventful_front).document) if tag.kind == "Figure"]
    assert [tag.alt for tag in figures] == [chart.alt, eventful_front.answers.code]


def tags(tag: Tag) -> list[Tag]:
    return [tag, *(one for held in tag.holds if isinstance(held, Tag) for one in tags(held))]


# --- what to look at ----------------------------------------------------------------------------------------------


def test_points_are_those_of_the_facts_and_each_leads_to_a_page(handed_over: HandedOver) -> None:
    facts = facts_of(handed_over.site)
    page = front(facts, WORDS)
    assert [point.number for point in page.points] == [look.number for look in facts.look_at]
    opened = {look.id for look in facts.look_at if look.open}
    assert opened == {point.id for point in facts.open_points if not point.answered}
    assert {look.id for look in facts.look_at} >= {point.id for point in facts.open_points}
    # The clock that was set is about the whole day, the limit about a document; all others about an area.
    assert [point.key for point in page.points if not point.key.startswith("area-")] == [APPENDIX, LIMITS]


def test_a_point_leads_to_the_lift_the_failure_or_the_release_that_it_is_about(eventful: Any) -> None:
    facts = facts_of(eventful)
    found = dict(zip((look.id for look in facts.look_at), front(facts, WORDS).points, strict=True))
    numbers = {area.name: at for at, area in enumerate(facts.areas, 1)}
    for look in facts.look_at:
        place = found[look.id].key.partition(":")[2]
        if look.lifts:
            assert found[look.id].key == lift_key(area_key(numbers[look.areas[0]]), look.lifts[0])
        elif look.code == "open-failure":
            (failure,) = (one for area in facts.areas for one in area.failures if one.id == look.figures["failure"])
            assert place == f"failure-{failure.number}"
        elif look.code in ("doubt-bags", "open-bags"):
            assert place == "mortar"
        assert found[look.id].on == (len(look.areas) > 1 and look.kind != "limit")
    assert sum(":" in point.key for point in found.values()) > 2


def test_a_reference_to_what_is_not_drawn_leads_to_what_it_lies_within() -> None:
    sheet = Sheet(A4, WORDS)
    sheet.places |= {area_key(2): 3, lift_key(area_key(2), 1): 4}
    assert sheet.nearest(lift_key(area_key(2), 1)) == lift_key(area_key(2), 1)
    assert sheet.nearest(lift_key(area_key(2), 9)) == area_key(2)


def test_a_point_of_an_area_without_a_page_leads_nowhere(site: Any) -> None:
    assert [point.key for point in told(site).points] == ["", ""]


def test_a_long_title_is_one_heading(eventful_front: FrontPage) -> None:
    document = laid(hostile(eventful_front)).document
    assert sum(tag.kind == "H1" for tag in tags(document)) == 2, "page one, and the page behind it"


def test_points_that_find_no_room_are_counted_by_kind_and_told_whole_behind_page_one(eventful_front: FrontPage) -> None:
    doubt = eventful_front.points[-1]
    many = tuple(
        replace(doubt, number=n, kind="doubt", text=f"Doubt number {n}. " + "word " * 50) for n in range(1, 41)
    )
    page = replace(eventful_front, points=many)
    sheet = laid(page)
    shown = [n for n in range(1, 41) if f"Doubt number {n}." in words_of(sheet)]
    assert shown == list(range(1, len(shown) + 1))
    assert len(shown) >= 3
    left = 40 - len(shown)
    kinds = says("front-kind-doubt", count=left)
    assert says("front-more-points", count=left, kinds=kinds) in words_of(sheet)
    assert sheet.places[MORE] == 2
    behind = " ".join(words_of(sheet, at) for at in range(1, len(sheet.pages)))
    assert all(f"Doubt number {n}." in behind for n in range(1, 41))


def test_an_open_failure_is_never_folded_away(eventful_front: FrontPage) -> None:
    cured, opened = eventful_front.failures[0], eventful_front.failures[-1]
    page = replace(
        eventful_front, failures=(*(replace(cured, number=n) for n in range(1, 30)), replace(opened, number=30))
    )
    sheet = laid(page)
    assert "NOT CURED" in words_of(sheet)
    (hidden,) = (n for n in range(1, 30) if says("front-more-failures", count=n, open=0) in words_of(sheet))
    assert hidden <= 24
    behind = words_of(sheet, 1)
    assert behind.startswith(says("front-all", what=says("front-all-failures")))
    assert says("front-points-title") not in behind, "page one told all of them"


def test_room_that_is_left_on_page_one_goes_to_failures_before_any_is_folded(eventful_front: FrontPage) -> None:
    cured = eventful_front.failures[0]
    page = replace(
        eventful_front,
        points=eventful_front.points[:2],
        failures=tuple(replace(cured, number=n) for n in range(1, 8)),
    )
    assert len(laid(page).pages) == 1


def test_open_failures_that_are_too_many_for_page_one_are_counted_as_open(eventful_front: FrontPage) -> None:
    opened = eventful_front.failures[-1]
    sheet = laid(replace(eventful_front, failures=tuple(replace(opened, number=n) for n in range(1, 31))))
    assert says("front-more-failures", count=21, open=21) in words_of(sheet)


ROOMS = tuple(f"Room {n}" for n in range(1, 21))


def test_of_many_areas_those_in_which_the_worst_is_open_stand_on_page_one(eventful_front: FrontPage) -> None:
    # Something is open in all of them, an unconfirmed release for one; failures are in the last four.
    areas = named_areas(eventful_front, [NOTHING] + [1] * 14 + [DOUBT] + [0] * 4)
    sheet = laid(replace(eventful_front, areas=areas))
    assert shown_rooms(sheet) == [2, 3, 4, 17, 18, 19, 20]
    # As many names as a line takes, at least five of the eleven, and how many more there are.
    ways = [Several((*ROOMS[4:end], message("front-more-named", count=15 - end)), "and") for end in range(9, 15)]
    told = [says("front-more-areas", count=13, failed=0, named=11, areas=names) for names in ways]
    assert any(line in words_of(sheet) for line in told)


def test_an_area_with_an_open_failure_is_not_folded_away_while_a_page_takes_it(eventful_front: FrontPage) -> None:
    sheet = laid(replace(eventful_front, areas=named_areas(eventful_front, [1] * 8 + [0] * 10)))
    assert shown_rooms(sheet) == list(range(9, 19))
    sheet = laid(replace(eventful_front, areas=named_areas(eventful_front, [0] * 15)))
    assert shown_rooms(sheet) == list(range(1, 12))
    names = Several(ROOMS[11:15], "and")
    # The chart gives way for them below what it is high elsewhere, so that a point is still told.
    sheet = laid(replace(eventful_front, areas=named_areas(eventful_front, [0] * 15)), LETTER)
    assert eventful_front.points[0].text[:20] in words_of(sheet)
    assert says("front-more-areas", count=4, failed=4, named=4, areas=names) in words_of(sheet)


def named_areas(page: FrontPage, ranks: list[int]) -> tuple[FrontArea, ...]:
    return tuple(replace(page.areas[0], name=f"Room {n}", rank=rank) for n, rank in enumerate(ranks, 1))


def shown_rooms(sheet: Sheet) -> list[int]:
    return [int(one[5].split()[1]) for one in texts(sheet) if one[5].startswith("Room ")]


def test_an_open_failure_ranks_before_a_release_that_waits_and_that_before_a_doubt(eventful: Any) -> None:
    facts = facts_of(eventful)
    assert [area.rank for area in front(facts, WORDS).areas] == [1, 0]
    doubts = [one for one in facts.look_at if one.kind == "doubt"]
    ranks = [area.rank for area in front(facts.model_copy(update={"look_at": doubts}), WORDS).areas]
    assert ranks == [DOUBT, NOTHING]


def test_a_bar_counts_a_lift_that_nobody_judged_apart_and_the_key_says_so(eventful_front: FrontPage) -> None:
    chart = chart_of(100)
    (panel,) = chart.panels
    one_step = tuple(replace(lift, percent=97.0, mark="open" if lift.number > 98 else "good") for lift in panel.lifts)
    counted = replace(chart, panels=(replace(panel, lifts=one_step),))
    read = words_of(laid(replace(eventful_front, chart=counted)))
    assert says("front-bar-open", count=2) in read
    assert read.count(says("front-key-bar-open")) == 2  # beside the bar and in the key
    assert says("front-key-bar-failed") not in read[read.index(says("front-bar-open", count=2)) :].split("Look")[0]


def test_what_steers_letters_reaches_neither_page_nor_title_nor_alternative_text(site: Any) -> None:
    facts = facts_of(site).model_copy(update={"site": "Baths\a \u202enepo\u202c\x0b north"})
    pages = with_letters_named(day_pages(facts, WORDS), "(…)")
    assert pages.front.site == "Baths(…) (…)nepo(…)  north"
    assert fonts.without_controls(day_pages(facts, WORDS).title).startswith("Daily log, Baths nepo north")


def test_where_areas_share_a_panel_each_lift_is_told_by_its_area_number_and_time() -> None:
    facts = facts_of(DAYS["twelve areas"]())
    page = front(facts, WORDS)
    assert page.chart is not None
    assert not page.chart.by_area
    assert page.areas[2].name == says("front-area-numbered", number="3", area="bath three")
    (panel,) = page.chart.panels
    assert [(one.area, one.number) for one in panel.lifts[:4]] == [("1", 1), ("2", 1), ("3", 1), ("3", 2)]
    below = [(one[1], one[5]) for one in texts(laid(page))]
    for row, told in (
        ("area", [one.area for one in panel.lifts]),
        ("lift", [str(one.number) for one in panel.lifts]),
        ("time", [one.time for one in panel.lifts]),
    ):
        (y,) = (y for y, text in below if text == says(f"front-chart-row-{row}"))
        assert sorted(text for at, text in below if at == y)[:-1] == sorted(told), "all of them, beside the row's word"


def test_areas_whose_names_cannot_be_set_are_told_apart_by_their_numbers() -> None:
    pages = day_pages(facts_of(DAYS["hostile"]()), WORDS)
    shown = with_letters_named(pages, says("page-letters-lacking"), pages.numbered)
    names = [failure.area for failure in shown.front.failures]
    assert len(set(names)) == len(names)
    assert names[1] == says("page-area-numbered", number="2", area=says("page-letters-lacking"))


def test_a_sign_that_no_point_explains_is_explained_below_the_rows(site: Any, eventful_front: FrontPage) -> None:
    nothing = told(site)
    assert nothing.areas[0].required.endswith("†")
    assert nothing.dagger == says("front-dagger")
    assert nothing.dagger in words_of(laid(nothing))
    assert eventful_front.dagger == ""


def test_the_chart_shows_and_tells_the_interval_of_a_lift_whose_doubt_is_known() -> None:
    site = DAYS["measured"]()
    page, lifts_read = told(site), facts_of(site).areas[0].lifts
    assert page.chart is not None
    backs = [lift.back for lift in lifts_read]
    # The last was read by eye: what its photo says is not the doubt of what was read.
    ends = [None if back is None else (back.low, back.high) for back in backs[:3]]
    assert [lift.interval for lift in page.chart.panels[0].lifts] == [*ends, None]
    assert page.chart.alt.count("between") == 3
    bare = tuple(
        replace(panel, lifts=tuple(replace(lift, interval=None) for lift in panel.lifts)) for panel in page.chart.panels
    )
    without = replace(page, chart=replace(page.chart, panels=bare))
    drawn, fewer = (sum(step[0] == "line" for _, step in laid(one).pages[0].steps) for one in (page, without))
    # A line and its two ends each.
    assert drawn - fewer == 3 * 3


# --- on the page --------------------------------------------------------------------------------------------------


def lifts(count: int, required: int) -> tuple[ChartLift, ...]:
    """Lifts all around what is required, among them such that lie on a line."""
    percents = [min(100, required - 6 + (n * 7) % 12) for n in range(count)]
    return tuple(
        ChartLift(
            str(n % 3 + 1),
            n + 1,
            f"{7 + n // 8:02}:{n * 7 % 60:02}",
            float(p),
            str(p),
            "failed" if p < required else "eye",
        )
        for n, p in enumerate(percents)
    )


def chart_of(*sizes: int) -> LiftChart:
    limits = (95, 80, 85, 95)
    return LiftChart(
        tuple(
            ChartPanel(f"Room {at}: required {limit}", f"Room {at}", float(limit), str(limit), lifts(size, limit))
            for at, (size, limit) in enumerate(zip(sizes, limits, strict=False))
        ),
        "alt",
        True,
    )


def hostile(page: FrontPage) -> FrontPage:
    """Texts as long as they may be, some without a place to break, in letters of other scripts too."""
    area = replace(page.areas[1], name="Unbroken" * 10, where="behind the second column " * 15, released="M" * 40)
    point = replace(page.points[0], text="Straße" * 60)
    failure = replace(page.failures[-1], area="Unbroken" * 10, found="word " * 80, cure="Straße" * 60)
    return replace(
        page,
        site="水 The very long name of a building site by the water " * 6,
        about="Straße" * 90,
        goes_on=f"{'Unbroken' * 10} goes on.",
        areas=(area,) * 8,
        points=(point,) * 30,
        failures=(failure,) * 9,
        chart=chart_of(1, 1, 1, 1),
    )


CASES = {
    "as it is": lambda page: page,
    "30 lifts": lambda page: replace(page, chart=chart_of(12, 10, 7)),
    "69 lifts": lambda page: replace(page, chart=chart_of(40, 20, 9)),
    "170 lifts": lambda page: replace(page, chart=chart_of(120, 40, 10)),
    "hostile": hostile,
}


@pytest.mark.parametrize("size", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("case", CASES)
def test_nothing_on_page_one_lies_on_something_else_or_beyond_its_measure(
    eventful_front: FrontPage, case: str, size: tuple[float, float]
) -> None:
    sheet = laid(CASES[case](eventful_front), size)
    paper = paper_of(sheet)
    boxes = []
    for x, y, face, points, _, text in texts(sheet):
        assert points >= 8
        right = x + fonts.width(text.rstrip(), face, points)
        assert paper.side - 0.5 <= x
        assert right <= paper.side + MEASURE + 0.5, text
        assert paper.top <= y - points * 0.7
        assert y <= paper.bottom + 0.5, text
        boxes.append((x, y - points * 0.68, right, y, text))
    for a, b in combinations(boxes, 2):
        assert a[2] <= b[0] + 0.6 or b[2] <= a[0] + 0.6 or a[3] <= b[1] + 0.3 or b[3] <= a[1] + 0.3, (a, b)
    # No line runs through a word: neither what is required, nor an axis, nor a rule.
    plates = [step[1:5] for _, step in sheet.pages[0].steps if step[0] == "rect" and step[5] == (1.0, 1.0, 1.0)]
    for x1, y1, x2, _, thick, _ in lines_of(sheet):
        for left, top, right, bottom, text in boxes:
            through = x1 < right and left < x2 and top + 0.4 < y1 < bottom - 0.2
            covered = any(x <= left and right <= x + w and y <= top and bottom <= y + h for x, y, w, h in plates)
            assert not through or (covered and thick < 1), (text, y1)


def lines_of(sheet: Sheet) -> list[tuple[float, float, float, float, float, Any]]:
    """Those that run across."""
    return [step[1:7] for _, step in sheet.pages[0].steps if step[0] == "line" and step[2] == step[4]]


def test_page_one_is_read_from_title_to_who_answers(eventful_front: FrontPage) -> None:
    read = words_of(laid(eventful_front))
    order = [
        eventful_front.site,
        eventful_front.verdict.split(".")[0],
        says("front-column-area"),
        says("front-chart"),
        says("front-points-title"),
        says("front-failures-title"),
        says("front-answers-title"),
    ]
    places = [read.index(part) for part in order]
    assert places == sorted(places)
    assert places[0] == 0


# --- who answers --------------------------------------------------------------------------------------------------


def test_who_signed_answers_with_key_and_what_is_not_sealed_is_red(handed_over: HandedOver) -> None:
    facts = facts_of(handed_over.site)
    answers = front(facts, WORDS).answers
    assert answers.key.replace(" ", "") == facts.seals[0].key.replace(" ", "")
    assert answers.alarms == (says("front-answers-addendum", number=2, signed="no"),)


def test_a_seal_that_does_not_fit_is_told_before_its_key(handed_over: HandedOver) -> None:
    facts = facts_of(handed_over.site)
    seal = facts.seals[0].model_copy(update={"good": False})
    answers = front(facts.model_copy(update={"seals": [seal, *facts.seals[1:]]}), WORDS).answers
    assert answers.alarms[0].startswith(says("front-answers-unfit", part=0, why="").split(":")[0])


@pytest.mark.parametrize("size", [A4, LETTER], ids=["A4", "Letter"])
def test_a_camera_reads_date_head_and_key_off_a_grey_print(
    handed_over: HandedOver, tmp_path: Path, size: tuple[float, float]
) -> None:
    facts = facts_of(handed_over.site)
    page = front(facts, WORDS)
    sheet = laid(page, size)
    for key in ("area-1", "area-2", "appendix", "signing"):
        sheet.bookmark(key, 0, key, 100)
    canvas = Canvas(str(tmp_path / "one.pdf"), pagesize=size, initialFontName=fonts.REGULAR)
    sheet.draw(canvas, lambda *_: None, lambda *_: None)
    canvas.save()
    subprocess.run(
        ["pdftoppm", "-r", "200", "-gray", "-l", "1", "-singlefile", tmp_path / "one.pdf", tmp_path / "one"], check=True
    )
    (read,) = zxingcpp.read_barcodes(Image.open(tmp_path / "one.pgm"))
    digits = read.text.replace(" ", "")
    assert facts.date in read.text
    assert facts.head[:24] in digits
    assert facts.seals[0].key.replace(" ", "") in digits


def test_a_signed_day_that_was_opened_again_is_not_told_as_signed_by_nobody(handed_over: HandedOver) -> None:
    page = front(facts_of(handed_over.site), WORDS)
    assert says("front-not-signed") not in page.goes_on
    read = words_of(laid(page))
    # The key follows at once on the sentence that leads to it; what is missing is told before.
    told, digits = page.answers.told, " ".join(page.answers.key.replace(" ", ""))
    assert told.endswith(":")
    assert f"{told} {digits}" in read
    assert read.index(page.answers.alarms[0]) < read.index(told)
