"""Measured backs as an inspector is told of them: what an event tells is what its cells come to, its picture is the
photo squared up, and files made to do harm are named."""

from __future__ import annotations

import hashlib
import io
import random
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageDraw

from fieldassist.checklist.backs import MeasuredBack
from fieldassist.checklist.events import BackMeasured
from fieldassist.proof.backs import check_backs, shows_squared
from fieldassist.proof.examine import examine
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, WHOLE, Findings
from fieldassist.record.back_cells import cells_png
from fieldassist.record.picture import packed
from fieldassist.report.daily import write_daily_pdf
from fieldassist.trade.message import Message
from fieldassist.trade.voids import BackCells
from tests.report.conftest import RUTH, Site
from tests.report.days import DAYS


@pytest.fixture(scope="module")
def day() -> Site:
    return DAYS["measured"]()


def found_in(site: Site, files: dict[str, bytes], **forged: Any) -> Findings:
    """What is found of the first measured back, with some of what its event tells forged."""
    found = Findings()
    at = next(number for number, event in enumerate(site.events) if isinstance(event.body, BackMeasured))
    body = site.events[at].body
    assert isinstance(body, BackMeasured)
    told = body.model_copy(update={"back": MeasuredBack.model_validate({**body.back.model_dump(), **forged})})
    events = [*site.events[:at], site.events[at].model_copy(update={"body": told})]
    check_backs(events, files.get, found)
    return found


def wrong(found: Findings) -> list[str]:
    """The codes of what is wrong with a back."""
    assert {one.gravity for one in found.found if one.told.code == "proof-back-shows-other"} <= {DAMAGED}
    whys = [one.told.figures["why"] for one in found.found if one.told.code == "proof-back-shows-other"]
    return [why.code for why in whys if isinstance(why, Message)]


def kept(files: dict[str, bytes], what: str, data: bytes, suffix: str) -> dict[str, str]:
    """Another file in the place of the one that was kept."""
    digest = hashlib.sha256(data).hexdigest()
    files[f"{digest[:16]}.{suffix}"] = data
    return {f"{what}_file": f"{digest[:16]}.{suffix}", f"{what}_sha256": digest}


def test_backs_of_an_honest_day_are_what_their_files_show_in_its_pdf_too(day: Site, tmp_path: Path) -> None:
    found = Findings()
    check_backs(day.events, day.files.get, found)
    assert [(one.told.code, one.told.figures["count"], one.gravity) for one in found.found] == [
        ("proof-backs", 4, WHOLE),
        # All but the painted one.
        ("proof-backs-reckoned", 3, WHOLE),
    ]
    folder = tmp_path / "attached"
    folder.mkdir()
    write_daily_pdf(day.record(folder), tmp_path / "day.pdf")
    shutil.rmtree(folder)
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    judgment = examine(tmp_path / "day.pdf", Known(RUTH.public_key), scratch)
    # The photo itself stays in the bundle: the picture is held against its copy.
    assert [one.told.figures["count"] for one in judgment.findings if one.told.code == "proof-backs-by-copy"] == [4]
    assert [one.told.figures["count"] for one in judgment.findings if one.told.code == "proof-backs-reckoned"] == [3]
    others = {"proof-backs", "proof-back-shows-other", "proof-backs-not-compared"}
    assert not {one.told.code for one in judgment.findings} & others
    # Picture and cells go with the pages: these are printed again of nothing else.
    assert judgment.facts["pages"] == "same bytes"


@pytest.mark.parametrize(
    ("forged", "code"),
    [
        ({"percent": 97.5, "high": 98.9}, "proof-back-percent"),
        ({"void_mm2": 300.0}, "proof-back-void"),
        ({"void_box": (300.0, 100.0, 324.0, 124.0)}, "proof-back-place"),
        ({"circle_mm": 60.0}, "proof-back-circle"),
        ({"circle_mm": 0.0, "void_mm2": 0.0, "void_box": (0, 0, 0, 0)}, "proof-back-void"),
        ({"corners_full": False}, "proof-back-edges"),
        ({"edges_full": False}, "proof-back-edges"),
        ({"corner_percents": (100.0, 100.0, 90.0, 100.0)}, "proof-back-edges"),
        ({"high": 99.9}, "proof-back-doubt"),
        ({"corners": ((0.15, 0.15), (0.9, 0.15), (0.9, 0.85), (0.15, 0.85))}, "proof-back-picture"),
        ({"corners": ((0.1, 0.15), (0.1, 0.85), (0.9, 0.85), (0.9, 0.15))}, "proof-back-picture"),  # seen from before
        ({"corners": ((0.0, 0.0),) * 4}, "proof-back-picture"),
        ({"size_mm": (600.0, 400.0)}, "proof-back-picture"),
        ({"size_mm": (0.0, 0.0)}, "proof-back-cells"),
        ({"size_mm": (20_000.0, 1.0)}, "proof-back-cells"),
    ],
)
def test_a_figure_that_is_not_that_of_the_files_is_named(day: Site, forged: dict[str, Any], code: str) -> None:
    assert code in wrong(found_in(day, day.files, **forged))


