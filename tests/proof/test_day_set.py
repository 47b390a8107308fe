"""Days of one tablet that are handed over together: what is missing, older, or there twice, is named."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.tablet_chain import DayHead, TabletChain
from fieldassist.cli import main
from fieldassist.facts import facts_of
from fieldassist.language import Words
from fieldassist.proof.day_set import check_tablet, judge_set
from fieldassist.proof.examine import examine
from fieldassist.proof.known import NOTHING_KNOWN
from fieldassist.proof.verdict import DAMAGED, UNREADABLE, UNSEALED, WHOLE, Findings, Judgment
from fieldassist.record.chain import canonical_text, chain_hash
from fieldassist.record.log import DayLog
from fieldassist.trade.message import Message
from tests.tablets import Tablet, signed


class Handed:
    """Five days of a tablet; the second got an addendum after the fourth had begun."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.tablet = Tablet(folder / "tablet")
        self.days: list[Path] = []
        self.older = folder / "older.db"
        for number in range(1, 6):
            with self.tablet.begin() as day:
                signed(day)
                self.days.append(day.log.path)
            if number == 4:
                shutil.copy(self.days[1], self.older)
                with self.tablet.resume_at(self.days[1]) as second:
                    second.do(cmd.OpenAddendum(reason="a lift was read wrongly"))
                    second.do(cmd.Correct(target=3, text="the lift read 60 percent, not 96"))

    def judged(self, *files: Path) -> Judgment:
        """What files come to together, as `verify` has it, in this process."""
        scratch = self.folder / "scratch"
        each = []
        for file in files:
            shutil.rmtree(scratch, ignore_errors=True)
            scratch.mkdir()
            each.append(examine(file, NOTHING_KNOWN, scratch))
        return judge_set(each)


@pytest.fixture(scope="module")
def handed(tmp_path_factory: pytest.TempPathFactory) -> Handed:
    return Handed(tmp_path_factory.mktemp("handed"))


def graver(judgment: Judgment) -> list[tuple[str, int]]:
    return [(one.told.code, one.gravity) for one in judgment.findings if one.gravity != WHOLE]


def the(judgment: Judgment, code: str) -> Message:
    (found,) = (one.told for one in judgment.findings if one.told.code == code)
    return found


def test_days_that_are_all_there_tell_of_nothing_missing(handed: Handed) -> None:
    together = handed.judged(*handed.days)
    assert graver(together) == []
    assert [told.code for told in together.told[:-1]] == ["proof-set-days"]
    assert next(iter(together.facts["tablets"].values())) == {"days": [1, 2, 3, 4, 5], "missing": []}
    assert together.exit_code == UNSEALED  # nobody sealed them


def test_a_day_that_is_held_back_is_named_with_its_date_and_head(handed: Handed) -> None:
    together = handed.judged(*handed.days[:2], *handed.days[3:])
    assert graver(together) == [("proof-set-gap", UNSEALED)]
    with DayLog.open(handed.days[2], read_only=True) as third:
        figures = the(together, "proof-set-gap").figures
        assert (figures["number"], figures["date"], figures["head"]) == ("3", "2026-03-19", third.head)


def test_a_day_of_which_nothing_is_told_is_missing_all_the_same(handed: Handed) -> None:
    together = handed.judged(handed.days[0], handed.days[4])
    assert [code for code, _ in graver(together)] == ["proof-set-gap", "proof-set-gap-unknown", "proof-set-gap"]


def test_a_file_without_the_addendum_is_an_older_copy(handed: Handed) -> None:
    with_newer = handed.judged(handed.older, handed.days[1])
    assert graver(with_newer) == [("proof-set-older-than", UNSEALED)]
    assert the(with_newer, "proof-set-older-than").figures["lacks"] > 1  # type: ignore[operator]
    # The addendum was announced by the day begun next, so its absence shows even where nobody has it.
    alone = handed.judged(handed.older, *handed.days[2:])
    assert graver(alone) == [("proof-set-older", UNSEALED)]
    told = the(alone, "proof-set-older").figures
    assert (told["file"], told["other"]) == (str(handed.older), str(handed.days[4]))
    assert graver(handed.judged(handed.older, *handed.days[2:4])) == []  # those two began before it


def rewritten(path: Path, out: Path, at: int = 2) -> Path:
    """A day made anew from event `at` on, as a forger with the tablet's keys would."""
    with DayLog.open(path, read_only=True) as log:
        events, texts = list(log.events), list(log.texts[: at - 1])
    before = chain_hash(texts[-1]) if texts else "0" * 64
    for event in events[at - 1 :]:
        changed = event.model_copy(update={"id": f"x{event.seq}.0"}) if event.seq == at else event
        texts.append(canonical_text(changed, before))
        before = chain_hash(texts[-1])
    with DayLog.create(out) as log:
        log.append_texts(texts)
    return out


