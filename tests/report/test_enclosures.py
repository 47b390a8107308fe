"""The record goes with the PDF: whoever has the PDF alone has the whole day, and can print it again."""

from __future__ import annotations

import dataclasses
import hashlib
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from pypdf import PdfReader

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.facts.build import NoFacts
from fieldassist.language import Words
from fieldassist.record.chain import check_texts
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import disagreements, read_manifest, split_lines
from fieldassist.record.picture import COPY_BYTES
from fieldassist.report import enclosures
from fieldassist.report.daily import CannotWrite, Record, record_of, write_daily_pdf
from fieldassist.report.grid import in_fours
from fieldassist.trade.message import message
from tests.report.conftest import words


def files_of(path: Path) -> dict[str, bytes]:
    """What is attached to a PDF, by another library than the one that attached it."""
    return {entry.name: entry.content for entry in PdfReader(path).attachment_list}


def printed_again(path: Path, folder: Path, again: Path) -> None:
    """What an inspector does who has nothing but the PDF."""
    files = files_of(path)
    folder.mkdir()
    for name, data in files.items():
        if name.startswith("attached/"):
            (folder / name.removeprefix("attached/")).write_bytes(data)
    texts = split_lines(files["events.jsonl"])
    manifest = read_manifest(files["manifest.json"])
    chain = check_texts(texts, manifest.head)
    assert chain.bad is None
    write_daily_pdf(Record(chain.events, texts, chain.hashes, folder, manifest.program), again)


# --- what is attached ---------------------------------------------------------------------------------------------


def test_the_stored_texts_are_attached_byte_for_byte_and_chain_by_sha_256(
    handed_over: Any, handed_over_pdf: Path
) -> None:
    lines = files_of(handed_over_pdf)["events.jsonl"]
    assert lines == "".join(f"{text}\n" for text in handed_over.record.texts).encode()
    # By hand, with nothing of the program: FIPS 180-4 over each line (RFC 8785), linked by "prev".
    before = "0" * 64
    for line in lines.decode().splitlines():
        raw = json.loads(line)
        assert raw["prev"] == before
        assert rfc8785.dumps(raw) == line.encode()
        before = hashlib.sha256(line.encode()).hexdigest()
    assert in_fours(before[:24]) in words(handed_over_pdf)


def test_the_manifest_names_every_file_with_its_size_and_hash(handed_over: Any, handed_over_pdf: Path) -> None:
    files = files_of(handed_over_pdf)
    manifest = read_manifest(files["manifest.json"])
    assert disagreements(manifest, handed_over.site.events) == []
    assert manifest.head == handed_over.record.hashes[-1]
    assert manifest.program == "fieldassist 0.0.test"
    named = [f.name for f in manifest.files]
    assert named[:3] == ["events.jsonl", "sequence.csv", "sequence.json"]
    assert named[3:] == sorted(f"attached/{name}" for name in handed_over.site.files)
    here = [entry for entry in manifest.files if not entry.left_out]
    for entry in here:
        assert (entry.bytes, entry.sha256) == (
            len(files[entry.name]),
            hashlib.sha256(files[entry.name]).hexdigest(),
        )
    assert files.keys() == {"manifest.json", *(entry.name for entry in here)}


def test_of_a_photo_its_copy_is_attached_and_the_photo_is_named_as_not_here(
    handed_over: Any, handed_over_pdf: Path
) -> None:
    files = files_of(handed_over_pdf)
    photos = [event.body for event in handed_over.site.events if isinstance(event.body, ev.PhotoAttached)]
    copied = [photo for photo in photos if photo.copy_file]
    [alone] = [photo for photo in photos if not photo.copy_file]
    assert len(copied) > 3
    for photo in copied:
        assert hashlib.sha256(files[f"attached/{photo.copy_file}"]).hexdigest() == photo.copy_sha256
        assert f"attached/{photo.file}" not in files
    # One that was taken before copies were made goes itself.
    assert f"attached/{alone.file}" in files
    left_out = {f.name: f.sha256 for f in read_manifest(files["manifest.json"]).files if f.left_out}
    assert left_out == {f"attached/{photo.file}": photo.sha256 for photo in copied}


