"""A daily log on paper beside the record attached to it: whether the pages are what the record, printed again, gives.

A PDF (ISO 32000-1) can say one thing on its pages and another in its attachments, so neither proves the other. But
the same record gives the same print: what is attached is printed again here, and compared. The same bytes are the
strongest answer. Where other versions of the libraries packed them differently, the words of every page are compared
line by line and then, both files written in one way only, every object. That finds what was changed; it proves nothing,
since another viewer may read another file in the same bytes.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import pikepdf
from PIL import ImageChops
from pypdf import PdfReader

from fieldassist.proof.strict import is_plain_jpeg
from fieldassist.record.picture import TooManyPixels, open_picture
from fieldassist.trade.message import Message, Refused, message

if TYPE_CHECKING:
    from fieldassist.trade.quantities import Units

# same drawing: only the packing differs. other pictures: only that of pictures, too, which look the same.
# other marks: the words are the same, something else that is drawn is not.
Agreement = Literal["same bytes", "same drawing", "other pictures", "other marks", "other words"]

# Many times those of a long day.
MOST_PAGES = 2000
# Far more than what a day attaches, which is limited when it is printed.
LARGEST_ATTACHED = 256 * 1024 * 1024
_LETTER_WIDTH = 612
# Of 255. A picture packed at another quality, from 60 to 95, moves the mean of 64 dots by up to 7; a void that is
# painted over, by tens. Ours, tried on drawn, smooth and noisy pictures.
_REPACKED = 8

# What runs, asks, plays, hides or covers. Whatever of it the record's own print does not have was added to it.
_ADDED = {
    "/JS": "script",
    "/JavaScript": "script",
    "/OpenAction": "on-opening",
    "/AA": "by-themselves",
    "/Launch": "program",
    "/SubmitForm": "sends-data",
    "/ImportData": "fetches-data",
    "/GoToR": "other-file",
    "/GoToE": "attached-file",
    "/URI": "address",
    "/AcroForm": "form",
    "/XFA": "form",
    "/RichMedia": "media",
    "/Rendition": "media",
    "/3D": "media",
    "/OCProperties": "layers",
    "/AP": "laid-over",
}


class NotReadable(Refused):
    """The PDF cannot be read; `told` says why."""


@dataclass(frozen=True, slots=True)
class Paper:
    """What was read from a PDF.

    files: every attached file by its name, each copy of it wherever it hangs, also what no page or list leads to any
    more; plain: the document written in one way only, uncompressed, without the figures of its signature; simple: it
    holds one version of itself, as far as its structure tells; has: things that act or cover; us: its first page is
    Letter; language: in which it says that it is written; signed: it bears a signature, good or not.
    """

    data: bytes
    files: dict[str, list[bytes]]
    plain: bytes
    simple: bool
    has: frozenset[Message]
    us: bool
    language: str
    signed: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """How pages and record agree. difference: the first one; added: what the record's print has not."""

    agreement: Agreement
    difference: Message | None = None
    added: tuple[Message, ...] = ()


@contextlib.contextmanager
def _guarded() -> Iterator[None]:
    """Whatever a library raises on a file made to do harm means that it cannot be read."""
    try:
        yield
    except (NotReadable, MemoryError):
        raise
    except Exception as error:
        raise NotReadable(message("proof-pdf-damaged")) from error


def read_paper(data: bytes) -> Paper:
    """Read a PDF without trusting it. NotReadable says why it cannot be."""
    with _guarded(), pikepdf.open(io.BytesIO(data), suppress_warnings=True) as pdf:
        if pdf.is_encrypted:
            raise NotReadable(message("proof-pdf-encrypted"))
        if not 0 < len(pdf.pages) <= MOST_PAGES:
            raise NotReadable(message("proof-pdf-pages", pages=len(pdf.pages)))
        box = pdf.pages[0].mediabox
        us = round(float(box[2]) - float(box[0])) == _LETTER_WIDTH
        language = str(pdf.Root.get("/Lang", ""))
        # One that was made for the web has its table in two parts.
        one_version = data.count(b"startxref") == 1 and not {"/Prev", "/XRefStm"} & set(pdf.trailer.keys())
        one_version |= pdf.is_linearized and data.count(b"startxref") == 2
        files, has, signed = _attached(pdf), frozenset(_things(pdf)), _forget_signatures(pdf)
        plain = _plain(pdf)
        # Only now is all of it read, and doubted where it says two things at once.
        simple = data.startswith(b"%PDF-") and one_version and not pdf.get_warnings()
        return Paper(data, files, plain, simple, has, us, language, signed)


