"""A lifted back that a rehearsal measures on its photo: from taps, put right by paint, painted, or refused."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import pytest
from PIL import Image

from fieldassist.cli import main
from fieldassist.photo.back import Back
from fieldassist.photo.picture import Point
from fieldassist.record.back_cells import cells_png
from fieldassist.rehearsal.measuring import read_measure
from fieldassist.trade.message import Refused
from tests.photo.rendering import render, taps
from tests.rehearse import CHECKLISTS, PLAN, SCRIPTS

SEED = 20_152  # a bare back of 1200 x 600 mm, as the plan's piece
UNTIL_READ = (SCRIPTS / "honest-day.txt").read_text(encoding="utf-8").split("08:12:20")[0]


@pytest.fixture(scope="module")
def facts(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A lift whose back is measured three times, each in another way; the lines between them are refused."""
    folder = tmp_path_factory.mktemp("measured")
    drawn = render(SEED)
    assert drawn.size_mm == (1200.0, 600.0)
    high, wide = drawn.photo.shape[:2]

    def places(points: Sequence[Point]) -> str:
        return " ".join(f"{100 * x / wide:.2f}%,{100 * y / high:.2f}%" for x, y in points)

    Image.fromarray(drawn.photo).save(folder / "back.png")
    whole = Back(1200, 600)
    whole.stroke([(300, 300), (500, 300)], "void")
    (folder / "painted.png").write_bytes(cells_png(whole.cells))
    corners = f"corners {places(drawn.corners)}"
    mortar, bare = taps(drawn)
    tapped = f"{corners} mortar {places(mortar)} bare {places(bare)}"
    lines = [
        f"08:12:01 rosa: measure as bare {tapped}",
        "expect refused because rehearse-nothing-to-measure",
        "08:12:02 rosa: photo back.png",
        f"08:12:03 rosa: measure as skim-coated {tapped}",
        "expect refused because measure-keyed",
        "08:12:04 rosa: measure as bare corners",
        "expect refused because rehearse-measure",
        *(f"08:12:05 rosa: measure as bare {tapped}", "expect taken"),
        "08:12:06 expect areas[niche wall].lifts[1].back.way is proposed",
        f"08:12:06 expect areas[niche wall].lifts[1].back.percent at least {drawn.percent - 4}",
        f"08:12:06 expect areas[niche wall].lifts[1].back.percent at most {drawn.percent + 4}",
        *(f"08:12:07 rosa: measure as bare {tapped} painted painted.png", "expect taken"),
        "08:12:08 expect areas[niche wall].lifts[1].back.way is corrected",
        *(f"08:12:09 rosa: measure as skim-coated {tapped} painted painted.png", "expect taken"),
    ]
    script = folder / "measured.txt"
    script.write_text(f"{UNTIL_READ}{chr(10).join(lines)}\n", encoding="utf-8")
    out = folder / "out"
    assert main(["rehearse", str(PLAN), str(script), "--checklists", str(CHECKLISTS), "--out", str(out)]) == 0
    return json.loads((out / "facts.json").read_text(encoding="utf-8"))


def test_a_keyed_back_is_painted_and_says_why_its_photo_could_not_tell(facts: Any) -> None:
    back = facts["areas"][0]["lifts"][0]["back"]
    assert (back["way"], back["kind"], back["mortar"], back["cannot"]["code"]) == (
        "painted",
        "skim-coated",
        [],
        "measure-keyed",
    )
    # A stroke of 200 mm, 24 mm broad with round ends, on 1200 x 600 mm: 4800 mm2 and a circle of 452 mm2.
    assert back["percent"] == pytest.approx(100 * (1 - 5252 / 720_000), abs=0.02)


def test_what_was_read_by_eye_before_stays_beside_what_the_photo_told(facts: Any) -> None:
    lift = facts["areas"][0]["lifts"][0]
    assert (lift["back"]["eye_percent"], lift["back"]["eye_by"], lift["percent"]) == (96, "rosa", 96)


@pytest.mark.parametrize(
    "words",
    [
        "measure as bare corners 1%,1% 9%,1% 9%,9%",
        "measure as glass corners 1%,1% 9%,1% 9%,9% 1%,9%",
        "measure as bare corners 1%,1% 9%,1% 9%,9% 1%,9% mortar 5%,5%",
        "measure as bare corners 1,1 9,1 9,9 1,9",
    ],
)
def test_a_line_that_leaves_something_out_is_not_guessed(words: str) -> None:
    with pytest.raises(Refused):
        read_measure(words)
