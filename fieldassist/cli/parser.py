"""The shape of a job on the command line: its parts, its page of help, and what is said when it is misused.

All words stand in `language/en/cli.ftl`: "cli-JOB" says what a job does, "cli-JOB-PART" what one of its parts is for,
and "cli-JOB-more", where there is more to tell, ends its page. A part that several jobs share has a code of its own.
"""

from __future__ import annotations

import difflib
import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.core import ParameterSource
from click.formatting import HelpFormatter
from click.shell_completion import CompletionItem

from fieldassist.cli.terminal import Terminal

if TYPE_CHECKING:
    from fieldassist.trade.message import Figure, Message

OK, FAILED, MISUSED = 0, 1, 2

_WIDEST = 100


class Misuse(click.UsageError):
    """The command line cannot be understood. `told`: why, and what would be."""

    def __init__(self, code: str, ctx: click.Context | None = None, /, **figures: Figure) -> None:
        from fieldassist.trade.message import message

        self.told: Message = message(f"cli-{code}", **figures)
        super().__init__(str(self.told), ctx)


def terminal_of(ctx: click.Context) -> Terminal:
    """The terminal that this command line talks to."""
    found: Terminal = ctx.ensure_object(Terminal)
    return found


def tell_misuse(ctx: click.Context, told: Message) -> None:
    """How it is called, what is wrong, and where to read more."""
    terminal = terminal_of(ctx)
    terminal.warn(ctx.get_usage())
    terminal.warn(told)
    terminal.warn(terminal.say("misused-help", command=f"{ctx.command_path} --help"))


def no_such(kind: str, ctx: click.Context | None, name: str, near: str) -> Misuse:
    """There is no job or option of this name; near: the one that was probably meant, or ""."""
    if near:
        return Misuse(f"no-such-{kind}-near", ctx, name=name, near=near)
    return Misuse(f"no-such-{kind}", ctx, name=name)


def as_sentence(text: str) -> str:
    """A line of a list as the first sentence of a page.

    >>> as_sentence("check checklist files")
    'Check checklist files.'
    """
    return f"{text[:1].upper()}{text[1:]}."


def nearest(name: str, names: Iterable[str]) -> str:
    """The name that was probably meant, "" when none is like it.

    >>> nearest("chekclists", ["checklists", "calc"])
    'checklists'
    """
    return next(iter(difflib.get_close_matches(name, list(names), n=1)), "")


# --- what a part may be -------------------------------------------------------------------------------------------


class PathPart(click.ParamType[Path]):
    """A file or a folder. Whether it is there is for the job to find out, which knows what to say then."""

    name = "path"

    def __init__(self, *, folder: bool = False) -> None:
        self.folder = folder

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Path:
        return Path(value)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        return [CompletionItem(incomplete, type="dir" if self.folder else "file")]


class OneOf(click.ParamType[str]):
    """One of a few words."""

    name = "word"

    def __init__(self, *choices: str) -> None:
        self.choices = choices

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        if value not in self.choices:
            raise Misuse("not-one-of", ctx, part=_called(param), value=str(value), choices=", ".join(self.choices))
        return str(value)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        return [CompletionItem(choice) for choice in self.choices if choice.startswith(incomplete)]


class NumberOption(click.ParamType[float]):
    """A number, whole or not, zero or more."""

    name = "number"

    def __init__(self, kind: Callable[[str], float]) -> None:
        self.kind = kind

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        try:
            number = self.kind(value)
        except ValueError:
            number = -1
        if not 0 <= number < float("inf"):
            raise Misuse("no-number", ctx, part=_called(param), value=str(value))
        return number


