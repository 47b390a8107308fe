"""Synthetic speech, as speech sets to train on.

    python -m models.build.synthesize prepare TEXTS.jsonl.gz --count N --seed S
    python -m models.build.synthesize ENGINE STEM --minutes M --seed S [--procs N] [--texts TEXTS.jsonl.gz]

The engines: `kokoro` (neural, most of the speech; on a GPU with --device cuda), `espeak` (formants, many throats),
`flite` (unit selection), `flite-times` (the same with the exact end of every phone, for training frame by frame) and
`pico` (small, of five languages). A third of the sentences is said with an accent (accents.py), but for flite-times.
N processes write the sets STEM-00, STEM-01, ...; train.py takes them all. Sentences come from texts.py, or from a list
that `prepare` wrote beforehand: with a list, this module needs numpy only, and Kokoro torch beside it, so that a GPU
machine needs nothing of this project installed.

Some voices are held out: nothing is trained on them, so that tests and demonstrations can speak with voices that the
model has never heard. Those are flite's slt and kal, every voice of festival, three of Kokoro's (kokoro.py) and Pico's
British one.
"""

from __future__ import annotations

import argparse
import gzip
import io
import json
import multiprocessing
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from itertools import cycle, islice
from pathlib import Path
from random import Random
from typing import Any, TextIO

import numpy as np
import numpy.typing as npt

from models.build.en import accents, pico
from models.build.kokoro import HELD_OUT as KOKORO_HELD_OUT
from models.build.kokoro import Kokoro, drawn_manner, trimmed
from models.build.language import DEFAULT, Plain, Pronunciation, Speaking, add_language, language
from models.build.speech_sets import RATE_HZ, SetWriter

ENGINES = ("kokoro", "espeak", "flite", "flite-times", "pico")

FLITE_VOICES = ("awb", "rms")
HELD_OUT = frozenset(
    {"flite:slt", "flite:kal", "flite:kal16", f"pico:{pico.HELD_OUT}", *(f"kokoro:{name}" for name in KOKORO_HELD_OUT)}
)
"""Voices never drawn here, as speech sets name them; festival is not an engine at all."""

# Effects, not throats; or so far from speech that learning them would cost more than it gives.
_ESPEAK_EFFECTS = (
    *("whisper", "croak", "demonic", "robo", "dalek", "alien", "ghost", "iven", "klatt6", "fast", "universal"),
    *("anxious", "travis", "marcelo", "zac", "quincy"),
)
_PEAK = 0.7 * 32767
_SHORTEST = RATE_HZ // 10
_GIVE_UP_AFTER = 20  # sentences in a row that could not be spoken
# A sentence that the engine says otherwise than any dictionary entry, beyond this share of its phones, is left out.
_MOST_DIFFERENT = 0.25
_TOLD_EVERY_S = 15.0

Samples = npt.NDArray[np.int16]


@dataclass(frozen=True)
class Sentence:
    """What to say: words in lower case, and one pronunciation of each in the language's symbols with stress."""

    words: str
    stress: tuple[Pronunciation, ...]


@dataclass(frozen=True)
class Spoken:
    """What an engine said. phones: of each word, as said; ends: of each phone, where known exactly."""

    samples: Samples
    voice: str
    phones: Sequence[Sequence[str]]
    ends: Sequence[tuple[str, float]] | None = None


Engine = Callable[[Random, Sentence], Spoken]


class NotSpokenError(ValueError):
    """An engine could not say a sentence, or said something else."""


# Sentences


def sentences(random: Random, tag: str = DEFAULT) -> Iterator[Sentence]:
    """Sentences without end, each word in one of its pronunciations; those with a word nobody can say are passed."""
    from models.build.texts import sentence  # here: it reads checklists, which a GPU machine does not have

    while True:
        words = sentence(random, tag)
        ways = [language(tag).with_stress(word) for word in words.split()]
        if words and all(ways):
            yield Sentence(words, tuple(random.choice(each) for each in ways))


