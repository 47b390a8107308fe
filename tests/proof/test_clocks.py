"""The tablet's clock in a record: what was noted of it is held against the moments of the events."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import ClockJumped, ClockUnwatched, DayOpened, Event, PinRefused
from fieldassist.day.session import Day
from fieldassist.proof.clocks import check_clocks
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Findings
from tests.tablets import SetClock, small_site


def examined(events: Sequence[Event]) -> Findings:
    found = Findings()
    check_clocks(events, found)
    return found


def unnoted(events: Sequence[Event]) -> list[int]:
    return list(examined(events).facts["clock"]["not_noted"])


@pytest.fixture(scope="module")
def turned(tmp_path_factory: pytest.TempPathFactory) -> tuple[Event, ...]:
    """A day whose clock is turned, and whose machine is started anew, again and again; with two addenda."""
    draw, clock = random.Random(7), SetClock()
    plan, checklists = small_site()
    path = tmp_path_factory.mktemp("turned") / "day.db"
    with Day.begin(path, plan, checklists, clock) as day:
        for number in range(90):
            clock.pass_by(draw.choice((0.2, 1, 7)))
            clock.wall += timedelta(seconds=draw.choice((0, 0, 0, 4, 9, 28, -6, -29, 200, -3600)))
            if draw.random() < 0.15:
                clock.boot, clock.mono = f"run {number}", draw.uniform(5, 60)
                clock.wall += timedelta(minutes=draw.choice((0.3, 2, 300)))
            if number % 30 == 29:
                day.do(cmd.SpeakAs(name="edwin"))
                assert day.do(cmd.SignDay(accept_open=True)).taken
                clock.boot, clock.mono = f"signed {number}", 9.0
                clock.wall += timedelta(hours=draw.choice((-30, 40)))
                day.do(cmd.OpenAddendum(reason="another figure"))
            day.do(cmd.MakeNote(text=f"note {number}"))
        return tuple(day.log.events)


def notes_in(events: Sequence[Event]) -> Iterator[int]:
    return (at for at, event in enumerate(events) if isinstance(event.body, ClockJumped | ClockUnwatched))


def test_every_note_of_the_clock_is_found_right_and_told(turned: tuple[Event, ...]) -> None:
    found = examined(turned)
    assert (found.code, [told.code for told in found.told]) == (WHOLE, ["proof-clock-set", "proof-clock-not-watched"])
    assert len(found.facts["clock"]["set"]) > 10
    assert len(found.facts["clock"]["not_watched"]) > 5
    assert found.facts["clock"]["not_noted"] == []


def test_a_note_that_is_left_out_is_missed(turned: tuple[Event, ...]) -> None:
    """But for one that came to little more than the least that is noted, which tells nothing."""
    for at in notes_in(turned):
        body = turned[at].body
        assert isinstance(body, ClockJumped | ClockUnwatched)
        without = [*turned[:at], *turned[at + 1 :]]
        if abs(body.seconds) > 40:
            assert unnoted(without), turned[at].seq
            assert examined(without).code == DAMAGED


def test_a_note_that_says_something_else_is_found(turned: tuple[Event, ...]) -> None:
    for at in notes_in(turned):
        body = turned[at].body
        assert isinstance(body, ClockJumped | ClockUnwatched)
        other = body.model_copy(update={"seconds": body.seconds + 60})
        assert unnoted([*turned[:at], turned[at].model_copy(update={"body": other}), *turned[at + 1 :]])


def test_a_wall_clock_that_is_moved_by_a_forger_is_found_at_the_first_event(turned: tuple[Event, ...]) -> None:
    """All events of a quiet stretch an hour later, the machine's own clock as it was."""
    quiet = max(
        (range(a + 1, b) for a, b in zip([0, *notes_in(turned)], [*notes_in(turned), len(turned)], strict=True)),
        key=len,
    )
    assert len(quiet) > 5

    def later(event: Event) -> Event:
        wall = datetime.fromisoformat(event.at.wall) + timedelta(hours=1)
        return event.model_copy(update={"at": event.at.model_copy(update={"wall": wall.isoformat()})})

    middle = quiet[len(quiet) // 2]
    forged = [later(e) if at in quiet and at >= middle else e for at, e in enumerate(turned)]
    assert middle + 1 in unnoted(forged)


def test_days_before_the_rule_are_told_and_not_called_damaged(turned: tuple[Event, ...]) -> None:
    """A record of the program before, which looked at the last event alone: 47 minutes in steps of 28 s."""
    opened = turned[0].body
    assert isinstance(opened, DayOpened)
    first = turned[0].model_copy(update={"body": opened.model_copy(update={"rules": 0})})
    quiet = [e for e in turned if not isinstance(e.body, ClockJumped | ClockUnwatched)]
    found = examined([first, *quiet[1:]])
    assert found.facts["clock"]["not_noted"]
    assert found.code == UNSEALED


def test_a_plan_of_another_date_than_the_first_event_is_named(turned: tuple[Event, ...]) -> None:
    opened = turned[0].body
    assert isinstance(opened, DayOpened)
    for rules, code in ((opened.rules, DAMAGED), (0, UNSEALED)):
        plan = opened.plan.model_copy(update={"date": "2026-03-16"})
        first = turned[0].model_copy(update={"body": opened.model_copy(update={"plan": plan, "rules": rules})})
        found = examined([first])
        assert ([told.code for told in found.told], found.code) == (["proof-date-other"], code)
    practice = turned[0].model_copy(update={"body": opened.model_copy(update={"plan": plan, "kind": "practice"})})
    assert examined([practice]).code == WHOLE


def test_a_clock_that_is_set_between_a_decision_and_its_events_is_noted_by_the_next(tmp_path: Path) -> None:
    """As when a network sets it while a PIN is tried: nobody could have noted it earlier."""
    clock = SetClock()
    plan, checklists = small_site()
    with Day.begin(tmp_path / "day.db", plan, checklists, clock) as day:
        clock.pass_by(1)
        day._note_clock(clock.now())
        clock.wall += timedelta(minutes=3)
        day._append((day._fact(PinRefused(name="edwin", attempts_left=4)),))
        assert unnoted(day.log.events) == [day.log.events[-1].seq]
        clock.pass_by(1)
        day.do(cmd.MakeNote(text="the next"))
        assert unnoted(day.log.events) == []
