"""The chart of page one: every lift of the day against what its area requires, in panels that share one axis.

No line runs through a word: a figure stands where neither the required line, nor an axis, nor another lift is. Over 30
lifts the figures go, and those that failed keep theirs; over 90 the lifts are counted by percent. Lengths are points.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Literal, TypeAlias

from fieldassist.report import fonts
from fieldassist.report.front_model import ChartLift, ChartPanel, LiftChart
from fieldassist.report.grid import (
    CAPTION,
    DRAWN_STRONG,
    HAIR,
    HEADING,
    MM,
    SECOND,
    GridSpan,
    Leaf,
    cut_to,
)
from fieldassist.report.sheet import BLACK, WHITE, Style
from fieldassist.report.signs import MARK, BarSign, KeyEntry, KeySign, bar, draw_key, lift_sign
from fieldassist.trade.message import Figure, Several, message, term

_MOST_FIGURES, _MOST_SIGNS = 30, 90
_AXIS = Style(fonts.REGULAR, 8, 9.6, SECOND)
_GUTTER, _LIMIT_WIDE, _BETWEEN = 8 * MM, 5.5 * MM, 4 * MM
_TITLE_HIGH, _PANEL_HIGH, _KEY_HIGH = HEADING.leading + 8, 12.0, 13.0
_ROWS_DOWN, _ROW_HIGH = 2.0, 9.5  # of what tells which lift it is, below the plot
_LEAST_WIDE = 20 * MM
_LEAST_RANGE = 20.0  # percent
_INTERVAL_THICK, _INTERVAL_END = 0.8, 1.8  # the line of a lift's doubt, and half its ends
_REQUIRED_THICK = 1.4
_CAP = 6.0  # how high the figures are
_AIR = 1.0
_LEAST_BAR = 9.5
_STEPS = 5, 10, 20  # percent
_BARS: tuple[BarSign, ...] = ("bar good", "bar failed", "bar open")
_COUNTED: tuple[tuple[BarSign, str], ...] = (("bar failed", "front-bar-failed"), ("bar open", "front-bar-open"))


_Row: TypeAlias = Literal["area", "lift", "time"]


def chart_high(chart: LiftChart, plot_mm: float) -> float:
    """How high the chart is with a plot of that height."""
    return _TITLE_HIGH + plot_mm * MM + _rows_high(chart) + _PANEL_HIGH + _KEY_HIGH


def _rows_of(chart: LiftChart) -> tuple[_Row, ...]:
    """What is told under each lift: its area too where several share a panel, nothing where lifts are counted."""
    if chart.lifts > _MOST_SIGNS:
        return ()
    return ("lift", "time") if chart.by_area else ("area", "lift", "time")


def _rows_high(chart: LiftChart) -> float:
    return _ROWS_DOWN * 2 + _ROW_HIGH * len(_rows_of(chart))


@dataclass(frozen=True, slots=True)
class _Box:
    """Where something stands."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: _Box) -> bool:
        """Whether the two cover each other somewhere."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )


def draw_chart(leaf: Leaf, chart: LiftChart, plot_mm: float) -> None:
    """Draw it where the cursor stands."""
    sheet, top = leaf.sheet, leaf.y
    counted, sure = chart.lifts > _MOST_SIGNS, "yes" if chart.sure else "no"
    note = sheet.said("front-chart-counted") if counted else sheet.said("front-chart-note", sure=sure)
    leaf.flow([(sheet.said("front-chart"), HEADING), (f"   {note}", CAPTION)], HEADING, kind="H2")
    with sheet.tagged("Figure", alt=chart.alt):
        _Plot(leaf, chart, top + _TITLE_HIGH, plot_mm * MM).draw()
    leaf.y = top + chart_high(chart, plot_mm)


class _Plot:
    """The panels of a chart, their axis and their key."""

    def __init__(self, leaf: Leaf, chart: LiftChart, top: float, high: float) -> None:
        self.sheet, self.whole, self.chart, self.top, self.high = leaf.sheet, leaf.whole, chart, top, high
        percents = [lift.percent for panel in chart.panels for lift in panel.lifts]
        limits = [panel.required for panel in chart.panels if panel.required is not None]
        # A sign has room below it; the required line may be the lowest.
        lowest = min([*(percent - 2 for percent in percents), *limits])
        self.low = max(0.0, min(100.0 - _LEAST_RANGE, floor(lowest / 10) * 10.0))
        self.counted = chart.lifts > _MOST_SIGNS
        self.figures = chart.lifts <= _MOST_FIGURES
        self.step = next((step for step in _STEPS if self._is_room(step, limits)), _STEPS[-1])
        if self.counted:
            self.low -= self.low % self.step

    def y(self, percent: float) -> float:
        """The height of a contact."""
        return self.top + self.high * (100.0 - percent) / (100.0 - self.low)

    def _is_room(self, step: int, limits: Sequence[float]) -> bool:
        """Whether the words of a bar find room in a step of so many percent, beside a required line that parts it."""
        one = self.high / (100.0 - self.low)
        parts = (max(limit % step, step - limit % step) for limit in limits if limit % step)
        return all(part * one >= _LEAST_BAR for part in (step, *parts))

    @property
    def _lines(self) -> Sequence[int]:
        """The contacts of the axis."""
        step = 10 if 100 - self.low <= 50 else 20
        return range(ceil(self.low / step) * step, 101, step)

    def draw(self) -> None:
        """All of it."""
        sheet, bottom = self.sheet, self.top + self.high
        for percent in self._lines:
            sheet.text(self.whole.x + _GUTTER - 5, self.y(percent) + 2.8, str(percent), _AXIS, align="right")
        # The words of the rows stand in the gutter: narrower than it in any language, or cut.
        for at, row in enumerate(_rows_of(self.chart), start=1):
            told = cut_to(sheet.words(term("front-chart-row", row)), _AXIS, _GUTTER)
            sheet.text(self.whole.x, bottom + _ROWS_DOWN + at * _ROW_HIGH, told, _AXIS)
        for panel, span in zip(self.chart.panels, self._spans(), strict=True):
            self._panel(panel, span)
        y = bottom + _rows_high(self.chart) + _PANEL_HIGH
        draw_key(sheet, self.whole, y, list(self._key()))

    def _spans(self) -> Iterator[GridSpan]:
        """Panels share the width by their lifts; the narrowest has room for its words."""
        panels = self.chart.panels
        room = self.whole.wide - _GUTTER - len(panels) * _LIMIT_WIDE - (len(panels) - 1) * _BETWEEN
        least = min(_LEAST_WIDE, room / len(panels))
        wides = _shares([float(len(panel.lifts)) for panel in panels], room, least)
        x = self.whole.x + _GUTTER
        for wide in wides:
            yield GridSpan(x, wide)
            x += wide + _LIMIT_WIDE + _BETWEEN

    def _panel(self, panel: ChartPanel, span: GridSpan) -> None:
        sheet, bottom = self.sheet, self.top + self.high
        for percent in self._lines:
            if percent != panel.required:
                sheet.line(span.x, self.y(percent), span.end, self.y(percent), 0.35, HAIR)
        if panel.required is not None:
            y = self.y(panel.required)
            sheet.line(span.x, y, span.end, y, _REQUIRED_THICK, BLACK)
            sheet.text(span.end + 2, y + 2.9, panel.limit, DRAWN_STRONG)
        if self.counted:
            self._bars(panel, span)
        else:
            self._signs(panel, span)
        room = min(span.wide + _LIMIT_WIDE + _BETWEEN - 3, self.whole.end - span.x)
        fits = fonts.width(panel.title, DRAWN_STRONG.face, DRAWN_STRONG.size) <= room
        title = panel.title if fits else cut_to(panel.short, DRAWN_STRONG, room)
        sheet.text(span.x, bottom + _rows_high(self.chart) + 9, title, DRAWN_STRONG)

    # --- lift by lift ---------------------------------------------------------------------------------------------

    def _signs(self, panel: ChartPanel, span: GridSpan) -> None:
        slot = span.wide / len(panel.lifts)
        places = [
            (span.x + slot * (at + 0.5), self.y(max(self.low, lift.percent))) for at, lift in enumerate(panel.lifts)
        ]
        half = MARK / 2
        taken = [_Box(x - half, y - half, x + half, y + half) for x, y in places]
        for (x, y), lift in zip(places, panel.lifts, strict=True):
            if lift.interval is not None:
                taken.append(self._interval(x, lift.interval))
            lift_sign(self.sheet, x, y, lift.mark)
        for (x, y), lift in zip(places, panel.lifts, strict=True):
            if self.figures or lift.mark == "failed":
                self._figure(lift, x, y, panel, span, taken)
        self._under(panel.lifts, [x for x, _ in places])

    def _interval(self, x: float, ends: tuple[float, float]) -> _Box:
        """A line through a lift's sign from end to end of its interval; gives what it takes."""
        bottom, top = (self.y(max(self.low, end)) for end in ends)
        self.sheet.line(x, top, x, bottom, _INTERVAL_THICK)
        for end, y in zip(ends, (bottom, top), strict=True):
            if end >= self.low:
                self.sheet.line(x - _INTERVAL_END, y, x + _INTERVAL_END, y, _INTERVAL_THICK)
        return _Box(x - _INTERVAL_END, top, x + _INTERVAL_END, bottom)

    def _figure(
        self, lift: ChartLift, x: float, y: float, panel: ChartPanel, span: GridSpan, taken: list[_Box]
    ) -> None:
        """A lift's contact beside its sign, where no line and nothing else is; on an axis only where nothing is free,
        and the axis gives way then."""
        wide = fonts.width(lift.figure, DRAWN_STRONG.face, DRAWN_STRONG.size)
        out = MARK / 2 + 1.5
        lefts = (
            (x + out, y - _CAP / 2),
            (x - wide / 2, y - out - _CAP),
            (x - wide / 2, y + out),
            (x - out - wide, y - _CAP / 2),
        )
        boxes = [_Box(left, top, left + wide, top + _CAP) for left, top in lefts]
        limit = [] if panel.required is None else [self._line_box(span, panel.required, _REQUIRED_THICK)]
        axes = [self._line_box(span, percent, 0.4) for percent in self._lines]
        edge = _Box(span.end + 1, self.top - 20, span.end + _LIMIT_WIDE, self.top + self.high)
        over = _Box(self.whole.x, self.top - 60, self.whole.end, self.top - 8)
        free = [box for box in boxes if not any(_wider(box).meets(one) for one in (*taken, *limit, edge, over))]
        clear = [box for box in free if not any(_wider(box).meets(one) for one in axes)]
        if not free:
            return
        box = (clear or free)[0]
        if not clear:
            self.sheet.rect(box.left - 1, box.top - 1, wide + 2, _CAP + 2, fill=WHITE)
        self.sheet.text(box.left, box.bottom, lift.figure, DRAWN_STRONG)
        taken.append(box)

    def _line_box(self, span: GridSpan, percent: float, thick: float) -> _Box:
        y = self.y(percent)
        return _Box(span.x, y - thick / 2, span.end, y + thick / 2)

    def _under(self, lifts: Sequence[ChartLift], places: Sequence[float]) -> None:
        """Which it is, under each lift; where there is no room for all, those that failed and the first go first."""
        bottom = self.top + self.high
        for row, down in ((row, _ROWS_DOWN + at * _ROW_HIGH) for at, row in enumerate(_rows_of(self.chart), start=1)):
            style = _AXIS if row == "time" else DRAWN_STRONG
            told = [{"area": lift.area, "lift": str(lift.number), "time": lift.time}[row] for lift in lifts]
            taken = [_Box(self.whole.x, 0, self.whole.x + _GUTTER - 6, 1)]  # the word of the row
            order = sorted(range(len(lifts)), key=lambda at: (lifts[at].mark != "failed", at))
            for at in order:
                wide = fonts.width(told[at], style.face, style.size)
                box = _Box(places[at] - wide / 2 - 1.2, 0, places[at] + wide / 2 + 1.2, 1)
                if not any(box.meets(one) for one in taken):
                    self.sheet.text(places[at], bottom + down, told[at], style, align="centre")
                    taken.append(box)

    # --- by percent -----------------------------------------------------------------------------------------------

    def _bars(self, panel: ChartPanel, span: GridSpan) -> None:
        """A bar a step of percent: the good, behind them those that failed and those not judged; how many, in words."""
        high = self.step * self.high / (100.0 - self.low)
        counts = {sign: Counter(self._bin(lift) for lift in panel.lifts if _bar_of(lift) == sign) for sign in _BARS}
        steps = sorted(set().union(*counts.values()))
        told = {at: self._told({sign: counts[sign][at] for sign in _BARS}) for at in steps}
        beside = max(fonts.width(text, DRAWN_STRONG.face, DRAWN_STRONG.size) for text in told.values()) + 8
        scale = max(10.0, span.wide - beside) / max(sum(some[at] for some in counts.values()) for at in steps)
        for at, text in told.items():
            top, right = self.y((at + 1) * self.step) + high * 0.12, span.x
            for sign, some in counts.items():
                if some[at]:
                    bar(self.sheet, (right, top, some[at] * scale, high * 0.76), sign)
                    right += some[at] * scale
            self.sheet.text(right + 3, self._beside(panel, at) + 2.9, text, DRAWN_STRONG)

    def _beside(self, panel: ChartPanel, at: int) -> float:
        """The height of a step's words: its middle, or that of its larger part where the required line parts it."""
        low, high = float(at * self.step), float((at + 1) * self.step)
        if panel.required is not None and low < panel.required < high:
            low, high = max((low, panel.required), (panel.required, high), key=lambda part: part[1] - part[0])
        return self.y((low + high) / 2)

    def _bin(self, lift: ChartLift) -> int:
        """The step that a lift lies in: its lower end belongs to it, and 100 percent to the last one."""
        return min(floor(max(self.low, lift.percent) / self.step), round(100 / self.step) - 1)

    def _told(self, counts: Mapping[BarSign, int]) -> str:
        parts: list[Figure] = [str(counts["bar good"])] if counts["bar good"] else []
        for sign, code in _COUNTED:
            if count := counts[sign]:
                parts.append(message(code, count=count))
        return self.sheet.words(Several(tuple(parts)))

    # --- the key --------------------------------------------------------------------------------------------------

    def _key(self) -> Iterator[KeyEntry]:
        """What the signs mean that are drawn."""
        lifts = [lift for panel in self.chart.panels for lift in panel.lifts]
        marks = {_bar_of(lift) for lift in lifts} if self.counted else {lift.mark for lift in lifts}
        signs: tuple[KeySign, ...] = _BARS if self.counted else ("good", "eye", "failed", "open")
        for sign in signs:
            if sign in marks:
                yield KeyEntry(sign, self.sheet.words(term("front-key", sign.replace(" ", "-"))))


def _bar_of(lift: ChartLift) -> BarSign:
    """What of a bar a lift counts for."""
    if lift.mark == "failed":
        return "bar failed"
    return "bar open" if lift.mark == "open" else "bar good"


def _wider(box: _Box) -> _Box:
    return _Box(box.left - _AIR, box.top - _AIR, box.right + _AIR, box.bottom + _AIR)


def _shares(counts: Sequence[float], room: float, least: float) -> list[float]:
    """A width in proportion to each count, none below the least.

    >>> _shares([1, 3], 40.0, 12.0), _shares([1, 1], 40.0, 12.0)
    ([12.0, 28.0], [20.0, 20.0])
    """
    small: set[int] = set()
    while True:
        left = room - least * len(small)
        total = sum(count for at, count in enumerate(counts) if at not in small) or 1.0
        narrow = {at for at, count in enumerate(counts) if at not in small and count / total * left < least - 1e-9}
        if not narrow:
            return [least if at in small else count / total * left for at, count in enumerate(counts)]
        small |= narrow
