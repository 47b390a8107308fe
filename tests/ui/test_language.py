"""What a screen shows of the day is told in the reader's language: worked in a made-up one, none of it is English."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldassist.checklist.open_points import open_points
from fieldassist.day.session import Day
from fieldassist.language import Words
from tests.ui.conftest import Hands, begin_tablet
from tests.ui.test_glove_and_eye import TO_A_READING, to_a_lift

ENGLISH, PSEUDO = Words(units="metric"), Words("pseudo", "metric")


@pytest.fixture
def pseudo(tmp_path: Path, cheap_hash: None) -> Iterator[Hands]:  # noqa: ARG001
    """The invented site's day, opened again by somebody who reads another language."""
    with begin_tablet(tmp_path) as hands:
        tablet, path = hands.tablet, tmp_path / "day.db"
        tablet.close_day()
        tablet.open_day(path, lambda: Day.resume(path, hands.clock, language="pseudo"))
        hands.wait(lambda: tablet.view is not None, "the day in another language")
        yield hands


def shown(hands: Hands, told: object) -> None:
    """What is told stands on the screen in the made-up language, and not in English."""
    pseudo, english = PSEUDO(told), ENGLISH(told)  # type: ignore[arg-type]
    assert pseudo != english
    seen = " ".join(hands.seen().lower().split())
    assert " ".join(pseudo.lower().split()) in seen, f"{pseudo!r} is not seen:\n{hands.seen()}"
    assert " ".join(english.lower().split()) not in seen, f"{english!r} is seen"


def test_question_requirement_answers_and_refusals_are_told_in_the_readers_language(pseudo: Hands) -> None:
    hands, tablet = pseudo, pseudo.tablet
    hands.say("this is rosa", "start area shower wall")
    hands.go("area")
    assert tablet.view is not None
    assert tablet.view.prompt.caution is not None
    shown(hands, tablet.view.prompt.caution)
    hands.say(*TO_A_READING[2:])
    asked = tablet.view.prompt
    for told in (asked.ask, asked.requirement):
        assert told is not None
        shown(hands, told)
    hands.say("base released")
    assert tablet.reports[-1].said == PSEUDO(hands.tablet.view.events[-1].body.reason)  # type: ignore[union-attr]
    shown(hands, hands.tablet.view.events[-1].body.reason)
    hands.say("gap nine millimeters")
    assert "9 mm" in hands.seen()
    assert ENGLISH(tablet.view.prompt.ask) not in hands.seen()


def test_lift_sign_off_and_today_tell_of_the_day_in_the_readers_language(pseudo: Hands) -> None:
    hands = pseudo
    hands.say(*TO_A_READING)
    to_a_lift(hands)
    hands.go("lift")
    assert hands.tablet.view is not None
    shown(hands, hands.tablet.view.prompt.ask)
    for screen in ("today", "signoff"):
        hands.go(screen)
        for point in open_points(hands.tablet.view.state):
            shown(hands, point.told)
