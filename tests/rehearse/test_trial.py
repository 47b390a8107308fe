"""A made-up trial is rehearsed: spoiled samples, two readers who disagree, its ranking, ties, refusals and release.

The figures are invented; in which order the samples are made is drawn anew each time.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from fieldassist.checklist.loader import WrongFile, load_plan
from fieldassist.checklist.plan import DayPlan
from fieldassist.cli import main
from fieldassist.places import shipped
from fieldassist.rehearsal.expect import WantedOfTrial, read_expectation
from fieldassist.rehearsal.samples import RowPhrase, SampleTalk
from fieldassist.rehearsal.script import read_script
from tests.facts import SCHEMA

FOLDER = shipped("assets") / "trial"
AREA = "sample boards"


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("trial") / "out"
    assert main(["rehearse", str(FOLDER / "plan.yaml"), str(FOLDER / "trial.txt"), "--out", str(folder)]) == 0
    return folder


@pytest.fixture(scope="module")
def facts(out: Path) -> Any:
    return json.loads((out / "facts.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def trial(facts: Any) -> Any:
    (area,) = facts["areas"]
    return area["trial"]


# --- the day, its facts and its ranking ---------------------------------------------------------------------------


def test_facts_of_a_trial_keep_to_the_published_shape(facts: Any) -> None:
    Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8"))).validate(facts)


def test_spoiled_samples_stay_in_the_facts_with_their_reasons_and_count_for_nothing(trial: Any) -> None:
    spoiled = [one for one in trial["samples"] if one["spoiled"]]
    assert sorted((one["letter"], one["spoiled"]["code"]) for one in spoiled) == [
        ("A", "trial-spoiled-reason-piece-slipped"),
        ("D", "trial-spoiled-reason-somebody-touched-it"),
    ]
    assert not any(one["counts"] or one["readings"] for one in spoiled)
    assert {one["letter"]: one["samples"] for one in trial["analysis"]["estimates"]} == dict.fromkeys("ABCD", 4)
    assert sorted(one["letter"] for one in trial["samples"] if one["place"] == 0) == ["A", "D"]


def test_both_readers_stand_beside_each_sample(trial: Any) -> None:
    read = [one for one in trial["samples"] if one["counts"]]
    assert all([eye["reader"] for eye in one["readings"]] == ["rosa", "otto"] for one in read)
    worst = max(one["readings"][0]["percent"] - one["readings"][1]["percent"] for one in read)
    assert worst == 15.0
    told = trial["agreement"]
    # They are named in the order of the alphabet: Otto reads lower.
    assert (told["readers"], told["pairs"], told["largest"]) == (["otto", "rosa"], 16, 15.0)
    assert told["mean"] == sum(-a["percent"] + b["percent"] for a, b in (one["readings"] for one in read)) / 16


def test_the_order_stands_with_the_head_that_it_was_drawn_from(trial: Any) -> None:
    (drawn,) = trial["orders"]
    assert len(drawn["head"]) == 64
    in_order = [one["letter"] for one in trial["samples"] if one["place"] > 0]
    assert in_order == drawn["order"]


def test_the_ranking_is_told_from_the_record_and_from_its_pages(
    out: Path, trial: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["trial", "ranking", str(out / "day.db")]) == 0
    told = capsys.readouterr().out
    rows = [line.split() for line in told.splitlines() if re.match(r"\d(-\d)? +[A-D] ", line)]
    assert [row[1] for row in rows] == trial["analysis"]["ranking"]
    assert main(["trial", "ranking", str(out / "daily-log.pdf"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {AREA: trial}
    assert main(["trial", "ranking", str(out / "day.db"), "--area", "cellar"]) == 2


def test_what_a_rehearsal_released_carries_no_work(out: Path, tmp_path: Path) -> None:
    plan = shipped("assets") / "demo" / "site.yaml"
    assert main(["begin", str(plan), str(tmp_path / "day.db"), "--today", "--trial", str(out / "day.db")]) == 2
    assert not (tmp_path / "day.db").exists()


def test_a_rehearsal_takes_what_another_one_released(out: Path, tmp_path: Path) -> None:
    script = tmp_path / "script.txt"
    script.write_text("07:00 rosa: weather sunny\n", encoding="utf-8")
    plan = shipped("assets") / "demo" / "site.yaml"
    given = ["rehearse", str(plan), str(script), "--trial", str(out / "day.db"), "--out", str(tmp_path / "out")]
    assert main(given) == 0
    areas = json.loads((tmp_path / "out" / "facts.json").read_text(encoding="utf-8"))["areas"]
    rests = {area["name"]: area["from_trial"] for area in areas}
    assert [rests[name]["letter"] for name in ("shower wall", "hall floor")] == ["C", "C"]
    assert rests["lobby wall"] is None
    assert rests["shower wall"]["why"] == "the vibrator is at hand only on Mondays"


# --- what a script says of samples --------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    return load_plan(FOLDER / "plan.yaml")


BEGIN = "07:00 rosa: start area sample boards\n"


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        ("for each sample, rosa: next sample; ; spread\n", "rehearse-row"),
        ("for each sample, next sample\n", "rehearse-row"),
        ("for each sample, robert: next sample\n", "rehearse-nobody-called"),
        ("for each sample, rosa: rosa reads {rosa} %\nfor A: rosa\n", "rehearse-fill"),
        ("for each sample, rosa: rosa reads {rosa} %\nfor A: rosa 90; rosa 91\n", "rehearse-fill"),
        ("for each sample, rosa: rosa reads {rosa} %\nfor A: otto 90\n", "rehearse-not-filled"),
        ("for each sample, rosa: next sample\nfor A: otto 90\n", "rehearse-filled-for-nothing"),
        ("for Q: rosa 90\n", "rehearse-no-such-letter"),
        ("for sample 1 of Q, rosa: next sample\n", "rehearse-no-such-letter"),
        ("07:10 samples, 3 min apart\n", "rehearse-samples-without-row"),
    ],
)
def test_a_wrong_line_about_samples_is_told(lines: str, code: str, tmp_path: Path, plan: DayPlan) -> None:
    script = tmp_path / "script.txt"
    script.write_text(BEGIN + lines, encoding="utf-8")
    with pytest.raises(WrongFile) as caught:
        read_script(script, plan)
    assert code.removeprefix("file-") in {problem.code for problem in caught.value.problems}


def test_a_script_that_has_no_more_to_say_of_a_letter_misses_an_expectation(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "script.txt"
    batch = "next batch; understood; 1 bag!; lot 7!; water 6 L!; batch mixed; wait 8 min; remixed"
    begun = "07:01 rosa: understood\n07:02 rosa: air temperature 20 degrees!\n"
    begun += "07:03 rosa: base temperature 20 degrees!\n07:04 rosa: base checked\n"
    rows = f"for sample 9 of A, rosa: next sample\nwhenever a batch is due, rosa: {batch}\n"
    script.write_text(BEGIN + begun + rows + "07:05 samples\n", encoding="utf-8")
    assert main(["rehearse", str(FOLDER / "plan.yaml"), str(script), "--out", str(tmp_path / "out")]) == 1
    assert "script.txt, line 8" in capsys.readouterr().err


TWO_MORTARS = """\
for each sample, rosa: next sample; understood; spread; combed straight; back keyed; back combed; sample set; pressed; \
looked through; no photo; coverage {rosa} %!; void 5 cm2; edges full; mortar used 3.5 kg; effort easy; free of air!
for A: rosa 80
for B: rosa 96
whenever a batch is due, rosa: next batch bucket {bucket}; understood; 1 bag!; lot 7!; water 6 L!; batch mixed; \
wait 8 min; remixed
07:00 rosa: start area sample boards
07:01 rosa: understood
07:02 rosa: air temperature 20 degrees!
07:03 rosa: base temperature 20 degrees!
07:04 rosa: base checked
07:05 samples, 3 min apart
expect 2 made in sample boards
expect claim pictures in sample boards
expect 2 batches of sample boards
"""


def test_two_mortars_under_a_sheet_read_by_one_and_weighed_are_rehearsed(tmp_path: Path) -> None:
    plan = YAML(typ="safe").load(FOLDER / "plan.yaml")
    (area,) = plan["areas"]
    other = area["mortar"] | {"name": "Sample Mortar S"}
    way = {"notch": "quarter inch square", "sides": "both", "movement": "none", "seating": "by hand"}
    area["trial"] |= {
        "mortars": [other],
        "try": way | {"mortar": ["", other["name"]]},
        "repeats": 1,
        "readers": ["rosa"],
    }
    area["trial"] |= {"seen": "through the sheet", "bed": "mass", "questions": []}
    # What YAML reads JSON is too.
    (tmp_path / "plan.yaml").write_text(json.dumps(plan), encoding="utf-8")
    (tmp_path / "script.txt").write_text(TWO_MORTARS, encoding="utf-8")
    given = ["rehearse", str(tmp_path / "plan.yaml"), str(tmp_path / "script.txt"), "--out", str(tmp_path / "out")]
    assert main(given) == 0


def test_a_letter_takes_its_values_in_turn_and_a_spoiled_sample_takes_none() -> None:
    said = SampleTalk(
        each=(RowPhrase("rosa", "reads {rosa}"), RowPhrase("rosa", "bed {bed}")),
        fills={"A": {"rosa": ("90", "91"), "bed": ("5",)}},
        instead={("A", 2): (RowPhrase("rosa", "sample ruined"),)},
    )

    def words(*before: str) -> list[str] | None:
        row = said.row("A", before)
        return None if row is None else [one.words for one in row]

    assert words("B") == ["reads 90", "bed 5"]
    assert words("A") == ["sample ruined"]
    assert words("A", "B", "A") == ["reads 91", "bed 5"]
    assert words("A", "A", "A") is None
    assert said.row("B", ()) is None


# --- what may be expected -----------------------------------------------------------------------------------------


SAID = {
    "areas": [
        {
            "name": AREA,
            "trial": {
                "made": 8,
                "combinations": [{"letter": "A", "ruled_out": []}, {"letter": "E", "ruled_out": ["why"]}],
                "samples": [{"spoiled": None}, {"spoiled": "why"}],
                "releases": [{"letter": "C"}],
                "analysis": {
                    "claim": "ranks",
                    "ranking": ["C", "A"],
                    "contenders": ["C"],
                    "ties": [["A", "B"]],
                    "differences": [
                        {"better": "C", "worse": "A", "differs": True},
                        {"better": "A", "worse": "B", "differs": False},
                    ],
                },
            },
        },
        {"name": "hall", "trial": None},
    ]
}


@pytest.mark.parametrize(
    ("words", "holds"),
    [
        ("C, A in sample boards", True),
        ("A, C in sample boards", False),
        ("C better than A in sample boards", True),
        ("A better than B in sample boards", False),
        ("A not better than B in sample boards", True),
        ("A, B tied in sample boards", True),
        ("A, C tied in sample boards", False),
        ("no ties in sample boards", False),
        ("contenders C in sample boards", True),
        ("E ruled out in sample boards", True),
        ("A not ruled out in sample boards", True),
        ("A, E ruled out in sample boards", False),
        ("claim ranks in sample boards", True),
        ("claim pictures in sample boards", False),
        ("1 spoiled in sample boards", True),
        ("8 samples made in sample boards", True),
        ("7 made in sample boards", False),
        ("C released in sample boards", True),
        ("A released in sample boards", False),
        ("C, A in hall", False),
    ],
)
def test_what_is_expected_of_a_trial_holds_or_not(words: str, holds: bool) -> None:
    wanted = read_expectation(words, [AREA, "hall"])
    assert isinstance(wanted, WantedOfTrial)
    assert (wanted.differs(SAID) is None) is holds
