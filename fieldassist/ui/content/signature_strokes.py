"""A finger's signature while it is drawn: strokes through points of 0 to 1000 across, and down.

The limits are those of `checklist.commands.Strokes`.
"""

from __future__ import annotations

from collections.abc import Sequence

MOST_STROKES = 200
MOST_POINTS = 2000  # of a stroke
# Points nearer to each other than this, in thousandths, tell nothing more of a finger's line. Ours.
_NEAR = 4

StrokePoint = tuple[int, int]
DrawnStrokes = list[list[StrokePoint]]


def point_in(x: float, y: float, wide: float, high: float) -> StrokePoint:
    """Where a finger is in a field of this size, from its lower left corner; beside the field, on its edge.

    >>> point_in(150, 100, 300, 100), point_in(-5, 50, 300, 100)
    ((500, 0), (0, 500))
    """
    return _thousandths(x, wide), 1000 - _thousandths(y, high)


def _thousandths(length: float, whole: float) -> int:
    return round(1000 * min(max(length / max(whole, 1.0), 0.0), 1.0))


def begin(drawn: DrawnStrokes, point: StrokePoint) -> bool:
    """A finger was put down; whether there is room for one more stroke."""
    if len(drawn) >= MOST_STROKES:
        return False
    drawn.append([point])
    return True


def go_on(drawn: DrawnStrokes, point: StrokePoint) -> bool:
    """The finger has moved; whether that changed the line.

    A stroke that gets too long keeps every other point of what it has: its shape stays.

    >>> line = [[(0, 0)]]
    >>> go_on(line, (2, 1)), go_on(line, (8, 1)), line
    (False, True, [[(0, 0), (8, 1)]])
    """
    stroke = drawn[-1]
    if max(abs(point[0] - stroke[-1][0]), abs(point[1] - stroke[-1][1])) < _NEAR:
        return False
    if len(stroke) >= MOST_POINTS:
        stroke[:] = stroke[::2]
    stroke.append(point)
    return True


def strokes(drawn: Sequence[Sequence[StrokePoint]]) -> tuple[tuple[StrokePoint, ...], ...]:
    """The signature as a command takes it."""
    return tuple(tuple(stroke) for stroke in drawn)
