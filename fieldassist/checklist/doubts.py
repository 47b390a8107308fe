"""What whoever accepts a day should look at first: every open point, and what is none and may still be doubted.

An open point holds up whoever signs; a doubt holds up nobody. It is what a careful owner would ask about: a figure that
rests on one person's eye, what was never read, a limit that is known second-hand. Page, facts and screens ask here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.backs import ON_A_PHOTO, BackRecord, MeasuredBack, back_of, contact_figures
from fieldassist.checklist.bags import balance
from fieldassist.checklist.kinds.reading import read_as
from fieldassist.checklist.moment import How
from fieldassist.checklist.open_points import OpenPoint, open_points
from fieldassist.checklist.proven import way_of
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area, LiftRecord, PointAnswer, ReadingRecord, State, Tile
from fieldassist.checklist.undone import Undone, amendments, undone
from fieldassist.trade.basis import SECOND_HAND, Provenance
from fieldassist.trade.coverage import TWO_SQUARE_INCHES_MM2
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.ranges import rows
from fieldassist.trade.voids import side_of, void_as_read

# The worst first: a failure that is open, what stands without proof, what contradicts itself, what nobody answered,
# doubts, limits that are known second-hand, and what is not finished yet.
LookKind: TypeAlias = Literal["failure", "unproven", "contradiction", "unanswered", "doubt", "limit", "unfinished"]
RANKS: tuple[LookKind, ...] = ("failure", "unproven", "contradiction", "unanswered", "doubt", "limit", "unfinished")

# Of which kind an open point is, by what stands before the first "/" of its id; any other waits for an answer.
_KINDS: Mapping[str, LookKind] = {
    "failure": "failure",
    "suspect": "failure",
    "accepted": "unproven",
    "lift left": "unproven",
    "lot missed": "unproven",
    "lots": "unproven",
    "method": "unproven",
    "release": "unproven",
    "promised": "contradiction",
    "date": "contradiction",
    "surface-set": "contradiction",
    "percent-void": "contradiction",
    "longer-than-passed": "contradiction",
    "too-fast": "contradiction",
    "remedy": "contradiction",
    "bags": "contradiction",
    "area": "unfinished",
    "start": "unfinished",
}

# A clock that was set by more than this may have changed what is in time [s]. Ours, common practice, no published
# source: a minute is what times are told in.
_CLOCK_SET_S = 60.0
# How much larger than the plan's a face may be told: it is measured on site and rounded to hundredths of a square
# metre. Ours, common practice, no published source.
_FACE_SLACK = 1.02
# So many places a doubt names; of more their number is told.
_MOST_PLACES = 12


@dataclass(frozen=True, slots=True)
class LookAt:
    """Something to look at. id: stays the same while its cause does; told: code and figures; areas: that it is about,
    none for the whole day; lifts, tiles: their numbers, where it is about some of one area; point: the open point that
    it is."""

    kind: LookKind
    id: str
    told: Message
    areas: tuple[str, ...] = ()
    lifts: tuple[int, ...] = ()
    tiles: tuple[int, ...] = ()
    point: OpenPoint | None = None

    @property
    def answer(self) -> PointAnswer | None:
        """What the foreman said of it, None where he did not."""
        return None if self.point is None else self.point.answer


def look_at(state: State, stands: Standing) -> tuple[LookAt, ...]:
    """All there is to look at before a day is accepted, the worst first.

    stands: what still counts of the events that the state was folded from.
    """
    found = [*(_of_point(point) for point in open_points(state)), *doubts(state, stands)]
    return tuple(sorted(found, key=lambda one: RANKS.index(one.kind)))


def _of_point(point: OpenPoint) -> LookAt:
    kind = _KINDS.get(point.id.partition("/")[0], "unanswered")
    return LookAt(kind, point.id, point.told, () if point.area is None else (point.area,), point=point)


def doubts(state: State, stands: Standing) -> tuple[LookAt, ...]:
    """What is no open point and may still be doubted."""
    photos = _photos(stands)
    # What a trial's samples can say and what not, its own analysis tells.
    areas = [_AreaLifts(state, area, stands, photos) for area in state.areas.values() if area.plan.trial is None]
    found = [
        *_against_photo(areas),
        *_against_the_record(areas),
        *_measured_again(areas, stands),
        *_undone(state, stands),
        *_short_and_not_judged(areas),
        *_of_photos(areas, stands),
        *_corrected(state, stands),
        *_of_the_record(stands),
        *_larger_than_planned(areas),
    ]
    for lifts in areas:
        found += [*_not_complete(lifts), *_not_timed(lifts), *_bags(lifts.area)]
    for code, chosen, figures in _CHOSEN:
        some = [(lifts, tuple(lift for lift in lifts.good if chosen(lifts, lift))) for lifts in areas]
        found += _of_lifts(code, some, figures)
    return (*found, *_second_hand(state))


def _photos(stands: Standing) -> set[tuple[str, str, int]]:
    """Area, section and round in which a photo was kept."""
    kept = (event.body for event in stands.photos)
    return {(body.area or "", body.section, body.round) for body in kept if isinstance(body, ev.PhotoAttached)}


# --- the record ---------------------------------------------------------------------------------------------------


def _of_the_record(stands: Standing) -> Iterator[LookAt]:
    for event in stands.events:
        body = event.body
        if isinstance(body, ev.DayRecovered):
            yield LookAt("doubt", f"recovered/{event.seq}", message("doubt-recovered", lost=body.lost + body.behind))
        elif isinstance(body, ev.ClockJumped) and abs(body.seconds) > _CLOCK_SET_S:
            by = Quantity(Fraction(round(abs(body.seconds) / 60)), "min")
            told = message("doubt-clock-set", way="on" if body.seconds > 0 else "back", by=by, at=event.at.wall[11:16])
            yield LookAt("doubt", f"clock/{event.seq}", told)
        elif isinstance(body, ev.DayOpened):
            for day in body.continues:
                if not day.sealed:
                    told = message("doubt-day-before", date=day.date, signed="yes" if day.signed else "no")
                    yield LookAt("doubt", f"day before/{day.head[:16]}", told)


# --- what failed and is gone, and what was corrected ----------------------------------------------------------------


def _undone(state: State, stands: Standing) -> Iterator[LookAt]:
    """What failed, was taken back or corrected, and stands as good or not at all: told once, the first place first."""
    found = undone(state, stands)
    if not found:
        return
    places = tuple(_was(one, state.areas[one.area]) for one in found[:_MOST_PLACES])
    told = message("doubt-undone", places=Several(places, "clauses"), more=max(0, len(found) - _MOST_PLACES))
    areas = tuple(dict.fromkeys(one.area for one in found))
    lifts = tuple(one.lift for one in found if one.lift is not None)
    yield LookAt("doubt", f"undone/{max(one.event for one in found)}", told, areas, lifts if len(areas) == 1 else ())


def _was(one: Undone, area: Area) -> Message:
    """Where, what it was, and when it was taken back or corrected."""
    return message(
        "doubt-was",
        where=_one_lift(one.area, one.lift) if one.lift is not None else _step_of(one, area),
        was=Several(one.was, "list"),
        judged="yes" if one.judged else "no",
        how="corrected" if one.corrected else "taken-back",
        at=one.at.wall[11:16],
    )


def _step_of(one: Undone, area: Area) -> Message:
    """The step at which something was answered; of a tile in the hand, that it was a lift."""
    step = area.checklist.step(one.section, one.step).name if one.step else area.checklist.holder(one.section).title
    return message("doubt-step", area=one.area, step=step)


def _one_lift(area: str, lift: int) -> Message:
    return message("doubt-lifts", area=area, lifts=str(lift), count=1)


def _corrected(state: State, stands: Standing) -> Iterator[LookAt]:
    """Each correction of an addendum: what was signed before said something else."""
    for one in amendments(state, stands):
        where: Figure = one.area
        if one.lift is not None:
            where = _one_lift(one.area, one.lift)
        told = message(
            "doubt-correction",
            part=str(one.part),
            entry=str(one.target),
            named="yes" if one.area else "no",
            where=where,
            text=one.text,
            name=message("prompt-person", name=one.by),
        )
        lifts = () if one.lift is None else (one.lift,)
        yield LookAt("doubt", f"correction/{one.event}", told, (one.area,) if one.area else (), lifts)


# --- lifts --------------------------------------------------------------------------------------------------------


class _AreaLifts:
    """The lifts of an area today, with what was read of them and measured on their photos. lifts: those that were
    judged."""

    def __init__(self, state: State, area: Area, stands: Standing, photos: set[tuple[str, str, int]]) -> None:
        self.area, self.name, self.stands, self.photos = area, area.plan.name, stands, photos
        self.required = rules.required_coverage(area.facts).at_least
        self.lifted = [one for one in area.progress.lifts.values() if one.lifted > 0]
        self.lifts = [one for one in self.lifted if one.verdict is not None]
        self.not_judged = [one for one in self.lifted if one.verdict is None]
        self.good = [one for one in self.lifts if one.verdict == "passed"]
        self._read = {(r.section, r.round, r.measures): r for r in area.readings.values()}
        self._backs = {
            one.number: found
            for one in self.lifted
            if (found := back_of(state, area.plan.name, one.section, one.round)) is not None
        }

    def back(self, lift: LiftRecord) -> BackRecord | None:
        """What was measured last of its back on its photo, None where nothing was."""
        return self._backs.get(lift.number)

    def how(self, lift: LiftRecord) -> How | None:
        """How its contact came to the tablet, None where nobody read it."""
        read = self.read(lift, "coverage")
        return None if read is None else self.stands.events[read.called - 1].source.how

    def read(self, lift: LiftRecord, what: str) -> ReadingRecord | None:
        """What was read of it last, None where nobody read that."""
        return self._read.get((lift.section, lift.round, what))

    def by_eye(self, lift: LiftRecord) -> bool:
        """Whether its contact was read by eye."""
        how = self.how(lift)
        return how is not None and way_of(how) == "eye"

    def setter(self, lift: LiftRecord) -> str:
        """Who set the tile, "" where nobody knows."""
        runs = self.area.progress.runs
        return runs[lift.run - 1][0] if 0 < lift.run <= len(runs) else ""

    def read_by_the_setter(self, lift: LiftRecord) -> bool:
        """Whether who set the tile read it, and nobody else."""
        read = self.read(lift, "coverage")
        return read is not None and self.stands.events[read.called - 1].by == self.setter(lift)

    def has_photo(self, lift: LiftRecord) -> bool:
        """Whether a photo was kept in its round."""
        return (self.name, lift.section, lift.round) in self.photos


def _not_complete(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Lifts of which something that is required was not read: they prove nothing."""
    for event in lifts.stands.lifts:
        body = event.body
        if isinstance(body, ev.LiftJudged) and (body.area, body.verdict) == (lifts.name, "not complete"):
            unread = Several(body.unread, "and")
            told = message("doubt-not-complete", area=lifts.name, lift=str(body.lift), unread=unread)
            yield LookAt("doubt", f"not complete/{lifts.name}/{body.lift}", told, (lifts.name,), (body.lift,))


