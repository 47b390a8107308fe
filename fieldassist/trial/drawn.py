"""The order of a planned trial's samples, drawn from the head of the record."""

from __future__ import annotations

from fieldassist.checklist import trying
from fieldassist.checklist.plan import AreaPlan, TrialPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.trial.order import draw_order


def order_for(plan: AreaPlan, checklist: Checklist, head: str) -> tuple[str, ...]:
    """The order of a trial's samples, drawn from the head of the record as it stands before the area is started."""
    assert plan.trial is not None
    return draw_order(
        trying.letters_run(plan, checklist), plan.trial.repeats, plan.trial.a_batch, head, mortar_of(plan.trial)
    )


def more_for(plan: AreaPlan, letters: tuple[str, ...], repeats: int, head: str) -> tuple[str, ...]:
    """The order of more samples of some combinations, drawn alike; their own order changes nothing."""
    assert plan.trial is not None
    return draw_order(tuple(sorted(set(letters))), repeats, plan.trial.a_batch, head, mortar_of(plan.trial))


def mortar_of(trial: TrialPlan) -> dict[str, str]:
    """The mortar of each combination, by its letter."""
    return {letter: one.mortar for letter, one in trial.by_letter.items()}
