"""The plan while its day runs: one more area, one more of the crew. What is begun stays as it was planned."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress

from pydantic import ValidationError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.mistakes import mistakes
from fieldassist.checklist.plan import AreaPlan, DayPlan, Method, Role
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Area
from fieldassist.trade.message import Figure, Refused, Several, message, term


def plan_of(events: Iterable[ev.Event]) -> DayPlan | None:
    """The plan of a day as these events leave it; None where none opens it.

    What cannot stand in it is left out: the events may be anybody's, made to do harm.
    """
    plan: DayPlan | None = None
    for event in events:
        body = event.body
        if isinstance(body, ev.DayOpened):
            plan = body.plan
        elif plan is not None and isinstance(body, ev.AreaPlanned | ev.PersonAdded):
            with suppress(ValidationError):
                plan = (
                    plan.with_area(body.planned) if isinstance(body, ev.AreaPlanned) else plan.with_person(body.person)
                )
    return plan


def plan_area(draft: Draft, command: cmd.PlanArea) -> None:
    """The area is in the plan from here on; nothing of it is begun."""
    state, planned = draft.state, command.planned
    plan = state.plan
    assert plan is not None
    if planned.name in state.areas:
        raise draft.refusal("engine-planned-begun", area=planned.name)
    held = {**{each.checklist: each for each in command.checklists}, **state.checklists}
    check_area(planned, held, plan.methods)
    _checked(draft, lambda: plan.with_area(planned))
    if planned.checklist not in state.checklists:
        draft.emit(ev.ChecklistAdopted(checklist=held[planned.checklist]))
    anew = plan.area(planned.name) is not None
    draft.emit(ev.AreaPlanned(planned=planned, anew=anew))
    draft.say(message("engine-planned", area=planned.name))


def add_person(draft: Draft, command: cmd.AddPerson) -> None:
    """One more in the crew. Who signs and releases is planned in the morning: else whoever holds the tablet could make
    a foreman."""
    plan, person = draft.state.plan, command.person
    assert plan is not None
    if person.role is Role.FOREMAN or person.deputy_for is not None:
        raise draft.refusal("engine-person-releases", name=person.name)
    _checked(draft, lambda: plan.with_person(person))
    draft.emit(ev.PersonAdded(person=person))
    draft.say(message("engine-person-added", name=person.name, role=person.role.value))


def _checked(draft: Draft, planned: Callable[[], DayPlan]) -> None:
    try:
        planned()
    except ValidationError as error:
        wrong = tuple(mistake.wrong for mistake in mistakes(error, DayPlan))
        raise draft.refusal("engine-plan-unfit", why=Several(wrong, "sentences")) from None


def check_area(planned: AreaPlan, held: Mapping[str, Checklist], methods: Mapping[str, Method]) -> None:
    """Refused where an area cannot be worked by its checklist, one of `held`: every limit and fact must be computable
    before the work starts, not fail at the wall. methods: those of the plan's list."""
    checklist = held.get(planned.checklist)
    if checklist is None:
        known = Several(tuple(sorted(held)))
        raise Draft.refusal("engine-unknown-checklist", area=planned.name, checklist=planned.checklist, known=known)
    if planned.piece.product not in checklist.products:
        serves = Several(tuple(term("engine-product", p) for p in checklist.products))
        product = term("engine-product", planned.piece.product)
        raise Draft.refusal(
            "engine-unfit-checklist", area=planned.name, product=product, checklist=planned.checklist, serves=serves
        )
    if (planned.trial is None) != (checklist.trying is None):
        tries = Several(tuple(sorted(name for name, each in held.items() if each.trying is not None)) or ("-",), "or")
        which = "without" if planned.trial is not None else "with"
        raise Draft.refusal(
            "trial-unfit-checklist", area=planned.name, checklist=planned.checklist, which=which, tries=tries
        )
    tried = tuple(one.method for one in planned.trial.combinations) if planned.trial is not None else ()
    _check_figures(planned, checklist, (planned.method, *tried, *methods.values()))


def _check_figures(plan: AreaPlan, checklist: Checklist, methods: Sequence[Method]) -> None:
    for method in methods:
        area = Area(plan=plan, checklist=checklist, method=method)
        try:
            rules.notch_of(method)
            for _, step in checklist.all_steps():
                area.criterion(step)
            for caution in checklist.cautions:
                area.holds(caution)
        except ValueError as reason:
            why: Figure = reason.told if isinstance(reason, Refused) else str(reason)
            raise Draft.refusal("engine-unworkable-area", area=plan.name, why=why) from None
    unread = rules.never_read(area.facts, {s.measures for _, s in checklist.all_steps() if s.measures})
    if unread and any(s.lift for s in checklist.sections):
        raise Draft.refusal(
            "engine-lift-never-complete", area=plan.name, checklist=checklist.checklist, unread=Several(unread, "and")
        )
