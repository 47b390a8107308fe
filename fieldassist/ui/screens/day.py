"""Day: the site, its areas beside each other, the crew, and the key that goes on; on an empty tablet a new site."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import Event, WeatherNoted
from fieldassist.checklist.offers import WEATHER
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.state import State
from fieldassist.record.days import ListedDay, listed_days
from fieldassist.trade.message import message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.beginning import SiteMemory, go_on_from, plan_anew, practise, today
from fieldassist.ui.content.day_page import (
    AreaCard,
    DayNext,
    area_cards,
    date_told,
    day_next,
    doing,
    drawn_at,
    trials_of,
    who_sets,
)
from fieldassist.ui.content.kept_sites import KeptSite, kept_sites
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.content.site_draft import entered_on, site_of, with_new_area, with_new_person
from fieldassist.ui.content.tour import Tour, tour_of
from fieldassist.ui.content.trial_design import with_new_trial
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.entering import pick
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Drawn, RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET, Look
from fieldassist.ui.widgets.rank_chart import EdgesPicture
from fieldassist.ui.widgets.text import TextLabel, fits
from fieldassist.ui.widgets.wall_map import ToldPiece, WallDrawing

from kivy.uix.widget import Widget  # isort: skip

# How many areas are seen: beside each other, or where the tablet stands upright two and two.
_SEEN, _SEEN_UPRIGHT = 3, 4
# How wide and high a wall is drawn in its card on the glass [mm].
_DRAWN_MM = (55.0, 36.0)
_DOTS_A_MM = 5.87
_SCALE = 210.0  # how wide the scale is told [dots]
# From this size of text on signs and captions give way.
LARGE = 1.25


class AreaKey(Key):
    """An area with its wall drawn to scale, or the trowels that are tried there, its name, and how far it is."""

    def __init__(self, look: Look, card: AreaCard, told: ToldPiece, scale: int, press: Any) -> None:
        self.card = card
        trial = card.plan.trial
        self._drawing: Drawn = (
            WallDrawing(look, card.wall, told, numbers=False, scale=_DOTS_A_MM / scale, low=True)
            if trial is None
            else EdgesPicture(look, [notch_of(one) for one in trial.combinations])
        )
        super().__init__(
            look,
            capital(card.plan.name),
            press,
            kind="sheet",
            chosen=card.here,
            caption=told(card.state),
            size="near",
            high=None,
        )
        self.add_widget(self._drawing)
        for one in (self.label, self.caption):
            if one is not None:
                one.halign = "left"
        self._lay()

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Under the drawing."""
        x, y, w, h = box
        pad = self.look.dots(18)
        high = min(h * 0.5, self.look.font("near") * 1.3 + self.look.font("small") * 1.5)
        return x + pad, y + self.look.dots(8), w - 2 * pad, high

    def _lay(self, *_moved: object) -> None:
        super()._lay()
        if self.label is None or not hasattr(self, "_drawing"):
            return
        x, y, w, h = self.face
        _, low, _, high = self.words_box((x, y, w, h))
        edge = self.look.dots(18)
        below = low + high + self.look.dots(4)
        self._drawing.pos = x + edge, below
        self._drawing.size = max(1.0, w - 2 * edge), max(1.0, y + h - edge - below)


