"""Why something was refused: the reason, what is asked first, where that comes from, and the trade's words in it."""

from __future__ import annotations

from functools import partial

from fieldassist.trade.message import message
from fieldassist.ui.content.explain import why
from fieldassist.ui.content.glossary import GLOSSARY, named_in
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel


def tell_why(tablet: Tablet, refused: str) -> None:
    """Lay it over the page. refused: what was said."""
    look, words, view = tablet.look, tablet.words, tablet.view
    inside = ColumnBox(look, TextLabel(look, refused, "key"), gap=18, rises=True)
    lines = [words(line) for line in why(view.prompt)] if view is not None else []
    for line in lines:
        inside.add_widget(TextLabel(look, line, "near"))
    entries = tuple((entry, words(entry.word), words(entry.means)) for entry in GLOSSARY)
    named = named_in(" ".join((refused, *lines)), entries)
    if named:
        inside.add_widget(TextLabel(look, words(message("person-words-in-it")), "small", role="quiet"))
        keys = [
            Key(
                look,
                words(entry.word),
                partial(tablet.go, "glossary", word=entry.id),
                sign=entry.sign or None,
                size="near",
            )
            for entry in named
        ]
        inside.add_widget(Cells(look, keys, 2 if tablet.upright or look.text > 1.2 else 4))
    tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, tablet.close_sheet))
