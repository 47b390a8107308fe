"""Sheets of a printed document: what is drawn where, page by page, and what each piece of it is.

Everything is first laid out as plain drawing steps and drawn once the number of pages is known. Each step belongs to an
element of the document's structure (`report.tags`) or to none: rules, hatches, plates and running heads are decoration.
What is drawn first is read first. Lengths are points; y counts downwards from the top edge, as one reads.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import chain, groupby
from typing import Any, Literal, NamedTuple

from reportlab.lib.rl_accel import escapePDF
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from fieldassist.report import fonts
from fieldassist.report.tags import Box, Linked, Marked, Tag, TagKind
from fieldassist.trade.message import Figure, message

Colour = tuple[float, float, float]
WHITE: Colour = (1.0, 1.0, 1.0)
BLACK: Colour = (0.0, 0.0, 0.0)

# What is drawn and belongs to no element of the structure.
_DECORATION = -1


@dataclass(frozen=True, slots=True)
class Style:
    """How a piece of text is set."""

    face: str
    size: float
    leading: float
    colour: Colour = BLACK


@dataclass
class SheetPage:
    """One page: its drawing steps, each behind the number of the marked stretch to which it belongs (-1: to none), of
    which kind each stretch is, how many annotations it has, and what stands in its running head."""

    steps: list[tuple[int, tuple[Any, ...]]] = field(default_factory=list)
    stretches: list[TagKind] = field(default_factory=list)
    annotations: int = 0
    running: str = ""
    last: Tag | None = None


class _Ended(NamedTuple):
    """Where the last text of a block ended: on which page, at what point, in what style."""

    block: Tag
    page: int
    x: float
    y: float
    style: Style


# How far apart two texts are two words, of their size.
_APART = 0.12

# A line may break at a space, but not between a number and what it counts.
MAY_BREAK = re.compile(
    r"(?<![\d½]) | (?!(?:%|°[CF]?|mm|cm|m|µm|in|ft|mi|s|min|h|g|kg|lb|oz|L|mL|fl|qt|gal)[²³]?(?:\W|$))"
)


def wrap(text: str, style: Style, room: float) -> list[str]:
    """Lines of at most `room` points; a word that is wider by itself is broken. Always at least one line.

    A number and its unit stay on one line.
    """
    text = fonts.printable(text, style.face)
    face, size = style.face, style.size
    if fonts.width(text, face, size) <= room:
        return [text]
    lines: list[str] = []
    line, used = "", 0.0
    space = fonts.width(" ", face, size)
    for word in MAY_BREAK.split(text):
        wide = fonts.width(word, face, size)
        if line and used + space + wide <= room:
            line, used = f"{line} {word}", used + space + wide
            continue
        if line:
            lines.append(line)
        while wide > room and len(word) > 1:
            cut = _cut(word, face, size, room)
            lines.append(word[:cut])
            word = word[cut:]
            wide = fonts.width(word, face, size)
        line, used = word, wide
    lines.append(line)
    return lines


def letters_within(text: str, style: Style, room: float) -> str:
    """The letters of a text with which it begins that find room, one at least."""
    text = fonts.printable(text, style.face)
    return text[: _cut(text, style.face, style.size, room)]


def _cut(word: str, face: str, size: float, room: float) -> int:
    used = 0.0
    for at, letter in enumerate(word):
        used += fonts.width(letter, face, size)
        if used > room:
            return max(1, at)
    return len(word)


class Sheet:
    """Pages under construction.

    words: in which a page's own labels are told; running: what the running head of the next pages says; tick: called
    once a table's row and once a photo.
    """

    def __init__(
        self, size: tuple[float, float], words: Callable[[Figure], str], tick: Callable[[], None] = lambda: None
    ) -> None:
        fonts.register()
        self.words = words
        self.page_width, self.page_height = size
        self.pages: list[SheetPage] = []
        self.running = ""
        self.tick = tick
        self.places: dict[str, int] = {}
        self.document = Tag("Document")
        self._open = [self.document]
        self._decorating = False
        self._ended: _Ended | None = None

    def said(self, code: str, **figures: Figure) -> str:
        """A label in the document's language."""
        return self.words(message(code, **figures))

    def new_page(self) -> None:
        """Go on with a fresh page."""
        self.pages.append(SheetPage(running=self.running))

    # --- what things are ------------------------------------------------------------------------------------------

    @property
    def decorating(self) -> bool:
        """Whether what is drawn now is decoration, text too."""
        return self._decorating

    @property
    def inside(self) -> Tag:
        """The element that is open."""
        return self._open[-1]

    @contextmanager
    def tagged(
        self,
        kind: TagKind,
        *,
        alt: str = "",
        scope: Literal["", "Row", "Column"] = "",
        across: int = 1,
    ) -> Iterator[Tag]:
        """What is drawn within belongs to an element of this kind; parameters as of `Tag`. It may go on over pages."""
        tag = Tag(kind, alt, scope, across)
        self.inside.holds.append(tag)
        self._open.append(tag)
        try:
            yield tag
        finally:
            self._open.pop()

    @contextmanager
    def decoration(self) -> Iterator[None]:
        """What is drawn within is read by nobody: a table's head that comes again on the next page."""
        before, self._decorating = self._decorating, True
        try:
            yield
        finally:
            self._decorating = before

    def _put(self, *step: Any, content: bool = False) -> None:
        """One more step. content: it is text or a picture, and no decoration unless that is said; lines and shapes are
        content within a figure only."""
        page, tag = self.pages[-1], self.inside
        if self._decorating or not (content or tag.kind == "Figure"):
            page.steps.append((_DECORATION, step))
            return
        if not tag.takes_text:
            raise ValueError(f"what is drawn has to belong to an element: {step!r:.80} stands in a bare {tag.kind}")
        goes_on = page.last is tag and page.steps[-1][0] != _DECORATION and isinstance(tag.holds[-1], Marked)
        if not goes_on:
            page.last = tag
            tag.holds.append(Marked(len(self.pages) - 1, len(page.stretches)))
            page.stretches.append(tag.kind)
        page.steps.append((len(page.stretches) - 1, step))
        if tag.kind == "Figure":
            edges = _edges(*step)
            tag.box = edges if tag.box is None else _around(tag.box, edges)

    # --- drawing steps --------------------------------------------------------------------------------------------

    def text(
        self,
        x: float,
        y: float,
        text: str,
        style: Style,
        *,
        align: Literal["left", "right", "centre"] = "left",
        strike: bool = False,
        joined: bool = False,
    ) -> float:
        """Set one line with its baseline at `y`; gives its width.

        Where it stands apart from the text before it in the same paragraph or cell, in another line above all, a space
        is put between the two, unless it is joined: it goes on a word.
        """
        printed = fonts.printable(text, style.face)
        if not printed:
            return 0.0
        wide = fonts.width(printed, style.face, style.size)
        if align != "left":
            x -= wide if align == "right" else wide / 2
        self._part(x, y, style, x + wide, joined=joined)
        if self.inside.kind == "Lbl":
            self.inside.label += printed
        at = x
        for face, part in fonts.runs(printed, style.face):
            self._put("text", at, y, face, style.size, style.colour, part, content=True)
            at += fonts.width(part, face, style.size)
        if strike:
            at = y - style.size * 0.29
            self._put("line", x - 0.6, at, x + wide + 0.6, at, 0.7, style.colour)
        return wide

    def _part(self, x: float, y: float, style: Style, end: float, *, joined: bool = False) -> None:
        """A text is about to be set from x to its end: with a space before it, where it is another word."""
        block = next((tag for tag in reversed(self._open) if tag.kind != "Link"), self.document)
        if self._decorating or block.kind == "Figure":
            return
        last, page = self._ended, len(self.pages) - 1
        self._ended = _Ended(block, page, end, y, style)
        if last is None or last.block is not block or joined:
            return
        if last.page != page:
            self._space(x, y, style)
        elif abs(y - last.y) > 0.01 or not -_APART * style.size < x - last.x < _APART * style.size:
            self._space(last.x, last.y, last.style)

    def _space(self, x: float, y: float, style: Style) -> None:
        self._put("text", x, y, style.face, style.size, style.colour, " ", content=True)

    def page_number(self, x: float, y: float, key: str, style: Style, *, on: bool = False) -> None:
        """The page on which `key` is bookmarked, in words, right-aligned at x and leading there. on: what it leads to
        goes on on other pages."""
        code = "page-reference-on" if on else "page-reference"
        wide = fonts.width(self.said(code, number=88), style.face, style.size)
        with self.tagged("Link") as link:
            self._part(x - wide, y, style, x)
            self._put("page number", x, y, key, style, code, content=True)
            link.holds.append(Linked(len(self.pages) - 1, self.pages[-1].annotations))
            self.pages[-1].annotations += 1
            self._put("link", x - wide, y - style.size, wide, style.size * 1.25, key, code)

    def line(self, x1: float, y1: float, x2: float, y2: float, thick: float = 0.4, colour: Colour = BLACK) -> None:
        """A rule."""
        self._put("line", x1, y1, x2, y2, thick, colour)

    def rect(
        self,
        x: float,
        y: float,
        wide: float,
        high: float,
        *,
        fill: Colour | None = None,
        stroke: Colour | None = None,
        thick: float = 0.5,
        dash: bool = False,
    ) -> None:
        """A rectangle by its upper left corner."""
        self._put("rect", x, y, wide, high, fill, stroke, thick, dash)

    def disc(self, x: float, y: float, r: float, fill: Colour = BLACK) -> None:
        """A filled circle around its centre."""
        self._put("disc", x, y, r, fill, fill)

    def ring(self, x: float, y: float, r: float, thick: float = 0.6, colour: Colour = BLACK) -> None:
        """A circle around its centre."""
        self._put("disc", x, y, r, WHITE, colour, thick)

    def shape(
        self, points: Sequence[tuple[float, float]], fill: Colour, stroke: Colour = BLACK, thick: float = 0.5
    ) -> None:
        """A filled polygon."""
        self._put("shape", points, fill, stroke, thick)

    def squares(self, x: float, y: float, side: float, rows: Sequence[Sequence[bool]]) -> None:
        """Rows of little squares, from above; True is dark."""
        self._put("squares", x, y, side, rows)

    def ink(self, strokes: Sequence[Sequence[tuple[float, float]]], thick: float = 1.1, colour: Colour = BLACK) -> None:
        """Lines as a finger drew them; a stroke of one point is a dot."""
        self._put("ink", strokes, thick, colour)

    def picture(self, x: float, y: float, wide: float, high: float, jpeg: bytes) -> None:
        """A JPEG picture by its upper left corner; it belongs into a figure."""
        self._put("picture", x, y, wide, high, jpeg, content=True)

    def bookmark(self, title: str, level: int, key: str, y: float) -> None:
        """An entry of the outline that leads to the height `y` of this page. key: lets references lead there too."""
        self.places[key] = len(self.pages)
        self.pages[-1].steps.append((_DECORATION, ("bookmark", title, level, y, key)))

    def anchor(self, key: str, y: float) -> None:
        """A place that references lead to and that the outline does not name."""
        self.places[key] = len(self.pages)
        self.pages[-1].steps.append((_DECORATION, ("anchor", y, key)))

    def nearest(self, key: str) -> str:
        """The place with this key, or what it lies within where it is not drawn; see `fieldassist.report.keys`."""
        while key not in self.places and ":" in key:
            key = key.rpartition(":")[0]
        return key

    # --- onto paper -----------------------------------------------------------------------------------------------

    def draw(
        self, canvas: Canvas, frame: Callable[[Pen, int, int, SheetPage], None], done: Callable[[int, int], None]
    ) -> None:
        """Draw every page. frame(pen, number, pages, page) draws head and foot, behind all else; done(number, pages)
        hears."""
        total = len(self.pages)
        letters = Letters(canvas)
        for number, page in enumerate(self.pages, start=1):
            pen = Pen(canvas, self.page_height, letters, page.stretches)
            for stretch, (name, *step) in page.steps:
                if name == "bookmark":
                    title, level, y, key = step
                    canvas.bookmarkHorizontal(key, 0, self.page_height - y + 6)
                    canvas.addOutlineEntry(fonts.printable(title, fonts.REGULAR), key, level=level, closed=level > 0)
                    continue
                if name == "anchor":
                    y, key = step
                    canvas.bookmarkHorizontal(key, 0, self.page_height - y + 6)
                    continue
                pen.within(stretch)
                if name == "page number":
                    x, y, key, style, code = step
                    text = fonts.printable(self.said(code, number=self.places[self.nearest(key)]), style.face)
                    pen.put(x - fonts.width(text, style.face, style.size), y, text, style)
                elif name == "link":
                    x, y, wide, high, key, code = step
                    key = self.nearest(key)
                    pen.link(x, y, wide, high, key, self.said(code, number=self.places[key]))
                else:
                    _DRAW[name](pen, *step)
            pen.within(_DECORATION)
            frame(pen, number, total, page)
            pen.end()
            canvas.showPage()
            done(number, total)


