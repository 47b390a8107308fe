"""Writes out, while a day is at rest, what was dictated in it: one note after the other, beside the day's thread."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

from fieldassist.checklist.state import Dictation
from fieldassist.day.session import Day
from fieldassist.day.transcribing import SoundLost, add_transcript, to_transcribe, transcript_of
from fieldassist.trade.message import Message
from fieldassist.voice.audio import AudioProblem
from fieldassist.voice.transcriber import CannotTranscribe, Transcriber

# For so long nobody has called, pressed or typed anything. Ours.
REST_MIN = 1.0


class Scribe:
    """Asked by the day's thread, again and again, whether there is something to do.

    bring: puts work into the line of the day's thread; fails: is told once why a note, or any, cannot be written out.
    """

    def __init__(self, bring: Callable[[Callable[[Day], None]], None], fails: Callable[[Message], None]) -> None:
        self._bring, self._fails = bring, fails
        self._at_work = False
        self._given_up: set[int] = set()

    def look(self, day: Day, open_model: Callable[[], AbstractContextManager[Transcriber]]) -> None:
        """Begin with the first note that waits, where the day is at rest; in the day's thread.

        open_model: called beside it; what it gives is closed behind each note, so that nothing of it stays in memory.
        """
        last = day.state.last_called
        resting = last is None or last.minutes_to(day.clock.now()) >= REST_MIN
        waiting = {event: held for event, held in to_transcribe(day.state).items() if event not in self._given_up}
        if self._at_work or not resting or not waiting:
            return
        self._at_work = True
        event = min(waiting)
        work = (day.log.path, event, waiting[event], open_model)
        threading.Thread(target=self._write, args=work, name="scribe", daemon=True).start()

    def _write(
        self,
        path: Path,
        event: int,
        held: Dictation,
        open_model: Callable[[], AbstractContextManager[Transcriber]],
    ) -> None:
        try:
            with open_model() as transcriber:
                made = transcript_of(path, event, held, transcriber)
        except (SoundLost, AudioProblem, CannotTranscribe) as problem:
            why = problem.told

            def given_up(_day: Day) -> None:
                self._at_work = False
                self._given_up.add(event)
                self._fails(why)

            self._bring(given_up)
            return

        def bring_in(day: Day) -> None:
            self._at_work = False
            # Meanwhile the day may have been signed: then it waits for an addendum.
            if event in to_transcribe(day.state):
                add_transcript(day, event, made, transcriber)

        self._bring(bring_in)
