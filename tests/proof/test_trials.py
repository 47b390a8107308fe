"""What `verify` says of trials: the order drawn again, and released figures held against the samples."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist import events as ev
from fieldassist.checklist.commands import MoreSamples
from fieldassist.checklist.plan import Role
from fieldassist.proof.trials import check_trials
from fieldassist.proof.verdict import Findings
from fieldassist.record.chain import Chain
from fieldassist.record.keys import Keyring
from tests.trial.worked import planned, worked


@pytest.fixture(scope="module")
def honest(tmp_path_factory: pytest.TempPathFactory) -> Chain:
    """A trial of two combinations, of which one was made once more, and the better one released."""
    folder: Path = tmp_path_factory.mktemp("trial")
    plan = planned(readers=["rosa"], repeats=2, **{"try": [{"notch": "half inch square", "sides": ["one", "both"]}]})
    crew = worked(folder / "day.db", lambda letter, number, _: {"A": 80, "B": 96}[letter] + number, plan)
    crew.all_samples(spoiled={1: "sample ruined ridges broke"})
    assert crew.day.do(MoreSamples(letters=("B",))).taken
    crew.mix()
    crew.sample()
    keys = Keyring(folder / "keys")
    keys.set_pin("edwin", Role.FOREMAN, "471182", now=crew.clock.now())
    assert crew.day.release_method(keys, "471182", "edwin", "B", ["hall"]).taken
    return Chain(list(crew.day.log.events), list(crew.day.log.hashes))


def examined(chain: Chain) -> Findings:
    found = Findings()
    check_trials(chain, found)
    return found


def changed(chain: Chain, kind: type, change: Callable[[Any], Any]) -> Chain:
    """The chain with the first body of a kind changed."""
    at = next(at for at, event in enumerate(chain.events) if isinstance(event.body, kind))
    event = chain.events[at]
    events = [*chain.events[:at], event.model_copy(update={"body": change(event.body)}), *chain.events[at + 1 :]]
    return replace(chain, events=events)


def why(found: Findings) -> list[str]:
    return [told.figures["why"].code for told in found.told if told.code == "proof-trial-not-good"]  # type: ignore[union-attr]


def test_an_honest_trial_is_drawn_and_reckoned_again(honest: Chain) -> None:
    found = examined(honest)
    assert [told.code for told in found.told] == ["proof-trials-good"]
    assert found.facts["trials"] == {"orders": 2, "samples": 6, "releases": 1, "faults": []}


def test_an_order_of_somebodys_own_is_found(honest: Chain) -> None:
    def method_after_method(body: ev.SamplesOrdered) -> ev.SamplesOrdered:
        return body.model_copy(update={"order": tuple(sorted(body.order))})

    assert why(examined(changed(honest, ev.SamplesOrdered, method_after_method)))[0] == "proof-trial-order"


def test_a_head_that_the_record_never_had_is_found(honest: Chain) -> None:
    other = changed(honest, ev.SamplesOrdered, lambda b: b.model_copy(update={"head": "ab" * 32}))
    # What is reckoned from that head comes out otherwise too.
    assert why(examined(other))[0] == "proof-trial-head"


@pytest.mark.parametrize("field", ["mean", "low", "variance", "samples"])
def test_figures_of_a_release_that_its_samples_do_not_give_are_found(honest: Chain, field: str) -> None:
    def better(body: ev.MethodReleased) -> ev.MethodReleased:
        trial = body.made.trial
        assert trial is not None
        value = getattr(trial, field) * 0.9 if field != "samples" else trial.samples + 1
        made = body.made.model_copy(update={"trial": trial.model_copy(update={field: value})})
        return body.model_copy(update={"made": made})

    assert why(examined(changed(honest, ev.MethodReleased, better))) == ["proof-trial-figures"]


def test_a_worst_sample_made_better_in_a_release_is_found(honest: Chain) -> None:
    better = changed(
        honest, ev.MethodReleased, lambda b: b.model_copy(update={"made": b.made.model_copy(update={"percent": 100.0})})
    )
    assert why(examined(better)) == ["proof-trial-figures"]


def test_a_sample_out_of_its_turn_is_found(honest: Chain) -> None:
    def other(body: ev.SectionOpened) -> ev.SectionOpened:
        assert body.sample is not None
        return body.model_copy(update={"sample": body.sample.model_copy(update={"place": 3})})

    at = next(at for at, e in enumerate(honest.events) if isinstance(e.body, ev.SectionOpened) and e.body.sample)
    event = honest.events[at]
    body = event.body
    assert isinstance(body, ev.SectionOpened)
    events = [*honest.events[:at], event.model_copy(update={"body": other(body)}), *honest.events[at + 1 :]]
    assert why(examined(replace(honest, events=events)))[0] == "proof-trial-turn"
