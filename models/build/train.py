"""Train the acoustic network: first on frames whose phones are known, then on whole sentences (LF-MMI).

    python -m models.build.train frames  out.pt SET... --steps 2000
    python -m models.build.train phrases out.pt SET... --start in.pt --steps 6000

A SET is a speech set without its ending; `SET:0.5` draws half as many from it as its length says. Runs on a GPU where
there is one. The same seed, sets, workers and steps draw the same batches; a GPU's own sums differ in the last digits.

Sources: Povey et al. 2016, "Purely sequence-trained neural networks for ASR based on lattice-free MMI"; Hadian et al.
2018, "End-to-end speech recognition using lattice-free MMI", for training without alignments. A flat start hardly
moves, so that the network first learns the frames of a synthesizer that tells its phones' exact times.
"""

from __future__ import annotations

import argparse
import math
import os
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import torch
from threadpoolctl import threadpool_limits

from models.build.augment import Augmenter
from models.build.features import mfcc
from models.build.loss import Objective, PhoneBigram
from models.build.network import CONTEXT, SUBSAMPLING, TdnnF, constrain_orthonormal, parameter_groups, restored
from models.build.speech_sets import RATE_HZ, Utterance, read_set
from models.build.units import UNIT_ID

LONGEST_S = 9.0
WINDOW = 400  # samples of one frame
# Speakers and speeds that the sets do not have: vocal tracts of 0.8 to 1.22, frames every 7.8 to 12.5 ms.
WARP = (0.80, 1.22)
HOP = (124, 200)
_POOL = 1500  # utterances that are sorted by length into batches
_TIGHT = 1400  # samples: recordings that are cut close to the speech
_BABBLE_S = 300
_FRESH_NOISE = 40  # pools between new noise
_L2 = 1e-4


@dataclass(frozen=True)
class Batch:
    """features: (utterances, frames + 2 x CONTEXT, 40); wanted: pdfs of each output frame, or the units of each."""

    features: torch.Tensor
    wanted: Any


class Batches(torch.utils.data.IterableDataset[Batch]):
    """Batches without end, augmented as they are drawn.

    sets: utterances of each set; weights: how often each set is drawn; frames: of features in one batch.
    """

    def __init__(
        self, sets: Sequence[Sequence[Utterance]], weights: Sequence[float], frames: int, seed: int, *, by_frames: bool
    ) -> None:
        self.sets, self.frames, self.seed, self.by_frames = sets, frames, seed, by_frames
        share = np.array([w * sum(u.samples for u in s) for s, w in zip(sets, weights, strict=True)], dtype=float)
        self.share = share / share.sum()

    def __iter__(self) -> Iterator[Batch]:
        # Every core has a worker; without this each of them would start a thread for every core again.
        torch.set_num_threads(1)
        threadpool_limits(1)
        worker = torch.utils.data.get_worker_info()
        seed = self.seed * 1000 + (worker.id if worker is not None else 0)
        random = np.random.default_rng(seed)
        augmenter = self._augmenter(seed, random)
        pools = 0
        while True:
            pools += 1
            if pools % _FRESH_NOISE == 0:
                augmenter = self._augmenter(seed + 1_000_000 * pools, random)
            pool = []
            for number in random.choice(len(self.sets), _POOL, p=self.share):
                chosen = self.sets[number]
                pool.append((chosen[int(random.integers(len(chosen)))], int(random.integers(*HOP))))
            groups = self._grouped(pool)
            for number in random.permutation(len(groups)):
                yield self._batch(groups[number], augmenter, random)

    def _augmenter(self, seed: int, random: np.random.Generator) -> Augmenter:
        """Noise anew, with other people's talk in it."""
        talk: list[npt.NDArray[np.int16]] = []
        while sum(len(part) for part in talk) < _BABBLE_S * RATE_HZ:
            chosen = self.sets[int(random.choice(len(self.sets), p=self.share))]
            talk.append(chosen[int(random.integers(len(chosen)))].audio())
        return Augmenter(seed, np.concatenate(talk))

    def _grouped(self, pool: list[tuple[Utterance, int]]) -> list[list[tuple[Utterance, int]]]:
        """Utterances of nearly one length together, so that little of a batch is padding."""
        pool.sort(key=lambda pair: pair[0].samples / pair[1])
        groups: list[list[tuple[Utterance, int]]] = [[]]
        for pair in pool:
            longest = pair[0].samples // pair[1]
            if groups[-1] and (longest + 60) * (len(groups[-1]) + 1) > self.frames:
                groups.append([])
            groups[-1].append(pair)
        return groups

    def _batch(self, group: list[tuple[Utterance, int]], augmenter: Augmenter, random: np.random.Generator) -> Batch:
        frames = max(u.samples // hop for u, hop in group) + int(random.integers(15, 90))
        features, wanted = [], []
        for utterance, hop in group:
            audio = utterance.audio()
            if not self.by_frames and len(audio) > 4 * _TIGHT and random.random() < 0.6:
                audio = audio[int(random.integers(0, _TIGHT)) : len(audio) - int(random.integers(0, _TIGHT))]
            sound = augmenter.make(audio, (frames - 1) * hop + WINDOW)
            sound = sound + random.standard_normal(len(sound), dtype=np.float32)  # as Kaldi's dither
            low = int(random.integers(0, 36))
            masked = (low, min(40, low + int(random.integers(2, 9)))) if random.random() < 0.35 else None
            warp = float(np.exp(random.uniform(*np.log(WARP))))
            made = mfcc(sound.astype(np.float32), warp=warp, hop=hop, masked=masked)
            features.append(np.pad(made, ((CONTEXT, CONTEXT), (0, 0)), "edge"))
            wanted.append(
                pdfs_by_time(utterance, augmenter.placed, frames, hop) if self.by_frames else supervision(utterance)
            )
        stacked = torch.from_numpy(np.stack(features).astype(np.float32))
        return Batch(stacked, torch.from_numpy(np.stack(wanted)) if self.by_frames else wanted)


def supervision(utterance: Utterance) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.bool_]]:
    """The units of an utterance, with a silence between words that may be left out, and which of them may."""
    units, optional = [UNIT_ID["SIL"]], [True]
    for word in utterance.phones:
        units += [UNIT_ID[phone] for phone in word] + [UNIT_ID["SIL"]]
        optional += [False] * len(word) + [True]
    return np.array(units), np.array(optional)


