"""The day is signed by touch, with finger and PIN; what goes wrong loses nothing; files go where they are sent."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fieldassist.checklist.events import (
    AddendumOpened,
    CautionAcknowledged,
    CommandRefused,
    CorrectionMade,
    DaySealed,
    DaySigned,
    HoldReleased,
    PinRefused,
    ReleasesConfirmed,
    ReleaseStruck,
)
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import Role
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.proof.verify import verify
from fieldassist.record.log import DayLog
from fieldassist.record.seal import check_seals
from fieldassist.ui.content.export import ExportPlace, places
from fieldassist.ui.content.names import capital
from fieldassist.ui.widgets.finger import FingerField
from fieldassist.ui.widgets.parts import EntryField
from tests.checklist.days import Bench
from tests.ui.conftest import Hands

PIN, WRONG = "271828", "314159"


@pytest.fixture
def signing(hands: Hands) -> Hands:
    """The base of the shower wall is released; Edwin, who has a PIN, speaks at the sign-off."""
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is rosa", "start area shower wall", "understood", "understood")
    hands.say("this is edwin")
    hands.go("signoff")
    hands.wait(lambda: "The whole day" in hands.seen(), "the review")
    return hands


def finger(hands: Hands) -> FingerField:
    [field] = [w for w in hands.widgets() if isinstance(w, FingerField)]
    return field


def draw(hands: Hands) -> None:
    field = finger(hands)
    x, y, wide, high = field.box
    across = [
        ((x + wide * a - field.x) / field.width, (y + high * b - field.y) / field.height)
        for a, b in [(0.1, 0.3), (0.3, 0.8), (0.5, 0.3), (0.9, 0.5)]
    ]
    hands.draw(field, *across)


def written_in(hands: Hands) -> EntryField:
    [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
    return field


def pin(hands: Hands, digits: str) -> None:
    for digit in digits:
        hands.touch(hands.target(digit))


def test_the_review_begins_with_what_is_open_and_names_every_area(signing: Hands) -> None:
    lines = signing.seen().splitlines()
    view = signing.tablet.view
    assert view is not None
    points = open_points(view.state)
    assert [point.told.code for point in points] == ["open-area", "open-not-started", "open-not-started"]
    assert "3 points open" in lines
    for point in points:
        assert f"– {capital(view.words(point.told))}" in lines
    for area in view.state.plan.areas:  # type: ignore[union-attr]
        assert any(line.lower().startswith(f"{area.name}: not") for line in lines)


def test_a_day_is_signed_with_finger_and_pin_opened_again_corrected_and_signed_again(signing: Hands) -> None:
    hands = signing
    hands.press("Sign the day")
    draw(hands)
    # A wrong PIN is counted, and loses nothing that was drawn.
    pin(hands, WRONG)
    hands.press("Sign and seal")
    assert not hands.events(PinRefused), "points are open: nothing is signed or tried without a second press"
    hands.press("Sign with open points")
    hands.wait(lambda: hands.events(PinRefused), "the refusal")
    assert "4 tries are left" in hands.seen()
    assert not hands.events(DaySigned)
    # Nor does another look of the screen lose it.
    hands.tablet.choose(theme="dark")
    hands.frames()
    pin(hands, PIN)
    hands.press("Sign and seal")
    hands.press("Sign with open points")
    hands.wait(lambda: hands.events(DaySealed), "the seal")
    [signed] = hands.events(DaySigned)
    [stroke] = signed.strokes
    assert len(stroke) == 4
    assert stroke[0] == pytest.approx((100, 700), abs=3)
    key = hands.tablet.keys.people()[0]
    hands.wait(lambda: "signed and sealed" in hands.seen(), "the sealed day")
    for group in key.fingerprint.split():
        assert group in hands.seen()
    assert PIN not in repr(hands.tablet.memory)
    # An addendum: why, which event, what is right; then it is signed again.
    hands.press("Open an addendum")
    hands.press("Open the addendum")
    assert "three letters at least" in hands.seen()
    field = written_in(hands)
    field.text = "A name was wrong"
    hands.press("Open the addendum")
    assert [body.reason for body in hands.events(AddendumOpened)] == ["A name was wrong"]
    hands.press("Correct an event")
    [caution, *_] = [e.seq for e in hands.tablet.view.events if isinstance(e.body, CautionAcknowledged)]  # type: ignore[union-attr]
    pin(hands, str(caution))
    assert "Shower wall, " in hands.seen(), "the number is shown with what it stands for"
    field = written_in(hands)
    field.text = "It was the long wall"
    hands.press("Put it beside the event")
    assert [(body.target, body.text) for body in hands.events(CorrectionMade)] == [(caution, "It was the long wall")]
    hands.press("Sign addendum 1")
    assert not finger(hands)._drawn, "the signature of the day is not that of its addendum"
    pin(hands, PIN)
    hands.press("Sign and seal")
    hands.press("Sign with open points")
    hands.wait(lambda: len(hands.events(DaySealed)) == 2, "the second seal")
    path = hands.tablet.view.path  # type: ignore[union-attr]
    hands.tablet.close_day()
    with DayLog.open(path, read_only=True) as log:
        checks = check_seals(log.events, log.hashes)
    assert [(check.good, check.name, check.public_key) for check in checks] == [(True, "edwin", key.public_key)] * 2


def test_an_installer_cannot_sign_and_a_foreman_without_pin_is_told_the_way(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.tablet.keys.set_pin("rosa", Role.INSTALLER, PIN, now=hands.clock.now())
    hands.go("signoff")
    hands.press("Sign the day")
    pin(hands, PIN)
    hands.press("Sign and seal")
    hands.press("Sign with open points")
    hands.wait(lambda: hands.events(CommandRefused), "the refusal")
    [refused] = hands.events(CommandRefused)
    assert refused.reason.code == "engine-foreman-signs"
    assert hands.tablet.words(refused.reason) in hands.seen()
    assert not hands.events(DaySigned)
    hands.press("Edwin speaks")
    assert "Edwin has no PIN on this tablet yet" in hands.seen()
    assert not [t for t in hands.targets() if "Give" in t.text], "whoever holds the tablet gives no first PIN here"


def to_the_hold(day: Day) -> None:
    """Answer well up to the hold point."""
    while day.state.area.step.kind != "hold":  # type: ignore[union-attr]
        answer = Bench(clock=hands_clock(day), state=day.state).next_answer()
        assert answer is not None
        assert day.do(answer).taken


def hands_clock(day: Day) -> SimulatedClock:
    assert isinstance(day.clock, SimulatedClock)
    return day.clock


@pytest.fixture
def called(hands: Hands) -> Hands:
    """Two hold points were released by calls in Edwin's name; he has a PIN and speaks at the sign-off."""
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is rosa")
    for area in ("shower wall", "hall floor"):
        hands.say(f"start area {area}")
        hands.tablet.ask(to_the_hold)
        hands.quiet()
        hands.say("base released by edwin")
    hands.say("this is edwin")
    assert len(hands.events(HoldReleased)) == 2
    hands.go("signoff")
    hands.wait(lambda: "The whole day" in hands.seen(), "the review")
    return hands


