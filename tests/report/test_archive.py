"""The daily log as a document to be filed: rules of ISO 19005-3:2012 (PDF/A-3), levels B and U, by clause.

The PDF does not claim to be PDF/A: no validator of part 3 was at hand. These are the rules that can be looked at here,
with other libraries than those that wrote the file (pypdf, FontTools, FreeType by way of Pillow).
"""

from __future__ import annotations

import hashlib
import io
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from PIL import ImageCms
from pypdf import PdfReader
from pypdf.generic import ContentStream, DictionaryObject, IndirectObject, StreamObject

from fieldassist.report.pdf import srgb_profile


@pytest.fixture(scope="module")
def raw(handed_over_pdf: Path) -> bytes:
    return handed_over_pdf.read_bytes()


@pytest.fixture(scope="module")
def pdf(handed_over_pdf: Path) -> PdfReader:
    return PdfReader(handed_over_pdf)


@pytest.fixture(scope="module")
def objects(pdf: PdfReader) -> list[Any]:
    """Every object of the file."""
    return [pdf.get_object(IndirectObject(number, 0, pdf)) for number in range(1, int(pdf.trailer["/Size"]))]


@pytest.fixture(scope="module")
def fonts(pdf: PdfReader) -> dict[str, Any]:
    """The fonts that pages use, by name."""
    found = {}
    for page in pdf.pages:
        for font in page["/Resources"]["/Font"].values():
            found[font["/BaseFont"]] = font
    return found


def dictionaries(objects: list[Any]) -> Iterator[DictionaryObject]:
    waiting = list(objects)
    while waiting:
        one = waiting.pop()
        if isinstance(one, DictionaryObject):
            yield one
            waiting += [one.raw_get(key) for key in one]
        elif isinstance(one, list):
            waiting += one


# --- 6.1 the file -------------------------------------------------------------------------------------------------


def test_6_1_2_the_header_is_followed_by_a_comment_of_four_high_bytes(raw: bytes) -> None:
    assert re.match(rb"%PDF-1\.7\n%[\x80-\xff]{4}", raw)


def test_6_1_3_the_trailer_has_an_identifier_and_no_encryption_and_nothing_follows_its_end(
    raw: bytes, pdf: PdfReader
) -> None:
    assert len(pdf.trailer["/ID"]) == 2
    assert "/Encrypt" not in pdf.trailer
    assert raw.endswith(b"%%EOF\n")


def test_6_1_7_streams_lie_in_the_file_and_no_filter_is_of_the_forbidden_ones(objects: list[Any]) -> None:
    used = set()
    for stream in (o for o in objects if isinstance(o, StreamObject)):
        assert not {"/F", "/FFilter", "/FDecodeParms"} & stream.keys()
        filters = stream.get("/Filter", [])
        used |= set(filters if isinstance(filters, list) else [filters])
    assert used == {"/FlateDecode", "/DCTDecode"}


def test_6_1_13_the_limits_of_the_architecture_are_kept(objects: list[Any]) -> None:
    assert len(objects) <= 8_388_607
    for one in dictionaries(objects):
        for key, value in one.items():
            assert len(key.encode()) - 1 <= 127
            if isinstance(value, (str, bytes)):
                assert len(value) <= 32_767


def test_the_file_is_without_fault_by_another_reader(handed_over_pdf: Path) -> None:
    with pikepdf.open(handed_over_pdf) as opened:
        assert opened.check_pdf_syntax() == []


# --- 6.2 graphics -------------------------------------------------------------------------------------------------


def test_6_2_3_one_output_intent_holds_a_profile_of_srgb(pdf: PdfReader) -> None:
    (intent,) = pdf.root_object["/OutputIntents"]
    assert intent["/S"] == "/GTS_PDFA1"
    profile = intent["/DestOutputProfile"]
    assert profile["/N"] == 3
    read = ImageCms.ImageCmsProfile(io.BytesIO(profile.get_data()))
    assert read.profile.xcolor_space == "RGB "
    # ITU-R BT.709 and IEC 61966-2-1: the primaries of sRGB in x and y.
    for (x, y, _), wanted in zip(read.profile.chromaticity, ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)), strict=True):
        assert (x, y) == pytest.approx(wanted, abs=2e-3)


