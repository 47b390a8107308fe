"""What the lifts of an area have shown so far, and what is still to be lifted. `reach` and `lots` hold the rules; here
they look at an area as it stands. Nothing is decided here: `lifts` and `follow` do that.
"""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.checklist import lots, methods
from fieldassist.checklist.events import Came, LiftAimed, TileMark
from fieldassist.checklist.lots import LotRule
from fieldassist.checklist.reach import Looked, Reach, Work, reach, unlifted
from fieldassist.checklist.state import Area, ClockRun, State, Tile
from fieldassist.trade.message import Message, Several, message, term

# A tile set in the last quarter of its mortar's pot life is lifted. Ours: the risk is at the end, no source says where.
LATE = 0.75


def work_of(area: Area) -> Work:
    """What was done in the area, as `reach` looks at it."""
    progress = area.progress
    return Work(
        settings=progress.history,
        lifts=[Looked(lift.number, lift.order, lift.verdict) for lift in progress.lifts.values()],
        until={lift.number: lift.until for lift in progress.lifts.values() if lift.until is not None},
        accepted=progress.accepted.keys(),
        taken_off=progress.taken_off,
        stood_in=methods.stood_in(area),
    )


def reach_of(area: Area) -> Reach:
    """What the lifts of the area say."""
    return reach(work_of(area))


def marks(area: Area) -> tuple[TileMark, ...]:
    """The tiles whose state is another than the one that they are marked with."""
    if area.checklist.lift_section is None:
        return ()
    tiles = area.progress.tiles
    return tuple(
        TileMark(tile=number, state=found.state, lift=found.lift, cleared_by=found.cleared_by)
        for number, found in reach_of(area).tiles.items()
        if (found.state, found.lift, found.cleared_by)
        != (tiles[number].state, tiles[number].lift, tiles[number].cleared_by)
    )


# --- lots ---------------------------------------------------------------------------------------------------------


def lot_rule(area: Area) -> LotRule | None:
    """How often a lot falls here: by the foreman's word or the checklist's; None where lifts lie at known places."""
    section = area.checklist.lift_section
    ruled = section.due.lots if section is not None and section.due is not None else None
    return None if ruled is None else area.lot_rule or ruled


def one_in(area: Area, face_m2: float) -> int | None:
    """N, of one tile with this face [m2]; None where nothing is drawn."""
    rule = lot_rule(area)
    if rule is None:
        return None
    columns = area.plan.grid.columns if area.plan.grid is not None else None
    return lots.one_in(face_m2, area.plan.piece.product, rule, columns)


def to_be_lifted(area: Area) -> frozenset[int]:
    """The numbers of the tiles whose lift is due: a round of it is open, or waits."""
    progress = area.progress
    open_rounds = {(task.section, task.round) for task in progress.tasks}
    aimed = {target.tile for at, target in progress.targets.items() if at in open_rounds and not _is_lifted(area, at)}
    return frozenset(aimed | {target.tile for target in progress.lifts_due})


def _is_lifted(area: Area, at: tuple[str, int]) -> bool:
    return area.progress.lift_of(*at) is not None


def waiting_lifts(area: Area) -> tuple[int, ...]:
    """The numbers of the tiles whose lift can wait and is not begun, in the order in which they are lifted."""
    progress = area.progress
    opened = [
        progress.targets[(t.section, t.round)].tile for t in area.waiting if (t.section, t.round) in progress.targets
    ]
    return (*opened, *(target.tile for target in progress.lifts_due))


def not_put_back(area: Area) -> tuple[Tile, ...]:
    """The tiles that were lifted and did not fail, and hang or lie beside their place since."""
    progress = area.progress
    if not any(section.puts_back for section in area.checklist.sections):
        return ()
    off = {lift.order for lift in progress.lifts.values() if lift.verdict in ("passed", "not complete")}
    return tuple(t for t in progress.tiles.values() if t.order in off - progress.taken_off and not t.put_back)


def unlifted_in(area: Area, run: int) -> int:
    """How many settings of a run came since the last one that was lifted or is to be."""
    progress = area.progress
    due = {progress.tiles[number].order for number in to_be_lifted(area)}
    return unlifted(progress.history, due | {lift.order for lift in progress.lifts.values()}, run)


def why_lift(area: Area, tile: Tile) -> Came | None:
    """Why a tile that was just set is to be lifted; None where it is not. Asked once a setting, when it is in."""
    progress = area.progress
    lot = progress.lots.get(tile.order)
    first = not any(s.run == tile.run and s.order < tile.order for s in progress.history)
    if first and tile.run not in methods.stood_in(area):
        return "first of run"
    if lot is not None and lot.forced:
        return "forced"
    if lot is not None and lot.fell:
        return "lot"
    return None


def missed_lots(area: Area) -> tuple[int, ...]:
    """The settings whose lot fell, or that were forced, and that were not looked under nor are about to be."""
    progress = area.progress
    looked = {lift.order for lift in progress.lifts.values() if lift.verdict in ("passed", "failed", None)}
    due = {progress.tiles[number].order for number in to_be_lifted(area)}
    return tuple(order for order, lot in progress.lots.items() if lot.lifts and order not in looked | due)


# --- what is to be lifted next --------------------------------------------------------------------------------------


