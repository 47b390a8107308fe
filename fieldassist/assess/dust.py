"""A person's shift by the minutes of dusty tasks that were noted: what Table 1 asks, and what eight hours come to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol, cast

from fieldassist.assess.assumptions import Assumption, assumed
from fieldassist.trade import dust
from fieldassist.trade.basis import OutOfRange
from fieldassist.trade.message import Message

__all__ = [
    "DEFAULT_PLACE",
    "DustTask",
    "Exposure",
    "NamedTask",
    "Needs",
    "Noted",
    "Shift",
    "exposure",
    "needs",
    "shift_of",
    "shifts",
]

NamedTask = dust.TableTask | dust.OtherTask
DustTask = tuple[NamedTask, dust.WorkPlace]
Grade = Literal["below", "action", "over"]
DEFAULT_PLACE = cast(dust.WorkPlace, assumed("dust-place").value)


class Noted(Protocol):
    """Minutes of a task that somebody noted, and that count."""

    @property
    def by(self) -> str: ...
    @property
    def task(self) -> str: ...
    @property
    def place(self) -> dust.WorkPlace: ...
    @property
    def minutes(self) -> Fraction: ...


@dataclass(frozen=True, slots=True)
class Needs:
    """What Table 1 asks for a task at a place, up to four hours of the table's tasks in a shift and beyond.

    short, more: None where the table has no row, and then none says why; cautions: those of the place.
    """

    short: dust.DustControl | None
    more: dust.DustControl | None
    cautions: tuple[Message, ...] = ()
    none: Message | None = None


def needs(task: NamedTask, place: dust.WorkPlace) -> Needs:
    """Both columns of Table 1 for a task.

    >>> needs("handheld power saw", "outdoors").short.protection_factor
    0
    """
    try:
        short = dust.dust_control(task, place, dust.FOUR_HOURS_MIN)
        more = dust.dust_control(task, place, dust.FOUR_HOURS_MIN + 1)
    except OutOfRange as refused:
        return Needs(None, None, none=refused.told)
    return Needs(short, more, tuple(c for c in short.cautions if c not in dust.DUST_CAUTIONS))


@dataclass(frozen=True, slots=True)
class Shift:
    """One person's shift.

    tasks: minutes of each task at its place, in the order in which they were first noted, with what Table 1 asks for it
    today, or why it has none; listed_min: of the table's tasks [min]; other_min: of others [min]; over: more than four
    hours of the table's, so that its higher column holds for every task.
    """

    who: str
    tasks: tuple[tuple[DustTask, Fraction, dust.DustControl | None, Message | None], ...]
    listed_min: float
    other_min: float
    over: bool

    @staticmethod
    def listed(task: str) -> bool:
        """Whether the table has a row for a task."""
        return task in dust.TABLE_1


def shift_of(entries: Iterable[Noted], who: str) -> Shift:
    """What one person's notes come to. Parameters: entries that count, of anybody; who, a name."""
    minutes: dict[DustTask, Fraction] = {}
    for entry in entries:
        if entry.by == who:
            task: DustTask = (cast(NamedTask, entry.task), entry.place)
            minutes[task] = minutes.get(task, Fraction()) + entry.minutes
    listed = float(sum((spent for (task, _), spent in minutes.items() if task in dust.TABLE_1), Fraction()))
    other = float(sum(minutes.values(), Fraction())) - listed
    return Shift(
        who,
        tuple((task, spent, *_today(task, listed)) for task, spent in minutes.items()),
        listed,
        other,
        listed > dust.FOUR_HOURS_MIN,
    )


def shifts(entries: Iterable[Noted]) -> tuple[Shift, ...]:
    """The shift of everybody who noted something, in the order in which they first did."""
    given = list(entries)
    return tuple(shift_of(given, who) for who in dict.fromkeys(entry.by for entry in given))


def _today(task: DustTask, listed_min: float) -> tuple[dust.DustControl | None, Message | None]:
    try:
        return dust.dust_control(*task, listed_min), None
    except OutOfRange as refused:
        return None, refused.told


@dataclass(frozen=True, slots=True)
class Exposure:
    """One person's eight-hour average from measured air.

    average_ug_m3 [ug/m3]; passed the limit; action: at or above the action level; grade of the message; limit_ug_m3;
    silent: tasks that were noted and not measured, counted as clean air, so that the true average is higher.
    """

    average_ug_m3: float
    verdict: dust.ExposureVerdict
    grade: Grade
    limit_ug_m3: float
    silent: tuple[DustTask, ...]
    assumed: tuple[Assumption, ...]


def exposure(entries: Iterable[Noted], who: str, measured: Mapping[DustTask, float]) -> Exposure | None:
    """One person's eight-hour average.

    Parameters: entries that count, of anybody; who; measured, dust in the air by task [ug/m3].
    Result: None where nothing was measured. Errors: `ValueError` for figures below zero.
    """
    if not measured:
        return None
    spent = {task: minutes for task, minutes, _, _ in shift_of(entries, who).tasks}
    average = dust.time_weighted_average((measured[task], float(m)) for task, m in spent.items() if task in measured)
    verdict = dust.exposure_verdict(average)
    grade: Literal["below", "action", "over"] = (
        "over" if not verdict.passed else "action" if verdict.action else "below"
    )
    return Exposure(
        average,
        verdict,
        grade,
        dust.PEL_UG_M3,
        tuple(task for task in spent if task not in measured),
        (assumed("dust-held"), assumed("dust-clean-air")),
    )
