"""Safety by touch: cautions are acknowledged, minutes of dust are kept, a lift is checked against published cases."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from fieldassist.checklist.events import CautionAcknowledged, DustNoted
from fieldassist.record.log import DayLog
from tests.ui.conftest import Hands, resize


def _type(hands: Hands, what: str, number: str, unit: str = "") -> None:
    hands.press(what)
    for key in number:
        hands.press(key)
    if unit:
        hands.press(unit)
    hands.press("Take it")


def test_a_due_caution_is_acknowledged_by_touch_and_the_list_says_who_heard_it_and_who_not(hands: Hands) -> None:
    hands.go("safety")
    assert "Comes before the first step of the area" in hands.seen()
    assert not [t for t in hands.targets() if t.text == "Understood"]
    hands.say("this is rosa", "start area shower wall")
    hands.clock.advance(27)
    hands.press("Understood")
    assert [(b.caution, b.area) for b in hands.events(CautionAcknowledged)] == [("silica", "shower wall")]
    assert "Heard by Rosa 07:12\nNot heard today: Otto" in hands.seen()
    hands.press("Understood")
    assert len(hands.events(CautionAcknowledged)) == 2
    assert "Comes before “Batch”" in hands.seen()
    # 1200 x 600 x 10 mm at 2350 kg/m3 (from memory) against the 25 kg filter of HSE L23.
    assert "Does not apply (piece weight is 16.9 kg, not over 25 kg)" in hands.seen()
    hands.press("Lobby wall")
    assert "Comes before “Panel ready”" in hands.seen()
    assert not [t for t in hands.targets() if t.text == "Understood"], "work is not there"


def test_minutes_of_dust_by_touch_are_in_the_log_and_come_to_a_sum_by_task_and_person(
    hands: Hands, tmp_path: Path
) -> None:
    hands.go("safety")
    hands.press("Dust")
    hands.press("Handheld power saw")
    hands.press("+ 15 min")
    _type(hands, "Other minutes", "25")
    assert not hands.events(DustNoted), "nobody spoke"
    assert "25 min" in hands.seen(), "what was refused stays on the pad"
    hands.press("Leave as it is")
    hands.say("this is rosa")
    hands.press("+ 15 min")
    hands.press("+ 30 min")
    _type(hands, "Other minutes", "5", "h")
    hands.say("this is otto")
    hands.press("+ 5 min")
    hands.press("Outdoors")
    hands.press("+ 5 min")
    seen = hands.seen()
    # 29 CFR 1926.1153 Table 1 (ii): outdoors no respirator up to 4 hours a shift, and APF 10 beyond; indoors APF 10.
    assert "Rosa: 345 min of tasks in Table 1, OVER four hours" in seen
    assert "Otto: 10 min of tasks in Table 1, not over four hours" in seen
    assert "handheld power saw, indoors: 345 min" in seen
    assert "no respirator required" in seen
    hands.press("Take out the last: 5 min")
    assert "Otto: 5 min of tasks" in hands.seen()
    # 29 CFR 1910.1000(d)(1): 200 µg/m3 for 345 of 480 min is 143.75, over the limit of 50.
    hands.say("this is rosa")
    hands.press("Indoors or closed in")
    _type(hands, "Enter what was measured", "200")
    assert "143.8 µg/m³ is over the limit of 50" in hands.seen()
    # The program is gone without a word: what was pressed is on disk already.
    assert hands.tablet.desk is not None
    with DayLog.open(tmp_path / "day.db", read_only=True) as log:
        kept = [(e.by, e.body.place, e.body.minutes) for e in log.events if isinstance(e.body, DustNoted)]
    assert kept == [
        ("rosa", "indoors", 15),
        ("rosa", "indoors", 30),
        ("rosa", "indoors", 300),
        ("otto", "indoors", 5),
        ("otto", "outdoors", 5),
        ("otto", "outdoors", Fraction(0)),
    ]


def test_a_lift_is_judged_as_assess_judges_it_and_says_what_is_assumed(hands: Hands) -> None:
    hands.tablet.choose(units="us")
    hands.go("safety")
    hands.press("Lifting")
    assert "37.3 lb: two people" in hands.seen()
    assert "it lies flat, its short edge to the body" in hands.seen()
    assert "(assumed)" in hands.target("Hands out, picking up").text
    # DHHS (NIOSH) Publication 94-110, example 1, with the metric constants of the plan: 23 kg x .43 (25/58.42) x .74
    # (160.02 cm) x .86 (121.92 cm) x 1 x 1 x 1 = 6.294 kg (13.88 lb) where it is set down, against 44 lb.
    for what, number in (("Piece on a scale", "44"), ("Hands out, picking", "23"), ("Hands up, picking", "15")):
        _type(hands, what, number)
    _type(hands, "Hands out, setting", "23")
    _type(hands, "Hands up, setting", "63")
    hands.press("up to 1 h")
    hands.press("fair: a fair hold")
    seen = hands.seen()
    assert "The equation's limit is 13.8 lb, where it is set down; the piece travels 48 in" in seen
    assert "Lifting index 3.17" in seen
    assert "(entered)" in hands.target("Hands out, picking up").text
    assert "local rules come first" in seen
    # Plan reckons with the same.
    hands.go("plan")
    assert "Lifting index 3.17" in hands.seen()
    hands.go("safety")
    hands.press("Kneeling")
    assert "No figure for this lift" in hands.seen()
    # What was entered and is in no record outlives the screen.
    hands.go("today")
    resize(800, 1280)
    try:
        hands.go("safety")
        assert "Kneeling: YES" in hands.seen()
        hands.press("Piece on a scale")
        hands.press("5")
        hands.go("today")
        hands.go("safety")
        assert "5 lb" in hands.seen()
        hands.press("Leave as it is")
        assert "44 lb" in hands.seen()
    finally:
        resize(1280, 800)
