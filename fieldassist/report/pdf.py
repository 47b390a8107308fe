"""What turns drawn pages into a document that can be filed and read aloud: structure, attached files, dates, metadata,
meaning of the colours, and a place for a signature.

The file claims to be PDF/A-3 of level A, which takes in level U (ISO 19005-3:2012), and PDF/UA-1 (ISO 14289-1:2014);
tests/report/test_archive.py has a validator say so.
"""

from __future__ import annotations

import hashlib
import io
import re
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache
from xml.sax.saxutils import escape

import pikepdf
from PIL import ImageCms

from fieldassist.record.manifest import EVENTS, MANIFEST, SEQUENCE_CSV, SEQUENCE_JSON
from fieldassist.report import fonts
from fieldassist.report.structure import write_structure
from fieldassist.report.tags import Linked, Tag
from fieldassist.trade.message import Message, message

_KINDS = {
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".png": "image/png",
    ".heic": "image/heic",
    ".flac": "audio/flac",
    ".wav": "audio/wav",
    ".ogg": "audio/ogg",
}
_PACKED = frozenset(_KINDS.values()) - {"audio/wav"}
# What is attached besides photos and sounds: how it relates to the pages (ISO 19005-3, 6.8), its kind, what it is.
_WHAT = {
    EVENTS: ("/Source", "application/x-ndjson", message("page-file-events")),
    MANIFEST: ("/Data", "application/json", message("page-file-manifest")),
    SEQUENCE_CSV: ("/Data", "text/csv", message("page-file-sequence")),
    SEQUENCE_JSON: ("/Data", "application/json", message("page-file-sequence")),
}
_ATTACHMENT = message("page-file-attachment")


# What a signature of ours and a certificate with a long name take, several times over.
ROOM_FOR_SIGNATURE = 4096
# Ten digits: no file is longer, and the numbers that take their place are not either.
_NOT_YET = 9_999_999_999


@dataclass(frozen=True, slots=True)
class SignatureField:
    """A signature that the document is to bear: by whom, and when it is made."""

    name: str
    when: datetime


