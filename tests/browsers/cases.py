"""A day as its owner is handed it, what a forger makes of it, and what the page has to say of each file.

The forgers write valid files, recompute every hash, and lack nothing but the signer's key.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import zipfile
import zlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

import pikepdf
import rfc8785

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine
from fieldassist.checklist import events as ev
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import Role
from fieldassist.record import attachments
from fieldassist.record.bundle import pack
from fieldassist.record.chain import GENESIS, chain_hash
from fieldassist.record.keys import SigningKey, fingerprint
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import ATTACHED, EVENTS, MANIFEST, PDF, join_lines
from fieldassist.record.seal import release_statement
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.report.signed import write_signed_pages
from tests.report.conftest import RUTH, Site, eventful_day

SIGNED_AT = "2026-03-04T12:00:00+01:00"
# Keys of nobody: their seeds stand here for all to read.
FORGER = SigningKey("ruth", Role.FOREMAN, b"\x06" * 32)
OWNER = SigningKey("ada", Role.OWNER, b"\x07" * 32)
Raw = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """What the page is given, and what it has to say. files: chosen together; roster, key: what the reader knows;
    verdict: of the first file; codes: findings that must be among its own; event: the first that is not good."""

    name: str
    files: tuple[Path, ...]
    verdict: str
    codes: tuple[str, ...]
    event: int | None = None
    roster: Path | None = None
    key: str = ""


@dataclass
class Folder:
    """Where the files of the cases are written."""

    path: Path
    count: int = 0

    def keep(self, data: bytes, name: str) -> Path:
        self.count += 1
        place = self.path / f"{self.count:02}"
        place.mkdir()
        (place / name).write_bytes(data)
        return place / name


# --- the genuine day --------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Handed:
    """One day in the forms in which it is handed over. photos: the files beside it; signed: its signed pages."""

    texts: list[str]
    pdf: bytes
    signed: bytes
    forged_pages: bytes
    bundle: bytes
    photos: tuple[Path, ...]
    files: Mapping[str, bytes] = field(repr=False)


def certified(key: SigningKey) -> SigningKey:
    """The same key with the certificate for pages."""
    return key.with_certificate(datetime.fromisoformat("2026-01-01T00:00:00+01:00"))


def worked_day() -> Site:
    """The tests' eventful day, its called releases confirmed by PIN, signed and sealed."""
    site = eventful_day()
    site.speak("ruth").wait(0.5)
    asked = cmd.ConfirmReleases(name="ruth", key=RUTH.public_key, signature="0" * 128)
    tried = engine.decide(site.state, asked, site.now)
    assert isinstance(tried, engine.Decision)
    assert site.state.plan is not None
    (event,) = tried.events
    assert isinstance(event.body, ev.ReleasesConfirmed)
    after = site.record().hashes[-1]
    said = release_statement(event.body, site.state.plan, seq=event.seq, after=after)
    site.do(asked.model_copy(update={"signature": RUTH.sign(said).hex()}))
    return site.sign(accept_open=True).seal(certified(RUTH))


def stored(folder: Path, site: Site, texts: Sequence[str]) -> Path:
    """A log of these texts, with the photos of the day beside it."""
    day = folder / "day.db"
    with DayLog.create(day) as log:
        log.append_texts(texts)
    for name, data in site.files.items():
        attachments.keep(day, data, Path(name).suffix)
    return day