def compare(paper: Paper, print_again: Callable[[Units], bytes]) -> Comparison:
    """Compare a PDF with the print of its own record: print_again(units) gives that print.

    The paper size tells first which units to try. It is not trusted: when neither print agrees, the difference is told
    from the one that agrees further. NotReadable when the pages cannot be.
    """
    best, furthest = Comparison("other words"), (-1, -1)
    first: Units = "us" if paper.us else "metric"
    for units in (first, "metric" if first == "us" else "us"):
        again = print_again(units)
        if again == paper.data:
            return Comparison("same bytes")
        with _guarded():
            ours = read_paper(again)
            added = tuple(sorted(paper.has - ours.has, key=str))
            differing = _first_other_words(paper.plain, ours.plain)
            if differing is None:
                return _without_other_words(paper, ours, added)
            at, difference = differing
            if at > furthest:
                best, furthest = Comparison("other words", difference, added), at
    return best


# --- reading ------------------------------------------------------------------------------------------------------


def _within(pdf: pikepdf.Pdf) -> Iterator[Any]:
    """Every dictionary and stream of the file, reachable or not, each once."""
    for start in pdf.objects:
        waiting: list[Any] = [start]
        while waiting:
            one = waiting.pop()
            if isinstance(one, pikepdf.Dictionary | pikepdf.Stream):
                yield one
                inside = [one.get(name) for name in one.keys()]  # noqa: SIM118  (a stream iterates over no keys)
            elif isinstance(one, pikepdf.Array):
                inside = list(one)
            else:
                continue
            waiting += [part for part in inside if isinstance(part, pikepdf.Object) and not part.is_indirect]


def _attached(pdf: pikepdf.Pdf) -> dict[str, list[bytes]]:
    files: dict[str, list[bytes]] = {}
    total = 0
    for thing in _within(pdf):
        if "/EF" not in thing:
            continue
        # ISO 32000-1, 7.11.3: /UF and /F are the name, and may each have their own embedded file.
        streams = {stream.objgen: stream for stream in thing.EF.values()}
        for stream in streams.values():
            content = bytes(stream.read_bytes())
            total += len(content)
            if total > LARGEST_ATTACHED:
                raise NotReadable(message("proof-pdf-much-attached"))
            files.setdefault(str(thing.get("/UF", thing.get("/F", ""))), []).append(content)
    return files


def _things(pdf: pikepdf.Pdf) -> Iterator[Message]:
    for thing in _within(pdf):
        yield from (message(f"proof-added-{_ADDED[name]}") for name in thing.keys() if name in _ADDED)  # noqa: SIM118
        kind = thing.get("/S")
        if isinstance(kind, pikepdf.Name) and str(kind) in _ADDED:
            yield message(f"proof-added-{_ADDED[str(kind)]}")
        if "/Rect" in thing and "/Subtype" in thing:
            yield message("proof-added-marks", kind=str(thing.Subtype).lstrip("/"))


def _forget_signatures(pdf: pikepdf.Pdf) -> bool:
    """Whether the document bears a signature; what differs in it from one signing to the next is taken out."""
    found = False
    for thing in _within(pdf):
        found |= "/ByteRange" in thing or thing.get("/FT") == "/Sig"
        if "/ByteRange" in thing:
            for name in ("/ByteRange", "/Contents", "/M", "/Name"):
                thing[name] = pikepdf.String("")
    return found


def _plain(pdf: pikepdf.Pdf) -> bytes:
    """The document with its objects numbered in the order in which they are met, nothing packed, nothing unused."""
    if "/ID" in pdf.trailer:
        del pdf.trailer["/ID"]
    out = io.BytesIO()
    pdf.save(
        out,
        static_id=True,
        fix_metadata_version=False,
        compress_streams=False,
        stream_decode_level=pikepdf.StreamDecodeLevel.generalized,
        object_stream_mode=pikepdf.ObjectStreamMode.disable,
    )
    return out.getvalue()


# --- comparing ----------------------------------------------------------------------------------------------------


