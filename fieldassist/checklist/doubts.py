"""What whoever accepts a day should look at first: every open point, and what is none and may still be doubted.

An open point holds up whoever signs; a doubt holds up nobody. It is what a careful owner would ask about: a figure that
rests on one person's eye, what was never read, a limit that is known second-hand. Page, facts and screens ask here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.open_points import OpenPoint, open_points
from fieldassist.checklist.proven import way_of
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area, LiftRecord, PointAnswer, ReadingRecord, State
from fieldassist.trade.basis import Basis, Provenance
from fieldassist.trade.coverage import TWO_SQUARE_INCHES_MM2
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity

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


@dataclass(frozen=True, slots=True)
class LookAt:
    """Something to look at. id: stays the same while its cause does; told: code and figures; area: None of the whole
    day, or of several areas; lifts, tiles: their numbers, where it is about some; point: the open point that it is."""

    kind: LookKind
    id: str
    told: Message
    area: str | None = None
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
    return LookAt(_KINDS.get(point.id.partition("/")[0], "unanswered"), point.id, point.told, point.area, point=point)


def doubts(state: State, stands: Standing) -> tuple[LookAt, ...]:
    """What is no open point and may still be doubted."""
    found = list(_of_the_record(stands))
    photos = _photos(stands)
    # What a trial's samples can say and what not, its own analysis tells.
    areas = [_AreaLifts(area, stands, photos) for area in state.areas.values() if area.plan.trial is None]
    for lifts in areas:
        found += [one for look in _LOOKS for one in look(lifts)]
    return (*found, *_second_hand(areas))


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


# --- lifts --------------------------------------------------------------------------------------------------------


class _AreaLifts:
    """The lifts of an area that were judged today, with what was read of them."""

    def __init__(self, area: Area, stands: Standing, photos: set[tuple[str, str, int]]) -> None:
        self.area, self.name, self.stands, self.photos = area, area.plan.name, stands, photos
        self.lifts = [one for one in area.progress.lifts.values() if one.lifted > 0 and one.verdict is not None]
        self.good = [one for one in self.lifts if one.verdict == "passed"]
        self._read = {(r.section, r.round, r.measures): r for r in area.readings.values()}

    def read(self, lift: LiftRecord, what: str) -> ReadingRecord | None:
        """What was read of it last, None where nobody read that."""
        return self._read.get((lift.section, lift.round, what))

    def by_eye(self, lift: LiftRecord) -> bool:
        """Whether its contact was read by eye."""
        read = self.read(lift, "coverage")
        return read is not None and way_of(self.stands.events[read.called - 1].source.how) == "eye"

    def read_by_the_setter(self, lift: LiftRecord) -> bool:
        """Whether who set the tile read it, and nobody else."""
        read = self.read(lift, "coverage")
        runs = self.area.progress.runs
        setter = runs[lift.run - 1][0] if 0 < lift.run <= len(runs) else ""
        return read is not None and self.stands.events[read.called - 1].by == setter

    def has_photo(self, lift: LiftRecord) -> bool:
        """Whether a photo was kept in its round."""
        return (self.name, lift.section, lift.round) in self.photos

    def look(self, code: str, lifts: Iterable[LiftRecord], **figures: Figure) -> Iterator[LookAt]:
        """One doubt of these lifts, none where there are none."""
        numbers = tuple(lift.number for lift in lifts)
        if numbers:
            told = message(
                f"doubt-{code}",
                area=self.name,
                lifts=Several(tuple(map(str, numbers)), "and"),
                count=len(numbers),
                **figures,
            )
            yield LookAt("doubt", f"{code}/{self.name}/{numbers[-1]}", told, self.name, lifts=numbers)


def _not_complete(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Lifts of which something that is required was not read: they prove nothing."""
    judged = {event.body.lift: event.body for event in lifts.stands.lifts if event.body.area == lifts.name}  # type: ignore[union-attr]
    for lift in lifts.lifts:
        body = judged.get(lift.number)
        if lift.verdict == "not complete" and isinstance(body, ev.LiftJudged):
            yield from lifts.look("not-complete", [lift], unread=Several(body.unread, "and"))


