"""Writes `models/SHA256SUMS`, the list of the shipped models' files that every start checks: run it after a change.

python -m models.build.checksums
"""

from __future__ import annotations

import sys
from pathlib import Path

from fieldassist.voice.model_files import SUMS, sums_of
from fieldassist.voice.models import list_models

MODELS = Path(__file__).parents[1]


def checksums() -> str:
    """The list for every model in `models/`."""
    return "".join(f"{line}\n" for folder in list_models(MODELS) for line in sums_of(folder))


def main() -> int:
    (MODELS / SUMS).write_text(checksums(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
