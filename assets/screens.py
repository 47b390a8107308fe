"""The README's pictures of the tablet's screens: a day of the invented site is worked, and each screen is drawn as it
comes. Needs no display; run from the checkout: `python assets/screens.py`."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent

START = ("this is rosa", "weather overcast", "start area shower wall")
BASE = (
    *("understood", "understood", "air temperature twenty one degrees", "yes"),
    *("wall temperature eighteen degrees", "yes", "humidity fifty percent", "yes", "membrane checked"),
)
BATCH = (
    *("gap two millimeters", "yes", "short gap one millimeter", "yes", "wall clean"),
    *("base released by edwin", "new batch", "understood", "two bags", "yes", "lot four seven two", "yes"),
    *("water twelve liters", "yes", "batch mixed", "+8", "remixed"),
)
TILE = ("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch", "yes", "beaten in")
FAILED = (
    *("test tile lifted", "no photo", "coverage eighty eight percent", "yes"),
    *("largest void four square inches", "yes", "corners full", "edges full", "bed five millimeters", "yes"),
)


@dataclass(frozen=True)
class Shot:
    """One picture: its name, what is said before (a number after + is minutes that pass), the screen, and what is
    pressed on it."""

    name: str
    says: tuple[str, ...]
    screen: str
    presses: tuple[str, ...] = ()
    theme: str = "day"
    units: str = "metric"


# In the order of the day: each goes on where the one before it stood.
LYING = (
    Shot("caution", START, "area"),
    Shot("reading", BASE, "area", ("2", "in", "1/8"), units="us"),
    Shot("today", (*BATCH, *TILE[:4]), "today"),
    Shot("step", (), "area", theme="dark"),
    Shot("plan", (), "plan"),
    Shot("lift", (*TILE[4:], "test tile lifted", "no photo"), "lift"),
    Shot("yes", ("coverage eighty eight percent",), "area"),
    Shot("safety", (), "safety", ("Dust", "Handheld power saw", "+ 15 min")),
    Shot("settings", (), "settings"),
)
UPRIGHT = (
    Shot("step-upright", (*START, *BASE, *BATCH, *TILE[:4]), "area", theme="dark"),
    Shot("verdict-upright", (*TILE[4:], *FAILED), "lift"),
    Shot("sign-off-upright", ("this is edwin",), "signoff"),
)


class Tablet:
    """The program in this process, drawn without a display."""

    def __init__(self, width: int, height: int, folder: Path) -> None:
        os.environ.update(
            SDL_VIDEODRIVER="offscreen", KIVY_DPI="149", KIVY_METRICS_DENSITY="1", KIVY_HOME=str(folder / "kivy")
        )
        os.environ.pop("DISPLAY", None)
        (folder / "kivy").mkdir()
        from fieldassist.ui import start_kivy

        start_kivy.size_of_window(width, height)
        from kivy.base import EventLoop
        from kivy.core.window import Window

        from fieldassist.checklist.loader import load_folder, load_plan
        from fieldassist.day.clock import SimulatedClock
        from fieldassist.day.session import Day
        from fieldassist.places import shipped
        from fieldassist.ui.app import TabletApp as Program
        from fieldassist.voice.speaker import Silent

        self.loop, self.window = EventLoop, Window
        self.clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
        self.program = Program(data=folder / "data", listen=False, speaker=Silent(), clock=self.clock)
        self.program._run_prepare()
        self.program.choose(theme="day", units="metric")
        plan = load_plan(shipped("assets") / "demo" / "site.yaml")
        # With a notch that works: the demo's own is changed before anything is set.
        method = plan.methods["half inch square"]
        areas = (plan.areas[0].model_copy(update={"method": method}), *plan.areas[1:])
        plan = plan.model_copy(update={"areas": areas})
        checklists, _ = load_folder(shipped("checklists"))
        day = folder / "2026-03-17.db"
        self.program.open_day(day, lambda: Day.begin(day, plan, checklists, self.clock))
        self.idle_until(lambda: self.program.view is not None)

    def idle_until(self, what: Any) -> None:
        while not what():
            self.loop.idle()
        self.frames()

    def frames(self, count: int = 8) -> None:
        for _ in range(count):
            self.loop.idle()

    def settle(self) -> None:
        """Wait until the day's thread has done what waits in its line, and the screen shows it."""
        done: list[bool] = []
        self.program.ask(lambda _day: None, lambda _answer: done.append(True))
        self.idle_until(lambda: done)

    def say(self, line: str) -> None:
        assert self.program.desk is not None
        if line.startswith("+"):
            self.clock.advance(float(line[1:]))
            return
        self.clock.advance(0.25)
        self.program.desk.typed(line)
        self.settle()

    def targets(self) -> Iterator[Any]:
        from fieldassist.ui.widgets.parts import Target

        for child in self.window.children:
            yield from (widget for widget in child.walk() if isinstance(widget, Target))

    def press(self, words: str) -> None:
        self.frames()
        target = next(t for t in self.targets() if t.text.startswith(words))
        target.dispatch("on_release")
        self.settle()

    def draw(self, shot: Shot, into: Path) -> None:
        for line in shot.says:
            self.say(line)
        self.program.choose(theme=shot.theme, units=shot.units)
        self.program.go(shot.screen)
        self.settle()
        for words in shot.presses:
            self.press(words)
        for _ in range(3):  # a plan is reckoned beside the screen
            self.settle()
        self.window.dispatch("on_draw")
        made = Path(self.window.screenshot(name=str(into / f"{shot.name}.png")))
        made.replace(into / f"{shot.name}.png")


def draw(upright: bool, into: Path) -> None:
    """Draw one orientation's pictures: a window keeps its size."""
    shots = UPRIGHT if upright else LYING
    with tempfile.TemporaryDirectory() as folder:
        tablet = Tablet(*((800, 1280) if upright else (1280, 800)), Path(folder))
        for shot in shots:
            tablet.draw(shot, into)
            print(into / f"{shot.name}.png", flush=True)
        tablet.program.stop()


def sheet(pictures: list[Path], width: int, columns: int, out: Path) -> None:
    """Several pictures on one."""
    from PIL import Image

    whole = [Image.open(path).convert("RGB") for path in pictures]
    small = [p.resize((width, round(p.height * width / p.width)), Image.Resampling.LANCZOS) for p in whole]
    high, gap = max(p.height for p in small), 8
    rows = -(-len(small) // columns)
    paper = Image.new("RGB", (columns * (width + gap) + gap, rows * (high + gap) + gap), "#bebebe")
    for number, picture in enumerate(small):
        paper.paste(picture, (gap + number % columns * (width + gap), gap + number // columns * (high + gap)))
    paper.quantize(96).save(out, optimize=True)


def main() -> int:
    """The two sheets that the README shows; with a folder as argument, every picture in full into it as well."""
    if len(sys.argv) == 3:
        draw(sys.argv[1] == "upright", Path(sys.argv[2]))
        return 0
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(sys.argv[1] if len(sys.argv) > 1 else scratch)
        folder.mkdir(exist_ok=True)
        for way in ("lying", "upright"):
            subprocess.run([sys.executable, str(HERE / "screens.py"), way, str(folder)], check=True)
        sheet([folder / f"{shot.name}.png" for shot in LYING if shot.name != "caution"], 620, 2, HERE / "screens.png")
        sheet([folder / f"{shot.name}.png" for shot in UPRIGHT], 410, 3, HERE / "screens-upright.png")
    return 0


if __name__ == "__main__":
    sys.exit(main())
