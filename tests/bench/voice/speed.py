"""Measure 6: time from the end of speech to the answer, processor time, memory."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
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
from tests.bench.voice.speech import CLEAN


def speed(bench: Bench) -> Row:
    """Latency from the block that ends an utterance to the answer on disk, processor time, and memory."""
    asked = readings(bench.moments, bench.size.latency, Random(6))
    spoken = []
    for place, (moment, meant) in enumerate(asked):
        voice = bench.voices[place % 4 % len(bench.voices)]
        clip = bench.speech.recording(voice, meant.text, CLEAN, place)
        still = bench.speech.in_noise(np.zeros(3 * RATE_HZ), CLEAN, place).samples
        spoken.append((moment, clip, np.concatenate([clip.samples, still])))
    latencies, waits = [], []
    for moment, clip, sound in spoken:
        with moment.opened(bench.folder) as day:
            listening = Listening(day, bench.ears, Manner.OPEN)
            handed, position = 0.0, 0

            def blocks(sound: np.ndarray = sound) -> Iterator[bytes]:
                nonlocal handed, position
                for start in range(0, len(sound), BLOCK):
                    position = start + BLOCK
                    handed = time.perf_counter()
                    yield sound[start : start + BLOCK].tobytes()

            for heard in bench.ears.listen(listening.frames(blocks()), listening.said):
                outcome = listening.take(heard)
                if outcome.fate in (Fate.TAKEN, Fate.REFUSED):
                    latencies.append(time.perf_counter() - handed)
                    waits.append(position / RATE_HZ - (clip.seconds - _TAIL_S))
    small = Sentences.of_phrases(["yes", "yes keep it", "no", "scratch that", "wrong"], bench.ears.knows)
    whole = {moment.name: listened_for(moment.offers, bench.ears.knows) for moment, _ in asked}
    row: Row = {
        "answered": len(latencies),
        "latency p50": float(np.percentile(latencies, 50)),
        "latency p95": float(np.percentile(latencies, 95)),
        "silence waited for": float(np.median(waits)),
        "small list": _arcs(small),
        "full list": max(map(_arcs, whole.values())),
        "real time, small list": _real_time(bench.ears, [(small, c) for _, c, _ in spoken]),
        "real time, full list": _real_time(bench.ears, [(whole[m.name], c) for m, c, _ in spoken]),
        "memory MB": _peak_memory(_OURS_ALONE),
    }
    if bench.rival is not None:
        row |= _rival_speed(bench.rival, [(m, c) for m, c, _ in spoken[:8]], small)
    return row


_TAIL_S = 0.45  # of silence in every recording, as build_speech.py puts it there


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
    """Peak memory in MB of a process of its own that runs `program`."""
    ends = "\nimport resource\nprint(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)"
    done = subprocess.run([sys.executable, "-c", program + ends], capture_output=True, text=True, check=True)
    return float(done.stdout.split()[-1])
