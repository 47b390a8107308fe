"""A key that says what was on a back before its piece was set, with a picture of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.checklist.backs import BackKind
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import GAP, Look

# The picture leaves so much to the words, in shares of the face, and its lines lie so far apart [dots].
_WORDS, _APART = 0.34, 22.0


class BackKindKey(Key):
    """Bare: the back's own grid; skim-coated: mortar all over; combed: ridges; a clear sheet: those through it."""

    def __init__(self, look: Look, words: str, kind: BackKind, press: Callable[[], None], **rest: Any) -> None:
        self._back = kind
        super().__init__(look, words, press, high=None, **rest)

    def draw_face(self, box: marks.PixelBox) -> None:
        """The picture."""
        x, y, w, h = self._picture(box)
        look, kind = self.look, self._back
        ground: ColourName = "tile" if kind == "bare" else "mortar"
        marks.field(look, (x, y, w, h), ground)
        apart = look.dots(_APART)
        if kind == "bare":
            upright = [(at, y, at, y + h) for at in _steps(x, w, 2 * apart)]
            level = [(x, at, x + w, at) for at in _steps(y, h, 2 * apart)]
            marks.colour(look, "edge")
            marks.bars([*upright, *level], look.dots(2))
        elif kind != "skim-coated":
            marks.colour(look, "tile")
            marks.bars([(at, y, at, y + h) for at in _steps(x, w, apart)], look.dots(3))
        if kind == "clear sheet":
            marks.colour(look, "ink")
            marks.bars([(x + w * 0.2, y, x + w * 0.5, y + h), (x + w * 0.3, y, x + w * 0.6, y + h)], look.dots(2))
        marks.frame(look, (x, y, w, h), "ink", 4)

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Under the picture."""
        x, y, w, h = super().words_box(box)
        return x, y, w, h * _WORDS

    def _picture(self, box: marks.PixelBox) -> marks.PixelBox:
        x, y, w, h = box
        pad = self.look.dots(2.5 * GAP)
        low = y + h * _WORDS + pad / 2
        return x + pad, low, w - 2 * pad, max(1.0, y + h - pad - low)


def _steps(start: float, length: float, apart: float) -> list[float]:
    count = max(2, round(length / apart))
    return [start + length * k / count for k in range(1, count)]
