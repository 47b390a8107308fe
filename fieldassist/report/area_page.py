"""The pages of an area: one where it fits, else a second that begins with the lifts.

The wall gets what height the rest leaves; it stands beside the methods where it is little wider than high.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from fieldassist.report import fonts
from fieldassist.report.area_model import AreaPages, FailureCard, HoldLine, MethodBlock, PhotoBlock, PrintedPhoto
from fieldassist.report.grid import (
    CAPTION,
    COLUMN_HEAD,
    FIGURE,
    FLOW,
    FLOW_RED,
    FLOW_SECOND,
    FLOW_STRONG,
    HAIR,
    HEADING,
    MM,
    PAGE_TITLE,
    GridSpan,
    Leaf,
    flow_high,
    in_red,
)
from fieldassist.report.keys import holds_key
from fieldassist.report.lift_rows import draw_lifts
from fieldassist.report.mortar_page import draw_bags, draw_mortar
from fieldassist.report.pictures import Album, draw_photo
from fieldassist.report.ridge_section import draw_section, section_high
from fieldassist.report.sheet import Sheet, Style
from fieldassist.report.signs import letter_square
from fieldassist.report.stack import Block, Stack, high_of
from fieldassist.report.wall_model import DrawnWall
from fieldassist.report.wall_page import draw_wall, wall_high, wall_least

_GAP = 3.6 * MM  # between two blocks
_LETTER = 7.2 * MM  # a method's letter and the air behind it
_PRESSED = 27.0  # of a section: how wide the bed is drawn [mm]
_TIME = 15 * MM
_PHOTO = 42 * MM
# A wall that is at most so many times as wide as high stands beside the methods, in a column so wide.
_BESIDE, _COLUMN, _BETWEEN = 1.5, 92 * MM, 5 * MM
# How high a wall is drawn at most; where a page is too full, how much of the gaps stays, and about one scale down.
_MOST_WALL = 118 * MM
_LESS_AIR, _SCALE_DOWN = 0.8, 0.72


def area_pages(sheet: Sheet, area: AreaPages, album: Album) -> None:
    """Draw them. album: the day's photos."""
    foot = high_of(sheet, lambda dry: _feet(dry.leaf, area)) + 1.5 * MM
    stack = Stack(sheet, album, area.running, area.again, foot)
    sheet.bookmark(area.name, 0, area.key, stack.leaf.y)
    _head(stack.leaf, area)
    _body(stack, area)
    stack.leaf.y = stack.leaf.bottom + 1.5 * MM
    _feet(stack.leaf, area)


@dataclass(frozen=True, slots=True)
class _Measured:
    """A block and how high it is set with all its air; one that holds something ends in a gap."""

    draw: Block
    high: float

    def at(self, air: float) -> float:
        """How high it is set where so much of the gap is left."""
        return self.high - (1 - air) * _GAP if self.high else 0.0