def old_batch_tail(area: Area, run: ClockRun) -> Tile | None:
    """The last tile set out of the mortar of a clock's round, if that was late in its pot life and it is not lifted."""
    progress = area.progress
    tiles = [t for t in progress.tiles.values() if t.batch == run.round and t.order not in progress.taken_off]
    last = max(tiles, key=lambda t: t.order, default=None)
    if last is None or lot_rule(area) is None or run.started.minutes_to(last.at) < LATE * run.minutes:
        return None
    return last if may_be_lifted(area, last) and not is_looked_under(area, last) else None


def is_looked_under(area: Area, tile: Tile) -> bool:
    """Whether the tile was lifted as it stands and judged."""
    return any(
        lift.order == tile.order and lift.verdict in ("passed", "failed") for lift in area.progress.lifts.values()
    )


def may_be_lifted(area: Area, tile: Tile) -> bool:
    """Whether the tile stands, can be lifted as far as anybody said, and is not to be lifted already."""
    progress = area.progress
    gone = tile.order in progress.taken_off or tile.order in progress.lifts_left
    return not gone and tile.number not in to_be_lifted(area)


def next_lift(area: Area) -> LiftAimed | None:
    """What is lifted next once nothing is at hand: what waits, then outward from a failed lift."""
    progress = area.progress
    if progress.lifts_due:
        first = progress.lifts_due[0]
        return LiftAimed(tile=first.tile, came=first.came)
    following = reach_of(area).follow
    tile = next((t for t in _at(area, following) if t.order not in progress.lifts_left), None)
    return LiftAimed(tile=tile.number, came="follow-up") if tile is not None else None


def ends(area: Area) -> tuple[LiftAimed, ...]:
    """The lifts that would cover what is not covered yet: ends of runs that nobody looked under."""
    if area.checklist.lift_section is None:
        return ()
    left = area.progress.lifts_left
    tiles = [t for t in _at(area, reach_of(area).ends) if t.order not in left]
    return tuple(
        LiftAimed(tile=t.number, came="last of run" if _has_good_before(area, t) else "first of run") for t in tiles
    )


def _has_good_before(area: Area, tile: Tile) -> bool:
    before = [x for x in area.progress.lifts.values() if x.run == tile.run and x.order < tile.order]
    judged = [x for x in before if x.verdict in ("passed", "failed")]
    if not judged:
        return tile.run in methods.stood_in(area)
    return max(judged, key=lambda x: x.order).verdict == "passed"


def _at(area: Area, orders: Iterable[int]) -> list[Tile]:
    """The tiles that stand at these settings."""
    by_order = {tile.order: tile for tile in area.progress.tiles.values()}
    return [by_order[order] for order in orders if order in by_order]


def in_state(area: Area, *states: str) -> tuple[Tile, ...]:
    """The tiles in one of these states, by number."""
    return tuple(tile for _, tile in sorted(area.progress.tiles.items()) if tile.state in states)


def numbers(tiles: Iterable[Tile]) -> Several:
    """The numbers of tiles as a figure."""
    return Several(tuple(str(tile.number) for tile in tiles), "list")


def may_finish(area: Area) -> bool:
    """Whether "finish area" is taken: the area is finished, or what is missing becomes due by it."""
    if area.progress.failures or (area.checklist.lift_section and in_state(area, "suspect", "lifted failed")):
        return False
    missing = ends(area)
    return lifts_missing(area) <= len(missing) and bool(missing or not held_up(area))


def lifts_missing(area: Area) -> int:
    """How many good lifts of other tiles the area still needs."""
    return max(0, area.lifts_needed[0] - area.progress.good_tiles)


def held_up(area: Area) -> tuple[Tile, ...]:
    """The tiles that hold up the area's end; none where the checklist lifts no tile."""
    if area.checklist.lift_section is None:
        return ()
    return in_state(area, "suspect", "not yet covered", "lifted failed")


# --- what is open ---------------------------------------------------------------------------------------------------


def points(state: State) -> Iterable[tuple[str, str | None, Message]]:
    """What of the lifts is open: id, area and message of each."""
    for name, area in state.areas.items():
        progress = area.progress
        for left in progress.lifts_left.values():
            why = message(
                "open-lift-left",
                area=name,
                tile=str(left.tile),
                came=term("engine-came", left.came),
                reason=left.reason,
            )
            yield f"lift left/{name}/{left.seq}", name, why
        tile_at = {setting.order: setting.tile for setting in progress.history}
        for order in missed_lots(area):
            if order not in progress.lifts_left:
                told = message("open-lot-missed", area=name, tile=str(tile_at[order]))
                yield f"lot missed/{name}/{progress.lots[order].setting}", name, told
        for accepted in dict.fromkeys(progress.accepted.values()):
            told = message(
                "open-tiles-accepted",
                area=name,
                tiles=Several(tuple(map(str, accepted.tiles))),
                count=len(accepted.tiles),
                name=accepted.by,
                words=accepted.words,
            )
            yield f"accepted/{name}/{accepted.seq}", name, told
        suspects = in_state(area, "suspect") if area.checklist.lift_section is not None else ()
        if suspects:
            told = message("open-suspects", area=name, tiles=numbers(suspects), count=len(suspects))
            yield f"suspect/{name}/{min(t.lift or 0 for t in suspects)}", name, told
    for seed in state.seeds_lost:
        yield f"lots/{seed.seq}", None, message("open-lots-unrevealed", event=str(seed.seq))
