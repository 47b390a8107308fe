"""Photos of the day, scaled down for the page."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass

from PIL import Image

from fieldassist.record.picture import small_picture

# Printed about 57 mm wide: 480 pixels are some 210 to the inch, enough to see a void and small enough to send.
_LONGEST = (480, 360)
NOT_IN_HERE = (
    "Not in this PDF: the tablet had no whole copy, or all files together passed 50 MB. Look for it in the bundle."
)
NOT_A_PICTURE = "Attached to this PDF, but it cannot be drawn: the file is no JPEG or PNG picture that can be read."


@dataclass(frozen=True, slots=True)
class PrintedPicture:
    """A JPEG picture with its size in pixels."""

    jpeg: bytes
    wide: int
    high: int


class Album:
    """The day's pictures by file name; each is opened once.

    original: gives a file's bytes, None where they are not at hand.
    """

    def __init__(self, original: Callable[[str], bytes | None]) -> None:
        self._original = original
        self._done: dict[str, PrintedPicture | str] = {}

    def find(self, name: str) -> PrintedPicture | str:
        """The picture, or why there is none."""
        if name not in self._done:
            data = self._original(name)
            self._done[name] = NOT_IN_HERE if data is None else scaled(data) or NOT_A_PICTURE
        return self._done[name]


def scaled(data: bytes) -> PrintedPicture | None:
    """A JPEG or PNG picture made small, upright as the camera was held (EXIF 2.32, 4.6.4, tag 274), without metadata.

    None when it is no such picture, is damaged, or takes too much to decode (`record.picture`). The same bytes give the
    same picture with the same libraries.
    """
    try:
        small = small_picture(data, _LONGEST, 2 * _LONGEST[0])
        # Onto fresh paper, which carries no remark of the camera's.
        fresh = Image.new("RGB", small.size)
        fresh.paste(small)
        paper = io.BytesIO()
        fresh.save(paper, "JPEG", quality=82, subsampling="4:2:0")
    except MemoryError:
        raise
    except Exception:
        # The library does not tell what it raises on a damaged picture, and one such photo must not cost the day's log.
        return None
    return PrintedPicture(paper.getvalue(), fresh.width, fresh.height)