def test_one_release_is_struck_out_and_one_pin_confirms_the_other_and_signs(called: Hands) -> None:
    hands = called
    hands.press("Sign the day")
    assert "Released in the name of Edwin" in hands.seen()
    hands.press("Hall floor")
    assert "STRUCK OUT" in hands.seen()
    hands.press("Go on to the PIN")
    pin(hands, PIN)
    hands.press("Sign and seal")
    assert "struck out by Edwin" in hands.seen(), "what stays open is read before it is signed"
    assert "not confirmed" not in hands.seen(), "what the PIN confirms is not"
    hands.press("Sign with open points")
    hands.wait(lambda: hands.events(DaySealed), "the seal")
    releases = [e.seq for e in hands.tablet.view.events if isinstance(e.body, HoldReleased)]  # type: ignore[union-attr]
    [confirmed], [struck] = hands.events(ReleasesConfirmed), hands.events(ReleaseStruck)
    assert (confirmed.releases, struck.release) == ((releases[0],), releases[1])


def test_who_does_not_sign_answers_for_the_own_releases_by_the_own_pin(called: Hands) -> None:
    hands = called
    hands.say("this is rosa")
    hands.press("Edwin answers for releases")
    hands.press("Go on to the PIN")
    pin(hands, PIN)
    hands.press("Confirm by PIN")
    hands.wait(lambda: hands.events(ReleasesConfirmed), "the confirmation")
    assert len(hands.events(ReleasesConfirmed)[0].releases) == 2
    assert not hands.events(DaySigned)
    assert not [p for p in open_points(hands.tablet.view.state) if "release" in p.told.code]  # type: ignore[union-attr]


def test_pdf_and_file_to_hand_over_go_where_they_are_sent(
    signing: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = signing
    stick = tmp_path / "stick"
    stick.mkdir()
    monkeypatch.setattr("fieldassist.ui.screens.signoff.places", lambda _day: (ExportPlace("Stick or drive", stick),))
    hands.press("Files go to")
    hands.wait(lambda: "Where should the files go?" in hands.seen(), "the places")
    hands.press("Stick or drive")
    hands.press("Write the PDF")
    hands.wait(lambda: "NOT SEALED: nobody's key" in hands.seen(), "the PDF")
    hands.press("Write the file to hand over")
    hands.wait(lambda: ".bundle" in hands.seen(), "the bundle")
    hands.press("Sign the day")
    pin(hands, PIN)
    hands.press("Sign and seal")
    hands.press("Sign with open points")
    hands.wait(lambda: "signed and sealed" in hands.seen(), "the sealed day")
    hands.press("Write the PDF")
    hands.wait(lambda: "Written" in hands.seen(), "the PDF")
    assert "NOT SEALED" not in hands.seen()
    hands.press("Write the file to hand over")
    hands.wait(lambda: ".bundle" in hands.seen(), "the bundle")
    files = sorted(stick.iterdir())
    assert [path.suffix for path in files] == [".bundle", ".pdf"], "the newer file takes the place of the older"
    key = hands.tablet.keys.people()[0].fingerprint
    for path in files:
        assert verify(path, key=key).ok, path
    # A stick that was pulled out: said, and the day goes on.
    for path in files:
        path.unlink()
    stick.rmdir()
    hands.press("Write the PDF")
    hands.wait(lambda: "could not be written" in hands.seen().lower(), "the refusal")


def test_the_places_are_those_that_take_files(tmp_path: Path) -> None:
    day, own, media = tmp_path / "days", tmp_path / "Documents", tmp_path / "media"
    stick, empty = media / "rosa" / "STICK", media / "rosa" / "nothing mounted"
    for folder in (day, own, stick, empty):
        folder.mkdir(parents=True)
    found = places(day, own=[own, tmp_path / "gone"], roots=[media, tmp_path / "none"], mounted=lambda p: p == stick)
    assert [place.folder for place in found] == [day, own, stick]
    if os.getuid():  # root may write everywhere
        own.chmod(0o500)
        assert own not in [place.folder for place in places(day, own=[own], roots=[])]


def test_a_day_signed_by_voice_is_sealed_here(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is edwin", "sign off with open points")
    hands.go("signoff")
    hands.press("Seal it with the PIN")
    pin(hands, PIN)
    hands.press("Seal")
    hands.wait(lambda: hands.events(DaySealed), "the seal")
