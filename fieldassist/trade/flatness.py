"""Flatness of the base, lippage, joint widths, offset and movement joints: the limits and their verdicts.

American limits follow ANSI A108.02 and the TCNA Handbook's EJ171, British ones BS 5385 and BS 8204, German
ones DIN 18202. Limits are computed from the inch figures of the American texts; the metric figures printed
beside them are rounded ("3 mm in 3 m").
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.checks import HAIR, measured, not_negative, one_of, positive
from fieldassist.trade.coverage import Product
from fieldassist.trade.limits import exactly, keeps_to
from fieldassist.trade.message import Compared, Figure, Message, Refused, message
from fieldassist.trade.verdict import Outcome, outcome_of

__all__ = [
    "DIN_18202_ROWS",
    "DinRow",
    "FlatnessLimit",
    "FlatnessStandard",
    "Layout",
    "LengthLimit",
    "LengthVerdict",
    "MovementSetting",
    "OffsetLimit",
    "SpacingLimit",
    "din_18202_limit",
    "joint_verdict",
    "least_joint",
    "least_joint_bs_5385",
    "lippage_allowance",
    "lippage_verdict",
    "movement_joint_layout",
    "movement_joint_spacing",
    "movement_joint_verdict",
    "movement_joint_width",
    "offset_limit",
    "offset_verdict",
    "substrate_limit",
    "substrate_verdict",
]

DinRow = Literal[2, 3, 4, 6, 7]
FlatnessStandard = Literal[
    "A108.02",
    "BS 5385",
    "BS 8204 SR1",
    "BS 8204 SR2",
    "BS 8204 SR3",
    "DIN 18202 row 2",
    "DIN 18202 row 3",
    "DIN 18202 row 4",
    "DIN 18202 row 6",
    "DIN 18202 row 7",
]
MovementSetting = Literal[
    "interior", "interior in sun or moisture", "exterior", "above-ground slab", "exterior BS 5385"
]

INCH = 25.4
FOOT = 304.8
TWELVE_FEET = 3657.6
# The edge from which A108.02 asks for the flatter base. Not the glossary's "large format" (23 in), nor BS 5385's.
LARGE_EDGE_MM = 15 * INCH


@dataclass(frozen=True, slots=True)
class LengthLimit:
    """A length that must not be exceeded, or must be reached: mm [mm] and the source."""

    mm: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class FlatnessLimit:
    """The greatest gap under a straightedge: gap_mm over over_mm, and short_gap_mm over short_over_mm [mm].

    Both must hold. The short pair is None where the standard gives one span only.
    """

    gap_mm: float
    over_mm: float
    short_gap_mm: float | None
    short_over_mm: float | None
    basis: Basis


@dataclass(frozen=True, slots=True)
class OffsetLimit:
    """The greatest offset of a running bond: mm [mm] and as a share of the offset side; None where none is set."""

    mm: float | None
    share: Fraction | None
    basis: Basis


@dataclass(frozen=True, slots=True)
class SpacingLimit:
    """Distance between movement joints: the range to choose from [mm]; greatest_mm is the limit."""

    least_mm: float | None
    greatest_mm: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class Layout:
    """Movement joints between two ends: how many, and the length of each bay [mm]."""

    joints: int
    bay_mm: float


@dataclass(frozen=True, slots=True)
class LengthVerdict:
    """Whether a reading holds; reasons say what failed, unread what was asked for and not measured."""

    outcome: Outcome
    reasons: tuple[Message, ...]
    basis: Basis
    unread: tuple[Message, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether all that was asked for was measured and holds."""
        return self.outcome == "passed"


def _verdict(reasons: list[Message], basis: Basis, unread: tuple[Message, ...] = ()) -> LengthVerdict:
    return LengthVerdict(outcome_of(failed=bool(reasons), complete=not unread), tuple(reasons), basis, unread)


