"""Notched trowels: from the notch to the ridge, the bed after collapse, the slide and the way out for the air.

A trowel drawn at an angle to the base leaves ridges whose section is the notch's outline, its depth
foreshortened by the sine of that angle. Everything else is conservation of volume. No standard publishes
these relations; the geometry is recomputed in the tests, and the crew's own mass balance corrects it
(`calibrated_filling`).

Lengths in mm, sections in mm2, mortar in L/m2 (one L/m2 is one millimetre of bed), angles in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Literal, get_args

from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.checks import HAIR, measured, not_negative, one_of, positive, within
from fieldassist.trade.limits import Limit, exactly
from fieldassist.trade.message import Bound, Message, Refused, message
from fieldassist.trade.mortar import BedLimits, BedVerdict, bed_verdict
from fieldassist.trade.quantities import Quantity

__all__ = [
    "COMMON_NOTCHES",
    "DEFAULT_FILLING",
    "FIELD_ANGLE",
    "HAND_COLLAPSE_LIMIT_MM",
    "Advice",
    "AirPath",
    "Family",
    "Filling",
    "Notch",
    "Ridge",
    "Sides",
    "Slide",
    "advise",
    "air_path",
    "bed_after_collapse",
    "calibrated_filling",
    "collapse_effort",
    "mortar_per_m2",
    "notch_area",
    "notch_at_pitch",
    "notch_depth_for_edge",
    "outline",
    "ridge",
    "slide_distance",
    "two_sided_combing",
]

Family = Literal["square", "rectangular", "U", "V", "slanted", "ridge-collapse", "half-round"]
Sides = Literal["one", "both"]

_LEANING = ("slanted", "ridge-collapse")
_ROUND_ENDED = ("U", "ridge-collapse")
_ASSUMED_LEAN_DEG = 30.0

# 45 degrees: ANSI A108.19 §13.7 (2017), at least a constant 45 degrees for gauged panels, and trade literature.
FIELD_ANGLE = 45.0
_LEAST_ANGLE = 30.0

# 1: the whole notch becomes ridge. No measured figure is published; geometry's upper bound stands in until
# the crew's mass balance gives its own.
DEFAULT_FILLING = 1.0

# Judgement, no published source: between a half-inch U and a 12 mm square notch, both drawn at 45 degrees.
HAND_COLLAPSE_LIMIT_MM = 8.3


@dataclass(frozen=True, slots=True)
class Notch:
    """One notch of a trowel, measured on the trowel itself.

    family: "square", "rectangular", "U" (straight flanks, half-circle end), "V", "slanted" (parallelogram:
    the ridges lean), "ridge-collapse" (a leaning U: curved end, ridges fold one way), "half-round" (half a
    circle or half an ellipse). width_mm: opening along the trowel's edge; depth_mm: square to the edge;
    spacing_mm: tooth between two notches along the edge; lean_deg: lean of a slanted or ridge-collapse notch,
    30 where not measured (it shapes the drawing, not the section).
    The ridge-collapse outline is our model; its real curve is not published, so calibrate it.

    Errors: `Refused` for a size that is not above zero, a square notch whose depth is not its width
    (within 5 %), a U or ridge-collapse notch less deep than half its width, or a lean where ridges stand
    straight.

    >>> Notch("square", 12.7, 12.7, 12.7).pitch_mm
    25.4
    """

    family: Family
    width_mm: float
    depth_mm: float
    spacing_mm: float
    lean_deg: float | None = None

    def __post_init__(self) -> None:
        one_of("notch-family", self.family, get_args(Family))
        positive("notch-width", self.width_mm, "mm")
        positive("notch-depth", self.depth_mm, "mm")
        positive("notch-spacing", self.spacing_mm, "mm")
        sizes = {"width": measured(self.width_mm, "mm"), "depth": measured(self.depth_mm, "mm")}
        if self.family == "square" and abs(self.depth_mm - self.width_mm) > 0.05 * self.width_mm:
            raise Refused(message("ridges-not-square", **sizes))
        # A hair of float noise from inches must not refuse a half-circle.
        if self.family in _ROUND_ENDED and self.depth_mm < self.width_mm / 2 * (1 - HAIR):
            raise Refused(message("ridges-too-shallow-to-be-round", **sizes))
        if self.lean_deg is not None:
            if self.family not in _LEANING:
                raise Refused(message("ridges-do-not-lean", family=self.family))
            if not 0 < self.lean_deg <= 60:
                raise Refused(message("ridges-lean-outside", lean=measured(self.lean_deg, "count")))

    @property
    def pitch_mm(self) -> float:
        """Distance from ridge to ridge [mm]: width + spacing."""
        return self.width_mm + self.spacing_mm

    @property
    def leans(self) -> bool:
        """Whether the ridges lean to one side, so that they fold that way."""
        return self.family in _LEANING


@dataclass(frozen=True, slots=True)
class Ridge:
    """What one pass leaves: section [mm2], height [mm], pitch [mm], ridges per metre, mortar [L/m2], bed [mm].

    bed_mm is the bed after full collapse of this pass alone; it equals volume_l_per_m2.
    """

    section_mm2: float
    height_mm: float
    pitch_mm: float
    per_m: float
    volume_l_per_m2: float
    bed_mm: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class Slide:
    """How to move the tile across the ridges.

    mm: whole travel [mm]; out_mm: the least stroke one way [mm], all of it where `one_way`, otherwise half;
    instruction; note: what an article asks for, and when a slide does not fit.
    """

    mm: float
    out_mm: float
    one_way: bool
    instruction: Message
    basis: Basis
    note: Message


@dataclass(frozen=True, slots=True)
class AirPath:
    """The longest valley between ridges [mm], the shortest choice for this tile, and their ratio.

    longest_mm: from end to end of the valley; escape_mm: half of it, from the middle to the nearer end.
    """

    longest_mm: float
    escape_mm: float
    shortest_choice_mm: float
    times_longer: float
    advice: Message
    basis: Basis


@dataclass(frozen=True, slots=True)
class Filling:
    """Share of the notch that becomes ridge, as the crew's mass balance gives it."""

    factor: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class Advice:
    """One notch and method, judged. `reasons` says why it fails, or why it is good when `works`.

    left_mm: what is left to the mortar's nearer limit [mm], where that is little; otherwise None.
    """

    name: str
    notch: Notch
    sides: Sides
    works: bool
    bed_mm: float
    greatest_contact_percent: float
    left_mm: float | None
    slide: Slide
    air: AirPath | None
    reasons: tuple[Message, ...]


