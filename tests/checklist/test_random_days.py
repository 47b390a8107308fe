"""Whatever is said in whatever order, the engine answers, the log folds to the same state, and nothing is undue."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import Event
from fieldassist.checklist.prompt import Offer
from fieldassist.checklist.state import fold
from tests.conftest import Crew


def answer(offer: Offer, dice: random.Random) -> Command:
    """The offer's command with a value somewhere in, and sometimes out of, its plausible range."""
    slot = offer.slot
    if slot is None:
        return offer.command
    if slot.dimension == "name":
        return offer.fill(Fraction(7), "count", "tile B7")
    span = slot.high - slot.low
    good = {"coverage": 97, "length": 2, "temperature": 20, "void": 0, "duration": 8}.get(slot.quantity)
    value = good if good is not None and dice.random() < 0.7 else slot.low + span * dice.uniform(-0.05, 1.05)
    return offer.fill(Fraction(value).limit_denominator(8), slot.units[0])


@pytest.mark.parametrize("seed", range(12))
def test_random_talk_never_breaks_the_engine(crew: Crew, seed: int) -> None:
    dice = random.Random(seed)
    day = crew.day
    for _ in range(250):
        offers = day.prompt.offers
        likely = [o for o in offers if o.now and not isinstance(o.command, cmd.SignDay | cmd.Ask)]
        offer = dice.choice(likely) if likely and dice.random() < 0.85 else dice.choice(list(offers))
        if isinstance(offer.command, cmd.SignDay) and dice.random() < 0.97:
            continue
        crew.clock.advance(dice.choice([0.1, 0.5, 1, 3, 12]))
        if dice.random() < 0.9:
            day.tick()
        before = day.state
        outcome = day.do(answer(offer, dice))
        if not outcome.taken:
            assert [type(e.body) for e in outcome.events] in ([ev.CommandRefused], [])
        for area in day.state.areas.values():
            assert (area.progress.phase == "finished") <= (not area.progress.tasks)
            assert area.progress.lifts_passed <= area.progress.lifts
        assert day.state.last_seq >= before.last_seq
    assert fold(day.log.events) == day.state
    again = [Event.model_validate_json(e.model_dump_json()) for e in day.log.events]
    assert fold(again) == day.state, "what is on disk says the same"


@pytest.mark.parametrize("seed", range(4))
def test_no_step_is_ever_taken_while_a_caution_is_due(crew: Crew, seed: int) -> None:
    dice = random.Random(1000 + seed)
    steps = (ev.StepConfirmed, ev.ReadingCalled, ev.ChoiceMade, ev.HoldReleased)
    for _ in range(200):
        offer = dice.choice([o for o in crew.day.prompt.offers if not isinstance(o.command, cmd.SignDay)])
        area = crew.day.state.area
        due = area.cautions_due() if area else ()
        done = crew.day.do(answer(offer, dice))
        if due:
            assert not any(isinstance(e.body, steps) for e in done.events), due[0].id
