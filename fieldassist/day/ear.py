"""From a recording to what became of it: recognizer, phrases and engine in one line, for every caller alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from fieldassist.checklist.commands import AcknowledgeCaution, Ask, Command, GiveReading, Keep, Withdraw
from fieldassist.checklist.events import ReadingCalled, ReadingKept, Withdrawn
from fieldassist.checklist.prompt import NO, YES, Offer, short
from fieldassist.checklist.state import Pending
from fieldassist.day.session import Answer, Day, Doubt
from fieldassist.trade.quantities import convert
from fieldassist.voice.audio import Clip, frames, is_silent, without_silence
from fieldassist.voice.dialogue import CLOSE_RIVAL, Signs, read_back, read_back_name
from fieldassist.voice.phrases import NotUnderstood, Taken, Unclear, recognizer_phrases, understand
from fieldassist.voice.readback import aloud
from fieldassist.voice.recognizer import Alternative, Heard, Recognizer

# In nats, as `Heard.foreign`. Where nobody pressed anything to be heard a command needs more: the demo's commands of
# two words and more lie at -8 and below, noise included, and talk that passes for one mostly lies above this.
OPEN_MICROPHONE_LIMIT = -2.0
_ATTENTION_WEIGHT = 12  # as of a phrase that may be said now
CALL = "the attention phrase alone"
SAY_AGAIN = "Say it again."


class Fate(StrEnum):
    """What became of an utterance."""

    TAKEN = "understood"
    REFUSED = "refused"
    ASKED = "asked back"
    IGNORED = "ignored"
    CALLED = "called"  # the attention phrase alone
    DICTATED = "dictated"  # a part of a note


@dataclass(frozen=True, slots=True)
class Catch:
    """What was heard in a recording, before any day sees it.

    words: as the recognizer wrote them; command: what they mean, or None; why: why there is none, "" with a command.
    choices: what ambiguous words could mean; rivals: other values of the reading, or the words of other commands that
    the sequence would take now, that were heard almost as well.
    """

    words: str
    command: Command | None
    value: str
    why: str
    choices: tuple[Taken, ...] = ()
    rivals: tuple[str, ...] = ()
    addressed: bool = True
    foreign: float | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was heard and what came of it. `spoken`: what is said back."""

    fate: Fate
    catch: Catch
    spoken: str
    answer: Answer | None = None


def catch(recognizer: Recognizer, clip: Clip, offers: Sequence[Offer], *, attention: str | None = None) -> Catch:
    """Hear a recording against what may be said now; with an attention phrase, only what begins with it counts."""
    if is_silent(clip):
        return Catch("", None, "", "silence: nothing was said", addressed=False)
    phrases = recognizer_phrases(offers, recognizer.knows)
    if attention is not None:
        check_attention(attention, recognizer.knows)
        phrases = with_attention(phrases, attention)
    heard = recognizer.hear(frames(without_silence(clip)), phrases)
    return interpret(heard, offers) if attention is None else interpret_called(heard, offers, attention)


class NoAttention(ValueError):
    """The attention phrase cannot be used; the text says why and what to do."""


def check_attention(attention: str, knows: Callable[[str], bool]) -> None:
    """NoAttention when the model cannot hear the phrase, or when it would be heard in any talk."""
    words = attention.split()
    unknown = [w for w in words if not knows(w)]
    if unknown or len(words) < 2:
        why = f"the speech model does not know {', '.join(unknown)}" if unknown else "one word is heard in any talk"
        raise NoAttention(f"'{attention}' cannot be the attention phrase: {why}. Choose two or more usual words.")


def called(heard: Heard, attention: str) -> Heard | None:
    """What was said after the attention phrase; None where it does not begin with it.

    >>> said = Heard((Alternative("field assist next tile", 9.0, ()), Alternative("next tile", 8.0, ())), 2.0)
    >>> called(said, "field assist").text, called(said, "tablet listen")
    ('next tile', None)
    """
    count = len(attention.split())
    # Only where the best alternative has it: a lower one would make a call out of any talk.
    if heard.text.split()[:count] != attention.split():
        return None
    rest = tuple(
        Alternative(" ".join(one.text.split()[count:]), one.score, one.words[count:])
        for one in heard.alternatives
        if one.text.split()[:count] == attention.split()
    )
    return replace(heard, alternatives=rest)


