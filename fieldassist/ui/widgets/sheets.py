"""What lies over a page for a while."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from fieldassist.trade.message import message
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, Look
from fieldassist.ui.widgets.text import LINE, TextLabel, fits

from kivy.core.window import Window  # isort: skip
from kivy.uix.floatlayout import FloatLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

if TYPE_CHECKING:
    from fieldassist.language import Words

_KEY, _LEAST = 128.0, 84.0  # dots


class Overlay(FloatLayout):
    """Covers the window below `top` pixels from its upper edge; what lies under it is not pressed."""

    def __init__(self, inside: Widget, top: Callable[[], float]) -> None:
        super().__init__()
        self._inside, self._top = inside, top
        inside.size_hint = (None, None)
        self.add_widget(inside)
        self.bind(pos=self._lay, size=self._lay)

    def _lay(self, *_: Any) -> None:
        high = self.height - self._top()
        self._inside.pos, self._inside.size = self.pos, (self.width, high)

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy calls it: what lies under the sheet is not pressed."""
        covered: bool = self._inside.collide_point(*touch.pos)
        return super().on_touch_down(touch) or covered


class RefusalSheet(ColumnBox):
    """Why something was not done, with the keys that help; `asks_for`: how high it wants to be [pixels]."""

    def __init__(self, look: Look, words: Words, why: str, keys: Sequence[Key], close: Callable[[], None]) -> None:
        super().__init__(look, gap=10, padding=look.dots(MARGIN))
        lay_ground(look, self, "sheet")
        close_key = Key(look, words(message("frame-close")), close, high=None)
        row = RowBox(look, *(close_key, *keys), high=_KEY)
        for key in keys:
            key.size_hint_y = 1
            key.bind(on_release=lambda *_: close())
        wide = Window.width - look.dots(2 * MARGIN + 80)
        font, lines = look.font("near"), 1
        while lines < 9 and not fits(why, font, wide, lines * font * LINE, bold=True):
            lines += 1
        self.told = TextLabel(look, why, "near", bold=True, fit=True)
        told = RowBox(look, marks.Sign(look, "fail", 56, "fail", pos_hint={"center_y": 0.5}), self.told, gap=20)
        self.add_widget(told)
        self.add_widget(row)
        self.asks_for = max(look.dots(_LEAST), lines * font * LINE) + look.dots(_KEY + 4 * MARGIN)

        def edge(*_: Any) -> None:
            self.canvas.after.clear()
            with self.canvas.after:
                marks.field(look, (self.x, self.y + self.height - look.dots(4), self.width, look.dots(4)), "fail")

        self.bind(pos=edge, size=edge)


class NotWorkFrame(Widget):
    """A hatched frame around the whole window: this day is practice or a rehearsal, and no proof of anything."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.bind(pos=self._draw, size=self._draw)

    def _draw(self, *_: Any) -> None:
        look, (x, y), (w, h) = self._look, self.pos, self.size
        wide = look.dots(12)
        self.canvas.clear()
        with self.canvas:
            for box in ((x, y, w, wide), (x, y + h - wide, w, wide), (x, y, wide, h), (x + w - wide, y, wide, h)):
                marks.hatch(look, box, "ink", apart=16, thick=4)
