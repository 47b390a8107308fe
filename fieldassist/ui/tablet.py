"""What screens use of the tablet: the day as it stands, ways to send commands, and what is chosen and kept.

The program (`ui.app`) is one; screens know only this, so that no import runs in a circle.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any, Protocol

from fieldassist.checklist.commands import Command
from fieldassist.checklist.moment import PRESSED, Source
from fieldassist.day.clock import Clock
from fieldassist.day.desk import Desk, Report, View
from fieldassist.day.session import Answer, Day
from fieldassist.language import Words
from fieldassist.record.keys import Keyring
from fieldassist.trade.quantities import Units
from fieldassist.ui.content.camera import Camera
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.memory import Memory
from fieldassist.ui.content.preferences import Preferences
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.letters import EntryField
from fieldassist.ui.widgets.look import Look
from fieldassist.voice.microphone import Microphone
from fieldassist.voice.recognizer import Recognizer

from kivy.uix.widget import Widget  # isort: skip


class Tablet(Protocol):
    """The tablet, as a screen sees it. Everything is to be used in the screen's own thread.

    view: the day as it stands, None while none is open; reports: what happened, the last one at the end; problem: why
    no day could be opened; desk: the day's thread; job: the long work under way; memory: what was entered and not sent;
    preferences: what is chosen; data: the tablet's own folder; listens: whether it was started
    with a microphone; deaf: why nothing is heard, in words; typing: a key that is pressed is a letter, not the key to
    be heard; open_camera: how the camera is opened, None where there is none.
    """

    view: View | None
    reports: list[Report]
    problem: str
    desk: Desk | None
    job: LongWork | None
    memory: Memory
    preferences: Preferences
    data: Path
    clock: Clock
    listens: bool
    deaf: str
    typing: bool
    microphone_kind: Callable[..., Microphone]
    open_camera: Callable[[], Camera] | None

    @property
    def words(self) -> Words:
        """In which language and units an eye is told what the day says."""

    @property
    def keys(self) -> Keyring:
        """Who can sign the day that is open: those for practice are kept apart."""

    @property
    def units(self) -> Units:
        """The system of units in which figures are shown."""

    @property
    def look(self) -> Look:
        """Theme and text size, as chosen."""

    @property
    def upright(self) -> bool:
        """Whether the tablet stands on its short side."""

    @property
    def at(self) -> str:
        """Which screen is seen."""

    @property
    def at_what(self) -> Mapping[str, Any]:
        """Of what the screen is to tell, as `go` was told."""

    @property
    def locked(self) -> bool:
        """Whether the lock is closed: the work goes on, signatures, settings and corrections wait for a PIN."""

    # --- the day --------------------------------------------------------------------------------------------------

    def send(self, command: Command, source: Source = PRESSED) -> None:
        """Have a command carried out; what came of it is told by a report and the next view.

        source: how the value in it was come by.
        """

    def ask(self, work: Callable[[Day], Answer | None], then: Callable[[Answer | None], None] | None = None) -> None:
        """Have something done with the day in its own thread; then is called in the screen's thread."""

    def open_day(self, path: Path, make: Callable[[], Day] | None = None) -> None:
        """Work on the day at `path`; make: how a new one is begun."""

    def leave_day(self) -> None:
        """Close the day and offer others."""

    def dictate(self, point: int | None = None) -> None:
        """Take what is said next for a note, or for the answer to the open point of this number."""

    # --- ears and keys --------------------------------------------------------------------------------------------

    def open_ears(self) -> None:
        """Load the speech model, beside the screen, and listen."""

    def recognizer(self) -> Recognizer:
        """The speech recognizer of the model in use, loaded if it is not yet: that takes seconds. ModelProblem."""

    def takes_keys(self, field: EntryField | None) -> None:
        """Told by a field that it has the keyboard, and by None that it has not."""

    # --- what is seen and chosen ----------------------------------------------------------------------------------

    def go(self, name: str, **what: Any) -> None:
        """Show another screen; what: of what it is to tell, such as piece=13."""

    def back(self) -> None:
        """Show the screen before this one."""

    def sheet(self, inside: Widget) -> None:
        """Lay something over the page until `close_sheet`; what lies under it is not pressed."""

    def close_sheet(self) -> None:
        """Take it away again."""

    def refuse(self, why: str, cure: Key | None = None) -> None:
        """Say over the action row why something was not done; cure: a key that helps."""

    def ask_pin(
        self, question: str, then: Callable[[str, Callable[[str | None], None]], None], *, new: bool = False
    ) -> None:
        """Ask for a PIN in place. new: one is chosen, and the places of its digits are shown. then: called with the
        PIN, and with what is to be told of it: None closes the sheet, words are shown and it is asked again."""

    def ask_words(self, question: str, text: str, then: Callable[[str], None]) -> None:
        """Ask for words; then: called with them once the sheet is closed."""

    def ask_number(self, asked: NumberQuestion, then: Callable[[Fraction, str], None]) -> None:
        """Ask for a number on the one pad; then: called with value and unit once the sheet is closed."""

    def refresh(self) -> None:
        """Show what has changed."""

    def choose(self, **changes: Any) -> None:
        """Change preferences and keep them."""

    def run_job(self, work: Callable[[LongWork], None], done: Callable[[Exception | None], None], what: str) -> None:
        """Run long work beside the screen, one at a time, with its progress in the strip."""
