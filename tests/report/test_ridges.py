"""Ridges on paper have the size that the trowel gives them."""

from __future__ import annotations

import math
from typing import Any

import pytest
from reportlab.lib.pagesizes import A4

from fieldassist.facts.model import CombinationFact
from fieldassist.language import Words
from fieldassist.report.build.ridges import ridge_section
from fieldassist.report.grid import MM
from fieldassist.report.ridge_section import draw_section, section_high
from fieldassist.report.sheet import Sheet
from fieldassist.trade import ridges

WIDE = 24.3


def method(family: str, size: float, **other: Any) -> CombinationFact:
    """A method with a notch of one size; its bed and its text do not matter here."""
    given = {
        "letter": "A", "told": {"code": "", "figures": {}, "text": ""}, "notch": "", "family": family,
        "width_mm": size, "depth_mm": size, "spacing_mm": size, "angle_degrees": 45.0, "sides": "one", "back": "bare",
        "movement": "none", "slide_mm": None, "seating": "by hand", "seconds": None, "mortar": "", "shown": False,
        "run": True, "ruled_out": [], "bed_mm": 2.25, "mortar_name": "", "least_bed_mm": 2.0, "greatest_bed_mm": 12.0,
        **other,
    }  # fmt: skip
    return CombinationFact.model_validate(given)


def test_ridges_are_drawn_at_natural_size_foreshortened_by_the_angle_of_the_trowel() -> None:
    """The outline of `trade.ridges`, which has its own check; at 45 degrees ridges have 0.707 of the notch's depth."""
    made = ridge_section(method("square", 6.35), WIDE)
    assert made.base_high == pytest.approx(6.35 * math.sin(math.radians(45)))
    assert made.base_high == pytest.approx(ridges.ridge(ridges.Notch("square", 6.35, 6.35, 6.35), 45).height_mm)
    assert [max(x for x, _ in one) - min(x for x, _ in one) for one in made.on_base] == [pytest.approx(6.35)] * 2
    assert made.on_base[1][0][0] - made.on_base[0][0][0] == pytest.approx(12.7)
    assert (made.on_back, ridge_section(method("square", 6.35, sides="both"), WIDE).on_back) == ((), made.on_base)


def test_a_leaning_ridge_leans_and_is_cut_at_the_ends_of_the_section() -> None:
    made = ridge_section(method("slanted", 12.7, spacing_mm=4.0), WIDE)
    assert len(made.on_base) == 3
    assert all(-1e-9 <= x <= WIDE + 1e-9 for ridge in made.on_base for x, _ in ridge)
    feet, tops = ([x for x, y in made.on_base[1] if (y < 1) is low] for low in (True, False))
    assert min(tops) - min(feet) == pytest.approx(12.7 * math.tan(math.radians(30)))


def test_a_drawn_ridge_has_its_size_on_paper_and_none_leaves_the_section() -> None:
    sheet = Sheet(A4, Words())
    sheet.new_page()
    made = ridge_section(method("square", 12.7, sides="both"), WIDE)
    with sheet.tagged("Figure", alt="ridges"):
        draw_section(sheet, 100, 200, made, 13)
    shapes = [step[1] for _, step in sheet.pages[0].steps if step[0] == "shape"]
    assert {round((max(y for _, y in one) - min(y for _, y in one)) / MM, 1) for one in shapes} == {9.0}
    drawn = [y for one in shapes for _, y in one]
    assert 200 < min(drawn) < max(drawn) < 200 + section_high(made) * MM
