"""Whatever is said in whatever order: what is offered is taken, the log folds to the same day, nothing undue counts.

A day of four areas, in either system of units, is worked at random by hypothesis, which then looks for the shortest
day that breaks a rule.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from random import Random

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from fieldassist.checklist import cautions, covering
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.engine import Decision, Refusal, decide
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import AFTER_FAILURE, Progress, State
from fieldassist.trade.quantities import System
from tests.checklist.days import PHOTO, SEED, Bench, filled, plausible, without_seq

# What answers a step: none of it may happen while a caution is due.
ANSWERED = (ev.StepConfirmed, ev.TileLifted, ev.ReadingCalled, ev.ChoiceMade, ev.HoldReleased)
AREAS = ("shower wall", "hall floor", "lobby wall", "attic", "porch")
FEW = st.integers(1, 40)
DICE = st.randoms(use_true_random=False)


def is_open(day: RandomDay) -> bool:
    return not day.bench.state.closed


def dead(events: Iterable[Event]) -> set[int]:
    """The numbers of what was withdrawn, found without `standing`.

    With a thing done falls what the same command brought about after it; with a reading that was kept, the call too. A
    corrected reading falls, and the verdict of a lift that was judged anew.
    """
    by_seq: dict[int, Event] = {}
    found: set[int] = set()
    for event in events:
        by_seq[event.seq] = event
        if isinstance(event.body, ev.ReadingCorrected):
            wrong = by_seq[event.body.corrects]
            assert isinstance(wrong.body, ev.JudgedReading)
            found |= {wrong.seq, wrong.body.target}
        if isinstance(event.body, ev.LiftJudged):
            same = (event.body.area, event.body.lift)
            verdicts = [e for e in by_seq.values() if isinstance(e.body, ev.LiftJudged) and e.seq < event.seq]
            found |= {e.seq for e in verdicts if (e.body.area, e.body.lift) == same}
        if not isinstance(event.body, ev.Withdrawn):
            continue
        target = by_seq[event.body.target]
        found.add(target.seq)
        if isinstance(target.body, ev.JudgedReading):
            found.add(target.body.target)
        if event.body.reason == "scratched":
            command = target.id.rpartition(".")[0]
            found |= {e.seq for e in by_seq.values() if e.seq > target.seq and e.id.rpartition(".")[0] == command}
    return found


def anyhow(offer: Offer, dice: Random) -> cmd.Command:
    """The offer's command with any value that its step can have."""
    if offer.slot is None or not offer.slot.units:
        return filled(offer, Fraction())
    return filled(offer, *plausible(offer.slot, dice))


