"""What must be so before anything new is begun in an area."""

from __future__ import annotations

from fieldassist.checklist import doubting
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.state import Area
from fieldassist.trade.message import Figure


def check_between(draft: Draft, area: Area, wanted: Figure) -> None:
    """Refuse unless the next round may be called; what is at hand and cannot wait is said then."""
    if area.progress.phase == "finished":
        raise draft.refusal("engine-area-finished", area=area.plan.name)
    if area.doubt is not None and area.doubt.holds:
        told = doubting.cannot(draft.state, area, area.method)
        raise draft.refusal("method-waits", area=area.plan.name, told=told)
    if not area.free_for_next:
        check_nothing_at_hand(draft, area, wanted)


def check_nothing_at_hand(draft: Draft, area: Area, wanted: Figure) -> None:
    """Refuse while anything is at hand, also what is due and can wait, and say what it is."""
    if area.step is not None:
        raise draft.refusal("engine-after-this", wanted=wanted, ask=area.step.asked())
