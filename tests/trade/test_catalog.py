"""The catalog of computations: all of them within reach, and what they say against published values.

The values were checked at their source beside each row; here they pass through text, units and names.
"""

from __future__ import annotations

import inspect
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from importlib import import_module
from types import FrameType, ModuleType

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fieldassist.trade import coverage, dust, flatness, lifting, mortar, quantities, ridges, sampling, times
from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.catalog import (
    CALCULATIONS,
    NAMES,
    Calculation,
    Input,
    Result,
    UnknownCalculation,
    bases_of,
    evaluate,
    find_calculation,
    read_inputs,
    system_of,
    verdict_of,
)
from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.quantities import Quantity, System, canonical, parse_quantity
from tests.trade.telling import METRIC, US, words

MODULES = (quantities, ridges, coverage, mortar, times, flatness, lifting, dust, sampling)
ALL = list(CALCULATIONS.values())
each = pytest.mark.parametrize("calculation", ALL, ids=list(CALCULATIONS))

# Inputs that cannot stand beside the worked example, and why.
AGAINST_THE_EXAMPLE = {
    **{
        (calculation.name, spec.name): "the example names its notch"
        for calculation in ALL
        if "notch" in calculation.example
        for spec in calculation.inputs
        if spec.name.startswith("notch-")
    },
    **{
        ("notch-advice", name): "a notch is described by all its sizes"
        for name in ("notch-family", "notch-width", "notch-depth", "notch-spacing", "notch-pitch", "notch-lean")
    },
    ("lifting-limit", "conditions"): "the equation refuses them",
    ("bed", "back-notch"): "only with both sides combed",
    ("filling", "back-notch"): "only with both sides combed",
}

# Figures that are ratios, indexes or counts of something named, and so carry no unit.
BARE = (
    "multiplier",
    "times",
    "factor",
    "index",
    "share of the sum",
    "exposure",
    "in the unit given",
    "bags",
    "per minute",
    "batch",
)


def by_name(results: tuple[Result, ...]) -> dict[str, Result]:
    return {result.name: result for result in results}


# Text that an input of this kind may not take although it is a number with its unit.
READING = {
    "count": {"calc-not-whole"},
    "share": {"calc-not-a-share"},
    "size": {"quantities-size-zero"},
}
# A figure that the message itself shows to be impossible.
IMPOSSIBLE = {
    "what-not-above-zero": lambda told: number(told, "value") <= 0,
    "what-below-zero": lambda told: number(told, "value") < 0,
    "what-outside": lambda told: not number(told, "low") <= number(told, "value") <= number(told, "high"),
    "what-no-share": lambda told: not 0 < number(told, "value") < 1,
    "what-no-count": lambda told: (
        number(told, "value") != int(number(told, "value")) or number(told, "value") < number(told, "least")
    ),
    "what-too-many": lambda told: number(told, "value") > number(told, "most"),
    # Divided by next to nothing, or the square of a thousand million.
    "calc-beyond-measure": lambda told: not told.figures,
}


def number(told: Message, name: str) -> float:
    figure = told.figures[name]
    return float(figure.value if isinstance(figure, Quantity) else figure)  # type: ignore[arg-type]


def check_refusal(calculation: Calculation, told: Message, kinds: dict[str, str]) -> None:
    """A refusal that the entry declares, or one whose own figures show that it had to be."""
    assert METRIC.has(told.code)
    if told.code == "calc-input-refused":
        problem = told.figures["problem"]
        assert isinstance(problem, Message)
        assert problem.code in READING.get(kinds[str(told.figures["input"])], set()), problem
    elif told.code in IMPOSSIBLE:
        assert IMPOSSIBLE[told.code](told), told
    else:
        assert told.code in calculation.refuses, told


def check_answered(calculation: Calculation, texts: dict[str, str], system: System = "metric") -> None:
    """Results that are told, or a refusal that belongs to the entry's domain; any other error fails the test."""
    try:
        results = evaluate(calculation.name, texts, system=system)
    except Refused as problem:
        check_refusal(calculation, problem.told, {spec.name: spec.kind for spec in calculation.inputs})
        return
    assert results
    assert all(METRIC(result.told) and METRIC.has(result.label.code) for result in results)


def public_functions(module: ModuleType) -> set[Callable[..., object]]:
    return {
        value
        for name, value in vars(module).items()
        if inspect.isroutine(value) and not name.startswith("_") and value.__module__ == module.__name__
    }


# --- within reach -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rsplit(".", 1)[1])
def test_every_public_function_is_reached_by_an_entry(module: ModuleType) -> None:
    functions = public_functions(module)
    assert {vars(module)[name] for name in module.__all__ if inspect.isroutine(vars(module)[name])} <= functions
    reached = {function for calculation in ALL for function in calculation.functions}
    assert not {function.__name__ for function in functions - reached}


@contextmanager
def calls() -> Iterator[set[object]]:
    seen: set[object] = set()

    def note(frame: FrameType, event: str, _: object) -> None:
        if event == "call":
            seen.add(frame.f_code)

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        yield seen
    finally:
        sys.setprofile(before)


