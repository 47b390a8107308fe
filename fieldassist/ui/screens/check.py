"""Check a record: a file is chosen, the check is seen to run and can be left, and what it came to is told large."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from fieldassist.checklist.plan import DayKind
from fieldassist.printable import printable
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import Finding, Judgment
from fieldassist.proof.verify import verify, verify_all
from fieldassist.record.roster import Roster, RosterProblem
from fieldassist.trade.message import Message, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.choosing import choose_folder, file_keys, walk_to_file
from fieldassist.ui.content.check import CheckedSubject, CheckShown, CheckState, short_file, shown, together
from fieldassist.ui.content.export import places
from fieldassist.ui.content.found_files import RECORDS, FoundFile, found_files
from fieldassist.ui.content.jobs import LongWork, Stopped
from fieldassist.ui.content.rosters import kept_roster
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll, Space, lay_ground
from fieldassist.ui.widgets.check_marks import MarkState, StateKey, StateMark
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import TARGET
from fieldassist.ui.widgets.reading import reading_sheet
from fieldassist.ui.widgets.text import TextLabel

_LARGE = 1.2  # size of text
_PLATE = 128.0  # dots
_HEAD_WIDE = 384.0
_MARKS: dict[CheckState, MarkState] = {
    "holds": "holds",
    "open": "missing",
    "bad": "fails",
    "unread": "absent",
    "no-work": "noted",
}


@dataclass
class CheckMemory:
    """The check that runs or ran last. path: of what, None for none; asked: what `go` was told as it was asked
    for; ended: when it was done, as the clock has it; begun: on the machine's clock [s]; found: so far;
    judgment: what it came to; told: why it came to nothing; files: what lies about to be checked, None until it was
    looked for; roster: the tablet's own, None for none; wrong: it is not good; looking: for these is under way."""

    path: Path | None = None
    asked: Mapping[str, Any] | None = None
    ended: str = ""
    begun: float = 0.0
    found: list[Finding] = field(default_factory=list)
    judgment: Judgment | None = None
    told: Message | None = None
    files: tuple[FoundFile, ...] | None = None
    roster: Roster | None = None
    wrong: bool = False
    looking: bool = False

    @property
    def running(self) -> bool:
        """Whether it runs."""
        return self.path is not None and self.judgment is None and self.told is None