def _short_and_not_judged(areas: Iterable[_AreaLifts]) -> Iterator[LookAt]:
    """Lifts whose contact is less than is required and that nobody read to the end: they failed, and no verdict says
    so."""
    found = [(lifts, lift, read) for lifts in areas for lift in lifts.not_judged if (read := _short(lifts, lift))]
    if not found:
        return
    places = tuple(_read_short(*one) for one in found[:_MOST_PLACES])
    told = message("doubt-not-judged", places=Several(places, "clauses"), more=max(0, len(found) - _MOST_PLACES))
    names = tuple(dict.fromkeys(lifts.name for lifts, _, _ in found))
    numbers = tuple(lift.number for _, lift, _ in found) if len(names) == 1 else ()
    yield LookAt("doubt", f"not judged/{max(read.kept for _, _, read in found)}", told, names, numbers)


def _short(lifts: _AreaLifts, lift: LiftRecord) -> ReadingRecord | None:
    """What was read of its contact, where that is less than is required."""
    required, read = lifts.required, lifts.read(lift, "coverage")
    return read if read is not None and required is not None and read.canonical < required else None


def _read_short(lifts: _AreaLifts, lift: LiftRecord, read: ReadingRecord) -> Message:
    required = lifts.required
    assert required is not None  # else it would not be short of it
    tasks = [task for task in lifts.area.progress.tasks if (task.section, task.round) == (lift.section, lift.round)]
    unread = tuple(lifts.area.checklist.step(task.section, task.step).name for task in tasks)
    return message(
        "doubt-read-short",
        where=_one_lift(lifts.name, lift.number),
        read=read_as(read),
        required=Quantity(Fraction(str(required)), "percent"),
        count=len(unread),
        unread=Several(unread, "and"),
    )


