"""The one pad on the screen: the ruler is pressed, units change, the big key says what it does."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist.rules import stated
from fieldassist.ui.content.entry import LastValue, NumberQuestion
from tests.ui.conftest import Hands, resize

# 1/8 in = 3.175 mm, exactly.
GAP = NumberQuestion("Gap", ("mm", "in"), high=50, limit=stated(None, 3.175, "mm", None))
WARMTH = NumberQuestion(
    "Wall temperature",
    ("degC", "degF"),
    low=-30,
    high=60,
    limit=stated(5, 30, "degC", None),
    last=(LastValue(Fraction(17), "degC", "air"),),
)


def asked(hands: Hands, question: NumberQuestion) -> list[tuple[Fraction, str]]:
    kept: list[tuple[Fraction, str]] = []
    hands.tablet.ask_number(question, lambda value, unit: kept.append((value, unit)))
    hands.frames(8)
    return kept


def test_a_press_on_the_ruler_snaps_to_a_sixteenth_and_is_kept_in_inches(hands: Hands) -> None:
    kept = asked(hands, GAP)
    hands.press("in")
    hands.touch(hands.key("ruler of one inch"), x=0.19)
    assert "3/16 in" in hands.seen()
    assert "1/16 in too much" in hands.seen()
    hands.press("–1/16")
    hands.press("Keep 1/8 in")
    assert kept == [(Fraction(1, 8), "in")]
    assert "Gap" not in hands.seen(), "the pad is closed"


def test_what_fails_is_kept_by_one_red_key_and_what_cannot_be_is_refused_with_its_reason(hands: Hands) -> None:
    kept = asked(hands, GAP)
    hands.press("9")
    hands.press("9")
    hands.press("Fails: keep 99 mm")
    assert not kept
    assert "99 mm cannot be" in hands.seen()
    hands.press("Close")
    hands.press("rub out")
    assert hands.key("Fails: keep 9 mm").kind == "fail"
    hands.press("Fails: keep 9 mm")
    assert kept == [(Fraction(9), "mm")]


def test_the_last_value_is_one_key(hands: Hands) -> None:
    kept = asked(hands, WARMTH)
    hands.press("17 °C\nas air")
    hands.press("Keep 17 °C")
    assert kept == [(Fraction(17), "degC")]


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)], ids=["across", "upright"])
@pytest.mark.parametrize("text", [1.0, 1.5])
def test_the_pad_fits_with_question_and_limit_in_sight(hands: Hands, size: tuple[int, int], text: float) -> None:
    resize(*size)
    hands.tablet.go("day")
    hands.tablet.choose(text=text)
    for question, unit, limit in ((GAP, "in", "max 1/8 in"), (GAP, "mm", "max 3.1 mm"), (WARMTH, "°C", "5 to 30 °C")):
        asked(hands, question)
        hands.press(unit)
        assert limit in hands.seen()
        pad = hands.tablet._overlay._inside.pad
        assert pad.number.asked.question in hands.seen()
        texts = [w for w in pad.walk() if getattr(w, "words", "") == limit]
        assert texts[0].shrunk == 1.0, "the limit is as large as it is meant to be"
        lying = [k for k in pad.walk() if hasattr(k, "named")]
        assert min(min(k.width, k.height) for k in lying) >= hands.tablet.look.dots(104)
        assert not [k.named for k in lying if k.cut]
