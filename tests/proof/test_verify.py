"""What an inspector is told about a record that is whole, and about every way to forge one that we could think of.

The forgers here are good: they write valid files, recompute every hash, and lack nothing but the signer's key.
"""

from __future__ import annotations

import hashlib
import io
import json
import multiprocessing
import pickle
import re
import shutil
import sqlite3
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import rfc8785
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from PIL import Image, ImageDraw, ImageFilter
from pypdf import PdfReader

from fieldassist import __version__
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.plan import Role
from fieldassist.cli import main
from fieldassist.cli.terminal import safe
from fieldassist.language import Words
from fieldassist.proof.examine import examine
from fieldassist.proof.known import NOTHING_KNOWN, Known
from fieldassist.proof.verdict import DAMAGED, UNREADABLE, UNSEALED, WHOLE, Finding, Judgment
from fieldassist.proof.verify import verify
from fieldassist.record import attachments
from fieldassist.record.bundle import pack
from fieldassist.record.chain import GENESIS, chain_hash, check_texts
from fieldassist.record.keys import SigningKey, fingerprint, public_pem, read_public
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import EVENTS, MANIFEST, PDF
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.trade.message import message
from tests.small_day import EDWIN, PLAN, asked, begun, kept, seal

FORGER = SigningKey("edwin", Role.FOREMAN, b"\x02" * 32)
REMARK = "north corner reset, eighty percent"


def photo() -> Image.Image:
    """A lifted tile as a drawing: ridges of mortar, and a void."""
    picture = Image.new("RGB", (320, 240), (180, 170, 160))
    draw = ImageDraw.Draw(picture)
    for x in range(0, 320, 16):
        draw.rectangle((x, 0, x + 7, 240), fill=(120, 115, 110))
    draw.ellipse((200, 60, 260, 120), fill=(230, 225, 220))
    return picture.filter(ImageFilter.GaussianBlur(1))


def jpeg(picture: Image.Image, **how: Any) -> bytes:
    paper = io.BytesIO()
    picture.save(paper, "JPEG", **{"quality": 90, **how})
    return paper.getvalue()


def begin(path: Path, *, remark: str = REMARK, site: str = PLAN["site"], with_photo: bool = True) -> DayLog:
    """A short day, not signed yet."""
    log = DayLog.create(path)
    begun(log, site=site)
    asked(log, cmd.MakeNote(text=remark), cmd.SpeakAs(name="edwin"))
    if with_photo:
        file = attachments.keep(path, jpeg(photo()), ".jpg")
        asked(log, cmd.StartArea(area="hall floor"), cmd.AttachPhoto(file=file.file, sha256=file.sha256))
    return log


@dataclass(frozen=True)
class Handed:
    """What the owner is handed: three files that tell of one day."""

    day: Path
    pdf: Path
    bundle: Path

    @property
    def files(self) -> tuple[Path, Path, Path]:
        return self.day, self.pdf, self.bundle


def hand_over(log: DayLog, units: Any = None) -> Handed:
    pdf, bundle = log.path.with_suffix(".pdf"), log.path.with_suffix(".bundle")
    write_daily_pdf(record_of(log), pdf, units=units)
    pack(log.path, bundle, pdf)
    log.close()
    return Handed(log.path, pdf, bundle)


@pytest.fixture(scope="session")
def handed(tmp_path_factory: pytest.TempPathFactory) -> Handed:
    """A day that was sealed and handed over. Only to read."""
    log = begin(tmp_path_factory.mktemp("handed") / "day.db")
    seal(log)
    return hand_over(log)


@pytest.fixture(scope="session")
def forged(tmp_path_factory: pytest.TempPathFactory) -> Handed:
    """The same day as the forger would have it, sealed with the forger's own key. Only to read."""
    log = begin(tmp_path_factory.mktemp("forged") / "day.db", remark="north corner reset, ninety percent")
    seal(log, FORGER)
    return hand_over(log)


def checked(path: Path, tmp_path: Path, key: str | None = EDWIN.public_key) -> Judgment:
    scratch = tmp_path / "scratch"
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    return examine(path, Known(key), scratch)


def lines(verdict: Judgment) -> tuple[str, ...]:
    """What an inspector reads on the terminal."""
    words = Words()
    return tuple(words(safe(told)) for told in verdict.told)


def said(verdict: Judgment) -> str:
    return "\n".join(lines(verdict))


# --- what is whole ------------------------------------------------------------------------------------------------


def test_an_untouched_day_its_pdf_and_its_bundle_are_whole(handed: Handed, tmp_path: Path) -> None:
    for path, kind in zip(handed.files, ("log", "pdf", "bundle"), strict=True):
        verdict = checked(path, tmp_path)
        assert (verdict.exit_code, verdict.ok) == (WHOLE, True), said(verdict)
        assert verdict.facts["kind"] == kind
        assert verdict.facts["good_events"] == 9
        assert verdict.facts["unsealed_events"] == 0
        assert verdict.facts["attachments"]["whole"] == 1
        assert "events 1 to 8, by Edwin, foreman, at 2026-03-17T07:08:00+01:00" in said(verdict)
        assert EDWIN.fingerprint in said(verdict)
    for path in handed.files[1:]:
        assert checked(path, tmp_path).facts["pages"] == "same bytes"


def test_whoever_is_told_what_a_file_came_to_loads_no_models_of_events(handed: Handed, tmp_path: Path) -> None:
    # What comes back from the process that checks names no type of the checklist's: the command starts in a tenth.
    assert b"fieldassist.checklist" not in pickle.dumps(checked(handed.pdf, tmp_path))


