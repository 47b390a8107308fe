"""The reach of a lift, by example and against a plain reading of the rules, tile by tile."""

from __future__ import annotations

from itertools import pairwise, takewhile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.checklist.reach import Looked, Reach, TileSetting, Work, least_lifts, reach, unlifted
from fieldassist.trade.verdict import Outcome


def row(tiles: int, run: int = 1, first: int = 1) -> list[TileSetting]:
    """A run of tiles, each set once."""
    return [TileSetting(order, run, order, 0.5) for order in range(first, first + tiles)]


def lifted(*found: tuple[int, str]) -> list[Looked]:
    """Lifts of settings in this order: "passed", "failed" or "not complete"."""
    return [Looked(n, order, verdict) for n, (order, verdict) in enumerate(found, 1)]  # type: ignore[arg-type]


def states(found: Reach) -> list[str]:
    return [found.tiles[n].state for n in sorted(found.tiles)]


# --- by example ---------------------------------------------------------------------------------------------------


def test_a_good_lift_covers_back_to_the_good_lift_before_it_and_no_further_on() -> None:
    found = reach(Work(row(6), lifted((1, "passed"), (4, "passed"))))
    assert states(found) == [
        "lifted good",
        "covered",
        "covered",
        "lifted good",
        "not yet covered",
        "not yet covered",
    ]
    assert [found.tiles[n].lift for n in (1, 2, 3, 4, 5)] == [1, 2, 2, 2, None]
    assert found.ends == (6,)


def test_without_a_first_lift_what_lies_before_the_first_good_one_is_not_covered() -> None:
    found = reach(Work(row(4), lifted((3, "passed"))))
    assert states(found) == ["not yet covered", "not yet covered", "lifted good", "not yet covered"]
    assert found.ends == (1, 4)


def test_a_mock_up_stands_in_for_the_first_lift_of_a_run() -> None:
    found = reach(Work(row(3), lifted((3, "passed")), stood_in={1}))
    assert states(found) == ["covered", "covered", "lifted good"]
    assert found.ends == ()


def test_a_failed_lift_makes_suspect_back_to_the_last_good_lift_and_forward_until_the_cure() -> None:
    work = lifted((1, "passed"), (3, "passed"), (6, "failed"))
    found = reach(Work(row(9), work, until={3: 8}))
    assert states(found) == [
        "lifted good",
        "covered",
        "lifted good",
        "suspect",
        "suspect",
        "lifted failed",
        "suspect",
        "suspect",
        "not yet covered",
    ]
    assert found.tiles[4].lift == found.tiles[7].lift == 3
    assert found.follow == (5, 7)


def test_while_a_failure_is_not_cured_what_is_set_in_its_run_is_suspect() -> None:
    found = reach(Work([*row(4), *row(2, run=2, first=5)], lifted((2, "failed"))))
    assert states(found)[2:] == ["suspect", "suspect", "not yet covered", "not yet covered"]


def test_two_good_in_a_row_clear_what_lies_beyond_them() -> None:
    work = lifted((1, "passed"), (9, "failed"), (8, "passed"))
    found = reach(Work(row(9), work, until={2: 9}))
    assert found.follow == (7,)
    found = reach(Work(row(9), [*work, Looked(4, 7, "passed")], until={2: 9}))
    assert found.follow == ()
    assert states(found) == ["lifted good", *["covered"] * 5, "lifted good", "lifted good", "lifted failed"]
    assert found.tiles[3].cleared_by == (3, 4)
    assert found.tiles[3].lift == 4


def test_a_good_lift_that_already_stands_next_counts_as_one_of_the_two() -> None:
    work = lifted((1, "passed"), (4, "passed"), (6, "failed"), (5, "passed"))
    found = reach(Work(row(6), work, until={3: 6}))
    assert found.follow == ()
    assert states(found) == ["lifted good", "covered", "covered", "lifted good", "lifted good", "lifted failed"]


def test_a_bad_one_between_begins_the_count_anew() -> None:
    work = lifted((1, "passed"), (9, "failed"), (8, "passed"), (7, "failed"), (6, "passed"))
    found = reach(Work(row(9), work, until={2: 9, 4: 9}))
    assert found.follow == (5,)
    assert states(found)[1:5] == ["suspect"] * 4


def test_each_side_is_cleared_by_its_own_lifts() -> None:
    work = lifted((1, "passed"), (5, "failed"), (4, "passed"), (3, "passed"))
    found = reach(Work(row(8), work, until={2: 8}))
    assert states(found)[1] == "covered"
    assert states(found)[5:] == ["suspect"] * 3
    assert found.follow == (6,)


