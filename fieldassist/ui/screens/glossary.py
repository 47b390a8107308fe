"""Help: the trade's words in plain sentences with their signs, and what each screen is for."""

from __future__ import annotations

from functools import partial

from fieldassist.trade.message import message
from fieldassist.ui.content.explain import EXPLAINED, explanation, title
from fieldassist.ui.content.glossary import GLOSSARY, GlossaryEntry, found
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel


class GlossaryPage(Screen):
    """The screen: a word may be named (`go("glossary", word=id)`)."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._word = str(tablet.at_what.get("word", GLOSSARY[0].id))
        self._sought = ""
        self._screens = False

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        return self.tablet.words(message("person-words")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        if self.changed("all", (self._word, self._sought, self._screens)):
            self._draw()

    def _draw(self) -> None:
        look, words = self.look, self.tablet.words
        self.page.clear_widgets()
        if self._screens:
            inside = ColumnBox(look, gap=12, rises=True)
            for screen in EXPLAINED:
                inside.add_widget(TextLabel(look, words(title(screen)), "near", bold=True))
                inside.add_widget(TextLabel(look, words(explanation(screen)), "near"))
            self.page.add_widget(Scroll(look, inside))
        else:
            self._entries()
        other = message("person-the-words" if self._screens else "person-the-screens")
        look_up = Key(look, words(message("person-look-up")), self._look_up, kind="action", high=None)
        self.act(
            look_up,
            Key(look, words(other), self._turn, size="near", high=None),
            Key(look, words(message("frame-back")), self.tablet.back, size="near", high=None),
        )

    def _entries(self) -> None:
        look, words = self.look, self.tablet.words
        read = tuple((entry, words(entry.word), words(entry.means)) for entry in GLOSSARY)
        entries = found(self._sought, read)
        if not entries:
            self.page.add_widget(TextLabel(look, words(message("person-no-such-word", word=self._sought)), "near"))
            entries = GLOSSARY
        here = next((entry for entry in entries if entry.id == self._word), entries[0])
        keys = [
            Key(look, words(entry.word), partial(self._show, entry.id), chosen=entry is here, size="near")
            for entry in entries
        ]
        large = look.text > 1.2
        upright = self.tablet.upright
        column = Cells(look, keys, 3 if upright and not large else 2)
        listed = Scroll(look, ColumnBox(look, column, rises=True))
        told = self._meaning(here)
        if upright:
            listed.size_hint_y, told.size_hint_y = 0.5, 0.5
            self.page.add_widget(told)
            self.page.add_widget(listed)
        else:
            listed.size_hint_x, told.size_hint_x = 0.5, 0.5
            pair = (told, listed) if look.left_hand else (listed, told)
            self.page.add_widget(RowBox(look, *pair, gap=28))

    def _meaning(self, entry: GlossaryEntry) -> Scroll:
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, gap=20, rises=True)
        head = RowBox(look, gap=20, rises=True)
        if entry.sign:
            sign: SignName = entry.sign
            head.add_widget(marks.Sign(look, sign, 120))
        head.add_widget(TextLabel(look, words(entry.word), "far"))
        inside.add_widget(head)
        inside.add_widget(TextLabel(look, words(entry.means), "near"))
        near = [other for other in GLOSSARY if other.id in entry.see]
        if near:
            inside.add_widget(TextLabel(look, words(message("person-see-too")), "small", role="quiet"))
            keys = [Key(look, words(other.word), partial(self._show, other.id), size="near") for other in near]
            for key in keys:
                key.named = words(message("person-see-word", word=key.text))
            inside.add_widget(Cells(look, keys, 2))
        return Scroll(look, inside)

    def _show(self, word: str) -> None:
        self._word = word
        self.refresh()

    def _turn(self) -> None:
        self._screens = not self._screens
        self.refresh()

    def _look_up(self) -> None:
        def taken(typed: str) -> None:
            self._sought, self._screens = typed, False
            self.refresh()

        self.tablet.ask_words(self.tablet.words(message("person-look-up-what")), self._sought, taken)