def handed_over(folder: Path) -> Handed:
    """The day with its files, written below `folder`."""
    folder.mkdir()
    site = worked_day()
    texts = site.record().texts
    day = stored(folder, site, texts)
    at = Moment(wall=SIGNED_AT, mono=0.0, boot="a")
    with DayLog.open(day, read_only=True) as log:
        record = record_of(log)
        write_daily_pdf(record, folder / "day.pdf")
        write_signed_pages(record, certified(RUTH), folder / "signed.pdf", at)
    forged_pages = pages_of_a_forger(texts, site, folder / "forger", at)
    pack(day, folder / "day.bundle", folder / "signed.pdf")
    photos = tuple(sorted(attachments.folder_of(day).iterdir()))
    read = {name: (folder / name).read_bytes() for name in ("day.pdf", "signed.pdf", "day.bundle")}
    files = {ATTACHED + photo.name: photo.read_bytes() for photo in photos} | {EVENTS: join_lines(texts)}
    return Handed(texts, read["day.pdf"], read["signed.pdf"], forged_pages, read["day.bundle"], photos, files)


def pages_of_a_forger(texts: Sequence[str], site: Site, folder: Path, at: Moment) -> bytes:
    """Signed pages of another record, sealed by the forger's key under the signer's name."""
    folder.mkdir()
    forged = chained(texts, improved, sealed_by=certified(FORGER))
    day = stored(folder, site, forged)
    with DayLog.open(day, read_only=True) as log:
        write_signed_pages(record_of(log), certified(FORGER), folder / "signed.pdf", at)
    return (folder / "signed.pdf").read_bytes()


# --- forging ------------------------------------------------------------------------------------------------------------


def lift_of(texts: Sequence[str]) -> int:
    """The number of the failed lift's kept coverage, the reading that a forger would better."""
    return next(
        raw["seq"] for raw in map(json.loads, texts)
        if raw["body"]["type"] == "reading called" and raw["body"]["step"] == "coverage" and raw["body"]["value"] == "92"
    )  # fmt: skip


def improved(raw: Raw) -> None:
    """The failed lift read 96 percent."""
    body = raw["body"]
    if body["type"] == "reading called" and body["step"] == "coverage" and body["value"] == "92":
        body["value"] = "96"


def chained(texts: Sequence[str], change: Callable[[Raw], None], sealed_by: SigningKey | None = None) -> list[str]:
    """The texts after `change` of each, linked anew, numbered anew, and sealed anew where a key is given."""
    out: list[str] = []
    for number, text in enumerate(texts, start=1):
        raw = json.loads(text)
        raw["prev"] = chain_hash(out[-1]) if out else GENESIS
        raw["seq"] = number
        if sealed_by is not None and raw["body"]["type"] == "day sealed":
            raw["body"] = seal_body(out, sealed_by)
        change(raw)
        if sealed_by is not None and raw["body"]["type"] == "releases confirmed":
            raw["body"] = release_body(raw, json.loads(texts[0])["body"]["plan"], sealed_by)
        out.append(rfc8785.dumps(raw).decode())
    return out


def release_body(raw: Raw, plan: Raw, key: SigningKey) -> Raw:
    """The confirmation in this event, signed by this key."""
    told = {name: value for name, value in raw["body"].items() if name not in ("key", "signature")}
    said = {"after": raw["prev"], "date": plan["date"], "event": told, "pin": "fieldassist release 1", "seq": raw["seq"],
            "site": plan["site"]}  # fmt: skip
    return told | {"key": key.public_key, "signature": key.sign(rfc8785.dumps(said)).hex()}


def seal_body(texts: Sequence[str], key: SigningKey) -> Raw:
    """The seal that this key gives these texts, the last of which is a sign-off."""
    opened, signed = json.loads(texts[0])["body"]["plan"], json.loads(texts[-1])
    head, body = chain_hash(texts[-1]), signed["body"]
    certificate = hashlib.sha256(key.certificate).hexdigest() if key.certificate else ""
    said = {"covers": len(texts), "date": opened["date"], "head": head, "name": body["name"], "part": body["part"],
            "role": body["role"], "seal": f"fieldassist day {2 if certificate else 1}", "signed_at": signed["at"]["wall"],
            "site": opened["site"]}  # fmt: skip
    said |= {"certificate": certificate} if certificate else {}
    return {"certificate": certificate, "covers": len(texts), "head": head, "name": body["name"], "part": body["part"],
            "public_key": key.public_key, "role": body["role"], "signature": key.sign(rfc8785.dumps(said)).hex(),
            "type": "day sealed"}  # fmt: skip


