"""The roster on this tablet: who signs with which key, in which role, from when to when; and another is taken in."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import partial
from pathlib import Path

from fieldassist.checklist.plan import DayKind
from fieldassist.printable import printable
from fieldassist.record.keys import KeyHolder
from fieldassist.record.roster import Roster, RosterProblem, load_roster, roster_for, write_roster
from fieldassist.trade.message import Message, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.choosing import choose_file
from fieldassist.ui.content.pins import vouchers
from fieldassist.ui.content.rosters import ROSTERS, EntryState, RosterLine, kept_roster, roster_lines
from fieldassist.ui.pins import with_key
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import ColumnBox, Divider, RowBox, Scroll
from fieldassist.ui.widgets.check_marks import MarkState, StateMark
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel

_MARKS: dict[EntryState, MarkState] = {
    "signs": "holds",
    "ended": "absent",
    "revoked": "fails",
    "not listed": "missing",
}


class RosterScreen(Screen):
    """The screen."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._found: tuple[Roster | None, Message | None, tuple[KeyHolder, ...]] | None = None
        self._look()

    def title(self) -> tuple[str, str]:
        """The page's name, and whose roster it is."""
        roster = self._found[0] if self._found is not None else None
        return self.tablet.words(message("roster-title")), printable(roster.firm)[:40] if roster is not None else ""

    def refresh(self) -> None:
        """Show what has changed."""
        if self._found is not None and self.changed("all", self._found):
            self._lay(*self._found)

    @property
    def _kind(self) -> DayKind:
        return self.tablet.view.state.kind if self.tablet.view is not None else "work"

    def _look(self) -> None:
        data, kind, keys = self.tablet.data, self._kind, self.tablet.keys

        def work() -> tuple[Roster | None, Message | None, tuple[KeyHolder, ...]]:
            try:
                return kept_roster(data, kind), None, keys.people()
            except RosterProblem as problem:
                return None, problem.told, keys.people()

        def found(what: tuple[Roster | None, Message | None, tuple[KeyHolder, ...]]) -> None:
            self._found = what
            self.tablet.refresh()

        run_in_background(work, found)

    def _lay(self, roster: Roster | None, wrong: Message | None, holders: Sequence[KeyHolder]) -> None:
        look, words = self.look, self.tablet.words
        self.page.clear_widgets()
        inside = ColumnBox(look, gap=12, rises=True)
        if wrong is not None:
            inside.add_widget(self._line("fails", words(message("roster-not-good", why=wrong))))
        elif roster is None:
            inside.add_widget(TextLabel(look, words(message("roster-none")), "key"))
        else:
            for one in self._about(roster):
                inside.add_widget(one)
        now = datetime.fromisoformat(self.tablet.clock.now().wall)
        for line in roster_lines(roster, holders, now):
            inside.add_widget(Divider(look))
            inside.add_widget(self._person(line))
        self.page.add_widget(Scroll(look, inside))
        self.act(
            Key(look, words(message("roster-bring-in")), self._bring_in, sign="hand-over"),
            Key(look, words(message("frame-back")), self.tablet.back, size="near"),
        )

    def _about(self, roster: Roster) -> list[TextLabel]:
        """Whose it is, and the fingerprint by which it is known."""
        look, words = self.look, self.tablet.words
        firm = words(message("roster-of", firm=printable(roster.firm), made=roster.made[:10]))
        signed = message("roster-signed", name=printable(roster.signed.name), role=roster.signed.role)
        return [
            TextLabel(look, firm, "key"),
            TextLabel(look, words(signed), "small", role="quiet"),
            TextLabel(look, roster.fingerprint, "near", bold=True),
        ]

    def _person(self, line: RosterLine) -> RowBox:
        words = self.tablet.words
        name = words(message("roster-person", name=printable(line.name), role=line.role))
        key = words(message("roster-key", fingerprint=line.fingerprint, here="yes" if line.here else "no"))
        return self._line(_MARKS[line.state], f"{name}: {printable(words(line.told))}", key)

    def _line(self, state: MarkState, told: str, more: str = "") -> RowBox:
        look = self.look
        column = ColumnBox(look, TextLabel(look, told, "near", bold=True), gap=2, rises=True)
        column.pos_hint = {"center_y": 0.5}
        if more:
            column.add_widget(TextLabel(look, more, "small", role="quiet"))
        inside = (StateMark(look, state, 54), column)
        return RowBox(look, *(reversed(inside) if look.left_hand else inside), gap=14, rises=True)

    # --- another one --------------------------------------------------------------------------------------------------

    def _bring_in(self) -> None:
        choose_file(self.tablet, message("roster-which"), ROSTERS, self._read)

    def _read(self, path: Path) -> None:
        def failed(problem: Exception) -> None:
            self.tablet.refuse(self.tablet.words.of(problem))

        run_in_background(lambda: load_roster(path), self._show, failed)

    def _show(self, roster: Roster) -> None:
        """What it is, before it is taken."""
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, *self._about(roster), gap=14, rises=True)
        here = self._found[0] if self._found is not None else None
        if here is not None:
            told = message("roster-takes-place", firm=printable(here.firm), made=here.made[:10])
            inside.add_widget(TextLabel(look, words(told), "near"))
            if here.signed != roster.signed:
                inside.add_widget(self._line("fails", words(message("roster-other-signer"))))
            if datetime.fromisoformat(roster.made) < datetime.fromisoformat(here.made):
                inside.add_widget(self._line("missing", words(message("roster-older"))))
        take = Key(look, words(message("roster-take")), partial(self._vouch, roster), kind="action")
        inside.add_widget(take)
        for line in roster_lines(roster, (), datetime.fromisoformat(self.tablet.clock.now().wall)):
            inside.add_widget(self._person(line))
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))

    def _vouch(self, roster: Roster) -> None:
        """Whoever answers for the site gives their PIN: a roster says whom this tablet believes."""
        self.tablet.close_sheet()
        who = vouchers(self.tablet.keys.people(), "", "give")
        if not who:
            self._take(roster)
            return
        question = message("roster-vouch", name=who[0], firm=printable(roster.firm)[:40])
        with_key(self.tablet, who[0], question, lambda _key: self._take(roster))

    def _take(self, roster: Roster) -> None:
        path = roster_for(self.tablet.data, "practice" if roster.practice else "work")

        def failed(problem: Exception) -> None:
            self.tablet.refuse(self.tablet.words.of(problem))

        run_in_background(lambda: write_roster(path, roster), lambda _none: self._look(), failed)
