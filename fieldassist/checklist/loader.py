"""Reads checklist and day-plan files; refuses a wrong one with file, line, field, what is wrong, what is allowed."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist

_Model = TypeVar("_Model", bound=BaseModel)
_MOST_BYTES = 2_000_000


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: where (line 0: the file as a whole), what is wrong, what is allowed."""

    line: int
    field: str
    wrong: str

    def __str__(self) -> str:
        parts = [f"line {self.line}" if self.line else "", self.field, self.wrong]
        return ": ".join(part for part in parts if part)


class WrongFile(Exception):
    """A file that cannot be used. `str()` is fit for the person who wrote it."""

    def __init__(self, path: Path, problems: Sequence[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        lines = "\n".join(f"  {p}" for p in self.problems)
        super().__init__(f"{path} was refused:\n{lines}")


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
        raw = path.read_bytes()
    except FileNotFoundError:
        raise WrongFile(path, [Problem(0, "", "there is no such file")]) from None
    except OSError as error:
        raise WrongFile(path, [Problem(0, "", f"it cannot be read: {error.strerror}")]) from error
    if len(raw) > _MOST_BYTES:
        raise WrongFile(
            path, [Problem(0, "", f"it is larger than {_MOST_BYTES // 1_000_000} MB; that is no checklist")]
        )
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise WrongFile(path, [Problem(line, "", "not UTF-8 text; save the file as UTF-8")]) from error
    # YAML 1.2, where `yes` and `no` are words: here they are what the installer says.
    yaml = YAML(typ="rt")
    try:
        tree = yaml.load(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        what = str(error.problem or error.context or "not YAML").strip()
        raise WrongFile(path, [Problem(mark.line + 1 if mark else 1, "", what)]) from error
    except (YAMLError, ValueError, RecursionError) as error:
        raise WrongFile(path, [Problem(1, "", f"not YAML: {error}")]) from error
    if not isinstance(tree, CommentedMap):
        raise WrongFile(path, [Problem(1, "", "a mapping of fields is expected at the top, such as 'title: ...'")])
    try:
        return model.model_validate(_plain(tree))
    except ValidationError as error:
        raise WrongFile(path, [_problem(tree, model, item) for item in error.errors()]) from error


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


def _problem(tree: CommentedMap, model: type[BaseModel], item: Any) -> Problem:
    loc = [part for part in item["loc"] if isinstance(part, str | int)]
    line, field, holder = _locate(tree, loc)
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
        wrong, line = _own_words(holder, str(context["error"]), line)
    elif kind == "string_pattern_mismatch":
        wrong = f"{given!r} does not fit; allowed: {_PATTERNS.get(context['pattern'], context['pattern'])}"
    else:
        wrong = f"{item['msg'][0].lower()}{item['msg'][1:]}; given: {given!r}"
    return Problem(line, field, wrong)


_PATTERNS = {
    r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$": "lower-case letters and digits joined by hyphens, such as 'wet-area-wall'",
    r"^[A-Za-z]+( [A-Za-z]+){0,5}$": "up to six words of letters, as they are spoken",
    r"^\d{4}-\d{2}-\d{2}$": "a date such as '2026-03-17' (in quotes)",
}


def _own_words(holder: Any, text: str, line: int) -> tuple[str, int]:
    """A message of the schema's own checks names the step or section by id: point at its line, and at the field."""
    named = re.match(r"(?:step|section|clock) '([^']+)'", text)
    if named:
        found = _find_id(holder, named.group(1))
        if found is not None:
            line = found.lc.line + 1
            for field in ("limit", "quantity", "say", "options", "on_fail", "due", "needs"):
                if re.search(rf"\b{field}\b", text) and field in found:
                    line = _line_of(found, field)
                    break
            # Where the message quotes the wrong value itself, point at the line on which it stands.
            quoted = re.search(r"(?:unit|quantity|say|called) '([^']*)'", text)
            line = (quoted and _line_of_value(found, quoted.group(1))) or line
    return text, line


def _find_id(node: Any, wanted: str) -> CommentedMap | None:
    if isinstance(node, CommentedMap):
        if node.get("id") == wanted:
            return node
        for value in node.values():
            found = _find_id(value, wanted)
            if found is not None:
                return found
    elif isinstance(node, CommentedSeq):
        for value in node:
            found = _find_id(value, wanted)
            if found is not None:
                return found
    return None


def _line_of(node: CommentedMap | CommentedSeq, key: str | int) -> int:
    where = node.lc.data.get(key)
    return int(where[0]) + 1 if where else int(node.lc.line) + 1


def _line_of_value(node: Any, wanted: str) -> int | None:
    """The line on which the scalar `wanted` stands below `node`."""
    if isinstance(node, CommentedMap | CommentedSeq):
        pairs: Any = node.items() if isinstance(node, CommentedMap) else enumerate(node)
        for key, value in pairs:
            if value == wanted:
                return _line_of(node, key)
            deeper = _line_of_value(value, wanted)
            if deeper is not None:
                return deeper
    return None


def _locate(tree: CommentedMap, loc: Sequence[str | int]) -> tuple[int, str, Any]:
    """The line of the deepest part of `loc` that the file holds, its name, and the node there."""
    node: Any = tree
    line = 1
    name = ""
    for part in loc:
        name += f"[{part}]" if isinstance(part, int) else f".{part}" if name else str(part)
        if (isinstance(node, CommentedMap) and part in node) or (
            isinstance(node, CommentedSeq) and isinstance(part, int) and part < len(node)
        ):
            line = _line_of(node, part)
            node = node[part]
        elif isinstance(node, CommentedMap | CommentedSeq):
            line = int(node.lc.line) + 1
    return line, name, node


def _fields(model: type[BaseModel], loc: Sequence[str | int]) -> list[str]:
    """The fields allowed at `loc` of a model, followed through lists and optional types."""
    current: Any = model
    for part in loc:
        if isinstance(part, int):
            continue
        if not (isinstance(current, type) and issubclass(current, BaseModel)) or part not in current.model_fields:
            break
        current = _inner_model(current.model_fields[part].annotation) or current
    return list(current.model_fields) if isinstance(current, type) and issubclass(current, BaseModel) else []


def _inner_model(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        found = _inner_model(argument)
        if found is not None:
            return found
    return None
