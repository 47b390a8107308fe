"""The plan: whether the method works and why, its ridges to scale, four choices with where they lead."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from fieldassist.assess.inputs import Entries, day_inputs
from fieldassist.assess.steps import Knob, Neighbour, StepChoice
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.trade.message import Figure, Message, message
from fieldassist.ui.content import ridge_drawing
from fieldassist.ui.content.day_page import tried_told
from fieldassist.ui.content.drafts import Drafts
from fieldassist.ui.content.plan_page import (
    PlanPage,
    air_told,
    gap_told,
    is_in_use,
    nearest_told,
    now_told,
    off_told,
    plan_page,
    reason_told,
    ridges_told,
    step_told,
    use,
    verdict_told,
)
from fieldassist.ui.content.trial_live import shown_told
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.screens.base import Screen, show_tried
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.ridge_picture import CutPicture
from fieldassist.ui.widgets.step_key import StepKey
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.verdict_field import Plate

from kivy.uix.widget import Widget  # isort: skip

_LARGE = 1.2
_TITLES: dict[Knob, str] = {
    "notch": "plan-page-notch",
    "angle": "plan-page-angle",
    "sides": "plan-page-sides",
    "skim": "plan-page-skim",
}


@dataclass
class PlanMemory:
    """Which area is looked at, by its name in the day; "" for the one that is open."""

    area: str = ""


class Plan(Screen):
    """The method of an area, over its base."""

    place = "plan"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._shown: PlanPage | None = None

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("what", "nothing"):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self._tell(message("plan-none")), "far"))
                self.page.add_widget(Widget())
                to_day = Key(
                    self.look, self._tell(message("plan-page-to-day")), partial(self.tablet.go, "day"), kind="action"
                )
                self.act(to_day)
            return
        name = self._name(view)
        entries = dict(self._drafts(view).of(name))
        planned = view.state.plan.area(name)
        if planned is not None and planned.trial is not None:
            told = tried_told(view.state, planned)
            if self.changed("what", (planned, told, self.tablet.words)):
                show_tried(self, planned, self._tell(told), *self._other(view, name))
            return
        if self.changed("what", (view.path, view.state.last_seq, name, entries, self.tablet.words)):
            self._compose(view, name, plan_page(day_inputs(view.state, name, entries)))

    def title(self) -> tuple[str, str]:
        """The area, and from which piece on a change would count."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            return "", ""
        name = self._name(view)
        area = view.state.areas.get(name)
        sets = area is not None and area.plan.trial is None
        told = message("plan-page-method-from", piece=str(next_piece(area))) if area is not None and sets else ""
        return name.capitalize(), self._tell(told)

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _names(self, view: View) -> list[str]:
        return [area.name for area in view.state.plan.areas] if view.state.plan is not None else []

    def _name(self, view: View) -> str:
        names = self._names(view)
        picked = self.tablet.memory.of(PlanMemory, view.path).area or view.state.active
        return picked if picked in names else names[0]

    def _drafts(self, view: View) -> Drafts:
        return self.tablet.memory.of(Drafts, view.path)

    def _compose(self, view: View, name: str, page: PlanPage) -> None:
        look = self.look
        self._shown = page
        self.page.clear_widgets()
        self.page.add_widget(self._heading(page))
        why, shown = reason_told(page), self._shown_told()
        told = (shown, why) if shown and look.text > _LARGE else (why,)
        size: SizeName = "near" if len(told) == 1 else "small"
        reason = TextLabel(look, "; ".join(map(self._tell, told)), size, bold=True, fit=True)
        self.page.add_widget(RowBox(look, reason, high=44 if look.text <= _LARGE else 80))
        if page.picture is None:
            self.page.add_widget(Widget())
        else:
            pictures, choices = self._pictures(page), self._choices(page)
            if self.tablet.upright:
                self.page.add_widget(pictures)
                self.page.add_widget(choices)
            else:
                pictures.size_hint_x, choices.size_hint_x = 0.54, 0.46
                parts = (choices, pictures) if look.left_hand else (pictures, choices)
                self.page.add_widget(RowBox(look, *parts, gap=32))
        self._act(view, name, page)

    def _shown_told(self) -> Figure:
        """What the trial has shown from which the area's method was released, while nothing else is entered."""
        view = self.tablet.view
        if view is None or view.state.plan is None or self._drafts(view).of(self._name(view)):
            return ""
        planned = view.state.plan.area(self._name(view))
        return (shown_told(planned) if planned is not None else None) or ""

    def _heading(self, page: PlanPage) -> RowBox:
        look = self.look
        parts: list[Widget] = []
        judged = {True: "passed", False: "failed"}.get(page.works) if page.works is not None else None
        if judged is not None:
            parts.append(Plate(look, judged, 68, pos_hint={"center_y": 0.5}))  # type: ignore[arg-type]
        role = "fail" if page.works is False else "pass_" if page.works else "ink"
        parts.append(TextLabel(look, self._tell(verdict_told(page)), "far", role=role, fit=True))  # type: ignore[arg-type]
        return RowBox(look, *(reversed(parts) if look.left_hand else parts), gap=14, high=80)

    def _pictures(self, page: PlanPage) -> ColumnBox:
        """The ridges as combed and as pressed, to one scale, with their figures."""
        look, made = self.look, page.picture
        assert made is not None
        combed, pressed = partial(ridge_drawing.combed, made), partial(ridge_drawing.pressed, made)
        tallest = max(combed(1.0).height_mm, pressed(1.0).height_mm)
        air = air_told(made)
        captions = look.text <= _LARGE
        column = ColumnBox(look, gap=6)
        column.add_widget(self._caption(ridges_told(made)))
        column.add_widget(CutPicture(look, combed, tallest))
        column.add_widget(self._caption(gap_told(made) if captions or not air else "", air))
        column.add_widget(CutPicture(look, pressed, tallest))
        shown = self._shown_told()
        if captions and shown:
            column.add_widget(self._caption(shown, high=70))
        elif captions:
            column.add_widget(self._caption(off_told(page.inputs)))
        return column

    def _caption(self, told: Figure, red: Figure = "", high: float = 44) -> RowBox:
        look = self.look
        words = TextLabel(look, self._tell(told), "near", bold=False, role="quiet", fit=True)
        parts: list[Widget] = [words]
        if red:
            parts.append(
                TextLabel(
                    look, self._tell(red), "near", bold=True, role="fail", fit=True, align="right", size_hint_x=0.45
                )
            )
        return RowBox(look, *parts, high=high if look.text <= _LARGE else 62)

    def _choices(self, page: PlanPage) -> ColumnBox:
        """Four choices, two beside each other."""
        look = self.look
        made = [self._choice(page, choice) for choice in page.choices]
        first, second = RowBox(look, *made[:2], gap=14), RowBox(look, *made[2:], gap=14)
        if self.tablet.upright:
            high = look.dots(2 * self._choice_high + 10)
            return ColumnBox(look, first, second, gap=10, size_hint_y=None, height=high)
        return ColumnBox(look, first, second, gap=10)

    @property
    def _choice_high(self) -> float:
        return TARGET + (90 if self.look.text <= _LARGE else 70)

    def _choice(self, page: PlanPage, choice: StepChoice) -> ColumnBox:
        look = self.look
        high = 36 if look.text <= _LARGE else 50
        title = TextLabel(look, self._tell(message(_TITLES[choice.knob])), "near", bold=False, role="quiet", fit=True)
        now = TextLabel(look, self._tell(now_told(choice.knob, page.inputs)), "near", bold=True, fit=True)
        keys = RowBox(look, *(self._step(page, choice, step) for step in (choice.less, choice.more)), gap=8)
        if look.text > _LARGE:  # captions give way
            return ColumnBox(look, RowBox(look, now, high=high), keys, gap=4)
        return ColumnBox(look, RowBox(look, title, high=high), RowBox(look, now, high=high), keys, gap=4)

    def _step(self, page: PlanPage, choice: StepChoice, step: Neighbour | None) -> Key:
        look = self.look
        if step is None:
            why = self._tell(message("plan-page-none"))
            named = self._tell(message(_TITLES[choice.knob]))
            return StepKey(look, "", partial(self.tablet.refuse, why), choice.knob, named=named, off=True)
        stands = choice.knob == "sides" and step.entries["sides"] == page.inputs.sides.value
        return StepKey(
            look,
            self._tell(step_told(step)),
            partial(self._enter, step.entries),
            choice.knob,
            notch=step.notch,
            sides=str(step.entries.get("sides", "")),
            chosen=stands,
            named=self._tell(message(_TITLES[choice.knob])) + " " + self._tell(step_told(step)),
        )

    # --- what comes next ------------------------------------------------------------------------------------------

    def _act(self, view: View, name: str, page: PlanPage) -> None:
        area = view.state.areas.get(name)
        keys = [
            self._big(view, area, page),
            self._quiet("plan-page-parts", partial(self.tablet.go, "plan parts", area=name)),
            self._quiet("plan-page-sources", partial(self.tablet.go, "plan sources", area=name), "page"),
        ]
        if self._drafts(view).of(name):
            keys.append(self._quiet("plan-page-as-planned", partial(self._as_planned, name), "take-back"))
        self.act(*keys, *self._other(view, name), second=210)

    def _other(self, view: View, name: str) -> list[Key]:
        """The next area, where there is another."""
        names = self._names(view)
        if len(names) < 2:
            return []
        other = names[(names.index(name) + 1) % len(names)]
        return [Key(self.look, other.capitalize(), partial(self._pick, view, other), size="near")]

    def _quiet(self, code: str, press: Callable[[], object], sign: Any = None) -> Key:
        drawn = None if self.tablet.upright else sign
        return Key(self.look, self._tell(message(code)), press, sign=drawn, over=drawn is not None, size="near")

    def _big(self, view: View, area: Area | None, page: PlanPage) -> Key:
        """To the nearest that works; where this works, on the wall with it."""
        look = self.look
        if page.works is False and page.nearest is not None:
            enter = partial(self._enter, page.nearest.entries)
            return Key(look, self._tell(nearest_told(page.nearest)), enter, kind="action")
        if page.works is not True:
            why = message("plan-no-way") if page.works is False else message("plan-kept")
            return self._off(message("plan-page-nothing"), why)
        if area is None:
            return self._off(message("plan-page-nothing-to-change"), message("plan-page-not-begun"))
        if is_in_use(page.inputs, area):
            return Key(look, self._tell(message("plan-page-in-use")), partial(self.tablet.go, "work"))
        command, piece = use(page.inputs, area), str(next_piece(area))
        foreman = view.state.plan.releasing(Role.FOREMAN) if view.state.plan is not None else ()
        told = message("plan-page-use", piece=piece)
        if isinstance(command, cmd.VouchMethod) and foreman:
            command = command.model_copy(update={"name": foreman[0].name})
            told = message("plan-page-use-on-word", name=foreman[0].name, piece=piece)
        return Key(look, self._tell(told), partial(self._use, view, area.plan.name, command), kind="action")

    def _off(self, told: Message, why: Message) -> Key:
        return Key(self.look, self._tell(told), partial(self.tablet.refuse, self._tell(why)), off=True)

    def _use(self, view: View, name: str, command: cmd.Command) -> None:
        """The area goes on with it: what was entered of the method is no draft any more."""
        if view.state.active != name:
            self.tablet.refuse(self._tell(message("plan-page-other-open", area=view.state.active or "")))
            return
        self.tablet.send(command)

    def _enter(self, values: Entries) -> None:
        view = self.tablet.view
        if view is not None:
            self._drafts(view).of(self._name(view)).update(values)
            self.refresh()

    def _as_planned(self, name: str) -> None:
        view = self.tablet.view
        if view is not None:
            self._drafts(view).by_area.pop(name, None)
            self.refresh()

    def _pick(self, view: View, name: str) -> None:
        self.tablet.memory.of(PlanMemory, view.path).area = name
        self.refresh()


def next_piece(area: Area) -> int:
    """The number of the piece from which on a change would count."""
    return max(area.progress.tiles, default=0) + 1
