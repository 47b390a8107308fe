"""Printed pages on the screen, and the code that a camera reads."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from fieldassist.qr import QUIET_ZONE
from fieldassist.ui.content.pages import PagePicture
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look

from kivy.graphics import Color, Rectangle  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip

# Paper is white in every theme, and what is printed on it keeps its colours.
_WHITE, _BLACK = (1.0, 1.0, 1.0, 1.0), (0.0, 0.0, 0.0, 1.0)


def texture_of(picture: PagePicture) -> Texture:
    """A page as Kivy draws it."""
    texture = Texture.create(size=(picture.width, picture.height), colorfmt="rgb")
    texture.blit_buffer(picture.rgb, colorfmt="rgb", bufferfmt="ubyte")
    texture.flip_vertical()
    return texture


class PageKey(Key):
    """The first page, small: pressed to read all of them. Paper without words until its picture is there."""

    def __init__(
        self, look: Look, press: Callable[[], object], named: str, picture: PagePicture | None, shape: float
    ) -> None:
        self._texture = texture_of(picture) if picture is not None else None
        self._shape = shape
        super().__init__(look, "", press, kind="sheet", named=named, high=None)

    def draw_face(self, box: marks.PixelBox) -> None:
        """Draw the page with its edge, and the edges of those under it."""
        look = self.look
        x, y, w, h = box
        under = look.dots(6)
        wide = min(w - under, (h - under) * self._shape)
        high = wide / self._shape
        left, low = x, y + h - high
        marks.field(look, box, "ground")
        marks.field(look, (left + under, low - under, wide, high), "edge")
        Color(*_WHITE)
        Rectangle(pos=(left, low), size=(wide, high), texture=self._texture)
        marks.frame(look, (left, low, wide, high), "ink", 3)


class PagePaper(Drawn):
    """A page as wide as it is given, as high as paper is."""

    def __init__(self, look: Look, picture: PagePicture, **rest: Any) -> None:
        self._texture = texture_of(picture)
        super().__init__(look, size_hint=(None, None), size=(picture.width, picture.height), **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        Color(*_WHITE)
        Rectangle(pos=box[:2], size=box[2:], texture=self._texture)
        marks.frame(self.look, box, "edge", 2)


class CodeSquare(Drawn):
    """A QR Code: dark on white in every theme, since a camera looks for that; its border of four modules is in it."""

    def __init__(self, look: Look, modules: Sequence[Sequence[bool]], **rest: Any) -> None:
        self._modules = modules
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it, each module a whole number of pixels wide."""
        x, y, w, h = box
        count = len(self._modules) + 2 * QUIET_ZONE
        module = max(1, int(min(w, h) // count))
        side = module * count
        left, low = round(x + (w - side) / 2), round(y + (h - side) / 2)
        Color(*_WHITE)
        Rectangle(pos=(left, low), size=(side, side))
        Color(*_BLACK)
        for row, line in enumerate(self._modules):
            top = low + side - (row + 1 + QUIET_ZONE) * module
            for start, end in _runs(line):
                Rectangle(pos=(left + (start + QUIET_ZONE) * module, top), size=((end - start) * module, module))


def _runs(line: Sequence[bool]) -> list[tuple[int, int]]:
    """Where dark modules begin and end in a row."""
    found, start = [], None
    for at, dark in enumerate([*line, False]):
        if dark and start is None:
            start = at
        elif not dark and start is not None:
            found.append((start, at))
            start = None
    return found
