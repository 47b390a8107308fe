"""The appendix as plain data: for whoever has an hour."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.report.wall_model import PieceRow


@dataclass(frozen=True, slots=True)
class AppendixRow:
    """A row of a block: a label, "" for none, what is told, and a word at its end. lead: what its text begins with,
    and what stands out."""

    label: str
    text: str
    mark: str = ""
    lead: str = ""


@dataclass(frozen=True, slots=True)
class AppendixBlock:
    """A block in one of two columns that flow.

    key: of its place; rows: a list; lead: a sentence before it, foot: one behind it; label_mm, mark_mm: how wide the
    labels of its rows stand, and the words at their ends.
    """

    title: str
    rows: tuple[AppendixRow, ...]
    label_mm: float = 0.0
    mark_mm: float = 0.0
    lead: str = ""
    foot: str = ""
    key: str = ""


@dataclass(frozen=True, slots=True)
class FileRow:
    """A file that goes with the day: what it is, and the first digits of its hash. struck: it was taken back."""

    what: str
    digits: str
    struck: bool = False


@dataclass(frozen=True, slots=True)
class PieceTable:
    """The pieces of an area in words: each by itself, or, where those are too many, by their states (with heads)."""

    title: str
    note: str
    pieces: tuple[PieceRow, ...]
    heads: tuple[str, ...]
    by_state: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Appendix:
    """What stands out of the usual sequence, where figures and limits come from, and what no page before had room for.

    files, files_title, files_note: with the first digits of their hashes; pieces: an area each.
    """

    running: str
    title: str
    intro: str
    blocks: tuple[AppendixBlock, ...]
    files_title: str
    files_note: str
    files: tuple[FileRow, ...]
    pieces: tuple[PieceTable, ...]
