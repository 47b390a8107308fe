"""Where a figure of the trade comes from, so that screens, logs and PDFs can always name it.

No limit travels without its basis. The standards themselves are sold, not free: most clauses here were read
second-hand, and say so, because an inspector will hold us to the text and not to our memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Standing(StrEnum):
    """How well a figure is supported."""

    READ = "read in the document itself"
    REPORTED = "as reported in trade literature; check the standard itself"
    MEMORY = "from memory"
    COMPUTED = "computed"
    PRACTICE = "common practice, no published source"
    DATA_SHEET = "the product's data sheet"
    CREW = "the crew's own figure"


@dataclass(frozen=True, slots=True)
class Basis:
    """The source of one figure.

    document: "ANSI A108.5"; clause: "§3.3.2" or ""; edition: "2017" or ""; standing: how we know it;
    note: what differs between editions, or what it does not cover.
    """

    document: str
    clause: str = ""
    edition: str = ""
    standing: Standing = Standing.REPORTED
    note: str = ""

    def __str__(self) -> str:
        """One line fit for a PDF.

        >>> print(Basis("ANSI A108.5", "§3.3.2", "2017"))
        ANSI A108.5 §3.3.2 (2017), as reported in trade literature; check the standard itself
        >>> print(PRACTICE)
        common practice, no published source
        """
        head = " ".join(part for part in (self.document, self.clause) if part)
        if self.edition:
            head += f" ({self.edition})"
        text = ", ".join(part for part in (head, self.standing.value) if part)
        return f"{text}. {self.note}" if self.note else text


PRACTICE = Basis("", standing=Standing.PRACTICE)


class OutOfRange(ValueError):
    """A relation was asked for outside the range in which it holds; the message says which range and why."""
