"""The list of days tells what each log holds, without folding it."""

from __future__ import annotations

import shutil
import time
from pathlib import Path

import pytest

from fieldassist.checklist.fold import fold
from fieldassist.record.days import found_days, listed_day, listed_days
from fieldassist.record.log import DayLog
from tests.golden import LOGS, events_of


@pytest.fixture
def days(tmp_path: Path) -> Path:
    """The golden days as logs."""
    for name in LOGS:
        with DayLog.create(tmp_path / f"{name}.db") as log:
            log.append(events_of(name))
    return tmp_path


def test_a_day_is_listed_as_its_events_fold(days: Path) -> None:
    for name in LOGS:
        state, listed = fold(events_of(name)), listed_day(days / f"{name}.db")
        assert state.plan is not None
        assert (listed.site, listed.date, listed.kind) == (state.plan.site, state.plan.date, state.kind)
        assert listed.areas == tuple(area.name for area in state.plan.areas)
        assert listed.crew == tuple(person.name for person in state.plan.crew)
        assert set(listed.finished) == {n for n, a in state.areas.items() if a.progress.phase == "finished"}
        assert listed.failed == sum(len(area.progress.failures) for area in state.areas.values())
        left = "sealed" if state.sealed else "signed" if state.closed else "open"
        assert listed.state == left


def test_days_are_found_by_words_area_person_and_what_failed(days: Path) -> None:
    every = listed_days(days)
    assert len(every) == len(LOGS)
    day = every[0]
    assert day in found_days(every, f"{day.site.split()[0].lower()} {day.date}")
    assert found_days(every, "nowhere") == ()
    assert set(found_days(every, area=day.areas[0])) == {d for d in every if day.areas[0] in d.areas}
    assert found_days(every, person="nobody") == ()
    assert set(found_days(every, failures=True)) == {d for d in every if d.failures}


def test_what_is_no_log_is_listed_as_unreadable(tmp_path: Path) -> None:
    (tmp_path / "broken.db").write_bytes(b"no log")
    [day] = listed_days(tmp_path)
    assert day.state == "unreadable"


def test_two_hundred_days_are_listed_in_the_time_of_a_glance(days: Path, tmp_path: Path) -> None:
    largest = max(days.glob("*.db"), key=lambda path: path.stat().st_size)
    many = tmp_path / "many"
    many.mkdir()
    for number in range(200):
        shutil.copy(largest, many / f"{number}.db")
    began = time.perf_counter()
    assert len(listed_days(many)) == 200
    took = time.perf_counter() - began
    # 1 s is the wish on a quiet machine; a busy one is given ten.
    assert took < 10, f"{took:.1f} s"
    print(f"200 days listed in {took:.2f} s")
