"""The jobs of the command line, as a user runs them."""

from __future__ import annotations

import io
import json
import re
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import soundfile

from fieldassist.cli import main
from fieldassist.cli.program import Program
from fieldassist.places import shipped
from fieldassist.record.log import DayLog
from tests import SITE
from tests.spoken import recording, talk

ROOT = Path(__file__).resolve().parents[2]
PLAN = SITE


def rows(capsys: pytest.CaptureFixture[str]) -> list[dict[str, object]]:
    return [json.loads(line) for line in capsys.readouterr().out.splitlines()]


def test_hear_gives_words_and_command(capsys: pytest.CaptureFixture[str]) -> None:
    path = recording("coverage ninety six percent")
    assert main(["hear", "--json", "--can-say", "wet-area-wall:coverage", str(path)]) == 0
    (row,) = rows(capsys)
    assert row["words"] == "coverage ninety six percent"
    assert row["value"] == "96 %"
    assert row["command"] == {
        "do": "give reading",
        "section": "lift",
        "step": "coverage",
        "value": "96",
        "unit": "percent",
        "label": None,
        "corrects": None,
    }


def test_hear_takes_a_checklist_file_and_step(capsys: pytest.CaptureFixture[str]) -> None:
    file = shipped("checklists") / "wet-area-wall.yaml"
    assert main(["hear", "--can-say", f"{file}:set", str(recording("tile set"))]) == 0
    assert "-> “set”" in capsys.readouterr().out


def test_hear_between_steps_is_the_default(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["hear", "--json", str(recording("next tile"))]) == 0
    (row,) = rows(capsys)
    assert row["command"].items() >= {"do": "start round", "section": "tile"}.items()


def test_hear_says_why_there_is_no_command(capsys: pytest.CaptureFixture[str]) -> None:
    chat = talk()[0]
    assert main(["hear", "--json", str(chat)]) == 0
    (row,) = rows(capsys)
    assert row["command"] is None
    assert row["why"]


def test_hear_numbers_and_digits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "n.wav"
    subprocess.run(["flite", "-voice", "slt", "-t", "forty seven", "-o", str(path)], check=True)
    assert main(["hear", "--json", "--can-say", "numbers", str(path)]) == 0
    assert rows(capsys)[0]["value"] == "47"
    subprocess.run(["flite", "-voice", "slt", "-t", "four seven one", "-o", str(path)], check=True)
    assert main(["hear", "--json", "--can-say", "digits", str(path)]) == 0
    assert rows(capsys)[0]["value"] == "471"


@pytest.mark.parametrize("what", ["nonsense", "wet-area-wall:nothing", "none.yaml:coverage"])
def test_hear_lists_what_can_be_said(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["hear", "--can-say", what, str(recording("tile set"))]) == 2
    assert capsys.readouterr().err.strip()


