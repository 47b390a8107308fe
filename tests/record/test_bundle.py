"""A bundle carries a day whole or is refused, and taking it in never loses or mixes what is there."""

from __future__ import annotations

import contextlib
import copy
import hashlib
import json
import os
import shutil
import sqlite3
import stat
import struct
import subprocess
import sys
import tracemalloc
import zipfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import nullcontext
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import rfc8785
from filelock import FileLock
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.record import attachments, bundle
from fieldassist.record.beside import GoesAlong, keep_beside, proofs_beside
from fieldassist.record.bundle import BundleProblem, open_bundle, pack, take_in
from fieldassist.record.chain import GENESIS
from fieldassist.record.keys import SigningKey
from fieldassist.record.lines import lines_of
from fieldassist.record.log import AlreadyOpen, DayLog, LogDamaged, LogProblem
from fieldassist.record.manifest import ATTACHED, EVENTS, LARGEST_PROOF, MANIFEST, PAGE, PDF, ROSTER
from fieldassist.record.receipt import make_receipt, sealed_head
from fieldassist.record.recover import recover
from fieldassist.record.seal import check_seals, make_seal
from tests.conftest import Crew
from tests.small_day import EDWIN, PLAN, kept

OWEN = SigningKey("owen", Role.OWNER, b"\x02" * 32)
NOW = datetime.fromisoformat("2026-03-17T16:00:00+01:00")
PHOTO = b"\xff\xd8\xff a lifted tile, face down"
SOUND = b"fLaC the north corner was reset"


def small_day(path: Path, *, notes: int = 1, sealed: bool = True, site: str = "Quillhaven Baths") -> Path:
    """A day of a few kilobytes, with a photo, a dictated note and a seal."""
    with DayLog.create(path) as log:
        kept(log, ev.DayOpened(plan=DayPlan.model_validate(PLAN | {"site": site})))
        kept(log, *(ev.NoteMade(text=f"note {n}") for n in range(notes)))
        photo, sound = attachments.keep(path, PHOTO, ".jpg"), attachments.keep(path, SOUND, ".flac")
        kept(log, ev.NoteMade(text="north corner reset", audio=sound.file, sha256=sound.sha256))
        place = {"area": "hall floor", "section": "", "round": 0, "step": "", "answers": False}
        kept(log, ev.PhotoAttached(**place, file=photo.file, sha256=photo.sha256))
        if sealed:
            kept(log, ev.DaySigned(name="edwin", role=Role.FOREMAN))
            kept(log, make_seal(log.events, log.hashes, EDWIN))
    return path


def cut(day: Path, path: Path, count: int) -> Path:
    """The first events of a day, as another day."""
    with DayLog.open(day, read_only=True) as log, DayLog.create(path) as other:
        other.append_texts(log.texts[:count])
    return path


def went_on(day: Path, text: str) -> Path:
    with DayLog.open(day) as log:
        kept(log, ev.NoteMade(text=text))
    return day


def texts_of(day: Path) -> list[str]:
    with DayLog.open(day, read_only=True) as log:
        return log.texts


def zipped(path: Path, files: Mapping[str, bytes]) -> Path:
    """The same container by Python's zipfile, which knows nothing of ours."""
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in files.items():
            archive.writestr(plain_entry(name), data)
    return path


