"""Mock-up trials to print: combinations, readings and readers are invented, what they say is reckoned by `trial`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from fieldassist.checklist import rules
from fieldassist.checklist.plan import AreaPlan, TrialPlan
from fieldassist.report.build.trial import MadeSample, TrialRecord
from fieldassist.report.build.words import ReportWords
from fieldassist.trade import ridges
from fieldassist.trade.message import Message, Text
from fieldassist.trade.mortar import bed_limits, bed_verdict
from fieldassist.trade.quantities import Units
from fieldassist.trial.analysis import analyse
from fieldassist.trial.model import Design, EyeReading, Sample
from fieldassist.trial.readers import agreement

HEAD = "3f" * 32
# What each combination is read at on average, and how easily it goes: invented.
READ: Mapping[str, float] = {
    "A": 68, "B": 96, "C": 78, "D": 95, "E": 92, "F": 93, "G": 97, "H": 98, "J": 85, "K": 88, "L": 74, "M": 81,
}  # fmt: skip
LABELS = {
    **{("effort", effort): Text.plain(effort.capitalize()) for effort in ("easy", "fair", "hard")},
    ("air", "middle"): Text.plain("Air in the middle"),
}
_OFF = (-1.5, 0.5, 1.0, -0.5, 2.0, -2.0, 0.0)


def area_of(combinations: Sequence[Mapping[str, Any]], **trial: Any) -> AreaPlan:
    """The area of a trial as a site file would hold it."""
    return AreaPlan.model_validate(
        {
            "name": "mock-up bench",
            "checklist": "mock-up",
            "where": "house four, ground floor, bay 2",
            "piece": {"product": "tile", "length": "600 mm", "width": "600 mm", "thickness": "9 mm"},
            "mortar": {"name": "Sample Mortar L", "kind": "large-and-heavy-tile", "pot_life": "90 min",
                       "open_time": "25 min", "least_bed": "3 mm", "greatest_bed": "12 mm"},
            "trial": {"combinations": list(combinations), "place": "wet", "surface": "wall",
                      "readers": ["rosa", "otto"], **trial},
        }
    )  # fmt: skip


EIGHT = (
    {"notch": "half inch square", "seating": "by hand", "movement": "none"},
    {"notch": "half inch square", "seating": "vibrated", "seconds": "5 s", "movement": "none"},
    {"notch": "quarter by half inch U", "seating": "by hand", "movement": "none"},
    {"notch": "quarter by half inch U", "seating": "vibrated", "seconds": "5 s", "movement": "none"},
    {"notch": "half inch slanted, narrow tooth", "seating": "by hand", "movement": "one way", "slide": "10 mm"},
    {"notch": "half inch ridge-collapse", "seating": "by hand", "movement": "one way", "slide": "1/2 in"},
    {"notch": "half inch ridge-collapse", "sides": "both", "seating": "by hand", "movement": "none"},
    {"notch": "half inch ridge-collapse", "sides": "both", "seating": "vibrated", "seconds": "5 s", "movement": "none"},
    {"notch": "three quarter half-round", "sides": "both", "seating": "by hand", "movement": "none"},
)  # fmt: skip
ASKED = ({"part": "seating", "one": "by hand", "other": "vibrated"},)


def samples_of(letters: Sequence[str], repeats: int, *, spoil: int | None = None) -> tuple[Sample, ...]:
    """Samples in rounds; the one of number `spoil` was spoiled and is made again at the end."""
    made: list[Sample] = []
    order = [letter for _ in range(repeats) for letter in letters]
    again = [order[spoil - 1]] if spoil else []
    for number, letter in enumerate([*order, *again], start=1):
        spoiled = number == spoil
        first = min(100.0, round(READ[letter] + _OFF[number % 7]))
        second = min(100.0, round(READ[letter] + _OFF[(number * 3) % 7]))
        made.append(
            Sample(
                letter,
                number,
                number if number <= len(order) else 0,
                1 + (number - 1) // 9,
                3.0 + 4 * ((number - 1) % 9),
                () if spoiled else (EyeReading("rosa", first), EyeReading("otto", second)),
                void_mm2=None if spoiled else 400.0 + 90 * (number % 5),
                edges_full=None if spoiled else READ[letter] > 90,
                bed_mm=() if spoiled else (3.9, 4.2, 4.4),
                effort="" if spoiled else ("easy", "fair", "hard")[number % 3],
                air="" if spoiled or READ[letter] > 90 else "middle",
                spoiled=Text.plain("the piece slipped off the wall") if spoiled else None,
            )
        )
    return tuple(made)


def record_of(
    plan: AreaPlan, repeats: int = 4, *, spoil: int | None = None, samples: tuple[Sample, ...] | None = None
) -> TrialRecord:
    """What the events of such a trial would come to."""
    trial = plan.trial
    assert trial is not None
    beds = {letter: _bed(trial, letter) for letter in trial.letters}
    limits = bed_limits("large-and-heavy-tile", data_sheet_least_mm=3, data_sheet_greatest_mm=12)
    verdicts = {letter: bed_verdict(bed, limits) for letter, bed in beds.items()}
    out: dict[str, tuple[Message | Text, ...]] = {
        letter: (verdict.reason,) for letter, verdict in verdicts.items() if not verdict.passed
    }
    run = tuple(letter for letter, one in trial.by_letter.items() if letter not in out or one.shown)
    made = samples if samples is not None else samples_of(run, repeats, spoil=spoil)
    design = Design(
        run,
        tuple(letter for letter in run if letter not in out),
        95,
        tuple(trial.pairs(question) for question in trial.questions),
        tuple(str(question.part or "") for question in trial.questions),
        len(trial.readers),
    )
    return TrialRecord(
        plan,
        trial,
        beds,
        out,
        made,
        design,
        analyse(made, design, HEAD),
        agreement(made),
        ((HEAD, tuple(sample.letter for sample in made if sample.place)),),
        {sample.number: MadeSample(f"{8 + sample.number // 6:02}:{sample.number % 6}4:10", "Rosa") for sample in made},
        (),
        (),
        LABELS,
    )


def _bed(trial: TrialPlan, letter: str) -> float:
    one = trial.by_letter[letter]
    return ridges.bed_after_collapse(rules.notch_of(one), one.angle, sides=one.sides)


def words(units: Units = "metric") -> ReportWords:
    """Words of a document."""
    return ReportWords(units, "2026-03-04")