# DIN 18202 table 3: greatest gap [mm] at a distance of the measuring points [mm].
_DIN_SPANS_MM = (100.0, 1000.0, 4000.0, 10000.0, 15000.0)
DIN_18202_ROWS: dict[DinRow, tuple[float, ...]] = {
    2: (5.0, 8.0, 12.0, 15.0, 20.0),
    3: (2.0, 4.0, 10.0, 12.0, 15.0),
    4: (1.0, 3.0, 9.0, 12.0, 15.0),
    6: (3.0, 5.0, 10.0, 20.0, 25.0),
    7: (2.0, 3.0, 8.0, 15.0, 20.0),
}
_BS_8204_GAPS = {"BS 8204 SR1": 3.0, "BS 8204 SR2": 5.0, "BS 8204 SR3": 10.0}


def _reaches(value: float, limit: float) -> bool:
    return keeps_to(value, limit, "at least")


def _exceeds(value: float, limit: float) -> bool:
    return not keeps_to(value, limit, "at most")


def _over(code: str, read: float, limit: float, **figures: Figure) -> Message:
    """A length over its limit."""
    return message(code, pair=Compared(exactly(read, "mm"), exactly(limit, "mm"), "at most", computed=True), **figures)


def _under(code: str, read: float, limit: float) -> Message:
    """A length under its limit."""
    return message(code, pair=Compared(exactly(read, "mm"), exactly(limit, "mm"), "at least", computed=True))


def din_18202_limit(row: DinRow, span_mm: float, *, rounded: bool = True) -> LengthLimit:
    """The greatest gap of DIN 18202 table 3 between two points at any distance.

    Straight line between the columns, t = t1 + (t2 - t1) (l - l1) / (l2 - l1), then to whole mm, half up.

    | row | 0.1 m | 1 m | 4 m | 10 m | 15 m | for |
    |---|---|---|---|---|---|---|
    | 2 | 5 | 8 | 12 | 15 | 20 | base for tile or screed |
    | 3 | 2 | 4 | 10 | 12 | 15 | finished floor |
    | 4 | 1 | 3 | 9 | 12 | 15 | finished floor, stricter |
    | 6 | 3 | 5 | 10 | 20 | 25 | finished wall |
    | 7 | 2 | 3 | 8 | 15 | 20 | finished wall, stricter |

    Parameters: row, 2, 3, 4, 6 or 7; span_mm, distance of the measuring points [mm]; rounded to whole mm or
    not.
    Result: `LengthLimit` [mm]. Limits: 100 to 15 000 mm.
    Errors: `OutOfRange` beyond these, `Refused` for another row.

    >>> din_18202_limit(2, 2000).mm, din_18202_limit(3, 2000).mm
    (9.0, 6.0)
    >>> round(din_18202_limit(2, 2000, rounded=False).mm, 2)
    9.33

    References: DIN 18202 table 3, as printed alike in several trade sources (one prints 2 in place of 3 for
    row 4 at 1 m); the values at 2 m agree with the extended table of a trade handbook.
    """
    one_of("row-of-din-18202", row, get_args(DinRow))
    positive("distance-of-the-measuring-points", span_mm, "mm")
    first, last = _DIN_SPANS_MM[0], _DIN_SPANS_MM[-1]
    if not first <= span_mm <= last:
        raise OutOfRange(message("flatness-din-span-outside", span=measured(span_mm / 1000, "m")))
    values = DIN_18202_ROWS[row]
    column = max(1, next(i for i, distance in enumerate(_DIN_SPANS_MM) if span_mm <= distance))
    low, high = _DIN_SPANS_MM[column - 1], _DIN_SPANS_MM[column]
    share = (span_mm - low) / (high - low)
    gap = values[column - 1] + (values[column] - values[column - 1]) * share
    if rounded:
        gap = float(math.floor(gap + 0.5 + HAIR))
    return LengthLimit(gap, BASES[f"din-18202-row-{row}"])


