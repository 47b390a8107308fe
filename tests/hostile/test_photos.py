"""Photos that claim too much, and what a camera wrote into a photo beside the picture."""

from __future__ import annotations

import contextlib
import hashlib
import io
import struct
import zipfile
import zlib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from fieldassist.checklist.kinds.photo import PhotoAttached
from fieldassist.day.photo import NoPhoto, attach, copy_of, look_at, without_places
from fieldassist.record import attachments
from fieldassist.record import picture as record_picture
from fieldassist.record.heic import without_remarks_in_boxes
from fieldassist.record.remarks import NotTaken, without_remarks
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


# --- HEIC (ISO/IEC 23008-12) ----------------------------------------------------------------------------------------

# Red with a blue band, held upright: made for this test by libheif and x265, with the remarks of a camera and of XMP.
HEIC = (Path(__file__).parent / "held-upright.heic").read_bytes()


def test_a_heic_photo_is_kept_as_it_came_but_for_its_remarks_and_its_copy_is_an_upright_jpeg(
    crew: Any, tmp_path: Path
) -> None:
    (tmp_path / "photo").write_bytes(HEIC)
    assert attach(crew.day, tmp_path / "photo").taken
    [body] = crew.events(PhotoAttached)
    folder = attachments.folder_of(crew.day.log.path)
    kept, copy = (folder / body.file).read_bytes(), Image.open(folder / body.copy_file)
    assert body.file.endswith(".heic")
    assert len(kept) == len(HEIC)
    assert [secret for secret in SECRETS if secret in kept] == []
    assert b"2026:03:17 10:20:30" in kept
    assert look_at(kept, "photo", 80) == look_at(HEIC, "photo", 80)
    assert without_places(kept, "photo") == kept
    assert (copy.format, copy.size) == ("JPEG", (64, 96))
    # irot, a quarter against the clock three times: the band that was stored above stands at the right.
    red, blue = copy.getpixel((5, 48)), copy.getpixel((60, 48))
    assert red[0] > red[2] + 100
    assert blue[2] > blue[0] + 100


def test_whatever_a_heic_photo_stores_that_is_no_picture_is_overwritten() -> None:
    """ISO/IEC 14496-12, 4.2 and 8.11: a property that tells (23008-12, 6.5.20), a box in the list that is none of ours;
    one beside the list is not taken."""
    changed = HEIC.replace(b"pixi", b"udes").replace(b"iref", b"uuid")
    bare = without_remarks_in_boxes(changed, b"")
    assert len(bare) == len(HEIC)
    assert [kind for kind in (b"udes", b"uuid", b"xmp", b"cdsc") if kind in bare] == []
    with pytest.raises(NotTaken):
        without_remarks_in_boxes(HEIC + struct.pack(">L", 16) + b"uuid" + b"of Otto!", b"")


def test_a_heic_photo_on_which_its_library_ends_the_process_is_damaged_and_the_tablet_goes_on() -> None:
    """A kind of content that is no text: libheif's bindings end with a fault of segmentation (pi_heif 1.4.0)."""
    at = HEIC.index(b"application/rdf+xml") + 5
    changed = HEIC[:at] + b"\x80" + HEIC[at + 1 :]
    with pytest.raises(NoPhoto, match="photo-damaged"):
        copy_of(changed, "photo")
    with pytest.raises(NoPhoto, match="photo-places-stay"):
        without_places(changed, "photo")


@given(st.integers(0, len(HEIC) - 1), st.binary(max_size=4))
@settings(max_examples=50, deadline=None)
def test_boxes_that_are_damaged_are_blanked_or_not_taken(at: int, put: bytes) -> None:
    with contextlib.suppress(NotTaken):
        bare = without_remarks_in_boxes(HEIC[:at] + put + HEIC[at + len(put) :], b"")
        assert len(bare) == max(len(HEIC), at + len(put))


def test_a_heic_photo_that_claims_too_many_dots_is_refused_before_it_is_decoded() -> None:
    size = HEIC.index(b"ispe") + 8
    claimed = HEIC[:size] + struct.pack(">2L", 8064, 6048) + HEIC[size + 8 :]
    with pytest.raises(NoPhoto, match=r"photo-too-many-dots\(.*millions=49"):
        copy_of(claimed, "photo")


def test_without_the_library_a_heic_photo_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    def lacking(*_: object) -> object:
        raise ModuleNotFoundError("No module named 'pi_heif'", name="pi_heif")

    monkeypatch.setattr(record_picture, "decode_heic", lacking)
    for read in (without_places, copy_of):
        with pytest.raises(NoPhoto, match="photo-heic"):
            read(HEIC, "photo")


@pytest.mark.parametrize("keep", [False, True])
def test_the_log_says_whether_places_were_left_out(crew: Any, tmp_path: Path, keep: bool) -> None:
    (tmp_path / "photo").write_bytes(FORMS["jpeg"])  # a name without an ending
    assert attach(crew.day, tmp_path / "photo", keep_places=keep).taken
    [body] = crew.events(PhotoAttached)
    kept = (attachments.folder_of(crew.day.log.path) / body.file).read_bytes()
    assert (body.bare, body.file.endswith(".jpg")) == (not keep, True)
    assert (kept == FORMS["jpeg"]) == keep
    assert (b"Quillmaker" in kept) == keep
    # The copy has nothing of it either way, and is there under its own hash before the entry is.
    copy = (attachments.folder_of(crew.day.log.path) / body.copy_file).read_bytes()
    assert hashlib.sha256(copy).hexdigest() == body.copy_sha256
    assert [secret for secret in SECRETS if secret in copy] == []


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
