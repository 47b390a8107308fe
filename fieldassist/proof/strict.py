"""The one form in which this program writes a signed PDF, read without any library that forgives.

A signature says that no byte was changed, not that two viewers see the same in the bytes: a doubled entry in the table
of objects, a second copy of an object, bytes behind the end, a picture that two decoders read differently. So a signed
file is believed only in this form (ISO 32000-1): one cross-reference section from 0 to N, the objects in the order of
their numbers with nothing between them or after, each of them reached from the catalogue in the one part that it has
there, no key that our pages do not use, every packed stream one whole stream, every drawing made of the words that ours
are made of, every font with one meaning for a code, every picture one plain JPEG.

The structure, by which a page is read aloud or set anew on a narrow screen, says nothing of its own: all that is drawn
is either read, once, in the order in which it is drawn, or marked as decoration, and no other words may stand for those
of the page. But two things are the signer's word alone: what a figure shows, told to whoever cannot see it, and that a
rule or a running head is decoration. Files that were signed before there was a structure have none.

What the form leaves out is as much of it: scripts, actions, layers, forms, notes, encryption, files elsewhere, streams
of objects, later versions of the document. A file in another form is read by `paper`, and not believed for its
signature.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from fieldassist.trade.message import Refused, message

# Far more than what a day attaches, which is limited when it is printed.
LARGEST_UNPACKED = 512 * 1024 * 1024
_HEADER = b"%PDF-1.7\n%\xbf\xf7\xa2\xfe\n"
_END = re.compile(rb"\nstartxref\n([1-9][0-9]{0,9})\n%%EOF\n\Z")
_FREE = b"0000000000 65535 f \n"
_ENTRY = len(_FREE)
_DEEPEST = 20

_TOKEN = re.compile(
    rb"[ \n]*(?:"
    rb"(?P<name>/[A-Za-z0-9+._#-]+)"
    rb"|(?P<ref>[1-9][0-9]{0,6}) 0 R(?=[ \n\]>])"
    rb"|(?P<number>-?[0-9]+(?:\.[0-9]+)?)(?=[ \n\]>])"
    rb"|(?P<text>\((?:[^()\\]|\\.)*\))"
    rb"|(?P<open><<)|(?P<close>>>)"
    rb"|(?P<hex><(?:[0-9a-f]{2})*>)"
    rb"|(?P<array>\[)|(?P<end>\])"
    rb"|(?P<word>true|false|null)(?=[ \n\]>])"
    rb")",
    re.DOTALL,
)


# Elements that hold others only, and elements in which something is drawn (ISO 32000-1, 14.8.4).
_HOLDERS = ("Document", "Sect", "Table", "TR", "L", "LI", "Form")
_READ = ("H1", "H2", "H3", "P", "TH", "TD", "Lbl", "LBody", "Link", "Figure")
_KINDS = frozenset(f"/{kind}" for kind in _HOLDERS + _READ)

_SPACE = rb"[ \n]+"
_NUMBER = rb"-?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?=[ \n\]])"
_TEXT = rb"\((?:[^()\\]|\\.)*\)"
# What draws on our pages, one word after another. Left out is above all what ends where a reader thinks that it ends: a
# picture within the drawing.
_DRAWN = rb"|".join(
    (
        _SPACE,
        _NUMBER,
        _TEXT + rb"(?=[ \n])",
        rb"/[A-Za-z0-9.+_-]+(?=[ \n])",
        rb"[\[\]]",
        rb"(?:q|Q|cm|w|J|j|d|m|l|c|re|h|n|W|S|f|f\*|B|B\*|rg|RG|BT|ET|Tf|TL|Tm|T\*|Tj|Do)(?=[ \n]|\Z)",
    )
)
_UNTAGGED = re.compile(rb"(?:%s)*+" % _DRAWN, re.DOTALL)
# The beginning of what belongs to an element, by its number on the page, or to none.
_BEGINS = rb"/(?:Artifact BMC|(?P<kind>%s) << /MCID (?P<number>0|[1-9][0-9]{0,5}) >> BDC)(?=\n)" % (
    "|".join(_READ).encode()
)
# Nothing that shows stands outside of these, and none stands in another.
_TAGGED = re.compile(
    rb"(?:%s|%s|cm(?=[ \n])|%s(?:%s)*+EMC(?=[ \n]|\Z))*+"
    % (_SPACE, _NUMBER, re.sub(rb"\?P<\w+>", b"?:", _BEGINS), _DRAWN),
    re.DOTALL,
)
_MARKS = re.compile(rb"%s|%s" % (_TEXT, _BEGINS), re.DOTALL)


class Loose(Refused):
    """The file is not in the one form; `told` says where it is not."""


class Ref(NamedTuple):
    """An object, by its number."""

    number: int


@dataclass(frozen=True, slots=True)
class StrictObject:
    """One object of a file. value: dictionaries by name, arrays, `Ref`, names as str, strings as bytes, numbers;
    stream: its bytes as they are stored, None where there are none; text: the whole object as it stands; at: where."""

    value: Any
    stream: bytes | None
    text: bytes
    at: int


@dataclass(frozen=True, slots=True)
class StrictPdf:
    """A file in the one form. files: what is attached, unpacked, by name."""

    data: bytes
    objects: dict[int, StrictObject]
    trailer: dict[str, Any]
    files: dict[str, bytes]

    @property
    def signature(self) -> StrictObject:
        """The dictionary of its one signature."""
        (field,) = self.get(self.get(self.trailer["/Root"])["/AcroForm"])["/Fields"]
        return self.objects[self.get(field)["/V"].number]

    @property
    def language(self) -> str:
        """In which it says that it is written (ISO 32000-1, 14.9.2)."""
        tag = self.get(self.trailer["/Root"])["/Lang"]
        return tag.decode("latin-1") if isinstance(tag, bytes) else ""

    def get(self, value: Any) -> Any:
        """What a value is, or the object that it names is."""
        return self.objects[value.number].value if isinstance(value, Ref) else value


def read_strict(data: bytes) -> StrictPdf:
    """Read a file in the one form. `Loose` says where it is not in it."""
    objects, trailer = _laid_out(data)
    try:
        return _Walk(data, objects, trailer).read()
    except Loose:
        raise
    except (KeyError, TypeError, ValueError, AttributeError, IndexError, RecursionError, zlib.error):
        # Something is missing, or is of another kind than it is with us.
        raise _loose("objects") from None


def _loose(where: str, number: int | None = None) -> Loose:
    """number: of the object in which it is, 0 for a part that is no object of its own."""
    if number:
        return Loose(message(f"proof-loose-{where}", object=str(number)))
    return Loose(message(f"proof-loose-{where}" if number is None else f"proof-loose-{where}-here"))


# --- the layout ---------------------------------------------------------------------------------------------------


def _laid_out(data: bytes) -> tuple[dict[int, StrictObject], dict[str, Any]]:
    """The objects and the trailer of a file, in which every byte was accounted for."""
    if not data.startswith(_HEADER):
        raise _loose("beginning")
    end = _END.search(data, max(0, len(data) - 64))
    if end is None:
        raise _loose("end")
    table = int(end[1])
    starts, after = _offsets(data, table)
    trailer, stop = _value(data, after, 0)
    if not data.startswith(b"trailer <<", after - len(b"trailer")) or stop != end.start():
        raise _loose("trailer")
    if set(trailer) != {"/Info", "/Root", "/Size", "/ID"} or trailer["/Size"] != len(starts) + 1:
        raise _loose("trailer")
    if starts[0] != len(_HEADER):
        raise _loose("beginning")
    # Each object fills all bytes to the next one's place: nothing is left between them.
    ends = [*starts[1:], table]
    spans = enumerate(zip(starts, ends, strict=True), start=1)
    return {number: _object(data, number, start, end) for number, (start, end) in spans}, trailer


def _offsets(data: bytes, table: int) -> tuple[list[int], int]:
    """Where each object begins, and where the trailer's dictionary does."""
    head = re.compile(rb"xref\n0 ([1-9][0-9]{0,6})\n").match(data, table)
    if head is None:
        raise _loose("table")
    count, first = int(head[1]), head.end()
    entries = data[first : first + count * _ENTRY]
    after = first + count * _ENTRY
    if count < 2 or not entries.startswith(_FREE) or not data.startswith(b"trailer ", after):
        raise _loose("table")
    starts = [entries[at : at + _ENTRY] for at in range(_ENTRY, len(entries), _ENTRY)]
    if any(re.fullmatch(rb"[0-9]{10} 00000 n \n", entry) is None for entry in starts):
        raise _loose("table")
    return [int(entry[:10]) for entry in starts], after + len(b"trailer")


