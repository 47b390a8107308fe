"""What the sequence would take one after the other from here on: for listening to several phrases in one breath."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from fieldassist.checklist import cautions, engine
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.kinds import Reading
from fieldassist.checklist.moment import SPOKEN, Moment
from fieldassist.checklist.offers import NO, Offer
from fieldassist.checklist.plan import Role
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.state import State
from fieldassist.checklist.wording import WRITTEN_IN
from fieldassist.trade import quantities
from fieldassist.trade.message import message

# So many steps are looked at: a round of a tile has six, a lift with its yes eight. Ours.
_PLACES = 14
# Behind a yes or a no, which any word more could be misheard as.
_PLACES_WAITING = 8
# What may be said to what was read back, though nobody waits for it.
_BESIDE = (cmd.Keep, cmd.Withdraw, cmd.GiveReading, cmd.Choose)
# Said alone: what changes nothing, and what cannot be taken back or must be meant by itself. At the beginning of a
# breath only: what answers something that was told.
ALONE = (cmd.Ask, cmd.SignDay)
AT_FIRST = (cmd.AcknowledgeCaution, cmd.Keep)
# Never in the breath that has what must be done before: tiles are not in while their mortar is spread.
_LATER = (cmd.TilesIn,)
_NO = Offer(NO, message("prompt-no"), cmd.Withdraw())


@dataclass(frozen=True, slots=True)
class Turn:
    """What may be said at a place, and at which places one may be after it; none where a breath ends with it."""

    offer: Offer
    then: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Juncture:
    """Where a day may stand within a breath.

    bare: a value alone is said there, in place of one that was wrong; before: whose hands and which bucket, which may
    be said before anything that is said there; names: of those who set, said alone before it;
    behind: where one is after them.
    """

    turns: tuple[Turn, ...]
    bare: bool = False
    before: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    behind: int = 0


def ahead(state: State, now: Moment, language: str = WRITTEN_IN) -> tuple[Juncture, ...]:
    """What answers the step at hand, what answers the one behind it when it was answered well, and so on.

    The first place is where the day stands, at the beginning of a breath. Where it comes to stand as it stood before is
    the same place, so that a breath may go round. Behind a value "no" may be said, and the value again.
    """
    return _Flow(now, language, _PLACES_WAITING if _waits(state) else _PLACES).places(state)


def _waits(state: State) -> bool:
    return state.pending is not None and not state.pending.unquestioned


@dataclass
class _Flow:
    now: Moment
    language: str
    most: int
    # Of each place its turns and whether a value alone is meant; those of bare places are of another, made later.
    turns: list[list[Turn]] = field(default_factory=list)
    known: dict[tuple[object, ...], int] = field(default_factory=dict)
    waiting: list[tuple[int, State]] = field(default_factory=list)
    bare: dict[int, int] = field(default_factory=dict)

    def places(self, state: State) -> tuple[Juncture, ...]:
        # The first place is for what begins a breath; where one comes to stand so again is another.
        self.waiting.append((self._new(), state))
        for at, one in self.waiting:  # grows while it is gone through
            self._look(at, one)
        found = {at: Juncture(tuple(turns)) for at, turns in enumerate(self.turns)}
        found |= {at: Juncture(found[of].turns, bare=True) for of, at in self.bare.items()}
        if not _waits(state):
            # Behind a name stands what is no answer to what was told.
            plain = tuple(
                turn for turn in found[0].turns if not isinstance(turn.offer.command, (*AT_FIRST, cmd.Withdraw))
            )
            before, names = _before(state, self.now, self.language), _installers(state).values()
            found[0] = replace(found[0], before=tuple(before), names=tuple(names), behind=self._new(*plain))
            found[found[0].behind] = Juncture(plain)
        return tuple(found[at] for at in range(len(self.turns)))

    def _place(self, state: State | None) -> tuple[int, ...]:
        """The place of a state, made where it is new; none for no state, and where enough were looked at."""
        if state is None:
            return ()
        key = _at(state, self.now)
        if key not in self.known:
            if len(self.waiting) == self.most:
                return ()
            self.known[key] = self._new()
            self.waiting.append((self.known[key], state))
        return (self.known[key],)

    def _new(self, *turns: Turn) -> int:
        self.turns.append(list(turns))
        return len(self.turns) - 1

    def _bare(self, places: tuple[int, ...]) -> tuple[int, ...]:
        """The same places, where a value alone may be said."""
        for place in places:
            if place not in self.bare:
                self.bare[place] = self._new()
        return tuple(self.bare[place] for place in places)

    def _again(self, state: State) -> tuple[int, ...]:
        """Where one of several that wait is named again, and is meant alone; then another."""
        waiting = {(one.task.section, one.task.step) for one in state.waiting}
        if len(waiting) < 2:
            return ()
        place = self._new()
        for offer in prompt(state, self.now, self.language).offers:
            command = offer.command
            if isinstance(command, cmd.GiveReading | cmd.Choose) and (command.section, command.step) in waiting:
                self.turns[place].append(Turn(replace(offer, now=True), (place,)))
        return (place,)

    def _look(self, at: int, state: State) -> None:
        """What may be said at a place, and where one is after it."""
        turns = self.turns[at]
        values: list[Turn] = []
        for offer in dict.fromkeys(_answers(state, self.now, self.language)):
            if isinstance(offer.command, ALONE) or (at and isinstance(offer.command, (*AT_FIRST, *_LATER))):
                continue
            then = self._place(_after(state, offer, self.now))
            if isinstance(offer.command, cmd.GiveReading):
                values.append(Turn(offer, then))
                continue
            if isinstance(offer.command, cmd.Withdraw):
                then = (*self._bare(then), *self._again(state))
            turns.append(Turn(offer, then))
        if values:
            anew = self._new(*values)
            objection = self._new(Turn(_NO, self._bare((anew,))))
            for turn in values:
                turns.append(Turn(turn.offer, (*turn.then, objection)))


def _answers(state: State, now: Moment, language: str) -> Iterator[Offer]:
    asked = prompt(state, now, language)
    # What was read back may be objected to also where nobody asks, and the rest of a lift joins it.
    beside = (o for o in asked.offers if o.now and o.aside and isinstance(o.command, _BESIDE)) if state.pending else ()
    # Mortar for several tiles is begun as the round of one is.
    spread = (o for o in asked.offers if o.now and isinstance(o.command, cmd.SpreadMortar))
    for offer in (*asked.answers, *spread, *beside):
        if offer.slot is not None and not offer.slot.heard:
            continue
        # What was done is taken back alone.
        if state.pending is not None or not isinstance(offer.command, cmd.Withdraw):
            yield offer


def _installers(state: State) -> dict[str, str]:
    """Whoever may set, by name, and as that one is called."""
    crew = state.plan.crew if state.plan is not None and state.area is not None else ()
    return {person.name: person.said for person in crew if person.role is Role.INSTALLER and person.said}


def _before(state: State, now: Moment, language: str) -> Iterator[str]:
    """Who sets, and which bucket."""
    installers = _installers(state)
    for offer in prompt(state, now, language).offers:
        sets = isinstance(offer.command, cmd.SetterIs) and offer.command.name in installers
        if offer.now and (sets or isinstance(offer.command, cmd.TakeBucket)):
            yield from offer.phrases


def _at(state: State, now: Moment) -> tuple[object, ...]:
    """Where a day stands, as far as it tells what may be said."""
    area = state.area
    if area is None:
        return (state.speaker is not None,)
    task = area.task
    step = (task.section, task.step) if task is not None else None
    due = tuple((one.caution.id, one.persons) for one in cautions.due(state, area, now))
    return (state.active, step, area.progress.phase, state.pending is not None, due, frozenset(area.progress.good))


def _after(state: State, offer: Offer, now: Moment) -> State | None:
    """The state once the offer was said and, where a value waits then, kept; None where it is refused or fails."""
    command = _well(state, offer)
    if isinstance(command, cmd.SignDay | cmd.StartArea | cmd.FinishArea):
        return None
    outcome = engine.decide(state, command, now, "ahead", SPOKEN)
    # What joins others that wait, waits with them.
    waits = isinstance(outcome, engine.Decision) and len(outcome.after.waiting) == 1
    if isinstance(outcome, engine.Decision) and isinstance(command, cmd.GiveReading) and waits:
        outcome = engine.decide(outcome.after, cmd.Keep(), now, "ahead", SPOKEN)
    if isinstance(outcome, engine.Refusal) or (outcome.alarm and not isinstance(command, cmd.StartRound)):
        return None
    return outcome.after


def _well(state: State, offer: Offer) -> Command:
    """What the offer says with a value that passes, or with the least that it takes."""
    slot, command = offer.slot, offer.command
    if slot is None or not slot.units:
        return command if slot is None else offer.fill(Fraction(1), "count", "ONE")
    value, unit = slot.low, slot.units[0]
    area = state.area
    if isinstance(command, cmd.GiveReading) and area is not None:
        step = area.checklist.step(command.section, command.step)
        criterion = area.criterion(step) if isinstance(step, Reading) else None
        if criterion is not None:
            ends = [end for end in (criterion.at_least, criterion.at_most) if end is not None]
            value = quantities.canonical(sum(ends) / len(ends), criterion.unit) if ends else value
    info = quantities.unit_info(unit)
    in_unit = quantities.convert(value, info.canonical, unit)
    whole = Fraction(max(1, round(in_unit))) if slot.whole else Fraction(in_unit).limit_denominator(1000)
    return offer.fill(whole, unit)
