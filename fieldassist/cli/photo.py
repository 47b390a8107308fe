"""`fieldassist photo`: what a photo of a lifted back tells, and photos held against squares counted by hand."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fieldassist.cli.parser import (
    FAILED,
    FILE,
    FOLDER,
    MISUSED,
    OK,
    UNITS,
    Argument,
    Job,
    Misuse,
    NumberOption,
    OneOf,
    Option,
    json_option,
)
from fieldassist.cli.photo_ask import PROPOSED, SURFACES, AskedPoint, PhotoAsk, read_corners, read_piece, read_point
from fieldassist.cli.photo_telling import (
    CANNOT_TELL,
    contact_line,
    lines_of,
    photo_facts,
    refused_facts,
    verdict_of,
    void_lines,
)
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal
from fieldassist.trade.message import Refused, message

if TYPE_CHECKING:
    from fieldassist.cli.photo_answer import PhotoAnswer
    from fieldassist.trade.quantities import Units


class _PointPart(click.ParamType[AskedPoint]):
    name = "point"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> AskedPoint:
        try:
            return value if isinstance(value, AskedPoint) else read_point(str(value))
        except Refused:
            raise Misuse("photo-no-point", ctx, value=str(value)) from None


class _CornerPart(click.ParamType[str]):
    """A point, or the word for all four; kept as it was typed, since only all together can be read."""

    name = "corner"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        if value != PROPOSED:
            _PointPart().convert(value, param, ctx)
        return str(value)


def _photo(
    terminal: Terminal,
    file: Path | None,
    size: str | None,
    corners: tuple[str, ...],
    mortar: tuple[AskedPoint, ...],
    bare: tuple[AskedPoint, ...],
    back: str | None,
    sheet: bool,
    second: Path | None,
    second_corners: tuple[AskedPoint, ...],
    voids: Path | None,
    least: float | None,
    plan: Path | None,
    overlay: Path | None,
    grids: Path | None,
    compare: Path | None,
    units: Units | None,
    as_json: bool,
) -> int:
    """Exit codes: 0 a figure; 1 it is below what is required; 3 it cannot tell; 2 it could not be tried."""
    if grids is not None or compare is not None:
        from fieldassist.cli import photo_comparing

        if grids is not None:
            return photo_comparing.write_grids(terminal, grids)
        assert compare is not None
        return photo_comparing.compare(terminal, compare, as_json=as_json)
    if file is None or size is None:
        raise Misuse("missing", click.get_current_context(), part="FILE" if file is None else "--size")
    size_mm, as_given = read_piece(size)
    terminal = terminal.using(terminal.words.in_units(units or as_given))
    surface: Any = "clear sheet" if sheet else back or SURFACES[0]
    if second is not None and not second_corners:
        raise Misuse("missing", click.get_current_context(), part="--second-corners")
    ask = PhotoAsk(file, size_mm, read_corners(corners), mortar, bare, surface, second, second_corners, voids)
    try:
        from fieldassist.cli.photo_answer import answer

        found = answer(ask)
    except Refused as problem:
        if as_json:
            terminal.json({"file": str(file), "refused": refused_facts(terminal, told(problem))}, indent=2)
        else:
            terminal.warn(told(problem))
        return MISUSED
    _write_pictures(terminal, found, plan, overlay)
    verdict = verdict_of(found, least)
    if as_json:
        terminal.json(photo_facts(terminal, found, least, verdict), indent=2)
    else:
        for line in lines_of(found, least, verdict, assumed=not sheet and back is None):
            terminal.tell(line)
    if found.found is None or verdict == "cannot tell":
        return CANNOT_TELL
    return FAILED if verdict == "fails" else OK


def _write_pictures(terminal: Terminal, answer: PhotoAnswer, plan: Path | None, overlay: Path | None) -> None:
    if plan is None and overlay is None:
        return
    from fieldassist.cli.photo_picture import write_overlay, write_plan

    if plan is not None and answer.plan is not None:
        write_plan(plan, answer.plan)
    if overlay is not None and answer.plan is not None and answer.found is not None:
        said = [contact_line(answer.found), *void_lines(answer.found), message("cli-photo-checked")]
        write_overlay(overlay, answer.plan, answer.found, said, terminal.words)
    for file, made in ((plan, answer.plan), (overlay, answer.found)):
        if file is not None and made is None:
            terminal.warn(message("cli-photo-not-drawn", file=str(file)))


_POINT, _CORNER = _PointPart(), _CornerPart()

job = Job(
    "photo",
    _photo,
    Argument("file", metavar="FILE", type=FILE, required=False),
    Option("--size", metavar="SIZE"),
    Option("--corners", metavar="X,Y", type=_CORNER, many=True),
    Option("--mortar", metavar="X,Y", type=_POINT, many=True),
    Option("--bare", metavar="X,Y", type=_POINT, many=True),
    Option("--back", metavar="|".join(SURFACES), type=OneOf(*SURFACES)),
    Option("--sheet", is_flag=True),
    Option("--second", metavar="FILE", type=FILE),
    Option("--second-corners", metavar="X,Y", type=_POINT, many=True),
    Option("--voids", metavar="FILE", type=FILE),
    Option("--least", metavar="PERCENT", type=NumberOption(float)),
    Option("--plan", metavar="OUT", type=FILE),
    Option("--overlay", metavar="OUT", type=FILE),
    Option("--grids", metavar="FOLDER", type=FOLDER),
    Option("--compare", metavar="FOLDER|SHEET", type=FILE),
    Option("--units", type=UNITS, metavar="metric|us", words="calc-units"),
    json_option(),
    apart=(
        ("back", "sheet"),
        ("voids", "mortar"),
        ("voids", "bare"),
        ("voids", "second"),
        ("file", "grids", "compare"),
    ),
)
