"""A trial's ranking as its page shows it: a row a combination, its samples, the interval of its mean against what is
needed, and what may be said of it. Nothing is reckoned here but places on the page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from fieldassist.checklist.plan import TrialPlan
from fieldassist.checklist.rules import notch_of
from fieldassist.trade.message import Figure, Message, Several, message, term
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.ridges import Notch
from fieldassist.trial import telling
from fieldassist.trial.model import Analysis, Estimate, Sample
from fieldassist.ui.content.trial_words import notch_told, varying, way_told

# Where the interval of a mean lies: over what is needed, about it, or under it.
RankMark: TypeAlias = Literal["pass", "question", "fail"]
# The drawn part of the scale ends at 100 and begins at a whole ten, at the highest here [percent].
_HIGHEST_START = 80
# With more than these the headline counts the contenders, and the sentence about beds leaves some out.
_MOST_NAMED = 3


@dataclass(frozen=True, slots=True)
class RankRow:
    """A combination in the ranking.

    notch: drawn; name, way: its words in two lines; circles: what was read of each sample that counts [percent]; mean,
    low, high: [percent], None where nothing may be said; mark: None without an interval; said: what stands under the
    mean; contender: still in the running to be the best; shown: ruled out by the reckoning, run to be looked at.
    """

    letter: str
    notch: Notch
    name: Figure
    way: Figure
    circles: tuple[float, ...]
    mean: float | None
    low: float | None
    high: float | None
    mark: RankMark | None
    said: Message
    contender: bool
    shown: bool


@dataclass(frozen=True, slots=True)
class TrialRanking:
    """The page. headline: what it comes to; rows: by mean, the highest first; start: of the scale [percent]; needed:
    [percent]; legend: what the drawing means; beds: of the contenders; gains: what was asked beforehand, each with
    whether it was found (None where nothing may be claimed); notes: what limits what it says.
    """

    headline: Message
    rows: tuple[RankRow, ...]
    start: int
    needed: float
    legend: Message
    beds: tuple[Message, ...]
    gains: tuple[tuple[Message, bool | None], ...]
    notes: tuple[Message, ...]


def ranking(plan: TrialPlan, analysis: Analysis, samples: Sequence[Sample], needed: float) -> TrialRanking:
    """The ranking of a trial; needed: contact that its setting requires [percent]."""
    counted = [sample for sample in samples if sample.counts]
    combinations, parts = plan.by_letter, varying(plan.combinations)
    rows = tuple(
        RankRow(
            one.letter,
            notch_of(combination := combinations[one.letter]),
            notch_told(combination, plan.combinations),
            way_told(combination, parts),
            tuple(sorted(sample.percent for sample in counted if sample.letter == one.letter)),
            one.mean,
            one.low,
            one.high,
            mark_of(one, needed),
            said_of(one),
            one.letter in analysis.contenders,
            not one.eligible,
        )
        for one in analysis.estimates
    )
    return TrialRanking(
        headline_of(analysis),
        rows,
        _start([value for row in rows for value in (*row.circles, row.low, needed - 5) if value is not None]),
        needed,
        term("mockup-legend", plan.seen),
        _beds(analysis),
        tuple(zip(telling.gains(analysis, plan.questions), (gain.found for gain in analysis.gains), strict=True)),
        _notes(analysis),
    )


def not_begun(plan: TrialPlan, letters: Sequence[str], needed: float) -> TrialRanking:
    """The page before anything is read: what will be tried. letters: of the combinations that are run."""
    combinations, parts = plan.by_letter, varying(plan.combinations)
    rows = tuple(
        RankRow(
            letter,
            notch_of(combinations[letter]),
            notch_told(combinations[letter], plan.combinations),
            way_told(combinations[letter], parts),
            (),
            None,
            None,
            None,
            None,
            message("mockup-samples", count=0),
            contender=False,
            shown=combinations[letter].shown,
        )
        for letter in letters
    )
    return TrialRanking(
        message("mockup-head-none"), rows, _HIGHEST_START, needed, term("mockup-legend", plan.seen), (), (), ()
    )


def mark_of(one: Estimate, needed: float) -> RankMark | None:
    """Where the interval of a mean lies against what is needed [percent]; None without one."""
    if one.low is None or one.high is None:
        return None
    return "pass" if one.low >= needed else "fail" if one.high < needed else "question"


def said_of(one: Estimate) -> Message:
    """What stands under a mean: that it is shown only, the chance of the next one in steps, or how many were read."""
    if not one.eligible:
        return message("mockup-shown-only")
    if one.chance is not None:
        return telling.chance(one.chance)
    return message("mockup-samples", count=one.samples)


def headline_of(analysis: Analysis) -> Message:
    """What a trial comes to, in a few words; nothing is ever called alike."""
    names = analysis.contenders
    if not any(one.samples for one in analysis.estimates):
        return message("mockup-head-none")
    if analysis.best is None:
        return message("mockup-head-none-eligible")
    if analysis.claim != "ranks":
        return message("mockup-head-no-rank")
    if len(names) < 2:
        return message("mockup-head-best", best=analysis.best)
    if len(names) <= _MOST_NAMED:
        return message("mockup-head-tie", letters=Several(names, "and"))
    return message("mockup-head-many", count=len(names))


def _beds(analysis: Analysis) -> tuple[Message, ...]:
    """The beds of the contenders, where they were read."""
    told = [
        message("mockup-bed-of", letter=one.letter, bed=Quantity(Fraction(repr(round(one.bed_mm, 1))), "mm"))
        for one in analysis.estimates
        if one.letter in analysis.contenders and one.bed_mm is not None
    ]
    return (message("mockup-beds", beds=Several(tuple(told[:_MOST_NAMED]))),) if told else ()


def _notes(analysis: Analysis) -> tuple[Message, ...]:
    """What it says in whole sentences, how many more would settle it, and what limits it."""
    more = telling.more(analysis)
    return (*telling.verdict(analysis), *((more,) if more is not None else ()), *telling.doubts(analysis))


def _start(values: Sequence[float]) -> int:
    return max(0, min(_HIGHEST_START, 10 * int(min(values, default=100.0) // 10)))


# --- places on the page -------------------------------------------------------------------------------------------


def ticks(start: int) -> tuple[int, ...]:
    """The lines of a scale from `start` to 100 [percent]: every 5, or every 10 of a long one.

    >>> ticks(80), ticks(40)
    ((80, 85, 90, 95, 100), (40, 50, 60, 70, 80, 90, 100))
    """
    return tuple(range(start, 101, 5 if start >= 75 else 10))


def dodged(places: Sequence[float], apart: float, levels: int = 3) -> tuple[int, ...]:
    """On which level each of some circles lies, so that those nearer than `apart` do not cover each other while there
    are levels left; places: from left to right.

    >>> dodged((0, 4, 20, 22, 23), 10)
    (0, 1, 0, 1, 2)
    """
    last: list[float | None] = [None] * levels
    found = []
    for place in places:
        free = [level for level, other in enumerate(last) if other is None or place - other >= apart]
        level = free[0] if free else min(range(levels), key=lambda at: last[at] or 0.0)
        last[level] = place
        found.append(level)
    return tuple(found)
