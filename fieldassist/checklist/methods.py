"""Whether a method can do: its bed against the mortar's limits, and the contact that its mortar can reach.

One reckoning (`advise`) for the engine, the screens and the documents. It is an upper bound: mortar is neither made nor
lost, so what it cannot reach no hand reaches, while what it can reach still has to be shown by a lift. So it only keeps
from work what cannot be; a mock-up, or a good lift of this very method in the area, says more than it does.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from fieldassist.checklist import rules
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import Method, MockUp, TrialShown, Trowel
from fieldassist.checklist.state import Area, LiftRecord
from fieldassist.trade import coverage, ridges
from fieldassist.trade.message import Figure, Message, message, term
from fieldassist.trade.mortar import BedLimits
from fieldassist.trade.quantities import Quantity

# What a coat adds that is keyed into the back with the flat side: it fills the back's profile and is scraped flush, so
# that nothing of it counts as bed. Common practice, no published source.
KEYED_SKIM_MM = 0.0

Seated: TypeAlias = Literal["by hand", "vibrated"]
# What shows that a method does in an area, whatever the reckoning says.
Proof = Literal["lift", "mock-up"]


@dataclass(frozen=True, slots=True)
class Ground:
    """What a method is reckoned over.

    limits: of the mortar's bed; piece_mm: its two sides; warpage_mm, base_mm: how far piece and base are off under one
    piece [mm]; minimum_percent: the contact that is required.
    """

    limits: BedLimits
    piece_mm: tuple[float, float]
    warpage_mm: float
    base_mm: float
    minimum_percent: float


@dataclass(frozen=True, slots=True)
class MethodVerdict:
    """What the reckoning says of a method.

    bed_mm: mean, after collapse [mm]; contact_percent: the most that its mortar can reach; works: all of it holds;
    possible: nothing but an index of judgement stands against it: its ridges may not collapse by hand; reasons: why it
    works, or why not.
    """

    bed_mm: float
    contact_percent: float
    works: bool
    possible: bool
    reasons: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """A method that can do, and how it is called for: the plan's name for it, or the one part that changes."""

    method: Method
    name: str
    part: tuple[str, str] | None
    bed_mm: float


def advise(
    notches: Mapping[str, ridges.Notch], ground: Ground, *, skim_mm: float, angle_deg: float, seated: Seated
) -> tuple[ridges.Advice, ...]:
    """Every notch on one side and on both over the ground, as `ridges.advise` ranks them.

    Errors: `Refused` for figures that cannot be.
    """
    return ridges.advise(
        notches,
        ground.limits,
        tile_mm=ground.piece_mm,
        warpage_mm=ground.warpage_mm,
        substrate_mm=ground.base_mm,
        skim_mm=skim_mm,
        minimum_percent=ground.minimum_percent,
        angle_deg=angle_deg,
        setting=seated,
    )


def skim_of(method: Method) -> float:
    """What the coat in the back adds to the bed [mm]."""
    return KEYED_SKIM_MM if method.back == "keyed" else 0.0


def seated(product: coverage.Product, method: Method) -> Seated:
    """How a method's ridges collapse: by hand, also where a piece is beaten in, or with a vibrator.

    Panels are seated with a vibrator where nothing else is said (ANSI A108.19 asks it of their edges, as reported in
    trade literature; of the rest common practice, no published source).
    """
    vibrated = method.seating == "vibrated" or (product == "gauged panel" and method.seating != "by hand")
    return "vibrated" if vibrated else "by hand"


def ground(area: Area) -> Ground:
    """What the methods of an area are reckoned over: the plan's piece and mortar, and the base as it was read."""
    piece, facts = area.plan.piece, area.facts
    return Ground(
        limits=rules.bed_limits_of(facts),
        piece_mm=(canonical(piece.length), canonical(piece.width)),
        warpage_mm=canonical(piece.warpage) if piece.warpage else 0.0,
        base_mm=base_mm(area),
        minimum_percent=rules.requirement(facts).minimum_percent,
    )