def _inches(family: Family, width: float, depth: float, spacing: float) -> Notch:
    return Notch(family, width * 25.4, depth * 25.4, spacing * 25.4)


# Sizes met in the trade: common practice, no published source, but for the laboratory trowel of
# ISO 13007-2:2013 §4.1 (6 x 6 mm at 12 mm centres).
COMMON_NOTCHES: Mapping[str, Notch] = MappingProxyType(
    {
        "quarter inch square": _inches("square", 1 / 4, 1 / 4, 1 / 4),
        "quarter by three eighths": _inches("rectangular", 1 / 4, 3 / 8, 1 / 4),
        "three eighths square": _inches("square", 3 / 8, 3 / 8, 3 / 8),
        "half inch square": _inches("square", 1 / 2, 1 / 2, 1 / 2),
        "quarter by three eighths U": _inches("U", 1 / 4, 3 / 8, 1 / 4),
        "quarter by half inch U": _inches("U", 1 / 4, 1 / 2, 1 / 4),
        "half inch U": _inches("U", 1 / 2, 1 / 2, 1 / 2),
        "quarter inch V": _inches("V", 1 / 4, 1 / 4, 1 / 16),
        "three eighths slanted": _inches("slanted", 3 / 8, 3 / 8, 3 / 8),
        "half inch slanted": _inches("slanted", 1 / 2, 1 / 2, 1 / 2),
        "half inch slanted, narrow tooth": _inches("slanted", 1 / 2, 1 / 2, 5 / 32),
        "half inch ridge-collapse": _inches("ridge-collapse", 1 / 2, 3 / 8, 1 / 2),
        "three quarter half-round": _inches("half-round", 3 / 4, 3 / 8, 3 / 8),
        "laboratory trowel": Notch("square", 6.0, 6.0, 6.0),
        "eight millimeter square": Notch("square", 8.0, 8.0, 8.0),
        "ten millimeter square": Notch("square", 10.0, 10.0, 10.0),
        "twelve millimeter square": Notch("square", 12.0, 12.0, 12.0),
    }
)


