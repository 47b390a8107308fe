"""What a screen says of the tiles of an area: which one is at hand, which hold up its end, what nobody looked under."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.checklist import covering, proven
from fieldassist.checklist.moment import Moment
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
    seen = proven.seen_tiles(area)
    parts.append(f"{seen.tiles} of {planned_pieces(area.plan)} set{_ways(seen)}")
    needed, _ = area.lifts_needed
    if needed:
        parts.append(f"{progress.good_tiles} of {needed} good lifts")
    return " · ".join(parts)


def _ways(seen: proven.SeenTiles) -> str:
    """How the tiles came into the record, in brackets; "" while none is set."""
    if not seen.tiles:
        return ""
    again = f", {seen.set_again} set again" if seen.set_again else ""
    return f" ({seen.witnessed} witnessed, {seen.counted} counted{again})"


def open_spreads(area: Area, now: Moment) -> Iterator[str]:
    """The mortar that tiles may come into, a line a spread: whose, for how many, how many are in, for how long."""
    for spread in area.progress.open_spreads:
        wanted = f" for {spread.wanted}" if spread.wanted is not None else ""
        minutes = int(spread.at.minutes_to(now))
        runs = [r for r in area.progress.clocks if (r.section, r.round) == (spread.section, spread.round)]
        allowed = f" of {runs[0].minutes:g}" if runs else ""
        yield f"{capital(spread.setter)} spread{wanted}: {spread.done} in, {minutes}{allowed} min"


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


def waiting_of(area: Area, words: Words) -> str:
    """What is due and can wait, in one line; "" where nothing does."""
    lifts = covering.waiting_lifts(area)
    off = tuple(tile.number for tile in covering.not_put_back(area))
    apart = {*area.progress.targets, *area.progress.putting_back}
    others = (area.checklist.holder(t.section).title for t in area.waiting if (t.section, t.round) not in apart)
    parts = [
        *([f"lift {_numbered(lifts, words)}"] if lifts else []),
        *([f"put back {_numbered(off, words)}"] if off else []),
        *(words(title).lower() for title in others),
    ]
    return f"Waits: {', '.join(parts)}" if parts else ""


def _numbered(numbers: tuple[int, ...], words: Words) -> str:
    return words(Several(tuple(map(str, numbers)), "and"))


def standing_of(area: Area, words: Words) -> Iterator[str]:
    """How the tiles of an area came into the record, and what the lifts leave open, a line each."""
    seen = proven.seen_tiles(area)
    if seen.tiles:
        yield capital(words(seen.told))
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
