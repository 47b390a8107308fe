"""What `[unk]` keeps out and what it loses, for several costs of its phones: the choice of `graph.UNK_COST`.

    python -m models.build.unknown MODEL WORDS SET... --talk SET [--costs 1.5 2 3]

SETs hold what should be heard (other sentences than those of training); the set of --talk holds people's talk, which
is cut into pieces of two seconds. The phrases of all SETs and `[unk]` are listed, as a user of vosk would. A sentence
is heard as the first alternative that is a phrase or has `[unk]` in it; talk passes where that is a phrase. Beside the
sets as they are, each sentence is heard in pink noise and in a tile saw's, 10 dB below it.
"""

from __future__ import annotations

import argparse
import json
import shutil
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from models.build import graph
from models.build.augment import active_rms, coloured, tile_saw
from models.build.language import DEFAULT, add_language
from models.build.speech_sets import RATE_HZ, Utterance, read_set

COSTS = (1.5, 2.0, 2.5, 2.75, 3.0, 5.0)
NOISES = ("none", "pink", "saw")
_SNR_DB = 10.0
_EDGE = RATE_HZ // 4
_PIECE = 2 * RATE_HZ
_HISS = 3.0  # of the quiet around a sentence: no microphone gives zeros

Samples = npt.NDArray[np.int16]


@dataclass(frozen=True)
class Found:
    """Shares, 0 to 1. cost: nats a phone, None where `[unk]` is not listed; right: of the sentences, by NOISES."""

    cost: float | None
    right: tuple[float, ...]
    passed: float


def sounds(said: Sequence[Utterance], noise: str, seed: int) -> list[tuple[Samples, str]]:
    """Sentences with a quarter of a second before and after, in one of NOISES; with their words."""
    random = np.random.default_rng(seed)
    made = []
    for one in said:
        sound = np.pad(one.audio().astype(np.float32), _EDGE)
        sound += random.standard_normal(len(sound), dtype=np.float32) * _HISS
        if noise != "none":
            beside = coloured(random, len(sound), 1) if noise == "pink" else tile_saw(random, len(sound))
            sound += beside * np.float32(active_rms(sound) * 10 ** (-_SNR_DB / 20))
        made.append((np.clip(sound, -32768, 32767).astype(np.int16), one.words))
    return made


def pieces(talk: Iterable[Utterance]) -> list[Samples]:
    """Talk in pieces of two seconds; what is left over at the end of a recording is left out."""
    return [
        audio[at : at + _PIECE]
        for one in talk
        for audio in [one.audio()]
        for at in range(0, len(audio) - _PIECE, _PIECE)
    ]


def heard(engine: Any, samples: Samples, phrases: frozenset[str]) -> str:
    """The first alternative that is a phrase, or has `[unk]` in it; "" where none is. engine: a KaldiRecognizer."""
    engine.AcceptWaveform(samples.astype("<i2").tobytes())
    alternatives = [given["text"].strip() for given in json.loads(engine.FinalResult())["alternatives"]]
    return next((text for text in alternatives if text in phrases or graph.UNKNOWN in text), "")


def measure(
    model: Path,
    words: Sequence[str],
    said: Sequence[Utterance],
    talk: Sequence[Utterance],
    costs: Sequence[float],
    tag: str = DEFAULT,
) -> list[Found]:
    """Without `[unk]`, then with it at each of the costs."""
    import vosk  # here: only this stage hears

    vosk.SetLogLevel(-1)
    phrases = frozenset(one.words for one in said)
    listed = sorted(phrases)
    spoken = [sounds(said, noise, seed) for seed, noise in enumerate(NOISES)]
    foreign = pieces(talk)
    found = []
    for cost in (None, *costs):
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(folder) / "model"
            shutil.copytree(model, copy)
            if cost is not None:
                graph.build(words, copy / "graph", tag, unk_cost=cost)
            loaded = vosk.Model(str(copy))
        engine = vosk.KaldiRecognizer(
            loaded, RATE_HZ, json.dumps([*listed, *([] if cost is None else [graph.UNKNOWN])])
        )
        engine.SetMaxAlternatives(10)
        right = [sum(heard(engine, sound, phrases) == text for sound, text in each) / len(each) for each in spoken]
        passed = sum(heard(engine, piece, phrases) in phrases for piece in foreign) / max(1, len(foreign))
        found.append(Found(cost, tuple(right), passed))
    return found


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure and print a table."""
    parser = argparse.ArgumentParser(prog="python -m models.build.unknown", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("model", type=Path, help="a folder that vosk loads")
    parser.add_argument("words", type=Path, help="as words.py wrote them")
    parser.add_argument("sets", type=Path, nargs="+", metavar="SET")
    parser.add_argument("--talk", type=Path, required=True, metavar="SET")
    parser.add_argument("--costs", type=float, nargs="+", default=COSTS, help="nats a phone")
    add_language(parser)
    options = parser.parse_args(arguments)
    said = [one for stem in options.sets for one in read_set(stem, options.language)]
    words = options.words.read_text(encoding="utf-8").split()
    talk = read_set(options.talk, options.language)
    rows = measure(options.model, words, said, talk, options.costs, options.language)
    print(f"{len(said)} sentences, {len(pieces(talk))} pieces of talk\n")
    print(f"| nats a phone | {' | '.join(NOISES)} | talk that passes |\n|{'---|' * (len(NOISES) + 2)}")
    for row in rows:
        shares = " | ".join(f"{share:.1%}" for share in (*row.right, row.passed))
        print(f"| {'not listed' if row.cost is None else f'{row.cost:g}'} | {shares} |")


if __name__ == "__main__":
    main()
