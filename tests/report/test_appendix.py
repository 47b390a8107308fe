"""The appendix: what stands out is there, what is alike is counted, limits have a source, and the table can be read by
programs and does nothing in a spreadsheet."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from functools import cache

import pytest
from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.facts.build import day_facts
from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.appendix_model import AppendixBlock, AppendixRow
from fieldassist.report.appendix_page import appendix_pages
from fieldassist.report.build.appendix import appendix
from fieldassist.report.build.area import area_pages
from fieldassist.report.build.exceptions import ExceptionsTeller
from fieldassist.report.build.figures import told_again, void
from fieldassist.report.build.front import front
from fieldassist.report.build.wall import wall
from fieldassist.report.sequence import COLUMNS, sequence_csv, sequence_json
from fieldassist.report.sheet import Sheet
from fieldassist.trade.basis import BASES, Basis, cited
from fieldassist.trade.coverage import TWO_SQUARE_INCHES_MM2
from fieldassist.trade.message import message, term
from tests.report import days
from tests.report.conftest import Site, eventful_day, handed_over_day

METRIC = Words("en", "metric")


def facts_of(site: Site, words: Words = METRIC) -> DayFacts:
    record = site.record()
    return day_facts(record.events, record.hashes, words)


@cache
def eventful() -> DayFacts:
    return facts_of(eventful_day())


@cache
def handed_over() -> DayFacts:
    return facts_of(handed_over_day())


def table(facts: DayFacts) -> list[list[str]]:
    """The table as a spreadsheet reads it: RFC 4180, with a byte order mark before its UTF-8."""
    data = sequence_csv(facts)
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.endswith(b"\r\n")
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def block(facts: DayFacts, code: str) -> AppendixBlock:
    return next(one for one in appendix(facts, METRIC).blocks if one.title == METRIC(message(code)))


def texts(of: AppendixBlock) -> str:
    return "\n".join(f"{row.lead} {row.text} {row.mark}" for row in of.rows)


# --- the whole sequence -------------------------------------------------------------------------------------------


def test_the_table_has_a_line_an_event_and_says_what_the_facts_say() -> None:
    facts = handed_over()
    heads, *lines = table(facts)
    assert heads == [*COLUMNS, "told"]
    assert [int(line[0]) for line in lines] == list(range(1, facts.events + 1))
    assert json.loads(sequence_json(facts)) == [entry.model_dump(mode="json") for entry in facts.sequence]
    for line, entry in zip(lines, facts.sequence, strict=True):
        row = dict(zip(heads, line, strict=True))
        assert (row["kind"], row["by"], row["no_longer"]) == (entry.kind, entry.by, str(entry.no_longer or ""))
        assert row["told"].removeprefix("'") == entry.told.text


def with_said(facts: DayFacts, said: str) -> DayFacts:
    """The last entry alone, with this as its value and in what is told of it."""
    entry = facts.sequence[-1]
    told = entry.told.model_copy(update={"text": said})
    return facts.model_copy(update={"sequence": [entry.model_copy(update={"told": told, "value": said})]})


# OWASP, CSV injection: a cell that begins with one of = + - @, a tab or a return is taken for a formula.
@pytest.mark.parametrize("began", ["=1+1", "+1+1", "-1+1", "@SUM(A1)", " =1", '=HYPERLINK("x")', "＝1", '"=1+1"'])
def test_what_somebody_says_does_not_run_in_a_spreadsheet(began: str, site: Site) -> None:
    [_, line] = table(with_said(facts_of(site.speak("ana")), began))
    assert (line[-1], line[COLUMNS.index("value")]) == (f"'{began}", f"'{began}")


@pytest.mark.parametrize("parted", [",", ";", "\t", "|"])
def test_what_somebody_says_does_not_run_where_cells_are_parted_by_another_sign(parted: str, site: Site) -> None:
    said = 'x;=1+1;y\t=1\n=1|@A1;"=1+1";\u00a0=1;\ufeff=1;＝1; -1+1;\u202e=1\r+1\u2028x'
    data = sequence_csv(with_said(facts_of(site.speak("ana")), said)).decode("utf-8-sig")
    cells = [cell for row in csv.reader(io.StringIO(data, newline=""), delimiter=parted) for cell in row]
    assert not [cell for cell in cells if re.match(r'[\s"\ufeff\u202e]*[=+\-@＝]', cell)]
    # A number below zero stays one.
    assert "so; -3;" in sequence_csv(with_said(facts_of(site.speak("ana")), "so; -3; -3.5")).decode("utf-8")


def test_a_reading_below_zero_stays_a_number(site: Site) -> None:
    facts = facts_of(site.start("shower wall", temperature="-3"))
    values = {line[COLUMNS.index("value")] for line in table(facts)}
    assert "-3" in values


def test_a_remark_with_quotes_and_commas_is_one_cell(site: Site) -> None:
    said = 'first "so", then, so; and "no"'
    facts = facts_of(site.speak("ana").do(cmd.MakeNote(text=said)))
    assert said in table(facts)[-1][-1]


# --- what stands out ----------------------------------------------------------------------------------------------


def test_whatever_went_wrong_stands_out() -> None:
    facts = handed_over()
    kinds = {entry.kind for entry in facts.sequence if entry.stands_out}
    assert kinds >= {
        "failure opened",
        "failure closed",
        "withdrawn",
        "hold released",
        "method changed",
        "pin refused",
        "clock jumped",
        "day signed",
        "day sealed",
        "addendum opened",
        "correction made",
    }
    assert not kinds & {"step confirmed", "reading called", "reading kept", "section opened", "clock started"}


def test_a_clock_that_ran_out_is_told_once_by_its_failure() -> None:
    facts = eventful()
    ran_out = [entry for entry in facts.sequence if entry.kind == "clock ran out"]
    failed = [failure for area in facts.areas for failure in area.failures if failure.clock is not None]
    assert ran_out
    assert len(ran_out) == len(failed)
    assert not any(entry.stands_out for entry in ran_out)


def _entries(facts: DayFacts, kind: str, count: int) -> DayFacts:
    """The facts with one kind of entry so many times, behind the others."""
    one = next(entry for entry in facts.sequence if entry.kind == kind)
    more = [one.model_copy(update={"event": facts.events + at}) for at in range(1, count + 1)]
    return facts.model_copy(update={"sequence": [*facts.sequence, *more]})


def test_on_a_long_day_what_is_alike_is_counted_and_nothing_is_left_out() -> None:
    facts = _entries(eventful(), "hold released", 3_000)
    rows = ExceptionsTeller(facts, METRIC).rows()
    assert len(rows) < 100
    of_a_kind = Counter(entry.area for entry in facts.sequence if entry.kind == "hold released")
    [(area, count)] = of_a_kind.most_common(1)
    letter = ExceptionsTeller(facts, METRIC).letters[area]
    assert any(str(count - 5) in row.text and row.text.startswith(letter) for row in rows)


def test_a_wrong_pin_and_a_failure_that_is_open_are_each_told_however_many_there_are() -> None:
    facts = _entries(handed_over(), "pin refused", 40)
    lead = METRIC(term("appendix-lead", "pin refused"))
    assert sum(row.lead == lead for row in ExceptionsTeller(facts, METRIC).rows()) == 41
    still = facts_of(days.failed())
    [failure] = [one for area in still.areas for one in area.failures if one.open]
    cured = [entry for entry in eventful().sequence if entry.kind == "failure opened"]
    others = [cured[0].model_copy(update={"event": still.events + at, "area": failure_area(still)}) for at in range(40)]
    many = still.model_copy(update={"sequence": [*others, *still.sequence]})
    told = [row.text for row in ExceptionsTeller(many, METRIC).rows() if row.lead]
    assert len(told) == 5 + 1
    assert told_again(failure.code, failure.figures, failure.text, METRIC) in told[0]


def failure_area(facts: DayFacts) -> str:
    return next(area.name for area in facts.areas if any(one.open for one in area.failures))


def test_a_restart_and_a_clock_that_moved_unsaid_are_told_and_a_jump_that_was_noted_only_once(site: Site) -> None:
    site.speak("ana").do(cmd.MakeNote(text="before"))
    site.boot, site.mono = "b", 5.0
    site.do(cmd.MakeNote(text="after"))
    site.wall += timedelta(minutes=7)
    site.do(cmd.MakeNote(text="later"))
    site.wall += timedelta(minutes=60)
    site.add(ev.ClockJumped(seconds=3600), by="clock")
    facts = facts_of(site)
    assert [(one.kind, one.after - one.before) for one in facts.time_breaks] == [("restarted", 1), ("clock set", 1)]
    assert facts.time_breaks[1].seconds == pytest.approx(7 * 60, abs=1)
    assert [entry.kind for entry in facts.sequence if entry.stands_out] == ["clock jumped"]
    assert len(ExceptionsTeller(facts, METRIC).rows()) == 3


def test_what_was_taken_back_names_what_it_was_and_what_fell_with_it(site: Site) -> None:
    site.start("shower wall").release().batch().tile().lift("61", corners="not-full").do(cmd.Withdraw())
    facts = facts_of(site)
    [one] = facts.withdrawn
    assert (one.kind, one.reason) == ("choice made", "scratched")
    assert {told.code for told in one.fell} == {"events-lift-judged", "events-failure-opened"}
    row = ExceptionsTeller(facts, METRIC).rows()[-1]
    assert all(told.text.removeprefix("shower wall")[:20] in row.text for told in one.fell)


# --- where figures come from --------------------------------------------------------------------------------------


@pytest.mark.parametrize("basis", BASES.values(), ids=lambda basis: basis.id)
def test_a_told_basis_says_again_how_it_is_known(basis: Basis) -> None:
    found = cited(basis.told)
    assert found.standing is basis.standing
    assert (found.source is not None) == bool(basis.document or basis.named)
    assert (found.note is not None) == basis.noted


def test_each_limit_has_its_source_and_how_well_that_is_known() -> None:
    facts = eventful()
    limits = {limit.id: limit for limit in facts.limits}
    assert len(limits) == len(facts.limits)
    by_name = {limit.id.split(",")[0]: limit for limit in facts.limits}
    # ANSI A108.5 §3.3.2: 95 percent in wet areas, as reported in trade literature.
    assert by_name["required coverage at least 95 percent"].standing == "second-hand"
    assert "A108.5" in by_name["required coverage at least 95 percent"].source
    assert by_name["pot-life 60 min"].standing == "data sheet"
    # A number that stands in the checklist alone.
    assert by_name["air-temperature at least 10 degC"].standing == "own rule"
    assert by_name["computed proof"].standing == "computed"
    for area in facts.areas:
        if area.required is not None:
            assert set(area.required.limits) <= limits.keys()
            assert all(area.name in limits[id_].areas for id_ in area.required.limits)
    assert sum(row.mark.startswith("†") for row in block(facts, "appendix-limits").rows) >= 1


def test_ids_of_limits_are_the_same_in_every_language_and_system_of_units() -> None:
    told = facts_of(eventful_day(), Words("pseudo", "us"))
    assert [limit.id for limit in told.limits] == [limit.id for limit in eventful().limits]


# --- besides the areas --------------------------------------------------------------------------------------------


def test_minutes_that_were_replaced_are_told_and_not_summed(site: Site) -> None:
    def minutes(of: int, replaces: int | None = None) -> cmd.NoteDust:
        return cmd.NoteDust(task="handheld power saw", place="outdoors", minutes=Fraction(of), replaces=replaces)

    site.speak("ana").do(minutes(300))
    wrong = site.events[-1].seq
    facts = facts_of(site.do(minutes(30, wrong)))
    right = site.events[-1].seq
    assert [(one.event, one.minutes, one.no_longer, one.replaces) for one in facts.dust] == [
        (wrong, 300.0, right, None),
        (right, 30.0, None, wrong),
    ]
    # 300 min would be more than the four hours of 29 CFR 1926.1153 Table 1.
    assert [(one.by, one.listed_min, one.over) for one in facts.dust_sums] == [("ana", 30.0, False)]
    assert len(block(facts, "appendix-dust").rows) == 2


def test_readings_and_remarks_stand_with_the_area_at_which_they_came(site: Site) -> None:
    site.start("shower wall").do(cmd.NoteWeather(text="rain"), cmd.MakeNote(text="first"))
    site.start("plunge pool", temperature="22").do(cmd.MakeNote(text="second"))
    site.read("conditions", "humidity", "50", "percent")
    facts = facts_of(site.do(cmd.StartArea(area="shower wall")).do(cmd.MakeNote(text="third")))
    assert [(one.text, one.area) for one in facts.notes] == [
        ("first", "shower wall"),
        ("second", "plunge pool"),
        ("third", "shower wall"),
    ]
    assert [(one.what, one.area) for one in facts.conditions] == [
        ("weather", ""),
        ("air-temperature", "shower wall"),
        ("humidity", "shower wall"),
        ("air-temperature", "plunge pool"),
        ("humidity", "plunge pool"),
    ]
    # The limit of the checklist, common practice, no published source.
    assert {one.passed for one in facts.conditions if one.what == "air-temperature"} == {True}
    assert [row.lead for row in block(facts, "appendix-conditions").rows][1:] == ["plunge pool", "shower wall"]


def test_a_caution_is_told_once_with_everybody_who_heard_it() -> None:
    facts = eventful()
    heard = [event for event in facts.sequence if event.kind == "caution acknowledged" and event.no_longer is None]
    assert sum(len(caution.heard) for caution in facts.cautions) == len(heard)
    told = block(facts, "appendix-cautions").rows
    assert len(told) == len(facts.cautions) == len({c.id for c in facts.cautions})
    # Each with its own time, whether it was answered or gone on from.
    for caution, row in zip(facts.cautions, told, strict=True):
        assert all(one.at[11:16] in row.text for one in caution.heard)


@pytest.mark.parametrize("words", [METRIC, Words("en", "us")], ids=lambda one: one.units)
def test_a_void_is_one_figure_on_every_page_whatever_unit_it_was_read_in(words: Words) -> None:
    facts = facts_of(days.failed(), words)
    (lift,) = (one for one in facts.areas[0].lifts if one.void_mm2)
    told = words(void(lift.void_mm2 or 0.0, TWO_SQUARE_INCHES_MM2, words))
    lead = words(term("appendix-lead", "failure opened"))
    (row,) = (row for block in appendix(facts, words).blocks for row in block.rows if row.lead == lead)
    (point,) = (one for one in front(facts, words).points if one.kind == "failure")
    for text in (row.text, point.text, area_pages(facts, 0, words).verdict[0][0]):
        assert told in text
        assert "mm²" not in text


def test_a_question_stands_once_with_how_often_it_was_answered() -> None:
    facts = eventful()
    asked = {(one.section, one.step): one.answered for one in facts.questions}
    assert len(asked) == len(facts.questions)
    tiles = sum(e.kind == "step confirmed" and e.step == "set" and e.no_longer is None for e in facts.sequence)
    assert asked["Tile", "set"] == tiles > 3
    told = texts(block(facts, "appendix-questions"))
    assert all(told.count(one.asked) == 1 for one in facts.questions)


def test_a_refusal_says_what_was_tried_and_why_not() -> None:
    facts = eventful()
    told = texts(block(facts, "appendix-refused"))
    assert facts.refused
    assert all(one.reason.text in told for one in facts.refused)


def test_each_photo_stands_with_the_first_digits_of_its_hash() -> None:
    facts = handed_over()
    files = appendix(facts, METRIC).files
    digits = ["".join(one.digits.split()) for one in files]
    assert digits == [*(one.sha256[:12] for one in facts.photos), *(one.sha256[:12] for one in facts.sounds)]
    assert len(digits) > 5


# --- on paper -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [A4, LETTER])
def test_a_heading_keeps_rows_and_what_is_too_long_goes_on_in_the_next_column(size: tuple[float, float]) -> None:
    made = appendix(eventful(), METRIC)
    long = AppendixRow("07:00", "word " * 3_000, lead="Failed.")
    rows = [AppendixRow(f"{at:02}:00", "so " * (at * 7 % 90)) for at in range(24)]
    blocks = tuple(AppendixBlock(f"Block {at}", (*rows[at:], long), label_mm=11.5) for at in range(0, 24, 3))
    sheet = Sheet(size, METRIC)
    appendix_pages(sheet, replace(made, blocks=blocks), ["one file"] * 400)
    bottom = size[1] - 13 / 25.4 * 72
    for page in sheet.pages:
        drawn = [step for _, step in page.steps if step[0] == "text"]
        assert max(step[2] for step in drawn) <= bottom
        heads = [step[2] for step in drawn if str(step[6]).startswith("Block ")]
        for head in heads:
            assert sum(head < step[2] < head + 60 and ":" in str(step[6]) for step in drawn) >= 1
    words = " ".join(str(step[6]) for page in sheet.pages for _, step in page.steps if step[0] == "text")
    assert words.count("word") == len(blocks) * 3_000


def test_a_day_with_nothing_has_an_appendix_without_empty_blocks() -> None:
    made = appendix(facts_of(days.nothing()), METRIC)
    assert METRIC(message("appendix-questions")) not in {block.title for block in made.blocks}
    assert all(one.rows or one.lead for one in made.blocks)
    assert not made.pieces
    assert not made.files
    assert METRIC(message("appendix-not-started")) in {one.title for one in made.blocks}


def test_the_pieces_of_an_area_are_all_in_its_table_alone_or_by_state() -> None:
    facts = facts_of(days.failed())
    [area] = [one for one in facts.areas if one.tiles]
    piece = area.tiles[0]
    tiles = [
        piece.model_copy(update={"number": at, "state": "covered" if at % 2 else "suspect"}) for at in range(1, 301)
    ]
    for shown in (tiles[:20], tiles):
        there = facts.model_copy(update={"areas": [area.model_copy(update={"tiles": shown})]})
        [pages_of] = appendix(there, METRIC, {area.name: wall(there.areas[0], METRIC)}).pieces
        told = " ".join([*(row.numbers for row in pages_of.pieces), *(" ".join(row) for row in pages_of.by_state)])
        assert all(f"{tile.number}" in told.replace(",", " ").split() for tile in shown)
        assert (len(pages_of.pieces), len(pages_of.by_state)) == ((20, 0) if len(shown) == 20 else (0, 2))


def test_what_a_machine_wrote_stands_behind_the_words_that_were_heard_and_says_so(site: Site) -> None:
    sound = site.keep(b"fLaC, as far as this day is concerned", ".flac")
    for text, likelihood in (("The corner is damp.", -0.3), ("The corner.", -0.6), ("", -0.9)):
        site.do(cmd.MakeNote(text="the corner is lamp", audio=sound["file"], sha256=sound["sha256"]))
        written = {"text": text, "likelihood": likelihood, "model": "a model", "weights": "7b" * 32}
        site.do(cmd.AddTranscript(target=len(site.events), **written))
    facts = facts_of(site)
    texts = (("yes", "The corner is damp."), ("no", "The corner."), ("none", ""))
    for row, (sure, text) in zip(block(facts, "appendix-remarks").rows, texts, strict=True):
        said = METRIC(message("appendix-transcript", model="a model", sure=sure, text=text))
        assert row.text.index("the corner is lamp") < row.text.index(said)
    assert [one.transcript.unsure for one in facts.sounds if one.transcript] == [False, True, True]
