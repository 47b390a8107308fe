"""The facts of a mock-up trial."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from typing import Any, TypeAlias

from fieldassist.checklist import events as ev
from fieldassist.checklist import trying
from fieldassist.checklist.events import Event
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.kinds import Choice
from fieldassist.checklist.plan import AreaPlan, TrialPlan
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area
from fieldassist.facts import model
from fieldassist.facts.backs import back_fact
from fieldassist.facts.figures import rounded, rounded_if_known
from fieldassist.facts.telling import Tell
from fieldassist.trade.mortar import bed_limits
from fieldassist.trial.model import Analysis, Sample

# The words of a checklist for what was chosen, by what that measures and the option, in their order.
Labels: TypeAlias = "Mapping[tuple[str, str], str]"
# The difference of which it is told how easily it is overlooked [percent].
_OVERLOOKED = (85.0, 95.0)


def trial_fact(area: Area, stands: Standing, told: Tell) -> model.TrialFact | None:
    """The trial of an area, as far as it is made; None where nothing is tried."""
    trial = area.plan.trial
    if trial is None:
        return None
    # Numbers are loaded only for a day with a trial.
    from fieldassist.trial.samples import analysis_of, design_of, samples_of

    samples, labels = samples_of(area), _labels(area, told)
    drawn = bool(area.progress.orders)
    begun = {
        event.body.round: event  # type: ignore[union-attr]
        for event in stands.bodies(ev.SectionOpened)
        if event.body.area == area.plan.name and event.body.sample  # type: ignore[union-attr]
    }
    return model.TrialFact(
        required_percent=design_of(area).requirement,
        place=trial.place,
        surface=trial.surface,
        seen=trial.seen,
        repeats=trial.repeats,
        readers=list(trial.readers),
        a_batch=trial.a_batch,
        efforts=[label for (measures, _), label in labels.items() if measures == "effort"],
        combinations=list(_combinations(area, trial, told)),
        orders=[model.OrderFact(head=one.head, order=list(one.order)) for one in area.progress.orders],
        planned=trying.planned(area),
        made=trying.made(area),
        samples=[_sample(area, stands, sample, begun.get(sample.number), labels, told) for sample in samples],
        analysis=_analysis(analysis_of(area), trial, told) if drawn else None,
        agreement=_agreement(samples, told),
        releases=list(_releases(area)),
    )


def _labels(area: Area, told: Tell) -> Labels:
    section = area.checklist.trying
    return {
        (step.measures, option.id): told(option.label).text
        for step in (section.steps if section is not None else ())
        if isinstance(step, Choice) and step.measures is not None
        for option in step.options
    }


def from_trial(plan: AreaPlan) -> model.FromTrialFact | None:
    """The trial that an area's method was released from, None where it was not."""
    shown = plan.mock_up.trial if plan.mock_up is not None else None
    if shown is None:
        return None
    return model.FromTrialFact(**{name: getattr(shown, name) for name in model.FromTrialFact.model_fields})


def _combinations(area: Area, trial: TrialPlan, told: Tell) -> Iterator[model.CombinationFact]:
    run = trying.letters_run(area.plan, area.checklist)
    out = trying.ruled_out(area.plan, area.checklist)
    for letter, one in trial.by_letter.items():
        mortar = next((mortar for mortar in trial.mortars if mortar.name == one.mortar), area.plan.mortar)
        least, greatest = (None if end is None else canonical(end) for end in (mortar.least_bed, mortar.greatest_bed))
        bears = bed_limits(mortar.kind, data_sheet_least_mm=least, data_sheet_greatest_mm=greatest)
        yield model.CombinationFact(
            letter=letter,
            told=told(trying.told(one)),
            notch=one.notch,
            family=one.family,
            width_mm=rounded(one.width),
            depth_mm=rounded(one.depth),
            spacing_mm=rounded(one.spacing),
            angle_degrees=one.angle,
            sides=one.sides,
            back=one.back,
            movement=one.movement,
            slide_mm=rounded_if_known(one.slide),
            seating=one.seating,
            seconds=None if one.seconds is None else round(rounded(one.seconds) * 60, 6),
            mortar=one.mortar,
            mortar_name=mortar.name,
            least_bed_mm=bears.minimum_mm,
            greatest_bed_mm=bears.maximum_mm,
            shown=one.shown,
            run=letter in run,
            ruled_out=[told(reason) for reason in out.get(letter, ())],
            bed_mm=round(trying.looked_at(area.plan, area.checklist, letter).bed_mm, 6),
        )


