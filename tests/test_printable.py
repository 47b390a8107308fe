"""What comes from a record or a file is letters on a terminal, and nothing else."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.printable import printable


@pytest.mark.parametrize(
    ("hostile", "shown"),
    [
        ("\x1b[2J\x1b[31mPASS", r"\x1b[2J\x1b[31mPASS"),  # ECMA-48: clears the screen, red
        ("\x1b]0;title\x07", r"\x1b]0;title\x07"),  # sets the window's title
        ("\x9b2J", r"\x9b2J"),  # the same sequence in C1
        ("fine\n  99 day sealed", r"fine\n  99 day sealed"),
        ("over\rwritten", r"over\rwritten"),
        ("a\u202eb", r"a\u202eb"),  # right to left override
        ("a\u200bb", r"a\u200bb"),
        ("a\u2028b", r"a\u2028b"),
        ("\ud800", r"\ud800"),  # half a pair, as a broken file gives it
    ],
)
def test_what_acts_on_a_terminal_is_shown_as_its_escape(hostile: str, shown: str) -> None:
    assert printable(hostile) == shown


@given(st.text())
def test_nothing_but_letters_marks_figures_signs_and_spaces_comes_out(text: str) -> None:
    assert {unicodedata.category(c)[0] for c in printable(text)} <= set("LMNPSZ")
    assert "\n" not in printable(text)


@given(st.text(st.characters(categories=["L", "M", "N", "P", "S", "Zs"])))
def test_what_people_write_stays_as_it_is(text: str) -> None:
    assert printable(text) == text


def test_lines_of_a_text_that_was_put_together_here_stay_lines() -> None:
    assert printable("one\n\ttwo\x1b", lines=True) == "one\n\ttwo\\x1b"
