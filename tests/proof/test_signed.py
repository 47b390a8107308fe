"""A signed PDF is believed in its one form only, whoever crafted another: a forger without the key, or the signer."""

from __future__ import annotations

import hashlib
import io
import re
import shutil
import subprocess
import zlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pikepdf
import pytest
from PIL import Image
from pypdf import PdfReader

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.proof.examine import examine
from fieldassist.proof.known import Known
from fieldassist.proof.signature import read_signed
from fieldassist.proof.strict import Loose, is_plain_jpeg, read_strict
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Judgment
from fieldassist.record import attachments
from fieldassist.record.bundle import pack
from fieldassist.record.cms import NoSuchSignature, read_signature, sign_hash
from fieldassist.record.keys import SigningKey, certificate_hash
from fieldassist.record.log import DayLog
from fieldassist.report import daily, sequence
from fieldassist.report.daily import print_pages, record_of, write_daily_pdf
from fieldassist.report.grid import RUNNING
from fieldassist.report.pdf import SignatureField, with_signature
from fieldassist.report.signed import current_signed_pages, sign_pages, signed_pages_of
from fieldassist.trade.quantities import Units
from tests.proof.conftest import SignedDay
from tests.proof.test_verify import begin, jpeg, photo
from tests.small_day import EDWIN_SIGNS, asked, begun, seal

# Another person's key under the same name, and a certificate that looks the same.
FORGER = SigningKey("edwin", Role.FOREMAN, b"\x02" * 32).with_certificate(datetime(2026, 3, 1, tzinfo=UTC))


def checked(path: Path, tmp_path: Path) -> Judgment:
    scratch = tmp_path / "scratch"
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    return examine(path, Known(EDWIN_SIGNS.public_key), scratch)


def judged(data: bytes, tmp_path: Path) -> Judgment:
    (tmp_path / "forged.pdf").write_bytes(data)
    return checked(tmp_path / "forged.pdf", tmp_path)


def said(verdict: Judgment) -> str:
    words = Words()
    return "\n".join(map(words, verdict.told))


def by_edwin(document: bytes) -> bytes:
    """Signed by the good key, as its holder can."""
    return with_signature(document, lambda digest: sign_hash(digest, EDWIN_SIGNS))


# --- what is good -------------------------------------------------------------------------------------------------


