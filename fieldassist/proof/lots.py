"""Which tiles were lifted by lot, drawn again from the seed that the record shows: nobody knew, and anybody can check.

The hash of a seed stands in the chain before the first lot that is drawn from it; the seed itself is shown at sign-off.
Every lot is drawn again here as `checklist.lots` draws it, on the day folded up to it: its number among the settings of
the day, how often it falls, whether the row without a lift forced it, and whether the seed let it fall.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from fieldassist.checklist import covering, lots
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import apply
from fieldassist.checklist.state import Area, State
from fieldassist.checklist.told import write_figure
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short
from fieldassist.trade.message import Message, Several, message

_MOST_NAMED = 20


@dataclass
class SeedCheck:
    """A seed that was committed: by which event, shown by which (None while it is not), how many lots came of it."""

    commitment: str
    committed: int
    shown: int | None = None
    seed: str = ""
    drawn: int = 0


@dataclass
class LotsCheck:
    """What became of the lots of a day. faults: by event; not_drawn: events of settings that should have had a lot;
    missed: how many fell or were forced and were not looked under."""

    seeds: list[SeedCheck] = field(default_factory=list)
    drawn: int = 0
    fell: int = 0
    forced: int = 0
    missed: int = 0
    not_drawn: list[int] = field(default_factory=list)
    faults: list[tuple[int, Message]] = field(default_factory=list)


def check_lots(events: Sequence[Event], found: Findings) -> None:
    """Draw every lot of a day again, and say what does not fit. `events`: a whole chain."""
    if not any(isinstance(event.body, ev.LotsCommitted) or _sets_a_tile(event) for event in events):
        return
    try:
        check = drawn_again(events)
    except MemoryError:
        raise
    except Exception:
        # Events that follow from each other need not make sense; whatever trips over them means that.
        found.facts["lots"] = None
        found.say("lots-not-checked", DAMAGED)
        return
    found.facts["lots"] = _fact(check)
    _tell(check, found)


def _sets_a_tile(event: Event) -> bool:
    return isinstance(event.body, ev.SectionClosed | ev.TileCounted) and event.body.tile is not None


def drawn_again(events: Sequence[Event]) -> LotsCheck:
    """Every lot, drawn again. ValueError, KeyError and others where the events do not fold."""
    shown = {event.body.commitment: event for event in events if isinstance(event.body, ev.LotsRevealed)}
    check, state = LotsCheck(), State()
    for event in events:
        body = event.body
        if isinstance(body, ev.LotsCommitted):
            check.seeds.append(_seed(body, event.seq, shown))
        elif isinstance(body, ev.LotsRevealed) and lots.commitment(body.seed) != body.commitment:
            check.faults.append((event.seq, message("proof-lot-other-seed")))
        elif isinstance(body, ev.SectionClosed | ev.TileCounted) and body.tile is not None:
            area = state.areas[body.area]
            if body.lot is not None:
                check.faults += [(event.seq, why) for why in _faults(check, state, area, body, body.lot)]
            elif covering.lot_rule(area) is not None:
                check.not_drawn.append(event.seq)
        elif isinstance(body, ev.LiftJudged):
            lot = state.areas[body.area].progress.lots.get(body.order)
            if body.came in ("lot", "forced") and (lot is None or not (lot.fell if body.came == "lot" else lot.forced)):
                check.faults.append((event.seq, message("proof-lot-no-lift", lift=str(body.lift))))
        state = apply(state, event)
    check.missed = sum(len(covering.missed_lots(area)) for area in state.areas.values())
    return check


def _seed(body: ev.LotsCommitted, seq: int, shown: Mapping[str, Event]) -> SeedCheck:
    event = shown.get(body.commitment)
    if event is None or not isinstance(event.body, ev.LotsRevealed):
        return SeedCheck(body.commitment, seq)
    return SeedCheck(body.commitment, seq, event.seq, event.body.seed)


def _faults(
    check: LotsCheck, state: State, area: Area, body: ev.SectionClosed | ev.TileCounted, lot: ev.LotDrawn
) -> Iterator[Message]:
    """What is wrong with one lot, and its place in the sums."""
    assert body.tile is not None
    check.drawn += 1
    check.fell += lot.fell
    check.forced += lot.forced and not lot.fell
    key = (body.area, body.tile.order)
    number = state.lot_numbers.get(key, len(state.lot_numbers) + 1)
    if lot.setting != number:
        yield message("proof-lot-number", said=str(lot.setting), should=str(number))
    one_in = covering.one_in(area, body.tile.place.face_m2)
    if lot.one_in != one_in:
        yield message("proof-lot-often", said=str(lot.one_in), should=str(one_in or 0))
    if lot.forced != (covering.unlifted_in(area, body.tile.run) >= lots.cap(lot.one_in)):
        yield message("proof-lot-forced", said="yes" if lot.forced else "no")
    seed = next((seed for seed in reversed(check.seeds) if state.lot_seed is not None
                 and seed.commitment == state.lot_seed.commitment), None)  # fmt: skip
    if seed is None:
        # None stands in the chain before it, or the one that did was shown already: whoever set the tile knew.
        yield message("proof-lot-known")
        return
    seed.drawn += 1
    if seed.shown is not None and lot.fell != lots.falls(seed.seed, lot.setting, lot.one_in):
        yield message("proof-lot-fell", said="yes" if lot.fell else "no")


def _tell(check: LotsCheck, found: Findings) -> None:
    for seq, why in check.faults[:_MOST_NAMED]:
        found.say("lot-not-good", DAMAGED, event=str(seq), why=short(why))
    hidden = [seed for seed in check.seeds if seed.shown is None and seed.drawn]
    shown = [seed for seed in check.seeds if seed.shown is not None]
    good = sum(seed.drawn for seed in shown)
    if good and not check.faults:
        events = Several(tuple(str(seed.shown) for seed in shown if seed.drawn), "and")
        found.say("lots-good", drawn=good, fell=check.fell, forced=check.forced, events=events)
    for seed in hidden[:_MOST_NAMED]:
        found.say("lots-hidden", UNSEALED, event=str(seed.committed), drawn=seed.drawn)
    if check.not_drawn:
        named = Several(tuple(str(seq) for seq in check.not_drawn[:_MOST_NAMED]))
        found.say("lots-not-drawn", UNSEALED, count=len(check.not_drawn), events=named)
    if check.missed:
        found.say("lots-missed", count=check.missed)


def _fact(check: LotsCheck) -> dict[str, Any]:
    return {
        "drawn": check.drawn,
        "fell": check.fell,
        "forced": check.forced,
        "missed": check.missed,
        "not_drawn": check.not_drawn,
        "seeds": [
            {"committed": seed.committed, "shown": seed.shown, "commitment": seed.commitment, "drawn": seed.drawn}
            for seed in check.seeds
        ],
        "faults": [{"event": seq, "why": write_figure(why)} for seq, why in check.faults],
    }
