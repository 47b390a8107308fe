"""`fieldassist verify`: whether a PDF, a bundle or a day's log is the record that was made and signed on site.

For somebody who trusts nobody: it needs the file alone, no network and nothing stored on this machine, and writes
nothing but in a temporary folder. What it checks rests on published ground, so that it can be checked without this
program too: canonical JSON (RFC 8785), SHA-256 (FIPS 180-4), Ed25519 (RFC 8032), ZIP (PKWARE APPNOTE 6.3.10), PDF (ISO
32000-1).

What a good answer says: these events are those that the holder of the key signed, and the pages show them. What it
cannot say: that what was said on site is true; who held the key (compare its fingerprint with the one that the signer
gave); whether a later part was cut off behind the last seal (ask the signer for the last head). It replaces no
inspection.

Exit codes: 0, whole, sealed to the last event, and the pages agree; 3, whole, but not sealed or not to the last event,
or a key was given that did not seal it, or the pages bear other marks and say that another version drew them; 1,
damaged or forged; 2, not to be read as any of the three.
"""

from __future__ import annotations

import contextlib
import hashlib
import logging
import multiprocessing
import re
import tempfile
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from fieldassist import __version__
from fieldassist.checklist.events import DayOpened, Event
from fieldassist.files import open_regular
from fieldassist.printable import printable
from fieldassist.proof.log import copied, has_mark, journal_of, read_log
from fieldassist.record import attachments
from fieldassist.record.bundle import LARGEST_BUNDLE, BundleProblem, open_bundle
from fieldassist.record.disk import sha256_of
from fieldassist.record.keys import fingerprint, read_public, same_key
from fieldassist.record.log import GENESIS
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    MANIFEST,
    PDF,
    Chain,
    Manifest,
    attached,
    check_texts,
    disagreements,
    read_manifest,
    split_lines,
    unkept,
)
from fieldassist.record.seal import SealCheck, check_seals, unsealed_after

if TYPE_CHECKING:
    from fieldassist.proof.paper import Agreement, Comparison, Paper
    from fieldassist.report.report_model import Units

WHOLE, DAMAGED, UNREADABLE, UNSEALED = 0, 1, 2, 3
_GRAVITY = {WHOLE: 0, UNSEALED: 1, DAMAGED: 2, UNREADABLE: 3}
_LAST_LINE = {
    WHOLE: "Whole, sealed to the last event, and in agreement with itself.",
    UNSEALED: "Whole, but not everything is vouched for: see above.",
    DAMAGED: "NOT GOOD: damaged or changed, see above. Do not rely on it; ask for the bundle from the tablet.",
    UNREADABLE: "Not verified.",
}

Kind = Literal["pdf", "bundle", "log"]
_CALLED = {"pdf": "a daily log on paper (PDF)", "bundle": "a bundle", "log": "a day's log"}

