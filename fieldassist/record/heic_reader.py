"""Decodes HEIC photos in a process of its own: on some damaged files the library for them ends the process it is in.

The process is this file, which reads a photo from its input and writes dots, profile and remarks to its output.
"""

from __future__ import annotations

import hashlib
import io
import struct
import subprocess
import sys
from dataclasses import dataclass

from PIL import Image

# Longer than any photo takes on a slow tablet.
_SECONDS = 60.0
_MOST_MEMORY = 1024**3
# Rows that are made small at a time.
_ROWS = 512
# Width and height of the photo and of what is handed on, SHA-256 of all its dots, how many bytes of profile and remarks
# follow; red, green and blue of each dot come last.
_HEAD = struct.Struct(">4L32s2L")
_DECODED, _NO_LIBRARY, _TOO_LARGE = 0, 3, 4


@dataclass(frozen=True, slots=True)
class DecodedHeic:
    """A picture as it is seen, made small: three bytes a dot, row by row; the width and height of the photo itself; the
    SHA-256 of all its dots; its profile of colours and its camera's remarks (Exif), b"" for none."""

    wide: int
    high: int
    dots: bytes
    whole: tuple[int, int]
    all_dots: bytes
    profile: bytes
    exif: bytes


class TooLarge(Exception):
    """The photo has more dots than are given. `pixels`: how many."""

    def __init__(self, pixels: int) -> None:
        super().__init__(f"{pixels} pixels")
        self.pixels = pixels


def decode_heic(data: bytes, most_pixels: int, longest: int) -> DecodedHeic:
    """Decode a HEIC photo of at most so many dots, made small by a whole factor, to no less than `longest` dots a side.

    Errors: ModuleNotFoundError where the tablet's library for it is missing; TooLarge; ValueError where it cannot be
    decoded.
    """
    try:
        done = subprocess.run(
            [sys.executable, "-P", __file__, str(most_pixels), str(longest)],
            input=data,
            capture_output=True,
            timeout=_SECONDS,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise ValueError("it was not decoded in time") from None
    out = done.stdout
    if done.returncode == _NO_LIBRARY:
        raise ModuleNotFoundError("No module named 'pi_heif'", name="pi_heif")
    if done.returncode not in (_DECODED, _TOO_LARGE) or len(out) < _HEAD.size:
        raise ValueError("it cannot be decoded")
    whole_wide, whole_high, wide, high, digest, profile, exif = _HEAD.unpack_from(out)
    if done.returncode == _TOO_LARGE:
        raise TooLarge(whole_wide * whole_high)
    at = _HEAD.size
    if len(out) != at + profile + exif + 3 * wide * high:
        raise ValueError("it was not decoded to its end")
    dots = at + profile + exif
    whole = whole_wide, whole_high
    return DecodedHeic(wide, high, out[dots:], whole, digest, out[at : at + profile], out[at + profile : dots])


def _main(most_pixels: int, longest: int) -> int:
    try:
        import resource  # not on every system

        resource.setrlimit(resource.RLIMIT_DATA, (_MOST_MEMORY, _MOST_MEMORY))
    except (ImportError, ValueError, OSError):
        pass
    try:
        import pi_heif
    except ModuleNotFoundError:
        return _NO_LIBRARY
    found = pi_heif.open_heif(io.BytesIO(sys.stdin.buffer.read()), convert_hdr_to_8bit=True)
    wide, high = found.size
    out = sys.stdout.buffer
    if wide * high > most_pixels:
        out.write(_HEAD.pack(wide, high, 0, 0, bytes(32), 0, 0))
        return _TOO_LARGE
    small, digest = _made_small(found.mode, (wide, high), found.data, found.stride, longest)
    # A profile is of the colours that were decoded.
    profile = (found.info.get("icc_profile") or b"") if found.mode in ("RGB", "RGBA") else b""
    exif = found.info.get("exif") or b""
    out.write(_HEAD.pack(wide, high, *small.size, digest, len(profile), len(exif)) + profile + exif + small.tobytes())
    return _DECODED


def _made_small(mode: str, size: tuple[int, int], dots: bytes, stride: int, longest: int) -> tuple[Image.Image, bytes]:
    """A picture made small some rows at a time, so that there is no second one of its size; and its SHA-256."""
    wide, high = size
    by = max(1, max(size) // longest)
    across, down = min(by, wide), min(by, high)
    small = Image.new("RGB", (-(-wide // across), -(-high // down)))
    digest = hashlib.sha256(f"{mode} {wide} {high}".encode())
    rows = down * max(1, _ROWS // down)
    for top in range(0, high, rows):
        some = min(rows, high - top)
        piece = Image.frombuffer(mode, (wide, some), dots[top * stride : (top + some) * stride], "raw", mode, stride, 1)
        digest.update(piece.tobytes())
        small.paste(piece.convert("RGB").reduce((across, down)), (0, top // down))
    return small, digest.digest()


if __name__ == "__main__":
    sys.exit(_main(*map(int, sys.argv[1:])))
