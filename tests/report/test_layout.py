"""Every page of every kind of day, by measure: nothing outside the page, nothing over another text, nothing too small,
and no point left out."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from fieldassist.facts.build import day_facts
from fieldassist.language import Words
from fieldassist.report import fonts
from fieldassist.report.build import day_pages
from fieldassist.report.daily import lay_out
from fieldassist.report.front_page import MORE
from fieldassist.report.grid import MEASURE, RUNNING, cut_to, paper_of
from fieldassist.report.letters import with_letters_named
from fieldassist.report.model import DayPages
from fieldassist.report.sheet import Sheet
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Units
from tests.report.days import DAYS

PAPERS: tuple[Units, ...] = ("metric", "us")  # A4 and US Letter


class Piece(NamedTuple):
    """A text on a page [pt]: from the height of its capitals to its descenders."""

    left: float
    top: float
    right: float
    bottom: float
    text: str
    size: float


def pieces(sheet: Sheet, page: int) -> Iterator[Piece]:
    for _, step in sheet.pages[page].steps:
        if step[0] == "text":
            _, x, y, face, size, _, text = step
            if text.strip():
                yield Piece(x, y - size * 0.72, x + fonts.width(text, face, size), y + size * 0.2, text, size)
        elif step[0] == "page number":
            _, x, y, key, style, code = step
            text = sheet.said(code, number=sheet.places[sheet.nearest(key)])
            wide = fonts.width(text, style.face, style.size)
            yield Piece(x - wide, y - style.size * 0.72, x, y + style.size * 0.2, text, style.size)


# One test a day, so that each day is made and told once, on whichever of the workers.
@pytest.mark.parametrize("name", DAYS)
def test_on_either_paper_no_text_leaves_its_page_or_covers_another_none_is_small_and_every_point_is_told(
    name: str,
) -> None:
    record = DAYS[name]().record()
    for units in PAPERS:
        words = Words(units=units)
        pages = day_pages(day_facts(record.events, record.hashes, words), words)
        sheet = lay_out(pages, words)
        texts = [[*pieces(sheet, page)] for page in range(len(sheet.pages))]
        assert not [(page, one) for page, found in enumerate(texts, 1) for one in outside(sheet, found)]
        assert not [(page, both) for page, found in enumerate(texts, 1) for both in overlaps(found)]
        assert min(one.size for found in texts for one in found) >= 8
        shown = with_letters_named(pages, words(message("page-letters-lacking")), pages.numbered)
        assert not points_lacking(shown, sheet, texts)
        numbers = tuple(one.number for one in pages.front.points)
        assert numbers == pages.signing.ticks == tuple(range(1, len(numbers) + 1))


def outside(sheet: Sheet, found: list[Piece]) -> Iterator[Piece]:
    """Texts that leave the room of their page."""
    paper = paper_of(sheet)
    for one in found:
        across = paper.side - 0.5 <= one.left and one.right <= paper.side + MEASURE + 0.5
        if not across or one.top < paper.top - 0.5 or one.bottom > paper.bottom + 2:
            yield one


def overlaps(found: list[Piece]) -> Iterator[tuple[str, str]]:
    """Pairs of texts that share more than a hair, looked for in strips of 20 points."""
    strips: dict[int, list[Piece]] = defaultdict(list)
    for one in found:
        for strip in range(math.floor(one.top / 20), math.floor(one.bottom / 20) + 1):
            for other in strips[strip]:
                wide = min(one.right, other.right) - max(one.left, other.left)
                high = min(one.bottom, other.bottom) - max(one.top, other.top)
                if wide > 0.6 and high > 0.8:
                    yield one.text, other.text
            strips[strip].append(one)


def test_two_texts_that_lie_over_each_other_are_found() -> None:
    first = Piece(10, 10, 60, 18, "above", 9)
    assert [*overlaps([first, first._replace(top=17, bottom=25, text="below")])] == [("below", "above")]
    assert [*overlaps([first, first._replace(top=19, bottom=27, text="below")])] == []


def points_lacking(pages: DayPages, sheet: Sheet, texts: list[list[Piece]]) -> list[int]:
    """The points that neither page one nor the page behind it tells whole."""
    behind = min(page for key, page in sheet.places.items() if key not in ("front", MORE))
    read = bare("".join(one.text for found in texts[: behind - 1] for one in found))
    return [one.number for one in pages.front.points if bare(one.lead) not in read or bare(one.text) not in read]


def bare(text: str) -> str:
    return "".join(fonts.printable(text, fonts.REGULAR).split())


def test_a_text_that_is_too_long_for_its_line_is_cut_where_a_word_ends_or_within_one_that_is_too_long_itself() -> None:
    fonts.register()
    assert cut_to("none of it", RUNNING, 200) == "none of it"
    for text in ("words that go on and on and on, and do not find room", f"Daily log: {'Quay' * 60}", "w" * 80):
        cut = cut_to(text, RUNNING, 200)
        assert 120 < fonts.width(cut, RUNNING.face, RUNNING.size) <= 200
        assert text.startswith(cut.removesuffix(" …"))
    assert cut_to("words that go on and on and on, and do not find room", RUNNING, 200).endswith("find …")