# Besides the worked example, what makes an entry use all the functions that it names.
FULLER = {
    "ridges": {"notch-family": "square", "notch-width": "6 mm", "notch-pitch": "12 mm"},
    "movement-joints": {**CALCULATIONS["movement-joints"].example, "run": "9 m", "width": "1/2 in"},
    "least-joint": {**CALCULATIONS["least-joint"].example, "joint": "1/8 in"},
    "cure": {"until": "light traffic"},
    "convert": {"value": "1 in"},
}


@each
def test_an_entry_calls_each_function_that_it_names(calculation: Calculation) -> None:
    with calls() as seen:
        evaluate(calculation.name, calculation.example)
        if calculation.name in FULLER:
            evaluate(calculation.name, FULLER[calculation.name])
    never = [f.__name__ for f in calculation.functions if inspect.unwrap(f).__code__ not in seen]  # type: ignore[attr-defined]
    assert not never


@each
def test_an_entry_explains_itself(calculation: Calculation) -> None:
    assert calculation.name in NAMES[calculation.subject]
    assert calculation.name == calculation.name.lower().replace(" ", "-")
    assert len(words(calculation.title)) < 90
    assert not words(calculation.title).endswith(".")
    assert words(calculation.summary).endswith(".")
    names = [spec.name for spec in calculation.inputs]
    assert len(names) == len(set(names))
    assert not {"units", "json", "help", "system"} & set(names)
    for spec in calculation.inputs:
        assert METRIC.has(spec.told.code)
        assert spec.example
        assert not set("\"'$`\\") & set(spec.example), "an example is pasted into a shell"
        assert bool(spec.choices) == (spec.kind in ("choice", "choices"))