def with_files(pdf: bytes, files: Mapping[str, bytes], *, relist: bool = True, extra: Sequence[str] = ()) -> bytes:
    """The PDF with these attached files in place of its own, in the form that the program writes.

    relist: the list of files is made to fit; extra: names of files that are attached besides.
    """
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        held = {str(x.UF): x.EF.F for x in opened.objects if isinstance(x, pikepdf.Dictionary) and "/EF" in x}
        for name, content in files.items():
            if name in held:
                held[name].write(content)
        for name in extra:
            spec = pikepdf.AttachedFileSpec(opened, files[name], filename=name)
            opened.attachments[name] = spec
        if relist:
            manifest = json.loads(held[MANIFEST].read_bytes())
            held[MANIFEST].write(rfc8785.dumps(relisted(manifest, files)))
        out = io.BytesIO()
        disabled = pikepdf.ObjectStreamMode.disable
        opened.save(out, fix_metadata_version=False, recompress_flate=True, object_stream_mode=disabled)
    return out.getvalue()


def relisted(manifest: Raw, files: Mapping[str, bytes]) -> Raw:
    """A list of files that fits these."""
    for entry in manifest["files"]:
        if entry["name"] in files:
            content = files[entry["name"]]
            entry |= {"bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}
    if EVENTS in files:
        lines = files[EVENTS].decode().splitlines()
        manifest |= {"events": len(lines), "head": chain_hash(lines[-1])}
    return manifest


def bundled(bundle: bytes, files: Mapping[str, bytes]) -> bytes:
    """The bundle with these files in place of its own, or behind them, and a list that fits."""
    with zipfile.ZipFile(io.BytesIO(bundle)) as opened:
        content = {name: opened.read(name) for name in opened.namelist()} | dict(files)
    manifest = relisted(json.loads(content[MANIFEST]), content)
    listed = {entry["name"] for entry in manifest["files"]}
    manifest["files"] += [
        {"bytes": len(data), "name": name, "sha256": hashlib.sha256(data).hexdigest()}
        for name, data in files.items() if name not in listed
    ]  # fmt: skip
    content[MANIFEST] = rfc8785.dumps(manifest)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        for name, data in content.items():
            info = zipfile.ZipInfo(name)
            info.create_system, info.external_attr = 3, 0o100644 << 16
            packed.writestr(info, data)
    return out.getvalue()


def roster_of(*people: Raw, key: SigningKey = OWNER) -> bytes:
    """A roster signed by the owner."""
    roster: Raw = {
        "firm": "Quay Tiling", "made": "2026-01-02T08:00:00+01:00", "people": list(people), "roster": 1,
        "signed": {"name": key.name, "public_key": key.public_key, "role": "owner"},
    }  # fmt: skip
    return rfc8785.dumps(roster | {"signature": key.sign(rfc8785.dumps(roster)).hex()})


def entry_for(key: SigningKey, **more: str) -> Raw:
    """What a roster says of one key."""
    certificate = hashlib.sha256(certified(key).certificate).hexdigest()
    return {"certificate": certificate, "from": "2026-01-01T00:00:00+01:00", "name": key.name,
            "record_key": key.public_key, "role": key.role.value} | more  # fmt: skip


def receipt_for(texts: Sequence[str], **more: Any) -> bytes:
    """The owner's countersignature."""
    plan = json.loads(texts[0])["body"]["plan"]
    said = {
        "at": "2026-03-04T16:00:00+01:00", "date": plan["date"], "events": len(texts), "head": chain_hash(texts[-1]),
        "name": OWNER.name, "public_key": OWNER.public_key, "receipt": "fieldassist receipt 1", "role": "owner",
        "site": plan["site"],
    } | more  # fmt: skip
    return rfc8785.dumps(said | {"signature": OWNER.sign(rfc8785.dumps(said)).hex()})


# --- the cases ------------------------------------------------------------------------------------------------------------


def all_cases(folder: Path) -> list[Case]:
    """Every case, its files written below `folder`."""
    handed, out = handed_over(folder / "day"), Folder(folder)
    assert bundled(handed.bundle, {}) == handed.bundle
    roster = out.keep(roster_of(entry_for(OWNER), entry_for(RUTH)), "roster.json")
    cases = [
        *good(handed, out, roster),
        *changed_events(handed, out, roster),
        *changed_seals(handed, out, roster),
        *changed_files(handed, out, roster),
        *changed_containers(handed, out),
        *keys_and_receipts(handed, out, roster),
        *hostile(handed, out),
    ]
    assert len({case.name for case in cases}) == len(cases)
    return cases


def good(handed: Handed, out: Folder, roster: Path) -> list[Case]:
    """What nobody changed."""
    pdf, signed = out.keep(handed.pdf, "day.pdf"), out.keep(handed.signed, "signed.pdf")
    bundle, lines = out.keep(handed.bundle, "day.bundle"), out.keep(handed.files[EVENTS], EVENTS)
    known = ("chain", "seal-in-roster", "release", "attachments")
    print_ = fingerprint(RUTH.public_key)
    return [
        Case("a PDF by a key that nobody knows", (pdf,), "unsure", ("chain", "seal-unknown")),
        Case("a PDF by a key of the roster, its pages unsigned", (pdf,), "unsure", (*known, "pages-unsigned"), None, roster),
        Case("signed pages by a key of the roster", (signed,), "whole", (*known, "photos-in-bundle", "pages-signed"), None, roster),
        Case("signed pages by a key that nobody knows", (signed,), "unsure", ("seal-unknown", "pages-signed")),
        Case("a bundle by a key of the roster", (bundle,), "whole", (*known, "pages-signed"), None, roster),
        Case("events and photos, by the fingerprint", (lines, *handed.photos), "whole", ("seal-by-known-key",), key=print_),
        Case("events alone, their photos missing", (lines,), "unsure", ("file-missing",), None, roster),
    ]  # fmt: skip


def changed_events(handed: Handed, out: Folder, roster: Path) -> list[Case]:
    """What is written in the events."""
    at, texts = lift_of(handed.texts), handed.texts
    line = texts[at - 1].replace('"value":"92"', '"value":"96"')
    assert line != texts[at - 1]
    one, moved = [*texts], [*texts]
    one[at - 1] = line
    moved[at - 1 : at + 1] = moved[at : at - 2 : -1]
    again = chained(texts, improved)

    def twice(raw: Raw) -> None:
        raw["id"] = json.loads(texts[3])["id"] if raw["seq"] == 9 else raw["id"]

    spaced = [*texts[:-1], texts[-1].replace('{"at"', '{ "at"', 1)]

    def jsonl(lines: Sequence[str], name: str = EVENTS) -> tuple[Path]:
        return (out.keep(join_lines(lines), name),)

    lost = texts[: at - 1] + texts[at:]
    bad = ("event-not-good",)
    in_place = handed.bundle.replace(texts[at - 1].encode(), line.encode())
    return [
        Case("a reading in events.jsonl", jsonl(one), "bad", bad, at, roster),
        Case("a reading in a PDF", (out.keep(with_files(handed.pdf, {EVENTS: join_lines(one)}), "x.pdf"),), "bad", bad, at, roster),
        Case("a reading in a bundle", (out.keep(bundled(handed.bundle, {EVENTS: join_lines(one)}), "x.bundle"),), "bad", bad, at, roster),
        Case("one figure in a bundle's bytes", (out.keep(in_place, "x.bundle"),), "bad", ("file-changed", *bad), at, roster),
        Case("a reading, with the chain made anew", (out.keep(with_files(handed.pdf, {EVENTS: join_lines(again)}), "x.pdf"),), "bad", ("chain", "seal-not-good"), None, roster),
        Case("a reading, with the chain made anew in a bundle", (out.keep(bundled(handed.bundle, {EVENTS: join_lines(again)}), "x.bundle"),), "bad", ("chain", "seal-not-good", "other-record"), None, roster),
        Case("two events in another order", jsonl(moved), "bad", bad, at, roster),
        Case("an event left out", jsonl(lost), "bad", bad, at, roster),
        Case("an event put in twice", jsonl([*texts[:at], *texts[at - 1 :]]), "bad", bad, at + 1, roster),
        Case("an id that another event has", jsonl(chained(texts, twice)), "bad", bad, 9, roster),
        Case("a space that does not belong there", jsonl(spaced), "bad", bad, len(texts), roster),
        Case("the sign-off and its seal cut off", jsonl(texts[:-2]), "unsure", ("no-seal",), None, roster),
        Case("the seal cut off from a PDF", (out.keep(with_files(handed.pdf, {EVENTS: join_lines(texts[:-1])}, relist=False), "x.pdf"),), "bad", bad, len(texts) - 1, roster),
        Case("half of the last line", (out.keep(handed.files[EVENTS][:-40], EVENTS),), "bad", bad, len(texts), roster),
        Case("a note after the seal", jsonl([*texts, later_note(texts)]), "unsure", ("after-the-seal",), None, roster),
    ]  # fmt: skip


def later_note(texts: Sequence[str]) -> str:
    """One more event, which nobody sealed."""
    raw = json.loads(texts[-1])
    raw |= {"body": {"audio": None, "sha256": None, "text": "it was raining", "type": "note made"}, "id": "later",
            "prev": chain_hash(texts[-1]), "seq": len(texts) + 1}  # fmt: skip
    return rfc8785.dumps(raw).decode()


def changed_seals(handed: Handed, out: Folder, roster: Path) -> list[Case]:
    """Who vouches."""
    texts, print_ = handed.texts, fingerprint(RUTH.public_key)

    def sealed(**more: Any) -> tuple[Path]:
        def change(raw: Raw) -> None:
            if raw["body"]["type"] == "day sealed":
                raw["body"] |= more

        return (out.keep(join_lines(chained(texts, change)), EVENTS),)

    signature = json.loads(texts[-1])["body"]["signature"]
    flipped = ("1" if signature[0] == "0" else "0") + signature[1:]
    bettered = chained(texts, improved, sealed_by=certified(FORGER))
    by_forger = (
        out.keep(bundled(handed.bundle, {EVENTS: join_lines(bettered), PDF: handed.forged_pages}), "x.bundle"),
    )

    def unreleased(raw: Raw) -> None:
        if raw["body"]["type"] == "releases confirmed":
            raw["body"]["signature"] = flipped
        if raw["body"]["type"] == "day sealed":
            raw["body"] = seal_body(so_far, certified(RUTH))
        so_far.append(rfc8785.dumps(raw).decode())

    so_far: list[str] = []
    released = join_lines(chained(texts, unreleased))
    return [
        Case("a bit of the seal", sealed(signature=flipped), "bad", ("seal-not-good",), None, roster),
        Case("a seal under a key that signs nothing", sealed(public_key="01" + "00" * 31, signature="01" + "00" * 63), "bad", ("seal-not-good",)),
        Case("a seal that covers less", sealed(covers=len(texts) - 2), "bad", ("seal-not-good",), None, roster),
        Case("a seal over another head", sealed(head="0" * 64), "bad", ("seal-not-good",), None, roster),
        Case("a seal in another name", sealed(name="ana"), "bad", ("seal-not-good",), None, roster),
        Case("a seal that names another certificate", sealed(certificate="1" * 64), "bad", ("seal-not-good",), None, roster),
        Case("a bettered day under a forger's key, a roster known", by_forger, "unsure", ("seal-doubted", "release-doubted"), None, out.keep(roster_of(entry_for(OWNER)), "roster.json")),
        Case("a bettered day under a forger's key, a fingerprint known", by_forger, "unsure", ("seal-other-key",), key=print_),
        Case("a bettered day under a forger's key, nothing known", by_forger, "unsure", ("seal-unknown",)),
        Case("a release by PIN that its key did not sign", (out.keep(released, EVENTS),), "bad", ("release-not-good",), None, roster),
    ]  # fmt: skip


def changed_files(handed: Handed, out: Folder, roster: Path) -> list[Case]:
    """Photos, lists of files, and the pages."""
    bodies = [json.loads(text)["body"] for text in handed.texts]
    copies = [body["copy_file"] for body in bodies if body["type"] == "photo attached"]
    photo, other = ATTACHED + copies[0], handed.files[ATTACHED + copies[1]]
    drawn = re.search(rb"stream\n(.{200,}?)\nendstream", handed.signed, re.DOTALL)
    assert drawn is not None
    dot = drawn.start(1) + 100
    touched = handed.signed[:dot] + bytes([handed.signed[dot] ^ 1]) + handed.signed[dot + 1 :]
    return [
        Case("a photo in a PDF", (out.keep(with_files(handed.pdf, {photo: other}, relist=False), "x.pdf"),), "bad", ("file-changed",), None, roster),
        Case("a photo in a PDF and its list", (out.keep(with_files(handed.pdf, {photo: other}), "x.pdf"),), "bad", ("file-changed",), None, roster),
        Case("a photo in a bundle and its list", (out.keep(bundled(handed.bundle, {photo: other}), "x.bundle"),), "bad", ("file-changed",), None, roster),
        Case("a file that no event speaks of", (out.keep(with_files(handed.pdf, {"extra.txt": b"x"}, extra=["extra.txt"]), "x.pdf"),), "bad", ("file-strange",), None, roster),
        Case("a byte of the signed pages", (out.keep(touched, "x.pdf"),), "bad", (), None, roster),
        Case("signed pages packed anew", (out.keep(with_files(handed.signed, {}, relist=False), "x.pdf"),), "bad", ("page-signature",), None, roster),
        Case("pages of a forger around the genuine record", (out.keep(bundled(handed.bundle, {PDF: handed.forged_pages}), "x.bundle"),), "bad", ("other-record",), None, roster),
    ]  # fmt: skip


def changed_containers(handed: Handed, out: Folder) -> list[Case]:
    """What two readers of a file would read differently, and what is cut."""
    pdf, bundle = handed.pdf, handed.bundle
    start = int(pdf.rsplit(b"startxref\n", 1)[1].split()[0])
    table, rest = pdf[start:], pdf[:start]
    dead = b"9999 0 obj\n<< >>\nendobj\n"
    moved = table.replace(b"startxref\n%d" % start, b"startxref\n%d" % (start + len(dead)))
    second = table.replace(b"trailer", b"5 1\n0000000015 00000 n \ntrailer")
    update = pdf + b"5 0 obj\n<< >>\nendobj\nxref\n5 1\n%010d 00000 n \ntrailer << /Prev %d >>\nstartxref\n%d\n%%%%EOF\n" % (
        len(pdf), start, len(pdf) + 25)  # fmt: skip
    form = ("pdf-form",)
    packed = [io.BytesIO() for _ in range(3)]
    at = lift_of(handed.texts)
    lines = [
        text.replace('"value":"92"', '"value":"96"') if n == at else text for n, text in enumerate(handed.texts, 1)
    ]
    changed = with_files(pdf, {EVENTS: join_lines(lines)})
    for start_of, out_to, how in (
        (pdf, packed[0], {"linearize": True}),
        (pdf, packed[1], {"object_stream_mode": pikepdf.ObjectStreamMode.generate}),
        (changed, packed[2], {"object_stream_mode": pikepdf.ObjectStreamMode.generate}),
    ):
        with pikepdf.open(io.BytesIO(start_of)) as opened:
            opened.save(out_to, **how)
    two = pdf + record_in_update(pdf, handed.files[EVENTS])
    end = bundle.index(b"PK\1\2")
    return [
        Case("a place in the PDF that is listed twice", (out.keep(rest + second, "x.pdf"),), "unsure", form),
        Case("a dead object before the list of places", (out.keep(rest + dead + moved, "x.pdf"),), "unsure", form),
        Case("an update that takes an attached file away", (out.keep(update, "x.pdf"),), "bad", (*form, "pdf-files")),
        Case("bytes behind the end of the PDF", (out.keep(pdf + b" " * 900 + b"x", "x.pdf"),), "unsure", form),
        Case("half a PDF", (out.keep(pdf[: len(pdf) // 2], "x.pdf"),), "unsure", form),
        Case("a PDF that a mail program packed anew", (out.keep(packed[0].getvalue(), "x.pdf"),), "unsure", (*form, "chain", "attachments")),
        Case("a PDF with its objects packed", (out.keep(packed[1].getvalue(), "x.pdf"),), "unsure", (*form, "chain", "attachments")),
        Case("a changed reading in a PDF that was packed anew", (out.keep(packed[2].getvalue(), "x.pdf"),), "bad", (*form, "event-not-good"), at),
        Case("a second record in an update", (out.keep(two, "x.pdf"),), "bad", (*form, "pdf-files")),
        Case("half a bundle", (out.keep(bundle[: len(bundle) // 2], "x.bundle"),), "bad", ("bundle-cut",)),
        Case("bytes behind the end of a bundle", (out.keep(bundle + b"x", "x.bundle"),), "bad", ("bundle-form",)),
        Case("another place in a bundle's list", (out.keep(bundle[:end] + bundle[end:].replace(b"events.jsonl", b"events.jsonm"), "x.bundle"),), "bad", ("bundle-form",)),
        Case("a file in a bundle that is none of ours", (out.keep(bundled(bundle, {"../x": b"x"}), "x.bundle"),), "bad", ("bundle-form",)),
    ]  # fmt: skip


def record_in_update(pdf: bytes, lines: bytes) -> bytes:
    """What an incremental update adds that puts other events in the place of the attached ones."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        spec = next(x for x in opened.objects if isinstance(x, pikepdf.Dictionary) and "/EF" in x and x.UF == EVENTS)
        number = spec.EF.F.objgen[0]
    start = int(pdf.rsplit(b"startxref\n", 1)[1].split()[0])
    held = b"%d 0 obj\n<< /Type /EmbeddedFile /Length %d >>\nstream\n%s\nendstream\nendobj\n" % (
        number,
        len(lines),
        lines,
    )
    table = b"xref\n%d 1\n%010d 00000 n \ntrailer << /Prev %d >>\nstartxref\n%d\n%%%%EOF\n"
    return held + table % (number, len(pdf), start, len(pdf) + len(held))


def keys_and_receipts(handed: Handed, out: Folder, roster: Path) -> list[Case]:
    """Rosters and countersignatures, honest and not."""
    lines = (out.keep(handed.files[EVENTS], EVENTS), *handed.photos)
    owner = entry_for(OWNER)

    def known(*people: Raw) -> Path:
        return out.keep(roster_of(owner, *people), "roster.json")

    false = out.keep(roster_of(owner, entry_for(RUTH)).replace(b"2026-01-01", b"2025-01-01", 1), "roster.json")
    receipt = receipt_for(handed.texts)
    with_receipt = bundled(handed.bundle, {"proof/receipt-1.json": receipt})
    with_roster = bundled(handed.bundle, {"proof/roster.json": roster.read_bytes()})
    elsewhere = bundled(handed.bundle, {"proof/receipt-1.json": receipt_for(handed.texts, head="1" * 64)})
    forged = bundled(handed.bundle, {"proof/receipt-1.json": receipt.replace(b"16:00", b"17:00")})
    return [
        Case("a key revoked before the seal", lines, "unsure", ("seal-doubted",), None, known(entry_for(RUTH, revoked="2026-02-01T00:00:00+01:00"))),
        Case("a key revoked after the seal", lines, "whole", ("seal-in-roster",), None, known(entry_for(RUTH, revoked="2026-04-01T00:00:00+01:00"))),
        Case("a key that counts only later", lines, "unsure", ("seal-doubted",), None, known(entry_for(RUTH) | {"from": "2026-03-05T00:00:00+01:00"})),
        Case("a key that counted only before", lines, "unsure", ("seal-doubted",), None, known(entry_for(RUTH, to="2026-03-01T00:00:00+01:00"))),
        Case("a key of another role", lines, "unsure", ("seal-doubted",), None, known(entry_for(RUTH, role="installer"))),
        Case("a key of another name", lines, "unsure", ("seal-doubted",), None, known(entry_for(RUTH, name="ana"))),
        Case("a changed roster, given as known", lines, "unsure", ("seal-unknown",), None, false),
        Case("a roster to look at", (roster,), "unsure", ("roster",)),
        Case("a changed roster to look at", (false,), "bad", ("roster-signature",)),
        Case("a roster that lies in the bundle", (out.keep(with_roster, "x.bundle"),), "unsure", ("roster-inside", "seal-unknown")),
        Case("a countersignature of a known owner", (out.keep(with_receipt, "x.bundle"),), "whole", ("receipt",), None, roster),
        Case("a countersignature of somebody", (out.keep(with_receipt, "x.bundle"),), "unsure", ("receipt-unknown",)),
        Case("a countersignature over another record", (out.keep(elsewhere, "x.bundle"),), "bad", ("receipt-elsewhere",), None, roster),
        Case("a changed countersignature", (out.keep(forged, "x.bundle"),), "bad", ("receipt-signature",), None, roster),
        Case("a countersignature given along with events", (*lines, out.keep(receipt, "receipt-1.json")), "whole", ("receipt",), None, roster),
    ]  # fmt: skip


def hostile(handed: Handed, out: Folder) -> list[Case]:
    """Files made to do harm to the page."""
    texts = handed.texts

    def markup(raw: Raw) -> None:
        if raw["body"]["type"] == "day opened":
            raw["body"]["plan"]["site"] = "<img src=x onerror=\"document.title='run'\"><script>1</script>\u202e"

    bomb = zlib.compress(bytes(300 << 20), 9)
    deep = '{"at":' + '{"a":' * 100_000 + "1" + "}" * 100_001
    with pikepdf.open(io.BytesIO(handed.pdf)) as opened:
        spec = next(
            x for x in opened.objects if isinstance(x, pikepdf.Dictionary) and "/EF" in x and str(x.UF) == EVENTS
        )
        spec.EF.F.write(bomb, filter=pikepdf.Name.FlateDecode)
        packed = io.BytesIO()
        opened.save(packed, fix_metadata_version=False, object_stream_mode=pikepdf.ObjectStreamMode.disable)
    return [
        Case("markup in the name of the site", (out.keep(join_lines(chained(texts, markup)), EVENTS),), "bad", ("chain", "seal-not-good")),
        Case("300 MB of nothing, packed", (out.keep(packed.getvalue(), "x.pdf"),), "bad", ("packed",)),
        Case("a hundred thousand braces", (out.keep(deep.encode() + b"\n", EVENTS),), "bad", ("event-not-good",), 1),
        Case("nothing at all", (out.keep(b"", "empty.pdf"),), "bad", ("none-of-ours",)),
        Case("something else", (out.keep(bytes(range(256)) * 40, "noise.pdf"),), "bad", ("none-of-ours",)),
    ]  # fmt: skip
