"""Draws a section across a method's ridges at natural size: combed, an arrow, and pressed in.

Lay the trowel on it: a millimetre is a millimetre. It belongs into a figure.
"""

from __future__ import annotations

from fieldassist.report.grid import BAR, FLOW, MM, MORTAR, TINT
from fieldassist.report.ridge_model import RidgeSection
from fieldassist.report.sheet import BLACK, Sheet

# The hatched base, the piece, and the air between ridges and piece before it is pressed [mm].
_HATCH, _PIECE, _AIR = 1.3, 1.7, 0.9
_ARROW = 5.0


def section_high(drawn: RidgeSection) -> float:
    """How high a section is drawn [mm]."""
    return _HATCH + drawn.base_high + drawn.back_high + _AIR + _PIECE


def section_wide(drawn: RidgeSection, pressed_wide: float) -> float:
    """How wide a section is drawn beside its pressed bed [mm]."""
    return drawn.wide + _ARROW + pressed_wide


def draw_section(sheet: Sheet, left: float, top: float, drawn: RidgeSection, pressed_wide: float) -> None:
    """Draw it by its upper left corner [pt], `section_high` and `section_wide` large. pressed_wide: of the bed [mm]."""
    base = top + (section_high(drawn) - _HATCH) * MM
    wide = drawn.wide * MM
    _ground(sheet, left, base, wide)
    for corners in drawn.on_base:
        sheet.shape([(left + x * MM, base - y * MM) for x, y in corners], MORTAR, BLACK, 0.5)
    back = base - (drawn.base_high + drawn.back_high + _AIR) * MM
    for corners in drawn.on_back:
        sheet.shape([(left + x * MM, back + y * MM) for x, y in corners], MORTAR, BLACK, 0.5)
    sheet.rect(left, back - _PIECE * MM, wide, _PIECE * MM, fill=TINT, stroke=BLACK, thick=0.6)
    sheet.text(left + wide + _ARROW / 2 * MM, base - 2.2 * MM, "→", FLOW, align="centre")
    pressed, wide = left + (drawn.wide + _ARROW) * MM, pressed_wide * MM
    bed = drawn.pressed * MM
    _ground(sheet, pressed, base, wide)
    sheet.rect(pressed, base - bed, wide, bed, fill=MORTAR, stroke=BLACK, thick=0.5)
    sheet.rect(pressed, base - bed - _PIECE * MM, wide, _PIECE * MM, fill=TINT, stroke=BLACK, thick=0.6)


def _ground(sheet: Sheet, left: float, y: float, wide: float) -> None:
    """The base: a line, hatched below."""
    slanting_strokes(sheet, left, left + wide, y, y + _HATCH * MM, 1.5 * MM, 0.6)
    sheet.line(left, y, left + wide, y, 1.0, BLACK)


def slanting_strokes(
    sheet: Sheet, left: float, right: float, top: float, bottom: float, step: float, thick: float
) -> None:
    """Strokes at 45 degrees in a band, `step` apart, each cut at the band's ends."""
    high = bottom - top
    x = left - high
    while x < right:
        begin, end = max(x, left), min(x + high, right)
        if end > begin:
            sheet.line(begin, bottom - (begin - x), end, bottom - (end - x), thick, BAR)
        x += step
