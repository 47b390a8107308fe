"""`fieldassist handling`: who may carry a piece of each area of a plan, as Plan, Safety and the daily log judge it."""

from __future__ import annotations

from pathlib import Path
from typing import Any, cast

import click

from fieldassist.assess.assumptions import Assumption
from fieldassist.assess.handling import Handling, handling
from fieldassist.assess.inputs import FIELDS, Entries, Field, Value, area_inputs, read_value
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.plan import clean_name
from fieldassist.checklist.state import Area
from fieldassist.cli.parser import FILE, FOLDER, MISUSED, OK, UNITS, Argument, Job, Misuse, Option, json_option, nearest
from fieldassist.cli.terminal import Terminal, safe
from fieldassist.places import shipped
from fieldassist.trade.message import Refused, Several, message
from fieldassist.trade.quantities import Quantity, System


def _handling(
    terminal: Terminal,
    plan: Path,
    area: str | None,
    entered: tuple[str, ...],
    checklists: Path | None,
    in_units: System | None,
    as_json: bool,
) -> int:
    planned = load_plan(plan)
    known, refused = load_folder(checklists or shipped("checklists"))
    for wrong in refused:
        terminal.warn(str(wrong))
    names = [one.name for one in planned.areas]
    wanted = names if area is None else [name for name in names if name == _cleaned(area)]
    if not wanted:
        raise Misuse("handling-no-area", click.get_current_context(), area=area or "", areas=", ".join(names))
    entries = _entries(entered)
    words = terminal.words.in_units(in_units or planned.units)
    found: dict[str, Handling] = {}
    for place in planned.areas:
        if place.name not in wanted:
            continue
        if place.checklist not in known:
            terminal.warn(message("cli-handling-no-checklist", area=place.name, checklist=place.checklist))
            return MISUSED
        try:
            inputs = area_inputs(Area(place, known[place.checklist], place.method), planned.units, entries=entries)
            found[place.name] = handling(inputs)
        except Refused as problem:
            terminal.warn(problem.told)
            return MISUSED
    if as_json:
        terminal.json({name: _for_programs(one) for name, one in found.items()}, indent=2)
        return OK
    for name, one in found.items():
        terminal.tell(words(safe(message("cli-handling-area-says", area=name, told=one.told))))
        details = (one.alone.where, one.alone.none, *one.alone.reasons)
        assumed = Several(tuple(assumption.told for assumption in one.assumed), "sentences")
        for detail in (*details, message("cli-handling-assumed", what=assumed), *one.cautions):
            if detail is not None:
                terminal.tell(words(safe(message("cli-handling-detail", detail=detail))), indent=2)
        for basis in dict.fromkeys(basis for basis in (one.basis, one.equation, one.weight_basis) if basis is not None):
            terminal.tell(words(message("cli-handling-source", basis=basis.told)), indent=2)
    return OK


def _cleaned(name: str) -> str:
    try:
        return clean_name(name)
    except ValueError:
        return ""


def _entries(entered: tuple[str, ...]) -> Entries:
    found: dict[Field, Value] = {}
    for one in entered:
        name, _, text = one.partition("=")
        field = name.strip().replace("-", "_")
        ctx = click.get_current_context()
        if field not in FIELDS:
            near = nearest(field, FIELDS)
            raise Misuse("handling-no-field", ctx, name=name, near=near or ", ".join(FIELDS))
        try:
            found[cast(Field, field)] = read_value(cast(Field, field), text)
        except Refused as problem:
            raise Misuse("handling-not-read", ctx, why=problem.told) from None
    return found


def _for_programs(found: Handling) -> dict[str, Any]:
    alone = found.alone
    return {
        "verdict": found.verdict.code,
        "weight_kg": found.weight_kg,
        "people": found.people,
        "together_kg": found.together_kg,
        "alone": {
            "may": alone.may,
            "limit_kg": alone.limit_kg,
            "equation_kg": alone.equation_kg,
            "index": alone.index,
            "governs": alone.governs,
            "travel_mm": alone.travel_mm,
        },
        "assumed": [_assumed(one) for one in found.assumed],
    }


def _assumed(one: Assumption) -> dict[str, Any]:
    if isinstance(one.value, Quantity):
        return {"name": one.name, "value": float(one.value.value), "unit": one.value.unit, "basis": one.basis.id}
    return {"name": one.name, "value": one.value, "basis": one.basis.id}


job = Job(
    "handling",
    _handling,
    Argument("plan", metavar="PLAN", type=FILE),
    Option("--area", metavar="NAME"),
    Option("--set", "entered", metavar="NAME=VALUE", many=True),
    Option("--checklists", metavar="DIR", type=FOLDER, words="begin-checklists"),
    Option("--units", "in_units", type=UNITS, metavar="metric|us", words="handling-units"),
    json_option(),
)
