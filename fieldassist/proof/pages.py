"""A daily log on paper: the record attached to it, and who vouches for its pages.

Pages are vouched for in two ways only. Either all bytes of the file are signed by the certificate that the last seal of
its record names: then whoever sealed the record answers for what the pages show, whatever version drew them. Or the
record, printed again by this version, gives the very same bytes. What else agrees is told, and proves nothing. What is
attached beside the record must be its own in both.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fieldassist import __version__
from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.told import write_figure
from fieldassist.extras import lacking
from fieldassist.language import LANGUAGES
from fieldassist.proof.signature import SignedPaper, read_signed
from fieldassist.proof.strict import Loose
from fieldassist.proof.tables import check_tables
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Findings, short, short_name, some
from fieldassist.record.chain import Chain, check_texts
from fieldassist.record.cms import NoSuchSignature
from fieldassist.record.keys import certificate_hash
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    MANIFEST,
    PDF,
    SEQUENCE_CSV,
    SEQUENCE_JSON,
    Manifest,
    attached,
    disagreements,
    read_manifest,
    split_lines,
)
from fieldassist.record.seal import SealCheck, check_seals
from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.quantities import Units

if TYPE_CHECKING:
    from fieldassist.proof.paper import Comparison, Paper
    from fieldassist.record.bundle import Bundle

_PROGRAM = re.compile(r"fieldassist [0-9][0-9A-Za-z.+]{0,30}")
# What goes with every daily log, beside what its events speak of.
_OURS = frozenset({EVENTS, MANIFEST, SEQUENCE_CSV, SEQUENCE_JSON})
# The date that a print stands in for is taken out of both before they are compared.
_ANY_DATE = datetime(2000, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class AttachedRecord:
    """The record attached to a PDF, and what was read of the PDF.

    files: every attached file by name, each copy of it; manifest: None when it is not good; signed: the file where all
    its bytes are signed; unsigned: why they are not, although the file bears a signature.
    """

    data: bytes
    files: Mapping[str, Sequence[bytes]]
    texts: list[str]
    chain: Chain
    manifest: Manifest | None
    signed: SignedPaper | None = None
    unsigned: Message | None = None

    def original(self, name: str, digest: str) -> bytes | None:
        """An attachment, if it is what the event says."""
        copies = self.files.get(ATTACHED + name, [])
        return next((copy for copy in copies if hashlib.sha256(copy).hexdigest() == digest), None)


def record_in(data: bytes, found: Findings) -> AttachedRecord | None:
    """The record attached to a PDF, or None, after it was said why."""
    files: Mapping[str, Sequence[bytes]]
    signed, unsigned = None, None
    # Whatever bears a signature in the one form has this word as it stands.
    if b"/ByteRange" in data:
        try:
            signed = read_signed(data)
        except (Loose, NoSuchSignature) as problem:
            unsigned = problem.told
    if signed is not None:
        files = {name: (content,) for name, content in signed.files.items()}
    else:
        paper = _read(data, found)
        if paper is None:
            return None
        files, unsigned = paper.files, (unsigned or message("proof-loose-packed")) if paper.signed else None
    if EVENTS not in files:
        found.say("no-record")
        return None
    manifest, head = None, None
    try:
        manifest = read_manifest(files.get(MANIFEST, [b""])[0])
        head = manifest.head
        if _PROGRAM.fullmatch(manifest.program) is None:
            raise Refused(message("proof-strange-program"))
    except Refused as refused:
        manifest = None
        found.say("manifest-not-good", DAMAGED, why=short(refused.told))
    try:
        texts = split_lines(files[EVENTS][0])
    except Refused as refused:
        found.say("events-not-whole", DAMAGED, why=short(refused.told))
        texts = files[EVENTS][0].decode("utf-8", "replace").split("\n")
    return AttachedRecord(data, files, texts, check_texts(texts, head), manifest, signed, unsigned)


def _read(data: bytes, found: Findings) -> Paper | None:
    # Whoever is handed a file that is signed does not wait for what reads and prints all others.
    from fieldassist.proof.paper import NotReadable, read_paper

    try:
        return read_paper(data)
    except NotReadable as problem:
        found.say("paper-unreadable", why=short(problem.told))
        return None


def signed_pages_in(bundle: Bundle) -> bytes | None:
    """The daily log in a bundle where whoever sealed last signed all its bytes, and it shows all of the bundle's
    events; None where it is another."""
    if all(entry.name != PDF for entry in bundle.files):
        return None
    data = bundle.read(PDF)
    try:
        signed = read_signed(data)
        texts = split_lines(signed.files.get(EVENTS, b""))
    except Refused:
        return None
    seals = [check for check in check_seals(bundle.events, bundle.hashes) if check.good]
    by = certificate_hash(signed.certificate)
    return data if texts == bundle.texts and seals and seals[-1].certificate == by else None


def check_pages(record: AttachedRecord, scratch: Path, found: Findings) -> None:
    """Whether somebody vouches for the pages. scratch: an empty folder."""
    _check_files(record, found)
    found.facts |= {"pages": "not compared", "signed_pages": None}
    manifest = record.manifest
    if manifest is None or record.chain.bad is not None:
        found.say("pages-not-compared", DAMAGED, why=message("proof-record-not-whole"))
        return
    if record.signed is not None and _is_vouched_for(record.signed, record.chain, found):
        # Whoever signed answers for these too. But a reader who sees good pages does not look into them.
        check_tables(record.files, record.chain, manifest.program, record.signed.language, UNSEALED, found)
        return
    if record.unsigned is not None:
        found.say("signature-not-good", UNSEALED, why=short(record.unsigned))
    _compare_with_print(record, manifest.program, scratch, found)


def _is_vouched_for(signed: SignedPaper, chain: Chain, found: Findings) -> bool:
    """Whether the pages are signed by whoever made the last good seal of their record; it is said."""
    seals = [check for check in check_seals(chain.events, chain.hashes) if check.good]
    by = certificate_hash(signed.certificate)
    if not seals or seals[-1].certificate != by:
        found.say("signed-by-another", UNSEALED)
        return False
    seal = seals[-1]
    who = {"name": short_name(seal.name), "role": seal.role.value}
    found.facts |= {"pages": "signed", "signed_pages": {**who, "at": signed.at, "certificate": by}}
    found.say("pages-signed", **who)
    if not _names(signed.certificate, seal, chain):
        found.say("certificate-names-another", UNSEALED, **who)
    return True


def _names(certificate: bytes, seal: SealCheck, chain: Chain) -> bool:
    """Whether a certificate shows the person who sealed, in that role, and practice where the day is no work."""
    from fieldassist.record.certificate import CertifiedPerson, certificate_name

    opened = chain.events[0].body
    practice = isinstance(opened, DayOpened) and opened.kind != "work"
    try:
        return certificate_name(certificate) == CertifiedPerson(seal.name, seal.role, practice)
    except ValueError:
        return False


def _compare_with_print(record: AttachedRecord, program: str, scratch: Path, found: Findings) -> None:
    """Whether the pages are what the record gives when it is printed again."""
    from fieldassist.proof.paper import NotReadable, compare, read_paper

    folder = scratch / "attached"
    folder.mkdir()
    for name, digest in attached(record.chain.events).items():
        original = record.original(name, digest)
        if original is not None:
            (folder / name).write_bytes(original)
    try:
        paper = read_paper(record.data)
        pages = compare(paper, lambda units: _print_again(record, program, folder, units, paper))
    except (NotReadable, _CannotPrint) as problem:
        library = lacking(problem)
        if library is not None:
            found.say("pages-need-more", UNSEALED, library=library)
            return
        found.say("pages-not-compared", DAMAGED, why=short(problem.told))
        return
    _tell_pages(pages, program, found)
    if pages.agreement in ("other marks", "other words"):
        check_tables(record.files, record.chain, program, paper.language, DAMAGED, found)


def _tell_pages(pages: Comparison, program: str, found: Findings) -> None:
    found.facts |= {
        "pages": pages.agreement,
        "difference": None if pages.difference is None else write_figure(pages.difference),
        "added": [write_figure(added) for added in pages.added],
    }
    other_version = _is_other_version(program)
    code = WHOLE if pages.agreement == "same bytes" else UNSEALED
    if pages.added or (pages.agreement in ("other marks", "other words") and not other_version):
        code = DAMAGED
    found.pages_open = code == UNSEALED
    found.say(f"pages-{pages.agreement.replace(' ', '-')}", code)
    if pages.difference is not None:
        found.say("difference", code, difference=pages.difference)
    if pages.added:
        found.say("added", DAMAGED, what=some(pages.added))
    if code != WHOLE and other_version:
        found.say("another-version", code, program=program, version=__version__)


def _is_other_version(program: str) -> bool:
    return program != f"fieldassist {__version__}"


def _check_files(record: AttachedRecord, found: Findings) -> None:
    """Whether attached are the files that the manifest names, each once, and no other."""
    files = record.files
    belong = {EVENTS, MANIFEST}
    unknown: list[str] = []
    if record.manifest is not None:
        if record.chain.bad is None:
            for disagreement in disagreements(record.manifest, record.chain.events):
                found.say("disagreement", DAMAGED, what=short(disagreement))
        for entry in record.manifest.files:
            belong.add(entry.name)
            if entry.name not in _OURS and not entry.name.startswith(ATTACHED):
                unknown.append(entry.name)
            copies = files.get(entry.name, [])
            fits = copies and hashlib.sha256(copies[0]).hexdigest() == entry.sha256 and len(copies[0]) == entry.bytes
            if not fits and not (entry.left_out and not copies):
                found.say("file-not-as-listed", DAMAGED, file=short_name(entry.name))
    strange = sorted(files.keys() - belong)
    if strange:
        found.say("files-strange", DAMAGED, files=some(strange))
    if unknown:
        # A version to come may attach more. Whoever signed a file says what belongs to it.
        this_version = record.manifest is not None and not _is_other_version(record.manifest.program)
        grave = DAMAGED if this_version and record.signed is None else UNSEALED
        found.say("files-unknown", grave, files=some(sorted(unknown)), version=__version__)
    twice = sorted(name for name, copies in files.items() if len(copies) > 1)
    if twice:
        found.say("files-twice", DAMAGED, files=some(twice))


class _CannotPrint(Refused):
    """The record cannot be printed; `told` says why."""


def _print_again(record: AttachedRecord, program: str, folder: Path, units: Units, paper: Paper) -> bytes:
    """The record's print, in the language of that paper, which says only in what words; with room for a signature where
    the paper bears one, else as a copy."""
    from fieldassist.report.daily import Record, print_pages
    from fieldassist.report.pdf import SignatureField

    chain = record.chain
    field = SignatureField("", _ANY_DATE) if paper.signed else None
    language = paper.language if paper.language in LANGUAGES else None
    try:
        again = Record(chain.events, record.texts, chain.hashes, folder, program)
        return print_pages(again, units=units, language=language, signature=field).content
    except MemoryError:
        raise
    except Exception as problem:
        # Events that follow from each other need not make sense; whatever trips over them means that.
        raise _CannotPrint(message("proof-cannot-print", why=short_name(str(problem)))) from problem
