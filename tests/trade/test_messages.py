"""What trade/ says: every source and every figure has a name in words, and no sentence stands in the code itself."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from fluent.syntax import FluentParser
from fluent.syntax.ast import Message as FluentMessage

import fieldassist.language
import fieldassist.trade
from fieldassist.trade.basis import BASES, cite
from fieldassist.trade.catalog import CALCULATIONS, bases_of, evaluate
from fieldassist.trade.message import Message, message
from tests.trade.telling import METRIC

TRADE = Path(fieldassist.trade.__file__).parent
WORDS = Path(fieldassist.language.__file__).parent / "en"
SUBJECTS = ("quantities", "ridges", "coverage", "mortar", "times", "flatness", "lifting", "dust", "sampling", "basis")
CHECKS = ("positive", "not_negative", "within", "one_of", "counted", "share", "check_share", "_given")


def trees() -> Iterator[ast.AST]:
    for path in sorted(TRADE.rglob("*.py")):
        yield ast.parse(path.read_text(encoding="utf-8"))


def calls(names: tuple[str, ...]) -> Iterator[ast.Call]:
    for tree in trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names:
                yield node


def written(subject: str) -> dict[str, str]:
    """The codes of a subject's file, with what they say."""
    text = (WORDS / f"{subject}.ftl").read_text(encoding="utf-8")
    entries = FluentParser().parse(text).body
    return {
        entry.id.name: text[entry.span.start : entry.span.end] for entry in entries if isinstance(entry, FluentMessage)
    }


def test_every_figure_that_is_checked_has_a_name_in_words() -> None:
    checked = {
        str(call.args[0].value) for call in calls(CHECKS) if call.args and isinstance(call.args[0], ast.Constant)
    }
    named = {code.removeprefix("what-") for code in written("what")}
    sentences = {"not-above-zero", "below-zero", "outside", "no-share", "no-count", "too-many", "not-a-word"}
    assert named == checked | sentences


def test_every_title_and_input_of_the_language_belongs_to_an_entry() -> None:
    used: set[str] = set()
    for calculation in CALCULATIONS.values():
        used |= {calculation.title.code, calculation.summary.code, *(spec.told.code for spec in calculation.inputs)}
    kept = {
        code for subject in SUBJECTS for code in written(subject) if re.search(r"^[a-z]+-(title|summary|in)-", code)
    }
    assert kept == used


@pytest.mark.parametrize("basis", BASES.values(), ids=list(BASES))
def test_every_basis_is_told(basis) -> None:  # type: ignore[no-untyped-def]
    told = METRIC(cite(basis.id, name="grey mortar", other=BASES["practice"].told).told)
    assert basis.document in told
    assert f"({basis.edition})" in told or not basis.edition
    assert METRIC(basis.standing.told) in told
    assert "basis-" not in told


def test_a_basis_is_one_line_fit_for_a_pdf() -> None:
    assert METRIC(BASES["notch-depth"].told) == "DIN 18157-1 (1979), from memory"
    assert METRIC(BASES["practice"].told) == "common practice, no published source"
    assert METRIC(BASES["slide"].told) == (
        "ANSI A108.5 §2.2.3, as reported in trade literature; check the standard itself. The distance is common "
        "practice; the standard says until they collapse."
    )


def test_the_bases_of_every_example_are_registered() -> None:
    used = {basis.id for calculation in CALCULATIONS.values() for basis in bases_of(calculation)}
    assert used <= set(BASES)


def test_no_sentence_stands_in_the_trades_own_code() -> None:
    # A sentence in an error or a result would be English in every language.
    for call in calls(("ValueError", "Refused", "OutOfRange", "UnknownUnit", "UnknownCalculation")):
        assert not [node for arg in call.args for node in ast.walk(arg) if _is_sentence(node)], ast.unparse(call)


def _is_sentence(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.count(" ") > 2


def test_no_result_tells_a_code_that_has_no_words() -> None:
    for calculation in CALCULATIONS.values():
        for result in evaluate(calculation.name, calculation.example):
            assert "mappingproxy" not in METRIC(result.told)
            assert not isinstance(result.told, Message) or METRIC.has(result.told.code)
    assert METRIC(message("ridges-nothing-of-the-kind")) == "ridges-nothing-of-the-kind"
