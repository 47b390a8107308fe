"""The desk answers whoever asks, in whichever thread."""

from __future__ import annotations

from typing import Any

import pytest

from fieldassist.day.desk import Desk, Report
from fieldassist.day.ear import Catch, Fate, Reply
from fieldassist.day.listening import Listening, Manner
from fieldassist.day.session import Day
from fieldassist.trade.message import message
from fieldassist.voice.earcons import NoChime
from fieldassist.voice.microphone import Level
from fieldassist.voice.recognizer import Heard
from tests.conftest import Crew
from tests.day.test_listening import Ears

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


class Sounds(NoChime):
    """Remembers what it was to play."""

    def __init__(self) -> None:
        self.played: list[str] = []

    def play(self, name: str, times: int = 1, loud: float = 1.0) -> None:  # noqa: ARG002
        self.played += [name] * times


@pytest.mark.parametrize(
    ("wished", "near", "played"), [(True, True, ["dropped"]), (True, False, []), (False, True, [])]
)
def test_a_phrase_that_was_heard_and_not_taken_is_told_and_sounds_where_that_is_wished(
    crew: Crew, *, wished: bool, near: bool, played: list[str]
) -> None:
    told: list[Report] = []
    sounds = Sounds()
    desk = Desk(lambda: crew.day, lambda _view: None, told.append, chime=lambda *_: sounds, sounds_dropped=wished)
    why = message("ear-needs-call", phrase="field assist")
    dropped = Reply(Fate.IGNORED, Catch("weather rain", why=why), None, near=near)
    listening = Listening(crew.day, Ears(), Manner.CALLED)
    listening.take = lambda _heard: dropped  # type: ignore[method-assign]
    before = crew.day.log.head
    desk._chime, desk._listening = sounds, listening
    desk._heard(listening, Heard((), 1.0), True, crew.day)
    assert [(report.said, report.fate, report.words) for report in told] == [("", Fate.IGNORED, "weather rain")]
    assert sounds.played == played
    assert crew.day.log.head == before


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
