"""Whether a record makes sense: the engine decides it again, and its moments go on as those of a day do.

What is found is named by its event, with what it says and what it should be. A record of a version that wrote no
commands cannot be decided again: only its moments are looked at.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from itertools import islice

from fieldassist.checklist.events import RULES, DayOpened, Event
from fieldassist.checklist.moment import OF_ITSELF, Moment
from fieldassist.checklist.told import write_figure
from fieldassist.proof.replay import Senseless, decided_again
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short
from fieldassist.record.chain import Chain
from fieldassist.trade.message import message

MOST_NAMED = 20
# The last version that wrote no commands.
_WITHOUT_COMMANDS = "0.1.0"

# Outside of these a clock stands wrong. Ours.
_YEARS = range(2020, 2100)
# More than this in a minute no crew calls, types and presses: one thing a second, a whole minute long. Ours.
_MOST_IN_A_MINUTE = 60


def check_sense(chain: Chain, found: Findings) -> None:
    """Say what of a whole chain makes no sense, and whether it was decided again."""
    events = chain.events
    opened = events[0].body
    assert isinstance(opened, DayOpened)
    told = list(_of_moments(events))
    rules = opened.rules
    if 0 < rules <= RULES:
        told += islice(decided_again(events, chain.hashes), MOST_NAMED)
    shown = sorted(told, key=lambda one: one.seq)[:MOST_NAMED]
    for one in shown:
        found.say("senseless", UNSEALED if one.doubt else DAMAGED, event=str(one.seq), why=short(one.why))
    found.facts["sense"] = {
        "rules": rules,
        "decided_again": 0 < rules <= RULES,
        "senseless": [{"event": one.seq, "doubt": one.doubt, "why": write_figure(one.why)} for one in shown],
    }
    if rules > RULES:
        found.say("sense-newer-rules", UNSEALED, rules=str(rules), known=str(RULES))
    elif rules == 0:
        found.say("sense-no-rules", UNSEALED, version=_WITHOUT_COMMANDS)
    elif not any(not one.doubt for one in shown):
        found.say("sense", events=len(events))


# --- moments ------------------------------------------------------------------------------------------------------


def _of_moments(events: Sequence[Event]) -> Iterator[Senseless]:
    """What cannot be of the moments of a day. Whether the wall clock was set, `checklist.clock_watch` tells."""
    last: Moment | None = None
    left: set[str] = set()
    for event in events:
        at = event.at
        if int(at.wall[:4]) not in _YEARS:
            yield Senseless(event.seq, message("proof-sense-year", wall=at.wall), doubt=True)
        if last is not None and at.boot == last.boot and at.mono < last.mono:
            yield Senseless(event.seq, message("proof-sense-back", seconds=f"{last.mono - at.mono:.6g}"))
        if last is not None and at.boot != last.boot:
            left.add(last.boot)
            if at.boot in left:
                yield Senseless(event.seq, message("proof-sense-run-again"))
        last = at
    yield from _hurry(events)


def _hurry(events: Sequence[Event]) -> Iterator[Senseless]:
    """More than can be called, typed and pressed in a minute: the first time is named. What is called in one breath is
    called at once."""
    lately: deque[float] = deque()
    before: Event | None = None
    for event in events:
        breath = before is not None and event.source.together > 1 and before.at == event.at
        before = event
        if event.command is None or event.source.how in OF_ITSELF or breath:
            continue
        lately.append(event.at.mono)
        while not 0 <= lately[-1] - lately[0] < 60:
            lately.popleft()
        if len(lately) > _MOST_IN_A_MINUTE:
            yield Senseless(event.seq, message("proof-sense-hurry", most=_MOST_IN_A_MINUTE), doubt=True)
            return
