"""The clocks as they are drawn: open time as a row of ridges, one a minute, the pot as a pail that sinks."""

from __future__ import annotations

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.clocks import ClockFace
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.look import Look

from kivy.graphics import Mesh  # isort: skip

_FLAT = 0.22  # a ridge that fell, in shares of one that stands
_SHARE = 0.68  # of a ridge in its minute
_MOST = 60  # ridges are drawn; a longer time has wider minutes


def ridges(
    look: Look, box: marks.PixelBox, face: ClockFace, role: ColourName = "mortar", ink: ColourName = "ink"
) -> None:
    """The minutes of a clock over a base line, those that passed fallen flat, a pointer at now."""
    x, y, w, h = box
    line, pointer = look.dots(5), look.dots(18)
    whole = max(1, round(face.total))
    count = min(whole, _MOST)
    step = w / count
    gone = min(count, int(face.minutes_gone * count / whole))
    tall = h - line - pointer - look.dots(4)
    vertices: list[float] = []
    indices: list[int] = []
    for k in range(count):
        left, right = x + k * step + step * (1 - _SHARE) / 2, x + (k + 1) * step - step * (1 - _SHARE) / 2
        if k < gone:
            left, right = x + k * step + step * 0.04, x + (k + 1) * step - step * 0.04
        top = y + line + tall * (_FLAT if k < gone else 1.0)
        first = len(vertices) // 4
        for px, py in ((left, y + line), (right, y + line), (right, top), (left, top)):
            vertices += [px, py, 0.0, 0.0]
        indices += [first, first + 1, first + 2, first, first + 2, first + 3]
    marks.colour(look, role)
    Mesh(vertices=vertices, indices=indices, mode="triangles")
    marks.field(look, (x, y, w, line), ink)
    if face.left > 0:
        now = x + min(w, w * (1 - face.left / max(face.total, 1e-6)))
        half = pointer * 0.6
        marks.polygon(look, (now, y + h - pointer, now + half, y + h, now - half, y + h), ink)


def pail(look: Look, box: marks.PixelBox, share: float, role: ColourName = "mortar", ink: ColourName = "ink") -> None:
    """A pail, filled to a share of 0 to 1."""
    x, y, w, h = box
    lean = w * 0.14
    share = max(0.0, min(1.0, share))
    inset = look.dots(6)
    level = (h - 2 * inset) * share
    if share > 0:
        left = x + lean + inset - lean * level / h
        right = x + w - lean - inset + lean * level / h
        marks.polygon(
            look,
            (
                x + lean + inset,
                y + inset,
                x + w - lean - inset,
                y + inset,
                right,
                y + inset + level,
                left,
                y + inset + level,
            ),
            role,
        )
    marks.stroke(look, (x, y + h, x + lean, y, x + w - lean, y, x + w, y + h, x, y + h), ink, 5)
