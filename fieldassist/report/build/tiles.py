"""The tiles of an area: where each lies, its state and why, who set it and how; and what the lifts say of them all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from fieldassist.checklist import methods, proven
from fieldassist.checklist.lots import Lot
from fieldassist.checklist.places import planned_m2, planned_pieces
from fieldassist.checklist.state import Area, Tile
from fieldassist.report.build.words import ReportWords, capital, ranges
from fieldassist.report.report_model import AreaStanding, LiftsByCause, MethodPeriod, TileLine
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.sampling import what_lots_prove

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


def letter(method: int) -> str:
    """What a method is called in its area: A, B, ... Z, AA, AB.

    >>> [letter(number) for number in (0, 25, 26, 27)]
    ['A', 'Z', 'AA', 'AB']
    """
    before, last = divmod(method, 26)
    return (letter(before - 1) if before else "") + chr(ord("A") + last)


def lines(builder: AreaBuilder, area: Area) -> Iterator[TileLine]:
    """Every tile, in the order of setting, those of days before first."""
    words = builder.context.words
    for tile in sorted(area.progress.tiles.values(), key=lambda one: one.order):
        back = proven.put_back(area, tile)
        yield TileLine(
            number=tile.number,
            order=tile.order,
            place=words(proven.where(tile.place, tile.number)),
            state=tile.state,
            why=words(proven.why(tile)),
            lot=_lot(area.progress.lots.get(tile.order)),
            put_back=words(back) if back is not None else "",
            setter=words.person(tile.setter),
            method=letter(tile.method),
            batch=builder.batch_title(tile.batch),
            seen=proven.seen(tile),
            seen_told=words(proven.seen_told(area, tile)),
            time=words.time(tile.at.wall),
            seq=tile.set,
            face_m2=tile.place.face_m2,
        )


def _lot(lot: Lot | None) -> str:
    if lot is None:
        return ""
    said = "fell" if lot.fell else "forced" if lot.forced else "did not fall"
    return f"lot {lot.setting}, one in {lot.one_in}: {said}"


def periods(builder: AreaBuilder, area: Area) -> Iterator[MethodPeriod]:
    """From tile to tile, who set with which method."""
    words = builder.context.words
    in_order = sorted(area.progress.tiles.values(), key=lambda one: one.order)
    for (setter, number), tiles in groupby(in_order, key=lambda tile: (tile.setter, tile.method)):
        method = area.methods_used[number]
        name = next((name for name, planned in builder.context.plan.methods.items() if planned == method), "")
        yield MethodPeriod(
            ranges(tile.number for tile in tiles),
            words.person(setter),
            letter(number),
            name,
            capital(words.method(method)),
            words(methods.rest_told(area, method)),
        )


def standing(words: ReportWords, area: Area) -> AreaStanding:
    """How much is set, and what the lifts say of it."""
    planned = planned_m2(area.plan)
    needed, _ = area.lifts_needed
    stay: Sequence[Tile] = proven.set_tiles(area)
    set_m2 = area.progress.set_m2
    seen = proven.seen_tiles(area)
    return AreaStanding(
        set_m2=set_m2,
        planned_m2=planned,
        set_told=words(_square_metres(set_m2)),
        planned_told=words(_square_metres(planned)),
        pieces=len(stay),
        planned_pieces=planned_pieces(area.plan),
        good_tiles=area.progress.good_tiles,
        needed=needed,
        seen=seen,
        seen_told=words(seen.told),
        lifts=tuple(
            LiftsByCause(words(proven.how_it_came(one.came)), one.good, one.failed, one.not_complete)
            for one in proven.lift_counts(area)
        ),
        suspect=proven.tiles_in(area, "suspect"),
        not_covered=proven.tiles_in(area, "not yet covered"),
        failed=proven.tiles_in(area, "lifted failed"),
        accepted=proven.tiles_in(area, "accepted"),
        failures_before=tuple(
            words.sentence(failure.finding) for seq, failure in area.progress.failures.items() if seq < 0
        ),
        proves=tuple(words.sentence(one) for one in what_lots_prove(proven.tally(area)).words) if stay else (),
    )


def _square_metres(value: float) -> Quantity:
    return Quantity(Fraction(repr(round(value, 6))), "m2")