def finish(
    pages: bytes,
    structure: Tag,
    files: Mapping[str, bytes],
    when: datetime,
    words: Callable[[Message], str],
    signature: SignatureField | None = None,
) -> bytes:
    """The document made of `pages`, a PDF that was just drawn.

    Parameters: structure, the document's element, whose stretches and annotations are those of the pages; files, to be
    attached under their names; when, the date that the document bears; words, in which attached files and the signature
    are told of; signature, for which room is left, to be filled by `with_signature`.
    The same pages, files, date, words and signature give the same bytes, with the same libraries.
    """
    with pikepdf.open(io.BytesIO(pages)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and isinstance(thing.get("/ToUnicode"), pikepdf.Stream):
                thing.ToUnicode.write(_letters_in_use(thing.ToUnicode.read_bytes()))
            elif isinstance(thing, pikepdf.Stream) and thing.get("/Filter") == pikepdf.Name.FlateDecode:
                # All is packed here, by the one library, so that the bytes do not hang on which zlib Python was built
                # with.
                thing.write(thing.read_bytes())
        _attach(pdf, files, when, words)
        if signature is not None:
            structure = _leave_room(pdf, signature, structure, words(message("page-signature-field")))
        write_structure(pdf, structure)
        pdf.docinfo["/CreationDate"] = pdf.docinfo["/ModDate"] = pikepdf.String(_pdf_date(when))
        # What the pages' library puts there of its own accord, and the metadata cannot say.
        for empty in ("/Trapped", "/Keywords"):
            if empty in pdf.docinfo:
                del pdf.docinfo[empty]
        about = {str(key): str(value) for key, value in pdf.docinfo.items()}
        pdf.Root.Metadata = pdf.make_stream(
            _metadata(about, when), Type=pikepdf.Name.Metadata, Subtype=pikepdf.Name.XML
        )
        profile = pdf.make_stream(srgb_profile(), N=3, Alternate=pikepdf.Name.DeviceRGB)
        pdf.Root.OutputIntents = pikepdf.Array(
            [
                pikepdf.Dictionary(
                    Type=pikepdf.Name.OutputIntent,
                    S=pikepdf.Name.GTS_PDFA1,
                    OutputConditionIdentifier=pikepdf.String("sRGB IEC61966-2.1"),
                    Info=pikepdf.String("sRGB IEC61966-2.1"),
                    DestOutputProfile=profile,
                )
            ]
        )
        pdf.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
        paper = io.BytesIO()
        pdf.save(
            paper,
            min_version="1.7",
            deterministic_id=True,
            fix_metadata_version=False,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
        )
    return paper.getvalue()


def _attach(pdf: pikepdf.Pdf, files: Mapping[str, bytes], when: datetime, words: Callable[[Message], str]) -> None:
    specs = []
    for name, data in files.items():
        known = _KINDS.get(name[name.rfind(".") :], "application/octet-stream")
        relation, kind, about = _WHAT.get(name, ("/Supplement", known, _ATTACHMENT))
        spec = pikepdf.AttachedFileSpec(
            pdf,
            data,
            description=words(about),
            filename=name,
            mime_type=kind,
            creation_date=_pdf_date(when),
            mod_date=_pdf_date(when),
            relationship=pikepdf.Name(relation),
        )
        if kind in _PACKED:
            # What is packed already only grows, and slowly, when it is packed again.
            spec.obj.EF.F.write(b"".join(_as_it_is(data)), filter=pikepdf.Name.FlateDecode)
        pdf.attachments[name] = spec
        specs.append(spec.obj)
    pdf.Root.AF = pikepdf.Array(specs)


# What one stored block holds (RFC 1951, 3.2.4).
_BLOCK = 65_535


def _as_it_is(data: bytes) -> Iterator[bytes]:
    """A stream in the form of packed ones that holds the data as it is (RFC 1950; RFC 1951, 3.2.4: stored blocks).

    >>> zlib.decompress(b"".join(_as_it_is(bytes(70_000)))) == bytes(70_000)
    True
    """
    yield b"\x78\x01"
    for at in range(0, max(1, len(data)), _BLOCK):
        size = min(_BLOCK, len(data) - at)
        last = at + size == len(data)
        yield bytes([last]) + size.to_bytes(2, "little") + (size ^ 0xFFFF).to_bytes(2, "little")
        yield data[at : at + size]
    yield zlib.adler32(data).to_bytes(4, "big")


def _leave_room(pdf: pikepdf.Pdf, signature: SignatureField, structure: Tag, about: str) -> Tag:
    """A signature field without a place on the pages (ISO 32000-1, 12.7.4.5 and 12.8.1), its signature still to come.

    about: what the field is, for whoever cannot see that it has no place. Gives the structure with the field behind all
    else.

    It is the same object as its annotation, which has no appearance since its rectangle is empty (ISO 19005-3, 6.3.3)
    and is to be printed (6.3.2). SigFlags: there are signatures, and what is appended breaks none of them.
    """
    value = pikepdf.Dictionary(
        Type=pikepdf.Name.Sig,
        Filter=pikepdf.Name("/Adobe.PPKLite"),
        SubFilter=pikepdf.Name("/ETSI.CAdES.detached"),
        ByteRange=pikepdf.Array([0, _NOT_YET, _NOT_YET, _NOT_YET]),
        Contents=pikepdf.String(bytes(ROOM_FOR_SIGNATURE)),
        Name=pikepdf.String(signature.name),
        M=pikepdf.String(_pdf_date(signature.when)),
    )
    page = pdf.pages[0].obj
    field = pdf.make_indirect(
        pikepdf.Dictionary(
            Type=pikepdf.Name.Annot,
            Subtype=pikepdf.Name.Widget,
            FT=pikepdf.Name.Sig,
            T=pikepdf.String("signature"),
            TU=pikepdf.String(about),
            F=132,  # printed, locked
            Rect=pikepdf.Array([0, 0, 0, 0]),
            P=page,
            V=pdf.make_indirect(value),
        )
    )
    page.Annots = pikepdf.Array([*page.get("/Annots", ()), field])
    pdf.Root.AcroForm = pikepdf.Dictionary(Fields=pikepdf.Array([field]), SigFlags=3)
    form = Tag("Form", holds=[Linked(0, len(page.Annots) - 1)])
    return replace(structure, holds=[*structure.holds, form])


def with_signature(document: bytes, sign: Callable[[bytes], bytes]) -> bytes:
    """The document, in which room was left, with the signature over all of it but the signature itself.

    sign: gives the signature, in DER, of the bytes with the SHA-256 that it is given. ValueError where no room was
    left, or there is less than the signature takes.
    """
    room = b"/Contents <" + b"0" * (2 * ROOM_FOR_SIGNATURE) + b">"
    ranges = b"/ByteRange [ 0" + b" %d" % _NOT_YET * 3 + b" ]"
    if document.count(room) != 1 or document.count(ranges) != 1:
        raise ValueError("no room was left for a signature")
    start = document.index(room) + len(b"/Contents ")
    end = start + 2 * ROOM_FOR_SIGNATURE + len(b"<>")
    told = b"/ByteRange [ 0 %d %d %d ]" % (start, end, len(document) - end)
    document = document.replace(ranges, told.ljust(len(ranges)))
    front, back = document[:start], document[end:]
    signature = sign(hashlib.sha256(front + back).digest())
    if len(signature) > ROOM_FOR_SIGNATURE:
        raise ValueError("the signature takes more room than was left")
    return front + b"<" + signature.hex().encode().ljust(2 * ROOM_FOR_SIGNATURE, b"0") + b">" + back


_METADATA = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/">
<xmp:CreatorTool>{creator}</xmp:CreatorTool>
<xmp:CreateDate>{when}</xmp:CreateDate>
<xmp:ModifyDate>{when}</xmp:ModifyDate>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
<pdf:Producer>{producer}</pdf:Producer>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>A</pdfaid:conformance>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
<pdfuaid:part>1</pdfuaid:part>
</rdf:Description>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" \
xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification schema</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of ISO 14289 to which the file conforms</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>
"""


def _metadata(about: Mapping[str, str], when: datetime) -> bytes:
    """The same as the document's information dictionary, as XMP (ISO 16684-1) in the plainest form of RDF."""

    def said(key: str) -> str:
        return escape(fonts.without_controls(about.get(key, "")))

    return _METADATA.format(
        title=said("/Title"),
        author=said("/Author"),
        subject=said("/Subject"),
        creator=said("/Creator"),
        producer=said("/Producer"),
        when=when.isoformat(timespec="seconds"),
    ).encode("utf-8")


def _letters_in_use(table: bytes) -> bytes:
    """A font's table of Unicode values without the codes that stand for none.

    The library gives those the value 0, which ISO 19005-3, 6.2.11.7.2 forbids. It also puts more than 100 into one
    block, and writes letters beyond the first 65,536 in no form that ISO 32000-1, 9.10.3 knows.

    >>> _letters_in_use(b"2 beginbfchar\\n<01> <0000>\\n<02> <1D538>\\nendbfchar\\n").decode().split("\\n")
    ['1 beginbfchar', '<02> <D835DD38>', 'endbfchar', '']
    """
    pairs = [(code, int(value, 16)) for code, value in re.findall(rb"<(\w\w)> <(\w{4,6})>", table)]
    letters = [b"<%s> <%s>" % (c, chr(v).encode("utf-16-be").hex().upper().encode()) for c, v in pairs if v]
    blocks = b"".join(
        b"%d beginbfchar\n%s\nendbfchar\n" % (len(some), b"\n".join(some))
        for some in (letters[at : at + 100] for at in range(0, len(letters), 100))
    )
    return re.sub(rb"\d+ beginbfchar.*endbfchar\n", lambda _: blocks, table, flags=re.DOTALL)


def _pdf_date(when: datetime) -> str:
    """As ISO 32000-1, 7.9.4 writes it."""
    offset = when.strftime("%z")
    return when.strftime("D:%Y%m%d%H%M%S") + (f"{offset[:3]}'{offset[3:5]}'" if offset else "")


@cache
def srgb_profile() -> bytes:
    """An ICC profile of sRGB (IEC 61966-2-1), free to use, the same on every machine."""
    made = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # ICC.1:2004-10, 7.2: date and time of creation, primary platform, profile ID tell of this machine, not of sRGB. The
    # version is set to 4.2, the latest that ISO 32000-1 (8.6.5.5) knows; nothing in the profile is newer.
    made[8:12] = bytes((4, 0x20, 0, 0))
    made[24:36] = bytes((7, 208, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0))
    made[40:44] = bytes(4)
    made[84:100] = bytes(16)
    return bytes(made)
