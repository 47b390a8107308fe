"""Measure 7: the limits of the window: right answers that are lost, and talk that is let in, without the attention phrase.

Everything is heard once and judged by each limit afterwards. Answers are of steps at hand, as native voices say them (half
of them in noise) and as foreign accents do; numbers alone are people's digits, where a number is asked for.
"""  # noqa: E501 (a file's first line cannot be broken)

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

import numpy as np

from fieldassist.checklist.commands import AcknowledgeCaution, Keep, Withdraw
from fieldassist.checklist.offers import VALUE, Offer
from fieldassist.checklist.window import goes_on
from fieldassist.day.ear import Catch, called, understood
from fieldassist.day.listening import ATTENTION
from fieldassist.voice.audio import RATE_HZ, Clip, frames, without_silence
from fieldassist.voice.phrases import Taken, is_number_alone
from fieldassist.voice.recognizer import Heard
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.sentences import sentences as listened_for
from tests.bench.voice import corpora
from tests.bench.voice.base import BLOCK, Bench, Row
from tests.bench.voice.situations import Moment, draw
from tests.bench.voice.speech import ACCENTED, CLEAN, PINK_10, SAW_10, Floats, at_level
from tests.bench.voice.talk import stretches
from tests.bench.voice.throats import CannotSpeak

LIMITS = (-6.0, -4.0, -2.0, 0.0, 2.5, 4.0, 6.0, 8.0, 12.0)
_CONDITIONS = (CLEAN, PINK_10, CLEAN, SAW_10)


@dataclass(frozen=True)
class _Place:
    """A prompt: what may be said, what of it without the attention phrase, and what is listened for."""

    offers: tuple[Offer, ...]
    window: tuple[Offer, ...]
    said: Sentences


@dataclass(frozen=True)
class _Said:
    """Something that was said. meant: None of talk, a figure of a digit."""

    kind: str
    at: _Place
    heard: Heard
    meant: Taken | str | None = None


def limits(bench: Bench, found: corpora.Talk, digits: Path | None) -> Row:
    """What each limit lets through, right and wrong."""
    places = _places(bench)
    said = [*_answers(bench, places), *_numbers(bench, places, digits)]
    talk, seconds = _talk(bench, found)
    return {
        "seconds": seconds,
        "limits": [
            {
                "limit": limit,
                **{
                    kind: Counter(_result(one, limit) for one in said if one.kind == kind)
                    for kind in dict.fromkeys(one.kind for one in said)
                },
                "talk": Counter(kind for one in talk if (kind := _let_in(one, limit))),
            }
            for limit in LIMITS
        ],
    }


def _place(bench: Bench, offers: tuple[Offer, ...], window: tuple[Offer, ...]) -> _Place:
    return _Place(offers, window, listened_for(offers, bench.ears.knows, attention=ATTENTION))


def _prompt(bench: Bench, moment: Moment) -> tuple[tuple[Offer, ...], tuple[Offer, ...]]:
    with moment.opened(bench.folder) as day:
        return day.prompt.offers, day.prompt.window


def _places(bench: Bench) -> list[_Place]:
    """The prompts of the day at which something is heard without the phrase, each once."""
    found = {
        repr([(offer.phrases, offer.slot, offer.now) for offer in window]): (offers, window)
        for offers, window in (_prompt(bench, moment) for moment in bench.moments)
        if window
    }
    return [_place(bench, *one) for one in found.values()]


def _answers(bench: Bench, places: Sequence[_Place]) -> Iterator[_Said]:
    """Answers at the prompts of the day, by turns: each by a native voice, and by two accents."""
    random, names = Random(21), bench.speech.voices(ACCENTED)
    for turn in range(bench.size.limits):
        place = places[turn % len(places)]
        now = [offer for offer in place.window if offer.now]
        valued = [offer for offer in now if offer.slot is not None]
        for meant in draw(valued if valued and turn // len(places) % 2 == 0 else now, place.offers, random, 1):
            if is_number_alone(meant.text):
                continue
            voice = bench.voices[turn % len(bench.voices)]
            with suppress(CannotSpeak):
                clip = bench.speech.recording(voice, meant.text, _CONDITIONS[turn % 4], turn)
                yield _Said("native", place, _hear(bench, place, clip), meant)
            for name in (names[2 * turn % len(names)], names[(2 * turn + 1) % len(names)]):
                with suppress(CannotSpeak):
                    sound = bench.speech.say(name, meant.text)
                    yield _Said("accents", place, _hear(bench, place, _in_room(bench, sound, turn)), meant)
        if turn % 20 == 19:
            bench.tell(f"limits: {turn + 1} of {bench.size.limits} sentences")


def _numbers(bench: Bench, places: Sequence[_Place], folder: Path | None) -> Iterator[_Said]:
    """People's digits where a number alone answers what is asked."""
    asked = [p for p in places if any(o.now and VALUE in o.phrases for o in p.window)]
    for turn, one in enumerate(corpora.digits(folder)[:: 3 * bench.size.digits_every]):
        place = asked[turn % len(asked)]
        yield _Said("numbers", place, _hear(bench, place, _in_room(bench, one.clip.samples / 32768, turn)), one.said)


def _in_room(bench: Bench, sound: Floats, seed: int) -> Clip:
    edge = np.zeros(RATE_HZ // 4)
    return bench.speech.in_noise(np.concatenate([edge, at_level(sound, bench.speech.level_dbov), edge]), CLEAN, seed)


def _hear(bench: Bench, place: _Place, clip: Clip) -> Heard:
    return replace(bench.ears.hear(frames(without_silence(clip)), place.said), audio=b"")


def _talk(bench: Bench, found: corpora.Talk) -> tuple[list[_Said], float]:
    """Talk at four prompts, as the open microphone's (`talk`), and how long it is [s]."""
    said, seconds = [], 0.0
    for prompt, moment, sound in stretches(bench, found, bench.size.talk_s):
        bench.tell(f"limits: {len(sound) / RATE_HZ / 60:.0f} min of talk, {prompt}")
        place = _place(bench, *_prompt(bench, moment))
        blocks = (sound[start : start + BLOCK].tobytes() for start in range(0, len(sound), BLOCK))
        for heard in bench.ears.listen(blocks, lambda place=place: place.said):  # type: ignore[misc]
            if called(heard, ATTENTION) is None:
                said.append(_Said("talk", place, replace(heard, audio=b"")))
        seconds += len(sound) / RATE_HZ
    return said, seconds


def _taken(one: _Said, limit: float) -> Catch | None:
    """What is carried out without the attention phrase, whatever was asked before; None for nothing."""
    caught = understood(one.heard, one.at.offers)
    if caught.foreign is not None and caught.foreign > limit:
        return None
    return caught if caught.commands and goes_on(caught.commands, one.at.window) else None


def _result(one: _Said, limit: float) -> str:
    caught = _taken(one, limit)
    if caught is None:
        return "lost"
    if isinstance(one.meant, str):
        said = caught.value.split()[:1] == [one.meant]
    else:
        said = one.meant is not None and caught.command == one.meant.command
    return "right" if said else "wrong"


def _let_in(one: _Said, limit: float) -> str:
    """As what talk is let in; "" where it is not."""
    caught = _taken(one, limit)
    if caught is None:
        return ""
    if isinstance(caught.command, Keep | Withdraw | AcknowledgeCaution):
        return "yes or no"
    return "number" if is_number_alone(caught.words) else "phrase"
