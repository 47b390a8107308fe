"""What else may be done now: each thing that may be said, on a key; a number where it takes one."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from typing import get_args

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import PRESSED, TYPED, Source
from fieldassist.checklist.offers import VALUE, Offer
from fieldassist.trade.message import term
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.content.further import groups
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.keypad import NumberEntry
from fieldassist.ui.widgets.parts import Choices, EntryField, Scroll, Target, TextLabel, Upright, blank, gap


@dataclass
class MoreMemory:
    """What was pressed and still lacks its number: its phrases, and what was typed so far in which unit.

    accepting: tiles that are to be accepted and still lack the foreman's words, and those typed so far.
    """

    chosen: tuple[str, ...] = ()
    typed: TypedEntry = field(default_factory=TypedEntry)
    unit: str = ""
    accepting: cmd.AcceptTiles | None = None
    words: str = ""


class More(Screen):
    """Everything that may be said besides the answer to the question."""

    def refresh(self) -> None:
        """Show what has changed."""
        view, kept = self.tablet.view, self._kept
        found = groups(view.prompt) if view is not None else ()
        chosen = next((o for group in found for o in group.offers if kept.chosen and o.phrases == kept.chosen), None)
        shown = tuple((g.title, tuple((o.phrases, o.label, o.command) for o in g.offers)) for g in found)
        if not self.changed("what", (shown, chosen is not None and kept.chosen, kept.accepting, self.tablet.words)):
            return
        self.clear_widgets()
        if kept.accepting is not None:
            self._ask_words(kept.accepting)
            return
        if chosen is not None:
            self._ask_number(chosen)
            return
        look, words = self.look, self.tablet.words
        column = Upright(spacing=2 * gap())
        column.add_widget(Target(look, "Back to the step", self._back, role="first", size="plain"))
        if not found:
            column.add_widget(TextLabel(look, "Nothing else can be done now. Answer the step first.", "large"))
        for group in found:
            column.add_widget(TextLabel(look, group.title, "large"))
            targets = [
                Target(look, f"{words(o.label)}\n{_said(o)}", partial(self._press, o), size="plain")
                for o in group.offers
            ]
            column.add_widget(Choices(targets, 2 if self.tablet.upright else 3))
        self.add_widget(Scroll(column))
        self.add_widget(blank(1))

    @property
    def _kept(self) -> MoreMemory:
        return self.tablet.memory.of(MoreMemory)

    def _back(self) -> None:
        self._forget()
        self.tablet.go("area")

    def _forget(self) -> None:
        self.tablet.memory.forget(MoreMemory)

    def _press(self, offer: Offer) -> None:
        if offer.slot is None:
            self._give(offer.command)
            return
        self._kept.chosen = offer.phrases
        self.refresh()

    def _give(self, command: cmd.Command, source: Source = PRESSED) -> None:
        """Send a command; one that takes the foreman's words waits for them."""
        kept = self._kept
        if isinstance(command, cmd.AcceptTiles) and kept.accepting is None:
            kept.chosen, kept.accepting = (), command
            self.refresh()
            return
        self.tablet.send(command, source)
        self._back()

    def _ask_words(self, command: cmd.AcceptTiles) -> None:
        """In which words a tile is accepted: one of a few ready sentences, or typed."""
        look, words, kept = self.look, self.tablet.words, self._kept
        column = Upright(spacing=2 * gap())
        column.add_widget(TextLabel(look, "Accepted, since", "large"))
        ready = [
            Target(
                look,
                words(term("engine-accepted", each)),
                partial(self._give, command.model_copy(update={"ready": each})),
                size="plain",
            )
            for each in get_args(cmd.AcceptReady)
        ]
        column.add_widget(Choices(ready, 1 if self.tablet.upright else 3))
        typed = EntryField(look, self.tablet.takes_keys, kept.words, hint="or in your own words", lines=2)
        typed.bind(text=lambda _w, text: setattr(kept, "words", text))
        column.add_widget(typed)

        def keep() -> None:
            if typed.text.strip():
                self._give(command.model_copy(update={"words": typed.text.strip()[:2000]}), TYPED)

        column.add_widget(Target(look, "Accept in these words", keep, role="first"))
        column.add_widget(Target(look, "Do not accept", self._back))
        self.add_widget(Scroll(column))

    def _ask_number(self, offer: Offer) -> None:
        kept, slot = self._kept, offer.slot
        assert slot is not None  # only those are kept

        def changed(typed: TypedEntry, unit: str) -> None:
            kept.typed, kept.unit = typed, unit

        def take(value: Fraction, unit: str) -> None:
            self._give(offer.fill(value, unit))

        def leave() -> None:
            self._forget()
            self.refresh()

        units = list(slot.units)
        self.add_widget(
            NumberEntry(
                self.look,
                self.tablet.words(offer.label),
                units,
                take,
                leave,
                unit=kept.unit if kept.unit in units else units[0],
                upright=self.tablet.upright,
                hint=_said(offer),
                typed=kept.typed,
                changed=changed,
            )
        )


def _said(offer: Offer) -> str:
    return f"“{offer.phrases[0].replace(VALUE, '…')}”"
