"""The person at the terminal: in which language things are told, and that nothing told can do the terminal harm."""

from __future__ import annotations

import json
import os
import shutil
import sys
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

if TYPE_CHECKING:
    from fieldassist.language import Words
    from fieldassist.trade.message import Figure, Message
    from fieldassist.trade.quantities import System

LANGUAGE = "FIELDASSIST_LANGUAGE"
"""The variable that names the language, where the option `--language` does not."""


class Terminal:
    """Where a job prints: `tell` on standard output, `warn` on standard error.

    language: a name in `language.LANGUAGES`, or None for the variable's, or else English. Words are loaded when they
    are first needed: `--version` needs none.
    """

    def __init__(self, language: str | None = None) -> None:
        self.language = language

    @cached_property
    def words(self) -> Words:
        """Messages in the person's language. UnknownLanguage when there are no words in it."""
        from fieldassist.language import Words

        return Words(self.language or os.environ.get(LANGUAGE) or "en")

    def say(self, code: str, /, **figures: Figure) -> str:
        """The text of a message of the command line: `code` without its subject "cli"."""
        from fieldassist.trade.message import message

        return self.words(message(f"cli-{code}", **figures))

    def tell(self, told: Message | str, *, indent: int = 0, units: System | None = None) -> None:
        """A message, or a text that is no sentence of ours, on standard output."""
        _print(self._text(told, units), indent, sys.stdout)

    def warn(self, told: Message | str) -> None:
        """The same on standard error."""
        _print(self._text(told, None), 0, sys.stderr)

    def _text(self, told: Message | str, units: System | None) -> str:
        if isinstance(told, str):
            return told
        return (self.words if units is None else self.words.in_units(units))(told)

    def json(self, value: Any, *, indent: int | None = None) -> None:
        """A value for a program, as JSON: letters stand as they are, everything else that acts is escaped."""
        text = json.dumps(value, ensure_ascii=False, indent=indent, allow_nan=False)
        print("".join(c if c.isprintable() or c == "\n" else _escaped(c) for c in text), flush=True)


def _escaped(character: str) -> str:
    return json.dumps(character)[1:-1]


def _print(text: str, indent: int, file: TextIO) -> None:
    for line in text.split("\n"):
        print(f"{'':{indent}}{printable(line)}", file=file, flush=True)


def printable(text: str) -> str:
    """A line that is safe on a terminal, whatever file it came from: what is no letter or sign stands as "?".

    >>> printable("hall\\x1b[2J\\u202e floor")
    'hall?[2J? floor'
    """
    return "".join(c if c.isprintable() else "?" for c in text)


def this_program() -> str:
    """How this program is called from here: by its name where that finds it, or by the path that started it.

    A command to copy has to work where it is read, and a program in a folder of its own is found by its path only.
    """
    started = Path(sys.argv[0])
    found = shutil.which("fieldassist")
    if started.stem != "fieldassist":
        return "fieldassist" if found else f"{_from_here(Path(sys.executable))} -m fieldassist"
    if found and Path(found).resolve() == started.resolve():
        return "fieldassist"
    return _from_here(started)


def _from_here(path: Path) -> str:
    # Not resolved: an interpreter of a virtual environment is a link to another one.
    absolute = Path(os.path.abspath(path))  # noqa: PTH100
    here = Path.cwd()
    return str(absolute.relative_to(here)) if absolute.is_relative_to(here) else str(absolute)
