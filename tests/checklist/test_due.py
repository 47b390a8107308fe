"""What is due waits for the end of a row or spread and blocks nothing; what must not wait blocks, and says so."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import covering
from fieldassist.checklist.engine import Refusal
from fieldassist.checklist.fold import fold
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.state import Area
from tests.checklist.days import Bench
from tests.checklist.test_lifts import answer_lift, area_of, at_lift, porch, progress_of, set_tile, states


def put_back(bench: Bench) -> None:
    bench.take(cmd.ConfirmStep(section="back", step="back"))


def codes(bench: Bench) -> list[str]:
    return [point.told.code for point in open_points(bench.state)]


def refused(bench: Bench, command: cmd.Command) -> tuple[str, object]:
    """The code with which a command is refused, and what is named as first."""
    came = bench.do(command)
    assert isinstance(came, Refusal), came
    return came.why.code, came.why.figures.get("ask")


def test_a_due_lift_waits_while_tiles_are_set_and_is_taken_then() -> None:
    bench = porch()
    set_tile(bench)
    assert at_lift(bench) == 1
    set_tile(bench)
    set_tile(bench)
    assert at_lift(bench) == 1, "asked again at the end of each tile"
    assert "open-lift-waits" in codes(bench)
    answer_lift(bench)
    put_back(bench)
    assert area_of(bench).task is None
    assert states(bench) == {1: "lifted good", 2: "not yet covered", 3: "not yet covered"}
    assert fold(bench.events) == bench.state


def test_a_due_lift_is_not_asked_while_a_round_is_under_way() -> None:
    bench = porch()
    set_tile(bench)
    bench.take(cmd.StartRound(section="tile"))
    assert area_of(bench).step is not None
    assert area_of(bench).step.id == "set"  # type: ignore[union-attr]
    assert refused(bench, cmd.ConfirmLift(section="lift", step="lifted"))[0] == "engine-comes-later"
    assert refused(bench, cmd.StartRound(section="tile"))[0] == "engine-after-this"


def test_a_new_batch_may_be_called_before_a_due_lift() -> None:
    bench = porch()
    set_tile(bench)
    bench.take(cmd.StartRound(section="bucket"))
    bench.take(cmd.ConfirmStep(section="bucket", step="mixed"))
    assert at_lift(bench) == 1


def test_lifts_of_several_tiles_wait_in_the_order_in_which_they_fell_due() -> None:
    bench = porch()
    for _ in range(5):  # the first of the run, and the lot of the fifth
        set_tile(bench)
    bench.take(cmd.AskLift(number=3))
    assert covering.waiting_lifts(area_of(bench)) == (1, 5, 3)
    for tile in (1, 5, 3):
        assert at_lift(bench) == tile
        answer_lift(bench)
        put_back(bench)
    assert [lift.tile for lift in progress_of(bench).lifts.values()] == [1, 5, 3]


def test_a_lifted_tile_that_is_not_put_back_yet_stays_an_open_point_and_holds_up_the_end() -> None:
    bench = porch()
    for _ in range(5):
        set_tile(bench)
    answer_lift(bench)
    set_tile(bench)
    assert "open-not-put-back" in codes(bench)
    code, first = refused(bench, cmd.FinishArea())
    step = area_of(bench).checklist.step("back", "back")
    assert (code, first) == ("engine-after-this", step.asked())
    put_back(bench)
    assert progress_of(bench).tiles[1].put_back == "put back"
    assert "open-not-put-back" not in codes(bench)
    assert at_lift(bench) == 5, "what follows a lift goes before the next lift"


def test_a_tile_that_waits_to_be_put_back_is_the_one_that_is_put_back_whatever_was_lifted_since() -> None:
    bench = porch()
    for _ in range(5):
        set_tile(bench)
    answer_lift(bench)  # tile 1 waits to be put back
    put_back(bench)
    answer_lift(bench, 60)  # tile 5 fails
    bench.take(cmd.ConfirmStep(section="again", step="scraped"))
    bench.take(cmd.ConfirmStep(section="again", step="again"))
    answer_lift(bench)  # and is good now; it is off, and the reach of its failure is looked for
    put_back(bench)
    assert [t.number for t in progress_of(bench).tiles.values() if t.put_back == "put back"] == [1, 5]
    assert at_lift(bench) == 4


def test_finishing_says_what_is_due_first() -> None:
    bench = porch()
    set_tile(bench)
    lifted = area_of(bench).checklist.step("lift", "lifted")
    assert refused(bench, cmd.FinishArea()) == ("engine-after-this", lifted.asked())
    bench.go_on()
    assert refused(bench, cmd.FinishArea())[0] == "engine-more-lifts"


def test_a_lift_after_a_failure_blocks_as_does_its_cure() -> None:
    bench = porch()
    for _ in range(5):
        set_tile(bench)
    answer_lift(bench)
    put_back(bench)
    answer_lift(bench, 60)
    assert refused(bench, cmd.StartRound(section="tile"))[0] == "engine-after-this"
    bench.take(cmd.ConfirmStep(section="again", step="scraped"))
    bench.take(cmd.ConfirmStep(section="again", step="again"))
    lifted = area_of(bench).checklist.step("lift", "lifted")
    assert refused(bench, cmd.StartRound(section="tile")) == ("engine-after-this", lifted.asked())
    answer_lift(bench)
    put_back(bench)
    assert area_of(bench).aimed is not None
    assert area_of(bench).aimed.came == "follow-up"  # type: ignore[union-attr]
    assert refused(bench, cmd.StartRound(section="tile")) == ("engine-after-this", lifted.asked())


def test_a_waiting_lift_of_a_tile_that_became_suspect_blocks() -> None:
    bench = porch()
    for _ in range(5):
        set_tile(bench)
    bench.take(cmd.AskLift(number=4))
    answer_lift(bench)
    put_back(bench)
    assert covering.waiting_lifts(area_of(bench)) == (5, 4)
    answer_lift(bench, 60)
    while at_lift(bench) != 4:
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    assert states(bench)[4] == "suspect"
    assert refused(bench, cmd.StartRound(section="tile"))[0] == "engine-after-this"


def test_mortar_that_is_too_old_blocks_before_what_waits() -> None:
    bench = porch()
    set_tile(bench)
    bench.clock.advance(progress_of(bench).clocks[0].minutes + 1)
    bench.take(cmd.Tick())
    assert area_of(bench).task is not None
    assert area_of(bench).task.section == "away"  # type: ignore[union-attr]
    assert refused(bench, cmd.StartRound(section="bucket"))[0] == "engine-after-this"


def wall() -> Bench:
    """A day at the shower wall, with a batch mixed: lippage is asked every 2 m2 there, which are three tiles."""
    bench = Bench.begun()
    bench.start("shower wall")
    bench.call("batch")
    return bench


def wall_tile(bench: Bench) -> Area:
    """One tile of the shower wall, and nothing that it makes due; the area then."""
    bench.take(cmd.StartRound(section="tile"))
    while at_hand(bench) == "tile":
        answer(bench)
    return bench.state.areas["shower wall"]


def at_hand(bench: Bench) -> str:
    task = bench.state.areas["shower wall"].task
    return task.section if task is not None else ""


def answer(bench: Bench) -> None:
    command = bench.next_answer()
    assert command is not None
    bench.take(command)


def test_noon_does_not_put_off_a_lift_that_waits_but_nothing_is_begun_before_the_conditions() -> None:
    bench = wall()
    wall_tile(bench)
    bench.clock.advance(6 * 60)
    bench.take(cmd.Tick())
    while at_hand(bench) == "discard-batch":
        answer(bench)
    assert at_hand(bench) == "lift"
    bench.take(cmd.StartRound(section="batch"))
    assert at_hand(bench) == "conditions"


def test_one_look_serves_all_that_was_set_while_it_waited() -> None:
    bench = wall()
    for _ in range(8):
        area = wall_tile(bench)
    assert [task.section for task in area.waiting].count("lippage") == 1
    bench.go_on()
    area = bench.state.areas["shower wall"]
    assert area.progress.since["lippage"] == 0
    assert len([r for r in area.readings.values() if r.step == "lippage"]) == 1


def test_taking_back_goes_past_what_waited() -> None:
    bench = porch()
    set_tile(bench)
    before = progress_of(bench)
    bench.take(cmd.StartRound(section="tile"))
    bench.take(cmd.Withdraw())
    assert progress_of(bench) == before
    assert covering.waiting_lifts(area_of(bench)) == (1,)
