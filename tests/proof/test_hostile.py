"""Files made to do harm, or broken by chance: whatever they hold, the inspector's program answers, soon, and touches
nothing. And no broken file is ever called whole with other events in it than were sealed."""

from __future__ import annotations

import hashlib
import io
import json
import os
import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from fieldassist.checklist import commands as cmd
from fieldassist.proof.examine import examine
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNREADABLE, UNSEALED, WHOLE, Judgment
from fieldassist.proof.verify import verify
from fieldassist.record import attachments
from fieldassist.record.chain import GENESIS
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import EVENTS, MANIFEST
from tests.proof.test_verify import embedded, hand_over, lines
from tests.small_day import EDWIN, asked, begun, seal

SOON = timedelta(seconds=120)
HARMLESS = {WHOLE, DAMAGED, UNREADABLE, UNSEALED}


@dataclass(frozen=True)
class Whole:
    """A sealed day in each form in which it is handed over, as bytes."""

    head: str
    texts: list[str]
    sound: tuple[str, bytes]
    forms: dict[str, bytes]


@pytest.fixture(scope="session")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Whole:
    path = tmp_path_factory.mktemp("whole") / "day.db"
    log = DayLog.create(path)
    sound = attachments.keep(path, b"fLaC the north corner was reset", ".flac")
    begun(log)
    asked(log, cmd.MakeNote(text="north corner reset", audio=sound.file, sha256=sound.sha256))
    seal(log)
    head, texts = log.head, log.texts
    handed = hand_over(log)
    plain = io.BytesIO()
    with pikepdf.open(handed.pdf) as pdf:
        # Unpacked, so that a changed byte is more often one that says something.
        pdf.save(
            plain,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.generalized,
            fix_metadata_version=False,
        )
    forms = {path.suffix: path.read_bytes() for path in handed.files}
    file = attachments.folder_of(path) / sound.file
    return Whole(head, texts, (sound.file, file.read_bytes()), forms | {"plain.pdf": plain.getvalue()})


# --- what may be touched ------------------------------------------------------------------------------------------

_heard: list[tuple[str, str]] | None = None
_CHANGES = {"os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate", "shutil.move"}
_LEAVES = ("socket.", "subprocess.", "os.system", "os.exec", "os.posix_spawn", "os.fork", "urllib.", "ctypes.dlopen")


def _listen(event: str, arguments: tuple[Any, ...]) -> None:
    """Python tells of each file that it opens and each process or connection that it starts (PEP 578)."""
    if _heard is None:
        return
    if event == "open":
        path, _, flags = arguments
        if isinstance(path, str | bytes) and flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
            _heard.append((event, os.fsdecode(path)))
    elif event in _CHANGES or event == "sqlite3.connect":
        _heard.append((event, os.fsdecode(arguments[0])))
    elif event.startswith(_LEAVES):
        _heard.append((event, repr(arguments)))


sys.addaudithook(_listen)


@contextmanager
def touching_nothing_but(folder: Path) -> Iterator[None]:
    global _heard
    _heard = []
    try:
        yield
    finally:
        heard, _heard = _heard, None
    assert [(event, what) for event, what in heard if not Path(what).is_relative_to(folder)] == []


def answered(data: bytes, whole: Whole, name: str = "day.db", *, journal: bytes | None = None) -> Judgment:
    """The answer about a file with these bytes, after it was seen that nothing else was touched."""
    with tempfile.TemporaryDirectory() as folder:
        site, scratch = Path(folder) / "site", Path(folder) / "scratch"
        site.mkdir()
        scratch.mkdir()
        path = site / name
        path.write_bytes(data)
        attachments.folder_of(path).mkdir()
        (attachments.folder_of(path) / whole.sound[0]).write_bytes(whole.sound[1])
        if journal is not None:
            (site / f"{name}-wal").write_bytes(journal)
        before = {file: file.read_bytes() for file in site.rglob("*") if file.is_file()}
        with touching_nothing_but(scratch):
            verdict = examine(path, Known(EDWIN.public_key), scratch)
        assert {file: file.read_bytes() for file in site.rglob("*") if file.is_file()} == before
    assert verdict.exit_code in HARMLESS
    assert all(line.isprintable() and len(line) < 1500 for line in lines(verdict))
    json.dumps(verdict.facts)
    if verdict.exit_code == WHOLE:
        assert verdict.facts["head"] == whole.head
        assert verdict.facts["good_events"] == len(whole.texts)
    return verdict