def _by_the_setter(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Good lifts that were read by eye, by nobody but who set the tile: with no photo, and with one."""
    alone = [lift for lift in lifts.good if lifts.by_eye(lift) and lifts.read_by_the_setter(lift)]
    for photo in ("no", "yes"):
        shown = [lift for lift in alone if lifts.has_photo(lift) is (photo == "yes")]
        for one in lifts.look("by-the-setter", shown, photo=photo):
            yield LookAt(one.kind, f"{photo} photo, {one.id}", one.told, one.area, one.lifts)


def _no_more_than_required(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Good lifts that by eye reach what is required and no more: one point less, and they had failed."""
    need = rules.required_coverage(lifts.area.facts)
    reached = [
        lift
        for lift in lifts.good
        if lifts.by_eye(lift)
        and (read := lifts.read(lift, "coverage")) is not None
        and need.at_least is not None
        and read.canonical <= need.at_least
    ]
    if need.at_least is not None:
        yield from lifts.look("at-the-limit", reached, required=Quantity(need.at_least, "percent"))


def _no_void(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Good lifts that are not fully covered and of which nobody read the largest void, where nothing asks for it."""
    unread = [
        lift
        for lift in lifts.good
        if lifts.read(lift, "largest void") is None
        and (read := lifts.read(lift, "coverage")) is not None
        and read.canonical < 100
    ]
    practice = Quantity(Fraction(str(round(TWO_SQUARE_INCHES_MM2 / 100, 1))), "cm2")
    yield from lifts.look("no-void", unread, void=practice)


def _not_timed(lifts: _AreaLifts) -> Iterator[LookAt]:
    """Tiles all of whose steps were called in one breath: nothing tells how long the mortar lay open."""
    tiles = lifts.area.progress.tiles.values()
    numbers = tuple(sorted(tile.number for tile in tiles if tile.together and tile.set > 0))
    if numbers:
        named = Several(tuple(map(str, numbers)), "and")
        told = message("doubt-not-timed", area=lifts.name, tiles=named, count=len(numbers))
        yield LookAt("doubt", f"not timed/{lifts.name}/{numbers[-1]}", told, lifts.name, tiles=numbers)


_LOOKS: tuple[Callable[[_AreaLifts], Iterator[LookAt]], ...] = (
    _not_complete,
    _no_more_than_required,
    _by_the_setter,
    _no_void,
    _not_timed,
)


# --- limits -------------------------------------------------------------------------------------------------------


def contact_basis(area: Area) -> Basis:
    """Where the contact comes from that an area's tiles must show."""
    return rules.requirement(area.facts).basis


def is_second_hand(basis: Basis) -> bool:
    """Whether nobody here had the document before them."""
    return basis.standing in (Provenance.REPORTED, Provenance.MEMORY)


def _second_hand(areas: Iterable[_AreaLifts]) -> Iterator[LookAt]:
    """The contacts that lifts were held against and that are known second-hand, or from memory, a point each."""
    found: dict[Provenance, dict[Figure, str]] = {}
    for lifts in areas:
        need = rules.requirement(lifts.area.facts)
        if lifts.lifts and is_second_hand(need.basis):
            limit = Quantity(Fraction(str(need.minimum_percent)), "percent")
            found.setdefault(need.basis.standing, {})[limit] = need.basis.document
    for standing, limits in found.items():
        told = message(
            "doubt-second-hand",
            limits=Several(tuple(sorted(limits, key=_value)), "and"),
            count=len(limits),
            documents=Several(tuple(sorted(set(limits.values()))), "and"),
            standing="memory" if standing is Provenance.MEMORY else "reported",
        )
        yield LookAt("limit", f"second-hand/{standing.value}", told)


def _value(limit: Figure) -> Fraction:
    assert isinstance(limit, Quantity)
    return limit.value
