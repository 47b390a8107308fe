"""Hardware keys: over everything that can be pressed in the order of reading, and what a key of a keyboard presses.

Tab and Shift Tab go on and back, arrows go their way, Enter presses, Escape goes back or closes what lies on the page.
A digit or a point presses the key that says it, and Backspace the one that rubs out: so a pad is typed on.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.focus import KeyBox, Move, moved
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.sheets import Overlay

from kivy.core.window import Keyboard  # isort: skip
from kivy.uix.scrollview import ScrollView  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

_CODES = Keyboard.keycodes
_MOVES: dict[int, Move] = {
    _CODES["up"]: "up",
    _CODES["down"]: "down",
    _CODES["left"]: "left",
    _CODES["right"]: "right",
}
_DOWN_S = 0.06  # how long a key that is pressed so stays down


class FocusKeys:
    """The focus on what lies in a frame. back: called by Escape; left_hand: whether the screen is mirrored."""

    def __init__(self, frame: Widget, back: Callable[[], None], left_hand: Callable[[], bool]) -> None:
        self._frame, self._back, self._left_hand = frame, back, left_hand
        self._at: Key | None = None
        self._named = ""

    def pressed(self, code: int, text: str | None, modifiers: Sequence[str]) -> bool:
        """Take a key of the keyboard; False where it is none of these."""
        if code == _CODES["escape"]:
            self._back()
            return True
        if code == _CODES["tab"]:
            return self._go("back" if "shift" in modifiers else "on")
        if code in _MOVES:
            return self._go(_MOVES[code])
        if code in (_CODES["enter"], _CODES["numpadenter"]):
            here = self._here(self._keys())
            if here is not None:
                here.trigger_action(_DOWN_S)
            return here is not None
        return self._typed(code, text)

    def _typed(self, code: int, text: str | None) -> bool:
        rubs_out = code == _CODES["backspace"]
        for key in self._keys():
            if (rubs_out and key.sign == "rub-out") or (text and text in "0123456789." and key.text == text):
                key.trigger_action(_DOWN_S)
                return True
        return False

    def _go(self, move: Move) -> bool:
        keys = self._keys()
        here = self._here(keys)
        at = moved(
            [_box(key) for key in keys],
            keys.index(here) if here is not None else None,
            move,
            left_hand=self._left_hand(),
        )
        if self._at is not None:
            self._at.focused = False
        self._at = keys[at] if at is not None else None
        if self._at is not None:
            self._at.focused, self._named = True, self._at.named
            _into_sight(self._at)
        return at is not None

    def _here(self, keys: Sequence[Key]) -> Key | None:
        """The key that has the focus; after a page was drawn anew the one that is called the same."""
        if self._at in keys:
            return self._at
        self._at = next((key for key in keys if self._named and key.named == self._named), None)
        return self._at

    def _keys(self) -> list[Key]:
        """What can be pressed: of the topmost thing that lies over the page, else of all."""
        over = next((layer for layer in self._frame.children if isinstance(layer, Overlay)), None)
        return [w for w in (over or self._frame).walk() if isinstance(w, Key) and w.width > 1 and w.opacity > 0]


def _box(key: Key) -> KeyBox:
    """Where a key lies while nothing is pulled: so its place in the order stays, whatever comes into sight."""
    x, y = key.to_window(*key.pos)
    parent = key.parent
    while parent is not None and parent.parent is not parent:
        if isinstance(parent, ScrollView) and parent.children:
            y -= max(0.0, parent.children[0].height - parent.height) * (1.0 - parent.scroll_y)
        parent = parent.parent
    return KeyBox(x, y, *key.size)


def _into_sight(key: Key) -> None:
    parent = key.parent
    while parent is not None and parent.parent is not parent:
        if isinstance(parent, ScrollView):
            parent.scroll_to(key, animate=False)
        parent = parent.parent
