"""What is left of a damaged day: stretches of events that follow from each other, with gaps between them.

Each event names the hash of the one before, so a stretch proves its own order and that nothing in it was changed, but
for its last event, which only a later one or a seal vouches for. A seal vouches for every event up to its sign-off that
links lead back to, through no gap. What is behind a gap keeps its number, which stands in each event.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fieldassist.checklist.events import DayOpened, Event
from fieldassist.record.chain import GENESIS, Broken, chain_hash, number_and_link, read_event
from fieldassist.record.lines import read_copy, texts_in
from fieldassist.record.manifest import MOST_EVENTS

if TYPE_CHECKING:
    from fieldassist.record.seal import SealCheck


@dataclass(frozen=True, slots=True)
class Island:
    """Events that follow from each other. before: the hash that the first of them links to; texts, events, hashes: one
    each, in order."""

    before: str
    texts: tuple[str, ...]
    events: tuple[Event, ...]
    hashes: tuple[str, ...]

    @property
    def first(self) -> int:
        """The number of its first event."""
        return self.events[0].seq

    @property
    def last(self) -> int:
        """The number of its last event."""
        return self.events[-1].seq


@dataclass(frozen=True, slots=True)
class Islands:
    """All that is left, in order. changed: the numbers of events that stood there and fit what follows no more."""

    found: tuple[Island, ...] = ()
    changed: tuple[int, ...] = ()

    @property
    def beginning(self) -> Island | None:
        """The stretch from the first event on: a day can go on from it. None where the first event is gone."""
        first = self.found[0] if self.found else None
        return first if first is not None and first.before == GENESIS else None

    @property
    def behind(self) -> tuple[Island, ...]:
        """The stretches behind the first gap."""
        return self.found[1:] if self.beginning is not None else self.found

    @property
    def count(self) -> int:
        """How many events are left."""
        return sum(len(island.events) for island in self.found)

    @property
    def texts(self) -> tuple[str, ...]:
        """The texts of all that is left, in order."""
        return tuple(text for island in self.found for text in island.texts)

    @property
    def missing(self) -> tuple[tuple[int, int], ...]:
        """The gaps: first and last number of each. What is gone behind the last event no gap tells."""
        gaps, awaited = [], 1
        for island in self.found:
            if island.first > awaited:
                gaps.append((awaited, island.first - 1))
            awaited = island.last + 1
        return tuple(gaps)

    def seals(self) -> tuple[SealCheck, ...]:
        """What became of each seal that is left. None can be checked where the opening is gone."""
        from fieldassist.record.seal import check_seals

        beginning = self.beginning
        if beginning is None or not isinstance(beginning.events[0].body, DayOpened):
            return ()
        # A seal looks at the opening, at the sign-off before it and at that one's hash: the opening stands in for
        # whatever is gone, and fits no seal.
        events: list[Event] = []
        hashes: list[str] = []
        for island in self.found:
            events += [beginning.events[0]] * (island.first - 1 - len(events))
            hashes += [GENESIS] * (island.first - 1 - len(hashes))
            events += island.events
            hashes += island.hashes
        return check_seals(events, hashes)

    def vouched(self, check: SealCheck) -> tuple[int, int]:
        """From which to which event a good seal vouches for what is left."""
        island = next(island for island in self.found if island.first <= check.covers <= island.last)
        return island.first, check.covers


@dataclass(slots=True)
class _Node:
    text: str
    event: Event
    link: str
    hash: str
    source: int
    length: int = 1
    next: _Node | None = None


def islands_of(*sources: Iterable[str]) -> Islands:
    """The stretches among texts from several places, the most trusted first, in any order and with whatever repeats.

    Where two events claim one place, the one that more events follow from is taken, of those the one from the more
    trusted place. A text that is no event in canonical form is left out.
    """
    nodes: dict[str, _Node] = {}
    refused: set[str] = set()
    for source, texts in enumerate(sources):
        for text in texts:
            key = chain_hash(text)
            if key in nodes or key in refused:
                continue
            node = _node(text, key, source)
            if node is None:
                refused.add(key)
            else:
                nodes[key] = node
    return _without_changed(_apart(_stretches(nodes)))


def _node(text: str, key: str, source: int) -> _Node | None:
    try:
        number, link = number_and_link(text)
        if not 1 <= number <= MOST_EVENTS:
            return None
        return _Node(text, read_event(text, number, link), link, key, source)
    except Broken:
        return None


def _stretches(nodes: dict[str, _Node]) -> list[list[_Node]]:
    """Each node with the best of those that follow from it, from every node that follows from none."""
    following: defaultdict[str, list[_Node]] = defaultdict(list)
    for node in nodes.values():
        following[node.link].append(node)
    for node in sorted(nodes.values(), key=lambda node: -node.event.seq):
        after = [one for one in following[node.hash] if one.event.seq == node.event.seq + 1]
        if after:
            node.next = max(after, key=lambda one: (one.length, -one.source))
            node.length += node.next.length
    roots = [n for n in nodes.values() if n.link not in nodes or nodes[n.link].event.seq + 1 != n.event.seq]
    return [_from(root) for root in roots if (root.link == GENESIS) == (root.event.seq == 1)]


def _from(root: _Node) -> list[_Node]:
    stretch: list[_Node] = []
    node: _Node | None = root
    while node is not None:
        stretch.append(node)
        node = node.next
    return stretch


def _apart(stretches: list[list[_Node]]) -> list[list[_Node]]:
    """Those that share no number: of two that do, the one with events from the more trusted place, then the longer."""
    kept: list[list[_Node]] = []
    for stretch in sorted(stretches, key=lambda nodes: (min(node.source for node in nodes), -len(nodes))):
        first, last = stretch[0].event.seq, stretch[-1].event.seq
        if all(last < other[0].event.seq or first > other[-1].event.seq for other in kept):
            kept.append(stretch)
    return sorted(kept, key=lambda nodes: nodes[0].event.seq)


def _without_changed(stretches: list[list[_Node]]) -> Islands:
    """Two stretches without a gap between them do not fit each other: the last event of the first was changed, or a
    single one that nothing follows from."""
    changed: list[int] = []
    kept: list[list[_Node]] = []
    for stretch in reversed(stretches):
        after = kept[-1] if kept else None
        if after is not None and after[0].event.seq == stretch[-1].event.seq + 1:
            if len(after) == 1 and len(kept) == 1:
                changed.append(after[0].event.seq)
                kept.pop()
            else:
                changed.append(stretch.pop().event.seq)
        if stretch:
            kept.append(stretch)
    return Islands(tuple(_island(stretch) for stretch in reversed(kept)), tuple(sorted(changed)))


def _island(stretch: Sequence[_Node]) -> Island:
    return Island(
        stretch[0].link,
        tuple(node.text for node in stretch),
        tuple(node.event for node in stretch),
        tuple(node.hash for node in stretch),
    )


def left_at(day: Path) -> Islands:
    """All that is left of the log at `day`: in its database, in what is beside it, and in its second copy. OSError
    where a part that is there cannot be opened."""
    from fieldassist.record.leaves import texts_at

    return islands_of(texts_at(day), texts_in(read_copy(day)))
