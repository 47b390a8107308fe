"""How much of a long work is done."""

from __future__ import annotations

from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look


class ShareBar(Drawn):
    """How much of a long work is done."""

    def __init__(self, look: Look, **rest: object) -> None:
        self._share = 0.0
        super().__init__(look, **rest)

    @property
    def share(self) -> float:
        """0 to 1."""
        return self._share

    @share.setter
    def share(self, share: float) -> None:
        if share != self._share:
            self._share = share
            self.again()

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it: ink on a key's ground."""
        look = self.look
        x, y, w, h = box
        marks.field(look, box, "key")
        marks.field(look, (x, y, w * self._share, h), "ink")
        marks.frame(look, box, "edge", 3)
