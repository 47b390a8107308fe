"""What a tablet costs that nobody touches: `python -m tests.bench.resting`. Needs Xvfb and pulseaudio.

Shares of one core and memory of the program with a day open at its step: deaf, listening to silence, and listening to
steady noise; beside them a window of Kivy's with one word in it, on the same screen.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import soundfile

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from tests import SITE, today
from tests.bench.window import BARE
from tests.sounding import START_S, Program, Sound, program, until
from tests.xscreen import screen

SETTLES_S, MEASURED_S = 12.0, 30.0
_TICKS = os.sysconf("SC_CLK_TCK")


def main() -> None:
    """Print a line a state."""
    folder = Path(tempfile.mkdtemp(prefix="fa"))
    sound, showing = Sound(folder), contextlib.ExitStack()
    display = showing.enter_context(screen())
    try:
        sound.start()
        dots = {
            "DISPLAY": display,
            "KIVY_NO_ARGS": "1",
            "KIVY_HOME": str(folder / "kivy"),
            "KIVY_NO_CONSOLELOG": "1",
            "KIVY_DPI": "149",
        }
        (folder / "kivy").mkdir()
        checklists, _ = load_folder(shipped("checklists"))
        ours = ["-m", "fieldassist", "tablet"]
        for state, more in (("deaf", ["--no-microphone"]), ("listening to silence", []), ("listening to noise", [])):
            day = folder / f"{state[:9].strip()}{len(state)}.db"
            Day.begin(day, today(load_plan(SITE)), checklists, SystemClock()).close()
            arguments = [*ours, str(day), "--data", str(folder / "data"), *more]
            with program(sound, *arguments, **dots) as running:
                if not more:
                    until(lambda: sound.recorded(), "the ear", START_S, running.said)
                noise = _noise(sound, folder) if "noise" in state else None
                _tell(state, running)
                if noise is not None:
                    noise.kill()
                running.child.kill()
                running.child.wait()
            if not more:
                until(lambda: not sound.recorded(), "the ear to be gone", START_S)
        (folder / "bare.py").write_text(BARE.replace(", self.stop()", ""), encoding="utf-8")
        with program(sound, str(folder / "bare.py"), **dots) as running:
            until(lambda: b"up" in running.out, "the bare window", START_S, running.said)
            _tell("a bare Kivy window", running)
            running.child.kill()
            running.child.wait()
    finally:
        sound.stop()
        showing.close()
        shutil.rmtree(folder, ignore_errors=True)


def _noise(sound: Sound, folder: Path) -> subprocess.Popen[bytes]:
    """Pink-ish noise at about -20 dBFS, played over and over."""
    white = np.random.default_rng(1).standard_normal(16_000 * 60)
    pink = np.convolve(white, np.full(4, 0.25), "same")
    soundfile.write(folder / "noise.wav", pink / np.abs(pink).max() * 0.4, 16_000)
    return subprocess.Popen(
        ["paplay", "-d", "vmic", str(folder / "noise.wav")], env=sound.environment, stderr=subprocess.DEVNULL
    )


def _tell(state: str, running: Program) -> None:
    time.sleep(SETTLES_S)
    before = _spent(running.child.pid)
    time.sleep(MEASURED_S)
    share = (_spent(running.child.pid) - before) / MEASURED_S
    status = Path(f"/proc/{running.child.pid}/status").read_text(encoding="utf-8")
    memory = next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmRSS")) / 1024
    print(f"{state}: {100 * share:.1f} % of a core, {memory:.0f} MB", flush=True)


def _spent(pid: int) -> float:
    """Processor time of a process [s]."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / _TICKS


if __name__ == "__main__":
    sys.exit(main())
