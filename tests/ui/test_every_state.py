"""A day through all its states: in each, nothing is cut, too small or over another, and the question is seen."""

from __future__ import annotations

import pytest

from tests.ui.conftest import Hands, resize
from tests.ui.test_glove_and_eye import TO_A_READING, faults

BREATH = "coverage {percent} percent, void one square inch, corners full, edges full, bed six millimeters"
BAD = "coverage eighty nine percent, void four square inches, corners full, edges full, bed five millimeters"
# Name, what is said before (+ and a number are minutes that pass), and whether a question is asked then.
STATES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("nobody speaks", ()),
    ("no area", ("this is rosa",)),
    ("a caution", ("start area shower wall",)),
    ("a temperature", ("understood", "understood")),
    ("a length", TO_A_READING[4:]),
    ("a reading that fails waits", ("gap nine millimeters",)),
    ("a choice of words", ("no", "gap two millimeters", "short gap one millimeter")),
    ("a hold point", ("wall clean",)),
    ("a batch", ("base released by edwin", "new batch")),
    ("bags", ("understood",)),
    ("a lot", ("two bags",)),
    ("slake", ("lot four seven two", "yes", "water twelve liters", "batch mixed")),
    ("between rounds", ("+8", "remixed")),
    ("the back", ("next tile",)),
    ("the comb", ("back keyed", "spread", "+2")),
    ("the stroke", ("combed straight", "tile set")),
    ("the beat", ("slid half an inch", "yes")),
    ("a lift is due", ("beaten in",)),
    ("a lift", ("test tile lifted", "no photo")),
    ("a lift's values wait", (BREATH.format(percent="ninety six"),)),
    ("put back", ("yes",)),
    ("a spread", ("put back", "spread three", "+3", "tile in")),
    ("the time warns", ("+13",)),
    ("the time ran out", ("+6",)),
    ("answered", ("scraped off",)),
    (
        "a failing lift",
        ("spread two", "+4", "tile in", "+3", "tile in", "lift this one", "test tile lifted", "no photo"),
    ),
    (
        "failed",
        (
            "coverage eighty nine percent, void four square inches, corners full, edges full, bed five millimeters",
            "yes",
        ),
    ),
    ("the cure", ("scraped clean",)),
    ("the method's release", ("change to both sides",)),
    ("outward", ("method released by edwin", "set again")),
)


@pytest.mark.parametrize(
    ("size", "theme"),
    [((1280, 800), "day"), ((800, 1280), "dark"), ((1920, 1200), "sun")],
    ids=["lying", "upright", "large"],
)
def test_in_every_state_of_a_day_the_work_is_whole_and_its_question_is_seen(
    hands: Hands, size: tuple[int, int], theme: str
) -> None:
    resize(*size)
    looks = [(1.0, "metric"), (1.5, "us")][: 1 if size[0] > 1280 else 2]
    found: list[str] = []
    for name, lines in STATES:
        for line in lines:
            if line.startswith("+"):
                hands.clock.advance(float(line[1:]))
                hands.wait_tick()
            else:
                hands.say(line)
        for text, units in looks:
            hands.tablet.choose(text=text, theme=theme, units=units)
            for screen in ("work", "wall"):
                hands.go(screen)
                hands.frames(6)
                found += faults(hands, f"{name}: {screen}, {size}, text {text}, {units}")
                if screen == "work":
                    found += question_unseen(hands, f"{name}, {size}, text {text}, {units}")
    assert not found, "\n".join(found)


def question_unseen(hands: Hands, name: str) -> list[str]:
    """What is wrong where the limit of the question is not seen on the page."""
    view = hands.tablet.view
    assert view is not None
    told = view.prompt.requirement
    if told is None or view.prompt.caution is not None:
        return []
    seen = " ".join(hands.seen().split())
    limit = hands.tablet.words(told)
    figures = [word for word in limit.replace(",", " ").split() if any(c.isdigit() for c in word)]
    return [] if all(figure in seen for figure in figures) else [f"{name}: the limit {limit!r} is not seen in {seen!r}"]
