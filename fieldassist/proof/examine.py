"""What an inspector is told of a PDF, a bundle or a day's log: each finding, and the verdict that they come to."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Collection, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from fieldassist import __version__
from fieldassist.checklist.events import DayOpened, DayRecovered, Event
from fieldassist.checklist.told import write_figure
from fieldassist.files import open_regular, read_regular
from fieldassist.proof.backs import check_backs
from fieldassist.proof.beside import CameWith, came_beside, came_beside_copy, came_in, check_receipts, with_newer_roster
from fieldassist.proof.clocks import check_clocks
from fieldassist.proof.day_set import check_tablet
from fieldassist.proof.handed import handed
from fieldassist.proof.hold_points import check_pins
from fieldassist.proof.known import Known
from fieldassist.proof.left import tell_copy, tell_left
from fieldassist.proof.log import copied, has_mark, holds_events, journal_of, left_beyond, lines_beside, read_log
from fieldassist.proof.lots import check_lots
from fieldassist.proof.page import is_ours
from fieldassist.proof.pages import check_pages, record_in
from fieldassist.proof.photos import check_copies
from fieldassist.proof.sealing import check_sealing
from fieldassist.proof.sense import check_sense
from fieldassist.proof.stamps import check_stamps
from fieldassist.proof.trials import check_trials
from fieldassist.proof.verdict import (
    DAMAGED,
    UNREADABLE,
    UNSEALED,
    WHOLE,
    Finding,
    Findings,
    Judgment,
    short,
    short_name,
    some,
)
from fieldassist.record import attachments
from fieldassist.record.bundle import LARGEST, LARGEST_BUNDLE, BundleProblem, open_bundle
from fieldassist.record.chain import GENESIS, Chain, check_texts
from fieldassist.record.disk import sha256_of
from fieldassist.record.islands import islands_of
from fieldassist.record.leaves import BEGINNING
from fieldassist.record.lines import texts_in
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    MANIFEST,
    PAGE,
    PDF,
    attached,
    copies,
    first_named,
    unkept,
)
from fieldassist.trade.message import Figure, Message, message

if TYPE_CHECKING:
    pass

FileKind = Literal["pdf", "bundle", "log", "lines"]
# Generous for any day, and less than what would bring a laptop to its knees.
LARGEST_FILE = {
    "pdf": 512 * 1024 * 1024,
    "bundle": LARGEST_BUNDLE,
    "log": 1024 * 1024 * 1024,
    "lines": LARGEST[EVENTS],
}
_PROGRAM = re.compile(r"fieldassist [0-9][0-9A-Za-z.+]{0,30}")


def examine(path: Path, known: Known, scratch: Path, tell: Callable[[Finding], None] | None = None) -> Judgment:
    """What `verify` does, in this process: known: what the reader holds, scratch an empty folder for copies; tell:
    called with each finding as it is found."""
    found = Findings(watched=tell)
    try:
        if not path.is_file():
            found.say("no-file", UNREADABLE, file=str(path))
            return found.verdict()
        kind = kind_of(path)
        found.facts |= {"file": str(path), "kind": kind}
        if kind is None:
            found.say("none-of-ours", UNREADABLE, name=path.name)
        elif path.stat().st_size > LARGEST_FILE[kind]:
            found.say(f"too-large-{kind}", UNREADABLE, name=path.name)
        else:
            found.say(f"is-{kind}", name=path.name)
            check = {"pdf": _check_pdf, "bundle": _check_bundle, "log": _check_log, "lines": _check_lines}[kind]
            check(path, known, scratch, found)
    except OSError as error:
        found.say("not-to-its-end", UNREADABLE, file=str(path), why=error.strerror or str(error))
    return found.verdict()


def kind_of(path: Path) -> FileKind | None:
    """Which of the four a file is, by its content; one damaged byte does not hide a bundle, nor a page a log."""
    with open_regular(path) as file:
        front = file.read(1024)
    if front.startswith(b"SQLite format 3\0") or has_mark(front):
        return "log"
    if not front and journal_of(path).exists():
        return "log"
    if front.startswith(b"PK\3\4") or front[30:43] == MANIFEST.encode():
        return "bundle"
    if b"%PDF-" in front:
        return "pdf"
    if front.startswith(BEGINNING):
        return "lines"
    return "log" if holds_events(path) else None


# --- what all three share -----------------------------------------------------------------------------------------


def _check_record(chain: Chain, known: Known, came: CameWith, found: Findings) -> None:
    good, opened = len(chain.events), chain.events[0].body if chain.events else None
    head = chain.hashes[-1] if chain.hashes else GENESIS
    found.facts |= {"good_events": good, "head": head, "first_bad_event": chain.bad}
    if isinstance(opened, DayOpened):
        found.facts |= {"site": opened.plan.site, "date": opened.plan.date, "day": opened.kind}
        if opened.kind != "work":
            found.mark(opened.kind)
        found.say("day", site=short_name(opened.plan.site), date=short_name(opened.plan.date))
        check_tablet(opened, found)
        _tell_continued(opened, found)
    if chain.bad is not None:
        assert chain.fault is not None
        found.say("event-not-good", DAMAGED, event=str(chain.bad), why=short(chain.fault), good=good)
        _tell_newer(chain.fault, found)
    elif not isinstance(opened, DayOpened):
        found.say("no-day", DAMAGED)
    else:
        found.say("chain", events=good, head=head)
    known = with_newer_roster(known, came, found)
    witnesses = (*check_receipts(chain, came, known, found), *check_stamps(chain, came, known, found))
    check_sealing(chain, known, witnesses, found)
    check_pins(chain, known, witnesses, found)
    found.day = handed(found.facts["file"], chain)
    if chain.bad is None:
        check_clocks(chain.events, found)
        if isinstance(opened, DayOpened):
            check_sense(chain, found)
        _tell_recovered(chain, found)
        check_lots(chain.events, found)
        check_trials(chain, found)


def _tell_recovered(chain: Chain, found: Findings) -> None:
    """Where the log was put together again: what was lost then nobody can vouch for."""
    for event in chain.events:
        body = event.body
        if isinstance(body, DayRecovered):
            gone = body.lost + body.behind
            figures: dict[str, Figure] = {"event": str(event.seq), "missing": body.lost, "behind": body.behind}
            found.say("recovered", UNSEALED if gone else WHOLE, **figures)


def _tell_continued(opened: DayOpened, found: Findings) -> None:
    """The heads of the days that this one goes on from: whoever has their records can hold them against these."""
    found.facts["continues"] = [day.model_dump(mode="json") for day in opened.continues]
    for day in opened.continues[:20]:
        left = "sealed" if day.sealed else "signed" if day.signed else "open"
        areas = some([short_name(name) for name in day.areas])
        found.say("continues", areas=areas, date=short_name(day.date), head=day.head, left=left)


def _tell_newer(fault: Message, found: Findings) -> None:
    if fault.code in ("record-no-event", "record-no-manifest"):
        found.say("newer", version=__version__)


def _check_attachments(
    events: Sequence[Event],
    wrong: Mapping[str, Message],
    elsewhere: Collection[str],
    found: Findings,
    lacks: int = WHOLE,
    in_bundle: Collection[str] = (),
) -> None:
    """wrong: why, by name; elsewhere: those that are said not to be here; lacks: how grave that is; in_bundle: photos
    whose copies are here, and which belong nowhere but into the bundle."""
    spoken_of, loose = attached(events), unkept(events)
    here = len(spoken_of) - len(elsewhere) - len(in_bundle)
    found.facts["attachments"] = {
        "spoken_of": len(spoken_of),
        "whole": here - len(wrong),
        "wrong": {name: write_figure(why) for name, why in wrong.items()},
        "in_bundle": sorted(in_bundle),
        "elsewhere": sorted(elsewhere),
        "cannot_be_checked": [name for _, name in loose],
    }
    first = first_named(events) if wrong else {}
    for name, why in list(wrong.items())[:20]:
        found.say("attachment-wrong", DAMAGED, file=name, event=str(first[name]), why=why)
    if here and not wrong:
        found.say("attachments", count=here)
    if in_bundle:
        found.say("attachments-in-bundle", count=len(in_bundle))
    if elsewhere:
        found.say("attachments-elsewhere", lacks, files=some(sorted(elsewhere)))
    if loose:
        found.say("attachment-loose", event=str(loose[0][0]), file=short_name(loose[0][1]))


def _check_pictures(events: Sequence[Event], content: Callable[[str], bytes | None], found: Findings) -> None:
    """Whether copies show what photos show, and measured backs are what their files show."""
    check_copies(events, content, found)
    check_backs(events, content, found)


# --- a log --------------------------------------------------------------------------------------------------------


def _check_log(path: Path, known: Known, scratch: Path, found: Findings) -> None:
    # Before the database: what is written meanwhile is there first.
    lines = lines_beside(path, LARGEST_FILE["lines"])
    copy = copied(path, scratch, LARGEST_FILE["log"])
    if copy is None:
        found.say("written-meanwhile", UNREADABLE, name=path.name)
        return
    chain, trouble = read_log(copy)
    if chain is None:
        found.say("foreign", UNREADABLE, why=short(trouble or message("proof-log-nothing")))
        return
    _check_record(chain, known, came_beside(path), found)
    if trouble is not None:
        found.say("log-strange", DAMAGED, why=short(trouble))
    well = chain.bad is None and trouble is None
    if well:
        tell_copy(lines, chain, found)
    # What a journal holds may never have been committed.
    if not well or not journal_of(copy).exists():
        left = left_beyond(copy, b"" if well else lines, chain)
        if left is not None:
            tell_left(left, chain, found)
    _check_beside(path, chain, found)


def _check_lines(path: Path, known: Known, _: Path, found: Findings) -> None:
    """The second copy of a log, or what was saved of a damaged one: lines, maybe with gaps between them."""
    data = read_regular(path, LARGEST_FILE["lines"])
    texts = texts_in(data)
    chain = check_texts(texts)
    day = path.with_name(re.sub(r"(\.islands)?\.lines$", "", path.name))
    _check_record(chain, known, came_beside(day), found)
    if not data.endswith(b"\n"):
        found.say("lines-torn", DAMAGED)
    if chain.bad is not None:
        tell_left(islands_of(texts), chain, found)
    _check_beside(day, chain, found)


def _check_beside(day: Path, chain: Chain, found: Findings) -> None:
    """The attachments in the folder beside a log."""
    folder = attachments.folder_of(day)
    wrong: dict[str, Message] = {}
    for name, digest in attached(chain.events).items():
        file = folder / name
        if not file.is_file():
            wrong[name] = message("proof-attachment-missing", folder=folder.name)
        elif file.stat().st_size > attachments.LARGEST_BYTES or sha256_of(file) != digest:
            wrong[name] = message("proof-attachment-changed")
    _check_attachments(chain.events, wrong, (), found)
    _check_pictures(chain.events, lambda name: None if name in wrong else (folder / name).read_bytes(), found)


# --- a bundle -----------------------------------------------------------------------------------------------------


def _check_bundle(path: Path, known: Known, scratch: Path, found: Findings) -> None:
    found.facts["sha256"] = sha256_of(path)
    found.say("sha256", hash=found.facts["sha256"])
    try:
        bundle = open_bundle(path)
    except BundleProblem as problem:
        where = [write_figure(short(place)) for place in problem.where]
        found.facts |= {"good_events": problem.whole, "first_bad_event": problem.event, "where": where}
        found.say("bundle-not-good", DAMAGED, why=short(problem.told))
        for place in problem.where:
            _tell_newer(place, found)
        return
    _check_record(Chain(bundle.events, bundle.hashes), known, came_in(bundle), found)
    lost = {f.name.removeprefix(ATTACHED): message("proof-attachment-lost") for f in bundle.left_out}
    _check_attachments(bundle.events, lost, (), found)
    _check_pictures(bundle.events, lambda name: None if name in lost else bundle.read(ATTACHED + name), found)
    # Whoever opens it believes what it shows: one that a forger put there would show whatever he likes.
    if any(f.name == PAGE and not is_ours(f.sha256) for f in bundle.files):
        found.say("page-strange", UNSEALED, version=__version__)
    if all(f.name != PDF for f in bundle.files):
        found.facts["pages"] = None
        found.say("no-paper")
        return
    record = record_in(bundle.read(PDF), found)
    if record is None:
        found.facts["pages"] = "not compared"
        found.say("paper-shows-nothing", DAMAGED)
        return
    if record.chain.bad is not None or record.texts != bundle.texts[: len(record.texts)]:
        found.facts["pages"] = "another record"
        found.say("paper-of-another-record", DAMAGED)
        return
    if len(record.texts) < len(bundle.texts):
        found.say("paper-earlier", UNSEALED, event=str(len(record.texts)), events=str(len(bundle.texts)))
    check_pages(record, scratch, found)


# --- a PDF --------------------------------------------------------------------------------------------------------


def _check_pdf(path: Path, known: Known, scratch: Path, found: Findings) -> None:
    data = path.read_bytes()
    found.facts["sha256"] = hashlib.sha256(data).hexdigest()
    found.say("sha256", hash=found.facts["sha256"])
    record = record_in(data, found)
    if record is None:
        found.say("nothing-to-check", UNREADABLE)
        return
    _check_record(record.chain, known, came_beside_copy(path), found)
    spoken_of = attached(record.chain.events)
    files = record.manifest.files if record.manifest is not None else []
    left_out = {f.name.removeprefix(ATTACHED) for f in files if f.left_out} & spoken_of.keys()
    wrong = {
        name: message("proof-attachment-changed" if ATTACHED + name in record.files else "proof-attachment-not-in-pdf")
        for name, digest in spoken_of.items()
        if name not in left_out and record.original(name, digest) is None
    }
    in_bundle = {
        name
        for name, copy in copies(record.chain.events).items()
        if name in left_out and copy in spoken_of and record.original(copy, spoken_of[copy]) is not None
    }
    # Who signed the file says what is not in it; anybody can take a photo out of another, and its page then says so.
    lacks = WHOLE if record.signed is not None else UNSEALED
    _check_attachments(record.chain.events, wrong, left_out - in_bundle, found, lacks, in_bundle)
    _check_pictures(record.chain.events, lambda name: record.original(name, spoken_of[name]), found)
    check_pages(record, scratch, found)
