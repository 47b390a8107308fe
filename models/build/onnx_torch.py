"""A small interpreter of ONNX graphs on PyTorch, for speech networks on a GPU.

    network = TorchGraph(read_graph(Path("kokoro.npz")), "cuda")
    audio = network(tokens=[[0, 50, 0]], style=style, speed=[1.0])

It knows the operations that the synthesizer's network uses, as ONNX defines them (its operator documentation, from
memory), in float32, and refuses what it does not know when the graph is loaded, not later.

On loading, three things make it fast. Constants are worked out; scales and biases that stand after a layer go into its
weights; and every value gets a place: shapes and the arithmetic with them stay with the processor ("host"), sound and
its features with the device. A host value goes to the device only where it is used as data, so the GPU is not waited
for in between, save where the number of frames must be known.

Needs torch and numpy, and what dequantize.py needs for reading.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import torch
from torch import Tensor
from torch.nn import functional

from models.build.dequantize import Graph, Node

Attributes = Mapping[str, Any]
Op = Callable[..., Any]

# Inputs that say how, not what: shapes, axes, sizes. They are read as Python numbers.
_SETTINGS: dict[str, tuple[int, ...]] = {
    "Reshape": (1,),
    "Expand": (1,),
    "Slice": (1, 2, 3, 4),
    "Split": (1,),
    "Unsqueeze": (1,),
    "Squeeze": (1,),
    "Pad": (1, 2, 3),
    "ReduceMean": (1,),
    "ReduceSum": (1,),
    "Resize": (1, 2, 3),
    "CumSum": (1,),
    "Range": (0, 1, 2),
    "ConstantOfShape": (0,),
    "Clip": (1, 2),
    "STFT": (1, 3),
}
_COMPARISONS = {"Equal", "Less", "Greater", "GreaterOrEqual", "LessOrEqual", "And", "Or"}
# Operations on single elements take a number where a tensor of no axes stands: no transfer, no broadcasting.
_ELEMENTWISE = {"Add", "Sub", "Mul", "Div", "Pow", "Where", *_COMPARISONS}
# ONNX's numbers for element types.
_TYPES = {
    1: torch.float32,
    2: torch.uint8,
    3: torch.int8,
    6: torch.int32,
    7: torch.int64,
    9: torch.bool,
    11: torch.float64,
}


class Unsupported(ValueError):
    """The graph asks for a form of an operation that this module does not compute; the text names it."""


def _numbers(value: Any) -> Any:
    """A host tensor as a Python number or list; anything else as it is."""
    return value.tolist() if isinstance(value, Tensor) else value


# Each of these takes a node's attributes and gives the function that computes the node.


def _plain(function: Op) -> Callable[[Attributes], Op]:
    return lambda _: function


def _divide(a: Any, b: Any) -> Tensor:
    tensor = a if isinstance(a, Tensor) else b
    return a / b if tensor.is_floating_point() else torch.div(a, b, rounding_mode="trunc")


def _power(a: Tensor, b: Any) -> Tensor:
    return a * a if isinstance(b, float) and b == 2.0 else torch.pow(a, b)


def _arc_tangent(a: Tensor) -> Tensor:
    """The angle of an empty bin, 0 / 0, is 0."""
    return torch.nan_to_num(torch.atan(a), nan=0.0)


def _cast(given: Attributes) -> Op:
    to = _TYPES[given["to"]]
    return lambda x: x.to(to)


def _gather(given: Attributes) -> Op:
    axis = given.get("axis", 0)

    def gather(x: Tensor, index: Any) -> Tensor:
        if isinstance(index, int):
            return x.select(axis, index)
        if index.ndim == 0:
            return x.select(axis, int(index))
        if index.device.type == "cpu":
            index = torch.where(index < 0, index + x.shape[axis], index)
        if index.ndim == 1:
            return x.index_select(axis, index)
        shape = x.shape[:axis] + index.shape + x.shape[axis % x.ndim + 1 :]
        return x.index_select(axis, index.reshape(-1)).reshape(shape)

    return gather


def _shape(x: Tensor) -> Tensor:
    return torch.tensor(x.shape, dtype=torch.int64)


def _reshape(_: Attributes) -> Op:
    def reshape(x: Tensor, shape: Any) -> Tensor:
        shape = _numbers(shape)
        return x.reshape([x.shape[axis] if size == 0 else size for axis, size in enumerate(shape)])

    return reshape


def _expand(_: Attributes) -> Op:
    def expand(x: Tensor, shape: Any) -> Tensor:
        return x.expand(torch.broadcast_shapes(x.shape, tuple(_numbers(shape))))

    return expand


def _slice(_: Attributes) -> Op:
    def cut(x: Tensor, starts: Any, ends: Any, axes: Any = None, steps: Any = None) -> Tensor:
        starts, ends, axes, steps = (_numbers(each) for each in (starts, ends, axes, steps))
        axes = axes or range(len(starts))
        steps = steps or [1] * len(starts)
        if min(steps) < 0:
            raise Unsupported("Slice backwards")
        index = [slice(None)] * x.ndim
        for axis, start, end, step in zip(axes, starts, ends, steps, strict=True):
            index[axis] = slice(start, end, step)
        return x[tuple(index)]

    return cut


def _split(given: Attributes) -> Op:
    axis = given.get("axis", 0)
    return lambda x, sizes: x.split(_numbers(sizes), axis)


def _unsqueeze(_: Attributes) -> Op:
    def unsqueeze(x: Tensor, axes: Any) -> Tensor:
        axes = _numbers(axes)
        for axis in sorted(axis % (x.ndim + len(axes)) for axis in axes):
            x = x.unsqueeze(axis)
        return x

    return unsqueeze


def _squeeze(_: Attributes) -> Op:
    return lambda x, axes=None: x.squeeze() if axes is None else x.squeeze(tuple(_numbers(axes)))


def _concat(given: Attributes) -> Op:
    axis = given["axis"]
    return lambda *tensors: torch.cat(tensors, axis)


def _transpose(given: Attributes) -> Op:
    order = given.get("perm")
    return lambda x: x.permute(order or list(range(x.ndim))[::-1])


def _reduce(function: Op) -> Callable[[Attributes], Op]:
    def make(given: Attributes) -> Op:
        keep = bool(given.get("keepdims", 1))
        return lambda x, axes: function(x, _numbers(axes), keepdim=keep)

    return make


def _pad(given: Attributes) -> Op:
    mode = given.get("mode", "constant")

    def pad(x: Tensor, sizes: Any, value: Any = None, axes: Any = None) -> Tensor:
        sizes = _numbers(sizes)
        count = len(sizes) // 2
        amounts = [(0, 0)] * x.ndim
        for place, axis in enumerate(_numbers(axes) or range(count)):
            amounts[axis] = (sizes[place], sizes[place + count])
        while len(amounts) > 1 and amounts[0] == (0, 0):  # torch pads by mode only the last axes
            amounts.pop(0)
        flat = [amount for pair in reversed(amounts) for amount in pair]
        if mode == "constant":
            return functional.pad(x, flat, value=_numbers(value) or 0.0)
        return functional.pad(x, flat, mode=mode)

    return pad


def _clip(_: Attributes) -> Op:
    return lambda x, low=None, high=None: torch.clamp(x, _numbers(low), _numbers(high))


def _cumulative_sum(given: Attributes) -> Op:
    if given.get("exclusive") or given.get("reverse"):
        raise Unsupported("CumSum exclusive or in reverse")

    def cumulative_sum(x: Tensor, axis: Any) -> Tensor:
        axis = _numbers(axis)
        return torch.cumsum(x, axis[0] if isinstance(axis, list) else axis)

    return cumulative_sum


def _softmax(given: Attributes) -> Op:
    axis = given.get("axis", -1)
    return lambda x: functional.softmax(x, axis)


def _leaky_relu(given: Attributes) -> Op:
    slope = given.get("alpha", 0.01)
    return lambda x: functional.leaky_relu(x, slope)


def _layer_norm(given: Attributes) -> Op:
    epsilon, axis = given.get("epsilon", 1e-5), given.get("axis", -1)
    return lambda x, gain, bias=None: functional.layer_norm(x, x.shape[axis % x.ndim :], gain, bias, epsilon)


def _skip_layer_norm(given: Attributes) -> Op:
    epsilon = given.get("epsilon", 1e-5)
    return lambda x, skip, gain, bias=None: functional.layer_norm(x + skip, x.shape[-1:], gain, bias, epsilon)


def _instance_norm(given: Attributes) -> Op:
    epsilon = given["epsilon"]
    return lambda x: functional.layer_norm(x, x.shape[-1:], None, None, epsilon)


def _fast_gelu(_: Attributes) -> Op:
    return lambda x, bias=None: functional.gelu(x if bias is None else x + bias, approximate="tanh")


def _fused_matmul(given: Attributes) -> Op:
    if given.get("transBatchA") or given.get("transBatchB"):
        raise Unsupported("FusedMatMul over a moved batch axis")
    turn_a, turn_b, scale = given.get("transA", 0), given.get("transB", 0), given.get("alpha", 1.0)

    def product(a: Tensor, b: Tensor) -> Tensor:
        return torch.matmul(a.mT if turn_a else a, b.mT if turn_b else b) * scale

    return product


def _dequantize(_: Attributes) -> Op:
    return lambda x, scale, zero=None: (x.float() if zero is None else x.float() - zero.float()) * scale


def _convolution(given: Attributes) -> Op:
    """A convolution along one axis; with the attribute "by_product" as one matrix product over shifted copies.

    The product serves better where every input has another length: cuDNN plans each length anew.
    """
    if len(given["kernel_shape"]) != 1 or given.get("auto_pad", "NOTSET") != "NOTSET":
        raise Unsupported("Conv over several axes or with auto_pad")
    (size,) = given["kernel_shape"]
    left, right = given.get("pads", [0, 0])
    step, gap, groups = given.get("strides", [1])[0], given.get("dilations", [1])[0], given.get("group", 1)

    def convolution(x: Tensor, weight: Tensor, bias: Tensor | None = None) -> Tensor:
        if left != right:
            x = functional.pad(x, (left, right))
        return functional.conv1d(x, weight, bias, step, left if left == right else 0, gap, groups)

    def by_product(x: Tensor, weight: Tensor, bias: Tensor | None = None) -> Tensor:
        if left or right:
            x = functional.pad(x, (left, right))
        columns = x[0].contiguous()
        if size > 1:
            channels, length = columns.shape
            shape = (channels, size, length - gap * (size - 1))
            columns = columns.as_strided(shape, (length, gap, 1)).reshape(channels * size, -1)
        weight = weight.reshape(weight.shape[0], -1)
        return (weight @ columns if bias is None else torch.addmm(bias[:, None], weight, columns))[None]

    return by_product if given.get("by_product") and groups == 1 and step == 1 else convolution


def _transposed_convolution(given: Attributes) -> Op:
    left, right = given.get("pads", [0, 0])
    if left != right:
        raise Unsupported("ConvTranspose with uneven padding")
    step, gap, groups = given.get("strides", [1])[0], given.get("dilations", [1])[0], given.get("group", 1)
    more = given.get("output_padding", [0])[0]

    def convolution(x: Tensor, weight: Tensor, bias: Tensor | None = None) -> Tensor:
        return functional.conv_transpose1d(x, weight, bias, step, left, more, groups, gap)

    return convolution


def _resize(given: Attributes) -> Op:
    mode, grid = given.get("mode", "nearest"), given.get("coordinate_transformation_mode", "half_pixel")
    if (mode, grid) not in {("nearest", "asymmetric"), ("linear", "half_pixel")}:
        raise Unsupported(f"Resize {mode} on a grid of {grid}")

    def resize(x: Tensor, _: Any = None, scales: Any = None) -> Tensor:
        *others, scale = _numbers(scales)
        if any(other != 1 for other in others):
            raise Unsupported("Resize of more than the last axis")
        if mode == "linear":
            return functional.interpolate(
                x, scale_factor=scale, mode="linear", align_corners=False, recompute_scale_factor=False
            )
        if scale != int(scale):
            raise Unsupported("Resize to the nearest by a broken factor")
        return x.repeat_interleave(int(scale), dim=-1)

    return resize


def _scatter(given: Attributes) -> Op:
    if given.get("reduction", "none") != "none":
        raise Unsupported("ScatterND that adds up")
    return lambda x, index, values: x.index_put(tuple(index.unbind(-1)), values)


def _random_normal_like(given: Attributes) -> Op:
    mean, scale = given.get("mean", 0.0), given.get("scale", 1.0)
    return lambda x: torch.randn_like(x) * scale + mean


_OPS: dict[str, Callable[[Attributes], Op]] = {
    "Add": _plain(lambda a, b: a + b),
    "And": _plain(lambda a, b: a & b),
    "Atan": _plain(_arc_tangent),
    "Cast": _cast,
    "Clip": _clip,
    "Concat": _concat,
    "Conv": _convolution,
    "ConvTranspose": _transposed_convolution,
    "Cos": _plain(torch.cos),
    "CumSum": _cumulative_sum,
    "DequantizeLinear": _dequantize,
    "Div": _plain(_divide),
    "Equal": _plain(lambda a, b: a == b),
    "Exp": _plain(torch.exp),
    "Expand": _expand,
    "FastGelu": _fast_gelu,
    "Floor": _plain(torch.floor),
    "FusedMatMul": _fused_matmul,
    "Gather": _gather,
    "Greater": _plain(lambda a, b: a > b),
    "GreaterOrEqual": _plain(lambda a, b: a >= b),
    "Identity": _plain(lambda a: a),
    "LayerNormalization": _layer_norm,
    "LeakyRelu": _leaky_relu,
    "Less": _plain(lambda a, b: a < b),
    "LessOrEqual": _plain(lambda a, b: a <= b),
    "MatMul": _plain(torch.matmul),
    "Mul": _plain(lambda a, b: a * b),
    "NonZero": _plain(lambda a: torch.nonzero(a).t()),
    "Or": _plain(lambda a, b: a | b),
    "Pad": _pad,
    "Pow": _plain(_power),
    "RandomNormalLike": _random_normal_like,
    "ReduceMean": _reduce(torch.mean),
    "ReduceSum": _reduce(torch.sum),
    "Reshape": _reshape,
    "Resize": _resize,
    "Round": _plain(torch.round),
    "ScatterND": _scatter,
    "Shape": _plain(_shape),
    "Sigmoid": _plain(torch.sigmoid),
    "Sin": _plain(torch.sin),
    "SkipLayerNormalization": _skip_layer_norm,
    "Slice": _slice,
    "Softmax": _softmax,
    "Split": _split,
    "Sqrt": _plain(torch.sqrt),
    "Squeeze": _squeeze,
    "Sub": _plain(lambda a, b: a - b),
    "Tanh": _plain(torch.tanh),
    "Transpose": _transpose,
    "Unsqueeze": _unsqueeze,
    "Where": _plain(torch.where),
    # Ours, for what `_fused` joins.
    "joined.Linear": _plain(functional.linear),
    "joined.InstanceNorm": _instance_norm,
    "joined.AddProduct": _plain(lambda a, b, c: torch.addcmul(c, a, b)),
}
_MADE_WITH_DEVICE = {"Range", "ConstantOfShape", "LSTM", "STFT"}
_NEVER_FOLDED = {"RandomNormalLike", "LSTM", "STFT"}


class TorchGraph:
    """A network ready to run on a device.

    graph: as `dequantize.read_graph` gives it. device: as torch names it. by_product: convolutions as matrix products
    (see `_convolution`; for a GPU and inputs of ever other lengths; on a processor it takes twice as long).

    Called with the inputs by name (anything numpy makes an array of), it gives the output, or a list of outputs, as
    tensors on the device.

    Errors: `Unsupported` for a graph with an operation, or a form of one, that it does not know.
    """

    def __init__(self, graph: Graph, device: str = "cpu", *, by_product: bool = False) -> None:
        unknown = {node.op for node in graph.nodes} - set(_OPS) - _MADE_WITH_DEVICE
        if unknown:
            raise Unsupported(f"the graph uses {', '.join(sorted(unknown))}, which is not known here")
        self.device = torch.device(device)
        self._by_product = by_product
        self._input_names, self._output_names = graph.inputs, graph.outputs
        # A value that the network reads must not share memory with the file's array, which may be read only.
        self._constants = {name: torch.from_numpy(np.array(each.value)) for name, each in graph.tensors.items()}
        self._types: dict[str, torch.dtype] = {}
        with torch.inference_mode():
            nodes = [Node(node.op, list(node.ins), list(node.outs), dict(node.attributes)) for node in graph.nodes]
            nodes = self._folded(nodes)
            nodes = self._with_scales_in_weights(nodes)
            nodes = self._with_instance_norms(nodes)
            nodes = self._with_joined_products(nodes)
            self._plan(nodes)
        self._constants = {}

    @torch.inference_mode()
    def __call__(self, **inputs: Any) -> Any:
        values = self._memory.copy()
        for name, slot in zip(self._input_names, self._input_slots, strict=True):
            given = inputs[name] if isinstance(inputs[name], Tensor) else torch.as_tensor(np.asarray(inputs[name]))
            values[slot] = given.to(torch.float32 if given.is_floating_point() else torch.int64).to(self.device)
        for function, sources, targets, done in self._steps:
            result = function(*[values[slot] for slot in sources])
            if len(targets) == 1:
                values[targets[0]] = result
            else:
                for slot, value in zip(targets, result, strict=False):
                    values[slot] = value
            for slot in done:
                values[slot] = None
        found = [values[slot] for slot in self._output_slots]
        return found[0] if len(found) == 1 else found

    # On loading: the graph made smaller.

    def _folded(self, nodes: list[Node]) -> list[Node]:
        """Without the operations on constants alone, and without those that change nothing."""
        constants, types = self._constants, self._types
        same_as: dict[str, str] = {}
        found = []
        for node in nodes:
            node.ins = [same_as.get(name, name) for name in node.ins]
            known = [constants[name].dtype if name in constants else types.get(name) for name in node.ins]
            changes_nothing = node.op == "Identity" or (node.op == "Cast" and known[0] == _TYPES[node.attributes["to"]])
            if changes_nothing and node.outs[0] not in self._output_names:
                same_as[node.outs[0]] = node.ins[0]
                continue
            foldable = node.op in _OPS and node.op not in _NEVER_FOLDED
            if foldable and all(name in constants or not name for name in node.ins):
                function = _OPS[node.op](node.attributes)
                result = function(*[constants[name] if name else None for name in node.ins])
                results = result if isinstance(result, tuple | list) else [result]
                constants.update(zip(node.outs, (value.contiguous() for value in results), strict=False))
                continue
            types.update(dict.fromkeys(node.outs, _type_of_result(node, known)))
            found.append(node)
        return found

    def _users(self, nodes: list[Node]) -> dict[str, list[Node | None]]:
        """Who reads each value; None stands for the caller, who reads the outputs."""
        users: dict[str, list[Node | None]] = {name: [None] for name in self._output_names}
        for node in nodes:
            for name in node.ins:
                users.setdefault(name, []).append(node)
        return users

    def _with_scales_in_weights(self, nodes: list[Node]) -> list[Node]:
        """Constant factors and sums after a layer with constant weights become part of its weight and bias."""
        constants, users = self._constants, self._users(nodes)
        gone: set[int] = set()
        for node in nodes:
            if node.op not in ("Conv", "MatMul") or node.ins[1] not in constants:
                continue
            weight, is_conv = constants[node.ins[1]], node.op == "Conv"
            bias_name = node.ins[2] if len(node.ins) > 2 else ""
            if (bias_name and bias_name not in constants) or not (is_conv or weight.ndim == 2):
                continue
            bias = constants[bias_name] if bias_name else None
            if not is_conv:
                node.op, weight = "joined.Linear", weight.t()  # (output, input), as a kernel stands
            outputs = weight.shape[0]
            while len(followers := users.get(node.outs[0], [])) == 1:
                (after,) = followers
                if after is None or after.op not in ("Mul", "Add"):
                    break
                other = constants.get(after.ins[1] if after.ins[0] == node.outs[0] else after.ins[0])
                if other is None or not other.is_floating_point() or not _one_per_output(other, outputs, is_conv):
                    break
                other = other.reshape(-1)
                if after.op == "Mul":
                    weight = weight * other.reshape(-1, *[1] * (weight.ndim - 1))
                    bias = None if bias is None else bias * other
                else:
                    bias = other.expand(outputs).clone() if bias is None else bias + other
                node.outs = after.outs
                gone.add(id(after))
            names = [f"{node.outs[0]}.weight", f"{node.outs[0]}.bias"]
            constants[names[0]] = weight.contiguous()
            if bias is not None:
                constants[names[1]] = bias.contiguous()
            node.ins = [node.ins[0], *names[: 1 if bias is None else 2]]
        return [node for node in nodes if id(node) not in gone]

    def _with_instance_norms(self, nodes: list[Node]) -> list[Node]:
        """(x - mean) / sqrt(mean((x - mean)^2) + epsilon) over the last of three axes, in one operation."""
        constants, users = self._constants, self._users(nodes)
        maker = {name: node for node in nodes for name in node.outs}
        gone: set[int] = set()

        def made_by(name: str, op: str) -> Node | None:
            node = maker.get(name)
            return node if node is not None and node.op == op else None

        def mean_of_last(name: str) -> Node | None:
            node = made_by(name, "ReduceMean")
            if node is None or node.ins[1] not in constants or not node.attributes.get("keepdims", 1):
                return None
            return node if constants[node.ins[1]].tolist() in ([2], [-1]) else None

        for division in nodes:
            if division.op != "Div":
                continue
            centred, root = made_by(division.ins[0], "Sub"), made_by(division.ins[1], "Sqrt")
            total = made_by(root.ins[0], "Add") if root else None
            if centred is None or root is None or total is None:
                continue
            epsilon, variance_name = sorted(total.ins, key=lambda name: name not in constants)
            variance, mean = mean_of_last(variance_name), mean_of_last(centred.ins[1])
            if epsilon not in constants or variance is None or mean is None or mean.ins[0] != centred.ins[0]:
                continue
            square = maker.get(variance.ins[0])
            if square is None or not _is_square(square, centred.outs[0], constants):
                continue
            chain = {id(each): each for each in (centred, square, variance, total, root, division)}
            inner = [each for each in chain.values() if each is not division]
            if any(id(user) not in chain for each in inner for user in users.get(each.outs[0], [])):
                continue
            division.op, division.ins = "joined.InstanceNorm", [centred.ins[0]]
            division.attributes = {"epsilon": float(constants[epsilon])}
            gone |= {id(each) for each in inner}
            if all(id(user) in chain for user in users[mean.outs[0]]):
                gone.add(id(mean))
        return [node for node in nodes if id(node) not in gone]

    def _with_joined_products(self, nodes: list[Node]) -> list[Node]:
        """a * b + c in one operation, where nothing else reads a * b."""
        constants, users = self._constants, self._users(nodes)
        maker = {name: node for node in nodes for name in node.outs}
        gone: set[int] = set()
        for node in nodes:
            if node.op != "Add" or self._types.get(node.outs[0]) != torch.float32:
                continue
            for place in (1, 0):
                product, other = maker.get(node.ins[place]), node.ins[1 - place]
                if product is None or product.op != "Mul" or id(product) in gone or other in constants:
                    continue
                has_number = any(name in constants and constants[name].ndim == 0 for name in product.ins)
                if len(users[product.outs[0]]) == 1 and not has_number:
                    node.op, node.ins = "joined.AddProduct", [*product.ins, other]
                    gone.add(id(product))
                    break
        return [node for node in nodes if id(node) not in gone]

    # On loading: who computes what, where.

    def _plan(self, nodes: list[Node]) -> None:
        """Gives every value a slot of one list, and every node a step that reads and writes slots."""
        constants = self._constants
        memory: list[Any] = [None]  # slot 0 is an input left out
        slot_of: dict[Any, int] = {"": 0}
        on_host: dict[str, bool] = {}
        steps: list[tuple[Op, list[int], list[int]]] = []

        def new(value: Any = None) -> int:
            memory.append(value)
            return len(memory) - 1

        def constant(name: str, form: str) -> int:
            key = (form, name)
            if key not in slot_of:
                value = constants[name]
                forms = {"number": value.tolist, "host": lambda: value, "device": lambda: value.to(self.device)}
                slot_of[key] = new(forms[form]())
            return slot_of[key]

        def moved(name: str, as_number: bool) -> int:
            """A host value on the device; one number stays a number where a tensor is met element by element."""
            key = ("moved", name, as_number)
            if key not in slot_of:
                slot_of[key] = new()

                def move(x: Tensor) -> Any:
                    return x.item() if as_number and x.numel() == 1 else x.to(self.device, non_blocking=True)

                steps.append((move, [slot_of[name]], [slot_of[key]]))
            return slot_of[key]

        for name in self._input_names:
            slot_of[name], on_host[name] = new(), False
        self._input_slots = [slot_of[name] for name in self._input_names]

        for node in nodes:
            settings = _SETTINGS.get(node.op, ())
            data = [name for place, name in enumerate(node.ins) if name and place not in settings]
            live = [name for name in data if name not in constants]
            host = self._belongs_on_host(node, [name for name in node.ins if name], live, on_host)
            meets_device = any(not on_host[name] for name in live)
            sources = []
            for place, name in enumerate(node.ins):
                if name in constants:
                    is_number = constants[name].ndim == 0 and (
                        (node.op == "Gather" and place == 1) or (not host and node.op in _ELEMENTWISE and meets_device)
                    )
                    if node.op == "LSTM" and place in (1, 2, 3):  # its weights are in the function
                        sources.append(0)
                    else:
                        form = "number" if place in settings or is_number else "host" if host else "device"
                        sources.append(constant(name, form))
                elif name and not host and on_host[name] and place not in settings and node.op != "Shape":
                    sources.append(moved(name, node.op in _ELEMENTWISE and meets_device))
                else:
                    sources.append(slot_of[name])
            function = self._function(node, host)
            for name in node.outs:
                slot_of[name], on_host[name] = new(), host
            steps.append((function, sources, [slot_of[name] for name in node.outs]))
        self._output_slots = [slot_of[name] for name in self._output_names]
        self._memory = memory
        self._steps = self._with_releases(steps)

    def _with_releases(
        self, steps: list[tuple[Op, list[int], list[int]]]
    ) -> list[tuple[Op, tuple[int, ...], tuple[int, ...], tuple[int, ...]]]:
        """The steps, each with the slots that no later step reads: what they hold is let go."""
        computed = {*self._input_slots, *(slot for _, _, targets in steps for slot in targets)}
        last = {slot: place for place, (_, sources, targets) in enumerate(steps) for slot in (*sources, *targets)}
        done: list[list[int]] = [[] for _ in steps]
        for slot, place in last.items():
            if slot in computed and slot not in self._output_slots:
                done[place].append(slot)
        return [
            (function, tuple(sources), tuple(targets), tuple(released))
            for (function, sources, targets), released in zip(steps, done, strict=True)
        ]

    def _belongs_on_host(self, node: Node, names: list[str], live: list[str], on_host: dict[str, bool]) -> bool:
        match node.op:
            case "Shape":
                return True
            case "ConstantOfShape":  # sound that starts as zeros, or a shape's companion
                return self._types[node.outs[0]] != torch.float32
            case "Range":
                return all(name in self._constants or on_host[name] for name in names)
            case "LSTM" | "STFT":
                return False
            case _:
                return all(on_host[name] for name in live)

    def _function(self, node: Node, host: bool) -> Op:
        device = torch.device("cpu") if host else self.device
        match node.op:
            case "Range":
                dtype = self._types[node.outs[0]]

                def count(start: Any, end: Any, step: Any) -> Tensor:
                    numbers = (_numbers(start), _numbers(end), _numbers(step))
                    return torch.arange(*numbers, dtype=dtype, device=device)

                return count
            case "ConstantOfShape":
                value, type_name = node.attributes.get("value", [0.0, "float32"])
                dtype = getattr(torch, type_name)
                return lambda shape: torch.full(_numbers(shape), value, dtype=dtype, device=device)
            case "LSTM":
                return self._lstm(node)
            case "STFT":
                return self._stft(node)
            case "Conv" if self._by_product:
                return _convolution({**node.attributes, "by_product": True})
            case _:
                return _OPS[node.op](node.attributes)

    def _stft(self, node: Node) -> Op:
        """The short-time spectrum of a signal (1, samples, 1) as (1, frames, bins, 2).

        In float64: where the signal does not move, bins are empty but for rounding, and what is left of it decides
        their phase, which the network hears. float32 would leave more of it, and other on every device.
        """
        length, window = int(self._constants[node.ins[3]]), self._constants[node.ins[2]].double()
        bins = length // 2 + 1 if node.attributes.get("onesided", 1) else length
        angle = 2 * math.pi / length * torch.outer(torch.arange(length), torch.arange(bins)).double()
        waves = torch.stack([torch.cos(angle), -torch.sin(angle)], dim=-1).reshape(length, 2 * bins)
        waves = (waves * window[:, None]).to(self.device)

        def spectrum(x: Tensor, step: Any, _window: Any, _length: Any = None) -> Tensor:
            frames = x.reshape(x.shape[0], x.shape[1]).double().unfold(1, length, _numbers(step))
            return torch.matmul(frames, waves).float().reshape(*frames.shape[:2], bins, 2)

        return spectrum

    def _lstm(self, node: Node) -> Op:
        """ONNX's LSTM, gates in the order input, output, forget, cell, by torch's: input, forget, cell, output."""
        if any(len(node.ins) > place and node.ins[place] for place in (4, 7)):
            raise Unsupported("LSTM with lengths or peepholes")
        inputs, states, biases = (self._constants[node.ins[place]].float() for place in (1, 2, 3))
        size = node.attributes["hidden_size"]
        directions, _, features = inputs.shape
        if directions != (2 if node.attributes.get("direction", "forward") == "bidirectional" else 1):
            raise Unsupported("LSTM in reverse alone")
        batch_first = bool(node.attributes.get("layout", 0))
        order = torch.cat([torch.arange(size) + size * gate for gate in (0, 2, 3, 1)])
        with torch.inference_mode(False), torch.no_grad():
            layer = torch.nn.LSTM(features, size, bidirectional=directions == 2)
            for direction, end in zip(range(directions), ("", "_reverse"), strict=False):
                for name, value in (
                    ("weight_ih", inputs[direction]),
                    ("weight_hh", states[direction]),
                    ("bias_ih", biases[direction, : 4 * size]),
                    ("bias_hh", biases[direction, 4 * size :]),
                ):
                    getattr(layer, f"{name}_l0{end}").copy_(value[order].clone())
            layer = layer.to(self.device).eval().requires_grad_(False)

        def run(
            x: Tensor, _w: Any, _r: Any, _b: Any, _lengths: Any = None, *start: Tensor | None
        ) -> tuple[Tensor, ...]:
            if batch_first:
                x = x.transpose(0, 1)
            state = [
                x.new_zeros(directions, x.shape[1], size)
                if given is None
                else (given.transpose(0, 1) if batch_first else given).contiguous()
                for given in (*start[:2], None, None)[:2]
            ]
            y, (hidden, cell) = layer(x.contiguous(), (state[0], state[1]))
            y = y.reshape(*y.shape[:2], directions, size)
            if batch_first:
                return y.permute(1, 0, 2, 3), hidden.transpose(0, 1), cell.transpose(0, 1)
            return y.permute(0, 2, 1, 3), hidden, cell

        return run


def _type_of_result(node: Node, known: list[torch.dtype | None]) -> torch.dtype | None:
    match node.op:
        case "Shape" | "NonZero":
            return torch.int64
        case "Cast":
            return _TYPES[node.attributes["to"]]
        case "DequantizeLinear":
            return torch.float32
        case "ConstantOfShape":
            return getattr(torch, node.attributes.get("value", [0.0, "float32"])[1])
        case "Where":
            return known[1]
        case op if op in _COMPARISONS:
            return torch.bool
        case _:
            return known[0]


def _one_per_output(value: Tensor, outputs: int, is_conv: bool) -> bool:
    """Whether a constant after a layer is one number, or one for each of its outputs."""
    if value.numel() == 1:
        return value.ndim <= (3 if is_conv else 2)
    if is_conv:
        return tuple(value.shape) in ((1, outputs, 1), (outputs, 1))
    return value.numel() == outputs == value.shape[-1]


def _is_square(node: Node, of: str, constants: Mapping[str, Tensor]) -> bool:
    if node.op == "Mul":
        return node.ins == [of, of]
    return node.op == "Pow" and node.ins[0] == of and node.ins[1] in constants and float(constants[node.ins[1]]) == 2
