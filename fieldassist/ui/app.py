"""The tablet's program: one window, the band on top with person, clocks and ear, the places beside one page."""

from __future__ import annotations

import gc
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

from fieldassist.trade.quantities import Units
from fieldassist.ui.start_kivy import NoWindow, has_screen  # before kivy

from kivy.app import App  # isort: skip
from kivy.clock import Clock  # isort: skip
from kivy.core.window import Keyboard, Window  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.floatlayout import FloatLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

from fieldassist.checklist.commands import Command
from fieldassist.checklist.moment import PRESSED, Source
from fieldassist.day.clock import Clock as DayClock
from fieldassist.day.clock import SystemClock
from fieldassist.day.desk import Desk, Report, View
from fieldassist.day.ear import Fate
from fieldassist.day.listening import Manner
from fieldassist.day.session import Answer, Day
from fieldassist.day.speaking import Speaking, SpeakingLevel
from fieldassist.files import UnfitFile
from fieldassist.language import Words
from fieldassist.places import shipped, tablet_data
from fieldassist.record.keys import Keyring, keyring_for
from fieldassist.record.pins import FEWEST_DIGITS
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import Refused, message
from fieldassist.ui.aids import Aids
from fieldassist.ui.content import preferences
from fieldassist.ui.content.alarms import Alarm
from fieldassist.ui.content.at_work import page_at_work
from fieldassist.ui.content.camera import Camera, find_camera
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.memory import Memory
from fieldassist.ui.content.preferences import Preferences
from fieldassist.ui.content.theme import THEMES
from fieldassist.ui.screens.band import HIGH, Band
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.screens.places import HIGH as PLACES_HIGH
from fieldassist.ui.screens.places import WIDE as PLACES_WIDE
from fieldassist.ui.screens.places import Places
from fieldassist.ui.screens.registry import SCREENS
from fieldassist.ui.screens.unlocking import ask_to_open
from fieldassist.ui.screens.why import tell_why
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Divider, lay_ground
from fieldassist.ui.widgets.digits import PinSheet
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.letters import EntryField, WordsSheet
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.number import NumberPad, NumberSheet
from fieldassist.ui.widgets.sheets import NotWorkFrame, Overlay, RefusalSheet
from fieldassist.voice.earcons import find_chime
from fieldassist.voice.microphone import Microphone
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import Recognizer, VoskRecognizer
from fieldassist.voice.speaker import Silent, Speaker, find_speaker
from fieldassist.voice.transcriber import TranscriberApart, packaged_model

REPORTS_KEPT = 50
FIRST = "day"
_BEFORE_KEPT = 20