def prepare(path: Path, count: int, seed: int, tag: str = DEFAULT) -> None:
    """Writes `count` sentences, a row each: {"words": ..., "stress": [[...], ...]}; packed if the name ends in .gz."""
    with _opened(path, "wt") as out:
        for each in islice(sentences(Random(seed), tag), count):
            out.write(json.dumps({"words": each.words, "stress": each.stress}) + "\n")


def prepared(path: Path, worker: int = 0, workers: int = 1) -> list[Sentence]:
    """The worker's share of a list that `prepare` wrote: every `workers`-th row.

    Errors: `ValueError` with the line of a row that is none, and when the share is empty.
    """
    found = []
    with _opened(path, "rt") as lines:
        for number, line in islice(enumerate(lines, 1), worker, None, workers):
            try:
                row = json.loads(line)
                found.append(Sentence(row["words"], tuple(tuple(word) for word in row["stress"])))
            except (ValueError, KeyError, TypeError) as error:
                raise ValueError(f"{path.name}, line {number}: no sentence: {error!r}") from error
    if not found:
        raise ValueError(f"{path.name} has no sentence for worker {worker} of {workers}")
    return found


def _opened(path: Path, mode: str) -> TextIO:
    opener: Any = gzip.open if path.suffix == ".gz" else open
    return opener(path, mode, encoding="utf-8")


# Engines


def kokoro(folder: Path, device: str, tag: str = DEFAULT) -> Engine:
    """Kokoro in drawn voices, speeds and endings. folder: see kokoro.py."""
    speaker, spoken = Kokoro(folder, device, tag), language(tag)

    def say(random: Random, sentence: Sentence) -> Spoken:
        who, said = _with_accent(random, sentence, tag)
        fitting = spoken.accent_voices.get(who.accent, spoken.kokoro_voices)
        manner = drawn_manner(random, speaker.voices, fitting)
        samples = speaker.say(said, manner, seed=random.getrandbits(31))
        return Spoken(samples, _named(manner.voice, who), _labels(sentence, tag))

    return say


def _with_accent(random: Random, sentence: Sentence, tag: str = DEFAULT) -> tuple[Speaking, list[Pronunciation]]:
    """Somebody, and the words as he says them."""
    who = language(tag).somebody(random)
    return who, [who.says(word, random) for word in sentence.stress]


def _named(voice: str, who: Speaking) -> str:
    return f"{voice}~{who.accent}" if who.accent else voice


def _labels(sentence: Sentence, tag: str = DEFAULT) -> list[Pronunciation]:
    """The dictionary's phones, whatever the accent makes of them."""
    return [language(tag).model_phones(word) for word in sentence.stress]


def espeak(random: Random, sentence: Sentence, tag: str = DEFAULT) -> Spoken:
    """espeak-ng in one of its accents and throats, or with an accent by rule.

    It has a dictionary of its own; where it reads by that, our dictionary's first is taken for what it said.
    """
    spoken = language(tag)
    who, said = _with_accent(random, sentence, tag)
    accent = spoken.espeak_voices[0] if who.accent else random.choice(spoken.espeak_voices)
    voice = f"{accent}+{random.choice(_espeak_variants())}"
    speed, pitch = random.randint(120, 190), random.randint(25, 75)
    text = " ".join(f"[[{spoken.espeak_phonemes(word)}]]" for word in said) if who.accent else sentence.words
    command = ["espeak-ng", "-v", voice, "-s", str(speed), "-p", str(pitch), "--stdout", text]
    samples = _levelled(trimmed(_at_our_rate(_run(command))))
    usual = [spoken.pronunciations(word)[0] for word in sentence.words.split()]
    phones = _labels(sentence, tag) if who.accent else usual
    return Spoken(samples, _named(f"espeak:{voice}", who), phones)


