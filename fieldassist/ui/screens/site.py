"""A site is planned on the tablet: the site, its crew, its areas; while a day runs, one more area or person."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import AreaPlan, Person
from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Units
from fieldassist.ui.beginning import SiteMemory, begin, checklists_of, today
from fieldassist.ui.content.day_page import date_told
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.content.site_draft import (
    FieldAsked,
    PlanDraft,
    area_draft,
    area_fields,
    entered_on,
    first_wrong,
    laid_out_as,
    person_fields,
    put_in_area,
    site_fields,
    with_new_area,
    with_new_person,
    without,
)
from fieldassist.ui.content.trial_design import with_new_trial
from fieldassist.ui.content.wall_map import planned_map
from fieldassist.ui.entering import field_keys
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET, Look
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.wall_map import ToldPiece, WallDrawing

from kivy.uix.widget import Widget  # isort: skip

# From this size of text on keys stand in half as many columns.
LARGE = 1.25
_DRAWING = 400.0  # how wide the wall is drawn beside its fields [dots]


class WallPlanKey(Key):
    """The wall as it is planned; pressed it is laid out: where pieces start, cuts, niches."""

    def __init__(self, look: Look, area: AreaPlan, told: ToldPiece, press: Callable[[], object]) -> None:
        self._drawing = WallDrawing(look, planned_map(area), told)
        super().__init__(look, told(message("site-lay-out")), press, size="near", high=None)
        self.add_widget(self._drawing)
        self._lay()

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Under the drawing."""
        x, y, w, _ = box
        pad = self.look.dots(16)
        return x + pad, y + self.look.dots(4), w - 2 * pad, self.look.font("near") * 1.4

    def _lay(self, *_moved: object) -> None:
        super()._lay()
        x, y, w, h = self.face
        _, low, _, high = self.words_box((x, y, w, h))
        pad = self.look.dots(16)
        self._drawing.pos = x + pad, low + high
        self._drawing.size = max(1.0, w - 2 * pad), max(1.0, y + h - low - high - pad)


