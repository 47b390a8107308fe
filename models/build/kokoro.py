"""Speech from Kokoro-82M, a small neural synthesizer (Apache-2.0), with exactly the phones we ask for.

Its input is phonetic symbols, so our pronunciations go in directly and no text processing of its own can change
them: what was said is known. Voices are tables of style vectors; two of them mixed make a new voice.

A folder for it holds either what is published (`kokoro.onnx`, `vocab.json`, `voices/NAME.bin`) and `kokoro.npz`, made
by dequantize.py, or the smaller form that this module packs for a machine with a GPU and nothing but torch and numpy:

    python -m models.build.kokoro FOLDER TARGET [--parts MEGABYTES] [--rows N]

Needs torch and numpy only (packing also needs `onnx`).
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import numpy.typing as npt

from models.build.dequantize import Graph, Node, dequantized, halved, read_graph, read_onnx, write_graph
from models.build.language import DEFAULT, language

Array = npt.NDArray[Any]
Stressed = Sequence[Sequence[str]]
"""A sentence: of every word its phones, in the language's symbols with stress."""

HELD_OUT = frozenset({"af_bella", "bm_george", "am_puck"})
"""Voices that no training speech is ever made with: test and demonstration speech is."""

NETWORK = "kokoro.npz"
VOICES = "voices.npz"
SYMBOLS = "vocab.json"
_NETWORK_RATE_HZ, _RATE_HZ = 24_000, 16_000
_STYLE = 256  # numbers in a style vector
_TIMBRE = 128  # the first of them, which the decoder takes; lengths, pitch and loudness follow from the others
_PEAK = 0.7  # of full scale, for every sentence

_ENDINGS = (".", "", "", "?", "!", ",")


@dataclass(frozen=True)
class Manner:
    """How one sentence is said. style: (rows, 256), a row for every length in symbols; speed: 1 is the voice's own."""

    voice: str
    style: Array
    speed: float
    ending: str


def read_voices(folder: Path) -> dict[str, Array]:
    """The voices of a folder, each a table of styles (rows, 256), float32.

    Errors: `FileNotFoundError` when the folder has none.
    """
    packed = folder / VOICES
    if packed.exists():
        with np.load(packed, allow_pickle=False) as tables:
            return {name: tables[name].astype(np.float32) for name in tables.files}
    found = {
        path.stem: np.fromfile(path, dtype="<f4").reshape(-1, _STYLE)
        for path in sorted((folder / "voices").glob("*.bin"))
    }
    if not found:
        raise FileNotFoundError(f"{folder} has no voices: neither {VOICES} nor voices/NAME.bin")
    return found


def drawn_manner(random: Random, voices: Mapping[str, Array], fitting: str) -> Manner:
    """A manner drawn for training: the timbre of one voice or two mixed, often with the melody of another one.

    Never one that is held out. fitting: first letters of voices that are taken more often than the others, as those of
    the language; voices of others carry their accents' melody and timbre over.
    """
    names = sorted(set(voices) - HELD_OUT)
    usual = [name for name in names if name[0] in fitting] or names

    def drawn(mixed: float) -> tuple[str, Array]:
        name, other = (random.choice(usual if random.random() < 0.6 else names) for _ in range(2))
        if random.random() >= mixed:
            return name, voices[name]
        share = random.uniform(0.25, 0.75)
        return f"{name}*{share:.2f}+{other}", share * voices[name] + (1 - share) * voices[other]

    name, style = drawn(0.55)
    if random.random() < 0.35:
        melody, spoken = drawn(0.3)
        name, style = f"{name}/{melody}", np.concatenate([style[:, :_TIMBRE], spoken[:, _TIMBRE:]], axis=1)
    return Manner(f"kokoro:{name}", style, random.uniform(0.8, 1.35), random.choice(_ENDINGS))


class Kokoro:
    """The synthesizer, loaded. folder: see the module; device: as torch names it ("cpu", "cuda");
    tag: of the language that is spoken.

    Errors: `FileNotFoundError` for a folder that lacks a part, `ValueError` for a damaged network.
    """

    def __init__(self, folder: Path, device: str = "cpu", tag: str = DEFAULT) -> None:
        import torch

        from models.build.onnx_torch import TorchGraph

        self.voices = read_voices(folder)
        self._ipa = language(tag).ipa
        self._symbols: dict[str, int] = json.loads((folder / SYMBOLS).read_text(encoding="utf-8"))["vocab"]
        self._torch = torch
        graph = with_source_noise(read_graph(folder / NETWORK))
        self._network = TorchGraph(graph, device, by_product=device != "cpu")
        self._filter = torch.tensor(resampling_filter(), dtype=torch.float32, device=device)

    def say(self, words: Stressed, manner: Manner, seed: int) -> npt.NDArray[np.int16]:
        """A sentence as samples at 16 kHz, the silence around it cut to 0.1 s.

        seed: of the breath in the voice. The same seed gives the same sound on the same kind of device.

        Errors: `ValueError` when no sound came out.
        """
        written = " ".join(self._ipa(word) for word in words) + manner.ending
        tokens = [0, *(self._symbols[symbol] for symbol in written), 0]
        style = manner.style[min(len(written), len(manner.style) - 1)]
        self._torch.manual_seed(seed)
        sound = self._network(
            tokens=np.array([tokens]),
            style=style[None].astype(np.float32),
            speed=np.array([manner.speed], dtype=np.float32),
        )
        samples = self._at_our_rate(sound.reshape(-1)).cpu().numpy()
        peak = float(np.abs(samples).max()) if np.isfinite(samples).all() else 0.0
        if peak < 1e-3:
            raise ValueError("the network gave no sound")
        return (trimmed(samples) * (_PEAK / peak * 32767)).astype(np.int16)

    def _at_our_rate(self, sound: Any) -> Any:
        """24 kHz to 16 kHz: every other value a zero, filtered, every third value of that."""
        with self._torch.inference_mode():
            half = len(self._filter) // 2
            spread = sound.new_zeros(2 * len(sound) + 2 * half)
            spread[half:-half:2] = sound
            return self._torch.matmul(spread.unfold(0, len(self._filter), 3), self._filter)


