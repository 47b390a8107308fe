"""Letters that no typeface of the pages has: they are named in words, in the document's language, and no box stands for
them. Attached to the document they stand as they are, in its properties without what steers letters around it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from fieldassist.report.fonts import letters_everywhere, named

_Part = TypeVar("_Part")


def with_letters_named(part: _Part, lacking: str, numbered: Sequence[tuple[str, str]] = ()) -> _Part:
    """A part of a document's model, in which all texts can be set.

    lacking: what names the letters that cannot be; numbered: names with such letters, the longest first, and each with
    a number, so that two of them are told apart.

    >>> with_letters_named(("Bay 2", ("Bay \U00013080\U00013081", 4)), "(letters)")
    ('Bay 2', ('Bay (letters)', 4))
    >>> with_letters_named("\U00013080: 95", "(letters)", [("\U00013080", "Area 3 \U00013080")])
    'Area 3 (letters): 95'
    """
    known = letters_everywhere()
    instead = [(name, named(told, lacking, known)) for name, told in numbered]

    def told(text: str) -> str:
        if text.isascii() and text.isprintable():
            return text
        for name, shown in instead:
            text = text.replace(name, shown)
        return named(text, lacking, known)

    return cast(_Part, _each_text(part, told))


def _each_text(part: Any, told: Callable[[str], str]) -> Any:
    if isinstance(part, str):
        return told(part)
    if isinstance(part, tuple | list):
        new = [_each_text(one, told) for one in part]
        return part if all(one is old for one, old in zip(new, part, strict=True)) else type(part)(new)
    if isinstance(part, dict):
        return {key: _each_text(value, told) for key, value in part.items()}
    if is_dataclass(part) and not isinstance(part, type):
        held = {field.name: getattr(part, field.name) for field in fields(part)}
        after = {name: _each_text(value, told) for name, value in held.items()}
        changed = {name: value for name, value in after.items() if value is not held[name]}
        return replace(part, **changed) if changed else part
    return part
