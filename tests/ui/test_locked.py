"""A tablet that was left alone keeps back signatures, settings and corrections, and nothing of the work."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.ui.content.locked import MINUTES, IdleLock, is_locked, keeps_back


@pytest.mark.parametrize("minutes", MINUTES)
def test_the_lock_closes_when_its_minutes_are_over_and_never_with_none(minutes: int) -> None:
    assert not is_locked(60 * minutes - 1, minutes)
    assert is_locked(60 * minutes, minutes) == (minutes > 0)


@pytest.mark.parametrize(
    "command",
    [
        cmd.SignDay(),
        cmd.OpenAddendum(reason="more work"),
        cmd.Correct(target=3, text="it was the other wall"),
        cmd.AnswerPoint(point="x", ready="goes on"),
        cmd.GiveReading(section="base", step="gap", value=Fraction(2), unit="mm", corrects=7),
        cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(5), replaces=7),
        cmd.AcceptTiles(number=3),
    ],
    ids=lambda command: command.do,
)
def test_signatures_and_corrections_are_kept_back(command: Any) -> None:
    assert keeps_back(command)


@pytest.mark.parametrize(
    "command",
    [
        cmd.ConfirmStep(section="tile", step="combed"),
        cmd.GiveReading(section="base", step="gap", value=Fraction(2), unit="mm"),
        cmd.StartRound(section="batch"),
        cmd.TilesIn(section="tile"),
        cmd.CallLate(clock="open", reason="hands were full"),
        cmd.Withdraw(),
        cmd.DustStarts(task="drill"),
        cmd.DustEnds(),
        cmd.AcknowledgeCaution(),
        cmd.Ask(about="how long"),
    ],
    ids=lambda command: command.do,
)
def test_the_cycle_clocks_and_cautions_go_on(command: Any) -> None:
    assert not keeps_back(command)


@pytest.mark.parametrize(
    ("screen", "kept"),
    [("signing", True), ("crew", True), ("tablet", True), ("wall", False), ("work", False), ("person", False)],
)
def test_places_of_the_work_stay_open_and_settings_and_signing_do_not(screen: str, *, kept: bool) -> None:
    assert keeps_back(screen) == kept


def test_a_closed_lock_stays_closed_whatever_is_pressed_until_its_pin_is_given() -> None:
    time = [0.0]
    lock = IdleLock(lambda: time[0])
    time[0] = 299
    lock.pressed(5)
    time[0] = 500
    assert not lock.locked(5)
    time[0] = 599
    assert lock.locked(5)
    lock.pressed(5)
    assert lock.locked(5)
    lock.open_up()
    assert not lock.locked(5)
    time[0] = 9999
    assert not lock.locked(0)
