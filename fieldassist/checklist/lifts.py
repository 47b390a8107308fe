"""Deciding which tiles are lifted: asked for, left, accepted, taken off; and what follows once a decision is made."""

from __future__ import annotations

from itertools import takewhile

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import covering, follow
from fieldassist.checklist import events as ev
from fieldassist.checklist.draft import Draft, how_to_be
from fieldassist.checklist.kinds import Lift
from fieldassist.checklist.lots import RAREST, of_commitment
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import AFTER_FAILURE, Area, Tile
from fieldassist.trade.message import Several, Text, message, term

# --- what follows from any decision -------------------------------------------------------------------------------


def settle(draft: Draft) -> None:
    """What the lifts now say of every tile is marked; and where nothing is at hand, the next lift that is due opens."""
    for name, area in list(draft.state.areas.items()):
        if area.checklist.lift_section is None:
            continue
        draft.focus = name
        changed = covering.marks(area)
        if changed:
            draft.emit(ev.TilesMarked(area=name, marks=changed))
        _open_next(draft)
    draft.focus = None


def _open_next(draft: Draft) -> None:
    """Each lift that waits for the end of a round is opened behind what waits already; one that a failure asks for goes
    in front of all but the tiles that are to be put back, and nothing is set before it."""
    while draft.area.free_for_next:
        area = draft.area
        aimed = covering.next_lift(area)
        if aimed is None:
            return
        behind = _tiles_off(area) if aimed.came in AFTER_FAILURE else follow.behind_waiting(area)
        open_lift(draft, aimed, behind=behind)


def _tiles_off(area: Area) -> int:
    """How many of the steps at hand put tiles back, before anything else."""
    progress = area.progress
    return len(tuple(takewhile(lambda task: (task.section, task.round) in progress.putting_back, progress.tasks)))


def open_lift(draft: Draft, aimed: ev.LiftAimed, *, called: bool = False, behind: int = 0) -> None:
    """Make the lift of a tile due, and say so. called: somebody asked for it, and may take that back; behind: how many
    of the steps at hand go first."""
    section = draft.area.checklist.lift_section
    assert section is not None  # who asks for a lift has looked
    reason = term("engine-came", aimed.came)
    follow.open_section(draft, section, reason, called=called, lifts=aimed, behind=behind)
    draft.say(message("engine-lift-due", tile=str(aimed.tile), reason=reason))


def end_of_batch(draft: Draft, round_of: str, at_round: int) -> None:
    """A new batch is called: the last tile out of one that was near its end is lifted once the new one is mixed."""
    area = draft.area
    for run in area.progress.clocks:
        clock = area.checklist.clock(run.clock)
        if clock is not None and clock.ends == round_of and run.round != at_round:
            tail = covering.old_batch_tail(area, run)
            if tail is not None:
                open_lift(
                    draft, ev.LiftAimed(tile=tail.number, came="last of batch"), behind=len(draft.area.progress.tasks)
                )


# --- what may be asked for ----------------------------------------------------------------------------------------


def ask_lift(draft: Draft, command: cmd.AskLift) -> None:
    """A lift that somebody wants: now, or once the round at hand is done."""
    area = draft.area
    if area.checklist.lift_section is None:
        raise draft.refusal("engine-no-lifts-here", area=area.plan.name)
    if area.progress.phase == "finished":
        raise draft.refusal("engine-area-finished", area=area.plan.name)
    tile = _tile(draft, area, command.number)
    came: ev.Came = "inspector asked" if command.inspector else "asked"
    if tile.order in area.progress.taken_off:
        raise draft.refusal("engine-tile-off-already", tile=str(tile.number))
    if tile.number in covering.to_be_lifted(area):
        raise draft.refusal("engine-lift-due-already", tile=str(tile.number))
    if area.progress.phase == "finishing":
        # What closes the area would come to its end before it: the lift comes first.
        open_lift(draft, ev.LiftAimed(tile=tile.number, came=came), called=True)
        return
    draft.emit(ev.LiftDue(area=area.plan.name, tile=tile.number, came=came, called=True))
    if not area.free_for_next:
        draft.say(message("engine-lift-after-this", tile=str(tile.number)))


def leave_lift(draft: Draft, command: cmd.LeaveLift) -> None:
    """The tile whose lift is at hand cannot be lifted."""
    area, task, step = draft.at_hand(command, Lift)
    target = area.progress.targets[(task.section, task.round)]
    if task.failure is not None:
        raise draft.refusal("engine-lift-shows-cure", tile=str(target.tile))
    tile = area.progress.tiles[target.tile]
    reason = Text.plain(command.words) if command.words else term("engine-left", command.ready)
    draft.emit(
        ev.LiftLeft(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            tile=tile.number,
            order=tile.order,
            came=target.came,
            reason=reason,
        )
    )
    draft.say(message("engine-lift-left", tile=str(tile.number)))


