"""How loud it is: a bar that grows to the right. The words beside it say what a bar alone would not."""

from __future__ import annotations

from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.theme import ColourRole, rgb
from fieldassist.ui.widgets.parts import Look
from fieldassist.voice.microphone import Level

from kivy.graphics import Color, Rectangle  # isort: skip
from kivy.metrics import mm  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# The bar goes up in steps of 3 dB, from silence on: a window that shows nothing new need not be drawn again.
_STEP_DB, _STEPS = 3.0, 18


class LevelMeter(Widget):
    """The bar. `share`: how much of it is filled, 0 to 1."""

    def __init__(self, look: Look, role: ColourRole = "ground", **rest: Any) -> None:
        super().__init__(**rest)
        self.share = 0.0
        with self.canvas:
            Color(*rgb(look.theme.line))
            self._line = Rectangle()
            Color(*rgb(look.theme.pair(role).foreground))
            self._bar = Rectangle()
        self.bind(pos=self._lay, size=self._lay)
        self._lay()

    def show(self, level: Level | None) -> None:
        """This moment's level, None while nothing listens. Draws nothing where it is the same as before."""
        share = 0.0 if level is None else _share(level.rms_dbfs)
        if share != self.share:
            self.share = share
            self._lay()

    def _lay(self, *_: Any) -> None:
        self._line.pos, self._line.size = (self.x, self.center_y - mm(0.4)), (self.width, mm(0.8))
        self._bar.pos, self._bar.size = self.pos, (self.width * self.share, self.height)


def _share(rms_dbfs: float) -> float:
    """How much of the bar a level fills.

    >>> _share(-27.0), _share(-26.9) == _share(-25.1), _share(float("-inf"))
    (0.5, True, 0.0)
    """
    return int(min(_STEPS, max(0.0, _STEPS + rms_dbfs / _STEP_DB))) / _STEPS
