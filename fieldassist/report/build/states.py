"""How pieces and lifts stand, and who answers for a part of a day: asked on every page, answered once."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.facts.model import AreaFacts, DayFacts, LiftFact, SealFact, SignatureFact, TileFact
from fieldassist.report.signs import LiftSign


def set_tiles(area: AreaFacts) -> list[TileFact]:
    """The pieces that are set and stay."""
    return [tile for tile in area.tiles if tile.state not in ("not set", "taken off")]


def in_reach(tile: TileFact) -> bool:
    """Whether a piece lies within reach of a good lift."""
    return tile.state in ("covered", "lifted good")


def sign_of(lift: LiftFact) -> LiftSign:
    """The sign of a lift: failed, lifted and not judged, good by photo or grid, or good by eye, which any other way is
    taken for."""
    if lift.verdict == "failed":
        return "failed"
    if lift.verdict != "passed":
        return "open"
    return "good" if lift.way in ("grid", "photo") else "eye"


@dataclass(frozen=True, slots=True)
class StandingLifts:
    """What the lifts show of an area as it stands: the last of each piece that stands as it was lifted.

    worst: the lowest contact [percent], of those that failed where any does, None where there is none; failed: it did;
    mean: contact of the good ones, on average [percent].
    """

    worst: float | None
    failed: bool
    mean: float | None


def standing_lifts(area: AreaFacts) -> StandingLifts:
    """What the lifts show of an area as it stands."""
    now = {tile.number: tile for tile in area.tiles}
    last: dict[int, tuple[float, bool]] = {}
    for lift in area.lifts:
        tile = now.get(lift.tile)
        stands = tile is not None and tile.order == lift.order and tile.state != "taken off"
        if lift.percent is not None and stands and lift.verdict in ("passed", "failed"):
            last[lift.tile] = lift.percent, lift.verdict == "failed"
    good = [percent for percent, failed in last.values() if not failed]
    bad = [percent for percent, failed in last.values() if failed]
    return StandingLifts(min(bad or good, default=None), bool(bad), sum(good) / len(good) if good else None)


def signature_of(facts: DayFacts, part: int) -> SignatureFact | None:
    """Who signed a part of the day (0 is the day itself, then its addenda), None where nobody did."""
    return next((one for one in facts.signatures if one.part == part), None)


def last_seal(facts: DayFacts) -> SealFact | None:
    """The last good seal: it covers all that was entered before it, whatever part of the day it closes."""
    return max((one for one in facts.seals if one.good), key=lambda one: one.event, default=None)


def seal_of(facts: DayFacts, part: int) -> SealFact | None:
    """The seal on a part of the day, good or not, None where there is none."""
    return next((one for one in facts.seals if one.part == part), None)
