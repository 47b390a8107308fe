"""`fieldassist photo`: what a photo of a lifted back tells, and photos held against squares counted by hand."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
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
from fieldassist.trade.message import Message, Refused, message

if TYPE_CHECKING:
    from fieldassist.cli.photo_answer import PhotoAnswer
    from fieldassist.trade.quantities import Units


# A picture that there is nothing for: told beside the answer, and no failure.
_NOT_DRAWN = "cli-photo-not-drawn"


def _required(text: str) -> float:
    """What may be required [percent]: nothing is no requirement, and more than all cannot be. Errors: `ValueError`."""
    if not 0 < (percent := float(text)) <= 100:
        raise ValueError(text)
    return percent


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
    """Exit codes: 0 a figure; 1 it is below what is required; 3 it cannot tell; 2 it could not be tried, or a picture
    could not be written."""
    if grids is not None or compare is not None:
        from fieldassist.cli import photo_comparing

        if grids is not None:
            return photo_comparing.write_grids(terminal, grids)
        assert compare is not None
        try:
            return photo_comparing.compare(terminal, compare, as_json=as_json)
        except Refused as problem:
            return _refuse(terminal, compare, problem, as_json=as_json)
    if file is None or size is None:
        raise Misuse("missing", click.get_current_context(), part="FILE" if file is None else "--size")
    if (second is None) == bool(second_corners):
        raise Misuse("missing", click.get_current_context(), part="--second" if second is None else "--second-corners")
    surface: Any = "clear sheet" if sheet else back or SURFACES[0]
    try:
        from fieldassist.cli.photo_answer import answer

        size_mm, as_given = read_piece(size)
        terminal = terminal.using(terminal.words.in_units(units or as_given))
        ask = PhotoAsk(file, size_mm, read_corners(corners), mortar, bare, surface, second, second_corners, voids)
        found = answer(ask)
    except Refused as problem:
        return _refuse(terminal, file, problem, as_json=as_json)
    missing = _write_pictures(terminal, found, plan, overlay)
    verdict = verdict_of(found, least)
    if as_json:
        lacking = [{"file": str(out), **refused_facts(terminal, why)} for out, why in missing]
        terminal.json({**photo_facts(terminal, found, least, verdict), "not_written": lacking}, indent=2)
    else:
        for line in lines_of(found, least, verdict, assumed=not sheet and back is None):
            terminal.tell(line)
        for _, why in missing:
            terminal.warn(why)
    if any(why.code != _NOT_DRAWN for _, why in missing):
        return MISUSED
    if found.found is None or verdict == "cannot tell":
        return CANNOT_TELL
    return FAILED if verdict == "fails" else OK


def _refuse(terminal: Terminal, file: Path, problem: Refused, *, as_json: bool) -> int:
    if as_json:
        terminal.json({"file": str(file), "refused": refused_facts(terminal, told(problem))}, indent=2)
    else:
        terminal.warn(told(problem))
    return MISUSED


def _write_pictures(
    terminal: Terminal, answer: PhotoAnswer, plan: Path | None, overlay: Path | None
) -> list[tuple[Path, Message]]:
    """Write what was asked for; which of it was not written, and why. No figure is lost by it."""
    if plan is None and overlay is None:
        return []
    from fieldassist.cli.photo_picture import write_overlay, write_plan

    ask, missing = answer.ask, list[tuple[Path, Message]]()
    others = [one for one in (ask.file, ask.second, ask.voids) if one is not None]
    if plan is not None:
        with _missed(plan, missing):
            if answer.plan is None:
                raise Refused(message(_NOT_DRAWN, file=str(plan)))
            write_plan(plan, answer.plan, others)
            others.append(plan)
    if overlay is not None:
        with _missed(overlay, missing):
            if answer.plan is None or answer.found is None:
                raise Refused(message(_NOT_DRAWN, file=str(overlay)))
            said = [contact_line(answer.found), *void_lines(answer.found), message("cli-photo-checked")]
            write_overlay(overlay, answer.plan, answer.found, said, terminal.words, others)
    return missing


@contextmanager
def _missed(out: Path, missing: list[tuple[Path, Message]]) -> Iterator[None]:
    try:
        yield
    except Refused as problem:
        missing.append((out, problem.told))


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
    Option("--least", metavar="PERCENT", type=NumberOption(_required)),
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
        ("grids", "as_json"),
    ),
)
