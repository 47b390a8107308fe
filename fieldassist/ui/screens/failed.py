"""A lift that failed: what it showed, which pieces are suspect, and which change goes on the wall."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from fieldassist.assess.cures import Cure, reaches
from fieldassist.assess.inputs import day_inputs
from fieldassist.assess.method import picture
from fieldassist.assess.steps import entered_over, method_entries
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.kinds import Hold, MethodStep
from fieldassist.checklist.moment import PRESSED
from fieldassist.checklist.plan import Person
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.day.session import Answer
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.failed_lift import (
    FailedLift,
    change_to,
    failed_lift,
    headline,
    millimetres,
    pitch_of,
    sides_told,
    signer,
    stays_the_same,
    take_off,
    trowel_told,
)
from fieldassist.ui.content.lift_page import LiftDrafts
from fieldassist.ui.content.ridge_drawing import combed
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.wall_map import wall_map
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.back_painting import BackPicture
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox
from fieldassist.ui.widgets.cure_key import CureKey
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.verdict_field import Plate
from fieldassist.ui.widgets.wall_map import WallDrawing

from kivy.uix.widget import Widget  # isort: skip


# From this size of text on the drawing gives way.
_LARGE = 1.2


@dataclass
class CureChoice:
    """Which cure is looked at, by the lift's number and the day."""

    cure: int = 0


