"""Mortar that is spread for tiles which are counted: "spread three", "two in", "tile in".

A spread begins the open time and ends when so many tiles are in: those that were said, or the next that are counted.
Each of its tiles is a setting of its own, with its place, its lot and its lift; none of its steps is witnessed.
"""

from __future__ import annotations

import math

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import covering, doubting, follow
from fieldassist.checklist import events as ev
from fieldassist.checklist.draft import Answered, Draft, needs_first
from fieldassist.checklist.kinds import Confirm
from fieldassist.checklist.rounds import check_between
from fieldassist.checklist.schema import ClockRule, Counting, Section
from fieldassist.checklist.state import Area, Spread, Task
from fieldassist.checklist.witnessing import why_witnessed
from fieldassist.trade import times
from fieldassist.trade.message import Figure, Message, Refused, Several, message, term


def spread_mortar(draft: Draft, command: cmd.SpreadMortar) -> Answered | None:
    """Mortar is spread: for the tile that is called step by step and those behind it, or for tiles that are counted."""
    area = draft.area
    section, counting = _counted(draft, area, command.section)
    _check_number(draft, area, command.tiles)
    task = area.task
    if task is not None and (task.section, task.step) == (section.id, counting.spread.id):
        return _with_the_witnessed(draft, command, counting)
    _check_free(draft, area, section, counting)
    # Nothing begins after noon before the conditions were looked at again.
    midday = follow.midday_due(area, draft.now)
    doubting.doubt_if_new(draft)
    area = draft.area
    at_round = area.progress.rounds.get(section.id, 0) + 1
    _emit(draft, section, at_round, command.tiles, witnessed=False)
    follow.start_clocks(draft, Task(section.id, at_round, counting.spread.id), counting.spread)
    follow.open_midday(draft, midday)
    return None


