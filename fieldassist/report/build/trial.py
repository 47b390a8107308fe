"""A mock-up trial: its samples and what they say become the ranking, its sentences, and the list of samples."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules, trying
from fieldassist.checklist.fields import canonical as length_mm
from fieldassist.checklist.kinds import Choice
from fieldassist.checklist.plan import AreaPlan, Combination, MockUp, Mortar, TrialPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Area, MethodRelease
from fieldassist.report.build.context import Context
from fieldassist.report.build.words import ReportWords, capital, short_time
from fieldassist.report.report_model import ConditionLine, PhotoLine
from fieldassist.report.trial_model import (
    ClosedLine,
    RidgeSection,
    SampleLine,
    TextBlock,
    TrialPhoto,
    TrialReport,
    TrialRow,
)
from fieldassist.trade import ridges
from fieldassist.trade.message import Bound, Figure, Message, Several, Text, message, term
from fieldassist.trade.mortar import bed_limits
from fieldassist.trade.quantities import Quantity, canonical
from fieldassist.trial import telling
from fieldassist.trial.model import Analysis, Design, Estimate, Sample, whole_percent
from fieldassist.trial.readers import ReadersAgreement, agreement

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder

# So wide is a section across the ridges drawn [mm]: a pitch of the widest notch, and what stands beside it.
SECTION_MM = 24.3
# The difference of which the page says how easily it is overlooked [percent].
_OVERLOOKED = (85.0, 95.0)
# From this many pairs on a corner is round enough to the eye.
_POINTS = 24
# What is narrower at the edge of the section would be taken for a line [mm].
_SLIVER_MM = 0.8


@dataclass(frozen=True, slots=True)
class MadeSample:
    """When a sample was made and by whom, and its photos."""

    time: str
    who: str
    photos: tuple[PhotoLine, ...] = ()


@dataclass(frozen=True, slots=True)
class ReleasedMethod:
    """A method that was released from the trial: its letter, for which areas, what stands in their plans, by whom,
    when, and why the signature is not to be relied on, "" where it is good."""

    letter: str
    areas: tuple[str, ...]
    made: MockUp
    who: str
    time: str
    fault: str


@dataclass(frozen=True, slots=True)
class TrialRecord:
    """What the events of a trial come to.

    plan: of its area; beds: by geometry, by letter [mm]; ruled_out: by letter, why a method is not eligible; samples,
    design, analysis, agreement: of `trial`; agreement: None where one reads; orders: as
    they were drawn, each with the record's head that it was drawn from; made: by the number of the sample; released: in
    order; conditions: what was read of weather, air and base; labels: the checklist's words for what was chosen, by
    what that measures and the option, in their order; required_ref: number of the basis of what is required.
    """

    plan: AreaPlan
    trial: TrialPlan
    beds: Mapping[str, float]
    ruled_out: Mapping[str, tuple[Message | Text, ...]]
    samples: tuple[Sample, ...]
    design: Design
    analysis: Analysis
    agreement: ReadersAgreement | None
    orders: tuple[tuple[str, tuple[str, ...]], ...]
    made: Mapping[int, MadeSample]
    released: tuple[ReleasedMethod, ...]
    conditions: tuple[ConditionLine, ...]
    labels: Mapping[tuple[str, str], Text | Message]
    required_ref: int | None = None


def trial_record(area: AreaBuilder, stands: Area) -> TrialRecord | None:
    """What the events of an area come to where methods are tried in it, None for another. stands: the area as it is."""
    trial, context = stands.plan.trial, area.context
    if trial is None:
        return None
    # Only a trial is reckoned with arrays: other days do not wait for them.
    from fieldassist.trial.samples import analysis_of, design_of, samples_of

    made = {
        event.body.round: MadeSample(context.time(event), context.who(event))
        for event in context.events
        if isinstance(event.body, ev.SectionOpened) and event.body.area == stands.plan.name and event.body.sample
    }
    trying_id = stands.checklist.trying.id if stands.checklist.trying is not None else ""
    for (holder, number), photo in area.photos:
        if holder == trying_id and number in made:
            made[number] = replace(made[number], photos=(*made[number].photos, photo))
    samples = samples_of(stands)
    return TrialRecord(
        plan=stands.plan,
        trial=trial,
        beds={letter: trying.looked_at(stands.plan, stands.checklist, letter).bed_mm for letter in trial.letters},
        ruled_out=stands.progress.ruled_out,
        samples=samples,
        design=design_of(stands),
        analysis=analysis_of(stands),
        agreement=agreement(samples),
        orders=tuple((drawn.head, drawn.order) for drawn in stands.progress.orders),
        made=made,
        released=tuple(_released_by(context, one) for one in stands.progress.released),
        conditions=tuple(area.conditions),
        labels=_labels(stands.checklist),
        required_ref=context.ref(rules.requirement(stands.facts).basis),
    )


def _labels(checklist: Checklist) -> Mapping[tuple[str, str], Text | Message]:
    section = checklist.trying
    return {
        (step.measures, option.id): option.label
        for step in (section.steps if section is not None else ())
        if isinstance(step, Choice) and step.measures is not None
        for option in step.options
    }


def _released_by(context: Context, one: MethodRelease) -> ReleasedMethod:
    who = context.words.person(one.name)
    if one.deputy_for:
        deputy = message("trialpage-deputy", name=who, whom=message("prompt-person", name=one.deputy_for))
        who = context.words(deputy)
    time = context.words.time(one.at.wall)
    return ReleasedMethod(one.letter, one.areas, one.made, who, time, context.pin_fault(one.seq))


def trial_report(words: ReportWords, record: TrialRecord) -> TrialReport:
    """All that is told of a trial."""
    analysis = record.analysis
    verdict = telling.verdict(analysis)
    required = Quantity(Fraction(repr(record.design.requirement)), "percent")
    return TrialReport(
        name=capital(record.plan.name),
        title=words(message("trialpage-title")),
        about=_about(words, record),
        verdict=" ".join(words(told) for told in verdict if told.code != "trial-worse"),
        best=_best(words, record),
        after=tuple(_after(words, record, [told for told in verdict if told.code == "trial-worse"])),
        released=tuple(_released(words, one) for one in record.released),
        claim=analysis.claim,
        required=record.design.requirement,
        required_told=words(required),
        rows=tuple(_row(words, record, one) for one in analysis.estimates),
        ties=analysis.ties if analysis.claim == "ranks" else (),
        legend=" ".join(_legend(words, record, required)),
        blocks=tuple(_blocks(words, record)),
        other_units=_in_other_units(words, record),
        bed_unit="in" if words.units == "us" else "mm",
        bed_marks=tuple(_bed_marks(words, record)),
        samples=tuple(_sample(words, record, one) for one in record.samples),
        order=tuple(_rounds(record)),
        redraw=tuple(_redraw(words, record)),
        photos=tuple(_photos(words, record)),
        counting=words(_counting(record)),
    )


def _counting(record: TrialRecord) -> Message:
    return message(
        "trialpage-counting",
        count=sum(one.counts for one in record.samples),
        planned=sum(len(order) for _, order in record.orders),
    )


def _about(words: ReportWords, record: TrialRecord) -> str:
    piece = record.plan.piece
    return words(
        message(
            "trialpage-about",
            where=record.plan.where,
            product=piece.product,
            size=words.size(piece.length, piece.width),
            mortar=record.plan.mortar.name,
            place=term("trialpage-place", record.trial.place),
            surface=term("trialpage-surface", record.trial.surface),
        )
    )


def _best(words: ReportWords, record: TrialRecord) -> str:
    """The best method so far in words."""
    letter = record.analysis.best
    if letter is None:
        return ""
    one = record.trial.by_letter[letter]
    return words(message("trialpage-best", letter=letter, notch=_notch(words, one), how=_how(one)))


def _after(words: ReportWords, record: TrialRecord, rest: Sequence[Message]) -> Iterator[str]:
    """What follows from the verdict: what is worse, what the next tiles would be, what would settle it."""
    analysis = record.analysis
    yield from (words(told) for told in rest)
    best = analysis.of(analysis.best) if analysis.best is not None else None
    if best is not None and best.chance is not None:
        required = Quantity(Fraction(repr(record.design.requirement)), "percent")
        ten = term("trialpage-next-ten", best.chance)
        yield words(message("trialpage-next-tiles", letter=best.letter, ten=ten, required=required))
    if analysis.claim == "ranks" and len(analysis.contenders) > 1:
        yield from _missed(words, record)
    settle = telling.more(analysis)
    if settle is not None:
        yield words(settle)


def _missed(words: ReportWords, record: TrialRecord) -> Iterator[str]:
    """How easily a trial like this one overlooks a difference: what is not told apart is not alike."""
    from fieldassist.trial.design import can_tell

    repeats = min(one.samples for one in record.analysis.estimates)
    low, high = _OVERLOOKED
    for one in can_tell(record.design.letters, repeats, a_batch=record.trial.a_batch):
        tenths = round(10 * (1 - one.power))
        if one.question is None and (one.low, one.high) == _OVERLOOKED and tenths:
            yield words(message("trialpage-missed", repeats=repeats, low=low, high=high, tenths=tenths))


def _released(words: ReportWords, one: ReleasedMethod) -> str:
    areas = Several(one.areas, "and")
    told = words(message("trialpage-released", name=one.who, letter=one.letter, areas=areas, time=one.time))
    why = one.made.trial.why if one.made.trial is not None else ""
    reason = words(message("trialpage-released-why", why=why)) if why else ""
    return " ".join(part for part in (told, reason, one.fault) if part)


# --- the ranking --------------------------------------------------------------------------------------------------


def _row(words: ReportWords, record: TrialRecord, one: Estimate) -> TrialRow:
    combination = record.trial.by_letter[one.letter]
    counted = [s for s in record.samples if s.letter == one.letter and s.counts]
    mortar = _mortar(record, combination)
    limits = _limits(mortar)
    bed = record.beds.get(one.letter)
    shown = one.bed_mm if one.bed_mm is not None else bed
    chance: Figure = ""
    if not one.eligible:
        chance = message("trialpage-not-eligible")
    elif one.chance is not None:
        chance = telling.chance(one.chance)
    return TrialRow(
        letter=one.letter,
        rank=_rank(one),
        how=capital(words(_how(combination))),
        notch=capital(words(_notch(words, combination))),
        about=tuple(_beside(words, record, combination, counted)),
        section=section(combination, bed) if bed is not None else None,
        bed=bed,
        gauge=one.bed_mm,
        bed_told=_bare_length(words, shown) if shown is not None else "",
        least=limits[0],
        greatest=limits[1],
        mean=one.mean,
        low=one.low,
        high=one.high,
        told=_contact_told(words, one),
        samples=tuple(s.percent for s in counted),
        chance=words(chance),
        likely=one.chance in ("about 3 in 4", "9 in 10 or better"),
        eligible=one.eligible,
    )


def _rank(one: Estimate) -> str:
    """A rank, as a range where others cannot be told apart.

    >>> _rank(Estimate("A", 3, first=3, last=6)), _rank(Estimate("B", 3, first=2, last=2)), _rank(Estimate("C", 1))
    ('3–6', '2', '')
    """
    if one.first is None or one.last is None:
        return ""
    return str(one.first) if one.first == one.last else f"{one.first}–{one.last}"


def _contact_told(words: ReportWords, one: Estimate) -> str:
    if one.mean is None:
        return words(message("trialpage-not-read"))
    if one.low is None or one.high is None:
        return str(whole_percent(one.mean))
    return words(
        message(
            "trialpage-mean",
            mean=whole_percent(one.mean),
            low=whole_percent(one.low),
            high=whole_percent(one.high),
        )
    )


def _how(one: Combination) -> Figure:
    """How the piece is moved and seated."""
    parts: list[Figure] = []
    if one.movement != "none":
        moved = term("trialpage-moved", one.movement)
        parts.append(moved if one.slide is None else message("trialpage-moved-by", moved=moved, slide=one.slide))
    seated = term("trialpage-seated", one.seating)
    parts.append(seated if one.seconds is None else message("trialpage-for", seated=seated, seconds=one.seconds))
    return Several(tuple(parts), "list")


def _notch(words: ReportWords, one: Combination) -> Message:
    """What combs, and where."""
    square = one.family == "square"
    sizes: Figure = one.width if square else words.size(one.width, one.depth)
    tooth = canonical(float(one.spacing.value), one.spacing.unit)
    wide = canonical(float(one.width.value), one.width.unit)
    return message(
        "trialpage-notch",
        family=term("trialpage-family", one.family),
        sizes=sizes,
        tooth=one.spacing,
        narrow="yes" if abs(tooth - wide) > 0.05 * wide else "no",
        sides=one.sides,
    )


def _beside(words: ReportWords, record: TrialRecord, one: Combination, counted: Sequence[Sample]) -> Iterator[str]:
    """What else is told of a method: its back and mortar where they are not alike in all, and the effort."""
    parts: list[Figure] = []
    others = record.trial.combinations
    if len({other.back for other in others}) > 1:
        parts.append(term("trialpage-back", one.back))
    if len({other.mortar for other in others}) > 1:
        parts.append(_mortar(record, one).name)
    said = {sample.effort for sample in counted}
    efforts = [label for (measures, option), label in record.labels.items() if measures == "effort" and option in said]
    if efforts:
        first, last = (words(label).lower() for label in (efforts[0], efforts[-1]))
        parts.append(
            message("trialpage-effort", effort=first)
            if len(efforts) == 1
            else message("trialpage-effort-range", first=first, last=last)
        )
    if parts:
        yield words(Several(tuple(parts), "list"))


def _mortar(record: TrialRecord, one: Combination) -> Mortar:
    return next((mortar for mortar in record.trial.mortars if mortar.name == one.mortar), record.plan.mortar)


def _limits(mortar: Mortar) -> tuple[float, float]:
    """The least and the greatest bed that a mortar bears [mm]."""
    ends = (None if end is None else length_mm(end) for end in (mortar.least_bed, mortar.greatest_bed))
    least, greatest = ends
    found = bed_limits(mortar.kind, data_sheet_least_mm=least, data_sheet_greatest_mm=greatest)
    return found.minimum_mm, found.maximum_mm


def _bed_marks(words: ReportWords, record: TrialRecord) -> Iterator[tuple[float, str]]:
    """The limits of the area's own mortar for the foot of the column."""
    least, greatest = _limits(record.plan.mortar)
    yield least, _bare(words, Bound(_mm(least), "at least"))
    yield greatest, _bare(words, Bound(_mm(greatest), "at most"))


