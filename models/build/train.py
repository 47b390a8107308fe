"""Train the acoustic network: first on frames whose phones are known, then on whole sentences (LF-MMI).

    python -m models.build.train frames  out.pt SET... --steps 2000
    python -m models.build.train phrases out.pt SET... --start in.pt --steps 6000 --processes 4

A SET is a speech set without its ending; `SET:0.5` draws half as many from it as its length says. Runs on as many GPUs
of one machine as there are processes, or on its processor. What it has learnt after --minutes is kept, and the same
command goes on from there. The same seed, sets, processes, workers, steps and stops draw the same batches; a GPU's own
sums differ in the last digits.

Sources: Povey et al. 2016, "Purely sequence-trained neural networks for ASR based on lattice-free MMI"; Hadian et al.
2018, "End-to-end speech recognition using lattice-free MMI", for training without alignments. A flat start hardly
moves, so that the network first learns the frames of a synthesizer that tells its phones' exact times.
"""

from __future__ import annotations

import argparse
import math
import os
import re
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt
import torch
from threadpoolctl import threadpool_limits

from models.build.augment import Augmenter
from models.build.features import mfcc
from models.build.language import DEFAULT, add_language, language
from models.build.loss import Objective, PhoneBigram
from models.build.network import CONTEXT, SUBSAMPLING, TdnnF, constrain_orthonormal, parameter_groups, restored
from models.build.speech_sets import RATE_HZ, Utterance, read_set
from models.build.units import SILENCE, Units

LONGEST_S = 9.0
WINDOW = 400  # samples of one frame
# Speakers and speeds that the sets do not have: vocal tracts of 0.8 to 1.22, frames every 7.8 to 12.5 ms.
WARP = (0.80, 1.22)
HOP = (124, 200)
_POOL = 1500  # utterances that are sorted by length into batches
_TIGHT = 1500  # samples: recordings that are cut close to the speech, which begins after 1600
SPLICED = 0.06  # share of utterances that are strings of digits, spliced
_MANY = 20
_LONGEST_PAUSE = 6000
_DITHERED = 0.5  # the program hears without dither, but for what a recording has of it
_BABBLE_S = 300
_FRESH_NOISE = 40  # pools between new noise
_L2 = 1e-4
_ASKED_EVERY = 20  # steps between looks at the clock, which all processes must agree on
_SAVED_EVERY = 1000
_TOLD_EVERY_S = 20.0


@dataclass(frozen=True)
class Batch:
    """features: (utterances, frames + 2 x CONTEXT, 40); wanted: pdfs of each output frame, or the units of each."""

    features: torch.Tensor
    wanted: Any


@dataclass(frozen=True)
class Splice:
    """Utterances one after the other, as if they had been said in one; an utterance as far as training needs it.

    cuts: samples taken off each at both ends, so that joins are abrupt; pauses: of silence between them, in samples.
    """

    parts: tuple[Utterance, ...]
    cuts: tuple[int, ...]
    pauses: tuple[int, ...]
    ends: None = None

    @property
    def samples(self) -> int:
        """In all."""
        return sum(part.samples - 2 * cut for part, cut in zip(self.parts, self.cuts, strict=True)) + sum(self.pauses)

    @property
    def tag(self) -> str:
        """Of the language, which all of them are in."""
        return self.parts[0].tag

    @property
    def phones(self) -> tuple[tuple[str, ...], ...]:
        """Of all words."""
        return tuple(word for part in self.parts for word in part.phones)

    def audio(self) -> npt.NDArray[np.int16]:
        """The samples, freshly read."""
        found: list[npt.NDArray[np.int16]] = []
        for part, cut, pause in zip(self.parts, self.cuts, (*self.pauses, 0), strict=True):
            found += [part.audio()[cut : part.samples - cut], np.zeros(pause, np.int16)]
        return np.concatenate(found)


Spoken: TypeAlias = Utterance | Splice