def test_accepted_and_taken_off_tiles_are_passed_over_and_hold_nothing_up() -> None:
    work = lifted((1, "passed"), (6, "failed"))
    found = reach(Work(row(6), work, until={2: 6}, accepted={5}, taken_off={4, 6}))
    assert found.follow == (3,)
    assert states(found) == ["lifted good", "suspect", "suspect", "taken off", "accepted", "taken off"]
    assert found.holds_up == (2, 3)


def test_a_tile_set_again_is_a_new_setting_and_its_old_place_stays_in_the_old_run() -> None:
    settings = [*row(4), TileSetting(5, 2, 4), TileSetting(6, 2, 5)]
    found = reach(Work(settings, lifted((1, "passed"), (4, "failed"), (5, "passed")), until={2: 4}))
    assert found.tiles[4].state == "lifted good"
    assert found.tiles[4].lift == 3
    assert states(found)[1:3] == ["suspect", "suspect"]
    assert found.tiles[5].state == "not yet covered"


def test_what_is_set_after_a_cure_in_the_same_run_needs_a_good_lift_before_it_as_well() -> None:
    work = lifted((1, "passed"), (3, "failed"), (2, "passed"), (6, "passed"))
    found = reach(Work(row(6), work, until={2: 3}))
    assert states(found)[3:] == ["not yet covered", "not yet covered", "lifted good"]
    assert found.ends == (4,)


def test_a_lift_that_is_not_complete_proves_nothing_and_fails_nothing() -> None:
    found = reach(Work(row(4), lifted((1, "passed"), (4, "not complete"))))
    assert states(found) == ["lifted good", *["not yet covered"] * 3]
    assert found == reach(Work(row(4), lifted((1, "passed"))))


def test_a_tile_that_failed_holds_the_area_up_until_it_is_off() -> None:
    work = lifted((1, "failed"))
    assert reach(Work(row(1), work, until={1: 1})).holds_up == (1,)
    assert reach(Work(row(1), work, until={1: 1}, taken_off={1})).holds_up == ()


def test_a_tile_lifted_after_it_was_accepted_is_what_the_lift_found() -> None:
    found = reach(Work(row(2), lifted((2, "failed"), (1, "failed")), until={1: 2, 2: 2}, accepted={1}))
    assert found.tiles[1].state == "lifted failed"


def test_the_longest_unseen_row_is_counted_within_a_run_with_its_square_metres() -> None:
    settings = [*row(5), *row(4, run=2, first=6)]
    found = reach(Work(settings, lifted((1, "passed"), (5, "passed"), (9, "passed")), taken_off={7}))
    assert (found.unseen.tiles, found.unseen.face_m2) == (3, 1.5)


def test_settings_since_the_last_lift_are_counted_in_their_own_run() -> None:
    settings = [*row(3), TileSetting(4, 2, 4), TileSetting(5, 1, 5)]
    assert unlifted(settings, {2}, 1) == 2
    assert unlifted(settings, {2}, 2) == 1


# Three is ANSI A108.5 §3.3.2's least number of tiles to remove; fewer for few pieces is ours, no published source.
@pytest.mark.parametrize(("pieces", "least"), [(1, 1), (2, 1), (3, 1), (4, 2), (5, 2), (6, 2), (8, 3), (9, 3), (99, 3)])
def test_few_pieces_need_one_lift_in_three(pieces: int, least: int) -> None:
    assert least_lifts(pieces, 3) == least


# --- against a plain reading of the rules ---------------------------------------------------------------------------


VERDICTS: tuple[Outcome | None, ...] = ("passed", "passed", "failed", "not complete", None)


@st.composite
def works(draw: st.DrawFn) -> Work:
    """Any work: tiles set and set again in up to three runs, lifted in any order, some accepted or taken off."""
    tiles = draw(st.lists(st.integers(1, 8), min_size=1, max_size=14))
    settings = [TileSetting(order, draw(st.integers(1, 3)), tile, 0.5) for order, tile in enumerate(tiles, 1)]
    orders = [s.order for s in settings]
    verdicts = st.sampled_from(VERDICTS)
    picked = draw(st.lists(st.sampled_from(orders), unique=True))
    lifts = [Looked(number, order, draw(verdicts)) for number, order in enumerate(picked, 1)]
    failed = [lift for lift in lifts if lift.verdict == "failed" and draw(st.booleans())]
    until = {lift.number: draw(st.integers(lift.order, len(orders))) for lift in failed}
    few = st.sets(st.sampled_from(orders), max_size=3)
    return Work(settings, lifts, until, draw(few), draw(few), draw(st.sets(st.integers(1, 3))))