def _against_photo(areas: Iterable[_AreaLifts]) -> Iterator[LookAt]:
    """Lifts that were judged one way while all of the interval of their photo lies on the other side of what is
    required, or that passed while their photo shows a larger void than is allowed."""
    less: list[tuple[_AreaLifts, LiftRecord, Message]] = []
    more: list[tuple[_AreaLifts, LiftRecord, Message]] = []
    for lifts in areas:
        largest = rules.requirement(lifts.area.facts).largest_void_mm2
        for lift in lifts.lifts:
            record = lifts.back(lift)
            if record is None:
                continue
            back = record.back
            side = "either" if lifts.required is None else side_of(back.low, back.high, lifts.required)
            if lift.verdict == "passed" and side == "under":
                less.append((lifts, lift, _photo_says(lifts, lift, back)))
            elif lift.verdict == "passed" and largest is not None and back.void_mm2 > largest:
                less.append((lifts, lift, _photo_shows(lifts, lift, back, largest)))
            elif lift.verdict == "failed" and side == "reached" and _short(lifts, lift) is not None:
                more.append((lifts, lift, _photo_says(lifts, lift, back)))
    yield from _told_of_photo("contradiction", "photo-less", less)
    yield from _told_of_photo("doubt", "photo-more", more)


# How far the face that a photo was squared up to may be off the piece's: pieces are measured on site, and faces are
# rounded to hundredths of a square metre. Ours, common practice, no published source.
_SIZE_SLACK = 0.05