def notch_at_pitch(
    family: Family, width_mm: float, depth_mm: float, pitch_mm: float, lean_deg: float | None = None
) -> Notch:
    """A notch given by the distance between centres instead of the tooth.

    spacing = pitch - width

    Parameters: as `Notch`; pitch_mm [mm], above width_mm. Errors: those of `Notch`; `Refused` when no
    tooth is left.

    >>> notch_at_pitch("square", 6, 6, 12).spacing_mm
    6

    References: ISO 13007-2:2013 §4.1 describes its trowel this way.
    """
    if not pitch_mm > width_mm:
        sizes = {"width": measured(width_mm, "mm"), "pitch": measured(pitch_mm, "mm")}
        raise Refused(message("ridges-no-tooth", **sizes))
    return Notch(family, width_mm, depth_mm, pitch_mm - width_mm, lean_deg)


def notch_area(notch: Notch) -> float:
    """The area of the notch's outline in the plane of the trowel.

    square, rectangular, slanted: w d; U, ridge-collapse: w (d - w/2) + pi w^2 / 8; V: w d / 2;
    half-round: pi w d / 4. A lean shears the outline and leaves its area.

    Result: [mm2].

    >>> round(notch_area(Notch("half-round", 20, 10, 10)), 2)  # half of a circle 20 mm across
    157.08

    References: plane geometry.
    """
    w, d = notch.width_mm, notch.depth_mm
    if notch.family in _ROUND_ENDED:
        return w * (d - w / 2) + math.pi * w * w / 8
    if notch.family == "V":
        return w * d / 2
    if notch.family == "half-round":
        return math.pi * w * d / 4
    return w * d


def outline(notch: Notch, points: int = 48) -> tuple[tuple[float, float], ...]:
    """The notch's outline as a polygon, for a drawing.

    Parameters: points on a curved end, at least 4. Result: (x along the trowel's edge, y into the trowel)
    [mm], from (0, 0) round to (width, 0), clockwise.
    Errors: `Refused` for fewer points.

    >>> outline(Notch("V", 6, 6, 2))
    ((0.0, 0.0), (3.0, 6.0), (6.0, 0.0))

    References: see `Notch`.
    """
    if points < 4:
        raise Refused(message("ridges-too-few-points", points=points))
    w, d = float(notch.width_mm), float(notch.depth_mm)
    turns = [math.pi * (1 - i / points) for i in range(points + 1)]
    corners: list[tuple[float, float]]
    if notch.family in _ROUND_ENDED:
        r = w / 2
        corners = [(0.0, 0.0), *((r + r * math.cos(t), d - r + r * math.sin(t)) for t in turns), (w, 0.0)]
    elif notch.family == "half-round":
        corners = [(w / 2 + w / 2 * math.cos(t), d * math.sin(t)) for t in turns]
    elif notch.family == "V":
        corners = [(0.0, 0.0), (w / 2, d), (w, 0.0)]
    else:
        corners = [(0.0, 0.0), (0.0, d), (w, d), (w, 0.0)]
    if not notch.leans:
        return tuple(corners)
    lean = _ASSUMED_LEAN_DEG if notch.lean_deg is None else notch.lean_deg
    return tuple((x + y * math.tan(math.radians(lean)), y) for x, y in corners)


