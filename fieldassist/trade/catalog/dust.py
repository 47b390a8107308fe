"""Entries on silica dust."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from fieldassist.trade import dust
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.results import as_words, verdict_row
from fieldassist.trade.catalog.shared import asking
from fieldassist.trade.message import Message, message

_in = asking("dust")
_TASKS = (*get_args(dust.TableTask), *get_args(dust.OtherTask))


def _controls(values: Values) -> Iterable[ResultRow]:
    found = dust.dust_control(values["task"], values["place"], values["minutes"], values["method"])
    return [
        ResultRow("task", found.task, basis=found.basis),
        ResultRow("entry", found.entry, basis=found.basis),
        ResultRow("control", found.control, basis=found.basis),
        ResultRow("respirator protection factor", found.protection_factor, basis=found.basis),
        ResultRow("respirator", found.respirator, basis=found.basis),
        as_words("cautions", found.cautions, "sentences", basis=found.basis),
    ]


def _day(values: Values) -> Iterable[ResultRow]:
    day = dust.day_controls(values["tasks"])
    for task, minutes in day.minutes.items():
        yield ResultRow(task, minutes, "min", label=message("dust-out-spent-on", task=task))
    yield ResultRow("in all by the table", day.total_min, "min")
    yield ResultRow("more than four hours", day.over_four_hours)
    seen: dict[str, int] = {}
    for control in day.controls:
        seen[control.task] = seen.get(control.task, 0) + 1
        task = control.task + (f" ({seen[control.task]})" if seen[control.task] > 1 else "")
        told: tuple[tuple[str, str | int | Message], ...] = (
            ("entry", control.entry),
            ("control", control.control),
            ("respirator protection factor", control.protection_factor),
            ("respirator", control.respirator),
        )
        for what, value in told:
            label = message(f"dust-out-task-{what.replace(' ', '-')}", task=task)
            yield ResultRow(f"{task}: {what}", value, basis=control.basis, label=label)
    for task, why in day.not_in_table.items():
        yield ResultRow(f"{task}: not in the table", why, label=message("dust-out-task-not-in-the-table", task=task))


def _verdict(average: float, jurisdiction: dust.Jurisdiction) -> Iterable[ResultRow]:
    judged = dust.exposure_verdict(average, jurisdiction)
    return [
        verdict_row(judged.passed, basis=judged.basis),
        ResultRow("action", judged.action, basis=judged.basis),
        ResultRow("words", judged.words, basis=judged.basis),
    ]


def _average(values: Values) -> Iterable[ResultRow]:
    average = dust.time_weighted_average(values["periods"])
    if values["substance"] == "other":
        return [ResultRow("8-hour average, in the unit given", average)]
    return [ResultRow("8-hour average", average, "ug/m3"), *_verdict(average, values["jurisdiction"])]


def _limit(values: Values) -> Iterable[ResultRow]:
    limit, basis = dust.exposure_limit(values["jurisdiction"])
    if values["average"] is not None:
        yield from _verdict(values["average"], values["jurisdiction"])
    yield ResultRow("limit, 8-hour average", limit, "ug/m3", basis)


def _mixture(values: Values) -> Iterable[ResultRow]:
    exposure = dust.mixture_exposure(values["contaminants"])
    return [ResultRow("equivalent exposure", exposure), verdict_row(exposure <= 1)]


def _minutes_left(values: Values) -> Iterable[ResultRow]:
    left = dust.minutes_left(values["concentration"], values["periods"] or (), values["ceiling"])
    return [ResultRow("time left", left, "min")]


_JURISDICTION = _in("jurisdiction", "choice", "UK", "US", choices=get_args(dust.Jurisdiction))

ENTRIES = (
    Calculation(
        "dust-controls",
        "dust",
        (
            _in("task", "choice", "handheld power saw", choices=_TASKS),
            _in("place", "choice", "indoors", choices=get_args(dust.WorkPlace)),
            _in("minutes", "duration", "2 h"),
            _in("method", "choice", "water", optional=True, choices=get_args(dust.DustMethod)),
        ),
        _controls,
        (dust.dust_control,),
        cautions=dust.DUST_CAUTIONS,
        refuses=(
            "dust-over-a-day",
            "dust-method-not-in-table",
            "dust-water-outdoors-only",
            "dust-outdoors-only",
            *(f"dust-no-entry-{task.replace(' ', '-')}" for task in get_args(dust.OtherTask)),
        ),
    ),
    Calculation(
        "dust-day",
        "dust",
        (
            _in(
                "tasks",
                "dust tasks",
                "handheld power saw, outdoors, 150 min; drill, indoors, 2 h; mixing mortar, indoors, 30 min",
            ),
        ),
        _day,
        (dust.day_controls,),
        BASES["dust-day"],
        cautions=dust.DUST_CAUTIONS,
        refuses=("dust-over-a-day", "dust-outdoors-only"),
    ),
    Calculation(
        "dust-average",
        "dust",
        (
            _in("periods", "periods", "120 for 2 h; 10 for 6 h"),
            _in("substance", "choice", "other", "silica", choices=("silica", "other")),
            _JURISDICTION,
        ),
        _average,
        (dust.time_weighted_average,),
        BASES["dust-average"],
        cautions=dust.DUST_CAUTIONS,
        refuses=("dust-over-a-day",),
    ),
    Calculation(
        "dust-limit",
        "dust",
        (_JURISDICTION, _in("average", "concentration", "37.5 ug/m3", optional=True, shown=True)),
        _limit,
        (dust.exposure_limit, dust.exposure_verdict),
        cautions=dust.DUST_CAUTIONS,
    ),
    Calculation(
        "dust-minutes-left",
        "dust",
        (
            _in("concentration", "concentration", "120 ug/m3"),
            _in("periods", "periods", "10 for 6 h", optional=True, shown=True, of="dust-minutes-left"),
            _in("ceiling", "concentration", "37.5 ug/m3", f"{dust.ACTION_LEVEL_UG_M3:g} ug/m3", shown=True),
        ),
        _minutes_left,
        (dust.minutes_left,),
        BASES["dust-minutes-left"],
        cautions=dust.DUST_CAUTIONS,
        refuses=("dust-over-a-day",),
    ),
    Calculation(
        "dust-mixture",
        "dust",
        (_in("contaminants", "contaminants", "500 of 1000; 45 of 200; 40 of 200"),),
        _mixture,
        (dust.mixture_exposure,),
        BASES["dust-mixture"],
        cautions=dust.DUST_CAUTIONS,
    ),
)