def substrate_limit(
    standard: FlatnessStandard,
    longest_edge_mm: float | None,
    product: Product = "tile",
    *,
    span_mm: float = 2000.0,
) -> FlatnessLimit:
    """The greatest gap under the straightedge on the base, before tile.

    | standard | gap | over | and | over |
    |---|---|---|---|---|
    | A108.02, an edge of 15 in or more | 1/8 in | 10 ft | 1/16 in | 24 in |
    | A108.02, every edge under 15 in | 1/4 in | 10 ft | 1/16 in | 12 in |
    | A108.02 and gauged panel (A108.19, from memory) | 1/8 in | 10 ft | 1/16 in | 24 in |
    | BS 5385 | 3 mm | 2 m | | |
    | BS 8204 SR1, SR2, SR3 | 3, 5, 10 mm | 2 m | | |
    | DIN 18202 rows | see `din_18202_limit` | span_mm | at 1 m | 1 m |

    Parameters: standard; longest_edge_mm of the piece [mm] (A108.02 alone looks at it; None takes the
    stricter limit); product; span_mm, the straightedge used, for DIN 18202 only [mm].
    Result: `FlatnessLimit` [mm].
    Errors: `Refused` for another standard or product, or an edge that is not above zero; `OutOfRange` from
    `din_18202_limit`.

    >>> limit = substrate_limit("A108.02", 600)
    >>> limit.gap_mm, limit.over_mm, limit.short_gap_mm, limit.short_over_mm
    (3.175, 3048.0, 1.5875, 609.6)
    >>> substrate_limit("DIN 18202 row 2", None).gap_mm
    9.0

    References: ANSI A108.02 §4.2.2; ANSI A108.19; BS 5385-3; BS 8204-1 and -2; DIN 18202 table 3. None was
    read in the bought standard.
    """
    one_of("flatness-standard", standard, get_args(FlatnessStandard))
    one_of("product", product, get_args(Product))
    if longest_edge_mm is not None:
        positive("longest-edge", longest_edge_mm, "mm")
    if standard == "BS 5385":
        return FlatnessLimit(3.0, 2000.0, None, None, BASES["base-bs-5385"])
    if standard in _BS_8204_GAPS:
        return FlatnessLimit(_BS_8204_GAPS[standard], 2000.0, None, None, BASES["base-bs-8204"])
    if standard != "A108.02":
        row: DinRow = next(row for row in DIN_18202_ROWS if standard.endswith(str(row)))
        limit = din_18202_limit(row, span_mm)
        if span_mm <= 1000.0:
            return FlatnessLimit(limit.mm, span_mm, None, None, limit.basis)
        return FlatnessLimit(limit.mm, span_mm, din_18202_limit(row, 1000.0).mm, 1000.0, limit.basis)
    if product == "tile" and longest_edge_mm is not None and not _reaches(longest_edge_mm, LARGE_EDGE_MM):
        return FlatnessLimit(INCH / 4, 10 * FOOT, INCH / 16, FOOT, BASES["base-small-tile"])
    if product == "gauged panel":
        basis = BASES["base-panel"]
    elif product == "natural stone":
        # Stone is left out of most figures for tile, so it gets the stricter row whatever its size.
        basis = BASES["base-stone"]
    else:
        basis = BASES["base-unknown-edge" if longest_edge_mm is None else "base"]
    return FlatnessLimit(INCH / 8, 10 * FOOT, INCH / 16, 2 * FOOT, basis)


