"""`fieldassist photo`: from a file to a figure with its doubt, or to the reason for none."""

from __future__ import annotations

import csv
import json
import os
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pytest
from PIL import Image, ImageOps

from fieldassist.cli import main
from fieldassist.cli.photo_out import NotWritten, picture_out
from fieldassist.photo.measuring import by_taps, plan_of
from fieldassist.photo.square import to_back
from tests.photo.rendering import Rendered, render, taps

SEED = 20_011
Asked = Callable[..., tuple[int, Any]]


@pytest.fixture(scope="module")
def made() -> Rendered:
    return render(SEED, "ordinary")


@pytest.fixture(scope="module")
def file(made: Rendered, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("photos") / "lift 1.jpg"
    Image.fromarray(made.photo).save(path, quality=92)
    return path


def typed(points: Any) -> list[str]:
    return [f"{x:.2f},{y:.2f}" for x, y in points]


@pytest.fixture
def size(made: Rendered) -> list[str]:
    return ["--size", f"{made.size_mm[1]:g}x{made.size_mm[0]:g}mm"]


@pytest.fixture
def corners(made: Rendered) -> list[str]:
    return ["--corners", *typed(made.corners)]


@pytest.fixture
def spots(made: Rendered) -> list[str]:
    mortar, bare = taps(made)
    return ["--mortar", *typed(mortar), "--bare", *typed(bare)]


@pytest.fixture
def asked(capsys: pytest.CaptureFixture[str]) -> Asked:
    """The exit code, and what is told to a program."""

    def ask(*arguments: str | Path) -> tuple[int, Any]:
        code = main(["photo", *map(str, arguments), "--json"])
        return code, json.loads(capsys.readouterr().out)

    return ask


def refused(told: Any) -> str:
    assert told.get("percent") is None
    assert told["refused"]["text"]
    return str(told["refused"]["code"])


# --- a figure -----------------------------------------------------------------------------------------------------


def test_a_figure_is_that_of_measuring_and_its_interval_holds_the_truth(
    asked: Asked, made: Rendered, file: Path, size: list[str], corners: list[str], spots: list[str]
) -> None:
    code, told = asked(file, *size, *corners, *spots)
    assert code == 0
    photo = np.asarray(Image.open(file))
    mortar, bare = ([to_back(made.corners, made.size_mm, at) for at in some] for some in taps(made))
    found = by_taps(plan_of(photo, made.corners, made.size_mm)[0], mortar, bare)
    # What is typed has two decimals.
    assert told["percent"] == pytest.approx(found.percent, abs=0.1)
    assert told["void"]["mm2"] == pytest.approx(found.done.void_mm2, rel=0.02)
    assert told["low"] <= made.seen_percent <= told["high"]
    assert told["low"] < told["percent"] < told["high"]
    assert (told["how"], told["back"], told["corners_by"]) == ("proposed", "bare", "given")
    assert told["ridges"]["kind"] == "straight"
    assert told["ridges"]["direction_deg"] == pytest.approx(made.ridge_deg, abs=3)
    assert told["photo_dots"] == [made.photo.shape[1], made.photo.shape[0]]
    assert told["refused"] is None
    assert told["checked_on"] == "computed pictures only"
    assert set(told) == {
        "file", "photo_dots", "size_mm", "back", "corners", "corners_by", "source_mm", "how", "percent", "low", "high",
        "void", "band_percent", "corner_percents", "edge_percents", "ridges", "doubts", "required", "verdict",
        "unfit", "refused", "checked_on", "not_written",
    }  # fmt: skip


def test_points_are_given_in_any_order_and_in_shares_as_in_dots(
    asked: Asked, made: Rendered, file: Path, size: list[str], corners: list[str], spots: list[str]
) -> None:
    high, wide = made.photo.shape[:2]
    mortar, bare = ([f"{100 * x / wide:.3f}%,{100 * y / high:.3f}%" for x, y in some] for some in taps(made))
    shares = ["--mortar", *mortar, "--bare", *bare]
    _, one = asked(file, *size, *corners, *spots)
    code, other = asked(file, *size, "--corners", *reversed(corners[1:]), *shares)
    assert code == 0
    assert other["percent"] == pytest.approx(one["percent"], abs=0.2)
    assert other["corners"] == one["corners"]


def test_points_belong_to_the_photo_as_it_is_seen_upright_and_in_all_its_dots(
    asked: Asked, made: Rendered, size: list[str], tmp_path: Path
) -> None:
    """A photo of 19 megapixels that lies on its side in its file is decoded with fewer dots."""
    by = 4
    photo = cv2.resize(made.photo, None, fx=by, fy=by, interpolation=cv2.INTER_LINEAR)
    turned = tmp_path / "turned.jpg"
    exif = Image.Exif()
    exif[0x0112] = 6  # EXIF 2.32, 4.6.4: the file's rows are the picture's columns, from the right
    Image.fromarray(np.rot90(photo)).save(turned, quality=92, exif=exif)
    with Image.open(turned) as image:
        assert ImageOps.exif_transpose(image).size == (photo.shape[1], photo.shape[0])
    mortar, bare = ([(by * x, by * y) for x, y in some] for some in taps(made))
    corners = [(by * x, by * y) for x, y in made.corners]
    code, told = asked(turned, *size, "--corners", *typed(corners), "--mortar", *typed(mortar), "--bare", *typed(bare))
    assert code == 0
    assert told["photo_dots"] == [photo.shape[1], photo.shape[0]]
    assert told["percent"] == pytest.approx(made.seen_percent, abs=3)


def test_a_heic_photo_is_taken_upright_as_others_are(asked: Asked) -> None:
    held = Path(__file__).parents[1] / "hostile" / "held-upright.heic"
    code, told = asked(held, "--size", "600x300mm", "--corners", "4%,4%", "96%,4%", "96%,35%", "4%,35%")
    assert (code, told["photo_dots"], refused(told)) == (3, [64, 96], "measure-too-small")


def test_the_verdict_is_of_the_whole_interval_and_the_exit_code_says_it(
    asked: Asked, file: Path, size: list[str], corners: list[str], spots: list[str]
) -> None:
    code, told = asked(file, *size, *corners, *spots, "--least", "50")
    assert (code, told["verdict"], told["required"]) == (3, "cannot tell", 50)
    assert told["low"] < 50 < told["high"]
    code, told = asked(file, *size, *corners, *spots, "--least", f"{told['low']}")
    assert (code, told["verdict"]) == (0, "passes")
    code, told = asked(file, *size, *corners, *spots, "--least", f"{told['high'] + 0.01}")
    assert (code, told["verdict"]) == (1, "fails")


def test_voids_painted_over_the_plan_come_to_the_truth(
    asked: Asked, made: Rendered, file: Path, size: list[str], corners: list[str], tmp_path: Path
) -> None:
    plan = tmp_path / "plan.png"
    assert asked(file, *size, *corners, "--plan", plan)[0] == 3
    with Image.open(plan) as written:
        wide, high = written.size
    assert (wide, high) == (round(made.size_mm[0]), round(made.size_mm[1]))
    painted = cv2.resize(made.seen.astype(np.uint8) * 255, (wide, high), interpolation=cv2.INTER_NEAREST)
    voids = tmp_path / "voids.png"
    Image.fromarray(painted).save(voids)
    code, told = asked(file, *size, *corners, "--voids", voids)
    assert (code, told["how"]) == (0, "painted")
    assert told["percent"] == pytest.approx(made.seen_percent, abs=1)
    assert told["low"] < told["percent"] < told["high"]
    Image.fromarray(np.rot90(painted)).save(voids)
    code, told = asked(file, *size, *corners, "--voids", voids)
    assert (code, refused(told)) == (2, "cli-photo-voids-proportion")


def test_a_photo_that_nothing_can_be_reckoned_from_is_painted_on_and_says_so(
    asked: Asked, made: Rendered, size: list[str], corners: list[str], spots: list[str], tmp_path: Path
) -> None:
    dark, voids = tmp_path / "dark.png", tmp_path / "voids.png"
    Image.fromarray(made.photo // 16).save(dark, compress_level=1)
    code, told = asked(dark, *size, *corners, *spots, "--plan", voids)
    assert (code, refused(told)) == (3, "measure-dark")
    with Image.open(voids) as plan:
        paint = Image.new("L", plan.size, 255)
    paint.save(voids)
    # Paper without paint may be of a back that nobody looked at.
    code, told = asked(dark, *size, *corners, "--voids", voids)
    assert (code, refused(told)) == (2, "cli-photo-voids-none")
    paint.paste(0, (0, 0, paint.width // 2, paint.height))
    paint.save(voids)
    code, told = asked(dark, *size, *corners, "--voids", voids)
    assert (code, told["percent"]) == (0, pytest.approx(50, abs=0.2))
    assert told["unfit"]["code"] == "measure-dark"


@pytest.fixture
def plan(made: Rendered) -> Image.Image:
    squared, _ = plan_of(made.photo, made.corners, made.size_mm)
    return Image.fromarray(squared.pixels)


def test_a_picture_that_shows_more_than_paint_is_not_taken_for_voids(
    asked: Asked, plan: Image.Image, file: Path, size: list[str], corners: list[str], tmp_path: Path
) -> None:
    """Its bright back would count as mortar: the plan, paint on it, one grey, layers without ground."""
    ask, voids = [file, *size, *corners, "--least", "80", "--voids"], tmp_path / "voids.png"
    over = plan.copy()
    over.paste((0, 0, 0), (0, 0, plan.width, plan.height // 2))
    layer = Image.new("RGBA", plan.size, (255, 255, 255, 0))
    layer.paste((0, 0, 0, 255), (0, 0, plan.width // 10, plan.height))
    cases = [(plan, "not-painted"), (over, "not-painted"), (Image.new("L", plan.size, 140), "not-painted")]
    cases += [(layer, "transparent"), (Image.new("LA", plan.size, (255, 0)), "transparent")]
    for picture, why in cases:
        picture.save(voids, compress_level=1)
        code, told = asked(*ask, voids)
        assert (code, refused(told)) == (2, f"cli-photo-voids-{why}")


def test_paint_may_be_blurred_at_its_borders_and_packed_as_a_photo(
    asked: Asked, plan: Image.Image, file: Path, size: list[str], corners: list[str], tmp_path: Path
) -> None:
    """Stripes of 4 mm, 8 mm apart, by a soft brush, in a JPEG; and on a layer that is opaque."""
    high, wide = plan.height, plan.width
    stripes = np.where(np.arange(wide) % 8 < 4, 0, 255).astype(np.uint8)
    soft = Image.fromarray(cv2.GaussianBlur(np.tile(stripes, (high, 1)), (0, 0), 0.6))
    packed, opaque = tmp_path / "voids.jpg", tmp_path / "voids.png"
    soft.save(packed, quality=75)
    soft.convert("RGBA").save(opaque, compress_level=1)
    for voids in (packed, opaque):
        code, told = asked(file, *size, *corners, "--voids", voids)
        assert (code, told["percent"]) == (0, pytest.approx(50, abs=1))


def test_a_picture_takes_the_place_of_another_picture_only(made: Rendered, tmp_path: Path) -> None:
    photo, link, other, pipe = (tmp_path / name for name in ("photo.png", "link.png", "day.log", "pipe"))
    Image.fromarray(made.photo[:9, :9]).save(photo)
    link.hardlink_to(photo)
    other.write_bytes(b"kept")
    outs = {photo: "out-in-use", link: "out-in-use", other: "out-other", tmp_path: "out-no-file", Path(): "out-no-file"}
    outs |= {tmp_path / "none" / "a.png": "unwritten", tmp_path / ("n" * 300): "unwritten"}
    if sys.platform != "win32":
        os.mkfifo(pipe)
        outs |= {pipe: "out-no-file", Path(os.devnull): "out-no-file"}
    before, names = photo.read_bytes(), sorted(tmp_path.iterdir())
    for out, why in outs.items():
        with pytest.raises(NotWritten) as lost, picture_out(out, [tmp_path / "nothing", photo]) as new:
            new.write(b"lost")
        assert (lost.value.told.code, lost.value.told.figures["file"]) == (f"cli-photo-{why}", str(out))
    assert (photo.read_bytes(), other.read_bytes(), sorted(tmp_path.iterdir())) == (before, b"kept", names)
    with picture_out(link) as new:
        new.write(b"new")
    assert (photo.read_bytes(), link.read_bytes()) == (before, b"new")


def test_a_picture_that_cannot_be_written_costs_no_figure_and_the_exit_code_tells_of_it(
    asked: Asked,
    file: Path,
    size: list[str],
    corners: list[str],
    spots: list[str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    before, same = file.read_bytes(), tmp_path / "same.png"
    for plan, overlay, why in ((file, "", ["in-use", "no-file"]), (same, same, ["in-use"])):
        code, told = asked(file, *size, *corners, *spots, "--plan", plan, "--overlay", overlay)
        assert (code, told["how"]) == (2, "proposed")
        assert [one["code"] for one in told["not_written"]] == [f"cli-photo-out-{reason}" for reason in why]
    assert file.read_bytes() == before
    nowhere = str(tmp_path / "none" / "plan.png")
    assert main(["photo", str(file), *size, *corners, "--plan", nowhere]) == 2
    out, err = capsys.readouterr()
    assert out
    assert nowhere in err


def test_the_overlay_shows_the_plan_with_a_scale_and_is_larger_than_it(
    file: Path,
    size: list[str],
    corners: list[str],
    spots: list[str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    plan, overlay = tmp_path / "plan.png", tmp_path / "overlay.png"
    arguments = [str(file), *size, *corners, *spots, "--plan", str(plan), "--overlay", str(overlay)]
    assert main(["photo", *arguments]) == 0
    with Image.open(plan) as one, Image.open(overlay) as other:
        by = other.width // one.width
        assert other.height > by * one.height  # words and a scale bar below
        below = np.asarray(other.convert("L"))[by * one.height :]
        drawn = np.asarray(other.convert("RGB"))[: by * one.height]
    assert 0.005 < np.mean(below < 60) < 0.4
    assert np.mean(np.all(drawn == (255, 221, 0), axis=2)) > 0.03
    # 100 mm of the plan are as long as the scale bar.
    bar = np.flatnonzero(np.all(below[14:16, : 100 * by + 28] < 60, axis=0))
    assert bar.max() - bar.min() == pytest.approx(100 * by, abs=4)
    assert capsys.readouterr().err == ""


# --- no figure ----------------------------------------------------------------------------------------------------


def test_without_corners_they_are_proposed_and_no_figure_is_given_before_they_are_taken(
    asked: Asked, file: Path, size: list[str], spots: list[str]
) -> None:
    code, told = asked(file, *size, *spots)
    assert (code, refused(told)) == (3, "cli-photo-corners-first")
    assert (len(told["corners"]), told["corners_by"]) == (4, "proposed")
    code, told = asked(file, *size, "--corners", "proposed", *spots)
    assert (code, told["corners_by"]) == (0, "proposed")


def test_without_spots_or_paint_it_is_told_what_to_give_and_no_overlay_is_written(
    file: Path, size: list[str], corners: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    overlay = tmp_path / "overlay.png"
    assert main(["photo", str(file), *size, *corners, "--overlay", str(overlay)]) == 3
    out, err = capsys.readouterr()
    assert "--mortar" in out
    assert str(overlay) in err
    assert not overlay.exists()


@pytest.mark.parametrize("back", ["skim-coated", "combed"])
def test_a_keyed_back_gets_no_percentage_from_one_photo(
    asked: Asked, file: Path, size: list[str], corners: list[str], spots: list[str], back: str
) -> None:
    code, told = asked(file, *size, *corners, *spots, "--back", back)
    assert (code, refused(told), told["back"]) == (3, "measure-keyed", back)


def test_a_combed_back_is_measured_by_a_second_photo_with_the_lamp_low(asked: Asked, tmp_path: Path) -> None:
    two = render(20_007, "two lights")
    assert two.raking is not None
    mortar, bare = taps(two)
    high, low = tmp_path / "high.png", tmp_path / "low.png"
    Image.fromarray(two.photo).save(high, compress_level=1)
    Image.fromarray(two.raking.photo).save(low, compress_level=1)
    first = [high, "--size", f"{two.size_mm[0]:g}x{two.size_mm[1]:g}mm", "--corners", *typed(two.corners)]
    first += ["--mortar", *typed(mortar), "--bare", *typed(bare), "--back", "combed"]
    second = ["--second", low, "--second-corners", *typed(two.raking.corners)]
    code, told = asked(*first, *second)
    assert (code, told["how"]) == (0, "proposed")
    assert told["low"] <= two.seen_percent <= told["high"]
    assert main(["photo", *map(str, first), "--second", str(low)]) == 2
    assert refused(asked(*first)[1]) == "measure-keyed"


def test_nothing_is_reckoned_from_a_clear_sheet(
    asked: Asked, file: Path, size: list[str], corners: list[str], spots: list[str]
) -> None:
    for given in ([], spots):
        code, told = asked(file, *size, *corners, *given, "--sheet")
        assert (code, refused(told)) == (3, "measure-sheet-painted")


def test_a_piece_of_another_size_is_refused_with_its_reason(
    asked: Asked, file: Path, corners: list[str], spots: list[str]
) -> None:
    code, told = asked(file, "--size", "100x1200mm", *corners, *spots)
    assert (code, refused(told)) == (3, "measure-other-proportion")


def test_a_file_that_is_no_whole_picture_is_refused(asked: Asked, file: Path, size: list[str], tmp_path: Path) -> None:
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(file.read_bytes()[:20_000])
    other = tmp_path / "text.jpg"
    other.write_text("no picture", encoding="utf-8")
    code, told = asked(broken, "--size", "600x1200")
    assert (code, told["file"], bool(refused(told))) == (2, str(broken), True)
    for path, wanted in ((broken, "photo-damaged"), (other, "photo-no-picture"), (tmp_path, "photo-unfit")):
        code, told = asked(path, *size)
        assert (code, refused(told)) == (2, wanted)


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (["x.jpg"], "--size"),
        (["--size", "600x1200mm"], "FILE"),
        (["x.jpg", "--size", "600x1200"], "600"),
        (["x.jpg", "--size", "600x1200mm", "--mortar", "12;30"], "12;30"),
        (["x.jpg", "--size", "600x1200mm", "--corners", "1,2", "3"], "3"),
        (["x.jpg", "--size", "600x1200mm", "--back", "glazed"], "glazed"),
        (["x.jpg", "--size", "600x1200mm", "--sheet", "--back", "bare"], "--sheet"),
        (["x.jpg", "--compare", "folder"], "FILE"),
        (["x.jpg", "--size", "600x1200mm", "--second-corners", "1,2"], "--second"),
        (["--grids", "folder", "--json"], "--json"),
        *((["x.jpg", "--size", "600x1200mm", "--least", least], f"“{least}”") for least in ("0", "100.5", "nan", "-1")),
    ],
)
def test_a_line_that_cannot_be_understood_says_why(
    arguments: list[str], word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["photo", *arguments]) == 2
    assert word in capsys.readouterr().err


def test_where_the_tablets_library_lacks_it_is_told_how_to_get_it(
    file: Path, size: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in [name for name in sys.modules if name.startswith(("fieldassist.photo", "fieldassist.cli.photo_"))]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "cv2", None)
    assert main(["photo", str(file), *size]) == 2
    err = capsys.readouterr().err
    assert "cv2" in err
    assert "fieldassist[tablet]" in err


# --- held against counts ------------------------------------------------------------------------------------------


def filled(folder: Path, *changed: dict[str, str], mark: str = ",") -> None:
    """The sheet of the folder with these cells, line by line."""
    sheet = folder / "lifts.csv"
    with sheet.open(encoding="utf-8", newline="") as text:
        rows = list(csv.DictReader(text))
    for row, cells in zip(rows, changed, strict=True):
        row.update(cells)
    with sheet.open("w", encoding="utf-8", newline="") as text:
        table = csv.DictWriter(text, list(rows[0]), delimiter=mark)
        table.writeheader()
        table.writerows(rows)


@pytest.fixture
def folder(file: Path, tmp_path: Path) -> Path:
    for name in ("a.jpg", "b.jpg", "c.jpg"):
        (tmp_path / name).write_bytes(file.read_bytes())
    assert main(["photo", "--grids", str(tmp_path)]) == 0
    return tmp_path


def test_photos_are_held_against_counts_and_nothing_is_claimed_before_thirty_lifts(
    asked: Asked, folder: Path, made: Rendered, size: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    mortar, bare = (" ".join(typed(some)) for some in taps(made))
    whole = {"size": size[1], "corners": " ".join(typed(made.corners)), "mortar": mortar, "bare": bare}
    keyed = {**whole, "back": "combed", "counted": "50"}
    true = round(made.percent, 1)
    filled(folder, {**whole, "counted": "40,5"}, {**whole, "counted": f"{true:.1f}"}, keyed, mark=";")
    capsys.readouterr()
    code, told = asked("--compare", folder)
    assert code == 0
    photo = told["lifts"][0]["percent"]
    assert told["agreement"]["mean"] == pytest.approx(photo - (40.5 + true) / 2, abs=0.01)
    # Two differences d and e have the standard deviation |d - e| / sqrt 2.
    assert told["agreement"]["spread"] == pytest.approx((true - 40.5) / 2**0.5, abs=0.01)
    assert (told["compared"], told["cannot_tell"], told["held"]) == (2, 1, 1)
    assert (told["missing"], told["needed"]) == (28, 30)
    assert main(["photo", "--compare", str(folder / "lifts.csv")]) == 0
    assert re.search(r"28 lifts are missing of 30", capsys.readouterr().out)


def test_a_photo_that_cannot_be_read_costs_its_own_line_only(
    asked: Asked, folder: Path, made: Rendered, size: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    whole = {"size": size[1], "corners": " ".join(typed(made.corners)), "back": "combed", "counted": "50"}
    filled(folder, {**whole}, {**whole}, {})
    (folder / "a.jpg").write_bytes((folder / "a.jpg").read_bytes()[:20_000])
    capsys.readouterr()
    code, told = asked("--compare", folder)
    assert (code, [(one["file"], one["code"]) for one in told["unread"]]) == (3, [("a.jpg", "photo-damaged")])
    assert [one["refused"]["code"] for one in told["lifts"]] == ["measure-keyed"]
    for job in ("--compare", "--grids"):
        assert main(["photo", job, str(folder)]) == (3 if job == "--compare" else 0)
        assert "a.jpg" in capsys.readouterr().err
    assert [one.name for one in (folder / "grids").iterdir()] == ["b.jpg.png"]


def test_of_a_photo_whose_corners_are_known_a_picture_to_count_is_written(
    asked: Asked, folder: Path, made: Rendered, size: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    filled(folder, {"size": size[1], "corners": " ".join(typed(made.corners))}, {}, {})
    assert main(["photo", "--grids", str(folder)]) == 0
    (grid,) = (folder / "grids").iterdir()
    assert grid.name == "a.jpg.png"
    with Image.open(grid) as image:
        light = np.asarray(image.convert("L")).astype(float)
    # Nine lines divide it: in a row of dots between numbers each is a white one between black ones.
    row = light[round(light.shape[1] * 0.5 * 0.07)]
    lines = [round(step * light.shape[1] / 10) for step in range(1, 10)]
    assert all(row[x - 2 : x + 3].max() == 255 and row[x - 4 : x + 5].min() == 0 for x in lines)
    capsys.readouterr()
    code, told = asked("--compare", folder)
    assert (code, told["agreement"], told["waiting"]) == (3, None, ["a.jpg", "b.jpg", "c.jpg"])


@pytest.mark.parametrize(
    ("cells", "word"),
    [
        ({"counted": "120"}, "120"),
        ({"back": "glazed"}, "glazed"),
        ({"file": "../a.jpg"}, "../a.jpg"),
        ({"file": "b.jpg"}, "b.jpg"),
        ({"size": "600", "corners": "proposed"}, "600"),
        ({"size": "600x300mm", "corners": "1,2 3"}, "3"),
    ],
)
def test_a_line_of_the_sheet_that_cannot_be_used_is_named(
    folder: Path, cells: dict[str, str], word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    filled(folder, cells, {}, {})
    assert main(["photo", "--compare", str(folder)]) == 2
    assert word in capsys.readouterr().err


def test_a_folder_without_sheet_or_photos_says_so(
    asked: Asked, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["photo", "--compare", str(tmp_path)]) == 2
    assert main(["photo", "--grids", str(tmp_path)]) == 2
    capsys.readouterr()
    assert main(["photo", "--grids", str(tmp_path / "none")]) == 2
    assert str(tmp_path / "none") in capsys.readouterr().err
    (tmp_path / "lifts.csv").write_bytes(b"\xff\xfe\x00")
    assert main(["photo", "--compare", str(tmp_path)]) == 2
    (tmp_path / "lifts.csv").write_text("file,size\n", encoding="utf-8")
    assert main(["photo", "--compare", str(tmp_path)]) == 2
    assert "counted" in capsys.readouterr().err
    code, told = asked("--compare", tmp_path)
    assert (code, refused(told), told["file"]) == (2, "cli-photo-sheet-columns", str(tmp_path))


def test_grids_that_cannot_be_written_are_named(
    folder: Path, made: Rendered, size: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    filled(folder, {"size": size[1], "corners": " ".join(typed(made.corners))}, {}, {})
    (folder / "grids").write_bytes(b"kept")
    capsys.readouterr()
    assert main(["photo", "--grids", str(folder)]) == 2
    assert str(folder / "grids") in capsys.readouterr().err
    assert (folder / "grids").read_bytes() == b"kept"
