"""The record of one piece: its state and what that rests on, who set it, when, out of which batch and how, what was
read of it and of its lifts.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from fieldassist.checklist import covering, methods, proven
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds.reading import read_as
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Area, LiftRecord, State, Tile
from fieldassist.trade.message import Figure, Message, message
from fieldassist.ui.content.history import RoundAt


@dataclass(frozen=True, slots=True)
class RecordLine:
    """A line of a record: what it is about, and what it says."""

    about: Message
    says: Figure


@dataclass(frozen=True, slots=True)
class RecordReading:
    """A reading: its name and value, whether it passed (None where it was not judged), whether it was corrected, and
    where it was read: the event that kept it, and the step of a round."""

    name: Figure
    value: Figure
    passed: bool | None
    corrected: bool
    kept: int
    step: tuple[str, int, str]


def state_told(area: Area, number: int) -> Message:
    """The state of a piece in a word or two."""
    tile = area.progress.tiles.get(number)
    state = tile.state if tile is not None else "not set"
    return message("wall-state", state=state.replace(" ", "-"))


def lines(area: Area, number: int) -> Iterator[RecordLine]:
    """What is known of a piece besides what was read."""
    tile = area.progress.tiles.get(number)
    if tile is None:
        place = next((place for place in area.places if place.number == number), None)
        if place is not None:
            yield RecordLine(message("wall-about-place"), proven.where(place, number))
        return
    yield RecordLine(message("wall-about-why"), proven.why(tile))
    yield RecordLine(message("wall-about-set"), message("wall-set-by", name=tile.setter, at=_time(tile)))
    yield RecordLine(message("wall-about-seen"), proven.seen_told(area, tile))
    yield RecordLine(message("wall-about-place"), proven.where(tile.place, number))
    batch = area.progress.batches.get(tile.batch)
    if tile.batch:
        lot = batch.lot if batch is not None else ""
        yield RecordLine(message("wall-about-batch"), message("wall-batch", batch=str(tile.batch), lot=lot or "none"))
    if 0 <= tile.method < len(area.methods_used):
        method = area.methods_used[tile.method]
        name = methods.name_of(area, method)
        yield RecordLine(message("wall-about-method"), name or methods.told(method))
    back = proven.put_back(area, tile)
    if back is not None:
        yield RecordLine(message("wall-about-back"), back)


def _time(tile: Tile) -> str:
    return tile.at.wall[11:16]


def lifts_of(area: Area, number: int) -> tuple[LiftRecord, ...]:
    """The lifts that looked under a piece, in order."""
    return tuple(lift for lift in area.progress.lifts.values() if lift.tile == number)


def may_be_lifted(state: State, area: Area, number: int) -> bool:
    """Whether anybody may ask now for a piece to be lifted: it is set, in the area that is worked on, and its lift is
    neither due nor under way."""
    tile = area.progress.tiles.get(number)
    if tile is None or tile.state == "taken off" or state.closed or state.active != area.plan.name:
        return False
    under_way = area.aimed is not None and area.aimed.tile == number
    return not under_way and number not in covering.to_be_lifted(area)


def lift_told(lift: LiftRecord) -> Message:
    """A lift in a line: how it came about and what it came to."""
    verdict = (lift.verdict or "open").replace(" ", "-")
    return message("wall-lift", lift=str(lift.number), came=proven.how_it_came(lift.came), verdict=verdict)


def readings(area: Area, rounds: Collection[RoundAt]) -> tuple[RecordReading, ...]:
    """What was read in these rounds and counts, in the order in which it was kept."""
    return tuple(
        RecordReading(
            name=area.checklist.step(reading.section, reading.step).name,
            value=read_as(reading),
            passed=None if reading.verdict is None else reading.verdict == "passed",
            corrected=reading.corrected,
            kept=reading.kept,
            step=(reading.section, reading.round, reading.step),
        )
        for reading in area.readings.values()
        if (area.plan.name, reading.section, reading.round) in rounds
    )


@dataclass(frozen=True, slots=True)
class RecordPhoto:
    """A photo: the file beside the day that shows it, its copy where there is one, and when it was kept (wall time)."""

    file: str
    at: str


def photos(events: Iterable[Event], rounds: Collection[RoundAt]) -> tuple[RecordPhoto, ...]:
    """The photos that were taken in these rounds and count."""
    return tuple(
        RecordPhoto(event.body.copy_file or event.body.file, event.at.wall[11:16])
        for event in standing(events).photos
        if isinstance(event.body, ev.PhotoAttached)
        and (event.body.area, event.body.section, event.body.round) in rounds
    )
