"""A lifted back measured on its photo, against a plain pipeline of scikit-image in the same run.

`python -m tests.bench.photo_measured [COUNT]`: errors on so many drawn pictures of known truth, and the processor time
of both; then a photo of 12 million dots from its file to its figures, time and memory, in a process of its own.

The plain one is what somebody would write first: square up, lightness by CIE L*a*b*, Otsu's threshold, the taps say
which side is mortar, regions, distances, structure tensor.
"""

from __future__ import annotations

import io
import json
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

from fieldassist.photo.picture import PhotoCorners, Point
from fieldassist.photo.propose import examine
from fieldassist.photo.square import to_back
from tests.photo.examined import squared_and_tapped
from tests.photo.rendering import MEASURE, Rendered, render, taps

# The demands: from the file to the figures [s of processor], and memory over what the program has before [MB].
MOST_SECONDS, MOST_MB = 0.6, 150
_TWELVE = 12.0


def plain(drawn: Rendered, mortar: list[Point]) -> float:
    """The share of mortar by the plain pipeline [percent]; mortar: taps on it [mm]."""
    from scipy import ndimage
    from skimage import color, feature, filters, measure, transform

    wide, high = (round(side) for side in drawn.size_mm)
    plan = np.array([[0, 0], [wide, 0], [wide, high], [0, high]], dtype=float)
    map_ = transform.ProjectiveTransform.from_estimate(plan, np.array(drawn.corners))  # type: ignore[no-untyped-call]
    squared = transform.warp(drawn.photo, map_, output_shape=(high, wide))  # type: ignore[no-untyped-call]
    lightness = color.rgb2lab(squared)[..., 0]
    light = lightness > filters.threshold_otsu(lightness)  # type: ignore[no-untyped-call]
    on_light = [light[min(int(y), high - 1), min(int(x), wide - 1)] for x, y in mortar]
    covered = light if 2 * sum(on_light) > len(on_light) else ~light
    measure.label(~covered, connectivity=1)  # type: ignore[no-untyped-call]
    ndimage.distance_transform_edt(~covered)
    feature.structure_tensor(lightness, sigma=2)  # type: ignore[no-untyped-call]
    return 100 * float(covered.mean())


def main(count: int) -> None:
    """Print both, as ratios."""
    ours, theirs, own_spent, plain_spent = [], [], [], []
    for seed in MEASURE[8000 : 8000 + count]:
        drawn = render(seed, "ordinary")
        start = time.process_time()
        squared, mortar, bare = squared_and_tapped(drawn)
        found = examine(squared, mortar, bare)
        own_spent.append(time.process_time() - start)
        start = time.process_time()
        share = plain(drawn, mortar)
        plain_spent.append(time.process_time() - start)
        ours.append(abs(found.percent - drawn.percent))
        theirs.append(abs(share - drawn.percent))
    for name, rank in (("median", 0.5), ("nine in ten within", 0.9)):
        own, other = float(np.quantile(ours, rank)), float(np.quantile(theirs, rank))
        print(f"error, {name}: {own:.2f} points, {own / other:.2f} x the plain pipeline's {other:.2f}")
    own, other = statistics.median(own_spent), statistics.median(plain_spent)
    print(f"squaring up and proposing: {own:.2f} s of processor, {own / other:.2f} x the plain pipeline's {other:.2f}")
    print(large())


def large() -> str:
    """A photo of 12 million dots, in a process of its own."""
    drawn = next(one for one in (render(seed, "ordinary") for seed in MEASURE[8000:8100]) if one.size_mm[0] == 1200)
    drawn = render(drawn.seed, "ordinary", megapixels=_TWELVE)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "back.jpg"
        paper = io.BytesIO()
        Image.fromarray(drawn.photo).save(paper, "JPEG", quality=90)
        path.write_bytes(paper.getvalue())
        sides = [[to_back(drawn.corners, drawn.size_mm, point) for point in side] for side in taps(drawn)]
        told = json.dumps([str(path), drawn.corners, drawn.size_mm, *sides])
        done = subprocess.run(
            [sys.executable, "-m", "tests.bench.photo_measured", "--file", told],
            check=True,
            capture_output=True,
            text=True,
        )
    first, spent, held, share = json.loads(done.stdout)
    dots = drawn.photo.shape[0] * drawn.photo.shape[1] / 1e6
    return (
        f"{dots:.0f} million dots, {drawn.size_mm[0]:g} x {drawn.size_mm[1]:g} mm: from the file to the figures "
        f"{spent:.2f} s of processor, the first time {first:.2f} (target {MOST_SECONDS}); {held:.0f} MB over the "
        f"program (target {MOST_MB}); {share:.1f} % found, {drawn.percent:.1f} true"
    )


def from_file(told: str) -> None:
    """What the tablet does with a file, timed: the first time, and the least of three more; peak memory [MB]."""
    from fieldassist.day.photo import look_closely
    from fieldassist.photo.back import inscribed_circle
    from fieldassist.photo.measuring import dots_wanted, plan_of
    from fieldassist.photo.swirls import ridges_seen
    from fieldassist.trade.voids import BackCells, reckon

    name, corner_list, size, mortar, bare = json.loads(told)
    size_mm = (size[0], size[1])
    a, b, c, d = ((x, y) for x, y in corner_list)
    corners: PhotoCorners = (a, b, c, d)
    cv2.setNumThreads(1)

    def once() -> float:
        picture, whole = look_closely(Path(name).read_bytes(), "back", lambda dots: dots_wanted(corners, size_mm, dots))
        photo = np.frombuffer(picture.pixels, np.uint8).reshape(picture.high, picture.wide, 3)
        by = picture.wide / whole[0]
        a, b, c, d = ((x * by, y * by) for x, y in corners)
        plan, _ = plan_of(photo, (a, b, c, d), size_mm)
        found = examine(plan, mortar, bare)
        cells = BackCells(found.mortar.tobytes(), found.mortar.shape[1], found.cell_mm)
        inscribed_circle(cells)
        ridges_seen(found.mortar, found.cell_mm[0], found.percent)
        return reckon(cells, painted=False).percent

    before = _memory_mb("VmRSS")
    times = []
    for _ in range(4):
        start = time.process_time()
        share = once()
        times.append(time.process_time() - start)
    print(json.dumps([times[0], min(times[1:]), _memory_mb("VmHWM") - before, share]))


def _memory_mb(what: str) -> float:
    """What this process has, or had at most; getrusage would tell the peak of the one that started it too."""
    line = next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith(what))
    return int(line.split()[1]) / 1024


if __name__ == "__main__":
    if sys.argv[1:2] == ["--file"]:
        from_file(sys.argv[2])
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
