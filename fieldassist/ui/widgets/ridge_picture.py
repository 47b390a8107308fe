"""Sections of ridges and trowels' edges, drawn to scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from fieldassist.trade import ridges
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.ridge_drawing import Corners, Cut, Outline, edge
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look

from kivy.graphics import Line, Mesh, StencilPop, StencilPush, StencilUnUse, StencilUse  # isort: skip
from kivy.graphics.tesselator import Tesselator  # isort: skip

# The largest scale at which a section is drawn [dots a mm]: 1.3 times as large as it is.
MOST_DOTS = 7.6
_FILL: dict[str, ColourName] = {
    "tile": "tile",
    "mortar": "mortar",
    "base": "bare",
    "bare": "bare",
    "air": "sheet",
    "plate": "tile",
}


class CutPicture(Drawn):
    """A section, as wide as its place; tallest_mm: the highest of those that are drawn to the same scale."""

    def __init__(self, look: Look, cut: Callable[[float], Cut], tallest_mm: float, **rest: Any) -> None:
        self._cut, self._tallest = cut, tallest_mm
        super().__init__(look, **rest)

    @property
    def scale(self) -> float:
        """Pixels a millimetre."""
        return float(min(self.look.dots(MOST_DOTS), self.height / self._tallest))

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        draw_cut(self.look, self._cut(self.width / self.scale), box, self.scale)


def draw_cut(look: Look, cut: Cut, box: marks.PixelBox, scale: float) -> None:
    """Draw a section into the upper part of a box [pixels], at so many pixels a millimetre."""
    x, _, _, h = box
    bottom = box[1] + h - cut.height_mm * scale
    for outline in cut.outlines:
        points = [(x + u * scale, bottom + v * scale) for u, v in outline.corners]
        _draw_outline(look, outline, points)


def _draw_outline(look: Look, outline: Outline, points: Sequence[tuple[float, float]]) -> None:
    flat = [value for point in points for value in point]
    if outline.role in ("air", "base"):
        hatched(look, points, "fail" if outline.role == "air" else "edge", _FILL[outline.role])
    else:
        fill(look, points, _FILL[outline.role])
    marks.colour(look, "fail" if outline.role == "air" else "ink")
    Line(points=flat, close=True, width=max(1.0, look.dots(1.6)), joint="round")


def fill(look: Look, points: Sequence[tuple[float, float]], role: ColourName) -> None:
    """Fill any polygon [pixels]."""
    marks.colour(look, role)
    _meshes(points)


def _meshes(points: Sequence[tuple[float, float]]) -> None:
    tesselator = Tesselator()
    tesselator.add_contour([value for point in points for value in point])
    if tesselator.tesselate():
        for vertices, indices in tesselator.meshes:
            Mesh(vertices=vertices, indices=indices, mode="triangle_fan")


def hatched(look: Look, points: Sequence[tuple[float, float]], role: ColourName, ground: ColourName) -> None:
    """Hatch any polygon [pixels] over a ground."""
    fill(look, points, ground)
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    low, high = min(y for _, y in points), max(y for _, y in points)
    StencilPush()
    marks.colour(look, role)
    _meshes(points)
    StencilUse()
    marks.hatch(look, (left, low, right - left, high - low), role, apart=9, thick=3)
    StencilUnUse()
    _meshes(points)
    StencilPop()


def draw_edge(look: Look, notch: ridges.Notch, box: marks.PixelBox, *, wide_mm: float, thick: float = 4) -> None:
    """A part of a trowel's edge in a box [pixels]: about wide_mm of it, so that two beside each other compare [mm]."""
    corners: Corners = edge(notch, wide_mm)
    x, y, w, h = box
    wide, high = max(u for u, _ in corners), max(v for _, v in corners)
    scale = min(w / wide, h / high)
    left = x + (w - wide * scale) / 2
    points = [(left + u * scale, y + h - (high - v) * scale) for u, v in corners]
    fill(look, points, "tile")
    marks.colour(look, "ink")
    Line(points=[c for p in points for c in p], close=True, width=max(1.0, look.dots(thick) / 2), joint="miter")
