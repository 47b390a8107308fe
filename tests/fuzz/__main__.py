"""`python -m tests.fuzz`: break files and read them, until the time is over. Exit code 1 where a reader failed."""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from itertools import count, cycle
from pathlib import Path

from tests.fuzz.running import Case, Failed, tried
from tests.hostile.bounded import READERS


def main() -> int:
    parts = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parts.add_argument("--seconds", type=float, default=60.0)
    parts.add_argument("--seed", type=int, default=1)
    parts.add_argument("--first", type=int, default=0, help="number of the first case")
    parts.add_argument("--reader", choices=[*READERS], action="append")
    parts.add_argument("--keep", type=Path, help="a folder for the files that a reader failed on")
    given = parts.parse_args()
    readers = cycle([name for name in given.reader or READERS if given.reader or name not in ("model", "verify")])
    until, failed = time.monotonic() + given.seconds, 0
    number = given.first
    with tempfile.TemporaryDirectory() as folder:
        for number in count(given.first):
            if time.monotonic() > until:
                break
            found = tried(Case(next(readers), given.seed, number), Path(folder))
            if isinstance(found, Failed):
                failed += 1
                print(found, flush=True)
                if given.keep is not None:
                    given.keep.mkdir(parents=True, exist_ok=True)
                    (given.keep / f"{found.case.number}-{found.name}").write_bytes(found.data)
    print(f"{number - given.first} cases, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
