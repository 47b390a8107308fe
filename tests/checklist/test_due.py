"""What is due waits for the end of a row or spread and blocks nothing; what must not wait blocks, and says so."""

from __future__ import annotations

from fractions import Fraction

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import covering, follow
from fieldassist.checklist import events as ev
from fieldassist.checklist.contradictions import surface_set
from fieldassist.checklist.engine import Refusal
from fieldassist.checklist.fold import fold
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.state import Area, Progress
from tests.checklist.days import Bench, site
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
    assert bench.prompt.ask == area_of(bench).step.ask  # type: ignore[union-attr]
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


def wall(rows: int = 0, thickness: str = "10 mm") -> Bench:
    """A day at the shower wall, with a batch mixed. Lippage is asked once a row of two tiles is full; without a grid
    every 2 m2, which are three tiles."""
    given = site("metric").model_dump(mode="json")
    for area in given["areas"]:
        if area["name"] == "shower wall":
            area["piece"]["thickness"] = thickness
            area["grid"] = {"rows": rows, "columns": 2} if rows else None
    bench = Bench.begun(plan=DayPlan.model_validate(given))
    bench.start("shower wall")
    bench.call("batch")
    return bench


def wall_tile(bench: Bench) -> Area:
    """One tile of the shower wall, and nothing that it makes due; the area then."""
    bench.take(cmd.StartRound(section="tile"))
    while at_hand(bench) == "tile":
        answer(bench)
    return bench.state.areas["shower wall"]


def waits_for(bench: Bench) -> list[str]:
    """The due sections that wait, in their order."""
    return [task.section for task in bench.state.areas["shower wall"].waiting]


def lippage(value: int = 1) -> cmd.GiveReading:
    return cmd.GiveReading(section="lippage", step="lippage", value=Fraction(value), unit="mm")


def back_keyed() -> cmd.ConfirmStep:
    return cmd.ConfirmStep(section="tile", step="back")


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


# --- by the row, and by exception -----------------------------------------------------------------------------------


def test_lippage_is_due_once_a_row_of_the_grid_is_full() -> None:
    bench = wall(rows=3)
    wall_tile(bench)
    assert "lippage" not in waits_for(bench)
    wall_tile(bench)
    assert waits_for(bench) == ["lift", "lippage"]
    bench.go_on()
    wall_tile(bench)
    assert "lippage" not in waits_for(bench)


def test_a_row_is_full_only_once_each_of_its_places_is_set_in_whatever_order() -> None:
    bench = wall(rows=2)
    for piece in (1, 3):
        bench.take(cmd.StartRound(section="tile", piece=piece))
        while at_hand(bench) == "tile":
            answer(bench)
        assert "lippage" not in waits_for(bench)
    bench.take(cmd.StartRound(section="tile", piece=4))
    while at_hand(bench) == "tile":
        answer(bench)
    assert "lippage" in waits_for(bench)


def test_a_row_that_is_full_in_the_middle_of_tiles_counted_together_is_seen() -> None:
    bench = wall(rows=3)
    wall_tile(bench)
    bench.go_on()
    bench.take(cmd.SpreadMortar(section="tile", tiles=2))
    bench.clock.advance(5)
    bench.take(cmd.TilesIn(section="tile", tiles=2))
    assert [tile.place.row for tile in progress_at_wall(bench).tiles.values()] == [1, 1, 2]
    assert "lippage" in waits_for(bench)


def test_the_row_that_was_begun_is_looked_at_when_the_area_ends() -> None:
    bench = wall(rows=3)
    for _ in range(3):
        wall_tile(bench)
        bench.go_on()
    area = bench.state.areas["shower wall"]
    assert [section.id for section in follow.rows_left(area)] == ["lippage"]
    for number in (2, 3):
        bench.do(cmd.AskLift(number=number))
        bench.go_on()
    point = surface_set(bench.state.areas["shower wall"])
    assert point is not None
    bench.take(cmd.FinishArea())
    bench.speak("edwin")
    bench.take(cmd.AnswerPoint(point=point.id, ready="fewer pieces"))
    bench.speak("rosa")
    bench.take(cmd.FinishArea())
    looked = []
    while at_hand(bench):
        looked.append(at_hand(bench))
        answer(bench)
    area = bench.state.areas["shower wall"]
    assert area.progress.phase == "finished"
    assert looked.index("conditions") < looked.index("lippage") < looked.index("closing")


