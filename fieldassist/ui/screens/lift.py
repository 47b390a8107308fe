"""A lifted piece: its back painted, four verdicts beside it, and one yes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import partial

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import promised
from fieldassist.checklist.backs import BackRecord
from fieldassist.checklist.backs import back_of as back_of_round
from fieldassist.checklist.kinds import Choice, Lift, Reading
from fieldassist.checklist.kinds.lift import LONGEST_LABEL
from fieldassist.checklist.moment import PRESSED, TYPED
from fieldassist.checklist.schema import Section
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.day.session import Answer
from fieldassist.photo.back import Brush
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.back_found import cannot_tell_told, recorded_by
from fieldassist.ui.content.back_work import KeptPlan, KeptPlans, plan_as_kept
from fieldassist.ui.content.entry import LastValue, NumberQuestion
from fieldassist.ui.content.failed_lift import failed_lift, pitch_of
from fieldassist.ui.content.lift_page import (
    FIELD_TITLES,
    LiftDraft,
    LiftDrafts,
    LiftField,
    LiftPage,
    Measure,
    area_unit,
    back_of,
    hint_told,
    lift_at_hand,
    lift_page,
    needed_told,
    next_due,
    tell_day,
    value_told,
    what_is_told,
    yes_told,
)
from fieldassist.ui.content.on_photo import as_recorded, between_told
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.back_painting import BackPainting
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.marks import Sign
from fieldassist.ui.widgets.photo_back import BackOnPhoto
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.verdict_field import VerdictField

from kivy.uix.widget import Widget  # isort: skip

# From this size of text on captions give way.
_LARGE = 1.2
# Upright, the back is as wide as the page, and no higher than this [dots].
_WIDE_UPRIGHT, _MOST_HIGH = 752, 440


class LiftScreen(Screen):
    """The lift at hand."""

    place = "work"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._fields: dict[Measure, VerdictField] = {}
        self._yes: Key | None = None
        self._hint: TextLabel | None = None
        self._paints: RowBox | None = None
        self._caption: TextLabel | None = None
        self._kept = tablet.memory.of(KeptPlans)

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view, tablet = self.tablet.view, self.tablet
        area = view.state.area if view is not None else None
        if view is None or area is None:
            if self.changed("what", ("no area", view is None)):
                self._say_only(message("lifted-no-area"), ())
            return
        section = None if view.state.closed or view.prompt.caution is not None else lift_at_hand(area)
        step = area.step
        if section is None or step is None:
            if self.changed("what", ("between", area.plan.name, view.state.last_seq, tablet.words)):
                self._say_only(self._last(area), (self._beside(area), next_due(area)))
            return
        draft = self._draft(view, area)
        page = self._page(view, area, section, draft)
        lifting = isinstance(step, Lift)
        record = self._record(view, area)
        what = (
            area.plan.name,
            area.task.round if area.task is not None else 0,
            lifting,
            tablet.words,
            tuple(one.measure for one in page.fields),
            draft.label,
            view.prompt.reminders,
            record.seq if record is not None else 0,
            record is not None and record.seq in self._kept.by_event,
        )
        if self.changed("what", what):
            self._compose(area, page, draft, lifting=lifting)
        if not lifting:
            self._show(page, draft)

    def title(self) -> tuple[str, str]:
        """The area, and which piece is lifted."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        if area is None:
            return "", ""
        piece = message("lifted-piece", piece=str(area.aimed.tile)) if area.aimed is not None else ""
        return area.plan.name.capitalize(), self.tablet.words(piece)

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _draft(self, view: View, area: Area) -> LiftDraft:
        task = area.task
        at = (view.path, area.plan.name, task.section if task else "", task.round if task else 0)
        kept = self.tablet.memory.of(LiftDrafts).by_round
        if at not in kept:
            kept[at] = LiftDraft(back_of(area.plan.piece))
        return kept[at]

    def _page(self, view: View, area: Area, section: Section, draft: LiftDraft) -> LiftPage:
        record = self._record(view, area)
        photo = as_recorded(record.back) if record is not None else None
        return lift_page(view.state, area, section, draft, us=self._us, photo=photo)

    def _record(self, view: View, area: Area) -> BackRecord | None:
        """What was measured of this back on its photo, None where nothing was."""
        task = area.task
        return back_of_round(view.state, area.plan.name, task.section, task.round) if task is not None else None

    @property
    def _us(self) -> bool:
        return self.tablet.units == "us"

    def _now(self) -> tuple[LiftPage, LiftDraft] | None:
        """The lift as it stands this moment."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        section = lift_at_hand(area) if area is not None else None
        if view is None or area is None or section is None:
            return None
        draft = self._draft(view, area)
        return self._page(view, area, section, draft), draft

    def _last(self, area: Area) -> Message:
        """What became of the last lift, where there was one."""
        lifts = [lift for lift in area.progress.lifts.values() if lift.verdict is not None]
        if not lifts:
            return message("lifted-none-at-hand")
        last = lifts[-1]
        measured = area.progress.measured.get((last.section, last.round), {})
        verdict = (last.verdict or "").replace(" ", "-")
        contact = measured.get("coverage", "")
        return message("lifted-last", lift=str(last.number), piece=str(last.tile), contact=contact, verdict=verdict)

    def _beside(self, area: Area) -> Message | None:
        """The last lift beside what the mock-up has shown, where its method was released from one."""
        lifts = [lift for lift in area.progress.lifts.values() if lift.verdict is not None]
        return promised.beside(area, lifts[-1]) if lifts else None

    def _say_only(self, told: Message, more: Sequence[Figure | None]) -> None:
        self.page.clear_widgets()
        self.page.add_widget(TextLabel(self.look, self._tell(told), "far"))
        for line in more:
            if line:
                self.page.add_widget(TextLabel(self.look, self._tell(line), "near"))
        self.page.add_widget(Widget())
        keys = [Key(self.look, self._tell(message("lifted-to-work")), partial(self.tablet.go, "work"), kind="action")]
        view = self.tablet.view
        area = view.state.area if view is not None else None
        if view is not None and area is not None and failed_lift(area, tuple(view.events)) is not None:
            words = self._tell(message("lifted-to-cure"))
            keys.append(Key(self.look, words, partial(self.tablet.go, "failed"), size="near"))
        self.act(*keys)

    # --- composing ------------------------------------------------------------------------------------------------

    def _compose(self, area: Area, page: LiftPage, draft: LiftDraft, *, lifting: bool) -> None:
        look, upright = self.look, self.tablet.upright
        self.page.clear_widgets()
        self._fields, self._hint = {}, None
        self.page.add_widget(self._heading(area, page, lifting=lifting))
        painting = self._drawing(area, draft, lifting=lifting)
        verdicts = self._verdicts(page, lifting=lifting)
        self._caption = TextLabel(
            look, self._tell(self._how(area, page, lifting=lifting)), "near", role="quiet", fit=True
        )
        # Why a photo cannot tell is read to its end: it takes two lines.
        coverage = page.field_of("coverage")
        unsure = coverage is not None and coverage.holds == "cannot tell"
        more = 36 if unsure else 0
        caption = RowBox(look, self._caption, high=44 + more)
        if upright:
            wide, high = draft.back.size_mm
            tall = min(_MOST_HIGH, _WIDE_UPRIGHT * high / wide) * (1.0 if look.text <= _LARGE else 0.6)
            shown = tall - more if look.text <= _LARGE else tall
            painting.size_hint_y, painting.height = None, look.dots(shown)
            self.page.add_widget(painting)
            if look.text <= _LARGE:
                self.page.add_widget(caption)
            self.page.add_widget(verdicts)
        else:
            left = ColumnBox(look, painting, gap=10)
            if look.text <= _LARGE:
                left.add_widget(caption)
            # Large letters need the room: the drawing gives way to 60 %.
            share = 0.63 if look.text <= _LARGE else 0.48
            left.size_hint_x, verdicts.size_hint_x = share, 1 - share
            sides = (verdicts, left) if look.left_hand else (left, verdicts)
            self.page.add_widget(RowBox(look, *sides, gap=20))
        self._paints = None
        if lifting:
            self._act_lifting(area, page, draft)
        else:
            if upright or look.text > _LARGE:
                self._paints = RowBox(look, high=TARGET + (14 if look.text > _LARGE else 0))
                self.page.add_widget(self._paints)
            self._drawn.pop("acts", None)

    def _drawing(self, area: Area, draft: LiftDraft, *, lifting: bool) -> Widget:
        """The back: on its photo where it was measured, else the drawing that is painted."""
        view = self.tablet.view
        record = self._record(view, area) if view is not None else None
        if view is None or record is None:
            ended = self._lifted if lifting else self._painted
            return BackPainting(self.look, draft.back, pitch_of(area), self._brush, self._painted, ended)
        kept = self._kept.by_event.get(record.seq)
        if kept is None:
            self._load(view, record)
            return TextLabel(self.look, self._tell(message("measuring-seeing")), "near", fit=True)
        return BackOnPhoto(self.look, kept.picture, kept.back)

    def _load(self, view: View, record: BackRecord) -> None:
        def found(plan: KeptPlan | None) -> None:
            if plan is not None:
                self._kept.by_event[record.seq] = plan
                self.tablet.refresh()

        path, back = view.path, record.back
        run_in_background(lambda: plan_as_kept(path, back), found)

    def _how(self, area: Area, page: LiftPage, *, lifting: bool) -> Message:
        """What stands under the back: why it is lifted, what is to be done, or how it was measured."""
        view = self.tablet.view
        record = self._record(view, area) if view is not None else None
        if lifting and page.came:
            return message("lifted-why", why=page.came)
        coverage = page.field_of("coverage")
        if coverage is not None and coverage.holds == "cannot tell" and coverage.needed is not None:
            return cannot_tell_told(coverage.needed, fails=page.failed)
        return recorded_by(record) if record is not None else message("lifted-how")

    def _heading(self, area: Area, page: LiftPage, *, lifting: bool) -> RowBox:
        coverage = page.field_of("coverage")
        criterion = area.criterion(coverage.step) if coverage is not None else None
        if lifting and page.piece is not None:
            told = message("lifted-lift-piece", piece=str(page.piece))
        elif criterion is not None:
            told = message("lifted-title", lift=str(page.lift), needed=criterion.told)
        else:
            told = message("lifted-title-bare", lift=str(page.lift))
        which = message("lifted-piece", piece=str(page.piece)) if page.piece is not None and not lifting else ""
        heading = TextLabel(self.look, self._tell(told), "far", fit=True, size_hint_x=0.78)
        piece = TextLabel(self.look, self._tell(which), "near", role="quiet", fit=True, align="right", size_hint_x=0.22)
        parts = (piece, heading) if self.look.left_hand else (heading, piece)
        return RowBox(self.look, *parts, high=96 if self.look.text <= _LARGE else 82)

    def _verdicts(self, page: LiftPage, *, lifting: bool) -> ColumnBox:
        """The fields: coverage, the void, then those that need less room beside each other, and what may be said."""
        look = self.look
        two_rows = self.tablet.upright or look.text > _LARGE
        for one in page.fields:
            narrow = one.measure in ("corners", "edges", "bed")
            made = VerdictField(
                look,
                self._tell(message(FIELD_TITLES[one.measure])),
                partial(self._refuse, message("lifted-lift-first"))
                if lifting
                else partial(self._press_field, one.measure),
                beside=one.measure == "largest void" and not two_rows,
                upright=narrow or (one.measure == "largest void" and two_rows),
            )
            self._fields[one.measure] = made
            self._show_field(one, lifting=lifting)
        wide = [self._fields[m] for m in ("coverage", "largest void") if m in self._fields]
        narrow_ones = [self._fields[m] for m in ("corners", "edges", "bed") if m in self._fields]
        column = ColumnBox(look, gap=10)
        if two_rows:
            column.add_widget(RowBox(look, *wide, gap=8))
        else:
            for made in wide:
                made.size_hint_y = 1.15 if made is wide[0] else 1.0
                column.add_widget(made)
        if narrow_ones:
            column.add_widget(RowBox(look, *narrow_ones, gap=8))
        if look.text <= _LARGE and not self.tablet.upright and self.tablet.listens and not self.tablet.deaf:
            self._hint = TextLabel(look, "", "small", bold=True, fit=True)
            ear = Sign(look, "ear", 34, pos_hint={"center_y": 0.5})
            column.add_widget(RowBox(look, ear, self._hint, gap=10, high=62))
        return column

    def _act_lifting(self, area: Area, page: LiftPage, draft: LiftDraft) -> None:
        look, step, task = self.look, area.step, area.task
        assert step is not None
        assert task is not None
        told = message("lifted-lift-piece", piece=str(page.piece or ""))
        lifted = Key(look, self._tell(told), self._lifted, kind="action", sign="lift")
        cannot = cmd.LeaveLift(section=task.section, step=step.id)
        keys = [
            lifted,
            Key(look, self._tell(message("lifted-cannot")), partial(self.tablet.send, cannot), size="near"),
        ]
        keys.append(
            Key(
                look,
                self._tell(message("lifted-all-mortar")),
                self._all_mortar,
                sign="rub-out",
                over=True,
                size="near",
            )
        )
        if isinstance(step, Lift) and step.quantity == "label":
            named = message("lifted-label-given", label=draft.label) if draft.label else message("lifted-label")
            keys.append(Key(look, self._tell(named), self._ask_label, sign="note", over=True, size="near"))
        self.act(*keys)

    def _act_painting(self, page: LiftPage, draft: LiftDraft) -> None:
        """The one yes, and what paints: in the row, or on the page where the row has no room for it."""
        look = self.look
        yes = self._yes = Key(
            look,
            self._tell(yes_told(page)),
            partial(self._refuse, yes_told(page)) if page.missing else self._say_yes,
            kind="fail" if page.failed and not page.missing else "action",
            off=bool(page.missing),
        )
        to_measure = partial(self.tablet.go, "measuring")
        photo = Key(look, self._tell(message("lifted-photo")), to_measure, sign="photo", over=True, size="near")
        if self._is_measured():
            self._act_measured(yes, photo, page)
            return
        void = self._paint_key("lifted-void-brush", "sign", "void", draft)
        mortar = self._paint_key(
            "lifted-mortar-brush" if draft.back.looked else "lifted-all-mortar", "rub-out", "mortar", draft
        )
        undo = Key(
            look,
            self._tell(message("lifted-undo")),
            self._undo if draft.back.can_undo else partial(self._refuse, message("lifted-nothing-to-undo")),
            sign="take-back",
            over=True,
            size="near",
            off=not draft.back.can_undo,
        )
        if self._paints is None:
            self.act(yes, photo, void, mortar, undo, second=150)
            return
        self._paints.clear_widgets()
        for key in (void, mortar, undo, photo):
            key.size_hint_y = 1
            self._paints.add_widget(key)
        self.act(yes)

    def _is_measured(self) -> bool:
        view = self.tablet.view
        area = view.state.area if view is not None else None
        return view is not None and area is not None and self._record(view, area) is not None

    def _act_measured(self, yes: Key, photo: Key, page: LiftPage) -> None:
        """On a photo nothing is painted here: it is measured anew; where that cannot tell, another piece is lifted."""
        keys = [photo]
        coverage = page.field_of("coverage")
        if coverage is not None and coverage.holds == "cannot tell" and not page.failed:
            another = self._tell(message("measuring-lift-another"))
            keys.append(Key(self.look, another, partial(self.tablet.go, "wall"), sign="lift", over=True, size="near"))
        if self._paints is not None and self._paints.parent is not None:
            self._paints.parent.remove_widget(self._paints)
        self.act(yes, *keys, second=150)

    def _paint_key(self, code: str, sign: str, brush: Brush, draft: LiftDraft) -> Key:
        return Key(
            self.look,
            self._tell(message(code)),
            partial(self._take_brush, brush),
            sign=sign,  # type: ignore[arg-type]
            over=True,
            size="near",
            chosen=draft.brush == brush,
        )

    # --- the figures, which follow the finger ----------------------------------------------------------------------

    def _show(self, page: LiftPage, draft: LiftDraft) -> None:
        for one in page.fields:
            self._show_field(one)
        if self._hint is not None:
            self._hint.words = self._tell(hint_told(page))
        words = self._tell(yes_told(page))
        if self._caption is not None:
            view = self.tablet.view
            area = view.state.area if view is not None else None
            if area is not None:
                self._caption.words = self._tell(self._how(area, page, lifting=False))
        acts = (page.failed, page.missing, draft.brush, draft.back.looked, draft.back.can_undo)
        if self.changed("acts", acts):
            self._act_painting(page, draft)
        elif self._yes is not None and self._yes.text != words:
            self._yes.say(words)

    def _show_field(self, one: LiftField, *, lifting: bool = False) -> None:
        """What was told; before the piece is off, what it must come to."""
        if lifting:
            needed = message("lifted-all-full") if isinstance(one.step, Choice) else needed_told(one, us=self._us)
            told = "" if one.may_be_left_out else self._tell(needed)
            small = one.measure == "largest void" or self.tablet.upright or self.look.text > _LARGE
            self._fields[one.measure].show("" if small else told, told if small else "", "")
            return
        if one.told:
            value = self._tell(value_told(one))
        else:
            value = self._tell(message("lifted-not-measured" if one.may_be_left_out else "lifted-not-told"))
        note = needed_told(one, us=self._us) if one.measure == "largest void" else ""
        if one.between is not None:
            note = between_told(one.between)
        self._fields[one.measure].show(value, self._tell(note), one.holds or "")

    def _painted(self) -> None:
        """The figures follow; before the piece is said to be off they come with the end of the first stroke."""
        now, view = self._now(), self.tablet.view
        area = view.state.area if view is not None else None
        if now is not None and area is not None and not isinstance(area.step, Lift):
            self._show(*now)

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _refuse(self, why: Message) -> None:
        self.tablet.refuse(self._tell(why))

    def _brush(self) -> Brush:
        now = self._now()
        return now[1].brush if now is not None else "void"

    def _take_brush(self, brush: Brush) -> None:
        """Paint with this from now on; mortar, while nobody has looked, is the whole back."""
        now = self._now()
        if now is None:
            return
        draft = now[1]
        if brush == "mortar" and not draft.back.looked:
            draft.back.all_covered()
        else:
            draft.brush = brush
        self._draw_again()

    def _undo(self) -> None:
        now = self._now()
        if now is not None:
            now[1].back.undo()
            self._draw_again()

    def _draw_again(self) -> None:
        for widget in self.walk():
            if isinstance(widget, BackPainting):
                widget.again()
        self._painted()

    def _all_mortar(self) -> None:
        """The piece is off, and all of its back bears mortar."""
        now = self._now()
        if now is not None:
            now[1].back.all_covered()
            self._lifted()

    def _lifted(self) -> None:
        """The piece is off: said, or shown by painting its back."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        if view is None or area is None or area.task is None or area.step is None:
            return
        label = self._draft(view, area).label or None
        command = cmd.ConfirmLift(section=area.task.section, step=area.step.id, label=label)
        self.tablet.send(command, TYPED if label else PRESSED)

    def _ask_label(self) -> None:
        view = self.tablet.view
        area = view.state.area if view is not None else None
        if view is None or area is None:
            return
        draft = self._draft(view, area)

        def take(text: str) -> None:
            draft.label = text.strip()[:LONGEST_LABEL]
            self.refresh()

        self.tablet.ask_words(self._tell(message("lifted-label-ask")), draft.label, take)

    def _press_field(self, measure: Measure) -> None:
        """A reading is typed; a choice turns to its other answer."""
        now = self._now()
        one = now[0].field_of(measure) if now is not None else None
        if now is None or one is None:
            return
        draft, step = now[1], one.step
        if isinstance(step, Choice):
            wanted = one.holds != "passed"  # what does not hold, or is not told, becomes full
            option = next((each.id for each in step.options if each.fails != wanted), None)
            if option is not None:
                draft.chosen[step.id] = option
                self._painted()
            return
        self._ask_number(draft, step, one)

    def _ask_number(self, draft: LiftDraft, step: Reading, one: LiftField) -> None:
        def take(value: Fraction, unit: str) -> None:
            draft.typed[step.id] = Quantity(value, unit)
            self._painted()

        units = step.units
        if step.measures == "largest void":
            first = area_unit(units, us=self._us)
            units = (first, *(unit for unit in units if unit != first))
        slot = step.slot()
        view = self.tablet.view
        area = view.state.area if view is not None else None
        asked = NumberQuestion(
            message(FIELD_TITLES[one.measure]),
            units,
            low=slot.low,
            high=slot.high,
            limit=area.criterion(step) if area is not None else None,
            last=self._last_values(one),
            note=step.ask,
        )
        self.tablet.ask_number(asked, take)

    def _last_values(self, one: LiftField) -> tuple[LastValue, ...]:
        """What can be taken again by one press: the value that stands, or what was read by eye before the photo was."""
        view = self.tablet.view
        area = view.state.area if view is not None else None
        record = self._record(view, area) if view is not None and area is not None else None
        if one.measure == "coverage" and record is not None and record.back.eye_percent is not None:
            return (LastValue(Fraction(repr(record.back.eye_percent)), "percent"),)
        return (LastValue(one.value.value, one.value.unit),) if one.value is not None else ()

    def _say_yes(self) -> None:
        """Tell the day all of it; a lift that failed goes on to its cure, one that passed to the work."""
        now = self._now()
        if now is None:
            return
        page, _ = now
        told = what_is_told(page)

        def done(answer: Answer | None) -> None:
            if answer is None:
                return
            if not answer.taken or answer.refused is not None:
                self.tablet.refuse(self._tell(answer.refused or answer.say))
                return
            self.tablet.go("failed" if page.failed else "work")

        self.tablet.ask(lambda day: tell_day(day, told), done)
