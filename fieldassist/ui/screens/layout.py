"""Layout: a wall laid out from its sizes, drawn as it is entered."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import AreaPlan, Niche
from fieldassist.trade.message import Message, Refused, message, term
from fieldassist.trade.quantities import Quantity, convert_exact
from fieldassist.ui.content.entry import LastValue, NumberQuestion
from fieldassist.ui.content.laying_out import (
    ACROSS,
    LayoutDraft,
    WallLayout,
    draft_of,
    laid,
    plan_with,
    thin_told,
)
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.wall_map import planned_map
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.wall_map import WallDrawing

from kivy.uix.widget import Widget  # isort: skip

# What may be entered at all [mm].
_MOST_MM = 100_000
# From this size of text on keys are higher.
LARGE = 1.25
_SIDES = ("left", "bottom", "width", "height")


@dataclass
class _Entered:
    """What is entered and not kept yet."""

    draft: LayoutDraft | None = None


class LayoutScreen(Screen):
    """Sizes, start and niches as keys beside the wall that they come to.

    Of `plan`, given to `keep` once it is laid out; or of an area of the day by name that is not begun.
    """

    place = "wall"

    @property
    def plan(self) -> AreaPlan | None:
        """Whose wall it is."""
        given = self.tablet.at_what.get("plan")
        if isinstance(given, AreaPlan):
            return given
        view = self.tablet.view
        plan, name = (view.state.plan if view is not None else None), self.tablet.at_what.get("area")
        return plan.area(name) if plan is not None and name is not None else None

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        plan = self.plan
        return self.tablet.words(message("wall-layout-title")), capital(plan.name) if plan is not None else ""

    def refresh(self) -> None:
        """Show the wall as it is entered."""
        plan = self.plan
        if plan is None:
            if self.changed("layout", None):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self.tablet.words(message("wall-no-area")), "far"))
                self.act(self._back())
            return
        entered = self._entered(plan)
        if entered.draft is None:
            entered.draft = draft_of(plan)
        if self.changed("layout", (plan, entered.draft)):
            self._lay_out(plan, entered.draft)

    def _entered(self, plan: AreaPlan) -> _Entered:
        return self.tablet.memory.of(_Entered, plan.key)

    def _lay_out(self, plan: AreaPlan, draft: LayoutDraft) -> None:
        look, words = self.look, self.tablet.words
        self.page.clear_widgets()
        layout: WallLayout | None = None
        drawn: Widget
        try:
            layout = laid(draft)
            done = plan_with(plan, layout)
            told = message("wall-layout-comes-to", pieces=planned_map(done).planned, of=_square_metres(layout))
            thin = thin_told(layout)
            drawn = WallDrawing(look, planned_map(done), words)
            said = words(told) + ("" if thin is None else f"\n{words(thin)}")
        except Refused as refused:
            drawn, said = Widget(), words(refused.told)
        lines = TextLabel(look, said, "small" if layout is not None else "near", role="ink")
        picture = ColumnBox(look, drawn, lines, gap=8)
        keys = Scroll(
            look,
            ColumnBox(look, Cells(look, self._fields(draft), 2, high=112 if look.text < LARGE else 146), rises=True),
        )
        if self.tablet.upright:
            picture.size_hint = (1, 0.7)
            self.page.add_widget(picture)
            self.page.add_widget(keys)
        else:
            keys.size_hint_x, keys.width = None, look.dots(470)
            both: tuple[Widget, ...] = (picture, keys)
            self.page.add_widget(RowBox(look, *(reversed(both) if look.left_hand else both), gap=20))
        self.act(self._keep_key(plan, layout), self._back())

    # --- what is entered ------------------------------------------------------------------------------------------

    def _fields(self, draft: LayoutDraft) -> Sequence[Key]:
        lengths = ("across_mm", "up_mm", "length_mm", "width_mm", "joint_mm")
        keys = [
            self._field(field.removesuffix("_mm"), _length(getattr(draft, field)), partial(self._ask, field))
            for field in lengths
        ]
        turned = "upright" if draft.lies == "level" else "level"
        following = ACROSS[(ACROSS.index(draft.across) + 1) % len(ACROSS)]
        first = _length(draft.first_row_mm) if draft.first_row_mm is not None else message("wall-layout-whole")
        return [
            *keys,
            self._field("lies", term("wall-layout-lies", draft.lies), partial(self._put, lies=turned)),
            self._field("start", term("wall-layout-start", draft.across), partial(self._put, across=following)),
            self._field(
                "up-from",
                term("wall-layout-up", draft.up),
                partial(self._put, up="top" if draft.up == "floor" else "floor", first_row_mm=None),
            ),
            self._field("first-row", first, partial(self._ask, "first_row_mm")),
            self._field("niches", message("wall-layout-niches", count=len(draft.niches)), self._niches),
        ]

    def _field(self, name: str, value: Any, press: Callable[[], object]) -> Key:
        words = self.tablet.words
        caption = words(term("wall-layout-field", name))
        return Key(self.look, words(value), press, caption=caption, size="near", high=None, named=caption)

    def _put(self, **changes: Any) -> None:
        plan = self.plan
        if plan is None:
            return
        entered = self._entered(plan)
        assert entered.draft is not None  # it is on the screen
        entered.draft = replace(entered.draft, **changes)
        self.refresh()

    def _ask(self, field: str) -> None:
        plan = self.plan
        draft = self._entered(plan).draft if plan is not None else None
        if draft is None:
            return
        was = getattr(draft, field)
        name = field.removesuffix("_mm").replace("_", "-")
        asked = self._asked(term("wall-layout-field", name), was)
        # A lowest row of no height is a whole one.
        none = None if field == "first_row_mm" else Fraction(0)
        self.tablet.ask_number(
            asked, lambda value, unit: self._put(**{field: convert_exact(value, unit, "mm") or none})
        )

    def _asked(self, question: Message, was: Fraction | None) -> NumberQuestion:
        units = ("in", "ft", "mm") if self.tablet.units == "us" else ("mm", "m", "in")
        last = (LastValue(was, "mm"),) if was else ()
        return NumberQuestion(question, units, 0, _MOST_MM, last=last)

    # --- niches ---------------------------------------------------------------------------------------------------

    def _niches(self) -> None:
        """Lay over the page: one more niche, or one taken away."""
        plan = self.plan
        draft = self._entered(plan).draft if plan is not None else None
        if draft is None:
            return
        words = self.tablet.words
        keys = [Key(self.look, words(message("wall-layout-niche-more")), partial(self._niche_side, {}))]
        keys += [
            Key(
                self.look,
                words(message("wall-layout-niche-away", name=niche.name)),
                partial(self._put, niches=tuple(one for one in draft.niches if one is not niche)),
            )
            for niche in draft.niches
        ]
        show_keys(self.tablet, keys)

    def _niche_side(self, sides: dict[str, Quantity]) -> None:
        """Ask for the next side of a new niche; with all of them it is there."""
        if len(sides) == len(_SIDES):
            self._add_niche(sides)
            return
        side = _SIDES[len(sides)]
        self.tablet.ask_number(
            self._asked(term("wall-layout-niche", side), None),
            lambda value, unit: self._niche_side({**sides, side: Quantity(value, unit)}),
        )

    def _add_niche(self, sides: dict[str, Quantity]) -> None:
        plan = self.plan
        draft = self._entered(plan).draft if plan is not None else None
        if draft is None:
            return
        taken = {niche.name for niche in draft.niches}
        plain = self.tablet.words(message("wall-layout-niche-name"))
        names = (plain, *(f"{plain} {number}" for number in range(2, len(taken) + 3)))
        name = next(name for name in names if name not in taken)
        changed = replace(draft, niches=(*draft.niches, Niche(name=name, **sides)))
        try:
            laid(changed)
        except Refused as refused:
            self.tablet.refuse(self.tablet.words(refused.told))
            return
        self._put(niches=changed.niches)

    # --- keeping it -----------------------------------------------------------------------------------------------

    def _keep_key(self, plan: AreaPlan, layout: WallLayout | None) -> Key:
        words = self.tablet.words
        view = self.tablet.view
        why = ""
        if layout is None:
            why = words(message("wall-layout-not-yet"))
        elif "keep" not in self.tablet.at_what and view is not None and plan.name in view.state.areas:
            why = words(message("wall-layout-begun"))
        keep = partial(self.tablet.refuse, why) if why or layout is None else partial(self._keep, plan, layout)
        return Key(
            self.look, words(message("wall-layout-keep")), keep, kind="plain" if why else "action", off=bool(why)
        )

    def _keep(self, plan: AreaPlan, layout: WallLayout) -> None:
        done = plan_with(plan, layout)
        self.tablet.memory.forget(_Entered, plan.key)
        keep = self.tablet.at_what.get("keep")
        if keep is not None:
            keep(done)
        else:
            self.tablet.send(cmd.PlanArea(planned=done))
        self.tablet.back()

    def _back(self) -> Key:
        return Key(self.look, self.tablet.words(message("wall-back")), self.tablet.back, sign="take-back", size="near")


def _length(mm: Fraction) -> Quantity | Message:
    return Quantity(mm, "mm") if mm else message("wall-layout-none")


def _square_metres(layout: WallLayout) -> Quantity:
    return Quantity(layout.size.value, "m2", decimals=1)
