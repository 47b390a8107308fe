"""Crew and PINs: who can sign here, the fingerprint of each key, and a PIN given, changed or made anew."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from fieldassist.record.keys import KeyHolder, KeyRole, fingerprint
from fieldassist.trade.message import Figure, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.carrying import carry, take_in
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.pins import PinWay
from fieldassist.ui.pins import TellPin, choose_pin, first_pin, not_taken, vouched_for
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel


class CrewPage(Screen):
    """The screen: everybody, or one person (`go("crew", person=name)`). PINs under way live in the sheets only."""

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        who = self._person
        return self.tablet.words(message("person-pins")), name_of(who) if who else ""

    def refresh(self) -> None:
        """Show what has changed."""
        people = self._people()
        if self.changed("all", (self._person, people)):
            self.page.clear_widgets()
            found = next((one for one in people if one[0] == self._person), None)
            if found is not None:
                self._one(*found)
            else:
                self._all(people)

    @property
    def _person(self) -> str:
        return str(self.tablet.at_what.get("person", ""))

    def _people(self) -> tuple[tuple[str, KeyRole, KeyHolder | None], ...]:
        """Everybody who can sign here or is in the crew: name, role and key."""
        holders = {person.name: person for person in self.tablet.keys.people()}
        view = self.tablet.view
        crew = view.state.plan.crew if view is not None and view.state.plan is not None else ()
        roles = {name: holder.role for name, holder in holders.items()} | {person.name: person.role for person in crew}
        return tuple((name, role, holders.get(name)) for name, role in roles.items())

    # --- everybody ------------------------------------------------------------------------------------------------

    def _all(self, people: tuple[tuple[str, KeyRole, KeyHolder | None], ...]) -> None:
        look, words = self.look, self.tablet.words
        large = look.text > 1.2
        inside = ColumnBox(look, gap=14, rises=True)
        if not people:
            inside.add_widget(TextLabel(look, words(message("person-nobody-here")), "near"))
        keys = [
            Key(
                look,
                name_of(name),
                partial(self.tablet.go, "crew", person=name),
                sign="pass" if holder is not None else "person",
                caption=words(message("person-pin-is", role=role.value, has="yes" if holder else "no")),
                size="near",
                high=124 if look.text <= 1.2 else 140,
            )
            for name, role, holder in people
        ]
        inside.add_widget(
            Cells(
                look,
                keys,
                3 - large - self.tablet.upright,
                high=124 if look.text <= 1.2 else 140,
                gap=14,
            )
        )
        inside.add_widget(TextLabel(look, words(message("person-pins-mean")), "near"))
        for name, role, holder in people:
            if holder is not None and holder.role is not role:
                inside.add_widget(self._warning(words(self._other_role(name, role, holder))))
        for path in self.tablet.keys.damaged():
            inside.add_widget(self._warning(words(message("person-key-damaged", file=path.name))))
        self.page.add_widget(Scroll(look, inside))
        self.act(
            Key(look, words(message("roster-title")), partial(self.tablet.go, "roster"), sign="page"),
            Key(
                look, words(message("roster-take-key")), partial(take_in, self.tablet, self.tablet.refresh), size="near"
            ),
            Key(look, words(message("frame-back")), partial(self.tablet.go, "person"), size="near"),
        )

    def _warning(self, told: str) -> RowBox:
        look = self.look
        return RowBox(
            look, marks.Sign(look, "fail", 48, "fail"), TextLabel(look, told, "near", bold=True), gap=16, rises=True
        )

    def _other_role(self, name: str, role: KeyRole, holder: KeyHolder) -> Figure:
        return message("person-other-role", name=name, made=holder.role.value, role=role.value)

    # --- one person -----------------------------------------------------------------------------------------------

    def _one(self, name: str, role: KeyRole, holder: KeyHolder | None) -> None:
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, gap=18, rises=True)
        back = Key(look, words(message("frame-back")), partial(self.tablet.go, "crew"), size="near", high=None)
        if holder is None:
            inside.add_widget(TextLabel(look, words(message("person-no-pin")), "key"))
            inside.add_widget(TextLabel(look, words(message("person-own-hands", name=name)), "near"))
            give = Key(
                look, words(message("person-give-pin")), partial(self._start, name, "give"), kind="action", high=None
            )
            self.page.add_widget(Scroll(look, inside))
            self.act(give, back)
            return
        inside.add_widget(TextLabel(look, words(message("person-fingerprint")), "near"))
        groups = holder.fingerprint.split()
        for at in range(0, len(groups), 4):
            inside.add_widget(TextLabel(look, "   ".join(groups[at : at + 4]), "far"))
        if holder.replaces:
            told = message("person-key-replaced", fingerprint=fingerprint(holder.replaces))
            inside.add_widget(TextLabel(look, words(told), "near"))
        if holder.role is not role:
            inside.add_widget(self._warning(words(self._other_role(name, role, holder))))
        self.page.add_widget(Scroll(look, inside))
        change = Key(
            look, words(message("person-change-pin")), partial(self._start, name, "change"), kind="action", high=None
        )
        forgotten = Key(
            look, words(message("person-forgotten")), partial(self._forgotten, name), size="near", high=None
        )
        carries = Key(look, words(message("roster-carry")), partial(carry, self.tablet, name), size="near", high=None)
        self.act(change, forgotten, carries, back)

    def _forgotten(self, name: str) -> None:
        """What a new key means stands between the key and what it does."""
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, gap=18, rises=True)
        inside.add_widget(self._warning(words(message("person-new-key"))))
        inside.add_widget(TextLabel(look, words(message("person-new-key-tell")), "near"))
        make = Key(look, words(message("person-make-new-key")), partial(self._start, name, "reset"), kind="fail")
        inside.add_widget(make)
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))

    # --- a PIN ----------------------------------------------------------------------------------------------------

    def _start(self, name: str, way: PinWay) -> None:
        """First whoever vouches, then the old PIN where there is one, then the new one twice."""
        tablet = self.tablet
        if way == "change":
            self._old(name)
            return
        role = next(role for one, role, _ in self._people() if one == name)
        if way == "give":
            first_pin(tablet, name, role, tablet.refresh)
            return
        keys, now = tablet.keys, tablet.clock.now()
        vouched_for(
            tablet,
            name,
            lambda: choose_pin(
                tablet, name, lambda pin, tell: self._keep(name, lambda: keys.reset(name, role, pin, now=now), tell)
            ),
        )

    def _old(self, name: str) -> None:
        tablet = self.tablet
        keys, now = tablet.keys, tablet.clock.now()
        role = next(holder.role for holder in keys.people() if holder.name == name)

        def given(old: str, tell: TellPin) -> None:
            tell(None)

            def change(pin: str, tell: TellPin) -> None:
                self._keep(name, lambda: keys.set_pin(name, role, pin, now=now, old=old), tell)

            choose_pin(tablet, name, change)

        tablet.ask_pin(tablet.words(message("person-pin-old", name=name)), given)

    def _keep(self, name: str, work: Callable[[], KeyHolder], tell: TellPin) -> None:
        def done(_holder: KeyHolder) -> None:
            tell(None)
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            tell(None)
            self.tablet.refuse(not_taken(self.tablet, name, problem))

        run_in_background(work, done, failed)
