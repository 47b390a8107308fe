"""Opening a picture that a stranger may have made: what it takes is known from its header, before it is decoded.

And the one form in which we write pictures: one plain baseline JPEG of three colours (ITU-T T.81), upright, in sRGB
(IEC 61966-2-1), without remarks, which all decoders read alike.
"""

from __future__ import annotations

import contextlib
import io
import warnings
from collections.abc import Callable, Iterator

from PIL import Image, ImageCms
from PIL.JpegImagePlugin import JpegImageFile

from fieldassist.record.heic import is_heic, without_remarks_in_boxes
from fieldassist.record.heic_reader import TooLarge, decode_heic
from fieldassist.record.remarks import NotTaken, drawn_in_turns, kept_of

# Sensors of tablets have fewer dots; a small file can claim to be a huge picture. A JPEG is decoded at a part of its
# size, which a PNG cannot be: of 8 bits and three colours it may have half as many.
MOST_PIXELS = 50_000_000
MOST_BYTES = 110_000_000
# What the library takes for a dot as it is decoded [bytes]; four for all others.
_DOT_BYTES = {"1": 1, "L": 1, "P": 1, "I;16": 2, "I;16B": 2, "I;16L": 2}
# Of a HEIC picture all dots are decoded at once, in a process of its own; phones have up to 24 million by default.
_HEIC_PIXELS = 25_000_000
# Of a JPEG that comes in several scans all coefficients are held at once: two bytes each (libjpeg, "structure.txt").
_COEFFICIENT_BYTES = 2
# From there on a picture is made smaller piece by piece, which takes no second one of its size.
_LARGE_PIXELS = 8_000_000
_PIECE = 1024
# A copy to be printed and sent: dots of its longer side at most, and how it is packed, first as the first line says,
# then harder until it has no more than so many bytes: 190 of them go into one PDF. The last is taken as it comes; of
# nothing but noise it has 290,000 bytes.
COPY_DOTS = 1600
_COPY_PACKED = ((1600, 80), (1600, 70), (1600, 60), (1280, 60), (960, 60), (800, 50))
COPY_BYTES = 320_000
# Profiles of cameras and phones have some kilobytes (ICC.1:2022, 7.2).
_LARGEST_PROFILE = 1_000_000


class TooManyPixels(Exception):
    """To decode the picture takes more than is given. `millions`: of dots, None where they were not counted."""

    def __init__(self, millions: float | None) -> None:
        super().__init__(f"{millions} million pixels")
        self.millions = millions