def plain_entry(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    entry.create_system = 3
    entry.external_attr = (stat.S_IFREG | 0o644) << 16
    return entry


def content(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, but for locks, which hold nothing."""
    found = (p for p in folder.rglob("*") if p.is_file() and p.suffix != ".lock")
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in found}


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_day(tmp_path_factory.mktemp("tablet") / "2026-03-17.db")


@pytest.fixture(scope="module")
def paper(day: Path) -> Path:
    path = day.with_name("daily-log.pdf")
    path.write_bytes(b"%PDF-1.4 the daily log")
    return path


@pytest.fixture(scope="module")
def sealed(day: Path, paper: Path) -> Path:
    """A small bundle, to be looked at only."""
    return pack(day, day.with_suffix(".bundle"), paper).path


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Where days are taken in."""
    return tmp_path / "site"


# --- handing over -------------------------------------------------------------------------------------------------


def test_a_day_with_photos_and_spoken_notes_arrives_as_it_was_and_can_be_gone_on_with(
    crew: Crew, clock: SimulatedClock, tmp_path: Path, site: Path
) -> None:
    path = crew.day.log.path
    photo, sound = attachments.keep(path, PHOTO, ".jpg"), attachments.keep(path, SOUND, ".flac")
    crew.open_shower()
    crew.day.do(cmd.AttachPhoto(file=photo.file, sha256=photo.sha256))
    crew.day.do(cmd.MakeNote(text="corner reset", audio=sound.file, sha256=sound.sha256))
    crew.day.close()

    packed = pack(path, tmp_path / "day.bundle")
    arrived = open_bundle(packed.path)
    assert (packed.events, packed.head, packed.left_out) == (len(arrived.events), arrived.head, ())
    assert packed.bytes == packed.path.stat().st_size
    assert [f.name for f in arrived.files] == [EVENTS, *sorted([ATTACHED + photo.file, ATTACHED + sound.file])]
    assert packed.files == len(arrived.files)

    taken = take_in(arrived, site)
    assert taken.new
    assert (taken.day, taken.events, taken.added, taken.files) == (
        site / "2026-03-17.db",
        packed.events,
        packed.events,
        2,
    )
    assert texts_of(taken.day) == texts_of(path)
    assert tree(attachments.folder_of(taken.day)) == {photo.file: PHOTO, sound.file: SOUND}
    with Day.resume(taken.day, clock) as there:
        Crew(there, clock).say("new batch")


def test_the_container_is_byte_for_byte_what_another_zip_writer_makes_of_the_same_files(
    sealed: Path, tmp_path: Path
) -> None:
    # PKWARE APPNOTE 6.3.10, as Python's zipfile implements it.
    assert zipped(tmp_path / "theirs.zip", content(sealed)).read_bytes() == sealed.read_bytes()


def test_archive_programs_find_nothing_wrong(sealed: Path) -> None:
    testers = [
        [sys.executable, "-m", "zipfile", "-t"],
        ["unzip", "-tqq"],
        ["7z", "t"],
        ["bsdtar", "-tf"],
        ["zip", "-T"],
    ]
    for tester in testers:
        if shutil.which(tester[0]) is not None:
            done = subprocess.run([*tester, str(sealed)], capture_output=True, text=True)
            assert done.returncode == 0, (tester, done.stdout, done.stderr)


def test_the_chain_and_the_hashes_can_be_checked_without_this_program(sealed: Path) -> None:
    # SHA-256 (FIPS 180-4) over each line, whose "prev" is that of the line before, ends in the manifest's head.
    files = content(sealed)
    manifest = json.loads(files[MANIFEST])
    before = "0" * 64
    for line in files[EVENTS].splitlines():
        assert json.loads(line)["prev"] == before
        before = hashlib.sha256(line).hexdigest()
    assert before == manifest["head"]
    for entry in manifest["files"]:
        assert hashlib.sha256(files[entry["name"]]).hexdigest() == entry["sha256"]
        assert len(files[entry["name"]]) == entry["bytes"]


def test_the_seal_is_still_good_after_the_journey(sealed: Path, site: Path) -> None:
    with DayLog.open(take_in(open_bundle(sealed), site).day) as log:
        [seal] = check_seals(log.events, log.hashes)
    assert seal.good
    assert seal.public_key == EDWIN.public_key


def test_the_same_day_gives_the_same_bytes_wherever_and_whenever_it_is_packed(
    sealed: Path, paper: Path, tmp_path: Path, site: Path
) -> None:
    elsewhere = take_in(open_bundle(sealed), site).day
    os.utime(elsewhere, (0, 0))
    again = pack(elsewhere, tmp_path / "another name.zip", paper).path
    assert again.read_bytes() == sealed.read_bytes()


def test_a_day_that_the_crew_still_works_on_can_be_handed_over(crew: Crew, tmp_path: Path) -> None:
    crew.say("this is rosa")
    packed = pack(crew.day.log.path, tmp_path / "noon.bundle")
    assert packed.head == crew.day.log.head
    crew.say("start area shower wall")


def test_the_daily_log_travels_along_and_is_not_unpacked(sealed: Path, paper: Path, site: Path) -> None:
    arrived = open_bundle(sealed)
    assert arrived.read(PDF) == paper.read_bytes()
    take_in(arrived, site)
    assert not [name for name in tree(site) if name.endswith(".pdf")]


def test_an_attachment_that_the_tablet_lost_is_left_out_and_named(tmp_path: Path, site: Path) -> None:
    day = small_day(tmp_path / "day.db")
    photo, sound = sorted(attachments.folder_of(day).iterdir(), key=lambda p: p.suffix, reverse=True)
    photo.unlink()
    sound.write_bytes(SOUND[:-1])
    packed = pack(day, tmp_path / "day.bundle")
    assert set(packed.left_out) == {photo.name, sound.name}
    arrived = open_bundle(packed.path)
    assert {f.name for f in arrived.left_out} == {ATTACHED + photo.name, ATTACHED + sound.name}
    assert [f.name for f in arrived.files] == [EVENTS]
    assert take_in(arrived, site).files == 0
    # A tablet that still has it heals the other.
    whole = pack(small_day(tmp_path / "twin.db"), tmp_path / "twin.bundle").path
    assert take_in(open_bundle(whole), site).files == 2
    assert set(tree(site / "2026-03-17.attached").values()) == {PHOTO, SOUND}


def test_a_file_that_is_not_named_by_its_content_is_named_as_left_out(tmp_path: Path) -> None:
    with DayLog.create(tmp_path / "day.db") as log:
        kept(log, ev.DayOpened(plan=DayPlan.model_validate(PLAN)))
        kept(log, ev.NoteMade(text="x", audio="../../elsewhere.wav", sha256="ab" * 32))
    packed = pack(tmp_path / "day.db", tmp_path / "day.bundle")
    assert packed.left_out == ("../../elsewhere.wav",)
    assert open_bundle(packed.path).left_out == ()


def test_progress_is_told_up_to_the_end(sealed: Path, day: Path, tmp_path: Path, site: Path) -> None:
    for job in (
        lambda tell: pack(day, tmp_path / "again.bundle", progress=tell),
        lambda tell: open_bundle(sealed, tell),
        lambda tell: take_in(open_bundle(sealed), site, tell),
    ):
        told: list[tuple[int, int]] = []
        job(lambda done, total, told=told: told.append((done, total)))
        assert [done for done, _ in told] == sorted(done for done, _ in told)
        assert told[-1][0] == told[-1][1] > 0


# --- what cannot be handed over -----------------------------------------------------------------------------------


def test_a_log_without_a_day_is_nothing_to_hand_over(tmp_path: Path) -> None:
    DayLog.create(tmp_path / "day.db").close()
    with pytest.raises(BundleProblem, match="record-bundle-nothing"):
        pack(tmp_path / "day.db", tmp_path / "day.bundle")


def test_a_bundle_never_replaces_the_day_that_it_is_made_of(day: Path, paper: Path) -> None:
    before = day.read_bytes()
    for out in (day, day.parent / "." / day.name, paper):
        with pytest.raises(BundleProblem, match="record-bundle-onto-itself"):
            pack(day, out, paper)
    assert day.read_bytes() == before


def test_a_disk_that_refuses_leaves_the_old_bundle_and_nothing_else(
    day: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = pack(day, tmp_path / "day.bundle").path
    before = tree(tmp_path)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BundleProblem, match="record-bundle-not-written"):
        pack(day, out)
    assert tree(tmp_path) == before


def test_an_attachment_that_changes_while_it_is_packed_stops_the_packing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    day = small_day(tmp_path / "day.db")
    [photo] = attachments.folder_of(day).glob("*.jpg")
    write = bundle._write

    def late(*given: Any) -> int:
        photo.write_bytes(PHOTO[::-1])  # of the same length
        return write(*given)

    monkeypatch.setattr(bundle, "_write", late)
    with pytest.raises(BundleProblem, match="record-bundle-changed-while-packed"):
        pack(day, tmp_path / "day.bundle")
    assert not [p for p in tmp_path.iterdir() if "bundle" in p.name]


@pytest.mark.parametrize(
    ("name", "value"),
    [("LARGEST", {MANIFEST: 9999, EVENTS: 100}), ("LARGEST_BUNDLE", 1000), ("MOST_FILES", 1), ("MOST_EVENTS", 3)],
)
def test_a_day_beyond_the_bounds_is_refused_before_anything_is_written(
    day: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, value: Any
) -> None:
    monkeypatch.setattr(bundle, name, value)
    with pytest.raises(BundleProblem, match="record-bundle-too-large"):
        pack(day, tmp_path / "day.bundle")
    assert tree(tmp_path) == {}


# --- damage -------------------------------------------------------------------------------------------------------


def line_at(data: bytes, place: int) -> int | None:
    """The number of the event that the byte at `place` belongs to."""
    start = data.index(b"events.jsonl{") + len(EVENTS)
    lines = content_lines(data)
    for number, line in enumerate(lines, start=1):
        if start <= place < start + len(line):
            return number
        start += len(line)
    return None


def content_lines(data: bytes) -> list[bytes]:
    start = data.index(b"events.jsonl{") + len(EVENTS)
    manifest = json.loads(data[43 : data.index(b"PK\3\4", 43)])
    return data[start : start + manifest["files"][0]["bytes"]].splitlines(keepends=True)


def test_any_one_changed_byte_is_found_and_the_event_named(sealed: Path, tmp_path: Path) -> None:
    whole = sealed.read_bytes()
    events = len(content_lines(whole))
    path = tmp_path / "changed.bundle"
    path.write_bytes(whole)
    with path.open("r+b", buffering=0) as file:
        for place, byte in enumerate(whole):
            os.pwrite(file.fileno(), bytes([byte ^ (1 << place % 8)]), place)
            with pytest.raises(BundleProblem, match="record-bundle-byte") as caught:
                open_bundle(path)
            line = line_at(whole, place)
            assert caught.value.event == line, (place, caught.value.where)
            assert caught.value.whole == (events if line is None else line - 1)
            assert caught.value.where
            os.pwrite(file.fileno(), bytes([byte]), place)
    assert open_bundle(path).events, "put right, it is whole again"


def test_a_changed_attachment_is_told_with_the_event_that_speaks_of_it(sealed: Path, tmp_path: Path) -> None:
    path = tmp_path / "changed.bundle"
    path.write_bytes(sealed.read_bytes().replace(PHOTO, PHOTO[::-1]))
    with pytest.raises(BundleProblem, match=r"record-bundle-bytes-of\(file=attached/[0-9a-f]{16}\.jpg, event=4\)"):
        open_bundle(path)


def test_a_bundle_cut_short_anywhere_is_found_and_its_whole_events_counted(sealed: Path, tmp_path: Path) -> None:
    whole = sealed.read_bytes()
    path = tmp_path / "cut.bundle"
    seen = set()
    for length in [*range(0, len(whole), 11), len(whole) - 1]:
        path.write_bytes(whole[:length])
        with pytest.raises(BundleProblem) as caught:
            open_bundle(path)
        line = line_at(whole, length)
        seen.add(caught.value.whole)
        if line is not None:
            assert caught.value.whole == line - 1
            assert caught.value.event == line
    assert seen == set(range(len(content_lines(whole)) + 1))


@given(data=st.data())
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_done_to_the_bytes_it_is_refused_with_a_sentence(
    sealed: Path, tmp_path: Path, data: st.DataObject
) -> None:
    whole = sealed.read_bytes()
    made = bytearray(whole)
    marks = [0, 14, 18, 22, 26, 28, 43, whole.index(b"events.jsonl{"), whole.rindex(b"PK\1\2"), len(whole) - 22]
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.sampled_from(marks) | st.integers(0, len(made)))
        size = data.draw(st.integers(0, 40))
        new = data.draw(st.binary(max_size=40) | st.just(whole[:300]) | st.just(b"\xff" * 4) | st.just(b"\n" * 9))
        made[at : at + size] = new
    path = tmp_path / "made.bundle"
    path.write_bytes(made)
    before = tree(tmp_path)
    if made != whole:
        with pytest.raises(BundleProblem):
            open_bundle(path)
    assert tree(tmp_path) == before


@pytest.mark.parametrize("kind", ["missing", "folder"])
def test_what_cannot_be_read_is_a_sentence(tmp_path: Path, kind: str) -> None:
    path = tmp_path if kind == "folder" else tmp_path / "none.bundle"
    with pytest.raises(BundleProblem, match="record-bundle-unreadable"):
        open_bundle(path)


def test_a_bundle_that_changes_after_it_was_read_is_not_taken_from(sealed: Path, tmp_path: Path, site: Path) -> None:
    path = tmp_path / "day.bundle"
    path.write_bytes(sealed.read_bytes())
    arrived = open_bundle(path)
    path.write_bytes(sealed.read_bytes().replace(PHOTO, PHOTO[::-1]))
    with pytest.raises(BundleProblem, match="record-bundle-changed-while-read"):
        take_in(arrived, site)
    with pytest.raises(KeyError):
        arrived.read("attached/0000000000000000.jpg")
    assert not (site / "2026-03-17.db").exists()


# --- files made to do harm ----------------------------------------------------------------------------------------


def forged(
    sealed: Path, tmp_path: Path, change: Callable[[dict[str, Any]], object], extra: Mapping[str, bytes] | None = None
) -> Path:
    """A container in our own form, whose manifest was changed, with the files that it names."""
    files = content(sealed) | (extra or {})
    manifest = json.loads(files[MANIFEST])
    change(manifest)
    named = {f["name"]: files.get(f["name"], b"x") for f in manifest["files"] if not f.get("left_out")}
    named.pop(MANIFEST, None)
    return zipped(tmp_path / "forged.bundle", {MANIFEST: rfc8785.dumps(manifest), **named})


def entry_of(name: str, data: bytes = b"x", **more: Any) -> dict[str, Any]:
    return {"name": name, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest(), **more}


def refused(path: Path) -> str:
    """Why a bundle is refused, in codes and figures; nothing is written beside it."""
    before = tree(path.parent)
    with pytest.raises(BundleProblem) as caught:
        open_bundle(path)
    assert tree(path.parent) == before
    return str(caught.value)


NAMES = [
    "../evil.jpg",
    "attached/../../evil.jpg",
    "/etc/evil",
    "C:\\evil.jpg",
    "attached\\0123456789abcdef.jpg",
    "attached/C:0123456789abcdef.jpg",
    "attached/0123456789abcdef.jpg/",
    "attached/0123456789abcdef.jpg\n",
    "attached/sub/0123456789abcdef.jpg",
    "attached/0123456789ABCDEF.jpg",
    "attached/con.jpg",
    "attached/",
    "2026-03-17.db",
    "manifest.json",
    "daily-log.pdf ",
    "",
    "evil\x1b[2J.jpg",
    "evil\0.jpg",
    "\u202egpj.live",
]


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("name", NAMES, ids=ascii)
@pytest.mark.parametrize("left_out", [False, True])
def test_names_that_are_not_ours_are_refused(sealed: Path, tmp_path: Path, name: str, left_out: bool) -> None:
    def change(manifest: dict[str, Any]) -> None:
        manifest["files"].append(entry_of(name, b"", left_out=True) if left_out else entry_of(name))

    if left_out or name.isascii():
        assert "record-bundle-strange-name" in refused(forged(sealed, tmp_path, change))
    # The same name, put into the container behind the manifest's back.
    with zipfile.ZipFile(path := tmp_path / "behind.bundle", "w") as archive:
        for known, data in content(sealed).items():
            archive.writestr(plain_entry(known), data)
        archive.writestr(plain_entry(name), b"x")
    assert "record-bundle-size(" in refused(path)


def with_entries(sealed: Path, path: Path, change: Callable[[zipfile.ZipInfo], object], name: str = EVENTS) -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        for known, data in content(sealed).items():
            entry = plain_entry(known)
            if known == name:
                change(entry)
            archive.writestr(entry, data)
    return path


ENTRIES: dict[str, Callable[[zipfile.ZipInfo], object]] = {
    "a link": lambda e: setattr(e, "external_attr", (stat.S_IFLNK | 0o777) << 16),
    "a device": lambda e: setattr(e, "external_attr", (stat.S_IFCHR | 0o666) << 16),
    "compressed": lambda e: setattr(e, "compress_type", zipfile.ZIP_DEFLATED),
    "a comment": lambda e: setattr(e, "comment", b"hidden"),
    "an extra field": lambda e: setattr(e, "extra", b"\xfe\xca\x02\x00hi"),
    "ZIP64": lambda e: setattr(e, "extra", struct.pack("<HHQQ", 1, 16, 1, 1)),
    "another date": lambda e: setattr(e, "date_time", (2026, 3, 17, 0, 0, 0)),
    "another system": lambda e: setattr(e, "create_system", 0),
    "run by a click": lambda e: setattr(e, "external_attr", (stat.S_IFREG | 0o755) << 16),
    "another version": lambda e: setattr(e, "extract_version", 45),
}


@pytest.mark.parametrize("kind", ENTRIES)
@pytest.mark.parametrize("name", [MANIFEST, EVENTS, PDF])
def test_another_way_to_write_an_entry_is_refused(sealed: Path, tmp_path: Path, kind: str, name: str) -> None:
    path = with_entries(sealed, tmp_path / "other.bundle", ENTRIES[kind], name)
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None, "for another program it is a good archive"
    refused(path)


def test_the_same_entries_written_in_our_way_are_taken(sealed: Path, tmp_path: Path) -> None:
    assert open_bundle(with_entries(sealed, tmp_path / "same.bundle", lambda _: None)).events


def overlapping(data: bytes) -> bytes:
    """The last two entries of the directory share their bytes."""
    last = data.rindex(b"PK\1\2")
    before = data.rindex(b"PK\1\2", 0, last)
    return data[: last + 42] + data[before + 42 : before + 46] + data[last + 46 :]


def moved(data: bytes, hidden: bytes, at: int) -> bytes:
    """Bytes hidden at a place, and all offsets behind it made to fit again."""
    made = bytearray(data[:at] + hidden + data[at:])
    place = made.rindex(b"PK\5\6")
    start = struct.unpack_from("<L", made, place + 16)[0] + len(hidden)
    struct.pack_into("<L", made, place + 16, start)
    entry = start
    while made[entry : entry + 4] == b"PK\1\2":
        name, extra, comment = struct.unpack_from("<3H", made, entry + 28)
        offset = struct.unpack_from("<L", made, entry + 42)[0]
        struct.pack_into("<L", made, entry + 42, offset + (len(hidden) if offset >= at else 0))
        entry += 46 + name + extra + comment
    return bytes(made)


def with_comment(data: bytes) -> bytes:
    return data[:-2] + b"\x06\x00hidden"


def counting(data: bytes, count: int) -> bytes:
    return data[:-14] + struct.pack("<2H", count, count) + data[-10:]


def twice(data: bytes) -> bytes:
    """The last entry of the directory is there twice, and counted."""
    last, end = data.rindex(b"PK\1\2"), data.rindex(b"PK\5\6")
    made = bytearray(data[:end] + data[last:end] + data[end:])
    count, size = struct.unpack_from("<HL", made, len(made) - 12)
    struct.pack_into("<2HL", made, len(made) - 14, count + 1, count + 1, size + end - last)
    return bytes(made)


CONTAINERS: dict[str, Callable[[bytes], bytes]] = {
    "data before": lambda d: moved(d, b"#!/bin/sh\n", 0),
    "data between": lambda d: moved(d, b"hidden", d.index(b"events.jsonl{") - 30),
    "data before the directory": lambda d: moved(d, b"hidden", d.index(b"PK\1\2")),
    "data after": lambda d: d + b"\n",
    "a comment at the end": with_comment,
    "a second bundle after it": lambda d: d + d,
    "overlapping entries": overlapping,
    "an entry twice in the directory": twice,
    "65,535 entries claimed": lambda d: counting(d, 65535),
    "no directory": lambda d: d[: d.index(b"PK\1\2")],
}


@pytest.mark.parametrize("kind", CONTAINERS)
def test_a_container_with_something_hidden_or_claimed_is_refused(sealed: Path, tmp_path: Path, kind: str) -> None:
    path = tmp_path / "other.bundle"
    path.write_bytes(CONTAINERS[kind](sealed.read_bytes()))
    refused(path)


MANIFESTS: dict[str, tuple[Callable[[dict[str, Any]], object], str]] = {
    "a file twice": (lambda m: m["files"].append(m["files"][-1]), "record-bundle-order"),
    "another order": (lambda m: m["files"].reverse(), "record-bundle-order"),
    "no events": (lambda m: m["files"].pop(0), "record-bundle-order"),
    "events left out": (lambda m: m["files"][0].update(left_out=True, bytes=0), "record-bundle-contradicts"),
    "left out with bytes": (lambda m: m["files"][-1].update(left_out=True), "record-bundle-contradicts"),
    "left out, said twice over": (lambda m: m["files"][-1].update(left_out=False), "record-manifest-form"),
    "another head": (lambda m: m.update(head="ab" * 32), "record-head(event=6)"),
    "another date": (lambda m: m.update(date="../2026"), "record-differs-date(said=../2026"),
    "another site": (lambda m: m.update(site="\x1b[2Jx" * 99), "record-differs-site"),
    "another number of events": (lambda m: m.update(events=7), "record-differs-events(said=7"),
    "no number of events": (lambda m: m.update(events=0), "record-no-manifest"),
    "a number in words": (lambda m: m["files"][0].update(bytes=str(m["files"][0]["bytes"])), "record-manifest-form"),
    "another kind": (lambda m: m.update(bundle=2), "record-no-manifest"),
    "a strange key": (lambda m: m.update({"\x1b[2J": 1}), "record-no-manifest"),
    "a hash that is none": (lambda m: m["files"][0].update(sha256="../" * 20), "record-no-manifest"),
    "a file nobody speaks of": (
        lambda m: m["files"].insert(2, entry_of("attached/0000000000000000.jpg")),
        "record-file-strange",
    ),
    "an attachment gone": (lambda m: m["files"].pop(), "record-file-missing"),
    "another hash of an attachment": (
        lambda m: m["files"].append(m["files"].pop() | {"sha256": "ab" * 32, "bytes": 0, "left_out": True}),
        "record-file-other-hash",
    ),
    "a file of 2 GB": (lambda m: m["files"][-1].update(bytes=2**31 - 1), "size=2147483647"),
    "files of 3 GB together": (
        lambda m: m["files"].extend(
            entry_of(f"attached/ffffffffffffff{n:02x}.jpg") | {"bytes": attachments.LARGEST_BYTES} for n in range(48)
        ),
        "record-bundle-together",
    ),
    "a size below zero": (lambda m: m["files"][-1].update(bytes=-1), "record-no-manifest"),
    "5,001 files": (
        lambda m: m["files"].extend(entry_of(f"attached/{n:016x}.jpg", b"") for n in range(5001)),
        "record-no-manifest",
    ),
}


@pytest.mark.parametrize("kind", MANIFESTS)
def test_a_manifest_that_is_not_true_is_refused(sealed: Path, tmp_path: Path, kind: str) -> None:
    change, why = MANIFESTS[kind]
    tracemalloc.start()
    try:
        assert why in refused(forged(sealed, tmp_path, change))
        assert tracemalloc.get_traced_memory()[1] < 20e6, "what is claimed is not made room for"
    finally:
        tracemalloc.stop()


RAW_MANIFESTS = {
    "nested deeply": b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
    "a list nested deeply": b"[" * 1_000_000,
    "no JSON": b"manifest",
    "no UTF-8": b"\xff" * 50,
    "empty": b"",
    "a long number": b'{"bundle":' + b"9" * 100_000 + b"}",
    "half a character": b'{"site":"\\ud800"}',
    "larger than any": b" " * (4 * 1024 * 1024 + 1),
    "with spaces": b'{"bundle": 1}',
}


@pytest.mark.parametrize("kind", RAW_MANIFESTS)
def test_a_manifest_that_is_none_is_refused(sealed: Path, tmp_path: Path, kind: str) -> None:
    files = content(sealed) | {MANIFEST: RAW_MANIFESTS[kind]}
    assert "whole=6" in refused(zipped(tmp_path / "forged.bundle", files))


def with_lines(sealed: Path, tmp_path: Path, lines: bytes, **claims: Any) -> Path:
    """A bundle in our own form with other events, whose manifest fits them as well as it can."""
    last = lines.split(b"\n")[-2] if lines.count(b"\n") else lines
    files = [entry_of(EVENTS, lines)]
    for line in lines.splitlines():
        with contextlib.suppress(Exception):  # many of these lines are no events
            body = json.loads(line)["body"]
            if attachments.is_name(name := body.get("file") or body.get("audio")) and isinstance(body["sha256"], str):
                files.append({"name": ATTACHED + name, "bytes": 0, "sha256": body["sha256"], "left_out": True})
    manifest = json.loads(content(sealed)[MANIFEST])
    manifest |= {
        "head": hashlib.sha256(last).hexdigest(),
        "files": [files[0], *sorted(files[1:], key=lambda f: f["name"])],
    }
    return zipped(tmp_path / "forged.bundle", {MANIFEST: rfc8785.dumps(manifest | claims), EVENTS: lines})


def chained(raws: Sequence[Mapping[str, Any]]) -> bytes:
    """Lines whose chain fits, whatever they say."""
    lines, before = b"", GENESIS
    for seq, raw in enumerate(raws, start=1):
        line = rfc8785.dumps({**raw, "prev": before, "seq": seq})
        before = hashlib.sha256(line).hexdigest()
        lines += line + b"\n"
    return lines


def raws_of(sealed: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in content(sealed)[EVENTS].splitlines()]


LINES = {
    "nested deeply": (b'{"a":' * 50_000 + b"1" + b"}" * 50_000 + b"\n", "(event=1"),
    "a list": (b"[]\n", "record-not-whole(event=1"),
    "empty lines": (b"\n" * 50, "record-not-whole(event=1"),
    "no UTF-8": (b"\xff\xfe\n", "(event=1"),
    "nothing": (b"", "(event=1"),
    "no number": (b'{"a":NaN}\n', "(event=1"),
    "a long number": (b'{"seq":' + b"9" * 100_000 + b"}\n", "(event=1"),
    "more lines than any day": (b"{}\n" * 100_001, "(event=1"),
    "a line longer than any event": (b'{"a":"' + b"x" * (8 * 1024 * 1024) + b'"}\n', "(event=1"),
}


@pytest.mark.parametrize("kind", LINES)
def test_lines_that_are_no_events_are_refused_and_cost_little(sealed: Path, tmp_path: Path, kind: str) -> None:
    lines, why = LINES[kind]
    path = with_lines(sealed, tmp_path, lines)
    tracemalloc.start()
    try:
        assert why in refused(path)
        assert tracemalloc.get_traced_memory()[1] < 10 * len(lines) + 20e6
    finally:
        tracemalloc.stop()


@given(data=st.data())
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_events_made_to_do_harm_are_refused_or_make_a_day(sealed: Path, tmp_path: Path, data: st.DataObject) -> None:
    raws = raws_of(sealed)[: data.draw(st.sampled_from([4, 6]))]  # without a seal, or with one
    anything = st.recursive(
        st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.floats(allow_nan=False, allow_infinity=False)
        | st.text(max_size=8) | st.sampled_from(["1/0", "day opened", "withdrawn", "clock ran out", "../x", "\0"]),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
        max_leaves=6,
    )  # fmt: skip
    bodies = st.sampled_from(
        [
            {"type": "reading called", "area": "a", "section": "s", "round": 1, "step": "s", "quantity": "length",
             "value": "1/0", "unit": "mm"},
            {"type": "clock ran out", "area": "hall floor", "clock": "c", "run": 1, "minutes": 1},
            {"type": "withdrawn", "area": "hall floor", "target": 1, "reason": "scratched"},
            {"type": "area started", "area": "hall floor"},
            {"type": "step confirmed", "area": "hall floor", "section": "s", "round": 1, "step": "s"},
            {"type": "clock jumped", "seconds": 1e300},
            {"type": "day opened", "plan": copy.deepcopy(PLAN)},
        ]
    )  # fmt: skip
    for _ in range(data.draw(st.integers(1, 3))):
        place = raw = raws[data.draw(st.integers(0, len(raws) - 1))]
        if data.draw(st.booleans()):
            raw["body"] = data.draw(bodies)
            continue
        key: Any = data.draw(st.sampled_from(sorted(place)))
        while isinstance(place[key], dict | list) and place[key] and data.draw(st.integers(0, 4)):
            place = place[key]
            key = data.draw(st.sampled_from(sorted(place) if isinstance(place, dict) else list(range(len(place)))))
        place[key] = data.draw(anything)
    try:
        lines = chained(raws)
    except rfc8785.CanonicalizationError:
        return
    path = with_lines(sealed, tmp_path, lines, events=len(raws))
    site = tmp_path / "site"
    shutil.rmtree(site, ignore_errors=True)
    try:
        taken = take_in(open_bundle(path), site)
    except BundleProblem:
        assert not site.exists() or tree(site) == {}
    else:
        assert taken.events == len(raws)
        assert set(tree(site)) == {taken.day.name, lines_of(taken.day).name}
        Day.resume(taken.day, SimulatedClock(datetime.fromisoformat("2026-03-17T16:00:00+01:00"))).close()


@pytest.mark.parametrize(
    "body",
    [
        {"type": "reading called", "area": "hall floor", "section": "s", "round": 1, "step": "s", "quantity": "length",
         "value": "1/0", "unit": "mm"},
        {"type": "withdrawn", "area": "hall floor", "target": 1, "reason": "\x1b[2J"},
        {"type": "\x1b[2J", "text": "x"},
    ],
    ids=["a number by nothing", "a reason of its own", "an unknown type"],
)  # fmt: skip
def test_an_event_that_cannot_be_read_is_refused_and_named(sealed: Path, tmp_path: Path, body: dict[str, Any]) -> None:
    raws = [*raws_of(sealed)[:3], raws_of(sealed)[1] | {"id": "new", "body": body}]
    path = with_lines(sealed, tmp_path, chained(raws), events=4)
    assert "whole=3, bad=4" in refused(path)


def test_two_events_with_one_id_are_refused(sealed: Path, tmp_path: Path) -> None:
    raws = raws_of(sealed)[:2]
    path = with_lines(sealed, tmp_path, chained([*raws, raws[1]]), events=3)
    assert "record-id-twice(event=3)" in refused(path)


def test_events_of_which_no_day_comes_are_not_added_to_one(sealed: Path, tmp_path: Path, site: Path) -> None:
    """What is appended stays: such events would keep the crew from opening their own day."""
    raws = raws_of(sealed)[:2]
    day = take_in(open_bundle(with_lines(sealed, tmp_path, chained(raws), events=2)), site).day
    before = texts_of(day)
    ran_out = {"type": "clock ran out", "area": "attic", "clock": "c", "run": 1, "minutes": 1}
    raws.append(raws[1] | {"id": "new", "body": ran_out})
    path = with_lines(sealed, tmp_path, chained(raws), events=3)
    with pytest.raises(BundleProblem, match="record-import-nonsense"):
        take_in(open_bundle(path), site)
    assert texts_of(day) == before


def test_a_day_with_a_seal_that_is_not_good_is_not_taken_in(sealed: Path, tmp_path: Path, site: Path) -> None:
    raws = raws_of(sealed)
    raws[1]["body"]["text"] = "something else"
    path = with_lines(sealed, tmp_path, chained(raws))
    with pytest.raises(BundleProblem, match=r"record-seal-head\(event=5\)"):
        take_in(open_bundle(path), site)
    assert not site.exists()


# --- taking in ----------------------------------------------------------------------------------------------------


def test_the_same_bundle_twice_changes_nothing(sealed: Path, site: Path) -> None:
    first = take_in(open_bundle(sealed), site)
    before = tree(site)
    second = take_in(open_bundle(sealed), site)
    assert (second.day, second.events, second.added, second.files, second.new) == (first.day, 6, 0, 0, False)
    assert tree(site) == before


def test_a_day_is_called_by_its_date_with_nothing_left_about(sealed: Path, site: Path) -> None:
    take_in(open_bundle(sealed), site)
    names = {p.name for p in site.iterdir() if p.suffix != ".lock"}
    assert names == {"2026-03-17.db", "2026-03-17.db.lines", "2026-03-17.attached"}


def test_another_day_of_the_same_date_gets_a_number(sealed: Path, tmp_path: Path, site: Path) -> None:
    take_in(open_bundle(sealed), site)
    other = pack(small_day(tmp_path / "other.db", site="Millpond Hall"), tmp_path / "other.bundle").path
    third = pack(small_day(tmp_path / "third.db", site="Quarry School"), tmp_path / "third.bundle").path
    before = tree(site)
    assert take_in(open_bundle(other), site).day == site / "2026-03-17-2.db"
    assert take_in(open_bundle(third), site).day == site / "2026-03-17-3.db"
    assert take_in(open_bundle(other), site).day == site / "2026-03-17-2.db"
    assert take_in(open_bundle(third), site).day == site / "2026-03-17-3.db"
    after = tree(site)
    assert {name: after[name] for name in before} == before
    days = {name for name in after if not name.startswith("2026-03-17.attached/") and ".attached/" not in name}
    named = {f"2026-03-17{number}.db{part}" for number in ("", "-2", "-3") for part in ("", ".lines")}
    assert days == named, "looking for the day leaves no files"


def test_the_days_own_tablet_knows_it_under_any_name(day: Path, sealed: Path, site: Path) -> None:
    mine = site / "baths, first week.db"
    site.mkdir()
    cut(day, mine, 3)
    taken = take_in(open_bundle(sealed), site)
    assert (taken.day, taken.added, taken.files, taken.new) == (mine, 3, 2, False)
    assert texts_of(mine) == texts_of(day)
    assert not (site / "2026-03-17.db").exists()


@pytest.mark.parametrize("count", range(1, 6))
def test_a_day_that_is_behind_is_brought_forward(
    day: Path, sealed: Path, tmp_path: Path, site: Path, count: int
) -> None:
    behind = pack(cut(day, tmp_path / "behind.db", count), tmp_path / "behind.bundle")
    take_in(open_bundle(behind.path), site)
    taken = take_in(open_bundle(sealed), site)
    assert (taken.events, taken.added, taken.new) == (6, 6 - count, False)
    assert texts_of(taken.day) == texts_of(day)


def test_a_bundle_that_is_behind_changes_nothing(day: Path, sealed: Path, tmp_path: Path, site: Path) -> None:
    taken = take_in(open_bundle(sealed), site)
    before = texts_of(taken.day)
    behind = pack(cut(day, tmp_path / "behind.db", 2), tmp_path / "behind.bundle")
    assert behind.events == 2
    again = take_in(open_bundle(behind.path), site)
    assert (again.events, again.added, again.files) == (6, 0, 0)
    assert texts_of(taken.day) == before


def test_a_day_that_went_on_in_two_places_is_refused_with_both_heads(day: Path, tmp_path: Path, site: Path) -> None:
    mine = went_on(cut(day, tmp_path / "mine.db", 2), "set by the north crew")
    theirs = went_on(cut(day, tmp_path / "theirs.db", 2), "set by the south crew")
    site.mkdir()
    for part in (mine, lines_of(mine)):
        shutil.copy(part, site / part.name)
    before = tree(site)
    packed = pack(theirs, tmp_path / "theirs.bundle")
    with pytest.raises(BundleProblem, match=r"record-import-forked.*event=2, next=3") as caught:
        take_in(open_bundle(packed.path), site)
    assert (caught.value.whole, caught.value.event) == (2, 3)
    with DayLog.open(mine, read_only=True) as log:
        assert f"here={log.head}, there={packed.head}" in str(caught.value)
    assert tree(site) == before
    elsewhere = take_in(open_bundle(packed.path), site / "theirs")
    assert texts_of(elsewhere.day) == texts_of(theirs)


def test_a_day_that_is_open_elsewhere_is_not_touched(day: Path, sealed: Path, site: Path) -> None:
    site.mkdir()
    mine = cut(day, site / "mine.db", 2)
    with DayLog.open(mine) as log:
        with pytest.raises(AlreadyOpen, match="record-open-already"):
            take_in(open_bundle(sealed), site)
        assert not attachments.folder_of(mine).exists()
        kept(log, ev.NoteMade(text="the crew goes on"))
    assert len(texts_of(mine)) == 3


def test_a_name_under_which_a_day_is_just_being_made_is_left_to_it(sealed: Path, site: Path) -> None:
    site.mkdir()
    with FileLock(site / "2026-03-17.db.lock"):
        assert take_in(open_bundle(sealed), site).day == site / "2026-03-17-2.db"


def test_a_journal_without_its_day_is_left_alone(sealed: Path, site: Path) -> None:
    """SQLite would play it into a new day of that name (SQLite, "Write-Ahead Logging" §4)."""
    site.mkdir()
    (site / "2026-03-17.db-wal").write_bytes(b"what is left of a day")
    assert take_in(open_bundle(sealed), site).day == site / "2026-03-17-2.db"
    assert (site / "2026-03-17.db-wal").read_bytes() == b"what is left of a day"


def test_a_damaged_day_is_recovered_first_and_then_brought_forward(day: Path, sealed: Path, site: Path) -> None:
    mine = take_in(open_bundle(sealed), site).day
    lines_of(mine).unlink()
    connection = sqlite3.connect(mine)
    connection.execute("DROP TRIGGER events_are_never_updated")
    connection.execute("UPDATE events SET text=replace(text, 'corner', 'corney') WHERE seq=3")
    connection.commit()
    connection.close()
    damaged = mine.read_bytes()
    with pytest.raises(LogDamaged, match="record-altered"):
        take_in(open_bundle(sealed), site)
    assert mine.read_bytes() == damaged
    assert recover(mine).missing == ((3, 3),)
    taken = take_in(open_bundle(sealed), site)
    assert (taken.day, taken.added, taken.events) == (mine, 4, 6)
    assert texts_of(mine) == texts_of(day)


@pytest.mark.parametrize("there", [b"", b"not a database at all, just some text " * 40])
def test_a_file_that_holds_no_day_any_more_is_left_alone_and_the_day_gets_another_name(
    sealed: Path, site: Path, there: bytes
) -> None:
    site.mkdir()
    (site / "2026-03-17.db").write_bytes(there)
    (site / "folder.db").mkdir()
    assert take_in(open_bundle(sealed), site).day == site / "2026-03-17-2.db"
    assert (site / "2026-03-17.db").read_bytes() == there


def test_a_damaged_attachment_is_healed(sealed: Path, site: Path) -> None:
    mine = take_in(open_bundle(sealed), site).day
    [photo] = attachments.folder_of(mine).glob("*.jpg")
    photo.write_bytes(b"half of it")
    taken = take_in(open_bundle(sealed), site)
    assert (taken.added, taken.files) == (0, 1)
    assert photo.read_bytes() == PHOTO


def test_what_a_kill_left_half_made_is_cleared_away(sealed: Path, site: Path) -> None:
    (site / ".taking-in").mkdir(parents=True)
    (site / ".taking-in" / "2026-03-17.db").write_bytes(b"SQLite format 3\0 half a day")
    taken = take_in(open_bundle(sealed), site)
    assert (taken.day, taken.new) == (site / "2026-03-17.db", True)
    assert not (site / ".taking-in").exists()


def test_two_bundles_at_once_wait_for_each_other(sealed: Path, site: Path) -> None:
    site.mkdir()
    with FileLock(site / ".taking-in.lock"), pytest.raises(LogProblem, match="record-import-busy"):
        take_in(open_bundle(sealed), site)
    assert tree(site) == {}


@pytest.mark.parametrize("call", range(1, 11))
def test_a_disk_that_refuses_is_a_sentence_and_a_second_try_finishes(
    sealed: Path, site: Path, monkeypatch: pytest.MonkeyPatch, call: int
) -> None:
    """Whatever has to reach the disk may fail to: two attachments with their names, and the new day with its own. The
    second copy alone stops nothing."""
    fsync, calls = os.fsync, []

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) == call:
            raise OSError(28, "No space left on device")
        fsync(handle)

    monkeypatch.setattr(os, "fsync", full)
    refused = call not in (8, 9)
    with (
        pytest.raises(LogProblem, match=r"record-file-not-kept|record-import-not-written") if refused else nullcontext()
    ):
        take_in(open_bundle(sealed), site)
    assert len(calls) >= call
    assert not (site / ".taking-in").exists()
    assert (site / "2026-03-17.db").exists() == (call >= 8)
    taken = take_in(open_bundle(sealed), site)
    assert (taken.day, taken.events) == (site / "2026-03-17.db", 6)
    assert set(tree(attachments.folder_of(taken.day)).values()) == {PHOTO, SOUND}
    assert lines_of(taken.day).read_text(encoding="utf-8").split("\n")[:-1] == texts_of(taken.day)


