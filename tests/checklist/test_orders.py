"""What a step says in far letters: short enough for a line over the page, or for two beside a drawing."""

from __future__ import annotations

from textwrap import wrap

import pytest

from fieldassist.checklist.kinds import Confirm, Step
from fieldassist.checklist.loader import load_folder
from fieldassist.checklist.wording import WRITTEN_IN
from fieldassist.places import shipped
from fieldassist.trade.message import Text

SHIPPED = load_folder(shipped("checklists"))[0]
STEPS = [(name, step) for name, checklist in SHIPPED.items() for _, step in checklist.all_steps()]
# As the screens are drawn: signs of a far line over the page, and beside a drawing. Ours.
OVER_THE_PAGE, BESIDE_A_DRAWING = 30, 17


def written(text: Text | None) -> str:
    return dict(text.by_language)[WRITTEN_IN] if text is not None else ""


@pytest.mark.parametrize(("name", "step"), STEPS, ids=lambda given: getattr(given, "id", given))
def test_a_shipped_step_says_what_to_do_in_two_to_six_words_that_fit(name: str, step: Step) -> None:
    order = written(step.order)
    assert 2 <= len(order.split()) <= 6, name
    if step.act is None:
        assert len(order) <= OVER_THE_PAGE
    else:
        lines = wrap(order, BESIDE_A_DRAWING)
        assert len(lines) <= 2
        assert all(len(line) <= BESIDE_A_DRAWING for line in lines)


def test_the_key_of_a_step_says_what_was_done() -> None:
    steps = {step.id: step for _, step in SHIPPED["wet-area-wall"].all_steps() if isinstance(step, Confirm)}
    assert written(steps["set"].called_done) == "Tile is set"
    assert written(steps["back"].called_done) == "Back keyed", "its phrase, where nothing else is given"
