"""Four corners of a piece on its photo, dragged by a finger, with a magnifier that shows what the finger hides."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from fieldassist.day.photo import Picture
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.measuring import SharePoint
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import TARGET, Look
from fieldassist.ui.widgets.photo_back import texture_of

from kivy.graphics import Color, Ellipse, Line, Rectangle  # isort: skip

# The magnifier: its radius [dots], and how much larger it shows the photo than the page does.
_LENS_DOTS, _LENS = 118.0, 3.0
# How far a finger may come down from the corner that it means [dots].
_REACH_DOTS = 190.0
_HALF_CROSS_DOTS = 15.0


class CornerSetting(Drawn):
    """The photo, its four corners with the lines between them, and the magnifier on the one that is moved.

    corners: in shares of the photo, moved in place; chosen: which one is moved; moved: called when a finger has moved
    one, or chosen it, with its number. A finger moves a corner by its own way, so it need not hide it.
    """

    def __init__(
        self,
        look: Look,
        photo: Picture,
        corners: list[SharePoint],
        chosen: int,
        moved: Callable[[int], None],
        **rest: Any,
    ) -> None:
        self.corners, self.chosen = corners, chosen
        self._photo, self._moved = texture_of(photo), moved
        self._size = (photo.wide, photo.high)
        self._held: tuple[int, float, float] | None = None
        super().__init__(look, **rest)

    @property
    def shown(self) -> marks.PixelBox:
        """Where the photo lies [pixels]."""
        wide, high = self._size
        scale = min(self.width / wide, self.height / high)
        w, h = wide * scale, high * scale
        return self.x + (self.width - w) / 2, self.y + (self.height - h) / 2, w, h

    def place(self, corner: SharePoint) -> tuple[float, float]:
        """Where a point of the photo lies on the window [pixels]."""
        x, y, w, h = self.shown
        return x + corner[0] * w, y + h - corner[1] * h

    def nudge(self, right: float, down: float) -> None:
        """Move the chosen corner by so many dots of the photo as it is worked on."""
        x, y = self.corners[self.chosen]
        self._set(self.chosen, x + right / self._size[0], y + down / self._size[1])

    def _set(self, number: int, x: float, y: float) -> None:
        self.corners[number] = (min(1.0, max(0.0, x)), min(1.0, max(0.0, y)))
        self.again()

    # --- drawing --------------------------------------------------------------------------------------------------

    def draw(self, box: marks.PixelBox) -> None:  # noqa: ARG002 (the photo lies inside the box)
        """Draw it."""
        look = self.look
        shown = self.shown
        Color(1, 1, 1, 1)
        Rectangle(texture=self._photo, pos=shown[:2], size=shown[2:])
        places = [self.place(corner) for corner in self.corners]
        self._outline(places, 1.0)
        for number, at in enumerate(places):
            self._ring(at, chosen=number == self.chosen)
        self._lens(places)
        marks.frame(look, shown, "ink", 3)

    def _outline(self, places: list[tuple[float, float]], share: float) -> None:
        points = [value for at in places for value in at]
        for thick, shade in ((7.0, 0.0), (3.0, 1.0)):
            Color(shade, shade, shade, 1)
            Line(points=points, close=True, width=max(1.0, self.look.dots(thick * share) / 2), joint="miter")

    def _ring(self, at: tuple[float, float], *, chosen: bool) -> None:
        """Around a corner, as wide as a glove needs."""
        look = self.look
        for thick, shade in ((15.0 if chosen else 9.0, 0.0), (7.0 if chosen else 3.0, 1.0)):
            Color(shade, shade, shade, 1)
            Line(circle=(*at, look.dots(TARGET / 2 - 8)), width=look.dots(thick) / 2)

    @property
    def lens(self) -> tuple[float, float]:
        """The middle of the magnifier: from the corner towards the middle of the photo, where no finger lies."""
        x, y, w, h = self.shown
        at = self.place(self.corners[self.chosen])
        away = (x + w / 2 - at[0], y + h / 2 - at[1])
        length = math.hypot(*away) or 1.0
        far = self.look.dots(_LENS_DOTS + TARGET / 2 + 40)
        return at[0] + away[0] / length * far, at[1] + away[1] / length * far

    def _lens(self, places: list[tuple[float, float]]) -> None:
        look = self.look
        _, _, w, h = self.shown
        radius = look.dots(_LENS_DOTS)
        cx, cy = self.lens
        u, v = self.corners[self.chosen][0], 1 - self.corners[self.chosen][1]
        du, dv = radius / _LENS / w, radius / _LENS / h
        Color(0, 0, 0, 1)
        rim = radius + look.dots(9)
        Ellipse(pos=(cx - rim, cy - rim), size=(2 * rim, 2 * rim))
        Color(1, 1, 1, 1)
        rim = radius + look.dots(5)
        Ellipse(pos=(cx - rim, cy - rim), size=(2 * rim, 2 * rim))
        coords = (u - du, v - dv, u + du, v - dv, u + du, v + dv, u - du, v + dv)
        Ellipse(texture=self._photo, pos=(cx - radius, cy - radius), size=(2 * radius, 2 * radius), tex_coords=coords)
        # The two sides that meet here, as far as the magnifier shows them, and the corner itself left open.
        at = places[self.chosen]
        for other in (places[self.chosen - 1], places[(self.chosen + 1) % 4]):
            length = math.dist(at, other) or 1.0
            ux, uy = (other[0] - at[0]) / length, (other[1] - at[1]) / length
            self._bar(
                cx + ux * look.dots(_HALF_CROSS_DOTS),
                cy + uy * look.dots(_HALF_CROSS_DOTS),
                cx + ux * radius,
                cy + uy * radius,
            )
        half = look.dots(_HALF_CROSS_DOTS) / 2
        self._bar(cx - half, cy, cx + half, cy)
        self._bar(cx, cy - half, cx, cy + half)

    def _bar(self, x1: float, y1: float, x2: float, y2: float) -> None:
        for thick, shade in ((6.0, 0.0), (2.4, 1.0)):
            Color(shade, shade, shade, 1)
            Line(points=(x1, y1, x2, y2), width=max(0.8, self.look.dots(thick) / 2), cap="none")

    # --- the finger -----------------------------------------------------------------------------------------------

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy: a finger comes down: it takes the corner nearest to it."""
        if not self.collide_point(*touch.pos) or self._held is not None:
            return False
        far, number = min((math.dist(touch.pos, self.place(corner)), n) for n, corner in enumerate(self.corners))
        if far > self.look.dots(_REACH_DOTS):
            return False
        touch.grab(self)
        at = self.place(self.corners[number])
        self._held = (touch.uid, at[0] - touch.x, at[1] - touch.y)
        self.chosen = number
        self.again()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Kivy: it moves on, and the corner with it."""
        if touch.grab_current is not self or self._held is None or self._held[0] != touch.uid:
            return False
        x, y, w, h = self.shown
        _, right, up = self._held
        self._set(self.chosen, (touch.x + right - x) / w, (y + h - touch.y - up) / h)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Kivy: it is lifted."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._held = None
        self._moved(self.chosen)
        return True
