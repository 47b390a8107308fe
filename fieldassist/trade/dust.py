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

from fieldassist.trade.basis import Basis, OutOfRange, Standing

__all__ = [
    "ACTION_LEVEL_UG_M3",
    "DUST_CAUTIONS",
    "PEL_UG_M3",
    "TABLE_1",
    "UK_LIMIT_UG_M3",
    "DustControl",
    "DustDay",
    "ExposureVerdict",
    "Jurisdiction",
    "Method",
    "OtherTask",
    "Place",
    "TableTask",
    "day_controls",
    "dust_control",
    "exposure_limit",
    "exposure_verdict",
    "minutes_left",
    "mixture_exposure",
    "time_weighted_average",
]

Place = Literal["outdoors", "indoors"]
Method = Literal["water", "dust collector"]
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

_SEEN = "Read in California's identical 8 CCR 1532.3."
_NOT_SEEN = "The words of the control are from memory."
_AVERAGE = Basis("29 CFR 1910.1000", "(d)(1)(i)", standing=Standing.READ)
_MIXTURE = Basis("29 CFR 1910.1000", "(d)(2)", standing=Standing.READ)
_LEVEL = Basis("29 CFR 1926.1153", "(b)", standing=Standing.READ, note="8-hour average, as if no respirator were worn.")
_PEL = Basis("29 CFR 1926.1153", "(d)(1)", note="8-hour average, as if no respirator were worn.")
_WEL = Basis("HSE EH40", "workplace exposure limit, 8 hours")

DUST_CAUTIONS = (
    "Silica dust scars the lungs for life: wet cutting or extraction first, the respirator on top of it.",
    "No dry sweeping and no compressed air for cleaning; a vacuum with a HEPA filter, or wet.",
    "A tight respirator needs a fit test and a clean shave.",
    "A guide: the competent person's plan and local rules come first.",
)


@dataclass(frozen=True, slots=True)
class _Entry:
    numeral: str
    control: str
    # Least assigned protection factor, 0 for none: (up to four hours, more), or None where the place is not
    # listed.
    outdoors: tuple[int, int] | None
    indoors: tuple[int, int] | None
    methods: tuple[Method, ...]
    seen: bool
    control_seen: bool


TABLE_1: Mapping[str, _Entry] = {
    "stationary masonry saw": _Entry(
        "(i)", "saw with its built-in water feed on the blade", (0, 0), (0, 0), ("water",), True, True
    ),
    "handheld power saw": _Entry(
        "(ii)", "saw with its built-in water feed on the blade", (0, 10), (10, 10), ("water",), True, True
    ),
    "handheld saw for fibre-cement board": _Entry(
        "(iii)",
        "blade up to 8 in (203 mm), dust collector with a filter of 99 % or better",
        (0, 0),
        None,
        ("dust collector",),
        True,
        True,
    ),
    "walk-behind saw": _Entry(
        "(iv)", "saw with its built-in water feed on the blade", (0, 0), (10, 10), ("water",), True, True
    ),
    "drill": _Entry("(vii)", "shroud and dust collector", (0, 0), (0, 0), ("dust collector",), False, False),
    "chipping tool": _Entry(
        "(x)",
        "water on the point of impact, or shroud and dust collector",
        (0, 10),
        (10, 10),
        ("water", "dust collector"),
        False,
        False,
    ),
    "grinder for mortar removal": _Entry(
        "(xi)",
        "shroud and dust collector drawing 25 cubic feet a minute (0.7 m³/min) or more per inch of wheel",
        (10, 25),
        (10, 25),
        ("dust collector",),
        False,
        False,
    ),
    "grinder for other uses": _Entry(
        "(xii)",
        "shroud and dust collector, or (outdoors only) water on the wheel",
        (0, 0),
        (0, 10),
        ("dust collector", "water"),
        False,
        False,
    ),
    "floor grinder": _Entry(
        "(xiii)", "water, or dust collector", (0, 0), (0, 0), ("water", "dust collector"), False, False
    ),
}

