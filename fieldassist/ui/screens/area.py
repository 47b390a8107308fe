"""The current step, in huge words: what is asked, why, what may be said; big answers; what lies behind and ahead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import methods
from fieldassist.checklist.kinds import Hold
from fieldassist.checklist.kinds.reading import asked_back
from fieldassist.checklist.moment import PRESSED, TYPED
from fieldassist.checklist.offers import VALUE, Offer, Slot
from fieldassist.checklist.plan import Person
from fieldassist.checklist.prompt import Prompt
from fieldassist.checklist.state import Area, State, Task
from fieldassist.day.session import Answer
from fieldassist.language import Words
from fieldassist.trade.quantities import unit_in_system
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.content.further import answers_of
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.tile_words import open_spreads, open_tiles, waiting_of, where_at
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.keypad import INCHES, Keypad, NumberPad
from fieldassist.ui.widgets.parts import (
    Abreast,
    Choices,
    EntryField,
    Panel,
    Scroll,
    Shape,
    Target,
    TextLabel,
    Upright,
    VerdictMark,
    blank,
    gap,
)
from fieldassist.ui.widgets.pin import DigitKeys

from kivy.uix.boxlayout import BoxLayout  # isort: skip

_BEHIND, _AHEAD = 2, 4


@dataclass
class StepMemory:
    """What was entered for one step and not sent: a number with its unit, or the name of a tile."""

    typed: TypedEntry = field(default_factory=TypedEntry)
    unit: str = ""
    name: str = ""


@dataclass
class NoteMemory:
    """A note that is being written, None while none is."""

    text: str | None = None


class StepPane(Screen):
    """One step, what it asks, what may be said or pressed."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        upright = tablet.upright
        halves = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        told = BoxLayout(orientation="vertical", spacing=gap())
        # By itself, since its minutes go on: what is read beside it stays where it is scrolled to.
        self._spreads = Upright()
        told.add_widget(self._spreads)
        self._words = Upright()
        self._seen = Scroll(self._words)
        told.add_widget(self._seen)
        self._number = Upright()
        told.add_widget(self._number)
        self._always = Abreast(pos_hint={"top": 1})
        # Whose PIN is being given, "" for nobody's, and why the last one was not taken. A PIN lives in its keys only.
        self._pin, self._pin_of, self._releasing, self._pin_told = DigitKeys(self.look, secret=True), "", False, ""
        self._answers = Upright(pos_hint={"top": 1})
        if upright:
            # What is pressed lies low, where the hand that holds the tablet is.
            halves.add_widget(told)
            halves.add_widget(self._answers)
            halves.add_widget(self._always)
        else:
            told.add_widget(self._always)
            halves.add_widget(told)
            halves.add_widget(Scroll(self._answers, size_hint_x=0.95))
        self.add_widget(halves)

    @property
    def _noting(self) -> bool:
        return self._note.text is not None

    @property
    def _note(self) -> NoteMemory:
        return self.tablet.memory.of(NoteMemory)

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None:
            if self.changed("words", self.tablet.problem):
                self._words.add_widget(TextLabel(self.look, "No day is open. Begin one on Today.", "large"))
            return
        state, asked = view.state, view.prompt
        area = state.area
        progress = area.progress if area is not None else None
        spreads = tuple(open_spreads(area, self.tablet.clock.now())) if area is not None else ()
        if self.changed("spreads", (spreads, self.tablet.words)):
            self._spreads.clear_widgets()
            for spread in spreads:
                self._spreads.add_widget(TextLabel(self.look, spread, "large", bold=True))
        standing = (
            self.tablet.words,
            asked.ask,
            asked.requirement,
            asked.basis,
            asked.caution,
            asked.reminders,
            progress,
            state.active,
            state.speaker,
        )
        if self.changed("words", standing):
            self._words.clear_widgets()
            self._show_words(state, area, asked)
            self._seen.scroll_y = 1
        may = tuple((o.label, o.phrases, o.command, o.slot) for o in answers_of(asked))
        if self.changed(
            "answers",
            (
                may,
                asked.waits_for_yes,
                asked.caution,
                state.speaker,
                self._noting,
                self.tablet.words,
                (self._pin_of, self._releasing, self._pin_told),
            ),
        ):
            self._answers.clear_widgets()
            self._number.clear_widgets()
            if self._noting:
                self._show_note()
            else:
                self._show_answers(state, area, asked)
        undo = any(isinstance(o.command, cmd.Withdraw) and o.now for o in asked.offers) and not asked.waits_for_yes
        if self.changed("always", (undo, state.speaker is None)):
            self._show_always(undo=undo)

    # --- what is told ---------------------------------------------------------------------------------------------

    def _show_words(self, state: State, area: Area | None, asked: Prompt) -> None:
        look, column, words = self.look, self._words, self.tablet.words
        if area is not None:
            column.add_widget(TextLabel(look, where_at(area, words), "plain", quiet=True))
            for held in open_tiles(area, words):
                column.add_widget(TextLabel(look, held, "plain", bold=True))
            if waits := waiting_of(area, words):
                column.add_widget(TextLabel(look, waits, "plain"))
        if asked.caution is not None:
            panel = Panel(look, role="alarm", row=True)
            panel.add_widget(VerdictMark(look, "caution", role="alarm", pos_hint={"center_y": 0.5}))
            panel.add_widget(TextLabel(look, words(asked.caution), "large", role="alarm"))
            column.add_widget(panel)
            if asked.goes_on is not None:
                column.add_widget(TextLabel(look, words(asked_back(state)), "large"))
        else:
            question = words(asked.ask)
            column.add_widget(TextLabel(look, question, "huge" if len(question) < 90 else "large"))
        for reminder in asked.reminders:
            panel = Panel(look, role="alarm", row=True)
            panel.add_widget(VerdictMark(look, "caution", role="alarm", pos_hint={"center_y": 0.5}))
            panel.add_widget(TextLabel(look, words(reminder), "plain", role="alarm"))
            column.add_widget(panel)
        needed, basis, fails = self._needed(state, asked)
        if fails:
            panel = Panel(look, role="alarm", row=True)
            panel.add_widget(VerdictMark(look, "failed", role="alarm", pos_hint={"center_y": 0.5}))
            panel.add_widget(TextLabel(look, f"This fails: {fails}", "large", role="alarm"))
            column.add_widget(panel)
        if needed:
            column.add_widget(TextLabel(look, f"Needed: {needed}", "large"))
        if basis:
            column.add_widget(TextLabel(look, f"Basis: {basis}", "small", quiet=True))
        if asked.caution is not None:
            column.add_widget(
                TextLabel(
                    look, "A reminder: the site's rules, local codes and licensed practice hold.", "small", quiet=True
                )
            )
        said = [_said(o) for o in _asked_for(asked) if o.phrases]
        # Which area or round may be begun is named by the question itself.
        if said and (state.speaker is None or (area is not None and area.step is not None)):
            column.add_widget(TextLabel(look, f"Say {', '.join(said[:6])}", "plain"))
        if area is not None:
            if area.step is not None and area.step.measures is not None and not asked.waits_for_yes:
                grid = Target(look, "Tap the tile's back on a grid", partial(self.tablet.go, "lift"), size="plain")
                column.add_widget(grid)
            self._show_sequence(area)
            self._show_methods(area, asked)

    def _needed(self, state: State, asked: Prompt) -> tuple[str, str, str]:
        """What the current step must reach, its basis, and how what waits for yes fails; "" where there is none."""
        words, pending = self.tablet.words, state.pending
        # A reading that waits for no yes passes: what is asked after it is shown with what it needs.
        if pending is None or not asked.waits_for_yes:
            needed, basis = (words(told) if told is not None else "" for told in (asked.requirement, asked.basis))
            return needed, basis, ""
        area = state.areas[pending.area]
        criterion = area.criterion(area.checklist.step(pending.task.section, pending.task.step))
        if criterion is None:
            return "", "", ""
        finding = criterion.judge(pending.value, pending.unit).finding
        return words(criterion.told), words(criterion.basis), words(finding) if finding is not None else ""

    def _show_sequence(self, area: Area) -> None:
        panel, words = Panel(self.look), self.tablet.words
        for done in area.done[-_BEHIND:]:
            if done.before is not None:
                self._line(panel, "done", words(done.what))
        tasks = area.progress.tasks
        for index, task in enumerate(tasks[: _AHEAD + 1]):
            step, holder = area.checklist.step(task.section, task.step), area.checklist.holder(task.section)
            self._line(panel, "waiting" if index else "now", f"{words(step.name)} ({words(holder.title).lower()})")
        more = len(tasks) - _AHEAD - 1
        if more > 0:
            self._line(panel, "none", f"and {more} more")
        if panel.children:
            self._words.add_widget(panel)

    def _line(self, panel: Panel, shape: Shape, text: str) -> None:
        row = Abreast()
        row.add_widget(VerdictMark(self.look, shape, role="panel", pos_hint={"center_y": 0.5}))
        row.add_widget(
            TextLabel(self.look, text, "plain", role="panel", bold=shape == "now", pos_hint={"center_y": 0.5})
        )
        panel.add_widget(row)

    def _show_methods(self, area: Area, asked: Prompt) -> None:
        ways = [o for o in asked.offers if isinstance(o.command, cmd.ChangeMethod) and o.now]
        # Whole methods of the plan only: a change of one part has its key under More.
        others = [
            o
            for o in ways
            if isinstance(o.command, cmd.ChangeMethod) and o.command.method not in (None, area.method_name)
        ]
        if area.step is not None or not others or area.progress.phase != "working":
            return
        look, words = self.look, self.tablet.words
        name = words(methods.called(area.method_name, area.method))
        self._words.add_widget(
            TextLabel(
                look,
                f"Method: {name}; {words(methods.rest_told(area, area.method))}. Change it to",
                "plain",
                quiet=True,
            )
        )
        targets = [
            Target(look, self.tablet.words(o.label), partial(self.tablet.send, o.command), size="plain") for o in others
        ]
        self._words.add_widget(Choices(targets, 2))

    # --- what is answered -----------------------------------------------------------------------------------------

    def _show_answers(self, state: State, area: Area | None, asked: Prompt) -> None:
        step = area.step if area is not None else None
        held = next((o.command for o in asked.answers if isinstance(o.command, cmd.ReleaseHold)), None)
        if held is None:
            self._pin_of = self._pin_told = ""
            self._pin.forget()
        elif isinstance(step, Hold) and state.plan is not None:
            if self._pin_of:
                self._show_pin(held)
                return
            self._show_who_releases(step.releasing(state.plan))
        self._hand_over(state, area)
        words = self.tablet.words
        valued = next((o for o in answers_of(asked) if o.slot is not None), None)
        plain = [o for o in _asked_for(asked) if o.slot is None]
        if valued is not None and valued.slot is not None and valued.slot.dimension == "name":
            self._ask_name(valued)
        elif valued is not None and valued.slot is not None and not asked.waits_for_yes:
            self._ask_number(valued, valued.slot)
        few = len(plain) <= 2 and valued is None
        targets = [
            Target(
                self.look,
                answer_words(offer, words, short=len(plain) > 4),
                partial(self.tablet.send, offer.command),
                role="first" if index == 0 else "button",
                size="huge" if few and len(words(offer.label)) < 16 else "large",
                tall=2.0 if few else 1.2 if len(plain) <= 3 else 1.0,
            )
            for index, offer in enumerate(plain)
        ]
        if targets:
            self._answers.add_widget(Choices(targets, 1 if len(targets) <= 4 else 2))

    def _hand_over(self, state: State, area: Area | None) -> None:
        """At a step of one role: whoever has it says so with a press."""
        step = area.step if area is not None else None
        if step is None or state.plan is None or step.taken_from(state.speaker):
            return
        for person in state.plan.crew:
            if person.role is step.by:
                text = f"{name_of(person.name)} is here\n“this is {person.said}”"
                command = cmd.SpeakAs(name=person.name)
                self._answers.add_widget(Target(self.look, text, partial(self.tablet.send, command), role="first"))

    def _show_who_releases(self, people: Sequence[Person]) -> None:
        """At a hold point: whoever may release it does so by PIN, in place. Nobody else's turn ends with that."""
        for person in people:
            deputy = f", deputy for {name_of(person.deputy_for)}" if person.deputy_for else ""
            text = f"{name_of(person.name)}{deputy}: release by PIN"
            self._answers.add_widget(Target(self.look, text, partial(self._ask_pin, person.name), role="first"))
        self._answers.add_widget(
            TextLabel(self.look, "Or called out: not confirmed until that person gives the PIN.", "plain", quiet=True)
        )

    def _ask_pin(self, name: str) -> None:
        self._pin_of, self._pin_told = name, ""
        self._pin.forget()
        self.refresh()

    def _show_pin(self, held: cmd.ReleaseHold) -> None:
        look, name = self.look, self._pin_of
        self._answers.add_widget(TextLabel(look, f"PIN of {name_of(name)}", "large"))
        if name not in {person.name for person in self.tablet.keys.people()}:
            words = f"{name_of(name)} has no PIN on this tablet. One is given in the crew's set-up, in the own hands."
            panel = Panel(look, role="alarm")
            panel.add_widget(TextLabel(look, words, "plain", role="alarm", bold=True))
            self._answers.add_widget(panel)
            self._answers.add_widget(Target(look, "Back", partial(self._ask_pin, "")))
            return
        if self._pin_told:
            panel = Panel(look, role="alarm")
            panel.add_widget(TextLabel(look, self._pin_told, "plain", role="alarm", bold=True))
            self._answers.add_widget(panel)
        if self._pin.parent is not None:
            self._pin.parent.remove_widget(self._pin)
        self._answers.add_widget(self._pin)
        back = Target(look, "Back", partial(self._ask_pin, ""), size="plain")
        words = "Wait …" if self._releasing else "Release"
        release = Target(look, words, partial(self._release, held, name), role="first")
        self._answers.add_widget(Choices([back, release], 2))

    def _release(self, held: cmd.ReleaseHold, name: str) -> None:
        if self._releasing:
            return
        self._releasing = True
        pin, keys = self._pin.take(), self.tablet.keys

        def done(answer: Answer | None) -> None:
            self._releasing = False
            if answer is not None and answer.taken:
                self._pin_of = self._pin_told = ""
            elif answer is not None:
                self._pin_told = self.tablet.words(answer.say)
            self.tablet.refresh()

        self.tablet.ask(lambda day: day.release(keys, pin, name, held, PRESSED), done)
        self.refresh()

    def _ask_number(self, offer: Offer, slot: Slot) -> None:
        units = sorted(slot.units, key=lambda unit: unit_in_system(unit, self.tablet.units) != unit)
        kept = self._entered

        def keep(typed: TypedEntry, unit: str) -> None:
            kept.typed, kept.unit = typed, unit

        number = NumberPad(self.look, units, kept.unit if kept.unit in units else units[0], kept.typed, keep)
        self._number.add_widget(number)
        self._answers.add_widget(Keypad(self.look, number.press, fractions=any(u in INCHES for u in units)))

        def enter() -> None:
            value: Fraction | None = number.typed.value
            if value is not None:
                self._forget_entered()
                self.tablet.send(offer.fill(value, number.unit))

        self._answers.add_widget(Target(self.look, "Enter it", enter, role="first"))

    def _place(self) -> tuple[Path | None, str | None, Task | None]:
        """Which step is asked: what was typed for it stays until it is sent."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        path, active = (view.path, view.state.active) if view is not None else (None, None)
        return path, active, area.task if area is not None else None

    @property
    def _entered(self) -> StepMemory:
        return self.tablet.memory.of(StepMemory, self._place())

    def _forget_entered(self) -> None:
        self.tablet.memory.forget(StepMemory, self._place())

    def _ask_name(self, offer: Offer) -> None:
        tablet, kept = self.tablet, self._entered
        field = EntryField(self.look, tablet.takes_keys, kept.name, hint="its name, such as row two left")
        field.bind(text=lambda _w, text: setattr(kept, "name", text))
        self._answers.add_widget(field)

        def named() -> None:
            if field.text.strip():
                self._forget_entered()
                tablet.send(offer.fill(Fraction(0), "count", field.text.strip().lower()), TYPED)

        label = f"{tablet.words(offer.label)}, with this name"
        self._answers.add_widget(Target(self.look, label, named, size="plain"))

    # --- what is always there -------------------------------------------------------------------------------------

    def _show_always(self, *, undo: bool) -> None:
        look, tablet = self.look, self.tablet
        self._always.clear_widgets()
        targets = [
            Target(look, "Take back", partial(tablet.send, cmd.Withdraw()), size="plain") if undo else blank(1),
            Target(look, "Repeat", partial(tablet.send, cmd.Ask(about="repeat")), size="plain"),
            Target(look, "Photo", partial(tablet.go, "photos"), size="plain"),
            Target(look, "Note", self._begin_note, size="plain"),
            Target(look, "More", partial(tablet.go, "more"), size="plain"),
        ]
        self._always.add_widget(Choices(targets, len(targets)))

    def _begin_note(self) -> None:
        self._note.text = self._note.text or ""
        self.refresh()

    def _end_note(self) -> None:
        self._note.text = None
        self.refresh()

    def _show_note(self) -> None:
        look, tablet = self.look, self.tablet
        self._answers.add_widget(TextLabel(look, "A note", "large"))
        note = self._note
        field = EntryField(look, tablet.takes_keys, note.text or "", hint="what should be remembered", lines=3)
        field.bind(text=lambda _w, text: setattr(note, "text", text))
        self._answers.add_widget(field)

        def keep() -> None:
            text = field.text.strip()
            if text:
                tablet.send(cmd.MakeNote(text=text[:2000]), TYPED)
                self._end_note()

        self._answers.add_widget(Target(look, "Keep the note", keep, role="first"))
        if tablet.listens and not tablet.deaf:

            def speak() -> None:
                tablet.dictate()
                self._end_note()

            self._answers.add_widget(Target(look, "Speak it instead", speak))
        self._answers.add_widget(Target(look, "No note", self._end_note))


def _asked_for(asked: Prompt) -> list[Offer]:
    """The offers that answer the question. Taking back has a place of its own: where yes or no is asked, only those
    two are answers, and elsewhere they are none."""
    return [o for o in answers_of(asked) if isinstance(o.command, cmd.Keep | cmd.Withdraw) is asked.waits_for_yes]


def _said(offer: Offer) -> str:
    return f"“{offer.phrases[0].replace(VALUE, '…')}”" if offer.phrases else ""


def answer_words(offer: Offer, words: Words, *, short: bool) -> str:
    """The words on an answer's target: what it is, and what may be said for it where that is something else."""
    label = words(offer.label)
    if short or label.lower() in offer.phrases:
        return label
    return f"{label}\n{_said(offer)}"
