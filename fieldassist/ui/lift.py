"""A lifted test tile: what it must show, its back marked cell by cell, the verdict, and when the next one is due."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.prompt import short
from fieldassist.checklist.schema import Kind, Section, Step
from fieldassist.checklist.state import Area
from fieldassist.report.story import in_units
from fieldassist.report.told import Units
from fieldassist.trade.quantities import format_quantity, format_size
from fieldassist.ui.back_grid import PART, PARTS, SIDE, Cell, Sketch, sides
from fieldassist.ui.entry import Typed
from fieldassist.ui.lift_words import (
    at_hand,
    figure,
    good_lifts,
    how_near,
    lift_number,
    lift_section,
    lifts_so_far,
    next_due,
    required,
    told_grid,
    told_lift,
    unit_of,
    why_now,
)
from fieldassist.ui.pad import NumberEntry
from fieldassist.ui.parts import (
    Choices,
    Column,
    Field,
    Look,
    Mark,
    Panel,
    Row,
    Scroll,
    Target,
    Words,
    blank,
    gap,
)
from fieldassist.ui.screen import Screen
from fieldassist.ui.theme import Role, rgb

from kivy.graphics import Color, Line, Mesh, Rectangle  # isort: skip
from kivy.uix.anchorlayout import AnchorLayout  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

if TYPE_CHECKING:
    from fieldassist.checklist.events import LiftJudged
    from fieldassist.day.desk import View
    from fieldassist.ui.app import Tablet


class TileBack(Widget):
    """The cells of a sketch, or those of one of its PARTS, to be marked with a finger.

    changed: called whenever a cell was; ended: once the finger is up.
    """

    def __init__(
        self,
        look: Look,
        sketch: Sketch,
        changed: Callable[[], None],
        ended: Callable[[], None],
        part: str | None = None,
        **rest: Any,
    ) -> None:
        super().__init__(size_hint=(None, None), **rest)
        self.sketch = sketch
        self._look, self._changed, self._ended = look, changed, ended
        self.cells = (SIDE, SIDE) if part is None else PART  # how many are seen across and down
        self._first = (0, 0) if part is None else PARTS[part]
        self.bind(pos=self.draw, size=self.draw)

    def draw(self, *_: Any) -> None:
        """Show the cells: full ones are filled, half ones in a triangle, empty ones are only framed."""
        theme = self._look.theme
        wide, high = self.width / self.cells[0], self.height / self.cells[1]
        inner = gap() / 6
        self.canvas.clear()
        with self.canvas:
            Color(*rgb(theme.panel.ground))
            Rectangle(pos=self.pos, size=self.size)
            for column in range(self.cells[0]):
                for row in range(self.cells[1]):
                    cell = self.sketch.grid.at((self._first[0] + column, self._first[1] + row))
                    x, y = self.x + column * wide, self.top - (row + 1) * high
                    left, low, right, top = x + inner, y + inner, x + wide - inner, y + high - inner
                    Color(*rgb(theme.panel.ink))
                    if cell is Cell.FULL:
                        Rectangle(pos=(left, low), size=(right - left, top - low))
                    elif cell is Cell.HALF:
                        corners = [left, low, 0, 0, left, top, 0, 0, right, top, 0, 0]
                        Mesh(vertices=corners, indices=[0, 1, 2], mode="triangles")
                    Color(*rgb(theme.line))
                    Line(rectangle=(x, y, wide, high), width=1)
            Color(*rgb(theme.panel.ink))
            Line(rectangle=(*self.pos, *self.size), width=2)

    def _point(self, touch: Any) -> tuple[float, float]:
        """Where a finger is, in cells."""
        return (
            self._first[0] + (touch.x - self.x) / self.width * self.cells[0],
            self._first[1] + (self.top - touch.y) / self.height * self.cells[1],
        )

    def _inside(self, touch: Any) -> bool:
        return bool(self.x <= touch.x < self.right and self.y < touch.y <= self.top)

    def on_touch_down(self, touch: Any) -> bool:
        """A stroke begins; a second finger is no part of it."""
        if not self._inside(touch):
            return False
        touch.grab(self)
        self.sketch.press(self._point(touch))
        self.draw()
        self._changed()
        return True

    def on_touch_move(self, touch: Any) -> bool:
        """It goes on, and beside the grid it marks nothing."""
        if touch.grab_current is not self:
            return False
        if self._inside(touch):
            self.sketch.drag(self._point(touch))
            self.draw()
            self._changed()
        return True

    def on_touch_up(self, touch: Any) -> bool:
        """It ends."""
        if touch.grab_current is not self:
            return False
        touch.ungrab(self)
        self._ended()
        return True


class Fitted(AnchorLayout):
    """Gives what is inside as much room as there is, in its proportions (width to height), or all of it for None."""

    def __init__(self, inside: Widget, proportion: float | None, **rest: Any) -> None:
        super().__init__(anchor_x="center", anchor_y="top", **rest)
        self._inside, self._proportion = inside, proportion
        self.add_widget(inside)
        self.bind(size=self._fit)

    def _fit(self, *_: Any) -> None:
        wide, high = self.size
        if self._proportion is not None:
            wide, high = min(wide, high * self._proportion), min(high, wide / self._proportion)
        self._inside.size = (wide, high)


class Lift(Screen):
    """The test tile at hand, or the last one and when the next is due."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._kept: dict[str, Any] = tablet.memory.setdefault("lift", {})
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
                self.add_widget(Words(self.look, "No area is open. Start one on the first screen.", "large"))
                self.add_widget(blank())
            return
        lifts = lifts_so_far(view.events, area.plan.name)
        section = None if state.closed else at_hand(area)
        step = area.step if section is not None else None
        what: tuple[object, ...] = (
            area.plan.name,
            area.task if section is not None else None,
            view.prompt.say,
            view.prompt.caution,
            tablet.us,
            lifts,
            bool(area.done),
        )
        if section is None:
            what += (area.progress.lifts_passed, next_due(area, self._system))
        elif step is not None:
            sketch = self._sketch(area)
            what += (sketch.looked, self._kept.get("part"), self._by_number(area), sketch.can_undo)
        if not self.changed("what", what):
            return
        self.clear_widgets()
        self._show_figures = lambda: None
        if section is None or step is None:
            self._show_between(view, area, lifts)
        elif view.prompt.waits_for_yes:
            self._ask_yes(area, step, view.prompt.say)
        elif view.prompt.caution is not None:
            self._show_caution(view.prompt.say, view.prompt.basis)
        else:
            self._show_step(view, area, section, step)

    @property
    def _system(self) -> Units:
        return "us" if self.tablet.us else "metric"

    def _show_step(self, view: View, area: Area, section: Section, step: Step) -> None:
        if step.kind is Kind.LIFT:
            self._show_lifting(view, area, section, step)
        elif step.kind is Kind.READING and self._by_number(area):
            self._show_pad(area, step)
        elif step.measures is not None:
            self._show_back(area, section, step)
        else:
            self._show_other(step)

    def _scroll(self, column: Column, **rest: Any) -> Scroll:
        """Show a column that may be pulled; its bar lies beside what is in it."""
        scroll = Scroll(column, **rest)
        self.add_widget(scroll)
        return scroll

    def _heading(self, area: Area) -> Row:
        piece, row = area.plan.piece, Row()
        title = f"Lift {lift_number(area)} · tile {area.progress.tiles}"
        if area.progress.lift_label:
            title += f" ({area.progress.lift_label})"
        longer, shorter = sides(piece)
        size = format_size(longer, shorter, "mm", self._system)
        row.add_widget(Words(self.look, title, "large", size_hint_x=0.42))
        row.add_widget(
            Words(self.look, f"{area.plan.name} · {size}", "plain", quiet=True, halign="right", size_hint_x=0.58)
        )
        return row

    def _ask_yes(self, area: Area, step: Step, question: str) -> None:
        column = Column(spacing=2 * gap())
        column.add_widget(self._heading(area))
        column.add_widget(Words(self.look, question, "huge"))
        if needed := required(area, step, us=self.tablet.us):
            column.add_widget(Words(self.look, needed, "large"))
        yes = Target(self.look, "Yes", partial(self.tablet.send, cmd.Keep()), role="first")
        column.add_widget(Choices([yes, Target(self.look, "No", partial(self.tablet.send, cmd.Withdraw()))], 2))
        self._scroll(column)

    def _show_caution(self, text: str, basis: str) -> None:
        column = Column(spacing=2 * gap())
        panel = Panel(self.look, role="alarm")
        panel.add_widget(Words(self.look, text, "large", role="alarm"))
        panel.add_widget(Words(self.look, basis, "small", role="alarm"))
        column.add_widget(panel)
        understood = partial(self.tablet.send, cmd.AcknowledgeCaution())
        column.add_widget(Target(self.look, "Understood", understood, role="first"))
        self._scroll(column)

    # --- the tile comes off ---------------------------------------------------------------------------------------

    def _show_lifting(self, view: View, area: Area, section: Section, step: Step) -> None:
        look, column = self.look, Column()
        column.add_widget(self._heading(area))
        if area.task is not None and (why := why_now(view.events, area.plan.name, area.task)):
            column.add_widget(Words(look, f"Why: {in_units(why, self._system)}.", "large"))
        column.add_widget(Words(look, step.ask, "plain"))
        if step.quantity == "label":
            field = Field(look, self.tablet.takes_keys, self._label(area), hint="Label on the tile, if it has one")
            field.bind(text=lambda _w, text: self._kept.update({"label": (self._round(area), text)}))
            column.add_widget(field)
        lifted = Target(look, step.say[0].capitalize(), partial(self._lifted, area, step), role="first")
        column.add_widget(Choices([lifted, *self._side_targets(area)], 2 if self.tablet.upright else 3))
        column.add_widget(self._requirements(area, section))
        self._scroll(column)

    def _requirements(self, area: Area, section: Section) -> Panel:
        """What each reading of the lift must come to, and where that comes from."""
        panel = Panel(self.look)
        for step in section.steps:
            criterion = area.criterion(step)
            if criterion is None:
                continue
            words = f"{(step.measures or short(step)).capitalize()}: {criterion.text(unit_of(step, us=self.tablet.us))}"
            panel.add_widget(Words(self.look, words, "large", role="panel"))
            panel.add_widget(Words(self.look, criterion.basis, "small", role="panel", quiet=True))
        return panel

    def _lifted(self, area: Area, step: Step) -> None:
        label = self._label(area).strip() or None
        task = area.task
        if task is not None:
            self.tablet.send(cmd.ConfirmStep(section=task.section, step=step.id, label=label))

    def _label(self, area: Area) -> str:
        held_for, text = self._kept.get("label", (None, ""))
        return text if held_for == self._round(area) else ""

    # --- its back -------------------------------------------------------------------------------------------------

    def _show_back(self, area: Area, section: Section, step: Step) -> None:
        """The grid, and beside it (or under it) what it comes to and what can be done with that."""
        upright, part = self.tablet.upright, self._kept.get("part")
        sketch = self._sketch(area)
        back = TileBack(self.look, sketch, lambda: self._show_figures(), self.refresh, part)
        shown = BoxLayout(orientation="vertical", spacing=gap())
        side = Column()
        if part is None:
            longer, shorter = sides(area.plan.piece)
            self.add_widget(self._heading(area))
            shown.add_widget(Fitted(back, float(longer / shorter)))
            shown.add_widget(Words(self.look, "■ mortar   ◩ half   □ none", "small", halign="center"))
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

    def _parts(self, part: str) -> Column:
        """Which part is seen, and the ways to the next one and back to the whole."""
        names = list(PARTS)
        number = names.index(part)
        after = names[(number + 1) % len(names)]
        column = Column()
        column.add_widget(Words(self.look, f"Part {number + 1} of {len(names)}: {part}", "plain", bold=True))
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
        self._kept["part"] = part
        self.refresh()

    def _edit(self, change: Callable[[], None]) -> None:
        change()
        self._drawn.pop("what", None)
        self.refresh()

    def _fill_side(self, side: Column, area: Area, section: Section, step: Step, sketch: Sketch) -> None:
        look = self.look
        side.add_widget(Words(look, step.ask, "plain", bold=True))
        if sketch.looked:
            self._show_found(side, area, section, step, sketch)
        else:
            if needed := required(area, step, us=self.tablet.us):
                side.add_widget(Words(look, needed, "plain", bold=True))
            how = "Touch where mortar is missing, or draw over it. Touch twice for half."
            side.add_widget(Words(look, how, "plain"))
            side.add_widget(Target(look, "All covered", partial(self._edit, sketch.all_covered), size="plain"))
        if step.kind is Kind.CHOICE:
            side.add_widget(self._options(area, step, sketch))
        targets = []
        if step.kind is Kind.READING:
            targets.append(Target(look, "Give a number", partial(self._open_pad, area), size="plain"))
        side.add_widget(Choices([*targets, *self._side_targets(area)], 2))
        side.add_widget(Words(look, how_near(area, section, step, us=self.tablet.us), "small", quiet=True))

    def _show_found(self, side: Column, area: Area, section: Section, step: Step, sketch: Sketch) -> None:
        """What the grid comes to, in figures that follow the finger."""
        look = self.look
        found = Words(look, "", "huge")
        side.add_widget(found)
        if needed := required(area, step, us=self.tablet.us):
            side.add_widget(Words(look, needed, "plain", bold=True))
        read_back = None
        if step.kind is Kind.READING:
            read_back = Target(look, "", partial(self._read_back, area, step, sketch), role="first")
            side.add_widget(read_back)
        rest = Words(look, "", "plain")
        side.add_widget(rest)

        def show() -> None:
            us = self.tablet.us
            found.text, rest.text = told_grid(sketch.grid, area, section, step, us=us)
            if read_back is not None:
                value, unit = figure(sketch.grid, area, section, step, us=us)
                read_back.text = f"Read back {format_quantity(float(value), unit)}"

        self._show_figures = show
        show()

    def _options(self, area: Area, step: Step, sketch: Sketch) -> Choices:
        """The answers of a choice, marked where the grid says so."""
        task = area.task
        section = task.section if task is not None else ""
        targets = []
        for option in step.options:
            fits = sketch.looked and option.fails != sketch.grid.edges_full
            targets.append(
                Target(
                    self.look,
                    f"{option.label}{' (as the grid)' if fits else ''}",
                    partial(self.tablet.send, cmd.Choose(section=section, step=step.id, option=option.id)),
                    role="first" if fits else "button",
                    chosen=fits,
                    size="plain",
                )
            )
        return Choices(targets, 2)

    def _read_back(self, area: Area, step: Step, sketch: Sketch) -> None:
        section, task = at_hand(area), area.task
        if section is not None and task is not None:
            value, unit = figure(sketch.grid, area, section, step, us=self.tablet.us)
            self.tablet.send(cmd.GiveReading(section=task.section, step=step.id, value=value, unit=unit))

    def _sketch(self, area: Area) -> Sketch:
        """The grid of the lift at hand; it stays with its round until the day is closed."""
        held: Sketch = self._kept.setdefault("grids", {}).setdefault(self._round(area), Sketch())
        return held

    def _round(self, area: Area) -> tuple[object, ...]:
        """The round at hand among all days that this tablet has opened."""
        view, task = self.tablet.view, area.task
        return (view and view.path, area.plan.name, task and task.section, task and task.round)

    # --- by number, and the rest ----------------------------------------------------------------------------------

    def _by_number(self, area: Area) -> bool:
        return self._kept.get("by number") == (*self._round(area), area.step and area.step.id)

    def _open_pad(self, area: Area) -> None:
        self._kept["by number"] = (*self._round(area), area.step and area.step.id)
        self._kept["typed"] = (Typed(), "")
        self.refresh()

    def _close_pad(self) -> None:
        self._kept["by number"] = None
        self.refresh()

    def _show_pad(self, area: Area, step: Step) -> None:
        typed, unit = self._kept.get("typed", (Typed(), ""))
        usual = unit_of(step, us=self.tablet.us)
        self.add_widget(
            NumberEntry(
                self.look,
                step.ask,
                step.units,
                partial(self._give, area, step),
                self._close_pad,
                unit=unit or usual,
                upright=self.tablet.upright,
                hint=required(area, step, us=self.tablet.us),
                typed=typed,
                changed=lambda typed, unit: self._kept.update(typed=(typed, unit)),
            )
        )

    def _give(self, area: Area, step: Step, value: Fraction, unit: str) -> None:
        # The pad stays open behind the read-back: a refused or wrong number is still there to be put right.
        if area.task is not None:
            self.tablet.send(cmd.GiveReading(section=area.task.section, step=step.id, value=value, unit=unit))

    def _show_other(self, step: Step) -> None:
        column = Column()
        column.add_widget(Words(self.look, step.ask, "huge"))
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
        look, column = self.look, Column(spacing=2 * gap())
        if lifts:
            column.add_widget(self._verdict(lifts[-1]))
            column.add_widget(Words(look, f"Now: {view.prompt.say}", "large"))
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
        due.add_widget(Words(look, f"Next test tile, {area.plan.name}", "plain", role="panel", quiet=True))
        due.add_widget(Words(look, next_due(area, self._system), "large", role="panel"))
        section = lift_section(area)
        if section is not None:
            count, basis = good_lifts(area)
            due.add_widget(Words(look, count, "large", role="panel"))
            due.add_widget(Words(look, basis, "small", role="panel", quiet=True))
            if section.due is not None:
                due.add_widget(Words(look, section.due.basis, "small", role="panel", quiet=True))
        column.add_widget(due)
        if lifts:
            column.add_widget(Words(look, "Lifts so far", quiet=True))
        for lift in reversed(lifts):
            row = Row()
            row.add_widget(Mark(look, "done" if lift.passed else "failed"))
            row.add_widget(Words(look, told_lift(lift), "large"))
            column.add_widget(row)
        self._scroll(column)

    def _verdict(self, lift: LiftJudged) -> Panel:
        look = self.look
        role: Role = "good" if lift.passed else "alarm"
        panel = Panel(look, role=role)
        row = Row()
        row.add_widget(Mark(look, "done" if lift.passed else "failed", role=role, pos_hint={"center_y": 0.5}))
        row.add_widget(Words(look, f"Lift {lift.lift} {'passes' if lift.passed else 'FAILS'}", "huge", role=role))
        panel.add_widget(row)
        covered, asked = (format_quantity(share, "percent") for share in (lift.coverage, lift.required))
        panel.add_widget(Words(look, f"{covered} covered, at least {asked} required", "large", role=role))
        for reason in lift.reasons:
            panel.add_widget(Words(look, f"– {in_units(reason, self._system)}", "large", role=role))
        if lift.unread:
            panel.add_widget(Words(look, f"Not read: {', '.join(lift.unread)}.", "plain", role=role))
        panel.add_widget(Words(look, lift.basis, "small", role=role))
        return panel
