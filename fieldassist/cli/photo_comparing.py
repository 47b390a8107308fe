"""Photos of lifts held against the same lifts counted by hand on a grid of ten by ten squares.

A folder holds the photos and a sheet of one line a lift, which any table program fills in. Nothing is claimed of photos
before thirty real lifts were so compared.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

from fieldassist.cli.parser import OK
from fieldassist.cli.photo_answer import PhotoAnswer, answer
from fieldassist.cli.photo_ask import SURFACES, PhotoAsk, read_corners, read_piece, read_points
from fieldassist.cli.photo_out import folder_out, sheet_out
from fieldassist.cli.photo_picture import write_grid
from fieldassist.cli.photo_telling import CANNOT_TELL, photo_facts, refused_facts
from fieldassist.cli.terminal import Terminal
from fieldassist.day.photo import SUFFIXES
from fieldassist.files import UnfitFile, read_regular
from fieldassist.record import disk
from fieldassist.trade.agreement import LIFTS_BEFORE_A_CLAIM, LimitsOfAgreement, limits_of_agreement
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Figure, Message, Refused, message
from fieldassist.trade.quantities import Units
from fieldassist.trade.voids import BackKind

SHEET, GRIDS = "lifts.csv", "grids"
COLUMNS = ("file", "size", "corners", "mortar", "bare", "back", "voids", "counted")
_LARGEST = 1_000_000
_MOST_LIFTS = 1000


class NoSheet(Refused):
    """The sheet cannot be used; `told` says why, and where."""


@dataclass(frozen=True, slots=True)
class SheetLift:
    """A line of the sheet: what is asked of its photo, None while size or corners are missing; counted: of a hundred
    squares, None before."""

    file: str
    ask: PhotoAsk | None
    units: Units
    counted: float | None


@dataclass(frozen=True, slots=True)
class ComparedLift:
    """A lift that was counted, and what its photo told of it."""

    file: str
    counted: float
    answer: PhotoAnswer


def write_grids(terminal: Terminal, folder: Path) -> int:
    """The sheet to fill in; where there is one, a picture to count of each photo whose size and corners are known.

    Errors: `NoSheet`, `photo_out.NotWritten`.
    """
    sheet = folder / SHEET
    if not sheet.exists():
        photos = _photos_in(folder)
        if not photos:
            raise NoSheet(message("cli-photo-no-photos", folder=str(folder)))
        _write_sheet(sheet, photos)
        terminal.tell(message("cli-photo-sheet-written", sheet=str(sheet), photos=len(photos)))
        return OK
    lifts = read_sheet(folder)
    folder_out(folder / GRIDS)
    written = 0
    for lift in lifts:
        if lift.ask is None:
            terminal.tell(message("cli-photo-lift-waits", file=lift.file))
            continue
        try:
            told = answer(lift.ask)
        except Refused as problem:
            terminal.warn(message("cli-photo-lift-unread", file=lift.file, why=problem.told))
            continue
        if told.plan is None:
            terminal.tell(message("cli-photo-lift-cannot", file=lift.file, why=told.cannot or ""))
            continue
        words = terminal.words.in_units(lift.units)
        # Two photos of one name and other suffixes have two pictures.
        picture = folder / GRIDS / f"{lift.file}.png"
        write_grid(picture, told.plan, [message("cli-photo-grid", file=lift.file)], words)
        written += 1
    terminal.tell(message("cli-photo-grids-written", folder=str(folder / GRIDS), pictures=written))
    return OK


def compare(terminal: Terminal, place: Path, *, as_json: bool) -> int:
    """Tell how far photos and counts of a sheet lie apart; 3 where too few can be compared to tell.

    A photo that cannot be read costs its own line only. Errors: `NoSheet`.
    """
    lifts = read_sheet(place)
    done, unread = list[ComparedLift](), dict[str, Message]()
    for lift in lifts:
        if lift.ask is not None and lift.counted is not None:
            try:
                done.append(ComparedLift(lift.file, lift.counted, answer(lift.ask)))
            except Refused as problem:
                unread[lift.file] = problem.told
    waiting = [lift.file for lift in lifts if lift.ask is None or lift.counted is None]
    apart = limits_of_agreement([_apart(lift) for lift in done if lift.answer.found is not None])
    if as_json:
        told = [{"file": file, **refused_facts(terminal, why)} for file, why in unread.items()]
        terminal.json({**_facts(terminal, done, waiting, apart), "unread": told}, indent=2)
    else:
        for file, why in unread.items():
            terminal.warn(message("cli-photo-lift-unread", file=file, why=why))
        for line in _lines(done, waiting, apart):
            terminal.tell(line)
    return CANNOT_TELL if apart is None else OK


def read_sheet(place: Path) -> tuple[SheetLift, ...]:
    """The lines of a sheet, or of that in a folder. Errors: `NoSheet`, with the line that cannot be used."""
    sheet = place if place.is_file() else place / SHEET
    try:
        text = read_regular(sheet, _LARGEST).decode("utf-8-sig")
    except UnfitFile as unfit:
        raise NoSheet(
            message("cli-photo-no-sheet", sheet=str(sheet), why=message(unfit.code, why=unfit.why))
        ) from unfit
    except UnicodeDecodeError as error:
        raise NoSheet(message("cli-photo-sheet-letters", sheet=str(sheet))) from error
    # Table programs of some languages write semicolons or tabs.
    head = text.partition("\n")[0]
    mark = max(",;\t", key=head.count)
    rows = csv.DictReader(io.StringIO(text, newline=""), delimiter=mark)
    try:
        missing = set(COLUMNS) - {(name or "").strip() for name in rows.fieldnames or ()}
        if missing:
            raise NoSheet(message("cli-photo-sheet-columns", sheet=str(sheet), columns=", ".join(COLUMNS)))
        lifts = tuple(_lifts(sheet, rows))
    except csv.Error as error:
        raise NoSheet(message("cli-photo-sheet-letters", sheet=str(sheet))) from error
    names = [lift.file for lift in lifts]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise NoSheet(message("cli-photo-sheet-twice", sheet=str(sheet), file=twice))
    return lifts


def _lifts(sheet: Path, rows: csv.DictReader[str]) -> Iterator[SheetLift]:
    for number, row in enumerate(rows):
        cells = {(name or "").strip(): (value or "").strip() for name, value in row.items() if isinstance(name, str)}
        if not cells["file"]:
            continue
        try:
            if number >= _MOST_LIFTS:
                raise Refused(message("cli-photo-sheet-long", most=_MOST_LIFTS))
            yield _lift(sheet.parent, cells)
        except Refused as problem:
            raise NoSheet(
                message("cli-photo-sheet-line", sheet=str(sheet), file=cells["file"], why=problem.told)
            ) from problem


def _lift(folder: Path, cells: dict[str, str]) -> SheetLift:
    if Path(cells["file"]).name != cells["file"] or Path(cells["voids"]).name != cells["voids"]:
        raise Refused(message("cli-photo-sheet-path"))
    back = cells["back"] or SURFACES[0]
    surface = next((known for known in get_args(BackKind) if known == back), None)
    if surface is None:
        raise Refused(message("cli-photo-sheet-back", value=back, choices=", ".join(SURFACES)))
    counted = _counted(cells["counted"])
    if not (cells["size"] and cells["corners"]):
        return SheetLift(cells["file"], None, "metric", counted)
    size_mm, units = read_piece(cells["size"])
    ask = PhotoAsk(
        folder / cells["file"],
        size_mm,
        read_corners(cells["corners"].split()),
        read_points(cells["mortar"]),
        read_points(cells["bare"]),
        surface,
        voids=folder / cells["voids"] if cells["voids"] else None,
    )
    return SheetLift(cells["file"], ask, units, counted)


def _counted(text: str) -> float | None:
    """Squares that were counted, halves and quarters of them too; None for none."""
    if not text:
        return None
    try:
        counted = float(text.replace(",", "."))
    except ValueError:
        counted = -1.0
    if not 0 <= counted <= 100:
        raise Refused(message("cli-photo-sheet-counted", value=text))
    return counted


def _photos_in(folder: Path) -> list[str]:
    """The names of the photos in a folder. Errors: `NoSheet`."""
    try:
        return sorted(one.name for one in folder.iterdir() if one.suffix.lower() in SUFFIXES and one.is_file())
    except OSError as error:
        raise NoSheet(message("cli-photo-no-folder", folder=str(folder), why=disk.why(error))) from error


def _write_sheet(sheet: Path, photos: Sequence[str]) -> None:
    text = io.StringIO(newline="")
    table = csv.writer(text)
    table.writerow(COLUMNS)
    table.writerows([name, *[""] * (len(COLUMNS) - 1)] for name in photos)
    with sheet_out(sheet) as out:
        out.write(text.getvalue().encode("utf-8"))


def _apart(lift: ComparedLift) -> float:
    """The photo's contact less the counted one [points]."""
    assert lift.answer.found is not None
    return lift.answer.found.percent - lift.counted


