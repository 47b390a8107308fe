"""The days on a tablet, as a list: what each is about and how it was left, read off its log without folding it.

Only the events that tell it are read, as JSON: 200 days are listed while a finger still rests on the key.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

DayState = Literal["open", "signed", "sealed", "unreadable"]

# The events that a line of the list tells of.
_TOLD = (
    "day opened",
    "area planned",
    "person added",
    "area carried",
    "area finished",
    "failure opened",
    "failure closed",
    "withdrawn",
    "day signed",
    "day sealed",
    "addendum opened",
)


@dataclass(frozen=True, slots=True)
class ListedDay:
    """A day of the list. areas: of its plan; finished: of them; failed: non-conformances that are open; failures: of
    all that there were; state: whether work goes on, it is signed, and sealed, or its log tells nothing."""

    path: Path
    site: str = ""
    date: str = ""
    kind: str = "work"
    crew: tuple[str, ...] = ()
    areas: tuple[str, ...] = ()
    finished: tuple[str, ...] = ()
    failed: int = 0
    failures: int = 0
    state: DayState = "unreadable"

    def holds(self, text: str) -> bool:
        """Whether every word of `text` stands in its site, date, crew or areas."""
        whole = " ".join((self.site, self.date, *self.crew, *self.areas)).lower()
        return all(word in whole for word in text.lower().split())


def listed_days(folder: Path) -> tuple[ListedDay, ...]:
    """Every day in a folder, the latest first."""
    days = [listed_day(path) for path in folder.glob("*.db")]
    return tuple(sorted(days, key=lambda day: (day.date or day.path.name, day.path.name), reverse=True))


def found_days(
    days: Sequence[ListedDay], text: str = "", *, area: str = "", person: str = "", failures: bool = False
) -> tuple[ListedDay, ...]:
    """Those in which all is so: the words stand there, the area is in the plan, the person in the crew, something
    failed."""
    return tuple(
        day
        for day in days
        if day.holds(text)
        and (not area or area in day.areas)
        and (not person or person in day.crew)
        and (not failures or day.failures)
    )


def listed_day(path: Path) -> ListedDay:
    """A day by its log. Nothing is checked here: what is opened is checked when it is opened."""
    try:
        with contextlib.closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as log:
            return _told(path, _bodies(log))
    except (sqlite3.Error, ValueError, KeyError, TypeError, AttributeError):
        return ListedDay(path)


def days_with(folder: Path, event: str) -> tuple[Path, ...]:
    """The days of a folder whose logs hold an event of this type, by name. Nothing is checked here."""
    return tuple(path for path in sorted(folder.glob("*.db")) if _has(path, event))


def _has(path: Path, event: str) -> bool:
    try:
        with contextlib.closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as log:
            mark = f'"type":"{event}"'
            return log.execute("SELECT 1 FROM events WHERE instr(text, ?) LIMIT 1", (mark,)).fetchone() is not None
    except (sqlite3.Error, UnicodeError):
        return False


def _bodies(log: sqlite3.Connection) -> Iterator[tuple[int, dict[str, Any]]]:
    kinds = " OR ".join("instr(text, ?)" for _ in _TOLD)
    marks = [f'"type":"{kind}"' for kind in _TOLD]
    for seq, text in log.execute(f"SELECT seq, text FROM events WHERE {kinds} ORDER BY seq", marks):
        body = json.loads(text)["body"]
        if body["type"] in _TOLD:
            yield seq, body


def _told(path: Path, bodies: Iterator[tuple[int, dict[str, Any]]]) -> ListedDay:
    plan: dict[str, Any] = {}
    kind = "work"
    state: DayState = "unreadable"
    areas: list[str] = []
    crew: list[str] = []
    finished: list[str] = []
    opened: set[int] = set()
    closed: dict[int, int] = {}
    for at, body in bodies:
        match body["type"]:
            case "day opened":
                plan, kind, state = body["plan"], body.get("kind", "work"), "open"
                areas = [area["name"] for area in plan["areas"]]
                crew = [person["name"] for person in plan["crew"]]
            case "area planned":
                areas += [] if body["planned"]["name"] in areas else [body["planned"]["name"]]
            case "person added":
                crew.append(body["person"]["name"])
            case "area carried":
                progress = body["held"].get("progress", {})
                opened |= {seq for seq, _ in progress.get("failures", ())}
                finished += [body["area"]] if progress.get("phase") == "finished" else []
            case "area finished":
                finished.append(body["area"])
            case "failure opened":
                opened.add(at)
            case "failure closed":
                closed[at] = body["failure"]
            case "withdrawn":
                struck = {body["target"], *body.get("strikes", ())}
                opened -= struck
                closed = {by: failure for by, failure in closed.items() if by not in struck}
            case "day signed":
                state = "signed"
            case "day sealed":
                state = "sealed"
            case "addendum opened":
                state = "open"
    return ListedDay(
        path=path,
        site=plan.get("site", ""),
        date=plan.get("date", ""),
        kind=kind,
        crew=tuple(crew),
        areas=tuple(areas),
        finished=tuple(dict.fromkeys(finished)),
        failed=len(opened - set(closed.values())),
        failures=len(opened),
        state=state,
    )
