"""What a back comes to on its photo, as a lift's page shows it and tells the day of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fieldassist.checklist.backs import MeasuredBack
from fieldassist.checklist.moment import Source
from fieldassist.checklist.rules import Criterion
from fieldassist.trade.message import Message, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.voids import PieceCorner, PieceEdge, Reckoned, contact_as_read

OnPhotoHolds = Literal["passed", "failed", "cannot tell"]


@dataclass(frozen=True, slots=True)
class OnPhoto:
    """How it is told; contact and the ends of its interval [percent]; the largest void, and between what it lies
    [mm2]; whether corners and edges are full, and which are not where that is known."""

    source: Source
    percent: float
    low: float
    high: float
    void_mm2: float
    void_between: tuple[float, float]
    corners_full: bool
    edges_full: bool
    corners: tuple[PieceCorner, ...] = ()
    edges: tuple[PieceEdge, ...] = ()

    @property
    def interval(self) -> tuple[Quantity, Quantity]:
        """The ends, as they are told: none is told better than it is.

        >>> seen = OnPhoto(Source(how="typed"), 91.4, 87.2, 95.1, 0.0, (0.0, 0.0), True, True)
        >>> [str(end.value) for end in seen.interval]
        ['87', '96']
        """
        return (
            Quantity(contact_as_read(self.low), "percent"),
            Quantity(-contact_as_read(-self.high), "percent"),
        )

    def holds(self, criterion: Criterion | None) -> OnPhotoHolds | None:
        """Whether its contact holds: by the whole interval, as the engine judges it. None without a limit."""
        least = criterion.at_least if criterion is not None else None
        if least is None:
            return None
        return "passed" if self.low >= least else "failed" if self.high < least else "cannot tell"


def between_told(ends: tuple[Quantity, Quantity]) -> Message:
    """The ends of a figure of a photo, the unit told once."""
    low, high = ends
    return message("measuring-between", low=f"{float(low.value):g}", high=high)


def as_reckoned(
    source: Source, done: Reckoned, low: float, high: float, between: tuple[float, float] | None = None
) -> OnPhoto:
    """Of a back that lies before somebody's eyes. between: what its largest void lies [mm2], None where it is sure."""
    return OnPhoto(
        source,
        done.percent,
        low,
        high,
        done.void_mm2,
        between or (done.void_mm2, done.void_mm2),
        corners_full=not done.corners,
        edges_full=not done.edges,
        corners=done.corners,
        edges=done.edges,
    )


def as_recorded(back: MeasuredBack) -> OnPhoto:
    """Of a back that was kept."""
    return OnPhoto(
        Source(how=back.how),
        back.percent,
        back.low,
        back.high,
        back.void_mm2,
        back.void_ends,
        corners_full=back.corners_full,
        edges_full=back.edges_full,
    )
