"""What goes on of an area on another day, or on another tablet: how far it has come, as data in an event.

One codec writes all of `state.Progress` and reads it again, by its annotations: a field that comes to it is carried of
itself. Numbers of events are told by `state.EventNumber`; on the day that goes on they are negative, -1 being the last
event of the day before, so that no number means two events.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeAlias, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel, BeforeValidator, InstanceOf, PlainSerializer
from pydantic_core import PydanticCustomError

from fieldassist.checklist.fields import write_number
from fieldassist.checklist.plan import Method
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Area, EventNumber, MethodDoubt, MethodWord, Progress
from fieldassist.checklist.told import exact, read_figure, write_figure
from fieldassist.trade.message import Message, Text
from fieldassist.trade.quantities import Quantity

# A record from elsewhere must not make this machine write out a book.
_LONGEST, _MOST = 2_000, 100_000


@dataclass(frozen=True, slots=True)
class HeldArea:
    """How far an area has come: the method in use with its name, those used so far, what is open about them, who sets,
    and its progress."""

    method: Method
    method_name: str = ""
    methods_used: tuple[Method, ...] = ()
    doubt: MethodDoubt | None = None
    words_given: tuple[MethodWord, ...] = ()
    setter: str = ""
    progress: Progress = field(default_factory=Progress)


def held_of(area: Area, last_seq: int) -> HeldArea:
    """What goes on of an area. last_seq: the number of the last event of its day, which becomes -1."""
    held = HeldArea(
        method=area.method,
        method_name=area.method_name,
        methods_used=area.methods_used,
        doubt=area.doubt,
        words_given=area.words_given,
        setter=area.setter or "",
        progress=area.progress,
    )
    moved: HeldArea = _read(_write(held, HeldArea, -(last_seq + 1)), HeldArea)
    return moved


def begun_anew(held: HeldArea, checklist: Checklist) -> HeldArea:
    """The same in the morning: mortar of the day before is dead, with its clocks, and every run is over."""
    batches = {section.id for section in checklist.sections if section.changes == "batch"}
    pots = {clock.id for clock in checklist.clocks if clock.ends in batches}
    progress = held.progress
    return replace(
        held,
        progress=replace(
            progress,
            good={section: at for section, at in progress.good.items() if section not in batches},
            clocks=tuple(run for run in progress.clocks if run.clock not in pots),
            batches={at: replace(batch, alive=False) for at, batch in progress.batches.items()},
            batch=0,
            spreads={
                at: replace(one, standing="skinned") if one.standing == "open" else one
                for at, one in progress.spreads.items()
            },
            paces={},
            again={},
            runs_before=len(progress.runs),
            next_day=True,
        ),
    )


def names_missing(held: HeldArea, checklist: Checklist) -> tuple[str, ...]:
    """Steps and clocks that wait in an area and that a checklist does not have."""
    missing = []
    for task in held.progress.tasks:
        try:
            checklist.step(task.section, task.step)
        except KeyError:
            missing.append(f"{task.section}:{task.step}")
    missing += [run.clock for run in held.progress.clocks if checklist.clock(run.clock) is None]
    missing += [f.corrective for f in held.progress.failures.values() if checklist.corrective(f.corrective) is None]
    return tuple(dict.fromkeys(missing))


# --- the codec ----------------------------------------------------------------------------------------------------


@lru_cache(maxsize=64)
def _hints(model: type) -> Mapping[str, Any]:
    return get_type_hints(model, include_extras=True)


def _arms(hint: Any) -> tuple[Any, ...]:
    return get_args(hint) if get_origin(hint) in (Union, types.UnionType) else ()


def _write(value: Any, hint: Any, shift: int = 0) -> Any:
    """A value as JSON. shift: what is added to the numbers of events; 0 is that of none."""
    if hint == EventNumber and value:
        return value + shift
    if isinstance(value, int) and value and EventNumber in _arms(hint):
        return value + shift
    if isinstance(value, Message | Text | Quantity):
        return write_figure(value)
    if isinstance(value, Fraction):
        return {"number": write_number(value)}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json", exclude_defaults=True)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hints = _hints(type(value))
        return {
            one.name: _write(getattr(value, one.name), hints[one.name], shift)
            for one in dataclasses.fields(value)
            if not _is_default(value, one)
        }
    inner = _inner(hint)
    if isinstance(value, Mapping):
        key, item = inner
        return [[_write(k, key, shift), _write(v, item, shift)] for k, v in value.items()]
    if isinstance(value, frozenset):
        return sorted(_write(one, inner[0], shift) for one in value)
    if isinstance(value, tuple):
        each = inner[:1] * len(value) if len(inner) == 2 and inner[1] is Ellipsis else inner
        return [_write(one, part, shift) for one, part in zip(value, each, strict=True)]
    return value


def _inner(hint: Any) -> tuple[Any, ...]:
    """What a collection holds."""
    for arm in (hint, *_arms(hint)):
        if get_origin(arm) not in (None, Annotated, Literal, Union, types.UnionType):
            return get_args(arm)
    return ()


def _is_default(value: Any, one: dataclasses.Field[Any]) -> bool:
    default = one.default_factory() if one.default_factory is not dataclasses.MISSING else one.default
    found = getattr(value, one.name)
    # 0 is not False, nor 1 True.
    return type(found) is type(default) and bool(found == default)


def _read(raw: Any, hint: Any) -> Any:
    """A value out of JSON. ValueError for what is none of this type."""
    origin = get_origin(hint)
    if arms := _arms(hint):
        return _read_one_of(raw, arms)
    if origin is Annotated:
        return _read(raw, get_args(hint)[0])
    if origin is Literal:
        if raw in get_args(hint) and isinstance(raw, str | int):
            return raw
        raise ValueError(f"{str(raw)[:40]!r} is none of {get_args(hint)}")
    if hint in (str, int, float, bool, type(None)):
        return _plain(raw, hint)
    if hint is Fraction:
        if not isinstance(raw, Mapping) or set(raw) != {"number"}:
            raise ValueError("a number belongs here")
        return exact(raw["number"])
    if hint in (Message, Text, Quantity):
        figure = read_figure(raw)
        if not isinstance(figure, hint):
            raise ValueError(f"a {hint.__name__} belongs here")
        return figure
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint(raw)
    if isinstance(hint, type) and issubclass(hint, BaseModel):
        return hint.model_validate(raw)
    if dataclasses.is_dataclass(hint) and isinstance(hint, type):
        return _read_record(raw, hint)
    return _read_many(raw, origin, get_args(hint))


def _read_one_of(raw: Any, arms: tuple[Any, ...]) -> Any:
    for arm in arms:
        try:
            return _read(raw, arm)
        except ValueError:
            continue
    raise ValueError(f"{str(raw)[:40]!r} is nothing that belongs here")


def _plain(raw: Any, hint: Any) -> Any:
    if hint is float and isinstance(raw, int) and not isinstance(raw, bool):
        return float(raw)
    if type(raw) is not hint or (isinstance(raw, str) and len(raw) > _LONGEST):
        raise ValueError(f"{str(raw)[:40]!r} is no {hint.__name__}")
    return raw


def _read_record(raw: Any, hint: type) -> Any:
    if not isinstance(raw, Mapping):
        raise ValueError(f"{hint.__name__} is a mapping")
    hints = _hints(hint)
    known = {one.name for one in dataclasses.fields(hint)}
    if strange := sorted(set(raw) - known):
        raise ValueError(f"{hint.__name__} has no {', '.join(map(str, strange))[:80]}")
    try:
        return hint(**{name: _read(one, hints[name]) for name, one in raw.items()})
    except TypeError as error:
        raise ValueError(f"{hint.__name__}: {error}") from error


def _read_many(raw: Any, origin: Any, inner: tuple[Any, ...]) -> Any:
    if not isinstance(raw, list | tuple) or len(raw) > _MOST:
        raise ValueError("a list belongs here")
    if origin is frozenset:
        return frozenset(_read(one, inner[0]) for one in raw)
    if origin is tuple:
        each = inner[:1] * len(raw) if len(inner) == 2 and inner[1] is Ellipsis else inner
        return tuple(_read(one, part) for one, part in zip(raw, each, strict=True))
    pairs = [(_read(key, inner[0]), _read(one, inner[1])) for key, one in (_pair(entry) for entry in raw)]
    return dict(pairs)


def _pair(entry: Any) -> tuple[Any, Any]:
    if not isinstance(entry, list | tuple) or len(entry) != 2:
        raise ValueError("a pair belongs here")
    return entry[0], entry[1]


def _held(given: Any) -> Any:
    if isinstance(given, HeldArea):
        return given
    try:
        return _read(given, HeldArea)
    except ValueError as wrong:
        raise PydanticCustomError("held", "{wrong}", {"wrong": str(wrong)[:300]}) from None


# How far an area has come, in a field of an event.
Held: TypeAlias = Annotated[
    InstanceOf[HeldArea],
    BeforeValidator(_held),
    PlainSerializer(lambda held: _write(held, HeldArea), return_type=Any),
]
