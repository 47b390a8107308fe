"""How far off proposals are, on drawn pictures that nothing was fixed on: `python -m tests.photo.figures proposing`.

`--seeds N`: so many ordinary pictures, and in proportion hard ones, skim-coated and combed backs, wrong subjects and
ordinary ones that were tapped carelessly. `--from SEED`: the first; a figure is one only of seeds nobody has looked at.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from fieldassist.photo.doubt import contradicting, interval
from fieldassist.trade.coverage import TWO_SQUARE_INCHES_MM2
from fieldassist.trade.voids import void_is_unsure
from tests.photo.examined import Case, CaseKind, Found, examined
from tests.photo.figures.calibrate import passes
from tests.photo.rendering import MEASURE

# Limits of contact that a verdict is asked for [percent].
LIMITS = (80.0, 85.0, 95.0)
# Of each kind so many pictures for every ordinary one.
PARTS: dict[CaseKind, float] = {
    "ordinary": 1.0,
    "hard": 2 / 3,
    "skim-coated": 4 / 15,
    "combed": 4 / 15,
    "wrong subject": 2 / 5,
}
_CARELESS = 4 / 15


def main(arguments: Sequence[str]) -> None:
    """Draw, examine, print."""
    parser = argparse.ArgumentParser(prog="proposing")
    parser.add_argument("--seeds", type=int, default=300, help="ordinary pictures; the others in proportion")
    parser.add_argument("--from", type=int, default=MEASURE.start, dest="first", help="the first seed")
    given = parser.parse_args(arguments)
    for line in lines(measured(given.seeds, given.first)):
        print(line)


def measured(ordinary: int, first: int) -> list[Found]:
    """Pictures of all kinds from a seed on, examined."""
    counts = {kind: max(1, round(ordinary * part)) for kind, part in PARTS.items()}
    cases = [Case(first + n, kind) for kind, count in counts.items() for n in range(count)]
    # Others than those that were tapped with care.
    careless = (Case(first + 5000 + n, "ordinary", True) for n in range(round(ordinary * _CARELESS)))
    return examined([*cases, *careless])


@dataclass(frozen=True, slots=True)
class Kept:
    """What became of the pictures of a kind. given: share of them that get a figure; the rest of those that do, and of
    which a photo can show the contact: median, nine, two: the median error, what nine in ten keep within [points], the
    share within 2; cover: share of intervals that hold the truth; half: median of half their width [points].
    """

    count: int
    given: float
    figures: int
    median: float
    nine: float
    two: float
    worst: float
    cover: float
    half: float


def kept(found: Iterable[Found]) -> Kept:
    """Of pictures of one kind."""
    found = list(found)
    passed = [one for one in found if passes(one)]
    known = [one for one in passed if not one.torn]
    errors = np.array([abs(one.error) for one in known]) if known else np.full(1, np.nan)
    ends = [ends_of(one) for one in known]
    covered = [low <= one.percent <= high for one, (low, high) in zip(known, ends, strict=True)]
    halves = [(high - low) / 2 for low, high in ends]
    return Kept(
        len(found),
        len(passed) / max(1, len(found)),
        len(known),
        float(np.median(errors)),
        float(np.quantile(errors, 0.9)),
        float((errors <= 2).mean()),
        float(errors.max()),
        float(np.mean(covered)) if known else float("nan"),
        float(np.median(halves)) if known else float("nan"),
    )


def ends_of(one: Found) -> tuple[float, float]:
    """The interval that is told with a figure [percent]."""
    assert one.shown is not None
    assert one.doubts is not None
    return interval(one.shown.percent, one.doubts)


def wrong_passes(found: Iterable[Found]) -> int:
    """How often a limit is told to be kept that was not, over all limits; of pictures that can show it."""
    return sum(
        ends_of(one)[0] >= limit > one.percent
        for one in found
        if passes(one) and not one.torn and one.case.kind != "wrong subject"
        for limit in LIMITS
    )


def void_right(found: Iterable[Found]) -> tuple[float, float]:
    """The largest void of pictures that get a figure: in what share of them the tablet asks a person on which side of
    2 in2 it lies; of the others, in what share it is on the right side.
    """
    passed = [one for one in found if passes(one) and not one.torn]
    told = [one for one in passed if not void_is_unsure(*one.void_mm2, TWO_SQUARE_INCHES_MM2)]
    sides = [
        (one.true.void_mm2 > TWO_SQUARE_INCHES_MM2) == (one.shown.void_mm2 > TWO_SQUARE_INCHES_MM2)
        for one in told
        if one.true is not None and one.shown is not None
    ]
    return 1 - len(told) / max(1, len(passed)), float(np.mean(sides))


def corners_right(found: Iterable[Found]) -> float:
    """In what share of the corners it is told rightly whether they are full."""
    sides = [
        (true >= 90) == (shown >= 90)
        for one in found
        if passes(one) and not one.torn and one.true is not None and one.shown is not None
        for true, shown in zip(one.true.corner_percents, one.shown.corner_percents, strict=True)
    ]
    return float(np.mean(sides))


def of_kind(found: Iterable[Found], kind: CaseKind, *, careless: bool = False) -> list[Found]:
    """The pictures of a kind."""
    return [one for one in found if one.case.kind == kind and one.case.careless == careless]


def lines(found: Sequence[Found]) -> list[str]:
    """The table, with what is demanded."""
    ordinary, hard = of_kind(found, "ordinary"), of_kind(found, "hard")
    near = [one for one in ordinary if 90 <= one.percent <= 97]
    careless = of_kind(found, "ordinary", careless=True)
    told = []
    for name, part in (
        ("ordinary (median 1.2, 90 % within 4, a figure in 90 %)", ordinary),
        ("ordinary, 90 to 97 % contact (90 % within 2)", near),
        ("hard, bare backs (90 % within 5)", hard),
        ("ordinary, tapped carelessly", careless),
    ):
        one = kept(part)
        told.append(
            f"{name}: of {one.count} a figure in {one.given:.0%}; {one.figures} of them without what tore off clean: "
            f"median error {one.median:.2f}, 90 % within {one.nine:.2f}, {one.two:.0%} within 2, worst "
            f"{one.worst:.1f}; interval +-{one.half:.1f}, covers {one.cover:.0%} (88 %)"
        )
    torn = [one for one in ordinary + hard if one.torn]
    if torn:
        errors = [one.error for one in torn if passes(one)]
        told.append(f"tore off clean: of {len(torn)} a figure in {len(errors)}, mean error {np.mean(errors):+.1f}")
    never: tuple[CaseKind, ...] = ("skim-coated", "combed", "wrong subject")
    for kind in never:
        part = of_kind(found, kind)
        told.append(f"{kind}: a figure in {sum(map(passes, part))} of {len(part)}")
    backs = [one for one in found if one.case.kind != "wrong subject" and not one.case.careless]
    told.append(
        f"wrong passes at {', '.join(f'{limit:g}' for limit in LIMITS)}: {wrong_passes(backs)} in {len(backs)} "
        f"pictures at {len(LIMITS)} limits (1 %)"
    )
    asked, right = void_right(ordinary)
    told.append(
        f"largest void: in {asked:.1%} left to the eye; of the others on the right side of 2 in2 {right:.1%} (97 %)"
    )
    told.append(f"corner squares told rightly full or not: {corners_right(ordinary):.1%} (95 %)")
    wrong = [one for one in careless if one.wrong_taps]
    stopped = [one for one in wrong if not passes(one)]
    named = [one for one in wrong if one.left is not None and contradicting(one.left) in one.wrong_taps]
    told.append(f"a tap on the wrong side: of {len(wrong)} refused {len(stopped)}, that tap named {len(named)}")
    return told
