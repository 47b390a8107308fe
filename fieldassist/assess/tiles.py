"""Test tiles: how many an area wants, and what they would prove."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fieldassist.assess.inputs import Inputs
from fieldassist.trade import sampling
from fieldassist.trade.message import Figure

__all__ = ["Wanted", "pieces", "wanted"]


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
