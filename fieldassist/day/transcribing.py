"""What was dictated, written out afterwards: which sounds wait, and one of them brought into the record."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist.commands import AddTranscript
from fieldassist.checklist.state import Dictation, State
from fieldassist.day.session import Answer, Day
from fieldassist.record import attachments
from fieldassist.record.disk import sha256_of
from fieldassist.trade.message import Refused, message
from fieldassist.voice.audio import read_audio
from fieldassist.voice.transcriber import Transcriber, Transcript


class SoundLost(Refused):
    """A sound that the record names is missing or is another one; `told` says which."""


def to_transcribe(state: State) -> dict[int, Dictation]:
    """What was dictated and is not written out yet, by its event. In a signed day nothing waits: an addendum first."""
    if state.closed:
        return {}
    return {event: held for event, held in state.dictated.items() if not held.transcribed}


def transcript_of(day: Path, event: int, held: Dictation, transcriber: Transcriber) -> Transcript:
    """What is said in a sound beside the log at `day`. Touches no record, so any thread may do it.

    Errors: `SoundLost`, `AudioProblem`, `CannotTranscribe`.
    """
    path = attachments.folder_of(day) / held.file
    whole = attachments.is_name(held.file) and path.is_file() and path.stat().st_size <= attachments.LARGEST_BYTES
    if not whole:
        raise SoundLost(message("day-sound-missing", event=str(event), file=held.file))
    if sha256_of(path) != held.sha256:
        raise SoundLost(message("day-sound-changed", event=str(event), file=held.file))
    return transcriber.transcribe(read_audio(path).samples)


def add_transcript(day: Day, event: int, made: Transcript, transcriber: Transcriber) -> Answer:
    """Bring it into the record. LogProblem when the disk refuses."""
    return day.do(
        AddTranscript(
            target=event,
            text=made.text,
            likelihood=made.likelihood,
            model=transcriber.name,
            weights=transcriber.weights,
        )
    )
