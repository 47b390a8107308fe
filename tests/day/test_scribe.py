"""At rest, and only then, what was dictated is written out beside the day's thread."""

from __future__ import annotations

import contextlib
import queue
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.day.scribe import REST_MIN, Scribe
from fieldassist.day.session import Day
from fieldassist.record import attachments
from fieldassist.trade.message import Message, message
from fieldassist.voice.transcriber import CannotTranscribe, Transcriber
from tests.conftest import Crew
from tests.day.test_transcribing import Writes, dictate


class Line:
    """The line of a day's thread, a scribe at it, and what it told."""

    def __init__(self, crew: Crew) -> None:
        self.crew = crew
        self.told: list[Message] = []
        self.opened = self.closed = 0
        self.refuses: Message | None = None
        self._line: queue.SimpleQueue[Callable[[Day], None]] = queue.SimpleQueue()
        self.scribe = Scribe(self._line.put, self.told.append)

    @contextlib.contextmanager
    def model(self) -> Iterator[Transcriber]:
        if self.refuses is not None:
            raise CannotTranscribe(self.refuses)
        self.opened += 1
        try:
            yield Writes()
        finally:
            self.closed += 1

    def look(self) -> None:
        self.scribe.look(self.crew.day, self.model)

    def bring_in(self) -> None:
        self._line.get(timeout=30)(self.crew.day)

    def idle(self) -> bool:
        return self._line.empty() and self.opened == self.closed


@pytest.fixture
def line(crew: Crew, tmp_path: Path) -> Line:
    crew.open_shower()
    for seconds in (1.0, 2.0):
        dictate(crew.day, tmp_path, seconds)
    return Line(crew)


def written(line: Line) -> list[str]:
    return [body.text for body in line.crew.events(ev.TranscriptMade)]


def test_one_note_after_the_other_is_written_once_nobody_has_called_for_a_while(line: Line) -> None:
    line.look()
    assert (line.opened, line.idle()) == (0, True), "somebody has just called"
    line.crew.clock.advance(REST_MIN)
    line.look()
    line.look()  # the first is under way
    line.bring_in()
    assert written(line) == ["1 seconds."]
    line.look()
    line.bring_in()
    assert written(line) == ["1 seconds.", "2 seconds."]
    line.look()
    assert (line.opened, line.closed, line.told) == (2, 2, [])


def test_a_note_that_cannot_be_written_out_is_told_once_and_holds_up_no_other(line: Line) -> None:
    first = line.crew.events(ev.NoteMade)[0]
    assert first.audio is not None
    (attachments.folder_of(line.crew.day.log.path) / first.audio).unlink()
    line.crew.clock.advance(REST_MIN)
    for _ in range(2):
        line.look()
        line.bring_in()
    line.look()
    assert line.idle()
    assert written(line) == ["2 seconds."]
    assert [told.code for told in line.told] == ["day-sound-missing"]


def test_without_the_model_it_is_told(line: Line) -> None:
    line.refuses = message("voice-transcriber-ended", model="a model")
    line.crew.clock.advance(REST_MIN)
    line.look()
    line.bring_in()
    assert line.told == [line.refuses]
    assert written(line) == []


def test_what_is_written_after_the_day_was_signed_waits_for_an_addendum(line: Line) -> None:
    crew = line.crew
    crew.say("this is edwin")
    crew.clock.advance(REST_MIN)
    line.look()
    assert crew.day.do(cmd.SignDay(accept_open=True)).taken
    line.bring_in()
    assert written(line) == []
    assert not isinstance(crew.day.log.events[-1].body, ev.CommandRefused)
    crew.day.do(cmd.OpenAddendum(reason="to write the notes out"))
    crew.clock.advance(REST_MIN)
    line.look()
    line.bring_in()
    assert written(line) == ["1 seconds."]
