"""Behind the ear: the microphone, how it listens and speaks, and what became of the last things that were heard."""

from __future__ import annotations

import threading
from functools import partial
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from fieldassist.day.ear import NoAttention, check_attention
from fieldassist.day.listening import Manner
from fieldassist.places import shipped
from fieldassist.trade.message import message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.at_ear import EarMemory
from fieldassist.ui.content.heard import Became, last_heard
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.soundcheck import PHRASE, Tried, try_microphone
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.level_meter import LevelMeter
from fieldassist.ui.widgets.picks import picks
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.voice.microphone import Level, NoMicrophone, SoundInput, list_inputs
from fieldassist.voice.models import DEFAULT, list_models
from fieldassist.voice.speaker import find_speaker
from fieldassist.voice.transcriber import CannotTranscribe, packaged_model
from fieldassist.voice.vosk_model import ModelProblem

from kivy.clock import Clock  # isort: skip
from kivy.core.window import Keyboard, Window  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

_MANNERS = (Manner.HELD, Manner.CALLED, Manner.OPEN)
_LEVELS = ("all words", "few words", "sounds")
_BECAME: dict[Became, tuple[SignName, ColourName]] = {
    "taken": ("pass", "pass_"),
    "refused": ("fail", "fail"),
    "asked": ("question", "ink"),
    "dropped": ("less", "quiet"),
}