def _against_the_record(areas: Iterable[_AreaLifts]) -> Iterator[LookAt]:
    """Backs that were called bare and reckoned by their colour where the method keys or combs them, and backs that were
    squared up to another size than their piece's."""
    keyed: list[tuple[_AreaLifts, LiftRecord, Message]] = []
    sizes: list[tuple[_AreaLifts, LiftRecord, Message]] = []
    for lifts in areas:
        for lift in lifts.lifted:
            record = lifts.back(lift)
            if record is None:
                continue
            back, where = record.back, _one_lift(lifts.name, lift.number)
            tile = lifts.area.progress.tiles.get(lift.tile)
            method = lifts.area.methods_used[lifts.area.progress.runs[lift.run - 1][1]]
            if back.way != "painted" and (method.back == "keyed" or method.sides == "both"):
                keyed.append((lifts, lift, where))
            face, squared = tile.place.face_m2 if tile is not None else 0.0, back.size_mm[0] * back.size_mm[1] / 1e6
            if face and abs(squared / face - 1) > _SIZE_SLACK:
                told = message("doubt-photo-size-of", where=where, squared=_m2(squared), face=_m2(face))
                sizes.append((lifts, lift, told))
    yield from _told_of_photo("contradiction", "photo-bare", keyed)
    yield from _told_of_photo("contradiction", "photo-size", sizes)


def _measured_again(areas: Iterable[_AreaLifts], stands: Standing) -> Iterator[LookAt]:
    """Lifts whose backs were measured more than once, each time with what came of it: only the last one counts."""
    kept: dict[tuple[str, int], list[MeasuredBack]] = {}
    for event in stands.bodies(ev.BackMeasured):
        body = event.body
        if isinstance(body, ev.BackMeasured):
            kept.setdefault((body.area, body.lifted), []).append(body.back)
    found = [
        (lifts, lift, _each_time(lifts, lift, backs))
        for lifts in areas
        for lift in lifts.lifted
        if len(backs := kept.get((lifts.name, lift.lifted), [])) > 1
    ]
    yield from _told_of_photo("doubt", "photo-again", found)


