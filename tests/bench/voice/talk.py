"""Measure 3: commands that an open microphone hears in talk."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from random import Random
from typing import Any

import numpy as np

from fieldassist.day.ear import Fate
from fieldassist.day.listening import Listening, Manner
from fieldassist.day.session import Day
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.microphone import BLOCK_S
from fieldassist.voice.recognizer import Recognizer
from tests.bench.voice import corpora
from tests.bench.voice.base import BLOCK, Bench, Row
from tests.bench.voice.rivals import SphinxEars
from tests.bench.voice.situations import Moment, first_moment


def prompts(bench: Bench) -> dict[str, Moment]:
    """The prompts at which an open microphone hears talk."""
    wanted: dict[str, Callable[[Day], bool]] = {
        "between tiles": lambda day: (
            day.state.area is not None
            and day.state.area.progress.phase == "working"
            and day.state.area.task is None
            and bool(day.state.area.progress.good)
            and not day.prompt.caution
        ),
        "mortar is spread": lambda day: (
            day.state.pending is None
            and day.state.area is not None
            and day.state.area.spread is not None
            and day.state.area.task is None
        ),
        "a step at hand": lambda day: (
            day.state.area is not None
            and day.state.pending is None
            and day.state.area.step is not None
            and day.state.area.step.id == "set"
        ),
        "a reading asked for": lambda day: (
            day.state.pending is None
            and day.state.area is not None
            and day.state.area.step is not None
            and day.state.area.step.id == "coverage"
        ),
        "a reading waits for yes": lambda day: day.state.pending is not None,
    }
    found = {name: first_moment(bench.moments, fits, bench.folder) for name, fits in wanted.items()}
    return {name: moment for name, moment in found.items() if moment is not None}


@dataclass
class _Listener:
    """One way to listen at a prompt. every_s: how often the tablet asks something that a bare answer may follow."""

    name: str
    manner: Manner
    every_s: float = 0.0
    fates: Counter[Fate] = field(default_factory=Counter)
    heard_as: list[list[Any]] = field(default_factory=list)


def _manners() -> list[list[_Listener]]:
    """Those that listen for the same phrases hear the stream together."""
    called = _Listener("attention phrase", Manner.CALLED)
    asking = _Listener("attention phrase, the tablet asks something every minute", Manner.CALLED, 60.0)
    return [[_Listener("no attention phrase", Manner.OPEN)], [called, asking]]


def talk(bench: Bench, found: corpora.Talk) -> list[Row]:
    """Commands that an open microphone hears in talk: a row a prompt and manner. Each prompt hears other talk first."""
    rows = []
    for prompt, moment, sound in stretches(bench, found, bench.size.talk_s):
        for together in _manners():
            bench.tell(f"talk: {len(sound) / RATE_HZ / 60:.0f} min, {prompt}, {together[0].name}")
            _overhear(bench, bench.ears, sound, moment, together)
            rows += [_row(one, prompt, sound) for one in together]
    return rows


def rival_talk(bench: Bench, found: corpora.Talk) -> list[Row]:
    """The same of the rival, on the beginning of each stretch, without an attention phrase."""
    rows = []
    if bench.rival is not None:
        for prompt, moment, sound in stretches(bench, found, bench.size.rival_talk_s):
            bench.tell(f"talk: {len(sound) / RATE_HZ / 60:.0f} min, {prompt}, {bench.rival.name}")
            one = _Listener(f"{bench.rival.name}, no attention phrase", Manner.OPEN)
            _overhear(bench, SphinxEars(bench.rival), sound, moment, [one])
            rows.append(_row(one, prompt, sound))
    return rows


def stretches(bench: Bench, found: corpora.Talk, seconds: float) -> Iterator[tuple[str, Moment, np.ndarray]]:
    """The prompts, and so much talk at each: each hears other talk first."""
    whole = corpora.stream(found.clips, bench.speech, Random(3))
    at = prompts(bench)
    for place, (prompt, moment) in enumerate(at.items()):
        yield prompt, moment, np.roll(whole, -place * len(whole) // len(at))[: round(seconds * RATE_HZ)]


def _row(one: _Listener, prompt: str, sound: np.ndarray) -> Row:
    return {
        "manner": one.name,
        "prompt": prompt,
        "seconds": len(sound) / RATE_HZ,
        "done": one.fates[Fate.TAKEN] + one.fates[Fate.CALLED],
        "refused": one.fates[Fate.REFUSED],
        "asked": one.fates[Fate.ASKED],
        "ignored": one.fates[Fate.IGNORED],
        "heard as": one.heard_as,
    }


def _overhear(bench: Bench, ears: Recognizer, sound: np.ndarray, moment: Moment, together: Sequence[_Listener]) -> None:
    """Hear the stream once for all of them. Each has a day of its own, put back where it was after each command."""
    with ExitStack() as stack:
        days = []
        for place, one in enumerate(together):
            folder = bench.folder / f"listener{place}"
            folder.mkdir(exist_ok=True)
            opened = stack.enter_context(ExitStack())
            day = opened.enter_context(moment.opened(folder))
            days.append((one, folder, opened, Listening(day, ears, one.manner)))

        def blocks() -> Iterator[bytes]:
            for start in range(0, len(sound), BLOCK):
                for one, _, _, listening in days:
                    if one.every_s and start / RATE_HZ % one.every_s < BLOCK_S:
                        listening.prompted()
                yield sound[start : start + BLOCK].tobytes()

        frames: Iterator[bytes] = blocks()
        for _, _, _, listening in days:
            frames = listening.frames(frames)
        for heard in ears.listen(frames, days[0][3].said):
            for one, folder, opened, listening in days:
                outcome = listening.take(heard)
                one.fates[outcome.fate] += 1
                if outcome.fate is not Fate.IGNORED:
                    one.heard_as.append([outcome.fate.value, heard.text, heard.foreign])
                    opened.close()
                    listening.day = opened.enter_context(moment.opened(folder))
