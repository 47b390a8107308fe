"""Speech that can be cut off, with its beginning and end told in pairs, so that the microphone is never left deaf."""

from __future__ import annotations

import shutil
import stat
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest
import soundfile

from fieldassist.voice import speaker
from fieldassist.voice.audio import read_audio, speech_seconds
from fieldassist.voice.speaker import Espeak, MacVoice, Silent, Voice, WindowsVoice, find_speaker

SOON_S = 120.0  # only a failure waits so long
ESPEAK = shutil.which("espeak-ng") or "espeak-ng"


class Pretended(Voice):
    """A voice that keeps what it is given in a file and then sounds for `seconds`."""

    def __init__(self, kept: Path, seconds: float, *, stubborn: bool = False) -> None:
        super().__init__()
        deaf = "signal.signal(signal.SIGTERM, signal.SIG_IGN);" if stubborn else ""
        self._code = (
            f"import signal, sys, time, pathlib; {deaf} kept = pathlib.Path({str(kept)!r});"
            f" kept.write_bytes(kept.read_bytes() + sys.stdin.buffer.read() + b'|'); time.sleep({seconds})"
        )
        self.kept = kept
        kept.write_bytes(b"")

    def command(self, target: Path | None) -> list[str]:
        assert target is None
        return [sys.executable, "-c", self._code]


class Told:
    """What the hooks told, in order."""

    def __init__(self, voice: Voice) -> None:
        self.told: list[str] = []
        self.down = 0
        voice.watch(self._start, self._end)

    def _start(self) -> None:
        self.told.append("start")
        self.down += 1

    def _end(self) -> None:
        self.told.append("end")
        self.down -= 1


