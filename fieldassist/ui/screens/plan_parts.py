"""What lies behind the plan's first page: bags, lifts and handling with all that goes into them, and where each figure
comes from."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

from fieldassist.assess.inputs import FIELDS, Entries, Field, Value, day_inputs, entered, unbelievable
from fieldassist.day.desk import View
from fieldassist.trade.message import Figure, message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.drafts import Drafts
from fieldassist.ui.content.entry import LastValue, NumberQuestion
from fieldassist.ui.content.planning import InputLine, Part, PlanSheet, PlanVerdict, hint, options, units_of, work_out
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Divider, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip


class PlanDetail(Screen):
    """One area's sheet, pulled under a finger."""

    place = "plan"

    def _sheet(self) -> PlanSheet | None:
        """The area's sheet where it is another than at the last call, else None."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            return None
        names = [area.name for area in view.state.plan.areas]
        name = str(self.tablet.at_what.get("area") or view.state.active or names[0])
        entries = dict(self._drafts(view).of(name))
        if not self.changed("what", (view.path, view.state.last_seq, name, entries, self.tablet.words)):
            return None
        return work_out(day_inputs(view.state, name, entries), self.tablet.words)

    def title(self) -> tuple[str, str]:
        """The area."""
        return str(self.tablet.at_what.get("area", "")).capitalize(), ""

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _drafts(self, view: View) -> Drafts:
        return self.tablet.memory.of(Drafts, view.path)

    def _show(self, *inside: Widget) -> None:
        self.page.clear_widgets()
        column = ColumnBox(self.look, *inside, gap=10, rises=True)
        self.page.add_widget(Scroll(self.look, column))
        back = Key(self.look, self._tell(message("plan-page-back")), partial(self.tablet.go, "plan"), kind="action")
        self.act(back)

    def _line(self, words: str, *, bold: bool = False, quiet: bool = False, small: bool = False) -> TextLabel:
        size = "small" if small else "near"
        return TextLabel(self.look, words, size, bold=bold, role="quiet" if quiet else "ink")  # type: ignore[arg-type]


class PlanParts(PlanDetail):
    """Results by subject, and the inputs that make them, each of which can be entered anew."""

    def refresh(self) -> None:
        """Show what has changed."""
        sheet = self._sheet()
        if sheet is None:
            return
        columns = 2 if self.tablet.upright or self.look.text > 1.2 else 3
        inside: list[Widget] = []
        for part in sheet.parts:
            inside += self._part(part)
        for group in dict.fromkeys(line.group for line in sheet.lines):
            inside.append(self._line(group, bold=True))
            keys = [self._input(sheet, line) for line in sheet.lines if line.group == group]
            inside.append(Cells(self.look, keys, columns, high=TARGET + 20))
        self._show(*inside)

    def _part(self, part: Part) -> list[Widget]:
        shown: list[Widget] = [TextLabel(self.look, part.title, "key"), Divider(self.look)]
        if part.problem:
            shown.append(self._line(part.problem))
        for figure in part.figures:
            shown.append(self._line(figure.title, quiet=True))
            shown.append(self._line(figure.value, bold=True))
            if figure.words:
                shown.append(self._line(figure.words, small=True))
        shown += [self._line(caution, bold=True, small=True) for caution in part.cautions]
        return shown

    def _input(self, sheet: PlanSheet, line: InputLine) -> Key:
        origin = f" ({line.origin})" if line.origin else ""
        return Key(
            self.look,
            f"{line.title}: {line.text}{origin}",
            partial(self._ask, sheet, line),
            chosen=line.changed,
            size="small",
            named=line.title,
        )

    def _ask(self, sheet: PlanSheet, line: InputLine) -> None:
        """A choice is picked among its own; a number is typed, and taken where it can be believed."""
        field = line.field
        if FIELDS[field].options:
            show_keys(
                self.tablet,
                [
                    Key(self.look, words, partial(self._take, sheet, field, option), chosen=words == line.text)
                    for option, words in options(field, self.tablet.words)
                ],
            )
            return
        told = hint(sheet.inputs, field, self.tablet.words)
        stands, kind = sheet.inputs.given(field).value, FIELDS[field]
        asked = NumberQuestion(
            line.title,
            units_of(field, self.tablet.words),
            low=kind.least,
            high=kind.greatest,
            last=(LastValue(stands.value, stands.unit),) if isinstance(stands, Quantity) else (),
            note=told or None,
        )

        def take(value: Fraction, unit: str) -> None:
            self._take(sheet, field, Quantity(value, unit))

        self.tablet.ask_number(asked, take)

    def _take(self, sheet: PlanSheet, field: Field, value: Value) -> None:
        refusal = unbelievable(field, value) if isinstance(value, Quantity) else None
        if refusal is not None:
            self.tablet.refuse(self._tell(refusal))
            return
        self._enter(sheet, entered(sheet.inputs, field, value))

    def _enter(self, sheet: PlanSheet, values: Entries) -> None:
        view = self.tablet.view
        if view is not None:
            self._drafts(view).of(sheet.name).update(values)
            self.refresh()


class PlanSources(PlanDetail):
    """Where every figure comes from, and what is assumed."""

    def refresh(self) -> None:
        """Show what has changed."""
        sheet = self._sheet()
        if sheet is None:
            return
        inside: list[Widget] = []
        for verdict in (sheet.verdict, sheet.at_limit):
            if verdict is not None:
                inside += self._verdict(verdict)
        for part in sheet.parts:
            inside += [TextLabel(self.look, part.title, "key"), Divider(self.look)]
            for figure in part.figures:
                if figure.basis:
                    inside.append(self._line(f"{figure.title}: {figure.value}", bold=True))
                    inside.append(self._line(figure.basis, small=True))
            if part.assumed:
                inside.append(self._line(part.assumed, small=True))
        self._show(*inside)

    def _verdict(self, verdict: PlanVerdict) -> list[Widget]:
        shown: list[Widget] = [TextLabel(self.look, verdict.title, "key"), Divider(self.look)]
        told = (verdict.brief, *verdict.reasons, verdict.no_way, *verdict.others, verdict.basis, verdict.assumed)
        return shown + [self._line(words, small=True) for words in told if words]
