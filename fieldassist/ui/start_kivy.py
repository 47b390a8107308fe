"""Kivy's own switches, which have to be set before it is first imported. Import this before anything of kivy."""

from __future__ import annotations

import logging
import os
import sys
from pathlib import Path

from fieldassist.places import shipped, tablet_data
from fieldassist.trade.message import Refused

os.environ.setdefault("KIVY_NO_ARGS", "1")
os.environ.setdefault("KIVY_NO_FILELOG", "1")
os.environ.setdefault("KIVY_NO_CONSOLELOG", "1")
os.environ.setdefault("KIVY_LOG_MODE", "MIXED")  # else it takes standard error, and what went wrong is not seen
if "KIVY_HOME" not in os.environ:
    home = tablet_data() / "kivy"
    home.mkdir(parents=True, exist_ok=True)
    os.environ["KIVY_HOME"] = str(home)

from kivy.config import Config

# What it has to say of clipboards and drivers it tries is nothing to the person at the wall.
logging.getLogger("kivy").addHandler(logging.NullHandler())
logging.getLogger("kivy").propagate = False
# A pen and a finger are one: no red dots of simulated second fingers; Escape does not leave the day.
Config.set("input", "mouse", "mouse,disable_multitouch")
Config.set("kivy", "exit_on_escape", "0")
# Nothing here moves: to look for touches thirty times a second is enough, and half the work of Kivy's sixty.
if Config.get("graphics", "maxfps") == "60":  # unless somebody wants it otherwise
    Config.set("graphics", "maxfps", "30")
Config.set("kivy", "window_icon", str(shipped("assets") / "icon.png"))


class NoWindow(Refused):
    """There is no screen to open a window on; `told` says what to do."""


def has_screen() -> bool:
    """Whether a window would be seen. Without one SDL draws into memory, and nobody is told."""
    if sys.platform != "linux":
        return True
    named = any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER"))
    return named or Path("/dev/dri").exists()


def size_of_window(width: int, height: int) -> None:
    """The size of the window in dots; before it is there."""
    Config.set("graphics", "width", str(width))
    Config.set("graphics", "height", str(height))


def fill_screen() -> None:
    """Have the window cover the screen; before it is there."""
    Config.set("graphics", "fullscreen", "auto")
