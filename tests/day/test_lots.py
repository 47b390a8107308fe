"""The seed of a day's lots: on this tablet before anything rests on it, through every restart, and in no bundle."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import lots
from fieldassist.checklist.events import LotsCommitted, LotsRevealed
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.record.bundle import open_bundle, pack, take_in
from fieldassist.record.lot_seeds import file_of, seed_of
from tests.conftest import Crew


def committed(day: Day) -> list[str]:
    return [e.body.commitment for e in day.log.events if isinstance(e.body, LotsCommitted)]


def test_two_days_of_the_same_plan_have_different_lots(
    tmp_path: Path, plan: DayPlan, checklists: dict[str, Checklist], clock: SimulatedClock
) -> None:
    found = set()
    for name in ("one", "two"):
        with Day.begin(tmp_path / f"{name}.db", plan, checklists, clock) as day:
            (commitment,) = committed(day)
            assert seed_of(day.log.path, commitment) is not None
            found.add(commitment)
    assert len(found) == 2


def test_no_seed_lies_in_the_log_before_the_signature(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    (commitment,) = committed(crew.day)
    seed = seed_of(crew.day.log.path, commitment)
    assert seed is not None
    assert not any(seed in text for text in crew.day.log.texts)


def test_a_day_taken_up_again_goes_on_with_its_seed_and_shows_it_at_sign_off(crew: Crew, clock: SimulatedClock) -> None:
    crew.open_shower()
    path = crew.day.log.path
    crew.day.close()
    with Day.resume(path, clock) as day:
        again = Crew(day, clock)
        again.mix()
        again.set_tile()
        again.say("this is edwin", "sign off with open points")
        (commitment,) = committed(day)
        (shown,) = again.events(LotsRevealed)
        assert (shown.commitment, lots.commitment(shown.seed)) == (commitment, commitment)


def test_on_another_tablet_the_lots_begin_anew_and_the_old_seed_is_an_open_point(
    crew: Crew, clock: SimulatedClock, tmp_path: Path
) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.day.close()
    packed = pack(crew.day.log.path, tmp_path / "day.zip")
    bundle = open_bundle(packed.path)
    assert not [entry.name for entry in bundle.files if entry.name.endswith(".lots")]
    taken = take_in(bundle, tmp_path / "elsewhere")
    assert not file_of(taken.day).exists()
    with Day.resume(taken.day, clock) as day:
        other = Crew(day, clock)
        other.say("this is rosa")
        old, new = committed(day)
        assert old != new
        assert seed_of(taken.day, new) is not None
        assert "open-lots-unrevealed" in [p.told.code for p in open_points(day.state)]
        other.say("this is edwin", "sign off with open points")
        assert [shown.commitment for shown in other.events(LotsRevealed)] == [new]


def test_only_looking_at_a_day_draws_no_new_seed(crew: Crew, clock: SimulatedClock) -> None:
    crew.open_shower()
    path = crew.day.log.path
    before = file_of(path).read_bytes()
    crew.day.close()
    with Day.resume(path, clock, read_only=True) as day:
        assert day.prompt.say is not None
        day.tick()
    assert file_of(path).read_bytes() == before


def test_an_addendum_has_lots_of_its_own(crew: Crew) -> None:
    crew.open_shower()
    crew.say("this is edwin", "sign off with open points")
    crew.day.do(cmd.OpenAddendum(reason="one tile more"))
    first, second = committed(crew.day)
    assert first != second
    assert seed_of(crew.day.log.path, second) is not None
