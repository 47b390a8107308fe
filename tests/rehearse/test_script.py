"""Scripts: what a line may be, what a wrong one is told, and that no file harms the reader."""

from __future__ import annotations

import contextlib
from datetime import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.checklist.loader import WrongFile, load_plan
from fieldassist.day.speaking import Counts
from fieldassist.rehearsal.expect import AtOnce, NotExpected, WantedCount, WantedFact, read_expectation
from fieldassist.rehearsal.script import ExpectLine, SaidLine, Script, Whenever, read_script
from fieldassist.trade.message import message
from tests.rehearse import PLAN

AREAS = ["hall", "hall floor"]
THE_PLAN = load_plan(PLAN)


def script(folder: Path, text: str | bytes) -> Script:
    path = folder / "script.txt"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_script(path, THE_PLAN)


def wrong(folder: Path, text: str | bytes) -> list[tuple[int, str]]:
    with pytest.raises(WrongFile) as caught:
        script(folder, text)
    return [(problem.line, problem.code) for problem in caught.value.problems]


def test_a_line_is_a_time_a_name_and_what_is_said(tmp_path: Path) -> None:
    read = script(
        tmp_path, "# remark\n\n7:05 rosa:  slid 1/2 in !  # a remark\r\n07:05:30 Edwin: base released by pin\n"
    )
    assert read.lines == (
        SaidLine(3, time(7, 5), "rosa", "slid 1/2 in", agreed=True),
        SaidLine(4, time(7, 5, 30), "edwin", "base released by pin"),
    )
    assert read.begins == time(7, 5)


def test_what_is_said_whenever_a_lift_is_due_is_a_list_of_phrases(tmp_path: Path) -> None:
    text = "whenever a lift is due, rosa: tile lifted; coverage 97 % !\n07:00 rosa: next tile\n"
    read = script(tmp_path, text + "whenever a lift is due, nothing\n")
    assert read.lines[0] == Whenever(1, "rosa", (("tile lifted", False), ("coverage 97 %", True)))
    assert read.lines[2] == Whenever(3, "", ())


def test_an_expectation_may_carry_a_time(tmp_path: Path) -> None:
    read = script(tmp_path, "07:00 rosa: next tile\nexpect taken\n07:10 expect niche wall started\nexpect signed\n")
    expected = [line for line in read.lines if isinstance(line, ExpectLine)]
    assert [(line.at, line.at_end) for line in expected] == [(None, False), (time(7, 10), False), (None, True)]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("rosa: next tile", "rehearse-no-time"),
        ("25:00 rosa: next tile", "rehearse-no-such-time"),
        ("06:59:59 rosa: next tile", "rehearse-backwards"),
        ("07:01 next tile", "rehearse-nobody-says"),
        ("07:01 robert: next tile", "rehearse-nobody-called"),
        ("07:01 rosa:", "rehearse-no-words"),
        ("07:01 rosa: !", "rehearse-no-words"),
        ("07:01 rosa: " + "a" * 600, "rehearse-long-line"),
        ("whenever a lift is due, tile lifted", "rehearse-whenever"),
        ("whenever a lift is due, rosa: tile lifted;; corners full", "rehearse-whenever"),
        ("whenever a lift is due, robert: tile lifted", "rehearse-nobody-called"),
        ("expect niche well finished", "rehearse-no-such-area"),
        ("expect rain", "rehearse-expects-nothing"),
        ("expect", "rehearse-expects-nothing"),
        ("07:01 expect taken", "rehearse-no-line-before"),
    ],
)
def test_a_wrong_line_is_told_with_its_number(line: str, code: str, tmp_path: Path) -> None:
    assert wrong(tmp_path, f"07:00 rosa: weather sunny\n{line}\n") == [(2, code)]


def test_all_wrong_lines_are_told_at_once_and_no_more_than_twenty(tmp_path: Path) -> None:
    assert wrong(tmp_path, "a\n07:00 rosa: next tile\nb\n") == [(1, "rehearse-no-time"), (3, "rehearse-no-time")]
    assert len(wrong(tmp_path, "a\n" * 1000)) == 20


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "rehearse-nothing-said"),
        (b"# only a remark\n", "rehearse-nothing-said"),
        (b"07:00 rosa: \xff\n", "not-utf8"),
        (b"#" * 2_000_000, "too-large"),
        (b"expect taken\n07:00 rosa: next tile\n", "rehearse-no-line-before"),
    ],
)
def test_a_file_that_is_no_script_is_refused(content: bytes, code: str, tmp_path: Path) -> None:
    assert [found for _, found in wrong(tmp_path, content)] == [code]


def test_a_folder_and_a_missing_file_are_refused(tmp_path: Path) -> None:
    for path, code in ((tmp_path, "not-regular"), (tmp_path / "none.txt", "missing")):
        with pytest.raises(WrongFile) as caught:
            read_script(path, THE_PLAN)
        assert [problem.code for problem in caught.value.problems] == [code]


