"""The network: its shapes, its way into vosk, its constraint, and that it learns."""

from __future__ import annotations

import json
import re
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import torch
import vosk

from models.build import kaldi_mdl
from models.build.en.phones import UNITS
from models.build.loss import Objective, PhoneBigram
from models.build.network import (
    CONTEXT,
    FactorisedLayer,
    TdnnF,
    constrain_orthonormal,
    export,
    load_mdl,
    nearer_semi_orthogonal,
    parameter_groups,
    restored,
)

MODEL = Path(__file__).parents[3] / "models" / "plainspeech-en"
SHIPPED = MODEL / "am" / "final.mdl"
Floats = npt.NDArray[np.float64]


@pytest.fixture(autouse=True)
def _same_numbers() -> None:
    torch.manual_seed(0)
    torch.set_num_threads(1)


def tiny() -> TdnnF:
    return TdnnF(24, 8, offsets=(1, 0, 3))


def lively(network: TdnnF) -> TdnnF:
    """Every weight and statistic at random, so that none goes missing unnoticed."""
    with torch.no_grad():
        for name, tensor in network.state_dict().items():
            if tensor.is_floating_point():
                tensor.copy_(torch.rand_like(tensor) + 0.5 if "var" in name else 0.3 * torch.randn_like(tensor))
    return network.eval()


def norm_is_off(product: torch.Tensor) -> float:
    """How far P is from a multiple of I, beside its size."""
    scale = product.trace() / len(product)
    return float((product - scale * torch.eye(len(product))).norm() / product.norm())


@pytest.mark.parametrize("frames", [1, 2, 3, 4, 90, 91, 92])
def test_an_output_for_every_third_frame(frames: int) -> None:
    network = TdnnF(16, 4).eval()
    assert network.context == CONTEXT == 34
    assert network(torch.randn(2, frames + 68, 40)).shape == (2, -(-frames // 3), UNITS.pdfs)


def test_an_output_depends_on_its_context_alone() -> None:
    network = lively(tiny())
    reach = network.context
    assert reach == 5
    features = torch.randn(1, 30 + 2 * reach, 40, requires_grad=True)
    for row in range(10):
        (gradient,) = torch.autograd.grad(network(features)[0, row].sum(), features)
        used = gradient[0].abs().sum(1).nonzero().flatten()
        assert (int(used.min()), int(used.max())) == (3 * row, 3 * row + 2 * reach)


def test_shipped_model_is_loaded_and_exported_byte_for_byte(tmp_path: Path) -> None:
    network = load_mdl(SHIPPED)
    assert not network.training
    export(network, tmp_path / "final.mdl")
    assert (tmp_path / "final.mdl").read_bytes() == SHIPPED.read_bytes()


@pytest.mark.parametrize("network", [tiny(), TdnnF(20, 6), TdnnF(10, 4, offsets=(2, 1, 0, 3, 6), outputs=12)])
def test_an_exported_network_loads_with_the_same_outputs(network: TdnnF, tmp_path: Path) -> None:
    lively(network)
    export(network, tmp_path / "final.mdl")
    again = load_mdl(tmp_path / "final.mdl")
    features = torch.randn(2, 30 + 2 * network.context, 40)
    torch.testing.assert_close(again(features), network(features), rtol=0, atol=0)
    before = network.state_dict()
    for name, tensor in again.state_dict().items():
        if tensor.is_floating_point():
            assert torch.equal(tensor, before[name]), name


def test_outputs_are_those_that_kaldis_description_says(tmp_path: Path) -> None:
    network = lively(tiny())
    features = np.random.default_rng(0).normal(0, 1, (19, 40))
    export(network, tmp_path / "a.mdl")
    wanted = network(torch.tensor(features[None], dtype=torch.float32))[0].detach().numpy()
    found = by_description(kaldi_mdl.read(tmp_path / "a.mdl"), features)
    assert found.shape == wanted.shape == (3, UNITS.pdfs)
    np.testing.assert_allclose(found, wanted, rtol=1e-4, atol=1e-4)


def by_description(model: kaldi_mdl.Model, features: Floats) -> Floats:
    """A model's outputs for features, (frames, 40), node by node as its config tells."""
    lines = {line.split()[1].removeprefix("name="): line.split("input=", 1)[1] for line in model.config[1:-1]}
    cache: dict[tuple[str, int], Floats] = {}

    def feed(text: str, time: int) -> Floats:
        if match := re.fullmatch(r"Append\((Offset\(input, -1\)), (input), (Offset\(input, 1\))\)", text):
            return np.concatenate([feed(part, time) for part in match.groups()])
        if match := re.fullmatch(r"Offset\((\w+), (-?\d+)\)", text):
            return feed(match[1], time + int(match[2]))
        if match := re.fullmatch(r"Sum\(Scale\(([\d.]+), (\S+)\), (\S+)\)", text):
            return float(match[1]) * feed(match[2], time) + feed(match[3], time)
        return features[time] if text == "input" else node(text, time)

    def node(name: str, time: int) -> Floats:
        if (name, time) in cache:
            return cache[name, time]
        part = model.components[name]
        fields = part.fields
        if part.type == "TdnnComponent":
            x = np.concatenate([feed(lines[name], time + int(o)) for o in part.array("<TimeOffsets>")])
        else:
            x = feed(lines[name], time)
        match part.type:
            case "RectifiedLinearComponent":
                x = np.maximum(x, 0)
            case "BatchNormComponent":
                x = (x - part.array("<StatsMean>")) / np.sqrt(part.array("<StatsVar>") + fields["<Epsilon>"])
            case "LinearComponent":
                x = part.array("<Params>") @ x
            case "NoOpComponent":
                pass
            case _:
                x = part.array("<LinearParams>") @ x
                x = x + part.array("<BiasParams>") if len(part.array("<BiasParams>")) else x
        cache[name, time] = x
        return x

    times = range(model.left_context, len(features) - model.right_context, 3)
    return np.stack([node("output.affine", time) for time in times])


def test_vosk_hears_with_an_exported_model(tmp_path: Path) -> None:
    shutil.copytree(MODEL, tmp_path / "model")
    network = load_mdl(SHIPPED)
    with torch.no_grad():  # a model that hears only silence: its file is not the shipped one
        network.out.weight.zero_()
        network.out.bias.copy_(torch.tensor([5.0, 5.0] + [0.0] * (UNITS.pdfs - 2)))
    export(network, tmp_path / "model" / "am" / "final.mdl")
    vosk.SetLogLevel(-1)
    recognizer = vosk.KaldiRecognizer(vosk.Model(str(tmp_path / "model")), 16_000, '["next tile", "yes"]')
    noise = np.random.default_rng(0).normal(0, 500, 16_000).astype("<i2").tobytes()
    recognizer.AcceptWaveform(noise)
    assert json.loads(recognizer.FinalResult())["text"] == ""


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda m: replace(m, config=m.config[:-1]), "its layers are not those"),
        (lambda m: replace(m, components={k: v for k, v in m.components.items() if k != "lda"}), "no component 'lda'"),
    ],
)
def test_another_network_is_refused(change: object, words: str, tmp_path: Path) -> None:
    export(tiny(), tmp_path / "a.mdl")
    kaldi_mdl.write(change(kaldi_mdl.read(tmp_path / "a.mdl")), tmp_path / "b.mdl")  # type: ignore[operator]
    with pytest.raises(ValueError, match=f"b.mdl: {words}"):
        load_mdl(tmp_path / "b.mdl")


