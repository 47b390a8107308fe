"""Who only checks a day installs no window and no speech. With a fresh environment: `tests.bare_check`."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from fieldassist.cli import main, program
from fieldassist.extras import TABLET, lacking

PROJECT = tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8"))["project"]
# What checks, prints, lists and hands over a day.
WITHOUT_THE_TABLET = (
    "fieldassist.proof.examine",
    "fieldassist.proof.paper",
    "fieldassist.proof.pages",
    "fieldassist.report.signed",
    "fieldassist.report.whole_day",
    "fieldassist.facts.build",
    *(f"fieldassist.cli.{job}" for job in ("verify", "report", "events", "facts", "people", "handover", "recover")),
)


# A library whose package has another name than what is imported.
IMPORTED = {"opencv-python-headless": "cv2"}


def named(requirements: list[str]) -> set[str]:
    names = (re.split(r"[<>=~!\[ ]", one)[0] for one in requirements)
    return {IMPORTED.get(name, name) for name in names}


def test_the_tablets_libraries_are_an_extra_and_nothing_else_asks_for_them() -> None:
    assert named(PROJECT["optional-dependencies"]["tablet"]) == TABLET
    assert not named(PROJECT["dependencies"]) & TABLET


def test_checking_printing_and_handing_over_import_nothing_of_the_tablets() -> None:
    code = f"import {', '.join(WITHOUT_THE_TABLET)}; import sys; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert not {name.partition(".")[0] for name in done.stdout.split()} & TABLET


def test_a_job_that_lacks_its_library_says_how_to_get_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def lacks_a_window(_name: str) -> object:
        raise ModuleNotFoundError("No module named 'kivy'", name="kivy.config")

    monkeypatch.setattr(program, "import_module", lacks_a_window)
    assert main(["tablet"]) == 2
    said = capsys.readouterr().err
    assert "kivy" in said
    assert "pip install 'fieldassist[tablet]'" in said


def test_a_lack_is_found_behind_the_errors_that_it_caused() -> None:
    first = ModuleNotFoundError("No module named 'numpy'", name="numpy.linalg")
    second = ValueError("cannot be printed")
    second.__cause__ = first
    assert lacking(second) == "numpy"
    assert lacking(ModuleNotFoundError("No module named 'elsewhere'", name="elsewhere")) is None


def test_the_speech_model_is_a_wheel_of_the_same_version() -> None:
    file = Path(__file__).parents[1] / "models" / "pyproject.toml"
    speech = tomllib.loads(file.read_text(encoding="utf-8"))["project"]
    assert speech["version"] == PROJECT["version"]
    assert speech["dependencies"] == [f"fieldassist[tablet]=={PROJECT['version']}"]
