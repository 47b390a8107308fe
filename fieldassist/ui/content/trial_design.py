"""A trial while it is designed: what is tried, each with each, as the fields of its area hold it; and what is asked of
it beforehand."""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import product
from typing import Any, Literal, TypeAlias, get_args

from fieldassist.checklist.plan import (
    LETTERS,
    MOST_COMBINATIONS,
    AreaPlan,
    BackCoat,
    CombedSides,
    Combination,
    Role,
    Seating,
    Stroke,
    Trowel,
)
from fieldassist.trade.message import Message, Several, message
from fieldassist.trade.quantities import Quantity, Units
from fieldassist.trial.design import hopes, needs
from fieldassist.ui.content.site_draft import (
    NOTCHES,
    At,
    FieldAsked,
    PlanDraft,
    lengths,
    method_fields,
    notch_name,
)
from fieldassist.ui.content.trial_words import notch_told

CHECKLIST = "mock-up"
# What is tried, each with each, besides the notch.
TriedFactor: TypeAlias = Literal["sides", "back", "movement", "seating"]
TRIED: Mapping[TriedFactor, tuple[str, ...]] = {
    "sides": get_args(CombedSides),
    "back": get_args(BackCoat),
    "movement": get_args(Stroke),
    "seating": get_args(Seating),
}
# How many samples of each are offered: two show intervals without a rank, from five on chances about a limit of 95 are
# told (simulated, see the analysis).
REPEATS = (2, 3, 4, 5, 8)
# How its bed is measured and how a sample is looked at, and the settings that a trial is for, as a plan has them.
BEDS = ("gauge", "mass", "none")
SEEN = ("lifted", "through the sheet")
PLACES = ("dry", "wet", "exterior")
SURFACES = ("wall", "floor")
_SIZES = ("family", "width", "depth", "spacing", "angle")
# What a new trial begins with: the usual two notches, both ways.
_FIRST = ("half inch square", "half inch slanted")
_FIRST_REPEATS = 3
# The questions that are proposed: what the one adds to the other.
_ASKED: tuple[tuple[TriedFactor, str, str], ...] = (
    ("seating", "by hand", "vibrated"),
    ("seating", "beaten", "vibrated"),
    ("sides", "one", "both"),
    ("movement", "none", "one way"),
    ("back", "bare", "keyed"),
)

# A combination by what it is made of: its notch by name, then the factors in their order.
TriedWay: TypeAlias = tuple[str, str, str, str, str]


@dataclass(frozen=True, slots=True)
class TriedChoices:
    """What is chosen to be tried. notches: by name; own: sizes of those that are no common ones; left_out: made of what
    is chosen and not run; shown: run although the reckoning rules them out; slide, seconds: as a file has them, ""
    where nobody said; exact: whether this is all that the trial's combinations hold."""

    notches: tuple[str, ...] = _FIRST
    sides: tuple[str, ...] = ("one", "both")
    back: tuple[str, ...] = ("keyed",)
    movement: tuple[str, ...] = ("there and back",)
    seating: tuple[str, ...] = ("beaten",)
    own: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    left_out: frozenset[TriedWay] = frozenset()
    shown: frozenset[TriedWay] = frozenset()
    slide: str = ""
    seconds: str = ""
    exact: bool = True

    @property
    def every(self) -> tuple[TriedWay, ...]:
        """Each with each."""
        return tuple(product(self.notches, self.sides, self.back, self.movement, self.seating))

    @property
    def ways(self) -> tuple[TriedWay, ...]:
        """Every combination that is planned, in the order of its letters."""
        return tuple(way for way in self.every if way not in self.left_out)

    def toggled(self, factor: TriedFactor | Literal["notches"], value: str) -> TriedChoices:
        """With one value more, or one less; the last of a factor stays."""
        now: tuple[str, ...] = getattr(self, factor)
        order = (*NOTCHES, *self.own) if factor == "notches" else TRIED[factor]
        chosen = {*now} ^ {value}
        then = tuple(each for each in order if each in chosen)
        changed: dict[str, Any] = {factor: then or now}
        return replace(self, **changed)

    def fields(self) -> list[dict[str, Any]]:
        """The combinations as a file has them."""
        return [self.combination(way) for way in self.ways]

    def combination(self, way: TriedWay) -> dict[str, Any]:
        """One of them."""
        notch, sides, back, movement, seating = way
        made = dict(self.own[notch]) if notch in self.own else _sizes(notch)
        made |= {"notch": notch, "sides": sides, "back": back, "movement": movement, "seating": seating}
        if self.slide and movement != "none":
            made["slide"] = self.slide
        if self.seconds and seating == "vibrated":
            made["seconds"] = self.seconds
        return made | ({"shown": True} if way in self.shown else {})


