"""What is written into a piece of a drawn wall, by measure: as much as has its place there, and no word outside it.

Lengths are points, from the upper left; nothing is drawn here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fieldassist.report import fonts
from fieldassist.report.grid import DRAWN, DRAWN_STRONG, OPEN_TODAY, SECOND
from fieldassist.report.sheet import Style, wrap
from fieldassist.report.signs import COMBING, MARK, LiftSign
from fieldassist.report.wall_model import DrawnLift, DrawnPiece

NUMBER = Style(fonts.HEAVY, 10.5, 12.2)
NUMBER_SMALL = Style(fonts.HEAVY, 8.5, 10.2)
TAG = Style(fonts.REGULAR, 8, 9.8, SECOND)
LOUD = Style(fonts.HEAVY, 8.2, 9.8)
LOUD_OPEN = Style(fonts.HEAVY, 8.2, 9.8, OPEN_TODAY)

# Between an edge, on which a thick line may lie, and what is written; and between two things beside each other.
_RIM_X, _RIM_Y, _APART = 4.0, 3.0, 2.4
_RIM_SMALL = 2.8, 2.0
# A sign with its figure.
_LIFT_HIGH = 8.2
# What a line of type reaches above and below its baseline, of its size: capitals, figures and brackets.
_ABOVE, _BELOW = 0.76, 0.24


@dataclass(frozen=True, slots=True)
class FitBox:
    """A rectangle by its upper left corner."""

    x: float
    y: float
    wide: float
    high: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.wide

    @property
    def low(self) -> float:
        """Its lower edge."""
        return self.y + self.high

    def meets(self, other: FitBox, by: float = 0.0) -> bool:
        """Whether the two lie over each other by more than so much."""
        return (
            self.x < other.right - by
            and other.x < self.right - by
            and self.y < other.low - by
            and other.y < self.low - by
        )

    def holds(self, other: FitBox) -> bool:
        """Whether the other lies in it."""
        return (
            other.x >= self.x - 0.01
            and other.y >= self.y - 0.01
            and other.right <= self.right + 0.01
            and other.low <= self.low + 0.01
        )


@dataclass(frozen=True, slots=True)
class FitText:
    """A line of text, its baseline at y."""

    x: float
    y: float
    text: str
    style: Style

    @property
    def box(self) -> FitBox:
        """What it covers."""
        wide = fonts.width(self.text, self.style.face, self.style.size)
        return FitBox(self.x, self.y - self.style.size * _ABOVE, wide, self.style.size * (_ABOVE + _BELOW))


@dataclass(frozen=True, slots=True)
class FitSign:
    """The sign of a lift around its middle."""

    x: float
    y: float
    sign: LiftSign

    @property
    def box(self) -> FitBox:
        """What it covers."""
        return FitBox(self.x - MARK / 2, self.y - MARK / 2, MARK, MARK)


@dataclass(frozen=True, slots=True)
class Fitted:
    """What stands in a piece. combing: upper left corner of its strokes; told: all of its state and its lifts is said
    there, so that no list has to."""

    texts: tuple[FitText, ...] = ()
    signs: tuple[FitSign, ...] = ()
    combing: tuple[float, float] | None = None
    told: bool = False

    @property
    def boxes(self) -> tuple[FitBox, ...]:
        """What all of it covers."""
        strokes = () if self.combing is None else (FitBox(*self.combing, *COMBING),)
        return (*(one.box for one in self.texts), *(one.box for one in self.signs), *strokes)


_LiftWords = Literal["long", "short", "beside", "figures", "last", "sign"]


@dataclass(frozen=True, slots=True)
class _Try:
    """One way to write into a piece, from the fullest to the barest. tight: less air at its edges; small: its number in
    smaller type."""

    words: Literal["long", "short", "brief", "loud", "none"]
    lifts: _LiftWords
    tag: bool = True
    combing: bool = False
    tight: bool = True
    small: bool = False


_TRIES = (
    _Try("long", "long", combing=True, tight=False),
    _Try("long", "long", tight=False),
    _Try("short", "short", combing=True, tight=False),
    _Try("short", "short", tight=False),
    _Try("short", "short"),
    _Try("short", "beside"),
    _Try("brief", "short"),
    _Try("brief", "beside"),
    _Try("brief", "short", tag=False),
    _Try("brief", "beside", tag=False),
    _Try("brief", "short", tag=False, small=True),
    _Try("brief", "beside", tag=False, small=True),
    _Try("brief", "figures", tag=False, small=True),
    _Try("loud", "figures", tag=False, small=True),
    _Try("none", "figures", tag=False, small=True),
    _Try("none", "last", tag=False, small=True),
    _Try("none", "sign", tag=False, small=True),
)


def fit(piece: DrawnPiece, box: FitBox, *, short: bool) -> Fitted:
    """A piece with its number, its words and its lifts. short: the wall's pieces have no room for long words."""
    for one in _TRIES[2:] if short else _TRIES:
        found = _written(piece, _inside(box, *(_RIM_SMALL if one.tight else (_RIM_X, _RIM_Y))), one)
        if found is not None:
            return found
    inner = _inside(box, *_RIM_SMALL)
    number = _line(str(piece.number), NUMBER_SMALL, inner.x, inner.y)
    return Fitted((number,)) if inner.holds(number.box) else Fitted()


