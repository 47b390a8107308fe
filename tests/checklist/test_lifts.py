"""Lifts in the engine: drawn once a setting, asked for at any time, followed outward, and holding up the area's end."""

from __future__ import annotations

import copy
from fractions import Fraction

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import lots
from fieldassist.checklist.engine import Refusal
from fieldassist.checklist.fold import fold
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.state import Area, Progress
from tests.checklist.days import SEED, Bench, site
from tests.report.conftest import CHECKLIST, Site

# The lots of the days' seed fall, one in five, on the 5th, 12th and 17th setting.


def porch(size: str = "9.6 m2") -> Bench:
    """A day in the porch, whose tiles are lifted by lot, one in five; a bucket is mixed."""
    given = site("metric").model_dump(mode="json")
    (area,) = (a for a in given["areas"] if a["name"] == "porch")
    plan = type(site("metric")).model_validate({**given, "areas": [{**area, "size": size}]})
    bench = Bench.begun(plan=plan)
    bench.start("porch")
    bench.call("bucket")
    return bench


def area_of(bench: Bench) -> Area:
    return bench.state.areas["porch"]


def progress_of(bench: Bench) -> Progress:
    return area_of(bench).progress


def set_tile(bench: Bench) -> None:
    """One tile, without the lift that it may bring."""
    bench.take(cmd.StartRound(section="tile"))
    bench.take(cmd.ConfirmStep(section="tile", step="set"))


def answer_lift(bench: Bench, percent: int = 97) -> None:
    """The lift at hand, up to its verdict."""
    bench.take(cmd.ConfirmLift(section="lift", step="lifted"))
    bench.take(cmd.GiveReading(section="lift", step="coverage", value=Fraction(percent), unit="percent"))
    bench.take(cmd.Keep())
    bench.take(cmd.Choose(section="lift", step="corners", option="full"))


def at_lift(bench: Bench) -> int | None:
    """The tile whose lift is at hand."""
    step = area_of(bench).step
    return area_of(bench).aimed.tile if step is not None and step.kind == "lift" else None  # type: ignore[union-attr]


def states(bench: Bench) -> dict[int, str]:
    return {number: tile.state for number, tile in progress_of(bench).tiles.items()}


def tiles(bench: Bench, count: int) -> None:
    """So many tiles, each with the lift that it brings, which is good."""
    for _ in range(count):
        set_tile(bench)
        bench.go_on()


def last(bench: Bench, kind: type) -> ev.EventBody:
    return next(e.body for e in reversed(bench.events) if isinstance(e.body, kind))


def drawn(bench: Bench) -> list[ev.LotDrawn]:
    return [e.body.lot for e in bench.events if isinstance(e.body, ev.SectionClosed) and e.body.lot is not None]


# --- lots ---------------------------------------------------------------------------------------------------------


def test_every_setting_draws_its_lot_once_and_anybody_can_draw_it_again() -> None:
    bench = porch()
    tiles(bench, 20)
    assert [lot.setting for lot in drawn(bench)] == list(range(1, 21))
    assert [lot.fell for lot in drawn(bench)] == [lots.falls(SEED, k, 5) for k in range(1, 21)]
    came = {x.tile: x.came for x in progress_of(bench).lifts.values()}
    fell = {k for k in range(2, 21) if lots.falls(SEED, k, 5)}
    assert came[1] == "first of run"
    assert {tile for tile, how in came.items() if how == "lot"} <= fell
    assert {tile for tile, how in came.items() if how in ("lot", "forced")} >= fell


def test_a_run_never_goes_longer_than_the_cap_without_a_lift_and_a_forced_one_is_no_lot() -> None:
    # Ours, by simulation: 2 N - 1 in a row at most; no published source. Of one in five the second lot falls on 12.
    bench = porch()
    tiles(bench, 5)
    bench.speak("edwin")
    bench.take(cmd.SetLots(one_in=3))
    bench.speak("rosa")
    fell = [k for k in range(6, 30) if lots.falls(SEED, k, 3)]
    row = 0
    for k in range(6, 25):
        tiles(bench, 1)
        lot = drawn(bench)[-1]
        assert lot.forced is (row >= 5)
        row = 0 if k in fell or lot.forced else row + 1
        assert row <= 5
    assert {x.came for x in progress_of(bench).lifts.values()} == {"first of run", "lot", "forced"}