def _mm(value: float) -> Quantity:
    return Quantity(Fraction(repr(round(value, 4))), "mm")


def _bare_length(words: ReportWords, mm: float) -> str:
    return _bare(words, _mm(mm))


def _bare(words: ReportWords, told: Figure) -> str:
    """A length without its unit, which the column's head names."""
    return words(told).rsplit(" ", 1)[0]


def section(one: Combination, pressed: float) -> RidgeSection:
    """The section across the ridges of a method. pressed: the bed after collapse [mm]."""
    notch = rules.notch_of(one)
    flat = math.sin(math.radians(one.angle))
    shape = tuple((x, y * flat) for x, y in ridges.outline(notch, _POINTS))
    first = -2 * notch.pitch_mm + notch.spacing_mm / 2
    count = 3 + math.ceil(SECTION_MM / notch.pitch_mm)
    rows = (_between(_moved(shape, first + at * notch.pitch_mm), 0.0, SECTION_MM) for at in range(count))
    drawn = tuple(corners for corners in rows if corners and _wide(corners) >= _SLIVER_MM)
    high = notch.depth_mm * flat
    both = one.sides == "both"
    return RidgeSection(drawn, drawn if both else (), high, high if both else 0.0, pressed)


def _wide(corners: ClosedLine) -> float:
    return max(x for x, _ in corners) - min(x for x, _ in corners)


