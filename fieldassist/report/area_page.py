"""The pages of an area."""

from __future__ import annotations

from fieldassist.report.area_model import AreaPages
from fieldassist.report.grid import HEADING, PAGE_TITLE, Leaf
from fieldassist.report.pictures import Album
from fieldassist.report.sheet import Sheet
from fieldassist.report.wall_page import draw_wall


def area_pages(sheet: Sheet, area: AreaPages, album: Album) -> None:
    """Draw them. album: the day's photos."""
    leaf = Leaf(sheet, area.running)
    sheet.bookmark(area.name, 0, area.key, leaf.y)
    leaf.flow(area.name, PAGE_TITLE, kind="H1")
    leaf.flow(area.verdict, HEADING)
    if area.wall is not None:
        draw_wall(leaf, area.wall, leaf.whole, leaf.room)