def _body(stack: Stack, area: AreaPages) -> None:
    """The first of these that fits on one page: the wall beside the methods, the wall above them, each with all its air
    and with less, the wall as large as it is drawn and then smaller; else two pages and more."""
    sheet, room, wall = stack.sheet, stack.leaf.room, area.wall

    def measured(block: Block) -> _Measured:
        return _Measured(block, high_of(sheet, block))

    methods, lifts = measured(lambda one: _methods(one, area)), measured(lambda one: _lifts(one, area))
    cards = [measured(_failure_of(card)) for card in area.failures]
    tail = [
        measured(lambda one: _holds(one, area)),
        measured(lambda one: _tomorrow(one, area)),
        measured(lambda one: _photos(one, area.photos)),
    ]
    bags, bare = (measured(_mortar_of(area, drawn=drawn)) for drawn in (True, False))
    above = [methods, *cards, lifts, bags, *tail]
    if wall is None:
        _all(stack, above)
        return
    story = [one for one, card in zip(cards, area.failures, strict=True) if card.rows]
    brief = [card for card in area.failures if not card.rows]
    lowest, highest = _heights(sheet, wall, stack.leaf.whole.wide)
    for whole, stack.air in product((True, False), (1.0, _LESS_AIR)):
        if _stands(wall):
            least, most = _heights(sheet, wall, _COLUMN)
            # Failures of a few lines go beside the wall where they are no higher than it.
            for beside, under in ((brief, story), ([], cards)):
                below = [*under, lifts, bare, *tail]
                left = room - sum(one.at(stack.air) for one in below)
                if (most if whole else least) > left:
                    continue
                column = high_of(sheet, lambda one, beside=beside: _column(one, area, beside), air=stack.air)  # type: ignore[misc]
                if column <= (most if beside else left):
                    _beside(stack, area, beside, min(left, max(_MOST_WALL, column)))
                    _all(stack, below)
                    return
        left = room - sum(one.at(stack.air) for one in above)
        if left >= (highest if whole else lowest):
            _wall(stack, area, min(left, max(_MOST_WALL, lowest)))
            _all(stack, above)
            return
    stack.air = 1.0
    if area.lifts is not None:
        stack.fill()
    left = stack.leaf.room - sum(one.high for one in (methods, *cards))
    # Where methods and failures go on to another page anyway, nothing presses the wall.
    _wall(stack, area, min(left, max(_MOST_WALL, lowest)) if left >= lowest else max(highest, lowest))
    _all(stack, [methods, *cards])
    rest = [bags, *tail]
    if area.lifts is None:
        _all(stack, rest)
        return
    # The second page begins with the lifts; what else has room is not kept from the first.
    while rest and rest[0].high <= stack.leaf.room:
        rest.pop(0).draw(stack)
    stack.next_page()
    _all(stack, [lifts, *rest])


def _heights(sheet: Sheet, wall: DrawnWall, wide: float) -> tuple[float, float]:
    """How high a wall is drawn at least, with its gap: about one scale below the largest, and no lower than its signs
    need; and at most, where nothing presses."""
    least = wall_least(sheet, wall, wide)
    most = max(wall_high(sheet, wall, wide, _MOST_WALL), least)
    return max(least, _SCALE_DOWN * most) + _GAP, most + _GAP


def _stands(wall: DrawnWall) -> bool:
    """Whether a wall is narrow enough to stand beside something; one without a grid is as wide as its place."""
    return wall.outline is None or wall.wide_mm <= wall.high_mm * _BESIDE


def _all(stack: Stack, blocks: Sequence[_Measured]) -> None:
    for block in blocks:
        block.draw(stack)


# --- the head -------------------------------------------------------------------------------------------------------


def _head(leaf: Leaf, area: AreaPages) -> None:
    sheet, top = leaf.sheet, leaf.y
    status = in_red(FIGURE) if area.status_red else FIGURE
    wide = min(fonts.width(area.status, status.face, status.size) + 2, leaf.whole.wide * 0.6)
    leaf.flow(area.name, PAGE_TITLE, GridSpan(leaf.whole.x, leaf.whole.wide - wide - 4 * MM), kind="H1")
    below, leaf.y = leaf.y, top + PAGE_TITLE.leading - status.leading - 1.5
    leaf.flow(area.status, status, GridSpan(leaf.whole.end - wide, wide), right=True)
    leaf.y = max(below, leaf.y) + 1
    for line in area.about:
        leaf.flow(line, FLOW_SECOND)
    leaf.y += 3
    said, begun = in_red(HEADING), leaf.y
    leaf.flow(
        [((" " if at else "") + text, said if red else HEADING) for at, (text, red) in enumerate(area.verdict)], HEADING
    )
    if any(red for _, red in area.verdict):
        leaf.mark_open(begun)
    leaf.y += 3
    leaf.rule(0.4, colour=HAIR)
    leaf.y += 2
    spans, begun = leaf.whole.parts(len(area.figures), 4 * MM), leaf.y
    with sheet.tagged("Table"):
        with sheet.tagged("TR"):
            for figure, span in zip(area.figures, spans, strict=True):
                leaf.y = begun
                with sheet.tagged("TH", scope="Column"):
                    leaf.flow(figure.head, COLUMN_HEAD, span)
        begun, lowest = leaf.y, leaf.y
        with sheet.tagged("TR"):
            for figure, span in zip(area.figures, spans, strict=True):
                leaf.y = begun
                with sheet.tagged("TD"):
                    rest = figure.rest if not figure.strong or figure.rest[:1] in ",;" else f" {figure.rest}"
                    leaf.flow([(figure.strong, FLOW_STRONG), (rest, FLOW)] if figure.strong else rest, FLOW, span)
                lowest = max(lowest, leaf.y)
    leaf.y = lowest + 3 * MM


