"""The back of a piece on its photo: the photo squared up, what was found or painted over it, and taps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeAlias

import numpy as np

from fieldassist.day.photo import Picture
from fieldassist.photo.back import Back
from fieldassist.trade.hatch import hatch_lines
from fieldassist.trade.voids import STRIP_MM
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.measuring import MeasureTool, TapKind
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.back_painting import BackShown
from fieldassist.ui.widgets.look import Look

from kivy.graphics import Canvas, Color, Ellipse, Line, Rectangle  # isort: skip
from kivy.graphics import StencilPop, StencilPush, StencilUnUse, StencilUse  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip

# Left and top of what is seen, and how much of the width and height, in shares of the back.
PartSeen: TypeAlias = tuple[float, float, float]
WHOLE: PartSeen = (0.0, 0.0, 1.0)
# On a photo nobody knows what is light and what is dark: all that is drawn over it is black beside white, and so it is
# seen on either, whatever the theme.
_BLACK, _WHITE, _VEIL = (0, 0, 0, 255), (255, 255, 255, 255), (255, 255, 255, 70)
# How far hatching lies apart, its shortest line, and the ring of a tap [dots].
_HATCH_DOTS, _SHORTEST_DOTS, _RING_DOTS = 14.0, 5.0, 44.0


def texture_of(picture: Picture) -> Texture:
    """A picture, its lowest row first as Kivy has them."""
    rows = np.frombuffer(picture.pixels, np.uint8).reshape(picture.high, picture.wide, 3)
    texture = Texture.create(size=(picture.wide, picture.high), colorfmt="rgb")
    texture.blit_buffer(np.ascontiguousarray(rows[::-1]).tobytes(), colorfmt="rgb", bufferfmt="ubyte")
    return texture


def veiled_pixels(void: Any) -> Any:
    """The voids as a picture, lowest row first: a black rim inside, a white one beside it outside, and a veil.

    However narrow a void is, it has both. Parameters: void, rows x columns, highest row first.
    """
    rows, columns = void.shape
    around = np.pad(void, 1)
    near = [around[1 + d : 1 + d + rows, 1 + a : 1 + a + columns] for d, a in ((0, 1), (0, -1), (1, 0), (-1, 0))]
    pixels = np.zeros((rows, columns, 4), np.uint8)
    pixels[void] = _VEIL
    pixels[void & ~np.logical_and.reduce(near)] = _BLACK
    pixels[~void & np.logical_or.reduce(near)] = _WHITE
    return pixels[::-1]


class BackOnPhoto(BackShown):
    """The squared photo of a back, and over it what is void: hatched, the largest one framed, and a dashed line where
    corners and edges end.

    finding: whether what was found is shown over the photo; taps: of each kind [mm]; view: which part is seen.
    """

    def __init__(
        self,
        look: Look,
        plan: Picture,
        back: Back,
        *,
        finding: bool = True,
        taps: Sequence[tuple[TapKind, tuple[float, float]]] = (),
        view: PartSeen = WHOLE,
        **rest: Any,
    ) -> None:
        self.back, self.view, self.taps = back, view, taps
        self._finding = finding
        self._photo = texture_of(plan)
        self._voids: Texture | None = None
        self._framed: list[Line] = []
        self._hatching: Canvas | None = None
        super().__init__(look, **rest)

    # --- where things lie -----------------------------------------------------------------------------------------

    def place(self, at_mm: tuple[float, float]) -> tuple[float, float]:
        """Where a point of the back lies on the window [pixels]."""
        x, y, w, h = self.piece
        left, top, share = self.view
        wide, high = self.back.size_mm
        return x + (at_mm[0] / wide - left) / share * w, y + h - (at_mm[1] / high - top) / share * h

    def point(self, at: tuple[float, float]) -> tuple[float, float]:
        """What point of the back lies there [mm], held inside of it."""
        x, y, w, h = self.piece
        left, top, share = self.view
        wide, high = self.back.size_mm
        across = (left + (at[0] - x) / w * share) * wide
        down = (top + (y + h - at[1]) / h * share) * high
        return min(wide, max(0.0, across)), min(high, max(0.0, down))

    # --- drawing --------------------------------------------------------------------------------------------------

    @property
    def finding(self) -> bool:
        """Whether what was found is shown over the photo."""
        return self._finding

    @finding.setter
    def finding(self, finding: bool) -> None:
        if finding != self._finding:
            self._finding = finding
            self.again()

    def look_at(self, view: PartSeen) -> None:
        """Show this part."""
        self.view = view
        self.again()

    def draw(self, box: marks.PixelBox) -> None:  # noqa: ARG002 (the piece lies inside the box)
        """Draw it."""
        look = self.look
        piece = self.piece
        seen = self._coords()
        StencilPush()
        Rectangle(pos=piece[:2], size=piece[2:])
        StencilUse()
        Color(1, 1, 1, 1)
        Rectangle(texture=self._photo, pos=piece[:2], size=piece[2:], tex_coords=seen)
        if self._finding:
            self._draw_finding(piece, seen)
        for kind, at in self.taps:
            self._draw_tap(kind, self.place(at))
        StencilUnUse()
        Rectangle(pos=piece[:2], size=piece[2:])
        StencilPop()
        marks.frame(look, piece, "ink", 5)

    def _coords(self) -> tuple[float, ...]:
        left, top, share = self.view
        right, upper, lower = left + share, 1 - top, 1 - top - share
        return (left, lower, right, lower, right, upper, left, upper)

    def _draw_finding(self, piece: marks.PixelBox, seen: tuple[float, ...]) -> None:
        self._voids = Texture.create(size=tuple(reversed(self.back.void.shape)), colorfmt="rgba")
        self._voids.mag_filter = self._voids.min_filter = "nearest"
        Rectangle(texture=self._voids, pos=piece[:2], size=piece[2:], tex_coords=seen)
        wide, high = self.back.size_mm
        if min(wide, high) > 2 * STRIP_MM:
            (x1, y1), (x2, y2) = self.place((STRIP_MM, high - STRIP_MM)), self.place((wide - STRIP_MM, STRIP_MM))
            self._dashes((x1, y1, x2 - x1, y2 - y1))
        self._framed = []
        for thick, shade in ((7.0, 1.0), (3.0, 0.0)):
            Color(shade, shade, shade, 1)
            self._framed.append(Line(width=self.look.dots(thick) / 2, joint="miter", close=True))
        self._hatching = Canvas()
        self.show_voids()
        self.hatch()

    def hatch(self) -> None:
        """Hatch the voids as they are now: once a stroke, since each line is followed from cell to cell."""
        if self._hatching is None or not self._finding:
            return
        self._hatching.clear()
        one_dot = self.look.dots(1) * self.view[2] * self.back.size_mm[0] / self.piece[2]
        lines = hatch_lines(self.back.cells, _HATCH_DOTS * one_dot, least_mm=_SHORTEST_DOTS * one_dot)
        bars = [(*self.place((x1, y1)), *self.place((x2, y2))) for x1, y1, x2, y2 in lines]
        with self._hatching:
            for thick, shade in ((4.0, 1.0), (2.0, 0.0)):
                Color(shade, shade, shade, 1)
                marks.bars(bars, self.look.dots(thick) / 2)

    def _dashes(self, box: marks.PixelBox) -> None:
        for thick, shade in ((4.0, 0.0), (2.0, 1.0)):
            Color(shade, shade, shade, 1)
            marks.dashes(self.look, box, thick=thick, dash=12, space=9)

    def _draw_tap(self, kind: TapKind, at: tuple[float, float]) -> None:
        """Mortar is a ring with its spot, bare back a square without."""
        look = self.look
        side = look.dots(_RING_DOTS)
        x, y = at[0] - side / 2, at[1] - side / 2
        for thick, shade in ((9.0, 0.0), (4.0, 1.0)):
            Color(shade, shade, shade, 1)
            width = look.dots(thick) / 2
            if kind == "mortar":
                Line(circle=(*at, side / 2), width=width)
            else:
                Line(rectangle=(x, y, side, side), width=width, joint="miter")
        if kind == "mortar":
            for share, shade in ((0.36, 0.0), (0.22, 1.0)):
                Color(shade, shade, shade, 1)
                spot = side * share
                Ellipse(pos=(at[0] - spot / 2, at[1] - spot / 2), size=(spot, spot))

    def show_voids(self) -> None:
        """Show the voids as they are now."""
        if self._voids is None or not self._finding:
            return
        pixels = veiled_pixels(self.back.void)
        self._voids.blit_buffer(pixels.tobytes(), colorfmt="rgba", bufferfmt="ubyte")
        done = self.back.reckoned
        points: list[float] = []
        if done is not None and done.void_mm2 > 0:
            left, top, right, low = done.void_box
            points = [
                value for at in ((left, low), (right, low), (right, top), (left, top)) for value in self.place(at)
            ]
        for line in self._framed:
            line.points = points
        self.canvas.ask_update()


class PhotoPainting(BackOnPhoto):
    """The same under a finger. tool: what a finger does, asked as it comes down; tapped: called with the place of a tap
    [mm]; changed: called while a stroke goes on, ended: when the finger is lifted; moved: called with what is seen once
    two fingers have moved it."""

    def __init__(
        self,
        look: Look,
        plan: Picture,
        back: Back,
        tool: Callable[[], MeasureTool],
        *,
        tapped: Callable[[tuple[float, float]], None],
        changed: Callable[[], None],
        ended: Callable[[], None],
        moved: Callable[[PartSeen], None],
        **rest: Any,
    ) -> None:
        self._tool, self._tapped, self._changed = tool, tapped, changed
        self._ended, self._moved = ended, moved
        self._fingers: dict[int, tuple[float, float]] = {}
        self._stroke: int | None = None
        super().__init__(look, plan, back, **rest)

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy: a finger comes down. A second one moves what is seen, and the stroke of the first was none."""
        if not self._inside(touch):
            return False
        touch.grab(self)
        self._fingers[touch.uid] = touch.pos
        if len(self._fingers) > 1:
            if self._stroke is not None:
                self.back.undo()
                self._stroke = None
                self.show_voids()
                self.hatch()
                self._changed()
            return True
        tool = self._tool()
        if tool in ("void", "mortar"):
            self._stroke = touch.uid
            self.back.begin(self.point(touch.pos), "void" if tool == "void" else "mortar")
            self.show_voids()
            self._changed()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """Kivy: it moves on."""
        if touch.grab_current is not self:
            return False
        if len(self._fingers) > 1:
            before = self._fingers[touch.uid]
            self._fingers[touch.uid] = touch.pos
            self._pan(touch.x - before[0], touch.y - before[1])
            return True
        self._fingers[touch.uid] = touch.pos
        if self._stroke == touch.uid:
            self.back.move(self.point(touch.pos))
            self.show_voids()
            self._changed()
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """Kivy: it is lifted."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        alone = len(self._fingers) == 1
        self._fingers.pop(touch.uid, None)
        if self._stroke == touch.uid:
            self._stroke = None
            self.hatch()
            self._ended()
        elif alone and self._tool() not in ("void", "mortar"):
            self._tapped(self.point(touch.pos))
        elif not self._fingers:
            self._moved(self.view)
        return True

    def _pan(self, right: float, up: float) -> None:
        """Two fingers: each moves it by half of its way."""
        _, _, w, h = self.piece
        left, top, share = self.view
        left = min(1 - share, max(0.0, left - right / 2 / w * share))
        top = min(1 - share, max(0.0, top + up / 2 / h * share))
        self.look_at((left, top, share))
