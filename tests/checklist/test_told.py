"""Messages on their way into the record and back: every kind of figure comes out as it went in."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import get_args, get_type_hints

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldassist.checklist.told import read_figure, write_figure
from fieldassist.trade.message import Bound, Compared, Figure, Message, Read, Several, Text
from fieldassist.trade.quantities import UNITS, Quantity

LINKS = get_args(get_type_hints(Several, localns={"Figure": object})["link"])
quantities = st.builds(
    Quantity,
    st.fractions(min_value=-1000, max_value=1000, max_denominator=640),
    st.sampled_from(list(UNITS)),
    st.none() | st.integers(0, 12),
)
sides = st.sampled_from(["at least", "at most"])
texts = st.builds(Text, st.tuples(st.tuples(st.sampled_from(["", "en"]), st.text(max_size=20))))
plain = st.one_of(
    quantities,
    st.builds(Read, quantities),
    st.builds(Bound, quantities, sides),
    st.builds(Compared, quantities, quantities, sides, st.booleans()),
    texts,
    st.integers(0, 1000),
    st.fractions(max_denominator=64),
    st.text(max_size=20),
)
several = st.builds(Several, st.lists(plain, max_size=3).map(tuple), st.sampled_from(LINKS))
codes = st.from_regex(r"[a-z]{1,9}(-[a-z]{1,9}){1,3}", fullmatch=True)
messages = st.builds(
    Message, codes, st.dictionaries(st.sampled_from(["pair", "bed", "at-most"]), plain | several, max_size=3)
)


@settings(deadline=None)
@given(messages | plain | several)
def test_every_figure_comes_out_of_json_as_it_went_in(figure: Figure) -> None:
    written = json.loads(json.dumps(write_figure(figure)))
    found = read_figure(written)
    assert found == figure
    # Decimals are no part of what makes two quantities equal, and yet they are kept.
    assert write_figure(found) == write_figure(figure)


def test_a_figure_that_was_worked_out_is_not_read_back_as_a_reading() -> None:
    bed, limit = Quantity(Fraction(9, 4), "mm"), Quantity(Fraction(381, 160), "mm")
    for computed in (True, False):
        found = read_figure(write_figure(Compared(bed, limit, "at least", computed=computed)))
        assert isinstance(found, Compared)
        assert found.computed is computed


@pytest.mark.parametrize(
    "given",
    [
        {"several": [], "link": "with a drum roll"},
        {"read": {"value": "1", "unit": "mm"}, "computed": {"value": "1", "unit": "mm"}},
        {"at least": {"value": "1", "unit": "mm"}, "at most": {"value": "1", "unit": "mm"}},
        {"computed": {"value": "1", "unit": "mm"}},
        {"value": "1", "unit": "furlong"},
        {"value": "1e9", "unit": "mm"},
    ],
)
def test_what_is_no_figure_of_ours_is_refused(given: object) -> None:
    with pytest.raises(ValueError, match=r"figure|link|unit"):
        read_figure(given)
