"""What goes wrong in a way that a person can do something about: told in words, and never as a traceback."""

from __future__ import annotations

import sys

from fieldassist.trade.message import Message, Refused

# By module, so that what no job has loaded is not loaded to be looked for.
_WORDED = {
    "fieldassist.day.ear": ("NoAttention",),
    "fieldassist.day.session": ("CannotOpen",),
    "fieldassist.record.keys": ("KeyProblem",),
    "fieldassist.record.log": ("LogProblem",),
    "fieldassist.voice.audio": ("AudioProblem",),
    "fieldassist.voice.microphone": ("NoMicrophone",),
    "fieldassist.voice.recognizer": ("ModelProblem",),
}


def told_to_people(problem: Exception) -> Message | str | None:
    """What a person is told of a problem; None for a fault of the program's own."""
    if isinstance(problem, Refused):
        return problem.told
    for module, names in _WORDED.items():
        loaded = sys.modules.get(module)
        if loaded is not None and isinstance(problem, tuple(getattr(loaded, name) for name in names)):
            return str(problem)
    return None
