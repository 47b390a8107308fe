"""The page of a mock-up trial: what works here, to hang up and to hand over; behind it every sample.

Methods stand by their means, ranks as ranges, and what cannot be told apart is joined by brackets.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fieldassist.report import fonts
from fieldassist.report.answering import answering_high, draw_answering
from fieldassist.report.area_model import AreaPages
from fieldassist.report.grid import (
    CAPTION,
    CAPTION_STRONG,
    FLOW,
    FLOW_STRONG,
    MEASURE,
    MM,
    TITLE,
    VERDICT,
    GridColumn,
    GridRow,
    GridSpan,
    Leaf,
    block_high,
    flow_high,
    grid_table,
)
from fieldassist.report.pictures import Album, draw_photo
from fieldassist.report.sheet import BLACK, Sheet, Style, wrap
from fieldassist.report.trial_model import SampleLine, TextBlock, TrialPhoto, TrialReport, TrialRow
from fieldassist.report.trial_ranking import RankingTable
from fieldassist.trade.message import Figure, message

_MOST_ROWS = 9  # on one page
_MOST_ABOUT = 3  # lines of the site and its materials
# What the title leaves free at least, for a row of the ranking, its legend and the foot [mm].
_RANKING = 125.0
_ROW_WANTED = 17.8  # how high a row is where there is room [mm]
_PHOTO, _PHOTOS_HIGH = 17.5, 20.5
_GAP_ABOVE = 1.4 * MM  # a block of text
_DATE = Style(fonts.SEMIBOLD, 11, 13, BLACK)


class TrialPages:
    """The pages of one trial on a sheet."""

    def __init__(self, sheet: Sheet, trial: TrialReport, album: Album) -> None:
        self.sheet, self.trial, self.album = sheet, trial, album
        self.running = ""
        # What was released and found no room above the ranking.
        self.later: tuple[str, ...] = ()

    def said(self, code: str, **figures: Figure) -> str:
        """A text of the page."""
        return self.sheet.words(message(f"trialpage-{code}", **figures))

    def draw(self, area: AreaPages) -> None:
        """All of them: the ranking, what found no room beside it, every sample."""
        self.running = area.running
        # A sheet to hang up: what it is stands in its title, and no running head above.
        leaf = Leaf(self.sheet, "")
        self.sheet.bookmark(f"{self.trial.name}: {self.trial.title}", 0, area.key, leaf.y)
        self._title(leaf)
        waiting = self._first(leaf)
        self._samples(self._second(waiting) if waiting else self._leaf(), f"{area.key}-samples")

    def _title(self, leaf: Leaf) -> None:
        """What it is, of when and where, and the verdict."""
        trial, top = self.trial, leaf.y
        leaf.flow(trial.title, TITLE, kind="H1")
        with self.sheet.tagged("P"):
            self.sheet.text(leaf.whole.end, top + TITLE.size * 0.97, trial.date, _DATE, align="right")
        leaf.y += 0.5 * MM
        leaf.flow(trial.about, CAPTION, most=_MOST_ABOUT)
        leaf.y += 1 * MM
        leaf.rule(1.6)
        leaf.y += 2 * MM
        leaf.flow(trial.verdict, VERDICT)
        leaf.y += 1 * MM
        leaf.flow(trial.best, FLOW_STRONG)
        leaf.flow(" ".join(trial.after), FLOW)
        for at, text in enumerate(trial.released):
            if leaf.room - flow_high(text, FLOW_STRONG, leaf.whole.wide) < _RANKING * MM:
                self.later = trial.released[at:]
                break
            leaf.flow(text, FLOW_STRONG)
        leaf.y += 1.4 * MM

    # --- page one -------------------------------------------------------------------------------------------------

    def _first(self, leaf: Leaf) -> list[_Part]:
        """The ranking and what finds room under it; gives what does not."""
        rows, foot = self.trial.rows, leaf.bottom - self._foot_high(leaf)
        parts = self._parts()
        legend, rest = parts[0], parts[1:]
        table = RankingTable(self.trial, leaf)
        room = foot - leaf.y - table.head_high - table.foot_high - legend.high
        least = [table.least_high(row) for row in rows]
        count = _fitting(least, room, _MOST_ROWS)
        left = room - sum(least[:count])
        here = [legend]
        while count == len(rows) and rest and rest[0].high <= left:
            left -= rest[0].high
            here.append(rest.pop(0))
        table.draw(rows[:count], _stretched(least[:count], left))
        for part in here:
            part.draw(leaf)
        leaf.y = foot + _GAP_ABOVE
        leaf.flow(self.trial.other_units, CAPTION)
        draw_answering(leaf, self.trial.answers)
        if count < len(rows):
            rest.insert(0, _Part(0.0, lambda page: self._more_rows(page, rows[count:])))
        return rest

    def _foot_high(self, leaf: Leaf) -> float:
        """How high page one's foot is: its figures in the other system, and who answers."""
        return (
            2 * _GAP_ABOVE
            + flow_high(self.trial.other_units, CAPTION, leaf.whole.wide)
            + answering_high(leaf, self.trial.answers)
        )

    def _more_rows(self, leaf: Leaf, rows: Sequence[TrialRow]) -> Leaf:
        table = RankingTable(self.trial, leaf)
        least = [table.least_high(row) for row in rows]
        room = leaf.room - table.head_high - table.foot_high
        while rows:
            count = _fitting(least, room, len(rows))
            table.draw(rows[:count], least[:count])
            rows, least = rows[count:], least[count:]
            if rows:
                table.leaf = self._leaf()
        return table.leaf

    def _second(self, waiting: Sequence[_Part]) -> Leaf:
        """What found no room on page one; gives the page on which it ends."""
        leaf = self._leaf()
        for part in waiting:
            if leaf.room < part.high:
                leaf = self._leaf()
            leaf = part.draw(leaf) or leaf
        leaf.y += 5 * MM
        return leaf

    def _leaf(self) -> Leaf:
        """A page that goes on with the trial."""
        return Leaf(self.sheet, self.running)

    def _parts(self) -> list[_Part]:
        """What stands under the table, in the order in which it is wanted on page one."""
        trial = self.trial
        legend = len(wrap(trial.legend, CAPTION, MEASURE)) * CAPTION.leading + 1 * MM
        parts = [_Part(legend, self._legend)]
        later = [TextBlock("" if at else self.said("also-released"), (text,)) for at, text in enumerate(self.later)]
        asked = [block for block in trial.blocks if len(trial.blocks) > 3][:1]
        thirds = trial.blocks[len(asked) :]
        for block in (*later, *asked):
            high = block_high(block.title, block.paragraphs, MEASURE) + _GAP_ABOVE
            parts.append(_Part(high, lambda leaf, block=block: self._across(leaf, block)))  # type: ignore[misc]
        wide = (MEASURE - 8 * MM) / 3
        high = max(block_high(block.title, block.paragraphs, wide) for block in thirds) + _GAP_ABOVE
        parts.append(_Part(high, lambda leaf: self._thirds(leaf, thirds)))
        if trial.photos:
            parts.append(_Part((_PHOTOS_HIGH + 2) * MM, self._photos))
        return parts

    def _legend(self, leaf: Leaf) -> None:
        leaf.y += 1 * MM
        leaf.flow(self.trial.legend, CAPTION)

    def _across(self, leaf: Leaf, block: TextBlock) -> None:
        """A block as wide as the page; without a title it goes on with the one above."""
        leaf.y += _GAP_ABOVE
        if block.title:
            leaf.heading(block.title)
        for text in block.paragraphs:
            leaf.flow(text, FLOW)

    def _thirds(self, leaf: Leaf, blocks: Sequence[TextBlock]) -> None:
        leaf.y += _GAP_ABOVE
        top, lowest = leaf.y, leaf.y
        for block, span in zip(blocks, leaf.whole.parts(3, 4 * MM), strict=True):
            leaf.y = top
            leaf.block(block.title, block.paragraphs, span)
            lowest = max(lowest, leaf.y)
        leaf.y = lowest

    def _photos(self, leaf: Leaf) -> None:
        leaf.y += 2 * MM
        top = leaf.y
        for shown, span in zip(self.trial.photos, leaf.whole.parts(3, 4 * MM), strict=False):
            self._photo(leaf, shown, span, top)
        leaf.y = top + _PHOTOS_HIGH * MM

    def _photo(self, leaf: Leaf, shown: TrialPhoto, span: GridSpan, top: float) -> None:
        side = _PHOTO * MM
        beside = GridSpan(span.x + side + 2.5 * MM, span.wide - side - 2.5 * MM)
        draw_photo(self.sheet, self.album, shown.file, (span.x, top, side, side), shown.alt, shown.over)
        leaf.y = top
        leaf.flow(shown.title, CAPTION_STRONG, beside)
        for text in shown.figures:
            if leaf.y + len(wrap(text, CAPTION, beside.wide)) * CAPTION.leading <= top + _PHOTOS_HIGH * MM:
                leaf.flow(text, CAPTION, beside)

    # --- the samples ----------------------------------------------------------------------------------------------

    def _samples(self, leaf: Leaf, key: str) -> None:
        trial = self.trial
        if leaf.room < 60 * MM:
            leaf = self._leaf()
        self.sheet.bookmark(self.said("samples-title"), 1, key, leaf.y)
        leaf.heading(self.said("samples-title"))
        leaf.flow(self.said("samples-note"), CAPTION)
        leaf.y += 2 * MM
        heads = ("sample", "place", "made", "batch", "read", "mean", "bed", "seen")
        widths = (13.0, 11.0, 20.0, 20.0, 33.0, 14.0, 20.0, 43.0)
        columns = [
            GridColumn(
                self.said(f"head-{head}", unit=trial.bed_unit) if head == "bed" else self.said(f"head-{head}"), wide
            )
            for head, wide in zip(heads, widths, strict=True)
        ]
        leaf = grid_table(leaf, columns, [self._sample(one) for one in trial.samples], self._leaf)
        for text in trial.measured:
            if leaf.room < flow_high(text, CAPTION, MEASURE) + 2 * MM:
                leaf = self._leaf()
            leaf.y += 2 * MM
            leaf.flow(text, CAPTION)
        leaf.y += 4 * MM
        high = block_high("", trial.redraw, MEASURE) + (len(trial.order) + 2) * FLOW.leading
        if leaf.room < high:
            leaf = self._leaf()
        leaf.heading(self.said("order-title"))
        for text in trial.redraw:
            leaf.flow(text, CAPTION)
        leaf.y += 1 * MM
        with self.sheet.tagged("L"):
            for number, letters in enumerate(trial.order, start=1):
                with self.sheet.tagged("LI"):
                    leaf.flow(self.said("round", number=number, letters=letters), FLOW, kind="LBody")

    def _sample(self, one: SampleLine) -> GridRow:
        return GridRow(
            (
                (f"{one.number}  {one.letter}", CAPTION_STRONG),
                (one.place, CAPTION),
                (one.made, CAPTION),
                (one.batch, CAPTION),
                (", ".join(one.read), CAPTION),
                (one.contact, CAPTION_STRONG),
                (one.bed, CAPTION),
                (one.seen, CAPTION),
            ),
            heads=True,
            struck=bool(one.spoiled),
            below=self.said("spoiled-sample", reason=one.spoiled) if one.spoiled else "",
        )


class _Part:
    """Something that stands under the table: how high it is, and what draws it, giving the page on which it ends where
    that is another."""

    def __init__(self, high: float, draw: Callable[[Leaf], Leaf | None]) -> None:
        self.high, self.draw = high, draw


def _fitting(highs: Sequence[float], room: float, most: int) -> int:
    """How many rows fit, at least one.

    >>> _fitting([10, 10, 10], 25, 9), _fitting([10, 10, 10], 95, 2), _fitting([40], 25, 9)
    (2, 2, 1)
    """
    count, used = 0, 0.0
    for high in highs[:most]:
        used += high
        if count and used > room:
            break
        count += 1
    return count


def _stretched(least: Sequence[float], left: float) -> list[float]:
    """Rows made higher by what is left, each up to what is wanted."""
    highs = list(least)
    if not highs or left <= 0:
        return highs
    for at, high in enumerate(highs):
        highs[at] = max(high, min(_ROW_WANTED * MM, high + left / len(highs)))
    return highs
