"""An area's pages: they say what the facts say, rounded to the safe side, and leave nothing out in silence."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any, get_args

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.facts.build import day_facts
from fieldassist.facts.model import (
    AreaFacts,
    BagsFact,
    BatchFact,
    ClockFact,
    DayFacts,
    FromTrialFact,
    LiftFact,
    ToldFact,
)
from fieldassist.language import Words
from fieldassist.report.area_model import AreaPages
from fieldassist.report.area_page import area_pages as draw_area
from fieldassist.report.back_picture import BAR_HIGH
from fieldassist.report.build import day_pages
from fieldassist.report.build.area import area_pages
from fieldassist.report.build.dates import clock_told
from fieldassist.report.build.figures import contact, void, void_allowed
from fieldassist.report.build.lift_lines import MOST_ROWS
from fieldassist.report.build.mortar import MOST_BATCHES, NEAREST
from fieldassist.report.grid import OPEN_TODAY
from fieldassist.report.pictures import Album, draw_photo
from fieldassist.report.sheet import BLACK, WHITE, Sheet
from fieldassist.report.tags import Tag
from fieldassist.trade.message import Figure, Several, Text, message
from fieldassist.trade.quantities import Quantity, Units, convert_exact, parse_quantity
from tests.report.conftest import Site, plan_of
from tests.report.days import DAYS

METRIC = Words(units="metric")


def facts_of(site: Site, words: Words = METRIC) -> DayFacts:
    record = site.record()
    return day_facts(record.events, record.hashes, words)


def pages_of(site: Site, number: int = 0, words: Words = METRIC) -> AreaPages:
    return area_pages(facts_of(site, words), number, words)


def changed(facts: DayFacts, **area: Any) -> AreaPages:
    """The pages of the first area with other facts of it."""
    other = facts.areas[0].model_copy(update=area)
    return area_pages(facts.model_copy(update={"areas": [other, *facts.areas[1:]]}), 0, METRIC)


def says(code: str, **figures: Figure) -> str:
    return METRIC(message(code, **figures))


def laid(pages: AreaPages, size: tuple[float, float] = A4, files: Sequence[str] = ()) -> Sheet:
    sheet = Sheet(size, METRIC)
    with sheet.tagged("Sect"):
        draw_area(sheet, pages, Album(lambda name: b"" if name in files else None))
    return sheet


def drawn(sheet: Sheet, page: int | None = None) -> str:
    chosen = sheet.pages if page is None else [sheet.pages[page]]
    return " ".join(" ".join(step[6] for one in chosen for _, step in one.steps if step[0] == "text").split())


def red(sheet: Sheet) -> str:
    steps = (step for page in sheet.pages for _, step in page.steps if step[0] == "text" and step[5] == OPEN_TODAY)
    return " ".join(step[6] for step in steps)


@pytest.fixture(scope="module")
def cured() -> DayFacts:
    """A lift that failed and was cured, of two tiles."""
    site = Site(plan_of(areas=("shower wall",))).start("shower wall").release().batch()
    return facts_of(site.tile().lift("90", void="1800").cure().lift("97").tile())


# --- figures agree with their judgement -----------------------------------------------------------------------------


@given(st.integers(0, 10_000), st.integers(0, 1_000))
@example(9497, 950)
@example(9270, 925)
def test_printed_contact_is_never_above_what_was_read_nor_on_the_other_side_of_what_is_required(
    hundredths: int, tenths: int
) -> None:
    read, required = Fraction(hundredths, 100), Fraction(tenths, 10)
    printed = parse_quantity(METRIC(contact(float(read), float(required)))).value
    assert (printed >= required) == (read >= required)
    assert printed <= read


@given(st.integers(1, 400_000), st.sampled_from(get_args(Units)))
@example(129_032, "metric")
@example(129_033, "us")
def test_a_printed_void_is_never_below_what_was_read_nor_on_the_other_side_of_what_is_allowed(
    hundredths: int, units: Units
) -> None:
    # 2 in², as best practice for tile has it (a union technical article of 2021).
    read, words = Fraction(hundredths, 100), Words(units=units)
    printed = parse_quantity(words(void(float(read), 1290.32, words)))
    allowed = parse_quantity(words(void_allowed(1290.32)))
    assert (printed.value <= allowed.value) == (read <= Fraction("1290.32"))
    # What is allowed is rounded down, and a void between the two is told as that.
    at_limit = read <= Fraction("1290.32") and printed.value == allowed.value
    assert at_limit or convert_exact(printed.value, printed.unit, "mm2") >= read * (1 - Fraction(1, 10**9))


def test_a_wet_tile_wall_needs_95_percent_and_three_lifts_and_says_that_this_is_second_hand(cured: DayFacts) -> None:
    # ANSI A108.5 §3.3.2 (2017): 95 % in showers and wet areas, no fewer than three tiles removed for inspection.
    need = cured.areas[0].required
    assert need is not None
    assert (need.percent, need.least_lifts, need.second_hand) == (95, 3, True)
    pages = changed(cured)
    dagger = says("area-dagger")
    assert f"95 %{dagger}" in pages.figures[1].rest
    # Best practice for tile stops at 2 in² (a union technical article of 2021): nobody's second hand.
    assert METRIC(void_allowed(1290.32)) in pages.figures[1].rest
    assert f"{METRIC(void_allowed(1290.32))}{dagger}" not in pages.figures[1].rest
    assert says("area-dagger-means", dagger=dagger) in pages.feet


def test_a_dry_tile_wall_needs_80_percent(raw_checklist: dict[str, Any]) -> None:
    # ANSI A108.5 §3.3.2 (2017): 80 % in dry interiors.
    need = facts_of(Site(plan_of(), {**raw_checklist, "place": "dry"}).start("shower wall")).areas[0].required
    assert need is not None
    assert need.percent == 80


# --- verdict --------------------------------------------------------------------------------------------------------


def codes(pages: AreaPages) -> list[bool]:
    return [red for _, red in pages.verdict]


def test_the_verdict_begins_with_the_failure_that_is_open_and_that_is_red(site: Site) -> None:
    pages = pages_of(site.start("shower wall").release().batch().tile().lift("61", void="4200"))
    assert codes(pages)[0]
    assert pages.status_red
    assert pages.failures[0].open
    assert "61 %" in pages.verdict[0][0]
    sheet = laid(pages)
    assert says("area-failure", number=1, state="open") in red(sheet)


def test_a_failure_that_was_cured_is_black(cured: DayFacts) -> None:
    pages = changed(cured)
    assert not any(codes(pages))
    assert not pages.failures[0].open
    told = METRIC(message("area-verdict-cured", count=1, cleared=0, again=1))
    assert told in [text for text, _ in pages.verdict]


def test_an_area_in_which_nothing_is_set_says_so(site: Site) -> None:
    pages = pages_of(site.start("shower wall"))
    assert [text for text, _ in pages.verdict] == [says("area-verdict-nothing")]
    assert pages.lifts is None
    assert pages.mortar is None
    assert says("area-no-lift", open=0) in drawn(laid(pages))


def test_only_lifts_by_lot_prove_anything_of_the_other_pieces(cured: DayFacts) -> None:
    assert changed(cured).figures[3].rest == says("area-proven-nothing", lifted=2)
    lots = cured.areas[0].lots.model_copy(update={"drawn": 3, "drawn_good": 3, "good_share": 0.3684})
    # Clopper and Pearson (1934): three of three give 0.05^(1/3) = 0.368 at the least, one-sided.
    assert "36 %" in changed(cured, lots=lots).figures[3].rest


# --- lifts ----------------------------------------------------------------------------------------------------------


def test_a_tile_that_was_set_again_is_told_with_each_of_its_lifts_and_the_good_ones_make_worst_and_mean(
    eventful: Site,
) -> None:
    # Contacts that are good: a 97 (was 92), b 95, c 99, d 96; their mean by hand is 96.75, rounded down.
    pages = pages_of(eventful)
    assert pages.lifts is not None
    assert [line.percent for line in pages.lifts.lines] == ["92 %", "97 %", "95 %", "99 %", "96 %"]
    assert "95 %" in pages.figures[2].rest
    assert "96 %" in pages.figures[2].rest
    assert "96.75" not in pages.figures[2].rest


def test_a_lift_of_which_something_was_not_read_is_neither_good_nor_failed(cured: DayFacts) -> None:
    unread = Text.plain("how large the largest void is")
    lift = (
        cured.areas[0]
        .lifts[1]
        .model_copy(update={"verdict": "not complete", "unread": [_fact_of(unread)], "void_mm2": None})
    )
    pages = changed(cured, lifts=[cured.areas[0].lifts[0], lift])
    assert pages.lifts is not None
    line = pages.lifts.lines[1]
    assert (line.good, line.sign) == (False, "open")
    assert line.verdict == says("area-lift-verdict", verdict="not-complete")
    assert str(unread) in line.result
    assert says("area-no-void-read") in [text for text, _ in line.read]


def _fact_of(text: Text) -> ToldFact:
    return ToldFact(code="", figures={}, text=str(text))


def test_how_contact_was_read_stands_beside_it_and_has_its_own_sign(cured: DayFacts) -> None:
    good = cured.areas[0].lifts[1]
    for way, sign in (("eye", "eye"), ("grid", "good"), ("photo", "good")):
        pages = changed(cured, lifts=[good.model_copy(update={"way": way, "failure": None})], failures=[])
        assert pages.lifts is not None
        (line,) = pages.lifts.lines
        assert (line.sign, line.way) == (sign, says("area-way", how=way, read="yes", name="Ana"))
        assert line.doubt == says("area-doubt-unknown")


def test_every_column_of_the_lifts_has_its_head_and_only_lifts_that_all_have_photos_are_called_so(
    cured: DayFacts,
) -> None:
    bare = cured.model_copy(update={"photos": []})
    for facts, columns, photos in ((cured, 5, "all"), (bare, 4, "none"), (_one_photo(cured), 5, "some")):
        pages = area_pages(facts, 0, METRIC)
        assert pages.lifts is not None
        assert pages.lifts.title == says("area-lifts-title", count=2, photos=photos)
        heads = [tag for tag in _tags(laid(pages).document) if tag.kind == "TH" and tag.scope == "Column"]
        assert len(heads) == columns + 4 + 6  # beside the four figures and the mortar's


def _one_photo(facts: DayFacts) -> DayFacts:
    return facts.model_copy(update={"photos": [one for one in facts.photos if one.lift == 1]})


def test_a_lift_that_nobody_judged_is_counted_as_lifted(cured: DayFacts) -> None:
    open_lift = cured.areas[0].lifts[1].model_copy(update={"verdict": None, "percent": 61.0})
    pages = changed(cured, lifts=[open_lift])
    assert pages.figures[2].strong == says("area-no-lift", open=1)
    assert pages.lifts is not None
    assert pages.lifts.lines[0].result == says("area-lift-not-judged", read="short")


def test_a_lift_that_was_read_anew_lost_a_photo_or_was_corrected_says_so_in_a_row_of_its_own() -> None:
    site = Site(plan_of(areas=("shower wall",))).start("shower wall").release().batch().tile().lift_up()
    site.photo()
    site.do(cmd.Withdraw()).photo()
    site.read("lift", "coverage", "61", "percent").do(cmd.Withdraw()).read("lift", "coverage", "97", "percent")
    site.read("lift", "void", "300", "mm2").do(cmd.Choose(section="lift", step="corners", option="full"))
    site.sign(accept_open=True).seal().do(cmd.OpenAddendum(reason="It was read from the wrong side."))
    judged = next(event.seq for event in site.events if isinstance(event.body, ev.LiftJudged))
    site.do(cmd.Correct(target=judged, text="The contact was 60 %, not 97 %."))
    facts = facts_of(site)
    (lift,) = facts.areas[0].lifts
    assert lift.undone is not None
    assert (lift.undone.percent, lift.undone.how, lift.amended) == (61.0, "taken back", [1])
    pages = area_pages(facts, 0, METRIC)
    assert pages.lifts is not None
    (line,) = pages.lifts.lines
    assert (line.good, line.sign) == (False, "eye")
    assert lift.undone.was.text in line.result
    assert line.result.endswith(
        f"{says('area-lift-photo-back', count=1)} {says('area-lift-amended', count=1, parts='1')}"
    )


def many(lift: LiftFact, count: int, failed: Sequence[int] = ()) -> list[LiftFact]:
    return [
        lift.model_copy(update={"number": n, "verdict": "failed" if n in failed else "passed", "failure": None})
        for n in range(1, count + 1)
    ]


def test_with_many_lifts_the_good_ones_share_a_row_and_the_failed_ones_keep_theirs(cured: DayFacts) -> None:
    lift = cured.areas[0].lifts[1]
    few = changed(cured, lifts=many(lift, MOST_ROWS, [3]), failures=[])
    lot = changed(cured, lifts=many(lift, 46, [3, 40]), failures=[])
    assert few.lifts is not None
    assert lot.lifts is not None
    assert (few.lifts.brief, lot.lifts.brief) == (False, True)
    for size in (A4, LETTER):
        sheet = laid(lot, size)
        rows = [tag for tag in _tags(sheet.document) if tag.kind == "TH" and tag.scope == "Row"]
        assert len(rows) == 2 + len(cured.areas[0].batches)
        text = drawn(sheet)
        for line in lot.lifts.lines:
            assert line.title in text


def _tags(tag: Any) -> list[Any]:
    inside = [one for one in tag.holds if hasattr(one, "holds")]
    return [tag, *(found for one in inside for found in _tags(one))]


# --- failures -------------------------------------------------------------------------------------------------------


def test_a_lifts_failure_is_told_step_by_step_with_what_showed_its_cure(cured: DayFacts) -> None:
    (card,) = changed(cured).failures
    assert [row.strong for row in card.rows] == [
        says(f"area-story-{step}") for step in ("found", "suspect", "changed", "shown")
    ]
    (failure,) = cured.areas[0].failures
    assert (failure.number, failure.lift, failure.open) == (1, 1, False)
    assert [(step.kind, step.lift) for step in failure.cure] == [
        ("done", None),
        ("done", None),
        ("lifted", 2),
        ("closed", None),
    ]
    assert "97 %" in card.rows[-1].text
    # A lift has one time wherever it is told: when it was made.
    found, shown = (METRIC(clock_told(lift.at, cured.date)) for lift in cured.areas[0].lifts)
    assert (card.rows[0].time, card.rows[-1].time) == (found, shown)


def test_a_check_that_fails_again_stands_under_the_same_failure(site: Site) -> None:
    site.start("shower wall").release().batch().tile().lift("90").cure().lift("91").cure().lift("97")
    (failure,) = facts_of(site).areas[0].failures
    assert [step.kind for step in failure.cure if step.kind not in ("done", "lifted")] == ["failed again", "closed"]
    (card,) = pages_of(site).failures
    text = " ".join(row.text for row in card.rows)
    assert "91 %" in text
    assert "97 %" in text


def test_taking_back_the_proof_of_a_cure_opens_the_failure_again(site: Site) -> None:
    site.start("shower wall").release().batch().tile().lift("90").cure().lift("97").do(cmd.Withdraw())
    (failure,) = facts_of(site).areas[0].failures
    assert failure.open
    assert "closed" not in [step.kind for step in failure.cure]


def test_what_was_no_lift_is_told_in_a_paragraph_with_a_time_for_each_step(site: Site) -> None:
    site.start("shower wall", temperature="8").confirm("warm-up", "warmed")
    site.read("conditions", "air-temperature", "12", "degC")
    (card,) = pages_of(site).failures
    assert not card.rows
    assert "8 °C" in card.brief
    assert says("area-story-done", step=Text.plain("Warmed up")) in card.brief
    assert card.end == says("area-failure-cured")


def test_failures_are_numbered_through_the_day_and_those_taken_back_take_no_number(eventful: Site) -> None:
    facts = facts_of(eventful)
    assert [failure.number for area in facts.areas for failure in area.failures] == [1, 2, 3, 4, 5]
    struck = {e.body.target for e in eventful.events if isinstance(e.body, ev.Withdrawn)}
    assert struck.isdisjoint(int(failure.id) for area in facts.areas for failure in area.failures)


# --- mortar ---------------------------------------------------------------------------------------------------------


def test_a_batch_tells_its_clocks_and_what_was_set_out_of_it(eventful: Site) -> None:
    area = facts_of(eventful).areas[0]
    first, second = area.batches
    assert (first.tiles, second.tiles) == ([1, 2, 3], [4])
    pot = next(clock for clock in area.clocks if clock.number == first.pot_life)
    assert pot.outcome == "ran out"
    assert all(clock.bound == "at most" for clock in area.clocks if clock.number in first.open_times)
    assert len(first.open_times) == 3
    mortar = pages_of(eventful).mortar
    assert mortar is not None
    bar = mortar.batches[0].pot_life
    assert bar is not None
    assert (bar.out, bar.told) == (True, says("area-used", state="out", minutes=0))


def batches(area: AreaFacts, used: Sequence[float]) -> dict[str, list[Any]]:
    """So many batches, each with a pot life that was used for so many minutes of 60."""
    clock, batch = area.clocks[0], area.batches[0]
    clocks: list[ClockFact] = []
    made: list[BatchFact] = []
    for number, minutes in enumerate(used, start=1):
        over = {"number": number, "bound": "at most", "minutes": 60.0, "used_minutes": minutes, "outcome": "stopped"}
        clocks.append(clock.model_copy(update=over))
        here: dict[str, Any] = {"number": number, "pot_life": number, "slake": None, "open_times": []}
        made.append(batch.model_copy(update=here))
    return {"clocks": clocks, "batches": made}


def test_over_eight_batches_only_those_nearest_to_the_stop_have_a_row_and_the_others_are_counted(
    cured: DayFacts,
) -> None:
    area = cured.areas[0]
    eight = changed(cured, **batches(area, [10.0] * MOST_BATCHES)).mortar
    assert eight is not None
    assert (len(eight.batches), eight.folded) == (MOST_BATCHES, "")
    many_of_them = changed(cured, **batches(area, [float(20 + n) for n in range(19)])).mortar
    assert many_of_them is not None
    assert [line.number for line in many_of_them.batches] == ["17", "18", "19"]
    # The nearest of the others: 35 of 60 min, 58.3 %, rounded up.
    for figure in (str(19 - NEAREST), "59 %"):
        assert figure in many_of_them.folded


def test_bags_of_folded_batches_are_summed_where_they_were_counted(cured: DayFacts) -> None:
    made = batches(cured.areas[0], [10.0] * 12)
    counted = [one.model_copy(update={"bags": 2.0}) for one in made["batches"]]
    for mixed, told in ((made["batches"], "none"), (counted, "all"), ([*counted[:-1], made["batches"][-1]], "some")):
        mortar = changed(cured, **{**made, "batches": mixed}).mortar
        assert mortar is not None
        bags = {"none": 0, "all": 18, "some": 16}[told]
        assert mortar.folded == says("area-batches-folded", count=9, told=told, bags=bags, most="17 %")


def test_a_batch_that_ran_out_is_never_folded_away(cured: DayFacts) -> None:
    area = cured.areas[0]
    mortar = changed(cured, **batches(area, [61.0] * 5 + [10.0] * 10)).mortar
    assert mortar is not None
    assert [line.number for line in mortar.batches] == ["1", "2", "3", "4", "5"]


def test_bags_that_do_not_fit_the_bed_are_drawn_once_no_more_is_set_and_not_before(cured: DayFacts) -> None:
    bags = BagsFact(
        used=12.0,
        predicted=8.6,
        verdict="more than predicted",
        bed_mm=5.0,
        implied_bed_mm=6.9,
        tolerance_mm=0.5,
        event=None,
    )
    going_on, over = (changed(cured, bags=bags, phase=phase).mortar for phase in ("working", "finished"))
    assert going_on is not None
    assert over is not None
    assert going_on.bags is None
    assert "6.9 mm" not in " ".join(going_on.told)
    assert over.bags is not None
    assert (over.bags.expected, over.bags.used) == (8.6, 12.0)
    assert "6.9 mm" in " ".join(over.told)


# --- methods ------------------------------------------------------------------------------------------------------


def test_a_method_says_what_it_rests_on_and_its_bed_stands_beside_what_the_mortar_allows(cured: DayFacts) -> None:
    (method,) = cured.areas[0].methods
    (block,) = changed(cured).methods
    assert (block.letter, method.rests_on) == ("A", "lift")
    assert says("area-rests-lift") in block.rest
    assert block.section is not None
    assert block.section.pressed == method.bed_mm
    mortar = cured.areas[0].mortar
    # Materials and Methods Standards Association bulletin 18 (May 2020): 3/32 to 1/2 in for this kind of mortar.
    assert (mortar.least_bed_mm, mortar.greatest_bed_mm) == (2.38125, 12.7)
    word = method.model_copy(update={"rests_on": "word", "word_by": "ruth"})
    assert says("area-rests-word", name="Ruth") in changed(cured, methods=[word]).methods[0].rest


def test_a_method_from_a_trial_names_its_day_its_record_and_what_was_shown(cured: DayFacts) -> None:
    shown = FromTrialFact(
        date="2026-03-01",
        site="Quay",
        area="lobby mock-up",
        head="51c7e0aa93d4" + "0" * 52,
        letter="C",
        samples=4,
        mean=98.37,
        low=98.0,
        high=98.6,
        chance=None,
        by="ruth",
        why="",
    )
    (block,) = changed(cured, from_trial=shown).methods
    text = " ".join(block.rest)
    for figure in ("51c7e0aa93d4", "98 %", "1 March 2026", "Ruth", " C"):
        assert figure in text


# --- hold points, photos, feet --------------------------------------------------------------------------------------


def test_a_release_that_nobody_confirmed_is_red_and_says_so(cured: DayFacts) -> None:
    (release,) = cured.areas[0].releases
    assert (release.how, release.confirmed) == ("called", False)
    line = changed(cured).holds[-1]
    assert line.red
    assert line.who == says("area-released-how", how="called", name="Ruth", deputy="no", foreman="", time="")
    confirmed = release.model_copy(update={"confirmed": True, "confirmed_at": "2026-03-04T15:41:00+01:00"})
    line = changed(cured, releases=[confirmed]).holds[-1]
    assert not line.red
    assert "15:41" in line.who


def test_every_photo_of_a_day_stands_on_a_page_also_one_without_a_lift_or_an_area(site: Site) -> None:
    site.do(cmd.SpeakAs(name="ana")).photo()
    site.start("shower wall").release().photo().batch().tile().lift_up("a").photo()
    facts = facts_of(site)
    pages = day_pages(facts, METRIC)
    area = pages.areas[0]
    shown = [photo.file for line in (area.lifts.lines if area.lifts else ()) for photo in line.photos]
    assert area.photos is not None
    assert pages.between is not None
    shown += [photo.file for block in (area.photos, pages.between) for photo in block.photos]
    assert sorted(shown) == sorted(photo.file for photo in facts.photos)
    assert len(shown) == 3


@pytest.mark.parametrize("units", get_args(Units))
def test_the_other_system_of_units_stands_once_at_the_foot_with_limits_that_hold(units: Units) -> None:
    words = Words(units=units)
    pages = pages_of(Site().start("shower wall"), words=words)
    (line,) = [foot for foot in pages.feet if "×" in foot]
    piece = {"metric": "47-1/4 × 23-5/8 in", "us": "1200 × 600 mm"}[units]
    assert piece in line
    assert piece not in " ".join((*pages.about, *(figure.rest for figure in pages.figures)))
    assert drawn(laid(pages)).count(line.split(";")[0]) == 1


def test_a_time_of_another_day_says_by_how_many_days_and_the_foot_explains_it(cured: DayFacts) -> None:
    lift = cured.areas[0].lifts[1].model_copy(update={"at": "2026-03-05T00:12:44+01:00"})
    pages = changed(cured, lifts=[cured.areas[0].lifts[0], lift])
    assert pages.lifts is not None
    assert pages.lifts.lines[1].time == says("page-clock-later", time="00:12", days=1)
    assert says("area-days-after") in pages.feet
    assert says("area-days-after") not in changed(cured).feet


def test_an_area_that_goes_on_says_what_is_to_come(cured: DayFacts) -> None:
    text = " ".join(changed(cured).tomorrow)
    area = cured.areas[0]
    assert says("area-next-lifts", count=area.lifts_needed - area.good_tiles) in text
    assert changed(cured, phase="finished").tomorrow == ()


# --- backs that were measured on their photos -----------------------------------------------------------------------


def measured() -> AreaPages:
    return pages_of(DAYS["measured"]())


def test_a_figure_of_a_photo_stands_with_its_interval_and_how_it_came_about_and_no_doubt_is_unknown() -> None:
    table = measured().lifts
    assert table is not None
    painted, proposed, corrected, by_eye = table.lines
    between = [METRIC(message("area-between", low=low, high=Quantity(Fraction(high), "percent"))) for low, high in
               (("96", 98), ("96", 100), ("96", 99), ("85", 91))]  # fmt: skip
    assert [line.doubt for line in (painted, proposed, corrected)] == between[:3]
    assert by_eye.doubt == METRIC(message("area-doubt-unknown"))
    ana = message("prompt-person", name="ana")
    for line, way in ((painted, "painted"), (proposed, "proposed")):
        assert line.way == METRIC(message("area-way-back", way=way, known="no", before="", name=ana))
    before = Quantity(Fraction(91), "percent")
    assert corrected.way == METRIC(message("area-way-back", way="corrected", known="yes", before=before, name=ana))
    # The eye's figure is kept beside the photo's, and the photo's beside the eye's.
    assert proposed.beside == (METRIC(message("area-back-eye", contact=contact(95, 95), name=ana)),)
    assert between[3] in by_eye.beside[0]
    assert not painted.beside + corrected.beside


def test_a_photo_that_contradicts_its_verdict_or_could_not_tell_or_shows_swirls_is_marked_in_the_row() -> None:
    table = measured().lifts
    assert table is not None
    painted, proposed, _, by_eye = table.lines
    against = "".join(METRIC(message("area-back-against", contact="", between="")).partition(":")[:2])
    assert against in by_eye.result
    assert against not in painted.result + proposed.result
    assert not by_eye.good
    assert proposed.good
    assert METRIC(message("area-back-cannot", why="")).strip() in painted.result
    swirls = METRIC(message("area-back-ridges", ridges="swirled"))
    assert [text for text, broken in painted.read if broken] == [swirls]
    # The eye passed a void of 3 cm2 where the photo shows one that is larger than is allowed.
    said = METRIC(message("area-back-void", void="")).strip()
    assert [broken for text, broken in by_eye.read if text.startswith(said)] == [True]
    assert not [text for text, _ in proposed.read if text.startswith(said)]


def test_a_back_said_to_be_bare_where_the_method_keys_it_is_marked_in_the_row() -> None:
    area = facts_of(DAYS["measured"]()).areas[0]
    assert [(one.back, one.sides) for one in area.methods] == [("keyed", "one")]

    def marked(**method: str) -> list[bool]:
        table = changed(facts_of(DAYS["measured"]()), methods=[area.methods[0].model_copy(update=method)]).lifts
        assert table is not None
        says = {METRIC(message("area-back-kind", kind=kind, against="yes")) for kind in ("bare", "combed")}
        assert all(broken for line in table.lines for text, broken in line.read if text in says)
        return [any(text in says for text, _ in line.read) for line in table.lines]

    # The first one was painted: that holds on a keyed back too.
    assert marked() == [False, True, True, True]
    assert marked(back="bare") == [False] * 4
    assert marked(back="bare", sides="both") == [False, True, True, True]


def test_in_inches_the_circle_in_a_void_is_told_in_eighths_rounded_up() -> None:
    words = Words(units="us")
    facts = facts_of(DAYS["measured"](), words)
    table = area_pages(facts, 0, words).lifts
    assert table is not None
    for line, lift in zip(table.lines, facts.areas[0].lifts, strict=True):
        assert lift.back is not None
        inches = lift.back.circle_mm / 25.4  # international inch, NIST SP 811
        eighths = Fraction(-int(-inches * 8 // 1), 8)
        assert 0 <= eighths - inches < 1 / 8
        circle = words(message("area-back-circle", circle=Quantity(eighths, "in")))
        assert (circle, False) in line.read


def test_a_void_on_its_photo_that_is_larger_than_is_allowed_is_marked_where_the_contact_agrees() -> None:
    facts = facts_of(DAYS["measured"]())
    lift = facts.areas[0].lifts[3]
    assert lift.back is not None
    alike = lift.back.model_copy(update={"percent": 97.0, "low": 95.5, "high": 98.0})
    lifts = changed(facts, lifts=[lift.model_copy(update={"back": alike})]).lifts
    assert lifts is not None
    shown = METRIC(message("area-back-void-against", void=void(alike.void_mm2, 1290.32, METRIC)))
    assert shown in lifts.lines[0].result
    assert not lifts.lines[0].good


def test_below_the_lifts_stands_how_photos_were_measured_and_that_it_was_checked_on_computed_pictures_only() -> None:
    table = measured().lifts
    assert table is not None
    ana = Several((message("prompt-person", name="ana"),), "and")
    for foot, (code, lifts) in zip(table.feet, (("measured", ("2", "3", "4")), ("painted", ("1",))), strict=True):
        some = Several((message("page-range", first="2", last="4"),) if len(lifts) > 1 else lifts, "and")
        of = message("area-lifts", count=len(lifts), numbers=some)
        assert foot == METRIC(message(f"area-feet-{code}", names=ana, of=of))
    assert pages_of(Site().start("shower wall").release().batch().tile().lift("97")).lifts is not None


def test_the_squared_photo_is_drawn_in_true_proportions_with_hatching_frame_strip_and_bar() -> None:
    """In the place of the photo that it was made of; 100 mm of the bar are a twelfth of a back of 1,200 mm."""
    site = DAYS["measured"]()
    pages = pages_of(site)
    table = pages.lifts
    assert table is not None
    line = table.lines[3]
    (photo,) = line.photos
    assert photo.over is not None
    assert pages.photos is None
    sheet = Sheet(A4, METRIC)
    sheet.new_page()
    album = Album(site.files.get)
    wide, high = draw_photo(sheet, album, photo.file, (100.0, 100.0, 140.0, 90.0), photo.alt, photo.over)
    steps = [step for _, step in sheet.pages[0].steps]
    (picture,) = (step for step in steps if step[0] == "picture")
    assert picture[3] == pytest.approx(2 * picture[4])
    assert (wide, high) == pytest.approx((picture[3], picture[4] + BAR_HIGH))
    bar = next(step for step in steps if step[0] == "line")
    assert bar[3] - bar[1] == pytest.approx(wide / 12)  # 100 of 1,200 mm
    # Light below dark, so that it is seen on any photo and without colour.
    light, dark = (step for step in steps if step[0] == "ink")
    assert light[1] == dark[1]
    assert (light[3], dark[3]) == (WHITE, BLACK)
    left, top, right, bottom = photo.over.frame or (0, 0, 0, 0)
    point = wide / 1200
    for stroke in dark[1]:
        for x, y in stroke:
            assert 100 + left * point - 0.5 < x < 100 + right * point + 0.5
            assert 100 + top * point - 0.5 < y < 100 + bottom * point + 0.5
    dashed = [step for step in steps if step[0] == "rect" and step[-1]]
    # The strip of 2 in along the edges.
    assert dashed[0][1] - 100 == pytest.approx(50.8 * point)
    assert [tag.kind for tag in sheet.document.holds if isinstance(tag, Tag)] == ["Figure"]
    assert photo.over.void in [step[-1] for step in steps if step[0] == "text"]


def test_cells_that_are_not_at_hand_or_are_none_leave_the_photo_without_hatching() -> None:
    site = DAYS["measured"]()
    table = pages_of(site).lifts
    assert table is not None
    (photo,) = table.lines[3].photos
    assert photo.over is not None
    for data in (None, b"no picture"):
        sheet = Sheet(A4, METRIC)
        sheet.new_page()
        files = {**site.files, photo.over.cells: data}
        draw_photo(sheet, Album(files.get), photo.file, (100.0, 100.0, 140.0, 90.0), photo.alt, photo.over)
        kinds = [step[0] for _, step in sheet.pages[0].steps]
        assert "picture" in kinds
        assert "ink" not in kinds
