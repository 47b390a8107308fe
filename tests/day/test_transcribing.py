"""What was dictated is written out from the sound that was kept, and from no other."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.day.session import Day
from fieldassist.day.transcribing import SoundLost, add_transcript, to_transcribe, transcript_of
from fieldassist.record import attachments
from fieldassist.voice.audio import RATE_HZ, Samples
from fieldassist.voice.transcriber import Transcript
from tests.conftest import Crew


class Writes:
    """A transcriber that writes how long the sound is, and remembers what it was given."""

    name, weights = "a model", "7b" * 32

    def __init__(self) -> None:
        self.given: list[Samples] = []

    def transcribe(self, samples: Samples) -> Transcript:
        self.given.append(samples)
        return Transcript(f"{len(samples) / RATE_HZ:g} seconds.", -0.25)


def dictate(day: Day, folder: Path, seconds: float) -> tuple[int, Path]:
    """A note of so many seconds; its event and its sound."""
    file = folder / "said.flac"
    samples = (np.sin(np.arange(int(seconds * RATE_HZ)) / 9) * 8000).astype(np.int16)
    soundfile.write(file, samples, RATE_HZ, format="FLAC", subtype="PCM_16")
    kept = attachments.keep(day.log.path, file.read_bytes(), ".flac")
    answer = day.do(cmd.MakeNote(text="what was heard", audio=kept.file, sha256=kept.sha256))
    return answer.events[0].seq, attachments.folder_of(day.log.path) / kept.file


def test_the_very_sound_that_was_kept_is_written_out(crew: Crew, tmp_path: Path) -> None:
    crew.open_shower()
    note, _ = dictate(crew.day, tmp_path, 1.5)
    writes = Writes()
    made = transcript_of(crew.day.log.path, note, to_transcribe(crew.day.state)[note], writes)
    assert add_transcript(crew.day, note, made, writes).taken
    [body] = crew.events(ev.TranscriptMade)
    assert (body.text, body.model, body.weights, body.target) == ("1.5 seconds.", writes.name, writes.weights, note)
    assert [len(given) for given in writes.given] == [1.5 * RATE_HZ]


@pytest.mark.parametrize("harm", ["missing", "changed", "too large"])
def test_a_sound_that_is_lost_is_named_and_nothing_is_written_from_it(
    crew: Crew, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, harm: str
) -> None:
    crew.open_shower()
    note, file = dictate(crew.day, tmp_path, 1.0)
    if harm == "missing":
        file.unlink()
    elif harm == "changed":
        file.chmod(0o600)
        file.write_bytes(file.read_bytes()[:-1] + b"x")
    else:
        monkeypatch.setattr(attachments, "LARGEST_BYTES", 100)
    writes = Writes()
    with pytest.raises(SoundLost) as lost:
        transcript_of(crew.day.log.path, note, to_transcribe(crew.day.state)[note], writes)
    assert lost.value.told.code == f"day-sound-{'changed' if harm == 'changed' else 'missing'}"
    assert not writes.given
    assert list(to_transcribe(crew.day.state)) == [note], "it waits until the sound is there again"


def test_a_name_that_leads_out_of_the_folder_is_not_followed(crew: Crew) -> None:
    crew.open_shower()
    outside = crew.day.log.path.parent / "outside.flac"
    outside.write_bytes(b"x")
    note = crew.day.do(cmd.MakeNote(text="x", audio="../outside.flac", sha256="5a" * 32)).events[0].seq
    with pytest.raises(SoundLost):
        transcript_of(crew.day.log.path, note, to_transcribe(crew.day.state)[note], Writes())