def _moved(corners: Iterable[tuple[float, float]], by: float) -> ClosedLine:
    return tuple((x + by, y) for x, y in corners)


def _between(corners: ClosedLine, left: float, right: float) -> ClosedLine:
    """What of a closed line lies between two uprights (Sutherland and Hodgman's way, one side after the other).

    >>> _between(((0.0, 0.0), (0.0, 2.0), (4.0, 2.0), (4.0, 0.0)), 1.0, 9.0)
    ((1.0, 2.0), (4.0, 2.0), (4.0, 0.0), (1.0, 0.0))
    """
    for edge, sign in ((left, 1.0), (right, -1.0)):
        kept: list[tuple[float, float]] = []
        for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], *corners[:1]), strict=True):
            inside, next_inside = sign * (x1 - edge) >= 0, sign * (x2 - edge) >= 0
            if inside:
                kept.append((x1, y1))
            if inside != next_inside:
                kept.append((edge, y1 + (y2 - y1) * (edge - x1) / (x2 - x1)))
        corners = tuple(kept)
    return corners


# --- what stands under it -----------------------------------------------------------------------------------------


def _legend(words: ReportWords, record: TrialRecord, required: Quantity) -> Iterator[str]:
    ref = f" [{record.required_ref}]" if record.required_ref is not None else ""
    yield words(message("trialpage-legend-required", required=words(required) + ref))
    if record.analysis.claim == "ranks":
        yield words(message("trialpage-legend-ranks"))
    yield words(message("trialpage-legend-bed"))
    yield from _ruled_out(words, record)