def plainly(work: Work) -> dict[int, str]:
    """The state of every tile, each found by itself from the sentences of the rules."""
    now = {s.tile: s.order for s in work.settings}
    run_of = {s.order: s.run for s in work.settings}
    looked = {lift.order: lift for lift in work.lifts if lift.verdict in ("passed", "failed")}
    off = {s.order for s in work.settings if now[s.tile] != s.order} | set(work.taken_off)

    def passed_over(order: int) -> bool:
        return order not in looked and (order in off or order in work.accepted)

    def two_good_at_once(side: list[int]) -> bool:
        opened = list(takewhile(lambda o: o in looked, (o for o in side if not passed_over(o))))
        verdicts = [looked[o].verdict for o in opened]
        return ("passed", "passed") in pairwise(verdicts)

    def suspect(order: int) -> bool:
        for failed in (lift for lift in looked.values() if lift.verdict == "failed"):
            run = [o for o in run_of if run_of[o] == run_of[failed.order]]
            stood = [
                o
                for o in run
                if o < failed.order
                and o in looked
                and looked[o].verdict == "passed"
                and looked[o].number < failed.number
            ]
            back = [o for o in reversed(run) if max(stood, default=0) <= o < failed.order]
            ahead = [o for o in run if failed.order < o <= work.until.get(failed.number, len(run_of))]
            if any(order in side and not two_good_at_once(side) for side in (back, ahead)):
                return True
        return False

    def good_next(order: int, step: int) -> bool:
        there = [o for o in looked if run_of[o] == run_of[order] and (o - order) * step > 0]
        if not there:
            return step < 0 and run_of[order] in work.stood_in
        nearest = min(there, key=lambda o: abs(o - order))
        return looked[nearest].verdict == "passed"

    found = {}
    for tile, order in now.items():
        if order in work.taken_off:
            found[tile] = "taken off"
        elif order in looked:
            found[tile] = "lifted good" if looked[order].verdict == "passed" else "lifted failed"
        elif order in work.accepted:
            found[tile] = "accepted"
        elif suspect(order):
            found[tile] = "suspect"
        elif good_next(order, -1) and good_next(order, 1):
            found[tile] = "covered"
        else:
            found[tile] = "not yet covered"
    return found


@given(works())
def test_every_tile_is_in_the_state_that_a_plain_reading_of_the_rules_gives_it(work: Work) -> None:
    assert {n: one.state for n, one in reach(work).tiles.items()} == plainly(work)


@given(works())
def test_lifts_are_asked_for_as_long_as_anything_is_suspect_and_only_of_suspects(work: Work) -> None:
    found = reach(work)
    suspects = {s.order for s in work.settings if found.tiles[s.tile].state == "suspect"}
    assert set(found.follow) <= suspects
    assert bool(found.follow) is bool(suspects)


@given(works(), st.data())
def test_lifting_what_is_asked_for_ends_with_nothing_suspect_or_not_covered(work: Work, data: st.DataObject) -> None:
    """Whatever is found: a tile that fails is taken off, and the work ends in fewer lifts than settings."""
    lifts, off = list(work.lifts), set(work.taken_off)
    off |= {lift.order for lift in lifts if lift.verdict == "failed"}
    until = {lift.number: len(work.settings) for lift in lifts if lift.verdict == "failed"} | dict(work.until)
    for _ in range(len(work.settings) + 1):
        found = reach(Work(work.settings, lifts, until, work.accepted, off, work.stood_in))
        due = found.follow or found.ends
        if not due:
            break
        number = max((lift.number for lift in lifts), default=0) + 1
        good = data.draw(st.booleans())
        lifts.append(Looked(number, due[0], "passed" if good else "failed"))
        if not good:
            off.add(due[0])
            until[number] = len(work.settings)
    assert (found.follow, found.ends) == ((), ())
    assert not found.holds_up


@given(works())
def test_who_is_covered_was_never_the_last_and_lies_between_two_good_lifts(work: Work) -> None:
    found = reach(work)
    good = {lift.number for lift in work.lifts if lift.verdict == "passed"}
    for one in found.tiles.values():
        if one.state == "covered":
            assert one.lift in good
        assert set(one.cleared_by) <= good


@given(works())
def test_where_every_lift_is_good_nothing_is_suspect(work: Work) -> None:
    lifts = [Looked(lift.number, lift.order, "passed") for lift in work.lifts]
    found = reach(Work(work.settings, lifts, {}, work.accepted, work.taken_off, work.stood_in))
    assert found.follow == ()
    assert not {one.state for one in found.tiles.values()} & {"suspect", "lifted failed"}
