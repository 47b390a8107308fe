"""How loud it is: a bar that grows to the right. The words beside it say what a bar alone would not."""

from __future__ import annotations

from typing import Any

from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look
from fieldassist.voice.microphone import Level

# The bar goes up in steps of 3 dB, from silence on: a window that shows nothing new need not be drawn again.
_STEP_DB, _STEPS = 3.0, 18


class LevelMeter(Drawn):
    """The bar. `share`: how much of it is filled, 0 to 1."""

    def __init__(self, look: Look, **rest: Any) -> None:
        self.share = 0.0
        super().__init__(look, **rest)

    def show(self, level: Level | None) -> None:
        """This moment's level, None while nothing listens. Draws nothing where it is the same as before."""
        share = 0.0 if level is None else _share(level.rms_dbfs)
        if share != self.share:
            self.share = share
            self.again()

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        x, y, w, h = box
        marks.field(self.look, box, "bare")
        marks.field(self.look, (x, y, w * self.share, h), "ink")
        marks.frame(self.look, box, "edge", 3)


def _share(rms_dbfs: float) -> float:
    """How much of the bar a level fills.

    >>> _share(-27.0), _share(-26.9) == _share(-25.1), _share(float("-inf"))
    (0.5, True, 0.0)
    """
    return int(min(_STEPS, max(0.0, _STEPS + rms_dbfs / _STEP_DB))) / _STEPS
