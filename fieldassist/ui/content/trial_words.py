"""A trial's combinations in few words, for rows and keys: the notch, and how it is worked."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Literal, TypeAlias, get_args

from fieldassist.checklist.plan import Combination, Trowel
from fieldassist.checklist.rules import notch_of
from fieldassist.trade.message import Figure, Message, Several, message, term
from fieldassist.ui.content.failed_lift import sides_told, tool_size, trowel_told

# The parts of a combination beside its notch, in the order in which they are told.
WayPart: TypeAlias = Literal["sides", "back", "movement", "seating", "mortar"]
WAY_PARTS: tuple[WayPart, ...] = get_args(WayPart)


def varying(combinations: Sequence[Combination]) -> frozenset[WayPart]:
    """The parts in which the combinations of a trial differ; how far and how long belongs to movement and seating."""
    return frozenset(part for part in WAY_PARTS if len({_value(one, part) for one in combinations}) > 1)


def _value(one: Combination, part: WayPart) -> tuple[object, ...]:
    beside = {"movement": one.slide, "seating": one.seconds}.get(part)
    return getattr(one, part), beside


def notch_told(one: Trowel, others: Sequence[Trowel] = ()) -> Message:
    """A combination's notch: with its tooth where another of the trial differs in that alone."""
    told, notch = trowel_told(one), notch_of(one)
    alike = [notch_of(other) for other in others if trowel_told(other) == told]
    if all(other.spacing_mm == notch.spacing_mm for other in alike):
        return told
    return message("mockup-notch-tooth", notch=told, tooth=tool_size(notch.spacing_mm))


def value_told(part: WayPart, value: str) -> Message:
    """One value of a part."""
    if part == "mortar":
        return message("mockup-mortar", mortar=value) if value else message("mockup-own-mortar")
    return sides_told(value) if part == "sides" else term(f"mockup-{part}", value)


def part_told(one: Combination, part: WayPart) -> Figure:
    """One part of how a combination is worked."""
    told = value_told(part, str(getattr(one, part)))
    beside = {"movement": one.slide, "seating": one.seconds}.get(part)
    return told if beside is None else message("mockup-part-for", part=told, value=beside)


def way_told(one: Combination, parts: Collection[WayPart]) -> Figure:
    """How a combination is worked, in the parts in which it differs from others; in its sides where in none."""
    told = tuple(part_told(one, part) for part in WAY_PARTS if part in parts)
    return Several(told or (part_told(one, "sides"),))


def whole_way_told(one: Combination) -> Figure:
    """All of how a combination is worked."""
    return way_told(one, [part for part in WAY_PARTS if part != "mortar" or one.mortar])