# Generous for any day, and less than what would bring a laptop to its knees.
LARGEST_FILE = {"pdf": 512 * 1024 * 1024, "bundle": LARGEST_BUNDLE, "log": 1024 * 1024 * 1024}
_SECONDS = 300.0
_MEMORY = 4 * 1024**3
_PROGRAM = re.compile(r"fieldassist [0-9][0-9A-Za-z.+]{0,30}")


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the check came to. lines: in plain words; facts: the same for a program; exit_code: see above."""

    lines: tuple[str, ...]
    exit_code: int
    facts: dict[str, Any]

    @property
    def ok(self) -> bool:
        """Whole, sealed to the last event, and pages that agree."""
        return self.exit_code == WHOLE


def verify(path: Path, *, key: str | None = None, seconds: float = _SECONDS, memory: int = _MEMORY) -> Verdict:
    """Check a PDF, a bundle or a day's log; which of them it is, its content tells.

    Parameters: path; key, the signer's public key as it was given to the reader: the path of a PEM file, 64 hexadecimal
    digits, or a fingerprint; seconds and memory (bytes), after which it gives up. The reading is done in a process of
    its own with these bounds, so that a file made to do harm costs no more (memory is bounded where the system can).
    Nothing is written beside the file.
    Errors: KeyProblem when `key` is no key.
    """
    known = read_public(key) if key is not None else None
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    with tempfile.TemporaryDirectory(prefix="fieldassist-", ignore_cleanup_errors=True) as scratch:
        child = context.Process(target=_in_child, args=(there, path, known, Path(scratch), memory), daemon=True)
        child.start()
        there.close()
        try:
            if not here.poll(seconds):
                return _gave_up(f"it was not read within {seconds:g} s")
            verdict = here.recv()
            assert isinstance(verdict, Verdict)
            return verdict
        except EOFError:
            return _gave_up("reading it ended the reader; it may be made to do harm")
        finally:
            child.kill()
            child.join()
            here.close()


def _gave_up(why: str) -> Verdict:
    found = _Findings()
    found.say(f"It was given up: {why}. Nothing is known about it.", UNREADABLE)
    return found.verdict()


def _in_child(connection: Connection, path: Path, key: str | None, scratch: Path, memory: int) -> None:
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # not on every system

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        verdict = examine(path, key, scratch)
    except MemoryError:
        verdict = _gave_up("reading it took more memory than any day of ours")
    connection.send(verdict)


@dataclass(slots=True)
class _Findings:
    lines: list[str] = field(default_factory=list)
    facts: dict[str, Any] = field(default_factory=dict)
    code: int = WHOLE

    def say(self, line: str, code: int = WHOLE) -> None:
        """A line about a file that may be hostile: safe to show on a terminal."""
        self.lines.append(printable(line))
        if _GRAVITY[code] > _GRAVITY[self.code]:
            self.code = code

    def verdict(self) -> Verdict:
        return Verdict((*self.lines, _LAST_LINE[self.code]), self.code, {**self.facts, "exit_code": self.code})


def examine(path: Path, key: str | None, scratch: Path) -> Verdict:
    """What `verify` does, in this process: key as `read_public` gives it, scratch an empty folder for copies."""
    found = _Findings()
    try:
        if not path.is_file():
            found.say(f"There is no file at {path}. Check the name.", UNREADABLE)
            return found.verdict()
        kind = kind_of(path)
        found.facts |= {"file": str(path), "kind": kind}
        if kind is None:
            found.say(
                f"{path.name} is neither a PDF nor a bundle nor a day's log, or its beginning is gone.", UNREADABLE
            )
        elif path.stat().st_size > LARGEST_FILE[kind]:
            found.say(f"{path.name} is larger than {_CALLED[kind]} can be. It was not read.", UNREADABLE)
        else:
            found.say(f"{path.name} is {_CALLED[kind]}.")
            {"pdf": _check_pdf, "bundle": _check_bundle, "log": _check_log}[kind](path, key, scratch, found)
    except OSError as error:
        found.say(f"{path} could not be read to its end ({error.strerror or error}).", UNREADABLE)
    return found.verdict()


def kind_of(path: Path) -> Kind | None:
    """Which of the three a file is, by its content; one damaged byte does not hide a bundle or a log."""
    with open_regular(path) as file:
        front = file.read(1024)
    if front.startswith(b"SQLite format 3\0") or has_mark(front):
        return "log"
    if not front and journal_of(path).exists():
        return "log"
    if front.startswith(b"PK\3\4") or front[30:43] == MANIFEST.encode():
        return "bundle"
    return "pdf" if b"%PDF-" in front else None


# --- what all three share -----------------------------------------------------------------------------------------


def _many(count: int, one: str) -> str:
    return f"{count} {one}{'' if count == 1 else 's'}"


def _short(text: str) -> str:
    return text if len(text) <= 120 else f"{text[:120]} ..."


def _some(names: Sequence[str]) -> str:
    shown = ", ".join(_short(name) for name in names[:5])
    return shown if len(names) <= 5 else f"{shown} and {len(names) - 5} more"


def _check_record(chain: Chain, key: str | None, found: _Findings) -> None:
    good, opened = len(chain.events), chain.events[0].body if chain.events else None
    head = chain.hashes[-1] if chain.hashes else GENESIS
    found.facts |= {"good_events": good, "head": head, "first_bad_event": chain.bad}
    if isinstance(opened, DayOpened):
        found.facts |= {"site": opened.plan.site, "date": opened.plan.date}
        found.say(f"The day: {_short(opened.plan.site)}, {_short(opened.plan.date)}.")
    if chain.bad is not None:
        before = f" The {_many(good, 'event')} before it {'is' if good == 1 else 'are'} good." if good else ""
        found.say(f"Event {chain.bad} is not good: {_short(chain.fault)}.{before}", DAMAGED)
        _tell_newer(chain.fault, found)
    elif not isinstance(opened, DayOpened):
        found.say("It holds no day: its first event opens none.", DAMAGED)
    else:
        found.say(f"All {_many(good, 'event')} follow from each other; the head is {head}.")
    _check_seals(chain, key, found)


def _tell_newer(fault: str, found: _Findings) -> None:
    if "does not read as" in fault:
        found.say(f"If a newer version than {__version__} wrote it, verify it with that one before you judge.")


def _check_seals(chain: Chain, key: str | None, found: _Findings) -> None:
    checks = check_seals(chain.events, chain.hashes)
    found.facts["seals"] = [
        asdict(check) | {"good": check.good, "key_matches": key and same_key(key, check.public_key)} for check in checks
    ]
    for check in checks:
        part = f"addendum {check.part}" if check.part else "the day"
        who = f"{_short(check.name).title()}, {check.role}"
        if not check.good:
            found.say(f"The seal in event {check.seq} ({part}, {who}) is not good: {_short(check.why)}.", DAMAGED)
            continue
        found.say(
            f"Sealed: {part}, events 1 to {check.covers}, by {who}, at {_short(check.signed_at)}; fingerprint of the "
            f"key {check.fingerprint}."
        )
        if check.warning:
            found.say(f"Look into this seal: {check.warning}.", UNSEALED)
    good = [check for check in checks if check.good]
    if chain.bad is None:
        _check_what_is_open(len(chain.events), unsealed_after(chain.events, chain.hashes), found)
    _check_key(key, good, found)


def _check_what_is_open(events: int, unsealed: int, found: _Findings) -> None:
    found.facts["unsealed_events"] = unsealed
    if unsealed == events:
        found.say("No good seal: nobody's key vouches for these events.", UNSEALED)
    elif unsealed:
        found.say(
            f"The last {_many(unsealed, 'event')}, from event {events - unsealed + 1} on, came after the last seal: "
            "nobody's key vouches for them.",
            UNSEALED,
        )


def _check_key(key: str | None, good: Sequence[SealCheck], found: _Findings) -> None:
    found.facts["key"] = None if key is None else "no match"
    if key is None:
        if good:
            found.say(
                "Whose key that is no file can tell: compare the fingerprint with the one that the signer gave you, or "
                "give it with --key."
            )
        return
    given = fingerprint(key) if len(key) == 64 else " ".join(key[i : i + 4] for i in range(0, 32, 4))
    matching = [check for check in good if same_key(key, check.public_key)]
    if not matching:
        found.say(f"The key you gave ({given}) made none of its good seals.", UNSEALED)
    elif matching[-1] != good[-1]:
        found.facts["key"] = "earlier part"
        found.say(
            f"The key you gave ({given}) sealed events 1 to {matching[-1].covers}; what came after was sealed with "
            "another key.",
            UNSEALED,
        )
    else:
        found.facts["key"] = "match"
        found.say(f"The key you gave ({given}) made the last seal.")


def _check_attachments(
    events: Sequence[Event], wrong: Mapping[str, str], elsewhere: Collection[str], found: _Findings
) -> None:
    """wrong: why, by name; elsewhere: those that are rightly not here."""
    spoken_of, loose = attached(events), unkept(events)
    found.facts["attachments"] = {
        "spoken_of": len(spoken_of),
        "whole": len(spoken_of) - len(wrong) - len(elsewhere),
        "wrong": dict(wrong),
        "elsewhere": sorted(elsewhere),
        "cannot_be_checked": [name for _, name in loose],
    }
    for name, why in list(wrong.items())[:20]:
        seq = next(e.seq for e in events if getattr(e.body, "sha256", None) == spoken_of[name])
        found.say(f"Attachment {name} of event {seq} {why}.", DAMAGED)
    here = len(spoken_of) - len(elsewhere)
    if here and not wrong:
        found.say(f"{_many(here, 'attachment')} present, each as its event says.")
    if elsewhere:
        found.say(
            f"Not in it, for their size or because the tablet lost them: {_some(sorted(elsewhere))}. Their hashes are "
            "in the events, so they can be checked when they are handed over."
        )
    if loose:
        found.say(
            f"Event {loose[0][0]} speaks of the file “{_short(loose[0][1])}”, which is not named by its content: it "
            "cannot be checked."
        )


# --- a log --------------------------------------------------------------------------------------------------------


def _check_log(path: Path, key: str | None, scratch: Path, found: _Findings) -> None:
    copy = copied(path, scratch, LARGEST_FILE["log"])
    if copy is None:
        found.say(
            f"{path.name} is being written faster than it can be read, or is larger than any day. Try again when "
            "nobody works on it.",
            UNREADABLE,
        )
        return
    chain, trouble = read_log(copy)
    if chain is None:
        found.say(f"It is a database, but not a day of ours: {_short(trouble)}.", UNREADABLE)
        return
    _check_record(chain, key, found)
    if trouble:
        found.say(f"The database file is not as a day's log is: {_short(trouble)}.", DAMAGED)
    folder, wrong = attachments.folder_of(path), {}
    for name, digest in attached(chain.events).items():
        file = folder / name
        if not file.is_file():
            wrong[name] = f"is missing in {folder.name}"
        elif file.stat().st_size > attachments.LARGEST_BYTES or sha256_of(file) != digest:
            wrong[name] = "was changed"
    _check_attachments(chain.events, wrong, (), found)


# --- a bundle -----------------------------------------------------------------------------------------------------


def _check_bundle(path: Path, key: str | None, scratch: Path, found: _Findings) -> None:
    found.facts["sha256"] = sha256_of(path)
    found.say(f"Its SHA-256 is {found.facts['sha256']}.")
    try:
        bundle = open_bundle(path)
    except BundleProblem as problem:
        found.facts |= {"good_events": problem.whole, "first_bad_event": problem.event, "where": list(problem.where)}
        found.say(str(problem)[:1000], DAMAGED)
        _tell_newer(str(problem), found)
        return
    _check_record(Chain(bundle.events, bundle.hashes), key, found)
    lost = {f.name.removeprefix(ATTACHED): "was lost on the tablet before the bundle was made" for f in bundle.left_out}
    _check_attachments(bundle.events, lost, (), found)
    if all(f.name != PDF for f in bundle.files):
        found.facts["pages"] = None
        found.say("It holds no daily log on paper.")
        return
    record = _record_in(bundle.read(PDF), found)
    if record is None:
        found.facts["pages"] = "not compared"
        found.say("So the daily log in this bundle shows nothing. The bundle's events were judged above.", DAMAGED)
        return
    if record.chain.bad is not None or record.texts != bundle.texts[: len(record.texts)]:
        found.facts["pages"] = "another record"
        found.say("The daily log in it was printed from another record than the bundle's.", DAMAGED)
        return
    if len(record.texts) < len(bundle.texts):
        found.say(
            f"The daily log in it was printed at event {len(record.texts)} of {len(bundle.texts)}: that is no sign of "
            "forgery, but it does not show what came later.",
            UNSEALED,
        )
    _check_pages(record, scratch, found)


# --- a PDF --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Attached:
    """The record attached to a PDF. manifest: None when it is not good."""

    paper: Paper
    texts: list[str]
    chain: Chain
    manifest: Manifest | None

    def original(self, name: str, digest: str) -> bytes | None:
        """An attachment, if it is what the event says."""
        copies = self.paper.files.get(ATTACHED + name, [])
        return next((copy for copy in copies if hashlib.sha256(copy).hexdigest() == digest), None)


def _check_pdf(path: Path, key: str | None, scratch: Path, found: _Findings) -> None:
    data = path.read_bytes()
    found.facts["sha256"] = hashlib.sha256(data).hexdigest()
    found.say(f"Its SHA-256 is {found.facts['sha256']}.")
    record = _record_in(data, found)
    if record is None:
        found.say("So nothing in it can be checked. Ask for the bundle.", UNREADABLE)
        return
    _check_record(record.chain, key, found)
    spoken_of = attached(record.chain.events)
    files = record.manifest.files if record.manifest is not None else []
    left_out = {f.name.removeprefix(ATTACHED) for f in files if f.left_out} & spoken_of.keys()
    wrong = {
        name: "was changed" if ATTACHED + name in record.paper.files else "is missing in the PDF"
        for name, digest in spoken_of.items()
        if name not in left_out and record.original(name, digest) is None
    }
    _check_attachments(record.chain.events, wrong, left_out, found)
    _check_pages(record, scratch, found)


def _record_in(data: bytes, found: _Findings) -> _Attached | None:
    """The record attached to a PDF, or None, after it was said why."""
    from fieldassist.proof.paper import NotReadable, read_paper

    try:
        paper = read_paper(data)
    except NotReadable as problem:
        found.say(f"It was not read: {_short(str(problem))}.")
        return None
    if EVENTS not in paper.files:
        found.say("No record is attached to the PDF: it is no daily log of ours, or the record was taken out.")
        return None
    manifest, head = None, None
    try:
        manifest = read_manifest(paper.files.get(MANIFEST, [b""])[0])
        head = manifest.head
        if _PROGRAM.fullmatch(manifest.program) is None:
            raise ValueError("the program that it names is none of ours")
    except ValueError as error:
        manifest = None
        found.say(f"{MANIFEST}, attached to the PDF, is missing or not good: {_short(str(error))}.", DAMAGED)
    try:
        texts = split_lines(paper.files[EVENTS][0])
    except ValueError as error:
        found.say(f"{EVENTS}, attached to the PDF, is not whole: {_short(str(error))}.", DAMAGED)
        texts = paper.files[EVENTS][0].decode("utf-8", "replace").split("\n")
    return _Attached(paper, texts, check_texts(texts, head), manifest)


def _check_pages(record: _Attached, scratch: Path, found: _Findings) -> None:
    """Whether the pages are what the record gives when it is printed again."""
    from fieldassist.proof.paper import NotReadable, compare

    _check_files(record, found)
    manifest = record.manifest
    found.facts["pages"] = "not compared"
    if manifest is None or record.chain.bad is not None:
        found.say("The pages were not compared: the attached record is not whole.", DAMAGED)
        return
    folder = scratch / "attached"
    folder.mkdir()
    for name, digest in attached(record.chain.events).items():
        original = record.original(name, digest)
        if original is not None:
            (folder / name).write_bytes(original)
    try:
        pages = compare(record.paper, lambda units: _print_again(record, manifest.program, folder, units))
    except (NotReadable, _CannotPrint) as problem:
        found.say(f"The pages were not compared: {_short(str(problem))}.", DAMAGED)
        return
    _tell_pages(pages, manifest.program, found)


_AGREEMENT: dict[Agreement, str] = {
    "same bytes": "The attached record, printed again, gives this very PDF, byte for byte: the pages show the record.",
    "same drawing": "The attached record, printed again, gives the same pages to the last stroke. Only the bytes of "
    "the file differ: packed by other versions of the libraries, or packed again by another program.",
    "other pictures": "The attached record, printed again, gives the same pages. Only how pictures are packed differs, "
    "and they look the same. To judge details, use the originals that are attached.",
    "other marks": "The pages say, word for word, what the attached record says, but something else is not as the "
    "record gives it: it was changed, or other versions of the libraries drew it. Marks can cover words, and pictures "
    "can be replaced: rely on the attached record, not on these pages.",
    "other words": "The pages do NOT say what the attached record says.",
}


def _tell_pages(pages: Comparison, program: str, found: _Findings) -> None:
    found.facts |= {"pages": pages.agreement, "difference": pages.difference, "added": list(pages.added)}
    same_version = program == f"fieldassist {__version__}"
    code = WHOLE
    if pages.agreement in ("other marks", "other words"):
        code = UNSEALED if pages.agreement == "other marks" and not same_version else DAMAGED
    found.say(f"{_AGREEMENT[pages.agreement]} {pages.difference}".rstrip(), code)
    if pages.added:
        found.say(f"Added to this PDF was what its record does not give: {_some(pages.added)}.", DAMAGED)
    if code != WHOLE and not same_version:
        found.say(
            f"The PDF says that {program} made it, which no seal covers; this is {__version__}, and versions may print "
            "differently. Verify it with that version before you judge the pages; the record was judged above."
        )


def _check_files(record: _Attached, found: _Findings) -> None:
    """Whether attached are the files that the manifest names, each once, and no other."""
    files = record.paper.files
    belong = {EVENTS, MANIFEST}
    if record.manifest is not None:
        if record.chain.bad is None:
            for disagreement in disagreements(record.manifest, record.chain.events):
                found.say(f"{_short(disagreement)}.", DAMAGED)
        for entry in record.manifest.files:
            belong.add(entry.name)
            copies = files.get(entry.name, [])
            fits = copies and hashlib.sha256(copies[0]).hexdigest() == entry.sha256 and len(copies[0]) == entry.bytes
            if not fits and not (entry.left_out and not copies):
                found.say(f"{_short(entry.name)}, attached to the PDF, is not as {MANIFEST} says.", DAMAGED)
    strange = sorted(files.keys() - belong)
    if strange:
        found.say(f"Files are attached to the PDF that do not belong to its record: {_some(strange)}.", DAMAGED)
    twice = sorted(name for name, copies in files.items() if len(copies) > 1)
    if twice:
        found.say(f"Files are attached to the PDF more than once, under one name: {_some(twice)}.", DAMAGED)


class _CannotPrint(Exception):
    """The record cannot be printed; the text says why."""


def _print_again(record: _Attached, program: str, folder: Path, units: Units) -> bytes:
    from fieldassist.report.daily import Record, write_daily_pdf

    out = folder.with_name("again.pdf")
    try:
        chain = record.chain
        write_daily_pdf(Record(chain.events, record.texts, chain.hashes, folder, program), out, units=units)
    except MemoryError:
        raise
    except Exception as problem:
        # Events that follow from each other need not make sense; whatever trips over them means that.
        raise _CannotPrint(f"the attached record cannot be printed again ({problem})") from problem
    return out.read_bytes()
