"""History: what happened in the day, newest first, and corrections from there."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.offers import Offer
from fieldassist.day.desk import View
from fieldassist.trade.message import message
from fieldassist.ui.content.history import (
    History,
    HistoryFilter,
    HistoryLine,
    asked_for,
    correction_of,
    kept_apart,
)
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.lines import Line
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

# So many lines are laid on a page; older ones lie behind a key.
A_PAGE = 14


class HistoryScreen(Screen):
    """The day's lines: of an area, a person, a piece, a reading, or failures alone."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._page = 0

    @property
    def chosen(self) -> HistoryFilter:
        """What is shown."""
        what = self.tablet.at_what
        return HistoryFilter(
            area=what.get("area"),
            person=what.get("person"),
            failures=bool(what.get("failures")),
            piece=what.get("piece"),
            step=what.get("step"),
        )

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        return self.tablet.words(message("wall-history")), self._about(self.chosen)

    def refresh(self) -> None:
        """Show the lines as they are now."""
        view = self.tablet.view
        waits = view is not None and view.state.pending is not None and view.state.pending.corrects is not None
        if not self.changed("lines", (len(view.events) if view is not None else 0, waits, self._page)):
            return
        self.page.clear_widgets()
        if view is None:
            self.page.add_widget(TextLabel(self.look, self.tablet.words(message("wall-no-day")), "far"))
            self.act(self._back())
            return
        history = self.tablet.memory.of(History, view.path)
        history.take(view.events)
        lines = history.lines(self.chosen, kept_apart(view.state))
        self.page.add_widget(
            TextLabel(self.look, self.tablet.words(view.prompt.ask), "near", bold=True)
            if waits
            else self._filters(view)
        )
        self.page.add_widget(Scroll(self.look, self._lines(view, lines)))
        if waits:
            words = self.tablet.words
            self.act(
                Key(self.look, words(message("wall-correct-yes")), partial(self._send, cmd.Keep()), kind="action"),
                Key(self.look, words(message("prompt-no")), partial(self._send, cmd.Withdraw()), size="near"),
            )
        else:
            self.act(self._back())

    # --- what is chosen -------------------------------------------------------------------------------------------

    def _filters(self, view: View) -> Widget:
        words, look, chosen = self.tablet.words, self.look, self.chosen
        plan = view.state.plan
        areas = [area.name for area in plan.areas] if plan is not None else []
        people = [one.name for one in plan.crew] if plan is not None else []
        narrow = chosen.piece is not None or chosen.step is not None
        keys = [
            Key(
                look,
                capital(chosen.area) if chosen.area else words(message("wall-every-area")),
                partial(self._choose, "area", areas),
                chosen=chosen.area is not None,
                size="near",
                high=None,
            ),
            Key(
                look,
                person(chosen.person) if chosen.person else words(message("wall-everybody")),
                partial(self._choose, "person", people),
                chosen=chosen.person is not None,
                size="near",
                high=None,
            ),
            Key(
                look,
                words(message("wall-failures")),
                partial(self._show, failures=not chosen.failures, piece=None, step=None),
                chosen=chosen.failures,
                size="near",
                high=None,
            ),
        ]
        if narrow:
            told = self._about(chosen)
            everything = partial(self._show, piece=None, step=None)
            keys[2] = Key(look, told, everything, chosen=True, size="near", high=None)
        return RowBox(look, *(reversed(keys) if look.left_hand else keys), high=TARGET)

    def _about(self, chosen: HistoryFilter) -> str:
        if chosen.piece is not None:
            return self.tablet.words(message("wall-piece-title", number=str(chosen.piece)))
        view = self.tablet.view
        area = view.state.areas.get(chosen.area or "") if view is not None else None
        if chosen.step is not None and area is not None:
            return self.tablet.words(area.checklist.step(chosen.step[0], chosen.step[2]).name)
        return ""

    def _choose(self, what: str, names: Sequence[str]) -> None:
        """Lay the names over the page to choose from, and all of them together."""
        everyone = message("wall-every-area" if what == "area" else "wall-everybody")
        rest: dict[str, Any] = {"piece": None, "step": None} if what == "area" else {}
        keys = [Key(self.look, self.tablet.words(everyone), partial(self._show, **{what: None}, **rest))]
        for name in names:
            told = capital(name) if what == "area" else person(name)
            keys.append(Key(self.look, told, partial(self._show, **{what: name}, **rest)))
        show_keys(self.tablet, keys)

    def _show(self, **changes: Any) -> None:
        what = {**self.tablet.at_what, **changes}
        self.tablet.go("history", **{name: value for name, value in what.items() if value})

    # --- the lines ------------------------------------------------------------------------------------------------

    def _lines(self, view: View, lines: Sequence[HistoryLine]) -> ColumnBox:
        look, words = self.look, self.tablet.words
        column = ColumnBox(look, gap=6, rises=True)
        if not lines:
            column.add_widget(TextLabel(look, words(message("wall-nothing")), "near"))
        first = self._page * A_PAGE
        if self._page:
            column.add_widget(Key(look, words(message("wall-later")), partial(self._turn, -1), size="near"))
        for line in lines[first : first + A_PAGE]:
            column.add_widget(self._line(view, line))
        if len(lines) > first + A_PAGE:
            column.add_widget(Key(look, words(message("wall-earlier")), partial(self._turn, 1), size="near"))
        return column

    def _turn(self, pages: int) -> None:
        self._page += pages
        self.refresh()

    def _line(self, view: View, line: HistoryLine) -> Widget:
        look, words = self.look, self.tablet.words
        about = words(message("wall-line-at", at=line.at, name=line.by or "none"))
        said = words(line.told if line.counts else message("wall-struck", told=line.told))
        shown = Line(
            look,
            about,
            said,
            sign="fail" if line.fails else "take-back" if not line.counts else None,
            role="quiet" if not line.counts else "fail" if line.fails else "ink",
        )
        offer = self._correction(view, line)
        if offer is None:
            return shown
        key = Key(
            look,
            words(message("wall-correct")),
            partial(self._correct, line.reading),
            size="near",
            named=words(message("wall-correct-event", event=str(line.seq))),
            size_hint_x=None,
            width=look.dots(190),
        )
        if self.tablet.upright:
            return ColumnBox(look, shown, key, rises=True)
        row = RowBox(look, *((key, shown) if look.left_hand else (shown, key)), rises=True)
        row.size_hint_y = None
        shown.bind(height=lambda *_: setattr(row, "height", max(shown.height, key.height)))
        row.height = max(shown.height, key.height)
        return row

    # --- correcting -----------------------------------------------------------------------------------------------

    def _correction(self, view: View, line: HistoryLine) -> Offer | None:
        area = getattr(view.events[line.seq - 1].body, "area", None)
        if not line.reading or area is None:
            return None
        return correction_of(view.state, area, line.reading, view.words.language)

    def _correct(self, reading: int) -> None:
        view = self.tablet.view
        if view is None:
            return
        area = getattr(view.events[reading - 1].body, "area", "")
        here = view.state.areas.get(area)
        offer = correction_of(view.state, area, reading, view.words.language)
        was = here.reading_of(reading) if here is not None else None
        if here is None or offer is None or was is None:
            return
        asked = asked_for(offer, was, here)
        if asked is not None:
            self.tablet.ask_number(asked, lambda value, unit: self._send(offer.fill(value, unit)))
        else:
            step = here.checklist.step(was.section, was.step)
            question = self.tablet.words(step.ask)
            self.tablet.ask_words(
                question, was.label or "", lambda words: self._send(offer.fill(was.value, was.unit, words))
            )

    def _send(self, command: Any) -> None:
        self.tablet.send(command)

    def _back(self) -> Key:
        return Key(self.look, self.tablet.words(message("wall-back")), self.tablet.back, sign="take-back")
