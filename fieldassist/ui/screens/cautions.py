"""The cautions of the day: what each says, who has seen it and who has not; one that is due is acknowledged here."""

from __future__ import annotations

from functools import partial

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.trade.message import message
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.person import CautionRow, caution_rows
from fieldassist.ui.content.safety import SafetyMemory, area_of
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import ColumnBox, Divider, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.picks import picks
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel, width_of


class CautionsPage(Screen):
    """The screen."""

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        return self.tablet.words(message("person-cautions")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        area = self._area(view) if view is not None else None
        if view is None or area is None:
            return
        rows = caution_rows(view.state, area, view.at)
        if self.changed("all", (area.plan.name, rows, view.state.active, view.state.speaker)):
            self._draw(view, area, rows)

    def _area(self, view: View) -> Area | None:
        plan = view.state.plan
        if plan is None or not plan.areas:
            return None
        kept = self.tablet.memory.of(SafetyMemory, view.path)
        return area_of(view.state, kept.area or view.state.active or plan.areas[0].name)

    def _draw(self, view: View, area: Area, rows: tuple[CautionRow, ...]) -> None:
        look, words, state = self.look, self.tablet.words, view.state
        self.page.clear_widgets()
        plan = state.plan
        assert plan is not None
        if len(plan.areas) > 1:
            names = [(one.name, capital(one.name)) for one in plan.areas]
            columns = 2 if self.tablet.upright and look.text > 1.2 else min(4, len(names))
            self.page.add_widget(picks(look, names, area.plan.name, self._choose, columns=columns))
        inside = ColumnBox(look, gap=14, rises=True)
        if not rows:
            inside.add_widget(TextLabel(look, words(message("safety-no-cautions")), "near"))
        for row in rows:
            inside.add_widget(self._caution(row))
            inside.add_widget(Divider(look))
        self.page.add_widget(Scroll(look, inside))
        ready = [row for row in rows if row.ready]
        speaker = state.speaker
        if ready and speaker is not None:
            due = Key(
                look,
                words(message("safety-understood")),
                partial(self.tablet.send, cmd.AcknowledgeCaution()),
                kind="action",
                caption=words(message("person-understood-by", name=speaker.name)),
                high=None,
            )
        else:
            why = message("person-choose-first-caution" if ready else "person-none-due")
            due = Key(
                look, words(message("safety-understood")), partial(self.tablet.refuse, words(why)), off=True, high=None
            )
        back = Key(look, words(message("frame-back")), self.tablet.back, size="near", high=None)
        self.act(due, back)

    def _choose(self, name: str) -> None:
        view = self.tablet.view
        if view is not None:
            self.tablet.memory.of(SafetyMemory, view.path).area = name
            self.tablet.refresh()

    def _caution(self, row: CautionRow) -> ColumnBox:
        look, words = self.look, self.tablet.words
        text = TextLabel(look, words(row.text if row.ready else row.short), "near", bold=row.ready, size_hint_x=1)
        why = Key(
            look,
            words(message("frame-why")),
            partial(self._why, row),
            size="near",
            size_hint_x=None,
            width=look.dots(132),
        )
        # Upright at large text a sentence needs the whole width.
        shield = marks.Sign(look, "shield", 56, pos_hint={"center_y": 0.5})
        head = RowBox(look, shield, text, why, gap=16, rises=True)
        column = ColumnBox(look, head, gap=8, rises=True)
        if not row.holds:
            column.add_widget(TextLabel(look, words(row.told), "small", role="quiet"))
            return column
        seen = RowBox(look, gap=18, high=48 * max(1.0, look.text))
        for name, at in row.heard[:3]:
            seen.add_widget(self._seen("pass", f"{name_of(name)} {at}"))
        for name in row.missing[:3]:
            seen.add_widget(self._seen("question", words(message("person-not-seen", name=name))))
        column.add_widget(seen)
        return column

    def _seen(self, sign: SignName, words: str) -> RowBox:
        look = self.look
        wide = width_of(words, look.font("small")) + look.dots(4)
        side = 36
        told = TextLabel(look, words, "small", fit=True, size_hint_x=None, width=wide)
        row = RowBox(look, marks.Sign(look, sign, side, "pass_" if sign == "pass" else "ink"), told, gap=8)
        row.size_hint_x, row.width = None, wide + look.dots(side + 8)
        return row

    def _why(self, row: CautionRow) -> None:
        """All that it says, and where it comes from."""
        look, words = self.look, self.tablet.words
        inside = ColumnBox(
            look,
            TextLabel(look, words(row.text), "near", bold=True),
            TextLabel(look, words(message("safety-source", basis=row.basis)), "small", role="quiet"),
            gap=16,
            rises=True,
        )
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))
