"""Every code that the program tells has its English, with the figures that it is told with; nothing lies unused.

What the code tells is read off its syntax: the calls that make messages, and the wrappers that put a subject before a
code (`_WRAPPED`).
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor

import fieldassist
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev

PACKAGE = Path(fieldassist.__file__).parent
FILES = sorted((PACKAGE / "language" / "en").glob("*.ftl"))
# What makes a message: the name of the function, or of the method.
MAKERS = {"message", "Message", "refusal", "nothing"}
# Functions of a room whose first argument is a code without its subject.
_WRAPPED = {
    ("cli", "say"): "cli-",
    ("cli", "Misuse"): "cli-",
    ("cli", "tell"): "cli-",
    ("checklist", "add"): "file-",
    ("checklist", "refused"): "file-",
}
HOLE = "\0"
_CODE = re.compile(rf"[a-z0-9{HOLE}]+(-[a-z0-9{HOLE}]+)*")
# Words and holes joined by hyphens: no two holes that touch, and of holes alone no more than two.
_JOINED = re.compile(rf"(?!{HOLE}-{HOLE}-{HOLE})(?:[a-z0-9]+|{HOLE})(?:-(?:[a-z0-9]+|{HOLE}))+")
# Figures that a message carries for a program: its English names them by another one.
_FOR_PROGRAMS = {("open-failure", "failure")}


@dataclass
class Entry:
    """A message of a language file and the figures that it asks for."""

    code: str
    file: str
    figures: set[str] = field(default_factory=set)


class _Figures(Visitor):
    def __init__(self) -> None:
        self.found: set[str] = set()

    def visit_VariableReference(self, node: ftl.VariableReference) -> None:  # noqa: N802 - the visitor's own name
        self.found.add(node.id.name)


@cache
def entries() -> dict[str, Entry]:
    found: dict[str, Entry] = {}
    for file in FILES:
        for entry in FluentParser().parse(file.read_text(encoding="utf-8")).body:
            if isinstance(entry, ftl.Message):
                visitor = _Figures()
                visitor.visit(entry)
                assert entry.id.name not in found, f"{entry.id.name} stands twice"
                found[entry.id.name] = Entry(entry.id.name, file.name, visitor.found)
    return found


def members(union: Any) -> tuple[Any, ...]:
    """The models of a closed union."""
    return get_args(get_args(union)[0])


@dataclass(frozen=True)
class Told:
    """A call that tells something. code: with HOLE where a part is worked out; figures: None where those are too."""

    code: str
    figures: frozenset[str] | None
    where: str


@cache
def sources() -> dict[str, ast.Module]:
    return {
        str(path.relative_to(PACKAGE)): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(PACKAGE.rglob("*.py"))
    }


def _text(node: ast.expr) -> str | None:
    """A constant, or an f-string with holes; None for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(str(p.value) if isinstance(p, ast.Constant) else HOLE for p in node.values)
    return None


def _name(node: ast.Call) -> str:
    function = node.func
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


@cache
def told() -> tuple[Told, ...]:
    """Every call that makes a message."""
    found = []
    for file, tree in sources().items():
        room = file.split("/")[0]
        if file == "trade/message.py":
            continue  # where messages are made of what others give
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call) or not node.args:
                continue
            name = _name(node)
            before = "" if name in MAKERS or name == "term" else _WRAPPED.get((room, name))
            code = _text(node.args[0])
            if before is None or code is None or not _CODE.fullmatch(code):
                continue
            code = f"{before}{code}" + (f"-{HOLE}" if name == "term" else "")
            found.append(Told(code, _figures(node, name), f"{file}:{node.lineno}"))
    return tuple(found)


def _figures(node: ast.Call, name: str) -> frozenset[str] | None:
    if name in ("message", "refusal", "nothing") and len(node.args) == 1:
        names = [keyword.arg for keyword in node.keywords]
        return None if None in names else frozenset(str(n).replace("_", "-") for n in names)
    if name == "Message" and len(node.args) == 1:
        return frozenset()
    return None


def matching(code: str) -> list[Entry]:
    """The entries of a code, with anything in its holes."""
    pattern = re.compile("[a-z0-9-]+".join(re.escape(part) for part in code.split(HOLE)))
    return [entry for entry in entries().values() if pattern.fullmatch(entry.code)]


def test_there_is_something_to_look_at() -> None:
    assert len(told()) > 500
    assert len(entries()) > 800


@pytest.mark.parametrize("file", FILES, ids=lambda path: path.stem)
def test_a_language_file_is_read_whole_and_its_codes_begin_with_its_subject(file: Path) -> None:
    body = FluentParser().parse(file.read_text(encoding="utf-8")).body
    assert not [entry.content for entry in body if isinstance(entry, ftl.Junk)]
    codes = [entry.id.name for entry in body if isinstance(entry, ftl.Message)]
    assert codes
    assert not [code for code in codes if code.split("-")[0] != file.stem]


