"""What the plan's screen says of an area: its inputs, and what they come to, in words.

Every figure and every verdict is that of `fieldassist.assess`; here they are put into words and an order.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fieldassist.assess import handling, method, mortar, tiles, times
from fieldassist.assess.assumptions import Assumption
from fieldassist.assess.inputs import FIELDS, Field, Inputs, Value, called
from fieldassist.language import Words
from fieldassist.trade.basis import PRACTICE
from fieldassist.trade.message import Message, Refused, Several, message, term
from fieldassist.trade.mortar import MIXING_CAUTIONS
from fieldassist.trade.quantities import Quantity, format_quantity

# In which order the inputs stand.
GROUPS: Mapping[str, tuple[Field, ...]] = {
    "trowel": ("family", "depth", "width", "spacing", "angle", "sides", "skim", "setting"),
    "piece": ("length", "breadth", "thickness", "warpage", "weighed"),
    "base": ("base", "mortar", "least", "most"),
    "bags": ("area", "bag", "bag_yield", "water", "waste", "hourly"),
    "lifting": ("single_limit", "cups", *handling.POSTURE),
}
_DEGREES: frozenset[Field] = frozenset({"angle", "turn"})


# --- inputs -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class InputLine:
    """An input as a screen shows it; origin: "" where it is the plan's own; changed: somebody entered it."""

    field: Field
    title: str
    group: str
    text: str
    origin: str
    changed: bool


def input_lines(
    inputs: Inputs, words: Words, groups: Mapping[str, tuple[Field, ...]] = GROUPS
) -> tuple[InputLine, ...]:
    """The inputs of an area as they stand, by group."""
    return tuple(
        InputLine(
            field,
            words(called(field)),
            words(message(f"plan-group-{group}")),
            shown(field, inputs.given(field).value, words),
            "" if (origin := inputs.given(field).origin) == "plan" else origin_words(origin, words),
            origin == "entered",
        )
        for group, fields in groups.items()
        for field in fields
    )


def origin_words(origin: str, words: Words) -> str:
    """Where an input comes from."""
    return words(term("plan-origin", origin))


def shown(field: Field, value: Value | None, words: Words) -> str:
    """A value of a field in words."""
    if value is None:
        return words(message("plan-unknown"))
    if isinstance(value, Quantity):
        return words(message("plan-degrees", value=value) if field in _DEGREES else value)
    if isinstance(value, str):
        return option_words(field, value, words)
    return words(Several(tuple(term(f"assess-option-{field}", one) for one in sorted(value))))


def option_words(field: Field, option: str, words: Words) -> str:
    """One choice of a field."""
    return words(term(f"assess-option-{field}", option))


def options(field: Field, words: Words) -> tuple[tuple[str, str], ...]:
    """The choices of a field, each with its words."""
    return tuple((option, option_words(field, option, words)) for option in FIELDS[field].options)


def units_of(field: Field, words: Words) -> tuple[str, ...]:
    """The units in which a field may be entered, the reader's own first.

    >>> units_of("depth", Words(units="us")), units_of("turn", Words())
    (('in', 'mm'), ('count',))
    """
    units = FIELDS[field].units
    return tuple(reversed(units)) if words.units == "us" else units


def hint(inputs: Inputs, field: Field, words: Words) -> str:
    """What whoever enters a number should know."""
    square = field in ("width", "depth") and inputs.family.value == "square"
    codes = (f"assess-hint-{field.replace('_', '-')}", *(("assess-hint-square",) if square else ()))
    return " ".join(words(message(code)) for code in codes if words.has(code))


# --- results ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PlanFigure:
    """One result: its name, the figure or sentence, more words, and its basis."""

    title: str
    value: str
    words: str = ""
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """Results that belong together. assumed: what they rest on that nobody gave; problem: why there are none."""

    title: str
    figures: tuple[PlanFigure, ...] = ()
    cautions: tuple[str, ...] = ()
    assumed: str = ""
    problem: str = ""


@dataclass(frozen=True, slots=True)
class PlanVerdict:
    """Whether the notch works for a base. works: None where it cannot be told; brief: its figures in a line; others:
    other ways that work, the nearest first."""

    works: bool | None
    title: str
    brief: str
    reasons: tuple[str, ...]
    basis: str = ""
    no_way: str = ""
    assumed: str = ""
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanSheet:
    """Everything that is known about an area: inputs, verdicts, results."""

    name: str
    lines: tuple[InputLine, ...]
    verdict: PlanVerdict
    at_limit: PlanVerdict | None
    parts: tuple[Part, ...]
    inputs: Inputs


def sentence(text: str) -> str:
    """With a capital and a stop.

    >>> sentence("too little mortar")
    'Too little mortar.'
    """
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def assumed_words(assumed: tuple[Assumption, ...], words: Words) -> str:
    """What a result rests on that nobody gave, "" where there is nothing."""
    if not assumed:
        return ""
    return words(message("plan-assumed", what=Several(tuple(one.told for one in assumed), "sentences")))


def _mm(value: float) -> Quantity:
    return _quantity(value, "mm")


