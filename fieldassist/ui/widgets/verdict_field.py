"""A field that shows one verdict: what was read, what it must come to, and whether that holds; pressed to type it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import GAP, Look
from fieldassist.ui.widgets.text import LEAST_FIT, TextLabel, width_of

VerdictState = Literal["passed", "failed", "cannot tell", ""]
# How high a line of letters is, in shares of their size, with a hair for rounding.
_TALL = 1.3
# The least and the most of the width that a value has at the right of title and note: as much as it needs.
_LEAST_BESIDE, _MOST_BESIDE = 0.46, 0.6
# How much smaller than usual the lines of a field may be, before one of them gives way.
_STACKED = 0.78
# The value's share of the width, where a note stands beside it.
_BESIDE_NOTE = 0.62
# In a field that is narrower than so many letters of the value are high there is no such room.
_NARROW = 3.0
_SIGNS: dict[str, SignName] = {"passed": "pass", "failed": "fail", "cannot tell": "question"}
_PAINTED: dict[str, ColourName] = {"passed": "pass_", "failed": "on_fail", "cannot tell": "ink"}


class Plate(Drawn):
    """A plate with a cross, or a tick beside nothing: whether something holds, at two metres."""

    def __init__(self, look: Look, judged: VerdictState, side: float, **rest: Any) -> None:
        self._judged, self._side = judged, side
        super().__init__(look, size_hint=(None, None), size=(look.dots(side), look.dots(side)), **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look, (x, y, w, _) = self.look, box
        sign = _SIGNS.get(self._judged)
        failed = self._judged == "failed"
        if failed:
            marks.field(look, box, "fail_plate")
        if sign is not None:
            inner = w * (0.6 if failed else 0.9)
            marks.sign(look, sign, x + (w - inner) / 2, y + (w - inner) / 2, inner, _PAINTED[self._judged])


class VerdictField(Key):
    """title over value, with a note; a tick, a cross on a filled plate, a question mark where it cannot be told, or
    none of them while it is not judged.

    The value is read at two metres, unless it stands beside: at the right of title and note; or upright: under the
    title, where the field is narrow.
    """

    def __init__(
        self,
        look: Look,
        title: str,
        press: Callable[[], object],
        *,
        beside: bool = False,
        upright: bool = False,
        **rest: Any,
    ) -> None:
        self._beside, self._upright, self._judged = beside, upright, ""
        value: SizeName = "near" if upright else "key" if beside else "far"
        self._titled = title
        self._title = TextLabel(look, title, "near", bold=True, fit=True, valign="middle")
        self._note = TextLabel(look, "", "small", role="quiet", fit=True)
        self._value = TextLabel(look, "", value, bold=True, fit=True, align="right" if beside else "left")
        super().__init__(look, "", press, kind="sheet", named=title, high=None, **rest)
        for one in (self._title, self._note, self._value):
            self.add_widget(one)
        self._lay()

    def show(self, value: str, note: str, judged: VerdictState) -> None:
        """Show another reading."""
        failed = judged == "failed"
        if (value, note, judged) == (self._value.words, self._note.words, self._judged):
            return
        self._judged, self.kind = judged, "fail" if failed else "sheet"
        self._value.words, self._note.words = value, note
        for one, role in ((self._title, "ink"), (self._note, "quiet"), (self._value, "ink")):
            shown: ColourName = "on_fail" if failed else role  # type: ignore[assignment]
            one.paint_in(shown)
        self._lay()

    @property
    def raised(self) -> bool:
        """It is a field of the page, not a key that stands out."""
        return False

    @property
    def cut(self) -> bool:
        """Whether its words do not go in."""
        return any(one.cut for one in (self._title, self._note, self._value) if one.words)

    def draw_face(self, box: marks.PixelBox) -> None:
        """The sign, and where the words go."""
        look = self.look
        x, y, w, h = box
        pad, sign = look.dots(2 * GAP), _SIGNS.get(self._judged)
        role = _PAINTED.get(self._judged, "ink")
        one_line = look.font("near") * _TALL
        if self._upright:
            left, wide = x + pad * 0.7, w - pad * 1.4
            one_line = min(one_line, h * 0.34)
            self._place(self._title, left, y + h - pad * 0.4 - one_line, wide, one_line)
            low, high = y + pad * 0.4, h - pad * 0.8 - one_line
            side = min(look.dots(30), high) if sign is not None else 0.0
            if sign is not None:
                marks.sign(look, sign, left, low + (high - side) / 2, side, role)
            room = side + look.dots(GAP) if side else 0.0
            note = min(high * 0.5, look.font("small") * _TALL) if self._note.words else 0.0
            note = note if self._value.words or not note else high
            self._place(self._value, left + room, low + note, wide - room, high - note)
            self._place(self._note, left + room, low, wide - room, note)
            return
        side = look.dots(46)
        if sign is not None:
            marks.sign(look, sign, x + pad, y + (h - side) / 2, side, role)
        left, wide = x + side + 2.5 * pad, w - side - 3.2 * pad
        if self._beside:
            value = width_of(self._value.words, look.font("key"), bold=True) * LEAST_FIT
            words = wide - min(max(wide * _LEAST_BESIDE, value + look.dots(4)), wide * _MOST_BESIDE)
            half, tall = (h - pad) / 2, min(look.font("key") * _TALL, h - pad)
            self._place(self._title, left, y + pad / 2 + half, words, half)
            self._place(self._note, left, y + pad / 2, words, half)
            # In one line: a figure is never parted from its unit.
            self._place(self._value, left + words, y + (h - tall) / 2, wide - words, tall)
            return
        self._draw_far(left, wide, (y + look.dots(2), y + h - pad * 0.4), one_line)

    def _draw_far(self, left: float, wide: float, ends: tuple[float, float], one_line: float) -> None:
        """Title over value, with its note under the title, beside the title, beside the value, or in the title's place,
        wherever there is room for it in one line. ends: bottom and top [pixels]."""
        look, (low, top) = self.look, ends
        far, small = look.font("far"), look.font("small") * _TALL
        both = bool(self._value.words and self._note.words)
        title = width_of(self._titled, look.font("near"), bold=True)
        note = width_of(self._note.words, look.font("small"), bold=self._note.bold)
        aside = title + note + look.dots(GAP) <= wide
        shrunk = min(1.0, (top - low) / (one_line + small + far * _TALL))
        under = both and not aside and shrunk >= _STACKED
        instead = both and not aside and not under and wide < _NARROW * far
        self._title.words = "" if instead else self._titled
        if under:
            one_line, small = one_line * shrunk, small * shrunk
        tall = min(far * _TALL, top - low - one_line - (small if under else 0))
        first = top - one_line
        self._place(self._value, left, low, wide, tall)
        self._place(self._title, left, first, wide, one_line)
        if not both:
            self._place(self._note, left, low, wide, tall)
        elif aside:
            self._place(self._title, left, first, wide - note - 1, one_line)
            self._place(self._note, left + wide - note - 1, first, note + 1, one_line)
        elif under:
            self._place(self._note, left, first - small, wide, small)
        elif instead:
            self._place(self._note, left, first, wide, one_line)
        else:
            value = wide * _BESIDE_NOTE
            self._place(self._value, left, low, value, tall)
            self._place(self._note, left + value, low, wide - value, tall)

    def _place(self, one: TextLabel, x: float, y: float, w: float, h: float) -> None:
        one.pos, one.size = (x, y), (max(1.0, w), max(1.0, h))
