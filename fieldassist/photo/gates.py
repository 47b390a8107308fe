"""What makes a proposal doubtful, in figures, and how large each may be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["DoubtName", "Doubts", "Gate"]

DoubtName = Literal["neither", "unlike", "apart", "ambiguous", "taps", "methods"]


@dataclass(frozen=True, slots=True)
class Doubts:
    """apart: d', how many spreads mortar and bare back lie apart; methods: points between two methods; taps: points
    between the shares with one tap left out; ambiguous: points that could be either; neither: percent of the piece that
    is like none of what was tapped; unlike: from 1 on mortar and back differ as two materials do, below only as light
    and shade do on one.
    """

    apart: float
    methods: float
    taps: float
    ambiguous: float
    neither: float
    unlike: float

    @property
    def points(self) -> float:
        """What the interval is in proportion to: 3 for what no doubt tells of, and a part of what tells of careless
        taps.

        Of such sums one of those whose interval is narrowest for the same cover, on the pictures that fix it: what two
        methods differ by stops the large errors at the gate, and tells little of the small ones; and far apart is not
        sure, where slits are blurred.
        """
        return 3.0 + self.taps / 4


@dataclass(frozen=True, slots=True)
class Gate:
    """What is let through: the least of `Doubts.apart` and `Doubts.unlike`, the most of the others."""

    apart: float
    methods: float
    taps: float
    ambiguous: float
    neither: float
    unlike: float

    def stops(self, doubts: Doubts) -> DoubtName | None:
        """The first doubt that is too large, None when a figure may be given."""
        if doubts.neither > self.neither:
            return "neither"
        if doubts.unlike < self.unlike:
            return "unlike"
        if doubts.apart < self.apart:
            return "apart"
        if doubts.ambiguous > self.ambiguous:
            return "ambiguous"
        if doubts.taps > self.taps:
            return "taps"
        return "methods" if doubts.methods > self.methods else None
