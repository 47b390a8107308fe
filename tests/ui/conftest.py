"""The tablet's program in this process, and hands that press what can be seen on it.

Kivy draws without a display through SDL's offscreen driver (EGL).
"""

from __future__ import annotations

import atexit
import contextlib
import functools
import os
import shutil
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

os.environ["SDL_VIDEODRIVER"] = "offscreen"
os.environ.pop("DISPLAY", None)
# A tablet of 10 inches with 1280 x 800 dots. Drawing it without a graphics card is what takes the time, so the tests
# have one with half the dots each way; SCREEN_SCALE=1 gives pictures to look at.
SCALE = float(os.environ.get("SCREEN_SCALE", "0.5"))
os.environ["KIVY_DPI"] = str(149 * SCALE)
os.environ["KIVY_METRICS_DENSITY"] = str(SCALE)
# Its own in each process: Kivy makes this folder, and fails where another process makes it at the same moment.
os.environ["KIVY_HOME"] = tempfile.mkdtemp(prefix="kivy-")
atexit.register(shutil.rmtree, os.environ["KIVY_HOME"], ignore_errors=True)
os.environ["KIVY_NO_ARGS"] = "1"
os.environ["KIVY_NO_CONSOLELOG"] = "1"
os.environ["KIVY_NO_FILELOG"] = "1"

import pytest
from kivy.config import Config

# SCREEN_UPRIGHT=1 begins upright: what is drawn into memory is no whole picture after a turn.
LONG, SHORT = ("height", "width") if os.environ.get("SCREEN_UPRIGHT") else ("width", "height")
Config.set("graphics", LONG, str(round(1280 * SCALE)))
Config.set("graphics", SHORT, str(round(800 * SCALE)))
Config.set("graphics", "maxfps", "0")

from kivy.base import EventLoop
from kivy.core.window import Window
from kivy.tests.common import UnitTestTouch
from kivy.uix.label import Label
from kivy.uix.scrollview import ScrollView
from kivy.uix.widget import Widget

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.moment import Source
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.ui.app import TabletApp
from fieldassist.ui.content.explain import EXPLAINED
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.voice.speaker import Silent
from tests import SITE
from tests.conftest import QUIET_SEED

PATIENCE_S = 180.0  # far more than anything here takes on a busy machine; only a failure waits so long


