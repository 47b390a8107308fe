"""From a recording to what became of it: recognizer, phrases and engine in one line, for every caller alike."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from fieldassist.checklist.commands import AcknowledgeCaution, Ask, Command, GiveReading, Keep, Withdraw
from fieldassist.checklist.events import ReadingCalled
from fieldassist.checklist.kinds.reading import as_read, read_as
from fieldassist.checklist.moment import TYPED, Source
from fieldassist.checklist.offers import NO, YES, Offer
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Pending
from fieldassist.day.session import Answer, Day, Doubt
from fieldassist.trade.message import Figure, Message, Refused, Several, holds, message
from fieldassist.trade.quantities import convert
from fieldassist.voice.audio import Clip, frames, is_silent, without_silence
from fieldassist.voice.dialogue import CLOSE_RIVAL, Signs, read_back, read_back_name
from fieldassist.voice.phrases import NotUnderstood, Taken, Unclear, recognizer_phrases, understand
from fieldassist.voice.recognizer import Alternative, Heard, Recognizer

# In nats, as `Heard.foreign`. Where nobody pressed anything to be heard a command needs more: the demo's commands of
# two words and more lie at -8 and below, noise included, and talk that passes for one mostly lies above this.
OPEN_MICROPHONE_LIMIT = -2.0
_ATTENTION_WEIGHT = 12  # as of a phrase that may be said now
CALL = message("ear-call-alone")
SAY_AGAIN = message("ear-say-again")


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

    words: as the recognizer wrote them; command: what they mean, or None; why: why there is none, None with a command.
    choices: what ambiguous words could mean; rivals: other values of the reading, or the words of other commands that
    the sequence would take now, that were heard almost as well; source: by voice (model, confidence) or typed.
    """

    words: str
    command: Command | None = None
    value: str = ""
    why: Message | None = None
    choices: tuple[Taken, ...] = ()
    rivals: tuple[Figure, ...] = ()
    addressed: bool = True
    foreign: float | None = None
    source: Source = TYPED


@dataclass(frozen=True, slots=True)
class Reply:
    """What was heard and what came of it. `spoken`: what is said back."""

    fate: Fate
    catch: Catch
    spoken: Figure | None
    answer: Answer | None = None


def catch(recognizer: Recognizer, clip: Clip, offers: Sequence[Offer], *, attention: str | None = None) -> Catch:
    """Hear a recording against what may be said now; with an attention phrase, only what begins with it counts."""
    if is_silent(clip):
        return Catch("", why=message("ear-silence"), addressed=False)
    phrases = recognizer_phrases(offers, recognizer.knows)
    if attention is not None:
        check_attention(attention, recognizer.knows)
        phrases = with_attention(phrases, attention)
    heard = recognizer.hear(frames(without_silence(clip)), phrases)
    return interpret(heard, offers) if attention is None else interpret_called(heard, offers, attention)


class NoAttention(Refused):
    """The attention phrase cannot be used; `told` says why and what to do."""


def check_attention(attention: str, knows: Callable[[str], bool]) -> None:
    """NoAttention when the model cannot hear the phrase, or when it would be heard in any talk."""
    words = attention.split()
    unknown = tuple(w for w in words if not knows(w))
    if unknown:
        raise NoAttention(message("ear-attention-unknown", phrase=attention, words=Several(unknown)))
    if len(words) < 2:
        raise NoAttention(message("ear-attention-one-word", phrase=attention))


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
        return interpret(after, offers) if after.text else Catch(heard.text, why=CALL, foreign=heard.foreign)
    why = message("ear-no-call") if after is None else message("ear-sounds-like-call")
    return Catch(heard.text, why=why, addressed=False, foreign=heard.foreign)


def interpret(heard: Heard, offers: Sequence[Offer]) -> Catch:
    """The first alternative that is one of the phrases; the runtime grammar may mix phrases, so not always the best."""
    words = heard.text
    if not heard.alternatives:
        return Catch("", why=message("ear-no-words"), addressed=False, foreign=heard.foreign)
    if not heard.addressed():
        return Catch(words, why=message("ear-talk"), addressed=False, foreign=heard.foreign)
    unclear: Unclear | None = None
    for alternative in heard.alternatives:
        meaning = understand(alternative.text, offers)
        if (
            isinstance(meaning, Taken)
            and isinstance(meaning.command, Keep)
            and alternative is not heard.alternatives[0]
        ):
            # What a yes keeps cannot be asked about again, so it must be the best hearing, not the first that parses.
            return Catch(words, why=message("ear-no-clear-yes"), foreign=heard.foreign)
        if isinstance(meaning, Taken):
            rivals = _rivals(heard, alternative, meaning, offers)
            return Catch(
                alternative.text,
                meaning.command,
                meaning.value,
                rivals=rivals,
                foreign=heard.foreign,
                source=_source(heard, alternative),
            )
        if isinstance(meaning, Unclear) and unclear is None:
            unclear = meaning
    if unclear is not None:
        return Catch(unclear.text, why=_could_be(unclear), choices=unclear.choices, foreign=heard.foreign)
    return Catch(words, why=message("ear-none-of-the-phrases"), foreign=heard.foreign)


def _could_be(unclear: Unclear) -> Message:
    return message("ear-could-be", values=Several(tuple(_value_of(c.command, c.value) for c in unclear.choices), "or"))


def _value_of(command: Command, written: str) -> Figure:
    """The value of a reading as a figure; what was written where it is a name."""
    if isinstance(command, GiveReading) and command.label is None:
        return as_read(command.value, command.unit)
    return written


def _source(heard: Heard, chosen: Alternative) -> Source:
    """How well the words were heard: by how much the engine held them likelier than the next ones."""
    others = [other.score for other in heard.alternatives if other is not chosen]
    lead = round(chosen.score - max(others), 2) if others else None
    return Source(how="spoken", model=heard.model, confidence=lead, words=chosen.text[:500])


