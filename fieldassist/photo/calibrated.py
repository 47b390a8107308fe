"""What was fixed on drawn pictures of known truth. Written by `python -m tests.photo.figures calibrate`."""

from __future__ import annotations

from typing import Final

from fieldassist.photo.gates import ConformalBand, Gate, Pictures

__all__ = ["BANDS", "GATES"]

GATES: Final[dict[Pictures, Gate]] = {
    "bare back": Gate(apart=3.0, methods=4.0, taps=3.0, ambiguous=2.0, neither=20.0),
    "clear sheet": Gate(apart=3.0, methods=4.0, taps=3.0, ambiguous=2.0, neither=20.0),
}
BANDS: Final[dict[Pictures, tuple[ConformalBand, ...]]] = {
    "bare back": (ConformalBand(0.0, 2.0),),
    "clear sheet": (ConformalBand(0.0, 2.0),),
}
