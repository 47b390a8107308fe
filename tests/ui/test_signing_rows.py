"""What is asked first of a day tells what is open, no more and no less, and what answers each of it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import HoldReleased
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import State
from fieldassist.day.clock import SimulatedClock
from fieldassist.language import Words
from fieldassist.record.keys import SigningKey
from fieldassist.record.seal import make_seal
from fieldassist.trade.message import holds
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.signing import AskedFirst, asked_first, headline, proof, sign_key, signer, stay_open
from tests.checklist.believed import Believed, believed
from tests.checklist.days import Bench
from tests.checklist.test_lifts import failed_at_five


@pytest.fixture
def wall(tmp_path: Path, clock: SimulatedClock) -> Iterator[Believed]:
    with believed(tmp_path, clock) as crew:
        yield crew


def by_head(state: State, by: str = "edwin") -> dict[str, AskedFirst]:
    return {row.head.code: row for row in asked_first(state, by)}


def test_whoever_works_goes_on_working_and_the_foreman_of_the_crew_signs(wall: Believed) -> None:
    assert wall.day.state.speaker is not None
    assert (wall.day.state.speaker.name, signer(wall.day.state)) == ("rosa", "edwin")


def test_surface_is_set_against_planned_and_its_answer_takes_the_row_to_holds(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    row = by_head(wall.day.state)["signing-surface"]
    # Six tiles of 0.6 m by 1.2 m are planned, one is set.
    assert row.head.figures["set"] == Quantity(Fraction("0.7"), "m2")
    assert row.head.figures["planned"] == Quantity(Fraction("4.3"), "m2")
    assert (row.state, row.by) == ("missing", "why")
    assert row.point is not None
    wall.say("this is edwin")
    assert wall.day.do(cmd.AnswerPoint(point=row.point.id, ready="goes on")).taken
    answered = by_head(wall.day.state)["signing-surface"]
    assert (answered.state, answered.point) == ("holds", None)
    assert answered.reason is not None
    assert answered.reason.figures["name"] == "edwin"


def test_only_work_answers_a_failed_lift(wall: Believed) -> None:
    wall.batch()
    for _ in range(3):
        wall.tile()
        wall.lifts_due()
    wall.lift("eighty", "ninety square centimeters")
    rows = by_head(wall.day.state)
    assert rows["signing-open"].head.figures["kind"] == "failure"
    assert rows["signing-open"].by == "work", "only work cures a failure"


def test_suspects_name_the_lift_that_made_them_so_and_are_let_stay_by_an_answer() -> None:
    row = by_head(failed_at_five().state)["signing-suspects"]
    assert row.by == "accept"
    assert row.head.figures["count"] == 3
    assert row.reason is not None
    assert (row.reason.figures["lift"], row.reason.figures["later"]) == ("2", 0)
    assert "40 %" in Words()(row.reason)


def test_bags_against_the_bed_are_asked_about_when_the_area_ends(wall: Believed) -> None:
    wall.batch()
    for _ in range(6):
        wall.tile()
        wall.lifts_due()
    wall.finish("nine")
    row = by_head(wall.day.state)["signing-bags"]
    assert (row.state, row.by) == ("missing", "why")
    assert row.head.figures["bags"] == Quantity(Fraction(9), "count")


def test_a_time_that_cannot_be_is_asked_about_and_without_one_the_times_agree(wall: Believed) -> None:
    wall.batch()
    assert by_head(wall.day.state)["signing-times"].state == "holds"
    wall.batch(minutes=0)
    rows = [row for row in asked_first(wall.day.state, "edwin") if row.head.code == "signing-open"]
    assert [row.head.figures["kind"] for row in rows] == ["longer-than-passed"]
    assert "signing-times" not in by_head(wall.day.state)


def called_out() -> Bench:
    """The base of the shower wall was released by a call in Edwin's name."""
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="shower wall"))
    while bench.state.area is not None and bench.state.area.step is not None and bench.state.area.step.kind != "hold":
        bench.take(bench.next_answer() or cmd.Keep())
    assert bench.state.area is not None
    task = bench.state.area.task
    assert task is not None
    bench.take(cmd.ReleaseHold(section=task.section, step=task.step, name="edwin"))
    return bench


