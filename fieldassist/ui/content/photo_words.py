"""Which photos there are to pick, and which were kept."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import platformdirs

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import State
from fieldassist.day.photo import SUFFIXES
from fieldassist.record.attachments import folder_of
from fieldassist.trade.message import Message, message
from fieldassist.ui.content.measuring import MeasuredOf

# A camera's folder of years is not looked through to its end, and folders in folders no deeper than cameras make them.
_MOST_FILES, _DEEPEST = 5000, 3
_OTHER_KINDS = frozenset({".heic", ".heif", ".webp", ".tif", ".tiff", ".dng", ".avif"}.difference(SUFFIXES))


@dataclass(frozen=True, slots=True)
class Found:
    """A photo's file. when: wall time of its last change, ISO 8601."""

    path: Path
    when: str


@dataclass(frozen=True, slots=True)
class PhotoListing:
    """The photos found, newest first, and how many files are pictures of a kind that cannot be kept."""

    photos: tuple[Found, ...] = ()
    other_kinds: int = 0


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """A photo that the day has. path: of its file; shown: its copy, or the file where there is none; where: it
    was taken, in words; withdrawn: it was taken back; of: its round, whose back it may show."""

    path: Path
    shown: Path
    sha256: str
    when: str
    who: str
    where: Message
    withdrawn: bool
    of: MeasuredOf


def places(data: Path) -> tuple[Path, ...]:
    """Where photos are looked for: the tablet's own folder of them, then the user's pictures."""
    return data / "photos", Path(platformdirs.user_pictures_dir())


def find_photos(folders: Sequence[Path], tick: Callable[[], None] = lambda: None) -> PhotoListing:
    """The photos in these folders and those in them. tick: called often, and may raise to stop.

    A folder that cannot be read is passed over.
    """
    found: list[tuple[float, Path]] = []
    others = seen = 0
    for folder in folders:
        for inside, below, names in os.walk(folder):
            tick()
            depth = len(Path(inside).relative_to(folder).parts)
            below[:] = [] if depth >= _DEEPEST else sorted(name for name in below if not name.startswith("."))
            for name in names:
                suffix = Path(name).suffix.lower()
                others += suffix in _OTHER_KINDS
                if suffix not in SUFFIXES or name.startswith(".") or seen >= _MOST_FILES:
                    continue
                seen += 1
                path = Path(inside) / name
                try:
                    found.append((path.stat().st_mtime, path))
                except OSError:
                    continue
    found.sort(reverse=True)
    return PhotoListing(
        tuple(
            Found(path, datetime.fromtimestamp(changed).astimezone().isoformat(timespec="seconds"))
            for changed, path in found
        ),
        others,
    )


def at_what(state: State) -> Message:
    """To what a photo kept now belongs, in words."""
    area = state.area
    if area is None:
        return message("photo-page-where-day")
    task = area.task
    return _where(state, area.plan.name, task.section if task else "", task.step if task else "")


def kept_photos(state: State, events: Sequence[Event], day: Path) -> tuple[KeptPhoto, ...]:
    """The photos that the day at this path has, newest first."""
    stands = standing(events)
    return tuple(
        KeptPhoto(
            path=folder_of(day) / event.body.file,
            shown=_shown(folder_of(day), event.body),
            sha256=event.body.sha256,
            when=event.at.wall,
            who=event.by,
            where=_where(state, event.body.area, event.body.section, event.body.step),
            withdrawn=not stands.counts(event),
            of=MeasuredOf(event.body.area, event.body.section, event.body.round),
        )
        for event in reversed(events)
        if isinstance(event.body, ev.PhotoAttached)
    )


def _shown(folder: Path, body: ev.PhotoAttached) -> Path:
    copy = folder / body.copy_file
    return copy if copy.is_file() else folder / body.file


def _where(state: State, area: str, section: str, step: str) -> Message:
    if not area:
        return message("photo-page-where-day")
    if not step:
        return message("photo-page-where-rounds", area=area)
    checklist = state.areas[area].checklist
    return message(
        "photo-page-where",
        area=area,
        section=checklist.holder(section).title,
        step=checklist.step(section, step).name,
    )


def short_time(when: str, today: str) -> str:
    """A moment for a caption: the time, and the date where it is not today's.

    >>> short_time("2026-03-17T06:45:10+01:00", "2026-03-17"), short_time("2026-03-16T06:45:10+01:00", "2026-03-17")
    ('06:45', '2026-03-16 06:45')
    """
    return when[11:16] if when[:10] == today else f"{when[:10]} {when[11:16]}"