class SiteScreen(Screen):
    """All of a plan, or one area or person of it."""

    place = "day"

    @property
    def _memory(self) -> SiteMemory:
        return self.tablet.memory.of(SiteMemory)

    @property
    def _index(self) -> int:
        return int(self.tablet.at_what.get("index", 0))

    @property
    def _abreast(self) -> int:
        """How many keys stand beside each other."""
        return 2 if self.tablet.upright or self.look.text > LARGE else 4

    @property
    def _part(self) -> str:
        return str(self.tablet.at_what.get("part", "site"))

    def title(self) -> tuple[str, str]:
        """What is entered, and of which site."""
        words, draft = self.tablet.words, self._memory.draft
        if self._part == "site":
            return words(message("site-plan-site")), ""
        narrow = self.tablet.upright and self.look.text > LARGE
        site = "" if narrow else str(draft.get("site") or "")
        if self._part == "area":
            return words(message("site-change-area", area=draft.get("areas", self._index, "name") or "none")), site
        return words(message("site-change-person", name=draft.get("crew", self._index, "name") or "none")), site

    def refresh(self) -> None:
        """Show what has changed."""
        draft = self._memory.draft
        if not self.changed("page", (repr(draft.fields), self._part, self._index, today(self.tablet))):
            return
        self.page.clear_widgets()
        if self._part == "area" and draft.get("areas", self._index) is not None:
            self._show_area(draft)
        elif self._part == "person" and draft.get("crew", self._index) is not None:
            self._show_person(draft)
        else:
            self._show_site(draft)

    # --- pages ----------------------------------------------------------------------------------------------------

    def _show_site(self, draft: PlanDraft) -> None:
        look, words, tablet = self.look, self.tablet.words, self.tablet
        columns = 1 if tablet.upright or look.text > LARGE else 3
        inside = ColumnBox(look, gap=10, rises=True)
        inside.add_widget(self._cells(field_keys(tablet, draft, site_fields(), {}, self._put), columns))
        crew: list[Widget] = [
            Key(
                look,
                person(one["name"]) if one.get("name") else words(message("site-no-name")),
                partial(tablet.go, "site", part="person", index=index),
                sign="person",
                caption=words(message("site-option", option=one.get("role", "installer"))),
                off=not one.get("name"),
                size="near",
            )
            for index, one in enumerate(draft.get("crew") or ())
        ]
        crew.append(Key(look, words(message("site-new-person")), self._new_person, sign="more", size="near"))
        inside.add_widget(TextLabel(look, words(message("site-crew")), "near", bold=True))
        inside.add_widget(self._cells(crew, self._abreast))
        areas: list[Widget] = [
            Key(
                look,
                capital(one.get("name") or words(message("site-no-name"))),
                partial(tablet.go, entered_on(draft, index), part="area", index=index),
                caption=str(one.get("where") or ""),
                off=area_draft(draft, index).done is None,
                size="near",
            )
            for index, one in enumerate(draft.get("areas") or ())
        ]
        areas.append(Key(look, words(message("site-new-area")), self._new_area, sign="more", size="near"))
        areas.append(Key(look, words(message("mockup-new")), self._new_trial, sign="more", size="near"))
        inside.add_widget(TextLabel(look, words(message("site-areas")), "near", bold=True))
        inside.add_widget(self._cells(areas, self._abreast))
        self.page.add_widget(Scroll(look, inside))
        keep = Key(look, words(message("site-keep")), partial(tablet.go, "day"), size="near")
        planned, now = str(draft.get("date") or ""), today(tablet)
        if planned != now:
            told = message("site-other-date", planned=date_told(planned), today=date_told(now))
            self.page.add_widget(TextLabel(look, words(told), "near", bold=True))
            taken = words(message("site-take-today", today=date_told(now)))
            self.act(Key(look, taken, partial(self._take, draft.put(now, "date")), kind="action"), keep)
            return
        why = first_wrong(draft)
        begun = Key(
            look,
            words(message("site-begin-day")),
            self._begin if why is None else partial(tablet.refuse, words(why)),
            kind="action" if why is None else "plain",
            off=why is not None,
        )
        self.act(begun, keep)

    def _show_person(self, draft: PlanDraft) -> None:
        words, memory = self.tablet.words, self._memory
        fields = person_fields(self._index, by_day=memory.by_day)
        keys = field_keys(self.tablet, draft, fields, {}, self._put)
        self.page.add_widget(self._cells(keys, 1 if self.tablet.upright else 2))
        self.page.add_widget(Widget())
        name = draft.get("crew", self._index, "name")
        wrong = next((w for at, w in draft.wrong.items() if at[:2] == ("crew", self._index)), None)
        why = words(message("site-lacks", what="crew", field="name")) if not name else words(wrong) if wrong else ""
        self._act_on_part("site-add-person", why, partial(self._add_person), ("crew", self._index))

    def _show_area(self, draft: PlanDraft) -> None:
        look, words, tablet, index = self.look, self.tablet.words, self.tablet, self._index
        checklists = checklists_of(tablet)
        units: Units = "us" if draft.get("units") == "us" else "metric"
        keys = field_keys(tablet, draft, area_fields(index, units, checklists), checklists, self._put_area)
        mortar = draft.get("areas", index, "mortar", "name")
        label = words(message("site-field", field="mortar"))
        keys.append(
            Key(
                look,
                str(mortar or words(message("site-to-be-said"))),
                partial(tablet.go, "mortars", area=index),
                sign="sack",
                caption=label,
                off=mortar is None,
                size="near",
                named=label,
            )
        )
        columns = 1 if look.text > LARGE else 2
        fields = Scroll(look, ColumnBox(look, self._cells(keys, columns), rises=True))
        area = area_draft(draft, index)
        done = area.done
        drawing: Widget
        if isinstance(done, AreaPlan):
            drawing = WallPlanKey(look, done, words, partial(self._lay_out, done))
        else:
            drawing = TextLabel(look, words(message("site-not-drawn")), "near", role="quiet", align="center", fit=True)
        if tablet.upright:
            drawing.size_hint_y, drawing.height = None, look.dots(260)
            self.page.add_widget(drawing)
            self.page.add_widget(fields)
        else:
            drawing.size_hint_x, drawing.width = None, look.dots(_DRAWING)
            both = (fields, drawing)
            self.page.add_widget(RowBox(look, *(reversed(both) if look.left_hand else both), gap=16))
        wrong = next((w for at, w in draft.wrong.items() if at[:2] == ("areas", index)), None)
        lacks = first_wrong(PlanDraft(area.model, area.fields)) if done is None else None
        why = words(wrong) if wrong is not None else words(self._lacks_in_area(area)) if lacks is not None else ""
        self._act_on_part("site-plan-area", why, self._plan_area, ("areas", index))

    @staticmethod
    def _lacks_in_area(area: PlanDraft) -> Any:
        lacking = area.lacking[0] if area.lacking else ("size",)
        field = str(lacking[0] if lacking[0] != "piece" else "piece")
        return message("site-lacks", what="areas", field=field)

    def _act_on_part(self, by_day: str, why: str, send: Any, at: tuple[str, int]) -> None:
        """The keys under one part: while the day runs it is sent, else the way back to all of the plan."""
        look, words, tablet = self.look, self.tablet.words, self.tablet
        out = Key(look, words(message("site-take-out")), partial(self._take_out, at), size="near")
        if not self._memory.by_day:
            back = partial(tablet.go, "site")
            self.act(Key(look, words(message("site-keep")), back, kind="action"), out)
            return
        big = Key(
            look,
            words(message("site-plan-area" if by_day == "site-plan-area" else "site-add-person")),
            partial(tablet.refuse, why) if why else send,
            kind="plain" if why else "action",
            off=bool(why),
        )
        self.act(big, Key(look, words(message("frame-back")), partial(tablet.go, "day"), size="near"))

    def _cells(self, keys: list[Widget], columns: int) -> Widget:
        """Keys in columns; a row is as high as the highest in it, for what is wrong stands under its key."""
        look = self.look
        keys = [*keys, *(Widget() for _ in range(-len(keys) % columns))]
        if not any(isinstance(key, ColumnBox) for key in keys):
            return Cells(look, keys, columns, gap=10, high=TARGET + 8)
        rows = [keys[at : at + columns] for at in range(0, len(keys), columns)]
        return ColumnBox(look, *(RowBox(look, *row, gap=10, rises=True) for row in rows), gap=10, rises=True)

    # --- what is entered ------------------------------------------------------------------------------------------

    def _take(self, draft: PlanDraft) -> None:
        try:
            self._memory.take(draft, self.tablet.data)
        except OSError as error:
            self.tablet.refuse(self.tablet.words(message("site-not-kept", why=str(error.strerror))))
        self.refresh()

    def _put(self, asked: FieldAsked, value: str) -> None:
        self._take(self._memory.draft.put(value or None, *asked.at))

    def _put_area(self, asked: FieldAsked, value: str) -> None:
        try:
            draft = put_in_area(self._memory.draft, self._index, asked, value or None, checklists_of(self.tablet))
        except Refused as refused:
            self.tablet.refuse(self.tablet.words(refused.told))
            return
        self._take(draft)

    def _lay_out(self, area: AreaPlan) -> None:
        """Lay the wall out where its pieces, cuts and niches are seen."""

        def keep(done: AreaPlan) -> None:
            self._take(laid_out_as(self._memory.draft, index, done))

        index = self._index
        self.tablet.go("layout", plan=area, keep=keep)

    def _new_person(self) -> None:
        draft, index = with_new_person(self._memory.draft)
        self._take(draft)
        self.tablet.go("site", part="person", index=index)

    def _new_area(self) -> None:
        draft, index = with_new_area(self._memory.draft)
        self._take(draft)
        self.tablet.go("site", part="area", index=index)

    def _new_trial(self) -> None:
        draft, index = with_new_trial(self._memory.draft)
        self._take(draft)
        self.tablet.go("trial design", index=index)

    def _take_out(self, at: tuple[str, int]) -> None:
        self._take(without(self._memory.draft, *at))
        self.tablet.go("site")

    def _begin(self) -> None:
        memory = self._memory
        plan = memory.draft.done
        if plan is not None:
            begin(self.tablet, plan, before=memory.before, planned=memory.path)

    def _plan_area(self) -> None:
        planned = area_draft(self._memory.draft, self._index).done
        assert isinstance(planned, AreaPlan)  # the key is off until it is one
        held = checklists_of(self.tablet)
        self.tablet.send(cmd.PlanArea(planned=planned, checklists=(held[planned.checklist],)))
        self.tablet.go("day")

    def _add_person(self) -> None:
        added = Person.model_validate(self._memory.draft.get("crew", self._index))
        self.tablet.send(cmd.AddPerson(person=added))
        self.tablet.go("day")
