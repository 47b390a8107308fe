"""Mock-up trials: their order drawn again from the record's head, and what was released held against their samples."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import apply
from fieldassist.checklist.plan import MockUp, TrialShown
from fieldassist.checklist.state import Area, State
from fieldassist.checklist.told import write_figure
from fieldassist.extras import lacking
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short, short_name
from fieldassist.record.chain import GENESIS, Chain
from fieldassist.trade.message import Message, message

_MOST_NAMED = 20
# How far a figure of a release may lie from the same one reckoned again on another machine.
_HAIR_PERCENT, _HAIR = 0.02, 1e-3


@dataclass
class TrialsCheck:
    """What became of a day's trials: how many orders were drawn again, samples made in their turn, and releases held
    against them. faults: by event."""

    orders: int = 0
    samples: int = 0
    releases: int = 0
    faults: list[tuple[int, Message]] = field(default_factory=list)


def check_trials(chain: Chain, found: Findings) -> None:
    """Draw each order again and reckon each released method again, and say what does not fit."""
    if not any(isinstance(event.body, ev.SamplesOrdered | ev.MethodReleased) for event in chain.events):
        return
    try:
        check = reckoned_again(chain.events, chain.hashes)
    except MemoryError:
        raise
    except Exception as problem:
        library = lacking(problem)
        if library is not None:
            found.facts["trials"] = None
            found.say("trials-need-more", UNSEALED, library=library)
            return
        # Events that follow from each other need not make sense; whatever trips over them means that.
        found.facts["trials"] = None
        found.say("trials-not-checked", DAMAGED)
        return
    found.facts["trials"] = {
        "orders": check.orders,
        "samples": check.samples,
        "releases": check.releases,
        "faults": [{"event": seq, "why": write_figure(why)} for seq, why in check.faults],
    }
    for seq, why in check.faults[:_MOST_NAMED]:
        found.say("trial-not-good", DAMAGED, event=str(seq), why=short(why))
    if not check.faults:
        found.say("trials-good", orders=check.orders, samples=check.samples, releases=check.releases)


def reckoned_again(events: Sequence[Event], hashes: Sequence[str]) -> TrialsCheck:
    """Every order and release, reckoned again. ValueError, KeyError and others where the events do not fold."""
    check, state = TrialsCheck(), State()
    for at, event in enumerate(events):
        body = event.body
        if isinstance(body, ev.SamplesOrdered):
            check.orders += 1
            check.faults += [(event.seq, why) for why in _order(state.areas[body.area], body, events[: at + 1], hashes)]
        elif isinstance(body, ev.SectionOpened) and body.sample is not None:
            check.samples += 1
            if state.areas[body.area].next_sample != (body.sample.letter, body.sample.place):
                check.faults.append((event.seq, message("proof-trial-turn", letter=body.sample.letter)))
        elif isinstance(body, ev.MethodReleased):
            check.releases += 1
            check.faults += [(event.seq, why) for why in _release(state, body, hashes[:at])]
        state = apply(state, event)
    return check


def _order(area: Area, body: ev.SamplesOrdered, events: Sequence[Event], hashes: Sequence[str]) -> Iterator[Message]:
    """What is wrong with a drawn order: a head that is none, or that stood before other things were known; or another
    order than that head draws."""
    from fieldassist.trial.drawn import more_for, order_for

    if body.head not in _heads(events, hashes):
        yield message("proof-trial-head")
        return
    if body.more:
        counts = Counter(body.order)
        again = more_for(area.plan, tuple(counts), next(iter(counts.values()), 0), body.head)
    else:
        again = order_for(area.plan, area.checklist, body.head)
    if again != body.order:
        yield message("proof-trial-order")


def _heads(events: Sequence[Event], hashes: Sequence[str]) -> set[str]:
    """The heads that the last of these events may have been drawn from: behind that, only events of its own moment."""
    last = events[-1]
    heads = set()
    for before in range(len(events) - 2, -1, -1):
        heads.add(hashes[before])
        if events[before].at != last.at:
            return heads
    return {*heads, GENESIS}


def _release(state: State, body: ev.MethodReleased, before: Sequence[str]) -> Iterator[Message]:
    """What is wrong with a released method: another one than its letter's, or figures that its samples do not give."""
    from fieldassist.trial import released
    from fieldassist.trial.samples import analysis_of

    area, plan, said = state.areas[body.area], state.plan, body.made.trial
    assert area.plan.trial is not None
    assert plan is not None
    if body.method != area.plan.trial.by_letter[body.letter].method or said is None or said.letter != body.letter:
        yield message("proof-trial-method", letter=body.letter)
        return
    if said.head not in before:
        yield message("proof-trial-release-head")
        return
    again = released.shown(
        area,
        analysis_of(area),
        body.letter,
        date=plan.date,
        site=plan.site,
        head=said.head,
        by=body.name,
        why=said.why,
    )
    made = released.made_up(area, body.letter, again)
    if not _same(said, again) or made.model_copy(update={"trial": None}) != _bare(body.made):
        yield message("proof-trial-figures", letter=body.letter, name=short_name(body.name))


def _bare(made: MockUp) -> MockUp:
    return made.model_copy(update={"trial": None})


def _same(said: TrialShown, again: TrialShown) -> bool:
    """Whether two say the same, but for the last digit."""
    near = {"mean": _HAIR_PERCENT, "low": _HAIR_PERCENT, "high": _HAIR_PERCENT, "bed_mm": _HAIR_PERCENT}
    near |= dict.fromkeys(("centre", "variance", "spread", "between"), _HAIR)
    for name in TrialShown.model_fields:
        one, other = getattr(said, name), getattr(again, name)
        if name in near and one is not None and other is not None:
            if abs(one - other) > near[name]:
                return False
        elif one != other:
            return False
    return True