def test_a_computation_loads_its_own_subject_and_nothing_heavy() -> None:
    # `calc` has 0.3 s of processor beyond the interpreter.
    code = (
        "import sys; from fieldassist.trade.catalog import evaluate; evaluate('slide', {'notch': 'half inch square'}); "
        "print(sorted(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    for module in ("numpy", "scipy", "pydantic", "fluent", "fieldassist.trade.dust", "fieldassist.trade.sampling"):
        assert f"'{module}'" not in done.stdout


def test_the_names_known_before_a_subject_is_loaded_are_those_of_its_entries() -> None:
    for subject, names in NAMES.items():
        entries = import_module(f"fieldassist.trade.catalog.{subject}").ENTRIES
        assert tuple(entry.name for entry in entries) == names
        assert {entry.subject for entry in entries} == {subject}


@pytest.mark.parametrize("subject", ["lifting", "dust"])
def test_work_that_hurts_people_is_cautioned_and_defers_to_local_rules(subject: str) -> None:
    for calculation in ALL:
        if calculation.subject == subject:
            assert any("local rules" in words(caution) for caution in calculation.cautions), calculation.name


@pytest.mark.parametrize("name", ["bags", "batches", "water", "bag-yield", "slake"])
def test_mixing_is_cautioned_for_wet_cement_dust_and_electricity(name: str) -> None:
    told = " ".join(map(words, CALCULATIONS[name].cautions))
    for word in ("cement burns", "silica", "ground-fault", "Local codes"):
        assert word in told


# --- what comes back ----------------------------------------------------------------------------------------------


@each
def test_the_example_runs_and_every_result_has_text_unit_and_basis(calculation: Calculation) -> None:
    results = evaluate(calculation.name, calculation.example)
    assert results
    assert len(by_name(results)) == len(results), "names are unique within one answer"
    for result in results:
        assert METRIC(result.told)
        assert METRIC(result.label) == result.name
        assert METRIC(result.basis.told)
        if isinstance(result.value, float) and not result.unit:
            assert any(word in result.name for word in BARE), f"{result.name} has no unit"
    assert bases_of(calculation)


@each
def test_metric_and_us_answers_are_the_same_figures(calculation: Calculation) -> None:
    metric = evaluate(calculation.name, calculation.example, system="metric")
    us = evaluate(calculation.name, calculation.example, system="us")
    assert [result.name for result in metric] == [result.name for result in us]
    for a, b in zip(metric, us, strict=True):
        if isinstance(a.value, float) and a.unit in quantities.UNITS:
            assert isinstance(b.value, float)
            assert canonical(b.value, b.unit) == pytest.approx(canonical(a.value, a.unit), rel=1e-12, abs=1e-12)
        elif isinstance(a.value, float) and a.unit != b.unit:
            assert isinstance(b.value, float)
            assert b.value * TO_METRIC[b.unit] == pytest.approx(a.value, rel=1e-9)
        elif not isinstance(a.value, str):
            assert a.value == b.value


# NIST SP 811 (2008), appendix B.8: lb/ft² and lb/ft³; ft²/h, qt/ft² and 1/ft from the exact foot and gallon.
TO_METRIC = {
    "lb/ft2": 4.88242763638305,
    "lb/ft3": 16.0184633739601,
    "ft2/h": 0.09290304,
    "qt/ft2": 0.946352946 / 0.09290304,
    "lb/qt": 0.45359237 / 0.946352946,
    "1/ft": 1 / 0.3048,
}


def in_the_other_system(spec: Input, text: str) -> str:
    """The same measurement in the other units, with all its digits."""
    if spec.kind not in ("length", "area", "mass", "volume", "temperature"):
        return text
    quantity = parse_quantity(text)
    here: tuple[System, System] = ("us", "metric")
    target = next(
        (unit for system in here if (unit := quantities.unit_in_system(quantity.unit, system)) != quantity.unit),
        quantity.unit,
    )
    return f"{quantities.convert(quantity.value, quantity.unit, target):.15f} {target}"


@each
def test_the_same_measurements_in_other_units_give_the_same_answer(calculation: Calculation) -> None:
    turned = {
        spec.name: in_the_other_system(spec, calculation.example[spec.name])
        for spec in calculation.inputs
        if spec.name in calculation.example
    }
    before, after = (evaluate(calculation.name, texts) for texts in (calculation.example, turned))
    assert [result.name for result in before] == [result.name for result in after]
    for a, b in zip(before, after, strict=True):
        if isinstance(a.value, float):
            assert b.value == pytest.approx(a.value, rel=1e-9, abs=1e-9)
        else:
            assert a.value == b.value


@each
def test_every_optional_input_works_with_its_own_example(calculation: Calculation) -> None:
    for spec in calculation.inputs:
        if spec.required or spec.name in calculation.example:
            continue
        texts = {**calculation.example, spec.name: spec.example}
        if (calculation.name, spec.name) in AGAINST_THE_EXAMPLE:
            with pytest.raises(Refused) as problem:
                evaluate(calculation.name, texts)
            check_refusal(calculation, problem.value.told, {})
        else:
            assert evaluate(calculation.name, texts)


@pytest.mark.parametrize("name", [c.name for c in ALL if any(spec.name == "notch-width" for spec in c.inputs)])
def test_a_notch_of_your_own_may_be_described_by_tooth_or_by_pitch(name: str) -> None:
    rest = {key: text for key, text in CALCULATIONS[name].example.items() if key != "notch"}
    own = {"notch-family": "U", "notch-width": "1/4 in", "notch-depth": "3/8 in"}
    by_tooth = evaluate(name, {**rest, **own, "notch-spacing": "1/4 in"})
    by_pitch = evaluate(name, {**rest, **own, "notch-pitch": "1/2 in"})
    assert [METRIC(result.told) for result in by_tooth] == [METRIC(result.told) for result in by_pitch]


@each
def test_every_word_of_a_choice_is_answered_or_refused_with_a_reason(calculation: Calculation) -> None:
    for spec in calculation.inputs:
        for word in spec.choices:
            check_answered(calculation, {**calculation.example, spec.name: word})


# --- against published values -------------------------------------------------------------------------------------

_PUB = "DHHS (NIOSH) Publication 94-110"


def _lift(
    reach: str, height: str, travel: str, rate: str, grip: str, to_reach: str, to_height: str, load: str
) -> dict[str, str]:
    return {
        "reach": reach,
        "height": height,
        "travel": travel,
        "lifts-per-minute": rate,
        "duration": "short",
        "grip": grip,
        "to-reach": to_reach,
        "to-height": to_height,
        "load": load,
        "constants": "us",
        "rounding": "manual",
    }


EX_1 = _lift("23 in", "15 in", "48 in", "0.2", "fair", "23 in", "63 in", "44 lb")
EX_2 = _lift("15 in", "27 in", "17 in", "0.2", "poor", "20 in", "10 in", "35 lb")
EX_4 = _lift("10 in", "22 in", "37 in", "3", "fair", "20 in", "59 in", "26 lb")
EX_5 = _lift("20 in", "44 in", "37 in", "5", "good", "20 in", "7 in", "20 lb") | {"turn": "30"}
TEXTBOOK = {
    "reach": "25 cm",
    "height": "55 cm",
    "travel": "95 cm",
    "lifts-per-minute": "3",
    "duration": "short",
    "grip": "fair",
    "load": "12 kg",
}
WET_TILE = {"place": "wet", "surface": "wall"}
QUARTER = {"notch": "quarter inch square"}

# (computation, what is given, units, result, value, plus or minus, source of the value)
KNOWN: list[tuple[str, dict[str, str], System, str, float | str | bool, float, str]] = [
    ("convert", {"value": "50 lb", "to": "kg"}, "metric", "converted", 22.6796185, 1e-9, "1 lb = 0.45359237 kg, 1959"),
    ("convert", {"value": "1 gal", "to": "L"}, "metric", "converted", 3.785411784, 1e-9, "231 in³, NIST Handbook 44"),
    ("convert", {"value": "3/32 in", "to": "mm"}, "metric", "exactly", "381/160 mm", 0, "1 in = 25.4 mm, 1959"),
    ("convert", {"value": "68 F"}, "metric", "converted", 20.0, 1e-9, "definition of the Fahrenheit degree"),
    ("fraction", {"length": "0.1 in"}, "us", "on the tape", "3/32 in", 0, "0.1 lies 0.00625 from 3/32"),
    ("size", {"size": "24 x 48 in"}, "metric", "area", 0.74322432, 1e-9, "8 ft² of 0.09290304 m²"),
    ("ridges", QUARTER, "metric", "bed after full collapse", 6.35 * 0.35355339, 1e-6, "w d sin 45° / (w + t)"),
    (
        "bed",
        {"notch": "laboratory trowel", "trowel-angle": "60"},
        "metric",
        "bed after full collapse",
        2.598,
        1e-3,
        "trowel of ISO 13007-2:2013 §4.1 at 60°: 6 sin 60° / 2",
    ),
    (
        "bed",
        {"notch": "half inch square", "trowel-angle": "90"},
        "us",
        "bed after full collapse",
        0.25,
        1e-9,
        "half the depth",
    ),
    (
        "slide",
        {"notch": "half inch square"},
        "us",
        "travel",
        1.0,
        1e-9,
        "almost one inch there and back: common practice",
    ),
    ("slide", {"notch": "half inch ridge-collapse"}, "us", "travel", 0.5, 1e-9, "about half an inch: common practice"),
    (
        "air-path",
        {"tile": "1200 x 2400 mm", "comb-angle": "90"},
        "metric",
        "times longer than it need be",
        2.0,
        1e-9,
        "2400 / 1200",
    ),
    (
        "two-sided",
        {"notch": "half inch square", "mortar": "thin-set"},
        "metric",
        "verdict",
        "failed",
        0,
        "both sides with 1/2 in square exceed the limit: common practice",
    ),
    ("notch-depth", {"edge": "150 mm"}, "metric", "notch depth", 6.0, 0, "DIN 18157-1:1979, from memory"),
    ("required-coverage", WET_TILE, "metric", "least contact", 95.0, 0, "ANSI A108.5 §3.3.2 (2017)"),
    (
        "required-coverage",
        {"place": "dry", "surface": "wall"},
        "metric",
        "least contact",
        80.0,
        0,
        "ANSI A108.5 §3.3.2 (2017)",
    ),
    (
        "required-coverage",
        {"product": "gauged panel", "place": "dry", "surface": "floor"},
        "us",
        "largest void allowed",
        2.0,
        1e-9,
        "ANSI A108.19 (2017): 2 in²",
    ),
    (
        "required-coverage",
        {"product": "gauged panel", "place": "dry", "surface": "floor"},
        "metric",
        "least contact",
        85.0,
        0,
        "ANSI A108.19 (2017)",
    ),
    (
        "area-verdict",
        {"lifts": "96 %; 97 %", **WET_TILE},
        "metric",
        "verdict",
        "not complete",
        0,
        "ANSI A108.5: no fewer than three",
    ),
    (
        "allowed-void",
        {"tile": "12 x 12 in", "contact": "95 %"},
        "us",
        "void allowed in all",
        7.2,
        1e-9,
        "5 % of 144 in²",
    ),
    ("greatest-contact", {"bed": "2.25 mm", "gap": "3 mm"}, "metric", "greatest contact", 75.0, 1e-9, "2.25 / 3"),
    (
        "solid-bed",
        {"tile": "300 x 300 mm", "mass": "15 kg/m2", "capacity": "20 kg/m2"},
        "metric",
        "mass above which a small tile needs it",
        14.0,
        1e-9,
        "BS 5385-1 (2018): 70 % of 20 kg/m²",
    ),
    ("bed-limits", {"mortar": "thin-set"}, "us", "greatest bed", 0.25, 1e-9, "MMSA bulletin 18 (May 2020)"),
    (
        "bags",
        {"area": "9 m2", "bed": "4.5 mm", "bag-mass": "20 kg", "bag-yield": "15 L"},
        "metric",
        "mixed mortar",
        44.55,
        1e-9,
        "9 x 4.5 x 1.1",
    ),
    (
        "mass-balance",
        CALCULATIONS["mass-balance"].example,
        "metric",
        "implied bed",
        90 / 19.8,
        1e-9,
        "6 x 15 / (18 x 1.1)",
    ),
    ("open-time", {"mortar-class": "C2TE S1"}, "metric", "open time", 30.0, 0, "EN 12004-1:2017, class E"),
    (
        "cure",
        {"temperature": "52 F"},
        "metric",
        "times longer by the 18 °F rule",
        2.0,
        1e-9,
        "doubles per 18 °F below 70 °F, trade article",
    ),
    ("concrete-age", {"days": "21"}, "metric", "still to wait", 10080.0, 0, "28 days, summary of AS 3958"),
    (
        "base-flatness",
        {"longest-edge": "15 in"},
        "us",
        "greatest gap",
        0.125,
        1e-9,
        "ANSI A108.02 §4.2.2: 1/8 in in 10 ft",
    ),
    ("base-flatness", {"standard": "BS 8204 SR2"}, "metric", "greatest gap", 5.0, 0, "BS 8204-1, SR2"),
    (
        "din-18202",
        {"row": "3", "span": "2 m"},
        "metric",
        "greatest gap",
        6.0,
        0,
        "DIN 18202, extended table of a trade handbook",
    ),
    (
        "din-18202",
        {"row": "2", "span": "2 m"},
        "metric",
        "greatest gap",
        9.0,
        0,
        "DIN 18202, extended table of a trade handbook",
    ),
    ("lippage", {"joint": "1/8 in"}, "us", "greatest step", 1 / 32, 1e-12, "ANSI A108.02 §4.3.7 (2013)"),
    (
        "least-joint",
        CALCULATIONS["least-joint"].example,
        "us",
        "least joint",
        5 / 32,
        1e-12,
        "ANSI A108.02 §4.3.8.1, published case",
    ),
    ("least-joint-british", {"tile": "1000 x 3000 mm"}, "metric", "least joint", 5.0, 0, "BS 5385-1 (2018)"),
    ("offset", {"side": "24 in", "offset": "12 in"}, "us", "verdict", "failed", 0, "ANSI A108.02 §4.3.8.2: 33 %"),
    (
        "movement-joints",
        {"setting": "exterior", "spacing": "12 ft", "temperature-range": "115 F"},
        "us",
        "least width of the joint",
        9 / 16,
        1e-12,
        "TCNA Handbook EJ171, published case",
    ),
    (
        "piece-weight",
        CALCULATIONS["piece-weight"].example,
        "metric",
        "weight",
        42.3,
        1e-9,
        "1.0 x 3.0 x 0.006 m³ at 2350 kg/m³",
    ),
    (
        "team-lift",
        {"limits": "20 kg, 20 kg"},
        "metric",
        "together",
        26.67,
        5e-3,
        "HSE L23 ¶120, as a public body works it out",
    ),
    ("people-needed", {"weight": "37.5 kg"}, "metric", "people", 3, 0, "HSE L23 ¶120: half of 3 x 25 kg"),
    ("lifting-limit", EX_1, "us", "limit at the origin", 16.3, 0.05, f"{_PUB} example 1"),
    ("lifting-limit", EX_1, "us", "limit at the destination", 14.5, 0.05, f"{_PUB} example 1"),
    ("lifting-limit", EX_1, "us", "lifting index", 3.0, 0.05, f"{_PUB} example 1"),
    ("lifting-limit", EX_2, "us", "limit at the origin", 28.0, 0.05, f"{_PUB} example 2"),
    ("lifting-limit", EX_2, "us", "limit that governs", 18.1, 0.05, f"{_PUB} example 2"),
    ("lifting-limit", EX_4, "us", "limit at the origin", 34.9, 0.05, f"{_PUB} example 4"),
    ("lifting-limit", EX_4, "us", "limit that governs", 15.2, 0.05, f"{_PUB} example 4"),
    ("lifting-limit", EX_4, "us", "lifting index", 1.7, 0.05, f"{_PUB} example 4"),
    ("lifting-limit", EX_5, "us", "limit at the origin", 14.4, 0.05, f"{_PUB} example 5"),
    ("lifting-limit", EX_5, "us", "limit at the destination", 13.3, 0.05, f"{_PUB} example 5"),
    (
        "lifting-limit",
        TEXTBOOK,
        "metric",
        "limit at the origin",
        15.7,
        0.05,
        "an ergonomics textbook's problem in metric",
    ),
    (
        "lifting-frequency",
        {"lifts-per-minute": "10", "burst": "8 min", "work": "1 h"},
        "metric",
        "lifts per minute to enter",
        5.33,
        5e-3,
        f"{_PUB}, worked figure",
    ),
    (
        "lifting-frequency",
        {"lifts-per-minute": "2.4", "work": "1 h", "recovery": "1 h"},
        "metric",
        "frequency multiplier",
        0.898,
        5e-4,
        f"{_PUB} example 7",
    ),
    (
        "lifting-job",
        CALCULATIONS["lifting-job"].example,
        "metric",
        "lifting index",
        1.9,
        0.05,
        f"{_PUB} §2.4.5, from memory",
    ),
    (
        "hand-distance",
        {"load-depth": "16 in", "height": "20 in", "constants": "us"},
        "us",
        "reach",
        16.0,
        1e-9,
        f"{_PUB} p. 8: 8 + W/2",
    ),
    (
        "suction-margin",
        CALCULATIONS["suction-margin"].example,
        "metric",
        "must hold, times the weight",
        2.0,
        0,
        "EN 13155 (2003+A2:2009)",
    ),
    (
        "dust-controls",
        CALCULATIONS["dust-controls"].example,
        "metric",
        "respirator protection factor",
        10,
        0,
        "29 CFR 1926.1153 Table 1 (ii)",
    ),
    (
        "dust-average",
        {"periods": "150 for 2 h; 75 for 2 h; 50 for 4 h", "substance": "other"},
        "metric",
        "8-hour average, in the unit given",
        81.25,
        1e-9,
        "29 CFR 1910.1000(d)(1)(i), example",
    ),
    ("dust-average", {"periods": "120 for 2 h; 10 for 6 h"}, "metric", "8-hour average", 37.5, 1e-9, "(240 + 60) / 8"),
    ("dust-limit", {}, "metric", "limit, 8-hour average", 50.0, 0, "29 CFR 1926.1153(d)(1)"),
    ("dust-limit", {"jurisdiction": "UK"}, "metric", "limit, 8-hour average", 100.0, 0, "HSE EH40: 0.1 mg/m³"),
    (
        "dust-mixture",
        CALCULATIONS["dust-mixture"].example,
        "metric",
        "equivalent exposure",
        0.925,
        1e-9,
        "29 CFR 1910.1000(d)(2), example",
    ),
    ("lifts-needed", {}, "metric", "lifts", 29, 0, "success run at 95 % and 90 %"),
    ("lifts-needed", {"share": "95 %"}, "metric", "lifts", 59, 0, "success run at 95 % and 95 %"),
    ("success-run", {"form": "n+1"}, "metric", "lifts, all good", 28, 0, "success run, (n + 1) form"),
    ("lifts-prove", {"good": "3", "lifted": "3"}, "metric", "least share of good tiles", 36.84, 5e-3, "0.05^(1/3)"),
    (
        "share-limits",
        CALCULATIONS["share-limits"].example,
        "metric",
        "at least",
        7.1354,
        1e-4,
        "NIST e-Handbook 7.2.4.1",
    ),
    (
        "share-limits",
        CALCULATIONS["share-limits"].example,
        "metric",
        "at most",
        40.1029,
        2e-4,
        "NIST e-Handbook 7.2.4.1",
    ),
    ("sample-size", {"failures": "1"}, "metric", "samples", 46, 0, "binomial, recomputed in test_sampling"),
    ("lot-sample", {"lot": "100", "bad-share": "5 %"}, "metric", "samples", 45, 0, "FAO ISPM 31 (2008) table 1"),
    (
        "acceptance-plan",
        {"lot": "100", "quality-level": "4 %"},
        "metric",
        "accept with bad ones up to",
        2,
        0,
        "MIL-STD-105E, code F",
    ),
    (
        "acceptance-chance",
        CALCULATIONS["acceptance-chance"].example,
        "metric",
        "chance of acceptance",
        95.61,
        5e-3,
        "binomial, 20 at 4 %",
    ),
]


@pytest.mark.parametrize(
    ("name", "texts", "system", "result", "value", "within", "source"),
    KNOWN,
    ids=[f"{row[0]}-{row[3]}-{number}".replace(" ", "-") for number, row in enumerate(KNOWN)],
)
def test_a_published_value_comes_back_through_text_and_units(
    name: str, texts: dict[str, str], system: System, result: str, value: float | str | bool, within: float, source: str
) -> None:
    found = by_name(evaluate(name, texts, system=system))[result].value
    if isinstance(value, float):
        assert found == pytest.approx(value, abs=within), source
    else:
        assert found == value, source


@pytest.mark.parametrize(("system", "text"), [("metric", "15.8 kg"), ("us", "34.9 lb")])
def test_niosh_example_4_prints_as_the_manual_does(system: System, text: str) -> None:
    # Publication 94-110, example 4: recommended weight limit at the origin 34.9 lb.
    listener = METRIC if system == "metric" else US
    assert listener(by_name(evaluate("lifting-limit", EX_4, system=system))["limit at the origin"].told) == text


def test_a_verdict_comes_back_as_one_of_three_words() -> None:
    assert verdict_of(evaluate("bed-verdict", {"bed": "3/32 in", "mortar": "thin-set"})) == "passed"
    assert verdict_of(evaluate("bed-verdict", {"bed": "2.25 mm", "mortar": "thin-set"})) == "failed"
    assert verdict_of(evaluate("base-flatness", {"gap": "3 mm"})) == "not complete"
    assert verdict_of(evaluate("slide", {"notch": "half inch square"})) is None


def test_a_claim_does_not_grow_by_rounding() -> None:
    # 29 of 29 good show 90.1855 %, one-sided at 95 %: 0.05^(1/29).
    proof = by_name(evaluate("lifts-prove", {"good": "29", "lifted": "29"}))
    assert words(proof["least share of good tiles"].told) == "90.1 %"


def test_no_limit_is_an_answer_and_not_a_gap() -> None:
    dry = by_name(evaluate("required-coverage", {"place": "dry", "surface": "wall"}))
    assert dry["largest void allowed"].value is None
    assert words(dry["largest void allowed"].told) == "no rule gives one"
    assert words(by_name(evaluate("who-may-lift", {"weight": "60 kg"}))["people"].told) == "no team by hand"


def test_a_third_is_called_a_third() -> None:
    # ANSI A108.02 §4.3.8.2: "33 percent", by which the third-offset pattern is meant: 400 of 1200 mm.
    found = by_name(evaluate("offset", {"side": "1200 mm", "offset": "400 mm"}))
    assert words(found["greatest offset"].told) == "one third of the side (400 mm)"
    assert found["verdict"].value == "passed"
    assert by_name(evaluate("offset", {"side": "300 mm"}))["greatest offset"].value is None


def test_one_end_of_a_data_sheet_is_kept_and_the_other_is_common_practice() -> None:
    cold = by_name(evaluate("working-temperature", {"temperature": "12 C", "least": "15 C"}))
    assert cold["verdict"].value == "failed"
    assert (cold["coldest"].value, cold["hottest"].value) == (15, pytest.approx((100 - 32) / 1.8))
    assert cold["coldest"].basis.standing is Provenance.DATA_SHEET


def test_a_notch_that_leaves_little_to_the_limit_says_how_much() -> None:
    # Half inch square on both sides: 11.0 mm at 60 degrees (geometry), of 12.7 (TCNA Handbook, 2015 onward).
    asked = {"notch": "half inch square", "mortar": "large-and-heavy-tile", "setting": "vibrated"}
    near = by_name(evaluate("notch-advice", {**asked, "trowel-angle": "60"}))
    name = "2. half inch square, both sides"
    assert words(near[name].told).startswith("near the limit: 1.7 mm left")
    assert words(by_name(evaluate("notch-advice", asked))[name].told).startswith("works: ")


def test_each_figure_keeps_its_own_basis() -> None:
    wet = by_name(evaluate("required-coverage", WET_TILE))
    assert wet["least contact"].basis.document == "ANSI A108.5"
    assert wet["largest void allowed"].basis.standing is Provenance.PRACTICE
    own = evaluate("bed-limits", {"mortar": "thin-set", "least-bed": "3 mm", "greatest-bed": "6 mm"})
    assert {result.basis.standing for result in own} == {Provenance.DATA_SHEET}


# --- reading ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "kg_per_m3"),
    [("2350 kg/m3", 2350), ("2.35 g/cm3", 2350), ("2350 kg / m³", 2350), ("147 lb/ft3", 147 * 16.0184633739601)],
)
def test_a_density_is_read_in_any_of_its_units(text: str, kg_per_m3: float) -> None:
    # lb/ft³ to kg/m³: NIST SP 811 (2008), appendix B.8.
    values = read_inputs(CALCULATIONS["piece-weight"], {**CALCULATIONS["piece-weight"].example, "density": text})
    assert values["density"] == pytest.approx(kg_per_m3, rel=1e-12)