def _inside(box: FitBox, rim_x: float, rim_y: float) -> FitBox:
    return FitBox(box.x + rim_x, box.y + rim_y, box.wide - 2 * rim_x, box.high - 2 * rim_y)


def _line(text: str, style: Style, x: float, top: float) -> FitText:
    """A line whose letters begin at this height."""
    return FitText(x, top + style.size * _ABOVE, text, style)


def _wide(text: str, style: Style) -> float:
    return fonts.width(text, style.face, style.size)


def _written(piece: DrawnPiece, inner: FitBox, one: _Try) -> Fitted | None:
    style = NUMBER_SMALL if one.small else NUMBER
    number = _line(str(piece.number), style, inner.x, inner.y)
    texts = [number]
    if one.tag and piece.tag:
        wide = _wide(piece.tag, TAG)
        if number.box.right + _APART + wide > inner.right:
            return None
        texts.append(FitText(inner.right - wide, number.y, piece.tag, TAG))
    top = inner.y + style.size * (_ABOVE + _BELOW) + 0.6
    lines = list(_words(piece, one, inner.wide))
    if any(_wide(text, line) > inner.wide for text, line in lines):
        return None
    for text, line in lines:
        texts.append(_line(text, line, inner.x, top))
        top += line.leading
    lifts = _lifts(piece.lifts, inner, one.lifts)
    if lifts is None:
        return None
    below, signs = lifts
    floor = min((sign.box.y for sign in signs), default=inner.low)
    floor = min([floor, *(text.box.y for text in below)])
    if max(text.box.low for text in texts) > floor:
        return None
    texts += below
    strokes = None
    if one.combing and piece.combing:
        taken = [*(text.box for text in texts), *(sign.box for sign in signs)]
        strokes = _free_for_combing(inner, floor, taken)
        if strokes is None:
            return None
    told = one.words in ("long", "short", "brief") and (one.lifts in ("long", "short", "beside") or not piece.lifts)
    return Fitted(tuple(texts), tuple(signs), strokes, told)


def _words(piece: DrawnPiece, one: _Try, wide: float) -> Iterator[tuple[str, Style]]:
    if piece.loud and one.words != "none":
        loud = LOUD_OPEN if piece.red else LOUD
        for line in _whole_words(piece.loud, loud, wide):
            yield line, loud
    words = {"long": piece.words, "short": piece.short, "brief": piece.brief}.get(one.words, "")
    for line in _whole_words(words, DRAWN, wide):
        yield line, DRAWN


def _whole_words(text: str, style: Style, wide: float) -> list[str]:
    """The lines of a text; a word that is wider than the room stays whole, and does not fit."""
    if not text:
        return []
    widest = max(_wide(word, style) for word in text.split(" "))
    return wrap(text, style, max(wide, widest))


def _lifts(lifts: Sequence[DrawnLift], inner: FitBox, words: _LiftWords) -> tuple[list[FitText], list[FitSign]] | None:
    """The lifts of a piece at its foot: under each other, the last one lowest, or beside each other, or the last one
    alone; None where there is no room."""
    texts: list[FitText] = []
    signs: list[FitSign] = []
    under = words in ("long", "short")
    y, x = inner.low - DRAWN.size * _BELOW, inner.x
    if under:
        y -= DRAWN.leading * (len(lifts) - 1)
    for lift in lifts[-1:] if words in ("last", "sign") else lifts:
        signs.append(FitSign(x + MARK / 2, y - DRAWN.size * 0.3, lift.sign))
        x += MARK + 2.0
        figure = lift.contact if words == "long" else lift.figure if words != "sign" else ""
        named = lift.told if under else lift.short if words == "beside" else ""
        for text, style in ((figure, DRAWN_STRONG), (named, DRAWN)):
            if text:
                texts.append(FitText(x, y, text, style))
                x += _wide(text, style) + _APART
        if x - _APART > inner.right:
            return None
        if under:
            x, y = inner.x, y + DRAWN.leading
    top = min((sign.box.y for sign in signs), default=inner.y)
    return None if top < inner.y else (texts, signs)


