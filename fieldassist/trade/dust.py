"""Respirable crystalline silica: controls by task, exposure over a shift, limits.

Controls follow 29 CFR 1926.1153 Table 1, averages 29 CFR 1910.1000(d), the British limit EH40. Concentrations
are in micrograms per cubic metre of air [ug/m3], times in minutes. Local rules and the site's competent
person come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.checks import HAIR, measured, not_negative, one_of, positive
from fieldassist.trade.message import Figure, Message, Refused, Several, message

__all__ = [
    "ACTION_LEVEL_UG_M3",
    "DUST_CAUTIONS",
    "PEL_UG_M3",
    "TABLE_1",
    "UK_LIMIT_UG_M3",
    "DustControl",
    "DustDay",
    "DustMethod",
    "ExposureVerdict",
    "Jurisdiction",
    "OtherTask",
    "TableTask",
    "WorkPlace",
    "day_controls",
    "dust_control",
    "exposure_limit",
    "exposure_verdict",
    "minutes_left",
    "mixture_exposure",
    "time_weighted_average",
]

WorkPlace = Literal["outdoors", "indoors"]
DustMethod = Literal["water", "dust collector"]
Jurisdiction = Literal["US", "UK"]
TableTask = Literal[
    "stationary masonry saw",
    "handheld power saw",
    "handheld saw for fibre-cement board",
    "walk-behind saw",
    "drill",
    "chipping tool",
    "grinder for mortar removal",
    "grinder for other uses",
    "floor grinder",
]
OtherTask = Literal[
    "mixing mortar",
    "combing and setting",
    "scoring and snapping",
    "sweeping",
    "sanding by hand",
]

SHIFT_MIN = 480.0
FOUR_HOURS_MIN = 240.0
ACTION_LEVEL_UG_M3 = 25.0
PEL_UG_M3 = 50.0
UK_LIMIT_UG_M3 = 100.0

DUST_CAUTIONS = (
    Message("dust-caution-silica"),
    Message("dust-caution-sweeping"),
    Message("dust-caution-respirator"),
    Message("dust-caution-guide"),
)


@dataclass(frozen=True, slots=True)
class _Entry:
    numeral: str
    control: Message
    # Least assigned protection factor, 0 for none: (up to four hours, more), or None where the place is not listed.
    outdoors: tuple[int, int] | None
    indoors: tuple[int, int] | None
    methods: tuple[DustMethod, ...]


_WATER, _COLLECTOR = Message("dust-control-water-feed"), Message("dust-control-collector")

TABLE_1: Mapping[str, _Entry] = {
    "stationary masonry saw": _Entry("i", _WATER, (0, 0), (0, 0), ("water",)),
    "handheld power saw": _Entry("ii", _WATER, (0, 10), (10, 10), ("water",)),
    "handheld saw for fibre-cement board": _Entry(
        "iii", Message("dust-control-board-saw"), (0, 0), None, ("dust collector",)
    ),
    "walk-behind saw": _Entry("iv", _WATER, (0, 0), (10, 10), ("water",)),
    "drill": _Entry("vii", _COLLECTOR, (0, 0), (0, 0), ("dust collector",)),
    "chipping tool": _Entry("x", Message("dust-control-chipping"), (0, 10), (10, 10), ("water", "dust collector")),
    "grinder for mortar removal": _Entry(
        "xi", Message("dust-control-mortar-grinder"), (10, 25), (10, 25), ("dust collector",)
    ),
    "grinder for other uses": _Entry(
        "xii", Message("dust-control-grinder"), (0, 0), (0, 10), ("dust collector", "water")
    ),
    "floor grinder": _Entry("xiii", Message("dust-control-floor-grinder"), (0, 0), (0, 0), ("water", "dust collector")),
}

_OTHER: Mapping[str, Message] = {
    task: Message(f"dust-no-entry-{task.replace(' ', '-')}") for task in get_args(OtherTask)
}

# 29 CFR 1910.134 Table 1, from memory.
_RESPIRATORS: Mapping[int, Message] = {factor: Message(f"dust-respirator-{factor}") for factor in (0, 10, 25)}


@dataclass(frozen=True, slots=True)
class DustControl:
    """What Table 1 asks for one task.

    task; entry, its numeral; control of the dust; protection_factor, least assigned, 0 for none; respirator
    in words; cautions; basis.
    """

    task: str
    entry: str
    control: Message
    protection_factor: int
    respirator: Message
    cautions: tuple[Message, ...]
    basis: Basis


@dataclass(frozen=True, slots=True)
class DustDay:
    """One person's shift: minutes by task and in all, whether more than four hours, the control of each task
    in the table, and for each other task why it has none.
    """

    minutes: Mapping[str, float]
    total_min: float
    over_four_hours: bool
    controls: tuple[DustControl, ...]
    not_in_table: Mapping[str, Message]
    basis: Basis


@dataclass(frozen=True, slots=True)
class ExposureVerdict:
    """An average judged: passed the limit, at or above the action level (None where there is none), words, basis."""

    passed: bool
    action: bool | None
    words: Message
    basis: Basis


def _fit_in_a_day(minutes: float) -> None:
    if minutes > 1440:
        raise Refused(message("dust-over-a-day", minutes=measured(minutes, "min")))


def dust_control(
    task: TableTask | OtherTask,
    place: WorkPlace,
    minutes_of_shift: float,
    method: DustMethod | None = None,
) -> DustControl:
    """What 29 CFR 1926.1153 Table 1 asks for a task: the control, and the respirator by place and duration.

    | entry | task | control | outdoors up to 4 h / more | indoors up to 4 h / more |
    |---|---|---|---|---|
    | (i) | stationary masonry saw | water | none / none | none / none |
    | (ii) | handheld power saw | water | none / 10 | 10 / 10 |
    | (iii) | handheld saw for fibre-cement board | dust collector | none / none | not in the table |
    | (iv) | walk-behind saw | water | none / none | 10 / 10 |
    | (vii) | drill | dust collector | none / none | none / none |
    | (x) | chipping tool | water or dust collector | none / 10 | 10 / 10 |
    | (xi) | grinder for mortar removal | dust collector | 10 / 25 | 10 / 25 |
    | (xii) | grinder for other uses | dust collector; water outdoors | none / none | none / 10 |
    | (xiii) | floor grinder | water or dust collector | none / none | none / none |

    Parameters: task; place, "indoors" for every enclosed area; minutes_of_shift, all minutes of the shift on
    all tasks of the table [min], 0 to 1440, since the sum decides; method, when chosen. Exactly four hours is
    not more.
    Result: `DustControl`.
    Limits: the table's entries for tile work; those for large saws, rigs and earth-moving are left out.
    Errors: `OutOfRange` with the reason for a task, place or method that the table does not have;
    `Refused` for another word or minutes that cannot be.

    >>> dust_control("handheld power saw", "outdoors", 120).protection_factor
    0
    >>> dust_control("handheld power saw", "outdoors", 300).protection_factor
    10

    References: 29 CFR 1926.1153 Table 1: entries (i) to (v) read in California's identical rule, the rest as
    reported, the controls of (vii) to (xiii) from memory; 29 CFR 1910.134 Table 1, from memory.
    """
    one_of("place", place, get_args(WorkPlace))
    not_negative("minutes", minutes_of_shift, "min")
    _fit_in_a_day(minutes_of_shift)
    if task in _OTHER:
        raise OutOfRange(_OTHER[task])
    if task not in TABLE_1:
        named = {"table": Several(tuple(TABLE_1)), "others": Several(tuple(_OTHER))}
        raise Refused(message("dust-unknown-task", task=task, **named))
    entry = TABLE_1[task]
    figures: dict[str, Figure] = {"entry": f"({entry.numeral})", "task": task}
    if method is not None and method not in entry.methods:
        raise OutOfRange(message("dust-method-not-in-table", method=method, control=entry.control, **figures))
    if task == "grinder for other uses" and method == "water" and place == "indoors":
        raise OutOfRange(message("dust-water-outdoors-only"))
    columns = entry.outdoors if place == "outdoors" else entry.indoors
    if columns is None:
        raise OutOfRange(message("dust-outdoors-only", **figures))
    factor = columns[1 if minutes_of_shift > FOUR_HOURS_MIN else 0]
    cautions = DUST_CAUTIONS if place == "outdoors" else (*DUST_CAUTIONS, Message("dust-caution-indoors"))
    basis = BASES[f"dust-table-1-{entry.numeral}"]
    numeral = f"({entry.numeral})"
    return DustControl(task, numeral, entry.control, factor, _RESPIRATORS[factor], cautions, basis)


def day_controls(tasks: Iterable[tuple[TableTask | OtherTask, WorkPlace, float]]) -> DustDay:
    """One person's shift: the minutes of each task, and what the table asks for each.

    The minutes of all tasks in the table are added; over four hours in all, each task takes the column for
    more than four hours.

    Parameters: (task, place, minutes [min]), as often as needed. Result: `DustDay`.
    Errors: those of `dust_control`, except that a task without entry is named in `not_in_table` and its
    minutes do not count for the table; `Refused` when the minutes do not fit in a day.

    >>> day = day_controls([("handheld power saw", "outdoors", 150), ("drill", "indoors", 120)])
    >>> day.total_min, day.over_four_hours, [control.protection_factor for control in day.controls]
    (270.0, True, [10, 0])

    References: 29 CFR 1926.1153 Table 1 and (c)(3), the latter from memory.
    """
    given = list(tasks)
    minutes: dict[str, float] = {}
    in_table: list[tuple[TableTask | OtherTask, WorkPlace]] = []
    not_in_table: dict[str, Message] = {}
    total = 0.0
    for task, place, spent in given:
        not_negative("minutes", spent, "min")
        minutes[task] = minutes.get(task, 0) + spent
        if task in _OTHER:
            not_in_table[task] = _OTHER[task]
            continue
        if task not in TABLE_1:
            dust_control(task, place, spent)
        total += spent
        if (task, place) not in in_table:
            in_table.append((task, place))
    _fit_in_a_day(sum(minutes.values()))
    controls = tuple(dust_control(task, place, total) for task, place in in_table)
    return DustDay(minutes, total, total > FOUR_HOURS_MIN, controls, not_in_table, BASES["dust-day"])


def time_weighted_average(periods: Iterable[tuple[float, float]]) -> float:
    """The 8-hour average of what was breathed over a shift.

    E = (C1 T1 + ... + Cn Tn) / 8 h

    Parameters: (concentration, minutes), in any one unit of concentration [for silica ug/m3] and [min], for
    one person; time that is left out counts as free of dust. Result: the average, in the same unit.
    Limits: up to 24 h. A shift longer than 8 h is still divided by 8 h. The limit itself is not scaled by
    hours worked: the rule "400 divided by hours" is for lead.
    Errors: `Refused` for figures below zero, or more than a day.

    >>> time_weighted_average([(150, 120), (75, 120), (50, 240)])
    81.25

    References: 29 CFR 1910.1000(d)(1)(i), with this example (in ppm).
    """
    total = 0.0
    minutes = 0.0
    for concentration, spent in periods:
        not_negative("concentration", concentration)
        not_negative("minutes", spent, "min")
        total += concentration * spent
        minutes += spent
    _fit_in_a_day(minutes)
    return total / SHIFT_MIN


def mixture_exposure(exposures_and_limits: Sequence[tuple[float, float]]) -> float:
    """The equivalent exposure to several contaminants that act alike.

    E_m = C1 / L1 + ... + Cn / Ln; above 1 the limit of the mixture is exceeded.

    Parameters: (average, limit), each pair in its own unit; limits above 0. Result: [-].
    Errors: `Refused` for none, figures below zero or a limit of zero.

    >>> mixture_exposure([(500, 1000), (45, 200), (40, 200)])
    0.925

    References: 29 CFR 1910.1000(d)(2), with this example.
    """
    if not exposures_and_limits:
        raise Refused(message("dust-no-contaminant"))
    for average, limit in exposures_and_limits:
        not_negative("concentration", average)
        positive("limit-of-a-contaminant", limit)
    return math.fsum(average / limit for average, limit in exposures_and_limits)


def exposure_limit(jurisdiction: Jurisdiction = "US") -> tuple[float, Basis]:
    """The 8-hour limit for respirable crystalline silica [ug/m3], and its source.

    US 50 (permissible exposure limit), UK 100 (workplace exposure limit, 0.1 mg/m3).

    Errors: `Refused` for another jurisdiction.

    >>> exposure_limit("UK")[0]
    100.0

    References: 29 CFR 1926.1153(d)(1); HSE EH40. NIOSH recommends 50 (10 h), ACGIH 25 (8 h).
    """
    one_of("jurisdiction", jurisdiction, get_args(Jurisdiction))
    if jurisdiction == "US":
        return PEL_UG_M3, BASES["dust-limit-us"]
    return UK_LIMIT_UG_M3, BASES["dust-limit-uk"]


def exposure_verdict(average_ug_m3: float, jurisdiction: Jurisdiction = "US") -> ExposureVerdict:
    """Judge an 8-hour average of respirable crystalline silica.

    Passes up to and including the limit. In the US the action level of 25 counts from exactly 25 up.

    Parameters: average_ug_m3, from `time_weighted_average` [ug/m3], without regard to respirators;
    jurisdiction.
    Result: `ExposureVerdict`. Errors: `Refused` below zero or for another jurisdiction.

    >>> verdict = exposure_verdict(37.5)
    >>> verdict.passed, verdict.action, verdict.words.code
    (True, True, 'dust-above-action-level')

    References: 29 CFR 1926.1153(b) and (d)(1); HSE EH40.
    """
    not_negative("concentration", average_ug_m3)
    limit, basis = exposure_limit(jurisdiction)
    figures = {
        "average": _concentration(average_ug_m3),
        "limit": measured(limit, "count"),
        "level": measured(ACTION_LEVEL_UG_M3, "count"),
    }
    action = average_ug_m3 >= ACTION_LEVEL_UG_M3 * (1 - HAIR) if jurisdiction == "US" else None
    if average_ug_m3 > limit * (1 + HAIR):
        return ExposureVerdict(False, action, message("dust-over-limit", **figures), basis)
    if action is None:
        return ExposureVerdict(True, None, message("dust-within-limit", **figures), basis)
    code = "dust-above-action-level" if action else "dust-below-action-level"
    return ExposureVerdict(True, action, message(code, **figures), BASES["dust-action-level"])


def _concentration(ug_m3: float) -> Figure:
    """A concentration to four digits that count, as no instrument reads more."""
    return measured(float(f"{ug_m3:.4g}"), "count")


def minutes_left(
    concentration_ug_m3: float,
    periods: Iterable[tuple[float, float]] = (),
    ceiling_ug_m3: float = ACTION_LEVEL_UG_M3,
) -> float:
    """How long one may go on at a measured concentration before the 8-hour average reaches a ceiling.

    t = max(0, 480 (L - E) / C), and no longer than what is left of 24 h.

    Parameters: concentration_ug_m3, C [ug/m3], above 0; periods so far, see `time_weighted_average`, giving
    E; ceiling_ug_m3, L [ug/m3], the US action level unless given. Result: [min].
    Errors: `Refused` for figures not above zero.

    >>> minutes_left(120, [(10, 360)], ceiling_ug_m3=37.5)
    120.0

    References: 29 CFR 1910.1000(d)(1)(i), solved for time.
    """
    positive("concentration", concentration_ug_m3)
    positive("ceiling", ceiling_ug_m3)
    done = list(periods)
    left = SHIFT_MIN * (ceiling_ug_m3 - time_weighted_average(done)) / concentration_ug_m3
    return min(max(0.0, left), 1440.0 - sum(spent for _, spent in done))
