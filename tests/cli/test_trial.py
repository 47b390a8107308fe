"""A mock-up trial on the command line, as a newcomer runs one: each job names the next."""

from __future__ import annotations

from pathlib import Path

import click
import pytest

from fieldassist.checklist.loader import load_plan
from fieldassist.cli import main
from fieldassist.cli.parser import Job
from fieldassist.cli.trial import job as trial
from fieldassist.language import Words


@pytest.mark.parametrize("job", trial.jobs.values(), ids=trial.jobs)
def test_every_part_has_words_and_stands_on_the_page(job: Job, capsys: pytest.CaptureFixture[str]) -> None:
    words = Words()
    assert main(["trial", str(job.name), "--help"]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert words.has(f"cli-{job.words}")
    for part in job.params:
        assert words.has(f"cli-{job.code_of(part)}"), part.name
        assert (part.opts[0] if isinstance(part, click.Option) else str(part.metavar)) in page


def test_which_job_is_meant_is_asked_and_a_slip_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trial"]) == 2
    assert ", ".join(trial.jobs) in capsys.readouterr().err
    assert main(["trial", "nwe"]) == 2
    assert "Did you mean new?" in capsys.readouterr().err
    assert main(["trial", "--help"]) == 0
    page = capsys.readouterr().out
    assert all(f"  {name}" in page for name in trial.jobs)


def test_a_new_file_works_at_once_and_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "kitchen.yaml"
    assert main(["trial", "new", str(file)]) == 0
    out = capsys.readouterr().out
    assert f"trial plan {file}" in out
    plan = load_plan(file)
    assert plan.areas[0].trial is not None
    assert plan.areas[0].trial.letters == ("A", "B", "C", "D", "E")
    file.write_text("mine\n", encoding="utf-8")
    assert main(["trial", "new", str(file)]) == 2
    assert file.read_text(encoding="utf-8") == "mine\n"
    assert main(["trial", "new", str(tmp_path / "nowhere" / "x.yaml")]) == 2
