"""A wall as it is drawn: a key for each piece where it is large, one picture where it is small.

Every state has a shape of its own, colour only repeats it: a place is dashed, a set piece is a plain field, a covered
one has a small tick, a good lift an outline and a large tick, a failed one a filled plate and a cross, a suspect one
strokes and a question mark, a lift that is due thick dashes and the sign of lifting.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from fieldassist.checklist.laying import PieceSpan
from fieldassist.trade.message import Figure, message
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.signs import BOX, SignName, lines
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.wall_map import (
    Border,
    MapPiece,
    WallMap,
    nearest,
    pressed_part,
    pressed_scale,
    scale_of,
)
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET, Look
from fieldassist.ui.widgets.text import width_of
from fieldassist.ui.widgets.writing import font_in, write

from kivy.clock import Clock  # isort: skip
from kivy.graphics import Canvas, Line, RoundedRectangle  # isort: skip
from kivy.uix.floatlayout import FloatLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

ToldPiece = Callable[[Figure], str]
_FRAME, _INSET = 5.0, 3.0  # the edge around the wall, and what lies between it and the pieces [dots]
_OUTWARD_S = 0.4  # what became suspect is hatched within this time
# Lower than this [dots] a piece holds its number alone, and lower than that not even one.
_WHOLE, _NUMBER = 84.0, 30.0


class WallDrawing(Widget):
    """The wall, or a part of it, as large as it goes into its place. What changes is drawn anew by itself.

    told: a message in words; part: what of it is seen, None for all; scale: dots a millimetre, None for as large as
    goes; low: it stands on the lower edge of its place, and not in its middle; numbers: pieces bear their numbers;
    framed: with an edge around it; pressed: its pieces are pressed, and as large as that asks for.
    """

    def __init__(
        self,
        look: Look,
        on: WallMap,
        told: ToldPiece,
        *,
        part: PieceSpan | None = None,
        scale: float | None = None,
        low: bool = False,
        numbers: bool = True,
        framed: bool = True,
        pressed: bool = False,
        **rest: Any,
    ) -> None:
        super().__init__(**rest)
        self.look, self.on, self.part = look, on, part
        self._told, self._scale, self._low, self._numbers, self._framed = told, scale, low, numbers, framed
        self._pressed = pressed
        self._pieces: dict[int, Canvas] = {}
        self._over = Canvas()
        # Once a frame, however often a layout moves it before it has found its place.
        moved = Clock.create_trigger(self.again, -1)
        self.bind(pos=moved, size=moved)

    @property
    def seen(self) -> PieceSpan:
        """What is seen of the wall [mm]."""
        return self.part or self.on.whole

    def place(self) -> tuple[float, float, float, float]:
        """Left and lower edge of what is seen, and pixels a millimetre across and upwards [pixels]."""
        edge = self.look.dots(_FRAME + _INSET) if self._framed else 0.0
        seen = self.seen
        w, h = max(1.0, self.width - 2 * edge), max(1.0, self.height - 2 * edge)
        if self._pressed:
            across, up = pressed_scale(self.on, seen, (w, h), self.look.dots(TARGET))
        else:
            most = scale_of(seen, (w, h))
            across = up = most if self._scale is None else min(most, self.look.dots(self._scale))
        x = self.x + edge + (w - seen.width * across) / 2
        y = self.y + edge + (0.0 if self._low else (h - seen.height * up) / 2)
        return x, y, across, up

    def box_of(self, span: PieceSpan) -> marks.PixelBox:
        """Where a part of the wall lies [pixels]."""
        x, y, across, up = self.place()
        seen = self.seen
        return (
            x + (span.left - seen.left) * across,
            y + (span.bottom - seen.bottom) * up,
            span.width * across,
            span.height * up,
        )

    def at(self, x: float, y: float) -> MapPiece:
        """The piece at a place on the window [pixels], or next to it."""
        left, bottom, across, up = self.place()
        return nearest(self.on, (x - left) / across + self.seen.left, (y - bottom) / up + self.seen.bottom)

    def show(self, on: WallMap) -> None:
        """Show the wall as it is now: only pieces that changed are drawn again."""
        before, self.on = self.on, on
        if (before.whole, before.niches, len(before.pieces)) != (on.whole, on.niches, len(on.pieces)):
            self.again()
            return
        changed = [new for old, new in zip(before.pieces, on.pieces, strict=True) if old != new]
        was_suspect = {piece.number for piece in before.pieces if piece.state == "suspect"}
        suspects = [piece for piece in changed if piece.state == "suspect" and piece.number not in was_suspect]
        for piece in changed:
            if piece not in suspects:
                self._draw_piece(piece)
        self._spread(suspects)
        if before.borders != on.borders:
            self._draw_over()

    def _spread(self, suspects: Sequence[MapPiece]) -> None:
        """Pieces that have become suspect are hatched one after the other, outward from the one that failed."""
        failed = [piece for piece in self.on.pieces if piece.state == "lifted failed"]
        near = sorted(suspects, key=lambda piece: min((abs(piece.order - one.order) for one in failed), default=0))
        for place, piece in enumerate(near):
            Clock.schedule_once(partial(self._draw_late, piece), _OUTWARD_S * place / len(near))

    def _draw_late(self, piece: MapPiece, _passed_s: float) -> None:
        if self.on.piece(piece.number) == piece:
            self._draw_piece(piece)

    def again(self, *_: Any) -> None:
        """Draw all of it anew."""
        self.canvas.clear()
        self._pieces = {}
        if self.width < 2 or self.height < 2:
            return
        with self.canvas:
            self._ground()
        for piece in self.on.pieces:
            if self._shows(piece):
                self._pieces[piece.number] = Canvas()
                self.canvas.add(self._pieces[piece.number])
                self._draw_piece(piece)
        self._over = Canvas()
        self.canvas.add(self._over)
        self._draw_over()

    def _shows(self, piece: MapPiece) -> bool:
        seen, span = self.seen, piece.span
        return span.left < seen.right and span.right > seen.left and span.bottom < seen.top and span.top > seen.bottom

    def _ground(self) -> None:
        edge = self.look.dots(_FRAME + _INSET)
        inside = self.box_of(self.seen)
        if self._framed:
            around = (inside[0] - edge, inside[1] - edge, inside[2] + 2 * edge, inside[3] + 2 * edge)
            marks.field(self.look, around, "sheet")
            marks.frame(self.look, around, "ink", _FRAME)
        marks.field(self.look, inside, "bare")

    def _draw_piece(self, piece: MapPiece) -> None:
        canvas = self._pieces.get(piece.number)
        if canvas is not None:
            canvas.clear()
            with canvas:
                draw_piece(self.look, piece, self.box_of(piece.span), self._told, numbers=self._numbers)

    def _draw_over(self) -> None:
        """Borders and niches, over the pieces."""
        self._over.clear()
        with self._over:
            for name, span in self.on.niches:
                if not any(piece.name and piece.span == span for piece in self.on.pieces):
                    self._niche(name, self.box_of(span))
            if self._numbers:
                self._borders()

    def _niche(self, name: str, box: marks.PixelBox) -> None:
        look = self.look
        x, y, w, h = box
        marks.field(look, box, "bare")
        marks.hatch(look, box, "edge", apart=14, thick=2, falling=True)
        marks.frame(look, box, "ink", 4 if self._numbers else 2)
        font = font_in(name, min(look.font("near"), h * 0.6), w * 0.7, bold=False)
        if self._numbers and font >= look.dots(20):
            wide, high = w * 0.74, font * 1.2
            marks.field(look, (x + (w - wide) / 2, y + (h - high) / 2, wide, high), "bare")
            write(look, name, (x + w / 2, y + h / 2), font, "ink", "middle", bold=False)

    def _borders(self) -> None:
        look = self.look
        there = [border for border in self.on.borders if self._crosses(border)]
        large = self._piece_high() >= look.dots(_WHOLE)
        for border in there:
            ends = self._ends(border)
            if border.kind == "batch":
                marks.stroke(look, ends, "ink", 8 if large else 5)
            elif large:
                marks.notched(look, ends, "ink")
            else:
                marks.notched(look, ends, "ink", pitch=12, deep=6, thick=3)
        if not large:
            return
        taken: list[marks.PixelBox] = []
        for border in there:
            if border.tagged:
                self._tag(border, taken)

    def _piece_high(self) -> float:
        """How high or wide the smallest whole piece is drawn [pixels]."""
        whole = [piece for piece in self.on.pieces if not piece.cut] or self.on.pieces
        return min(min(self.box_of(piece.span)[2:]) for piece in whole)

    def _crosses(self, border: Border) -> bool:
        x1, y1, x2, y2 = border.ends
        seen = self.seen
        return x1 < seen.right and x2 > seen.left and y1 < seen.top and y2 > seen.bottom

    def _ends(self, border: Border) -> tuple[float, float, float, float]:
        x1, y1, x2, y2 = border.ends
        seen = self.seen
        x1, x2 = max(x1, seen.left), min(x2, seen.right)
        y1, y2 = max(y1, seen.bottom), min(y2, seen.top)
        left, bottom, w, h = self.box_of(PieceSpan(x1, y1, x2 - x1, y2 - y1))
        return left, bottom, left + w, bottom + h

    def _tag(self, border: Border, taken: list[marks.PixelBox]) -> None:
        """What lies beyond a border, on it: at the right of the first piece along it where it covers no other tag,
        and better no figure."""
        look = self.look
        words, font = self._told(border.beyond), look.dots(28)
        x1, y1, x2, y2 = self._ends(border)
        pitch = min(piece.span.width for piece in self.on.pieces if not piece.cut or piece.row) * self.place()[2]
        inside = pitch - look.dots(32)
        font = font_in(words, font, max(inside, look.dots(60)), bold=True)
        wide, high = width_of(words, font, bold=True) + look.dots(20), font * 1.35
        count = max(1, round((x2 - x1) / pitch)) if border.level else 1
        rights = (
            [min(x2, x1 + (place + 1) * pitch) - look.dots(14) for place in range(count)]
            if border.level
            else [x1 + wide / 2]
        )
        middle = y1 if border.level else (y1 + y2) / 2
        boxes = [(max(right - wide, self.x), middle - high / 2, wide, high) for right in rights]
        free = [box for box in boxes if not any(_touch(box, other) for other in taken)]
        bare = [box for box in free if self.at(box[0] + wide, middle + high).percent is None]
        box = (bare or free or boxes)[0]
        taken.append(box)
        corner = look.dots(6)
        marks.colour(look, "ink")
        RoundedRectangle(pos=box[:2], size=box[2:], radius=[corner])
        marks.colour(look, "key")
        edge = look.dots(3)
        RoundedRectangle(pos=(box[0] + edge, box[1] + edge), size=(wide - 2 * edge, high - 2 * edge), radius=[corner])
        write(look, words, (box[0] + wide / 2, box[1] + high / 2), font, "ink", "middle")


def _touch(a: marks.PixelBox, b: marks.PixelBox) -> bool:
    return a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]


# --- one piece ----------------------------------------------------------------------------------------------------


def draw_piece(look: Look, piece: MapPiece, box: marks.PixelBox, told: ToldPiece, *, numbers: bool = True) -> None:
    """A piece in its box [pixels], with as much as goes in; for use inside `with canvas:`."""
    high = min(box[2], box[3])
    _face(look, piece, box)
    if numbers and high >= look.dots(_WHOLE):
        _inside(look, piece, box, told)
    elif numbers and high >= look.dots(_NUMBER):
        _number_alone(look, piece, box)
    else:
        _shape_alone(look, piece, box)


def _face(look: Look, piece: MapPiece, box: marks.PixelBox) -> None:
    """Ground and edge of a piece: what tells most states without a word."""
    x, y, w, h = box
    small = min(w, h) < look.dots(_WHOLE)
    if piece.due:
        marks.field(look, box, "due")
        thick = 3.0 if small else 8.0
        inset = look.dots(thick / 2)
        marks.dashed(
            look,
            (x + inset, y + inset, w - 2 * inset, h - 2 * inset),
            "on_due",
            thick=thick,
            dash=10 if small else 26,
            space=6 if small else 14,
        )
    elif not piece.is_set:
        marks.field(look, box, "bare")
        _place_edge(look, box)
        if piece.state == "taken off":
            marks.stroke(look, (x + w * 0.1, y + h * 0.1, x + w * 0.9, y + h * 0.9), "edge", 3)
    elif piece.state == "lifted failed":
        marks.field(look, box, "fail_plate")
        marks.frame(look, box, "fail", 2 if small else 4)
    elif piece.state == "suspect":
        marks.field(look, box, "tile")
        marks.hatch(look, box, "fail", apart=11 if small else 24, thick=3 if small else 5)
        marks.frame(look, box, "edge", 2 if small else 3)
    else:
        marks.field(look, box, "tile")
        marks.frame(look, box, "edge", 2 if small else 3)
        if piece.state == "lifted good" and not small:
            marks.frame(look, box, "pass_", 7)


def _place_edge(look: Look, box: marks.PixelBox) -> None:
    """Dashes around a place without a piece; those of two places side by side lie on each other."""
    x, y, w, h = box
    if min(w, h) < look.dots(_NUMBER):
        marks.frame(look, box, "edge", 1)
        return
    edges = ((x, y, x + w, y), (x, y + h, x + w, y + h), (x, y, x, y + h), (x + w, y, x + w, y + h))
    marks.dashed_lines(look, edges, "edge")


def _ink(piece: MapPiece) -> ColourName:
    if piece.due:
        return "on_due"
    if piece.state == "lifted failed":
        return "on_fail"
    return "ink" if piece.is_set else "quiet"


def _shape_alone(look: Look, piece: MapPiece, box: marks.PixelBox) -> None:
    """What is seen of a piece without a number: the tick of a good lift, the cross of a failed one where it goes in."""
    x, y, w, h = box
    side = min(w * 0.7, h * 0.7, look.dots(30))
    if piece.state in ("lifted good", "lifted failed") and not piece.due and side >= look.dots(8):
        good = piece.state == "lifted good"
        sign, role = ("pass", "pass_") if good else ("fail", "on_fail")
        marks.sign(look, sign, x + (w - side) / 2, y + (h - side) / 2, side, role)  # type: ignore[arg-type]


def _number_alone(look: Look, piece: MapPiece, box: marks.PixelBox) -> None:
    x, y, w, h = box
    words = piece.name or str(piece.number)
    font = font_in(words, min(look.dots(30), h * 0.62), w * 0.8, bold=True)
    middle = (x + w / 2, y + h / 2)
    if piece.state == "suspect" and not piece.due:
        wide = width_of(words, font, bold=True) + look.dots(14)
        marks.field(look, (middle[0] - wide / 2, middle[1] - font * 0.6, wide, font * 1.2), "tile")
    good = piece.state == "lifted good" and not piece.due
    write(look, words, middle, font, "pass_" if good else _ink(piece), "middle", bold=piece.is_set)
    if good:
        marks.frame(look, box, "pass_", 4)


def _inside(look: Look, piece: MapPiece, box: marks.PixelBox, told: ToldPiece) -> None:
    """Number, sign, contact, and how the piece came into the record."""
    x, y, w, h = box
    ink = _ink(piece)
    pad = look.dots(13)
    grown = look.font("near") / look.dots(32)
    top = y + h - look.dots(6)
    words = piece.name or str(piece.number)
    side = min(look.dots(46), h * 0.46)
    font = font_in(words, min(look.dots(31) * grown, h * 0.36), w - side - 3 * pad, bold=piece.is_set)
    if piece.state == "suspect" and not piece.due:
        wide = width_of(words, font, bold=True) + 2 * pad
        marks.field(look, (x + 2, y + h - font * 1.3 - look.dots(6), wide, font * 1.3 + look.dots(4)), "tile")
    write(look, words, (x + pad, top), font, ink, "upper left", bold=piece.is_set)
    right, upper = x + w - pad - side, y + h - pad - side
    if piece.due:
        marks.sign(look, "lift", right, upper, side, ink)
        lift = told(message("wall-lift-this"))
        size = font_in(lift, min(look.dots(32) * grown, h * 0.36), w - 2 * pad, bold=True)
        write(look, lift, (x + pad, y + look.dots(9)), size, ink, "lower left")
        return
    if not piece.is_set:
        return
    _came(look, piece, (x + pad, y + look.dots(17)), ink)
    if piece.state == "suspect":
        _question(look, box)
    elif piece.state == "covered":
        small = side * 0.62
        marks.sign(look, "pass", x + w - pad - small, y + h - pad - small, small, "pass_")
    elif piece.state == "accepted":
        marks.sign(look, "sign", right, upper, side, ink)
    elif piece.state in ("lifted good", "lifted failed"):
        good = piece.state == "lifted good"
        role: ColourName = "pass_" if good else "on_fail"
        _heavy(look, "pass" if good else "fail", (right, upper), side, role)
        if piece.percent is not None:
            contact = f"{piece.percent:.0f} %"
            room = w - 2 * pad - look.dots(66)
            size = font_in(contact, min(look.dots(40) * grown, h * 0.42), room, bold=True)
            write(look, contact, (x + w - pad, y + look.dots(6)), size, role, "lower right")


def _heavy(look: Look, name: SignName, at: tuple[float, float], side: float, role: ColourName) -> None:
    """A sign in a heavier stroke, to be told from afar."""
    scale = side / BOX
    for line in lines(name):
        points = [value for x, y in line for value in (at[0] + x * scale, at[1] + side - y * scale)]
        marks.stroke(look, points, role, 9)


def _question(look: Look, box: marks.PixelBox) -> None:
    """A plate with a question mark in the middle of a suspect piece."""
    x, y, w, h = box
    high = min(look.dots(66), h * 0.64)
    wide = high * 0.94
    left, low = x + (w - wide) / 2, y + (h - high) / 2 - look.dots(4)
    marks.colour(look, "tile")
    RoundedRectangle(pos=(left, low), size=(wide, high), radius=[look.dots(10)])
    marks.colour(look, "fail")
    Line(rounded_rectangle=(left, low, wide, high, look.dots(10)), width=max(1.0, look.dots(2)))
    side = high * 0.7
    marks.sign(look, "question", left + (wide - side) / 2, low + (high - side) / 2, side, "fail")


def _came(look: Look, piece: MapPiece, at: tuple[float, float], ink: ColourName) -> None:
    """How a piece came into the record: six strokes, a level one, or the sign of what was put back."""
    x, y = at
    if piece.seen == "witnessed":
        for k in range(6):
            left = x + look.dots(3 + 10 * k)
            marks.field(look, (left, y, look.dots(4), look.dots(18)), ink)
    elif piece.seen == "counted":
        marks.field(look, (x, y + look.dots(6), look.dots(40), look.dots(5)), ink)
    else:
        marks.sign(look, "take-back", x, y - look.dots(4), look.dots(28), ink)


# --- to be pressed ------------------------------------------------------------------------------------------------


class PieceKey(Key):
    """A piece of the wall as a key: the drawing under it shows it, and it draws only that it is pressed or focused."""

    def __init__(self, look: Look, piece: MapPiece, named: str, press: Callable[[], object], **rest: Any) -> None:
        self.piece = piece
        super().__init__(look, "", press, kind="sheet", named=named, high=None, size_hint=(None, None), **rest)

    def _lay(self, *_: Any) -> None:
        self.canvas.before.clear()
        box = (self.x, self.y, self.width, self.height)
        with self.canvas.before:
            if self.state == "down":
                marks.frame(self.look, box, "ink", 10)
            if self.focused:
                marks.frame(self.look, box, "ink", 4)


class PressedWall(FloatLayout):
    """A wall whose pieces are keys. Where they would be too small, a press first opens the part of the wall around it.

    press: called with the number of the piece that is pressed; opened: called when a part was opened or closed.
    """

    def __init__(
        self,
        look: Look,
        on: WallMap,
        told: ToldPiece,
        press: Callable[[int], object],
        *,
        part: PieceSpan | None = None,
        opened: Callable[[PieceSpan], object],
        **rest: Any,
    ) -> None:
        super().__init__(**rest)
        self.look, self._told, self._press, self._opened = look, told, press, opened
        self.drawing = WallDrawing(look, on, told, part=part, pressed=True)
        self.add_widget(self.drawing)
        self._keys: list[PieceKey] = []
        self._all: _WallKey | None = None
        moved = Clock.create_trigger(self._lay, -1)
        self.bind(pos=moved, size=moved)

    def show(self, on: WallMap) -> None:
        """Show the wall as it is now."""
        same = [(p.number, p.span) for p in self.drawing.on.pieces] == [(p.number, p.span) for p in on.pieces]
        self.drawing.show(on)
        if not same:
            self._lay()

    def _lay(self, *_: Any) -> None:
        self.drawing.size_hint = (None, None)
        self.drawing.pos, self.drawing.size = self.pos, self.size
        for key in (*self._keys, *([self._all] if self._all is not None else [])):
            self.remove_widget(key)
        self._keys, self._all = [], None
        if self.width < 2 or self.height < 2:
            return
        if self.drawing.part is None and self._part_of(self.drawing.on.pieces[0].number) is not None:
            self._all = _WallKey(self.look, self.drawing, self._told(message("wall-whole")), self._open)
            self._all.pos, self._all.size = self.pos, self.size
            self.add_widget(self._all)
            return
        for piece in self.drawing.on.pieces:
            if self._in_part(piece):
                self._add_key(piece)

    def _in_part(self, piece: MapPiece) -> bool:
        middle = (piece.span.left + piece.span.width / 2, piece.span.bottom + piece.span.height / 2)
        return self.drawing.seen.holds(*middle)

    def _add_key(self, piece: MapPiece) -> None:
        named = self._told(message("wall-piece", number=str(piece.number)))
        key = PieceKey(self.look, piece, named, lambda: self._press(piece.number))
        x, y, w, h = self.drawing.box_of(piece.span)
        key.pos, key.size = (x, y), (w, h)
        self._keys.append(key)
        self.add_widget(key)

    def _part_of(self, number: int) -> PieceSpan | None:
        edge = 2 * (_FRAME + _INSET)
        box = tuple(side / self.look.dots(1) - edge for side in self.size)
        return pressed_part(self.drawing.on, number, box, TARGET)

    def _open(self, number: int) -> None:
        part = self._part_of(number)
        if part is not None:
            self.drawing.part = part
            self.drawing.again()
            self._lay()
            self._opened(part)


class _WallKey(Key):
    """The whole wall as one key, where its pieces are too small: it tells which piece lies under the finger."""

    def __init__(self, look: Look, drawing: WallDrawing, named: str, press: Callable[[int], object]) -> None:
        self._drawing, self._at = drawing, (0.0, 0.0)
        super().__init__(
            look,
            "",
            lambda: press(drawing.at(*self._at).number),
            kind="sheet",
            named=named,
            high=None,
            size_hint=(None, None),
        )

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy calls it: where the finger lies."""
        self._at = (touch.x, touch.y)
        return bool(super().on_touch_down(touch))

    def _lay(self, *_: Any) -> None:
        self.canvas.before.clear()
        if self.focused or self.state == "down":
            with self.canvas.before:
                marks.frame(self.look, (self.x, self.y, self.width, self.height), "ink", 8)