def base_mm(area: Area) -> float:
    """How far the base is off under one piece, as it was read under the straightedge [mm]; 0 while nobody has."""
    gap = base_gap(area)
    return 0.0 if gap is None else canonical(gap)


def base_gap(area: Area) -> Quantity | None:
    """The gap under the straightedge that says how far the base is off under one piece; None while it was not read."""
    return area.progress.gaps.get(rules.flatness_rule(area.facts))


def judge(area: Area, method: Method) -> MethodVerdict:
    """What the reckoning says of a method in an area."""
    key = (method, base_mm(area))
    if key not in area.reckoned:
        area.reckoned[key] = _judge(ground(area), method, seated(area.plan.piece.product, method))
    return area.reckoned[key]


def _judge(over: Ground, method: Method, how: Seated) -> MethodVerdict:
    def one(by: Seated) -> ridges.Advice:
        notch = {"it": rules.notch_of(method)}
        found = advise(notch, over, skim_mm=skim_of(method), angle_deg=method.angle, seated=by)
        return next(each for each in found if each.sides == method.sides)

    own = one(how)
    possible = own.works or one("vibrated").works
    return MethodVerdict(own.bed_mm, own.greatest_contact_percent, own.works, possible, tuple(own.reasons))


# --- what says otherwise ------------------------------------------------------------------------------------------


def method_of(area: Area, lift: LiftRecord) -> Method:
    """The method with which a lifted tile was set."""
    return area.methods_used[area.progress.runs[lift.run - 1][1]]


def proof(area: Area, method: Method) -> Proof | None:
    """What shows that a method does here: a good lift of it, else a mock-up."""
    if any(lift.verdict == "passed" and method_of(area, lift) == method for lift in area.progress.lifts.values()):
        return "lift"
    return "mock-up" if method == area.mocked_up else None


def stood_in(area: Area) -> frozenset[int]:
    """The runs whose first lift the mock-up stands in for: the first one with the method that it has shown."""
    method = area.mocked_up
    runs = (n for n, (_, index) in enumerate(area.progress.runs, start=1) if area.methods_used[index] == method)
    first = next(runs, None) if method is not None else None
    return frozenset() if first is None else frozenset({first})


def vouched(area: Area, method: Method) -> bool:
    """Whether the foreman has given his word for a method here."""
    return any(word.method == method for word in area.words_given)


def stands(area: Area, method: Method) -> bool:
    """Whether a method may be worked with: by the reckoning, by what was shown, or on the foreman's word."""
    return judge(area, method).possible or proof(area, method) is not None or vouched(area, method)


def failed_here(area: Area) -> frozenset[Method]:
    """The methods of lifts that failed and are not cured yet."""
    lifts = (area.progress.lift_of(each.section, each.round) for each in area.progress.failures.values())
    return frozenset(method_of(area, lift) for lift in lifts if lift is not None)


Rests: TypeAlias = Literal["reckoning", "lift", "mock-up", "word", "nothing"]


def rests_on(area: Area, method: Method) -> Rests:
    """What lets a method be worked with: what was shown first, then the reckoning, then the foreman's word."""
    shown = proof(area, method)
    if shown is not None:
        return shown
    if judge(area, method).possible:
        return "reckoning"
    return "word" if vouched(area, method) else "nothing"


def rest_told(area: Area, method: Method) -> Message:
    """The same in words."""
    bed, rests, made = millimetres(judge(area, method).bed_mm), rests_on(area, method), area.plan.mock_up
    if rests != "word" and made is not None and made.trial is not None and method == _released(area, made):
        return _trial_told(made.trial, bed)
    if rests == "mock-up" and made is not None:
        contact = Quantity(Fraction(str(made.percent)), "percent")
        return message("method-rests-mock-up", date=made.date, name=made.by, contact=contact, bed=bed)
    if rests == "word":
        word = next(each for each in reversed(area.words_given) if each.method == method)
        return message("method-rests-word", name=word.by, word=word.told, bed=bed)
    if rests == "lift":
        return message("method-rests-lift", bed=bed)
    return (
        message("method-rests-reckoning", bed=bed) if rests == "reckoning" else message("method-rests-nothing", bed=bed)
    )


