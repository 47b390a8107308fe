"""From a recording to what became of it: recognizer, phrases and engine in one line, for every caller alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from fieldassist.checklist.ahead import ahead
from fieldassist.checklist.commands import AcknowledgeCaution, Ask, Command, GiveReading, Keep, Withdraw
from fieldassist.checklist.events import ChoiceCalled, ReadingCalled
from fieldassist.checklist.kinds import Choice
from fieldassist.checklist.kinds.lift import ConfirmLift
from fieldassist.checklist.kinds.reading import as_read, asked_back, last_readings, read_as
from fieldassist.checklist.moment import TYPED, Source
from fieldassist.checklist.offers import NO, YES, Offer
from fieldassist.checklist.state import Pending, State
from fieldassist.day.chain import Chained, DayOnTrial, Stop, read
from fieldassist.day.rejection import Ruling, Where, kind_of, ruling
from fieldassist.day.session import Answer, Day, Doubt
from fieldassist.trade.message import Figure, Message, Refused, Several, Spelled, holds, message
from fieldassist.voice.audio import Clip, frames, is_silent, without_silence
from fieldassist.voice.dialogue import (
    CLOSE_RIVAL,
    CalledAnswer,
    NameSigns,
    Signs,
    almost_as_well,
    has_letter,
    letter_unheard,
    name_read,
    read_back,
    read_back_name,
    read_back_together,
)
from fieldassist.voice.phrases import (
    NotUnderstood,
    Taken,
    Unclear,
    Understood,
    is_number_alone,
    understand,
)
from fieldassist.voice.recognizer import Alternative, Heard, Recognizer, foreignness
from fieldassist.voice.sentences import sentences

# What is said behind these is written down, so that they are never begun in doubt.
_DICTATES = ("note", "answer")
CALL = message("ear-call-alone")
SAY_AGAIN = message("ear-say-again")
LETTER_UNHEARD = message("ear-letter-unheard")


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
    foreign: how much better other talk explains it; where it was said, and what comes of it there; addressed: False
    where nothing was said to the tablet.
    Of phrases that were called in one breath: chain, each with its words, the last of them refused where `stop` says
    so; stop, where it ends before its end; doubted, at which places of it other values were heard almost as well.
    """

    words: str
    command: Command | None = None
    value: str = ""
    why: Message | None = None
    choices: tuple[Taken, ...] = ()
    rivals: tuple[Figure, ...] = ()
    addressed: bool = True
    foreign: float | None = None
    where: Where = Where.HELD
    ruling: Ruling = Ruling.SURE
    source: Source = TYPED
    chain: tuple[Taken, ...] = ()
    stop: Stop | None = None
    doubted: Mapping[int, Figure] = field(default_factory=dict)

    @property
    def commands(self) -> tuple[Command, ...]:
        """What is to be carried out: one command, or those of a chain, or none."""
        return tuple(piece.command for piece in self.chain) or ((self.command,) if self.command is not None else ())

    @property
    def asked_about(self) -> bool:
        """Whether it is asked about before it is done: "did you say ...?". A reading is read back in any case, and a
        question does no harm."""
        if not self.chain and isinstance(self.command, GiveReading | Ask):
            return False
        return bool(self.commands) and (bool(self.rivals) or self.ruling is Ruling.UNSURE)


@dataclass(frozen=True, slots=True)
class Reply:
    """What was heard and what came of it. `spoken`: what is said back; near: what was dropped may have been meant."""

    fate: Fate
    catch: Catch
    spoken: Figure | None
    answer: Answer | None = None
    near: bool = False


def catch(
    recognizer: Recognizer,
    clip: Clip,
    offers: Sequence[Offer],
    trial: DayOnTrial | None = None,
    *,
    attention: str | None = None,
) -> Catch:
    """Hear a recording against what may be said now; with an attention phrase, only what begins with it counts.

    trial: the day on which phrases in one breath are tried, without which there are none.
    """
    if is_silent(clip):
        return Catch("", why=message("ear-silence"), addressed=False)
    if attention is not None:
        check_attention(attention, recognizer.knows)
    places = () if trial is None else ahead(trial.state, trial.now)
    said = sentences(offers, recognizer.knows, places, attention=attention or "")
    heard = recognizer.hear(frames(without_silence(clip)), said)
    if attention is None:
        return interpret(heard, offers, trial)
    return interpret_called(heard, offers, attention, trial)


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