def test_two_setters_by_turns_are_each_lifted_once_for_it() -> None:
    bench = porch()
    for number in range(4):
        bench.take(cmd.SetterIs(name="otto" if number % 2 == 0 else "rosa"))
        tiles(bench, 1)
    assert [(x.tile, x.came) for x in progress_of(bench).lifts.values()] == [(1, "first of run"), (2, "first of run")]


def test_an_asked_lift_is_taken_back_whole() -> None:
    bench = porch()
    tiles(bench, 3)
    before = progress_of(bench)
    bench.take(cmd.AskLift(number=2))
    assert at_lift(bench) == 2
    bench.take(cmd.Withdraw())
    assert progress_of(bench) == before


def test_a_round_that_is_taken_back_and_closed_again_keeps_its_lot() -> None:
    bench = porch()
    tiles(bench, 3)
    set_tile(bench)
    lot = drawn(bench)[-1]
    bench.take(cmd.Withdraw())
    bench.take(cmd.ConfirmStep(section="tile", step="set"))
    assert drawn(bench)[-1] == lot
    bench.take(cmd.Withdraw())
    bench.take(cmd.Withdraw())
    set_tile(bench)
    assert drawn(bench)[-1] == lot, "nor does another tile in its place get another lot"


def test_the_foreman_says_how_often_a_lot_falls() -> None:
    bench = porch()
    assert isinstance(bench.do(cmd.SetLots(one_in=1)), Refusal)
    bench.speak("edwin")
    assert isinstance(bench.do(cmd.SetLots(one_in=0)), Refusal)
    bench.take(cmd.SetLots(one_in=1))
    bench.speak("rosa")
    tiles(bench, 3)
    assert [lot.one_in for lot in drawn(bench)] == [1, 1, 1]
    assert [x.came for x in progress_of(bench).lifts.values()] == ["first of run", "lot", "lot"]


def test_the_seed_is_committed_before_the_first_tile_and_shown_before_the_signature() -> None:
    bench = porch()
    tiles(bench, 2)
    bench.speak("edwin")
    bench.take(cmd.SignDay(accept_open=True))
    kinds = [type(e.body) for e in bench.events]
    assert kinds.index(ev.LotsCommitted) < kinds.index(ev.AreaStarted)
    assert kinds[-2:] == [ev.LotsRevealed, ev.DaySigned]
    shown = last(bench, ev.LotsRevealed)
    assert isinstance(shown, ev.LotsRevealed)
    assert lots.commitment(shown.seed) == shown.commitment == lots.commitment(SEED)


def test_a_seed_that_drew_and_was_lost_is_an_open_point() -> None:
    bench = porch()
    tiles(bench, 1)
    bench.take(cmd.CommitLots(lots="ab" * 32))
    assert "open-lots-unrevealed" in [p.told.code for p in open_points(bench.state)]


def test_a_seed_that_drew_nothing_leaves_nothing_unproven() -> None:
    bench = porch()
    bench.take(cmd.CommitLots(lots="ab" * 32))
    assert "open-lots-unrevealed" not in [p.told.code for p in open_points(bench.state)]


# --- asked for, and left ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("inspector", "came"), [(False, "asked"), (True, "inspector asked")])
def test_anybody_may_ask_for_a_lift_at_any_time_and_a_round_is_done_first(inspector: bool, came: str) -> None:
    bench = porch()
    tiles(bench, 3)
    bench.take(cmd.StartRound(section="tile"))
    bench.take(cmd.AskLift(number=2, inspector=inspector))
    assert at_lift(bench) is None
    bench.take(cmd.ConfirmStep(section="tile", step="set"))
    while at_lift(bench) not in (2, None):
        answer_lift(bench)
        bench.take(cmd.ConfirmStep(section="back", step="back"))
    assert at_lift(bench) == 2
    answer_lift(bench)
    judged = last(bench, ev.LiftJudged)
    assert isinstance(judged, ev.LiftJudged)
    assert (judged.tile, judged.came, judged.order, judged.run, judged.setter) == (2, came, 2, 1, "rosa")