@cache
def _espeak_variants() -> tuple[str, ...]:
    """The names of espeak-ng's throats, without the effects among them."""
    rows = _run(["espeak-ng", "--voices=variant"]).decode().splitlines()[1:]
    # Pty Language Age/Gender VoiceName File: names and files may hold blanks, written as underscores, or not.
    names = {row.partition("!v/")[2].strip() for row in rows if "!v/" in row}
    return tuple(sorted(name for name in names if not any(effect in name.lower() for effect in _ESPEAK_EFFECTS)))


def flite(random: Random, sentence: Sentence, *, times: bool = False) -> Spoken:
    """flite, which speaks English, in one of its two voices that are not held out.

    flite tells which phones it said: every word gets the pronunciation that comes nearest. times: keep their ends too.
    """
    who, said = (Plain(), []) if times else _with_accent(random, sentence)
    voice = random.choice(FLITE_VOICES)
    stretch, pitch = random.uniform(0.8, 1.2), random.randint(85, 150)
    settings = [f"duration_stretch={stretch:.2f}", f"int_f0_target_mean={pitch}"]
    by_phones = " ".join(phone.lower() for word in said for phone in language().model_phones(accents.nearest(word)))
    what = ["-p", f"pau {by_phones} pau"] if who.accent else ["-t", sentence.words]
    with tempfile.TemporaryDirectory() as folder:
        sound = Path(folder) / "said.wav"
        command = ["flite", "-voice", voice, "-psdur", "--setf", settings[0], "--setf", settings[1]]
        told = _run([*command, *what, "-o", str(sound)]).decode()
        samples = _at_our_rate(sound.read_bytes())
    if who.accent:
        return Spoken(_levelled(trimmed(samples)), _named(f"flite:{voice}", who), _labels(sentence))
    ends = flite_ends(told)
    phones = nearest_pronunciations(sentence.words.split(), [name for name, _ in ends if name != "SIL"])
    # Cutting silence off would move the times.
    return Spoken(_levelled(samples if times else trimmed(samples)), f"flite:{voice}", phones, ends if times else None)


def pico_speech(random: Random, sentence: Sentence) -> Spoken:
    """Pico in one of its voices; those of other languages are accents of their own."""
    who, said = _with_accent(random, sentence)
    (voice,) = random.choices(list(pico.VOICES), weights=list(pico.VOICES.values()))
    samples = pico.say(said, voice, random) / 32768
    return Spoken(_levelled(trimmed(samples)), _named(f"pico:{voice}", who), _labels(sentence))


def flite_ends(told: str) -> list[tuple[str, float]]:
    """What flite prints with -psdur, as phones of ours with their ends in seconds.

    >>> flite_ends("pau:0.239 t:0.313 ax:0.448")
    [('SIL', 0.239), ('T', 0.313), ('AX', 0.448)]
    """
    found = []
    for entry in told.split():
        name, colon, end = entry.rpartition(":")
        if colon:
            found.append(("SIL" if name == "pau" else name.upper(), float(end)))
    return found


def nearest_pronunciations(words: Sequence[str], said: Sequence[str]) -> list[Pronunciation]:
    """Of each word the pronunciation that together come nearest to the phones that were said.

    Words are settled one after the other, from the first, which is enough: their choices hardly touch.

    Errors: `NotSpokenError` when even the nearest are far from it.

    >>> nearest_pronunciations(["a", "tile"], ["EY", "T", "AY", "L"])
    [('EY',), ('T', 'AY', 'L')]
    """
    ways = [language().pronunciations(word) for word in words]
    chosen = [each[0] for each in ways]

    def distance() -> int:
        return edits([phone for word in chosen for phone in word], said)

    least = distance()
    for place, each in enumerate(ways):
        for way in each[1:]:
            before, chosen[place] = chosen[place], way
            if (now := distance()) < least:
                least = now
            else:
                chosen[place] = before
    if least > _MOST_DIFFERENT * max(1, len(said)):
        raise NotSpokenError(f"{' '.join(words)!r} was said as {' '.join(said)}")
    return chosen