def substrate_verdict(
    gap_mm: float,
    limit: FlatnessLimit,
    short_gap_mm: float | None = None,
) -> LengthVerdict:
    """Judge the worst gaps found under the straightedge; exactly at the limit passes.

    Parameters: gap_mm, worst gap over limit.over_mm [mm]; limit; short_gap_mm, worst gap over
    limit.short_over_mm [mm], named in `unread` when the limit asks for it and it was not taken, and then the
    verdict is not complete.
    Errors: `Refused` for a gap below zero.

    >>> limit = substrate_limit("A108.02", 600)
    >>> substrate_verdict(3.175, limit, 1.5).outcome, substrate_verdict(3.175, limit).outcome
    ('passed', 'not complete')
    >>> [reason.code for reason in substrate_verdict(4.0, limit, 1.5).reasons]
    ['flatness-gap-too-large']

    References: see `substrate_limit`.
    """
    pairs: list[tuple[float | None, float, float]] = [(gap_mm, limit.gap_mm, limit.over_mm)]
    if limit.short_gap_mm is not None and limit.short_over_mm is not None:
        pairs.append((short_gap_mm, limit.short_gap_mm, limit.short_over_mm))
    reasons: list[Message] = []
    unread: list[Message] = []
    for reading, allowed, over in pairs:
        length = exactly(over, "mm")
        if reading is None:
            unread.append(message("flatness-unread-gap", over=length))
            continue
        not_negative("gap", reading, "mm")
        if _exceeds(reading, allowed):
            reasons.append(_over("flatness-gap-too-large", reading, allowed, over=length))
    return _verdict(reasons, limit.basis, tuple(unread))


def lippage_allowance(joint_mm: float, warpage_mm: float = 0.0) -> LengthLimit:
    """The greatest step between neighbouring edges.

    | joint | allowance |
    |---|---|
    | 1/16 in to under 1/4 in | 1/32 in + w |
    | 1/4 in and wider | 1/16 in + w |

    w is the warpage the tile itself has within its product standard.

    Parameters: joint_mm, actual joint width [mm]; warpage_mm [mm], at least 0. Result: `LengthLimit` [mm].
    Errors: `OutOfRange` for a joint under 1/16 in (1.5875 mm); `Refused` for a figure that is no length.

    >>> lippage_allowance(3.175).mm, lippage_allowance(6.35, 0.5).mm
    (0.79375, 2.0875)

    References: ANSI A108.02 §4.3.7 (2013).
    """
    positive("joint", joint_mm, "mm")
    not_negative("warpage", warpage_mm, "mm")
    if not _reaches(joint_mm, INCH / 16):
        raise OutOfRange(_under("flatness-joint-without-lippage", joint_mm, INCH / 16))
    step = INCH / 16 if _reaches(joint_mm, INCH / 4) else INCH / 32
    return LengthLimit(step + warpage_mm, BASES["lippage"])


def lippage_verdict(lippage_mm: float, joint_mm: float, warpage_mm: float = 0.0) -> LengthVerdict:
    """Judge a measured step between neighbouring edges; exactly at the allowance passes.

    Parameters: lippage_mm, joint_mm, warpage_mm [mm].
    Errors: those of `lippage_allowance`.

    >>> lippage_verdict(0.79375, 3.175).passed, lippage_verdict(1.0, 3.175).passed
    (True, False)

    References: ANSI A108.02 §4.3.7 (2013).
    """
    not_negative("step", lippage_mm, "mm")
    limit = lippage_allowance(joint_mm, warpage_mm)
    if not _exceeds(lippage_mm, limit.mm):
        return _verdict([], limit.basis)
    return _verdict([_over("flatness-step-too-large", lippage_mm, limit.mm)], limit.basis)


def least_joint(
    facial_variation_mm: float,
    longest_edge_mm: float | None = None,
    *,
    running_bond: bool = False,
    edge: Literal["rectified", "calibrated"] = "calibrated",
    warpage_mm: float = 0.0,
) -> LengthLimit:
    """The narrowest joint that the tile allows.

    b = max(3 v, 1/16 in), and for a running bond with a side over 15 in also b >= 1/8 in (rectified) or 3/16
    in (calibrated) + w.

    Parameters: facial_variation_mm, v: actual difference between the largest and the smallest face [mm], at
    least 0; longest_edge_mm [mm], needed for a running bond; running_bond; edge, how it was made; warpage_mm,
    w along the longest edge [mm], at least 0.
    Result: `LengthLimit` [mm], the basis of the rule that governs.
    Errors: `Refused` for a running bond without edge, or figures below zero.

    >>> least_joint(1.0).mm
    3.0
    >>> least_joint(0.5, 610, running_bond=True, edge="rectified", warpage_mm=25.4 / 32).mm * 32 / 25.4
    5.0

    References: ANSI A108.02 §4.3.8 and §4.3.8.1; a published case has 1/8 in + 1/32 in = 5/32 in.
    """
    not_negative("facial-variation", facial_variation_mm, "mm")
    not_negative("warpage", warpage_mm, "mm")
    one_of("kind-of-edge", edge, ("rectified", "calibrated"))
    if longest_edge_mm is not None:
        positive("longest-edge", longest_edge_mm, "mm")
    limit = LengthLimit(max(3 * facial_variation_mm, INCH / 16), BASES["joint"])
    if not running_bond:
        return limit
    if longest_edge_mm is None:
        raise Refused(message("flatness-bond-without-edge"))
    if _exceeds(longest_edge_mm, LARGE_EDGE_MM):
        bond = (INCH / 8 if edge == "rectified" else 3 * INCH / 16) + warpage_mm
        if bond > limit.mm:
            return LengthLimit(bond, BASES["bond-joint"])
    return limit


