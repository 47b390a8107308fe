"""Messages and texts as fields of the record, to JSON and back: a code and figures, or a person's words by language."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BeforeValidator, InstanceOf, PlainSerializer
from pydantic_core import PydanticCustomError

from fieldassist.checklist.fields import write_number
from fieldassist.trade.message import Bound, Compared, Figure, Message, Read, Several, Text
from fieldassist.trade.quantities import Quantity, UnknownUnit

# A record from elsewhere must not make this machine write out a book, or a billion digits.
_DEEPEST, _LONGEST = 8, 2_000
MOST_IN_A_FIGURE = 200
_TOO_LARGE = 10**80
_CODE = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_WRITTEN = re.compile(r"-?[0-9]{1,40}(?:\.[0-9]{1,40}|/0*[1-9][0-9]{0,39})?")


def exact(given: Any) -> Fraction:
    """A number as records write it: "95", "2.5", "3/8". ValueError for anything else, exponents too."""
    if isinstance(given, Fraction):
        return given
    if isinstance(given, bool) or not isinstance(given, int | float | str):
        raise ValueError(f"{str(given)[:40]!r} is not a number in figures")
    if isinstance(given, float) and not abs(given) < _TOO_LARGE:
        raise ValueError("no measurement has so many figures")
    if isinstance(given, float):
        return Fraction(repr(given))
    if isinstance(given, str) and _WRITTEN.fullmatch(given) is None:
        raise ValueError(f"{given[:40]!r} is not a number in figures, such as 95, 2.5 or 3/8")
    number = Fraction(given)
    if max(abs(number.numerator), number.denominator) >= _TOO_LARGE:
        raise ValueError("no measurement has so many figures")
    return number


def write_figure(figure: Figure) -> Any:
    """A figure as JSON has it. Figures and languages come by their names, as in a record that was read again.

    >>> write_figure(Message("a-b", {"of": Quantity(Fraction(1, 2), "in"), "n": 3}))
    {'code': 'a-b', 'figures': {'n': 3, 'of': {'value': '0.5', 'unit': 'in'}}}
    """
    match figure:
        case Message():
            return {"code": figure.code} | (
                {"figures": {name: write_figure(one) for name, one in sorted(figure.figures.items(), key=_name)}}
                if figure.figures
                else {}
            )
        case Text():
            return {"text": dict(sorted(figure.by_language))}
        case Quantity():
            exactly = {"value": write_number(figure.value), "unit": figure.unit}
            return exactly if figure.decimals is None else {**exactly, "decimals": figure.decimals}
        case Read():
            return {"read": write_figure(figure.quantity)}
        case Bound():
            return {figure.side: write_figure(figure.quantity)}
        case Compared():
            kind = "computed" if figure.computed else "read"
            return {kind: write_figure(figure.read), figure.side: write_figure(figure.limit)}
        case Several():
            return {"several": [write_figure(item) for item in figure.items], "link": figure.link}
        case Fraction() | float():
            return {"number": write_number(exact(figure))}
        case _:
            return figure


def _name(named: tuple[str, Figure]) -> str:
    return named[0]


def read_figure(given: Any, depth: int = 0) -> Figure:
    """A figure out of JSON. ValueError for what is none, is too deep or too long."""
    if isinstance(given, Message | Text | Quantity | Read | Bound | Compared | Several | Fraction):
        return given
    if depth > _DEEPEST:
        raise ValueError("figures within figures, deeper than any of ours")
    if isinstance(given, int):
        return given
    if isinstance(given, float):
        return exact(given)
    if isinstance(given, str):
        return _short(given)
    if not isinstance(given, Mapping):
        raise ValueError("a figure is a number, a text or a mapping")
    return _read_mapping(given, depth)


def _read_mapping(given: Mapping[str, Any], depth: int) -> Figure:
    keys = set(given)
    if keys in ({"code"}, {"code", "figures"}):
        code, figures = given["code"], given.get("figures", {})
        if not isinstance(code, str) or len(code) > 80 or not _CODE.fullmatch(code):
            raise ValueError("the code of a message is lower-case words joined by hyphens")
        if not isinstance(figures, Mapping) or len(figures) > MOST_IN_A_FIGURE:
            raise ValueError("the figures of a message are a mapping")
        return Message(code, {_short(name): read_figure(one, depth + 1) for name, one in figures.items()})
    if keys == {"text"} and isinstance(given["text"], Mapping):
        return Text(tuple((_short(k), _short(v)) for k, v in given["text"].items()))
    if {"value", "unit"} <= keys <= {"value", "unit", "decimals"}:
        decimals = given.get("decimals")
        if decimals is not None and (not isinstance(decimals, int) or not 0 <= decimals <= 12):
            raise ValueError("decimals are a number from 0 to 12")
        try:
            return Quantity(exact(given["value"]), _short(given["unit"]), decimals)
        except UnknownUnit as unknown:
            raise ValueError(str(unknown)) from None
    if keys == {"number"}:
        return exact(given["number"])
    several = given.get("several")
    if keys == {"several", "link"} and isinstance(several, list | tuple) and len(several) <= MOST_IN_A_FIGURE:
        link = given["link"]
        if link not in ("and", "or", "list", "clauses", "sentences", "lines"):
            raise ValueError("a list is linked by and, or, list, clauses, sentences or lines")
        return Several(tuple(read_figure(one, depth + 1) for one in several), link)
    if len(keys) == 1 and keys <= {"read", "at least", "at most"}:
        (kind,) = keys
        quantity = read_figure(given[kind], depth + 1)
        if isinstance(quantity, Quantity):
            return Read(quantity) if kind == "read" else Bound(quantity, _side(kind))
    if len(keys) == 2 and len(keys & {"read", "computed"}) == 1 and len(keys & {"at least", "at most"}) == 1:
        (kind,), (end,) = keys & {"read", "computed"}, keys & {"at least", "at most"}
        read, limit = read_figure(given[kind], depth + 1), read_figure(given[end], depth + 1)
        if isinstance(read, Quantity) and isinstance(limit, Quantity):
            return Compared(read, limit, _side(end), computed=kind == "computed")
    raise ValueError(f"no figure of ours has the fields {', '.join(sorted(map(str, keys)))[:80]}")


def _side(key: str) -> Literal["at least", "at most"]:
    return "at least" if key == "at least" else "at most"


def _short(given: Any) -> str:
    if not isinstance(given, str) or len(given) > _LONGEST:
        raise ValueError(f"a text of up to {_LONGEST} letters belongs here")
    return given


def _told(given: Any) -> Any:
    try:
        found = read_figure(given)
    except ValueError as wrong:
        raise PydanticCustomError("told", "{wrong}", {"wrong": str(wrong)}) from None
    if not isinstance(found, Message | Text):
        raise PydanticCustomError("told", "a message or a text belongs here", {})
    return found


# A message, or a person's words, in a field of an event.
Told: TypeAlias = Annotated[
    InstanceOf[Message] | InstanceOf[Text], BeforeValidator(_told), PlainSerializer(write_figure, return_type=Any)
]