_OTHER: Mapping[str, str] = {
    "mixing mortar": "Mixing mortar has no entry in Table 1. An OSHA letter of 25 July 2019, asked about "
    "it, says that "
    "certain tasks usually stay below the action level, but its list was not seen: pour low and slowly, "
    "extract at the "
    "bucket, and have the air measured or use objective data.",
    "combing and setting": "Wet mortar makes no dust: Table 1 has no entry. Dried crumbs do when swept.",
    "scoring and snapping": "Scoring and snapping has no entry in Table 1. It makes little dust, yet the "
    "chips do: "
    "vacuum them. In doubt have the air measured.",
    "sweeping": "Dry sweeping and compressed air have no entry and are not allowed where they add to "
    "exposure "
    "(29 CFR 1926.1153(f)): vacuum with a HEPA filter, or clean wet.",
    "sanding by hand": "Sanding by hand, dry, has no entry in Table 1: sand wet, or have the air measured.",
}

# 29 CFR 1910.134 Table 1, from memory.
_RESPIRATORS: Mapping[int, str] = {
    0: "no respirator required",
    10: "respirator with a protection factor of at least 10: half mask with particulate filters, or a "
    "filtering "
    "facepiece such as N95",
    25: "respirator with a protection factor of at least 25: powered, loose-fitting, with HEPA filters, or "
    "a full "
    "face mask (50)",
}


@dataclass(frozen=True, slots=True)
class DustControl:
    """What Table 1 asks for one task.

    task; entry, its numeral; control of the dust; protection_factor, least assigned, 0 for none; respirator
    in words; cautions; basis.
    """

    task: str
    entry: str
    control: str
    protection_factor: int
    respirator: str
    cautions: tuple[str, ...]
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
    not_in_table: Mapping[str, str]
    basis: Basis


@dataclass(frozen=True, slots=True)
class ExposureVerdict:
    """An average judged: passed the limit, at or above the action level (None where there is none), words,
    basis."""

    passed: bool
    action: bool | None
    words: str
    basis: Basis


def _minutes(what: str, value: float) -> None:
    if not (math.isfinite(value) and value >= 0):
        raise ValueError(f"{value} min of {what} cannot be; give the minutes, from zero up")


