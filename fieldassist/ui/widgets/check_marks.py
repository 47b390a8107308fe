"""Whether something holds, as a mark beside words or with a key: a tick, a framed question, a cross on a plate."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import GAP, Look

from kivy.graphics import RoundedRectangle  # isort: skip

# It holds; it does not; somebody has to look or answer; a signature will confirm it; only noted; there is none of it.
MarkState = Literal["holds", "fails", "missing", "confirms", "noted", "absent"]
_SIDE = 66.0  # dots


def draw_mark(look: Look, state: MarkState, box: marks.PixelBox) -> None:
    """Draw the mark of a state over a square; for use inside `with canvas:`."""
    x, y, w, h = box
    side = 0.76 * min(w, h)
    at = (x + (w - side) / 2, y + (h - side) / 2, side)
    if state in ("missing", "fails"):
        plate: ColourName = "due" if state == "missing" else "fail_plate"
        thick = look.dots(3)
        marks.colour(look, "ink" if state == "missing" else "fail")
        RoundedRectangle(pos=(x, y), size=(w, h), radius=[look.dots(8)])
        marks.colour(look, plate)
        RoundedRectangle(pos=(x + thick, y + thick), size=(w - 2 * thick, h - 2 * thick), radius=[look.dots(6)])
        if state == "missing":
            marks.sign(look, "question", *at, role="on_due")
        else:
            marks.sign(look, "fail", *at, role="on_fail")
    elif state == "holds":
        marks.sign(look, "pass", *at, role="pass_")
    elif state == "absent":
        marks.sign(look, "less", *at, role="quiet")
    else:
        marks.sign(look, "sign" if state == "confirms" else "note", *at)


class StateMark(Drawn):
    """The mark of a state, beside words. side: in dots."""

    def __init__(self, look: Look, state: MarkState, side: float = _SIDE) -> None:
        self._state = state
        super().__init__(
            look, size_hint=(None, None), size=(look.dots(side), look.dots(side)), pos_hint={"center_y": 0.5}
        )

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        draw_mark(self.look, self._state, box)


class StateKey(Key):
    """A flat key with the mark of a state at its beginning: pressed to read more."""

    def __init__(
        self, look: Look, state: MarkState, words: str, told: str, press: Callable[[], object], *, high: float | None
    ) -> None:
        self._state = state
        super().__init__(look, words, press, kind="sheet", caption=told, size="near", high=high)
        for one in (self.label, self.caption):
            if one is not None:
                one.halign = "left"
        self._lay()

    def draw_face(self, box: marks.PixelBox) -> None:
        """Draw the mark."""
        x, y, _, h = box
        side = min(self.look.dots(_SIDE), h - self.look.dots(2 * GAP))
        draw_mark(self.look, self._state, (x + self.look.dots(18), y + (h - side) / 2, side, side))

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Beside the mark."""
        x, y, w, h = super().words_box(box)
        beside = self.look.dots(_SIDE + 24)
        return x + beside, y, w - beside, h
