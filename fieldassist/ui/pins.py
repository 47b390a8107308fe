"""PINs asked for in place, on any page: one that opens a key, a new one given twice, and somebody's first."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from fieldassist.record.keys import KeyHolder, KeyProblem, KeyRole, LockedOut, SigningKey, WrongPin, check_pin
from fieldassist.trade.message import Message, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.pins import vouchers
from fieldassist.ui.tablet import Tablet

TellPin = Callable[[str | None], None]


def not_taken(tablet: Tablet, name: str, problem: Exception) -> str:
    """Why a PIN was not taken."""
    words = tablet.words
    if isinstance(problem, WrongPin):
        return words(message("person-pin-wrong", name=name, left=problem.attempts_left))
    if isinstance(problem, LockedOut):
        after = problem.until + timedelta(minutes=1)
        return words(message("person-pin-locked", name=name, at=f"{after:%H:%M}"))
    return words.of(problem)


def with_key(tablet: Tablet, name: str, question: Message, then: Callable[[SigningKey], None]) -> None:
    """Ask for somebody's PIN. then: called with their key once the sheet is closed; it is kept nowhere."""
    keys, now = tablet.keys, tablet.clock.now()

    def given(pin: str, tell: TellPin) -> None:
        def opened(key: SigningKey) -> None:
            tell(None)
            then(key)

        run_in_background(
            lambda: keys.unlock(name, pin, now), opened, lambda problem: tell(not_taken(tablet, name, problem))
        )

    tablet.ask_pin(tablet.words(question), given)


def choose_pin(tablet: Tablet, name: str, then: Callable[[str, TellPin], None]) -> None:
    """Ask for a new PIN, twice; one that is guessed first is refused at once, with the reason.

    then: called with it, and with what is to be told: None closes the sheet.
    """
    words = tablet.words

    def chosen(pin: str, tell: TellPin) -> None:
        try:
            check_pin(pin)
        except KeyProblem as problem:
            tell(words.of(problem))
            return
        tell(None)

        def again(second: str, tell: TellPin) -> None:
            if second != pin:
                tell(words(message("person-pin-differs")))
                return
            then(pin, tell)

        tablet.ask_pin(words(message("person-pin-again", name=name)), again, new=True)

    tablet.ask_pin(words(message("person-pin-new", name=name)), chosen, new=True)


def vouched_for(tablet: Tablet, name: str, then: Callable[[], None]) -> None:
    """Ask for the PIN of somebody who stands for a person who gets one; where nobody can, go on at once."""
    who = vouchers(tablet.keys.people(), name, "give")
    if who:
        with_key(tablet, who[0], message("person-pin-vouch", name=who[0], whose=name), lambda _key: then())
    else:
        then()


def first_pin(tablet: Tablet, name: str, role: KeyRole, then: Callable[[], None]) -> None:
    """A person's first PIN, and the key with it. then: called once it is kept and the sheet is closed."""
    keys, now = tablet.keys, tablet.clock.now()

    def keep(pin: str, tell: TellPin) -> None:
        def kept(_holder: KeyHolder) -> None:
            tell(None)
            then()

        def failed(problem: Exception) -> None:
            tell(tablet.words.of(problem))

        run_in_background(lambda: keys.set_pin(name, role, pin, now=now), kept, failed)

    vouched_for(tablet, name, lambda: choose_pin(tablet, name, keep))
