"""Signatures, the seal and addenda, as the pages tell them."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from reportlab.lib.pagesizes import A4

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.facts.build import day_facts
from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.record.keys import SigningKey
from fieldassist.report import fonts
from fieldassist.report.build import day_pages
from fieldassist.report.build.closing import signing
from fieldassist.report.by_hand import PAGES, RECIPE
from fieldassist.report.closing_page import by_hand_page, signing_page
from fieldassist.report.daily import lay_out
from fieldassist.report.grid import MEASURE, paper_of
from fieldassist.report.model import DayPages
from fieldassist.report.sheet import Sheet
from fieldassist.trade.message import Several, message
from tests.report.conftest import RUTH, STROKES, HandedOver, words

WORDS = Words(units="metric")


def facts_of(site: Any) -> DayFacts:
    record = site.record()
    return day_facts(record.events, record.hashes, WORDS)


def told(site: Any) -> DayPages:
    return day_pages(facts_of(site), WORDS)


def says(code: str, **figures: Any) -> str:
    return WORDS(message(code, **figures))


@pytest.fixture(scope="module")
def day(handed_over: HandedOver) -> DayPages:
    return told(handed_over.site)


def digits(pages: DayPages) -> list[str]:
    return [line.digits for line in pages.signing.seal.lines if line.digits]


# --- signatures and seals -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("signed", "sealed", "foot"),
    [(False, False, "NOT SIGNED"), (True, False, "NOT SEALED"), (True, True, "Sealed by Ruth")],
)
def test_signing_page_and_every_foot_say_how_the_day_stands_and_are_red_until_it_is_sealed(
    a_site: Callable[..., Any], signed: bool, sealed: bool, foot: str
) -> None:
    site = a_site().speak("ruth")
    if signed:
        site.do(cmd.SignDay(accept_open=True))
    if sealed:
        site.seal()
    pages = told(site)
    assert pages.signing.foreman.alarm == ("" if signed else says("closing-not-signed"))
    assert bool(pages.signing.foreman.when) == signed
    assert pages.signing.seal.alarms == (() if sealed else (says("closing-no-seal", signed="yes" if signed else "no"),))
    assert foot in pages.frame.foot
    assert pages.frame.red == (not sealed)


def test_a_seal_is_told_with_its_key_what_it_covers_and_the_head_that_was_sealed(
    a_site: Callable[..., Any],
) -> None:
    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    sealed = site.events[-1].body
    assert isinstance(sealed, ev.DaySealed)
    pages = told(site)
    assert digits(pages) == [RUTH.fingerprint, sealed.head]
    time = site.events[-2].at.wall[11:16]
    lines = {line.label: line.text for line in pages.signing.seal.lines}
    assert lines[says("closing-covers")] == says("closing-covers-events", count=sealed.covers, time=time)


def test_no_page_says_that_a_roster_vouches_for_a_key(a_site: Callable[..., Any]) -> None:
    # A roster lies beside a tablet and in no record: what it says, another print could not say again.
    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    lines = {line.label: line.text for line in told(site).signing.seal.lines}
    assert lines[says("closing-key-of")] == says(
        "closing-key-whose", name=message("prompt-person", name="ruth"), role=message("page-role", role="foreman")
    )
    assert "--roster" in lines[says("closing-key-of")]


def test_a_forged_seal_is_told_as_one_that_does_not_fit(a_site: Callable[..., Any]) -> None:
    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    last = site.events[-1]
    forged = last.body.model_copy(update={"signature": "00" * 64})
    site.events[-1] = last.model_copy(update={"body": forged})
    pages = told(site)
    assert pages.signing.seal.alarms == (says("closing-seal-unfit", why=says("record-seal-signature")),)
    assert "THE SEAL DOES NOT FIT" in pages.frame.foot
    assert pages.frame.red
    assert says("closing-covers") not in {line.label for line in pages.signing.seal.lines}


def test_a_seal_over_other_events_is_told_as_one_that_does_not_fit(a_site: Callable[..., Any]) -> None:
    site = a_site().speak("ruth").do(cmd.MakeNote(text="dry")).do(cmd.SignDay(accept_open=True)).seal()
    at = next(n for n, e in enumerate(site.events) if isinstance(e.body, ev.NoteMade))
    site.events[at] = site.events[at].model_copy(update={"body": ev.NoteMade(text="wet")})
    (alarm,) = told(site).signing.seal.alarms
    assert alarm.startswith("THE SEAL DOES NOT FIT")


def test_a_key_that_changed_is_pointed_out_where_it_sealed(a_site: Callable[..., Any]) -> None:
    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    site.do(cmd.OpenAddendum(reason="something was forgotten")).do(cmd.SignDay(accept_open=True))
    site.seal(SigningKey("ruth", RUTH.role, b"\x06" * 32))
    facts, pages = facts_of(site), told(site)
    (warning,) = (one.warning for one in facts.seals if one.warning is not None)
    assert warning.code == "record-seal-another-key"
    (addendum,) = pages.addenda
    assert addendum.seal is not None
    assert addendum.seal.alarms == (says("closing-seal-warning", warning=warning.text),)


def test_what_came_after_the_last_seal_is_told(day: DayPages, handed_over: HandedOver) -> None:
    total = len(handed_over.site.events)
    last = max(e.seq for e in handed_over.site.events if isinstance(e.body, ev.DaySealed))
    assert total - last == 2
    assert day.signing.seal.alarms == (says("closing-unsealed", count=2, first=str(last + 1)),)
    assert "(addendum 1); addendum 2 NOT SEALED" in day.frame.foot
    assert day.frame.red


def test_a_sealed_addendum_answers_for_the_pages_it_changed(a_site: Callable[..., Any]) -> None:
    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    site.wait(60).do(cmd.OpenAddendum(reason="something was forgotten")).do(cmd.SignDay(accept_open=True))
    site.seal(SigningKey("ruth", RUTH.role, b"\x06" * 32))
    day, again = facts_of(site).signatures
    pages = told(site)
    assert (day.at[11:16] in pages.frame.foot, again.at[11:16] in pages.frame.foot) == (False, True)
    assert "(addendum 1)" in pages.frame.foot
    assert not pages.frame.red
    answers = pages.front.answers
    assert [at[11:16] in answers.told for at in (day.at, again.at)] == [True, True]
    about = {"name": "Ruth", "role": says("page-role", role="foreman"), "at": again.at[11:16], "open": 2}
    assert says("front-answers-addenda", count=1, number=1, **about) in answers.told
    # The key is the one that vouches for what stands there now, and that it is another one is an alarm.
    assert answers.key.replace(" ", "") == facts_of(site).seals[1].key.replace(" ", "")
    assert len(answers.alarms) == 1
    assert says("front-reopened", count=1, number=says("front-number-1"), corrected=0) in pages.front.goes_on


def test_a_seal_of_an_addendum_that_does_not_fit_is_red_on_every_page(handed_over: HandedOver) -> None:
    facts = facts_of(handed_over.site)
    unfit = facts.seals[1].model_copy(update={"good": False})
    pages = day_pages(facts.model_copy(update={"seals": [facts.seals[0], unfit], "unsealed": 0}), WORDS)
    assert pages.frame.red
    assert "THE SEAL OF ADDENDUM 1 DOES NOT FIT" in pages.frame.foot
    assert says("front-answers-unfit", part=1, why="") in pages.front.answers.alarms


def test_the_drawn_signature_is_drawn_where_the_finger_drew_it(day: DayPages) -> None:
    sheet = lay_out(day, WORDS)
    drawn = [step for page in sheet.pages for _, step in page.steps if step[0] == "ink"]
    assert len(drawn) == 2
    for _, lines, *_ in drawn:
        assert [len(line) for line in lines] == [len(stroke) for stroke in STROKES]
        # From thousandths of the field, three times as wide as high: nothing turned over, nothing stretched.
        (x0, y0), (x1, y1) = lines[0][0], lines[0][1]
        (a0, b0), (a1, b1) = STROKES[0][0], STROKES[0][1]
        assert (x1 - x0) / (a1 - a0) == pytest.approx(3 * (y1 - y0) / (b1 - b0))
        assert (x1 - x0) / (a1 - a0) > 0


def test_releases_are_told_by_how_they_were_made(a_site: Callable[..., Any]) -> None:
    site = a_site().start("shower wall").release().sign(accept_open=True)
    assert told(site).signing.foreman.alarm == says("closing-released-called", count=1)


def test_what_rests_on_the_foremans_words_is_what_he_signs_for(handed_over: HandedOver) -> None:
    facts = facts_of(handed_over.site)
    area = facts.areas[0]
    tiles = [one.model_copy(update={"state": "accepted"}) if one.number < 3 else one for one in area.tiles]
    answered = says("closing-answered", count=1)  # why less is set than planned
    accepted = says("closing-accepted", area=area.name, count=2, tiles=Several(("1", "2"), "and"))
    accepting = facts.model_copy(update={"areas": [area.model_copy(update={"tiles": tiles}), *facts.areas[1:]]})
    assert {answered, accepted} <= set(signing(accepting, WORDS).foreman.signs)
    unanswered = [one.model_copy(update={"answered": False}) for one in facts.open_points]
    bare = signing(facts.model_copy(update={"open_points": unanswered}), WORDS).foreman.signs
    assert not {answered, accepted} & set(bare)


@pytest.mark.parametrize("when", ["30 September 2026, 10:20", "in the longest of all months, 30 September 2026, 10:20"])
def test_however_long_a_date_is_written_it_stays_within_the_page(day: DayPages, when: str) -> None:
    late = dataclasses.replace(day.signing, foreman=dataclasses.replace(day.signing.foreman, when=when))
    sheet = Sheet(A4, WORDS)
    sheet.places |= {"front": 1, "by-hand": 9, **{one.key: 5 for one in day.signing.reopened}}
    signing_page(sheet, late)
    ends = [step[1] + fonts.width(step[6], step[3], step[4]) for _, step in sheet.pages[0].steps if step[0] == "text"]
    assert max(ends) <= paper_of(sheet).side + MEASURE


# --- the owner's ticks --------------------------------------------------------------------------------------------


def test_the_owner_ticks_the_points_as_the_first_page_numbers_them(handed_over: HandedOver, day: DayPages) -> None:
    numbers = tuple(one.number for one in facts_of(handed_over.site).look_at)
    assert len(numbers) > 5
    assert day.signing.ticks == numbers
    sheet = Sheet(A4, WORDS)
    sheet.places |= {"front": 1, "by-hand": 9, **{one.key: 5 for one in day.signing.reopened}}
    signing_page(sheet, day.signing)
    boxes = [step for page in sheet.pages for _, step in page.steps if step[0] == "rect"]
    assert len(boxes) == len(numbers)
    assert len(sheet.pages) == 1


def test_more_points_than_boxes_are_written_down_by_number(handed_over: HandedOver) -> None:
    facts = facts_of(handed_over.site)
    many = facts.model_copy(update={"look_at": facts.look_at[:1] * 120})
    page = signing(many, WORDS)
    assert page.ticks == ()
    assert page.written == says("closing-write-numbers", points=120)


def test_files_that_do_not_go_with_the_pages_are_named(day: DayPages, handed_over: HandedOver) -> None:
    assert day.signing.left_out == ()
    lacking = [f"{n:016x}.jpg" for n in range(9)]
    (line,) = signing(facts_of(handed_over.site), WORDS, lacking).left_out
    assert [name in line for name in lacking] == [True] * 5 + [False] * 4
    assert "4 more" in line


# --- addenda ------------------------------------------------------------------------------------------------------


def test_each_addendum_has_its_pages_with_reason_corrections_additions_and_signature(
    day: DayPages, handed_over_pdf: Path
) -> None:
    first, second = day.addenda
    assert "The second lift was read from the wrong side." in first.reason
    assert (first.alarm, second.alarm) == (False, True)
    assert [one.stands for one in first.corrected] == ["The contact was 96 %, not 97 %."]
    assert "97 %" in first.corrected[0].stood
    assert [one.text for one in first.added] == [says("events-note-made", text="Seen again with the owner.")]
    assert first.foreman.strokes
    assert first.seal is not None
    assert first.seal.alarms == ()
    assert second.standing == says("closing-addendum-not-signed")
    assert second.foreman.alarm == says("closing-not-signed")
    assert second.seal is None
    assert len(second.added) == 1
    assert [one.alarm for one in day.signing.reopened] == [False, True]
    text = words(handed_over_pdf)
    for addendum in day.addenda:
        assert text.count(addendum.title) >= 2  # in the running head and as the title
        assert addendum.reason in text


def test_an_addendum_counts_a_reading_once_and_names_who_entered_it(a_site: Callable[..., Any]) -> None:
    site = a_site().start("shower wall").speak("ruth").do(cmd.SignDay(accept_open=True))
    site.do(cmd.OpenAddendum(reason="the second thermometer was forgotten")).do(cmd.NoteWeather(text="dry"))
    (addendum,) = facts_of(site).addenda
    assert [(one.told.code, one.by) for one in addendum.added] == [("events-weather-noted", "ruth")]


def test_what_is_withdrawn_within_an_addendum_stays_there_struck_out(a_site: Callable[..., Any]) -> None:
    site = a_site().speak("ana").do(cmd.StartArea(area="shower wall")).understood()
    site.read("conditions", "air-temperature", "21", "degC").speak("ruth").do(cmd.SignDay(accept_open=True))
    site.do(cmd.OpenAddendum(reason="the humidity was forgotten"))
    site.speak("ana").read("conditions", "humidity", "55", "percent").do(cmd.Withdraw())
    (pages,) = told(site).addenda
    assert [(one.struck, "55 %" in one.text) for one in pages.added] == [(True, True), (False, False)]


# --- by hand ------------------------------------------------------------------------------------------------------


def test_every_command_fits_on_its_line_and_all_of_them_on_one_page(day: DayPages) -> None:
    sheet = Sheet(A4, WORDS)
    by_hand_page(sheet, day.by_hand)
    assert len(sheet.pages) == 1
    set_in = {step[6]: step[4] for _, step in sheet.pages[0].steps if step[0] == "text" and step[3] == fonts.FIXED}
    assert tuple(set_in) == RECIPE + PAGES
    assert min(set_in.values()) >= 8
    assert max(fonts.width(line, fonts.FIXED, size) for line, size in set_in.items()) <= MEASURE
