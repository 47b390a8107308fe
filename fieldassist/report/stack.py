"""Pages that are filled block after block: what does not fit on a page whole goes on to the next.

How high a block is set, a dry run on a page of no end tells: heights are never reckoned a second way.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from fieldassist.report.grid import Leaf
from fieldassist.report.pictures import Album
from fieldassist.report.sheet import Sheet

# Draws a block from where the cursor stands; it may go on over pages.
Block: TypeAlias = "Callable[[Stack], None]"
_NO_END = 1e7


class Stack:
    """The pages of one part of a document.

    running, again: the running heads of its first page and of those after it; foot: kept free on each [points]; air:
    the share of the gaps between blocks that is left, below 1 where they give way.
    """

    def __init__(self, sheet: Sheet, album: Album, running: str, again: str, foot: float = 0.0) -> None:
        self.sheet, self.album, self.air = sheet, album, 1.0
        self._again, self._foot = again, foot
        self._begin(running)

    def _begin(self, running: str) -> None:
        self.leaf = Leaf(self.sheet, running)
        self.leaf.bottom -= self._foot
        self._top = self.leaf.y

    @property
    def fresh(self) -> bool:
        """Whether nothing stands on the page yet."""
        return self.leaf.y <= self._top

    def fill(self) -> None:
        """Let this page take what is kept free at its foot: more pages follow."""
        self.leaf.bottom += self._foot

    def next_page(self) -> Leaf:
        """Go on with a fresh page, unless this one is."""
        if not self.fresh:
            self._begin(self._again)
        return self.leaf

    def need(self, high: float) -> Leaf:
        """This page, or the next one where this one has not so much room."""
        return self.next_page() if self.leaf.room < high else self.leaf

    def keep(self, *blocks: Block, more: float = 0.0) -> Leaf:
        """This page, or the next one where these blocks, and more, have not room together on this one."""
        if self.leaf.bottom >= _NO_END:
            return self.leaf
        return self.need(high_of(self.sheet, *blocks) + more)

    def gap(self, high: float) -> None:
        """Air between two blocks; none at the top of a page."""
        if not self.fresh:
            self.leaf.y += high * self.air


def high_of(sheet: Sheet, *blocks: Block, air: float = 1.0) -> float:
    """How high blocks are set below something, on a page of no end. air: as of `Stack`."""
    dry = Stack(Sheet((sheet.page_width, sheet.page_height), sheet.words), Album(lambda _: None), "", "")
    dry.air = air
    dry.leaf.bottom = _NO_END
    dry.leaf.y = begun = dry.leaf.y + 1.0
    with dry.sheet.tagged("Sect"):
        for block in blocks:
            block(dry)
    return dry.leaf.y - begun