def _each_time(lifts: _AreaLifts, lift: LiftRecord, backs: Sequence[MeasuredBack]) -> Message:
    figures = tuple(contact_figures(back)["contact"] for back in backs[-_MOST_PLACES:])
    where = _one_lift(lifts.name, lift.number)
    return message("doubt-photo-each-time", where=where, count=len(backs), figures=Several(figures, "list"))


def _told_of_photo(
    kind: LookKind, code: str, found: Sequence[tuple[_AreaLifts, LiftRecord, Message]]
) -> Iterator[LookAt]:
    if not found:
        return
    told = message(
        f"doubt-{code}",
        places=Several(tuple(each for _, _, each in found[:_MOST_PLACES]), "clauses"),
        more=max(0, len(found) - _MOST_PLACES),
    )
    names = tuple(dict.fromkeys(lifts.name for lifts, _, _ in found))
    last = "/".join(f"{name}/{max(lift.number for at, lift, _ in found if at.name == name)}" for name in names)
    numbers = tuple(lift.number for _, lift, _ in found) if len(names) == 1 else ()
    yield LookAt(kind, f"{code}/{last}", told, names, numbers)


def _photo_says(lifts: _AreaLifts, lift: LiftRecord, back: MeasuredBack) -> Message:
    read, how = lifts.read(lift, "coverage"), lifts.how(lift)
    return message(
        "doubt-photo-says",
        where=_one_lift(lifts.name, lift.number),
        verdict="passed" if lift.verdict == "passed" else "failed",
        way="eye" if how is None else way_of(how),
        known="no" if read is None else "yes",
        read="" if read is None else read_as(read),
        **contact_figures(back),
    )


def _photo_shows(lifts: _AreaLifts, lift: LiftRecord, back: MeasuredBack, largest: float) -> Message:
    read = lifts.read(lift, "largest void")
    return message(
        "doubt-photo-shows",
        where=_one_lift(lifts.name, lift.number),
        known="no" if read is None else "yes",
        read="" if read is None else read_as(read),
        void=Quantity(void_as_read(back.void_mm2, "cm2"), "cm2"),
        allowed=Quantity(void_as_read(largest, "cm2"), "cm2"),
    )


def _of_photos(areas: Iterable[_AreaLifts], stands: Standing) -> Iterator[LookAt]:
    """Photos of lifts that were taken back, and photos that stand beside more than one lift."""
    rounds = {(lifts.name, one.section, one.round): one.number for lifts in areas for one in lifts.lifted}
    back: dict[str, set[int]] = {}
    beside: dict[str, dict[str, set[int]]] = {}
    for event in stands.events:
        body = event.body
        if not isinstance(body, ev.PhotoAttached):
            continue
        number = rounds.get((body.area or "", body.section, body.round))
        if number is None:
            continue
        if stands.counts(event):
            beside.setdefault(body.sha256, {}).setdefault(body.area, set()).add(number)
        else:
            back.setdefault(body.area, set()).add(number)
    yield from _in_places("photo-taken-back", [tuple(back.items())])
    same = [tuple(found.items()) for found in beside.values() if sum(map(len, found.values())) > 1]
    yield from _in_places("same-photo", same)


def _in_places(code: str, groups: Iterable[tuple[tuple[str, set[int]], ...]]) -> Iterator[LookAt]:
    """One doubt of groups of lifts, each told by itself, area by area; none where there are none."""
    found = [group for group in groups if group]
    if not found:
        return
    told = [
        Several(tuple(message("doubt-lifts", area=area, lifts=_ranges(some), count=len(some)) for area, some in group))
        for group in found
    ]
    areas = tuple(dict.fromkeys(area for group in found for area, _ in group))
    numbers = tuple(sorted({number for group in found for _, some in group for number in some}))
    places = message(
        f"doubt-{code}",
        places=Several(tuple(told[:_MOST_PLACES]), "clauses"),
        more=max(0, len(told) - _MOST_PLACES),
        count=len(numbers),
    )
    last = "/".join(f"{area}/{max(some)}" for area, some in found[-1])
    yield LookAt("doubt", f"{code}/{last}", places, areas, numbers if len(areas) == 1 else ())


