"""Photos that claim too much, and what a camera wrote into a photo beside the picture."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from fieldassist.checklist.kinds.photo import PhotoAttached
from fieldassist.day.photo import NoPhoto, attach, look_at, without_places
from fieldassist.record import attachments
from fieldassist.record.remarks import without_remarks
from tests.hostile.bounded import MOST_MB, MOST_S, answered_apart

# A camera's remarks as it makes them: tags of Exif 2.32 (CIPA DC-008), tables 4 to 15.
MAKE, MODEL, ORIENTATION, TAKEN, OFFSET, OWNER, SERIAL, MAKER_NOTE = (
    0x010F, 0x0110, 0x0112, 0x9003, 0x9011, 0xA430, 0xA431, 0x927C,
)  # fmt: skip
DETAILS, PLACE = 0x8769, 0x8825
SECRETS = (
    b"Quillmaker",
    b"QM-7",
    b"Otto's own",
    b"SN-0815",
    b"what only the maker reads",
    b"N\0\0",
    b"xmp place",
    b"remark",
)


def exif(orientation: int = 6) -> Image.Exif:
    remarks = Image.Exif()
    remarks[MAKE], remarks[MODEL], remarks[ORIENTATION] = "Quillmaker", "QM-7", orientation
    details = remarks.get_ifd(DETAILS)
    details[TAKEN], details[OFFSET] = "2026:03:17 10:20:30", "+01:00"
    details[OWNER], details[SERIAL], details[MAKER_NOTE] = "Otto's own", "SN-0815", b"what only the maker reads"
    place = remarks.get_ifd(PLACE)
    place[1], place[2] = "N", (53.0, 33.0, 0.0)
    return remarks


def picture() -> Image.Image:
    image = Image.radial_gradient("L").convert("RGB")
    image.paste((200, 30, 30), (0, 0, 256, 90))
    return image


def jpeg(**how: Any) -> bytes:
    out = io.BytesIO()
    picture().save(out, "JPEG", exif=exif(), comment=b"a remark", xmp=b"<x>xmp place</x>", icc_profile=ICC, **how)
    return out.getvalue()


ICC = b"colours" * 20


def png() -> bytes:
    out = io.BytesIO()
    from PIL.PngImagePlugin import PngInfo

    words = PngInfo()
    words.add_text("Comment", "a remark")
    words.add_itxt("XML:com.adobe.xmp", "<x>xmp place</x>", zip=True)
    picture().save(out, "PNG", exif=exif(), pnginfo=words)
    return out.getvalue()


def dots(data: bytes) -> bytes:
    return Image.open(io.BytesIO(data)).convert("RGB").tobytes()


FORMS = {"jpeg": jpeg(), "progressive": jpeg(progressive=True), "restarts": jpeg(restart_marker_rows=1), "png": png()}


@pytest.mark.parametrize("form", FORMS)
def test_places_and_makers_go_and_every_dot_the_orientation_and_the_time_stay(form: str) -> None:
    data = FORMS[form]
    bare = without_places(data, "photo")
    assert dots(bare) == dots(data)
    assert [secret for secret in SECRETS if secret in bare] == []
    left = Image.open(io.BytesIO(bare))
    left.load()
    tags = left.getexif()
    assert (tags[ORIENTATION], dict(tags.get_ifd(PLACE))) == (6, {})
    assert dict(tags.get_ifd(DETAILS)) == {TAKEN: "2026:03:17 10:20:30", OFFSET: "+01:00"}
    assert look_at(bare, "photo", 80) == look_at(data, "photo", 80)
    assert without_places(bare, "photo") == bare


def test_the_coded_picture_is_byte_for_byte_the_cameras() -> None:
    """ITU-T T.81, B.2.1: from the first table to the end of the image nothing but remarks is left out."""
    data = FORMS["jpeg"]
    bare = without_places(data, "photo")
    assert bare[bare.index(b"\xff\xdb") :] == data[data.index(b"\xff\xdb") :]
    assert ICC in bare


def test_what_stands_behind_the_picture_goes() -> None:
    """A photo that is an archive too is a photo alone once it is kept."""
    hidden = io.BytesIO()
    with zipfile.ZipFile(hidden, "w") as archive:
        archive.writestr("inside.txt", "hidden")
    for data in FORMS.values():
        bare = without_places(data + hidden.getvalue(), "photo")
        assert bare == without_places(data, "photo")
        assert not zipfile.is_zipfile(io.BytesIO(bare))


def test_a_photo_without_remarks_is_kept_as_it_is() -> None:
    out = io.BytesIO()
    picture().save(out, "JPEG")
    assert without_places(out.getvalue(), "photo") == out.getvalue()


@pytest.mark.parametrize("said", ["2026:03:17 10:20:30\x1b[2J", "x" * 3000, "2026-03-17"])
def test_a_time_that_is_none_goes_with_the_rest(said: str) -> None:
    remarks = exif()
    remarks.get_ifd(DETAILS)[TAKEN] = said
    bare = without_remarks(FORMS["jpeg"], remarks)
    assert TAKEN not in Image.open(io.BytesIO(bare)).getexif().get_ifd(DETAILS)


@pytest.mark.parametrize(
    "data", [b"\xff\xd8\xff\xe0\x00", FORMS["jpeg"][:-2], FORMS["png"][:-9]], ids=["a start", "no end", "cut"]
)
def test_a_file_whose_parts_are_not_told_from_each_other_is_not_kept(data: bytes) -> None:
    with pytest.raises(NoPhoto, match=r"photo-places-stay"):
        without_places(data, "photo")


@pytest.mark.parametrize("keep", [False, True])
def test_the_log_says_whether_places_were_left_out(crew: Any, tmp_path: Path, keep: bool) -> None:
    (tmp_path / "photo").write_bytes(FORMS["jpeg"])  # a name without an ending
    assert attach(crew.day, tmp_path / "photo", keep_places=keep).taken
    [body] = crew.events(PhotoAttached)
    kept = (attachments.folder_of(crew.day.log.path) / body.file).read_bytes()
    assert (body.bare, body.file.endswith(".jpg")) == (not keep, True)
    assert (kept == FORMS["jpeg"]) == keep
    assert (b"Quillmaker" in kept) == keep


# --- too much -----------------------------------------------------------------------------------------------------


def large_png(wide: int, high: int, colour: int, depth: int = 8) -> bytes:
    """A PNG of nothing but zeros (ISO/IEC 15948, 11.2.2). colour: 0 grey, 2 red, green and blue, 6 and seen through."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">L", len(data)) + name + data + struct.pack(">L", zlib.crc32(name + data))

    row = 1 + (wide * depth * {0: 1, 2: 3, 6: 4}[colour] + 7) // 8
    packer, packed, rest = zlib.compressobj(1), [], row * high
    while rest > 0:
        packed.append(packer.compress(bytes(min(rest, 1 << 22))))
        rest -= 1 << 22
    head = struct.pack(">2L5B", wide, high, depth, colour, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", b"".join(packed) + packer.flush())
        + chunk(b"IEND", b"")
    )


