"""Words that are a part of a drawing: written into a canvas at a place, for use inside `with canvas:`."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.typeface import covered
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import OTHER_LETTERS, TYPEFACE, width_of

from kivy.core.text import Label as CoreLabel  # isort: skip
from kivy.graphics import Rectangle  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip

Corner = Literal["lower left", "lower right", "upper left", "upper right", "middle"]


def font_in(words: str, font: float, width: float, *, bold: bool) -> float:
    """The size of letters [pixels], not larger than `font`, at which words go into a width in one line."""
    wide = width_of(words, font, bold=bold)
    return font if wide <= width else font * width / wide


def write(
    look: Look, words: str, at: tuple[float, float], font: float, role: ColourName, corner: Corner, *, bold: bool = True
) -> marks.PixelBox:
    """Words in one line with this corner, or their middle, at a place [pixels]. The box of their letters."""
    letters = _letters(words, round(font), bold)
    w, h = letters.size
    x, y = at
    if corner == "middle":
        x, y = x - w / 2, y - h / 2
    else:
        x -= w if corner.endswith("right") else 0
        y -= h if corner.startswith("upper") else 0
    marks.colour(look, role)
    Rectangle(texture=letters, pos=(round(x), round(y)), size=(w, h))
    return x, y, w, h


@lru_cache(maxsize=1024)
def _letters(words: str, font: int, bold: bool) -> Texture:
    face = TYPEFACE if covered(words) else OTHER_LETTERS
    label = CoreLabel(text=words, font_name=face, font_size=max(1, font), bold=bold)
    label.refresh()
    return label.texture
