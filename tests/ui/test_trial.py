"""A trial on the tablet: designed, made, ranked and released, by touch."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist.events import AreaPlanned, MethodReleased, SamplesOrdered, SampleSpoiled
from fieldassist.checklist.plan import Role
from fieldassist.day.session import Day
from fieldassist.ui.beginning import begin, today
from fieldassist.ui.content.measuring import MeasureDrafts
from fieldassist.ui.content.trial_live import TrialMemory
from fieldassist.ui.screens import work as work_screen
from fieldassist.ui.screens.plan import PlanMemory
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.rank_chart import RankChart
from fieldassist.ui.widgets.sample_row import OrderStrip
from tests.trial.worked import planned, worked
from tests.ui.conftest import Hands, begin_tablet, resize
from tests.ui.test_glove_and_eye import check, faults

PIN = "483920"
SHOWER = {
    "name": "shower wall",
    "checklist": "wet-area-wall",
    "where": "first floor",
    "size": "6 m2",
    "piece": {"product": "tile", "length": "600 mm", "width": "600 mm", "thickness": "10 mm"},
    "method": {"family": "square", "width": "1/2 in", "depth": "1/2 in", "spacing": "1/2 in"},
}
READ = {"A": 70, "B": 88, "C": 96, "D": 97}


@pytest.fixture(autouse=True)
def _quick_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(work_screen, "DEAF_S", 0.0)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A day whose trial is all made: copied by each test that goes on with it."""
    path = tmp_path_factory.mktemp("trial") / "day.db"
    plan = planned(questions=[{"part": "sides", "one": "one", "other": "both"}])
    shower = {**SHOWER, "mortar": plan.areas[0].mortar.model_dump(mode="json", exclude_defaults=True)}
    plan = plan.with_area(type(plan.areas[0]).model_validate(shower))
    crew = worked(path, lambda letter, number, reader: READ[letter] + number % 3 - (reader == "rosa"), plan)
    crew.all_samples()
    crew.day.close()
    return path


@pytest.fixture
def ranked(tmp_path: Path, made: Path, cheap_hash: None) -> Iterator[Hands]:  # noqa: ARG001
    """A tablet with that day open, at its ranking."""
    path = tmp_path / "made.db"
    path.write_bytes(made.read_bytes())
    with begin_tablet(tmp_path, planned()) as hands:
        tablet = hands.tablet
        tablet.close_day()
        tablet.open_day(path, lambda: Day.resume(path, hands.clock))
        hands.wait(lambda: tablet.view is not None, "the day")
        hands.go("trial")
        hands.wait(lambda: tablet.memory.of(TrialMemory, path).said, "the ranking")
        hands.frames(6)
        yield hands


def _at_site(hands: Hands, site: str) -> bool:
    view = hands.tablet.view
    return view is not None and view.state.plan is not None and view.state.plan.site == site


def big(hands: Hands) -> Key:
    [found] = [key for key in hands.every_key() if key.kind == "action"]
    return found