def test_the_time_of_a_lift_is_when_it_was_lifted() -> None:
    bench = porch()
    set_tile(bench)
    bench.take(cmd.ConfirmLift(section="lift", step="lifted"))
    lifted = bench.events[-1]
    bench.clock.advance(9)
    bench.go_on()
    judged = last(bench, ev.LiftJudged)
    assert isinstance(judged, ev.LiftJudged)
    assert judged.lifted == lifted.seq
    assert progress_of(bench).lifts[1].at == lifted.at


def test_what_cannot_be_lifted_is_left_with_its_reason_as_an_open_point() -> None:
    bench = porch()
    set_tile(bench)
    bench.take(cmd.LeaveLift(section="lift", step="lifted", words="the tile broke at its corner"))
    assert at_lift(bench) is None
    (point,) = (p for p in open_points(bench.state) if p.told.code == "open-lift-left")
    assert point.told.figures["tile"] == "1"
    assert states(bench) == {1: "not yet covered"}
    assert isinstance(bench.do(cmd.FinishArea()), Refusal)


def test_the_last_of_a_batch_near_the_end_of_its_pot_life_is_lifted_once_the_next_is_mixed() -> None:
    bench = porch()
    tiles(bench, 2)
    pot = progress_of(bench).clocks[0].minutes
    bench.clock.advance(0.8 * pot)
    while set_tile(bench) is None and at_lift(bench) is not None:
        bench.go_on()
    late = progress_of(bench).last_set
    assert late is not None
    bench.take(cmd.StartRound(section="bucket"))
    assert at_lift(bench) is None
    bench.take(cmd.ConfirmStep(section="bucket", step="mixed"))
    assert at_lift(bench) == late.number
    assert area_of(bench).aimed.came == "last of batch"  # type: ignore[union-attr]


def test_a_new_bucket_of_the_same_mortar_alone_asks_for_no_lift() -> None:
    bench = porch()
    tiles(bench, 2)
    bench.call("bucket")
    assert [x.came for x in progress_of(bench).lifts.values() if x.came not in ("lot", "forced")] == ["first of run"]


# --- a failure and what follows -----------------------------------------------------------------------------------


def failed_at_five() -> Bench:
    """Four tiles of which the first is good, and a fifth that fails when it is asked for; it is set again and good."""
    bench = porch("3.6 m2")
    tiles(bench, 1)
    while progress_of(bench).settings < 5:
        set_tile(bench)
        if at_lift(bench) is not None:
            bench.take(cmd.LeaveLift(section="lift", step="lifted"))
    bench.take(cmd.AskLift(number=5))
    answer_lift(bench, 40)
    return bench


def test_a_failed_lift_makes_suspect_and_the_crew_lifts_outward_until_two_in_a_row_are_good() -> None:
    bench = failed_at_five()
    assert states(bench) == {1: "lifted good", 2: "suspect", 3: "suspect", 4: "suspect", 5: "lifted failed"}
    bench.take(cmd.ConfirmStep(section="again", step="scraped"))
    bench.take(cmd.ConfirmStep(section="again", step="again"))
    tile = progress_of(bench).tiles[5]
    assert (tile.order, tile.put_back) == (6, "set again")
    assert at_lift(bench) == 5
    answer_lift(bench)
    assert not progress_of(bench).failures
    bench.take(cmd.ConfirmStep(section="back", step="back"))
    assert at_lift(bench) == 4
    answer_lift(bench)
    bench.take(cmd.ConfirmStep(section="back", step="back"))
    assert at_lift(bench) == 3
    answer_lift(bench)
    assert states(bench)[2] == "covered"
    assert progress_of(bench).tiles[2].cleared_by == (4, 5)


