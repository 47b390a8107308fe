"""Opening a picture that a stranger may have made: its size is known from its header before anything is decoded."""

from __future__ import annotations

import io
import warnings

from PIL import Image

# Sensors of tablets have fewer. A larger picture is not opened: a small file can claim to be a huge one, and each
# pixel takes up to four bytes of memory, more than once while it is turned and made small.
MOST_PIXELS = 50_000_000


class TooManyPixels(Exception):
    """The picture's header says more than `MOST_PIXELS`. `millions`: how many, None where they were not counted."""

    def __init__(self, millions: float | None) -> None:
        super().__init__(f"{millions} million pixels")
        self.millions = millions


def open_picture(data: bytes) -> Image.Image:
    """A JPEG or PNG picture of which only the header was read; `load` it to decode it.

    TooManyPixels; for a file that is no such picture, whatever the library raises.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(io.BytesIO(data), formats=("JPEG", "PNG"))
    except Image.DecompressionBombError:
        raise TooManyPixels(None) from None
    if image.width * image.height > MOST_PIXELS:
        raise TooManyPixels(image.width * image.height / 1e6)
    return image
