"""What was written stays readable, and folds to the day that it was, whatever the rules have become since."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any, NoReturn

import pytest

from fieldassist.checklist import draft, engine, events, follow, loader, rules
from fieldassist.checklist.state import State
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.language import Words
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.record.seal import check_seals
from fieldassist.trade import coverage, flatness, limits, mortar, times
from tests.golden import DAYS, FOLDER, LOGS, differences, dump_state, folded_states, log_of, states_of

OLD = FOLDER / "day-of-format-2.db"


def stored(checklist: str) -> Any:
    return json.loads(states_of(checklist).read_text(encoding="utf-8"))


@pytest.fixture
def opened(tmp_path: Path) -> Callable[[str], DayLog]:
    """A golden log on disk, opened as any day is."""

    def of(checklist: str) -> DayLog:
        path = tmp_path / f"{checklist}.db"
        with DayLog.create(path) as log:
            log.append_texts(log_of(checklist).read_text(encoding="utf-8").splitlines())
        return DayLog.open(path)

    return of


@pytest.mark.parametrize("checklist", LOGS)
def test_a_log_of_this_format_opens_and_folds_to_the_stored_state(
    checklist: str, opened: Callable[[str], DayLog]
) -> None:
    with opened(checklist) as log:
        assert log.texts == log_of(checklist).read_text(encoding="utf-8").splitlines()
        assert differences(stored(checklist), folded_states(log.events)) == []
        assert [check.good for check in check_seals(log.events, log.hashes)] == [True]


@pytest.mark.parametrize("checklist", DAYS)
def test_a_golden_day_holds_what_can_happen_in_a_day(checklist: str, opened: Callable[[str], DayLog]) -> None:
    with opened(checklist) as log:
        happened = {type(event.body) for event in log.events}
        withdrawn = {event.body.reason for event in log.events if isinstance(event.body, events.Withdrawn)}
    assert {
        *(events.CommandRefused, events.FailureOpened, events.FailureClosed, events.StepReopened),
        *(events.TilesMarked, events.LotsCommitted, events.LotsRevealed),
        *(events.ClockWarned, events.ClockRanOut, events.ClockStopped),
        *(events.MethodChanged, events.SetterChanged, events.HoldReleased, events.CautionAcknowledged),
        *(events.DustNoted, events.DaySealed, events.AddendumOpened, events.CorrectionMade),
        *(events.PhotoAttached, events.ReadingKept, events.LiftJudged, events.TileLifted, events.ChoiceMade),
    } <= happened
    assert (events.InspectionTightened in happened) == (checklist == "every-kind")
    assert any(event.body.drops for event in log.events if isinstance(event.body, events.ClockRanOut))
    assert withdrawn == {"scratched", "said again", "answered no"}


def test_the_counted_day_holds_what_came_with_counting(opened: Callable[[str], DayLog]) -> None:
    with opened("counted") as log:
        happened = {type(event.body) for event in log.events}
        together = max(event.source.together for event in log.events)
    assert {events.MortarSpread, events.TileCounted, events.ClockRanOut, events.LiftDue} <= happened
    assert together > 1


def test_the_measured_day_holds_what_came_with_measured_backs(opened: Callable[[str], DayLog]) -> None:
    with opened("measured") as log:
        backs = [event.body.back for event in log.events if isinstance(event.body, events.BackMeasured)]
        told = {event.source.how for event in log.events}
        judged = [event.body.verdict for event in log.events if isinstance(event.body, events.LiftJudged)]
    assert {back.way for back in backs} == {"painted", "proposed", "corrected"}
    assert {back.kind for back in backs} == {"bare", "combed"}
    assert any(back.cannot is not None for back in backs)
    assert any(back.eye_percent is not None for back in backs)
    assert {"painted on a photo", "measured on a photo"} <= told
    assert {"passed", "failed"} <= set(judged)


def test_the_transcribed_day_holds_what_came_with_transcripts(opened: Callable[[str], DayLog]) -> None:
    with opened("transcribed") as log:
        made = [event.body for event in log.events if isinstance(event.body, events.TranscriptMade)]
        told = {event.source.how for event in log.events}
    assert [(body.text, body.unsure) for body in made] == [("Damp corner.", True), ("", True)]
    assert "transcribed" in told


def _refuse(*_: object, **__: object) -> NoReturn:
    raise AssertionError("a fold asked a rule")


RULES: tuple[ModuleType, ...] = (rules, follow, draft, engine, loader, coverage, flatness, limits, mortar, times)


@pytest.mark.parametrize("checklist", LOGS)
def test_no_rule_has_a_word_in_what_an_old_log_folds_to(
    checklist: str, opened: Callable[[str], DayLog], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever the rules, the limits and the files of checklists become: none of them is asked."""
    with opened(checklist) as log:
        for module in RULES:
            for name, value in vars(module).items():
                if isinstance(value, FunctionType) and value.__module__ == module.__name__:
                    monkeypatch.setattr(module, name, _refuse)
        monkeypatch.setattr(rules, "LIMITS", dict.fromkeys(rules.LIMITS, _refuse))
        monkeypatch.setattr(rules, "DURATIONS", dict.fromkeys(rules.DURATIONS, _refuse))
        assert differences(stored(checklist), folded_states(log.events)) == []


def test_other_rules_decide_what_comes_next_and_change_nothing_that_was(
    opened: Callable[[str], DayLog], monkeypatch: pytest.MonkeyPatch, clock: SimulatedClock
) -> None:
    monkeypatch.setattr(follow, "why_due", lambda *_: None)
    monkeypatch.setattr(follow, "ended_by", lambda *_: ((), ()))
    monkeypatch.setattr(follow, "due_after_change", lambda *_: ())
    stricter = replace(rules.stated(99, None, "percent", None), rule="required coverage")
    monkeypatch.setattr(rules, "LIMITS", {**rules.LIMITS, "required coverage": lambda _: stricter})
    with opened("wet-area-wall") as log:
        log.close()
        with Day.resume(log.path, clock) as day:
            last = stored("wet-area-wall")[str(day.state.last_seq)]
            assert differences(last, dump_state(day.state)) == []


def test_a_difference_is_named_and_what_a_later_version_adds_is_none() -> None:
    before = dump_state(State())
    assert differences(before, dump_state(replace(State(), part=1))) == ["state.part: 0 was stored, 1 is folded"]
    assert differences(before, before | {"new": 1}) == []
    assert differences(before | {"old": 1}, before) == ["state.old is gone"]


@pytest.mark.parametrize("read_only", [True, False])
def test_a_day_of_format_2_is_refused_with_what_to_do_and_stays_byte_for_byte(tmp_path: Path, read_only: bool) -> None:
    """It was written by the version before: its events hold sentences where figures belong."""
    day = tmp_path / "day.db"
    day.write_bytes(OLD.read_bytes())
    with pytest.raises(LogProblem) as refused:
        DayLog.open(day, read_only=read_only)
    why = refused.value.told
    assert (why.code, why.figures["format"], why.figures["known"]) == ("record-older", "2", "3")
    assert "It was not touched" in Words()(why)
    assert day.read_bytes() == OLD.read_bytes()
    assert {path.name for path in tmp_path.iterdir()} <= {"day.db", "day.db.lock"}
