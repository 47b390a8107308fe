"""Page, screen and facts give one account of a day: the same tiles, lifts, failures and releases, the same open points,
and every event of the record once."""

from __future__ import annotations

from dataclasses import dataclass
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
from fieldassist.checklist.state import State
from fieldassist.facts.build import day_facts
from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.build import day_pages
from fieldassist.report.model import DayPages
from fieldassist.ui.content.signing import asked_first, stay_open, subject_of
from tests.checklist.days import PHOTO, Bench, counted_day, filled, plausible
from tests.checklist.test_carrying import before, opened
from tests.checklist.test_carrying import worked as of_the_day_before
from tests.golden import DAYS, worked
from tests.report.conftest import handed_over_day, in_words

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


def day_of(name: str) -> list[Event]:
    if name == "gone on":
        return gone_on()
    if name == "handed over":
        return handed_over_day().events
    if name.startswith("counted"):
        return counted_day(int(name.removeprefix("counted "))).events
    return worked(name).events if name in DAYS else walked(int(name))


EVERY = [*DAYS, "gone on", "handed over", "counted 0", "counted 2", "1", "3"]


@dataclass(frozen=True)
class Account:
    """One day, as each tells it."""

    events: list[Event]
    state: State
    facts: DayFacts
    pages: DayPages
    words: Words


@cache
def account(name: str) -> Account:
    events = day_of(name)
    day: Any = events[0].body
    words = Words("en", day.plan.units)
    facts = day_facts(events, ["0" * 64] * len(events), words)
    return Account(events, fold(events), facts, day_pages(facts, words), words)


@pytest.mark.parametrize("name", EVERY)
def test_no_open_point_is_lost_between_state_facts_page_and_screen(name: str) -> None:
    day = account(name)
    points = open_points(day.state)
    assert [point.text for point in day.facts.open_points] == [day.words(point.told) for point in points]
    assert [point.answered for point in day.facts.open_points] == [point.answer is not None for point in points]
    assert day.facts.open_count == len(unanswered(day.state))
    told = {look.id for look in day.facts.look_at}
    assert {point.id for point in points} <= told
    assert {look.id for look in day.facts.look_at if look.open} == {point.id for point in unanswered(day.state)}
    assert [point.number for point in day.pages.front.points] == [look.number for look in day.facts.look_at]
    # Nobody signs: nothing is confirmed by it.
    rows = asked_first(day.state, "")
    missing = {row.point.id: row.point for row in rows if row.state == "missing" and row.point is not None}
    left = {point.id: point for point in stay_open(day.state, "")}
    assert left.keys() == {point.id for point in unanswered(day.state)}
    surface = {id_ for id_, point in left.items() if subject_of(point) == "surface"}
    struck = {point.id for point in left.values() if point.told.code == "open-release-struck"}
    assert missing.keys() - surface == left.keys() - surface - struck
    # The surface is one row, whatever the number of its points.
    assert len(missing.keys() & surface) == bool(surface)


@pytest.mark.parametrize("name", EVERY)
def test_facts_and_drawing_have_the_tiles_of_the_state_in_the_same_states(name: str) -> None:
    day = account(name)
    walls = {area.name: area.tiles for area in day.facts.areas}
    for name_of, area in day.state.areas.items():
        facts = next(one for one in day.facts.areas if one.name == name_of)
        tiles = {tile.number: tile for tile in walls[name_of] if tile.state != "not set"}
        assert {n: (t.state, t.setter, t.batch) for n, t in area.progress.tiles.items()} == {
            n: (t.state, t.setter, t.batch) for n, t in tiles.items()
        }
        seen = proven.seen_tiles(area)
        assert (facts.witnessed, facts.counted, facts.set_again) == (seen.witnessed, seen.counted, seen.set_again)
        stay = [t.seen for t in facts.tiles if t.state not in ("not set", "taken off")]
        assert (stay.count("witnessed"), stay.count("counted")) == (seen.witnessed, seen.counted)
        assert round(area.progress.set_m2, 6) == facts.set_m2
    started = [area for area in day.facts.areas if area.phase != "not started"]
    for area_fact, page in zip(started, day.pages.areas, strict=True):
        if page.wall is not None:
            assert [piece.number for piece in page.wall.pieces] == [tile.number for tile in area_fact.tiles]
            rows = [number for row in page.wall.rows for number in in_words(row.numbers)]
            assert sorted(rows) == sorted(tile.number for tile in area_fact.tiles)


