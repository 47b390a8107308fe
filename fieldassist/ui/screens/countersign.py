"""Countersign: the owner or an inspector sees what they put their name to, gives their PIN, and takes the head away."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Literal

from fieldassist.checklist.events import Event
from fieldassist.checklist.plan import Role
from fieldassist.day.desk import View
from fieldassist.day.session import Day
from fieldassist.qr import qr_modules
from fieldassist.record.beside import keep_beside
from fieldassist.record.keys import KeyRole, Office, SigningKey
from fieldassist.record.receipt import SealedHead, make_receipt
from fieldassist.trade.message import message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.choosing import choose_file, choose_folder
from fieldassist.ui.content.countersigning import (
    BROUGHT_IN,
    ToCountersign,
    ask_for_stamp,
    lying_beside,
    may_countersign,
    sealed_by,
    take_in,
    to_countersign,
    to_take_away,
)
from fieldassist.ui.content.day_page import date_told
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.entering import pick
from fieldassist.ui.pins import first_pin, with_key
from fieldassist.ui.screens.base import Screen, show_keys
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, Scroll, Space
from fieldassist.ui.widgets.check_marks import MarkState, StateMark
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.paper import CodeSquare
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

_LARGE = 1.2  # size of text
_CODE, _CODE_SMALL = 250.0, 230.0  # dots: 43 and 39 mm
_SIDE = 384.0  # dots

# Events, their hashes, and the text of the last one.
_Read = tuple[tuple[Event, ...], tuple[str, ...], str]


@dataclass
class CountersignMemory:
    """What the day open is, of the head of its log `of`; asked: the head for which that was asked; code: what a camera
    takes along."""

    found: ToCountersign | None = None
    of: str = ""
    asked: str = ""
    code: tuple[tuple[bool, ...], ...] = ()


class CountersignScreen(Screen):
    """The screen."""

    place = "day"

    def title(self) -> tuple[str, str]:
        """The page's name, and the date."""
        view, words = self.tablet.view, self.tablet.words
        date = words(date_told(view.state.plan.date)) if view is not None and view.state.plan is not None else ""
        return words(message("countersign-title")), date

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("all", None):
                self._tell(self.tablet.words(message("signing-no-day")))
            return
        memory = self._memory(view)
        if view.head not in (memory.of, memory.asked):
            memory.asked = view.head
            self._read(partial(self._look, view, memory))
        if memory.found is None or memory.of != view.head:
            if self.changed("all", "reading"):
                self._tell(self.tablet.words(message("countersign-being-read")))
        elif self.changed("all", (memory.found, memory.code)):
            self._lay(view, memory.found, memory)

    def _memory(self, view: View) -> CountersignMemory:
        return self.tablet.memory.of(CountersignMemory, view.path)

    def _read(self, then: Callable[[_Read], None]) -> None:
        """The record as it is stored. then: called in the screen's thread."""
        read: list[_Read] = []

        def take(day: Day) -> None:
            read.append((tuple(day.log.events), tuple(day.log.hashes), day.log.texts[-1]))

        self.tablet.ask(take, lambda _answer: then(read[0]) if read else None)

    def _look(self, view: View, memory: CountersignMemory, read: _Read) -> None:
        events, hashes, _ = read

        def work() -> tuple[ToCountersign, tuple[tuple[bool, ...], ...]]:
            beside = (lying_beside(view.path, "receipt"), lying_beside(view.path, "stamp"))
            found = to_countersign(events, hashes, *beside)
            return found, qr_modules(to_take_away(found.sealed)) if found.sealed is not None else ()

        def done(found: tuple[ToCountersign, tuple[tuple[bool, ...], ...]]) -> None:
            (memory.found, memory.code), memory.of, memory.asked = found, hashes[-1], ""
            self.tablet.refresh()

        run_in_background(work, done)

    # --- the page -----------------------------------------------------------------------------------------------------

    def _tell(self, told: str) -> None:
        self.page.clear_widgets()
        self.page.add_widget(TextLabel(self.look, told, "key"))
        self.act(self._back())

    def _back(self) -> Key:
        return Key(self.look, self.tablet.words(message("frame-back")), self.tablet.back, size="near")

    def _lay(self, view: View, found: ToCountersign, memory: CountersignMemory) -> None:
        look, words = self.look, self.tablet.words
        if found.sealed is None:
            why = words(found.why) if found.why is not None else ""
            self._tell(words(message("countersign-not-yet", why=why)))
            off = Key(
                look, words(message("countersign-to-sign-off")), partial(self.tablet.go, "signing"), kind="action"
            )
            self.act(off, self._back())
            return
        self.page.clear_widgets()
        told = ColumnBox(look, *self._told(found, found.sealed), gap=14, rises=True)
        side = self._side(found.sealed, memory)
        if self.tablet.upright or look.text > _LARGE:
            told.add_widget(side)
            self.page.add_widget(Scroll(look, told))
        else:
            side.size_hint_x, side.width = None, look.dots(_SIDE)
            inside = (Scroll(look, told), side)
            self.page.add_widget(RowBox(look, *(reversed(inside) if look.left_hand else inside), gap=24))
        self.act(
            Key(look, words(message("countersign-title")), partial(self._who, view, found.sealed), kind="action",
                sign="sign"),
            Key(look, words(message("countersign-bring-in")), partial(self._bring_in, view), size="near"),
            Key(look, words(message("countersign-time")), partial(self._ask_stamp, view), sign="clock",
                over=not self.tablet.upright, size="near"),
            self._back(),
        )  # fmt: skip

    def _told(self, found: ToCountersign, sealed: SealedHead) -> list[Widget]:
        look, words = self.look, self.tablet.words
        day = words(message("countersign-day", site=sealed.site, date=sealed.date))
        lines: list[Widget] = [
            TextLabel(look, words(message("countersign-what")), "near"),
            TextLabel(look, day, "key"),
        ]
        told = message(
            "countersign-sealed", parts=found.parts, names=sealed_by(found.sealers), events=str(sealed.events)
        )
        lines.append(self._line("holds", words(told)))
        left = words(message("countersign-left", count=len(found.left)))
        read = None
        if found.left:
            read = Key(
                look, words(message("countersign-read")), partial(self._read_left, left, found), size="near",
                size_hint_x=None, width=look.dots(170), pos_hint={"center_y": 0.5},
            )  # fmt: skip
        lines.append(self._line("missing" if found.left else "holds", left, read))
        for one in found.done:
            lines.append(self._line("holds" if not one.later else "noted", words(one.told)))
            if one.later:
                lines.append(TextLabel(look, words(message("countersign-later", events=one.later)), "small"))
        lines += [self._line("noted", words(stamp)) for stamp in found.stamps]
        return lines

    def _line(self, state: MarkState, told: str, key: Key | None = None) -> RowBox:
        look = self.look
        label = TextLabel(look, told, "near", bold=True, pos_hint={"center_y": 0.5})
        inside: list[Widget] = [StateMark(look, state, 54), label, *([key] if key is not None else [])]
        return RowBox(look, *(reversed(inside) if look.left_hand else inside), gap=14, rises=True)

    def _side(self, sealed: SealedHead, memory: CountersignMemory) -> ColumnBox:
        """The head, to be taken away."""
        look, upright = self.look, self.tablet.upright
        column = ColumnBox(look, gap=6, rises=True)
        wide = _CODE_SMALL if upright or look.text > _LARGE else _CODE
        code = CodeSquare(look, memory.code, size_hint=(None, None), size=(look.dots(wide), look.dots(wide)))
        fours = [sealed.head[at : at + 4] for at in range(0, len(sealed.head), 4)]
        abreast = 8 if upright and look.text <= _LARGE else 4
        said = TextLabel(look, self.tablet.words(message("countersign-head")), "small", role="quiet")
        lines = [TextLabel(look, " ".join(fours[at : at + abreast]), "near", bold=True) for at in range(0, 16, abreast)]
        for one in (said, *lines, Space(look, 8), *([code] if memory.code else [])):
            column.add_widget(one)
        return column

    def _read_left(self, title: str, found: ToCountersign) -> None:
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, TextLabel(look, title, "far"), gap=18, rises=True)
        for told in found.left:
            inside.add_widget(self._line("missing", words(told)))
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))

    # --- countersigning -----------------------------------------------------------------------------------------------

    def _who(self, view: View, sealed: SealedHead) -> None:
        """Who it is: whoever has a key here for that, the owners of the crew, or somebody else."""
        look, words = self.look, self.tablet.words
        crew = view.state.plan.crew if view.state.plan is not None else ()
        keys = [
            Key(
                look,
                name_of(name),
                partial(self._as, view, sealed, name, role, has_key=has_key),
                sign="person",
                caption=words(message("countersign-role", role=role.value))
                + ("" if has_key else f", {words(message('countersign-no-key'))}"),
            )
            for name, role, has_key in may_countersign(self.tablet.keys.people(), crew)
        ]
        keys.append(
            Key(look, words(message("countersign-somebody")), partial(self._somebody, view, sealed), sign="more")
        )
        show_keys(self.tablet, keys, title=words(message("countersign-who")))

    def _somebody(self, view: View, sealed: SealedHead) -> None:
        words = self.tablet.words

        def named(name: str) -> None:
            if not name:
                return
            roles: tuple[Literal["owner", "inspector"], ...] = ("owner", "inspector")
            options = [(words(message("countersign-role", role=role)), role) for role in roles]
            pick(self.tablet, words(message("countersign-which-role")), options, None, partial(chosen, name))

        def chosen(name: str, role: str) -> None:
            self._as(view, sealed, name, Role.OWNER if role == "owner" else Office.INSPECTOR, has_key=False)

        self.tablet.ask_words(words(message("countersign-their-name")), "", named)

    def _as(self, view: View, sealed: SealedHead, name: str, role: KeyRole, *, has_key: bool) -> None:
        def signs() -> None:
            question = message("countersign-pin", name=name)
            with_key(self.tablet, name, question, partial(self._sign, view, sealed))

        if has_key:
            signs()
        else:
            first_pin(self.tablet, name, role, signs)

    def _sign(self, view: View, sealed: SealedHead, key: SigningKey) -> None:
        """Sign what was shown: a record that has gone on since is read again first."""
        now = self.tablet.view
        if now is None or now.path != view.path or now.head != sealed.head:
            self.tablet.refuse(self.tablet.words(message("countersign-moved-on")))
            return
        at = datetime.fromisoformat(self.tablet.clock.now().wall)
        self._keep(view, lambda: keep_beside(view.path, "receipt", make_receipt(sealed, key, at).to_bytes()))

    def _keep(self, view: View, work: Callable[[], object]) -> None:
        def done(_kept: object) -> None:
            self.tablet.memory.forget(CountersignMemory, view.path)
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            self.tablet.refuse(self.tablet.words.of(problem))

        run_in_background(work, done, failed)

    # --- what was made elsewhere --------------------------------------------------------------------------------------

    def _bring_in(self, view: View) -> None:
        choose_file(self.tablet, message("countersign-which-file"), BROUGHT_IN, partial(self._take, view))

    def _take(self, view: View, file: Path) -> None:
        self._read(lambda read: self._keep(view, lambda: take_in(view.path, file, read[0], read[1])))

    def _ask_stamp(self, view: View) -> None:
        """A request over the head, to be carried to an authority; what it answers is brought in later."""
        look, words = self.look, self.tablet.words

        def write(folder: Path) -> None:
            self._read(lambda read: self._keep(view, lambda: ask_for_stamp(view.path, folder, read[2], len(read[1]))))

        where = partial(choose_folder, self.tablet, write)
        key = Key(
            look,
            words(message("countersign-ask-stamp")),
            where,
            kind="action",
            sign="hand-over",
            caption=words(message("countersign-time-told")),
        )
        show_keys(self.tablet, [key], title=words(message("countersign-time")))
