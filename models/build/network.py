"""The acoustic network, in PyTorch: a factorised time-delay network (TDNN-F), and its way into Kaldi's `final.mdl`.

From 40 MFCCs every 10 ms it makes scores of the pdfs every 30 ms. Each layer's weights are a product of two narrow
matrices; the first is kept near a multiple of a semi-orthogonal one, so that the narrow place between them loses as
little as it can. Source: Povey et al. 2018, "Semi-orthogonal low-rank matrix factorization for deep neural networks";
layers and names in the files as in Kaldi's chain recipes, from memory.

The exported network takes features alone: no i-vectors, no mean normalisation, no dropout, and batch norm with the
statistics of training.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import torch
from torch import Tensor, nn

from models.build import kaldi_mdl
from models.build.kaldi_mdl import Component, Model, TransitionModel, Value
from models.build.language import DEFAULT, language

FEATURES = 40
SPLICED = 3  # frames that the first layer sees at once: the one before, this one, the next
SUBSAMPLING = 3
OFFSETS: tuple[int, ...] = (1, 1, 1, 0, *[3] * 10)
"""How many frames each factorised layer looks to either side. From the first 0 on, only every third frame is kept."""

CONTEXT = 1 + sum(OFFSETS)
"""Frames of features that an output needs on either side of its own."""

BYPASS = 0.66  # of a layer's input that is added to its output
_EPSILON = 1e-3  # added to variances before the root
_MOMENTUM = 0.05  # share of a batch in the running statistics


class _BatchNorm(nn.BatchNorm1d):
    """Mean 0 and variance 1 over utterances and time, with no weights of its own; (B, T, dim) to the same."""

    def __init__(self, dim: int) -> None:
        super().__init__(dim, eps=_EPSILON, momentum=_MOMENTUM, affine=False)

    def forward(self, x: Tensor) -> Tensor:
        normal: Tensor = super().forward(x.reshape(-1, x.shape[-1]))
        return normal.view(x.shape)


class FactorisedLayer(nn.Module):
    """dim -> bottleneck over frames t - offset and t, -> dim over t and t + offset, ReLU, batch norm, bypass.

    With an offset of 0 both see only their own frame.
    """

    def __init__(self, dim: int, bottleneck: int, offset: int) -> None:
        super().__init__()
        self.offset = offset
        taps = 2 if offset else 1
        self.linear = nn.Linear(taps * dim, bottleneck, bias=False)
        self.affine = _affine(taps * bottleneck, dim)
        self.norm = _BatchNorm(dim)
        nn.init.orthogonal_(self.linear.weight)

    def forward(self, x: Tensor, drop: float, step: int) -> Tensor:
        """(B, T, dim) -> (B, T - 2 x offset / step, dim), where x has every step-th frame."""
        shift = self.offset // step
        out: Tensor = torch.relu_(_two_taps(_two_taps(x, self.linear, shift), self.affine, shift))
        out = self.norm(out)
        if drop > 0 and self.training:
            # As Kaldi's GeneralDropout, continuous and the same over all frames of an utterance.
            noise = torch.rand(out.shape[0], 1, out.shape[2], device=out.device, dtype=out.dtype)
            out = out * (1 + 2 * drop * (2 * noise - 1))
        return out + BYPASS * (x[:, shift:-shift] if shift else x)


def _two_taps(x: Tensor, layer: nn.Linear, shift: int) -> Tensor:
    """A layer over pairs of frames `shift` apart: (B, T, dim) -> (B, T - shift, out). One frame where shift is 0."""
    if not shift:
        return nn.functional.linear(x, layer.weight, layer.bias)
    # Two products rather than one over frames put side by side: those would have to be copied.
    early, late = layer.weight.chunk(2, dim=1)
    return nn.functional.linear(x[:, :-shift], early, layer.bias) + nn.functional.linear(x[:, shift:], late)


def _affine(inputs: int, outputs: int) -> nn.Linear:
    """As Kaldi begins: outputs of variance 1 for inputs of variance 1."""
    layer = nn.Linear(inputs, outputs)
    nn.init.normal_(layer.weight, std=inputs**-0.5)
    nn.init.zeros_(layer.bias)
    return layer


class TdnnF(nn.Module):
    """The network. dim: of its layers; bottleneck: between their factors; offsets: of those that have factors;
    outputs: those of an English model unless given.
    """

    spread: Tensor
    shift: Tensor

    def __init__(
        self, dim: int = 768, bottleneck: int = 128, *, offsets: Sequence[int] = OFFSETS, outputs: int | None = None
    ) -> None:
        super().__init__()
        self.offsets = tuple(offsets)
        # The features on a common scale, before anything is learnt: fixed, and stays Kaldi's "lda".
        self.register_buffer("spread", torch.eye(SPLICED * FEATURES))
        self.register_buffer("shift", torch.zeros(SPLICED * FEATURES))
        self.first = _affine(SPLICED * FEATURES, dim)
        self.first_norm = _BatchNorm(dim)
        self.layers = nn.ModuleList(FactorisedLayer(dim, bottleneck, offset) for offset in self.offsets)
        self.narrow = nn.Linear(dim, bottleneck, bias=False)
        self.wide = _affine(bottleneck, dim)
        self.wide_norm = _BatchNorm(dim)
        self.narrow_again = nn.Linear(dim, bottleneck, bias=False)
        self.narrow_norm = _BatchNorm(bottleneck)
        self.out = nn.Linear(bottleneck, language().units.pdfs if outputs is None else outputs)
        for factor in (self.narrow, self.narrow_again):
            nn.init.orthogonal_(factor.weight)
        # At first all pdfs are as likely as each other.
        nn.init.zeros_(self.out.weight)
        nn.init.zeros_(self.out.bias)

    @property
    def context(self) -> int:
        """Frames of features that an output needs on either side; CONTEXT for the layers of OFFSETS."""
        return SPLICED // 2 + sum(self.offsets)

    def forward(self, features: Tensor, drop: float = 0.0) -> Tensor:
        """(B, T + 2 x context, 40) -> (B, ceil(T / 3), pdfs). drop: 0..0.5, noise on the layers while training."""
        x = torch.cat([features[:, :-2], features[:, 1:-1], features[:, 2:]], dim=-1)
        x = x @ self.spread.t() + self.shift
        x = self.first_norm(torch.relu_(self.first(x)))
        step = 1
        for layer in self.layers:
            assert isinstance(layer, FactorisedLayer)
            x = layer(x, drop, step)
            if layer.offset == 0:  # all that follow look a multiple of three frames away
                x, step = x[:, ::SUBSAMPLING], SUBSAMPLING
        x = self.wide_norm(torch.relu_(self.wide(self.narrow(x))))
        return self.out(self.narrow_norm(self.narrow_again(x)))  # type: ignore[no-any-return]

    @torch.no_grad()
    def whiten(self, mean: Tensor | npt.ArrayLike, std: Tensor | npt.ArrayLike) -> None:
        """Bring features of this mean and deviation, (40,) each, to 0 and 1 for the first layer.

        For a network that has learnt nothing: ValueError after that, as its weights fit the features it had.
        """
        if bool(self.out.weight.any()):
            raise ValueError("a network that has learnt something is used to its features")
        mean, std = (torch.as_tensor(x, dtype=self.shift.dtype).to(self.shift.device) for x in (mean, std))
        if mean.shape != (FEATURES,) or std.shape != (FEATURES,) or not bool((std > 0).all()):
            raise ValueError(f"mean and deviation of {FEATURES} features, all deviations above 0, are needed")
        self.spread.copy_(torch.diag((1 / std).repeat(SPLICED)))
        self.shift.copy_((-mean / std).repeat(SPLICED))


def restored(trained: Path) -> TdnnF:
    """A network that train.py wrote, of whatever width, with the layers of OFFSETS; or one from a model's `final.mdl`.

    Errors: `OSError` where the file cannot be read, `ValueError` where it holds another network.
    """
    if trained.suffix == ".mdl":
        return load_mdl(trained)
    try:
        state = torch.load(trained, map_location="cpu", weights_only=True)["network"]
        (dim, _), (bottleneck, _) = state["first.weight"].shape, state["narrow.weight"].shape
        network = TdnnF(dim, bottleneck, outputs=len(state["out.bias"]))
        network.load_state_dict(state)
    except (KeyError, TypeError, RuntimeError) as wrong:
        raise ValueError(f"{trained}: not a network of train.py: {wrong}") from wrong
    return network


def parameter_groups(network: TdnnF) -> tuple[list[nn.Parameter], list[nn.Parameter]]:
    """(body, top): weights of the factorised layers and below, and those of the last layers."""
    tops = (network.narrow, network.wide, network.narrow_again, network.out)
    top = [parameter for module in tops for parameter in module.parameters()]
    known = {id(parameter) for parameter in top}
    return [parameter for parameter in network.parameters() if id(parameter) not in known], top


@torch.no_grad()
def constrain_orthonormal(network: TdnnF) -> None:
    """Take the first factor of every layer a step towards a multiple of a semi-orthogonal matrix.

    To be called every four steps of training or so. Section 2 of the paper, with the floating scale of section 2.3.
    """
    factors = [layer.linear for _, layer in _factor_names(network)] + [network.narrow, network.narrow_again]
    for factor in factors:
        factor.weight.copy_(nearer_semi_orthogonal(factor.weight))


def nearer_semi_orthogonal(matrix: Tensor) -> Tensor:
    """A step of M, (rows, columns) with rows <= columns, towards M M^T = alpha^2 I.

    With P = M M^T the step is M - 4 mu (P - alpha^2 I) M / alpha^2. alpha^2 = tr(P P) / tr(P) makes the step orthogonal
    to M, so that the constraint does not change the size of the weights; mu = 1/8 converges quadratically when M is
    near, and is lowered while it is far (as Kaldi does), where it might diverge.
    """
    product = matrix @ matrix.t()
    trace, square = product.trace(), product.square().sum()
    scale = square / trace
    # The mean square of P's eigenvalues over their squared mean: 1 when all are the same. No branch on its value here,
    # which would make a GPU wait.
    uneven = square * len(product) / trace.square()
    speed = 0.125 * torch.where(uneven > 1.02, 0.5, 1.0) * torch.where(uneven > 1.1, 0.5, 1.0)
    off = product - scale * torch.eye(len(product), device=matrix.device, dtype=matrix.dtype)
    return matrix - 4 * speed / scale * (off @ matrix)


def export(network: TdnnF, path: Path, tag: str = DEFAULT) -> None:
    """Write a network as Kaldi's `final.mdl`, with the language's transitions. Same weights, same bytes."""
    components = _components(network)
    no_priors = np.zeros(0, np.float32)
    transitions = TransitionModel.of_units(language(tag).units)
    model = Model(transitions, _config(network), components, network.context, network.context, no_priors)
    kaldi_mdl.write(model, path)


def load_mdl(path: Path) -> TdnnF:
    """A network from a `final.mdl` that `export` wrote, in evaluation mode.

    OSError where it cannot be read, ValueError where it is damaged or of another shape.
    """
    model = kaldi_mdl.read(path)
    parts = model.components
    try:
        offsets: list[int] = []
        while (name := f"tdnnf{len(offsets) + 2}.linear") in parts:
            offsets.append(abs(int(parts[name].array("<TimeOffsets>")[0])))
        dim = len(parts["tdnn1.affine"].array("<BiasParams>"))
        bottleneck, outputs = (len(parts[name].array(key)) for name, key in (("prefinal-l", "<Params>"), _OUT_BIAS))
        network = TdnnF(dim, bottleneck, offsets=offsets, outputs=outputs)
        if model.config != _config(network):
            raise ValueError("its layers are not those of this network")
        with torch.no_grad():
            for name, token, tensor in _tensors(network):
                stored = torch.from_numpy(parts[name].array(token))
                if stored.shape != tensor.shape:
                    raise ValueError(f"{name} has {token} of {tuple(stored.shape)}, not {tuple(tensor.shape)}")
                tensor.copy_(stored)
    except KeyError as missing:
        raise ValueError(f"{path}: no component {missing}") from missing
    except ValueError as wrong:
        raise ValueError(f"{path}: {wrong}") from wrong
    return network.eval()


_OUT_BIAS = ("output.affine", "<BiasParams>")


def _factor_names(network: TdnnF) -> list[tuple[str, FactorisedLayer]]:
    """Kaldi counts its layers from 1, and the first is not factorised."""
    layers = [layer for layer in network.layers if isinstance(layer, FactorisedLayer)]
    return [(f"tdnnf{number}", layer) for number, layer in enumerate(layers, 2)]


def _tensors(network: TdnnF) -> list[tuple[str, str, Tensor]]:
    """(component, token, tensor) of everything that a file holds of a network."""
    rows: list[tuple[str, str, Tensor]] = [
        ("lda", "<LinearParams>", network.spread),
        ("lda", "<BiasParams>", network.shift),
    ]

    def affine(name: str, layer: nn.Linear) -> None:
        rows.extend([(name, "<LinearParams>", layer.weight), (name, "<BiasParams>", layer.bias)])

    def norm(name: str, layer: _BatchNorm) -> None:
        assert layer.running_mean is not None
        assert layer.running_var is not None
        rows.extend([(name, "<StatsMean>", layer.running_mean), (name, "<StatsVar>", layer.running_var)])

    affine("tdnn1.affine", network.first)
    norm("tdnn1.batchnorm", network.first_norm)
    for name, layer in _factor_names(network):
        rows.append((f"{name}.linear", "<LinearParams>", layer.linear.weight))
        affine(f"{name}.affine", layer.affine)
        norm(f"{name}.batchnorm", layer.norm)
    rows.append(("prefinal-l", "<Params>", network.narrow.weight))
    affine("prefinal-chain.affine", network.wide)
    norm("prefinal-chain.batchnorm1", network.wide_norm)
    rows.append(("prefinal-chain.linear", "<Params>", network.narrow_again.weight))
    norm("prefinal-chain.batchnorm2", network.narrow_norm)
    affine("output.affine", network.out)
    return rows


def _config(network: TdnnF) -> tuple[str, ...]:
    """The nodes and how they hang together, in Kaldi's words."""
    lines = [
        f"input-node name=input dim={FEATURES}",
        "component-node name=lda component=lda input=Append(Offset(input, -1), input, Offset(input, 1))",
    ]
    above = "lda"

    def node(name: str, feed: str = "") -> None:
        nonlocal above
        lines.append(f"component-node name={name} component={name} input={feed or above}")
        above = name

    for part in ("affine", "relu", "batchnorm"):
        node(f"tdnn1.{part}")
    for name, _ in _factor_names(network):
        below = above
        for part in ("linear", "affine", "relu", "batchnorm"):
            node(f"{name}.{part}")
        node(f"{name}.noop", f"Sum(Scale({BYPASS}, {below}), {above})")
    node("prefinal-l")
    for part in ("affine", "relu", "batchnorm1", "linear", "batchnorm2"):
        node(f"prefinal-chain.{part}")
    node("output.affine")
    return (*lines, f"output-node name=output input={above} objective=linear")


