"""What README promises of a fresh machine, as far as it can be seen without one. `.ci/run` tries the commands."""

from __future__ import annotations

import re
from pathlib import Path

COMMANDS = re.findall(r"^S=.*$", (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8"), re.MULTILINE)


def test_there_are_two_commands_and_the_second_tests() -> None:
    assert [command.split(" && ")[-1] for command in COMMANDS] == [
        ".venv/bin/fieldassist demo",
        ".venv/bin/pytest -n auto",
    ]


def test_both_install_what_the_speech_engine_loads_on_every_processor() -> None:
    # libvosk.so of the wheel for ARM needs libatomic.so.1 (`readelf -d`), which a fresh Debian lacks.
    assert all(" libatomic1 " in command for command in COMMANDS)


def test_no_command_names_the_version_that_a_releases_openfst_has() -> None:
    # Debian 12 has libfst22, Debian 13 libfst26.
    assert not [command for command in COMMANDS if re.search(r"libfst\d", command)]