def test_another_program_takes_out_the_same_files(handed_over_pdf: Path, tmp_path: Path) -> None:
    # pdfdetach (poppler) makes no folders.
    (tmp_path / "attached").mkdir()
    done = subprocess.run(
        ["pdfdetach", "-saveall", "-o", tmp_path, handed_over_pdf], check=True, capture_output=True, text=True
    )
    assert (done.stdout, done.stderr) == ("", "")
    files = files_of(handed_over_pdf)
    assert {name: (tmp_path / name).read_bytes() for name in files} == files


def test_the_record_of_a_log_is_what_the_log_stores(handed_over: Any, tmp_path: Path) -> None:
    with DayLog.create(tmp_path / "day.db") as log:
        log.append(handed_over.site.events)
    with DayLog.open(tmp_path / "day.db", read_only=True) as log:
        record = record_of(log)
    assert list(record.texts) == handed_over.record.texts
    assert list(record.hashes) == handed_over.record.hashes
    assert record.attachments == tmp_path / "day.attached"
    assert re.fullmatch(r"fieldassist \d+\.\d+\.\d+", record.program)


# --- what cannot be attached --------------------------------------------------------------------------------------


def _lost(handed_over: Any, folder: Path) -> tuple[Record, ev.PhotoAttached, ev.PhotoAttached, ev.PhotoAttached]:
    """A record of which three photos are not whole: of the first the copy is missing, of the second it was changed and
    the photo is missing, of the third both are."""
    record = _copy(handed_over, folder)
    photos = [e.body for e in record.events if isinstance(e.body, ev.PhotoAttached) and e.body.copy_file]
    first, second, third = photos[:3]
    for gone in (first.copy_file, second.file, third.file, third.copy_file):
        (folder / gone).unlink()
    (folder / second.copy_file).write_bytes(b"changed")
    return record, first, second, third


def test_where_a_copy_is_not_whole_the_photo_goes_and_what_is_missing_is_named_and_stops_nothing(
    handed_over: Any, tmp_path: Path
) -> None:
    record, first, second, third = _lost(handed_over, tmp_path / "attached")
    made = write_daily_pdf(record, tmp_path / "d.pdf")
    assert {(x.name, x.why) for x in made.left_out} == {
        (first.copy_file, "missing"),
        (second.copy_file, "damaged"),
        (second.file, "missing"),
        (third.copy_file, "missing"),
        (third.file, "missing"),
    }
    files = files_of(made.path)
    assert f"attached/{first.file}" in files
    enclosed = enclosures.enclose(record)
    shown = [enclosed.picture(photo.file) for photo in (first, second, third)]
    assert shown == [handed_over.site.files[first.file], None, None]
    told = words(made.path)
    for name in (first.copy_file, second.file, third.file):
        assert name in told
    assert first.file not in told


