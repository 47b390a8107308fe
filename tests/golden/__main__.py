"""`python -m tests.golden write`: work the days again and store them. Only for a format that nobody has on disk yet."""

from __future__ import annotations

import sys

from tests.golden import DAYS, log_of, write

if __name__ == "__main__":
    if sys.argv[1:] != ["write"]:
        sys.exit(__doc__)
    for checklist in DAYS:
        write(checklist)
        print(log_of(checklist))