def with_attention(phrases: Sequence[str], attention: str) -> list[str]:
    """The phrases, and the attention phrase before each word that one begins with, and alone."""
    firsts = {p.split()[0]: p for p in reversed(phrases)}
    return [*phrases, *(f"{attention} {p}" for p in firsts.values()), *([attention] * _ATTENTION_WEIGHT)]


def interpret_called(heard: Heard, offers: Sequence[Offer], attention: str) -> Catch:
    """As `interpret`, but only what follows the attention phrase counts."""
    after = called(heard, attention)
    if after is not None and heard.addressed():
        return interpret(after, offers) if after.text else Catch(heard.text, None, "", CALL, foreign=heard.foreign)
    why = "it does not begin with the attention phrase" if after is None else "talk that only sounds like a call"
    return Catch(heard.text, None, "", why, addressed=False, foreign=heard.foreign)


def interpret(heard: Heard, offers: Sequence[Offer]) -> Catch:
    """The first alternative that is one of the phrases; the runtime grammar may mix phrases, so not always the best."""
    words = heard.text
    if not heard.alternatives:
        return Catch("", None, "", "no words were heard", addressed=False, foreign=heard.foreign)
    if not heard.addressed():
        return Catch(words, None, "", "talk that is not one of the phrases", addressed=False, foreign=heard.foreign)
    unclear: Unclear | None = None
    for alternative in heard.alternatives:
        meaning = understand(alternative.text, offers)
        if (
            isinstance(meaning, Taken)
            and isinstance(meaning.command, Keep)
            and alternative is not heard.alternatives[0]
        ):
            # What a yes keeps cannot be asked about again, so it must be the best hearing, not the first that parses.
            return Catch(words, None, "", "not clearly a yes", foreign=heard.foreign)
        if isinstance(meaning, Taken):
            rivals = _rivals(heard, alternative, meaning, offers)
            return Catch(alternative.text, meaning.command, meaning.value, "", rivals=rivals, foreign=heard.foreign)
        if isinstance(meaning, Unclear) and unclear is None:
            unclear = meaning
    if unclear is not None:
        values = " or ".join(c.value for c in unclear.choices)
        return Catch(unclear.text, None, "", f"it could be {values}", unclear.choices, foreign=heard.foreign)
    return Catch(words, None, "", "the words are none of the phrases", foreign=heard.foreign)


def _rivals(heard: Heard, chosen: Alternative, meaning: Taken, offers: Sequence[Offer]) -> tuple[str, ...]:
    """What else was heard almost as well: other values of the same reading, or other commands that are due."""
    found: dict[str, None] = {}
    due = [offer for offer in offers if offer.now]
    for other in heard.alternatives:
        if other is chosen or chosen.score - other.score >= CLOSE_RIVAL:
            continue
        if isinstance(meaning.command, GiveReading):
            rival = understand(other.text, offers)
            if isinstance(rival, Taken) and _other_value(meaning.command, rival.command):
                found[rival.value] = None
        else:
            rival = understand(other.text, due)
            if isinstance(rival, Taken) and rival.command != meaning.command:
                found[rival.text] = None
    return tuple(found)


def _other_value(reading: GiveReading, rival: Command) -> bool:
    return (
        isinstance(rival, GiveReading)
        and rival.step == reading.step
        and (rival.value, rival.unit, rival.label) != (reading.value, reading.unit, reading.label)
    )


def interpret_text(text: str, offers: Sequence[Offer]) -> Catch:
    """The same for typed words."""
    meaning = understand(text, offers)
    if isinstance(meaning, Taken):
        return Catch(text, meaning.command, meaning.value, "")
    if isinstance(meaning, Unclear):
        values = " or ".join(c.value for c in meaning.choices)
        return Catch(text, None, "", f"it could be {values}", meaning.choices)
    assert isinstance(meaning, NotUnderstood)
    return Catch(text, None, "", "the words are none of the phrases")


