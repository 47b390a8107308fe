"""Ridges of mortar to scale: as they are combed, as they lie once collapsed, and where the base is off."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldassist.assess.method import RidgePicture
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.planning import Drawing
from fieldassist.ui.content.theme import rgb
from fieldassist.ui.widgets.parts import TYPEFACE, Look, gap

from kivy.core.text import Label as Text  # isort: skip
from kivy.graphics import Color, Line, Mesh, Rectangle  # isort: skip
from kivy.metrics import mm  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

# On the glass, in mm: not to scale, since neither the base nor the whole tile is of interest here.
_BASE_MM, _TILE_MM, _CLEAR_MM = 4.0, 5.0, 4.0
_TALLEST_MM = 30.0
# How many strips the gap under a tile is drawn in.
_STRIPS = 16
_SCALES = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0, 0.75, 0.5, 0.25, 0.1)


def scale_for(drawing: RidgePicture, width_mm: float, height_mm: float) -> float:
    """The largest of the usual scales at which two ridges, and the tallest picture, find room on the glass.

    Parameters: width_mm, height_mm: of the glass there is [mm].
    """
    tallest = max(drawing.height_mm * (2 if drawing.both else 1), drawing.bed_mm, 1.5 * drawing.high_mm)
    for scale in _SCALES:
        if 2 * drawing.pitch_mm * scale <= width_mm and tallest * scale <= height_mm:
            return scale
    return _SCALES[-1]


def scale_words(scale: float) -> str:
    """A scale as drawings name it, and in words.

    >>> scale_words(2.5)
    'Scale 2.5 : 1 (drawn 2.5 times as large as it is)'
    >>> scale_words(1.0)
    'Scale 1 : 1 (drawn as large as it is)'
    """
    if scale == 1:
        return "Scale 1 : 1 (drawn as large as it is)"
    if scale > 1:
        return f"Scale {scale:g} : 1 (drawn {scale:g} times as large as it is)"
    return f"Scale 1 : {1 / scale:.3g} (drawn {1 / scale:.3g} times smaller than it is)"


class Ridges(Widget):
    """The pictures of a `Drawing`, under each other, as wide as there is room and as high as they need to be.

    scale: at which heights and ridges are drawn; said: all words in them, from top to bottom.
    """

    def __init__(self, look: Look, drawing: Drawing, **rest: Any) -> None:
        super().__init__(size_hint_y=None, height=0.0, **rest)
        self._look, self.drawing, self._captions = look, drawing.measures, drawing.captions
        self.scale = 1.0
        self.said: list[str] = []
        self._unit = float(mm(1))
        captions = self._captions
        self._left = self._text(captions["low"]).width + 4 * gap()
        self._right = max(self._text(captions[name]).width for name in ("height", "bed", "high")) + 4 * gap()
        self.bind(width=self._measure, pos=self._draw, size=self._draw)

    # --- measures -------------------------------------------------------------------------------------------------

    def _text(self, words: str, width: float | None = None, *, small: bool = False) -> Any:
        label = Text(
            text=words,
            font_name=TYPEFACE,
            font_size=self._look.font("small" if small else "plain"),
            bold=not small,
            text_size=(width, None),
            color=(*rgb(self._look.theme.panel.foreground), 1),
        )
        label.refresh()
        return label.texture

    def _measure(self, *_: Any) -> None:
        """Choose the scale for the width there is, and take the height that the pictures need."""
        self.scale = scale_for(self.drawing, self._room() / mm(1), _TALLEST_MM)
        self._unit = self.scale * mm(1)
        self.height = self._compose(0.0, 0.0, draw=False)

    def _draw(self, *_: Any) -> None:
        if self.width <= self._left + self._right:
            return
        self.canvas.clear()
        self.said = []
        with self.canvas:
            self._compose(self.x, self.top, draw=True)

    # --- the pictures ---------------------------------------------------------------------------------------------

    def _compose(self, x: float, top: float, *, draw: bool) -> float:
        """All pictures from `top` down; draw: or only measured. How high they are."""
        drawing, y = self.drawing, top
        pictures = [("before", self._combed), ("after", self._collapsed)]
        if drawing.high_mm > drawing.low_mm:
            pictures.append(("off", self._over_a_gap))
        for name, picture in pictures:
            y -= self._words(self._captions[name], x, y, draw=draw)
            y -= picture(x + self._left, y, draw) + 2 * gap()
        y -= self._words(scale_words(self.scale), x, y, draw=draw, small=True)
        return top - y

    def _words(self, words: str, x: float, top: float, *, draw: bool, small: bool = False) -> float:
        texture = self._text(words, self.width, small=small)
        if draw:
            self._put(texture, x, top - texture.height, words)
        return float(texture.height) + gap()

    def _put(self, texture: Any, x: float, y: float, words: str) -> None:
        Color(1, 1, 1, 1)
        Rectangle(texture=texture, pos=(x, y), size=texture.size)
        self.said.append(words)

    def _combed(self, x: float, top: float, draw: bool) -> float:
        drawing, unit = self.drawing, self._unit
        ridge = drawing.height_mm * unit
        clear = mm(_CLEAR_MM)
        between = ridge * (2 if drawing.both else 1) + clear
        line = float(self._text("0").height)
        tall = self._tile() + between + mm(_BASE_MM) + line + 2 * gap()
        if draw:
            right = x + self._room()
            back = top - self._tile()
            floor = back - between
            self._draw_tile(x, back)
            starts = self._starts()
            for start in starts:
                self._mortar([(x + (start + u) * unit, floor + v * unit) for u, v in drawing.ridge])
                if drawing.both:
                    self._mortar([(x + (start + u) * unit, back - v * unit) for u, v in drawing.ridge])
            self._draw_base(x, floor)
            self._upright(right, floor, floor + ridge, self._captions["height"])
            if len(starts) > 1:
                first, second = (x + (start + drawing.ridge[0][0]) * unit for start in starts[:2])
                self._level(first, second, floor - mm(_BASE_MM) - gap(), self._captions["pitch"])
        return float(tall)

    def _collapsed(self, x: float, top: float, draw: bool) -> float:
        bed = self.drawing.bed_mm * self._unit
        if draw:
            back = top - self._tile()
            self._draw_tile(x, back)
            right = x + self._room()
            self._mortar([(x, back - bed), (x, back), (right, back), (right, back - bed)])
            self._draw_base(x, back - bed)
            self._upright(right, back - bed, back, self._captions["bed"])
        return float(self._tile() + max(bed, self._text("0").height) + mm(_BASE_MM))

    def _over_a_gap(self, x: float, top: float, draw: bool) -> float:
        """The gap from the high to the low places: mortar of the bed's volume bridges the share bed over gap of it."""
        drawing, unit = self.drawing, self._unit
        low, high = drawing.low_mm * unit, drawing.high_mm * unit
        if draw:
            back, room = top - self._tile(), self._room()
            self._draw_tile(x, back)
            for strip in range(_STRIPS):
                ends = [low + (high - low) * (strip + side) / _STRIPS for side in (0, 1)]
                mean = sum(ends) / 2
                share = min(1.0, drawing.bed_mm * unit / mean)
                left = x + room * strip / _STRIPS
                right = left + room / _STRIPS * share
                deep = ends[0] + (ends[1] - ends[0]) * share
                self._mortar([(left, back - ends[0]), (left, back), (right, back), (right, back - deep)], edge=False)
            self._draw_base(x, back - low, back - high)
            self._upright(x, back - low, back, self._captions["low"], leftward=True)
            self._upright(x + room, back - high, back, self._captions["high"])
        return float(self._tile() + max(high, self._text("0").height) + mm(_BASE_MM))

    # --- what they are made of ------------------------------------------------------------------------------------

    def _room(self) -> float:
        return float(max(1.0, self.width - self._left - self._right))

    def _tile(self) -> float:
        return float(min(self.drawing.piece_mm * self._unit, mm(_TILE_MM)))

    def _starts(self) -> list[float]:
        """Where ridges begin, as many as there is room for [mm]."""
        drawing, room = self.drawing, self._room() / self._unit
        widest = max(u for u, _ in drawing.ridge)
        count = max(1, int((room - widest) / drawing.pitch_mm) + 1)
        used = (count - 1) * drawing.pitch_mm + widest
        return [(room - used) / 2 + number * drawing.pitch_mm for number in range(count)]

    def _mortar(self, corners: Sequence[tuple[float, float]], *, edge: bool = True) -> None:
        theme = self._look.theme
        vertices: list[float] = []
        for x, y in corners:
            vertices += [x, y, 0.0, 0.0]
        Color(*rgb(theme.first.ground))
        Mesh(vertices=vertices, indices=list(range(len(corners))), mode="triangle_fan")
        if edge:
            Color(*rgb(theme.panel.foreground))
            Line(points=[end for corner in corners for end in corner], close=True, width=1.0)

    def _draw_tile(self, x: float, back: float) -> None:
        """The tile's lower part; a jagged edge says that it goes on above."""
        theme, right, top = self._look.theme, x + self._room(), back + self._tile()
        Color(*rgb(theme.button.ground))
        Rectangle(pos=(x, back), size=(right - x, top - back))
        Color(*rgb(theme.panel.foreground))
        Line(points=(x, top, x, back, right, back, right, top), width=1.2)
        if self.drawing.piece_mm * self._unit > mm(_TILE_MM):
            step = mm(3)
            points: list[float] = []
            for number in range(int((right - x) / step) + 1):
                points += [x + number * step, top + (gap() / 3 if number % 2 else -gap() / 3)]
            Line(points=points, width=1.0)
        else:
            Line(points=(x, top, right, top), width=1.2)
        self._name("tile", x + gap(), back + (top - back) / 2)

    def _draw_base(self, x: float, left: float, right: float | None = None) -> None:
        """The base, hatched as a cut body is (ISO 128-3, from memory): level, or from `left` to `right` height."""
        end = x + self._room()
        right = left if right is None else right
        deep, step = mm(_BASE_MM) * 0.8, mm(2.5)
        Color(*rgb(self._look.theme.panel.foreground))
        Line(points=(x, left, end, right), width=1.6)
        for number in range(1, int((end - x) / step) + 1):
            at = x + number * step
            height = left + (right - left) * (at - x) / (end - x)
            Line(points=(at, height, max(x, at - deep), height - min(deep, at - x)), width=1.0)

    def _name(self, words: str, x: float, middle: float) -> None:
        texture = self._text(words, small=True)
        if texture.height <= self._tile():
            self._put(texture, x, middle - texture.height / 2, words)

    def _upright(self, x: float, low: float, high: float, words: str, *, leftward: bool = False) -> None:
        """A height beside the picture: a line with strokes at its ends, and the figure."""
        side = -1 if leftward else 1
        at = x + side * 2 * gap()
        Color(*rgb(self._look.theme.panel.foreground))
        for y in (low, high):
            Line(points=(x + side * gap() / 2, y, at + side * gap() / 2, y), width=1.0)
            Line(points=(at - gap() / 2, y - gap() / 2, at + gap() / 2, y + gap() / 2), width=1.5)
        Line(points=(at, low, at, high), width=1.0)
        texture = self._text(words)
        left = at - gap() - texture.width if leftward else at + gap()
        self._put(texture, left, (low + high) / 2 - texture.height / 2, words)

    def _level(self, left: float, right: float, y: float, words: str) -> None:
        """A length under the picture, the figure to its right."""
        Color(*rgb(self._look.theme.panel.foreground))
        for x in (left, right):
            Line(points=(x, y + gap(), x, y - gap()), width=1.0)
            Line(points=(x - gap() / 2, y - gap() / 2, x + gap() / 2, y + gap() / 2), width=1.5)
        Line(points=(left, y, right, y), width=1.0)
        texture = self._text(words)
        self._put(texture, right + gap(), y - texture.height / 2, words)