class FailedScreen(Screen):
    """The last failed lift of the area that is open."""

    place = "work"

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view, tablet = self.tablet.view, self.tablet
        area = view.state.area if view is not None else None
        failed = failed_lift(area, tuple(view.events)) if view is not None and area is not None else None
        if view is None or area is None or failed is None:
            if self.changed("what", "nothing"):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self._tell(message("lifted-none-failed")), "far"))
                self.page.add_widget(Widget())
                self.act(self._to_work())
            return
        kept = self._kept(view, failed)
        what = (view.path, view.state.last_seq, kept.cure, tablet.words)
        if self.changed("what", what):
            self._compose(view, area, failed, kept)

    def title(self) -> tuple[str, str]:
        """The area, and which piece failed."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        return (area.plan.name.capitalize(), "") if area is not None else ("", "")

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _kept(self, view: View, failed: FailedLift) -> CureChoice:
        return self.tablet.memory.of(CureChoice, (view.path, failed.record.number))

    def _compose(self, view: View, area: Area, failed: FailedLift, kept: CureChoice) -> None:
        look, upright = self.look, self.tablet.upright
        self.page.clear_widgets()
        self.page.add_widget(self._heading(failed))
        suspects, cures = self._suspects(view, area, failed), self._cures(view, area, failed, kept)
        if upright:
            self.page.add_widget(suspects)
            self.page.add_widget(cures)
        else:
            parts = (cures, suspects) if look.left_hand else (suspects, cures)
            self.page.add_widget(RowBox(look, *parts, gap=16))
        self._act(view, area, failed, kept)

    def _heading(self, failed: FailedLift) -> RowBox:
        look = self.look
        which = message("lifted-failed-which", lift=str(failed.record.number), piece=str(failed.record.tile))
        plate = Plate(look, "failed", 68, pos_hint={"center_y": 0.5})
        told = TextLabel(look, self._tell(headline(failed)), "far", role="fail", fit=True, size_hint_x=0.76)
        quiet = TextLabel(look, self._tell(which), "near", role="quiet", fit=True, align="right", size_hint_x=0.24)
        parts = (plate, told, quiet)
        return RowBox(
            look, *(reversed(parts) if look.left_hand else parts), gap=14, high=140 if self.tablet.upright else 92
        )

    def _suspects(self, view: View, area: Area, failed: FailedLift) -> ColumnBox:
        look = self.look
        numbers = tuple(map(str, failed.suspects))
        code = "lifted-suspects" if numbers else "lifted-no-suspects"
        told = message(code, pieces=Several(numbers)) if numbers else message(code)
        head = RowBox(look, TextLabel(look, self._tell(told), "near", bold=True, fit=True), high=48)
        small = WallDrawing(look, wall_map(area), self._tell)
        share = (1, 0.42) if self.tablet.upright else (0.4, 1)
        return ColumnBox(look, head, small, self._gap(view, area, failed), gap=8, size_hint=share)

    def _gap(self, view: View, area: Area, failed: FailedLift) -> RowBox:
        """The back as it was painted, where it was, and the gap that its contact implies."""
        look, gap = self.look, failed.gap
        lines: list[tuple[Message, bool]] = [
            (
                message("lifted-gap", gap=millimetres(gap.gap_mm))
                if gap.gap_mm is not None
                else message("lifted-gap-unknown"),
                False,
            ),
            (message("lifted-bed-of", bed=millimetres(gap.bed_mm)), False),
            (message("lifted-air", air=Quantity(100 - failed.judged.coverage, "percent")), True),
        ]
        words = ColumnBox(look, gap=0)
        for told, red in lines:
            words.add_widget(
                TextLabel(look, self._tell(told), "near", bold=True, role="fail" if red else "ink", fit=True)
            )
        at = (view.path, area.plan.name, failed.record.section, failed.record.round)
        draft = self.tablet.memory.of(LiftDrafts).by_round.get(at)
        if draft is None or not draft.back.looked or (look.text > _LARGE and not self.tablet.upright):
            return RowBox(look, words, high=140 if look.text <= _LARGE else 180)
        back = BackPicture(look, draft.back, pitch_of(area), red=True, size_hint_x=0.62)
        words.size_hint_x = 0.38
        return RowBox(look, back, words, gap=12, high=150)

    def _cures(self, view: View, area: Area, failed: FailedLift, kept: CureChoice) -> ColumnBox:
        """Which change goes on the wall; once one was made, that one."""
        look, changed = self.look, failed.changed
        shown = failed.cures if changed is None else (changed,)
        ask = TextLabel(
            look,
            self._tell(message("lifted-which-change" if changed is None else "lifted-changed")),
            "near",
            bold=True,
            fit=True,
        )
        share = (1, 0.58) if self.tablet.upright else (0.6, 1)
        column = ColumnBox(look, RowBox(look, ask, high=48), gap=8, size_hint=share)
        if not shown:
            column.add_widget(TextLabel(look, self._tell(message("lifted-no-cure")), "near"))
            column.add_widget(Widget())
            return column
        inputs = day_inputs(view.state, area.plan.name)
        keys = []
        for place, cure in enumerate(shown):
            made = picture(entered_over(inputs, method_entries(cure.method)))
            keys.append(
                CureKey(
                    look,
                    self._lines(cure),
                    notch_of(cure.method),
                    partial(combed, made),
                    partial(self._look_at, kept, place) if changed is None else partial(self.tablet.go, "plan"),
                    chosen=changed is None and place == kept.cure,
                )
            )
        column.add_widget(RowBox(look, *keys, gap=14))
        return column

    def _lines(self, cure: Cure) -> tuple[str, str, str, str]:
        told = (
            trowel_told(cure.method),
            sides_told(cure.method.sides),
            message("lifted-cure-reaches", contact=reaches(cure.contact_percent)),
            message("lifted-cure-bed", bed=millimetres(cure.bed_mm), most=millimetres(cure.most_mm)),
        )
        first, second, third, fourth = map(self._tell, told)
        return first, second, third, fourth

    # --- what comes next ------------------------------------------------------------------------------------------

    def _act(self, view: View, area: Area, failed: FailedLift, kept: CureChoice) -> None:
        look, step = self.look, failed.step
        person = signer(view.state.plan, area) if view.state.plan is not None else None
        keys: list[Key] = []
        pen: SignName | None = "sign" if look.text <= _LARGE else None
        if isinstance(step, MethodStep) and failed.cures:
            told = message("lifted-change-signed", name=person.name) if person else message("lifted-change")
            change = partial(self._change, failed.cures[min(kept.cure, len(failed.cures) - 1)], person)
            keys.append(Key(look, self._tell(told), change, kind="action", sign=pen))
        elif isinstance(step, Hold) and person is not None:
            told = message("lifted-signs", name=person.name)
            keys.append(Key(look, self._tell(told), partial(self._sign, person), kind="action", sign=pen))
            called = cmd.ReleaseHold(section=self._section(area), step=step.id, name=person.name)
            keys.append(
                Key(
                    look,
                    self._tell(message("lifted-called", name=person.name)),
                    partial(self.tablet.send, called),
                    size="near",
                )
            )
        elif step is not None and step.kind == "confirm" and self._method_waits(area):
            told = message("lifted-scraped", step=step.name, piece=str(failed.record.tile))
            done = cmd.ConfirmStep(section=self._section(area), step=step.id)
            keys.append(Key(look, self._tell(told), partial(self.tablet.send, done), kind="action"))
        else:
            keys.append(self._to_work())
        if failed.suspects:
            pieces = message("lifted-take-off", pieces=Several(tuple(map(str, failed.suspects))))
            keys.append(Key(look, self._tell(pieces), partial(self._take_off, failed.suspects), size="near"))
        if failed.next_lift is not None:
            lift = message("lifted-lift-next", piece=str(failed.next_lift))
            keys.append(
                Key(
                    look,
                    self._tell(lift),
                    partial(self._lift_next, area, failed.next_lift),
                    sign="lift",
                    over=True,
                    size="near",
                )
            )
        for label, reason in stays_the_same(step):
            keep = cmd.KeepMethod(section=self._section(area), step=step.id if step is not None else "", reason=reason)
            keys.append(Key(look, self._tell(label), partial(self.tablet.send, keep), size="near"))
        self.act(*keys)

    def _section(self, area: Area) -> str:
        return area.task.section if area.task is not None else ""

    def _method_waits(self, area: Area) -> bool:
        """Whether the cure at hand still asks for the method."""
        task, holder = area.task, area.holder
        if task is None or holder is None:
            return False
        asked = {step.id for step in holder.steps if isinstance(step, MethodStep)}
        return any(t.section == task.section and t.step in asked for t in area.progress.tasks)

    def _to_work(self) -> Key:
        words = self._tell(message("lifted-to-work"))
        return Key(self.look, words, partial(self.tablet.go, "work"), kind="action")

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _look_at(self, kept: CureChoice, place: int) -> None:
        kept.cure = place
        self.refresh()

    def _change(self, cure: Cure, person: Person | None) -> None:
        """The method changes; whoever releases it signs in place, and nobody's turn ends with that."""

        def done(answer: Answer | None) -> None:
            if answer is not None and not answer.taken:
                self.tablet.refuse(self._tell(answer.say))
            elif person is not None:
                self._sign(person)

        self.tablet.ask(lambda day: day.do(change_to(cure), PRESSED), done)

    def _sign(self, person: Person) -> None:
        def try_pin(pin: str, told: Callable[[str | None], None]) -> None:
            keys = self.tablet.keys

            def done(answer: Answer | None) -> None:
                told(None if answer is None or answer.taken else self._tell(answer.say))

            self.tablet.ask(lambda day: day.release(keys, pin, person.name, None, PRESSED), done)

        self.tablet.ask_pin(self._tell(message("lifted-signs", name=person.name)), try_pin)

    def _take_off(self, pieces: tuple[int, ...]) -> None:
        def done(answer: Answer | None) -> None:
            if answer is not None and (not answer.taken or answer.refused is not None):
                self.tablet.refuse(self._tell(answer.refused or answer.say))

        self.tablet.ask(lambda day: day.do_all(take_off(pieces), PRESSED), done)

    def _lift_next(self, area: Area, piece: int) -> None:
        """To its lift, where that is at hand; otherwise it is asked for, and comes as soon as it can."""
        if area.aimed is not None and area.aimed.tile == piece:
            self.tablet.go("lift")
        else:
            self.tablet.refuse(self._tell(message("lifted-lift-after", piece=str(piece))))
