"""What taps that grow, two lights and a clear sheet come to, counted.

python -m tests.photo.figures lights [two] [sheet] [painting] [--seeds N] [--from FIRST]
"""

from __future__ import annotations

import argparse
import math
import multiprocessing
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from multiprocessing.pool import Pool

import cv2
import numpy as np

from fieldassist.photo.calibrated import GATE
from fieldassist.photo.gates import Doubts
from fieldassist.photo.picture import CannotTell
from fieldassist.photo.propose import examine
from fieldassist.photo.two_lights import SeenByTwo, TwoLightsDoubts, examine_two
from tests.photo.examined import squared_and_tapped
from tests.photo.painting import paint_by_taps, painted_percent, rendered_back
from tests.photo.rendering import MEASURE, Rendered, render

__all__ = ["ByTwoLights", "ThroughSheet", "by_two_lights", "main", "seen_by_two", "through_sheet"]


@dataclass(frozen=True, slots=True)
class ByTwoLights:
    """One back: combed, or skim-coated; the true contact; what was seen, None where nothing could be."""

    seed: int
    combed: bool
    true: float
    percent: float = 0.0
    low: float = 0.0
    high: float = 0.0
    doubts: TwoLightsDoubts | None = None

    @property
    def off(self) -> float:
        """By how many points."""
        return abs(self.percent - self.true)

    @property
    def given(self) -> bool:
        """Whether the figure passes all gates."""
        return self.doubts is not None and not self.doubts.too_large


def seen_by_two(drawn: Rendered) -> SeenByTwo | None:
    """A rendered pair as the tablet would see it: corners of both set by hand, taps on the first."""
    high, mortar, bare = squared_and_tapped(drawn, careless=False)
    assert drawn.raking is not None
    # The corners of the second photo are set by themselves.
    again = replace(drawn, seed=drawn.seed + 1, photo=drawn.raking.photo, corners=drawn.raking.corners)
    raking, _, _ = squared_and_tapped(again, careless=False)
    return examine_two(high, raking, mortar, bare) if mortar and bare else None


def by_two_lights(seed: int) -> ByTwoLights:
    """Render one and look at it."""
    cv2.setNumThreads(1)
    drawn = render(seed, "two lights")
    combed = "combed" in drawn.facts
    try:
        seen = seen_by_two(drawn)
    except CannotTell:
        seen = None
    if seen is None:
        return ByTwoLights(seed, combed, drawn.percent)
    return ByTwoLights(seed, combed, drawn.percent, seen.percent, seen.low, seen.high, seen.doubts)


@dataclass(frozen=True, slots=True)
class ThroughSheet:
    """One clear sheet: the true contact, and what the tap statistics of bare backs make of it, None where nothing."""

    true: float
    percent: float | None
    doubts: Doubts | None

    @property
    def passes(self) -> bool:
        """Whether it would pass the gates that bare backs have to pass."""
        return self.doubts is not None and GATE.stops(self.doubts) is None


def through_sheet(seed: int, *, careful: bool) -> ThroughSheet:
    """Render one and examine it. careful: photographed by the rule."""
    cv2.setNumThreads(1)
    drawn = render(seed, "clear sheet", careful=careful)
    try:
        seen = examine(*squared_and_tapped(drawn, careless=False))
    except CannotTell:
        return ThroughSheet(drawn.percent, None, None)
    return ThroughSheet(drawn.percent, seen.percent, seen.doubts)


def _points(off: Sequence[float]) -> str:
    if not off:
        return "none"
    within = sum(points <= 5 for points in off) / len(off)
    return (
        f"n {len(off)}, median {np.median(off):.1f}, 90 % {np.quantile(off, 0.9):.1f}, largest {max(off):.1f}, "
        f"within 5: {within:.0%}"
    )


def _print_two(pool: Pool, seeds: range) -> None:
    found = pool.map(by_two_lights, seeds, chunksize=2)
    for name, combed in (("combed", True), ("skim-coated, said to be combed", False)):
        of_kind = [one for one in found if one.combed == combed]
        given = [one for one in of_kind if one.given]
        print(f"two lights, {name}: {len(of_kind)} pairs; all: {_points([one.off for one in of_kind if one.doubts])}")
        print(f"  given: {_points([one.off for one in given])}")
        if given:
            cover = sum(one.low <= one.true <= one.high for one in given) / len(given)
            half = np.median([(one.high - one.low) / 2 for one in given])
            wrong = sum(one.low >= limit > one.true for one in of_kind if one.given for limit in (80, 85, 95))
            print(f"  cover {cover:.0%}, median half width {half:.1f}, wrong passes at 80, 85, 95: {wrong}")
            scores = sorted(one.off / one.doubts.points for one in given if one.doubts)
            ninth = min(len(scores), math.ceil(0.9 * (len(scores) + 1)))
            print(f"  half the interval, by these: {scores[ninth - 1]:.2f} times the doubts")


def _print_sheet(pool: Pool, seeds: range) -> None:
    for careful in (True, False):
        found = pool.map(partial(through_sheet, careful=careful), seeds, chunksize=2)
        every = [abs(one.percent - one.true) for one in found if one.percent is not None]
        passed = [abs(one.percent - one.true) for one in found if one.percent is not None and one.passes]
        print(f"clear sheet, {'by the rule' if careful else 'any light'}: {_points(every)}")
        print(f"  past the gates of bare backs: {_points(passed)}")


def _print_painting(pool: Pool, seeds: range) -> None:
    backs = pool.map(_painted, seeds, chunksize=1)
    for way, off in (("strokes", [one[0] for one in backs]), ("taps, the rest by strokes", [one[1] for one in backs])):
        print(f"painted by {way}: {_points(off)}, within 1: {sum(points <= 1 for points in off) / len(off):.0%}")
    print(f"taps taken: {sum(one[2] for one in backs)} of {sum(one[3] for one in backs)}")


def _painted(seed: int) -> tuple[float, float, int, int]:
    cv2.setNumThreads(1)
    shown = rendered_back(seed)
    by_taps = paint_by_taps(shown)
    return (
        abs(painted_percent(shown) - shown.percent),
        abs(by_taps.percent - shown.percent),
        by_taps.taken,
        by_taps.taps,
    )


_PRINTED = {"two": _print_two, "sheet": _print_sheet, "painting": _print_painting}


def main(arguments: Sequence[str]) -> None:
    """Print what was asked for, or all."""
    parser = argparse.ArgumentParser(prog="python -m tests.photo.figures lights")
    parser.add_argument("subjects", nargs="*", choices=[*_PRINTED, []], help="all where none is named")
    parser.add_argument("--seeds", type=int, default=60, help="how many pictures")
    parser.add_argument("--from", type=int, default=MEASURE.start, dest="first", help="the first seed")
    asked = parser.parse_args(arguments)
    seeds = range(asked.first, asked.first + asked.seeds)
    with multiprocessing.Pool(2) as pool:
        for subject in asked.subjects or _PRINTED:
            _PRINTED[subject](pool, seeds)
