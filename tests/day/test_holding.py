"""A PIN in place of a word: releases and confirmations are signed by a key of the right person, role and day."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import (
    CommandRefused,
    DaySealed,
    DaySigned,
    Event,
    HoldReleased,
    KeyReplaced,
    LotsRevealed,
    PinRefused,
    ReleasesConfirmed,
    ReleaseStruck,
)
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayKind, DayPlan, Role
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.record.chain import GENESIS, canonical_text, chain_hash
from fieldassist.record.keys import FREE_TRIES, Keyring
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.record.seal import check_releases, check_seals
from fieldassist.trade.message import message
from tests.checklist.test_holds import OTTO, crewed
from tests.conftest import TO_THE_HOLD, Crew

pytestmark = pytest.mark.usefixtures("cheap_hash")
PIN, WRONG = "271828", "314159"


@pytest.fixture
def keys(tmp_path: Path, crew: Crew) -> Keyring:
    found = Keyring(tmp_path / "people")
    found.set_pin("edwin", Role.FOREMAN, PIN, now=crew.day.clock.now())
    return found


@pytest.fixture
def held(crew: Crew) -> Crew:
    """A crew at its first hold point; Rosa speaks."""
    crew.say(*TO_THE_HOLD)
    return crew


def checks(day: Day) -> list[tuple[int, str | None]]:
    """Each signature by PIN, and the code of why it is not good."""
    found = check_releases(day.log.events, day.log.hashes)
    return [(check.seq, check.why.code if check.why is not None else None) for check in found]


def seqs(day: Day, kind: type) -> list[int]:
    return [e.seq for e in day.log.events if isinstance(e.body, kind)]


def release_points(day: Day) -> list[str]:
    return [p.told.code for p in open_points(day.state) if p.told.code.startswith("open-release")]


def hashes_of(events: list[Event]) -> list[str]:
    """The chain that whoever forges a log makes to fit."""
    found: list[str] = []
    for event in events:
        found.append(chain_hash(canonical_text(event, found[-1] if found else GENESIS)))
    return found


# --- in place -----------------------------------------------------------------------------------------------------


def test_a_pin_releases_in_the_installers_turn_and_its_key_signs_that(held: Crew, keys: Keyring) -> None:
    day = held.day
    answer = day.release(keys, PIN, "edwin")
    assert answer.taken
    (seq,) = seqs(day, HoldReleased)
    event = day.log.events[seq - 1]
    assert (event.by, event.body.name, event.body.role, event.body.how) == ("edwin", "edwin", Role.FOREMAN, "pin")
    assert event.body.key == keys.people()[0].public_key
    assert day.state.speaker.name == "rosa"
    assert checks(day) == [(seq, None)]
    assert release_points(day) == []


def test_a_wrong_pin_releases_nothing_is_counted_and_recorded(held: Crew, keys: Keyring) -> None:
    for left in range(FREE_TRIES - 1, -1, -1):
        assert not held.day.release(keys, WRONG, "edwin").taken
        body = held.day.log.events[-1].body
        assert isinstance(body, PinRefused)
        assert (body.name, body.attempts_left, bool(body.locked_until)) == ("edwin", left, left == 0)
    assert not held.day.release(keys, PIN, "edwin").taken, "the right PIN too has to wait now"
    held.clock.advance(1.01)
    assert held.day.release(keys, PIN, "edwin").taken
    assert len(seqs(held.day, HoldReleased)) == 1


def test_without_a_hold_point_at_hand_no_pin_is_tried(crew: Crew, keys: Keyring) -> None:
    crew.say("this is rosa", "start area shower wall")
    assert crew.day.release(keys, WRONG, "edwin").say.code == "day-no-hold"
    crew.say("understood", "understood")
    assert not seqs(crew.day, PinRefused)


def test_who_may_not_release_is_refused_before_a_pin_is_tried(held: Crew, keys: Keyring) -> None:
    keys.set_pin("rosa", Role.INSTALLER, PIN, now=held.day.clock.now())
    assert held.day.release(keys, WRONG, "rosa").say.code == "engine-may-not-release"
    assert isinstance(held.day.log.events[-1].body, CommandRefused)
    assert held.day.release(keys, PIN, "rosa").say.code == "engine-may-not-release"
    assert not seqs(held.day, HoldReleased)


def test_a_key_made_for_an_installer_releases_confirms_and_seals_nothing_as_foreman(held: Crew, keys: Keyring) -> None:
    keys.reset("edwin", Role.INSTALLER, PIN, now=held.day.clock.now())
    day, why = held.day, message("day-key-of-other-role", name="edwin", made="installer", role="foreman")
    assert day.release(keys, PIN, "edwin").say == why
    held.say("base released by edwin")
    assert day.confirm(keys, PIN, "edwin").say == why
    held.say("this is edwin")
    assert day.sign(keys, PIN, accept_open=True).say == why
    assert not [e for e in day.log.events if isinstance(e.body, ReleasesConfirmed | DaySigned | DaySealed)]


def test_a_deputy_releases_with_the_own_key_and_confirms_what_was_called_in_the_own_name(
    tmp_path: Path, crew: Crew, keys: Keyring, checklists: dict[str, Checklist]
) -> None:
    plan = crewed(crew.day.state.plan, OTTO)
    keys.set_pin("otto", Role.INSTALLER, PIN, now=crew.day.clock.now())
    for how in ("pin", "called"):
        with Day.begin(tmp_path / f"{how}.db", plan, checklists, crew.clock) as day:
            other = Crew(day, crew.clock)
            other.say(*TO_THE_HOLD)
            if how == "pin":
                assert day.release(keys, PIN, "otto").taken
            else:
                other.say("base released by otto")
                assert release_points(day) == ["open-release-called"]
                assert day.confirm(keys, PIN, "edwin").say.code == "engine-nothing-called", "it is not his word"
                assert day.confirm(keys, PIN, "otto").taken
            (body,) = [e.body for e in day.log.events if isinstance(e.body, HoldReleased)]
            assert (body.name, body.role, body.deputy_for, body.how) == ("otto", Role.INSTALLER, "edwin", how)
            assert release_points(day) == []
            assert [why for _, why in checks(day)] == [None]


@pytest.mark.parametrize("kind", ["work", "practice", "rehearsal"])
def test_real_keys_sign_work_and_practice_keys_sign_what_is_none(
    tmp_path: Path, plan: DayPlan, checklists: dict[str, Checklist], clock: SimulatedClock, kind: DayKind
) -> None:
    real, practice = Keyring(tmp_path / "people"), Keyring(tmp_path / "practice", practice=True)
    for ring in (real, practice):
        ring.set_pin("edwin", Role.FOREMAN, PIN, now=clock.now())
    wrong, right = (practice, real) if kind == "work" else (real, practice)
    why = message("record-seal-practice-key" if kind == "work" else "record-seal-real-key", name="edwin")
    with Day.begin(tmp_path / "kind.db", plan, checklists, clock, kind=kind) as day:
        other = Crew(day, clock)
        other.say(*TO_THE_HOLD)
        assert day.release(wrong, PIN, "edwin").say == why
        assert day.release(right, PIN, "edwin").taken
        other.say("this is edwin")
        assert day.sign(wrong, PIN, accept_open=True).say == why
        assert day.sign(right, PIN, accept_open=True).taken
        assert len(seqs(day, DaySealed)) == 1


# --- at sign-off --------------------------------------------------------------------------------------------------


def test_one_pin_confirms_signs_and_seals_and_all_reaches_the_disk_together(
    held: Crew, keys: Keyring, monkeypatch: pytest.MonkeyPatch
) -> None:
    held.say("base released by edwin", "this is edwin")
    batches = []
    append = held.day.log.append
    monkeypatch.setattr(held.day.log, "append", lambda events: batches.append(len(events)) or append(events))
    assert held.day.sign(keys, PIN, accept_open=True).taken
    assert batches == [4]
    kinds = [type(e.body) for e in held.day.log.events[-4:]]
    assert kinds == [ReleasesConfirmed, LotsRevealed, DaySigned, DaySealed]
    assert release_points(held.day) == []
    assert [why for _, why in checks(held.day)] == [None]
    assert [check.good for check in check_seals(held.day.log.events, held.day.log.hashes)] == [True]


def test_each_release_can_be_struck_out_and_the_pin_confirms_the_rest(held: Crew, keys: Keyring) -> None:
    held.say("base released by edwin")
    held.mix()
    held.set_tile()
    held.lift(percent="seventy")
    held.say("scraped clean", "both sides", "method released by edwin", "this is edwin")
    first, second = seqs(held.day, HoldReleased)
    assert held.day.sign(keys, PIN, accept_open=True, strike=(second,)).taken
    (confirmed,) = [e.body for e in held.day.log.events if isinstance(e.body, ReleasesConfirmed)]
    (struck,) = [e.body for e in held.day.log.events if isinstance(e.body, ReleaseStruck)]
    assert (confirmed.releases, struck.release, struck.name) == ((first,), second, "edwin")
    (signed,) = [e.body for e in held.day.log.events if isinstance(e.body, DaySigned)]
    (point,) = [p for p in signed.open_points if p.code.startswith("open-release")]
    assert (point.code, point.figures["release"]) == ("open-release-struck", str(second))


def test_two_foremen_answer_each_for_what_was_called_in_the_own_name(
    tmp_path: Path, crew: Crew, keys: Keyring, checklists: dict[str, Checklist]
) -> None:
    plan = crewed(crew.day.state.plan, {"name": "ruth", "role": "foreman"})
    keys.set_pin("ruth", Role.FOREMAN, WRONG, now=crew.day.clock.now())
    with Day.begin(tmp_path / "two.db", plan, checklists, crew.clock) as day:
        other = Crew(day, crew.clock)
        other.say(*TO_THE_HOLD, "base released by ruth", "this is edwin")
        assert day.sign(keys, PIN).say.code == "engine-open-points"
        assert day.sign(keys, PIN, accept_open=True).taken
        assert not seqs(day, ReleasesConfirmed)
        assert release_points(day) == ["open-release-called"]
        day.do(cmd.OpenAddendum(reason="ruth was away"))
        assert not day.confirm(keys, PIN, "ruth").taken, "his PIN is not hers"
        assert day.confirm(keys, WRONG, "ruth").taken
        assert release_points(day) == []
        assert day.sign(keys, PIN, accept_open=True).taken
        assert [check.good for check in check_seals(day.log.events, day.log.hashes)] == [True, True]
        assert [
            (why, check.warning)
            for (_, why), check in zip(checks(day), check_releases(day.log.events, day.log.hashes), strict=True)
        ] == [(None, None)]


def test_the_pin_that_seals_a_day_signed_by_voice_confirms_nothing(held: Crew, keys: Keyring) -> None:
    held.say("base released by edwin", "this is edwin", "sign off with open points")
    assert held.day.sign(keys, PIN).taken
    assert not seqs(held.day, ReleasesConfirmed)
    assert release_points(held.day) == ["open-release-called"]
    assert [check.good for check in check_seals(held.day.log.events, held.day.log.hashes)] == [True]
    held.day.do(cmd.OpenAddendum(reason="the releases"))
    assert held.day.sign(keys, PIN, accept_open=True).taken
    assert release_points(held.day) == [], "the addendum's PIN does"


def test_a_crash_between_leaves_all_of_a_signature_or_nothing(
    held: Crew, keys: Keyring, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    held.say("base released by edwin", "this is edwin")
    before = len(held.day.log.events)

    def fails(_events: object) -> None:
        raise LogProblem(message("record-only-looked-at"))

    with monkeypatch.context() as broken:
        broken.setattr(held.day.log, "append", fails)
        with pytest.raises(LogProblem):
            held.day.sign(keys, PIN, accept_open=True)
    assert release_points(held.day) == ["open-release-called"], "what is not on disk has not happened"
    with DayLog.open(tmp_path / "day.db", read_only=True) as log:
        assert len(log.events) == before
    assert held.day.sign(keys, PIN, accept_open=True).taken


# --- what an inspector checks -------------------------------------------------------------------------------------


def test_a_release_by_a_renewed_key_says_that_it_is_one_once_a_day(held: Crew, keys: Keyring) -> None:
    (old,) = keys.people()
    new = keys.reset("edwin", Role.FOREMAN, "60221023", now=held.day.clock.now())
    assert held.day.release(keys, "60221023", "edwin").taken
    held.say("this is edwin")
    assert held.day.sign(keys, "60221023", accept_open=True).taken
    (noted,) = [e.body for e in held.day.log.events if isinstance(e.body, KeyReplaced)]
    assert (noted.name, noted.key, noted.before) == ("edwin", new.public_key, old.public_key)
    assert [why for _, why in checks(held.day)] == [None]


def test_a_key_that_changes_within_a_day_is_warned_of(held: Crew, keys: Keyring) -> None:
    held.day.release(keys, PIN, "edwin")
    keys.reset("edwin", Role.FOREMAN, "60221023", now=held.day.clock.now())
    held.say("this is edwin")
    held.day.sign(keys, "60221023", accept_open=True)
    (check,) = check_releases(held.day.log.events, held.day.log.hashes)
    assert check.good
    assert check.warning.code == "record-release-another-key"


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"name": "rosa"}, "record-release-role"),
        ({"name": "otto", "role": Role.INSTALLER, "deputy_for": "edwin"}, "record-release-deputy"),
        ({"role": Role.OWNER}, "record-release-role"),
        ({"key": "ab" * 32}, "record-release-signature"),
        ({"key": "", "signature": ""}, "record-release-signature"),
        ({"key": f"{1:064x}"}, "record-release-signature"),
        ({"signature": "cd" * 64}, "record-release-signature"),
        ({"step": "another"}, "record-release-signature"),
    ],
)
def test_a_forged_release_by_pin_is_found_though_the_chain_fits(
    held: Crew, keys: Keyring, change: dict[str, object], code: str
) -> None:
    held.day.release(keys, PIN, "edwin")
    (seq,) = seqs(held.day, HoldReleased)
    events = list(held.day.log.events)
    events[seq - 1] = events[seq - 1].model_copy(update={"body": events[seq - 1].body.model_copy(update=change)})
    (check,) = check_releases(events, hashes_of(events))
    assert check.why is not None
    assert check.why.code == code


def test_a_release_does_not_fit_where_the_events_before_it_were_changed(held: Crew, keys: Keyring) -> None:
    held.day.release(keys, PIN, "edwin")
    events = list(held.day.log.events)
    events[2] = events[2].model_copy(update={"by": "otto"})
    (check,) = check_releases(events, hashes_of(events))
    assert check.why == message("record-release-signature")


def test_a_confirmation_of_what_was_never_called_is_found(held: Crew, keys: Keyring) -> None:
    held.say("base released by edwin")
    held.day.confirm(keys, PIN, "edwin")
    (seq,) = seqs(held.day, ReleasesConfirmed)
    events = list(held.day.log.events)
    body = events[seq - 1].body.model_copy(update={"releases": (2,)})
    events[seq - 1] = events[seq - 1].model_copy(update={"body": body})
    (check,) = check_releases(events, hashes_of(events))
    assert check.why == message("record-release-not-called", event="2", name="edwin")