def large_jpeg(wide: int, high: int, **how: Any) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (wide, high), (90, 120, 40)).save(out, "JPEG", quality=75, **how)
    return out.getvalue()


def test_no_photo_takes_more_memory_or_time_than_is_given(tmp_path: Path) -> None:
    many = "photo-too-many-dots"
    cases = {
        "25 M dots": (large_png(5000, 5000, 6), "taken"),
        "25 M dots of 16 bits": (large_png(5000, 5000, 0, 16), "taken"),
        "40 M dots": (large_png(8000, 5000, 6), many),
        "thin": (large_png(40_000_000, 1, 2), many),
        "120 M dots": (large_png(12_000, 10_000, 6), many),
        "two hundred": (large_png(20_000, 10_000, 0, 1), many),
        "camera of 48 M dots": (large_jpeg(8000, 6000), "taken"),
        "strip": (large_jpeg(60_000, 700), "taken"),
        "in turns": (large_jpeg(8000, 6000, progressive=True), many),
    }
    paths = []
    for name, (data, _) in cases.items():
        paths.append(tmp_path / f"{name}.png")
        paths[-1].write_bytes(data)
    for (name, (_, wanted)), answer in zip(cases.items(), answered_apart("photo", paths), strict=True):
        assert answer.told == wanted, name
        assert answer.megabytes < MOST_MB, (name, answer)
        assert answer.seconds < MOST_S, (name, answer)