@contextlib.contextmanager
def without_warnings() -> Iterator[None]:
    """The library warns on standard error of what a camera wrote wrongly."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield


def open_picture(data: bytes) -> Image.Image:
    """A JPEG or PNG picture of which only the header was read, `load` it to decode it; or a HEIC picture, upright and
    made small by a whole factor where it has more dots than a copy.

    TooManyPixels; for a file that is no such picture, whatever the library raises; ModuleNotFoundError for a HEIC
    picture where the tablet's library for it is missing.
    """
    if is_heic(data):
        return _open_heic(data)
    try:
        with without_warnings():
            image = Image.open(io.BytesIO(data), formats=("JPEG", "PNG"))
    except Image.DecompressionBombError:
        raise TooManyPixels(None) from None
    pixels = image.width * image.height
    if pixels > MOST_PIXELS or _held(image, data) > MOST_BYTES:
        raise TooManyPixels(pixels / 1e6)
    return image


def _open_heic(data: bytes) -> Image.Image:
    try:
        found = decode_heic(data, _HEIC_PIXELS, COPY_DOTS)
    except TooLarge as large:
        raise TooManyPixels(large.pixels / 1e6) from None
    # How the camera was held is done already; that its remarks tell of it too counts for nothing (ISO/IEC 23008-12).
    image = Image.frombytes("RGB", (found.wide, found.high), found.dots)
    image.info["icc_profile"] = found.profile
    image.info[_WHOLE] = found.whole
    return image


def heic_without_remarks(data: bytes) -> bytes:
    """A HEIC photo without where it was taken, with what and by whom.

    Such a file is built in more ways than one, so what is left is decoded and has to show the same. NotTaken where it
    does not, or its parts are not told from each other; other errors as `open_picture`.
    """
    try:
        before = decode_heic(data, _HEIC_PIXELS, COPY_DOTS)
        exif = Image.Exif()
        with without_warnings():
            exif.load(before.exif)
        exif.pop(_ORIENTATION, None)
        bare = without_remarks_in_boxes(data, kept_of(exif))
        after = decode_heic(bare, _HEIC_PIXELS, COPY_DOTS)
    except TooLarge as large:
        raise TooManyPixels(large.pixels / 1e6) from None
    if before.all_dots != after.all_dots:
        raise NotTaken
    return bare


def small_picture(data: bytes, longest: tuple[int, int], draft: int) -> Image.Image:
    """A JPEG, PNG or HEIC picture made small, no wider and no higher than `longest`, upright as the camera was held
    (EXIF 2.32, 4.6.4, tag 274), on white, in the red, green and blue of sRGB.

    draft: dots of the longer side that a JPEG is decoded with at least, so that it looks well. Errors: as
    `open_picture`, and whatever the library raises on a damaged picture.
    """
    return _made_small(open_picture(data), longest, draft)


def picture_by_size(data: bytes, longest: Callable[[tuple[int, int]], int]) -> tuple[Image.Image, tuple[int, int]]:
    """A picture as `small_picture` makes it, and how wide and high it was before, upright.

    longest: is asked with that size, once the header is read, how wide and high it may be. Errors: as `small_picture`.
    """
    image = open_picture(data)
    with without_warnings():
        lies = image.getexif().get(_ORIENTATION) in _LYING
    wide, high = image.info.get(_WHOLE, image.size)
    whole = (high, wide) if lies else (wide, high)
    most = longest(whole)
    return _made_small(image, (most, most), most), whole


def _made_small(image: Image.Image, longest: tuple[int, int], draft: int) -> Image.Image:
    wide, high = image.size
    share = draft / max(wide, high)
    image.draft("RGB", (max(1, round(wide * share)), max(1, round(high * share))))
    image.load()
    with without_warnings():
        orientation = image.getexif().get(_ORIENTATION)
    # A profile is of the colours that were decoded, which others have than the page.
    profile = image.info.get("icc_profile", b"") if image.mode in ("RGB", "RGBA") else b""
    small = _reduced(image, longest) if image.width * image.height > _LARGE_PIXELS else _on_white(image)
    del image
    if orientation in _UPRIGHT:
        small = small.transpose(_UPRIGHT[orientation])
    small.thumbnail(longest, Image.Resampling.LANCZOS)
    return _in_srgb(small, profile)


def packed(picture: Image.Image, quality: int) -> bytes:
    """A picture of red, green and blue as one plain JPEG; the same dots give the same bytes with the same libraries."""
    # Onto fresh paper, which carries no remark of the camera's.
    fresh = Image.new("RGB", picture.size)
    fresh.paste(picture)
    paper = io.BytesIO()
    fresh.save(paper, "JPEG", quality=quality, subsampling="4:2:0")
    return paper.getvalue()


def printable_copy(data: bytes) -> bytes:
    """A copy of a photo, at most 1,600 dots wide and high and about 320 kB, to be printed and to go with the pages.

    Errors: as `small_picture`.
    """
    picture = small_picture(data, (COPY_DOTS, COPY_DOTS), COPY_DOTS)
    copy = b""
    for longest, quality in _COPY_PACKED:
        picture.thumbnail((longest, longest), Image.Resampling.LANCZOS)
        copy = packed(picture, quality)
        if len(copy) <= COPY_BYTES:
            break
    return copy


_ORIENTATION = 0x0112
# Of these orientations width and height change places.
_LYING = (5, 6, 7, 8)
# What a HEIC picture had before it was made small, among what is said of it.
_WHOLE = "whole size"
_UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def _held(image: Image.Image, data: bytes) -> int:
    """What decoding a picture takes [bytes]: its dots, or the coefficients of a JPEG that comes in several scans."""
    pixels = image.width * image.height
    if not isinstance(image, JpegImageFile):
        return pixels * _DOT_BYTES.get(image.mode, 4)
    if not drawn_in_turns(data):
        return 0
    sampled = [(wide, high) for _, wide, high, _ in image.layer]
    most = max(wide for wide, _ in sampled) * max(high for _, high in sampled)
    return round(_COEFFICIENT_BYTES * pixels * sum(wide * high for wide, high in sampled) / most)


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    """The picture in sRGB. A profile that cannot be read is none."""
    if not profile or len(profile) > _LARGEST_PROFILE:
        return picture
    try:
        given = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        done = ImageCms.profileToProfile(picture, given, ImageCms.createProfile("sRGB"))
    except (ImageCms.PyCMSError, OSError, ValueError):
        return picture
    return done if done is not None else picture


def _on_white(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I;16"):
        # The library itself would take all but the darkest 256 of 65,536 greys for white.
        image = image.convert("I").point(lambda grey: grey * (1 / 256)).convert("L")
    # What can be seen through is printed on white.
    if image.has_transparency_data:
        image = image.convert("RGBA")
        ground = Image.new("RGBA", image.size, "white")
        ground.alpha_composite(image)
        image = ground
    return image.convert("RGB")


def _reduced(image: Image.Image, longest: tuple[int, int]) -> Image.Image:
    """A large picture at a quarter more than `longest` or larger, one piece after the other."""
    by = max(1, 4 * max(image.size) // (5 * max(longest)))
    across, down = min(by, image.width), min(by, image.height)
    wide, high = across * max(1, _PIECE // across), down * max(1, _PIECE // down)
    small = Image.new("RGB", (-(-image.width // across), -(-image.height // down)))
    for top in range(0, image.height, high):
        for left in range(0, image.width, wide):
            box = (left, top, min(left + wide, image.width), min(top + high, image.height))
            piece = _on_white(image.crop(box)).reduce((across, down))
            small.paste(piece, (left // across, top // down))
    return small
