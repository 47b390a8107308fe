"""The speech model, for the jobs that hear."""

from __future__ import annotations

from fieldassist.places import shipped
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import Recognizer, VoskRecognizer


def recognizer(model: str | None) -> Recognizer:
    """The model of this name or path, loaded; the one in use without a name. Errors: `ModelProblem`."""
    return VoskRecognizer(choose_model(shipped("models"), model))
