"""What was fixed on drawn pictures of known truth. Written by `python -m tests.photo.figures calibrate`.

Of seeds 10000 and up:
    200 ordinary
    170 hard
    90 combed
    60 skim-coated
    110 wrong subject
No real photograph is among them.
"""

from __future__ import annotations

from typing import Final

from fieldassist.photo.gates import ConformalBand, Gate

__all__ = ["BANDS", "GATE"]

GATE: Final = Gate(apart=2.0, methods=8.0, taps=10.0, ambiguous=0.3, neither=3.0, unlike=1.0)
BANDS: Final = (
    ConformalBand(apart=0.0, factor=2.02),
    ConformalBand(apart=6.0, factor=1.29),
)