def _check_pass(angle_deg: float, filling: float) -> None:
    if not _LEAST_ANGLE <= angle_deg <= 90:
        raise OutOfRange(message("ridges-trowel-angle-outside", angle=measured(angle_deg, "count")))
    if not 0 < filling <= 1.5:
        raise Refused(message("ridges-filling-outside", filling=measured(filling, "count")))


def ridge(notch: Notch, angle_deg: float = FIELD_ANGLE, filling: float = DEFAULT_FILLING) -> Ridge:
    """The ridge that one pass of the trowel leaves.

    section S = f A sin(angle); height h = d sin(angle); bed b = S / (w + t); ridges per metre 1000 / (w + t)

    Parameters: notch; angle_deg between trowel and base [deg], 30 to 90; filling, the share of the notch that
    becomes ridge, 1 by default (geometry's upper bound; nothing measured is published).
    Limits: at 90 degrees a square notch with equal tooth gives half its depth, as the trade says; at the 45
    degrees at which it works it gives 0.35 of it.
    Errors: `OutOfRange` for another angle; `Refused` for another filling.

    >>> quarter = Notch("square", 6.35, 6.35, 6.35)
    >>> round(ridge(quarter, 90).bed_mm, 2), round(ridge(quarter, 45).bed_mm, 2)
    (3.17, 2.25)

    References: plane geometry; trowel at 45 degrees, ANSI A108.19 §13.7 (2017), as reported in trade
    literature.
    """
    _check_pass(angle_deg, filling)
    sine = math.sin(math.radians(angle_deg))
    section = filling * notch_area(notch) * sine
    bed = section / notch.pitch_mm
    return Ridge(
        section, notch.depth_mm * sine, notch.pitch_mm, 1000 / notch.pitch_mm, bed, bed, BASES["notch-geometry"]
    )


def mortar_per_m2(
    notch: Notch,
    angle_deg: float = FIELD_ANGLE,
    filling: float = DEFAULT_FILLING,
    *,
    sides: Sides = "one",
    back_notch: Notch | None = None,
    direction: Literal["parallel", "crossed"] = "parallel",
    skim_mm: float = 0.0,
) -> float:
    """All mortar behind a square metre, before the tile's back profile takes its part.

    v = b_base + b_back + skim

    Parameters: as `ridge`; sides "one" (base only) or "both" (base and tile, ridges parallel); back_notch for
    the tile where it is another one; direction of the two sets of ridges; skim_mm, the coat keyed into the
    tile's back with the flat side [mm].
    Result: [L/m2].
    Errors: those of `ridge`; `OutOfRange` for crossed ridges; `Refused` for other words or a negative
    skim.

    >>> half = Notch("square", 12.7, 12.7, 12.7)
    >>> round(mortar_per_m2(half, 45, sides="both", skim_mm=0.5), 2)
    9.48

    References: crossed ridges leave clearly more voids than parallel ones (article on the combined method of
    DIN 18157-3:2017).
    """
    one_of("sides", sides, get_args(Sides))
    one_of("direction", direction, ("parallel", "crossed"))
    not_negative("skim-coat", skim_mm, "mm")
    if back_notch is not None and sides == "one":
        raise Refused(message("ridges-back-notch-without-back"))
    volume = ridge(notch, angle_deg, filling).bed_mm + skim_mm
    if sides == "both":
        if direction == "crossed":
            raise OutOfRange(message("ridges-crossed"))
        volume += ridge(back_notch or notch, angle_deg, filling).bed_mm
    return volume


