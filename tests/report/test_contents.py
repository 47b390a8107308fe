"""One finds one's way: contents with page numbers and links, bookmarks, and the drawings of an area."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fieldassist.report.build import build_report
from fieldassist.report.daily import lay_out, write_daily_pdf
from fieldassist.report.report_model import DayReport
from fieldassist.report.sheet import Entry, Sheet
from tests.report.conftest import large_day

TILES = 7


def text_of(page: Any) -> str:
    return " ".join(page.extract_text().split())


def links_of(pdf: PdfReader) -> list[tuple[str, int, int]]:
    """Of each link on the first pages: its words, the page it stands on and the page it leads to, counted from 0."""
    found = []
    pages = {page.indirect_reference.idnum: number for number, page in enumerate(pdf.pages)}
    for number, page in enumerate(pdf.pages[:4]):
        for link in page.get("/Annots", []):
            link = link.get_object()
            found.append((str(link["/Contents"]), number, pages[list.__getitem__(link["/Dest"], 0).idnum]))
    return found


def test_contents_lead_by_number_and_by_link_to_where_each_part_begins(handed_over_pdf: Path) -> None:
    pdf = PdfReader(handed_over_pdf)
    (on,) = {at for _, at, _ in links_of(pdf)}
    listed = pdf.pages[on].extract_text()
    starts = {
        "Shower wall": "AREA 1 OF 2",
        "Plunge pool": "AREA 2 OF 2",
        "Refused attempts": "Asked for out of order",
        "Signature and seal": "Signed in the log by",
        "How to verify this log": "fieldassist verify FILE",
        "Addendum 1": "ADDENDUM 1 OF 2",
        "Addendum 2": "ADDENDUM 2 OF 2",
        "What the steps asked": "The checklists' own words",
        "Where the limits come from": "[1]",
        "How to read this log": "A disc with “pass”",
    }
    links = links_of(pdf)
    assert [title for title, _, _ in links] == list(starts)
    assert on <= 1, "not far from the first page"
    for title, _, to in links:
        assert starts[title] in text_of(pdf.pages[to]), title
    numbers = [int(line) for line in listed.split("Contents")[1].split("Crew")[0].splitlines() if line.isdigit()]
    assert numbers == [to + 1 for _, _, to in links]


def test_every_part_has_a_bookmark_that_leads_to_the_same_page(handed_over_pdf: Path) -> None:
    pdf = PdfReader(handed_over_pdf)
    marks = {}
    for item in pdf.outline:
        if not isinstance(item, list):
            marks[str(item.title)] = pdf.get_destination_page_number(item)
    for title, _, to in links_of(pdf):
        assert to in {page for name, page in marks.items() if name.startswith(title)}, title
    assert marks["Summary of the day"] == 0


def test_a_long_list_of_contents_goes_on_in_columns_and_names_every_entry_once() -> None:
    sheet = Sheet((595, 842))
    entries = [Entry(f"Room {n}", f"area-{n}", "finished", "pass") for n in range(200)]
    sheet.contents(entries)
    links = [step for page in sheet.pages for step in page.steps if step[0] == "link"]
    assert [step[6] for step in links] == [e.title for e in entries]
    assert len(sheet.pages) == 2
    for _, x, y, wide, high, *_ in links:
        assert sheet.left <= x
        assert x + wide <= sheet.right + 0.1
        assert y + high <= sheet.bottom + 0.1
    places = {(n, s[1], s[2]) for n, page in enumerate(sheet.pages) for s in page.steps if s[0] == "link"}
    assert len(places) == 200


def test_a_title_too_long_for_its_column_is_cut_and_its_page_number_stays() -> None:
    sheet = Sheet((595, 842))
    sheet.contents([Entry("the longest name of a room that anybody ever gave " * 4, "a", "NOT FINISHED", "fail")] * 20)
    texts = [step for step in sheet.pages[0].steps if step[0] == "text"]
    assert all(step[6].endswith("…") for step in texts if step[6].startswith("the longest"))
    assert sum(step[0] == "page number" for step in sheet.pages[0].steps) == 20


def test_two_hundred_areas_and_five_thousand_events_are_printed_with_progress_that_only_goes_on(tmp_path: Path) -> None:
    site = large_day()
    assert len(site.events) >= 5_000
    told: list[tuple[int, int]] = []
    made = write_daily_pdf(site.record(), tmp_path / "d.pdf", progress=lambda done, of: told.append((done, of)))
    assert told == sorted(told)
    assert told[-1][0] == told[-1][1]
    assert len({of for _, of in told}) == 1
    # Never silent for long: a person waits on a tablet.
    assert max(b - a for (a, _), (b, _) in pairwise(told)) < told[-1][1] / 50
    pdf = PdfReader(made.path)
    links = links_of(pdf)
    assert len(links) == 200 + 5
    for title, at, to in links[:200:40]:
        assert at <= 2
        assert title in text_of(pdf.pages[to])


# --- drawings -----------------------------------------------------------------------------------------------------


def drawn(day: DayReport) -> list[list[tuple[Any, ...]]]:
    return [page.steps for page in lay_out(day).pages]


def test_tiles_stand_in_the_order_they_were_set_with_lifts_by_number_shape_and_word(eventful: Any) -> None:
    day = build_report(eventful.events)
    first, second = day.areas
    assert [t.number for t in first.set_in_order] == [1, 2, 3, 4]
    assert [t.batch for t in first.set_in_order] == ["Batch 1", "Batch 1", "Batch 1", "Batch 2"]
    for tile in (*first.set_in_order, *second.set_in_order):
        event = eventful.events[tile.seq - 1]
        assert event.body.type == "section closed"
        assert event.body.tile is not None
        assert tile.time == event.at.wall[11:19]
    found = []
    for steps in drawn(day):
        at = next((n for n, s in enumerate(steps) if s[0] == "text" and s[6].startswith("Tiles in the order")), None)
        if at is None:
            continue
        end = next(n for n, s in enumerate(steps) if n > at and s[0] == "text" and s[6].startswith("disc: lifted"))
        part = steps[at:end]
        shapes = [s[0] for s in part if s[0] in ("disc", "shape")]
        texts = [s[6] for s in part if s[0] == "text"]
        legend = next(n for n, text in enumerate(texts) if text.startswith("full square: witnessed"))
        found.append((texts[texts.index("1") : legend], shapes))
    # The first tile was lifted twice: it failed, was set again (a square with a dot) and passed.
    assert found[0] == (
        ["1", "set again", "Batch 1", "lifts 1, 2", "pass", "2", "witnessed", "lift 3", "pass", "3", "witnessed",
         "lift 4", "pass", "4", "witnessed", "Batch 2", "lift 5", "pass"],
        ["disc"] * 5,
    )  # fmt: skip
    assert found[1] == (["1", "witnessed", "Batch 1", "lift 1", "FAIL"], ["shape"])


def _with_bags(a_site: Any, raw_plan: Any, raw_checklist: Any, used: str, **mortar: str) -> Any:
    """A finished area, at whose end the bags are asked for."""
    raw_plan["areas"][0]["mortar"] |= mortar
    raw_plan["areas"][0]["method"] = {**raw_plan["areas"][0]["method"], "angle": 90}
    bags = {"id": "sacks", "kind": "reading", "ask": "Bags?", "say": ["{value} bags"], "quantity": "bags",
            "units": ["count"]}  # fmt: skip
    next(s for s in raw_checklist["sections"] if s["id"] == "closing")["steps"].append(bags)
    site = a_site(raw_plan, raw_checklist).start("shower wall").release().batch()
    for _ in range(TILES):
        site.tile()
        if site.state.area.task is not None:
            site.lift("97")
    return site.finish().read("closing", "sacks", used, "count")


@pytest.mark.parametrize(
    ("used", "verdict", "said"),
    [("1.75", "as predicted", "as predicted"), ("1", "too little", "TOO LITTLE MORTAR"),
     ("3", "more than predicted", "more than predicted")],
)  # fmt: skip
def test_bags_used_stand_beside_those_predicted_as_bars_of_one_scale_with_the_verdict_in_words(
    a_site: Any, raw_plan: Any, raw_checklist: Any, used: str, verdict: str, said: str
) -> None:
    site = _with_bags(a_site, raw_plan, raw_checklist, used, bag="25 kg", bag_yield="20 L")
    day = build_report(site.events)
    bags = day.areas[0].bags
    assert bags is not None
    # By hand: tiles of 1.2 m by 0.6 m; half of a 1/2 in notch at a right angle lays 6.35 mm; a tenth is wasted.
    assert bags.predicted == pytest.approx(TILES * 1.2 * 0.6 * 6.35 * 1.1 / 20)
    assert bags.verdict == verdict
    assert site.events[bags.seq - 1].body.type == "reading kept"
    texts = {s[6] for steps in drawn(day) for s in steps if s[0] == "text"}
    assert any(text.startswith(said) for text in texts)
    bars = [
        step
        for steps in drawn(day)
        for at, step in enumerate(steps)
        if step[0] == "rect" and steps[at - 1][0] == "text" and steps[at - 1][6] in ("used", "predicted")
    ]
    assert bars[0][3] / bars[1][3] == pytest.approx(bags.used / bags.predicted)


def test_bags_that_cannot_be_predicted_are_told_with_the_reason(a_site: Any, raw_plan: Any, raw_checklist: Any) -> None:
    day = build_report(_with_bags(a_site, raw_plan, raw_checklist, "2").events)
    bags = day.areas[0].bags
    assert bags is not None
    assert (bags.predicted, bags.reason) == (None, "no prediction: the plan does not say what a bag weighs")
    texts = {s[6] for steps in drawn(day) for s in steps if s[0] == "text"}
    assert any("not judged: no prediction" in text for text in texts)


def test_a_day_without_bags_or_tiles_has_no_empty_drawings(a_site: Callable[..., Any]) -> None:
    site = a_site().start("shower wall").release()
    texts = {s[6] for steps in drawn(build_report(site.events)) for s in steps if s[0] == "text"}
    assert "Tiles in the order they were set" not in texts
    assert "Mortar used against mortar predicted" not in texts
