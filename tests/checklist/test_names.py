"""People, areas and notches are called as they are called; how a name is said may stand beside it."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from pydantic import TypeAdapter, ValidationError

from fieldassist.checklist.faults import KIND
from fieldassist.checklist.loader import WrongFile, load_plan
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import AreaPlan, DayPlan, Named, Person, SpokenName
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.state import State
from tests import SITE

NOW = Moment(wall="2026-03-17T07:00:00+01:00", mono=0.0, boot="one")
NAME = TypeAdapter[str](SpokenName)


@pytest.mark.parametrize(
    ("written", "kept", "said"),
    [
        ("José", "josé", "jose"),
        ("Müller", "müller", "muller"),
        ("Paweł", "paweł", "pawel"),
        ("O'Brien", "o'brien", "o'brien"),
        ("O’Brien", "o'brien", "o'brien"),
        ("Jean-Luc", "jean-luc", "jean luc"),
        ("  Weiß   Ødegård ", "weiß ødegård", "weiss odegard"),
        ("'t Hart", "'t hart", "'t hart"),
    ],
)
def test_a_name_of_any_latin_letters_is_taken_and_said_in_a_to_z(written: str, kept: str, said: str) -> None:
    person = Person.model_validate({"name": written, "role": "installer"})
    assert (person.name, person.said) == (kept, said)


def test_one_name_is_one_name_however_its_letters_are_composed() -> None:
    assert NAME.validate_python(unicodedata.normalize("NFD", "José")) == NAME.validate_python("José")


@pytest.mark.parametrize(
    "wrong",
    [
        "",
        "rosa1",
        "ro_sa",
        "a.b",
        "-rosa",
        "rosa-",
        "jean--luc",
        "'",
        "ro\x1bsa",
        "ro\u202esa",
        "a b c d e f g",
        "x" * 61,
    ],
)
def test_what_is_no_name_is_refused_by_code(wrong: str) -> None:
    with pytest.raises(ValidationError) as caught:
        NAME.validate_python(wrong)
    (error,) = caught.value.errors()
    assert [fault.code for fault in error["ctx"][KIND]] == ["name-unfit"]


def test_a_name_without_latin_letters_needs_its_spoken_form() -> None:
    with pytest.raises(ValidationError) as caught:
        Named(name="Иван")
    (error,) = caught.value.errors()
    assert [fault.code for fault in error["ctx"][KIND]] == ["name-needs-spoken"]
    assert Named(name="Иван", spoken="Ivan").said == "ivan"


def site(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    text = SITE.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / "site.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_people_areas_and_notches_of_a_plan_have_such_names(tmp_path: Path) -> None:
    plan: DayPlan = load_plan(
        site(
            tmp_path,
            ("name: rosa", "name: Zoë-Marie O'Neil, spoken: zoe marie"),
            ("name: shower wall", "name: Entrée\n    spoken: on tray"),
        )
    )
    assert plan.person("zoë-marie o'neil") is not None
    area = plan.area("entrée")
    assert isinstance(area, AreaPlan)
    assert area.said == "on tray"
    first = next(iter(plan.methods))
    assert plan.method_calls(first) == (first,)
    # What is listened for, and what may be typed.
    phrases = {phrase for offer in prompt(State(plan=plan), NOW).offers for phrase in offer.phrases}
    assert {"this is zoe marie", "this is zoe marie o'neil", "start area on tray", "go to entree"} <= phrases


def test_two_that_sound_alike_are_refused_together_at_their_lines(tmp_path: Path) -> None:
    path = site(tmp_path, ("name: rosa", "name: edwín"), ("name: shower wall", "name: hall flöor"))
    path.write_text(path.read_text(encoding="utf-8").replace("name: edwin", "name: edwin, spoken: edwin"), "utf-8")
    with pytest.raises(WrongFile) as caught:
        load_plan(path)
    assert [p.field for p in caught.value.problems] == ["crew[2].name", "areas[1].name"]


def test_what_a_plan_says_is_kept_on_one_line(tmp_path: Path) -> None:
    path = site(tmp_path, ("site: Quillhaven Baths, house four", "site: |\n  Quillhaven\n  99 day sealed"))
    assert load_plan(path).site == "Quillhaven 99 day sealed"
