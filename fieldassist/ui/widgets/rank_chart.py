"""A trial's ranking as it is drawn: samples as circles, the interval of a mean as a bar, the line that is needed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldassist.trade.ridges import Notch
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content import signs
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.trial_rank import RankMark, RankRow, dodged, ticks
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.ridge_picture import draw_edge
from fieldassist.ui.widgets.text import TextLabel, width_of

from kivy.graphics import Line, Rectangle  # isort: skip

# Beside the scale, so that its labels go in [dots].
_PAD = 44.0
_BAR, _CIRCLE = 28.0, 13.0
# How much of a trowel's edge is drawn [mm].
_EDGE_MM = 66.0
_TWO_COLUMNS = 3
_FILL: dict[RankMark, tuple[ColourName, ColourName]] = {
    "pass": ("pass_", "on_pass"),
    "question": ("due", "on_due"),
    "fail": ("fail_plate", "on_fail"),
}


def _bold_sign(look: Look, name: RankMark, x: float, y: float, side: float, role: ColourName) -> None:
    """A sign that is seen although it is small: its lines are thicker than its size has them."""
    scale = side / signs.BOX
    for line in signs.lines(name):
        points = [value for px, py in line for value in (x + px * scale, y + side - py * scale)]
        marks.stroke(look, points, role, 4.5)


class EdgePicture(Drawn):
    """A part of a trowel's edge, in the middle of its place."""

    def __init__(self, look: Look, notch: Notch, **rest: Any) -> None:
        self._notch = notch
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        x, y, w, h = box
        high = min(h, self.look.dots(56))
        draw_edge(self.look, self._notch, (x, y + (h - high) / 2, w, high), wide_mm=_EDGE_MM, thick=4)


class EdgesPicture(Drawn):
    """The edges of all trowels that a trial tries, in two columns where they are many."""

    def __init__(self, look: Look, notches: Sequence[Notch], **rest: Any) -> None:
        self._notches = tuple(dict.fromkeys(notches))
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw them."""
        x, y, w, h = box
        columns = 1 if len(self._notches) < _TWO_COLUMNS else 2
        rows = -(-len(self._notches) // columns)
        wide, high = w / columns, min(h / rows, self.look.dots(70))
        for at, notch in enumerate(self._notches):
            left, top = x + at % columns * wide, y + h - at // columns * high
            inner = (left + wide * 0.08, top - high * 0.85, wide * 0.84, high * 0.7)
            draw_edge(self.look, notch, inner, wide_mm=_EDGE_MM, thick=3)


def place_on(look: Look, box: marks.PixelBox, start: int, percent: float) -> float:
    """Where a percentage lies across a chart [pixels]."""
    x, _, w, _ = box
    pad = look.dots(_PAD)
    return x + pad + (min(100.0, max(start, percent)) - start) / (100 - start) * (w - 2 * pad)


class RankChart(Drawn):
    """One row: its circles and its bar."""

    def __init__(self, look: Look, row: RankRow, start: int, needed: float, **rest: Any) -> None:
        self._row, self._start, self._needed = row, start, needed
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look, row = self.look, self._row
        _, y, _, h = box
        for percent in ticks(self._start):
            at = place_on(look, box, self._start, percent)
            marks.stroke(look, (at, y, at, y + h), "edge", 1.5)
        at = place_on(look, box, self._start, self._needed)
        marks.dashed_lines(look, [(at, y, at, y + h)], "ink", thick=5, dash=11, space=7)
        bar = min(look.dots(_BAR), h * 0.34)
        top = y + h - look.dots(5)
        self._draw_circles(box, top - bar - look.dots(4))
        if row.low is not None and row.high is not None and row.mark is not None:
            left, right = (place_on(look, box, self._start, value) for value in (row.low, row.high))
            self._draw_bar((left, top - bar, max(look.dots(8), right - left), bar), row.mark)

    def _draw_bar(self, box: marks.PixelBox, mark: RankMark) -> None:
        look = self.look
        x, y, w, h = box
        fill, on = _FILL[mark]
        if self._row.shown:
            # Nobody may use it: an outline alone.
            marks.field(look, box, "sheet")
            marks.dashed(look, box, "ink", thick=3)
            on = "ink"
        else:
            marks.colour(look, "ink")
            Rectangle(pos=(x, y), size=(w, h))
            edge = look.dots(3)
            marks.colour(look, fill)
            Rectangle(pos=(x + edge, y + edge), size=(max(0.0, w - 2 * edge), max(0.0, h - 2 * edge)))
        side = h * 0.78
        if w >= side + look.dots(6):
            _bold_sign(look, mark, x + (w - side) / 2, y + (h - side) / 2, side, on)
        else:
            _bold_sign(look, mark, x - side - look.dots(6), y + (h - side) / 2, side, "ink")

    def _draw_circles(self, box: marks.PixelBox, top: float) -> None:
        look, row = self.look, self._row
        wide = look.dots(_CIRCLE)
        room = max(1, int((top - box[1]) // wide))
        places = [place_on(look, box, self._start, percent) for percent in row.circles]
        for at, level in zip(places, dodged(places, wide * 1.1, room), strict=True):
            middle = top - wide * (level + 0.5)
            marks.colour(look, "sheet")
            Line(circle=(at, middle, wide * 0.22), width=wide * 0.22)
            marks.colour(look, "ink")
            Line(circle=(at, middle, wide * 0.45), width=max(1.0, look.dots(1.4)))


class RankScale(Drawn):
    """The scale under the rows: what is needed in bold, and as many of the lines as there is room to name."""

    def __init__(self, look: Look, start: int, needed: float, told: tuple[str, str], **rest: Any) -> None:
        """told: what is needed, and the word under it."""
        self._start, self._needed = start, needed
        self._names: list[tuple[float, TextLabel]] = []
        super().__init__(look, **rest)
        for percent in ticks(start):
            self._name(percent, f"{percent} %", bold=False)
        self._own = (self._name(needed, told[0], bold=True), self._name(needed, told[1], bold=True))
        self.again()

    def _name(self, percent: float, words: str, *, bold: bool) -> TextLabel:
        label = TextLabel(self.look, words, "small", bold=bold, align="center", fit=True)
        self._names.append((percent, label))
        return label

    def draw(self, box: marks.PixelBox) -> None:
        """Put the names under their lines; those for which there is no room are left out."""
        if not hasattr(self, "_own"):
            return
        look = self.look
        line = look.font("small") * 1.25
        self.clear_widgets()
        taken: list[tuple[float, float]] = []
        for percent, label in (*reversed(self._names[-2:]), *self._by_weight()):
            wide = width_of(label.words, look.font("small"), bold=label.bold) + look.dots(10)
            at = place_on(look, box, self._start, percent)
            left = min(max(box[0], at - wide / 2), box[0] + box[2] - wide)
            own = label in self._own
            if not own and any(left < right and other < left + wide for other, right in taken):
                continue
            taken.append((left, left + wide))
            down = 2 if label is self._own[1] else 1
            label.pos, label.size = (left, box[1] + box[3] - down * line), (wide, line)
            self.add_widget(label)

    def _by_weight(self) -> list[tuple[float, TextLabel]]:
        """The ends of the scale first, then whole tens, then the rest."""
        lines = self._names[:-2]
        return sorted(lines, key=lambda one: (one[0] not in (self._start, 100), one[0] % 10, one[0]))