def _components(network: TdnnF) -> dict[str, Component]:
    """All components with their weights. What steers training in Kaldi is there because its reader wants it."""
    stored: dict[str, dict[str, npt.NDArray[np.float32]]] = {}
    for name, token, tensor in _tensors(network):
        stored.setdefault(name, {})[token] = tensor.detach().cpu().numpy().astype(np.float32)
    dim = network.first.out_features
    # Every node but input and output has a component of its name, in the same order.
    offsets = {
        f"{name}.{part}": layer.offset for name, layer in _factor_names(network) for part in ("linear", "affine")
    }
    components = {}
    for line in _config(network)[1:-1]:
        name = line.split()[1].removeprefix("name=")
        weights = stored.get(name, {})
        part = name.rpartition(".")[2]
        if name == "lda":
            component = Component("FixedAffineComponent", weights)
        elif name in offsets:
            component = _time_delay(weights, offsets[name], looks_back=part == "linear")
        elif "<Params>" in weights:
            component = _linear(weights)
        elif part == "affine":
            component = _natural_affine(weights)
        elif part == "relu":
            component = _relu(dim)
        elif part == "noop":
            component = Component("NoOpComponent", {"<Dim>": dim, "<BackpropScale>": np.float32(1)})
        else:
            component = _norm(weights)
        components[name] = component
    return components


