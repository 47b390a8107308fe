"""`python -m tests.faults [JOB ...] [--kind KIND] [--each N]`: every step of the jobs fails once.

--kind: io, full or memory, all where none is named; --each: only each N-th step fails.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

from fieldassist.trade.message import Refused
from tests.faults import jobs
from tests.faults.inject import KINDS, Kind, failing, stand_below_python, stand_below_sqlite, stand_in_its_memory


def tried(name: str, kind: Kind, each: int, lasting: bool, scratch: Path) -> tuple[int, int, list[str]]:
    """How many steps the job has, how many faults there were, and what was wrong after them."""
    job, faults, wrong = jobs.JOBS[name], 0, list[str]()
    at = 1
    while True:
        site = jobs.Site(scratch / "site", [])
        shutil.rmtree(site.folder, ignore_errors=True)
        job.ready(site)
        where = ""
        try:
            with failing(kind, site.folder, at, lasting=lasting) as given:
                try:
                    job.run(site)
                except (Refused, jobs.NotDone):
                    if not given.fired:
                        raise
                finally:
                    where = given.fired
            job.after(site)
        except Exception:
            wrong.append(f"{name}, {kind}, step {at} ({where}): {traceback.format_exc()}")
        if not where:
            return given.steps, faults, wrong
        faults += 1
        at += each


def main() -> int:
    """Print a line a job and kind; how many faults did harm."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("jobs", nargs="*", default=list(jobs.JOBS), metavar="JOB")
    parser.add_argument("--each", type=int, default=1)
    parser.add_argument("--kind", action="append", choices=KINDS)
    parser.add_argument("--verbose", action="store_true")
    asked = parser.parse_args()
    stand_in_its_memory()
    stand_below_sqlite()
    stand_below_python()
    count: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        scratch = Path(name).resolve()
        jobs.PATTERN = scratch / "pattern"
        jobs.prepare(jobs.PATTERN)
        for job in asked.jobs:
            for kind in asked.kind or KINDS:
                for lasting in (False, True):
                    start = time.monotonic()
                    steps, faults, wrong = tried(job, kind, asked.each, lasting, scratch)
                    count.update(faults=faults, harm=len(wrong))
                    how = "lasting" if lasting else "once"
                    spent = time.monotonic() - start
                    came = f"{faults} faults in {steps} steps, {len(wrong)} with harm, {spent:.0f} s"
                    print(f"{job}, {kind}, {how}: {came}", flush=True)
                    for one in wrong if asked.verbose else wrong[:2]:
                        print(one, file=sys.stderr, flush=True)
    print(f"{count['faults']} faults, {count['harm']} with harm")
    return int(count["harm"] > 0)


if __name__ == "__main__":
    sys.exit(main())
