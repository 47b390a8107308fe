"""Sign-off: what an inspector asks first, the page beside it, and one key that signs; and the pages to be read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from fractions import Fraction
from functools import partial
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import AcceptReady, Command
from fieldassist.checklist.kinds.hold import called_for
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.moment import PRESSED, TYPED
from fieldassist.checklist.offers import READY
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import HoldRelease, State
from fieldassist.day.desk import View
from fieldassist.day.session import Answer, Day, told, why_no_pages
from fieldassist.record.keys import KeyProblem, SigningKey
from fieldassist.trade.message import Message, message, term
from fieldassist.trade.quantities import Units
from fieldassist.ui.background import in_screen, run_in_background
from fieldassist.ui.content import signature_strokes
from fieldassist.ui.content.entry import NumberQuestion
from fieldassist.ui.content.export import has_signed_pages, make_signed_pages
from fieldassist.ui.content.jobs import LongWork, Stopped
from fieldassist.ui.content.pages import PageShelf
from fieldassist.ui.content.signing import (
    AnsweredBy,
    AskedFirst,
    ProofState,
    asked_first,
    headline,
    proof,
    sign_key,
    signer,
    stay_open,
)
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.pins import first_pin, with_key
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, Divider, RowBox, Scroll, lay_ground
from fieldassist.ui.widgets.check_marks import MarkState, StateMark
from fieldassist.ui.widgets.digits import PinSheet
from fieldassist.ui.widgets.finger import FingerField
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, TARGET, Look
from fieldassist.ui.widgets.paper import PageKey, PagePaper
from fieldassist.ui.widgets.share_bar import ShareBar
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.scrollview import ScrollView  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

_PAGE_WIDE = 312  # the page beside the rows [dots]
_PAGE_SMALL = 190  # the same upright, and with large letters
_ANSWER_WIDE = 200  # dots
_LARGE = 1.2
_A4 = 210 / 297  # wide to high, while no page is there yet (ISO 216)


@dataclass
class SigningMemory:
    """What was entered here for one part of one day and is in no record yet.

    drawn: signatures by who signs; strike: the numbers of releases that are struck out with the signature; proof: what
    stands under the day, of the head of the log proof_of; asked: the head for which that was asked; units: of the
    signed pages, None for the plan's; making: how much of them is done, None while nothing is made; pages: whether
    they show all of the day; unmade: why they could not be made.
    """

    drawn: dict[str, signature_strokes.DrawnStrokes] = field(default_factory=dict)
    strike: set[int] = field(default_factory=set)
    proof: ProofState | None = None
    proof_of: str = ""
    asked: str = ""
    units: Units | None = None
    making: float | None = None
    pages: bool = False
    unmade: Message | None = None


def signing_memory(tablet: Tablet, view: View) -> SigningMemory:
    """Of another day, or of its next part, nothing drawn here may go into this one."""
    return tablet.memory.of(SigningMemory, (view.path, view.state.part))


def pages_folder(tablet: Tablet) -> Path:
    """Where pages are printed to be read here."""
    return tablet.data / "pages"


def print_beside(tablet: Tablet, view: View) -> PageShelf:
    """The pages of the day as it is now, printed beside the screen."""
    shelf = tablet.memory.of(PageShelf)
    shelf.print(view.path, view.head, tablet.units, pages_folder(tablet), run_in_background, tablet.refresh)
    return shelf


class SignOff(Screen):
    """The end of the day."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._signing = False
        self._rows: Scroll | None = None  # which stays where it was pulled to
        self._bar: ShareBar | None = None
        self._said: TextLabel | None = None

    def title(self) -> tuple[str, str]:
        """The page's name, and when it is."""
        words = self.tablet.words
        view = self.tablet.view
        return words(message("signing-title")), words(moment_told(view)) if view is not None else ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("all", None):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self.tablet.words(message("signing-no-day")), "far"))
                self.act(Key(self.look, self.tablet.words(message("frame-place", place="day")), self._to_day))
            return
        kept, state = signing_memory(self.tablet, view), view.state
        shelf = print_beside(self.tablet, view)
        if state.closed:
            self._look_at_proof(view, kept)
        by = signer(state)
        rows = () if state.closed else asked_first(state, by, sorted(kept.strike))
        key = sign_key(state, by, sorted(kept.strike))
        making = kept.making is not None
        found = (
            *(rows, key, state.closed, state.sealed, kept.proof, shelf.printed, shelf.problem is None),
            *(kept.units, making, kept.pages, kept.unmade),
        )
        picture = shelf.page(1, self._page_pixels(), run_in_background, self.tablet.refresh)
        if self.changed("all", (found, picture is None)):
            if making:
                self._lay_making()
            else:
                self._lay(view, kept, rows, key)
        if kept.making is not None and self._bar is not None and self._said is not None:
            self._bar.share = kept.making
            told = message("signing-pages-being-made", share=str(round(100 * kept.making)))
            self._said.words = self.tablet.words(told)

    def _to_day(self) -> None:
        self.tablet.go("day")

    # --- the page -------------------------------------------------------------------------------------------------

    @property
    def _small(self) -> bool:
        return self.tablet.upright or self.look.text > _LARGE

    def _page_pixels(self) -> int:
        return int(self.look.dots(_PAGE_SMALL if self._small else _PAGE_WIDE))

    def _lay(self, view: View, kept: SigningMemory, rows: Sequence[AskedFirst], key: Message) -> None:
        look, words, state = self.look, self.tablet.words, view.state
        at = self._rows.scroll_y if self._rows is not None else 1.0
        self.page.clear_widgets()
        page = self._page_key()
        if state.closed:
            head = words(kept.proof.signed) if kept.proof is not None else words(message("signing-being-checked"))
            inside: Widget = self._proof(view, kept)
        else:
            head = words(headline(state, signer(state), sorted(kept.strike)))
            pages = self._pages_row(view.state, kept)
            inside = ColumnBox(look, *self._asked(rows), Divider(look), pages, gap=2, rises=True)
        self._rows = Scroll(look, inside, scroll_y=at)
        if self.tablet.upright:
            page.size_hint_x, page.width = None, look.dots(_PAGE_SMALL)
            high = _PAGE_SMALL / _A4 + 12
            self.page.add_widget(self._beside(page, TextLabel(look, head, "far", fit=True), high=high))
            self.page.add_widget(self._rows)
        else:
            page.size_hint_x, page.width = None, look.dots(_PAGE_SMALL if self._small else _PAGE_WIDE)
            self.page.add_widget(TextLabel(look, head, "far", lines=1))
            self.page.add_widget(self._beside(page, self._rows))
        self._lay_keys(view.state, key)

    def _lay_making(self) -> None:
        """The day is sealed, and its pages are being signed with the key that the PIN opened."""
        look = self.look
        self.page.clear_widgets()
        self._said = TextLabel(look, "", "far")
        self._bar = ShareBar(look, size_hint_y=None, height=look.dots(48))
        for one in (self._said, self._bar, Widget()):
            self.page.add_widget(one)
        self.act()

    def _beside(self, page: Widget, others: Widget, *, high: float | None = None) -> RowBox:
        inside = (others, page) if self.look.left_hand else (page, others)
        return RowBox(self.look, *inside, gap=22, high=high)

    def _page_key(self) -> PageKey:
        shelf = self.tablet.memory.of(PageShelf)
        picture = shelf.page(1, self._page_pixels(), run_in_background, self.tablet.refresh)
        shape = picture.width / picture.height if picture is not None else _A4
        named = self.tablet.words(message("signing-daily-log"))
        return PageKey(self.look, partial(self.tablet.go, "pages"), named, picture, shape)

    def _asked(self, rows: Sequence[AskedFirst]) -> list[Widget]:
        found: list[Widget] = []
        for row in rows:
            if found:
                found.append(Divider(self.look))
            found.append(self._row(row))
        return found

    def _row(self, row: AskedFirst) -> RowBox:
        answer = message("signing-answer", by=row.by) if row.by else None
        return self._state_row(row.state, row.head, row.reason, answer, partial(self._answer, row))

    def _state_row(
        self,
        state: MarkState,
        head: Message,
        reason: Message | None = None,
        key_says: Message | None = None,
        press: Callable[[], None] | None = None,
    ) -> RowBox:
        """What is so, with its mark, why in a line, and a key where something is to be done about it."""
        look, words = self.look, self.tablet.words
        told = [TextLabel(look, _first_capital(words(head)), "near", bold=True)]
        if reason is not None:
            told.append(TextLabel(look, words(reason), "small", role="quiet"))
        middle = ColumnBox(look, *told, gap=2, rises=True, pos_hint={"center_y": 0.5})
        inside: list[Widget] = [StateMark(look, state), middle]
        if key_says is not None and press is not None:
            key = Key(
                look,
                words(key_says),
                press,
                named=f"{words(key_says)}: {words(head)}",
                size="near",
                size_hint_x=None,
                width=look.dots(_ANSWER_WIDE),
                pos_hint={"center_y": 0.5},
            )
            inside.append(key)
        least = Widget(size_hint=(None, None), size=(0, look.dots(TARGET)))
        return RowBox(look, *(reversed(inside) if look.left_hand else inside), least, gap=14, rises=True)

    def _units(self, state: State, kept: SigningMemory) -> Units:
        """In which the pages are signed: as chosen here, or the plan's."""
        return kept.units or (state.plan.units if state.plan is not None else "metric")

    def _pages_row(self, state: State, kept: SigningMemory) -> RowBox:
        """Paper and units of the pages that will be signed."""
        units = self._units(state, kept)
        head, reason = message("signing-pages", units=units), message("signing-pages-one")
        return self._state_row(
            "noted", head, reason, message("signing-pages-change"), partial(self._other_units, kept, units)
        )

    def _other_units(self, kept: SigningMemory, units: Units) -> None:
        kept.units = "us" if units == "metric" else "metric"
        self.tablet.refresh()

    def _proof(self, view: View, kept: SigningMemory) -> ColumnBox:
        """What stands under the signed day."""
        look, words, found = self.look, self.tablet.words, kept.proof
        column = ColumnBox(look, gap=14, rises=True)
        if found is None:
            return column
        mark = StateMark(look, "holds" if found.good else "missing")
        said = TextLabel(look, words(found.told), "near", bold=True, pos_hint={"center_y": 0.5})
        column.add_widget(RowBox(look, mark, said, gap=14, rises=True))
        if found.fingerprint:
            column.add_widget(TextLabel(look, words(message("signing-fingerprint")), "small", role="quiet"))
            column.add_widget(TextLabel(look, found.fingerprint, "near"))
        if view.state.sealed and found.certified:
            column.add_widget(self._pages_proof(kept))
        for point in found.accepted:
            column.add_widget(Divider(look))
            column.add_widget(TextLabel(look, words(message("signing-signed-open", point=point)), "small"))
        return column

    def _pages_proof(self, kept: SigningMemory) -> RowBox:
        """Whether the signed pages are there; where they are not, they are made by the PIN of whoever sealed."""
        if kept.pages:
            return self._state_row("holds", message("signing-pages-made"))
        why = message("signing-pages-why", why=kept.unmade) if kept.unmade is not None else None
        return self._state_row(
            "missing",
            message("signing-pages-not-made"),
            why,
            message("signing-pages-make"),
            partial(self._make_pages, kept),
        )

    def _make_pages(self, kept: SigningMemory) -> None:
        view, tablet = self.tablet.view, self.tablet
        if view is None:
            return
        name, units, path = signer(view.state), self._units(view.state, kept), view.path

        def make(key: SigningKey) -> None:
            at = tablet.clock.now()

            def work(job: LongWork) -> None:
                make_signed_pages(path, key, at, units, job.progress)

            def done(problem: Exception | None) -> None:
                stopped = isinstance(problem, Stopped)
                kept.unmade = None if problem is None or stopped else why_no_pages(problem)
                kept.pages = problem is None
                if problem is not None and stopped:
                    tablet.refuse(tablet.words.of(problem))

            tablet.run_job(work, done, tablet.words(message("signing-pages-job")))

        with_key(tablet, name, message("frame-whose-pin", name=name), make)

    # --- keys -----------------------------------------------------------------------------------------------------

    def _lay_keys(self, state: State, key: Message) -> None:
        look, words = self.look, self.tablet.words
        read = Key(
            look, words(message("signing-read-all")), self._read, sign="page", over=not self.tablet.upright, size="near"
        )
        if state.sealed:
            hand = partial(self.tablet.go, "handing")
            # No key of the colour that goes on: the day is done.
            big = Key(look, words(message("signing-hand-over")), hand, sign="hand-over")
            again = Key(look, words(message("signing-addendum")), self._open_addendum, size="near")
            counter = Key(
                look,
                words(message("countersign-title")),
                partial(self.tablet.go, "countersign"),
                sign="sign",
                size="near",
            )
            self.act(big, counter, again, read, second=290)
            return
        size: SizeName = "near" if look.text > _LARGE else "key"
        sign = Key(look, words(key), self._sign, kind="action", sign="sign", size=size)
        if state.closed:
            self.act(sign, read)
            return
        correct = Key(look, words(message("signing-correct")), partial(self.tablet.go, "history"), size="near")
        far = [read]
        if state.part:
            far.append(Key(look, words(message("signing-correct-event")), self._correct_event, size="near"))
        self.act(sign, correct, *far, second=330)

    def _read(self) -> None:
        self.tablet.go("pages")

    # --- answering ------------------------------------------------------------------------------------------------

    def _answer(self, row: AskedFirst) -> None:
        ways: dict[AnsweredBy, Callable[[AskedFirst], None]] = {
            "why": self._ask_why,
            "accept": self._ask_why,
            "release": self._ask_release,
            "work": lambda _row: self.tablet.go("work"),
            "cautions": lambda _row: self.tablet.go("cautions"),
        }
        ways[row.by](row)

    def _as_foreman(self, then: Callable[[], None]) -> None:
        """Do something that only a foreman may; where none speaks it is asked first whether one is here."""
        view = self.tablet.view
        assert view is not None
        speaker, name = view.state.speaker, signer(view.state)
        if speaker is not None and speaker.role is Role.FOREMAN:
            then()
            return

        def here() -> None:
            self.tablet.ask(lambda day: day.do(cmd.SpeakAs(name=name), PRESSED), lambda _answer: then())

        cure = Key(self.look, self.tablet.words(message("signing-is-here", name=name)), here, kind="action", high=None)
        self.tablet.refuse(self.tablet.words(message("signing-foreman-answers", name=name)), cure if name else None)

    def _ask_why(self, row: AskedFirst) -> None:
        """Ready sentences first, then words of one's own, typed or spoken."""
        self._as_foreman(partial(self._show_answers, row))

    def _show_answers(self, row: AskedFirst) -> None:
        point, look, words = row.point, self.look, self.tablet.words
        if point is None:
            return
        area = point.area or ""
        if row.by == "accept":
            accepting: tuple[AcceptReady, ...] = ("as it is", "reach", "owner")
            sentences: list[tuple[str, Command]] = [
                (words(term("engine-accepted", ready)), cmd.AcceptTiles(ready=ready)) for ready in accepting
            ]
            own: Callable[[str], Command] = lambda text: cmd.AcceptTiles(words=text)  # noqa: E731
        else:
            sentences = [
                (words(term("open-ready", ready)), cmd.AnswerPoint(point=point.id, ready=ready)) for ready in READY
            ]
            own = lambda text: cmd.AnswerPoint(point=point.id, words=text)  # noqa: E731
        in_area = area if row.by == "accept" else ""
        keys = [
            Key(look, _first_capital(said), partial(self._send, command, in_area), size="near", high=None)
            for said, command in sentences
        ]
        question = words(row.head)
        keys.append(
            Key(
                look,
                words(message("signing-own-words")),
                partial(self._own_words, question, own, in_area),
                sign="note",
                size="near",
                high=None,
            )
        )
        if row.by == "accept":
            keys.append(
                Key(look, words(message("signing-lift-again")), self._to_work, sign="lift", size="near", high=None)
            )
        elif self.tablet.listens and not self.tablet.deaf:
            keys.append(
                Key(
                    look,
                    words(message("signing-speak")),
                    partial(self._speak, point.id),
                    sign="ear",
                    size="near",
                    high=None,
                )
            )
        column = ColumnBox(look, gap=12, padding=look.dots(MARGIN))
        lay_ground(look, column, "ground")
        column.add_widget(TextLabel(look, question, "key"))
        column.add_widget(TextLabel(look, words(point.told), "small", role="quiet"))
        column.add_widget(Widget())
        column.add_widget(Cells(look, keys, 1 if self.tablet.upright else 2, high=112))
        column.add_widget(Key(look, words(message("frame-back")), self.tablet.close_sheet, size="near"))
        self.tablet.sheet(column)

    def _to_work(self) -> None:
        self.tablet.go("work")

    def _own_words(self, question: str, own: Callable[[str], Command], area: str) -> None:
        def taken(text: str) -> None:
            if text:
                self._send(own(text), area)

        self.tablet.ask_words(question, "", taken)

    def _speak(self, point: str) -> None:
        """What is said next is the answer to the point."""
        self.tablet.close_sheet()
        view = self.tablet.view
        points = open_points(view.state) if view is not None else ()
        number = next((at for at, one in enumerate(points, 1) if one.id == point), None)
        if number is not None:
            self.tablet.dictate(number)

    def _send(self, command: Command, area: str = "") -> None:
        """Have a command carried out; area: in which it has to be, "" where that is all the same."""
        self.tablet.close_sheet()

        def work(day: Day) -> Answer:
            if area and day.state.active != area:
                moved = day.do(cmd.StartArea(area=area), PRESSED)
                if not moved.taken:
                    return moved
            return day.do(command, PRESSED)

        self._do(work)

    def _do(self, work: Callable[[Day], Answer]) -> None:
        def done(answer: Answer | None) -> None:
            if answer is not None and not answer.taken:
                self.tablet.refuse(self.tablet.words(answer.say))

        self.tablet.ask(work, done)

    # --- releases -------------------------------------------------------------------------------------------------

    def _ask_release(self, row: AskedFirst) -> None:
        """The releases that were called in somebody's name: each can be struck out. The signer's are confirmed with the
        signature, another's by a PIN of their own."""
        view = self.tablet.view
        if view is None:
            return
        look, words, state, name = self.look, self.tablet.words, view.state, row.name
        kept = signing_memory(self.tablet, view)
        keys = [
            Key(
                look,
                self._release_words(state, release),
                partial(self._strike, kept, release.seq, row),
                caption=words(message("signing-strike", struck="yes" if release.seq in kept.strike else "no")),
                chosen=release.seq in kept.strike,
                size="near",
                high=None,
            )
            for release in called_for(state, name)
        ]
        column = ColumnBox(look, gap=12, padding=look.dots(MARGIN))
        lay_ground(look, column, "ground")
        column.add_widget(TextLabel(look, words(message("signing-called-for", name=name)), "key"))
        column.add_widget(TextLabel(look, words(message("signing-press-struck", name=name)), "small", role="quiet"))
        column.add_widget(Scroll(look, ColumnBox(look, Cells(look, keys, 1, high=132), rises=True)))
        if name == signer(state):
            last = Key(look, words(message("frame-done")), self.tablet.close_sheet, kind="action")
        else:
            last = Key(
                look,
                words(message("signing-confirm-by-pin", name=name)),
                partial(self._confirm, kept, name),
                kind="action",
            )
        back = Key(look, words(message("frame-back")), self.tablet.close_sheet, size="near", size_hint_x=0.4)
        column.add_widget(RowBox(look, back, last, gap=14, high=112))
        self.tablet.sheet(column)

    def _release_words(self, state: State, release: HoldRelease) -> str:
        step = state.areas[release.area].checklist.step(release.section, release.step)
        told = message("signing-release-in", area=release.area, at=release.at.wall[11:16], hold=step.name)
        return _first_capital(self.tablet.words(told))

    def _strike(self, kept: SigningMemory, seq: int, row: AskedFirst) -> None:
        kept.strike ^= {seq}
        self._ask_release(row)
        self.tablet.refresh()

    def _struck(self, kept: SigningMemory, state: State, name: str) -> tuple[int, ...]:
        return tuple(release.seq for release in called_for(state, name) if release.seq in kept.strike)

    def _confirm(self, kept: SigningMemory, name: str) -> None:
        """The PIN of somebody who does not sign the day."""
        keys = self.tablet.keys
        view = self.tablet.view
        strike = self._struck(kept, view.state, name) if view is not None else ()
        self._with_pin(name, lambda pin, day: day.confirm(keys, pin, name, strike, PRESSED), None)

    # --- signing --------------------------------------------------------------------------------------------------

    def _sign(self) -> None:
        view = self.tablet.view
        if view is None:
            return
        kept, state = signing_memory(self.tablet, view), view.state
        name = signer(state)
        if not name:
            self.tablet.refuse(self.tablet.words(message("signing-no-foreman")))
            return
        strike = () if state.closed else self._struck(kept, state, name)
        drawn = kept.drawn.setdefault(name, [])
        open_then = len(stay_open(state, name, strike))
        keys = self.tablet.keys

        def sign(pin: str, day: Day) -> Answer:
            # What came to it while the finger drew was not read by whoever signs.
            if not day.state.closed and len(stay_open(day.state, name, strike)) > open_then:
                return Answer(False, message("signing-more-open"), (), day.prompt)
            before = day.state.speaker
            if not day.state.closed and (before is None or before.name != name):
                turned = day.do(cmd.SpeakAs(name=name), PRESSED)
                if not turned.taken:
                    return turned
            strokes = signature_strokes.strokes(drawn)
            pages = partial(self._sign_pages, day, kept, units)
            answer = day.sign(keys, pin, strokes=strokes, accept_open=True, strike=strike, source=PRESSED, pages=pages)
            if not answer.taken and before is not None and before.name != name and not day.state.closed:
                day.do(cmd.SpeakAs(name=before.name), PRESSED)
            return answer

        units = self._units(state, kept)

        def signed() -> None:
            kept.drawn.clear()
            kept.strike.clear()
            kept.making = None

        self._with_pin(name, sign, signed, finger=None if state.closed else drawn)

    def _sign_pages(self, day: Day, kept: SigningMemory, units: Units, key: SigningKey) -> None:
        """Called in the day's thread, with the key while it is open: the day is sealed."""

        def progress(done: int, total: int) -> None:
            share = done / total if total else 0.0
            if kept.making is None or share - kept.making >= 0.02:
                kept.making = share
                in_screen(self._show_making)

        kept.unmade = None
        try:
            make_signed_pages(day.log.path, key, day.clock.now(), units, progress)
        except Exception as problem:
            kept.unmade = why_no_pages(problem)
            raise

    def _show_making(self) -> None:
        self.tablet.close_sheet()
        self.tablet.refresh()

    def _with_pin(
        self,
        name: str,
        work: Callable[[str, Day], Answer],
        then: Callable[[], None] | None,
        *,
        finger: signature_strokes.DrawnStrokes | None = None,
    ) -> None:
        """Have something done that takes a person's PIN; who has none yet gives it here, twice."""
        if name not in {holder.name for holder in self.tablet.keys.people()}:
            view = self.tablet.view
            person = view.state.plan.person(name) if view is not None and view.state.plan is not None else None
            if person is not None:
                go_on = partial(self._with_pin, name, work, then, finger=finger)
                first_pin(self.tablet, name, person.role, go_on)
            return
        words = self.tablet.words

        def given(pin: str, tell: Callable[[str | None], None]) -> None:
            if self._signing:
                return
            self._signing = True

            def carry_out(day: Day) -> Answer:
                try:
                    return work(pin, day)
                except KeyProblem as problem:
                    return Answer(False, told(problem), (), day.prompt)

            def done(answer: Answer | None) -> None:
                self._signing = False
                if answer is None or not answer.taken:
                    tell(words(answer.say) if answer is not None else "")
                    return
                tell(None)
                if then is not None:
                    then()
                self.tablet.refresh()

            self.tablet.ask(carry_out, done)

        question = words(
            message("signing-signs", name=name) if finger is not None else message("frame-whose-pin", name=name)
        )
        self.tablet.sheet(
            PinSheet(
                self.look,
                question,
                (words(message("frame-back")), words(message("frame-give"))),
                given,
                self.tablet.close_sheet,
                upright=self.tablet.upright,
                beside=self._finger(finger) if finger is not None else None,
            )
        )

    def _finger(self, drawn: signature_strokes.DrawnStrokes) -> Widget:
        look, words = self.look, self.tablet.words
        paper = FingerField(look, drawn, words(message("signing-draw")))
        wipe = Key(look, words(message("signing-wipe")), paper.clear, sign="rub-out", size="near")
        return ColumnBox(look, paper, wipe, gap=10)

    # --- after it was signed --------------------------------------------------------------------------------------

    def _look_at_proof(self, view: View, kept: SigningMemory) -> None:
        """Have the seals of the log checked beside the screen."""
        if view.head in (kept.proof_of, kept.asked):
            return
        kept.asked = view.head
        read: list[tuple[Sequence[object], Sequence[str]]] = []

        def take(day: Day) -> None:
            read.append((tuple(day.log.events), tuple(day.log.hashes)))

        def check(_answer: Answer | None) -> None:
            if read:
                events, hashes = read[0]
                run_in_background(
                    lambda: (proof(events, hashes), has_signed_pages(view.path)),  # type: ignore[arg-type]
                    checked,
                )

        def checked(found: tuple[ProofState | None, bool]) -> None:
            (kept.proof, kept.pages), kept.proof_of = found, kept.asked
            self.tablet.refresh()

        self.tablet.ask(take, check)

    def _open_addendum(self) -> None:
        """The signed day is opened again, with the reason."""

        def reason(text: str) -> None:
            if text:
                self._do(lambda day: day.do(cmd.OpenAddendum(reason=text), TYPED))

        question = self.tablet.words(message("signing-why-again"))
        self._as_foreman(lambda: self.tablet.ask_words(question, "", reason))

    def _correct_event(self) -> None:
        """What an addendum corrects: the event by its number, as the pages have it, and what is right."""
        view = self.tablet.view
        if view is None:
            return
        listing, lines = Listing(), {}
        for event in view.events:
            lines[event.seq] = listing.line(event)

        def chosen(number: Fraction, _unit: str) -> None:
            line = lines[int(number)]

            def right(text: str) -> None:
                if text:
                    self._do(lambda day: day.do(cmd.Correct(target=int(number), text=text), TYPED))

            self.tablet.ask_words(self.tablet.words(message("signing-what-is-right", line=line)), "", right)

        asked = NumberQuestion(message("signing-which-event"), low=1, high=max(lines), whole=True)
        self._as_foreman(lambda: self.tablet.ask_number(asked, chosen))