def test_a_network_that_training_wrote_is_restored_at_its_width(tmp_path: Path) -> None:
    network = TdnnF(48, 12)
    torch.save({"network": network.state_dict()}, tmp_path / "a.pt")
    again = restored(tmp_path / "a.pt").state_dict()
    assert all(torch.equal(value, again[name]) for name, value in network.state_dict().items())
    whole = restored(SHIPPED)
    assert whole.first.out_features == 768, "from a model's own file, to go on training"


def test_what_is_no_network_of_training_is_refused(tmp_path: Path) -> None:
    torch.save({"network": {"first.weight": torch.zeros(4, 120)}}, tmp_path / "a.pt")
    with pytest.raises(ValueError, match=r"a\.pt: not a network"):
        restored(tmp_path / "a.pt")


def test_features_are_whitened_for_the_first_layer() -> None:
    network = tiny()
    mean, std = torch.linspace(-50, 50, 40), torch.linspace(1, 20, 40)
    network.whiten(mean, std)
    spliced = (mean + std * torch.randn(5000, 40)).repeat(1, 3)
    white = spliced @ network.spread.t() + network.shift
    torch.testing.assert_close(white.mean(0), torch.zeros(120), atol=0.1, rtol=0)
    torch.testing.assert_close(white.std(0), torch.ones(120), atol=0.1, rtol=0)
    network.whiten(mean.numpy(), std.numpy())
    with pytest.raises(ValueError, match="deviations above 0"):
        network.whiten(mean, torch.zeros(40))
    torch.nn.init.ones_(network.out.weight)
    with pytest.raises(ValueError, match="used to its features"):
        network.whiten(mean, std)


def test_groups_of_parameters_are_all_of_them_once() -> None:
    network = tiny()
    body, top = parameter_groups(network)
    assert sorted(map(id, body + top)) == sorted(map(id, network.parameters()))
    assert any(p is network.out.weight for p in top)
    assert any(p is network.first.weight for p in body)


def test_factors_begin_semi_orthogonal() -> None:
    for layer in TdnnF(32, 8).layers:
        assert isinstance(layer, FactorisedLayer)
        weight = layer.linear.weight.detach()
        assert norm_is_off(weight @ weight.t()) < 1e-5


