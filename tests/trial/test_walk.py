"""Trials at random: whatever is said in whatever order, every sample has its turn and nothing is lost."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from random import Random

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.engine import Decision
from fieldassist.checklist.fold import fold
from fieldassist.checklist.state import Area
from fieldassist.trial.drawn import order_for
from fieldassist.trial.samples import samples_of
from tests.checklist.days import MORNING, Bench, all_checklists, filled, plausible
from tests.trial.worked import planned

HEAD = "5a" * 32


def begun(seed: int) -> Bench:
    """A trial with its first batch mixed."""
    readers, bed = ["rosa", "otto"][: 1 + seed % 2], ("gauge", "mass")[seed % 2]
    plan = planned(readers=readers, repeats=2, counted=seed % 3 == 0, bed=bed)
    bench = Bench.begun(plan=plan.model_copy(update={"date": MORNING.date().isoformat()}))
    bench.speak("rosa")
    order = order_for(plan.areas[0], all_checklists()["mock-up"], HEAD)
    bench.take(cmd.StartArea(area="mock up", head=HEAD, order=order))
    bench.go_on()
    bench.call("batch")
    return bench


def area_of(bench: Bench) -> Area:
    assert bench.state.area is not None
    return bench.state.area


@pytest.mark.parametrize("seed", range(3))
def test_any_way_through_a_trial_keeps_order_count_and_record(seed: int) -> None:
    bench, dice = begun(seed), Random(seed)
    others = cmd.StartArea | cmd.FinishArea | cmd.SignDay
    for _ in range(160):
        task = area_of(bench).task
        if task is not None and task.section in ("batch", "less-water"):
            # No dice mix mortar.
            good = bench.next_answer()
            assert good is not None
            bench.do(good)
            continue
        asked = bench.prompt
        offers = [o for o in asked.offers if o.now and not isinstance(o.command, others)]
        seldom = cmd.Withdraw | cmd.SpoilSample | cmd.SpeakAs
        rare = [o for o in offers if isinstance(o.command, seldom)]
        often = [o for o in offers if o not in rare and o in asked.answers] or offers
        offer = dice.choice(rare if rare and dice.random() < 0.06 else often)
        if offer.slot is not None and not offer.slot.heard:
            continue
        bench.clock.advance(dice.choice((0.1, 0.1, 0.5, 0.5, 0.5, 2.0, 9.0)))
        bench.do(cmd.Tick())
        value = plausible(offer.slot, dice) if offer.slot is not None and offer.slot.units else (Fraction(0), None)
        bench.do(filled(offer, *value))
        area = area_of(bench)
        made = list(area.progress.samples.values())
        assert [sample.number for sample in made] == sorted(sample.number for sample in made)
        in_order = [sample.letter for sample in made if sample.place]
        assert tuple(in_order) == area.progress.order[: len(in_order)]
        spoiled, again = Counter(s.letter for s in made if s.spoiled), Counter(s.letter for s in made if not s.place)
        assert not again - spoiled
        assert sum(sample.under_way for sample in made) <= 1
    assert fold(bench.events) == bench.state
    assert any(sample.counts for sample in samples_of(area_of(bench)))
    for sample in samples_of(area_of(bench)):
        assert sample.spoiled is None or not sample.counts


def test_a_sample_whose_open_time_ran_out_is_spoiled_by_that_and_made_again() -> None:
    bench = begun(0)
    bench.take(cmd.StartRound(section="sample"))
    while bench.waiting_cautions:
        bench.take(cmd.AcknowledgeCaution())
    letter = area_of(bench).progress.samples[1].letter
    bench.take(cmd.ConfirmStep(section="sample", step="spread"))
    bench.clock.advance(25)
    assert isinstance(bench.do(cmd.Tick()), Decision)
    (sample,) = area_of(bench).progress.samples.values()
    assert sample.spoiled is not None
    assert sample.letter == letter
    # Unless it was set in time, and only called late.
    bench.take(cmd.CallLate(clock="open-time", reason="hands were full"))
    (sample,) = area_of(bench).progress.samples.values()
    assert sample.spoiled is None
    assert area_of(bench).sample == sample
