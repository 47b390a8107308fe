"""Who answers for a day's pages, from its facts."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import AddendumFact, DayFacts, SealFact, SignatureFact
from fieldassist.language import Words
from fieldassist.report.answering_model import Answering
from fieldassist.report.build.dates import time_told
from fieldassist.report.build.figures import person
from fieldassist.report.build.states import last_seal, seal_of, signature_of
from fieldassist.report.grid import in_fours
from fieldassist.trade.message import Figure, Message, Several, message

HEAD_DIGITS = 24  # of 64, beside which a copy is compared


def answering(facts: DayFacts, words: Words) -> Answering:
    """Who signed and sealed the day and its addenda, the key to compare, and the code of date, head and key."""
    # The last good seal is the one that vouches for what stands on the pages now.
    seal = last_seal(facts) or seal_of(facts, 0)
    key = "" if seal is None else in_fours(seal.key)
    head = in_fours(facts.head[:HEAD_DIGITS])
    return Answering(
        title=words(message("front-answers-title")),
        told=words(Several(tuple(_told(facts, seal)), "sentences")),
        alarms=tuple(words(one) for one in _alarms(facts)),
        key=key,
        about=words(message("front-answers-code", key="yes" if key else "no")),
        code=words(message("front-code", date=facts.date, head=head, key=key or "none")),
    )


def _told(facts: DayFacts, seal: SealFact | None) -> Iterator[Message]:
    """Who signed, what was added or changed after that and who signed for it, and whose key it is."""
    signed = signature_of(facts, 0)
    if signed is None:
        return
    yield Message("front-answers-signed", {**_signed(facts, signed), "finger": "yes" if signed.strokes else "no"})
    closed = [(one.number, again) for one in facts.addenda if (again := signature_of(facts, one.number)) is not None]
    if closed:
        number, again = closed[-1]
        yield message("front-answers-addenda", number=number, count=len(closed), **_signed(facts, again))
    if seal is not None:
        part = seal.part if facts.addenda else 0
        yield message("front-answers-key", good="yes" if seal.good else "no", part=part, name=person(seal.name))


def _signed(facts: DayFacts, signed: SignatureFact) -> dict[str, Figure]:
    return {
        "name": person(signed.name),
        "role": message("page-role", role=signed.role),
        "at": time_told(signed.at, facts.date),
        "open": len(signed.open_points),
    }


def _alarms(facts: DayFacts) -> Iterator[Message]:
    """What is missing, or does not fit."""
    signed, seal = signature_of(facts, 0), seal_of(facts, 0)
    if signed is None:
        yield message("front-answers-nobody")
    elif seal is None:
        yield message("front-answers-not-sealed")
    for one in facts.seals:
        if not one.good:
            yield message("front-answers-unfit", part=one.part, why="" if one.why is None else one.why.text)
        elif one.warning is not None:
            yield message("front-answers-warning", warning=one.warning.text)
    wrong = sum(not pin.good for pin in facts.pins)
    if wrong:
        yield message("front-answers-pins", count=wrong)
    bare = [one for one in facts.addenda if seal_of(facts, one.number) is None]
    for addendum in bare:
        yield message("front-answers-addendum", number=addendum.number, signed=_is_signed(facts, addendum))
    if facts.unsealed and seal is not None and seal.good and not bare:
        yield message("front-answers-later", count=facts.unsealed)


def _is_signed(facts: DayFacts, addendum: AddendumFact) -> str:
    return "no" if signature_of(facts, addendum.number) is None else "yes"
