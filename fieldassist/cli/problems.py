"""What goes wrong in a way that a person can do something about: told in words, and never as a traceback."""

from __future__ import annotations

import sys

from fieldassist.trade.message import Figure, Refused

# By module, so that what no job has loaded is not loaded to be looked for.
_WORDED = {
    "fieldassist.checklist.loader": ("WrongFile",),
    "fieldassist.report.enclosures": ("CannotWrite",),
    "fieldassist.voice.audio": ("AudioProblem",),
    "fieldassist.voice.microphone": ("NoMicrophone",),
    "fieldassist.voice.recognizer": ("ModelProblem",),
}


def told(problem: Exception) -> Figure:
    """What an error tells a person: its message, or its text where it has none."""
    return problem.told if isinstance(problem, Refused) else str(problem)


def is_for_people(problem: Exception) -> bool:
    """Whether a person can do something about it; everything else is a fault of the program's own."""
    if isinstance(problem, Refused):
        return True
    loaded = ((sys.modules.get(module), names) for module, names in _WORDED.items())
    return isinstance(problem, tuple(getattr(m, name) for m, names in loaded if m is not None for name in names))
