"""What squaring up comes to: corners proposed and drawn to borders, what is refused, how ridges ran.

    python -m tests.photo.figures squaring --seeds 100

counts on the first so many measuring seeds of each kind of picture; --fixing on those by which limits were fixed.
"""

from __future__ import annotations

import argparse
import math
import multiprocessing
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from fieldassist.photo.corners import propose_corners, snap_corner
from fieldassist.photo.fitness import check_picture
from fieldassist.photo.picture import RGB, CannotTell, PhotoCorners, Point
from fieldassist.photo.square import Squared, in_order, square_up
from fieldassist.photo.swirls import RidgesSeen, ridges_seen
from tests.photo.rendering import FIX, MEASURE, Rendered, render, wrong_subject
from tests.photo.rendering.wrong import FEATURELESS

__all__ = ["Looked", "look", "look_at_wrong", "main"]

_KINDS = ("ordinary", "hard", "wrong")
# A corner is set with a magnifier to so many dots, and without one to this share of the diagonal: photo by photo.
_MAGNIFIED_DOTS, _FINGER = 1.2, 0.01


@dataclass(frozen=True, slots=True)
class Looked:
    """What one picture came to.

    refused: the code of the refusal, "" for none; proposed: the greatest error of a proposed corner [% of the diagonal]
    or None where nothing was; by_finger, snapped: errors of each corner, likewise, as set and as moved; ran,
    ridge_deg, percent: the truth about ridges and contact; by_light, by_cells: how they were seen in the plan, and in
    the true cells; seconds: of the processor, for proposing and for squaring up with its checks.
    """

    name: str
    refused: str
    proposed: float | None = None
    by_finger: tuple[float, ...] = ()
    snapped: tuple[float, ...] = ()
    ran: str = ""
    ridge_deg: float = 0.0
    percent: float = 0.0
    by_light: RidgesSeen | None = None
    by_cells: RidgesSeen | None = None
    seconds: tuple[float, float] = (0.0, 0.0)


def look(drawn: Rendered) -> Looked:
    """One rendering, as a person photographs and sets it."""
    random = np.random.default_rng(drawn.seed)
    diagonal = math.dist(drawn.corners[0], drawn.corners[2])
    start = time.process_time()
    found = propose_corners(drawn.photo, drawn.size_mm)
    proposing = time.process_time() - start
    finger = _moved(drawn.corners, random, _FINGER * diagonal / math.sqrt(2))
    snapped = [snap_corner(drawn.photo, finger, k) or finger[k] for k in range(4)]
    set_with_care = _moved(drawn.corners, random, _MAGNIFIED_DOTS)
    start = time.process_time()
    squared, refused = _squared(drawn.photo, set_with_care, drawn.size_mm)
    squaring = time.process_time() - start

    def errors(points: Sequence[Point]) -> tuple[float, ...]:
        return tuple(100 * math.dist(*pair) / diagonal for pair in zip(points, drawn.corners, strict=True))

    by_light = None
    if squared is not None:
        by_light = ridges_seen(cv2.cvtColor(squared.pixels, cv2.COLOR_RGB2GRAY), squared.mm_a_dot, drawn.percent)
    return Looked(
        drawn.kind,
        refused,
        # In whatever turn: of a square piece any corner may come first.
        min(max(errors([*found[k:], *found[:k]])) for k in range(4)) if found else None,
        errors(finger),
        errors(snapped),
        drawn.ridges,
        drawn.ridge_deg,
        drawn.percent,
        by_light,
        ridges_seen(255 * drawn.seen.astype(np.uint8), drawn.cell_mm, drawn.percent),
        (proposing, squaring),
    )


def look_at_wrong(seed: int) -> Looked:
    """A picture of anything else, with corners forced onto it."""
    wrong = wrong_subject(seed)
    _, refused = _squared(wrong.photo, in_order(wrong.corners, wrong.size_mm), wrong.size_mm)
    return Looked(wrong.name, refused)


def _moved(corners: PhotoCorners, random: np.random.Generator, spread: float) -> PhotoCorners:
    moves = random.normal(0, spread, (4, 2)).tolist()
    a, b, c, d = ((x + dx, y + dy) for (x, y), (dx, dy) in zip(corners, moves, strict=True))
    return a, b, c, d