def interpret_called(heard: Heard, offers: Sequence[Offer], attention: str, trial: DayOnTrial | None = None) -> Catch:
    """As `interpret`, but only what follows the attention phrase counts."""
    after = called(heard, attention)
    if after is None:
        return Catch(heard.text, why=message("ear-no-call"), addressed=False, foreign=heard.foreign)
    found = understood(after, offers, trial) if after.text else Catch("", why=CALL, foreign=heard.foreign)
    caught = sifted(found, Where.CALLED)
    if caught.ruling is Ruling.TALK:
        return replace(caught, words=heard.text, why=message("ear-sounds-like-call"), addressed=False)
    return caught if after.text else replace(caught, words=heard.text)


def interpret(
    heard: Heard, offers: Sequence[Offer], trial: DayOnTrial | None = None, *, where: Where = Where.HELD
) -> Catch:
    """What was heard, and what comes of it where it was said."""
    return sifted(understood(heard, offers, trial), where)


def sifted(caught: Catch, where: Where) -> Catch:
    """The same, held against the limits of where it was said: what is too near to other talk loses its command."""
    if not caught.words and not caught.commands and caught.why != CALL:
        return replace(caught, where=where)
    judged = ruling(caught.foreign, where, kind_of(caught.commands, caught.words))
    if judged is Ruling.UNSURE and any(isinstance(one, Ask) and one.about in _DICTATES for one in caught.commands):
        judged = Ruling.NEAR
    caught = replace(caught, where=where, ruling=judged)
    if judged in (Ruling.SURE, Ruling.UNSURE):
        return caught
    return replace(caught, command=None, value="", chain=(), stop=None, choices=(), rivals=(), why=message("ear-talk"))


def understood(heard: Heard, offers: Sequence[Offer], trial: DayOnTrial | None = None) -> Catch:
    """The first alternative that is a phrase, or several in one breath, however near it is to other talk.

    trial: the day on which phrases in one breath are tried, without which there are none.
    """
    words = heard.text
    if not heard.alternatives:
        return Catch("", why=message("ear-no-words"), addressed=False, foreign=heard.foreign)
    # What one alternative says up to a phrase that is refused, another may say to its end, heard almost as well.
    partly: Catch | None = None
    unclear: Unclear | None = None
    for alternative in heard.alternatives:
        if partly is not None and heard.alternatives[0].score - alternative.score >= CLOSE_RIVAL:
            break
        meaning = understand(alternative.text, offers)
        chain = _chain(alternative.text, meaning, offers, trial)
        commands = chain.commands if chain is not None else (meaning.command,) if isinstance(meaning, Taken) else ()
        if commands and isinstance(commands[0], Keep) and alternative is not heard.alternatives[0]:
            # What a yes keeps cannot be asked about again, so it must be the best hearing, not the first that parses.
            return Catch(words, why=message("ear-no-clear-yes"), foreign=heard.foreign)
        if chain is not None:
            whole = chain.stop is None
            if whole or (chain.stop is not None and chain.stop.known and partly is None):
                caught = _heard_chain(_heard_as(heard, alternative), alternative, chain, offers, trial)
                if whole:
                    return caught
                partly = caught
        elif isinstance(meaning, Taken):
            rivals = _rivals(heard, alternative, meaning, offers, trial)
            return Catch(
                alternative.text,
                meaning.command,
                meaning.value,
                rivals=rivals,
                foreign=_heard_as(heard, alternative).foreign,
                source=_source(heard, alternative),
            )
        if isinstance(meaning, Unclear) and unclear is None:
            unclear = meaning
    if partly is not None:
        return partly
    if unclear is not None:
        return Catch(unclear.text, why=_could_be(unclear), choices=unclear.choices, foreign=heard.foreign)
    return Catch(words, why=message("ear-none-of-the-phrases"), foreign=heard.foreign)


