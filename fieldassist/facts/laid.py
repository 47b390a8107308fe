"""Where the pieces of an area lie, which way their beds were combed, how often each was set, and its lot."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable
from typing import Any, Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.laying import laid_places, niche_spans
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.state import Area
from fieldassist.facts import model

Combing = Literal["", "level", "upright"]


class PieceTeller:
    """The pieces of one area on its surface. answers: to its steps, those that count."""

    def __init__(self, area: Area, answers: Iterable[Event]) -> None:
        self._spans = {place.number: place.span for place in laid_places(area.plan)}
        self._lots = area.progress.lots
        self._settings = Counter(setting.tile for setting in area.progress.history)
        self._combed = dict(sorted(_combed(area, answers)))
        self._combings = list(self._combed)
        wide, high = area.plan.whole_mm
        # Along the piece's short side (ANSI A108.5 §2.2.3, one direction); a square one has none.
        self._way: Combing = "" if wide == high else "upright" if wide > high else "level"

    def place(self, number: int) -> dict[str, Any]:
        """Where the piece at a place lies [mm], as fields of `TileFact`; None where the plan does not say."""
        span = self._spans.get(number)
        if span is None:
            return dict.fromkeys(("x_mm", "y_mm", "wide_mm", "high_mm"))
        sides = (span.left, span.bottom, span.width, span.height)
        return dict(zip(("x_mm", "y_mm", "wide_mm", "high_mm"), (round(side, 3) for side in sides), strict=True))

    def laid(self, number: int, order: int, event: int) -> dict[str, Any]:
        """The same of one that was set by this event, which way its bed was combed, how often it was set, and the lot
        of this setting, by its order."""
        before = bisect_left(self._combings, event)
        way = self._way if before and self._combed[self._combings[before - 1]] else ""
        lot = self._lots.get(order)
        told = model.LotFact(setting=lot.setting, one_in=lot.one_in, fell=lot.fell, forced=lot.forced) if lot else None
        return self.place(number) | {"combing": way, "settings": self._settings[number], "lot": told}

    def not_laid(self, number: int) -> dict[str, Any]:
        """The same of a place at which none was set."""
        return self.place(number) | {"combing": "", "settings": 0, "lot": None}


def _combed(area: Area, answers: Iterable[Event]) -> Iterable[tuple[int, bool]]:
    """Every word on how a bed was combed, and whether it was good. It stands until the next one: a checklist asks for
    every piece, or after a change."""
    for event in answers:
        body = event.body
        assert isinstance(body, ev.ChoiceMade | ev.StepConfirmed)
        try:
            step = area.checklist.step(body.section, body.step)
        except KeyError:
            continue
        if step.act == "comb":
            yield event.seq, getattr(body, "passed", None) is not False


def outline(plan: AreaPlan) -> model.OutlineFact | None:
    """How wide and how high the grid of an area is over all, None without one."""
    if plan.grid is None:
        return None
    wide, high = plan.outer_mm
    return model.OutlineFact(wide_mm=round(float(wide), 3), high_mm=round(float(high), 3))


def openings(plan: AreaPlan) -> list[model.OpeningFact]:
    """The niches and other openings of an area."""
    return [
        model.OpeningFact(name=name, x_mm=span.left, y_mm=span.bottom, wide_mm=span.width, high_mm=span.height)
        for name, span in niche_spans(plan)
    ]
