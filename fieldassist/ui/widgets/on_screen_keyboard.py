"""Letters to type with on the screen, each as large as a glove needs."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldassist.ui.content.theme import ColourRole
from fieldassist.ui.widgets.parts import Abreast, Choices, EntryField, Look, Target, TextLabel, gap, paint

from kivy.uix.boxlayout import BoxLayout  # isort: skip

# Ten keys a row have the width of a glove only where the tablet lies on its long side; there they stand as on a
# keyboard of ISO/IEC 9995. Upright there are seven a row, and letters in the order of the alphabet.
WIDE = ("1234567890", "qwertyuiop", "asdfghjkl'", "zxcvbnm,.-")
UPRIGHT = ("abcdefg", "hijklmn", "opqrstu", "vwxyz'-", "1234567", "890,.?!")
_SHOWN = 60


class OnScreenKeyboard(BoxLayout):
    """Covers the screen with the keys for a field, under what was typed so far. done: nothing more is typed."""

    def __init__(self, look: Look, field: EntryField, done: Callable[[], None], *, upright: bool, **rest: Any) -> None:
        super().__init__(orientation="vertical", padding=gap(), spacing=gap(), **rest)
        paint(self, look.theme.ground.ground)
        self._field, self._capital = field, False
        self._typed = TextLabel(look, "", "large")
        above = BoxLayout(padding=gap())
        paint(above, look.theme.panel.ground, look.theme.line)
        above.add_widget(self._typed)
        self._typed.fill(2)
        self.add_widget(above)
        for row in UPRIGHT if upright else WIDE:
            keys = [Target(look, key, partial(self._press, key), size="large") for key in row]
            self.add_widget(Choices(keys, len(row)))
        last = Abreast()
        first: dict[str, ColourRole] = {"Done": "first"}
        for text, press, wide in (
            ("ABC", self._shift, 1.0),
            ("space", partial(self._type, " "), 2.0),
            ("←", field.do_backspace, 1.0),
            ("Done", done, 1.0),
        ):
            role = first.get(text, "button")
            last.add_widget(Target(look, text, press, size="plain", role=role, size_hint_x=wide))
        self.add_widget(last)
        field.bind(text=self._show)
        self._show(field, field.text)

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy calls it: what lies under the keys is not pressed."""
        inside: bool = self.collide_point(*touch.pos)
        return super().on_touch_down(touch) or inside

    def _show(self, _field: EntryField, text: str) -> None:
        # What is typed now is at the end, so the end is what is shown.
        self._typed.text = f"{'…' if len(text) > _SHOWN else ''}{text[-_SHOWN:]}|"

    def _shift(self) -> None:
        """The next letter is a capital."""
        self._capital = True

    def _press(self, key: str) -> None:
        self._type(key.upper() if self._capital else key)
        self._capital = False

    def _type(self, text: str) -> None:
        self._field.insert_text(text)