@pytest.mark.parametrize("text", ["60 ft2/h", "60 sq ft per hour", "60 square feet / h", "60 ft²/hr"])
def test_a_pace_is_read_as_crews_write_it(text: str) -> None:
    values = read_inputs(CALCULATIONS["open-time-area"], {"open-time": "20 min", "pace": text})
    assert values["pace"] == pytest.approx(60 * 0.09290304, rel=1e-12)


@pytest.mark.parametrize("text", ["95 %", "0.95", "95 percent", "19/20"])
def test_a_share_is_read_as_percent_or_fraction(text: str) -> None:
    assert read_inputs(CALCULATIONS["lifts-needed"], {"confidence": text})["confidence"] == pytest.approx(0.95)


def test_a_range_of_temperature_is_a_difference() -> None:
    # 115 °F of difference are 63.9 °C of difference, not 46 °C.
    texts = {"setting": "exterior", "temperature-range": "115 F"}
    assert read_inputs(CALCULATIONS["movement-joints"], texts)["temperature-range"] == pytest.approx(115 * 5 / 9)


def test_silica_may_be_given_in_milligrams() -> None:
    assert by_name(evaluate("dust-limit", {"average": "0.06 mg/m3"}))["verdict"].value == "failed"


@pytest.mark.parametrize(
    ("name", "texts", "says"),
    [
        ("piece-weight", {"lenght": "1 m"}, "did you mean length"),
        ("piece-weight", {"length": "1 m", "width": "1 m"}, "needs thickness: its thickness; for example 6 mm"),
        (
            "piece-weight",
            {"length": "50 lb", "width": "1 m", "thickness": "6 mm"},
            "length: '50 lb' is a mass, and a length is asked",
        ),
        ("piece-weight", {"length": "1000", "width": "1 m", "thickness": "6 mm"}, "has no unit"),
        (
            "piece-weight",
            {"length": "1 m", "width": "1 m", "thickness": "6 mm", "density": "2350"},
            "kg/m3, g/cm3, lb/ft3",
        ),
        ("slide", {"notch": "half inch sqare"}, "did you mean half inch square"),
        ("slide", {}, "give notch, such as 'half inch square'"),
        ("slide", {"notch": "half inch square", "notch-width": "6 mm"}, "not both"),
        ("suction-margin", {"weight": "40 kg", "holding": "50 kg", "hoisted": "maybe"}, "neither yes nor no"),
        ("lifts-needed", {"confidence": "95"}, "write 95 % or 0.95"),
        ("lifts-needed", {"failures": "1.5"}, "not a whole number"),
        ("dust-average", {"periods": "150 2 h"}, "150 for 2 h"),
        ("dust-day", {"tasks": "drill, indoors"}, "handheld power saw, outdoors, 2 h"),
        ("clocks", {"clocks": "open time 12 min"}, "open time: 12 min of 20 min"),
        ("compare", {"reading": "3 mm", "limit": "3 kg"}, "measure different things"),
        ("lifting-limit", {"reach": "10 in", "height": "22 in", "duration": "short"}, "give travel"),
        ("area-verdict", {"lifts": "96 % good", **WET_TILE}, "passed, failed or not complete"),
    ],
)
def test_a_wrong_input_is_answered_with_what_to_write(name: str, texts: dict[str, str], says: str) -> None:
    with pytest.raises(Refused) as problem:
        evaluate(name, texts)
    assert says in words(problem.value.told)


