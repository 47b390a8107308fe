"""Reads checklist and day-plan files; refuses a wrong one with file, line, field, what is wrong, what is allowed."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.composer import Composer
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, SequenceNode

from fieldassist.checklist import faults
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.files import UnfitFile, read_regular
from fieldassist.printable import printable

_Model = TypeVar("_Model", bound=BaseModel)
# The largest file of ours is 22 kB and holds some 3,000 values; reading 20,000 takes seconds on a tablet.
_MOST_BYTES = 250_000
_MOST_VALUES = 20_000
# Fields by which a file is known for what it is.
_MARKS: dict[type[BaseModel], tuple[set[str], str]] = {
    Checklist: ({"sections"}, "checklist"),
    DayPlan: ({"site", "areas"}, "plan of a day"),
}


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: where (line 0: the file as a whole), what is wrong, what is allowed."""

    line: int
    field: str
    wrong: str

    def __str__(self) -> str:
        parts = [f"line {self.line}" if self.line else "", self.field, self.wrong]
        return ": ".join(printable(part) for part in parts if part)


class WrongFile(Exception):
    """A file that cannot be used. `str()` is fit for the person who wrote it."""

    def __init__(self, path: Path, problems: Sequence[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        lines = "\n".join(f"  {p}" for p in self.problems)
        super().__init__(f"{printable(path)} was refused:\n{lines}")


def load_checklist(path: Path) -> Checklist:
    """A checklist file. WrongFile when it does not hold one."""
    return load_file(path, Checklist)


def load_plan(path: Path) -> DayPlan:
    """A day-plan file. WrongFile when it does not hold one."""
    return load_file(path, DayPlan)


def load_folder(folder: Path) -> tuple[dict[str, Checklist], list[WrongFile]]:
    """Every *.yaml of a folder: the good ones by id, and the refusals. One wrong file never hides the others."""
    good: dict[str, Checklist] = {}
    came_from: dict[str, Path] = {}
    refused: list[WrongFile] = []
    for path in sorted(folder.glob("*.yaml")):
        try:
            checklist = load_checklist(path)
        except WrongFile as wrong:
            refused.append(wrong)
            continue
        if checklist.checklist in good:
            other = came_from[checklist.checklist].name
            problem = Problem(1, "checklist", f"{checklist.checklist!r} is taken by {other}; give this file its own id")
            refused.append(WrongFile(path, [problem]))
            continue
        good[checklist.checklist] = checklist
        came_from[checklist.checklist] = path
    return good, refused


def load_file(path: Path, model: type[_Model]) -> _Model:
    """Any YAML file of ours as its model. WrongFile when it does not hold one."""
    try:
        raw = read_regular(path, _MOST_BYTES)
    except UnfitFile as unfit:
        raise WrongFile(path, [Problem(0, "", str(unfit))]) from unfit
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise WrongFile(path, [Problem(line, "", "not UTF-8 text; save the file as UTF-8")]) from error
    try:
        tree = _tree(text)
    except MarkedYAMLError as error:
        raise WrongFile(path, [_yaml_problem(error)]) from error
    except RecursionError as error:
        raise WrongFile(path, [Problem(1, "", "lists stand in lists too deep to be read")]) from error
    except (YAMLError, ValueError) as error:
        line = text.count("\n", 0, getattr(error, "position", None) or 0) + 1
        raise WrongFile(path, [Problem(line, "", "a character stands here that no text holds")]) from error
    if not isinstance(tree, CommentedMap):
        raise WrongFile(path, [Problem(1, "", "a mapping of fields is expected at the top, such as 'title: ...'")])
    for other, (marks, name) in _MARKS.items():
        if other is not model and model in _MARKS and marks <= set(tree) and not _MARKS[model][0] <= set(tree):
            raise WrongFile(path, [Problem(1, "", f"this is a {name}; a {_MARKS[model][1]} is expected")])
    try:
        return model.model_validate(_plain(tree))
    except ValidationError as error:
        problems = [problem for item in error.errors() for problem in _problems(tree, model, item)]
        raise WrongFile(path, problems) from error


class _BoundedComposer(Composer):
    """Stops at a file of more values than any checklist has, before they fill the memory."""

    def __init__(self, loader: Any = None) -> None:
        super().__init__(loader=loader)
        self.warn_double_anchors = False  # an anchor that stands twice is allowed in YAML 1.2, and its last one counts
        self.count = 0

    def compose_node(self, parent: Any, index: Any) -> Any:
        self.count += 1
        if self.count > _MOST_VALUES:
            raise _TooMuch(problem_mark=self.loader.parser.peek_event().start_mark)
        return super().compose_node(parent, index)


class _TooMuch(MarkedYAMLError):
    """More values than are read, as they stand or once the aliases stand for what they name."""


def _tree(text: str) -> Any:
    """The values of a YAML text with their lines. YAMLError, ValueError or RecursionError where it is none."""
    # YAML 1.2, where `yes` and `no` are words: here they are what the installer says.
    yaml = YAML(typ="rt")
    yaml.Composer = _BoundedComposer
    constructor, parser = yaml.get_constructor_parser(text)
    try:
        root = constructor.composer.get_single_node()
        if root is None:
            return None
        # Before any alias is followed: seven lines of aliases to aliases can stand for a million million values.
        _count(root, {})
        return constructor.construct_document(root)
    finally:
        parser.dispose()


def _count(node: Node, known: dict[int, int]) -> int:
    """How many values a node stands for, every alias counted as often as it stands. _TooMuch above `_MOST_VALUES`."""
    if id(node) in known:
        return known[id(node)]
    known[id(node)] = _MOST_VALUES  # met again below itself, a node has no end
    total = 1
    if isinstance(node, MappingNode):
        total += sum(_count(key, known) + _count(value, known) for key, value in node.value)
    elif isinstance(node, SequenceNode):
        total += sum(_count(value, known) for value in node.value)
    if total > _MOST_VALUES:
        raise _TooMuch(problem_mark=node.start_mark)
    known[id(node)] = total
    return total


# What the parser of YAML says, and what it means to who wrote the file. The parser gives no codes, only these texts;
# the tests hold each of them.
_YAML_MISTAKES = (
    (r"found character '\\t'", "a tab stands here; lines are moved in with spaces"),
    (r"found character '(.)'", "text that begins with {0} must stand in quotes: '{0}'"),
    (
        r"expected <block end>, but found '(?:<block (?:sequence|mapping) start>|\?|-)'",
        "this line is moved in by other than the lines of its list; put it in the same column as they are",
    ),
    (r"expected <block end>", "text goes on after a closing quote; write '' for an apostrophe in single quotes"),
    (r"mapping values are not allowed", "a second colon, or a line moved in too far; text with a colon needs quotes"),
    (r"sequence entries are not allowed", "a dash stands after a colon; a list begins on a line of its own"),
    (r"could not find expected ':'", "this line lacks its colon: write 'field: value'"),
    (r"expected ',' or '([\]}])'", "a list or mapping in brackets is not closed: {0} is missing before this"),
    (r"expected the node content, but found '(.)'", "text that begins with {0} must stand in quotes: '{0}'"),
    (r"found unexpected end of stream", "a quotation mark that is opened here is never closed"),
    (r"found undefined alias '(.*)'", "*{0} names nothing; text that begins with * must stand in quotes"),
    (r"found duplicate key \"(.*?)\" with", "the field {0!r} stands twice"),
    (r"but found another document", "a second document begins here; a file holds one"),
    (r"found unknown escape character '(.)'", "\\{0} means nothing in double quotes; use single quotes"),
)


def _yaml_problem(error: MarkedYAMLError) -> Problem:
    mark, context = error.problem_mark, error.context_mark
    line = mark.line + 1 if mark else context.line + 1 if context else 1
    if isinstance(error, _TooMuch):
        return Problem(line, "", f"more than {_MOST_VALUES:,} values, aliases counted as often as they stand")
    said = str(error.problem or error.context or "")
    for pattern, words in _YAML_MISTAKES:
        found = re.search(pattern, said)
        if found:
            # Two are found out only later than where they stand.
            if context is not None and words.startswith(("this line lacks", "a quotation")):
                line = context.line + 1
            return Problem(line, "", words.format(*found.groups()))
    return Problem(line, "", f"this is not YAML: {said}")


def _plain(node: Any) -> Any:
    if isinstance(node, dict):
        return {str(k): _plain(v) for k, v in node.items()}
    if isinstance(node, list):
        return tuple(_plain(v) for v in node)
    if isinstance(node, str):
        return str(node)
    if isinstance(node, bool) or node is None:
        return node
    if isinstance(node, int):
        return int(node)
    if isinstance(node, float):
        return float(node)
    return str(node)


def _problems(tree: CommentedMap, model: type[BaseModel], item: Any) -> list[Problem]:
    """An error of pydantic as the mistakes it tells of: our own checks tell several at once."""
    loc = [part for part in item["loc"] if isinstance(part, str | int)]
    if item["type"] == faults.KIND:
        return [
            Problem(*_locate(tree, [*loc, *fault.at]), faults.in_words(fault)) for fault in item["ctx"][faults.KIND]
        ]
    line, field = _locate(tree, loc)
    kind, context = item["type"], item.get("ctx", {})
    given = item.get("input")
    if kind == "extra_forbidden":
        wrong = f"no field is called {loc[-1]!r}; allowed: {', '.join(_fields(model, loc[:-1]))}"
        near = difflib.get_close_matches(str(loc[-1]), _fields(model, loc[:-1]), 1)
        wrong += f" (did you mean {near[0]!r}?)" if near else ""
    elif kind == "missing":
        wrong = "this field is missing"
    elif kind in ("literal_error", "enum"):
        wrong = f"{given!r} is not allowed; allowed: {context['expected'].replace(' or ', ', ')}"
    elif kind == "value_error":
        wrong = str(context["error"])
    elif kind == "string_pattern_mismatch":
        wrong = f"{given!r} does not fit; allowed: {_PATTERNS.get(context['pattern'], context['pattern'])}"
    else:
        wrong = f"{item['msg'][0].lower()}{item['msg'][1:]}; given: {given!r}"
    return [Problem(line, field, wrong)]


_PATTERNS = {
    r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$": "lower-case letters and digits joined by hyphens, such as 'wet-area-wall'",
    r"^[A-Za-z']+( [A-Za-z']+){0,5}$": "up to six words of letters a to z, as they are spoken",
    r"^\d{4}-\d{2}-\d{2}$": "a date such as '2026-03-17' (in quotes)",
}


def _line_of(node: CommentedMap | CommentedSeq, key: str | int) -> int:
    where = node.lc.data.get(key)
    return int(where[0]) + 1 if where else int(node.lc.line) + 1


def _locate(tree: CommentedMap, loc: Sequence[str | int]) -> tuple[int, str]:
    """The line of the deepest part of `loc` that the file holds, and its name."""
    node: Any = tree
    line = 1
    name = ""
    for index, part in enumerate(loc):
        held = (isinstance(node, CommentedMap) and part in node) or (
            isinstance(node, CommentedSeq) and isinstance(part, int) and part < len(node)
        )
        if not held and index < len(loc) - 1:
            continue  # the kind by which pydantic chose among several models: it stands in no file
        name += f"[{part}]" if isinstance(part, int) else f".{part}" if name else str(part)
        if held:
            line = _line_of(node, part)
            node = node[part]
        elif isinstance(node, CommentedMap | CommentedSeq):
            line = int(node.lc.line) + 1
    return line, name


def _fields(model: type[BaseModel], loc: Sequence[str | int]) -> list[str]:
    """The fields allowed at `loc` of a model, followed through lists, optional types and a choice among models."""
    models = [model]
    for part in loc:
        if isinstance(part, int):
            continue
        inner = [m for each in models if part in each.model_fields for m in _models(each.model_fields[part].annotation)]
        chosen = [m for m in models if any(part in get_args(f.annotation) for f in m.model_fields.values())]
        models = inner or chosen or models
    return list(dict.fromkeys(name for each in models for name in each.model_fields))


def _models(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [found for argument in get_args(annotation) for found in _models(argument)]
