"""What a day's record says that cannot all be true, found once: screen, sign-off, PDF, facts and verification hear of
it through `open_points`. A contradiction is no failure: it is asked about, and taken away by a correction or answered
by the foreman."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import groupby, pairwise

from fieldassist.checklist.bags import balance, bed_mm
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.kinds.reading import read_as
from fieldassist.checklist.places import planned_m2, planned_places, whole_face_m2
from fieldassist.checklist.state import Area, LiftRecord, ReadingRecord, Remedy, State, Tile
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity, convert_exact

# A minute is called when it is nearly full: ours, common practice, no published source.
_WHOLE_MINUTE = 1.0
# Cuts and breakage that a plan's size does not tell: ours, common practice, no published source.
_OVER = 1.15
# A percent that is read as a whole number may be half a percent lower.
_HALF_PERCENT = 0.5
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Contradiction:
    """What contradicts itself: an id that stays the same while its cause does, where, and the code with its figures."""

    id: str
    area: str | None
    told: Message


def contradictions(state: State) -> tuple[Contradiction, ...]:
    """Every contradiction of a day, area by area. What was set on an earlier day was asked about then: its events have
    numbers below zero."""
    found = [*_date(state)]
    for area in state.areas.values():
        found += _in(_Itself(area))
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class _Itself:
    """An area that is known by being the same one: it never changes, and to compare what it holds takes as long as to
    look at it."""

    area: Area

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and self.area is other.area

    def __hash__(self) -> int:
        return id(self.area)


# Asked on every state that is tried; of a day's areas all but one stay as they are. More areas than it holds would push
# each other out before they are met again: a large day has two hundred.
@lru_cache(maxsize=512)
def _in(itself: _Itself) -> tuple[Contradiction, ...]:
    return tuple(found for look in _LOOKS for found in look(itself.area))


def _date(state: State) -> Iterator[Contradiction]:
    plan, opened = state.plan, state.opened
    if plan is None or opened is None:
        return
    clock = opened.wall[:10]
    if clock != plan.date:
        told = message("open-date-differs", planned=plan.date, clock=clock)
        yield Contradiction(f"date/{plan.date}/{clock}", None, told)


# --- surface ------------------------------------------------------------------------------------------------------


def surface_set(area: Area) -> Contradiction | None:
    """Surface set against surface planned; None where they agree, or where the checklist sets no tile.

    They agree where it is short of no whole piece, on a grid of no piece, and over by not more than 15 % and a piece.
    """
    if not any(section.sets == "tile" for section in area.checklist.sections):
        return None
    done, planned, whole = area.progress.set_m2, planned_m2(area.plan), whole_face_m2(area.plan)
    least = min((place.face_m2 for place in planned_places(area.plan)), default=whole) if area.plan.grid else whole
    if area.plan.trial is not None:
        return None
    short, over = planned - done >= least - _HAIR, done > planned * _OVER + whole + _HAIR
    if not short and not over:
        return None
    told = message(
        "open-surface-set",
        area=area.plan.name,
        set=_m2(done),
        planned=_m2(planned),
        pieces=len(area.progress.tiles),
        way="short" if short else "over",
    )
    return Contradiction(f"surface-set/{area.plan.name}/{area.progress.settings}", area.plan.name, told)


def _surface(area: Area) -> Iterator[Contradiction]:
    """While the work goes on too little is set of course: that is asked about when the area is to be finished."""
    found = surface_set(area)
    ending = area.finish_held or area.progress.phase in ("finishing", "finished")
    if found is not None and (ending or found.told.figures["way"] == "over"):
        yield found


# --- lifts --------------------------------------------------------------------------------------------------------


def _lifts(area: Area) -> Iterator[Contradiction]:
    by_round: dict[tuple[str, int], dict[str | None, ReadingRecord]] = {}
    for one in area.readings.values():
        by_round.setdefault((one.section, one.round), {})[one.measures] = one
    for lift in area.progress.lifts.values():
        read = by_round.get((lift.section, lift.round), {})
        percent, void = read.get("coverage"), read.get("largest void")
        if percent is not None and void is not None:
            told = _percent_and_void(area, lift, percent, void)
            if told is not None:
                latest = max(percent.kept, void.kept)
                yield Contradiction(f"percent-void/{area.plan.name}/{latest}", area.plan.name, told)


def _percent_and_void(area: Area, lift: LiftRecord, percent: ReadingRecord, void: ReadingRecord) -> Message | None:
    """Whether a lift's percent and its largest void can both be so."""
    tile = area.progress.tiles.get(lift.tile)
    face = tile.place.face_m2 if tile is not None else whole_face_m2(area.plan)
    missing, largest = 100 - percent.canonical, void.canonical
    found: tuple[str, dict[str, Figure]] | None = None
    if largest <= 0:
        found = ("open-percent-no-void", {}) if missing > 0 else None
    elif largest > (missing + _rounding(missing, percent)) / 100 * face + _HAIR:
        found = ("open-void-over-uncovered", {"uncovered": _area(missing / 100 * face, void.unit)})
    elif area.checklist.voids_at_most is not None and missing / 100 / largest > area.checklist.voids_at_most + _HAIR:
        found = ("open-voids-too-many", {"voids": round(missing / 100 / largest * face)})
    if found is None:
        return None
    code, more = found
    figures = {"area": area.plan.name, "lift": str(lift.number), "percent": read_as(percent), "void": read_as(void)}
    return Message(code, {**figures, **more})


