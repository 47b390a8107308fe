"""Big keys for digits: a PIN that is not shown, or a number that is."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldassist.ui.widgets.parts import Choices, Look, Target, TextLabel, Upright

_BACK, _ALL = "←", "Clear"
_ROWS = ("7", "8", "9", _BACK, "4", "5", "6", _ALL, "1", "2", "3", "0")


class DigitKeys(Upright):
    """DigitKeys to press, and what was pressed above them: a dot for each where it is secret.

    Parameters: most, how many can be typed; changed, called with each change and what stands there then, which is
    "" where it is secret.
    """

    def __init__(
        self,
        look: Look,
        *,
        secret: bool,
        most: int = 12,
        typed: str = "",
        changed: Callable[[str], None] | None = None,
        **rest: Any,
    ) -> None:
        super().__init__(**rest)
        self._secret, self._most, self._changed = secret, most, changed
        self._typed = typed
        self._shown = TextLabel(look, "", "huge", halign="center")
        self.add_widget(self._shown)
        keys = [Target(look, key, partial(self._press, key), size="plain" if key == _ALL else "huge") for key in _ROWS]
        self.add_widget(Choices(keys, 4))
        self._show()

    def take(self) -> str:
        """What was typed; it is forgotten here with that."""
        typed = self._typed
        self.forget()
        return typed

    def forget(self) -> None:
        """Begin anew."""
        self._typed = ""
        self._show()

    def _press(self, key: str) -> None:
        if key == _BACK:
            self._typed = self._typed[:-1]
        elif key == _ALL:
            self._typed = ""
        elif len(self._typed) < self._most:
            self._typed += key
        self._show()
        if self._changed is not None:
            self._changed("" if self._secret else self._typed)

    def _show(self) -> None:
        self._shown.text = ("●" * len(self._typed) if self._secret else self._typed) or "–"
