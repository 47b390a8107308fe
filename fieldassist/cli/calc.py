"""`fieldassist calc`: every computation of the trade from the command line, in words or as JSON.

A thin skin over `fieldassist.trade.catalog`: it lists, explains, asks and prints, and computes nothing.
"""

from __future__ import annotations

import argparse
import difflib
import json
import shutil
import sys
import textwrap
from collections.abc import Sequence
from typing import Any, NoReturn

from fieldassist.trade.catalog import (
    CALCULATIONS,
    SUBJECTS,
    Calculation,
    Input,
    Result,
    evaluate,
    find_calculation,
    system_of,
    verdict_of,
)
from fieldassist.trade.quantities import System

OK, FAILED, MISUSED = 0, 1, 2

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


class _Misused(Exception):
    """The command line cannot be read; the message says what to write."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise _Misused(message)


class _Help(argparse.HelpFormatter):
    """Keeps paragraphs of description and epilog, each wrapped, and gives the options room."""

    def __init__(self, prog: str) -> None:
        width = min(100, shutil.get_terminal_size().columns - 2)
        super().__init__(prog, max_help_position=28, width=max(60, width))

    def _split_lines(self, text: str, width: int) -> list[str]:
        return textwrap.wrap(" ".join(text.split()), width, break_on_hyphens=False)

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        lines = []
        for line in text.splitlines():
            if line.startswith("  "):
                # A command to copy stays in one piece.
                lines.append(line)
                continue
            hanging = "  " if line.startswith("- ") else ""
            lines += textwrap.wrap(line, width, subsequent_indent=hanging, break_on_hyphens=False) or [""]
        return "\n".join(indent + line for line in lines)


def add_parser(jobs: Any) -> argparse.ArgumentParser:
    """Add the job `calc` to a command line.

    Parameters: jobs, what `ArgumentParser.add_subparsers` gave. Result: the parser added; its `run` takes the parsed
    options and returns 0 (done), 1 (done, and a verdict was no) or 2 (could not be tried: the reason is on standard
    error).
    """
    parser: argparse.ArgumentParser = jobs.add_parser(
        "calc",
        help="one computation of the trade by name; without a name, the list",
        description="Computations of the trade: notch and bed, coverage, mortar, times, flatness, lifting, dust, "
        "sampling. Each result names its source.",
        epilog="`fieldassist calc` lists the names; `fieldassist calc NAME --help` says what one tells and needs. Exit "
        "code 0: done; 1: done, and the verdict is not passed; 2: it could not be tried.",
    )
    parser.add_argument("--json", action="store_true", help="the list as JSON")
    parser.add_argument("name", nargs="?", metavar="NAME", help="a name from the list")
    parser.add_argument("rest", nargs=argparse.REMAINDER, metavar="...", help="what that computation asks for")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Do what the options of `add_parser` ask. Result: exit code 0, 1 or 2."""
    if options.name is None:
        print(_list_json() if options.json else list_text())
        return OK
    arguments = [*options.rest, *(["--json"] if options.json else [])]
    try:
        calculation = find_calculation(options.name)
        return _run_one(calculation, arguments)
    except _Misused as problem:
        print(f"{options.name}: {problem}.", file=sys.stderr)
        print(f"For example: {example_command(CALCULATIONS[options.name])}", file=sys.stderr)
        return MISUSED
    except ValueError as problem:
        print(problem, file=sys.stderr)
        return MISUSED


def _run_one(calculation: Calculation, arguments: Sequence[str]) -> int:
    parser = calculation_parser(calculation)
    try:
        # argparse leaves after printing help; here the exit code is returned, as everywhere else.
        options, strange = parser.parse_known_args(arguments)
    except SystemExit:
        return OK
    if strange:
        known = [f"--{spec.name}" for spec in calculation.inputs]
        near = difflib.get_close_matches(strange[0], known, n=1)
        hint = f"did you mean {near[0]}? " if near else ""
        raise _Misused(f"does not know {strange[0]!r}; {hint}It takes {', '.join(known)}, --units and --json")
    given = {}
    for spec in calculation.inputs:
        text = getattr(options, spec.name)
        if text is not None:
            given[spec.name] = "; ".join(text) if isinstance(text, list) else text
    missing = [spec for spec in calculation.inputs if spec.required and spec.name not in given]
    if missing:
        raise _Misused("needs " + " and ".join(f"--{spec.name} ({spec.what})" for spec in missing))
    system: System = options.units or system_of(calculation.name, given)
    results = evaluate(calculation.name, given, system=system)
    print(_json_text(calculation, given, results, system) if options.json else plain_text(calculation, results))
    return OK if verdict_of(results) in ("passed", None) else FAILED


