"""Mortar contact behind a tile: what a setting requires, and the verdict of a lift and of an area.

Contact is the share of the tile's back wetted and supported by mortar [percent of the back's area]. A void is
a connected patch without mortar [mm2]. The American figures follow ANSI A108.5 (tile) and A108.19 (gauged
panels).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.checks import measured, not_negative, one_of, positive, within
from fieldassist.trade.limits import Limit, exactly
from fieldassist.trade.message import Figure, Message, Refused, message
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

CHOSEN_NOT_DRAWN = Message("coverage-chosen-not-drawn")


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
    notes: tuple[Message, ...] = ()
    void_basis: Basis | None = None


@dataclass(frozen=True, slots=True)
class LiftVerdict:
    """One lift: `reasons` says what failed, `unread` what the requirement asks for and nobody read."""

    outcome: Outcome
    reasons: tuple[Message, ...]
    unread: tuple[Message, ...]

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
    reasons: tuple[Message, ...]
    next_step: Message
    caution: Message = CHOSEN_NOT_DRAWN

    @property
    def passed(self) -> bool:
        """Whether enough tiles were lifted and all that is required holds."""
        return self.outcome == "passed"


@dataclass(frozen=True, slots=True)
class SolidBed:
    """Whether a tile is bedded solidly, and the mass per area [kg/m2] above which a small one is."""

    required: bool
    limit_kg_per_m2: float
    reason: Message
    basis: Basis


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
    Errors: `Refused` for another word.

    >>> required_contact("tile", "wet", "wall").minimum_percent
    95.0
    >>> required_contact("gauged panel", "dry", "floor").basis.document
    'ANSI A108.19'

    References: [1] ANSI A108.5 §3.3.2 (2017), §2.2.3 in newer editions. [2] ANSI A108.19 (2017) and A108.20.
    [3] TCNA Handbook (2018), natural stone coverage. All as reported in trade literature.
    """
    one_of("product", product, get_args(Product))
    one_of("place", place, get_args(Place))
    one_of("surface", surface, get_args(Surface))
    void, edge, repeat = TWO_SQUARE_INCHES_MM2, TWO_INCHES_MM, Message("coverage-no-interval")
    if product == "tile":
        contact = BASES["tile-contact"]
        if place == "dry":
            notes = (repeat, message("coverage-void-practice", void=exactly(void, "mm2"), edge=exactly(edge, "mm")))
            return Requirement(80.0, None, None, True, 3, contact, notes, contact)
        notes = (Message("coverage-back-butter"), repeat)
        return Requirement(95.0, void, edge, True, 3, contact, notes, BASES["tile-voids"])
    if product == "natural stone":
        notes = (Message("coverage-stone-back"), Message("coverage-stone-lifts"))
        return Requirement(95.0, void, edge, True, 3, BASES["stone-contact"], notes, BASES["stone-voids"])
    if place == "dry":
        percent, basis = (80.0, "panel-contact") if surface == "wall" else (85.0, "panel-floor-contact")
    else:
        percent, basis = 95.0, f"panel-{place}-contact"
    notes = (message("coverage-panel-edges", edge=exactly(edge, "mm")), Message("coverage-panel-lifts"))
    return Requirement(percent, void, edge, True, 3, BASES[basis], notes, BASES["panel-contact"])


def _check_percent(percent: float) -> None:
    within("contact", percent, 0, 100, "percent")


def _broken(reading: float | None, limit: Limit, code: str) -> list[Message]:
    """Why a reading in the limit's unit breaks it; nothing where it keeps to it or was not taken."""
    if reading is None:
        return []
    judged = limit.judge(exactly(reading, limit.unit))
    return [] if judged.passed else [message(code, **judged.figures)]