def act(day: Day, caught: Catch, *, open_microphone: bool = False) -> Outcome:
    """Carry out what was caught. What was not addressed to the tablet changes nothing.

    open_microphone: nobody pressed anything to be heard, so words that are no phrase are talk, and are not answered.
    """
    if open_microphone and _doubtful(caught):
        why = "too near to other talk for an open microphone"
        return Outcome(Fate.IGNORED, replace(caught, command=None, why=why), "")
    if caught.command is None:
        if not caught.addressed or (open_microphone and not caught.choices):
            return Outcome(Fate.IGNORED, caught, "")
        if caught.choices:
            options = ", or ".join(aloud(c.value) for c in caught.choices)
            return Outcome(Fate.ASKED, caught, f"Did you mean {options}? Say it with its unit.")
        if day.prompt.waits_for_yes:
            return Outcome(Fate.ASKED, caught, f"{aloud(day.prompt.say)} Say '{YES[1]}' or '{NO[1]}'.")
        hints = ", ".join(f"'{hint}'" for hint in day.prompt.hints[:4])
        return Outcome(Fate.ASKED, caught, f"I did not get that. You can say {hints}.")
    command = caught.command
    if caught.rivals and not isinstance(command, GiveReading | Ask):
        if not (day.prompt.waits_for_yes and isinstance(command, Keep | Withdraw)):
            day.doubtful = Doubt(command, caught.words)
        return Outcome(Fate.ASKED, replace(caught, command=None, why=_close(caught)), aloud(day.prompt.say))
    meant = settle(day, command)
    if meant is None:
        return Outcome(Fate.TAKEN, replace(caught, command=None), SAY_AGAIN)
    answer = day.do(meant)
    said = spoken_answer(day, answer, caught.rivals)
    return Outcome(Fate.TAKEN if answer.taken else Fate.REFUSED, caught, said, answer)


def settle(day: Day, command: Command) -> Command | None:
    """What a command means where it was asked whether another was said: a yes is that one, a no is nothing (None)."""
    doubt, day.doubtful = day.doubtful, None
    if doubt is not None and isinstance(command, Withdraw):
        return None
    return doubt.command if doubt is not None and isinstance(command, Keep) else command


def _close(caught: Catch) -> str:
    return f"'{caught.rivals[0]}' was heard almost as well"


def _doubtful(caught: Catch) -> bool:
    """Whether other talk explains the words almost as well. One-word answers are short, and only answer a question."""
    if isinstance(caught.command, Keep | Withdraw | AcknowledgeCaution):
        return False
    return caught.command is not None and caught.foreign is not None and caught.foreign > OPEN_MICROPHONE_LIMIT


def spoken_answer(day: Day, answer: Answer, rivals: tuple[str, ...] = ()) -> str:
    """The answer for the ear; a reading is read back in words, digit by digit where it matters."""
    called = [e.body for e in answer.events if isinstance(e.body, ReadingCalled)]
    pending = day.state.pending
    if called and pending is not None:
        area = day.state.areas[pending.area]
        step = area.checklist.step(pending.task.section, pending.task.step)
        if pending.label is not None:
            return read_back_name(short(step), pending.label).text
        criterion = area.criterion(step)
        fails = criterion.failure(pending.canonical, pending.unit) if criterion else None
        signs = Signs(fails=fails, rivals=rivals, last=_last_readings(day, pending))
        return read_back(short(step), pending.value, pending.unit, signs).text
    said = aloud(answer.say)
    if answer.taken and not _was_question(answer):
        following = answer.then.say
        if following and following not in answer.say:
            said = f"{said} {aloud(following)}".strip()
    return said


def _was_question(answer: Answer) -> bool:
    """An answer that changed nothing was a question: it says what it was asked and no more."""
    return not answer.events


def _last_readings(day: Day, pending: Pending) -> list[float]:
    """Earlier kept readings of the same step in the same area, oldest first, in the unit of the one that waits."""
    called: dict[int, ReadingCalled] = {}
    found = []
    withdrawn = {e.body.target for e in day.log.events if isinstance(e.body, Withdrawn)}
    for event in day.log.events:
        body = event.body
        if isinstance(body, ReadingCalled):
            called[event.seq] = body
        elif isinstance(body, ReadingKept) and event.seq not in withdrawn:
            earlier = called.get(body.target)
            if earlier and earlier.area == pending.area and earlier.step == pending.task.step:
                found.append(convert(earlier.value, earlier.unit, pending.unit))
    return found
