"""Photographs of lifted pieces, computed, so that their truth is known to the cell.

Seeds 0 to 9,999 are to develop with, 10,000 to 19,999 to fix thresholds and to calibrate, 20,000 to 29,999 to measure
and to test. They are never mixed: a figure that was measured on what fixed it says nothing.

Nothing here was compared with a photograph of a real lifted piece; there was none to be had. What the pictures leave
out: mortar that touched and stayed on the floor without a trace, ridges whose torn flanks overhang the contact, and all
that nobody thought of.
"""

from tests.photo.rendering.fields import Mask
from tests.photo.rendering.scene import Kind, Rendered, View, render
from tests.photo.rendering.tapping import taps
from tests.photo.rendering.wrong import FEATURELESS, Wrong, wrong_subject

DEVELOP = range(0, 10_000)
FIX = range(10_000, 20_000)
MEASURE = range(20_000, 30_000)

__all__ = [
    "DEVELOP",
    "FEATURELESS",
    "FIX",
    "MEASURE",
    "Kind",
    "Mask",
    "Rendered",
    "View",
    "Wrong",
    "render",
    "taps",
    "wrong_subject",
]