@given(st.text(max_size=200))
def test_whatever_a_line_holds_it_is_read_or_refused(line: str) -> None:
    with contextlib.suppress(NotExpected):
        assert isinstance(read_expectation(line, AREAS), AtOnce | WantedCount | WantedFact)


# --- what may be expected

HALL = {
    "name": "hall",
    "phase": "working",
    "set_m2": 2.16,
    "tiles": [
        {"number": 1, "name": None, "state": "covered", "cleared_by": []},
        {"number": 2, "name": "b seven", "state": "suspect", "cleared_by": [3]},
    ],
    "lifts": [{"number": 1, "verdict": "passed"}, {"number": 2, "verdict": "not complete"}],
    "why": {"code": "facts-why"},
}
FACTS = {
    "areas": [HALL, {"name": "hall floor", "phase": "not started", "tiles": [], "lifts": [], "set_m2": 0.0}],
    "open_points": [
        {"code": "open-surface-set", "area": "hall", "answered": False},
        {"code": "open-reading", "area": "hall", "answered": True},
    ],
    "open_count": 1,
    "signed": True,
    "sealed": False,
}


@pytest.mark.parametrize(
    ("words", "holds"),
    [
        ("hall started", True),
        ("hall floor started", False),
        ("not started hall floor", True),
        ("hall floor is not finished", True),
        ("finished hall", False),
        ("tile 2 of hall suspect", True),
        ("tile 2 of hall not suspect", False),
        ("tile b seven of hall is suspect", True),
        ("tile 1 of hall covered", True),
        ("tile 9 of hall not set", True),
        ("tile 9 of hall covered", False),
        ("tile 9 of hall not covered", True),
        ("lift 1 of hall passed", True),
        ("lift 2 of hall not complete", True),
        ("lift 2 of hall not passed", True),
        ("lift 3 of hall not passed", False),
        ("2 lifts of hall", True),
        ("no tiles of hall floor", True),
        ("1 tile of hall", False),
        ("open surface-set", True),
        ("open surface", True),
        ("open face", False),
        ("open surface-set of hall", True),
        ("open surface-set of hall floor", False),
        ("no open reading", True),
        ("no open surface-set", False),
        ("no open points", False),
        ("1 open point", True),
        ("signed", True),
        ("not sealed", True),
        ("sealed", False),
        ("areas[hall].set_m2 at least 2.16", True),
        ("areas[hall].set_m2 at most 2.15", False),
        ("areas[hall].tiles counts 2", True),
        ("areas[hall].tiles[first].state is covered", True),
        ("areas[hall].tiles[last].cleared_by has 3", True),
        ("areas[hall].tiles[last].cleared_by has no 3", False),
        ("areas[hall].tiles[2].name is b seven", True),
        ("areas[hall].tiles[1].name is none", True),
        ("areas[hall].why is why", True),
        ("areas[hall].phase is not finished", True),
        ("areas[hell].phase is not finished", False),
        ("areas[hall].phrase is not finished", False),
        ("areas[hall].phase at least 3", False),
        ("signed is true", True),
    ],
)
def test_an_expectation_holds_or_says_how_it_came(words: str, holds: bool) -> None:
    expected = read_expectation(words, AREAS)
    assert isinstance(expected, WantedFact)
    differs = expected.differs(FACTS)
    assert (differs is None) is holds, (expected, differs)


@pytest.mark.parametrize(
    ("words", "holds"),
    [
        ("refused", True),
        ("taken", False),
        ("refused because open-points", True),
        ("refused because open-areas", False),
        ("answered engine-failed", True),
        ("answered engine", True),
        ("answered fail", False),
    ],
)
def test_what_came_of_a_phrase_is_known_by_its_codes(words: str, holds: bool) -> None:
    expected = read_expectation(words, AREAS)
    assert isinstance(expected, AtOnce)
    said = message("engine-open-points", points=message("engine-failed"))
    assert (expected.differs("refused", said) is None) is holds


def test_what_was_said_is_expected_in_all_or_in_an_area() -> None:
    counts = {"": Counts(1, 3, 2), "hall": Counts(100, 300, 1000), "hall floor": Counts(10, 30, 200)}
    held = [
        "at most 111 utterances",
        "at most 100 utterances in hall",
        "at most 1202 words",
        "at most 200 words of hall floor",
    ]
    missed = [
        "at most 110 utterances",
        "at most 99 utterances in hall",
        "at most 1201 words",
        "at most 199 words in hall floor",
    ]
    for words in (*held, *missed):
        wanted = read_expectation(words, AREAS)
        assert isinstance(wanted, WantedCount)
        assert (wanted.differs(counts) is None) is (words in held), words
