"""What makes no sense is named by its event, though whoever wrote it holds the keys: the record is decided again."""

from __future__ import annotations

import copy
from collections.abc import Callable
from functools import cache
from itertools import islice
from pathlib import Path

import pytest

from fieldassist.checklist.events import RULES
from fieldassist.proof.examine import examine
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Judgment
from fieldassist.record.chain import chain_hash
from fieldassist.record.log import DayLog
from tests.golden import LOGS, events_of, log_of, texts_of, worked
from tests.proof.mutants import mutants
from tests.proof.reseal import Raw, raws_of, resealed, senseless
from tests.small_day import EDWIN

KEYS = {"edwin": EDWIN}


@cache
def rich_day() -> tuple[Raw, ...]:
    """A day with failures and their cures, clocks, lots, changes, takings back, refusals, and an addendum."""
    return tuple(raws_of(worked("wet-area-wall", pace=0.04).events))


@pytest.fixture
def raws() -> list[Raw]:
    return copy.deepcopy([*rich_day()])


def at(raws: list[Raw], kind: str, number: int = 0) -> int:
    """The place of an event of this kind."""
    return [n for n, raw in enumerate(raws) if raw["body"]["type"] == kind][number]


def named(raws: list[Raw]) -> list[tuple[int, str]]:
    return [(seq, why.code.removeprefix("proof-sense-")) for seq, why in senseless(resealed(raws, KEYS))]


def looked_at(raws: list[Raw], folder: Path) -> Judgment:
    """What the inspector is told of it, with the foreman's key at hand."""
    with DayLog.create(folder / "day.db") as log:
        log.append_texts(resealed(raws, KEYS))
    (folder / "scratch").mkdir()
    return examine(folder / "day.db", Known(EDWIN.public_key), folder / "scratch")


def test_a_day_as_it_was_worked_makes_sense_and_is_chained_anew_without_a_change(raws: list[Raw]) -> None:
    assert named(raws) == []
    events = worked("wet-area-wall", pace=0.04).events
    assert resealed(raws, KEYS) == texts_of(events)


@pytest.mark.parametrize("name", [name for name in LOGS if getattr(events_of(name)[0].body, "rules", 0)])
def test_a_golden_day_is_decided_again_as_it_was(name: str) -> None:
    """Whatever the engine decides otherwise one day, it decides by the rules that a day was begun under."""
    assert senseless(log_of(name).read_text(encoding="utf-8").splitlines()) == []


def test_there_is_a_golden_day_of_the_rules_that_hold_now() -> None:
    assert RULES in {getattr(events_of(name)[0].body, "rules", 0) for name in LOGS}


# --- made senseless by hand ---------------------------------------------------------------------------------------


def flip(raws: list[Raw]) -> int:
    place = next(n for n, raw in enumerate(raws) if raw["body"].get("verdict") == "failed")
    raws[place]["body"]["verdict"] = "passed"
    return place


def another_reading(raws: list[Raw]) -> int:
    place = at(raws, "lift judged")
    raws[place]["body"]["coverage"] = "98"
    return place


def no_failures(raws: list[Raw]) -> int:
    place = at(raws, "failure opened")
    raws[:] = [raw for raw in raws if raw["body"]["type"] not in ("failure opened", "failure closed")]
    return place


def finished_by_decree(raws: list[Raw]) -> int:
    place = at(raws, "lots revealed")
    raws.insert(place, raws[place] | {"id": "x.0", "body": {"type": "area finished", "area": "shower wall"}})
    raws[place].pop("command")
    return place


def nobody_told_that_the_time_was_up(raws: list[Raw]) -> int:
    place = at(raws, "clock ran out")
    tick = raws[place]["id"].rsplit(".", 1)[0]
    raws[:] = [raw for raw in raws if raw["id"].rsplit(".", 1)[0] != tick]
    # Whoever asked for the next thing did so two minutes after the time was up.
    asked = raws[place]["id"].rsplit(".", 1)[0]
    for raw in raws[place:]:
        if raw["id"].rsplit(".", 1)[0] == asked:
            raw["at"]["mono"] += 120.0
    return place