def test_the_profile_bears_no_mark_of_the_machine_and_may_be_used_freely() -> None:
    # ICC.1:2004-10, table 8: size, version 4.2, class display, date, signature, platform, ID.
    profile = srgb_profile()
    assert int.from_bytes(profile[:4], "big") == len(profile)
    assert profile[8:12] == bytes((4, 0x20, 0, 0))
    assert profile[12:16] == b"mntr"
    assert profile[24:36] == bytes.fromhex("07d000010001000000000000")
    assert profile[36:40] == b"acsp"
    assert profile[40:44] == bytes(4)
    assert profile[84:100] == bytes(16)
    assert "No copyright, use freely".encode("utf-16-be") in profile


def test_6_2_4_colours_are_rgb_or_grey_by_the_operators_of_every_page(pdf: PdfReader) -> None:
    used = set()
    for page in pdf.pages:
        used |= {operator for _, operator in ContentStream(page.get_contents(), pdf).operations}
        for picture in page["/Resources"].get("/XObject", {}).values():
            assert picture["/ColorSpace"] == "/DeviceRGB"
            # 6.2.8: no alternate pictures, no smoothing.
            assert not {"/Alternates", "/OPI", "/SMask", "/Mask"} & picture.keys()
            assert not picture.get("/Interpolate", False)
    assert {b"rg", b"RG", b"Tj", b"Do"} <= used
    assert not {b"k", b"K", b"cs", b"CS", b"sc", b"SC", b"scn", b"SCN", b"sh", b"ri", b"i", b"BI"} & used


def test_6_2_5_and_6_2_10_nothing_is_drawn_through_anything(objects: list[Any]) -> None:
    for one in dictionaries(objects):
        assert one.get("/Type") != "/ExtGState"
        assert "/Group" not in one
        assert "/SMask" not in one


def test_6_2_11_4_every_typeface_is_embedded(fonts: dict[str, Any]) -> None:
    assert len(fonts) >= 3
    for name, font in fonts.items():
        assert re.match(r"/[A-Z]{6}\+DejaVu", name)
        assert font["/Subtype"] == "/TrueType"
        assert "/FontFile2" in font["/FontDescriptor"]


def test_6_2_11_5_widths_in_the_dictionary_are_those_of_the_embedded_typeface(fonts: dict[str, Any]) -> None:
    compared = 0
    for name, font in fonts.items():
        face = TTFont(io.BytesIO(font["/FontDescriptor"]["/FontFile2"].get_data()))
        glyphs = next(t for t in face["cmap"].tables if t.platformID in (1, 3)).cmap
        unit = face["head"].unitsPerEm
        for code, said in enumerate(font["/Widths"], start=int(font["/FirstChar"])):
            if code not in glyphs:
                continue
            advance = face["hmtx"][glyphs[code]][0]
            # The standard bears with a thousandth of the em's width.
            assert float(said) == pytest.approx(advance * 1000 / unit, abs=1.0), f"{name}, {code}"
            compared += 1
    assert compared > 100


def test_6_2_11_6_typefaces_are_symbolic_and_have_no_encoding_of_their_own(fonts: dict[str, Any]) -> None:
    for font in fonts.values():
        assert int(font["/FontDescriptor"]["/Flags"]) & 4
        assert "/Encoding" not in font
        face = TTFont(io.BytesIO(font["/FontDescriptor"]["/FontFile2"].get_data()))
        assert len(face["cmap"].tables) == 1


def test_6_2_11_7_2_every_letter_has_its_unicode_value(fonts: dict[str, Any]) -> None:
    for font in fonts.values():
        table = font["/ToUnicode"].get_data().decode("ascii")
        values = re.findall(r"<([0-9A-Fa-f]{4})>", table)
        assert values
        assert not {"0000", "FEFF", "FFFE", "feff", "fffe"} & set(values)


def test_6_2_11_8_no_text_shows_a_missing_letter(pdf: PdfReader, fonts: dict[str, Any]) -> None:
    shown: dict[str, set[int]] = {}
    for page in pdf.pages:
        face = ""
        for operands, operator in ContentStream(page.get_contents(), pdf).operations:
            if operator == b"Tf":
                face = page["/Resources"]["/Font"][operands[0]]["/BaseFont"]
            elif operator == b"Tj":
                text = operands[0]
                shown.setdefault(face, set()).update(
                    text if isinstance(text, bytes) else text.original_bytes  # as it stands in the file
                )
    for name, codes in shown.items():
        embedded = TTFont(io.BytesIO(fonts[name]["/FontDescriptor"]["/FontFile2"].get_data()))
        glyphs = next(t for t in embedded["cmap"].tables if t.platformID in (1, 3)).cmap
        assert all(glyphs.get(code, ".notdef") != ".notdef" for code in codes), name


# --- 6.3 to 6.9 ---------------------------------------------------------------------------------------------------