def _around(one: Box, other: Box) -> Box:
    return min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


def _edges(name: str, *step: Any) -> Box:
    """How far a drawing step reaches: its left, upper, right and lower edge; lines as if they had no width."""
    if name == "text":
        x, y, face, size, _, text = step
        return x, y - size, x + fonts.width(text, face, size), y + size / 4
    if name in ("rect", "picture"):
        x, y, wide, high = step[:4]
        return x, y, x + wide, y + high
    if name == "disc":
        x, y, r = step[:3]
        return x - r, y - r, x + r, y + r
    if name == "squares":
        x, y, side, rows = step
        return x, y, x + side * max(map(len, rows)), y + side * len(rows)
    points = (step[:2], step[2:4]) if name == "line" else chain(*step[0]) if name == "ink" else step[0]
    across, down = zip(*points, strict=True)
    return min(across), min(down), max(across), max(down)


# The colour of what is filled, letters too (ISO 32000-1, 8.6.8). The canvas need not know: nothing asks it.
_FILLED = "{:.3f} {:.3f} {:.3f} rg"


class Letters:
    """Texts as a page's content shows them (ISO 32000-1, 9.4.3), each coded once a document.

    The library's own text objects code every text anew and measure it besides, which is most of what a page costs.
    """

    def __init__(self, canvas: Canvas) -> None:
        self._document = canvas._doc
        self._coded: dict[tuple[str, str], tuple[tuple[str, str], ...]] = {}

    def coded(self, face: str, text: str) -> tuple[tuple[str, str], ...]:
        """The parts of a text by subset of its typeface: the subset's name in the document, and what shows the part."""
        known = self._coded.get((face, text))
        if known is None:
            font = pdfmetrics.getFont(face)
            known = self._coded[face, text] = tuple(
                (font.getSubsetInternalName(subset, self._document), f"({escapePDF(part)}) Tj")
                for subset, part in font.splitString(text, self._document)
            )
        return known


