"""A trial is designed: what is tried, each with each, how often and by whom; the page says at once what it takes, what
it will tell apart, and what the reckoning rules out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, Literal

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import AreaPlan, PlannedQuestion
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.trying import ruled_out
from fieldassist.trade.message import Figure, message, term
from fieldassist.trade.quantities import Units
from fieldassist.trial import telling
from fieldassist.ui.beginning import SiteMemory, checklists_of
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.content.site_draft import FieldAsked, PlanDraft, area_draft, first_wrong, without
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.trial_design import (
    BEDS,
    CHECKLIST,
    PLACES,
    REPEATS,
    SEEN,
    SURFACES,
    TRIED,
    TriedChoices,
    TriedFactor,
    WayOffered,
    answer_of,
    area_words,
    choices_in,
    entered_figures,
    notch_key_told,
    notches_offered,
    proposed,
    put_figure,
    state_told,
    too_many,
    trowel_of_name,
    turn_told,
    turned,
    ways_offered,
    with_choices,
    with_question,
    with_reader,
)
from fieldassist.ui.content.trial_words import value_told, whole_way_told
from fieldassist.ui.entering import field_key
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Divider, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.rank_chart import EdgePicture
from fieldassist.ui.widgets.step_key import StepKey
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

# How wide what it comes to stands beside what is chosen, and how high over it upright [dots].
_ANSWER_WIDE, _ANSWER_HIGH = 384.0, 330.0
_LARGE = 1.2
# How high a key with a drawn edge is [dots].
_DRAWN = TARGET + 44


class TrialDesignScreen(Screen):
    """One trial of the site that is entered. `index`: its area; `part`: "ways" for the list of its combinations."""

    place = "day"

    @property
    def _memory(self) -> SiteMemory:
        return self.tablet.memory.of(SiteMemory)

    @property
    def _index(self) -> int:
        return int(self.tablet.at_what.get("index", 0))

    @property
    def _part(self) -> str:
        return str(self.tablet.at_what.get("part", "design"))

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def title(self) -> tuple[str, str]:
        """What is designed."""
        name = str(self._memory.draft.get("areas", self._index, "name") or "")
        return self._tell(message("mockup-ways" if self._part == "ways" else "mockup-design")), capital(name)

    def refresh(self) -> None:
        """Show what has changed."""
        draft = self._memory.draft
        if not self.changed("page", (repr(draft.fields), self._index, self._part, self.tablet.words)):
            return
        self.page.clear_widgets()
        if draft.get("areas", self._index, "trial") is None:
            self.act(Key(self.look, self._tell(message("frame-back")), partial(self.tablet.go, "day"), kind="action"))
            return
        choices, plan = choices_in(draft, self._index), area_draft(draft, self._index).done
        ways = ways_offered(choices, self._ruled_out(plan))
        if self._part == "ways":
            self._show_ways(choices, ways)
        else:
            self._show_design(draft, choices, plan, ways)

    def _ruled_out(self, plan: AreaPlan | None) -> Any:
        checklist = checklists_of(self.tablet).get(CHECKLIST)
        return ruled_out(plan, checklist) if plan is not None and checklist is not None else {}

    # --- what is chosen -------------------------------------------------------------------------------------------

    def _show_design(
        self, draft: PlanDraft, choices: TriedChoices, plan: AreaPlan | None, ways: Sequence[WayOffered]
    ) -> None:
        look = self.look
        inside = ColumnBox(look, gap=10, rises=True)
        if not choices.exact:
            inside.add_widget(TextLabel(look, self._tell(message("mockup-from-file")), "small", role="quiet"))
        self._group(inside, "mockup-notches", self._notch_keys(choices), 2 if self._narrow else 4, _DRAWN)
        for factor in TRIED:
            self._group(inside, f"mockup-{factor}", self._factor_keys(choices, factor))
        trial = draft.get("areas", self._index, "trial")
        self._group(inside, "mockup-questions", self._question_keys(draft), 1 if self._narrow else 2)
        told = [(each, message("mockup-many-each", count=each)) for each in REPEATS]
        self._group(inside, "mockup-repeats", self._one_of("repeats", told, trial.get("repeats", 3)), len(REPEATS))
        crew = [str(one["name"]) for one in draft.get("crew") or () if one.get("name")]
        readers = [
            Key(look, person(name), partial(self._reader, name), chosen=name in trial.get("readers", ()), size="near")
            for name in crew
        ]
        self._group(inside, "mockup-readers", readers, 3)
        for field, values in (("seen", SEEN), ("place", PLACES), ("surface", SURFACES)):
            options = [(value, term(f"mockup-{field}", value)) for value in values]
            self._group(inside, f"mockup-{field}", self._one_of(field, options, trial.get(field, values[0])))
        beds = [(value, term("mockup-measured", value)) for value in BEDS]
        self._group(inside, "mockup-measures-bed", self._one_of("bed", beds, trial.get("bed", BEDS[0])))
        counts = [(False, message("mockup-grid-no")), (True, message("mockup-grid-yes"))]
        self._group(inside, "mockup-grid", self._one_of("counted", counts, trial.get("counted", False)))
        self._group(inside, "mockup-figures", self._figure_keys(draft), 2, TARGET + 8)
        fields = [field_key(self.tablet, draft, asked, {}, self._put) for asked in area_words(self._index)]
        self._group(inside, "mockup-named", fields, 1 if self._narrow else 2, TARGET + 8)
        answer, scroll = self._answer(draft, plan, ways), Scroll(look, inside)
        if self.tablet.upright:
            answer.size_hint_y, answer.height = None, look.dots(_ANSWER_HIGH)
            self.page.add_widget(answer)
            self.page.add_widget(Divider(look))
            self.page.add_widget(scroll)
        else:
            answer.size_hint_x, answer.width = None, look.dots(_ANSWER_WIDE)
            both = (scroll, answer)
            self.page.add_widget(RowBox(look, *(reversed(both) if look.left_hand else both), gap=16))
        self._act(draft, plan)

    @property
    def _narrow(self) -> bool:
        return self.look.text > _LARGE

    def _group(
        self, inside: ColumnBox, title: str, keys: Sequence[Widget], columns: int = 0, high: float = TARGET
    ) -> None:
        inside.add_widget(TextLabel(self.look, self._tell(message(title)), "near", bold=True))
        wide = columns or len(keys)
        # What is wrong stands under its key: then rows are as high as what is in them.
        if any(isinstance(key, ColumnBox) for key in keys):
            padded = [*keys, *(Widget() for _ in range(-len(keys) % wide))]
            rows = [padded[at : at + wide] for at in range(0, len(padded), wide)]
            inside.add_widget(
                ColumnBox(self.look, *(RowBox(self.look, *row, gap=10, rises=True) for row in rows), gap=10, rises=True)
            )
            return
        inside.add_widget(Cells(self.look, keys, wide, gap=10, high=high))

    def _notch_keys(self, choices: TriedChoices) -> list[Widget]:
        return [
            StepKey(
                self.look,
                self._tell(notch_key_told(choices, name)),
                partial(self._toggle, "notches", name),
                "notch",
                notch=notch_of(trowel_of_name(choices, name)),
                chosen=name in choices.notches,
            )
            for name in notches_offered(choices)
        ]

    def _factor_keys(self, choices: TriedChoices, factor: TriedFactor) -> list[Widget]:
        return [
            Key(
                self.look,
                capital(self._tell(value_told(factor, value))),
                partial(self._toggle, factor, value),
                chosen=value in getattr(choices, factor),
                size="near",
            )
            for value in TRIED[factor]
        ]

    def _question_keys(self, draft: PlanDraft) -> list[Widget]:
        asked = draft.get("areas", self._index, "trial", "questions") or ()
        offered = [*proposed(draft, self._index), *(one for one in asked if one.get("letters"))]
        return [
            Key(
                self.look,
                capital(self._tell(telling.question(PlannedQuestion.model_validate(one)))),
                partial(self._ask, one),
                chosen=one in asked,
                size="near",
            )
            for one in offered
        ]

    def _one_of(self, field: str, options: Sequence[tuple[Any, Figure]], chosen: Any) -> list[Widget]:
        return [
            Key(
                self.look,
                capital(self._tell(told)),
                partial(self._choose, field, value),
                chosen=value == chosen,
                size="near",
            )
            for value, told in options
        ]

    def _figure_keys(self, draft: PlanDraft) -> list[Widget]:
        units: Units = "us" if draft.get("units") == "us" else "metric"
        asked = entered_figures(draft, self._index, units)
        keys = [field_key(self.tablet, draft, one, {}, self._put) for one in asked]
        mortar = draft.get("areas", self._index, "mortar", "name")
        label = self._tell(message("site-field", field="mortar"))
        keys.append(
            Key(
                self.look,
                str(mortar or self._tell(message("site-to-be-said"))),
                partial(self.tablet.go, "mortars", area=self._index),
                sign="sack",
                caption=label,
                off=mortar is None,
                size="near",
                named=label,
            )
        )
        return keys

    # --- what it comes to -----------------------------------------------------------------------------------------

    def _answer(self, draft: PlanDraft, plan: AreaPlan | None, ways: Sequence[WayOffered]) -> ColumnBox:
        look = self.look
        made = answer_of(plan, int(draft.get("areas", self._index, "trial", "repeats") or 0), ways)
        column = ColumnBox(look, gap=6)
        column.add_widget(
            TextLabel(look, self._tell(made.head), "far", fit=True, size_hint_y=None, height=look.dots(84))
        )
        lines = ColumnBox(look, gap=4, rises=True)
        for told in made.first:
            lines.add_widget(TextLabel(look, self._tell(told), "near", bold=True))
        for told in made.then:
            lines.add_widget(TextLabel(look, self._tell(told), "small"))
        column.add_widget(Scroll(look, lines))
        out = sum(bool(way.reasons) for way in ways)
        said = message("mockup-ways-key", out=out, count=len(ways))
        see = partial(self.tablet.go, "trial design", index=self._index, part="ways")
        column.add_widget(Key(look, self._tell(said), see, sign="fail" if out else None, size="near"))
        return column

    def _show_ways(self, choices: TriedChoices, ways: Sequence[WayOffered]) -> None:
        """Every combination, its edge drawn, and whether it runs; a key turns that."""
        look = self.look
        inside = ColumnBox(look, gap=6, rises=True)
        for offered in sorted(ways, key=lambda one: not one.reasons):
            inside.add_widget(self._way_row(choices, offered))
            inside.add_widget(Divider(look))
        self.page.add_widget(Scroll(look, inside))
        back = partial(self.tablet.go, "trial design", index=self._index)
        self.act(Key(look, self._tell(message("mockup-to-design")), back, kind="action"))

    def _way_row(self, choices: TriedChoices, offered: WayOffered) -> Widget:
        look, one = self.look, offered.combination
        middle: dict[str, Any] = {"pos_hint": {"center_y": 0.5}, "size_hint_x": None}
        letter = TextLabel(look, offered.letter or "–", "key", bold=True, width=look.dots(48), **middle)
        words = ColumnBox(look, gap=0, rises=True, pos_hint={"center_y": 0.5})
        words.add_widget(TextLabel(look, self._tell(notch_key_told(choices, offered.way[0])), "near", bold=True))
        words.add_widget(TextLabel(look, self._tell(whole_way_told(one)), "small", role="quiet"))
        if not offered.runs or offered.shown:
            role: ColourName = "fail" if offered.reasons else "ink"
            words.add_widget(TextLabel(look, self._tell(state_told(offered)), "small", role=role))
        press = partial(self._turn, choices, offered)
        key = Key(look, self._tell(turn_told(offered)), press, size="near", width=look.dots(230), **middle)
        parts: list[Widget] = [letter, words, key]
        if not self._narrow:
            edge = EdgePicture(
                look, notch_of(one), size_hint_y=None, height=look.dots(70), width=look.dots(120), **middle
            )
            parts.insert(1, edge)
        return RowBox(look, *(reversed(parts) if look.left_hand else parts), gap=14, rises=True)

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _take(self, draft: PlanDraft) -> None:
        try:
            self._memory.take(draft, self.tablet.data)
        except OSError as error:
            self.tablet.refuse(self._tell(message("site-not-kept", why=str(error.strerror))))
        self.refresh()

    def _with(self, choices: TriedChoices) -> None:
        refused = too_many(choices)
        if refused is not None:
            self.tablet.refuse(self._tell(refused))
            return
        self._take(with_choices(self._memory.draft, self._index, choices))

    def _toggle(self, factor: TriedFactor | Literal["notches"], value: str) -> None:
        self._with(choices_in(self._memory.draft, self._index).toggled(factor, value))

    def _turn(self, choices: TriedChoices, offered: WayOffered) -> None:
        self._with(turned(choices, offered))

    def _ask(self, question: dict[str, str]) -> None:
        self._take(with_question(self._memory.draft, self._index, question))

    def _choose(self, field: str, value: Any) -> None:
        self._take(self._memory.draft.put(value, "areas", self._index, "trial", field))

    def _reader(self, name: str) -> None:
        self._take(with_reader(self._memory.draft, self._index, name))

    def _put(self, asked: FieldAsked, value: str) -> None:
        self._take(put_figure(self._memory.draft, self._index, asked, value))

    # --- what comes next ------------------------------------------------------------------------------------------

    def _act(self, draft: PlanDraft, plan: AreaPlan | None) -> None:
        look, tablet = self.look, self.tablet
        at = ("areas", self._index)
        wrong = next((w for where, w in draft.wrong.items() if where[:2] == at), None)
        why = wrong or (first_wrong(area_draft(draft, self._index)) if plan is None else None)
        if not self._memory.by_day:
            keep = Key(look, self._tell(message("site-keep")), partial(tablet.go, "site"), kind="action")
            self.act(keep, Key(look, self._tell(message("site-take-out")), self._take_out, size="near"))
            return
        press: Callable[[], object] = partial(tablet.refuse, self._tell(why)) if why is not None else self._plan
        told = self._tell(message("mockup-plan"))
        big = Key(look, told, press, kind="plain" if why is not None else "action", off=why is not None)
        self.act(big, Key(look, self._tell(message("frame-back")), partial(tablet.go, "day"), size="near"))

    def _take_out(self) -> None:
        self._take(without(self._memory.draft, "areas", self._index))
        self.tablet.go("site")

    def _plan(self) -> None:
        planned = area_draft(self._memory.draft, self._index).done
        assert isinstance(planned, AreaPlan)  # the key is off until it is one
        held = checklists_of(self.tablet)
        self.tablet.send(cmd.PlanArea(planned=planned, checklists=(held[planned.checklist],)))
        self.tablet.go("day")
