"""An area drawn to scale on a page."""

from __future__ import annotations

from fieldassist.report.grid import GridSpan, Leaf
from fieldassist.report.wall_model import DrawnWall


def draw_wall(leaf: Leaf, wall: DrawnWall, span: GridSpan, high: float) -> None:
    """Draw it from where the cursor stands, at most `high` points high, with its scale and its key below."""
    with leaf.sheet.tagged("Figure", alt=wall.alt):
        leaf.sheet.rect(span.x, leaf.y, span.wide, min(high, 40.0), stroke=(0.0, 0.0, 0.0))
    leaf.y += min(high, 40.0)
