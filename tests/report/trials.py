"""Mock-up trials to print: combinations, readings and readers are invented, what they say is reckoned by `trial`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache
from typing import Any

from fieldassist.checklist import trying
from fieldassist.checklist.loader import load_folder
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Area, DrawnOrder, Progress, SampleAnswer, TrialSample
from fieldassist.facts.build import day_facts
from fieldassist.facts.model import DayFacts
from fieldassist.facts.telling import told_fact
from fieldassist.facts.trial import trial_fact
from fieldassist.language import Words
from fieldassist.places import shipped
from fieldassist.trade.message import Text
from tests.report.conftest import Site

HEAD = "3f" * 32
# What each combination is read at on average, and how easily it goes: invented.
READ: Mapping[str, float] = {
    "A": 68, "B": 96, "C": 78, "D": 95, "E": 92, "F": 93, "G": 97, "H": 98, "J": 85, "K": 88, "L": 74, "M": 81,
}  # fmt: skip
_OFF = (-1.5, 0.5, 1.0, -0.5, 2.0, -2.0, 0.0)
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
TWELVE = tuple(
    {"notch": notch, "sides": sides, "seating": seating, "movement": "none", "shown": True}
    for notch in ("quarter inch square", "quarter by half inch U", "half inch square")
    for sides in ("one", "both")
    for seating in ("by hand", "vibrated")
)
ASKED = ({"part": "seating", "one": "by hand", "other": "vibrated"},)


def area_of(combinations: Sequence[Mapping[str, Any]], **trial: Any) -> dict[str, Any]:
    """The area of a trial as a site file would hold it."""
    return {
        "name": "mock-up bench",
        "checklist": "mock-up",
        "where": "house four, ground floor, bay 2",
        "piece": {"product": "tile", "length": "600 mm", "width": "600 mm", "thickness": "9 mm"},
        "mortar": {"name": "Sample Mortar L", "kind": "large-and-heavy-tile", "pot_life": "90 min",
                   "open_time": "25 min", "least_bed": "3 mm", "greatest_bed": "12 mm"},
        "trial": {"combinations": list(combinations), "place": "wet", "surface": "wall",
                  "readers": ["rosa", "otto"], **trial},
    }  # fmt: skip


@cache
def _checklist() -> Checklist:
    loaded, _ = load_folder(shipped("checklists"))
    return loaded["mock-up"]


def _samples(letters: Sequence[str], repeats: int, spoil: int | None) -> dict[int, TrialSample]:
    """Samples in rounds; the one of number `spoil` was spoiled and is made again at the end."""
    order = [letter for _ in range(repeats) for letter in letters]
    again = [order[spoil - 1]] if spoil else []
    made: dict[int, TrialSample] = {}
    for number, letter in enumerate([*order, *again], start=1):
        spoiled = number == spoil
        made[number] = TrialSample(
            number=number,
            letter=letter,
            place=number if number <= len(order) else 0,
            batch=1 + (number - 1) // 9,
            age_min=3.0 + 4 * ((number - 1) % 9),
            at=Moment(wall=f"2026-03-04T{8 + number // 6:02}:{number % 6}4:10+01:00", mono=0.0, boot="a"),
            done=not spoiled,
            spoiled=Text.plain("the piece slipped off the wall") if spoiled else None,
            answers=() if spoiled else _answers(letter, number),
        )
    return made


def _answers(letter: str, number: int) -> tuple[SampleAnswer, ...]:
    def read(measures: str, value: float, unit: str, reader: str = "") -> SampleAnswer:
        return SampleAnswer("", measures, reader, Fraction(repr(value)), unit)

    first, second = (min(100, round(READ[letter] + _OFF[at % 7])) for at in (number, number * 3))
    return (
        read("coverage", first, "percent", "rosa"),
        read("coverage", second, "percent", "otto"),
        read("largest void", 400 + 90 * (number % 5), "mm2"),
        *(read("bed", bed, "mm") for bed in (3.9, 4.2, 4.4)),
        SampleAnswer("", "edges", option="full" if READ[letter] > 90 else "not full"),
        SampleAnswer("", "effort", option=("easy", "fair", "hard")[number % 3]),
        *([] if READ[letter] > 90 else [SampleAnswer("", "air", option="middle")]),
    )


def facts_of(area: dict[str, Any], repeats: int = 4, *, words: Words, spoil: int | None = None) -> DayFacts:
    """The facts of a day with such a trial."""
    day = {
        "site": "Quay Baths", "date": "2026-03-04", "areas": [area],
        "crew": [{"name": "rosa", "role": "installer"}, {"name": "otto", "role": "installer"},
                 {"name": "edwin", "role": "foreman"}],
    }  # fmt: skip
    checklist = _checklist()
    record = Site(day, checklist).record()  # type: ignore[arg-type]
    facts = day_facts(record.events, record.hashes, words)
    plan = AreaPlan.model_validate(area)
    run = trying.letters_run(plan, checklist)
    samples = _samples(run, repeats, spoil)
    progress = Progress(
        samples=samples,
        orders=(DrawnOrder(HEAD, tuple(sample.letter for sample in samples.values() if sample.place)),),
        ruled_out=trying.ruled_out(plan, checklist),
    )
    made = Area(plan=plan, checklist=checklist, method=plan.method, methods_used=(plan.method,), progress=progress)
    fact = trial_fact(made, standing(record.events), lambda told: told_fact(told, words))
    return facts.model_copy(update={"areas": [facts.areas[0].model_copy(update={"trial": fact})]})