@pytest.mark.parametrize("at", [1, 3])
def test_a_day_that_was_made_anew_is_no_longer_the_one_that_was_announced(
    handed: Handed, tmp_path: Path, at: int
) -> None:
    forged = rewritten(handed.days[2], tmp_path / "forged.db", at)
    alone = handed.judged(handed.days[1], forged, handed.days[3])
    assert graver(alone) == [("proof-set-not-as-announced", DAMAGED)]
    both = handed.judged(handed.days[2], forged)
    assert graver(both) == [("proof-set-fork", DAMAGED)]
    assert the(both, "proof-set-fork").figures["event"] == str(at)
    assert both.exit_code == DAMAGED


def test_a_book_that_was_lost_shows_in_the_day_and_in_the_set(handed: Handed, tmp_path: Path) -> None:
    other = Tablet(tmp_path / "tablet")
    with other.begin() as one:
        signed(one)
    (tmp_path / "tablet" / "days.json").unlink()
    with other.begin() as two:
        signed(two)
    found = Findings()
    check_tablet(two.log.events[0].body, found)  # type: ignore[arg-type]
    assert [(one.told.code, one.gravity) for one in found.found] == [
        ("proof-tablet-first", WHOLE),
        ("proof-tablet-book", UNSEALED),
    ]
    together = handed.judged(one.log.path, two.log.path)
    assert graver(together) == [("proof-set-tablets", UNSEALED)]
    assert handed.judged(one.log.path, *handed.days[:2]).exit_code == UNSEALED


def announcing(number: int, *days: DayHead) -> TabletChain:
    return TabletChain(tablet="0" * 16, number=number, announces=days)


HEAD = DayHead(number=4, date="2026-03-17", first="0" * 64, events=3, head="1" * 64)


@pytest.mark.parametrize(
    "nonsense",
    [
        announcing(5),  # the day before is always announced
        announcing(1, HEAD),
        announcing(4, HEAD),
        announcing(5, HEAD, HEAD),
        announcing(5, HEAD, HEAD.model_copy(update={"number": 9})),
    ],
)
def test_an_opening_whose_numbers_do_not_fit_is_damaged(handed: Handed, nonsense: TabletChain) -> None:
    with DayLog.open(handed.days[4], read_only=True) as log:
        opened = log.events[0].body
    found = Findings()
    check_tablet(opened.model_copy(update={"tablet": nonsense}), found)  # type: ignore[arg-type]
    assert [(one.told.code, one.gravity) for one in found.found] == [("proof-tablet-nonsense", DAMAGED)]


def test_the_facts_of_a_day_tell_its_number_and_how_far_the_days_before_had_come(handed: Handed) -> None:
    with DayLog.open(handed.days[4], read_only=True) as log:
        facts = facts_of(log.events, log.hashes, Words())
    with DayLog.open(handed.days[1], read_only=True) as second, DayLog.open(handed.days[3], read_only=True) as fourth:
        had = [(2, len(second.events), second.head), (4, len(fourth.events), fourth.head)]
    told = facts["tablet"]
    assert (told["number"], told["book"]) == (5, "kept")
    assert [(one["number"], one["events"], one["head"]) for one in told["announces"]] == had


def test_the_gravest_of_all_files_is_what_they_come_to() -> None:
    def of(*codes: int) -> int:
        return judge_set([Judgment((), Message("x"), code, {}) for code in codes]).exit_code

    assert of(WHOLE, WHOLE) == WHOLE
    assert of(WHOLE, UNSEALED) == UNSEALED
    assert of(UNSEALED, UNREADABLE) == UNREADABLE
    assert of(UNREADABLE, DAMAGED, WHOLE) == DAMAGED


def test_verify_takes_a_folder_and_tells_of_each_file_and_of_all(
    handed: Handed, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    for day in (handed.days[2], handed.days[4]):
        shutil.copy(day, folder)
    (folder / "letter.txt").write_text("nothing of ours")
    assert main(["verify", str(folder), "--json"]) == UNSEALED
    told = json.loads(capsys.readouterr().out)
    assert [Path(file["file"]).name for file in told["files"]] == ["2026-03-19.db", "2026-03-21.db"]
    assert next(iter(told["tablets"].values()))["missing"] == [4]
    (tmp_path / "empty").mkdir()
    assert main(["verify", str(tmp_path / "empty")]) == UNREADABLE
