"""How far a lifted tile speaks for those that nobody looked under. Pure: figures in, the state of every tile out.

A **run** is what one setter sets with one method in one area in a day, in the order of setting; "before", "behind" and
"in a row" mean this order. A tile set again is a new setting: its old place stays in the old run.

- A good lift covers back to the lift before it. Covered is a tile with a good lift next before it and next behind it in
  its run, among those that were looked under; a mock-up may stand in for the first. It does not mean looked at.
- A failed lift makes every tile of its run suspect back to the last good lift and forward until the change. The crew
  lifts outward from it until two in a row are good on each side; a good lift that already stands next counts as one.
- A lift that is not complete proves nothing and fails nothing.

The rules are ours: of four ways to follow a failed lift, two good in a row on each side left as few bad tiles covered
as lifting all of them, with fewer lifts (`tests.simulate_lots`). No standard says how far a lift speaks.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import Literal, TypeAlias

from fieldassist.trade.verdict import Outcome

TileState: TypeAlias = Literal[
    "not yet covered", "covered", "lifted good", "lifted failed", "suspect", "accepted", "taken off"
]

# With fewer pieces than this, one in three is lifted: fewer than the standard's least. Ours.
FEW_PIECES = 9


@dataclass(frozen=True, slots=True)
class TileSetting:
    """One setting: its order in the area (1, 2, 3, ... over its days), its run, the tile, and its face [m2]."""

    order: int
    run: int
    tile: int
    face_m2: float = 0.0


@dataclass(frozen=True, slots=True)
class Looked:
    """One lift: its number, the setting that it looked under, and its verdict; None where it is not judged yet."""

    number: int
    order: int
    verdict: Outcome | None


@dataclass(frozen=True, slots=True)
class Work:
    """What was done in an area.

    settings: in order; lifts: in the order of their numbers; until: for a failed lift, by number, the last setting of
    its run before the cure, none while it is not cured; accepted and taken_off: settings, by order; stood_in: runs
    whose first lift a mock-up stands in for.
    """

    settings: Sequence[TileSetting]
    lifts: Sequence[Looked] = ()
    until: Mapping[int, int] = field(default_factory=dict)
    accepted: Collection[int] = ()
    taken_off: Collection[int] = ()
    stood_in: Collection[int] = ()


@dataclass(frozen=True, slots=True)
class Reached:
    """The state of a tile. lift: the lift that it rests on, None where there is none; cleared_by: after it was suspect,
    the two lifts in a row that cleared it."""

    state: TileState
    lift: int | None = None
    cleared_by: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class UnseenRow:
    """A row of settings that nobody looked under: how many, and their faces [m2]."""

    tiles: int = 0
    face_m2: float = 0.0


@dataclass(frozen=True, slots=True)
class Reach:
    """What the lifts of an area say.

    tiles: the state of every tile, by number; follow: settings to be lifted next because of a failure, those nearest
    to it first; ends: settings that, lifted and good, cover all that is not covered yet; unseen: the longest row.
    """

    tiles: Mapping[int, Reached]
    follow: tuple[int, ...]
    ends: tuple[int, ...]
    unseen: UnseenRow

    @property
    def holds_up(self) -> tuple[int, ...]:
        """The tiles that hold up the area's end: suspect, not covered yet, or failed and still in place."""
        return tuple(n for n, one in self.tiles.items() if one.state in ("suspect", "not yet covered", "lifted failed"))


def least_lifts(pieces: int, standard: int) -> int:
    """How many distinct tiles must be lifted: the standard's least; of fewer than nine pieces one in three, rounded up,
    at least one. Ours where there are few: the standard (ANSI A108.5 §3.3.2: three) knows no small areas.

    >>> [least_lifts(pieces, 3) for pieces in (1, 3, 4, 6, 7, 8, 9, 40)]
    [1, 1, 2, 2, 3, 3, 3, 3]
    """
    return standard if pieces >= FEW_PIECES else max(1, min(standard, ceil(pieces / 3)))


def reach(work: Work) -> Reach:
    """The state of every tile, and what must be lifted next."""
    now = {setting.tile: setting.order for setting in work.settings}
    runs: dict[int, list[TileSetting]] = {}
    for setting in work.settings:
        runs.setdefault(setting.run, []).append(setting)
    states: dict[int, Reached] = {}
    follow: list[tuple[int, int, int]] = []
    ends: list[int] = []
    unseen = UnseenRow()
    for number, settings in runs.items():
        run = _Run(settings, work, now, stood_in=number in work.stood_in)
        run.follow_failures()
        states |= run.states()
        follow += run.follow
        ends += run.ends()
        unseen = max(unseen, run.longest_unseen(), key=lambda row: (row.tiles, row.face_m2))
    tiles = {tile: states[order] for tile, order in now.items()}
    # Of two failures' sides the same setting may be next: it is lifted once.
    due = tuple(dict.fromkeys(order for _, _, order in sorted(follow)))
    return Reach(tiles, due, tuple(sorted(ends)), unseen)