def _sizes(notch: str) -> dict[str, Any]:
    """A common notch; how its trowel is held is left as a trial's file leaves it."""
    return {part: value for part, value in method_fields(notch).items() if part != "angle"}


def choices_of(combinations: Sequence[Mapping[str, Any]]) -> TriedChoices:
    """What is chosen, read back from the combinations of a trial as a file has them, without `try`."""
    own: dict[str, Mapping[str, Any]] = {}
    ways: list[TriedWay] = []
    for one in combinations:
        sizes = {part: one[part] for part in _SIZES if part in one}
        name = notch_name(sizes) if "angle" not in sizes else None
        if name is None:
            name = str(one.get("notch") or f"{sizes['width']} x {sizes['depth']}, {sizes['spacing']}")
            own.setdefault(name, sizes)
        defaults = ("one", "keyed", "there and back", "beaten")
        rest = [str(one.get(factor, default)) for factor, default in zip(TRIED, defaults, strict=True)]
        ways.append((name, *rest))  # type: ignore[arg-type]
    found = {
        factor: tuple(value for value in values if any(way[at] == value for way in ways))
        for at, (factor, values) in enumerate(TRIED.items(), start=1)
    }
    named = tuple(name for name in (*NOTCHES, *own) if any(way[0] == name for way in ways))
    every = product(named, *found.values())
    made = TriedChoices(
        named,
        found["sides"],
        found["back"],
        found["movement"],
        found["seating"],
        own=own,
        left_out=frozenset(every) - frozenset(ways),  # type: ignore[arg-type]
        shown=frozenset(way for way, one in zip(ways, combinations, strict=True) if one.get("shown")),
        slide=next((str(one["slide"]) for one in combinations if one.get("slide")), ""),
        seconds=next((str(one["seconds"]) for one in combinations if one.get("seconds")), ""),
    )
    same = _comparable(made.fields()) == _comparable(combinations)
    return replace(made, exact=same)


def _comparable(combinations: Sequence[Mapping[str, Any]]) -> set[Combination]:
    """Without what a notch is called."""
    return {Combination.model_validate(one).model_copy(update={"notch": ""}) for one in combinations}


# --- the draft ----------------------------------------------------------------------------------------------------


def with_new_trial(draft: PlanDraft) -> tuple[PlanDraft, int]:
    """One more area of a plan in which methods are tried, made of what the last one is made of; and which it is."""
    areas = [dict(area) for area in draft.get("areas") or ()]
    begun: dict[str, Any] = {"checklist": CHECKLIST}
    real = [area for area in areas if not area.get("trial")]
    if real:
        begun |= {key: copy.deepcopy(real[-1][key]) for key in ("where", "piece", "mortar", "joint") if key in real[-1]}
    taken = {str(area.get("name") or "") for area in areas}
    # An area's name is said: a trial is called so, and a second one as nobody else is.
    begun["name"] = next(name for name in _names() if name not in taken)
    crew = [str(one["name"]) for one in draft.get("crew") or () if one.get("name")]
    setting = [str(one["name"]) for one in draft.get("crew") or () if one.get("role") == Role.INSTALLER.value]
    place, surface = setting_of(str(real[-1].get("checklist") or "")) if real else ("dry", "wall")
    begun["trial"] = {
        "repeats": _FIRST_REPEATS,
        "place": place,
        "surface": surface,
        "readers": [name for name in (*setting, *crew) if name][:1],
    }
    draft = draft.put([*areas, begun], "areas")
    return with_choices(draft, len(areas), TriedChoices()), len(areas)


def _names() -> Sequence[str]:
    return ("mock-up", *(f"mock-up {word}" for word in ("two", "three", "four", "five", "six", "seven", "eight")))