@pytest.mark.parametrize(
    ("name", "texts", "says"),
    [
        ("bed", {"notch": "half inch square", "sides": "both", "direction": "crossed"}, "comb both sides parallel"),
        ("ridges", {"notch": "half inch square", "trowel-angle": "20"}, "outside 30 to 90"),
        ("notch-outline", {"notch": "half inch U", "points": "1000000000"}, "360 at most"),
        ("pot-life", {}, "take it from the mortar's data sheet"),
        ("din-18202", {"row": "3", "span": "20 m"}, "from 0.1 m to 15 m"),
        ("lifting-limit", {**EX_4, "conditions": "kneeling, one hand"}, "stand up"),
        ("dust-controls", {"task": "mixing mortar", "place": "indoors", "minutes": "10 min"}, "no entry in Table 1"),
        ("people-needed", {"weight": "60 kg"}, "panel lifter"),
    ],
)
def test_a_refusal_of_the_trade_passes_through_with_its_reason(name: str, texts: dict[str, str], says: str) -> None:
    with pytest.raises(OutOfRange) as problem:
        evaluate(name, texts)
    assert says in words(problem.value.told)


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("peice-weight", "piece-weight"),
        ("weight", "piece-weight"),
        ("Piece Weight", "piece-weight"),
        ("ridge", "ridges"),
    ],
)
def test_an_unknown_name_is_answered_with_the_nearest(wrong: str, right: str) -> None:
    with pytest.raises(UnknownCalculation, match=rf"^calc-unknown-near.*\b{right}\b"):
        find_calculation(wrong)


