"""Days: every day on the tablet with its site and state, searched and filtered; one is opened, or gone on from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from fieldassist.record.days import ListedDay, found_days, listed_days
from fieldassist.trade.message import message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.beginning import go_on_from, plan_anew
from fieldassist.ui.content.day_page import date_told
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.entering import pick
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

# How many days stand under each other, where the tablet lies and where it stands.
_DAYS, _DAYS_UPRIGHT = 3, 6


@dataclass
class DaysMemory:
    """What is searched for, and the first day that is shown."""

    text: str = ""
    area: str = ""
    person: str = ""
    failures: bool = False
    first: int = 0


class DaysScreen(Screen):
    """The list, read beside the screen."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._days: tuple[ListedDay, ...] | None = None
        run_in_background(lambda: listed_days(tablet.data / "days"), self._listed)

    @property
    def _memory(self) -> DaysMemory:
        return self.tablet.memory.of(DaysMemory)

    def title(self) -> tuple[str, str]:
        """How many there are."""
        return self.tablet.words(message("site-days")), str(len(self._days)) if self._days else ""

    def refresh(self) -> None:
        """Show what has changed."""
        memory = self._memory
        sought = (memory.text, memory.area, memory.person, memory.failures, memory.first)
        if not self.changed("page", (self._days, sought)):
            return
        self.page.clear_widgets()
        self._show_filters(self._days or ())
        if self._days is None:
            self._say("site-days-read")
            self._act(0, 0)
            return
        found = found_days(self._days, memory.text, area=memory.area, person=memory.person, failures=memory.failures)
        most = _DAYS_UPRIGHT if self.tablet.upright else _DAYS
        if self.look.text > 1.25 and self.tablet.upright:
            most -= 1
        if not found:
            self._say("site-days-not-found" if self._days else "site-days-none")
        for day in found[memory.first : memory.first + most]:
            self.page.add_widget(self._row(day))
        for _ in range(most - len(found[memory.first : memory.first + most]) if found else 0):
            self.page.add_widget(Widget())
        self._act(len(found), most)

    def _listed(self, days: tuple[ListedDay, ...]) -> None:
        self._days = days
        self.tablet.refresh()

    def _say(self, code: str) -> None:
        self.page.add_widget(TextLabel(self.look, self.tablet.words(message(code)), "far"))
        self.page.add_widget(Widget())

    def _show_filters(self, days: Sequence[ListedDay]) -> None:
        look, words, memory = self.look, self.tablet.words, self._memory
        search = Key(
            look,
            memory.text or words(message("site-search")),
            self._search,
            chosen=bool(memory.text),
            size="near",
            high=None,
        )
        areas = sorted({area for day in days for area in day.areas})
        people = sorted({name for day in days for name in day.crew})
        area = Key(
            look,
            capital(memory.area) or words(message("site-any-area")),
            partial(self._pick, "area", "site-any-area", areas),
            chosen=bool(memory.area),
            size="near",
            high=None,
        )
        who = Key(
            look,
            person(memory.person) or words(message("site-any-person")),
            partial(self._pick, "person", "site-any-person", people),
            chosen=bool(memory.person),
            size="near",
            high=None,
        )
        failures = Key(
            look,
            words(message("site-only-failures")),
            self._only_failures,
            chosen=memory.failures,
            size="near",
            high=None,
        )
        if self.tablet.upright:
            self.page.add_widget(RowBox(look, search, failures, high=TARGET))
            self.page.add_widget(RowBox(look, area, who, high=TARGET))
        else:
            self.page.add_widget(RowBox(look, search, area, who, failures, gap=12, high=TARGET))

    def _row(self, day: ListedDay) -> Key:
        words = self.tablet.words
        parts = [message("site-day-line", state=day.state, kind=day.kind)]
        if day.state != "unreadable":
            parts.append(message("site-day-areas", finished=str(len(day.finished)), of=str(len(day.areas))))
            parts.append(message("site-day-failed", failures=day.failures, failed=day.failed))
        told = " · ".join(map(words, parts))
        named = f"{day.site} · {words(date_told(day.date))}" if day.site else day.path.stem
        return Key(self.look, named, partial(self._chosen, day), caption=told, size="near", high=None)

    def _act(self, found: int, most: int) -> None:
        look, words, memory = self.look, self.tablet.words, self._memory
        keys = [Key(look, words(message("frame-back")), partial(self.tablet.go, "day"), kind="action")]
        keys.append(Key(look, words(message("site-new-site")), partial(plan_anew, self.tablet), size="near"))
        keys.append(
            Key(look, words(message("check-title")), partial(self.tablet.go, "check"), sign="pass", size="near")
        )
        if memory.first + most < found:
            keys.append(
                Key(look, words(message("site-more-days")), partial(self._turn, most), sign="more", size="near")
            )
        if memory.first:
            keys.append(
                Key(look, words(message("site-earlier-days")), partial(self._turn, -most), sign="less", size="near")
            )
        self.act(*keys)

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _turn(self, by: int) -> None:
        self._memory.first = max(0, self._memory.first + by)
        self.refresh()

    def _seek(self, **changes: object) -> None:
        for name, value in changes.items():
            setattr(self._memory, name, value)
        self._memory.first = 0
        self.refresh()

    def _search(self) -> None:
        asked = self.tablet.words(message("site-search-what"))
        self.tablet.ask_words(asked, self._memory.text, lambda text: self._seek(text=text))

    def _only_failures(self) -> None:
        self._seek(failures=not self._memory.failures)

    def _pick(self, what: str, every: str, names: Sequence[str]) -> None:
        words = self.tablet.words
        say = person if what == "person" else capital
        options = [(words(message(every)), ""), *((say(name), name) for name in names)]
        pick(
            self.tablet, words(message(every)), options, getattr(self._memory, what), lambda n: self._seek(**{what: n})
        )

    def _chosen(self, day: ListedDay) -> None:
        words, tablet = self.tablet.words, self.tablet
        if day.state == "unreadable":
            tablet.refuse(words(message("site-day-unreadable", file=day.path.name)))
            return
        keys = [Key(self.look, words(message("site-open-this")), partial(self._open, day), kind="action")]
        if day.kind == "work":
            go_on = partial(self._go_on, day)
            keys.append(Key(self.look, words(message("site-go-on-from")), go_on))
        keys.append(Key(self.look, words(message("check-title")), partial(tablet.go, "check", path=day.path)))
        show_keys(tablet, keys)

    def _open(self, day: ListedDay) -> None:
        self.tablet.open_day(day.path)
        self.tablet.go("day")

    def _go_on(self, day: ListedDay) -> None:
        go_on_from(self.tablet, day.path, lambda problem: self.tablet.refuse(self.tablet.words.of(problem)))
