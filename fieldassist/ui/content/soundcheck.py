"""Trying microphone and speech model beside the day: a phrase to say, and what was heard."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.kinds.reading import slot
from fieldassist.checklist.offers import Offer
from fieldassist.day.ear import interpret
from fieldassist.trade.message import Message, message
from fieldassist.voice.microphone import Level, Microphone
from fieldassist.voice.recognizer import Recognizer
from fieldassist.voice.sentences import sentences

PHRASE = "coverage ninety five percent"
_READING = Offer(
    ("coverage {value}",),
    "coverage",
    cmd.GiveReading(section="-", step="coverage"),
    slot("coverage", ("percent",), None, "as given"),
)
# Time to walk to the wall, turn and speak; ours.
SECONDS = 12.0
_CLOSING_S = 3.0


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of it. words: as they were heard; value: what they were taken for; microphone: the one that was open.

    loudest: the peak of it all in dBov, None where no sound came at all.
    """

    microphone: str
    words: str
    value: str
    loudest: float | None

    @property
    def told(self) -> Message:
        """What came of it, and what to do where it is not well."""
        if self.value:
            return message("person-tried-good", words=self.words, value=self.value, microphone=self.microphone)
        if self.words:
            return message("person-tried-otherwise", words=self.words)
        code = "person-tried-silent" if self.loudest is None else "person-tried-no-words"
        return message(code, microphone=self.microphone)


def try_microphone(
    recognizer: Recognizer,
    microphone: Microphone,
    progress: Callable[[int, int], None],
    show: Callable[[Level], None],
) -> Tried:
    """Listen until the phrase was heard, or for twelve seconds; no day knows of it.

    Parameters: microphone, not yet open; progress(done, total) ends it by raising; show, called with the level. Blocks.
    NoMicrophone when it cannot be opened.
    """
    loudest: float | None = None

    def frames() -> Iterator[bytes]:
        nonlocal loudest
        begun = time.monotonic()
        for block in microphone.frames():
            passed = time.monotonic() - begun
            if passed > SECONDS:
                return
            progress(round(1000 * passed), round(1000 * SECONDS))
            level = microphone.level()
            show(level)
            if not level.dead:
                loudest = max(level.peak_dbfs, level.peak_dbfs if loudest is None else loudest)
            yield block

    said = sentences([_READING], recognizer.knows)
    words = ""
    with microphone:
        # A microphone that was unplugged gives nothing at all and would be waited for without end.
        closing = threading.Timer(SECONDS + _CLOSING_S, microphone.close)
        closing.daemon = True
        closing.start()
        try:
            for heard in recognizer.listen(frames(), lambda: said):
                caught = interpret(heard, [_READING])
                words = caught.words or words
                if caught.command is not None:
                    return Tried(microphone.name, caught.words, caught.value, loudest)
        finally:
            closing.cancel()
    return Tried(microphone.name, words, "", loudest)
