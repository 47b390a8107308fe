"""`fieldassist notes`: what was dictated in a day, written out from its sound."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from fieldassist.checklist.state import Dictation
from fieldassist.cli.parser import FAILED, FOLDER, OK, Job, Option, day_argument
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.day.transcribing import SoundLost, add_transcript, to_transcribe, transcript_of
from fieldassist.language import Words
from fieldassist.places import tablet_data
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import message
from fieldassist.voice.audio import AudioProblem
from fieldassist.voice.transcriber import Transcriber, TranscriberApart, model_in, packaged_model


def _notes(terminal: Terminal, day: Path, model: Path | None) -> int:
    with Day.resume(day, SystemClock(), language=terminal.words.language, book=TabletBook(tablet_data())) as opened:
        terminal = terminal.using(opened.words)
        waiting = to_transcribe(opened.state)
        if not waiting:
            left = [held for held in opened.state.dictated.values() if not held.transcribed]
            terminal.tell(message("cli-notes-signed" if left else "cli-notes-none", count=len(left)))
            return FAILED if left else OK
        with TranscriberApart(packaged_model() if model is None else model_in(model)) as transcriber:
            return _write_out(terminal, opened, waiting, transcriber)


def _write_out(terminal: Terminal, day: Day, waiting: dict[int, Dictation], transcriber: Transcriber) -> int:
    """Each is on disk when it is told; what is lost or silent is told and holds nothing up."""
    code = OK
    for event, held in waiting.items():
        try:
            made = transcript_of(day.log.path, event, held, transcriber)
        except (SoundLost, AudioProblem) as problem:
            terminal.warn(problem.told)
            code = FAILED
            continue
        answer = add_transcript(day, event, made, transcriber)
        if not answer.taken:
            terminal.warn(answer.say)
            code = FAILED
            continue
        body: Any = answer.events[0].body
        terminal.tell(
            message(
                "cli-notes-written",
                event=str(event),
                heard=_heard(day, event, terminal.words),
                sure="none" if not body.text else "no" if body.unsure else "yes",
                text=body.text,
            )
        )
    return code


def _heard(day: Day, event: int, words: Words) -> str:
    """The words that were heard in it when it was dictated."""
    body: Any = day.log.events[event - 1].body
    return words(next(getattr(body, name) for name in ("text", "answer", "told") if hasattr(body, name)))


job = Job("notes", _notes, day_argument(), Option("--model", metavar="FOLDER", type=FOLDER))
