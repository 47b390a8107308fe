"""What stands behind the person and the ear is whole on a tablet of any turn, in every theme, at every size of text."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.ui.content.explain import EXPLAINED
from tests.ui.conftest import Hands, resize
from tests.ui.test_glove_and_eye import check

PAGES = ("person", "dust", "cautions", "handling", "tablet", "crew", "ear", "glossary")


@pytest.mark.parametrize(
    ("size", "theme"),
    [((1280, 800), "day"), ((800, 1280), "sun"), ((1920, 1200), "dark")],
    ids=["lying", "upright", "large"],
)
def test_every_page_is_whole_at_every_size_of_text_in_both_hands(
    hands: Hands, size: tuple[int, int], theme: str
) -> None:
    resize(*size)
    hands.say("this is rosa", "start area shower wall")
    hands.tablet.send(cmd.NoteDust(task="handheld power saw", place="outdoors", minutes=Fraction(250)))
    hands.tablet.send(cmd.DustStarts(task="grinder for mortar removal", place="indoors"))
    hands.clock.advance(20)
    hands.quiet()
    hands.say("understood", "humbug")
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, "271828", now=hands.clock.now())
    for text, units, hand in ((1.0, "us", "right"), (1.5, "metric", "left")):
        hands.tablet.choose(text=text, theme=theme, units=units, hand=hand)
        what = f"{size}, text {text}, {units}, {hand}"
        for page in PAGES:
            hands.go(page)
            hands.frames(6)
            check(hands, f"{page}, {what}")
        hands.go("crew", person="edwin")
        hands.frames(6)
        check(hands, f"one person, {what}")


def test_what_a_page_says_of_itself_stands_whole_over_it(hands: Hands) -> None:
    for text, page in product((1.0, 1.5), EXPLAINED):
        hands.tablet.preferences = hands.tablet.preferences.model_copy(update={"explained": (), "text": text})
        if page in hands.tablet._screens:
            hands.go(page)
            hands.frames(6)
            strip = hands.tablet._aids._strip
            assert strip is not None
            assert not strip.told.cut, page
            assert strip.height >= strip.told.height
            # Over the foot of the page: question, limit and clocks are not covered, and the keys that go on are not.
            acts = hands.tablet._screen.acts_high
            assert strip.y >= acts
            assert strip.top <= 0.6 * hands.tablet._frame.height, page