def _with_the_witnessed(draft: Draft, command: cmd.SpreadMortar, counting: Counting) -> Answered:
    """The step at hand is answered; mortar for more than its own tile waits for those behind it."""
    asked = cmd.ConfirmStep(section=command.section, step=counting.spread.id)
    area, task, step = draft.at_hand(asked, Confirm)
    draft.emit(ev.StepConfirmed(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    if command.tiles is not None and command.tiles > 1:
        section = area.checklist.section(task.section)
        assert section is not None
        _emit(draft, section, task.round, command.tiles, witnessed=True)
    return task, step, None


def _emit(draft: Draft, section: Section, at_round: int, wanted: int | None, *, witnessed: bool) -> None:
    area = draft.area
    most = bears(area, section, area.setter or "")
    draft.emit(
        ev.MortarSpread(
            area=area.plan.name,
            section=section.id,
            round=at_round,
            setter=area.setter or "",
            method=area.methods_used.index(area.method),
            batch=area.progress.batch or area.progress.drawn,
            wanted=wanted,
            bears=most,
            witnessed=witnessed,
        )
    )
    if most is not None and wanted is not None and wanted > most:
        draft.say(message("engine-spread-too-much", wanted=wanted, bears=most))


def tiles_in(draft: Draft, command: cmd.TilesIn) -> Answered | None:
    """Tiles of a spread are in; the spread is over once all of them are, or at once where nobody said how many."""
    area = draft.area
    section, counting = _counted(draft, area, command.section)
    task = area.task
    spread = _spread_meant(draft, area, section)
    if spread is None:
        if command.tiles == 1 and task is not None and (task.section, task.step) == (section.id, counting.tiles_in.id):
            area, task, step = draft.at_hand(cmd.ConfirmStep(section=section.id, step=counting.tiles_in.id), Confirm)
            draft.emit(ev.StepConfirmed(area=area.plan.name, section=task.section, round=task.round, step=step.id))
            return task, step, None
        if task is not None and task.section == section.id and area.step is not None:
            raise draft.refusal("engine-witnessed-first", ask=area.step.asked())
        raise draft.refusal("engine-no-spread", phrase=counting.spread.phrases()[0])
    behind = next((t for t in area.progress.tasks if (t.section, t.round) == (section.id, spread.round)), None)
    if behind is not None:
        raise draft.refusal("engine-witnessed-first", ask=area.checklist.step(behind.section, behind.step).asked())
    _check_number(draft, area, command.tiles)
    ends = spread.left is None or command.tiles >= spread.left
    for number in range(1, command.tiles + 1):
        _count(draft, section, spread, ends=ends and number == command.tiles)
    if ends:
        for run in [r for r in draft.area.progress.clocks if (r.section, r.round) == (section.id, spread.round)]:
            follow.stop_clock(draft, run)
    draft.say(message("engine-tiles-in", count=command.tiles))
    follow.open_due(draft, section, counted=True)
    follow.open_midday_if_idle(draft)
    return None


def _count(draft: Draft, section: Section, spread: Spread, *, ends: bool) -> None:
    area = draft.area
    tile = follow.setting(
        area, area.next_place, setter=spread.setter, method=spread.method, batch=spread.batch, spread=spread.round
    )
    draft.emit(
        ev.TileCounted(
            area=area.plan.name,
            section=section.id,
            round=spread.round,
            tile=tile,
            lot=follow.draw(draft, tile),
            counts_for=follow.counts_for(area, tile),
            ends=ends,
        )
    )
    came = covering.why_lift(draft.area, draft.area.progress.tiles[tile.number])
    if came is not None:
        draft.emit(ev.LiftDue(area=area.plan.name, tile=tile.number, came=came))


# --- what comes first ---------------------------------------------------------------------------------------------


def _counted(draft: Draft, area: Area, section_id: str) -> tuple[Section, Counting]:
    """The section and its two steps, refused where none is counted."""
    section = area.checklist.section(section_id)
    counting = section.counting if section is not None else None
    if section is None or counting is None:
        raise draft.refusal("engine-none-counted", area=area.plan.name)
    return section, counting


def _check_number(draft: Draft, area: Area, tiles: int | None) -> None:
    """Refuse none at all, and more than there are places for."""
    if tiles is not None and not 1 <= tiles <= area.most_at_once:
        raise draft.refusal("engine-so-many-tiles", number=tiles, free=area.most_at_once)


def _check_free(draft: Draft, area: Area, section: Section, counting: Counting) -> None:
    """Refuse mortar for tiles that are counted where something comes first, or the next one is called step by step."""
    if area.spread is not None:
        raise draft.refusal("engine-spread-already", phrase=_phrase_in(counting))
    if not area.may_open(section):
        check_between(draft, area, counting.spread.name)
    for need in section.needs:
        if need not in area.progress.good:
            raise Refused(needs_first(area, counting.spread.name, need))
    if not area.most_at_once:
        raise draft.refusal("engine-all-set", area=area.plan.name)
    first = witnessed_next(section, why_witnessed(area, draft.now))
    if first is not None:
        raise Refused(first)


def witnessed_next(section: Section, changes: tuple[str, ...]) -> Message | None:
    """That the next tile is called step by step, why, and what to say; None where it may be counted."""
    if not changes:
        return None
    why = Several(tuple(term("engine-witness", change) for change in changes), "and")
    return message("engine-witness-this", why=why, ask=section.steps[0].asked())


def _spread_meant(draft: Draft, area: Area, section: Section) -> Spread | None:
    """The setter's own spread, or the only one there is; refused where it is one of several others'."""
    if area.spread is not None:
        return area.spread
    others = [spread for spread in area.progress.open_spreads if spread.section == section.id]
    if len(others) > 1:
        names = Several(tuple(spread.setter for spread in others), "or")
        raise draft.refusal("engine-whose-spread", names=names)
    return others[0] if others else None


def _phrase_in(counting: Counting) -> Figure:
    return counting.tiles_in.number_phrase


# --- how many -----------------------------------------------------------------------------------------------------


def spread_clock(area: Area, counting: Counting) -> ClockRule | None:
    """The clock that spreading starts and that ends what is spread."""
    clocks = map(area.checklist.clock, counting.spread.starts)
    return next((clock for clock in clocks if clock is not None), None)


def bears(area: Area, section: Section, setter: str) -> int | None:
    """For how many tiles the open time is enough, at the pace that was measured of this setter today, or else of all;
    None where nothing was measured or nothing bounds it. [1]

    Pace is from the spreading of mortar to the tile that stands in it.
    """
    counting = section.counting
    clock = spread_clock(area, counting) if counting is not None else None
    paces = area.progress.paces
    known = [paces[setter]] if setter in paces else list(paces.values())
    minutes, m2 = math.fsum(p.minutes for p in known), math.fsum(p.m2 for p in known)
    if clock is None or minutes <= 0 or m2 <= 0:
        return None
    span = follow.clock_span(area, clock)
    found = times.comb_area(span.minutes, 60 * m2 / minutes, piece_area_m2=area.piece_area).pieces
    return max(1, found) if found is not None else None


def how_many(area: Area) -> Message:
    """What is said to "how many": for how many tiles a spread is enough."""
    section = area.checklist.counted_section
    most = bears(area, section, area.setter or "") if section is not None else None
    return message("engine-bears-unknown") if most is None else message("engine-bears", count=most)
