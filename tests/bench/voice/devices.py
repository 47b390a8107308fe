"""Measure 5: what each device against talk and misheard words is worth, by leaving it out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from contextlib import ExitStack
from dataclasses import replace
from random import Random
from typing import Any
from unittest.mock import patch

import numpy as np

from fieldassist.checklist.offers import Offer
from fieldassist.day import rejection
from fieldassist.day.ear import Catch, Fate, act, catch, interpret, sifted
from fieldassist.day.rejection import Kind, Limits, Where
from fieldassist.voice.audio import RATE_HZ, Clip, frames
from fieldassist.voice.phrases import Taken
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.sentences import sentences as listened_for
from tests.bench.voice import corpora
from tests.bench.voice.base import Bench, Row
from tests.bench.voice.dialogue import Remembering
from tests.bench.voice.situations import Moment, Situation, sentences, spread
from tests.bench.voice.speech import CLEAN, PINK_10, SAW_10, Condition
from tests.bench.voice.talk import prompts


class BestOnly(Remembering):
    """The recognizer with its best alternative only."""

    def hear(self, frames: Iterable[bytes], said: Sentences | None) -> Heard:
        """As the recognizer."""
        heard = super().hear(frames, said)
        return replace(heard, alternatives=heard.alternatives[:1])


def devices(bench: Bench, found: corpora.Talk) -> list[Row]:
    """Right commands and foreign sound, with every device and with each left out: a row a variant."""
    random = Random(5)
    moments = {m.name: m for m in bench.moments}
    situations = spread([Situation(m.name, m.offers) for m in bench.moments], max(4, bench.size.devices // 4))
    spoken: list[tuple[Moment, Clip, Taken]] = []
    for place, sentence in enumerate(sentences(situations, 4, random)[: bench.size.devices]):
        voice = bench.voices[place % len(bench.voices)]
        condition = (CLEAN, PINK_10, SAW_10)[place % 3]
        clip = bench.speech.recording(voice, sentence.meant.text, condition, place)
        spoken.append((moments[sentence.at.name], clip, sentence.meant))
    at = list(prompts(bench).values())
    short = [c for c in found.clips if 1.0 <= c.seconds <= 8.0]
    talk_clips = random.sample(short, min(bench.size.devices, len(short)))
    foreign = [(at[place % len(at)], clip) for place, clip in enumerate(talk_clips)]
    noises = [
        (at[place % len(at)], bench.speech.in_noise(np.zeros(3 * RATE_HZ), Condition("", kind, 10.0), place))
        for place, kind in enumerate(["pink", "saw", "hammer", "mixer"] * 3)
    ]
    boundless = {kind: Limits(math.inf, math.inf) for kind in Kind}
    endless = patch.object(rejection, "LIMITS", dict.fromkeys(Where, boundless))
    variants: dict[str, tuple[Recognizer, Callable[..., Catch], list[Any]]] = {
        "everything as it is": (bench.ears, catch, []),
        "without the background loop (foreign limit)": (bench.ears, catch, [endless]),
        "without trimming and energy check": (bench.ears, _catch_untrimmed, []),
        "without alternatives (the best one only)": (BestOnly(bench.ears), catch, []),
    }
    rows = []
    for name, (ears, hear, patches) in variants.items():
        bench.tell(f"devices: {name}")
        with ExitStack() as stack:
            for one in patches:
                stack.enter_context(one)
            rows.append({"variant": name, **_variant(bench, ears, hear, spoken, foreign, noises)})
    with patch.object(rejection, "LIMITS", {**rejection.LIMITS, Where.OPEN: boundless}):
        rows.append(
            {
                "variant": "without the open microphone's own limit",
                **_variant(bench, bench.ears, catch, spoken, foreign, noises),
            }
        )
    return rows


def _catch_untrimmed(ears: Recognizer, clip: Clip, offers: Sequence[Offer]) -> Catch:
    return interpret(ears.hear(frames(clip), listened_for(offers, ears.knows)), offers)


def _variant(
    bench: Bench,
    ears: Recognizer,
    hear: Callable[..., Catch],
    spoken: Sequence[tuple[Moment, Clip, Taken]],
    foreign: Sequence[tuple[Moment, Clip]],
    noises: Sequence[tuple[Moment, Clip]],
) -> Row:
    row: Row = {"spoken": len(spoken), "talk": len(foreign), "noise": len(noises)}
    for manner in ("held", "open"):
        row |= {f"right, {manner}": 0, f"wrong, {manner}": 0, f"talk, {manner}": 0, f"noise, {manner}": 0}
    for moment, clip, meant in spoken:
        caught = hear(ears, clip, moment.offers)
        row["right, held"] += caught.command == meant.command
        row["wrong, held"] += caught.command not in (None, meant.command)
        heard_open = _acts(bench, moment, caught)
        row["right, open"] += heard_open and caught.command == meant.command
        row["wrong, open"] += heard_open and caught.command != meant.command
    for kind, sounds in (("talk", foreign), ("noise", noises)):
        for moment, clip in sounds:
            caught = hear(ears, clip, moment.offers)
            row[f"{kind}, held"] += caught.command is not None
            row[f"{kind}, open"] += _acts(bench, moment, caught)
    return row


def _acts(bench: Bench, moment: Moment, caught: Catch) -> bool:
    """Whether an open microphone would act on it."""
    if caught.command is None:
        return False
    with moment.opened(bench.folder) as day:
        return act(day, sifted(caught, Where.OPEN)).fate is not Fate.IGNORED