# --- wall and methods -----------------------------------------------------------------------------------------------


def _wall(stack: Stack, area: AreaPages, high: float) -> None:
    if area.wall is not None:
        stack.leaf = draw_wall(stack.leaf, area.wall, stack.leaf.whole, high - _GAP * stack.air, stack.next_page)
        stack.gap(_GAP)


def _beside(stack: Stack, area: AreaPages, cards: Sequence[FailureCard], high: float) -> None:
    """The wall at the left, methods and bags at the right."""
    leaf, top = stack.leaf, stack.leaf.y
    if area.wall is not None:
        draw_wall(leaf, area.wall, GridSpan(leaf.whole.x, _COLUMN), high - _GAP * stack.air)
    below, leaf.y = leaf.y, top
    _column(stack, area, cards)
    leaf.y = max(below, leaf.y)
    stack.gap(_GAP)


def _column(stack: Stack, area: AreaPages, cards: Sequence[FailureCard]) -> None:
    """What stands beside the wall. cards: failures that are told in a few lines."""
    leaf = stack.leaf
    span = GridSpan(leaf.whole.x + _COLUMN + _BETWEEN, leaf.whole.wide - _COLUMN - _BETWEEN)
    for method in area.methods:
        _method(leaf, method, span, 0.0)
        leaf.y += 2 * MM
    if area.unused:
        leaf.flow(area.unused, CAPTION, span)
        leaf.y += 2 * MM
    if area.mortar is not None and area.mortar.bags is not None:
        draw_bags(leaf, area.mortar.bags, span)
        leaf.y += 2 * MM
    for card in cards:
        _brief(stack, card, span)
        leaf.y += 2 * MM


def _methods(stack: Stack, area: AreaPages) -> None:
    """Two a row, the drawings of a row on one line."""
    for at in range(0, len(area.methods), 2):
        row = _method_row(area.methods[at : at + 2])
        stack.keep(row, more=0.0 if at else HEADING.leading + 8)
        if not at:
            stack.leaf.heading(area.methods_title, note=area.methods_note)
            stack.leaf.y += 1.5 * MM
        row(stack)
    if area.unused:
        stack.leaf.flow(area.unused, CAPTION)
    stack.gap(_GAP)


def _method_row(methods: Sequence[MethodBlock]) -> Block:
    def draw(stack: Stack) -> None:
        leaf, top = stack.leaf, stack.leaf.y
        spans, lowest = leaf.whole.parts(2, 6 * MM), top
        deep = max(_drawn_at(method, spans[0]) for method in methods)
        for method, span in zip(methods, spans, strict=False):
            leaf.y = top
            _method(leaf, method, span, deep)
            lowest = max(lowest, leaf.y)
        leaf.y = lowest + 1.5 * MM

    return draw


def _drawn_at(method: MethodBlock, span: GridSpan) -> float:
    """How far below a method's head its drawing ends."""
    text = flow_high(method.told, FLOW, span.wide - _LETTER)
    return text + (section_high(method.section) * MM if method.section is not None else 0.0) + 1.5 * MM


