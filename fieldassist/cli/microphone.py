"""`fieldassist microphone`: the inputs, and the level of one."""

from __future__ import annotations

import contextlib
import sys
import time

from fieldassist.cli.parser import OK, Argument, Job, NumberOption, Option
from fieldassist.cli.terminal import Terminal
from fieldassist.printable import printable
from fieldassist.trade.message import message
from fieldassist.voice.microphone import Microphone, choose_input, list_inputs

_EVERY_S = 0.1


def _microphone(terminal: Terminal, device: str | None, only_list: bool, seconds: float | None) -> int:
    inputs = list_inputs()
    for one in inputs:
        mark = "*" if one.default else " "
        about = message("cli-input", name=one.name, rate=one.rate, channels=one.channels)
        terminal.tell(f"{mark} {one.index:3}  {terminal.words(about)}")
    choose_input(inputs, device)
    if only_list:
        return OK
    dead, loud = terminal.say("level-dead"), terminal.say("level-loud")
    begun = time.monotonic()
    with Microphone(device, on_warning=terminal.warn) as microphone, contextlib.suppress(KeyboardInterrupt):
        while seconds is None or time.monotonic() - begun < seconds:
            level = microphone.level()
            state = dead if level.dead else loud if level.clipped else f"{level.peak_dbfs:5.1f} dBov"
            sys.stdout.write(f"\r{printable(f'{level.bar(48)} {state:12}')}")
            sys.stdout.flush()
            time.sleep(_EVERY_S)
    sys.stdout.write("\n")
    return OK


job = Job(
    "microphone",
    _microphone,
    Argument("device", metavar="DEVICE", required=False),
    Option("--list", "only_list", is_flag=True),
    Option("--seconds", metavar="S", type=NumberOption(float)),
)