def lift_verdict(
    percent: float,
    requirement: Requirement,
    largest_void_mm2: float | None = None,
    void_to_edge_mm: float | None = None,
    corners_supported: bool | None = None,
) -> LiftVerdict:
    """Judge one lifted tile against a requirement.

    Passes when percent >= minimum, largest void <= limit, nearest void to the edge >= clear strip and corners
    supported, each exactly at its limit included. What the requirement asks for and nobody read is named in
    `unread` and leaves the lift "not complete": it has neither passed nor failed. What it does not ask for
    (the void and the edges of tile in a dry interior) is no gap when it is not read. At 100 % there is no
    void to measure, so nothing is missing.

    Parameters: percent [percent of the back]; largest_void_mm2 [mm2]; void_to_edge_mm, distance from the
    tile's edge to the nearest void [mm]; corners_supported.
    Errors: `Refused` for a contact outside 0 to 100 % or a negative measurement.

    >>> wet = required_contact("tile", "wet", "wall")
    >>> lift_verdict(95.0, wet, largest_void_mm2=400, void_to_edge_mm=60, corners_supported=True)
    LiftVerdict(outcome='passed', reasons=(), unread=())
    >>> lift_verdict(95.0, wet).outcome
    'not complete'
    >>> [reason.code for reason in lift_verdict(94, wet).reasons]
    ['coverage-contact-short']

    References: see `required_contact`.
    """
    _check_percent(percent)
    need, gap = requirement, percent < 100
    least = Limit.of(need.minimum_percent, None, "percent", need.basis)
    reasons = _broken(percent, least, "coverage-contact-short")
    unread: list[Message] = []
    if largest_void_mm2 is not None:
        not_negative("largest-void", largest_void_mm2, "mm2")
    if void_to_edge_mm is not None:
        not_negative("void-to-edge", void_to_edge_mm, "mm")
    voids = need.void_basis or need.basis
    if need.largest_void_mm2 is not None:
        most = Limit.of(None, need.largest_void_mm2, "mm2", voids)
        reasons += _broken(largest_void_mm2, most, "coverage-void-too-large")
        if largest_void_mm2 is None and gap:
            unread.append(Message("coverage-unread-void"))
    if need.edge_clear_mm is not None:
        clear = Limit.of(need.edge_clear_mm, None, "mm", voids)
        reasons += _broken(void_to_edge_mm, clear, "coverage-void-near-edge")
        if void_to_edge_mm is None and gap:
            unread.append(Message("coverage-unread-edge"))
    if need.corners and corners_supported is None and gap:
        unread.append(Message("coverage-unread-corners"))
    if need.corners and corners_supported is False:
        reasons.append(Message("coverage-corner-unsupported"))
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
    Errors: `Refused` for a contact outside 0 to 100 % or another rule.

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
    one_of("rule", rule, ("every lift", "mean"))
    judged = list(lifts)
    for percent, outcome in judged:
        _check_percent(percent)
        one_of("verdict-of-a-lift", outcome, get_args(Outcome))
    count, missing = len(judged), max(0, requirement.least_lifts - len(judged))
    if not judged:
        first = message("coverage-lift-first", lifts=requirement.least_lifts)
        return AreaVerdict("not complete", None, None, 0, (Message("coverage-nothing-lifted"),), first)
    # Clamped, since the sum of equal readings may round to a hair beside them.
    worst, best = min(p for p, _ in judged), max(p for p, _ in judged)
    mean = min(max(sum(p for p, _ in judged) / count, worst), best)
    outcomes = [outcome for _, outcome in judged]
    failed, open_ones = outcomes.count("failed"), outcomes.count("not complete")
    least = Limit.of(requirement.minimum_percent, None, "percent", requirement.basis)
    reasons = _broken(mean, least, "coverage-mean-short")
    if failed and rule == "every lift":
        figures: dict[str, Figure] = {"failed": failed, "lifts": count, "worst": exactly(worst, "percent")}
        reasons.append(message("coverage-lifts-failed", **figures))
    has_failed = bool(reasons)
    if open_ones:
        reasons.append(message("coverage-lifts-open", open=open_ones, lifts=count))
    if missing:
        reasons.append(message("coverage-too-few-lifts", lifts=count, least=requirement.least_lifts))
    if has_failed:
        next_step = Message("coverage-stop-setting")
    elif open_ones:
        next_step = Message("coverage-read-the-rest")
    elif missing:
        next_step = message("coverage-lift-more", missing=missing)
    else:
        next_step = Message("coverage-go-on")
    verdict = outcome_of(failed=has_failed, complete=not (open_ones or missing))
    return AreaVerdict(verdict, mean, worst, count, tuple(reasons), next_step)


def allowed_void(tile_area_mm2: float, minimum_percent: float) -> float:
    """The whole area that may stay without mortar behind one tile.

    A_void = A (1 - p / 100)

    Parameters: tile_area_mm2 [mm2], above 0; minimum_percent [percent], 0 to 100. Result: [mm2].
    Errors: `Refused` outside these.

    >>> round(allowed_void(304.8 * 304.8, 95) / 645.16, 1)  # 12 x 12 in, in square inches
    7.2
    """
    _check_percent(minimum_percent)
    positive("tile-area", tile_area_mm2, "mm2")
    return tile_area_mm2 * (1 - minimum_percent / 100)


