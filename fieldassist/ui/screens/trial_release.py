"""A method is released from a trial: which one, for which areas, and why where it is not the best; signed by PIN."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import PRESSED
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.state import State
from fieldassist.day.session import Answer, Day
from fieldassist.trade.message import Figure, message, term
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.trial_live import (
    Releasable,
    TrialMemory,
    areas_to_release_for,
    plans_with_released,
    releasable,
    release_told,
    trial_named,
    who_releases,
)
from fieldassist.ui.content.trial_words import notch_told, varying, way_told
from fieldassist.ui.entering import pick
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.method_key import MethodKey
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

_LARGE = 1.2
# Why another than the best is released, as it is ready to be pressed; or in words.
_REASONS = ("less mortar", "less effort", "nothing bought", "cannot be told apart")


@dataclass
class ReleaseMemory:
    """What is chosen to be released, by the trial. letter: "" for the best; areas: their keys, None for those that have
    the trial's piece."""

    letter: str = ""
    areas: tuple[str, ...] | None = None


class TrialReleaseScreen(Screen):
    """The release of one trial. `area`: its name; else the one at hand."""

    place = "day"

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def title(self) -> tuple[str, str]:
        """What is done here."""
        return self._tell(message("mockup-release-title")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        planned = trial_named(view.state, self.tablet.at_what.get("area")) if view is not None else None
        said = None
        if view is not None and planned is not None:
            said = self.tablet.memory.of(TrialMemory, view.path).said.get(planned.name)
        kept = self._kept
        if not self.changed("page", (planned, said, kept.letter, kept.areas, self.tablet.words)):
            return
        self.page.clear_widgets()
        offered = releasable(said) if said is not None else ()
        if view is None or planned is None or not offered:
            self.page.add_widget(TextLabel(self.look, self._tell(message("mockup-nothing-to-release")), "far"))
            self.page.add_widget(Widget())
            back = partial(self.tablet.go, "trial")
            self.act(Key(self.look, self._tell(message("mockup-to-ranking")), back, kind="action"))
            return
        self._show(view.state, planned, offered)

    @property
    def _kept(self) -> ReleaseMemory:
        view = self.tablet.view
        return self.tablet.memory.of(ReleaseMemory, view.path if view is not None else None)

    def _chosen(self, offered: Sequence[Releasable]) -> Releasable:
        return next((one for one in offered if one.letter == self._kept.letter), offered[0])

    def _areas(self, state: State, planned: AreaPlan) -> tuple[AreaPlan, ...]:
        """Those that it is released for: at first those that have the trial's piece."""
        every, kept = areas_to_release_for(state, planned), self._kept.areas
        return tuple(one for one in every if (one.piece == planned.piece if kept is None else one.key in kept))

    def _show(self, state: State, planned: AreaPlan, offered: Sequence[Releasable]) -> None:
        look, upright = self.look, self.tablet.upright
        assert planned.trial is not None  # there is a ranking
        chosen, areas = self._chosen(offered), self._areas(state, planned)
        methods = ColumnBox(look, gap=10, rises=True)
        methods.add_widget(TextLabel(look, self._tell(message("mockup-release-which")), "near", bold=True))
        parts = varying(planned.trial.combinations)
        for one in offered:
            combination = planned.trial.by_letter[one.letter]
            name = self._tell(notch_told(combination, planned.trial.combinations))
            way, figures = self._tell(way_told(combination, parts)), self._tell(one.told)
            methods.add_widget(
                MethodKey(
                    look,
                    f"{one.letter}: {name}",
                    partial(self._choose, one.letter),
                    notch_of(combination),
                    caption=f"{figures}, {way}",
                    chosen=one is chosen,
                    size="near",
                    high=TARGET + (10 if look.text <= _LARGE else 40),
                )
            )
        where = ColumnBox(look, gap=10, rises=True)
        where.add_widget(TextLabel(look, self._tell(message("mockup-release-where")), "near", bold=True))
        every = areas_to_release_for(state, planned)
        for area in every:
            press = partial(self._toggle, state, planned, area.key)
            key = Key(look, capital(area.name), press, chosen=area in areas, caption=area.where, size="near")
            where.add_widget(key)
        if not every:
            where.add_widget(TextLabel(look, self._tell(message("mockup-no-area")), "near"))
        both = (Scroll(look, methods), Scroll(look, where))
        if upright:
            self.page.add_widget(ColumnBox(look, *both, gap=12))
        else:
            both[0].size_hint_x = 1.5
            self.page.add_widget(RowBox(look, *(reversed(both) if look.left_hand else both), gap=20))
        self._act(state, planned, chosen, areas)

    def _act(self, state: State, planned: AreaPlan, chosen: Releasable, areas: Sequence[AreaPlan]) -> None:
        look, who = self.look, who_releases(state)
        back = Key(
            look, self._tell(message("frame-back")), partial(self.tablet.go, "trial", area=planned.name), size="near"
        )
        if not areas or not who:
            why = message("mockup-release-for-none") if who else message("mockup-nobody-releases")
            told = release_told(chosen.letter, ())
            self.act(Key(look, self._tell(told), partial(self.tablet.refuse, self._tell(why)), off=True), back)
            return
        told = release_told(chosen.letter, who)
        keys = tuple(area.key for area in areas)
        press = partial(self._sign, who, chosen, keys) if chosen.best else partial(self._ask_why, who, chosen, keys)
        sign: SignName | None = "sign" if look.text <= _LARGE else None
        self.act(Key(look, self._tell(told), press, kind="action", sign=sign), back)

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _choose(self, letter: str) -> None:
        self._kept.letter = letter
        self.refresh()

    def _toggle(self, state: State, planned: AreaPlan, key: str) -> None:
        now = {area.key for area in self._areas(state, planned)}
        self._kept.areas = tuple(sorted(now ^ {key}))
        self.refresh()

    def _ask_why(self, who: Sequence[str], chosen: Releasable, areas: tuple[str, ...]) -> None:
        """It is not the best one: why, in ready words or others."""
        tablet = self.tablet
        title = self._tell(message("mockup-release-why", letter=chosen.letter))

        def given(words: str) -> None:
            if words.strip():
                self._sign(who, chosen, areas, words.strip()[:400])

        told = [self._tell(term("mockup-why", reason)) for reason in _REASONS]
        keys = [Key(self.look, capital(words), partial(given, words), size="near") for words in told]
        ask = partial(tablet.ask_words, title, "", given)
        keys.append(Key(self.look, self._tell(message("work-other-words")), ask, size="near"))
        show_keys(tablet, keys, title=title)

    def _sign(self, who: Sequence[str], chosen: Releasable, areas: tuple[str, ...], why: str = "") -> None:
        """Ask whoever releases for the PIN; of several who may, which one first."""
        tablet = self.tablet
        able = [name for name in who if name in {one.name for one in tablet.keys.people()}]
        if not able:
            tablet.refuse(self._tell(message("work-no-pin", name=who[0])))
        elif len(able) == 1:
            self._ask_pin(able[0], chosen, areas, why)
        else:
            options = [(self._tell(message("frame-whose-pin", name=name)), name) for name in able]
            question = self._tell(message("mockup-release-who"))
            pick(tablet, question, options, None, lambda name: self._ask_pin(name, chosen, areas, why))

    def _ask_pin(self, name: str, chosen: Releasable, areas: tuple[str, ...], why: str) -> None:
        tablet = self.tablet
        keys, letter = tablet.keys, chosen.letter
        area = self.tablet.at_what.get("area")

        def given(pin: str, tell: Callable[[str | None], None]) -> None:
            def done(answer: Answer | None) -> None:
                if answer is None:
                    return
                tell(None if answer.taken else self._tell(answer.say))
                if answer.taken:
                    tablet.go("trial", area=area)

            def release(day: Day) -> Answer:
                """Released, it stands in the plan of those areas that are not begun."""
                answer = day.release_method(keys, pin, name, letter, areas, why, PRESSED)
                if answer.taken and day.state.active is not None:
                    for planned in plans_with_released(day.state, day.state.active):
                        day.do(cmd.PlanArea(planned=planned), PRESSED)
                return answer

            tablet.ask(release, done)

        tablet.ask_pin(self._tell(message("frame-whose-pin", name=name)), given)
