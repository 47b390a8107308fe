"""In which order hardware keys go over what can be pressed: rows from the top, in a row from the reading side.

Tab goes on and Shift Tab back, round the screen; an arrow goes to the nearest key that lies that way; Enter and Space
press, Escape goes back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Arrow = Literal["left", "right", "up", "down"]
Move = Literal["on", "back", "left", "right", "up", "down"]


@dataclass(frozen=True, slots=True)
class KeyBox:
    """Where a key lies on the window, from the lower left corner; in any one unit of length."""

    x: float
    y: float
    width: float
    height: float

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle: across, up."""
        return self.x + self.width / 2, self.y + self.height / 2


def order(boxes: Sequence[KeyBox], *, left_hand: bool = False) -> tuple[int, ...]:
    """The places of `boxes` in the order of reading; mirrored where the screen is.

    A key is in the row of the first one whose height holds its middle.

    >>> order([KeyBox(0, 0, 10, 10), KeyBox(12, 0, 10, 10), KeyBox(0, 20, 10, 10)])
    (2, 0, 1)
    """
    left = sorted(range(len(boxes)), key=lambda i: (-(boxes[i].y + boxes[i].height), boxes[i].x))
    found: list[int] = []
    while left:
        first = boxes[left[0]]
        row = [i for i in left if first.y <= boxes[i].centre[1] <= first.y + first.height]
        row = row or left[:1]
        row.sort(key=lambda i: boxes[i].x, reverse=left_hand)
        found += row
        left = [i for i in left if i not in row]
    return tuple(found)


def moved(boxes: Sequence[KeyBox], at: int | None, move: Move, *, left_hand: bool = False) -> int | None:
    """Where the focus is after a move; at: where it was, None for nowhere. None where nothing can be pressed.

    An arrow that finds nothing its way stays. What lies straight that way is nearer than what lies aslant.
    """
    if not boxes:
        return None
    row = order(boxes, left_hand=left_hand)
    if at is None or at >= len(boxes):
        return row[-1] if move == "back" else row[0]
    if move in ("on", "back"):
        step = 1 if move == "on" else -1
        return row[(row.index(at) + step) % len(row)]
    return min(
        (i for i in range(len(boxes)) if i != at and _lies(boxes[at], boxes[i], move)),
        key=lambda i: _far(boxes[at], boxes[i], move),
        default=at,
    )


def _lies(here: KeyBox, there: KeyBox, arrow: str) -> bool:
    (x, y), (ox, oy) = here.centre, there.centre
    return {"left": ox < x - 1, "right": ox > x + 1, "up": oy > y + 1, "down": oy < y - 1}[arrow]


def _far(here: KeyBox, there: KeyBox, arrow: str) -> float:
    """The way to go, what lies beside it counted three times: of two keys the one straight ahead is the nearer."""
    (x, y), (ox, oy) = here.centre, there.centre
    along, across = (abs(ox - x), abs(oy - y)) if arrow in ("left", "right") else (abs(oy - y), abs(ox - x))
    return along + 3 * across