@pytest.mark.parametrize("name", EVERY)
def test_facts_and_pages_have_the_lifts_and_failures_of_the_state(name: str) -> None:
    day = account(name)
    started = [area for area in day.facts.areas if area.phase != "not started"]
    for facts, page in zip(started, day.pages.areas, strict=True):
        progress = day.state.areas[facts.name].progress
        assert {n: (lift.tile, lift.verdict) for n, lift in progress.lifts.items()} == {
            lift.number: (lift.tile, lift.verdict) for lift in facts.lifts
        }
        assert {int(one.id) for one in facts.failures if one.open} == set(progress.failures)
        assert (facts.phase == "finished") == (progress.phase == "finished")
        if page.trial is None:
            assert len(page.failures) == len(facts.failures)
            assert sum(card.open for card in page.failures) == len(progress.failures)
            assert (0 if page.lifts is None else len(page.lifts.lines)) == len(facts.lifts)
    assert len(day.pages.front.failures) == sum(len(area.failures) for area in day.facts.areas)
    chart = day.pages.front.chart
    drawn = [lift.number for panel in (() if chart is None else chart.panels) for lift in panel.lifts]
    assert len(drawn) == sum(lift.percent is not None for area in day.facts.areas for lift in area.lifts)


@pytest.mark.parametrize("name", EVERY)
def test_facts_have_every_release_and_by_what_each_answer_was_kept(name: str) -> None:
    day = account(name)
    for facts in day.facts.areas:
        area = day.state.areas.get(facts.name)
        if area is None:
            continue
        releases = {one.seq: (one.how, one.struck) for one in area.progress.releases.values()}
        assert {one.event: (one.how, one.struck) for one in facts.releases} == releases
    kept = {event.body.target: event.body.kept for event in day.events if isinstance(event.body, ev.ReadingKept)}
    for told in (reading for area in day.facts.areas for reading in area.readings):
        if told.value is not None and told.event in kept:
            assert told.kept == kept[told.event]


@pytest.mark.parametrize("name", EVERY)
def test_every_event_is_told_once_and_what_counts_no_more_says_so(name: str) -> None:
    day = account(name)
    assert [(one.event, one.kind) for one in day.facts.sequence] == [(e.seq, e.body.type) for e in day.events]
    taken_back = {one.target for one in day.facts.withdrawn}
    assert all(day.facts.sequence[target - 1].no_longer is not None for target in taken_back)
    assert len(day.facts.withdrawn) == sum(isinstance(event.body, ev.Withdrawn) for event in day.events)


def test_the_days_hold_what_is_to_be_compared() -> None:
    """Otherwise the comparisons above would compare nothing with nothing."""
    days = [account(name) for name in EVERY]
    areas = [area for day in days for area in day.facts.areas]
    assert sum(tile.at is not None for area in areas for tile in area.tiles) > 20
    assert sum(len(area.lifts) for area in areas) > 20
    assert {spread.standing for area in areas for spread in area.spreads} >= {"over", "skinned"}
    assert {tile.seen for area in areas for tile in area.tiles} >= {"witnessed", "counted", "set again"}
    assert any(clock.together for area in areas for clock in area.clocks)
    assert any(point.answered for day in days for point in day.facts.open_points)
    assert {failure.open for area in areas for failure in area.failures} == {True, False}
