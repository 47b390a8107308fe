"""Photos as many phones take them: HEIC (ISO/IEC 23008-12) in its file of boxes (ISO/IEC 14496-12).

What a camera writes beside the picture is overwritten in place: nothing moves, so that every offset in the file stays
true. What stays of it is when the photo was taken. How the camera was held is a property of the picture here (irot,
imir), and stays.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import NamedTuple

from fieldassist.record.remarks import NotTaken

# Brands of single pictures coded as in HEVC (ISO/IEC 23008-12, B.4.1).
_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis"})
# ISO/IEC 14496-12, 8.1 and 8.11: what a file of pictures is made of; and what of its list of items tells of pictures.
_OUTER = frozenset({b"ftyp", b"meta", b"mdat", b"free", b"skip"})
_LISTS = frozenset({b"hdlr", b"pitm", b"iloc", b"iinf", b"iprp", b"iref", b"idat", b"grpl"})
# Where what is listed is stored, and what is nothing at all.
_STORES = frozenset({b"mdat", b"idat", b"free", b"skip"})
# Items that are pictures, or put together of pictures (ISO/IEC 23008-12, 6.6 and B.2.2).
_PICTURES = frozenset({b"hvc1", b"grid", b"iden", b"iovl", b"tmap"})
# Properties without which a picture is not decoded, or is seen otherwise (6.5).
_PROPERTIES = frozenset(
    {
        b"hvcC", b"ispe", b"pixi", b"colr", b"irot", b"imir", b"clap", b"pasp", b"auxC", b"clli", b"mdcv", b"rloc",
        b"lsel", b"free",
    }
)  # fmt: skip
_HANDLER_NAME = 24  # of a handler's box: version, a field that is no longer used, the kind, three that are kept free
_EXIF = b"\0\0\0\6Exif\0\0"  # A.2.1: where its header stands, and the name before it


class _Box(NamedTuple):
    """A box: its kind, where it begins, where what it holds begins, and where it ends [bytes]."""

    kind: bytes
    start: int
    inside: int
    end: int


class _Extent(NamedTuple):
    """Bytes of the file, from one to before the other."""

    start: int
    end: int


def is_heic(data: bytes) -> bool:
    """Whether a file begins as a HEIC photo does.

    >>> is_heic(bytes.fromhex("00000018") + b"ftypheic" + bytes(4) + b"mif1heic"), is_heic(b"GIF89a")
    (True, False)
    """
    size = int.from_bytes(data[:4], "big")
    if data[4:8] != b"ftyp" or not 16 <= size <= min(len(data), 256):
        return False
    brands = {data[8:12], *(data[at : at + 4] for at in range(16, size, 4))}
    return bool(brands & _BRANDS)


def without_remarks_in_boxes(data: bytes, kept: bytes) -> bytes:
    """A HEIC photo without where it was taken, with what and by whom.

    kept: what stays of the remarks, as Exif writes it, b"" for nothing. NotTaken where the file's parts are not told
    from each other.
    """
    try:
        return _Blanked(data, kept).done()
    except (struct.error, IndexError, ValueError) as error:
        raise NotTaken from error


class _Blanked:
    """The file, in which what tells of more than the picture is overwritten."""

    def __init__(self, data: bytes, kept: bytes) -> None:
        self._data, self._out = data, bytearray(data)
        self._exif = _EXIF + kept.removeprefix(b"Exif\0\0") if kept else b""

    def done(self) -> bytes:
        """The bytes."""
        outer = list(self._boxes(0, len(self._data)))
        if any(box.kind not in _OUTER for box in outer) or [box.kind for box in outer].count(b"meta") != 1:
            raise NotTaken
        meta = next(box for box in outer if box.kind == b"meta")
        lists: dict[bytes, _Box] = {}
        for box in self._boxes(meta.inside + 4, meta.end):
            if box.kind not in _LISTS:
                self._free(box)
            elif box.kind in lists:
                raise NotTaken
            else:
                lists[box.kind] = box
        if not {b"iinf", b"iloc", b"iprp"} <= lists.keys():
            raise NotTaken
        if b"hdlr" in lists:
            self._overwrite(_Extent(lists[b"hdlr"].inside + _HANDLER_NAME, lists[b"hdlr"].end))
        self._properties(lists[b"iprp"])
        self._items(
            lists, [box for box in (*outer, *lists.values()) if box.kind in (b"mdat", b"idat", b"free", b"skip")]
        )
        return bytes(self._out)

    def _items(self, lists: dict[bytes, _Box], rooms: list[_Box]) -> None:
        """Of all that is stored, nothing but the pictures is left, and of Exif the time."""
        for room in rooms:
            self._overwrite(_Extent(room.inside, room.end))
        kinds = dict(self._kinds(lists[b"iinf"]))
        for number, extents in self._places(lists[b"iloc"], lists.get(b"idat")):
            if not all(any(room.inside <= one.start <= one.end <= room.end for room in rooms) for one in extents):
                raise NotTaken
            kind = kinds.get(number)
            for start, end in extents:
                if kind in _PICTURES:
                    self._out[start:end] = self._data[start:end]
                elif kind == b"Exif" and len(extents) == 1 and len(self._exif) <= end - start:
                    self._out[start : start + len(self._exif)] = self._exif

    def _properties(self, box: _Box) -> None:
        for part in self._boxes(box.inside, box.end):
            if part.kind == b"ipco":
                for one in self._boxes(part.inside, part.end):
                    if one.kind not in _PROPERTIES:
                        self._free(one)
            elif part.kind != b"ipma":
                self._free(part)

    def _overwrite(self, extent: _Extent) -> None:
        self._out[extent.start : extent.end] = bytes(extent.end - extent.start)

    def _free(self, box: _Box) -> None:
        """Make a box one of nothing: what is counted by its place keeps it."""
        self._out[box.start + 4 : box.start + 8] = b"free"
        self._overwrite(_Extent(box.inside, box.end))

    # --- reading

    def _number(self, at: int, size: int) -> int:
        if at + size > len(self._data):
            raise NotTaken
        return int.from_bytes(self._data[at : at + size], "big")

    def _boxes(self, at: int, end: int) -> Iterator[_Box]:
        while at < end:
            size, kind, inside = self._number(at, 4), self._data[at + 4 : at + 8], at + 8
            if size == 1:
                size, inside = self._number(at + 8, 8), at + 16
            elif size == 0:
                size = end - at
            if at + size > end or inside > at + size or len(kind) < 4:
                raise NotTaken
            yield _Box(kind, at, inside, at + size)
            at += size

    def _kinds(self, box: _Box) -> Iterator[tuple[int, bytes]]:
        """Each item's number and kind (ISO/IEC 14496-12, 8.11.6)."""
        wide = 2 if self._number(box.inside, 1) == 0 else 4
        for entry in self._boxes(box.inside + 4 + wide, box.end):
            version = self._number(entry.inside, 1)
            if entry.kind != b"infe" or version not in (2, 3):
                raise NotTaken
            digits = 2 if version == 2 else 4
            at = entry.inside + 4 + digits + 2
            yield self._number(entry.inside + 4, digits), self._data[at : at + 4]

    def _places(self, box: _Box, inside: _Box | None) -> Iterator[tuple[int, list[_Extent]]]:
        """Where each item's bytes stand in the file (8.11.3)."""
        version, sizes, at = self._number(box.inside, 1), self._number(box.inside + 4, 2), box.inside + 6
        offset_size, length_size, base_size, index_size = (sizes >> shift & 15 for shift in (12, 8, 4, 0))
        digits = 2 if version < 2 else 4
        count, at = self._number(at, digits), at + digits
        for _ in range(count):
            number, at = self._number(at, digits), at + digits
            way = self._number(at, 2) & 15 if version else 0
            at += 2 if version else 0
            if self._number(at, 2) or way > 1 or (way and inside is None):  # in another file, or of another item
                raise NotTaken
            base, at = self._number(at + 2, base_size), at + 2 + base_size
            base += inside.inside if way and inside is not None else 0
            extents, parts = [], self._number(at, 2)
            at += 2
            for _ in range(parts):
                at += index_size if version else 0
                start, at = base + self._number(at, offset_size), at + offset_size
                length, at = self._number(at, length_size), at + length_size
                if not length:  # all of the file
                    raise NotTaken
                extents.append(_Extent(start, start + length))
            if at > box.end:
                raise NotTaken
            yield number, extents