def _ruled_out(words: ReportWords, record: TrialRecord) -> Iterator[str]:
    """What is not eligible, with the reason that weighs most: those that one notch rules out alike, together."""
    run = set(record.design.letters)
    alike: dict[tuple[str, str, str], list[str]] = {}
    for letter, reasons in record.ruled_out.items():
        notch = words(_notch(words, record.trial.by_letter[letter]))
        code = "shown" if letter in run else "not-run"
        alike.setdefault((code, notch, words(reasons[0]) if reasons else ""), []).append(letter)
    for (code, notch, reason), letters in alike.items():
        named = Several(tuple(letters), "and")
        yield words(message(f"trialpage-{code}", letters=named, notch=notch, reason=reason))


def _blocks(words: ReportWords, record: TrialRecord) -> Iterator[TextBlock]:
    asked = telling.gains(record.analysis, record.trial.questions)
    if asked:
        yield TextBlock(words(message("trialpage-asked")), tuple(capital(words(told)) for told in asked))
    for title, told in (
        ("trialpage-order", _order_and_doubt),
        ("trialpage-readers", _readers),
        ("trialpage-conditions", _conditions),
    ):
        yield TextBlock(words(message(title)), (" ".join(told(words, record)),))


def _order_and_doubt(words: ReportWords, record: TrialRecord) -> Iterator[str]:
    analysis = record.analysis
    yield words(message("trialpage-order-drawn", counting=_counting(record), methods=len(record.design.letters)))
    if analysis.claim != "pictures":
        yield words(message("trialpage-model", df=analysis.df))
    if analysis.wide:
        yield words(message("trial-wide"))


