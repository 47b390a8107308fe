"""Which tiles are called step by step, and which may be counted.

A tile is witnessed where every step of it was called. The first one after a change is: a method, a batch, an area, a
break, a failed lift, a setter who has no witnessed tile of this method in this area today. The others may be counted:
they are of the same hands, method and mortar, and lifts cover them. Ours: common practice, no published source.
"""

from __future__ import annotations

from typing import Literal

from fieldassist.checklist.moment import BREAK_MIN, Moment
from fieldassist.checklist.state import Area, Tile

WitnessedAfter = Literal["area", "method", "setter", "batch", "failed lift", "break"]


def why_witnessed(area: Area, now: Moment, setter: str | None = None) -> tuple[WitnessedAfter, ...]:
    """What has changed since the setter's last witnessed tile, so that the next one is called step by step.

    setter: who sets it, the area's for None. Empty where the next tile may be counted.
    """
    progress = area.progress
    who = setter if setter is not None else area.setter or ""
    today = [t for t in progress.tiles.values() if t.witnessed and t.run > progress.runs_before]
    witnessed = [t for t in today if t.order not in progress.taken_off]
    if not witnessed:
        return ("area",)
    method = area.methods_used.index(area.method)
    mine = [t for t in witnessed if (t.setter, t.method) == (who, method)]
    changes: list[WitnessedAfter] = []
    if not any(t.method == method for t in witnessed):
        changes.append("method")
    elif not mine:
        changes.append("setter")
    batch = progress.batch or progress.drawn
    if area.checklist.mixing is not None and not any(t.batch == batch for t in witnessed):
        changes.append("batch")
    if not _since_failed_lift(area, who, mine, witnessed):
        changes.append("failed lift")
    if _idle_min(area, now) >= BREAK_MIN:
        changes.append("break")
    return tuple(changes)


def _since_failed_lift(area: Area, who: str, mine: list[Tile], witnessed: list[Tile]) -> bool:
    """Whether a tile was witnessed since a lift failed last: by its setter himself, or by anybody for the others."""
    progress = area.progress
    for lift in progress.lifts.values():
        if lift.verdict == "failed":
            looked_at = mine if progress.runs[lift.run - 1][0] == who else witnessed
            if not any(tile.set > lift.lifted for tile in looked_at):
                return False
    return True


def _idle_min(area: Area, now: Moment) -> float:
    """Minutes since mortar was spread or a tile was set here last."""
    progress = area.progress
    last = [t.at for t in progress.tiles.values()] + [spread.at for spread in progress.spreads.values()]
    return min((at.minutes_to(now) for at in last), default=0.0)