def _object(data: bytes, number: int, start: int, end: int) -> StrictObject:
    """The object that fills the bytes from `start` to `end`."""
    head, tail = b"%d 0 obj\n" % number, b"\nendobj\n"
    if not data.startswith(head, start) or data[end - len(tail) : end] != tail:
        raise _loose("object", number)
    value, at = _value(data, start + len(head), 0)
    text = data[start:end]
    if at == end - len(tail):
        return StrictObject(value, None, text, start)
    size = value.get("/Length") if isinstance(value, dict) else None
    begin = at + len(b"\nstream\n")
    if type(size) is not int or size < 0 or data[at:begin] != b"\nstream\n":
        raise _loose("object", number)
    # Only at the end: some readers look for the word, some count the bytes.
    if data[begin + size : end] != b"\nendstream" + tail or data.find(b"endstream", begin) != begin + size + 1:
        raise _loose("stream", number)
    return StrictObject(value, data[begin : begin + size], text, start)


def _value(data: bytes, at: int, depth: int) -> tuple[Any, int]:
    """The value that begins at `at`, and where it ends."""
    token = _TOKEN.match(data, at)
    if token is None or depth > _DEEPEST:
        raise _loose("value")
    kind, end = token.lastgroup, token.end()
    assert kind is not None
    raw = token[kind]
    if kind == "ref":
        return Ref(int(raw)), end
    if kind == "name":
        return raw.decode("ascii"), end
    if kind == "number":
        return (float(raw) if b"." in raw else int(raw)), end
    if kind == "text":
        return re.sub(rb"\\(.)", rb"\1", raw[1:-1], flags=re.DOTALL), end
    if kind == "hex":
        return bytes.fromhex(raw[1:-1].decode("ascii")), end
    if kind == "word":
        return {b"true": True, b"false": False, b"null": None}[raw], end
    if kind == "array":
        return _array(data, end, depth)
    if kind == "open":
        return _dictionary(data, end, depth)
    raise _loose("value")