def setting_of(checklist: str) -> tuple[str, str]:
    """The place and the surface of the setting that a checklist of ours is for; a dry wall for another one.

    >>> setting_of("wet-area-wall"), setting_of("dry-floor")
    (('wet', 'wall'), ('dry', 'floor'))
    """
    place = "wet" if "wet" in checklist else "exterior" if "exterior" in checklist else "dry"
    return place, "floor" if "floor" in checklist else "wall"


def with_choices(draft: PlanDraft, index: int, choices: TriedChoices) -> PlanDraft:
    """With what is tried, and with those of the questions that still have a pair, or that are newly proposed."""
    before = proposed(draft, index)
    asked = list(draft.get("areas", index, "trial", "questions") or ())
    draft = draft.put(choices.fields(), "areas", index, "trial", "combinations")
    now = proposed(draft, index)
    kept = [one for one in asked if one in now or one.get("letters")]
    fresh = [one for one in now if one not in before]
    return draft.put([*kept, *fresh], "areas", index, "trial", "questions")


def choices_in(draft: PlanDraft, index: int) -> TriedChoices:
    """What is tried as it stands in a draft."""
    return choices_of(draft.get("areas", index, "trial", "combinations") or ())


def proposed(draft: PlanDraft, index: int) -> tuple[dict[str, str], ...]:
    """The questions that what is tried can answer: those that matter most are proposed, vibrating first."""
    combinations = draft.get("areas", index, "trial", "combinations")
    if not combinations:
        return ()
    choices = choices_of(combinations)
    return tuple(
        {"part": factor, "one": one, "other": other}
        for factor, one, other in _ASKED
        if one in getattr(choices, factor) and other in getattr(choices, factor)
    )


def with_question(draft: PlanDraft, index: int, question: Mapping[str, str]) -> PlanDraft:
    """With one question more that is asked beforehand, or one less."""
    asked = [dict(one) for one in draft.get("areas", index, "trial", "questions") or ()]
    then = [one for one in asked if one != question] if dict(question) in asked else [*asked, dict(question)]
    return draft.put(then, "areas", index, "trial", "questions")


def with_reader(draft: PlanDraft, index: int, name: str) -> PlanDraft:
    """With one reader more, or one less: at least one, at most two, of whom the earlier one makes room."""
    now = [str(one) for one in draft.get("areas", index, "trial", "readers") or ()]
    then = [one for one in now if one != name] if name in now else [*now, name][-2:]
    return draft.put(then or now, "areas", index, "trial", "readers")


def entered_figures(draft: PlanDraft, index: int, units: Units) -> tuple[FieldAsked, ...]:
    """What is entered in figures: how far a piece is moved and how long it is vibrated where any is, and the piece."""
    at: At = ("areas", index)
    combinations = draft.get(*at, "trial", "combinations") or ()
    moved = next((k for k, one in enumerate(combinations) if one.get("movement") != "none"), None)
    vibrated = next((k for k, one in enumerate(combinations) if one.get("seating") == "vibrated"), None)
    found = []
    if moved is not None:
        way: At = (*at, "trial", "combinations", moved, "slide")
        found.append(FieldAsked(way, "slide", "number", lengths(units), needed=False))
    if vibrated is not None:
        way = (*at, "trial", "combinations", vibrated, "seconds")
        found.append(FieldAsked(way, "seconds", "number", ("s",), needed=False))
    sides = ("length", "width", "thickness")
    return (*found, *(FieldAsked((*at, "piece", name), name, "number", lengths(units)) for name in sides))


def area_words(index: int) -> tuple[FieldAsked, ...]:
    """What is entered in words: what the trial is called, and where it is made."""
    at: At = ("areas", index)
    return FieldAsked((*at, "name"), "area", "words"), FieldAsked((*at, "where"), "where", "words")


def put_figure(draft: PlanDraft, index: int, asked: FieldAsked, value: str) -> PlanDraft:
    """With a figure or words that were entered: how far and how long are those of every combination."""
    if asked.name in ("slide", "seconds"):
        changed: dict[str, Any] = {asked.name: value}
        return with_choices(draft, index, replace(choices_in(draft, index), **changed))
    if asked.name in ("length", "width", "thickness") and draft.get("areas", index, "piece", "product") is None:
        draft = draft.put("tile", "areas", index, "piece", "product")
    return draft.put(value or None, *asked.at)


