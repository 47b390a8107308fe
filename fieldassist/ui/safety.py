"""Safety: the cautions of the day, minutes of dust, and whether a piece may be lifted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any, get_args

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.state import State
from fieldassist.trade import dust, lifting
from fieldassist.trade.quantities import System, convert_exact, format_quantity
from fieldassist.ui import wellbeing
from fieldassist.ui.entry import Typed
from fieldassist.ui.pad import NumberEntry
from fieldassist.ui.parts import Choices, Column, Mark, Panel, Pick, Row, Scroll, Shape, Target, Words
from fieldassist.ui.screen import Screen
from fieldassist.ui.wellbeing import Half, Lift, Standing

from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

if TYPE_CHECKING:
    from fieldassist.day.desk import View
    from fieldassist.day.session import Answer
    from fieldassist.ui.app import Tablet

_PARTS = (("cautions", "Cautions"), ("dust", "Dust"), ("lifting", "Lifting"))
_ADD = (5, 15, 30)
_DEFER = "The site's dust plan, its competent person and local rules come before all that stands here."


class Safety(Screen):
    """The screen."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._left, self._right, self._end = Column(), Column(), Column()

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("frame", None):
                self.clear_widgets()
                self.add_widget(Words(self.look, "No day is open. Begin one, or go on with one, at Today.", "large"))
            return
        half = self._half(view)
        if self.changed("frame", (half.part, half.asks, half.task is None)):
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
    def _system(self) -> System:
        return "us" if self.tablet.us else "metric"

    def _frame(self, half: Half) -> None:
        upright = self.tablet.upright
        self.clear_widgets()
        self._left, self._right, self._end = Column(), Column(), Column()
        if half.asks:
            self._ask(half)
            return
        parts = Pick(self.look, _PARTS, half.part, lambda part: self._set(part=part), columns=3 if upright else 1)
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
        task, place = half.task or "drill", half.place or "indoors"
        if half.asks == "minutes":
            return f"Minutes: {task}, {place}", "Of whoever speaks.", ("min", "h"), self._minutes_taken
        if half.asks == "measured":
            hint = "Respirable crystalline silica, measured during this task. It is not kept in the day's record."
            return f"µg/m³ in the air: {task}, {place}", hint, ("count",), self._measured_taken
        wanted = wellbeing.INPUTS[half.asks]
        return wanted.name, wanted.hint, wellbeing.units_of(half.asks, self._system), self._number_taken

    def _asked_no_more(self) -> None:
        self._set(asks="", typed=Typed(), unit="")

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
            options = [(a, f"{a.capitalize()}{', at hand' if a == state.active else ''}") for a in areas]
            into.add_widget(Pick(self.look, options, name, lambda area: self._set(area=area), columns=columns))

    @staticmethod
    def _area_name(state: State, half: Half) -> str:
        assert state.plan is not None
        return half.area or state.active or state.plan.areas[0].name

    # --- cautions -------------------------------------------------------------------------------------------------

    def _cautions(self, view: View, half: Half) -> None:
        state = view.state
        name = self._area_name(state, half)
        standing = wellbeing.cautions_of(state, view.events, name, self._system)
        if not self.changed("cautions", (name, state.active, standing)):
            return
        self._left.clear_widgets()
        self._pick_area(self._left, state, name, 2 if self.tablet.upright else 3)
        for one in standing:
            self._caution(one)
        if not standing:
            self._left.add_widget(Words(self.look, "The checklist of this area has no cautions."))

    def _caution(self, one: Standing) -> None:
        panel = self._panel(
            self._left,
            self._words(f"{one.words[:1].upper()}{one.words[1:]}", bold=True),
            self._words(one.text, size="large" if one.ready else "plain", bold=False),
            self._words(f"Source: {one.basis}", size="small", quiet=True),
            shape=one.shape,
        )
        if one.ready:
            understood = Target(
                self.look,
                "Understood",
                lambda: self.tablet.send(cmd.AcknowledgeCaution()),
                role="first",
                size_hint_x=0.3,
                pos_hint={"center_y": 0.5},
            )
            panel.add_widget(understood)

    # --- dust -----------------------------------------------------------------------------------------------------

    def _dust(self, view: View, half: Half) -> None:
        state = view.state
        if self.changed("dust", (half.task, half.place, half.measured.get(self._task(half)))):
            self._left.clear_widgets()
            if half.task is None:
                self._tasks()
            else:
                self._at_task(half)
        if self.changed("minutes", (state.dust, state.speaker, state.part, tuple(half.measured.items()))):
            self._right.clear_widgets()
            self._minutes(state, half)

    @staticmethod
    def _task(half: Half) -> wellbeing.Task:
        return half.task or "drill", half.place or "indoors"

    def _tasks(self) -> None:
        columns = 2 if self.tablet.upright else 3 if self.look.text > 1.2 else 4
        for title, tasks in (
            ("Which task? Those of Table 1 (29 CFR 1926.1153):", get_args(dust.TableTask)),
            ("Others, for which the table has no row:", get_args(dust.OtherTask)),
        ):
            self._left.add_widget(Words(self.look, title))
            targets = [
                Target(self.look, task.capitalize(), partial(self._set, task=task), size="plain") for task in tasks
            ]
            self._left.add_widget(Choices(targets, columns))

    def _at_task(self, half: Half) -> None:
        look = self.look
        task, place = self._task(half)
        head = Row()
        head.add_widget(Words(look, task.capitalize(), "large", pos_hint={"center_y": 0.5}))
        head.add_widget(Target(look, "Another task", partial(self._set, task=None), size="plain", size_hint_x=0.5))
        self._left.add_widget(head)
        if half.place is None:
            self._left.add_widget(Words(look, "Assumed until you say it: indoors.", quiet=True))
        places = (("indoors", "Indoors or closed in"), ("outdoors", "Outdoors"))
        self._left.add_widget(Pick(look, places, place, lambda chosen: self._set(place=chosen)))
        targets = [
            Target(look, f"+ {n} min", partial(self._note, Fraction(n)), role="first", size="plain") for n in _ADD
        ]
        targets.append(Target(look, "Other minutes", partial(self._set, asks="minutes"), size="plain"))
        self._left.add_widget(Choices(targets, 2 if look.text > 1.2 else 4))
        asked = wellbeing.asked_for(task, place)
        if asked.why:
            self._panel(self._left, self._words(asked.why), shape="caution")
        else:
            self._panel(
                self._left,
                self._words(f"Control: {asked.control}.", bold=True),
                self._words(f"Up to 4 h of such tasks a shift: {asked.up_to_four_hours}."),
                self._words(f"More than 4 h: {asked.more}."),
                *(self._words(text) for text in asked.cautions),
                self._words(f"Source: {asked.basis}", size="small", quiet=True),
                shape="caution",
            )
        measured = half.measured.get((task, place))
        words = "Enter what was measured in the air" if measured is None else f"Measured: {measured:g} µg/m³. Change it"
        self._left.add_widget(Target(look, words, partial(self._set, asks="measured"), size="plain"))

    def _minutes(self, state: State, half: Half) -> None:
        people = list(dict.fromkeys(entry.by for entry in state.dust))
        speaker = state.speaker.name if state.speaker is not None else ""
        if not speaker:
            self._panel(self._right, self._words("Minutes belong to whoever speaks. Say or choose who, at Today."))
        for person in sorted(people, key=lambda name: name != speaker):
            self._of_person(state, half, person)
        if not people:
            self._panel(self._right, self._words("No minutes of dust have been noted today."))
        last = next((e for e in reversed(state.dust) if e.by == speaker and e.part == state.part), None)
        if last is not None:
            out = cmd.NoteDust(task=last.task, place=last.place, minutes=Fraction(), replaces=last.seq)
            words = f"Take out the last: {format_quantity(last.minutes, 'min')}, {last.task}"
            self._right.add_widget(Target(self.look, words, partial(self.tablet.send, out), size="plain"))
        for text in (*dust.DUST_CAUTIONS, _DEFER):
            self._right.add_widget(Words(self.look, f"– {text}"))

    def _of_person(self, state: State, half: Half, person: str) -> None:
        of = wellbeing.dust_of(state.dust, person)
        within, average = wellbeing.average_of(state.dust, person, half.measured)
        self._panel(
            self._right,
            self._words(f"{person.title()}: {of.words}", bold=True),
            *(
                self._words(text, bold=bold)
                for (task, place), minutes, asked in of.tasks
                for text, bold in ((f"{task}, {place}: {format_quantity(minutes, 'min')}", True), (asked, False))
                if text
            ),
            *(self._words(text, bold=not at and not within) for at, text in enumerate(average)),
            shape="failed" if not within else "caution" if of.over else "done",
        )

    def _note(self, minutes: Fraction) -> None:
        self.tablet.send(self._noting(minutes))

    def _noting(self, minutes: Fraction) -> cmd.NoteDust:
        view = self.tablet.view
        assert view is not None
        task, place = self._task(self._half(view))
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
            half.measured[self._task(half)] = float(value)
        self._asked_no_more()

    # --- lifting --------------------------------------------------------------------------------------------------

    def _lifting(self, view: View, half: Half) -> None:
        state = view.state
        name = self._area_name(state, half)
        lift = half.lifts.setdefault(name, Lift())
        entered = (tuple(lift.numbers.items()), lift.duration, lift.grip, frozenset(lift.conditions))
        if not self.changed("lifting", (name, state.active, self._system, entered)):
            return
        area = wellbeing.area_of(state, name)
        assert area is not None
        self._left.clear_widgets()
        self._pick_area(self._left, state, name, 2 if self.tablet.upright or self.look.text > 1.2 else 3)
        numbers = [(key, wellbeing.number_of(area, lift, key)) for key in wellbeing.INPUTS]
        targets = [
            Target(
                self.look,
                "\n".join(
                    line
                    for line in (
                        wellbeing.INPUTS[key].name,
                        wellbeing.shown(key, number, self._system),
                        number.why,
                    )
                    if line
                ),
                partial(self._set, asks=key),
                size="plain",
            )
            for key, number in numbers
        ]
        self._left.add_widget(Choices(targets, 2))
        self._left.add_widget(Words(self.look, f"Such lifting a day{'' if lift.duration else ', assumed'}:"))
        self._left.add_widget(
            Pick(self.look, wellbeing.DURATIONS, lift.duration or "long", lambda d: self._lift(duration=d))
        )
        self._left.add_widget(Words(self.look, f"The hands hold it by{'' if lift.grip else ', assumed'}:"))
        self._left.add_widget(Pick(self.look, wellbeing.GRIPS, lift.grip or "poor", lambda g: self._lift(grip=g)))
        self._left.add_widget(Words(self.look, "Press what holds for this lift:"))
        conditions = [
            Target(
                self.look,
                f"{condition.capitalize()}: {'YES' if condition in lift.conditions else 'no'}",
                partial(self._turn, condition),
                role="first" if condition in lift.conditions else "button",
                chosen=condition in lift.conditions,
                size="plain",
            )
            for condition in lifting.NOT_COVERED
        ]
        self._left.add_widget(Choices(conditions, 2))
        self._right.clear_widgets()
        self._came_of_it(wellbeing.check_lift(area, lift, self._system))

    def _came_of_it(self, check: wellbeing.LiftCheck) -> None:
        self._panel(
            self._right,
            self._words("One person alone, standing, with both hands", quiet=True),
            *(self._words(text, size="plain" if at else "large") for at, text in enumerate(check.alone)),
            shape="done" if check.good else "failed",
        )
        self._panel(
            self._right,
            self._words("How many people", quiet=True),
            self._words(check.hands, bold=True),
            *([self._words(check.suction)] if check.suction else []),
            shape="now",
        )
        self._end.clear_widgets()
        self._panel(self._end, *(self._words(f"– {text}") for text in check.cautions), shape="caution")
        for basis in check.bases:
            self._end.add_widget(Words(self.look, f"Source: {basis}", "small", quiet=True))

    def _lift_of(self) -> Lift:
        view = self.tablet.view
        assert view is not None
        half = self._half(view)
        return half.lifts.setdefault(self._area_name(view.state, half), Lift())

    def _lift(self, **changes: Any) -> None:
        lift = self._lift_of()
        for name, value in changes.items():
            setattr(lift, name, value)
        self.tablet.refresh()

    def _turn(self, condition: lifting.Condition) -> None:
        self._lift_of().conditions ^= {condition}
        self.tablet.refresh()

    def _number_taken(self, value: Fraction, unit: str) -> None:
        view = self.tablet.view
        if view is not None:
            self._lift_of().numbers[self._half(view).asks] = (value, unit)
        self._asked_no_more()


def _under_each_other(columns: Sequence[Column]) -> Column:
    whole = Column()
    for column in columns:
        whole.add_widget(column)
    return whole
