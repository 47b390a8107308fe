"""Who answers for a day's pages, from its facts."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import DayFacts, SealFact, SignatureFact
from fieldassist.language import Words
from fieldassist.report.answering_model import Answering
from fieldassist.report.build.dates import time_told
from fieldassist.report.build.figures import person
from fieldassist.report.build.states import seal_of, signature_of
from fieldassist.report.grid import in_fours
from fieldassist.trade.message import Figure, Message, message

HEAD_DIGITS = 24  # of 64, beside which a copy is compared


def answering(facts: DayFacts, words: Words) -> Answering:
    """Who signed and sealed the day, the key to compare, and the code of date, head and key."""
    signed = signature_of(facts, 0)
    seal = seal_of(facts, 0)
    told = "" if signed is None else words(_signed(facts, signed, seal))
    key = "" if seal is None else in_fours(seal.key)
    head = in_fours(facts.head[:HEAD_DIGITS])
    return Answering(
        title=words(message("front-answers-title")),
        told=told,
        alarms=tuple(words(one) for one in _alarms(facts, signed, seal)),
        key=key,
        about=words(message("front-answers-code", key="yes" if key else "no")),
        code=words(message("front-code", date=facts.date, head=head, key=key or "none")),
    )


def _signed(facts: DayFacts, signed: SignatureFact, seal: SealFact | None) -> Message:
    about: dict[str, Figure] = {
        "name": person(signed.name),
        "role": message("page-role", role=signed.role),
        "at": time_told(signed.at, facts.date),
        "open": len(signed.open_points),
        "seal": "none" if seal is None else "good" if seal.good else "unfit",
        "finger": "yes" if signed.strokes else "no",
    }
    return Message("front-answers-signed", about)


def _alarms(facts: DayFacts, signed: SignatureFact | None, seal: SealFact | None) -> Iterator[Message]:
    """What is missing, or does not fit."""
    if signed is None:
        yield message("front-answers-nobody")
    elif seal is None:
        yield message("front-answers-not-sealed")
    elif not seal.good:
        yield message("front-answers-unfit", why="" if seal.why is None else seal.why.text)
    elif seal.warning is not None:
        yield message("front-answers-warning", warning=seal.warning.text)
    wrong = sum(not pin.good for pin in facts.pins)
    if wrong:
        yield message("front-answers-pins", count=wrong)
    sealed = {one.part for one in facts.seals if one.good}
    standing = [one.number for one in facts.addenda if one.number not in sealed]
    for number in standing:
        yield message("front-answers-addendum", number=number)
    if facts.unsealed and seal is not None and seal.good and not standing:
        yield message("front-answers-later", count=facts.unsealed)
