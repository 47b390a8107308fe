"""The tablet's own book of days: numbers without a gap, and heads that a later day's opening holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.tablet_chain import TabletChain
from fieldassist.day.session import CannotOpen, Day
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.record.tablet_days import NAME
from tests.tablets import Tablet, chain, head_of, signed, small_site


@pytest.fixture
def tablet(tmp_path: Path) -> Tablet:
    return Tablet(tmp_path)


def test_days_are_numbered_from_one_and_each_announces_the_day_before_as_it_was_left(tablet: Tablet) -> None:
    with tablet.begin() as one:
        assert chain(one) == TabletChain(tablet=chain(one).tablet, number=1, book="new")
        signed(one)
    with tablet.begin() as two:
        assert chain(two) == TabletChain(tablet=chain(one).tablet, number=2, announces=(head_of(one),))
        two.do(cmd.SpeakAs(name="rosa"))
    with tablet.begin() as three:
        assert chain(three).announces == (head_of(two),)  # the first day is as it was announced


def test_what_was_added_to_an_older_day_is_announced_in_the_next_opening(tablet: Tablet) -> None:
    with tablet.begin() as one:
        signed(one)
    with tablet.begin() as two:
        signed(two)
    with tablet.resume(one) as again:
        again.do(cmd.OpenAddendum(reason="a lift read 60 percent"))
        again.do(cmd.Correct(target=3, text="the lift read 60 percent, not 96"))
    with tablet.begin() as three:
        assert chain(three).announces == (head_of(again), head_of(two))
    with tablet.begin() as four:
        assert chain(four).announces == (head_of(three),)


def test_a_day_that_was_signed_and_then_deleted_is_announced_all_the_same(tablet: Tablet) -> None:
    with tablet.begin() as one:
        signed(one)
    one.log.path.unlink()
    with tablet.begin() as two:
        assert (chain(two).number, chain(two).announces) == (2, (head_of(one),))


def test_a_day_that_was_never_closed_is_announced_as_its_log_stands(tablet: Tablet, tmp_path: Path) -> None:
    one = tablet.begin()
    one.do(cmd.SpeakAs(name="rosa"))
    copy = tmp_path / "left.db"
    copy.write_bytes(b"")
    for suffix in ("", "-wal"):
        (tmp_path / f"left.db{suffix}").write_bytes(Path(f"{one.log.path}{suffix}").read_bytes())
    one.log.close()  # as when the program is killed: nobody tells the book
    for suffix in ("", "-wal"):
        (tmp_path / f"left.db{suffix}").replace(f"{one.log.path}{suffix}")
    with tablet.begin() as two:
        assert chain(two).announces == (head_of(one),)


def test_an_older_copy_put_back_does_not_make_the_book_forget(tablet: Tablet) -> None:
    with tablet.begin() as one:
        before = len(one.log.events)
    older = one.log.path.read_bytes()
    with tablet.resume(one) as again:
        signed(again)
    one.log.path.write_bytes(older)
    with tablet.begin() as two:
        assert chain(two).announces[0].events == len(again.log.events) > before


def test_a_lost_or_damaged_book_begins_a_new_tablet_and_says_so(tablet: Tablet) -> None:
    with tablet.begin() as one, tablet.begin() as two:
        assert chain(two).number == 2
    book = tablet.folder / NAME
    book.unlink()
    with tablet.begin() as three:
        assert (chain(three).number, chain(three).book) == (1, "lost")
        assert chain(three).tablet != chain(one).tablet
    book.write_bytes(book.read_bytes()[:-40])
    with tablet.begin() as four:
        assert (chain(four).number, chain(four).book) == (1, "damaged")
        assert chain(four).tablet not in (chain(one).tablet, chain(three).tablet)
    assert len(list(tablet.folder.glob(f"{NAME}.damaged-*"))) == 1
    with tablet.begin() as five:
        assert (chain(five).number, chain(five).book, chain(five).tablet) == (2, "kept", chain(four).tablet)


def test_practice_and_rehearsals_have_no_number(tablet: Tablet) -> None:
    plan, checklists = small_site()
    for kind in ("practice", "rehearsal"):
        with Day.begin(tablet.path(kind), plan, checklists, tablet.clock, kind=kind, book=tablet.book) as day:
            opened = day.log.events[0].body
            assert isinstance(opened, DayOpened)
            assert opened.tablet is None
            signed(day)
    with tablet.begin() as one:
        assert (chain(one).number, chain(one).announces) == (1, ())


def test_a_day_from_elsewhere_that_goes_on_here_is_announced_without_a_number(tablet: Tablet, tmp_path: Path) -> None:
    elsewhere = Tablet(tmp_path / "elsewhere")
    with elsewhere.begin() as theirs:
        signed(theirs)
    taken_in = tablet.path("theirs")
    with DayLog.create(taken_in) as log:
        log.append_texts(theirs.log.texts)
    with Day.resume(taken_in, elsewhere.clock, book=tablet.book) as day:
        day.do(cmd.OpenAddendum(reason="measured again"))
    with tablet.begin() as one:
        assert chain(one).announces == (head_of(day).model_copy(update={"number": 0}),)


def _cut_off(monkeypatch: pytest.MonkeyPatch, where: str) -> None:
    def cut(*_: object) -> None:
        raise SystemExit

    owner, name = (DayLog, "append") if where == "before the log" else (DayLog, "_settle")
    monkeypatch.setattr(owner, name, cut)


@pytest.mark.parametrize(("where", "then"), [("before the log", 1), ("behind the log", 2)])
def test_a_number_is_used_again_only_if_its_day_never_came_to_be(
    tablet: Tablet, where: str, then: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A tablet that is cut off while a day begins, before its first events are on disk and behind it."""
    with monkeypatch.context() as patched:
        _cut_off(patched, where)
        with pytest.raises(SystemExit):
            tablet.begin("cut off")
    with tablet.begin() as next_one:
        assert chain(next_one).number == then
        assert len(chain(next_one).announces) == then - 1


def test_a_refused_plan_uses_no_number(tablet: Tablet) -> None:
    plan, checklists = small_site()
    old = plan.model_copy(update={"date": "2025-01-01"})
    with pytest.raises(CannotOpen) as refused:
        Day.begin(tablet.path("x"), old, checklists, tablet.clock, book=tablet.book)
    assert refused.value.told.code == "engine-plan-date"
    assert not tablet.path("x").exists()
    with tablet.begin() as one:
        assert chain(one).number == 1


def test_a_book_that_cannot_be_written_refuses_a_new_day_and_harms_no_other(
    tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = tablet.begin()

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("fieldassist.record.tablet_days.whole_file", full)
    signed(one)
    one.close()
    with pytest.raises(LogProblem) as refused:
        tablet.begin()
    assert refused.value.told.code == "record-book-not-kept"
    monkeypatch.undo()
    with tablet.begin("again") as two:
        assert (chain(two).number, chain(two).announces) == (2, (head_of(one),))


@pytest.mark.parametrize("harm", [b"", b"no database", None])
def test_a_log_that_cannot_be_read_is_announced_as_the_book_has_it(tablet: Tablet, harm: bytes | None) -> None:
    with tablet.begin() as one:
        signed(one)
    content = one.log.path.read_bytes()
    one.log.path.write_bytes(content[: len(content) // 2] if harm is None else harm)
    with tablet.begin() as two:
        assert chain(two).announces == (head_of(one),)
