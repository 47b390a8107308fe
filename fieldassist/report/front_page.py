"""Page one: thirty seconds. What it has no room for it counts, and a page behind it tells it whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from reportlab.lib.pagesizes import A4

from fieldassist.report import fonts
from fieldassist.report.answering import answering_high, draw_answering
from fieldassist.report.chart import chart_high, draw_chart
from fieldassist.report.front_model import DOUBT, FrontArea, FrontFailure, FrontPage, FrontPoint
from fieldassist.report.grid import (
    CAPTION,
    CAPTION_STRONG,
    COLUMN_HEAD,
    FIGURE,
    FLOW,
    FLOW_RED,
    FLOW_STRONG,
    HAIR,
    HEADING,
    MEASURE,
    MM,
    PAGE_TITLE,
    TITLE,
    VERDICT,
    GridSpan,
    Leaf,
    cut_to,
    flowed,
    in_red,
)
from fieldassist.report.keys import LIMITS
from fieldassist.report.sheet import BLACK, Sheet, Style, wrap
from fieldassist.trade.message import Several, message, term

MORE = "points"  # the bookmark of the page that tells whole what page one folds

_PLAIN = Style(fonts.REGULAR, 10.5, 12.6, BLACK)
_GOES_ON = Style(fonts.REGULAR, 10.5, 13.2, BLACK)
_RED_FIGURE = in_red(FIGURE)
_RED_CAPTION = in_red(CAPTION_STRONG)
_NOTE = replace(CAPTION_STRONG, leading=10.6)

# A row of two lines, of one, and the head of the rows.
_ROW, _LOW_ROW, _ROWS_HEAD = 11.3 * MM, 6.9 * MM, 30.0
_MOST_HIGH_ROWS, _MOST_ROWS = 5, 8
_MOST_FAILED_ROWS = 11  # where in so many areas a failure is open
# Right edges of the columns behind the area's name [mm].
_EDGES = 62.0, 79.0, 97.0, 108.0, 125.0, 147.0, 174.0
_HEADS = ("set", "required", "worst", "mean", "lifts", "reach", "released")

_LEAST_CHART = 20.0  # where rows of open failures take the room
_CHARTS_A4, _CHARTS_LETTER = (38.0, 34.0, 31.0, 28.0), (31.0, 28.0)  # of the plot, in the order of giving way
_GAPS = (3.2 * MM, 2.6 * MM)
_POINT_GAP, _PAGE_WIDE = 2.2, 16 * MM
_BOX = 3.0 * MM
_MOST_LINES, _MOST_FAILURES, _FEW_FAILURES, _MOST_OPEN = 3, 6, 3, 9
# Points that page one is to hold at least, beside nothing but open failures, and could hold at most.
_FEW_POINTS, _LEAST_POINTS, _MOST_POINTS = 4, 2, 30
_FAILURE_AT = 6 * MM, 17 * MM, 37.5 * MM, 98.5 * MM
_HEADING_HIGH = HEADING.leading + 3


def front_page(sheet: Sheet, front: FrontPage) -> None:
    """Draw page one, and behind it the page that tells whole what it folds, where it folds anything."""
    leaf = Leaf(sheet, "")
    sheet.bookmark(front.site, 0, "front", leaf.y)
    _head(leaf, front)
    fits = _fit(leaf, front)
    _areas(leaf, front, fits)
    if front.chart is not None:
        leaf.y += fits.gap
        draw_chart(leaf, front.chart, fits.chart)
    leaf.y += fits.gap
    _points(leaf, front, fits)
    leaf.y += fits.gap
    _failures(leaf, front, fits)
    draw_answering(leaf, front.answers)
    folded = fits.folds(front)
    if folded:
        _whole(sheet, front, folded)


# --- the head -----------------------------------------------------------------------------------------------------


def _head(leaf: Leaf, front: FrontPage) -> None:
    date_wide = fonts.width(front.date, FIGURE.face, FIGURE.size)
    top = leaf.y
    beside = leaf.whole.wide - date_wide - 12
    alone = len(wrap(front.site, TITLE, beside)) == 1
    leaf.flow(front.site, TITLE, kind="H1", most=2)
    if not alone:
        leaf.y += FIGURE.leading
    bottom = leaf.y
    leaf.y = bottom - FIGURE.leading - (3.0 if alone else 0.0)
    leaf.flow(front.date, FIGURE, right=alone)
    leaf.y = max(bottom, top)
    leaf.flow(front.about, CAPTION, most=2)
    leaf.y += 4
    leaf.rule(1.6)
    leaf.y += 5
    red, top = in_red(VERDICT), leaf.y
    leaf.flow([piece for piece in ((front.alarm, red), (f" {front.verdict}", VERDICT)) if piece[0].strip()], VERDICT)
    if front.alarm:
        leaf.mark_open(top)
    leaf.y += 2
    leaf.flow(front.goes_on, _GOES_ON)


def _cut_lines(text: str, style: Style, wide: float, most: int) -> list[str]:
    """A text in at most so many lines; dots tell that there is more."""
    lines = wrap(text, style, wide) if text else []
    if len(lines) > most:
        lines = [*lines[: most - 1], cut_to(" ".join(lines[most - 1 :]), style, wide)]
    return lines


# --- what finds room ----------------------------------------------------------------------------------------------


_Block: TypeAlias = Literal["points", "failures", "areas"]


@dataclass(frozen=True, slots=True)
class _Fit:
    """How page one is filled. chart: how high its plot is [mm]; gap: between blocks; points, failures: how many are
    told in full; lines: of a failure, at most; rows: the areas that are told."""

    chart: float
    gap: float
    points: int
    failures: int
    lines: int
    rows: tuple[FrontArea, ...]

    def folds(self, front: FrontPage) -> tuple[_Block, ...]:
        """What is told whole only behind page one."""
        cut = self.points < len(front.points) or any(_lines_of(one, front) > _MOST_LINES for one in front.points)
        found: dict[_Block, bool] = {
            "points": cut,
            "failures": self.failures < len(front.failures),
            "areas": len(self.rows) < len(front.areas),
        }
        return tuple(block for block, folded in found.items() if folded)


def _fit(leaf: Leaf, front: FrontPage) -> _Fit:
    """Gaps and chart give way first, then second lines of failures, then failures that were cured, then points; what
    room is left goes to failures that would be folded."""
    rows = _rows(front)
    room = leaf.room - _areas_high(front, rows) - answering_high(leaf, front.answers) - _GAPS[0]
    charts = _CHARTS_A4 if leaf.paper.size[0] <= A4[0] else _CHARTS_LETTER
    fits = list(_whole_fits(front, charts if front.chart is not None else (0.0,), rows))
    found = next((fit for fit in fits if len(front.points) <= _MOST_POINTS and _high(front, fit) <= room), None)
    if found is not None:
        return _with_more_failures(front, found, room)
    few = _shown_failures(front, _FEW_FAILURES)
    least = min(_LEAST_CHART, fits[-1].chart) if len(rows) > _MOST_ROWS else fits[-1].chart
    for failures in (fits[-1].failures, few, *range(few - 1, _FEW_FAILURES - 1, -1)):
        folded = replace(fits[-1], chart=least, failures=failures, points=0)
        while (
            folded.points < min(len(front.points), _MOST_POINTS)
            and _high(front, replace(folded, points=folded.points + 1)) <= room
        ):
            folded = replace(folded, points=folded.points + 1)
        if folded.points >= (_FEW_POINTS if failures > few else _LEAST_POINTS):
            break
    # What is left goes back to the chart.
    grown = (replace(folded, chart=chart) for chart in charts)
    return next((fit for fit in grown if front.chart is not None and _high(front, fit) <= room), folded)


def _with_more_failures(front: FrontPage, fit: _Fit, room: float) -> _Fit:
    """As many more of them as there is room for."""
    while fit.failures < len(front.failures):
        more = replace(fit, failures=fit.failures + 1)
        if _high(front, more) > room:
            break
        fit = more
    return fit


def _whole_fits(front: FrontPage, charts: Sequence[float], rows: tuple[FrontArea, ...]) -> Iterator[_Fit]:
    """Ways to fill the page with every point."""
    failures = _shown_failures(front, _MOST_FAILURES)
    for lines in (2, 1):
        for gap in _GAPS:
            for chart in charts:
                yield _Fit(chart, gap, len(front.points), failures, lines, rows)


def _rows(front: FrontPage) -> tuple[FrontArea, ...]:
    """The areas that stand on page one, in the order of the plan: where not all do, those in which the worst is open.
    An area with an open failure is not folded away, unless there are more of them than a page takes."""
    failed = sum(area.rank == 0 for area in front.areas)
    most = max(_MOST_ROWS - 1, min(failed, _MOST_FAILED_ROWS))
    # A line that tells of one more area takes the room of its row.
    if len(front.areas) <= most + 1:
        return front.areas
    order = sorted(range(len(front.areas)), key=lambda at: (front.areas[at].rank, not front.areas[at].key, at))
    return tuple(front.areas[at] for at in sorted(order[:most]))


def _shown_failures(front: FrontPage, most: int) -> int:
    """An open one is not folded away, unless there are more of them than a page takes."""
    opened = sum(one.open for one in front.failures)
    return min(len(front.failures), max(most, min(opened, _MOST_OPEN)))


def _high(front: FrontPage, fit: _Fit) -> float:
    """How high the blocks are that may give way."""
    chart = chart_high(front.chart, fit.chart) + fit.gap if front.chart is not None else 0.0
    return chart + _points_high(front, fit) + _failures_high(front, fit) + 2 * fit.gap


# --- a row an area ------------------------------------------------------------------------------------------------


def _is_low(front: FrontPage) -> bool:
    return len(front.areas) > _MOST_HIGH_ROWS


def _areas_high(front: FrontPage, rows: Sequence[FrontArea]) -> float:
    high = len(rows) * (_LOW_ROW if _is_low(front) else _ROW)
    return _ROWS_HEAD + high + _LOW_ROW * ((len(rows) < len(front.areas)) + (front.dagger != ""))


def _areas(leaf: Leaf, front: FrontPage, fits: _Fit) -> None:
    rows = fits.rows
    with leaf.sheet.tagged("Table"):
        _rows_head(leaf)
        for row in rows:
            _area_row(leaf, row, low=_is_low(front))
    hidden = [area for area in front.areas if area not in rows]
    if hidden:
        _with_page(leaf, _hidden_told(leaf, hidden), MORE, leaf.y + _LOW_ROW - 7)
        leaf.y += _LOW_ROW
    if front.dagger:
        _with_page(leaf, front.dagger, LIMITS, leaf.y + _LOW_ROW - 7)
        leaf.y += _LOW_ROW


def _hidden_told(leaf: Leaf, hidden: Sequence[FrontArea]) -> str:
    """How many areas page one folds, and the names of those in which something is open, as many as a line takes."""
    opened = sorted((area for area in hidden if area.rank < DOUBT), key=lambda area: area.rank)
    failed = sum(area.rank == 0 for area in hidden)
    room = leaf.whole.wide - fonts.width(leaf.sheet.said("page-reference", number=888), FLOW.face, FLOW.size) - 6
    for shown in range(len(opened), -1, -1):
        names = [area.name for area in opened[:shown]]
        more = [message("front-more-named", count=len(opened) - shown)] if shown < len(opened) else []
        areas = Several((*names, *more), "and")
        told = leaf.sheet.said("front-more-areas", count=len(hidden), failed=failed, named=len(opened), areas=areas)
        if fonts.width(told, FLOW.face, FLOW.size) <= room:
            return told
    return cut_to(told, FLOW, room)


def _rows_head(leaf: Leaf) -> None:
    sheet, top = leaf.sheet, leaf.y
    bottom = top + _ROWS_HEAD
    with sheet.tagged("TR"):
        with sheet.tagged("TH", scope="Column"):
            sheet.text(leaf.whole.x, bottom - 3, sheet.said("front-column-area"), COLUMN_HEAD)
        before = 24.0
        for edge, head in zip(_EDGES, _HEADS, strict=True):
            lines = wrap(sheet.words(term("front-column", head)), COLUMN_HEAD, (edge - before - 2) * MM)
            with sheet.tagged("TH", scope="Column"):
                for at, line in enumerate(lines):
                    y = bottom - 3 - (len(lines) - 1 - at) * COLUMN_HEAD.leading
                    sheet.text(leaf.whole.x + edge * MM, y, line, COLUMN_HEAD, align="right")
            before = edge
    leaf.y = bottom
    leaf.rule(0.9)


def _area_row(leaf: Leaf, row: FrontArea, *, low: bool) -> None:
    """One area: a line of figures, and below it what is to be said of them; a low row has it behind the name."""
    sheet, x = leaf.sheet, leaf.whole.x
    first = leaf.y + (12.5 if low else 13.0)
    second = first + 11.5
    note = _RED_CAPTION if row.reach_red else _NOTE
    how = _RED_CAPTION if row.released_red else _NOTE if row.waits else CAPTION
    with sheet.tagged("TR"):
        with sheet.tagged("TH", scope="Row"):
            room = _EDGES[0] * MM - fonts.width(row.set_of, FIGURE.face, FIGURE.size) - 5
            noted = fonts.width(row.reach_note, note.face, note.size) + 4 if low and row.reach_red else 0.0
            wide = sheet.text(x, first, cut_to(row.name, FIGURE, room - noted), FIGURE)
            if noted:
                sheet.text(x + wide + 4, first, row.reach_note, note)
            elif not low:
                sheet.text(x, second, cut_to(row.where, CAPTION, _EDGES[1] * MM), CAPTION)
        figures = (
            (row.set_of, FIGURE if row.short else _PLAIN),
            (row.required, _PLAIN),
            (row.worst, _RED_FIGURE if row.worst_open else FIGURE),
            (row.mean, _PLAIN),
            (row.lifts, _PLAIN),
            (row.reach, FIGURE if row.reach_note else _PLAIN),
            # A low row has room for one of the two: what is open today goes first.
            (row.how_released, how) if low and row.released_red else (row.released, FIGURE if row.waits else _PLAIN),
        )
        below = {5: (row.reach_note, note), 6: (row.how_released, how)}
        for at, (text, style) in enumerate(figures):
            edge, left = x + _EDGES[at] * MM, (_EDGES[at - 1] if at else 20) * MM
            with sheet.tagged("TD"):
                shown, fitting = _fitting(text or "–", style, _EDGES[at] * MM - left - 4)
                sheet.text(edge, first, shown, fitting, align="right")
                if at in below and not low:
                    sheet.text(edge, second, *below[at], align="right")
    top = leaf.y
    leaf.y += _LOW_ROW if low else _ROW
    if row.worst_open or row.reach_red or row.released_red:
        leaf.mark_open(top)
    leaf.rule(0.35, colour=HAIR)


def _fitting(text: str, style: Style, room: float) -> tuple[str, Style]:
    """A figure as it is set in its column: smaller where it is too wide, cut where that does not help."""
    if fonts.width(fonts.printable(text, style.face), style.face, style.size) > room:
        style = replace(style, size=min(style.size, CAPTION.size))
    return cut_to(text, style, room), style


def _with_page(leaf: Leaf, told: str, key: str, y: float, x: float | None = None) -> None:
    """A line that ends with the page on which more is told, and leads there."""
    sheet, at = leaf.sheet, leaf.whole.x if x is None else x
    with sheet.tagged("P"):
        at += sheet.text(at, y, f"{told} ", FLOW)
        reference = sheet.said("page-reference", number=88)
        sheet.page_number(at + fonts.width(reference, FLOW.face, FLOW.size), y, key, FLOW)


# --- what to look at ----------------------------------------------------------------------------------------------


def _point_text(point: FrontPoint) -> list[tuple[str, Style]]:
    return [(point.lead, FLOW_RED if point.red else FLOW_STRONG), (f" {point.text}", FLOW)]


def _text_at(front: FrontPage) -> float:
    """Where the text of points begins: behind the box and the longest number."""
    return (9.0 if len(front.points) < 10 else 10.5 if len(front.points) < 100 else 12.5) * MM


def _point_span(leaf_x: float, front: FrontPage) -> GridSpan:
    return GridSpan(leaf_x + _text_at(front), MEASURE - _text_at(front) - _PAGE_WIDE)


def _lines_of(point: FrontPoint, front: FrontPage) -> int:
    return len(flowed(_point_text(point), FLOW, _point_span(0, front).wide))


def _point_high(point: FrontPoint, front: FrontPage) -> float:
    return min(_MOST_LINES, _lines_of(point, front)) * FLOW.leading + _POINT_GAP


def _points_high(front: FrontPage, fit: _Fit) -> float:
    high = _HEADING_HIGH + sum(_point_high(point, front) for point in front.points[: fit.points])
    if fit.points < len(front.points):
        high += 2 * FLOW.leading + 2
    return high if front.points else _HEADING_HIGH + FLOW.leading


def _points(leaf: Leaf, front: FrontPage, fit: _Fit) -> None:
    sheet = leaf.sheet
    leaf.heading(sheet.said("front-points-title"), note=front.points_note)
    if not front.points:
        leaf.flow(sheet.said("front-no-points"), FLOW)
        return
    with sheet.tagged("L"):
        for point in front.points[: fit.points]:
            _point(leaf, point, front, _MOST_LINES)
    hidden = front.points[fit.points :]
    if hidden:
        counts = Counter(point.kind for point in hidden)
        kinds = Several(tuple(message(f"front-kind-{kind}", count=count) for kind, count in counts.items()))
        told = sheet.said("front-more-points", count=len(hidden), kinds=kinds)
        leaf.y += 2
        with sheet.tagged("P"):
            sheet_y = leaf.y + FLOW.size
            leaf.flow(told, FLOW_STRONG, _point_span(leaf.whole.x, front), most=2)
            sheet.page_number(leaf.whole.end, sheet_y, MORE, CAPTION)


def _point(leaf: Leaf, point: FrontPoint, front: FrontPage, most: int) -> None:
    """One point: a box to tick, its number, what it is, and the page that tells more."""
    sheet, x, base = leaf.sheet, leaf.whole.x, leaf.y + FLOW.size
    span = _point_span(x, front)
    with sheet.tagged("LI"):
        sheet.rect(x, base - _BOX + 1.2, _BOX, _BOX, stroke=BLACK, thick=0.9)
        with sheet.tagged("Lbl"):
            sheet.text(span.x - 1.8 * MM, base, str(point.number), FLOW_STRONG, align="right")
        with sheet.tagged("LBody"):
            leaf.flow(_point_text(point), FLOW, span, most=most)
            if point.key:
                sheet.page_number(leaf.whole.end, base, point.key, CAPTION, on=point.on)
    if point.red:
        leaf.mark_open(base - FLOW.size)
    leaf.y += _POINT_GAP


# --- what failed --------------------------------------------------------------------------------------------------


def _failure_cells(failure: FrontFailure, wide: float) -> Iterator[tuple[float, float, str, Style]]:
    """Where each part begins, how wide it may be, and what it says."""
    at = (*_FAILURE_AT, wide)
    cure = FLOW_RED if failure.open else FLOW
    parts = (
        (failure.time, FLOW),
        (failure.area, FLOW_STRONG),
        (failure.found, FLOW),
        (failure.cure, cure),
    )
    for number, (text, style) in enumerate(parts):
        yield at[number], at[number + 1] - at[number] - (2.5 * MM if number < 3 else 0), text, style


def _failure_lines(failure: FrontFailure, wide: float, most: int) -> int:
    return min(most, max(len(wrap(text, style, room)) for _, room, text, style in _failure_cells(failure, wide)))


def _sorted_failures(front: FrontPage, most: int) -> list[FrontFailure]:
    """Those that stand on page one, in the order of time: an open one before any that was cured."""
    order = sorted(range(len(front.failures)), key=lambda at: (not front.failures[at].open, at))
    return [front.failures[at] for at in sorted(order[:most])]


def _failures_high(front: FrontPage, fit: _Fit) -> float:
    shown = _sorted_failures(front, fit.failures)
    high = _HEADING_HIGH + sum(_failure_lines(one, MEASURE, fit.lines) * FLOW.leading + 1.6 for one in shown)
    return high + (FLOW.leading if fit.failures < len(front.failures) or not front.failures else 0.0)


def _failures(leaf: Leaf, front: FrontPage, fit: _Fit) -> None:
    sheet = leaf.sheet
    leaf.heading(sheet.said("front-failures-title"))
    if not front.failures:
        leaf.flow(front.none_failed, FLOW)
        return
    shown = _sorted_failures(front, fit.failures)
    with sheet.tagged("L"):
        for failure in shown:
            _failure(leaf, failure, fit.lines)
    hidden = len(front.failures) - fit.failures
    if hidden > 0:
        opened = sum(one.open for one in front.failures) - sum(one.open for one in shown)
        told = sheet.said("front-more-failures", count=hidden, open=opened)
        leaf.y += FLOW.leading
        _with_page(leaf, told, MORE, leaf.y - 2, leaf.whole.x + _FAILURE_AT[0])


def _failure(leaf: Leaf, failure: FrontFailure, most: int) -> None:
    sheet, top = leaf.sheet, leaf.y
    with sheet.tagged("LI"):
        with sheet.tagged("Lbl"):
            sheet.text(leaf.whole.x, top + FLOW.size, str(failure.number), FLOW_STRONG)
        with sheet.tagged("LBody"):
            _failure_told(leaf, failure, top, most)
    leaf.y = top + _failure_lines(failure, leaf.whole.wide, most) * FLOW.leading + 1.6
    if failure.open:
        leaf.mark_open(top)


def _failure_told(leaf: Leaf, failure: FrontFailure, top: float, most: int) -> None:
    for at, room, text, style in _failure_cells(failure, leaf.whole.wide):
        for number, line in enumerate(_cut_lines(text, style, room, most)):
            y = top + FLOW.size + number * FLOW.leading
            leaf.sheet.text(leaf.whole.x + at, y, line, style)


# --- all of it ----------------------------------------------------------------------------------------------------


def _whole(sheet: Sheet, front: FrontPage, folded: Sequence[_Block]) -> None:
    """All points, all failures, all areas, each where page one folds some of them, on as many pages as that takes."""
    what = Several(tuple(term("front-all", block) for block in folded), "and")
    title = sheet.said("front-all", what=what)
    leaf = Leaf(sheet, title)
    sheet.bookmark(title, 1, MORE, leaf.y)
    leaf.flow(title, PAGE_TITLE, kind="H1")
    for block in folded:
        leaf = _WHOLE[block](leaf, front, title)


def _whole_points(leaf: Leaf, front: FrontPage, title: str) -> Leaf:
    leaf.y += _GAPS[0]
    leaf.heading(leaf.sheet.said("front-points-title"), note=front.points_note)
    with leaf.sheet.tagged("L"):
        for point in front.points:
            lines = _lines_of(point, front)
            leaf = _room(leaf, title, lines * FLOW.leading + _POINT_GAP)
            _point(leaf, point, front, lines)
            leaf.sheet.tick()
    return leaf


def _whole_failures(leaf: Leaf, front: FrontPage, title: str) -> Leaf:
    leaf = _room(leaf, title, _HEADING_HIGH + 6 * FLOW.leading)
    leaf.y += _GAPS[0]
    leaf.heading(leaf.sheet.said("front-failures-title"))
    with leaf.sheet.tagged("L"):
        for failure in front.failures:
            leaf = _room(leaf, title, _failure_lines(failure, MEASURE, 4) * FLOW.leading)
            _failure(leaf, failure, 4)
            leaf.sheet.tick()
    return leaf


def _whole_areas(leaf: Leaf, front: FrontPage, title: str) -> Leaf:
    sheet = leaf.sheet
    leaf = _room(leaf, title, _HEADING_HIGH + _ROWS_HEAD + 3 * _LOW_ROW)
    leaf.y += _GAPS[0]
    leaf.heading(sheet.said("front-areas"))
    with sheet.tagged("Table"):
        _rows_head(leaf)
        for row in front.areas:
            if leaf.room < _LOW_ROW:
                leaf = Leaf(sheet, title)
                with sheet.decoration():
                    _rows_head(leaf)
            _area_row(leaf, row, low=True)
            sheet.tick()
    return leaf


_WHOLE: Mapping[_Block, Callable[[Leaf, FrontPage, str], Leaf]] = {
    "points": _whole_points,
    "failures": _whole_failures,
    "areas": _whole_areas,
}


def _room(leaf: Leaf, title: str, high: float) -> Leaf:
    """This page, or the next one where there is no room for what comes."""
    return leaf if leaf.room >= high else Leaf(leaf.sheet, title)