class Pen:
    """Draws one page; y counts from the top. It changes colour, width and typeface only where they differ."""

    def __init__(self, canvas: Canvas, height: float, letters: Letters, stretches: Sequence[TagKind] = ()) -> None:
        self.canvas = canvas
        self.height = height
        self._fill: Colour | None = None
        self._stroke: Colour | None = None
        self._thick = 0.0
        self._letters = letters
        self._font: tuple[str, float] | None = None
        self._stretches = stretches
        self._stretch: int | None = None

    def within(self, stretch: int) -> None:
        """What is drawn from here on belongs to this marked stretch, or is decoration (-1)."""
        if stretch == self._stretch:
            return
        self.end()
        decoration = stretch == _DECORATION
        marked = "/Artifact BMC" if decoration else f"/{self._stretches[stretch]} << /MCID {stretch} >> BDC"
        self.canvas.addLiteral(marked)
        self._stretch = stretch

    def end(self) -> None:
        """No more is drawn on the page, or in the stretch."""
        if self._stretch is not None:
            self.canvas.addLiteral("EMC")
            self._stretch = None

    def _set(self, fill: Colour | None, stroke: Colour | None = None, thick: float = 0.0) -> None:
        if fill is not None and fill != self._fill:
            self.canvas.addLiteral(_FILLED.format(*fill))
            self._fill = fill
        if stroke is not None:
            if stroke != self._stroke:
                self.canvas.setStrokeColorRGB(*stroke)
                self._stroke = stroke
            if thick != self._thick:
                self.canvas.setLineWidth(thick)
                self._thick = thick

    def text(self, x: float, y: float, face: str, size: float, colour: Colour, text: str) -> None:
        """One line of text, its baseline at y."""
        self._set(colour)
        content = [f"BT 1 0 0 1 {x:.2f} {self.height - y:.2f} Tm"]
        for font, shown in self._letters.coded(face, text):
            if (font, size) != self._font:
                content.append(f"{font} {size:g} Tf {size:g} TL")
                self._font = (font, size)
            content.append(shown)
        # T*, to the next line: else readers that take the words out run two texts of one height together.
        content.append("T* ET")
        self.canvas.addLiteral(" ".join(content))

    def put(self, x: float, y: float, text: str, style: Style) -> float:
        """One line of text in its style, its baseline at y, with what its typeface lacks; gives its width."""
        text = fonts.printable(text, style.face)
        for face, part in fonts.runs(text, style.face):
            self.text(x, y, face, style.size, style.colour, part)
            x += fonts.width(part, face, style.size)
        return fonts.width(text, style.face, style.size)

    def line(self, x1: float, y1: float, x2: float, y2: float, thick: float, colour: Colour) -> None:
        """A rule."""
        self._set(None, colour, thick)
        self.canvas.line(x1, self.height - y1, x2, self.height - y2)

    def rect(
        self,
        x: float,
        y: float,
        wide: float,
        high: float,
        fill: Colour | None,
        stroke: Colour | None,
        thick: float,
        dash: bool,
    ) -> None:
        """A rectangle by its upper left corner."""
        self._set(fill, stroke, thick)
        if dash:
            self.canvas.setDash(1.6, 1.4)
        below = self.height - y - high
        self.canvas.rect(x, below, wide, high, stroke=int(stroke is not None), fill=int(fill is not None))
        if dash:
            self.canvas.setDash()

    def disc(self, x: float, y: float, r: float, fill: Colour, stroke: Colour, thick: float = 0.7) -> None:
        """A filled circle around its centre."""
        self._set(fill, stroke, thick)
        self.canvas.circle(x, self.height - y, r, stroke=1, fill=1)

    def shape(self, points: Sequence[tuple[float, float]], fill: Colour, stroke: Colour, thick: float = 0.5) -> None:
        """A filled polygon."""
        path = self.canvas.beginPath()
        path.moveTo(points[0][0], self.height - points[0][1])
        for x, y in points[1:]:
            path.lineTo(x, self.height - y)
        path.close()
        self._set(fill, stroke, thick)
        self.canvas.drawPath(path, stroke=1, fill=1)

    def squares(self, x: float, y: float, side: float, rows: Sequence[Sequence[bool]]) -> None:
        """Little squares by their upper left corner; neighbours in a row are one rectangle, so that no seam shows."""
        path = self.canvas.beginPath()
        for at, row in enumerate(rows):
            column = 0
            for dark, run in groupby(row):
                long = len(list(run))
                if dark:
                    path.rect(x + column * side, self.height - y - (at + 1) * side, long * side, side)
                column += long
        self._set(BLACK)
        self.canvas.drawPath(path, stroke=0, fill=1)

    def ink(self, strokes: Sequence[Sequence[tuple[float, float]]], thick: float, colour: Colour) -> None:
        """Lines with round ends."""
        self._set(None, colour, thick)
        self.canvas.setLineCap(1)
        self.canvas.setLineJoin(1)
        for stroke in strokes:
            path = self.canvas.beginPath()
            path.moveTo(stroke[0][0], self.height - stroke[0][1])
            # A path of no length, drawn with round ends, is a dot (ISO 32000-1, 8.5.3.2).
            for x, y in stroke[1:] or stroke[:1]:
                path.lineTo(x, self.height - y)
            self.canvas.drawPath(path, stroke=1, fill=0)
        self.canvas.setLineCap(0)
        self.canvas.setLineJoin(0)

    def picture(self, x: float, y: float, wide: float, high: float, jpeg: bytes) -> None:
        """A JPEG picture by its upper left corner."""
        self.canvas.drawImage(ImageReader(io.BytesIO(jpeg)), x, self.height - y - high, wide, high)

    def link(self, x: float, y: float, wide: float, high: float, key: str, title: str) -> None:
        """A rectangle that leads to the bookmark `key`; printed as nothing (ISO 19005-3, 6.3.2: flag Print is set)."""
        below = self.height - y - high
        self.canvas.linkRect(title, key, (x, below, x + wide, below + high), relative=0, F=4)


_DRAW: dict[str, Callable[..., None]] = {
    "text": Pen.text,
    "line": Pen.line,
    "rect": Pen.rect,
    "disc": Pen.disc,
    "shape": Pen.shape,
    "squares": Pen.squares,
    "ink": Pen.ink,
    "picture": Pen.picture,
}
