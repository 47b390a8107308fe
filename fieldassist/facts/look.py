"""What to look at before a day is accepted, as facts."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.checklist.doubts import look_at
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import State
from fieldassist.facts import model
from fieldassist.facts.telling import Telling, told_fact


def looks(state: State, stands: Standing, words: Telling) -> Iterator[model.LookFact]:
    """All of it, numbered as pages number it."""
    for number, one in enumerate(look_at(state, stands), start=1):
        answered, told = one.answer is not None, told_fact(one.told, words)
        is_open = one.point is not None and not answered
        yield model.LookFact(
            number=number,
            kind=one.kind,
            id=one.id,
            code=told.code,
            figures=told.figures,
            text=told.text,
            area=one.areas[0] if len(one.areas) == 1 else None,
            areas=list(one.areas),
            lifts=list(one.lifts),
            tiles=list(one.tiles),
            open=is_open,
            red=is_open and one.kind != "unfinished",
            answered=answered,
            answer=None if one.point is None or not answered else words(one.point.line),
        )
