"""The program's own window on a screen: clicked with a mouse, spoken to through a microphone, killed and opened again.

Xvfb is the screen, xdotool the finger, PulseAudio's null sink the microphone. Where to press is read from the same
screens in this process, which are worked beside it.
"""

from __future__ import annotations

import os
import subprocess
import time
from pathlib import Path

import pytest

from fieldassist.checklist.events import AreaStarted, CautionAcknowledged, ReadingCalled, ReadingKept, SpeakerChanged
from fieldassist.checklist.loader import load_plan
from fieldassist.day.clock import SystemClock
from fieldassist.day.listening import Manner
from fieldassist.ui.content.preferences import Preferences, save
from tests import SITE, today
from tests.sounding import HEARD_S, START_S, Program, Sound, events, program, until
from tests.spoken import recording
from tests.ui.conftest import SCALE, Hands, Window, begin_tablet, day_for_screens, resize
from tests.xscreen import screen


class Both:
    """The program's window, and beside it the same screens in this process."""

    def __init__(self, hands: Hands, display: str, day: Path) -> None:
        self.hands, self.display, self.day = hands, display, day

    def press(self, *words: str) -> None:
        """Press the first target that says so, in both."""
        for word in words:
            self.hands.frames(6)  # until everything lies where it belongs
            target = self.hands.key(word)
            x, y = target.to_window(*target.center)
            at = str(round(x / SCALE)), str(round((Window.height - y) / SCALE))
            self._mouse("mousemove", *at, "mousedown", "1", "sleep", "0.1", "mouseup", "1")  # as long as a finger is
            self.hands.touch(target)
            self.hands.quiet()

    def _mouse(self, *what: str) -> None:
        subprocess.run(["xdotool", *what], env={**os.environ, "DISPLAY": self.display}, check=True, timeout=30)

    def kept(self, kind: type) -> list:
        """What the day's log holds of a kind."""
        return [event.body for event in events(self.day) if isinstance(event.body, kind)]

    def until(self, kind: type, count: int, program: Program) -> None:
        """Wait for so many of a kind in the log."""
        until(lambda: len(self.kept(kind)) >= count, f"{count} {kind.__name__}", HEARD_S, program.said)
        self.look()

    @staticmethod
    def look() -> None:
        """Until the window shows it: nobody presses what is not there yet."""
        time.sleep(1.5)


@pytest.mark.parametrize(
    ("size", "theme", "units", "keys", "unit"),
    [((1280, 800), "day", "metric", ("2", "1"), "degC"), ((800, 1280), "dark", "us", ("7", "0"), "degF")],
)
def test_a_day_goes_on_at_the_same_step_after_the_program_was_killed(
    sound: Sound,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    size: tuple[int, int],
    theme: str,
    units: str,
    keys: tuple[str, ...],
    unit: str,
) -> None:
    monkeypatch.setattr("fieldassist.ui.screens.work.DEAF_S", 0.0)
    day, data = tmp_path / "day.db", tmp_path / "data"
    day_for_screens(day, SystemClock(), today(load_plan(SITE)))().close()
    save(data, Preferences(aloud=False, manner=Manner.OPEN, theme=theme, units=units))
    sound.environment.pop("SDL_VIDEODRIVER", None)
    start = ["-m", "fieldassist", "tablet", "--data", str(data), "--window", f"{size[0]}x{size[1]}"]
    dots = {"KIVY_DPI": "149", "KIVY_METRICS_DENSITY": "1", "KIVY_HOME": str(tmp_path / "kivy")}
    (tmp_path / "kivy").mkdir()
    resize(*size)
    try:
        with screen(*size) as display, begin_tablet(tmp_path / "beside") as hands:
            hands.tablet.choose(theme=theme, units=units)
            both = Both(hands, display, day)
            with program(sound, *start, str(day), DISPLAY=display, **dots) as tablet:
                until(sound.recorded, "the ear at the microphone", START_S, tablet.said)
                both.look()
                both.press("Rosa")
                both.until(SpeakerChanged, 1, tablet)
                both.press("Begin: Shower wall")
                both.until(AreaStarted, 1, tablet)
                both.press("Understood")
                both.until(CautionAcknowledged, 1, tablet)
                sound.play(recording("understood"))
                both.until(CautionAcknowledged, 2, tablet)
                hands.say("understood")
                tablet.child.kill()
                tablet.child.wait()
            # Without the day's name: it is the one that was open.
            with program(sound, *start, DISPLAY=display, **dots) as tablet:
                until(sound.recorded, "the ear at the microphone", START_S, tablet.said)
                both.look()
                both.press(*keys, "Keep")
                both.until(ReadingCalled, 1, tablet)
                [called] = both.kept(ReadingCalled)
                assert (called.step, called.value, called.unit) == ("air-temperature", int("".join(keys)), unit)
                both.until(ReadingKept, 1, tablet)
    finally:
        resize(1280, 800)