def recovered_from_nothing(raws: list[Raw]) -> int:
    place = at(raws, "area started")
    body = {"type": "day recovered", "events": 3, "behind": 0, "missing": []}
    source = {"how": "clock", "model": "", "confidence": None, "words": "", "together": 0, "doubt": False}
    raws.insert(place, {**raws[place], "id": "x.0", "by": "clock", "source": source, "body": body})
    raws[place].pop("command")
    return place


def another_signs(raws: list[Raw]) -> int:
    place = at(raws, "day signed")
    raws[place]["body"]["name"] = raws[place + 1]["body"]["name"] = "rosa"
    return place


def a_stranger_signs(raws: list[Raw]) -> int:
    place = at(raws, "day signed")
    for n in (place, place + 1):
        raws[n]["body"] |= {"name": "the building inspector", "role": "owner"}
    return place


def no_open_points(raws: list[Raw]) -> int:
    place = at(raws, "day signed")
    assert raws[place]["body"].pop("open_points")
    return place


def signed_twice(raws: list[Raw]) -> int:
    place = at(raws, "day sealed") + 1
    raws.insert(place, raws[place - 2] | {"id": "x.0", "command": {"do": "sign day", "accept_open": True}})
    return place


def part_seven(raws: list[Raw]) -> int:
    place = at(raws, "day signed")
    raws[place]["body"]["part"] = raws[place + 1]["body"]["part"] = 7
    return place


def a_second_day(raws: list[Raw]) -> int:
    place = at(raws, "note made")
    raws.insert(place, copy.deepcopy(raws[0]) | {"id": "x.0", "at": raws[place]["at"]})
    return place


def a_target_to_come(raws: list[Raw]) -> int:
    place = at(raws, "withdrawn")
    raws[place]["body"]["target"] = 99_999
    return place


def nobodys_correction(raws: list[Raw]) -> int:
    place = at(raws, "correction made")
    raws[place]["body"]["target"] = raws[place]["command"]["target"] = 99_999
    return place


def beyond_all_figures(raws: list[Raw]) -> int:
    place = at(raws, "lift judged")
    raws[place]["body"] |= {"coverage": "-50", "required": "1000000000", "verdict": "passed"}
    return place


def numbers_as_words(raws: list[Raw]) -> int:
    place = at(raws, "clock started")
    raws[place]["body"]["minutes"] = str(raws[place]["body"]["minutes"])
    return place


def refused_what_is_taken(raws: list[Raw]) -> int:
    place = at(raws, "command refused")
    raws[place]["command"] = {"do": "make note", "text": "all is well"}
    return place


def a_refusal_of_nothing(raws: list[Raw]) -> int:
    place = at(raws, "command refused")
    raws[place].pop("command")
    return place


def no_command(raws: list[Raw]) -> int:
    place = at(raws, "tile lifted")
    raws[place].pop("command")
    return place


def letters_that_nobody_sees(raws: list[Raw]) -> int:
    place = at(raws, "note made")
    raws[place]["source"]["words"] = "all \u202e well"
    return place


def a_run_of_the_machine_that_was_over(raws: list[Raw]) -> int:
    place = at(raws, "day signed")
    raws[place - 1]["at"]["boot"] = "another"
    return place


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (flip, "field"),
        (another_reading, "field"),
        (no_failures, "other-event"),
        (nobody_told_that_the_time_was_up, "run-out"),
        (recovered_from_nothing, "recovered"),
        (finished_by_decree, "unasked"),
        (another_signs, "field"),
        (a_stranger_signs, "field"),
        (no_open_points, "field"),
        (signed_twice, "refused"),
        (part_seven, "field"),
        (a_second_day, "second-day"),
        (a_target_to_come, "field"),
        (nobodys_correction, "refused"),
        (beyond_all_figures, "field"),
        (numbers_as_words, "form"),
        (refused_what_is_taken, "not-refused"),
        (a_refusal_of_nothing, "refused-what"),
        (no_command, "unasked"),
        (letters_that_nobody_sees, "hidden"),
        (a_run_of_the_machine_that_was_over, "run-again"),
    ],
)
def test_it_is_named_at_its_event(make: Callable[[list[Raw]], int], code: str, raws: list[Raw]) -> None:
    place = make(raws)
    assert (place + 1, code) in named(raws)


