"""Test tiles: how many an area wants, what they would prove, and when the next is due."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from fieldassist.assess.inputs import Inputs
from fieldassist.checklist import covering
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.follow import why_due
from fieldassist.checklist.state import Area
from fieldassist.trade import sampling
from fieldassist.trade.message import Figure, Message, Several, Text, message, term
from fieldassist.trade.quantities import Quantity

__all__ = ["NextTile", "Wanted", "next_test_tile", "pieces", "wanted"]

# A share of a piece that rounding leaves over is no piece.
_DUST = 1e-9


def pieces(inputs: Inputs) -> int:
    """How many pieces the area takes, without joints and cuts."""
    length, breadth = inputs.piece
    return max(1, math.ceil(round(inputs.number("area") / (length * breadth / 1e6), 6)))


@dataclass(frozen=True, slots=True)
class Wanted:
    """Test tiles of an area.

    least: how many at least, and its basis; lot: pieces in the area; proof: what that many good ones prove; more: how
    many it takes to claim more.
    """

    least: int
    basis: Figure
    lot: int
    proof: sampling.LiftProof
    more: sampling.LiftsNeeded


def wanted(inputs: Inputs) -> Wanted | None:
    """What an area's test tiles come to; None where its checklist lifts none."""
    least, basis = inputs.test_tiles
    if not least or basis is None:
        return None
    lot = pieces(inputs)
    good = min(least, lot)
    return Wanted(least, basis, lot, sampling.what_lifts_prove(good, good, lot=lot), sampling.lifts_needed(lot=lot))


@dataclass(frozen=True, slots=True)
class NextTile:
    """When the next test tile of an area is due.

    after: what it follows, None where there is none to come, and then why_none says why; due: why it is due already;
    more: rounds until it is due by the area set, None where area does not count; since, every: area set since the last,
    and the area at which it is due; changes: what makes it due at once; now: tiles that are due now;
    one_in: lots decide, one tile in so many.
    """

    after: Text | None
    why_none: Message | None = None
    due: Message | None = None
    more: int | None = None
    since: Quantity | None = None
    every: Quantity | None = None
    changes: tuple[str, ...] = ()
    now: tuple[int, ...] = ()
    one_in: int | None = None

    @property
    def told(self) -> Figure:
        """The same in sentences."""
        if self.after is None:
            return self.why_none or ""
        if self.due is not None:
            return message("assess-next-due", section=self.after, why=self.due)
        if self.now:
            return message("assess-next-now", tiles=Several(tuple(map(str, self.now)), "and"), count=len(self.now))
        if self.one_in is not None:
            return message("assess-next-lot", one_in=str(self.one_in))
        parts: list[Figure] = []
        if self.more is not None and self.since is not None and self.every is not None:
            parts.append(
                message("assess-next-after", more=self.more, section=self.after, since=self.since, every=self.every)
            )
        if self.changes:
            changes = Several(tuple(message("engine-change", change=one) for one in self.changes), "or")
            parts.append(message("assess-next-change", changes=changes))
        return Several(tuple(parts), "sentences")


def next_test_tile(area: Area) -> NextTile:
    """When the next test tile of an area is due, as the day stands."""
    section = next((section for section in area.checklist.sections if section.lift is not None), None)
    if section is None or section.due is None:
        return NextTile(None, message("assess-next-none"))
    if area.progress.phase == "finished":
        return NextTile(None, message("assess-next-finished"))
    every, after = section.due, area.checklist.holder(section.due.after).title
    if every.lots is not None:
        return _by_lot(area, after)
    due = why_due(area, section)
    if due is not None:
        return NextTile(after, due=due)
    if not isinstance(every.every, Quantity):  # no lift is due by the row
        return NextTile(after, changes=every.changes)
    since = area.progress.since.get(section.id, 0.0)
    more = max(1, math.ceil((canonical(every.every) - since) / area.piece_area - _DUST))
    return NextTile(after, None, None, more, Quantity(Fraction(str(round(since, 6))), "m2"), every.every, every.changes)


def _by_lot(area: Area, after: Text) -> NextTile:
    """Where lots decide nobody knows which is next, but for what is due already and the first of a run."""
    now = tuple(sorted(covering.to_be_lifted(area)))
    if now:
        return NextTile(after, now=now)
    who = (area.setter or "", area.methods_used.index(area.method))
    if who not in area.progress.runs[area.progress.runs_before :]:
        return NextTile(after, due=term("engine-came", "first of run"))
    return NextTile(after, one_in=covering.one_in(area, area.piece_area))