def test_hear_takes_44100_hz_stereo(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import soxr

    samples, rate = soundfile.read(recording("next tile"))
    stereo = np.stack([soxr.resample(samples, rate, 44_100)] * 2, axis=1)
    path = tmp_path / "stereo.wav"
    soundfile.write(path, stereo, 44_100)
    assert main(["hear", "--json", str(path)]) == 0
    assert rows(capsys)[0]["words"] == "next tile"


def test_bad_recordings_get_a_sentence_each_and_the_rest_is_heard(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = recording("next tile")
    silent = tmp_path / "silent.wav"
    soundfile.write(silent, np.zeros(32_000), 16_000)
    cut = tmp_path / "cut.flac"
    cut.write_bytes(good.read_bytes()[:60])
    text = tmp_path / "text.wav"
    text.write_text("no audio at all", encoding="utf-8")
    assert main(["hear", "--json", str(silent), str(cut), str(text), str(tmp_path / "none.wav"), str(good)]) == 1
    heard = rows(capsys)
    assert all(row["why"] for row in heard[:4])
    assert "silence" in str(heard[0]["why"])
    assert heard[4]["words"] == "next tile"


def test_a_missing_model_is_a_sentence_and_typing_goes_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["hear", "--model", "no-such-model", str(recording("tile set"))]) == 2
    assert "speech model no-such-model" in capsys.readouterr().err
    monkeypatch.setenv("FIELDASSIST_MODEL", "no-such-model")
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    monkeypatch.setattr("sys.stdin", io.StringIO("this is rosa\nstart area shower wall\nunderstood\nleave\n"))
    assert main(["work", str(day), "--quiet"]) == 0
    assert "Acknowledged." in capsys.readouterr().out


def test_a_broken_model_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "broken"
    shutil.copytree(shipped("models") / "plainspeech-en", broken)
    (broken / "am" / "final.mdl").write_bytes(b"\0" * 200)
    assert main(["hear", "--model", str(broken), str(recording("tile set"))]) == 2
    assert "speech model broken is damaged" in capsys.readouterr().err


def test_a_typed_day_is_logged_reported_and_reopened(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    monkeypatch.setattr("sys.stdin", io.StringIO("this is edwin\nweather rain\nnote gate stays locked\n?\nleave\n"))
    assert main(["work", str(day), "--quiet"]) == 0
    monkeypatch.setattr("sys.stdin", io.StringIO("start area shower wall\n"))
    assert main(["work", str(day), "--quiet"]) == 0
    capsys.readouterr()
    assert main(["events", "--json", str(day)]) == 0
    kinds = [row["body"]["type"] for row in rows(capsys)]
    assert kinds[-5:] == ["speaker changed", "weather noted", "note made", "area started", "section opened"]
    assert main(["report", str(day)]) == 0
    assert (tmp_path / "daily-log.pdf").read_bytes().startswith(b"%PDF")


def test_figures_may_be_typed_in_digits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    lines = ["this is rosa", "start area shower wall", "understood", "understood"]
    lines += [
        "air temperature 21 degrees",
        "yes",
        "wall temperature 64 °F",
        "yes",
        "humidity 50 %",
        "yes",
        "membrane checked",
        "gap 1/16 in",
        "yes",
    ]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(lines)))
    assert main(["work", str(day), "--quiet"]) == 0
    with DayLog.open(day, read_only=True) as log:
        bodies = [event.body for event in log.events]
    called = [body for body in bodies if body.type == "reading called"]
    assert [(float(body.value), body.unit) for body in called] == [
        (21, "degC"),
        (64, "degF"),
        (50, "percent"),
        (0.0625, "in"),
    ]
    assert sum(body.type == "reading kept" for body in bodies) == 4


