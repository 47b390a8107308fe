"""Behind the person: who speaks and sets, dust by touch, cautions by person, one piece, what the tablet looks like."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from fieldassist.checklist.events import CautionAcknowledged, DustEnded, DustNoted, DustStarted, SetterChanged
from fieldassist.record.log import DayLog
from fieldassist.ui.app import TabletApp
from fieldassist.ui.widgets.person_marks import FaceKey
from tests.ui.conftest import Hands


def _enter(hands: Hands, key: str, number: str, unit: str = "") -> None:
    hands.press(key)
    for digit in number:
        hands.press(digit)
    if unit:
        hands.press(unit)
    hands.press("Keep")


def _face(hands: Hands, name: str) -> FaceKey:
    keys = hands.every_key()
    return next(key for key in keys if isinstance(key, FaceKey) and key.text == name)


def test_who_speaks_and_who_sets_is_pressed_and_nothing_else_changes(hands: Hands) -> None:
    hands.go("person")
    hands.touch(_face(hands, "Rosa"))
    hands.quiet()
    assert _face(hands, "Rosa").chosen
    hands.say("start area shower wall")
    hands.go("person")
    hands.press("Otto sets")
    view = hands.tablet.view
    assert view is not None
    assert view.state.speaker is not None
    assert view.state.speaker.name == "rosa", "who speaks stays"
    assert [b.name for b in hands.events(SetterChanged)][-1:] == ["otto"]


def test_dust_starts_and_ends_with_a_press_each_and_the_clock_measures_it(hands: Hands, tmp_path: Path) -> None:
    hands.go("person")
    hands.press("Dust starts")
    assert not hands.events(DustStarted), "nobody spoke"
    hands.press("Close")
    hands.touch(_face(hands, "Rosa"))
    hands.quiet()
    hands.press("Dust starts")
    hands.clock.advance(12)
    hands.press("Dust ends")
    assert [b.minutes for b in hands.events(DustNoted)] == [12]
    assert len(hands.events(DustEnded)) == 1
    assert [s.how for s in hands.sources(DustNoted)] == ["clock"]
    assert hands.tablet.desk is not None
    with DayLog.open(tmp_path / "day.db", read_only=True) as log:
        assert [e.by for e in log.events if isinstance(e.body, DustNoted)] == ["rosa"]


def test_minutes_noted_later_come_to_a_sum_by_person_and_the_last_is_taken_out(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.go("dust")
    hands.press("Handheld power saw")
    hands.press("Indoors")
    _enter(hands, "Note minutes", "45")
    _enter(hands, "Note minutes", "5", "h")
    hands.say("this is otto")
    hands.press("Handheld power saw")
    hands.press("Outdoors")
    _enter(hands, "Note minutes", "5")
    seen = hands.seen()
    # 29 CFR 1926.1153 Table 1 (ii): outdoors no respirator up to 4 hours a shift, and APF 10 beyond; indoors APF 10.
    assert "Rosa: 345 min of tasks in Table 1, OVER four hours" in seen
    assert "Otto: 5 min of tasks in Table 1, not over four hours" in seen
    hands.press("Take out the last: 5 min")
    assert [(b.minutes, b.replaces is not None) for b in hands.events(DustNoted)][-1] == (Fraction(0), True)
    # 29 CFR 1910.1000(d)(1): 200 µg/m3 for 345 of 480 min is 143.75, over the limit of 50.
    hands.say("this is rosa")
    hands.press("Indoors")
    _enter(hands, "Enter what was measured", "200")
    assert "143.8 µg/m³ is over the limit of 50" in hands.seen()


def test_a_due_caution_is_acknowledged_by_touch_and_the_page_says_who_has_not_seen_it(hands: Hands) -> None:
    hands.go("cautions")
    assert hands.key("Understood").off, "nothing is due yet"
    hands.say("this is rosa", "start area shower wall")
    hands.clock.advance(27)
    hands.press("Understood")
    assert [(b.caution, b.area) for b in hands.events(CautionAcknowledged)] == [("silica", "shower wall")]
    assert "Rosa 07:12" in hands.seen()
    assert "Otto has not" in hands.seen()
    hands.press("Understood")
    assert len(hands.events(CautionAcknowledged)) == 2
    assert hands.key("Understood").off
    # 1200 x 600 x 10 mm at 2350 kg/m3 (from memory) against the 25 kg filter of HSE L23.
    assert "Does not apply (piece weight is 16.9 kg, not over 25 kg)" in hands.seen()
    hands.press("Lobby wall")
    assert hands.key("Understood").off, "work is not there"


def test_one_piece_is_handled_as_assess_judges_it_and_says_what_is_assumed(hands: Hands) -> None:
    hands.tablet.choose(units="us")
    hands.go("handling")
    assert "37.3 lb: two people" in hands.seen()
    # DHHS (NIOSH) Publication 94-110, example 1, with the metric constants of the plan: 23 kg x .43 (25/58.42) x .74
    # (160.02 cm) x .86 (121.92 cm) x 1 x 1 x 1 = 6.294 kg (13.88 lb) where it is set down, against 44 lb.
    for field, number in (
        ("weighed", "44"),
        ("reach", "23"),
        ("height", "15"),
        ("end_reach", "23"),
        ("end_height", "63"),
    ):
        keys = hands.every_key()
        found = [key for key in keys if key.caption is not None and key.caption.words.startswith(FIELDS[field])]
        hands.touch(found[0])
        hands.quiet()
        for digit in number:
            hands.press(digit)
        hands.press("Keep")
    hands.press("up to 1 h")
    hands.press("fair: a fair hold")
    assert "Lifting index 3.17" in hands.seen()
    hands.press("Why?")
    assert "The equation's limit is 13.8 lb, where it is set down; the piece travels 48 in" in hands.seen()
    assert "local rules come first" in hands.seen()
    hands.press("Close")
    hands.press("Kneeling")
    assert "no figure holds" in hands.seen()


FIELDS = {
    "weighed": "Piece on a scale",
    "reach": "Hands out, picking",
    "height": "Hands up, picking",
    "end_reach": "Hands out, setting",
    "end_height": "Hands up, setting",
}


def test_what_is_chosen_is_kept_and_a_new_tablet_reads_it(hands: Hands) -> None:
    hands.go("tablet")
    for key in ("Dark", "125 %", "Left", "US"):
        hands.press(key)
        assert hands.key(key).chosen
    assert hands.tablet.units == "us"
    assert hands.tablet.look.left_hand
    again = TabletApp(data=hands.tablet.data, listen=False).preferences
    assert again == hands.tablet.preferences
    assert (again.theme, again.text, again.hand, again.units) == ("dark", 1.25, "left", "us")


def test_a_lock_is_not_chosen_while_nobody_could_open_it(hands: Hands) -> None:
    hands.go("tablet")
    hands.press("5 min")
    assert hands.tablet.preferences.lock_minutes == 0
    assert "nobody has one here" in hands.seen()


def test_a_word_of_the_trade_leads_to_those_that_go_with_it(hands: Hands) -> None:
    hands.go("glossary")
    hands.press("Open time")
    assert "How long combed mortar takes a piece" in hands.seen()
    hands.press("See Skin")
    assert "a finger comes away clean" in hands.seen()
    hands.press("The screens")
    assert "What is grey has not been judged" in hands.seen()


@pytest.fixture(autouse=True)
def _plain(hands: Hands) -> Iterator[None]:
    yield
    hands.tablet.choose(theme="day", text=1.0, hand="right", units=None)