class Hands:
    """Somebody at the tablet."""

    def __init__(self, tablet: TabletApp, clock: SimulatedClock) -> None:
        self.tablet = tablet
        self.clock = clock

    # --- time -----------------------------------------------------------------------------------------------------

    def wait(self, until: Callable[[], Any], what: str = "", seconds: float = PATIENCE_S) -> None:
        """Let the program run until something is so."""
        end = time.monotonic() + seconds
        while not until():
            assert time.monotonic() < end, f"waited in vain: {what}\n{self.seen()}"
            EventLoop.idle()
            time.sleep(0.004)  # the day's own thread and the recognizer get their turn
        self.frames(2)

    def frames(self, count: int = 3) -> None:
        """Let the program draw."""
        for _ in range(count):
            EventLoop.idle()

    def quiet(self) -> None:
        """Let the day's thread do what waits in its line, and the screen show it."""
        done = threading.Event()
        if self.tablet.desk is not None:
            # Not by looking again and again: that takes the time from the day's thread.
            self.tablet.desk.ask(lambda _day: None, lambda _answer: done.set())
            assert done.wait(PATIENCE_S), f"waited in vain: the day's thread\n{self.seen()}"
        self.frames(2)
        assert self.tablet.view is not None or self.tablet.desk is None
        self.frames(4)

    def wait_tick(self) -> None:
        """Let the day's thread notice that time has passed, and the screen show it."""
        self.quiet()
        self.quiet()

    # --- eyes -----------------------------------------------------------------------------------------------------

    def widgets(self) -> Iterator[Widget]:
        """Everything on the window, in the order in which it lies there."""
        for child in Window.children:
            yield from child.walk()

    def seen(self) -> str:
        """All words on the window."""
        return "\n".join(
            w.words if isinstance(w, TextLabel) else w.text for w in self.widgets() if isinstance(w, Label) and w.text
        )

    def every_key(self) -> list[Key]:
        """Everything that can be pressed."""
        return [w for w in self.widgets() if isinstance(w, Key)]

    def key(self, words: str) -> Key:
        """The one key with these words (or this name), or whose words begin with them."""
        keys = self.every_key()
        exact = [k for k in keys if words in (k.text, k.named)]
        found = exact or [k for k in keys if k.named.startswith(words)]
        assert len(found) >= 1, f"no key says {words!r}; there are {[k.named for k in keys]}"
        assert len(found) == 1, f"{len(found)} keys say {words!r}"
        return found[0]

    # --- fingers --------------------------------------------------------------------------------------------------

    def press(self, words: str) -> None:
        """Press the key with these words, and wait for what comes of it."""
        self.touch(self.key(words))
        self.quiet()

    def touch(self, widget: Widget, x: float = 0.5, y: float = 0.5) -> None:
        """Touch a widget at shares of its width and height, after it was brought into sight."""
        self._bring(widget)
        at = widget.to_window(widget.x + x * widget.width, widget.y + y * widget.height)
        assert 0 <= at[0] <= Window.width, f"{widget} lies off the window"
        assert 0 <= at[1] <= Window.height, f"{widget} lies off the window"
        touch = UnitTestTouch(*at)
        touch.touch_down()
        EventLoop.idle()
        touch.touch_up()
        self.frames(3)
        if any(isinstance(parent, ScrollView) for parent in _above(widget)):
            # What is pulled waits whether a finger pulls, and lets go of what is in it a moment later.
            self._run(0.35)

    def _run(self, seconds: float) -> None:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            EventLoop.idle()
            time.sleep(0.005)

    def draw(self, widget: Widget, *points: tuple[float, float]) -> None:
        """One stroke over a widget, through shares of its width and height."""
        self._bring(widget)
        places = [widget.to_window(widget.x + x * widget.width, widget.y + y * widget.height) for x, y in points]
        touch = UnitTestTouch(*places[0])
        touch.touch_down()
        for place in places[1:]:
            touch.touch_move(*place)
            EventLoop.idle()
        touch.touch_up()
        self.frames(3)

    def _bring(self, widget: Widget) -> None:
        parent = widget.parent
        while parent is not None and parent is not Window:
            if isinstance(parent, ScrollView):
                parent.scroll_to(widget, animate=False)
                self.frames(3)
            parent = parent.parent

    def go(self, screen: str, **what: Any) -> None:
        """Go to a screen by its name in `screens`."""
        self.tablet.go(screen, **what)
        self.frames(4)

    # --- voice ----------------------------------------------------------------------------------------------------

    def say(self, *lines: str) -> None:
        """Say lines to the held key, as words, one after the other; the screen shows what comes of them."""
        for line in lines:
            assert self.tablet.desk is not None
            self.tablet.desk.typed(line)
        self.quiet()

    def events(self, kind: type | None = None) -> list[Any]:
        """What the day's events say, all or those of a kind."""
        assert self.tablet.view is not None
        bodies = [event.body for event in self.tablet.view.events]
        return [body for body in bodies if kind is None or isinstance(body, kind)]

    def sources(self, kind: type) -> list[Source]:
        """How the events of a kind came to the tablet."""
        assert self.tablet.view is not None
        return [event.source for event in self.tablet.view.events if isinstance(event.body, kind)]

    def picture(self, path: Path) -> None:
        """The window as a picture, to look at."""
        self.frames(4)
        Window.dispatch("on_draw")
        Window.screenshot(name=str(path))


def _above(widget: Widget) -> Iterator[Widget]:
    """All that a widget lies in."""
    while widget.parent is not None and widget.parent is not widget:
        widget = widget.parent
        yield widget


@functools.cache
def shipped_checklists() -> dict[str, Checklist]:
    """They take a second to load."""
    return load_folder(shipped("checklists"))[0]


def day_for_screens(path: Path, clock: SimulatedClock, plan: DayPlan | None = None) -> Callable[[], Day]:
    """Begins the invented site's day, or that of another plan."""
    planned = (plan or load_plan(SITE)).model_copy(update={"date": clock.now().wall[:10]})
    checklists = shipped_checklists()
    return lambda: Day.begin(path, planned, checklists, clock, lot_seed=QUIET_SEED)


@contextlib.contextmanager
def begin_tablet(folder: Path, plan: DayPlan | None = None, **rest: Any) -> Iterator[Hands]:
    """A tablet with the invented site's day open, or that of another plan; rest: as `TabletApp` takes it, by touch only
    unless it says else."""
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
    folder.mkdir(parents=True, exist_ok=True)
    tablet = TabletApp(data=folder / "data", **{"listen": False, "speaker": Silent(), "clock": clock, **rest})
    # Every page has told what it is for.
    tablet.preferences = tablet.preferences.model_copy(update={"explained": EXPLAINED})
    tablet._run_prepare()
    hands = Hands(tablet, clock)
    try:
        tablet.open_day(folder / "day.db", day_for_screens(folder / "day.db", clock, plan))
        hands.wait(lambda: tablet.view is not None, "the day")
        yield hands
    finally:
        tablet.stop()
        for child in list(Window.children):
            Window.remove_widget(child)
        resize(*((800, 1280) if LONG == "height" else (1280, 800)))


@pytest.fixture
def hands(tmp_path: Path, cheap_hash: None) -> Iterator[Hands]:  # noqa: ARG001
    """A tablet with the invented site's day open, by touch only."""
    with begin_tablet(tmp_path) as hands:
        yield hands


def resize(width: int, height: int) -> None:
    """Turn or change the tablet's screen; width and height in dots of the whole one."""
    Window.size = (round(width * SCALE), round(height * SCALE))
    for _ in range(4):
        EventLoop.idle()