def test_an_area_does_not_end_with_a_suspect_and_the_foreman_may_let_it_stay_in_words() -> None:
    bench = failed_at_five()
    while area_of(bench).aimed is None or area_of(bench).aimed.came != "follow-up":  # type: ignore[union-attr]
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    bench.take(cmd.LeaveLift(section="lift", step="lifted", ready="hard"))
    refused = bench.do(cmd.FinishArea())
    assert isinstance(refused, Refusal)
    assert refused.why.code == "engine-suspects"
    assert isinstance(bench.do(cmd.AcceptTiles()), Refusal), "an installer accepts nothing"
    bench.speak("edwin")
    bench.take(cmd.AcceptTiles(words="I looked at the joint: it is full, and stays"))
    assert set(states(bench).values()) == {"lifted good", "accepted"}
    points = {p.told.code for p in open_points(bench.state)}
    assert {"open-tiles-accepted", "open-lift-left"} <= points
    assert "open-suspects" not in points
    bench.take(cmd.FinishArea())
    bench.go_on()
    assert progress_of(bench).phase == "finished"
    assert "open-tiles-accepted" in {p.told.code for p in open_points(bench.state)}


def test_a_tile_taken_off_is_no_surface_and_no_suspect() -> None:
    bench = porch()
    tiles(bench, 3)
    surface = progress_of(bench).set_m2
    bench.take(cmd.TakeOff(number=2))
    assert states(bench)[2] == "taken off"
    assert progress_of(bench).set_m2 < surface
    assert isinstance(bench.do(cmd.TakeOff(number=2)), Refusal)
    assert isinstance(bench.do(cmd.AskLift(number=2)), Refusal)


def test_a_tile_put_back_is_marked_as_lifted_and_not_lifted_again() -> None:
    bench = porch()
    tiles(bench, 1)
    tile = progress_of(bench).tiles[1]
    assert (tile.state, tile.lift, tile.put_back, tile.order) == ("lifted good", 1, "put back", 1)


# --- the end of an area -------------------------------------------------------------------------------------------


def test_the_end_of_an_area_first_asks_for_the_ends_of_its_runs() -> None:
    bench = porch("2.16 m2")
    tiles(bench, 3)
    assert states(bench) == {1: "lifted good", 2: "not yet covered", 3: "not yet covered"}
    bench.take(cmd.FinishArea())
    assert at_lift(bench) == 3
    assert area_of(bench).aimed.came == "last of run"  # type: ignore[union-attr]
    bench.go_on()
    bench.take(cmd.FinishArea())
    bench.go_on()
    assert progress_of(bench).phase == "finished"
    assert set(states(bench).values()) <= {"lifted good", "covered"}


def test_what_fails_while_an_area_is_being_closed_sets_it_back_to_work() -> None:
    bench = porch("3.6 m2")
    tiles(bench, 5)
    bench.take(cmd.FinishArea())
    assert progress_of(bench).phase == "finishing"
    bench.take(cmd.AskLift(number=3, inspector=True))
    answer_lift(bench, 40)
    while progress_of(bench).phase == "finishing":
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    assert progress_of(bench).phase == "working"
    assert not progress_of(bench).failures
    assert at_lift(bench) == 2, "outward from the one that failed"
    bench.go_on()
    bench.take(cmd.FinishArea())
    bench.go_on()
    assert progress_of(bench).phase == "finished"


def test_the_log_of_such_a_day_folds_to_the_same_state() -> None:
    bench = failed_at_five()
    bench.go_on()
    assert fold(bench.events) == bench.state


def test_what_is_left_out_of_a_lift_is_offered_once_nothing_waits_for_its_yes() -> None:
    made = copy.deepcopy(CHECKLIST)
    lift = next(section for section in made["sections"] if section["id"] == "lift")
    bed = {
        "id": "bed",
        "kind": "reading",
        "ask": "Bed?",
        "say": ["bed {value}"],
        "skip": ["no gauge"],
        "measures": "bed",
    }
    lift["steps"].append({**bed, "quantity": "length", "units": ["mm"]})
    site = Site(checklist=made).start("shower wall").release().batch().tile().lift_up().photo()

    def leave_out() -> bool:
        offers = prompt(site.state, site.now).offers
        return any(offer.now for offer in offers if isinstance(offer.command, cmd.LeaveOutReading))

    assert leave_out()
    site.read("lift", "coverage", "97", "percent", keep=False)
    assert not leave_out()
    site.do(cmd.Keep())
    assert leave_out()