def _larger_than_planned(areas: Iterable[_AreaLifts]) -> Iterator[LookAt]:
    """Pieces whose face was told as larger than the plan's: they fill a surface that nobody set."""
    found = [(lifts, tile, whole) for lifts in areas for tile, whole in _too_large(lifts.area)]
    if not found:
        return
    places = tuple(
        message("doubt-face", area=lifts.name, tile=str(tile.number), face=_m2(tile.place.face_m2), whole=_m2(whole))
        for lifts, tile, whole in found[:_MOST_PLACES]
    )
    told = message("doubt-larger", places=Several(places, "clauses"), more=max(0, len(found) - _MOST_PLACES))
    names = tuple(dict.fromkeys(lifts.name for lifts, _, _ in found))
    tiles = tuple(tile.number for _, tile, _ in found) if len(names) == 1 else ()
    last = "/".join(f"{name}/{max(t.number for at, t, _ in found if at.name == name)}" for name in names)
    yield LookAt("doubt", f"larger/{last}", told, names, tiles=tiles)


def _too_large(area: Area) -> Iterator[tuple[Tile, float]]:
    """Pieces that are set, each with the face that the plan has for it [m2]: of its place, or of a whole piece."""
    planned = {(place.row, place.column, place.name): place.face_m2 for place in area.places}
    for tile in area.progress.tiles.values():
        at = tile.place
        whole = planned.get((at.row, at.column, at.name), area.piece_area)
        if at.face_m2 > whole * _FACE_SLACK and tile.state != "taken off":
            yield tile, whole


def _m2(face: float) -> Quantity:
    return Quantity(Fraction(str(round(face, 4))), "m2")


