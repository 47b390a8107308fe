"""Photos: looked at before they are kept, and kept beside the day. Knows nothing of a screen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from PIL import UnidentifiedImageError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine
from fieldassist.checklist.moment import PRESSED
from fieldassist.day.session import Answer, Day, told
from fieldassist.files import UnfitFile, read_regular
from fieldassist.record import attachments
from fieldassist.record.heic import is_heic
from fieldassist.record.log import LogProblem
from fieldassist.record.picture import (
    TooManyPixels,
    heic_without_remarks,
    open_picture,
    picture_by_size,
    printable_copy,
    small_picture,
    without_warnings,
)
from fieldassist.record.remarks import PNG, NotTaken, without_remarks
from fieldassist.trade.message import Refused, message

# The share of a dot that hides what lies below it, in the four bytes of a dot.
_OPAQUE = 255
_HEIC = (".heic", ".heif")
# A HEIC photo can be kept where the tablet's library for it is there.
SUFFIXES = (".jpg", ".jpeg", ".png", *(_HEIC if find_spec("pi_heif") is not None else ()))


class NoPhoto(Refused):
    """The file cannot be taken as a photo; `told` says why, and what to do."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture made small and turned upright: three bytes a pixel (red, green, blue), row by row from the top."""

    pixels: bytes
    wide: int
    high: int


def read(source: Path) -> bytes:
    """The bytes of a photo's file. NoPhoto when it cannot be read or is larger than a day can keep."""
    try:
        return read_regular(source, attachments.LARGEST_BYTES)
    except UnfitFile as unfit:
        if unfit.code == "file-too-large":
            most = attachments.LARGEST_BYTES // 1_000_000
            raise NoPhoto(message("photo-too-large", file=source.name, most=most)) from unfit
        raise NoPhoto(message("photo-unfit", file=source.name, why=message(unfit.code, why=unfit.why))) from unfit


def look_at(data: bytes, name: str, longest: int) -> Picture:
    """A JPEG, PNG or HEIC photo, no side longer than `longest` pixels, upright as the camera was held.

    NoPhoto when it is no such picture, is damaged, or takes too much to decode (`record.picture`).
    """
    with _told_of(name):
        small = small_picture(data, (longest, longest), longest)
    return Picture(small.tobytes(), small.width, small.height)


def look_closely(data: bytes, name: str, longest: Callable[[tuple[int, int]], int]) -> tuple[Picture, tuple[int, int]]:
    """A photo to be measured on, and how many dots wide and high it is in its file, upright.

    longest: is told that size, and says how many dots a side may have. NoPhoto as `look_at`.
    """
    with _told_of(name):
        small, whole = picture_by_size(data, longest)
    return Picture(small.tobytes(), small.width, small.height), whole


def shows_through(data: bytes, name: str) -> bool:
    """Whether any dot of a picture is transparent, so that white in it may be none. NoPhoto as `look_at`."""
    with _told_of(name):
        image = open_picture(data)
        if not image.has_transparency_data:
            return False
        least, _ = image.convert("RGBA").getchannel("A").getextrema()
        return least != _OPAQUE


def copy_of(data: bytes, name: str) -> bytes:
    """The small copy of a photo that is printed (`record.picture.printable_copy`). NoPhoto as `look_at`."""
    with _told_of(name):
        return printable_copy(data)


@contextmanager
def _told_of(name: str) -> Iterator[None]:
    """What decoding a photo raises is told as NoPhoto, of the file of this name."""
    try:
        yield
    except ModuleNotFoundError as error:
        raise NoPhoto(message("photo-heic", file=name)) from error
    except TooManyPixels as many:
        millions = -1 if many.millions is None else round(many.millions)
        raise NoPhoto(message("photo-too-many-dots", file=name, millions=millions)) from many
    except MemoryError as error:
        raise NoPhoto(message("photo-no-memory", file=name)) from error
    except UnidentifiedImageError as error:
        raise NoPhoto(message("photo-no-picture", file=name)) from error
    except Exception as error:
        # The library does not tell what it raises on a damaged picture.
        raise NoPhoto(message("photo-damaged", file=name)) from error


def without_places(data: bytes, name: str) -> bytes:
    """A photo that was looked at, without what its camera says of place, maker and owner; the picture is the same.

    NoPhoto where its parts cannot be told from each other.
    """
    try:
        if is_heic(data):
            return heic_without_remarks(data)
        image = open_picture(data)
        if data.startswith(PNG):
            image.load()  # there the remarks may stand behind the picture
        with without_warnings():
            return without_remarks(data, image.getexif())
    except ModuleNotFoundError as error:
        raise NoPhoto(message("photo-heic", file=name)) from error
    except (NotTaken, OSError, SyntaxError, ValueError, TooManyPixels) as error:
        raise NoPhoto(message("photo-places-stay", file=name)) from error


def attach(day: Day, source: Path, *, keep_places: bool = False) -> Answer:
    """Keep a photo beside the day, and a small copy to be printed, each named by its content, and attach it to what is
    at hand.

    keep_places: with all that its camera says of place, maker and owner; else without, and the entry says so. The copy
    has nothing of it either way.

    The answer is given once photo, copy and entry are on disk; where it is not `taken` nothing was attached, and `say`
    tells why. LogProblem when the entry cannot be written.
    """
    try:
        data = read(source)
        copy = copy_of(data, source.name)
        data = data if keep_places else without_places(data, source.name)
    except NoPhoto as problem:
        return Answer(False, told(problem), (), day.prompt)
    # Asked first: a day that takes no photo now gets no file that nothing speaks of.
    trial = cmd.AttachPhoto(file="", sha256="0" * 64, bare=not keep_places)
    if isinstance(engine.decide(day.state, trial, day.clock.now()), engine.Refusal):
        return day.do(trial, PRESSED)
    try:
        suffix = ".png" if data.startswith(PNG) else ".heic" if is_heic(data) else ".jpg"
        kept = attachments.keep(day.log.path, data, suffix)
        small = attachments.keep(day.log.path, copy, ".jpg")
    except LogProblem as problem:
        return Answer(False, told(problem), (), day.prompt)
    command = cmd.AttachPhoto(
        file=kept.file,
        sha256=kept.sha256,
        bare=not keep_places,
        copy_file=small.file,
        copy_sha256=small.sha256,
    )
    return day.do(command, PRESSED)
