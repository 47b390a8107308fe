"""Facts of photos: of which lift each one is, and that one that was taken back is told as such."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.facts.build import day_facts
from fieldassist.language import Words
from tests.checklist.days import PHOTO, Bench


def test_a_photo_in_the_round_of_a_lift_is_the_lifts_and_one_that_was_withdrawn_says_so() -> None:
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(PHOTO)
    bench.start("shower wall")
    bench.call("batch", "tile")
    bench.take(cmd.AskLift())
    bench.go_on(1)
    bench.take(PHOTO)
    bench.take(cmd.Withdraw())
    bench.go_on()
    photos = day_facts(bench.events, ["0" * 64] * len(bench.events), Words()).photos
    assert [(one.area, one.lift, one.withdrawn) for one in photos] == [
        ("", None, False),
        ("shower wall", 1, False),
        ("shower wall", 2, True),
        ("shower wall", 2, False),
    ]
