"""What cures a failed lift: the gap that its contact implies, and the ways that would fill it.

The gap is what the mortar that there was must have bridged, by conservation of volume (`coverage.gap_from_contact`):
more mortar than its mean reaches all of it by the same reckoning. That is an upper bound, so a cure is said to reach
"over 99 %" and never 100 %; the next lift shows what it did.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from fieldassist.checklist import methods
from fieldassist.checklist.commands import MethodWish
from fieldassist.checklist.plan import CombedSides, Method
from fieldassist.checklist.state import Area, LiftRecord
from fieldassist.trade import coverage
from fieldassist.trade.message import Message, message
from fieldassist.trade.quantities import Quantity

__all__ = ["ALMOST_ALL", "MOST_CURES", "Cure", "ImpliedGap", "cures", "implied_gap", "in_use", "reaches"]

MOST_CURES = 2
# The most that a reckoning promises. Ours: it is an upper bound, and no hand reaches it.
ALMOST_ALL = 99.0


@dataclass(frozen=True, slots=True)
class ImpliedGap:
    """What a lift says of the gap behind its piece.

    bed_mm: of the method with which it was set [mm]; gap_mm: mean [mm], None where the whole back or nothing of it had
    contact, which tells of no gap; contact_percent: as it was read.
    """

    bed_mm: float
    gap_mm: float | None
    contact_percent: float


@dataclass(frozen=True, slots=True)
class Cure:
    """Another method for an area, with what it would reach.

    name: the plan's, of the notch; wish: how it is asked for; bed_mm: mean, after collapse [mm]; most_mm: the mortar's
    limit [mm]; contact_percent: the most that its mortar reaches over the gap.
    """

    method: Method
    name: str
    wish: MethodWish
    bed_mm: float
    most_mm: float
    contact_percent: float


def reaches(percent: float) -> Message:
    """The most that a method reaches, in words: never all of it."""
    if percent > ALMOST_ALL:
        return message("assess-reaches-over", contact=Quantity(_whole(ALMOST_ALL), "percent"))
    return message("assess-reaches", contact=Quantity(_whole(percent), "percent"))


def implied_gap(area: Area, lift: LiftRecord, contact_percent: float) -> ImpliedGap:
    """What a lift's contact [percent] says of the gap behind its piece."""
    bed = methods.judge(area, methods.method_of(area, lift)).bed_mm
    told = 0 < contact_percent < 100 and bed > 0
    return ImpliedGap(bed, coverage.gap_from_contact(bed, contact_percent) if told else None, contact_percent)


def cures(area: Area, lift: LiftRecord, contact_percent: float) -> tuple[Cure, ...]:
    """What would fill the gap behind a failed lift, at most two, the nearest first: the plan's notches on one side and
    on both, worked as the method in use is.

    None lays less mortar than what failed, none has failed here, and each reaches what is required over the gap that
    the lift implies. What may not collapse by hand comes after what works. Nearest by bed is common practice, no
    published source.
    """
    failed = {*methods.failed_here(area), methods.method_of(area, lift)}
    gap, used = implied_gap(area, lift, contact_percent), area.method
    least = methods.ground(area).minimum_percent
    found: dict[Method, Cure] = {}
    for method, name, wish in _candidates(area):
        made = _reckoned(area, gap, method, name, wish)
        possible = methods.judge(area, method).possible
        fit = possible and made.bed_mm >= gap.bed_mm - 1e-9 and made.contact_percent >= least
        if fit and method not in failed and method != used:
            found.setdefault(method, made)

    def nearness(cure: Cure) -> tuple[bool, float, bool]:
        more = methods.changed_part(used, "sides", cure.method.sides)
        return not methods.judge(area, cure.method).works, abs(cure.bed_mm - gap.bed_mm), cure.method != more

    return tuple(sorted(found.values(), key=nearness))[:MOST_CURES]


def in_use(area: Area, lift: LiftRecord, contact_percent: float) -> Cure | None:
    """The method in use, with what it would reach, where it is another than that of a failed lift; None where not."""
    if area.method == methods.method_of(area, lift):
        return None
    gap = implied_gap(area, lift, contact_percent)
    return _reckoned(area, gap, area.method, methods.name_of(area, area.method), MethodWish())


def _reckoned(area: Area, gap: ImpliedGap, method: Method, name: str, wish: MethodWish) -> Cure:
    judged = methods.judge(area, method)
    reached = judged.contact_percent if gap.gap_mm is None else coverage.greatest_contact(judged.bed_mm, gap.gap_mm)
    return Cure(method, name, wish, judged.bed_mm, methods.ground(area).limits.maximum_mm, reached)


def _candidates(area: Area) -> list[tuple[Method, str, MethodWish]]:
    """Every notch of the plan combed on one side and on both, and the one in use, with how each is asked for."""
    used: list[tuple[Method, str, MethodWish]] = []
    for sides in get_args(CombedSides):
        own = methods.changed_part(area.method, "sides", sides)
        used.append((own, methods.name_of(area, area.method), MethodWish(sides=sides)))
        for name, planned in area.named_methods.items():
            notch = {field: getattr(planned, field) for field in methods.NOTCH}
            whole = area.method.model_copy(update={**notch, "sides": sides})
            used.append((whole, name, MethodWish(notch=name, sides=sides)))
    return used


def _whole(percent: float) -> Fraction:
    """Rounded down, so that no contact is promised that the reckoning does not give."""
    return Fraction(int(percent + 1e-9))
