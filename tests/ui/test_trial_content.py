"""What the pages of a trial show, worked out without a screen."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.plan import MOST_COMBINATIONS, AreaPlan, TrialPlan
from fieldassist.language import Words
from fieldassist.trial.model import Estimate, EyeReading, Sample
from fieldassist.ui.content.kept_sites import keep
from fieldassist.ui.content.site_draft import area_draft, site_of, with_new_area
from fieldassist.ui.content.trial_design import (
    TRIED,
    TriedChoices,
    answer_of,
    choices_in,
    choices_of,
    entered_figures,
    proposed,
    put_figure,
    too_many,
    turned,
    ways_offered,
    with_choices,
    with_new_trial,
    with_question,
    with_reader,
)
from fieldassist.ui.content.trial_rank import headline_of, mark_of, ranking, said_of
from fieldassist.ui.content.trial_samples import readers_told, sample_lines
from fieldassist.ui.content.trial_words import notch_told, varying, way_told
from fieldassist.ui.content.trial_work import OrderMark, order_around
from tests import SITE
from tests.ui.trials import analysis, samples, tried

DRAFT = site_of(load_plan(SITE), "2026-03-17")


# --- the ranking --------------------------------------------------------------------------------------------------


def test_rows_stand_by_mean_and_every_sample_that_counts_is_a_circle() -> None:
    spoiled = Sample("D", 13, 5, 1, 20.0, spoiled=None)
    made = ranking(tried(), analysis(), (*samples(), spoiled), 95.0)
    assert [row.letter for row in made.rows] == ["A", "C", "B", "D"]
    assert [len(row.circles) for row in made.rows] == [3, 3, 3, 3]
    assert made.rows[3].circles == (79.0, 84.0, 87.0)
    assert made.start == 70


def test_the_scale_begins_under_everything_that_is_drawn() -> None:
    low = Estimate("D", 3, 55.0, 48.0, 61.0)
    made = ranking(tried(), analysis(estimates=(low,), best="D", contenders=("D",)), (), 85.0)
    assert made.start == 40


@pytest.mark.parametrize(
    ("low", "high", "mark"), [(95.0, 99.0, "pass"), (94.9, 99.0, "question"), (80.0, 94.9, "fail"), (None, None, None)]
)
def test_a_mark_tells_where_the_interval_of_a_mean_lies_against_what_is_needed(
    low: float | None, high: float | None, mark: str | None
) -> None:
    assert mark_of(Estimate("A", 3, 96.0, low, high), 95.0) == mark


def test_no_headline_says_that_two_are_equal_or_that_one_is_best_before_anything_may_be_ranked() -> None:
    assert headline_of(analysis()).code == "mockup-head-tie"
    assert headline_of(analysis(contenders=("A",))).code == "mockup-head-best"
    assert headline_of(analysis(contenders=("A", "B", "C", "D"))).code == "mockup-head-many"
    assert headline_of(analysis(claim="intervals")).code == "mockup-head-no-rank"
    assert headline_of(analysis(best=None)).code == "mockup-head-none-eligible"
    assert headline_of(analysis(estimates=(Estimate("A", 0),))).code == "mockup-head-none"


def test_under_a_mean_stands_its_chance_in_steps_or_that_it_is_shown_only() -> None:
    assert [said_of(one).code for one in analysis().estimates] == [
        "trial-chance-9-in-10-or-better",
        "trial-chance-about-3-in-4",
        "trial-chance-about-half",
        "mockup-shown-only",
    ]
    assert said_of(Estimate("A", 2, 95.0)).figures["count"] == 2


def test_a_combination_is_told_in_what_it_differs_in_and_two_notches_of_one_size_by_their_teeth() -> None:
    plan = tried()
    assert varying(plan.combinations) == {"sides"}
    words = Words()
    assert [words(way_told(one, {"sides"})) for one in plan.combinations[:2]] == ["base and tile", "base only"]
    teeth = tried(**{"try": [{"notch": ["half inch slanted", "half inch slanted, narrow tooth"]}], "questions": []})
    told = [words(notch_told(one, teeth.combinations)) for one in teeth.combinations]
    assert told == ["1/2 in slanted, 1/2 in tooth", "1/2 in slanted, 5/32 in tooth"]


# --- samples ------------------------------------------------------------------------------------------------------


def test_a_sample_that_is_half_read_or_spoiled_shows_no_figure() -> None:
    half = Sample("A", 1, 1, 1, 4.0, bed_mm=(5.0,))
    [line] = sample_lines([half])
    assert line.head.code == "mockup-being-read"
    assert not line.counts
    lines = sample_lines(samples())
    assert Words()(lines[0].head).split(", ") == ["Rosa 97 %", "Otto 99 %"]


def test_how_far_a_readers_eye_is_off_is_told_to_nobody_but_that_reader() -> None:
    counted = [
        Sample("A", n, n, 1, 5.0, (EyeReading("rosa", 88.0 + n % 3), EyeReading("otto", 84.0 + n % 2)), 85.0)
        for n in range(1, 13)
    ]
    told = {who: [one.code for one in readers_told(counted, ("rosa", "otto"), who)] for who in ("rosa", "edwin", None)}
    assert told["rosa"] == ["trial-readers-agree", "trial-reader-off"]
    assert told["edwin"] == told[None] == ["trial-readers-agree"]
    own = readers_told(counted, ("rosa", "otto"), "rosa")[1]
    assert own.figures["reader"] == "rosa"


def test_the_drawn_order_is_shown_around_the_sample_at_hand() -> None:
    marks = [*(OrderMark("A", "made") for _ in range(9)), OrderMark("B", "now"), OrderMark("C", "to come")]
    shown = order_around(marks, 4)
    assert len(shown) == 4
    assert OrderMark("B", "now") in shown
    assert order_around(marks[:3], 8) == tuple(marks[:3])


# --- the design ---------------------------------------------------------------------------------------------------


def test_a_new_trial_is_of_the_last_areas_piece_and_mortar_and_lacks_nothing() -> None:
    draft, index = with_new_trial(DRAFT)
    planned = area_draft(draft, index).done
    assert isinstance(planned, AreaPlan)
    assert planned.trial is not None
    assert planned.mortar == load_plan(SITE).areas[-1].mortar
    again, other = with_new_trial(draft)
    assert again.get("areas", other, "name") != planned.name
    # The next area in which tile is set is made of one, not of a trial.
    draft, after = with_new_area(draft)
    assert draft.get("areas", after, "checklist") == DRAFT.get("areas", index - 1, "checklist")


def test_what_is_chosen_comes_back_from_the_plan_as_it_was_chosen() -> None:
    chosen = TriedChoices(
        notches=("half inch square", "half inch slanted"),
        sides=("one", "both"),
        movement=("none", "one way"),
        seating=("by hand", "vibrated"),
        slide="12 mm",
        seconds="10 s",
        left_out=frozenset({("half inch slanted", "both", "keyed", "one way", "vibrated")}),
        shown=frozenset({("half inch square", "one", "keyed", "none", "by hand")}),
    )
    given = {"combinations": chosen.fields(), "place": "wet", "surface": "wall", "readers": ["rosa"]}
    plan = TrialPlan.model_validate(given)
    assert len(plan.combinations) == 15
    assert choices_of(plan.model_dump(mode="json", exclude_defaults=True)["combinations"]) == chosen


def test_a_trial_that_a_file_wrote_with_more_than_the_page_shows_says_so() -> None:
    combinations = [
        {"notch": "half inch square", "slide": "12 mm"},
        {"notch": "half inch slanted", "slide": "20 mm"},
    ]
    plan = tried(**{"try": combinations, "questions": []})
    assert not choices_of(plan.model_dump(mode="json", exclude_defaults=True)["combinations"]).exact


def test_the_last_value_of_a_factor_stays_and_too_many_combinations_are_refused() -> None:
    one = TriedChoices().toggled("back", "keyed")
    assert one.back == ("keyed",)
    given: dict[str, Any] = {str(factor): values for factor, values in TRIED.items()}
    every = TriedChoices(**given)
    assert len(every.ways) > MOST_COMBINATIONS
    assert too_many(every) is not None
    assert too_many(TriedChoices()) is None


def test_questions_are_proposed_as_soon_as_something_could_answer_them_and_go_with_it() -> None:
    draft, index = with_new_trial(DRAFT)
    sides = {"part": "sides", "one": "one", "other": "both"}
    assert proposed(draft, index) == (sides,)
    assert draft.get("areas", index, "trial", "questions") == [sides]
    draft = with_choices(draft, index, replace(choices_in(draft, index), seating=("by hand", "vibrated")))
    assert [one["part"] for one in draft.get("areas", index, "trial", "questions")] == ["sides", "seating"]
    draft = with_question(draft, index, sides)
    assert sides not in draft.get("areas", index, "trial", "questions")
    draft = with_choices(draft, index, replace(choices_in(draft, index), seating=("by hand",)))
    assert draft.get("areas", index, "trial", "questions") == []


def test_a_combination_that_is_ruled_out_runs_only_where_somebody_wants_to_see_it() -> None:
    draft, index = with_new_trial(DRAFT)
    choices = choices_in(draft, index)
    reasons = {"B": (headline_of(analysis()),)}
    out = ways_offered(choices, reasons)[1]
    assert (out.letter, out.runs) == ("B", False)
    shown = turned(choices, out)
    assert ways_offered(shown, reasons)[1].runs
    assert shown.fields()[1]["shown"] is True
    left = turned(choices, ways_offered(choices, {})[0])
    assert [way.letter for way in ways_offered(left, {})] == ["", "A", "B", "C"]


def test_how_far_is_asked_only_where_something_is_moved_and_is_that_of_every_combination() -> None:
    draft, index = with_new_trial(DRAFT)
    asked = {one.name: one for one in entered_figures(draft, index, "metric")}
    assert "seconds" not in asked
    draft = put_figure(draft, index, asked["slide"], "12 mm")
    assert {one["slide"] for one in draft.get("areas", index, "trial", "combinations")} == {"12 mm"}


def test_two_read_at_most_and_one_at_least() -> None:
    draft, index = with_new_trial(DRAFT)
    [first] = draft.get("areas", index, "trial", "readers")
    assert with_reader(draft, index, first).get("areas", index, "trial", "readers") == [first]
    two = with_reader(draft, index, "edwin")
    three = with_reader(two, index, "otto" if first != "otto" else "rosa")
    assert len(three.get("areas", index, "trial", "readers")) == 2


def test_a_design_says_what_it_takes_and_what_it_will_tell_apart() -> None:
    draft, index = with_new_trial(DRAFT)
    planned = area_draft(draft, index).done
    ways = ways_offered(choices_in(draft, index), {})
    made = answer_of(planned, 3, ways)
    assert made.head.figures["samples"] == 12
    codes = [told.code for told in made.then]
    assert "trial-needs-time" in codes
    assert sum(code.startswith("trial-hope") for code in codes) == 2
    assert [told.code for told in answer_of(None, 3, ways).first][-1] == "mockup-unfinished"


def test_no_file_is_needed_beside_the_plan(tmp_path: Path) -> None:
    """A trial that is designed on the tablet is an area of the plan like any other, kept in its file."""
    draft, _ = with_new_trial(DRAFT)
    keep(tmp_path / "site.yaml", draft)
    assert load_plan(tmp_path / "site.yaml") == draft.done