def dust_control(
    task: TableTask | OtherTask,
    place: Place,
    minutes_of_shift: float,
    method: Method | None = None,
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
    `ValueError` for another word or minutes that cannot be.

    >>> dust_control("handheld power saw", "outdoors", 120).protection_factor
    0
    >>> dust_control("handheld power saw", "outdoors", 300).protection_factor
    10

    References: 29 CFR 1926.1153 Table 1: entries (i) to (v) read in California's identical rule, the rest as
    reported, the controls of (vii) to (xiii) from memory; 29 CFR 1910.134 Table 1, from memory.
    """
    if place not in get_args(Place):
        raise ValueError(f"{place!r} is no place of Table 1; allowed: outdoors, indoors")
    _minutes(task, minutes_of_shift)
    if minutes_of_shift > 1440:
        raise ValueError(f"{minutes_of_shift:g} min do not fit in a day; enter them again")
    if task in get_args(OtherTask):
        raise OutOfRange(_OTHER[task])
    if task not in TABLE_1:
        raise ValueError(
            f"{task!r} is not known here; Table 1 has: {', '.join(TABLE_1)}; without entry: "
            f"{', '.join(_OTHER)}. For "
            "another task have the air measured."
        )
    entry = TABLE_1[task]
    if method is not None and method not in entry.methods:
        raise OutOfRange(
            f"Table 1 entry {entry.numeral} does not have {method!r} for the {task}; it has: {entry.control}."
        )
    if task == "grinder for other uses" and method == "water" and place == "indoors":
        raise OutOfRange(
            "Table 1 entry (xii) allows water alone outdoors only: use shroud and dust collector indoors, "
            "or have the "
            "air measured."
        )
    columns = entry.outdoors if place == "outdoors" else entry.indoors
    if columns is None:
        raise OutOfRange(
            f"Table 1 entry {entry.numeral} holds outdoors only: take the {task} outside, or have the air measured."
        )
    factor = columns[1 if minutes_of_shift > FOUR_HOURS_MIN else 0]
    cautions: tuple[str, ...] = DUST_CAUTIONS
    if place == "indoors":
        cautions = (*DUST_CAUTIONS, "Indoors, move the air so that no visible dust gathers.")
    basis = Basis(
        "29 CFR 1926.1153",
        f"Table 1 {entry.numeral}",
        standing=Standing.READ if entry.seen else Standing.REPORTED,
        note=_SEEN if entry.seen else _NOT_SEEN,
    )
    return DustControl(
        task,
        entry.numeral,
        entry.control,
        factor,
        _RESPIRATORS[factor],
        cautions,
        basis,
    )


def day_controls(tasks: Iterable[tuple[TableTask | OtherTask, Place, float]]) -> DustDay:
    """One person's shift: the minutes of each task, and what the table asks for each.

    The minutes of all tasks in the table are added; over four hours in all, each task takes the column for
    more than four hours.

    Parameters: (task, place, minutes [min]), as often as needed. Result: `DustDay`.
    Errors: those of `dust_control`, except that a task without entry is named in `not_in_table` and its
    minutes do not count for the table; `ValueError` when the minutes do not fit in a day.

    >>> day = day_controls([("handheld power saw", "outdoors", 150), ("drill", "indoors", 120)])
    >>> day.total_min, day.over_four_hours, [control.protection_factor for control in day.controls]
    (270.0, True, [10, 0])

    References: 29 CFR 1926.1153 Table 1 and (c)(3), the latter from memory.
    """
    given = list(tasks)
    minutes: dict[str, float] = {}
    in_table: list[tuple[TableTask | OtherTask, Place]] = []
    not_in_table: dict[str, str] = {}
    total = 0.0
    for task, place, spent in given:
        _minutes(task, spent)
        minutes[task] = minutes.get(task, 0) + spent
        if task in _OTHER:
            not_in_table[task] = _OTHER[task]
            continue
        if task not in TABLE_1:
            dust_control(task, place, spent)
        total += spent
        if (task, place) not in in_table:
            in_table.append((task, place))
    if sum(minutes.values()) > 1440:
        raise ValueError(f"{sum(minutes.values()):g} min do not fit in a day; enter them again")
    controls = tuple(dust_control(task, place, total) for task, place in in_table)
    basis = Basis("29 CFR 1926.1153", "Table 1 and (c)(3)", note="Paragraph (c)(3) is from memory.")
    return DustDay(minutes, total, total > FOUR_HOURS_MIN, controls, not_in_table, basis)


def time_weighted_average(periods: Iterable[tuple[float, float]]) -> float:
    """The 8-hour average of what was breathed over a shift.

    E = (C1 T1 + ... + Cn Tn) / 8 h

    Parameters: (concentration, minutes), in any one unit of concentration [for silica ug/m3] and [min], for
    one person; time that is left out counts as free of dust. Result: the average, in the same unit.
    Limits: up to 24 h. A shift longer than 8 h is still divided by 8 h. The limit itself is not scaled by
    hours worked: the rule "400 divided by hours" is for lead.
    Errors: `ValueError` for figures below zero, or more than a day.

    >>> time_weighted_average([(150, 120), (75, 120), (50, 240)])
    81.25

    References: 29 CFR 1910.1000(d)(1)(i), with this example (in ppm).
    """
    total = 0.0
    minutes = 0.0
    for concentration, spent in periods:
        if not (math.isfinite(concentration) and concentration >= 0):
            raise ValueError(f"a concentration of {concentration} cannot be; give zero or more")
        _minutes("exposure", spent)
        total += concentration * spent
        minutes += spent
    if minutes > 1440:
        raise ValueError(f"{minutes:g} min do not fit in a day; enter them again")
    return total / SHIFT_MIN


def mixture_exposure(exposures_and_limits: Sequence[tuple[float, float]]) -> float:
    """The equivalent exposure to several contaminants that act alike.

    E_m = C1 / L1 + ... + Cn / Ln; above 1 the limit of the mixture is exceeded.

    Parameters: (average, limit), each pair in its own unit; limits above 0. Result: [-].
    Errors: `ValueError` for none, figures below zero or a limit of zero.

    >>> mixture_exposure([(500, 1000), (45, 200), (40, 200)])
    0.925

    References: 29 CFR 1910.1000(d)(2), with this example.
    """
    if not exposures_and_limits:
        raise ValueError("no contaminant was given; give at least one average with its limit")
    for average, limit in exposures_and_limits:
        if not (math.isfinite(average) and average >= 0 and math.isfinite(limit) and limit > 0):
            raise ValueError(f"{average} against a limit of {limit} cannot be; give a limit above zero")
    return math.fsum(average / limit for average, limit in exposures_and_limits)


def exposure_limit(jurisdiction: Jurisdiction = "US") -> tuple[float, Basis]:
    """The 8-hour limit for respirable crystalline silica [ug/m3], and its source.

    US 50 (permissible exposure limit), UK 100 (workplace exposure limit, 0.1 mg/m3).

    Errors: `ValueError` for another jurisdiction.

    >>> exposure_limit("UK")[0]
    100.0

    References: 29 CFR 1926.1153(d)(1); HSE EH40. NIOSH recommends 50 (10 h), ACGIH 25 (8 h).
    """
    if jurisdiction not in get_args(Jurisdiction):
        raise ValueError(f"{jurisdiction!r} has no limit here; allowed: US, UK. Ask for the local one.")
    return (PEL_UG_M3, _PEL) if jurisdiction == "US" else (UK_LIMIT_UG_M3, _WEL)


_HAIR = 1e-9


def exposure_verdict(average_ug_m3: float, jurisdiction: Jurisdiction = "US") -> ExposureVerdict:
    """Judge an 8-hour average of respirable crystalline silica.

    Passes up to and including the limit. In the US the action level of 25 counts from exactly 25 up.

    Parameters: average_ug_m3, from `time_weighted_average` [ug/m3], without regard to respirators;
    jurisdiction.
    Result: `ExposureVerdict`. Errors: `ValueError` below zero or for another jurisdiction.

    >>> exposure_verdict(37.5).words
    '37.5 µg/m³ is at or above the action level of 25 and within the limit of 50: measure again and keep
    records.'

    References: 29 CFR 1926.1153(b) and (d)(1); HSE EH40.
    """
    if not (math.isfinite(average_ug_m3) and average_ug_m3 >= 0):
        raise ValueError(f"an average of {average_ug_m3} µg/m³ cannot be; give zero or more")
    limit, basis = exposure_limit(jurisdiction)
    shown = f"{average_ug_m3:.4g} µg/m³"
    action = average_ug_m3 >= ACTION_LEVEL_UG_M3 * (1 - _HAIR) if jurisdiction == "US" else None
    if average_ug_m3 > limit * (1 + _HAIR):
        words = f"{shown} is over the limit of {limit:g}: stop, cut wet or extract, and measure again."
        return ExposureVerdict(False, action, words, basis)
    if action:
        words = (
            f"{shown} is at or above the action level of {ACTION_LEVEL_UG_M3:g} and within the limit of "
            f"{limit:g}: "
            "measure again and keep records."
        )
        return ExposureVerdict(True, True, words, _LEVEL)
    if jurisdiction == "US":
        words = f"{shown} is below the action level of {ACTION_LEVEL_UG_M3:g}: keep the controls as they are."
        return ExposureVerdict(True, False, words, _LEVEL)
    words = f"{shown} is within the limit of {limit:g}: bring it as low as reasonably practicable."
    return ExposureVerdict(True, None, words, basis)


def minutes_left(
    concentration_ug_m3: float,
    periods: Iterable[tuple[float, float]] = (),
    ceiling_ug_m3: float = ACTION_LEVEL_UG_M3,
) -> float:
    """How long one may go on at a measured concentration before the 8-hour average reaches a ceiling.

    t = max(0, 480 (L - E) / C), and no longer than what is left of 24 h.

    Parameters: concentration_ug_m3, C [ug/m3], above 0; periods so far, see `time_weighted_average`, giving
    E; ceiling_ug_m3, L [ug/m3], the US action level unless given. Result: [min].
    Errors: `ValueError` for figures not above zero.

    >>> minutes_left(120, [(10, 360)], ceiling_ug_m3=37.5)
    120.0

    References: 29 CFR 1910.1000(d)(1)(i), solved for time.
    """
    for what, value in (("concentration", concentration_ug_m3), ("ceiling", ceiling_ug_m3)):
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"a {what} of {value} µg/m³ cannot be; give it above zero")
    done = list(periods)
    left = SHIFT_MIN * (ceiling_ug_m3 - time_weighted_average(done)) / concentration_ug_m3
    return min(max(0.0, left), 1440.0 - sum(spent for _, spent in done))