@pytest.mark.parametrize("form", [".db", ".bundle", ".pdf", "plain.pdf"])
def test_verifying_writes_only_in_its_folder_and_asks_no_network(form: str, whole: Whole) -> None:
    answered(whole.forms[form], whole)  # what is loaded and cached once is so now
    assert answered(whole.forms[form], whole).exit_code == (UNSEALED if form == "plain.pdf" else WHOLE)


def test_the_listener_hears_what_it_must_not_let_pass(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    for outside in (
        lambda: (tmp_path / "out").write_bytes(b""),
        lambda: (tmp_path / "folder").mkdir(),
        lambda: sqlite3.connect(tmp_path / "out.db").close(),
    ):
        with pytest.raises(AssertionError), touching_nothing_but(tmp_path / "in"):
            outside()
    with touching_nothing_but(tmp_path / "in"):
        (tmp_path / "in" / "file").write_bytes(b"")


# --- broken in any way --------------------------------------------------------------------------------------------

_part = st.floats(0, 1, exclude_max=True)
_change = st.one_of(
    st.tuples(st.just("flip"), _part, st.integers(0, 7)),
    st.tuples(st.just("cut"), _part, st.integers(1, 5000)),
    st.tuples(st.just("end"), _part, st.just(0)),
    st.tuples(st.just("zeros"), _part, st.integers(1, 5000)),
    st.tuples(st.just("twice"), _part, st.integers(1, 5000)),
    st.tuples(st.just("insert"), _part, st.binary(min_size=1, max_size=64)),
    st.tuples(st.just("number"), _part, st.sampled_from([b"0", b"-1", b"4294967295", b"99999999999999999999"])),
    st.tuples(st.just("splice"), _part, st.tuples(st.sampled_from([".db", ".bundle", ".pdf", "plain.pdf"]), _part)),
)


def broken(data: bytes, changes: list[tuple[str, float, Any]], whole: Whole) -> bytes:
    for how, part, detail in changes:
        at = int(part * len(data))
        if how == "flip" and data:
            data = data[:at] + bytes([data[at] ^ 1 << detail]) + data[at + 1 :]
        elif how == "cut":
            data = data[:at] + data[at + detail :]
        elif how == "end":
            data = data[:at]
        elif how == "zeros":
            data = data[:at] + bytes(min(detail, len(data) - at)) + data[at + detail :]
        elif how == "twice":
            data = data[: at + detail] + data[at:]
        elif how == "insert":
            data = data[:at] + detail + data[at:]
        elif how == "number":
            digits = next((i for i in range(at, len(data)) if data[i : i + 1].isdigit()), len(data))
            end = next((i for i in range(digits, len(data)) if not data[i : i + 1].isdigit()), len(data))
            data = data[:digits] + detail + data[end:]
        elif how == "splice":
            form, place = detail
            other = whole.forms[form]
            data = data[:at] + other[int(place * len(other)) :]
    return data


_changes = st.lists(_change, min_size=1, max_size=4)


@settings(max_examples=150, deadline=SOON)
@given(changes=_changes)
def test_a_broken_database_is_answered_and_never_called_whole_with_other_events(
    whole: Whole, changes: list[tuple[str, float, Any]]
) -> None:
    answered(broken(whole.forms[".db"], changes, whole), whole)


@settings(max_examples=60, deadline=SOON)
@given(changes=_changes)
def test_a_broken_bundle_is_answered_and_never_called_whole(
    whole: Whole, changes: list[tuple[str, float, Any]]
) -> None:
    data = broken(whole.forms[".bundle"], changes, whole)
    verdict = answered(data, whole)
    assert verdict.exit_code != WHOLE or data == whole.forms[".bundle"] or verdict.facts["kind"] != "bundle"


@settings(max_examples=40, deadline=SOON)
@given(form=st.sampled_from([".pdf", "plain.pdf"]), changes=_changes)
def test_a_broken_pdf_is_answered_and_never_called_whole_with_other_events(
    whole: Whole, form: str, changes: list[tuple[str, float, Any]]
) -> None:
    data = broken(whole.forms[form], changes, whole)
    verdict = answered(data, whole)
    if verdict.exit_code == WHOLE and verdict.facts["kind"] == "pdf":
        assert words(data) == words(whole.forms[form])


def words(data: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]


@settings(max_examples=40, deadline=SOON)
@given(journal=st.binary(max_size=200) | st.just(b"7\x7f\x06\x82" + bytes(28)), changes=_changes)
def test_a_broken_journal_beside_a_database_is_answered(
    whole: Whole, journal: bytes, changes: list[tuple[str, float, Any]]
) -> None:
    answered(broken(whole.forms[".db"], changes[:1], whole), whole, journal=journal)


# --- well made, and senseless -------------------------------------------------------------------------------------

_senseless = st.sampled_from(
    [
        None,
        True,
        "",
        "x",
        "x" * 3000,
        "\u202e\x00",
        "2026-13-45",
        "1/0",
        "9" * 5000,
        0,
        -1,
        2**53 - 1,
        1e308,
        [],
        {},
        [[]],
    ]
)


def leaves(raw: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    inside = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    for key, value in inside:
        yield (*path, key)
        yield from leaves(value, (*path, key))


def chained(raws: list[dict[str, Any]]) -> list[str]:
    texts, before = [], GENESIS
    for raw in raws:
        texts.append(rfc8785.dumps({**raw, "prev": before}).decode("utf-8"))
        before = hashlib.sha256(texts[-1].encode("utf-8")).hexdigest()
    return texts


def pdf_with(whole: Whole, texts: list[str]) -> bytes:
    """The pages of the whole day, with other events attached and a manifest that fits them."""
    lines = "".join(f"{text}\n" for text in texts).encode("utf-8")
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(whole.forms[".pdf"])) as pdf:
        manifest = json.loads(embedded(pdf)[MANIFEST].read_bytes())
        manifest["files"][0] |= {"bytes": len(lines), "sha256": hashlib.sha256(lines).hexdigest()}
        manifest |= {"head": hashlib.sha256(texts[-1].encode("utf-8")).hexdigest(), "events": len(texts)}
        embedded(pdf)[EVENTS].write(lines)
        embedded(pdf)[MANIFEST].write(rfc8785.dumps(manifest))
        pdf.save(out, fix_metadata_version=False)
    return out.getvalue()


@settings(max_examples=60, deadline=SOON)
@given(data=st.data(), value=_senseless)
def test_events_that_were_made_senseless_by_somebody_who_can_chain_them_are_answered(
    whole: Whole, data: st.DataObject, value: Any
) -> None:
    raws = [json.loads(text) for text in whole.texts]
    *path, last = data.draw(st.sampled_from(list(leaves(raws))))
    if not path:
        path, last = [last], "body"
    place: Any = raws
    for key in path:
        place = place[key]
    place[last] = value
    texts = chained(raws)
    verdict = answered(pdf_with(whole, texts), whole)
    assert verdict.exit_code != WHOLE or texts == whole.texts


def test_events_nested_without_end_are_answered(whole: Whole) -> None:
    deep = '{"body":' + "[" * 200_000 + "]" * 200_000 + "}"
    assert answered(pdf_with(whole, [deep]), whole).exit_code == DAMAGED


# --- PDFs made to do harm -----------------------------------------------------------------------------------------


def page_tree_without_end(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Pages.Kids.append(pdf.Root.Pages)


def form_that_draws_itself(pdf: pikepdf.Pdf) -> None:
    form = pdf.make_stream(b"/Again Do")
    form.update({"/Type": pikepdf.Name.XObject, "/Subtype": pikepdf.Name.Form, "/BBox": [0, 0, 1, 1]})
    form.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Again=form))
    pdf.pages[0].add_resource(form, pikepdf.Name.XObject, pikepdf.Name.Again)
    pdf.pages[0].contents_add(b"/Again Do")


