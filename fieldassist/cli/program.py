"""The command line as a whole: which jobs there are, for whom, and what comes of one.

A job is loaded when it is asked for, and imports only what it uses; the list of jobs is words alone.
"""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING

import click
from click.formatting import HelpFormatter
from click.shell_completion import CompletionItem, shell_complete

from fieldassist import __version__
from fieldassist.cli.parser import (
    FAILED,
    MISUSED,
    OK,
    Job,
    Jobs,
    Misuse,
    Option,
    language_option,
    nearest,
    no_such,
    terminal_of,
)
from fieldassist.cli.terminal import Terminal
from fieldassist.extras import lacking

if TYPE_CHECKING:
    from fieldassist.trade.message import Message

NAME = "fieldassist"
COMPLETION = "_FIELDASSIST_COMPLETE"
"""The variable by which a shell asks what could be typed."""

# Who uses a job, and where it lives: "MODULE" holds it as `job`, "MODULE:NAME" as NAME.
JOBS: dict[str, dict[str, str]] = {
    "installer": {"tablet": "tablet", "work": "work", "calc": "calc", "photo": "photo", "microphone": "microphone"},
    "foreman": {
        "begin": "begin",
        "trial": "trial",
        "handling": "handling",
        "people": "people",
        "sign": "signing:sign",
        "addendum": "signing:addendum",
        "correct": "signing:correct",
        "notes": "notes",
        "report": "report",
        "bundle": "handover:bundle",
        "import": "handover:bring_in",
        "recover": "recover",
        "stamp": "stamp",
    },
    "inspector": {
        "verify": "verify",
        "countersign": "countersign",
        "reprint": "reprint",
        "events": "events",
        "facts": "facts",
    },
    "developer": {
        "demo": "demo",
        "rehearse": "rehearse",
        "hear": "hear",
        "checklists": "checklists",
        "models": "models",
        "completion": "completion",
    },
}
_WHERE = {name: where for jobs in JOBS.values() for name, where in jobs.items()}


class Program(Jobs):
    """`fieldassist`: the jobs, each loaded when it is asked for."""

    def __init__(self) -> None:
        version = Option(
            "--version", is_flag=True, words="version", is_eager=True, expose_value=False, callback=_version
        )
        super().__init__(NAME, params=[version, language_option()], invoke_without_command=True)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The jobs, in the order of the page."""
        return list(_WHERE)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The job, with what it imports."""
        where = _WHERE.get(cmd_name)
        if where is None:
            return None
        module, _, name = where.partition(":")
        job: click.Command = getattr(import_module(f"fieldassist.cli.{module}"), name or "job")
        return job

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The job that is named, or what was probably meant."""
        job = self.get_command(ctx, args[0])
        if job is None and not ctx.resilient_parsing:
            raise no_such("job", ctx, args[0], nearest(args[0], _WHERE))
        return (args[0] if job else None), job, args[1:]

    def invoke(self, ctx: click.Context) -> int:
        if not ctx._protected_args:
            raise Misuse("no-job", ctx)
        code: int = super().invoke(ctx)
        return code

    def format_help(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """The page of the program: its jobs by who uses them, and what the exit codes mean."""
        terminal = terminal_of(ctx)
        say = terminal.say
        self.format_usage(ctx, formatter)
        with formatter.indentation():
            formatter.write_paragraph()
            formatter.write_text(say("program"))
        widest = max(map(len, _WHERE))
        for who, jobs in JOBS.items():
            with formatter.section(say(f"for-{who}")):
                formatter.write_dl([(f"{name:{widest}}", say(name)) for name in jobs])
        with formatter.section(say("heading-options")):
            formatter.write_dl(self.option_rows(ctx))
        formatter.write_paragraph()
        formatter.write_text(say("program-more"))

    def format_usage(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """The first line of the page."""
        say = terminal_of(ctx).say
        formatter.write_usage(ctx.command_path, f"[{say('usage-options')}] {say('usage-job')} ...", f"{say('usage')} ")

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """Jobs, told by their words alone: none is loaded for it."""
        say = terminal_of(ctx).say
        if incomplete.startswith("-"):
            parts = [part for part in self.get_params(ctx) if isinstance(part, Option)]
            return [
                CompletionItem(name, help=say(part.words))
                for part in parts
                for name in part.opts
                if name.startswith(incomplete)
            ]
        return [CompletionItem(name, help=say(name)) for name in _WHERE if name.startswith(incomplete)]


def _version(ctx: click.Context, _param: click.Parameter, value: bool) -> None:
    if value and not ctx.resilient_parsing:
        terminal_of(ctx).tell(f"{NAME} {__version__}")
        ctx.exit()


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one job. Exit code 0: done; 1: it came out wrong; 2: it could not be tried. `verify` has its own."""
    if getattr(sys, "frozen", False):
        # A program packed into one file is what its own helpers start anew.
        from multiprocessing import freeze_support

        freeze_support()
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter of a name gets its number; nothing ends for it.
        if callable(reconfigure := getattr(stream, "reconfigure", None)):
            reconfigure(errors="backslashreplace")
    program = Program()
    asked = os.environ.get(COMPLETION)
    if asked and arguments is None:
        return shell_complete(program, {"obj": Terminal()}, NAME, COMPLETION, asked)
    terminal = Terminal()
    try:
        code = _run(program, list(sys.argv[1:] if arguments is None else arguments), terminal)
        sys.stdout.flush()
        return code
    except BrokenPipeError:
        _nobody_reads_on()
        return OK


