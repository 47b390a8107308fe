"""The clocks as they are drawn, and what is asked once one is over."""

from __future__ import annotations

from dataclasses import replace

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.language import Words
from fieldassist.ui.content.clocks import ClockRow, clock_row, expired
from fieldassist.ui.content.work_page import work_page
from tests.conftest import Crew


def row(crew: Crew) -> ClockRow:
    return clock_row(crew.day.state, crew.clock.now())


def combed(crew: Crew) -> None:
    """A piece is combed: its open time and the pot run."""
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed")


def test_a_clock_tells_minutes_then_seconds_and_when_it_ends_by_the_wall_clock(crew: Crew) -> None:
    combed(crew)
    clock = row(crew).open
    assert clock is not None
    # The plan's mortar: 20 minutes of open time, from spreading, a quarter of a minute before the comb was called.
    assert (clock.total, clock.told, clock.standing, clock.minutes_gone) == (20, "19", "running", 0)
    began, ends = (int(t[:2]) * 60 + int(t[3:]) for t in (clock.begun, clock.ends))
    assert ends - began == 20
    crew.clock.advance(15)
    clock = row(crew).open
    assert clock is not None
    assert (clock.told, clock.standing, clock.minutes_gone) == ("4:45", "warning", 15)
    assert row(crew).pot is not None
    assert row(crew).pot.kind == "pot"
    assert row(crew).pot.bucket == "1"


def test_a_clock_that_ran_out_counts_up_and_asks_until_it_is_answered(crew: Crew) -> None:
    combed(crew)
    crew.clock.advance(22)
    crew.day.tick()
    shown = row(crew)
    assert shown.expired is not None
    assert shown.open is shown.expired.face, "it stays in its field"
    assert (shown.open.told, shown.open.standing) == ("+2:15", "over")
    assert shown.expired.at_hand
    assert shown.expired.question.figures["piece"] == "1"
    assert Words()(shown.expired.yes) == f"Yes, set before {shown.open.ends}"
    assert [command.clock for _, command in shown.expired.late] == ["open-time"] * 4
    crew.clock.advance(30)
    crew.day.tick()
    later = row(crew)
    assert later.expired is not None
    assert later.expired.face.told == "+32:15"
    assert crew.day.do(shown.expired.late[0][1]).taken
    assert row(crew).expired is None
    assert [called.clock for called in crew.events(ev.CalledLate)] == ["open-time"]


def test_no_is_the_answer_to_its_cure(crew: Crew) -> None:
    combed(crew)
    crew.clock.advance(22)
    crew.day.tick()
    asked = expired(crew.day.state, crew.clock.now())
    assert asked is not None
    assert asked.over == cmd.ConfirmStep(section="scrape-off", step="skinned-off")
    assert crew.day.do(asked.over).taken
    assert expired(crew.day.state, crew.clock.now()) is None


def test_a_pot_that_ran_out_while_a_piece_hangs_can_be_answered_once_the_piece_is_in(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.clock.advance(72)
    crew.say("next tile", "back keyed", "spread")
    crew.clock.advance(12)
    crew.day.tick()
    asked = row(crew).expired
    assert asked is not None
    assert (asked.face.kind, asked.face.bucket, asked.at_hand) == ("pot", "1", False)
    crew.say("mortar combed", "tile set", "slid half an inch!", "beaten in")
    asked = row(crew).expired
    assert asked is not None
    assert asked.at_hand


def test_after_a_break_the_cautions_that_come_again_are_answered_before_a_clock_that_ran_out_in_it(crew: Crew) -> None:
    combed(crew)
    crew.clock.advance(100)
    crew.day.tick()

    def shape() -> str:
        day = crew.day
        return work_page(day.state, day.prompt, crew.clock.now()).shape

    asked = row(crew).expired
    assert asked is not None
    assert not crew.day.do(asked.over).taken
    assert shape() == "caution"
    while crew.day.prompt.caution is not None:
        crew.say("understood")
    assert shape() == "expired"
    assert crew.day.do(asked.over).taken


def test_what_must_be_waited_for_counts_down_and_never_warns(crew: Crew) -> None:
    crew.open_shower()
    crew.say("new batch")
    if crew.day.prompt.caution:
        crew.say("understood")
    crew.say("one bag!", "lot b seven!", "water five liters!", "batch mixed")
    crew.clock.advance(3)
    wait = row(crew).wait
    assert wait is not None
    # The plan's mortar slakes for 7 minutes: four are left, and so many are shown until they are over.
    assert (wait.told, wait.standing) == ("4", "running")
    crew.clock.advance(5)
    wait = row(crew).wait
    assert wait is not None
    assert wait.standing == "over"


def test_a_signed_day_has_no_clock(crew: Crew) -> None:
    combed(crew)
    assert clock_row(replace(crew.day.state, closed=True), crew.clock.now()) == ClockRow()