def bed_after_collapse(
    notch: Notch,
    angle_deg: float = FIELD_ANGLE,
    filling: float = DEFAULT_FILLING,
    *,
    sides: Sides = "one",
    back_notch: Notch | None = None,
    direction: Literal["parallel", "crossed"] = "parallel",
    skim_mm: float = 0.0,
    back_profile_mm: float = 0.0,
) -> float:
    """The mean bed when every ridge has collapsed: volume is conserved.

    b = v - profile

    Parameters: as `mortar_per_m2`; back_profile_mm, the mean depth of the grooves in the tile's back, which
    fill before there is a bed (profile volume over tile area) [mm].
    Result: [mm], between base and the high plane of the tile's back.
    Errors: those of `mortar_per_m2`; `OutOfRange` when the profile takes all the mortar; `Refused` for a
    negative profile.

    >>> round(bed_after_collapse(Notch("square", 12.7, 12.7, 12.7), 60), 2)
    5.5
    >>> round(bed_after_collapse(Notch("square", 6, 6, 6), 60, skim_mm=0.5, back_profile_mm=0.3), 2)
    2.8

    References: plane geometry.
    """
    volume = mortar_per_m2(
        notch, angle_deg, filling, sides=sides, back_notch=back_notch, direction=direction, skim_mm=skim_mm
    )
    not_negative("back-profile", back_profile_mm, "mm")
    if back_profile_mm >= volume:
        depths = {"profile": measured(back_profile_mm, "mm"), "mortar": measured(volume, "mm")}
        raise OutOfRange(message("ridges-profile-takes-all", **depths))
    return volume - back_profile_mm


def calibrated_filling(
    implied_bed_mm: float,
    notch: Notch,
    angle_deg: float = FIELD_ANGLE,
    *,
    sides: Sides = "one",
    back_notch: Notch | None = None,
    skim_mm: float = 0.0,
) -> Filling:
    """The filling factor that makes the geometry agree with the bags that were used.

    f = (v_implied - skim) / v_geometry

    Parameters: implied_bed_mm, all mortar per area from a mass balance [mm = L/m2]; the rest as
    `mortar_per_m2`.
    Limits: 0.3 to 1.5; beyond that a count, a notch or an angle was written down wrong.
    Errors: `OutOfRange` outside; those of `mortar_per_m2`.

    >>> round(calibrated_filling(2.0, Notch("square", 6.35, 6.35, 6.35), 45).factor, 2)
    0.89

    References: conservation of volume.
    """
    geometric = mortar_per_m2(notch, angle_deg, sides=sides, back_notch=back_notch)
    factor = (implied_bed_mm - skim_mm) / geometric
    if not 0.3 <= factor <= 1.5:
        raise OutOfRange(message("ridges-filling-unbelievable", factor=measured(factor, "count")))
    return Filling(factor, BASES["crew-balance"])


def slide_distance(notch: Notch) -> Slide:
    """How far to move the tile across the ridges so that each one falls into the valley beside it.

    stroke = max(notch width, half the pitch); straight ridges: there and back; leaning ridges: one way, the way
    they lean

    Half the pitch carries a ridge into the middle of the valley beside it; where the notch is wider than its
    tooth that is less than the notch width that an article asks for, and then the width counts.

    Parameters: notch. Result: [mm].
    Limits: enough mortar and open air channels are taken for granted. With a joint narrower than the stroke
    the tile must be laid beside its place and pushed into it.

    >>> half = slide_distance(Notch("square", 12.7, 12.7, 12.7))
    >>> half.mm, half.out_mm, half.one_way
    (25.4, 12.7, False)
    >>> slide_distance(Notch("ridge-collapse", 12.7, 9.525, 12.7)).mm
    12.7
    >>> slide_distance(COMMON_NOTCHES["quarter inch V"]).out_mm  # 1/4 in wide with a tooth of 1/16 in
    6.35

    References: [1] ANSI A108.5 §2.2.3: push across the ridges until they collapse, as reported in trade
    literature. [2] A trade article asks for at least one notch width. [3] Travel: common practice, no
    published source.
    """
    stroke = max(notch.width_mm, notch.pitch_mm / 2)
    told, basis = Bound(exactly(stroke, "mm"), "at least"), BASES["slide"]
    note = message("ridges-slide-note", width=exactly(notch.width_mm, "mm"), stroke=told)
    if notch.leans:
        return Slide(stroke, stroke, True, message("ridges-slide-one-way", stroke=told), basis, note)
    return Slide(2 * stroke, stroke, False, message("ridges-slide-and-back", stroke=told), basis, note)