_RATE: dict[str, Value] = {"<LearningRate>": np.float32(1e-3)}
_NOTHING = np.zeros(0, np.float32)
_ZERO, _ONE, _ALPHA, _HISTORY = np.float32(0), np.float32(1), np.float32(4), np.float32(2000)


def _natural_affine(weights: dict[str, Any]) -> Component:
    tail: dict[str, Value] = {"<RankIn>": 20, "<RankOut>": 80, "<UpdatePeriod>": 4}
    tail |= {"<NumSamplesHistory>": _HISTORY, "<Alpha>": _ALPHA}
    return Component("NaturalGradientAffineComponent", _RATE | weights | tail)


def _linear(weights: dict[str, Any]) -> Component:
    tail: dict[str, Value] = {"<OrthonormalConstraint>": -_ONE, "<UseNaturalGradient>": True, "<RankInOut>": (20, 32)}
    tail |= {"<Alpha>": _ALPHA, "<NumSamplesHistory>": _HISTORY, "<UpdatePeriod>": 4}
    return Component("LinearComponent", _RATE | weights | tail)


def _time_delay(weights: dict[str, Any], offset: int, *, looks_back: bool) -> Component:
    times = [0] if not offset else [-offset, 0] if looks_back else [0, offset]
    head: dict[str, Value] = _RATE | {"<TimeOffsets>": np.array(times, np.int32)}
    tail: dict[str, Value] = {"<OrthonormalConstraint>": _ZERO, "<UseNaturalGradient>": True}
    tail |= {"<NumSamplesHistory>": _HISTORY, "<AlphaInOut>": (_ALPHA, _ALPHA), "<RankInOut>": (20, 80)}
    return Component("TdnnComponent", head | weights | {"<BiasParams>": weights.get("<BiasParams>", _NOTHING)} | tail)


def _relu(dim: int) -> Component:
    fields: dict[str, Value] = {"<Dim>": dim, "<ValueAvg>": _NOTHING, "<DerivAvg>": _NOTHING, "<Count>": _ZERO}
    fields |= {"<OderivRms>": _NOTHING, "<OderivCount>": _ZERO, "<NumDimsSelfRepaired>": _ZERO}
    return Component("RectifiedLinearComponent", fields | {"<NumDimsProcessed>": _ZERO})


def _norm(weights: dict[str, Any]) -> Component:
    dim = len(weights["<StatsMean>"])
    fields: dict[str, Value] = {"<Dim>": dim, "<BlockDim>": dim, "<Epsilon>": np.float32(_EPSILON), "<TargetRms>": _ONE}
    return Component("BatchNormComponent", fields | {"<TestMode>": True, "<Count>": np.float32(1000)} | weights)
