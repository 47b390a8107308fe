"""The record of a piece and the day's history: what they show, and corrections from there."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from fieldassist.checklist import events as ev
from fieldassist.checklist.kinds.reading import ReadingCorrected
from fieldassist.day.photo import attach
from fieldassist.ui.content.history import History, HistoryFilter, rounds_of
from fieldassist.ui.widgets.picture import Thumb
from tests.ui.conftest import Hands, resize
from tests.ui.test_glove_and_eye import TO_A_READING, check, to_a_lift


@pytest.fixture
def lifted(hands: Hands) -> Hands:
    """The shower wall with one piece set and lifted."""
    hands.say(*TO_A_READING)
    to_a_lift(hands)
    return hands


def lines(hands: Hands, **chosen: object) -> list[type]:
    """The bodies of the lines that are chosen, oldest first."""
    assert hands.tablet.view is not None
    events = hands.tablet.view.events
    history = History()
    history.take(events)
    found = history.lines(HistoryFilter(**chosen))  # type: ignore[arg-type]
    return [type(events[line.seq - 1].body) for line in reversed(found)]


def test_the_record_of_a_piece_tells_who_set_it_out_of_what_and_how(lifted: Hands) -> None:
    lifted.go("piece", area="shower wall", piece=1)
    seen = lifted.seen()
    for words in ("Piece 1", "Not yet covered", "Rosa, 06:53", "witnessed, event", "1, lot B7", "square notch"):
        assert words in seen


def test_a_piece_that_is_not_set_says_so(lifted: Hands) -> None:
    lifted.go("piece", area="shower wall", piece=9)
    assert "Not set" in lifted.seen()
    assert "Lift it" not in lifted.seen()


def test_the_history_of_a_piece_holds_its_own_rounds_alone(lifted: Hands) -> None:
    assert lifted.tablet.view is not None
    rounds = rounds_of(lifted.tablet.view.events, "shower wall", 1)
    assert len({section for _, section, _ in rounds}) == len(rounds) == 2
    found = lines(lifted, area="shower wall", piece=1)
    assert ev.TileLifted in found
    assert ev.HoldReleased not in found
    assert lines(lifted, area="shower wall", piece=9) == []


def test_failures_stand_alone_when_they_are_asked_for(hands: Hands) -> None:
    hands.say(*TO_A_READING, "gap two millimeters", "yes")
    assert lines(hands, failures=True) == []
    hands.say("short gap nine millimeters", "yes")
    assert ev.FailureOpened in lines(hands, failures=True)
    assert ev.ReadingKept in lines(hands, failures=True)


def test_a_line_of_one_person_is_of_that_person(lifted: Hands) -> None:
    assert ev.HoldReleased not in lines(lifted, person="otto")
    assert len(lines(lifted, person="rosa")) > 10


def test_a_reading_is_corrected_from_its_line_and_both_values_stay_in_its_history(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("history", area="shower wall")
    kept = next(e.seq for e in hands.tablet.view.events if isinstance(e.body, ev.ReadingKept))  # type: ignore[union-attr]
    hands.press(f"correct event {kept}")
    for digit in "23":
        hands.press(digit)
    hands.press("Keep 23")
    assert "Yes, keep it" in hands.seen()
    hands.press("Yes, keep it")
    (corrected,) = hands.events(ReadingCorrected)
    assert corrected.corrects == kept
    place = (corrected.section, corrected.round, corrected.step)
    hands.go("history", area="shower wall", step=place)
    assert "Counts no more" in hands.seen()
    assert "23 °C" in hands.seen()


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_record_and_history_fit_glove_and_eye(lifted: Hands, size: tuple[int, int]) -> None:
    resize(*size)
    for text, units, theme in ((1.0, "metric", "day"), (1.5, "us", "sun")):
        lifted.tablet.choose(text=text, units=units, theme=theme)
        lifted.go("piece", area="shower wall", piece=1)
        check(lifted, f"piece, {size}, {text}")
        for chosen in ({}, {"area": "shower wall", "piece": 1}, {"failures": True}):
            lifted.go("history", **chosen)
            check(lifted, f"history, {size}, {text}, {chosen}")


def test_older_lines_lie_behind_a_key(lifted: Hands) -> None:
    lifted.go("history")
    lifted.press("Earlier")
    assert "Later" in lifted.seen()


def test_photos_of_a_piece_stand_small_in_its_record_and_lead_to_all_of_them(lifted: Hands, tmp_path: Path) -> None:
    source = tmp_path / "back.jpg"
    Image.new("RGB", (640, 480), "navy").save(source, "JPEG")
    lifted.tablet.ask(lambda day: attach(day, source))
    lifted.quiet()
    lifted.go("piece", area="shower wall", piece=1)
    (thumb,) = [w for w in lifted.widgets() if isinstance(w, Thumb)]
    lifted.wait(lambda: thumb._picture._texture is not None, "the small picture")
    lifted.touch(thumb)
    assert lifted.tablet.at == "photos"
