"""`fieldassist completion`: what a shell needs to complete jobs, options, and the names and words that `calc` takes."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

from fieldassist.cli.parser import OK, Argument, Job, OneOf
from fieldassist.cli.terminal import Terminal

SHELLS = ("bash", "zsh", "fish")


def _completion(terminal: Terminal, shell: str) -> int:
    from fieldassist.cli.program import COMPLETION, NAME

    kind = get_completion_class(shell)
    assert kind is not None
    # The script only calls the program back: which jobs there are is asked for when a person types.
    terminal.tell(kind(click.Command(NAME), {}, NAME, COMPLETION).source())
    return OK


job = Job("completion", _completion, Argument("shell", metavar="SHELL", type=OneOf(*SHELLS)))