def test_a_signed_file_is_vouched_for_by_whoever_sealed_and_is_not_printed_again(
    signed: SignedDay, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Another version prints otherwise: a word, a margin.
    monkeypatch.setattr("fieldassist.report.daily.print_pages", None)
    verdict = checked(signed.pdf, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (WHOLE, "signed"), said(verdict)
    by = {"name": "edwin", "role": "foreman", "certificate": certificate_hash(EDWIN_SIGNS.certificate)}
    assert verdict.facts["signed_pages"] == {**by, "at": "D:20260317070900+01'00'"}


def test_a_later_layout_still_finds_the_signed_file_good_and_calls_the_copy_of_another_version_open(
    signed: SignedDay, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldassist.report.grid.FOOT", RUNNING)
    monkeypatch.setattr("fieldassist.proof.pages.__version__", "9.0")
    assert checked(signed.pdf, tmp_path).exit_code == WHOLE
    verdict = checked(signed.copy, tmp_path)
    assert (verdict.exit_code, verdict.verdict.code) == (UNSEALED, "proof-pages-open")
    assert "Check the pages with fieldassist 0.2.0" in said(verdict)


def test_a_copy_says_so_on_each_page_and_is_verified_by_its_reprint(signed: SignedDay, tmp_path: Path) -> None:
    verdict = checked(signed.copy, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (WHOLE, "same bytes")
    for path, marked in ((signed.copy, True), (signed.pdf, False)):
        pages = PdfReader(path).pages
        assert [("copy of the signed file" in page.extract_text()) for page in pages] == [marked] * len(pages)


def test_other_programs_find_the_signature_good_and_over_the_whole_file(signed: SignedDay, tmp_path: Path) -> None:
    from asn1crypto.x509 import Certificate
    from pyhanko.pdf_utils.reader import PdfFileReader
    from pyhanko.sign.validation import validate_pdf_signature
    from pyhanko.sign.validation.status import SignatureCoverageLevel
    from pyhanko_certvalidator import ValidationContext

    told = subprocess.run(["pdfsig", signed.pdf], capture_output=True, text=True, check=True).stdout
    for line in ("Common Name: edwin", "ETSI.CAdES.detached", "Total document signed", "Signature is Valid."):
        assert line in told
    with signed.pdf.open("rb") as file:
        (found,) = PdfFileReader(file).embedded_signatures
        trusted = ValidationContext(
            trust_roots=[Certificate.load(EDWIN_SIGNS.certificate)], moment=datetime(2026, 3, 18, tzinfo=UTC)
        )
        status = validate_pdf_signature(found, trusted)
        assert status.intact
        assert status.valid
        assert status.trusted
        assert found.evaluate_signature_coverage() is SignatureCoverageLevel.ENTIRE_FILE
    data = signed.pdf.read_bytes()
    start, end = re.search(rb"/Contents (<[0-9a-f]+>) /Filter /Adobe", data).span(1)  # type: ignore[union-attr]
    cms = bytes.fromhex(data[start + 1 : end - 1].decode())
    (tmp_path / "signature.der").write_bytes(cms[: 4 + int.from_bytes(cms[2:4], "big")])
    (tmp_path / "covered").write_bytes(data[:start] + data[end:])
    (tmp_path / "edwin.der").write_bytes(EDWIN_SIGNS.certificate)
    for command in (
        "openssl x509 -inform DER -in edwin.der -out edwin.pem",
        "openssl cms -verify -cades -binary -inform DER -in signature.der -content covered -out /dev/null "
        f"-CAfile edwin.pem -purpose any -attime {int(datetime(2026, 3, 18, tzinfo=UTC).timestamp())}",
    ):
        done = subprocess.run(command.split(), cwd=tmp_path, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_day_with_many_photos_and_strange_letters_is_in_the_one_form(units: Units, tmp_path: Path) -> None:
    # More files than one leaf of a list of names takes in the library that writes it, and letters beyond ASCII.
    with DayLog.create(tmp_path / "day.db") as log:
        begun(log, site="Žofín Quay (north) \\ Łąkowa")
        asked(log, cmd.SpeakAs(name="edwin"), cmd.StartArea(area="hall floor"))
        for number in range(35):
            file = attachments.keep(log.path, jpeg(Image.new("RGB", (8 + number, 8), (200, number, 0))), ".jpg")
            asked(log, cmd.AttachPhoto(file=file.file, sha256=file.sha256))
        seal(log, EDWIN_SIGNS)
        made = sign_pages(log, EDWIN_SIGNS, log.events[-1].at, units=units)
    assert len(read_signed(made.path.read_bytes()).files) == 39


def _as_before_structure(signed: SignedDay) -> bytes:
    """The file that a version made which wrote no structure, before it was signed."""
    with pikepdf.open(io.BytesIO(signed.unsigned)) as pdf:
        del pdf.Root.StructTreeRoot, pdf.Root.MarkInfo
        for page in pdf.pages:
            drawn = re.sub(rb"(/Artifact BMC|/\w+ << /MCID \d+ >> BDC|\bEMC\b)\n?", b"", page.Contents.read_bytes())
            page.Contents.write(drawn)
            del page.obj["/StructParents"], page.obj["/Tabs"]
            for one in page.obj.get("/Annots", ()):
                for key in {"/StructParent", "/TU"} & set(one.keys()):
                    del one[key]
        paper = io.BytesIO()
        pdf.save(paper, fix_metadata_version=False, object_stream_mode=pikepdf.ObjectStreamMode.disable)
        return paper.getvalue()


def test_a_file_that_was_signed_before_there_was_a_structure_is_as_good_as_it_was(signed: SignedDay) -> None:
    before = _as_before_structure(signed)
    assert len(read_signed(by_edwin(before)).files) == 5
    # But one that has half of a structure was made by none.
    for half in (
        _swap(PAGE, b"/Rotate", b"/StructParents 0 /Rotate"),
        _swap(b"/Catalog", b"/Metadata", b"/MarkInfo << /Marked true >> /Metadata"),
        _drawn_besides(b"/Artifact BMC\nEMC "),
    ):
        with pytest.raises(Loose):
            read_signed(by_edwin(half(Craft.of(before))))


def test_the_signature_field_keeps_to_the_rules_for_files_to_be_kept(signed: SignedDay) -> None:
    # ISO 19005-3:2012 (PDF/A-3), from memory: 6.3.2 printed and not hidden, 6.3.3 no appearance where the rectangle is
    # empty, 6.4.1 no actions and no appearances to be made, 6.4.3 the range covers all but the signature.
    with pikepdf.open(signed.pdf) as pdf:
        form = pdf.Root.AcroForm
        (field,) = form.Fields
        assert int(field.F) & 0b100111 == 0b100
        assert [float(side) for side in field.Rect] == [0, 0, 0, 0]
        assert not {"/AP", "/A", "/AA"} & set(field.keys())
        assert "/NeedAppearances" not in form
        first, start, end, rest = map(int, field.V.ByteRange)
    data = signed.pdf.read_bytes()
    assert (first, end + rest) == (0, len(data))
    assert re.fullmatch(rb"<[0-9a-f]+>", data[start:end])


def test_the_signed_file_of_an_addendum_is_a_new_one_and_the_old_one_is_kept(tmp_path: Path) -> None:
    with begin(tmp_path / "day.db", with_photo=False) as log:
        seal(log, EDWIN_SIGNS)
        sign_pages(log, EDWIN_SIGNS, log.events[-1].at)
        first = signed_pages_of(log.path).read_bytes()
        assert current_signed_pages(log) == signed_pages_of(log.path)
        asked(log, cmd.OpenAddendum(reason="late"))
        assert current_signed_pages(log) is None, "it does not show all of the day any more"
        seal(log, EDWIN_SIGNS)
        sign_pages(log, EDWIN_SIGNS, log.events[-1].at)
        assert current_signed_pages(log) == signed_pages_of(log.path)
    assert (tmp_path / "day.signed.part-0.pdf").read_bytes() == first
    for path in (tmp_path / "day.signed.part-0.pdf", tmp_path / "day.signed.pdf"):
        assert checked(path, tmp_path).exit_code == WHOLE


# --- forged without the key ---------------------------------------------------------------------------------------


def test_a_change_of_any_byte_is_never_whole(signed: SignedDay) -> None:
    data = signed.pdf.read_bytes()
    for at in [*range(0, len(data), 1511), *range(len(data) - 60, len(data), 7)]:
        forged = data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]
        with pytest.raises((Loose, NoSuchSignature)):
            read_signed(forged)


def test_a_changed_word_is_damage(signed: SignedDay, tmp_path: Path) -> None:
    with pikepdf.open(signed.pdf) as pdf:
        content = pdf.pages[0].Contents
        content.write(content.read_bytes().replace(b"Quillhaven", b"Quillraven"))
        pdf.save(tmp_path / "changed.pdf", fix_metadata_version=False)
    verdict = checked(tmp_path / "changed.pdf", tmp_path)
    assert verdict.exit_code == DAMAGED


@pytest.mark.parametrize(
    ("packed", "why"),
    [({"linearize": True}, "proof-loose-end"), ({"object_stream_mode": pikepdf.ObjectStreamMode.generate}, "")],
)
def test_a_signed_file_that_was_packed_again_is_neither_whole_nor_damaged(
    signed: SignedDay, tmp_path: Path, packed: dict[str, object], why: str
) -> None:
    with pikepdf.open(signed.pdf) as pdf:
        pdf.save(tmp_path / "packed.pdf", fix_metadata_version=False, **packed)  # type: ignore[arg-type]
    verdict = checked(tmp_path / "packed.pdf", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "same drawing"), said(verdict)
    assert "bears a signature that is not good" in said(verdict)
    assert verdict.verdict.code == "proof-pages-open", why


def test_the_same_pages_signed_by_another_key_of_the_same_name_are_not_whole(signed: SignedDay, tmp_path: Path) -> None:
    verdict = judged(with_signature(signed.unsigned, lambda digest: sign_hash(digest, FORGER)), tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "same drawing"), said(verdict)
    assert "whoever signed it did not seal the record" in said(verdict)


def test_forged_pages_signed_by_another_key_are_damage(signed: SignedDay, tmp_path: Path) -> None:
    forged = print_of(signed, b"Quillhaven", b"Quillraven")
    verdict = judged(with_signature(forged, lambda digest: sign_hash(digest, FORGER)), tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")


def print_of(signed: SignedDay, old: bytes, new: bytes) -> bytes:
    """The file before it was signed, with other words on its first page."""
    craft = Craft.of(signed.unsigned)
    number = next(n for n, text in enumerate(craft.objects) if b"/Contents" in text and b"/Type /Page " in text)
    content = int(re.search(rb"/Contents (\d+) 0 R", craft.objects[number])[1])  # type: ignore[index]
    drawn = zlib.decompress(craft.stream(content))
    assert old in drawn
    craft.put_stream(content, zlib.compress(drawn.replace(old, new)))
    return craft.written()


def test_a_signature_taken_from_another_file_is_not_good(signed: SignedDay, tmp_path: Path) -> None:
    wanted = re.search(rb"/Contents (<[0-9a-f]+>) /Filter /Adobe", signed.pdf.read_bytes())[1]  # type: ignore[index]
    forged = by_edwin(signed.unsigned)
    assert forged == signed.pdf.read_bytes(), "the same key and pages give the same file"
    other = with_signature(print_of(signed, b"Quillhaven", b"Quillraven"), lambda _: bytes(1))
    start = other.index(b"/Contents <00") + len(b"/Contents ")
    verdict = judged(other[:start] + wanted + other[start + len(wanted) :], tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")


def test_a_photo_taken_out_of_a_copy_leaves_it_open_and_a_signed_file_says_itself_what_is_not_in_it(
    tmp_path: Path,
) -> None:
    with begin(tmp_path / "day.db") as log:
        seal(log, EDWIN_SIGNS)
        shutil.rmtree(tmp_path / "day.attached")
        made = sign_pages(log, EDWIN_SIGNS, log.events[-1].at)
        write_daily_pdf(record_of(log), tmp_path / "copy.pdf")
    verdict = checked(tmp_path / "copy.pdf", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "same bytes")
    assert checked(made.path, tmp_path).exit_code == WHOLE


def test_a_signed_file_in_a_bundle_of_another_record_is_damage(signed: SignedDay, tmp_path: Path) -> None:
    with begin(tmp_path / "other.db", remark="all good") as log:
        seal(log, EDWIN_SIGNS)
    pack(tmp_path / "other.db", tmp_path / "other.bundle", signed.pdf)
    verdict = checked(tmp_path / "other.bundle", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "another record")
    pack(signed.day, tmp_path / "day.bundle", signed.pdf)
    verdict = checked(tmp_path / "day.bundle", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (WHOLE, "signed")


# --- what else is attached ----------------------------------------------------------------------------------------


def with_attached(
    signed: SignedDay,
    monkeypatch: pytest.MonkeyPatch,
    changed: Callable[[bytes], bytes],
    program: str = "",
    **more: bytes,
) -> bytes:
    """The file before it was signed, with other tables and more files, and a manifest that names them."""
    honest = sequence.sequence_files

    def tables(facts: DayFacts) -> dict[str, bytes]:
        return {name: changed(data) for name, data in honest(facts).items()} | more

    monkeypatch.setattr(daily, "sequence_files", tables)
    with DayLog.open(signed.day, read_only=True) as log:
        record, at = record_of(log), log.events[-1].at
    if program:
        record = replace(record, program=program)
    made = print_pages(record, signature=SignatureField("edwin", datetime.fromisoformat(at.wall))).content
    monkeypatch.undo()
    return made


def better(table: bytes) -> bytes:
    assert b"eighty" in table
    return table.replace(b"eighty", b"ninety")


def named_in(verdict: Judgment, code: str) -> str:
    """The files that the finding of this code names, "" where there is none."""
    return ", ".join(Words()(one.told.figures["files"]) for one in verdict.findings if one.told.code == code)


def test_tables_that_their_record_does_not_give_are_named_whoever_signed_them(
    signed: SignedDay, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    forged = with_attached(signed, monkeypatch, better)
    # Not signed, as anybody could make it; then signed by whoever sealed the record.
    for data, gravity in ((forged, DAMAGED), (by_edwin(forged), UNSEALED)):
        verdict = judged(data, tmp_path)
        assert verdict.exit_code == gravity, said(verdict)
        assert named_in(verdict, "proof-tables-differ") == "sequence.csv, sequence.json"
    assert verdict.facts["pages"] == "signed"


def test_tables_of_another_version_are_told_and_not_judged(
    signed: SignedDay, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    verdict = judged(by_edwin(with_attached(signed, monkeypatch, better, "fieldassist 9.0")), tmp_path)
    assert verdict.exit_code == WHOLE, said(verdict)
    assert named_in(verdict, "proof-tables-of-another-version") == "sequence.csv, sequence.json"


@pytest.mark.parametrize("program", ["", "fieldassist 9.0"])
def test_an_attachment_that_is_none_of_ours_is_named_though_the_manifest_names_it(
    program: str, signed: SignedDay, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    more = {"lift-results.csv": b"lift,percent\r\n1,99\r\n"}
    signs = by_edwin(with_attached(signed, monkeypatch, bytes, program, **more))
    verdict = judged(signs, tmp_path)
    assert verdict.exit_code == UNSEALED, said(verdict)
    assert named_in(verdict, "proof-files-unknown") == "lift-results.csv"
    assert not named_in(verdict, "proof-tables-differ")


# --- crafted by the holder of the key -----------------------------------------------------------------------------


class Craft:
    """A file of ours taken apart, to be written again with every byte as one likes."""

    def __init__(self, objects: list[bytes], trailer: bytes) -> None:
        self.objects = objects
        self.trailer = trailer

    @classmethod
    def of(cls, data: bytes) -> Craft:
        table = data.rindex(b"\nxref\n") + 1
        count = int(data[table + 7 : data.index(b"\n", table + 5)])
        first = data.index(b"0000000000 65535 f", table)
        starts = [int(data[first + 20 * n : first + 20 * n + 10]) for n in range(1, count)]
        trailer = data[data.rindex(b"trailer <<") : data.rindex(b"\nstartxref")]
        return cls([data[a:b] for a, b in zip(starts, [*starts[1:], table], strict=True)], trailer)

    def find(self, wanted: bytes) -> int:
        """The number of the first object in which this stands."""
        return next(n for n, text in enumerate(self.objects, 1) if wanted in text)

    def stream(self, number: int) -> bytes:
        text = self.objects[number - 1]
        return text[text.index(b"stream\n") + 7 : text.rindex(b"\nendstream")]

    def put_stream(self, number: int, content: bytes) -> None:
        text = self.objects[number - 1]
        head = re.sub(rb"/Length \d+", b"/Length %d" % len(content), text[: text.index(b"stream\n") + 7])
        self.objects[number - 1] = head + content + b"\nendstream\nendobj\n"

    def swap(self, wanted: bytes, old: bytes, new: bytes) -> None:
        """Other bytes in the first object in which `wanted` stands."""
        number = self.find(wanted)
        assert old in self.objects[number - 1]
        self.objects[number - 1] = self.objects[number - 1].replace(old, new, 1)

    def add(self, value: bytes) -> int:
        self.objects.append(b"%d 0 obj\n%s\nendobj\n" % (len(self.objects) + 1, value))
        return len(self.objects)

    def written(self, between: bytes = b"", more_table: bytes = b"", after: bytes = b"") -> bytes:
        """between: before the third object; more_table: behind the entries; after: behind the end."""
        out, starts = bytearray(b"%PDF-1.7\n%\xbf\xf7\xa2\xfe\n"), []
        for number, text in enumerate(self.objects, 1):
            out += between if number == 3 else b""
            starts.append(len(out))
            out += text
        table, count = len(out), len(self.objects) + 1
        out += b"xref\n0 %d\n0000000000 65535 f \n" % count + b"".join(b"%010d 00000 n \n" % at for at in starts)
        out += more_table + re.sub(rb"/Size \d+", b"/Size %d" % count, self.trailer)
        return bytes(out) + b"\nstartxref\n%d\n%%%%EOF\n" % table + after


def test_what_is_taken_apart_and_written_again_is_the_same_file(signed: SignedDay) -> None:
    assert Craft.of(signed.unsigned).written() == signed.unsigned


def _dead_copy(craft: Craft) -> bytes:
    return craft.written(between=craft.objects[craft.find(b"/Type /Page ") - 1])


def _doubled_entry(craft: Craft) -> bytes:
    # The forged page stands behind the good one, under its number, and some readers take the later entry (F2).
    number = craft.find(b"/Type /Page ")
    good = craft.objects[number - 1]
    whole = craft.written()
    entry = b"%d 1\n%010d 00000 n \n" % (number, whole.index(b"3 0 obj\n"))
    return craft.written(between=good.replace(b"/Rotate 0", b"/Rotate 180"), more_table=entry)


def _second_signature(craft: Craft) -> bytes:
    field = craft.objects[craft.find(b"/FT /Sig") - 1]
    other = craft.add(field[field.index(b"<<") : field.rindex(b">>") + 2].replace(b"(signature)", b"(second)"))
    craft.swap(b"/SigFlags", b"/Fields [ ", b"/Fields [ %d 0 R " % other)
    return craft.written()


def _swap(wanted: bytes, old: bytes, new: bytes) -> Callable[[Craft], bytes]:
    def change(craft: Craft) -> bytes:
        craft.swap(wanted, old, new)
        return craft.written()

    return change


def _unused(craft: Craft) -> bytes:
    craft.add(b"<< /Type /Page /Note (hidden) >>")
    return craft.written()


def _picture(make: Callable[[bytes], bytes]) -> Callable[[Craft], bytes]:
    def change(craft: Craft) -> bytes:
        number = craft.find(b"/Subtype /Image")
        craft.put_stream(number, make(craft.stream(number)))
        return craft.written()

    return change


def _png() -> bytes:
    paper = io.BytesIO()
    photo().save(paper, "PNG")
    return paper.getvalue()


def _content(make: Callable[[bytes], bytes]) -> Callable[[Craft], bytes]:
    def change(craft: Craft) -> bytes:
        number = int(re.search(rb"/Contents (\d+) 0 R", b"".join(craft.objects))[1])  # type: ignore[index]
        craft.put_stream(number, make(craft.stream(number)))
        return craft.written()

    return change


def _drawn_besides(words: bytes) -> Callable[[Craft], bytes]:
    """Other words in front of what a page draws."""
    return _content(lambda good: zlib.compress(words + zlib.decompress(good)))


def _font_of_two_meanings(craft: Craft) -> bytes:
    """A font in which a second table says for the viewers that take it which code is which letter."""
    number = craft.find(b"/Length1")
    font = zlib.decompress(craft.stream(number))
    at = int.from_bytes(font[font.index(b"cmap") + 8 :][:4], "big")
    one, twice = bytes.fromhex("00000001 0001 0000 0000000c"), bytes.fromhex("00000002 0001 0000 00000014")
    assert font[at : at + 12] == one
    other = bytes.fromhex("0003 0000 00000014")
    craft.put_stream(number, zlib.compress(font[:at] + twice + other + font[at + 20 :]))
    return craft.written()


def _page_twice(craft: Craft) -> bytes:
    first = re.search(rb"/Kids \[ (\d+) 0 R ", b"".join(craft.objects))[1]  # type: ignore[index]
    return _swap(b"/Kids", b"/Kids [ ", b"/Kids [ %s 0 R " % first)(craft)


def _note(craft: Craft) -> bytes:
    note = craft.add(b"<< /Contents (all good) /Rect [ 0 0 99 99 ] /Subtype /FreeText /Type /Annot >>")
    return _swap(b"/Annots", b"/Annots [ ", b"/Annots [ %d 0 R " % note)(craft)


def _other_kids(wanted: bytes, order: Callable[[list[bytes]], list[bytes]]) -> Callable[[Craft], bytes]:
    """What the first element of that kind holds, in another order."""

    def change(craft: Craft) -> bytes:
        number = craft.find(wanted)
        text = craft.objects[number - 1]
        kids = re.search(rb"/K \[ ([0-9R ]+) \]", text)[1]  # type: ignore[index]
        parts = order(re.findall(rb"\d+ 0 R|\d+", kids))
        craft.objects[number - 1] = text.replace(kids, b" ".join(parts))
        return craft.written()

    return change


def _read_by_two(craft: Craft) -> bytes:
    """A second element for the first heading, which its page does not lead back to."""
    heading = craft.objects[craft.find(b"/S /H1") - 1]
    other = craft.add(heading[heading.index(b"<<") : heading.rindex(b">>") + 2])
    return _other_kids(b"/S /Sect", lambda kids: [*kids, b"%d 0 R" % other])(craft)


def _without_structure(craft: Craft) -> bytes:
    number = craft.find(b"/Catalog")
    craft.objects[number - 1] = re.sub(rb"/StructTreeRoot \d+ 0 R ", b"", craft.objects[number - 1])
    return craft.written()


def _as_decoration(content: bytes) -> bytes:
    """The last stretch of a page that is read, as decoration."""
    begins = re.findall(rb"/\w+ << /MCID \d+ >> BDC", content)[-1]
    return content.replace(begins, b"/Artifact BMC")


PAGE = b"/Type /Page "
CRAFTED: dict[str, tuple[Callable[[Craft], bytes], str]] = {
    "a dead copy of a page between two objects": (_dead_copy, "object"),
    "a page that a doubled entry names again": (_doubled_entry, "table"),
    "an entry of a free object": (lambda craft: craft.written(more_table=b"0000000000 00001 f \n"), "table"),
    "bytes behind the end": (lambda craft: craft.written(after=b"%" * 900), "end"),
    "another end behind the end": (lambda craft: craft.written(after=b"startxref\n15\n%%EOF\n"), "table"),
    "a remark between two objects": (lambda craft: craft.written(between=b"% remark\n"), "object"),
    "a remark within an object": (_swap(PAGE, b" /Parent", b" %x\n /Parent"), "value"),
    "an object that nothing names": (_unused, "unused"),
    "a key written twice": (_swap(PAGE, b"/Rotate 0", b"/Rotate 0 /Contents 2 0 R"), "key"),
    "a key with an escape": (_swap(PAGE, b"/Rotate 0", b"/Rotate 0 /Cont#65nts 2 0 R"), "key"),
    "a turned page": (_swap(PAGE, b"/Rotate 0", b"/Rotate 180"), "keys"),
    "a page turned by a word": (_swap(PAGE, b"/Rotate 0", b"/Rotate false"), "keys"),
    "a length that is no number": (_swap(b"/Length1", b"/Length1 ", b"/Length1 0 /Length "), "key"),
    "a stream that seems to end early": (_content(lambda good: b"x endstream " + good), "stream"),
    "a cropped page": (_swap(PAGE, b"/Rotate 0", b"/CropBox [ 0 0 9 9 ] /Rotate 0"), "keys"),
    "a page that stands twice": (_page_twice, "pages"),
    "a wrong number of pages": (_swap(b"/Kids", b"/Count ", b"/Count 1"), "pages"),
    "a script on opening": (_swap(b"/Catalog", b"/Lang", b"/OpenAction << /JS (x) /S /JavaScript >> /Lang"), "keys"),
    "layers": (_swap(b"/Catalog", b"/Lang", b"/OCProperties << /OCGs [ ] >> /Lang"), "keys"),
    "a note over a page": (_note, "keys"),
    "a second signature": (_second_signature, "fields"),
    "content from elsewhere": (_swap(b"/Length1", b"/Length1", b"/F (x) /Length1"), "keys"),
    "a picture before the picture": (_picture(lambda good: _png() + good), "picture"),
    "a picture behind the picture": (_picture(lambda good: good + jpeg(photo().rotate(180))), "picture"),
    "a picture in another's remark": (
        _picture(lambda good: good[:2] + b"\xff\xfe\x00\x08\xff\xd8\xff\xd9\xff\xd9" + good[2:]),
        "picture",
    ),
    "a picture of another size": (_picture(lambda _: jpeg(photo().resize((32, 24)))), "picture"),
    "a grey picture": (_picture(lambda _: jpeg(photo().convert("L"))), "picture"),
    "a picture in several scans": (_picture(lambda _: jpeg(photo(), progressive=True)), "picture"),
    "a packed stream with more behind it": (_content(lambda good: good + zlib.compress(b"0 0 9 9 re f")), "stream"),
    "a packed stream that does not end": (_content(lambda good: good[:-1]), "stream"),
    # Where it ends, viewers do not agree on: the rest of the page may be its dots, or not.
    "a picture within the drawing": (_drawn_besides(b"BI /W 1 /H 1 /BPC 8 /CS /G ID \x00 EI Q\nEI "), "drawing"),
    "a word that only some viewers know": (_drawn_besides(b"BX 0 0 99 99 rx EX "), "drawing"),
    "a remark in the drawing": (_drawn_besides(b"% remark\r0 0 99 99 re f "), "drawing"),
    "a dictionary in the drawing": (_drawn_besides(b"/Span << /ActualText (85) >> BDC EMC "), "drawing"),
    "a font of two meanings": (_font_of_two_meanings, "font"),
    # What is heard and what is seen: another reading of the same page.
    "words that stand for a heading": (_swap(b"/S /H1", b"/S /H1", b"/ActualText (85 %) /S /H1"), "keys"),
    "words that stand for what a heading shows": (_swap(b"/S /H1", b"/K", b"/Alt (85 %) /K"), "structure"),
    "a language of its own": (_swap(b"/S /H1", b"/K", b"/Lang (la) /K"), "keys"),
    "words for what is abbreviated": (_swap(b"/S /H1", b"/K", b"/E (85 %) /K"), "keys"),
    "a heading that is read as a paragraph": (_swap(b"/S /H1", b"/S /H1", b"/S /P"), "structure"),
    "a kind of elements of its own": (_swap(b"/S /H1", b"/S /H1", b"/S /Private"), "structure"),
    "kinds that stand for others": (_swap(b"/Type /StructTreeRoot", b"/K", b"/RoleMap << /H1 /P >> /K"), "keys"),
    "a section that is read backwards": (_other_kids(b"/S /Sect", lambda kids: kids[::-1]), "structure"),
    "a paragraph that is read twice": (_other_kids(b"/S /Sect", lambda kids: [*kids, kids[-1]]), "structure"),
    "a paragraph that is not read": (_other_kids(b"/S /Sect", lambda kids: kids[:-1]), "structure"),
    "a heading of two elements": (_read_by_two, "structure"),
    "a heading's element that holds nothing": (_swap(b"/S /H1", b"/K 0 ", b""), "structure"),
    "an element within another": (_swap(b"/S /H1", b"/K 0 ", b"/K [ 0 << /K 1 /S /Span >> ] "), "part"),
    "a paragraph that is told to be decoration": (
        _content(lambda good: zlib.compress(_as_decoration(zlib.decompress(good)))),
        "structure",
    ),
    "a page that leads to other elements": (_swap(b"/Nums", b"/Nums [ 0 ", b"/Nums [ 1 [ ] 0 "), "structure"),
    "a page in another place of the structure": (_swap(PAGE, b"/StructParents 0", b"/StructParents 1"), "structure"),
    "fields in another order than they are drawn": (_swap(PAGE, b"/Tabs /S", b"/Tabs /R"), "structure"),
    "a field that leads to a page's elements": (_swap(b"/FT /Sig", b"/StructParent ", b"/StructParent 9"), "structure"),
    "doubt about the structure": (_swap(b"/Catalog", b"/Marked true", b"/Marked true /Suspects true"), "keys"),
    "a mark that there is no structure": (_swap(b"/Catalog", b"/Marked true", b"/Marked false"), "keys"),
    "stretches of no structure": (_without_structure, "drawing"),
    "something drawn outside of all that is read": (_drawn_besides(b"0 0 99 99 re f "), "drawing"),
    "words outside of all that is read": (_drawn_besides(b"BT (85 %) Tj ET "), "drawing"),
    "a stretch within a stretch": (_drawn_besides(b"/Artifact BMC\n/P << /MCID 9 >> BDC\nEMC EMC "), "drawing"),
    "a stretch that does not end": (_drawn_besides(b"/Artifact BMC\n "), "drawing"),
    "a stretch that is told of elsewhere": (_drawn_besides(b"/P /MC0 BDC\nEMC "), "drawing"),
    "a stretch of two numbers": (_drawn_besides(b"/P << /MCID 0 /MCID 1 >> BDC\nEMC "), "drawing"),
    "a layer": (_drawn_besides(b"/OC /Layer BDC\nEMC "), "drawing"),
    "a stretch whose number is written otherwise": (_drawn_besides(b"/P << /MCID 00 >> BDC\nEMC "), "drawing"),
    "a stretch that stands in a text": (
        _drawn_besides(b"/Artifact BMC\nBT (x) Tj ET EMC /P << /MCID 0 >> BDC\nBT (/P << /MCID 1 >> BDC) Tj ET EMC "),
        "structure",
    ),
    "a file under another name too": (_swap(b"(events.jsonl)", b"/F (events.jsonl)", b"/F (other.jsonl)"), "files"),
    "a file that is in no list": (_swap(b"/Names [", b"(events.jsonl)", b"(eventz.jsonl)"), "files"),
}


@pytest.mark.parametrize("name", CRAFTED)
def test_what_the_signer_himself_crafts_in_another_form_is_not_whole(name: str, signed: SignedDay) -> None:
    craft, where = CRAFTED[name]
    document = by_edwin(craft(Craft.of(signed.unsigned)))
    with pytest.raises(Loose) as loose:
        read_signed(document)
    assert loose.value.told.code.removesuffix("-here") == f"proof-loose-{where}"


@pytest.mark.parametrize(
    "name", ["a page that a doubled entry names again", "a note over a page", "a picture before the picture"]
)
def test_such_a_file_is_named_and_never_gets_0(name: str, signed: SignedDay, tmp_path: Path) -> None:
    verdict = judged(by_edwin(CRAFTED[name][0](Craft.of(signed.unsigned))), tmp_path)
    assert verdict.exit_code in (UNSEALED, DAMAGED)
    assert verdict.verdict.code in ("proof-pages-open", "proof-damaged")
    assert "bears a signature that is not good" in said(verdict)


@pytest.mark.parametrize(
    "change",
    [
        lambda gap: gap[:-9] + b" " * 8 + gap[-1:],  # in place of the last zeros
        lambda gap: gap[:-9] + b"deadbeef" + gap[-1:],
        lambda gap: gap.upper(),
        lambda gap: b"<" + gap[3:] + b"00",
    ],
)
def test_nothing_can_stand_in_the_gap_that_the_signature_leaves_out(
    change: Callable[[bytes], bytes], signed: SignedDay
) -> None:
    data = signed.pdf.read_bytes()
    start, end = re.search(rb"/Contents (<[0-9a-f]+>) /Filter /Adobe", data).span(1)  # type: ignore[union-attr]
    changed = change(data[start:end])
    assert len(changed) == end - start
    with pytest.raises((Loose, NoSuchSignature)):
        read_signed(data[:start] + changed + data[end:])


def test_a_range_that_leaves_out_more_than_the_signature_is_not_believed(signed: SignedDay, tmp_path: Path) -> None:
    # Everything from the signature to the end is left out, and so free to be changed.
    data = signed.unsigned
    start = data.index(b"/Contents <00") + len(b"/Contents ")
    ranges = re.search(rb"/ByteRange \[ 0[ 9]+\]", data)[0]  # type: ignore[index]
    document = data.replace(ranges, (b"/ByteRange [ 0 %d %d 0 ]" % (start, len(data))).ljust(len(ranges)))
    cms = sign_hash(hashlib.sha256(document[:start]).digest(), EDWIN_SIGNS).hex().encode()
    forged = document[: start + 1] + cms + document[start + 1 + len(cms) :]
    with pytest.raises(Loose, match="proof-loose-range"):
        read_signed(forged)
    assert judged(forged, tmp_path).exit_code == UNSEALED


@pytest.mark.parametrize("hides", [False, True])
def test_what_is_appended_behind_the_signature_is_not_believed(hides: bool, signed: SignedDay, tmp_path: Path) -> None:
    data = signed.pdf.read_bytes()
    before = int(data[data.rindex(b"startxref") :].split()[1])
    number = Craft.of(data).find(b"/Type /Page ")
    page = Craft.of(data).objects[number - 1]
    changed = page.replace(b"/Rotate 0", b"/Rotate 180") if hides else page
    at = len(data)
    table = b"xref\n%d 1\n%010d 00000 n \n" % (number, at)
    trailer = Craft.of(data).trailer.replace(b">>", b"/Prev %d >>" % before)
    forged = data + changed + table + trailer + b"\nstartxref\n%d\n%%%%EOF\n" % (at + len(changed))
    verdict = judged(forged, tmp_path)
    assert verdict.exit_code == DAMAGED, said(verdict)


def test_a_signature_of_ours_has_one_form_bit_by_bit() -> None:
    digest = b"\x07" * 32
    data = sign_hash(digest, EDWIN_SIGNS)
    assert read_signature(data, digest).certificate == EDWIN_SIGNS.certificate
    for at in range(len(data)):
        with pytest.raises(NoSuchSignature):
            read_signature(data[:at] + bytes([data[at] ^ 1 << at % 8]) + data[at + 1 :], digest)


def test_a_seal_that_names_a_certificate_in_another_name_is_told(tmp_path: Path) -> None:
    other = SigningKey("the inspector", Role.OWNER, b"\x01" * 32).with_certificate(datetime(2026, 3, 1, tzinfo=UTC))
    key = SigningKey("edwin", Role.FOREMAN, b"\x01" * 32, certificate=other.certificate)
    with begin(tmp_path / "day.db", with_photo=False) as log:
        seal(log, key)
        made = sign_pages(log, key, log.events[-1].at)
    verdict = checked(made.path, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "signed")
    assert "The certificate shows another name" in said(verdict)


def test_a_plain_jpeg_is_one_baseline_picture_of_its_size(signed: SignedDay) -> None:
    picture = jpeg(photo())
    assert is_plain_jpeg(picture, 320, 240)
    refused: Sequence[bytes] = (
        b"",
        picture[:-2],
        picture + b"\n",
        b"\n" + picture,
        picture[:400],
        jpeg(photo(), exif=b"x"),
    )
    assert not any(is_plain_jpeg(data, 320, 240) for data in refused)
    assert len(read_strict(signed.pdf.read_bytes()).files) == 5
