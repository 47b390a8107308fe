"""The README's pictures of the tablet's screens: a day of the invented site is worked, a mock-up trial rehearsed, and
each screen is drawn as it comes. Needs no display; run from the checkout: `python assets/screens.py`."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent

# With this seed the first lot falls on the thirteenth tile that is set.
SEED = "000d" * 16
# The day of the pictures, as the crew calls it; a number after + is minutes that pass.
START = ("this is rosa", "weather overcast", "start area shower wall", "understood", "understood")
CONDITIONS = (
    *("air temperature twenty one degrees", "wall temperature eighteen degrees", "humidity fifty percent"),
    "membrane checked",
)
BASE = ("gap two millimeters", "short gap one millimeter", "wall clean", "base released by edwin")
BATCH = ("new batch", "understood", "two bags", "lot four seven two", "yes", "water twelve liters", "batch mixed")
MIXED = ("+8", "remixed")
TO_THE_COMB = ("next tile", "back keyed", "spread", "+1")
SET = ("combed straight", "tile set", "slid half an inch", "yes", "beaten in")
FROM_THE_COMB = (*SET, "test tile lifted", "no photo")
GOOD = "coverage {percent} percent, void one square inch, corners full, edges full, bed six millimeters"
BAD = "coverage eighty five percent, void six square inches, corner empty, edges full, bed five millimeters"
PUT_BACK = ("yes", "put back")
CURED = (
    "change to both sides",
    "method released by edwin",
    "set again",
    "test tile lifted",
    "no photo",
)


def lifted(percent: str) -> tuple[str, ...]:
    """A lift of the tile at hand."""
    return ("test tile lifted", "no photo", GOOD.format(percent=percent), *PUT_BACK)


def spread(count: str, pieces: int) -> tuple[str, ...]:
    """Mortar for so many tiles, and each of them in."""
    return (f"spread {count}", "+4", *(("tile in", "+2") * pieces))


@dataclass(frozen=True)
class Shot:
    """One picture: its name, what is said before, the screen, and what is pressed on it."""

    name: str
    says: tuple[str, ...]
    screen: str
    presses: tuple[str, ...] = ()
    theme: str = "day"
    units: str = "metric"
    text: float = 1.0


TO_FOUR = (
    *(GOOD.format(percent="ninety seven"), *PUT_BACK),
    *(*spread("three", 3), "lift this one", *lifted("ninety six"), "lippage one millimeter"),
)
TO_SEVEN = (*spread("three", 3), "lift this one", "test tile lifted", "no photo")
# The failed tile is set again the new way and lifted, then the one before it; the next outward cannot be reached.
OUTWARD = (
    *(*CURED, GOOD.format(percent="ninety eight"), *PUT_BACK),
    *(*lifted("ninety seven"), "lippage one millimeter", "out of reach to lift"),
)
# The first tile of the new way is called step by step; then more are counted, and another batch.
ONWARD = (
    *(*TO_THE_COMB, *SET, "lift this one", *lifted("ninety eight")),
    *(*spread("three", 3), "lift this one", *lifted("ninety seven"), "lippage one millimeter"),
    *("new batch", "two bags", "water twelve liters", "batch mixed", *MIXED),
    *(*TO_THE_COMB, *SET, "spread", "+3", "tile in"),
)
# In the order of the day: each goes on where the one before it stood.
LYING = (
    Shot("day", START[:2], "day"),
    Shot("number", (*START[2:], *CONDITIONS), "work", units="us"),
    Shot("work", (*BASE, *BATCH, *MIXED, *TO_THE_COMB), "work"),
    Shot("lift", FROM_THE_COMB, "work", ("All mortar",)),
    Shot("spread", (*TO_FOUR, "spread three", "+4", "tile in", "+2", "tile in"), "work", theme="sun"),
    Shot("corners", ("+2", "tile in", "lift this one", "test tile lifted"), "measuring"),
    Shot("painting", (), "measuring"),
    Shot("failed", (BAD, "yes", "scraped clean"), "work"),
    Shot("wall", (*OUTWARD, *ONWARD), "wall"),
    Shot("warning", (*lifted("ninety six"), "spread two", "+16"), "work", theme="dark"),
    Shot("expired", ("+6",), "work"),
    Shot("plan", ("scraped off",), "plan"),
    Shot("signing", ("this is edwin",), "signing"),
    Shot("countersign", (), "countersign"),
    Shot("check", (), "check"),
    Shot("ranking", (), "trial"),
)
UPRIGHT = (
    Shot("wall-upright", (*START, *CONDITIONS, *BASE, *BATCH, *MIXED, *TO_THE_COMB, *FROM_THE_COMB, *TO_FOUR), "wall"),
    Shot("work-upright", ("next tile", "back keyed", "spread", "+2"), "work", theme="dark"),
    Shot("number-upright", ("start area hall floor", "understood", "understood"), "work", text=1.5),
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
        from fieldassist.checklist.plan import Grid
        from fieldassist.day.clock import SimulatedClock
        from fieldassist.day.session import Day
        from fieldassist.places import shipped
        from fieldassist.ui.app import TabletApp as Program
        from fieldassist.ui.content.explain import EXPLAINED
        from fieldassist.voice.speaker import Silent

        self.loop, self.window = EventLoop, Window
        self.handed = folder  # the day as one file, once it is handed over
        self.clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
        self.program = Program(data=folder / "data", listen=False, speaker=Silent(), clock=self.clock)
        self.program._run_prepare()
        # What a page says of itself on the first visit is left out.
        self.program.choose(theme="day", units="metric", explained=tuple(EXPLAINED))
        plan = load_plan(shipped("assets") / "demo" / "site.yaml")
        # With a notch that works: the demo's own is changed before anything is set.
        method = plan.methods["half inch square"]
        grid = Grid(rows=6, columns=4)
        areas = (plan.areas[0].model_copy(update={"method": method, "grid": grid}), *plan.areas[1:])
        plan = plan.model_copy(update={"areas": areas})
        checklists, _ = load_folder(shipped("checklists"))
        day = folder / "2026-03-17.db"
        self.program.open_day(day, lambda: Day.begin(day, plan, checklists, self.clock, lot_seed=SEED))
        self.idle_until(lambda: self.program.view is not None)

    def open_trial(self, folder: Path) -> None:
        """The mock-up trial that is rehearsed in `assets/trial`, in place of the day."""
        from fieldassist.day.session import Day

        played, parts = folder / "trial", (HERE / "trial" / "plan.yaml", HERE / "trial" / "trial.txt")
        code = "import sys; from fieldassist.cli import main; sys.exit(main(sys.argv[1:]))"
        asked = [sys.executable, "-c", code, "rehearse", *map(str, parts), "--out", str(played)]
        subprocess.run(asked, check=True, stdout=subprocess.DEVNULL)
        self.program.close_day()
        path = played / "day.db"
        self.program.open_day(path, lambda: Day.resume(path, self.clock))
        self.idle_until(lambda: self.program.view is not None)

    def measure_back(self, *, painted: bool) -> None:
        """The back of the lift at hand is photographed, as the demo has it, and its corners set; or then it is painted
        over."""
        import numpy as np

        from fieldassist.checklist.loader import load_file
        from fieldassist.cli.demo import ByHandEntry, Scenario
        from fieldassist.day.photo import attach
        from fieldassist.photo.measuring import plan_of
        from fieldassist.record.back_cells import read_cells
        from fieldassist.rehearsal.measuring import read_measure
        from fieldassist.ui.content.back_work import corners_in_dots, dots_of_photo, photo_as_worked_on
        from fieldassist.ui.content.measuring import MeasureDrafts, at_hand, photos_of

        demo = HERE / "demo"
        entries = load_file(demo / "scenario.yaml", Scenario).utterances
        typed = [entry.typed for entry in entries if isinstance(entry, ByHandEntry)]
        [line] = [read_measure(words) for words in typed if words.startswith("measure as ")]
        if not painted:
            self.program.ask(lambda day: attach(day, demo / "back.jpg"))
            self.settle()
        view = self.program.view
        assert view is not None
        what = at_hand(view.state)
        assert what is not None
        draft = self.program.memory.of(MeasureDrafts).of(view.path, what, view.state.areas[what.area])
        if not painted:
            draft.eye, draft.eye_by, draft.eye_told = 85.0, "rosa", True
            draft.take_kind(line.kind)
            [photo] = photos_of(view.events, view.path, what)
            draft.take_photo(photo.sha256)
            draft.seen, draft.corners = photo_as_worked_on(photo.path), list(line.corners)
            return
        assert draft.seen is not None
        size_mm = draft.back.size_mm
        corners = corners_in_dots(line.corners, draft.seen, size_mm)
        draft.take_plan(plan_of(dots_of_photo(draft.seen), corners, size_mm)[0])
        draft.paint()
        cells = read_cells((demo / line.painted).read_bytes(), size_mm)
        draft.back.fill(np.frombuffer(cells.cells, np.uint8).reshape(cells.rows, cells.columns) < 128, "void")

    def seal_day(self, folder: Path) -> None:
        """Edwin signs the day and its pages; both are handed over, and a roster says whose key that is."""
        from fieldassist.checklist.plan import Role
        from fieldassist.record.roster import make_roster, roster_for, with_people, write_roster
        from fieldassist.ui.content.export import hand_over, make_signed_pages

        program, pin, now = self.program, "271828", self.clock.now()
        at = datetime.fromisoformat(now.wall)
        for name, role in (("edwin", Role.FOREMAN), ("mara quill", Role.OWNER)):
            program.keys.set_pin(name, role, pin, now=now)
        owner = program.keys.unlock("mara quill", pin, now)
        people = with_people((), program.keys.people(), at, since=at.replace(hour=0))
        roster = make_roster("Quillhaven Baths", people, owner, at)
        write_roster(roster_for(program.data, "work"), roster)
        program.ask(lambda day: day.sign(program.keys, pin, accept_open=True))
        self.settle()
        view = program.view
        assert view is not None
        edwin = program.keys.unlock("edwin", pin, now)
        make_signed_pages(view.path, edwin, now, "metric", lambda _done, _of: None)
        self.handed = hand_over(view.path, folder, "metric", lambda _done, _of: None).bundle

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

    def press(self, words: str) -> None:
        from fieldassist.ui.widgets.key import Key

        self.frames()
        keys = (widget for child in self.window.children for widget in child.walk() if isinstance(widget, Key))
        next(key for key in keys if key.named.startswith(words)).dispatch("on_release")
        self.settle()

    def draw(self, shot: Shot, into: Path) -> None:
        for line in shot.says:
            self.say(line)
        if shot.screen == "measuring":
            self.measure_back(painted=shot.name == "painting")
        self.program.choose(theme=shot.theme, units=shot.units, text=shot.text)
        self.program.go(shot.screen, **({"path": self.handed} if shot.screen == "check" else {}))
        self.settle()
        for words in shot.presses:
            self.press(words)
        end = time.monotonic() + 1.5  # what is reckoned or read beside the screen comes when it is there
        self.idle_until(lambda: time.monotonic() > end and self.program.job is None)
        self.window.dispatch("on_draw")
        made = Path(self.window.screenshot(name=str(into / f"{shot.name}.png")))
        made.replace(into / f"{shot.name}.png")


def draw(upright: bool, into: Path) -> None:
    """Draw one orientation's pictures: a window keeps its size."""
    shots = UPRIGHT if upright else LYING
    with tempfile.TemporaryDirectory() as folder:
        tablet = Tablet(*((800, 1280) if upright else (1280, 800)), Path(folder))
        for shot in shots:
            if shot.screen == "trial":
                tablet.open_trial(Path(folder))
            elif shot.screen == "countersign":
                tablet.seal_day(Path(folder))
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
    paper.quantize(256, kmeans=2).save(out, optimize=True)


def main() -> int:
    """The sheets that the README shows; with a folder as argument, every picture in full into it as well."""
    if len(sys.argv) == 3:
        draw(sys.argv[1] == "upright", Path(sys.argv[2]))
        return 0
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(sys.argv[1] if len(sys.argv) > 1 else scratch)
        folder.mkdir(exist_ok=True)
        for way in ("lying", "upright"):
            subprocess.run([sys.executable, str(HERE / "screens.py"), way, str(folder)], check=True)
        others = [shot for shot in LYING if shot.screen != "measuring"]
        of_a_back = [shot for shot in LYING if shot.screen == "measuring"]
        sheet([folder / f"{shot.name}.png" for shot in others], 620, 2, HERE / "screens.png")
        sheet([folder / f"{shot.name}.png" for shot in of_a_back], 620, 2, HERE / "measuring.png")
        sheet([folder / f"{shot.name}.png" for shot in UPRIGHT], 410, 3, HERE / "screens-upright.png")
    return 0


if __name__ == "__main__":
    sys.exit(main())