def _array(data: bytes, at: int, depth: int) -> tuple[list[Any], int]:
    found: list[Any] = []
    while True:
        token = _TOKEN.match(data, at)
        if token is not None and token.lastgroup == "end":
            return found, token.end()
        value, at = _value(data, at, depth + 1)
        found.append(value)


def _dictionary(data: bytes, at: int, depth: int) -> tuple[dict[str, Any], int]:
    found: dict[str, Any] = {}
    while True:
        token = _TOKEN.match(data, at)
        if token is None:
            raise _loose("value")
        if token.lastgroup == "close":
            return found, token.end()
        key = token["name"]
        # A key that is written with an escape, or twice, is read differently by different readers.
        if key is None or b"#" in key or key.decode("ascii") in found:
            raise _loose("key")
        found[key.decode("ascii")], at = _value(data, token.end(), depth + 1)


# --- what belongs where -------------------------------------------------------------------------------------------


class _Part(NamedTuple):
    """What a part of a document may hold: keys, each with the part that is in it ("" for plain values); values that
    are always these; which of the keys may lack; how its stream is packed, "" where it has none."""

    keys: dict[str, str]
    always: dict[str, Any]
    may_lack: frozenset[str] = frozenset()
    stream: str = ""


def _part(
    keys: str, inside: dict[str, str] | None = None, may_lack: str = "", stream: str = "", **always: Any
) -> _Part:
    named = {f"/{key}": "" for key in keys.split()} | {f"/{key}": part for key, part in (inside or {}).items()}
    if stream:
        named |= {"/Length": ""} | ({"/Filter": ""} if stream != "as it is" else {})
    lacking = frozenset(f"/{key}" for key in may_lack.split())
    return _Part(named, {f"/{key}": value for key, value in always.items()}, lacking, stream)


