"""Invented trials for the tests of their screens."""

from __future__ import annotations

from typing import Any

from fieldassist.checklist.plan import TrialPlan
from fieldassist.trial.model import Analysis, Difference, Estimate, EyeReading, Gain, Sample


def tried(**changes: Any) -> TrialPlan:
    """Two notches on base and tile and on the base only."""
    given = {
        "try": [
            {"notch": ["half inch slanted", "three eighths square"], "sides": ["both", "one"], "movement": "one way"},
        ],
        "repeats": 3,
        "place": "wet",
        "surface": "wall",
        "readers": ["rosa", "otto"],
        "questions": [{"part": "sides", "one": "one", "other": "both"}],
    }
    return TrialPlan.model_validate(given | changes)


# What was read of A (slanted, both sides), B (slanted, base only), C (square, both), D (square, base only).
READ = {"A": (98, 99, 99), "B": (93, 95, 97), "C": (97, 99, 99), "D": (79, 84, 87)}


def samples() -> tuple[Sample, ...]:
    """Every one read by two readers; a fifth of B was spoiled."""
    made = [
        Sample(letter, 0, 0, 1, 10.0, (EyeReading("rosa", percent - 1.0), EyeReading("otto", percent + 1.0)))
        for letter, read in READ.items()
        for percent in read
    ]
    return tuple(made)


def analysis(**changes: Any) -> Analysis:
    """What a trial says of them."""
    given: dict[str, Any] = {
        "estimates": (
            Estimate("A", 3, 98.8, 97.9, 99.4, first=1, last=2, contender=True, chance="9 in 10 or better", bed_mm=8.2),
            Estimate("C", 3, 98.4, 97.2, 99.3, first=1, last=2, contender=True, chance="about 3 in 4", bed_mm=6.1),
            Estimate("B", 3, 95.2, 92.9, 97.0, first=3, last=3, contender=False, chance="about half", bed_mm=5.0),
            Estimate("D", 3, 83.4, 78.0, 87.5, first=4, last=4, eligible=False, contender=False),
        ),
        "differences": (Difference("A", "C", 0.4, -0.9, 1.7, 0.6, differs=False),),
        "ties": (("A", "C"),),
        "best": "A",
        "contenders": ("A", "C"),
        "gains": (
            Gain("sides", (("B", "A"), ("D", "C")), 9.2, 4.1, 14.0, 0.004, "t on pairs", (3.6, 15.0), found=True),
        ),
        "claim": "ranks",
        "df": 8,
        "spread": 0.4,
        "prior_spread": 0.45,
        "wide": False,
        "batch_sd": 0.1,
        "age_per_h": -0.2,
        "readers": 2,
        "more": 7,
    }
    return Analysis(**(given | changes))
