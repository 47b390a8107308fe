"""One area: its events, read in order, become what is told of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from fieldassist.assess.contact import required_contact
from fieldassist.checklist import events as ev
from fieldassist.checklist import promised, proven
from fieldassist.checklist.contradictions import surface_set
from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Step
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.schema import Checklist, Corrective, Section
from fieldassist.checklist.state import Area, Progress
from fieldassist.report.build import answers, clocks, failures, holds, lifts, setting, spreads, tiles
from fieldassist.report.build.batches import Batches, RoundKey
from fieldassist.report.build.clocks import Clocks
from fieldassist.report.build.context import Context, RoundOf
from fieldassist.report.build.failures import Failures
from fieldassist.report.build.trial import trial_record, trial_report
from fieldassist.report.build.words import capital, in_words, ranges
from fieldassist.report.report_model import (
    AreaReport,
    CautionLine,
    ChangeLine,
    ConditionLine,
    HoldLine,
    LiftLine,
    LineKind,
    PhotoLine,
    SequenceLine,
    WithdrawnLine,
)
from fieldassist.trade.message import message


class AreaBuilder:
    """An area while its events are read.

    lines: of its sequence; waiting: rounds that were opened and in which nothing was done yet; cures, rechecks: the
    failure that a round, or a step of one, cures or checks again; measured: of a lift's round, what was read;
    settings: each tile that was set, witnessed or counted, with its event; spreads: the events at which mortar was
    spread for tiles that are counted, by round.
    """

    def __init__(self, context: Context, plan: AreaPlan, checklist: Checklist, start: Event) -> None:
        self.context = context
        self.plan = plan
        self.checklist = checklist
        self.name = capital(plan.name)
        self.start = self.last = start
        self.finished: Event | None = None
        self.method = plan.method
        self.batches, self.clocks, self.failures = Batches(context), Clocks(context), Failures(context)
        self.lines: list[SequenceLine] = []
        self.waiting: dict[RoundKey, SequenceLine] = {}
        self.cures: dict[RoundKey, int] = {}
        self.rechecks: dict[tuple[str, int, str], int] = {}
        self.measured: dict[RoundKey, dict[str, answers.Measured]] = {}
        self.changes: list[ChangeLine] = []
        self.holds: list[HoldLine] = []
        self.lifts: list[LiftLine] = []
        self.cautions: dict[str, list[tuple[str, str, int]]] = {}
        self.withdrawn: list[WithdrawnLine] = []
        self.unanswered: list[SequenceLine] = []
        self.conditions: list[ConditionLine] = []
        self.photos: list[tuple[RoundKey, PhotoLine]] = []
        self.held: Progress | None = None  # how far it was when it went on from a day before
        self.settings: list[tuple[Event, ev.SetTile]] = []
        self.spreads: dict[RoundKey, Event] = {}
        self.bags: tuple[Event, ev.ReadingCalled] | None = None
        self._group: RoundKey | None = None
        self._steps = {(holder, step.id): step for holder, step in checklist.all_steps()}

    def goes_on(self, event: Event, body: ev.AreaCarried) -> None:
        """What was there when the area went on."""
        held = body.held
        self.method, self.held = held.method, held.progress
        tiles, lifts, open_failures = held.progress.tiles, held.progress.lifts, held.progress.failures
        detail = f"{len(tiles)} tiles set, {len(lifts)} lifted, {len(open_failures)} failed and open then"
        self.add(event, "change", f"Goes on from {body.date} (log head {body.head[:16]})", detail=detail)

    def take(self, event: Event) -> None:
        """Read the next event of this area."""
        self.last = event
        handler = _HANDLERS.get(type(event.body))
        if handler is not None:
            handler(self, event, event.body)
        elif isinstance(event.body, AtStep):
            answers.step_answered(self, event, event.body)

    # --- what things are called -----------------------------------------------------------------------------------

    def step(self, section: str, step: str) -> Step | None:
        """A step by its place, None where the checklist has none there."""
        return self._steps.get((section, step))

    def holder(self, section: str) -> Section | Corrective | None:
        """The section or corrective action of that name, or None."""
        return self.checklist.section(section) or self.checklist.corrective(section)

    def holder_title(self, section: str) -> str:
        """What a section or corrective action is called."""
        holder = self.holder(section)
        return self.context.words(holder.title) if holder is not None else capital(in_words(section))

    def title(self, section: str, at_round: int) -> str:
        """A round of a section by name."""
        holder, title = self.holder(section), self.holder_title(section)
        about = self.context.rounds.get((self.plan.name, section, at_round))
        if isinstance(holder, Section) and about is not None and (holder.sets == "tile" or holder.lift is not None):
            return _about_a_tile(title, holder, about)
        if about is not None and about.sample:
            return f"{title} {at_round} ({about.sample})"
        if isinstance(holder, Corrective) or (holder is not None and holder.when in ("start", "end")):
            return title if at_round == 1 else f"{title} ({at_round})"
        return f"{title} {at_round}"

    def step_name(self, section: str, step: str) -> str:
        """What a step is called."""
        found = self.step(section, step)
        return self.context.words(found.name) if found is not None else capital(in_words(step))

    def place(self, section: str, at_round: int, step: str, link: str = ", ") -> str:
        """A step of a round by name."""
        return f"{self.title(section, at_round)}{link}{self.step_name(section, step)}"

    def batch_title(self, number: int) -> str:
        """A batch by name, by the round of its section; "" for none."""
        section = next((s for s in self.checklist.sections if s.changes == "batch"), None)
        return self.title(section.id, number) if number and section is not None else ""

    def clock_title(self, clock: str) -> str:
        """What a clock is called."""
        found = self.checklist.clock(clock)
        return self.context.words(found.title) if found is not None else capital(in_words(clock))

    # --- lines ----------------------------------------------------------------------------------------------------

    def add(self, event: Event, kind: LineKind, what: str, **rest: Any) -> SequenceLine:
        """One more line of the sequence."""
        line = self.context.line(event, kind, what, **rest)
        self.lines.append(line)
        return line

    def add_answer(self, event: Event, body: Any, kind: LineKind, **rest: Any) -> SequenceLine:
        """The line of a step that was answered, under the band of its round; body: an `events.AtStep`."""
        context, key = self.context, (body.section, body.round)
        step = self.step(body.section, body.step)
        context.asked.add((self.checklist.checklist, body.section, body.step))
        if rest.get("ref") is None:
            rest["ref"] = context.ref(step.basis) if step is not None else None
        rest.setdefault("source", event.source)
        line = self.add_under(event, key, kind, self.step_name(body.section, body.step), **rest)
        batch = self.batches.of_round(key)
        if batch is not None:
            batch.steps.append(line)
        self._cure(body, line)
        return line

    def add_under(self, event: Event, key: RoundKey, kind: LineKind, what: str, **rest: Any) -> SequenceLine:
        """One more line of the sequence, under the band of its round."""
        context = self.context
        line = context.line(event, kind, what, **rest)
        if self._group != key or key in self.waiting:
            opened = self.waiting.pop(key, None)
            if opened is None:
                time, who = context.time(event), context.who(event)
                new = isinstance(event.body, ev.MortarSpread) and not event.body.witnessed
                detail = "mortar was spread" if new else "continued"
                opened = SequenceLine(event.seq, time, who, "round", self.title(*key), detail=detail)
            self.lines.append(opened)
            self._group = key
        self.lines.append(line)
        return line

    def _cure(self, body: Any, line: SequenceLine) -> None:
        key = (body.section, body.round)
        number = self.rechecks.get((body.section, body.round, body.step), self.cures.get(key))
        failure = self.failures.all.get(number) if number is not None else None
        if failure is None:
            return
        holder = self.holder(body.section)
        if isinstance(holder, Corrective):
            failure.steps.append(line)
        elif holder is None or holder.lift is None:
            # A repeated lift is told by its verdict.
            failure.checks.append(line)

    def begin_round(self, key: RoundKey, line: SequenceLine) -> None:
        """A round was opened; its band is printed when its first step is: a repeat is opened before its cure."""
        self.waiting.pop(key, None)
        self.waiting[key] = line

    def end_waiting(self) -> None:
        """A caution stood before the section that was opened last: its band comes first."""
        if self.waiting:
            self._group, opened = self.waiting.popitem()
            self.lines.append(opened)

    def set_tile(self, event: Event, tile: ev.SetTile) -> None:
        """A tile is set, and its batch is the one it is of."""
        self.settings.append((event, tile))
        batch = self.batches.numbered(tile.batch)
        if batch is not None:
            batch.tiles.add(tile.number)

    # --- putting it together --------------------------------------------------------------------------------------

    def report(self, area: Area) -> AreaReport:
        """All that is told of the area. area: what its events come to."""
        context = self.context
        for opened in sorted(self.waiting.values(), key=lambda line: line.seq):
            self.lines.append(replace(opened, detail=f"{opened.detail}; nothing was done in it"))
        requirement = required_contact(self.plan.piece.product, self.checklist, [x.required for x in self.lifts])
        if requirement is not None:
            requirement = replace(requirement, least_lifts=area.lifts_needed[0])
        lines = [*lifts.earlier(self, requirement), *self.lifts]
        shown = {lift.number: promised.beside(area, lift) for lift in area.progress.lifts.values()}
        lift_lines = tuple(
            replace(line, beside=context.words.sentence(shown.get(line.number)))
            for line in sorted(lines, key=lambda lift: (lift.number, lift.seq))
        )
        standing = tiles.standing(context.words, area)
        tile_lines = tuple(tiles.lines(self, area))
        clock_lines = self.clocks.told(lambda event: self.start.at.minutes_to(event.at))
        title = context.words(self.checklist.title)
        tried = trial_record(self, area)
        return AreaReport(
            name=self.name,
            checklist=f"{title} ({self.checklist.checklist}, edition {self.checklist.edition})",
            started=context.time(self.start),
            finished=context.time(self.finished) if self.finished else "",
            minutes=self.start.at.minutes_to(self.last.at),
            setting=tuple(setting.facts(self)),
            changes=tuple(self.changes),
            need=setting.need(context, requirement),
            verdict=setting.contact(context, lift_lines, requirement, standing),
            standing=standing,
            surface_differs=surface_set(area) is not None,
            tiles=len(proven.set_tiles(area)),
            periods=tuple(tiles.periods(self, area)),
            spreads=tuple(spreads.lines(self, area, {line.run: line for line in clock_lines})),
            sequence=tuple(_with_addenda(context, self.lines)),
            holds=(*holds.earlier(self, area), *self.holds),
            batches=self.batches.told({line.run: line for line in clock_lines}, area.progress.batches),
            lifts=lift_lines,
            failures=self.failures.told(),
            clocks=clock_lines,
            cautions=tuple(self._cautions()),
            withdrawn=tuple(self.withdrawn),
            unanswered=tuple(self.unanswered),
            set_in_order=tile_lines,
            other_units=setting.in_other_units(self, requirement),
            bags=setting.bags(self, area),
            photos=tuple(photo for _, photo in self.photos),
            trial=trial_report(context.words, tried) if tried is not None else None,
        )

    def _cautions(self) -> Iterator[CautionLine]:
        for number, (name, times) in enumerate(self.cautions.items(), start=1):
            caution = self.checklist.caution(name)
            text = self.context.words(caution.text) if caution is not None else capital(in_words(name))
            ref = self.context.ref(caution.basis) if caution is not None else None
            yield CautionLine(number, text, ref, tuple(times))


def _about_a_tile(title: str, holder: Section, about: RoundOf) -> str:
    """A round by the tile that it set or lifted."""
    if holder.lift is not None:
        return f"{title} ({f'lift {about.lift}' if about.lift is not None else 'not lifted'}, tile {about.tile})"
    counted = f"{ranges(about.counted)} counted" if about.counted else ""
    if about.spread and about.tile is None:
        return f"{title} {counted}" if counted else f"{title}, mortar spread, none in"
    if about.tile is None:
        return f"{title}, not set"
    return f"{title} {about.tile}{'' if about.set else ', not set'}{f', with {counted}' if counted else ''}"


def _with_addenda(context: Context, lines: Sequence[SequenceLine]) -> Iterator[SequenceLine]:
    """The lines, and a band where what follows was added after the signature."""
    opened_at = {context.parts[event.seq]: event for event in context.opened}
    part = 0
    for line in lines:
        now = context.parts[line.seq]
        if now > part:
            opened = opened_at[now]
            time = context.time(opened)
            what = f"Addendum {now}, opened {time} (event {opened.seq}): from here on"
            yield SequenceLine(opened.seq, time, "", "round", what, detail="after the day was signed")
            part = now
        yield line


# --- handlers -----------------------------------------------------------------------------------------------------


def _area_started(area: AreaBuilder, event: Event, _: ev.AreaStarted) -> None:
    area.add(event, "area", "Area started")


def _area_entered(area: AreaBuilder, event: Event, _: ev.AreaEntered) -> None:
    area.add(event, "area", "Back at this area")


def _area_finished(area: AreaBuilder, event: Event, _: ev.AreaFinished) -> None:
    area.finished = event
    area.add(event, "area", "Area finished")


def _section_opened(area: AreaBuilder, event: Event, body: ev.SectionOpened) -> None:
    context, key = area.context, (body.section, body.round)
    holder = area.holder(body.section)
    reason = context.words(body.reason)
    if body.failure is not None:
        area.cures[key] = body.failure
        named = context.failure_name(body.failure)
        reason = f"to cure {named}" if isinstance(holder, Corrective) else f"again, after {named}"
    else:
        area.cures.pop(key, None)
    title = area.title(*key)
    area.begin_round(key, context.line(event, "round", title, detail=reason))
    if isinstance(holder, Section) and holder.changes == "batch":
        area.batches.open(title, key, event)


def _section_closed(area: AreaBuilder, event: Event, body: ev.SectionClosed) -> None:
    if not area.context.counts(event):
        return
    if body.tile is not None:
        area.set_tile(event, body.tile)
    closed = area.batches.of_round((body.section, body.round))
    if closed is not None:
        closed.done = True


def _caution_acknowledged(area: AreaBuilder, event: Event, body: ev.CautionAcknowledged) -> None:
    context = area.context
    said = "heard again" if body.how == "understood again" else "shown, went on" if body.how == "went on" else ""
    who = _for_whom(context, event, body.persons)
    told = f"{who}, {said}" if said else who
    area.cautions.setdefault(body.caution, []).append((context.time(event), told, event.seq))
    area.end_waiting()
    number = list(area.cautions).index(body.caution) + 1
    area.add(event, "caution", f"Caution {number} acknowledged", detail=said)


def _for_whom(context: Context, event: Event, persons: Sequence[str]) -> str:
    """Who acknowledged, and for whom besides."""
    others = [context.words.person(name) for name in persons if name != event.by]
    who = context.who(event)
    return f"{who}, for {' and '.join(others)}" if others else who


def _method_changed(area: AreaBuilder, event: Event, body: ev.MethodChanged) -> None:
    context = area.context
    told = context.words.method(body.method)
    text = f"{body.name}: {told}" if body.name else told
    if body.method != area.method:
        area.changes.append(ChangeLine(event.seq, context.time(event), context.who(event), "method", capital(text)))
    area.method = body.method
    area.add(event, "change", "Method changed", detail=text)


def _method_doubted(area: AreaBuilder, event: Event, body: ev.MethodDoubted) -> None:
    reasons = "; ".join(area.context.words(reason) for reason in body.reasons)
    area.add(event, "failure", "The method cannot do by the reckoning", detail=reasons)


def _method_vouched(area: AreaBuilder, event: Event, body: ev.MethodVouched) -> None:
    words = area.context.words
    deputy = f", deputy for {words.person(body.deputy_for)}" if body.deputy_for else ""
    detail = f"{words.method(body.method)}: {words(body.told)}"
    area.add(event, "change", f"{words.person(body.name)}{deputy} stands for a method", detail=detail)


def _finish_held(area: AreaBuilder, event: Event, body: ev.FinishHeld) -> None:
    area.add(event, "failure", "Not finished yet", detail=area.context.words(body.point))


def _lots_ruled(area: AreaBuilder, event: Event, body: ev.LotsRuled) -> None:
    area.add(event, "change", f"From here on one tile in {body.one_in} is lifted by lot")


def _lift_due(area: AreaBuilder, event: Event, body: ev.LiftDue) -> None:
    came = area.context.words(proven.how_it_came(body.came))
    area.add(event, "change", f"Tile {body.tile} is to be lifted", detail=came)


def _lift_left(area: AreaBuilder, event: Event, body: ev.LiftLeft) -> None:
    words = area.context.words
    detail = f"due {words(proven.how_it_came(body.came))}: {words(body.reason)}"
    area.add(event, "failure", f"Tile {body.tile} NOT LIFTED", detail=detail)


def _tiles_accepted(area: AreaBuilder, event: Event, body: ev.TilesAccepted) -> None:
    sound = f"spoken; sound {body.audio}, SHA-256 {body.sha256}" if body.audio else ""
    detail = "; ".join(part for part in (area.context.words(body.told), sound) if part)
    what = "Tile" if len(body.tiles) == 1 else "Tiles"
    area.add(event, "failure", f"{what} {ranges(body.tiles)} ACCEPTED by {area.context.who(event)}", detail=detail)


def _tile_taken_off(area: AreaBuilder, event: Event, body: ev.TileTakenOff) -> None:
    area.add(event, "change", f"Tile {body.tile} taken off")


def _bucket_taken(area: AreaBuilder, event: Event, body: ev.BucketTaken) -> None:
    area.add(event, "change", f"Mortar from bucket {body.bucket}", detail=area.title(body.section, body.round))


def _listed(area: AreaBuilder, event: Event, _: Any) -> None:
    """What is told in the words of a list of events."""
    context = area.context
    area.add(event, "change", f"{capital(context.words(context.listing.line(event)))}.")


def _work_stopped(area: AreaBuilder, event: Event, body: ev.WorkStopped) -> None:
    weather = area.context.words(message("prompt-weather-word", word=body.weather))
    area.add(event, "change", f"WORK STOPPED by the weather: {weather}")


def _setter_changed(area: AreaBuilder, event: Event, body: ev.SetterChanged) -> None:
    context = area.context
    name = context.words.person(body.name)
    area.changes.append(ChangeLine(event.seq, context.time(event), context.who(event), "setter", name))
    area.add(event, "change", f"From here on {name} sets")


_HANDLERS: Mapping[type, Callable[[AreaBuilder, Event, Any], None]] = {
    ev.AreaStarted: _area_started,
    ev.AreaEntered: _area_entered,
    ev.AreaFinished: _area_finished,
    ev.SectionOpened: _section_opened,
    ev.SectionClosed: _section_closed,
    ev.CautionAcknowledged: _caution_acknowledged,
    ev.MethodChanged: _method_changed,
    ev.MethodDoubted: _method_doubted,
    ev.MethodVouched: _method_vouched,
    ev.SetterChanged: _setter_changed,
    ev.FinishHeld: _finish_held,
    ev.LotsRuled: _lots_ruled,
    ev.LiftDue: _lift_due,
    ev.LiftLeft: _lift_left,
    ev.TilesAccepted: _tiles_accepted,
    ev.TileTakenOff: _tile_taken_off,
    ev.BucketTaken: _bucket_taken,
    ev.WorkStopped: _work_stopped,
    ev.SamplesOrdered: _listed,
    ev.SampleSpoiled: _listed,
    ev.MethodReleased: _listed,
    **answers.HANDLERS,
    **holds.HANDLERS,
    **lifts.HANDLERS,
    **failures.HANDLERS,
    **clocks.HANDLERS,
    **spreads.HANDLERS,
}
