"""Keys for digits in two rows, a row for each hand, as everywhere: for a PIN here."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, Look
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

MOST = 12


class PinSheet(ColumnBox):
    """Asks for a PIN: a dot for each digit. A PIN lives in here only, and is forgotten once it is given.

    question: whose; words: of the keys to go back and to give it; given: called with the PIN, and with what is to be
    told: None closes the sheet, words are shown and the digits begin anew; beside: what else is given with it, such as
    a finger's signature, beside the question (upright: under it); places: of how many digits the places are shown
    before they are typed.
    """

    def __init__(
        self,
        look: Look,
        question: str,
        words: tuple[str, str],
        given: Callable[[str, Callable[[str | None], None]], None],
        close: Callable[[], None],
        *,
        upright: bool,
        beside: Widget | None = None,
        places: int = 0,
    ) -> None:
        super().__init__(look, gap=12, padding=look.dots(MARGIN))
        lay_ground(look, self, "ground")
        self._given, self._close, self._typed, self._places = given, close, "", places
        self._told = TextLabel(look, "", "near", role="fail", bold=True, lines=2)
        self._dots = TextLabel(look, "", "value", lines=1)
        asked = TextLabel(look, question, "far" if beside is None else "key")
        if beside is None:
            for one in (asked, self._told, self._dots, Widget()):
                self.add_widget(one)
        elif upright:
            for one in (asked, beside, self._told, self._dots):
                self.add_widget(one)
        else:
            self.add_widget(RowBox(look, ColumnBox(look, asked, self._told, Widget(), self._dots), beside, gap=24))
        keys = [Key(look, digit, partial(self._press, digit)) for digit in "1234567890"]
        rub_out = Key(look, "", self._rub_out, sign="rub-out", named="rub out")
        back, give = words
        self._give = Key(look, give, self._done, kind="action")
        if upright:
            self.add_widget(Cells(look, keys, 5, high=128))
            self.add_widget(RowBox(look, Key(look, back, close, size="near"), rub_out, high=112))
            self.add_widget(RowBox(look, self._give, high=120))
        else:
            pads = [*keys[:5], rub_out, *keys[5:], Key(look, back, close, size="near")]
            self.add_widget(RowBox(look, Cells(look, pads, 6, high=136), self._give, high=280))
            self._give.size_hint_x = 0.35
            self._give.size_hint_y = 1
        self._show()

    def _press(self, digit: str) -> None:
        if len(self._typed) < MOST:
            self._typed += digit
        self._show()

    def _rub_out(self) -> None:
        self._typed = self._typed[:-1]
        self._show()

    def _done(self) -> None:
        pin, self._typed = self._typed, ""
        self._show()
        if pin:
            self._given(pin, self._tell)

    def _tell(self, told: str | None) -> None:
        if told is None:
            self._close()
        else:
            self._told.words = told

    def _show(self) -> None:
        self._dots.words = ("●" * len(self._typed)).ljust(self._places, "○") or "–"
