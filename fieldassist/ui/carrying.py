"""A person's key goes to another tablet, as a file and six words on paper; and one is taken in."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from fieldassist.record.carried import read_carried, write_carried
from fieldassist.record.keys import KeyHolder
from fieldassist.trade.message import message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.choosing import choose_file, choose_folder
from fieldassist.ui.pins import TellPin, not_taken
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel

# What a carried key is called here; one that another program named may be any JSON.
CARRIED = (".key", ".json")


def carry(tablet: Tablet, name: str) -> None:
    """Choose where the file goes, ask for the PIN, write it, and show the six words once."""
    choose_folder(tablet, lambda folder: _lock_up(tablet, name, folder / f"{_plain(name)}.key"))


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "person"


def _lock_up(tablet: Tablet, name: str, out: Path) -> None:
    keys, now = tablet.keys, tablet.clock.now()

    def given(pin: str, tell: TellPin) -> None:
        def written(words: str) -> None:
            tell(None)
            _show_words(tablet, name, out, words)

        run_in_background(
            lambda: write_carried(out, keys.hand_on(name, pin, now)),
            written,
            lambda problem: tell(not_taken(tablet, name, problem)),
        )

    tablet.ask_pin(tablet.words(message("frame-whose-pin", name=name)), given)


def _show_words(tablet: Tablet, name: str, out: Path, drawn: str) -> None:
    """They are kept nowhere: whoever closes the sheet has written them down."""
    look, words = tablet.look, tablet.words
    labels = [
        TextLabel(look, f"{number}  {word}", "far", fit=True, least=0.6)
        for number, word in enumerate(drawn.split(), start=1)
    ]
    columns = 2 if tablet.upright else 3
    inside = ColumnBox(look, gap=22, rises=True)
    inside.add_widget(TextLabel(look, words(message("roster-six-words")), "key"))
    inside.add_widget(Cells(look, labels, columns, high=110))
    told = message("roster-carried", name=name, file=out.name, folder=out.parent.name or str(out.parent))
    inside.add_widget(TextLabel(look, words(told), "near"))
    tablet.sheet(reading_sheet(look, words(message("roster-written-down")), inside, tablet.close_sheet))


def take_in(tablet: Tablet, then: Callable[[], None]) -> None:
    """Choose the file, ask for the six words and then the PIN. then: called once the key is here."""
    keys = tablet.keys

    def opened(file: bytes) -> None:
        def given(pin: str, tell: TellPin) -> None:
            def taken(_holder: KeyHolder) -> None:
                tell(None)
                then()

            run_in_background(lambda: keys.take_over(file, pin), taken, lambda problem: tell(tablet.words.of(problem)))

        tablet.ask_pin(tablet.words(message("roster-their-pin")), given)

    def ask(path: Path, typed: str = "") -> None:
        def said(six: str) -> None:
            if not six:
                return

            def failed(problem: Exception) -> None:
                ask(path, six)
                tablet.refuse(tablet.words.of(problem))

            run_in_background(lambda: read_carried(path, six), opened, failed)

        tablet.ask_words(tablet.words(message("roster-type-words")), typed, said)

    choose_file(tablet, message("roster-which-key"), CARRIED, ask)
