"""Events as lines of a list: codes and figures."""

from __future__ import annotations

import pytest

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.moment import CLOCK, Moment
from fieldassist.trade.message import Read

AT = Moment(wall="2026-03-17T07:00:00+01:00", mono=1.0, boot="b")


@pytest.mark.parametrize(("seconds", "minutes"), [(-5400.0, -90), (90.0, 1.5)])
def test_a_clock_that_was_set_is_told_in_minutes(seconds: float, minutes: float) -> None:
    event = Event(seq=1, id="c.0", at=AT, by="clock", source=CLOCK, body=ev.ClockJumped(seconds=seconds))
    told = Listing().line(event)
    assert told.code == "events-clock-jumped"
    (figure,) = told.figures.values()
    assert isinstance(figure, Read)
    assert (float(figure.quantity.value), figure.quantity.unit) == (minutes, "min")
