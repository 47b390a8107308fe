"""The page of signatures, the pages of addenda and the page of commands, as plain data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SignatureBlock:
    """Room for one signature. title: whose it is; signs: for what, a paragraph each; alarm: what is not as it should
    be, "" where it is; strokes: a finger's lines, points (across, down) in thousandths of the field; drawn: these in
    words, or why there are none; when: date and time, "" for room to write them."""

    title: str
    signs: tuple[str, ...]
    alarm: str = ""
    strokes: tuple[tuple[tuple[int, int], ...], ...] = ()
    drawn: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class SealLine:
    """A line of a seal: its label, and words or digits that are to be compared with others."""

    label: str
    text: str = ""
    digits: str = ""


@dataclass(frozen=True, slots=True)
class SealBlock:
    """A seal and what became of it. alarms: what is not as it should be, a sentence each."""

    title: str
    alarms: tuple[str, ...]
    lines: tuple[SealLine, ...]


@dataclass(frozen=True, slots=True)
class ReopenedLine:
    """An addendum and how it stands. key: of its page; alarm: it is not as it should be."""

    key: str
    text: str
    alarm: bool


@dataclass(frozen=True, slots=True)
class SigningPage:
    """Who signs for what, the seal, and how all of it is checked.

    ticks: the numbers of the points that the owner may accept, as the first page has them; written: a place to write
    such numbers, where there are too many to tick; reopened: by addenda; left_out: what of the files is not in the
    document; steps: of checking; by_hand: what leads to the commands; before_this: what goes before the record.
    """

    running: str
    title: str
    intro: str
    foreman: SignatureBlock
    owner: SignatureBlock
    ticks: tuple[int, ...]
    written: str
    inspector: SignatureBlock
    seal: SealBlock
    reopened: tuple[ReopenedLine, ...]
    checking: str
    steps: tuple[str, ...]
    by_hand: str
    left_out: tuple[str, ...]
    before_this: str


@dataclass(frozen=True, slots=True)
class CorrectedRow:
    """An entry that an addendum corrects: what stood there, what stands there now, by whom and when, and the numbers
    of both events."""

    stood: str
    stands: str
    by: str
    events: str


@dataclass(frozen=True, slots=True)
class AddedRow:
    """An entry of an addendum; struck: it counts no more."""

    time: str
    by: str
    text: str
    event: str
    struck: bool


@dataclass(frozen=True, slots=True)
class AddendumPages:
    """The day opened again after it was signed. key: by which references lead here; standing: how it stands, alarm:
    which is not as it should be; opened: by whom and when; seal: None while it has none."""

    key: str
    running: str
    title: str
    standing: str
    alarm: bool
    reason: str
    opened: str
    corrected: tuple[CorrectedRow, ...]
    added: tuple[AddedRow, ...]
    foreman: SignatureBlock
    seal: SealBlock | None


@dataclass(frozen=True, slots=True)
class Commands:
    """Commands to be copied, a line each; text: what is to be known before them."""

    text: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ByHandPage:
    """How the record is checked without this program. limits: what no check can tell."""

    running: str
    title: str
    commands: tuple[Commands, ...]
    results: str
    limits: str
