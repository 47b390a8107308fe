"""Words on the screen."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any, Literal

from fieldassist.places import shipped
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.typeface import covered, words_by_face
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.widgets.look import Look

from kivy.core.text import Label as CoreLabel  # isort: skip
from kivy.core.text import LabelBase  # isort: skip
from kivy.uix.label import Label  # isort: skip
from kivy.uix.widget import Widget  # isort: skip
from kivy.utils import escape_markup  # isort: skip

TYPEFACE, OTHER_LETTERS = "Field", "Letters"
_FONTS = shipped("assets") / "fonts"
LabelBase.register(TYPEFACE, str(_FONTS / "B612-Regular.otf"), fn_bold=str(_FONTS / "B612-Bold.otf"))
LabelBase.register(
    OTHER_LETTERS, str(_FONTS / "DejaVuSansCondensed.ttf"), fn_bold=str(_FONTS / "DejaVuSansCondensed-Bold.ttf")
)

Align = Literal["left", "center", "right"]
# Letters that have to fit a box get smaller down to this share, and no further.
LEAST_FIT = 0.7
_FIT_STEP = 0.06
_BOLD: frozenset[SizeName] = frozenset(("over", "value", "clock", "far", "key"))


class TextLabel(Label):
    """Words that wrap at their width and are as high as they need to be.

    size: by what they are for; bold: None for what is usual at this size; lines: be so many lines high, whatever it
    says; fit: be as large as the box that it is given, with letters that shrink down to `least` of their size to go in.
    What it says is `.words`; `cut` tells whether it does not go in.
    """

    def __init__(
        self,
        look: Look,
        words: str,
        size: SizeName = "near",
        *,
        bold: bool | None = None,
        role: ColourName = "ink",
        align: Align = "left",
        lines: int | None = None,
        fit: bool = False,
        least: float = LEAST_FIT,
        **rest: Any,
    ) -> None:
        self.least = least
        self.look, self.size_name, self._fits, self._lines = look, size, fit, lines
        self._words = ""
        self._full = look.font(size)
        rest.setdefault("valign", "middle")
        super().__init__(
            font_name=TYPEFACE,
            font_size=self._full,
            bold=size in _BOLD if bold is None else bold,
            color=look.ink(role),
            halign=align,
            **rest,
        )
        if fit:
            self.bind(size=self._go_in)
        else:
            self.size_hint_y = None
            self.height = 0.0
            self.bind(width=self._wrap, texture_size=self._grow)
        self.words = words

    @property
    def words(self) -> str:
        """What it says."""
        return self._words

    @words.setter
    def words(self, words: str) -> None:
        if words == self._words:
            return
        self._words = words
        self.markup = not covered(words)
        self.text = _marked(words) if self.markup else words
        if self._fits:
            self._go_in()
        else:
            self._wrap(self, self.width)

    def paint_in(self, role: ColourName) -> None:
        """Take another colour."""
        self.color = self.look.ink(role)

    @property
    def cut(self) -> bool:
        """Whether what it says does not go into its box."""
        widest = widest_word(self._words, self.font_size, bold=self.bold)
        return bool(self.texture_size[1] > self.height + 2 or widest > self.width + 1)

    @property
    def shrunk(self) -> float:
        """The size of its letters in shares of what was asked for."""
        return float(self.font_size / self._full)

    def widest_word(self) -> float:
        """The width of its longest word in pixels, in letters of the size that was asked for."""
        return widest_word(self._words, self._full, bold=self.bold)

    def _wrap(self, _widget: Widget, width: float) -> None:
        # A word is never broken: letters get smaller before that.
        widest = self.widest_word()
        self.font_size = self._full * max(self.least, 0.98 * width / widest) if 1 < width < widest else self._full
        self.text_size = (max(1.0, width), None)

    def _grow(self, _widget: Widget, size: Sequence[float]) -> None:
        if self._lines is not None:
            self.height = self._lines * self._full * 1.22
        else:
            self.height = size[1] if self._words else 0.0

    def _go_in(self, *_: Any) -> None:
        width, height = self.size
        self.text_size = (max(1.0, width), None)
        if width < 2 or height < 2:
            return
        share = 1.0
        while share > self.least and not fits(self._words, self._full * share, width, height, bold=self.bold):
            share = max(self.least, share - _FIT_STEP)
        self.font_size = self._full * share
        self.text_size = (width, height if self.valign != "middle" else None)


def widest_word(words: str, font: float, *, bold: bool = False) -> float:
    """The width of the longest word [pixels]."""
    return max((width_of(word, font, bold=bold) for word in words.split()), default=0.0)


@lru_cache(maxsize=8192)
def width_of(words: str, font: float, *, bold: bool = False) -> float:
    """The width of words in one line [pixels]."""
    face = TYPEFACE if covered(words) else OTHER_LETTERS
    return float(CoreLabel(font_name=face, font_size=font, bold=bold).get_extents(words)[0])


def fits(words: str, font: float, width: float, height: float, *, bold: bool = False) -> bool:
    """Whether words go into a box [pixels] when they are wrapped."""
    high = 0
    for paragraph in words.split("\n"):
        high += 1
        line = ""
        for word in paragraph.split():
            if width_of(word, font, bold=bold) > width:
                return False
            longer = f"{line} {word}".strip()
            if line and width_of(longer, font, bold=bold) > width:
                high += 1
                line = word
            else:
                line = longer
    # A line is a whole number of pixels high.
    return high * (font * LINE + 1) <= height + 1


# From baseline to baseline, in shares of the size: B612's own (ascent and descent of its file).
LINE = 1.215


def _marked(words: str) -> str:
    return "".join(
        escape_markup(piece) if has else f"[font={OTHER_LETTERS}]{escape_markup(piece)}[/font]"
        for piece, has in words_by_face(words)
    )