def _heard_as(heard: Heard, chosen: Alternative) -> Heard:
    """The same with how much better other talk explains it than this alternative does."""
    if heard.foreign is None:
        return heard
    best = heard.alternatives[0].score
    return replace(heard, foreign=foreignness(chosen.score, best, best + heard.foreign))


def _chain(words: str, meaning: Understood, offers: Sequence[Offer], trial: DayOnTrial | None) -> Chained | None:
    """The words as phrases in one breath, where they are not one phrase that is taken, or that could mean two values.

    What is one phrase, but refused, is a chain only where that goes to the end.
    """
    if trial is None or isinstance(meaning, Unclear):
        return None
    if isinstance(meaning, Taken) and trial.takes(meaning.command):
        return None
    chain = read(words, offers, trial)
    return None if chain is not None and chain.stop is not None and isinstance(meaning, Taken) else chain


def _heard_chain(
    heard: Heard, chosen: Alternative, chain: Chained, offers: Sequence[Offer], trial: DayOnTrial | None
) -> Catch:
    """Phrases in one breath, with what else was heard almost as well: other values in it, or other phrases."""
    rivals: dict[Figure, None] = {}
    doubted: dict[int, Figure] = {}
    for other in heard.alternatives:
        if other is chosen or not almost_as_well(chosen.text, other.text, chosen.score - other.score):
            continue
        said = _said_otherwise(other.text, offers, trial)
        if said is None or [piece.command for piece in said] == list(chain.commands):
            continue
        values = _values_differ(chain.commands, said)
        if values:
            doubted |= values
        else:
            rivals[other.text] = None
    return _as_catch(chosen.text, chain, _source(heard, chosen), heard.foreign, tuple(rivals), doubted)


def _said_otherwise(words: str, offers: Sequence[Offer], trial: DayOnTrial | None) -> tuple[Taken, ...] | None:
    """What the words mean where the sequence takes them now to their end: one phrase or several."""
    meaning = understand(words, [offer for offer in offers if offer.now])
    if isinstance(meaning, Taken):
        return (meaning,)
    chain = _chain(words, meaning, offers, trial)
    return chain.pieces if chain is not None and chain.stop is None else None


def _values_differ(commands: Sequence[Command], said: Sequence[Taken]) -> dict[int, Figure]:
    """The places at which only the values of readings differ, with the other value; none where more than that does."""
    if len(commands) != len(said):
        return {}
    found: dict[int, Figure] = {}
    for place, (command, other) in enumerate(zip(commands, said, strict=True)):
        if command == other.command:
            continue
        if not (isinstance(command, GiveReading) and _other_value(command, other.command)):
            return {}
        found[place] = _value_of(other.command, other.value)
    return found


def _as_catch(
    words: str,
    chain: Chained,
    source: Source,
    foreign: float | None = None,
    rivals: tuple[Figure, ...] = (),
    doubted: Mapping[int, Figure] | None = None,
) -> Catch:
    pieces = (*chain.pieces, *([chain.refused] if chain.refused is not None else []))
    if len(pieces) == 1 and (chain.stop is None or not chain.pieces):
        # Whoever sets was only named again before it, or already the first phrase is refused.
        value = (doubted or {}).get(0)
        others = rivals if value is None else (value,)
        return Catch(words, pieces[0].command, pieces[0].value, rivals=others, foreign=foreign, source=source)
    return Catch(
        words,
        why=None,
        rivals=rivals,
        foreign=foreign,
        source=source,
        chain=pieces,
        stop=chain.stop,
        doubted=doubted or {},
    )


def _could_be(unclear: Unclear) -> Message:
    return message("ear-could-be", values=Several(tuple(_value_of(c.command, c.value) for c in unclear.choices), "or"))


def _value_of(command: Command, written: str) -> Figure:
    """The value of a reading as a figure; a name as it is spelled, other words as they were written."""
    if isinstance(command, GiveReading):
        return as_read(command.value, command.unit) if command.label is None else Spelled(written)
    return Spelled(written) if isinstance(command, ConfirmLift) and written else written


