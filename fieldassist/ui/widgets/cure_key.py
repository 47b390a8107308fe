"""A key that shows another method: its trowel's edge, its ridges to scale, and what it would reach."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from fieldassist.trade import ridges
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.ridge_drawing import Cut
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import GAP, Look
from fieldassist.ui.widgets.ridge_picture import draw_cut, draw_edge
from fieldassist.ui.widgets.text import LINE, TextLabel

# How much of the wall a picture shows [mm].
_WIDE_MM = 80.0
# From this size of text on there are words only, each line with its share of the height.
_LARGE, _SHARES = 1.2, (2.0, 1.0, 2.0, 2.0)


class CureKey(Key):
    """head and under it what is combed; the edge and the ridges; what it reaches, and the bed under that."""

    def __init__(
        self,
        look: Look,
        lines: tuple[str, str, str, str],
        notch: ridges.Notch,
        cut: Callable[[float], Cut],
        press: Callable[[], object],
        *,
        chosen: bool,
        **rest: Any,
    ) -> None:
        self._notch, self._cut = notch, cut
        sizes: Sequence[SizeName] = ("near", "near", "near", "near")
        self._lines = [
            TextLabel(look, words, size, bold=place in (0, 2), fit=True)
            for place, (words, size) in enumerate(zip(lines, sizes, strict=True))
        ]
        super().__init__(look, "", press, chosen=chosen, named=lines[0], high=None, **rest)
        for line in self._lines:
            self.add_widget(line)
        self._lay()

    @property
    def cut(self) -> bool:
        """Whether its words do not go in."""
        return any(line.cut for line in self._lines)

    def draw_face(self, box: marks.PixelBox) -> None:
        """The pictures, and where the lines go."""
        look = self.look
        x, y, w, h = box
        pad = look.dots(2.5 * GAP)
        left, wide = x + pad, w - 2 * pad
        top, bottom = y + h - pad * 0.6, y + pad * 0.5
        if look.text > _LARGE:  # the drawing gives way to the letters
            room = (top - bottom) / sum(_SHARES)
            for line, share in zip(self._lines, _SHARES, strict=True):
                top -= room * share
                self._place(
                    line,
                    left,
                    top,
                    wide - (look.dots(44) if self.chosen and line is self._lines[0] else 0),
                    room * share,
                )
            return
        highs = [look.font(line.size_name) * LINE for line in self._lines]
        corner = look.dots(44) if self.chosen else 0.0
        self._place(self._lines[0], left, top - highs[0], wide - corner, highs[0])
        self._place(self._lines[1], left, top - highs[0] - highs[1], wide, highs[1])
        self._place(self._lines[3], left, bottom, wide, highs[3])
        self._place(self._lines[2], left, bottom + highs[3], wide, highs[2])
        low, high = bottom + highs[3] + highs[2] + pad * 0.3, top - highs[0] - highs[1] - pad * 0.4
        if high - low < look.dots(60):
            return
        part = (high - low) * 0.36
        draw_edge(look, self._notch, (left, high - part, wide, part), wide_mm=_WIDE_MM)
        made = self._cut(_WIDE_MM)
        room = high - part - pad * 0.6 - low
        scale = min(wide / _WIDE_MM, room / made.height_mm)
        draw_cut(look, self._cut(wide / scale), (left, low, wide, room), scale)

    def _place(self, one: TextLabel, x: float, y: float, w: float, h: float) -> None:
        one.pos, one.size = (x, y), (max(1.0, w), max(1.0, h))
