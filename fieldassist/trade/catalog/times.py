"""Entries on the clocks of mortar, and on temperatures."""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.trade import times
from fieldassist.trade.basis import BASES, PRACTICE
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.results import at_least, at_most, verdict_row
from fieldassist.trade.catalog.shared import ARITHMETIC, CEMENT_CAUTIONS, asking
from fieldassist.trade.message import message

_in = asking("times")


def _time(span: times.TimeSpan, name: str) -> list[ResultRow]:
    """One figure where the span is one, otherwise its two ends."""
    if span.least_min == span.greatest_min:
        return [ResultRow(name, span.least_min, "min", span.basis)]
    return [
        ResultRow(f"{name}, at least", span.least_min, "min", span.basis),
        ResultRow(f"{name}, up to", span.greatest_min, "min", span.basis),
    ]


def _open_time(values: Values) -> Iterable[ResultRow]:
    rows = _time(times.open_time(values["data-sheet"], values["mortar-class"]), "open time")
    if values["mortar-class"] is not None and values["data-sheet"] is not None:
        promised = times.open_time_minimum(values["mortar-class"])
        rows.append(ResultRow("promised by the class", promised.least_min, "min", promised.basis))
    return [*rows, ResultRow("the sign that decides", times.OPEN_TIME_TOUCH, basis=PRACTICE)]


def _working_temperature(values: Values) -> Iterable[ResultRow]:
    limits = times.working_temperature((values["least"], values["greatest"]), values["practice"])
    if values["temperature"] is not None:
        judged = times.temperature_verdict(values["temperature"], limits)
        yield verdict_row(judged.passed, basis=judged.basis)
        yield ResultRow("reason", judged.reason, basis=judged.basis)
    yield at_least("coldest", limits.minimum_c, "degC", limits.basis)
    yield at_most("hottest", limits.maximum_c, "degC", limits.basis)


def _cure(values: Values) -> Iterable[ResultRow]:
    wait = {"grout": times.cure_to_grout, "light traffic": times.cure_to_traffic}[values["until"]](values["data-sheet"])
    if values["temperature"] is None:
        yield from _time(wait, "wait")
        return
    span = times.cure_span(wait.least_min, values["temperature"])
    yield ResultRow("at normal temperature", span.base_min, "min")
    yield ResultRow("by the milder rule", span.least_min, "min")
    yield ResultRow("plan with", span.greatest_min, "min")
    yield ResultRow("caution", span.caution)
    for rule in times.CURE_TEMPERATURES:
        label = message("times-out-times-longer-by", rule=rule.removesuffix(" rule"))
        yield ResultRow(f"times longer by the {rule}", times.cure_slowdown(values["temperature"], rule), label=label)


def _comb_area(values: Values) -> Iterable[ResultRow]:
    piece = values["piece"]
    area = times.comb_area(
        values["open-time"],
        values["pace"],
        combing_pace_m2_per_h=values["combing-pace"],
        share=values["share-used"],
        piece_area_m2=None if piece is None else piece[0] * piece[1] / 1e6,
    )
    return [
        ResultRow("largest area to comb at once", area.area_m2, "m2"),
        ResultRow("whole pieces in it", area.pieces),
        ResultRow("open time used", area.minutes, "min"),
    ]


def _clocks(values: Values) -> Iterable[ResultRow]:
    for due in times.clocks_due(values["clocks"]):
        left, up = (message(f"times-out-clock-{what}", clock=due.name) for what in ("left", "up"))
        yield ResultRow(f"{due.name}, left", due.remaining_min, "min", label=left)
        yield ResultRow(f"{due.name}, time is up", due.over, label=up)


ENTRIES = (
    Calculation(
        "slake",
        "times",
        (_in("data-sheet", "duration", "2 h", optional=True),),
        lambda v: _time(times.slake(v["data-sheet"]), "slake"),
        (times.slake,),
        cautions=CEMENT_CAUTIONS,
    ),
    Calculation(
        "pot-life",
        "times",
        (_in("data-sheet", "duration", "2 h", optional=True, shown=True, of="pot-life"),),
        lambda v: _time(times.pot_life(v["data-sheet"]), "pot life"),
        (times.pot_life,),
        refuses=("times-no-pot-life",),
    ),
    Calculation(
        "open-time",
        "times",
        (
            _in("data-sheet", "duration", "25 min", optional=True, of="open-time"),
            _in("mortar-class", "text", "C2TE S1", optional=True, shown=True),
        ),
        _open_time,
        (times.open_time, times.open_time_minimum),
        refuses=("times-no-open-time", "times-no-class", "times-class-without-e"),
    ),
    Calculation(
        "open-time-area",
        "times",
        (
            _in("open-time", "duration", "20 min"),
            _in("pace", "pace", "6 m2/h"),
            _in("combing-pace", "pace", "20 m2/h", optional=True),
            _in("share-used", "share", "75 %", "100 %"),
            _in("piece", "size", "600 x 1200 mm", optional=True, shown=True),
        ),
        _comb_area,
        (times.comb_area,),
        ARITHMETIC,
        refuses=("times-share-of-open-time",),
    ),
    Calculation(
        "clocks",
        "times",
        (_in("clocks", "clocks", "pot life: 30 min of 2 h; open time: 20 min of 20 min"),),
        _clocks,
        (times.clocks_due,),
        ARITHMETIC,
        refuses=("times-clock-below-zero",),
    ),
    Calculation(
        "cure",
        "times",
        (
            _in("until", "choice", "light traffic", "grout", choices=("grout", "light traffic")),
            _in("data-sheet", "duration", "24 h", optional=True, of="cure"),
            _in("temperature", "temperature", "11 C", optional=True, shown=True, of="cure"),
        ),
        _cure,
        (times.cure_to_grout, times.cure_to_traffic, times.cure_span, times.cure_slowdown),
        BASES["cold-cure"],
        refuses=("times-too-cold-to-cure",),
    ),
    Calculation(
        "concrete-age",
        "times",
        (_in("days", "number", "21"), _in("least-days", "number", "42", "28")),
        lambda v: _time(times.concrete_age(v["days"], v["least-days"]), "still to wait"),
        (times.concrete_age,),
    ),
    Calculation(
        "working-temperature",
        "times",
        (
            _in("temperature", "temperature", "8 C", optional=True, shown=True),
            _in("practice", "choice", "eu", "us", choices=("us", "eu")),
            _in("least", "temperature", "5 C", optional=True),
            _in("greatest", "temperature", "30 C", optional=True),
        ),
        _working_temperature,
        (times.working_temperature, times.temperature_verdict),
        refuses=("times-temperatures-cross",),
    ),
)
