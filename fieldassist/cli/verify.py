"""`fieldassist verify`: the skin over `proof.verify`."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from fieldassist.proof.verify import UNREADABLE, verify
from fieldassist.record.keys import KeyProblem


def add_parser(jobs: Any) -> None:
    """Add the job `verify` to a command line; jobs is what `ArgumentParser.add_subparsers` gave."""
    parser = jobs.add_parser(
        "verify",
        help="check a daily log (PDF), a bundle or a day: whole, sealed, and pages that show the record",
        description="Checks a daily log (PDF), a bundle or a day's log, offline and without writing beside it: the "
        "chain of events, the seals, the attachments, and whether the printed pages show the attached record.",
        epilog="Exit code 0: whole, sealed to the last event, pages agree; 3: whole, but not sealed or not to the last "
        "event, or your key did not seal it, or the pages bear other marks and say that another version drew them; 1: "
        "damaged or forged; 2: it cannot be read as any of the three. It tells what was recorded and signed, not that "
        "it is true, and not whether a part after the last seal was cut off: it replaces no inspection.",
    )
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--key", metavar="KEY", help="the signer's public key: PEM file, 64 hex digits or fingerprint")
    parser.add_argument("--json", action="store_true", help="one JSON object")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Do what the options of `add_parser` ask. Result: the exit code, as `proof.verify` tells them."""
    try:
        verdict = verify(options.file, key=options.key)
    except KeyProblem as problem:
        print(problem, file=sys.stderr)
        return UNREADABLE
    if options.json:
        print(json.dumps({"ok": verdict.ok, "lines": verdict.lines, **verdict.facts}, indent=2))
    else:
        # A console without a letter of the site's name must not turn a good answer into a crash.
        shown = "\n".join(verdict.lines)
        encoding = sys.stdout.encoding or "utf-8"
        print(shown.encode(encoding, "replace").decode(encoding))
    return verdict.exit_code