def test_the_signers_pin_confirms_what_was_called_in_his_name_and_nobody_elses() -> None:
    state = called_out().state
    mine = by_head(state, "edwin")["signing-releases-called"]
    assert (mine.state, mine.head.figures["count"], mine.name) == ("confirms", 1, "edwin")
    assert not [p for p in stay_open(state, "edwin") if p.id.startswith("release/")]
    row = by_head(state, "rosa")["signing-release"]
    assert (row.state, row.by, row.name) == ("missing", "release", "edwin")


def test_a_release_that_is_struck_out_stays_open() -> None:
    bench = called_out()
    seq = next(e.seq for e in bench.events if isinstance(e.body, HoldReleased))
    assert [p.id.partition("/")[0] for p in stay_open(bench.state, "edwin", (seq,))].count("release") == 1
    rows = [row for row in asked_first(bench.state, "edwin", (seq,)) if row.head.code == "signing-release"]
    assert [(row.state, row.by) for row in rows] == [("missing", "")]
    assert "signing-releases-called" not in {row.head.code for row in asked_first(bench.state, "edwin", (seq,))}


def test_cautions_that_somebody_of_the_crew_has_not_heard_are_named_with_whom() -> None:
    row = by_head(called_out().state)["signing-cautions-unseen"]
    assert (row.state, row.by, row.point) == ("noted", "cautions", None)


def test_headline_and_key_count_what_stays_open() -> None:
    state = called_out().state
    left = len(stay_open(state, "edwin"))
    assert left
    assert headline(state, "edwin").figures["count"] == left
    assert (sign_key(state, "edwin").code, sign_key(state, "edwin").figures["count"]) == ("signing-sign", left)


def test_no_point_that_stays_open_is_left_out_of_the_rows(wall: Believed) -> None:
    wall.batch(minutes=0)
    wall.tile()
    wall.lift("eighty", "ninety square centimeters")
    for state in (wall.day.state, called_out().state, Bench.begun().state):
        rows = asked_first(state, "edwin")
        told = [figure for row in rows if row.state == "missing" for figure in (row.point and row.point.id,)]
        surface = {p.id for p in open_points(state) if p.id.split("/")[0] in ("surface-set", "area", "start")}
        assert {p.id for p in stay_open(state, "edwin")} - surface == {found for found in told if found} - surface
        assert bool(surface) == any(found in surface for found in told)


def test_with_more_than_four_rows_what_is_missing_comes_first() -> None:
    bench = called_out()
    bench.go_on()
    bench.call("batch")
    states = [row.state for row in asked_first(bench.state, "edwin")]
    assert len(states) > 4
    assert states == sorted(states, key=["missing", "confirms", "noted", "holds"].index)
    assert len(set(states)) > 2


def test_before_a_signature_there_is_no_proof() -> None:
    bench = called_out()
    assert proof(bench.events, ["0" * 64] * len(bench.events)) is None


def test_a_signature_without_its_seal_is_called_so(wall: Believed) -> None:
    wall.say("this is edwin", "sign off with open points")
    found = proof(wall.day.log.events, wall.day.log.hashes)
    assert found is not None
    assert (found.good, found.fingerprint, found.told.code) == (False, "", "signing-not-sealed")
    assert found.signed.figures["at"] == wall.clock.now().wall[11:16]
    assert found.accepted
    key = SigningKey("edwin", Role.FOREMAN, bytes(range(32)))
    wall.day._append((wall.day._fact(make_seal(wall.day.log.events, wall.day.log.hashes, key), by="edwin"),))
    sealed = proof(wall.day.log.events, wall.day.log.hashes)
    assert sealed is not None
    assert (sealed.good, sealed.fingerprint) == (True, key.fingerprint)
    assert holds(sealed.told, "edwin")
    wrong = proof(wall.day.log.events, ["0" * 64] * len(wall.day.log.events))
    assert wrong is not None
    assert (wrong.good, wrong.told.code) == (False, "signing-seal-wrong")
