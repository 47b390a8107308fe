"""The numbering of phones, pdfs and transitions, against the files of the shipped model."""

from pathlib import Path

import pytest

from models.build import units

GRAPH = Path(__file__).parents[2] / "models" / "plainspeech-en" / "graph"


def test_phone_ids_are_those_of_the_shipped_graph() -> None:
    rows = (line.split() for line in (GRAPH / "phones.txt").read_text().splitlines())
    shipped = {name: int(number) for name, number in rows}
    assert {name: shipped[name] for name in units.KALDI_PHONES} == units.KALDI_PHONES
    assert set(shipped) - set(units.KALDI_PHONES) == {"<eps>", "#0"}


def test_places_are_those_of_the_shipped_word_boundaries() -> None:
    kinds = {"B": "begin", "E": "end", "I": "internal", "S": "singleton", "": "nonword"}
    shipped = dict(line.split() for line in (GRAPH / "phones" / "word_boundary.int").read_text().splitlines())
    assert shipped == {str(number): kinds[name.partition("_")[2]] for name, number in units.KALDI_PHONES.items()}


def test_every_transition_has_one_place_and_every_pdf_one_use() -> None:
    transitions = [t for phone in units.KALDI_PHONES.values() for t in units.transition_ids(phone)]
    assert transitions == list(range(1, units.TRANSITIONS + 1))
    pdfs = [pdf for unit in range(len(units.UNITS)) for pdf in (units.forward_pdf(unit), units.self_loop_pdf(unit))]
    assert pdfs == list(range(units.PDFS))


def test_four_places_of_a_phone_are_one_unit() -> None:
    assert {units.unit_of(f"T_{place}") for place in units.PLACES} == {units.UNIT_ID["T"]}
    assert units.unit_of("SIL") == 0


@pytest.mark.parametrize("name", ["", "QQ", "T_X", "T_BE", "SIL_B", "#0", "<eps>"])
def test_other_names_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match="not one of the model's phones"):
        units.unit_of(name)


@pytest.mark.parametrize("phone", [0, -1, 162])
def test_other_ids_are_refused(phone: int) -> None:
    with pytest.raises(ValueError, match="no phone has the id"):
        units.transition_ids(phone)