class DatePart(click.ParamType[date]):
    """A date, as 2026-03-17."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            raise Misuse("no-date", ctx, part=_called(param), value=str(value)) from None


FILE, FOLDER = PathPart(), PathPart(folder=True)
UNITS = OneOf("metric", "us")


def _called(param: click.Parameter | None) -> str:
    if param is None:
        return ""
    return param.opts[0] if isinstance(param, click.Option) else str(param.metavar)


class Option(click.Option):
    """An option. words: its code, where it is not "cli-JOB-NAME"; many: it takes one value or several behind it."""

    def __init__(self, *names: str, words: str = "", many: bool = False, **settings: Any) -> None:
        super().__init__(names, multiple=many, **settings)
        self.words, self.many = words, many


class Argument(click.Argument):
    """What is given by its place. words: its code, where it is not "cli-JOB-NAME"."""

    def __init__(self, name: str, *, metavar: str, words: str = "", **settings: Any) -> None:
        super().__init__([name], metavar=metavar, **settings)
        self.words = words


def day_argument(**settings: Any) -> Argument:
    """A day's log, as most jobs take it."""
    return Argument("day", metavar="DAY", type=FILE, words="day", **settings)


def units_option() -> Option:
    """In which units a document is written."""
    return Option("--units", type=UNITS, metavar="metric|us", words="units")


def documents_option() -> Option:
    """In which language a document is written, which need not be that in which the job talks."""
    return Option("--documents", metavar="NAME", type=_Language(), words="documents")


def model_option() -> Option:
    """Which speech model hears."""
    return Option("--model", metavar="NAME", words="model")


def people_option() -> Option:
    """Where the people who can sign here are kept."""
    return Option("--people", metavar="DIR", type=FOLDER, words="people-folder")


def date_option() -> Option:
    """On which date a script or the demo is played."""
    return Option("--date", "on", metavar="DATE", type=DatePart(), words="date")


def trials_option() -> Option:
    """From which days of mock-up trials the plan takes the methods that were released for its areas."""
    return Option("--trial", "trials", metavar="DAY", type=FILE, many=True, words="trials")


def speak_option() -> Option:
    """How much the tablet says aloud: by the first words of `day.speaking.LEVELS`, which not every job can wait for."""
    return Option("--speak", metavar="LEVEL", type=OneOf("all", "few", "sounds"), default="few", words="speak")


def json_option() -> Option:
    """For a program instead of a person."""
    return Option("--json", "as_json", is_flag=True, words="json")


def language_option() -> Option:
    """In which language a job talks: at the beginning of the line or among the job's own options."""

    def chosen(ctx: click.Context, _param: click.Parameter, value: str | None) -> None:
        if value is None:
            return
        terminal = terminal_of(ctx)
        terminal.language = value
        vars(terminal).pop("words", None)

    return Option(
        "--language",
        metavar="NAME",
        type=_Language(),
        words="language",
        is_eager=True,
        expose_value=False,
        callback=chosen,
    )


class _Language(click.ParamType[str]):
    name = "language"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        from fieldassist.language import LANGUAGES

        if value not in LANGUAGES:
            raise Misuse("not-one-of", ctx, part=_called(param), value=str(value), choices=", ".join(LANGUAGES))
        return str(value)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        from fieldassist.language import LANGUAGES

        return [CompletionItem(name) for name in LANGUAGES if name.startswith(incomplete)]


class _Lines(HelpFormatter):
    """Lines that break between words only: names and options keep their hyphens in one piece."""

    def write_text(self, text: str) -> None:
        """A paragraph."""
        indent = " " * self.current_indent
        self.write(self._wrapped(text, self.width, indent) + "\n")

    def write_dl(self, rows: Iterable[tuple[str, str]], col_max: int = 30, col_spacing: int = 2) -> None:
        """Names, and beside each what it is."""
        rows = list(rows)
        indent = " " * self.current_indent
        column = min(max(len(name) for name, _ in rows), col_max) + col_spacing
        hanging = indent + " " * column
        for name, text in rows:
            told = self._wrapped(text, self.width, hanging).lstrip() if text else ""
            beside = f"{indent}{name:{column}}" if len(name) <= column - col_spacing else f"{indent}{name}\n{hanging}"
            self.write(f"{beside}{told}".rstrip() + "\n")

    @staticmethod
    def _wrapped(text: str, width: int, indent: str) -> str:
        return textwrap.fill(
            text, max(width, len(indent) + 20), initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False
        )


class HelpPage(click.Context):
    """A context whose pages have room for a sentence."""

    def make_formatter(self) -> HelpFormatter:
        """As wide as the terminal, up to 100 letters."""
        return _Lines(max_width=_WIDEST)


