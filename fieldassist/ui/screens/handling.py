"""Handling one piece: one sentence and so many figures, from `assess`; what it rests on, and what may be entered."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

from fieldassist.assess.inputs import FIELDS, Field, Inputs, Value, called, day_inputs, unbelievable
from fieldassist.day.desk import View
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content import safety as content
from fieldassist.ui.content.drafts import Drafts
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.person import Carrying, carrying
from fieldassist.ui.content.planning import input_lines, options, units_of
from fieldassist.ui.content.safety import SafetyMemory
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.person_marks import LiftFigures
from fieldassist.ui.widgets.picks import picks
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel


class HandlingPage(Screen):
    """The screen."""

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        return self.tablet.words(message("person-handling")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        plan = view.state.plan if view is not None else None
        if view is None or plan is None or not plan.areas:
            return
        name = self._name(view)
        entries = dict(self._entries(view, name))
        if self.changed("all", (name, entries, view.state.active, self.tablet.units)):
            self._draw(view, name)

    def _name(self, view: View) -> str:
        plan = view.state.plan
        assert plan is not None
        kept = self.tablet.memory.of(SafetyMemory, view.path)
        return kept.area or view.state.active or plan.areas[0].name

    def _entries(self, view: View, name: str) -> dict[Field, Value]:
        return self.tablet.memory.of(Drafts, view.path).of(name)

    def _draw(self, view: View, name: str) -> None:
        look, words = self.look, self.tablet.words
        plan = view.state.plan
        assert plan is not None
        inputs = day_inputs(view.state, name, self._entries(view, name))
        found = carrying(view.state, name, self._entries(view, name))
        self.page.clear_widgets()
        inside = ColumnBox(look, gap=14, rises=True)
        if len(plan.areas) > 1:
            names = [(one.name, capital(one.name)) for one in plan.areas]
            columns = 2 if self.tablet.upright and look.text > 1.2 else min(4, len(names))
            inside.add_widget(picks(look, names, name, self._choose, columns=columns))
        figures = LiftFigures(look, found, side=112, pos_hint={"center_y": 0.5})
        inside.add_widget(RowBox(look, figures, TextLabel(look, words(found.told), "key"), gap=24, rises=True))
        inside.add_widget(TextLabel(look, words(found.more), "near"))
        self._fields(inside, inputs)
        self.page.add_widget(Scroll(look, inside))
        why = Key(look, words(message("frame-why")), partial(self._why, inputs, found), size="key", high=None)
        back = Key(look, words(message("frame-back")), self.tablet.back, size="near", high=None)
        self.act(why, back)

    def _fields(self, inside: ColumnBox, inputs: Inputs) -> None:
        """What the answer rests on; each is pressed to enter another."""
        look, words = self.look, self.tablet.words
        lines = input_lines(inputs, words, content.LIFT)
        keys = [
            Key(
                look,
                line.text,
                partial(self._number, line.field),
                caption=f"{line.title}{f' ({line.origin})' if line.origin else ''}",
                chosen=line.changed,
                size="near",
            )
            for line in lines
        ]
        columns = 2 if self.tablet.upright or look.text > 1.2 else 3
        told = 1 if self.tablet.upright and look.text > 1.2 else columns
        inside.add_widget(Cells(look, keys, told, high=124 if look.text <= 1.2 else 140))
        for line in input_lines(inputs, words, content.CHOICES):
            inside.add_widget(TextLabel(look, f"{line.title}{f' ({line.origin})' if line.origin else ''}", "small"))
            given = inputs.given(line.field).value
            choices = options(line.field, words)
            inside.add_widget(
                picks(look, choices, str(given), partial(self._enter, line.field), columns=min(columns, len(choices)))
            )
        inside.add_widget(TextLabel(look, words(message("safety-conditions")), "small"))
        holding = [
            Key(
                look,
                told,
                partial(self._enter, "conditions", inputs.conditions.value ^ {condition}),
                chosen=holds,
                size="near",
            )
            for condition, holds, told in content.conditions(inputs, words)
        ]
        inside.add_widget(Cells(look, holding, columns, high=106))

    def _choose(self, name: str) -> None:
        view = self.tablet.view
        if view is not None:
            self.tablet.memory.of(SafetyMemory, view.path).area = name
            self.tablet.refresh()

    def _enter(self, field: Field, value: Value) -> None:
        view = self.tablet.view
        if view is not None:
            self._entries(view, self._name(view))[field] = value
            self.tablet.refresh()

    def _number(self, field: Field) -> None:
        def taken(value: Fraction, unit: str) -> None:
            given = Quantity(value, unit)
            refusal = unbelievable(field, given)
            if refusal is not None:
                self.tablet.refuse(self.tablet.words(refusal))
            else:
                self._enter(field, given)

        kind = FIELDS[field]
        units = units_of(field, self.tablet.words)
        self.tablet.ask_number(NumberQuestion(called(field), units, kind.least, kind.greatest), taken)

    def _why(self, inputs: Inputs, found: Carrying) -> None:
        """What the answer rests on: assumptions, cautions, sources."""
        look, words = self.look, self.tablet.words
        check = content.check_lift(inputs, words)
        inside = ColumnBox(look, TextLabel(look, words(found.told), "near", bold=True), gap=14, rises=True)
        for told in (check.weight, *check.alone, check.suction, check.assumed, *check.cautions):
            if told:
                inside.add_widget(TextLabel(look, told, "near"))
        for told in check.bases:
            inside.add_widget(TextLabel(look, told, "small", role="quiet"))
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))