def pdfs_by_time(utterance: Utterance, placed: int, frames: int, hop: int) -> npt.NDArray[np.int64]:
    """The pdf of each output frame, from the end times of the phones; silence before and after.

    placed: the sample at which the utterance begins in what was made of it; frames: of features, `hop` samples apart.
    """
    assert utterance.ends is not None
    middle = (np.arange(0, frames, SUBSAMPLING) * hop + WINDOW / 2 - placed) / RATE_HZ
    ends = np.array([end for _, end in utterance.ends])
    units = np.array([*(UNIT_ID[name] for name, _ in utterance.ends), UNIT_ID["SIL"]])
    at = np.where(middle < 0, len(units) - 1, np.searchsorted(ends, middle))
    spoken = units[at]
    # Silence before the utterance and in it is one silence.
    goes_on = (at[1:] == at[:-1]) | ((spoken[1:] == spoken[:-1]) & (spoken[1:] == UNIT_ID["SIL"]))
    return np.asarray(2 * spoken + np.concatenate([[0], goes_on]), dtype=np.int64)


def load(specifications: Sequence[str], *, by_frames: bool) -> tuple[list[list[Utterance]], list[float]]:
    """The sets that were named, and their weights. What is too long, or has unknown phones, is left out."""
    sets, weights = [], []
    for specification in specifications:
        stem, _, weight = specification.partition(":")
        usable = [u for u in read_set(Path(stem)) if u.samples <= LONGEST_S * RATE_HZ and (u.ends or not by_frames)]
        if not usable:
            raise SystemExit(f"{stem} holds nothing to train on{' with times of phones' if by_frames else ''}.")
        sets.append(usable)
        weights.append(float(weight or 1))
    return sets, weights


