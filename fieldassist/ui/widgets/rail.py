"""The rail: the steps of a round as signs on a line; a done one shows its answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, cast

from fieldassist.language import Words
from fieldassist.ui.content.rail import RailStep
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel

from kivy.graphics import Line, RoundedRectangle  # isort: skip

RAIL_HIGH = 128.0
_ROUND, _NOW = 74.0, 90.0  # the mark of a step, and of the one at hand [dots]


class RailKey(Key):
    """One step; first, last: whether the line begins or ends there; reached: whether it is done up to here."""

    def __init__(
        self,
        look: Look,
        step: RailStep,
        words: str,
        named: str,
        press: Callable[[], object],
        *,
        first: bool,
        last: bool,
    ) -> None:
        self._step, self._first, self._last = step, first, last
        self._number = TextLabel(look, str(step.number), "near", bold=True, role=_ink(step), align="center", fit=True)
        super().__init__(look, words, press, kind="sheet", size="small", high=None, named=named)
        if not step.sign and step.standing != "done":
            self.add_widget(self._number)
        if self.label is not None:
            self.label.bold = step.standing != "to come"
            self.label.paint_in("quiet" if step.standing == "to come" else "ink")

    def _lay(self, *_: Any) -> None:
        look, step = self.look, self._step
        self.canvas.before.clear()
        side = look.dots(_NOW if step.standing == "now" else _ROUND)
        middle = self.center_x, self.top - look.dots(_NOW) / 2 - look.dots(2)
        x, y = middle[0] - side / 2, middle[1] - side / 2
        with self.canvas.before:
            if not self._first:
                self._line(self.x, x, middle[1], reached=step.standing != "to come")
            if not self._last:
                self._line(x + side, self.right, middle[1], reached=step.standing == "done")
            self._draw_mark(x, y, side)
            if self.focused:
                marks.frame(look, (self.x, self.y, self.width, self.height), "ink", 4)
            if step.standing == "done":
                marks.sign(look, "pass", x + side * 0.24, y + side * 0.24, side * 0.52, "on_pass")
            elif step.sign:
                inner = side * (0.62 if step.standing == "now" else 0.56)
                at = (side - inner) / 2
                marks.sign(look, cast("SignName", step.sign), x + at, y + at, inner, _ink(step))
        self._number.pos, self._number.size = (x, y), (side, side)
        if self.label is not None:
            low = max(1.0, self.height - look.dots(_NOW) - look.dots(4))
            self.label.pos, self.label.size = (self.x + 2, self.y), (self.width - 4, low)

    def _line(self, start: float, end: float, y: float, *, reached: bool) -> None:
        marks.stroke(self.look, (start, y, end, y), "ink" if reached else "edge", 7 if reached else 3)

    def _draw_mark(self, x: float, y: float, side: float) -> None:
        look, standing = self.look, self._step.standing
        if standing == "done":
            marks.colour(look, "pass_")
            RoundedRectangle(pos=(x, y), size=(side, side), radius=[side / 2])
            return
        corner = look.dots(14) if standing == "now" else side / 2
        marks.colour(look, "key" if standing == "now" else "ground")
        RoundedRectangle(pos=(x, y), size=(side, side), radius=[corner])
        marks.colour(look, "ink" if standing == "now" else "edge")
        wide = look.dots(7 if standing == "now" else 3) / 2
        Line(rounded_rectangle=(x + wide, y + wide, side - 2 * wide, side - 2 * wide, corner), width=max(1.0, wide))


def _ink(step: RailStep) -> Any:
    return "ink" if step.standing == "now" else "quiet"


def rail_row(look: Look, words: Words, steps: Sequence[RailStep], pressed: Callable[[RailStep], object]) -> RowBox:
    """The steps beside each other; pressed: called with the one that was pressed."""
    keys = [
        RailKey(
            look,
            step,
            words(step.shown),
            words(step.name),
            partial(pressed, step),
            first=at == 0,
            last=at == len(steps) - 1,
        )
        for at, step in enumerate(steps)
    ]
    high = RAIL_HIGH + max(0.0, look.text - 1) * 24
    return RowBox(look, *keys, gap=0, high=high)