def _source(heard: Heard, chosen: Alternative) -> Source:
    """How well the words were heard: by how much the engine held them likelier than the next ones."""
    others = [other.score for other in heard.alternatives if other is not chosen]
    lead = round(chosen.score - max(others), 2) if others else None
    return Source(how="spoken", model=heard.model, confidence=lead, words=chosen.text[:500])


def _rivals(
    heard: Heard, chosen: Alternative, meaning: Taken, offers: Sequence[Offer], trial: DayOnTrial | None
) -> tuple[Figure, ...]:
    """What else was heard almost as well: other values of the same reading, or other commands that are due."""
    found: dict[Figure, None] = {}
    for other in heard.alternatives:
        if other is chosen or not almost_as_well(chosen.text, other.text, chosen.score - other.score):
            continue
        if isinstance(meaning.command, GiveReading):
            rival = understand(other.text, offers)
            if isinstance(rival, Taken) and _other_value(meaning.command, rival.command):
                found[_value_of(rival.command, rival.value)] = None
        else:
            said = _said_otherwise(other.text, offers, trial)
            if said is not None and [piece.command for piece in said] != [meaning.command]:
                found[other.text] = None
    return tuple(found)


def _other_value(reading: GiveReading, rival: Command) -> bool:
    return (
        isinstance(rival, GiveReading)
        and rival.step == reading.step
        and (rival.value, rival.unit, rival.label) != (reading.value, reading.unit, reading.label)
    )


def interpret_text(text: str, offers: Sequence[Offer], trial: DayOnTrial | None = None) -> Catch:
    """The same for typed words; what is no phrase behind phrases ends the chain there."""
    meaning = understand(text, offers)
    source = Source(how="typed", words=text[:500])
    chain = _chain(text, meaning, offers, trial)
    if chain is not None and _meant_so_far(chain):
        return _as_catch(text, chain, source)
    if isinstance(meaning, Taken):
        return Catch(text, meaning.command, meaning.value, source=source)
    if isinstance(meaning, Unclear):
        return Catch(text, why=_could_be(meaning), choices=meaning.choices, source=source)
    assert isinstance(meaning, NotUnderstood)
    return Catch(text, why=message("ear-none-of-the-phrases"), source=source)


def _meant_so_far(chain: Chained) -> bool:
    """Whether what comes before words that are no phrase was meant: "no idea" is no "no"."""
    if chain.stop is None or chain.stop.known or chain.apart:
        return True
    return not isinstance(chain.commands[-1], Keep | Withdraw | AcknowledgeCaution)


def act(day: Day, caught: Catch) -> Reply:
    """Carry out what was caught. What was not addressed to the tablet changes nothing."""
    commands = caught.commands
    if not commands:
        return _not_understood(day, caught)
    named, unheard = _tile_named(day.state, caught)
    if unheard or caught.asked_about:
        said = isinstance(commands[0], Keep | Withdraw)
        if not ((day.prompt.waits_for_yes or day.state.pending is not None) and said):
            day.doubtful = Doubt(commands, caught.words, caught.source, named)
        if unheard:
            why = LETTER_UNHEARD
        elif caught.rivals:
            why = message("ear-heard-almost-as-well", words=caught.rivals[0])
        else:
            why = message("ear-near-other-talk")
        return Reply(Fate.ASKED, _nothing(caught, why), day.prompt.say)
    answer = carry_out(day, commands, caught.source, _in_doubt(caught))
    if answer is None:
        return Reply(Fate.TAKEN, replace(caught, command=None), SAY_AGAIN)
    if caught.chain:
        return _told_of_chain(day, caught, answer)
    return Reply(
        Fate.TAKEN if answer.taken else Fate.REFUSED, caught, spoken_answer(day, answer, caught.rivals), answer
    )


def _tile_named(state: State, caught: Catch) -> tuple[Figure | None, bool]:
    """The name that a heard lift gives its tile, as it is read back, and whether a letter before it may have gone
    unheard."""
    lift = next((one for one in caught.commands if isinstance(one, ConfirmLift) and one.label is not None), None)
    if lift is None or lift.label is None or caught.source.how != "spoken":
        return None, False
    area = state.areas.get(state.active or "")
    signs = NameSigns(lettered=_lettered(one.label for one in area.progress.lifts.values()) if area else None)
    return name_read(lift.label, signs), letter_unheard(lift.label, signs)


