"""A key that takes one choice of the method a step on, with a small picture of where it leads."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.assess.steps import Knob
from fieldassist.trade import ridges
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.ridge_picture import draw_edge

# How much of a trowel's edge is drawn [mm].
_EDGE_MM = 40.0
_LARGE = 1.2
_PICTURE = 0.5  # the share of the face's height that a picture takes


class StepKey(Key):
    """notch: whose edge is drawn; sides: whose ridges are drawn; neither for a bare value."""

    def __init__(
        self,
        look: Look,
        words: str,
        press: Callable[[], object],
        knob: Knob,
        *,
        notch: ridges.Notch | None = None,
        sides: str = "",
        **rest: Any,
    ) -> None:
        self._knob, self._notch, self._sides = knob, notch, sides
        super().__init__(look, words, press, size="near", high=None, **rest)

    @property
    def _has_picture(self) -> bool:
        # Large letters need the room; two words are told apart without a picture, two sizes by their figures.
        drawn = self._notch is not None and self.look.text <= _LARGE
        return (self._knob == "notch" and drawn) or (self._knob == "sides" and bool(self._sides))

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Under the picture."""
        x, y, w, h = super().words_box(box)
        return (x, y - self.look.dots(4), w, h * (1 - _PICTURE)) if self._has_picture else (x, y, w, h)

    def draw_face(self, box: marks.PixelBox) -> None:
        """The trowel's edge, or the ridges on base and tile."""
        if not self._has_picture:
            return
        look = self.look
        x, y, w, h = box
        inner = (x + w * 0.16, y + h * (1 - _PICTURE), w * 0.68, h * (_PICTURE - 0.1))
        if self._knob == "notch" and self._notch is not None:
            draw_edge(look, self._notch, inner, wide_mm=_EDGE_MM, thick=3)
        else:
            self._draw_sides(inner)

    def _draw_sides(self, box: marks.PixelBox) -> None:
        look = self.look
        x, y, w, h = box
        bar = look.dots(8)
        both = self._sides == "both"
        for low in (y, y + h - bar):
            marks.field(look, (x, low, w, bar), "ink")
            marks.field(look, (x + 2, low + 2, w - 4, bar - 4), "tile")
        count = 5
        step = w / count
        tall = (h - 2 * bar) * (0.42 if both else 0.6)
        for number in range(count):
            left = x + (number + 0.2) * step
            marks.field(look, (left, y + bar, step * 0.6, tall), "mortar")
            if both:
                marks.field(look, (left, y + h - bar - tall, step * 0.6, tall), "mortar")
