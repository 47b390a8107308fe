"""A lifted test tile: what it must show, its back marked cell by cell, the verdict, and when the next one is due."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import LiftJudged
from fieldassist.checklist.kinds import Choice, Lift, Reading, Step
from fieldassist.checklist.moment import PRESSED, TYPED, Source
from fieldassist.checklist.schema import Section
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.trade.message import Figure, Several
from fieldassist.trade.quantities import Quantity, format_size
from fieldassist.ui.content.back_grid import PARTS, Sketch, sides
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.content.lift_words import (
    current_lift,
    figure,
    full_on,
    good_lifts,
    how_near,
    lift_number,
    lift_section,
    lifts_so_far,
    next_due,
    on_grid,
    required,
    told_grid,
    told_lift,
    unit_of,
    verdict_words,
    why_now,
)
from fieldassist.ui.content.theme import ColourRole
from fieldassist.ui.content.tile_words import standing_of
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.keypad import NumberEntry
from fieldassist.ui.widgets.parts import (
    Abreast,
    Choices,
    EntryField,
    Panel,
    Scroll,
    Target,
    TextLabel,
    Upright,
    VerdictMark,
    blank,
    gap,
)
from fieldassist.ui.widgets.tile_back import Fitted, TileBack

from kivy.uix.boxlayout import BoxLayout  # isort: skip

# How what the cells come to is put down in the record.
ON_GRID = Source(how="counted on a grid")


@dataclass
class LiftMemory:
    """What was marked and entered for one lift and not sent.

    sketch: its back; label: as it stands on the tile; by_number: the step whose reading is given as a number, typed so
    far in unit, None where the grid gives it.
    """

    sketch: Sketch = field(default_factory=Sketch)
    label: str = ""
    by_number: str | None = None
    typed: TypedEntry = field(default_factory=TypedEntry)
    unit: str = ""


@dataclass
class NearBy:
    """Which part of a tile's back is seen near by, None for the whole."""

    part: str | None = None


