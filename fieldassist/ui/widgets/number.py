"""The one pad: digits in two rows, one for each hand, or a ruler of an inch; what is allowed lies on the same scale."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial

from fieldassist.language import Words
from fieldassist.trade.message import Figure, message
from fieldassist.trade.quantities import unit_info
from fieldassist.ui.content.entry import (
    BACK,
    BELOW_ZERO,
    POINT,
    LastValue,
    NumberQuestion,
    NumberTyped,
    Scale,
)
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Drawn, RowBox, lay_ground
from fieldassist.ui.widgets.key import Key, KeyKind
from fieldassist.ui.widgets.look import MARGIN, TARGET, Look
from fieldassist.ui.widgets.text import LEAST_FIT, Align, TextLabel, fits, width_of

from kivy.uix.widget import Widget  # isort: skip

_MARKER = 32.0  # how high the marker stands over the scale [dots]
_BAR_HIGH, _RULER_HIGH = 42.0, 190.0
# From this size of text on keys with words are wider.
_LARGE = 1.25
_ALLOWED_HIGH = 44.0  # the part of the ruler that tells what is allowed


class ValueShown(Drawn):
    """The figures in the largest letters, with a tick or a cross beside them."""

    def __init__(self, look: Look) -> None:
        self._text = TextLabel(look, "", "value", fit=True)
        self._verdict: str | None = None
        super().__init__(look)
        self.add_widget(self._text)

    def show(self, told: str, verdict: str | None) -> None:
        """Show these figures; verdict: "passed", "under", "over" or None."""
        self._text.words, self._verdict = told or "–", verdict
        self._text.paint_in("fail" if verdict in ("under", "over") else "ink")
        self.again()

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look = self.look
        x, y, w, h = box
        side = look.dots(60) if self._verdict is not None else 0.0
        room = max(1.0, w - side * 1.7)
        self._text.pos, self._text.size = (x, y), (room, h)
        if self._verdict is None:
            return
        wide = min(room, width_of(self._text.words, self._text.font_size, bold=True))
        passed = self._verdict == "passed"
        at = x + wide + side * 0.6
        marks.sign(look, "pass" if passed else "fail", at, y + (h - side) / 2, side, "pass_" if passed else "fail")


def draw_scale(look: Look, box: marks.PixelBox, scale: Scale) -> None:
    """What is allowed in the colour of what holds, the rest hatched, with a stroke at each end."""
    x, y, w, h = box
    low, high = (float(scale.share(end)) for end in scale.allowed)
    marks.field(look, box, "key")
    for start, end in ((0.0, low), (high, 1.0)):
        if end > start:
            marks.hatch(look, (x + w * start, y, w * (end - start), h), "fail", apart=16, thick=4)
    if high > low:
        marks.field(look, (x + w * low, y, w * (high - low), h), "pass_")
    for mark in scale.marks:
        at = x + w * float(scale.share(mark))
        marks.field(look, (at - look.dots(3), y - look.dots(8), look.dots(6), h + look.dots(16)), "ink")


def draw_marker(look: Look, at: float, low: float, high: float) -> None:
    """A marker's line from `low` to `high`, with its head over it [pixels]."""
    half, head = look.dots(28), look.dots(_MARKER)
    marks.field(look, (at - look.dots(4), low, look.dots(8), high - low), "ink")
    marks.polygon(
        look, (at - half, high + head, at + half, high + head, at + half, high + head * 0.45, at, high), "ink"
    )
    marks.polygon(look, (at - half, high + head, at, high, at - half, high + head * 0.45), "ink")


class Bar(Drawn):
    """The allowed part as a bar, with the figures at its ends and a marker where the value stands."""

    def __init__(self, look: Look, number: NumberTyped) -> None:
        self._number = number
        super().__init__(look, size_hint_y=None)
        self._labels = (
            TextLabel(look, "", "small", bold=True, align="center", fit=True),
            TextLabel(look, "", "small", bold=True, align="center", fit=True),
        )
        for label in self._labels:
            self.add_widget(label)
        self.height = look.dots(_MARKER + _BAR_HIGH) + look.font("small") * 1.3

    def show(self, number: NumberTyped) -> None:
        """Show another number."""
        self._number = number
        self.again()

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look, scale = self.look, self._number.scale
        x, y, w, _ = box
        label = look.font("small") * 1.25
        bar = (x, y + label, w, look.dots(_BAR_HIGH))
        draw_scale(look, bar, scale)
        marks.frame(look, bar, "ink", 3)
        for text in self._labels:
            text.words, text.size = "", (1, 1)
        for text, mark in zip(self._labels, scale.marks, strict=False):
            text.words = f"{float(mark):g}"
            wide = look.dots(120)
            middle = x + w * float(scale.share(mark))
            text.pos, text.size = (min(max(x, middle - wide / 2), x + w - wide), y), (wide, label)
        if scale.at is not None:
            draw_marker(look, x + w * float(scale.at), bar[1], bar[1] + bar[3])