@pytest.mark.parametrize(
    ("name", "texts", "system"),
    [
        ("piece-weight", {"length": "24 in", "width": "48 in", "thickness": "3/8 in"}, "us"),
        ("piece-weight", {"length": "24 in", "width": "48 in", "thickness": "6 mm"}, "metric"),
        ("size", {"size": "24 x 48 in"}, "us"),
        ("open-time-area", {"open-time": "20 min", "pace": "60 ft2/h"}, "us"),
        ("lifting-job", CALCULATIONS["lifting-job"].example, "us"),
        ("lifts-needed", {}, "metric"),
    ],
)
def test_the_answer_speaks_the_units_of_what_was_given(name: str, texts: dict[str, str], system: System) -> None:
    assert system_of(find_calculation(name), texts) == system


# --- nothing breaks it --------------------------------------------------------------------------------------------

_numbers = st.sampled_from(
    ["0", "0.001", "1/3", "1", "2", "7", "13", "90", "100", "480", "1000", "99999", "1000000000"]
)


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_figures_are_answered_or_refused_in_words(data: st.DataObject) -> None:
    calculation = data.draw(st.sampled_from(ALL))
    texts = dict(calculation.example)
    for spec in calculation.inputs:
        if spec.kind in ("choice", "choices", "text", "unit") or not data.draw(st.booleans()):
            continue
        head, *tail = spec.example.split(" ", 1)
        if head.replace(".", "").replace("/", "").isdigit():
            texts[spec.name] = " ".join([data.draw(_numbers), *tail])
    check_answered(calculation, texts, data.draw(st.sampled_from(["metric", "us"])))


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(ALL), st.data())
def test_any_text_is_answered_or_refused_with_the_name_of_the_input(
    calculation: Calculation, data: st.DataObject
) -> None:
    spec = data.draw(st.sampled_from(calculation.inputs))
    texts = st.text(st.characters(codec="utf-8"), max_size=20) | st.sampled_from(
        ["", ";", "-", "1/0 in", "nan", "1e9 m", "∞", "٣ mm", "²"]
    )
    try:
        results = evaluate(calculation.name, {**calculation.example, spec.name: data.draw(texts)})
    except Refused as problem:
        told = problem.told
        if told.code == "calc-input-refused":
            assert told.figures["input"] == spec.name
            assert METRIC(told)
        else:
            check_refusal(calculation, told, {})
    else:
        assert all(METRIC(result.told) for result in results)


def test_a_catalog_that_refuses_everything_is_found_out() -> None:
    # The other tests of this file rest on it.
    slide = CALCULATIONS["slide"]
    for told in (Message("calc-empty-list"), Message("lifting-too-often"), Message("ridges-nonsense")):
        with pytest.raises(AssertionError):
            check_refusal(slide, told, {})
    with pytest.raises(AssertionError):
        check_refusal(slide, message("what-not-above-zero", what="bed", value=Quantity(Fraction(3), "mm")), {})
