"""Whatever a screen says comes from the language's files: in a made-up language no word of English is seen on any."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import fieldassist.language
from fieldassist.day.session import Day
from fieldassist.language import Words
from fieldassist.ui.screens.registry import SCREENS
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel
from tests.ui.conftest import Hands, begin_tablet
from tests.ui.test_every_state import STATES
from tests.ui.test_glove_and_eye import check

_WORD = re.compile(r"[a-z]{4,}")
# Words that a plan, a person or a checklist's file wrote, units and codes: they are no words of the program.
_GIVEN = frozenset(
    [
        "rosa",
        "otto",
        "edwin",
        "quillhaven",
        "baths",
        "house",
        "four",
        "shower",
        "wall",
        "hall",
        "floor",
        "lobby",
        "north",
        "long",
        "first",
        "ground",
        "room",
        "sample",
        "mortar",
        "lane",
        "quarry",
        "cooperative",
        "field",
        "assist",
        "ansi",
        "niosh",
        "publication",
        "table",
    ]
)


def english() -> frozenset[str]:
    """Words of four letters and more of the English files."""
    folder = Path(fieldassist.language.__file__).parent / "en"
    found: set[str] = set()
    for file in folder.glob("*.ftl"):
        for line in file.read_text(encoding="utf-8").splitlines():
            if not line.startswith("#"):
                value = re.sub(r"\{[^}]*\}|\[[^]]*\]", " ", line.split("=", 1)[-1])
                found.update(_WORD.findall(value.lower()))
    return frozenset(found) - _GIVEN


@pytest.fixture
def pseudo(tmp_path: Path, cheap_hash: None) -> Iterator[Hands]:  # noqa: ARG001
    """The invented site's day, opened again by somebody who reads another language."""
    with begin_tablet(tmp_path) as hands:
        tablet, path = hands.tablet, tmp_path / "day.db"
        tablet.close_day()
        tablet.open_day(path, lambda: Day.resume(path, hands.clock, language="pseudo"))
        hands.wait(lambda: tablet.view is not None, "the day in another language")
        yield hands


def said(hands: Hands) -> Iterator[str]:
    """What stands on the window, text by text."""
    for widget in hands.widgets():
        if isinstance(widget, TextLabel):
            yield widget.words
        elif isinstance(widget, Key):
            yield widget.named


def test_no_screen_says_a_word_of_english_in_another_language(pseudo: Hands) -> None:
    hands, words = pseudo, english()
    assert len(words) > 1000
    assert Words("pseudo")(hands.tablet.view.prompt.ask) != Words()(hands.tablet.view.prompt.ask)  # type: ignore[union-attr]
    wrong: dict[str, set[str]] = {}
    for name, lines in STATES:
        for line in lines:
            if line.startswith("+"):
                hands.clock.advance(float(line[1:]))
                hands.wait_tick()
            else:
                hands.say(line)
        screens = SCREENS if name in ("a lift is due", "failed") else ("work", "wall")
        for screen in screens:
            hands.go(screen)
            hands.frames(4)
            for text in said(hands):
                # What is to be said aloud stands in quotation marks: it is said as the speech model hears it.
                bare = re.sub(r"[“'‘\"][^”'’\"]*[”'’\"]", " ", text.lower())
                for report in hands.tablet.reports:
                    bare = bare.replace(report.words.lower(), " ")  # what was heard is shown as it was heard
                bare = re.sub(r"\S*/\S*", " ", bare)  # a folder's path
                if found := set(_WORD.findall(bare)) & words:
                    wrong.setdefault(f"{screen}: {text}", set()).update(found)
    assert not wrong, "\n".join(f"{where}: {sorted(found)}" for where, found in wrong.items())


def test_screens_hold_the_longer_words_of_another_language(pseudo: Hands) -> None:
    pseudo.say("this is rosa")
    for screen in ("day", "wall", "plan", "person"):
        pseudo.go(screen)
        pseudo.frames(4)
        check(pseudo, f"{screen} in another language")
