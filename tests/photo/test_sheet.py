"""A clear sheet of a mock-up: the rule is told, and no figure is reckoned."""

from __future__ import annotations

from fieldassist.photo.sheet import SHEET_RULE, refuse_to_reckon


def test_a_clear_sheet_is_refused_with_its_own_reason_and_has_a_rule_of_its_own() -> None:
    assert refuse_to_reckon().told.code == "measure-sheet-painted"
    assert SHEET_RULE.code == "measure-sheet-rule"
