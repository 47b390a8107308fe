"""`fieldassist models`: the speech models at hand, and whether the one in use hears."""

from __future__ import annotations

import time
from fractions import Fraction

from fieldassist.cli.parser import FAILED, OK, Job, model_option
from fieldassist.cli.terminal import Terminal
from fieldassist.places import shipped
from fieldassist.trade.message import Message, message
from fieldassist.voice.models import KNOWN, choose_model, list_models, try_out
from fieldassist.voice.recognizer import VoskRecognizer


def _models(terminal: Terminal, model: str | None) -> int:
    folder = shipped("models")
    used = choose_model(folder, model)
    for path in list_models(folder):
        terminal.tell(f"{'*' if path == used else ' '} {path.name}")
    recognizer = VoskRecognizer(used)
    begun = time.monotonic()
    trial = try_out(recognizer, shipped("assets") / "demo" / "audio")
    spent = time.monotonic() - begun
    terminal.tell(message("cli-model-in-use", model=str(used)))
    if not trial.right:
        terminal.tell(_wrongly(trial.heard))
        return FAILED
    took = Fraction(round(100 * spent / trial.seconds), 100)
    terminal.tell(message("cli-model-hears", known=KNOWN, seconds=took))
    return OK


def _wrongly(heard: str) -> Message:
    if not heard:
        return message("cli-model-hears-nothing", known=KNOWN)
    return message("cli-model-hears-wrongly", heard=heard, known=KNOWN)


job = Job("models", _models, model_option())