def _method(leaf: Leaf, method: MethodBlock, span: GridSpan, deep: float) -> None:
    """One method. deep: where its drawing ends at least, below its head."""
    sheet, top = leaf.sheet, leaf.y
    text = GridSpan(span.x + _LETTER, span.wide - _LETTER)
    with sheet.tagged("P"):
        letter_square(sheet, span.x, leaf.y, method.letter)
        leaf.flow(method.told, FLOW, text)
    if method.section is not None:
        high = section_high(method.section) * MM
        leaf.y = max(leaf.y + 1.5 * MM, top + deep - high)
        pressed = min(_PRESSED, text.wide / MM - method.section.wide - 5.0)
        with sheet.tagged("Figure", alt=method.alt):
            draw_section(sheet, text.x, leaf.y, method.section, pressed)
        leaf.y += high + 1 * MM
    bed, allowed = method.bed
    said = [
        (bed, FLOW_STRONG),
        (allowed if allowed[:1] in ",;" else f" {allowed}", FLOW),
        (f" {method.lifts}", FLOW_STRONG),
    ]
    leaf.flow([*said, *((f" {part}", FLOW) for part in method.rest)], FLOW, text)


# --- failures -------------------------------------------------------------------------------------------------------


def _failure_of(card: FailureCard) -> Block:
    return lambda stack: _failure(stack, card)


def _failure(stack: Stack, card: FailureCard) -> None:
    """A card never parts."""

    def draw(one: Stack) -> None:
        if card.rows:
            _story(one, card)
        else:
            _brief(one, card, one.leaf.whole)

    stack.keep(draw)
    draw(stack)
    stack.gap(_GAP)


def _lead(card: FailureCard, style: Style) -> Style:
    return in_red(style) if card.open else style


def _story(stack: Stack, card: FailureCard) -> None:
    leaf, sheet, head = stack.leaf, stack.sheet, stack.leaf.y
    sheet.anchor(card.key, leaf.y)
    leaf.flow(card.title, _lead(card, HEADING), kind="H2")
    leaf.y += 1.5
    leaf.rule(0.9)
    leaf.y += 3
    top, room = leaf.y, leaf.whole.wide - _TIME
    if card.photo is not None:
        room -= _PHOTO + 5 * MM
    text = GridSpan(leaf.whole.x + _TIME, room)
    with sheet.tagged("L"):
        for at, row in enumerate(card.rows):
            begun = leaf.y
            last = at == len(card.rows) - 1
            with sheet.tagged("LI"):
                if row.time:
                    with sheet.tagged("Lbl"):
                        leaf.flow(row.time, FLOW, GridSpan(leaf.whole.x, _TIME))
                leaf.y = begun
                end = [(f" {card.end}", _lead(card, FLOW_STRONG))] if last else []
                with sheet.tagged("LBody"):
                    leaf.flow([(row.strong, FLOW_STRONG), (f" {row.text}", FLOW), *end], FLOW, text)
            leaf.y += 1.2
    if card.open:
        leaf.mark_open(head)
    if card.photo is not None:
        x, below = leaf.whole.end - _PHOTO, leaf.y
        # As high as the story beside it, within reason: the lift's own row shows it again.
        most = min(_PHOTO * 0.6, max(15 * MM, below - top - CAPTION.leading - 2))
        _, high = draw_photo(
            sheet, stack.album, card.photo.file, (x, top, _PHOTO, most), card.photo.alt, card.photo.over
        )
        leaf.y = top + high + 2
        leaf.flow(card.photo.caption, CAPTION, GridSpan(x, _PHOTO))
        leaf.y = max(below, leaf.y)


def _brief(stack: Stack, card: FailureCard, span: GridSpan) -> None:
    leaf = stack.leaf
    stack.sheet.anchor(card.key, leaf.y)
    pieces = [
        (f"{card.title}.", _lead(card, FLOW_STRONG)),
        (f" {card.brief}", FLOW),
        (f" {card.end}", _lead(card, FLOW_STRONG)),
    ]
    leaf.flow(pieces, FLOW, span)
    if card.photo is not None:
        leaf.y += 1 * MM
        place = (span.x, leaf.y, _PHOTO, _PHOTO * 0.6)
        _, high = draw_photo(stack.sheet, stack.album, card.photo.file, place, card.photo.alt, card.photo.over)
        leaf.y += high + 1
        leaf.flow(card.photo.caption, CAPTION, span)


# --- the rest -------------------------------------------------------------------------------------------------------


def _lifts(stack: Stack, area: AreaPages) -> None:
    if area.lifts is not None:
        draw_lifts(stack, area.lifts)
        stack.gap(_GAP)