def _readers(words: ReportWords, record: TrialRecord) -> Iterator[str]:
    makers = dict.fromkeys(made.who for made in record.made.values())
    if makers:
        yield words(message("trialpage-made-by", names=Several(tuple(makers), "and")))
    names = Several(tuple(message("prompt-person", name=name) for name in record.trial.readers), "and")
    yield words(message("trialpage-read-by", names=names, readers=len(record.trial.readers)))
    found = record.agreement
    if found is not None:
        yield words(
            message(
                "trialpage-agreement",
                mean=_tenth(abs(found.mean)),
                most=_tenth(found.largest),
            )
        )
    yield from (words(told) for told in telling.doubts(record.analysis) if told.code == "trial-as-read")


def _tenth(points: float) -> Quantity:
    return Quantity(Fraction(repr(round(points, 1))), "count")


def _conditions(words: ReportWords, record: TrialRecord) -> Iterator[str]:
    for what in dict.fromkeys(line.what for line in record.conditions):
        told = [line.reading for line in record.conditions if line.what == what and not line.withdrawn]
        if told:
            yield words(message("trialpage-condition", what=what, reading=" / ".join(dict.fromkeys(told))))
    counted = [sample for sample in record.samples if sample.spoiled is None]
    if counted:
        oldest = Quantity(Fraction(math.ceil(max(sample.age_min for sample in counted))), "min")
        batches = len({sample.batch for sample in counted})
        yield words(message("trialpage-mortar-used", batches=batches, oldest=oldest, pot=record.plan.mortar.pot_life))
    spoiled = [sample for sample in record.samples if sample.spoiled is not None]
    if spoiled:
        letters = Several(tuple(dict.fromkeys(sample.letter for sample in spoiled)), "and")
        yield words(message("trialpage-spoiled", count=len(spoiled), letters=letters))


