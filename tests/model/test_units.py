"""The numbering of phones, pdfs and transitions, against the files of the shipped model."""

from pathlib import Path

import pytest

from models.build import units
from models.build.en.phones import UNITS

GRAPH = Path(__file__).parents[2] / "models" / "plainspeech-en" / "graph"


def test_phone_ids_are_those_of_the_shipped_graph() -> None:
    rows = (line.split() for line in (GRAPH / "phones.txt").read_text().splitlines())
    shipped = {name: int(number) for name, number in rows}
    assert {name: shipped[name] for name in UNITS.kaldi_phones} == UNITS.kaldi_phones
    assert set(shipped) - set(UNITS.kaldi_phones) == {"<eps>", "#0"}


def test_places_are_those_of_the_shipped_word_boundaries() -> None:
    kinds = {"B": "begin", "E": "end", "I": "internal", "S": "singleton", "": "nonword"}
    shipped = dict(line.split() for line in (GRAPH / "phones" / "word_boundary.int").read_text().splitlines())
    assert shipped == {str(number): kinds[name.partition("_")[2]] for name, number in UNITS.kaldi_phones.items()}


def test_every_transition_has_one_place_and_every_pdf_one_use() -> None:
    transitions = [t for phone in UNITS.kaldi_phones.values() for t in UNITS.transition_ids(phone)]
    assert transitions == list(range(1, UNITS.transitions + 1))
    pdfs = [pdf for unit in range(len(UNITS.names)) for pdf in (units.forward_pdf(unit), units.self_loop_pdf(unit))]
    assert pdfs == list(range(UNITS.pdfs))


def test_four_places_of_a_phone_are_one_unit() -> None:
    assert {UNITS.unit_of(f"T_{place}") for place in units.PLACES} == {UNITS.ids["T"]}
    assert UNITS.unit_of("SIL") == 0


@pytest.mark.parametrize("name", ["", "QQ", "T_X", "T_BE", "SIL_B", "#0", "<eps>"])
def test_other_names_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match="not one of the model's phones"):
        UNITS.unit_of(name)


@pytest.mark.parametrize("phone", [0, -1, 162])
def test_other_ids_are_refused(phone: int) -> None:
    with pytest.raises(ValueError, match="no phone has the id"):
        UNITS.transition_ids(phone)