def single_digits(sets: Sequence[Sequence[Utterance]]) -> list[list[Utterance]]:
    """Utterances of one digit each, long enough to be cut, by voice; voices that said few are one voice together."""
    voices: dict[str, list[Utterance]] = {}
    for utterance in (u for s in sets for u in s):
        if utterance.words in language(utterance.tag).sentences.digits and utterance.samples > 4 * _TIGHT:
            voices.setdefault(re.split(r"[*/+~]", utterance.voice)[0], []).append(utterance)
    many = [said for said in voices.values() if len(said) >= _MANY]
    few = [utterance for said in voices.values() if len(said) < _MANY for utterance in said]
    return [*many, few] if few else many


class Batches(torch.utils.data.IterableDataset[Batch]):
    """Batches without end, augmented as they are drawn.

    sets: utterances of each set; weights: how often each set is drawn; frames: of features in one batch.
    """

    def __init__(
        self, sets: Sequence[Sequence[Utterance]], weights: Sequence[float], frames: int, seed: int, *, by_frames: bool
    ) -> None:
        self.sets, self.frames, self.seed, self.by_frames = sets, frames, seed, by_frames
        self.digits = [] if by_frames else single_digits(sets)
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
                chosen: Spoken = self.sets[number][int(random.integers(len(self.sets[number])))]
                if self.digits and random.random() < SPLICED:
                    chosen = self._spliced(random)
                pool.append((chosen, int(random.integers(*HOP))))
            groups = self._grouped(pool)
            for number in random.permutation(len(groups)):
                yield self._batch(groups[number], augmenter, random)

    def _spliced(self, random: np.random.Generator) -> Splice:
        """A string of digits put together from recordings of one voice."""
        same = self.digits[int(random.integers(len(self.digits)))]
        parts = tuple(same[int(random.integers(len(same)))] for _ in range(int(random.integers(2, 6))))
        cuts = tuple(int(cut) for cut in random.integers(0, _TIGHT, len(parts)))
        pauses = tuple(int(pause) for pause in random.integers(0, _LONGEST_PAUSE, len(parts) - 1))
        return Splice(parts, cuts, pauses if random.random() < 0.7 else (0,) * len(pauses))

    def _augmenter(self, seed: int, random: np.random.Generator) -> Augmenter:
        """Noise anew, with other people's talk in it."""
        talk: list[npt.NDArray[np.int16]] = []
        while sum(len(part) for part in talk) < _BABBLE_S * RATE_HZ:
            chosen = self.sets[int(random.choice(len(self.sets), p=self.share))]
            talk.append(chosen[int(random.integers(len(chosen)))].audio())
        return Augmenter(seed, np.concatenate(talk))

    def _grouped(self, pool: list[tuple[Spoken, int]]) -> list[list[tuple[Spoken, int]]]:
        """Utterances of nearly one length together, so that little of a batch is padding."""
        pool.sort(key=lambda pair: pair[0].samples / pair[1])
        groups: list[list[tuple[Spoken, int]]] = [[]]
        for pair in pool:
            longest = pair[0].samples // pair[1]
            if groups[-1] and (longest + 60) * (len(groups[-1]) + 1) > self.frames:
                groups.append([])
            groups[-1].append(pair)
        return groups

    def _batch(self, group: list[tuple[Spoken, int]], augmenter: Augmenter, random: np.random.Generator) -> Batch:
        frames = max(u.samples // hop for u, hop in group) + int(random.integers(15, 90))
        features, wanted = [], []
        for utterance, hop in group:
            audio = utterance.audio()
            if not self.by_frames and len(audio) > 4 * _TIGHT and random.random() < 0.6:
                audio = audio[int(random.integers(0, _TIGHT)) : len(audio) - int(random.integers(0, _TIGHT))]
            sound = augmenter.make(audio, (frames - 1) * hop + WINDOW)
            if random.random() < _DITHERED:
                sound = sound + random.standard_normal(len(sound), dtype=np.float32)
            else:
                sound = np.round(sound)
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


def supervision(utterance: Spoken) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.bool_]]:
    """The units of an utterance, with a silence between words that may be left out, and which of them may."""
    ids = language(utterance.tag).units.ids
    units, optional = [ids[SILENCE]], [True]
    for word in utterance.phones:
        units += [ids[phone] for phone in word] + [ids[SILENCE]]
        optional += [False] * len(word) + [True]
    return np.array(units), np.array(optional)


