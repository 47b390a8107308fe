"""The back of a lifted tile, to be marked cell by cell with a finger."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.back_grid import PART, PARTS, SIDE, GridCell, Sketch
from fieldassist.ui.content.theme import rgb
from fieldassist.ui.widgets.parts import Look, gap

from kivy.graphics import Color, Line, Mesh, Rectangle  # isort: skip
from kivy.uix.anchorlayout import AnchorLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip


class TileBack(Widget):
    """The cells of a sketch, or those of one of its PARTS, to be marked with a finger.

    changed: called whenever a cell was; ended: once the finger is up.
    """

    def __init__(
        self,
        look: Look,
        sketch: Sketch,
        changed: Callable[[], None],
        ended: Callable[[], None],
        part: str | None = None,
        **rest: Any,
    ) -> None:
        super().__init__(size_hint=(None, None), **rest)
        self.sketch = sketch
        self._look, self._changed, self._ended = look, changed, ended
        self.cells = (SIDE, SIDE) if part is None else PART  # how many are seen across and down
        self._first = (0, 0) if part is None else PARTS[part]
        self.bind(pos=self.draw, size=self.draw)

    def draw(self, *_: Any) -> None:
        """Show the cells: full ones are filled, half ones in a triangle, empty ones are only framed."""
        theme = self._look.theme
        wide, high = self.width / self.cells[0], self.height / self.cells[1]
        inner = gap() / 6
        self.canvas.clear()
        with self.canvas:
            Color(*rgb(theme.panel.ground))
            Rectangle(pos=self.pos, size=self.size)
            for column in range(self.cells[0]):
                for row in range(self.cells[1]):
                    cell = self.sketch.grid.at((self._first[0] + column, self._first[1] + row))
                    x, y = self.x + column * wide, self.top - (row + 1) * high
                    left, low, right, top = x + inner, y + inner, x + wide - inner, y + high - inner
                    Color(*rgb(theme.panel.foreground))
                    if cell is GridCell.FULL:
                        Rectangle(pos=(left, low), size=(right - left, top - low))
                    elif cell is GridCell.HALF:
                        corners = [left, low, 0, 0, left, top, 0, 0, right, top, 0, 0]
                        Mesh(vertices=corners, indices=[0, 1, 2], mode="triangles")
                    Color(*rgb(theme.line))
                    Line(rectangle=(x, y, wide, high), width=1)
            Color(*rgb(theme.panel.foreground))
            Line(rectangle=(*self.pos, *self.size), width=2)

    def _point(self, touch: Any) -> tuple[float, float]:
        """Where a finger is, in cells."""
        return (
            self._first[0] + (touch.x - self.x) / self.width * self.cells[0],
            self._first[1] + (self.top - touch.y) / self.height * self.cells[1],
        )

    def _inside(self, touch: Any) -> bool:
        return bool(self.x <= touch.x < self.right and self.y < touch.y <= self.top)

    def on_touch_down(self, touch: Any) -> bool:
        """A stroke begins; a second finger is no part of it."""
        if not self._inside(touch):
            return False
        touch.grab(self)
        self.sketch.press(self._point(touch))
        self.draw()
        self._changed()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """It goes on, and beside the grid it marks nothing."""
        if touch.grab_current is not self:
            return False
        if self._inside(touch):
            self.sketch.drag(self._point(touch))
            self.draw()
            self._changed()
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """It ends."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._ended()
        return True


class Fitted(AnchorLayout):
    """Gives what is inside as much room as there is, in its proportions (width to height), or all of it for None."""

    def __init__(self, inside: Widget, proportion: float | None, **rest: Any) -> None:
        super().__init__(anchor_x="center", anchor_y="top", **rest)
        self._inside, self._proportion = inside, proportion
        self.add_widget(inside)
        self.bind(size=self._fit)

    def _fit(self, *_: Any) -> None:
        wide, high = self.size
        if self._proportion is not None:
            wide, high = min(wide, high * self._proportion), min(high, wide / self._proportion)
        self._inside.size = (wide, high)
