"""The ranking of a mock-up trial: a row a method with its ridges, bed, contact and chance, and the axes below.

Ridges are drawn at natural size, above a line that must measure what it says: a printer that shrinks is caught. Contact
stands on an axis that widens towards 100 (by the square root of the bare share), where a difference is worth most.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from math import floor, sqrt
from typing import Literal

from fieldassist.report import fonts
from fieldassist.report.grid import BAR, COLUMN_HEAD, DRAWN, DRAWN_STRONG, FIGURE, HAIR, MM, SECOND, Leaf, flowed
from fieldassist.report.ridge_section import draw_section, section_high, slanting_strokes
from fieldassist.report.sheet import BLACK, WHITE, Sheet, Style, wrap
from fieldassist.report.trial_model import TrialReport, TrialRow
from fieldassist.trade.message import Figure

# Where the table's columns begin, from the left edge of the measure [mm].
_LETTER, _LETTER_BEHIND_TENS, _METHOD_END = 9.0, 12.0, 48.8
_SECTION, _PRESSED_WIDE = 49.4, 13.0
_BED, _BED_END = 93.0, 107.6
_BRACKETS, _BRACKETS_END = 108.8, 115.6
_CONTACT, _CONTACT_END = 117.0, 154.0
_CHANCE = 154.6
_ROW_LEAST = 13.4  # how high a row is at least [mm]
_MOST_LINES = 6  # of a method, whose mortar's name may be long
# A step of the axis, and how near two of its figures may stand [mm].
_STEPS = (0, 20, 40, 60, 80, 90, 95, 98)
_APART = 4.5
_RING = 1.05
_UNDER_LETTER = 0.9  # between a method's letter and the line below it
_METHOD_HOW = Style(fonts.HEAVY, 9.2, 10.8, BLACK)
_METHOD_NOTCH = Style(fonts.REGULAR, 8.6, 10.2, BLACK)
_METHOD_BESIDE = Style(fonts.REGULAR, 8.2, 9.8, SECOND)
_LETTER_STYLE = Style(fonts.HEAVY, 9.2, 11, WHITE)
_CHANCE_TOLD = Style(fonts.REGULAR, 8.8, 10.6, BLACK)
_CHANCE_LIKELY = Style(fonts.HEAVY, 8.8, 10.6, BLACK)


class RankingTable:
    """The ranking: a row a method."""

    def __init__(self, trial: TrialReport, leaf: Leaf) -> None:
        self.trial, self.leaf, self.sheet = trial, leaf, leaf.sheet
        values = [
            value
            for row in self.trial.rows
            for value in (*row.samples, row.low, self.trial.required)
            if value is not None
        ]
        self.lowest = min(60.0, floor(min(values) / 10) * 10.0)
        beds = [mm for row in self.trial.rows for mm in (row.bed, row.gauge, row.greatest) if mm is not None]
        self.bed_most = max(beds, default=10.0) * 1.14
        self.ranked = self.trial.claim == "ranks"
        self.letter = (_LETTER if len(self.trial.rows) < 10 else _LETTER_BEHIND_TENS) if self.ranked else 0.0

    head_high = 2 * COLUMN_HEAD.leading + 2.5
    foot_high = 7.6 * MM

    def x(self, mm: float) -> float:
        """A place on the measure."""
        return self.leaf.whole.x + mm * MM

    def contact_x(self, percent: float) -> float:
        """Where a contact stands: the nearer to 100, the wider the axis."""
        bare = sqrt(max(0.0, 100 - percent) / (100 - self.lowest))
        return self.x(_CONTACT_END - (_CONTACT_END - _CONTACT) * min(1.0, bare))

    def bed_x(self, mm: float) -> float:
        """Where a bed stands."""
        return self.x(_BED + (_BED_END - _BED) * min(mm, self.bed_most) / self.bed_most)

    def least_high(self, row: TrialRow) -> float:
        """How high a row has to be for its words and for its ridges at natural size."""
        lines = self._method_lines(row)
        text = sum(line[0][1].leading for line in lines) + (1.7 + _UNDER_LETTER) * MM
        return max(_ROW_LEAST * MM, text, (section_high(row.section) + 1.0) * MM)

    def _method_lines(self, row: TrialRow) -> list[list[tuple[str, Style]]]:
        """The lines of a method, each of pieces in one style."""
        first, rest = (_METHOD_END - self.letter - 6.4) * MM, (_METHOD_END - self.letter) * MM
        how = wrap(row.how, _METHOD_HOW, first)
        lines = [[(how[0], _METHOD_HOW)], *flowed(" ".join(how[1:]), _METHOD_HOW, rest)]
        # In a second voice behind the notch, not below it: the row stays low.
        pieces = [row.notch, *row.about]
        styles = [_METHOD_NOTCH, *(_METHOD_BESIDE for _ in row.about)]
        told = [f" {piece}," for piece in pieces[:-1]] + [f" {pieces[-1]}"]
        lines += flowed(list(zip(told, styles, strict=True)), _METHOD_NOTCH, rest)
        if len(lines) > _MOST_LINES:
            part, style = lines[_MOST_LINES - 1][-1]
            shown = wrap(part.strip(), style, rest - fonts.width(" …", style.face, style.size))[0]
            lines[_MOST_LINES - 1 :] = [[(f"{shown} …", style)]]
        return lines

    def draw(self, rows: Sequence[TrialRow], highs: Sequence[float]) -> None:
        """The table with these rows, and the cursor below it."""
        leaf = self.leaf
        with self.sheet.tagged("Table"):
            self._head()
            top = leaf.y
            bottom = top + sum(highs)
            self._grounds(top, bottom)
            edges = [top]
            for high in highs:
                edges.append(edges[-1] + high)
            for row, (above, below) in zip(rows, pairwise(edges), strict=True):
                with self.sheet.tagged("TR"):
                    self._row(row, above, below)
                self.sheet.line(leaf.whole.x, below, leaf.whole.end, below, 0.4, HAIR)
        middles = {row.letter: (above + below) / 2 for row, (above, below) in zip(rows, pairwise(edges), strict=True)}
        self._brackets(middles)
        self._foot(bottom)
        leaf.y = bottom + self.foot_high

    def _row(self, row: TrialRow, above: float, below: float) -> None:
        tagged = self.sheet.tagged
        with tagged("TH", scope="Row"):
            self._method(row, above)
        with tagged("TD"), tagged("Figure", alt=row.section_alt):
            middle = above + (below - above - section_high(row.section) * MM) / 2
            draw_section(self.sheet, self.x(_SECTION), middle, row.section, _PRESSED_WIDE)
        with tagged("TD"):
            self._bed(row, above, below)
        with tagged("TD"):
            self._contact(row, above)
        if self.ranked:
            with tagged("TD"):
                self._chance(row, above)

    def _told(self, head: str, **figures: Figure) -> str:
        """The head of a column."""
        return self.sheet.said(f"trialpage-head-{head}", **figures)

    def _head(self) -> None:
        """Two lines: the heads of contact and chance take both."""
        leaf, said = self.leaf, self._told
        low = leaf.y + 2 * COLUMN_HEAD.leading - 2.5
        high = low - COLUMN_HEAD.leading
        middle, end = self.x((_CONTACT + _CONTACT_END) / 2), leaf.whole.end
        with self.sheet.tagged("TR"):
            self._column(
                leaf.whole.x,
                ((low, said("method" if self.ranked else "method-unranked")),),
            )
            self._column(self.x(_SECTION), ((low, said("section")),))
            self._column(self.x(_BED), ((low, said("bed", unit=self.trial.bed_unit)),))
            contact = (
                (high, said("contact")),
                (low, said("contact-shown", claim=self.trial.claim)),
            )
            self._column(middle, contact, "centre")
            if self.ranked:
                self._column(end, ((high, said("chance")), (low, said("chance-passes"))), "right")
        leaf.y += self.head_high
        leaf.rule(0.9)

    def _column(
        self, x: float, lines: Sequence[tuple[float, str]], align: Literal["left", "centre", "right"] = "left"
    ) -> None:
        with self.sheet.tagged("TH", scope="Column"):
            for y, text in lines:
                self.sheet.text(x, y, text, COLUMN_HEAD, align=align)

    def _grounds(self, top: float, bottom: float) -> None:
        """What runs through all rows: the steps of the contact's axis, and the line of what is required."""
        for percent in (*self._steps(), 100):
            x = self.contact_x(percent)
            self.sheet.line(x, top, x, bottom, 0.4, HAIR)
        x = self.contact_x(self.trial.required)
        self.sheet.line(x, top, x, bottom, 1.4, BLACK)

    def _steps(self) -> list[float]:
        """The figures of the axis that find room beside what is required."""
        kept = [self.trial.required]
        for step in (*_STEPS, self.lowest):
            if step < self.lowest or step in kept:
                continue
            if all(abs(self.contact_x(step) - self.contact_x(other)) >= _APART * MM for other in kept):
                kept.append(step)
        return sorted(set(kept) - {self.trial.required})

    def _foot(self, y: float) -> None:
        """The figures of the axes, which the drawings tell too, and the line that shows whether the paper shrank."""
        sheet = self.sheet
        base = y + 3.6 * MM
        with sheet.decoration():
            for mm, told in self.trial.bed_marks:
                sheet.text(self.bed_x(mm), base, told, DRAWN_STRONG, align="centre")
            for step in self._steps():
                sheet.text(self.contact_x(step), base, f"{step:g}", replace(DRAWN, colour=SECOND), align="centre")
            required = self.trial.required_told.split(" ")[0]
            sheet.text(self.contact_x(self.trial.required), base, required, DRAWN_STRONG, align="centre")
        long, told = self.trial.ruler
        left, right, line = self.x(_SECTION), self.x(_SECTION + long), y + 5.6 * MM
        said = sheet.said("trialpage-measure", long=told)
        with sheet.tagged("Figure", alt=said):
            sheet.text(left, base, said, DRAWN)
            sheet.line(left, line, right, line, 1.2, BLACK)
            for end in (left, right):
                sheet.line(end, line - 1 * MM, end, line + 1 * MM, 1.2, BLACK)

    # --- the cells ------------------------------------------------------------------------------------------------

    def _method(self, row: TrialRow, top: float) -> None:
        sheet, left = self.sheet, self.x(self.letter)
        base = top + 4.6 * MM
        sheet.text(self.leaf.whole.x, base, row.rank, FIGURE)
        side = 4.7 * MM
        sheet.rect(left, top + 1.2 * MM, side, side, fill=BLACK if row.eligible else WHITE, stroke=BLACK, thick=0.8)
        style = _LETTER_STYLE if row.eligible else replace(_LETTER_STYLE, colour=BLACK)
        sheet.text(left + side / 2, base, row.letter, style, align="centre")
        y = base
        for at, line in enumerate(self._method_lines(row)):
            if at:
                y += line[0][1].leading + (_UNDER_LETTER * MM if at == 1 else 0)
            x = left + (side + 1.7 * MM if at == 0 else 0)
            for part, style in line:
                bare = part.lstrip(" ")
                x += fonts.width(part[: len(part) - len(bare)], style.face, style.size)
                x += sheet.text(x, y, bare, style)

    def _bed(self, row: TrialRow, top: float, bottom: float) -> None:
        sheet = self.sheet
        middle = top + (bottom - top) * 0.4
        with sheet.tagged("Figure", alt=row.bed_alt):
            _hatch(sheet, self.x(_BED), self.bed_x(row.least), top, bottom)
            _hatch(sheet, self.bed_x(row.greatest), self.x(_BED_END), top, bottom)
            for limit in (row.least, row.greatest):
                sheet.line(self.bed_x(limit), top, self.bed_x(limit), bottom, 1.2, BLACK)
            x = self.bed_x(row.bed)
            sheet.line(x, middle - 2.5 * MM, x, middle + 2.5 * MM, 2.0, BLACK)
            if row.gauge is not None:
                sheet.ring(self.bed_x(row.gauge), middle, _RING * MM, 1.2, BLACK)
        at = row.gauge if row.gauge is not None else row.bed
        self._plated(self.bed_x(at), middle + 5.7 * MM, row.bed_told, DRAWN, self.x(_BED), self.x(_BED_END))

    def _plated(self, x: float, base: float, text: str, style: Style, left: float, right: float) -> None:
        """A text around x on a white plate, within two edges."""
        wide = fonts.width(text, style.face, style.size)
        x = min(max(x, left + wide / 2), right - wide / 2)
        self.sheet.rect(x - wide / 2 - 1, base - style.size * 0.78, wide + 2, style.size, fill=WHITE)
        self.sheet.text(x, base, text, style, align="centre")

    def _contact(self, row: TrialRow, top: float) -> None:
        sheet = self.sheet
        if row.mean is None:
            self._plated(
                self.x((_CONTACT + _CONTACT_END) / 2), top + 6.8 * MM, row.told, DRAWN, 0, self.x(_CONTACT_END)
            )
            return
        middle = top + 6.9 * MM
        x = self.contact_x(row.mean)
        with sheet.tagged("Figure", alt=row.samples_alt):
            if row.low is not None and row.high is not None:
                left, right = self.contact_x(row.low), self.contact_x(row.high)
                sheet.rect(left, middle - 0.55 * MM, max(right - left, 0.6), 1.1 * MM, fill=BAR)
            sheet.line(x, middle - 2.1 * MM, x, middle + 2.1 * MM, 2.0, BLACK)
            for at, lane in _lanes([self.contact_x(value) for value in sorted(row.samples)], 2 * _RING * MM):
                sheet.ring(at, middle + (3.3 + 1.9 * lane) * MM, _RING * MM, 0.9, BLACK)
        edges = self.x(_BRACKETS_END), self.x(_CONTACT_END + 1)
        self._plated(x, top + 3.7 * MM, row.told, replace(DRAWN_STRONG, size=8.8), *edges)

    def _chance(self, row: TrialRow, top: float) -> None:
        style = _CHANCE_LIKELY if row.likely else _CHANCE_TOLD
        room = self.leaf.whole.end - self.x(_CHANCE)
        for at, line in enumerate(wrap(row.chance, style, room) if row.chance else ()):
            y = top + 7.6 * MM + at * style.leading
            self.sheet.text(self.leaf.whole.end, y, line, style, align="right")

    def _brackets(self, middles: Mapping[str, float]) -> None:
        """What cannot be told apart, joined: a tick at each method of a group."""
        groups = [[middles[letter] for letter in group if letter in middles] for group in self.trial.ties]
        groups = [group for group in groups if len(group) > 1]
        if not groups:
            return
        step = min(2.2, (_BRACKETS_END - _BRACKETS) / len(groups)) * MM
        with self.sheet.tagged("Figure", alt=self.trial.ties_told):
            for at, group in enumerate(groups):
                x = self.x(_BRACKETS) + at * step
                self.sheet.line(x, min(group), x, max(group), 1.2, BLACK)
                for y in group:
                    self.sheet.line(x, y, x + min(1.3 * MM, step * 0.7), y, 1.2, BLACK)


def _hatch(sheet: Sheet, left: float, right: float, top: float, bottom: float) -> None:
    """What lies outside a limit."""
    step = 1.5 * MM
    y = top
    while y < bottom:
        slanting_strokes(sheet, left, right, y, min(y + step, bottom), step, 0.3)
        y += step


def _lanes(places: Iterable[float], wide: float) -> list[tuple[float, int]]:
    """Places in a row that do not cover each other: each with its lane, 0 or 1.

    >>> _lanes([1.0, 1.5, 4.0], 2.0)
    [(1.0, 0), (1.5, 1), (4.0, 0)]
    """
    ends = [float("-inf"), float("-inf")]
    found = []
    for at in places:
        lane = 0 if at - ends[0] >= wide or ends[0] <= ends[1] else 1
        ends[lane] = at
        found.append((at, lane))
    return found