def pdfs_by_time(utterance: Spoken, placed: int, frames: int, hop: int) -> npt.NDArray[np.int64]:
    """The pdf of each output frame, from the end times of the phones; silence before and after.

    placed: the sample at which the utterance begins in what was made of it; frames: of features, `hop` samples apart.
    """
    assert utterance.ends is not None
    middle = (np.arange(0, frames, SUBSAMPLING) * hop + WINDOW / 2 - placed) / RATE_HZ
    ends = np.array([end for _, end in utterance.ends])
    ids = language(utterance.tag).units.ids
    units = np.array([*(ids[name] for name, _ in utterance.ends), ids[SILENCE]])
    at = np.where(middle < 0, len(units) - 1, np.searchsorted(ends, middle))
    spoken = units[at]
    # Silence before the utterance and in it is one silence.
    goes_on = (at[1:] == at[:-1]) | ((spoken[1:] == spoken[:-1]) & (spoken[1:] == ids[SILENCE]))
    return np.asarray(2 * spoken + np.concatenate([[0], goes_on]), dtype=np.int64)


def load(
    specifications: Sequence[str], tag: str = DEFAULT, *, by_frames: bool
) -> tuple[list[list[Utterance]], list[float]]:
    """The sets that were named, and their weights. What is too long, or has unknown phones, is left out."""
    sets, weights = [], []
    for specification in specifications:
        stem, _, weight = specification.partition(":")
        usable = [
            u for u in read_set(Path(stem), tag) if u.samples <= LONGEST_S * RATE_HZ and (u.ends or not by_frames)
        ]
        if not usable:
            raise SystemExit(f"{stem} holds nothing to train on{' with times of phones' if by_frames else ''}.")
        sets.append(usable)
        weights.append(float(weight or 1))
    return sets, weights


def main() -> None:
    """Train in as many processes as were asked for, and tell the progress."""
    options = _options()
    if options.processes == 1:
        run(options, 0, None)
        return
    with tempfile.TemporaryDirectory() as folder:
        meeting = f"file://{folder}/meeting"
        context = torch.multiprocessing.get_context("spawn")  # CUDA does not survive a fork
        processes = [context.Process(target=run, args=(options, k, meeting)) for k in range(options.processes)]
        for process in processes:
            process.start()
        # One that fails would leave the others waiting for it for ever.
        while any(process.is_alive() for process in processes):
            time.sleep(0.2)
            if any(process.exitcode for process in processes):
                for process in processes:
                    process.terminate()
        if any(process.exitcode for process in processes):
            raise SystemExit("a process failed (see above)")


def run(options: argparse.Namespace, rank: int, meeting: str | None) -> None:
    """One process's part; the first one tells and writes. meeting: where processes find each other; None for one."""
    training = Training(options, rank, meeting)
    begun = told = time.monotonic()
    heard_s = waited_s = 0.0
    values: list[float] = []
    while training.step < options.steps:
        if training.step % _ASKED_EVERY == 0 and training.any(time.monotonic() - begun > options.minutes * 60):
            break
        asked = time.monotonic()
        batch = next(training.batches)
        waited_s += time.monotonic() - asked
        values.append(training.learn(batch))
        heard_s += batch.features.shape[0] * (batch.features.shape[1] - 2 * CONTEXT) / 100 * options.processes
        if rank == 0 and (training.step % options.tell == 0 or time.monotonic() - told > _TOLD_EVERY_S):
            told = time.monotonic()
            spent = told - begun
            print(
                f"step {training.step}, {spent / 60:.2f} min, {np.mean(values):.4f}, {heard_s / 3600:.1f} h heard, "
                f"{heard_s / spent:.0f} x real time, {waited_s / spent:.0%} waiting for batches",
                flush=True,
            )
            values.clear()
        if training.step % _SAVED_EVERY == 0:
            training.save()
    training.save()
    if rank == 0:
        print(f"{options.out}: step {training.step} of {options.steps}, {heard_s / 3600:.1f} h heard now", flush=True)
    sys.stdout.flush()
    os._exit(0)  # the workers wait for nobody