def _quantity(value: float, unit: str) -> Quantity:
    return Quantity(Fraction(repr(float(value))), unit)


def work_out(inputs: Inputs, words: Words) -> PlanSheet:
    """All results of an area's inputs, in words. Never fails: what cannot be, says why."""
    advice = method.advise(inputs)
    at_limit = method.advise_at_limit(inputs) if advice.works is not None else None
    makers: tuple[tuple[str, Callable[[Inputs, Words], Part]], ...] = (
        ("bed", _bed),
        ("setting", _setting),
        ("handling", _handling),
        ("bags", _bags),
        ("tiles", _tiles),
        ("times", _times),
    )
    return PlanSheet(
        inputs.name,
        input_lines(inputs, words),
        _verdict(inputs, advice, words),
        None if at_limit is None else _verdict_at_limit(inputs, at_limit, words),
        tuple(_guarded(name, make, inputs, words) for name, make in makers),
        inputs,
    )


def _title(name: str, words: Words) -> str:
    return words(message(f"plan-part-{name}"))


def _guarded(name: str, make: Callable[[Inputs, Words], Part], inputs: Inputs, words: Words) -> Part:
    try:
        return make(inputs, words)
    except Refused as problem:
        return Part(_title(name, words), problem=sentence(words(problem.told)))


def _verdict(inputs: Inputs, advice: method.MethodAdvice, words: Words) -> PlanVerdict:
    reasons = _sentences(advice.reasons, words)
    if advice.works is None or advice.bed_mm is None or advice.contact_percent is None:
        return PlanVerdict(None, words(message("plan-cannot-tell")), "", (*reasons, words(message("plan-kept"))))
    brief = message(
        "plan-brief" if inputs.base.assumption is None else "plan-brief-assumed",
        bed=_mm(advice.bed_mm),
        contact=_quantity(advice.contact_percent, "percent"),
    )
    basis = message("plan-basis", **{name: basis.told for name, basis in advice.bases.items()})
    return PlanVerdict(
        advice.works,
        words(message("plan-works" if advice.works else "plan-does-not-work")),
        words(brief),
        reasons,
        words(basis),
        words(message("plan-no-way")) if advice.no_way else "",
        assumed_words(advice.assumed, words),
        _others(advice, words),
    )


def _others(advice: method.MethodAdvice, words: Words) -> tuple[str, ...]:
    return tuple(words(message("plan-other-way", way=other.told)) for other in advice.alternatives)


def _verdict_at_limit(inputs: Inputs, advice: method.MethodAdvice, words: Words) -> PlanVerdict:
    code = "plan-works-at-limit" if advice.works else "plan-does-not-work-at-limit"
    return PlanVerdict(
        advice.works,
        words(message(code, gap=inputs.worst)),
        "",
        _sentences(advice.reasons, words),
        words(inputs.worst_basis),
        words(message("plan-no-way")) if advice.no_way else "",
        others=_others(advice, words),
    )


def _sentences(told: tuple[Message, ...], words: Words) -> tuple[str, ...]:
    return tuple(sentence(words(one)) for one in told)


def _bed(inputs: Inputs, words: Words) -> Part:
    found = method.bed(inputs)
    base = inputs.base.origin
    rests = base if base in ("measured", "entered") else "assumed"
    gap = message(
        "plan-gap-wedge" if found.high_mm > found.low_mm else "plan-gap-even",
        low=_mm(found.low_mm),
        high=_mm(found.high_mm),
    )
    made = message("plan-bed-from", height=_mm(found.ridge.height_mm), pitch=_mm(found.ridge.pitch_mm))
    required = message("plan-contact-required", required=_quantity(found.required_percent, "percent"))
    contact = message("plan-contact-most", contact=_quantity(found.contact_percent, "percent"))
    basis = message("plan-contact-basis", volume=method.VOLUME.told, required=found.contact_basis.told)
    figures = [
        PlanFigure(words(message("plan-bed")), words(_mm(found.bed_mm)), words(made), words(found.ridge.basis.told)),
        PlanFigure(words(message("plan-gap")), words(gap), words(message(f"plan-gap-{rests}")), words(PRACTICE.told)),
        PlanFigure(words(message("plan-contact")), words(contact), words(required), words(basis)),
    ]
    for way in found.ways:
        here = "-here" if way.sides == inputs.sides.value else ""
        figures.append(
            PlanFigure(
                words(message(f"plan-combed{here}", sides=way.sides)),
                words(message("plan-combed-verdict", bed=_mm(way.bed_mm), verdict=way.grade)),
                sentence(words(way.verdict.reason)),
                words(way.verdict.basis.told),
            )
        )
    return Part(_title("bed", words), tuple(figures), assumed=assumed_words(found.assumed, words))


def _setting(inputs: Inputs, words: Words) -> Part:
    slide, air = method.setting(inputs)
    comb = message("plan-comb-way", side=_mm(air.shortest_choice_mm))
    return Part(
        _title("setting", words),
        (
            PlanFigure(
                words(message("plan-slide")), words(slide.instruction), words(slide.note), words(slide.basis.told)
            ),
            PlanFigure(words(message("plan-comb")), words(comb), words(air.advice), words(air.basis.told)),
        ),
    )


