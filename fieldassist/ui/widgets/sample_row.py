"""The sample at hand: how it is made, where it stands in the drawn order, and where air may be trapped under it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from fieldassist.trade.ridges import Notch
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.trial_work import OrderMark, order_around
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import ColumnBox, Drawn, RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.rank_chart import EdgePicture
from fieldassist.ui.widgets.text import LINE, TextLabel

_EDGE, _LETTER = 104.0, 52.0  # dots
_LARGE = 1.2
# How wide a sample is in the strip, and how high the strip is [dots].
_MARK, STRIP = 40.0, 44.0


class SampleRow(RowBox):
    """The letter, the trowel's edge, and in two lines its name and how it is worked."""

    def __init__(self, look: Look, words: tuple[str, str, str], notch: Notch) -> None:
        letter, name, way = words
        near, small = look.font("near") * LINE / look.dots(1), look.font("small") * LINE / look.dots(1)
        named = TextLabel(look, name, "near", bold=True, fit=True)
        worked = TextLabel(look, way, "small", role="quiet", fit=True, size_hint_y=small / near)
        parts: list[Any] = [
            TextLabel(look, letter, "key", bold=True, fit=True, size_hint_x=None, width=look.dots(_LETTER)),
            ColumnBox(look, named, worked, gap=0),
        ]
        if look.text <= _LARGE:
            parts.insert(1, EdgePicture(look, notch, size_hint_x=None, width=look.dots(_EDGE)))
        super().__init__(look, *(reversed(parts) if look.left_hand else parts), gap=12, high=near + small + 4)


class OrderStrip(Drawn):
    """The samples in the drawn order by their letters: those made filled, the spoiled struck through, the one at hand
    framed."""

    def __init__(self, look: Look, order: Sequence[OrderMark]) -> None:
        self._order = order
        self._letters: list[TextLabel] = []
        super().__init__(look)

    def again(self, *_: Any) -> None:
        """Draw it again; its letters are made outside of its canvas, else they would be drawn twice."""
        super().again()
        for one in self._letters:
            self.remove_widget(one)
        self._letters = [self._letter(one, place) for one, place in self._places((*self.pos, *self.size))]
        for one in self._letters:
            self.add_widget(one)

    def _places(self, box: marks.PixelBox) -> list[tuple[OrderMark, marks.PixelBox]]:
        """As many as there is room for, each with its box."""
        x, y, w, h = box
        side, apart = self.look.dots(_MARK), self.look.dots(4)
        shown = order_around(self._order, max(1, int((w + apart) // (side + apart))))
        return [(one, (x + at * (side + apart), y + (h - side) / 2, side, side)) for at, one in enumerate(shown)]

    def draw(self, box: marks.PixelBox) -> None:
        """Their fields and frames."""
        look = self.look
        for one, place in self._places(box):
            now = one.standing == "now" or (one.standing == "to come" and self._is_next(one))
            if one.standing == "made":
                marks.field(look, place, "pass_")
                continue
            marks.field(look, place, "sheet" if one.standing == "spoiled" else "key")
            marks.frame(look, place, "ink" if now else "edge", 7 if now else 2)
            if one.standing == "spoiled":
                x, y, side, _ = place
                marks.stroke(look, (x + 4, y + 4, x + side - 4, y + side - 4), "ink", 4)

    def _is_next(self, one: OrderMark) -> bool:
        """Whether it is the first that is to come, where none is at hand."""
        first = next((mark for mark in self._order if mark.standing in ("now", "to come")), None)
        return first is one

    def _letter(self, one: OrderMark, place: marks.PixelBox) -> TextLabel:
        role: Any = {"made": "on_pass", "to come": "ink", "now": "ink", "spoiled": "quiet"}[one.standing]
        letter = TextLabel(self.look, one.letter, "small", bold=True, role=role, align="center", fit=True)
        letter.pos, letter.size, letter.size_hint = place[:2], place[2:], (None, None)
        return letter


class AirKey(Key):
    """A key that says where air is trapped, drawn as air under the piece. where: one of the answers' ids."""

    def __init__(self, look: Look, words: str, press: Callable[[], object], where: str) -> None:
        self._where = where
        super().__init__(look, words, press, size="near", high=None)

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Beside the drawing."""
        x, y, w, h = super().words_box(box)
        wide = self._wide(h)
        return x + wide + self.look.dots(12), y, max(1.0, w - wide - self.look.dots(12)), h

    def _wide(self, high: float) -> float:
        return min(high * 1.25, self.look.dots(140))

    def draw_face(self, box: marks.PixelBox) -> None:
        """The piece, and where the air is."""
        look = self.look
        x, y, _, h = super().words_box(box)
        w = self._wide(h)
        marks.field(look, (x, y, w, h), "mortar")
        for left, low, wide, high in _AIR.get(self._where, ()):
            part = (x + left * w, y + low * h, wide * w, high * h)
            marks.field(look, part, "sheet")
            marks.hatch(look, part, "fail", apart=9, thick=3)
        marks.frame(look, (x, y, w, h), "ink", 3)


# Where the air is drawn: boxes in shares of the piece.
_AIR: dict[str, tuple[tuple[float, float, float, float], ...]] = {
    "none": (),
    "middle": ((0.3, 0.3, 0.4, 0.4),),
    "edge": ((0.0, 0.0, 0.2, 1.0),),
    "corners": tuple((x, y, 0.25, 0.3) for x in (0.0, 0.75) for y in (0.0, 0.7)),
    "all-over": tuple((0.08 + 0.3 * i, 0.1 + 0.3 * j, 0.2, 0.16) for i in range(3) for j in range(3)),
}