def test_of_more_than_fits_the_smallest_files_are_attached(handed_over: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    originals = {
        e.body.file for e in handed_over.site.events if isinstance(e.body, ev.PhotoAttached) and e.body.copy_file
    }
    sizes = sorted((len(data), name) for name, data in handed_over.site.files.items() if name not in originals)
    monkeypatch.setattr(enclosures, "LARGEST_TOGETHER", sizes[0][0] + sizes[1][0])
    enclosed = enclosures.enclose(handed_over.record)
    kept = {name.removeprefix("attached/") for name in enclosed.files if name.startswith("attached/")}
    assert kept == {sizes[0][1], sizes[1][1]}
    assert {x.why for x in enclosed.left_out} == {"too large"}


def test_190_copies_of_the_largest_size_fit() -> None:
    assert 190 * COPY_BYTES <= enclosures.LARGEST_TOGETHER


def test_a_file_that_is_not_named_by_its_content_is_not_opened_and_is_told(site: Any, tmp_path: Path) -> None:
    (tmp_path / "secret.jpg").write_bytes(b"not of this day")
    site.start("shower wall").do(cmd.AttachPhoto(file="secret.jpg", sha256="ab" * 32))
    made = write_daily_pdf(dataclasses.replace(site.record(), attachments=tmp_path), tmp_path / "d.pdf")
    assert not [name for name in files_of(made.path) if name.startswith("attached/")]
    told = Words()(message("page-attached-file", event=site.events[-1].seq, file="secret.jpg"))
    assert told in words(made.path)


def test_more_files_than_a_manifest_can_name_are_refused_in_a_sentence(
    handed_over: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(enclosures, "MOST_FILES", 3)
    with pytest.raises(CannotWrite, match=r"report-too-many-files\(count=\d+\)"):
        write_daily_pdf(handed_over.record, tmp_path / "d.pdf")
    assert list(tmp_path.iterdir()) == []


def test_a_log_that_does_not_begin_with_its_day_is_refused_in_a_sentence(site: Any, tmp_path: Path) -> None:
    note = site.add(ev.NoteMade(text="before the day"))
    site.events = [note.model_copy(update={"seq": 1}), site.events[0].model_copy(update={"seq": 2})]
    with pytest.raises(NoFacts, match="facts-no-day"):
        write_daily_pdf(site.record(), tmp_path / "d.pdf")
    assert list(tmp_path.iterdir()) == []


# --- the same bytes -----------------------------------------------------------------------------------------------


def test_the_pdf_printed_again_from_what_is_attached_to_it_has_the_same_bytes(
    handed_over_pdf: Path, tmp_path: Path
) -> None:
    printed_again(handed_over_pdf, tmp_path / "attached", tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == handed_over_pdf.read_bytes()


def test_so_has_one_from_which_files_are_missing_and_which_ran_over_its_size(
    handed_over: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(enclosures, "LARGEST_TOGETHER", 3000)
    made = write_daily_pdf(_lost(handed_over, tmp_path / "attached")[0], tmp_path / "d.pdf")
    assert {x.why for x in made.left_out} == {"missing", "damaged", "too large"}
    printed_again(made.path, tmp_path / "taken out", tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == made.path.read_bytes()


def test_another_process_in_another_time_zone_and_language_prints_the_same_bytes(
    handed_over: Any, handed_over_pdf: Path, tmp_path: Path
) -> None:
    (tmp_path / "events.jsonl").write_text("".join(f"{text}\n" for text in handed_over.record.texts), encoding="utf-8")
    script = (
        "import sys; from pathlib import Path; from fieldassist.record.chain import check_texts; "
        "from fieldassist.record.manifest import split_lines; "
        "from fieldassist.report.daily import *; folder = Path(sys.argv[1]); "
        "texts = split_lines((folder / 'events.jsonl').read_bytes()); chain = check_texts(texts); "
        "write_daily_pdf(Record(chain.events, texts, chain.hashes, Path(sys.argv[2]), 'fieldassist 0.0.test'), "
        "folder / 'd.pdf')"
    )
    elsewhere = {**os.environ, "TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "77"}
    subprocess.run([sys.executable, "-c", script, tmp_path, handed_over.folder], check=True, env=elsewhere)
    assert (tmp_path / "d.pdf").read_bytes() == handed_over_pdf.read_bytes()


def test_dates_are_those_of_the_last_event(handed_over: Any, handed_over_pdf: Path) -> None:
    meta = PdfReader(handed_over_pdf).metadata
    assert meta is not None
    assert meta.creation_date is not None
    assert meta.creation_date.isoformat() == handed_over.site.events[-1].at.wall
    assert meta.modification_date == meta.creation_date


def _copy(handed_over: Any, folder: Path) -> Record:
    folder.mkdir()
    for name, data in handed_over.site.files.items():
        (folder / name).write_bytes(data)
    return dataclasses.replace(handed_over.record, attachments=folder)
