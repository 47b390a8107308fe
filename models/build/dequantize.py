"""A quantised ONNX network as a float network, in a file that numpy alone can read.

The synthesizer's network comes with whole-number weights for a processor (onnxruntime's dynamic quantisation: at every
layer the input is measured, rounded to 8 bits, multiplied and scaled back). A GPU gains nothing from that, and it costs
accuracy. Here the rounding of inputs is taken out again and the weights are kept as they are, 8 bits each, with what
turns them into floats on loading. The operations rewritten are those that onnxruntime's quantiser writes
(`DynamicQuantizeLinear`, `MatMulInteger`, `ConvInteger`, `DynamicQuantizeLSTM`; its documentation, from memory).

    python -m models.build.dequantize kokoro.onnx kokoro.npz [--half] [--parts MEGABYTES]

With --parts the file is cut into kokoro.npz.00, kokoro.npz.01, ...; `read_graph` finds them by the whole file's name.
Only this stage needs the package `onnx`; reading needs numpy and the standard library.
"""

from __future__ import annotations

import argparse
import io
import json
import sys
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[Any]

_DESCRIPTION = "graph.json"
# Smaller tensors hold shapes, steps and thresholds: half precision saves nothing there and may change them.
_HALF_FROM = 4096


@dataclass
class Node:
    """One operation: its ONNX name, the names of the values it reads ("" for one left out) and writes, its settings."""

    op: str
    ins: list[str]
    outs: list[str]
    attributes: dict[str, Any] = field(default_factory=dict)


@dataclass
class Stored:
    """A constant as it is kept; `value` is what the network works with.

    zero, scale: float32, of a shape that numpy spreads over `kept`; None when the constant is kept as it is.
    axes: the order in which the axes are to stand, if another than they are kept in.
    """

    kept: Array
    zero: Array | None = None
    scale: Array | None = None
    axes: list[int] | None = None

    @property
    def value(self) -> Array:
        found = self.kept
        if self.zero is not None or found.dtype == np.float16:
            found = found.astype(np.float32)
        if self.zero is not None:
            found = found - self.zero
        if self.scale is not None:
            found = found * self.scale
        return np.ascontiguousarray(found.transpose(self.axes)) if self.axes else found


@dataclass
class Graph:
    """A network: the names of its inputs and outputs, its operations in an order that can be run, its constants."""

    inputs: list[str]
    outputs: list[str]
    nodes: list[Node]
    tensors: dict[str, Stored]

    def constant(self, name: str, value: Array) -> str:
        """Adds a constant, if it is not there; gives its name."""
        self.tensors.setdefault(name, Stored(value))
        return name


def read_onnx(path: Path) -> Graph:
    """An ONNX file's graph as it stands, its `Constant` operations among the constants.

    Attributes that are tensors become a pair of number and type name, as ONNX has them only for `ConstantOfShape` here.
    """
    import onnx

    model = onnx.load(path).graph
    to_array = onnx.numpy_helper.to_array
    graph = Graph([], [output.name for output in model.output], [], {})
    for tensor in model.initializer:
        graph.constant(tensor.name, np.array(to_array(tensor)))
    graph.inputs = [value.name for value in model.input if value.name not in graph.tensors]
    for node in model.node:
        found = {each.name: onnx.helper.get_attribute_value(each) for each in node.attribute}
        if node.op_type == "Constant":
            graph.constant(node.output[0], np.array(to_array(found["value"])))
            continue
        attributes: dict[str, Any] = {}
        for name, value in found.items():
            if isinstance(value, onnx.TensorProto):
                array = to_array(value).reshape(-1)
                attributes[name] = [array[0].item(), array.dtype.name]
            else:
                attributes[name] = value.decode() if isinstance(value, bytes) else _plain(value)
        graph.nodes.append(Node(node.op_type, list(node.input), list(node.output), attributes))
    return graph


def _plain(value: Any) -> Any:
    return list(value) if isinstance(value, Sequence) and not isinstance(value, str) else value


def dequantized(graph: Graph) -> Graph:
    """The same network without the rounding of inputs and biases. `graph` is used up.

    A weight keeps its whole numbers. Where the graph multiplies a layer's result by the weight's scale afterwards, that
    stays so, with an input scale of 1.
    """
    one = graph.constant("dequantized.one", np.array(1, np.float32))
    none = graph.constant("dequantized.none", np.array(0, np.float32))
    nodes = []
    for node in graph.nodes:
        match node.op:
            case "DynamicQuantizeLinear":
                sources = [node.ins[0], one, none]
                nodes += [Node("Identity", [a], [b]) for a, b in zip(sources, node.outs, strict=False) if b]
            case "MatMulInteger" | "ConvInteger":
                weight = _integer_weight(graph, node)
                op = node.op.removesuffix("Integer")
                nodes.append(Node(op, [node.ins[0], weight], node.outs, node.attributes))
            case "DynamicQuantizeLSTM":
                nodes.append(_lstm(graph, node))
            # The biases of convolutions are added before the scale is, as whole numbers: they may stay fractions now.
            case "Floor" if "bias_quant_rounded" in node.outs[0]:
                nodes.append(Node("Identity", node.ins, node.outs))
            case "Cast" if "bias_quantized" in node.outs[0]:
                nodes.append(Node("Identity", node.ins, node.outs))
            case _:
                nodes.append(node)
    for name, tensor in graph.tensors.items():
        if "bias_quantized" in name and tensor.kept.dtype == np.int32:
            tensor.kept = tensor.kept.astype(np.float32)
    used = {name for node in nodes for name in node.ins} | set(graph.outputs)
    graph.nodes = nodes
    graph.tensors = {name: tensor for name, tensor in graph.tensors.items() if name in used}
    return graph