def _sample(
    area: Area, stands: Standing, sample: Sample, begun: Event | None, labels: Labels, told: Tell
) -> model.SampleFact:
    made, section = area.progress.samples[sample.number], area.checklist.trying
    back = None
    if begun is not None and section is not None:
        back = back_fact(stands, area.plan.name, section.id, sample.number, begun.seq, told)
    return model.SampleFact(
        number=sample.number,
        letter=sample.letter,
        place=sample.place,
        batch=sample.batch,
        age_min=sample.age_min,
        readings=[
            model.EyeFact(reader=one.reader, percent=one.percent, corrected=one.corrected) for one in sample.readings
        ],
        counted=sample.counted,
        void_mm2=sample.void_mm2,
        edges_full=sample.edges_full,
        bed_mm=[round(bed, 6) for bed in sample.bed_mm],
        by_mass_mm=None if sample.by_mass_mm is None else round(sample.by_mass_mm, 6),
        effort=sample.effort,
        effort_label=labels.get(("effort", sample.effort), sample.effort),
        air=sample.air,
        air_label=labels.get(("air", sample.air), sample.air),
        spoiled=None if sample.spoiled is None else told(sample.spoiled),
        photo=sample.photo,
        photos=list(made.photos),
        back=back,
        counts=sample.counts,
        by=begun.by if begun is not None else "",
        at=made.at.wall,
        event=begun.seq if begun is not None else 0,
    )


def _analysis(said: Analysis, trial: TrialPlan, told: Tell) -> model.AnalysisFact:
    from fieldassist.trial import telling

    asked = tuple(zip(said.gains, trial.questions, strict=True))
    settled = telling.more(said)
    sentences = chain(
        telling.verdict(said), telling.ties(said), () if settled is None else (settled,), telling.doubts(said)
    )
    return model.AnalysisFact(
        claim=said.claim,
        best=said.best,
        ranking=[one.letter for one in said.estimates if one.mean is not None],
        contenders=list(said.contenders),
        ties=[list(group) for group in said.ties],
        estimates=[
            model.EstimateFact(**{name: _rounded(getattr(one, name)) for name in model.EstimateFact.model_fields})
            for one in said.estimates
        ],
        differences=[
            model.DifferenceFact(**{name: _rounded(getattr(one, name)) for name in model.DifferenceFact.model_fields})
            for one in said.differences
        ],
        gains=[
            model.GainFact(
                asked=told(telling.question(question)),
                part=gain.part,
                pairs=[list(pair) for pair in gain.pairs],
                points=_rounded(gain.points),
                low=_rounded(gain.low),
                high=_rounded(gain.high),
                p=_rounded(gain.p),
                by=gain.by,
                each=[_rounded(points) for points in gain.each],
                found=gain.found,
                told=told(telling.gain(gain, question)),
            )
            for gain, question in asked
        ],
        df=said.df,
        spread=_rounded(said.spread),
        wide=said.wide,
        batch_sd=_rounded(said.batch_sd),
        age_per_h=_rounded(said.age_per_h),
        more=said.more,
        overlooked=_overlooked(said, trial),
        told=[told(sentence) for sentence in sentences],
    )


def _overlooked(said: Analysis, trial: TrialPlan) -> model.OverlookedFact | None:
    """What is not told apart is not alike: how easily such a trial overlooks a difference."""
    if said.claim != "ranks" or len(said.contenders) < 2:
        return None
    from fieldassist.trial.design import can_tell

    repeats = min(one.samples for one in said.estimates)
    for one in can_tell([one.letter for one in said.estimates], repeats, a_batch=trial.a_batch):
        if one.question is None and (one.low, one.high) == _OVERLOOKED:
            return model.OverlookedFact(low=one.low, high=one.high, tenths=round(10 * (1 - one.power)))
    return None


def _agreement(samples: Sequence[Sample], told: Tell) -> model.AgreementFact | None:
    from fieldassist.trial.readers import agreement

    found = agreement(samples)
    if found is None:
        return None
    names = ("mean", "low", "high", "least", "most", "largest")
    figures = {name: _rounded(getattr(found, name)) for name in names}
    return model.AgreementFact(readers=list(found.readers), pairs=found.pairs, told=told(found.told), **figures)


def _releases(area: Area) -> Iterator[model.TrialReleaseFact]:
    for release in area.progress.released:
        shown = release.made.trial
        assert shown is not None  # a release is made from what the trial has shown
        yield model.TrialReleaseFact(
            letter=release.letter,
            areas=list(release.areas),
            by=release.name,
            deputy_for=release.deputy_for,
            why=shown.why,
            mean=shown.mean,
            low=shown.low,
            high=shown.high,
            chance=shown.chance,
            at=release.at.wall,
            event=release.seq,
        )


def _rounded(value: Any) -> Any:
    return round(value, 4) if isinstance(value, float) else value