def _rounding(missing: float, percent: ReadingRecord) -> float:
    """How much more than it says a percent that was read in whole numbers may leave bare [points]."""
    return _HALF_PERCENT if missing > 0 and percent.value.denominator == 1 else 0.0


def _samples(area: Area) -> Iterator[Contradiction]:
    """A sample of a trial whose largest void is larger than all that its readers left uncovered."""
    trial = area.plan.trial
    if trial is None:
        return
    face = canonical(trial.sheet) if trial.sheet is not None else whole_face_m2(area.plan)
    for sample in area.progress.samples.values():
        read = [one for one in sample.answers if one.measures == "coverage"]
        void = next((one for one in sample.answers if one.measures == "largest void"), None)
        if not sample.done or void is None or not read:
            continue
        least = min(read, key=lambda one: one.canonical)
        missing = 100 - least.canonical
        rounding = _HALF_PERCENT if missing > 0 else 0.0
        if void.canonical > (missing + rounding) / 100 * face + _HAIR:
            assert void.value is not None
            told = message(
                "open-sample-void",
                area=area.plan.name,
                sample=str(sample.number),
                letter=sample.letter,
                percent=Quantity(Fraction(str(least.canonical)), "percent"),
                void=Quantity(void.value, void.unit),
                uncovered=_area(missing / 100 * face, void.unit),
            )
            latest = max(void.kept, *(one.kept for one in read))
            yield Contradiction(f"percent-void/{area.plan.name}/{latest}", area.plan.name, told)


# --- time ---------------------------------------------------------------------------------------------------------


def _durations(area: Area) -> Iterator[Contradiction]:
    """A duration longer than the time since what it measures began."""
    for reading in area.readings.values():
        passed = reading.elapsed
        if passed is not None and reading.canonical > passed + _WHOLE_MINUTE:
            told = message(
                "open-longer-than-passed",
                area=area.plan.name,
                name=area.checklist.step(reading.section, reading.step).name,
                reading=read_as(reading),
                passed=Quantity(Fraction(str(round(passed, 1))), "min"),
            )
            yield Contradiction(f"longer-than-passed/{area.plan.name}/{reading.kept}", area.plan.name, told)