class PageReader(Screen):
    """The daily log, page by page."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._number, self._larger = 1, False

    def title(self) -> tuple[str, str]:
        """What is read, and which page of it."""
        shelf = self.tablet.memory.of(PageShelf)
        words = self.tablet.words
        where = (
            message("signing-page-of", page=str(self._number), pages=str(shelf.printed.pages))
            if shelf.printed is not None
            else message("signing-printing")
        )
        return words(message("signing-daily-log")), words(where)

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None:
            if self.changed("all", None):
                self._tell(message("signing-no-day"))
            return
        shelf = print_beside(self.tablet, view)
        if shelf.problem is not None:
            if self.changed("all", shelf.problem):
                self._tell(message("signing-not-read", why=self.tablet.words.of(shelf.problem)))
            return
        if not shelf.is_of(view.head, self.tablet.units) or shelf.printed is None:
            if self.changed("all", "printing"):
                self._tell(message("signing-printing"))
            return
        self._number = min(self._number, shelf.printed.pages)
        width = self._wide()
        picture = shelf.page(self._number, width, run_in_background, self.tablet.refresh)
        if self.changed("all", (shelf.printed, self._number, width, picture is None)):
            self.page.clear_widgets()
            if picture is not None:
                self.page.add_widget(Pulled(self.look, PagePaper(self.look, picture)))
            self._keys(shelf.printed.pages)

    def _wide(self) -> int:
        wide = self.width - self.padding[0] - self.padding[2] - self.look.dots(20)
        return max(1, int(wide * (1.6 if self._larger else 1.0)))

    def on_size(self, *_: object) -> None:
        """Kivy calls it: a page is drawn as wide as there is room."""
        self.refresh()

    def _tell(self, told: Message) -> None:
        self.page.clear_widgets()
        self.page.add_widget(TextLabel(self.look, self.tablet.words(told), "key"))
        self.act(Key(self.look, self.tablet.words(message("frame-back")), self.tablet.back))

    def _keys(self, pages: int) -> None:
        look, words = self.look, self.tablet.words
        ends = self.tablet.words(message("signing-no-more-pages"))
        last, first = self._number >= pages, self._number <= 1
        on = Key(
            look,
            words(message("signing-next-page")),
            partial(self.tablet.refuse, ends) if last else partial(self._turn, 1),
            kind="plain" if last else "action",
            off=last,
        )
        before = Key(
            look,
            words(message("signing-previous-page")),
            partial(self.tablet.refuse, ends) if first else partial(self._turn, -1),
            off=first,
            size="near",
        )
        size = Key(
            look,
            words(message("signing-page-size", larger="yes" if self._larger else "no")),
            self._resize,
            sign="less" if self._larger else "more",
            over=not self.tablet.upright,
            size="near",
        )
        back = Key(look, words(message("frame-back")), self.tablet.back, size="near")
        self.act(on, before, back, size)

    def _turn(self, by: int) -> None:
        self._number += by
        self.tablet.refresh()

    def _resize(self) -> None:
        self._larger = not self._larger
        self.tablet.refresh()


class Pulled(ScrollView):
    """Something larger than its place, pulled under a finger in both directions; it begins at its upper left corner."""

    def __init__(self, look: Look, inside: Widget) -> None:
        super().__init__(
            bar_width=look.dots(12),
            bar_color=look.ink("edge"),
            bar_inactive_color=look.ink("edge"),
            scroll_type=["bars", "content"],
            scroll_distance=look.dots(18),
            scroll_x=0.0,
            scroll_y=1.0,
        )
        self.add_widget(inside)


def moment_told(view: View) -> Message:
    """Which day and time it is where the tablet is."""
    now = datetime.fromisoformat(view.at.wall)
    return message(
        "signing-moment",
        weekday=now.isoweekday(),
        day=now.day,
        month=now.month,
        at=f"{now:%H:%M}",
    )


def _first_capital(text: str) -> str:
    return text[:1].upper() + text[1:]
