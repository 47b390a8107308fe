"""Everything that assess/ tells has words, and nothing of it is put together from English elsewhere."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from fieldassist.assess.assumptions import ASSUMPTIONS, assumed
from fieldassist.assess.handling import handling
from fieldassist.assess.inputs import FIELDS, called
from fieldassist.language import Words
from fieldassist.trade.lifting import NOT_COVERED
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.planning import GROUPS, input_lines, options, origin_words
from fieldassist.ui.content.safety import CHOICES, LIFT
from tests.assess.areas import AREAS, inputs

ENGLISH = Words(units="metric")


@pytest.mark.parametrize("name", ASSUMPTIONS)
def test_every_assumption_has_a_sentence_and_a_basis(name: str) -> None:
    told = ENGLISH(assumed(name).told)
    assert not told.startswith("assess-")
    assert told.endswith(".")
    assert str(assumed(name).basis)


def test_an_assumptions_figure_is_told_in_the_readers_units() -> None:
    told = assumed("reach", Quantity(Fraction(550), "mm")).told
    assert "550 mm" in ENGLISH(told)
    assert "550" not in Words(units="us")(told)


@pytest.mark.parametrize("field", FIELDS)
def test_every_input_and_choice_has_words_that_are_not_its_identifier(field: str) -> None:
    assert ENGLISH.has(called(field).code)  # type: ignore[arg-type]
    for _, words in options(field, ENGLISH):  # type: ignore[arg-type]
        assert not words.startswith("assess-")
    assert ENGLISH.has(f"assess-option-conditions-{next(iter(NOT_COVERED))}")


def test_every_input_stands_on_a_screen_once() -> None:
    plan = [field for fields in GROUPS.values() for field in fields]
    assert len(plan) == len(set(plan))
    assert set(plan) | {"conditions"} == set(FIELDS)
    assert {field for fields in (*LIFT.values(), *CHOICES.values()) for field in fields} <= set(plan)


def test_in_another_language_no_input_and_no_answer_is_left_in_english() -> None:
    pseudo = Words("pseudo", "metric")
    english = re.compile(r"\b(?:the|piece|person|alone|hands|people|is|where|lifts?)\b", re.IGNORECASE)
    for area in AREAS:
        found = handling(inputs(area))
        told = [found.verdict, found.told, found.suction_told, *(one.told for one in found.assumed)]
        told += [one for one in (found.alone.where,) if one is not None]
        lines = [pseudo(one) for one in told]
        lines += [f"{line.title} {line.text} {line.origin}" for line in input_lines(inputs(area), pseudo)]
        assert not [line for line in lines if english.search(line)]
    assert origin_words("not known", pseudo) != origin_words("not known", ENGLISH)
