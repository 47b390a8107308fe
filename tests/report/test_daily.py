"""The daily log as a PDF."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.language import Words
from fieldassist.record.seal import check_seals
from fieldassist.report import daily, sheet
from fieldassist.report.build import NoDay, build_report
from fieldassist.report.build.words import capital
from fieldassist.report.daily import CannotWrite, Record, lay_out, write_daily_pdf
from fieldassist.report.pictures import Album


@pytest.fixture(scope="module")
def signed_pdf(eventful: Any, tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    path = tmp_path_factory.mktemp("signed") / "day.pdf"
    write_daily_pdf(eventful.record(), path)
    return PdfReader(path)


@pytest.fixture(scope="module")
def unsigned_pdf(unsigned: Any, tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    path = tmp_path_factory.mktemp("unsigned") / "day.pdf"
    write_daily_pdf(unsigned.record(), path)
    return PdfReader(path)


@pytest.fixture(scope="module")
def signed_text(signed_pdf: PdfReader) -> str:
    return _text(signed_pdf)


@pytest.fixture(scope="module")
def unsigned_text(unsigned_pdf: PdfReader) -> str:
    return _text(unsigned_pdf)


def _text(pdf: PdfReader) -> str:
    """All words, runs of white space made one."""
    return " ".join(" ".join(page.extract_text().split()) for page in pdf.pages)


def _written(site: Any, path: Path, **rest: Any) -> PdfReader:
    write_daily_pdf(site.record(), path, **rest)
    return PdfReader(path)


# --- what stands on it --------------------------------------------------------------------------------------------


def test_head_names_site_address_owner_date_and_crew_with_roles(signed_pdf: PdfReader) -> None:
    first = " ".join(signed_pdf.pages[0].extract_text().split())
    second = " ".join(signed_pdf.pages[1].extract_text().split())
    for words in ("Ana installer", "Ruth foreman", "overcast, light rain"):
        assert words in f"{first} {second}"
    for words in (
        "Žofín Quay Baths, north hall",
        "Łąkowa 12, Port Élan",
        "Ærø & Daughters Bathing Society",
        "2026-03-04 Wednesday",
    ):
        assert words in first


def test_first_page_sums_the_day_up(signed_pdf: PdfReader) -> None:
    first = " ".join(signed_pdf.pages[0].extract_text().split())
    for words in (
        "1 of 2",
        "4 passed, 2 failed",
        "4 cured, 1 OPEN",
        "1 reading, 1 other entry",
        "Plunge pool: not finished",
        "foreman, 09:",
    ):
        assert words in first


def test_required_contact_is_printed_with_its_published_source(signed_text: str) -> None:
    # ANSI A108.5 §3.3.2 (2017): 95 % for wet areas, three tiles. 2 in² = 2 × 645.16 mm² = 12.9 cm².
    found = re.search(r"contact at least 95 % \[(\d+)\]; no void over 12\.9 cm²", signed_text)
    assert found is not None
    assert f"[{found[1]}] ANSI A108.5 §3.3.2 (2017), as reported in trade literature" in signed_text
    assert "at least 3 tiles lifted in the area" in signed_text


def test_a_us_report_gives_the_void_limit_as_2_square_inches(unsigned_text: str) -> None:
    # 2 in²: best practice for tile, as a union technical article of 2021 gives it.
    assert "no void over 2 in²" in unsigned_text


def test_a_failure_tells_what_was_found_done_and_shown(signed_text: str) -> None:
    assert re.search(r"Failure 1 event \d+, found 07:\d\d:\d\d by Ana", signed_text)
    assert "contact 92 % is below the 95 % required" in signed_text
    assert "Ana: Scraped" in signed_text
    assert "Scrape off and set with more mortar; shown by: lift 2 passed" in signed_text
    assert "OPEN, not cured" in signed_text


def test_refused_attempts_are_listed_with_their_reason(signed_text: str, eventful: Any) -> None:
    refused = [e.body for e in eventful.events if isinstance(e.body, ev.CommandRefused)]
    assert [body.reason.code for body in refused] == ["engine-needs-first", "engine-foreman-signs"]
    for body in refused:
        for told in (body.attempt, body.reason):
            assert capital(Words()(told)) in signed_text


def test_a_signed_day_names_signer_and_accepted_open_points(signed_text: str) -> None:
    assert "Signed in the log by" in signed_text
    assert "Open points accepted with the signature" in signed_text
    assert "NOT SIGNED" not in signed_text


def test_an_unsigned_day_says_so_on_every_page(unsigned_pdf: PdfReader) -> None:
    assert all("NOT SIGNED" in page.extract_text() for page in unsigned_pdf.pages)


def test_the_log_defers_to_codes_data_sheets_and_licensed_practice(signed_text: str) -> None:
    for words in ("no substitute for local codes", "product data sheets", "licensed practice"):
        assert words in signed_text


def test_every_page_carries_the_head_hash_the_event_count_and_its_number(signed_pdf: PdfReader, eventful: Any) -> None:
    total = len(signed_pdf.pages)
    head = eventful.record().hashes[-1]
    for number, page in enumerate(signed_pdf.pages, start=1):
        text = page.extract_text()
        assert head in text
        assert f"{len(eventful.events)} events" in text
        assert f"page {number} of {total}" in text


def test_outline_leads_to_each_area(signed_pdf: PdfReader) -> None:
    titles = {}
    for item in signed_pdf.outline:
        if not isinstance(item, list):
            titles[item.title] = signed_pdf.get_destination_page_number(item)
    assert "Shower wall (finished)" in titles
    page = titles["Plunge pool (not finished)"]
    assert page is not None
    assert "AREA 2 OF 2" in signed_pdf.pages[page].extract_text()


def test_metadata_name_day_and_signer(signed_pdf: PdfReader) -> None:
    meta = signed_pdf.metadata
    assert meta is not None
    assert meta.title == "Daily log, Žofín Quay Baths, north hall, 2026-03-04"
    assert meta.author == "Ruth"


# --- the sheet ----------------------------------------------------------------------------------------------------


def test_metric_days_are_printed_on_a4_and_us_days_on_letter(signed_pdf: PdfReader, unsigned_pdf: PdfReader) -> None:
    # A4: ISO 216, 210 × 297 mm. Letter: ANSI/ASME Y14.1, 8.5 × 11 in. A point is 1/72 in.
    box = signed_pdf.pages[0].mediabox
    assert float(box.width) == pytest.approx(210 / 25.4 * 72, abs=0.5)
    assert float(box.height) == pytest.approx(297 / 25.4 * 72, abs=0.5)
    box = unsigned_pdf.pages[0].mediabox
    assert (float(box.width), float(box.height)) == (8.5 * 72, 11 * 72)


def test_units_asked_for_go_before_the_plans(eventful: Any, tmp_path: Path) -> None:
    pdf = _written(eventful, tmp_path / "us.pdf", units="us")
    assert float(pdf.pages[0].mediabox.width) == 8.5 * 72
    assert "21 °C (69.8 °F)" in _text(pdf)


def test_every_typeface_is_embedded(signed_pdf: PdfReader) -> None:
    # ISO 32000-1, 9.9: an embedded TrueType program is the stream FontFile2 of the font's descriptor.
    names = set()
    for page in signed_pdf.pages:
        for reference in page["/Resources"]["/Font"].values():
            font = reference.get_object()
            names.add(font["/BaseFont"])
            assert "/FontFile2" in font["/FontDescriptor"].get_object(), font["/BaseFont"]
    assert all("DejaVu" in name for name in names)


def _steps(events: Any) -> list[list[tuple[Any, ...]]]:
    return [page.steps for page in lay_out(build_report(events)).pages]


def _is_struck(at: int, steps: list[tuple[Any, ...]]) -> bool:
    """A rule through the letters follows the text: between its baseline and the height of its small letters."""
    _, x, y, _, size, _, _ = steps[at]
    after = steps[at + 1] if at + 1 < len(steps) else ("",)
    return after[0] == "line" and after[1] <= x < after[3] and y - 0.55 * size < after[2] < y


def test_withdrawn_readings_are_struck_through_and_the_kept_ones_are_not(eventful: Any) -> None:
    struck = {"59 %": [], "97 %": []}
    for steps in _steps(eventful.events):
        for at, step in enumerate(steps):
            if step[0] == "text" and step[6] in struck:
                struck[step[6]].append(_is_struck(at, steps))
    # The one reading stands among the withdrawn and in the sequence; the other in lifts, checks and sequence.
    assert struck["59 %"] == [True, True]
    assert struck["97 %"]
    assert not any(struck["97 %"])


def test_no_heading_is_left_alone_at_the_foot_of_a_page(a_site: Callable[..., Any]) -> None:
    site = a_site().start("shower wall").release()
    for count in range(12):
        # One remark more moves every heading that follows a little further down.
        site.do(cmd.MakeNote(text=f"remark {count}"))
        for steps in _steps(site.events):
            deepest = max(s[2] for s in steps if s[0] == "text")
            headings = [s[2] for s in steps if s[0] == "text" and (s[3], s[4]) == ("Report-Bold", sheet.SECTION.size)]
            assert all(y < deepest for y in headings)


def test_table_heads_come_again_on_each_page(a_site: Callable[..., Any]) -> None:
    site = a_site().start("shower wall").release().batch()
    for _ in range(14):
        site.tile()
        if site.state.area.task is not None:
            site.lift("97")
    pages = [{s[6] for s in steps if s[0] == "text"} for steps in _steps(site.events)]
    carried = [texts for texts in pages if "Shower wall: sequence, continued" in texts]
    assert len(carried) >= 2
    assert all({"event", "who", "criterion", "basis"} <= texts for texts in carried)


def test_nothing_is_set_outside_the_margins(handed_over: Any, long_words: Any) -> None:
    album = Album(handed_over.site.files.get)
    for events in (handed_over.site.events, long_words.events):
        laid = lay_out(build_report(events), album=album, not_attached=["0123456789abcdef.jpg (gone)"] * 30)
        for page in laid.pages:
            for step in page.steps:
                if step[0] in ("picture", "rect"):
                    _, x, y, wide, high, *_ = step
                    assert x >= laid.left - 0.5
                    assert x + wide <= laid.right + 0.5
                    assert y + high <= laid.bottom + 0.5
                if step[0] == "text":
                    _, x, y, face, size, _, text = step
                    assert x >= laid.left - 0.5
                    assert x + daily.fonts.width(text, face, size) <= laid.right + 1.5, text
                    assert y <= laid.bottom + 0.5, text


@pytest.fixture
def long_words(a_site: Callable[..., Any], raw_plan: dict[str, Any], raw_checklist: dict[str, Any]) -> Any:
    """A day whose every text is as long as it may be, some without a place to break."""
    raw_plan["site"] = "The very long name of a building site by the water " * 6
    raw_plan["address"] = "Straße" * 60
    raw_plan["areas"][0]["where"] = "behind the second column " * 15
    raw_plan["crew"][0]["name"] = "maximiliana philippa"
    raw_checklist["cautions"][0]["text"] = "Mind the edge. " * 26
    site = a_site(raw_plan, raw_checklist).speak("maximiliana philippa")
    site.do(cmd.StartArea(area="shower wall")).understood()
    return site.do(cmd.MakeNote(text="word " * 399), cmd.MakeNote(text="unbroken" * 200))


def test_a_row_taller_than_a_page_goes_on_until_its_last_word() -> None:
    words = [f"w{n:04d}" for n in range(330)]
    narrow = sheet.Sheet((300, 200))
    narrow.table(
        [sheet.Column("a", 60), sheet.Column("b", share=1)],
        [sheet.Row((sheet.Cell("x"), sheet.Cell(" ".join(words))))],
        continued="again",
    )
    told = [s[6] for page in narrow.pages for s in page.steps if s[0] == "text"]
    assert len(narrow.pages) > 3
    assert " ".join(t for t in told if t.startswith("w")).split() == words


def test_letters_without_a_shape_are_boxed_and_the_reader_is_told(
    a_site: Callable[..., Any], raw_plan: dict[str, Any], tmp_path: Path
) -> None:
    raw_plan["site"] = "Hall \U00013080"
    text = _text(_written(a_site(raw_plan), tmp_path / "d.pdf"))
    assert "Hall □" in text
    assert "the log itself holds them" in text


def test_words_are_dark_enough_to_read() -> None:
    # W3C WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1 for body text; relative luminance as defined there.
    def luminance(colour: sheet.Colour) -> float:
        r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour)
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    for ink in (sheet.INK, sheet.GREY, sheet.ACCENT):
        for paper in (sheet.WHITE, sheet.PALE):
            assert (luminance(paper) + 0.05) / (luminance(ink) + 0.05) >= 4.5


def test_verdicts_are_told_by_word_and_shape_not_by_colour_alone(eventful: Any) -> None:
    texts, shapes = set(), set()
    for steps in _steps(eventful.events):
        texts |= {s[6] for s in steps if s[0] == "text"}
        shapes |= {s[0] for s in steps}
    assert {"pass", "FAIL", "ran out", "withdrawn"} <= texts
    assert {"disc", "shape"} <= shapes


# --- days of all kinds --------------------------------------------------------------------------------------------


def test_a_day_without_a_started_area_is_printed(site: Any, tmp_path: Path) -> None:
    text = _text(_written(site, tmp_path / "d.pdf"))
    assert "Areas planned and not started" in text
    assert "Plunge pool: not started" in text


def test_a_log_without_a_day_leaves_no_file(tmp_path: Path) -> None:
    with pytest.raises(NoDay):
        write_daily_pdf(Record([], [], [], None, "test"), tmp_path / "d.pdf")
    assert list(tmp_path.iterdir()) == []


def test_a_day_broken_off_at_any_event_is_printed(handed_over: Any) -> None:
    record = handed_over.record
    ends = {*range(1, len(record.events) + 1, 9), *range(len(record.events) - 14, len(record.events) + 1)}
    for end in sorted(ends):
        events = record.events[:end]
        assert lay_out(build_report(events, seals=check_seals(events, record.hashes[:end]))).pages


# --- the file -----------------------------------------------------------------------------------------------------


def test_the_same_day_gives_the_same_bytes(eventful: Any, tmp_path: Path) -> None:
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    write_daily_pdf(eventful.record(), one)
    write_daily_pdf(eventful.record(), two)
    assert one.read_bytes() == two.read_bytes()


def test_drawing_that_fails_leaves_the_former_file_and_no_other(
    eventful: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "d.pdf"
    path.write_bytes(b"former")

    def fail(*_: Any) -> None:
        raise RuntimeError("no more ink")

    monkeypatch.setitem(sheet._DRAW, "rect", fail)
    with pytest.raises(RuntimeError):
        write_daily_pdf(eventful.record(), path)
    assert path.read_bytes() == b"former"
    assert list(tmp_path.iterdir()) == [path]


def test_a_full_disk_is_told_in_a_sentence_and_leaves_nothing(
    eventful: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotWrite, match=r"report-cannot-write.*No space left on device"):
        write_daily_pdf(eventful.record(), tmp_path / "d.pdf")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told_in_a_sentence(eventful: Any, tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match=r"report-cannot-write.*No such file"):
        write_daily_pdf(eventful.record(), tmp_path / "gone" / "d.pdf")
