"""What every part of a document needs of its day: what counts, names and numbers, a line's common part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.moment import Source
from fieldassist.checklist.plan import DayKind, DayPlan
from fieldassist.checklist.replanning import plan_of
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.standing import standing
from fieldassist.record.seal import ReleaseCheck, SealCheck
from fieldassist.report.build.words import ReportWords, capital
from fieldassist.report.report_model import LineKind, SequenceLine
from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Units

_WITHDRAWN_BECAUSE = {
    "answered no": "“no” at the read-back",
    "scratched": "taken back",
    "said again": "said again with another value",
}


class NoDay(Refused):
    """The events hold no day to tell; `told` says why."""


@dataclass(frozen=True, slots=True)
class RoundOf:
    """What a round is about: the tile that it set or was to set, or the tile that it lifted, which lift that was, how
    it came about, and the event that lifted it. spread: mortar was spread in it for tiles that are counted, and which
    of them are in; sample: the letter of the combination that it tries, "" for none."""

    tile: int | None = None
    set: bool = False
    spread: bool = False
    counted: tuple[int, ...] = ()
    came: str = ""
    lift: int | None = None
    lifted: Event | None = None
    sample: str = ""


class Context:
    """A day's events, sorted out before they are told.

    standing: what counts; listing: tells what an event holds; parts: of each event, 0 for the day or the number of its
    addendum; opened: the events that opened an addendum; pins: what became of each signature by PIN; release_answers:
    of a release that was called out, the event that confirmed it or struck it out; seals: by the number of the event
    that they seal, which is the last before; numbers: of the failures that stand, by event; rounds: what each round of
    an area's section is about; references: each basis with its number.
    """

    def __init__(
        self,
        events: Sequence[Event],
        units: Units | None,
        seals: Sequence[SealCheck],
        releases: Sequence[ReleaseCheck] = (),
    ) -> None:
        opened = next((e.body for e in events if isinstance(e.body, ev.DayOpened)), None)
        if opened is None:
            raise NoDay(message("report-no-day"))
        self.plan: DayPlan = plan_of(events) or opened.plan
        self.kind: DayKind = opened.kind
        self.continues = opened.continues
        self.tablet = opened.tablet
        self.units: Units = units or opened.plan.units
        self.words = ReportWords(self.units, opened.plan.date)
        self.events = events
        self.by_seq: dict[int, Event] = {e.seq: e for e in events}
        self.standing = standing(events)
        self.listing = Listing()
        for event in events:
            self.listing.remember(event)
        self.checklists: dict[str, Checklist] = {
            e.body.checklist.checklist: e.body.checklist for e in events if isinstance(e.body, ev.ChecklistAdopted)
        }
        self.checks = {check.seq: check for check in seals}
        self.pins = {check.seq: check for check in releases}
        self.release_answers: dict[int, Event] = {}
        self.references: dict[str, int] = {}
        self.asked: set[tuple[str, str, str]] = set()
        self.parts: dict[int, int] = {}
        self.opened: list[Event] = []
        self.seals: dict[int, Event] = {}
        self.corrections: dict[int, list[str]] = {}
        self.numbers = {event.seq: number for number, event in enumerate(self.standing.failures, start=1)}
        self.rounds: dict[tuple[str, str, int], RoundOf] = {}
        self._sort_out()
        self._name_rounds()

    def _sort_out(self) -> None:
        """Parts, seals and what addenda say about earlier events."""
        part = 0
        for event in self.events:
            body = event.body
            if isinstance(body, ev.AddendumOpened):
                part = body.number
                self.opened.append(event)
            self.parts[event.seq] = part
            if isinstance(body, ev.ReleasesConfirmed):
                self.release_answers |= dict.fromkeys(body.releases, event)
            elif isinstance(body, ev.ReleaseStruck):
                self.release_answers[body.release] = event
            if isinstance(body, ev.DaySealed):
                self.seals[event.seq - 1] = event
            if isinstance(body, ev.CorrectionMade):
                by = self.words.person(event.by)
                words = f"corrected in addendum {part} by {by} (event {event.seq}): {body.text}"
                for seq in self.shown_at(body.target):
                    self.corrections.setdefault(seq, []).append(words)

    def _name_rounds(self) -> None:
        """Which tile each round set or lifted: one number for a tile, whatever the number of the round."""
        for event in self.events:
            body = event.body
            if isinstance(body, ev.SectionOpened):
                key = (body.area, body.section, body.round)
                self.rounds[key] = RoundOf(
                    tile=body.place.number if body.place is not None else body.lifts.tile if body.lifts else None,
                    came=body.lifts.came if body.lifts is not None else "",
                    sample=body.sample.letter if body.sample is not None else "",
                )
            elif isinstance(body, ev.SectionClosed) and body.tile is not None and self.counts(event):
                key = (body.area, body.section, body.round)
                self.rounds[key] = replace(self.rounds.get(key, RoundOf()), tile=body.tile.number, set=True)
            elif isinstance(body, ev.MortarSpread) and self.counts(event):
                key = (body.area, body.section, body.round)
                self.rounds[key] = replace(self.rounds.get(key, RoundOf()), spread=True)
            elif isinstance(body, ev.TileCounted) and self.counts(event):
                key = (body.area, body.section, body.round)
                found = self.rounds.get(key, RoundOf(spread=True))
                self.rounds[key] = replace(found, counted=(*found.counted, body.tile.number))
            elif isinstance(body, ev.TileLifted):
                key = (body.area, body.section, body.round)
                found = self.rounds.get(key, RoundOf())
                self.rounds[key] = replace(found, tile=body.tile, lift=body.lift, lifted=event)

    def shown_at(self, target: int) -> set[int]:
        """The event, and where a reading was called before it was kept, both: one line of the log tells them."""
        kept = self.standing.kept.get(target)
        event = self.by_seq.get(target)
        called = event.body.target if event is not None and isinstance(event.body, ev.JudgedReading) else target
        return {target, called, *([kept.seq] if kept is not None else [])}

    def corrected(self, seq: int) -> tuple[str, ...]:
        """What addenda say about an event."""
        return tuple(self.corrections.get(seq, ()))

    def counts(self, event: Event) -> bool:
        """Whether an event still counts."""
        return self.standing.counts(event)

    def why(self, seq: int) -> str:
        """When and why an event was withdrawn or replaced; "" where it counts."""
        by = self.standing.struck.get(seq)
        if by is None:
            return ""
        if isinstance(by.body, ev.Withdrawn):
            return f"withdrawn {self.time(by)}: {self.because(by.body)}"
        return f"replaced {self.time(by)} by event {by.seq}"

    @staticmethod
    def because(body: ev.Withdrawn) -> str:
        """Why something was withdrawn."""
        return _WITHDRAWN_BECAUSE[body.reason]

    def time(self, event: Event) -> str:
        """When it happened."""
        return self.words.time(event.at.wall)

    def who(self, event: Event) -> str:
        """Who spoke."""
        return self.words.person(event.by)

    def ref(self, basis: object) -> int | None:
        """The number under which a basis is listed; None where there is none."""
        text = capital(self.words.sentence(basis))
        return self.references.setdefault(text, len(self.references) + 1) if text else None

    def failure_name(self, seq: int) -> str:
        """A failure by its number, or by its event where it was withdrawn; negative: of an earlier day."""
        if seq < 0:
            return "a failure of an earlier day"
        number = self.numbers.get(seq)
        return f"failure {number} (event {seq})" if number is not None else f"the failure of event {seq}"

    def called(self, body: ev.JudgedReading) -> tuple[ev.ReadingCalled, Source] | None:
        """What was called out before it was kept, and how it came to the tablet."""
        event = self.by_seq.get(body.target)
        if event is None or not isinstance(event.body, ev.ReadingCalled):
            return None
        return event.body, event.source

    def pin_fault(self, seq: int) -> str:
        """Why a signature by PIN is not to be relied on; "" where it is good."""
        check = self.pins.get(seq)
        if check is None:
            return "the signature was not checked"
        return f"the SIGNATURE IS NOT GOOD: {self.words(check.why)}" if check.why is not None else ""

    def line(self, event: Event, kind: LineKind, what: str, **rest: Any) -> SequenceLine:
        """A line of an area's sequence about an event."""
        withdrawn = not self.counts(event)
        if withdrawn:
            rest.setdefault("why_withdrawn", self.why(event.seq))
        rest.setdefault("withdrawn", withdrawn)
        rest.setdefault("corrected", self.corrected(event.seq))
        return SequenceLine(event.seq, self.time(event), self.who(event), kind, what, **rest)
