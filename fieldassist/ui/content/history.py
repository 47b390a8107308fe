"""The day's history: what happened in lines, by area, by person, of one piece, of one reading, or failures alone.

What no longer counts stays in it, marked: nothing is ever taken out of a record.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Reading
from fieldassist.checklist.kinds.reading import GiveReading
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.prompt import correction_offers
from fieldassist.checklist.standing import Standing, standing
from fieldassist.checklist.state import Area, ReadingRecord, State
from fieldassist.checklist.trying import read_apart
from fieldassist.trade.message import Message
from fieldassist.ui.content.entry import LastValue, NumberQuestion

# Where something happened: area, section and round.
RoundAt = tuple[str, str, int]
# What a tablet does by itself, and what goes before what was kept: they say nothing that another line does not say.
_NOISE = (ev.ReadingCalled, ev.ClockWarned, ev.ClockJumped, ev.ClockUnwatched, ev.ChecklistAdopted, ev.LotsCommitted)


@dataclass(frozen=True, slots=True)
class HistoryFilter:
    """What is shown: of one area, of one person, failures alone, of one piece by its number, of one step of a round; a
    piece and a step are of the area."""

    area: str | None = None
    person: str | None = None
    failures: bool = False
    piece: int | None = None
    step: tuple[str, int, str] | None = None


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """A line: when (wall time), who, what. counts: it still does; fails: it tells of a failure; reading: the event that
    kept a reading which may be corrected, 0 for none; step: where it was read."""

    seq: int
    at: str
    by: str
    told: Message
    counts: bool = True
    fails: bool = False
    reading: int = 0
    step: tuple[str, int, str] | None = None


@dataclass
class History:
    """The lines of a log, told once each: a log only grows."""

    _listing: Listing = field(default_factory=Listing)
    _events: list[Event] = field(default_factory=list)
    _told: list[Message] = field(default_factory=list)

    def take(self, events: Sequence[Event]) -> None:
        """Take the events that came since the last time."""
        if self._events and (len(events) < len(self._events) or events[0].id != self._events[0].id):
            self._listing, self._events, self._told = Listing(), [], []
        for event in events[len(self._events) :]:
            self._told.append(self._listing.line(event))
            self._events.append(event)

    def lines(
        self, chosen: HistoryFilter, apart: frozenset[tuple[str, str, int, str]] = frozenset()
    ) -> tuple[HistoryLine, ...]:
        """The lines that are chosen, the newest first. apart: what is shown to nobody yet (`kept_apart`)."""
        stands = standing(self._events)
        rounds = rounds_of(self._events, chosen.area or "", chosen.piece) if chosen.piece is not None else None
        found = [
            _line(event, told, stands)
            for event, told in zip(self._events, self._told, strict=True)
            if _shown(event, chosen, rounds) and _place(event.body) not in apart
        ]
        return tuple(reversed(found))


def kept_apart(state: State) -> frozenset[tuple[str, str, int, str]]:
    """The steps of samples whose figure is shown to nobody until the other reader has given theirs: area, section,
    round, step."""
    return frozenset(
        (name, area.task.section, area.task.round, step.id)
        for name, area in state.areas.items()
        if area.sample is not None and area.task is not None and area.checklist.trying is not None
        for step in area.checklist.trying.steps
        if isinstance(step, Reading) and read_apart(area, step)
    )


def _place(body: Any) -> tuple[str, str, int, str] | None:
    if not isinstance(body, ev.JudgedReading):
        return None
    return body.area, body.section, body.round, body.step


def _line(event: Event, told: Message, stands: Standing) -> HistoryLine:
    body: Any = event.body
    counts = stands.counts(event)
    reading = event.seq if counts and isinstance(body, ev.JudgedReading) else 0
    return HistoryLine(
        seq=event.seq,
        at=event.at.wall[11:16],
        by=event.by,
        told=told,
        counts=counts,
        fails=is_failure(body),
        reading=reading,
        step=(body.section, body.round, body.step) if isinstance(body, ev.JudgedReading) else None,
    )


def is_failure(body: Any) -> bool:
    """Whether an event tells that something does not hold."""
    if isinstance(body, ev.FailureOpened | ev.StillFailing | ev.ClockRanOut | ev.MethodDoubted):
        return True
    if isinstance(body, ev.LiftJudged):
        return body.verdict == "failed"
    return isinstance(body, ev.JudgedReading) and body.verdict in ("over", "under")


def _shown(event: Event, chosen: HistoryFilter, rounds: frozenset[RoundAt] | None) -> bool:
    body: Any = event.body
    area = getattr(body, "area", None)
    if chosen.area is not None and area != chosen.area:
        return False
    if chosen.person is not None and event.by != chosen.person:
        return False
    if chosen.step is not None:
        return (
            getattr(body, "section", None),
            getattr(body, "round", None),
            getattr(body, "step", None),
        ) == chosen.step
    if chosen.failures and not (is_failure(body) or isinstance(body, ev.FailureClosed)):
        return False
    if rounds is not None and chosen.piece is not None:
        return not isinstance(body, _NOISE) and _of_piece(body, chosen.piece, rounds)
    return not isinstance(body, _NOISE)


def _of_piece(body: Any, piece: int, rounds: frozenset[RoundAt]) -> bool:
    if isinstance(body, ev.TilesMarked):
        return any(mark.tile == piece for mark in body.marks)
    if isinstance(body, ev.TilesAccepted):
        return piece in body.tiles
    tile = getattr(body, "tile", None)
    if tile is not None:
        return bool((tile if isinstance(tile, int) else tile.number) == piece)
    return (getattr(body, "area", ""), getattr(body, "section", ""), getattr(body, "round", 0)) in rounds


def rounds_of(events: Iterable[Event], area: str, piece: int) -> frozenset[RoundAt]:
    """The rounds of an area in which a piece was set, spread for, lifted or put back."""
    return frozenset(_rounds_of(events, area, piece))


def _rounds_of(events: Iterable[Event], area: str, piece: int) -> Iterator[RoundAt]:
    for event in events:
        body: Any = event.body
        if getattr(body, "area", None) != area:
            continue
        if isinstance(body, ev.SectionClosed):
            if body.tile is not None and body.tile.number == piece:
                yield (area, body.section, body.round)
        elif isinstance(body, ev.TileCounted):
            if body.tile.number == piece:
                yield (area, body.section, body.round)
        elif isinstance(body, ev.TileLifted) and body.tile == piece:
            yield (area, body.section, body.round)


def asked_for(offer: Offer, was: ReadingRecord, area: Area) -> NumberQuestion | None:
    """The number that corrects a reading, with its limit and what it was; None where the reading is a name."""
    slot = offer.slot
    if slot is None or not slot.heard or slot.dimension == "name":
        return None
    step = area.checklist.step(was.section, was.step)
    return NumberQuestion(
        step.name,
        slot.units,
        slot.low,
        slot.high,
        area.criterion(step),
        (LastValue(was.value, was.unit),),
        note=step.ask,
        whole=slot.whole,
    )


def correction_of(state: State, area: str, reading: int, language: str) -> Offer | None:
    """How a reading is corrected: the engine's own offer, which waits for its value; None where it may not be now."""
    here = state.areas.get(area)
    if here is None or state.speaker is None or state.closed or state.pending is not None:
        return None
    return next(
        (
            offer
            for offer in correction_offers(state, here, language)
            if isinstance(offer.command, GiveReading) and offer.command.corrects == reading
        ),
        None,
    )
