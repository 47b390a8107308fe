"""Pictures: one as large as there is room for, and small ones to press."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.day.photo import Picture
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.marks import Sign

from kivy.graphics import Color, Rectangle  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# How much of the picture the frame fills: corners and something around them are in it.
_FILLS = 0.86
Seen = Picture | str  # a picture, or why there is none


class Shown(Widget):
    """A picture, as large as there is room for."""

    def __init__(self, **rest: Any) -> None:
        super().__init__(**rest)
        self._texture: Texture | None = None
        with self.canvas:
            Color(1, 1, 1, 1)
            self._box = Rectangle(size=(0, 0))
        self.bind(pos=self._fit, size=self._fit)

    def show(self, picture: Picture) -> None:
        """Show this picture from now on."""
        if self._texture is None or self._texture.size != (picture.wide, picture.high):
            self._texture = Texture.create(size=(picture.wide, picture.high), colorfmt="rgb")
            self._texture.flip_vertical()
        self._texture.blit_buffer(picture.pixels, colorfmt="rgb", bufferfmt="ubyte")
        self._box.texture = self._texture
        self._fit()

    def _fit(self, *_: Any) -> None:
        if self._texture is None:
            return
        wide, high = self._texture.size
        scale = min(self.width / wide, self.height / high)
        self._box.size = (wide * scale, high * scale)
        self._box.pos = (self.center_x - wide * scale / 2, self.center_y - high * scale / 2)


class FramedView(Shown):
    """What a camera sees now, with a frame in the proportions of the piece that is photographed."""

    def __init__(self, look: Look, size_mm: tuple[float, float], **rest: Any) -> None:
        self.look, self.size_mm = look, size_mm
        super().__init__(**rest)
        self.bind(pos=self._frame, size=self._frame)

    def show(self, picture: Picture) -> None:
        """Show this picture from now on."""
        super().show(picture)
        self._frame()

    def _frame(self, *_: Any) -> None:
        look, (wide, high) = self.look, self._box.size
        scale = _FILLS * min(wide / self.size_mm[0], high / self.size_mm[1])
        w, h = scale * self.size_mm[0], scale * self.size_mm[1]
        box = (self.center_x - w / 2, self.center_y - h / 2, w, h)
        self.canvas.after.clear()
        with self.canvas.after:
            for thick, shade in ((7.0, 0.0), (3.0, 1.0)):
                Color(shade, shade, shade, 1)
                marks.dashes(look, box, thick=thick, dash=26, space=12)


class Thumb(Key):
    """A small picture to press, with its caption under it."""

    def __init__(self, look: Look, caption: str, press: Callable[[], None]) -> None:
        self._picture = Shown()
        super().__init__(look, caption, press, size="small", high=None)
        self.add_widget(self._picture)

    def show(self, seen: Seen) -> None:
        """Show the picture; where there is none, the sign of a fault."""
        if isinstance(seen, Picture):
            self._picture.show(seen)
        else:
            self.add_widget(Sign(self.look, "fail", 48, "fail", pos=self._picture.pos, size=self._picture.size))

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Under the picture."""
        x, y, w, h = super().words_box(box)
        caption = min(h * 0.5, 2.6 * self.look.font("small"))
        self._picture.pos, self._picture.size = (x, y + caption), (max(1.0, w), max(1.0, h - caption))
        return x, y, w, caption