def test_other_cells_and_a_void_that_was_painted_over_in_the_picture_are_named(day: Site) -> None:
    files = dict(day.files)
    cells = kept(files, "cells", cells_png(BackCells(bytes([255] * 45_000), 300, (2.0, 2.0))), "png")
    assert "proof-back-percent" in wrong(found_in(day, files, **cells))
    assert wrong(found_in(day, files, **kept(files, "cells", b"no picture", "png"))) == ["proof-back-cells"]
    body = next(event.body for event in day.events if isinstance(event.body, BackMeasured))
    with Image.open(io.BytesIO(day.files[body.back.picture_file])) as picture:
        # One percent of the back in the colour of the mortar, over clay.
        ImageDraw.Draw(picture).rectangle((270, 130, 312, 173), fill=(168, 164, 156))
        painted = packed(picture, 90)
    assert wrong(found_in(day, files, **kept(files, "picture", painted, "jpg"))) == ["proof-back-picture"]


@pytest.mark.parametrize("lost", ["cells_file", "picture_file", "photo"])
def test_what_is_not_here_is_said_to_be_not_looked_at(day: Site, lost: str) -> None:
    body = next(event.body for event in day.events if isinstance(event.body, BackMeasured))
    gone = getattr(body.back, lost)
    files = {name: data for name, data in day.files.items() if name != gone}
    if lost == "photo":
        files = {name: day.files[name] for name in (body.back.picture_file, body.back.cells_file)}
    assert [one.told.code for one in found_in(day, files).found] == ["proof-backs-not-compared"]


def bent(draw: random.Random, data: bytes) -> bytes:
    """A file of which some bytes are others, or the end is gone."""
    hurt = bytearray(data)
    for _ in range(draw.randrange(1, 20)):
        hurt[draw.randrange(len(hurt))] = draw.randrange(256)
    return bytes(hurt if draw.random() < 0.7 else hurt[: draw.randrange(len(hurt))])


def test_files_made_to_do_harm_end_no_check(day: Site) -> None:
    draw = random.Random(21)
    told = 0
    for _ in range(40):
        files = {name: bent(draw, data) if draw.random() < 0.5 else data for name, data in day.files.items()}
        told += len(found_in(day, files).found)
    assert told >= 40


def test_a_picture_is_held_against_its_photo_through_perspective(day: Site) -> None:
    """A photo that was taken at a slant, drawn dot by dot with scikit-image's homography as the reference."""
    plan = Image.effect_noise((600, 300), 60).convert("RGB")
    ImageDraw.Draw(plan).ellipse((380, 60, 470, 150), fill=(200, 60, 40))
    corners = ((60.0, 40.0), (590.0, 80.0), (560.0, 420.0), (90.0, 360.0))
    big = plan.resize((1200, 600))
    photo = Image.new("RGB", (640, 480), (80, 90, 80))
    onto = _plan_of(corners)
    for y in range(40, 421):
        for x in range(60, 591):
            u, v = onto(x + 0.5, y + 0.5)
            if 0 <= u < 1 and 0 <= v < 1:
                dot: Any = big.getpixel((int(u * 1200), int(v * 600)))
                photo.putpixel((x, y), dot)
    body = next(event.body for event in day.events if isinstance(event.body, BackMeasured))
    shares = tuple((x / 640, y / 480) for x, y in corners)
    back = body.back.model_copy(update={"corners": shares, "size_mm": (600.0, 300.0)})
    assert shows_squared(back, packed(photo, 92), packed(plan, 85)) is True
    turned = back.model_copy(update={"corners": (*shares[2:], *shares[:2])})
    assert shows_squared(turned, packed(photo, 92), packed(plan, 85)) is False
    assert shows_squared(back, b"", packed(plan, 85)) is None


def _plan_of(corners: Any) -> Callable[[float, float], tuple[float, float]]:
    """Shares of the plan at a point of the photo."""
    from skimage.transform import ProjectiveTransform

    estimate: Any = ProjectiveTransform.from_estimate
    found = estimate(list(corners), [(0, 0), (1, 0), (1, 1), (0, 1)])
    a, b, c, d, e, f, g, h, i = (float(value) for value in found.params.ravel())
    return lambda x, y: (
        (a * x + b * y + c) / (g * x + h * y + i),
        (d * x + e * y + f) / (g * x + h * y + i),
    )