def resampling_filter() -> Array:
    """The low pass for two thirds of a rate: 61 taps, a Kaiser window of 5 (the customary one for this)."""
    place = np.arange(61) - 30
    taps = np.sinc(place / 3) * np.kaiser(61, 5.0)
    return 2 * taps / taps.sum()


def trimmed(samples: Array, margin: int = _RATE_HZ // 10) -> Array:
    """Without what lies before and after the sound, where 10 ms have 40 dB less than the loudest 10 ms; but `margin`
    samples of it stay.
    """
    total = np.concatenate([[0.0], np.cumsum(samples.astype(np.float64) ** 2)])
    place = np.arange(len(samples))
    energy = total[np.minimum(place + 80, len(samples))] - total[np.maximum(place - 80, 0)]
    loud = np.flatnonzero(energy > energy.max() * 1e-4)
    if not len(loud):
        return samples
    return samples[max(0, loud[0] - margin) : loud[-1] + margin]


def with_source_noise(graph: Graph) -> Graph:
    """The network with the noise in its voice source that the published one has and the exported file leaves out.

    The source is a hum of the pitch and its harmonics (amplitude 0.1), with Gaussian noise of 0.003 where there is
    voice, and of a third of the hum where there is none (Wang, Takaki and Yamagishi 2019, "Neural source-filter
    waveform models", from memory). Without it unvoiced sounds are formed from nothing but rounding errors. `graph` is
    changed. Errors: `ValueError` when the source is not found.
    """
    hum = next((node for node in graph.nodes if node.outs[0].endswith("m_source/l_linear/MatMul_output_0")), None)
    gate = next((node for node in graph.nodes if hum and node.outs[0] == hum.ins[0] and node.op == "Mul"), None)
    if hum is None or gate is None:
        raise ValueError("this is not the synthesizer's network: it has no voice source")
    voiced = gate.ins[1]
    constants = {
        name: graph.constant(f"noise.{name}", np.array(value, np.float32))
        for name, value in {"difference": 0.003 - 0.1 / 3, "unvoiced": 0.1 / 3}.items()
    }
    place = graph.nodes.index(hum)
    graph.nodes[place:place] = [
        Node("RandomNormalLike", [gate.outs[0]], ["noise.even"]),
        Node("Mul", [voiced, constants["difference"]], ["noise.change"]),
        Node("Add", ["noise.change", constants["unvoiced"]], ["noise.level"]),
        Node("Mul", ["noise.even", "noise.level"], ["noise.shaped"]),
        Node("Add", [gate.outs[0], "noise.shaped"], ["noise.source"]),
    ]
    hum.ins[0] = "noise.source"
    return graph


def pack(folder: Path, target: Path, *, part_bytes: int | None, rows: int) -> list[Path]:
    """Writes the small form of a published folder, without the voices held out; gives the files.

    rows: how many lengths a voice keeps; longer sentences take the last row.
    """
    target.mkdir(parents=True, exist_ok=True)
    for old in target.glob(f"{NETWORK}*"):
        old.unlink()
    graph = halved(dequantized(read_onnx(folder / "kokoro.onnx")))
    files = write_graph(graph, target / NETWORK, part_bytes=part_bytes)
    kept = {name: table for name, table in read_voices(folder).items() if name not in HELD_OUT}
    arrays = {name: table[:rows].astype(np.float16) for name, table in kept.items()}
    np.savez_compressed(target / VOICES, allow_pickle=False, **arrays)
    shutil.copyfile(folder / SYMBOLS, target / SYMBOLS)
    return [*files, target / VOICES, target / SYMBOLS]


def main(arguments: Sequence[str] | None = None) -> int:
    """The packing stage's command line."""
    parser = argparse.ArgumentParser(prog="python -m models.build.kokoro", description=__doc__.partition("\n")[0])
    parser.add_argument("folder", type=Path, help="kokoro.onnx, vocab.json and voices/ as published")
    parser.add_argument("target", type=Path, help="the folder to write")
    parser.add_argument("--parts", type=float, metavar="MEGABYTES", help="cut the network into parts of this size")
    parser.add_argument("--rows", type=int, default=200, help="lengths that a voice keeps (200)")
    given = parser.parse_args(arguments)
    part_bytes = None if given.parts is None else int(given.parts * 1e6)
    for path in pack(given.folder, given.target, part_bytes=part_bytes, rows=given.rows):
        print(f"{path}: {path.stat().st_size / 1e6:.1f} MB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