def greatest_contact(bed_mm: float, gap_mm: float | Sequence[float]) -> float:
    """The most contact that the mortar there is can make over the gap there is.

    p = 100 mean(min(1, b / g)): mortar of volume b per area, squeezed flat, bridges a gap g over the share b
    / g. It is an upper bound: trapped air and ridges that did not collapse make it less.

    Parameters: bed_mm, mortar volume per area [mm3/mm2 = mm], at least 0; gap_mm, height between tile back
    and base [mm], one figure or several of equal area (a warped tile over a dip). Result: [percent], 0 to
    100.
    Errors: `Refused` for a negative figure or no gap at all.

    >>> greatest_contact(2.25, 3.0)
    75.0
    >>> round(greatest_contact(3.0, [1.0, 2.0, 3.0, 4.0]), 2)
    93.75

    References: conservation of volume; common practice, no published source.
    """
    gaps = list(gap_mm) if isinstance(gap_mm, Sequence) else [gap_mm]
    if not gaps:
        raise Refused(message("coverage-no-gap"))
    not_negative("bed", bed_mm, "mm")
    for gap in gaps:
        not_negative("gap", gap, "mm")
    return 100.0 * sum(1.0 if gap <= bed_mm else bed_mm / gap for gap in gaps) / len(gaps)


def gap_from_contact(bed_mm: float, percent: float) -> float:
    """The mean gap that a measured contact implies, for a bed of known volume: the inverse of
    `greatest_contact`.

    g = b / (p / 100)

    Parameters: bed_mm [mm], above 0; percent [percent], above 0 and below 100. Result: [mm].
    Limits: at 100 % the gap is only known to be no more than the bed, and at 0 % nothing is known: both
    refused.
    Errors: `OutOfRange` there, `Refused` for other figures out of range.

    >>> gap_from_contact(2.25, 75.0)
    3.0

    References: conservation of volume; common practice, no published source.
    """
    _check_percent(percent)
    positive("bed", bed_mm, "mm")
    if percent == 0:
        raise OutOfRange(message("coverage-no-contact-at-all"))
    if percent == 100:
        raise OutOfRange(message("coverage-full-contact", bed=exactly(bed_mm, "mm")))
    return bed_mm / (percent / 100)


def bed_for_contact(gap_mm: float, percent: float) -> float:
    """The least mortar volume per area that can reach a contact over a mean gap.

    b = g p / 100

    Parameters: gap_mm [mm], at least 0; percent [percent], 0 to 100. Result: [mm3/mm2 = mm].
    Errors: `Refused` outside these.

    >>> bed_for_contact(4.0, 95.0)
    3.8

    References: conservation of volume; common practice, no published source.
    """
    _check_percent(percent)
    not_negative("gap", gap_mm, "mm")
    return gap_mm * percent / 100


def solid_bed(tile_area_m2: float, mass_kg_per_m2: float, capacity_kg_per_m2: float) -> SolidBed:
    """Whether British practice wants an interior wall tile bedded solidly.

    Required from 0.1 m2 up, and for smaller tiles heavier than 70 % of what the background carries.

    Parameters: tile_area_m2 [m2], mass_kg_per_m2 of tile, with adhesive where the background's figure counts it
    [kg/m2], capacity_kg_per_m2 of the background [kg/m2], all above 0; exactly 0.1 m2 is required, exactly 70 %
    is not.
    Errors: `Refused` outside these.

    >>> solid_bed(0.09, 15.0, 20.0).required  # on gypsum plaster, 20 kg/m2: the limit is 14
    True

    References: BS 5385-1 (2018 revision), as reported in trade literature.
    """
    positive("tile-area", tile_area_m2, "m2")
    positive("mass-per-area", mass_kg_per_m2)
    positive("capacity", capacity_kg_per_m2)
    limit, basis = 0.7 * capacity_kg_per_m2, BASES["solid-bed"]
    if tile_area_m2 >= 0.1:
        reason = message("coverage-solid-by-area", area=exactly(tile_area_m2, "m2"), limit=exactly(0.1, "m2"))
    elif mass_kg_per_m2 > limit:
        masses = {"mass": measured(mass_kg_per_m2, "count"), "most": measured(limit, "count")}
        reason = message("coverage-solid-by-mass", **masses)
    else:
        return SolidBed(False, limit, Message("coverage-not-solid"), basis)
    return SolidBed(True, limit, reason, basis)
