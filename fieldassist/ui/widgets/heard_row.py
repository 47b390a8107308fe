"""What was heard last, with a tick or a cross."""

from __future__ import annotations

from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel

_SIGNS: dict[str, tuple[SignName, ColourName]] = {
    "taken": ("pass", "pass_"),
    "asked": ("ear", "ink"),
    "dropped": ("fail", "ink"),
    "refused": ("fail", "ink"),
}


class HeardRow(Drawn):
    """One or two lines; empty while nothing was heard."""

    def __init__(self, look: Look) -> None:
        self._fate = ""
        self._text = TextLabel(look, "", "near", bold=False, fit=True, valign="middle")
        super().__init__(look, size_hint_y=None, height=0)
        self.add_widget(self._text)

    def show(self, fate: str, words: str) -> None:
        """Show this line; fate: what came of it, "" for none."""
        if (fate, words) == (self._fate, self._text.words):
            return
        self._fate, self._text.words = fate, words
        lines = 1 if len(words) < 34 else 2
        self.height = self.look.font("near") * 1.34 * lines if fate else 0
        self.again()

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look = self.look
        x, y, w, h = box
        side = look.dots(40)
        self._text.pos, self._text.size = (x + side + look.dots(14), y), (max(1.0, w - side - look.dots(14)), h)
        if self._fate in _SIGNS:
            sign, role = _SIGNS[self._fate]
            marks.sign(look, sign, x, y + h - side, side, role)
