"""Opening the lock: whoever has a PIN here gives it, in place."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from fieldassist.trade.message import message
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.pins import with_key
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel


def ask_to_open(tablet: Tablet, opened: Callable[[], None]) -> None:
    """Ask who it is, and for their PIN; opened: called once it was right."""
    look, words = tablet.look, tablet.words
    inside = ColumnBox(look, TextLabel(look, words(message("person-locked")), "far"), gap=18, rises=True)
    inside.add_widget(TextLabel(look, words(message("person-locked-goes-on")), "near"))
    keys = [
        Key(look, name_of(one.name), partial(_ask_pin, tablet, one.name, opened), sign="person", size="near", high=124)
        for one in tablet.keys.people()
    ]
    inside.add_widget(Cells(look, keys, 2 if tablet.upright or look.text > 1.2 else 3, high=124, gap=14))
    tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, tablet.close_sheet))


def _ask_pin(tablet: Tablet, name: str, opened: Callable[[], None]) -> None:
    with_key(tablet, name, message("frame-whose-pin", name=name), lambda _key: opened())
