"""A clock that ends is heard at two and one minute, and once it ran out until somebody answers."""

from __future__ import annotations

from dataclasses import replace

from fieldassist.checklist.commands import ConfirmStep
from fieldassist.trade.message import Text, message
from fieldassist.ui.content.alarms import EVERY_S, Alarm
from fieldassist.ui.content.clocks import ClockFace, ClockRow, ExpiredClock

OPEN = ClockFace("wall", "open", Text.plain("Open time"), 7, "10:34", "10:54", 20.0, 12.0)


def at(left: float) -> ClockRow:
    return ClockRow(open=replace(OPEN, left=left))


def over(left: float) -> ClockRow:
    told = message("work-late-yes-open", time="10:54")
    face = replace(OPEN, left=left)
    return ClockRow(
        open=face,
        expired=ExpiredClock(face, told, told, told, (), ConfirmStep(section="skinned", step="scraped"), True),
    )


def test_each_of_the_last_minutes_that_warn_sounds_once() -> None:
    alarm = Alarm()
    heard = [left for left in (12.0, 5.1, 4.9, 3.0, 1.9, 1.5, 0.9, 0.2) if alarm.due(at(left), 0.0) is not None]
    assert heard == [1.9, 0.9]


def test_a_clock_that_ran_out_sounds_every_four_seconds_and_louder_until_it_is_answered() -> None:
    alarm = Alarm()
    heard = [(now, alarm.due(over(-now / 60), float(now))) for now in range(0, 90)]
    sounded = [(now, loud) for now, loud in heard if loud is not None]
    assert [now for now, _ in sounded] == list(range(0, 90, int(EVERY_S)))
    louds = [loud for _, loud in sounded]
    assert louds == sorted(louds)
    assert louds[0] < 0.5
    assert louds[-1] == 1.0
    assert alarm.due(at(12.0), 91.0) is None