def _lettered(labels: Iterable[str | None]) -> bool | None:
    """Whether names have letters; None where there are none."""
    named = [label for label in labels if label]
    return any(map(has_letter, named)) if named else None


def _in_doubt(caught: Catch) -> frozenset[int]:
    """At which places of what was called a value was heard that wants its yes: another was heard almost as well, or
    only a number was heard, without the unit or the name that would have told whether it was heard whole, or other talk
    explains all of it nearly as well.

    Of 200 values in the voice benchmark that waited for no yes 8 were wrong, all in noise, and 4 of these were numbers
    alone.
    """
    texts = [piece.text for piece in caught.chain] or [caught.words]
    rivals = caught.doubted if caught.chain else range(bool(caught.rivals))
    if caught.ruling is Ruling.UNSURE:
        rivals = range(len(texts))
    heard = caught.source.how == "spoken"
    alone = (place for place, text in enumerate(texts) if heard and is_number_alone(text))
    return frozenset((*rivals, *alone))


def _nothing(caught: Catch, why: Message) -> Catch:
    return replace(caught, command=None, chain=(), stop=None, why=why)


def _told_of_chain(day: Day, caught: Catch, answer: Answer) -> Reply:
    """What became of phrases in one breath: all of them, or where they ended and why."""
    doubts = [rival for place, rival in caught.doubted.items() if place < answer.done]
    following = spoken_answer(day, answer, tuple(doubts[-1:]))
    if not answer.taken:
        return Reply(Fate.REFUSED, caught, following, answer)
    why = answer.refused or (caught.stop.why if caught.stop is not None else None)
    if why is None:
        return Reply(Fate.TAKEN, caught, following, answer)
    pieces = caught.chain
    words = pieces[answer.done].text if answer.done < len(pieces) else caught.stop.words if caught.stop else ""
    taken = Several(tuple(piece.text for piece in pieces[: answer.done]))
    stopped = message("ear-chain-stopped", taken=taken, words=words, why=why)
    if holds(why, day.prompt.say):
        return Reply(Fate.REFUSED, caught, stopped, answer)
    return Reply(Fate.REFUSED, caught, Several((stopped, following), "sentences"), answer)


def _not_understood(day: Day, caught: Catch) -> Reply:
    if not caught.addressed or (caught.where not in (Where.HELD, Where.CALLED) and not caught.choices):
        return Reply(Fate.IGNORED, caught, None)
    if caught.where is Where.CALLED and caught.ruling is Ruling.NEAR:
        return Reply(Fate.ASKED, caught, SAY_AGAIN)
    if caught.choices:
        values = tuple(_value_of(c.command, c.value) for c in caught.choices)
        code = "ear-which-name" if any(isinstance(value, Spelled) for value in values) else "ear-did-you-mean"
        return Reply(Fate.ASKED, caught, message(code, values=Several(values, "or")))
    if day.prompt.waits_for_yes:
        said = message("ear-yes-or-no", question=day.prompt.say, yes=YES[1], no=NO[1])
        return Reply(Fate.ASKED, caught, said)
    hints = tuple(message("prompt-quoted", phrase=hint) for hint in day.prompt.hints[:4])
    return Reply(Fate.ASKED, caught, message("ear-you-can-say", hints=Several(hints)))


def carry_out(
    day: Day, commands: Sequence[Command], source: Source, doubted: frozenset[int] = frozenset()
) -> Answer | None:
    """Carry out commands where it may have been asked whether others were said: then a yes is those, and a no before
    nothing else is nothing (None).

    source: how they came; what a yes means came as it was heard at first.
    """
    doubt, day.doubtful = day.doubtful, None
    if doubt is not None and isinstance(commands[0], Withdraw | Keep):
        meant = doubt.commands if isinstance(commands[0], Keep) else ()
        if len(commands) == 1:
            return day.do_all(meant, doubt.source) if meant else None
        commands, doubted = (*meant, *commands[1:]), frozenset()
    return day.do_all(commands, source, doubted)