def air_path(tile_length_mm: float, tile_width_mm: float, comb_angle_deg: float = 0.0) -> AirPath:
    """The longest valley that air must travel to leave from under a tile, and how much longer than it need be.

    L = min(short / |cos a|, long / |sin a|), a between the ridges and the tile's short side

    Parameters: the two sides, in any order [mm], above 0; comb_angle_deg: 0 for ridges along the short side,
    90 for the long side, between them for a slant.
    Result: [mm]; the best choice is the short side itself.
    Errors: `Refused` for sides not above zero or an angle outside 0 to 90.

    >>> wrong = air_path(2400, 1200, 90)
    >>> wrong.longest_mm, wrong.times_longer
    (2400.0, 2.0)

    References: ridges one way, parallel to the tile's short side: ANSI A108.5, as cited by an association
    reference manual (2024/25).
    """
    for side in (tile_length_mm, tile_width_mm):
        positive("side-of-a-tile", side, "mm")
    within("comb-angle", comb_angle_deg, 0, 90)
    short, long = sorted((float(tile_length_mm), float(tile_width_mm)))
    cosine, sine = math.cos(math.radians(comb_angle_deg)), math.sin(math.radians(comb_angle_deg))
    # cos 90° is not quite zero in floats; a valley cannot be longer than the side it follows.
    longest = min(short / cosine if cosine > 1e-12 else math.inf, long / sine if sine > 1e-12 else math.inf)
    ratio = longest / short
    way = exactly(longest, "mm")
    if ratio <= 1 + HAIR:
        advice = message("ridges-air-right", way=way)
    else:
        times = Quantity(Fraction(repr(ratio)), "count", 1)
        advice = message("ridges-air-long", way=way, times=times, short=exactly(short, "mm"))
    return AirPath(longest, longest / 2, short, ratio, advice, BASES["comb-direction"])


def two_sided_combing(
    notch: Notch,
    limits: BedLimits,
    angle_deg: float = FIELD_ANGLE,
    filling: float = DEFAULT_FILLING,
    *,
    back_notch: Notch | None = None,
    direction: Literal["parallel", "crossed"] = "parallel",
    skim_mm: float = 0.0,
    back_profile_mm: float = 0.0,
) -> BedVerdict:
    """Whether combing base and tile stays inside the mortar's limits.

    Parameters: as `bed_after_collapse`; limits, from `mortar.bed_limits`. Result: verdict with reason.
    Errors: those of `bed_after_collapse`; crossed ridges are refused.

    >>> from fieldassist.trade.mortar import bed_limits
    >>> two_sided_combing(Notch("square", 12.7, 12.7, 12.7), bed_limits("thin-set")).verdict
    'too thick'

    References: bed limits, see `mortar.bed_limits`; total bed within the mortar's limit, trade article on
    ANSI A108.5 and A108.19.
    """
    bed = bed_after_collapse(
        notch,
        angle_deg,
        filling,
        sides="both",
        back_notch=back_notch,
        direction=direction,
        skim_mm=skim_mm,
        back_profile_mm=back_profile_mm,
    )
    return bed_verdict(bed, limits)


