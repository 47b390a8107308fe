"""A PIN is given by its own person, changed with the old one, made anew under the eyes of a foreman or owner."""

from __future__ import annotations

import dataclasses

import pytest

from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import changed
from fieldassist.record.keys import WrongPin
from fieldassist.ui.content.pins import vouchers
from tests.ui.conftest import Hands

PIN, NEW, ROSAS = "271828", "161803", "141421"


def pin(hands: Hands, digits: str) -> None:
    for digit in digits:
        hands.press(digit)
    hands.press("That is it")
    hands.frames()


def test_a_pin_is_given_and_changed_with_the_old_one_and_the_key_stays(hands: Hands) -> None:
    keys, now = hands.tablet.keys, hands.clock.now()
    hands.go("crew")
    assert hands.seen().count("no PIN yet") == 3
    hands.go("crew", person="edwin")
    hands.press("Give a PIN")
    pin(hands, "123456")
    assert "count up or down are guessed first" in hands.seen()
    pin(hands, PIN)
    pin(hands, NEW)
    assert "The two are not the same" in hands.seen()
    pin(hands, PIN)
    hands.wait(lambda: keys.people(), "the key")
    hands.wait(lambda: keys.people()[0].fingerprint.split()[0] in hands.seen(), "its fingerprint")
    [edwin] = keys.people()
    assert (edwin.name, edwin.role) == ("edwin", Role.FOREMAN)
    hands.press("Change the PIN")
    for digits in (NEW, NEW, NEW):
        pin(hands, digits)
    hands.wait(lambda: "4 tries are left" in hands.seen(), "the refusal of the wrong old one")
    hands.press("Close")
    hands.press("Change the PIN")
    for digits in (PIN, NEW, NEW):
        pin(hands, digits)
    hands.wait(lambda: _opens(hands, "edwin", NEW), "the new PIN")
    assert keys.people()[0].public_key == keys.unlock("edwin", NEW, now).public_key == edwin.public_key
    assert not any(digits in repr(hands.tablet.memory) for digits in (PIN, NEW))


def _opens(hands: Hands, name: str, digits: str) -> bool:
    try:
        hands.tablet.keys.unlock(name, digits, hands.clock.now())
    except WrongPin:
        return False
    return True


def test_a_forgotten_pin_makes_a_new_key_and_the_old_one_signs_no_more(hands: Hands) -> None:
    keys = hands.tablet.keys
    made = keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.go("crew", person="edwin")
    hands.press("Forgotten")
    assert "a new key" in hands.seen()
    hands.press("Make a new key")
    pin(hands, NEW)
    pin(hands, NEW)
    hands.wait(lambda: keys.people()[0].public_key != made.public_key, "the new key")
    assert keys.people()[0].replaces == made.public_key
    with pytest.raises(WrongPin):
        keys.unlock("edwin", PIN, hands.clock.now())


def test_once_a_foreman_has_a_pin_whoever_gets_one_needs_it_too(hands: Hands) -> None:
    keys = hands.tablet.keys
    keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.go("crew", person="rosa")
    hands.press("Give a PIN")
    assert "Edwin stands for Rosa" in hands.seen()
    pin(hands, NEW)
    hands.wait(lambda: "tries are left" in hands.seen(), "the refusal")
    assert len(keys.people()) == 1
    pin(hands, PIN)
    hands.wait(lambda: "New PIN of Rosa" in hands.seen(), "the question")
    pin(hands, ROSAS)
    pin(hands, ROSAS)
    hands.wait(lambda: len(keys.people()) == 2, "the key")
    assert {one.name: one.role for one in keys.people()}["rosa"] is Role.INSTALLER


def test_nobody_vouches_for_themselves_and_with_the_old_pin_nobody_needs_to(hands: Hands) -> None:
    keys = hands.tablet.keys
    keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    keys.set_pin("rosa", Role.INSTALLER, ROSAS, now=hands.clock.now())
    people = keys.people()
    assert vouchers(people, "rosa", "reset") == vouchers(people, "otto", "give") == ("edwin",)
    assert vouchers(people, "edwin", "reset") == vouchers(people, "rosa", "change") == ()


def test_a_key_made_for_another_role_is_said_to_sign_nothing_here(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.INSTALLER, PIN, now=hands.clock.now())
    hands.go("crew")
    assert "Edwin is foreman here, and the key was made for an installer" in hands.seen()
    hands.go("crew", person="edwin")
    hands.press("Forgotten")
    hands.press("Make a new key")
    pin(hands, NEW)
    pin(hands, NEW)
    hands.wait(lambda: hands.tablet.keys.people()[0].role is Role.FOREMAN, "the new key")
    hands.go("crew")
    assert "the key was made for" not in hands.seen()


def test_the_people_of_a_practice_day_are_others_than_those_who_sign_work(hands: Hands) -> None:
    work = hands.tablet.keys
    work.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    view = hands.tablet.view
    assert view is not None
    hands.tablet.view = dataclasses.replace(view, state=changed(view.state, kind="practice"))
    assert hands.tablet.keys.people() == ()
    assert hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now()).practice
    assert not work.people()[0].practice