def _squared(photo: RGB, corners: PhotoCorners, size_mm: tuple[float, float]) -> tuple[Squared | None, str]:
    """The plan, or the code of the refusal."""
    try:
        squared = square_up(photo, corners, size_mm)
        check_picture(photo, corners, squared)
    except CannotTell as refused:
        return None, refused.told.code
    return squared, ""


def _case(case: tuple[int, str]) -> Looked:
    seed, kind = case
    cv2.setNumThreads(1)
    if kind == "ordinary":
        return look(render(seed, "ordinary"))
    return look(render(seed, "hard")) if kind == "hard" else look_at_wrong(seed)


def main(arguments: Sequence[str]) -> None:
    """Counts and prints."""
    parser = argparse.ArgumentParser("squaring")
    parser.add_argument("--seeds", type=int, default=60)
    parser.add_argument("--fixing", action="store_true")
    parser.add_argument("--kinds", nargs="+", choices=_KINDS, default=_KINDS)
    given = parser.parse_args(arguments)
    seeds = (FIX if given.fixing else MEASURE)[: given.seeds]
    print(f"seeds {seeds[0]} to {seeds[-1]} of each kind")
    with multiprocessing.Pool(2) as pool:
        for kind in given.kinds:
            looked = pool.map(_case, [(seed, kind) for seed in seeds], chunksize=4)
            (_tell_wrong if kind == "wrong" else _tell)(kind, looked)


def _tell_wrong(kind: str, looked: Sequence[Looked]) -> None:
    refused = Counter(picture.refused for picture in looked if picture.refused)
    print(f"{kind} subjects: refused {sum(refused.values())} of {len(looked)} {dict(refused)}")
    featureless = [picture for picture in looked if picture.name in FEATURELESS]
    print(f"  of those on which nothing is seen: {sum(bool(p.refused) for p in featureless)} of {len(featureless)}")
    print(f"  not refused: {dict(Counter(picture.name for picture in looked if not picture.refused))}")


def _tell(kind: str, looked: Sequence[Looked]) -> None:
    count = len(looked)
    refused = Counter(picture.refused for picture in looked if picture.refused)
    print(f"{kind}: refused {sum(refused.values())} of {count} {dict(refused)}")
    proposed = np.array([math.inf if picture.proposed is None else picture.proposed for picture in looked])
    within = [f"{np.count_nonzero(proposed <= limit)} within {limit} %" for limit in (1, 2)]
    nothing = np.count_nonzero(np.isinf(proposed))
    print(f"  corners proposed, the worst of four: {', '.join(within)} of the diagonal, nothing proposed {nothing}")
    for what, errors in (
        ("as a finger set them", [error for picture in looked for error in picture.by_finger]),
        ("drawn to the borders", [error for picture in looked for error in picture.snapped]),
    ):
        middle, most = np.quantile(errors, (0.5, 0.9))
        print(f"  corners {what}: median {middle:.2f} %, 90 % within {most:.2f} % of the diagonal")
    for what, pairs in (
        ("lightness", [(picture, picture.by_light) for picture in looked if picture.by_light]),
        ("true cells", [(picture, picture.by_cells) for picture in looked if picture.by_cells]),
    ):
        for band, low, high in (("to 95 %", 0.0, 95.0), ("above", 95.0, 101.0)):
            some = [(picture, seen) for picture, seen in pairs if low < picture.percent <= high]
            read = [(picture, seen) for picture, seen in some if seen.kind != "not readable"]
            right = sum((picture.ran == "swirled") == (seen.kind == "swirled") for picture, seen in read)
            exactly = sum(picture.ran == seen.kind for picture, seen in read)
            turned = [
                abs((seen.direction_deg - picture.ridge_deg + 90) % 180 - 90)
                for picture, seen in read
                if picture.ran == seen.kind == "straight"
            ]
            off = f"direction off by {np.median(turned):.1f}, at most {max(turned):.1f} degrees" if turned else ""
            print(
                f"  ridges by {what}, contact {band}: swirled or not right in {right} of {len(read)} read"
                f" ({exactly} with curved), {len(some) - len(read)} not readable; {off}"
            )
    proposing, squaring = np.mean([picture.seconds for picture in looked], axis=0)
    print(f"  processor: proposing {proposing:.2f} s, squaring up and checking {squaring:.2f} s")
