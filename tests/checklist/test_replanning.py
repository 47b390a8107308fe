"""The plan while its day runs: one more area, one more of the crew; what is begun stays as it was planned."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.commands import Command
from fieldassist.checklist.fold import fold
from fieldassist.checklist.loader import load_folder
from fieldassist.checklist.plan import AreaPlan, Person, Role
from fieldassist.checklist.replanning import plan_of
from fieldassist.places import shipped
from fieldassist.trade.message import Message
from tests.conftest import Crew


def _wall(crew: Crew, **changes: object) -> AreaPlan:
    plan = crew.day.state.plan
    assert plan is not None
    return plan.areas[0].model_copy(update=changes)


def _refused(crew: Crew, command: Command) -> str:
    answer = crew.day.do(command)
    assert not answer.taken
    assert isinstance(answer.say, Message)
    return answer.say.code


def test_an_area_that_is_planned_by_day_is_offered_started_and_in_the_facts_of_the_plan(crew: Crew) -> None:
    crew.say("this is rosa")
    assert crew.day.do(cmd.PlanArea(planned=_wall(crew, name="niche wall"))).taken
    crew.say("start area niche wall")
    assert crew.day.state.active == "niche wall"
    [planned] = crew.events(ev.AreaPlanned)
    assert not planned.anew
    events = crew.day.log.events
    assert fold(events).plan == plan_of(events) == crew.day.state.plan


def test_an_area_that_is_not_begun_is_planned_anew_in_its_place(crew: Crew) -> None:
    crew.say("this is rosa")
    anew = _wall(crew, where="second floor")
    assert crew.day.do(cmd.PlanArea(planned=anew)).taken
    plan = crew.day.state.plan
    assert plan is not None
    assert plan.areas[0] == anew
    assert crew.events(ev.AreaPlanned)[0].anew


def test_an_area_that_is_begun_is_never_changed(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall")
    before = crew.day.state.plan
    assert _refused(crew, cmd.PlanArea(planned=_wall(crew, where="elsewhere"))) == "engine-planned-begun"
    assert crew.day.state.plan == before


def test_an_area_brings_its_checklist_and_is_refused_without_one(crew: Crew) -> None:
    crew.say("this is rosa")
    checklists, _ = load_folder(shipped("checklists"))
    yard = _wall(crew, name="yard", checklist="exterior-wall")
    assert _refused(crew, cmd.PlanArea(planned=yard)) == "engine-unknown-checklist"
    assert crew.day.do(cmd.PlanArea(planned=yard, checklists=(checklists["exterior-wall"],))).taken
    assert crew.events(ev.ChecklistAdopted)[-1].checklist == crew.day.state.checklists["exterior-wall"]


def test_two_areas_that_are_called_alike_do_not_stand_in_one_plan(crew: Crew) -> None:
    crew.say("this is rosa")
    assert _refused(crew, cmd.PlanArea(planned=_wall(crew, name="yard", spoken="hall floor"))) == "engine-plan-unfit"


def test_who_comes_by_day_speaks_and_sets(crew: Crew) -> None:
    crew.say("this is rosa")
    assert crew.day.do(cmd.AddPerson(person=Person(name="mira", role=Role.INSTALLER))).taken
    crew.say("this is mira")
    assert crew.day.state.speaker == Person(name="mira", role=Role.INSTALLER)


def test_nobody_comes_twice_and_who_releases_is_planned_before(crew: Crew) -> None:
    crew.say("this is rosa")
    assert _refused(crew, cmd.AddPerson(person=Person(name="rosa", role=Role.OWNER))) == "engine-plan-unfit"
    assert _refused(crew, cmd.AddPerson(person=Person(name="mira", role=Role.FOREMAN))) == "engine-person-releases"
    deputy = Person(name="mira", role=Role.INSTALLER, deputy_for="edwin")
    assert _refused(crew, cmd.AddPerson(person=deputy)) == "engine-person-releases"


def test_nobody_plans_before_somebody_speaks(crew: Crew) -> None:
    assert _refused(crew, cmd.AddPerson(person=Person(name="mira", role=Role.INSTALLER))) == "engine-who-speaks"


def test_what_cannot_stand_in_a_plan_is_left_out_of_it_when_anybodys_events_are_read(crew: Crew) -> None:
    crew.say("this is rosa")
    last = crew.day.log.events[-1]
    twice = ev.PersonAdded(person=Person(name="rosa", role=Role.OWNER))
    events = [*crew.day.log.events, last.model_copy(update={"seq": last.seq + 1, "body": twice})]
    assert plan_of(events) == crew.day.state.plan