class EarPage(Screen):
    """The screen."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._choosing_key = False
        self._meter: LevelMeter | None = None
        self._metering = Clock.schedule_interval(lambda _dt: self._show_level(), 1 / 4)

    def on_parent(self, _screen: Widget, parent: Widget | None) -> None:
        """Kivy: the screen is shown, or was put away."""
        if parent is None:
            self._metering.cancel()
            self._stop_choosing_key()

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        return self.tablet.words(message("person-ear")), self.tablet.deaf

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, kept = self.tablet, self._kept
        by = (tablet.preferences, kept.inputs, kept.told, tablet.job is None, tablet.deaf, self._choosing_key)
        if self.changed("all", (*by, last_heard(tablet.reports))):
            self._draw()

    @property
    def _kept(self) -> EarMemory:
        return self.tablet.memory.of(EarMemory)

    def _draw(self) -> None:
        look, words = self.look, self.tablet.words
        self.page.clear_widgets()
        left, right = ColumnBox(look, gap=12, rises=True), ColumnBox(look, gap=12, rises=True)
        self._heard(left)
        self._manner(right)
        self._microphone(right)
        self._speaking(right)
        self._model(right)
        if self.tablet.upright or look.text > 1.2:
            left.add_widget(right)
            self.page.add_widget(Scroll(look, left))
        else:
            pair = [Scroll(look, left, size_hint_x=0.44), Scroll(look, right, size_hint_x=0.56)]
            self.page.add_widget(RowBox(look, *(reversed(pair) if look.left_hand else pair), gap=20))
        busy, say, large = self.tablet.job is not None, words(message("person-try-say", phrase=PHRASE)), look.text > 1.2
        if large:
            left.add_widget(TextLabel(look, say, "near"), index=len(left.children))
        hear = Key(
            look,
            words(message("person-try-it")),
            self._busy if busy else self._try,
            kind="action",
            off=busy,
            caption="" if large else say,
            high=None,
        )
        speak = Key(look, words(message("person-say-something")), self._speak, size="near", high=None)
        back = Key(look, words(message("frame-back")), self.tablet.back, size="near", high=None)
        self.act(hear, speak, back)

    def _busy(self) -> None:
        self.tablet.refuse(self.tablet.words(message("person-listening-to-you")))

    # --- what was heard -------------------------------------------------------------------------------------------

    def _heard(self, inside: ColumnBox) -> None:
        look, words, kept = self.look, self.tablet.words, self._kept
        if kept.told is not None:
            good, told = kept.told
            sign: SignName = "pass" if good else "fail"
            mark = marks.Sign(look, sign, 44, "pass_" if good else "fail", pos_hint={"center_y": 0.5})
            inside.add_widget(RowBox(look, mark, TextLabel(look, told, "near", bold=True), gap=12, rises=True))
        if self.tablet.deaf:
            mark = marks.Sign(look, "fail", 44, "fail", pos_hint={"center_y": 0.5})
            inside.add_widget(RowBox(look, mark, TextLabel(look, self.tablet.deaf, "near"), gap=12, rises=True))
        inside.add_widget(TextLabel(look, words(message("person-last-heard")), "near", bold=True))
        lines = last_heard(self.tablet.reports)
        if not lines:
            inside.add_widget(TextLabel(look, words(message("person-nothing-heard")), "near", role="quiet"))
        for line in lines:
            sign, role = _BECAME[line.became]
            text = ColumnBox(look, gap=2, rises=True)
            quoted = words(message("prompt-quoted", phrase=line.words))
            text.add_widget(TextLabel(look, f"{quoted} {words(line.told)}", "near", bold=line.became != "dropped"))
            if line.why:
                text.add_widget(TextLabel(look, line.why, "small", role="quiet"))
            mark = marks.Sign(look, sign, 44, role, pos_hint={"top": 1})
            inside.add_widget(RowBox(look, mark, text, gap=12, rises=True))

    # --- how it listens -------------------------------------------------------------------------------------------

    def _manner(self, inside: ColumnBox) -> None:
        look, words, preferences = self.look, self.tablet.words, self.tablet.preferences
        inside.add_widget(TextLabel(look, words(message("person-manner")), "near", bold=True))
        options = [(manner, words(message(f"person-manner-{manner.value}"))) for manner in _MANNERS]
        inside.add_widget(picks(look, options, preferences.manner, lambda value: self._choose(manner=value)))
        inside.add_widget(TextLabel(look, words(message(f"person-manner-means-{preferences.manner.value}")), "small"))
        if preferences.manner is Manner.CALLED:
            phrase = words(message("person-attention", phrase=preferences.attention))
            inside.add_widget(Key(look, phrase, self._ask_attention, sign="note", size="near"))
        if preferences.manner is Manner.HELD:
            told = message("person-press-key") if self._choosing_key else message("person-key", key=preferences.key)
            inside.add_widget(Key(look, words(told), self._choose_key, chosen=self._choosing_key, size="near"))
        dropped = [(False, words(message("person-dropped-seen"))), (True, words(message("person-dropped-heard")))]
        inside.add_widget(
            picks(look, dropped, preferences.sounds_dropped, lambda value: self._choose(sounds_dropped=value))
        )
        notes = [(False, words(message("person-notes-heard"))), (True, words(message("person-notes-written")))]
        inside.add_widget(picks(look, notes, preferences.transcribes, self._write_notes))

    def _write_notes(self, wished: bool) -> None:
        """Have dictation written out at rest, where the model for it is installed."""
        try:
            if wished:
                packaged_model()
        except CannotTranscribe as missing:
            self.tablet.refuse(self.tablet.words.of(missing))
        else:
            self._choose(transcribes=wished)

    def _ask_attention(self) -> None:
        words = self.tablet.words
        typed = self._kept.attention or self.tablet.preferences.attention
        self.tablet.ask_words(words(message("person-attention-ask")), typed, self._use_attention)

    def _use_attention(self, typed: str) -> None:
        """Take the phrase if the model in use knows its words: it is loaded for that, beside the screen."""
        tablet, kept = self.tablet, self._kept
        phrase = " ".join(typed.lower().split())
        kept.attention = typed

        def work() -> None:
            check_attention(phrase, tablet.recognizer().knows)

        def done(_none: None) -> None:
            try:
                tablet.choose(attention=phrase)
            except ValidationError:
                tablet.refuse(tablet.words(message("person-attention-length")))
                return
            kept.attention = None

        def failed(problem: Exception) -> None:
            tablet.refuse(
                tablet.words.of(problem) if isinstance(problem, NoAttention | ModelProblem) else repr(problem)
            )

        run_in_background(work, done, failed)

    def _choose_key(self) -> None:
        self._choosing_key = not self._choosing_key
        self.tablet.typing = self._choosing_key
        Window.unbind(on_key_down=self._key_chosen)
        if self._choosing_key:
            Window.bind(on_key_down=self._key_chosen)
        self.tablet.refresh()

    def _stop_choosing_key(self) -> None:
        if self._choosing_key:
            self._choosing_key = self.tablet.typing = False
            Window.unbind(on_key_down=self._key_chosen)

    def _key_chosen(self, _window: Any, key: int, *_: Any) -> bool:
        self._stop_choosing_key()
        name = next((name for name, code in Keyboard.keycodes.items() if code == key), "")
        if not name or name in ("escape", "tab", "enter"):
            self.tablet.refuse(self.tablet.words(message("person-key-cannot")))
        else:
            self._choose(key=name)
        self.tablet.refresh()
        return True

    def _choose(self, **changes: Any) -> None:
        self._kept.told = None
        self.tablet.choose(**changes)

    # --- the microphone -------------------------------------------------------------------------------------------

    def _microphone(self, inside: ColumnBox) -> None:
        look, words, kept, chosen = self.look, self.tablet.words, self._kept, self.tablet.preferences.microphone
        inside.add_widget(TextLabel(look, words(message("person-microphone")), "near", bold=True))
        self._meter = LevelMeter(look, size_hint_y=None, height=look.dots(36))
        inside.add_widget(self._meter)
        if kept.inputs is None:
            self._look_for_inputs()
        names = list(dict.fromkeys(one.name for one in kept.inputs or ()))
        options: list[tuple[str | None, str]] = [(None, words(message("person-microphone-any")))]
        options += [(name, name) for name in names]
        if chosen not in (None, *names):
            options.append((chosen, words(message("person-microphone-gone", name=chosen or ""))))
        inside.add_widget(picks(look, options, chosen, lambda value: self._choose(microphone=value), columns=2))
        if kept.inputs == ():
            inside.add_widget(TextLabel(look, words(message("person-microphone-none")), "small"))
        again = Key(look, words(message("person-look-again")), self._look_for_inputs, size="near")
        inside.add_widget(again)

    def _look_for_inputs(self) -> None:
        kept = self._kept

        def found(inputs: tuple[SoundInput, ...]) -> None:
            kept.inputs = inputs
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            kept.inputs, kept.told = (), (False, self.tablet.words.of(problem))
            self.tablet.refresh()

        run_in_background(list_inputs, found, failed)

    def _try(self) -> None:
        """Hear the phrase beside the day: its own microphone is closed meanwhile, so that nothing goes into it."""
        tablet, kept = self.tablet, self._kept
        desk, device = tablet.desk, tablet.preferences.microphone
        kept.told = None
        tried: list[Tried] = []

        def show(level: Level) -> None:
            kept.level = level

        def work(job: LongWork) -> None:
            if desk is not None:
                closed = threading.Event()
                desk.deafen()
                desk.ask(lambda _day: closed.set())
                closed.wait(10.0)
            microphone = tablet.microphone_kind(device, hold_to_talk=False)
            tried.append(try_microphone(tablet.recognizer(), microphone, job.progress, show))

        def done(problem: Exception | None) -> None:
            kept.level = None
            if tried:
                kept.told = (bool(tried[0].value), tablet.words(tried[0].told))
                if tried[0].value and desk is not None:
                    desk.say(tablet.words(message("person-heard-you", words=tried[0].words)))
            elif isinstance(problem, NoMicrophone | ModelProblem):
                kept.told = (False, tablet.words.of(problem))
            if tablet.listens and desk is not None and desk is tablet.desk:
                tablet.open_ears()
            tablet.refresh()

        tablet.run_job(work, done, tablet.words(message("person-listening-to-you")))

    def _show_level(self) -> None:
        if self._meter is not None and (self.tablet.job is not None or self.tablet.desk is not None):
            desk = self.tablet.desk
            self._meter.show(self._kept.level or (desk.level() if desk is not None else None))

    # --- how it speaks --------------------------------------------------------------------------------------------

    def _speaking(self, inside: ColumnBox) -> None:
        look, words, preferences = self.look, self.tablet.words, self.tablet.preferences
        inside.add_widget(TextLabel(look, words(message("person-speaking")), "near", bold=True))
        aloud = [(True, words(message("person-aloud"))), (False, words(message("person-written")))]
        inside.add_widget(picks(look, aloud, preferences.aloud, lambda value: self._choose(aloud=value)))
        if preferences.aloud:
            levels = [(level, words(message(f"person-speak-{level.replace(' ', '-')}"))) for level in _LEVELS]
            inside.add_widget(picks(look, levels, preferences.speak, lambda value: self._choose(speak=value)))

        alarm = Key(look, words(message("person-hear-alarm")), self._alarm, sign="clock", size="near")
        inside.add_widget(alarm)

    def _alarm(self) -> None:
        """The pattern of a clock that ran out, once and at its loudest."""
        if self.tablet.desk is not None:
            self.tablet.desk.alarm(1.0)
        else:
            self.tablet.refuse(self.tablet.words(message("person-no-day")))

    def _speak(self) -> None:
        said = self.tablet.words.aloud(message("person-speaker-test"))
        if self.tablet.desk is not None:
            self.tablet.desk.say(said)
        else:
            run_in_background(lambda: find_speaker().say(said), lambda _none: None)

    def _model(self, inside: ColumnBox) -> None:
        look, words, preferences = self.look, self.tablet.words, self.tablet.preferences
        own = self.tablet.data / "models"
        options = [(path.name, path.name) for path in list_models(shipped("models"))]
        options += [(str(path), path.name) for path in list_models(own)]
        chosen = preferences.model or DEFAULT
        if chosen not in [value for value, _ in options]:
            options.append((chosen, words(message("person-model-gone", name=Path(chosen).name))))
        inside.add_widget(TextLabel(look, words(message("person-model")), "near", bold=True))
        keys = [
            Key(look, told, partial(self._choose, model=value), chosen=value == chosen, size="near")
            for value, told in options
        ]
        inside.add_widget(Cells(look, keys, 2 if look.text <= 1.2 else 1))
        inside.add_widget(
            TextLabel(
                look, words(message("person-model-own", folder=f"{own.parent.name}/{own.name}")), "small", role="quiet"
            )
        )
