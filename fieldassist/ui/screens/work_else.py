"""Something else: whatever may be said besides the answer to the question, on keys of the same kind."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from typing import get_args

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import PRESSED, TYPED, Source
from fieldassist.checklist.offers import VALUE, Offer
from fieldassist.trade.message import Figure, Message, message, term
from fieldassist.ui.content.at_work import page_at_work
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.further import groups
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.work_page import work_page
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel


class SomethingElse(Screen):
    """Everything that may be done now besides answering."""

    place = "work"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._accepting: cmd.AcceptTiles | None = None

    def title(self) -> tuple[str, str]:
        """Its name."""
        return self.tablet.words(message("work-else")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, view = self.tablet, self.tablet.view
        found = groups(view.prompt) if view is not None else ()
        page = work_page(view.state, view.prompt, view.at, tablet.units) if view is not None else None
        answers = page.others if page is not None else ()
        if view is not None and page is not None and page_at_work(view.state, view.prompt, view.events) != "work":
            # The step's own page is behind another one, and so are its keys.
            answers = (*page.answers, *answers)
        rest = tuple((answer.told, answer.offer) for answer in answers)
        shown = tuple((g.title, tuple((o.phrases, o.label, o.command) for o in g.offers)) for g in found)
        if not self.changed("what", (shown, rest, tablet.words)):
            return
        self.page.clear_widgets()
        column = ColumnBox(self.look, rises=True, gap=12)
        if rest:
            self._group(column, message("work-group-answers"), [self._offer_key(o, told) for told, o in rest])
        for group in found:
            self._group(column, group.title, [self._offer_key(offer) for offer in group.offers])
        self._group(column, message("work-group-words"), self._word_keys())
        if not found and not rest:
            self.page.add_widget(TextLabel(self.look, tablet.words(message("work-nothing-else")), "near"))
        self.page.add_widget(Scroll(self.look, column))
        self.act(Key(self.look, tablet.words(message("work-back-to-step")), partial(tablet.go, "work"), kind="action"))

    def _group(self, column: ColumnBox, title: Message, keys: list[Key]) -> None:
        look = self.look
        column.add_widget(TextLabel(look, self.tablet.words(title), "near", bold=True))
        large = look.text > 1.25
        wide = 3 - self.tablet.upright - large
        column.add_widget(Cells(look, keys, wide, gap=12, high=132 if large else 112))

    def _offer_key(self, offer: Offer, told: Figure | None = None) -> Key:
        words = capital(self.tablet.words(told if told is not None else offer.label))
        phrase = offer.phrases[0].replace(VALUE, "…") if offer.phrases else ""
        hears = self.tablet.listens and not self.tablet.deaf
        room = self.look.text <= 1.25 and max(len(words), len(phrase)) < 24
        caption = f"“{phrase}”" if hears and room and phrase and phrase != words.lower() else ""
        return Key(self.look, words, partial(self._press, offer), size="near", caption=caption, high=None)

    def _word_keys(self) -> list[Key]:
        """A note, typed or spoken, and the question said again."""
        tablet = self.tablet
        ask = self._key(
            "work-note", partial(tablet.ask_words, tablet.words(message("work-note-words")), "", self._note)
        )
        keys = [ask]
        if tablet.listens and not tablet.deaf:
            keys.append(self._key("work-note-spoken", self._speak))
        keys.append(self._key("work-repeat", partial(tablet.send, cmd.Ask(about="repeat"))))
        return keys

    def _key(self, code: str, press: Callable[[], object]) -> Key:
        return Key(self.look, self.tablet.words(message(code)), press, size="near", high=None)

    def _note(self, words: str) -> None:
        if words.strip():
            self.tablet.send(cmd.MakeNote(text=words.strip()[:2000]), TYPED)
            self.tablet.go("work")

    def _speak(self) -> None:
        self.tablet.dictate()
        self.tablet.go("work")

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _press(self, offer: Offer) -> None:
        slot = offer.slot
        if slot is None:
            self._give(offer.command)
        elif slot.dimension in ("words", "name"):
            label = capital(self.tablet.words(offer.label))
            self.tablet.ask_words(label, "", partial(self._worded, offer))
        else:
            question = NumberQuestion(
                offer.label, slot.units, slot.low, slot.high, whole=slot.whole or slot.units == ("count",)
            )
            self.tablet.ask_number(question, partial(self._numbered, offer))

    def _worded(self, offer: Offer, words: str) -> None:
        if words.strip():
            self._give(offer.fill(Fraction(0), "count", words.strip()[:500]), TYPED)

    def _numbered(self, offer: Offer, value: Fraction, unit: str) -> None:
        self._give(offer.fill(value, unit))

    def _give(self, command: cmd.Command, source: Source = PRESSED) -> None:
        """Send a command; one that lets tiles stay waits for the foreman's words."""
        if isinstance(command, cmd.AcceptTiles) and not command.words and self._accepting is None:
            self._ask_why(command)
            return
        self._accepting = None
        self.tablet.send(command, source)
        self.tablet.go("work")

    def _ask_why(self, command: cmd.AcceptTiles) -> None:
        """In which words a tile is accepted: one of a few ready sentences, or typed."""
        look, tablet = self.look, self.tablet
        keys = [
            Key(
                look,
                capital(tablet.words(term("engine-accepted", ready))),
                partial(self._accept, command.model_copy(update={"ready": ready})),
            )
            for ready in get_args(cmd.AcceptReady)
        ]
        title = tablet.words(message("work-accepted-since"))
        typed = partial(tablet.ask_words, title, "", partial(self._accept_in_words, command))
        keys.append(Key(look, tablet.words(message("work-other-words")), typed, sign="note"))
        show_keys(tablet, keys, title=title)

    def _accept(self, command: cmd.AcceptTiles, source: Source = PRESSED) -> None:
        self._accepting = command
        self._give(command, source)

    def _accept_in_words(self, command: cmd.AcceptTiles, words: str) -> None:
        if words.strip():
            self._accept(command.model_copy(update={"words": words.strip()[:2000]}), TYPED)
