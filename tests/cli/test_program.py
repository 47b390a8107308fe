"""The command line as a whole: what it loads, what it tells whoever misuses it, and what a shell is told."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import click
import pytest

from fieldassist.cli import main
from fieldassist.cli.calc import Computation
from fieldassist.cli.calc import job as calc
from fieldassist.cli.completion import SHELLS
from fieldassist.cli.parser import Job, Jobs
from fieldassist.cli.program import COMPLETION, JOBS, Program
from fieldassist.cli.terminal import LANGUAGE, this_program
from fieldassist.language import Words
from fieldassist.record.log import DayLog
from fieldassist.trade.message import message
from tests import SITE

PLAN = SITE
PROGRAM = [sys.executable, "-m", "fieldassist"]


def jobs() -> list[click.Command]:
    program = Program()
    return [program.get_command(click.Context(program), name) for name in program.list_commands(None)]


# --- what is loaded -----------------------------------------------------------------------------------------------

HEAVY = {
    *("PIL", "cryptography", "fluent.runtime", "kivy", "numpy", "pikepdf", "pydantic", "pypdf", "reportlab"),
    *("ruamel.yaml", "rfc8785", "sounddevice", "soundfile", "soxr", "vosk"),
}
LOG = {"fluent.runtime", "pydantic", "rfc8785"}


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("program") / "day.db"
    assert main(["begin", str(PLAN), str(path), "--today"]) == 0
    return path


@pytest.mark.parametrize(
    ("typed", "may"),
    [
        ("--version", set()),
        ("--help", {"fluent.runtime"}),
        ("completion bash", set()),
        ("calc", {"fluent.runtime"}),
        ("calc bed-verdict --bed 2mm --mortar thin-set", {"fluent.runtime"}),
        ("events DAY", LOG),
        ("recover DAY", LOG),
        ("people", {"cryptography", "pydantic", "rfc8785"}),
        ("begin none.yaml none.db", LOG | {"cryptography", "ruamel.yaml"}),
        ("report DAY", LOG | {"PIL", "cryptography", "pikepdf", "reportlab"}),
    ],
)
def test_a_job_loads_only_what_it_uses(typed: str, may: set[str], day: Path, tmp_path: Path) -> None:
    arguments = [str(day) if word == "DAY" else word for word in typed.split()]
    run = "import sys; from fieldassist.cli import main; main(); print(*sys.modules, file=sys.stderr)"
    told = subprocess.run([sys.executable, "-c", run, *arguments], capture_output=True, text=True, cwd=tmp_path)
    loaded = set(told.stderr.splitlines()[-1].split())
    assert "fieldassist.cli.program" in loaded
    assert loaded & HEAVY <= may


def test_a_list_of_the_jobs_loads_none_of_them() -> None:
    run = "import sys; from fieldassist.cli import main; main(['--help']); print(*sys.modules, file=sys.stderr)"
    loaded = subprocess.run([sys.executable, "-c", run], capture_output=True, text=True).stderr.split()
    modules = {where.partition(":")[0] for names in JOBS.values() for where in names.values()}
    assert not {f"fieldassist.cli.{name}" for name in modules} & set(loaded)


# --- words --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("job", jobs(), ids=lambda job: job.name)
def test_every_job_and_every_part_of_it_has_words(job: click.Command) -> None:
    has = Words().has
    assert has(f"cli-{job.name}")
    for part in job.params:
        assert has(f"cli-{job.code_of(part)}" if isinstance(job, Job) else f"cli-{part.words}"), part.name
    assert isinstance(job, Job | Jobs)


@pytest.mark.parametrize("job", jobs(), ids=lambda job: job.name)
def test_the_page_of_a_job_tells_each_part_with_its_words(job: click.Command, capsys) -> None:  # type: ignore[no-untyped-def]
    assert main([str(job.name), "--help"]) == 0
    page = " ".join(capsys.readouterr().out.split())
    for part in job.params:
        shown = part.opts[0] if isinstance(part, click.Option) else str(part.metavar)
        words = job.code_of(part) if isinstance(job, Job) else part.words
        assert shown in page
        assert Words()(message(f"cli-{words}")) in page


def test_the_language_is_chosen_before_the_job_in_it_or_by_a_variable(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def page(*arguments: str) -> str:
        assert main(arguments) == 0
        return capsys.readouterr().out

    plain, pseudo = page("begin", "--help"), page("--language", "pseudo", "begin", "--help")
    assert plain != pseudo
    assert page("begin", "--language", "pseudo", "--help") == pseudo
    monkeypatch.setenv(LANGUAGE, "pseudo")
    assert page("begin", "--help") == pseudo
    assert page("--language", "en", "begin", "--help") == plain
    monkeypatch.setenv(LANGUAGE, "a language without words")
    assert page("begin", "--help") == plain


# --- misuse -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("", "Which job?"),
        ("begn x y", "Did you mean begin?"),
        ("nothing-like-it", "There is no job nothing-like-it."),
        ("begin --checklist x", "Did you mean --checklists?"),
        ("begin x", "DAY is missing"),
        ("begin x y z", "This is too much: z"),
        ("events", "DAY is missing"),
        ("events x --json=yes", "--json takes no value"),
        ("work x --pcm fast", "“fast”"),
        ("work x --pcm -5", "--pcm"),
        ("work x --audio", "--audio needs a value"),
        ("work x --audio --quiet", "--audio needs a value"),
        ("work x --open --hold", "--open and --hold cannot go together"),
        ("tablet --window 12x12", "“12x12”"),
        ("tablet --window 1280x800 --full", "--window and --full cannot go together"),
        ("report x --units inch", "metric, us"),
        ("correct x first text", "EVENT"),
        ("--language klingon events x", "en, es, pseudo"),
        ("completion tcsh", "bash, zsh, fish"),
    ],
)
def test_misuse_is_exit_code_two_with_what_is_wrong(typed: str, told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(typed.split()) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err


def test_several_values_stand_behind_one_option_or_behind_each_of_several(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    for given in (["--audio", "a.wav", "b.wav"], ["--audio=a.wav", "--audio", "b.wav"]):
        capsys.readouterr()
        assert main(["work", str(day), "--quiet", *given]) == 0
        assert re.findall(r"[ab]\.wav", capsys.readouterr().err) == ["a.wav", "b.wav"]


def test_a_value_may_begin_with_a_minus() -> None:
    assert main(["calc", "convert", "--value", "-5 degC", "--to", "degF"]) == 0


# --- a terminal and a shell ---------------------------------------------------------------------------------------


def test_a_reader_who_leaves_early_is_no_fault() -> None:
    """The pipe is closed after one line, as `head -1` does."""
    child = subprocess.Popen([*PROGRAM, "calc", "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert child.stdout is not None
    assert child.stderr is not None
    child.stdout.readline()
    child.stdout.close()
    assert child.stderr.read() == b""
    assert child.wait(30) == 0


def test_ctrl_c_ends_a_day_at_work_with_a_sentence_and_exit_code_one(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    child = subprocess.Popen(
        [*PROGRAM, "work", str(day), "--quiet"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        # Tests that run behind a shell's back are started with this signal ignored, and so would their children be.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    assert child.stdin is not None
    assert child.stdout is not None
    child.stdin.write(b"this is rosa\n")
    child.stdin.flush()
    for line in child.stdout:
        if b"osa" in line:
            break
    time.sleep(0.2)
    child.send_signal(signal.SIGINT)
    # Its input stays open until it has ended: the end of the input would end it too, and well.
    assert child.wait(timeout=60) == 1
    _, err = child.communicate()
    assert b"Traceback" not in err
    assert b"is in the log" in err
    with DayLog.open(day, read_only=True) as log:
        assert log.events[-1].body.type == "speaker changed"


def test_a_terminal_that_lacks_a_letter_gets_its_number(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    plan = PLAN.read_text(encoding="utf-8").replace("site: ", "site: Łąka ", 1)
    (tmp_path / "plan.yaml").write_text(plan, encoding="utf-8")
    assert main(["begin", str(tmp_path / "plan.yaml"), str(day), "--today"]) == 0
    ascii_only = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = subprocess.run([*PROGRAM, "verify", str(day)], capture_output=True, env=ascii_only)
    assert rb"\u0141\u0105ka" in done.stdout
    assert done.returncode == 3


def test_what_a_record_holds_cannot_act_on_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = "day\x1b[2J\u202e.db"
    assert main(["events", str(tmp_path / name)]) == 2
    err = capsys.readouterr().err
    assert "\x1b" not in err
    assert "\u202e" not in err
    assert "day" in err


def completed(*words: str, shell: str = "bash") -> list[str]:
    """What a shell is told could come at the last of these words."""
    asked = {
        "COMP_WORDS": " ".join(["fieldassist", *words]),
        "COMP_CWORD": str(len(words)),
        COMPLETION: f"{shell}_complete",
    }
    told = subprocess.run(PROGRAM, capture_output=True, text=True, env={**os.environ, **asked})
    assert told.stderr == ""
    return told.stdout.splitlines()


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        (["ev"], ["plain,events"]),
        (["calc", "piece"], ["plain,piece-weight"]),
        (["calc", "piece-weight", "--len"], ["plain,--length"]),
        (["calc", "bed-verdict", "--mortar", "thin"], ["plain,thin-set"]),
        (["work", "day.db", "--mic"], ["plain,--microphone"]),
        (["report", "day.db", "--units", "m"], ["plain,metric"]),
        (["events", "da"], ["file,da"]),
        (["import", "a", "--into", "da"], ["dir,da"]),
        (["completion", "f"], ["plain,fish"]),
        (["--lang"], ["plain,--language"]),
        (["--language", "ps"], ["plain,pseudo"]),
    ],
)
def test_a_shell_is_told_what_could_be_typed(words: list[str], wanted: list[str]) -> None:
    assert completed(*words) == wanted


def test_at_the_beginning_every_job_is_told() -> None:
    assert completed("") == [f"plain,{name}" for names in JOBS.values() for name in names]


@pytest.mark.parametrize("shell", SHELLS)
def test_the_script_of_a_shell_calls_the_program_back(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert f"{COMPLETION}={shell}_complete" in script


def test_bash_itself_completes_a_job_with_the_script(tmp_path: Path) -> None:
    assert shutil.which("bash")
    program = tmp_path / "fieldassist"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m fieldassist "$@"\n')
    program.chmod(0o755)
    asked = (
        "source <(fieldassist completion bash) && COMP_WORDS=(fieldassist calc suct) COMP_CWORD=2"
        ' && _fieldassist_completion fieldassist; echo "${COMPREPLY[@]}"'
    )
    path = {"PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run(["bash", "-c", asked], capture_output=True, text=True, env={**os.environ, **path})
    assert done.stdout.strip() == "suction-margin", done.stderr


# --- what it calls itself -----------------------------------------------------------------------------------------


def test_a_program_that_is_not_on_the_path_names_the_way_to_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program = tmp_path / ".venv" / "bin" / "fieldassist"
    program.parent.mkdir(parents=True)
    program.write_text("#!/bin/sh\n")
    program.chmod(0o755)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", "/nowhere")
    monkeypatch.setattr("sys.argv", [str(program)])
    assert this_program() == str(Path(".venv/bin/fieldassist"))
    monkeypatch.setattr("sys.argv", [".venv/bin/fieldassist"])
    assert this_program() == str(Path(".venv/bin/fieldassist"))
    monkeypatch.setenv("PATH", str(program.parent))
    assert this_program() == "fieldassist"
    monkeypatch.chdir("/")
    monkeypatch.setenv("PATH", "/nowhere")
    monkeypatch.setattr("sys.argv", [str(program)])
    assert this_program() == str(program.relative_to("/"))


def test_every_computation_is_a_job_with_its_inputs_as_options() -> None:
    for name in calc.list_commands(click.Context(calc)):
        one = calc.get_command(click.Context(calc), name)
        assert isinstance(one, Computation)
        options = {name for part in one.params for name in part.opts}
        assert {f"--{spec.name}" for spec in one.calculation.inputs} <= options


def test_json_for_programs_is_one_value_even_with_letters_that_act(tmp_path: Path, capsys) -> None:  # type: ignore[no-untyped-def]
    day = tmp_path / "day.db"
    assert main(["begin", str(PLAN), str(day), "--today"]) == 0
    capsys.readouterr()
    assert main(["events", "--json", str(day)]) == 0
    for line in capsys.readouterr().out.splitlines():
        assert json.loads(line)["seq"]
