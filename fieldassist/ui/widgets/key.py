"""Keys: the only things that are pressed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.look import CORNER, GAP, TARGET, Look
from fieldassist.ui.widgets.text import LEAST_FIT, TextLabel, width_of

from kivy.graphics import Line, SmoothRoundedRectangle  # isort: skip
from kivy.uix.behaviors import ButtonBehavior  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

KeyKind = Literal["plain", "action", "fail", "sheet"]

_LOWER = 8.0  # the lower edge [dots]
_DOWN = 6.0  # how far the face goes down under a finger
_FACE: dict[KeyKind, ColourName] = {"plain": "key", "action": "action", "fail": "fail_plate", "sheet": "sheet"}
_WORDS: dict[KeyKind, ColourName] = {"plain": "ink", "action": "on_action", "fail": "on_fail", "sheet": "ink"}
_EDGE: dict[KeyKind, ColourName] = {"plain": "edge", "action": "action", "fail": "fail", "sheet": "edge"}
_LOW: dict[KeyKind, ColourName] = {"plain": "edge", "action": "action_low", "fail": "ink", "sheet": "sheet"}


class Key(ButtonBehavior, Widget):
    """A key: a face with an edge and a lower edge, that goes down under a finger.

    words: what it says; press: called when the finger is lifted on it; kind: plain, action (the one that goes on), fail
    (keeps what does not hold) or sheet (flat: a field that can be pressed); sign, and whether it lies over the words;
    chosen: outline, folded corner and tick; off: not now: dashed, its press says why; caption: a quieter line under the
    words; size: of the words, None for what fits best; named: what it is called where it has no words, for reading
    aloud. It fills the box that it is given, TARGET dots high where nothing else is asked for (high: in dots).
    Subclasses draw more in `draw_face`.
    """

    def __init__(
        self,
        look: Look,
        words: str,
        press: Callable[[], object],
        *,
        kind: KeyKind = "plain",
        sign: SignName | None = None,
        over: bool = False,
        chosen: bool = False,
        off: bool = False,
        caption: str = "",
        size: SizeName = "key",
        named: str = "",
        high: float | None = TARGET,
        **rest: Any,
    ) -> None:
        if high is not None:
            rest.setdefault("size_hint_y", None)
            rest.setdefault("height", look.dots(high))
        super().__init__(**rest)
        self.look, self.kind, self.chosen, self.off = look, kind, chosen, off
        self.text, self.named = words, named or words
        self._press, self._over, self._focused = press, over, False
        self.sign = sign
        role: ColourName = "quiet" if off else _WORDS[kind]
        # Grown letters of a key give way before its words are cut.
        least = LEAST_FIT / look.text
        self.label = (
            TextLabel(look, words, size, bold=True, role=role, align="center", fit=True, least=least) if words else None
        )
        self.caption = (
            TextLabel(
                look, caption, "small", bold=False, role=role if kind != "plain" else "quiet", align="center", fit=True
            )
            if caption
            else None
        )
        for one in (self.label, self.caption):
            if one is not None:
                self.add_widget(one)
        self.bind(pos=self._lay, size=self._lay, state=self._lay)
        self._lay()

    # --- what others ask of it ------------------------------------------------------------------------------------

    @property
    def cut(self) -> bool:
        """Whether its words do not go in."""
        return any(one is not None and one.cut for one in (self.label, self.caption))

    @property
    def focused(self) -> bool:
        """Whether the keys of a keyboard press it: a second outline outside."""
        return self._focused

    @focused.setter
    def focused(self, focused: bool) -> None:
        self._focused = focused
        self._lay()

    def say(self, words: str) -> None:
        """Say other words."""
        self.text = self.named = words
        if self.label is not None:
            self.label.words = words

    @property
    def face(self) -> marks.PixelBox:
        """Where its face lies now [pixels]."""
        low = self.look.dots(_LOWER) if self.raised else 0.0
        down = self.look.dots(_DOWN) if self.state == "down" and self.raised else 0.0
        return self.x, self.y + low - down, self.width, self.height - low

    @property
    def raised(self) -> bool:
        """Whether it stands out of the page."""
        return self.kind != "sheet" and not self.off

    def draw_face(self, box: marks.PixelBox) -> None:
        """Draw more on the face; called inside `with canvas.before`, box in pixels."""

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Where on the face words and sign go [pixels]."""
        x, y, w, h = box
        pad = self.look.dots(GAP)
        return x + pad, y + pad, w - 2 * pad, h - 2 * pad

    # --- drawing --------------------------------------------------------------------------------------------------

    def _lay(self, *_: Any) -> None:
        look = self.look
        corner = look.dots(CORNER)
        x, y, w, h = box = self.face
        self.canvas.before.clear()
        with self.canvas.before:
            if self.off:
                marks.dashed(look, (self.x + 2, self.y + 2, w - 4, h - 4), "edge", thick=3)
            else:
                if self.raised and self.state != "down":
                    marks.colour(look, _LOW[self.kind])
                    SmoothRoundedRectangle(pos=self.pos, size=(w, h), radius=[corner])
                thick = look.dots(7 if self.chosen else 3)
                marks.colour(look, "ink" if self.chosen else _EDGE[self.kind])
                SmoothRoundedRectangle(pos=(x, y), size=(w, h), radius=[corner])
                marks.colour(look, _FACE[self.kind])
                SmoothRoundedRectangle(
                    pos=(x + thick, y + thick),
                    size=(max(0.0, w - 2 * thick), max(0.0, h - 2 * thick)),
                    radius=[max(1.0, corner - thick)],
                )
                if self.chosen:
                    marks.tick_corner(look, box)
            self.draw_face(box)
            if self._focused:
                marks.colour(look, "ink")
                out = look.dots(5)
                Line(
                    rounded_rectangle=(self.x - out, self.y - out, self.width + 2 * out, self.height + 2 * out, corner),
                    width=max(1.0, look.dots(2)),
                )
            self._lay_words(self.words_box(box))

    def _lay_words(self, box: marks.PixelBox) -> None:
        look = self.look
        x, y, w, h = box
        if self.sign is not None:
            role: ColourName = "quiet" if self.off else _WORDS[self.kind]
            if self.label is None:
                side = min(look.dots(48), w, h)
                marks.sign(look, self.sign, x + (w - side) / 2, y + (h - side) / 2, side, role)
            elif self._over:
                side = min(look.dots(46), h * 0.4)
                marks.sign(look, self.sign, x + (w - side) / 2, y + h - side, side, role)
                h -= side + look.dots(4)
            else:
                side = min(look.dots(48), h)
                # Beside the words and with them in the middle.
                wide = min(w - side - look.dots(12), self._asks_for())
                left = x + (w - side - look.dots(12) - wide) / 2
                marks.sign(look, self.sign, left, y + (h - side) / 2, side, role)
                x, w = left + side + look.dots(12), wide + 1
        if self.label is None:
            return
        if self.caption is not None:
            part = min(h * 0.42, look.font("small") * 1.3)
            self.caption.pos, self.caption.size = (x, y), (w, part)
            y, h = y + part, h - part
        self.label.pos, self.label.size = (x, y), (w, h)

    def _asks_for(self) -> float:
        label = self.label
        assert label is not None  # asked of a key with words
        whole = width_of(self.text, self.look.font(label.size_name), bold=True)
        if self.caption is not None:
            whole = max(whole, width_of(self.caption.words, self.look.font("small")))
        room = max(1.0, self.width * 0.72)
        return whole if whole <= room else max(whole / 2 * 1.15, label.widest_word()) + 2

    # --- being pressed --------------------------------------------------------------------------------------------

    def on_release(self) -> None:
        """Kivy calls it when the finger is lifted on the key."""
        self._press()
