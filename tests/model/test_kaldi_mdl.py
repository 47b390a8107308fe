"""Kaldi's model file: what is read is written again byte for byte, and what is damaged is refused with its place."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from models.build import kaldi_mdl
from models.build.en.phones import UNITS
from models.build.kaldi_mdl import Component, Model, State, TransitionModel, Value

SHIPPED = Path(__file__).parents[2] / "models" / "plainspeech-en" / "am" / "final.mdl"


@pytest.fixture(scope="module")
def shipped() -> Model:
    return kaldi_mdl.read(SHIPPED)


def small() -> Model:
    """A model with every kind of value."""
    fields: dict[str, Value] = {
        "<LearningRate>": np.float32(0.001),
        "<TimeOffsets>": np.array([-1, 0], np.int32),
        "<LinearParams>": np.arange(6, dtype=np.float32).reshape(2, 3),
        "<BiasParams>": np.array([], np.float32),
        "<StatsVar>": np.array([0.1, 0.2], np.float64),
        "<Count>": np.float64(0.1),
        "<UseNaturalGradient>": True,
        "<TestMode>": False,
        "<RankInOut>": (20, 80),
        "<AlphaInOut>": (np.float32(4), np.float32(2)),
        "<Dim>": 3,
    }
    config = ("input-node name=input dim=3", "component-node name=a component=a input=input")
    none = np.array([], np.float32)
    return Model(TransitionModel.of_units(UNITS), config, {"a": Component("TdnnComponent", fields)}, 1, 2, none)


def test_shipped_model_is_written_as_it_was_read(shipped: Model, tmp_path: Path) -> None:
    kaldi_mdl.write(shipped, tmp_path / "final.mdl")
    assert (tmp_path / "final.mdl").read_bytes() == SHIPPED.read_bytes()


def test_every_kind_of_value_comes_back(tmp_path: Path) -> None:
    model = small()
    kaldi_mdl.write(model, tmp_path / "a.mdl")
    again = kaldi_mdl.read(tmp_path / "a.mdl")
    assert (again.config, again.left_context, again.right_context) == (model.config, 1, 2)
    component, before = again.components["a"], model.components["a"]
    assert list(component.fields) == list(before.fields)
    for token, value in before.fields.items():
        found = component.fields[token]
        assert type(found) is type(value), token
        np.testing.assert_array_equal(found, value)
        assert getattr(found, "dtype", None) == getattr(value, "dtype", None), token
    assert kaldi_mdl.to_bytes(again) == kaldi_mdl.to_bytes(model)


def test_transitions_of_the_units_are_those_of_the_shipped_model(shipped: Model) -> None:
    made, found = TransitionModel.of_units(UNITS), shipped.transitions
    assert made.entries == found.entries
    for name in ("phones", "entry_of", "tuples", "log_probabilities"):
        np.testing.assert_array_equal(getattr(made, name), getattr(found, name))
        assert getattr(made, name).dtype == getattr(found, name).dtype


def test_transition_ids_lead_to_the_pdfs_of_the_unit() -> None:
    model = TransitionModel.of_units(UNITS)
    # Kaldi numbers transitions by walking through the tuples and, in each, the ways out of its state.
    pdf_of = [-1]
    for phone, state, forward, loop in model.tuples:
        ways = model.entries[model.entry_of[phone]][state].ways
        pdf_of += [int(loop) if to == state else int(forward) for to, _ in ways]
    assert len(pdf_of) == UNITS.transitions + 1 == len(model.log_probabilities)
    for name, phone in UNITS.kaldi_phones.items():
        loop, forward = UNITS.transition_ids(phone)
        assert (pdf_of[loop], pdf_of[forward]) == (2 * UNITS.unit_of(name) + 1, 2 * UNITS.unit_of(name))
    assert set(pdf_of[1:]) == set(range(UNITS.pdfs))


def test_a_topology_leaves_each_state_with_certainty(shipped: Model) -> None:
    for states in shipped.transitions.entries:
        for state in states:
            assert state == State(-1, -1, ()) or sum(p for _, p in state.ways) == 1


def test_every_cut_is_refused_with_its_place() -> None:
    data = kaldi_mdl.to_bytes(small())
    for end in range(len(data)):
        with pytest.raises(ValueError, match=r"byte \d+"):
            kaldi_mdl.from_bytes(data[:end])


def test_the_shipped_file_cut_short_is_refused_and_named(tmp_path: Path) -> None:
    cut = tmp_path / "final.mdl"
    cut.write_bytes(SHIPPED.read_bytes()[:1_000_000])
    with pytest.raises(ValueError, match=rf"{re.escape(str(cut))}: a vector or matrix of \d+ bytes .* at byte \d+"):
        kaldi_mdl.read(cut)


def test_no_damage_gives_anything_but_a_refusal_or_a_model() -> None:
    data = kaldi_mdl.to_bytes(small())
    random = np.random.default_rng(3)
    refusals = []
    for at in random.permutation(len(data))[:1500]:
        damaged = bytearray(data)
        damaged[at] ^= int(random.integers(1, 256))
        try:
            kaldi_mdl.from_bytes(bytes(damaged))
        except ValueError as wrong:
            refusals.append(str(wrong))
    assert len(refusals) > 200
    assert all(re.search(r"byte \d+", words) for words in refusals)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (b"\0B<Tr", b"\0C<Tr", "no binary Kaldi file at byte 0"),
        (b"<Tuples> ", b"<Triple> ", "<Tuples> expected and <Triple> found"),
        (b"<TdnnComponent> ", b"<TdnnElsewhere> ", "<TdnnElsewhere> is no component"),
        (b"<TestMode> ", b"<TentMode> ", "<TentMode>, unknown or there twice in a TdnnComponent"),
        (b"<TestMode> F", b"<TestMode> X", "no boolean"),
        (b"<Dim> \x04", b"<Dim> \x05", "no int"),
        (b"<Count> \x08", b"<Count> \x07", "no float"),
        (b"FM \x04\x02\0\0\0", b"FM \x04\xff\xff\xff\x7f", "cannot be how many follow"),
        (b"<Priors> FV", b"<Priors> FM", "FM is not the vector or matrix that belongs here"),
    ],
)
def test_damage_is_told(old: bytes, new: bytes, words: str) -> None:
    data = kaldi_mdl.to_bytes(small())
    assert old in data
    with pytest.raises(ValueError, match=re.escape(words)):
        kaldi_mdl.from_bytes(data.replace(old, new))


def test_something_after_the_end_is_refused() -> None:
    data = kaldi_mdl.to_bytes(small())
    with pytest.raises(ValueError, match=f"something after the end at byte {len(data)}"):
        kaldi_mdl.from_bytes(data + b" ")


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"<Elsewhere>": 1}, "<Elsewhere>"),
        ({"<Count>": 1.0}, "say int, np.float32 or np.float64"),
        ({"<Params>": np.zeros((1, 1, 1), np.float32)}, "3 axes"),
        ({"<Params>": np.zeros(3, np.int64)}, "int64"),
    ],
)
def test_what_the_format_does_not_know_is_not_written(fields: dict[str, object], words: str) -> None:
    model = Model(
        TransitionModel.of_units(UNITS), (), {"a": Component("NoOpComponent", fields)}, 0, 0, np.zeros(0, "f4")
    )  # type: ignore[arg-type]
    with pytest.raises(ValueError, match=re.escape(words)):
        kaldi_mdl.to_bytes(model)


def test_a_missing_field_is_told() -> None:
    with pytest.raises(ValueError, match="a NoOpComponent without <Params>"):
        Component("NoOpComponent", {"<Dim>": 3}).array("<Params>")
