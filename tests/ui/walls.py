"""A wall in every state, as data: 24 pieces of which 13 are set, out of three batches and in two ways."""

from __future__ import annotations

from fractions import Fraction

from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.places import PiecePlace
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.reach import TileSetting, TileState
from fieldassist.checklist.state import Area, LiftRecord, LiftTarget, Progress, ReadingRecord, Tile
from tests import SITE
from tests.checklist.days import all_checklists

AT = Moment(wall="2026-03-17T10:00:00+01:00", boot="a", mono=0.0)
# State, contact of its lift, witnessed, batch, method; in the order of setting.
TILES: tuple[tuple[TileState, int | None, bool, int, int], ...] = (
    ("lifted good", 97, True, 1, 0),
    ("covered", None, False, 1, 0),
    ("covered", None, False, 1, 0),
    ("lifted good", 96, False, 1, 0),
    ("suspect", None, False, 1, 0),
    ("suspect", None, False, 1, 0),
    ("lifted failed", 89, False, 1, 0),
    ("lifted good", 98, True, 1, 1),
    ("covered", None, False, 2, 1),
    ("covered", None, False, 2, 1),
    ("lifted good", 97, False, 2, 1),
    ("not yet covered", None, False, 3, 1),
    ("not yet covered", None, False, 3, 1),
)


def wall_plan(**changes: object) -> AreaPlan:
    """Six rows of four pieces of 1200 x 600 mm, with a niche."""
    raw = load_plan(SITE).areas[0].model_dump(mode="json")
    niche = {"name": "niche", "left": "1900 mm", "bottom": "2450 mm", "width": "900 mm", "height": "340 mm"}
    return AreaPlan.model_validate(
        raw | {"size": "17.28 m2", "grid": {"rows": 6, "columns": 4}, "niches": [niche]} | changes
    )


def wall_area(plan: AreaPlan | None = None) -> Area:
    """The area under way: piece 13 is to be lifted."""
    plan = plan or wall_plan()
    checklist = all_checklists()[plan.checklist]
    section = checklist.lift_section
    assert section is not None
    tiles, lifts, readings = {}, {}, {}
    for number, (state, percent, witnessed, batch, method) in enumerate(TILES, start=1):
        row, column = divmod(number - 1, 4)
        tiles[number] = Tile(
            number=number,
            order=number,
            run=method + 1,
            place=PiecePlace(number, row + 1, column + 1, None, 0.72),
            setter="rosa",
            method=method,
            batch=batch,
            set=number,
            at=AT,
            witnessed=witnessed,
            state=state,
            spread=None if witnessed else 1,
        )
        if percent is not None:
            lift = len(lifts) + 1
            verdict = "passed" if percent >= 95 else "failed"
            lifts[lift] = LiftRecord(
                lift, number, number, method + 1, "interval", section.id, lift, 100 + lift, AT, verdict=verdict
            )
            readings[200 + lift] = ReadingRecord(
                called=200 + lift,
                kept=300 + lift,
                section=section.id,
                round=lift,
                step="coverage",
                quantity="percentage",
                value=Fraction(percent),
                unit="percent",
                label=None,
                at=AT,
                measures="coverage",
            )
    progress = Progress(
        phase="working",
        tiles=tiles,
        runs=(("rosa", 0), ("rosa", 1)),
        history=tuple(TileSetting(n, tile.run, n, 0.72) for n, tile in tiles.items()),
        lifts=lifts,
        lifts_due=(LiftTarget(13, "interval"),),
    )
    both = plan.method.model_copy(update={"sides": "both"})
    return Area(plan, checklist, both, methods_used=(plan.method, both), progress=progress, readings=readings)
