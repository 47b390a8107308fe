"""Measure 4: readings spoken, read back and answered through a real day, and what the log keeps."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from random import Random
from statistics import median
from typing import Any

from fieldassist.checklist.commands import GiveReading, Keep, Withdraw
from fieldassist.checklist.events import ReadingCalled, ReadingKept
from fieldassist.checklist.moment import SPOKEN
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.state import Pending
from fieldassist.day.ear import Catch, Fate, act, catch
from fieldassist.day.session import Day
from fieldassist.language import numbers
from fieldassist.voice.phrases import Taken, understand
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.sentences import Sentences
from tests.bench.voice.base import AGAIN, Bench, Row
from tests.bench.voice.rivals import SphinxEars
from tests.bench.voice.situations import Moment, draw, readings
from tests.bench.voice.speech import CLEAN, PINK_10, SAW_10, Condition
from tests.bench.voice.throats import CannotSpeak


class Remembering:
    """A recognizer that keeps what it heard last.

    knowing: called with each sentence that is about to be spoken.
    """

    def __init__(self, ears: Recognizer, knowing: Callable[[str], None] | None = None) -> None:
        self._ears = ears
        self.knowing = knowing
        self.last: Heard | None = None

    def hear(self, frames: Iterable[bytes], said: Sentences | None) -> Heard:
        """As the recognizer."""
        self.last = self._ears.hear(frames, said)
        return self.last

    def listen(self, frames: Iterable[bytes], said_now: Callable[[], Sentences | None]) -> Iterator[Heard]:
        """As the recognizer."""
        return self._ears.listen(frames, said_now)

    def knows(self, word: str) -> bool:
        """As the recognizer."""
        return self._ears.knows(word)


@dataclass
class Exchange:
    """A reading, from its first word to its end. All but `kept` are counts."""

    noisy: bool
    kept: str = "given up"  # or "right", or "wrong"
    tries: int = 0
    right_read_back: int = 0
    wrong_read_back: int = 0
    wrong_by_digits: int = 0
    right_by_digits: int = 0
    answers_misheard: int = 0
    other_done: int = 0
    right_unquestioned: int = 0
    wrong_unquestioned: int = 0
    kept_by_next: int = 0
    told: list[str] = field(default_factory=list)  # what was said, in what noise, and what was heard


@dataclass
class _Talked:
    """What came of some readings, spoken to one recognizer. gaps: whether right, and nats to the best rival value."""

    exchanges: list[Exchange] = field(default_factory=list)
    gaps: list[tuple[bool, float]] = field(default_factory=list)
    wrong: list[list[Any]] = field(default_factory=list)

    def counts(self) -> Row:
        exchanges = self.exchanges
        return {
            "readings": len(exchanges),
            "silent wrong": _kept(exchanges, "wrong"),
            "right": _kept(exchanges, "right"),
            "given up": _kept(exchanges, "given up"),
            "right at the first try": sum(e.kept == "right" and e.tries == 1 for e in exchanges),
            "wrong read back": sum(e.wrong_read_back for e in exchanges),
            "of them digit by digit": sum(e.wrong_by_digits for e in exchanges),
            "right read back": sum(e.right_read_back for e in exchanges),
            "of those digit by digit": sum(e.right_by_digits for e in exchanges),
            "answers misheard": sum(e.answers_misheard for e in exchanges),
            "other commands done": sum(e.other_done for e in exchanges),
            "right unquestioned": sum(e.right_unquestioned for e in exchanges),
            "wrong unquestioned": sum(e.wrong_unquestioned for e in exchanges),
            "kept by the next phrase": sum(e.kept_by_next for e in exchanges),
        }


def dialogue(bench: Bench) -> Row:
    """Readings spoken, read back and answered: what was kept in the end, and the gaps to the best rival value."""
    found, beside, rival_found = _Talked(), _Talked(), _Talked()
    asked = readings(bench.moments, bench.size.readings, Random(4))
    for_rival = Random(9).sample(range(len(asked)), min(len(asked), bench.size.rival_readings)) if bench.rival else []
    for place, (moment, meant) in enumerate(asked):
        # The steps take turns, so the noise changes once a round of them.
        turn = place // 12
        condition = CLEAN if turn % 2 == 0 else (PINK_10, SAW_10)[turn // 2 % 2]
        before = len(found.exchanges)
        _have(bench, Remembering(bench.ears), moment, meant, condition, place, found)
        if bench.rival is not None and place in for_rival and len(found.exchanges) > before:
            beside.exchanges.append(found.exchanges[-1])
            ears = SphinxEars(bench.rival)
            _have(bench, Remembering(ears, ears.include), moment, meant, condition, place, rival_found)
        if place % 50 == 49:
            bench.tell(f"readings: {place + 1} of {len(asked)}, silent wrong {_kept(found.exchanges, 'wrong')}")
    exchanges = found.exchanges
    return {
        **found.counts(),
        "by noise": {
            name: {kept: sum(e.kept == kept and e.noisy == noisy for e in exchanges) for kept in _ENDS}
            for name, noisy in (("clean", False), ("10 dB", True))
        },
        "gaps": _gap_table(found.gaps),
        "silent wrong ones": [e.told for e in exchanges if e.kept == "wrong"],
        "wrong ones": found.wrong,
        "ours beside rival": beside.counts(),
        "rival": rival_found.counts(),
        "rival's silent wrong ones": [e.told for e in rival_found.exchanges if e.kept == "wrong"],
    }


def _have(
    bench: Bench, told: Remembering, moment: Moment, meant: Taken, condition: Condition, place: int, into: _Talked
) -> None:
    voice = bench.voices[place % len(bench.voices)]
    with moment.opened(bench.folder) as day:
        try:
            exchange = _exchange(bench, told, day, voice, meant, condition, place, into)
        except CannotSpeak:
            return
    into.exchanges.append(exchange)
    if exchange.kept == "wrong":
        bench.tell(f"kept wrong: {'; '.join(exchange.told)}")


_ENDS = ("right", "wrong", "given up")
_TRIES = 4
# As a person answers who is not understood: the tablet then names the longer wordings.
_YES = ("yes", "yes keep it", "yes keep it", "yes keep it")
_NO = ("no", "scratch that", "scratch that", "scratch that")


def _kept(exchanges: Sequence[Exchange], how: str) -> int:
    return sum(e.kept == how for e in exchanges)


def _exchange(
    bench: Bench,
    told: Remembering,
    day: Day,
    voice: str,
    meant: Taken,
    condition: Condition,
    seed: int,
    into: _Talked,
) -> Exchange:
    assert isinstance(meant.command, GiveReading)
    exchange = Exchange(noisy=condition is not CLEAN)
    first_new = len(day.log.events)
    said, spoken = 0, set[str]()

    def speak(words: str) -> Catch:
        nonlocal said
        speed = AGAIN if words in spoken else 1.0
        spoken.add(words)
        clip = bench.speech.recording(voice, words, condition, 1000 * seed + said, speed)
        said += 1
        if told.knowing is not None:
            told.knowing(words)
        caught = catch(told, clip, day.prompt.offers, day.trial(SPOKEN))
        foreign = "" if caught.foreign is None else f" ({caught.foreign:.1f})"
        exchange.told.append(f"{voice}, {condition.name}: {words!r} heard as {caught.words!r}{foreign} {caught.why}")
        return caught

    while exchange.tries < _TRIES:
        exchange.tries += 1
        offers = day.prompt.offers
        caught = speak(meant.text)
        if isinstance(caught.command, GiveReading) and told.last is not None:
            into.gaps.append((caught.command == meant.command, _gap(told.last, caught, offers)))
        outcome = act(day, caught)
        pending = _called_since(day, first_new)
        if pending is None:
            if outcome.fate is Fate.TAKEN and outcome.answer is not None and outcome.answer.events:
                exchange.other_done += 1
                into.wrong.append([voice, condition.name, meant.text, caught.words, "other command done"])
                break  # the person at the wall sees another step asked for
            continue
        right = _said(pending) == _said(meant.command)
        told_aloud = "" if outcome.spoken is None else day.words.aloud(outcome.spoken)
        digits = numbers.digits(pending.value) in told_aloud
        exchange.right_read_back += right
        exchange.wrong_read_back += not right
        exchange.right_by_digits += right and digits
        exchange.wrong_by_digits += not right and digits
        exchange.right_unquestioned += right and pending.unquestioned
        exchange.wrong_unquestioned += not right and pending.unquestioned
        if not right:
            how = "unquestioned" if pending.unquestioned else "digit by digit" if digits else "read back"
            into.wrong.append([voice, condition.name, meant.text, caught.words, how])
        for words in _answers(day, meant.command, right=right, random=Random(seed)):
            answer = act(day, speak(words))
            if all(one.seq != pending.seq for one in day.state.waiting):
                kept = _is_kept(day, pending.seq)
                exchange.answers_misheard += kept is not right
                break
            exchange.answers_misheard += answer.fate is not Fate.TAKEN
        else:
            break  # the person taps the answer
        if _ended(day, first_new, meant.command) != "given up":
            break
    exchange.kept_by_next = sum(
        isinstance(e.body, ReadingKept) and e.body.kept == "next phrase" and e.body.target > first_new
        for e in day.log.events[first_new:]
    )
    exchange.kept = _ended(day, first_new, meant.command)
    return exchange


def _answers(day: Day, meant: GiveReading, *, right: bool, random: Random) -> Sequence[str]:
    """What whoever spoke says to what was read back: as long as it is not understood one after the other.

    A right value that waits for no yes is gone on with, in words that the sequence takes next. A wrong one is noticed.
    """
    pending = day.state.pending
    if not right:
        return _NO
    if pending is None or not pending.unquestioned:
        return _YES
    on = [offer for offer in day.prompt.answers if not isinstance(offer.command, Keep | Withdraw) and offer.phrases]
    on = [offer for offer in on if getattr(offer.command, "step", None) != meant.step]
    plain = [offer for offer in on if offer.slot is None] or on
    said = draw(plain, day.prompt.offers, random, 1)
    return [said[0].text] * _TRIES if said else _YES


def _called_since(day: Day, first_new: int) -> Pending | None:
    """What waits of what was said since then, beside what waited before."""
    return next((one for one in day.state.waiting if one.seq > first_new), None)


def _is_kept(day: Day, called: int) -> bool:
    return any(isinstance(event.body, ReadingKept) and event.body.target == called for event in day.log.events)


def _ended(day: Day, first_new: int, meant: GiveReading) -> str:
    """What the log holds in the end, whatever was said and answered; what waited before is kept by the next phrase."""
    new = day.log.events[first_new:]
    called = {e.seq: e.body for e in new if isinstance(e.body, ReadingCalled)}
    kept = [e.body.target for e in new if isinstance(e.body, ReadingKept) and e.body.target in called]
    if not kept:
        return "given up"
    # The next phrase may be a reading too: it waits, or another value of this one has taken its place.
    values = [(_said(called[target]), called[target].step) for target in kept]
    return "right" if values == [(_said(meant), meant.step)] else "wrong"


def _said(reading: GiveReading | Pending | ReadingCalled) -> tuple[object, ...]:
    """What was read: a value, or a name, which has none."""
    return (reading.value, reading.unit) if reading.label is None else (reading.label,)


def _gap(heard: Heard, caught: Catch, offers: Sequence[Offer]) -> float:
    """How much better [nats] the chosen value was heard than the best other one of the same step; inf without one."""
    chosen = next((a for a in heard.alternatives if a.text == caught.words), None)
    if chosen is None:
        return math.inf
    best = -math.inf
    for other in heard.alternatives:
        meaning = understand(other.text, offers)
        if (
            isinstance(meaning, Taken)
            and isinstance(meaning.command, GiveReading)
            and isinstance(caught.command, GiveReading)
            and meaning.command.step == caught.command.step
            and meaning.command != caught.command
        ):
            best = max(best, other.score)
    return chosen.score - best


LIMITS = (0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0)


def _gap_table(gaps: Sequence[tuple[bool, float]]) -> Row:
    right = [gap for is_right, gap in gaps if is_right]
    wrong = [gap for is_right, gap in gaps if not is_right]
    return {
        "right": len(right),
        "wrong": len(wrong),
        "median right": median(right) if right else None,
        "median wrong": median(wrong) if wrong else None,
        "limits": [
            {
                "limit": limit,
                "wrong flagged": sum(g < limit for g in wrong),
                "right flagged": sum(g < limit for g in right),
            }
            for limit in LIMITS
        ],
        "wrong without a rival": sum(math.isinf(g) for g in wrong),
        "right without a rival": sum(math.isinf(g) for g in right),
    }
