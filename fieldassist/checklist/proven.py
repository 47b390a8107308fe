"""What is known of an area's tiles and lifts, worked out once: page, screens and facts take their figures from here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from fieldassist.checklist import covering
from fieldassist.checklist.moment import How
from fieldassist.checklist.places import PiecePlace
from fieldassist.checklist.reach import TileState
from fieldassist.checklist.state import Area, LiftRecord, Tile
from fieldassist.trade.message import Message, message
from fieldassist.trade.sampling import LiftTally

# In the order of the page: those that nobody knew of first.
CAME = (
    "lot",
    "forced",
    "first of run",
    "last of batch",
    "last of run",
    "asked",
    "inspector asked",
    "follow-up",
    "after failure",
    "interval",
)


@dataclass(frozen=True, slots=True)
class LiftCount:
    """The judged lifts that came about in one way."""

    came: str
    good: int = 0
    failed: int = 0
    not_complete: int = 0

    @property
    def lifted(self) -> int:
        """All of them."""
        return self.good + self.failed + self.not_complete


def lift_counts(area: Area) -> tuple[LiftCount, ...]:
    """The judged lifts of an area by how they came about, none that there was none of."""
    judged = [lift for lift in area.progress.lifts.values() if lift.verdict is not None]
    return tuple(_count(came, [lift for lift in judged if lift.came == came]) for came in CAME if came in _came(judged))


def _came(lifts: Iterable[LiftRecord]) -> set[str]:
    return {lift.came for lift in lifts}


def _count(came: str, lifts: Iterable[LiftRecord]) -> LiftCount:
    verdicts = [lift.verdict for lift in lifts]
    return LiftCount(came, verdicts.count("passed"), verdicts.count("failed"), verdicts.count("not complete"))


def tiles_in(area: Area, *states: TileState) -> tuple[int, ...]:
    """The numbers of the tiles in one of these states, in order."""
    return tuple(sorted(n for n, tile in area.progress.tiles.items() if tile.state in states))


def set_tiles(area: Area) -> tuple[Tile, ...]:
    """The tiles that are set and stay, in the order in which they were set."""
    stay = (tile for tile in area.progress.tiles.values() if tile.state != "taken off")
    return tuple(sorted(stay, key=lambda tile: tile.order))


def tally(area: Area) -> LiftTally:
    """The lifts of an area as `trade.sampling.what_lots_prove` asks for them. One that is not complete proves nothing,
    and is on neither side."""
    counts = {count.came: count for count in lift_counts(area)}
    none = LiftCount("")
    drawn, forced = counts.pop("lot", none), counts.pop("forced", none)
    fixed = "interval" in counts
    row = covering.reach_of(area).unseen
    return LiftTally(
        tiles=len(set_tiles(area)),
        drawn_good=drawn.good,
        drawn_bad=drawn.failed,
        forced_good=forced.good,
        forced_bad=forced.failed,
        chosen_good=sum(count.good for count in counts.values()),
        chosen_bad=sum(count.failed for count in counts.values()),
        row=row.tiles,
        row_m2=row.face_m2,
        fixed=fixed,
    )


# How a tile came into the record: every step of it was called, or it was counted out of mortar that was spread, or one
# phrase said that it was set again after its lift.
SeenAs = Literal["witnessed", "counted", "set again"]


def seen(tile: Tile) -> SeenAs:
    """How a tile came into the record. The three never share a mark."""
    if tile.spread is not None:
        return "counted"
    return "witnessed" if tile.witnessed else "set again"


@dataclass(frozen=True, slots=True)
class SeenTiles:
    """How many tiles that are set and stay came into the record in which way."""

    witnessed: int = 0
    counted: int = 0
    set_again: int = 0

    @property
    def tiles(self) -> int:
        """All of them."""
        return self.witnessed + self.counted + self.set_again

    @property
    def told(self) -> Message:
        """All of them in a sentence."""
        return message(
            "tile-seen-of-all",
            tiles=self.tiles,
            witnessed=self.witnessed,
            counted=self.counted,
            again=self.set_again,
        )


def seen_tiles(area: Area) -> SeenTiles:
    """How the tiles of an area that are set and stay came into the record."""
    ways = [seen(tile) for tile in set_tiles(area)]
    return SeenTiles(ways.count("witnessed"), ways.count("counted"), ways.count("set again"))


# How a lift was read: by eye, counted on a grid, or from a photo. What was drawn from memory of the bed is by eye too.
ReadWay = Literal["eye", "grid", "photo"]
_WAYS: Mapping[How, ReadWay] = {
    "counted on a grid": "grid",
    "painted on a photo": "photo",
    "measured on a photo": "photo",
}


def way_of(how: How) -> ReadWay:
    """By which way a percentage was read that came to the tablet so."""
    return _WAYS.get(how, "eye")


# --- in words -----------------------------------------------------------------------------------------------------


def why(tile: Tile) -> Message:
    """What the state of a tile rests on."""
    return message("tile-why", state=tile.state.replace(" ", "-"), lift=str(tile.lift or 0))


def seen_told(area: Area, tile: Tile) -> Message:
    """How a tile came into the record and what stands for it: its own event, or the lift that covers it."""
    before = [lift.number for lift in area.progress.lifts.values() if lift.tile == tile.number]
    after = [lift.number for lift in area.progress.lifts.values() if lift.order == tile.order]
    way = seen(tile)
    if way == "set again":
        lift = max((number for number in before if number not in after), default=0)
    else:
        lift = tile.lift or 0
    return message(
        "tile-seen",
        seen=way.replace(" ", "-"),
        state=tile.state.replace(" ", "-"),
        lift=str(lift),
        event=str(max(tile.set, 0)),
        together="yes" if tile.together else "no",
    )


def where(place: PiecePlace, number: int) -> Message:
    """The place of a tile: row and column, its name, or when it was set."""
    if place.name is not None:
        return message("tile-named", name=place.name)
    if place.row is None:
        return message("tile-by-order", number=str(number))
    return message("tile-row-column", row=str(place.row), column=str(place.column))


def how_it_came(came: str) -> Message:
    """How a lift came about."""
    return message("tile-came", came=came.replace(" ", "-"))


def put_back(area: Area, tile: Tile) -> Message | None:
    """What became of a lifted tile; None where it was not put back."""
    if not tile.put_back:
        return None
    last = max((lift.number for lift in area.progress.lifts.values() if lift.order == tile.order), default=0)
    return message("tile-put-back", how=tile.put_back.replace(" ", "-"), lift=str(last))
