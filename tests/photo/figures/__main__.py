"""`python -m tests.photo.figures SUBJECT ...`: one module of this package, with what else is written after it."""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path

SUBJECTS = sorted(path.stem for path in Path(__file__).parent.glob("[!_]*.py"))

if __name__ == "__main__":
    if len(sys.argv) < 2 or sys.argv[1] not in SUBJECTS:
        sys.exit(f"python -m tests.photo.figures {{{','.join(SUBJECTS)}}} ...")
    import_module(f"tests.photo.figures.{sys.argv[1]}").main(sys.argv[2:])
