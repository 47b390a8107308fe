"""The facts of one area, started or not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import Any, Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist import methods, proven, rules
from fieldassist.checklist.events import Event
from fieldassist.checklist.places import PiecePlace, planned_m2
from fieldassist.checklist.plan import AreaPlan, Method
from fieldassist.checklist.spreading import spread_clock
from fieldassist.checklist.standing import KeptReading, Standing
from fieldassist.checklist.state import Area, ClockRun, LiftRecord, Spread, State, Tile
from fieldassist.facts import model
from fieldassist.facts.answers import reading_facts
from fieldassist.facts.backs import back_fact
from fieldassist.facts.cures import failure_facts
from fieldassist.facts.figures import rounded
from fieldassist.facts.laid import PieceTeller, openings, outline
from fieldassist.facts.material import bags_fact, handling_fact, mortar_fact, piece_fact, required_fact
from fieldassist.facts.names import step_name
from fieldassist.facts.telling import Tell
from fieldassist.facts.trial import from_trial, trial_fact
from fieldassist.facts.undone import UndoneTeller
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Quantity, Units, canonical, convert_exact
from fieldassist.trade.sampling import LiftTally, what_lots_prove

_ENDS: Mapping[type, Literal["stopped", "ran out", "over"]] = {
    ev.ClockStopped: "stopped",
    ev.ClockUp: "over",
    ev.ClockRanOut: "ran out",
}


class AreaTeller:
    """One area of the plan; where nobody started it, as it would begin."""

    def __init__(
        self, plan: AreaPlan, state: State, stands: Standing, told: Tell, units: Units, undone: UndoneTeller
    ) -> None:
        self.plan, self.standing, self.told, self.units, self._undone = plan, stands, told, units, undone
        checklist = state.checklists[plan.checklist]
        self._sorted = False
        self._found: dict[type, list[Event]] = {}
        self._by_round: dict[type, Mapping[tuple[str, int], Sequence[Event]]] = {}
        started = state.areas.get(plan.name)
        self.started = started is not None
        self.area = started or Area(plan=plan, checklist=checklist, method=plan.method, methods_used=(plan.method,))
        self.progress = self.area.progress
        self._batch_at = self._batches_by_order()
        self._answers = [*self._of(ev.ChoiceMade), *self._of(ev.StepConfirmed)]
        self.pieces = PieceTeller(self.area, self._answers)

    def fact(self) -> model.AreaFacts:
        """All of it."""
        area, progress = self.area, self.progress
        needed, _ = area.lifts_needed
        releases = list(self._releases())
        asked = [float(e.body.required) for e in self._of(ev.LiftJudged)]  # type: ignore[union-attr]
        tally, seen = proven.tally(area), proven.seen_tiles(area)
        return model.AreaFacts(
            id=self.plan.name,
            name=self.plan.name,
            where=self.plan.where,
            checklist=self.plan.checklist,
            phase=progress.phase if self.started else "not started",
            planned_m2=_rounded(planned_m2(self.plan)),
            set_m2=_rounded(progress.set_m2),
            required_percent=rules.required_coverage(area.facts).at_least,
            lifts_needed=needed,
            good_tiles=progress.good_tiles,
            witnessed=seen.witnessed,
            counted=seen.counted,
            set_again=seen.set_again,
            seen_told=self.told(seen.told),
            setter=area.setter or "",
            methods=list(self._methods()),
            tiles=list(self._tiles()),
            outline=outline(self.plan),
            openings=openings(self.plan),
            spreads=list(self._spreads()),
            lifts=[self._lift(lift) for lift in progress.lifts.values()],
            failures=list(failure_facts(area, self.standing, self.told)),
            releases=releases,
            clocks=list(self._clocks()),
            batches=list(self._batches()),
            readings=list(
                reading_facts(area, self.standing, self.told, [*self._of(ev.ChoiceMade), *self._of(ev.StepConfirmed)])
            ),
            lots=self._lots(tally),
            longest_unseen=model.UnseenFact(tiles=tally.row, face_m2=_rounded(tally.row_m2)),
            continues=next((e.body.head for e in self._of(ev.AreaCarried)), None),  # type: ignore[union-attr]
            trial=trial_fact(area, self.standing, self.told),
            from_trial=from_trial(self.plan),
            piece=piece_fact(self.plan),
            joint_mm=None if self.plan.joint is None else rounded(self.plan.joint),
            surface=area.facts.surface,
            place=area.facts.place,
            mortar=mortar_fact(area, self.told),
            required=required_fact(area, asked),
            started=next((e.at.wall for e in self._of(ev.AreaStarted)), None),
            finished=self._finished(),
            bags=bags_fact(area),
            handling=handling_fact(area, self.units, self.told),
            final_release=next((one for one in reversed(releases) if one.ends and not one.struck), None),
        )

    def _finished(self) -> str | None:
        """When the area was finished today; None where it is not, or was finished before."""
        if self.progress.phase != "finished":
            return None
        return next((e.at.wall for e in reversed(list(self._of(ev.AreaFinished)))), None)

    def _of(self, kind: type) -> Sequence[Event]:
        """The events of this kind, and area, that count."""
        if not self._sorted:
            self._sorted = True
            for event in self.standing.of_area(self.plan.name):
                self._found.setdefault(type(event.body), []).append(event)
        return self._found.get(kind, [])

    def _of_round(self, kind: type, section: str, at_round: int) -> Sequence[Event]:
        """The events of this kind that count and belong to one round of a section."""
        if kind not in self._by_round:
            rounds: dict[tuple[str, int], list[Event]] = {}
            for event in self._of(kind):
                body: Any = event.body
                rounds.setdefault((body.section, body.round), []).append(event)
            self._by_round[kind] = rounds
        return self._by_round[kind].get((section, at_round), ())

    def _batches_by_order(self) -> dict[int, int]:
        """Which batch each setting was out of; of earlier days, that of the tiles as they stood."""
        found = {
            tile.order: tile.batch
            for event in self._of(ev.AreaCarried)
            for tile in event.body.held.progress.tiles.values()  # type: ignore[union-attr]
        }
        for kind in (ev.SectionClosed, ev.TileCounted):
            for event in self._of(kind):
                made: Any = event.body.tile  # type: ignore[union-attr]
                if made is not None:
                    found[made.order] = made.batch
        return found

    # --- methods, tiles and lifts

    def _methods(self) -> Iterator[model.MethodFact]:
        """Each method that was used, with the time from which to which; one that came back stands twice."""
        uses: list[tuple[str, Method, str]] = [("", self.plan.method, e.at.wall) for e in self._of(ev.AreaStarted)]
        for event in self._of(ev.AreaCarried):
            held = event.body.held  # type: ignore[union-attr]
            uses.append((held.method_name, held.method, event.at.wall))
        for event in self._of(ev.MethodChanged):
            body: Any = event.body
            if not uses or (body.name, body.method) != uses[-1][:2]:
                uses.append((body.name, body.method, event.at.wall))
        for at, (name, method, since) in enumerate(uses):
            number = self.area.methods_used.index(method)
            verdict, rests = methods.judge(self.area, method), methods.rests_on(self.area, method)
            words = [word.by for word in self.area.words_given if word.method == method]
            yield model.MethodFact(
                number=number,
                letter=model.letter_of(number),
                name=name,
                told=self.told(methods.told(method)),
                family=method.family,
                width_mm=rounded(method.width),
                depth_mm=rounded(method.depth),
                spacing_mm=rounded(method.spacing),
                angle_degrees=method.angle,
                sides=method.sides,
                back=method.back,
                movement=method.movement,
                seating=method.seating,
                since=since,
                until=uses[at + 1][2] if at + 1 < len(uses) else None,
                bed_mm=round(verdict.bed_mm, 6),
                contact_percent=round(verdict.contact_percent, 6),
                rests_on=rests,
                rests_told=self.told(methods.rest_told(self.area, method)),
                word_by=words[-1] if rests == "word" else None,
            )

    def _tiles(self) -> Iterator[model.TileFact]:
        """The places of the plan in its order, then what was set without one."""
        tiles = dict(self.progress.tiles)
        for place in self.area.places:
            tile = tiles.pop(place.number, None) if place.number is not None else None
            if place.number is None:
                named = next((t for t in tiles.values() if t.place.name == place.name), None)
                tile = tiles.pop(named.number) if named is not None else None
            if tile is not None:
                yield self._tile(tile)
            elif place.number is not None:
                yield self._not_set(place, place.number)
        for tile in tiles.values():
            yield self._tile(tile)

    def _tile(self, tile: Tile) -> model.TileFact:
        place = tile.place
        return model.TileFact(
            number=tile.number,
            place=self.told(proven.where(place, tile.number)).text,
            row=place.row,
            column=place.column,
            name=place.name,
            face_m2=_rounded(place.face_m2),
            order=tile.order,
            run=tile.run,
            state=tile.state,
            why=self.told(proven.why(tile)),
            covered_by=[tile.lift] if tile.state == "covered" and tile.lift is not None else [],
            cleared_by=list(tile.cleared_by),
            setter=tile.setter,
            method=tile.method,
            batch=tile.batch,
            witnessed=proven.seen(tile) == "witnessed",
            seen=proven.seen(tile),
            seen_told=self.told(proven.seen_told(self.area, tile)),
            spread=tile.spread,
            together=tile.together,
            put_back=tile.put_back,
            **self.pieces.laid(tile.number, tile.order, tile.set),
            at=tile.at.wall,
            event=tile.set,
        )

    def _not_set(self, place: PiecePlace, number: int) -> model.TileFact:
        return model.TileFact(
            number=number,
            place=self.told(proven.where(place, number)).text,
            row=place.row,
            column=place.column,
            name=place.name,
            face_m2=_rounded(place.face_m2),
            order=None,
            run=None,
            state="not set",
            why=self.told(message("facts-not-set")),
            covered_by=[],
            cleared_by=[],
            setter="",
            method=None,
            batch=0,
            witnessed=None,
            seen="",
            seen_told=self.told(message("facts-not-set")),
            spread=None,
            together=0,
            put_back="",
            **self.pieces.not_laid(number),
            at=None,
            event=None,
        )

    def _spreads(self) -> Iterator[model.SpreadFact]:
        of_before: dict[int | None, list[int]] = {}
        for number, tile in self.progress.tiles.items():
            of_before.setdefault(tile.spread, []).append(number)
        for spread in self.progress.spreads.values():
            event = next(reversed(self._of_round(ev.MortarSpread, spread.section, spread.round)), None)
            body: Any = None if event is None else event.body
            today = [
                e.body.tile.number  # type: ignore[union-attr]
                for e in self._of_round(ev.TileCounted, spread.section, spread.round)
            ]
            yield model.SpreadFact(
                section=spread.section,
                round=spread.round,
                setter=spread.setter,
                method=spread.method,
                batch=spread.batch,
                wanted=spread.wanted,
                bears=spread.bears,
                done=spread.done,
                counted=sorted(of_before.get(spread.round, ()) if event is None else today),
                witnessed=body is not None and body.witnessed,
                standing=spread.standing,
                clock=self._open_time(spread),
                at=spread.at.wall,
                event=None if event is None else event.seq,
            )

    def _open_time(self, spread: Spread) -> int | None:
        """The run of the clock that measures how long mortar lies open, None where this log has none."""
        section = self.area.checklist.section(spread.section)
        counting = section.counting if section is not None else None
        rule = spread_clock(self.area, counting) if counting is not None else None
        runs = [
            event.seq
            for event in self._of_round(ev.ClockStarted, spread.section, spread.round)
            if rule is not None and event.body.clock == rule.id  # type: ignore[union-attr]
        ]
        return runs[-1] if runs else None

    def _lots(self, tally: LiftTally) -> model.LotsFact:
        proof = what_lots_prove(tally)
        return model.LotsFact(
            drawn=tally.drawn,
            drawn_good=tally.drawn_good,
            lifted=tally.lifted,
            confidence=proof.confidence,
            good_share=None if proof.share is None else round(proof.share, 6),
            told=[self.told(sentence) for sentence in proof.words],
        )

    def _lift(self, lift: LiftRecord) -> model.LiftFact:
        measured = self.progress.measured.get((lift.section, lift.round), {})
        void = measured.get("largest void")
        judged: Any = None
        for event in self._of_round(ev.LiftJudged, lift.section, lift.round):
            judged = event.body
        by = self.standing.events[lift.lifted - 1].by if lift.lifted > 0 else ""
        read = [r for r in self._kept(lift.section, lift.round) if r.judged.measures == "coverage"]
        setter, method = self.progress.runs[lift.run - 1]
        return model.LiftFact(
            number=lift.number,
            tile=lift.tile,
            order=lift.order,
            run=lift.run,
            setter=setter,
            method=method,
            batch=self._batch_at.get(lift.order, 0),
            percent=_value(measured.get("coverage")),
            required_percent=None if judged is None else float(judged.required),
            void_mm2=None if void is None else float(convert_exact(void.value, void.unit, "mm2")),
            corners=_full(measured.get("corners")),
            edges=_full(measured.get("edges")),
            bed_mm=_value(measured.get("bed")),
            source=read[-1].called.source.how if read else "",
            read_by=read[-1].called.by if read else "",
            way=proven.way_of(read[-1].called.source.how) if read else "",
            came=lift.came,
            came_told=self.told(proven.how_it_came(lift.came)),
            verdict=lift.verdict,
            reasons=[] if judged is None else [self.told(reason) for reason in judged.reasons],
            unread=[] if judged is None else [self.told(part) for part in judged.unread],
            failure=None if lift.failure is None else str(lift.failure),
            undone=self._undone.undone((self.plan.name, lift.section, lift.round)),
            amended=self._undone.amended(self.plan.name, lift.number),
            back=back_fact(self.standing, self.plan.name, lift.section, lift.round, lift.lifted, self.told),
            section=lift.section,
            round=lift.round,
            by=by,
            at=lift.at.wall,
            event=lift.lifted,
        )

    # --- failures, releases, clocks, batches

    def _releases(self) -> Iterator[model.ReleaseFact]:
        for release in self.progress.releases.values():
            yield model.ReleaseFact(
                section=release.section,
                round=release.round,
                step=release.step,
                name=self.told(step_name(self.area, release.section, release.step)).text,
                by=release.name,
                role=release.role.value,
                deputy_for=release.deputy_for,
                how=release.how,
                confirmed=release.how == "pin" or release.confirmed is not None,
                confirmed_at=None if release.confirmed is None else release.confirmed.wall,
                struck=release.struck,
                ends=self._closes(release.section),
                at=release.at.wall,
                event=release.seq,
            )

    def _closes(self, section: str) -> bool:
        found = self.area.checklist.section(section)
        return found is not None and found.when == "end"

    def _clocks(self) -> Iterator[model.ClockFact]:
        for run in self.progress.clocks:
            if run.run < 0:
                yield self._clock(run, None)
        ends: dict[int, Event] = {}
        for kind in (ev.ClockUp, ev.ClockStopped, ev.ClockRanOut):  # over, it runs on until it is stopped
            for event in self._of(kind):
                body: Any = event.body
                if not getattr(body, "runs_on", False):
                    ends[body.run] = event
        for event in self._of(ev.ClockStarted):
            body = event.body
            run = ClockRun(event.seq, body.clock, body.section, body.round, body.minutes, event.at)
            yield self._clock(run, ends.get(event.seq))

    def _clock(self, run: ClockRun, ended: Event | None) -> model.ClockFact:
        clock = self.area.checklist.clock(run.clock)
        body: Any = None if ended is None else ended.body
        now = self.standing.events[-1].at
        return model.ClockFact(
            number=run.run,
            clock=run.clock,
            title=self.told(clock.title).text if clock is not None else run.clock,
            section=run.section,
            round=run.round,
            bound=clock.bound if clock is not None else "at most",
            minutes=run.minutes,
            used_minutes=round(run.started.minutes_to(now if ended is None else ended.at), 3),
            verdict=getattr(body, "verdict", None),
            together=getattr(body, "together", False),
            started=run.started.wall,
            ended=None if ended is None else ended.at.wall,
            outcome=_ENDS.get(type(body), "running"),
        )

    def _batches(self) -> Iterator[model.BatchFact]:
        opened = {(e.body.section, e.body.round): e for e in self._of(ev.SectionOpened)}  # type: ignore[union-attr]
        for batch in self.progress.batches.values():
            event = opened.get((batch.section, batch.round))
            yield model.BatchFact(
                number=batch.round,
                section=batch.section,
                bucket=batch.bucket,
                bags=None if batch.bags is None else float(batch.bags),
                lot=batch.lot or None,
                water_l=None if batch.water is None else float(convert_exact(batch.water.value, batch.water.unit, "L")),
                alive=batch.alive,
                pot_life=self._clock_of(batch.section, batch.round, "at most"),
                slake=self._clock_of(batch.section, batch.round, "at least"),
                open_times=self._open_times(batch.round),
                tiles=[tile.number for tile in self.progress.tiles.values() if tile.batch == batch.round],
                by="" if event is None else event.by,
                at="" if event is None else event.at.wall,
                event=None if event is None else event.seq,
            )

    def _clock_of(self, section: str, at_round: int, bound: str) -> int | None:
        """The run of the clock with this bound that was started last in a round of a batch."""
        found = None
        for event in self._of_round(ev.ClockStarted, section, at_round):
            if self._bound(event.body.clock) == bound:  # type: ignore[union-attr]
                found = event.seq
        return found

    def _open_times(self, batch: int) -> list[int]:
        """The clocks that ran while tiles were set out of a batch today: how long its mortar lay open."""
        return sorted(
            event.seq
            for at in self._rounds_by_batch.get(batch, ())
            for event in self._of_round(ev.ClockStarted, *at)
            if self._bound(event.body.clock) == "at most"  # type: ignore[union-attr]
        )

    @cached_property
    def _rounds_by_batch(self) -> Mapping[int, set[tuple[str, int]]]:
        """In which rounds tiles were set out of each batch today."""
        found: dict[int, set[tuple[str, int]]] = {}
        for event in (*self._of(ev.SectionClosed), *self._of(ev.MortarSpread)):
            body: Any = event.body
            batch = body.batch if isinstance(body, ev.MortarSpread) else body.tile and body.tile.batch
            if batch is not None:
                found.setdefault(batch, set()).add((body.section, body.round))
        return found

    def _bound(self, clock: str) -> str | None:
        rule = self.area.checklist.clock(clock)
        return None if rule is None else rule.bound

    # --- readings

    def _kept(self, section: str, at_round: int) -> Sequence[KeptReading]:
        return self._readings_by_round.get((section, at_round), ())

    @cached_property
    def _readings_by_round(self) -> Mapping[tuple[str, int], Sequence[KeptReading]]:
        found: dict[tuple[str, int], list[KeptReading]] = {}
        for reading in self.standing.readings:
            if reading.body.area == self.plan.name:
                found.setdefault((reading.body.section, reading.body.round), []).append(reading)
        return found


def _rounded(square_metres: float) -> float:
    return round(square_metres, 6)


def _value(read: Quantity | None) -> float | None:
    return None if read is None else float(canonical(read.value, read.unit))


def _full(read: Quantity | None) -> str | None:
    return None if read is None else "full" if read.value else "not full"
