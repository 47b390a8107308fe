"""Read and write Kaldi's binary `final.mdl`: a transition model, an nnet3 network, its context and priors.

    data = read(path); write(data, other_path)      # the same bytes

Only what a chain model of one state a phone needs (TDNN-F, batch norm, affine layers; no i-vectors' special parts). The
format is not described anywhere in whole; this follows Kaldi's sources, from memory: `hmm/hmm-topology.cc`,
`hmm/transition-model.cc`, `nnet3/nnet-nnet.cc`, `nnet3/nnet-*-component.cc` and `base/io-funcs.cc`.

Tokens end with one blank. Numbers are a byte that tells their size and then little-endian bytes; booleans are `T` or
`F` with no blank; a vector is `FV` or `DV` (single, double), a matrix `FM` or `DM`, each with its dimensions before it.
Types of values stand for kinds of numbers: int for int32, np.float32 and np.float64 for floats of that precision.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from models.build.units import Units, forward_pdf, self_loop_pdf

Array: TypeAlias = npt.NDArray[Any]
Scalar: TypeAlias = bool | int | np.float32 | np.float64
Value: TypeAlias = Scalar | Array | tuple[Scalar, ...]
"""Arrays: int32 of one axis, or float32 or float64 of one axis (vector) or two (matrix)."""

# What follows each token of a component. f: float of either precision, i: int, b: boolean, I: list of ints,
# A: vector or matrix, which tells by itself what it is.
_KINDS: dict[str, str] = {
    "<LinearParams>": "A",
    "<BiasParams>": "A",
    "<Params>": "A",
    "<Bias>": "A",
    "<Scales>": "A",
    "<StatsMean>": "A",
    "<StatsVar>": "A",
    "<ValueAvg>": "A",
    "<DerivAvg>": "A",
    "<OderivRms>": "A",
    "<TimeOffsets>": "I",
    "<Dim>": "i",
    "<BlockDim>": "i",
    "<InputDim>": "i",
    "<OutputDim>": "i",
    "<Rank>": "i",
    "<RankIn>": "i",
    "<RankOut>": "i",
    "<RankInOut>": "ii",
    "<UpdatePeriod>": "i",
    "<TimePeriod>": "i",
    "<AlphaInOut>": "ff",
    "<Alpha>": "f",
    "<BackpropScale>": "f",
    "<Count>": "f",
    "<DropoutProportion>": "f",
    "<Epsilon>": "f",
    "<L2Regularize>": "f",
    "<LearningRate>": "f",
    "<LearningRateFactor>": "f",
    "<MaxChange>": "f",
    "<NumDimsProcessed>": "f",
    "<NumDimsSelfRepaired>": "f",
    "<NumSamplesHistory>": "f",
    "<OderivCount>": "f",
    "<OrthonormalConstraint>": "f",
    "<SelfRepairLowerThreshold>": "f",
    "<SelfRepairScale>": "f",
    "<SelfRepairUpperThreshold>": "f",
    "<TargetRms>": "f",
    "<AddLogStddev>": "b",
    "<BlockDropout>": "b",
    "<Continuous>": "b",
    "<IsGradient>": "b",
    "<TestMode>": "b",
    "<UseNaturalGradient>": "b",
}

_MAGIC = b"\0B"  # binary, in Kaldi's files
_NO_HMM = -1  # in the place of the number of entries: forward and self-loop pdfs are told apart
_LONGEST_TOKEN = 200


@dataclass(frozen=True)
class State:
    """One state of a topology: classes of its pdfs (-1: none), and (state, probability) of each way out."""

    forward_class: int
    self_loop_class: int
    ways: tuple[tuple[int, np.float32], ...]


@dataclass(frozen=True)
class TransitionModel:
    """What each transition id means.

    phones: (phones,) int32, ids with a topology. entry_of: (highest phone id + 1,) int32, the entry in `entries` of a
    phone id, -1 where there is none. entries: topologies, each the states of a phone. tuples: (states, 4) int32, rows
    of phone, state, forward pdf, self-loop pdf, in the order of the transition ids. log_probabilities: (transitions +
    1,) float32; the first is not used, as ids begin at 1.
    """

    phones: Array
    entry_of: Array
    entries: tuple[tuple[State, ...], ...]
    tuples: Array
    log_probabilities: Array

    @classmethod
    def of_units(cls, units: Units) -> TransitionModel:
        """The chain topology over all phones: one state, a loop and a way on, each with probability 1/2."""
        half = np.float32(0.5)
        phones = sorted(units.kaldi_phones.items(), key=lambda item: item[1])
        numbers = [units.unit_of(name) for name, _ in phones]
        rows = [
            (number, 0, forward_pdf(unit), self_loop_pdf(unit))
            for (_, number), unit in zip(phones, numbers, strict=True)
        ]
        transitions = 2 * len(phones)
        return cls(
            phones=np.array([number for _, number in phones], np.int32),
            entry_of=np.array([-1] + [0] * len(phones), np.int32),
            entries=((State(0, 1, ((0, half), (1, half))), State(-1, -1, ())),),
            tuples=np.array(rows, np.int32),
            log_probabilities=np.array([0.0] + [np.log(0.5)] * transitions, np.float32),
        )


@dataclass(frozen=True)
class Component:
    """A part of the network: its type ("TdnnComponent") and its fields by their tokens, in the order of the file."""

    type: str
    fields: Mapping[str, Value]

    def array(self, token: str) -> Array:
        """The vector or matrix of a field. ValueError where the component has none."""
        value = self.fields.get(token)
        if not isinstance(value, np.ndarray):
            raise ValueError(f"a {self.type} without {token}")
        return value


@dataclass(frozen=True)
class Model:
    """A whole `final.mdl`.

    config: lines that tell the nodes and how they hang together. components: by name, in the order of the file.
    left_context, right_context: frames that an output needs before and after it. priors: empty in chain models.
    """

    transitions: TransitionModel
    config: tuple[str, ...]
    components: Mapping[str, Component]
    left_context: int
    right_context: int
    priors: Array


def read(path: Path) -> Model:
    """A model from its file. OSError where it cannot be read, ValueError (with the place) where it is damaged."""
    try:
        return from_bytes(path.read_bytes())
    except ValueError as wrong:
        raise ValueError(f"{path}: {wrong}") from wrong


def write(model: Model, path: Path) -> None:
    """Write a model. The same model gives the same bytes."""
    path.write_bytes(to_bytes(model))


def from_bytes(data: bytes) -> Model:
    """A model from the bytes of its file; ValueError with the byte's number where they are not one."""
    return _Reader(data).model()


