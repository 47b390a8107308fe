"""ONNX graphs on PyTorch: every operation against numpy, shapes, joined operations, and quantised files."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import torch

from models.build import dequantize
from models.build.dequantize import Graph, Node, Stored, read_graph, write_graph
from models.build.kokoro import with_source_noise
from models.build.onnx_torch import TorchGraph, Unsupported

RANDOM = np.random.default_rng(5)


def numbers(*shape: int) -> np.ndarray:
    return RANDOM.standard_normal(shape).astype(np.float32)


def graph(nodes: list[Node], constants: dict[str, Any], inputs: tuple[str, ...] = ("x",), output: str = "y") -> Graph:
    return Graph(list(inputs), [output], nodes, {name: Stored(np.array(value)) for name, value in constants.items()})


def computed(op: str, x: np.ndarray, *more: Any, **attributes: Any) -> np.ndarray:
    """One operation on x and constants."""
    constants = {f"c{k}": value for k, value in enumerate(more)}
    return TorchGraph(graph([Node(op, ["x", *constants], ["y"], attributes)], constants))(x=x).numpy()


X = numbers(2, 3, 6)


@pytest.mark.parametrize(
    ("op", "more", "attributes", "expected"),
    [
        ("Add", [numbers(6)], {}, lambda x, c: x + c),
        ("Mul", [np.float32(2)], {}, lambda x, c: x * c),
        ("Div", [np.float32(3)], {}, lambda x, c: x / c),
        ("Pow", [np.float32(2)], {}, lambda x, c: x**c),
        ("Transpose", [], {"perm": [2, 0, 1]}, lambda x: x.transpose(2, 0, 1)),
        ("Reshape", [[0, -1]], {}, lambda x, _: x.reshape(2, -1)),
        ("Expand", [[4, 1, 1, 6]], {}, lambda x, _: np.broadcast_to(x, (4, 2, 3, 6))),
        ("Slice", [[1, 0], [2**40, -1], [2, 1], [2, 1]], {}, lambda x, *_: x[:, :-1, 1::2]),
        ("Gather", [[-1, 0]], {"axis": 2}, lambda x, _: x[:, :, [-1, 0]]),
        ("Gather", [-1], {"axis": 1}, lambda x, _: x[:, -1]),
        ("Unsqueeze", [[0, -1]], {}, lambda x, _: x[None, ..., None]),
        ("ReduceMean", [[-1]], {"keepdims": 1}, lambda x, _: x.mean(-1, keepdims=True)),
        ("ReduceSum", [[1]], {"keepdims": 0}, lambda x, _: x.sum(1)),
        ("Pad", [[0, 0, 1, 0, 0, 2]], {"mode": "reflect"}, lambda x, _: np.pad(x, [(0, 0), (0, 0), (1, 2)], "reflect")),
        ("Pad", [[0, 1, 0, 0, 0, 2]], {}, lambda x, _: np.pad(x, [(0, 0), (1, 0), (0, 2)])),
        ("Clip", [np.float32(-0.5), np.float32(0.5)], {}, lambda x, a, b: x.clip(a, b)),
        ("CumSum", [2], {}, lambda x, _: x.cumsum(2)),
        ("LeakyRelu", [], {"alpha": 0.2}, lambda x: np.where(x > 0, x, 0.2 * x)),
        ("Resize", [np.zeros(0, np.float32), np.float32([1, 1, 2])],
         {"mode": "nearest", "coordinate_transformation_mode": "asymmetric"}, lambda x, *_: x.repeat(2, -1)),
    ],
)  # fmt: skip
def test_operations_are_as_numpy_has_them(op: str, more: list[Any], attributes: dict[str, Any], expected: Any) -> None:
    found = computed(op, X, *more, **attributes)
    np.testing.assert_allclose(found, expected(X, *map(np.array, more)), rtol=1e-5, atol=1e-5)


@pytest.mark.parametrize("pads", [[2, 2], [3, 0]])
@pytest.mark.parametrize("gap", [1, 3])
def test_a_convolution_by_product_is_the_same(pads: list[int], gap: int) -> None:
    x, weight, bias = numbers(1, 4, 30), numbers(5, 4, 3), numbers(5)
    node = Node("Conv", ["x", "w", "b"], ["y"], {"kernel_shape": [3], "pads": pads, "dilations": [gap]})
    built = graph([node], {"w": weight, "b": bias})
    straight, by_product = TorchGraph(built)(x=x), TorchGraph(built, by_product=True)(x=x)
    padded = np.pad(x, [(0, 0), (0, 0), (pads[0], pads[1])])
    frames = range(padded.shape[-1] - 2 * gap)
    expected = np.stack([(weight * padded[0, :, t : t + 2 * gap + 1 : gap]).sum((1, 2)) + bias for t in frames], -1)
    np.testing.assert_allclose(straight[0], expected, atol=1e-4)
    np.testing.assert_allclose(by_product[0], expected, atol=1e-4)


def test_scales_and_biases_after_a_layer_go_into_its_weights() -> None:
    x, weight, scale, bias = numbers(1, 7, 4), numbers(4, 5), numbers(5), numbers(5)
    nodes = [Node("MatMul", ["x", "w"], ["a"]), Node("Mul", ["a", "s"], ["b"]), Node("Add", ["b", "c"], ["y"])]
    network = TorchGraph(graph(nodes, {"w": weight, "s": scale, "c": bias}))
    assert len(network._steps) == 1
    np.testing.assert_allclose(network(x=x), x @ weight * scale + bias, rtol=1e-4, atol=1e-5)


def test_an_instance_norm_in_eight_operations_becomes_one() -> None:
    nodes = [
        Node("ReduceMean", ["x", "axes"], ["mean"], {"keepdims": 1}),
        Node("Sub", ["x", "mean"], ["centred"]),
        Node("Mul", ["centred", "centred"], ["square"]),
        Node("ReduceMean", ["square", "axes"], ["variance"], {"keepdims": 1}),
        Node("Add", ["variance", "epsilon"], ["sum"]),
        Node("Sqrt", ["sum"], ["root"]),
        Node("Div", ["centred", "root"], ["y"]),
    ]
    network = TorchGraph(graph(nodes, {"axes": [2], "epsilon": np.float32(1e-5)}))
    assert len(network._steps) == 1
    expected = (X - X.mean(-1, keepdims=True)) / np.sqrt(X.var(-1, keepdims=True) + 1e-5)
    np.testing.assert_allclose(network(x=X), expected, rtol=1e-4, atol=1e-5)


def test_shapes_are_worked_out_on_the_host() -> None:
    nodes = [
        Node("Shape", ["x"], ["shape"]),
        Node("Gather", ["shape", "last"], ["length"], {"axis": 0}),
        Node("Cast", ["length"], ["float"], {"to": 1}),
        Node("Div", ["x", "float"], ["y"]),
    ]
    np.testing.assert_allclose(TorchGraph(graph(nodes, {"last": 2}))(x=X), X / 6, rtol=1e-6)


def test_an_lstm_is_onnx_own() -> None:
    """Against the equations of the operator's documentation, gates in its order: input, output, forget, cell."""
    steps, features, size = 5, 3, 4
    x = numbers(steps, 1, features)
    weights, states, biases = numbers(2, 4 * size, features), numbers(2, 4 * size, size), numbers(2, 8 * size)
    settings = {"hidden_size": size, "direction": "bidirectional"}
    node = Node("LSTM", ["x", "w", "r", "b"], ["y", "h", "c"], settings)
    found = TorchGraph(graph([node], {"w": weights, "r": states, "b": biases}))(x=x).numpy()

    def sigmoid(a: np.ndarray) -> np.ndarray:
        return 1 / (1 + np.exp(-a))

    for direction, order in ((0, range(steps)), (1, range(steps - 1, -1, -1))):
        hidden = cell = np.zeros(size)
        for t in order:
            total = weights[direction] @ x[t, 0] + states[direction] @ hidden
            gate_in, gate_out, forget, new = np.split(total + biases[direction].reshape(2, -1).sum(0), 4)
            cell = sigmoid(forget) * cell + sigmoid(gate_in) * np.tanh(new)
            hidden = sigmoid(gate_out) * np.tanh(cell)
            np.testing.assert_allclose(found[t, direction, 0], hidden, atol=1e-5)


