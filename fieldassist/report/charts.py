"""The drawings of the daily log: lifts against the required contact, tiles in the order they were set, bags, clocks."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from fieldassist.checklist.reach import TileState
from fieldassist.report.build.words import short_time
from fieldassist.report.fonts import BOLD
from fieldassist.report.report_model import ClockLine, LiftLine, TileLine
from fieldassist.report.sheet import ACCENT, GREY, INK, LABEL, PALE, RULE, SMALL, WHITE, Sheet, Style
from fieldassist.report.wording import MARKS
from fieldassist.trade.verdict import Outcome

_TINY = Style(size=6.2, leading=7.6, colour=INK)
_TINY_GREY = Style(size=6.2, leading=7.6, colour=GREY)
_TINY_STRONG = Style(face=BOLD, size=6.2, leading=7.6, colour=INK)
_SHORT: Mapping[Outcome, str] = {"passed": "pass", "failed": "FAIL", "not complete": "open"}
_TINY_ALARM = Style(face=BOLD, size=6.2, leading=7.6, colour=ACCENT)
_A_STRIP = 20
STRIP_HEIGHT = 124.0
_PLOT = 74.0
_GUTTER = 34.0


def lift_chart(sheet: Sheet, lifts: Sequence[LiftLine]) -> None:
    """Each lift's contact and how far it lies above or below what was required, in strips of twenty.

    A verdict is told by shape and word: a disc and "pass", a diamond with a cross and "FAIL", a ring and "open" where
    something was not read; a withdrawn lift is a struck ring.
    """
    if not lifts:
        return
    lowest = min(min(x.contact, x.required) for x in lifts)
    low = max(0.0, math.floor((lowest - 4) / 10) * 10)
    for start in range(0, len(lifts), _A_STRIP):
        sheet.need(STRIP_HEIGHT)
        _strip(sheet, lifts[start : start + _A_STRIP], low)


def _strip(sheet: Sheet, lifts: Sequence[LiftLine], low: float) -> None:
    left, right = sheet.left + _GUTTER, sheet.right
    top = sheet.y + 15
    floor = top + _PLOT
    # 100 % stays a little under the upper edge, so that its figure has room.
    scale = (_PLOT - 9) / (100 - low)

    def at(percent: float) -> float:
        return floor - (percent - low) * scale

    sheet.rect(left, top, right - left, _PLOT, fill=WHITE, stroke=RULE, thick=0.5)
    step = 10 if 100 - low <= 60 else 20
    for percent in range(math.ceil(low / step) * step, 101, step):
        y = at(percent)
        if low < percent:
            sheet.line(left, y, right, y, 0.3, RULE)
        sheet.text(left - 4, y + 2, f"{percent} %", _TINY_GREY, align="right")
    slot = (right - left) / max(8, len(lifts))
    for index, lift in enumerate(lifts):
        x = left + slot * (index + 0.5)
        need, got = at(lift.required), at(max(low, lift.contact))
        a, b = left + slot * index, left + slot * (index + 1)
        sheet.line(a, need, b, need, 1.1, INK)
        failed = lift.verdict == "failed"
        sheet.line(x, need, x, got, 1.0, GREY if lift.withdrawn else ACCENT if failed else INK)
        sheet.mark(x, got, "struck" if lift.withdrawn else MARKS[lift.verdict], 3.0)
        figure = lift.contact_told.removesuffix(" %")
        above = got - 6.4 if lift.contact >= lift.required else got + 10.8
        style = _TINY_GREY if lift.withdrawn else _TINY_ALARM if failed else _TINY_STRONG
        sheet.text(x, above if above < floor - 1 else got - 6.4, figure, style, align="centre", strike=lift.withdrawn)
        sheet.text(x, floor + 8, f"lift {lift.number}", _TINY, align="centre", strike=lift.withdrawn)
        sheet.text(x, floor + 15.5, short_time(lift.time), _TINY_GREY, align="centre")
        gone = "corrected" if lift.judged_anew else "withdrawn"
        word = (gone if slot > 32 else "struck") if lift.withdrawn else _SHORT[lift.verdict]
        sheet.text(x, floor + 23, word, style, align="centre")
    end = left + slot * len(lifts)
    note = f"required {lifts[-1].required_told}"
    if end + 70 <= right:
        sheet.text(end + 4, at(lifts[-1].required) + 2.2, note, _TINY_STRONG)
    else:
        sheet.text(right, top - 4, f"heavy line: {note}", _TINY_STRONG, align="right")
    sheet.text(left, top - 4, "Contact behind the tile, percent of its back", LABEL)
    sheet.y = floor + 29


_STATES: Mapping[TileState, str] = {
    "not yet covered": "not covered",
    "covered": "covered",
    "lifted good": "pass",
    "lifted failed": "FAIL",
    "suspect": "SUSPECT",
    "accepted": "ACCEPTED",
    "taken off": "TAKEN OFF",
}
_TILES_A_ROW = 12
_TILE_HEIGHT = 42.0
_NOT_LIFTED_HEIGHT = 39.0
_HATCHED = 3.0


def tile_strip(sheet: Sheet, tiles: Sequence[TileLine], lifts: Sequence[LiftLine]) -> None:
    """The tiles in the order in which they were set, and which of them were lifted with what result.

    How a tile came into the record is told by word, shape and ground: a full square where it was witnessed, a hatched
    one on hatched ground where it was counted, one with a dot where it was set again. A disc and "pass", a diamond with
    a cross and "FAIL"; a tile that was lifted again shows every lift's number and the mark of the last one. Lifts that
    were withdrawn are left out. Of a tile that nobody looked under its state is told.
    """
    of_tile: dict[int, list[LiftLine]] = {}
    for lift in lifts:
        if not lift.withdrawn:
            of_tile.setdefault(lift.tile, []).append(lift)
    wide = sheet.width / _TILES_A_ROW
    batch = ""
    for start in range(0, len(tiles), _TILES_A_ROW):
        row = tiles[start : start + _TILES_A_ROW]
        lifted = any(tile.number in of_tile for tile in row)
        high = _TILE_HEIGHT if lifted else _NOT_LIFTED_HEIGHT
        sheet.need(high)
        for at, tile in enumerate(row):
            x, y = sheet.left + wide * at, sheet.y
            found = of_tile.get(tile.number, [])
            sheet.rect(x, y, wide, high, fill=PALE if found else WHITE, stroke=RULE)
            if tile.seen == "counted":
                _hatch(sheet, x, y, wide, _HATCHED)
            number = sheet.text(x + 3, y + 8, str(tile.number), _TINY_STRONG)
            sheet.mark(x + 8 + number, y + 5.8, tile.seen, 2.3)
            sheet.text(x + 3, y + 16.5, tile.seen, _TINY)
            if tile.batch != batch:
                batch = tile.batch
                sheet.line(x + 0.6, y, x + 0.6, y + high, 1.6, INK)
                sheet.text(x + 3, y + 24, batch, _TINY_GREY)
            if found:
                last = found[-1]
                sheet.mark(x + wide - 7, y + 6.5, MARKS[last.verdict], 2.8)
                sheet.text(x + 3, y + 31.5, _lift_numbers(found), _TINY)
                style = _TINY_ALARM if last.verdict == "failed" else _TINY_STRONG
                sheet.text(x + 3, y + 39, _SHORT[last.verdict], style)
            else:
                alarm = tile.state in ("suspect", "accepted", "taken off")
                sheet.text(x + 3, y + 31.5, _STATES[tile.state], _TINY_ALARM if alarm else _TINY_GREY)
        sheet.y += high
    for legend in (
        "full square: witnessed, every step was called; hatched square and edge: counted, its steps were not called; "
        "square with a dot: set again after its lift",
        "disc: lifted, pass; diamond: lifted, FAIL; ring: lifted, not complete; heavy edge: another batch from here on",
    ):
        sheet.y += 8
        sheet.text(sheet.left, sheet.y, legend, LABEL)
    sheet.y += 3


def _hatch(sheet: Sheet, left: float, top: float, wide: float, high: float) -> None:
    """Slanting lines across a strip along the upper edge of a tile."""
    x = left
    while x < left + wide:
        end = min(x + high, left + wide)
        sheet.line(x, top + high, end, top + high - (end - x), 0.4, GREY)
        x += high


def _lift_numbers(lifts: Sequence[LiftLine]) -> str:
    """The numbers of a tile's lifts, short enough for its box.

    >>> from types import SimpleNamespace as Lift
    >>> _lift_numbers([Lift(number=3)]), _lift_numbers([Lift(number=n) for n in (1, 2, 5, 6)])
    ('lift 3', 'lifts 1 to 6')
    """
    first, last = lifts[0].number, lifts[-1].number
    if len(lifts) == 1:
        return f"lift {first}"
    return f"lifts {first}, {last}" if len(lifts) == 2 else f"lifts {first} to {last}"


def bag_bars(sheet: Sheet, used: float, predicted: float) -> None:
    """Bags used and bags predicted, as two bars to one scale from none on."""
    left, gutter = sheet.left, 70.0
    room = sheet.width - gutter - 70
    most = max(used, predicted, 1e-9)
    sheet.need(34)
    for label, bags, fill in (("used", used, INK), ("predicted", predicted, PALE)):
        sheet.text(left, sheet.y + 9.4, label, SMALL)
        long = room * bags / most
        sheet.rect(left + gutter, sheet.y + 2, max(long, 0.8), 10, fill=fill, stroke=INK)
        words = f"{bags:.1f}".removesuffix(".0") + (" bag" if bags == 1 else " bags")
        sheet.text(left + gutter + long + 5, sheet.y + 9.8, words, _TINY_STRONG)
        sheet.y += 15
    sheet.y += 2


def time_line(sheet: Sheet, clocks: Sequence[ClockLine], started: str, minutes: float) -> None:
    """A bar a clock: its frame is the time allowed, its filling the time used.

    started: wall time at which the area began; minutes: how long the area went on. A clock that ran out is filled
    to the end, crossed and named; one that was not timed is empty behind a ring; a withdrawn one has a dashed frame.
    """
    if not clocks:
        return
    # A frame that reaches beyond the day's end is cut off there.
    span = max([minutes, 1.0, *(c.start + c.used for c in clocks if not c.withdrawn)])
    gutter = 84.0
    left, right = sheet.left + gutter, sheet.right
    scale = (right - left) / span
    titles = list(dict.fromkeys(c.title for c in clocks))
    lanes = [(title, lane) for title in titles for lane in _lanes([c for c in clocks if c.title == title])]
    begin = datetime.strptime(started.rsplit(" ", 1)[-1], "%H:%M:%S")
    sheet.need(16 + 13 * min(len(lanes), 6) + 12)
    _axis(sheet, begin, span, left, right, scale)
    before = ""
    for title, lane in lanes:
        if sheet.need(13 + 12):
            _axis(sheet, begin, span, left, right, scale)
            before = ""
        if title != before:
            sheet.text(sheet.left, sheet.y + 8.4, title, SMALL)
        before = title
        for clock, after in zip(lane, [*lane[1:], None], strict=True):
            _bar(sheet, clock, left, right, scale, right if after is None else left + after.start * scale)
        sheet.y += 13
    sheet.y += 2
    sheet.text(
        left,
        sheet.y + 6,
        "frame: time allowed; filled: time used; diamond: ran out; ring: not timed apart; dashed: withdrawn",
        LABEL,
    )
    sheet.y += 10


def _lanes(clocks: Sequence[ClockLine]) -> list[list[ClockLine]]:
    """Runs of one clock that overlap go into lanes of their own."""
    lanes: list[list[ClockLine]] = []
    ends: list[float] = []
    for clock in clocks:
        end = clock.start + max(clock.used, clock.allowed)
        for index, free in enumerate(ends):
            if free <= clock.start:
                lanes[index].append(clock)
                ends[index] = end
                break
        else:
            lanes.append([clock])
            ends.append(end)
    return lanes


def _axis(sheet: Sheet, begin: datetime, span: float, left: float, right: float, scale: float) -> None:
    step = next((s for s in (5, 10, 15, 30, 60, 120, 240) if span / s <= 12), 480)
    first = begin.replace(second=0) + timedelta(minutes=-(begin.minute % step) if step < 60 else -begin.minute)
    y = sheet.y + 11
    sheet.line(left, y, right, y, 0.5, INK)
    tick = first
    while (offset := (tick - begin).total_seconds() / 60) <= span:
        if offset >= 0:
            x = left + offset * scale
            sheet.line(x, y - 2.5, x, y, 0.5, INK)
            if x < right - 8:
                sheet.text(x, y - 4, tick.strftime("%H:%M"), _TINY_GREY, align="centre")
        tick += timedelta(minutes=step)
    sheet.y = y + 2.5


def _bar(sheet: Sheet, clock: ClockLine, left: float, right: float, scale: float, free: float) -> None:
    """`free`: up to where a word may stand beside the bar."""
    x, y, high = left + clock.start * scale, sheet.y + 2, 8.0
    allowed = max(1.5, min(right - x, clock.allowed * scale))
    if clock.withdrawn:
        sheet.rect(x, y, allowed, high, stroke=GREY, thick=0.6, dash=True)
        return
    if clock.outcome == "not timed apart":
        sheet.rect(x, y, allowed, high, stroke=INK, thick=0.5)
        sheet.mark(x, y + high / 2, "open", 2.2)
        if x + allowed + 32 <= free:
            sheet.text(x + allowed + 5, y + 6.4, "not timed", _TINY)
        return
    used = max(1.0, min(right - x, clock.used * scale))
    ran_out = clock.outcome == "ran out"
    sheet.rect(x, y, allowed, high, fill=PALE)
    sheet.rect(x, y, used, high, fill=ACCENT if ran_out else GREY)
    sheet.rect(x, y, allowed, high, stroke=INK, thick=0.5)
    inside = Style(BOLD, 6.2, 7.6, WHITE)
    word = {"ran out": "ran out", "still running": "running", "gone on early": "EARLY", "called late": "late"}.get(
        clock.outcome, ""
    )
    if ran_out:
        sheet.mark(min(x + used, right - 3), y + high / 2, "fail", 2.8)
    if used > 40:
        sheet.text(x + 3.5, y + 6.4, word, inside)
    elif x + max(used, allowed) + 32 <= free:
        sheet.text(x + max(used, allowed) + 5, y + 6.4, word, _TINY_ALARM if ran_out else _TINY)
