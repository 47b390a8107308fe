"""Handing a day over on the command line: into one file, and out of one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

from fieldassist.cli.parser import FAILED, FILE, FOLDER, MISUSED, OK, Argument, Job, Option, day_argument, units_option
from fieldassist.cli.problems import told
from fieldassist.cli.progress import shown
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.record.attachments import folder_of
from fieldassist.record.bundle import BundleProblem, open_bundle, take_in
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import ATTACHED, ROSTER
from fieldassist.record.roster import RosterProblem, read_roster
from fieldassist.record.seal import check_seals, unsealed_after
from fieldassist.trade.message import message

if TYPE_CHECKING:
    from fieldassist.record.bundle import Bundle, TakenIn
    from fieldassist.trade.message import Figure


def _bundle(terminal: Terminal, day: Path, out: Path | None, units: Literal["metric", "us"] | None) -> int:
    from fieldassist.facts.build import NoFacts
    from fieldassist.report.daily import CannotWrite
    from fieldassist.report.whole_day import write_whole_day

    out = out or day.with_suffix(".bundle")
    say = terminal.say
    try:
        written = write_whole_day(day, out, units, shown(say("progress-daily-log")), shown(say("progress-bundle")))
    except (BundleProblem, CannotWrite, NoFacts) as problem:
        terminal.warn(told(problem))
        return FAILED
    packed = written.packed
    terminal.tell(
        message(
            "cli-bundled",
            file=str(out),
            events=packed.events,
            files=packed.files,
            size=f"{packed.bytes / 1e6:.1f} MB",
        )
    )
    terminal.tell(message("cli-bundle-head", head=packed.head, file=out.name))
    if written.unsealed:
        terminal.warn(message("cli-bundle-unsealed", events=written.unsealed, day=str(day), program=this_program()))
    if written.later > 0:
        terminal.warn(message("cli-bundle-later", events=written.later))
    for name in packed.left_out:
        terminal.warn(message("cli-bundle-left-out", folder=str(folder_of(day)), name=name))
    return OK


def _import(terminal: Terminal, bundle: Path, into: Path) -> int:
    from fieldassist.report.enclosures import CannotWrite

    if not bundle.is_file():
        terminal.warn(message("cli-no-bundle", file=str(bundle)))
        return MISUSED
    say = terminal.say
    try:
        opened = open_bundle(bundle, shown(say("progress-check")))
        taken = take_in(opened, into, shown(say("progress-import")))
        _keep_signed_pages(opened, taken)
    except (BundleProblem, CannotWrite) as problem:
        terminal.warn(told(problem))
        return FAILED
    _tell_taken(terminal, opened, taken)
    return OK


def _keep_signed_pages(bundle: Bundle, taken: TakenIn) -> None:
    """The signed file in a bundle lies beside its day here too: only who signed could make it again."""
    from fieldassist.proof.pages import signed_pages_in
    from fieldassist.report.signed import keep_signed_pages

    pages = signed_pages_in(bundle)
    if pages is not None and taken.events == len(bundle.events):
        with DayLog.open(taken.day, read_only=True) as log:
            keep_signed_pages(log, pages)


def _tell_taken(terminal: Terminal, bundle: Bundle, taken: TakenIn) -> None:
    kind = bundle.manifest.kind
    if kind != "work":
        terminal.warn(message(f"proof-is-{kind}"))
    figures: dict[str, Figure] = {"day": str(taken.day), "events": taken.events, "files": taken.files}
    if taken.new:
        terminal.tell(message("cli-imported-new", head=bundle.head, **figures))
    elif taken.added or taken.files:
        terminal.tell(message("cli-imported-more", added=taken.added, **figures))
    else:
        terminal.tell(message("cli-imported-nothing", **figures))
    for seal in check_seals(bundle.events, bundle.hashes):
        terminal.tell(
            message(
                "cli-imported-seal",
                part=seal.part,
                name=seal.name,
                role=seal.role,
                event=seal.seq,
                key=seal.fingerprint,
            )
        )
    if unsealed := unsealed_after(bundle.events, bundle.hashes):
        terminal.warn(message("cli-imported-unsealed", events=unsealed))
    if taken.proofs:
        terminal.tell(message("cli-imported-proofs", count=taken.proofs))
    if any(entry.name == ROSTER for entry in bundle.files):
        _tell_roster(terminal, bundle)
    for entry in bundle.left_out:
        terminal.warn(message("cli-imported-left-out", name=entry.name.removeprefix(ATTACHED)))


def _tell_roster(terminal: Terminal, bundle: Bundle) -> None:
    """A roster that came along is told and not kept: whom this tablet knows is for its own people to say."""
    try:
        roster = read_roster(bundle.read(ROSTER))
    except RosterProblem as problem:
        terminal.warn(told(problem))
        return
    figures = {"firm": roster.firm, "made": roster.made, "name": roster.signed.name, "key": roster.fingerprint}
    terminal.tell(message("cli-imported-roster", **figures))


bundle = Job("bundle", _bundle, day_argument(), Option("--out", metavar="FILE", type=FILE), units_option())
bring_in = Job(
    "import",
    _import,
    Argument("bundle", metavar="BUNDLE", type=FILE),
    Option("--into", metavar="FOLDER", type=FOLDER, default="."),
)