class RandomDay(RuleBasedStateMachine):
    """One day."""

    def __init__(self) -> None:
        super().__init__()
        self.bench = Bench()
        self.before: dict[int, tuple[str, Progress]] = {}

    @initialize(
        units=st.sampled_from(["metric", "us"]),
        speaker=st.sampled_from(["rosa", "edwin", "otto"]),
        area=st.sampled_from(AREAS),
        tiles=st.integers(0, 6),
    )
    def begin(self, units: System, speaker: str, area: str, tiles: int) -> None:
        self.bench = Bench.begun(units)
        self.send(cmd.SpeakAs(name=speaker))
        self.set_tiles(area, tiles)

    # --- what is done ---------------------------------------------------------------------------------------------

    def send(self, command: cmd.Command) -> Decision | Refusal:
        """Send a command and hold what comes of it against what holds for every command."""
        bench = self.bench
        state, seen = bench.state, len(bench.events)
        area = state.area
        due = cautions.due(state, area, bench.clock.now()) if area is not None and state.pending is None else ()
        self.check_offers(bench.prompt.answers)
        came = bench.do(command)
        new = bench.events[seen:]
        if isinstance(came, Refusal):
            assert [type(e.body) for e in new] in ([ev.CommandRefused], [])
            assert without_seq(bench.state) == without_seq(state), f"{command} was refused and changed something"
        for event in new:
            assert Event.model_validate_json(event.model_dump_json()) == event
            self.keep_progress(state, event)
            if isinstance(event.body, ev.Withdrawn):
                self.check_undone(event.body)
        if due:
            assert not any(isinstance(e.body, ANSWERED) for e in new), f"{due[0].caution.id} was due"
        return came

    def check_offers(self, offers: Iterable[Offer]) -> None:
        """What is offered as possible now would be taken. Deciding changes nothing."""
        bench = self.bench
        for offer in offers:
            if offer.now:
                came = decide(
                    bench.state,
                    anyhow(offer, Random(bench.state.last_seq)),
                    bench.clock.now(),
                    "only tried",
                    lot_seed=SEED,
                )
                assert isinstance(came, Decision), f"{offer.command} was offered as possible now: {came}"

    def keep_progress(self, state: State, event: Event) -> None:
        """How far the area had come before a command's first event."""
        area = state.areas.get(getattr(event.body, "area", None) or "")
        if area is not None:
            self.before[event.seq] = (area.plan.name, area.progress)

    def check_undone(self, body: ev.Withdrawn) -> None:
        """After "scratch that" the area stands as it did before the thing was done."""
        name, progress = self.before[body.target]
        if body.reason == "scratched":
            assert self.bench.state.areas[name].progress == progress

    @rule(dice=DICE, answers=st.booleans())
    def take_what_is_offered_now(self, dice: Random, answers: bool) -> None:
        asked = self.bench.prompt
        offers = asked.answers or asked.offers if answers else asked.offers
        offer = dice.choice([o for o in offers if o.now])
        came = self.send(anyhow(offer, dice))
        assert isinstance(came, Decision), f"{offer.command} was offered as possible now: {came}"

    @rule(dice=DICE)
    def try_an_offer_that_is_not_now(self, dice: Random) -> None:
        offer = dice.choice(self.bench.prompt.offers)
        value = Fraction(dice.randrange(-40, 40_000), 8)
        self.send(filled(offer, value, dice.choice(offer.slot.units) if offer.slot and offer.slot.units else None))

    @precondition(is_open)
    @rule(steps=FEW, fail=st.booleans())
    def go_on(self, steps: int, fail: bool) -> None:
        """Answer what is asked; the first answer may be one that fails."""
        for number in range(steps):
            command = self.bench.next_answer(fail=fail and number == 0)
            if command is None:
                return
            assert isinstance(self.send(command), Decision), command

    @precondition(is_open)
    @rule(area=st.sampled_from(AREAS), tiles=st.integers(1, 4))
    def set_tiles(self, area: str, tiles: int) -> None:
        if self.bench.state.active != area:
            self.go_on(60, fail=False)
            self.send(cmd.StartArea(area=area))
        for section in ["batch", "bucket", *(["tile"] * tiles)]:
            self.go_on(60, fail=False)
            self.send(cmd.StartRound(section=section))

    @precondition(is_open)
    @rule(
        steps=FEW, place=st.sampled_from(("coverage", "contact", "corners", "comb", "joint", "slide", "water", "dry"))
    )
    def fail_at(self, steps: int, place: str) -> None:
        """Go on to a step of that name, set a tile if need be, and fail there."""
        self.send(cmd.StartRound(section="tile"))
        for _ in range(steps):
            step = self.bench.state.area.step if self.bench.state.area is not None else None
            here = step is not None and step.id == place and self.bench.state.pending is None
            command = self.bench.next_answer(fail=here)
            if command is None:
                return
            assert isinstance(self.send(command), Decision), command

    @precondition(is_open)
    @rule()
    def finish_the_area(self) -> None:
        self.go_on(60, fail=False)
        self.send(cmd.FinishArea())

    @rule(minutes=st.sampled_from([0.1, 1, 6, 16, 95]))
    def time_passes(self, minutes: float) -> None:
        self.bench.clock.advance(minutes)
        came = self.send(cmd.Tick())
        assert isinstance(came, Decision)

    @rule(times=st.integers(1, 6))
    def scratch_that(self, times: int) -> None:
        for _ in range(times):
            self.send(cmd.Withdraw())

    @rule(
        aside=st.one_of(
            st.sampled_from(["rosa", "otto", "edwin", "nour", "nobody"]).map(lambda name: cmd.SpeakAs(name=name)),
            st.sampled_from(["half inch square", "no notch"]).map(lambda notch: cmd.ChangeMethod(method=notch)),
            st.builds(
                cmd.NoteDust,
                task=st.just("drill"),
                place=st.just("indoors"),
                minutes=st.integers(0, 500).map(Fraction),
                replaces=st.one_of(st.none(), st.integers(1, 150)),
            ),
            st.integers(1, 300).map(lambda target: cmd.Correct(target=target, text="it was the other wall")),
            st.sampled_from([PHOTO, cmd.MakeNote(text="the door sticks"), cmd.Ask(about="how long")]),
            st.builds(cmd.AskLift, number=st.one_of(st.none(), st.integers(1, 5)), inspector=st.booleans()),
            st.builds(cmd.AcceptTiles, number=st.one_of(st.none(), st.integers(1, 5))),
            st.builds(cmd.TakeOff, number=st.integers(1, 5)),
            st.integers(1, 4).map(lambda n: cmd.SetLots(one_in=n)),
            st.just(cmd.LeaveLift(section="lift", step="lifted")),
        )
    )
    def do_something_beside_the_sequence(self, aside: cmd.Command) -> None:
        self.send(aside)

    @precondition(lambda self: self.bench.state.last_seq > 100)
    @rule(accept=st.booleans(), again=st.booleans())
    def sign_and_open_again(self, accept: bool, again: bool) -> None:
        self.send(cmd.SpeakAs(name="edwin"))
        self.send(cmd.SignDay(accept_open=accept))
        if again:
            self.send(cmd.OpenAddendum(reason="something was forgotten"))

    # --- what always holds ----------------------------------------------------------------------------------------

    @invariant()
    def every_offer_that_is_now_would_be_taken(self) -> None:
        self.check_offers(self.bench.prompt.offers)

    @invariant()
    def a_finished_area_has_nothing_left_to_do(self) -> None:
        for area in self.bench.state.areas.values():
            assert area.progress.phase != "finished" or not (area.progress.tasks or area.progress.clocks)
            if area.progress.phase == "finished" and area.checklist.lift_section is not None:
                assert not {t.state for t in area.progress.tiles.values()} & {"suspect", "lifted failed"}, "finished"
                by_lot = (
                    area.checklist.lift_section.due is not None and area.checklist.lift_section.due.lots is not None
                )
                assert not by_lot or all(t.state != "not yet covered" for t in area.progress.tiles.values())
            assert area.progress.good_tiles <= len(area.progress.lifts)

    @invariant()
    def no_finished_area_has_a_tile_that_is_suspect_or_not_covered(self) -> None:
        for area in self.bench.state.areas.values():
            assert covering.marks(area) == (), "every tile is marked with what the lifts say of it"
            if area.progress.phase == "finished":
                assert covering.held_up(area) == ()
                assert not area.progress.lifts_due

    @invariant()
    def no_lot_is_lost(self) -> None:
        """Each lot that fell was looked under, or is about to be, or is an open point."""
        points = [p for p in open_points(self.bench.state) if p.told.code in ("open-lot-missed", "open-lift-left")]
        for area in self.bench.state.areas.values():
            progress = area.progress
            tile_at = {setting.order: setting.tile for setting in progress.history}
            seen = {lift.order for lift in progress.lifts.values() if lift.verdict in ("passed", "failed", None)}
            due = covering.to_be_lifted(area)
            told = {p.told.figures["tile"] for p in points if p.area == area.plan.name}
            for order, lot in progress.lots.items():
                tile = tile_at[order]
                waits = tile in due and progress.tiles[tile].order == order
                assert not lot.lifts or order in seen or waits or str(tile) in told

    @invariant()
    def no_due_lift_is_lost(self) -> None:
        """Each is carried out, left, at hand, or waits and is an open point; one that a failure asked for may also have
        fallen away with it."""
        points = [p for p in open_points(self.bench.state) if p.told.code == "open-lift-waits"]
        for area in self.bench.state.areas.values():
            progress = area.progress
            queued = {(task.section, task.round) for task in progress.tasks}
            waiting = {(task.section, task.round) for task in area.waiting}
            told = {p.told.figures["tile"] for p in points if p.area == area.plan.name}
            left = {lift.tile for lift in progress.lifts_left.values()}
            for at, target in progress.targets.items():
                assert at not in waiting or str(target.tile) in told
                done = progress.lift_of(*at) is not None or target.tile in left
                assert done or at in queued or target.came in AFTER_FAILURE
            assert {str(target.tile) for target in progress.lifts_due} <= told

    @invariant()
    def what_was_withdrawn_counts_nowhere(self) -> None:
        bench, found = self.bench, standing(self.bench.events)
        gone = dead(bench.events)
        replaced = {e.body.replaces for e in bench.events if isinstance(e.body, ev.DustNoted) and e.body.replaces}
        assert set(found.struck) == gone | replaced

        def alive(kind: type) -> list[Event]:
            return [e for e in bench.events if isinstance(e.body, kind) and e.seq not in gone | replaced]

        # What was corrected keeps the place of the reading that it corrects.
        assert sorted((r.kept for r in found.readings), key=lambda e: e.seq) == alive(ev.JudgedReading)
        assert all(r.called.seq not in gone for r in found.readings)
        assert list(found.lifts) == alive(ev.LiftJudged)
        assert list(found.failures) == alive(ev.FailureOpened)
        assert list(found.photos) == alive(ev.PhotoAttached)
        cured = {e.body.failure for e in alive(ev.FailureClosed)}
        failing = {e.seq for e in alive(ev.FailureOpened)} - cured
        assert {seq for area in bench.state.areas.values() for seq in area.progress.failures} == failing
        points = [p.told for p in open_points(bench.state) if p.told.code == "open-failure"]
        assert sorted(str(p.figures["failure"]) for p in points) == sorted(map(str, failing))
        for name, area in bench.state.areas.items():
            here = [e.body for e in alive(ev.LiftJudged) if e.body.area == name]
            assert sum(x.verdict == "passed" for x in area.progress.lifts.values()) == sum(b.passed for b in here)
            assert len(area.progress.lifts) == sum(e.body.area == name for e in alive(ev.TileLifted))
            in_place = [*(e for e in alive(ev.SectionClosed) if e.body.tile), *alive(ev.TileCounted)]
            assert area.progress.settings == sum(e.body.area == name for e in in_place)
        assert sum(found.dust_minutes.values()) == sum(entry.minutes for entry in bench.state.dust)

    def teardown(self) -> None:
        bench = self.bench
        assert fold(bench.events) == bench.state, "the log folds to the state that was kept while deciding"
        state, again = State(), []
        for sent in bench.sent:
            came = decide(state, sent.command, sent.at, sent.id, lot_seed=SEED)
            events = came.events if isinstance(came, Decision) else ()
            if not events and len(again) < len(bench.events) and bench.events[len(again)].id == f"{sent.id}.0":
                events = (bench.events[len(again)],)  # a refusal, as the day wrote it down
                assert isinstance(events[0].body, ev.CommandRefused)
            again += events
            state = fold(events, state)
        assert again == bench.events, "the same commands with the same ids make the same events"


RandomDay.TestCase.settings = settings(
    max_examples=12,
    stateful_step_count=30,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
TestRandomDay = RandomDay.TestCase
