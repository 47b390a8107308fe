"""What the pieces of a page are: the structure that a tagged PDF carries, for screen readers and for narrow screens.

Structure types are those of ISO 32000-1, 14.8.4; what a document has to tag, ISO 14289-1 (PDF/UA-1) says.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, NamedTuple

# What holds other elements, and what holds text or a drawing itself.
GroupKind = Literal["Document", "Sect", "Table", "TR", "L", "LI", "Form"]
TextKind = Literal["H1", "H2", "H3", "P", "TH", "TD", "Lbl", "LBody", "Link", "Figure"]
TagKind = GroupKind | TextKind
GROUPS: frozenset[str] = frozenset({"Document", "Sect", "Table", "TR", "L", "LI", "Form"})

# Left, upper, right and lower edge.
Box = tuple[float, float, float, float]


class Marked(NamedTuple):
    """A stretch of a page's drawing, by the page (from 0) and its number there."""

    page: int
    number: int


class Linked(NamedTuple):
    """An annotation of a page, by the page and the order in which it was put there (both from 0)."""

    page: int
    annotation: int


@dataclass(slots=True)
class Tag:
    """One element of the structure.

    alt: what a figure shows, in words; scope: whose head a TH is; across: how many columns a cell takes; box: where a
    figure is drawn [points from the page's upper left corner], None where nothing is; label: what a Lbl says; holds:
    elements and stretches of drawing, in the order in which they are read.
    """

    kind: TagKind
    alt: str = ""
    scope: Literal["", "Row", "Column"] = ""
    across: int = 1
    box: Box | None = None
    label: str = ""
    holds: list[Tag | Marked | Linked] = field(default_factory=list)

    @property
    def takes_text(self) -> bool:
        """Whether text may stand in it as it is."""
        return self.kind not in GROUPS