def names_that_lead_in_a_circle(pdf: pikepdf.Pdf) -> None:
    tree = pdf.make_indirect(pikepdf.Dictionary(Kids=pikepdf.Array()))
    tree.Kids.append(tree)
    pdf.Root.Names.EmbeddedFiles = tree


def thousands_of_pages(pdf: pikepdf.Pdf) -> None:
    for _ in range(2000):
        pdf.pages.append(pdf.pages[0])


def a_file_that_is_no_stream(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AF.append(pikepdf.Dictionary(Type=pikepdf.Name.Filespec, UF=pikepdf.String(EVENTS), EF=pikepdf.Array()))


def a_picture_that_claims_to_be_huge(pdf: pikepdf.Pdf) -> None:
    picture = pdf.make_stream(b"\xff\xd8\xff\xe0")
    picture.update({"/Type": pikepdf.Name.XObject, "/Subtype": pikepdf.Name.Image, "/Width": 10**9, "/Height": 10**9})
    pdf.pages[0].add_resource(picture, pikepdf.Name.XObject)


@pytest.mark.parametrize(
    "harm",
    [
        page_tree_without_end,
        form_that_draws_itself,
        names_that_lead_in_a_circle,
        thousands_of_pages,
        a_file_that_is_no_stream,
        a_picture_that_claims_to_be_huge,
    ],
)
def test_a_pdf_that_was_made_to_do_harm_is_answered(harm: Any, whole: Whole) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(whole.forms[".pdf"])) as pdf:
        harm(pdf)
        pdf.save(out, fix_metadata_version=False)
    assert answered(out.getvalue(), whole).exit_code in (DAMAGED, UNREADABLE)


