"""The last things that were heard, with what became of each and why, for the page behind the ear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fieldassist.day.desk import Report
from fieldassist.day.ear import Fate
from fieldassist.trade.message import Message, term

Became = Literal["taken", "refused", "asked", "dropped"]
SHOWN = 5

_BECAME: dict[Fate, Became] = {
    Fate.TAKEN: "taken",
    Fate.DICTATED: "taken",
    Fate.REFUSED: "refused",
    Fate.ASKED: "asked",
    Fate.CALLED: "asked",
    Fate.IGNORED: "dropped",
}


@dataclass(frozen=True, slots=True)
class HeardLine:
    """Something that was heard. words: as they were heard; became: what came of it; why: why nothing did, or what was
    said back."""

    words: str
    became: Became
    why: str

    @property
    def told(self) -> Message:
        """What came of it, in a word."""
        return term("person-became", self.became)


def last_heard(reports: Sequence[Report]) -> tuple[HeardLine, ...]:
    """The last of what was heard, the newest first; what was pressed or happened by itself is none of it."""
    found = (
        HeardLine(report.words, _BECAME[report.fate], report.why if report.fate is Fate.IGNORED else report.said)
        for report in reversed(reports)
        if report.fate is not None and report.words
    )
    return tuple(line for _, line in zip(range(SHOWN), found, strict=False))
