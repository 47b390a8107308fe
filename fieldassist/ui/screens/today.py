"""Today: site, crew, who speaks, where each area stands, what needs the foreman; a day is opened here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import proven
from fieldassist.checklist.events import WeatherNoted
from fieldassist.checklist.kinds import Hold
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.offers import WEATHER
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayKind
from fieldassist.checklist.state import Area, State
from fieldassist.day.before import read_before
from fieldassist.day.session import Day
from fieldassist.language import Words
from fieldassist.places import shipped
from fieldassist.trade.message import message
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.content.strip_words import time_left
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.parts import Choices, Panel, Scroll, Shape, Target, TextLabel, Upright, VerdictMark


@dataclass
class TodayMemory:
    """Whether the weather is being asked for."""

    asks_weather: bool = False


class Today(Screen):
    """The day at a glance."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._content = Upright()
        self.add_widget(Scroll(self._content))

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, view = self.tablet, self.tablet.view
        plan = view.state.plan if view is not None else None
        if view is None or plan is None:
            if self.changed("what", ("none", tablet.problem, tablet.desk is not None)):
                self._content.clear_widgets()
                if tablet.desk is None:
                    self._offer_days()
            return
        state = view.state
        weather = next((e.body.text for e in reversed(view.events) if isinstance(e.body, WeatherNoted)), "")
        words = tablet.words
        weather = words(message("prompt-weather-word", word=weather)) if weather else ""
        clocks = tuple((c.area, time_left(words(c.title), c.left_minutes, least=c.least)) for c in view.prompt.clocks)
        standing = tuple((name, standing_of(state, name, words)) for name in (a.name for a in plan.areas))
        points = () if state.closed else tuple(words(point.line) for point in open_points(state))
        asks_weather = self._memory.asks_weather
        day = (words, state.plan, state.speaker, state.active, state.closed, state.sealed, state.part)
        if self.changed("what", (day, standing, clocks, points, weather, asks_weather)):
            self._content.clear_widgets()
            self._show(state, standing, clocks, points)
            if asks_weather:
                self._ask_weather()
            else:
                self._show_whole_day(weather)

    @property
    def _memory(self) -> TodayMemory:
        return self.tablet.memory.of(TodayMemory)

    def _show(
        self,
        state: State,
        standing: tuple[tuple[str, tuple[Shape, str]], ...],
        clocks: tuple[tuple[str, str], ...],
        points: tuple[str, ...],
    ) -> None:
        look, plan = self.look, state.plan
        assert plan is not None
        self._content.add_widget(TextLabel(look, f"{plan.site} · {plan.date}", "large"))
        if state.closed:
            sealed = "sealed" if state.sealed else "signed, NOT SEALED YET"
            self._content.add_widget(TextLabel(look, f"The day is {sealed}, by {person(state.signed[-1])}.", "large"))
        self._content.add_widget(TextLabel(look, "Who speaks?", quiet=True))
        people = [
            Target(
                look,
                f"{person(one.name)}\n{one.role.value}",
                partial(self.tablet.send, cmd.SpeakAs(name=one.name)),
                role="first" if one == state.speaker else "button",
                chosen=one == state.speaker,
                size="plain",
            )
            for one in plan.crew
        ]
        self._content.add_widget(Choices(people, 3 if self.tablet.upright else 5))
        self._content.add_widget(TextLabel(look, "Areas", quiet=True))
        for name, (shape, words) in standing:
            self._area(state, name, shape, words, [text for area, text in clocks if area == name])
        if points:
            panel = Panel(look)
            panel.add_widget(TextLabel(look, "Open for the foreman", "plain", role="panel", bold=True))
            for point in points:
                panel.add_widget(TextLabel(look, f"– {capital(point)}", "plain", role="panel"))
            self._content.add_widget(panel)

    def _show_whole_day(self, weather: str) -> None:
        """What concerns the whole day, each at one press."""
        look, tablet = self.look, self.tablet
        other = "metric" if tablet.units == "us" else "us"
        theme = "day" if tablet.preferences.theme == "dark" else "dark"
        targets = [
            Target(look, f"Weather\n{weather or 'not noted'}", self._open_weather, size="plain"),
            Target(
                look,
                f"Units\n{'US' if tablet.units == 'us' else 'metric'}",
                partial(tablet.choose, units=other),
                size="plain",
            ),
            Target(look, f"Colours\n{tablet.preferences.theme}", partial(tablet.choose, theme=theme), size="plain"),
            Target(look, "Leave this day\nfor another", tablet.leave_day, size="plain"),
        ]
        self._content.add_widget(Choices(targets, 2 if tablet.upright else 4))

    def _open_weather(self) -> None:
        self._memory.asks_weather = True
        self.refresh()

    def _ask_weather(self) -> None:
        look = self.look
        self._content.add_widget(TextLabel(look, "What is the weather?", "large"))
        told = {word: capital(self.tablet.words(message("prompt-weather-word", word=word))) for word in WEATHER}
        targets = [Target(look, told[word], partial(self._noted, word), size="plain") for word in WEATHER]
        self._content.add_widget(Choices(targets, 2 if self.tablet.upright else 4))

    def _noted(self, word: str) -> None:
        self._memory.asks_weather = False
        self.tablet.send(cmd.NoteWeather(text=word))
        self.refresh()

    def _area(self, state: State, name: str, shape: Shape, words: str, clocks: list[str]) -> None:
        look, plan = self.look, state.plan
        planned = plan.area(name) if plan is not None else None
        assert planned is not None
        panel = Panel(look, row=True)
        panel.add_widget(VerdictMark(look, shape, role="panel", pos_hint={"center_y": 0.5}))
        text = Upright(size_hint_x=0.62, pos_hint={"center_y": 0.5})
        text.add_widget(TextLabel(look, capital(name), "large", role="panel"))
        kind = self.tablet.words(state.checklists[planned.checklist].title)
        text.add_widget(TextLabel(look, f"{words} · {kind} · {planned.where}", "plain", role="panel", quiet=True))
        for clock in clocks:
            text.add_widget(TextLabel(look, clock, "plain", role="panel", bold=True))
        panel.add_widget(text)
        started, here = name in state.areas, state.active == name
        label = "Go on" if here else "Go there" if started else "Start"
        panel.add_widget(
            Target(
                look,
                label,
                lambda: self._go(name, here=here),
                role="first" if here else "button",
                size_hint_x=0.26,
                pos_hint={"center_y": 0.5},
            )
        )
        self._content.add_widget(panel)

    def _go(self, name: str, *, here: bool) -> None:
        if not here:
            self.tablet.send(cmd.StartArea(area=name))
        self.tablet.go("area")

    # --- no day yet -----------------------------------------------------------------------------------------------

    def _offer_days(self) -> None:
        look, tablet = self.look, self.tablet
        if tablet.problem:
            alarm = Panel(look, role="alarm")
            alarm.add_widget(TextLabel(look, tablet.problem, "plain", role="alarm"))
            self._content.add_widget(alarm)
        folder = tablet.data / "days"
        days = sorted(folder.glob("*.db"), reverse=True)[:6]
        if days:
            self._content.add_widget(TextLabel(look, "Go on with a day", "large"))
        for path in days:
            self._content.add_widget(Target(look, path.stem, partial(tablet.open_day, path)))
        self._content.add_widget(TextLabel(look, "Begin a day", "large"))
        plans = sorted(folder.glob("*.yaml"))
        for path in plans:
            self._content.add_widget(Target(look, f"From the plan {path.stem}", partial(self._begin, path)))
            if days:
                what = f"From the plan {path.stem}, its areas going on from {days[0].stem}"
                self._content.add_widget(Target(look, what, partial(self._begin, path, before=days[0])))
        practice = shipped("assets") / "demo" / "site.yaml"
        self._content.add_widget(
            Target(look, "Practice day, at an invented site", partial(self._begin, practice, "practice"))
        )
        self._content.add_widget(
            TextLabel(
                look, f"Plans of your own (YAML) belong into {folder}. {'' if plans else 'None is there yet.'}", "small"
            )
        )

    def _begin(self, plan_file: Path, kind: DayKind = "work", before: Path | None = None) -> None:
        tablet = self.tablet
        date = datetime.fromisoformat(tablet.clock.now().wall)
        path = _free(tablet.data / "days" / f"{date:%Y-%m-%d}.db")

        def make() -> Day:
            plan = load_plan(plan_file)
            checklists, _ = load_folder(shipped("checklists"))
            own, _ = load_folder(tablet.data / "checklists")
            path.parent.mkdir(parents=True, exist_ok=True)
            earlier = () if before is None else (read_before(before),)
            return Day.begin(path, plan, {**checklists, **own}, tablet.clock, kind=kind, before=earlier)

        tablet.open_day(path, make)


def _free(path: Path) -> Path:
    number = 1
    found = path
    while found.exists():
        number += 1
        found = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return found


def standing_of(state: State, name: str, words: Words) -> tuple[Shape, str]:
    """Where an area stands: a shape, and what it says in words."""
    area = state.areas.get(name)
    if area is None:
        return "waiting", "not started"
    progress = area.progress
    if progress.failures:
        return "failed", f"{len(progress.failures)} failed and open"
    if progress.phase == "finished":
        return "done", "finished"
    return ("now" if state.active == name else "waiting"), _doing(area, words)


def _doing(area: Area, words: Words) -> str:
    step = area.step
    if step is None:
        return f"{words(proven.seen_tiles(area).told)}, {len(area.progress.lifts)} lifted"
    if isinstance(step, Hold):
        return "waits for the foreman"
    return words(step.name)
