"""What the trade's messages say, for tests that hold words: in metric units unless the other is named."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from fieldassist.language import Words
from fieldassist.trade.message import Figure, Message, Refused

METRIC, US = Words(units="metric"), Words(units="us")


def codes(messages: tuple[Message, ...]) -> list[str]:
    """The codes of some messages, in their order."""
    return [told.code for told in messages]


def words(told: Figure | None) -> str:
    """What is told, in metric units; nothing for nothing."""
    return "" if told is None else METRIC(told)


@contextmanager
def refusal_in_words() -> Iterator[None]:
    """Something is refused, and the refusal has words."""
    with pytest.raises(Refused) as refusal:
        yield
    assert METRIC.has(refusal.value.told.code)
