"""The form of a log's database: one table, its index, and two triggers that refuse every change. No other is ours.

A trigger of somebody else could take away an event while another is written, under one of our names: so a database is
looked at before anything is written to it or read from it as a day.
"""

from __future__ import annotations

import re
import sqlite3
from typing import TYPE_CHECKING

from fieldassist.checklist.events import FORMAT

if TYPE_CHECKING:
    from sqlite_utils import Database

APPLICATION_ID = 0x46415344  # "FASD": tells this file from any other SQLite file

_TABLE = """CREATE TABLE "events" (
   "seq" INTEGER PRIMARY KEY,
   "id" TEXT NOT NULL,
   "text" TEXT NOT NULL,
   "hash" TEXT NOT NULL
)"""
_INDEX = """CREATE UNIQUE INDEX "idx_events_id"
    ON "events" ("id")"""
_NEVER_CHANGED = """CREATE TRIGGER events_are_never_{verb}d BEFORE {VERB} ON events
BEGIN SELECT RAISE(ABORT, 'events are appended, never {verb}d'); END"""
_SCHEMA = {
    ("table", "events"): _TABLE,
    ("index", "idx_events_id"): _INDEX,
    ("trigger", "events_are_never_updated"): _NEVER_CHANGED.format(verb="update", VERB="UPDATE"),
    ("trigger", "events_are_never_deleted"): _NEVER_CHANGED.format(verb="delete", VERB="DELETE"),
}


def make_schema(tables: Database) -> None:
    """Give an empty database the form of a log, in one transaction."""
    with tables.atomic():
        tables.execute(f"PRAGMA application_id={APPLICATION_ID}")
        tables.execute(f"PRAGMA user_version={FORMAT}")
        events = tables.table("events")
        events.create({"seq": int, "id": str, "text": str, "hash": str}, pk="seq", not_null={"id", "text", "hash"})
        events.create_index(["id"], unique=True)
        for (kind, _), sql in _SCHEMA.items():
            if kind == "trigger":
                tables.execute(sql)


def strange_in(db: sqlite3.Connection) -> tuple[str, ...]:
    """The names of what a database has otherwise than a log of ours: changed, missing, or added. () for none."""
    found = {(kind, name): sql for kind, name, sql in db.execute("SELECT type, name, sql FROM sqlite_schema")}
    strange = {key[1] for key, sql in found.items() if key not in _SCHEMA or _plain(sql) != _plain(_SCHEMA[key])}
    strange |= {name for _, name in _SCHEMA.keys() - found.keys()}
    if db.execute("PRAGMA encoding").fetchone()[0] != "UTF-8":
        strange.add("encoding")
    return tuple(sorted(map(str, strange)))


def _plain(sql: object) -> str:
    """A statement without its line breaks and the marks around its names: versions write these differently."""
    return re.sub(r"\s+", " ", re.sub(r'["`\[\]]', "", sql)).strip() if isinstance(sql, str) else ""
