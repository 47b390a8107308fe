"""Who may carry a piece, for scripts: the same figures as on the screens and in the daily log."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fieldassist.assess.handling import handling
from fieldassist.cli import main
from fieldassist.language import Words
from tests import SITE
from tests.assess.areas import AREAS, inch, inputs

PLAN = str(SITE)


def test_every_area_is_told_as_the_screens_tell_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handling", PLAN]) == 0
    told = capsys.readouterr().out
    words = Words(units="metric")
    for name in AREAS:
        found = handling(inputs(name))
        assert f"{name.capitalize()}: {words(found.told)}" in told
        assert all(words(one.told) in told for one in found.assumed)


def test_programs_get_the_same_figures_and_what_they_rest_on(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handling", PLAN, "--area", "Hall Floor", "--set", "reach=12 in", "grip=good", "--json"]) == 0
    (said,) = json.loads(capsys.readouterr().out).values()
    found = handling(inputs("hall floor", reach=inch("12"), grip="good"))
    assert said["verdict"] == found.verdict.code
    assert (said["people"], said["weight_kg"]) == (found.people, pytest.approx(found.weight_kg))
    assert said["alone"]["equation_kg"] == found.alone.equation_kg
    assert [one["name"] for one in said["assumed"]] == [one.name for one in found.assumed]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (["--area", "cellar"], "no area cellar"),
        (["--area", "cellar 2!"], "no area cellar 2!"),
        (["--set", "gripp=good"], "there is grip"),
        (["--set", "grip=super"], "good, fair or poor"),
        (["--set", "reach=12"], "has no unit"),
        (["--set", "reach=12 kg"], "12 kg does not measure it"),
        (["--set", "reach=90 m"], "cannot be right here"),
        (["--set", "conditions=kneeling, flying"], "no flying"),
    ],
)
def test_what_cannot_be_set_is_refused_with_what_can(
    typed: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["handling", PLAN, *typed]) == 2
    assert told in capsys.readouterr().err


def test_a_piece_on_the_knees_has_no_figure(capsys: pytest.CaptureFixture[str]) -> None:
    # DHHS (NIOSH) Publication 94-110, limitations.
    assert main(["handling", PLAN, "--area", "hall floor", "--set", "conditions=kneeling", "--json"]) == 0
    (said,) = json.loads(capsys.readouterr().out).values()
    assert (said["verdict"], said["people"]) == ("assess-handling-not-judged", None)
    assert said["alone"]["limit_kg"] is said["alone"]["index"] is None


def test_an_area_whose_checklist_is_not_there_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handling", PLAN, "--checklists", str(tmp_path)]) == 2
    assert "wet-area-wall" in capsys.readouterr().err
