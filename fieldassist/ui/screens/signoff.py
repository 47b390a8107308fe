"""Sign-off: the day in review, what is open first; then signature and PIN, the seal, and the files to hand over."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Literal

from pydantic import ValidationError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds.hold import as_answered, called_for
from fieldassist.checklist.moment import PRESSED, TYPED
from fieldassist.checklist.offers import READY, Offer, Ready
from fieldassist.checklist.open_points import OpenPoint, open_points
from fieldassist.checklist.plan import Role
from fieldassist.checklist.prompt import correction_offers
from fieldassist.checklist.state import State
from fieldassist.day.desk import View
from fieldassist.day.ear import interpret_text
from fieldassist.day.session import Answer, Day, told
from fieldassist.record.bundle import BundleProblem, OnProgress
from fieldassist.record.keys import KeyProblem
from fieldassist.record.log import LogProblem
from fieldassist.report.build import NoDay
from fieldassist.report.daily import CannotWrite
from fieldassist.report.report_model import AreaReport, DayReport
from fieldassist.trade.message import Text, message, term
from fieldassist.trade.quantities import Units
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content import signature_strokes
from fieldassist.ui.content.export import (
    ExportPlace,
    area_lines,
    day_lines,
    event_words,
    last_signature,
    places,
    reviewed,
    write_bundle,
    write_pdf,
)
from fieldassist.ui.content.jobs import LongWork, Stopped
from fieldassist.ui.content.names import capital, person
from fieldassist.ui.content.theme import ColourRole as Paint
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.finger import FingerField
from fieldassist.ui.widgets.parts import (
    Abreast,
    Choices,
    EntryField,
    Panel,
    Scroll,
    Target,
    TextLabel,
    Upright,
    VerdictMark,
    blank,
    gap,
)
from fieldassist.ui.widgets.pin import DigitKeys

from kivy.uix.boxlayout import BoxLayout  # isort: skip

SignoffPage = Literal[
    "review", "releases", "confirm", "sign", "sure", "where", "addendum", "correct", "answer", "reading"
]


@dataclass
class SignOffMemory:
    """What was entered here for one part of one day and not sent yet, and what was said.

    drawn: signatures by who signs; whose: who answers for releases that were called out; read_by: who has read the
    list of them; strike: the numbers of those that are struck out; number, correction: the event that is corrected,
    and how; places: where files can go; day: the day as the daily log tells it, of the head and units day_of;
    asked: those for which it was asked; point: the open point that is answered; reading: the number of the event
    whose reading is corrected; written: what is entered for either.
    """

    page: SignoffPage = "review"
    drawn: dict[str, signature_strokes.Drawn] = field(default_factory=dict)
    whose: str = ""
    read_by: str = ""
    strike: set[int] = field(default_factory=set)
    reason: str = ""
    number: str = ""
    correction: str = ""
    said: tuple[Paint, str] | None = None
    places: tuple[ExportPlace, ...] | None = None
    day: DayReport | None = None
    day_of: tuple[str, Units] = ("", "metric")
    asked: tuple[str, Units] = ("", "metric")
    point: str = ""
    reading: int = 0
    written: str = ""


@dataclass
class FilesMemory:
    """The folder that files are written to, None for the day's own."""

    folder: Path | None = None


