"""What goes on of an area on another day: all of it, with numbers that mean one event each, and nothing made up."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.carrying import Held, HeldArea, begun_anew, held_of
from fieldassist.checklist.engine import Decision, Refusal, decide
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.state import Progress, State
from tests.checklist.days import Bench, all_checklists, site

ADAPTER: TypeAdapter[HeldArea] = TypeAdapter(Held)
MORNING = Moment(wall="2026-03-18T06:45:00+01:00", mono=5.0, boot="next morning")
AREA = "shower wall"


def worked() -> Bench:
    """A day with tiles set and lifted, and a failure that is open."""
    bench = Bench.begun()
    bench.start(AREA)
    bench.call("batch", "tile", "tile")
    for _ in range(60):
        command = bench.next_answer(fail=True)
        if command is None:
            bench.take(cmd.StartRound(section="tile"))
            continue
        bench.take(command)
        if bench.state.areas[AREA].progress.failures:
            break
    assert bench.state.areas[AREA].progress.failures
    return bench


def before(bench: Bench, **changes: Any) -> cmd.DayBefore:
    areas = bench.state.areas.values()
    given = {
        "date": "2026-03-17",
        "site": "Quillhaven",
        "kind": "work",
        "events": len(bench.events),
        "head": "a" * 64,
        "signed": True,
        "sealed": True,
        "last": bench.events[-1].at,
        "plans": {area.plan.key: area.plan for area in areas},
        "areas": {area.plan.key: held_of(area, bench.state.last_seq) for area in areas},
    }
    return cmd.DayBefore(**(given | changes))


def opened(*days: cmd.DayBefore, plan: DayPlan | None = None, kind: Any = "work") -> Decision | Refusal:
    checklists = tuple(all_checklists().values())
    planned = (plan or site("metric")).model_copy(update={"date": MORNING.wall[:10]})
    return decide(State(), cmd.OpenDay(plan=planned, checklists=checklists, kind=kind, before=days), MORNING)


def refused(*days: cmd.DayBefore, **given: Any) -> str:
    came = opened(*days, **given)
    assert isinstance(came, Refusal)
    return came.why.code


def carried(bench: Bench) -> State:
    came = opened(before(bench))
    assert isinstance(came, Decision), came
    # As it is read again from the disk.
    return fold(Event.model_validate(json.loads(event.model_dump_json())) for event in came.events)


def test_every_progress_of_a_day_comes_back_as_it_was() -> None:
    bench = worked()
    state = State()
    for event in bench.events:
        state = fold((event,), state)
        for area in state.areas.values():
            held = held_of(area, bench.state.last_seq)
            assert ADAPTER.validate_python(json.loads(ADAPTER.dump_json(held))) == held


def test_an_area_goes_on_with_its_tiles_lifts_and_failures() -> None:
    bench = worked()
    was, now = bench.state.areas[AREA], carried(bench).areas[AREA]
    assert list(now.progress.tiles) == list(was.progress.tiles)
    assert [lift.verdict for lift in now.progress.lifts.values()] == [x.verdict for x in was.progress.lifts.values()]
    assert [f.finding for f in now.progress.failures.values()] == [f.finding for f in was.progress.failures.values()]
    assert (now.setter, now.method, now.progress.set_m2) == (was.setter, was.method, was.progress.set_m2)


def numbers(progress: Progress) -> list[int]:
    """The numbers of events in a progress."""
    return [
        *progress.failures,
        *progress.releases,
        *(release.seq for release in progress.releases.values()),
        *(tile.set for tile in progress.tiles.values()),
        *(lift.lifted for lift in progress.lifts.values()),
        *(run.run for run in progress.clocks),
        *(task.failure for task in progress.tasks if task.failure is not None),
    ]


def test_numbers_of_events_of_the_day_before_are_negative_and_in_order() -> None:
    bench = worked()
    was, now = bench.state.areas[AREA], held_of(bench.state.areas[AREA], bench.state.last_seq)
    assert numbers(now.progress) == [number - len(bench.events) - 1 for number in numbers(was.progress)]
    assert max(numbers(now.progress)) < 0
    twice = held_of(replace(was, progress=now.progress), 40)
    assert max(numbers(twice.progress)) < -40, "of the day before the day before"


def test_mortar_of_the_day_before_is_dead_and_its_runs_are_over() -> None:
    bench = worked()
    held = held_of(bench.state.areas[AREA], bench.state.last_seq)
    checklist = bench.state.areas[AREA].checklist
    assert "batch" in held.progress.good
    anew = begun_anew(held, checklist).progress
    assert "batch" not in anew.good
    assert "pot-life" not in {run.clock for run in anew.clocks}
    assert anew.runs_before == len(anew.runs) == 1


def test_a_clock_that_ran_out_overnight_says_so_at_once() -> None:
    bench = Bench.begun()
    bench.start(AREA)
    bench.call("batch")
    bench.take(cmd.StartRound(section="tile"))
    while not {run.clock for run in bench.state.areas[AREA].progress.clocks} >= {"open-time"}:
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    came = decide(carried(bench), cmd.Tick(), MORNING)
    assert isinstance(came, Decision)
    assert [e.body.clock for e in came.events if isinstance(e.body, ev.ClockRanOut)] == ["open-time"]


def test_a_carried_failure_can_be_cured_and_the_area_goes_on() -> None:
    yesterday = worked()
    came = opened(before(yesterday))
    assert isinstance(came, Decision)
    bench = Bench(events=list(came.events), state=fold(came.events))
    bench.clock.advance(24 * 60)
    bench.speak("rosa")
    bench.take(cmd.StartArea(area=AREA))
    bench.go_on()
    assert not bench.state.areas[AREA].progress.failures
    assert min(e.body.failure for e in bench.events if isinstance(e.body, ev.FailureClosed)) < 0
    settings = bench.state.areas[AREA].progress.settings
    bench.call("batch", "tile")
    progress = bench.state.areas[AREA].progress
    assert progress.settings == settings + 1
    assert progress.last_set is not None
    assert (progress.last_set.order, progress.last_set.run) == (settings + 1, 2), "another day, another run"


def test_what_cannot_go_on_is_refused_with_the_reason() -> None:
    bench = worked()
    day, plan = before(bench), site("metric")
    areas = tuple(area.model_copy(update={"id": "another"}) if area.name == AREA else area for area in plan.areas)
    wall = next(area for area in plan.areas if area.name == AREA)
    thicker = wall.model_copy(update={"piece": wall.piece.model_copy(update={"rectified": False})})
    others = tuple(thicker if area.name == AREA else area for area in plan.areas)
    later = Moment(wall="2026-03-18T06:45:01+01:00", mono=0.0, boot="b")
    assert refused(day, plan=plan.model_copy(update={"areas": areas})) == "engine-continues-nothing"
    assert refused(day, plan=plan.model_copy(update={"areas": others})) == "engine-continues-otherwise"
    assert refused(day, before(bench, head="b" * 64)) == "engine-continues-twice"
    assert refused(before(bench, last=later)) == "engine-continues-later"
    assert refused(before(bench, kind="rehearsal")) == "engine-continues-no-work"
    held = day.areas[AREA]
    gone = replace(held.progress.tasks[0], step="gone")
    lost = replace(held, progress=replace(held.progress, tasks=(gone,)))
    assert refused(before(bench, areas={AREA: lost})) == "engine-continues-without"
    assert isinstance(opened(before(bench, kind="rehearsal"), kind="rehearsal"), Decision)


def test_an_area_is_known_by_its_id_and_not_by_its_name() -> None:
    bench, plan = worked(), site("metric")
    renamed = tuple(
        area.model_copy(update={"name": "long wall", "id": AREA}) if area.name == AREA else area for area in plan.areas
    )
    came = opened(before(bench), plan=plan.model_copy(update={"areas": renamed}))
    assert isinstance(came, Decision)
    assert [e.body.area for e in came.events if isinstance(e.body, ev.AreaCarried)] == ["long wall"]


def test_two_areas_with_one_id_are_no_plan() -> None:
    plan = site("metric").model_dump(mode="json")
    plan["areas"][1]["id"] = plan["areas"][0]["name"]
    with pytest.raises(ValidationError, match="area-id-twice"):
        DayPlan.model_validate(plan)


# --- what somebody else may write there ---------------------------------------------------------------------------

WRITTEN = json.loads(ADAPTER.dump_json(held_of(worked().state.areas[AREA], 500)))


@pytest.mark.parametrize("name", [one.name for one in fields(Progress)])
@given(wrong=st.recursive(st.none() | st.booleans() | st.integers() | st.text(max_size=5), st.lists, max_leaves=5))
def test_whatever_stands_in_a_field_is_read_or_refused(name: str, wrong: Any) -> None:
    raw = {**WRITTEN, "progress": {**WRITTEN["progress"], name: wrong}}
    try:
        held = ADAPTER.validate_python(raw)
    except ValidationError:
        return
    assert isinstance(held, HeldArea)


@pytest.mark.parametrize("wrong", [None, [], {"method": None}, {**WRITTEN, "strange": 1}, {**WRITTEN, "setter": 7}])
def test_what_is_no_held_area_is_refused(wrong: Any) -> None:
    with pytest.raises(ValidationError):
        ADAPTER.validate_python(wrong)