def main() -> None:
    """Train, tell the progress, write the network."""
    options = _options()
    torch.manual_seed(options.seed)
    device = torch.device(options.device or ("cuda" if torch.cuda.is_available() else "cpu"))
    by_frames = options.stage == "frames"
    sets, weights = load(options.sets, by_frames=by_frames)
    hours = sum(u.samples for s in sets for u in s) / RATE_HZ / 3600
    print(f"{sum(map(len, sets))} utterances, {hours:.1f} h, on {device}", flush=True)
    torch.backends.cuda.matmul.allow_tf32 = True  # the network's products; the objective's are in float64
    network = TdnnF() if options.start is None else restored(options.start)
    loader = torch.utils.data.DataLoader(
        Batches(sets, weights, options.frames, options.seed, by_frames=by_frames),
        batch_size=None,
        num_workers=options.workers,
        prefetch_factor=4 if options.workers else None,
    )
    batches = iter(loader)
    if options.start is None:
        first = torch.cat([next(batches).features.reshape(-1, 40) for _ in range(4)])
        network.whiten(first.mean(0), first.std(0))
    network.to(device).train()
    judge = by_pdf if by_frames else _by_phrase(sets, device)
    body, top = parameter_groups(network)
    rates = [options.rate, options.rate * options.top]
    optimizer = torch.optim.AdamW(
        [{"params": body, "lr": rates[0]}, {"params": top, "lr": rates[1]}], weight_decay=1e-3, betas=(0.9, 0.98)
    )
    begun, heard_s, waited_s, values = time.monotonic(), 0.0, 0.0, []
    step = 0
    while step < options.steps and time.monotonic() - begun < options.minutes * 60:
        done = max(step / options.steps, (time.monotonic() - begun) / (options.minutes * 60))
        for group, rate in zip(optimizer.param_groups, rates, strict=True):
            group["lr"] = rate * min(1.0, (step + 1) / options.warm) * max(0.01, 1 - done)
        asked = time.monotonic()
        batch = next(batches)
        waited_s += time.monotonic() - asked
        output = network(batch.features.to(device, non_blocking=True), options.drop * (1 - done))
        value, gradient = judge(output, batch.wanted)
        optimizer.zero_grad(set_to_none=True)
        # Large outputs are a network's way to be sure of everything: a little is taken off them.
        output.backward(gradient + 2 * _L2 * output.detach() / output[..., 0].numel() * 100)
        torch.nn.utils.clip_grad_norm_(network.parameters(), 20.0)
        optimizer.step()
        step += 1
        if step % 4 == 0:
            constrain_orthonormal(network)
        heard_s += batch.features.shape[0] * (batch.features.shape[1] - 2 * CONTEXT) / 100
        values.append(value)
        if step % options.tell == 0:
            spent = time.monotonic() - begun
            print(
                f"step {step}, {spent / 60:.1f} min, {np.mean(values[-options.tell :]):.4f}, "
                f"{heard_s / 3600:.1f} h heard, {heard_s / spent:.0f} x real time, "
                f"{waited_s / spent:.0%} waiting for batches",
                flush=True,
            )
        if step % 500 == 0:
            _save(network, options.out)
    _save(network, options.out)
    print(f"{options.out}: {step} steps, {heard_s / 3600:.1f} h heard", flush=True)
    sys.stdout.flush()
    os._exit(0)  # the workers wait for nobody


def by_pdf(output: torch.Tensor, wanted: torch.Tensor) -> tuple[float, torch.Tensor]:
    """Share of frames whose unit is right, and the gradient of the cross-entropy (times 100, as the other's)."""
    wanted = wanted.to(output.device)
    with torch.enable_grad():
        free = output.detach().requires_grad_()
        torch.nn.functional.cross_entropy(free.reshape(-1, free.shape[-1]), wanted.reshape(-1)).backward()
    right = (output.argmax(-1) // 2 == wanted // 2).float().mean().item()
    assert free.grad is not None
    return right, free.grad * 100


def _by_phrase(
    sets: list[list[Utterance]], device: torch.device
) -> Callable[[torch.Tensor, Any], tuple[float, torch.Tensor]]:
    """LF-MMI against a bigram of the phones of these sets; the value is the objective a frame."""
    spoken = [[[UNIT_ID[p] for p in word] for word in u.phones] for s in sets for u in s]
    objective = Objective(PhoneBigram.of(spoken, seed=0), torch, device=device)

    def judge(output: torch.Tensor, wanted: Any) -> tuple[float, torch.Tensor]:
        with torch.no_grad():
            value, gradient, failed = objective(output.detach(), wanted)
        if failed > len(wanted) // 4:
            print(f"{failed} of {len(wanted)} did not fit into their time", flush=True)
        return float(value), gradient.to(output.dtype) * 100

    return judge


def _save(network: TdnnF, out: Path) -> None:
    state = {name: value.detach().cpu().clone() for name, value in network.state_dict().items()}
    torch.save({"network": state}, out)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m models.build.train", description=__doc__.splitlines()[0])  # type: ignore[union-attr]
    parser.add_argument("stage", choices=["frames", "phrases"])
    parser.add_argument("out", type=Path)
    parser.add_argument("sets", nargs="+", metavar="SET")
    parser.add_argument("--start", type=Path, help="a network to go on with, or a model's final.mdl")
    parser.add_argument("--steps", type=int, required=True)
    parser.add_argument("--minutes", type=float, default=math.inf, help="stop then, whatever the steps")
    parser.add_argument("--rate", type=float, default=1e-3, help="learning rate at its highest")
    parser.add_argument("--top", type=float, default=2.0, help="that of the last layers, as a multiple")
    parser.add_argument("--warm", type=int, default=100, help="steps until then")
    parser.add_argument("--drop", type=float, default=0.1)
    parser.add_argument("--frames", type=int, default=20_000, help="of features in one batch")
    parser.add_argument("--seed", type=int, default=5)
    parser.add_argument("--workers", type=int, default=max(1, (os.cpu_count() or 2) - 1))
    parser.add_argument("--device", choices=["cpu", "cuda"])
    parser.add_argument("--tell", type=int, default=50, help="steps between two lines of progress")
    return parser.parse_args()


if __name__ == "__main__":
    main()
