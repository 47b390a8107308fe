"""Photos on the page and the copies they are printed from: upright, small, the same each time, plain."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from PIL import Image, ImageCms
from reportlab.lib.pagesizes import A4

from fieldassist.language import Words
from fieldassist.proof.strict import is_plain_jpeg
from fieldassist.record.picture import COPY_BYTES, COPY_DOTS, printable_copy
from fieldassist.report.grid import SECOND
from fieldassist.report.pictures import Album, PrintedPicture, draw_photo, scaled
from fieldassist.report.sheet import Sheet
from fieldassist.report.tags import Tag
from fieldassist.trade.message import message

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
    picture = scaled(jpeg(640, 480, orientation), 480, 480)
    assert picture is not None
    places = {"top": (0.5, 0.1), "bottom": (0.5, 0.9), "left": (0.1, 0.5), "right": (0.9, 0.5)}
    assert {name for name, place in places.items() if is_red(picture, *place)} & {red_at} == {red_at}
    opposite = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}[red_at]
    assert not is_red(picture, *places[opposite])
    assert (picture.wide > picture.high) == (orientation < 5)


def test_a_photo_of_twelve_megapixels_is_made_small_and_keeps_its_shape() -> None:
    picture = scaled(jpeg(4000, 3000), 480, 360)
    assert picture is not None
    assert (picture.wide, picture.high) == (480, 360)
    assert len(picture.jpeg) < 60_000


def test_nothing_but_the_picture_is_left_of_a_photo() -> None:
    image, exif, paper = Image.new("RGB", (60, 40), RED), Image.Exif(), io.BytesIO()
    exif[0x010E] = "whose back garden this is"
    image.save(paper, "JPEG", exif=exif, comment=b"a remark")
    picture = scaled(paper.getvalue(), 480, 360)
    assert picture is not None
    assert b"garden" not in picture.jpeg
    assert b"remark" not in picture.jpeg


def noise(wide: int, high: int) -> bytes:
    paper = io.BytesIO()
    Image.effect_noise((wide, high), 200).convert("RGB").save(paper, "JPEG", quality=95)
    return paper.getvalue()


@pytest.mark.parametrize(
    ("photo", "size"),
    [
        (jpeg(4000, 3000, 6), (1200, 1600)),
        (jpeg(640, 480), (640, 480)),
        (jpeg(9000, 90), (1600, 16)),
        (noise(3000, 4000), None),
    ],
    ids=["held upright", "small", "a strip", "noise"],
)
def test_a_copy_has_1600_dots_at_most_320_kb_and_is_one_plain_jpeg(photo: bytes, size: tuple[int, int] | None) -> None:
    copy = printable_copy(photo)
    with Image.open(io.BytesIO(copy)) as image:
        wide, high = image.size
    assert size in (None, (wide, high))
    assert max(wide, high) <= COPY_DOTS
    assert len(copy) <= COPY_BYTES
    # ISO/IEC 10918-1, B.2: nothing before, in or behind the one picture.
    assert is_plain_jpeg(copy, wide, high)
    assert printable_copy(photo) == copy


def test_colours_of_another_profile_are_printed_as_they_were_seen() -> None:
    swapped = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # ICC.1:2022, 7.3: the tags of the red and the blue colorant change places, so that red means blue.
    red, blue = swapped.index(b"rXYZ"), swapped.index(b"bXYZ")
    swapped[red : red + 4], swapped[blue : blue + 4] = b"bXYZ", b"rXYZ"
    for profile, seen in ((bytes(swapped), "blue"), (b"no profile", "red"), (b"", "red")):
        paper = io.BytesIO()
        Image.new("RGB", (40, 40), (220, 20, 20)).save(paper, "JPEG", icc_profile=profile, quality=95)
        with Image.open(io.BytesIO(printable_copy(paper.getvalue()))) as image:
            r, _, b = image.getpixel((20, 20))
        assert (b > r) == (seen == "blue"), profile


def test_what_can_be_seen_through_is_printed_on_white() -> None:
    paper = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(paper, "PNG")
    picture = scaled(paper.getvalue(), 480, 360)
    assert picture is not None
    with Image.open(io.BytesIO(picture.jpeg)) as image:
        assert image.getpixel((20, 20)) == (255, 255, 255)


def test_grey_and_sixteen_bit_pictures_are_printed_in_colour_space_of_the_page() -> None:
    for mode in ("L", "I;16", "1", "P", "LA"):
        paper = io.BytesIO()
        Image.new(mode, (50, 40)).save(paper, "PNG")
        picture = scaled(paper.getvalue(), 480, 360)
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
    assert scaled(data, 480, 360) is None


def test_the_same_photo_gives_the_same_picture() -> None:
    assert scaled(jpeg(800, 600, 6), 480, 360) == scaled(jpeg(800, 600, 6), 480, 360)


def test_an_album_makes_each_photo_once_a_size_and_says_why_there_is_none() -> None:
    asked: list[str] = []

    def printed(name: str) -> bytes | None:
        asked.append(name)
        return {"good.jpg": jpeg(600, 400), "text.jpg": b"text"}.get(name)

    album = Album(printed)
    small, large = album.find("good.jpg", 72, 72), album.find("good.jpg", 144, 72)
    assert isinstance(small, PrintedPicture)
    assert isinstance(large, PrintedPicture)
    # 300 dots to the inch, which is 72 points (ISO 32000-1, 8.3.2.3), at most; never more dots than the photo has.
    assert (small.wide, small.high, large.wide, large.high) == (300, 200, 450, 300)
    assert album.find("good.jpg", 72, 72) is small
    whys = [album.find(name, 72, 72) for name in ("text.jpg", "gone.jpg", "")]
    assert whys == [message(f"page-photo-{why}") for why in ("unreadable", "elsewhere", "none")]
    assert asked == ["good.jpg", "good.jpg", "text.jpg", "gone.jpg"]


def test_a_photo_is_drawn_whole_in_its_place_and_where_there_is_none_an_outline_says_why() -> None:
    sheet = Sheet(A4, Words())
    sheet.new_page()
    album = Album({"good.jpg": jpeg(600, 400)}.get)
    assert draw_photo(sheet, album, "good.jpg", (10, 20, 90, 90), "Lift 1.") == (90, 60)
    assert draw_photo(sheet, album, "", (10, 200, 90, 60), "Lift 2.") == (90, 60)
    drawn, missing = sheet.document.holds
    assert isinstance(drawn, Tag)
    assert isinstance(missing, Tag)
    told = Words()(message("page-photo-none"))
    assert [(one.kind, one.alt) for one in (drawn, missing)] == [("Figure", "Lift 1."), ("Figure", f"Lift 2. {told}")]
    steps = [step for _, step in sheet.pages[0].steps]
    assert steps[0][:5] == ("picture", 10, 20, 90, 60)
    assert [step[0] for step in steps[1:]].count("rect") == 1
    colours = {step[5] for step in steps[1:] if step[0] == "text"} | {step[6] for step in steps if step[0] == "rect"}
    assert colours == {SECOND}, "what is missing is no failure"