# --- databases made to do harm ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "harm",
    [
        # Endless rows, from a view that stands in place of the table.
        "DROP TABLE events; CREATE VIEW events AS WITH RECURSIVE n(seq) AS (SELECT 1 UNION ALL SELECT seq + 1 FROM n) "
        "SELECT seq, '' AS id, '' AS text, '' AS hash FROM n",
        # A column that is worked out anew whenever it is read.
        "DROP TABLE events; CREATE TABLE events (seq INTEGER PRIMARY KEY, id, text AS (zeroblob(900000000)), hash); "
        "INSERT INTO events (id, hash) VALUES ('a', 'b')",
        "CREATE INDEX slow ON events (hex(zeroblob(1000 * length(text))))",
        "ALTER TABLE events ADD COLUMN z DEFAULT (1)",
    ],
)
def test_a_database_that_was_made_to_do_harm_is_answered(harm: str, whole: Whole, tmp_path: Path) -> None:
    path = tmp_path / "made.db"
    path.write_bytes(whole.forms[".db"])
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        database.executescript(harm)
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    assert answered(path.read_bytes(), whole).exit_code in (DAMAGED, UNREADABLE)


# --- the process boundary -----------------------------------------------------------------------------------------


def test_a_broken_pdf_is_answered_across_the_process_boundary_and_leaves_no_folder(
    whole: Whole, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    (tmp_path / "half.pdf").write_bytes(whole.forms[".pdf"][: len(whole.forms[".pdf"]) // 2])
    assert verify(tmp_path / "half.pdf").exit_code in (DAMAGED, UNREADABLE)
    assert list(folder.iterdir()) == []