def _handling(inputs: Inputs, words: Words) -> Part:
    found = handling.handling(inputs)
    alone = found.alone
    reasons = (*(one for one in (alone.where, alone.none) if one is not None), *alone.reasons)
    weighed = message("plan-weighed" if found.weighed else "plan-computed")
    suction = found.suction
    checks = " ".join(map(words, suction.checks)) if suction is not None else ""
    return Part(
        _title("handling", words),
        (
            PlanFigure(
                words(message("plan-one-piece")),
                words(_quantity(found.weight_kg, "kg")),
                words(weighed),
                words(found.weight_basis.told),
            ),
            PlanFigure(words(message("plan-who")), words(found.verdict), "", words(found.basis.told)),
            PlanFigure(
                words(message("plan-alone")),
                words(alone.told),
                " ".join(_sentences(reasons, words)),
                "" if found.equation is None else words(found.equation.told),
            ),
            PlanFigure(
                words(message("plan-suction")),
                words(found.suction_told),
                checks,
                "" if suction is None else words(suction.basis.told),
            ),
        ),
        tuple(words(caution) for caution in found.cautions),
        assumed_words(found.assumed, words),
    )


def _bags(inputs: Inputs, words: Words) -> Part:
    found = mortar.bag_need(inputs)
    need = found.need
    bring = message("plan-bags-to-bring", whole=need.whole_bags, exact=f"{need.bags:.2f}")
    takes = message(
        "plan-bags-mortar",
        volume=_quantity(need.volume_l, "L"),
        area=inputs.area.value,
        waste=inputs.waste.value,
        powder=_quantity(need.powder_kg, "kg"),
    )
    figures = [PlanFigure(words(message("plan-bags")), words(bring), words(takes), words(found.basis.told))]
    water = inputs.water.value
    if need.water_l is None or water is None:
        figures.append(PlanFigure(words(message("plan-water")), words(message("plan-water-not-known"))))
    else:
        all_of_it = message("plan-water-in-all", water=_quantity(need.water_l, "L"))
        each = message("plan-water-a-bag", water=water)
        figures.append(
            PlanFigure(words(message("plan-water")), words(all_of_it), words(each), words(mortar.SHEET.told))
        )
    figures.append(_batches(found, words))
    cautions = tuple(words(caution.told) for caution in MIXING_CAUTIONS)
    return Part(_title("bags", words), tuple(figures), cautions, assumed_words(found.assumed, words))


def _batches(found: mortar.BagNeed, words: Words) -> PlanFigure:
    title, plan = words(message("plan-batches")), found.batches
    if plan is None:
        return PlanFigure(title, words(found.no_batches or ""))
    of = message("plan-batches-of", batches=plan.batches, bags=format_quantity(plan.bags_per_batch, "count"))
    last = message(
        "plan-batches-last",
        area=_quantity(plan.area_per_batch_m2, "m2"),
        minutes=_quantity(round(plan.minutes_per_batch), "min"),
    )
    return PlanFigure(title, words(of), words(last), words(mortar.SHEET.told))


def _tiles(inputs: Inputs, words: Words) -> Part:
    found = tiles.wanted(inputs)
    if found is None:
        return Part(_title("tiles", words), problem=words(message("plan-no-tiles")))
    proof, more = found.proof, found.more
    of, lot = message("plan-tiles-of", least=found.least, lot=found.lot), message("plan-tiles-lot", lot=found.lot)
    return Part(
        _title("tiles", words),
        (
            PlanFigure(words(message("plan-tiles-least")), words(of), words(lot), words(found.basis)),
            PlanFigure(
                words(message("plan-tiles-proof")), words(proof.words), words(proof.caution), words(proof.basis.told)
            ),
            PlanFigure(words(message("plan-tiles-more")), words(more.words), "", words(more.basis.told)),
        ),
    )


def _times(inputs: Inputs, words: Words) -> Part:
    found = times.area_times(inputs)
    figures = []
    for wait in found.waits:
        least, greatest = _quantity(wait.least_min, "min"), _quantity(wait.greatest_min, "min")
        told = least if wait.least_min == wait.greatest_min else message("plan-span", least=least, greatest=greatest)
        figures.append(PlanFigure(words(wait.name), words(told), "", words(wait.basis.told)))
    comb, hourly, title = found.comb, inputs.hourly.value, words(message("plan-comb-area"))
    if comb is None or hourly is None:
        figures.append(PlanFigure(title, words(message("assess-pace-not-known"))))
    else:
        most = message("plan-comb-pieces", pieces=found.pieces_at_once, area=_quantity(comb.area_m2, "m2"))
        figures.append(
            PlanFigure(title, words(most), words(message("plan-comb-pace", hourly=hourly)), words(mortar.SHEET.told))
        )
    return Part(_title("times", words), tuple(figures), (words(message("plan-times-caution")),))