class Ruler(Key):
    """One inch, many times its size: a press snaps to the nearest sixteenth."""

    def __init__(self, look: Look, number: NumberTyped, snap: Callable[[float], None], named: str) -> None:
        self._number, self._snap = number, snap
        self._figures = [TextLabel(look, "", "near", bold=True, align="center", fit=True) for _ in range(9)]
        super().__init__(look, "", lambda: None, kind="sheet", named=named, high=_RULER_HIGH + _MARKER)
        for text in self._figures:
            self.add_widget(text)

    def show(self, number: NumberTyped) -> None:
        """Show another number."""
        self._number = number
        self._lay()

    @property
    def face(self) -> marks.PixelBox:
        """Where the ruler lies: under its marker."""
        return self.x, self.y, self.width, self.height - self.look.dots(_MARKER)

    def on_release(self) -> None:
        """Kivy calls it when the finger is lifted: where it was is what is meant."""
        self._snap((self.last_touch.x - self.x) / max(1.0, self.width))

    def draw_face(self, box: marks.PixelBox) -> None:
        """Draw sixteenths, what is allowed and the marker."""
        look, scale = self.look, self._number.scale
        x, y, w, h = box
        marks.field(look, box, "key")
        allowed = look.dots(_ALLOWED_HIGH)
        draw_scale(look, (x, y, w, allowed), scale)
        for k in range(17):
            at = x + w * k / 16
            deep = {16: 84, 8: 84, 4: 66, 2: 48, 1: 34}[next(d for d in (16, 8, 4, 2, 1) if k % d == 0)]
            if 0 < k < 16:
                marks.field(look, (at - look.dots(2), y + h - look.dots(deep), look.dots(4), look.dots(deep)), "ink")
        marks.frame(look, box, "ink", 4)
        high = look.font("near") * 1.25
        for eighth, text in enumerate(self._figures):
            text.words = _mark_told(int(scale.start), eighth)
            wide = w / 9 if 0 < eighth < 8 else w / 10
            middle = x + w * eighth / 8
            left = {0: x - wide / 4, 8: x + w - wide - look.dots(4)}.get(eighth, middle - wide / 2)
            text.pos, text.size = (left, y + allowed + look.dots(6)), (wide, high)
        if scale.at is not None:
            draw_marker(look, x + w * float(scale.at), y + look.dots(6), y + h)


def _mark_told(inch: int, eighth: int) -> str:
    """What stands under an eighth of the ruler.

    >>> _mark_told(0, 0), _mark_told(0, 4), _mark_told(2, 8), _mark_told(2, 3)
    ('0', '1/2', '3 in', '3/8')
    """
    if eighth in (0, 8):
        whole = inch + eighth // 8
        return f"{whole} in" if eighth else str(whole)
    return str(Fraction(eighth, 8))