def _first_other_words(theirs: bytes, ours: bytes) -> tuple[tuple[int, int], Message] | None:
    """The first line that reads differently, with its page and number, or None."""
    a, b = PdfReader(io.BytesIO(theirs)), PdfReader(io.BytesIO(ours))
    for page in range(min(len(a.pages), len(b.pages))):
        one, other = _lines(a, page), _lines(b, page)
        if one == other:
            continue
        line = next((n for n, (x, y) in enumerate(zip(one, other, strict=False)) if x != y), min(len(one), len(other)))
        said, should = (_shown(lines, line) for lines in (one, other))
        told = message("proof-other-line", page=str(page + 1), line=str(line + 1), said=said, should=should)
        return (page, line), told
    if len(a.pages) != len(b.pages):
        at = min(len(a.pages), len(b.pages))
        return (at, 0), message("proof-other-pages", pages=str(len(a.pages)), should=str(len(b.pages)))
    return None


def _shown(lines: list[str], number: int) -> Message:
    if number >= len(lines):
        return message("proof-nothing")
    line = lines[number]
    return message("proof-words", words=f"{line[:80]} ..." if len(line) > 80 else line)


# Stands for what no reader makes words of, on both sides alike.
UNREADABLE_WORDS = "\ufffd"


def _lines(reader: PdfReader, page: int) -> list[str]:
    try:
        return reader.pages[page].extract_text().splitlines()
    except MemoryError:
        raise
    except Exception:
        return [UNREADABLE_WORDS]


def _without_other_words(paper: Paper, ours: Paper, added: tuple[Message, ...]) -> Comparison:
    if not paper.simple:
        # Readers do not agree on what such a file shows.
        return Comparison("other marks", message("proof-loose-ends"), added)
    if paper.plain == ours.plain:
        return Comparison("same drawing")
    agreement, where = _first_other_mark(paper.plain, ours.plain)
    return Comparison(agreement, message("proof-first-difference", where=where), added)


def _first_other_mark(theirs: bytes, ours: bytes) -> tuple[Agreement, Message]:
    """Where two documents with the same words differ, objects being numbered alike where they agree."""
    with pikepdf.open(io.BytesIO(theirs)) as a, pikepdf.open(io.BytesIO(ours)) as b:
        for number, (one, other) in enumerate(zip(a.pages, b.pages, strict=True), start=1):
            if _drawn(one) != _drawn(other):
                return "other marks", message("proof-where-drawn", page=str(number))
        around = message("proof-where-around")
        if len(a.objects) != len(b.objects):
            return "other marks", around
        repacked: Message | None = None
        for thing, like in zip(a.objects, b.objects, strict=True):
            if _content(thing) == _content(like):
                continue
            if not (_is_picture(thing) and _is_picture(like) and _said(thing) == _said(like)):
                return "other marks", around
            page_number = next((n for n, page in enumerate(a.pages, 1) if _shows(page, thing)), 0)
            where = message("proof-where-picture", page=page_number)
            if not is_plain_jpeg(bytes(thing.read_raw_bytes()), int(thing.Width), int(thing.Height)):
                return "other marks", where
            if not _look_alike(bytes(thing.read_raw_bytes()), bytes(like.read_raw_bytes())):
                return "other marks", where
            repacked = repacked or where
        return ("other pictures", repacked) if repacked is not None else ("other marks", around)


def _drawn(page: pikepdf.Page) -> list[bytes]:
    contents = page.obj.get("/Contents")
    parts = list(contents) if isinstance(contents, pikepdf.Array) else [contents]
    return [bytes(part.read_bytes()) for part in parts if isinstance(part, pikepdf.Stream)]


def _content(thing: Any) -> bytes:
    if not isinstance(thing, pikepdf.Object):
        return repr(thing).encode()
    if not isinstance(thing, pikepdf.Stream):
        return thing.unparse()
    return _said(thing) + hashlib.sha256(thing.read_raw_bytes()).digest()


def _said(stream: Any) -> bytes:
    """All that a stream says of itself but its length."""
    return pikepdf.Dictionary({name: stream[name] for name in stream.keys() - {"/Length"}}).unparse()


def _is_picture(thing: Any) -> bool:
    return isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image"


def _shows(page: pikepdf.Page, picture: Any) -> bool:
    drawn = page.resources.get("/XObject")
    return isinstance(drawn, pikepdf.Dictionary) and any(one.objgen == picture.objgen for one in drawn.values())


def _look_alike(theirs: bytes, ours: bytes) -> bool:
    """Whether two packed pictures are the same to the eye: no square of 8 by 8 dots is lighter or darker."""
    try:
        one, other = (open_picture(data).convert("RGB") for data in (theirs, ours))
        if one.size != other.size:
            return False
        return max(ImageChops.difference(one.reduce(8), other.reduce(8)).tobytes()) <= _REPACKED
    except (OSError, ValueError, SyntaxError, TooManyPixels):
        return False
