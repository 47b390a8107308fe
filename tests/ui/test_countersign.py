"""The owner or an inspector countersigns the sealed day by their own PIN; the roster says whose key is whose."""

from __future__ import annotations

import dataclasses
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from fieldassist.checklist.plan import Person, Role
from fieldassist.day.session import Day
from fieldassist.qr import qr_modules
from fieldassist.record.beside import proofs_beside
from fieldassist.record.keys import Office, SigningKey
from fieldassist.record.receipt import SealedHead, make_receipt, read_receipt
from fieldassist.record.roster import RosterProblem, load_roster, make_roster, roster_for, with_people, without
from fieldassist.ui.content.countersigning import (
    ask_for_stamp,
    lying_beside,
    may_countersign,
    take_in,
    to_countersign,
    to_take_away,
)
from fieldassist.ui.content.rosters import kept_roster, roster_lines
from fieldassist.ui.widgets.letters import EntryField
from tests.authority import Authority
from tests.ui.conftest import Hands
from tests.ui.test_crew import pin
from tests.ui.test_glove_and_eye import check
from tests.ui.test_handing_files import read_by_a_camera

EDWINS, OWNERS, WRONG = "271828", "161803", "141421"
AT = datetime.fromisoformat("2026-03-17T06:45:00+01:00")


@pytest.fixture
def sealed(hands: Hands) -> Hands:
    """The day is sealed by Edwin, as it stands at its beginning."""
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, EDWINS, now=hands.clock.now())
    hands.say("this is edwin", "start area shower wall", "understood", "understood")
    keys = hands.tablet.keys
    hands.tablet.ask(lambda day: day.sign(keys, EDWINS, accept_open=True))
    hands.quiet()
    view = hands.tablet.view
    assert view is not None
    assert view.state.sealed
    return hands


def owners_key(seed: int = 7, *, name: str = "mara quill") -> SigningKey:
    return SigningKey(name, Role.OWNER, bytes([seed]) * 32)


