"""Handing a day over: its pages shown or printed, its files into a folder or onto a stick, its print as a code."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from fieldassist.checklist.events import DaySealed
from fieldassist.day.desk import View
from fieldassist.qr import qr_modules
from fieldassist.record.keys import fingerprint
from fieldassist.trade.message import Message, Refused, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.choosing import choose_folder
from fieldassist.ui.content.export import ExportPlace, HandedOver, hand_over, places, print_pages
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.pages import printed_day
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.paper import CodeSquare
from fieldassist.ui.widgets.share_bar import ShareBar
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

_CODE_WIDE = 375.0  # dots: 64 mm, which a camera reads at arm's length
_CODE_SMALL = 300.0
_LARGE = 1.2  # size of text


@dataclass
class HandingMemory:
    """Where files can go, as it was found last; what was handed over of the log that ends in done_of, or why
    nothing was; the code of the fingerprint code_of."""

    places: tuple[ExportPlace, ...] | None = None
    looking: bool = False
    done: Message | None = None
    done_of: str = ""
    failed: Message | str | None = None
    code: tuple[tuple[bool, ...], ...] = ()
    code_of: str = ""


class Handing(Screen):
    """Handing over."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._bar: ShareBar | None = None
        self._said: TextLabel | None = None
        view = tablet.view
        if view is not None:
            # Sticks come and go: they are looked for each time.
            kept = self._kept(view)
            kept.places, kept.looking = None, False

    def title(self) -> tuple[str, str]:
        """The page's name."""
        return self.tablet.words(message("signing-hand-over")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is None:
            if self.changed("all", None):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self.tablet.words(message("signing-no-day")), "far"))
                self.act(Key(self.look, self.tablet.words(message("frame-back")), self.tablet.back))
            return
        kept = self._kept(view)
        if kept.places is None and not kept.looking:
            kept.looking = True
            run_in_background(lambda: places(view.path.parent), partial(self._found, kept))
        seal = self._print_of(view)
        if seal != kept.code_of:
            # It takes a tenth of a second, too long for the screen's thread.
            kept.code_of = seal
            run_in_background(lambda: qr_modules(seal), partial(self._coded, kept))
        job = self.tablet.job
        running = job is not None and job.running
        if kept.done_of != view.head:
            # The day has gone on since: what was written is not all of it.
            kept.done = None
        if self.changed("all", (kept.places, kept.done, kept.failed, running, seal, kept.code)):
            self._lay(view, kept, running=running)
        if running and job is not None and self._bar is not None and self._said is not None:
            self._bar.share = job.share
            told = message("frame-working", what=job.what, share=str(round(100 * job.share)))
            self._said.words = self.tablet.words(told)

    def _kept(self, view: View) -> HandingMemory:
        return self.tablet.memory.of(HandingMemory, view.path)

    def _found(self, kept: HandingMemory, found: tuple[ExportPlace, ...]) -> None:
        kept.places = found
        self.tablet.refresh()

    def _coded(self, kept: HandingMemory, code: tuple[tuple[bool, ...], ...]) -> None:
        kept.code = code
        self.tablet.refresh()

    @staticmethod
    def _print_of(view: View) -> str:
        """The fingerprint of the key that sealed last, "" where nothing is sealed."""
        seals = [event.body for event in view.events if isinstance(event.body, DaySealed)]
        return fingerprint(seals[-1].public_key) if seals and view.state.sealed else ""

    # --- the page -------------------------------------------------------------------------------------------------

    def _lay(self, view: View, kept: HandingMemory, *, running: bool) -> None:
        look, words = self.look, self.tablet.words
        self._bar = self._said = None
        self.page.clear_widgets()
        code = self._code(view)
        side = ColumnBox(look, gap=12)
        if running:
            self._lay_progress(side)
        elif kept.done is not None:
            self._lay_done(side, kept.done)
        else:
            self._lay_places(side, kept)
        if self.tablet.upright:
            self.page.add_widget(code)
            self.page.add_widget(side)
        else:
            inside = (side, code) if look.left_hand else (code, side)
            self.page.add_widget(RowBox(look, *inside, gap=24))
        show = Key(
            look, words(message("signing-show")), self._show, sign="page", over=not self.tablet.upright, size="near"
        )
        out = Key(
            look,
            words(message("signing-print")),
            partial(self._print, view, kept),
            sign="print",
            over=not self.tablet.upright,
            size="near",
        )
        if running:
            self.act(Key(look, words(message("frame-stop")), self._stop, kind="fail"))
        elif kept.done is not None:
            self.act(Key(look, words(message("frame-done")), partial(self._end, kept)), out, show)
        else:
            self.act(self._big(view, kept), out, show)

    def _big(self, view: View, kept: HandingMemory) -> Key:
        """The nearest place to write to: a stick where one is plugged in."""
        look, words = self.look, self.tablet.words
        if not kept.places:
            waits = words(message("signing-looking" if kept.places is None else "signing-no-place"))
            return Key(look, words(message("signing-write")), partial(self.tablet.refuse, waits), off=True)
        first = kept.places[0]
        told = message("signing-write-to", place=first.told)
        write = partial(self._write, view, kept, first.folder)
        return Key(look, words(told), write, sign="hand-over", size="near" if look.text > _LARGE else "key")

    def _code(self, view: View) -> Widget:
        look, words = self.look, self.tablet.words
        seal = self._print_of(view)
        upright = self.tablet.upright
        side = _CODE_SMALL if upright or look.text > _LARGE else _CODE_WIDE
        column = ColumnBox(look, gap=8)
        if upright:
            column.size_hint_y, column.height = None, look.dots(150)
        else:
            column.size_hint_x, column.width = None, look.dots(side)
        if not seal:
            column.add_widget(TextLabel(look, words(message("signing-no-seal")), "near", bold=True))
            column.add_widget(Widget())
        else:
            code = self._kept(view).code
            square = CodeSquare(look, code, size_hint=(None, None), size=(look.dots(side), look.dots(side)))
            text = TextLabel(look, seal, "small")
            said = TextLabel(look, words(message("signing-fingerprint")), "small", role="quiet")
            if upright:
                beside = ColumnBox(look, said, text, gap=4, rises=True, pos_hint={"center_y": 0.5})
                return RowBox(look, square, beside, gap=18, high=side)
            # A caption is the first that gives way to larger letters.
            for one in (square, *(() if look.text > _LARGE else (said,)), text, Widget()):
                column.add_widget(one)
        return column

    def _lay_places(self, side: ColumnBox, kept: HandingMemory) -> None:
        look, words = self.look, self.tablet.words
        if kept.failed is not None:
            said = kept.failed if isinstance(kept.failed, str) else words(kept.failed)
            told = TextLabel(look, said, "near", bold=True, role="fail", pos_hint={"center_y": 0.5})
            side.add_widget(
                RowBox(look, marks.Sign(look, "fail", 48, "fail", pos_hint={"center_y": 0.5}), told, gap=14, rises=True)
            )
        head = message("signing-looking" if kept.places is None else "signing-where")
        side.add_widget(TextLabel(look, words(head), "near", bold=True))
        view = self.tablet.view
        assert view is not None
        keys = [
            Key(look, words(place.told), partial(self._write, view, kept, place.folder), size="near", high=None)
            for place in kept.places or ()
        ]
        keys.append(
            Key(
                look,
                words(message("signing-other-folder")),
                partial(choose_folder, self.tablet, partial(self._write, view, kept)),
                sign="more",
                size="near",
                high=None,
            )
        )
        keys.append(
            Key(look, words(message("signing-look-again")), partial(self._look_again, kept), size="near", high=None)
        )
        side.add_widget(
            Scroll(look, ColumnBox(look, Cells(look, keys, 1 if look.text > _LARGE else 2, high=112), rises=True))
        )

    def _lay_progress(self, side: ColumnBox) -> None:
        self._said = TextLabel(self.look, "", "key")
        self._bar = ShareBar(self.look, size_hint_y=None, height=self.look.dots(48))
        for one in (self._said, self._bar, Widget()):
            side.add_widget(one)

    def _lay_done(self, side: ColumnBox, done: Message) -> None:
        look, words = self.look, self.tablet.words
        head = TextLabel(look, words(message("signing-handed-over")), "far", pos_hint={"center_y": 0.5})
        side.add_widget(
            RowBox(look, marks.Sign(look, "pass", 66, "pass_", pos_hint={"center_y": 0.5}), head, gap=16, rises=True)
        )
        said = ColumnBox(
            look,
            TextLabel(look, words(done), "near"),
            TextLabel(look, words(message("signing-check-it")), "small", role="quiet"),
            gap=14,
            rises=True,
        )
        side.add_widget(Scroll(look, said))

    # --- writing --------------------------------------------------------------------------------------------------

    def _write(self, view: View, kept: HandingMemory, folder: Path) -> None:
        units, words = self.tablet.units, self.tablet.words
        found: list[HandedOver] = []

        def work(job: LongWork) -> None:
            found.append(hand_over(view.path, folder, units, job.progress))

        def done(problem: Exception | None) -> None:
            if problem is None:
                kept.done, kept.done_of, kept.failed = found[0].told, view.head, None
            else:
                kept.failed = _why(problem, self.tablet)
            self.tablet.refresh()

        kept.failed = None
        self.tablet.close_sheet()
        self.tablet.run_job(work, done, words(message("signing-writing")))

    def _end(self, kept: HandingMemory) -> None:
        kept.done = None
        self.tablet.go("day")

    def _stop(self) -> None:
        if self.tablet.job is not None:
            self.tablet.job.stop()

    def _look_again(self, kept: HandingMemory) -> None:
        kept.places, kept.looking, kept.failed = None, False, None
        self.tablet.refresh()

    def _show(self) -> None:
        self.tablet.go("pages")

    def _print(self, view: View, kept: HandingMemory) -> None:
        """The pages as they are now, to the system's printer."""
        units, folder = self.tablet.units, self.tablet.data / "pages"

        def work(_job: LongWork) -> None:
            print_pages(printed_day(view.path, view.head, units, folder).pdf)

        def done(problem: Exception | None) -> None:
            if problem is None:
                kept.done, kept.done_of, kept.failed = message("signing-printed"), view.head, None
            else:
                self.tablet.refuse(self._said_of(problem))
            self.tablet.refresh()

        self.tablet.run_job(work, done, self.tablet.words(message("signing-being-printed")))

    def _said_of(self, problem: Exception) -> str:
        why = _why(problem, self.tablet)
        return why if isinstance(why, str) else self.tablet.words(why)


def _why(problem: Exception, tablet: Tablet) -> Message | str:
    """What went wrong, in words."""
    if isinstance(problem, Refused):
        return problem.told
    if isinstance(problem, OSError):
        return message("signing-not-written", why=problem.strerror or type(problem).__name__)
    return tablet.words.of(problem)