def until(condition: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + SOON_S
    while not condition():
        assert time.monotonic() < end, f"waited in vain: {what}"
        time.sleep(0.002)


def test_saying_returns_at_once_and_tells_beginning_and_end(tmp_path: Path) -> None:
    voice = Pretended(tmp_path / "kept", 0.3)
    told = Told(voice)
    assert not voice.speaking()
    voice.say("coverage, ninety five percent – yes or no?")
    assert told.told == ["start"], "the microphone is deaf before the first sound, and hears again only after the last"
    assert voice.speaking()
    assert voice.wait(SOON_S)
    assert told.told == ["start", "end"]
    assert not voice.speaking()
    assert voice.kept.read_bytes().decode() == "coverage, ninety five percent – yes or no?|"


def test_stopping_cuts_off_and_tells_the_end_before_it_returns(tmp_path: Path) -> None:
    voice = Pretended(tmp_path / "kept", 600)
    told = Told(voice)
    voice.say("a long caution")
    until(lambda: voice.kept.read_bytes() == b"a long caution|", "the child to speak")
    voice.stop()
    assert not voice.speaking()
    assert told.told == ["start", "end"]
    voice.stop()
    assert told.told == ["start", "end"]


def test_a_new_sentence_breaks_off_the_old_one_and_the_hooks_stay_in_pairs(tmp_path: Path) -> None:
    voice = Pretended(tmp_path / "kept", 600)
    told = Told(voice)
    for _ in range(3):
        voice.say("again")
    assert told.told == ["start", "end", "start", "end", "start"]
    voice.stop()
    assert told.down == 0


def test_many_threads_that_say_and_stop_leave_the_microphone_open(tmp_path: Path) -> None:
    voice = Pretended(tmp_path / "kept", 0.01)
    told = Told(voice)

    def talk() -> None:
        for number in range(4):
            voice.say(str(number))
            if number % 2:
                voice.stop()

    threads = [threading.Thread(target=talk) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(SOON_S)
    assert voice.wait(SOON_S)
    assert told.told == ["start", "end"] * 12


def test_a_voice_that_does_not_listen_is_ended_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(speaker, "_STOPPING_S", 0.2)
    voice = Pretended(tmp_path / "kept", 600, stubborn=True)
    told = Told(voice)
    voice.say("on and on")
    until(lambda: bool(voice.kept.read_bytes()), "the child to speak")
    voice.stop()
    assert told.told == ["start", "end"]


def test_a_voice_that_cannot_start_or_ends_at_once_tells_its_end_too() -> None:
    for program in ("/nowhere/espeak-ng", shutil.which("false") or "false"):
        voice = Espeak(program)
        told = Told(voice)
        voice.say("x" * 200_000)
        assert voice.wait(SOON_S)
        assert told.told == ["start", "end"]


def test_espeak_writes_numbered_wav_files_of_speech_into_a_folder(tmp_path: Path) -> None:
    voice = find_speaker(tmp_path / "said")
    assert isinstance(voice, Espeak)
    told = Told(voice)
    voice.say("Coverage, ninety five percent. Yes or no?")
    voice.say("-w is said, not taken as an option")
    files = sorted((tmp_path / "said").iterdir())
    assert [file.name for file in files] == ["001.wav", "002.wav"]
    for file in files:
        assert speech_seconds(read_audio(file)) > 1.0
    assert told.told == [], "nothing sounds, so the microphone need not be deaf"
    assert not voice.speaking()


def test_espeak_speaks_slower_when_told_so(tmp_path: Path) -> None:
    for rate in (120, 240):
        Espeak(ESPEAK, words_per_minute=rate, folder=tmp_path / str(rate)).say("scrape the mortar and comb it again")
    slow, fast = (soundfile.info(tmp_path / rate / "001.wav").duration for rate in ("120", "240"))
    assert slow > 1.3 * fast


def test_where_there_is_no_voice_everything_is_silent(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(speaker.shutil, "which", lambda _: None)
    voice = find_speaker()
    assert isinstance(voice, Silent)
    voice.watch(lambda: pytest.fail("nothing sounds"), lambda: pytest.fail("nothing sounds"))
    voice.say("anything")
    assert not voice.speaking()
    voice.stop()


@pytest.mark.parametrize(
    ("platform", "name", "kind"), [("darwin", "say", MacVoice), ("win32", "powershell", WindowsVoice)]
)
def test_elsewhere_the_voice_of_the_system_is_found(
    platform: str, name: str, kind: type, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(speaker.sys, "platform", platform)
    monkeypatch.setattr(speaker.shutil, "which", lambda program: f"/bin/{name}" if program == name else None)
    assert isinstance(find_speaker(), kind)


def test_no_word_of_a_sentence_becomes_part_of_a_command_line(tmp_path: Path) -> None:
    evil = "'; Remove-Item x; $(touch y) -w z"
    for kind in (Espeak, MacVoice, WindowsVoice):
        seen = tmp_path / f"{kind.__name__}.txt"
        program = tmp_path / kind.__name__
        program.write_text(
            f"#!{sys.executable}\nimport sys\n"
            f"open({str(seen)!r}, 'w').write(repr(sys.argv[1:]) + chr(0) + sys.stdin.read())\n"
        )
        program.chmod(program.stat().st_mode | stat.S_IXUSR)
        voice = kind(str(program))
        voice.say(evil)
        assert voice.wait(SOON_S)
        arguments, _, text = seen.read_text().partition("\0")
        assert text == evil
        assert "touch y" not in arguments
        assert len(arguments) > 5


def test_a_folder_with_a_quote_in_its_name_stays_one_word_for_powershell() -> None:
    script = WindowsVoice("powershell").command(Path("c") / "rosa's" / "001.wav")[-1]
    assert "rosa''s" in script
    assert script.count("'") % 2 == 0
    assert "SetOutputToWaveFile" not in WindowsVoice("powershell").command(None)[-1]


def test_espeak_itself_takes_its_text_from_standard_input(tmp_path: Path) -> None:
    command = Espeak(ESPEAK).command(tmp_path / "x.wav")
    assert subprocess.run(command, input=b"tile set", check=False).returncode == 0
    assert soundfile.info(tmp_path / "x.wav").duration > 0.4