_FIRST_AND_LAST = {"First": "outline item", "Last": "outline item"}
_NEIGHBOURS = {"Next": "outline item", "Prev": "outline item", "Parent": "outline"}
_PARTS = {
    "catalogue": _part(
        "Lang PageMode Type",
        {
            "AF": "file",
            "AcroForm": "form",
            "MarkInfo": "mark",
            "Metadata": "metadata",
            "Names": "names",
            "Outlines": "outline",
            "OutputIntents": "intent",
            "Pages": "pages",
            "StructTreeRoot": "structure",
            "ViewerPreferences": "preferences",
        },
        may_lack="MarkInfo StructTreeRoot",
        Type="/Catalog",
    ),
    "mark": _part("Marked", Marked=True),
    "structure": _part("Type", {"K": "kid", "ParentTree": "parents"}, Type="/StructTreeRoot"),
    "parents": _part("", {"Nums": "element"}),
    "element": _part(
        "Alt S",
        {"A": "attributes", "K": "kid", "P": "parent", "Pg": "page"},
        may_lack="A Alt K Pg",
    ),
    "attributes": _part("BBox ColSpan ListNumbering O Scope", may_lack="BBox ColSpan ListNumbering Scope"),
    "stretch": _part("MCID Type", {"Pg": "page"}, Type="/MCR"),
    "object": _part("Type", {"Obj": "annotation", "Pg": "page"}, Type="/OBJR"),
    "information": _part("Author CreationDate Creator ModDate Producer Subject Title"),
    "metadata": _part("Subtype Type", stream="as it is", Type="/Metadata", Subtype="/XML"),
    "preferences": _part("DisplayDocTitle"),
    "intent": _part("Info OutputConditionIdentifier S Type", {"DestOutputProfile": "profile"}, Type="/OutputIntent"),
    "profile": _part("Alternate N", stream="flate"),
    "names": _part("", {"EmbeddedFiles": "name tree"}),
    "name tree": _part("Limits", {"Names": "file", "Kids": "name tree"}, may_lack="Limits Names Kids"),
    "file": _part("AFRelationship Desc F Type UF", {"EF": "file streams"}, Type="/Filespec"),
    "file streams": _part("", {"F": "file stream", "UF": "file stream"}),
    "file stream": _part("Subtype Type", {"Params": "file parameters"}, stream="flate", Type="/EmbeddedFile"),
    "file parameters": _part("CheckSum CreationDate ModDate Size"),
    "outline": _part("Count Type", _FIRST_AND_LAST, Type="/Outlines"),
    "outline item": _part(
        "Count Title",
        {"Dest": "page", **_FIRST_AND_LAST, **_NEIGHBOURS},
        may_lack="Count First Last Next Prev",
    ),
    "pages": _part("Count Type", {"Kids": "page"}, Type="/Pages"),
    "page": _part(
        "MediaBox Rotate StructParents Tabs Type",
        {
            "Annots": "annotation",
            "Contents": "content",
            "Parent": "pages",
            "Resources": "resources",
            "Trans": "no transition",
        },
        may_lack="Annots StructParents Tabs",
        Type="/Page",
        Rotate=0,
    ),
    "no transition": _part(""),
    "content": _part("", stream="flate"),
    "resources": _part("ProcSet", {"Font": "fonts", "XObject": "pictures"}, may_lack="Font XObject"),
    "font": _part(
        "BaseFont FirstChar LastChar Name Subtype Type Widths",
        {"FontDescriptor": "font descriptor", "ToUnicode": "letters"},
        Type="/Font",
        Subtype="/TrueType",
    ),
    "letters": _part("", stream="flate"),
    "font descriptor": _part(
        "Ascent CapHeight Descent Flags FontBBox FontName ItalicAngle MissingWidth StemV Type",
        {"FontFile2": "font file"},
        Type="/FontDescriptor",
    ),
    "font file": _part("Length1", stream="flate"),
    "picture": _part(
        "BitsPerComponent ColorSpace Height Subtype Type Width",
        stream="jpeg",
        Type="/XObject",
        Subtype="/Image",
        BitsPerComponent=8,
        ColorSpace="/DeviceRGB",
    ),
    "link": _part(
        "Border Contents F Rect StructParent Subtype Type",
        {"Dest": "page"},
        may_lack="StructParent",
        Type="/Annot",
        Subtype="/Link",
    ),
    "field": _part(
        "F FT Rect StructParent Subtype T TU Type",
        {"P": "page", "V": "signature"},
        may_lack="StructParent TU",
        Type="/Annot",
        Subtype="/Widget",
        FT="/Sig",
        Rect=[0, 0, 0, 0],
    ),
    "form": _part("SigFlags", {"Fields": "field"}, SigFlags=3),
    # What stands in it, `signature` reads letter by letter.
    "signature": _part("ByteRange Contents Filter M Name SubFilter Type", Type="/Sig"),
}
# Dictionaries whose keys are names that the pages give.
_NAMED = {"fonts": "font", "pictures": "picture"}
_FILTERS: dict[str, tuple[Any, ...]] = {"flate": ("/FlateDecode",), "jpeg": ("/DCTDecode", ["/DCTDecode"])}