class LiftScreen(Screen):
    """The current test tile, or the last one and when the next is due."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._near_by = tablet.memory.of(NearBy)
        self._show_figures: Callable[[], None] = lambda: None

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view, tablet = self.tablet.view, self.tablet
        state = view.state if view is not None else None
        area = state.area if state is not None else None
        if view is None or state is None or area is None:
            if self.changed("what", ("no area", view is None)):
                self.clear_widgets()
                self.add_widget(TextLabel(self.look, "No area is open. Start one on the first screen.", "large"))
                self.add_widget(blank())
            return
        lifts = lifts_so_far(view.events, area.plan.name)
        section = None if state.closed else current_lift(area)
        step = area.step if section is not None else None
        what: tuple[object, ...] = (
            area.plan.name,
            area.task if section is not None else None,
            view.prompt.ask,
            view.prompt.caution,
            view.prompt.reminders,
            tablet.words,
            lifts,
            bool(area.done),
        )
        if section is None:
            what += (area.progress.good_tiles, next_due(area, tablet.words), tuple(standing_of(area, tablet.words)))
        elif step is not None:
            kept = self._kept(area)
            what += (kept.sketch.looked, self._near_by.part, kept.by_number, kept.sketch.can_undo)
        if not self.changed("what", what):
            return
        self.clear_widgets()
        self._show_figures = lambda: None
        if section is None or step is None:
            self._show_between(view, area, lifts)
        elif view.prompt.waits_for_yes:
            self._ask_yes(area, step, tablet.words(view.prompt.ask))
        elif view.prompt.caution is not None:
            self._show_caution(view.prompt.caution, view.prompt.basis)
        else:
            self._show_step(area, section, step)

    def _kept(self, area: Area) -> LiftMemory:
        """What was entered for the current lift; it stays with its round until the program ends."""
        return self.tablet.memory.of(LiftMemory, self._round(area))

    def _round(self, area: Area) -> tuple[Path | None, Hashable, Hashable, Hashable]:
        """The current round among all days that this tablet has opened."""
        view, task = self.tablet.view, area.task
        at = (task.section, task.round) if task is not None else (None, None)
        return (view.path if view is not None else None, area.plan.name, *at)

    def _show_step(self, area: Area, section: Section, step: Step) -> None:
        if isinstance(step, Lift):
            self._show_lifting(area, section, step)
        elif isinstance(step, Reading) and (self._kept(area).by_number == step.id or not on_grid(step)):
            if self._kept(area).by_number != step.id:
                self._begin_pad(area, step)
            self._show_pad(area, step)
        elif step.measures is not None:
            self._show_back(area, section, step)
        else:
            self._show_other(step)

    def _scroll(self, column: Upright, **rest: Any) -> Scroll:
        """Show a column that may be pulled; its bar lies beside what is in it."""
        scroll = Scroll(column, **rest)
        self.add_widget(scroll)
        return scroll

    def _heading(self, area: Area) -> Abreast:
        piece, row = area.plan.piece, Abreast()
        title = f"Lift {lift_number(area)} · tile {area.aimed.tile if area.aimed else '?'}"
        longer, shorter = sides(piece)
        size = format_size(longer, shorter, "mm", self.tablet.units)
        row.add_widget(TextLabel(self.look, title, "large", size_hint_x=0.42))
        row.add_widget(
            TextLabel(self.look, f"{area.plan.name} · {size}", "plain", quiet=True, halign="right", size_hint_x=0.58)
        )
        return row

    def _ask_yes(self, area: Area, step: Step, question: str) -> None:
        column = Upright(spacing=2 * gap())
        column.add_widget(self._heading(area))
        column.add_widget(TextLabel(self.look, question, "huge"))
        if needed := required(area, step, self.tablet.words):
            column.add_widget(TextLabel(self.look, needed, "large"))
        yes = Target(self.look, "Yes", partial(self.tablet.send, cmd.Keep()), role="first")
        column.add_widget(Choices([yes, Target(self.look, "No", partial(self.tablet.send, cmd.Withdraw()))], 2))
        self._scroll(column)

    def _show_caution(self, text: Figure, basis: Figure | None) -> None:
        column = Upright(spacing=2 * gap())
        panel = Panel(self.look, role="alarm")
        panel.add_widget(TextLabel(self.look, self.tablet.words(text), "large", role="alarm"))
        if basis is not None:
            panel.add_widget(TextLabel(self.look, self.tablet.words(basis), "small", role="alarm"))
        column.add_widget(panel)
        understood = partial(self.tablet.send, cmd.AcknowledgeCaution())
        column.add_widget(Target(self.look, "Understood", understood, role="first"))
        self._scroll(column)

    # --- the tile comes off ---------------------------------------------------------------------------------------

    def _show_lifting(self, area: Area, section: Section, step: Lift) -> None:
        look, column, words = self.look, Upright(), self.tablet.words
        column.add_widget(self._heading(area))
        why = why_now(area)
        if why is not None:
            column.add_widget(TextLabel(look, f"Why: {words(why)}.", "large"))
        for reminder in self.tablet.view.prompt.reminders if self.tablet.view is not None else ():
            column.add_widget(TextLabel(look, words(reminder), "plain", bold=True))
        column.add_widget(TextLabel(look, words(step.ask), "plain"))
        if step.quantity == "label":
            kept = self._kept(area)
            field = EntryField(look, self.tablet.takes_keys, kept.label, hint="Label on the tile, if it has one")
            field.bind(text=lambda _w, text: setattr(kept, "label", text))
            column.add_widget(field)
        lifted = Target(look, words(step.name), partial(self._lifted, area, step), role="first")
        column.add_widget(Choices([lifted, *self._side_targets(area)], 2 if self.tablet.upright else 3))
        column.add_widget(self._requirements(area, section))
        self._scroll(column)

    def _requirements(self, area: Area, section: Section) -> Panel:
        """What each reading of the lift must come to, and where that comes from."""
        panel, words = Panel(self.look), self.tablet.words
        for step in section.steps:
            criterion = area.criterion(step)
            if criterion is None:
                continue
            needed = f"{words(step.name)}: {words(criterion.told)}"
            panel.add_widget(TextLabel(self.look, needed, "large", role="panel"))
            panel.add_widget(TextLabel(self.look, words(criterion.basis), "small", role="panel", quiet=True))
        return panel

    def _lifted(self, area: Area, step: Lift) -> None:
        label = self._kept(area).label.strip() or None
        task = area.task
        if task is not None:
            command = cmd.ConfirmLift(section=task.section, step=step.id, label=label)
            self.tablet.send(command, TYPED if label else PRESSED)

    # --- its back -------------------------------------------------------------------------------------------------

    def _show_back(self, area: Area, section: Section, step: Step) -> None:
        """The grid, and beside it (or under it) what it comes to and what can be done with that."""
        upright, part = self.tablet.upright, self._near_by.part
        sketch = self._kept(area).sketch
        back = TileBack(self.look, sketch, lambda: self._show_figures(), self.refresh, part)
        shown = BoxLayout(orientation="vertical", spacing=gap())
        side = Upright()
        if part is None:
            longer, shorter = sides(area.plan.piece)
            self.add_widget(self._heading(area))
            shown.add_widget(Fitted(back, float(longer / shorter)))
            shown.add_widget(TextLabel(self.look, "■ mortar   ◩ half   □ none", "small", halign="center"))
            shown.add_widget(self._grid_targets(sketch))
        else:
            # Near by, a cell is a target for a glove: as much as there is room for, in no tile's proportions.
            shown.add_widget(Fitted(back, None))
            side.add_widget(self._parts(part))
        self._fill_side(side, area, section, step, sketch)
        both = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        both.add_widget(shown)
        side_scroll = Scroll(side)
        if upright:
            shown.size_hint_y, side_scroll.size_hint_y = 0.55, 0.45
        else:
            shown.size_hint_x, side_scroll.size_hint_x = 0.62, 0.38
        both.add_widget(side_scroll)
        self.add_widget(both)

    def _parts(self, part: str) -> Upright:
        """Which part is seen, and the ways to the next one and back to the whole."""
        names = list(PARTS)
        number = names.index(part)
        after = names[(number + 1) % len(names)]
        column = Upright()
        column.add_widget(TextLabel(self.look, f"Part {number + 1} of {len(names)}: {part}", "plain", bold=True))
        near = [
            Target(self.look, "Next part", partial(self._near, after), size="plain"),
            Target(self.look, "Whole tile", partial(self._near, None), size="plain"),
        ]
        column.add_widget(Choices(near, 2))
        return column

    def _grid_targets(self, sketch: Sketch) -> Choices:
        """Under the whole grid: what is done to all of it, and the way to cells large enough for a glove."""
        targets = [Target(self.look, "Larger cells", partial(self._near, next(iter(PARTS))), size="plain")]
        if sketch.can_undo:
            targets.append(Target(self.look, "Undo stroke", partial(self._edit, sketch.undo), size="plain"))
        if sketch.looked:
            targets.append(Target(self.look, "Clear", partial(self._edit, sketch.clear), size="plain"))
        return Choices(targets, len(targets))

    def _near(self, part: str | None) -> None:
        self._near_by.part = part
        self.refresh()

    def _edit(self, change: Callable[[], None]) -> None:
        change()
        self._drawn.pop("what", None)
        self.refresh()

    def _fill_side(self, side: Upright, area: Area, section: Section, step: Step, sketch: Sketch) -> None:
        look = self.look
        side.add_widget(TextLabel(look, self.tablet.words(step.ask), "plain", bold=True))
        if sketch.looked:
            self._show_found(side, area, section, step, sketch)
        else:
            if needed := required(area, step, self.tablet.words):
                side.add_widget(TextLabel(look, needed, "plain", bold=True))
            how = "Touch where mortar is missing, or draw over it. Touch twice for half."
            side.add_widget(TextLabel(look, how, "plain"))
            side.add_widget(Target(look, "All covered", partial(self._edit, sketch.all_covered), size="plain"))
        if isinstance(step, Choice):
            side.add_widget(self._options(section, step, sketch))
        targets = []
        if isinstance(step, Reading):
            targets.append(Target(look, "Give a number", partial(self._open_pad, area, step), size="plain"))
        side.add_widget(Choices([*targets, *self._side_targets(area)], 2))
        side.add_widget(TextLabel(look, how_near(area, section, step, self.tablet.words), "small", quiet=True))

    def _show_found(self, side: Upright, area: Area, section: Section, step: Step, sketch: Sketch) -> None:
        """What the grid comes to, in figures that follow the finger."""
        look = self.look
        found = TextLabel(look, "", "huge")
        side.add_widget(found)
        if needed := required(area, step, self.tablet.words):
            side.add_widget(TextLabel(look, needed, "plain", bold=True))
        read_back = None
        if isinstance(step, Reading):
            read_back = Target(look, "", partial(self._read_back, area, step, sketch), role="first")
            side.add_widget(read_back)
        rest = TextLabel(look, "", "plain")
        side.add_widget(rest)

        def show() -> None:
            words = self.tablet.words
            found.text, rest.text = told_grid(sketch.grid, area, section, step, words)
            if read_back is not None:
                read_back.text = f"Read back {words(figure(sketch.grid, area, section, step, words))}"

        self._show_figures = show
        show()

    def _options(self, section: Section, step: Choice, sketch: Sketch) -> Choices:
        """The answers of a choice, marked where the grid says so."""
        targets = []
        for option in step.options:
            fits = sketch.looked and option.fails != full_on(sketch.grid, section, step)
            command = cmd.Choose(section=section.id, step=step.id, option=option.id)
            targets.append(
                Target(
                    self.look,
                    f"{self.tablet.words(option.label)}{' (as the grid)' if fits else ''}",
                    partial(self.tablet.send, command, ON_GRID if fits else PRESSED),
                    role="first" if fits else "button",
                    chosen=fits,
                    size="plain",
                )
            )
        return Choices(targets, 2)

    def _read_back(self, area: Area, step: Step, sketch: Sketch) -> None:
        section = current_lift(area)
        if section is not None:
            read = figure(sketch.grid, area, section, step, self.tablet.words)
            self._give(area, step, read.value, read.unit, ON_GRID)

    # --- by number, and the rest ----------------------------------------------------------------------------------

    def _open_pad(self, area: Area, step: Reading) -> None:
        self._begin_pad(area, step)
        self.refresh()

    def _begin_pad(self, area: Area, step: Reading) -> None:
        kept = self._kept(area)
        kept.by_number, kept.typed, kept.unit = step.id, TypedEntry(), ""

    def _close_pad(self, area: Area) -> None:
        self._kept(area).by_number = None
        self.refresh()

    def _show_pad(self, area: Area, step: Reading) -> None:
        kept = self._kept(area)

        def changed(typed: TypedEntry, unit: str) -> None:
            kept.typed, kept.unit = typed, unit

        self.add_widget(
            NumberEntry(
                self.look,
                self.tablet.words(step.ask),
                step.units,
                partial(self._give, area, step),
                partial(self._close_pad, area),
                unit=kept.unit or unit_of(step, self.tablet.words),
                upright=self.tablet.upright,
                hint=required(area, step, self.tablet.words),
                typed=kept.typed,
                changed=changed,
            )
        )

    def _give(self, area: Area, step: Step, value: Fraction, unit: str, source: Source = PRESSED) -> None:
        # The pad stays open behind the read-back: a refused or wrong number is still there to be put right.
        if area.task is not None:
            reading = cmd.GiveReading(section=area.task.section, step=step.id, value=value, unit=unit)
            self.tablet.send(reading, source)

    def _show_other(self, step: Step) -> None:
        column = Upright()
        column.add_widget(TextLabel(self.look, self.tablet.words(step.ask), "huge"))
        column.add_widget(Target(self.look, "Go to this step", partial(self.tablet.go, "area"), role="first"))
        column.add_widget(Target(self.look, "Photo", partial(self.tablet.go, "photos")))
        self._scroll(column)

    def _side_targets(self, area: Area) -> list[Target]:
        targets = [Target(self.look, "Photo", partial(self.tablet.go, "photos"), size="plain")]
        if area.done:
            take_back = partial(self.tablet.send, cmd.Withdraw())
            targets.append(Target(self.look, "Take back last answer", take_back, size="plain"))
        return targets

    # --- between lifts --------------------------------------------------------------------------------------------

    def _show_between(self, view: View, area: Area, lifts: Sequence[LiftJudged]) -> None:
        look, column, words = self.look, Upright(spacing=2 * gap()), self.tablet.words
        if lifts:
            column.add_widget(self._verdict(lifts[-1]))
            column.add_widget(TextLabel(look, f"Now: {words(view.prompt.ask)}", "large"))
        column.add_widget(
            Choices(
                [
                    Target(look, "Go to the step", partial(self.tablet.go, "area"), role="first"),
                    Target(look, "Photo", partial(self.tablet.go, "photos")),
                ],
                2,
            )
        )
        due = Panel(look)
        due.add_widget(TextLabel(look, f"Next test tile, {area.plan.name}", "plain", role="panel", quiet=True))
        due.add_widget(TextLabel(look, next_due(area, words), "large", role="panel"))
        section = lift_section(area)
        if section is not None:
            count, basis = good_lifts(area, words)
            due.add_widget(TextLabel(look, count, "large", role="panel"))
            due.add_widget(TextLabel(look, basis, "small", role="panel", quiet=True))
            if section.due is not None:
                due.add_widget(TextLabel(look, words(section.due.basis), "small", role="panel", quiet=True))
        for line in standing_of(area, words):
            due.add_widget(TextLabel(look, line, "plain", role="panel"))
        column.add_widget(due)
        if lifts:
            column.add_widget(TextLabel(look, "Lifts so far", quiet=True))
        for lift in reversed(lifts):
            row = Abreast()
            row.add_widget(VerdictMark(look, "done" if lift.passed else "failed"))
            row.add_widget(TextLabel(look, told_lift(lift, words), "large"))
            column.add_widget(row)
        self._scroll(column)

    def _verdict(self, lift: LiftJudged) -> Panel:
        look, words = self.look, self.tablet.words
        role: ColourRole = "good" if lift.passed else "alarm"
        panel = Panel(look, role=role)
        row = Abreast()
        row.add_widget(VerdictMark(look, "done" if lift.passed else "failed", role=role, pos_hint={"center_y": 0.5}))
        row.add_widget(TextLabel(look, verdict_words(lift), "huge", role=role))
        panel.add_widget(row)
        covered, asked = (words(Quantity(share, "percent")) for share in (lift.coverage, lift.required))
        panel.add_widget(TextLabel(look, f"{covered} covered, at least {asked} required", "large", role=role))
        for reason in lift.reasons:
            panel.add_widget(TextLabel(look, f"– {words(reason)}", "large", role=role))
        if lift.unread:
            unread = words(Several(lift.unread, "and"))
            panel.add_widget(TextLabel(look, f"Not read: {unread}.", "plain", role=role))
        panel.add_widget(TextLabel(look, words(lift.basis), "small", role=role))
        return panel