def _not_timed(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Tiles all of whose steps were called in one breath: nothing tells how long the mortar lay open."""
    tiles = lifts.area.progress.tiles.values()
    numbers = tuple(sorted(tile.number for tile in tiles if tile.together and tile.set > 0))
    if numbers:
        told = message("doubt-not-timed", area=lifts.name, tiles=_ranges(numbers), count=len(numbers))
        yield LookAt("doubt", f"not timed/{lifts.name}/{numbers[-1]}", told, (lifts.name,), tiles=numbers)


def _bags(area: Area) -> Iterator[LookAt]:
    """Bags that do not fit the bed where all is set and the area is not yet being finished: from then on they are an
    open point. The buckets may hold a rest, so less than the bed takes says more than this."""
    if area.progress.phase in ("finishing", "finished") or not area.all_set:
        return
    found = balance(area)
    if found is not None and found.verdict != "as predicted":
        name = area.plan.name
        told = message(
            "doubt-bags",
            area=name,
            bags=Quantity(found.used, "count"),
            predicted=Quantity(Fraction(str(round(found.predicted, 1))), "count"),
            verdict="less" if found.verdict == "too little" else "more",
            known="no" if found.implied_bed_mm is None else "yes",
            bed=Quantity(Fraction(str(round(found.implied_bed_mm or 0.0, 1))), "mm"),
        )
        yield LookAt("doubt", f"bags used/{name}/{area.progress.settings}/{found.used}", told, (name,))


def _no_more_than_required(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """By eye it reaches what is required and no more: one point less, and it had failed."""
    required, read = lifts.required, lifts.read(lift, "coverage")
    return lifts.by_eye(lift) and read is not None and required is not None and read.canonical <= required


def _alone_without_photo(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """It was read by eye, by nobody but who set the tile, and nobody can look again."""
    return lifts.by_eye(lift) and lifts.read_by_the_setter(lift) and not lifts.has_photo(lift)


def _alone_with_photo(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """It was read by eye, by nobody but who set the tile; a photo lets others look."""
    return lifts.by_eye(lift) and lifts.read_by_the_setter(lift) and lifts.has_photo(lift)


def _painted_alone(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """It was told of a photo on which who set the tile painted, and nobody else; others can look at the photo."""
    record = lifts.back(lift)
    painted = record is not None and record.back.way != "proposed" and record.by == lifts.setter(lift)
    return painted and lifts.how(lift) in ON_A_PHOTO


def _reckoned(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """It was told of what a photo was reckoned to show."""
    return lifts.how(lift) == "measured on a photo"


def _swirled(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """Its photo shows ridges in swirls, which lock air in."""
    record = lifts.back(lift)
    return record is not None and record.back.ridges == "swirled"


def _no_void(lifts: _AreaLifts, lift: LiftRecord) -> bool:
    """It is not fully covered, and nobody read the largest void, where nothing asks for it."""
    read = lifts.read(lift, "coverage")
    return read is not None and read.canonical < 100 and lifts.read(lift, "largest void") is None


_PRACTICE_VOID: Figure = Quantity(Fraction(str(round(TWO_SQUARE_INCHES_MM2 / 100, 1))), "cm2")
# What is doubted of good lifts: told once, whatever the number of areas.
_CHOSEN: tuple[tuple[str, Callable[[_AreaLifts, LiftRecord], bool], Mapping[str, Figure]], ...] = (
    ("at-the-limit", _no_more_than_required, {}),
    ("alone", _alone_without_photo, {}),
    ("alone-with-photo", _alone_with_photo, {}),
    ("alone-painted", _painted_alone, {}),
    ("reckoned", _reckoned, {}),
    ("swirls", _swirled, {}),
    ("no-void", _no_void, {"void": _PRACTICE_VOID}),
)


def _of_lifts(
    code: str, chosen: Iterable[tuple[_AreaLifts, tuple[LiftRecord, ...]]], figures: Mapping[str, Figure]
) -> Iterator[LookAt]:
    """One doubt of these lifts, area by area; none where there are none."""
    found = [(lifts.name, tuple(lift.number for lift in some)) for lifts, some in chosen if some]
    if not found:
        return
    places = tuple(
        message("doubt-lifts", area=area, lifts=_ranges(numbers), count=len(numbers)) for area, numbers in found
    )
    told = Message(f"doubt-{code}", {"places": Several(places, "clauses"), **figures})
    last = "/".join(f"{area}/{numbers[-1]}" for area, numbers in found)
    numbers = found[0][1] if len(found) == 1 else ()
    yield LookAt("doubt", f"{code}/{last}", told, tuple(area for area, _ in found), numbers)


def _ranges(numbers: Iterable[int]) -> Several:
    """Numbers in a row, three and more neighbours as one."""
    told: list[Figure] = []
    for first, last in rows(numbers):
        if last - first > 1:
            told.append(message("doubt-range", first=str(first), last=str(last)))
        else:
            told += [str(number) for number in range(first, last + 1)]
    return Several(tuple(told), "and")


# --- limits -------------------------------------------------------------------------------------------------------


def _second_hand(state: State) -> Iterator[LookAt]:
    """The contacts that lifts and samples were held against and that are known second-hand, or from memory."""
    held = [area for area in state.areas.values() if area.progress.lifts or area.progress.samples]
    needs = [(area.plan.name, rules.requirement(area.facts)) for area in held]
    for standing in SECOND_HAND:
        found = [(name, need) for name, need in needs if need.basis.standing is standing]
        if not found:
            continue
        limits = sorted({need.minimum_percent for _, need in found})
        told = message(
            "doubt-second-hand",
            limits=Several(tuple(Quantity(Fraction(str(limit)), "percent") for limit in limits), "and"),
            count=len(limits),
            documents=Several(tuple(sorted({need.basis.document for _, need in found})), "and"),
            standing="memory" if standing is Provenance.MEMORY else "reported",
        )
        yield LookAt("limit", f"second-hand/{standing.value}", told, tuple(name for name, _ in found))