class _Walk:
    """The walk from the trailer to every object of a file."""

    def __init__(self, data: bytes, objects: dict[int, StrictObject], trailer: dict[str, Any]) -> None:
        self.pdf = StrictPdf(data, objects, trailer, {})
        self.tagged = "/StructTreeRoot" in self.pdf.get(trailer["/Root"])
        self._parts: dict[int, str] = {}
        self._attached: dict[int, bytes] = {}
        self._marks: dict[int, list[tuple[str, int]]] = {}
        self._unpacked = 0

    def read(self) -> StrictPdf:
        """The file, when all of it belongs where it stands."""
        pdf = self.pdf
        waiting = [("catalogue", pdf.trailer["/Root"]), ("information", pdf.trailer["/Info"])]
        while waiting:
            part, value = waiting.pop()
            waiting += self._inside(part, value)
        for number in pdf.objects:
            if number not in self._parts:
                raise _loose("unused", number)
        self._check_pages()
        self._check_structure()
        self._check_files()
        return pdf

    def _inside(self, part: str, value: Any) -> Iterator[tuple[str, Any]]:
        """The parts in a value, which is one of these, or an array of them beside plain values."""
        number = 0
        if isinstance(value, Ref):
            number = value.number
            kept = self.pdf.objects[number]
            part = _part_of(part, kept.value)
            known = self._parts.get(number)
            if known == part:
                return
            if known is not None:
                raise _loose("part", number)
            self._parts[number] = part
            self._check_stream(part, kept, number)
            value = kept.value
        elif part == "kid" and type(value) is int:
            return  # a stretch of its own page, by its number
        else:
            part = _part_of(part, value)
            # An element is an object of its own, else nothing could lead back to it.
            if part in _PARTS and (_PARTS[part].stream or (part == "element" and isinstance(value, dict))):
                raise _loose("part", 0)
        if isinstance(value, list):
            yield from ((part, one) for one in value if isinstance(one, Ref | dict | list))
            return
        if not isinstance(value, dict):
            raise _loose("part", number)
        if part in _NAMED:
            yield from ((_NAMED[part], one) for one in value.values())
            return
        form = _PARTS[part]
        wrong = (value.keys() - form.keys) | (form.keys.keys() - value.keys() - form.may_lack)
        if wrong or not all(_same(value[key], wanted) for key, wanted in form.always.items()):
            raise _loose("keys", number)
        for key, inside in form.keys.items():
            if key in value:
                if inside:
                    yield inside, value[key]
                elif not _is_plain(value[key]):
                    raise _loose("keys", number)

    def _check_stream(self, part: str, kept: StrictObject, number: int) -> None:
        packed = _PARTS[part].stream if part in _PARTS else ""
        if (kept.stream is not None) != bool(packed):
            raise _loose("stream", number)
        if kept.stream is None or packed == "as it is":
            return
        if kept.value.get("/Filter") not in _FILTERS[packed]:
            raise _loose("stream", number)
        if packed == "jpeg":
            if not is_plain_jpeg(kept.stream, kept.value["/Width"], kept.value["/Height"]):
                raise _loose("picture", number)
            return
        unpacker = zlib.decompressobj()
        content = unpacker.decompress(kept.stream, LARGEST_UNPACKED - self._unpacked)
        self._unpacked += len(content)
        if not unpacker.eof or unpacker.unused_data:
            raise _loose("stream", number)
        if part == "file stream":
            self._attached[number] = content
        elif part == "content":
            if (_TAGGED if self.tagged else _UNTAGGED).fullmatch(content) is None:
                raise _loose("drawing", number)
            self._marks[number] = [
                (f"/{mark['kind'].decode()}", int(mark["number"])) for mark in _MARKS.finditer(content) if mark["kind"]
            ]
        elif part == "font file" and not is_plain_font(content):
            raise _loose("font", number)

    def _check_pages(self) -> None:
        """That there is one list of pages, in which each stands once, and one field with one signature."""
        pdf = self.pdf
        catalogue = pdf.get(pdf.trailer["/Root"])
        root = pdf.get(catalogue["/Pages"])
        kids = root["/Kids"]
        if not _same(root["/Count"], len(kids)) or sorted(kids) != self._all("page"):
            raise _loose("pages")
        fields = pdf.get(catalogue["/AcroForm"])["/Fields"]
        if fields != self._all("field") or len(fields) != 1 or len(self._all("signature")) != 1:
            raise _loose("fields")

    def _check_structure(self) -> None:
        """That the structure says what the pages say, in their order, and leads where they lead; or that there is
        none."""
        pdf = self.pdf
        catalogue = pdf.get(pdf.trailer["/Root"])
        pages: list[Ref] = pdf.get(catalogue["/Pages"])["/Kids"]
        if not self.tagged:
            objects = [catalogue, *(pdf.get(one) for part in ("page", "link", "field") for one in self._all(part))]
            if any(one.keys() & {"/MarkInfo", "/StructParents", "/StructParent", "/Tabs"} for one in objects):
                raise _loose("keys-here")
            return
        root = catalogue["/StructTreeRoot"]
        drawn = [self._marks[pdf.get(page)["/Contents"].number] for page in pages]
        told = _Structure(pdf, pages, drawn)
        told.read(pdf.get(root)["/K"], root)
        annotations = [one for page in pages for one in pdf.get(pdf.get(page).get("/Annots", []))]
        if sorted(told.elements) != self._all("element") or sorted(told.objects) != sorted(annotations):
            raise _loose("structure", root.number)
        if any(len(stretches) != len(marks) for stretches, marks in zip(told.stretches, drawn, strict=True)):
            raise _loose("structure", root.number)
        parents: list[Any] = [part for number, stretches in enumerate(told.stretches) for part in (number, stretches)]
        for number, (one, element) in enumerate(told.objects.items(), start=len(pages)):
            if not _same(pdf.get(one)["/StructParent"], number):
                raise _loose("structure", one.number)
            parents += [number, element]
        for number, page in enumerate(pages):
            if not _same(pdf.get(page)["/StructParents"], number) or pdf.get(page)["/Tabs"] != "/S":
                raise _loose("structure", page.number)
        if not _same(pdf.get(pdf.get(root)["/ParentTree"])["/Nums"], parents):
            raise _loose("structure", root.number)

    def _all(self, part: str) -> list[Ref]:
        return sorted(Ref(number) for number, is_part in self._parts.items() if is_part == part)

    def _check_files(self) -> None:
        """That attached files are in the list by which viewers find them, each once, with one name and one content."""
        pdf = self.pdf
        catalogue = pdf.get(pdf.trailer["/Root"])
        named = list(self._named(pdf.get(catalogue["/Names"])["/EmbeddedFiles"]))
        specs = [spec for _, spec in named]
        if sorted(specs) != sorted(catalogue["/AF"]) or len(set(specs)) != len(specs):
            raise _loose("files")
        if [name for name, _ in named] != sorted({name for name, _ in named}):
            raise _loose("files")
        for name, spec in named:
            told = pdf.get(spec)
            streams = pdf.get(told["/EF"])
            if not told["/F"] == told["/UF"] == name or streams["/F"] != streams["/UF"]:
                raise _loose("files")
            pdf.files[name.decode("ascii")] = self._attached[streams["/F"].number]

    def _named(self, tree: Any) -> Iterator[tuple[bytes, Ref]]:
        node = self.pdf.get(tree)
        for kid in node.get("/Kids", ()):
            yield from self._named(kid)
        names = node.get("/Names", [])
        yield from zip(names[::2], names[1::2], strict=True)


