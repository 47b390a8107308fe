"""Checklists that unfold to too much: what they take in memory. How soon they are refused, tests/checklist tells."""

from __future__ import annotations

from pathlib import Path

from tests.checklist.test_files import ALIASES, MERGES
from tests.hostile.bounded import MOST_MB, MOST_S, answered_apart


def test_no_checklist_takes_more_memory_or_time_than_is_given(tmp_path: Path) -> None:
    texts = {
        "aliases": ALIASES,
        "merges": MERGES,
        "brackets": "{" * 50_000,
        "anchors": "\n".join(f"k{n}: &a{n} v" for n in range(9_000)),
    }
    paths = []
    for name, text in texts.items():
        paths.append(tmp_path / f"{name}.yaml")
        paths[-1].write_text(text, encoding="utf-8")
    for path, answer in zip(paths, answered_apart("checklist", paths), strict=True):
        assert answer.told == "file-refused", path.name
        assert answer.megabytes < MOST_MB, (path.name, answer)
        assert answer.seconds < MOST_S, (path.name, answer)
