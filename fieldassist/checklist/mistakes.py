"""What is wrong in a plan or a checklist that somebody wrote, found by its model: where, and in a message.

A file's loader adds the line; a screen shows each beside the field that it is about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from fieldassist.checklist import faults
from fieldassist.checklist.faults import told
from fieldassist.printable import printable
from fieldassist.trade.message import Figure, Refused, Text


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake: the way to its field, such as ("areas", 0, "size"), and what is wrong there."""

    at: tuple[str | int, ...]
    wrong: Figure


def mistakes(error: ValidationError, model: type[BaseModel]) -> tuple[Mistake, ...]:
    """What pydantic found against `model`, each as a mistake of its own: our own checks tell several at once."""
    return tuple(mistake for item in error.errors() for mistake in _mistakes(model, item))


def _mistakes(model: type[BaseModel], item: Any) -> Iterator[Mistake]:
    loc = [part for part in item["loc"] if isinstance(part, str | int)]
    kind, context = item["type"], item.get("ctx", {})
    if kind == faults.KIND:
        yield from (Mistake((*loc, *fault.at), fault.told) for fault in context[faults.KIND])
        return
    given = str(item.get("input"))[:_LONGEST_SHOWN]
    if kind == "extra_forbidden":
        wrong = told("field-unknown", given=str(loc[-1]), allowed=_fields(model, loc[:-1]))
    elif kind in ("literal_error", "enum", "union_tag_invalid"):
        if kind == "union_tag_invalid":
            loc, given = [*loc, "kind"], context["tag"]
        allowed = re.findall(r"'([^']*)'", context.get("expected", context.get("expected_tags", "")))
        wrong = told("not-allowed", given=given, allowed=allowed)
    elif kind == "value_error":
        error = context["error"]
        wrong = error.told if isinstance(error, Refused) else Text.plain(printable(error))
    elif kind == "string_pattern_mismatch":
        wrong = told(_PATTERNS[context["pattern"]], given=given)
    else:
        bounds = {name: value for name, value in context.items() if isinstance(value, int)}
        code = _KINDS.get(kind, "unfit")
        wrong = told(
            code, given=given, kind=kind, least=bounds.get("min_length", 0), longest=bounds.get("max_length", 0)
        )
    yield Mistake(tuple(loc), wrong)


_LONGEST_SHOWN = 80
_PATTERNS = {
    r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$": "not-id",
    r"^[A-Za-z']+( [A-Za-z']+){0,5}$": "not-spoken",
}
# What pydantic calls the mistakes that need nothing but a code.
_KINDS = {
    "missing": "field-missing",
    "string_type": "not-text",
    "float_type": "not-number",
    "float_parsing": "not-number",
    "int_type": "not-whole",
    "int_parsing": "not-whole",
    "int_from_float": "not-whole",
    "bool_type": "not-yes-no",
    "bool_parsing": "not-yes-no",
    "tuple_type": "not-list",
    "model_type": "not-fields",
    "model_attributes_type": "not-fields",
    "dict_type": "not-fields",
    "too_short": "too-few",
    "string_too_short": "too-short",
    "string_too_long": "too-long",
    "greater_than": "out-of-range",
    "greater_than_equal": "out-of-range",
    "less_than": "out-of-range",
    "less_than_equal": "out-of-range",
}


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
