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

from fieldassist.photo.gates import Gate

__all__ = ["GATE", "HALF_WIDTH"]

GATE: Final = Gate(apart=2.0, methods=6.0, taps=10.0, ambiguous=0.35, neither=3.0, unlike=1.0)
# Half the interval in parts of `Doubts.points`.
HALF_WIDTH: Final = 1.97
