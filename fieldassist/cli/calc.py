"""`fieldassist calc`: every computation of the trade from the command line, in words or as JSON.

A thin skin over `fieldassist.trade.catalog`: it lists, explains, asks and prints, and computes nothing.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

import click
from click.formatting import HelpFormatter
from click.shell_completion import CompletionItem

from fieldassist.cli.parser import (
    FAILED,
    MISUSED,
    OK,
    UNITS,
    Job,
    Jobs,
    Misuse,
    Option,
    as_sentence,
    json_option,
    language_option,
    terminal_of,
)
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal, safe
from fieldassist.trade.catalog import (
    CALCULATIONS,
    NAMES,
    Calculation,
    Input,
    Result,
    bases_of,
    evaluate,
    find_calculation,
    subject_title,
    system_of,
    title_of,
    verdict_of,
)
from fieldassist.trade.message import Message, Several, message
from fieldassist.trade.quantities import System

_LISTS = ("lengths", "masses", "choices", "lifts", "periods", "contaminants", "dust tasks", "lifting tasks", "clocks")
_METAVAR = {
    "choice": "WORD",
    "choices": "WORD",
    "flag": "YES/NO",
    "temperature difference": "DIFFERENCE",
    "mass per area": "MASS/AREA",
    "powder": "MASS/VOLUME",
    "lengths": "LENGTH",
    "masses": "MASS",
    "lifts": "LIFT",
    "periods": "PERIOD",
    "contaminants": "SHARE",
    "dust tasks": "TASK",
    "lifting tasks": "TASK",
    "clocks": "CLOCK",
}


class _Words(click.ParamType[str]):
    """What a computation takes as text; a shell is told which words it knows."""

    name = "text"

    def __init__(self, choices: Sequence[str]) -> None:
        self.choices = choices

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        return [CompletionItem(choice) for choice in self.choices if choice.startswith(incomplete)]


class Computation(Job):
    """One computation as a job: one option an input."""

    def __init__(self, calculation: Calculation) -> None:
        self.calculation = calculation
        parts = [_option(spec) for spec in calculation.inputs]
        units = Option("--units", "in_units", type=UNITS, metavar="metric|us", words="calc-units")
        super().__init__(calculation.name, self._answer, *parts, units, json_option())

    def _answer(self, terminal: Terminal, in_units: System | None, as_json: bool, **given: Any) -> int:
        calculation, ctx = self.calculation, click.get_current_context()
        texts = {
            spec.name: "; ".join(value) if isinstance(value, tuple) else value
            for spec in calculation.inputs
            if (value := given[_variable(spec)]) not in (None, ())
        }
        missing = [spec for spec in calculation.inputs if spec.required and spec.name not in texts]
        if missing:
            parts = [message("cli-calc-part", name=f"--{spec.name}", what=spec.told) for spec in missing]
            raise Misuse("calc-needs", ctx, parts=Several(tuple(parts), "and"))
        system: System = in_units or system_of(calculation, texts)
        terminal = terminal.using(terminal.words.in_units(system))
        try:
            results = evaluate(calculation.name, texts, system=system)
        except ValueError as problem:
            terminal.warn(told(problem))
            return MISUSED
        if as_json or (ctx.parent is not None and ctx.parent.params.get("as_json")):
            terminal.json(_for_programs(terminal, calculation, texts, results), indent=2)
        else:
            terminal.tell(plain_text(terminal, calculation, results))
        return OK if verdict_of(results) in ("passed", None) else FAILED

    def misused(self, ctx: click.Context, told: Message) -> None:
        """What is wrong, and a command that works."""
        terminal = terminal_of(ctx)
        terminal.warn(f"{self.name}: {terminal.words(told)}")
        terminal.warn(message("cli-calc-for-example", command=example_command(self.calculation)))

    def format_help(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """What it tells, what it asks for, an example, sources and cautions."""
        calculation, terminal = self.calculation, terminal_of(ctx)
        say = terminal.say
        formatter.write_usage(f"fieldassist calc {self.name}", say("calc-usage"), f"{say('usage')} ")
        formatter.write_paragraph()
        formatter.write_text(as_sentence(terminal.words(calculation.title)))
        formatter.write_text(terminal.words(calculation.summary))
        needed = [spec for spec in calculation.inputs if spec.required]
        possible = [spec for spec in calculation.inputs if not spec.required]
        for heading, specs in (("calc-needed", needed), ("calc-possible", possible)):
            if specs:
                with formatter.section(say(heading)):
                    formatter.write_dl(
                        [(f"--{s.name} {_metavar(s)}", _explained(terminal, s)) for s in specs], col_max=26
                    )
        with formatter.section(say("calc-how-it-answers")):
            shown = [part for part in self.get_params(ctx) if isinstance(part, Option) and part.words]
            formatter.write_dl(
                [(", ".join(p.opts) + (f" {p.metavar}" if p.metavar else ""), say(p.words)) for p in shown]
            )
        formatter.write(_epilog(calculation, terminal_of(ctx), formatter.width))


def _variable(spec: Input) -> str:
    # Click's own rule for the name of a parameter, with a mark so that none is taken for one of Python's words.
    return f"x_{spec.name.replace('-', '_')}"


def _option(spec: Input) -> Option:
    settings: dict[str, Any] = {"metavar": _metavar(spec), "type": _Words(spec.choices)}
    if spec.kind in _LISTS:
        settings["many"] = True
    elif spec.kind == "flag":
        settings |= {"is_flag": False, "flag_value": "yes"}
    return Option(f"--{spec.name}", _variable(spec), **settings)


def _metavar(spec: Input) -> str:
    return _METAVAR.get(spec.kind, spec.kind.upper())


class Calc(Jobs):
    """`fieldassist calc`: the list, and each computation by its name."""

    def __init__(self) -> None:
        super().__init__("calc", params=[json_option(), language_option()], invoke_without_command=True)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the order of the list."""
        return list(CALCULATIONS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The computation of this name."""
        calculation = CALCULATIONS.get(cmd_name)
        return None if calculation is None else Computation(calculation)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The computation that is named. Errors: as `catalog.find_calculation`, with the name that was meant."""
        if args[0] not in CALCULATIONS and not ctx.resilient_parsing:
            try:
                find_calculation(args[0])
            except ValueError as problem:
                terminal_of(ctx).warn(told(problem))
                ctx.exit(MISUSED)
        command = self.get_command(ctx, args[0])
        return (args[0] if command else None), command, args[1:]

    def invoke(self, ctx: click.Context) -> int:
        if ctx._protected_args:
            code: int = super().invoke(ctx)
            return code
        terminal = terminal_of(ctx)
        if ctx.params["as_json"]:
            terminal.json(_list_for_programs(terminal), indent=2)
        else:
            terminal.tell(list_text(terminal))
        return OK

    def format_usage(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """The first line of the page."""
        say = terminal_of(ctx).say
        formatter.write_usage(ctx.command_path, say("calc-usage-list"), f"{say('usage')} ")

    def format_help(self, ctx: click.Context, formatter: HelpFormatter) -> None:
        """What the list is, and how to ask for one."""
        say = terminal_of(ctx).say
        self.format_usage(ctx, formatter)
        with formatter.indentation():
            formatter.write_paragraph()
            formatter.write_text(as_sentence(say("calc")))
        with formatter.section(say("heading-options")):
            formatter.write_dl(self.option_rows(ctx))
        formatter.write_paragraph()
        formatter.write_text(say("calc-more"))

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The names that begin like this, each with what it tells."""
        words = terminal_of(ctx).words
        return [
            CompletionItem(name, help=words(title_of(subject, name)))
            for subject, names in NAMES.items()
            for name in names
            if name.startswith(incomplete)
        ]


def _explained(terminal: Terminal, spec: Input) -> str:
    text = terminal.say("calc-explained", what=spec.told, example=_quoted(spec.example))
    if spec.choices:
        text = terminal.say("calc-one-of", explained=text, choices=Several(spec.choices))
    return text + (f" [{spec.default}]" if spec.default is not None else "")


def _epilog(calculation: Calculation, terminal: Terminal, width: int) -> str:
    def item(text: str) -> list[str]:
        return textwrap.wrap(f"- {text}", width, subsequent_indent="  ", break_on_hyphens=False)

    # A command to copy stays in one piece.
    lines = ["", f"{terminal.say('calc-example')}:", f"  {example_command(calculation)}"]
    lines += [
        "",
        f"{terminal.say('calc-sources')}:",
        *(line for basis in bases_of(calculation) for line in item(terminal.words(basis.told))),
    ]
    if calculation.cautions:
        lines += ["", f"{terminal.say('calc-cautions')}:"]
        lines += [line for caution in calculation.cautions for line in item(terminal.words(caution))]
    return "\n".join([*lines, ""])


def _quoted(text: str) -> str:
    return text if text.replace("-", "").replace(".", "").isalnum() else f'"{text}"'


def example_command(calculation: Calculation) -> str:
    """The worked example as a command to copy.

    >>> print(example_command(CALCULATIONS["din-18202"]))
    fieldassist calc din-18202 --row 3 --span "2 m"
    """
    given = (f"--{name} {_quoted(text)}" for name, text in calculation.example.items())
    return " ".join(["fieldassist calc", calculation.name, *given])


# --- answers ------------------------------------------------------------------------------------------------------


def list_text(terminal: Terminal) -> str:
    """All computations, one line each, grouped by subject."""
    widest = max(map(len, CALCULATIONS))
    lines = []
    for subject, names in NAMES.items():
        lines += [terminal.words(subject_title(subject))]
        lines += [f"  {name:{widest}}  {terminal.words(title_of(subject, name))}" for name in names]
        lines += [""]
    return "\n".join([*lines, terminal.say("calc-how")])


def _list_for_programs(terminal: Terminal) -> list[dict[str, Any]]:
    return [
        {
            "name": calculation.name,
            "subject": calculation.subject,
            "title": terminal.words(calculation.title),
            "inputs": [
                {
                    "name": spec.name,
                    "what": terminal.words(spec.told),
                    "kind": spec.kind,
                    "required": spec.required,
                    "default": spec.default,
                    "choices": list(spec.choices),
                    "example": spec.example,
                }
                for spec in calculation.inputs
            ],
        }
        for calculation in CALCULATIONS.values()
    ]


def plain_text(terminal: Terminal, calculation: Calculation, results: Sequence[Result]) -> str:
    """One line a result, then its basis, then the cautions.

    Where results have different sources, each basis says whose it is.
    """
    words = terminal.words
    shown = [(words(safe(result.label)), words(safe(result.told)), result) for result in results if not result.detail]
    lines = [f"{label}: {text}" for label, text, _ in shown]
    by_basis: dict[str, list[str]] = {}
    for label, _, result in shown:
        by_basis.setdefault(words(safe(result.basis.told)), []).append(label)
    if len(by_basis) == 1:
        lines.append(terminal.say("calc-basis", basis=next(iter(by_basis))))
    else:
        lines += [terminal.say("calc-basis-of", names="; ".join(of), basis=basis) for basis, of in by_basis.items()]
    told = " ".join(text for _, text, _ in shown)
    cautions = (words(caution) for caution in calculation.cautions)
    lines += [terminal.say("calc-caution", caution=caution) for caution in cautions if caution not in told]
    return "\n".join(lines)


def _for_programs(
    terminal: Terminal, calculation: Calculation, given: dict[str, str], results: Sequence[Result]
) -> dict[str, Any]:
    words = terminal.words
    # What was left out is told with the default that was taken for it.
    used = {
        spec.name: given.get(spec.name, spec.default)
        for spec in calculation.inputs
        if spec.name in given or spec.default is not None
    }
    return {
        "calculation": calculation.name,
        "units": words.units,
        "given": used,
        "verdict": verdict_of(results),
        "results": [
            {
                "name": result.name,
                "value": result.value,
                "unit": result.unit,
                "text": words(result.told),
                "basis": words(result.basis.told),
            }
            for result in results
        ],
        "cautions": [words(caution) for caution in calculation.cautions],
    }


job = Calc()