def _free_for_combing(inner: FitBox, floor: float, taken: Sequence[FitBox]) -> tuple[float, float] | None:
    """Where the strokes lie over nothing: in the lower right corner, else over the lifts."""
    wide, high = COMBING
    x = inner.right - wide
    for y in (inner.low - high, floor - high - 1.0):
        strokes = FitBox(x - 3.0, y, wide + 3.0, high)
        if strokes.y >= inner.y and not any(strokes.meets(box) for box in taken):
            return x, y
    return None


def fit_bare(piece: DrawnPiece, box: FitBox, again: str) -> Fitted:
    """A small piece: its lifts, where a batch begins, and that it was set again; its number stands by the row, and in
    the piece itself where it lies in none. A plain one without a lift is covered, as the key says.

    again: the word for a piece that was set again.
    """
    inner = _inside(box, 1.4, max(0.9, min(1.8, (box.high - _LIFT_HIGH) / 2)))
    plain = piece.ground == "plain" and not piece.loud
    fitted = _small_lifts(piece, inner) if piece.lifts else Fitted()
    texts = list(fitted.texts)
    numbered = bool(piece.row)
    if not piece.row:
        numbered = _add(texts, fitted, inner, _line(str(piece.number), NUMBER_SMALL, inner.x, inner.y))
    elif piece.begins:
        right = inner.right - _wide(piece.begins, TAG)
        _add(texts, fitted, inner, _line(piece.begins, TAG, right, inner.y))
    if piece.again and not piece.lifts:
        x = inner.x + (inner.wide - _wide(again, DRAWN)) / 2
        _add(texts, fitted, inner, FitText(x, inner.y + inner.high / 2 + DRAWN.size * 0.3, again, DRAWN))
    told = plain and numbered and len(fitted.signs) == len(piece.lifts)
    return replace(fitted, texts=tuple(texts), told=told)


def _add(texts: list[FitText], fitted: Fitted, inner: FitBox, more: FitText) -> bool:
    """One more text, if it lies in the piece and over nothing; whether it does."""
    taken = [*(text.box for text in texts), *(sign.box for sign in fitted.signs)]
    fits = inner.holds(more.box) and not any(more.box.meets(box) for box in taken)
    if fits:
        texts.append(more)
    return fits


def _small_lifts(piece: DrawnPiece, inner: FitBox) -> Fitted:
    """The lifts of a small piece: a sign each with the last one's figure, and its number over them or beside them; or
    what of that has its place, the signs before all else."""
    foot = inner.low - DRAWN.size * _BELOW
    for lifts in (piece.lifts, piece.lifts[-1:]):
        signs = tuple(
            FitSign(inner.x + MARK / 2 + at * (MARK + 1.0), foot - DRAWN.size * 0.3, lift.sign)
            for at, lift in enumerate(lifts)
        )
        if all(inner.holds(sign.box) for sign in signs):
            break
    else:
        return Fitted()
    last = piece.lifts[-1]
    figure = FitText(signs[-1].box.right + 1.2, foot, last.figure, DRAWN_STRONG)
    if not last.figure or not inner.holds(figure.box):
        return Fitted((), signs)
    over = _line(last.short, DRAWN, inner.x, inner.y)
    beside = FitText(figure.box.right + 1.6, foot, last.short, DRAWN)
    taken = [figure.box, *(sign.box for sign in signs)]
    for lift in (over, beside) if piece.row else (beside,):
        if inner.holds(lift.box) and not any(lift.box.meets(box) for box in taken):
            return Fitted((lift, figure), signs)
    return Fitted((figure,), signs)


def largest_free(box: FitBox, blocked: Sequence[FitBox]) -> FitBox:
    """The largest part of a piece over, under or beside what lies on it."""
    for other in blocked:
        if not box.meets(other, 0.5):
            continue
        parts = (
            FitBox(box.x, box.y, box.wide, max(0.0, other.y - box.y)),
            FitBox(box.x, other.low, box.wide, max(0.0, box.low - other.low)),
            FitBox(box.x, box.y, max(0.0, other.x - box.x), box.high),
            FitBox(other.right, box.y, max(0.0, box.right - other.right), box.high),
        )
        box = max(parts, key=lambda part: part.wide * part.high)
    return box