class _Run:
    """One run: what was found under each of its settings, and what follows."""

    def __init__(self, settings: Sequence[TileSetting], work: Work, now: Mapping[int, int], *, stood_in: bool) -> None:
        self.settings = settings
        self.orders = [setting.order for setting in settings]
        self.until = work.until
        self.stood_in = stood_in
        self.found: dict[int, Looked] = {}
        here = set(self.orders)
        for lift in work.lifts:
            if lift.order in here and lift.verdict in ("passed", "failed"):
                self.found[lift.order] = lift  # a later look at the same setting counts
        # What was set again has its place elsewhere; what was taken off is no tile.
        self.gone = {s.order for s in settings if now[s.tile] != s.order or s.order in work.taken_off}
        self.off = here & set(work.taken_off)
        self.accepted = here & set(work.accepted)
        self.suspect: dict[int, int] = {}
        self.cleared: dict[int, tuple[int, ...]] = {}
        self.follow: list[tuple[int, int, int]] = []

    def good(self, order: int) -> bool:
        return order in self.found and self.found[order].verdict == "passed"

    def skipped(self, order: int) -> bool:
        """Neither looked under nor to be lifted: accepted, taken off, or set again since."""
        return order not in self.found and (order in self.accepted or order in self.gone)

    def follow_failures(self) -> None:
        """Walk outward from every failed lift, to both sides."""
        for order, lift in sorted(self.found.items(), key=lambda item: item[1].number):
            if lift.verdict == "failed":
                at = self.orders.index(order)
                until = self.until.get(lift.number)
                self._walk(lift, self._back_to_last_good(lift, at))
                self._walk(lift, [o for o in self.orders[at + 1 :] if until is None or o <= until])

    def _back_to_last_good(self, failed: Looked, at: int) -> list[int]:
        """The settings from a failed lift back to the last that was good when it failed, that one included."""
        side = []
        for order in reversed(self.orders[:at]):
            side.append(order)
            if self.good(order) and self.found[order].number < failed.number:
                break
        return side

    def _walk(self, failed: Looked, side: Sequence[int]) -> None:
        row: list[int] = []
        for place, order in enumerate(side):
            if order in self.found:
                row = [*row, self.found[order].number] if self.good(order) else []
                if len(row) == 2:
                    break
            elif not self.skipped(order):
                rest = [o for o in side[place:] if o not in self.found and not self.skipped(o)]
                for each in rest:
                    self.suspect.setdefault(each, failed.number)
                self.follow.append((failed.number, place, order))
                return
        for each in side:
            if each not in self.found and not self.skipped(each):
                self.cleared[each] = tuple(row)

    def states(self) -> dict[int, Reached]:
        """The state of every setting of the run that still stands, and of those taken off."""
        found: dict[int, Reached] = {}
        behind = self._behind()
        before = self.stood_in
        for order in self.orders:
            if order in self.found:
                before = self.good(order)
            if order in self.off:
                found[order] = Reached("taken off")
            elif order in self.found:
                lift = self.found[order].number
                found[order] = Reached("lifted good" if self.good(order) else "lifted failed", lift)
            elif order in self.accepted:
                found[order] = Reached("accepted")
            elif order in self.suspect:
                found[order] = Reached("suspect", self.suspect[order])
            elif before and behind[order] is not None:
                found[order] = Reached("covered", behind[order], self.cleared.get(order, ()))
            else:
                found[order] = Reached("not yet covered", None, self.cleared.get(order, ()))
        return found

    def _behind(self) -> dict[int, int | None]:
        """For every setting the next lift behind it in the run, where that one is good."""
        behind: dict[int, int | None] = {}
        next_good: int | None = None
        for order in reversed(self.orders):
            behind[order] = next_good
            if order in self.found:
                next_good = self.found[order].number if self.good(order) else None
        return behind

    def ends(self) -> list[int]:
        """What to lift so that a row that is not covered yet has a good lift before it and behind it."""
        found: list[int] = []
        row: list[int] = []
        states = self.states()
        before = self.stood_in
        for order in self.orders:
            if order in self.found:
                found += _ends_of(row, before, self.good(order))
                row, before = [], self.good(order)
            elif not self.skipped(order) and states[order].state == "not yet covered":
                row.append(order)
        return found + _ends_of(row, before, behind=False)

    def longest_unseen(self) -> UnseenRow:
        """The longest row of settings in this run that nobody looked under."""
        longest, tiles, face = UnseenRow(), 0, 0.0
        for setting in self.settings:
            if setting.order in self.found:
                tiles, face = 0, 0.0
            elif setting.order not in self.gone:
                tiles, face = tiles + 1, face + setting.face_m2
                longest = max(longest, UnseenRow(tiles, face), key=lambda row: (row.tiles, row.face_m2))
        return longest


def _ends_of(row: Sequence[int], before: bool, behind: bool) -> list[int]:
    """The settings of a row without a lift in it that give it the good lifts that it lacks."""
    if not row or (before and behind):
        return []
    ends = [] if before else [row[0]]
    return ends if behind or row[-1] in ends else [*ends, row[-1]]


def unlifted(settings: Iterable[TileSetting], lifted: Collection[int], run: int) -> int:
    """How many settings of a run came since the last one that was lifted or is to be lifted."""
    count = 0
    for setting in settings:
        if setting.run == run:
            count = 0 if setting.order in lifted else count + 1
    return count