def test_what_is_called_whole_is_so_without_this_program(handed: Handed) -> None:
    # FIPS 180-4 (hashlib), RFC 8032 (cryptography), PKWARE APPNOTE (zipfile), ISO 32000-1 §7.11.4 (pypdf).
    with zipfile.ZipFile(handed.bundle) as bundle:
        lines = bundle.read(EVENTS).decode("utf-8").splitlines()
        assert bundle.read(PDF) == handed.pdf.read_bytes()
    assert PdfReader(handed.pdf).attachments[EVENTS][0].decode("utf-8").splitlines() == lines
    with closing(sqlite3.connect(handed.day)) as database:
        assert [text for (text,) in database.execute("SELECT text FROM events ORDER BY seq")] == lines
    before = GENESIS
    for line in lines:
        assert json.loads(line)["prev"] == before
        before = hashlib.sha256(line.encode("utf-8")).hexdigest()
    *_, signed, sealed = (json.loads(line) for line in lines)
    statement = {
        "covers": 8,
        "date": "2026-03-17",
        "head": hashlib.sha256(lines[7].encode("utf-8")).hexdigest(),
        "name": "edwin",
        "part": 0,
        "role": "foreman",
        "seal": "fieldassist day 1",
        "signed_at": signed["at"]["wall"],
        "site": "Quillhaven Baths",
    }
    message = json.dumps(statement, sort_keys=True, separators=(",", ":")).encode("utf-8")
    key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(sealed["body"]["public_key"]))
    key.verify(bytes.fromhex(sealed["body"]["signature"]), message)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_pdf_is_whole_in_the_units_of_its_reader(units: Any, tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    assert checked(hand_over(log, units).pdf, tmp_path).facts["pages"] == "same bytes"


def test_a_pdf_that_only_claims_another_paper_is_not_compared_in_its_units(handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        for page in pdf.pages:
            page.mediabox = pikepdf.Array([0, 0, 612, 792])
    verdict = checked(out, tmp_path)
    # Were the paper believed, every measure on it would seem forged.
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other marks")


def test_a_pdf_that_was_only_packed_anew_is_called_neither_whole_nor_damaged(handed: Handed, tmp_path: Path) -> None:
    out = tmp_path / "packed.pdf"
    with pikepdf.open(handed.pdf) as pdf:
        modes = pikepdf.ObjectStreamMode
        pdf.save(out, object_stream_mode=modes.generate, recompress_flate=True, fix_metadata_version=False)
    assert out.read_bytes() != handed.pdf.read_bytes()
    verdict = checked(out, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "same drawing"), said(verdict)
    assert verdict.verdict.code == "proof-pages-open"


def test_an_earlier_version_that_drew_the_same_is_believed(handed: Handed, tmp_path: Path) -> None:
    with DayLog.open(handed.day, read_only=True) as log:
        write_daily_pdf(replace(record_of(log), program="fieldassist 0.0.9"), tmp_path / "old.pdf")
    assert checked(tmp_path / "old.pdf", tmp_path).facts["pages"] == "same bytes"


def test_a_day_is_checked_while_it_is_written_and_nothing_beside_it_changes(tmp_path: Path) -> None:
    folder = tmp_path / "site"
    with begin(folder / "day.db") as log:
        seal(log)
        assert (folder / "day.db-wal").stat().st_size > 0
        before = {path: (path.stat().st_mtime_ns, path.stat().st_size) for path in folder.rglob("*")}
        verdict = checked(folder / "day.db", tmp_path)
        assert {path: (path.stat().st_mtime_ns, path.stat().st_size) for path in folder.rglob("*")} == before
    assert verdict.exit_code == WHOLE, said(verdict)


# --- whole, but not all vouched for -------------------------------------------------------------------------------


def test_a_day_that_nobody_sealed_is_vouched_for_by_nobody(tmp_path: Path) -> None:
    handed = hand_over(begin(tmp_path / "day.db"))
    for path in handed.files:
        verdict = checked(path, tmp_path)
        assert verdict.exit_code == UNSEALED
        assert "nobody's key vouches for these events" in said(verdict)


def test_what_came_after_the_seal_is_counted(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    asked(log, cmd.OpenAddendum(reason="photo came late"), cmd.MakeNote(text="it was raining"))
    for path in hand_over(log).files:
        verdict = checked(path, tmp_path)
        assert (verdict.exit_code, verdict.facts["unsealed_events"]) == (UNSEALED, 2)
        assert "The last 2 events, from event 10 on, came after the last seal" in said(verdict)


def test_a_sealed_addendum_makes_the_day_whole_again(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    asked(log, cmd.OpenAddendum(reason="photo came late"))
    seal(log)
    verdict = checked(hand_over(log).pdf, tmp_path)
    assert verdict.exit_code == WHOLE, said(verdict)
    assert "addendum 1, events 1 to 11" in said(verdict)


def test_a_bundle_with_an_earlier_print_is_said_to_be_that_and_not_forged(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    write_daily_pdf(record_of(log), tmp_path / "morning.pdf")
    asked(log, cmd.OpenAddendum(reason="photo came late"))
    seal(log)
    log.close()
    pack(tmp_path / "day.db", tmp_path / "day.bundle", tmp_path / "morning.pdf")
    verdict = checked(tmp_path / "day.bundle", tmp_path)
    assert verdict.exit_code == UNSEALED, said(verdict)
    assert "printed at event 9 of 12: that is no sign of forgery" in said(verdict)
    assert verdict.facts["pages"] == "same bytes"


@pytest.mark.parametrize("form", [lambda k: k, fingerprint, public_pem, lambda k: k.upper()])
def test_the_signers_key_is_taken_in_each_form_it_is_given_in(
    form: Callable[[str], str], handed: Handed, tmp_path: Path
) -> None:
    file = tmp_path / "given"
    file.write_text(form(EDWIN.public_key))
    for given in (form(EDWIN.public_key), str(file)):
        verdict = checked(handed.day, tmp_path, read_public(given))
        assert (verdict.exit_code, verdict.facts["key"]) == (WHOLE, "match"), said(verdict)


def test_a_seal_by_another_key_under_the_same_name_is_told_by_the_key_that_was_given(
    forged: Handed, tmp_path: Path
) -> None:
    for path in forged.files:
        verdict = checked(path, tmp_path, None)  # a file alone cannot tell whose key it is
        assert (verdict.exit_code, verdict.verdict.code) == (UNSEALED, "proof-unvouched")
        verdict = checked(path, tmp_path, EDWIN.public_key)
        assert (verdict.exit_code, verdict.facts["key"]) == (UNSEALED, "no match")
        assert f"The key you gave ({EDWIN.fingerprint}) made none of its good seals." in said(verdict)


def test_another_key_of_the_same_name_on_one_day_is_pointed_at(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    asked(log, cmd.OpenAddendum(reason="another photo"))
    seal(log, FORGER)
    handed = hand_over(log)
    verdict = checked(handed.bundle, tmp_path)
    assert verdict.exit_code == UNSEALED
    assert "Edwin sealed with another key in event 9" in said(verdict)
    verdict = checked(handed.bundle, tmp_path, EDWIN.fingerprint.replace(" ", ""))
    assert verdict.facts["key"] == "earlier part"
    assert "sealed events 1 to 8; what came after was sealed with another key" in said(verdict)


# --- events -------------------------------------------------------------------------------------------------------


def rewritten(texts: Sequence[str], change: Callable[[dict[str, Any]], None]) -> list[str]:
    """The same events after `change` saw each, with the chain made to fit again: RFC 8785, SHA-256."""
    out, before = [], GENESIS
    for text in texts:
        raw = json.loads(text)
        change(raw)
        out.append(rfc8785.dumps({**raw, "prev": before}).decode("utf-8"))
        before = hashlib.sha256(out[-1].encode("utf-8")).hexdigest()
    return out


def better(raw: dict[str, Any]) -> None:
    if raw["body"]["type"] == "note made":
        raw["body"]["text"] = raw["body"]["text"].replace("eighty", "ninety")


def texts_of(day: Path) -> list[str]:
    with DayLog.open(day, read_only=True) as log:
        return log.texts


def rows_of(day: Path) -> list[tuple[Any, ...]]:
    """What a database holds, whoever reads it."""
    with closing(sqlite3.connect(day)) as database:
        return list(database.execute("SELECT seq, id, text, hash FROM events ORDER BY seq"))


def log_of(path: Path, texts: Sequence[str], files: Path) -> DayLog:
    log = DayLog.create(path)
    log.append_texts(texts)
    shutil.copytree(files, attachments.folder_of(path))
    return log


def test_events_changed_after_the_seal_do_not_fit_it_though_the_chain_was_recomputed(
    handed: Handed, tmp_path: Path
) -> None:
    texts = rewritten(texts_of(handed.day), better)
    forged = hand_over(log_of(tmp_path / "day.db", texts, attachments.folder_of(handed.day)))
    for path in forged.files:
        verdict = checked(path, tmp_path)
        assert verdict.exit_code == DAMAGED
        assert verdict.facts["first_bad_event"] is None  # the chain itself is perfect
        assert "The seal in event 9 (the day, Edwin, foreman) is not good: the events up to 8" in said(verdict)
        assert "nobody's key vouches for these events" in said(verdict)


def test_an_event_of_a_newer_version_is_not_simply_called_forged(handed: Handed, tmp_path: Path) -> None:
    def renamed(raw: dict[str, Any]) -> None:
        if raw["body"]["type"] == "note made":
            raw["body"]["type"] = "note drawn"

    texts = rewritten(texts_of(handed.day), renamed)
    day = tmp_path / "day.db"
    shutil.copy(handed.day, day)
    with closing(sqlite3.connect(day, isolation_level=None)) as database:
        database.execute("DROP TRIGGER events_are_never_updated")
        for seq, text in enumerate(texts, start=1):
            database.execute("UPDATE events SET text = ?, hash = ? WHERE seq = ?", (text, chain_hash(text), seq))
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    verdict = checked(day, tmp_path)
    assert (verdict.exit_code, verdict.facts["first_bad_event"]) == (DAMAGED, 3)
    assert f"If a newer version than {__version__} wrote it" in said(verdict)


def test_a_seal_carried_over_from_another_day_is_not_good(handed: Handed, tmp_path: Path) -> None:
    stolen = json.loads(texts_of(handed.day)[-1])["body"]

    def graft(raw: dict[str, Any]) -> None:
        better(raw)
        if raw["body"]["type"] == "day sealed":
            raw["body"] = stolen | {"head": head}

    head = chain_hash(rewritten(texts_of(handed.day)[:8], better)[-1])
    texts = rewritten(texts_of(handed.day), graft)
    verdict = checked(hand_over(log_of(tmp_path / "day.db", texts, attachments.folder_of(handed.day))).bundle, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert "the signature is not that of this key over these events" in said(verdict)


def test_text_in_the_record_cannot_play_with_the_readers_terminal(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db", site="Bad\x1b[2J\r\nWhole, sealed\u202e" + "x" * 350)
    for path in hand_over(log).files:
        verdict = checked(path, tmp_path)
        assert all(line.isprintable() for line in lines(verdict))
        assert lines(verdict)[-1].startswith("Whole, but not everything is vouched for")
        assert max(map(len, lines(verdict))) < 500


# --- attachments --------------------------------------------------------------------------------------------------


def test_a_changed_or_missing_photo_beside_a_day_is_named(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    log.close()
    (file,) = attachments.folder_of(tmp_path / "day.db").iterdir()
    file.write_bytes(jpeg(photo().rotate(180)))
    verdict = checked(tmp_path / "day.db", tmp_path)
    assert verdict.exit_code == DAMAGED
    assert f"Attachment {file.name} of event 7 was changed." in said(verdict)
    file.unlink()
    verdict = checked(tmp_path / "day.db", tmp_path)
    assert verdict.exit_code == DAMAGED
    assert f"Attachment {file.name} of event 7 is missing in day.attached." in said(verdict)


def test_a_photo_that_the_tablet_lost_is_missed_in_the_bundle_and_named_in_the_pdf(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db")
    seal(log)
    (file,) = attachments.folder_of(log.path).iterdir()
    file.unlink()
    handed = hand_over(log)
    verdict = checked(handed.bundle, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert f"Attachment {file.name} of event 7 was lost on the tablet" in said(verdict)
    verdict = checked(handed.pdf, tmp_path)
    assert verdict.exit_code == UNSEALED, "anybody can take a photo out of a copy"
    assert verdict.facts["attachments"]["elsewhere"] == [file.name]
    assert f"Not in it, for their size or because the tablet lost them: {file.name}" in said(verdict)


# --- bundles ------------------------------------------------------------------------------------------------------


def test_a_changed_byte_in_a_bundles_events_is_named_by_its_event(handed: Handed, tmp_path: Path) -> None:
    data = bytearray(handed.bundle.read_bytes())
    data[data.index(b"eighty percent")] ^= 1
    (tmp_path / "changed.bundle").write_bytes(data)
    verdict = checked(tmp_path / "changed.bundle", tmp_path)
    assert (verdict.exit_code, verdict.facts["first_bad_event"], verdict.facts["good_events"]) == (DAMAGED, 3, 2)


def test_a_bundle_with_the_print_of_another_record_is_refused(handed: Handed, forged: Handed, tmp_path: Path) -> None:
    pack(handed.day, tmp_path / "mixed.bundle", forged.pdf)
    verdict = checked(tmp_path / "mixed.bundle", tmp_path)
    assert verdict.exit_code == DAMAGED
    assert "printed from another record than the bundle's" in said(verdict)


def test_a_bundle_whose_print_has_no_record_shows_nothing(handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        del pdf.attachments[EVENTS]
        del pdf.Root["/AF"]
    pack(handed.day, tmp_path / "day.bundle", out)
    verdict = checked(tmp_path / "day.bundle", tmp_path)
    assert verdict.exit_code == DAMAGED
    assert "No record is attached to the PDF" in said(verdict)


# --- PDFs ---------------------------------------------------------------------------------------------------------


class edited:  # noqa: N801  (read as a word in a with-statement)
    """A PDF open to be edited, and where it is saved at the end."""

    def __init__(self, pdf: Path, tmp_path: Path) -> None:
        self.pdf = pikepdf.open(pdf)
        self.out = tmp_path / "edited.pdf"

    def __enter__(self) -> tuple[pikepdf.Pdf, Path]:
        return self.pdf, self.out

    def __exit__(self, *error: object) -> None:
        if error == (None, None, None):
            self.pdf.save(self.out, fix_metadata_version=False)
        self.pdf.close()


def embedded(pdf: pikepdf.Pdf) -> dict[str, pikepdf.Stream]:
    return {str(spec.UF): spec.EF.F for spec in pdf.Root.AF}


def with_record_of(pages: Path, record: Path, tmp_path: Path) -> Path:
    """The pages of one PDF with the files of the other attached."""
    with edited(pages, tmp_path) as (pdf, out), pikepdf.open(record) as other:
        for name, stream in embedded(other).items():
            embedded(pdf)[name].write(stream.read_bytes())
    return out


def test_changed_pages_are_told_by_the_first_line_that_differs(handed: Handed, forged: Handed, tmp_path: Path) -> None:
    verdict = checked(with_record_of(forged.pdf, handed.pdf, tmp_path), tmp_path, EDWIN.public_key)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")
    assert verdict.facts["key"] == "match"  # the record is Edwin's, the pages are not
    theirs, ours = (PdfReader(path).pages[0].extract_text().splitlines() for path in (forged.pdf, handed.pdf))
    line = next(n for n, (a, b) in enumerate(zip(theirs, ours, strict=True)) if a != b)
    assert f"Page 1, line {line + 1} says “{theirs[line]}”; by the record it says “{ours[line]}”." in said(verdict)


def test_a_changed_record_is_told_by_the_pages_that_were_left(handed: Handed, forged: Handed, tmp_path: Path) -> None:
    verdict = checked(with_record_of(handed.pdf, forged.pdf, tmp_path), tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")
    verdict = checked(with_record_of(handed.pdf, forged.pdf, tmp_path), tmp_path, EDWIN.public_key)
    assert verdict.facts["key"] == "no match"


def test_a_changed_event_in_a_pdf_is_named(handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        stream = embedded(pdf)[EVENTS]
        stream.write(stream.read_bytes().replace(b"eighty", b"ninety"))
    verdict = checked(out, tmp_path)
    assert (verdict.exit_code, verdict.facts["first_bad_event"], verdict.facts["good_events"]) == (DAMAGED, 3, 2)
    assert "Event 3 is not good" in said(verdict)
    assert "The 2 events before it are good." in said(verdict)


def test_pages_of_one_day_do_not_pass_with_the_record_of_another(handed: Handed, tmp_path: Path) -> None:
    log = begin(tmp_path / "other.db", site="Brassmere Quay")
    seal(log)
    verdict = checked(with_record_of(hand_over(log).pdf, handed.pdf, tmp_path), tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")
    assert "“Brassmere Quay”" in said(verdict)


def spec_of(pdf: pikepdf.Pdf, name: str, content: bytes) -> pikepdf.Object:
    return pikepdf.AttachedFileSpec(pdf, content, filename=name).obj


def twice_in_the_name_tree(pdf: pikepdf.Pdf, name: str, content: bytes) -> None:
    names = pdf.Root.Names.EmbeddedFiles
    while "/Names" not in names:
        names = names.Kids[0]
    names.Names.extend([pikepdf.String(name), spec_of(pdf, name, content)])


def pinned_to_a_page(pdf: pikepdf.Pdf, name: str, content: bytes) -> None:
    pin = pikepdf.Dictionary(
        Type=pikepdf.Name.Annot,
        Subtype=pikepdf.Name.FileAttachment,
        Rect=[10, 10, 30, 30],
        FS=spec_of(pdf, name, content),
    )
    pdf.pages[0].Annots = pikepdf.Array([pdf.make_indirect(pin)])


def associated_with_a_page(pdf: pikepdf.Pdf, name: str, content: bytes) -> None:
    pdf.pages[0].AF = pikepdf.Array([spec_of(pdf, name, content)])


@pytest.mark.parametrize("attach", [twice_in_the_name_tree, pinned_to_a_page, associated_with_a_page])
def test_a_second_record_under_the_same_name_is_found_wherever_it_hangs(
    attach: Callable[[pikepdf.Pdf, str, bytes], None], handed: Handed, forged: Handed, tmp_path: Path
) -> None:
    with pikepdf.open(forged.pdf) as other:
        second = bytes(embedded(other)[EVENTS].read_bytes())
    with edited(handed.pdf, tmp_path) as (pdf, out):
        attach(pdf, EVENTS, second)
    verdict = checked(out, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert f"attached to the PDF more than once, under one name: {EVENTS}" in said(verdict)


def test_a_file_that_does_not_belong_to_the_record_is_named(handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        twice_in_the_name_tree(pdf, "invoice.exe", b"MZ")
    verdict = checked(out, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert "do not belong to its record: invoice.exe" in said(verdict)


def updated(data: bytes, objects: Mapping[int, bytes]) -> bytes:
    """An incremental update (ISO 32000-1, 7.5.6): new objects, a cross-reference section and a trailer at the end."""
    out = bytearray(data)
    places = {}
    for number, body in objects.items():
        places[number] = len(out)
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        root, size = pdf.trailer.Root.objgen[0], max(len(pdf.objects) + 1, *(n + 1 for n in objects))
    start = len(out)
    before = int(data[data.rindex(b"startxref") + 9 :].split()[0])
    out += b"xref\n"
    for number, place in places.items():
        out += b"%d 1\n%010d 00000 n \n" % (number, place)
    out += b"trailer\n<</Size %d /Root %d 0 R /Prev %d>>\nstartxref\n%d\n%%%%EOF\n" % (size, root, before, start)
    return bytes(out)


def test_a_record_replaced_in_an_incremental_update_is_found(handed: Handed, forged: Handed, tmp_path: Path) -> None:
    with pikepdf.open(handed.pdf) as pdf, pikepdf.open(forged.pdf) as other:
        replaced = {
            embedded(pdf)[name].objgen[0]: b"<</Length %d>>\nstream\n%s\nendstream" % (len(new), new)
            for name in (EVENTS, MANIFEST)
            if (new := bytes(embedded(other)[name].read_bytes()))
        }
    (tmp_path / "updated.pdf").write_bytes(updated(handed.pdf.read_bytes(), replaced))
    verdict = checked(tmp_path / "updated.pdf", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")


def test_an_update_that_changes_nothing_to_be_seen_still_leaves_a_pdf_that_two_readers_may_see_differently(
    handed: Handed, tmp_path: Path
) -> None:
    data = handed.pdf.read_bytes()
    with pikepdf.open(handed.pdf) as pdf:
        root = pdf.trailer.Root.objgen[0]
        body = pdf.Root.unparse(resolved=True)
    (tmp_path / "updated.pdf").write_bytes(updated(data, {root: body}))
    verdict = checked(tmp_path / "updated.pdf", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other marks")
    assert "earlier versions of itself" in said(verdict)


def placed_anew(data: bytes) -> bytes:
    """An unpacked PDF whose objects were moved, with the places in its cross-reference table put right (7.5.4)."""
    start = data.rindex(b"\nxref\n") + 1
    places = {int(found[1]): found.start(1) for found in re.finditer(rb"\n(\d+) 0 obj\n", data[:start])}
    head = re.match(rb"xref\n0 \d+\n\d{10} 65535 f \n", data[start:])
    assert head is not None
    table = b"".join(b"%010d 00000 n \n" % places[number] for number in sorted(places))
    rest = data[start + head.end() + len(table) : data.rindex(b"startxref")]
    return data[:start] + head[0] + table + rest + b"startxref\n%d\n%%%%EOF\n" % start


def test_a_dictionary_that_says_two_things_at_once_is_not_believed(handed: Handed, tmp_path: Path) -> None:
    # ISO 32000-1, 7.3.7: no key more than once; which of two counts, readers do not agree on.
    out = io.BytesIO()
    with pikepdf.open(handed.pdf) as pdf:
        decoded = pikepdf.StreamDecodeLevel.generalized
        pdf.save(out, compress_streams=False, stream_decode_level=decoded, fix_metadata_version=False)
    (tmp_path / "plain.pdf").write_bytes(placed_anew(out.getvalue()))
    assert checked(tmp_path / "plain.pdf", tmp_path).facts["pages"] == "same drawing"
    contents = re.findall(rb"/Contents \d+ 0 R", out.getvalue())
    twice = out.getvalue().replace(contents[0], contents[-1] + b" " + contents[0], 1)
    (tmp_path / "twice.pdf").write_bytes(placed_anew(twice))
    verdict = checked(tmp_path / "twice.pdf", tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other marks"), said(verdict)
    assert "loose ends that another reader may show" in said(verdict)


def covered_by_a_note(pdf: pikepdf.Pdf) -> None:
    look = pdf.make_stream(b"1 1 1 rg 0 0 400 40 re f")
    look.update({"/Type": pikepdf.Name.XObject, "/Subtype": pikepdf.Name.Form, "/BBox": [0, 0, 400, 40]})
    note = pikepdf.Dictionary(
        Type=pikepdf.Name.Annot,
        Subtype=pikepdf.Name.FreeText,
        Rect=[50, 500, 450, 540],
        Contents=pikepdf.String("all lifts passed"),
        DA=pikepdf.String("/Helv 10 Tf"),
        AP=pikepdf.Dictionary(N=look),
    )
    pdf.pages[0].Annots = pikepdf.Array([pdf.make_indirect(note)])


def covered_by_more_drawing(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"q 1 1 1 rg 50 300 400 200 re f Q")


def covered_in_the_same_stream(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[0]
    page.contents_coalesce()
    page.Contents.write(page.Contents.read_bytes() + b"\nq 1 1 1 rg 50 300 400 200 re f Q\n")


def with_other_letters(pdf: pikepdf.Pdf) -> None:
    """Shapes of letters changed in an embedded typeface: the words that are read stay the same."""
    font = next(o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/FontFile2" in o).FontFile2
    data = bytearray(font.read_bytes())
    data[len(data) // 2] ^= 0xFF
    font.write(bytes(data))


def with_other_colours(pdf: pikepdf.Pdf) -> None:
    """A colour profile that can turn red into white."""
    profile = pdf.Root.OutputIntents[0].DestOutputProfile
    data = bytearray(profile.read_bytes())
    data[-1] ^= 0xFF
    profile.write(bytes(data))


@pytest.mark.parametrize(
    "cover",
    [covered_by_a_note, covered_by_more_drawing, covered_in_the_same_stream, with_other_letters, with_other_colours],
)
def test_what_covers_or_bends_the_words_of_a_page_is_found_though_they_read_the_same(
    cover: Callable[[pikepdf.Pdf], None], handed: Handed, tmp_path: Path
) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        cover(pdf)
    same = [page.extract_text() for page in PdfReader(handed.pdf).pages]
    assert [page.extract_text() for page in PdfReader(out).pages] == same
    verdict = checked(out, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other marks")
    if cover in (covered_by_more_drawing, covered_in_the_same_stream):
        assert "The first difference is in what is drawn on page 1." in said(verdict)


def test_words_written_over_a_page_are_quoted(handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        font = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
        name = pdf.pages[0].add_resource(font, pikepdf.Name.Font)
        pdf.pages[0].contents_add(b"BT %s 12 Tf 60 400 Td (All lifts passed) Tj ET" % str(name).encode())
    verdict = checked(out, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other words")
    assert "All lifts passed" in str(verdict.facts["difference"])


def script() -> pikepdf.Dictionary:
    return pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)"))


def scripted(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Names.JavaScript = pikepdf.Dictionary(Names=[pikepdf.String("a"), pdf.make_indirect(script())])


def opened(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = pdf.make_indirect(pikepdf.Dictionary(S=pikepdf.Name.Launch, F=pikepdf.String("calc")))


def acting_on_a_page(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].AA = pikepdf.Dictionary(O=script())


def with_layers(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OCProperties = pikepdf.Dictionary(OCGs=pikepdf.Array(), D=pikepdf.Dictionary())


@pytest.mark.parametrize(
    ("add", "named"),
    [
        (scripted, "a script"),
        (opened, "an action on opening, an action that starts a program"),
        (acting_on_a_page, "actions that start by themselves, a script"),
        (with_layers, "layers that can be switched off"),
        (covered_by_a_note, "marks laid over its pages, marks or fields on its pages (FreeText)"),
    ],
)
def test_what_acts_or_hides_in_a_pdf_is_named(
    add: Callable[[pikepdf.Pdf], None], named: str, handed: Handed, tmp_path: Path
) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        add(pdf)
    verdict = checked(out, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert f"Added to this PDF was what its record does not give: {named}." in said(verdict)


def pictures_of(pdf: pikepdf.Pdf) -> list[pikepdf.Stream]:
    return [thing for page in pdf.pages for thing in page.resources.get("/XObject", pikepdf.Dictionary()).values()]


def with_picture(handed: Handed, tmp_path: Path, change: Callable[[Image.Image], bytes]) -> Judgment:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        (picture,) = pictures_of(pdf)
        printed = Image.open(io.BytesIO(picture.read_raw_bytes())).convert("RGB")
        picture.write(change(printed), filter=pikepdf.Name.DCTDecode)
        picture.Filter = pikepdf.Array([pikepdf.Name.DCTDecode])  # in the form in which it stood there
    return checked(out, tmp_path)


def test_a_picture_that_another_library_packed_looks_the_same_and_proves_nothing(
    handed: Handed, tmp_path: Path
) -> None:
    verdict = with_picture(handed, tmp_path, lambda picture: jpeg(picture, quality=95, subsampling="4:4:4"))
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "other pictures"), said(verdict)
    assert verdict.verdict.code == "proof-pages-open"
    assert "in a picture on page" in said(verdict)


@pytest.mark.parametrize("key", ["/Alt", "/ActualText", "/Lang"])
def test_other_words_for_a_screen_reader_are_found(key: str, handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        pdf.Root.StructTreeRoot.K.K[0].K[0][key] = pikepdf.String("95 percent")
    verdict = checked(out, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other marks")


def test_a_void_painted_over_in_a_printed_picture_is_found(handed: Handed, tmp_path: Path) -> None:
    def repaired(picture: Image.Image) -> bytes:
        picture.paste(picture.crop((0, 0, 70, 70)), (195, 55))
        return jpeg(picture)

    verdict = with_picture(handed, tmp_path, repaired)
    assert (verdict.exit_code, verdict.facts["pages"]) == (DAMAGED, "other marks")
    assert "in a picture on page" in said(verdict)


@pytest.mark.parametrize("claim", ["fieldassist 9.0", "All lifts passed."])
def test_a_forger_gains_little_by_claiming_that_another_version_drew_the_pages(
    claim: str, handed: Handed, tmp_path: Path
) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        stream = embedded(pdf)[MANIFEST]
        manifest = json.loads(stream.read_bytes()) | {"program": claim}
        stream.write(rfc8785.dumps(manifest))
        covered_by_more_drawing(pdf)
    verdict = checked(out, tmp_path)
    if claim.startswith("fieldassist"):
        assert verdict.exit_code == UNSEALED
        assert verdict.verdict.code == "proof-pages-open"
        assert f"The PDF says that {claim} made it, which no seal covers; this is {__version__}" in said(verdict)
    else:
        assert verdict.exit_code == DAMAGED
        assert "the program that it names is none of ours" in said(verdict)


def test_words_that_another_version_is_said_to_have_printed_are_vouched_for_by_nobody(
    handed: Handed, forged: Handed, tmp_path: Path
) -> None:
    record = with_record_of(forged.pdf, handed.pdf, tmp_path)
    with pikepdf.open(record, allow_overwriting_input=True) as pdf:
        stream = embedded(pdf)[MANIFEST]
        stream.write(rfc8785.dumps(json.loads(stream.read_bytes()) | {"program": "fieldassist 9.0"}))
        pdf.save(record, fix_metadata_version=False)
    verdict = checked(record, tmp_path)
    assert (verdict.exit_code, verdict.facts["pages"]) == (UNSEALED, "other words")
    assert verdict.verdict.code == "proof-pages-open"
    assert "Check the pages with fieldassist 9.0" in said(verdict)


def test_a_manifest_that_does_not_tell_of_its_record_is_refused(handed: Handed, tmp_path: Path) -> None:
    with edited(handed.pdf, tmp_path) as (pdf, out):
        stream = embedded(pdf)[MANIFEST]
        stream.write(rfc8785.dumps(json.loads(stream.read_bytes()) | {"site": "Brassmere Quay"}))
    verdict = checked(out, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert "gives the site as “Brassmere Quay”, the events as “Quillhaven Baths”" in said(verdict)


def test_events_that_make_no_sense_together_are_not_printed_and_not_believed(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db", with_photo=False)
    write_daily_pdf(record_of(log), tmp_path / "day.pdf")
    log.append_texts(
        [
            rfc8785.dumps(
                {
                    "at": {"boot": "b", "mono": 180.0, "wall": "2026-03-17T07:03:00+01:00"},
                    "body": {"area": "hall floor", "type": "area entered"},
                    "by": "edwin",
                    "source": {"confidence": None, "how": "typed", "model": "", "words": ""},
                    "id": "x",
                    "prev": log.head,
                    "seq": 5,
                }
            ).decode("utf-8")
        ]
    )
    log.close()
    lines = "".join(f"{text}\n" for text in texts_of(log.path)).encode("utf-8")
    with edited(tmp_path / "day.pdf", tmp_path) as (pdf, out):
        manifest = json.loads(embedded(pdf)[MANIFEST].read_bytes())
        manifest["files"][0] |= {"bytes": len(lines), "sha256": hashlib.sha256(lines).hexdigest()}
        manifest |= {"events": 5, "head": check_texts(texts_of(log.path)).hashes[-1]}
        embedded(pdf)[EVENTS].write(lines)
        embedded(pdf)[MANIFEST].write(rfc8785.dumps(manifest))
    verdict = checked(out, tmp_path)
    assert verdict.exit_code == DAMAGED
    assert "the attached record cannot be printed again" in said(verdict)


def test_a_pdf_without_a_record_cannot_be_checked(tmp_path: Path) -> None:
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(tmp_path / "blank.pdf")
        pdf.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="", user=""))
    assert "No record is attached" in said(verdict := checked(tmp_path / "blank.pdf", tmp_path))
    assert verdict.exit_code == UNREADABLE
    assert "the PDF is encrypted" in said(verdict := checked(tmp_path / "locked.pdf", tmp_path))
    assert verdict.exit_code == UNREADABLE


# --- databases ----------------------------------------------------------------------------------------------------


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A sealed day in one closed file, to be forged."""
    log = begin(tmp_path / "day.db", with_photo=False)
    seal(log)
    log.close()
    return log.path


def altered(day: Path, *statements: str) -> Path:
    with closing(sqlite3.connect(day, isolation_level=None)) as database:
        database.execute("DROP TRIGGER IF EXISTS events_are_never_updated")
        database.execute("DROP TRIGGER IF EXISTS events_are_never_deleted")
        database.create_function("sha256", 1, lambda text: hashlib.sha256(text.encode("utf-8")).hexdigest())
        for statement in statements:
            database.execute(statement)
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return day


BETTER = "replace(text, 'eighty', 'ninety')"


@pytest.mark.parametrize(
    ("statement", "bad"),
    [
        (f"UPDATE events SET text = {BETTER}", 3),
        (f"UPDATE events SET hash = sha256({BETTER}), text = {BETTER}", 3),
        ("UPDATE events SET hash = replace(hash, 'a', 'b') WHERE seq = 3", 3),
        ("UPDATE events SET id = 'e9' WHERE seq = 2", 2),
        ("UPDATE events SET text = CAST(text AS BLOB) WHERE seq = 2", 2),
        ("DELETE FROM events WHERE seq = 2", 2),
        ("INSERT INTO events SELECT 0, 'e0', text, hash FROM events WHERE seq = 1", 1),
        ("INSERT INTO events SELECT 9, 'e9', text, hash FROM events WHERE seq = 2", 7),
        ("INSERT INTO events SELECT 7, 'e9', text, hash FROM events WHERE seq = 2", 7),
        ("UPDATE events SET text = text || ' ' WHERE seq = 4", 4),
    ],
)
def test_a_changed_row_is_named_with_the_good_ones_before_it(
    statement: str, bad: int, small: Path, tmp_path: Path
) -> None:
    verdict = checked(altered(small, statement), tmp_path)
    assert verdict.exit_code == DAMAGED
    assert (verdict.facts["first_bad_event"], verdict.facts["good_events"]) == (bad, bad - 1), said(verdict)


COPY = "CREATE TABLE kept AS SELECT * FROM events"


@pytest.mark.parametrize(
    ("statements", "told"),
    [
        (
            (COPY, "DROP TABLE events", "CREATE VIEW events AS SELECT seq, id, text, hash FROM kept"),
            "no table of events",
        ),
        (
            (COPY, "DROP TABLE events", "CREATE VIRTUAL TABLE events USING fts5(seq, id, text, hash)"),
            "no table of events",
        ),
        (("ALTER TABLE events RENAME COLUMN hash TO digest",), "no table of events"),
        ((COPY,), "events_are_never_updated, kept"),
        (
            ("CREATE TRIGGER later AFTER INSERT ON events BEGIN DELETE FROM events; END",),
            "events_are_never_updated, later",
        ),
        (
            ("CREATE VIEW events_are_never_updated AS SELECT 1",),
            "lacks what it should have: events_are_never_deleted, events_are_never_updated",
        ),
        (("PRAGMA application_id = 7",), "does not carry the mark"),
    ],
)
def test_a_database_that_only_looks_like_a_day_is_seen_through(
    statements: Sequence[str], told: str, small: Path, tmp_path: Path
) -> None:
    verdict = checked(altered(small, *statements), tmp_path)
    assert verdict.exit_code == DAMAGED
    assert told in said(verdict)


def cells(data: bytes) -> Iterator[int]:
    """Every byte of every row of the events: SQLite, "Database File Format", 1.6, table leaf pages after the first."""
    size = struct.unpack(">H", data[16:18])[0]
    for page in range(size, len(data), size):
        if data[page] != 0x0D:
            continue
        count = struct.unpack(">H", data[page + 3 : page + 5])[0]
        for (start,) in struct.iter_unpack(">H", data[page + 8 : page + 8 + 2 * count]):
            at = page + start
            length, shift = 0, at
            while True:
                byte = data[shift]
                length, shift = length << 7 | byte & 0x7F, shift + 1
                if byte < 0x80:
                    break
            assert length < size - 35  # nothing of these rows lies on another page
            yield from range(at, shift + 1 + length)


def test_a_flip_in_any_byte_of_the_events_in_a_database_is_found(tmp_path: Path) -> None:
    day, scratch = tmp_path / "day.db", tmp_path / "scratch"
    scratch.mkdir()
    with DayLog.create(day) as log:
        begun(log)
        seal(log)
    data = day.read_bytes()
    assert examine(day, Known(EDWIN.public_key), scratch).exit_code == WHOLE
    places = list(cells(data))
    assert len(places) > sum(len(text.encode("utf-8")) for text in texts_of(day))
    unseen, stored = [], rows_of(day)
    for place in places:
        day.write_bytes(data[:place] + bytes([data[place] ^ 1 << place % 8]) + data[place + 1 :])
        # Where a row would hold its own number SQLite keeps nothing, and takes a zero for nothing: that says the same.
        if examine(day, NOTHING_KNOWN, scratch).exit_code not in (DAMAGED, UNREADABLE) and rows_of(day) != stored:
            unseen.append(place)
    assert not unseen


# --- what is none of the three ------------------------------------------------------------------------------------


def other_database(path: Path) -> None:
    with closing(sqlite3.connect(path)) as database:
        database.execute("CREATE TABLE events (seq, id, text, hash)")


@pytest.mark.parametrize(
    "make",
    [
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(b"Daily log, all good."),
        lambda path: path.write_bytes(jpeg(photo())),
        lambda path: path.write_bytes(b"%PDF-1.7\nnothing follows"),
        lambda path: path.write_bytes(b"SQLite format 3\0" + bytes(4000)),
        other_database,
        Path.mkdir,
        str,  # nothing there
    ],
)
def test_what_is_no_record_is_not_judged(make: Callable[[Path], Any], tmp_path: Path) -> None:
    make(tmp_path / "file")
    verdict = checked(tmp_path / "file", tmp_path)
    assert verdict.exit_code == UNREADABLE
    assert lines(verdict)[-1] == "Not verified."


# --- the process boundary -----------------------------------------------------------------------------------------


def test_the_command_tells_people_in_words_and_programs_in_json(
    handed: Handed, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "edwin.pem").write_text(public_pem(EDWIN.public_key))
    assert main(["verify", str(handed.pdf), "--key", str(tmp_path / "edwin.pem")]) == WHOLE
    assert capsys.readouterr().out.splitlines()[-1] == "Whole, sealed to the last event, and in agreement with itself."
    assert main(["verify", str(handed.day), "--json"]) == UNSEALED
    answer = json.loads(capsys.readouterr().out)
    assert answer["ok"] is False
    assert answer["lines"][-1].startswith("Whole, but nobody vouched for the key")
    assert answer["seals"][0]["fingerprint"] == EDWIN.fingerprint
    assert answer["key"] is None


def test_a_console_without_the_letters_of_a_site_still_gets_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    paper = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(paper, encoding="ascii", write_through=True))
    answer = Judgment(
        (Finding(message("proof-day", site="Žofín Quay Baths", date="soon")),), message("proof-unread"), UNREADABLE, {}
    )
    monkeypatch.setattr("fieldassist.cli.verify.verify", lambda path, known: answer)  # noqa: ARG005
    assert main(["verify", "day.pdf"]) == UNREADABLE
    assert paper.getvalue().splitlines() == [rb"The day: \u017dof\xedn Quay Baths, soon.", b"Not verified."]


def test_what_is_no_key_is_refused_before_anything_is_read(handed: Handed, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["verify", str(handed.pdf), "--key", "edwin"]) == UNREADABLE
    assert "There is no key that can be read at edwin" in capsys.readouterr().err


def bomb(layers: int) -> bytes:
    """A PDF whose attachment swells to 1 GB: blocks of zeros (RFC 1951), one compressed block repeated."""
    squeeze = zlib.compressobj(9)
    head = squeeze.compress(bytes(1 << 24)) + squeeze.flush(zlib.Z_FULL_FLUSH)
    block = squeeze.compress(bytes(1 << 24)) + squeeze.flush(zlib.Z_FULL_FLUSH)
    data = head + block * layers + squeeze.flush()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        spec = pikepdf.AttachedFileSpec(pdf, b"", filename=EVENTS)
        pdf.attachments[EVENTS] = spec
        spec.obj.EF.F.write(data, filter=pikepdf.Name.FlateDecode)
        paper = io.BytesIO()
        pdf.save(paper, stream_decode_level=pikepdf.StreamDecodeLevel.none)
    return paper.getvalue()


def test_a_pdf_that_swells_when_it_is_read_costs_no_more_than_the_reader_may_take(tmp_path: Path) -> None:
    (tmp_path / "bomb.pdf").write_bytes(bomb(62))
    verdict = verify(tmp_path / "bomb.pdf", memory=800 << 20)
    assert verdict.exit_code == UNREADABLE


def test_an_event_with_a_number_of_endless_digits_is_answered(tmp_path: Path) -> None:
    log = begin(tmp_path / "day.db", with_photo=False)
    at_step = {"area": "a", "section": "s", "round": 1, "step": "t"}
    kept(log, ev.ReadingCalled(**at_step, quantity="coverage", value=95, unit="percent"))
    log.close()
    altered(log.path, """UPDATE events SET text = replace(text, '"value":"95"', '"value":"1e9999999999"')""")
    verdict = verify(log.path, seconds=60)
    assert (verdict.exit_code, verdict.facts["first_bad_event"]) == (DAMAGED, 5)


def test_reading_that_takes_too_long_is_given_up_and_ended(handed: Handed) -> None:
    verdict = verify(handed.pdf, seconds=0.01)
    assert verdict.exit_code == UNREADABLE
    assert "it was not read within 0.01 s" in said(verdict)
    assert multiprocessing.active_children() == []


def test_each_finding_is_told_while_the_check_runs(handed: Handed) -> None:
    seen: list[Finding | None] = []
    verdict = verify(handed.day, watch=seen.append)
    assert tuple(finding for finding in seen if finding is not None) == verdict.findings
    assert verdict.findings


def test_a_check_that_nobody_waits_for_any_more_is_ended(handed: Handed) -> None:
    class Left(Exception):
        pass

    def leave(_found: Finding | None) -> None:
        raise Left

    with pytest.raises(Left):
        verify(handed.day, watch=leave)
    assert multiprocessing.active_children() == []
