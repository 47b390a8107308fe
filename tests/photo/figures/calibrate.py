"""Fix the gates and the interval of proposals on drawn pictures: `python -m tests.photo.figures calibrate`.

Writes `fieldassist/photo/calibrated.py`. It sees only the seeds that are for it; what it gives is measured on others,
by `proposing`.

Gates: of a grid those that let most of the ordinary pictures pass, no back that is skim-coated or combed, and bare ones
with errors within the demands. Interval: split conformal prediction; the kind that needs the widest decides for
all, since nobody says at work which kind a picture is.
"""

from __future__ import annotations

import argparse
import itertools
import math
import pickle
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

import fieldassist.photo
from fieldassist.photo.calibrated import GATE
from fieldassist.photo.doubt import contradicting
from fieldassist.photo.gates import Gate
from tests.photo.examined import Case, CaseKind, Found, examined
from tests.photo.rendering import FIX

# Of each kind so many pictures.
COUNTS: dict[CaseKind, int] = {
    "ordinary": 200,
    "hard": 170,
    "combed": 90,
    "skim-coated": 60,
    "wrong subject": 110,
}
# What the errors of nine in ten keep within when a figure is given [points].
_WITHIN: dict[CaseKind, float] = {"ordinary": 4.0, "hard": 5.0}
# What is never given a figure.
_NEVER: tuple[CaseKind, ...] = ("skim-coated", "combed", "wrong subject")
# Those would not get one either if they differed by this much more in what tells two materials apart.
_MARGIN = 1.1
# A little over the nine in ten that the interval promises.
_COVER = 0.92
# Least d', then the most of: points between methods (with more than 6, pictures that were looked at afterwards erred
# far) and between taps, ambiguous points, percent like neither; least of what two materials differ by.
_GRID = (
    (2.0, 2.5, 3.0, 4.0, 5.0, 6.0),
    (3.0, 4.0, 5.0, 6.0),
    (3.0, 5.0, 6.0, 8.0, 10.0),
    (0.1, 0.2, 0.3, 0.35, 0.5, 0.8),
    (3.0,),
    (0.85, 1.0, 1.15),
)


def main(arguments: Sequence[str]) -> None:
    """Draw, fix, write."""
    parser = argparse.ArgumentParser(prog="calibrate")
    parser.add_argument("--seeds", type=float, default=1.0, help="this part of the usual count of pictures")
    parser.add_argument("--found", type=Path, help="keep what was found in this file, or take it from there")
    given = parser.parse_args(arguments)
    counts = {kind: max(1, round(count * given.seeds)) for kind, count in COUNTS.items()}
    if given.found and given.found.exists():
        found = pickle.loads(given.found.read_bytes())
    else:
        found = examined(Case(FIX[n], kind) for kind, count in counts.items() for n in range(count))
        if given.found:
            given.found.write_bytes(pickle.dumps(found))
    counts = {kind: sum(one.case.kind == kind for one in found) for kind in COUNTS}
    gate = fix_gate(found)
    half = fix_half_width(found, gate)
    path = Path(fieldassist.photo.__file__).with_name("calibrated.py")
    path.write_text(written(gate, half, counts), encoding="utf-8")
    print(path.read_text(encoding="utf-8"))


def answerable(found: Iterable[Found], kind: str) -> list[Found]:
    """Those of a kind of which something was found, and of which a photo can show the contact."""
    return [one for one in found if one.case.kind == kind and not one.refused and not one.torn]


def passes(one: Found, gate: Gate = GATE) -> bool:
    """Whether a figure is given."""
    if one.refused or one.doubts is None or one.left is None:
        return False
    return contradicting(one.left) is None and gate.stops(one.doubts) is None


def fix_gate(found: Sequence[Found]) -> Gate:
    """The gate of the grid that gives most figures within the demands, on the first kind of its pictures above all."""
    gates = [Gate(*thresholds) for thresholds in itertools.product(*_GRID)]
    kept = [gate for gate in gates if _keeps(found, gate)]
    if not kept:
        raise SystemExit("no gate of the grid keeps within what is demanded")
    return max(kept, key=lambda gate: _given(found, gate))


def _keeps(found: Sequence[Found], gate: Gate) -> bool:
    looser = replace(gate, unlike=gate.unlike / _MARGIN)
    if any(passes(one, looser) for one in found if one.case.kind in _NEVER):
        return False
    for kind, within in _WITHIN.items():
        errors = [abs(one.error) for one in answerable(found, kind) if passes(one, gate)]
        if errors and np.quantile(errors, 0.9) > within:
            return False
    return True


def _given(found: Sequence[Found], gate: Gate) -> list[int]:
    # A percent of the pictures more or less is no difference; there the next kind decides.
    shares = []
    for kind in _WITHIN:
        of_kind = [passes(one, gate) for one in found if one.case.kind == kind]
        shares.append(round(100 * sum(of_kind) / max(1, len(of_kind))))
    return shares


def fix_half_width(found: Sequence[Found], gate: Gate) -> float:
    """Half the interval in parts of `Doubts.points`, so that it covers in each kind."""
    return max(_needed(found, kind, gate) for kind in _WITHIN)


def _needed(found: Sequence[Found], kind: CaseKind, gate: Gate) -> float:
    """What covers as many of the pictures of a kind as are to be covered; 0 where there are none."""
    parts = sorted(
        abs(one.error) / one.doubts.points
        for one in answerable(found, kind)
        if passes(one, gate) and one.doubts is not None
    )
    if not parts:
        return 0.0
    # The rank that split conformal prediction takes, for one more picture than there are.
    return math.ceil(100 * parts[min(len(parts), math.ceil(_COVER * (len(parts) + 1))) - 1]) / 100


def written(gate: Gate, half: float, counts: dict[CaseKind, int]) -> str:
    """The module that holds it."""
    made = "\n".join(f"    {count} {kind}" for kind, count in counts.items())
    return f'''"""What was fixed on drawn pictures of known truth. Written by `python -m tests.photo.figures calibrate`.

Of seeds {FIX.start} and up:
{made}
No real photograph is among them.
"""

from __future__ import annotations

from typing import Final

from fieldassist.photo.gates import Gate

__all__ = ["GATE", "HALF_WIDTH"]

GATE: Final = {gate!r}
# Half the interval in parts of `Doubts.points`.
HALF_WIDTH: Final = {half!r}
'''
