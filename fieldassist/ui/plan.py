"""The plan of an area: what notch, piece, base and mortar come to, reckoned anew with every input."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from kivy.uix.boxlayout import BoxLayout
from kivy.utils import escape_markup

from fieldassist.trade.quantities import Quantity
from fieldassist.ui.drawings import Ridges
from fieldassist.ui.entry import Typed
from fieldassist.ui.pad import NumberEntry
from fieldassist.ui.parts import Choices, Column, Mark, Panel, Pick, Row, Scroll, Shape, Target, Words, gap
from fieldassist.ui.planning import (
    ASK,
    Ask,
    InputLine,
    Inputs,
    Part,
    Sheet,
    Units,
    Value,
    Verdict,
    entries,
    start,
    work_out,
)
from fieldassist.ui.screen import Screen
from fieldassist.ui.theme import Role

if TYPE_CHECKING:
    from fieldassist.day.desk import View
    from fieldassist.ui.app import Tablet

MEMORY = "plan"
_SHAPES: dict[bool | None, Shape] = {True: "done", False: "failed", None: "caution"}


@dataclass(slots=True)
class Kept:
    """What was entered here for the day at path, and the last results.

    area: the one picked; asked: the input that is being entered, typed so far in unit; refused: why it was not taken.
    """

    path: Path | None = None
    area: str | None = None
    entered: dict[str, dict[str, Value]] = field(default_factory=dict)
    asked: str = ""
    typed: Typed = field(default_factory=Typed)
    unit: str = ""
    refused: str = ""
    sheet: Sheet | None = None


class Plan(Screen):
    """Inputs on one side, results on the other; an input that was pressed is asked for in their place."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._asked_for = 0
        self._inputs = Column()
        self._results = Column(spacing=2 * gap())
        self._head = Column()
        self._lower = Scroll(self._results)
        self._sides = self._body()

    def _body(self) -> BoxLayout:
        upright = self.tablet.upright
        body = BoxLayout(spacing=2 * gap(), orientation="vertical" if upright else "horizontal")
        results = BoxLayout(orientation="vertical", spacing=gap())
        results.add_widget(self._head)
        results.add_widget(self._lower)
        inputs = Scroll(self._inputs)
        if upright:
            inputs.size_hint_y, results.size_hint_y = 0.42, 0.58
        else:
            inputs.size_hint_x, results.size_hint_x = 0.42, 0.58
        for side in (results, inputs) if upright else (inputs, results):
            body.add_widget(side)
        return body

    # --- reckoning ------------------------------------------------------------------------------------------------

    @property
    def _kept(self) -> Kept:
        kept: Kept = self.tablet.memory.setdefault(MEMORY, Kept())
        return kept

    @property
    def units(self) -> Units:
        """In which results are shown."""
        return "us" if self.tablet.us else "metric"

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("shown", "nothing"):
                self.clear_widgets()
                words = "There is no plan yet. Begin a day on the screen Today; its areas are reckoned here."
                self.add_widget(Words(self.look, words, "large", pos_hint={"top": 1}))
            return
        if self._kept.path != view.path:
            # Another day has areas of its own, even where they are called the same.
            self.tablet.memory[MEMORY] = Kept(view.path)
        names = [area.name for area in view.state.plan.areas]
        name = self._kept.area or view.state.active or names[0]
        name = name if name in names else names[0]
        entered = dict(self._kept.entered.get(name, {}))
        if self.changed("inputs", (view.path, view.state.last_seq, name, entered, self.units)):
            self._reckon(view, name, entered)
        self._show(names)

    def _reckon(self, view: View, name: str, entered: dict[str, Value]) -> None:
        # In the day's thread: the first conversion of a unit takes longer than a screen may stand still.
        self._asked_for += 1
        number, units, found = self._asked_for, self.units, list[Sheet]()

        def work(_day: object) -> None:
            found.append(work_out(Inputs(start(view.state, view.events, name), entered), units))

        def then(_answer: object) -> None:
            if number == self._asked_for and found:
                self._kept.sheet = found[0]
                self.refresh()

        self.tablet.ask(work, then)

    # --- what is seen ---------------------------------------------------------------------------------------------

    def _show(self, names: list[str]) -> None:
        kept = self._kept
        sheet = kept.sheet
        if sheet is None:
            if self.changed("shown", "waiting"):
                self.clear_widgets()
                self.add_widget(Words(self.look, "The plan is being reckoned.", "large"))
            return
        if self.changed("lines", (sheet.name, sheet.lines)):
            self._show_inputs(sheet, names)
        if self.changed("head", sheet.verdict):
            self._head.clear_widgets()
            self._head.add_widget(self._heading(sheet.verdict))
        if self.changed("results of", sheet.name):
            self._lower.scroll_y = 1
        if self.changed("results", (sheet.name, sheet.verdict, sheet.at_limit, sheet.drawing, sheet.parts)):
            self._show_results(sheet)
        if self.changed("shown", (kept.asked, kept.refused)):
            self.clear_widgets()
            self.add_widget(self._entry(ASK[kept.asked], sheet) if kept.asked else self._sides)

    def _show_inputs(self, sheet: Sheet, names: list[str]) -> None:
        self._inputs.clear_widgets()
        if len(names) > 1:
            options = [(name, name.capitalize()) for name in names]
            self._inputs.add_widget(Pick(self.look, options, sheet.name, self._pick_area, columns=3))
        entered = sum(line.origin == "entered" for line in sheet.lines)
        words = "As planned" if not entered else f"As planned: puts back {entered} entered"
        self._inputs.add_widget(Target(self.look, words, self._as_planned, size="plain"))
        for group in dict.fromkeys(line.group for line in sheet.lines):
            self._inputs.add_widget(Words(self.look, group, "plain", bold=True))
            lines = [line for line in sheet.lines if line.group == group]
            self._inputs.add_widget(Choices([self._line(line) for line in lines], self._columns))

    @property
    def _columns(self) -> int:
        return 3 if self.tablet.upright and self.look.text <= 1.2 else 2

    def _heading(self, verdict: Verdict) -> Panel:
        role: Role = "good" if verdict.works else "alarm"
        panel = Panel(self.look, role=role, row=True, padding=(2 * gap(), gap()))
        panel.add_widget(Mark(self.look, _SHAPES[verdict.works], role=role, pos_hint={"center_y": 0.5}))
        title = Words(self.look, verdict.title, "large", role=role, size_hint_x=0.4, pos_hint={"center_y": 0.5})
        panel.add_widget(title)
        panel.add_widget(
            Words(self.look, verdict.brief, "plain", role=role, size_hint_x=0.6, pos_hint={"center_y": 0.5})
        )
        return panel

    def _line(self, line: InputLine) -> Target:
        origin = "" if line.origin == "plan" else f"({line.origin})"
        value = f"\n{escape_markup(line.text)} "
        if self.look.text <= 1.2:
            # Blanks keep the marks apart from the words, whose widths are measured.
            value = f" [size={self.look.font('large'):.0f}]{value}[/size]"
        return Target(
            self.look,
            f"{line.title}{value}{origin}",
            partial(self._ask, line.key),
            size="plain",
            markup=True,
            chosen=line.origin == "entered",
        )

    def _show_results(self, sheet: Sheet) -> None:
        self._results.clear_widgets()
        if sheet.drawing is not None:
            panel = Panel(self.look)
            panel.add_widget(Ridges(self.look, sheet.drawing))
            self._results.add_widget(panel)
        self._results.add_widget(self._verdict(sheet.verdict))
        if sheet.at_limit is not None:
            self._results.add_widget(self._verdict(sheet.at_limit, second=True))
        for part in sheet.parts:
            self._results.add_widget(self._part(part))

    def _verdict(self, verdict: Verdict, *, second: bool = False) -> Panel:
        look = self.look
        panel = Panel(look)
        if second:
            head = Row()
            head.add_widget(Mark(look, _SHAPES[verdict.works], role="panel", pos_hint={"center_y": 0.5}))
            head.add_widget(Words(look, verdict.title, role="panel", bold=True, pos_hint={"center_y": 0.5}))
            panel.add_widget(head)
        for reason in (*verdict.reasons, verdict.no_way):
            if reason:
                panel.add_widget(Words(look, reason, role="panel"))
        if verdict.basis:
            panel.add_widget(Words(look, verdict.basis, "small", role="panel", quiet=True))
        if verdict.tries:
            panel.add_widget(Words(look, "Nearest that works (common practice, no published source):", role="panel"))
        for other in verdict.tries:
            press = partial(self._enter, dict(other.entries))
            panel.add_widget(Target(look, f"Try {other.words}", press, size="plain"))
        return panel

    def _part(self, part: Part) -> Panel:
        look = self.look
        panel = Panel(look)
        panel.add_widget(Words(look, part.title, "large", role="panel"))
        if part.problem:
            panel.add_widget(Words(look, part.problem, "plain", role="panel"))
        for figure in part.figures:
            panel.add_widget(Words(look, figure.title, "plain", role="panel", quiet=True))
            panel.add_widget(Words(look, figure.value, "large", role="panel"))
            if figure.words:
                panel.add_widget(Words(look, figure.words, "plain", role="panel"))
            if figure.basis:
                panel.add_widget(Words(look, figure.basis, "small", role="panel", quiet=True))
        for caution in part.cautions:
            row = Row()
            row.add_widget(Mark(look, "caution", role="panel", pos_hint={"center_y": 0.5}))
            row.add_widget(Words(look, caution, "small", role="panel"))
            panel.add_widget(row)
        return panel

    # --- entering -------------------------------------------------------------------------------------------------

    def _entry(self, ask: Ask, sheet: Sheet) -> Scroll | NumberEntry:
        kept = self._kept
        line = next(line for line in sheet.lines if line.key == ask.key)
        if ask.options:
            column = Column()
            column.add_widget(Words(self.look, ask.title, "large"))
            given = sheet.inputs.given(ask.key).value
            take = partial(self._take, sheet, ask)
            column.add_widget(Pick(self.look, ask.options, given, take, columns=2, size="large"))
            column.add_widget(Target(self.look, "Leave as it is", self._leave))
            return Scroll(column)
        hint = " ".join(
            part
            for part in (kept.refused, sheet.inputs.hint(ask), f"It stands at {line.text} ({line.origin}).")
            if part
        )
        return NumberEntry(
            self.look,
            ask.title,
            ask.units,
            lambda value, unit: self._take(sheet, ask, Quantity(value, unit)),
            self._leave,
            unit=kept.unit,
            upright=self.tablet.upright,
            hint=hint,
            typed=kept.typed,
            changed=self._typing,
        )

    def _typing(self, typed: Typed, unit: str) -> None:
        self._kept.typed, self._kept.unit = typed, unit

    def _ask(self, key: str) -> None:
        kept, ask = self._kept, ASK[key]
        kept.asked, kept.typed, kept.refused = key, Typed(), ""
        kept.unit = ask.unit(self.units) if ask.units else ""
        self.refresh()

    def _leave(self) -> None:
        self._kept.asked, self._kept.refused = "", ""
        self.refresh()

    def _take(self, sheet: Sheet, ask: Ask, value: Value) -> None:
        self._kept.refused = ask.refusal(value, self.units) if isinstance(value, Quantity) else ""
        if self._kept.refused:
            self.refresh()
            return
        self._kept.asked = ""
        self._enter(entries(sheet.inputs, ask.key, value))

    def _enter(self, values: dict[str, Value]) -> None:
        if self._kept.sheet is not None:
            self._kept.entered.setdefault(self._kept.sheet.name, {}).update(values)
            self.refresh()

    def _as_planned(self) -> None:
        if self._kept.sheet is not None:
            self._kept.entered.pop(self._kept.sheet.name, None)
            self.refresh()

    def _pick_area(self, name: str) -> None:
        self._kept.area = name
        self.refresh()
