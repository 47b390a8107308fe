"""Draws a movement: shapes in millimetres at one scale, with what is measured beside them."""

from __future__ import annotations

import math
from collections.abc import Callable

from fieldassist.language import Words
from fieldassist.ui.content.step_picture import Path, PictureBox, PictureMeasure, PicturePoint, StepPicture
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel, width_of

from kivy.graphics import Line, RoundedRectangle  # isort: skip

_BESIDE = 118.0  # room for a measure [dots]
_ROLES: dict[str, ColourName] = {
    "bare": "bare", "mortar": "mortar", "tile": "tile", "ink": "ink", "quiet": "quiet", "edge": "edge",
}  # fmt: skip


class StepDrawing(Drawn):
    """One movement, as large as its place allows."""

    def __init__(self, look: Look, picture: StepPicture, words: Words, **rest: object) -> None:
        self._picture = picture
        self._labels = [
            TextLabel(look, words(m.told), "small", bold=False, role="quiet", align="center", fit=True)
            for m in picture.measures
        ]
        super().__init__(look, **rest)
        for label in self._labels:
            self.add_widget(label)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look, picture = self.look, self._picture
        x, y, w, h = box
        up = any(m.start[0] == m.end[0] for m in picture.measures)
        across = any(m.start[1] == m.end[1] for m in picture.measures)
        beside = look.dots(_BESIDE + (look.text - 1) * 60) if up else look.dots(4)
        below = look.font("small") * 1.6 if across else look.dots(4)
        scale = min((w - beside) / picture.width, (h - below - look.dots(6)) / picture.height)
        left = x + (w - beside - scale * picture.width) / 2
        bottom = y + below + (h - below - scale * picture.height) / 2

        def at(point: PicturePoint) -> PicturePoint:
            return left + point[0] * scale, bottom + point[1] * scale

        for shape in picture.shapes:
            if isinstance(shape, PictureBox):
                self._box(shape, at, scale)
            else:
                self._path(shape, at)
        for measure, label in zip(picture.measures, self._labels, strict=True):
            self._measure(measure, label, at, bottom)

    def _box(self, shape: PictureBox, at: Callable[[PicturePoint], PicturePoint], scale: float) -> None:
        look = self.look
        (x, y), w, h = at((shape.x, shape.y)), shape.width * scale, shape.height * scale
        corner = min(w, h) / 2 if shape.round else 0.0
        if shape.fill is not None:
            if corner:
                marks.colour(look, _ROLES[shape.fill])
                RoundedRectangle(pos=(x, y), size=(w, h), radius=[corner])
            else:
                marks.field(look, (x, y, w, h), _ROLES[shape.fill])
        if shape.line is not None:
            marks.frame(look, (x, y, w, h), _ROLES[shape.line], 6 if shape.wide else 4)

    def _path(self, shape: Path, at: Callable[[PicturePoint], PicturePoint]) -> None:
        look, role = self.look, _ROLES[shape.role]
        points = [at(point) for point in shape.points]
        thick = 10.0 if shape.wide else 6.0
        if len(points) > 8:
            thick = 7.0
        marks.stroke(look, [value for point in points for value in point], role, thick)
        if shape.head:
            self._head(points[-2], points[-1], role, thick)
        if shape.tail:
            self._head(points[1], points[0], role, thick)

    def _head(self, before: PicturePoint, end: PicturePoint, role: ColourName, thick: float) -> None:
        angle = math.atan2(end[1] - before[1], end[0] - before[0])
        size = self.look.dots(38 if thick > 8 else 26)
        sides = [
            (end[0] - size * math.cos(angle + turn), end[1] - size * math.sin(angle + turn)) for turn in (0.7, -0.7)
        ]
        marks.colour(self.look, role)
        points = [*sides[0], *end, *sides[1]]
        Line(points=points, width=max(1.0, self.look.dots(thick) / 2), cap="round", joint="round")

    def _measure(
        self, measure: PictureMeasure, label: TextLabel, at: Callable[[PicturePoint], PicturePoint], bottom: float
    ) -> None:
        look = self.look
        high = look.font("small") * 1.25
        (x1, y1), (x2, y2) = at(measure.start), at(measure.end)
        wide = width_of(label.words, look.font("small")) + look.dots(14)
        if y1 == y2:
            y = bottom - look.font("small") * 0.85
            middle = (x1 + x2) / 2
            for start, end in ((x1, middle - wide / 2), (middle + wide / 2, x2)):
                if end > start:
                    marks.stroke(look, (start, y, end, y), "quiet", 3)
            for x in (x1, x2):
                marks.stroke(look, (x, y - look.dots(8), x, y + look.dots(8)), "quiet", 3)
            label.pos, label.size = (middle - wide / 2, y - high / 2), (wide, high)
            return
        x = x1 + look.dots(52)
        middle = (y1 + y2) / 2
        for start, end in ((y1, middle - high * 0.6), (middle + high * 0.6, y2)):
            marks.stroke(look, (x, start, x, end), "quiet", 3)
        for y in (y1, y2):
            marks.stroke(look, (x - look.dots(8), y, x + look.dots(8), y), "quiet", 3)
        room = min(wide, 2 * (self.right - x))
        label.pos, label.size = (x - room / 2, middle - high / 2), (room, high)
