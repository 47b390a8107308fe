"""The day is sealed with the signer's PIN: in one go with the signature, by nobody else, and part by part."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import AddendumOpened, ClockRanOut, DaySealed, DaySigned, Event, PinRefused
from fieldassist.checklist.plan import Role
from fieldassist.record.keys import FREE_TRIES, Keyring, SigningKey
from fieldassist.record.seal import check_seals, unsealed_after
from fieldassist.report.enclosures import CannotWrite
from fieldassist.trade.message import Message, message
from tests.conftest import Crew

pytestmark = pytest.mark.usefixtures("cheap_hash")
PIN, WRONG = "271828", "314159"
STROKES = (((100, 500), (300, 200)),)


@pytest.fixture
def keys(tmp_path: Path, crew: Crew) -> Keyring:
    found = Keyring(tmp_path / "people")
    found.set_pin("edwin", Role.FOREMAN, PIN, now=crew.day.clock.now())
    return found


def ready(crew: Crew) -> None:
    crew.open_shower()
    crew.say("this is edwin")


def last(crew: Crew, count: int) -> list[Event]:
    return crew.day.log.events[-count:]


def test_signature_and_seal_reach_the_disk_together(crew: Crew, keys: Keyring, monkeypatch: pytest.MonkeyPatch) -> None:
    ready(crew)
    batches = []
    append = crew.day.log.append
    monkeypatch.setattr(crew.day.log, "append", lambda events: batches.append(len(events)) or append(events))
    answer = crew.day.sign(keys, PIN, strokes=STROKES, accept_open=True)
    assert answer.taken
    assert answer.say == message("day-signed-and-sealed", part=0, key=keys.people()[0].fingerprint)
    assert batches == [4], "what was called in the signer's name is confirmed with it, and the lots are revealed"
    signed, sealed = (e.body for e in last(crew, 2))
    assert isinstance(signed, DaySigned)
    assert signed.strokes == STROKES
    assert isinstance(sealed, DaySealed)
    assert sealed.public_key == keys.people()[0].public_key
    assert unsealed_after(crew.day.log.events, crew.day.log.hashes) == 0
    assert crew.day.prompt.say == message("prompt-signed", part=0, name="edwin", sealed=True)
    assert not crew.day.sign(keys, PIN).taken


def test_the_pages_are_made_with_the_open_key_when_the_seal_is_on_disk(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    seen: list[tuple[str, bool]] = []
    answer = crew.day.sign(
        keys, PIN, accept_open=True, pages=lambda key: seen.append((key.public_key, crew.day.state.sealed))
    )
    assert answer.taken
    assert seen == [(keys.people()[0].public_key, True)]


@pytest.mark.parametrize(
    ("problem", "code"),
    [
        (CannotWrite(message("report-cannot-write", file="day.signed.pdf", why="full")), "report-cannot-write"),
        (ValueError("not enough values to unpack"), "day-pages-fault"),
    ],
)
def test_a_day_whose_pages_cannot_be_made_is_sealed_all_the_same_and_says_so(
    crew: Crew, keys: Keyring, problem: Exception, code: str
) -> None:
    def full(_key: SigningKey) -> None:
        raise problem

    ready(crew)
    answer = crew.day.sign(keys, PIN, accept_open=True, pages=full)
    assert (answer.taken, crew.day.state.sealed) == (True, True)
    assert isinstance(answer.say, Message)
    assert answer.say.code == "day-sealed-without-pages"
    why = answer.say.figures["why"]
    assert isinstance(why, Message)
    assert why.code == code


def test_a_day_signed_by_voice_is_sealed_by_whoever_signed_it(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    crew.say("sign off with open points")
    assert crew.day.prompt.say == message("prompt-signed", part=0, name="edwin", sealed=False)
    refused = crew.day.sign(keys, WRONG)
    assert not refused.taken
    assert isinstance(last(crew, 1)[0].body, DaySigned), "nothing may come between a signature and its seal"
    assert crew.day.sign(keys, PIN).taken
    assert [check.good for check in check_seals(crew.day.log.events, crew.day.log.hashes)] == [True]


def test_a_wrong_pin_signs_nothing_and_is_recorded(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    for left in range(FREE_TRIES - 1, -1, -1):
        assert not crew.day.sign(keys, WRONG, accept_open=True).taken
        body = last(crew, 1)[0].body
        assert isinstance(body, PinRefused)
        assert (body.name, body.attempts_left) == ("edwin", left)
        assert bool(body.locked_until) is (left == 0)
    assert not crew.day.sign(keys, PIN, accept_open=True).taken, "the right PIN too has to wait now"
    assert not crew.day.state.signed
    crew.clock.advance(1.01)
    assert crew.day.sign(keys, PIN, accept_open=True).taken


def test_who_has_no_pin_or_may_not_sign_is_told_so(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    crew.say("this is rosa")
    assert crew.day.sign(keys, PIN, accept_open=True).say.code == "engine-foreman-signs"
    keys.forget("edwin")
    crew.say("this is edwin")
    assert "has no PIN on this tablet" in crew.day.words(crew.day.sign(keys, PIN, accept_open=True).say)
    assert not crew.day.state.signed


def test_open_points_are_named_before_a_pin_is_asked_of_them(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    assert crew.day.sign(keys, WRONG).say.code == "engine-open-points"
    assert not [e for e in crew.day.log.events if isinstance(e.body, PinRefused)]


def test_each_addendum_is_sealed_in_its_turn_and_the_sealed_part_stays(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    crew.day.sign(keys, PIN, accept_open=True)
    before = list(crew.day.log.texts)
    crew.day.do(cmd.OpenAddendum(reason="a lift was forgotten"))
    crew.day.do(cmd.Correct(target=5, text="it was the other wall"))
    # The addendum, its new lots and the correction.
    assert unsealed_after(crew.day.log.events, crew.day.log.hashes) == 3
    assert crew.day.sign(keys, PIN, accept_open=True).say.figures["part"] == 1
    assert crew.day.log.texts[: len(before)] == before
    checks = check_seals(crew.day.log.events, crew.day.log.hashes)
    assert [(check.part, check.good, check.warning) for check in checks] == [(0, True, None), (1, True, None)]
    assert sum(isinstance(e.body, AddendumOpened) for e in crew.day.log.events) == 1


def test_no_secret_lies_in_the_day(crew: Crew, keys: Keyring) -> None:
    ready(crew)
    keys.set_pin("edwin", Role.FOREMAN, "60221023", now=crew.day.clock.now(), old=PIN)
    crew.day.sign(keys, "66260701", accept_open=True)
    crew.day.sign(keys, "60221023", accept_open=True)
    crew.day.close()
    for path in crew.day.log.path.parent.iterdir():
        if path.is_file():
            assert b"60221023" not in path.read_bytes(), path
            assert b"66260701" not in path.read_bytes(), path


def test_nobody_signs_what_ran_out_unseen_before_it_was_told(crew: Crew, keys: Keyring) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "this is edwin")
    # The tablet was off over the open time, and whoever signs would accept a failure that nobody has told.
    crew.clock.advance(30)
    answer = crew.day.sign(keys, PIN, accept_open=True)
    assert (answer.taken, answer.alarm) == (False, True)
    assert crew.events(ClockRanOut)
    assert not crew.events(DaySigned)
    assert crew.day.sign(keys, PIN, accept_open=True).taken