# --- help ---------------------------------------------------------------------------------------------------------


def calculation_parser(calculation: Calculation) -> argparse.ArgumentParser:
    """The command line of one computation: one option an input, in plain words."""
    parser = _Parser(
        prog=f"fieldassist calc {calculation.name}",
        usage=f"fieldassist calc {calculation.name} [what it needs] [--units metric|us] [--json]",
        description=f"{calculation.title[0].upper()}{calculation.title[1:]}.\n{calculation.summary}",
        epilog=_epilog(calculation),
        formatter_class=_Help,
        add_help=False,
        allow_abbrev=False,
    )
    needed = parser.add_argument_group("what it needs")
    possible = parser.add_argument_group("what may be given besides")
    for spec in calculation.inputs:
        group = needed if spec.required else possible
        options: dict[str, Any] = {
            "dest": spec.name,
            "metavar": _METAVAR.get(spec.kind, spec.kind.upper()),
            "help": _explained(spec).replace("%", "%%"),
        }
        if spec.kind in _LISTS:
            options["nargs"] = "+"
        elif spec.kind == "flag":
            options |= {"nargs": "?", "const": "yes"}
        group.add_argument(f"--{spec.name}", **options)
    shown = parser.add_argument_group("how it answers")
    shown.add_argument("--units", choices=["metric", "us"], metavar="metric|us", help="[those of what you give]")
    shown.add_argument("--json", action="store_true", help="numbers with units, and the same sources, for a program")
    shown.add_argument("--help", "-h", action="help", help="this page")
    return parser


def _explained(spec: Input) -> str:
    text = f"{spec.what}. For example: {_quoted(spec.example)}"
    if spec.choices:
        text += f". One of: {', '.join(spec.choices)}"
    return text + (f" [{spec.default}]" if spec.default is not None else "")


def _epilog(calculation: Calculation) -> str:
    lines = ["For example:", f"  {example_command(calculation)}", "", "Where the figures come from:"]
    lines += [f"- {basis}" for basis in calculation.bases]
    if calculation.cautions:
        lines += ["", "Caution:", *(f"- {caution}" for caution in calculation.cautions)]
    return "\n".join(lines)


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


def list_text() -> str:
    """All computations, one line each, grouped by subject."""
    widest = max(map(len, CALCULATIONS))
    lines = []
    for subject in SUBJECTS:
        lines += [subject]
        lines += [
            f"  {calculation.name:{widest}}  {calculation.title}"
            for calculation in CALCULATIONS.values()
            if calculation.subject == subject
        ]
        lines += [""]
    return "\n".join([*lines, "`fieldassist calc NAME --help` says what one tells, what it needs and its sources."])


def _list_json() -> str:
    return json.dumps(
        [
            {
                "name": calculation.name,
                "subject": calculation.subject,
                "title": calculation.title,
                "inputs": [
                    {
                        "name": spec.name,
                        "what": spec.what,
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
        ],
        ensure_ascii=False,
        indent=2,
    )


def plain_text(calculation: Calculation, results: Sequence[Result]) -> str:
    """One line a result, then its basis, then the cautions.

    Where results have different sources, each basis says whose it is.
    """
    shown = [result for result in results if not result.detail]
    lines = [f"{result.name}: {result.text}" for result in shown]
    by_basis: dict[str, list[str]] = {}
    for result in shown:
        by_basis.setdefault(str(result.basis), []).append(result.name)
    if len(by_basis) == 1:
        lines.append(f"Basis: {next(iter(by_basis))}")
    else:
        lines += [f"Basis of {'; '.join(names)}: {basis}" for basis, names in by_basis.items()]
    told = " ".join(result.text for result in shown)
    lines += [f"Caution: {caution}" for caution in calculation.cautions if caution not in told]
    return "\n".join(lines)


def _json_text(calculation: Calculation, given: dict[str, str], results: Sequence[Result], system: System) -> str:
    # What was left out is told with the default that was taken for it.
    used = {
        spec.name: given.get(spec.name, spec.default)
        for spec in calculation.inputs
        if spec.name in given or spec.default is not None
    }
    return json.dumps(
        {
            "calculation": calculation.name,
            "units": system,
            "given": used,
            "verdict": verdict_of(results),
            "results": [
                {
                    "name": result.name,
                    "value": result.value,
                    "unit": result.unit,
                    "text": result.text,
                    "basis": str(result.basis),
                }
                for result in results
            ],
            "cautions": list(calculation.cautions),
        },
        ensure_ascii=False,
        indent=2,
        allow_nan=False,
    )
