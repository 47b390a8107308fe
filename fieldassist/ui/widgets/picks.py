"""One of a few: keys beside each other, of which the chosen one has the folded corner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TypeVar

from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, TARGET, Look
from fieldassist.ui.widgets.text import TextLabel

_Value = TypeVar("_Value")


def picks(
    look: Look,
    options: Sequence[tuple[_Value, str]],
    chosen: _Value,
    then: Callable[[_Value], object],
    *,
    columns: int | None = None,
    high: float = TARGET,
    size: SizeName = "near",
) -> Cells:
    """Keys of options, each with its words; then: called with the one that is pressed. high: of a key [dots]."""
    keys = [Key(look, words, partial(then, value), chosen=value == chosen, size=size) for value, words in options]
    return Cells(look, keys, columns or len(keys), high=high)


class PickSheet(ColumnBox):
    """A question over the page, and an answer a key. back: what the key that changes nothing says, and what it does."""

    def __init__(
        self,
        look: Look,
        question: str,
        options: Sequence[tuple[str, str]],
        chosen: str,
        then: Callable[[str], None],
        back: tuple[str, Callable[[], None]],
        *,
        columns: int,
    ) -> None:
        super().__init__(look, gap=12, padding=look.dots(MARGIN))
        lay_ground(look, self, "ground")
        self.add_widget(TextLabel(look, question, "key"))
        answers = picks(look, options, chosen, then, columns=columns, high=TARGET + 10)
        self.add_widget(Scroll(look, ColumnBox(look, answers, rises=True)))
        self.add_widget(RowBox(look, Key(look, back[0], back[1], high=None), high=TARGET))
