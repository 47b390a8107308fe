"""How long the tablet's window takes until it listens: `python -m tests.bench.window`. Needs Xvfb and pulseaudio.

Beside it, on the same screen: a window of Kivy's with one word in it, which is the least that any screen of ours needs.
"""

from __future__ import annotations

import contextlib
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from tests import SITE, today
from tests.sounding import START_S, Program, Sound, program, until
from tests.xscreen import screen

TIMES = 5
BARE = """
import sys
from kivy.app import App
from kivy.clock import Clock
from kivy.uix.label import Label
from tests import SITE
class Bare(App):
    def build(self):
        return Label(text="here")
    def on_start(self):
        Clock.schedule_once(lambda _dt: (print("up", flush=True), self.stop()), 0)
Bare().run()
"""


def main() -> None:
    """Print one line."""
    folder = Path(tempfile.mkdtemp(prefix="fa"))
    sound, showing = Sound(folder), contextlib.ExitStack()
    display = showing.enter_context(screen())
    try:
        sound.start()
        dots = {"DISPLAY": display, "KIVY_NO_ARGS": "1", "KIVY_HOME": str(folder / "kivy"), "KIVY_NO_CONSOLELOG": "1"}
        (folder / "kivy").mkdir()
        day = folder / "day.db"
        checklists, _ = load_folder(shipped("checklists"))
        Day.begin(day, today(load_plan(SITE)), checklists, SystemClock()).close()
        ours = ["-m", "fieldassist", "tablet", str(day), "--data", str(folder / "data")]
        listening = _best(sound, ours, dots, lambda _program: sound.recorded())
        (folder / "bare.py").write_text(BARE, encoding="utf-8")
        bare = _best(sound, [str(folder / "bare.py")], dots, lambda program: b"up" in program.out)
    finally:
        sound.stop()
        showing.close()
        shutil.rmtree(folder, ignore_errors=True)
    print(
        f"window up and listening: {listening:.2f} s (target 4 s), {listening / bare:.1f} x a bare Kivy window "
        f"({bare:.2f} s); the best of {TIMES}"
    )


def _best(sound: Sound, arguments: list[str], dots: dict[str, str], ready: Callable[[Program], bool]) -> float:
    spent = []
    for _ in range(TIMES):
        begun = time.perf_counter()
        with program(sound, *arguments, **dots) as running:
            until(lambda running=running: ready(running), "the window", START_S, running.said)  # type: ignore[misc]
            spent.append(time.perf_counter() - begun)
            running.child.kill()
            running.child.wait()
        until(lambda: not sound.recorded(), "the ear to be gone", START_S)
    return min(spent)


if __name__ == "__main__":
    sys.exit(main())
