"""Draw the demo's photo again, the computed picture of a lifted tile's back, and what is painted over it.

    PYTHONPATH=. python assets/demo/build_photo.py [FOLDER]

From the checkout, with the libraries of the tests. The same parameters give the same back: 1200 x 600 mm, keyed with
the flat side before it was set, ridges of a half inch notch along its short side, some of which did not fall. Written
are back.jpg, as a tablet would take it, and back-painted.png: the back's cells as somebody paints them who sees every
void (`fieldassist.record.back_cells`). Printed: the piece's corners in it, for the line in scenario.yaml that measures
it, and what was painted.
"""

from __future__ import annotations

import io
import sys
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

from fieldassist.photo.back import Back
from fieldassist.record.back_cells import cells_png
from fieldassist.trade.voids import STRIP_MM, void_as_read
from tests.photo.painting import paint_by_strokes
from tests.photo.rendering.bed import Bed, lay
from tests.photo.rendering.camera import Sensor, aim
from tests.photo.rendering.fields import Dice, Sheet, dice, quantile, single
from tests.photo.rendering.light import Lamp, Spread
from tests.photo.rendering.materials import MORTARS, Colour
from tests.photo.rendering.scene import LiftedBack, photograph
from tests.photo.rendering.surface import keyed_back

SEED, LOOK = 38, 1  # of the bed; of its mortar, the floor and the grain
SIZE_MM = (1200.0, 600.0)
FRAME = (1376, 1032)  # dots
WANTED_PERCENT = 66.0  # before the edges are closed
BRIDGED = 0.38  # of the bed has so much mortar that the ridges met
EMPTY_MM = (58.0, 44.0)  # the corner at the lower right, along the longer and the shorter side
# A void of fewer cells is a bubble that nobody paints.
LEAST_CELLS = 4
QUALITY = 72


def bed(sheet: Sheet, rolls: Dice) -> Bed:
    """Where mortar touched: full along the edges, but for one corner."""
    laid = lay(sheet, rolls, WANTED_PERCENT, ridges="straight")
    x, y = sheet.places()
    width, height = SIZE_MM
    ragged = sheet.fractal(rolls("ragged"), 40, 4) * np.float32(2.5)
    # What is squeezed out to the edges closes the strip along them, and the ridges met here and there.
    in_from_edge = np.minimum(np.minimum(x, width - x), np.minimum(y, height - y))
    closed = single(STRIP_MM + 8 + ragged - in_from_edge)
    met = sheet.smooth(rolls("bridges"), 55)
    closed = np.maximum(closed, (met - quantile(met, 1 - BRIDGED)) * np.float32(20))
    out_of_corner = np.hypot((width - x) / EMPTY_MM[0], (height - y) / EMPTY_MM[1])
    mortar = np.maximum(laid.margin_mm, np.clip(closed, -9, 9))
    return replace(laid, margin_mm=single(np.minimum(mortar, (out_of_corner - 1) * EMPTY_MM[0] + ragged)))


def lifted() -> tuple[LiftedBack, Bed]:
    """The back, and the bed that it came off."""
    rolls = dice(SEED, "demo")
    sheet = Sheet(SIZE_MM, 0.5)
    laid = bed(sheet, rolls)
    grey: Colour = np.array(MORTARS["light grey"], dtype=np.float32)
    look = dice(LOOK, "demo")
    surface = keyed_back(sheet, look, laid, grey, "none", None)
    return LiftedBack(look, SIZE_MM, sheet, surface, grey, grey, hard=False), laid


def painted(laid: Bed) -> Back:
    """The cells, painted by strokes along each void that is more than a bubble."""
    back = Back(*SIZE_MM)
    back.all_covered()
    rows, columns = back.mortar.shape
    void = cv2.resize((~laid.contact).astype(np.float32), (columns, rows), interpolation=cv2.INTER_AREA) > 0.5
    _, numbers, found, _ = cv2.connectedComponentsWithStats(void.astype(np.uint8), connectivity=4)
    large = found[:, cv2.CC_STAT_AREA] >= LEAST_CELLS
    paint_by_strokes(back, void & large[numbers])
    return back


def main(arguments: list[str]) -> int:
    """Write photo and cells; into which folder, with none given beside this program."""
    folder = Path(arguments[0]) if arguments else Path(__file__).parent
    lift, laid = lifted()
    camera = aim(
        SIZE_MM, FRAME, tilt_deg=7, toward_deg=250, roll_deg=-1.2, fill=0.92, focal=0.85, off=(0.1, -0.2), bent=0.004
    )
    lamp = Lamp(elevation_deg=28, azimuth_deg=200, ambient=0.35, colour=(1.03, 1.0, 0.96))
    spread = Spread((600, 300), slope=(-0.05, 0.03), bow=-0.02)
    sensor = Sensor(1.0, (1.0, 1.0, 1.0), 0.008, 0.5, 0.0, 0.0, contrast=0.3, sharpen=0.3, jpeg=95)
    paper = io.BytesIO()
    Image.fromarray(photograph(lift, camera, lamp, spread, sensor, "photo")).save(paper, "JPEG", quality=QUALITY)
    (folder / "back.jpg").write_bytes(paper.getvalue())
    back = painted(laid)
    (folder / "back-painted.png").write_bytes(cells_png(back.cells))
    done = back.reckoned
    assert done is not None
    shares = [f"{100 * x / FRAME[0]:.1f}%,{100 * y / FRAME[1]:.1f}%" for x, y in camera.corners(SIZE_MM)]
    print("corners", *shares)
    print(f"{laid.percent:.1f} % in truth, {done.percent:.1f} % painted; largest void", end=" ")
    print(f"{float(void_as_read(done.void_mm2, 'in2'))} in2; not full: {', '.join((*done.corners, *done.edges))}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
