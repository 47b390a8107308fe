"""The roster of a tablet: who signs what with which key, and from when to when."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist.plan import DayKind


def roster_for(data: Path, kind: DayKind) -> Path:
    """Where a tablet keeps the roster of whoever signs days of this kind. data: the tablet's own folder.

    >>> roster_for(Path("tablet"), "work").as_posix(), roster_for(Path("tablet"), "rehearsal").as_posix()
    ('tablet/roster.json', 'tablet/roster-for-practice.json')
    """
    return data / ("roster.json" if kind == "work" else "roster-for-practice.json")