def least_joint_bs_5385(length_mm: float, width_mm: float) -> LengthLimit:
    """The narrowest joint by face size under the British code.

    | face | joint |
    |---|---|
    | under 0.1 m2, no side over 600 mm | 2 mm |
    | up to 1 m2, no side over 1200 mm | 3 mm |
    | larger, no side over 3 m | 5 mm |

    The note that the figures come from gives the last one for a panel of 3 m; it is used for all between.

    Parameters: length_mm, width_mm [mm]. Result: `LengthLimit` [mm].
    Errors: `OutOfRange` for a side over 3 m; `Refused` for no length.

    >>> [least_joint_bs_5385(*size).mm for size in ((300, 300), (600, 1200), (1000, 3000))]
    [2.0, 3.0, 5.0]

    References: BS 5385-1 (2018 revision), as reported in a firm's note.
    """
    positive("side-of-a-tile", length_mm, "mm")
    positive("side-of-a-tile", width_mm, "mm")
    area, side = length_mm * width_mm / 1e6, max(length_mm, width_mm)
    if side > 3000:
        raise OutOfRange(message("flatness-side-over-british-figures", side=measured(side, "mm")))
    if area < 0.1 and side <= 600:
        return LengthLimit(2.0, BASES["joint-bs-5385"])
    if area <= 1.0 and side <= 1200:
        return LengthLimit(3.0, BASES["joint-bs-5385"])
    return LengthLimit(5.0, BASES["joint-bs-5385"])


def joint_verdict(joint_mm: float, least: LengthLimit) -> LengthVerdict:
    """Judge a joint against the narrowest allowed; exactly at it passes.

    Parameters: joint_mm [mm]; least, from `least_joint` or `least_joint_bs_5385`.
    Errors: `Refused` for a joint below zero.

    >>> joint_verdict(3.0, least_joint(1.0)).passed, joint_verdict(2.0, least_joint(1.0)).passed
    (True, False)

    References: see `least_joint`.
    """
    not_negative("joint", joint_mm, "mm")
    if _reaches(joint_mm, least.mm):
        return _verdict([], least.basis)
    return _verdict([_under("flatness-joint-too-narrow", joint_mm, least.mm)], least.basis)


def offset_limit(side_mm: float, edition: Literal["newer", "older"] = "newer") -> OffsetLimit:
    """The greatest offset of a running bond.

    One third of the offset side where that is over 15 in (older texts: over 18 in), otherwise none. The text
    says 33 percent and means the third-offset pattern.

    Parameters: side_mm, the side along which rows are shifted [mm]; edition of the text.
    Result: `OffsetLimit`. Errors: `Refused` for no length or another edition.

    >>> offset_limit(1200).mm, offset_limit(1200).share, offset_limit(300).mm, offset_limit(400, "older").mm
    (400.0, Fraction(1, 3), None, None)

    References: ANSI A108.02 §4.3.8.2, both editions.
    """
    positive("offset-side", side_mm, "mm")
    one_of("edition", edition, ("newer", "older"))
    newer = edition == "newer"
    limited = _exceeds(side_mm, (15 if newer else 18) * INCH)
    basis = BASES["offset" if newer else "offset-older"]
    return OffsetLimit(side_mm / 3, Fraction(1, 3), basis) if limited else OffsetLimit(None, None, basis)


