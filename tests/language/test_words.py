"""Figures in words: limits on their safe side, readings as they were taken, what was worked out in one unit."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.language import Words
from fieldassist.trade.message import Bound, Compared, Figure, Message, Several
from fieldassist.trade.quantities import Quantity

METRIC, US = Words(units="metric"), Words(units="us")
BED, LEAST = Quantity(Fraction(9, 4), "mm"), Quantity(Fraction(3, 32), "in")


@pytest.mark.parametrize(
    ("told", "metric", "us"),
    [
        # 1 in = 25.4 mm, exactly: 3/32 in is 2.38125 mm, 1/16 in is 1.5875 mm.
        (Bound(LEAST, "at least"), "2.4 mm", "3/32 in"),
        (Bound(Quantity(Fraction(1, 16), "in"), "at most"), "1.5 mm", "1/16 in"),
        (BED, "2.3 mm", "0.089 in"),
        (Compared(BED, LEAST, "at least", computed=True), "2.3 mm / 2.4 mm", "0.089 in / 3/32 in"),
        (Compared(BED, LEAST, "at least"), "2.3 mm / 2.4 mm", "2.3 mm (0.089 in) / 3/32 in"),
        (Several((Message("calc-yes"), Message("calc-no")), "clauses"), "yes; no", "yes; no"),
        (Several(("a", "b", "c"), "or"), "a, b or c", "a, b or c"),
    ],
    ids=str,
)
def test_a_figure_is_told_in_the_listeners_units(told: Figure, metric: str, us: str) -> None:
    assert (METRIC(told), US(told)) == (metric, us)


def test_a_reading_is_never_told_equal_to_the_limit_that_it_breaks() -> None:
    short = Compared(
        Quantity(Fraction("94.97"), "percent"), Quantity(Fraction(95), "percent"), "at least", computed=True
    )
    assert METRIC(Message("coverage-contact-short", {"pair": short})) == "contact 94.97 % is below the 95 % required"


def test_a_refusal_is_told_by_its_message_and_any_other_error_by_its_text() -> None:
    with pytest.raises(ValueError, match=r"^quantities-unknown-unit") as refusal:
        Quantity(Fraction(1), "cubit")
    assert METRIC.of(refusal.value).startswith("'cubit' is not a unit used here; allowed: percent, mm")
    assert METRIC.of(OSError("the disk is full")) == "the disk is full"


def test_the_ends_of_a_band_narrower_than_the_step_of_a_tool_do_not_cross() -> None:
    """Each end rounds to its safe side: of 3.12 to 3.18 mm that would be "at least 3.2 and at most 3.1 mm"."""
    ends = {"at-least": Bound(Quantity(Fraction(312, 100), "mm"), "at least")}
    ends["at-most"] = Bound(Quantity(Fraction(318, 100), "mm"), "at most")
    assert Words()(Message("limit-between", ends)) == "at least 3.12 mm and at most 3.18 mm"
    assert Words()(Message("limit-at-least", {"at-least": ends["at-least"]})) == "at least 3.2 mm"
