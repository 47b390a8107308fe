"""What is drawn over the squared photo of a back: every void is seen, and no words lie on one."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import Any

import pytest
from PIL import Image
from reportlab.lib.pagesizes import A4

from fieldassist.language import Words
from fieldassist.record.back_cells import cells_png
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.grid import MM
from fieldassist.report.pictures import Album, draw_photo
from fieldassist.report.sheet import WHITE, Sheet
from fieldassist.trade.voids import BackCells, reckon

LEFT, TOP, WIDE, TOLD = 100.0, 100.0, 46 * MM, "36.0 cm²"
POINT = WIDE / 1200

Cells = tuple[int, int, int, int]  # left, upper, right and lower end of a void


def drawn(voids: Sequence[Cells], wide: float = WIDE) -> list[Any]:
    """The steps that draw a grey back of 1,200 x 600 mm with voids [cells of 2 mm]."""
    cells, photo = Image.new("L", (600, 300), 255), io.BytesIO()
    for void in voids:
        cells.paste(0, void)
    back = BackCells(cells.tobytes(), 600, (2.0, 2.0))
    done = reckon(back)
    Image.new("RGB", (600, 300), (110, 110, 110)).save(photo, "JPEG")
    files = {"photo": photo.getvalue(), "cells": cells_png(back)}
    over = BackDrawn((1200.0, 600.0), "cells", done.void_box if done.void_mm2 else None, TOLD, (100.0, "100 mm"))
    sheet = Sheet(A4, Words(units="metric"))
    sheet.new_page()
    draw_photo(sheet, Album(files.get), "photo", (LEFT, TOP, wide, wide), "a back", over)
    return [step for _, step in sheet.pages[0].steps]


def words_at(steps: Sequence[Any]) -> tuple[float, float] | None:
    """Where the size of the largest void is told, from the picture's upper left corner; None where it is not."""
    return next(((step[1] - LEFT, step[2] - TOP) for step in steps if step[0] == "text" and step[-1] == TOLD), None)


def plates(steps: Sequence[Any]) -> list[Cells]:
    """What the plates cover, in cells."""
    rects = (step[1:5] for step in steps if step[0] == "rect" and step[5] == WHITE)
    cell = 2 * POINT
    return [
        (
            int((x - LEFT) / cell),
            int((y - TOP) / cell),
            int((x + wide - LEFT) / cell) + 1,
            int((y + high - TOP) / cell) + 1,
        )
        for x, y, wide, high in rects
    ]


def far(x: float, y: float, start: tuple[float, float], end: tuple[float, float]) -> float:
    """How far a point lies from a stroke."""
    across, down = end[0] - start[0], end[1] - start[1]
    along = ((x - start[0]) * across + (y - start[1]) * down) / (across**2 + down**2)
    along = min(1.0, max(0.0, along))
    return math.hypot(x - start[0] - along * across, y - start[1] - along * down)


@pytest.mark.parametrize(
    ("others", "side"),
    [
        ([], "right"),
        ([(360, 150, 380, 160)], "left"),
        ([(360, 150, 380, 160), (200, 150, 240, 160)], "below"),
        ([(360, 150, 380, 160), (200, 150, 240, 160), (290, 200, 310, 205)], "above"),
        (
            [(360, 150, 380, 160), (200, 150, 240, 160), (290, 200, 310, 205), (270, 90, 280, 95)],
            "beside the bar",
        ),
    ],
)
def test_the_plate_of_the_largest_void_covers_no_void(others: list[Cells], side: str) -> None:
    voids = [(270, 120, 330, 180), *others]
    steps = drawn(voids)
    told = words_at(steps)
    assert told is not None
    x, y = told[0] / POINT / 2, told[1] / POINT / 2
    seen = (
        "beside the bar" if y > 300 else "right" if x > 330 else "below" if y > 190 else "above" if y < 120 else "left"
    )
    assert seen == side
    assert len(plates(steps)) == (side != "beside the bar")
    for left, top, right, bottom in plates(steps):
        assert not [void for void in voids if left < void[2] and void[0] < right and top < void[3] and void[1] < bottom]


def test_a_void_that_fills_its_picture_is_told_beside_the_bar_and_where_that_has_no_room_not_at_all() -> None:
    full = [(5, 5, 595, 295)]
    told = words_at(drawn(full))
    assert told is not None
    assert told[1] > WIDE / 2
    assert words_at(drawn(full, 16 * MM)) is None


@pytest.mark.parametrize("slope", [0, 1, -1])
def test_all_along_a_stripe_too_narrow_for_hatching_there_is_a_line_wherever_it_lies(slope: int) -> None:
    # One cell wide: 0.08 mm on paper, where hatching lies 1.2 mm apart. A line less than 0.4 mm beside it is on it.
    for at in range(140, 147):
        stripe = [(100 + step, at + slope * step, 101 + step, at + slope * step + 1) for step in range(100)]
        light, dark = (step for step in drawn(stripe) if step[0] == "ink")
        assert light[1] == dark[1]
        for left, top, _, _ in stripe:
            x, y = LEFT + (left + 0.5) * 2 * POINT, TOP + (top + 0.5) * 2 * POINT
            assert min(far(x, y, *stroke) for stroke in dark[1]) < 0.4 * MM


def test_a_back_without_a_void_has_its_strip_and_bar_and_nothing_else_over_it() -> None:
    steps = drawn([])
    assert {step[0] for step in steps} == {"picture", "rect", "line", "text"}
    assert words_at(steps) is None
    assert len([step for step in steps if step[0] == "rect"]) == 2