def offset_verdict(
    offset_mm: float,
    side_mm: float,
    edition: Literal["newer", "older"] = "newer",
) -> LengthVerdict:
    """Judge the shift between two rows.

    A shift of s over a side l is the same as one of l - s from the other end, so the smaller counts. Exactly
    one third passes.

    Parameters: offset_mm, 0 to side_mm [mm]; side_mm [mm]; edition.
    Errors: `Refused` for a shift outside the side.

    >>> offset_verdict(200, 600).passed, offset_verdict(300, 600).passed, offset_verdict(400, 600).passed
    (True, False, True)

    References: ANSI A108.02 §4.3.8.2.
    """
    limit = offset_limit(side_mm, edition)
    if not 0 <= offset_mm <= side_mm:
        sizes = {"offset": measured(offset_mm, "mm"), "side": measured(side_mm, "mm")}
        raise Refused(message("flatness-offset-beyond-side", **sizes))
    shift = min(offset_mm, side_mm - offset_mm)
    if limit.mm is None or not _exceeds(shift, limit.mm):
        return _verdict([], limit.basis)
    return _verdict([_over("flatness-offset-too-large", shift, limit.mm)], limit.basis)


_SPACINGS: dict[MovementSetting, SpacingLimit] = {
    "interior": SpacingLimit(20 * FOOT, 25 * FOOT, BASES["movement-inside"]),
    "interior in sun or moisture": SpacingLimit(8 * FOOT, TWELVE_FEET, BASES["movement-outside"]),
    "exterior": SpacingLimit(8 * FOOT, TWELVE_FEET, BASES["movement-outside"]),
    "above-ground slab": SpacingLimit(None, TWELVE_FEET, BASES["movement-slab"]),
    "exterior BS 5385": SpacingLimit(3000.0, 5000.0, BASES["movement-bs-5385"]),
}


def movement_joint_spacing(setting: MovementSetting) -> SpacingLimit:
    """How far apart movement joints may be, each way.

    | setting | every |
    |---|---|
    | interior | 20 to 25 ft |
    | interior in sun or moisture, exterior | 8 to 12 ft |
    | above-ground slab of concrete | 12 ft at most |
    | exterior BS 5385 | 3 to 5 m |

    Movement joints are due besides over every joint of the base, at changes of plane or material, and where
    the field meets what restrains it (ANSI A108.02 §4.4.1 and §4.4.2).

    Errors: `Refused` for another setting.

    >>> movement_joint_spacing("exterior").greatest_mm
    3657.6

    References: TCNA Handbook EJ171 (2018; 2024/25); BS 5385-3 (2024), as reported.
    """
    one_of("setting-of-a-movement-joint", setting, get_args(MovementSetting))
    return _SPACINGS[setting]


def movement_joint_layout(length_mm: float, greatest_spacing_mm: float) -> Layout:
    """The fewest equal bays that keep the spacing over a run between two ends.

    n = ceil(l / s) - 1 joints, bays of l / (n + 1). The perimeter gaps at both ends come besides.

    Parameters: length_mm, greatest_spacing_mm [mm], above 0. Errors: `Refused` otherwise.

    >>> movement_joint_layout(9000, 3657.6)
    Layout(joints=2, bay_mm=3000.0)
    """
    positive("length-of-the-run", length_mm, "mm")
    positive("spacing-of-movement-joints", greatest_spacing_mm, "mm")
    bays = max(1, math.ceil(length_mm / greatest_spacing_mm - HAIR))
    return Layout(bays - 1, length_mm / bays)


