"""The plan of an area: what notch, piece, base and mortar come to, reckoned anew with every input."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from fieldassist.assess.inputs import FIELDS, Entries, Field, Value, day_inputs, entered, unbelievable
from fieldassist.trade.message import Figure, message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.drafts import Drafts
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.planning import InputLine, Part, PlanSheet, PlanVerdict, hint, options, units_of, work_out
from fieldassist.ui.content.theme import ColourRole
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.drawings import Ridges
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
    gap,
)

from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.utils import escape_markup  # isort: skip

_SHAPES: dict[bool | None, Shape] = {True: "done", False: "failed", None: "caution"}


@dataclass(slots=True)
class PlanMemory:
    """What is looked at here for one day, and the last results.

    area: the one picked; asked: the input that is being entered, typed so far in unit; refused: why it was not taken.
    """

    area: str | None = None
    asked: Field | None = None
    typed: TypedEntry = field(default_factory=TypedEntry)
    unit: str = ""
    refused: str = ""
    sheet: PlanSheet | None = None


class Plan(Screen):
    """Inputs on one side, results on the other; an input that was pressed is asked for in their place."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._inputs = Upright()
        self._results = Upright(spacing=2 * gap())
        self._head = Upright()
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
    def _path(self) -> Path | None:
        # Another day has areas of its own, even where they are called the same.
        return self.tablet.view.path if self.tablet.view is not None else None

    @property
    def _kept(self) -> PlanMemory:
        return self.tablet.memory.of(PlanMemory, self._path)

    @property
    def _drafts(self) -> Drafts:
        return self.tablet.memory.of(Drafts, self._path)

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("shown", "nothing"):
                self.clear_widgets()
                self.add_widget(TextLabel(self.look, self._tell(message("plan-none")), "large", pos_hint={"top": 1}))
            return
        names = [area.name for area in view.state.plan.areas]
        name = self._kept.area or view.state.active or names[0]
        name = name if name in names else names[0]
        entries = dict(self._drafts.of(name))
        if self.changed("inputs", (view.path, view.state.last_seq, name, entries, self.tablet.words)):
            inputs = day_inputs(view.state, name, entries)
            self._kept.sheet = work_out(inputs, self.tablet.words)
        if self._kept.sheet is not None:
            self._show(self._kept.sheet, names)

    # --- what is seen ---------------------------------------------------------------------------------------------

    def _show(self, sheet: PlanSheet, names: list[str]) -> None:
        kept = self._kept
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
            self.add_widget(self._entry(kept.asked, sheet) if kept.asked else self._sides)

    def _show_inputs(self, sheet: PlanSheet, names: list[str]) -> None:
        self._inputs.clear_widgets()
        if len(names) > 1:
            options = [(name, capital(name)) for name in names]
            self._inputs.add_widget(Pick(self.look, options, sheet.name, self._pick_area, columns=3))
        count = sum(line.changed for line in sheet.lines)
        words = self._tell(message("plan-puts-back", count=count) if count else message("plan-as-planned"))
        self._inputs.add_widget(Target(self.look, words, self._as_planned, size="plain"))
        for group in dict.fromkeys(line.group for line in sheet.lines):
            self._inputs.add_widget(TextLabel(self.look, group, "plain", bold=True))
            lines = [line for line in sheet.lines if line.group == group]
            self._inputs.add_widget(Choices([self._line(line) for line in lines], self._columns))

    @property
    def _columns(self) -> int:
        return 3 if self.tablet.upright and self.look.text <= 1.2 else 2

    def _heading(self, verdict: PlanVerdict) -> Panel:
        role: ColourRole = "good" if verdict.works else "alarm"
        panel = Panel(self.look, role=role, row=True, padding=(2 * gap(), gap()))
        panel.add_widget(VerdictMark(self.look, _SHAPES[verdict.works], role=role, pos_hint={"center_y": 0.5}))
        title = TextLabel(self.look, verdict.title, "large", role=role, size_hint_x=0.4, pos_hint={"center_y": 0.5})
        panel.add_widget(title)
        panel.add_widget(
            TextLabel(self.look, verdict.brief, "plain", role=role, size_hint_x=0.6, pos_hint={"center_y": 0.5})
        )
        return panel

    def _line(self, line: InputLine) -> Target:
        origin = f"({line.origin})" if line.origin else ""
        value = f"\n{escape_markup(line.text)} "
        if self.look.text <= 1.2:
            # Blanks keep the marks apart from the words, whose widths are measured.
            value = f" [size={self.look.font('large'):.0f}]{value}[/size]"
        return Target(
            self.look,
            f"{line.title}{value}{origin}",
            partial(self._ask, line.field),
            size="plain",
            markup=True,
            chosen=line.changed,
        )

    def _show_results(self, sheet: PlanSheet) -> None:
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

    def _verdict(self, verdict: PlanVerdict, *, second: bool = False) -> Panel:
        look = self.look
        panel = Panel(look)
        if second:
            head = Abreast()
            head.add_widget(VerdictMark(look, _SHAPES[verdict.works], role="panel", pos_hint={"center_y": 0.5}))
            head.add_widget(TextLabel(look, verdict.title, role="panel", bold=True, pos_hint={"center_y": 0.5}))
            panel.add_widget(head)
        for reason in (*verdict.reasons, verdict.no_way):
            if reason:
                panel.add_widget(TextLabel(look, reason, role="panel"))
        if verdict.basis:
            panel.add_widget(TextLabel(look, verdict.basis, "small", role="panel", quiet=True))
        if verdict.assumed:
            panel.add_widget(TextLabel(look, verdict.assumed, "small", role="panel"))
        if verdict.tries:
            panel.add_widget(TextLabel(look, self._tell(message("plan-nearest")), role="panel"))
        for other in verdict.tries:
            press = partial(self._enter, other.entries)
            panel.add_widget(Target(look, other.words, press, size="plain"))
        return panel

    def _part(self, part: Part) -> Panel:
        look = self.look
        panel = Panel(look)
        panel.add_widget(TextLabel(look, part.title, "large", role="panel"))
        if part.problem:
            panel.add_widget(TextLabel(look, part.problem, "plain", role="panel"))
        for figure in part.figures:
            panel.add_widget(TextLabel(look, figure.title, "plain", role="panel", quiet=True))
            panel.add_widget(TextLabel(look, figure.value, "large", role="panel"))
            if figure.words:
                panel.add_widget(TextLabel(look, figure.words, "plain", role="panel"))
            if figure.basis:
                panel.add_widget(TextLabel(look, figure.basis, "small", role="panel", quiet=True))
        if part.assumed:
            panel.add_widget(TextLabel(look, part.assumed, "small", role="panel"))
        for caution in part.cautions:
            row = Abreast()
            row.add_widget(VerdictMark(look, "caution", role="panel", pos_hint={"center_y": 0.5}))
            row.add_widget(TextLabel(look, caution, "small", role="panel"))
            panel.add_widget(row)
        return panel

    # --- entering -------------------------------------------------------------------------------------------------

    def _entry(self, field: Field, sheet: PlanSheet) -> Scroll | NumberEntry:
        kept = self._kept
        line = next(line for line in sheet.lines if line.field == field)
        take = partial(self._take, sheet, field)
        leave = self._tell(message("plan-leave"))
        if FIELDS[field].options:
            column = Upright()
            column.add_widget(TextLabel(self.look, line.title, "large"))
            given = sheet.inputs.given(field).value
            column.add_widget(Pick(self.look, options(field, self.tablet.words), given, take, columns=2, size="large"))
            column.add_widget(Target(self.look, leave, self._leave))
            return Scroll(column)
        origin = line.origin or self._tell(message("plan-origin-plan"))
        stands = self._tell(message("plan-stands-at", value=line.text, origin=origin))
        return NumberEntry(
            self.look,
            line.title,
            units_of(field, self.tablet.words),
            lambda value, unit: take(Quantity(value, unit)),
            self._leave,
            unit=kept.unit,
            upright=self.tablet.upright,
            hint=" ".join(
                part for part in (kept.refused, hint(sheet.inputs, field, self.tablet.words), stands) if part
            ),
            typed=kept.typed,
            changed=self._typing,
        )

    def _typing(self, typed: TypedEntry, unit: str) -> None:
        self._kept.typed, self._kept.unit = typed, unit

    def _ask(self, field: Field) -> None:
        kept = self._kept
        kept.asked, kept.typed, kept.refused = field, TypedEntry(), ""
        kept.unit = next(iter(units_of(field, self.tablet.words)), "")
        self.refresh()

    def _leave(self) -> None:
        self._kept.asked, self._kept.refused = None, ""
        self.refresh()

    def _take(self, sheet: PlanSheet, field: Field, value: Value) -> None:
        refusal = unbelievable(field, value) if isinstance(value, Quantity) else None
        if refusal is not None:
            self._kept.refused = self._tell(refusal)
            self.refresh()
            return
        self._kept.asked, self._kept.refused = None, ""
        self._enter(entered(sheet.inputs, field, value))

    def _enter(self, values: Entries) -> None:
        sheet = self._kept.sheet
        if sheet is not None:
            self._drafts.of(sheet.name).update(values)
            self.refresh()

    def _as_planned(self) -> None:
        sheet = self._kept.sheet
        if sheet is not None:
            self._drafts.by_area.pop(sheet.name, None)
            self.refresh()

    def _pick_area(self, name: str) -> None:
        self._kept.area = name
        self.refresh()
