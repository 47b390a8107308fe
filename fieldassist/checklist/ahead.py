"""What the sequence would take one after the other from here on: for listening to several phrases in one breath."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fieldassist.checklist import cautions, engine
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.kinds import Reading
from fieldassist.checklist.moment import SPOKEN, Moment
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.state import State
from fieldassist.checklist.wording import WRITTEN_IN
from fieldassist.trade import quantities

# A breath has few phrases; a round of a tile has six steps, a lift with its yes eight. Ours.
_PLACES = 9
# Behind a yes or a no: any word more is one that these could be misheard as.
_PLACES_WAITING = 3
# At one place, of different steps at hand: a batch, a tile, a lift, a finding.
_WAYS = 3
# What may be said to what was read back, though nobody waits for it.
_BESIDE = (cmd.Keep, cmd.Withdraw, cmd.GiveReading, cmd.Choose)


def ahead(state: State, now: Moment, language: str = WRITTEN_IN) -> tuple[tuple[Offer, ...], ...]:
    """What answers the step at hand, what answers the one behind it when it was answered well, and so on.

    Each step is looked at once: what comes round again is not listed again.
    """
    places: list[tuple[Offer, ...]] = []
    ways, seen = [state], {_at(state, now)}
    most = _PLACES_WAITING if state.pending is not None and not state.pending.unquestioned else _PLACES
    while ways and len(places) < most:
        found: dict[tuple[str, ...], Offer] = {}
        following: list[State] = []
        for way in ways:
            for offer in _answers(way, now, language):
                found.setdefault(offer.phrases, offer)
                after = _after(way, offer, now)
                if after is not None and _at(after, now) not in seen:
                    seen.add(_at(after, now))
                    following.append(after)
        places.append(tuple(found.values()))
        ways = following[:_WAYS]
    return tuple(places)


def _answers(state: State, now: Moment, language: str) -> Iterator[Offer]:
    asked = prompt(state, now, language)
    # What was read back may be objected to also where nobody asks, and the rest of a lift joins it.
    beside = (o for o in asked.offers if o.now and o.aside and isinstance(o.command, _BESIDE)) if state.pending else ()
    for offer in (*asked.answers, *beside):
        if offer.slot is not None and not offer.slot.heard:
            continue
        # What was done is taken back alone.
        if state.pending is not None or not isinstance(offer.command, cmd.Withdraw):
            yield offer


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
    if isinstance(outcome, engine.Decision) and isinstance(command, cmd.GiveReading) and outcome.after.pending:
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
