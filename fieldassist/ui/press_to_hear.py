"""Reading aloud: words that are pressed are said; a key that is held says what it is.

A key that was held is not pressed where the finger leaves it before it is lifted.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel

from kivy.clock import Clock  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# How long a finger rests on a key before it says what it is. Ours.
HELD_S = 0.8


class PressToHear:
    """Says what lies under a finger in a frame. say: has words said aloud."""

    def __init__(self, frame: Widget, say: Callable[[str], None]) -> None:
        self._frame, self._say = frame, say
        self._waits: Any = None

    def down(self, x: float, y: float) -> None:
        """A finger came down at a place of the window [pixels]."""
        self.up()
        key = self._under(x, y, Key)
        if key is not None:
            self._waits = Clock.schedule_once(lambda _dt: self._say(key.named), HELD_S)
            return
        text = self._under(x, y, TextLabel)
        if text is not None:
            self._say(text.words)

    def up(self) -> None:
        """It was lifted."""
        if self._waits is not None:
            self._waits.cancel()
            self._waits = None

    def _under(self, x: float, y: float, kind: type[Any]) -> Any:
        """What of this kind lies there; of several the one that was drawn last."""
        found = None
        for widget in self._frame.walk():
            if isinstance(widget, kind) and widget.collide_point(*widget.to_widget(x, y)):
                found = widget
        return found
