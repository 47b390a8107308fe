"""The chart of page one, from the facts of the day: every lift against what its area requires."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fieldassist.facts.model import AreaFacts, DayFacts, LiftFact
from fieldassist.language import Words
from fieldassist.report.build.backs import between, read_on
from fieldassist.report.build.dates import time_told
from fieldassist.report.build.figures import contact, measure, piece, whole_percent
from fieldassist.report.build.states import sign_of, standing_lifts
from fieldassist.report.front_model import ChartLift, ChartPanel, LiftChart
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity

# More panels than these find no room beside each other: then all areas that require the same share one.
MOST_PANELS = 8
# So many lifts are told one by one to whoever hears the chart; of more their counts are told, and those that failed.
_TOLD_ONE_BY_ONE = 90


@dataclass(frozen=True, slots=True)
class _Shown:
    """An area with the lifts that were read. number: of the area in the day, from 1."""

    number: int
    area: AreaFacts
    lifts: list[LiftFact]


def lift_chart(facts: DayFacts, words: Words) -> LiftChart | None:
    """Every lift that was read against what its area requires; None for a day without one."""
    read = (_Shown(number, area, _lifts(area)) for number, area in enumerate(facts.areas, 1) if area.trial is None)
    shown = [one for one in read if one.lifts]
    if not shown:
        return None
    by_area = len(shown) <= MOST_PANELS
    panels = [_panel(facts, one, words) for one in shown] if by_area else _shared(facts, shown, words)
    return LiftChart(tuple(panels), words(_alt(facts, shown)), by_area)


def _lifts(area: AreaFacts) -> list[LiftFact]:
    return [lift for lift in area.lifts if lift.percent is not None]


def _panel(facts: DayFacts, shown: _Shown, words: Words) -> ChartPanel:
    area = shown.area
    required = area.required_percent
    limit = "" if required is None else words(_bare(measure(required, "percent")))
    title = message("front-panel", area=area.name, required=limit or "none")
    short = message("front-area", area=area.name)
    lifts = tuple(_lift(facts, shown.number, lift, words) for lift in shown.lifts)
    return ChartPanel(words(title), words(short), required, limit, lifts)


def _shared(facts: DayFacts, shown: list[_Shown], words: Words) -> Iterator[ChartPanel]:
    """One panel for all areas that require the same, the strictest first; lifts in the order of time."""
    for required in sorted({one.area.required_percent for one in shown}, key=lambda one: -(one or 0)):
        alike = [one for one in shown if one.area.required_percent == required]
        each = sorted(((one.number, lift) for one in alike for lift in one.lifts), key=lambda one: one[1].at)
        limit = "" if required is None else words(_bare(measure(required, "percent")))
        title = message("front-panel-areas", areas=len(alike), required=limit or "none")
        lifts = tuple(_lift(facts, number, lift, words) for number, lift in each)
        yield ChartPanel(words(title), limit, required, limit, lifts)


def _lift(facts: DayFacts, area: int, lift: LiftFact, words: Words) -> ChartLift:
    assert lift.percent is not None
    back = read_on(lift)
    return ChartLift(
        str(area),
        lift.number,
        words(time_told(lift.at, facts.date)),
        lift.percent,
        words(_bare(contact(lift.percent, lift.required_percent))),
        sign_of(lift),
        None if back is None else (back.low, back.high),
    )


def _bare(percent: Quantity) -> Quantity:
    """Without its sign: the axis says that it is percent."""
    return Quantity(percent.value, "count", percent.decimals)


# --- in words -----------------------------------------------------------------------------------------------------


def _alt(facts: DayFacts, shown: list[_Shown]) -> Message:
    each = sum(len(one.lifts) for one in shown) <= _TOLD_ONE_BY_ONE
    areas = tuple(_area_told(facts, one.area, one.lifts, each=each) for one in shown)
    return message("front-chart-alt", areas=Several(areas, "sentences"))


def _area_told(facts: DayFacts, area: AreaFacts, lifts: list[LiftFact], *, each: bool) -> Figure:
    required: Figure = "none" if area.required_percent is None else measure(area.required_percent, "percent")
    told = lifts if each else [lift for lift in lifts if lift.verdict == "failed"]
    # In the figures of the area's row: a lift that failed and was set anew stands no longer, and is told by itself.
    standing = standing_lifts(area)
    lines = tuple(
        message(
            "front-chart-lift",
            sure="no" if (back := read_on(lift)) is None else "yes",
            between="" if back is None else between(back.low, back.high),
            lift=str(lift.number),
            piece=piece(area.piece.product, lift.tile),
            at=time_told(lift.at, facts.date),
            percent=contact(lift.percent or 0, lift.required_percent),
            verdict=(lift.verdict or "open").replace(" ", "-"),
            eye="yes" if lift.way == "eye" else "no",
        )
        for lift in told
    )
    return message(
        "front-chart-area",
        area=area.name,
        required=required,
        count=len(lifts),
        good=sum(lift.verdict == "passed" for lift in lifts),
        worst="none" if standing.worst is None else contact(standing.worst, area.required_percent),
        mean="none" if standing.mean is None else whole_percent(standing.mean),
        told=len(lines),
        lifts=Several(lines, "clauses"),
    )
