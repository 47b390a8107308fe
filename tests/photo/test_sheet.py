"""A clear sheet of a mock-up: no figure is reckoned, and how to photograph it is told."""

from __future__ import annotations

from fieldassist.photo.sheet import SHEET_RULE, refuse_to_reckon
from fieldassist.trade.message import holds


def test_a_clear_sheet_is_refused_with_its_own_reason_and_with_the_rule_to_photograph_it_by() -> None:
    told = refuse_to_reckon().told
    assert told.code == "measure-sheet-painted"
    assert holds(told, SHEET_RULE)
