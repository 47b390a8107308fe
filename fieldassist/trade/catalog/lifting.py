"""Entries on weight and lifting."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from typing import get_args

from fieldassist.trade import lifting
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.results import as_words, verdict_row
from fieldassist.trade.catalog.shared import LIFTING_CAUTIONS, asking
from fieldassist.trade.message import Message, Refused, message

_in = asking("lifting")
_MANUAL = BASES["lifting-manual"]

_SINGLE_LIMIT = _in("single-limit", "mass", "20 kg", f"{lifting.HSE_FILTER_KG:g} kg")
_CONSTANTS = ("metric", "us")


def _piece_weight(values: Values) -> Iterable[ResultRow]:
    weight = lifting.piece_weight(
        values["length"], values["width"], values["thickness"], values["density"], values["weighed"]
    )
    return [
        ResultRow("weight", weight.kg, "kg", weight.basis),
        ResultRow("weight per area", weight.kg_per_m2, "kg/m2", weight.basis),
    ]


def _who_may_lift(values: Values) -> Iterable[ResultRow]:
    advice = lifting.who_may_lift(values["weight"], values["single-limit"], values["people"])
    nobody = Message("lifting-no-team") if advice.people is None else None
    return [
        ResultRow("people", advice.people, basis=advice.basis, told=nobody),
        ResultRow("who", advice.words, basis=advice.basis),
        as_words("cautions", advice.cautions, "sentences", basis=advice.basis),
    ]


def _team_lift(values: Values) -> Iterable[ResultRow]:
    team = lifting.team_capacity(values["limits"])
    return [
        ResultRow("together", team.kg, "kg", team.basis),
        ResultRow("share of the sum of single limits", team.factor, basis=team.basis),
        ResultRow("caution", team.caution, basis=team.basis),
    ]


def _handling_filter(values: Values) -> Iterable[ResultRow]:
    found = lifting.handling_filter(values["person"], values["lifts-per-minute"], values["twist"])
    return [ResultRow("filter", found.kg, "kg", found.basis), as_words("cuts", found.cuts, basis=found.basis)]


def _limit_at(limit: lifting.WeightLimit, where: str) -> Iterable[ResultRow]:
    yield ResultRow(f"limit {where}", limit.kg, "kg", limit.basis)
    for multiplier in fields(limit.multipliers):
        yield ResultRow(
            f"{multiplier.name} multiplier {where}", getattr(limit.multipliers, multiplier.name), "", limit.basis
        )
    yield as_words(f"limit {where}, because", limit.reasons, basis=limit.basis)


def _lifting_limit(values: Values) -> Iterable[ResultRow]:
    lifting.check_covered(values["conditions"] or ())
    ends = [values[name] is not None for name in ("to-reach", "to-height")]
    if any(ends) and not all(ends):
        raise Refused(message("lifting-half-a-destination"))
    travel = values["travel"]
    if travel is None:
        if not all(ends):
            raise Refused(message("lifting-no-travel"))
        travel = abs(values["to-height"] - values["height"])

    def limit(reach: float, height: float, turn: float, origin: float | None) -> lifting.WeightLimit:
        return lifting.recommended_weight_limit(
            reach,
            height,
            travel,
            turn,
            values["lifts-per-minute"],
            values["duration"],
            values["grip"],
            origin_vertical_mm=origin,
            constants=values["constants"],
            rounding=values["rounding"],
        )

    origin = limit(values["reach"], values["height"], values["turn"], None)
    rows, governs = [*_limit_at(origin, "at the origin")], origin
    if all(ends):
        turn = values["turn"] if values["to-turn"] is None else values["to-turn"]
        other = limit(values["to-reach"], values["to-height"], turn, values["height"])
        governs = lifting.lower_limit(origin, other)
        rows += _limit_at(other, "at the destination")
        rows.append(ResultRow("limit that governs", governs.kg, "kg", governs.basis))
    if values["load"] is not None:
        rows += _index(lifting.lifting_index(values["load"], governs))
    return rows


def _index(index: lifting.LiftingIndex) -> list[ResultRow]:
    none = Message("lifting-no-index") if index.index is None else None
    return [
        ResultRow("lifting index", index.index, basis=index.basis, told=none),
        ResultRow("words", index.words, basis=index.basis),
    ]


def _lifting_frequency(values: Values) -> Iterable[ResultRow]:
    column = lifting.duration_class(values["work"], values["recovery"], values["edition"])
    rate = values["lifts-per-minute"]
    if values["burst"] is not None:
        rate = lifting.average_frequency(rate, values["burst"])
    multiplier = lifting.frequency_multiplier(rate, column, values["below-waist"])
    return [
        ResultRow("lifts per minute to enter", float(rate)),
        ResultRow("duration", column, told=Message(f"lifting-duration-{column}")),
        ResultRow("frequency multiplier", multiplier),
    ]


def _hand_distance(values: Values) -> Iterable[ResultRow]:
    reach = lifting.horizontal_distance(values["load-depth"], values["height"], values["constants"])
    return [ResultRow("reach", reach, "mm")]


def _suction_margin(values: Values) -> Iterable[ResultRow]:
    margin = lifting.suction_margin(
        values["weight"], values["holding"], hoisted=values["hoisted"], rated=values["rated"]
    )
    return [
        ResultRow("holds, times the weight", margin.factor, basis=margin.basis),
        ResultRow("must hold, times the weight", margin.required, basis=margin.basis),
        verdict_row(margin.passed, basis=margin.basis),
        as_words("reasons", margin.reasons, basis=margin.basis),
        as_words("checks", margin.checks, "sentences", basis=margin.basis),
    ]


_EQUATION = (
    "lifting-half-a-destination",
    "lifting-no-travel",
    "lifting-not-covered",
    "lifting-too-often",
)

ENTRIES = (
    Calculation(
        "piece-weight",
        "lifting",
        (
            _in("length", "length", "1000 mm"),
            _in("width", "length", "3000 mm"),
            _in("thickness", "length", "6 mm"),
            _in("density", "density", "2400 kg/m3", f"{lifting.DENSITY_KG_M3:g} kg/m3"),
            _in("weighed", "mass", "45 kg", optional=True),
        ),
        _piece_weight,
        (lifting.piece_weight,),
        cautions=LIFTING_CAUTIONS,
        refuses=("lifting-density-outside",),
    ),
    Calculation(
        "who-may-lift",
        "lifting",
        (_in("weight", "mass", "28.2 kg"), _SINGLE_LIMIT, _in("people", "count", "1", optional=True)),
        _who_may_lift,
        (lifting.who_may_lift,),
        cautions=LIFTING_CAUTIONS,
        refuses=("lifting-nobody-here",),
    ),
    Calculation(
        "people-needed",
        "lifting",
        (_in("weight", "mass", "28 kg", of="people-needed"), _SINGLE_LIMIT),
        lambda v: [ResultRow("people", lifting.people_needed(v["weight"], v["single-limit"]))],
        (lifting.people_needed,),
        BASES["team"],
        cautions=LIFTING_CAUTIONS,
        refuses=("lifting-over-any-team",),
    ),
    Calculation(
        "team-lift",
        "lifting",
        (_in("limits", "masses", "20 kg; 20 kg"),),
        _team_lift,
        (lifting.team_capacity,),
        cautions=LIFTING_CAUTIONS,
        refuses=("lifting-team-too-large",),
    ),
    Calculation(
        "handling-filter",
        "lifting",
        (
            _in("person", "choice", "woman", "man", choices=("man", "woman")),
            _in("lifts-per-minute", "number", "2", "0", shown=True),
            _in("twist", "angle", "60", "0", shown=True),
        ),
        _handling_filter,
        (lifting.handling_filter,),
        cautions=LIFTING_CAUTIONS,
    ),
    Calculation(
        "lifting-limit",
        "lifting",
        (
            _in("reach", "length", "10 in"),
            _in("height", "length", "22 in"),
            _in("travel", "length", "37 in", optional=True, shown=True),
            _in("turn", "angle", "30", "0"),
            _in("lifts-per-minute", "number", "3", "0.2", shown=True, of="lifting-limit"),
            _in("duration", "choice", "short", choices=get_args(lifting.Duration)),
            _in("grip", "choice", "fair", "poor", choices=get_args(lifting.Coupling), shown=True),
            _in("to-reach", "length", "20 in", optional=True, shown=True),
            _in("to-height", "length", "59 in", optional=True, shown=True),
            _in("to-turn", "angle", "0", optional=True),
            _in("load", "mass", "26 lb", optional=True, shown=True),
            _in("constants", "choice", "us", "metric", choices=_CONSTANTS, shown=True),
            _in("rounding", "choice", "manual", "none", choices=get_args(lifting.Rounding), shown=True),
            _in("conditions", "choices", "kneeling", optional=True, choices=get_args(lifting.Condition)),
        ),
        _lifting_limit,
        (lifting.recommended_weight_limit, lifting.lower_limit, lifting.lifting_index, lifting.check_covered),
        _MANUAL,
        cautions=LIFTING_CAUTIONS,
        refuses=_EQUATION,
    ),
    Calculation(
        "lifting-frequency",
        "lifting",
        (
            _in("lifts-per-minute", "number", "10", of="lifting-frequency"),
            _in("burst", "duration", "8 min", optional=True, shown=True),
            _in("work", "duration", "45 min"),
            _in("recovery", "duration", "50 min", "0 min", shown=True),
            _in("below-waist", "flag", "yes", "yes"),
            _in("edition", "choice", "1994", "2021", choices=("2021", "1994")),
        ),
        _lifting_frequency,
        (lifting.average_frequency, lifting.duration_class, lifting.frequency_multiplier),
        _MANUAL,
        cautions=LIFTING_CAUTIONS,
        refuses=("lifting-day-too-long", "lifting-burst-outside"),
    ),
    Calculation(
        "lifting-job",
        "lifting",
        (
            _in(
                "tasks",
                "lifting tasks",
                "30 lb at 1 per min, limit 20 lb; 20 lb at 2 per min, limit 20 lb; 10 lb at 4 per min, limit 15 lb",
            ),
            _in("duration", "choice", "short", choices=get_args(lifting.Duration), of="lifting-job"),
        ),
        lambda v: _index(lifting.composite_lifting_index(v["tasks"], v["duration"])),
        (lifting.composite_lifting_index,),
        _MANUAL,
        cautions=LIFTING_CAUTIONS,
        refuses=("lifting-task-allows-nothing", "lifting-too-often"),
    ),
    Calculation(
        "hand-distance",
        "lifting",
        (
            _in("load-depth", "length", "400 mm"),
            _in("height", "length", "700 mm", of="hand-distance"),
            _in("constants", "choice", "us", "metric", choices=_CONSTANTS),
        ),
        _hand_distance,
        (lifting.horizontal_distance,),
        _MANUAL,
        cautions=LIFTING_CAUTIONS,
    ),
    Calculation(
        "suction-margin",
        "lifting",
        (
            _in("weight", "mass", "42.3 kg", of="suction-margin"),
            _in("holding", "masses", "50 kg; 50 kg"),
            _in("hoisted", "flag", "yes", "no"),
            _in("rated", "flag", "yes", "no"),
        ),
        _suction_margin,
        (lifting.suction_margin,),
        cautions=LIFTING_CAUTIONS,
    ),
)