def edits(a: Sequence[str], b: Sequence[str]) -> int:
    """How many phones must be put in, left out or changed to make `b` of `a` (Levenshtein)."""
    row = list(range(len(b) + 1))
    for i, left in enumerate(a, 1):
        diagonal, row[0] = row[0], i
        for j, right in enumerate(b, 1):
            diagonal, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, diagonal + (left != right))
    return row[-1]


def _run(command: Sequence[str]) -> bytes:
    """What a program prints. Errors: `SystemExit` when it is not there, `NotSpokenError` when it fails."""
    try:
        return subprocess.run(command, check=True, capture_output=True).stdout
    except FileNotFoundError as error:
        raise SystemExit(f"{command[0]} is missing: apt-get install flite espeak-ng") from error
    except subprocess.CalledProcessError as error:
        raise NotSpokenError(f"{command[0]} failed: {error.stderr.decode(errors='replace').strip()}") from error


def _at_our_rate(wav: bytes) -> npt.NDArray[np.float64]:
    """A sound file's first channel at 16 kHz."""
    import soundfile  # here: a GPU machine has neither, and speaks with Kokoro alone
    import soxr

    samples, rate = soundfile.read(io.BytesIO(wav), dtype="float64", always_2d=True)
    return samples[:, 0] if rate == RATE_HZ else soxr.resample(samples[:, 0], rate, RATE_HZ)


def _levelled(samples: npt.NDArray[np.float64]) -> Samples:
    """With a peak of 0.7 of full scale. Errors: `NotSpokenError` for silence."""
    peak = float(np.abs(samples).max(initial=0.0))
    if peak < 1e-4:
        raise NotSpokenError("no sound")
    return (samples * (_PEAK / peak)).astype(np.int16)


def engine(name: str, folder: Path, device: str, tag: str = DEFAULT) -> Engine:
    """The engine of that name, one of those that speak the language; folder and device are Kokoro's."""
    spoken = language(tag)
    if name not in spoken.engines:
        raise ValueError(f"no engine of {tag} is called {name!r}: there are {', '.join(spoken.engines)}")
    match name:
        case "kokoro":
            return kokoro(folder, device, tag)
        case "espeak":
            return partial(espeak, tag=tag)
        case "flite":
            return flite
        case "flite-times":
            return lambda random, sentence: flite(random, sentence, times=True)
        case "pico":
            return pico_speech
    raise AssertionError(name)


# The stage


@dataclass(frozen=True)
class Job:
    """What to make. minutes: of speech, by all processes together; within: minutes of work after which to stop."""

    engine: str
    stem: Path
    minutes: float
    seed: int
    procs: int
    texts: Path | None
    kokoro: Path
    device: str
    within: float | None
    language: str = DEFAULT


def make(job: Job, worker: int, tell: Callable[[int, float, int], None], deadline: float | None = None) -> None:
    """One process's part of a job, the set STEM-NN.

    tell: is called after every sentence with how many were said, the seconds of speech, and how many were left out.
    deadline: of `time.time()`.

    Errors: `NotSpokenError` when too many sentences in a row cannot be said.
    """
    random = Random(f"{job.seed} {worker}")
    source = sentences(random, job.language) if job.texts is None else cycle(prepared(job.texts, worker, job.procs))
    say = engine(job.engine, job.kokoro, _device(job.device, worker), job.language)
    count = left_out = in_a_row = 0
    with SetWriter(job.stem.with_name(f"{job.stem.name}-{worker:02}"), job.language) as out:
        for sentence in source:
            if out.seconds >= 60 * job.minutes / job.procs or (deadline is not None and time.time() > deadline):
                return
            try:
                spoken = say(random, sentence)
                if len(spoken.samples) < _SHORTEST:
                    raise NotSpokenError("next to nothing was said")
                out.add(spoken.samples, sentence.words, spoken.phones, spoken.voice, spoken.ends)
            except ValueError as error:
                left_out, in_a_row = left_out + 1, in_a_row + 1
                if in_a_row >= _GIVE_UP_AFTER:
                    raise NotSpokenError(f"{in_a_row} sentences in a row could not be said: {error}") from error
            else:
                count, in_a_row = count + 1, 0
            tell(count, out.seconds, left_out)