def _part_of(part: str, value: Any) -> str:
    """Which part a value is, where it may be one of several."""
    if not isinstance(value, dict):
        return part
    if part == "annotation":
        return "field" if value.get("/Subtype") == "/Widget" else "link"
    if part in ("outline", "outline item"):
        return "outline" if "/Type" in value else "outline item"
    if part == "parent":
        return "structure" if "/Type" in value else "element"
    if part == "kid":
        return {"/MCR": "stretch", "/OBJR": "object"}.get(value.get("/Type", ""), "element")
    return part


class _Structure:
    """What the structure tells of the pages, read from its first element to its last.

    elements: all of them; stretches: by page, whose each stretch is; objects: the annotations, in the order in which
    they are told, and whose each is.
    """

    def __init__(self, pdf: StrictPdf, pages: list[Ref], drawn: list[list[tuple[str, int]]]) -> None:
        self.elements: set[Ref] = set()
        self.stretches: list[list[Ref]] = [[] for _ in pages]
        self.objects: dict[Ref, Ref] = {}
        self._pdf = pdf
        self._page = {page: number for number, page in enumerate(pages)}
        self._drawn = drawn
        self._last = 0

    def read(self, element: Ref, parent: Ref) -> None:
        """Read an element and what it holds. `Loose` where it says something else than the pages, or in another
        order."""
        told = self._pdf.get(element)
        kind = told["/S"]
        if element in self.elements or told["/P"] != parent or kind not in _KINDS or not _attributes_fit(told):
            raise _loose("structure", element.number)
        self.elements.add(element)
        kids = told.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            if isinstance(kid, Ref):
                self.read(kid, element)
            elif isinstance(kid, dict) and kid["/Type"] == "/OBJR":
                if kid["/Obj"] in self.objects:
                    raise _loose("structure", element.number)
                self.objects[kid["/Obj"]] = element
            else:
                page, number = (kid["/Pg"], kid["/MCID"]) if isinstance(kid, dict) else (told["/Pg"], kid)
                self._stretch(element, kind, self._page[page], number)

    def _stretch(self, element: Ref, kind: str, page: int, number: Any) -> None:
        """The next stretch that is read has to be the next one that is drawn, and to be what it says there."""
        before = self.stretches[page]
        next_drawn = self._drawn[page][len(before) : len(before) + 1]
        if page < self._last or next_drawn != [(kind, number)] or not _same(number, len(before)):
            raise _loose("structure", element.number)
        self._last = page
        before.append(element)