def _held(lift: ComparedLift) -> bool:
    found = lift.answer.found
    return found is not None and found.low <= lift.counted <= found.high


def _lines(done: Sequence[ComparedLift], waiting: Sequence[str], apart: LimitsOfAgreement | None) -> Iterator[Figure]:
    for lift in done:
        found = lift.answer.found
        if found is None:
            yield message("cli-photo-lift-cannot", file=lift.file, why=lift.answer.cannot or "")
            continue
        yield message(
            "cli-photo-lift-compared",
            file=lift.file,
            photo=exactly(round(found.percent, 1), "percent"),
            low=exactly(round(found.low, 1), "percent"),
            high=exactly(round(found.high, 1), "percent"),
            counted=exactly(round(lift.counted, 2), "percent"),
        )
    for name in waiting:
        yield message("cli-photo-lift-waits", file=name)
    given = sum(lift.answer.found is not None for lift in done)
    if apart is not None:
        yield message(
            "cli-photo-apart",
            lifts=apart.count,
            mean=round(apart.mean, 1),
            low=round(apart.low, 1),
            high=round(apart.high, 1),
            least=round(apart.least, 1),
            most=round(apart.most, 1),
            reach=round(apart.limit_reach, 1),
        )
    yield message("cli-photo-held", held=sum(map(_held, done)), given=given, cannot=len(done) - given)
    if given < LIFTS_BEFORE_A_CLAIM:
        yield message("cli-photo-lifts-missing", missing=LIFTS_BEFORE_A_CLAIM - given, needed=LIFTS_BEFORE_A_CLAIM)


def _facts(
    terminal: Terminal, done: Sequence[ComparedLift], waiting: Sequence[str], apart: LimitsOfAgreement | None
) -> dict[str, Any]:
    given = sum(lift.answer.found is not None for lift in done)
    agreed = apart and {
        "mean": round(apart.mean, 3),
        "mean_low": round(apart.low, 3),
        "mean_high": round(apart.high, 3),
        "spread": round(apart.spread, 3),
        "least": round(apart.least, 3),
        "most": round(apart.most, 3),
        "limit_reach": round(apart.limit_reach, 3),
    }
    return {
        "compared": given,
        "cannot_tell": len(done) - given,
        "waiting": list(waiting),
        "agreement": agreed,
        "held": sum(map(_held, done)),
        "needed": LIFTS_BEFORE_A_CLAIM,
        "missing": max(0, LIFTS_BEFORE_A_CLAIM - given),
        "lifts": [{"counted": lift.counted, **photo_facts(terminal, lift.answer, None, None)} for lift in done],
    }
