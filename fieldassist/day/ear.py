"""From a recording to what became of it: recognizer, phrases and engine in one line, for every caller alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import ReadingCalled
from fieldassist.checklist.prompt import Offer, short
from fieldassist.day.session import Answer, Day
from fieldassist.voice.audio import Clip, frames, is_silent
from fieldassist.voice.phrases import NotUnderstood, Taken, Unclear, recognizer_phrases, understand
from fieldassist.voice.readback import aloud, read_back
from fieldassist.voice.recognizer import Heard, Recognizer


class Fate(StrEnum):
    """What became of an utterance."""

    TAKEN = "understood"
    REFUSED = "refused"
    ASKED = "asked back"
    IGNORED = "ignored"


@dataclass(frozen=True, slots=True)
class Catch:
    """What was heard in a recording, before any day sees it.

    words: as the recognizer wrote them; command: what they mean, or None; why: why there is none, "" with a command.
    """

    words: str
    command: Command | None
    value: str
    why: str
    choices: tuple[Taken, ...] = ()
    addressed: bool = True
    foreign: float | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was heard and what came of it. `spoken`: what is said back."""

    fate: Fate
    catch: Catch
    spoken: str
    answer: Answer | None = None
    alarms: tuple[Answer, ...] = field(default=())


def catch(recognizer: Recognizer, clip: Clip, offers: Sequence[Offer]) -> Catch:
    """Hear a recording against what may be said now."""
    if is_silent(clip):
        return Catch("", None, "", "silence: nothing was said", addressed=False)
    heard = recognizer.hear(frames(clip), recognizer_phrases(offers, recognizer.knows))
    return interpret(heard, offers)


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
        if isinstance(meaning, Taken):
            return Catch(alternative.text, meaning.command, meaning.value, "", foreign=heard.foreign)
        if isinstance(meaning, Unclear) and unclear is None:
            unclear = meaning
    if unclear is not None:
        values = " or ".join(c.value for c in unclear.choices)
        return Catch(unclear.text, None, "", f"it could be {values}", unclear.choices, foreign=heard.foreign)
    return Catch(words, None, "", "the words are none of the phrases", foreign=heard.foreign)


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


def act(day: Day, caught: Catch) -> Outcome:
    """Carry out what was caught. What was not addressed to the tablet changes nothing."""
    if caught.command is None:
        if not caught.addressed:
            return Outcome(Fate.IGNORED, caught, "")
        if caught.choices:
            options = ", or ".join(aloud(c.value) for c in caught.choices)
            return Outcome(Fate.ASKED, caught, f"Did you mean {options}? Say it with its unit.")
        hints = ", ".join(f"'{hint}'" for hint in day.prompt.hints[:4])
        return Outcome(Fate.ASKED, caught, f"I did not get that. You can say {hints}.")
    answer = day.do(caught.command)
    return Outcome(Fate.TAKEN if answer.taken else Fate.REFUSED, caught, spoken_answer(day, answer), answer)


def spoken_answer(day: Day, answer: Answer) -> str:
    """The answer for the ear; a reading is read back in words, digit by digit where it matters."""
    called = [e.body for e in answer.events if isinstance(e.body, ReadingCalled)]
    pending = day.state.pending
    if called and pending is not None:
        area = day.state.areas[pending.area]
        step = area.checklist.step(pending.task.section, pending.task.step)
        criterion = area.criterion(step)
        finding = criterion.failure(pending.canonical, pending.unit) if criterion else None
        return read_back(short(step), pending.value, pending.unit, label=pending.label, finding=finding)
    said = aloud(answer.say)
    if answer.taken and not _was_question(answer):
        following = answer.then.say
        if following and following not in answer.say:
            said = f"{said} {aloud(following)}".strip()
    return said


def _was_question(answer: Answer) -> bool:
    """An answer that changed nothing was a question: it says what it was asked and no more."""
    return not answer.events
