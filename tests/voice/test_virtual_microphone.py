"""Sound played into a virtual microphone is heard by the running program and ends up in the day's log."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from fieldassist.checklist.events import AreaStarted, SpeakerChanged
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from tests import today
from tests.sounding import HEARD_S, START_S, Sound, events, program, until
from tests.spoken import recording

# A program that captures: what a microphone gives is written as raw samples, with signs of life on standard error.
CAPTURE = """
import sys
from fieldassist.voice.microphone import Microphone
with Microphone(on_warning=lambda sentence: print(sentence, file=sys.stderr, flush=True)) as microphone:
    print("listening to", microphone.name, file=sys.stderr, flush=True)
    for block in microphone.frames():
        sys.stdout.buffer.write(block)
        sys.stdout.buffer.flush()
"""
# A program that speaks while it listens.
HALF_DUPLEX = """
import sys
import numpy as np
from fieldassist.voice.earcons import Loudspeaker
from fieldassist.voice.microphone import Microphone
from fieldassist.voice.speaker import find_speaker

def level(blocks):
    samples = np.frombuffer(b"".join(blocks), dtype=np.int16).astype(float)
    return float(np.abs(samples).max())

deaf = sys.argv[1] == "deaf"
voice = find_speaker()
with Microphone() as microphone:
    frames = microphone.frames()
    chime = Loudspeaker(*((microphone.mute, microphone.unmute) if deaf else ()))
    if deaf:
        voice.watch(microphone.mute, microphone.unmute)
    chime.play("time is up")
    chime.wait()
    voice.say("open time is up")
    heard, silent = [], 0
    while silent < 6:
        block = next(frames)
        heard.append(block)
        silent = 0 if voice.speaking() else silent + 1
    print(f"{voice.wait(0)} {len(heard)} {level(heard)}")
    chime.close()
"""


def arrived(sound: np.ndarray, heard: np.ndarray) -> float:
    """The share of the sound, in pieces of 25 ms, that stands in what was heard bit for bit and in order."""
    pieces = [sound[start : start + 400] for start in range(0, len(sound) - 400, 400)]
    loud = [piece.astype("<i2").tobytes() for piece in pieces if np.abs(piece.astype(int)).max() > 300]
    all_heard, at, found = heard.tobytes(), 0, 0
    for piece in loud:
        place = all_heard.find(piece, at)
        if place >= 0:
            at, found = place + len(piece), found + 1
    return found / len(loud)


def test_two_recordings_played_into_the_microphone_end_up_in_the_log(
    sound: Sound, tmp_path: Path, plan: DayPlan, checklists: dict[str, Checklist]
) -> None:
    path = tmp_path / "day.db"
    Day.begin(path, today(plan), checklists, SystemClock()).close()
    with program(sound, "-m", "fieldassist", "work", str(path), "--microphone", "--open", "--quiet") as work:
        until(lambda: b"Listening" in work.out or not work.alive(), "the program to listen", START_S, work.said)
        until(sound.recorded, "the ear at the microphone", START_S, work.said)

        def kept(kind: type) -> list:
            assert work.alive(), work.said()
            return [event.body for event in events(path) if isinstance(event.body, kind)]

        sound.play(recording("this is rosa"))
        until(lambda: bool(kept(SpeakerChanged)), "the speaker in the log", HEARD_S, work.said)
        assert [body.name for body in kept(SpeakerChanged)] == ["rosa"]
        sound.play(recording("start area shower wall"))
        until(lambda: bool(kept(AreaStarted)), "the area in the log", HEARD_S, work.said)
        assert [body.area for body in kept(AreaStarted)] == ["shower wall"]
        assert work.child.stdin is not None
        work.child.stdin.write(b"leave\n")
        work.child.stdin.flush()
        assert work.ended(20) == 0, work.said()


def test_what_is_played_arrives_bit_for_bit_and_again_after_the_sound_system_went_away(sound: Sound) -> None:
    with program(sound, "-c", CAPTURE) as capture:
        until(lambda: b"listening" in capture.err, "the program to listen", START_S, capture.said)
        until(sound.recorded, "the ear at the microphone", START_S, capture.said)
        played = sound.play(recording("this is rosa"))
        until(lambda: arrived(played, capture.samples()) > 0.9, "the recording", HEARD_S, capture.said)
        sound.stop()
        until(lambda: b"voice-warn-gone" in capture.err, "the warning", HEARD_S, capture.said)
        sound.start()
        until(lambda: b"voice-warn-back" in capture.err, "the microphone opened again", HEARD_S, capture.said)
        until(sound.recorded, "the ear at the microphone", START_S, capture.said)
        before = len(capture.samples())
        played = sound.play(recording("start area shower wall"))
        until(lambda: arrived(played, capture.samples()[before:]) > 0.9, "the recording", HEARD_S, capture.said)
        assert capture.alive()


@pytest.mark.parametrize("deaf", [True, False])
def test_the_tablet_does_not_hear_its_own_voice(sound: Sound, deaf: bool) -> None:
    # The loudspeaker sounds straight into the microphone, louder than in any room; without the muting it is heard.
    assert sound.control("set-default-sink", "vmic") is not None
    with program(sound, "-c", HALF_DUPLEX, "deaf" if deaf else "hears") as speaking:
        assert speaking.ended(START_S) == 0, speaking.said()
        spoken, blocks, level = speaking.out.split()
        assert spoken == b"True"
        assert int(blocks) > 6
        assert (float(level) == 0) if deaf else (float(level) > 3000), level


def test_microphones_are_listed_with_a_level_and_without_a_sound_system_the_reason_is_said(sound: Sound) -> None:
    listed = subprocess.run(
        [sys.executable, "-c", "from fieldassist.voice.microphone import *; print(list_inputs())"],
        env=sound.environment,
        capture_output=True,
        text=True,
        timeout=START_S,
        check=True,
    )
    assert "default=True" in listed.stdout
    meter = subprocess.run(
        [sys.executable, "-m", "fieldassist", "microphone", "--seconds", "0.5"],
        env=sound.environment,
        capture_output=True,
        text=True,
        timeout=START_S,
        check=True,
    )
    assert "* " in meter.stdout
    assert "." * 48 in meter.stdout, "nothing is played, so the meter stands at its lowest"
    sound.stop()
    with program(sound, "-c", CAPTURE) as capture:
        assert capture.ended(START_S) == 1
        assert b"NoMicrophone: voice-no-microphone" in capture.err
