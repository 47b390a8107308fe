"""What a screen says of the tiles of an area: which one is at hand, which hold up its end, what nobody looked under."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.checklist import proven
from fieldassist.checklist.places import planned_pieces
from fieldassist.checklist.state import Area
from fieldassist.language import Words
from fieldassist.trade.message import Several
from fieldassist.ui.content.names import capital


def where_at(area: Area, words: Words) -> str:
    """Which area, which section and tile, and how far the area is."""
    progress = area.progress
    parts = [capital(area.plan.name)]
    if area.holder is not None and area.task is not None:
        parts.append(_round_of(area, words(area.holder.title), words))
    parts.append(f"{len(proven.set_tiles(area))} of {planned_pieces(area.plan)} set")
    needed, _ = area.lifts_needed
    if needed:
        parts.append(f"{progress.good_tiles} of {needed} good lifts")
    return " · ".join(parts)


def _round_of(area: Area, title: str, words: Words) -> str:
    """The round at hand: by the tile that it lifts and why, or sets and where."""
    progress, task = area.progress, area.task
    assert task is not None  # asked of a round
    if area.aimed is not None:
        return f"{title}: tile {area.aimed.tile}, {words(proven.how_it_came(area.aimed.came))}"
    place = progress.taking.get((task.section, task.round))
    if place is not None:
        number = place.number or max(progress.tiles, default=0) + 1
        at = f" ({words(proven.where(place, number))})" if place.row is not None or place.name is not None else ""
        return f"{title} {number}{at}"
    return f"{title} {task.round}" if task.round > 1 else title


def open_tiles(area: Area, words: Words) -> Iterator[str]:
    """The tiles that hold up the area's end, a line a state."""
    suspect, failed = proven.tiles_in(area, "suspect"), proven.tiles_in(area, "lifted failed")
    for said, numbers in (("Suspect", suspect), ("Failed and in place", failed)):
        if numbers:
            yield f"{said}: {_numbered(numbers, words)}"


def _numbered(numbers: tuple[int, ...], words: Words) -> str:
    return words(Several(tuple(map(str, numbers)), "and"))


def standing_of(area: Area, words: Words) -> Iterator[str]:
    """What the lifts leave open in an area, a line each."""
    yield from open_tiles(area, words)
    waits = proven.tiles_in(area, "not yet covered")
    if waits:
        yield f"Not yet covered: {len(waits)}"
    accepted = proven.tiles_in(area, "accepted")
    if accepted:
        yield f"Accepted as they are: {_numbered(accepted, words)}"
    row = proven.tally(area).row
    if row:
        yield f"Longest row that nobody looked under: {row}"