def test_an_owner_countersigns_what_is_shown_with_a_first_pin_that_the_foreman_stands_for(sealed: Hands) -> None:
    hands = sealed
    hands.go("signing")
    hands.press("Countersign")
    hands.wait(lambda: "You put your name" in hands.seen(), "what is countersigned")
    view = hands.tablet.view
    assert view is not None
    shown = hands.seen().split()
    assert all(view.head[at : at + 4] in shown for at in range(0, 64, 4))
    assert "Signed with 3 points left open" in hands.seen()
    check(hands, "countersign")
    hands.press("Countersign")
    hands.press("Somebody else")
    [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
    field.text = "mara quill"
    hands.press("Take it")
    hands.press("Owner")
    assert "Edwin stands for Mara Quill" in hands.seen()
    pin(hands, EDWINS)
    hands.wait(lambda: "New PIN of Mara Quill" in hands.seen(), "the first PIN")
    pin(hands, OWNERS)
    pin(hands, OWNERS)
    hands.wait(lambda: "Mara Quill countersigns" in hands.seen(), "the PIN that signs")
    pin(hands, WRONG)
    hands.wait(lambda: "tries are left" in hands.seen(), "the refusal")
    assert proofs_beside(view.path, "receipt") == ()
    pin(hands, OWNERS)
    hands.wait(lambda: "Countersigned by Mara Quill" in hands.seen(), "the countersignature")
    [file] = proofs_beside(view.path, "receipt")
    receipt = read_receipt(file.read_bytes())
    [owner] = [one for one in hands.tablet.keys.people() if one.name == "mara quill"]
    assert (receipt.head, receipt.role, receipt.public_key) == (view.head, "owner", owner.public_key)
    check(hands, "countersigned")


def test_a_countersignature_made_elsewhere_is_brought_in_and_that_of_another_day_is_not(
    sealed: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands, view = sealed, sealed.tablet.view
    assert view is not None
    assert view.state.plan is not None
    here = SealedHead(view.state.plan.site, view.state.plan.date, "work", len(view.events), view.head)
    good, other = tmp_path / "good.json", tmp_path / "other.json"
    good.write_bytes(make_receipt(here, owners_key(), AT).to_bytes())
    other.write_bytes(make_receipt(dataclasses.replace(here, head="0" * 64), owners_key(), AT).to_bytes())
    hands.go("countersign")
    for file in (other, good):
        monkeypatch.setattr("fieldassist.ui.screens.countersign.choose_file", lambda *given, file=file: given[-1](file))
        hands.wait(lambda: "You put your name" in hands.seen(), "the page")
        hands.press("Bring in")
        if file is other:
            hands.wait(lambda: any(key.text == "Close" for key in hands.every_key()), "the refusal")
            assert proofs_beside(view.path, "receipt") == ()
            hands.press("Close")
    hands.wait(lambda: "Countersigned by Mara Quill" in hands.seen(), "the countersignature")


def test_a_day_that_is_not_sealed_to_its_end_cannot_be_countersigned(hands: Hands) -> None:
    hands.go("countersign")
    hands.wait(lambda: "It cannot be countersigned yet" in hands.seen(), "why not")
    hands.press("Sign-off")
    assert hands.tablet.at == "signing"


def test_events_after_a_countersignature_are_counted_beside_it(sealed: Hands) -> None:
    hands, view = sealed, sealed.tablet.view
    assert view is not None
    assert view.state.plan is not None
    read: list[tuple[tuple, tuple]] = []  # type: ignore[type-arg]

    def take(day: Day) -> None:
        read.append((tuple(day.log.events), tuple(day.log.hashes)))

    hands.tablet.ask(take)
    hands.quiet()
    events, hashes = read[0]
    earlier = SealedHead(view.state.plan.site, view.state.plan.date, "work", len(hashes) - 2, hashes[-3])
    receipt = make_receipt(earlier, owners_key(), AT).to_bytes()
    found = to_countersign(events, hashes, (receipt, b"{}"))
    assert [one.later for one in found.done] == [2]
    assert (found.parts, found.sealers) == (1, ("edwin",))
    assert found.sealed == SealedHead(earlier.site, earlier.date, "work", len(events), hashes[-1])


def test_a_camera_takes_the_head_along() -> None:
    sealed = SealedHead("Quay Baths", "2026-03-17", "work", 14, "0123456789abcdef" * 4)
    assert read_by_a_camera(qr_modules(to_take_away(sealed))).splitlines()[-1] == sealed.head


def test_whoever_is_asked_is_an_owner_or_an_inspector_with_a_key_or_of_the_crew(hands: Hands) -> None:
    keys, now = hands.tablet.keys, hands.clock.now()
    keys.set_pin("edwin", Role.FOREMAN, EDWINS, now=now)
    keys.set_pin("ines", Office.INSPECTOR, OWNERS, now=now)
    crew = (Person(name="mara", role=Role.OWNER), Person(name="otto", role=Role.INSTALLER))
    assert may_countersign(keys.people(), crew) == (("ines", Office.INSPECTOR, True), ("mara", Role.OWNER, False))


# --- the roster ---------------------------------------------------------------------------------------------------


def test_a_roster_is_taken_in_by_the_pin_of_whoever_answers_and_one_that_was_changed_is_not(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keys, now = hands.tablet.keys, hands.clock.now()
    keys.set_pin("edwin", Role.FOREMAN, EDWINS, now=now)
    people = with_people((), keys.people(), AT)
    roster = make_roster("Quay Tile", without(people, "edwin", AT, "lost"), owners_key(), AT)
    good, changed = tmp_path / "roster.json", tmp_path / "changed.json"
    good.write_bytes(roster.to_bytes())
    changed.write_bytes(roster.to_bytes().replace(b"Quay", b"Cape"))
    with pytest.raises(RosterProblem):
        load_roster(changed)
    hands.go("roster")
    hands.wait(lambda: "No roster on this tablet" in hands.seen(), "the page")
    for file in (changed, good):
        monkeypatch.setattr("fieldassist.ui.screens.roster.choose_file", lambda *given, file=file: given[-1](file))
        hands.press("Bring in a roster")
        if file is changed:
            hands.wait(lambda: any(key.text == "Close" for key in hands.every_key()), "the refusal")
            hands.press("Close")
    hands.wait(lambda: "Take this roster" in hands.seen(), "what it is")
    assert roster.fingerprint in hands.seen()
    check(hands, "a roster, before it is taken")
    hands.press("Take this roster")
    assert kept_roster(hands.tablet.data, "work") is None
    pin(hands, EDWINS)
    hands.wait(lambda: "revoked 2026-03-17: lost" in hands.seen(), "the roster")
    assert roster_for(hands.tablet.data, "work").read_bytes() == good.read_bytes()
    check(hands, "the roster")


def test_each_key_of_a_roster_says_whether_it_signs_now(hands: Hands) -> None:
    keys, now = hands.tablet.keys, hands.clock.now()
    for name, digits in (("edwin", EDWINS), ("rosa", OWNERS)):
        keys.set_pin(name, Role.FOREMAN, digits, now=now)
    people = without(with_people((), keys.people(), AT, since=AT), "rosa", AT, "")
    roster = make_roster("Quay Tile", people, owners_key(), AT)
    keys.set_pin("otto", Role.INSTALLER, "314158", now=now)
    states = {line.name: line.state for line in roster_lines(roster, keys.people(), AT)}
    assert states == {"edwin": "signs", "rosa": "revoked", "otto": "not listed"}
    early = {line.name: line.state for line in roster_lines(roster, (), AT - timedelta(days=1))}
    assert early["edwin"] == "ended"


# --- a time stamp -------------------------------------------------------------------------------------------------


def test_a_request_is_carried_to_an_authority_and_its_answer_is_told_beside_the_countersignatures(
    sealed: Hands, tmp_path: Path
) -> None:
    hands, view = sealed, sealed.tablet.view
    assert view is not None
    log: list[Day] = []
    hands.tablet.ask(log.append)  # type: ignore[arg-type]
    hands.quiet()
    events, hashes, texts = (tuple(part) for part in (log[0].log.events, log[0].log.hashes, log[0].log.texts))
    stick = tmp_path / "stick"
    stick.mkdir()
    ask_for_stamp(view.path, stick, texts[-1], len(texts))
    [request] = stick.glob("*.tsq")
    take_in(view.path, Authority(tmp_path / "authority").answer(request), events, hashes)
    [stamp] = to_countersign(events, hashes, (), lying_beside(view.path, "stamp")).stamps
    assert (stamp.code, stamp.figures["events"]) == ("countersign-stamp", str(len(events)))


# --- a key that is carried to another tablet -----------------------------------------------------------------------


def test_a_key_goes_by_file_and_six_words_and_opens_with_the_pin_that_it_had(
    hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keys, now = hands.tablet.keys, hands.clock.now()
    made = keys.set_pin("edwin", Role.FOREMAN, EDWINS, now=now)
    monkeypatch.setattr("fieldassist.ui.carrying.choose_folder", lambda _tablet, then: then(tmp_path))
    monkeypatch.setattr("fieldassist.ui.carrying.choose_file", lambda *given: given[-1](tmp_path / "edwin.key"))
    hands.go("crew", person="edwin")
    hands.press("Carry it")
    pin(hands, EDWINS)
    hands.wait(lambda: "Six words" in hands.seen(), "the words")
    check(hands, "six words")
    six = [line.split()[1] for line in hands.seen().splitlines() if line[:1].isdigit() and line[1:3] == "  "]
    assert len(six) == 6
    hands.press("They are written down")
    assert not any(" ".join(six) in repr(kept) for kept in (hands.tablet.memory, hands.tablet.reports))
    keys.forget("edwin")
    hands.go("crew")
    for words, refused in ((["apple", *six[1:]][:5], True), (six, False)):
        hands.press("Take a key in")
        [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
        field.text = " ".join(words)
        hands.press("Take it")
        if refused:
            hands.wait(lambda: any(key.text == "Close" for key in hands.every_key()), "the refusal")
            hands.press("Close")
            hands.tablet.close_sheet()
    hands.wait(lambda: "as on the other tablet" in hands.seen(), "the PIN")
    pin(hands, EDWINS)
    hands.wait(keys.people, "the key")
    assert keys.people()[0].public_key == made.public_key
