"""Words that are typed: a line to type in, and letters on the screen, each as large as a glove needs."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, TARGET, Look
from fieldassist.ui.widgets.text import TYPEFACE, TextLabel

from kivy.graphics import Line  # isort: skip
from kivy.uix.textinput import TextInput  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# Ten keys a row have the width of a glove only where the tablet lies on its long side; there they stand as on a
# keyboard of ISO/IEC 9995. Upright there are seven a row, and letters in the order of the alphabet.
WIDE = ("1234567890", "qwertyuiop", "asdfghjkl'", "zxcvbnm,.-")
UPRIGHT = ("abcdefg", "hijklmn", "opqrstu", "vwxyz'-", "1234567", "890,.?!")


class EntryField(TextInput):
    """A line (or some) to type in. typing: told of the field when it gets the keys, of None when it gives them back."""

    def __init__(
        self, look: Look, typing: Callable[[EntryField | None], None], text: str = "", *, lines: int = 1, **rest: Any
    ) -> None:
        super().__init__(
            text=text,
            multiline=lines > 1,
            font_name=TYPEFACE,
            font_size=look.font("key"),
            foreground_color=look.ink("ink"),
            background_color=look.ink("key"),
            background_normal="",
            background_active="",
            cursor_color=look.ink("ink"),
            write_tab=False,
            size_hint_y=None,
            height=max(look.dots(TARGET), lines * look.font("key") * 1.4 + look.dots(24)),
            padding=(look.dots(16), look.dots(20)),
            **rest,
        )
        self.unfocus_on_touch = False  # the letters on the screen are touched while it has the keys
        self.bind(focus=lambda _w, focused: typing(self if focused else None))
        with self.canvas.after:
            marks.colour(look, "edge")
            edge = Line(rectangle=(*self.pos, *self.size), width=look.dots(1.5))
        follow = lambda *_: setattr(edge, "rectangle", (*self.pos, *self.size))  # noqa: E731
        self.bind(pos=follow, size=follow)


class WordsSheet(ColumnBox):
    """Asks for words: the question, the line with what is typed, letters to press, and the keys to go back and to take
    them. words: of the keys "back", "take it", "space" and "capital"; taken: called with what was typed, stripped."""

    def __init__(
        self,
        look: Look,
        question: str,
        text: str,
        words: tuple[str, str, str, str],
        taken: Callable[[str], None],
        close: Callable[[], None],
        typing: Callable[[EntryField | None], None],
        *,
        upright: bool,
        letters: bool = True,
    ) -> None:
        super().__init__(look, gap=8, padding=look.dots(MARGIN / 2))
        lay_ground(look, self, "ground")
        self._capital, self._taken = not text, taken
        self.field = EntryField(look, typing, text)
        self.field.bind(on_text_validate=lambda *_: self._done())
        asked = TextLabel(look, question, "near", bold=True, fit=not upright)
        if upright:
            self.add_widget(asked)
            self.add_widget(self.field)
        else:
            asked.size_hint_x = 0.4
            self.add_widget(RowBox(look, asked, self.field, gap=16, high=TARGET))
        back, take, space, capital = words
        if letters:
            for row in UPRIGHT if upright else WIDE:
                keys = [Key(look, key, partial(self._press, key), high=None) for key in row]
                self.add_widget(RowBox(look, *keys, gap=6, high=TARGET))
            last = (
                Key(look, back, close, size="near", high=None),
                Key(look, capital, self._shift, size="near", high=None),
                Key(look, space, partial(self._type, " "), size="near", high=None),
                Key(look, "", self.field.do_backspace, sign="rub-out", named="rub out", high=None),
                Key(look, take, self._done, kind="action", size="near", high=None),
            )
            self.add_widget(RowBox(look, *last, gap=6, high=TARGET))
        else:
            self.add_widget(Widget())
            keys = [Key(look, back, close, high=None), Key(look, take, self._done, kind="action", high=None)]
            self.add_widget(RowBox(look, *keys, high=TARGET))
        self.add_widget(Widget())

    def _done(self) -> None:
        self._taken(self.field.text.strip())

    def _shift(self) -> None:
        """The next letter is a capital."""
        self._capital = True

    def _press(self, key: str) -> None:
        self._type(key.upper() if self._capital else key)
        self._capital = False

    def _type(self, text: str) -> None:
        self.field.insert_text(text)
