"""A key that stands for a method: its trowel's edge at the left, its words beside that."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.trade.ridges import Notch
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.ridge_picture import draw_edge

# How wide the edge is drawn, and how much of it [dots, mm]; from this size of text on it gives way.
_WIDE, _EDGE_MM = 120.0, 66.0
_LARGE = 1.2


class MethodKey(Key):
    """notch: whose edge is drawn."""

    def __init__(self, look: Look, words: str, press: Callable[[], object], notch: Notch, **rest: Any) -> None:
        self._notch = notch
        super().__init__(look, words, press, **rest)

    @property
    def _drawn(self) -> float:
        return self.look.dots(_WIDE) if self.look.text <= _LARGE else 0.0

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Beside the edge."""
        x, y, w, h = super().words_box(box)
        beside = self._drawn + self.look.dots(12) if self._drawn else 0.0
        return x + beside, y, w - beside, h

    def draw_face(self, box: marks.PixelBox) -> None:
        """The edge."""
        if self._drawn:
            x, y, _, h = box
            draw_edge(
                self.look, self._notch, (x + self.look.dots(16), y + h * 0.27, self._drawn, h * 0.46), wide_mm=_EDGE_MM
            )