def to_bytes(model: Model) -> bytes:
    """The bytes of a model's file."""
    parts = [_MAGIC, *_transitions(model.transitions)]
    parts += [_token("<Nnet3>"), b"\n", "".join(f"{line}\n" for line in model.config).encode(), b"\n"]
    parts += [_token("<NumComponents>"), _value(len(model.components))]
    for name, component in model.components.items():
        parts += [_token("<ComponentName>"), _token(name), _token(f"<{component.type}>")]
        for token, value in component.fields.items():
            if token not in _KINDS:
                raise ValueError(f"{name} has a field {token}, which this format does not know")
            parts.append(_token(token))
            parts += [_value(one) for one in (value if isinstance(value, tuple) else (value,))]
        parts.append(_token(f"</{component.type}>"))
    parts += [_token("</Nnet3>"), _token("<LeftContext>"), _value(model.left_context)]
    parts += [_token("<RightContext>"), _value(model.right_context), _token("<Priors>"), _value(model.priors)]
    return b"".join(parts)


def _transitions(model: TransitionModel) -> list[bytes]:
    parts = [_token("<TransitionModel>"), _token("<Topology>"), _value(model.phones), _value(model.entry_of)]
    parts += [_value(_NO_HMM), _value(len(model.entries))]
    for states in model.entries:
        parts.append(_value(len(states)))
        for state in states:
            parts += [_value(state.forward_class), _value(state.self_loop_class), _value(len(state.ways))]
            for to, probability in state.ways:
                parts += [_value(to), _value(probability)]
    parts += [_token("</Topology>"), _token("<Tuples>"), _value(len(model.tuples))]
    parts += [_value(int(number)) for number in model.tuples.ravel()]
    parts += [_token("</Tuples>"), _token("<LogProbs>"), _value(model.log_probabilities)]
    return [*parts, _token("</LogProbs>"), _token("</TransitionModel>")]