def test_a_folder_that_cannot_be_made_is_a_sentence(sealed: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(LogProblem, match="record-import-not-written"):
        take_in(open_bundle(sealed), tmp_path / "file" / "site")


# --- kill -9 ------------------------------------------------------------------------------------------------------

_KILLED = """
import os, random, shutil, signal, sys, time
from pathlib import Path

from fieldassist.record.bundle import open_bundle, take_in
from fieldassist.record.log import DayLog

whole, behind, site = open_bundle(Path(sys.argv[1])), open_bundle(Path(sys.argv[2])), Path(sys.argv[3])
dice = random.Random(17)


def there():
    days = list(site.glob("*.db"))
    assert len(days) <= 1, days
    if not days:
        return []
    with DayLog.open(days[0]) as log:
        return log.texts


def start(old):
    shutil.rmtree(site, ignore_errors=True)
    if old:
        take_in(behind, site)


start(True)  # what is loaded only once is loaded before anything is timed
seconds = {}
for old in (False, True):
    start(old)
    begun = time.monotonic()
    take_in(whole, site)
    seconds[old] = time.monotonic() - begun
cut_short = 0
for turn in range(20):
    old = turn % 2 == 1
    start(old)
    before = there()
    child = os.fork()
    if child == 0:
        take_in(whole, site)
        os._exit(0)
    time.sleep(dice.uniform(0, seconds[old]))
    os.kill(child, signal.SIGKILL)
    cut_short += os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    assert there() in (before, whole.texts), turn
    taken = take_in(whole, site)
    assert there() == whole.texts, turn
    assert taken.day == site / "2026-03-17.db"
    assert take_in(whole, site).added == take_in(whole, site).files == 0
    left = {p.name.removeprefix("2026-03-17.") for p in site.iterdir() if p.suffix != ".lock"}
    assert left <= {"db", "db-wal", "db-shm", "db.lines", "attached"}, left
    for entry in whole.files[1:]:
        assert (site / "2026-03-17.attached" / Path(entry.name).name).read_bytes() == whole.read(entry.name)
print(cut_short)
"""


def test_kill_9_on_the_way_leaves_the_old_state_or_one_that_the_same_call_finishes(tmp_path: Path) -> None:
    day = small_day(tmp_path / "day.db", sealed=False)
    with DayLog.open(day) as log:
        for number in range(6):
            photo = attachments.keep(day, PHOTO + bytes([number]) * 200_000, ".jpg")
            place = {"area": "hall floor", "section": "", "round": 0, "step": "", "answers": False}
            kept(log, ev.PhotoAttached(**place, file=photo.file, sha256=photo.sha256))
    whole = pack(day, tmp_path / "whole.bundle").path
    behind = pack(cut(day, tmp_path / "behind.db", 3), tmp_path / "behind.bundle").path
    script = tmp_path / "killed.py"
    script.write_text(_KILLED, encoding="utf-8")
    run = [sys.executable, str(script), str(whole), str(behind), str(tmp_path / "site")]
    done = subprocess.run(run, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) >= 10, "most of them were killed on the way"


# --- what proves a day beside its log -----------------------------------------------------------------------------


def test_proofs_of_a_day_go_along_and_are_kept_beside_it_but_roster_and_page_are_not(
    tmp_path: Path, site: Path
) -> None:
    day = small_day(tmp_path / "day.db")
    roster, page = tmp_path / "roster.json", tmp_path / "verify.html"
    roster.write_bytes(b"{}")
    page.write_bytes(b"<!doctype html>")
    for n in range(11):
        keep_beside(day, "stamp", b"an answer %d" % n)
    assert keep_beside(day, "stamp", b"an answer 3")[1] is False
    packed = pack(day, tmp_path / "day.bundle", others=GoesAlong(roster, page))
    arrived = open_bundle(packed.path)
    names = [f.name for f in arrived.files]
    assert names[-2:] == ["proof/stamp-9.tsr", PAGE]
    assert names[3] == ROSTER, "after events and two attachments"
    assert arrived.read("proof/stamp-11.tsr") == b"an answer 10"
    taken = take_in(arrived, site)
    assert taken.proofs == 11
    assert take_in(arrived, site).proofs == 0, "the same ones a second time"
    assert {path.read_bytes() for path in proofs_beside(taken.day, "stamp")} == {b"an answer %d" % n for n in range(11)}
    assert not list(site.rglob("roster.json")) + list(site.rglob("*.html"))


def with_entry(name: str, data: bytes) -> Callable[[dict[str, Any]], object]:
    """Name one entry more at the end of a manifest."""
    entry = {"name": name, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
    return lambda manifest: manifest["files"].append(entry)


@pytest.mark.parametrize(
    "name",
    ["proof/receipt-0.json", "proof/receipt-100.json", "proof/../roster.json", "proof/stamp-1.json", "verify.htm"],
)
def test_no_other_name_is_taken_for_a_proof(sealed: Path, tmp_path: Path, name: str) -> None:
    with pytest.raises(BundleProblem, match="record-bundle-strange-name"):
        open_bundle(forged(sealed, tmp_path, with_entry(name, b"{}"), {name: b"{}"}))


def test_a_proof_larger_than_any_is_refused_before_it_is_read(sealed: Path, tmp_path: Path) -> None:
    data = bytes(LARGEST_PROOF + 1)
    with pytest.raises(BundleProblem, match="record-bundle-claims"):
        open_bundle(forged(sealed, tmp_path, with_entry(ROSTER, data), {ROSTER: data}))


def test_a_countersignature_of_another_day_is_not_taken_in(tmp_path: Path, site: Path) -> None:
    day, other = small_day(tmp_path / "day.db"), small_day(tmp_path / "other.db", notes=2)
    with DayLog.open(other, read_only=True) as log:
        receipt = make_receipt(sealed_head(log.events, log.hashes), OWEN, NOW).to_bytes()
    for data in (receipt, b"{}"):
        keep_beside(day, "receipt", data)
        with pytest.raises(BundleProblem, match="record-import-receipt"):
            take_in(open_bundle(pack(day, tmp_path / "day.bundle").path), site)
        shutil.rmtree(tmp_path / "day.receipts")
    keep_beside(other, "receipt", receipt)
    taken = take_in(open_bundle(pack(other, tmp_path / "other.bundle").path), site)
    assert [path.read_bytes() for path in proofs_beside(taken.day, "receipt")] == [receipt]
