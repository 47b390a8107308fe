"""The person at the terminal: in which language things are told, and that nothing told can do the terminal harm."""

from __future__ import annotations

import json
import os
import shutil
import sys
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from fieldassist.printable import printable

if TYPE_CHECKING:
    from fieldassist.language import Words
    from fieldassist.trade.message import Figure

LANGUAGE = "FIELDASSIST_LANGUAGE"
"""The variable that names the language, where the option `--language` does not."""


class Terminal:
    """Where a job prints: `tell` on standard output, `warn` on standard error.

    language: a name in `language.LANGUAGES`, or None for the variable's, or else English; English too where the
    variable names one without words. Words are loaded when they are first needed: `--version` needs none.
    """

    def __init__(self, language: str | None = None) -> None:
        self.language = language

    @cached_property
    def words(self) -> Words:
        """Messages in the person's language."""
        from fieldassist.language import LANGUAGES, Words

        wanted = self.language or os.environ.get(LANGUAGE, "")
        return Words(wanted if wanted in LANGUAGES else "en")

    def using(self, words: Words) -> Terminal:
        """The same person, told in these words: those of a day, in its units."""
        other = Terminal(words.language)
        other.__dict__["words"] = words
        return other

    def say(self, code: str, /, **figures: Figure) -> str:
        """The text of a message of the command line: `code` without its subject "cli"."""
        from fieldassist.trade.message import message

        return self.words(safe(message(f"cli-{code}", **figures)))

    def tell(self, told: Figure, *, indent: int = 0) -> None:
        """A message, or text of several lines that was made printable part by part, on standard output."""
        _print(self._text(told), indent, sys.stdout)

    def warn(self, told: Figure) -> None:
        """The same on standard error."""
        _print(self._text(told), 0, sys.stderr)

    def _text(self, told: Figure) -> str:
        return told if isinstance(told, str) else self.words(safe(told))

    def json(self, value: Any, *, indent: int | None = None) -> None:
        """A value for a program, as JSON: letters stand as they are, everything else that acts is escaped."""
        text = json.dumps(value, ensure_ascii=False, indent=indent, allow_nan=False)
        print("".join(c if c.isprintable() or c == "\n" else json.dumps(c)[1:-1] for c in text), flush=True)


def safe(told: Figure) -> Figure:
    """The same, with nothing in it that could act on a terminal or begin a line of its own, whatever file it is from.

    >>> from fieldassist.trade.message import message
    >>> print(safe(message("cli-level-dead", name="hall" + chr(10) + "9 events, all good")))
    cli-level-dead(name=hall\\n9 events, all good)
    """
    from fieldassist.trade.message import Message, Several, Text

    match told:
        case str():
            return printable(told)
        case Message():
            return Message(told.code, {name: safe(figure) for name, figure in told.figures.items()})
        case Several():
            return Several(tuple(safe(item) for item in told.items), told.link)
        case Text():
            return Text(tuple((language, printable(words)) for language, words in told.by_language))
        case _:
            return told


def _print(text: str, indent: int, file: TextIO) -> None:
    for line in printable(text, lines=True).split("\n"):
        print(f"{'':{indent}}{line}", file=file, flush=True)


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
