"""Shapes that are drawn into a canvas: signs, hatching, dashes, notched lines; for use inside `with canvas:`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import hypot
from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content import signs
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets.look import Look

from kivy.graphics import Color, Line, Mesh, Rectangle  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# A drawing has no more vertices: it counts them in 16 bits.
_MOST_VERTICES = 65_535
PixelBox = tuple[float, float, float, float]  # left, bottom, width and height [pixels]


def colour(look: Look, name: ColourName) -> None:
    """What is drawn next is drawn in this colour."""
    Color(*look.ink(name))


def sign(look: Look, name: SignName, x: float, y: float, side: float, role: ColourName = "ink") -> None:
    """A sign in a square with its left lower corner at x, y [pixels]."""
    colour(look, role)
    scale = side / signs.BOX
    for line in signs.lines(name):
        points = [value for px, py in line for value in (x + px * scale, y + side - py * scale)]
        Line(points=points, width=max(1.0, signs.STROKE * scale / 2), cap="round", joint="round")


def field(look: Look, box: PixelBox, role: ColourName) -> None:
    """A field of one colour."""
    colour(look, role)
    Rectangle(pos=box[:2], size=box[2:])


def frame(look: Look, box: PixelBox, role: ColourName, thick: float) -> None:
    """The edge of a box, `thick` dots wide, inside of it."""
    colour(look, role)
    half = look.dots(thick) / 2
    x, y, w, h = box
    Line(rectangle=(x + half, y + half, w - 2 * half, h - 2 * half), width=max(1.0, half), joint="miter", cap="square")


def stroke(look: Look, points: Sequence[float], role: ColourName, thick: float) -> None:
    """A line through places x, y, x, y, ... [pixels], `thick` dots wide, with round ends."""
    colour(look, role)
    Line(points=list(points), width=max(1.0, look.dots(thick) / 2), cap="round", joint="round")


def polygon(look: Look, points: Sequence[float], role: ColourName) -> None:
    """A convex field with corners at x, y, x, y, ... [pixels]."""
    colour(look, role)
    vertices: list[float] = []
    for x, y in zip(points[::2], points[1::2], strict=True):
        vertices += [x, y, 0.0, 0.0]
    Mesh(vertices=vertices, indices=list(range(len(points) // 2)), mode="triangle_fan")


def hatch(
    look: Look, box: PixelBox, role: ColourName, *, apart: float = 18, thick: float = 5, falling: bool = False
) -> None:
    """Slanting strokes over a box, cut at its edges. apart, thick: in dots."""
    colour(look, role)
    bars(_slants(box, look.dots(apart), falling=falling), max(1.0, look.dots(thick) / 2))


def bars(lines: Iterable[tuple[float, float, float, float]], half: float) -> Mesh:
    """Straight strokes without caps, as one thing to draw: a wall has thousands of them. half: their half width
    [pixels]."""
    vertices: list[float] = []
    indices: list[int] = []
    for x1, y1, x2, y2 in lines:
        length = hypot(x2 - x1, y2 - y1)
        if length == 0:
            continue
        ox, oy = half * (y1 - y2) / length, half * (x2 - x1) / length
        first = len(vertices) // 4
        if first + 4 > _MOST_VERTICES:
            break
        for x, y in ((x1 + ox, y1 + oy), (x1 - ox, y1 - oy), (x2 - ox, y2 - oy), (x2 + ox, y2 + oy)):
            vertices += (x, y, 0.0, 0.0)
        indices += (first, first + 1, first + 2, first, first + 2, first + 3)
    return Mesh(vertices=vertices, indices=indices, mode="triangles")


def _slants(box: PixelBox, apart: float, *, falling: bool) -> Iterator[tuple[float, float, float, float]]:
    x, y, w, h = box
    at = -h + apart / 2
    while at < w:
        low, high = max(0.0, -at), min(h, w - at)
        if high > low:
            x1, x2 = at + low, at + high
            if falling:
                yield x + x1, y + h - low, x + x2, y + h - high
            else:
                yield x + x1, y + low, x + x2, y + high
        at += apart


def dashed(look: Look, box: PixelBox, role: ColourName, *, thick: float = 2, dash: float = 8, space: float = 6) -> None:
    """The edge of a box in dashes. thick, dash, space: in dots."""
    colour(look, role)
    dashes(look, box, thick=thick, dash=dash, space=space)


def dashes(look: Look, box: PixelBox, *, thick: float, dash: float, space: float) -> None:
    """The same, in the colour in which is drawn."""
    x, y, w, h = box
    corners = ((x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y))
    _dash_lines(look, [(*one, *other) for one, other in pairwise(corners)], thick, dash, space)


def dashed_lines(
    look: Look,
    lines: Iterable[tuple[float, float, float, float]],
    role: ColourName,
    *,
    thick: float = 2,
    dash: float = 8,
    space: float = 6,
) -> None:
    """Straight lines in dashes, x, y to x, y each [pixels]. thick, dash, space: in dots."""
    colour(look, role)
    _dash_lines(look, lines, thick, dash, space)


def _dash_lines(
    look: Look, lines: Iterable[tuple[float, float, float, float]], thick: float, dash: float, space: float
) -> None:
    on, step = look.dots(dash), look.dots(dash + space)
    bars((bar for line in lines for bar in _dashes(line, on, step)), max(1.0, look.dots(thick) / 2))


def _dashes(
    line: tuple[float, float, float, float], on: float, step: float
) -> Iterator[tuple[float, float, float, float]]:
    x1, y1, x2, y2 = line
    length = hypot(x2 - x1, y2 - y1)
    if length < 1:
        return
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    at = 0.0
    while at < length:
        end = min(length, at + on)
        yield x1 + ux * at, y1 + uy * at, x1 + ux * end, y1 + uy * end
        at += step


def notched(
    look: Look,
    line: tuple[float, float, float, float],
    role: ColourName,
    *,
    pitch: float = 20,
    deep: float = 10,
    thick: float = 4,
) -> None:
    """An upright or level line with square notches, as a trowel's edge: they go to the left of its direction."""
    x1, y1, x2, y2 = line
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    if length < 1:
        return
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    d = look.dots(deep)
    count = max(1, round(length / look.dots(pitch)))
    step = length / count
    points: list[float] = []
    for k in range(count):
        for share, off in ((0.0, 0.0), (0.25, 0.0), (0.25, d), (0.75, d), (0.75, 0.0), (1.0, 0.0)):
            at = (k + share) * step
            points += [x1 + ux * at - uy * off, y1 + uy * at + ux * off]
    colour(look, role)
    Line(points=points, width=max(1.0, look.dots(thick) / 2), cap="square", joint="miter")


def tick_corner(look: Look, box: PixelBox, side: float = 44) -> None:
    """The folded corner with a tick of what is chosen, at the upper right of a box."""
    x, y, w, h = box
    s = look.dots(side)
    polygon(look, (x + w - s, y + h, x + w, y + h, x + w, y + h - s), "ink")
    sign(look, "pass", x + w - s * 0.56, y + h - s * 0.56, s * 0.5, "key")


class Sign(Widget):
    """A sign by itself, in the middle of its place."""

    def __init__(self, look: Look, name: SignName, side: float = 48, role: ColourName = "ink", **rest: Any) -> None:
        rest.setdefault("size_hint", (None, None))
        rest.setdefault("size", (look.dots(side), look.dots(side)))
        super().__init__(**rest)
        self._look, self._name, self._side, self._role = look, name, side, role
        self.bind(pos=self._draw, size=self._draw)
        self._draw()

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        side = self._look.dots(self._side)
        with self.canvas:
            sign(
                self._look,
                self._name,
                self.x + (self.width - side) / 2,
                self.y + (self.height - side) / 2,
                side,
                self._role,
            )
