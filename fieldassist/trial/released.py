"""A method that is released from a trial: what the trial has shown of it, and the plan of the areas that it is for."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from fractions import Fraction

from fieldassist.checklist.methods import judge
from fieldassist.checklist.plan import AreaPlan, DayPlan, MockUp, TrialShown
from fieldassist.checklist.state import Area, MethodRelease
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.model import Analysis
from fieldassist.trial.samples import samples_of


def shown(area: Area, said: Analysis, letter: str, *, date: str, site: str, head: str, by: str, why: str) -> TrialShown:
    """What a trial has shown of one combination, as it goes into the plans of the areas that it is released for.

    head: of the record as it stands at the release; by: who releases it; why: the reason where it is not the best.
    Errors: ValueError where no sample of it was read.
    """
    trial, found = area.plan.trial, said.of(letter)
    if trial is None or found.mean is None or found.centre is None:
        raise ValueError(f"nothing was read of combination {letter}")
    batches = {sample.batch for sample in samples_of(area) if sample.counts}
    return TrialShown(
        date=date,
        site=site,
        area=area.plan.name,
        head=head,
        letter=letter,
        samples=found.samples,
        mean=round(found.mean, 2),
        low=None if found.low is None else round(found.low, 2),
        high=None if found.high is None else round(found.high, 2),
        chance=found.chance,
        centre=round(found.centre, 6),
        variance=round(found.variance or 0.0, 6),
        spread=round(found.spread or said.spread, 6),
        between=round(said.batch_sd**2, 6),
        batches=max(1, len(batches)),
        readers=trial.readers,
        bed_mm=round(judge(area, trial.by_letter[letter].method).bed_mm, 2),
        by=by,
        why=why,
    )


def made_up(area: Area, letter: str, what: TrialShown) -> MockUp:
    """The same as a mock-up in a plan, which is judged as a lifted tile is: by the worst of its samples."""
    read = [sample for sample in samples_of(area) if sample.letter == letter and sample.counts]
    worst = min(reading.percent for sample in read for reading in sample.readings)
    voids = [sample.void_mm2 for sample in read if sample.void_mm2 is not None]
    void = Quantity(Fraction(round(max(voids)), 100), "cm2") if len(voids) == len(read) else None
    return MockUp(
        date=what.date,
        percent=worst,
        largest_void=void,
        corners="full" if all(sample.edges_full for sample in read) else "not full",
        by=" and ".join(what.readers),
        trial=what,
    )


def with_released(plan: DayPlan, releases: Iterable[MethodRelease]) -> DayPlan:
    """The plan with the methods that were released for its areas, the last release of an area before the others.
    An area is meant by its key or by its name."""
    for release in releases:
        for area in plan.areas:
            if area.trial is None and {area.key, area.name} & set(release.areas):
                plan = plan.with_area(planned_with(area, release))
    return plan


def with_those_of_the_site(plan: DayPlan, releases: Iterable[MethodRelease], going_on: Collection[str]) -> DayPlan:
    """The plan with what was released for its areas at its own site. going_on: the keys of areas that go on from
    another day, which keep the method that they have."""
    own = [one for one in releases if one.made.trial is not None and one.made.trial.site == plan.site]
    taken = with_released(plan, own)
    areas = zip(plan.areas, taken.areas, strict=True)
    return plan.model_copy(update={"areas": tuple(was if was.key in going_on else now for was, now in areas)})


def planned_with(area: AreaPlan, release: MethodRelease) -> AreaPlan:
    """An area as it is worked with a released method."""
    return area.model_copy(update={"method": release.method, "mock_up": release.made})
