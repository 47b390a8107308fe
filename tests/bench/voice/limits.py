"""Measure 7: the limits of rejection (`day.rejection`): what of right answers they take, by accent, and what of talk.

Everything is heard once and judged by the limits afterwards. It is speech to tune on, and none of what the other measures
hear: voices and accents of training (`models.build.accents`, of drawn strength), and people whom training heard. What is
said are answers at the prompts of a day, numbers alone among them, half of the native ones in noise; talk is the
telephone's prompts, people's sentences, and general sentences with an accent.
"""  # noqa: E501 (a file's first line cannot be broken)

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property
from random import Random

import numpy as np

from fieldassist.checklist.ahead import ahead
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.prompt import Prompt
from fieldassist.day.ear import called, understood
from fieldassist.day.listening import ATTENTION
from fieldassist.day.rejection import Kind, Ruling, Where, kind_of, ruling, where_said
from fieldassist.language import numbers
from fieldassist.language.spoken import spoken_language
from fieldassist.voice.audio import RATE_HZ, Clip, frames, without_silence
from fieldassist.voice.phrases import Taken, is_number_alone, understand
from fieldassist.voice.recognizer import Heard
from fieldassist.voice.sentences import Sentences, sentences
from models.build.en import accents
from tests.bench.voice import corpora
from tests.bench.voice.base import BLOCK, Bench, Row
from tests.bench.voice.situations import Moment, draw
from tests.bench.voice.speech import CLEAN, PINK_10, SAW_10, Condition, Floats
from tests.bench.voice.talk import prompts
from tests.bench.voice.throats import CannotSpeak, Throats, by_program

LIMITS = (-6.0, -4.0, -2.0, 0.0, 2.5, 4.0, 6.0, 8.0, 12.0)
ACCENTS = ("arabic", "chinese", "haitian", "indian", "portuguese", "slavic", "spanish", "vietnamese")
NATIVE = "native"
_NATIVES = ("flite_awb", "flite_rms", "pico_en-US")
_THROATS = ("flite_awb", "flite_rms")
_CONDITIONS = (CLEAN, PINK_10, CLEAN, SAW_10)
_ACCENTED_CONDITIONS = (CLEAN, CLEAN, CLEAN, PINK_10, CLEAN, SAW_10)
_SPEAKERS = 40  # of each accent


@dataclass(frozen=True)
class _Place:
    """A prompt, and what is listened for there."""

    prompt: Prompt
    said: Sentences


@dataclass(frozen=True)
class _Found:
    """What was heard, judged by no limit yet.

    who: a voice's accent, or what kind of talk; where: right after a question, and later; right: whether it is what was
    said.
    """

    who: str
    kind: Kind
    where: tuple[Where, Where]
    foreign: float
    words: str
    right: bool = False