def notches_offered(choices: TriedChoices) -> tuple[str, ...]:
    """The notches that may be tried, by name: the usual ones, and those that a file brought."""
    return (*NOTCHES, *choices.own)


def trowel_of_name(choices: TriedChoices, name: str) -> Trowel:
    """A notch that is offered."""
    sizes = choices.own[name] if name in choices.own else _sizes(name)
    return Trowel.model_validate({part: sizes[part] for part in _SIZES if part in sizes})


# --- what it comes to ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WayOffered:
    """A combination of what is chosen. letter: "" where it is left out; reasons: why the reckoning rules it out, ()
    where it does not; shown: it is run all the same."""

    way: TriedWay
    letter: str
    combination: Combination
    reasons: tuple[Message, ...] = ()
    shown: bool = False

    @property
    def runs(self) -> bool:
        """Whether samples of it are made."""
        return bool(self.letter) and (self.shown or not self.reasons)


def ways_offered(choices: TriedChoices, ruled_out: Mapping[str, tuple[Message, ...]]) -> tuple[WayOffered, ...]:
    """Every combination of what is chosen, those that are left out too; ruled_out: of the plan, by letter."""
    letters = dict(zip(choices.ways, LETTERS, strict=False))
    return tuple(
        WayOffered(
            way,
            letter := letters.get(way, ""),
            Combination.model_validate(choices.combination(way)),
            tuple(ruled_out.get(letter, ())),
            way in choices.shown,
        )
        for way in choices.every
    )


def turned(choices: TriedChoices, offered: WayOffered) -> TriedChoices:
    """With a combination run that was not, or not run that was."""
    way = offered.way
    if offered.reasons:
        return replace(choices, shown=choices.shown ^ {way})
    left_out = choices.left_out ^ {way}
    return replace(choices, left_out=left_out) if len(left_out) < len(choices.every) else choices


def notch_key_told(choices: TriedChoices, name: str) -> Message:
    """A notch on its key."""
    every = [trowel_of_name(choices, other) for other in notches_offered(choices)]
    return notch_told(trowel_of_name(choices, name), every)


def too_many(choices: TriedChoices) -> Message | None:
    """Why so many combinations are no trial; None where they are."""
    count = len(choices.ways)
    return message("mockup-too-many", count=count, most=MOST_COMBINATIONS) if count > MOST_COMBINATIONS else None


def state_told(offered: WayOffered) -> Message:
    """Whether a combination runs, and why not."""
    if not offered.letter:
        return message("mockup-way-left")
    if not offered.reasons:
        return message("mockup-way-runs")
    why = Several(offered.reasons, "clauses")
    return message("mockup-way-shown", why=why) if offered.shown else message("mockup-way-out", why=why)


def turn_told(offered: WayOffered) -> Message:
    """What the key beside a combination does."""
    if offered.reasons:
        return message("mockup-do-not-run" if offered.shown else "mockup-run-all-the-same")
    return message("mockup-leave-out" if offered.letter else "mockup-put-in")


@dataclass(frozen=True, slots=True)
class DesignAnswer:
    """What a design comes to. head: how many samples; first: what is told larger; then: the rest."""

    head: Message
    first: tuple[Message, ...]
    then: tuple[Message, ...] = ()


def answer_of(plan: AreaPlan | None, repeats: int, ways: Sequence[WayOffered]) -> DesignAnswer:
    """What a design comes to: samples, batches, time and what it will tell apart; plan: None while something lacks."""
    run = tuple(way.letter for way in ways if way.runs)
    head = message("mockup-count", samples=len(run) * repeats)
    first = message("mockup-of-each", ways=len(run), repeats=str(repeats))
    if plan is None or plan.trial is None or not run:
        return DesignAnswer(head, (first, message("mockup-unfinished" if plan is None else "mockup-none-runs")))
    takes = needs(plan, run)
    batches = sum(share.batches for share in takes.mortars)
    short = message("mockup-short", batches=batches, minutes=_rounded(takes.minutes))
    return DesignAnswer(head, (first, short), (*hopes(plan, run), *takes.told, *takes.assumed))


def _rounded(minutes: float) -> Quantity:
    """Half hours from two hours on, whole tens of minutes before."""
    if minutes < 120:
        return Quantity(Fraction(round(minutes, -1)), "min")
    return Quantity(Fraction(round(minutes / 30), 2), "h")