def spoken_answer(day: Day, answer: Answer, rivals: tuple[Figure, ...] = ()) -> Figure:
    """The answer, and what is asked next; what was called is read back, digit by digit where it matters.

    rivals: other values of the reading called last that were heard almost as well.
    """
    state, following = day.state, answer.then.say
    if state.pending is not None and any(isinstance(e.body, ReadingCalled | ChoiceCalled) for e in answer.events):
        plain = asked_back(state)
        # In one breath several may have been called, and read back as they came: they are read back once.
        before = (item for item in _items(answer.say) if item != plain and not _asks_yes_or_no(item))
        after = () if answer.then.goes_on is None else (answer.then.goes_on,)
        return Several((*before, *_items(_read_back(state, rivals)), *after), "sentences")
    # An answer that changed nothing was a question: it says what it was asked and no more.
    if not answer.taken or not answer.events or holds(answer.say, following):
        return answer.say
    return Several((answer.say, following), "sentences")


def _items(told: Figure) -> tuple[Figure, ...]:
    return told.items if isinstance(told, Several) and told.link == "sentences" else (told,)


def _asks_yes_or_no(told: Figure) -> bool:
    return isinstance(told, Message) and told.code in ("engine-yes-or-no", "engine-corrects-yes-or-no")


def _read_back(state: State, rivals: tuple[Figure, ...]) -> Figure:
    """What waits, read back as the dialogue's table has it."""
    waiting, newest = state.waiting, state.called[-1]
    if len(waiting) > 1 or newest.option is not None:
        return read_back_together([_called(state, one, rivals if one is newest else ()) for one in waiting]).told
    area = state.areas[newest.area]
    step = area.checklist.step(newest.task.section, newest.task.step)
    was = area.reading_of(newest.corrects) if newest.corrects is not None else None
    if newest.label is not None:
        told = read_back_name(step.name, newest.label, _name_signs(state, newest, rivals)).told
    else:
        asks = not newest.unquestioned
        told = read_back(step.name, newest.value, newest.unit, _signs(state, newest, rivals), asks=asks).told
    return told if was is None else Several((message("readback-in-place-of", was=read_as(was)), told), "sentences")


def _called(state: State, pending: Pending, rivals: tuple[Figure, ...]) -> CalledAnswer:
    """One of several answers that wait together."""
    step = state.areas[pending.area].checklist.step(pending.task.section, pending.task.step)
    if pending.label is not None:
        return CalledAnswer(step.name, label=pending.label, name_signs=_name_signs(state, pending, rivals))
    if pending.option is None:
        return CalledAnswer(step.name, pending.value, pending.unit, _signs(state, pending, rivals))
    option = step.option(pending.option) if isinstance(step, Choice) else None
    assert option is not None  # it was there when it was called
    return CalledAnswer(option.label, signs=Signs(fails=option.label if option.fails else None))


def _signs(state: State, pending: Pending, rivals: tuple[Figure, ...]) -> Signs:
    """What makes a waiting reading doubtful."""
    area = state.areas[pending.area]
    if pending.corrects is None:
        criterion = area.criterion(area.checklist.step(pending.task.section, pending.task.step))
        last = last_readings(area, pending.task, pending.unit)
    else:
        was = area.reading_of(pending.corrects)
        criterion = was.judged.criterion if was is not None and was.judged is not None else None
        last = []
    fails = criterion.judge(pending.value, pending.unit).finding if criterion else None
    return Signs(fails=fails, rivals=rivals, doubt=pending.doubt, last=last)


def _name_signs(state: State, pending: Pending, rivals: tuple[Figure, ...]) -> NameSigns:
    """What makes a waiting name doubtful."""
    area, task = state.areas[pending.area], pending.task
    same = [one.label for one in area.readings.values() if (one.section, one.step) == (task.section, task.step)]
    names = tuple(rival.name for rival in rivals if isinstance(rival, Spelled))
    return NameSigns(names, _lettered(same))
