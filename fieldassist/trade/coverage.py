"""Mortar contact behind a tile: what a setting requires, and the verdict of a lift and of an area.

Contact is the share of the tile's back wetted and supported by mortar [percent of the back's area]. A void is
a connected patch without mortar [mm2]. The American figures follow ANSI A108.5 (tile) and A108.19 (gauged
panels).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from fieldassist.trade.basis import Basis, OutOfRange, Standing
from fieldassist.trade.quantities import System, format_against, format_quantity
from fieldassist.trade.verdict import Outcome, outcome_of

__all__ = [
    "CHOSEN_NOT_DRAWN",
    "AreaVerdict",
    "LiftVerdict",
    "Place",
    "Product",
    "Requirement",
    "SolidBed",
    "Surface",
    "allowed_void",
    "area_verdict",
    "bed_for_contact",
    "gap_from_contact",
    "greatest_contact",
    "lift_verdict",
    "required_contact",
    "solid_bed",
]

Product = Literal["tile", "natural stone", "gauged panel"]
Place = Literal["dry", "wet", "exterior"]
Surface = Literal["wall", "floor"]

# 2 in² and 2 in, exactly.
TWO_SQUARE_INCHES_MM2 = 1290.32
TWO_INCHES_MM = 50.8

# A void of exactly 2 in² that went through m2 and back must still pass.
_UNIT_DUST = 1e-9

_TILE = Basis(
    "ANSI A108.5",
    "§3.3.2",
    "2017",
    note="Numbered §2.2.3 in newer editions; average contact, spread to support the whole tile.",
)
_TILE_VOIDS = Basis("", standing=Standing.PRACTICE, note="A union technical article of 2021 gives it as best practice.")
_STONE = Basis(
    "TCNA Handbook",
    "natural stone coverage",
    "2018",
    note="A trade article of 2017 asks for 100 %.",
)
_STONE_VOIDS = Basis("TCNA Handbook", "natural stone coverage", standing=Standing.MEMORY)
_PANEL = Basis("ANSI A108.19", "", "2017", note="From a published summary by its authors, without clause.")
_PANEL_FLOOR = Basis(
    "ANSI A108.19",
    "",
    "2017",
    note="From a published summary by its authors, without clause; a flooring glossary gives 95 %.",
)
_PANEL_WET = Basis("ANSI A108.19", standing=Standing.MEMORY, note="The clause for wet interiors was not seen.")
_PANEL_OUTSIDE = Basis("ANSI A108.20", standing=Standing.MEMORY, note="The exterior clause was not seen.")

CHOSEN_NOT_DRAWN = (
    "Lifted tiles are chosen, not drawn at random: good lifts guide the work and prove nothing about the whole area."
)


@dataclass(frozen=True, slots=True)
class Requirement:
    """What the back of each tile must show.

    minimum_percent: least contact [percent]; largest_void_mm2: largest single void allowed [mm2], None where
    no rule gives one; edge_clear_mm: strip along edges and corners that must be free of voids [mm], or None;
    corners: every corner must be supported; least_lifts: fewest lifts for a verdict on the area; basis:
    source of the contact; void_basis: source of the void, edge and corner rules; notes: what to know besides.
    """

    minimum_percent: float
    largest_void_mm2: float | None
    edge_clear_mm: float | None
    corners: bool
    least_lifts: int
    basis: Basis
    notes: tuple[str, ...] = ()
    void_basis: Basis | None = None


@dataclass(frozen=True, slots=True)
class LiftVerdict:
    """One lift: `reasons` says what failed, `unread` what the requirement asks for and nobody read."""

    outcome: Outcome
    reasons: tuple[str, ...]
    unread: tuple[str, ...]

    @property
    def passed(self) -> bool:
        """Whether all that is required was read and holds."""
        return self.outcome == "passed"


@dataclass(frozen=True, slots=True)
class AreaVerdict:
    """All lifts of an area: mean and worst contact [percent], None without lifts; `next_step` instructs."""

    outcome: Outcome
    mean: float | None
    worst: float | None
    lifts: int
    reasons: tuple[str, ...]
    next_step: str
    caution: str = CHOSEN_NOT_DRAWN

    @property
    def passed(self) -> bool:
        """Whether enough tiles were lifted and all that is required holds."""
        return self.outcome == "passed"


@dataclass(frozen=True, slots=True)
class SolidBed:
    """Whether a tile is bedded solidly, and the mass per area [kg/m2] above which a small one is."""

    required: bool
    limit_kg_per_m2: float
    reason: str
    basis: Basis


def _check_word(what: str, given: str, allowed: tuple[str, ...]) -> None:
    if given not in allowed:
        raise ValueError(f"{given!r} is not a {what}; allowed: {', '.join(allowed)}")


def required_contact(product: Product, place: Place, surface: Surface) -> Requirement:
    """The least mortar contact for a product, a place and a surface.

    | product | dry wall | dry floor | wet or exterior |
    |---|---|---|---|
    | tile | 80 % | 80 % | 95 % |
    | natural stone | 95 % | 95 % | 95 % |
    | gauged panel | 80 % | 85 % | 95 % (from memory) |

    Parameters: product "tile", "natural stone" or "gauged panel"; place "dry" (interior), "wet" (interior,
    such as a shower) or "exterior"; surface "wall" or "floor".
    Limits: no void rule is given for tile in a dry interior, since the standard states only the average
    contact and the support of corners. A project's own specification goes before these figures.
    Errors: `ValueError` for another word.

    >>> required_contact("tile", "wet", "wall").minimum_percent
    95.0
    >>> required_contact("gauged panel", "dry", "floor").basis.document
    'ANSI A108.19'

    References: [1] ANSI A108.5 §3.3.2 (2017), §2.2.3 in newer editions. [2] ANSI A108.19 (2017) and A108.20.
    [3] TCNA Handbook (2018), natural stone coverage. All as reported in trade literature.
    """
    _check_word("product", product, get_args(Product))
    _check_word("place", place, get_args(Place))
    _check_word("surface", surface, get_args(Surface))
    repeat = "The standard asks for a tile to be lifted periodically and gives no interval."
    if product == "tile":
        if place == "dry":
            return Requirement(
                80.0,
                None,
                None,
                corners=True,
                least_lifts=3,
                basis=_TILE,
                notes=(
                    repeat,
                    "Common practice allows no void over 2 in² and none within 2 in of an edge here either.",
                ),
                void_basis=_TILE,
            )
        return Requirement(
            95.0,
            TWO_SQUARE_INCHES_MM2,
            TWO_INCHES_MM,
            corners=True,
            least_lifts=3,
            basis=_TILE,
            notes=(
                "For 95 %, back-butter each tile or choose a notch that reaches it (ANSI A108.5).",
                repeat,
            ),
            void_basis=_TILE_VOIDS,
        )
    if product == "natural stone":
        return Requirement(
            95.0,
            TWO_SQUARE_INCHES_MM2,
            TWO_INCHES_MM,
            corners=True,
            least_lifts=3,
            basis=_STONE,
            notes=(
                "Stone is back-buttered with the flat side.",
                "Three lifts is taken over from ANSI A108.5, which does not set the contact of stone.",
            ),
            void_basis=_STONE_VOIDS,
        )
    if place == "dry":
        percent, basis = (80.0, _PANEL) if surface == "wall" else (85.0, _PANEL_FLOOR)
    else:
        percent, basis = 95.0, (_PANEL_WET if place == "wet" else _PANEL_OUTSIDE)
    return Requirement(
        percent,
        TWO_SQUARE_INCHES_MM2,
        TWO_INCHES_MM,
        corners=True,
        least_lifts=3,
        basis=basis,
        notes=(
            "Edges are supported all the way round by vibrating the perimeter; "
            "the 2 in strip in which no void is accepted is common practice.",
            "Three lifts is taken over from ANSI A108.5, which does not cover panels.",
        ),
        void_basis=_PANEL,
    )


def _check_percent(percent: float) -> None:
    if not 0 <= percent <= 100:
        raise ValueError(f"{percent} % is not a contact; give a share of the back between 0 and 100 %")


def lift_verdict(
    percent: float,
    requirement: Requirement,
    largest_void_mm2: float | None = None,
    void_to_edge_mm: float | None = None,
    corners_supported: bool | None = None,
    *,
    system: System = "metric",
) -> LiftVerdict:
    """Judge one lifted tile against a requirement.

    Passes when percent >= minimum, largest void <= limit, nearest void to the edge >= clear strip and corners
    supported, each exactly at its limit included. What the requirement asks for and nobody read is named in
    `unread` and leaves the lift "not complete": it has neither passed nor failed. What it does not ask for
    (the void and the edges of tile in a dry interior) is no gap when it is not read. At 100 % there is no
    void to measure, so nothing is missing.

    Parameters: percent [percent of the back]; largest_void_mm2 [mm2]; void_to_edge_mm, distance from the
    tile's edge to the nearest void [mm]; corners_supported; system, in which reasons are worded.
    Errors: `ValueError` for a contact outside 0 to 100 % or a negative measurement.

    >>> wet = required_contact("tile", "wet", "wall")
    >>> lift_verdict(95.0, wet, largest_void_mm2=400, void_to_edge_mm=60, corners_supported=True)
    LiftVerdict(outcome='passed', reasons=(), unread=())
    >>> lift_verdict(95.0, wet).outcome
    'not complete'
    >>> lift_verdict(94, wet).reasons
    ('contact 94 % is below the 95 % required',)

    References: see `required_contact`.
    """
    _check_percent(percent)
    for name, reading in (("largest void", largest_void_mm2), ("distance to the edge", void_to_edge_mm)):
        if reading is not None and not reading >= 0:
            raise ValueError(f"the {name} is {reading}; measure it again, it cannot be below zero")
    reasons: list[str] = []
    unread: list[str] = []
    if percent < requirement.minimum_percent:
        shown, limit = format_against(percent, requirement.minimum_percent, "percent")
        reasons.append(f"contact {shown} is below the {limit} required")
    if requirement.largest_void_mm2 is not None:
        if largest_void_mm2 is None:
            if percent < 100:
                unread.append("largest void")
        elif largest_void_mm2 > requirement.largest_void_mm2 * (1 + _UNIT_DUST):
            shown, limit = format_against(largest_void_mm2, requirement.largest_void_mm2, "mm2", system)
            reasons.append(f"a void of {shown} is larger than the {limit} allowed")
    if requirement.edge_clear_mm is not None:
        if void_to_edge_mm is None:
            if percent < 100:
                unread.append("distance from the nearest void to the edge")
        elif void_to_edge_mm < requirement.edge_clear_mm * (1 - _UNIT_DUST):
            shown, limit = format_against(void_to_edge_mm, requirement.edge_clear_mm, "mm", system)
            reasons.append(f"a void {shown} from the edge lies within the {limit} that must be clear")
    if requirement.corners:
        if corners_supported is None:
            if percent < 100:
                unread.append("corners supported")
        elif not corners_supported:
            reasons.append("a corner is not supported")
    outcome = outcome_of(failed=bool(reasons), complete=not unread)
    return LiftVerdict(outcome, tuple(reasons), tuple(unread))


def area_verdict(
    lifts: Iterable[tuple[float, Outcome]],
    requirement: Requirement,
    *,
    rule: Literal["every lift", "mean"] = "every lift",
) -> AreaVerdict:
    """Judge an area by the lifts that stand (a tile that was reset counts with its last lift).

    Passes when there are at least `requirement.least_lifts` lifts, their mean contact is at least the
    minimum, and, under "every lift", each one passed. Too few lifts, or one that is not complete, leave the
    area "not complete". The standard speaks of average contact; holding every lift to it is stricter and is
    how a crew catches a bad batch, so it is the default.

    Parameters: lifts, (contact [percent], outcome of that lift), one pair a lift; requirement; rule.
    Result: see `AreaVerdict`; `next_step` tells the crew what to do.
    Errors: `ValueError` for a contact outside 0 to 100 % or another rule.

    >>> dry = required_contact("tile", "dry", "floor")
    >>> verdict = area_verdict([(90.0, "passed"), (85.0, "passed"), (70.0, "failed")], dry)
    >>> verdict.outcome, round(verdict.mean, 1), verdict.worst
    ('failed', 81.7, 70.0)
    >>> area_verdict([(90.0, "passed"), (85.0, "passed"), (70.0, "failed")], dry, rule="mean").passed
    True
    >>> area_verdict([(90.0, "passed"), (85.0, "passed")], dry).outcome
    'not complete'

    References: ANSI A108.5 §3.3.2 (2017): average contact; no fewer than three tiles removed for inspection.
    """
    _check_word("rule", rule, ("every lift", "mean"))
    judged = list(lifts)
    for percent, outcome in judged:
        _check_percent(percent)
        _check_word("verdict of a lift", outcome, get_args(Outcome))
    count, missing = len(judged), max(0, requirement.least_lifts - len(judged))
    if not judged:
        first = f"Lift {requirement.least_lifts} tiles."
        return AreaVerdict("not complete", None, None, 0, ("no tile has been lifted",), first)
    # Clamped, since the sum of equal readings may round to a hair beside them.
    worst, best = min(p for p, _ in judged), max(p for p, _ in judged)
    mean = min(max(sum(p for p, _ in judged) / count, worst), best)
    outcomes = [outcome for _, outcome in judged]
    failed, open_ones = outcomes.count("failed"), outcomes.count("not complete")
    reasons: list[str] = []
    low_mean = mean < requirement.minimum_percent
    if low_mean:
        shown, limit = format_against(mean, requirement.minimum_percent, "percent")
        reasons.append(f"the mean contact {shown} is below the {limit} required")
    if failed and rule == "every lift":
        reasons.append(f"{failed} of {count} lifts failed; the worst contact is {format_quantity(worst, 'percent')}")
    has_failed = bool(reasons)
    if open_ones:
        reasons.append(f"{open_ones} of {count} lifts {'is' if open_ones == 1 else 'are'} not complete")
    if missing:
        reasons.append(f"{count} of at least {requirement.least_lifts} tiles have been lifted")
    if has_failed:
        next_step = (
            "Stop setting. Take up what failed, scrape, comb again and reset; lift the neighbours "
            "until the good ones begin, change notch or back-butter if it repeats, and tell the foreman."
        )
    elif open_ones:
        next_step = "Read what is missing at the lifts that are not complete."
    elif missing:
        next_step = f"Lift {missing} more {'tile' if missing == 1 else 'tiles'}, well apart."
    else:
        next_step = "Go on, and lift again after every change of notch, batch or installer."
    verdict = outcome_of(failed=has_failed, complete=not (open_ones or missing))
    return AreaVerdict(verdict, mean, worst, count, tuple(reasons), next_step)


def allowed_void(tile_area_mm2: float, minimum_percent: float) -> float:
    """The whole area that may stay without mortar behind one tile.

    A_void = A (1 - p / 100)

    Parameters: tile_area_mm2 [mm2], above 0; minimum_percent [percent], 0 to 100. Result: [mm2].
    Errors: `ValueError` outside these.

    >>> round(allowed_void(304.8 * 304.8, 95) / 645.16, 1)  # 12 x 12 in, in square inches
    7.2
    """
    _check_percent(minimum_percent)
    if not tile_area_mm2 > 0:
        raise ValueError(f"a tile area of {tile_area_mm2} mm² is not a tile; give both sides above zero")
    return tile_area_mm2 * (1 - minimum_percent / 100)


def greatest_contact(bed_mm: float, gap_mm: float | Sequence[float]) -> float:
    """The most contact that the mortar there is can make over the gap there is.

    p = 100 mean(min(1, b / g)): mortar of volume b per area, squeezed flat, bridges a gap g over the share b
    / g. It is an upper bound: trapped air and ridges that did not collapse make it less.

    Parameters: bed_mm, mortar volume per area [mm3/mm2 = mm], at least 0; gap_mm, height between tile back
    and base [mm], one figure or several of equal area (a warped tile over a dip). Result: [percent], 0 to
    100.
    Errors: `ValueError` for a negative figure or no gap at all.

    >>> greatest_contact(2.25, 3.0)
    75.0
    >>> round(greatest_contact(3.0, [1.0, 2.0, 3.0, 4.0]), 2)
    93.75

    References: conservation of volume; common practice, no published source.
    """
    gaps = list(gap_mm) if isinstance(gap_mm, Sequence) else [gap_mm]
    if not gaps:
        raise ValueError("no gap was given; measure it with a straightedge and feelers at one place at least")
    if not bed_mm >= 0 or not all(gap >= 0 for gap in gaps):
        raise ValueError(f"bed {bed_mm} mm over gap {gap_mm} mm: neither can be below zero; measure again")
    return 100.0 * sum(1.0 if gap <= bed_mm else bed_mm / gap for gap in gaps) / len(gaps)


def gap_from_contact(bed_mm: float, percent: float) -> float:
    """The mean gap that a measured contact implies, for a bed of known volume: the inverse of
    `greatest_contact`.

    g = b / (p / 100)

    Parameters: bed_mm [mm], above 0; percent [percent], above 0 and below 100. Result: [mm].
    Limits: at 100 % the gap is only known to be no more than the bed, and at 0 % nothing is known: both
    refused.
    Errors: `OutOfRange` there, `ValueError` for other figures out of range.

    >>> gap_from_contact(2.25, 75.0)
    3.0

    References: conservation of volume; common practice, no published source.
    """
    _check_percent(percent)
    if not bed_mm > 0:
        raise ValueError(f"a bed of {bed_mm} mm holds no mortar; give a volume per area above zero")
    if percent == 0:
        raise OutOfRange("no contact at all says nothing about the gap; the tile never reached the mortar")
    if percent == 100:
        raise OutOfRange(f"full contact says only that the gap is {format_quantity(bed_mm, 'mm')} or less")
    return bed_mm / (percent / 100)


def bed_for_contact(gap_mm: float, percent: float) -> float:
    """The least mortar volume per area that can reach a contact over a mean gap.

    b = g p / 100

    Parameters: gap_mm [mm], at least 0; percent [percent], 0 to 100. Result: [mm3/mm2 = mm].
    Errors: `ValueError` outside these.

    >>> bed_for_contact(4.0, 95.0)
    3.8

    References: conservation of volume; common practice, no published source.
    """
    _check_percent(percent)
    if not gap_mm >= 0:
        raise ValueError(f"a gap of {gap_mm} mm cannot be; measure again")
    return gap_mm * percent / 100


_BS_5385 = Basis(
    "BS 5385-1",
    "",
    "2018",
    note="Outdoors, in wet places and on floors parts 2 to 4 ask for a full bed "
    "with as few voids as practicable (from memory).",
)


def solid_bed(tile_area_m2: float, mass_kg_per_m2: float, capacity_kg_per_m2: float) -> SolidBed:
    """Whether British practice wants an interior wall tile bedded solidly.

    Required from 0.1 m2 up, and for smaller tiles heavier than 70 % of what the background carries.

    Parameters: tile_area_m2 [m2], mass_kg_per_m2 of tile (with adhesive where the background's figure counts
    it)
    [kg/m2], capacity_kg_per_m2 of the background [kg/m2], all above 0; exactly 0.1 m2 is required, exactly 70
    % is not.
    Errors: `ValueError` outside these.

    >>> solid_bed(0.09, 15.0, 20.0).required  # on gypsum plaster, 20 kg/m2: the limit is 14
    True

    References: BS 5385-1 (2018 revision), as reported in trade literature.
    """
    for name, value in (
        ("tile area", tile_area_m2),
        ("mass per area", mass_kg_per_m2),
        ("background's capacity", capacity_kg_per_m2),
    ):
        if not value > 0:
            raise ValueError(f"the {name} is {value}; give a figure above zero")
    limit = 0.7 * capacity_kg_per_m2
    if tile_area_m2 >= 0.1:
        reason = f"the tile of {format_quantity(tile_area_m2, 'm2')} reaches 0.1 m²"
    elif mass_kg_per_m2 > limit:
        reason = f"{mass_kg_per_m2:g} kg/m² is over 70 % of what the background carries ({limit:g} kg/m²)"
    else:
        return SolidBed(False, limit, "the tile is small, and light for its background", _BS_5385)
    return SolidBed(True, limit, reason, _BS_5385)