def collapse_effort(notch: Notch, angle_deg: float = FIELD_ANGLE) -> float:
    """An index of how hard a ridge resists collapse: taller and squarer is harder, leaning is easiest.

    e = h (A / (w d)) k, k = 1 for straight and 1/2 for leaning ridges

    Parameters: as `ridge`. Result: an equivalent height of square straight ridge [mm]; use it to compare
    only.
    Errors: those of `ridge`.

    >>> half = [Notch(family, 12.7, 12.7, 12.7) for family in ("square", "U", "slanted")]
    >>> [round(collapse_effort(notch), 1) for notch in half]
    [9.0, 8.0, 4.5]

    References: the order (half-inch square worst by hand, then U, leaning ridges best) is common practice, no
    published source; the index itself is judgement.
    """
    fullness = notch_area(notch) / (notch.width_mm * notch.depth_mm)
    return ridge(notch, angle_deg).height_mm * fullness * (0.5 if notch.leans else 1.0)


def notch_depth_for_edge(edge_mm: float) -> float:
    """The notch depth that an old German table gives for a tile's longest edge.

    up to 50 mm: 3; to 108: 4; to 200: 6; above: 8 mm

    Parameters: edge_mm [mm], above 0. Result: [mm].
    Limits: written in 1979, long before tile of a metre and more: for those take `advise`.
    Errors: `Refused` for an edge not above zero; `OutOfRange` above 600 mm.

    >>> notch_depth_for_edge(150)
    6.0

    References: DIN 18157-1:1979, from memory.
    """
    positive("longest-edge", edge_mm, "mm")
    if edge_mm > 600:
        raise OutOfRange(message("ridges-edge-over-table", edge=measured(edge_mm, "mm")))
    return next(depth for limit, depth in ((50, 3.0), (108, 4.0), (200, 6.0), (600, 8.0)) if edge_mm <= limit)


# Judgement, no published source: a trowel held 15 degrees steeper leaves up to a fifth more.
_NEAR_LIMIT = 0.15


def _little_left(bed: float, limits: BedLimits) -> float | None:
    """What is left to the nearer limit [mm] where that is under 15 % of the limit, otherwise None."""
    rooms = ((limits.maximum_mm - bed, limits.maximum_mm), (bed - limits.minimum_mm, limits.minimum_mm))
    return min((room for room, limit in rooms if 0 <= room < _NEAR_LIMIT * limit), default=None)


def _contact_over_wedge(bed: float, low: float, high: float) -> float:
    """Mean of min(1, bed / g) for a gap g spread evenly from low to high, in percent."""
    if bed >= high:
        return 100.0
    if high - low < HAIR:
        return 100.0 * bed / high
    start = max(low, bed)
    full = (start - low) if bed > low else 0.0
    return 100.0 * (full + bed * math.log(high / start)) / (high - low)