def _in_other_units(words: ReportWords, record: TrialRecord) -> str:
    """Notches, bed and piece in the other system, for whoever measures with the other tape."""
    run = [record.trial.by_letter[letter] for letter in record.design.letters]
    sizes = dict.fromkeys(words.size(one.width, one.depth, other=True) for one in run)
    least, greatest = _limits(record.plan.mortar)
    piece = record.plan.piece
    return words(
        message(
            "trialpage-other-units",
            system=words.other,
            notches=Several(tuple(sizes), "list"),
            least=words.in_other_units(Bound(_mm(least), "at least")),
            greatest=words.in_other_units(Bound(_mm(greatest), "at most")),
            piece=words.size(piece.length, piece.width, other=True),
        )
    )


# --- samples ------------------------------------------------------------------------------------------------------


def _sample(words: ReportWords, record: TrialRecord, one: Sample) -> SampleLine:
    made = record.made.get(one.number)
    age = Quantity(Fraction(math.ceil(one.age_min)), "min")
    read = tuple(
        words(
            message(
                "trialpage-reading",
                name=message("prompt-person", name=reading.reader),
                contact=Quantity(Fraction(repr(round(reading.percent, 1))), "percent"),
                corrected="yes" if reading.corrected else "no",
            )
        )
        for reading in one.readings
    )
    return SampleLine(
        number=one.number,
        letter=one.letter,
        place=str(one.place) if one.place else words(message("trialpage-repeat")),
        made=f"{short_time(made.time)} {made.who}" if made is not None else "",
        batch=words(message("trialpage-batch", batch=one.batch, age=age)),
        read=read,
        contact=str(whole_percent(one.percent)) if one.readings else "",
        bed=_bed_read(words, one),
        seen="; ".join(_seen(words, record, one)),
        spoiled=words(one.spoiled) if one.spoiled is not None else "",
    )


def _bed_read(words: ReportWords, one: Sample) -> str:
    if one.by_mass_mm is not None and not one.bed_mm:
        return words(message("trialpage-bed-by-mass", bed=_bare_length(words, one.by_mass_mm)))
    return ", ".join(_bare_length(words, mm) for mm in one.bed_mm)


def _seen(words: ReportWords, record: TrialRecord, one: Sample) -> Iterator[str]:
    """What was read of a sample beside its contact."""

    def lower(measures: str, option: str) -> str:
        return words(record.labels.get((measures, option), option)).lower()

    if one.counted is not None:
        yield words(message("trialpage-counted", contact=Quantity(Fraction(repr(round(one.counted, 1))), "percent")))
    if one.void_mm2 is not None:
        yield words(message("trialpage-void", void=Quantity(Fraction(math.ceil(one.void_mm2 / 10)) / 10, "cm2")))
    if one.edges_full is not None:
        yield words(term("trialpage-edges", "full" if one.edges_full else "not full"))
    if one.effort:
        yield words(message("trialpage-effort", effort=lower("effort", one.effort)))
    if one.air:
        yield lower("air", one.air)


def _rounds(record: TrialRecord) -> Iterator[str]:
    """The drawn order, round by round."""
    for _, order in record.orders:
        each = max(1, len(set(order)))
        yield from (" ".join(order[at : at + each]) for at in range(0, len(order), each))


def _redraw(words: ReportWords, record: TrialRecord) -> Iterator[str]:
    yield words(message("trialpage-redraw"))
    for head, order in record.orders:
        yield words(message("trialpage-drawn-from", count=len(order), head=head))


def _photos(words: ReportWords, record: TrialRecord) -> Iterator[TrialPhoto]:
    """One photo of each method that leads, and of the last: the sample that lies nearest to its mean."""
    ranked = [one.letter for one in record.analysis.estimates if one.mean is not None]
    wanted = dict.fromkeys([*record.analysis.contenders, *ranked[-1:], *ranked])
    for letter in wanted:
        mean = record.analysis.of(letter).mean
        samples = [s for s in record.samples if s.letter == letter and s.counts and _made_photos(record, s)]
        if not samples or mean is None:
            continue
        nearest = min(samples, key=lambda s: abs(s.percent - mean))
        line = _sample(words, record, nearest)
        title = words(message("trialpage-photo", letter=letter, number=nearest.number))
        yield TrialPhoto(_made_photos(record, nearest)[0], title, (*line.read, *line.seen.split("; ")[:2]))


def _made_photos(record: TrialRecord, sample: Sample) -> tuple[PhotoLine, ...]:
    made = record.made.get(sample.number)
    return tuple(photo for photo in made.photos if not photo.withdrawn) if made is not None else ()
