"""A field to sign in with one finger."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.ui.content import signature_strokes
from fieldassist.ui.content.theme import rgb
from fieldassist.ui.widgets.parts import TYPEFACE, Look

from kivy.core.text import Label as CoreLabel  # isort: skip
from kivy.graphics import Color, Ellipse, Line, Rectangle  # isort: skip
from kivy.metrics import mm  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# Three times as wide as high, as the daily log prints it.
SHAPE = 3.0
_LINE_MM = 0.7


class FingerField(Widget):
    """Takes strokes of one finger, and draws what was drawn before it was made.

    Parameters: drawn, which it adds to and so outlives it; changed, called when a stroke was begun or ended. It takes
    as much of its place as has the right shape.
    """

    def __init__(
        self, look: Look, drawn: signature_strokes.DrawnStrokes, changed: Callable[[], None], **rest: Any
    ) -> None:
        super().__init__(**rest)
        self._look, self._drawn, self._changed = look, drawn, changed
        self._finger: object | None = None
        self.bind(pos=self._draw, size=self._draw)
        self._draw()

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, width and height of the paper, in pixels."""
        wide = min(self.width, self.height * SHAPE)
        high = wide / SHAPE
        return self.x, self.top - high, wide, high

    def clear(self) -> None:
        """Wipe it."""
        self._drawn.clear()
        self._draw()
        self._changed()

    # --- the finger -----------------------------------------------------------------------------------------------

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy: a finger was put down."""
        x, y, wide, high = self.box
        if not (x <= touch.x <= x + wide and y <= touch.y <= y + high):
            return False
        # A second finger, or the heel of the hand, neither draws nor ends the stroke.
        if self._finger is None and signature_strokes.begin(self._drawn, self._place(touch)):
            self._finger = touch.uid
            touch.grab(self)
            self._draw()
            self._changed()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Kivy: a finger has moved."""
        if touch.grab_current is not self or touch.uid != self._finger:
            return False
        if signature_strokes.go_on(self._drawn, self._place(touch)):
            self._line.points = self._across(self._drawn[-1])
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Kivy: a finger was lifted."""
        if touch.grab_current is not self or touch.uid != self._finger:
            return False
        touch.ungrab(self)
        self._finger = None
        self._draw()
        self._changed()
        return True

    def _place(self, touch: Any) -> signature_strokes.Point:
        x, y, wide, high = self.box
        return signature_strokes.point_in(touch.x - x, touch.y - y, wide, high)

    # --- what is seen ---------------------------------------------------------------------------------------------

    def _across(self, stroke: list[signature_strokes.Point]) -> list[float]:
        x, y, wide, high = self.box
        return [place for a, b in stroke for place in (x + wide * a / 1000, y + high * (1 - b / 1000))]

    def _draw(self, *_: Any) -> None:
        x, y, wide, high = self.box
        theme = self._look.theme
        thick = float(mm(_LINE_MM))
        self.canvas.clear()
        with self.canvas:
            Color(*rgb(theme.panel.ground))
            Rectangle(pos=(x, y), size=(wide, high))
            Color(*rgb(theme.line))
            Line(rectangle=(x, y, wide, high), width=1.5)
            Line(points=(x + wide * 0.05, y + high * 0.22, x + wide * 0.95, y + high * 0.22), width=1.0)
            if not self._drawn:
                self._invite(x + wide * 0.05, y + high * 0.26)
            Color(*rgb(theme.panel.foreground))
            for stroke in self._drawn:
                points = self._across(stroke)
                if len(stroke) == 1:
                    Ellipse(pos=(points[0] - thick, points[1] - thick), size=(2 * thick, 2 * thick))
                self._line = Line(points=points, width=thick, cap="round", joint="round")

    def _invite(self, x: float, y: float) -> None:
        label = CoreLabel(text="Sign here with a finger", font_name=TYPEFACE, font_size=self._look.font("plain"))
        label.refresh()
        Color(*rgb(self._look.theme.quiet))
        Rectangle(texture=label.texture, pos=(x, y), size=label.texture.size)
