"""Safety: the cautions of the day, minutes of dust, and whether a piece may be lifted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import Any, get_args

from fieldassist.assess.inputs import Field, Inputs, Value, called, day_inputs, unbelievable
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import PRESSED
from fieldassist.checklist.state import State
from fieldassist.day.desk import View
from fieldassist.day.session import Answer
from fieldassist.trade import dust
from fieldassist.trade.message import Figure, message, term
from fieldassist.trade.quantities import Quantity, convert_exact
from fieldassist.ui.content import safety as content
from fieldassist.ui.content.drafts import Drafts
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.content.planning import hint, input_lines, options, units_of
from fieldassist.ui.content.safety import CautionStanding, SafetyMemory
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.keypad import NumberEntry
from fieldassist.ui.widgets.parts import (
    Abreast,
    Choices,
    Panel,
    Pick,
    Scroll,
    Shape,
    Target,
    TextLabel,
    Upright,
    VerdictMark,
)

from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

_PARTS = ("cautions", "dust", "lifting")
_ADD = (5, 15, 30)


class Safety(Screen):
    """The screen."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._left, self._right, self._end = Upright(), Upright(), Upright()
        self._refused = ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("frame", None):
                self.clear_widgets()
                self.add_widget(TextLabel(self.look, self._tell(message("safety-none")), "large"))
            return
        kept = self._kept(view)
        if self.changed("frame", (kept.part, kept.asks, kept.task is None, self._refused, self.tablet.words)):
            self._drawn = {"frame": self._drawn["frame"]}
            self._frame(kept)
        if kept.asks:
            return
        show = {"cautions": self._cautions, "dust": self._dust, "lifting": self._lifting}[kept.part]
        show(view, kept)

    # --- what all parts have --------------------------------------------------------------------------------------

    def _kept(self, view: View) -> SafetyMemory:
        """What is chosen and entered here, for this day."""
        return self.tablet.memory.of(SafetyMemory, view.path)

    def _drafts(self, view: View) -> Drafts:
        """What was entered over the plan for this day."""
        return self.tablet.memory.of(Drafts, view.path)

    def _set(self, **changes: Any) -> None:
        """Another choice, shown at once."""
        view = self.tablet.view
        if view is not None:
            kept = self._kept(view)
            for name, value in changes.items():
                setattr(kept, name, value)
            self.tablet.refresh()  # not this screen alone: it may have been made anew meanwhile

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _frame(self, kept: SafetyMemory) -> None:
        upright = self.tablet.upright
        self.clear_widgets()
        self._left, self._right, self._end = Upright(), Upright(), Upright()
        if kept.asks:
            self._ask(kept)
            return
        named = [(part, self._tell(message(f"safety-part-{part}"))) for part in _PARTS]
        parts = Pick(self.look, named, kept.part, lambda part: self._set(part=part), columns=3 if upright else 1)
        frame = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=self.spacing)
        frame.add_widget(parts)
        two = kept.part == "lifting" or (kept.part == "dust" and kept.task is not None)
        # On a tablet that stands upright, what comes of a lift is above its figures, where it is seen without pulling.
        columns = (self._right, self._left, self._end) if kept.part == "lifting" else (self._left, self._right)
        if upright or not two:
            frame.add_widget(Scroll(_under_each_other(columns)))
        else:
            frame.add_widget(Scroll(self._left))
            frame.add_widget(Scroll(_under_each_other((self._right, self._end))))
        if not upright:
            parts.size_hint_x = 0.25 if two else 0.14
            parts.pos_hint = {"top": 1}
        self.add_widget(frame)

    def _ask(self, kept: SafetyMemory) -> None:
        """The number pad, for what is asked."""

        def typed(what: TypedEntry, unit: str) -> None:
            kept.typed, kept.unit = what, unit

        title, hint, units, take = self._asked(kept)
        self.add_widget(
            NumberEntry(
                self.look,
                title,
                units,
                take,
                self._asked_no_more,
                unit=kept.unit if kept.unit in units else units[0],
                upright=self.tablet.upright,
                hint=hint,
                typed=kept.typed,
                changed=typed,
            )
        )

    def _asked(self, kept: SafetyMemory) -> tuple[str, str, Sequence[str], Callable[[Fraction, str], None]]:
        task = content.task_words(kept.at)
        if kept.asks == "minutes":
            title = self._tell(message("safety-minutes-of", **task))
            return title, self._tell(message("safety-of-whoever-speaks")), ("min", "h"), self._minutes_taken
        if kept.asks == "measured":
            title = self._tell(message("safety-measured-of", **task))
            return title, self._tell(message("safety-measured-hint")), ("count",), self._measured_taken
        assert kept.asks is not None
        hints = (self._refused, hint(self._inputs(), kept.asks, self.tablet.words))
        title = self._tell(called(kept.asks))
        return title, " ".join(one for one in hints if one), units_of(kept.asks, self.tablet.words), self._number_taken

    def _asked_no_more(self) -> None:
        self._refused = ""
        self._set(asks=None, typed=TypedEntry(), unit="")

    def _panel(self, into: Upright, *lines: Widget, shape: Shape = "none") -> Panel:
        """A panel with lines under each other, beside a shape."""
        panel = Panel(self.look, row=True)
        if shape != "none":
            panel.add_widget(VerdictMark(self.look, shape, role="panel", pos_hint={"top": 1}))
        text = Upright(pos_hint={"top": 1})
        for line in lines:
            text.add_widget(line)
        panel.add_widget(text)
        into.add_widget(panel)
        return panel

    def _words(self, text: str, **rest: Any) -> TextLabel:
        return TextLabel(self.look, text, role="panel", **rest)

    def _pick_area(self, into: Upright, state: State, name: str, columns: int) -> None:
        plan = state.plan
        areas = [a.name for a in plan.areas] if plan is not None else []
        if len(areas) > 1:
            named = [
                (a, self._tell(message("safety-at-hand" if a == state.active else "safety-area", area=a)))
                for a in areas
            ]
            into.add_widget(Pick(self.look, named, name, lambda area: self._set(area=area), columns=columns))

    @staticmethod
    def _area_name(state: State, kept: SafetyMemory) -> str:
        assert state.plan is not None
        return kept.area or state.active or state.plan.areas[0].name

    # --- cautions -------------------------------------------------------------------------------------------------

    def _cautions(self, view: View, kept: SafetyMemory) -> None:
        state = view.state
        name = self._area_name(state, kept)
        standing = content.cautions_of(state, view.at, name, self.tablet.words)
        if not self.changed("cautions", (name, state.active, standing)):
            return
        self._left.clear_widgets()
        self._pick_area(self._left, state, name, 2 if self.tablet.upright else 3)
        for one in standing:
            self._caution(one)
        if not standing:
            self._left.add_widget(TextLabel(self.look, self._tell(message("safety-no-cautions"))))

    def _caution(self, one: CautionStanding) -> None:
        panel = self._panel(
            self._left,
            self._words(one.words, bold=True),
            *((self._words(one.missing, bold=True),) if one.missing else ()),
            self._words(one.text, size="large" if one.ready else "plain", bold=False),
            self._words(self._tell(message("safety-source", basis=one.basis)), size="small", quiet=True),
            shape=one.shape,
        )
        if one.first:
            understood = Target(
                self.look,
                self._tell(message("safety-understood")),
                lambda: self.tablet.send(cmd.AcknowledgeCaution()),
                role="first",
                size_hint_x=0.3,
                pos_hint={"center_y": 0.5},
            )
            panel.add_widget(understood)

    # --- dust -----------------------------------------------------------------------------------------------------

    def _dust(self, view: View, kept: SafetyMemory) -> None:
        state = view.state
        if self.changed("dust", (kept.task, kept.place, kept.measured.get(kept.at))):
            self._left.clear_widgets()
            if kept.task is None:
                self._tasks()
            else:
                self._at_task(kept)
        if self.changed("minutes", (state.dust, state.speaker, state.part, tuple(kept.measured.items()))):
            self._right.clear_widgets()
            self._minutes(state, kept)

    def _tasks(self) -> None:
        columns = 2 if self.tablet.upright else 3 if self.look.text > 1.2 else 4
        for code, tasks in (
            ("safety-which-task", get_args(dust.TableTask)),
            ("safety-other-tasks", get_args(dust.OtherTask)),
        ):
            self._left.add_widget(TextLabel(self.look, self._tell(message(code))))
            named = [
                (task, self._tell(message("safety-a-task", task=term("engine-dust-task", task)))) for task in tasks
            ]
            targets = [Target(self.look, words, partial(self._set, task=task), size="plain") for task, words in named]
            self._left.add_widget(Choices(targets, columns))

    def _at_task(self, kept: SafetyMemory) -> None:
        look = self.look
        task, place = kept.at
        title = self._tell(message("safety-a-task", task=term("engine-dust-task", task)))
        head = Abreast()
        head.add_widget(TextLabel(look, title, "large", pos_hint={"center_y": 0.5}))
        another = self._tell(message("safety-another-task"))
        head.add_widget(Target(look, another, partial(self._set, task=None), size="plain", size_hint_x=0.5))
        self._left.add_widget(head)
        if kept.place is None:
            self._left.add_widget(TextLabel(look, content.place_assumed(self.tablet.words), quiet=True))
        places = [(one, self._tell(message(f"safety-{one}"))) for one in ("indoors", "outdoors")]
        self._left.add_widget(Pick(look, places, place, lambda chosen: self._set(place=chosen)))
        targets = [
            Target(
                look,
                self._tell(message("safety-add-minutes", minutes=Quantity(Fraction(n), "min"))),
                partial(self._note, Fraction(n)),
                role="first",
                size="plain",
            )
            for n in _ADD
        ]
        other = self._tell(message("safety-other-minutes"))
        targets.append(Target(look, other, partial(self._set, asks="minutes"), size="plain"))
        self._left.add_widget(Choices(targets, 2 if look.text > 1.2 else 4))
        asked = content.asked_for(task, place, self.tablet.words)
        if asked.why:
            self._panel(self._left, self._words(asked.why), shape="caution")
        else:
            source = self._tell(message("safety-source", basis=asked.basis))
            self._panel(
                self._left,
                self._words(asked.control, bold=True),
                *(self._words(text) for text in asked.lines),
                self._words(source, size="small", quiet=True),
                shape="caution",
            )
        measured = kept.measured.get(kept.at)
        words = message("safety-enter-measured")
        if measured is not None:
            words = message("safety-change-measured", value=measured)
        self._left.add_widget(Target(look, self._tell(words), partial(self._set, asks="measured"), size="plain"))

    def _minutes(self, state: State, kept: SafetyMemory) -> None:
        people = list(dict.fromkeys(entry.by for entry in state.dust))
        speaker = state.speaker.name if state.speaker is not None else ""
        if not speaker:
            self._panel(self._right, self._words(self._tell(message("safety-nobody-speaks"))))
        for person in sorted(people, key=lambda name: name != speaker):
            self._of_person(state, kept, person)
        if not people:
            self._panel(self._right, self._words(self._tell(message("safety-no-minutes"))))
        last = next((e for e in reversed(state.dust) if e.by == speaker and e.part == state.part), None)
        if last is not None:
            out = cmd.NoteDust(task=last.task, place=last.place, minutes=Fraction(), replaces=last.seq)
            task = term("engine-dust-task", last.task)
            words = self._tell(message("safety-take-out", minutes=Quantity(last.minutes, "min"), task=task))
            self._right.add_widget(Target(self.look, words, partial(self.tablet.send, out), size="plain"))
        for text in content.dust_cautions(self.tablet.words):
            self._right.add_widget(TextLabel(self.look, f"– {text}"))

    def _of_person(self, state: State, kept: SafetyMemory, person: str) -> None:
        of = content.dust_of(state.dust, person, self.tablet.words)
        within, average = content.average_of(state.dust, person, kept.measured, self.tablet.words)
        self._panel(
            self._right,
            self._words(of.words, bold=True),
            *(self._words(text, bold=not at) for line in of.tasks for at, text in enumerate(line) if text),
            *(self._words(text, bold=not at and not within) for at, text in enumerate(average)),
            shape="failed" if not within else "caution" if of.over else "done",
        )

    def _note(self, minutes: Fraction) -> None:
        self.tablet.send(self._noting(minutes))

    def _noting(self, minutes: Fraction) -> cmd.NoteDust:
        view = self.tablet.view
        assert view is not None
        task, place = self._kept(view).at
        return cmd.NoteDust(task=task, place=place, minutes=minutes)

    def _minutes_taken(self, value: Fraction, unit: str) -> None:
        command = self._noting(convert_exact(value, unit, "min"))

        def then(answer: Answer | None) -> None:
            if answer is not None and answer.taken:
                self._asked_no_more()  # what was refused stays on the pad

        self.tablet.ask(lambda day: day.do(command, PRESSED), then)

    def _measured_taken(self, value: Fraction, _unit: str) -> None:
        view = self.tablet.view
        if view is not None:
            kept = self._kept(view)
            kept.measured[kept.at] = float(value)
        self._asked_no_more()

    # --- lifting --------------------------------------------------------------------------------------------------

    def _inputs(self) -> Inputs:
        view = self.tablet.view
        assert view is not None
        name = self._area_name(view.state, self._kept(view))
        return day_inputs(view.state, name, self._drafts(view).of(name))

    def _lifting(self, view: View, kept: SafetyMemory) -> None:
        state = view.state
        name = self._area_name(state, kept)
        entries = dict(self._drafts(view).of(name))
        if not self.changed("lifting", (name, entries, state.active, state.last_seq, self.tablet.words)):
            return
        inputs = self._inputs()
        self._left.clear_widgets()
        columns = 2 if self.tablet.upright or self.look.text > 1.2 else 3
        self._pick_area(self._left, state, inputs.name, columns)
        lines = input_lines(inputs, self.tablet.words, content.LIFT)
        targets = [
            Target(
                self.look,
                f"{line.title}\n{line.text}{f' ({line.origin})' if line.origin else ''}",
                partial(self._set, asks=line.field),
                size="plain",
                chosen=line.changed,
            )
            for line in lines
        ]
        self._left.add_widget(Choices(targets, 2))
        for line in input_lines(inputs, self.tablet.words, content.CHOICES):
            self._left.add_widget(TextLabel(self.look, f"{line.title}{f' ({line.origin})' if line.origin else ''}:"))
            given, take = inputs.given(line.field).value, partial(self._enter, line.field)
            self._left.add_widget(Pick(self.look, options(line.field, self.tablet.words), given, take))
        self._left.add_widget(TextLabel(self.look, self._tell(message("safety-conditions"))))
        conditions = [
            Target(
                self.look,
                words,
                partial(self._enter, "conditions", inputs.conditions.value ^ {condition}),
                role="first" if holds else "button",
                chosen=holds,
                size="plain",
            )
            for condition, holds, words in content.conditions(inputs, self.tablet.words)
        ]
        self._left.add_widget(Choices(conditions, 2))
        self._right.clear_widgets()
        self._came_of_it(content.check_lift(inputs, self.tablet.words))

    def _came_of_it(self, check: content.LiftCheck) -> None:
        self._panel(
            self._right,
            self._words(self._tell(message("safety-who")), quiet=True),
            self._words(check.who, size="large"),
            self._words(check.weight),
            self._words(check.suction),
            shape="now",
        )
        self._panel(
            self._right,
            self._words(self._tell(message("safety-alone")), quiet=True),
            *(self._words(text, bold=not at) for at, text in enumerate(check.alone)),
            shape="done" if check.good else "failed",
        )
        self._end.clear_widgets()
        if check.assumed:
            self._panel(self._end, self._words(check.assumed))
        self._panel(self._end, *(self._words(f"– {text}") for text in check.cautions), shape="caution")
        for basis in check.bases:
            self._end.add_widget(TextLabel(self.look, basis, "small", quiet=True))

    def _enter(self, field: Field, value: Value) -> None:
        view = self.tablet.view
        if view is not None:
            self._drafts(view).of(self._inputs().name)[field] = value
            self.tablet.refresh()

    def _number_taken(self, value: Fraction, unit: str) -> None:
        view = self.tablet.view
        asked = self._kept(view).asks if view is not None else None
        if asked is None or asked == "minutes" or asked == "measured":
            return
        given = Quantity(value, unit)
        refusal = unbelievable(asked, given)
        if refusal is not None:
            self._refused = self._tell(refusal)
            self.tablet.refresh()
            return
        self._enter(asked, given)
        self._asked_no_more()


def _under_each_other(columns: Sequence[Upright]) -> Upright:
    whole = Upright()
    for column in columns:
        whole.add_widget(column)
    return whole