def _released(area: Area, made: MockUp) -> Method | None:
    """The method that a mock-up is of, whether or not it passed as a lifted tile would."""
    return area.plan.method if made.method is None else area.named_methods.get(made.method)


def _trial_told(shown: TrialShown, bed: Quantity) -> Message:
    """What the trial has shown from which a method was released. Contact is rounded down, as it always is."""
    return message(
        "method-rests-trial",
        date=shown.date,
        area=shown.area,
        letter=shown.letter,
        contact=Quantity(Fraction(int(shown.mean)), "percent"),
        spanned="no" if shown.low is None else "yes",
        low=int(shown.low or 0),
        high=int(shown.high or 0),
        likely="no" if shown.chance is None else "yes",
        chance=term("trial-chance", shown.chance) if shown.chance is not None else "",
        name=shown.by,
        head=f"{shown.head[:16]} …",
        bed=bed,
    )


# --- what would do ------------------------------------------------------------------------------------------------

# What a notch is, apart from how it is worked with.
NOTCH = ("family", "width", "depth", "spacing", "angle")
# What is tried besides the plan's methods: one part of the method in use, changed.
_PARTS = (("sides", "both"), ("sides", "one"), ("seating", "vibrated"))
MOST_WAYS = 3


def ways(area: Area, method: Method, failed: Collection[Method] = ()) -> tuple[Way, ...]:
    """What can do in place of a method, at most three, the nearest first: what leaves the bed that differs least.

    What may not collapse by hand comes after what works. failed: methods that a lift has shown not to do; nothing that
    lays less mortar than they did is proposed then. Nearest by bed is common practice, no published source.
    """
    own = judge(area, method).bed_mm
    least = max((judge(area, each).bed_mm for each in failed), default=0.0)
    found: dict[Method, Way] = {}
    for part, value in _PARTS:
        other = changed_part(method, part, value)
        found.setdefault(other, Way(other, name_of(area, other), (part, value), judge(area, other).bed_mm))
    for name, other in area.named_methods.items():
        found.setdefault(other, Way(other, name, None, judge(area, other).bed_mm))
    fit = [
        way
        for way in found.values()
        if way.method != method
        and way.method not in failed
        and judge(area, way.method).possible
        and way.bed_mm >= least - 1e-9
    ]
    return tuple(sorted(fit, key=lambda way: (not judge(area, way.method).works, abs(way.bed_mm - own))))[:MOST_WAYS]


def changed_part(method: Method, part: str, value: str) -> Method:
    """A method with one part changed."""
    return method.model_copy(update={part: value})


def name_of(area: Area, method: Method) -> str:
    """The plan's name for a method, "" where it has none."""
    return next((name for name, one in area.named_methods.items() if one == method), "")


# --- telling ------------------------------------------------------------------------------------------------------


def told(method: Method) -> Message:
    """A method in words."""
    return message(
        "method-told",
        family=message("method-family", family=method.family),
        width=method.width,
        depth=method.depth,
        spacing=method.spacing,
        angle=Quantity(Fraction(str(method.angle)), "count"),
        sides=part_words("sides", method.sides),
        back=part_words("back", method.back),
        movement=part_words("movement", method.movement),
        seating=part_words("seating", method.seating),
    )


def called(name: str, method: Method) -> Figure:
    """A method by its name, in words where it has none."""
    return name or told(method)


def trowel_words(trowel: Trowel | Method) -> Message:
    """A notch and how its trowel is held, in words."""
    return message(
        "method-trowel",
        family=message("method-family", family=trowel.family),
        width=trowel.width,
        depth=trowel.depth,
        spacing=trowel.spacing,
        angle=Quantity(Fraction(str(trowel.angle)), "count"),
    )


def part_words(part: str, value: str) -> Message:
    """One part of a method, in words."""
    return term(f"method-{part}", value)


def millimetres(value: float) -> Quantity:
    """A reckoned length as a figure of a message."""
    return Quantity(Fraction(str(round(value, 1))), "mm")