def _process(job: Job, worker: int, figures: Any, deadline: float | None) -> None:
    if job.engine == "kokoro":
        import torch

        torch.set_num_threads(1)
        torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = False

    def tell(count: int, seconds: float, left_out: int) -> None:
        figures[3 * worker : 3 * worker + 3] = [count, seconds, left_out]

    make(job, worker, tell, deadline)


def _device(device: str, worker: int) -> str:
    """Processes share out the GPUs where the device is just "cuda"."""
    if device != "cuda":
        return device
    import torch

    number = worker % torch.cuda.device_count()
    torch.cuda.set_device(number)
    return f"cuda:{number}"


def run(job: Job) -> int:
    """A job in all its processes, told as it goes; 0 when all went well. What a process wrote until it failed stays."""
    # Each process does one thing; threads of the libraries below would only get in each other's way.
    os.environ.update(OMP_NUM_THREADS="1", MKL_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")
    context = multiprocessing.get_context("spawn")  # CUDA does not survive a fork
    figures = context.Array("d", 3 * job.procs, lock=False)
    begun = told = time.time()
    deadline = None if job.within is None else begun + 60 * job.within
    processes = [context.Process(target=_process, args=(job, k, figures, deadline)) for k in range(job.procs)]
    for process in processes:
        process.start()

    def line() -> str:
        count, seconds, left_out = (sum(figures[k::3]) for k in range(3))
        speed = seconds / max(time.time() - begun, 1e-9)
        return (
            f"{job.engine}: {count:.0f} sentences, {seconds / 60:.1f} min of speech, {left_out:.0f} left out, "
            f"{time.time() - begun:.0f} s, {speed:.1f} x real time"
        )

    while any(process.is_alive() for process in processes):
        time.sleep(0.1)
        if time.time() - told >= _TOLD_EVERY_S:
            told = time.time()
            print(line(), flush=True)
    print(line(), flush=True)
    failed = [k for k, process in enumerate(processes) if process.exitcode]
    if failed:
        print(f"failed: process {', '.join(map(str, failed))} (see above)", file=sys.stderr)
    return 1 if failed else 0


def main(arguments: Sequence[str] | None = None) -> int:
    """The stage's command line."""
    parser = argparse.ArgumentParser(prog="python -m models.build.synthesize", description=__doc__.partition("\n")[0])
    modes = parser.add_subparsers(dest="engine", required=True)
    listing = modes.add_parser("prepare", help="write a list of sentences to say")
    listing.add_argument("path", type=Path, metavar="TEXTS.jsonl.gz")
    listing.add_argument("--count", type=int, required=True)
    listing.add_argument("--seed", type=int, required=True)
    add_language(listing)
    for name in ENGINES:
        mode = modes.add_parser(name, help=f"speak with {name}")
        mode.add_argument("stem", type=Path, help="the sets' name; -00, -01, ... are added")
        mode.add_argument("--minutes", type=float, required=True, help="of speech")
        mode.add_argument("--seed", type=int, required=True)
        mode.add_argument("--procs", type=int, default=1)
        mode.add_argument("--texts", type=Path, help="a list that `prepare` wrote; else sentences are made up")
        mode.add_argument("--within", type=float, metavar="MINUTES", help="stop after so many minutes of work")
        add_language(mode)
        mode.set_defaults(kokoro=Path("lab/kokoro"), device="cpu")
        if name == "kokoro":
            mode.add_argument("--kokoro", type=Path, metavar="FOLDER", help="lab/kokoro")
            mode.add_argument("--device", help="as torch names it: cpu (default), cuda")
    given = parser.parse_args(arguments)
    if given.engine == "prepare":
        prepare(given.path, given.count, given.seed, given.language)
        return 0
    return run(Job(**vars(given)))


if __name__ == "__main__":
    sys.exit(main())