def _too_fast(area: Area) -> Iterator[Contradiction]:
    """Tiles that one setter set sooner after the one before, or after whatever kept the hands, than hands can; tiles
    called together share their time."""
    fastest = area.checklist.fastest_tile
    if fastest is None:
        return
    least = canonical(fastest)
    tiles = sorted(area.progress.tiles.values(), key=lambda tile: tile.order)
    for setter in dict.fromkeys(tile.setter for tile in tiles):
        his = [tile for tile in tiles if tile.setter == setter]
        calls = [tuple(together) for _, together in groupby(his, key=lambda tile: tile.at)]
        quick = [(_each(area, before, now), now) for before, now in pairwise(((), *calls))]
        quick = [(each, now) for each, now in quick if each < least - _HAIR and now[0].set > 0]
        if quick:
            told = message(
                "open-too-fast",
                area=area.plan.name,
                name=setter,
                tiles=Several(tuple(str(tile.number) for _, now in quick for tile in now), "and"),
                count=sum(len(now) for _, now in quick),
                least=_seconds(least),
                shortest=_seconds(min(each for each, _ in quick)),
            )
            yield Contradiction(f"too-fast/{area.plan.name}/{quick[-1][1][-1].set}", area.plan.name, told)


def _each(area: Area, before: tuple[Tile, ...], now: tuple[Tile, ...]) -> float:
    """Minutes that there were for each tile that was called now."""
    since = [tile.at for tile in before[-1:]] + [tile.free for tile in now[:1] if tile.free is not None]
    spreads = area.progress.spreads
    since += [spreads[tile.spread].at for tile in now[:1] if tile.spread is not None]
    return min((start.minutes_to(now[0].at) / len(now) for start in since), default=math.inf)


# --- method and mortar --------------------------------------------------------------------------------------------


def _remedies(area: Area) -> Iterator[Contradiction]:
    """A corrective action's answer that the method of the tiles that followed does not show."""
    remedies = area.progress.remedies
    ends = (*(later.after for later in remedies[1:]), area.progress.settings)
    for remedy, until in zip(remedies, ends, strict=False):
        tiles = area.progress.tiles.values()
        after = [tile for tile in tiles if remedy.after < tile.order <= until and tile.set > 0]
        wrong = sorted(tile.number for tile in after if not _shows(area, tile, remedy))
        if wrong:
            named = Several(tuple(str(number) for number in wrong), "and")
            told = message(
                "open-remedy-not-shown", area=area.plan.name, remedy=remedy.what, tiles=named, count=len(wrong)
            )
            yield Contradiction(f"remedy/{area.plan.name}/{remedy.seq}/{len(wrong)}", area.plan.name, told)


def _shows(area: Area, tile: Tile, remedy: Remedy) -> bool:
    method, before = area.methods_used[tile.method], area.methods_used[remedy.method]
    for field, wanted in remedy.promises.items():
        if field == "notch":
            # A larger notch leaves more mortar on the same side, at the same trowel angle.
            was = bed_mm(before)
            now = bed_mm(method.model_copy(update={"sides": before.sides, "angle": before.angle}))
            if was is not None and now is not None and now <= was + _HAIR:
                return False
        elif getattr(method, field) != wanted:
            return False
    return True


def _bags(area: Area) -> Iterator[Contradiction]:
    """Bags against the bed of all that was set: before the end a bucket may still stand there half full."""
    if area.plan.trial is not None or area.progress.phase not in ("finishing", "finished"):
        return
    found = balance(area)
    if found is not None and found.verdict != "as predicted":
        told = message(
            "open-bags",
            area=area.plan.name,
            bags=Quantity(found.used, "count"),
            predicted=Quantity(Fraction(str(round(found.predicted, 1))), "count"),
            verdict="less" if found.verdict == "too little" else "more",
        )
        yield Contradiction(f"bags/{area.plan.name}/{found.seq}/{area.progress.settings}", area.plan.name, told)


_LOOKS: tuple[Callable[[Area], Iterable[Contradiction]], ...] = (
    _surface,
    _lifts,
    _samples,
    _durations,
    _too_fast,
    _remedies,
    _bags,
)


# --- figures ------------------------------------------------------------------------------------------------------


def _m2(value: float) -> Quantity:
    return Quantity(Fraction(str(round(value, 2))), "m2")


def _area(m2: float, unit: str) -> Quantity:
    return Quantity(convert_exact(Fraction(str(round(m2, 6))), "m2", unit).limit_denominator(1000), unit)


def _seconds(minutes: float) -> Quantity:
    return Quantity(Fraction(round(minutes * 60)), "s")