def test_a_spectrum_is_numpy_own() -> None:
    x, window = numbers(1, 50, 1), np.hanning(20).astype(np.float32)
    node = Node("STFT", ["x", "step", "window", "length"], ["y"], {"onesided": 1})
    found = TorchGraph(graph([node], {"step": 5, "window": window, "length": 20}))(x=x).numpy()
    frames = np.stack([x[0, t : t + 20, 0] * window for t in range(0, 31, 5)])
    expected = np.fft.rfft(frames)
    np.testing.assert_allclose(found[0, ..., 0] + 1j * found[0, ..., 1], expected, atol=1e-5)


def test_what_is_not_known_is_refused_on_loading() -> None:
    with pytest.raises(Unsupported, match="the graph uses Einsum"):
        TorchGraph(graph([Node("Einsum", ["x"], ["y"])], {}))
    with pytest.raises(Unsupported, match="Resize cubic"):
        TorchGraph(graph([Node("Resize", ["x", "", "s"], ["y"], {"mode": "cubic"})], {"s": np.float32([1, 1, 2])}))


def test_a_stored_graph_comes_back_whole_and_in_parts(tmp_path: Path) -> None:
    built = graph([Node("MatMul", ["x", "w"], ["y"], {"note": [1, 2]})], {})
    kept = RANDOM.integers(0, 255, (3, 4), dtype=np.uint8)
    built.tensors["w"] = Stored(kept, np.float32(128), np.full((1, 4), 0.5, np.float32), [1, 0])
    for part_bytes in (None, 300):
        path = tmp_path / f"{part_bytes}.npz"
        files = write_graph(built, path, part_bytes=part_bytes)
        assert (len(files) > 1) == (part_bytes is not None)
        again = read_graph(path)
        assert (again.inputs, again.outputs, again.nodes) == (built.inputs, built.outputs, built.nodes)
        np.testing.assert_array_equal(again.tensors["w"].value, ((kept.astype(np.float32) - 128) * 0.5).T)
    files[-1].unlink()
    with pytest.raises(ValueError, match="not a whole network file"):
        read_graph(path)
    with pytest.raises(FileNotFoundError, match="neither whole nor in parts"):
        read_graph(tmp_path / "none.npz")


