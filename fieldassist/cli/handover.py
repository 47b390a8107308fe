"""Handing a day over on the command line: into one file, and out of one."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from fieldassist.cli.progress import shown
from fieldassist.record.attachments import folder_of
from fieldassist.record.bundle import BundleProblem, open_bundle, take_in
from fieldassist.record.manifest import ATTACHED
from fieldassist.record.seal import check_seals, unsealed_after

OK, REFUSED, MISUSED = 0, 1, 2


def add_parsers(jobs: Any) -> None:
    """The jobs bundle and import; jobs is what `ArgumentParser.add_subparsers` gave."""

    def job(name: str, run: Any, text: str) -> argparse.ArgumentParser:
        made: argparse.ArgumentParser = jobs.add_parser(name, help=text, description=text)
        made.set_defaults(run=run)
        return made

    made = job("bundle", _bundle, "put a day, its daily log and its attachments into one file, to hand over")
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("--out", type=Path, metavar="FILE", help="[the day's name with .bundle, beside it]")
    made.add_argument("--units", choices=["metric", "us"], help="of the daily log [the plan's own]")

    made = job("import", _import, "take a day in from a bundle, or bring the same day forward; again changes nothing")
    made.add_argument("bundle", type=Path, metavar="BUNDLE")
    made.add_argument("--into", type=Path, default=Path(), metavar="FOLDER", help="where the days lie [this folder]")


def _many(count: int, one: str) -> str:
    return f"{count} {one}{'' if count == 1 else 's'}"


def _warn(sentence: str) -> None:
    print(sentence, file=sys.stderr)


def _bundle(options: argparse.Namespace) -> int:
    from fieldassist.report.daily import CannotWrite
    from fieldassist.report.story import NoDay
    from fieldassist.report.whole_day import write_whole_day

    day: Path = options.day
    out: Path = options.out or day.with_suffix(".bundle")
    try:
        written = write_whole_day(day, out, options.units, shown("Daily log"), shown("Bundle"))
    except (BundleProblem, CannotWrite, NoDay) as problem:
        _warn(str(problem))
        return REFUSED
    packed = written.packed
    print(f"{out}: {_many(packed.events, 'event')}, {_many(packed.files, 'file')}, {packed.bytes / 1e6:.1f} MB.")
    print(f"Head {packed.head}. Whoever gets it checks it with: fieldassist verify {out.name}")
    if written.unsealed:
        _warn(
            f"Not sealed: {_many(written.unsealed, 'event')} at its end, so nobody's key vouches for them. "
            f"To sign and seal first: fieldassist sign {day}"
        )
    if written.later > 0:
        late = _many(written.later, "event")
        _warn(f"The crew went on meanwhile: the daily log in it does not show the last {late}.")
    for name in packed.left_out:
        _warn(f"Not in it, since it is missing or was changed in {folder_of(day)}: {name!r}")
    return OK


def _import(options: argparse.Namespace) -> int:
    if not options.bundle.is_file():
        _warn(f"There is no bundle at {options.bundle}. Check the name.")
        return MISUSED
    try:
        bundle = open_bundle(options.bundle, shown("Check"))
        taken = take_in(bundle, options.into, shown("Import"))
    except BundleProblem as problem:
        _warn(str(problem))
        return REFUSED
    if taken.new:
        print(
            f"{taken.day}: a new day here, {_many(taken.events, 'event')}, {_many(taken.files, 'attachment')}; head "
            f"{bundle.head}."
        )
    elif taken.added or taken.files:
        print(
            f"{taken.day}: {_many(taken.added, 'event')} and {_many(taken.files, 'attachment')} added to the day that "
            f"was here; it has {_many(taken.events, 'event')} now."
        )
    else:
        print(f"{taken.day} has all of it already; nothing was changed. It has {_many(taken.events, 'event')}.")
    for seal in check_seals(bundle.events, bundle.hashes):
        part = f"Addendum {seal.part}" if seal.part else "The day"
        print(f"{part} is sealed by {seal.name.title()}, {seal.role}, up to event {seal.seq}; key {seal.fingerprint}.")
    if unsealed := unsealed_after(bundle.events, bundle.hashes):
        _warn(f"Not sealed: {_many(unsealed, 'event')} at its end, so nobody's key vouches for them.")
    for entry in bundle.left_out:
        _warn(f"Not in the bundle, since the tablet that made it had lost it: {entry.name.removeprefix(ATTACHED)}")
    return OK