def advise(
    notches: Mapping[str, Notch],
    limits: BedLimits,
    *,
    tile_mm: tuple[float, float] | None = None,
    warpage_mm: float = 0.0,
    substrate_mm: float = 0.0,
    back_profile_mm: float = 0.0,
    skim_mm: float = 0.0,
    minimum_percent: float = 95.0,
    setting: Literal["by hand", "vibrated"] = "by hand",
    angle_deg: float = FIELD_ANGLE,
    filling: float = DEFAULT_FILLING,
    hand_limit_mm: float = HAND_COLLAPSE_LIMIT_MM,
) -> tuple[Advice, ...]:
    """Which notch, combed on which sides, fills the gap within the mortar's limits; ranked, the best first.

    The gap runs from the mortar's least bed at the high places to least bed + warpage + substrate deviation
    at the low ones, evenly spread. A method works when its mortar can reach the required contact over that
    gap (conservation of volume), its bed stays within the limits, and its ridges collapse. Ranked among those
    that work: full contact first, then the easier to collapse, then the less mortar, then one side before
    both; after them those that fail, the nearest first.

    Parameters: notches by name, such as `COMMON_NOTCHES`; limits, from `mortar.bed_limits`; tile_mm, its two
    sides, for the comb direction [mm], or None; warpage_mm of the tile and substrate_mm, the base's deviation
    under one tile [mm]; back_profile_mm and skim_mm, see `bed_after_collapse`; minimum_percent, from
    `coverage.required_contact`; setting "by hand" or "vibrated" (vibration collapses any ridge); angle_deg
    and filling, see `ridge`; hand_limit_mm, the greatest `collapse_effort` by hand (judgement, no published
    source) [mm].
    Result: one `Advice` for each notch and side, every failure with its reason.
    Errors: `Refused` for no notch, a negative figure or another setting; those of `ridge`.

    >>> from fieldassist.trade.mortar import bed_limits
    >>> ranked = advise(COMMON_NOTCHES, bed_limits("thin-set"), warpage_mm=1.0, substrate_mm=1.5)
    >>> ranked[0].name, ranked[0].sides
    ('half inch ridge-collapse', 'both')
    >>> [a.reasons[0].code for a in ranked if a.name == "quarter inch square" and a.sides == "one"]
    ['ridges-too-little-mortar']

    References: conservation of volume; ridge shapes: common practice, no published source.
    """
    if not notches:
        raise Refused(message("ridges-no-notch"))
    not_negative("warpage", warpage_mm, "mm")
    not_negative("substrate", substrate_mm, "mm")
    not_negative("back-profile", back_profile_mm, "mm")
    if not 0 < minimum_percent <= 100:
        raise Refused(message("ridges-contact-outside", contact=measured(minimum_percent, "percent")))
    one_of("setting", setting, ("by hand", "vibrated"))
    low = limits.minimum_mm
    high = low + warpage_mm + substrate_mm
    air = None if tile_mm is None else air_path(*tile_mm)
    need = Limit.of(minimum_percent, None, "percent", limits.basis)
    deepest = Limit.of(None, limits.maximum_mm, "mm", limits.basis).judge(exactly(high, "mm"))
    options: list[tuple[tuple[float, ...], Advice]] = []
    for name, notch in notches.items():
        one_ridge = ridge(notch, angle_deg, filling)
        effort = collapse_effort(notch, angle_deg)
        for sides in get_args(Sides):
            volume = mortar_per_m2(notch, angle_deg, filling, sides=sides, skim_mm=skim_mm)
            bed = max(0.0, volume - back_profile_mm)
            contact = _contact_over_wedge(bed, low, high)
            reasons: list[Message] = []
            misfit = 0.0
            gap, shown_bed = exactly(high, "mm"), exactly(bed, "mm")
            if not deepest.passed:
                reasons.append(message("ridges-gap-over-limit", **deepest.figures))
                misfit += high - limits.maximum_mm
            reach = need.judge(exactly(contact, "percent"))
            if not reach.passed:
                reasons.append(message("ridges-too-little-mortar", bed=shown_bed, gap=gap, **reach.figures))
                misfit += high - bed
            elif bed < limits.minimum_mm:
                reasons.append(bed_verdict(bed, limits).reason)
                misfit += limits.minimum_mm - bed
            if bed > limits.maximum_mm:
                reasons.append(bed_verdict(bed, limits).reason)
                misfit += bed - limits.maximum_mm
            if setting == "by hand" and effort > hand_limit_mm:
                reasons.append(message("ridges-does-not-collapse", height=exactly(one_ridge.height_mm, "mm")))
                misfit += effort - hand_limit_mm
            works = not reasons
            left = _little_left(bed, limits)
            if works:
                if left is not None:
                    reasons.append(message("ridges-near-limit", left=exactly(left, "mm")))
                reached = exactly(contact, "percent")
                reasons.append(message("ridges-fills-the-gap", bed=shown_bed, contact=reached, gap=gap))
            advice = Advice(
                name,
                notch,
                sides,
                works,
                bed,
                contact,
                left if works else None,
                slide_distance(notch),
                air,
                tuple(reasons),
            )
            rank = (0.0, float(contact < 100), effort, bed) if works else (1.0, misfit, effort, bed)
            options.append(((*rank, float(sides == "both")), advice))
    return tuple(advice for _, advice in sorted(options, key=lambda option: option[0]))
