"""Minutes of dust: which task and where, what Table 1 asks of it, what everybody comes to, minutes noted later."""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from typing import get_args

from fieldassist.assess.dust import DustTask
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import PRESSED
from fieldassist.checklist.state import DustEntry, State
from fieldassist.day.desk import View
from fieldassist.trade import dust
from fieldassist.trade.message import message, term
from fieldassist.trade.quantities import Quantity, convert_exact
from fieldassist.ui.content import safety as content
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.person import task_at
from fieldassist.ui.content.safety import SafetyMemory
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.picks import picks
from fieldassist.ui.widgets.text import TextLabel

# What can be entered at all: a day, and more dust than any air holds that is worked in.
_MOST_MIN, _MOST_UG_M3 = 24 * 60, 1_000_000


class DustPage(Screen):
    """The screen."""

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        view = self.tablet.view
        speaker = view.state.speaker if view is not None else None
        return self.tablet.words(message("person-dust")), name_of(speaker.name) if speaker is not None else ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None:
            return
        kept, state = self._kept(view), view.state
        by = (self._at, state.dust, state.dusty, state.speaker, state.part, state.closed, tuple(kept.measured.items()))
        if self.changed("all", by):
            self._draw(view, kept)

    def _kept(self, view: View) -> SafetyMemory:
        return self.tablet.memory.of(SafetyMemory, view.path)

    @property
    def _at(self) -> DustTask:
        """The task that is looked at, at its place."""
        view = self.tablet.view
        assert view is not None
        kept = self._kept(view)
        return task_at(view.state, kept.task, kept.place)

    def _draw(self, view: View, kept: SafetyMemory) -> None:
        look, words = self.look, self.tablet.words
        self.page.clear_widgets()
        left, right = ColumnBox(look, gap=12, rises=True), ColumnBox(look, gap=12, rises=True)
        for code, tasks in (
            ("safety-which-task", get_args(dust.TableTask)),
            ("safety-other-tasks", get_args(dust.OtherTask)),
        ):
            left.add_widget(TextLabel(look, words(message(code)), "small"))
            options = [(one, words(message("safety-a-task", task=term("engine-dust-task", one)))) for one in tasks]
            columns = 2 if look.text > 1.2 or self.tablet.upright else 3
            left.add_widget(picks(look, options, self._at[0], partial(self._choose, "task"), columns=columns))
        places = [(one, words(message(f"safety-place-{one}"))) for one in get_args(dust.WorkPlace)]
        right.add_widget(picks(look, places, self._at[1], partial(self._choose, "place")))
        self._answer(right)
        self._persons(right, view.state, kept)
        if self.tablet.upright or look.text > 1.2:
            left.add_widget(right)
            self.page.add_widget(Scroll(look, left))
        else:
            pair = [Scroll(look, left, size_hint_x=0.56), Scroll(look, right, size_hint_x=0.44)]
            self.page.add_widget(RowBox(look, *(reversed(pair) if look.left_hand else pair), gap=20))
        self._keys(view.state)

    def _choose(self, what: str, value: str) -> None:
        view = self.tablet.view
        if view is not None:
            setattr(self._kept(view), what, value)
            self.tablet.refresh()

    def _answer(self, where: ColumnBox) -> None:
        """Both columns of Table 1 for the task, with their source."""
        look, words = self.look, self.tablet.words
        answer = content.asked_for(*self._at, words)
        if answer.why:
            where.add_widget(
                RowBox(look, marks.Sign(look, "question", 48), TextLabel(look, answer.why, "small"), gap=12, rises=True)
            )
            return
        where.add_widget(TextLabel(look, answer.control, "small", bold=True))
        for line in answer.lines:
            where.add_widget(TextLabel(look, line, "small"))
        where.add_widget(TextLabel(look, answer.basis, "small", role="quiet"))

    def _persons(self, where: ColumnBox, state: State, kept: SafetyMemory) -> None:
        """What everybody noted comes to, with the average of what was measured."""
        look, words = self.look, self.tablet.words
        people = list(dict.fromkeys(entry.by for entry in state.dust))
        if not people:
            where.add_widget(TextLabel(look, words(message("safety-no-minutes")), "small", role="quiet"))
        for one in people:
            of = content.dust_of(state.dust, one, words)
            where.add_widget(
                RowBox(
                    look,
                    marks.Sign(look, "fail" if of.over else "pass", 40, "fail" if of.over else "pass_"),
                    TextLabel(look, of.words, "small", bold=True),
                    gap=10,
                    rises=True,
                )
            )
            for task, today in of.tasks:
                where.add_widget(TextLabel(look, f"{task}. {today}".strip(), "small"))
            within, average = content.average_of(state.dust, one, kept.measured, words)
            for i, line in enumerate(average):
                where.add_widget(TextLabel(look, line, "small", bold=not i, role="ink" if within or i else "fail"))
        measured = kept.measured.get(self._at)
        label = (
            message("safety-enter-measured")
            if measured is None
            else message("safety-change-measured", value=f"{measured:g}")
        )
        where.add_widget(Key(look, words(label), self._measure, size="near"))
        last = self._last(state)
        if last is not None:
            out = cmd.NoteDust(task=last.task, place=last.place, minutes=Fraction(), replaces=last.seq)
            told = message(
                "safety-take-out", minutes=Quantity(last.minutes, "min"), task=term("engine-dust-task", last.task)
            )
            where.add_widget(Key(look, words(told), partial(self.tablet.send, out), sign="take-back", size="near"))
        where.add_widget(TextLabel(look, words(content.place_told()), "small", role="quiet"))
        for caution in content.dust_cautions(words):
            where.add_widget(TextLabel(look, caution, "small"))

    def _last(self, state: State) -> DustEntry | None:
        speaker = state.speaker.name if state.speaker is not None else ""
        return next((e for e in reversed(state.dust) if e.by == speaker and e.part == state.part), None)

    def _keys(self, state: State) -> None:
        look, words = self.look, self.tablet.words
        back = Key(look, words(message("frame-back")), self.tablet.back, size="near", high=None)
        who = state.speaker
        run = state.dusty.get(who.name) if who is not None else None
        if who is None or state.closed:
            start = Key(look, words(message("person-dust-starts")), self._not_now, off=True, high=None)
        elif run is not None and (run.task, run.place) == self._at:
            start = Key(
                look,
                words(message("person-dust-ends")),
                partial(self.tablet.send, cmd.DustEnds()),
                kind="action",
                high=None,
            )
        else:
            begin = cmd.DustStarts(task=self._at[0], place=self._at[1])
            caption = message("person-dust-what", **content.task_words(self._at))
            start = Key(
                look,
                words(message("person-dust-starts")),
                partial(self.tablet.send, begin),
                kind="action",
                caption=words(caption),
                high=None,
            )
        note = Key(look, words(message("person-note-minutes")), self._minutes, size="near", high=None, off=who is None)
        self.act(start, note, back)

    def _not_now(self) -> None:
        view = self.tablet.view
        closed = view is not None and view.state.closed
        self.tablet.refuse(self.tablet.words(message("person-day-signed" if closed else "person-choose-first")))

    def _minutes(self) -> None:
        """Minutes that were not run by the clock."""
        view = self.tablet.view
        if view is None or view.state.speaker is None:
            self._not_now()
            return
        at = self._at
        told = message("safety-minutes-of", **content.task_words(at))

        def taken(value: Fraction, unit: str) -> None:
            command = cmd.NoteDust(task=at[0], place=at[1], minutes=convert_exact(value, unit, "min"))
            self.tablet.send(command, PRESSED)

        self.tablet.ask_number(NumberQuestion(told, ("min", "h"), high=_MOST_MIN), taken)

    def _measure(self) -> None:
        view = self.tablet.view
        if view is None:
            return
        kept, at = self._kept(view), self._at
        told = message("safety-measured-of", **content.task_words(at))

        def taken(value: Fraction, _unit: str) -> None:
            kept.measured[at] = float(value)
            self.tablet.refresh()

        self.tablet.ask_number(NumberQuestion(told, high=_MOST_UG_M3, note=message("safety-measured-hint")), taken)