class DayScreen(Screen):
    """The day at a glance, and the way to other ones."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._days: tuple[ListedDay, ...] | None = None
        self._sites: tuple[KeptSite, ...] = ()
        self._state: State | None = None

    def title(self) -> tuple[str, str]:
        """The date."""
        view, words = self.tablet.view, self.tablet.words
        if view is None or view.state.plan is None:
            return words(date_told(today(self.tablet))), ""
        return words(date_told(view.state.plan.date)), ""

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, view = self.tablet, self.tablet.view
        if view is None or view.state.plan is None:
            if tablet.desk is None and self._days is None:
                self._days = ()
                data = tablet.data
                run_in_background(lambda: (listed_days(data / "days"), kept_sites(data)), self._found)
            if self.changed("page", ("none", tablet.problem, tablet.desk is None, self._days, self._sites)):
                self._show_none()
            return
        state, plan = view.state, view.state.plan
        if state is self._state:
            return  # nothing happened
        self._state = state
        cards = area_cards(state)
        tour = tour_of(view.events) if state.kind == "practice" else None
        shown = (plan, cards, who_sets(state), state.speaker, state.closed, state.sealed, weather_of(view.events), tour)
        if self.changed("page", shown):
            self._show(state, plan, cards, weather_of(view.events), tour)

    # --- a day that is open ---------------------------------------------------------------------------------------

    def _show(self, state: State, plan: DayPlan, cards: Sequence[AreaCard], weather: str, tour: Tour | None) -> None:
        tablet, look, words = self.tablet, self.look, self.tablet.words
        self.page.clear_widgets()
        walls = [card.wall for card in cards if card.plan.trial is None]
        scale = drawn_at(walls, _DRAWN_MM)
        large = look.text > LARGE
        said = words(message("prompt-weather-word", word=weather)) if weather else words(message("site-weather"))
        sky = Key(look, capital(said), self._ask_weather, size="near", high=None)
        sky.size_hint_x, sky.width = None, look.dots(240 if large else 190)
        top: list[Widget] = [self._headline(plan.site if tour is None else words(tour.told), large=large), sky]
        if walls and not tablet.upright and not large:
            drawn = words(message("site-drawn", scale=str(scale)))
            at = TextLabel(look, drawn, "small", role="quiet", align="right", fit=True)
            at.size_hint_x, at.width = None, look.dots(_SCALE)
            top.insert(1, at)
        self.page.add_widget(RowBox(look, *(reversed(top) if look.left_hand else top), gap=14, high=TARGET))
        self.page.add_widget(self._cards(cards, scale))
        self._show_crew(state, plan)
        self._act(state, tour)

    def _headline(self, told: str, *, large: bool) -> TextLabel:
        """What stands at the top, in the largest letters that go in."""
        look, upright = self.look, self.tablet.upright
        beside = (254 if large else 204) + (0 if upright or large else _SCALE + 14)
        wide = look.dots((760 if upright else 1128) - beside)
        sizes: tuple[SizeName, ...] = ("far", "key", "near", "small")
        goes_in = (s for s in sizes if fits(told, 0.8 * look.font(s), wide, look.dots(TARGET), bold=True))
        size: SizeName = next(goes_in, "small")
        return TextLabel(look, told, size, bold=True, fit=True)

    def _beside(self, cards: Sequence[Widget]) -> Widget:
        """Cards beside each other, upright two and two."""
        look, abreast = self.look, 2 if self.tablet.upright else len(cards)
        rows = [
            RowBox(look, *(reversed(cards[at : at + abreast]) if look.left_hand else cards[at : at + abreast]), gap=14)
            for at in range(0, len(cards), abreast)
        ]
        return ColumnBox(look, *rows, gap=14)

    def _cards(self, cards: Sequence[AreaCard], scale: int) -> Widget:
        look, words = self.look, self.tablet.words
        most = _SEEN_UPRIGHT if self.tablet.upright else _SEEN
        first = sorted(cards, key=lambda card: not card.here)
        seen = list(cards) if len(cards) <= most else first[: most - 1]
        keys: list[Key] = [AreaKey(look, card, words, scale, partial(self._area, card)) for card in seen]
        rest = [card for card in cards if card not in seen]
        if rest:
            more = words(message("site-more-areas", count=len(rest)))
            keys.append(Key(look, more, partial(self._show_rest, rest), kind="sheet", high=None))
        return self._beside(keys)

    def _show_rest(self, cards: Sequence[AreaCard]) -> None:
        words = self.tablet.words
        keys = [
            Key(self.look, capital(card.plan.name), partial(self._area, card), caption=words(card.state), size="near")
            for card in cards
        ]
        show_keys(self.tablet, keys)

    def _show_crew(self, state: State, plan: DayPlan) -> None:
        tablet, look, words = self.tablet, self.look, self.tablet.words
        sets = who_sets(state)
        most = 3 if tablet.upright else 4
        keys = [
            Key(
                look,
                person(one.name),
                partial(tablet.send, cmd.SpeakAs(name=one.name)),
                sign=None if look.text > LARGE else "person",
                chosen=one.name in sets,
                caption="" if look.text > LARGE else words(doing(state, one)),
                size="near",
                high=None,
            )
            for one in plan.crew[:most]
        ]
        if len(plan.crew) > most:
            rest = Key(look, words(message("frame-more")), partial(self._show_rest_of_crew, plan, most), size="near")
            keys = [*keys[:-1], rest] if tablet.upright else [*keys, rest]
            rest.size_hint_y = 1
        newcomer = words(message("site-new-person"))
        plain = [
            Key(
                look,
                "",
                partial(self._as_somebody, self._new_person),
                sign="more",
                named=newcomer,
                high=None,
                size_hint_x=None,
                width=look.dots(TARGET),
            ),
            Key(
                look,
                words(message("site-new-area")),
                partial(self._as_somebody, self._new_area),
                size="near",
                high=None,
            ),
            Key(look, words(message("site-other-days")), partial(tablet.go, "days"), size="near", high=None),
        ]
        if state.closed:
            check = Key(look, words(message("check-title")), partial(tablet.go, "check"), size="near", high=None)
            plain = [check, *plain[2:]]
        if tablet.upright:
            self.page.add_widget(RowBox(look, *keys, high=TARGET))
            self.page.add_widget(RowBox(look, *plain, gap=12, high=TARGET))
        else:
            row = [*keys, *plain]
            self.page.add_widget(RowBox(look, *(reversed(row) if look.left_hand else row), gap=12, high=TARGET))

    def _plain_key(self, code: str, press: Callable[[], object]) -> Key:
        return Key(self.look, self.tablet.words(message(code)), press, size="near", high=None)

    def _show_rest_of_crew(self, plan: DayPlan, most: int) -> None:
        keys = [
            Key(self.look, person(one.name), partial(self.tablet.send, cmd.SpeakAs(name=one.name)), sign="person")
            for one in plan.crew[most - 1 :]
        ]
        show_keys(self.tablet, keys)

    def _act(self, state: State, tour: Tour | None) -> None:
        look, words, tablet = self.look, self.tablet.words, self.tablet
        then = day_next(state)
        big = Key(look, words(then.told), partial(self._go_on, then), kind="action", off=False)
        if then.what == "signed":
            big = Key(look, words(then.told), partial(tablet.go, "signing"), kind="plain", sign="pass")
        if tour is not None:
            big = Key(
                look,
                words(message("site-tour-go" if tour.now else "site-new-site")),
                partial(tablet.go, tour.now.screen) if tour.now else self._leave_practice,
                kind="action",
            )
            leave = Key(look, words(message("site-tour-leave")), tablet.leave_day, size="near")
            self.act(big, leave)
            return
        practice = Key(look, words(message("site-practice")), partial(practise, tablet), size="near")
        mock_up = Key(look, words(message("mockup-title")), partial(self._mock_ups, state), size="near")
        others = [practice] if state.closed and not trials_of(state) else [practice, mock_up]
        if state.areas and not state.closed and then.what != "sign":
            # A day ends at its evening, whatever of its areas is left for another.
            told = words(message("site-next", what="sign", area=""))
            others.insert(0, Key(look, told, partial(tablet.go, "signing"), size="near"))
        self.act(big, *others)

    def _mock_ups(self, state: State) -> None:
        """The trials of this day, and a new one; where there is none, a new one."""
        look, words, trials = self.look, self.tablet.words, trials_of(state)
        new = partial(self._as_somebody, self._new_trial)
        if not trials:
            new()
            return
        keys = [
            Key(look, capital(area.name), partial(self.tablet.go, "trial", area=area.name), caption=words(told))
            for area, told in trials
        ]
        if not state.closed:
            keys.append(Key(look, words(message("mockup-new")), new, sign="more"))
        show_keys(self.tablet, keys)

    def _new_trial(self) -> None:
        memory = self._by_day()
        if memory is not None:
            memory.draft, index = with_new_trial(memory.draft)
            self.tablet.go("trial design", index=index)

    def _leave_practice(self) -> None:
        self.tablet.leave_day()
        plan_anew(self.tablet)

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _go_on(self, then: DayNext) -> None:
        if then.what == "sign":
            self.tablet.go("signing")
        else:
            self._as_somebody(partial(self._enter, then.area))

    def _enter(self, name: str) -> None:
        """Have this area be the one that is worked at."""
        view = self.tablet.view
        if view is not None and view.state.active != name:
            self.tablet.send(cmd.StartArea(area=name))
        self.tablet.go("work")

    def _as_somebody(self, then: Callable[[], None]) -> None:
        """Go on as whoever works; where nobody has said so yet, that is asked first and what was pressed goes on."""
        view, words = self.tablet.view, self.tablet.words
        if view is None or view.state.plan is None:
            return
        if view.state.speaker is not None:
            then()
            return

        def is_it(name: str) -> None:
            self.tablet.send(cmd.SpeakAs(name=name))
            then()

        crew = [(person(one.name), one.name) for one in view.state.plan.crew]
        pick(self.tablet, words(message("site-who-works")), crew, None, is_it)

    def _area(self, card: AreaCard) -> None:
        view = self.tablet.view
        if view is None:
            return
        look, words, name = self.look, self.tablet.words, card.plan.name
        seen = "wall" if card.plan.trial is None else "trial"
        if card.here or view.state.closed or (card.begun and name == view.state.active):
            self.tablet.go(seen, area=name)
            return
        state = view.state
        finished = card.begun and state.areas[name].progress.phase == "finished"
        keys = []
        if not finished:
            then = DayNext("go on" if card.begun else "start", name)
            keys.append(Key(look, words(then.told), partial(self._go_on, then), kind="action"))
        see = message("site-see-wall" if card.plan.trial is None else "mockup-see")
        keys.append(Key(look, words(see), partial(self.tablet.go, seen, area=name)))
        if not card.begun:
            keys.append(
                Key(look, words(message("site-change")), partial(self._as_somebody, partial(self._change_area, name)))
            )
        show_keys(self.tablet, keys)

    def _ask_weather(self) -> None:
        words = self.tablet.words
        options = [(capital(words(message("prompt-weather-word", word=word))), word) for word in WEATHER]
        view = self.tablet.view
        now = weather_of(view.events) if view is not None else ""
        pick(self.tablet, words(message("site-what-weather")), options, now, self._noted)

    def _noted(self, word: str) -> None:
        self.tablet.send(cmd.NoteWeather(text=word))

    def _by_day(self) -> SiteMemory | None:
        view = self.tablet.view
        if view is None or view.state.plan is None:
            return None
        self.tablet.memory.forget(SiteMemory)
        memory = self.tablet.memory.of(SiteMemory)
        memory.draft, memory.by_day = site_of(view.state.plan, view.state.plan.date), True
        return memory

    def _new_area(self) -> None:
        memory = self._by_day()
        if memory is not None:
            memory.draft, index = with_new_area(memory.draft)
            self.tablet.go("site", part="area", index=index)

    def _change_area(self, name: str) -> None:
        memory = self._by_day()
        if memory is not None:
            index = next(i for i, area in enumerate(memory.draft.get("areas")) if area["name"] == name)
            self.tablet.go(entered_on(memory.draft, index), part="area", index=index)

    def _new_person(self) -> None:
        memory = self._by_day()
        if memory is not None:
            memory.draft, index = with_new_person(memory.draft)
            self.tablet.go("site", part="person", index=index)

    # --- no day yet -----------------------------------------------------------------------------------------------

    def _found(self, found: tuple[tuple[ListedDay, ...], tuple[KeptSite, ...]]) -> None:
        self._days, self._sites = found
        self.refresh()

    def _show_none(self) -> None:
        tablet, look, words = self.tablet, self.look, self.tablet.words
        self.page.clear_widgets()
        if tablet.desk is not None:
            self.page.add_widget(TextLabel(look, words(message("site-opening")), "far"))
            self.act()
            return
        self.page.add_widget(
            TextLabel(
                look, words(message("site-first-start")), "far", fit=True, size_hint_y=None, height=look.dots(TARGET)
            )
        )
        if tablet.problem:
            problem = TextLabel(look, tablet.problem, "near", role="fail", fit=True, size_hint_y=None)
            problem.height = look.dots(TARGET)
            self.page.add_widget(problem)
        days = self._days or ()
        sites = self._sites
        most = (_SEEN_UPRIGHT if tablet.upright else _SEEN) - 1
        new = Key(look, words(message("site-new-site")), partial(plan_anew, tablet), off=True, high=None)
        cards = [*(self._site_card(site) for site in sites), *(self._day_card(day) for day in days)][:most]
        row = [new, *cards] if len(cards) == most else [new, *cards, *(Widget() for _ in range(most - len(cards)))]
        self.page.add_widget(self._beside(row))
        below = [
            Key(look, words(message("site-mortars")), partial(tablet.go, "mortars"), sign="sack", high=None),
            Key(look, words(message("site-other-days")), partial(tablet.go, "days"), high=None),
            Key(look, words(message("check-title")), partial(tablet.go, "check"), size="near", high=None),
        ]
        if len(sites) > most:
            more = words(message("site-more-sites", count=len(sites) - most))
            below.append(Key(look, more, partial(self._show_sites, sites[most:]), size="near", high=None))
        self.page.add_widget(Cells(look, below, len(below), gap=12))
        practice = Key(look, words(message("site-practice")), partial(practise, tablet), size="near")
        ours = next((day for day in days if day.kind == "work" and day.state != "unreadable"), None)
        if ours is None:
            self.act(Key(look, words(message("site-plan-site")), partial(plan_anew, tablet), kind="action"), practice)
        elif ours.state == "open" and ours.date == today(tablet):
            opened = partial(tablet.open_day, ours.path)
            self.act(Key(look, words(message("site-open-this")), opened, kind="action"), practice)
        else:
            go_on = partial(go_on_from, tablet, ours.path, self._not_read)
            self.act(Key(look, words(message("site-go-on-site", site=ours.site)), go_on, kind="action"), practice)

    def _show_sites(self, sites: Sequence[KeptSite]) -> None:
        cards = [self._site_card(site) for site in sites]
        for card in cards:
            card.kind = "plain"
        show_keys(self.tablet, cards)

    def _site_card(self, site: KeptSite) -> Key:
        words = self.tablet.words

        def opened() -> None:
            if site.wrong is not None:
                self.tablet.refuse(words(site.wrong))
                return
            self.tablet.memory.forget(SiteMemory)
            memory = self.tablet.memory.of(SiteMemory)
            memory.draft, memory.path = site.draft, site.path
            self.tablet.go("site")

        named = site.name or words(message("site-no-name"))
        return Key(self.look, named, opened, kind="sheet", caption=words(message("site-planned")), high=None)

    def _day_card(self, day: ListedDay) -> Key:
        words = self.tablet.words
        told = words(message("site-day-line", state=day.state, kind=day.kind))
        caption = f"{words(date_told(day.date))} · {told}" if day.date else told
        named = day.site or day.path.stem
        return Key(self.look, named, partial(self.tablet.open_day, day.path), kind="sheet", caption=caption, high=None)

    def _not_read(self, problem: Exception) -> None:
        self.tablet.refuse(self.tablet.words.of(problem))


def weather_of(events: Sequence[Event]) -> str:
    """The weather that was noted last, "" for none."""
    return next((event.body.text for event in reversed(events) if isinstance(event.body, WeatherNoted)), "")
