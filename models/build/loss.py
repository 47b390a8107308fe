"""LF-MMI: how much likelier the network makes the words that were said than everything that could have been said.

The objective of an utterance is log P(its words' paths) - log P(all paths of a phone bigram). Both are sums over paths
through small graphs of one state a unit: a unit's first frame has its forward pdf, further ones its self-loop pdf, and
a path costs the bigram's probabilities. As the words' paths are weighed by the same bigram, the objective is the log
of a posterior probability and never above 0.

Sources: Povey et al. 2016, "Purely sequence-trained neural networks for ASR based on lattice-free MMI"; Hadian et al.
2018, "End-to-end speech recognition using lattice-free MMI", for words without alignments: nothing says when a unit is
spoken. From memory.

The same code runs on numpy and on torch, which share the few functions used here. Sums are float64 probabilities,
scaled in every frame so that they neither vanish nor grow; the gradient follows from posteriors, without autograd.
Letters in shapes: B utterances, T output frames, U units, N states of the longest utterance's words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import ModuleType
from typing import Any, NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

Array: TypeAlias = Any
"""An array of the module in use: np.ndarray or torch.Tensor."""

Supervision: TypeAlias = tuple[npt.NDArray[np.int64], npt.NDArray[np.bool_]]
"""Unit ids of an utterance in their order, and which of them may be left out (silences)."""

# How often people pause: at the ends of an utterance, between two words.
_PAUSE_AT_ENDS = 0.85
_PAUSE_BETWEEN = 0.35
# The bigram is smoothed by the unigram, as if that had been counted so often after every unit.
_SMOOTHING = 60.0
_FLOOR = 1e-30  # of a frame's pdf beside its likeliest one
_LOST = 1e-200  # below this, what is left of a path's probability is rounding
_HARDLY_REACHED = 1e250


@dataclass(frozen=True)
class PhoneBigram:
    """A language model over units.

    initial: (U,) probability of the first unit; between: (U, U), from row to column; final: (U,) of ending after it.
    Rows of `between` and `final` together sum to 1. Silence does not follow silence.
    """

    initial: npt.NDArray[np.float64]
    between: npt.NDArray[np.float64]
    final: npt.NDArray[np.float64]

    @classmethod
    def of(
        cls,
        spoken: Sequence[Sequence[Sequence[int]]],
        *,
        seed: int,
        units: int,
        silence: int = 0,
    ) -> PhoneBigram:
        """Counted from utterances, each a list of words, each a list of unit ids; pauses are drawn with the seed."""
        random = np.random.default_rng(seed)
        initial, final, unigram = np.full(units, 0.1), np.full(units, 1e-3), np.ones(units)
        between = np.zeros((units, units))
        for words in spoken:
            said = [silence] if not words or random.random() < _PAUSE_AT_ENDS else []
            for number, word in enumerate(words, 1):
                said += word
                if random.random() < (_PAUSE_BETWEEN if number < len(words) else _PAUSE_AT_ENDS):
                    said.append(silence)
            initial[said[0]] += 1
            final[said[-1]] += 1
            np.add.at(between, (said[:-1], said[1:]), 1)
            np.add.at(unigram, said, 1)
        between += _SMOOTHING * unigram / unigram.sum()
        between[silence, silence] = 0
        total = between.sum(axis=1) + final
        return cls(initial / initial.sum(), between / total[:, None], final / total)


class Paths(NamedTuple):
    """What is summed over all paths of a graph.

    log_probability: (B,). first, later: (B, T, U), posterior of each unit having its first or a further frame there;
    in each frame they sum to 1. found: (B,) booleans; where no path fits, the posteriors are 0 and log_probability
    means nothing.
    """

    log_probability: Array
    first: Array
    later: Array
    found: Array


class Objective:
    """LF-MMI against a bigram. xp: numpy or torch; device: where torch computes."""

    def __init__(self, bigram: PhoneBigram, xp: ModuleType = np, *, device: Any = None) -> None:
        self.xp: Any = xp
        self.device = device
        self.initial = self._real(bigram.initial)
        self.between = self._real(bigram.between)
        self.final = self._real(bigram.final)

    def __call__(self, outputs: Array, supervisions: Sequence[Supervision]) -> tuple[float, Array, int]:
        """(value a frame, gradient, how many failed) of the network's outputs, (B, T, 2 x U).

        The value is the mean over all frames of utterances that fit into their time; the gradient, of the shape and
        type of the outputs, is that of the loss, minus the value (going against it raises the objective). Utterances
        that fail count in neither, but the gradient is a mean over all frames of the batch, so that a batch of
        failures does not leap.
        """
        xp = self.xp
        first, later = self.likelihoods(outputs)
        said, everything = self.numerator(first, later, supervisions), self.denominator(first, later)
        found = said.found & everything.found
        batch, frames = first.shape[0], first.shape[1]
        gradient = xp.stack([everything.first - said.first, everything.later - said.later], 3)
        gradient = xp.where(found[:, None, None, None], gradient, 0.0) / (batch * frames)
        gradient = xp.asarray(gradient.reshape(outputs.shape), dtype=outputs.dtype)
        gains = xp.where(found, said.log_probability - everything.log_probability, 0.0)
        fitting = int(found.sum())
        return float(gains.sum()) / (max(1, fitting) * frames), gradient, batch - fitting

    def likelihoods(self, outputs: Array) -> tuple[Array, Array]:
        """(first, later), each (B, T, U): of the forward and self-loop pdfs, up to a factor a frame.

        The same factor for all pdfs of a frame cancels out between numerator and denominator.
        """
        xp = self.xp
        scores = xp.asarray(outputs, dtype=xp.float64)
        likely = xp.clip(xp.exp(scores - xp.amax(scores, 2)[:, :, None]), _FLOOR, None)
        return likely[:, :, 0::2], likely[:, :, 1::2]

    def denominator(self, first: Array, later: Array) -> Paths:
        """All paths through the bigram. first, later: (B, T, U), likelihoods of the forward and self-loop pdfs."""
        return self._paths(first, later, self.initial, self.between, self.final)

    def numerator(self, first: Array, later: Array, supervisions: Sequence[Supervision]) -> Paths:
        """The paths through the units that were said; arguments and result as those of `denominator`."""
        xp, units = self.xp, first.shape[2]
        labels, initial, between, final = self._line(supervisions)
        # (B, U, N), one where the state has the unit. Multiplying by it picks likelihoods and gathers posteriors.
        is_unit = xp.asarray(labels[:, None, :] == xp.arange(units, device=self.device)[:, None], dtype=xp.float64)
        paths = self._paths(first @ is_unit, later @ is_unit, initial, between, final)
        states = xp.swapaxes(is_unit, 1, 2)
        return paths._replace(first=paths.first @ states, later=paths.later @ states)

    def _line(self, supervisions: Sequence[Supervision]) -> tuple[Array, Array, Array, Array]:
        """Labels (B, N), initial (B, N), between (B, N, N) and final (B, N) of the states of each utterance in a line.

        A state leads to the next one, and past as many as may be left out.
        """
        xp = self.xp
        longest = max(len(units) for units, _ in supervisions)
        shape = (len(supervisions), longest)
        padded, needed, there = np.zeros(shape, np.int64), np.zeros(shape, np.int64), np.zeros(shape)
        for row, (units, optional) in enumerate(supervisions):
            padded[row, : len(units)] = units
            needed[row, : len(units)] = ~np.asarray(optional, bool)
            there[row, : len(units)] = 1
        labels, must, exists = xp.asarray(padded, device=self.device), self._whole(needed), self._real(there)
        until = xp.cumsum(must, 1)  # states that must be visited, up to and with this one
        place = xp.arange(longest, device=self.device)
        free = (until - must)[:, None, :] == until[:, :, None]  # nothing that must be visited lies between
        onward = free & (place[None, :] > place[:, None])
        between = self.between[labels[:, :, None], labels[:, None, :]] * onward * exists[:, None, :]
        initial = self.initial[labels] * (until == must) * exists
        final = self.final[labels] * (until == until[:, -1:]) * exists
        return labels, initial, between, final

    def _paths(self, first: Array, later: Array, initial: Array, between: Array, final: Array) -> Paths:
        """Sum over the paths of a graph, or of one graph an utterance: forward-backward (Baum-Welch).

        first, later: (B, T, states); initial, final: (states,) or (B, states); between: (states, states), or one such
        an utterance. Forward probabilities are scaled to sum to 1 in each frame, and backward ones by the same factors.
        """
        xp = self.xp
        frames = first.shape[1]
        # Time first; one-row matrices, so that a batch of graphs is one product.
        first, later = (xp.swapaxes(x, 0, 1)[:, :, None, :] for x in (first, later))
        initial, final = (x[..., None, :] + 0.0 * first[0] for x in (initial, final))
        entering: list[Array] = [initial]
        reached: list[Array] = []
        scales: list[Array] = []
        mass = initial * first[0]
        for frame in range(frames):
            if frame:
                entering.append(reached[-1] @ between)
                mass = entering[-1] * first[frame] + reached[-1] * later[frame]
            scales.append(mass.sum(-1)[..., None])
            reached.append(mass / scales[-1])
        ended = (reached[-1] * final).sum(-1)[..., None]
        arrived = ended > _LOST
        ended = xp.where(arrived, ended, 1.0)
        backward = xp.swapaxes(between, -1, -2)
        scale = xp.stack(scales)
        first, later = first / scale, later / scale
        starting, staying, ahead = [], [], final / ended
        for frame in range(frames - 1, -1, -1):
            starting.append(first[frame] * ahead)
            staying.append(later[frame] * ahead)
            if frame:
                # Forward times backward is a posterior, at most 1: only states that can hardly be reached are cut.
                ahead = xp.clip(starting[-1] @ backward + staying[-1], None, _HARDLY_REACHED)
        first_use = xp.stack(entering) * xp.stack(starting[::-1])
        later_use = xp.stack([0.0 * initial, *reached[:-1]]) * xp.stack(staying[::-1])
        off = xp.amax(abs((first_use + later_use).sum(-1)[..., None] - 1.0), 0)
        found = arrived & (off < 1e-6)
        log_probability = (xp.log(scale).sum(0) + xp.log(ended))[:, 0, 0]
        first_use, later_use = (
            xp.swapaxes(xp.where(found, use, 0.0)[:, :, 0, :], 0, 1) for use in (first_use, later_use)
        )
        return Paths(log_probability, first_use, later_use, found[:, 0, 0])

    def _real(self, values: Any) -> Array:
        return self.xp.asarray(values, dtype=self.xp.float64, device=self.device)

    def _whole(self, values: Any) -> Array:
        return self.xp.asarray(values, dtype=self.xp.int64, device=self.device)
