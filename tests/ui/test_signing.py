"""The day is signed by touch, with finger and PIN; what goes wrong loses nothing; files go where they are sent."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pytest

from fieldassist.checklist.events import (
    AddendumOpened,
    CautionAcknowledged,
    CorrectionMade,
    DaySealed,
    DaySigned,
    HoldReleased,
    PinRefused,
    PointAnswered,
    ReleasesConfirmed,
    ReleaseStruck,
    SpeakerChanged,
    TilesAccepted,
)
from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.day.session import Day
from fieldassist.proof.known import known_by
from fieldassist.proof.verify import verify
from fieldassist.record.log import DayLog
from fieldassist.record.seal import check_seals
from fieldassist.report.daily import CannotWrite
from fieldassist.report.signed import signed_pages_of
from fieldassist.trade.message import message
from fieldassist.ui.content.export import ExportPlace, hand_over
from fieldassist.ui.content.pages import PageShelf
from fieldassist.ui.content.signing import stay_open
from fieldassist.ui.widgets.finger import FingerField
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.letters import EntryField
from fieldassist.ui.widgets.paper import CodeSquare, PagePaper
from tests import SITE
from tests.checklist.days import SEED, Bench, all_checklists
from tests.checklist.test_lifts import failed_at_five
from tests.ui.conftest import Hands, begin_tablet, resize
from tests.ui.test_glove_and_eye import check

PIN, WRONG = "271828", "314159"


@pytest.fixture
def signing(hands: Hands) -> Hands:
    """The base of the shower wall is released; Edwin has a PIN, Rosa works."""
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is rosa", "start area shower wall", "understood", "understood")
    hands.go("signing")
    return hands


def pin(hands: Hands, digits: str) -> None:
    for digit in digits:
        hands.touch(hands.key(digit))
    hands.press("That is it")


def keys_with(hands: Hands, words: str) -> list[Key]:
    """The keys whose words begin so."""
    found: list[Key] = hands.every_key()
    return [key for key in found if key.text.startswith(words)]


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


def write(hands: Hands, text: str) -> None:
    [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
    field.text = text
    hands.press("Take it")


def sealed(hands: Hands, seals: int = 1) -> None:
    hands.wait(lambda: len(hands.events(DaySealed)) == seals, "the seal")
    hands.wait(lambda: "Sealed by Edwin" in hands.seen(), "the proof")


def sign(hands: Hands) -> None:
    hands.press("Sign")
    pin(hands, PIN)
    sealed(hands)


# --- what is asked first ------------------------------------------------------------------------------------------


def test_the_screen_and_its_key_say_how_much_stays_open(signing: Hands) -> None:
    view = signing.tablet.view
    assert view is not None
    left = len(stay_open(view.state, "edwin"))
    assert left
    assert f"{left} answers are missing" in signing.seen()
    assert signing.key("Sign with PIN").text.endswith(f"{left}\u00a0stay\u00a0open")


def test_a_point_is_answered_in_place_by_a_ready_sentence_and_the_count_goes_down(signing: Hands) -> None:
    hands = signing
    hands.say("this is edwin")
    before = len(stay_open(hands.tablet.view.state, "edwin"))  # type: ignore[union-attr]
    hands.press("Answer")
    hands.press("Goes on tomorrow")
    assert len(hands.events(PointAnswered)) == 1
    assert f"{before - 1} answer" in hands.seen()


def test_a_point_is_answered_in_words_of_ones_own(signing: Hands) -> None:
    hands = signing
    hands.say("this is edwin")
    hands.press("Answer")
    hands.press("In words of your own")
    write(hands, "The owner changed the plan")
    [answered] = hands.events(PointAnswered)
    assert str(answered.answer) == "The owner changed the plan"


def test_an_installer_who_answers_is_asked_whether_the_foreman_is_here(signing: Hands) -> None:
    hands = signing
    hands.press("Answer")
    assert not hands.events(PointAnswered)
    hands.press("Edwin is here")
    hands.press("Goes on tomorrow")
    assert hands.tablet.view.events[-1].by == "edwin"  # type: ignore[union-attr]
    assert len(hands.events(PointAnswered)) == 1


def test_suspects_are_let_stay_by_the_foreman_with_his_reason(hands: Hands, tmp_path: Path) -> None:
    bench, path = failed_at_five(), tmp_path / "porch.db"
    plan = bench.state.plan
    assert plan is not None
    hands.tablet.open_day(path, lambda: Day.begin(path, plan, all_checklists(), hands.clock, lot_seed=SEED))
    hands.wait(lambda: hands.tablet.view is not None and hands.tablet.view.path == path, "the day")
    for sent in bench.sent[1:]:
        hands.tablet.ask(lambda day, command=sent.command: day.do(command))  # type: ignore[misc]
    hands.say("this is edwin")
    hands.go("signing")
    assert "3 pieces suspect: 2, 3, 4" in hands.seen()
    assert "since lift 2, 40 %; nothing lifted since" in hands.seen()
    hands.touch(keys_named(hands, "suspect")[0])
    hands.press("It cannot be reached")
    [accepted] = hands.events(TilesAccepted)
    assert (accepted.tiles, accepted.told.code) == ((2, 3, 4), "engine-accepted-reach")
    assert not keys_named(hands, "suspect")


def keys_named(hands: Hands, words: str) -> list[Key]:
    """The keys in whose name these words are."""
    found: list[Key] = hands.every_key()
    return [key for key in found if words in key.named]


# --- signing ------------------------------------------------------------------------------------------------------


def test_a_day_is_signed_with_finger_and_pin_opened_again_corrected_and_signed_again(signing: Hands) -> None:
    hands = signing
    hands.press("Sign")
    draw(hands)
    # A wrong PIN is counted, and loses nothing that was drawn.
    pin(hands, WRONG)
    hands.wait(lambda: hands.events(PinRefused), "the refusal")
    hands.wait(lambda: "4 tries are left" in hands.seen(), "the words of it")
    assert not hands.events(DaySigned)
    assert hands.tablet.view.state.speaker.name == "rosa", "she works on"  # type: ignore[union-attr]
    # Nor does another look of the screen lose it.
    hands.tablet.choose(theme="dark")
    hands.frames()
    pin(hands, PIN)
    sealed(hands)
    [signed] = hands.events(DaySigned)
    [stroke] = signed.strokes
    assert (signed.name, len(stroke)) == ("edwin", 4)
    assert stroke[0] == pytest.approx((100, 700), abs=3)
    key = hands.tablet.keys.people()[0]
    assert key.fingerprint in hands.seen()
    assert PIN not in repr(hands.tablet.memory)
    assert not [key for key in keys_with(hands, "") if key.kind == "action"], "a sealed day has no key that goes on"
    assert "Signed 06:45" in hands.seen()
    # An addendum: why, which event, what is right; then it is signed again.
    hands.press("Open an addendum")
    write(hands, "A name was wrong")
    assert [body.reason for body in hands.events(AddendumOpened)] == ["A name was wrong"]
    [caution, *_] = [e.seq for e in hands.tablet.view.events if isinstance(e.body, CautionAcknowledged)]  # type: ignore[union-attr]
    hands.press("Correct an event")
    for digit in str(caution):
        hands.touch(hands.key(digit))
    hands.press("Keep")
    write(hands, "It was the long wall")
    assert [(body.target, body.text) for body in hands.events(CorrectionMade)] == [(caution, "It was the long wall")]
    hands.press("Sign addendum 1")
    assert not finger(hands).drawn, "the signature of the day is not that of its addendum"
    pin(hands, PIN)
    sealed(hands, 2)
    path = hands.tablet.view.path  # type: ignore[union-attr]
    hands.tablet.close_day()
    with DayLog.open(path, read_only=True) as log:
        checks = check_seals(log.events, log.hashes)
    assert [(check.good, check.name, check.public_key) for check in checks] == [(True, "edwin", key.public_key)] * 2


def test_from_the_work_to_files_on_a_stick_it_takes_six_presses_and_the_pin(
    signing: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = signing
    stick = tmp_path / "STICK"
    stick.mkdir()
    monkeypatch.setattr("fieldassist.ui.screens.handing.places", lambda _day: (ExportPlace("stick", stick),))
    hands.go("work")
    hands.press("Day")
    hands.press("Sign the day")
    hands.press("Sign")
    draw(hands)
    pin(hands, PIN)
    sealed(hands)
    hands.press("Hand over")
    hands.wait(lambda: keys_with(hands, "Write to: Stick"), "the stick")
    hands.press("Write to")
    hands.wait(lambda: len(list(stick.iterdir())) == 2, "the files")
    hands.wait(lambda: keys_with(hands, "Done"), "that it is done")
    hands.press("Done")
    assert hands.tablet.at == "day"
    key = hands.tablet.keys.people()[0].fingerprint
    for path in stick.iterdir():
        assert verify(path, known=known_by(key)).ok, path


def test_the_first_pin_is_given_in_place_twice_and_signs(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.go("signing")
    hands.press("Sign")
    pin(hands, PIN)
    pin(hands, WRONG)
    assert not hands.tablet.keys.people(), "two different ones are none"
    pin(hands, PIN)
    hands.wait(lambda: hands.tablet.keys.people(), "the key")
    hands.wait(lambda: [w for w in hands.widgets() if isinstance(w, FingerField)], "the signature")
    pin(hands, PIN)
    sealed(hands)
    assert hands.events(DaySigned)[0].name == "edwin"


def test_a_day_signed_by_voice_is_sealed_here(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is edwin", "sign off with open points")
    hands.go("signing")
    hands.wait(lambda: "not sealed yet" in hands.seen(), "the state of the proof")
    hands.press("Seal it with PIN")
    pin(hands, PIN)
    sealed(hands)


# --- releases -----------------------------------------------------------------------------------------------------


def to_the_hold(day: Day) -> None:
    """Answer well up to the hold point."""
    while day.state.area.step.kind != "hold":  # type: ignore[union-attr]
        answer = Bench(clock=day.clock, state=day.state).next_answer()  # type: ignore[arg-type]
        assert answer is not None
        assert day.do(answer).taken


def called(hands: Hands, *names: str) -> Hands:
    """Two hold points were released by calls in these names; Edwin has a PIN."""
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is rosa")
    for area, name in zip(("shower wall", "hall floor"), names, strict=True):
        hands.say(f"start area {area}")
        hands.tablet.ask(to_the_hold)
        hands.quiet()
        hands.say(f"base released by {name}")
    assert len(hands.events(HoldReleased)) == 2
    hands.go("signing")
    return hands


def test_one_release_is_struck_out_and_one_pin_confirms_the_other_and_signs(hands: Hands) -> None:
    called(hands, "edwin", "edwin")
    assert "2 releases called in Edwin's name" in hands.seen()
    open_before = len(stay_open(hands.tablet.view.state, "edwin"))  # type: ignore[union-attr]
    hands.press("Releases")
    hands.press("Hall floor")
    assert "struck out: stays open" in hands.seen()
    hands.press("Done")
    assert hands.key("Sign with PIN").text.endswith(f"{open_before + 1}\u00a0stay\u00a0open"), (
        "what is struck out stays open"
    )
    sign(hands)
    releases = [e.seq for e in hands.tablet.view.events if isinstance(e.body, HoldReleased)]  # type: ignore[union-attr]
    [confirmed], [struck] = hands.events(ReleasesConfirmed), hands.events(ReleaseStruck)
    assert (confirmed.releases, struck.release) == ((releases[0],), releases[1])


def two_foremen() -> DayPlan:
    given = load_plan(SITE).model_dump(mode="json")
    for person in given["crew"]:
        if person["name"] == "otto":
            person["role"] = "foreman"
    given["crew"].sort(key=lambda person: person["name"])
    return DayPlan.model_validate(given)


@pytest.fixture
def foremen(tmp_path: Path, cheap_hash: None) -> Iterator[Hands]:  # noqa: ARG001
    with begin_tablet(tmp_path, two_foremen()) as hands:
        yield hands


def test_who_does_not_sign_answers_for_the_own_releases_by_the_own_pin(foremen: Hands) -> None:
    hands = foremen
    hands.tablet.keys.set_pin("otto", Role.FOREMAN, WRONG, now=hands.clock.now())
    called(hands, "otto", "otto")
    hands.touch(keys_with(hands, "Releases")[0])
    hands.quiet()
    hands.press("PIN of Otto")
    pin(hands, WRONG)
    hands.wait(lambda: hands.events(ReleasesConfirmed), "the confirmation")
    assert len(hands.events(ReleasesConfirmed)[0].releases) == 2
    assert not hands.events(DaySigned)
    assert not [p for p in open_points(hands.tablet.view.state) if "release" in p.told.code]  # type: ignore[union-attr]
    assert "edwin" not in [body.name for body in hands.events(SpeakerChanged)], "who works goes on working"


# --- handing over -------------------------------------------------------------------------------------------------


def test_a_day_that_nobody_signed_can_be_handed_over_and_has_no_code(
    signing: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = signing
    stick = tmp_path / "STICK"
    stick.mkdir()
    monkeypatch.setattr("fieldassist.ui.screens.handing.places", lambda _day: (ExportPlace("stick", stick),))
    hands.go("handing")
    assert not [w for w in hands.widgets() if isinstance(w, CodeSquare)]
    hands.wait(lambda: keys_with(hands, "Write to"), "the stick")
    hands.press("Write to")
    hands.wait(lambda: "NOT SEALED" in hands.seen(), "the files")
    # A stick that was pulled out: said, and the day goes on.
    for path in stick.iterdir():
        path.unlink()
    stick.rmdir()
    hands.press("Done")
    hands.go("handing")
    hands.wait(lambda: keys_with(hands, "Write to"), "the stick")
    hands.press("Write to")
    hands.wait(lambda: "could not be written" in hands.seen().lower(), "the refusal")


def test_without_a_printer_it_is_said_and_the_files_can_go_elsewhere(
    signing: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = signing
    monkeypatch.setattr("fieldassist.ui.content.export.shutil.which", lambda _program: None)
    hands.go("handing")
    hands.press("Print")
    hands.wait(lambda: "No printer is set up" in hands.seen(), "the refusal")


def test_any_folder_is_walked_to_and_written_into(
    signing: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = signing
    (tmp_path / "papers" / "july").mkdir(parents=True)
    monkeypatch.setattr("fieldassist.ui.screens.handing.Path.home", lambda: tmp_path / "papers")
    hands.go("handing")
    hands.press("Another folder")
    hands.wait(lambda: keys_with(hands, "july"), "the folders")
    hands.press("july")
    hands.wait(lambda: str(tmp_path / "papers" / "july") in hands.seen(), "the folder")
    hands.press("Write them here")
    hands.wait(lambda: len(list((tmp_path / "papers" / "july").iterdir())) == 2, "the files")


# --- pages --------------------------------------------------------------------------------------------------------


def paper(hands: Hands) -> PagePaper:
    hands.wait(lambda: [w for w in hands.widgets() if isinstance(w, PagePaper)], "the page")
    [found] = [w for w in hands.widgets() if isinstance(w, PagePaper)]
    return found


def test_the_pages_are_read_one_by_one_and_larger(signing: Hands) -> None:
    hands = signing
    hands.press("Read all")
    first = paper(hands)
    wide = first.width
    assert "page 1 of" in hands.seen()
    hands.press("Page before")
    assert "page 1 of" in hands.seen(), "there is none before the first"
    hands.press("Close")
    hands.press("Next page")
    hands.wait(lambda: "page 2 of" in hands.seen(), "the second page")
    paper(hands)
    hands.press("Larger")
    hands.wait(lambda: paper(hands).width > 1.5 * wide, "the larger page")
    hands.press("Back")
    assert hands.tablet.at == "signing"


# --- how it looks -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "theme"), [((1280, 800), "day"), ((800, 1280), "dark")])
def test_every_state_of_it_fits_glove_and_eye(signing: Hands, size: tuple[int, int], theme: str) -> None:
    hands = signing
    resize(*size)
    shelf = hands.tablet.memory.of(PageShelf)
    hands.wait(lambda: shelf.printed is not None, "the pages")
    for text, units in ((1.0, "metric"), (1.5, "us")):
        hands.tablet.choose(text=text, theme=theme, units=units)
        for name in ("signing", "handing", "pages"):
            hands.go(name)
            hands.frames(6)
            check(hands, f"{name}, {size}, text {text}")
        hands.go("signing")
        hands.press("Answer")
        check(hands, f"who answers, {size}, text {text}")
        hands.press("Edwin is here")
        check(hands, f"answers, {size}, text {text}")
        hands.press("Back")
        hands.press("Sign")
        check(hands, f"finger and PIN, {size}, text {text}")
        hands.press("Back")
        hands.say("this is rosa")
    sign(hands)
    for text in (1.0, 1.5):
        hands.tablet.choose(text=text)
        for name in ("signing", "handing"):
            hands.go(name)
            hands.frames(6)
            check(hands, f"{name} once sealed, {size}, text {text}")


# --- the signed pages ---------------------------------------------------------------------------------------------


def test_the_pages_are_signed_with_the_day_on_the_paper_that_was_chosen_and_handed_over(
    signing: Hands, tmp_path: Path
) -> None:
    hands, view = signing, signing.tablet.view
    assert view is not None
    assert "Signed pages: A4" in hands.seen()
    hands.press("Change")
    assert "Signed pages: US Letter" in hands.seen()
    sign(hands)
    hands.wait(lambda: "The pages are signed too" in hands.seen(), "the signed pages")
    check(hands, "sealed, with signed pages")
    signed = signed_pages_of(view.path)
    with pikepdf.open(signed) as pdf:
        assert [float(side) for side in pdf.pages[0].mediabox[2:]] == [612.0, 792.0]  # ANSI/ASME Y14.1: 8.5 by 11 in
    stick = tmp_path / "stick"
    stick.mkdir()
    done = hand_over(view.path, stick, "metric", lambda _done, _total: None)
    assert done.pdf.read_bytes() == signed.read_bytes()


def test_pages_that_could_not_be_written_leave_the_day_sealed_and_are_signed_later_by_pin(
    signing: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands, view = signing, signing.tablet.view
    assert view is not None
    full = CannotWrite(message("report-cannot-write", file="day.signed.pdf", why="no space is left"))
    problems = [full, ValueError("not enough values to unpack")]

    def refuses(*_given: object, **_rest: object) -> None:
        raise problems.pop()

    with monkeypatch.context() as disk:
        disk.setattr("fieldassist.ui.content.export.sign_pages", refuses)
        sign(hands)
        hands.wait(lambda: "The pages are not signed yet" in hands.seen(), "what is missing")
        assert "not enough values to unpack" in hands.seen()
        check(hands, "sealed, without signed pages")
        hands.press("Sign them")
        pin(hands, PIN)
        hands.wait(lambda: "no space is left" in hands.seen(), "why they could not be signed")
    assert not signed_pages_of(view.path).exists()
    hands.press("Sign them")
    pin(hands, PIN)
    hands.wait(lambda: "The pages are signed too" in hands.seen(), "the signed pages")
    assert signed_pages_of(view.path).exists()