class Training:
    """A network, how far it is and what it learns from.

    What `save` leaves beside the network (OUT.state) is where the same command goes on, with other batches than before:
    a call may end at any time. Several processes learn the same network: each from batches of its own, by the mean of
    their gradients.
    """

    def __init__(self, options: argparse.Namespace, rank: int, meeting: str | None) -> None:
        self.options, self.rank = options, rank
        by_frames = options.stage == "frames"
        sets, weights = load(options.sets, options.language, by_frames=by_frames)
        kept = torch.load(self._state, map_location="cpu", weights_only=True) if self._state.exists() else None
        self.step: int = kept["step"] if kept else 0
        seed = options.seed + 1009 * rank + 100_003 * self.step
        loader = torch.utils.data.DataLoader(
            Batches(sets, weights, options.frames, seed, by_frames=by_frames),
            batch_size=None,
            num_workers=options.workers,
            prefetch_factor=4 if options.workers else None,
        )
        self.batches = iter(loader)  # its processes begin here, before CUDA, which does not survive a fork
        on_gpu = options.device != "cpu" and torch.cuda.is_available()
        self.device = torch.device("cuda", rank) if on_gpu else torch.device("cpu")
        if on_gpu:
            torch.cuda.set_device(self.device)
            torch.backends.cuda.matmul.allow_tf32 = True  # the network's products; the objective's are in float64
        if meeting is not None:
            kind = "nccl" if on_gpu else "gloo"
            torch.distributed.init_process_group(kind, meeting, rank=rank, world_size=options.processes)
        if rank == 0:
            hours = sum(u.samples for s in sets for u in s) / RATE_HZ / 3600
            print(f"{sum(map(len, sets))} utterances, {hours:.1f} h, on {options.processes} x {self.device.type}")
        torch.manual_seed(options.seed)
        if kept:
            self.network = restored(options.out)
        elif options.start is not None:
            self.network = restored(options.start)
        else:
            self.network = TdnnF(outputs=language(options.language).units.pdfs)
            first = torch.cat([next(self.batches).features.reshape(-1, 40) for _ in range(4)])
            self.network.whiten(first.mean(0), first.std(0))
        self.network.to(self.device).train()
        if meeting is not None:
            for value in self.network.state_dict().values():
                torch.distributed.broadcast(value, 0)
        torch.manual_seed(seed)
        self._judge = by_pdf if by_frames else _by_phrase(sets, language(options.language).units, self.device)
        body, top = parameter_groups(self.network)
        self._rates = [options.rate, options.rate * options.top]
        self.optimizer = torch.optim.AdamW(
            [{"params": body, "lr": options.rate}, {"params": top, "lr": options.rate}],
            weight_decay=1e-3,
            betas=(0.9, 0.98),
        )
        if kept:
            self.optimizer.load_state_dict(kept["optimizer"])

    @property
    def _state(self) -> Path:
        out: Path = self.options.out
        return out.with_name(f"{out.name}.state")

    def learn(self, batch: Batch) -> float:
        """One step; the value of the batch as it was before."""
        options, network = self.options, self.network
        done = self.step / options.steps
        for group, rate in zip(self.optimizer.param_groups, self._rates, strict=True):
            group["lr"] = rate * min(1.0, (self.step + 1) / options.warm) * max(0.01, 1 - done)
        features = batch.features.to(self.device, non_blocking=True)
        with torch.autocast(self.device.type, torch.bfloat16, enabled=options.bfloat16):
            output = network(features, options.drop * (1 - done)).float()
        value, gradient = self._judge(output, batch.wanted)
        self.optimizer.zero_grad(set_to_none=True)
        # Large outputs are a network's way to be sure of everything: a little is taken off them.
        output.backward(gradient + 2 * _L2 * output.detach() / output[..., 0].numel() * 100)
        if options.processes > 1:
            average([p.grad for p in network.parameters() if p.grad is not None], options.processes)
        torch.nn.utils.clip_grad_norm_(network.parameters(), 20.0)
        self.optimizer.step()
        self.step += 1
        if self.step % 4 == 0:
            constrain_orthonormal(network)
        return value

    def any(self, here: bool) -> bool:
        """Whether it is so in any of the processes."""
        if self.options.processes == 1:
            return here
        told = torch.tensor([float(here)], device=self.device)
        torch.distributed.all_reduce(told)
        return bool(told.item())

    def save(self) -> None:
        """Network and state; the running means and variances are the mean of those of all processes."""
        state = {name: value.detach().clone() for name, value in self.network.state_dict().items()}
        if self.options.processes > 1:
            average([value for value in state.values() if value.is_floating_point()], self.options.processes)
        if self.rank:
            return
        torch.save({"network": {name: value.cpu() for name, value in state.items()}}, self.options.out)
        written = self._state.with_suffix(".new")
        torch.save({"optimizer": self.optimizer.state_dict(), "step": self.step}, written)
        written.replace(self._state)