def test_6_3_annotations_are_links_that_are_printed_and_lead_into_the_file(pdf: PdfReader) -> None:
    links = [a.get_object() for page in pdf.pages for a in page.get("/Annots", [])]
    assert len(links) >= 8
    for link in links:
        assert link["/Subtype"] == "/Link"
        # ISO 32000-1, table 165: bit 3 is Print; Invisible, Hidden, NoView and ToggleNoView are not set.
        assert int(link["/F"]) == 4
        assert "/A" not in link
        assert isinstance(link["/Dest"][0].get_object(), DictionaryObject)


def test_6_4_to_6_6_there_are_no_forms_scripts_or_actions(pdf: PdfReader, objects: list[Any]) -> None:
    assert not {"/AcroForm", "/OpenAction", "/AA", "/OCProperties", "/Requirements", "/Collection"} & (
        pdf.root_object.keys()
    )
    for one in dictionaries(objects):
        assert not {"/AA", "/JS", "/JavaScript", "/PresSteps", "/Perms"} & one.keys()


def test_6_6_2_metadata_are_plain_xmp_and_say_what_the_information_dictionary_says(
    pdf: PdfReader, handed_over: Any
) -> None:
    stream = pdf.root_object["/Metadata"]
    assert (stream["/Type"], stream["/Subtype"]) == ("/Metadata", "/XML")
    assert "/Filter" not in stream
    packet = stream.get_data().decode("utf-8")
    assert packet.startswith('<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>')
    assert packet.rstrip().endswith('<?xpacket end="r"?>')
    tree = ET.fromstring(packet)
    spaces = {
        "dc": "http://purl.org/dc/elements/1.1/",
        "pdf": "http://ns.adobe.com/pdf/1.3/",
        "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
        "xmp": "http://ns.adobe.com/xap/1.0/",
    }
    info = pdf.metadata
    assert info is not None
    # ISO 19005-3, table 2 of its first part's kind: which entry of the one stands for which of the other.
    for path, said in (
        ("dc:title/rdf:Alt/rdf:li", info.title),
        ("dc:creator/rdf:Seq/rdf:li", info.author),
        ("dc:description/rdf:Alt/rdf:li", info.subject),
        ("xmp:CreatorTool", info.creator),
        ("pdf:Producer", info.producer),
        ("xmp:CreateDate", handed_over.site.events[-1].at.wall),
        ("xmp:ModifyDate", handed_over.site.events[-1].at.wall),
    ):
        assert tree.findtext(f".//{path}", namespaces=spaces) == said, path


def test_no_claim_to_be_pdf_a_is_made_while_no_validator_has_said_so(raw: bytes) -> None:
    assert b"pdfaid" not in raw


def test_6_8_attached_files_have_both_names_a_kind_a_size_and_a_relationship(pdf: PdfReader, handed_over: Any) -> None:
    specs = [spec.get_object() for spec in pdf.root_object["/AF"]]
    relations = {}
    for spec in specs:
        assert spec["/Type"] == "/Filespec"
        assert spec["/F"] == spec["/UF"]
        embedded = spec["/EF"]["/F"]
        assert embedded["/Type"] == "/EmbeddedFile"
        assert re.fullmatch(r"/[a-z]+/[a-z0-9.+-]+", embedded["/Subtype"])
        data = embedded.get_data()
        assert embedded["/Params"]["/Size"] == len(data)
        # ISO 32000-1, table 46: the MD5 of the bytes, for finding a copying error, not for trust.
        assert _as_bytes(embedded["/Params"]["/CheckSum"]) == hashlib.md5(data).digest()
        assert "/ModDate" in embedded["/Params"]
        relations[str(spec["/UF"])] = str(spec["/AFRelationship"])
    assert relations.pop("events.jsonl") == "/Source"
    assert relations.pop("manifest.json") == "/Data"
    assert set(relations.values()) == {"/Supplement"}
    assert relations.keys() == {f"attached/{name}" for name in handed_over.site.files}


def test_the_language_of_the_text_is_told_and_the_title_is_shown(pdf: PdfReader) -> None:
    # ISO 32000-1, 14.9.2 and 12.2.
    assert pdf.root_object["/Lang"] == "en"
    assert pdf.root_object["/ViewerPreferences"]["/DisplayDocTitle"] is not None
    assert bool(pdf.root_object["/ViewerPreferences"]["/DisplayDocTitle"])


def _as_bytes(text: Any) -> bytes:
    return text if isinstance(text, bytes) else text.original_bytes
