"""The tablet's program: one window, a strip on top that always tells where the day stands, screens under it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)

from kivy.app import App  # isort: skip
from kivy.clock import Clock  # isort: skip
from kivy.core.window import Keyboard, Window  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.gridlayout import GridLayout  # isort: skip

from fieldassist.checklist.commands import Command
from fieldassist.day.clock import Clock as DayClock
from fieldassist.day.clock import SystemClock
from fieldassist.day.desk import Desk, Report, View
from fieldassist.day.listening import Manner
from fieldassist.day.session import Answer, CannotOpen, Day
from fieldassist.places import shipped, tablet_data
from fieldassist.record.keys import Keyring
from fieldassist.record.log import LogProblem
from fieldassist.ui import choices as kept_choices
from fieldassist.ui.choices import Choices
from fieldassist.ui.jobs import Job
from fieldassist.ui.parts import Look, Target, gap, paint, target
from fieldassist.ui.screen import Screen
from fieldassist.ui.strip import Strip
from fieldassist.ui.theme import THEMES
from fieldassist.voice.earcons import find_chime
from fieldassist.voice.microphone import Microphone
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import Recognizer, VoskRecognizer
from fieldassist.voice.speaker import Silent, Speaker, find_speaker

REPORTS_KEPT = 50


class Tablet(App):
    """The program.

    Parameters: day, the log to work on, None to choose one; data, the tablet's own folder (people, choices, days);
    listen: whether to open a microphone; speaker, recognizer and
    microphone: the machine's own, unless a test brings others; clock: of a day.
    What screens use: `view`, `reports`, `look`, `send`, `desk`, `keys`, `choices`, `go`, `run_job`.
    """

    title = "fieldassist"

    def __init__(
        self,
        day: Path | None = None,
        *,
        data: Path | None = None,
        listen: bool = True,
        speaker: Speaker | None = None,
        recognizer: Callable[[str | None], Recognizer] | None = None,
        clock: DayClock | None = None,
        microphone: Callable[..., Microphone] = Microphone,
    ) -> None:
        super().__init__()
        self.data = data or tablet_data()
        self.keys = Keyring(self.data / "people")
        self.choices = kept_choices.load(self.data / "choices.json")
        self.view: View | None = None
        self.reports: list[Report] = []
        self.problem = ""
        self.memory: dict[str, Any] = {}  # what was entered on a screen and not sent yet
        self.listens = listen
        self.typing = False  # a field takes the keys now
        self.deaf = ""  # why nothing is heard, in words
        self.model = ""
        self.desk: Desk | None = None
        self.job: Job | None = None
        self.clock = clock or SystemClock()
        self._microphone = microphone
        self._path = day
        self._speaker = speaker
        self._load = recognizer or (lambda name: VoskRecognizer(choose_model(shipped("models"), name)))
        self._recognizer: Recognizer | None = None
        self._at = "today"
        self._screen: Screen | None = None
        self._frame = BoxLayout(orientation="vertical")

    # --- Kivy's own calls -----------------------------------------------------------------------------------------

    def build(self) -> BoxLayout:
        """The window's content."""
        Window.bind(on_key_down=self._key_down, on_key_up=self._key_up, on_request_close=self._leave)
        Window.bind(size=lambda *_: Clock.schedule_once(lambda _dt: self.redraw(), 0))
        Clock.schedule_interval(lambda _dt: self._strip.meter(), 1 / 8)
        self.redraw()
        if self._path is not None:
            self.open_day(self._path)
        return self._frame

    def on_stop(self) -> None:
        """The window was closed: everything acknowledged is on disk already."""
        self.close_day()

    def _leave(self, *_: Any, **__: Any) -> bool:
        return False

    # --- the day --------------------------------------------------------------------------------------------------

    def open_day(self, path: Path, make: Callable[[], Day] | None = None) -> None:
        """Work on the day at `path`; make: how a new one is begun."""
        self.close_day()
        self.problem = ""
        self.view = None
        self._path = path
        speaker: Speaker = self._speaker or (find_speaker() if self.choices.aloud else Silent())
        self.desk = Desk(
            make or (lambda: Day.resume(path, self.clock)),
            lambda view: self._later(lambda: self._shown(view)),
            lambda report: self._later(lambda: self._told(report)),
            speaker=speaker,
            chime=find_chime if self.choices.aloud and self._speaker is None else None,
            failed=lambda problem: self._later(lambda: self._failed(problem)),
            microphone=self._microphone,
        )
        self.desk.start()
        if self.listens:
            self.open_ears()
        self.refresh()

    def close_day(self) -> None:
        """Leave the day; it can be opened again where it was left."""
        if self.desk is not None:
            self.desk.close()
            self.desk = None

    def open_ears(self) -> None:
        """Load the speech model, beside the screen, and listen; the day goes on by touch meanwhile and without it."""
        self.deaf = "the speech model is being loaded"

        def load(_job: Job) -> None:
            if self._recognizer is None:
                self._recognizer = self._load(self.choices.model)

        def loaded(problem: Exception | None) -> None:
            if problem is not None or self._recognizer is None or self.desk is None:
                self.deaf = str(problem or "nothing listens")
            else:
                self.deaf = ""
                self.desk.listen(
                    self._recognizer,
                    self.choices.manner,
                    attention=self.choices.attention,
                    device=self.choices.microphone,
                )
            self.refresh()

        Job(load, self._later, done=loaded).start()

    def send(self, command: Command) -> None:
        """Have a command carried out; what came of it is told by a report and the next view."""
        if self.desk is not None:
            self.desk.do(command)

    def ask(self, work: Callable[[Day], Answer | None], then: Callable[[Answer | None], None] | None = None) -> None:
        """Have something done with the day in its own thread; then is called in the screen's thread."""
        if self.desk is not None:
            self.desk.ask(work, (lambda answer: self._later(lambda: then(answer))) if then is not None else None)

    def run_job(self, work: Callable[[Job], None], done: Callable[[Exception | None], None], what: str) -> None:
        """Run long work beside the screen, one at a time, with its progress in the strip."""
        if self.job is not None and self.job.running:
            self._told(Report(f"{self.job.what} is not done yet. Wait for it or stop it.", problem=True))
            return

        def ended(problem: Exception | None) -> None:
            self.job = None
            done(problem)
            self.refresh()

        self.job = Job(work, self._later, done=ended, what=what, told=self.refresh)
        self.job.start()
        self.refresh()

    # --- what arrives from other threads --------------------------------------------------------------------------

    @staticmethod
    def _later(work: Callable[[], None]) -> None:
        """In the screen's own thread, soon."""
        Clock.schedule_once(lambda _dt: work(), 0)

    def _shown(self, view: View) -> None:
        self.view = view
        self.refresh()

    def _told(self, report: Report) -> None:
        self.reports = [*self.reports, report][-REPORTS_KEPT:]
        if report.problem and self.desk is not None and self.desk.level() is None and self.listens and not self.deaf:
            self.deaf = report.said
        self.refresh()

    def _failed(self, problem: Exception) -> None:
        self.desk = None
        self.problem = str(problem) if isinstance(problem, LogProblem | CannotOpen) else repr(problem)
        self.go("today")

    # --- what is seen ---------------------------------------------------------------------------------------------

    @property
    def look(self) -> Look:
        """Theme and text size, as chosen."""
        return Look(THEMES[self.choices.theme], self.choices.text)

    @property
    def us(self) -> bool:
        """Whether figures are shown in US units."""
        plan = self.view.state.plan if self.view is not None else None
        return (self.choices.units or (plan.units if plan is not None else "metric")) == "us"

    @property
    def upright(self) -> bool:
        """Whether the tablet stands on its short side."""
        return bool(Window.height > Window.width)

    @property
    def at(self) -> str:
        """Which screen is seen."""
        return self._at

    def choose(self, **changes: Any) -> None:
        """Change choices and keep them."""
        self.choices = Choices.model_validate({**self.choices.model_dump(), **changes})
        try:
            kept_choices.save(self.data / "choices.json", self.choices)
        except OSError as error:
            self._told(Report(f"The choice holds, but could not be kept ({error.strerror}).", problem=True))
        if {"manner", "attention", "microphone", "model"} & changes.keys() and self.desk is not None and self.listens:
            if "model" in changes:
                self._recognizer = None
            self.open_ears()
        self.redraw()

    def go(self, name: str) -> None:
        """Show another screen."""
        self._at = name
        self.redraw()

    def redraw(self) -> None:
        """Make everything anew: another screen, look or size of window."""
        from fieldassist.ui.screens import SCREENS

        look = self.look
        self._frame.clear_widgets()
        paint(self._frame, look.theme.ground.ground)
        self._strip = Strip(self)
        self._frame.add_widget(self._strip)
        self._screen = SCREENS[self._at].make(self)
        self._frame.add_widget(self._screen)
        ways = GridLayout(cols=len(SCREENS), size_hint_y=None, height=target(), spacing=gap() / 2)
        for name, entry in SCREENS.items():
            ways.add_widget(
                Target(
                    look,
                    entry.title,
                    partial(self.go, name),
                    size="small" if self.upright or look.text > 1.2 else "plain",
                    role="first" if name == self._at else "button",
                    chosen=name == self._at,
                )
            )
        self._frame.add_widget(ways)
        self.refresh()

    def refresh(self) -> None:
        """Show what has changed."""
        self._strip.refresh()
        if self._screen is not None:
            self._screen.refresh()

    # --- the key to be heard --------------------------------------------------------------------------------------

    def _key_down(self, _window: Any, key: int, _scan: int, _text: str | None, _modifiers: Any) -> bool:
        if not self._is_key(key) or self.desk is None or self.choices.manner is not Manner.HELD:
            return False
        if not self.desk.held:
            self.desk.hold()
            self.refresh()
        return True

    def _key_up(self, _window: Any, key: int, *_: Any) -> bool:
        if not self._is_key(key) or self.desk is None or self.choices.manner is not Manner.HELD:
            return False
        self.desk.release()
        self.refresh()
        return True

    def _is_key(self, key: int) -> bool:
        # While somebody types a name or a note, the key is a letter.
        return key == Keyboard.keycodes.get(self.choices.key) and not self.typing
