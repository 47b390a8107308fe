"""What a camera writes into a photo beside the picture: where it was taken, with what, by whom; how to leave it out.

The picture itself is not touched: of a JPEG (ITU-T T.81, annex B) whole segments are left out, of a PNG (ISO/IEC
15948, 5.3) whole chunks, and every byte that is decoded stays. What stays of the remarks is how the camera was held,
without which the picture is seen lying, and when the photo was taken. What stands behind the picture's end goes too.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterator

from PIL import Image

# ITU-T T.81, table B.1.
_SOI, _EOI, _SOS, _COM, _APP0, _APP2, _APP14, _APP15 = 0xD8, 0xD9, 0xDA, 0xFE, 0xE0, 0xE2, 0xEE, 0xEF
_FRAMES = frozenset({*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC})
_SEVERAL_SCANS = frozenset({0xC2, 0xC6, 0xCA, 0xCE})
_BARE = frozenset({0x01, *range(0xD0, 0xD8)})  # they stand alone
# Of APP2 the colours (ICC.1:2022, B.4), of the others what says how colours are coded (JFIF, Adobe).
_COLOURS = {_APP0: b"JFIF\0", _APP2: b"ICC_PROFILE\0", _APP14: b"Adobe"}
# PNG: what the picture is made of, and its colours.
_CHUNKS = frozenset(
    {
        b"IHDR",
        b"PLTE",
        b"IDAT",
        b"IEND",
        b"tRNS",
        b"gAMA",
        b"cHRM",
        b"sRGB",
        b"iCCP",
        b"sBIT",
        b"bKGD",
        b"pHYs",
        b"cICP",
    }
)
PNG = b"\x89PNG\r\n\x1a\n"
"""What every PNG begins with (5.2)."""

# Exif 2.32 (CIPA DC-008), 4.6.4 and 4.6.5: how it was held, and when it was taken.
_ORIENTATION, _DETAILS = 0x0112, 0x8769
_TIMES = {
    0x9003: r"\d{4}:\d\d:\d\d \d\d:\d\d:\d\d",  # DateTimeOriginal
    0x9011: r"[+-]\d\d:\d\d",  # OffsetTimeOriginal
    0x9291: r"\d{1,9}",  # SubSecTimeOriginal
}


class NotTaken(Exception):
    """The file is built otherwise than its format says, so that nothing can be left out of it."""


def without_remarks(data: bytes, exif: Image.Exif) -> bytes:
    """A JPEG or PNG photo without where it was taken, with what and by whom.

    exif: what the camera wrote, as the library read it from the same file. NotTaken where the file's parts are not told
    from each other.
    """
    kept = kept_of(exif)
    if data.startswith(PNG):
        return PNG + b"".join(_png_without(data, kept))
    return b"".join(_jpeg_without(data, kept))


def drawn_in_turns(data: bytes) -> bool:
    """Whether a JPEG's picture comes in several scans, of which all have to be held before it is decoded."""
    parts = 0
    try:
        for marker, segment in _segments(data):
            if marker in _SEVERAL_SCANS:
                return True
            if marker in _FRAMES:
                parts = segment[9]
            elif marker == _SOS:
                return segment[4] < parts
    except (NotTaken, IndexError):
        return True
    return True


def kept_of(exif: Image.Exif) -> bytes:
    """What stays of a camera's remarks, as Exif writes it: how it was held, and when; b"" for nothing."""
    kept = Image.Exif()
    orientation = exif.get(_ORIENTATION)
    if isinstance(orientation, int) and 1 < orientation < 9:
        kept[_ORIENTATION] = orientation
    details = exif.get_ifd(_DETAILS)
    for tag, form in _TIMES.items():
        said = str(details.get(tag, "")).rstrip("\0 ")
        if re.fullmatch(form, said):
            kept.get_ifd(_DETAILS)[tag] = said
    if not len(kept) and not kept.get_ifd(_DETAILS):
        return b""
    return kept.tobytes()


# --- JPEG ---------------------------------------------------------------------------------------------------------


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Each marker with its segment as it stands; that of a scan has the coded picture behind it. Ends with EOI."""
    at = 0
    while True:
        if data[at : at + 1] != b"\xff":
            raise NotTaken
        while data[at : at + 1] == b"\xff":  # B.1.1.2: any number of fill bytes
            at += 1
        marker = data[at] if at < len(data) else 0
        at += 1
        if marker == _SOI or marker in _BARE:
            yield marker, bytes((0xFF, marker))
            continue
        if marker == _EOI:
            yield marker, b"\xff\xd9"
            return
        begun, length = at, int.from_bytes(data[at : at + 2], "big")
        if marker == 0 or length < 2 or at + length > len(data):
            raise NotTaken
        at += length
        if marker == _SOS:
            end = _MARKER.search(data, at)
            if end is None:
                raise NotTaken
            at = end.start()
        yield marker, bytes((0xFF, marker)) + data[begun:at]


# A marker that ends a scan: not a stuffed zero, no restart, no fill byte (B.1.1.5).
_MARKER = re.compile(rb"\xff[\x01-\xcf\xd8-\xfe]", re.DOTALL)


def _jpeg_without(data: bytes, kept: bytes) -> Iterator[bytes]:
    exif = b"Exif\0\0" + kept.removeprefix(b"Exif\0\0")
    waiting = b"\xff\xe1" + struct.pack(">H", len(exif) + 2) + exif if kept else b""
    for marker, segment in _segments(data):
        if marker == _COM or (_APP0 <= marker <= _APP15 and not _is_colour(marker, segment)):
            continue
        if marker not in (_SOI, _APP0):
            yield waiting
            waiting = b""
        yield segment


def _is_colour(marker: int, segment: bytes) -> bool:
    return segment[4:].startswith(_COLOURS.get(marker, b"\0none"))


# --- PNG ----------------------------------------------------------------------------------------------------------


def _png_without(data: bytes, kept: bytes) -> Iterator[bytes]:
    at = len(PNG)
    while True:
        length = int.from_bytes(data[at : at + 4], "big")
        kind = data[at + 4 : at + 8]
        end = at + 12 + length
        if len(kind) < 4 or end > len(data):
            raise NotTaken
        if kind in _CHUNKS:
            yield data[at:end]
        if kind == b"IHDR" and kept:
            exif = b"eXIf" + kept.removeprefix(b"Exif\0\0")
            yield struct.pack(">L", len(exif) - 4) + exif + struct.pack(">L", zlib.crc32(exif))
        if kind == b"IEND":
            return
        at = end
