"""The clocks of an area's mortar, and how much may be combed at once at the crew's pace."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fieldassist.assess.inputs import Inputs
from fieldassist.assess.mortar import SHEET
from fieldassist.checklist.fields import canonical
from fieldassist.trade import times
from fieldassist.trade.basis import Basis
from fieldassist.trade.message import Message, message

__all__ = ["Times", "Wait", "area_times"]

What = Literal["slake", "pot-life", "open-time", "cure-to-grout", "cure-to-traffic"]


@dataclass(frozen=True, slots=True)
class Wait:
    """One of the mortar's times [min]; least_min equals greatest_min where one figure is given."""

    what: What
    least_min: float
    greatest_min: float
    basis: Basis

    @property
    def name(self) -> Message:
        """What it is called."""
        return message(f"assess-time-{self.what}")


@dataclass(frozen=True, slots=True)
class Times:
    """The mortar's times, in the order in which they come; comb: the largest area to comb at once, None where the pace
    is not known."""

    waits: tuple[Wait, ...]
    comb: times.CombArea | None

    @property
    def pieces_at_once(self) -> int:
        """Whole pieces whose mortar may be combed at once; 0 where one takes longer than the open time."""
        return 0 if self.comb is None or self.comb.pieces is None else self.comb.pieces


def area_times(inputs: Inputs) -> Times:
    """The times of an area's mortar: the data sheet's, otherwise what is usual.

    Result: `Times`. How long to wait before grout and traffic is not on the plan: the usual wait stands, and its basis
    says so.
    """
    slake = times.slake(None if inputs.slake is None else canonical(inputs.slake))
    pot_life, open_time = canonical(inputs.pot_life), canonical(inputs.open_time)
    grout, traffic = times.cure_to_grout(), times.cure_to_traffic()
    hourly = inputs.known("hourly")
    length, breadth = inputs.piece
    comb = None if hourly is None else times.comb_area(open_time, hourly, piece_area_m2=length * breadth / 1e6)
    return Times(
        (
            Wait("slake", slake.least_min, slake.greatest_min, slake.basis),
            Wait("pot-life", pot_life, pot_life, SHEET),
            Wait("open-time", open_time, open_time, SHEET),
            Wait("cure-to-grout", grout.least_min, grout.greatest_min, grout.basis),
            Wait("cure-to-traffic", traffic.least_min, traffic.greatest_min, traffic.basis),
        ),
        comb,
    )
