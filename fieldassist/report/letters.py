"""Letters that no typeface of the pages has: they are named in words, in the document's language, and no box stands for
them. Attached to the document they stand as they are, in its properties without what steers letters around it."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from fieldassist.report.fonts import letters_everywhere, named

_Part = TypeVar("_Part")


def with_letters_named(part: _Part, lacking: str) -> _Part:
    """A part of a document's model, in which all texts can be set. lacking: what names the letters that cannot be.

    >>> with_letters_named(("Bay 2", ("Bay \U00013080\U00013081", 4)), "(letters)")
    ('Bay 2', ('Bay (letters)', 4))
    """
    return cast(_Part, _named(part, lacking))


def _named(part: Any, lacking: str) -> Any:
    if isinstance(part, str):
        return part if part.isascii() and part.isprintable() else named(part, lacking, letters_everywhere())
    if isinstance(part, tuple | list):
        told = [_named(one, lacking) for one in part]
        return part if all(new is old for new, old in zip(told, part, strict=True)) else type(part)(told)
    if isinstance(part, dict):
        return {key: _named(value, lacking) for key, value in part.items()}
    if is_dataclass(part) and not isinstance(part, type):
        held = {field.name: getattr(part, field.name) for field in fields(part)}
        after = {name: _named(value, lacking) for name, value in held.items()}
        changed = {name: value for name, value in after.items() if value is not held[name]}
        return replace(part, **changed) if changed else part
    return part
