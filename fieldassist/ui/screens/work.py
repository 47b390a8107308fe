"""Work: the step at hand, as an order, a drawing and the keys that answer it."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import PRESSED, TYPED
from fieldassist.checklist.plan import Person
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.state import Task
from fieldassist.day.session import Answer
from fieldassist.trade.message import Figure, message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.back_found import reading_by_photo, sample_to_measure
from fieldassist.ui.content.clocks import ExpiredClock, clock_row
from fieldassist.ui.content.entry import NumberTyped
from fieldassist.ui.content.heard import HeardLine
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.rail import RailStep, place_of_now
from fieldassist.ui.content.said import heard_now, heard_told, say_lines
from fieldassist.ui.content.step_picture import step_picture
from fieldassist.ui.content.trial_work import SampleShown
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.content.work_page import WorkAnswer, WorkPage, number_question, spread_row, work_page
from fieldassist.ui.screens.base import ACTION_HIGH, Screen, show_keys
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Divider, RowBox, Scroll
from fieldassist.ui.widgets.heard_row import HeardRow
from fieldassist.ui.widgets.key import Key, KeyKind
from fieldassist.ui.widgets.marks import Sign
from fieldassist.ui.widgets.number import NumberPad, ValueShown
from fieldassist.ui.widgets.rail import rail_row
from fieldassist.ui.widgets.sample_row import STRIP, AirKey, OrderStrip, SampleRow
from fieldassist.ui.widgets.spread_row import SpreadRow
from fieldassist.ui.widgets.step_drawing import StepDrawing
from fieldassist.ui.widgets.text import LINE, Align, TextLabel

from kivy.uix.widget import Widget  # isort: skip

# A press so soon after the page has changed was meant for what stood there before [s]. Ours: a double press of a glove.
DEAF_S = 0.4
_LARGE = 1.25
# Pages whose answers lie on the page as keys of one rank: none of them is the one that goes on.
_OF_ONE_RANK = ("speaker", "area", "method", "finished", "choice")


@dataclass
class TypedMemory:
    """The number that was entered for one step and not kept."""

    number: NumberTyped | None = None


@dataclass
class UnitMemory:
    """The unit that was used last for a quantity."""

    unit: str = ""


class WorkScreen(Screen):
    """The step at hand."""

    place = "work"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._changed_at = 0.0
        self._heard: HeardRow | None = None
        self._only_what_failed = False  # whether what was taken is not told again: letters are large
        self._late = False  # whether it was said that it was done in time, and why is asked

    # --- what it shows --------------------------------------------------------------------------------------------

    def title(self) -> tuple[str, str]:
        """The area, and how far it is."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        return (capital(area.plan.name) if area is not None else "", "")

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, view = self.tablet, self.tablet.view
        if view is None:
            if self.changed("page", tablet.problem):
                self._begin()
                self._order(message("work-no-day"), tablet.problem)
                self.act(Key(self.look, self._say("work-open-day"), partial(tablet.go, "day"), kind="action"))
            return
        page = work_page(view.state, view.prompt, view.at, tablet.units)
        expired = clock_row(view.state, view.at).expired if page.shape == "expired" else None
        if expired is None:
            self._late = False
        pot = _minutes_of_pot(view.state, view.at) if expired is not None else ""
        if self.changed("page", (page, view.state.active, self._late, pot, tablet.words)):
            if "heard" in self._drawn:
                self._changed_at = time.monotonic()
            self._show(page, expired, pot)
        line = heard_now(tablet.reports)
        if self.changed("heard", line) or self._heard is not None:
            self._show_heard(line)

    def on_touch_down(self, touch: Any) -> bool:
        """Kivy calls it: a press so soon after the page has changed answers nothing."""
        if time.monotonic() - self._changed_at < DEAF_S and self.collide_point(*touch.pos):
            return True
        done: bool = super().on_touch_down(touch)
        return done

    def _say(self, code: str, **figures: Figure) -> str:
        return self.tablet.words(message(code, **figures))

    def _begin(self) -> None:
        self.page.clear_widgets()
        self._heard = None

    def _show(self, page: WorkPage, expired: ExpiredClock | None, pot: str) -> None:
        self._begin()
        if expired is not None:
            self._show_expired(expired, pot)
        elif page.shape == "number":
            self._show_number(page)
        elif page.shape == "spread":
            self._show_spread(page)
        elif page.act is not None:
            self._show_movement(page)
        else:
            self._show_words(page)

    # --- a movement with its drawing ------------------------------------------------------------------------------

    def _show_movement(self, page: WorkPage) -> None:
        look, upright = self.look, self.tablet.upright
        self._add_rail(page)
        view = self.tablet.view
        area = view.state.area if view is not None else None
        assert page.act is not None  # else it has no drawing
        assert area is not None  # a step is of an area
        drawing = StepDrawing(look, step_picture(area, page.act), self.tablet.words)
        # Two lines whatever it says, so that nothing under it moves from step to step.
        order = ColumnBox(
            look,
            TextLabel(look, self.tablet.words(page.order), "far"),
            Widget(),
            size_hint_y=None,
            height=look.font("far") * 2 * LINE,
        )
        parts = page.under if look.text <= _LARGE else page.under[:2]
        under: Widget = TextLabel(look, self._joined(parts), "near", bold=False, role="quiet", lines=1)
        made = self._sample_rows(page)
        if page.sample is not None:
            under = self._order_row(page.sample)
        limit = [TextLabel(look, capital(self.tablet.words(page.limit)), "near")] if page.limit is not None else []
        if upright:
            self.page.add_widget(order)
            for text in (under, *limit, *made):
                self.page.add_widget(text)
            self.page.add_widget(drawing)
            self._add_said(page, self.page, most=1)
        else:
            # How a sample is made must be seen; which of how many it is gives way to large letters.
            small = [] if made and look.text > _LARGE else [under]
            told = ColumnBox(look, order, *small, *limit, *(made or [Divider(look)]), gap=10, size_hint_x=1.16)
            self._add_said(page, told, most=1)
            told.add_widget(Widget())
            self.page.add_widget(RowBox(look, *self._mirrored(told, drawing), gap=28))
        self._add_actions(page)

    def _add_rail(self, page: WorkPage) -> None:
        look = self.look
        if len(page.rail) < 2:
            return
        if look.text > _LARGE and self.tablet.upright:
            now = next((step for step in page.rail if step.standing == "now"), None)
            place = place_of_now(page.rail)
            if now is not None and place is not None:
                told = f"{self.tablet.words(now.name)} · {self.tablet.words(place)}"
                self.page.add_widget(TextLabel(look, told, "near", bold=True, lines=1))
            return
        self.page.add_widget(rail_row(look, self.tablet.words, page.rail, self._pressed))

    def _sample_rows(self, page: WorkPage) -> list[Widget]:
        """Of a trial: how the sample is made; nothing while it is read."""
        sample = page.sample
        if sample is None or sample.blind:
            return []
        words = (sample.letter, self.tablet.words(sample.name), self.tablet.words(sample.way))
        return [SampleRow(self.look, words, notch_of(sample.combination))]

    def _order_row(self, sample: SampleShown) -> RowBox:
        """Which of how many samples it is, and its place in the drawn order; while it is read the number alone."""
        look = self.look
        large = look.text > _LARGE and not self.tablet.upright
        told = TextLabel(look, self.tablet.words(sample.told), "near", bold=False, role="quiet", fit=True)
        if sample.blind or large:
            return RowBox(look, told, high=STRIP if look.text <= _LARGE else 60)
        told.size_hint_x, told.width = None, look.dots(250 if look.text <= _LARGE else 350)
        return RowBox(
            look,
            *self._mirrored(told, OrderStrip(look, sample.order)),
            gap=12,
            high=STRIP if look.text <= _LARGE else STRIP + 12,
        )

    def _mirrored(self, *inside: Widget) -> tuple[Widget, ...]:
        return tuple(reversed(inside)) if self.look.left_hand else inside

    def _joined(self, parts: tuple[Figure, ...]) -> str:
        return " · ".join(capital(text) if at == 0 else text for at, text in enumerate(map(self.tablet.words, parts)))

    # --- a step in words ------------------------------------------------------------------------------------------

    def _show_words(self, page: WorkPage) -> None:
        look = self.look
        if page.shape not in ("yes or no", "caution"):
            self._add_rail(page)
        signs = {"caution": "shield", "waits": "clock", "hold": "sign", "photo": "photo"}
        self._order(page.order, sign=signs.get(page.shape))
        if page.sample is not None:
            self.page.add_widget(self._order_row(page.sample))
        elif page.under and look.text <= _LARGE:
            self.page.add_widget(TextLabel(look, self._joined(page.under), "near", bold=False, role="quiet"))
        for row in self._sample_rows(page):
            self.page.add_widget(row)
        if page.read is not None:
            self._add_read(page.read)
        if page.note is not None:
            self.page.add_widget(self._note_of(page))
        if page.shape in _OF_ONE_RANK or len(page.people) > 1:
            self._add_choices(page)
        else:
            if page.note is None:
                self.page.add_widget(Widget())
            self._add_said(page, self.page, most=2 if look.text <= _LARGE else 1)
        self._add_actions(page)

    def _add_read(self, read: NumberTyped) -> None:
        """What was read back, as large as on the pad, with what it is held against."""
        look, words = self.look, self.tablet.words.in_units("as given")
        value = ValueShown(look)
        value.show(read.told, read.judged)
        told = [words(one) if one is not None else "" for one in (read.limit_told, read.off_told)]
        side: Align = "left" if self.tablet.upright else "right"
        limit = TextLabel(look, told[0], "far", align=side, fit=True)
        off = TextLabel(look, told[1], "key", align=side, role="fail", fit=True, size_hint_y=0.7)
        if self.tablet.upright:
            self.page.add_widget(RowBox(look, value, high=150))
            self.page.add_widget(RowBox(look, limit, high=92))
            self.page.add_widget(RowBox(look, off, high=90))
        else:
            self.page.add_widget(RowBox(look, value, ColumnBox(look, limit, off, gap=2), high=156))

    def _order(self, order: Figure, note: str = "", sign: Any = None) -> None:
        look = self.look
        told = self.tablet.words(order)
        text = TextLabel(look, told, "far" if len(told) <= 60 else "key")
        if sign is None:
            self.page.add_widget(text)
        else:
            mark = Sign(look, sign, 72, pos_hint={"center_y": 0.5})
            self.page.add_widget(RowBox(look, *self._mirrored(mark, text), gap=20, rises=True))
        if note:
            self.page.add_widget(TextLabel(look, note, "near", bold=False))

    def _note_of(self, page: WorkPage) -> Widget:
        """The whole question, a caution or a reason: as large as there is room."""
        look = self.look
        assert page.note is not None
        told = self.tablet.words(page.note)
        return TextLabel(look, told, "key" if look.text <= _LARGE else "near", bold=False, fit=True, valign="top")

    def _add_choices(self, page: WorkPage) -> None:
        """Answers of one rank, as keys on the page."""
        look, tablet = self.look, self.tablet
        keys = [self._person_key(page, person) for person in page.people]
        if page.shape in _OF_ONE_RANK and not page.people:
            keys = [self._placed_key(a) if page.drawn else self._answer_key(a, kind="plain") for a in page.answers]
        columns = 1 if tablet.upright and len(keys) < 4 else 2 if tablet.upright or len(keys) <= 4 else 3
        cells = Cells(look, keys, columns, gap=12, high=ACTION_HIGH)
        if len(keys) > 2 * columns:
            column = ColumnBox(look, cells, rises=True)
            self.page.add_widget(Scroll(look, column))
        else:
            self.page.add_widget(Widget())
            self.page.add_widget(cells)

    def _placed_key(self, answer: WorkAnswer) -> Key:
        """An answer that is a place on the piece, drawn there."""
        option = str(getattr(answer.offer.command, "option", ""))
        return AirKey(self.look, self.tablet.words(answer.told), partial(self._take, answer), option)

    def _person_key(self, page: WorkPage, person: Person, kind: KeyKind = "plain") -> Key:
        if page.release is not None:
            told = self._say("work-by-pin", name=person.name)
            return Key(self.look, told, partial(self._ask_pin, page.release, person.name), sign="sign", kind=kind)
        told = self._say("work-is-here", name=person.name)
        return Key(self.look, told, partial(self.tablet.send, cmd.SpeakAs(name=person.name)), sign="person")

    # --- a number -------------------------------------------------------------------------------------------------

    def _show_number(self, page: WorkPage) -> None:
        tablet = self.tablet
        asked, offer = page.asked, page.valued
        assert asked is not None
        assert offer is not None  # a page of a number has both
        memory = tablet.memory.of(TypedMemory, self._place_of_step())
        units = tablet.memory.of(UnitMemory, offer.slot.quantity if offer.slot is not None else "")
        kept = memory.number
        typed = kept if kept is not None and kept.asked == asked else NumberTyped.begun(asked, units.unit)

        def changed(number: NumberTyped) -> None:
            memory.number, units.unit = number, number.unit

        def keep(value: Fraction, unit: str, fails: bool) -> None:
            memory.number, units.unit = None, unit
            tablet.send(offer.fill(value, unit))
            if fails:
                # The red key said that it fails: it is the yes.
                tablet.send(cmd.Keep())

        large = self.look.text > _LARGE
        told, press = self._say("frame-more"), partial(self._more, page)
        more = Key(
            self.look, "" if large else told, press, sign="more", over=not large, size="near", named=told, high=None
        )
        pad = NumberPad(
            self.look,
            tablet.words,
            asked,
            keep,
            tablet.refuse,
            typed=typed,
            changed=changed,
            besides=(more,),
            upright=tablet.upright,
        )
        self.page.add_widget(pad)
        self.act()

    def _more(self, page: WorkPage) -> None:
        """What can be done besides entering the number."""
        show_keys(self.tablet, self._far_keys(page, all_of_them=True))

    def _place_of_step(self) -> tuple[Path | None, str | None, Task | None]:
        view = self.tablet.view
        area = view.state.area if view is not None else None
        path, active = (view.path, view.state.active) if view is not None else (None, None)
        return path, active, area.task if area is not None else None

    # --- pieces that are counted ----------------------------------------------------------------------------------

    def _show_spread(self, page: WorkPage) -> None:
        look, view = self.look, self.tablet.view
        area = view.state.area if view is not None else None
        assert area is not None  # mortar is spread in one
        self._order(page.order)
        self.page.add_widget(TextLabel(look, self._joined(page.under), "near", bold=False, role="quiet"))
        most = 3 if self.tablet.upright else 4
        self.page.add_widget(SpreadRow(look, spread_row(area, most), self.tablet.words, self._say("work-next")))
        self.page.add_widget(Divider(look))
        self._add_said(page, self.page, most=2 if look.text <= _LARGE else 1)
        self.page.add_widget(Widget())
        self._add_actions(page)

    # --- a clock that ran out -------------------------------------------------------------------------------------

    def _show_expired(self, expired: ExpiredClock, pot: str) -> None:
        look, tablet = self.look, self.tablet
        self.act()
        if self._late:
            self._order(message("work-why-late"))
            reasons = [
                Key(look, capital(tablet.words(told)), partial(self._call_late, command), size="near", high=None)
                for told, command in expired.late
            ]
            ask = partial(tablet.ask_words, self._say("work-why-late"), "", partial(self._late_in_words, expired))
            keys = [
                *reasons,
                Key(look, self._say("work-other-words"), ask, size="near", high=None),
                Key(look, self._say("frame-back"), partial(self._ask_late, late=False), high=None),
            ]
            cells = Cells(look, keys, 2, gap=12)
            cells.size_hint_y = 1
            self.page.add_widget(cells)
            return
        self._order(expired.question)
        told = self._say("work-expired-pot", minutes=pot) if pot else self._say("work-expired-sounds")
        self.page.add_widget(TextLabel(look, told, "near", bold=False, role="quiet"))
        no = Key(look, tablet.words(expired.no), partial(tablet.send, expired.over), kind="action", high=None)
        keys = [no]
        if expired.late:
            yes = Key(look, tablet.words(expired.yes), partial(self._ask_late, late=True), high=None, size_hint_x=0.5)
            keys = [yes, no]
        if tablet.upright:
            self.page.add_widget(ColumnBox(look, *keys, gap=16))
        else:
            self.page.add_widget(RowBox(look, *self._mirrored(*keys), gap=16))

    def _ask_late(self, *, late: bool) -> None:
        self._late = late
        self.refresh()

    def _call_late(self, command: cmd.CallLate) -> None:
        self._late = False
        self.tablet.send(command)

    def _late_in_words(self, expired: ExpiredClock, words: str) -> None:
        if words.strip():
            _, command = expired.late[0]
            self._late = False
            self.tablet.send(command.model_copy(update={"reason": words.strip()[:500]}), TYPED)

    # --- what may be said, and what was heard ---------------------------------------------------------------------

    def _add_said(self, page: WorkPage, column: ColumnBox, *, most: int) -> None:
        """What may be said, where somebody listens; and what was heard."""
        tablet, look, view = self.tablet, self.look, self.tablet.view
        if view is not None and tablet.listens and not tablet.deaf:
            preferences = tablet.preferences
            offers = [answer.offer for answer in page.answers]
            for line in say_lines(view.prompt, offers, preferences.manner, preferences.attention, most):
                text = TextLabel(look, tablet.words(line), "near", bold=True)
                column.add_widget(RowBox(look, Sign(look, "ear", 40, pos_hint={"top": 1}), text, gap=14, rises=True))
        self._heard = HeardRow(look)
        column.add_widget(self._heard)
        self._only_what_failed = look.text > _LARGE

    def _show_heard(self, line: HeardLine | None) -> None:
        if self._heard is None:
            return
        if line is None or (self._only_what_failed and line.became == "taken"):
            self._heard.show("", "")
        else:
            self._heard.show(line.became, self.tablet.words(heard_told(line)))

    # --- the keys -------------------------------------------------------------------------------------------------

    def _add_actions(self, page: WorkPage) -> None:
        """The big key, the quieter second, and the others at the far end."""
        look, far = self.look, self._far_keys(page)
        first = self._big_key(page)
        others = list(page.answers)
        at = 0 if page.shape in ("lift", "hold", "tried") else 1
        second = others[at] if len(others) > at and page.shape not in (*_OF_ONE_RANK, "name") else None
        keys = [first] if first is not None else []
        if page.shape == "spread":
            keys.append(far.pop())
        elif second is not None:
            keys.append(
                self._answer_key(second, kind="plain", size="near" if len(far) > 2 or look.text > _LARGE else "key")
            )
        elif far:
            keys.append(far.pop())
        if first is None and keys:
            # Nothing goes on from here: the others lie at the far end.
            self.act(*keys, *far)
            return
        self.act(*keys, *far, second=330 if look.text > _LARGE else 230 if len(far) > 2 else 250)

    def _big_key(self, page: WorkPage) -> Key | None:
        look, tablet = self.look, self.tablet
        if page.shape == "lift":
            told = self._say("work-lift", piece=page.piece)
            return Key(look, told, partial(tablet.go, "lift"), kind="action", sign="lift")
        if page.shape == "cure":
            return Key(look, self._say("work-cures"), partial(tablet.go, "failed"), kind="action")
        if page.shape == "photo":
            return Key(look, self._say("work-take-photo"), partial(tablet.go, "photos"), kind="action", sign="photo")
        if page.shape == "hold" and len(page.people) == 1:
            return self._person_key(page, page.people[0], kind="action")
        if page.shape == "signed":
            return None
        if page.shape == "waits":
            why = tablet.words(page.note) if page.note is not None else ""
            return Key(look, self._say("work-wait-no"), partial(tablet.refuse, why), off=True)
        if page.shape == "name":
            ask = partial(tablet.ask_words, tablet.words(page.order), "", partial(self._named, page))
            return Key(look, self._say("work-type-name"), ask, kind="action", sign="note")
        if page.shape == "tried":
            return Key(look, self._say("mockup-see-ranking"), partial(tablet.go, "trial"), kind="action")
        if page.shape in _OF_ONE_RANK or not page.answers:
            return None
        return self._answer_key(page.answers[0], kind="fail" if page.answers[0].fails else "action")

    def _answer_key(self, answer: WorkAnswer, *, kind: KeyKind, size: SizeName = "key") -> Key:
        return Key(self.look, self.tablet.words(answer.told), partial(self._take, answer), kind=kind, size=size)

    def _take(self, answer: WorkAnswer) -> None:
        command = answer.offer.command
        if isinstance(command, cmd.SignDay):
            self.tablet.go("signing")
            return
        self.tablet.send(command)

    def _named(self, page: WorkPage, words: str) -> None:
        name = " ".join(words.split()).lower()
        if name and page.valued is not None:
            self.tablet.send(page.valued.fill(Fraction(0), "count", name[:40]), TYPED)

    def _far_keys(self, page: WorkPage, *, all_of_them: bool = False) -> list[Key]:
        """Take back, photo, and everything else that may be done."""
        look, tablet = self.look, self.tablet
        keys: list[Key] = []
        if page.shape in ("signed", "no day", "caution", "yes or no", "speaker", "area"):
            return keys

        def key(told: str, press: Callable[[], object], sign: Any, named: str = "") -> Key:
            return Key(look, told, press, sign=sign, over=not all_of_them, size="near", named=named)

        if page.last is not None:
            named = self._say("work-take-back-what", what=page.last)
            keys.append(key(self._say("work-take-back"), partial(self._ask_take_back, page), "take-back", named))
        if page.spoils:
            keys.append(key(self._say("mockup-spoil"), partial(self._ask_spoiled, page), "rub-out"))
        else:
            keys.append(self._photo_key(key))
        if page.shape == "spread" and not all_of_them:
            keys.append(
                Key(
                    look,
                    self._say("work-wrong"),
                    partial(tablet.go, "else"),
                    size="near" if look.text > _LARGE else "key",
                )
            )
        else:
            large = look.text > _LARGE and not all_of_them
            keys.append(key(self._say("work-else"), partial(tablet.go, "else"), None if large else "more"))
        return keys

    def _photo_key(self, key: Callable[[str, Callable[[], object], Any], Key]) -> Key:
        """The photo. A sample that was read by eye is measured on it, and what it shows then answers what is asked."""
        tablet, view = self.tablet, self.tablet.view
        read = reading_by_photo(view.state, us=tablet.units == "us") if view is not None else None
        if read is not None:
            command, source = read
            told = self._say("measuring-by-photo", value=Quantity(command.value, command.unit))
            return key(told, partial(tablet.send, command, source), "photo")
        if view is not None and sample_to_measure(view.state) is not None:
            return key(self._say("measuring-again"), partial(tablet.go, "measuring"), "photo")
        return key(self._say("work-photo"), partial(tablet.go, "photos"), "photo")

    # --- taking back, correcting, releasing -----------------------------------------------------------------------

    def _ask_take_back(self, page: WorkPage) -> None:
        """What the last five things were, and the last of them by its name on a key that takes it back."""
        look, tablet = self.look, self.tablet
        assert page.last is not None
        told = self._say("work-take-back-what", what=page.last)
        keys = [Key(look, told, partial(tablet.send, cmd.Withdraw()), sign="take-back")]
        show_keys(tablet, keys, title=self._say("work-take-back-last"), lines=[*map(tablet.words, page.done)])

    def _ask_spoiled(self, page: WorkPage) -> None:
        """Why the sample at hand does not count: a ready reason, or in words."""
        look, tablet = self.look, self.tablet
        keys = [self._answer_key(answer, kind="plain", size="near") for answer in page.spoils]

        def given(words: str) -> None:
            if words.strip():
                tablet.send(cmd.SpoilSample(reason=words.strip()[:500]), TYPED)

        ask = partial(tablet.ask_words, self._say("mockup-why-spoiled"), "", given)
        keys.append(Key(look, self._say("work-other-words"), ask, size="near"))
        show_keys(tablet, keys, title=self._say("mockup-why-spoiled"), lines=[self._say("mockup-spoiled-is-repeated")])

    def _pressed(self, step: RailStep) -> None:
        """A step of the rail: a reading of it can be corrected there."""
        tablet, view = self.tablet, self.tablet.view
        area = view.state.area if view is not None else None
        if area is None or step.standing != "done":
            return
        reading = step.reading
        if reading is None or reading.label is not None:
            tablet.refuse(self._say("work-take-back-first"))
            return
        found = area.checklist.step(reading.section, reading.step)
        offer = next(
            (
                o
                for o in (view.prompt.offers if view is not None else ())
                if isinstance(o.command, cmd.GiveReading) and o.command.corrects == reading.kept
            ),
            None,
        )
        if offer is not None and offer.slot is not None and found.kind == "reading":
            question = number_question(area, found, offer.slot, tablet.units)
            tablet.ask_number(question, lambda value, unit: tablet.send(offer.fill(value, unit)))

    def _ask_pin(self, release: cmd.ReleaseHold, name: str) -> None:
        tablet = self.tablet
        keys = tablet.keys
        if name not in {person.name for person in keys.people()}:
            tablet.refuse(self._say("work-no-pin", name=name))
            return

        def given(pin: str, tell: Callable[[str | None], None]) -> None:
            def done(answer: Answer | None) -> None:
                if answer is not None:
                    tell(None if answer.taken else tablet.words(answer.say))

            tablet.ask(lambda day: day.release(keys, pin, name, release, PRESSED), done)

        tablet.ask_pin(self._say("frame-whose-pin", name=name), given)


def _minutes_of_pot(state: Any, now: Any) -> str:
    """The minutes that the pot still has, "" where none runs."""
    pot = clock_row(state, now).pot
    return str(int(pot.left)) if pot is not None and pot.left >= 1 else ""