def movement_joint_width(
    spacing_mm: float,
    temperature_range_c: float | None = None,
    place: Literal["interior", "exterior"] = "exterior",
) -> LengthLimit:
    """The narrowest movement joint.

    Exterior: 3/8 in for a spacing up to 8 ft, 1/2 in up to 12 ft, and 1/16 in more for each 15 °F by which
    the yearly range of temperature exceeds 100 °F. Interior: 1/4 in.

    Parameters: spacing_mm [mm]; temperature_range_c, difference between the hottest and the coldest surface
    of the year [kelvin or degrees C of difference; a difference of 1 °F is 5/9 of one], needed outdoors;
    place.
    Result: `LengthLimit` [mm]. Limits: up to 12 ft (3657.6 mm) outdoors, 25 ft (7620 mm) indoors.
    Errors: `OutOfRange` beyond; `Refused` outdoors without a range, or figures below zero.

    >>> [movement_joint_width(12 * 304.8, f * 5 / 9).mm * 16 / 25.4 for f in (100, 115, 130)]
    [8.0, 9.0, 10.0]

    References: TCNA Handbook EJ171; 9/16 in for 12 ft and 115 °F is a published case.
    """
    positive("spacing-of-movement-joints", spacing_mm, "mm")
    one_of("place", place, ("interior", "exterior"))
    if place == "interior":
        if _exceeds(spacing_mm, 25 * FOOT):
            raise OutOfRange(_over("flatness-inside-too-far-apart", spacing_mm, 25 * FOOT))
        return LengthLimit(INCH / 4, BASES["movement-width-inside"])
    if _exceeds(spacing_mm, TWELVE_FEET):
        raise OutOfRange(_over("flatness-outside-too-far-apart", spacing_mm, TWELVE_FEET))
    if temperature_range_c is None:
        raise Refused(message("flatness-no-temperature-range"))
    not_negative("range-of-temperature", temperature_range_c)
    steps = max(0, math.ceil((temperature_range_c * 9 / 5 - 100) / 15 - HAIR))
    base = 3 * INCH / 8 if not _exceeds(spacing_mm, 8 * FOOT) else INCH / 2
    return LengthLimit(base + steps * INCH / 16, BASES["movement-width"])


def movement_joint_verdict(
    width_mm: float,
    spacing_mm: float,
    setting: MovementSetting = "exterior",
    temperature_range_c: float | None = None,
) -> LengthVerdict:
    """Judge the spacing and the width of movement joints; exactly at a limit passes.

    The British spacing has no width of its own here, so only its spacing is judged. A slab counts as outdoors
    when a range of temperature is given.

    Parameters: width_mm, spacing_mm [mm]; setting; temperature_range_c, see `movement_joint_width`, needed for
    "exterior".
    Errors: those of `movement_joint_width`.

    >>> movement_joint_verdict(9.525, 8 * 304.8, "exterior", 50).passed
    True
    >>> [reason.code for reason in movement_joint_verdict(6.35, 9144, "interior").reasons]
    ['flatness-movement-joints-too-far-apart']

    References: see `movement_joint_spacing` and `movement_joint_width`.
    """
    positive("width-of-a-movement-joint", width_mm, "mm")
    spacing = movement_joint_spacing(setting)
    positive("spacing-of-movement-joints", spacing_mm, "mm")
    reasons: list[Message] = []
    basis = spacing.basis
    if _exceeds(spacing_mm, spacing.greatest_mm):
        reasons.append(_over("flatness-movement-joints-too-far-apart", spacing_mm, spacing.greatest_mm))
    if setting != "exterior BS 5385":
        outdoors = setting == "exterior" or (setting == "above-ground slab" and temperature_range_c is not None)
        place: Literal["interior", "exterior"] = "exterior" if outdoors else "interior"
        # Too wide a spacing has been said already; the width is then judged for the widest that is allowed.
        least = movement_joint_width(min(spacing_mm, spacing.greatest_mm), temperature_range_c, place)
        if not _reaches(width_mm, least.mm):
            reasons.append(_under("flatness-movement-joint-too-narrow", width_mm, least.mm))
            basis = least.basis if not reasons[:-1] else basis
    return _verdict(reasons, basis)
