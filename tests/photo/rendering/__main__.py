"""Write one picture and print its truth: python -m tests.photo.rendering SEED KIND OUT.png [MEGAPIXELS]"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import cast, get_args

import cv2

from tests.photo.rendering import Kind, render, taps, wrong_subject


def main(seed: str, kind: str, out: str, megapixels: str = "1.2") -> None:
    """Write the picture (of "two lights" the raking one beside it), print the truth as JSON."""
    if kind.startswith("wrong"):
        wrong = wrong_subject(int(seed), kind.removeprefix("wrong").strip(), megapixels=float(megapixels))
        cv2.imwrite(out, wrong.photo[..., ::-1])
        told: dict[str, object] = {"name": wrong.name, "corners": wrong.corners, "size_mm": wrong.size_mm}
        print(json.dumps({**told, "mortar": wrong.mortar, "bare": wrong.bare, "sly": wrong.sly}))
        return
    # "careful clear sheet" is a clear sheet photographed by the rule.
    plain = kind.removeprefix("careful").strip()
    if plain not in get_args(Kind):
        raise SystemExit(f"There are the kinds {', '.join(get_args(Kind))}; careful clear sheet; wrong NAME.")
    made = render(int(seed), cast(Kind, plain), megapixels=float(megapixels), careful=plain != kind)
    cv2.imwrite(out, made.photo[..., ::-1])
    if made.raking:
        path = Path(out)
        cv2.imwrite(str(path.with_stem(f"{path.stem}-raking")), made.raking.photo[..., ::-1])
    mortar, bare = taps(made)
    truth = {
        "size_mm": made.size_mm,
        "corners": made.corners,
        "percent": round(made.percent, 2),
        "seen_percent": round(made.seen_percent, 2),
        "wanted_percent": round(made.wanted_percent, 2),
        "mortar": mortar,
        "bare": bare,
        "ridges": made.ridges,
        "ridge_deg": round(made.ridge_deg, 1),
        "tilt_deg": round(made.tilt_deg, 1),
        "mm_a_dot": round(made.mm_a_dot, 3),
        "facts": sorted(made.facts),
    }
    print(json.dumps(truth))


if __name__ == "__main__":
    if not 4 <= len(sys.argv) <= 5:
        raise SystemExit(__doc__)
    main(*sys.argv[1:])
