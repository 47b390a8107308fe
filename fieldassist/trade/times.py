"""The clocks of cement mortar: slake, pot life, open time, cure; and how much may be combed before time is up.

The product's data sheet goes before every default here. Temperature scaling is a caution only: the rules that
circulate disagree, and no standard gives one.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fieldassist.trade.basis import BASES, Basis, OutOfRange, cite
from fieldassist.trade.checks import measured, not_negative, one_of, positive
from fieldassist.trade.limits import Limit, exactly
from fieldassist.trade.message import Figure, Message, Refused, message

__all__ = [
    "CURE_TEMPERATURES",
    "OPEN_TIME_TOUCH",
    "CombArea",
    "CureSpan",
    "Due",
    "TemperatureRange",
    "TemperatureVerdict",
    "TimeSpan",
    "clocks_due",
    "comb_area",
    "concrete_age",
    "cure_slowdown",
    "cure_span",
    "cure_to_grout",
    "cure_to_traffic",
    "open_time",
    "open_time_minimum",
    "pot_life",
    "slake",
    "temperature_verdict",
    "working_temperature",
]


@dataclass(frozen=True, slots=True)
class TemperatureRange:
    """Air and surface temperatures in which work may go on [degC]."""

    minimum_c: float
    maximum_c: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class TemperatureVerdict:
    """Whether a temperature allows work, and why."""

    passed: bool
    reason: Message
    basis: Basis


@dataclass(frozen=True, slots=True)
class TimeSpan:
    """A duration with its span [min]; `least_min` equals `greatest_min` where one figure is given."""

    least_min: float
    greatest_min: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class CureSpan:
    """A cure time under each rule of thumb for cold [min]; `caution` says how far to trust it."""

    base_min: float
    least_min: float
    greatest_min: float
    caution: Message


@dataclass(frozen=True, slots=True)
class CombArea:
    """The largest area to comb at once [m2], and in whole pieces where the piece is known."""

    area_m2: float
    pieces: int | None
    minutes: float


@dataclass(frozen=True, slots=True)
class Due:
    """One running clock: minutes left (below zero when over), and whether it has run out."""

    name: str
    remaining_min: float
    over: bool


# The field sign that decides, whatever the clock says.
OPEN_TIME_TOUCH = Message("times-touch")

_PRACTICE_C: Mapping[str, tuple[float, float, Basis]] = {
    "us": (10.0, (100 - 32) / 1.8, BASES["temperature-us"]),
    "eu": (5.0, 35.0, BASES["temperature-eu"]),
}


def working_temperature(
    data_sheet_c: tuple[float | None, float | None] = (None, None), practice: Literal["us", "eu"] = "us"
) -> TemperatureRange:
    """The air and surface temperatures in which cement mortar may be worked.

    | practice | least | greatest |
    |---|---|---|
    | us | 50 °F (10 °C) | 100 °F (37.8 °C) |
    | eu | 5 °C | 35 °C |

    Parameters: data_sheet_c, the sheet's own (least, greatest) [degC], which goes first; an end that it does
    not give is None and taken from practice; practice.
    Result: limits [degC] with basis. Errors: `Refused` for another practice or limits that cross.

    >>> working_temperature().minimum_c
    10.0
    >>> working_temperature((5.0, 30.0)).basis.id
    'data-sheet'
    >>> half = working_temperature((15.0, None))
    >>> half.minimum_c, round(half.maximum_c, 1)
    (15.0, 37.8)

    References: common practice. The floor of 50 °F as reported in trade literature, the rest from memory. US
    guide specifications add: 50 °F and rising, and kept for at least 7 days after (UFGS 09 30 10 §1.7, from
    memory).
    """
    one_of("practice", practice, _PRACTICE_C)
    usual_least, usual_greatest, usual = _PRACTICE_C[practice]
    own_least, own_greatest = data_sheet_c
    least = usual_least if own_least is None else own_least
    greatest = usual_greatest if own_greatest is None else own_greatest
    if not least < greatest:
        ends = {"least": measured(least, "degC"), "greatest": measured(greatest, "degC")}
        raise Refused(message("times-temperatures-cross", **ends))
    if own_least is None and own_greatest is None:
        basis = usual
    elif own_greatest is None:
        basis = cite("data-sheet-least-temperature", other=usual.told)
    elif own_least is None:
        basis = cite("data-sheet-greatest-temperature", other=usual.told)
    else:
        basis = BASES["data-sheet"]
    return TemperatureRange(least, greatest, basis)


def temperature_verdict(temperature_c: float, limits: TemperatureRange) -> TemperatureVerdict:
    """Whether work may go on at a temperature; exactly at a limit it may.

    Parameters: temperature_c of the air or of the surface, whichever is worse [degC]; limits.
    Errors: `Refused` when it is not a number.

    >>> verdict = temperature_verdict(8.0, working_temperature())
    >>> verdict.passed, verdict.reason.code
    (False, 'times-too-cold')

    References: see `working_temperature`.
    """
    if not math.isfinite(temperature_c):
        raise Refused(message("times-no-temperature"))
    range_ = Limit.of(limits.minimum_c, limits.maximum_c, "degC", limits.basis)
    judged = range_.judge(exactly(temperature_c, "degC"))
    code = {"under": "times-too-cold", "over": "times-too-hot", "passed": "times-temperature-right"}[judged.code]
    return TemperatureVerdict(judged.passed, message(code, **judged.figures), limits.basis)


_EN_CLASS = re.compile(r"C[12](?P<letters>[FTE]{0,3})(?:S[12])?")
_A118_CLASS = re.compile(r"A118\.(?:1|4|11|15)(?P<letters>[HTEF]{0,4})")


def open_time_minimum(mortar_class: str) -> TimeSpan:
    """The least open time that a class marking promises, at the laboratory's climate.

    | marking | least open time |
    |---|---|
    | C1, C2 (EN 12004, ISO 13007) | 20 min |
    | with E (extended) | 30 min |
    | with F (fast), without E | 10 min |
    | A118.x with E | 30 min |

    Parameters: mortar_class, such as "C2TE S1" or "A118.15HTE"; blanks and hyphens do not matter.
    Result: [min], least_min = greatest_min, with basis.
    Limits: found on a test slab at 23 °C and 50 % humidity without wind; sun, wind, heat and a thirsty base
    leave much less. A draft revision of EN 12004 drops classes C2, E, T, S1 and S2 from its part 1.
    Errors: `Refused` for a marking that is not read; `OutOfRange` for A118 without E, which promises none.

    >>> open_time_minimum("C2TE S1").least_min
    30.0

    References: [1] EN 12004-1:2017 and ISO 13007-1, adhesion at least 0.5 N/mm2 after that time, as reported
    in trade literature. [2] ANSI A118.4 and A118.15, suffix E, from memory.
    """
    marking = re.sub(r"[\s\-/]", "", mortar_class.upper()).removeprefix("ANSI")
    if match := _EN_CLASS.fullmatch(marking):
        letters = match["letters"]
        if len(set(letters)) == len(letters):
            minutes = 30.0 if "E" in letters else 10.0 if "F" in letters else 20.0
            return TimeSpan(minutes, minutes, BASES["open-time-class"])
    elif match := _A118_CLASS.fullmatch(marking):
        if "E" in match["letters"]:
            standard = marking[: match.start("letters")].lower().replace(".", "-")
            return TimeSpan(30.0, 30.0, BASES[f"{standard}-open-time"])
        raise OutOfRange(message("times-class-without-e", marking=mortar_class))
    raise Refused(message("times-no-class", marking=mortar_class))


def _given(what: str, data_sheet_min: float) -> TimeSpan:
    positive(what, data_sheet_min, "min")
    return TimeSpan(data_sheet_min, data_sheet_min, BASES["data-sheet"])


def slake(data_sheet_min: float | None = None) -> TimeSpan:
    """How long the mixed mortar rests before it is mixed again, without more water.

    5 to 10 min where the data sheet gives nothing.

    Parameters: data_sheet_min [min]. Result: [min]. Errors: `Refused` for a figure that is not above zero.

    >>> slake().least_min, slake().greatest_min
    (5.0, 10.0)

    References: common practice, no published source; the bag rules.
    """
    if data_sheet_min is not None:
        return _given("slake", data_sheet_min)
    return TimeSpan(5.0, 10.0, BASES["slake"])


def pot_life(data_sheet_min: float | None = None) -> TimeSpan:
    """How long the mixed mortar stays usable in the pail. Only the data sheet knows.

    Parameters: data_sheet_min [min]. Result: [min].
    Errors: `OutOfRange` without the data sheet's figure; `Refused` for one that is not above zero.

    >>> pot_life(120).least_min
    120

    References: the product's data sheet; the term is that of EN 12004.
    """
    if data_sheet_min is None:
        raise OutOfRange(message("times-no-pot-life"))
    return _given("pot-life", data_sheet_min)


def open_time(data_sheet_min: float | None = None, mortar_class: str | None = None) -> TimeSpan:
    """How long combed mortar may wait for the tile: the data sheet's figure, otherwise what the class promises.

    Parameters: data_sheet_min [min]; mortar_class, see `open_time_minimum`. Result: [min].
    Errors: `OutOfRange` when neither is given; those of `open_time_minimum`.

    >>> open_time(25).least_min, open_time(None, "C2").least_min
    (25, 20.0)

    References: BS 5385-1 (definition); see `open_time_minimum`.
    """
    if data_sheet_min is not None:
        return _given("open-time", data_sheet_min)
    if mortar_class is None:
        raise OutOfRange(message("times-no-open-time"))
    return open_time_minimum(mortar_class)


def cure_to_grout(data_sheet_min: float | None = None) -> TimeSpan:
    """The wait from setting to grouting: about 24 h for a normally setting mortar in a normal climate.

    Parameters: data_sheet_min [min]. Result: [min]. Longer when cold, on dense bases and under large dense
    tile.
    Errors: `Refused` for a figure that is not above zero.

    >>> cure_to_grout().least_min / 60
    24.0

    References: common practice from memory; the bag rules.
    """
    if data_sheet_min is not None:
        return _given("cure", data_sheet_min)
    return TimeSpan(1440.0, 1440.0, BASES["cure"])


def cure_to_traffic(data_sheet_min: float | None = None) -> TimeSpan:
    """The wait from setting to light traffic; without a data sheet the same 24 h as `cure_to_grout`.

    Parameters: data_sheet_min [min]. Result: [min]. Errors: `Refused` for a figure that is not above zero.

    >>> cure_to_traffic(36 * 60).least_min
    2160

    References: common practice from memory; the bag rules. Wet areas dry out fully before they are used
    (ANSI A108.5, as reported in trade literature).
    """
    return _given("cure", data_sheet_min) if data_sheet_min is not None else cure_to_grout()


# (reference temperature, step that doubles the time), both in degrees Celsius
CURE_TEMPERATURES: Mapping[str, tuple[float, float]] = {
    "18 °F rule": ((70 - 32) / 1.8, 10.0),
    "8 °C rule": (21.0, 8.0),
}


def cure_slowdown(temperature_c: float, rule: str = "18 °F rule") -> float:
    """How many times longer a cold mortar takes to cure, by a rule of thumb.

    k = 2^((T0 - T) / s), T0 = 70 °F, s = 18 °F (10 °C); rival rule: T0 = 21 °C, s = 8 °C

    Parameters: temperature_c of the base [degC]; rule, a key of `CURE_TEMPERATURES`.
    Result: factor, at least 1.
    Limits: 5 °C to the reference temperature. Above it the rule does not run the other way: warmth shortens
    open time and can spoil the cure, so nobody may grout earlier on its account.
    Errors: `OutOfRange` below 5 °C; `Refused` for another rule.

    >>> round(cure_slowdown((70 - 32) / 1.8 - 10), 2)
    2.0
    >>> cure_slowdown(30.0)
    1.0

    References: trade articles, which conflict (one prints the sign backwards); treat it as a caution.
    """
    one_of("rule-of-thumb", rule, CURE_TEMPERATURES)
    if not temperature_c >= 5:
        ends = {"temperature": measured(temperature_c, "degC"), "least": exactly(5.0, "degC")}
        raise OutOfRange(message("times-too-cold-to-cure", **ends))
    reference, step = CURE_TEMPERATURES[rule]
    return math.exp2(max(0.0, reference - temperature_c) / step)


def cure_span(base_min: float, temperature_c: float) -> CureSpan:
    """A cure time in the cold, by both rules of thumb, worded as a caution.

    Parameters: base_min, the data sheet's time at normal temperature [min]; temperature_c [degC].
    Result: [min]; the wait to plan with is `greatest_min`.
    Errors: those of `cure_slowdown`; `Refused` for a time that is not above zero.

    >>> span = cure_span(24 * 60, 11.0)
    >>> round(span.least_min / 60), round(span.greatest_min / 60)
    (48, 57)

    References: see `cure_slowdown`.
    """
    positive("cure", base_min, "min")
    spans = [base_min * cure_slowdown(temperature_c, rule) for rule in CURE_TEMPERATURES]
    least, greatest = min(spans), max(spans)
    figures: dict[str, Figure] = {"temperature": exactly(temperature_c, "degC")}
    if greatest == base_min:
        caution = message("times-cure-stands", **figures)
    else:
        hours = {"least": least, "greatest": greatest, "usual": base_min}
        figures |= {name: exactly(minutes / 60, "h") for name, minutes in hours.items()}
        caution = message("times-cure-longer", **figures)
    return CureSpan(base_min, least, greatest, caution)


def concrete_age(age_days: float, least_days: float = 28.0) -> TimeSpan:
    """How long new concrete still has to wait before it is tiled.

    Parameters: age_days [d], at least 0; least_days [d]. Result: the wait [min], 0 when old enough.
    Errors: `Refused` for figures out of range.

    >>> concrete_age(21).least_min / 1440
    7.0

    References: 28 days, common practice, and a summary of AS 3958, as reported in trade literature.
    """
    positive("least-age", least_days)
    not_negative("age-of-the-concrete", age_days)
    wait = max(0.0, least_days - age_days) * 1440
    return TimeSpan(wait, wait, BASES["concrete-age"])


def comb_area(
    open_time_min: float,
    pace_m2_per_h: float,
    *,
    combing_pace_m2_per_h: float | None = None,
    share: float = 1.0,
    piece_area_m2: float | None = None,
) -> CombArea:
    """The largest area to comb before the first mortar combed runs out of open time.

    A = s t P / 60. When the place combed first may be tiled last, the mortar there waits A / P, with P the
    pace of combing and setting together; with the pace of setting alone and of combing c, 1 / P = 1 / p + 1 /
    c.

    Parameters: open_time_min [min]; pace_m2_per_h, combing and setting together, or setting alone when
    combing_pace_m2_per_h is given [m2/h]; share of the open time to use, above 0 up to 1 (less in sun, wind
    and heat); piece_area_m2 [m2], to count whole pieces.
    Result: area [m2], whole pieces that fit it, and the minutes used. 0 pieces means that one piece takes
    longer than the open time: comb half of it, or have one person comb and another set.
    Errors: `Refused` outside these.

    >>> comb_area(20.0, 6.0, piece_area_m2=0.72)
    CombArea(area_m2=2.0, pieces=2, minutes=20.0)

    References: arithmetic; open time from the data sheet.
    """
    positive("open-time", open_time_min, "min")
    positive("pace", pace_m2_per_h)
    if not 0 < share <= 1:
        raise Refused(message("times-share-of-open-time", share=measured(share, "count")))
    pace = pace_m2_per_h
    if combing_pace_m2_per_h is not None:
        positive("combing-pace", combing_pace_m2_per_h)
        pace = 1 / (1 / pace_m2_per_h + 1 / combing_pace_m2_per_h)
    minutes = open_time_min * share
    area = minutes * pace / 60
    pieces = None
    if piece_area_m2 is not None:
        positive("area-of-a-piece", piece_area_m2, "m2")
        pieces = math.floor(round(area / piece_area_m2, 9))
    return CombArea(area, pieces, minutes)


def clocks_due(elapsed_and_limit_min: Mapping[str, tuple[float, float]]) -> tuple[Due, ...]:
    """The running clocks, the most urgent first.

    Parameters: by name, the minutes elapsed since the start and the minutes allowed [min].
    Result: one `Due` a clock; over when elapsed >= allowed, since mortar at its limit is at its end.
    Errors: `Refused` for a negative figure.

    >>> [(due.name, due.remaining_min, due.over) for due in clocks_due({"pot": (30, 120), "open": (20, 20)})]
    [('open', 0, True), ('pot', 90, False)]

    References: arithmetic.
    """
    for name, (elapsed, limit) in elapsed_and_limit_min.items():
        if not (elapsed >= 0 and limit >= 0):
            raise Refused(message("times-clock-below-zero", clock=name))
    due = [Due(name, limit - e, e >= limit) for name, (e, limit) in elapsed_and_limit_min.items()]
    return tuple(sorted(due, key=lambda clock: clock.remaining_min))