def test_lippage_is_looked_at_in_the_middle_of_a_tile_and_the_tile_goes_on() -> None:
    bench = wall()
    wall_tile(bench)
    bench.go_on()
    bench.take(cmd.StartRound(section="tile"))
    bench.take(back_keyed())
    step = bench.state.areas["shower wall"].step
    bench.take(lippage())
    bench.take(cmd.Keep())
    area = bench.state.areas["shower wall"]
    assert area.step == step
    assert [r.step for r in area.readings.values()].count("lippage") == 1
    assert area.progress.since["lippage"] == 0


def test_a_look_at_any_time_serves_the_one_that_waits() -> None:
    bench = wall(rows=3)
    wall_tile(bench)
    wall_tile(bench)
    bench.take(cmd.StartRound(section="tile"))
    assert "lippage" in waits_for(bench)
    bench.take(lippage())
    bench.take(cmd.Keep())
    assert waits_for(bench) == ["lift"]


def test_a_look_that_was_misheard_goes_with_the_no() -> None:
    bench = wall()
    wall_tile(bench)
    bench.go_on()
    bench.take(cmd.StartRound(section="tile"))
    before = progress_at_wall(bench)
    bench.take(lippage())
    bench.take(cmd.Withdraw())
    assert progress_at_wall(bench) == before


def progress_at_wall(bench: Bench) -> Progress:
    return bench.state.areas["shower wall"].progress


def test_nothing_is_looked_at_before_anything_is_set() -> None:
    bench = wall()
    assert refused(bench, lippage())[0] == "engine-belongs-elsewhere"


# --- what an answer brings about by itself --------------------------------------------------------------------------


def test_the_first_answer_of_a_tile_opens_it_and_is_taken_back_with_it() -> None:
    bench = wall()
    before = progress_at_wall(bench)
    offered = [o for o in bench.prompt.offers if o.command == back_keyed()]
    assert [o.now for o in offered] == [True]
    bench.take(back_keyed())
    area = bench.state.areas["shower wall"]
    assert area.task is not None
    assert (area.task.section, area.task.step) == ("tile", "spread")
    bench.take(cmd.Withdraw())
    assert progress_at_wall(bench) == before


def test_the_first_answer_of_a_tile_opens_it_before_a_lift_that_waits() -> None:
    bench = wall()
    wall_tile(bench)
    assert at_hand(bench) == "lift"
    bench.take(back_keyed())
    assert at_hand(bench) == "tile"


def test_an_answer_opens_no_tile_without_a_batch() -> None:
    bench = Bench.begun()
    bench.start("shower wall")
    assert refused(bench, back_keyed())[0] == "engine-belongs-elsewhere"


def test_an_answer_opens_no_tile_before_a_caution_that_nobody_has_heard() -> None:
    """A piece of 33 kg: the caution stands before its tile."""
    bench = wall(thickness="20 mm")
    assert refused(bench, back_keyed())[0] == "engine-belongs-elsewhere"
    assert not any(o.now for o in bench.prompt.offers if o.command == back_keyed())
    bench.take(cmd.StartRound(section="tile"))
    assert [one.caution.id for one in bench.waiting_cautions] == ["heavy-piece"]


def test_only_the_first_step_of_a_section_that_sets_a_tile_opens_it() -> None:
    bench = wall()
    assert refused(bench, cmd.ConfirmStep(section="tile", step="beat-in"))[0] == "engine-belongs-elsewhere"
    bags = cmd.GiveReading(section="batch", step="bags", value=Fraction(1), unit="count")
    assert refused(bench, bags)[0] == "engine-belongs-elsewhere"


def test_an_answer_behind_a_photo_goes_on_without_it() -> None:
    bench = wall()
    wall_tile(bench)
    bench.take(cmd.ConfirmLift(section="lift", step="lifted"))
    coverage = cmd.GiveReading(section="lift", step="coverage", value=Fraction(97), unit="percent")
    bench.take(coverage)
    left = [e.body for e in bench.events if isinstance(e.body, ev.PhotoLeftOut)]
    assert [(body.step, body.why) for body in left] == [("lift-photo", "went on")]
    bench.take(cmd.Keep())
    assert fold(bench.events) == bench.state


def test_a_photo_that_is_wanted_is_not_gone_past() -> None:
    bench = Bench.begun()
    bench.take(cmd.SpeakAs(name="nour"))
    bench.take(cmd.StartArea(area="attic"))
    agreed = cmd.ReleaseHold(section="before", step="owner-agrees")
    assert refused(bench, agreed)[0] == "engine-comes-later"


def test_a_photo_is_left_out_only_by_the_step_right_behind_it() -> None:
    bench = wall()
    wall_tile(bench)
    bench.take(cmd.ConfirmLift(section="lift", step="lifted"))
    assert refused(bench, cmd.Choose(section="lift", step="corners", option="full"))[0] == "engine-comes-later"
