"""Photos on the page: upright, small, the same each time, and never the end of the PDF."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from pypdf import PdfReader

from fieldassist.checklist import commands as cmd
from fieldassist.report.daily import write_daily_pdf
from fieldassist.report.pictures import NOT_A_PICTURE, NOT_IN_HERE, Album, PrintedPicture, scaled
from tests.report.conftest import words

RED, BLUE = (200, 30, 30), (30, 30, 200)


def jpeg(wide: int, high: int, orientation: int = 1) -> bytes:
    """Red in the upper half of the stored picture, blue in the lower; how the camera was held stands in its Exif."""
    image = Image.new("RGB", (wide, high), BLUE)
    image.paste(RED, (0, 0, wide, high // 2))
    exif = Image.Exif()
    exif[0x0112] = orientation
    paper = io.BytesIO()
    image.save(paper, "JPEG", exif=exif, quality=95)
    return paper.getvalue()


def is_red(picture: PrintedPicture, across: float, down: float) -> bool:
    """Whether a place of the picture, both from 0 to 1, is red rather than blue."""
    with Image.open(io.BytesIO(picture.jpeg)) as image:
        r, _, b = image.getpixel((int(across * (picture.wide - 1)), int(down * (picture.high - 1))))
    return bool(r > b)


@pytest.mark.parametrize(
    ("orientation", "red_at"),
    # CIPA DC-008 (Exif 2.32), 4.6.4 A, Orientation: where row 0 of the stored picture is seen.
    [
        (1, "top"), (2, "top"), (3, "bottom"), (4, "bottom"), (5, "left"), (6, "right"), (7, "right"), (8, "left"),
    ],
)  # fmt: skip
def test_a_photo_stands_as_its_camera_was_held(orientation: int, red_at: str) -> None:
    picture = scaled(jpeg(640, 480, orientation))
    assert picture is not None
    places = {"top": (0.5, 0.1), "bottom": (0.5, 0.9), "left": (0.1, 0.5), "right": (0.9, 0.5)}
    assert {name for name, place in places.items() if is_red(picture, *place)} & {red_at} == {red_at}
    opposite = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}[red_at]
    assert not is_red(picture, *places[opposite])
    assert (picture.wide > picture.high) == (orientation < 5)


def test_a_photo_of_twelve_megapixels_is_made_small_and_keeps_its_shape() -> None:
    picture = scaled(jpeg(4000, 3000))
    assert picture is not None
    assert (picture.wide, picture.high) == (480, 360)
    assert len(picture.jpeg) < 60_000


def test_nothing_but_the_picture_is_left_of_a_photo() -> None:
    image, exif, paper = Image.new("RGB", (60, 40), RED), Image.Exif(), io.BytesIO()
    exif[0x010E] = "whose back garden this is"
    image.save(paper, "JPEG", exif=exif, comment=b"a remark")
    picture = scaled(paper.getvalue())
    assert picture is not None
    assert b"garden" not in picture.jpeg
    assert b"remark" not in picture.jpeg


def test_what_can_be_seen_through_is_printed_on_white() -> None:
    paper = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(paper, "PNG")
    picture = scaled(paper.getvalue())
    assert picture is not None
    with Image.open(io.BytesIO(picture.jpeg)) as image:
        assert image.getpixel((20, 20)) == (255, 255, 255)


def test_grey_and_sixteen_bit_pictures_are_printed_in_colour_space_of_the_page() -> None:
    for mode in ("L", "I;16", "1", "P", "LA"):
        paper = io.BytesIO()
        Image.new(mode, (50, 40)).save(paper, "PNG")
        picture = scaled(paper.getvalue())
        assert picture is not None, mode
        with Image.open(io.BytesIO(picture.jpeg)) as image:
            assert image.mode == "RGB", mode


def _png(wide: int, high: int) -> bytes:
    """The first bytes of a PNG (ISO/IEC 15948, 11.2.2) that claims a size, and nothing of its content."""
    head = struct.pack(">2L5B", wide, high, 8, 2, 0, 0, 0)

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">L", len(data)) + name + data + struct.pack(">L", zlib.crc32(name + data))

    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    "data",
    [b"", b"no picture", b"\xff\xd8\xff\xe0", jpeg(640, 480)[:400], _png(100_000, 100_000), _png(50, 50), b"GIF89a"],
    ids=["empty", "text", "only a start", "cut off", "claims ten gigapixels", "holds nothing", "another kind"],
)
def test_what_is_no_picture_is_none(data: bytes) -> None:
    assert scaled(data) is None


def test_the_same_photo_gives_the_same_picture() -> None:
    assert scaled(jpeg(800, 600, 6)) == scaled(jpeg(800, 600, 6))


def test_an_album_opens_each_photo_once_and_says_why_there_is_none() -> None:
    asked: list[str] = []

    def original(name: str) -> bytes | None:
        asked.append(name)
        return {"good.jpg": jpeg(60, 40), "text.jpg": b"text"}.get(name)

    album = Album(original)
    assert isinstance(album.find("good.jpg"), PrintedPicture)
    assert album.find("good.jpg") is album.find("good.jpg")
    assert (album.find("text.jpg"), album.find("gone.jpg")) == (NOT_A_PICTURE, NOT_IN_HERE)
    assert asked == ["good.jpg", "text.jpg", "gone.jpg"]


def test_photos_stand_in_the_pdf_with_lift_event_name_and_hash(handed_over: Any, handed_over_pdf: Path) -> None:
    photos = [e for e in handed_over.site.events if e.body.type == "photo attached"]
    assert sum(len(page.images) for page in PdfReader(handed_over_pdf).pages) == len(photos)
    told = words(handed_over_pdf)
    for event in photos:
        short = " ".join(event.body.sha256[at : at + 4] for at in range(0, 16, 4))
        assert f"(event {event.seq}) {event.body.file} SHA-256 {short} …" in told
    second = photos[1]
    assert f"Lift 2 {second.at.wall[11:19]} Ana (event {second.seq})" in told


def test_a_file_that_is_no_picture_says_so_and_does_not_stop_the_pdf(site: Any, tmp_path: Path) -> None:
    site.start("shower wall").do(cmd.AttachPhoto(**site.keep(b"this is no picture", ".jpg")))
    folder = tmp_path / "attached"
    folder.mkdir()
    made = write_daily_pdf(site.record(folder), tmp_path / "d.pdf")
    assert "it cannot be drawn" in words(made.path)
    assert made.left_out == ()
