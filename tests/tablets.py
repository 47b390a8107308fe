"""A tablet on which days are begun one after the other, and a clock that is turned by hand."""

from __future__ import annotations

import functools
from datetime import datetime, timedelta
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.tablet_chain import DayHead, TabletChain
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.record.tablet_days import TabletBook
from tests import SITE


class SetClock:
    """A machine's clocks, either of which can be turned by hand."""

    def __init__(self) -> None:
        self.wall = datetime.fromisoformat("2026-03-17T08:00:00+01:00")
        self.mono = 1000.0
        self.boot = "one"

    def now(self) -> Moment:
        return Moment(wall=self.wall.isoformat(timespec="seconds"), mono=self.mono, boot=self.boot)

    def pass_by(self, minutes: float) -> None:
        self.wall += timedelta(minutes=minutes)
        self.mono += 60 * minutes


FIRST = datetime.fromisoformat("2026-03-17T06:45:00+01:00")


@functools.cache
def small_site() -> tuple[DayPlan, dict[str, Checklist]]:
    """A small plan, and its checklist."""
    plan = load_plan(SITE)
    return plan.model_copy(update={"areas": plan.areas[1:2]}), load_folder(shipped("checklists"))[0]


class Tablet:
    """A tablet on which days are begun, one each day."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        (folder / "days").mkdir(parents=True)
        self.morning = FIRST
        self.clock = SimulatedClock(FIRST)

    @property
    def book(self) -> TabletBook:
        return TabletBook(self.folder)

    def begin(self, name: str = "", plan: DayPlan | None = None) -> Day:
        """The day of the next morning."""
        self.clock = SimulatedClock(self.morning, boot=f"{self.morning}")
        self.morning += timedelta(days=1)
        planned = (plan or small_site()[0]).model_copy(update={"date": f"{self.clock.time:%Y-%m-%d}"})
        return Day.begin(self.path(name or planned.date), planned, small_site()[1], self.clock, book=self.book)

    def path(self, name: str) -> Path:
        return self.folder / "days" / f"{name}.db"

    def resume(self, day: Day) -> Day:
        return self.resume_at(day.log.path)

    def resume_at(self, path: Path) -> Day:
        return Day.resume(path, self.clock, book=self.book)


def chain(day: Day) -> TabletChain:
    opened = day.log.events[0].body
    assert isinstance(opened, DayOpened)
    assert opened.tablet is not None
    return opened.tablet


def head_of(day: Day) -> DayHead:
    """The day as an opening that announces it should have it."""
    opened = day.log.events[0].body
    assert isinstance(opened, DayOpened)
    number, events = chain(day).number, len(day.log.events)
    return DayHead(number=number, date=opened.plan.date, first=day.log.hashes[0], events=events, head=day.log.head)


def signed(day: Day) -> Day:
    day.do(cmd.SpeakAs(name="edwin"))
    assert day.do(cmd.SignDay(accept_open=True)).taken
    return day
