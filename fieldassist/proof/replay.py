"""A day decided again, command by command: whether each event is what the engine makes of the record before it.

The first event of a decision shows the command; moment, id and source are the event's own, and lots come from the seed
that the record shows, or as it has them where it shows none. The opening is told by its events; of what goes on from
another day only that day's own record tells whether it had come so far. What no command brings about has rules of its
own. An event whose text lacks a field has it at its default, and that must be what the engine decides: a field that
comes later stays at its default for days of earlier rules (`events.RULES`).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import rfc8785

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine, lots
from fieldassist.checklist import events as ev
from fieldassist.checklist.attempt import attempt
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.lots import AsRecorded, Lottery
from fieldassist.checklist.moment import CLOCK, Source
from fieldassist.checklist.prompt import run_out_untold
from fieldassist.checklist.recorded import as_asked
from fieldassist.checklist.state import State, command_of
from fieldassist.record.chain import GENESIS, UNREADABLE, canonical_text, chain_hash
from fieldassist.trade.message import Message, Refused, message

# What a record made to do harm may bring the engine to.
_TRIPS = (*UNREADABLE, AssertionError, StopIteration, Refused)
# Letters that nobody sees, or that turn the order of others about, in canonical JSON: controls are escaped there.
_HIDDEN = re.compile(
    r"(?<!\\)(?:\\\\)*\\[bfnrtu]|[\x7f-\x9f\u00ad\u200b\u200e\u200f\u2028-\u202e\u2060-\u2064\u2066-\u2069\ufeff]"
)
_LONGEST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Senseless:
    """What makes no sense: at which event, and why. doubt: it may be so, and somebody must look into it."""

    seq: int
    why: Message
    doubt: bool = False


def decided_again(events: Sequence[Event], hashes: Sequence[str]) -> Iterator[Senseless]:
    """What does not follow, in order. After each the record's own events go on.

    events: a whole chain whose first event opens a day, of rules from 1; hashes: the chain hash after each.
    """
    lotteries = _lotteries(events)
    state, at = State(), 0
    while at < len(events):
        group = _decision(events, at)
        befores = [hashes[n - 1] if n else GENESIS for n in range(at, at + len(group))]
        links = list(zip(group, befores, hashes[at : at + len(group)], strict=True))
        wrong: list[Senseless] = []
        try:
            wrong, after = _judged(state, links, lotteries)
            yield from wrong
            state = fold(group, state) if after is None else after
        except _TRIPS:
            # What follows from a fault that was named is not named again.
            if all(one.doubt for one in wrong):
                yield Senseless(group[0].seq, message("proof-sense-breaks"))
            return
        at += len(group)


# What of one event is compared: it, the hash before and its own.
_Linked = tuple[Event, str, str]


def _judged(
    state: State, links: Sequence[_Linked], lotteries: Mapping[str, Lottery]
) -> tuple[list[Senseless], State | None]:
    """What makes no sense in one decision, and the state after it where the engine comes to the same."""
    group = [event for event, _, _ in links]
    first = group[0]
    if isinstance(first.body, ev.DayOpened):
        return _opening(state, links)
    if isinstance(first.body, ev.CommandRefused):
        return _refusal(state, links, lotteries), None
    if first.command is None:
        return _fact(state, links), None
    run = None if isinstance(first.command, cmd.Tick) else run_out_untold(state, first.at)
    if run is not None:
        minutes = round(-run.left(first.at), 1)
        late = message("proof-sense-run-out", clock=run.clock, started=str(run.run), minutes=minutes)
        return [Senseless(first.seq, late)], None
    # What the clock measured is the clock's, whoever brought it about.
    called = next((event.source for event in group if event.source.how != "clock"), first.source)
    came = _decide(state, as_asked(first.command, group), first, lotteries, called)
    if isinstance(came, engine.Refusal):
        return [Senseless(first.seq, message("proof-sense-refused", asked=first.command.do, why=came.why))], None
    wrong = _compared(links, came.events)
    return wrong, None if any(not one.doubt for one in wrong) else came.after


def _decide(
    state: State, command: cmd.Command, first: Event, lotteries: Mapping[str, Lottery], source: Source
) -> engine.Decision | engine.Refusal:
    kept = state.lot_seed
    lottery = lotteries.get(kept.commitment) if kept is not None else None
    return engine.decide(state, command, first.at, command_of(first), source, lottery, aloud=False)


def _decision(events: Sequence[Event], at: int) -> Sequence[Event]:
    """The events from `at` on that one command brought about: they share its id, and only the first shows it."""
    end = at + 1
    while end < len(events) and events[end].command is None and command_of(events[end]) == command_of(events[at]):
        end += 1
    return events[at:end]


def _lotteries(events: Sequence[Event]) -> Mapping[str, Lottery]:
    """Where the lots of each seed come from: the seed, where the record shows it, or what the record has."""
    shown: dict[str, Lottery] = {}
    drawn: dict[str, dict[int, bool]] = {}
    now = ""
    for event in events:
        body = event.body
        if isinstance(body, ev.LotsCommitted):
            now = body.commitment
            drawn.setdefault(now, {})
        elif isinstance(body, ev.LotsRevealed) and lots.commitment(body.seed) == body.commitment:
            shown[body.commitment] = body.seed
        elif isinstance(body, ev.SectionClosed | ev.TileCounted) and body.lot is not None and now:
            drawn[now][body.lot.setting] = body.lot.fell
    return {**{committed: AsRecorded(committed, fell) for committed, fell in drawn.items()}, **shown}


# --- each kind of decision ----------------------------------------------------------------------------------------


def _opening(state: State, links: Sequence[_Linked]) -> tuple[list[Senseless], State | None]:
    """The opening of the day: from its plan, its checklists and what goes on, as the events tell them."""
    group = [event for event, _, _ in links]
    first = group[0]
    opened: Any = first.body
    if state.plan is not None:
        return [Senseless(first.seq, message("proof-sense-second-day"))], state
    command = cmd.OpenDay(
        plan=opened.plan,
        checklists=tuple(e.body.checklist for e in group if isinstance(e.body, ev.ChecklistAdopted)),
        kind=opened.kind,
        lots=next((e.body.commitment for e in group if isinstance(e.body, ev.LotsCommitted)), None),
        tablet=opened.tablet,
    )
    came = _decide(state, command, first, {}, first.source)
    if isinstance(came, engine.Refusal):
        return [Senseless(first.seq, message("proof-sense-refused", asked=command.do, why=came.why))], None
    body = came.events[0].body.model_copy(update={"continues": opened.continues, "rules": opened.rules})
    wanted = [came.events[0].model_copy(update={"body": body}), *came.events[1:]]
    held = [e.body.held for e in group if isinstance(e.body, ev.AreaCarried)]
    carried = [(day, area) for day in opened.continues for area in day.areas]
    for number, ((day, area), how_far) in enumerate(zip(carried, held, strict=False), len(wanted)):
        goes_on = ev.AreaCarried(area=area, date=day.date, head=day.head, held=how_far)
        same = {"seq": number + 1, "id": f"{command_of(first)}.{number}", "body": goes_on, "command": None}
        wanted.append(first.model_copy(update=same))
    wrong = _compared(links, wanted)
    if len(held) < len(carried):
        wrong.append(Senseless(group[-1].seq, message("proof-sense-not-carried", area=carried[len(held)][1])))
    return wrong, None


def _refusal(state: State, links: Sequence[_Linked], lotteries: Mapping[str, Lottery]) -> list[Senseless]:
    """A refusal: the engine must refuse the same command, for the same reason."""
    first = links[0][0]
    if state.closed:
        return [Senseless(first.seq, message("proof-sense-in-signed"))]
    command = first.command
    if command is None:
        return [Senseless(first.seq, message("proof-sense-refused-what"), doubt=True)]
    came = _decide(state, as_asked(command, ()), first, lotteries, first.source)
    if isinstance(came, engine.Decision):
        return [Senseless(first.seq, message("proof-sense-not-refused", asked=command.do))]
    told = ev.CommandRefused(area=state.active, attempt=attempt(state, command), reason=came.why)
    return _compared(links, [_of_whoever_speaks(state, first, told)])


def _fact(state: State, links: Sequence[_Linked]) -> list[Senseless]:
    """What no command brings about: a wrong PIN, a key replaced, a seal, the clock, a damaged log."""
    first = links[0][0]
    body = first.body
    if isinstance(body, ev.DaySealed):
        return _compared(links, [first.model_copy(update={"by": body.name})])
    if not isinstance(body, ev.PinRefused | ev.KeyReplaced | ev.ClockJumped | ev.ClockUnwatched | ev.DayRecovered):
        return [Senseless(first.seq, message("proof-sense-unasked", what=body.type))]
    if state.closed:
        return [Senseless(first.seq, message("proof-sense-in-signed"))]
    if isinstance(body, ev.DayRecovered) and not _can_be(body, state.last_seq):
        return [Senseless(first.seq, message("proof-sense-recovered", events=str(body.events)))]
    if isinstance(body, ev.ClockJumped | ev.ClockUnwatched | ev.DayRecovered):
        return _compared(links, [first.model_copy(update={"by": "clock", "source": CLOCK})])
    if state.plan is None or state.plan.person(body.name) is None:
        return [Senseless(first.seq, message("proof-sense-nobody", name=body.name))]
    return _compared(links, [_of_whoever_speaks(state, first, body)])


def _can_be(body: ev.DayRecovered, before: int) -> bool:
    """Whether a log can have been put together so: what goes on stands before it, but for a note of the clock, and each
    gap lies behind that and behind the gap before."""
    ends = [body.events, *(last for _, last in body.missing)]
    apart = all(end < first <= last for end, (first, last) in zip(ends, body.missing, strict=False))
    return before - 1 <= body.events <= before and apart and body.behind >= 0


def _of_whoever_speaks(state: State, first: Event, body: Any) -> Event:
    """An event that no command brings about, as the person who speaks then has it."""
    speaker = state.speaker.name if state.speaker is not None else ""
    return first.model_copy(update={"by": speaker, "body": body})


# --- comparing ----------------------------------------------------------------------------------------------------


def _compared(links: Sequence[_Linked], wanted: Sequence[Event]) -> list[Senseless]:
    """The first event of a decision that is not as it should be, and letters in its texts that nobody sees."""
    found: list[Senseless] = []
    for (event, before, own), right in zip(links, wanted, strict=False):
        text = canonical_text(right, before)
        if chain_hash(text) != own:
            why = _difference(event, right, before, own)
            if why is not None:
                return [*found, Senseless(event.seq, why)]
        if _HIDDEN.search(text) and not isinstance(event.body, ev.ChecklistAdopted):
            found.append(Senseless(event.seq, message("proof-sense-hidden"), doubt=True))
    last = links[-1][0].seq
    if len(wanted) > len(links):
        found.append(Senseless(last, message("proof-sense-missing", what=wanted[len(links)].body.type)))
    elif len(links) > len(wanted):
        extra = links[len(wanted)][0]
        found.append(Senseless(extra.seq, message("proof-sense-unasked", what=extra.body.type)))
    return found


def _difference(event: Event, right: Event, before: str, own: str) -> Message | None:
    """Where an event is another than it should be; None where its text only lacks what stands at its default."""
    if event.body.type != right.body.type:
        return message("proof-sense-other-event", said=event.body.type, should=right.body.type)
    where = _first(event.model_dump(mode="json"), right.model_dump(mode="json"), "")
    if where is not None:
        path, said, should = where
        return message("proof-sense-field", field=path.removeprefix("body."), said=said, should=should)
    shorter = {**event.model_dump(mode="json", exclude_unset=True), "prev": before}
    return None if chain_hash(rfc8785.dumps(shorter).decode("utf-8")) == own else message("proof-sense-form")


def _first(said: Any, should: Any, path: str) -> tuple[str, str, str] | None:
    """The first place where two JSON values differ, and both values there."""
    if isinstance(said, dict) and isinstance(should, dict):
        for key in sorted(said.keys() | should.keys()):
            found = _first(said.get(key), should.get(key), f"{path}.{key}" if path else key)
            if found is not None:
                return found
        return None
    if isinstance(said, list) and isinstance(should, list) and len(said) == len(should):
        for place, (one, other) in enumerate(zip(said, should, strict=True)):
            found = _first(one, other, f"{path}.{place}")
            if found is not None:
                return found
        return None
    return None if said == should else (path, _shown(said), _shown(should))


def _shown(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]} ..."