class SignOff(Screen):
    """The end of the day."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._page = BoxLayout(orientation="vertical", spacing=gap())
        self.add_widget(self._page)
        # A PIN lives no longer than this screen: it is not kept over a redraw.
        self._pin = DigitKeys(self.look, secret=True)
        self._signing = False
        self._pulled: Scroll | None = None  # the review, which stays where it was pulled to

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("page", "no day"):
                self._page.clear_widgets()
                self._page.add_widget(TextLabel(self.look, "No day is open. Open one under Today.", "large"))
                self._page.add_widget(blank())
            return
        kept = self._kept(view)
        self._ask_for_review(view, kept)
        state = view.state
        if state.sealed and kept.page in ("releases", "confirm", "sign", "sure"):
            kept.page = "review"
        by: object
        if kept.page in ("releases", "confirm"):
            by = (kept.whose, called_for(state, kept.whose), tuple(sorted(kept.strike)), self._signing)
        elif kept.page in ("sign", "sure"):
            by = (state.speaker, state.closed, self._points(state, kept) if kept.page == "sure" else (), self._signing)
        elif kept.page in ("answer", "reading"):
            by = (state.speaker, open_points(state), kept.point, kept.reading, state.pending)
        elif kept.page == "where":
            by = kept.places
        elif kept.page == "review":
            by = (
                kept.day,
                state.closed,
                state.sealed,
                state.part,
                state.speaker,
                self._who_answers(state),
                open_points(state),
            )
        else:
            by = kept.day is None
        if self.changed("page", (kept.page, kept.said, by)):
            self._page.clear_widgets()
            {
                "review": self._review,
                "releases": self._releases_page,
                "confirm": self._confirm_page,
                "sign": self._sign_page,
                "sure": self._sure_page,
                "where": self._where_page,
                "addendum": self._addendum_page,
                "correct": self._correct_page,
                "answer": self._answer_page,
                "reading": self._reading_page,
            }[kept.page](view, kept)

    def _kept(self, view: View) -> SignOffMemory:
        # Of another day, or of its next part, nothing drawn or written here may go into this one.
        return self.tablet.memory.of(SignOffMemory, (view.path, view.state.part))

    def _turn_to(self, page: SignoffPage, kept: SignOffMemory) -> None:
        kept.page, kept.said = page, None
        self._pin.forget()
        self.tablet.refresh()

    def _say(self, kept: SignOffMemory, paint: Paint, words: str) -> None:
        kept.said = (paint, words)
        self.tablet.refresh()

    def _ask_for_review(self, view: View, kept: SignOffMemory) -> None:
        """Have the day told anew, beside the screen and beside the day, when an event came to it."""
        units = self.tablet.units
        wanted = (view.head, units)
        if wanted in (kept.day_of, kept.asked):
            return
        kept.asked = wanted
        read: list[tuple[str, Sequence[Event], Sequence[str]]] = []

        def look(day: Day) -> None:
            read.append((day.log.head, tuple(day.log.events), tuple(day.log.hashes)))

        def build(_answer: Answer | None) -> None:
            if read:
                head, events, hashes = read[0]
                run_in_background(lambda: reviewed(events, hashes, units), partial(built, head), failed)

        def built(head: str, report: DayReport) -> None:
            kept.day, kept.day_of = report, (head, units)
            self.tablet.refresh()

        def failed(problem: Exception) -> None:
            self._say(kept, "alarm", f"The day cannot be shown in review ({self.tablet.words.of(problem)}).")

        self.tablet.ask(look, build)

    # --- the review -----------------------------------------------------------------------------------------------

    def _review(self, view: View, kept: SignOffMemory) -> None:
        state = view.state
        inside = Upright(spacing=2 * gap())
        # What was said last stands on top, and has to be seen.
        at = self._pulled.scroll_y if self._pulled is not None and kept.said is None else 1.0
        self._pulled = Scroll(inside, scroll_y=at)
        self._page.add_widget(self._pulled)
        self._tell(inside, kept)
        if state.closed:
            self._seal(inside, state, kept)
        else:
            self._open(inside, open_points(state), state.part, kept)
        if kept.day is None:
            inside.add_widget(TextLabel(self.look, "The day is being read.", "large"))
        else:
            self._areas(inside, kept.day)
        self._page.add_widget(self._actions(state, kept))

    def _tell(self, where: BoxLayout, kept: SignOffMemory) -> None:
        """What was said last: a refusal, or what was written."""
        if kept.said is not None:
            paint, words = kept.said
            panel = Panel(self.look, role=paint)
            panel.add_widget(TextLabel(self.look, words, "plain", role=paint, bold=True))
            where.add_widget(panel)

    def _points(self, state: State, kept: SignOffMemory) -> tuple[OpenPoint, ...]:
        """What is open once the signer's PIN has answered for what was called out in the signer's name."""
        return open_points(as_answered(state, self._signer(state), tuple(kept.strike)))

    def _open(self, inside: Upright, all_points: Sequence[OpenPoint], part: int, kept: SignOffMemory) -> None:
        look = self.look
        points = [point for point in all_points if point.answer is None]
        answered = [point for point in all_points if point.answer is not None]
        what = f"Addendum {part}" if part else "The day"
        panel = Panel(look, role="alarm" if points else "panel")
        role: Paint = "alarm" if points else "panel"
        row = Abreast()
        row.add_widget(VerdictMark(look, "caution" if points else "done", role=role))
        count = f"{len(points)} {'point' if len(points) == 1 else 'points'} open"
        row.add_widget(TextLabel(look, count if points else f"{what} has no open point", "large", role=role))
        panel.add_widget(row)
        for point in points:
            panel.add_widget(TextLabel(look, f"– {capital(self.tablet.words(point.told))}", "plain", role=role))
            if point.answerable and kept.page == "review":
                panel.add_widget(Target(look, "Say why", partial(self._answer, kept, point.id), size="plain"))
        inside.add_widget(panel)
        for point in answered:
            panel = Panel(look)
            row = Abreast()
            row.add_widget(VerdictMark(look, "done", role="panel"))
            row.add_widget(TextLabel(look, capital(self.tablet.words(point.line)), "plain", role="panel"))
            panel.add_widget(row)
            inside.add_widget(panel)

    def _answer(self, kept: SignOffMemory, point: str) -> None:
        kept.point, kept.written = point, ""
        self._turn_to("answer", kept)

    def _seal(self, inside: Upright, state: State, kept: SignOffMemory) -> None:
        """Who signed, and the fingerprint, large enough to be read out."""
        look = self.look
        what = f"Addendum {state.part}" if state.part else "The day"
        signature = last_signature(kept.day) if kept.day is not None else None
        seal = signature.seal if signature is not None else None
        if signature is None or seal is None or seal.fault:
            fault = f"THE SEAL DOES NOT FIT: {seal.fault}" if seal is not None else "NOT SEALED yet"
            words = f"{what} is signed by {person(state.signed[-1])}. "
            words += "The seal is being checked." if state.sealed and seal is None else f"{fault}."
            panel = Panel(look, role="panel" if state.sealed and seal is None else "alarm")
            panel.add_widget(
                TextLabel(look, words, "large", role="panel" if state.sealed and seal is None else "alarm")
            )
            inside.add_widget(panel)
            return
        panel = Panel(look, role="good")
        row = Abreast()
        row.add_widget(VerdictMark(look, "done", role="good"))
        by = f"{signature.name}, {signature.role}, {signature.time}"
        row.add_widget(TextLabel(look, f"{what} is signed and sealed: {by}", "large", role="good"))
        panel.add_widget(row)
        panel.add_widget(TextLabel(look, "Fingerprint of the key, to read out and compare:", "plain", role="good"))
        groups = seal.fingerprint.split()
        wide = 4 if self.tablet.upright or look.text > 1.2 else 8
        for at in range(0, len(groups), wide):
            panel.add_widget(TextLabel(look, "   ".join(groups[at : at + wide]), "huge", role="good"))
        if seal.warning:
            panel.add_widget(TextLabel(look, f"But: {seal.warning}.", "plain", role="good", bold=True))
        for point in signature.open_points:
            panel.add_widget(TextLabel(look, f"– Signed with this open: {point}", "plain", role="good"))
        inside.add_widget(panel)

    def _areas(self, inside: Upright, day: DayReport) -> None:
        look = self.look
        panels = [self._area(area) for area in day.areas]
        for planned in day.not_started:
            panel = Panel(look, size_hint_x=1)
            row = Abreast()
            row.add_widget(VerdictMark(look, "waiting", role="panel"))
            text = capital(self.tablet.words(message("open-not-started", area=planned.name)))
            row.add_widget(TextLabel(look, text, "large", role="panel"))
            panel.add_widget(row)
            panels.append(panel)
        for panel in panels:
            inside.add_widget(panel)
        panel = Panel(look)
        panel.add_widget(TextLabel(look, "The whole day", "large", role="panel"))
        for line in day_lines(day):
            panel.add_widget(TextLabel(look, line, "plain", role="panel"))
        inside.add_widget(panel)

    def _area(self, area: AreaReport) -> Panel:
        look = self.look
        panel = Panel(look)
        failing = any(not failure.withdrawn and not failure.cured for failure in area.failures)
        row = Abreast()
        row.add_widget(VerdictMark(look, "failed" if failing else "done" if area.finished else "now", role="panel"))
        standing = f"finished {area.finished}" if area.finished else "NOT FINISHED"
        row.add_widget(TextLabel(look, f"{capital(area.name)}: {standing}", "large", role="panel"))
        panel.add_widget(row)
        for line in area_lines(area):
            panel.add_widget(TextLabel(look, line, "plain", role="panel"))
        return panel

    def _actions(self, state: State, kept: SignOffMemory) -> Choices:
        look, targets = self.look, []

        def turn(page: SignoffPage) -> Callable[[], None]:
            return partial(self._turn_to, page, kept)

        if not state.closed:
            what = f"addendum {state.part}" if state.part else "the day"
            targets.append(Target(look, f"Sign {what}", partial(self._to_sign, kept), role="first"))
            for name in self._who_answers(state):
                answers = partial(self._to_releases, kept, name)
                targets.append(Target(look, f"{person(name)} answers for releases", answers, size="plain"))
        elif not state.sealed:
            targets.append(Target(look, "Seal it with the PIN", turn("sign"), role="first"))
        if state.part and not state.closed:
            targets.append(Target(look, "Correct an event", turn("correct"), size="plain"))
        if not state.closed:
            targets.append(Target(look, "Correct a reading", turn("reading"), size="plain"))
        unsealed = "" if state.sealed else "\n(will say NOT SEALED)"
        targets.append(
            Target(look, f"Write the PDF{unsealed}", partial(self._write, kept, write_pdf, "The PDF"), size="plain")
        )
        bundle = partial(self._write, kept, write_bundle, "The file to hand over")
        targets.append(Target(look, "Write the file to hand over", bundle, size="plain"))
        targets.append(Target(look, f"Files go to:\n{self._where()}", turn("where"), size="plain"))
        if state.closed:
            targets.append(Target(look, "Open an addendum", turn("addendum"), size="plain"))
        many_columns = 2 if self.tablet.upright or look.text > 1.2 else len(targets)
        return Choices(targets, many_columns)

    # --- releases that were called out ------------------------------------------------------------------------------

    def _who_answers(self, state: State) -> tuple[str, ...]:
        """In whose names releases were called out that wait, but for the signer's, who answers with the signature."""
        crew = state.plan.crew if state.plan is not None else ()
        who = self._signer(state)
        return tuple(p.name for p in crew if p.name != who and called_for(state, p.name))

    def _to_releases(self, kept: SignOffMemory, name: str) -> None:
        kept.whose = name
        self._turn_to("releases", kept)

    def _to_sign(self, kept: SignOffMemory) -> None:
        """To the signature; first to what was called out in the signer's name, where there is any."""
        view = self.tablet.view
        if view is None:
            return
        who = self._signer(view.state)
        if called_for(view.state, who):
            self._to_releases(kept, who)
        else:
            self._turn_to("sign", kept)

    def _releases_page(self, view: View, kept: SignOffMemory) -> None:
        """One list of what was called out in this person's name; each can be struck out, one PIN confirms the rest."""
        look, state, who = self.look, view.state, kept.whose
        inside = Upright(spacing=2 * gap())
        inside.add_widget(TextLabel(look, f"Released in the name of {person(who)}, not confirmed yet", "large"))
        inside.add_widget(TextLabel(look, f"Press what {person(who)} did not release. The PIN confirms the rest."))
        targets = []
        for release in called_for(state, who):
            struck = release.seq in kept.strike
            step = state.areas[release.area].checklist.step(release.section, release.step)
            at = f"{datetime.fromisoformat(release.at.wall):%H:%M}"
            words = f"{capital(release.area)}, {at}: {self.tablet.words(step.ask)}"
            words += "\nSTRUCK OUT: stays open" if struck else "\nWill be confirmed"
            targets.append(Target(look, words, partial(self._strike, kept, release.seq), size="plain", chosen=struck))
        inside.add_widget(Choices(targets, 1))
        self._page.add_widget(Scroll(inside))
        back = Target(look, "Back", partial(self._turn_to, "review", kept), size="plain")
        self._page.add_widget(
            Choices([back, Target(look, "Go on to the PIN", partial(self._read, kept), role="first")], 2)
        )

    def _strike(self, kept: SignOffMemory, seq: int) -> None:
        kept.strike ^= {seq}
        self.tablet.refresh()

    def _read(self, kept: SignOffMemory) -> None:
        kept.read_by = kept.whose
        view = self.tablet.view
        signs = view is not None and self._signer(view.state) == kept.whose
        self._turn_to("sign" if signs else "confirm", kept)

    def _confirm_page(self, view: View, kept: SignOffMemory) -> None:
        """The PIN of somebody who does not sign the day now."""
        look, who = self.look, kept.whose
        inside = Upright(spacing=2 * gap())
        waiting = called_for(view.state, who)
        struck = sum(release.seq in kept.strike for release in waiting)
        inside.add_widget(
            TextLabel(look, f"{person(who)}: {len(waiting) - struck} to confirm, {struck} struck out", "large")
        )
        self._tell(inside, kept)
        if who not in {holder.name for holder in self.tablet.keys.people()}:
            self._without_pin(inside, who)
        if self._pin.parent is not None:
            self._pin.parent.remove_widget(self._pin)
        inside.add_widget(self._pin)
        self._page.add_widget(Scroll(inside))
        back = Target(look, "Back", partial(self._turn_to, "releases", kept), size="plain")
        words = "Wait …" if self._signing else "Confirm by PIN"
        self._page.add_widget(Choices([back, Target(look, words, partial(self._confirm, kept), role="first")], 2))

    def _confirm(self, kept: SignOffMemory) -> None:
        if self._signing:
            return
        self._signing = True
        pin, keys, who = self._pin.take(), self.tablet.keys, kept.whose
        strike = self._struck(kept, who)

        def confirmed(answer: Answer | None) -> None:
            self._signing = False
            if answer is not None and answer.taken:
                kept.page, kept.said = "review", ("good", self.tablet.words(answer.say))
            elif answer is not None:
                kept.said = ("alarm", self.tablet.words(answer.say))
            self.tablet.refresh()

        self.tablet.ask(lambda day: day.confirm(keys, pin, who, strike, PRESSED), confirmed)
        self.tablet.refresh()

    def _struck(self, kept: SignOffMemory, who: str) -> tuple[int, ...]:
        """Which of the releases that wait for this person are struck out."""
        view = self.tablet.view
        waiting = called_for(view.state, who) if view is not None else ()
        return tuple(release.seq for release in waiting if release.seq in kept.strike)

    # --- signing --------------------------------------------------------------------------------------------------

    def _signer(self, state: State) -> str:
        """Whose signature it would be; "" while nobody speaks."""
        if state.closed:
            return state.signed[-1]
        return state.speaker.name if state.speaker is not None else ""

    def _sign_page(self, view: View, kept: SignOffMemory) -> None:
        look, state, upright = self.look, view.state, self.tablet.upright
        who = self._signer(state)
        body = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        left = BoxLayout(orientation="vertical", spacing=gap(), size_hint_x=1 if upright else 0.6)
        what = f"addendum {state.part}" if state.part else "the day"
        does = "seals" if state.closed else "signs"
        left.add_widget(
            TextLabel(look, f"{person(who)} {does} {what}" if who else f"Nobody speaks: who signs {what}?", "large")
        )
        self._tell(left, kept)
        self._who_else(left, state, who)
        known = {person.name for person in self.tablet.keys.people()}
        if who and who not in known:
            self._without_pin(left, who)
        elif not state.closed:
            drawn = kept.drawn.setdefault(who, [])
            finger = FingerField(look, drawn, lambda: None)
            left.add_widget(finger)
            wipe = [Target(look, "Wipe the signature", finger.clear, size="plain")]
        else:
            left.add_widget(TextLabel(look, "It was signed by voice. The PIN puts the seal on it."))
            left.add_widget(blank())
        row = [*wipe] if who in known and not state.closed else []
        row.append(Target(look, "Back", partial(self._turn_to, "review", kept), size="plain"))
        sign = "Signing …" if self._signing else "Seal" if state.closed else "Sign and seal"
        row.append(Target(look, sign, partial(self._signs, view, kept), role="first"))
        left.add_widget(Choices(row, len(row)))
        body.add_widget(left)
        right = Upright(size_hint_x=1 if upright else 0.4, pos_hint={"top": 1})
        right.add_widget(TextLabel(look, f"PIN of {person(who)}" if who else "PIN", "large"))
        if self._pin.parent is not None:
            self._pin.parent.remove_widget(self._pin)
        right.add_widget(self._pin)
        body.add_widget(right)
        self._page.add_widget(body)

    def _who_else(self, left: BoxLayout, state: State, who: str) -> None:
        """Foremen of the crew who could speak instead of whoever speaks now."""
        if state.closed or state.plan is None or (state.speaker is not None and state.speaker.role is Role.FOREMAN):
            return
        foremen = [p.name for p in state.plan.crew if p.role is Role.FOREMAN and p.name != who]
        speak = [
            Target(self.look, f"{person(n)} speaks", partial(self.tablet.send, cmd.SpeakAs(name=n)), size="plain")
            for n in foremen
        ]
        left.add_widget(Choices(speak, 3))

    def _without_pin(self, left: BoxLayout, who: str) -> None:
        words = (
            f"{person(who)} has no PIN on this tablet yet, and so no key to sign with. The first PIN belongs to the "
            "crew's set-up, in the own hands: Settings, Crew and PINs."
        )
        panel = Panel(self.look, role="alarm")
        panel.add_widget(TextLabel(self.look, words, "plain", role="alarm", bold=True))
        left.add_widget(panel)
        left.add_widget(blank())

    def _sure_page(self, view: View, kept: SignOffMemory) -> None:
        """What would be signed although it is open: read, and press again."""
        look, state = self.look, view.state
        inside = Upright(spacing=2 * gap())
        self._open(inside, self._points(state, kept), state.part, kept)
        inside.add_widget(
            TextLabel(
                look, "Whoever signs now accepts these points. They stand in the log beside the signature.", "large"
            )
        )
        self._page.add_widget(Scroll(inside))
        back = Target(look, "Back", partial(self._turn_to, "sign", kept))
        sign = "Signing …" if self._signing else "Sign with open points"
        go_on = Target(look, sign, partial(self._sign, kept, accept_open=True), role="first")
        self._page.add_widget(Choices([back, go_on], 2))

    def _signs(self, view: View, kept: SignOffMemory) -> None:
        who = self._signer(view.state)
        if not view.state.closed and called_for(view.state, who) and kept.read_by != who:
            self._to_releases(kept, who)
        elif any(p.answer is None for p in self._points(view.state, kept)) and not view.state.closed:
            # The PIN waits in its keys while the points are read.
            kept.page, kept.said = "sure", None
            self.tablet.refresh()
        else:
            self._sign(kept, accept_open=False)

    def _sign(self, kept: SignOffMemory, *, accept_open: bool) -> None:
        view = self.tablet.view
        if self._signing or view is None:
            return
        self._signing = True
        pin, keys = self._pin.take(), self.tablet.keys
        who = self._signer(view.state)
        strokes = signature_strokes.strokes(kept.drawn.get(who, []))
        strike = () if view.state.closed else self._struck(kept, who)

        def sign(day: Day) -> Answer:
            if self._signer(day.state) != who:
                changed = Text.plain(f"{person(who)} does not speak any more. Nothing was signed.")
                return Answer(False, changed, (), day.prompt)
            try:
                return day.sign(keys, pin, strokes=strokes, accept_open=accept_open, strike=strike, source=PRESSED)
            except KeyProblem as problem:
                return Answer(False, told(problem), (), day.prompt)

        def signed(answer: Answer | None) -> None:
            self._signing = False
            if answer is not None and answer.taken:
                kept.drawn.clear()
                kept.strike.clear()
                kept.page, kept.said = "review", None
            elif answer is not None:
                kept.page, kept.said = "sign", ("alarm", self.tablet.words(answer.say))
            self.tablet.refresh()

        self.tablet.ask(sign, signed)
        self.tablet.refresh()

    # --- files ----------------------------------------------------------------------------------------------------

    @property
    def _chosen(self) -> FilesMemory:
        return self.tablet.memory.of(FilesMemory)

    def _folder(self) -> Path:
        view = self.tablet.view
        assert view is not None
        return self._chosen.folder or view.path.parent

    def _where(self) -> str:
        folder = self._chosen.folder
        return "beside the day" if folder is None else folder.name or str(folder)

    def _write(self, kept: SignOffMemory, write: Callable[[Path, Path, Units, OnProgress], str], what: str) -> None:
        view = self.tablet.view
        if view is None:
            return
        day, folder, units = view.path, self._folder(), self.tablet.units
        words: list[str] = []

        def work(job: LongWork) -> None:
            words.append(write(day, folder, units, job.progress))

        def done(problem: Exception | None) -> None:
            if problem is None:
                self._say(kept, "good", words[0])
            elif isinstance(problem, BundleProblem | CannotWrite | LogProblem | NoDay | Stopped):
                self._say(kept, "alarm", self.tablet.words.of(problem))
            else:
                self._say(
                    kept, "alarm", f"It could not be written ({problem}). The day is safe: choose another folder."
                )

        self.tablet.run_job(work, done, what)

    def _where_page(self, view: View, kept: SignOffMemory) -> None:
        look = self.look
        if kept.places is None:
            self._page.add_widget(TextLabel(look, "Looking for folders and sticks.", "large"))
            self._page.add_widget(blank())
            self._look_for_places(view, kept)
        else:
            inside = Upright()
            inside.add_widget(TextLabel(look, "Where should the files go?", "large"))
            here = self._folder()
            targets = [
                Target(
                    look,
                    f"{place.words}\n{place.folder}",
                    partial(self._choose_place, kept, place.folder),
                    role="first" if place.folder == here else "button",
                    chosen=place.folder == here,
                    size="plain",
                )
                for place in kept.places
            ]
            inside.add_widget(Choices(targets, 1 if self.tablet.upright else 2))
            self._page.add_widget(Scroll(inside))
        again = Target(look, "Look again", partial(self._look_for_places, view, kept), size="plain")
        back = Target(look, "Back", partial(self._turn_to, "review", kept), size="plain")
        self._page.add_widget(Choices([back, again], 2))

    def _look_for_places(self, view: View, kept: SignOffMemory) -> None:
        def found(here: tuple[ExportPlace, ...]) -> None:
            kept.places = here
            self.tablet.refresh()

        run_in_background(lambda: places(view.path.parent), found)

    def _choose_place(self, kept: SignOffMemory, folder: Path) -> None:
        self._chosen.folder = folder
        self._turn_to("review", kept)

    # --- after it was signed --------------------------------------------------------------------------------------

    def _addendum_page(self, _view: View, kept: SignOffMemory) -> None:
        look = self.look
        inside = Upright()
        inside.add_widget(TextLabel(look, "Why is the signed day opened again?", "large"))
        inside.add_widget(
            TextLabel(look, "What was signed stays as it is. This stands in the log; sign again afterwards.")
        )
        self._tell(inside, kept)
        reason = EntryField(look, self.tablet.takes_keys, kept.reason, hint="The reason, in a few words", lines=3)
        reason.bind(text=lambda _field, text: setattr(kept, "reason", text))
        inside.add_widget(reason)
        self._page.add_widget(Scroll(inside))
        back = Target(look, "Back", partial(self._turn_to, "review", kept), size="plain")
        addendum = partial(self._send, kept, lambda: cmd.OpenAddendum(reason=kept.reason))
        self._page.add_widget(Choices([back, Target(look, "Open the addendum", addendum, role="first")], 2))

    def _correct_page(self, _view: View, kept: SignOffMemory) -> None:
        look, upright = self.look, self.tablet.upright
        words = Upright(pos_hint={"top": 1})
        words.add_widget(TextLabel(look, "Correct which event?", "large"))
        words.add_widget(TextLabel(look, "Its number stands beside each line of the PDF.", "plain", quiet=True))
        self._tell(words, kept)
        named = TextLabel(look, _event(kept), "plain", bold=True)
        words.add_widget(named)
        text = EntryField(look, self.tablet.takes_keys, kept.correction, hint="What is right, in words", lines=3)
        text.bind(text=lambda _field, written: setattr(kept, "correction", written))
        words.add_widget(text)

        def numbered(number: str) -> None:
            kept.number = number
            named.text = _event(kept)

        keys = Upright(pos_hint={"top": 1})
        keys.add_widget(DigitKeys(look, secret=False, most=6, typed=kept.number, changed=numbered))
        both = Upright(spacing=2 * gap()) if upright else Abreast(spacing=2 * gap())
        both.add_widget(words)
        both.add_widget(keys)
        self._page.add_widget(Scroll(both))
        back = Target(look, "Back", partial(self._turn_to, "review", kept), size="plain")
        correct = partial(self._send, kept, partial(self._correction, kept))
        self._page.add_widget(Choices([back, Target(look, "Put it beside the event", correct, role="first")], 2))

    # --- open points and readings -------------------------------------------------------------------------------------

    def _answer_page(self, view: View, kept: SignOffMemory) -> None:
        """Why one open point stands: a ready sentence, words, or spoken."""
        look, state = self.look, view.state
        points = open_points(state)
        number = next((at for at, point in enumerate(points, 1) if point.id == kept.point and point.answer is None), 0)
        inside = Upright(spacing=2 * gap())
        back = Target(look, "Back", partial(self._turn_to, "review", kept), size="plain")
        if not number:
            self._tell(inside, kept)
            inside.add_widget(TextLabel(look, "This point is not open any more.", "large"))
            self._page.add_widget(Scroll(inside))
            self._page.add_widget(Choices([back], 1))
            return
        told = capital(self.tablet.words(points[number - 1].told))
        inside.add_widget(TextLabel(look, f"Why does this stand? {told}", "large"))
        self._tell(inside, kept)
        self._who_else(inside, state, "")
        ready = [
            Target(look, capital(self.tablet.words(term("open-ready", which))), partial(self._ready, kept, which))
            for which in READY
        ]
        inside.add_widget(Choices(ready, 1 if self.tablet.upright else 2))
        words = EntryField(look, self.tablet.takes_keys, kept.written, hint="In words of your own", lines=3)
        words.bind(text=lambda _field, text: setattr(kept, "written", text))
        inside.add_widget(words)
        self._page.add_widget(Scroll(inside))
        targets = [back]
        if self.tablet.listens and not self.tablet.deaf:
            targets.append(Target(look, "Speak it", partial(self.tablet.dictate, number), size="plain"))
        in_words = partial(self._send, kept, lambda: cmd.AnswerPoint(point=kept.point, words=kept.written))
        targets.append(Target(look, "Write it down", in_words, role="first"))
        self._page.add_widget(Choices(targets, len(targets)))

    def _ready(self, kept: SignOffMemory, which: Ready) -> None:
        self._send(kept, lambda: cmd.AnswerPoint(point=kept.point, ready=which))

    def _reading_page(self, view: View, kept: SignOffMemory) -> None:
        """An earlier reading is corrected: choose it, write the right one, read it back, yes."""
        look, state = self.look, view.state
        inside = Upright(spacing=2 * gap())
        inside.add_widget(TextLabel(look, "Correct which reading?", "large"))
        self._tell(inside, kept)
        back = Target(look, "Back", partial(self._turn_to, "review", kept), size="plain")
        targets = [back]
        if state.pending is not None:
            inside.add_widget(TextLabel(look, self.tablet.words(view.prompt.say), "large"))
            targets.append(Target(look, "No", partial(self._send, kept, cmd.Withdraw), size="plain"))
            targets.append(Target(look, "Yes, correct it", partial(self._send, kept, cmd.Keep), role="first"))
        else:
            offers = [(name, o) for name, area in state.areas.items() for o in correction_offers(state, area)]
            chosen = next((o for _, o in offers if _event_of(o) == kept.reading), None)
            for name, offer in offers:
                label = f"{capital(name)}: {self.tablet.words(offer.label)}"
                inside.add_widget(Target(look, label, partial(self._choose, kept, _event_of(offer)), size="plain"))
            if chosen is not None:
                inside.add_widget(TextLabel(look, self.tablet.words(chosen.label), "large"))
                field = EntryField(look, self.tablet.takes_keys, kept.written, hint="The right value, with its unit")
                field.bind(text=lambda _field, text: setattr(kept, "written", text))
                inside.add_widget(field)
                read = partial(self._read_again, kept, chosen)
                targets.append(Target(look, "Read it back", read, role="first"))
        self._page.add_widget(Scroll(inside))
        self._page.add_widget(Choices(targets, len(targets)))

    def _choose(self, kept: SignOffMemory, event: int) -> None:
        kept.reading, kept.written, kept.said = event, "", None
        self.tablet.refresh()

    def _read_again(self, kept: SignOffMemory, offer: Offer) -> None:
        """What is written is understood as if it had been typed after the offer's own words."""
        meant = interpret_text(f"correct {kept.reading} {kept.written}", (offer,)).command
        if meant is None:
            self._say(kept, "alarm", "That is no value of this reading. Write it in figures, with its unit.")
        else:
            self._send(kept, lambda: meant, then="reading")

    @staticmethod
    def _correction(kept: SignOffMemory) -> Command:
        return cmd.Correct(target=int(kept.number or 0), text=kept.correction)

    def _send(self, kept: SignOffMemory, make: Callable[[], Command], then: SignoffPage = "review") -> None:
        """Send what was written; it stays here until it was taken. then: the page that follows."""
        try:
            command = make()
        except ValidationError:
            self._say(
                kept, "alarm", "Give it in words, three letters at least, and the number of an event if asked for one."
            )
            return

        def done(answer: Answer | None) -> None:
            if answer is not None and answer.taken:
                kept.reason = kept.number = kept.correction = kept.written = ""
                kept.page = then
                self._say(kept, "good", self.tablet.words(answer.say))
            elif answer is not None:
                self._say(kept, "alarm", self.tablet.words(answer.say))

        self.tablet.ask(lambda day: day.do(command, TYPED), done)


def _event_of(offer: Offer) -> int:
    """The event whose reading an offer corrects."""
    assert isinstance(offer.command, cmd.GiveReading)
    return offer.command.corrects or 0


def _event(kept: SignOffMemory) -> str:
    """What the number that was typed stands for."""
    if not kept.number or kept.day is None:
        return ""
    words = event_words(kept.day, int(kept.number))
    return capital(words) if words else "No line of the PDF has this number."