def _token(token: str) -> bytes:
    return token.encode("ascii") + b" "


def _value(value: Scalar | Array) -> bytes:
    """A value's bytes; its type tells the kind."""
    if isinstance(value, np.ndarray):
        return _array(value)
    if isinstance(value, bool):
        return b"T" if value else b"F"
    if isinstance(value, int):
        return b"\x04" + struct.pack("<i", value)
    if isinstance(value, np.float32):
        return b"\x04" + struct.pack("<f", value)
    if isinstance(value, np.float64):
        return b"\x08" + struct.pack("<d", value)
    raise ValueError(f"{value!r} ({type(value).__name__}) has no place in a model: say int, np.float32 or np.float64")


def _array(array: Array) -> bytes:
    if array.dtype == np.int32 and array.ndim == 1:
        return b"\x04" + struct.pack("<i", len(array)) + array.astype("<i4").tobytes()
    letter = {np.dtype(np.float32): "F", np.dtype(np.float64): "D"}.get(array.dtype)
    if letter is None or array.ndim not in (1, 2):
        raise ValueError(f"an array of {array.dtype} with {array.ndim} axes has no place in a model")
    dimensions = b"".join(_value(size) for size in array.shape)
    little = array.astype(array.dtype.newbyteorder("<"), copy=False)
    return _token(letter + "VM"[array.ndim - 1]) + dimensions + little.tobytes()


