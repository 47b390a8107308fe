"""Lots are drawn again from the seed that the record shows; whoever changes one, or the seed, is found out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.proof.lots import check_lots
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Findings
from tests.checklist.days import Bench

TILES = 16


def porch(tiles: int = TILES, *, signed: bool = True) -> list[Event]:
    """A day of tiles that are lifted by lot, signed so that the seed is shown."""
    bench = Bench.begun("metric")
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="porch"))
    bench.go_on()
    bench.call("bucket", *["tile"] * tiles)
    if signed:
        bench.speak("edwin")
        bench.take(cmd.SignDay(accept_open=True))
    return bench.events


@pytest.fixture(scope="module")
def honest() -> list[Event]:
    return porch()


def examined(events: list[Event]) -> Findings:
    found = Findings()
    check_lots(events, found)
    return found


def codes(found: Findings) -> list[str]:
    return [told.code for told in found.told]


def why(found: Findings) -> list[str]:
    return [told.figures["why"].code for told in found.told if told.code == "proof-lot-not-good"]  # type: ignore[union-attr]


def settings(events: list[Event]) -> list[int]:
    """Where in the list tiles were set and a lot drawn."""
    return [at for at, e in enumerate(events) if isinstance(e.body, ev.SectionClosed) and e.body.lot is not None]


def changed(events: list[Event], at: int, change: Callable[[Any], Any]) -> list[Event]:
    """The events with one body changed; a forger recomputes the chain."""
    event = events[at]
    return [*events[:at], event.model_copy(update={"body": change(event.body)}), *events[at + 1 :]]


def with_lot(**figures: Any) -> Callable[[Any], Any]:
    return lambda body: body.model_copy(update={"lot": body.lot.model_copy(update=figures)})


def test_an_honest_days_lots_are_all_drawn_again(honest: list[Event]) -> None:
    found = examined(honest)
    assert codes(found) == ["proof-lots-good"]
    assert found.code == WHOLE
    drawn = found.told[0].figures
    lots = [honest[at].body.lot for at in settings(honest)]  # type: ignore[union-attr]
    assert (drawn["drawn"], drawn["fell"]) == (TILES, sum(lot.fell for lot in lots))
    assert 0 < int(str(drawn["fell"])) < TILES


def test_a_lot_that_is_said_not_to_have_fallen_is_found(honest: list[Event]) -> None:
    at = next(at for at in settings(honest) if honest[at].body.lot.fell)  # type: ignore[union-attr]
    found = examined(changed(honest, at, with_lot(fell=False)))
    assert "proof-lot-fell" in why(found)
    assert found.code == DAMAGED


def test_a_setting_that_is_left_out_of_the_count_is_found(honest: list[Event]) -> None:
    at = settings(honest)[3]
    found = examined(changed(honest, at, with_lot(setting=5)))
    assert "proof-lot-number" in why(found)


def test_a_lot_drawn_less_often_than_the_checklist_says_is_found(honest: list[Event]) -> None:
    found = examined(changed(honest, settings(honest)[0], with_lot(one_in=6)))
    assert "proof-lot-often" in why(found)


def test_a_lift_that_is_said_to_be_forced_and_was_not_is_found(honest: list[Event]) -> None:
    found = examined(changed(honest, settings(honest)[1], with_lot(forced=True)))
    assert "proof-lot-forced" in why(found)


def test_another_seed_than_the_committed_one_is_found(honest: list[Event]) -> None:
    at = next(at for at, e in enumerate(honest) if isinstance(e.body, ev.LotsRevealed))
    found = examined(changed(honest, at, lambda body: body.model_copy(update={"seed": "ab" * 32})))
    assert "proof-lot-other-seed" in why(found)
    assert found.code == DAMAGED


def test_lots_whose_hash_did_not_stand_before_the_first_tile_could_be_known(honest: list[Event]) -> None:
    at = next(at for at, e in enumerate(honest) if isinstance(e.body, ev.LotsCommitted))
    found = examined(changed(honest, at, lambda _: ev.NoteMade(text="a fine morning")))
    assert set(why(found)) == {"proof-lot-known"}
    assert found.code == DAMAGED


def test_a_seed_that_was_never_shown_is_named_by_its_event() -> None:
    events = porch(4, signed=False)
    found = examined(events)
    assert codes(found) == ["proof-lots-hidden"]
    committed = next(e.seq for e in events if isinstance(e.body, ev.LotsCommitted))
    assert (found.told[0].figures["event"], found.told[0].figures["drawn"]) == (str(committed), 4)
    assert found.code == UNSEALED


def test_a_lift_by_lot_of_a_tile_on_which_none_fell_is_found(honest: list[Event]) -> None:
    at = next(at for at, e in enumerate(honest) if isinstance(e.body, ev.LiftJudged) and e.body.came == "first of run")
    if honest[settings(honest)[0]].body.lot.fell:  # type: ignore[union-attr]
        at = next(a for a, e in enumerate(honest) if isinstance(e.body, ev.LiftJudged) and e.body.came == "forced")
    found = examined(changed(honest, at, lambda body: body.model_copy(update={"came": "lot"})))
    assert "proof-lot-no-lift" in why(found)


def test_a_tile_for_which_no_lot_was_drawn_is_told(honest: list[Event]) -> None:
    at = settings(honest)[-1]
    found = examined(changed(honest, at, lambda body: body.model_copy(update={"lot": None})))
    (told,) = [told for told in found.told if told.code == "proof-lots-not-drawn"]
    assert told.figures["count"] == 1


def test_events_that_make_no_sense_together_are_not_believed(honest: list[Event]) -> None:
    at = next(at for at, e in enumerate(honest) if isinstance(e.body, ev.AreaStarted))
    found = examined(changed(honest, at, lambda _: ev.NoteMade(text="a fine morning")))
    assert (codes(found), found.code) == (["proof-lots-not-checked"], DAMAGED)
