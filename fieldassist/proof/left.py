"""What an inspector is told of a damaged day: what can be read of it all the same, what is missing, and what the seals
vouch for of it."""

from __future__ import annotations

from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short_name
from fieldassist.record.chain import Chain
from fieldassist.record.islands import Islands
from fieldassist.record.lines import further_in, other_in
from fieldassist.trade.message import Message, Several, message

_MOST = 20


def tell_left(left: Islands, chain: Chain, found: Findings) -> None:
    """chain: the events that were read before the damage; left: all that is left."""
    found.facts["islands"] = [[island.first, island.last] for island in left.found]
    found.facts["missing"] = [list(gap) for gap in left.missing]
    if chain.bad is None and left.found and left.found[-1].last > len(chain.events) and not left.missing:
        found.say("left-taken-out", DAMAGED, events=left.count - len(chain.events), first=str(len(chain.events) + 1))
    elif left.count:
        ranges = Several(tuple(_range(island.first, island.last) for island in left.found[:_MOST]), "and")
        found.say("left", DAMAGED, events=left.count, ranges=ranges)
    if left.missing:
        gaps = Several(tuple(_range(*gap) for gap in left.missing[:_MOST]), "and")
        found.say("left-missing", DAMAGED, ranges=gaps, count=sum(last - first + 1 for first, last in left.missing))
    if left.changed:
        found.say("left-changed", DAMAGED, events=Several(tuple(str(seq) for seq in left.changed[:_MOST]), "and"))
    for check in left.seals():
        if check.good and check.covers > len(chain.events):
            first, last = left.vouched(check)
            found.say(
                "left-sealed",
                event=str(check.seq),
                name=short_name(check.name),
                range=_range(first, last),
                key=check.fingerprint,
            )


def tell_copy(lines: bytes, chain: Chain, found: Findings) -> None:
    """What the second copy beside a log says that the log does not. chain: the log's events, all good."""
    if not chain.hashes:
        return
    further = further_in(lines, len(chain.hashes), chain.hashes[-1])
    if further:
        found.say("copy-longer", DAMAGED, events=len(further), first=str(len(chain.hashes) + 1))
        return
    other = other_in(lines, chain.hashes)
    if other is not None:
        found.say("copy-otherwise", UNSEALED, line=str(other))


def _range(first: int, last: int) -> Message:
    return message("proof-range", first=str(first), last=str(last), count=last - first + 1)
