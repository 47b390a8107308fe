"""What the daily log says about signatures, seals, addenda and corrections."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.record.seal import check_seals
from fieldassist.report.build import build_report
from fieldassist.report.daily import lay_out, write_daily_pdf
from fieldassist.report.report_model import DayReport
from tests.report.conftest import RUTH, STROKES, words


def told(site: Any) -> DayReport:
    record = site.record()
    return build_report(record.events, seals=check_seals(record.events, record.hashes))


@pytest.fixture(scope="module")
def day(handed_over: Any) -> DayReport:
    return told(handed_over.site)


# --- seals --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("signed", "sealed", "standing", "said"),
    [
        (False, False, "not signed", "The day is not signed: it was not closed when this was printed"),
        (True, False, "signed, not sealed", "The day is signed, not sealed: Ruth, foreman, "),
        (True, True, "sealed", "The day is sealed by Ruth, foreman, "),
    ],
)
def test_first_page_and_signature_page_say_in_plain_words_how_the_day_stands(
    a_site: Callable[..., Any], tmp_path: Path, signed: bool, sealed: bool, standing: str, said: str
) -> None:
    site = a_site().speak("ruth")
    if signed:
        site.do(cmd.SignDay(accept_open=True))
    if sealed:
        site.seal()
    assert told(site).standing == standing
    made = write_daily_pdf(site.record(), tmp_path / "d.pdf")
    assert f"2026-03-04 · {standing}" in words(made.path, 1)
    assert said in words(made.path, 1)
    assert words(made.path).count(said) == (2 if signed else 1)
    assert ("NOT SIGNED" in words(made.path, 1)) == (not signed)


def test_a_seal_is_told_with_its_key_fingerprint_and_what_it_covers(day: DayReport, handed_over_pdf: Path) -> None:
    signature = day.signature
    assert signature is not None
    assert signature.seal is not None
    assert signature.seal.covers == signature.seq == signature.seal.seq - 1
    assert signature.seal.public_key == RUTH.public_key
    text = words(handed_over_pdf)
    assert f"the key with the fingerprint {RUTH.fingerprint} vouches for events 1 to {signature.seq}." in text
    assert f"Keys that sealed, as this file says. Ruth: {RUTH.fingerprint}." in text
    assert "fieldassist verify FILE" in text
    assert "the roster tells that the firm gave you before the work began" in text


def test_a_forged_seal_is_told_as_one_that_does_not_fit_on_the_first_page(
    a_site: Callable[..., Any], tmp_path: Path
) -> None:
    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    last = site.events[-1]
    forged = last.body.model_copy(update={"signature": "00" * 64})
    site.events[-1] = last.model_copy(update={"body": forged})
    assert told(site).standing == "SEAL DOES NOT FIT"
    first = words(write_daily_pdf(site.record(), tmp_path / "d.pdf").path, 0)
    assert "SEAL DOES NOT FIT: the signature is not that of this key over these events" in first
    assert "is sealed by" not in first


def test_a_seal_over_other_events_is_told_as_one_that_does_not_fit(a_site: Callable[..., Any]) -> None:
    site = a_site().speak("ruth").do(cmd.MakeNote(text="dry")).do(cmd.SignDay(accept_open=True)).seal()
    at = next(n for n, e in enumerate(site.events) if isinstance(e.body, ev.NoteMade))
    site.events[at] = site.events[at].model_copy(update={"body": ev.NoteMade(text="wet")})
    assert told(site).standing == "SEAL DOES NOT FIT"


def test_without_a_check_no_seal_is_told_as_good(handed_over: Any) -> None:
    assert build_report(handed_over.site.events).standing == "SEAL DOES NOT FIT"


def test_a_key_that_changed_is_pointed_out(a_site: Callable[..., Any], tmp_path: Path) -> None:
    from fieldassist.record.keys import SigningKey

    site = a_site().speak("ruth").do(cmd.SignDay(accept_open=True)).seal()
    site.do(cmd.OpenAddendum(reason="something was forgotten")).do(cmd.SignDay(accept_open=True))
    site.seal(SigningKey("ruth", RUTH.role, b"\x06" * 32))
    first = words(write_daily_pdf(site.record(), tmp_path / "d.pdf").path, 0)
    assert "But Ruth sealed with another key in event" in first


def test_what_came_after_the_last_seal_is_told(day: DayReport, handed_over: Any, handed_over_pdf: Path) -> None:
    last = max(e.seq for e in handed_over.site.events if isinstance(e.body, ev.DaySealed))
    total = len(handed_over.site.events)
    assert day.unsealed == total - last == 2
    said = f"No key vouches for what came after the last seal: events {last + 1} to {total} were entered later."
    assert said in words(handed_over_pdf, 1)


def test_the_drawn_signature_is_drawn_where_the_finger_drew_it(day: DayReport) -> None:
    sheet = lay_out(day)
    drawn = [step for page in sheet.pages for step in page.steps if step[0] == "ink"]
    assert len(drawn) == 2
    for _, lines, *_ in drawn:
        assert [len(line) for line in lines] == [len(stroke) for stroke in STROKES]
        # From thousandths of the field to points: one scale across, one down, nothing turned over.
        (x0, y0), (x1, y1) = lines[0][0], lines[0][1]
        (a0, b0), (a1, b1) = STROKES[0][0], STROKES[0][1]
        assert (x1 - x0) / (a1 - a0) == pytest.approx(0.15)
        assert (y1 - y0) / (b1 - b0) == pytest.approx(0.05)


# --- addenda ------------------------------------------------------------------------------------------------------


def test_each_addendum_is_a_chapter_with_reason_corrections_additions_and_signature(
    day: DayReport, handed_over_pdf: Path
) -> None:
    first, second = day.addenda
    assert (first.reason, first.standing) == ("The second lift was read from the wrong side.", "sealed")
    assert [c.text for c in first.corrections] == ["The contact was 96 %, not 97 %."]
    assert [c.what for c in first.corrections] == ["Shower wall, Coverage, 97 %"]
    assert [a.what for a in first.added] == ["Seen again with the owner."]
    assert (second.reason, second.standing) == ("The photo of the pump room came late.", "not signed")
    assert [a.what.startswith("Photo") for a in second.added] == [True]
    text = words(handed_over_pdf)
    for said in (
        "ADDENDUM 1 OF 2 sealed",
        first.reason,
        "ADDENDUM 2 OF 2 not signed",
        second.reason,
        "Nobody has signed this addendum in the log.",
    ):
        assert said in text


def test_a_corrected_event_stands_where_it_stood_with_the_correction_beside_it(
    day: DayReport, handed_over_pdf: Path
) -> None:
    correction = day.addenda[0].corrections[0]
    said = f"corrected in addendum 1 by Ruth (event {correction.seq}): The contact was 96 %, not 97 %."
    lines = [line for line in day.areas[0].sequence if line.corrected]
    assert [(line.seq, line.reading, line.withdrawn) for line in lines] == [(correction.target, "97 %", False)]
    assert lines[0].corrected == (said,)
    # The lift that rests on the reading has it too.
    assert [(lift.number, lift.corrected) for lift in day.areas[0].lifts if lift.corrected] == [(2, (said,))]
    assert words(handed_over_pdf).count(said) == 2


def test_a_correction_of_the_call_is_told_at_the_reading_that_was_kept(a_site: Callable[..., Any]) -> None:
    site = a_site().start("shower wall").release()
    called = next(e for e in site.events if isinstance(e.body, ev.ReadingCalled))
    site.speak("ruth").do(cmd.SignDay(accept_open=True)).do(cmd.OpenAddendum(reason="thermometer was wrong"))
    site.do(cmd.Correct(target=called.seq, text="19 degrees"))
    day = told(site)
    (line,) = [x for x in day.areas[0].sequence if x.corrected]
    assert (line.reading, line.seq) == ("21 °C", called.seq + 1)
    assert [c.corrected for c in day.conditions if c.corrected] == [line.corrected]


def test_wrong_pins_and_clocks_that_were_set_stand_in_the_remarks(day: DayReport) -> None:
    texts = {note.text: note for note in day.notes}
    pin = next(note for text, note in texts.items() if "PIN" in text)
    clock = next(note for text, note in texts.items() if "clock" in text)
    assert pin.text == "A wrong PIN was given for Ruth; 4 more tries before it is locked."
    assert clock.text == "The tablet's wall clock was set forward by 60 min; clocks on this log ran on undisturbed."
    assert clock.who == "Clock"
    # Once is enough.
    assert not any("set forward" in text for text in day.time_keeping)


def test_a_locked_pin_says_until_when(a_site: Callable[..., Any]) -> None:
    site = a_site()
    site.add(ev.PinRefused(name="ruth", attempts_left=0, locked_until="2026-03-04T08:05:00+01:00"))
    assert told(site).notes[-1].text == "A wrong PIN was given for Ruth; locked until 08:05:00."


def test_a_dictated_note_names_its_sound_and_the_hash_of_it(handed_over: Any, handed_over_pdf: Path) -> None:
    note = next(e.body for e in handed_over.site.events if isinstance(e.body, ev.NoteMade) and e.body.audio)
    short = " ".join(note.sha256[at : at + 4] for at in range(0, 16, 4))
    text = words(handed_over_pdf)
    assert "the corner is damp" in text
    assert f"dictated, as it was heard; sound {note.audio}, SHA-256 {short} …" in text


# --- traceable ----------------------------------------------------------------------------------------------------


def test_every_line_bears_the_number_time_and_person_of_its_event(day: DayReport, handed_over: Any) -> None:
    events: list[Event] = handed_over.site.events
    lines: list[Any] = [*day.conditions, *day.notes, *day.refused, *day.photos, *day.addenda]
    for area in day.areas:
        # A band tells when its section was opened; the one before what is continued bears the number of what follows.
        lines += [x for x in area.sequence if x.kind != "round"]
        lines += [*area.withdrawn, *area.changes, *area.photos]
        lines += [x for f in area.failures for x in (f, *f.steps, *f.checks)]
    for addendum in day.addenda:
        lines += [*addendum.corrections, *addendum.added]
    assert len(lines) > 150
    for line in lines:
        event = events[line.seq - 1]
        assert event.seq == line.seq
        assert line.time == event.at.wall[11:19], line
        assert line.who == (event.by.title() or "–"), line
    for area in day.areas:
        for caution in area.cautions:
            for time, who, seq in caution.acknowledged:
                assert isinstance(events[seq - 1].body, ev.CautionAcknowledged)
                assert (time, who.split(",")[0]) == (events[seq - 1].at.wall[11:19], events[seq - 1].by.title())
        for hold in area.holds:
            body = events[hold.seq - 1].body
            assert isinstance(body, ev.HoldReleased)
            assert (hold.time, hold.name) == (events[hold.seq - 1].at.wall[11:19], body.name.title())
        for failure in area.failures:
            assert failure.cured == (failure.closed_seq > 0)
            if failure.cured:
                assert isinstance(events[failure.closed_seq - 1].body, ev.FailureClosed)


def test_the_time_of_a_lift_is_when_the_tile_was_lifted_not_when_its_last_reading_was_kept(
    day: DayReport, handed_over: Any
) -> None:
    events: list[Event] = handed_over.site.events
    lifts = [lift for area in day.areas for lift in area.lifts]
    assert len(lifts) == 7
    for lift in lifts:
        judged = events[lift.seq - 1].body
        assert isinstance(judged, ev.LiftJudged)
        lifted = [
            e
            for e in events[: lift.seq]
            if isinstance(e.body, ev.TileLifted) and (e.body.area, e.body.round) == (judged.area, judged.round)
        ]
        assert lift.time == lifted[-1].at.wall[11:19]
        assert lift.time < events[lift.seq - 1].at.wall[11:19]


def test_every_limit_that_was_judged_names_its_basis(day: DayReport) -> None:
    for area in day.areas:
        for line in area.sequence:
            if line.criterion:
                assert line.ref is not None, line
                assert day.references[line.ref - 1]
