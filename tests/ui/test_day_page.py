"""Day: where the areas stand, who is there, what goes on; a site is planned, begun, changed, found by touch alone."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from kivy.uix.widget import Widget

from fieldassist.checklist.events import AreaPlanned, AreaStarted, DayOpened, PersonAdded, SpeakerChanged, WeatherNoted
from fieldassist.checklist.plan import DayPlan
from fieldassist.record.days import listed_day
from fieldassist.ui.beginning import SiteMemory, begin
from fieldassist.ui.content import kept_mortars
from fieldassist.ui.content.kept_sites import kept_sites
from fieldassist.ui.content.tour import STEPS
from fieldassist.ui.widgets.letters import EntryField
from fieldassist.ui.widgets.picks import PickSheet
from tests import SITE
from tests.ui.conftest import Hands, begin_tablet, resize
from tests.ui.test_glove_and_eye import check


def type_in(hands: Hands, key: str, text: str) -> None:
    """Press a field and type words into it."""
    hands.press(key)
    [field] = [widget for widget in hands.widgets() if isinstance(widget, EntryField)]
    field.text = text
    hands.press("Take it")


def number(hands: Hands, key: str, digits: str) -> None:
    """Press a field and enter a number on the pad."""
    hands.press(key)
    for digit in digits:
        hands.press(digit)
    hands.press(f"Keep {digits}")


def choose(hands: Hands, key: str, option: str) -> None:
    """Press a field and choose one of its options."""
    hands.press(key)
    hands.press(option)


def _on_sheet(key: Widget) -> bool:
    """Whether a key lies on the sheet over the page."""
    at = key.parent
    while at is not None and at is not at.parent and not isinstance(at, PickSheet):
        at = at.parent
    return isinstance(at, PickSheet)


def settled(hands: Hands, until: object) -> None:
    hands.wait(until, "the day's page")  # type: ignore[arg-type]


@pytest.fixture
def empty(tmp_path: Path, cheap_hash: None) -> Iterator[Hands]:  # noqa: ARG001
    """A tablet on which no day is open; one lies in another folder."""
    with begin_tablet(tmp_path) as hands:
        hands.tablet.leave_day()
        hands.frames(6)
        yield hands


# --- a day that is open -----------------------------------------------------------------------------------------------


def test_who_speaks_is_chosen_by_touch(hands: Hands) -> None:
    hands.press("Rosa")
    assert [body.name for body in hands.events(SpeakerChanged)] == ["rosa"]
    assert "installer" in hands.seen()


def test_an_area_is_started_and_shown_at_its_step(hands: Hands) -> None:
    hands.press("Rosa")
    hands.press("Begin: Shower wall")
    assert [body.area for body in hands.events(AreaStarted)] == ["shower wall"]
    assert hands.tablet.at == "work"
    hands.go("day")
    assert hands.key("Go on: Shower wall")
    rosas = [key for key in hands.every_key() if key.text == "Rosa"]
    assert [key.chosen for key in rosas].count(True) == 1, "she sets there"


def test_an_area_that_is_started_by_voice_is_looked_at_without_a_hand(hands: Hands) -> None:
    hands.say("this is rosa")
    assert hands.tablet.at == "day"
    hands.say("start area shower wall")
    assert hands.tablet.at == "work"
    hands.go("day")
    hands.say("understood")
    assert hands.tablet.at == "day", "who went there to look is left there"


def test_who_works_is_asked_before_the_first_area_and_what_was_pressed_goes_on(hands: Hands) -> None:
    hands.press("Begin: Shower wall")
    hands.touch(next(key for key in hands.every_key() if key.text == "Otto" and _on_sheet(key)))
    hands.quiet()
    assert [body.name for body in hands.events(SpeakerChanged)] == ["otto"]
    assert [body.area for body in hands.events(AreaStarted)] == ["shower wall"]
    assert hands.tablet.at == "work"


def test_another_area_is_begun_from_its_wall(hands: Hands) -> None:
    hands.press("Rosa")
    hands.press("Hall floor")
    hands.press("Begin: Hall floor")
    assert [body.area for body in hands.events(AreaStarted)] == ["hall floor"]


def test_the_weather_is_noted_by_touch(hands: Hands) -> None:
    hands.press("Weather")
    hands.press("Overcast")
    assert [body.text for body in hands.events(WeatherNoted)] == ["overcast"]
    assert hands.key("Overcast")


def test_one_more_area_is_planned_while_the_day_runs(hands: Hands) -> None:
    hands.press("Rosa")
    hands.press("New area")
    type_in(hands, "Name of the area", "niche wall")
    hands.press("Plan this area")
    assert not hands.events(AreaPlanned), "where it is lacks"
    hands.press("Close")
    type_in(hands, "Where it is", "first floor")
    number(hands, "Wall: width", "2000")
    number(hands, "Wall: height", "3000")
    hands.press("Plan this area")
    [planned] = hands.events(AreaPlanned)
    assert planned.planned.name == "niche wall"
    assert (planned.planned.grid.rows, planned.planned.grid.columns) == (1, 2)
    assert hands.tablet.at == "day"


def test_an_area_that_is_not_begun_is_changed(hands: Hands) -> None:
    hands.press("Rosa")
    hands.press("Hall floor")
    hands.press("Change")
    type_in(hands, "Where it is", "second floor")
    hands.press("Plan this area")
    [planned] = hands.events(AreaPlanned)
    assert (planned.planned.name, planned.planned.where, planned.anew) == ("hall floor", "second floor", True)


def test_one_more_person_comes_while_the_day_runs(hands: Hands) -> None:
    hands.press("Rosa")
    hands.press("New person")
    type_in(hands, "Name", "mira")
    hands.press("Add to the crew")
    assert [body.person.name for body in hands.events(PersonAdded)] == ["mira"]


# --- from an empty tablet ---------------------------------------------------------------------------------------------


def test_an_empty_tablet_comes_to_its_first_area_by_touch_alone(empty: Hands) -> None:
    hands = empty
    hands.press("New site")
    type_in(hands, "Site", "Quillhaven Baths")
    for name in ("edwin", "rosa"):  # the first is the foreman, the next ones set
        hands.press("New person")
        type_in(hands, "Name", name)
        hands.press("Done")
    hands.press("Begin the day")
    assert hands.tablet.view is None, "no area yet"
    hands.press("Close")
    hands.press("New area")
    type_in(hands, "Name of the area", "shower wall")
    type_in(hands, "Where it is", "first floor")
    choose(hands, "Checklist", "Wet-area wall")
    number(hands, "Piece: long side", "1200")
    number(hands, "Piece: short side", "600")
    number(hands, "Piece: thickness", "10")
    number(hands, "Joint", "3")
    number(hands, "Wall: width", "4800")
    number(hands, "Wall: height", "3000")
    hands.press("Mortar")
    hands.press("New mortar")
    type_in(hands, "Name on the bag", "Sample Mortar L")
    number(hands, "Open time", "20")
    number(hands, "Pot life", "90")
    hands.press("Keep this mortar")
    assert hands.tablet.at == "site"
    hands.press("Done")
    assert [site.name for site in kept_sites(hands.tablet.data)] == ["Quillhaven Baths"]
    hands.press("Begin the day")
    settled(hands, lambda: hands.tablet.view is not None)
    hands.press("Rosa")
    hands.press("Begin: Shower wall")
    assert [body.area for body in hands.events(AreaStarted)] == ["shower wall"]
    assert kept_sites(hands.tablet.data) == (), "it is in its day's log now"
    assert [mortar.name for mortar in kept_mortars.load(hands.tablet.data).mortars] == ["Sample Mortar L"]


def test_a_name_that_no_person_can_have_is_told_beside_its_field(empty: Hands) -> None:
    hands = empty
    hands.press("New site")
    hands.press("New person")
    type_in(hands, "Name", "rosa 2")
    wrong = hands.tablet.memory.of(SiteMemory).draft.wrong["crew", 0, "name"]
    assert hands.tablet.words(wrong) in hands.seen()


def test_a_site_that_is_half_planned_is_there_again(empty: Hands) -> None:
    hands = empty
    hands.press("New site")
    type_in(hands, "Site", "Quillhaven Baths")
    hands.tablet.memory.forget(SiteMemory)
    hands.press("Done")
    hands.press("Quillhaven Baths")
    assert hands.tablet.memory.of(SiteMemory).draft.get("site") == "Quillhaven Baths"


def test_a_plan_that_was_written_by_hand_is_offered_and_a_wrong_one_says_why(empty: Hands) -> None:
    hands = empty
    folder = hands.tablet.data / "days"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "good.yaml").write_text(SITE.read_text(encoding="utf-8"), encoding="utf-8")
    (folder / "wrong.yaml").write_text("site: nowhere\n", encoding="utf-8")
    hands.go("wall")
    hands.go("day")
    hands.wait(lambda: "wrong.yaml" in hands.seen(), "the plans")
    hands.press("wrong.yaml")
    assert hands.tablet.at == "day"
    hands.press("Close")
    hands.press("Quillhaven Baths")
    assert hands.tablet.memory.of(SiteMemory).draft.done is not None
    hands.press("Begin the day")
    settled(hands, lambda: hands.tablet.view is not None)
    assert (folder / "good.yaml").exists(), "what was written by hand is never taken away"


def test_a_plan_of_another_day_takes_todays_date_by_one_press_before_it_is_begun(empty: Hands) -> None:
    hands = empty
    folder = hands.tablet.data / "days"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "good.yaml").write_text(SITE.read_text("utf-8").replace("2026-03-17", "2026-03-16"), encoding="utf-8")
    hands.go("wall")
    hands.go("day")
    hands.wait(lambda: "Quillhaven Baths" in hands.seen(), "the plans")
    hands.press("Quillhaven Baths")
    assert "The plan: Monday 16 March. The clock: Tuesday 17 March." in hands.seen()
    assert not [key for key in hands.every_key() if key.named == "Begin the day"]
    hands.press("Take Tuesday 17 March")
    hands.press("Begin the day")
    settled(hands, lambda: hands.tablet.view is not None)
    [opened] = hands.events(DayOpened)
    assert opened.plan.date == "2026-03-17"
    assert opened.tablet is not None
    assert opened.tablet.number == 1


def begun_day(hands: Hands) -> DayPlan:
    """A day on the tablet itself, with an area under way."""
    view = hands.tablet.view
    assert view is not None
    plan = view.state.plan
    assert plan is not None
    begin(hands.tablet, plan)
    hands.wait(lambda: hands.tablet.view is not None, "the day")
    hands.say("this is rosa", "start area shower wall")
    return plan


def test_tomorrow_goes_on_where_today_ended(hands: Hands) -> None:
    plan = begun_day(hands)
    hands.tablet.leave_day()
    hands.clock.advance(24 * 60)
    hands.go("day")
    hands.wait(lambda: f"Go on today: {plan.site}" in hands.seen(), "the days")
    hands.press("Go on today")
    hands.wait(lambda: hands.tablet.at == "site", "the plan")
    hands.press("Begin the day")
    settled(hands, lambda: hands.tablet.view is not None)
    [opened] = hands.events(DayOpened)
    assert opened.plan.date == "2026-03-18"
    assert [list(day.areas) for day in opened.continues] == [["shower wall"]]


def test_days_are_searched_and_opened(hands: Hands) -> None:
    plan = begun_day(hands)
    path = next((hands.tablet.data / "days").glob("*.db"))
    hands.tablet.leave_day()
    hands.go("days")
    hands.wait(lambda: plan.site in hands.seen(), "the days")
    type_in(hands, "Search", "nowhere")
    assert plan.site not in hands.seen()
    type_in(hands, "nowhere", "otto")
    assert plan.site in hands.seen()
    hands.press("Failures")
    assert plan.site not in hands.seen(), "nothing failed"
    hands.press("Failures")
    choose(hands, "All areas", "Hall floor")
    hands.press(plan.site)
    hands.press("Open this day")
    settled(hands, lambda: hands.tablet.view is not None)
    assert listed_day(path).areas == tuple(area.name for area in plan.areas)


def test_practice_is_a_tour_that_leads_to_each_screen(empty: Hands) -> None:
    hands = empty
    hands.press("Practice")
    settled(hands, lambda: hands.tablet.view is not None)
    view = hands.tablet.view
    assert view is not None
    assert view.state.kind == "practice"
    hands.go("day")
    assert f"1 of {len(STEPS)}" in hands.seen()
    hands.press("Go on with the tour")
    assert hands.tablet.at == "work"
    assert "Spread mortar" in hands.seen()
    hands.say("spread")
    assert "Set it, then say" in hands.seen(), "the next step is told where the hands are"
    hands.go("day")
    assert f"2 of {len(STEPS)}" in hands.seen()
    hands.press("Leave practice")
    assert hands.tablet.view is None


# --- what it looks like -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "units", "hand"), [(1.0, "metric", "right"), (1.5, "us", "left")])
@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_nothing_is_cut_and_every_key_is_large_enough(
    hands: Hands, size: tuple[int, int], text: float, units: str, hand: str
) -> None:
    resize(*size)
    hands.tablet.choose(text=text, units=units, hand=hand)
    hands.frames(6)
    hands.press("Rosa")
    check(hands, "day")
    hands.press("Hall floor")
    check(hands, "what can be done with an area")
    hands.press("Change")
    check(hands, "an area that is laid out")
    hands.press("Trowel")
    check_sheet(hands)
    hands.press("Close")
    hands.go("day")
    hands.press("New area")
    check(hands, "a new area")
    hands.go("mortars")
    check(hands, "mortars")
    hands.press("New mortar")
    check(hands, "a mortar")
    hands.go("days")
    time.sleep(0.2)
    hands.frames(6)
    check(hands, "days")
    hands.tablet.leave_day()
    hands.frames(6)
    check(hands, "an empty tablet")
    hands.press("New site")
    check(hands, "a site")
    hands.press("New person")
    check(hands, "a person")


def check_sheet(hands: Hands) -> None:
    """What lies over the page hides it: only the sheet is measured."""
    for key in [key for key in hands.every_key() if _on_sheet(key)]:
        assert not key.cut, key.named
        assert min(key.width, key.height) >= hands.tablet.look.dots(104), key.named


def test_a_wall_is_laid_out_while_its_area_is_planned(hands: Hands) -> None:
    hands.press("Rosa")
    hands.press("Hall floor")
    hands.press("Change")
    number(hands, "Wall: width", "4509")
    number(hands, "Wall: height", "2706")
    hands.press("Lay out")
    assert hands.tablet.at == "layout"
    done = hands.tablet.at_what["plan"]
    hands.tablet.at_what["keep"](done.model_copy(update={"where": "as it was laid out"}))
    hands.tablet.back()
    hands.frames(4)
    draft = hands.tablet.memory.of(SiteMemory).draft
    assert draft.get("areas", 1, "where") == "as it was laid out"
    # 5 pieces of 900 mm and 4 joints of 3 mm are 4512 mm, 3 and 2 joints 2706 mm: the last column is cut by 3 mm.
    assert (done.grid.rows, done.grid.columns) == (3, 5)