def accept_tiles(draft: Draft, command: cmd.AcceptTiles) -> None:
    """The foreman lets one tile, or all that are suspect or not covered, stay as they are."""
    area, speaker = draft.area, draft.state.speaker
    if speaker is None or speaker.role is not Role.FOREMAN:
        raise draft.refusal("engine-foreman-accepts", who=how_to_be(draft.state, Role.FOREMAN))
    open_ones = covering.in_state(area, "suspect", "not yet covered")
    due = covering.to_be_lifted(area)
    if command.number is not None:
        tile = _tile(draft, area, command.number)
        if tile not in open_ones:
            raise draft.refusal(
                "engine-nothing-to-accept", tile=str(tile.number), state=term("engine-tile", tile.state)
            )
        open_ones = (tile,)
    else:
        open_ones = covering.in_state(area, "suspect")
    accepted = [tile for tile in open_ones if tile.number not in due]
    if not accepted:
        if open_ones:
            raise draft.refusal("engine-accept-after-lift", tiles=covering.numbers(open_ones))
        raise draft.refusal("engine-no-suspects", area=area.plan.name)
    told = Text.plain(command.words) if command.words else term("engine-accepted", command.ready)
    draft.emit(
        ev.TilesAccepted(
            area=area.plan.name,
            tiles=tuple(tile.number for tile in accepted),
            orders=tuple(tile.order for tile in accepted),
            told=told,
            audio=command.audio,
            sha256=command.sha256,
        )
    )
    draft.say(message("engine-tiles-accepted", tiles=covering.numbers(accepted), count=len(accepted), words=told))


def take_off(draft: Draft, command: cmd.TakeOff) -> None:
    """A tile was taken off: its place is free again."""
    area = draft.area
    if area.progress.phase == "finished":
        raise draft.refusal("engine-area-finished", area=area.plan.name)
    tile = _tile(draft, area, command.number)
    if tile.order in area.progress.taken_off:
        raise draft.refusal("engine-tile-off-already", tile=str(tile.number))
    at_hand = {target.tile for at, target in area.progress.targets.items() if at in area.progress.opened}
    if tile.number in at_hand | {target.tile for target in area.progress.lifts_due}:
        raise draft.refusal("engine-lift-first", tile=str(tile.number))
    draft.emit(ev.TileTakenOff(area=area.plan.name, tile=tile.number, order=tile.order))
    draft.say(message("engine-tile-off", tile=str(tile.number)))


def set_lots(draft: Draft, command: cmd.SetLots) -> None:
    """The foreman says how often a lot falls."""
    area, speaker = draft.area, draft.state.speaker
    if speaker is None or speaker.role is not Role.FOREMAN:
        raise draft.refusal("engine-foreman-rules-lots", who=how_to_be(draft.state, Role.FOREMAN))
    if covering.lot_rule(area) is None:
        raise draft.refusal("engine-no-lots-here", area=area.plan.name)
    if not 1 <= command.one_in <= RAREST:
        raise draft.refusal("engine-lots-unfit", number=command.one_in, most=RAREST)
    draft.emit(ev.LotsRuled(area=area.plan.name, one_in=command.one_in))
    draft.say(message("engine-lots-ruled", number=command.one_in))


def commit_lots(draft: Draft, command: cmd.CommitLots) -> None:
    """The tablet has no seed for what is committed: from here on lots come from a new one."""
    draft.emit(ev.LotsCommitted(commitment=command.lots))


def reveal(draft: Draft) -> None:
    """The seed is shown before the signature, where this tablet has it."""
    kept = draft.state.lot_seed
    if kept is not None and isinstance(draft.lots, str) and of_commitment(draft.lots, kept.commitment):
        draft.emit(ev.LotsRevealed(commitment=kept.commitment, seed=draft.lots))


def _tile(draft: Draft, area: Area, number: int | None) -> Tile:
    """The tile with this number, the one set last for None; refused where there is none."""
    found = area.progress.last_set if number is None else area.progress.tiles.get(number)
    if found is None:
        if not area.progress.tiles:
            raise draft.refusal("engine-no-tile-yet", area=area.plan.name)
        known = Several(tuple(map(str, sorted(area.progress.tiles))))
        raise draft.refusal("engine-no-such-tile", tile=str(number or ""), tiles=known)
    return found


# --- the end of an area -------------------------------------------------------------------------------------------


def check_finish(draft: Draft) -> None:
    """Refuse the end of an area with a tile that is suspect or failed, or where too few lifts can be good by then."""
    area = draft.area
    bad = covering.in_state(area, "lifted failed", "suspect") if area.checklist.lift_section is not None else ()
    if bad:
        raise draft.refusal("engine-suspects", tiles=covering.numbers(bad), count=len(bad))
    missing = covering.lifts_missing(area) - len(covering.ends(area))
    if missing > 0:
        least, _ = area.lifts_needed
        raise draft.refusal("engine-more-lifts", missing=missing, least=least)


def ends_first(draft: Draft) -> bool:
    """Whether ends of runs must be lifted first: they are due then. Refused where a tile is not covered that cannot be
    lifted."""
    area = draft.area
    missing = covering.ends(area)
    for aimed in missing:
        draft.emit(ev.LiftDue(area=area.plan.name, tile=aimed.tile, came=aimed.came, called=True))
    if missing:
        draft.say(message("engine-ends-first", count=len(missing)))
        return True
    uncovered = covering.held_up(area)
    if uncovered:
        raise draft.refusal("engine-not-covered", tiles=covering.numbers(uncovered), count=len(uncovered))
    return False