def test_recordings_work_on_a_day(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    files = [recording("this is rosa"), recording("start area shower wall"), recording("understood")]
    assert main(["work", str(day), "--quiet", "--audio", *map(str, files)]) == 0
    capsys.readouterr()
    assert main(["events", "--json", str(day)]) == 0
    bodies = [row["body"] for row in rows(capsys)]
    assert bodies[-1].items() >= {"type": "caution acknowledged", "area": "shower wall", "caution": "silica"}.items()


def streamed(day: Path, parts: Sequence[np.ndarray], *how: str) -> str:
    """Work on a day with samples on standard input; what the program told."""
    done = subprocess.run(
        [sys.executable, "-m", "fieldassist", "work", str(day), "--quiet", "--pcm", "16000", *how],
        input=np.concatenate(parts).tobytes(),
        capture_output=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout.decode()


def test_a_raw_stream_works_on_a_day(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    quiet = np.zeros(16_000, dtype="<i2")
    parts = []
    for words in ("this is rosa", "start area shower wall", "understood"):
        samples, _ = soundfile.read(recording(words), dtype="int16")
        parts += [samples.astype("<i2"), quiet]
    told = streamed(day, parts, "--open")
    assert "“this is rosa”" in told
    assert "Acknowledged." in told


def spoken(words: str, folder: Path) -> np.ndarray:
    """The words in a free synthetic voice that the speech model was not made with."""
    wav = folder / "spoken.wav"
    subprocess.run(["flite", "-voice", "slt", "-t", words, "-o", str(wav)], check=True)
    samples, rate = soundfile.read(wav, dtype="int16")
    assert rate == 16_000
    return samples


def test_an_open_microphone_keeps_what_is_called_to_it_and_drops_the_talk(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    parts = []
    for words, pause_s in (
        ("field assist, this is rosa", 3),
        ("weather rain", 3),
        ("field assist, weather sunny", 3),
        ("field assist, make a note", 1),
        ("the wall is still wet and needs another day", 4),
        ("we are going to have lunch in ten minutes", 2),
    ):
        hiss = np.random.default_rng(1).normal(0, 4, pause_s * 16_000).astype("<i2")
        parts += [spoken(words, tmp_path).astype("<i2"), hiss]
    told = streamed(day, parts, "--dropped")
    assert "“weather rain”: not taken" in told
    with DayLog.open(day, read_only=True) as log:
        bodies = [event.body for event in log.events if event.by == "rosa"]
        assert not any("rain" in event.model_dump_json() for event in log.events)
    assert [body.type for body in bodies] == ["speaker changed", "weather noted", "note made"], told
    assert bodies[1].text == "sunny"
    assert "needs another day" in bodies[2].text
    sound, rate = soundfile.read(tmp_path / "day.attached" / bodies[2].audio)
    assert 2 < len(sound) / rate < 8


def test_an_attention_phrase_that_the_model_cannot_hear_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["hear", "--attention", "zweitausend assist", str(recording("understood"))]) == 2
    assert "does not know zweitausend" in capsys.readouterr().err
    assert main(["hear", "--json", "--attention", "field assist", str(recording("understood"))]) == 0
    assert json.loads(capsys.readouterr().out)["command"] is None


def test_shipped_checklists_pass_their_own_check(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["checklists"]) == 0
    told = capsys.readouterr().out
    for name in ("wet-area-wall", "dry-floor", "gauged-panel-wall"):
        assert name in told
    assert "does not know" not in told, "every word of a shipped checklist can be heard"


def test_a_wrong_checklist_fails_its_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "wrong.yaml"
    path.write_text("checklist: Wrong Id\n", encoding="utf-8")
    assert main(["checklists", str(path)]) == 1
    assert "line 1: checklist" in capsys.readouterr().out


def test_models_lists_the_default_and_lets_it_hear_a_known_recording(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["models"]) == 0
    told = capsys.readouterr().out
    assert "* plainspeech-en" in told
    assert "hears “coverage eighty five percent” in a known recording" in told


def test_a_model_that_loads_and_hears_wrongly_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # The model is right, the recording is another one: what was heard is told, and the job fails.
    assets = tmp_path / "assets"
    shutil.copytree(shipped("assets") / "demo" / "audio", assets / "demo" / "audio")
    name = "035-coverage-eighty-five-percent.flac"
    shutil.copy(recording("next tile"), assets / "demo" / "audio" / name)
    where = {"assets": assets, "models": shipped("models")}
    monkeypatch.setattr("fieldassist.cli.models.shipped", where.__getitem__)
    assert main(["models"]) == 1
    assert "It loads, but hears “next tile”" in capsys.readouterr().out


def test_a_model_of_ones_own_is_named_by_path(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own = tmp_path / "unpacked" / "another-en"
    shutil.copytree(shipped("models") / "plainspeech-en", own)
    assert main(["models", "--model", str(own)]) == 0
    assert f"In use: {own}" in capsys.readouterr().out


def test_the_readme_names_every_job_and_the_help_has_a_line_for_each() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    told = subprocess.run([sys.executable, "-m", "fieldassist", "--help"], capture_output=True, text=True).stdout
    jobs = re.findall(r"^  ([a-z]+)  ", told, flags=re.MULTILINE)
    assert jobs == list(Program().list_commands(None))
    for job in jobs:
        assert f"`fieldassist {job}" in readme, job


def test_ci_runs_the_readmes_test_command() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert len([line for line in readme.splitlines() if "pytest" in line and ".venv" in line]) == 1
    assert "README.md" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_a_report_that_cannot_be_written_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    assert main(["report", str(day), "--out", str(tmp_path / "no-folder" / "log.pdf")]) == 2
    assert "The day itself is safe" in capsys.readouterr().err


def test_a_plan_of_another_day_is_begun_only_with_the_date_of_the_clock(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day)]) == 2
    told = capsys.readouterr().err
    assert "2026-03-17" in told
    assert "--today" in told
    assert not day.exists()
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    with DayLog.open(day, read_only=True) as log:
        opened = log.events[0]
    assert opened.body.plan.date == opened.at.wall[:10]  # type: ignore[union-attr]


def test_a_missing_plan_is_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["begin", str(tmp_path / "none.yaml"), str(tmp_path / "day.db"), "--today"]) == 2
    assert "there is no such file" in capsys.readouterr().err
