"""The four places, beside every page: the open one is a plate whose edge towards the page is a notched trowel."""

from __future__ import annotations

from functools import partial

from fieldassist.trade.message import message
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel

from kivy.graphics import Line  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip

PLACES: dict[str, SignName] = {"wall": "wall", "work": "trowel", "plan": "plan", "day": "day"}
WIDE = 112  # dots, at the side
HIGH = 118  # dots, below
_TOOTH, _DEEP = 20.0, 14.0


class PlaceKey(Key):
    """A way to a place. edge: at which side the page lies."""

    def __init__(self, look: Look, words: str, place: str, tablet: Tablet, *, is_open: bool, edge: str) -> None:
        self.place, self.is_open, self._edge = place, is_open, edge
        self._plate_sign = PLACES[place]
        super().__init__(look, words, partial(tablet.go, place), kind="sheet", high=None, size="small")
        assert self.label is not None
        self.label.bold = is_open

    def _lay(self, *_: object) -> None:
        look = self.look
        self.canvas.before.clear()
        x, y, w, h = self.x, self.y, self.width, self.height
        below = self._edge == "top"
        with self.canvas.before:
            if self.is_open:
                self._plate(x, y, w, h)
            elif self.state == "down":
                marks.frame(look, (x, y, w, h), "ink", 4)
            if self.focused:
                marks.frame(look, (x + 4, y + 4, w - 8, h - 8), "ink", 4)
            side = look.dots(50 if not below else 44)
            line = look.font("small") * 1.3
            top = y + h / 2 + (side + line) / 2
            marks.sign(look, self._plate_sign, (self.x + self.width / 2) - side / 2, top - side, side)
        if self.label is not None:
            pad = look.dots(8)
            self.label.pos = x + pad, top - side - line - look.dots(2)
            self.label.size = w - 2 * pad, line

    def _plate(self, x: float, y: float, w: float, h: float) -> None:
        """The plate, notched at the edge towards the page."""
        look = self.look
        thick, deep = look.dots(3), look.dots(_DEEP)
        marks.field(look, (x, y, w, h), "sheet")
        along = h if self._edge != "top" else w
        count = max(3, round(along / look.dots(_TOOTH)) | 1)
        step = along / count
        edge: list[float] = []
        for k in range(count):
            out = 0.0 if k % 2 else deep
            for at in (k * step, (k + 1) * step):
                if self._edge == "right":
                    edge += [x + w - deep + out, y + h - at]
                elif self._edge == "left":
                    edge += [x + deep - out, y + h - at]
                else:
                    edge += [x + at, y + h - deep + out]
        for k in range(1, count, 2):
            at = k * step
            hole = {
                "right": (x + w - deep, y + h - at - step, deep, step),
                "left": (x, y + h - at - step, deep, step),
                "top": (x + at, y + h - deep, step, deep),
            }[self._edge]
            marks.field(look, hole, "ground")
        rest = {
            "right": [x, y, x, y + h],
            "left": [x + w, y, x + w, y + h],
            "top": [x + w, y, x, y],
        }[self._edge]
        marks.colour(look, "ink")
        Line(points=[*edge, *rest], width=thick, close=True, joint="miter")


class Places(BoxLayout):
    """The ways to the four places."""

    def __init__(self, tablet: Tablet, opened: str) -> None:
        look, upright = tablet.look, tablet.upright
        super().__init__(orientation="horizontal" if upright else "vertical", spacing=look.dots(8 if upright else 4))
        if upright:
            self.size_hint_y, self.height = None, look.dots(HIGH)
        else:
            self.size_hint_x, self.width = None, look.dots(WIDE + _DEEP / 2)
        edge = "top" if upright else "left" if look.left_hand else "right"
        lay_ground(look, self, "bare")
        for place in PLACES:
            words = tablet.words(message("frame-place", place=place))
            self.add_widget(PlaceKey(look, words, place, tablet, is_open=place == opened, edge=edge))
        kind = tablet.view.state.kind if tablet.view is not None else "work"
        if kind != "work":
            # Beside every page, whatever clocks the band shows.
            words = tablet.words(message("frame-not-work", kind=kind))
            mark = TextLabel(look, words, "small", bold=True, align="center", fit=True, least=0.6)
            clear = look.dots(14)  # of the hatched frame
            beside = BoxLayout(padding=(clear, 0, look.dots(6), clear))
            beside.add_widget(mark)
            if upright:
                beside.size_hint_x = 0.8
            else:
                beside.size_hint_y, beside.height = None, look.dots(56)
            self.add_widget(beside)