@dataclass
class _Voices:
    """Voices to tune on."""

    bench: Bench
    missing: set[str] = field(default_factory=set)

    @cached_property
    def _throats(self) -> Throats:
        return Throats(self.bench.speech.parts, self.bench.speech.pronunciations())

    def said(self, who: str, words: str, seed: int) -> Floats:
        """Bare speech at 16 kHz, at the level of a headset. who: `NATIVE` or an accent. CannotSpeak."""
        speech = self.bench.speech
        if who == NATIVE:
            return speech.say(_NATIVES[seed % len(_NATIVES)], words)
        speaker, random = _speaker(who, seed % _SPEAKERS), Random(seed)
        spoken = [list(accents.nearest(speaker.says(self._throats.phones(word), random))) for word in words.split()]
        return speech.levelled(*by_program(_THROATS[seed % len(_THROATS)], spoken, 1.0))

    def clip(self, who: str, words: str, condition: Condition, seed: int) -> Clip:
        """The same as a microphone would have given it."""
        edge = np.zeros(RATE_HZ // 4)
        return self.bench.speech.in_noise(np.concatenate([edge, self.said(who, words, seed), edge]), condition, seed)


def _speaker(accent: str, number: int) -> accents.Speaker:
    random = Random(f"{accent} {number}")
    while True:
        speaker = accents.drawn(random, 1.0)
        if speaker.accent == accent:
            return speaker


def limits(bench: Bench, found: corpora.Talk) -> Row:
    """What each limit lets through, right and wrong, and what comes of it by the limits that the program has."""
    voices = _Voices(bench)
    said = list(_answers(bench, voices))
    talk: list[_Found] = []
    seconds: Counter[str] = Counter()
    for one, lasts in _talk(bench, voices, found):
        talk += one
        seconds.update(lasts)
    return {
        "seconds": dict(seconds),
        "by limit": [
            {
                "kind": kind.value,
                "limit": limit,
                "native": _by_limit([one for one in said if one.who == NATIVE], kind, limit),
                "accents": _by_limit([one for one in said if one.who != NATIVE], kind, limit),
                "talk": sum(one.kind is kind and one.foreign <= limit for one in talk),
            }
            for kind in Kind
            for limit in LIMITS
        ],
        "by accent": [
            {"who": who, "where": where.value, **_by_ruling([one for one in said if one.who == who], where)}
            for who in (NATIVE, *ACCENTS)
            for where in (Where.HELD, Where.ASKED)
        ],
        "talk": [
            {"who": who, "manner": manner, **Counter(_let_in(one, manner).value for one in talk if one.who == who)}
            for who in seconds
            for manner in _MANNERS
        ],
        "let in": [
            [one.who, manner, one.words, one.foreign]
            for one in talk
            for manner in _MANNERS
            if _let_in(one, manner) in (Ruling.SURE, Ruling.UNSURE)
        ],
    }


# How a microphone listens that is open: for anything; with the attention phrase, not right after a question, and so.
_OPEN, _LATER, _ASKED = "no attention phrase", "attention phrase", "attention phrase, just asked"
_MANNERS = (_OPEN, _LATER, _ASKED)


def _let_in(one: _Found, manner: str) -> Ruling:
    """What comes of talk."""
    just_asked = manner != _LATER
    where = one.where[0 if just_asked else 1]
    if manner != _OPEN and (where is Where.OPEN or (one.kind is Kind.NUMBER and not just_asked)):
        return Ruling.TALK
    return ruling(one.foreign, where, one.kind)


def _by_limit(said: Sequence[_Found], kind: Kind, limit: float) -> Row:
    these = [one for one in said if one.kind is kind]
    taken = [one.right for one in these if one.foreign <= limit]
    return {"said": len(these), "right": sum(taken), "wrong": len(taken) - sum(taken)}


def _by_ruling(said: Sequence[_Found], where: Where) -> Row:
    def at(one: _Found) -> Where:
        return where if where is Where.HELD else one.where[0]

    came = Counter(
        f"{'right' if one.right else 'wrong'}, {ruling(one.foreign, at(one), one.kind).value}" for one in said
    )
    names = (f"{right}, {what.value}" for what in Ruling for right in ("right", "wrong"))
    return {"said": len(said), **{name: came[name] for name in names}}


def _place(bench: Bench, moment: Moment) -> _Place:
    with moment.opened(bench.folder) as day:
        prompt = day.prompt
        places = ahead(day.state, day.clock.now())
    return _Place(prompt, sentences(prompt.offers, bench.ears.knows, places, attention=ATTENTION))


def _places(bench: Bench) -> Iterator[_Place]:
    """The prompts of the day at which something is heard without the phrase, each once, over and over."""
    seen: dict[str, Moment] = {}
    for moment in bench.moments:
        with moment.opened(bench.folder) as day:
            window = day.prompt.window
        if window:
            seen.setdefault(repr([(offer.phrases, offer.slot, offer.now) for offer in window]), moment)
    different = Random(21).sample(list(seen.values()), len(seen))
    while different:
        yield from (_place(bench, moment) for moment in different)


def _answers(bench: Bench, voices: _Voices) -> Iterator[_Found]:
    """Answers at the prompts of the day, by turns: each by a native voice, and with two accents."""
    random = Random(21)
    for turn, place in zip(range(bench.size.limits), _places(bench), strict=False):
        for meant in _drawn(place.prompt, random, turn):
            speakers = (NATIVE, *(ACCENTS[(2 * turn + other) % len(ACCENTS)] for other in (0, 1)))
            for number, who in enumerate(speakers):
                conditions = _CONDITIONS if who == NATIVE else _ACCENTED_CONDITIONS
                condition = conditions[(turn + number) % len(conditions)]
                with suppress(CannotSpeak):
                    clip = voices.clip(who, meant.text, condition, 3 * turn + number)
                    heard = bench.ears.hear(frames(without_silence(clip)), place.said)
                    yield from _judged(who, place.prompt, heard, meant)
        if turn % 20 == 19:
            bench.tell(f"limits: {turn + 1} of {bench.size.limits} prompts")


def _drawn(prompt: Prompt, random: Random, turn: int) -> list[Taken]:
    """What is said at a prompt: a value, a number alone, or a phrase, as far as they answer it."""
    now = [offer for offer in prompt.window if offer.now]
    valued = [offer for offer in now if offer.slot is not None]
    if turn % 3 == 0 and valued:
        return draw(valued, prompt.offers, random, 1)
    if turn % 3 == 1 and valued and (alone := _number_alone(prompt.offers, random)) is not None:
        return [alone]
    return draw(now, prompt.offers, random, 1)


def _number_alone(offers: Sequence[Offer], random: Random) -> Taken | None:
    """A whole number under a hundred that answers what is asked."""
    for value in random.sample(range(100), 60):
        meaning = understand(numbers.say(value, None), offers)
        if isinstance(meaning, Taken) and is_number_alone(meaning.text):
            return meaning
    return None


def _judged(who: str, prompt: Prompt, heard: Heard, meant: Taken | None = None) -> Iterator[_Found]:
    caught = understood(heard, prompt.offers)
    if caught.foreign is None:
        return
    commands = caught.commands or tuple(choice.command for choice in caught.choices[:1])
    where = (where_said(commands, prompt, just_asked=True), where_said(commands, prompt, just_asked=False))
    right = meant is not None and caught.command == meant.command
    yield _Found(who, kind_of(commands, caught.words), where, caught.foreign, caught.words, right)


def _talk(bench: Bench, voices: _Voices, found: corpora.Talk) -> Iterator[tuple[list[_Found], dict[str, float]]]:
    """Each kind of talk at the prompts of the open microphone (`talk`), and how long it is [s]."""
    kinds = {"people": found.clips, "accented": list(_accented_talk(voices))}
    streams = {who: corpora.stream(clips, bench.speech, Random(3)) for who, clips in kinds.items() if clips}
    at = {name: _place(bench, moment) for name, moment in prompts(bench).items()}
    for number, (name, place) in enumerate(at.items()):
        for who, whole in streams.items():
            bench.tell(f"limits: {who} talk, {name}")
            sound = np.roll(whole, -number * len(whole) // len(at))[: round(bench.size.limits_talk_s * RATE_HZ)]
            blocks = (sound[start : start + BLOCK].tobytes() for start in range(0, len(sound), BLOCK))
            told = [
                one
                for heard in bench.ears.listen(blocks, lambda place=place: place.said)  # type: ignore[misc]
                for one in _judged(who, place.prompt, heard)
                if called(heard, ATTENTION) is None
            ]
            yield told, {who: len(sound) / RATE_HZ}


def _accented_talk(voices: _Voices) -> Iterator[Clip]:
    """What people say on a site to each other, with each accent in turn."""
    for seed, words in enumerate(spoken_language().site_sentences):
        with suppress(CannotSpeak):
            yield voices.clip(ACCENTS[seed % len(ACCENTS)], words, CLEAN, seed)