# --- a job --------------------------------------------------------------------------------------------------------


class Job(click.Command):
    """One job. run: called with the terminal and the value of each part by its name; gives the exit code.

    apart: names of parts of which one at most may be given; words: the code of its words, where it is not "cli-NAME".
    """

    context_class = HelpPage

    def __init__(
        self,
        name: str,
        run: Callable[..., int],
        *parts: click.Parameter,
        apart: Sequence[Sequence[str]] = (),
        words: str = "",
    ) -> None:
        super().__init__(name, params=[*parts, language_option()], callback=run)
        self.apart = apart
        self.words = words or name

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        ctx.allow_extra_args = True
        try:
            args = list(spread(args, [part for part in self.params if isinstance(part, Option)], ctx))
            over = super().parse_args(ctx, args)
        except click.UsageError as misuse:
            # Click's own parser does not know for which job it works.
            misuse.ctx = misuse.ctx or ctx
            raise
        if over and not ctx.resilient_parsing:
            raise Misuse("too-much", ctx, what=" ".join(over))
        for names in self.apart:
            given = [n for n in names if ctx.get_parameter_source(n) is ParameterSource.COMMANDLINE]
            if len(given) > 1:
                one, other = (part.opts[0] for part in self.params if part.name in given[:2])
                raise Misuse("not-together", ctx, one=one, other=other)
        return over

    def invoke(self, ctx: click.Context) -> int:
        code: int = ctx.invoke(self.callback, terminal_of(ctx), **ctx.params)  # type: ignore[arg-type]
        return code

    def get_help_option(self, ctx: click.Context) -> click.Option | None:
        return help_option()

    # --- its page

    def code_of(self, part: click.Parameter) -> str:
        """The code of the words for a part, without its subject."""
        own = getattr(part, "words", "")
        return own or f"{self.words}-{str(part.name).replace('_', '-')}"

    def format_help(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """The page of one job."""
        terminal = terminal_of(ctx)
        say = terminal.say
        self.format_usage(ctx, formatter)
        with formatter.indentation():
            formatter.write_paragraph()
            formatter.write_text(as_sentence(say(self.words)))
        places = [part for part in self.params if isinstance(part, click.Argument)]
        if places:
            with formatter.section(say("heading-arguments")):
                formatter.write_dl([(str(part.metavar), say(self.code_of(part))) for part in places])
        with formatter.section(say("heading-options")):
            formatter.write_dl(option_rows(terminal, [p for p in self.get_params(ctx) if p not in places], self))
        if terminal.words.has(f"cli-{self.words}-more"):
            formatter.write_paragraph()
            formatter.write_text(say(f"{self.words}-more"))

    def format_usage(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """The first line of the page, which misuse shows too."""
        terminal = terminal_of(ctx)
        places = []
        for part in self.params:
            if isinstance(part, click.Argument):
                shown = f"{part.metavar}..." if part.nargs == -1 else str(part.metavar)
                places.append(shown if part.required else f"[{shown}]")
        pieces = " ".join([f"[{terminal.say('usage-options')}]", *places])
        formatter.write_usage(ctx.command_path, pieces, f"{terminal.say('usage')} ")

    def misused(self, ctx: click.Context, told: Message) -> None:
        """Tell that it was misused: how it is called, what is wrong, and where to read more."""
        tell_misuse(ctx, told)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The options that begin like this, each with its words."""
        say = terminal_of(ctx).say
        return [
            CompletionItem(name, help=say(self.code_of(part)))
            for part in self.get_params(ctx)
            if isinstance(part, click.Option) and incomplete.startswith("-")
            for name in part.opts
            if name.startswith(incomplete)
        ]


def help_option() -> Option:
    """`--help`: the page, and nothing else is done."""

    def shown(ctx: click.Context, _param: click.Parameter, value: bool) -> None:
        if value and not ctx.resilient_parsing:
            terminal_of(ctx).tell(ctx.get_help())
            ctx.exit()

    return Option("--help", "-h", is_flag=True, words="help", is_eager=True, expose_value=False, callback=shown)


def option_rows(terminal: Terminal, parts: Sequence[click.Parameter], job: Job) -> list[tuple[str, str]]:
    """Options as a page shows them: the name with what follows it, and the words."""
    rows = []
    for part in parts:
        name = ", ".join(part.opts)
        if isinstance(part, click.Option) and not part.is_flag:
            value = f"{part.metavar}..." if part.multiple else str(part.metavar)
            name += f" [{value}]" if part._flag_needs_value else f" {value}"
        rows.append((name, terminal.say(job.code_of(part))))
    return rows


def spread(args: Sequence[str], options: Sequence[Option], ctx: click.Context) -> Iterator[str]:
    """The same arguments with an option of several values repeated before each of them.

    Values end where the next option begins; what begins with a minus and a digit is a value. Errors: `Misuse`.
    """
    many = {name for option in options if option.many for name in option.opts}
    rest = list(args)
    while rest:
        one = rest.pop(0)
        if one == "--":
            yield from (one, *rest)
            return
        name, joined, value = one.partition("=")
        if name not in many:
            yield one
        elif joined:
            yield from (name, value)
        else:
            if (not rest or _is_option(rest[0])) and not ctx.resilient_parsing:
                raise Misuse("needs-value", ctx, part=name)
            while rest and not _is_option(rest[0]):
                yield from (name, rest.pop(0))


def _is_option(text: str) -> bool:
    return text.startswith("-") and len(text) > 1 and not text[1].isdigit() and " " not in text


class Jobs(click.Group):
    """Jobs under one name."""

    context_class = HelpPage

    def get_help_option(self, ctx: click.Context) -> click.Option | None:
        return help_option()

    def misused(self, ctx: click.Context, told: Message) -> None:
        """Tell what is wrong."""
        tell_misuse(ctx, told)

    def option_rows(self, ctx: click.Context) -> list[tuple[str, str]]:
        """The options of the name itself, as its page shows them."""
        say = terminal_of(ctx).say
        parts = [part for part in self.get_params(ctx) if isinstance(part, Option)]
        return [(", ".join(p.opts) + (f" {p.metavar}" if p.metavar else ""), say(p.words)) for p in parts]


class Group(Jobs):
    """A few jobs of one kind under its name, such as `trial new`: which of them, is the first word behind it."""

    def __init__(self, name: str, *jobs: Job) -> None:
        super().__init__(name, params=[language_option()], invoke_without_command=True)
        self.jobs = {str(job.name): job for job in jobs}

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Their names, in the order in which they are needed."""
        return list(self.jobs)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The one of this name."""
        return self.jobs.get(cmd_name)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The one that is named, or what was probably meant."""
        job = self.get_command(ctx, args[0])
        if job is None and not ctx.resilient_parsing:
            raise no_such("job", ctx, args[0], nearest(args[0], self.jobs))
        return (args[0] if job else None), job, args[1:]

    def invoke(self, ctx: click.Context) -> int:
        if not ctx._protected_args:
            raise Misuse("no-job-of", ctx, jobs=", ".join(self.jobs))
        code: int = super().invoke(ctx)
        return code

    def format_usage(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """The first line of the page."""
        say = terminal_of(ctx).say
        formatter.write_usage(ctx.command_path, f"[{say('usage-options')}] {say('usage-job')} ...", f"{say('usage')} ")

    def format_help(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """What they are for, and each with its words."""
        terminal = terminal_of(ctx)
        say = terminal.say
        self.format_usage(ctx, formatter)
        with formatter.indentation():
            formatter.write_paragraph()
            formatter.write_text(as_sentence(say(str(self.name))))
        with formatter.section(say(f"heading-{self.name}")):
            formatter.write_dl([(name, say(job.words)) for name, job in self.jobs.items()])
        with formatter.section(say("heading-options")):
            formatter.write_dl(self.option_rows(ctx))
        formatter.write_paragraph()
        formatter.write_text(say(f"{self.name}-about"))

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The names that begin like this, each with its words; options as the list of all jobs has them."""
        say = terminal_of(ctx).say
        return [
            CompletionItem(name, help=say(job.words)) for name, job in self.jobs.items() if name.startswith(incomplete)
        ]