def average(tensors: Sequence[torch.Tensor], processes: int) -> None:
    """Each becomes the mean of those of all processes, in one exchange."""
    flat = torch.cat([tensor.reshape(-1) for tensor in tensors])
    torch.distributed.all_reduce(flat)
    flat /= processes
    for tensor, mean in zip(tensors, flat.split([tensor.numel() for tensor in tensors]), strict=True):
        tensor.copy_(mean.view_as(tensor))


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
    sets: list[list[Utterance]], units: Units, device: torch.device
) -> Callable[[torch.Tensor, Any], tuple[float, torch.Tensor]]:
    """LF-MMI against a bigram of the phones of these sets; the value is the objective a frame."""
    spoken = [[[units.ids[p] for p in word] for word in u.phones] for s in sets for u in s]
    objective = Objective(PhoneBigram.of(spoken, seed=0, units=len(units.names)), torch, device=device)

    def judge(output: torch.Tensor, wanted: Any) -> tuple[float, torch.Tensor]:
        with torch.no_grad():
            value, gradient, failed = objective(output.detach(), wanted)
        if failed > len(wanted) // 4:
            print(f"{failed} of {len(wanted)} did not fit into their time", flush=True)
        return float(value), gradient.to(output.dtype) * 100

    return judge


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m models.build.train", description=__doc__.splitlines()[0])  # type: ignore[union-attr]
    parser.add_argument("stage", choices=["frames", "phrases"])
    parser.add_argument("out", type=Path)
    parser.add_argument("sets", nargs="+", metavar="SET")
    parser.add_argument("--start", type=Path, help="a network to go on with, or a model's final.mdl")
    parser.add_argument("--steps", type=int, required=True)
    parser.add_argument("--minutes", type=float, default=math.inf, help="leave off then; the same command goes on")
    parser.add_argument("--rate", type=float, default=1e-3, help="learning rate at its highest")
    parser.add_argument("--top", type=float, default=2.0, help="that of the last layers, as a multiple")
    parser.add_argument("--warm", type=int, default=100, help="steps until then")
    parser.add_argument("--drop", type=float, default=0.1)
    parser.add_argument("--frames", type=int, default=20_000, help="of features in one batch")
    parser.add_argument("--seed", type=int, default=5)
    parser.add_argument("--processes", type=int, default=1, help="one a GPU")
    parser.add_argument("--workers", type=int, help="that draw batches, of each process")
    parser.add_argument("--device", choices=["cpu", "cuda"])
    parser.add_argument("--bfloat16", action="store_true", help="coarser products, faster on a processor")
    parser.add_argument("--tell", type=int, default=50, help="steps between two lines of progress")
    add_language(parser)
    options = parser.parse_args()
    if options.workers is None:
        options.workers = max(1, (os.cpu_count() or 2) // options.processes - 1)
    return options


if __name__ == "__main__":
    main()
