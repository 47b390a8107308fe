"""Safety: the cautions of the day, minutes of dust, and whether a piece may be lifted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any, get_args

from fieldassist.assess.inputs import Field, Inputs, Value, called, day_inputs, unbelievable
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.state import State
from fieldassist.language import Words as Language
from fieldassist.trade import dust
from fieldassist.trade.message import Figure, message, term
from fieldassist.trade.quantities import Quantity, convert_exact
from fieldassist.ui import wellbeing
from fieldassist.ui.drafts import drafts
from fieldassist.ui.entry import Typed
from fieldassist.ui.pad import NumberEntry
from fieldassist.ui.parts import Choices, Column, Mark, Panel, Pick, Row, Scroll, Shape, Target, Words
from fieldassist.ui.planning import hint, input_lines, options, units_of
from fieldassist.ui.screen import Screen
from fieldassist.ui.wellbeing import Half, Standing

from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

if TYPE_CHECKING:
    from fieldassist.day.desk import View
    from fieldassist.day.session import Answer
    from fieldassist.ui.app import Tablet

_PARTS = ("cautions", "dust", "lifting")
_ADD = (5, 15, 30)


class Safety(Screen):
    """The screen."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._left, self._right, self._end = Column(), Column(), Column()
        self._refused = ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("frame", None):
                self.clear_widgets()
                self.add_widget(Words(self.look, self._tell(message("safety-none")), "large"))
            return
        half = self._half(view)
        if self.changed("frame", (half.part, half.asks, half.task is None, self._refused, self.language)):
            self._drawn = {"frame": self._drawn["frame"]}
            self._frame(half)
        if half.asks:
            return
        show = {"cautions": self._cautions, "dust": self._dust, "lifting": self._lifting}[half.part]
        show(view, half)

    # --- what all parts have --------------------------------------------------------------------------------------

    def _half(self, view: View) -> Half:
        """What is chosen and entered here, for this day."""
        path, half = self.tablet.memory.get("safety", (None, None))
        if half is None or path != view.path:
            half = Half()
            self.tablet.memory["safety"] = (view.path, half)
        kept: Half = half
        return kept

    def _set(self, **changes: Any) -> None:
        """Another choice, shown at once."""
        view = self.tablet.view
        if view is not None:
            half = self._half(view)
            for name, value in changes.items():
                setattr(half, name, value)
            self.tablet.refresh()  # not this screen alone: it may have been made anew meanwhile

    @property
    def language(self) -> Language:
        """In which words results are shown."""
        view = self.tablet.view
        words = view.words if view is not None else Language()
        return words.in_units("us" if self.tablet.us else "metric")

    def _tell(self, told: Figure) -> str:
        return self.language(told)

    def _frame(self, half: Half) -> None:
        upright = self.tablet.upright
        self.clear_widgets()
        self._left, self._right, self._end = Column(), Column(), Column()
        if half.asks:
            self._ask(half)
            return
        named = [(part, self._tell(message(f"safety-part-{part}"))) for part in _PARTS]
        parts = Pick(self.look, named, half.part, lambda part: self._set(part=part), columns=3 if upright else 1)
        frame = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=self.spacing)
        frame.add_widget(parts)
        two = half.part == "lifting" or (half.part == "dust" and half.task is not None)
        # On a tablet that stands upright, what comes of a lift is above its figures, where it is seen without pulling.
        columns = (self._right, self._left, self._end) if half.part == "lifting" else (self._left, self._right)
        if upright or not two:
            frame.add_widget(Scroll(_under_each_other(columns)))
        else:
            frame.add_widget(Scroll(self._left))
            frame.add_widget(Scroll(_under_each_other((self._right, self._end))))
        if not upright:
            parts.size_hint_x = 0.25 if two else 0.14
            parts.pos_hint = {"top": 1}
        self.add_widget(frame)

    def _ask(self, half: Half) -> None:
        """The number pad, for what is asked."""

        def typed(what: Typed, unit: str) -> None:
            half.typed, half.unit = what, unit

        title, hint, units, take = self._asked(half)
        self.add_widget(
            NumberEntry(
                self.look,
                title,
                units,
                take,
                self._asked_no_more,
                unit=half.unit if half.unit in units else units[0],
                upright=self.tablet.upright,
                hint=hint,
                typed=half.typed,
                changed=typed,
            )
        )

    def _asked(self, half: Half) -> tuple[str, str, Sequence[str], Callable[[Fraction, str], None]]:
        task = wellbeing.task_words(half.at)
        if half.asks == "minutes":
            title = self._tell(message("safety-minutes-of", **task))
            return title, self._tell(message("safety-of-whoever-speaks")), ("min", "h"), self._minutes_taken
        if half.asks == "measured":
            title = self._tell(message("safety-measured-of", **task))
            return title, self._tell(message("safety-measured-hint")), ("count",), self._measured_taken
        assert half.asks is not None
        hints = (self._refused, hint(self._inputs(), half.asks, self.language))
        title = self._tell(called(half.asks))
        return title, " ".join(one for one in hints if one), units_of(half.asks, self.language), self._number_taken

    def _asked_no_more(self) -> None:
        self._refused = ""
        self._set(asks=None, typed=Typed(), unit="")

    def _panel(self, into: Column, *lines: Widget, shape: Shape = "none") -> Panel:
        """A panel with lines under each other, beside a shape."""
        panel = Panel(self.look, row=True)
        if shape != "none":
            panel.add_widget(Mark(self.look, shape, role="panel", pos_hint={"top": 1}))
        text = Column(pos_hint={"top": 1})
        for line in lines:
            text.add_widget(line)
        panel.add_widget(text)
        into.add_widget(panel)
        return panel

    def _words(self, text: str, **rest: Any) -> Words:
        return Words(self.look, text, role="panel", **rest)

    def _pick_area(self, into: Column, state: State, name: str, columns: int) -> None:
        plan = state.plan
        areas = [a.name for a in plan.areas] if plan is not None else []
        if len(areas) > 1:
            named = [
                (a, self._tell(message("safety-at-hand" if a == state.active else "safety-area", area=a)))
                for a in areas
            ]
            into.add_widget(Pick(self.look, named, name, lambda area: self._set(area=area), columns=columns))

    @staticmethod
    def _area_name(state: State, half: Half) -> str:
        assert state.plan is not None
        return half.area or state.active or state.plan.areas[0].name

    # --- cautions -------------------------------------------------------------------------------------------------

    def _cautions(self, view: View, half: Half) -> None:
        state = view.state
        name = self._area_name(state, half)
        standing = wellbeing.cautions_of(state, view.events, name, self.language)
        if not self.changed("cautions", (name, state.active, standing)):
            return
        self._left.clear_widgets()
        self._pick_area(self._left, state, name, 2 if self.tablet.upright else 3)
        for one in standing:
            self._caution(one)
        if not standing:
            self._left.add_widget(Words(self.look, self._tell(message("safety-no-cautions"))))

    def _caution(self, one: Standing) -> None:
        panel = self._panel(
            self._left,
            self._words(one.words, bold=True),
            self._words(one.text, size="large" if one.ready else "plain", bold=False),
            self._words(self._tell(message("safety-source", basis=one.basis)), size="small", quiet=True),
            shape=one.shape,
        )
        if one.ready:
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

    def _dust(self, view: View, half: Half) -> None:
        state = view.state
        if self.changed("dust", (half.task, half.place, half.measured.get(half.at))):
            self._left.clear_widgets()
            if half.task is None:
                self._tasks()
            else:
                self._at_task(half)
        if self.changed("minutes", (state.dust, state.speaker, state.part, tuple(half.measured.items()))):
            self._right.clear_widgets()
            self._minutes(state, half)

    def _tasks(self) -> None:
        columns = 2 if self.tablet.upright else 3 if self.look.text > 1.2 else 4
        for code, tasks in (
            ("safety-which-task", get_args(dust.TableTask)),
            ("safety-other-tasks", get_args(dust.OtherTask)),
        ):
            self._left.add_widget(Words(self.look, self._tell(message(code))))
            named = [
                (task, self._tell(message("safety-a-task", task=term("engine-dust-task", task)))) for task in tasks
            ]
            targets = [Target(self.look, words, partial(self._set, task=task), size="plain") for task, words in named]
            self._left.add_widget(Choices(targets, columns))

    def _at_task(self, half: Half) -> None:
        look = self.look
        task, place = half.at
        title = self._tell(message("safety-a-task", task=term("engine-dust-task", task)))
        head = Row()
        head.add_widget(Words(look, title, "large", pos_hint={"center_y": 0.5}))
        another = self._tell(message("safety-another-task"))
        head.add_widget(Target(look, another, partial(self._set, task=None), size="plain", size_hint_x=0.5))
        self._left.add_widget(head)
        if half.place is None:
            self._left.add_widget(Words(look, wellbeing.place_assumed(self.language), quiet=True))
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
        asked = wellbeing.asked_for(task, place, self.language)
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
        measured = half.measured.get(half.at)
        words = message("safety-enter-measured")
        if measured is not None:
            words = message("safety-change-measured", value=measured)
        self._left.add_widget(Target(look, self._tell(words), partial(self._set, asks="measured"), size="plain"))

    def _minutes(self, state: State, half: Half) -> None:
        people = list(dict.fromkeys(entry.by for entry in state.dust))
        speaker = state.speaker.name if state.speaker is not None else ""
        if not speaker:
            self._panel(self._right, self._words(self._tell(message("safety-nobody-speaks"))))
        for person in sorted(people, key=lambda name: name != speaker):
            self._of_person(state, half, person)
        if not people:
            self._panel(self._right, self._words(self._tell(message("safety-no-minutes"))))
        last = next((e for e in reversed(state.dust) if e.by == speaker and e.part == state.part), None)
        if last is not None:
            out = cmd.NoteDust(task=last.task, place=last.place, minutes=Fraction(), replaces=last.seq)
            task = term("engine-dust-task", last.task)
            words = self._tell(message("safety-take-out", minutes=Quantity(last.minutes, "min"), task=task))
            self._right.add_widget(Target(self.look, words, partial(self.tablet.send, out), size="plain"))
        for text in wellbeing.dust_cautions(self.language):
            self._right.add_widget(Words(self.look, f"– {text}"))

    def _of_person(self, state: State, half: Half, person: str) -> None:
        of = wellbeing.dust_of(state.dust, person, self.language)
        within, average = wellbeing.average_of(state.dust, person, half.measured, self.language)
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
        task, place = self._half(view).at
        return cmd.NoteDust(task=task, place=place, minutes=minutes)

    def _minutes_taken(self, value: Fraction, unit: str) -> None:
        command = self._noting(convert_exact(value, unit, "min"))

        def then(answer: Answer | None) -> None:
            if answer is not None and answer.taken:
                self._asked_no_more()  # what was refused stays on the pad

        self.tablet.ask(lambda day: day.do(command), then)

    def _measured_taken(self, value: Fraction, _unit: str) -> None:
        view = self.tablet.view
        if view is not None:
            half = self._half(view)
            half.measured[half.at] = float(value)
        self._asked_no_more()

    # --- lifting --------------------------------------------------------------------------------------------------

    def _inputs(self) -> Inputs:
        view = self.tablet.view
        assert view is not None
        name = self._area_name(view.state, self._half(view))
        return day_inputs(view.state, view.events, name, drafts(self.tablet.memory, view.path).of(name))

    def _lifting(self, view: View, half: Half) -> None:
        state = view.state
        name = self._area_name(state, half)
        entries = dict(drafts(self.tablet.memory, view.path).of(name))
        if not self.changed("lifting", (name, entries, state.active, state.last_seq, self.language)):
            return
        inputs = self._inputs()
        self._left.clear_widgets()
        columns = 2 if self.tablet.upright or self.look.text > 1.2 else 3
        self._pick_area(self._left, state, inputs.name, columns)
        lines = input_lines(inputs, self.language, wellbeing.LIFT)
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
        for line in input_lines(inputs, self.language, wellbeing.CHOICES):
            self._left.add_widget(Words(self.look, f"{line.title}{f' ({line.origin})' if line.origin else ''}:"))
            given, take = inputs.given(line.field).value, partial(self._enter, line.field)
            self._left.add_widget(Pick(self.look, options(line.field, self.language), given, take))
        self._left.add_widget(Words(self.look, self._tell(message("safety-conditions"))))
        conditions = [
            Target(
                self.look,
                words,
                partial(self._enter, "conditions", inputs.conditions.value ^ {condition}),
                role="first" if holds else "button",
                chosen=holds,
                size="plain",
            )
            for condition, holds, words in wellbeing.conditions(inputs, self.language)
        ]
        self._left.add_widget(Choices(conditions, 2))
        self._right.clear_widgets()
        self._came_of_it(wellbeing.check_lift(inputs, self.language))

    def _came_of_it(self, check: wellbeing.LiftCheck) -> None:
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
            self._end.add_widget(Words(self.look, basis, "small", quiet=True))

    def _enter(self, field: Field, value: Value) -> None:
        view = self.tablet.view
        if view is not None:
            drafts(self.tablet.memory, view.path).of(self._inputs().name)[field] = value
            self.tablet.refresh()

    def _number_taken(self, value: Fraction, unit: str) -> None:
        view = self.tablet.view
        asked = self._half(view).asks if view is not None else None
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


def _under_each_other(columns: Sequence[Column]) -> Column:
    whole = Column()
    for column in columns:
        whole.add_widget(column)
    return whole