def _attributes_fit(element: dict[str, Any]) -> bool:
    """Whether no more is told of an element than of ours: what a figure shows, a cell's place, a list's labels."""
    if "/Alt" in element and element["/S"] != "/Figure":
        return False
    told = dict(element.get("/A", {}))
    if element["/S"] == "/Figure" and told:
        # Where it stands; what reads the page aloud, or sets it anew, shows the figure from there.
        box = told.pop("/BBox")
        return told == {"/O": "/Layout"} and len(box) == 4 and all(type(edge) in (int, float) for edge in box)
    if element["/S"] == "/L":
        return told in ({"/O": "/List", "/ListNumbering": kind} for kind in ("/Decimal", "/None"))
    cell = element["/S"] in ("/TH", "/TD")
    across, scope = told.pop("/ColSpan", 2), told.pop("/Scope", "/Row")
    return told in ({}, {"/O": "/Table"} if cell else {}) and type(across) is int and scope in ("/Row", "/Column")


def _same(one: Any, other: Any) -> bool:
    """Whether two plain values are the same, and of one kind: readers do not agree on what "/Rotate false" says."""
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return type(one) is type(other) and bool(one == other)


def _is_plain(value: Any) -> bool:
    """Whether there is no other object and no dictionary in a value."""
    if isinstance(value, list):
        return all(map(_is_plain, value))
    return not isinstance(value, Ref | dict)


