"""A trial's area as its pages need it: which one, what its analysis depends on, and what may be done next with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from fieldassist.checklist import rules, trying
from fieldassist.checklist.plan import AreaPlan, Role
from fieldassist.checklist.state import Area, State, TrialSample
from fieldassist.trade.message import Message, Several, message, term
from fieldassist.trial import telling
from fieldassist.trial.model import Analysis, Sample, whole_percent
from fieldassist.trial.released import planned_with
from fieldassist.trial.samples import analysis_of, samples_of
from fieldassist.ui.content.day_page import date_told
from fieldassist.ui.content.names import capital, person


@dataclass(frozen=True, slots=True)
class TrialSaid:
    """What a trial's samples say: they are worked out beside the screen. of: the samples that this is of."""

    of: tuple[TrialSample, ...]
    samples: tuple[Sample, ...]
    analysis: Analysis
    needed: float


@dataclass
class TrialMemory:
    """What was worked out last, by area; under_way: of which samples it is being worked out."""

    said: dict[str, TrialSaid] = field(default_factory=dict)
    under_way: dict[str, tuple[TrialSample, ...]] = field(default_factory=dict)


def trial_named(state: State, name: object) -> AreaPlan | None:
    """The trial that is meant: the one of this name, the one that is worked at, or the first of the plan."""
    trials = [area for area in state.plan.areas if area.trial is not None] if state.plan is not None else []
    wanted = (str(name or ""), state.active)
    return next((area for each in wanted for area in trials if area.name == each), trials[0] if trials else None)


def depends_on(area: Area) -> tuple[TrialSample, ...]:
    """What the analysis of a trial depends on."""
    return tuple(area.progress.samples.values())


def work_out_trial(area: Area) -> TrialSaid:
    """All that a trial says as far as its samples are read."""
    needed = rules.requirement(area.facts).minimum_percent
    return TrialSaid(depends_on(area), samples_of(area), analysis_of(area), needed)


def requirement_of(planned: AreaPlan) -> float:
    """Contact that the setting of a trial requires [percent]."""
    assert planned.trial is not None
    facts = rules.Facts(planned, planned.method, planned.trial.place, planned.trial.surface)
    return rules.requirement(facts).minimum_percent


def read_by(plan: AreaPlan, said: TrialSaid | None) -> Message | None:
    """How many samples were read, and by whom; None before any was."""
    count = sum(sample.counts for sample in said.samples) if said is not None else 0
    if plan.trial is None or not count:
        return None
    names = Several(tuple(map(person, plan.trial.readers)), "and")
    seen = "lifted" if plan.trial.seen == "lifted" else "seen"
    return message("mockup-read-by", count=count, seen=seen, names=names)


# --- releasing ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Releasable:
    """A combination that may be released, with its mean and interval where it has them."""

    letter: str
    best: bool
    told: Message


def releasable(said: TrialSaid) -> tuple[Releasable, ...]:
    """What may be released: what was read and is not ruled out, the best first."""
    return tuple(
        Releasable(one.letter, one.letter == said.analysis.best, mean_and_interval(said.analysis, one.letter))
        for one in said.analysis.estimates
        if one.eligible and one.samples and one.mean is not None
    )


def mean_and_interval(analysis: Analysis, letter: str) -> Message:
    """A mean with its interval, in a few words."""
    one = analysis.of(letter)
    assert one.mean is not None  # it was read
    return message("mockup-mean", mean=str(whole_percent(one.mean)), interval=telling.interval(one))


def areas_to_release_for(state: State, trial: AreaPlan) -> tuple[AreaPlan, ...]:
    """The areas of the plan in which work is set, those with the trial's piece first."""
    areas = [area for area in state.plan.areas if area.trial is None] if state.plan is not None else []
    return tuple(sorted(areas, key=lambda area: area.piece != trial.piece))


def who_releases(state: State) -> tuple[str, ...]:
    """Who may release a method, those who have the role first."""
    return tuple(one.name for one in state.plan.releasing(Role.FOREMAN)) if state.plan is not None else ()


def release_told(letter: str, who: Sequence[str]) -> Message:
    """What the key says that releases a combination. who: may, first whoever is asked."""
    if not who:
        return message("mockup-release", letter=letter)
    return message("mockup-release-signed", letter=letter, name=who[0])


def released_told(area: Area, names: Mapping[str, str]) -> tuple[Message, ...]:
    """What was released from a trial, the last one first. names: of areas, by their keys."""
    return tuple(
        message(
            "mockup-released",
            letter=one.letter,
            name=one.name,
            areas=Several(tuple(capital(names.get(key, key)) for key in one.areas), "and"),
        )
        for one in reversed(area.progress.released)
    )


def samples_left(area: Area) -> int:
    """How many samples are still to be made."""
    return sum(trying.missing(area).values())


# --- where a released method is used ------------------------------------------------------------------------------


def shown_told(planned: AreaPlan) -> Message | None:
    """What the trial has shown from which the method of an area was released, in a line; None where it is of none."""
    shown = planned.mock_up.trial if planned.mock_up is not None else None
    if shown is None:
        return None
    return message(
        "mockup-rests",
        letter=shown.letter,
        date=date_told(shown.date),
        mean=str(whole_percent(shown.mean)),
        spanned="no" if shown.low is None or shown.high is None else "yes",
        low=str(whole_percent(shown.low or 0.0)),
        high=str(whole_percent(shown.high or 0.0)),
        likely="no" if shown.chance is None else "yes",
        chance=term("trial-chance", shown.chance) if shown.chance is not None else "",
        name=shown.by,
    )


def plans_with_released(state: State, name: str) -> tuple[AreaPlan, ...]:
    """The areas for which the last release of a trial was, as they are planned with it: those that are not begun, for
    what is begun goes on as it was planned until somebody changes it there."""
    area = state.areas.get(name)
    released = area.progress.released[-1:] if area is not None else ()
    return tuple(
        planned_with(planned, release)
        for release in released
        for planned in (state.plan.areas if state.plan is not None else ())
        if planned.trial is None and planned.name not in state.areas and {planned.key, planned.name} & {*release.areas}
    )
