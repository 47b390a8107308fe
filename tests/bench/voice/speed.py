"""Measure 6: time from the end of speech to the answer, processor time, memory."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from fieldassist.day.ear import Fate
from fieldassist.day.listening import Listening, Manner
from fieldassist.voice.audio import RATE_HZ, Clip, frames
from fieldassist.voice.recognizer import VoskRecognizer
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.sentences import sentences as listened_for
from tests.bench.voice.base import BLOCK, Bench, Row
from tests.bench.voice.rivals import PocketSphinx
from tests.bench.voice.situations import Moment, readings
from tests.bench.voice.speech import CLEAN, PINK_10, SAW_10, Condition


def speed(bench: Bench) -> Row:
    """Felt wait in quiet and in noise, of it from the last block to the answer on disk, processor time, and memory."""
    asked = readings(bench.moments, bench.size.latency, Random(6))
    spoken = []
    for place, (moment, meant) in enumerate(asked):
        voice = bench.voices[place % 4 % len(bench.voices)]
        spoken.append((moment, bench.speech.recording(voice, meant.text, CLEAN, place), voice, meant.text))
    streams = {
        condition.name: [
            _streamed(bench, moment, voice, words, condition, place)
            for place, (moment, _, voice, words) in enumerate(spoken)
        ]
        for condition in _CONDITIONS
    }
    answered = [one for one in streams[CLEAN.name] if one.answers]
    small = Sentences.of_phrases(["yes", "yes keep it", "no", "scratch that", "wrong"], bench.ears.knows)
    whole = {moment.name: listened_for(moment.offers, bench.ears.knows) for moment, _ in asked}
    row: Row = {
        "answered": len(answered),
        "latency p50": float(np.percentile([one.latency for one in answered], 50)),
        "latency p95": float(np.percentile([one.latency for one in answered], 95)),
        "felt wait": {name: _waits(all_of) for name, all_of in streams.items()},
        "small list": _arcs(small),
        "full list": max(map(_arcs, whole.values())),
        "real time, small list": _real_time(bench.ears, [(small, c) for _, c, *_ in spoken]),
        "real time, full list": _real_time(bench.ears, [(whole[m.name], c) for m, c, *_ in spoken]),
        "memory MB": _peak_memory(_OURS_ALONE),
    }
    if bench.rival is not None:
        row |= _rival_speed(bench.rival, [(m, c) for m, c, *_ in spoken[:8]], small)
    return row


_CONDITIONS = (CLEAN, PINK_10, SAW_10)
_LEAD_S, _STILL_S = 1.0, 3.0


@dataclass(frozen=True)
class _Streamed:
    """An utterance in a stream. answers: how many were given; wait: from the end of its sound to the first [s];
    latency: of that from the block that ended it on, on this machine; heard: utterances that the stream was cut into,
    but for talk."""

    answers: int
    wait: float
    latency: float
    heard: int


def _streamed(bench: Bench, moment: Moment, voice: str, words: str, condition: Condition, seed: int) -> _Streamed:
    speech = bench.speech.say(voice, words)
    around = [np.zeros(round(seconds * RATE_HZ)) for seconds in (_LEAD_S, _STILL_S)]
    sound = bench.speech.in_noise(np.concatenate([around[0], speech, around[1]]), condition, seed).samples
    answers, wait, latency, heard_all = 0, 0.0, 0.0, 0
    with moment.opened(bench.folder) as day:
        listening = Listening(day, bench.ears, Manner.OPEN)
        handed, position = 0.0, 0

        def blocks() -> Iterator[bytes]:
            nonlocal handed, position
            for start in range(0, len(sound), BLOCK):
                position = start + BLOCK
                handed = time.perf_counter()
                yield sound[start : start + BLOCK].tobytes()

        for heard in bench.ears.listen(listening.frames(blocks()), listening.said):
            outcome = listening.take(heard)
            heard_all += outcome.fate is not Fate.IGNORED
            if outcome.fate is not Fate.IGNORED and not answers:
                answers += 1
                latency = time.perf_counter() - handed
                wait = position / RATE_HZ - _LEAD_S - len(speech) / RATE_HZ
    return _Streamed(answers, wait, latency, heard_all)


def _waits(streams: Sequence[_Streamed]) -> Row:
    """Seconds that 10, 50 and 90 of 100 wait at most, and how many were cut in two."""
    waits = [one.wait for one in streams if one.answers]
    shares = dict(zip(("p10", "p50", "p90"), (float(p) for p in np.percentile(waits, (10, 50, 90))), strict=True))
    return {"answered": len(waits), **shares, "cut in two": sum(one.heard > 1 for one in streams)}


def _arcs(said: Sentences) -> int:
    return sum(map(len, said.graph.arcs))


def _real_time(ears: VoskRecognizer, spoken: Sequence[tuple[Sentences, Clip]]) -> float:
    """Processor seconds of all threads a second of sound, the graphs' making left out."""
    used = audio = 0.0
    for listed, clip in sorted(spoken, key=lambda one: one[0].key):
        ears.hear([bytes(3200)], listed)
        start = time.process_time()
        ears.hear(frames(clip), listed)
        used += time.process_time() - start
        audio += clip.seconds
    return used / audio


def _rival_speed(rival: PocketSphinx, spoken: Sequence[tuple[Moment, Clip]], small: Sentences) -> Row:
    row: Row = {}
    for name, lists in (
        ("small", [small] * len(spoken)),
        ("full", [listened_for(m.offers, rival.knows) for m, _ in spoken]),
    ):
        used = audio = 0.0
        for listed, (_, clip) in zip(lists, spoken, strict=True):
            rival.hold_to(listed)
            start = time.process_time()
            rival.hear(clip)
            used += time.process_time() - start
            audio += clip.seconds
        row[f"rival real time, {name} list"] = used / audio
    row["rival memory MB"] = _peak_memory(_RIVAL_ALONE)
    return row


_OURS_ALONE = """
from fieldassist.day.ear import catch
from fieldassist.cli.offers import offers_for
from fieldassist.checklist.loader import load_folder
from fieldassist.places import shipped
from fieldassist.voice.audio import read_audio
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
ears = VoskRecognizer(choose_model(shipped("models")))
offers = offers_for("idle", load_folder(shipped("checklists"))[0])
for path in sorted((shipped("assets") / "demo" / "audio").glob("*.flac"))[:20]:
    catch(ears, read_audio(path), offers)
"""
_RIVAL_ALONE = """
from fieldassist.cli.offers import offers_for
from fieldassist.checklist.loader import load_folder
from fieldassist.places import shipped
from fieldassist.voice.audio import read_audio
from fieldassist.voice.sentences import sentences
from tests.bench.voice.rivals import PocketSphinx
rival = PocketSphinx({})
rival.hold_to(sentences(offers_for("idle", load_folder(shipped("checklists"))[0]), rival.knows))
for path in sorted((shipped("assets") / "demo" / "audio").glob("*.flac"))[:2]:
    rival.hear(read_audio(path))
"""


def _peak_memory(program: str) -> float:
    """Peak memory in MB of a process of its own that runs `program`.

    Not `getrusage`: what that tells of a new process begins with the memory of the one that started it.
    """
    ends = "\nfrom pathlib import Path\nprint(Path('/proc/self/status').read_text())"
    done = subprocess.run([sys.executable, "-c", program + ends], capture_output=True, text=True, check=True)
    peak = next(line for line in done.stdout.splitlines() if line.startswith("VmHWM:"))
    return float(peak.split()[1]) / 1024
