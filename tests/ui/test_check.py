"""A record is checked on the tablet: which file, the check as it runs, and what it came to."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from fieldassist.proof.verdict import DAMAGED, UNREADABLE, UNSEALED, WHOLE, Finding, Judgment
from fieldassist.trade.message import message
from fieldassist.ui.content import check as content
from fieldassist.ui.content.export import ExportPlace
from fieldassist.ui.content.found_files import RECORDS, files_in, found_files
from fieldassist.ui.screens import check as screen
from tests.ui.conftest import Hands
from tests.ui.test_glove_and_eye import check

HEAD = "0123456789abcdef" * 4
SEAL = {"good": True, "name": "edwin", "key_matches": None}
FACTS = {"kind": "log", "site": "Quay Baths", "date": "2026-03-17", "day": "work", "good_events": 5, "head": HEAD}


def judged(exit_code: int, *found: Finding, **facts: Any) -> Judgment:
    return Judgment(found, message("proof-whole"), exit_code, {**FACTS, "seals": [SEAL], **facts})


CHAIN = Finding(message("proof-chain", events=5, head=HEAD))
NO_KEY = Finding(message("proof-key-made-none", key="ab"), UNSEALED)
BAD = Finding(message("proof-attachment-changed"), DAMAGED)


@pytest.mark.parametrize(
    ("exit_code", "state"), [(WHOLE, "holds"), (UNSEALED, "open"), (DAMAGED, "bad"), (UNREADABLE, "unread")]
)
def test_each_answer_of_the_check_is_a_state_of_its_own(exit_code: int, state: str) -> None:
    assert content.shown(judged(exit_code, CHAIN)).state == state


def test_a_day_of_practice_never_looks_like_proof() -> None:
    assert content.shown(judged(WHOLE, CHAIN, day="practice")).state == "no-work"


def test_what_was_found_stands_by_what_it_is_about_with_the_gravest_first() -> None:
    states = {one.subject: one.state for one in content.shown(judged(DAMAGED, CHAIN, NO_KEY, BAD)).subjects}
    assert tuple(states) == content.SUBJECTS
    assert (states["record"], states["seals"], states["files"]) == ("holds", "missing", "fails")
    assert states["pages"] == "absent"


def test_the_head_stands_in_fours() -> None:
    head = content.shown(judged(WHOLE, CHAIN)).head
    assert "".join(head) == HEAD
    assert {len(four) for four in head} == {4}


def test_what_no_check_proves_is_told_and_whose_key_it_is_only_where_none_was_known() -> None:
    unknown = [told.code for told in content.shown(judged(WHOLE, CHAIN)).unproven]
    known = [told.code for told in content.shown(judged(WHOLE, CHAIN, seals=[{**SEAL, "key_matches": True}])).unproven]
    assert "check-unproven-whose" in unknown
    assert "check-unproven-whose" not in known
    assert "check-unproven-true" in unknown
    assert [told.code for told in content.shown(judged(UNREADABLE)).unproven] == ["check-unproven-all"]


def test_several_files_are_told_one_by_one_and_then_what_their_days_say_of_each_other() -> None:
    gap = Finding(message("proof-set-gap-unknown", number="2", tablet="a1"), UNSEALED)
    of_all = Judgment((gap,), message("proof-set-open"), UNSEALED, {"tablets": {"a1": {"days": [1, 3]}}})
    files, judged_ = (Path("first.pdf"), Path("third.pdf")), (judged(WHOLE, CHAIN), judged(WHOLE, CHAIN))
    shown = content.shown(content.together(files, judged_, of_all))
    states = {one.subject: one.state for one in shown.subjects}
    assert (shown.state, states["record"], states["time"]) == ("open", "holds", "missing")
    [record] = [one for one in shown.subjects if one.subject == "record"]
    assert [finding.told.figures["file"] for finding in record.found] == ["first.pdf", "third.pdf"]


def test_a_name_made_to_do_harm_is_made_printable() -> None:
    shown = content.shown(judged(WHOLE, CHAIN, site="Quay\u202e\x1b[2J" + "x" * 500))
    assert shown.day is not None
    site = str(shown.day.figures["site"])
    assert site.isprintable()
    assert len(site) < 80


def test_only_records_are_offered_the_newest_first_and_each_once(tmp_path: Path) -> None:
    for at, name in enumerate(("old.pdf", "new.bundle", "DAY.DB", ".hidden.pdf", "notes.txt")):
        (tmp_path / name).touch()
        os.utime(tmp_path / name, (1_800_000_000 + at, 1_800_000_000 + at))
    (tmp_path / "folder.pdf").mkdir()
    assert [path.name for path in files_in(tmp_path, RECORDS)] == ["DAY.DB", "new.bundle", "old.pdf"]
    both = found_files((ExportPlace("stick", tmp_path), ExportPlace("own", tmp_path)), RECORDS)
    assert [(found.path.name, found.place.kind) for found in both] == [
        (name, "stick") for name in ("DAY.DB", "new.bundle", "old.pdf")
    ]
    assert both[0].changed == datetime.fromtimestamp(1_800_000_002).astimezone()
    assert files_in(tmp_path / "gone", RECORDS) == ()


# --- on the screen ------------------------------------------------------------------------------------------------


@pytest.fixture
def lying(hands: Hands, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Hands:
    """A stick with two files on it."""
    stick = tmp_path / "stick"
    stick.mkdir()
    (stick / "pages.pdf").write_bytes(b"%PDF-1.7 and nothing else")
    (stick / "broken.bundle").write_bytes(b"PK\3\4 and nothing else")
    monkeypatch.setattr(screen, "places", lambda *_args, **_rest: (ExportPlace("stick", stick),))
    hands.go("check")
    hands.wait(lambda: "pages.pdf" in hands.seen(), "the files")
    return hands


def test_a_file_on_a_stick_is_checked_in_a_process_of_its_own_and_told_large(lying: Hands) -> None:
    hands = lying
    hands.press("broken.bundle")
    memory = hands.tablet.memory.of(screen.CheckMemory)
    hands.wait(lambda: memory.judgment is not None, "the check")
    assert memory.judgment is not None
    assert memory.judgment.exit_code == DAMAGED
    check(hands, "not good")
    assert hands.key("Record").caption.words  # type: ignore[union-attr]
    hands.press("What is not proven")
    check(hands, "what is not proven")
    hands.press("Close")
    hands.press("Check another")
    hands.wait(lambda: "pages.pdf" in hands.seen(), "the files again")


def test_a_check_goes_on_while_its_page_is_left_and_can_be_stopped(
    lying: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands, may = lying, threading.Event()

    def waits(_path: Path, *, known: object, watch: Callable[[Finding | None], None]) -> Judgment:  # noqa: ARG001
        watch(CHAIN)
        while not may.wait(0.02):
            watch(None)
        return judged(UNSEALED, CHAIN, NO_KEY)

    monkeypatch.setattr(screen, "verify", waits)
    hands.press("pages.pdf")
    hands.wait(lambda: HEAD in hands.seen(), "the first finding")
    check(hands, "while it runs")
    hands.press("Stop")
    hands.wait(lambda: hands.tablet.memory.of(screen.CheckMemory).told is not None, "the end")
    assert hands.tablet.memory.of(screen.CheckMemory).judgment is None
    hands.wait(lambda: "pages.pdf" in hands.seen(), "the files again")
    hands.press("pages.pdf")
    hands.go("day")
    may.set()
    hands.wait(lambda: not hands.tablet.memory.of(screen.CheckMemory).running, "the check")
    hands.go("check")
    check(hands, "not all is vouched for")
    assert hands.key("Seals").state == "normal"
    hands.press("Seals")
    assert "made none of its good seals" in hands.seen()


def test_a_day_that_went_on_since_it_was_checked_is_checked_again_and_says_when(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    view, asked = hands.tablet.view, []
    assert view is not None

    def counts(path: Path, **_rest: object) -> Judgment:
        asked.append(path)
        return judged(UNSEALED, CHAIN)

    monkeypatch.setattr(screen, "verify", counts)
    for times in (1, 2):
        hands.go("check", path=view.path)
        memory = hands.tablet.memory.of(screen.CheckMemory)
        hands.wait(lambda: not memory.running, "the check")  # noqa: B023
        hands.tablet.choose(theme="dark")  # drawn anew, it is the same check
        hands.frames(4)
        assert len(asked) == times
        assert f"checked {view.at.wall[11:16]}" in hands.seen()
        hands.go("day")