def _run(program: Program, arguments: list[str], terminal: Terminal) -> int:
    try:
        with program.make_context(NAME, arguments, obj=terminal) as ctx:
            code: int = program.invoke(ctx)
            return code
    except click.exceptions.Exit as end:
        return end.exit_code
    except click.UsageError as misuse:
        _tell_misuse(misuse, terminal)
        return MISUSED
    except KeyboardInterrupt:
        terminal.warn("\n" + terminal.say("stopped"))
        return FAILED
    except ModuleNotFoundError as error:
        library = lacking(error)
        if library is None:
            raise
        terminal.warn(terminal.say("needs-tablet", library=library))
        return MISUSED
    except BrokenPipeError:
        raise
    except (OSError, MemoryError) as trouble:
        # What no job foresaw of a disk or of memory: nothing was changed that was not whole.
        why = trouble.strerror if isinstance(trouble, OSError) else None
        terminal.warn(terminal.say("machine-refused", why=why or os.strerror(errno.ENOMEM)))
        return FAILED
    except ValueError as problem:
        # Not before it is needed: `--version` has nothing to refuse.
        from fieldassist.trade.message import Refused

        if not isinstance(problem, Refused):
            raise
        terminal.warn(problem.told)
        return MISUSED


def _tell_misuse(misuse: click.UsageError, terminal: Terminal) -> None:
    """What is wrong, in the person's language, as the job that was misused tells it."""
    context = misuse.ctx
    told = _what_is_wrong(misuse)
    if context is not None and isinstance(context.command, Job | Jobs):
        context.command.misused(context, told)
    else:
        terminal.warn(told)


def _what_is_wrong(misuse: click.UsageError) -> Message:
    context = misuse.ctx
    if isinstance(misuse, Misuse):
        return misuse.told
    if isinstance(misuse, click.NoSuchOption):
        known = [name for part in context.command.get_params(context) for name in part.opts] if context else []
        near = nearest(misuse.option_name, [name for name in known if name.startswith("--")])
        return no_such("option", context, misuse.option_name, near).told
    if isinstance(misuse, click.MissingParameter) and misuse.param is not None:
        return Misuse("missing", part=str(misuse.param.metavar or misuse.param.opts[0])).told
    if isinstance(misuse, click.BadOptionUsage):
        # Of the two things this is raised for, a value behind an option that takes none is the other.
        return Misuse("needs-value" if "requires" in misuse.message else "takes-none", part=misuse.option_name).told
    return Misuse("misused", what=str(misuse)).told


def _nobody_reads_on() -> None:
    """The reader of standard output has left; nothing more is written to it, not even at the end."""
    # Python, "Note on SIGPIPE" in the documentation of `signal`.
    null = os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, sys.stdout.fileno())