@pytest.mark.parametrize("spread", [0.0, 1.0, 2.0])
def test_constraint_leads_to_a_multiple_of_a_semi_orthogonal_matrix(spread: float) -> None:
    matrix = torch.randn(16, 64) * torch.exp(spread * torch.randn(16, 1))
    size = matrix.norm()
    off = [norm_is_off(matrix @ matrix.t())]
    for _ in range(400):
        matrix = nearer_semi_orthogonal(matrix)
        off.append(norm_is_off(matrix @ matrix.t()))
    assert off[-1] < 1e-4 < off[0]
    # The scale floats: the size stays near what it was.
    assert 0.3 < matrix.norm() / size < 3


def test_near_its_aim_the_constraint_converges_quadratically() -> None:
    matrix = torch.linalg.qr(torch.randn(64, 16, dtype=torch.float64))[0].t() * 3
    matrix = matrix + 0.01 * torch.randn(16, 64, dtype=torch.float64)
    errors = []
    for _ in range(3):
        product = matrix @ matrix.t()
        errors.append(float((product / product.trace() * 16 - torch.eye(16)).norm()))
        matrix = nearer_semi_orthogonal(matrix)
    assert errors[1] < errors[0] ** 2
    assert errors[2] < errors[1] ** 2 + 1e-14


def test_constraint_reaches_every_first_factor_and_nothing_else() -> None:
    network = tiny()
    with torch.no_grad():
        for parameter in network.parameters():
            parameter.add_(0.1 * torch.randn_like(parameter))
    before = {name: value.clone() for name, value in network.state_dict().items()}
    constrain_orthonormal(network)
    changed = {name for name, value in network.state_dict().items() if not torch.equal(value, before[name])}
    factors = {f"layers.{number}.linear.weight" for number in range(3)}
    assert changed == factors | {"narrow.weight", "narrow_again.weight"}


def test_dropout_is_for_training_only_and_the_same_over_time() -> None:
    network = tiny()
    features = torch.randn(2, 40, 40)
    network.eval()
    assert torch.equal(network(features, 0.5), network(features, 0.0))
    layer = FactorisedLayer(8, 4, 1).train()
    layer.norm.eval()
    x = torch.randn(3, 20, 8)
    with torch.no_grad():
        plain, dropped = layer(x, 0.0, 1), layer(x, 0.3, 1)
    bypass = 0.66 * x[:, 1:-1]
    factor = (dropped - bypass) / (plain - bypass)
    known = (plain - bypass).abs() > 1e-3
    for utterance in range(3):
        for column in range(8):
            seen = factor[utterance, :, column][known[utterance, :, column]]
            if len(seen):
                assert seen.min() >= 0.4 - 1e-4
                assert seen.max() <= 1.6 + 1e-4
                assert seen.max() - seen.min() < 1e-2


def test_it_learns_words_from_their_sounds() -> None:
    """Twelve made-up units, each a pattern of features; from nothing, only what was said is told."""
    random = np.random.default_rng(0)
    patterns = random.normal(0, 1, (19, 40)).astype(np.float32)
    words = [[[int(u) for u in random.integers(1, 13, 3)] for _ in range(2)] for _ in range(8)]
    network = TdnnF(48, 12, offsets=(1, 0, 3), outputs=26)
    features, wanted = [], []
    for said in words:
        line = [0] + [u for word in said for u in [*word, 0]]
        frames = np.repeat(patterns[line], 9, axis=0)
        features.append(np.pad(frames, ((network.context, network.context), (0, 0)), "edge"))
        wanted.append((np.array(line), np.array([u == 0 for u in line])))
    heard = torch.from_numpy(np.stack(features)) + 0.1 * torch.randn(8, len(features[0]), 40)
    objective = Objective(PhoneBigram.of(words, seed=0, units=13), torch)
    optimizer = torch.optim.AdamW(network.parameters(), lr=5e-3)
    values = []
    for step in range(150):
        output = network(heard, 0.05)
        value, gradient, failed = objective(output.detach(), wanted)
        assert failed == 0
        values.append(value)
        optimizer.zero_grad()
        output.backward(gradient * 100)
        optimizer.step()
        if step % 4 == 3:
            constrain_orthonormal(network)
    assert values[0] < -0.3
    assert np.mean(values[-5:]) > -0.03


def test_loss_is_the_same_in_torch_and_numpy() -> None:
    random = np.random.default_rng(0)
    words = [[[1, 2], [3]], [[3, 3, 2]]]
    bigram = PhoneBigram.of(words, seed=0, units=4)
    units = np.array([0, 1, 2, 0, 3, 0])
    lines = [(units, units == 0), (np.array([3, 3, 2]), np.zeros(3, bool))]
    outputs = random.normal(0, 2, (2, 20, 8))
    value, gradient, failed = Objective(bigram)(outputs, lines)
    in_torch = Objective(bigram, torch, device="cpu")(torch.from_numpy(outputs), lines)
    assert in_torch[0] == pytest.approx(value, rel=1e-12)
    assert in_torch[2] == failed == 0
    np.testing.assert_allclose(in_torch[1].numpy(), gradient, atol=1e-15)
    single = Objective(bigram, torch)(torch.from_numpy(outputs).float(), lines)[1]
    assert single.dtype == torch.float32
