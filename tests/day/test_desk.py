"""The desk answers whoever asks, in whichever thread."""

from __future__ import annotations

from typing import Any

from fieldassist.day.desk import Desk
from fieldassist.day.session import Day
from fieldassist.voice.microphone import Level

LEVEL = Level(-6.0, -20.0, clipped=False, dead=False)


class Key:
    """A microphone with its key."""

    held = True

    def __init__(self) -> None:
        self.done: list[str] = []

    def level(self) -> Level:
        return LEVEL

    def hold(self) -> None:
        self.done.append("down")

    def release(self) -> None:
        self.done.append("up")


class Closing(Desk):
    """Its day's thread closes the microphone right after somebody has looked whether there is one."""

    microphone: Any = None

    @property
    def _microphone(self) -> Any:
        found, self.microphone = self.microphone, None
        return found

    @_microphone.setter
    def _microphone(self, found: Any) -> None:
        self.microphone = found


def never() -> Day:
    raise AssertionError("no day is opened here")


def test_a_microphone_that_is_closed_while_it_is_looked_at_harms_nobody() -> None:
    desk, key = Closing(never, lambda _view: None, lambda _report: None), Key()

    def open_again() -> Closing:
        desk.microphone = key
        return desk

    assert open_again().level() is LEVEL
    assert desk.level() is None
    assert open_again().held
    assert not desk.held
    open_again().hold()
    open_again().release()
    assert key.done == ["down", "up"]