# --- letters ------------------------------------------------------------------------------------------------------


def is_plain_font(data: bytes) -> bool:
    """Whether a TrueType font has each table once, and one table only that says which code is which letter: of two, one
    viewer takes the first and another the last (Apple TrueType Reference Manual, "cmap"; ISO 32000-1, 9.6.6.4)."""
    count = int.from_bytes(data[4:6], "big")
    tables: dict[bytes, bytes] = {}
    for at in range(12, 12 + 16 * count, 16):
        tag, begin, size = data[at : at + 4], data[at + 8 : at + 12], data[at + 12 : at + 16]
        start = int.from_bytes(begin, "big")
        if tag in tables:
            return False
        tables[tag] = data[start : start + int.from_bytes(size, "big")]
    codes = tables.get(b"cmap", b"")
    # Version 0, one table: Macintosh, Roman, from byte 12 on, in the form 6.
    return codes[:14] == bytes.fromhex("0000 0001 0001 0000 0000 000c 0006".replace(" ", ""))


# --- pictures -----------------------------------------------------------------------------------------------------

# ISO/IEC 10918-1, table B.1, and JFIF: what one baseline picture needs before its one scan.
_SOI, _EOI, _SOF0, _SOS, _STUFFED = 0xD8, 0xD9, 0xC0, 0xDA, re.compile(rb"\xff[^\x00\xd0-\xd7]")
_TABLES = {0xE0, 0xDB, 0xC4}  # JFIF's own, quantization, Huffman


def is_plain_jpeg(data: bytes, width: int, height: int) -> bool:
    """Whether `data` is one baseline JPEG of this size in three colours and nothing else, which all decoders read the
    same: no second picture before, in or behind it, no remarks, no thumbnail.

    >>> is_plain_jpeg(b"\\xff\\xd8\\xff\\xd9", 1, 1)
    False
    """
    if data[:2] != bytes((0xFF, _SOI)) or data[-2:] != bytes((0xFF, _EOI)):
        return False
    at, frames = 2, 0
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            return False
        marker, size = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        body = data[at + 4 : at + 2 + size]
        if size < 2 or len(body) != size - 2:
            return False
        at += 2 + size
        if marker == _SOF0:
            frames += 1
            says = (body[0], int.from_bytes(body[1:3], "big"), int.from_bytes(body[3:5], "big"), body[5])
            if says != (8, height, width, 3):
                return False
        elif marker == _SOS:
            # Three components in one scan, and then nothing but the picture's end.
            ends = _STUFFED.search(data, at)
            return frames == 1 and body[:1] == b"\x03" and ends is not None and ends.start() == len(data) - 2
        elif marker not in _TABLES or (marker == 0xE0 and (size != 16 or body[:5] != b"JFIF\0")):
            return False
    return False