def _mortar_of(area: AreaPages, *, drawn: bool) -> Block:
    def draw(stack: Stack) -> None:
        if area.mortar is not None:
            draw_mortar(stack, area.mortar, drawn=drawn)
            stack.gap(_GAP)

    return draw


def _holds(stack: Stack, area: AreaPages) -> None:
    """Time, what, and at the right who and how."""
    for at, line in enumerate(area.holds):
        leaf = stack.keep(lambda dry, line=line: _hold(dry.leaf, line), more=0.0 if at else 2 * HEADING.leading)  # type: ignore[misc]
        if not at:
            leaf.sheet.bookmark(area.holds_title, 1, holds_key(area.key), leaf.y)
            leaf.heading(area.holds_title)
            leaf.y += 1
        _hold(leaf, line)
    stack.gap(_GAP)


def _hold(leaf: Leaf, line: HoldLine) -> None:
    sheet, top = leaf.sheet, leaf.y
    style = FLOW_RED if line.red else FLOW
    wide = min(fonts.width(line.who, style.face, style.size) + 2, 70 * MM)
    text = GridSpan(leaf.whole.x + _TIME, leaf.whole.wide - _TIME - (wide + 4 * MM if line.who else 0.0))
    with sheet.tagged("L"), sheet.tagged("LI"):
        if line.time:
            with sheet.tagged("Lbl"):
                leaf.flow(line.time, FLOW, GridSpan(leaf.whole.x, _TIME))
        timed, leaf.y = leaf.y, top
        with sheet.tagged("LBody"):
            leaf.flow([(line.strong, FLOW_STRONG), (f" {line.text}", FLOW)] if line.text else line.strong, FLOW, text)
            below, leaf.y = leaf.y, top
            leaf.flow(line.who, style, GridSpan(leaf.whole.end - wide, wide), right=True)
    leaf.y = max(below, timed, leaf.y) + 1.2


def _tomorrow(stack: Stack, area: AreaPages) -> None:
    if not area.tomorrow:
        return
    text = " ".join(area.tomorrow)
    leaf = stack.need(HEADING.leading + 3 + flow_high(text, FLOW, stack.leaf.whole.wide))
    leaf.block(area.tomorrow_title, [text])
    stack.gap(_GAP)


def _photos(stack: Stack, block: PhotoBlock | None) -> None:
    if block is None:
        return
    four = block.photos[:4]
    stack.keep(lambda dry: _rows_of_photos(dry, four), more=HEADING.leading + 8)
    stack.leaf.heading(block.title, note=block.note)
    stack.leaf.y += 1 * MM
    _rows_of_photos(stack, block.photos)


def _rows_of_photos(stack: Stack, photos: Sequence[PrintedPhoto]) -> None:
    """Four a row."""
    for at in range(0, len(photos), 4):
        row = photos[at : at + 4]
        spans = stack.leaf.whole.parts(4, 4 * MM)
        high = spans[0].wide * 0.7
        below = max(flow_high(photo.caption, CAPTION, spans[0].wide) for photo in row)
        leaf = stack.need(high + below + 3 * MM)
        top = leaf.y
        for photo, span in zip(row, leaf.whole.parts(4, 4 * MM), strict=False):
            draw_photo(stack.sheet, stack.album, photo.file, (span.x, top, span.wide, high), photo.alt)
            leaf.y = top + high + 1.5
            leaf.flow(photo.caption, CAPTION, span)
        leaf.y = top + high + below + 3 * MM


def photo_page(sheet: Sheet, block: PhotoBlock, album: Album) -> None:
    """The photos that belong to no area, on a page of their own."""
    stack = Stack(sheet, album, block.title, block.title)
    sheet.bookmark(block.title, 0, "photos", stack.leaf.y)
    stack.leaf.flow(block.title, PAGE_TITLE, kind="H1")
    stack.leaf.flow(block.note, FLOW_SECOND)
    stack.leaf.y += 2 * MM
    _rows_of_photos(stack, block.photos)


def _feet(leaf: Leaf, area: AreaPages) -> None:
    for line in area.feet:
        leaf.flow(line, CAPTION)
