"""Measure 8: speaker by speaker: voices in quiet and in noise, and accents by rule; a mean hides who is not heard.

Every speaker says sentences of the same pool, half of them readings or names, as with a key held.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from fieldassist.day.ear import catch
from fieldassist.voice.phrases import Taken, understand
from tests.bench.voice.base import AGAIN, FULL, RETRIED, Bench, Row, judge
from tests.bench.voice.phrases import drawn, situations
from tests.bench.voice.situations import Sentence, Situation
from tests.bench.voice.speech import ACCENTED, CLEAN, PINK_10, SAW_10, TOOLS_10, Condition
from tests.bench.voice.throats import CannotSpeak


@dataclass(frozen=True)
class _Turn:
    """One speaker in one condition, and how much they say."""

    voice: str
    condition: Condition
    sentences: int


def speakers(bench: Bench, pool: Path | None) -> list[Row]:
    """What came of each sentence of each speaker: a row an utterance.

    pool: file of what is said, so that another version of the program is asked the same; written where it is not there.
    """
    said = pooled(bench, pool)
    rows: list[Row] = []
    for place, turn in enumerate(_turns(bench)):
        rows += _heard(bench, turn, _theirs(said, turn.sentences, place))
        bench.tell(f"speakers: {turn.voice}, {turn.condition.name}")
    return rows


def _turns(bench: Bench) -> Iterator[_Turn]:
    each = bench.size.speakers
    accented = bench.speech.voices(ACCENTED)
    yield from (_Turn(voice, CLEAN, each) for voice in bench.voices)
    yield from (_Turn(voice, CLEAN, each) for voice in accented)
    for condition in (PINK_10, SAW_10):
        yield from (_Turn(voice, condition, each) for voice in bench.voices)
    for condition in TOOLS_10:
        yield from (_Turn(voice, condition, -(-each // 3)) for voice in bench.voices)
    yield from (_Turn(voice, SAW_10, -(-each // 3)) for voice in accented if voice.startswith("joe"))


def _theirs(said: Sequence[Sentence], count: int, place: int) -> list[Sentence]:
    """`count` of the sentences, other ones for each speaker, half of them with a value."""
    valued = [one for one in said if one.has_value]
    plain = [one for one in said if not one.has_value]
    return [
        kind[(place * 7 + turn // 2 * 5) % len(kind)]
        for turn in range(count)
        for kind in [valued if turn % 2 else plain]
    ]


def _heard(bench: Bench, turn: _Turn, said: Sequence[Sentence]) -> Iterator[Row]:
    for seed, sentence in enumerate(said):
        offers, meant = sentence.at.offers, sentence.meant
        try:
            clip = bench.speech.recording(turn.voice, meant.text, turn.condition, seed)
        except CannotSpeak:
            continue
        caught = catch(bench.ears, clip, offers)
        result = after = judge(caught, meant.command, offers)
        if result in RETRIED:
            again = bench.speech.recording(turn.voice, meant.text, turn.condition, seed + 100_000, AGAIN)
            after = judge(catch(bench.ears, again, offers), meant.command, offers)
        throat, _, accent = turn.voice.partition(":")
        yield {
            "throat": throat,
            "accent": accent,
            "condition": turn.condition.name,
            "valued": sentence.has_value,
            "result": result.value,
            "after": after.value,
            "at": sentence.at.name,
            "said": meant.text,
            "heard": caught.words,
            "foreign": caught.foreign,
        }


def pooled(bench: Bench, pool: Path | None) -> list[Sentence]:
    """The sentences of the file that still mean something there; drawn, and written to it, where there is none."""
    at_steps, in_day = situations(bench.moments)
    named = _named([*at_steps, *in_day])
    if pool is None or not pool.exists():
        said = drawn(at_steps, in_day, FULL)
        if pool is not None:
            names = {id(situation): name for name, situation in named.items()}
            kept = [[names[id(one.at)], one.meant.text] for one in said]
            pool.write_text(json.dumps(kept, indent=0) + "\n", encoding="utf-8")
        return said
    found, lost = [], []
    for name, text in json.loads(pool.read_text(encoding="utf-8")):
        meaning = understand(text, named[name].offers) if name in named else None
        if isinstance(meaning, Taken):
            found.append(Sentence(named[name], meaning))
        else:
            lost.append(text)
    bench.tell(f"speakers: {len(found)} sentences of {pool.name}; no longer said: {lost}")
    return found


def _named(found: Sequence[Situation]) -> dict[str, Situation]:
    """Each by its name, and by its number among those of that name."""
    named: dict[str, Situation] = {}
    counts: dict[str, int] = {}
    for one in found:
        counts[one.name] = counts.get(one.name, 0) + 1
        named[f"{one.name} {counts[one.name]}"] = one
    return named
