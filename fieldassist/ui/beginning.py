"""Days are begun: from a plan that was entered, from a file, as practice, and from where another day ended."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from datetime import datetime
from functools import lru_cache, partial
from pathlib import Path

from fieldassist.checklist.commands import DayBefore
from fieldassist.checklist.loader import load_folder
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import MethodRelease
from fieldassist.day.before import read_before, read_plan, read_released
from fieldassist.day.session import CannotOpen, Day
from fieldassist.places import shipped
from fieldassist.record.days import days_with
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trial.released import with_those_of_the_site
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content import kept_mortars
from fieldassist.ui.content.kept_sites import keep, new_path
from fieldassist.ui.content.site_draft import PlanDraft, new_site, site_of
from fieldassist.ui.content.tour import begin_practice
from fieldassist.ui.tablet import Tablet


@dataclass
class SiteMemory:
    """The site that is being entered. path: of its file, None while it has none; before: the day that it goes on from;
    by_day: the day runs, and what is entered comes to its plan."""

    draft: PlanDraft = field(default_factory=lambda: PlanDraft(DayPlan))
    path: Path | None = None
    before: Path | None = None
    by_day: bool = False

    def take(self, draft: PlanDraft, data: Path) -> None:
        """Keep what was entered: here, and before its day begins in the site's file too. OSError from the disk."""
        self.draft = draft
        if self.by_day:
            return
        if self.path is None:
            self.path = new_path(data, str(draft.get("site") or ""))
        keep(self.path, draft)


@lru_cache(maxsize=4)
def _checklists(own: Path, changed: float) -> dict[str, Checklist]:  # noqa: ARG001
    return {**load_folder(shipped("checklists"))[0], **load_folder(own)[0]}


def checklists_of(tablet: Tablet) -> dict[str, Checklist]:
    """Those that came with the program, and the tablet's own."""
    own = tablet.data / "checklists"
    return _checklists(own, own.stat().st_mtime if own.is_dir() else 0.0)


def today(tablet: Tablet) -> str:
    """The date that the clock has."""
    return tablet.clock.now().wall[:10]


def plan_anew(tablet: Tablet) -> None:
    """Begin to enter a site."""
    tablet.memory.forget(SiteMemory)
    tablet.memory.of(SiteMemory).draft = new_site(today(tablet), tablet.preferences.units or "metric")
    tablet.go("site")


def go_on_from(tablet: Tablet, path: Path, failed: Callable[[Exception], None]) -> None:
    """Enter today's plan from where another day ended."""

    def then(plan: DayPlan) -> None:
        tablet.memory.forget(SiteMemory)
        memory = tablet.memory.of(SiteMemory)
        memory.draft, memory.before = site_of(plan, today(tablet)), path
        tablet.go("site")

    run_in_background(partial(read_plan, path), then, failed)


def begin(tablet: Tablet, plan: DayPlan, *, before: Path | None = None, planned: Path | None = None) -> None:
    """Begin the day of a plan. before: the day of which areas go on; planned: the plan's file, which is taken away once
    the day has it."""
    path = _free(tablet)
    checklists = checklists_of(tablet)

    def make() -> Day:
        path.parent.mkdir(parents=True, exist_ok=True)
        earlier = _going_on(plan, before)
        taken = _with_released(plan, path.parent, {key for day in earlier for key in day.areas})
        day = Day.begin(path, taken, checklists, tablet.clock, before=earlier, book=TabletBook(tablet.data))
        kept_mortars.save(tablet.data, kept_mortars.load(tablet.data).with_those_of(plan))
        if planned is not None:
            planned.unlink(missing_ok=True)
        return day

    tablet.open_day(path, make)
    tablet.go("day")


def _going_on(plan: DayPlan, before: Path | None) -> tuple[DayBefore, ...]:
    if before is None:
        return ()
    earlier = read_before(before)
    keys = {area.key for area in plan.areas}
    return (earlier,) if keys & set(earlier.areas) else ()


def _with_released(plan: DayPlan, days: Path, going_on: Collection[str]) -> DayPlan:
    """The plan with the methods that were released from this tablet's trials for areas of the same site; the latest
    release of an area counts. A day whose record or signature is not good gives none."""
    found: list[MethodRelease] = []
    for path in days_with(days, "method released"):
        try:
            found += read_released(path)
        except CannotOpen:
            continue
    latest = sorted(found, key=lambda one: one.at.wall)
    return with_those_of_the_site(plan, latest, going_on) if latest else plan


def practise(tablet: Tablet) -> None:
    """Begin the tour of practice."""
    path, checklists = _free(tablet), checklists_of(tablet)

    def make() -> Day:
        path.parent.mkdir(parents=True, exist_ok=True)
        return begin_practice(path, checklists, tablet.clock)

    tablet.open_day(path, make)
    tablet.go("day")


def _free(tablet: Tablet) -> Path:
    """Where the log of a day that begins now goes."""
    on = datetime.fromisoformat(tablet.clock.now().wall)
    path = tablet.data / "days" / f"{on:%Y-%m-%d}.db"
    number, found = 1, path
    while found.exists():
        number += 1
        found = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return found