class TabletApp(App):
    """The program: a `ui.tablet.Tablet`, to which screens are handed.

    Parameters: day, the log to work on, None to choose one; data, the tablet's own folder (people, preferences, days);
    listen: whether to open a microphone; speaker, recognizer and microphone: the machine's own, unless a test brings
    others; clock: of a day.
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
        screens: Mapping[str, Callable[[Tablet], Screen]] = SCREENS,
    ) -> None:
        super().__init__()
        self.data = data or tablet_data()
        self.preferences = preferences.load(self.data)
        self.view: View | None = None
        self._newest: View | None = None  # it may be on its way here
        self.reports: list[Report] = []
        self.problem = ""
        self.memory = Memory()
        self.listens = listen
        self.typing = False  # a key that is pressed is a letter, or asked for, and not the key to be heard
        self.deaf = ""  # why nothing is heard, in words
        self.model = ""
        self.desk: Desk | None = None
        self.job: LongWork | None = None
        self.clock: DayClock = clock or SystemClock()
        self.microphone_kind = microphone
        self.open_camera: Callable[[], Camera] | None = find_camera()
        self._screens = screens
        self._path = day
        self._speaker = speaker
        self._load = recognizer or (lambda name: VoskRecognizer(choose_model(shipped("models"), name)))
        self._recognizer: Recognizer | None = None
        self._loading = threading.Lock()
        self._at = self._page = FIRST
        self.at_what: Mapping[str, Any] = {}
        self._before: list[tuple[str, Mapping[str, Any]]] = []
        self._screen: Screen | None = None
        self._frame = FloatLayout()
        self._alarm = Alarm()
        self._overlay: Overlay | None = None
        self._refusal: Overlay | None = None
        turned = Clock.create_trigger(lambda _dt: self.redraw(), 0)
        self._kind = "work"
        self._aids = Aids(
            self,
            self._frame,
            escape=self._escape,
            foot=self._page_foot,
            page=self._page_span,
            told=self._explained,
            ask_to_open=lambda opened: ask_to_open(self, opened),
        )
        self._bound = {
            "on_key_down": self._key_down,
            "on_key_up": self._key_up,
            "on_touch_down": self._aids.touch_down,
            "on_touch_up": self._aids.touch_up,
            "size": lambda *_: turned(),
        }

    # --- Kivy's own calls -----------------------------------------------------------------------------------------

    def build(self) -> Widget:
        """The window's content."""
        Window.bind(**self._bound)
        if self.listens:
            self._metering = Clock.schedule_interval(lambda _dt: self._band.look_at_level(), 1 / 2)
        self.redraw()
        last = self.preferences.day
        if self._path is not None:
            self.open_day(self._path)
        elif last is not None and last.exists():
            self.open_day(last)
        return self._frame

    def on_stop(self) -> None:
        """The window was closed: everything acknowledged is on disk already."""
        Window.unbind(**self._bound)
        if self.listens:
            self._metering.cancel()
        self.close_day()

    # --- the day --------------------------------------------------------------------------------------------------

    def open_day(self, path: Path, make: Callable[[], Day] | None = None) -> None:
        """Work on the day at `path`; make: how a new one is begun."""
        self.close_day()
        self.problem = ""
        self._path = path
        self.desk = Desk(
            make or (lambda: Day.resume(path, self.clock, book=TabletBook(self.data))),
            self._arrived,
            lambda report: self._later(lambda: self._told(report)),
            speaker=self._voice(),
            chime=find_chime if self.preferences.aloud and self._speaker is None else None,
            failed=lambda problem: self._later(lambda: self._failed(problem)),
            microphone=self.microphone_kind,
            speaking=Speaking(self.preferences.speak, lambda level: self._later(lambda: self._speaks_as_told(level))),
            sounds_dropped=self.preferences.sounds_dropped,
            transcriber=self._transcriber(),
        )
        self.desk.start()
        self.choose(day=path.absolute())
        if self.listens:
            self.open_ears()

    def _speaks_as_told(self, level: SpeakingLevel) -> None:
        # Said to the day that is open; where it was left meanwhile the choice holds all the same.
        if level != self.preferences.speak:
            self.choose(speak=level)

    def _voice(self) -> Speaker:
        return self._speaker or (find_speaker() if self.preferences.aloud else Silent())

    def close_day(self) -> None:
        """Let go of the day; it can be opened again where it was left."""
        if self.desk is not None:
            self.desk.close()
        self.desk = self.view = self._newest = None
        self._alarm = Alarm()
        self.reports.clear()

    def leave_day(self) -> None:
        """Close the day and offer others."""
        self.close_day()
        self.choose(day=None)
        self.go(FIRST)

    def open_ears(self) -> None:
        """Load the speech model, beside the screen, and listen; the day goes on by touch meanwhile and without it."""
        self.deaf = self.words(message("frame-model-loads"))

        def loaded(problem: Exception | None) -> None:
            if problem is not None:
                self._deafened(problem)
            elif self.desk is not None:
                self.desk.listen(
                    self.recognizer(),
                    self.preferences.manner,
                    attention=self.preferences.attention,
                    device=self.preferences.microphone,
                    opened=lambda _name: self._later(lambda: self._hears(desk)),
                    failed=lambda why: self._later(lambda: self._deafened(why)),
                )

        desk = self.desk

        def load(_job: LongWork) -> None:
            self.recognizer()

        LongWork(load, self._later, done=loaded).start()
        self.refresh()

    def recognizer(self) -> Recognizer:
        """The speech recognizer of the model in use, loaded if it is not yet: that takes seconds. ModelProblem."""
        with self._loading:
            if self._recognizer is None:
                self._recognizer = self._load(self.preferences.model)
            return self._recognizer

    def _hears(self, desk: Desk | None) -> None:
        if desk is self.desk:
            self.deaf = ""
            self.refresh()

    def _deafened(self, problem: Exception) -> None:
        self.deaf = self.words.of(problem)
        by_touch = self.words(message("frame-by-touch"))
        self._told(Report(f"{self.deaf} {by_touch}", problem=True, ears=True))

    def send(self, command: Command, source: Source = PRESSED) -> None:
        """Have a command carried out; what came of it is told by a report and the next view."""
        if self._aids.kept_back(command, lambda: self.send(command, source)):
            return
        if self.desk is not None:
            self.desk.do(command, source)

    def ask(self, work: Callable[[Day], Answer | None], then: Callable[[Answer | None], None] | None = None) -> None:
        """Have something done with the day in its own thread; then is called in the screen's thread."""
        if self.desk is not None:
            self.desk.ask(work, (lambda answer: self._later(lambda: then(answer))) if then is not None else None)

    def takes_keys(self, field: EntryField | None) -> None:
        """Told by a field that it has the keyboard, and by None that it has not: a key is a letter then."""
        self.typing = field is not None

    def dictate(self, point: int | None = None) -> None:
        """Take what is said next for a note, or for the answer to the open point of this number."""
        if self.desk is not None:
            self.desk.dictate(point)

    def run_job(self, work: Callable[[LongWork], None], done: Callable[[Exception | None], None], what: str) -> None:
        """Run long work beside the screen, one at a time, with its progress in the strip."""
        if self.job is not None and self.job.running:
            self._told(Report(self.words(message("frame-job-runs", what=self.job.what)), problem=True))
            return

        def ended(problem: Exception | None) -> None:
            self.job = None
            done(problem)
            self.refresh()

        self.job = LongWork(work, self._later, done=ended, what=what, told=self.refresh)
        self.job.start()
        self.refresh()

    # --- what arrives from other threads --------------------------------------------------------------------------

    @staticmethod
    def _later(work: Callable[[], None]) -> None:
        """In the screen's own thread, soon."""
        Clock.schedule_once(lambda _dt: work(), 0)

    def _arrived(self, view: View) -> None:
        """Called in the day's thread."""
        self._newest = view
        self._later(lambda: self._shown(view))

    def _shown(self, view: View) -> None:
        # It was on its way when the day was left, or a newer one is: nobody would see it.
        if self.desk is None or view is not self._newest:
            return
        before, self.view = self.view, view
        area = view.state.area
        moved = before is None or before.state.active != view.state.active
        if moved and self._at == FIRST and area is not None and area.progress.phase != "finished":
            # A day that was interrupted goes on at its step, and an area that is started by voice is looked at there:
            # the hands are full.
            self.go("work")
        self.refresh()
        loud = self._alarm.due(self._band.row, time.monotonic())
        if loud is not None:
            self.desk.alarm(loud)

    def _told(self, report: Report) -> None:
        self.reports = [*self.reports, report][-REPORTS_KEPT:]
        # A sheet that asks for something, such as a PIN, tells by itself why that was not taken.
        if report.ears:
            self._aids.note(report.said)
        elif (report.fate is Fate.REFUSED and self._overlay is None) or report.problem:
            told = report.said or report.why
            self.refuse(told, None if report.problem else self._why_key(told))
        elif report.fate is Fate.TAKEN:
            self._end_refusal()
        self.refresh()

    def _failed(self, problem: Exception) -> None:
        self.desk = self.view = None
        told = isinstance(problem, Refused | UnfitFile)
        self.problem = self.words.of(problem) if told else repr(problem)
        self.go(FIRST)

    # --- what is seen ---------------------------------------------------------------------------------------------

    @property
    def look(self) -> Look:
        """Theme, size of text and hand, as chosen."""
        return Look(THEMES[self.preferences.theme], self.preferences.text, self.preferences.hand == "left")

    @property
    def keys(self) -> Keyring:
        """Who can sign the day that is open: those for practice are kept apart."""
        return keyring_for(self.data, self.view.state.kind if self.view is not None else "work")

    @property
    def units(self) -> Units:
        """The system of units in which figures are shown: as chosen, or the plan's."""
        plan = self.view.state.plan if self.view is not None else None
        return self.preferences.units or (plan.units if plan is not None else "metric")

    @property
    def words(self) -> Words:
        """In which language and units an eye is told what the day says."""
        return (self.view.words if self.view is not None else Words()).in_units(self.units)

    @property
    def upright(self) -> bool:
        """Whether the tablet stands on its short side."""
        return bool(Window.height > Window.width)

    @property
    def at(self) -> str:
        """Which screen is seen."""
        return self._at

    def choose(self, **changes: Any) -> None:
        """Change preferences and keep them."""
        self._keep(**changes)
        if "model" in changes:
            with self._loading:
                self._recognizer = None
        if {"manner", "attention", "microphone", "model"} & changes.keys() and self.desk is not None and self.listens:
            self.open_ears()
        if "aloud" in changes and self.desk is not None:
            self.desk.speak_with(self._voice())
        if "speak" in changes and self.desk is not None:
            self.desk.speaking.level = self.preferences.speak
        if "sounds_dropped" in changes and self.desk is not None:
            self.desk.sounds_dropped = self.preferences.sounds_dropped
        if "transcribes" in changes and self.desk is not None:
            self.desk.transcriber = self._transcriber()
        self.redraw()

    def _transcriber(self) -> Callable[[], TranscriberApart] | None:
        return (lambda: TranscriberApart(packaged_model())) if self.preferences.transcribes else None

    def _keep(self, **changes: Any) -> None:
        self.preferences = Preferences.model_validate({**self.preferences.model_dump(), **changes})
        try:
            preferences.save(self.data, self.preferences)
        except OSError as error:
            why = error.strerror or type(error).__name__
            self._told(Report(self.words(message("frame-choice-not-kept", why=why)), problem=True))

    def go(self, name: str, **what: Any) -> None:
        """Show another screen; what: of what it is to tell, such as piece=13."""
        if self._aids.kept_back(name, lambda: self.go(name, **what)):
            return
        here = (self._at, self.at_what)
        if here != (name, what):
            self._before = [*self._before, here][-_BEFORE_KEPT:]
        self._at, self.at_what = name, what
        self.close_sheet()
        self._end_refusal()
        self.redraw()

    def back(self) -> None:
        """Show the screen before this one."""
        self._at, self.at_what = self._before.pop() if self._before else (FIRST, {})
        self.close_sheet()
        self._end_refusal()
        self.redraw()

    def redraw(self) -> None:
        """Make everything anew: another screen, look or size of window."""
        look = self.look
        self.takes_keys(None)
        self._frame.clear_widgets()
        lay_ground(look, self._frame, "ground")
        self._band = Band(self)
        self._page = self._page_now()
        self._screen = self._screens[self._page](self)
        self._screen.size_hint = (1, 1)
        places = Places(self, self._screen.place)
        whole = BoxLayout(orientation="vertical")
        whole.add_widget(self._band)
        if self.upright:
            for part in (self._screen, Divider(look), places):
                whole.add_widget(part)
        else:
            middle = BoxLayout()
            for part in (self._screen, places) if look.left_hand else (places, self._screen):
                middle.add_widget(part)
            whole.add_widget(middle)
        self._frame.add_widget(whole)
        kind = self.view.state.kind if self.view is not None else "work"
        if kind != "work":
            self._frame.add_widget(NotWorkFrame(look))
        for overlay in (self._refusal, self._overlay):
            if overlay is not None:
                self._frame.add_widget(overlay)
        self._kind = kind
        self._aids.explain()
        self.refresh()

    def _escape(self) -> None:
        if self._overlay is not None:
            self.close_sheet()
        elif self._refusal is not None:
            self._end_refusal()
        else:
            self.back()

    def _page_span(self) -> tuple[float, float]:
        """Where the page begins and how wide it is: beside the places, where the tablet lies."""
        beside = 0.0 if self.upright else self.look.dots(PLACES_WIDE)
        return 0.0 if self.look.left_hand else beside, self._frame.width - beside

    def _page_foot(self) -> float:
        """How far above the window's lower edge the page's keys end; negative while a clock's question fills it."""
        if self._band.row.expired is not None:
            return -1.0
        look, acts = self.look, self._screen.acts_high if self._screen is not None else 0.0
        below = look.dots(PLACES_HIGH) if self.upright else 0.0
        # A page without keys of its own below has those of a number there.
        return below + (acts + look.dots(20) if acts else look.dots(200))

    def _explained(self, screen: str) -> None:
        """A screen has told once what it is for. Nothing is drawn anew: a finger is on its way to a key."""
        self._keep(explained=(*self.preferences.explained, screen))

    @property
    def locked(self) -> bool:
        """Whether the lock is closed: the work goes on, signatures, settings and corrections wait for a PIN."""
        return self._aids.locked

    def _page_now(self) -> str:
        """The screen that is meant: Work is the step, the lift that is read, or the one that failed."""
        view = self.view
        if self._at == "work" and view is not None:
            return page_at_work(view.state, view.prompt, view.events)
        return self._at

    # --- sheets over the page -------------------------------------------------------------------------------------

    def sheet(self, inside: Widget) -> None:
        """Lay something over the page until `close_sheet`; what lies under it is not pressed."""
        self.close_sheet()
        self._overlay = Overlay(inside, lambda: min(self._band.height, self.look.dots(HIGH)))
        self._frame.add_widget(self._overlay)

    def close_sheet(self) -> None:
        """Take it away again."""
        if self._overlay is not None:
            self.takes_keys(None)
            self._frame.remove_widget(self._overlay)
            self._overlay = None

    def refuse(self, why: str, cure: Key | None = None) -> None:
        """Say over the action row why something was not done; cure: a key that helps."""
        self._end_refusal()
        keys = [cure] if cure is not None else []
        inside = RefusalSheet(self.look, self.words, why, keys, self._end_refusal)
        self._refusal = Overlay(inside, lambda: self._frame.height - inside.asks_for)
        self._frame.add_widget(self._refusal)

    def _why_key(self, told: str) -> Key:
        return Key(self.look, self.words(message("frame-why")), lambda: tell_why(self, told), size="near", high=None)

    def _end_refusal(self) -> None:
        if self._refusal is not None:
            self._frame.remove_widget(self._refusal)
            self._refusal = None

    def ask_pin(
        self, question: str, then: Callable[[str, Callable[[str | None], None]], None], *, new: bool = False
    ) -> None:
        """Ask for a PIN in place. new: one is chosen, and the places of its digits are shown. then: called with the
        PIN, and with what is to be told of it: None closes the sheet, words are shown and it is asked again."""
        words = (self.words(message("frame-back")), self.words(message("frame-give")))
        places = FEWEST_DIGITS if new else 0
        self.sheet(PinSheet(self.look, question, words, then, self.close_sheet, upright=self.upright, places=places))

    def ask_words(self, question: str, text: str, then: Callable[[str], None]) -> None:
        """Ask for words; then: called with them once the sheet is closed."""

        def taken(typed: str) -> None:
            self.close_sheet()
            then(typed)

        words = (
            self.words(message("frame-back")),
            self.words(message("frame-take")),
            self.words(message("frame-space")),
            self.words(message("frame-capital")),
        )
        sheet = WordsSheet(
            self.look,
            question,
            text,
            words,
            taken,
            self.close_sheet,
            self.takes_keys,
            upright=self.upright,
            letters=self.preferences.keyboard,
        )
        self.sheet(sheet)
        sheet.field.focus = True

    def ask_number(self, asked: NumberQuestion, then: Callable[[Fraction, str], None]) -> None:
        """Ask for a number on the one pad; then: called with value and unit once the sheet is closed."""

        def keep(value: Fraction, unit: str, _fails: bool) -> None:
            self.close_sheet()
            then(value, unit)

        back = Key(self.look, self.words(message("frame-back")), self.close_sheet, size="near", high=None)
        pad = NumberPad(self.look, self.words, asked, keep, self.refuse, besides=(back,), upright=self.upright)
        self.sheet(NumberSheet(self.look, pad))

    def refresh(self) -> None:
        """Show what has changed."""
        kind = self.view.state.kind if self.view is not None else "work"
        if kind != self._kind or self._page != self._page_now():
            self.redraw()
            return
        if self._screen is not None:
            self._screen.refresh()
            self._band.refresh(self._screen.title())
        self._aids.guide()

    # --- the key to be heard --------------------------------------------------------------------------------------

    def _key_down(self, _window: Any, key: int, _scan: int, text: str | None, modifiers: Sequence[str]) -> bool:
        if not self._is_key(key) or self.desk is None or self.preferences.manner is not Manner.HELD:
            return not self.typing and self._aids.key(key, text, modifiers)
        if not self.desk.held:
            self.desk.hold()
            self.refresh()
        return True

    def _key_up(self, _window: Any, key: int, *_: Any) -> bool:
        if not self._is_key(key) or self.desk is None or self.preferences.manner is not Manner.HELD:
            return False
        self.desk.release()
        self.refresh()
        return True

    def _is_key(self, key: int) -> bool:
        # While somebody types a name or a note, the key is a letter.
        return key == Keyboard.keycodes.get(self.preferences.key) and not self.typing


def open_window(day: Path | None, *, data: Path | None = None, listen: bool = True) -> None:
    """Open the tablet's window and stay until it is closed. NoWindow when there is no screen."""
    if Window is None or not has_screen():
        raise NoWindow(message("cli-tablet-no-window"))
    # A look for garbage among all that was loaded takes a tenth of a second, and drawing asks for one every few pages:
    # it would hold up a finger.
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000)
    TabletApp(day, data=data, listen=listen).run()
