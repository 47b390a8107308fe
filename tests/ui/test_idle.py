"""A tablet that lies on the wall and shows nothing new draws nothing: its battery has to last the day."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from kivy.base import EventLoop
from kivy.clock import Clock
from kivy.core.window import Window

from fieldassist.day import desk
from fieldassist.ui.screens.registry import SCREENS
from fieldassist.voice.microphone import Level
from tests.ui.conftest import Hands, begin_tablet
from tests.ui.recorded import Recorded


class Site(Recorded):
    """A microphone on a site that is this loud [dBFS]."""

    loudness = -20.0

    def level(self) -> Level:
        return Level(self.loudness + 8.0, self.loudness, clipped=False, dead=False)


class Unheard:
    """A recognizer before which nobody says anything."""

    def knows(self, _word: str) -> bool:
        return True

    def listen(self, frames: Iterator[bytes], _phrases: Callable[[], Sequence[str] | None]) -> Iterator[Any]:
        for _block in frames:
            yield from ()


def louder(loudness: float) -> Callable[[], None]:
    """Makes the site this loud [dBFS]."""
    return lambda: setattr(Site.open, "loudness", loudness)


def draws(hands: Hands, seconds: float, change: Callable[[], None] = lambda: None) -> int:
    """How often the window is drawn in this time after the change, once what was on its way is on it."""
    hands.quiet()
    hands.frames(10)
    drawn: list[float] = []
    count = lambda *_: drawn.append(time.monotonic())  # noqa: E731
    Window.bind(on_draw=count)
    change()
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        EventLoop.idle()
        time.sleep(0.01)
    Window.unbind(on_draw=count)
    return len(drawn)


def rests(hands: Hands, seconds: float, change: Callable[[], None] = lambda: None) -> bool:
    """Whether nothing is drawn in this time. The minute on the strip may change in it, but not in the next one too."""
    return draws(hands, seconds, change) == 0 or draws(hands, seconds) == 0


def test_a_window_on_which_nothing_changes_is_not_drawn_again(tmp_path: Path) -> None:
    with begin_tablet(tmp_path, listen=True, recognizer=lambda _name: Unheard(), microphone=Site) as hands:
        hands.wait(lambda: not hands.tablet.deaf, "the ears")
        hands.wait(lambda: draws(hands, 0.3) == 0, "what was on its way")
        assert rests(hands, 2.5)
        assert rests(hands, 2.0, louder(-22.0)), "noise that is no voice"
        louder(-3.0)()
        hands.wait(lambda: hands.tablet._band._ear.steps > 0, "the ring")
        assert draws(hands, 3.0, louder(-40.0)) in (1, 2), "the ring empties, and perhaps the minute"


def test_without_a_microphone_no_screen_is_drawn_again(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    # The day's thread looks at its clocks every second: here so often that a short rest holds three looks.
    monkeypatch.setattr(desk, "_TICK_S", 0.1)
    hands.say("this is rosa", "start area shower wall", "understood", "understood")
    for screen in SCREENS:
        hands.go(screen)
        # What is worked out beside a screen arrives when it is done; what is drawn three times a second never rests so
        # long, and of what is done more seldom nothing stands in the line of Kivy's clock but what Kivy put there.
        hands.wait(lambda: draws(hands, 0.35) == 0, f"{screen} to rest")
        seldom = [event.get_callback() for event in Clock.get_events() if event.loop and event.timeout > 0.3]
        assert not [work for work in seldom if work is not None and not work.__module__.startswith("kivy")], screen
