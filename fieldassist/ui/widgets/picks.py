"""One of a few: keys beside each other, of which the chosen one has the folded corner."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TypeVar

from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.widgets.boxes import Cells
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET, Look

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
