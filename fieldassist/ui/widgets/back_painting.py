"""The back of a lifted piece, painted with a finger."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from fieldassist.photo.back import Back, Brush
from fieldassist.trade.voids import STRIP_MM
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look

from kivy.graphics import Color, Line, Rectangle  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip

_RIDGE_DOTS = 9.0  # ridges nearer to each other than that would be a grey field


class BackShown(Drawn):
    """A back that is shown: it keeps the piece's proportions, in the upper middle of its place."""

    back: Back

    @property
    def piece(self) -> marks.PixelBox:
        """Where the piece, or the part of it that is seen, lies [pixels]."""
        wide, high = self.back.size_mm
        scale = min(self.width / wide, self.height / high)
        left, low = self.x + (self.width - wide * scale) / 2, self.y + self.height - high * scale
        return left, low, wide * scale, high * scale

    def _inside(self, touch: Any) -> bool:
        x, y, w, h = self.piece
        return bool(x <= touch.x <= x + w and y <= touch.y <= y + h)


class BackPicture(BackShown):
    """A back as it was painted: bare while nobody has looked, then mortar with its voids, and a dashed line where
    corners and edges end. red: voids are what failed."""

    def __init__(self, look: Look, back: Back, pitch_mm: float, *, red: bool = False, **rest: Any) -> None:
        self.back, self._pitch, self._red = back, pitch_mm, red
        self._texture: Texture | None = None
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:  # noqa: ARG002 (the piece lies inside the box)
        """Draw it."""
        look, back = self.look, self.back
        x, y, w, h = self.piece
        marks.field(look, (x, y, w, h), "mortar" if back.looked else "bare")
        if back.looked:
            self._draw_ridges(x, y, w, h)
        self._texture = Texture.create(size=tuple(reversed(back.void.shape)), colorfmt="rgba")
        self._texture.mag_filter = self._texture.min_filter = "nearest"
        self.show_voids()
        Color(1, 1, 1, 1)
        Rectangle(texture=self._texture, pos=(x, y), size=(w, h))
        strip = STRIP_MM * w / back.size_mm[0]
        if w > 2 * strip and h > 2 * strip:
            inner = (x + strip, y + strip, w - 2 * strip, h - 2 * strip)
            marks.dashed(look, inner, "tile" if back.looked else "edge", thick=2.5, dash=12, space=7)
        marks.frame(look, (x, y, w, h), "ink", 5)

    def _draw_ridges(self, x: float, y: float, w: float, h: float) -> None:
        """The ridges' lines, along the short side, as far apart as they were combed."""
        look = self.look
        scale = w / self.back.size_mm[0]
        apart = self._pitch * scale
        while apart < look.dots(_RIDGE_DOTS):
            apart *= 2
        Color(*look.ink("tile")[:3], 0.55)
        at = x + apart
        while at < x + w:
            Line(points=(at, y, at, y + h), width=1)
            at += apart

    def show_voids(self) -> None:
        """Show the voids as they are now."""
        if self._texture is not None:
            pixels = void_pixels(self.back.void, self._ink("fail" if self._red else "ink"), self._ink("tile"))
            self._texture.blit_buffer(pixels.tobytes(), colorfmt="rgba", bufferfmt="ubyte")
            self.canvas.ask_update()

    def _ink(self, name: Any) -> tuple[int, ...]:
        return tuple(round(255 * part) for part in self.look.ink(name))


def void_pixels(void: Any, edge: tuple[int, ...], inside: tuple[int, ...]) -> Any:
    """The voids as a picture, lowest row first: their rim two cells wide in one colour, the rest in the other.

    Parameters: void, rows x columns, highest row first; edge, inside, red, green, blue and alpha of 0 to 255.
    """
    core = np.pad(void, 2, constant_values=True)
    rows, columns = void.shape
    kept = np.ones_like(void)
    for down, along in ((0, 2), (4, 2), (2, 0), (2, 4), (1, 1), (1, 3), (3, 1), (3, 3)):
        kept &= core[down : down + rows, along : along + columns]
    pixels = np.zeros((*void.shape, 4), dtype=np.uint8)
    pixels[void & ~kept] = edge
    pixels[void & kept] = inside
    return pixels[::-1]


class BackPainting(BackPicture):
    """The same under a finger. brush: what a stroke paints, asked as it begins; changed: called while it goes on;
    ended: when the finger is lifted."""

    def __init__(
        self,
        look: Look,
        back: Back,
        pitch_mm: float,
        brush: Callable[[], Brush],
        changed: Callable[[], None],
        ended: Callable[[], None],
        **rest: Any,
    ) -> None:
        self._brush, self._changed, self._ended = brush, changed, ended
        super().__init__(look, back, pitch_mm, **rest)

    def _at(self, touch: Any) -> tuple[float, float]:
        """Where a finger is, in mm from the piece's upper left corner."""
        x, y, w, h = self.piece
        wide, high = self.back.size_mm
        return (touch.x - x) / w * wide, (y + h - touch.y) / h * high

    def on_touch_down(self, touch: Any) -> bool:
        """A stroke begins where the finger comes down."""
        if not self._inside(touch):
            return False
        touch.grab(self)
        first = not self.back.looked
        self.back.begin(self._at(touch), self._brush())
        if first:
            self.again()
        self.show_voids()
        self._changed()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """It goes on."""
        if touch.grab_current is not self:
            return False
        self.back.move(self._at(touch))
        self.show_voids()
        self._changed()
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """It ends."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._ended()
        return True
