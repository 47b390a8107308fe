"""Areas of many sizes to be drawn: facts made up piece by piece, as those of a day would be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fieldassist.facts import model
from fieldassist.language import Words
from fieldassist.report.build.wall import wall
from fieldassist.report.wall_model import DrawnWall

_TOLD = model.ToldFact(code="", figures={}, text="")


def tile(number: int, **more: Any) -> model.TileFact:
    """A piece, covered by lift 1 where nothing else is said."""
    given: dict[str, Any] = {
        "number": number,
        "place": f"row {more.get('row')}, column {more.get('column')}",
        "row": None,
        "column": None,
        "name": None,
        "face_m2": 0.72,
        "order": number,
        "run": 1,
        "state": "covered",
        "covered_by": [1],
        "cleared_by": [],
        "setter": "rosa",
        "method": 0,
        "batch": 1,
        "witnessed": True,
        "seen": "witnessed",
        "seen_told": model.ToldFact(code="", figures={}, text=f"witnessed, event {number}"),
        "spread": None,
        "together": 0,
        "put_back": "",
        "x_mm": None,
        "y_mm": None,
        "wide_mm": None,
        "high_mm": None,
        "combing": "level",
        "settings": 1,
        "lot": None,
        "at": "2026-03-17T09:35:00+01:00",
        "event": number,
    } | more
    lift = given["covered_by"][-1] if given["covered_by"] else 1
    return model.TileFact(**{"why": model.ToldFact(code="", figures={"lift": str(lift)}, text="")} | given)


def lift(number: int, of: int, percent: float | None, **more: Any) -> model.LiftFact:
    """A lift, good and read by eye where nothing else is said."""
    given: dict[str, Any] = dict.fromkeys(model.LiftFact.model_fields) | {
        "number": number,
        "tile": of,
        "order": of,
        "percent": percent,
        "verdict": "passed",
        "way": "eye",
    }
    return model.LiftFact.model_construct(**given | more)


def required(**more: Any) -> model.RequiredFact:
    """What is required of each lift."""
    given: dict[str, Any] = dict.fromkeys(model.RequiredFact.model_fields)
    return model.RequiredFact.model_construct(**given | more)


def area(
    rows: int,
    columns: int,
    wide_mm: float,
    high_mm: float,
    *,
    about: Mapping[int, Mapping[str, Any]] | None = None,
    named: int = 0,
    laid: bool = True,
    **more: Any,
) -> model.AreaFacts:
    """A grid of pieces with joints of 3 mm. about: what is different of a piece, by its number; named: so many pieces
    besides without a place on the grid."""
    tiles = []
    for at in range(rows * columns):
        row, column = divmod(at, columns)
        lies = {"x_mm": column * (wide_mm + 3), "y_mm": row * (high_mm + 3), "wide_mm": wide_mm, "high_mm": high_mm}
        on_grid = {"row": row + 1, "column": column + 1} | lies if laid else {}
        tiles.append(tile(at + 1, **on_grid | dict((about or {}).get(at + 1, {}))))
    for at in range(named):
        number = rows * columns + at + 1
        tiles.append(tile(number, name=f"strip {at + 1}", **dict((about or {}).get(number, {}))))
    outline = model.OutlineFact(wide_mm=columns * (wide_mm + 3) - 3, high_mm=rows * (high_mm + 3) - 3)
    method: tuple[dict[str, Any], ...] = ({"number": 0, "letter": "A"}, {"number": 1, "letter": "B"})
    about_piece: dict[str, Any] = dict.fromkeys(model.PieceFact.model_fields) | {"product": "tile"}
    given: dict[str, Any] = dict.fromkeys(model.AreaFacts.model_fields) | {
        "name": "shower wall",
        "surface": "wall",
        "tiles": tiles,
        "lifts": [],
        "openings": [],
        "outline": outline if laid else None,
        "joint_mm": 3.0,
        "piece": model.PieceFact.model_construct(**about_piece),
        "methods": [model.MethodFact.model_construct(**one) for one in method],
        "seen_told": model.ToldFact(code="", figures={}, text=f"{len(tiles)} tiles set"),
    }
    return model.AreaFacts.model_construct(**given | more)


# Every state of a piece, so that each has its words in each wall.
STATES: tuple[dict[str, Any], ...] = (
    {"state": "covered", "covered_by": [12]},
    {"state": "covered", "cleared_by": [11, 14], "covered_by": [14], "settings": 2},
    {"state": "suspect", "covered_by": []},
    {"state": "accepted", "covered_by": []},
    {"state": "not yet covered", "covered_by": [], "batch": 3},
    {"state": "not set", "covered_by": [], "batch": 0, "method": None, "order": None, "at": None, "setter": ""},
    {"state": "taken off", "covered_by": []},
    {"state": "lifted failed", "covered_by": []},
    {"state": "lifted good", "covered_by": [], "put_back": "put back", "settings": 3, "batch": 2, "method": 1},
)


def mixed(rows: int, columns: int, wide_mm: float, high_mm: float, **more: Any) -> model.AreaFacts:
    """A wall on which every state occurs, with lifts of each kind under every fifth piece, two under every tenth."""
    count = rows * columns + more.get("named", 0)
    about = {n: {"batch": 1 + n * 7 // count} | STATES[(n * n + n // 3) % len(STATES)] for n in range(1, count + 1)}
    lifts: list[model.LiftFact] = []
    kinds: tuple[dict[str, Any], ...] = (
        {"way": "photo"},
        {"verdict": "failed"},
        {"way": "eye"},
        {"verdict": None},
        {"percent": None, "verdict": "not complete"},
    )
    for number in range(1, count + 1, 5):
        for times in range(2 if number % 10 == 1 else 1):
            kind = kinds[(number + times) % len(kinds)]
            lifts.append(lift(len(lifts) + 1, number, **{"percent": 100.0 if number % 3 else 88.4} | kind))
    return area(rows, columns, wide_mm, high_mm, **{"about": about, "lifts": lifts} | more)


def drawn(facts: model.AreaFacts) -> DrawnWall:
    """The drawing of these facts."""
    found = wall(facts, Words("en", "metric"))
    assert found is not None
    return found