def test_integer_layers_become_float_layers_of_the_same_weights() -> None:
    """A quantised product as onnxruntime writes it, without its rounding of the input."""
    x = numbers(1, 5, 4)
    weight, zero = RANDOM.integers(0, 255, (4, 3), dtype=np.uint8), np.array([120, 128, 131], np.uint8)
    scale = np.float32([0.01, 0.02, 0.03])
    nodes = [
        Node("DynamicQuantizeLinear", ["x"], ["xq", "xs", "xz"]),
        Node("MatMulInteger", ["xq", "w", "xz", "z"], ["sum"]),
        Node("Cast", ["sum"], ["float"], {"to": 1}),
        Node("Mul", ["xs", "s"], ["scale"]),
        Node("Mul", ["float", "scale"], ["y"]),
    ]
    built = dequantize.dequantized(graph(nodes, {"w": weight, "z": zero, "s": scale}))
    assert built.tensors["w.weight"].kept.dtype == np.uint8
    expected = x @ ((weight.astype(np.float32) - zero) * scale)
    np.testing.assert_allclose(TorchGraph(built)(x=x), expected, rtol=1e-4, atol=1e-4)


def test_large_constants_are_halved_and_small_ones_kept() -> None:
    built = dequantize.halved(graph([], {"large": numbers(80, 80), "small": numbers(8), "whole": np.arange(5000)}))
    assert [each.kept.dtype for each in built.tensors.values()] == [np.float16, np.float32, np.int64]
    assert built.tensors["large"].value.dtype == np.float32


def test_an_onnx_file_is_read(tmp_path: Path) -> None:
    import onnx

    helper, kinds = onnx.helper, onnx.TensorProto
    nodes = [
        helper.make_node("Constant", [], ["two"], value=helper.make_tensor("", kinds.FLOAT, [], [2.0])),
        helper.make_node("Mul", ["x", "two"], ["twice"]),
        helper.make_node("LeakyRelu", ["twice"], ["y"], alpha=0.5),
    ]
    values = [helper.make_tensor_value_info(name, kinds.FLOAT, [1, 3]) for name in ("x", "y")]
    path = tmp_path / "small.onnx"
    onnx.save(helper.make_model(helper.make_graph(nodes, "small", values[:1], values[1:])), path)
    target = tmp_path / "small.npz"
    assert dequantize.main([str(path), str(target)]) == 0
    found = TorchGraph(read_graph(target))(x=np.float32([[1, -1, 3]]))
    np.testing.assert_array_equal(found, [[2, -1, 6]])


def test_noise_is_loud_where_there_is_no_voice() -> None:
    """The synthesizer's source: hum times a gate, then mixed to one signal."""
    nodes = [
        Node("Mul", ["x", "voiced"], ["gated"]),
        Node("MatMul", ["gated", "mix"], ["m_source/l_linear/MatMul_output_0"]),
    ]
    built = graph(nodes, {"mix": np.ones((1, 1), np.float32)}, ("x", "voiced"), "m_source/l_linear/MatMul_output_0")
    network = TorchGraph(with_source_noise(built))
    voiced = np.repeat(np.float32([1, 0]), 10_000).reshape(1, -1, 1)
    torch.manual_seed(1)
    found = network(x=np.zeros((1, 20_000, 1), np.float32), voiced=voiced).numpy().reshape(2, -1)
    np.testing.assert_allclose(found.std(axis=1), [0.003, 0.1 / 3], rtol=0.05)
    with pytest.raises(ValueError, match="no voice source"):
        with_source_noise(graph([], {}))
