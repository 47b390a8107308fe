"""The whole day: everything that belongs to no area, and the areas put together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from itertools import pairwise
from typing import Any

from fieldassist.assess.dust import shifts
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import TRIPPED, fold
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.state import State
from fieldassist.checklist.tablet_chain import TabletChain
from fieldassist.record.keys import fingerprint
from fieldassist.record.seal import ReleaseCheck, SealCheck, check_releases, check_seals
from fieldassist.report.build.addenda import Addenda
from fieldassist.report.build.area import AreaBuilder
from fieldassist.report.build.context import Context, NoDay
from fieldassist.report.build.words import capital, minutes, weekday, zone
from fieldassist.report.report_model import (
    AreaReport,
    ConditionLine,
    CrewLine,
    DayReport,
    DustLine,
    NoteLine,
    PhotoLine,
    Question,
    RefusedLine,
    Seal,
    Signature,
    Summary,
)
from fieldassist.trade import dust
from fieldassist.trade.message import message, term
from fieldassist.trade.quantities import Quantity, Units

# A wall clock that drifts less than this beside the monotonic one was not set by anybody.
_CLOCK_SET_MINUTES = 2.0


def build_report(
    events: Sequence[Event],
    *,
    units: Units | None = None,
    seals: Sequence[SealCheck] = (),
    releases: Sequence[ReleaseCheck] = (),
) -> DayReport:
    """The day that `events` recorded.

    Parameters: events, all of one log in order; units, the one system of the document (None: the plan's own), with a
    reading that was taken in the other one as it was read and the document's unit beside it; seals, what
    `record.seal.check_seals` found: a seal without a check is not told as good; releases, the same of
    `record.seal.check_releases`.
    Errors: `NoDay` when no event opens a day, or when the events do not follow from each other.
    """
    try:
        return DayBuilder(Context(events, units, seals, releases)).report()
    except TRIPPED as wrong:
        # Events that fold need not make sense: what is told of one may lie nowhere.
        raise NoDay(message("report-events-unsound", why=str(wrong))) from wrong


def checked_report(events: Sequence[Event], hashes: Sequence[str], *, units: Units | None = None) -> DayReport:
    """The same, with each seal and each signature by PIN checked. hashes: the chain hashes of `events`."""
    seals, releases = check_seals(events, hashes), check_releases(events, hashes)
    return build_report(events, units=units, seals=seals, releases=releases)


class DayBuilder:
    """A day while its events are read."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.areas: dict[str, AreaBuilder] = {}
        self.weather: list[ConditionLine] = []
        self.notes: list[NoteLine] = []
        self.dust: list[DustLine] = []
        self.refused: list[RefusedLine] = []
        self.signatures: list[Signature] = []
        self.photos: list[PhotoLine] = []
        self._active = ""

    def report(self) -> DayReport:
        """All that is told of the day."""
        context = self.context
        for event in context.events:
            self._take(event)
        state = self._state()
        areas = tuple(builder.report(state.areas[name]) for name, builder in self.areas.items())
        readings = [line for area in self.areas.values() for line in area.conditions]
        first, last = context.events[0], context.events[-1]
        addenda = Addenda(context, areas, self.notes, self.dust, self.weather, self.photos, self.signatures)
        return DayReport(
            plan=context.plan,
            units=context.units,
            weekday=weekday(context.plan.date),
            zone=zone(first.at.wall),
            opened=context.time(first),
            last_entry=context.time(last),
            events=len(context.events),
            crew=self._crew(),
            conditions=tuple(sorted((*self.weather, *readings), key=lambda line: line.seq)),
            notes=tuple(self.notes),
            dust=tuple(self.dust),
            dust_sums=tuple(self._dust_sums()),
            areas=areas,
            not_started=tuple(a for a in context.plan.areas if a.name not in self.areas),
            refused=tuple(self.refused),
            signatures=tuple(self.signatures),
            open_points=self._open_points(state, answered=False),
            answered_points=self._open_points(state, answered=True),
            time_keeping=tuple(_time_keeping(context.events, context.time)),
            questions=tuple(self._questions()),
            references=tuple(context.references),
            models=tuple(dict.fromkeys(e.source.model for e in context.events if e.source.model)),
            summary=self._summary(areas),
            photos=tuple(self.photos),
            addenda=addenda.told(),
            kind=context.kind,
            continues=tuple(map(_continued, context.continues)),
            tablet=tuple(_of_tablet(context.tablet)),
        )

    def _take(self, event: Event) -> None:
        body = event.body
        if isinstance(body, ev.AreaStarted | ev.AreaCarried):
            self._start(event, body)
        if isinstance(body, ev.AreaStarted | ev.AreaEntered):
            self._active = body.area
        if isinstance(body, ev.AreaCarried):
            return
        handler = _HANDLERS.get(type(body))
        if handler is not None:
            handler(self, event, body)
            return
        area = getattr(body, "area", None)
        if area is None:
            return
        if not area and isinstance(body, ev.PhotoAttached):
            self._photo(event, body)
            return
        builder = self.areas.get(area)
        if builder is None:
            raise NoDay(message("report-area-not-started", event=str(event.seq), area=area))
        builder.take(event)

    def _start(self, event: Event, body: ev.AreaStarted | ev.AreaCarried) -> None:
        plan = self.context.plan.area(body.area)
        checklist = self.context.checklists.get(plan.checklist) if plan else None
        if plan is None or checklist is None:
            raise NoDay(message("report-unknown-area", event=str(event.seq), area=body.area))
        self.areas[body.area] = builder = AreaBuilder(self.context, plan, checklist, event)
        if isinstance(body, ev.AreaCarried):
            builder.goes_on(event, body)

    def _photo(self, event: Event, body: ev.PhotoAttached) -> None:
        time, who = self.context.time(event), self.context.who(event)
        gone = not self.context.counts(event)
        self.photos.append(PhotoLine(event.seq, time, who, "", "between the areas", body.file, body.sha256, gone))

    # --- one handler an event -------------------------------------------------------------------------------------

    def weather_noted(self, event: Event, body: ev.WeatherNoted) -> None:
        """The weather, in words."""
        context = self.context
        told = context.words(message("prompt-weather-word", word=body.text))
        self.weather.append(
            ConditionLine(
                event.seq,
                context.time(event),
                context.who(event),
                capital(self._active),
                "Weather",
                told,
                source=event.source,
                corrected=context.corrected(event.seq),
            )
        )

    def note_made(self, event: Event, body: ev.NoteMade) -> None:
        """A remark."""
        self._remark(event, body.text, sound=body.audio or "", sha256=body.sha256 or "")

    def _remark(self, event: Event, text: str, **sound: str) -> None:
        context = self.context
        self.notes.append(
            NoteLine(
                event.seq,
                context.time(event),
                context.who(event),
                capital(self._active),
                text,
                corrected=context.corrected(event.seq),
                **sound,
            )
        )

    def dust_noted(self, event: Event, body: ev.DustNoted) -> None:
        """Minutes of a dusty task."""
        context = self.context
        self.dust.append(
            DustLine(
                event.seq,
                context.time(event),
                context.who(event),
                context.words(term("engine-dust-task", body.task)),
                context.words(term("engine-dust-place", body.place)),
                context.words(Quantity(body.minutes, "min")),
                context.ref(body.basis),
                body.replaces,
                withdrawn=not context.counts(event),
                why_withdrawn=context.why(event.seq),
                corrected=context.corrected(event.seq),
            )
        )

    def pin_refused(self, event: Event, body: ev.PinRefused) -> None:
        """A wrong PIN is a remark."""
        left = f"{body.attempts_left} more {'try' if body.attempts_left == 1 else 'tries'} before it is locked"
        words = self.context.words
        locked = f"locked until {words.time(body.locked_until)}" if body.locked_until else left
        self._remark(event, f"A wrong PIN was given for {words.person(body.name)}; {locked}.")

    def listed(self, event: Event, _: Any) -> None:
        """What belongs to no area and is told like a remark, in the words of a list of events."""
        self._remark(event, f"{capital(self.context.words(self.context.listing.line(event)))}.")

    def clock_jumped(self, event: Event, body: ev.ClockJumped) -> None:
        """A wall clock that was set is a remark."""
        way = "forward" if body.seconds > 0 else "back"
        by = minutes(abs(body.seconds) / 60) if abs(body.seconds) >= 60 else f"{abs(body.seconds):g} s"
        self._remark(event, f"The tablet's wall clock was set {way} by {by}; clocks on this log ran on undisturbed.")

    def command_refused(self, event: Event, body: ev.CommandRefused) -> None:
        """What was asked for and refused."""
        context = self.context
        attempt, reason = (capital(context.words(told)) for told in (body.attempt, body.reason))
        area = capital(body.area or "")
        self.refused.append(RefusedLine(event.seq, context.time(event), context.who(event), area, attempt, reason))

    def day_signed(self, event: Event, body: ev.DaySigned) -> None:
        """A signature, and the seal over it."""
        context = self.context
        points = tuple(capital(context.words(point)) for point in body.open_points)
        name, seal = context.words.person(body.name), self._seal(event.seq)
        self.signatures.append(
            Signature(event.seq, body.part, name, body.role.value, context.time(event), points, body.strokes, seal)
        )

    def day_sealed(self, event: Event, _: ev.DaySealed) -> None:
        """A seal is told with its signature; one without is a remark."""
        signed = self.context.by_seq.get(event.seq - 1)
        if signed is None or not isinstance(signed.body, ev.DaySigned):
            self._remark(event, "A seal that follows no sign-off stands here; it seals nothing.")

    def _seal(self, signed: int) -> Seal | None:
        event = self.context.seals.get(signed)
        if event is None or not isinstance(event.body, ev.DaySealed):
            return None
        body, check = event.body, self.context.checks.get(event.seq)
        key, words = fingerprint(body.public_key), self.context.words
        fault, warning = "it was not checked", ""
        if check is not None:
            fault = "" if check.why is None else words(check.why)
            warning = "" if check.warning is None else words(check.warning)
        return Seal(event.seq, body.covers, body.head, body.public_key, key, body.signature, fault, warning)

    # --- putting it together --------------------------------------------------------------------------------------

    def _state(self) -> State:
        try:
            return fold(self.context.events)
        except (ValueError, KeyError) as wrong:
            raise NoDay(message("report-events-unsound", why=str(wrong))) from wrong

    def _open_points(self, state: State, *, answered: bool) -> tuple[str, ...]:
        points = (point for point in open_points(state) if (point.answer is not None) is answered)
        return tuple(capital(self.context.words(point.line)) for point in points)

    def _questions(self) -> Iterator[Question]:
        """The steps that were answered, in the order of their checklists."""
        context = self.context
        for checklist in context.checklists.values():
            for holder, step in checklist.all_steps():
                if (checklist.checklist, holder, step.id) in context.asked:
                    title, section = context.words(checklist.title), context.words(checklist.holder(holder).title)
                    name, ask = context.words(step.name), context.words(step.ask)
                    yield Question(title, section, name, ask, context.ref(step.basis))

    def _crew(self) -> tuple[CrewLine, ...]:
        spoken: dict[str, list[str]] = {}
        for event in self.context.events:
            spoken.setdefault(event.by, []).append(self.context.time(event))
        lines = []
        for person in self.context.plan.crew:
            times = spoken.get(person.name, [])
            name = self.context.words.person(person.name)
            first, last = (times[0], times[-1]) if times else ("", "")
            lines.append(CrewLine(name, person.role.value, len(times), first, last))
        return tuple(lines)

    def _dust_sums(self) -> Iterator[str]:
        """What each person's entries come to, and on which side of the table's four hours."""
        noted = [
            _Minutes(event.by, event.body.task, event.body.place, event.body.minutes)
            for event in self.context.standing.bodies(ev.DustNoted)
            if isinstance(event.body, ev.DustNoted)
        ]
        for shift in shifts(noted):
            side = "MORE than four hours" if shift.over else "up to four hours"
            listed, others = minutes(shift.listed_min), minutes(shift.other_min)
            name = self.context.words.person(shift.who)
            yield f"{name}: {listed} of tasks in Table 1 ({side}), {others} of others"

    def _summary(self, areas: tuple[AreaReport, ...]) -> Summary:
        lifts = [x for a in areas for x in a.lifts if not x.withdrawn]
        failures = [f for a in areas for f in a.failures if not f.withdrawn]
        taken_back = [w for a in areas for w in a.withdrawn]
        return Summary(
            areas_planned=len(self.context.plan.areas),
            areas_started=len(areas),
            areas_finished=sum(bool(a.finished) for a in areas),
            tiles=sum(a.tiles for a in areas),
            lifts=len(lifts),
            lifts_passed=sum(x.passed for x in lifts),
            lifts_failed=sum(x.verdict == "failed" for x in lifts),
            failures=len(failures),
            failures_cured=sum(f.cured for f in failures),
            clocks_run_out=sum(c.outcome == "ran out" for a in areas for c in a.clocks),
            clocks_not_timed=sum(c.outcome == "not timed apart" and not c.withdrawn for a in areas for c in a.clocks),
            tiles_witnessed=sum(a.standing.seen.witnessed for a in areas),
            tiles_counted=sum(a.standing.seen.counted for a in areas),
            tiles_set_again=sum(a.standing.seen.set_again for a in areas),
            readings_withdrawn=sum(w.is_reading for w in taken_back),
            steps_withdrawn=sum(not w.is_reading for w in taken_back),
            refused=len(self.refused),
        )


@dataclass(frozen=True, slots=True)
class _Minutes:
    by: str
    task: str
    place: dust.WorkPlace
    minutes: Fraction


def _continued(day: ev.ContinuedDay) -> str:
    left = "sealed" if day.sealed else "signed, not sealed" if day.signed else "NOT SIGNED"
    return f"{capital(', '.join(day.areas))}: from {day.date}, log head {day.head}, {left} when it went on here"


def _of_tablet(chain: TabletChain | None) -> Iterator[str]:
    """Which of the tablet's days this is, and how far those before had come."""
    if chain is None:
        return
    lost = {"lost": ", whose book of days was lost before", "damaged": ", whose book of days was damaged before"}
    yield f"Day {chain.number} of tablet {chain.tablet}{lost.get(chain.book, '')}."
    for day in chain.announces:
        named = f"Day {day.number}" if day.number else "A day that was begun elsewhere"
        yield f"{named} ({day.date}) had {day.events} events by then, log head {day.head}."


def _time_keeping(events: Sequence[Event], time: Callable[[Event], str]) -> Iterator[str]:
    """Restarts, and jumps of the wall clock, which intervals do not follow."""
    for before, after in pairwise(events):
        if before.at.boot != after.at.boot:
            yield (
                f"The tablet was restarted between {time(before)} and {time(after)} (events {before.seq} and "
                f"{after.seq}); intervals across it follow the wall clock."
            )
            continue
        if isinstance(after.body, ev.ClockJumped):
            continue  # told as a remark
        wall = datetime.fromisoformat(after.at.wall) - datetime.fromisoformat(before.at.wall)
        jump = (wall.total_seconds() - (after.at.mono - before.at.mono)) / 60.0
        if abs(jump) >= _CLOCK_SET_MINUTES:
            way = "forward" if jump > 0 else "back"
            yield (
                f"The wall clock was set {way} by {minutes(abs(jump))} between events {before.seq} and "
                f"{after.seq}; clocks on this log ran on undisturbed."
            )


_HANDLERS: Mapping[type, Callable[[DayBuilder, Event, Any], None]] = {
    ev.WeatherNoted: DayBuilder.weather_noted,
    ev.NoteMade: DayBuilder.note_made,
    ev.DustNoted: DayBuilder.dust_noted,
    ev.PinRefused: DayBuilder.pin_refused,
    ev.ReleasesConfirmed: DayBuilder.listed,
    ev.ReleaseStruck: DayBuilder.listed,
    ev.KeyReplaced: DayBuilder.listed,
    ev.LotsCommitted: DayBuilder.listed,
    ev.LotsRevealed: DayBuilder.listed,
    ev.PointAnswered: DayBuilder.listed,
    ev.ClockJumped: DayBuilder.clock_jumped,
    ev.ClockUnwatched: DayBuilder.listed,
    ev.DayRecovered: DayBuilder.listed,
    ev.CommandRefused: DayBuilder.command_refused,
    ev.DaySigned: DayBuilder.day_signed,
    ev.DaySealed: DayBuilder.day_sealed,
}
