"""A site is planned field by field on the tablet: what is wrong is told beside its field, and the end is a plan."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldassist.checklist.fields import canonical
from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.plan import AreaPlan, DayPlan, Mortar, Role
from fieldassist.trade.message import Message
from fieldassist.trade.ridges import COMMON_NOTCHES
from fieldassist.ui.content import kept_mortars
from fieldassist.ui.content.kept_mortars import KeptMortars
from fieldassist.ui.content.kept_sites import keep, kept_sites, new_path
from fieldassist.ui.content.site_draft import (
    NOTCHES,
    PlanDraft,
    area_draft,
    area_fields,
    first_wrong,
    method_fields,
    mortar_of,
    new_site,
    notch_name,
    person_fields,
    put_in_area,
    site_of,
    with_new_area,
    with_new_person,
    without,
)
from tests import SITE
from tests.ui.conftest import shipped_checklists

MORTAR = {"name": "Sample Mortar L", "kind": "large-and-heavy-tile", "pot_life": "90 min", "open_time": "20 min"}


def wall(draft: PlanDraft, index: int = 0, **values: str) -> PlanDraft:
    """Enter fields of an area, as a finger does, one after the other."""
    asked = {one.name: one for one in area_fields(index, "metric", shipped_checklists())}
    for name, value in values.items():
        draft = put_in_area(draft, index, asked[name], value, shipped_checklists())
    return draft


def whole() -> PlanDraft:
    draft = new_site("2026-05-14", "metric").put("Quillhaven Baths", "site")
    draft, foreman = with_new_person(draft)
    draft, rosa = with_new_person(draft.put("edwin", "crew", foreman, "name"))
    draft, _ = with_new_area(draft.put("rosa", "crew", rosa, "name"))
    draft = wall(draft, area="shower wall", where="first floor", checklist="wet-area-wall")
    draft = wall(
        draft, length="1200 mm", width="600 mm", thickness="10 mm", joint="3 mm", across="4809 mm", up="3.009 m"
    )
    return draft.put(MORTAR, "areas", 0, "mortar")


def test_a_plan_is_entered_from_nothing_by_fields_alone() -> None:
    plan = whole().done
    assert isinstance(plan, DayPlan)
    assert [(p.name, p.role) for p in plan.crew] == [("edwin", Role.FOREMAN), ("rosa", Role.INSTALLER)]
    area = plan.areas[0]
    assert area.piece.product == "tile", "the checklist brings it"
    # 4 pieces of 1200 mm and 3 joints of 3 mm are 4809 mm, 5 of 600 mm and 4 joints 3012 mm: the last row is cut by 3.
    assert area.grid is not None
    assert (area.grid.rows, area.grid.columns) == (5, 4)
    assert first_wrong(whole()) is None


def test_what_lacks_is_told_one_after_the_other_until_nothing_does() -> None:
    draft = new_site("2026-05-14", "metric")
    told = []
    for enter in (
        lambda d: d.put("Quillhaven Baths", "site"),
        lambda d: with_new_person(d)[0].put("edwin", "crew", 0, "name"),
        lambda d: with_new_area(d)[0].put({**whole().get("areas", 0)}, "areas", 0),
    ):
        why = first_wrong(draft)
        assert isinstance(why, Message)
        told.append((why.code, why.figures["what"]))
        draft = enter(draft)
    assert told == [("site-lacks", "site"), ("site-lacks", "crew"), ("site-lacks", "areas")]
    assert draft.done is not None


def test_a_mistake_stands_beside_its_field() -> None:
    draft = whole().put("rosa 2", "crew", 1, "name")
    assert set(draft.wrong) == {("crew", 1, "name")}
    twice = whole().put("edwin", "crew", 1, "name")
    assert set(twice.wrong) == {("crew", 1, "name")}
    nobody = without(whole(), "crew", 0)
    assert set(nobody.wrong) == {("crew",)}


def test_a_plan_that_is_there_goes_on_as_it_is_under_another_date() -> None:
    plan = load_plan(SITE)
    assert site_of(plan, "2026-03-18").done == plan.model_copy(update={"date": "2026-03-18"})


def test_one_more_area_begins_with_what_the_last_one_is_made_of() -> None:
    draft, index = with_new_area(whole())
    assert index == 1
    assert draft.get("areas", 1, "mortar") == MORTAR
    assert draft.get("areas", 1, "name") is None
    assert draft.get("areas", 1, "grid") is None, "another wall has pieces of its own"
    assert isinstance(area_draft(whole(), 0).done, AreaPlan)


@pytest.mark.parametrize("name", NOTCHES)
def test_a_notch_is_written_exactly_and_known_again(name: str) -> None:
    fields = method_fields(name)
    assert notch_name(fields) == name
    method = PlanDraft(DayPlan).put(fields, "method").get("method")
    area = whole().put(method, "areas", 0, "method").done.areas[0]
    assert canonical(area.method.width) == pytest.approx(COMMON_NOTCHES[name].width_mm)
    assert canonical(area.method.depth) == pytest.approx(COMMON_NOTCHES[name].depth_mm)
    assert canonical(area.method.spacing) == pytest.approx(COMMON_NOTCHES[name].spacing_mm)


def test_nobody_who_releases_is_offered_while_the_day_runs() -> None:
    _, role = person_fields(0, by_day=True)
    assert role.options == ("installer", "owner")


def test_mortars_are_kept_and_read_again(tmp_path: Path) -> None:
    mortar = mortar_of(None).put("Sample Mortar L", "name").put("20 min", "open_time").put("90 min", "pot_life").done
    assert isinstance(mortar, Mortar)
    kept_mortars.save(tmp_path, KeptMortars().with_mortar(mortar))
    assert kept_mortars.load(tmp_path).mortars == (mortar,)
    (tmp_path / kept_mortars.FILE).write_text("{")
    assert kept_mortars.load(tmp_path).mortars == ()


def test_the_mortars_of_a_plan_come_to_the_list_and_overwrite_none() -> None:
    plan = load_plan(SITE)
    mine = plan.areas[0].mortar.model_copy(update={"marking": "mine"})
    assert KeptMortars().with_those_of(plan).mortars == (plan.areas[0].mortar,)
    assert KeptMortars().with_mortar(mine).with_those_of(plan).mortars == (mine,)


def test_a_mortar_that_changes_its_name_stands_in_the_list_once() -> None:
    mortar = load_plan(SITE).areas[0].mortar
    other = mortar.model_copy(update={"name": "Other"})
    assert KeptMortars().with_mortar(mortar).with_mortar(other, mortar.name).mortars == (other,)
    assert KeptMortars().with_mortar(mortar).without(mortar.name).mortars == ()


def test_a_site_that_is_half_planned_is_kept_as_it_is(tmp_path: Path) -> None:
    half = new_site("2026-05-14", "us").put("Quillhaven Baths", "site")
    path = new_path(tmp_path, "Quillhaven Baths")
    keep(path, half)
    [kept] = kept_sites(tmp_path)
    assert (kept.path, kept.name, kept.draft) == (path, "Quillhaven Baths", half)
    assert new_path(tmp_path, "Quillhaven Baths") != path
    path.write_text("[]")
    assert kept_sites(tmp_path) == ()