def test_every_code_that_is_told_has_its_english() -> None:
    missing = [f"{one.where}: {one.code.replace(HOLE, '…')}" for one in told() if not matching(one.code)]
    assert not missing, "\n".join(missing)


# Nothing of these is refused: they open the day, ask, and let time pass.
_NEVER_REFUSED = (cmd.OpenDay, cmd.Ask, cmd.Tick)


@pytest.mark.parametrize("event", [str(kind.model_fields["type"].default) for kind in members(ev.Body)])
def test_every_event_has_its_line_in_a_list(event: str) -> None:
    assert f"events-{event.replace(' ', '-')}" in entries()


@pytest.mark.parametrize(
    "command",
    [str(kind.model_fields["do"].default) for kind in members(cmd.Command) if kind not in _NEVER_REFUSED],
)
def test_every_command_that_can_be_refused_is_told_in_the_record(command: str) -> None:
    assert f"day-attempt-{command.replace(' ', '-')}" in entries()


def test_a_message_is_told_with_the_figures_that_its_english_asks_for() -> None:
    wrong = []
    for one in told():
        if one.figures is None or HOLE in one.code:
            continue
        entry = next(iter(matching(one.code)), Entry(one.code, ""))
        pairs = {f"{name}-{end}" for name in one.figures for end in ("read", "limit")}
        lacking = entry.figures - one.figures - pairs
        asked = entry.figures | {figure.removesuffix("-read").removesuffix("-limit") for figure in entry.figures}
        idle = {name for name in one.figures - asked if (one.code, name) not in _FOR_PROGRAMS}
        if lacking or idle:
            wrong.append(f"{one.where}: {one.code} lacks {sorted(lacking)}, has no use for {sorted(idle)}")
    assert not wrong, "\n".join(wrong)


# --- what is used -------------------------------------------------------------------------------------------------


def _part(text: str) -> str:
    """A text as a part of a code is written."""
    return re.sub(r"[ _,()]+", "-", text.lower()).strip("-")


def _words(tree: ast.Module) -> Iterator[str]:
    """Every constant and every name of a file, as a part of a code is written."""
    for node in ast.walk(tree):
        given = None
        if isinstance(node, ast.Constant) and isinstance(node.value, str | int):
            given = str(node.value)
        elif isinstance(node, ast.Name):
            given = node.id
        elif isinstance(node, ast.Attribute):
            given = node.attr
        elif isinstance(node, ast.FunctionDef):
            given = node.name
        elif isinstance(node, ast.arg | ast.keyword):
            given = node.arg
        if given:
            yield _part(given)


@cache
def known_words() -> frozenset[str]:
    return frozenset(word for tree in sources().values() for word in _words(tree))


Around = tuple[str, ...]


@cache
def codes_with_holes() -> frozenset[Around]:
    """What stands around the holes of every code that is told, or that is made for telling later."""
    made = {around for around in parts_with_holes() if any(re.search("[a-z]{2}", part) for part in around)}
    return frozenset(tuple(one.code.split(HOLE)) for one in told() if HOLE in one.code) | made


@cache
def parts_with_holes() -> frozenset[Around]:
    """The same of every other f-string that could be a part of a code."""
    joined = (node for tree in sources().values() for node in ast.walk(tree) if isinstance(node, ast.JoinedStr))
    texts = {_part(text) for node in joined if (text := _text(node))}
    return frozenset(tuple(text.split(HOLE)) for text in texts if _JOINED.fullmatch(text))


def ways(code: str, around: Around) -> Iterator[Around]:
    """Every way in which a code fills the holes of a pattern."""
    first, *rest = around
    if not code.startswith(first):
        return
    left = code[len(first) :]
    if not rest:
        if not left:
            yield ()
        return
    for end in range(1, len(left) + 1):
        yield from ((left[:end], *others) for others in ways(left[end:], tuple(rest)))


def used(code: str, patterns: frozenset[Around] | None = None) -> bool:
    """Whether the program can come to a code: it is written out, or made of words and parts that are."""
    code = code.lower().strip("-")
    if code in known_words():
        return True
    if patterns is not None:
        return any(all(part.strip("-") in known_words() for part in parts) for a in patterns for parts in ways(code, a))
    every_way = (parts for around in codes_with_holes() for parts in ways(code, around))
    return any(all(used(part, parts_with_holes()) for part in parts) for parts in every_way)


def test_every_message_is_told_somewhere() -> None:
    idle = [f"{entry.file}: {entry.code}" for entry in entries().values() if not used(entry.code)]
    assert not idle, "\n".join(idle)


def test_a_message_that_nobody_tells_would_be_found() -> None:
    assert used("engine-chosen")
    assert not used("engine-never-told-by-anybody")
    assert not used("cli-never-told-by-anybody")
