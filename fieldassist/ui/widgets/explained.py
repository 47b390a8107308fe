"""What a screen says of itself, once: a strip over the foot of its page that goes with the first press."""

from __future__ import annotations

from typing import Any

from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import MARGIN, Look
from fieldassist.ui.widgets.text import TextLabel

_SIDE = 56.0  # of the sign [dots]


class ExplainStrip(Drawn):
    """The strip; it is as high as its words need at the width that it is given. What lies under it is pressed all the
    same: it stands in nobody's way."""

    def __init__(self, look: Look, words: str) -> None:
        self.told = TextLabel(look, words, "near", bold=True)
        super().__init__(look, size_hint=(None, None))
        self.add_widget(self.told)
        self.bind(pos=self._lay, width=self._lay)
        self.told.bind(height=self._lay)

    def _lay(self, *_: Any) -> None:
        look = self.look
        margin, side = look.dots(MARGIN), look.dots(_SIDE)
        self.told.width = max(1.0, self.width - side - 3 * margin)
        self.height = max(side, self.told.height) + 2 * margin
        self.told.pos = (self.x + side + 2 * margin, self.y + margin)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look = self.look
        x, y, w, h = box
        marks.field(look, box, "sheet")
        marks.frame(look, (x, y, w, h), "ink", 5)
        side = look.dots(_SIDE)
        marks.sign(look, "question", x + look.dots(MARGIN), y + h - side - look.dots(MARGIN), side)
