"""A field to sign in with one finger."""

from __future__ import annotations

from typing import Any

from fieldassist.ui.content import signature_strokes
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TYPEFACE

from kivy.core.text import Label as CoreLabel  # isort: skip
from kivy.graphics import Ellipse, Line, Rectangle  # isort: skip

# Three times as wide as high, as the daily log prints it.
SHAPE = 3.0
_THICK = 6.0  # dots


class FingerField(Drawn):
    """Takes strokes of one finger, and draws what was drawn before it was made.

    Parameters: drawn, which it adds to and so outlives it; invites, what is read in it while it is empty. It takes as
    much of its place as has the right shape.
    """

    def __init__(self, look: Look, drawn: signature_strokes.DrawnStrokes, invites: str, **rest: Any) -> None:
        self.drawn, self._invites = drawn, invites
        self._finger: object | None = None
        super().__init__(look, **rest)

    @property
    def box(self) -> marks.PixelBox:
        """The paper [pixels]: at the upper edge of its place, in the middle of its width."""
        wide = min(self.width, self.height * SHAPE)
        high = wide / SHAPE
        return self.x + (self.width - wide) / 2, self.y + self.height - high, wide, high

    def clear(self) -> None:
        """Wipe it."""
        self.drawn.clear()
        self.again()

    # --- the finger -----------------------------------------------------------------------------------------------

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy: a finger was put down."""
        x, y, wide, high = self.box
        if not (x <= touch.x <= x + wide and y <= touch.y <= y + high):
            return False
        # A second finger, or the heel of the hand, neither draws nor ends the stroke.
        if self._finger is None and signature_strokes.begin(self.drawn, self._place(touch)):
            self._finger = touch.uid
            touch.grab(self)
            self.again()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Kivy: a finger has moved."""
        if touch.grab_current is not self or touch.uid != self._finger:
            return False
        if signature_strokes.go_on(self.drawn, self._place(touch)):
            self._line.points = self._across(self.drawn[-1])
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Kivy: a finger was lifted."""
        if touch.grab_current is not self or touch.uid != self._finger:
            return False
        touch.ungrab(self)
        self._finger = None
        self.again()
        return True

    def _place(self, touch: Any) -> signature_strokes.StrokePoint:
        x, y, wide, high = self.box
        return signature_strokes.point_in(touch.x - x, touch.y - y, wide, high)

    # --- what is seen ---------------------------------------------------------------------------------------------

    def _across(self, stroke: list[signature_strokes.StrokePoint]) -> list[float]:
        x, y, wide, high = self.box
        return [place for a, b in stroke for place in (x + wide * a / 1000, y + high * (1 - b / 1000))]

    def draw(self, _box: marks.PixelBox) -> None:
        """Draw paper, line and strokes."""
        look = self.look
        x, y, wide, high = paper = self.box
        marks.field(look, paper, "key")
        marks.frame(look, paper, "edge", 3)
        marks.stroke(look, (x + wide * 0.05, y + high * 0.22, x + wide * 0.95, y + high * 0.22), "quiet", 3)
        if not self.drawn:
            self._invite(x + wide * 0.05, y + high * 0.26, wide * 0.9)
        marks.colour(look, "ink")
        thick = look.dots(_THICK) / 2
        for stroke in self.drawn:
            points = self._across(stroke)
            if len(stroke) == 1:
                Ellipse(pos=(points[0] - thick, points[1] - thick), size=(2 * thick, 2 * thick))
            self._line = Line(points=points, width=thick, cap="round", joint="round")

    def _invite(self, x: float, y: float, wide: float) -> None:
        label = CoreLabel(text=self._invites, font_name=TYPEFACE, font_size=self.look.font("near"))
        label.refresh()
        share = min(1.0, wide / max(1, label.texture.width))
        marks.colour(self.look, "quiet")
        Rectangle(texture=label.texture, pos=(x, y), size=(label.texture.width * share, label.texture.height * share))
