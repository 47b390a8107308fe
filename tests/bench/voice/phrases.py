"""Measure 1: sentences of synthetic voices, in quiet and in noise."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from random import Random

from fieldassist.day.ear import catch
from fieldassist.voice.sentences import sentences as listened_for
from tests.bench.voice.base import AGAIN, RETRIED, UNDERSTOOD, Bench, Row, Size, judge, judge_words
from tests.bench.voice.situations import Moment, Sentence, Situation, sentences, spread, steps
from tests.bench.voice.speech import CONDITIONS, Condition
from tests.bench.voice.throats import CannotSpeak


def situations(moments: Sequence[Moment]) -> tuple[list[Situation], list[Situation]]:
    """Where something is said: every step of the checklists, and every moment of the day."""
    return steps(), [Situation(m.name, m.offers) for m in moments]


def drawn(at_steps: Sequence[Situation], in_day: Sequence[Situation], size: Size) -> list[Sentence]:
    """What is said: the same sentences every time, as long as the checklists and their phrases are the same."""
    return [
        *sentences(spread(at_steps, size.situations), size.each, Random(1)),
        *sentences(spread(in_day, size.situations), size.each, Random(2)),
    ]


def voice_of(voices: Sequence[str], place: int, turn: int) -> str:
    """Who says sentence `place` for the `turn`th time."""
    return voices[(2 * place + turn) % len(voices)]


def phrases(bench: Bench) -> list[Row]:
    """Sentences of the voices, in quiet and in noise: a row a condition."""
    spoken = drawn(*situations(bench.moments), bench.size)
    rows = {condition: _new_row(condition) for condition in CONDITIONS}
    count = 0
    for place, sentence in enumerate(spoken):
        for turn in range(bench.size.voices):
            voice = voice_of(bench.voices, place, turn)
            for condition, row in rows.items():
                count += 1
                # One step on at every utterance, so that in the course of time every condition has its turn.
                rival = bench.size.rival_every > 0 and count % bench.size.rival_every == 0
                _phrase(bench, sentence, voice, condition, row, beside_rival=rival)
        if place % 20 == 19:
            bench.tell(f"phrases: {place + 1} of {len(spoken)} sentences")
    return list(rows.values())


def _new_row(condition: Condition) -> Row:
    return {
        "condition": condition.name,
        "said": 0,
        "results": Counter(),
        "after": Counter(),
        "valued": 0,
        "valued results": Counter(),
        "rival said": 0,
        "rival results": Counter(),
        "ours beside rival": Counter(),
        "failures": [],
    }


def _phrase(
    bench: Bench, sentence: Sentence, voice: str, condition: Condition, row: Row, *, beside_rival: bool
) -> None:
    offers, meant = sentence.at.offers, sentence.meant
    seed = row["said"]
    try:
        clip = bench.speech.recording(voice, meant.text, condition, seed)
    except CannotSpeak:
        return
    caught = catch(bench.ears, clip, offers)
    result = judge(caught, meant.command, offers)
    after = result
    if result in RETRIED:
        again = bench.speech.recording(voice, meant.text, condition, seed + 100_000, AGAIN)
        after = judge(catch(bench.ears, again, offers), meant.command, offers)
    row["said"] += 1
    row["results"][result.value] += 1
    row["after"][after.value] += 1
    if sentence.has_value:
        row["valued"] += 1
        row["valued results"][result.value] += 1
    if result not in UNDERSTOOD:
        row["failures"].append(
            [voice, sentence.at.name, meant.text, caught.words, result.value, after.value, caught.foreign]
        )
    if beside_rival and bench.rival is not None:
        bench.rival.hold_to(listened_for(offers, bench.rival.knows))
        row["rival said"] += 1
        row["rival results"][judge_words(bench.rival.hear(clip), meant.command, offers).value] += 1
        row["ours beside rival"][result.value] += 1