def _integer_weight(graph: Graph, node: Node) -> str:
    """The weight of an integer product, less its zero point."""
    name = node.ins[1]
    kept = graph.tensors[name].kept
    zero = np.zeros((), np.float32)
    if len(node.ins) > 3 and node.ins[3]:
        zero = graph.tensors[node.ins[3]].kept.astype(np.float32)
    if node.op == "ConvInteger" and zero.size > 1:  # one for each output channel, the first axis of a kernel
        zero = zero.reshape(-1, *[1] * (kept.ndim - 1))
    graph.tensors[f"{name}.weight"] = Stored(kept, zero)
    return f"{name}.weight"


def _lstm(graph: Graph, node: Node) -> Node:
    """A quantised LSTM as ONNX's plain one, whose weights stand the other way round."""
    ins = node.ins + [""] * (12 - len(node.ins))
    names = []
    for weight, scale, zero in ((ins[1], ins[8], ins[9]), (ins[2], ins[10], ins[11])):
        kept = graph.tensors[weight].kept

        def spread(name: str) -> Array:
            """One number for each direction, or for each direction and output: over (direction, input, output)."""
            found = graph.tensors[name].kept.astype(np.float32)
            return found[:, None, :] if found.ndim == 2 else found.reshape(-1, 1, 1)

        graph.tensors[f"{weight}.weight"] = Stored(kept, spread(zero), spread(scale), [0, 2, 1])
        names.append(f"{weight}.weight")
    return Node("LSTM", [ins[0], *names, *ins[3:8]], node.outs, node.attributes)


def halved(graph: Graph) -> Graph:
    """Large float32 constants in half precision: an error of 0.05 %, well under that of 8-bit weights."""
    for tensor in graph.tensors.values():
        if tensor.kept.dtype == np.float32 and tensor.kept.size >= _HALF_FROM:
            tensor.kept = tensor.kept.astype(np.float16)
    return graph


def write_graph(graph: Graph, path: Path, *, part_bytes: int | None = None) -> list[Path]:
    """Writes the graph; gives the files written: `path`, or path.00, path.01, ... of at most `part_bytes` each."""
    arrays: dict[str, Array] = {}

    def keep(array: Array | None) -> str | None:
        if array is None:
            return None
        name = f"t{len(arrays)}"
        arrays[name] = array
        return name

    tensors = {
        name: {"kept": keep(each.kept), "zero": keep(each.zero), "scale": keep(each.scale), "axes": each.axes}
        for name, each in graph.tensors.items()
    }
    nodes = [[node.op, node.ins, node.outs, node.attributes] for node in graph.nodes]
    description = {"inputs": graph.inputs, "outputs": graph.outputs, "nodes": nodes, "tensors": tensors}
    arrays[_DESCRIPTION] = np.frombuffer(json.dumps(description).encode(), np.uint8)
    buffer = io.BytesIO()
    np.savez_compressed(buffer, allow_pickle=False, **arrays)
    data = buffer.getvalue()
    if part_bytes is None:
        path.write_bytes(data)
        return [path]
    parts = []
    for number, start in enumerate(range(0, len(data), part_bytes)):
        parts.append(path.with_name(f"{path.name}.{number:02}"))
        parts[-1].write_bytes(data[start : start + part_bytes])
    return parts


def read_graph(path: Path) -> Graph:
    """A graph that `write_graph` wrote, whole or in parts.

    Errors: `FileNotFoundError` when neither the file nor a part of it is there, `ValueError` when it is no such file.
    """
    parts = [path] if path.exists() else sorted(path.parent.glob(f"{path.name}.[0-9][0-9]"))
    if not parts:
        raise FileNotFoundError(f"{path} is not there, neither whole nor in parts ({path.name}.00, ...)")
    try:
        with np.load(io.BytesIO(b"".join(part.read_bytes() for part in parts)), allow_pickle=False) as arrays:
            description = json.loads(arrays[_DESCRIPTION].tobytes())

            def kept(name: str | None) -> Array | None:
                return None if name is None else arrays[name]

            tensors = {
                name: Stored(arrays[row["kept"]], kept(row["zero"]), kept(row["scale"]), row["axes"])
                for name, row in description["tensors"].items()
            }
    except (OSError, EOFError, KeyError, ValueError, zipfile.BadZipFile) as damage:
        raise ValueError(f"{path} is not a whole network file (are all its parts there?): {damage}") from damage
    nodes = [Node(*row) for row in description["nodes"]]
    return Graph(description["inputs"], description["outputs"], nodes, tensors)


def main(arguments: Sequence[str] | None = None) -> int:
    """The stage's command line."""
    parser = argparse.ArgumentParser(prog="python -m models.build.dequantize", description=__doc__.partition("\n")[0])
    parser.add_argument("source", type=Path, help="the quantised .onnx file")
    parser.add_argument("target", type=Path, help="the .npz file to write")
    parser.add_argument("--half", action="store_true", help="keep large float constants in half precision")
    parser.add_argument("--parts", type=float, metavar="MEGABYTES", help="cut the file into parts of this size")
    given = parser.parse_args(arguments)
    graph = dequantized(read_onnx(given.source))
    if given.half:
        halved(graph)
    part_bytes = None if given.parts is None else int(given.parts * 1e6)
    for path in write_graph(graph, given.target, part_bytes=part_bytes):
        print(f"{path}: {path.stat().st_size / 1e6:.1f} MB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
