"""Page, screen and facts give one account of a day: the same figures of areas, tiles, lifts and failures, and the same
open points."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from random import Random
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import proven
from fieldassist.checklist.engine import Decision, Refusal
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.kinds import Photo
from fieldassist.checklist.open_points import open_points, unanswered
from fieldassist.facts import facts_of
from fieldassist.language import Words
from fieldassist.report.build import build_report
from fieldassist.report.build.words import capital, ranges
from fieldassist.report.report_model import AreaReport, DayReport
from fieldassist.ui.content.signing import asked_first, stay_open, subject_of
from tests.checklist.days import PHOTO, Bench, counted_day, filled, plausible
from tests.checklist.test_carrying import before, opened
from tests.checklist.test_carrying import worked as of_the_day_before
from tests.golden import DAYS, worked
from tests.report.conftest import handed_over_day

# What is called for a batch and a piece in each area.
AREAS = {
    "shower wall": ("batch", "tile"),
    "hall floor": ("batch", "tile"),
    "lobby wall": ("batch", "panel"),
    "attic": ("bucket", "tile"),
}


def walked(seed: int) -> list[Event]:
    """A day on which whatever may be done is done as the dice fall; mostly it goes on, and some things fail."""
    dice = Random(seed)
    bench = Bench.begun(dice.choice(("metric", "us")))
    name = dice.choice(tuple(AREAS))
    bench.start(name)
    batch, piece = AREAS[name]
    bench.call(batch, *[piece] * dice.randrange(1, 5))
    for _ in range(60):
        bench.clock.advance(dice.choice((0.2, 1, 1, 3)))
        bench.do(cmd.Tick())
        _step(bench, dice)
    if dice.random() < 0.5 and bench.state.pending is None:
        bench.do(cmd.SpeakAs(name="edwin"))
        points = [p for p in open_points(bench.state) if p.answerable]
        if points:
            bench.do(cmd.AnswerPoint(point=dice.choice(points).id, words="seen and left as it is"))
    return bench.events


def _step(bench: Bench, dice: Random) -> None:
    area = bench.state.area
    if dice.random() < 0.75:
        command = bench.next_answer(fail=dice.random() < 0.2)
        if command is not None and not isinstance(bench.do(command), Refusal):
            return
    left_out = (cmd.SignDay, cmd.Ask, *((cmd.StartArea, cmd.SpeakAs) if dice.random() < 0.8 else ()))
    offers = [o for o in bench.prompt.offers if o.now and not isinstance(o.command, left_out)]
    if not offers:
        return
    offer = dice.choice(offers)
    if offer.slot is None or not offer.slot.units:
        bench.do(PHOTO if area is not None and isinstance(area.step, Photo) else filled(offer, Fraction()))
    else:
        bench.do(filled(offer, *plausible(offer.slot, dice)))


@cache
def day_of(name: str) -> list[Event]:
    if name == "gone on":
        return gone_on()
    if name == "handed over":
        return handed_over_day().events
    if name.startswith("counted"):
        return counted_day(int(name.removeprefix("counted "))).events
    return worked(name).events if name in DAYS else walked(int(name))


def gone_on() -> list[Event]:
    """A day on which an area goes on from the one before, with its tiles, lifts and a failure that is open."""
    came = opened(before(of_the_day_before()))
    assert isinstance(came, Decision)
    bench = Bench()
    for event in came.events:
        bench.add(event)
    bench.clock.advance(24 * 60)
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="shower wall"))
    for _ in range(60):
        command = bench.next_answer()
        if command is None:
            break
        bench.take(command)
    return bench.events


EVERY = [*DAYS, "gone on", "handed over", *(f"counted {seed}" for seed in range(4)), *map(str, range(12))]


def accounts(name: str) -> tuple[DayReport, dict[str, Any]]:
    events = day_of(name)
    units = build_report(events).units
    return build_report(events), facts_of(events, ["0" * 64] * len(events), Words("en", units))


def _pairs(report: DayReport, facts: dict[str, Any]) -> list[tuple[AreaReport, dict[str, Any]]]:
    by_name = {area["name"]: area for area in facts["areas"]}
    return [(area, next(fact for name, fact in by_name.items() if capital(name) == area.name)) for area in report.areas]


@pytest.mark.parametrize("name", EVERY)
def test_no_open_point_is_lost_between_state_page_and_facts(name: str) -> None:
    report, facts = accounts(name)
    state = fold(day_of(name))
    points = open_points(state)
    words = Words("en", report.units)
    assert [point["text"] for point in facts["open_points"]] == [words(point.told) for point in points]
    assert [point["answered"] for point in facts["open_points"]] == [point.answer is not None for point in points]
    assert report.open_points == tuple(capital(words(point.line)) for point in unanswered(state))
    assert len(report.open_points) + len(report.answered_points) == len(points)
    assert facts["open_count"] == len(unanswered(state))


@pytest.mark.parametrize("name", EVERY)
def test_page_and_facts_have_the_same_tiles_in_the_same_states(name: str) -> None:
    for area, fact in _pairs(*accounts(name)):
        tiles = {tile["number"]: tile for tile in fact["tiles"] if tile["state"] != "not set"}
        assert {t.number: (t.state, t.place, t.why) for t in area.set_in_order} == {
            number: (t["state"], t["place"], t["why"]["text"]) for number, t in tiles.items()
        }
        assert {t.number: (t.setter.lower(), t.seen, t.seen_told) for t in area.set_in_order} == {
            number: (t["setter"].lower() or "–", t["seen"], t["seen_told"]["text"]) for number, t in tiles.items()
        }
        for tile in tiles.values():
            assert tile["witnessed"] == (tile["seen"] == "witnessed")
            assert (tile["spread"] is not None) == (tile["seen"] == "counted")
        standing = area.standing
        for state, numbers in (
            ("suspect", standing.suspect),
            ("accepted", standing.accepted),
            ("lifted failed", standing.failed),
            ("not yet covered", standing.not_covered),
        ):
            assert sorted(numbers) == sorted(number for number, t in tiles.items() if t["state"] == state)


@pytest.mark.parametrize("name", EVERY)
def test_page_facts_and_state_count_witnessed_and_counted_tiles_alike(name: str) -> None:
    report, facts = accounts(name)
    state = fold(day_of(name))
    for area, fact in _pairs(report, facts):
        seen = proven.seen_tiles(state.areas[fact["name"]])
        assert area.standing.seen == seen
        assert (fact["witnessed"], fact["counted"], fact["set_again"]) == (seen.witnessed, seen.counted, seen.set_again)
        stay = [t["seen"] for t in fact["tiles"] if t["state"] not in ("not set", "taken off")]
        assert (stay.count("witnessed"), stay.count("counted")) == (seen.witnessed, seen.counted)
        assert area.standing.seen_told == fact["seen_told"]["text"]
        assert seen.tiles == area.tiles
    areas = [fact for _, fact in _pairs(report, facts)]
    assert report.summary.tiles_witnessed == sum(fact["witnessed"] for fact in areas)
    assert report.summary.tiles_counted == sum(fact["counted"] for fact in areas)
    assert report.summary.tiles_set_again == sum(fact["set_again"] for fact in areas)


@pytest.mark.parametrize("name", EVERY)
def test_page_and_facts_tell_alike_by_what_each_answer_was_kept_and_what_was_called_together(name: str) -> None:
    for area, fact in _pairs(*accounts(name)):
        lines = {line.seq: line for line in area.sequence if line.kind in ("reading", "choice") and not line.withdrawn}
        kept = {event.body.target: event.seq for event in day_of(name) if isinstance(event.body, ev.JudgedReading)}
        for told in fact["readings"]:
            line = lines.get(kept.get(told["event"], told["event"]))
            if line is not None:
                assert (line.kept, line.source is not None and line.source.together) == (told["kept"], told["together"])
        assert {told["event"] for told in fact["readings"] if told["kept"]} == {
            seq for seq, at in kept.items() if at in lines
        } | {line.seq for line in lines.values() if line.kind == "choice" and line.kept}


@pytest.mark.parametrize("name", EVERY)
def test_page_and_facts_tell_the_same_spreads(name: str) -> None:
    for area, fact in _pairs(*accounts(name)):
        clocks = {clock["number"]: clock for clock in fact["clocks"]}
        for spread, told in zip(area.spreads, fact["spreads"], strict=True):
            assert (spread.wanted, spread.done, spread.bears) == (told["wanted"], told["done"], told["bears"])
            assert (spread.witnessed, spread.standing) == (told["witnessed"], told["standing"])
            assert (spread.setter.lower(), spread.seq) == (told["setter"], told["event"] or 0)
            assert told["done"] == len(told["counted"]) + told["witnessed"] or told["done"] == len(told["counted"])
            assert len(told["counted"]) + (spread.tiles != ranges(told["counted"])) == told["done"]
            clock = clocks.get(told["clock"])
            if clock is None:
                assert spread.minutes is None
                continue
            assert spread.allowed == clock["minutes"]
            assert spread.minutes == pytest.approx(clock["used_minutes"], abs=1e-3)
            assert (spread.outcome == "not timed apart") == clock["together"]


@pytest.mark.parametrize("name", EVERY)
def test_page_and_facts_have_the_same_surface_lifts_and_failures(name: str) -> None:
    report, facts = accounts(name)
    for area, fact in _pairs(report, facts):
        standing = area.standing
        assert (round(standing.set_m2, 6), round(standing.planned_m2, 6)) == (fact["set_m2"], fact["planned_m2"])
        assert (standing.good_tiles, standing.needed) == (fact["good_tiles"], fact["lifts_needed"])
        assert {x.number: (x.tile, x.contact, x.verdict) for x in area.lifts if not x.withdrawn} == {
            x["number"]: (x["tile"], x["percent"], x["verdict"]) for x in fact["lifts"] if x["verdict"] is not None
        }
        assert standing.lifted == sum(x["verdict"] is not None for x in fact["lifts"])
        assert standing.good == sum(x["verdict"] == "passed" for x in fact["lifts"])
        failures = {f.seq: f.cured for f in area.failures if not f.withdrawn}
        assert failures == {int(f["id"]): not f["open"] for f in fact["failures"]}
        assert bool(area.finished) == (fact["phase"] == "finished")
        if standing.proves:
            assert standing.proves == tuple(" ".join(told["text"].split()) for told in fact["lots"]["told"])


@pytest.mark.parametrize("name", EVERY)
def test_page_and_facts_tell_releases_alike(name: str) -> None:
    for area, fact in _pairs(*accounts(name)):
        page = {h.seq: h.how for h in area.holds if not h.withdrawn}
        assert page.keys() == {release["event"] for release in fact["releases"]}
        for release in fact["releases"]:
            assert ("STRUCK" in page[release["event"]]) == release["struck"]
            assert page[release["event"]].startswith("by PIN" if release["how"] == "pin" else "called")


@pytest.mark.parametrize("name", EVERY)
def test_the_screen_before_the_signature_asks_for_what_the_page_calls_open(name: str) -> None:
    report, _ = accounts(name)
    state = fold(day_of(name))
    words = Words("en", report.units)
    # Nobody signs: nothing is confirmed by it.
    rows = asked_first(state, "")
    missing = {row.point.id: row.point for row in rows if row.state == "missing" and row.point is not None}
    left = {point.id: point for point in stay_open(state, "")}
    assert {capital(words(point.line)) for point in left.values()} == set(report.open_points)
    surface = {id_ for id_, point in left.items() if subject_of(point) == "surface"}
    struck = {point.id for point in left.values() if point.told.code == "open-release-struck"}
    assert missing.keys() - surface == left.keys() - surface - struck
    # The surface is one row, whatever the number of its points.
    assert len(missing.keys() & surface) == bool(surface)


def test_the_days_hold_what_is_to_be_compared() -> None:
    """Otherwise the comparisons above would compare nothing with nothing."""
    reports = [build_report(day_of(name)) for name in EVERY]
    areas = [area for report in reports for area in report.areas]
    assert sum(len(area.set_in_order) for area in areas) > 20
    assert sum(len(area.lifts) for area in areas) > 20
    spreads = [spread for area in areas for spread in area.spreads]
    assert {spread.standing for spread in spreads} >= {"over", "skinned"}
    assert {tile.seen for area in areas for tile in area.set_in_order} == {"witnessed", "counted", "set again"}
    assert any("one breath" in tile.seen_told for area in areas for tile in area.set_in_order)
    assert any(clock.outcome == "not timed apart" for area in areas for clock in area.clocks)
    assert any(report.answered_points for report in reports)
    assert any(failure.cured for area in areas for failure in area.failures)
    assert any(not failure.cured and not failure.withdrawn for area in areas for failure in area.failures)
