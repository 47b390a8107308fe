"""Behind the person: who speaks and who sets, minutes of dust with start and end, and ways to what else is personal."""

from __future__ import annotations

from functools import partial

from fieldassist.assess.dust import DustTask
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import Area, State
from fieldassist.day.desk import View
from fieldassist.trade.message import message, term
from fieldassist.ui.content import person as content
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.person import DustBar
from fieldassist.ui.content.safety import SafetyMemory, area_of
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll, Space
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.person_marks import DustRuler, FaceKey, controls_row, figures_of
from fieldassist.ui.widgets.text import TextLabel


def _does(name: str, speaks: str, sets: str | None) -> str:
    """What somebody does now, as figure of "person-face"."""
    if name == speaks:
        return "both" if name == sets else "speaks"
    return "sets" if name == sets else "none"


class PersonPage(Screen):
    """The screen."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._ruler: DustRuler | None = None
        self._sum: TextLabel | None = None

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        view = self.tablet.view
        speaker = view.state.speaker if view is not None else None
        return self.tablet.words(message("person-title")), name_of(speaker.name) if speaker is not None else ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("all", None):
                self._without_day()
            return
        state = view.state
        who = state.speaker.name if state.speaker is not None else ""
        bar = content.dust_bar(state, who, view.at, self._task(state))
        area = self._area(state)
        by = (
            state.plan, state.speaker, state.area.setter if state.area is not None else None, state.dusty, state.dust,
            state.cautioned, state.closed, self._task(state), bar.over, self.tablet.units, area and area.plan.name,
        )  # fmt: skip
        if self.changed("all", by):
            self._draw(view, bar, area)
        elif self.changed("minutes", (int(bar.noted), int(bar.running))):
            self._minutes(bar, view)

    @property
    def _high(self) -> float:
        """How high a key with a caption is [dots]."""
        return 112 if self.look.text <= 1.2 else 136

    @property
    def _kept(self) -> SafetyMemory:
        view = self.tablet.view
        return self.tablet.memory.of(SafetyMemory, view.path if view is not None else None)

    def _task(self, state: State) -> DustTask:
        return content.task_at(state, self._kept.task, self._kept.place)

    def _area(self, state: State) -> Area | None:
        plan = state.plan
        name = state.active or (plan.areas[0].name if plan is not None and plan.areas else "")
        return area_of(state, name)

    # --- drawing --------------------------------------------------------------------------------------------------

    def _without_day(self) -> None:
        self.page.clear_widgets()
        self.page.add_widget(TextLabel(self.look, self.tablet.words(message("person-no-day")), "key"))
        self.page.add_widget(Space(self.look))
        self.page.add_widget(self._doors(None))
        self.act(self._day_key())

    def _draw(self, view: View, bar: DustBar, area: Area | None) -> None:
        look, upright, state = self.look, self.tablet.upright, view.state
        self.page.clear_widgets()
        large = look.text > 1.2
        parts = [self._crew(state, large=large), self._dust(view, bar)]
        doors = self._doors(area)
        if upright or large:
            inside = ColumnBox(look, *parts, doors, gap=20, rises=True)
            self.page.add_widget(Scroll(look, inside))
        else:
            self.page.add_widget(parts[0])
            self.page.add_widget(Space(look, 6))
            dust = Scroll(look, parts[1], size_hint_x=0.55)
            right = Scroll(look, doors, size_hint_x=0.45)
            pair = (right, dust) if look.left_hand else (dust, right)
            self.page.add_widget(RowBox(look, *pair, gap=28))
        self._acts_of(state, bar)

    def _crew(self, state: State, *, large: bool) -> Cells:
        look, words, plan = self.look, self.tablet.words, state.plan
        assert plan is not None
        sets = state.area.setter if state.area is not None else None
        speaks = state.speaker.name if state.speaker is not None else ""
        columns = 2 if self.tablet.upright and large else min(4, max(3, len(plan.crew)))
        faces = [
            FaceKey(
                look,
                one,
                words(message("person-face", role=one.role.value, does=_does(one.name, speaks, sets))),
                partial(self.tablet.send, cmd.SpeakAs(name=one.name)),
                chosen=one.name == speaks,
                high=self._high,
            )
            for one in plan.crew
        ]
        return Cells(look, faces, columns, high=self._high)

    def _dust(self, view: View, bar: DustBar) -> ColumnBox:
        look, words, state = self.look, self.tablet.words, view.state
        shown = self._task(state)
        column = ColumnBox(look, gap=10, rises=True)
        head = TextLabel(look, words(message("person-dust")), "near", bold=True, fit=True)
        self._sum = TextLabel(look, "", "near", bold=True, align="right", fit=True, size_hint_x=1.4)
        column.add_widget(RowBox(look, head, self._sum, high=44 * look.text))
        self._ruler = DustRuler(look, bar)
        column.add_widget(self._ruler)
        controls = content.controls(shown, bar.noted + bar.running)
        told = TextLabel(look, words(controls.told), "small")
        column.add_widget(RowBox(look, controls_row(look, controls), told, gap=16, rises=True))
        if bar.next is not None:
            column.add_widget(TextLabel(look, words(bar.next), "small", role="quiet"))
        label = words(message("person-dust-task", task=term("engine-dust-task", shown[0])))
        place = words(message("person-dust-place", place=term("engine-dust-place", shown[1])))
        column.add_widget(
            Key(
                look,
                label,
                partial(self.tablet.go, "dust"),
                sign="shield",
                caption=place,
                size="near",
                high=self._high if look.text <= 1.2 else 176,
            )
        )
        self._minutes(bar, view)
        return column

    def _minutes(self, bar: DustBar, view: View) -> None:
        if self._ruler is not None and self._sum is not None:
            self._ruler.show(bar)
            self._sum.words = self.tablet.words(bar.told)
            if bar.run is not None:
                self._acts_of(view.state, bar)

    def _doors(self, area: Area | None) -> ColumnBox:
        """Ways to what else stands behind the person, each with how it stands."""
        look, words, go = self.look, self.tablet.words, self.tablet.go
        view = self.tablet.view
        column = ColumnBox(look, gap=14, rises=True)
        keys: list[Key] = []
        if view is not None and area is not None:
            rows = content.caution_rows(view.state, area, view.at)
            unseen = sum(1 for row in rows if row.holds and row.missing)
            keys.append(
                Key(look, words(message("person-cautions")), partial(go, "cautions"), sign="shield", size="near",
                    caption=words(message("person-cautions-stand", unseen=unseen)), high=self._high)
            )  # fmt: skip
            carrying = content.carrying(view.state, area.plan.name, {})
            keys.append(
                Key(look, words(message("person-handling")), partial(go, "handling"), sign=figures_of(carrying)[0],
                    size="near", caption=words(message("person-handling-who", kind=carrying.kind.replace(" ", "-"),
                                                       people=carrying.people or 0)), high=self._high)
            )  # fmt: skip
        chosen = self.tablet.preferences
        keys.append(
            Key(look, words(message("person-tablet")), partial(go, "tablet"), size="near", high=self._high,
                caption=words(message("person-tablet-is", theme=chosen.theme, text=str(round(100 * chosen.text)))))
        )  # fmt: skip
        if view is not None:
            keys.append(Key(look, words(message("person-pins")), partial(go, "crew"), size="near", high=self._high))
        keys.append(Key(look, words(message("person-words")), partial(go, "glossary"), size="near", high=self._high))
        column.add_widget(
            Cells(look, keys, 2 if look.text <= 1.2 or not self.tablet.upright else 1, high=self._high, gap=14)
        )
        return column

    def _acts_of(self, state: State, bar: DustBar) -> None:
        look, words = self.look, self.tablet.words
        view = self.tablet.view
        if state.speaker is None:
            dust = Key(look, words(message("person-dust-starts")), self._nobody, off=True, high=None)
        elif bar.run is not None and view is not None:
            dust = Key(
                look,
                words(message("person-dust-ends")),
                partial(self.tablet.send, cmd.DustEnds()),
                kind="action",
                caption=words(content.run_told(bar.run, view.at)),
                high=None,
            )
        else:
            task, place = self._task(state)
            caption = message(
                "person-dust-what", task=term("engine-dust-task", task), place=term("engine-dust-place", place)
            )
            dust = Key(
                look,
                words(message("person-dust-starts")),
                partial(self.tablet.send, cmd.DustStarts(task=task, place=place)),
                kind="plain" if state.closed else "action",
                caption=words(caption),
                off=state.closed,
                high=None,
            )
        self.act(dust, self._setter_key(state), self._day_key())

    def _nobody(self) -> None:
        self.tablet.refuse(self.tablet.words(message("person-choose-first")))

    def _setter_key(self, state: State) -> Key:
        """Who sets: the next installer of the crew."""
        look, words, plan = self.look, self.tablet.words, state.plan
        assert plan is not None
        area = state.area
        hands = [one.name for one in plan.crew if one.role is Role.INSTALLER]
        if area is None or not hands or area.progress.phase == "finished":
            why = words(message("person-no-setter"))
            return Key(
                look, words(message("person-sets")), partial(self.tablet.refuse, why), off=True, size="near", high=None
            )
        at = hands.index(area.setter) if area.setter in hands else -1
        others = [name for name in (*hands[at + 1 :], *hands[: max(0, at)]) if name != area.setter]
        caption = words(message("person-sets-now", name=area.setter)) if area.setter else ""
        if not others:
            why = words(message("person-only-setter"))
            return Key(look, words(message("person-sets")), partial(self.tablet.refuse, why), off=True, size="near",
                       caption=caption, high=None)  # fmt: skip
        return Key(
            look,
            words(message("person-will-set", name=others[0])),
            partial(self.tablet.send, cmd.SetterIs(name=others[0])),
            size="near",
            caption=caption,
            high=None,
        )

    def _day_key(self) -> Key:
        return Key(self.look, self.tablet.words(message("frame-back")), self.tablet.back, size="near", high=None)
