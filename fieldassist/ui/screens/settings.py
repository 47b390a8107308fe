"""Settings: how the tablet looks, hears and speaks, who can sign on it, and which checklists it found."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from fieldassist.checklist.loader import WrongFile, load_folder
from fieldassist.checklist.plan import Role
from fieldassist.checklist.schema import Checklist
from fieldassist.day.ear import NoAttention, check_attention
from fieldassist.day.listening import Manner
from fieldassist.day.speaking import SpeakingLevel
from fieldassist.places import shipped
from fieldassist.record.keys import KeyHolder, KeyProblem, LockedOut, WrongPin, check_pin, fingerprint
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.at_settings import Group, PinWay, SettingsMemory
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.names import person
from fieldassist.ui.content.soundcheck import PHRASE, Tried, try_microphone
from fieldassist.ui.content.theme import ColourRole as Paint
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.level_meter import LevelMeter
from fieldassist.ui.widgets.parts import (
    Abreast,
    Choices,
    EntryField,
    Panel,
    Pick,
    Scroll,
    Target,
    TextLabel,
    Upright,
    VerdictMark,
    blank,
    gap,
    target,
)
from fieldassist.ui.widgets.pin import DigitKeys
from fieldassist.voice.microphone import Level, NoMicrophone, SoundInput, list_inputs
from fieldassist.voice.models import DEFAULT, list_models
from fieldassist.voice.recognizer import ModelProblem
from fieldassist.voice.speaker import find_speaker

from kivy.clock import Clock  # isort: skip
from kivy.core.window import Keyboard, Window  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

TITLES: dict[Group, str] = {
    "units": "Units",
    "look": "Colours and text",
    "microphone": "Microphone",
    "speaking": "Speaking",
    "manner": "How it listens",
    "model": "Speech model",
    "people": "Crew and PINs",
    "checklists": "Checklists",
}
_MANNERS: dict[Manner, tuple[str, str]] = {
    Manner.HELD: ("While a key is held", "All that is said while the key, pedal or headset button is held is taken."),
    Manner.CALLED: (
        "When it is called",
        "What begins with the attention phrase is taken, and without it what goes on with the work at hand.",
    ),
    Manner.OPEN: (
        "All the time",
        "Anything that is one of the phrases is taken. For quiet places: talk nearby may pass for a command.",
    ),
}
_LEVELS: dict[SpeakingLevel, tuple[str, str]] = {
    "all words": ("All words", "Every answer is spoken, and what is asked next."),
    "few words": ("Few words", "The third time that the same answer comes, only its sound."),
    "sounds": ("Only sounds", "Words for what fails, is in doubt, was asked for or must come first."),
}
_SPEAKER_TEST = "The tablet can be heard. Coverage, ninety five percent."


class TabletSettings(Screen):
    """The settings: one field a group that tells what is chosen, and each group on a page of its own."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._kept = tablet.memory.of(SettingsMemory)
        self._page = BoxLayout(orientation="vertical", spacing=gap())
        self.add_widget(self._page)
        # PINs under way live in this object only.
        self._digits = DigitKeys(self.look, secret=True)
        self._given: list[str] = []
        self._busy = False
        self._choosing_key = False
        self._meter: LevelMeter | None = None
        self._metering = Clock.schedule_interval(lambda _dt: self._show_level(), 1 / 8)

    def on_parent(self, _screen: Widget, parent: Widget | None) -> None:
        """Kivy: the screen is shown, or was put away."""
        if parent is None:
            self._metering.cancel()
            self._stop_choosing_key()

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, held = self.tablet, self._kept
        by = {
            "microphone": (held.inputs, tablet.job is None),
            "manner": self._choosing_key,
            "people": (held.person, held.pin_way, len(self._given), self._busy, self._people()),
            "checklists": held.checklists,
        }.get(held.group)
        if self.changed("page", (held.group, held.said, tablet.preferences, by)):
            self._page.clear_widgets()
            self._meter = None
            self._draw()

    def _draw(self) -> None:
        look, held = self.look, self._kept
        if not held.group:
            self._page.add_widget(Scroll(self._index()))
            return
        draw: dict[str, Callable[[Upright], None]] = {
            "units": self._units,
            "look": self._look,
            "microphone": self._microphone,
            "speaking": self._speaking,
            "manner": self._manner,
            "model": self._model,
            "people": self._crew,
            "checklists": self._checklists,
        }
        if held.group == "people" and held.pin_way:
            self._give_pin()
            return
        inside = Upright(spacing=2 * gap())
        inside.add_widget(TextLabel(look, person(held.person) or TITLES[held.group], "large"))
        self._tell(inside)
        draw[held.group](inside)
        self._page.add_widget(Scroll(inside))
        self._page.add_widget(Target(look, "Back", self._back, size="plain"))

    def _tell(self, where: BoxLayout) -> None:
        if self._kept.said is not None:
            paint, words = self._kept.said
            panel = Panel(self.look, role=paint)
            panel.add_widget(TextLabel(self.look, words, "plain", role=paint, bold=True))
            where.add_widget(panel)

    def _say(self, paint: Paint, words: str) -> None:
        self._kept.said = (paint, words)
        self.tablet.refresh()

    def _turn_to(self, group: Group, person: str = "", pin_way: PinWay = "") -> None:
        self._kept.turn_to(group, person, pin_way)
        self._forget_pins()
        self._stop_choosing_key()
        self.tablet.refresh()

    def _back(self) -> None:
        self._turn_to("people" if self._kept.person else "")

    def _pick(self, inside: Upright, options: Sequence[tuple[Any, str]], chosen: Any, **rest: Any) -> None:
        name = rest.pop("name")
        columns = rest.pop("columns", len(options))
        inside.add_widget(
            Pick(self.look, options, chosen, lambda value: self._choose(**{name: value}), columns=columns, **rest)
        )

    def _choose(self, **changes: Any) -> None:
        self._kept.said = None
        self.tablet.choose(**changes)

    # --- the index ------------------------------------------------------------------------------------------------

    def _index(self) -> Choices:
        preferences, look = self.tablet.preferences, self.look
        units = {None: "as the plan says", "metric": "metric", "us": "US"}[preferences.units]
        now: dict[Group, str] = {
            "units": units,
            "look": f"{preferences.theme}, {100 * preferences.text:.0f} %",
            "microphone": preferences.microphone or "as the system says",
            "speaking": _LEVELS[preferences.speak][0].lower() if preferences.aloud else "only in writing",
            "manner": _MANNERS[preferences.manner][0].lower(),
            "model": Path(preferences.model or DEFAULT).name,
            "people": "",
            "checklists": "",
        }
        targets = [
            Target(look, f"{title}\n{now[group]}".strip(), partial(self._turn_to, group), tall=1.3)
            for group, title in TITLES.items()
        ]
        return Choices(targets, 2 if self.tablet.upright or look.text > 1.2 else 4)

    # --- what is seen ---------------------------------------------------------------------------------------------

    def _units(self, inside: Upright) -> None:
        options = [(None, "As the day's plan says"), ("metric", "Metric"), ("us", "US")]
        self._pick(inside, options, self.tablet.preferences.units, name="units", size="large")
        inside.add_widget(
            TextLabel(self.look, "Readings are kept in the unit in which they were said, whatever is shown.")
        )

    def _look(self, inside: Upright) -> None:
        preferences = self.tablet.preferences
        self._pick(inside, [("day", "Day"), ("dark", "Dark")], preferences.theme, name="theme", size="large")
        inside.add_widget(TextLabel(self.look, "Letters to press, where something is typed"))
        letters = [(True, "On the screen"), (False, "I have a keyboard")]
        self._pick(inside, letters, preferences.keyboard, name="keyboard", size="large")
        inside.add_widget(TextLabel(self.look, "Size of text"))
        sizes = [(share, f"{100 * share:.0f} %") for share in (1.0, 1.25, 1.5)]
        self._pick(inside, sizes, preferences.text, name="text", size="large")

    # --- ears and voice -------------------------------------------------------------------------------------------

    def _microphone(self, inside: Upright) -> None:
        look, held, tablet = self.look, self._kept, self.tablet
        panel = Panel(look)
        panel.add_widget(TextLabel(look, "Press “Try it”, then say:", "plain", role="panel"))
        panel.add_widget(TextLabel(look, f"“{PHRASE}”", "huge", role="panel"))
        self._meter = LevelMeter(look, "panel", size_hint_y=None, height=target() / 3)
        panel.add_widget(self._meter)
        inside.add_widget(panel)
        if tablet.job is None:
            inside.add_widget(Target(look, "Try it", self._try, role="first"))
        inside.add_widget(TextLabel(look, "Which microphone", "plain"))
        if held.inputs is None:
            inside.add_widget(TextLabel(look, "Looking for microphones."))
            self._look_for_inputs()
            return
        if isinstance(held.inputs, str):
            inside.add_widget(TextLabel(look, held.inputs, bold=True))
        names = [] if isinstance(held.inputs, str) else list(dict.fromkeys(one.name for one in held.inputs))
        options: list[tuple[str | None, str]] = [(None, "As the system says"), *((name, name) for name in names)]
        if tablet.preferences.microphone not in (None, *names):
            options.append((tablet.preferences.microphone, f"{tablet.preferences.microphone}\n(not plugged in now)"))
        columns = 1 if tablet.upright else 2
        self._pick(inside, options, tablet.preferences.microphone, name="microphone", columns=columns)
        inside.add_widget(Target(look, "Look again", self._look_for_inputs, size="plain"))

    def _look_for_inputs(self) -> None:
        def found(inputs: tuple[SoundInput, ...]) -> None:
            self._kept.inputs = inputs or "No microphone is plugged in. Work goes on by touch."
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            self._kept.inputs = self.tablet.words.of(problem)
            self.tablet.refresh()

        run_in_background(list_inputs, found, failed)

    def _try(self) -> None:
        """Hear the phrase beside the day: its own microphone is closed meanwhile, so that nothing goes into it."""
        tablet, held = self.tablet, self._kept
        desk, device = tablet.desk, tablet.preferences.microphone
        held.said = None
        tried: list[Tried] = []

        def show(level: Level) -> None:
            held.level = level

        def work(job: LongWork) -> None:
            if desk is not None:
                closed = threading.Event()
                desk.deafen()
                desk.ask(lambda _day: closed.set())
                closed.wait(10.0)
            microphone = tablet.microphone_kind(device, hold_to_talk=False)
            tried.append(try_microphone(tablet.recognizer(), microphone, job.progress, show))

        def done(problem: Exception | None) -> None:
            held.level = None
            if tried:
                held.said = ("good" if tried[0].value else "alarm", str(tried[0]))
                if tried[0].value and desk is not None:
                    desk.say(f"I heard {tried[0].words}.")
            elif isinstance(problem, NoMicrophone | ModelProblem):
                held.said = ("alarm", tablet.words.of(problem))
            else:
                held.said = ("panel", "The test was stopped. Nothing in the day was changed.")
            if tablet.listens and desk is not None and desk is tablet.desk:
                tablet.open_ears()
            tablet.refresh()

        tablet.run_job(work, done, "Listening to you")

    def _show_level(self) -> None:
        if self._meter is not None:
            desk = self.tablet.desk
            self._meter.show(self._kept.level or (desk.level() if desk is not None else None))

    def _speaking(self, inside: Upright) -> None:
        aloud = self.tablet.preferences.aloud
        self._pick(inside, [(True, "Aloud"), (False, "Only in writing")], aloud, name="aloud", size="large")
        if aloud:
            levels = [(level, f"{title}\n{words}") for level, (title, words) in _LEVELS.items()]
            columns = 1 if self.tablet.upright or self.look.text > 1.2 else 3
            self._pick(inside, levels, self.tablet.preferences.speak, name="speak", columns=columns)
            inside.add_widget(TextLabel(self.look, "By voice: “quiet” for less, “talk to me” for more."))
            inside.add_widget(Target(self.look, "Say something", self._speak))
        inside.add_widget(TextLabel(self.look, f"It says: “{_SPEAKER_TEST}” If nothing is heard, turn the sound up."))

    def _speak(self) -> None:
        if self.tablet.desk is not None:
            self.tablet.desk.say(_SPEAKER_TEST)
        else:
            run_in_background(lambda: find_speaker().say(_SPEAKER_TEST), lambda _none: None)

    def _manner(self, inside: Upright) -> None:
        look, tablet, held = self.look, self.tablet, self._kept
        options = [(manner, f"{title}\n{words}") for manner, (title, words) in _MANNERS.items()]
        columns = 1 if tablet.upright or look.text > 1.2 else 3
        self._pick(inside, options, tablet.preferences.manner, name="manner", columns=columns)
        inside.add_widget(TextLabel(look, "When a phrase was heard and not taken", "plain"))
        sounds = [(False, "It is only shown"), (True, "A low sound tells it too")]
        self._pick(inside, sounds, tablet.preferences.sounds_dropped, name="sounds_dropped")
        inside.add_widget(TextLabel(look, "The attention phrase, two words or more", "plain"))
        row = Abreast()
        field = EntryField(look, tablet.takes_keys, held.attention or tablet.preferences.attention, size_hint_x=0.62)
        field.bind(text=lambda _field, text: setattr(held, "attention", text))
        row.add_widget(field)
        row.add_widget(Target(look, "Use this phrase", self._use_attention, size="plain", size_hint_x=0.38))
        inside.add_widget(row)
        words = (
            "Press the key, pedal or headset button now."
            if self._choosing_key
            else f"Key: {tablet.preferences.key}. Change"
        )
        press = self._stop_choosing_key if self._choosing_key else self._choose_key
        inside.add_widget(Target(look, words, press, size="plain", chosen=self._choosing_key))

    def _use_attention(self) -> None:
        tablet, held = self.tablet, self._kept
        phrase = " ".join((held.attention or tablet.preferences.attention).lower().split())
        self._say("panel", "The phrase is being checked against the speech model.")

        def checked(_none: None) -> None:
            try:
                held.attention = None
                held.said = ("good", f"Say “{phrase}” from now on.")
                tablet.choose(attention=phrase)
            except ValidationError:
                held.attention = phrase
                self._say("alarm", "An attention phrase has 3 to 60 letters. It was not changed.")

        def failed(problem: Exception) -> None:
            if isinstance(problem, NoAttention):
                self._say("alarm", f"{tablet.words.of(problem)} It was not changed.")
            else:
                self._say("alarm", f"It could not be checked, and was not changed. {tablet.words.of(problem)}")

        run_in_background(lambda: check_attention(phrase, tablet.recognizer().knows), checked, failed)

    def _choose_key(self) -> None:
        self._choosing_key = True
        self.tablet.typing = True
        Window.bind(on_key_down=self._key_chosen)
        self.tablet.refresh()

    def _stop_choosing_key(self) -> None:
        if self._choosing_key:
            self._choosing_key = False
            self.tablet.typing = False
            Window.unbind(on_key_down=self._key_chosen)
            self.tablet.refresh()

    def _key_chosen(self, _window: Any, key: int, *_: Any) -> bool:
        self._stop_choosing_key()
        name = next((name for name, code in Keyboard.keycodes.items() if code == key), "")
        if not name or name == "escape":
            self._say("alarm", "That key cannot be used; the key is the one from before. Choose another one.")
        else:
            self._kept.said = ("good", f"Hold {name} and speak, where it listens while a key is held.")
            self.tablet.choose(key=name)
        return True

    def _model(self, inside: Upright) -> None:
        preferences, look = self.tablet.preferences, self.look
        own = self.tablet.data / "models"
        options = [(path.name, path.name) for path in list_models(shipped("models"))]
        options += [(str(path), f"{path.name}\n(the tablet's own)") for path in list_models(own)]
        chosen = preferences.model or DEFAULT
        if chosen not in [value for value, _ in options]:
            options.append((chosen, f"{Path(chosen).name}\n(not found)"))
        self._pick(inside, options, chosen, name="model", columns=1 if self.tablet.upright else 2, size="large")
        inside.add_widget(TextLabel(look, f"A model of your own belongs, in a folder, into {own}."))

    # --- people ---------------------------------------------------------------------------------------------------

    def _people(self) -> tuple[tuple[str, Role, KeyHolder | None], ...]:
        """Everybody who can sign here or is in the crew: name, role and key."""
        if self._kept.group != "people":
            return ()
        holders = {person.name: person for person in self.tablet.keys.people()}
        view = self.tablet.view
        crew = view.state.plan.crew if view is not None and view.state.plan is not None else ()
        roles = {name: holder.role for name, holder in holders.items()} | {person.name: person.role for person in crew}
        return tuple((name, role, holders.get(name)) for name, role in roles.items())

    def _crew(self, inside: Upright) -> None:
        look = self.look
        if self._kept.person:
            self._one_person(inside)
            return
        people = self._people()
        if not people:
            inside.add_widget(TextLabel(look, "Nobody has a PIN here yet. Open a day: its crew is listed here then."))
        for name, role, holder in people:
            row = Panel(look, row=True)
            row.add_widget(VerdictMark(look, "done" if holder else "waiting", role="panel", pos_hint={"center_y": 0.5}))
            text = Upright(pos_hint={"center_y": 0.5})
            text.add_widget(TextLabel(look, f"{person(name)}, {role.value}", "large", role="panel"))
            key = f"Key {holder.fingerprint}" if holder else "No PIN here: cannot sign on this tablet"
            text.add_widget(TextLabel(look, key, "plain", role="panel"))
            if holder is not None and holder.role is not role:
                text.add_widget(TextLabel(look, _other_role(name, role, holder), "plain", role="panel", bold=True))
            row.add_widget(text)
            way = partial(self._turn_to, "people", name, "" if holder else "give")
            label = "PIN and key" if holder else "Give a PIN"
            row.add_widget(Target(look, label, way, size="plain", size_hint_x=0.3, pos_hint={"center_y": 0.5}))
            inside.add_widget(row)
        for path in self.tablet.keys.damaged():
            words = f"{path.name} in {path.parent} is damaged and was left out. Give that person a new PIN and key."
            inside.add_widget(TextLabel(look, words, bold=True))

    def _one_person(self, inside: Upright) -> None:
        look, name = self.look, self._kept.person
        role, holder = next(((r, h) for n, r, h in self._people() if n == name), (Role.INSTALLER, None))
        if holder is None:
            inside.add_widget(TextLabel(look, "No PIN here: cannot sign on this tablet."))
            inside.add_widget(Target(look, "Give a PIN", partial(self._turn_to, "people", name, "give"), role="first"))
            return
        inside.add_widget(TextLabel(look, "Fingerprint of the key, to read out and compare:"))
        groups = holder.fingerprint.split()
        wide = 4 if self.tablet.upright or look.text > 1.2 else 8
        for at in range(0, len(groups), wide):
            inside.add_widget(TextLabel(look, "   ".join(groups[at : at + wide]), "huge"))
        if holder.replaces:
            before = fingerprint(holder.replaces)
            inside.add_widget(TextLabel(look, f"It took the place of {before}: the PIN was forgotten."))
        if holder.role is not role:
            inside.add_widget(TextLabel(look, _other_role(name, role, holder), bold=True))
        inside.add_widget(
            Target(look, "Change the PIN", partial(self._turn_to, "people", name, "change"), role="first")
        )
        # Apart from it: this is no other way to the same end.
        inside.add_widget(
            TextLabel(look, "Without the old PIN there is only a new key, and every day that it signs says so.")
        )
        forgotten = partial(self._turn_to, "people", name, "reset")
        inside.add_widget(
            Target(look, "The PIN is forgotten, or the role is another: new key", forgotten, size="plain")
        )

    def _give_pin(self) -> None:
        """One PIN after the other: the old one where there is one, the new one, the new one again."""
        look, held, upright = self.look, self._kept, self.tablet.upright
        asked = self._asked()[len(self._given)]
        left = BoxLayout(orientation="vertical", spacing=gap())
        left.add_widget(TextLabel(look, f"{person(held.person)}: {asked}", "large"))
        self._tell(left)
        if held.pin_way == "reset":
            panel = Panel(look, role="alarm")
            words = (
                "A new PIN without the old one makes a NEW KEY; the old key is gone for good. Days that were signed "
                "before stay valid. Tell the owner and the inspector the new fingerprint: they will be warned."
            )
            panel.add_widget(TextLabel(look, words, "plain", role="alarm"))
            left.add_widget(panel)
        own = f"Only {person(held.person)} types here: the tablet is in {person(held.person)}'s own hands now."
        left.add_widget(TextLabel(look, own, "plain", bold=True))
        left.add_widget(TextLabel(look, "4 to 12 digits. Whoever signs for others takes eight or more."))
        left.add_widget(blank())
        last = len(self._given) + 1 == len(self._asked())
        go_on = "Wait …" if self._busy else "Take it" if last else "Go on"
        back = Target(look, "Back", partial(self._turn_to, "people"), size="plain")
        left.add_widget(Choices([back, Target(look, go_on, self._next_pin, role="first")], 2))
        body = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        if self._digits.parent is not None:
            self._digits.parent.remove_widget(self._digits)
        self._digits.pos_hint = {"top": 1}
        body.add_widget(left)
        body.add_widget(self._digits)
        self._page.add_widget(body)

    def _asked(self) -> tuple[str, ...]:
        new = ("the new PIN", "the new PIN again")
        return ("the old PIN", *new) if self._kept.pin_way == "change" else new

    def _forget_pins(self) -> None:
        self._given.clear()
        self._digits.forget()

    def _next_pin(self) -> None:
        if self._busy:
            return
        self._kept.said = None
        asked = self._asked()[len(self._given)]
        pin = self._digits.take()
        if asked == "the new PIN":
            try:
                check_pin(pin)
            except KeyProblem as problem:
                self._say("alarm", self.tablet.words.of(problem))
                return
        if asked == "the new PIN again" and pin != self._given[-1]:
            self._given.pop()
            self._say("alarm", "The two are not the same. Nothing was changed: give the new PIN once more.")
            return
        self._given.append(pin)
        if len(self._given) == len(self._asked()):
            self._keep_pin()
        self.tablet.refresh()

    def _keep_pin(self) -> None:
        held, keys, name = self._kept, self.tablet.keys, self._kept.person
        role, holder = next((role, holder) for n, role, holder in self._people() if n == name)
        pin, way, now = self._given[-1], held.pin_way, self.tablet.clock.now()
        old = self._given[0] if way == "change" else None
        # The last answer is being looked at: what stands there meanwhile is its question.
        self._given.pop()
        self._busy = True

        def work() -> KeyHolder:
            if way == "reset":
                return keys.reset(name, role, pin)
            return keys.set_pin(name, role if holder is None else holder.role, pin, now=now, old=old)

        def done(holder: KeyHolder) -> None:
            self._busy = False
            self._turn_to("people", name)
            self._say("good", f"The new PIN holds. {person(name)} signs with the key {holder.fingerprint}.")

        def failed(problem: Exception) -> None:
            self._busy = False
            self._forget_pins()
            self._say("alarm", self._not_changed(name, problem))

        run_in_background(work, done, failed)

    def _not_changed(self, name: str, problem: Exception) -> str:
        """Why a PIN was not changed."""
        if isinstance(problem, WrongPin):
            left = "One try is" if problem.attempts_left == 1 else f"{problem.attempts_left} tries are"
            return f"That is not the PIN of {person(name)}. {left} left before a wait. Nothing was changed."
        if isinstance(problem, LockedOut):
            after = problem.until + timedelta(minutes=1)
            return f"Too many wrong PINs for {person(name)}. Nothing was changed; try again after {after:%H:%M}."
        return self.tablet.words.of(problem)

    # --- checklists -----------------------------------------------------------------------------------------------

    def _checklists(self, inside: Upright) -> None:
        look, held = self.look, self._kept
        if held.checklists is None:
            inside.add_widget(TextLabel(look, "The checklists are being read."))
            self._read_checklists()
            return
        for folder, good, refused in held.checklists:
            own = folder == self.tablet.data / "checklists"
            where = f"The tablet's own, in {folder}" if own else "They came with the program"
            inside.add_widget(TextLabel(look, where, "plain"))
            for wrong in refused:
                panel = Panel(look, role="alarm")
                panel.add_widget(TextLabel(look, f"{wrong.path.name} was refused", "large", role="alarm"))
                for problem in wrong.problems:
                    panel.add_widget(TextLabel(look, self.tablet.words(problem.told), "plain", role="alarm"))
                inside.add_widget(panel)
            for one in good:
                row = Panel(look, row=True)
                row.add_widget(VerdictMark(look, "done", role="panel", pos_hint={"center_y": 0.5}))
                serves = f"{one.place} {one.surface}, {', '.join(one.products)}"
                text = Upright(pos_hint={"center_y": 0.5})
                text.add_widget(TextLabel(look, self.tablet.words(one.title), "large", role="panel"))
                text.add_widget(TextLabel(look, f"{one.checklist}, edition {one.edition}: {serves}", role="panel"))
                row.add_widget(text)
                inside.add_widget(row)
            if not good and not refused:
                inside.add_widget(TextLabel(look, "None is there.", quiet=True))
        inside.add_widget(Target(look, "Look again", self._read_checklists, size="plain"))

    def _read_checklists(self) -> None:
        folders = (shipped("checklists"), self.tablet.data / "checklists")

        def read() -> tuple[tuple[Path, tuple[Checklist, ...], tuple[WrongFile, ...]], ...]:
            found = []
            for folder in folders:
                good, refused = load_folder(folder)
                found.append((folder, tuple(good.values()), tuple(refused)))
            return tuple(found)

        def done(found: tuple[tuple[Path, tuple[Checklist, ...], tuple[WrongFile, ...]], ...]) -> None:
            self._kept.checklists = found
            self.tablet.refresh()

        run_in_background(read, done)


def _other_role(name: str, role: Role, holder: KeyHolder) -> str:
    """What a key made for another role than the plan gives cannot do."""
    return (
        f"The key was made for {_ROLES[holder.role]}, and {person(name)} is {_ROLES[role]} here: "
        "it signs nothing in this day. It takes a new key."
    )


_ROLES = {Role.INSTALLER: "an installer", Role.FOREMAN: "a foreman", Role.OWNER: "an owner"}