class CheckScreen(Screen):
    """The screen; `go("check", path=...)` checks that file at once."""

    place = "day"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._since: TextLabel | None = None
        memory = self._memory
        if not memory.running:
            # Sticks come and go: they are looked for each time.
            memory.files, memory.looking = None, False

    @property
    def _memory(self) -> CheckMemory:
        return self.tablet.memory.of(CheckMemory)

    def title(self) -> tuple[str, str]:
        """The page's name, and which file."""
        memory, words = self._memory, self.tablet.words
        name = short_file(memory.path.name) if memory.path is not None else ""
        if memory.judgment is not None:
            # A day goes on, and what was found of it then does not.
            name = words(message("check-checked", file=name, at=memory.ended))
        return words(message("check-title")), name

    def refresh(self) -> None:
        """Show what has changed."""
        memory = self._memory
        asked = self.tablet.at_what.get("path")
        if isinstance(asked, Path) and memory.asked is not self.tablet.at_what and not memory.running:
            memory.asked = self.tablet.at_what
            self._check(asked)
            return
        if memory.running:
            if self.changed("all", (memory.path, len(memory.found))):
                self._lay_running(memory)
            if self._since is not None:
                seconds = int(time.monotonic() - memory.begun)
                self._since.words = self.tablet.words(message("check-since", seconds=str(seconds)))
        elif memory.judgment is not None:
            if self.changed("all", memory.judgment):
                self._lay_verdict(memory.judgment)
        else:
            if memory.files is None and not memory.looking:
                memory.looking = True
                run_in_background(partial(_look, self._days, self.tablet.data, self._kind), self._found)
            if self.changed("all", (memory.files, memory.told, memory.roster, memory.wrong)):
                self._lay_choice(memory)

    # --- which --------------------------------------------------------------------------------------------------------

    @property
    def _days(self) -> Path:
        view = self.tablet.view
        return view.path.parent if view is not None else self.tablet.data / "days"

    @property
    def _kind(self) -> DayKind:
        return self.tablet.view.state.kind if self.tablet.view is not None else "work"

    def _found(self, found: tuple[tuple[FoundFile, ...], Roster | None, bool]) -> None:
        memory = self._memory
        (memory.files, memory.roster, memory.wrong), memory.looking = found, False
        self.tablet.refresh()

    def _lay_choice(self, memory: CheckMemory) -> None:
        look, words, view = self.look, self.tablet.words, self.tablet.view
        self.page.clear_widgets()
        if memory.told is not None:
            told = TextLabel(look, words(memory.told), "near", bold=True, role="fail", pos_hint={"center_y": 0.5})
            self.page.add_widget(RowBox(look, StateMark(look, "fails"), told, gap=14, rises=True))
        question = message("check-looking" if memory.files is None else "check-which")
        self.page.add_widget(TextLabel(look, words(question), "far", lines=1))
        if memory.files is not None:
            self.page.add_widget(TextLabel(look, words(_known_told(memory)), "small", role="quiet"))
        keys = file_keys(
            self.tablet, [f for f in memory.files or () if view is None or f.path != view.path], self._check
        )
        if view is not None:
            here = Key(
                look,
                words(message("check-this-day")),
                partial(self._check, view.path),
                sign="day",
                caption=words(message("check-this-day-told")),
                size="near",
                high=None,
            )
            keys.insert(0, here)
        folder = partial(choose_folder, self.tablet, self._check, reading=True)
        keys.append(
            Key(
                look,
                words(message("check-folder")),
                folder,
                sign="more",
                caption=words(message("check-folder-told")),
                size="near",
                high=None,
            )
        )
        columns = 1 if self.tablet.upright or look.text > _LARGE else 2
        inside = ColumnBox(look, Cells(look, keys, columns, high=124 if look.text <= _LARGE else 140), rises=True)
        if memory.files == () and view is None:
            inside.add_widget(TextLabel(look, words(message("check-none-found")), "near"))
        self.page.add_widget(Scroll(look, inside))
        other = partial(walk_to_file, self.tablet, RECORDS, self._check)
        self.act(
            Key(look, words(message("signing-other-folder")), other, sign="more"),
            Key(look, words(message("signing-look-again")), self._look_again, size="near"),
            Key(look, words(message("check-rosters")), partial(self.tablet.go, "roster"), sign="page", size="near"),
            Key(look, words(message("frame-back")), self.tablet.back, size="near"),
        )

    def _look_again(self) -> None:
        self._memory.files, self._memory.looking, self._memory.told = None, False, None
        self.refresh()

    # --- while it runs ------------------------------------------------------------------------------------------------

    def _check(self, path: Path) -> None:
        """Check a file beside the screen; one that is under way goes on."""
        tablet, memory = self.tablet, self._memory
        if tablet.job is not None and tablet.job.running:
            # It says itself why nothing else can be begun.
            tablet.run_job(lambda _job: None, lambda _problem: None, "")
            return
        memory.path, memory.begun, memory.found = path, time.monotonic(), []
        memory.judgment = memory.told = None
        came: list[Judgment] = []
        data, kind = tablet.data, self._kind

        def work(job: LongWork) -> None:
            def watch(finding: Finding | None) -> None:
                job.goes_on()
                if finding is not None:
                    memory.found.append(finding)
                job.look()

            known = Known(roster=_roster_here(data, kind)[0])
            if path.is_dir():
                came.append(together(*verify_all([path], known=known, watch=watch)))
            else:
                came.append(verify(path, known=known, watch=watch))

        def done(problem: Exception | None) -> None:
            if problem is None:
                memory.judgment, memory.ended = came[0], tablet.clock.now().wall[11:16]
            elif isinstance(problem, Stopped):
                memory.told = message("check-stopped")
            else:
                memory.told = message("check-failed", why=tablet.words.of(problem))

        tablet.run_job(work, done, tablet.words(message("check-checking", file=printable(path.name))))

    def _lay_running(self, memory: CheckMemory) -> None:
        look, words = self.look, self.tablet.words
        assert memory.path is not None
        self.page.clear_widgets()
        self._since = TextLabel(look, "", "clock", lines=1)
        told = message("check-checking", file=printable(memory.path.name))
        self.page.add_widget(TextLabel(look, words(told), "key"))
        self.page.add_widget(self._since)
        self.page.add_widget(TextLabel(look, words(message("check-may-leave")), "near"))
        self.page.add_widget(TextLabel(look, words(message("check-so-far")), "small", role="quiet"))
        newest = self._lines(tuple(reversed(memory.found)))
        self.page.add_widget(Scroll(look, ColumnBox(look, *newest, gap=12, rises=True)))
        self.act(
            Key(look, words(message("frame-stop")), self._stop, kind="fail"),
            Key(look, words(message("frame-back")), self.tablet.back, size="near"),
        )

    def _stop(self) -> None:
        if self.tablet.job is not None:
            self.tablet.job.stop()

    def _lines(self, found: Sequence[Finding]) -> list[RowBox]:
        """Findings, each with its mark."""
        look, lines = self.look, []
        for finding in found:
            text = printable(self.tablet.words(finding.told))
            told = TextLabel(look, text, "near", bold=False, pos_hint={"center_y": 0.5})
            lines.append(RowBox(look, StateMark(look, _mark_of(finding), 54), told, gap=14, rises=True))
        return lines

    # --- what it came to ----------------------------------------------------------------------------------------------

    def _lay_verdict(self, judgment: Judgment) -> None:
        look, words = self.look, self.tablet.words
        found = shown(judgment)
        self._since = None
        self.page.clear_widgets()
        self.page.add_widget(self._plate(found))
        upright, large = self.tablet.upright, look.text > _LARGE
        high = TARGET if not large else 150
        rows: list[Key] = [self._subject_key(one, high) for one in found.subjects]
        head = self._head(found, abreast=8 if upright else 4)
        what_not = Key(
            look, words(message("check-what-not")), partial(self._tell_unproven, found), size="near", high=high,
            sign="question",
        )  # fmt: skip
        if upright or large:
            cells = Cells(look, rows, 1 if large and upright else 2, high=high)
            self.page.add_widget(Scroll(look, ColumnBox(look, cells, what_not, head, gap=14, rises=True)))
        else:
            side = ColumnBox(look, head, Space(look), what_not, gap=10, size_hint_x=None, width=look.dots(_HEAD_WIDE))
            cells = Cells(look, rows, 2, high=high)
            left = ColumnBox(look, cells, Space(look))
            inside = (side, left) if look.left_hand else (left, side)
            self.page.add_widget(RowBox(look, *inside, gap=24))
        read = partial(self._read, words(message("check-all-found")), judgment.findings)
        self.act(
            Key(look, words(message("check-again")), self._again),
            Key(look, words(message("check-read-all")), read, sign="page", size="near"),
            Key(look, words(message("frame-back")), self.tablet.back, size="near"),
        )

    def _plate(self, found: CheckShown) -> RowBox:
        """The state, at two metres: on the plate of what does not hold where it does not."""
        look, words = self.look, self.tablet.words
        bad, rows = found.state == "bad", 2 if self.tablet.upright and look.text > _LARGE else 1
        told = TextLabel(look, words(found.told), "far", fit=True, role="on_fail" if bad else "ink")
        lines = ColumnBox(look, told, gap=2)
        if found.day is not None:
            day = TextLabel(look, words(found.day), "near", fit=True, role="on_fail" if bad else "ink")
            day.size_hint_y, day.height = None, look.font("near") * 1.3 * rows
            lines.add_widget(day)
        mark = StateMark(look, _MARKS[found.state], 96)
        inside = (lines, mark) if look.left_hand else (mark, lines)
        row = RowBox(look, *inside, gap=20, high=_PLATE + (26 if look.text > _LARGE else 0) + 60 * (rows - 1))
        row.padding = (look.dots(16), look.dots(8))
        lay_ground(look, row, "fail_plate" if bad else "sheet", edge=3)
        return row

    def _subject_key(self, one: CheckedSubject, high: float) -> Key:
        words = self.tablet.words
        name = words(message("check-subject", subject=one.subject))
        return StateKey(self.look, one.state, name, words(one.told), partial(self._read, name, one.found), high=high)

    def _head(self, found: CheckShown, *, abreast: int) -> ColumnBox:
        look = self.look
        column = ColumnBox(look, gap=4, rises=True)
        if found.head:
            column.add_widget(TextLabel(look, self.tablet.words(message("check-head")), "small", role="quiet"))
        if look.text > _LARGE:
            abreast = 4
        for at in range(0, len(found.head), abreast):
            column.add_widget(TextLabel(look, " ".join(found.head[at : at + abreast]), "near", bold=True))
        return column

    def _read(self, title: str, found: Sequence[Finding]) -> None:
        """Everything that was found, word for word."""
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, TextLabel(look, title, "far"), gap=18, rises=True)
        for line in self._lines(found):
            inside.add_widget(line)
        if not found:
            inside.add_widget(TextLabel(look, words(message("check-nothing-found")), "near"))
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))

    def _tell_unproven(self, found: CheckShown) -> None:
        look, words = self.look, self.tablet.words
        inside = ColumnBox(look, TextLabel(look, words(message("check-what-not")), "far"), gap=22, rises=True)
        for told in found.unproven:
            line = TextLabel(look, words(told), "key", bold=False, pos_hint={"center_y": 0.5})
            inside.add_widget(RowBox(look, StateMark(look, "absent", 54), line, gap=14, rises=True))
        self.tablet.sheet(reading_sheet(look, words(message("frame-close")), inside, self.tablet.close_sheet))

    def _again(self) -> None:
        memory = self._memory
        memory.path = memory.judgment = memory.told = memory.files = None
        self.tablet.go("check")


def _mark_of(finding: Finding) -> MarkState:
    states: dict[int, MarkState] = {0: "holds", 3: "missing"}
    return states.get(finding.gravity, "fails")


def _look(beside: Path, data: Path, kind: DayKind) -> tuple[tuple[FoundFile, ...], Roster | None, bool]:
    return found_files(places(beside, reading=True), RECORDS), *_roster_here(data, kind)


def _roster_here(data: Path, kind: DayKind) -> tuple[Roster | None, bool]:
    """The tablet's own roster, which is what is known here, and whether the one that is there is not good."""
    try:
        return kept_roster(data, kind), False
    except RosterProblem:
        return None, True


def _known_told(memory: CheckMemory) -> Message:
    roster = memory.roster
    by = "bad" if memory.wrong else "none" if roster is None else "roster"
    firm, made = (printable(roster.firm), roster.made[:10]) if roster is not None else ("", "")
    return message("check-known", by=by, firm=firm, made=made)