def _rivals(heard: Heard, chosen: Alternative, meaning: Taken, offers: Sequence[Offer]) -> tuple[Figure, ...]:
    """What else was heard almost as well: other values of the same reading, or other commands that are due."""
    found: dict[Figure, None] = {}
    due = [offer for offer in offers if offer.now]
    for other in heard.alternatives:
        if other is chosen or chosen.score - other.score >= CLOSE_RIVAL:
            continue
        if isinstance(meaning.command, GiveReading):
            rival = understand(other.text, offers)
            if isinstance(rival, Taken) and _other_value(meaning.command, rival.command):
                found[_value_of(rival.command, rival.value)] = None
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
    source = Source(how="typed", words=text[:500])
    if isinstance(meaning, Taken):
        return Catch(text, meaning.command, meaning.value, source=source)
    if isinstance(meaning, Unclear):
        return Catch(text, why=_could_be(meaning), choices=meaning.choices, source=source)
    assert isinstance(meaning, NotUnderstood)
    return Catch(text, why=message("ear-none-of-the-phrases"), source=source)


def act(day: Day, caught: Catch, *, open_microphone: bool = False) -> Reply:
    """Carry out what was caught. What was not addressed to the tablet changes nothing.

    open_microphone: nobody pressed anything to be heard, so words that are no phrase are talk, and are not answered.
    """
    if open_microphone and _doubtful(caught):
        return Reply(Fate.IGNORED, replace(caught, command=None, why=message("ear-near-other-talk")), None)
    if caught.command is None:
        return _not_understood(day, caught, open_microphone)
    command = caught.command
    if caught.rivals and not isinstance(command, GiveReading | Ask):
        if not (day.prompt.waits_for_yes and isinstance(command, Keep | Withdraw)):
            day.doubtful = Doubt(command, caught.words, caught.source)
        why = message("ear-heard-almost-as-well", words=caught.rivals[0])
        return Reply(Fate.ASKED, replace(caught, command=None, why=why), day.prompt.say)
    meant = settle(day, command, caught.source)
    if meant is None:
        return Reply(Fate.TAKEN, replace(caught, command=None), SAY_AGAIN)
    answer = day.do(*meant)
    said = spoken_answer(day, answer, caught.rivals)
    return Reply(Fate.TAKEN if answer.taken else Fate.REFUSED, caught, said, answer)


def _not_understood(day: Day, caught: Catch, open_microphone: bool) -> Reply:
    if not caught.addressed or (open_microphone and not caught.choices):
        return Reply(Fate.IGNORED, caught, None)
    if caught.choices:
        values = tuple(_value_of(c.command, c.value) for c in caught.choices)
        return Reply(Fate.ASKED, caught, message("ear-did-you-mean", values=Several(values, "or")))
    if day.prompt.waits_for_yes:
        said = message("ear-yes-or-no", question=day.prompt.say, yes=YES[1], no=NO[1])
        return Reply(Fate.ASKED, caught, said)
    hints = tuple(message("prompt-quoted", phrase=hint) for hint in day.prompt.hints[:4])
    return Reply(Fate.ASKED, caught, message("ear-you-can-say", hints=Several(hints)))


def settle(day: Day, command: Command, source: Source) -> tuple[Command, Source] | None:
    """What a command means where it was asked whether another was said: a yes is that one, a no is nothing (None).

    source: how the command came; what a yes means came as it was heard at first.
    """
    doubt, day.doubtful = day.doubtful, None
    if doubt is not None and isinstance(command, Withdraw):
        return None
    return (doubt.command, doubt.source) if doubt is not None and isinstance(command, Keep) else (command, source)


def _doubtful(caught: Catch) -> bool:
    """Whether other talk explains the words almost as well. One-word answers are short, and only answer a question."""
    if isinstance(caught.command, Keep | Withdraw | AcknowledgeCaution):
        return False
    return caught.command is not None and caught.foreign is not None and caught.foreign > OPEN_MICROPHONE_LIMIT


def spoken_answer(day: Day, answer: Answer, rivals: tuple[Figure, ...] = ()) -> Figure:
    """The answer, and what is asked next; a reading is read back, digit by digit where it matters."""
    called = [e.body for e in answer.events if isinstance(e.body, ReadingCalled)]
    pending = day.state.pending
    if called and pending is not None:
        area = day.state.areas[pending.area]
        step = area.checklist.step(pending.task.section, pending.task.step)
        was = area.reading_of(pending.corrects) if pending.corrects is not None else None
        if pending.label is not None:
            told = read_back_name(step.name, pending.label).told
        else:
            held = was.judged if was is not None else None
            criterion = area.criterion(step) if was is None else held.criterion if held is not None else None
            fails = criterion.judge(pending.value, pending.unit).finding if criterion else None
            last = _last_readings(day, pending) if was is None else []
            told = read_back(step.name, pending.value, pending.unit, Signs(fails=fails, rivals=rivals, last=last)).told
        return told if was is None else Several((message("readback-in-place-of", was=read_as(was)), told), "sentences")
    following = answer.then.say
    # An answer that changed nothing was a question: it says what it was asked and no more.
    if not answer.taken or not answer.events or holds(answer.say, following):
        return answer.say
    return Several((answer.say, following), "sentences")


def _last_readings(day: Day, pending: Pending) -> list[float]:
    """Earlier kept readings of the same step in the same area, oldest first, in the unit of the one that waits."""
    earlier = standing(day.log.events).readings_of(pending.area, pending.task.step)
    return [convert(reading.body.value, reading.body.unit, pending.unit) for reading in earlier]
