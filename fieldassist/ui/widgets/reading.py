"""Something to read over a page, with one key to close it."""

from __future__ import annotations

from collections.abc import Callable

from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, Scroll, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, Look

from kivy.uix.widget import Widget  # isort: skip

_KEY = 128.0  # dots


def reading_sheet(look: Look, close_words: str, inside: Widget, close: Callable[[], None]) -> ColumnBox:
    """What is inside, to be pulled, over a key that closes it."""
    sheet = ColumnBox(look, gap=16, padding=look.dots(MARGIN))
    lay_ground(look, sheet, "sheet")
    sheet.add_widget(Scroll(look, inside))
    sheet.add_widget(RowBox(look, Key(look, close_words, close, high=None), high=_KEY))
    return sheet
