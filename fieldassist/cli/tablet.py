"""`fieldassist tablet`: the screens."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from fieldassist.cli.parser import FILE, FOLDER, MISUSED, OK, Argument, Job, Misuse, Option
from fieldassist.cli.terminal import Terminal

_LEAST = 640  # dots


class _Size(click.ParamType[tuple[int, int]]):
    name = "size"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> tuple[int, int]:
        if isinstance(value, tuple):
            return value
        width, cross, height = str(value).partition("x")
        if not (cross and width.isdecimal() and height.isdecimal() and min(int(width), int(height)) >= _LEAST):
            raise Misuse("no-size", ctx, value=str(value), least=_LEAST)
        return int(width), int(height)


def _tablet(
    terminal: Terminal, day: Path | None, no_microphone: bool, data: Path | None, window: tuple[int, int], full: bool
) -> int:
    # Kivy opens its window where it is imported, so its size is said before.
    from fieldassist.ui import start_kivy

    start_kivy.fill_screen() if full else start_kivy.size_of_window(*window)
    try:
        from fieldassist.ui.app import open_window

        open_window(day, data=data, listen=not no_microphone)
    except start_kivy.NoWindow as problem:
        terminal.warn(problem.told)
        return MISUSED
    return OK


job = Job(
    "tablet",
    _tablet,
    Argument("day", metavar="DAY", type=FILE, required=False),
    Option("--no-microphone", is_flag=True),
    Option("--data", metavar="DIR", type=FOLDER),
    Option("--window", metavar="WxH", type=_Size(), default="1280x800"),
    Option("--full", is_flag=True),
    apart=(("window", "full"),),
)