class NumberPad(ColumnBox):
    """Asks for one number.

    asked: the question; typed: what was entered already; changed: told of each change, so that it can be kept; keep:
    called with value, unit and whether it fails once the big key is pressed; refuse: called with why it cannot be kept
    yet; besides: more keys for the row of the big one, such as the way back.
    """

    def __init__(
        self,
        look: Look,
        words: Words,
        asked: NumberQuestion,
        keep: Callable[[Fraction, str, bool], None],
        refuse: Callable[[str], None],
        *,
        typed: NumberTyped | None = None,
        changed: Callable[[NumberTyped], None] = lambda _typed: None,
        besides: tuple[Key, ...] = (),
        upright: bool = False,
    ) -> None:
        super().__init__(look, gap=8)
        self.look, self._words, self._as_typed = look, words, words.in_units("as given")
        self._keep, self._refuse, self._changed, self._besides = keep, refuse, changed, besides
        self._upright = upright
        self.number = typed or NumberTyped.begun(asked)
        self._build()

    def press(self, key: str) -> None:
        """A key of the pad: a digit, POINT, BACK or BELOW_ZERO."""
        self._now(self.number.press(key))

    # --- how it lies ----------------------------------------------------------------------------------------------

    def _build(self) -> None:
        """Lay everything: again only where another unit needs another pad."""
        self.clear_widgets()
        for key in self._besides:
            if key.parent is not None:
                key.parent.remove_widget(key)
        look, number = self.look, self.number
        side: Align = "left" if self._upright else "right"
        self._value = ValueShown(look)
        self._limit = TextLabel(look, "", "far", align=side, fit=True)
        self._under = TextLabel(look, "", "near", role="quiet", bold=False, align=side, fit=True)
        self._under.bind(size=lambda *_: self._show_under())
        self._units = RowBox(look, size_hint_x=None)
        question = TextLabel(look, self._words(number.asked.question), "far", fit=True, valign="middle")
        self._scale: Bar | Ruler | None = None
        if number.ruled:
            self._scale = Ruler(look, number, lambda share: self._now(self.number.snap(share)), self._say("ruler"))
        elif number.asked.limit is not None:
            self._scale = Bar(look, number)
        if self._upright:
            self.add_widget(RowBox(look, question, high=90))
            self.add_widget(RowBox(look, self._value, self._units, high=108))
            self.add_widget(RowBox(look, self._limit, high=90))
            self.add_widget(RowBox(look, self._under, high=40 if look.text < 1.25 else 54))
        else:
            self.add_widget(RowBox(look, question, self._units, high=TARGET + 2))
            right = ColumnBox(look, self._limit, self._under, gap=2)
            self._under.size_hint = (1, 0.62)
            self.add_widget(RowBox(look, self._value, right, high=150))
        if self._scale is not None:
            self.add_widget(self._scale)
        self._big = RowBox(look)
        if self._upright:
            self._lay_upright()
        else:
            self._lay_across()
        self._show(lay_units=True)

    def _lay_across(self) -> None:
        look, number = self.look, self.number
        if number.ruled:
            self.add_widget(Widget())
            nudges, lasts = self._nudges(), self._lasts(1)
            narrow = 112 if look.text <= _LARGE else 136
            for keys, wide in ((nudges, narrow), (lasts, 210), (self._besides, narrow)):
                for key in keys:
                    key.size_hint_x, key.width = None, look.dots(wide)
            self.add_widget(RowBox(look, *self._mirrored(*self._besides, *lasts, *nudges, self._big), gap=12, high=120))
            return
        digits = [*map(self._digit, "12345"), self._point(), *map(self._digit, "67890"), self._rub_out()]
        pad = Cells(look, digits, 6, high=144)
        pad.size_hint_y, pad.size_hint_x = 1, 1.72
        side = ColumnBox(look, gap=8)
        upper = [*self._lasts(2 - number.signed), *self._signs(), *self._besides]
        if upper:
            side.add_widget(RowBox(look, *upper[:3], gap=10, size_hint_y=1.12))
        side.add_widget(self._big)
        self.add_widget(RowBox(look, *self._mirrored(pad, side), gap=20))

    def _lay_upright(self) -> None:
        look, number = self.look, self.number
        if number.ruled:
            self.add_widget(Widget())
            self.add_widget(RowBox(look, *self._nudges(), high=120))
            upper = [*self._lasts(2), *self._besides]
        else:
            digits = [*map(self._digit, "12345"), self._point(), *map(self._digit, "67890"), self._rub_out()]
            pad = Cells(look, digits, 6, high=128)
            pad.size_hint_y = 1
            self.add_widget(pad)
            upper = [*self._lasts(2 - number.signed), *self._signs(), *self._besides]
        if upper:
            self.add_widget(RowBox(look, *upper[:3], gap=10, high=108))
        self._big.size_hint_y, self._big.height = None, look.dots(112)
        self.add_widget(self._big)

    def _mirrored(self, *inside: Widget) -> tuple[Widget, ...]:
        return tuple(reversed(inside)) if self.look.left_hand else inside

    # --- its keys -------------------------------------------------------------------------------------------------

    def _say(self, what: str) -> str:
        return self._words(message(f"work-pad-{what}"))

    def _digit(self, digit: str) -> Key:
        return Key(self.look, digit, partial(self.press, digit), high=None)

    def _point(self) -> Key:
        if self.number.unit == "in":
            told = self._say("sixteenth-more")
            return Key(self.look, told, lambda: self._now(self.number.nudge(1)), size="near", high=None)
        return Key(self.look, POINT, partial(self.press, POINT), high=None)

    def _rub_out(self) -> Key:
        return Key(self.look, "", partial(self.press, BACK), sign="rub-out", named=self._say("rub-out"), high=None)

    def _signs(self) -> list[Key]:
        if not self.number.signed:
            return []
        return [Key(self.look, self._say("below-zero"), partial(self.press, BELOW_ZERO), size="near", high=None)]

    def _lasts(self, most: int) -> list[Key]:
        return [
            Key(self.look, self._as_typed(last.told), partial(self._take, last), size="near", high=None)
            for last in self.number.asked.last[:most]
        ]

    def _take(self, last: LastValue) -> None:
        taken = self.number.take(last)
        if taken.unit == self.number.unit:
            self._now(taken)
            return
        self.number = taken
        self._changed(taken)
        self._build()

    def _nudges(self) -> list[Key]:
        steps = (("sixteenth-less", -1), ("sixteenth-more", 1), ("inch-more", 16))
        return [
            Key(self.look, self._say(what), partial(self._nudge, step), size="near", high=None) for what, step in steps
        ]

    def _nudge(self, step: int) -> None:
        self._now(self.number.nudge(step))

    def _unit_keys(self) -> list[Key]:
        units = self.number.asked.units
        if len(units) < 2:
            return []
        return [
            Key(
                self.look,
                unit_info(unit).symbol,
                partial(self._use, unit),
                chosen=unit == self.number.unit,
                high=None,
                size="near",
                size_hint_x=None,
                width=self.look.dots(118),
            )
            for unit in units
        ]

    def _use(self, unit: str) -> None:
        if unit != self.number.unit:
            self.number = self.number.use(unit)
            self._changed(self.number)
            self._build()

    # --- what it shows --------------------------------------------------------------------------------------------

    def _now(self, number: NumberTyped) -> None:
        if number == self.number:
            return
        self.number = number
        self._changed(number)
        self._show()

    def _show(self, *, lay_units: bool = False) -> None:
        number, look = self.number, self.look
        self._value.show(number.told, number.judged)
        self._limit.words = self._tell(number.limit_told)
        self._show_under()
        if self._scale is not None:
            self._scale.show(number)
        if lay_units:
            self._units.clear_widgets()
            for key in self._unit_keys():
                self._units.add_widget(key)
            keys = len(self._units.children)
            self._units.width = keys * look.dots(118) + max(0, keys - 1) * look.dots(8)
        self._show_big()

    def _show_under(self) -> None:
        """By how much it fails; else the whole question, where there is room for it."""
        number, under = self.number, self._under
        told = self._tell(number.off_told)
        if not told and number.asked.note is not None:
            note = self._words(number.asked.note)
            if fits(note, self.look.font("near") * LEAST_FIT, under.width, under.height * 0.96):
                told = note
        under.words = told

    def _tell(self, told: Figure | None) -> str:
        return self._as_typed(told) if told is not None else ""

    def _show_big(self) -> None:
        number = self.number
        off = number.value is None
        kind: KeyKind = "fail" if number.fails else "action"
        told = self._as_typed(number.keep_told)
        big = next((c for c in self._big.children if isinstance(c, Key)), None)
        if big is not None and (big.kind, big.off) == (kind, off):
            big.say(told)
            return
        self._big.clear_widgets()
        self._big.add_widget(Key(self.look, told, self._done, kind=kind, off=off, high=None))

    def _done(self) -> None:
        why = self.number.why_not
        if why is not None:
            self._refuse(self._as_typed(why))
            return
        value = self.number.value
        assert value is not None  # else there is a reason
        self._keep(value, self.number.unit, self.number.fails)


class NumberSheet(ColumnBox):
    """The pad over the page."""

    def __init__(self, look: Look, pad: NumberPad) -> None:
        super().__init__(look, pad, padding=look.dots(MARGIN))
        lay_ground(look, self, "ground")
        self.pad = pad
