"""Measure 2: recordings of people who say digits, playing cards and a command; digits speaker by speaker.

A speaker is told by a letter. A few people are no test set: what holds for them need not hold for the next one.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from random import Random

import numpy as np

from fieldassist.cli.offers import offers_for
from fieldassist.day.ear import catch
from fieldassist.voice.audio import RATE_HZ, Clip, frames, without_silence
from fieldassist.voice.phrases import Taken, understand
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.sentences import sentences as listened_for
from tests.bench.voice import corpora
from tests.bench.voice.base import Bench, Row
from tests.bench.voice.situations import checklists
from tests.bench.voice.speech import PINK_10, SAW_10, Condition, at_level

_STRINGS = 150


def people(bench: Bench, digits: Path | None) -> list[Row]:
    """Recordings of people: playing cards, a command, digits."""
    rows = []
    for name, (labelled, listed) in {
        "spoken playing cards": corpora.cards(),
        "a spoken command": corpora.commands(),
    }.items():
        if labelled:
            said = Sentences.of_phrases([*listed, *(one.said for one in labelled)], bench.ears.knows)
            ours = sum(bench.ears.hear(frames(one.clip), said).text == one.said for one in labelled)
            row = {"recordings": name, "condition": "as recorded", "said": len(labelled), "right": ours}
            if bench.rival is not None:
                bench.rival.hold_to(said)
                row["rival right"] = sum(bench.rival.hear(one.clip) == one.said for one in labelled)
            rows.append(row)
    rows += _digits(bench, "a string of five digits", corpora.digit_string(), [None])
    singles = corpora.digits(digits)[:: bench.size.digits_every]
    rows += _digits(bench, "single digits", singles, [None, PINK_10, SAW_10])
    strings = corpora.strings(singles, _STRINGS // bench.size.digits_every, Random(7))
    rows += _digits(bench, "strings of four digits, spliced", strings, [None, PINK_10, SAW_10])
    return rows


def _digits(
    bench: Bench, name: str, labelled: list[corpora.Labelled], conditions: Sequence[Condition | None]
) -> list[Row]:
    offers = offers_for("digits", checklists())
    if not labelled:
        return []
    if bench.rival is not None:
        strings = any(len(one.said) > 1 for one in labelled)
        bench.rival.hold_to(
            listened_for(offers, bench.rival.knows) if strings else Sentences.of_phrases(_FIGURES, bench.rival.knows)
        )
    rows = []
    for condition in conditions:
        bench.tell(f"people: {name}, {condition.name if condition else 'as recorded'}")
        row: Row = {
            "recordings": name,
            "condition": condition.name if condition else "as recorded",
            "said": len(labelled),
            "right": 0,
            "asked or ignored": 0,
            "failures": [],
            "right, said alone": 0,
            "speakers": {},
        }
        if bench.rival is not None:
            row["rival right"] = 0
        for seed, one in enumerate(labelled):
            clip = one.clip
            if condition is not None:
                levelled = at_level(clip.samples / 32768, bench.speech.level_dbov)
                edge = np.zeros(RATE_HZ // 4)
                clip = bench.speech.in_noise(np.concatenate([edge, levelled, edge]), condition, seed)
            caught = catch(bench.ears, clip, offers)
            theirs = row["speakers"].setdefault(one.speaker, {"said": 0, "right": 0, "right, said alone": 0})
            theirs["said"] += 1
            theirs["right"] += caught.value == one.said
            row["right"] += caught.value == one.said
            row["asked or ignored"] += caught.command is None
            if caught.value != one.said:
                row["failures"].append([one.speaker, one.said, caught.words, caught.foreign])
            if len(one.said) == 1:
                alone = _alone(bench, clip) == one.said
                row["right, said alone"] += alone
                theirs["right, said alone"] += alone
            if bench.rival is not None:
                meaning = understand(bench.rival.hear(clip), offers)
                row["rival right"] += isinstance(meaning, Taken) and meaning.value == one.said
        if len(labelled[0].said) > 1:
            del row["right, said alone"]
        rows.append(row)
    return rows


_NINE = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_FIGURES = {"zero": "0", "oh": "0"} | {word: str(n) for n, word in enumerate(_NINE, start=1)}


def _alone(bench: Bench, clip: Clip) -> str:
    """The digit that is heard where only one digit can have been said, as the rival is held."""
    return _FIGURES.get(
        bench.ears.hear(frames(without_silence(clip)), Sentences.of_phrases(_FIGURES, bench.ears.knows)).text, ""
    )