class _Reader:
    """Takes values off the front of the bytes. Every method raises ValueError with the place of what is not there."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.at = 0

    def wrong(self, what: str, at: int | None = None) -> ValueError:
        return ValueError(f"{what} at byte {self.at if at is None else at}")

    def take(self, size: int, what: str) -> bytes:
        if size < 0 or self.at + size > len(self.data):
            raise self.wrong(f"{what} of {size} bytes does not fit into what is left")
        taken = self.data[self.at : self.at + size]
        self.at += size
        return taken

    def token(self) -> str:
        end = self.data.find(b" ", self.at, self.at + _LONGEST_TOKEN)
        text = self.data[self.at : end]
        if end <= self.at or not text.isascii() or not text.decode("ascii").isprintable():
            raise self.wrong("no token")
        self.at = end + 1
        return text.decode("ascii")

    def expect(self, *tokens: str) -> None:
        for token in tokens:
            at = self.at
            if (found := self.token()) != token:
                raise self.wrong(f"{token} expected and {found} found", at)

    def integer(self) -> int:
        if self.take(1, "an int") != b"\x04":
            raise self.wrong("no int", self.at - 1)
        return int(struct.unpack("<i", self.take(4, "an int"))[0])

    def count(self) -> int:
        """A number of things, each of which takes a byte at least."""
        at, number = self.at, self.integer()
        if not 0 <= number <= len(self.data) - self.at:
            raise self.wrong(f"{number} cannot be how many follow", at)
        return number

    def real(self) -> np.float32 | np.float64:
        size = self.take(1, "a float")
        if size == b"\x04":
            return np.float32(struct.unpack("<f", self.take(4, "a float"))[0])
        if size == b"\x08":
            return np.float64(struct.unpack("<d", self.take(8, "a float"))[0])
        raise self.wrong("no float", self.at - 1)

    def single(self) -> np.float32:
        at, value = self.at, self.real()
        if isinstance(value, np.float64):
            raise self.wrong("no float of single precision", at)
        return value

    def boolean(self) -> bool:
        letter = self.take(1, "a boolean")
        if letter not in (b"T", b"F"):
            raise self.wrong("no boolean", self.at - 1)
        return letter == b"T"

    def integers(self) -> Array:
        if self.take(1, "a list of ints") != b"\x04":
            raise self.wrong("no list of ints", self.at - 1)
        (length,) = struct.unpack("<i", self.take(4, "a list of ints"))
        return np.frombuffer(self.take(4 * length, "a list of ints"), "<i4").astype(np.int32)

    def array(self, axes: int | None = None) -> Array:
        """A vector or a matrix; with `axes`, only one of so many."""
        at, kind = self.at, self.token()
        if kind not in ("FV", "DV", "FM", "DM") or axes not in (None, 1 + "VM".index(kind[1])):
            raise self.wrong(f"{kind} is not the vector or matrix that belongs here,", at)
        shape = [self.count() for _ in range(1 + "VM".index(kind[1]))]
        letter, width = ("<f4", 4) if kind[0] == "F" else ("<f8", 8)
        content = self.take(width * int(np.prod(shape, dtype=object)), "a vector or matrix")
        return np.frombuffer(content, letter).astype(np.dtype(letter).newbyteorder("=")).reshape(shape)

    def model(self) -> Model:
        if not self.data.startswith(_MAGIC):
            raise self.wrong("no binary Kaldi file")
        self.at = len(_MAGIC)
        transitions = self.transitions()
        self.expect("<Nnet3>")
        config = self.config()
        self.expect("<NumComponents>")
        components: dict[str, Component] = {}
        for _ in range(self.count()):
            self.expect("<ComponentName>")
            at, name = self.at, self.token()
            if name in components:
                raise self.wrong(f"a second component {name}", at)
            components[name] = self.component()
        self.expect("</Nnet3>", "<LeftContext>")
        left = self.integer()
        self.expect("<RightContext>")
        right = self.integer()
        self.expect("<Priors>")
        priors = self.array(axes=1)
        if self.at != len(self.data):
            raise self.wrong("something after the end")
        return Model(transitions, config, components, left, right, priors)

    def transitions(self) -> TransitionModel:
        self.expect("<TransitionModel>", "<Topology>")
        phones, entry_of = self.integers(), self.integers()
        at = self.at
        if self.integer() != _NO_HMM:
            raise self.wrong("a topology without self-loop pdfs, which no chain model has,", at)
        entries = tuple(tuple(self.state() for _ in range(self.count())) for _ in range(self.count()))
        self.expect("</Topology>", "<Tuples>")
        tuples = [[self.integer() for _ in range(4)] for _ in range(self.count())]
        self.expect("</Tuples>", "<LogProbs>")
        log_probabilities = self.array(axes=1)
        self.expect("</LogProbs>", "</TransitionModel>")
        rows = np.array(tuples, np.int32).reshape(-1, 4)
        return TransitionModel(phones, entry_of, entries, rows, log_probabilities)

    def state(self) -> State:
        forward, loop = self.integer(), self.integer()
        return State(forward, loop, tuple((self.integer(), self.single()) for _ in range(self.count())))

    def config(self) -> tuple[str, ...]:
        """Lines until an empty one."""
        start, end = self.at, self.data.find(b"\n\n", self.at)
        if self.data[start : start + 1] != b"\n" or end < 0:
            raise self.wrong("no description of the network")
        self.at = end + 2
        text = self.data[start + 1 : end]
        if not text.isascii():
            raise self.wrong("a description of the network that is not text", start)
        return tuple(text.decode("ascii").split("\n")) if text else ()

    def component(self) -> Component:
        at, opening = self.at, self.token()
        if not (opening.startswith("<") and opening.endswith("Component>")):
            raise self.wrong(f"{opening} is no component", at)
        kind, fields = opening[1:-1], dict[str, Value]()
        while (token := self.token()) != f"</{kind}>":
            if token not in _KINDS or token in fields:
                raise self.wrong(f"{token}, unknown or there twice in a {kind},", self.at - len(token) - 1)
            fields[token] = self.field(_KINDS[token])
        return Component(kind, fields)

    def field(self, kinds: str) -> Value:
        match kinds:
            case "A":
                return self.array()
            case "I":
                return self.integers()
        takers = {"i": self.integer, "f": self.real, "b": self.boolean}
        values: Sequence[Scalar] = [takers[kind]() for kind in kinds]
        return values[0] if len(values) == 1 else tuple(values)