def test_a_day_in_a_year_that_cannot_be_is_named(raws: list[Raw]) -> None:
    for raw in raws:
        raw["at"]["wall"] = raw["at"]["wall"].replace("2026-", "2019-", 1)
    raws[0]["body"]["plan"]["date"] = "2019-03-17"
    assert (1, "year") in named(raws)


def test_more_than_a_crew_can_ask_for_in_a_minute_is_named_once() -> None:
    at_once = raws_of(worked("wet-area-wall").events)
    assert [code for _, code in named(at_once)] == ["hurry"]


def test_the_last_word_of_a_senseless_day_is_that_it_is_not_good(raws: list[Raw], tmp_path: Path) -> None:
    raws = raws[: at(raws, "day sealed") + 1]
    whole = looked_at(raws, tmp_path)
    assert (whole.facts["sense"]["decided_again"], whole.facts["sense"]["senseless"]) == (True, [])
    (tmp_path / "forged").mkdir()
    place = flip(raws)
    verdict = looked_at(raws, tmp_path / "forged")
    assert verdict.exit_code == DAMAGED
    assert verdict.facts["sense"]["senseless"][0]["event"] == place + 1
    assert [seal["good"] for seal in verdict.facts["seals"]] == [True]
    assert whole.exit_code in (WHOLE, UNSEALED)


# --- what is no mistake -------------------------------------------------------------------------------------------


def test_a_text_that_lacks_a_field_at_its_default_is_no_mistake(raws: list[Raw]) -> None:
    """So a log of an earlier version reads: what came to the events since is left out of it."""
    before = [chain_hash(text) for text in resealed(raws, KEYS)]
    for raw in raws:
        raw["source"].pop("doubt")
        if raw["body"]["type"] == "section closed" and raw["body"]["empties"] is None:
            raw["body"].pop("empties")
    assert [chain_hash(text) for text in resealed(raws, KEYS)] != before
    assert named(raws) == []


def test_a_text_that_lacks_a_field_that_matters_is_one(raws: list[Raw]) -> None:
    place = next(n for n, raw in enumerate(raws) if raw["body"].get("called"))
    raws[place]["body"].pop("called")
    assert (place + 1, "field") in named(raws)


def test_lots_of_a_seed_that_is_not_shown_are_taken_as_they_stand(raws: list[Raw]) -> None:
    raws = raws[: at(raws, "lots revealed")]
    assert named(raws) == []
    place = next(n for n, raw in enumerate(raws) if raw["body"].get("lot"))
    raws[place]["body"]["lot"]["setting"] += 1
    assert named(raws)[0] == (place + 1, "field")


def test_a_record_of_no_rules_or_of_newer_ones_is_not_decided_again_and_not_called_whole(
    raws: list[Raw], tmp_path: Path
) -> None:
    for rules, code in ((0, "proof-sense-no-rules"), (RULES + 1, "proof-sense-newer-rules")):
        raws[0]["body"]["rules"] = rules
        (tmp_path / str(rules)).mkdir()
        verdict = looked_at(raws[: at(raws, "day sealed") + 1], tmp_path / str(rules))
        assert verdict.exit_code == UNSEALED
        assert code in {told.code for told in verdict.told}
        assert not verdict.facts["sense"]["decided_again"]


# --- at random ----------------------------------------------------------------------------------------------------


def test_records_made_senseless_at_random_are_each_named_where_they_were_made_so() -> None:
    """A sample: `python -m tests.senseless` makes 200."""
    for mutant in islice(mutants(rich_day(), seed=2026), 25):
        first = next(iter(senseless(resealed(mutant.raws, KEYS))), None)
        assert first is not None, mutant.what
        assert mutant.first <= first[0] <= mutant.last, f"{mutant.what}: {first}"
