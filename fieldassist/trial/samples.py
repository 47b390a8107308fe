"""A trial's area as the analysis wants it: its samples out of the record, and what is compared with what."""

from __future__ import annotations

from fieldassist.checklist import rules
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import Mortar
from fieldassist.checklist.state import Area, SampleAnswer, TrialSample
from fieldassist.trial.analysis import analyse
from fieldassist.trial.model import Analysis, Design, EyeReading, Sample

# How dense fresh mortar is, where a bed is told by its mass [kg/L]: ours, common practice, no published source. The
# data sheet's bag and yield say it better.
FRESH_KG_PER_L = 1.6


def samples_of(area: Area) -> tuple[Sample, ...]:
    """The samples of a trial's area that are made, in their order, with those that were spoiled."""
    batches = {batch: at for at, batch in enumerate(sorted({s.batch for s in area.progress.samples.values()}), 1)}
    return tuple(_sample(area, sample, batches[sample.batch]) for sample in area.progress.samples.values())


def _sample(area: Area, made: TrialSample, batch: int) -> Sample:
    by: dict[str, list[SampleAnswer]] = {}
    for answer in sorted(made.answers, key=lambda one: one.kept):
        by.setdefault(answer.measures, []).append(answer)
    void, edges = by.get("largest void"), by.get("edges")
    counted, mass = by.get("counted"), by.get("mortar")
    # A sample that is still being read takes part in nothing: a half-read one would be chosen by whoever stops.
    readings = (
        tuple(EyeReading(a.reader, a.canonical, a.corrected) for a in by.get("coverage", ())) if made.done else ()
    )
    return Sample(
        letter=made.letter,
        number=made.number,
        place=made.place,
        batch=batch,
        age_min=made.age_min,
        readings=readings,
        counted=counted[-1].canonical if counted else None,
        void_mm2=void[-1].canonical * 1e6 if void else None,
        edges_full=edges[-1].option == "full" if edges else None,
        bed_mm=tuple(a.canonical for a in by.get("bed", ())),
        by_mass_mm=_bed_by_mass(area, made.letter, mass[-1].canonical) if mass else None,
        effort=by["effort"][-1].option if "effort" in by else "",
        air=by["air"][-1].option if "air" in by else "",
        spoiled=made.spoiled,
        photo=made.photos[-1] if made.photos else "",
    )


def _bed_by_mass(area: Area, letter: str, kg: float) -> float:
    """The mean bed of one sample out of the mass of its mortar, the combination's own [mm]."""
    trial = area.plan.trial
    assert trial is not None
    face = canonical(trial.sheet) if trial.sheet is not None else area.piece_area
    mortar = (area.plan.mortar, *trial.mortars)[trial.mortar_place(letter)]
    return kg / fresh_density(mortar) / face


def fresh_density(mortar: Mortar) -> float:
    """How dense the fresh mortar is [kg/L]: powder and water of a bag over its yield, as the data sheet has them."""
    if mortar.bag is None or mortar.bag_yield is None:
        return FRESH_KG_PER_L
    water = canonical(mortar.water_per_bag) if mortar.water_per_bag is not None else 0.0
    return (canonical(mortar.bag) + water) / canonical(mortar.bag_yield)


def design_of(area: Area) -> Design:
    """What is compared with what in a trial's area."""
    trial = area.plan.trial
    assert trial is not None
    run = tuple(letter for letter in trial.letters if letter in area.progress.order)
    pairs = (tuple(pair for pair in trial.pairs(q) if set(pair) <= set(run)) for q in trial.questions)
    asked = [(found, question.part or "") for found, question in zip(pairs, trial.questions, strict=True)]
    return Design(
        letters=run,
        eligible=tuple(letter for letter in run if letter not in area.progress.ruled_out),
        requirement=rules.requirement(area.facts).minimum_percent,
        pairs=tuple(found for found, _ in asked),
        part_of=tuple(part for _, part in asked),
        readers=len(trial.readers),
    )


def analysis_of(area: Area) -> Analysis:
    """All that a trial says, as far as its samples are made. Its draws come from the head that its order was drawn
    from, so that whoever holds the record gets the same figures."""
    head = area.progress.orders[0].head if area.progress.orders else "0" * 64
    return analyse(samples_of(area), design_of(area), head)
