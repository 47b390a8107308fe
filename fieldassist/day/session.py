"""A day under way: commands in, events on disk, answers out."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from contextlib import nullcontext, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine
from fieldassist.checklist.attempt import attempt
from fieldassist.checklist.clock_watch import clock_note, watched_since
from fieldassist.checklist.commands import Command, ReleaseHold, Strokes
from fieldassist.checklist.events import (
    AddendumOpened,
    CommandRefused,
    DayRecovered,
    DaySealed,
    DaySigned,
    Event,
    KeyReplaced,
    PinRefused,
)
from fieldassist.checklist.fold import fold
from fieldassist.checklist.keeping import after_keeping
from fieldassist.checklist.lots import commitment
from fieldassist.checklist.moment import CLOCK, TYPED, Moment, Source
from fieldassist.checklist.plan import DayKind, DayPlan
from fieldassist.checklist.prompt import Prompt, minutes_to_next_alarm, prompt, run_out_untold, whether_meant
from fieldassist.checklist.recorded import ANY_SIGNATURE, recorded
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import State
from fieldassist.day.chain import DayOnTrial
from fieldassist.day.clock import Clock
from fieldassist.language import Words
from fieldassist.record.chain import chain_hash
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.record.lot_seeds import keep_seed, new_seed, seed_of
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import Figure, Message, Refused, Several, Text, message

if TYPE_CHECKING:
    from fieldassist.record.keys import Keyring, SigningKey

# What stands for a key while it is asked whether a command would be taken with it.
_ANY_KEY = "0" * 64


class CannotOpen(Refused):
    """The day cannot be opened as asked; `told` says why and what to do."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """What was heard with doubt, the words it was heard in, and how well. commands: more than one are a chain; name:
    the tile's, as it is read back, where they name one."""

    commands: tuple[Command, ...]
    words: str
    source: Source
    name: Figure | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command came to. `events` are on disk when the answer is given.

    taken: the engine did it; say: what the crew is told; alarm: it must be heard; then: what is asked now. Of a chain:
    done, how many of its phrases were carried out, and refused, why the next one was not.
    """

    taken: bool
    say: Figure
    events: tuple[Event, ...]
    then: Prompt
    alarm: bool = False
    done: int = 1
    refused: Message | None = None


class Day:
    """One day's log with the state folded from it. Only this class appends."""

    def __init__(self, log: DayLog, clock: Clock, language: str = "en", book: TabletBook | None = None) -> None:
        self.log = log
        self._book = book
        self.language = language
        self.clock = clock
        # Heard with doubt, asked back and waiting for "yes". Not in the log: nothing of it was acknowledged.
        self.doubtful: Doubt | None = None
        self._seed: str | None = None
        self._asked: tuple[State, Moment, Prompt] | None = None
        try:
            self.state: State = fold(log.events)
        except ValueError as unsound:
            log.close()
            raise LogProblem(message("record-unsound", day=log.path.name, why=str(unsound))) from unsound
        self._watched: Moment | None = None
        self._watch(log.events)

    @classmethod
    def begin(
        cls,
        path: Path,
        plan: DayPlan,
        checklists: Mapping[str, Checklist],
        clock: Clock,
        language: str = "en",
        kind: DayKind = "work",
        before: Sequence[cmd.DayBefore] = (),
        lot_seed: str | None = None,
        book: TabletBook | None = None,
    ) -> Day:
        """A new day at `path`. CannotOpen when the plan does not fit the checklists; LogProblem from the disk.

        kind: a day of practice, or a rehearsal, is dated by the clock, whatever the plan says; before: days of which
        areas go on, as `day.before` reads them; lot_seed: the seed of its lots, 32 bytes in hexadecimal, for a day that
        is played again; without it one is drawn; book: of the tablet, from which a day of work has its number.
        """
        if kind != "work":
            plan = plan.model_copy(update={"date": clock.now().wall[:10]})
        used = tuple(c for name, c in checklists.items() if any(a.checklist == name for a in plan.areas))
        seed = lot_seed or new_seed()
        command = cmd.OpenDay(plan=plan, checklists=used, kind=kind, before=tuple(before), lots=commitment(seed))
        numbered = book.beginning() if book is not None and kind == "work" else nullcontext()
        with numbered as beginning:
            if beginning is not None:
                command = command.model_copy(update={"tablet": beginning.chain})
            opening = engine.decide(State(), command, clock.now(), uuid.uuid4().hex)
            if isinstance(opening, engine.Refusal):
                raise CannotOpen(opening.why)
            log = DayLog.create(path)
            try:
                keep_seed(path, seed)
                if beginning is not None:
                    beginning.written(path, plan.date, log.written(opening.events))
                log.append(opening.events)
            except BaseException:
                log.close()
                raise
            if beginning is not None:
                with suppress(LogProblem):  # the next opening finds the day where the book says
                    beginning.begun()
        return cls(log, clock, language, book)

    @classmethod
    def resume(
        cls,
        path: Path,
        clock: Clock,
        *,
        read_only: bool = False,
        language: str = "en",
        book: TabletBook | None = None,
    ) -> Day:
        """A day where it was left, at any event. LogProblem and its kinds from the log.

        read_only: only to look at, while another program works on it or on a disk that cannot be written; book: of the
        tablet, in which it is noted how far the day comes.
        """
        return cls(DayLog.open(path, read_only=read_only), clock, language, None if read_only else book)

    @property
    def words(self) -> Words:
        """How this day is told: in its language and the plan's units, for an eye."""
        return Words(self.language, self.state.plan.units if self.state.plan else "as given")

    def do(self, command: Command, source: Source = TYPED) -> Answer:
        """Carry out a command. The answer is given only once its events are on disk; LogProblem when they cannot be.

        source: how the command, and each value in it, came to the tablet.
        """
        now = self.clock.now()
        self._note_clock(now)
        first: tuple[Figure, ...] = ()
        if not isinstance(command, cmd.Ask | cmd.Tick):
            self._renew_lots(now, CLOCK)
            first = self._let_run_out(now)
        command, was_closed = self._completed(command), self.state.closed
        outcome = self._decide(command, now, uuid.uuid4().hex, source)
        if isinstance(outcome, engine.Refusal):
            return _after(first, self._refused(command, outcome.why, source, now))
        # In a signed day nothing of the clock can be written until it is opened again.
        note = self._clock_note(now, after=len(outcome.events)) if was_closed and outcome.events else None
        self._append((*outcome.events, *((note,) if note is not None else ())))
        told = Several((*first, *outcome.said), "sentences")
        return Answer(True, told, outcome.events, self.prompt, outcome.alarm or bool(first))

    def do_all(
        self, commands: Sequence[Command], source: Source = TYPED, doubted: frozenset[int] = frozenset()
    ) -> Answer:
        """Carry out phrases that were called in one breath, each after the one before, up to the first that is refused.

        All share one moment and reach the disk together or not at all; LogProblem when they cannot. doubted: the places
        of the readings for which another was heard almost as well.
        """
        if len(commands) == 1:
            return self.do(commands[0], _in_breath(source, 0, 0 in doubted))
        now = self.clock.now()
        self._note_clock(now)
        self._renew_lots(now, CLOCK)
        first = self._let_run_out(now)
        taken, why = self._one_by_one(commands, now, source, doubted)
        if not taken:
            assert why is not None
            return _after(first, self._refused(self._with_order(commands[0], self.state), why, source, now))
        # What was called together is only what came to something.
        if why is not None:
            taken, _ = self._one_by_one(commands[: len(taken)], now, source, doubted)
        state = taken[-1].after
        events = [event for outcome in taken for event in outcome.events]
        if why is not None:
            events.append(self._tried(self._with_order(commands[len(taken)], state), why, source, now, state))
        self._append(tuple(events))
        said = dict.fromkeys(each for outcome in taken for each in _lasting(outcome, state))
        alarm = bool(first) or any(outcome.alarm for outcome in taken)
        told = Several((*first, *said), "sentences")
        return Answer(True, told, tuple(events), self.prompt, alarm, done=len(taken), refused=why)

    def _one_by_one(
        self, commands: Sequence[Command], now: Moment, source: Source, doubted: frozenset[int]
    ) -> tuple[list[engine.Decision], Message | None]:
        """What the phrases of a breath do, each on the state after the one before, and why the next is refused."""
        together = sum(not isinstance(command, cmd.SetterIs | cmd.SpeakAs) for command in commands)
        taken: list[engine.Decision] = []
        state = self.state
        for place, command in enumerate(commands):
            called = _in_breath(source, together, place in doubted)
            outcome = engine.decide(
                state, self._with_order(command, state), now, uuid.uuid4().hex, called, self._lot_seed()
            )
            if isinstance(outcome, engine.Refusal):
                return taken, outcome.why
            taken.append(outcome)
            state = outcome.after
        return taken, None

    def trial(self, source: Source = TYPED) -> DayOnTrial:
        """The day as it stands, to try phrases on. source: how they came."""
        doubted = self.doubtful.commands if self.doubtful is not None else ()
        return DayOnTrial(self.state, self.clock.now(), _in_breath(source, 2), self._lot_seed(), doubted)

    def _decide(
        self, command: Command, now: Moment, command_id: str, source: Source
    ) -> engine.Decision | engine.Refusal:
        """What a command does, with the seed of the lots where this tablet has it."""
        return engine.decide(self.state, command, now, command_id, source, self._lot_seed())

    def _completed(self, command: Command) -> Command:
        """The command with what only the tablet can give: the hash of a new seed of lots, the order of samples."""
        if isinstance(command, cmd.OpenAddendum) and command.lots is None:
            seed = new_seed()
            keep_seed(self.log.path, seed)
            return command.model_copy(update={"lots": commitment(seed)})
        return self._with_order(command, self.state)

    def _with_order(self, command: Command, state: State) -> Command:
        """The command with the order of a trial's samples, where it needs one: drawn from the record's head."""
        if isinstance(command, cmd.StartArea):
            planned = state.plan.area(command.area) if state.plan is not None else None
            if planned is None or planned.trial is None or command.area in state.areas:
                return command
            from fieldassist.trial.drawn import order_for

            order = order_for(planned, state.checklists[planned.checklist], self.log.head)
        elif isinstance(command, cmd.MoreSamples):
            if state.area is None or state.area.plan.trial is None:
                return command
            from fieldassist.trial.drawn import more_for

            order = more_for(state.area.plan, command.letters, command.repeats, self.log.head)
        else:
            return command
        return command.model_copy(update={"head": self.log.head, "order": order})

    def _lot_seed(self) -> str | None:
        kept = self.state.lot_seed
        if kept is None:
            return None
        if self._seed is None or commitment(self._seed) != kept.commitment:
            self._seed = seed_of(self.log.path, kept.commitment)
        return self._seed

    def _renew_lots(self, now: Moment, source: Source) -> None:
        """Begin the lots anew where this tablet never had the seed, or lost it: a day taken in from another one."""
        if self.state.closed or self.state.lot_seed is None or self._lot_seed() is not None:
            return
        self._seed = new_seed()
        keep_seed(self.log.path, self._seed)
        outcome = self._decide(cmd.CommitLots(lots=commitment(self._seed)), now, uuid.uuid4().hex, source)
        assert isinstance(outcome, engine.Decision)
        self._append(outcome.events)

    def _let_run_out(self, now: Moment) -> tuple[Figure, ...]:
        """Let clocks run out first that did so while nobody looked, such as while the tablet was off; what is told."""
        if run_out_untold(self.state, now) is None:
            return ()
        outcome = self._decide(cmd.Tick(), now, uuid.uuid4().hex, CLOCK)
        assert isinstance(outcome, engine.Decision)
        self._append(outcome.events)
        return outcome.said

    def _not_before(self, first: tuple[Figure, ...]) -> Answer:
        """Nobody signs what they were not told: what ran out meanwhile is told, and the PIN is asked for again."""
        again = message("day-sign-again")
        return Answer(False, Several((*first, again), "sentences"), (), self.prompt, alarm=True)

    def _refused(self, command: Command, why: Message, source: Source, now: Moment) -> Answer:
        """A refusal is worth a line in the record: an inspector may ask what was tried."""
        if self.state.plan is None or self.state.closed or isinstance(command, cmd.Ask | cmd.Tick | cmd.OpenDay):
            return Answer(False, why, (), self.prompt)
        event = self._tried(command, why, source, now, self.state)
        self._append((event,))
        return Answer(False, why, (event,), self.prompt)

    def _tried(self, command: Command, why: Message, source: Source, now: Moment, state: State) -> Event:
        """The refusal of a command on a state, as the record has it."""
        body = CommandRefused(area=state.active, attempt=attempt(state, command), reason=why)
        event = self._fact(body, source=source, state=state, at=now)
        with suppress(Refused):
            return event.model_copy(update={"command": recorded(command, refused=True)})
        return event

    def _fact(
        self,
        body: Any,
        by: str | None = None,
        after: int = 0,
        source: Source = TYPED,
        state: State | None = None,
        at: Moment | None = None,
    ) -> Event:
        """An event that no command decides. after: how many others come before it; state, at: on which state and when,
        the day's own and now where nothing is said."""
        state = state or self.state
        speaker = state.speaker.name if state.speaker else ""
        seq = state.last_seq + 1 + after
        return Event(
            seq=seq,
            id=f"{uuid.uuid4().hex}.0",
            at=at or self.clock.now(),
            by=speaker if by is None else by,
            source=CLOCK if by == "clock" else source,
            body=body,
        )

    def _note_clock(self, now: Moment) -> None:
        """Record that the wall clock was set: times of day before and after do not compare, intervals still do; or that
        nothing tells whether it was."""
        note = None if self.state.closed else self._clock_note(now)
        if note is not None:
            self._append((note,))

    def _clock_note(self, now: Moment, after: int = 0) -> Event | None:
        """What is to be written of the clock, as `checklist.clock_watch` has it; after: as `_fact` takes it."""
        if self._watched is None:
            return None
        body = clock_note(self._watched, self.log.events[-1].at, now)
        return None if body is None else self._fact(body, by="clock", after=after, at=now)

    def _watch(self, events: Sequence[Event]) -> None:
        for event in events:
            self._watched = watched_since(self._watched, event)

    def _append(self, events: tuple[Event, ...]) -> None:
        if events:
            self.log.append(events)
            self.state = fold(events, self.state)
            self._watch(events)
            if any(isinstance(event.body, DaySigned | DaySealed | AddendumOpened) for event in events):
                self._note_in_book()

    def _note_in_book(self) -> None:
        """What is on disk is safe whether the book can be written or not; the next opening looks at the log too."""
        if self._book is not None:
            with suppress(LogProblem):
                self._book.note(self.log)

    # --- by PIN -----------------------------------------------------------------------------------------------------

    def release(
        self, keys: Keyring, pin: str, name: str, command: ReleaseHold | None = None, source: Source = TYPED
    ) -> Answer:
        """Release a hold point by the PIN of `name`, whoever speaks; command: which one, None for the one at hand.

        A wrong PIN is counted on the tablet and recorded in the day, and nothing else happens.
        """
        if command is None:
            area = after_keeping(self.state, self.clock.now()).area
            if area is None or area.task is None or area.step is None or area.step.kind != "hold":
                return Answer(False, message("day-no-hold"), (), self.prompt)
            command = ReleaseHold(section=area.task.section, step=area.task.step)
        return self._by_pin(keys, pin, name, command.model_copy(update={"name": name}), source)

    def release_method(
        self,
        keys: Keyring,
        pin: str,
        name: str,
        letter: str,
        areas: Sequence[str],
        why: str = "",
        source: Source = TYPED,
    ) -> Answer:
        """Release a combination of the trial that is open for areas, by their keys, by the PIN of the foreman `name`.

        why: the reason where it is not the best one. A wrong PIN as in `release`.
        """
        from fieldassist.trial import released
        from fieldassist.trial.samples import analysis_of

        area, plan = self.state.area, self.state.plan
        if area is None or area.plan.trial is None or plan is None:
            return Answer(False, message("day-no-trial"), (), self.prompt)
        said = analysis_of(area)
        if not any(one.letter == letter and one.samples for one in said.estimates):
            return Answer(False, message("trial-nothing-seen", letter=letter), (), self.prompt)
        if letter != said.best and not why:
            return Answer(False, message("trial-why-not-best", letter=letter, best=said.best or ""), (), self.prompt)
        what = released.shown(area, said, letter, date=plan.date, site=plan.site, head=self.log.head, by=name, why=why)
        made = released.made_up(area, letter, what)
        command = cmd.ReleaseMethod(letter=letter, areas=tuple(areas), made=made, name=name)
        return self._by_pin(keys, pin, name, command, source)

    def confirm(self, keys: Keyring, pin: str, name: str, strike: Sequence[int] = (), source: Source = TYPED) -> Answer:
        """Confirm, by the PIN of `name`, the releases that were called out in that name; strike: the numbers of those
        that were none, and are struck out. A wrong PIN as in `release`."""
        command = cmd.ConfirmReleases(name=name, strike=tuple(strike), key=_ANY_KEY)
        return self._by_pin(keys, pin, name, command, source)

    def _by_pin(self, keys: Keyring, pin: str, who: str, command: Command, source: Source) -> Answer:
        self._note_clock(self.clock.now())
        self._renew_lots(self.clock.now(), CLOCK)
        first = self._let_run_out(self.clock.now())
        if first:
            return self._not_before(first)
        refused = self._would_refuse(command, source)
        if refused is not None:
            return refused
        key = self._unlocked(keys, who, pin, source)
        if isinstance(key, Answer):
            return key
        outcome = self._signed(command, key, source)
        if isinstance(outcome, Answer):
            return outcome
        self._append(outcome.events)
        return Answer(True, Several(outcome.said, "sentences"), outcome.events, self.prompt, outcome.alarm)

    def _would_refuse(self, command: Command, source: Source) -> Answer | None:
        """The answer to a command that would be refused even with the right PIN: given before one is tried."""
        tried, now = command.model_copy(update={"key": _ANY_KEY, "signature": ANY_SIGNATURE}), self.clock.now()
        outcome = self._decide(tried, now, uuid.uuid4().hex, source)
        return self._refused(tried, outcome.why, source, now) if isinstance(outcome, engine.Refusal) else None

    def _signed(self, command: Command, key: SigningKey, source: Source) -> engine.Decision | Answer:
        """What a command does, its event that a PIN signs signed with the key, where there is one."""
        from fieldassist.record.seal import SignedByPin, release_statement

        now, command_id = self.clock.now(), uuid.uuid4().hex
        unsigned = command.model_copy(update={"key": key.public_key, "signature": ANY_SIGNATURE})
        outcome = self._decide(unsigned, now, command_id, source)
        if isinstance(outcome, engine.Refusal):
            return self._refused(unsigned, outcome.why, source, now)
        # A reading that waited for no yes was kept before it.
        signs = (place for place, e in enumerate(outcome.events) if isinstance(e.body, SignedByPin))
        place = next(signs, None)
        if place is None:
            return outcome
        assert self.state.plan is not None
        signed_event, before = outcome.events[place], self.log.written(outcome.events[:place])
        assert isinstance(signed_event.body, SignedByPin)
        after = chain_hash(before[-1]) if before else self.log.head
        signature = key.sign(release_statement(signed_event.body, self.state.plan, seq=signed_event.seq, after=after))
        outcome = self._decide(unsigned.model_copy(update={"signature": signature.hex()}), now, command_id, source)
        assert isinstance(outcome, engine.Decision)
        return outcome

    def _unlocked(self, keys: Keyring, who: str, pin: str, source: Source) -> SigningKey | Answer:
        """The key that this person's PIN opens, or the answer that says why it may not be used here."""
        from fieldassist.record.keys import KeyProblem, LockedOut, WrongPin
        from fieldassist.record.seal import not_for

        try:
            key = keys.unlock(who, pin, self.clock.now())
        except (WrongPin, LockedOut) as refusal:
            until = refusal.until.isoformat(timespec="seconds") if isinstance(refusal, LockedOut) else ""
            body = PinRefused(name=who, attempts_left=refusal.attempts_left, locked_until=until)
            return Answer(False, told(refusal), self._noted(body, source), self.prompt)
        except KeyProblem as refusal:
            return Answer(False, told(refusal), (), self.prompt)
        person = self.state.plan.person(who) if self.state.plan is not None else None
        if person is None or person.role is not key.role:
            role = person.role.value if person is not None else "none"
            why = message("day-key-of-other-role", name=who, made=key.role.value, role=role)
            return Answer(False, why, (), self.prompt)
        wrong = not_for(self.state.kind, key)
        if wrong is not None:
            return Answer(False, wrong, (), self.prompt)
        if key.replaces and not any(
            isinstance(e.body, KeyReplaced) and e.body.key == key.public_key for e in self.log.events
        ):
            self._noted(KeyReplaced(name=who, key=key.public_key, before=key.replaces), source)
        return key

    def note_recovered(self, events: int, behind: int, missing: tuple[tuple[int, int], ...]) -> None:
        """Record that the log was damaged and what of it goes on, as `record.recover` found it; not in a day that is
        signed, where nothing may follow but its addendum."""
        if self.state.closed:
            return
        self._note_clock(self.clock.now())
        body = DayRecovered(events=events, behind=behind, missing=missing)
        self._append((self._fact(body, by="clock"),))

    def _noted(self, body: Any, source: Source) -> tuple[Event, ...]:
        """A fact about a PIN, written down; not in a day that is signed, where only its seal may follow."""
        if self.state.closed:
            return ()
        event = self._fact(body, source=source)
        self._append((event,))
        return (event,)

    def sign(
        self,
        keys: Keyring,
        pin: str,
        *,
        strokes: Strokes = (),
        accept_open: bool = False,
        strike: Sequence[int] = (),
        source: Source = TYPED,
        pages: Callable[[SigningKey], object] | None = None,
    ) -> Answer:
        """Sign the day, or its open addendum, as the person who speaks, and seal it with that person's key.

        The same PIN confirms the releases that were called out in the signer's name, without those in `strike`, which
        are struck out. All of it reaches the disk together. A day that was signed by voice is sealed by whoever signed
        it, and nothing is confirmed by that. A wrong PIN is counted on the tablet and recorded in the day, and nothing
        else happens: but not in a day that is signed already, where only the seal may follow.

        pages: makes the signed file of the day, with the key while it is open, when the seal is on disk; why it could
        not is told, whatever went wrong there, and the day is sealed all the same.
        """
        # Whoever only works on a day does not wait for what signs it.
        from fieldassist.record.seal import SealProblem, make_seal

        who = self.state.signed[-1] if self.state.closed else self.state.speaker.name if self.state.speaker else ""
        if self.state.sealed:
            return Answer(False, message("day-sealed-already"), (), self.prompt)
        self._note_clock(self.clock.now())
        self._renew_lots(self.clock.now(), CLOCK)
        first = self._let_run_out(self.clock.now())
        if first:
            return self._not_before(first)
        command = cmd.SignDay(accept_open=accept_open, strokes=strokes, strike=tuple(strike))
        refused = None if self.state.closed else self._would_refuse(command, source)
        if refused is not None:
            return refused
        key = self._unlocked(keys, who, pin, source)
        if isinstance(key, Answer):
            return key
        signed: tuple[Event, ...] = ()
        if not self.state.closed:
            outcome = self._signed(command, key, source)
            if isinstance(outcome, Answer):
                return outcome
            signed = outcome.events
        events = [*self.log.events, *signed]
        hashes = [*self.log.hashes, *(chain_hash(text) for text in self.log.written(signed))]
        try:
            seal = self._fact(make_seal(events, hashes, key), by=who, after=len(signed), source=source)
        except SealProblem as problem:
            return Answer(False, told(problem), (), self.prompt)
        self._append((*signed, seal))
        said = message("day-signed-and-sealed", part=self.state.part, key=key.fingerprint)
        if pages is not None:
            try:
                pages(key)
            except Exception as problem:
                # Nothing that makes pages may take a sealed day from whoever works on it.
                said = message("day-sealed-without-pages", sealed=said, why=why_no_pages(problem))
        return Answer(True, said, (*signed, seal), self.prompt)

    def tick(self) -> Answer | None:
        """Let clocks warn and run out; None when nothing happened."""
        due = self.minutes_to_next_alarm()
        if due is None or due > 0:
            return None
        answer = self.do(cmd.Tick())
        return answer if answer.events else None

    def minutes_to_next_alarm(self) -> float | None:
        """Minutes until a clock has something to say, or None."""
        return minutes_to_next_alarm(self.state, self.clock.now())

    @property
    def prompt(self) -> Prompt:
        """What is asked now: first of all whether what was heard with doubt was meant."""
        now = self.clock.now()
        # It is looked at several times for each answer, and a day that is played stands still between them.
        if self._asked is None or self._asked[0] is not self.state or self._asked[1] != now:
            self._asked = (self.state, now, prompt(self.state, now))
        asked = self._asked[2]
        doubt = self.doubtful
        return asked if doubt is None else whether_meant(asked, doubt.words, doubt.name)

    def close(self) -> None:
        """Give the log back."""
        if self.log.events:
            self._note_in_book()
        self.log.close()

    def __enter__(self) -> Day:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _after(first: Sequence[Figure], answer: Answer) -> Answer:
    """The answer behind what had to be told first."""
    if not first:
        return answer
    return replace(answer, say=Several((*first, answer.say), "sentences"), alarm=True)


def _in_breath(source: Source, together: int, doubt: bool = False) -> Source:
    """The source of one phrase among so many that were called together."""
    return source.model_copy(update={"together": together if together > 1 else 0, "doubt": doubt})


def _lasting(outcome: engine.Decision, end: State) -> tuple[Figure, ...]:
    """What is told of one phrase of a chain at its end: a value that waits then is read back by itself."""
    waits = {one.seq for one in end.waiting}
    return () if any(event.seq in waits for event in outcome.events) else outcome.said


def why_no_pages(problem: Exception) -> Message:
    """Why the pages of a day could not be made: what was refused, or that the program failed, and in what."""
    if isinstance(problem, Refused):
        return problem.told
    return message("day-pages-fault", fault=f"{type(problem).__name__}: {problem}")


def told(problem: Exception) -> Figure:
    """What an error tells a person: its message, or its text where it has none."""
    found: Figure | None = getattr(problem, "told", None)
    return Text.plain(str(problem)) if found is None else found
