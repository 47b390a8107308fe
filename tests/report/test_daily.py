"""The daily log as a whole: its pages, their frame, its file."""

from __future__ import annotations

import os
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.facts.build import NoFacts, day_facts
from fieldassist.language import Words
from fieldassist.report import fonts, grid, sheet
from fieldassist.report.build import day_pages
from fieldassist.report.daily import CannotWrite, Record, lay_out, write_daily_pdf
from fieldassist.report.grid import in_fours
from fieldassist.report.sheet import Sheet
from tests.report.conftest import HandedOver

METRIC = Words(units="metric")


def laid(record: Record, end: int | None = None, words: Words = METRIC) -> Sheet:
    """The pages of a day, or of one that is broken off behind an event."""
    events, hashes = record.events[:end], record.hashes[:end]
    return lay_out(day_pages(day_facts(events, hashes, words), words), words)


@pytest.fixture(scope="module")
def pdf(handed_over_pdf: Path) -> PdfReader:
    return PdfReader(handed_over_pdf)


# --- its pages ----------------------------------------------------------------------------------------------------


def test_every_page_tells_the_head_the_number_of_events_and_its_number(pdf: PdfReader, handed_over: HandedOver) -> None:
    record = handed_over.record
    for number, page in enumerate(pdf.pages, start=1):
        text = " ".join(page.extract_text().split())
        assert in_fours(record.hashes[-1][:24]) in text
        assert f"{len(record.events)} events" in text
        assert f"page {number} of {len(pdf.pages)}" in text


def test_the_outline_leads_to_page_one_each_area_signatures_addenda_and_appendix(pdf: PdfReader) -> None:
    marks = [item for item in pdf.outline if not isinstance(item, list)]
    titles = [str(item.title) for item in marks]
    pages = [pdf.get_destination_page_number(item) for item in marks]
    assert titles[0] == "Žofín Quay Baths, north hall"
    assert pages[0] == 0
    assert pages == sorted(pages)
    for name in ("shower wall", "plunge pool", "signatures", "addendum 1", "addendum 2", "appendix"):
        assert any(name in title.lower() for title in titles), name


def test_each_link_of_page_one_leads_to_the_page_whose_number_it_bears(pdf: PdfReader) -> None:
    numbers = {page.indirect_reference.idnum: number for number, page in enumerate(pdf.pages, start=1)}
    links = [link.get_object() for link in pdf.pages[0].get("/Annots", [])]
    assert len(links) >= 9
    for link in links:
        leads = numbers[list.__getitem__(link["/Dest"], 0).idnum]
        assert str(link["/Contents"]).endswith(f"page {leads}")


def test_metadata_name_day_and_signer(pdf: PdfReader) -> None:
    about = pdf.metadata
    assert about is not None
    assert "Žofín Quay Baths, north hall" in str(about.title)
    assert about.author == "Ruth"


@pytest.mark.parametrize(("units", "size"), [("metric", A4), ("us", LETTER)])
def test_units_decide_the_paper(site: Any, units: Any, size: tuple[float, float]) -> None:
    pages = laid(site.record(), words=Words(units=units))
    assert (pages.page_width, pages.page_height) == size


def test_a_day_broken_off_at_any_event_is_laid_out(handed_over: HandedOver) -> None:
    record = handed_over.record
    count = len(record.events)
    for end in sorted({*range(2, count + 1, 29), *range(count - 5, count + 1)}):
        assert laid(record, end).pages


def test_a_letter_that_no_typeface_has_is_named_and_no_box() -> None:
    fonts.register()
    assert fonts.printable("Bay \U00013080", fonts.REGULAR) == f"Bay {fonts.LACKING}"


def test_words_are_dark_enough_to_read() -> None:
    # W3C WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1 for body text; relative luminance as defined there.
    def luminance(colour: sheet.Colour) -> float:
        r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour)
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    for ink in (sheet.BLACK, grid.SECOND, grid.OPEN_TODAY):
        for paper in (sheet.WHITE, grid.TINT):
            assert (luminance(paper) + 0.05) / (luminance(ink) + 0.05) >= 4.5


# --- the file -----------------------------------------------------------------------------------------------------


def test_the_same_day_gives_the_same_bytes(site: Any, tmp_path: Path) -> None:
    day = site.start("shower wall").release().batch().tile().record()
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    write_daily_pdf(day, one)
    write_daily_pdf(day, two)
    assert one.read_bytes() == two.read_bytes()


def test_progress_only_goes_on_and_ends_with_all(handed_over: HandedOver, tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    write_daily_pdf(handed_over.record, tmp_path / "d.pdf", progress=lambda done, of: told.append((done, of)))
    assert told == sorted(told)
    assert told[-1][0] == told[-1][1]
    assert len({of for _, of in told}) == 1
    assert max(b - a for (a, _), (b, _) in pairwise(told)) <= told[-1][1] / 2


def test_a_log_without_a_day_leaves_no_file(tmp_path: Path) -> None:
    with pytest.raises(NoFacts):
        write_daily_pdf(Record([], [], [], None, "test"), tmp_path / "d.pdf")
    assert list(tmp_path.iterdir()) == []


def test_drawing_that_fails_leaves_the_former_file_and_no_other(
    site: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "d.pdf"
    path.write_bytes(b"former")

    def fail(*_: Any) -> None:
        raise RuntimeError("no more ink")

    monkeypatch.setitem(sheet._DRAW, "rect", fail)
    with pytest.raises(RuntimeError):
        write_daily_pdf(site.record(), path)
    assert path.read_bytes() == b"former"
    assert list(tmp_path.iterdir()) == [path]


def test_a_full_disk_is_told_in_a_sentence_and_leaves_nothing(
    site: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotWrite, match=r"report-cannot-write.*No space left on device"):
        write_daily_pdf(site.record(), tmp_path / "d.pdf")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told_in_a_sentence(site: Any, tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match=r"report-cannot-write.*No such file"):
        write_daily_pdf(site.record(), tmp_path / "gone" / "d.pdf")
