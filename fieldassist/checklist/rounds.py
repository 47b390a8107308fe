"""What must be so before anything new is begun in an area."""

from __future__ import annotations

from fieldassist.checklist import doubting
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.state import Area
from fieldassist.trade.message import Figure


def check_between(draft: Draft, area: Area, wanted: Figure) -> None:
    """Refuse unless the area is between rounds."""
    if area.progress.phase == "finished":
        raise draft.refusal("engine-area-finished", area=area.plan.name)
    if area.doubt is not None and area.doubt.holds:
        told = doubting.cannot(draft.state, area, area.method)
        raise draft.refusal("method-waits", area=area.plan.name, told=told)
    if area.step is not None:
        raise draft.refusal("engine-after-this", wanted=wanted, ask=area.step.asked())
