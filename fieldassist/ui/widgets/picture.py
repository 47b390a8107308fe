"""Pictures: one as large as there is room for, and small ones to press."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.day.photo import Picture
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.widgets.parts import Look, Target, gap

from kivy.graphics import Color, Rectangle  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

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


class Thumb(Target):
    """A small picture to press, with its caption under it."""

    def __init__(self, look: Look, caption: str, press: Callable[[], None]) -> None:
        super().__init__(look, caption, press, size="small")
        self.size_hint_y = 1
        self.valign = "bottom"
        self._caption = caption
        self._picture = Shown()
        self.add_widget(self._picture)
        self.bind(pos=self._place, size=self._place, height=self._wrap)

    def show(self, seen: Seen) -> None:
        """Show the picture, or why there is none."""
        if isinstance(seen, Picture):
            self._picture.show(seen)
        else:
            self._caption = self.text = f"{self._caption}\nNO PHOTO"

    def _wrap(self, *_: Any) -> None:
        room: tuple[float, float] = (max(1.0, self.width - 2 * gap()), max(1.0, self.height - gap()))
        self.text_size = room  # type: ignore[assignment]  # Target has no height in it

    def _grow(self, *_: Any) -> None:
        """Its height is its share of the page, whatever it says."""

    def _place(self, *_: Any) -> None:
        caption = (1 + self._caption.count("\n")) * 1.25 * self.look.font("small") + gap()
        self._picture.pos = (self.x + gap(), self.y + caption + gap())
        self._picture.size = (max(1.0, self.width - 2 * gap()), max(1.0, self.height - caption - 2 * gap()))
