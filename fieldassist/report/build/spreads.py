"""Mortar that was spread for tiles that are counted, and the tiles that are in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.spreading import spread_clock
from fieldassist.checklist.state import Area, Spread
from fieldassist.report.build.tiles import letter
from fieldassist.report.build.words import ranges
from fieldassist.report.report_model import ClockLine, SpreadLine

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


def lines(builder: AreaBuilder, area: Area, clocks: Mapping[int, ClockLine]) -> Iterator[SpreadLine]:
    """Every spread that counts, the oldest first, those of days before first. clocks: by the event that started
    each."""
    words = builder.context.words
    for spread in area.progress.spreads.values():
        key = (spread.section, spread.round)
        key = (spread.section, spread.round)
        event, about = builder.spreads.get(key), builder.context.rounds.get((area.plan.name, *key))
        clock = clocks.get(_clock(builder, area, spread))
        of_before = (tile.number for tile in area.progress.tiles.values() if tile.spread == spread.round)
        counted = about.counted if about is not None else tuple(of_before)
        first = [about.tile] if about is not None and about.set and about.tile is not None else []
        yield SpreadLine(
            seq=event.seq if event is not None else 0,
            time=words.time(spread.at.wall),
            setter=words.person(spread.setter),
            method=letter(spread.method),
            batch=builder.batch_title(spread.batch),
            wanted=spread.wanted,
            done=spread.done,
            tiles=ranges(sorted([*first, *counted])),
            witnessed=bool(event is not None and isinstance(event.body, ev.MortarSpread) and event.body.witnessed),
            bears=spread.bears,
            minutes=clock.used if clock is not None else None,
            allowed=clock.allowed if clock is not None else None,
            ref=clock.ref if clock is not None else None,
            outcome=clock.outcome if clock is not None else None,
            standing=spread.standing,
        )


def _clock(builder: AreaBuilder, area: Area, spread: Spread) -> int:
    """The run of the open time of a spread; 0 where there is none in this log."""
    section = area.checklist.section(spread.section)
    counting = section.counting if section is not None else None
    rule = spread_clock(area, counting) if counting is not None else None
    for number, run in reversed(builder.clocks.runs.items()):
        body = run.body
        if rule is not None and (body.clock, body.section, body.round) == (rule.id, spread.section, spread.round):
            return number if builder.context.counts(run.event) else 0
    return 0


# --- handlers -----------------------------------------------------------------------------------------------------


def mortar_spread(area: AreaBuilder, event: Event, body: ev.MortarSpread) -> None:
    """Mortar was spread, for so many tiles where that was said."""
    key = (body.section, body.round)
    if area.context.counts(event):
        area.spreads[key] = event
    wanted = "" if body.wanted is None else " for one tile" if body.wanted == 1 else f" for {body.wanted} tiles"
    bears = f"the open time bears about {body.bears}" if body.bears is not None else ""
    area.add_under(event, key, "step", f"Mortar spread{wanted}", detail=bears, source=event.source)


def tile_counted(area: AreaBuilder, event: Event, body: ev.TileCounted) -> None:
    """A tile of a spread is in."""
    if area.context.counts(event):
        area.set_tile(event, body.tile)
    over = "the spread is over" if body.ends else ""
    what = f"Tile {body.tile.number} in, counted"
    area.add_under(event, (body.section, body.round), "step", what, detail=over, source=event.source)


HANDLERS: Mapping[type, Callable[..., None]] = {ev.MortarSpread: mortar_spread, ev.TileCounted: tile_counted}
