"""The step at hand, in huge words: what is asked, why, what may be said; big answers; what lies behind and ahead."""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from kivy.uix.boxlayout import BoxLayout

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.prompt import Offer, Prompt, Slot, short
from fieldassist.checklist.state import Area, State
from fieldassist.trade.quantities import System, unit_in_system
from fieldassist.ui.entry import Typed
from fieldassist.ui.pad import INCHES, Keys, Number
from fieldassist.ui.parts import (
    Choices,
    Column,
    Field,
    Mark,
    Panel,
    Row,
    Scroll,
    Shape,
    Target,
    Words,
    blank,
    gap,
)
from fieldassist.ui.screen import Screen

if TYPE_CHECKING:
    from fieldassist.ui.app import Tablet

_BEHIND, _AHEAD = 2, 4


class AtStep(Screen):
    """One step, what it asks, what may be said or pressed."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        upright = tablet.upright
        halves = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        told = BoxLayout(orientation="vertical", spacing=gap())
        self._words = Column()
        self._seen = Scroll(self._words)
        told.add_widget(self._seen)
        self._number = Column()
        told.add_widget(self._number)
        self._always = Row(pos_hint={"top": 1})
        self._answers = Column(pos_hint={"top": 1})
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
        return "note" in self.tablet.memory

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None:
            if self.changed("words", self.tablet.problem):
                self._words.add_widget(Words(self.look, "No day is open. Begin one on Today.", "large"))
            return
        state, asked = view.state, view.prompt
        area = state.area
        progress = area.progress if area is not None else None
        standing = (
            self.tablet.us,
            asked.say,
            asked.requirement,
            asked.basis,
            asked.caution,
            progress,
            state.active,
            state.speaker,
        )
        if self.changed("words", standing):
            self._words.clear_widgets()
            self._show_words(state, area, asked)
            self._seen.scroll_y = 1
        may = tuple((o.label, o.phrases, o.command, o.slot) for o in asked.answers)
        if self.changed(
            "answers", (may, asked.waits_for_yes, asked.caution, state.speaker, self._noting, self.tablet.us)
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
        look, words = self.look, self._words
        if area is not None:
            words.add_widget(Words(look, _where(area), "plain", quiet=True))
        if asked.caution is not None:
            panel = Panel(look, role="alarm", row=True)
            panel.add_widget(Mark(look, "caution", role="alarm", pos_hint={"center_y": 0.5}))
            panel.add_widget(Words(look, asked.caution, "large", role="alarm"))
            words.add_widget(panel)
        else:
            words.add_widget(Words(look, asked.say, "huge" if len(asked.say) < 90 else "large"))
        needed, basis, fails = self._needed(state, asked)
        if fails:
            panel = Panel(look, role="alarm", row=True)
            panel.add_widget(Mark(look, "failed", role="alarm", pos_hint={"center_y": 0.5}))
            panel.add_widget(Words(look, f"This fails: {fails}", "large", role="alarm"))
            words.add_widget(panel)
        if needed:
            words.add_widget(Words(look, f"Needed: {needed}", "large"))
        if basis:
            words.add_widget(Words(look, f"Basis: {basis}", "small", quiet=True))
        if asked.caution is not None:
            words.add_widget(
                Words(
                    look, "A reminder: the site's rules, local codes and licensed practice hold.", "small", quiet=True
                )
            )
        said = [_said(o) for o in asked.answers if o.phrases]
        if said and "Say '" not in asked.say:
            words.add_widget(Words(look, f"Say {', '.join(said[:6])}", "plain"))
        if area is not None:
            if area.step is not None and area.step.measures is not None and not asked.waits_for_yes:
                grid = Target(look, "Tap the tile's back on a grid", partial(self.tablet.go, "lift"), size="plain")
                words.add_widget(grid)
            self._show_sequence(area)
            self._show_trowels(area, asked)

    def _needed(self, state: State, asked: Prompt) -> tuple[str, str, str]:
        """What the step at hand must reach, in the units of the tablet, its basis, and how what waits for yes fails."""
        pending = state.pending
        area = state.areas[pending.area] if pending is not None else state.area
        step = area.step if area is not None and asked.caution is None else None
        criterion = area.criterion(step) if area is not None and step is not None else None
        if criterion is None:
            return "", asked.basis, ""
        fails = criterion.failure(pending.canonical, pending.unit) if pending is not None else None
        return criterion.text(unit_in_system(criterion.unit, self._system)), criterion.basis, fails or ""

    @property
    def _system(self) -> System:
        return "us" if self.tablet.us else "metric"

    def _show_sequence(self, area: Area) -> None:
        panel = Panel(self.look)
        for done in area.done[-_BEHIND:]:
            self._line(panel, "done", done.text)
        tasks = area.progress.tasks
        for index, task in enumerate(tasks[: _AHEAD + 1]):
            step = area.checklist.step(task.section, task.step)
            name = f"{short(step).capitalize()} ({area.checklist.holder(task.section).title.lower()})"
            self._line(panel, "waiting" if index else "now", name)
        more = len(tasks) - _AHEAD - 1
        if more > 0:
            self._line(panel, "none", f"and {more} more")
        if panel.children:
            self._words.add_widget(panel)

    def _line(self, panel: Panel, shape: Shape, text: str) -> None:
        row = Row()
        row.add_widget(Mark(self.look, shape, role="panel", pos_hint={"center_y": 0.5}))
        row.add_widget(Words(self.look, text, "plain", role="panel", bold=shape == "now", pos_hint={"center_y": 0.5}))
        panel.add_widget(row)

    def _show_trowels(self, area: Area, asked: Prompt) -> None:
        ways = [o for o in asked.offers if isinstance(o.command, cmd.ChangeNotch) and o.now]
        others = [o for o in ways if isinstance(o.command, cmd.ChangeNotch) and o.command.notch != area.notch]
        if area.step is not None or not others or area.progress.phase != "working":
            return
        look = self.look
        self._words.add_widget(Words(look, f"Trowel: {area.notch or 'as planned'}. Change it to", "plain", quiet=True))
        targets = [Target(look, o.label, partial(self.tablet.send, o.command), size="plain") for o in others]
        self._words.add_widget(Choices(targets, 2))

    # --- what is answered -----------------------------------------------------------------------------------------

    def _show_answers(self, state: State, area: Area | None, asked: Prompt) -> None:
        self._hand_over(state, area)
        valued = next((o for o in asked.answers if o.slot is not None), None)
        plain = [o for o in asked.answers if o.slot is None]
        if valued is not None and valued.slot is not None and valued.slot.dimension == "name":
            self._ask_name(valued)
        elif valued is not None and valued.slot is not None and not asked.waits_for_yes:
            self._ask_number(valued, valued.slot)
        answers = (cmd.Keep, cmd.Withdraw)
        # "Take back" has its own place below; here a no is an answer only where yes or no was asked.
        plain = [o for o in plain if isinstance(o.command, answers) is asked.waits_for_yes]
        few = len(plain) <= 2 and valued is None
        targets = [
            Target(
                self.look,
                _answer(offer, short=len(plain) > 4),
                partial(self.tablet.send, offer.command),
                role="first" if index == 0 else "button",
                size="huge" if few and len(offer.label) < 16 else "large",
                tall=2.0 if few else 1.2 if len(plain) <= 3 else 1.0,
            )
            for index, offer in enumerate(plain)
        ]
        if targets:
            self._answers.add_widget(Choices(targets, 1 if len(targets) <= 4 else 2))

    def _hand_over(self, state: State, area: Area | None) -> None:
        """At a hold point: whoever may release it says so with a press."""
        step = area.step if area is not None else None
        speaker = state.speaker
        if step is None or step.by is None or state.plan is None or (speaker is not None and speaker.role is step.by):
            return
        for person in state.plan.crew:
            if person.role is step.by:
                text = f"{person.name.title()} is here\n“this is {person.name}”"
                command = cmd.SpeakAs(name=person.name)
                self._answers.add_widget(Target(self.look, text, partial(self.tablet.send, command), role="first"))

    def _ask_number(self, offer: Offer, slot: Slot) -> None:
        units = sorted(slot.units, key=lambda unit: unit_in_system(unit, self._system) != unit)
        place = f"typed {self._place()}"
        typed, unit = self.tablet.memory.get(place, (Typed(), units[0]))

        def keep(typed: Typed, unit: str) -> None:
            self.tablet.memory[place] = (typed, unit)

        number = Number(self.look, units, unit if unit in units else units[0], typed, keep)
        self._number.add_widget(number)
        self._answers.add_widget(Keys(self.look, number.press, fractions=any(u in INCHES for u in units)))

        def read_back() -> None:
            value: Fraction | None = number.typed.value
            if value is not None:
                self.tablet.memory.pop(place, None)
                self.tablet.send(offer.fill(value, number.unit))

        self._answers.add_widget(Target(self.look, "Read it back", read_back, role="first"))

    def _place(self) -> str:
        """Which step is asked: what was typed for it stays until it is sent."""
        state = self.tablet.view.state if self.tablet.view is not None else None
        area = state.area if state is not None else None
        return f"{state.active if state else ''} {area.task if area else ''}"

    def _ask_name(self, offer: Offer) -> None:
        tablet, place = self.tablet, f"name {self._place()}"
        field = Field(self.look, tablet.takes_keys, tablet.memory.get(place, ""), hint="its name, such as row two left")
        field.bind(text=lambda _w, text: tablet.memory.__setitem__(place, text))
        self._answers.add_widget(field)

        def named() -> None:
            if field.text.strip():
                tablet.memory.pop(place, None)
                tablet.send(offer.fill(Fraction(0), "count", field.text.strip().lower()))

        self._answers.add_widget(Target(self.look, f"{offer.label}, with this name", named, size="plain"))

    # --- what is always there -------------------------------------------------------------------------------------

    def _show_always(self, *, undo: bool) -> None:
        look, tablet = self.look, self.tablet
        self._always.clear_widgets()
        targets = [
            Target(look, "Take back", partial(tablet.send, cmd.Withdraw()), size="plain") if undo else blank(1),
            Target(look, "Repeat", partial(tablet.send, cmd.Ask(about="repeat")), size="plain"),
            Target(look, "Photo", partial(tablet.go, "photos"), size="plain"),
            Target(look, "Note", self._begin_note, size="plain"),
        ]
        self._always.add_widget(Choices(targets, 4))

    def _begin_note(self) -> None:
        self.tablet.memory.setdefault("note", "")
        self.refresh()

    def _end_note(self) -> None:
        self.tablet.memory.pop("note", None)
        self.refresh()

    def _show_note(self) -> None:
        look, tablet = self.look, self.tablet
        self._answers.add_widget(Words(look, "A note", "large"))
        field = Field(look, tablet.takes_keys, tablet.memory["note"], hint="what should be remembered", lines=3)
        field.bind(text=lambda _w, text: tablet.memory.__setitem__("note", text))
        self._answers.add_widget(field)

        def keep() -> None:
            text = field.text.strip()
            if text:
                tablet.send(cmd.MakeNote(text=text[:2000]))
                self._end_note()

        self._answers.add_widget(Target(look, "Keep the note", keep, role="first"))
        if tablet.listens and not tablet.deaf:

            def speak() -> None:
                tablet.dictate()
                self._end_note()

            self._answers.add_widget(Target(look, "Speak it instead", speak))
        self._answers.add_widget(Target(look, "No note", self._end_note))


def _said(offer: Offer) -> str:
    return f"“{offer.phrases[0].replace('{value}', '…')}”" if offer.phrases else ""


def _answer(offer: Offer, *, short: bool) -> str:
    """The words on an answer's target: what it is, and what may be said for it where that is something else."""
    if short or offer.label.lower() in offer.phrases:
        return offer.label
    return f"{offer.label}\n{_said(offer)}"


def _where(area: Area) -> str:
    """Which area, which section, which round of it."""
    parts = [area.plan.name.capitalize()]
    if area.holder is not None and area.task is not None:
        rounds = area.task.round
        parts.append(f"{area.holder.title} {rounds}" if rounds > 1 else area.holder.title)
    parts.append(f"{area.progress.tiles} set, {area.progress.lifts_passed} good lifts")
    return " · ".join(parts)
