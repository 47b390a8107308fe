"""Files that can be taken in here: those of a kind that lie on sticks, in the user's own folders and beside the day."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from fieldassist.trade.message import Message, message
from fieldassist.ui.content.export import ExportPlace

# What a record lies in: pages, a whole day, a day's log.
RECORDS = (".pdf", ".bundle", ".db")
# A stick full of other things must not fill the page. Ours.
_MOST = 60


@dataclass(frozen=True, slots=True)
class FoundFile:
    """A file, where it was found, and when it was changed last, in the tablet's own time."""

    path: Path
    place: ExportPlace
    changed: datetime

    @property
    def told(self) -> Message:
        """Where it lies and from when it is."""
        at = self.changed
        return message("check-file-lies", place=self.place.told, day=str(at.day), month=at.month, at=f"{at:%H:%M}")


def files_in(folder: Path, endings: Collection[str]) -> tuple[Path, ...]:
    """The files of a folder with one of these endings, the newest first; hidden ones and what cannot be read left out.

    endings: in small letters, with their dot.
    """
    dated: list[tuple[float, Path]] = []
    try:
        inside = list(folder.iterdir())
    except OSError:
        return ()
    for path in inside:
        try:
            if path.suffix.lower() in endings and not path.name.startswith(".") and path.is_file():
                dated.append((path.stat().st_mtime, path))
        except OSError:
            continue
    return tuple(path for _, path in sorted(dated, reverse=True)[:_MOST])


def found_files(places: Iterable[ExportPlace], endings: Collection[str]) -> tuple[FoundFile, ...]:
    """Those of all these places, place by place, each file once."""
    found: dict[Path, FoundFile] = {}
    for place in places:
        for path in files_in(place.folder, endings):
            found.setdefault(path, FoundFile(path, place, datetime.fromtimestamp(path.stat().st_mtime).astimezone()))
    return tuple(found.values())[:_MOST]