def test_a_design_is_planned_as_an_area_of_the_running_day(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.go("day")
    hands.press("Mock-up")
    assert hands.tablet.at == "trial design"
    assert "12 samples" in hands.seen()
    hands.press("Vibrated")
    assert "24 samples" in hands.seen()
    hands.press("2 each")
    assert "16 samples" in hands.seen()
    hands.press("By mass")
    hands.press("Counted too")
    hands.press("See all")
    hands.touch(next(key for key in hands.every_key() if key.text == "Leave it out"))
    hands.press("Back to the design")
    assert "14 samples" in hands.seen()
    hands.press("Plan this mock-up")
    [area] = hands.events(AreaPlanned)
    assert area.planned.trial.repeats == 2
    assert (area.planned.trial.bed, area.planned.trial.counted) == ("mass", True)
    assert len(area.planned.trial.combinations) == 7
    assert [question.part for question in area.planned.trial.questions] == ["sides", "seating"]
    hands.press("Mock-up")
    assert "not begun, 14 samples" in hands.seen()


def test_a_sample_is_made_spoiled_and_read_by_touch_and_blind(tmp_path: Path, cheap_hash: None) -> None:  # noqa: ARG001
    with begin_tablet(tmp_path, planned()) as hands:
        hands.say("this is rosa", "start area mock up", "understood", "air temperature 20", "yes")
        hands.say("base temperature 18", "yes", "base checked", "new batch", "understood", "one bag", "yes")
        hands.say("lot b seven", "yes", "water six liters", "yes", "batch mixed")
        hands.clock.advance(8)
        hands.say("remixed")
        [drawn] = hands.events(SamplesOrdered)
        hands.go("work")
        for size in ((1280, 800), (800, 1280)):
            resize(*size)
            check(hands, f"the next sample, {size}")
        hands.press("Next sample")
        hands.press("Understood")
        assert "Sample 1 of" in hands.seen()
        assert any(isinstance(widget, OrderStrip) for widget in hands.widgets())
        resize(1280, 800)
        found: list[str] = []
        for text in (1.0, 1.5):
            hands.tablet.choose(text=text)
            hands.frames(4)
            found += faults(hands, f"combing, text {text}")
        assert not found, "\n".join(found)
        hands.tablet.choose(text=1.0)
        hands.frames(6)
        hands.press(big(hands).text)
        hands.press("Combed straight")
        hands.press("Spoiled")
        hands.press("the piece slipped")
        assert hands.events(SampleSpoiled)[0].letter == drawn.order[0]
        hands.press("Next sample")
        while hands.tablet.view.state.area.sample.seen is None:  # type: ignore[union-attr]
            hands.press(big(hands).text)
        assert "Spoiled" not in hands.seen()
        hands.say("no photo")
        hands.press("Both wrote it down")
        # Neither the way it was made nor the first figure is on the page of whoever reads.
        assert not any(isinstance(widget, OrderStrip) for widget in hands.widgets())
        hands.say("rosa reads ninety five", "yes")
        for screen in ("history", "work"):
            hands.go(screen)
            assert "95" not in hands.seen().split(), screen
        hands.press("More")
        assert not any(key.text == "Measure" for key in hands.every_key()), "a photo's figure would be in Otto's ears"
        hands.press("Close")
        hands.say("otto reads ninety three", "yes")
        # Now its back may be measured; what the first reader called is the eye that stands beside it.
        hands.press("More")
        hands.press("Measure")
        check(hands, "what was on the sample's back")
        hands.press("Clear sheet")
        [draft] = hands.tablet.memory.of(MeasureDrafts).by_round.values()
        assert (draft.eye, draft.eye_by, draft.kind) == (95.0, "rosa", "clear sheet")
        assert "dark board" in hands.seen()
        hands.go("work")
        hands.say("void two square centimeters", "yes", "edges full")
        hands.say("no gauge", "no second bed", "no third bed")
        for words in ("Easy", "Air at an edge"):
            hands.frames(4)
            check(hands, words)
            hands.press(words)
        sample = hands.tablet.view.state.area.progress.samples  # type: ignore[union-attr]
        assert [one.done for one in sample.values()] == [False, True]


def test_every_sample_and_every_interval_is_drawn_and_no_two_methods_are_called_equal(ranked: Hands) -> None:
    assert len([one for one in ranked.widgets() if isinstance(one, RankChart)]) == 3
    assert "equal" not in ranked.seen().lower()
    ranked.press("Pieces and readers")
    assert "Rosa" in ranked.seen()
    ranked.press("To the ranking")
    ranked.press("One more of")
    assert ranked.events(SamplesOrdered)[-1].more
    assert ranked.tablet.view.state.area.next_sample is not None  # type: ignore[union-attr]


def test_the_foreman_releases_another_than_the_best_with_a_reason_and_by_pin(ranked: Hands, tmp_path: Path) -> None:
    ranked.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=ranked.clock.now())
    ranked.press("Release D: Edwin signs it")
    ranked.press("C: 1/2 in square")
    ranked.press("Release C: Edwin signs it")
    ranked.press("It lays less mortar")
    for digit in PIN:
        ranked.touch(ranked.key(digit))
    ranked.press("That is it")
    ranked.wait(lambda: ranked.events(MethodReleased), "the release")
    [released] = ranked.events(MethodReleased)
    assert (released.letter, released.name, released.areas) == ("C", "edwin", ("shower wall",))
    assert "less mortar" in released.made.trial.why
    assert "C is released for Shower wall" in ranked.seen()
    # It stands in the plan of the area at once, on its page and with what the trial has shown.
    ranked.quiet()
    area: Any = ranked.tablet.view.state.plan.area("shower wall")  # type: ignore[union-attr]
    assert area.method == released.method
    assert area.mock_up.trial.letter == "C"
    ranked.tablet.memory.of(PlanMemory, ranked.tablet.view.path).area = "shower wall"  # type: ignore[union-attr]
    ranked.go("plan")
    found: list[str] = []
    for text in (1.0, 1.5):
        ranked.tablet.choose(text=text)
        ranked.frames(6)
        assert "C of the mock-up" in ranked.seen()
        found += faults(ranked, f"the plan of a released method, text {text}")
    assert not found, "\n".join(found)
    # A day that begins on this tablet at the same site takes it, another site's area of the same name does not.
    days = ranked.tablet.data / "days"
    days.mkdir(exist_ok=True)
    ranked.tablet.close_day()
    (days / "2026-03-09.db").write_bytes((tmp_path / "made.db").read_bytes())
    other = released.method.model_copy(update={"seating": "vibrated"})
    shower = area.model_copy(update={"method": other, "mock_up": None})
    for site, takes in (("Quillhaven Baths, house four", True), ("Quillhaven Baths, house five", False)):
        plan = {"areas": (shower,), "site": site, "date": today(ranked.tablet)}
        begin(ranked.tablet, planned().model_copy(update=plan))
        ranked.wait(partial(_at_site, ranked, site), site)
        (begun,) = ranked.tablet.view.state.plan.areas  # type: ignore[union-attr]
        assert (begun.method == released.method, begun.mock_up is not None) == (takes, takes)
        ranked.tablet.close_day()


@pytest.mark.parametrize(("size", "theme"), [((1280, 800), "day"), ((800, 1280), "dark")])
def test_the_pages_of_a_trial_fit_glove_and_eye(ranked: Hands, size: tuple[int, int], theme: str) -> None:
    resize(*size)
    found: list[str] = []
    for text, units in ((1.0, "metric"), (1.5, "us")):
        ranked.tablet.choose(text=text, units=units, theme=theme)
        for name in ("trial", "trial samples", "release", "day", "wall", "plan"):
            ranked.go(name)
            ranked.frames(6)
            found += faults(ranked, f"{name}, {size}, text {text}")
    assert not found, "\n".join(found)
