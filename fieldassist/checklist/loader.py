"""Reads checklist and day-plan files; refuses a wrong one with file, line, field, what is wrong, what is allowed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.composer import Composer
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from fieldassist.checklist.faults import FROM_A_FILE, told
from fieldassist.checklist.mistakes import mistakes
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.files import UnfitFile, read_regular
from fieldassist.printable import printable
from fieldassist.trade.message import Figure, Message, Refused, Several, message

_Model = TypeVar("_Model", bound=BaseModel)
# The largest file of ours is 22 kB and holds some 3,000 values; reading 20,000 takes seconds on a tablet.
_MOST_BYTES = 250_000
_MOST_VALUES = 20_000
# Fields by which a file is known for what it is.
_MARKS: dict[type[BaseModel], tuple[set[str], str]] = {
    Checklist: ({"sections"}, "is-checklist"),
    DayPlan: ({"site", "areas"}, "is-plan"),
}


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: where (line 0: the file as a whole; field "": the line as a whole), and what is wrong."""

    line: int
    field: str
    wrong: Figure

    @property
    def told(self) -> Message:
        """The mistake with its place."""
        if not self.line:
            return message("file-at-file", wrong=self.wrong)
        # Only a figure that is text is told as it stands: a line has no thousands to be set apart.
        line = str(self.line)
        if not self.field:
            return message("file-at-line", line=line, wrong=self.wrong)
        return message("file-at-field", line=line, field=printable(self.field), wrong=self.wrong)

    @property
    def code(self) -> str:
        """The code of what is wrong, without "file-": that of the first message, "" where there is none."""
        first = self.wrong.items[0] if isinstance(self.wrong, Several) else self.wrong
        return first.code.removeprefix("file-") if isinstance(first, Message) else ""


class WrongFile(Refused):
    """A file that cannot be used. `told` is fit for the person who wrote it."""

    def __init__(self, path: Path, problems: Sequence[Problem]) -> None:
        self.path = path
        self.problems = tuple(problems)
        lines = Several(tuple(problem.told for problem in self.problems), "lines")
        super().__init__(message("file-refused", path=printable(path), problems=lines))

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), (self.path, self.problems)


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
            taken = told("id-taken", given=checklist.checklist, other=other)
            refused.append(WrongFile(path, [Problem(1, "checklist", taken)]))
            continue
        good[checklist.checklist] = checklist
        came_from[checklist.checklist] = path
    return good, refused


def load_file(path: Path, model: type[_Model]) -> _Model:
    """Any YAML file of ours as its model. WrongFile when it does not hold one."""
    try:
        raw = read_regular(path, _MOST_BYTES)
    except UnfitFile as unfit:
        wrong = told(unfit.code.removeprefix("file-"), why=unfit.why, most=_MOST_BYTES // 1000)
        raise WrongFile(path, [Problem(0, "", wrong)]) from unfit
    try:
        read = _read(raw, model)
    except _Mistakes as wrong:
        raise WrongFile(path, wrong.problems) from wrong
    assert isinstance(read, model)
    return read


class _Mistakes(Exception):
    """What is wrong with a file, wherever it lies."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__(problems)
        self.problems = problems


# What is read never changes, and to read a checklist takes half a second: the same bytes are read once.
@lru_cache(maxsize=16)
def _read(raw: bytes, model: type[BaseModel]) -> BaseModel:
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _Mistakes([Problem(line, "", told("not-utf8"))]) from error
    try:
        tree = _tree(text)
    except MarkedYAMLError as error:
        raise _Mistakes([_yaml_problem(error)]) from error
    except RecursionError as error:
        raise _Mistakes([Problem(1, "", told("too-deep"))]) from error
    except (YAMLError, ValueError) as error:
        line = text.count("\n", 0, getattr(error, "position", None) or 0) + 1
        raise _Mistakes([Problem(line, "", told("odd-character"))]) from error
    if not isinstance(tree, CommentedMap):
        raise _Mistakes([Problem(1, "", told("no-fields"))])
    for other, (marks, code) in _MARKS.items():
        if other is not model and model in _MARKS and marks <= set(tree) and not _MARKS[model][0] <= set(tree):
            raise _Mistakes([Problem(1, "", told(code))])
    try:
        return model.model_validate(_plain(tree), context=FROM_A_FILE)
    except ValidationError as error:
        raise _Mistakes(_problems(tree, model, error)) from error


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


class _Unshown(MarkedYAMLError):
    """A control character, or one that turns the order of letters about: an escape in quotes can give any."""


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
    elif isinstance(node, ScalarNode):
        # In folded text the parser marks each fold with a bell, which no file can hold there.
        text = node.value.replace("\a", "") if node.style == ">" else node.value
        if printable(text, lines=True) != text:
            raise _Unshown(problem_mark=node.start_mark)
    elif isinstance(node, SequenceNode):
        total += sum(_count(value, known) for value in node.value)
    if total > _MOST_VALUES:
        raise _TooMuch(problem_mark=node.start_mark)
    known[id(node)] = total
    return total


# What the parser of YAML says, and the code of what it means to who wrote the file. The parser gives no codes, only
# these texts; the tests hold each of them. `mark` and `name` are figures of the message.
_YAML_MISTAKES = (
    (r"found character '\\t'", "yaml-tab"),
    (r"found character '(?P<mark>.)'", "yaml-quotes"),
    (r"expected <block end>, but found '(?:<block (?:sequence|mapping) start>|\?|-)'", "yaml-column"),
    (r"expected <block end>", "yaml-after-quote"),
    (r"mapping values are not allowed", "yaml-colon"),
    (r"sequence entries are not allowed", "yaml-dash"),
    (r"could not find expected ':'", "yaml-no-colon"),
    (r"expected ',' or '(?P<mark>[\]}])'", "yaml-bracket"),
    (r"expected the node content, but found '(?P<mark>.)'", "yaml-quotes"),
    (r"found unexpected end of stream", "yaml-open-quote"),
    (r"found undefined alias '(?P<name>.*)'", "yaml-alias"),
    (r"found duplicate key \"(?P<name>.*?)\" with", "yaml-twice"),
    (r"but found another document", "yaml-documents"),
    (r"found unknown escape character '(?P<mark>.)'", "yaml-escape"),
)
# Found out only later than where they stand.
_WHERE_BEGUN = {"yaml-no-colon", "yaml-open-quote"}


def _yaml_problem(error: MarkedYAMLError) -> Problem:
    mark, context = error.problem_mark, error.context_mark
    line = mark.line + 1 if mark else context.line + 1 if context else 1
    if isinstance(error, _TooMuch):
        return Problem(line, "", told("too-many-values", most=_MOST_VALUES))
    if isinstance(error, _Unshown):
        return Problem(line, "", told("odd-character"))
    said = str(error.problem or error.context or "")
    for pattern, code in _YAML_MISTAKES:
        found = re.search(pattern, said)
        if found:
            if context is not None and code in _WHERE_BEGUN:
                line = context.line + 1
            return Problem(line, "", told(code, **found.groupdict()))
    return Problem(line, "", told("yaml-other", why=said))


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


def _problems(tree: CommentedMap, model: type[BaseModel], error: ValidationError) -> list[Problem]:
    return [Problem(*_locate(tree, mistake.at), mistake.wrong) for mistake in mistakes(error, model)]


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
