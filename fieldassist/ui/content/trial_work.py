"""The sample at hand as the page of the step shows it: which way it is made, which of how many, and the drawn order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fieldassist.checklist import trying
from fieldassist.checklist.plan import Combination
from fieldassist.checklist.state import Area
from fieldassist.trade.message import Figure, Message, message
from fieldassist.ui.content.trial_words import WayPart, notch_told, varying, way_told


@dataclass(frozen=True, slots=True)
class OrderMark:
    """One sample in the drawn order: its letter, and whether it is made, spoiled, at hand or to come."""

    letter: str
    standing: Literal["made", "spoiled", "now", "to come"]


@dataclass(frozen=True, slots=True)
class SampleShown:
    """A sample that is made, or comes next. told: which of how many; combination, name, way: how it is made; order: all
    samples as they were drawn; blind: it is being read, and how it was made is shown to nobody."""

    letter: str
    told: Message
    combination: Combination
    name: Figure
    way: Figure
    order: tuple[OrderMark, ...]
    blind: bool = False


def sample_shown(area: Area | None) -> SampleShown | None:
    """The sample at hand of a trial's area, else the one that comes next; None where there is neither."""
    trial = area.plan.trial if area is not None else None
    if area is None or trial is None:
        return None
    sample, after = area.sample, area.next_sample
    if area.task is not None and sample is None:
        return None  # a batch is mixed, or something else is done
    letter = sample.letter if sample is not None else after[0] if after is not None else None
    if letter is None:
        return None
    one = trial.by_letter[letter]
    # What is done alike in all of them is told by the steps; how far and how long is told all the same.
    beside: dict[WayPart, object] = {"movement": one.slide, "seating": one.seconds, "mortar": one.mortar or None}
    told = {"sides", *(part for part, given in beside.items() if given is not None)}
    parts = {*varying(trial.combinations), *told}
    again = sample.place == 0 if sample is not None else after is not None and after[1] == 0
    number = sample.number if sample is not None else len(area.progress.samples) + 1
    return SampleShown(
        letter,
        message("mockup-sample", number=str(number), planned=str(_in_all(area)), again="yes" if again else "no"),
        one,
        notch_told(one, trial.combinations),
        way_told(one, parts),
        _order(area),
        blind=sample is not None and sample.seen is not None,
    )


def _in_all(area: Area) -> int:
    """How many samples are made in all, with those that repeat spoiled ones."""
    return trying.planned(area) + sum(one.spoiled is not None for one in area.progress.samples.values())


def _order(area: Area) -> tuple[OrderMark, ...]:
    samples = list(area.progress.samples.values())
    made = [
        OrderMark(one.letter, "spoiled" if one.spoiled is not None else "made" if one.done else "now")
        for one in samples
    ]
    in_order = sum(one.place > 0 for one in samples)
    spoiled = [one.letter for one in samples if one.spoiled is not None]
    again = spoiled[len(samples) - in_order :]
    return (*made, *(OrderMark(letter, "to come") for letter in (*area.progress.order[in_order:], *again)))


def order_around(marks: Sequence[OrderMark], most: int) -> tuple[OrderMark, ...]:
    """So many of them around the one at hand, or the first that is to come."""
    at = next((n for n, one in enumerate(marks) if one.standing in ("now", "to come")), len(marks) - 1)
    first = min(max(0, at - most // 3), max(0, len(marks) - most))
    return tuple(marks[first : first + most])
