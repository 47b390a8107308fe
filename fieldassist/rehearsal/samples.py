"""What comes next in a trial, and what a script says of its samples.

The order of the samples is drawn from the record, so that no script can know it: what is said of each stands by the
letter of its combination, and the first sample of a letter that comes up takes what stands first there.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from fieldassist.checklist.offers import BUCKETS
from fieldassist.checklist.plan import DayPlan, TrialPlan
from fieldassist.checklist.state import Area
from fieldassist.trial.order import batches_of

# A letter; or that mortar has to be mixed before the next sample.
NextDue: TypeAlias = "Literal['batch'] | str"
_FILLED = re.compile(r"\{([a-z][a-z0-9_]*)\}")


@dataclass(frozen=True, slots=True)
class RowPhrase:
    """One phrase of a row: who says it, and whether a yes follows where one is waited for."""

    name: str
    words: str
    agreed: bool = False


def due(area: Area) -> NextDue | None:
    """What comes next in a trial: a batch, where none is alive or the last one has served as many samples as the order
    reckons with, or the letter of the next sample; None where all are made."""
    trial = area.plan.trial
    if trial is None or area.next_sample is None:
        return None
    letter, place = area.next_sample
    bucket = trial.mortar_place(letter) + 1
    batch = next((b for b in reversed(list(area.progress.batches.values())) if b.alive and b.bucket == bucket), None)
    if batch is None:
        return "batch"
    served = sum(sample.batch == batch.round for sample in area.progress.samples.values())
    batches = batches_of(
        area.progress.order, trial.a_batch, {each: one.mortar for each, one in trial.by_letter.items()}
    )
    changes = place > 1 and batches[place - 1] != batches[place - 2]
    return "batch" if served and changes else letter


def bucket_due(area: Area) -> str:
    """The bucket of the mortar that the next sample takes, as it is said: each mortar has its own."""
    trial = area.plan.trial
    at = trial.mortar_place(area.next_sample[0]) if trial is not None and area.next_sample is not None else 0
    return BUCKETS[at]


@dataclass(slots=True)
class SampleTalk:
    """What is said of the samples of a trial.

    each: of every sample, with {names} for what its letter fills in; fills: by letter, of each name one value, or one
    for each sample in turn; instead: of the sample of a letter that comes up so many times, counted from 1, in place of
    `each`; batch: of a batch, with {bucket} for that of the mortar that is due.
    """

    each: tuple[RowPhrase, ...] = ()
    fills: dict[str, Mapping[str, tuple[str, ...]]] = field(default_factory=dict)
    instead: dict[tuple[str, int], tuple[RowPhrase, ...]] = field(default_factory=dict)
    batch: tuple[RowPhrase, ...] = ()

    def batch_row(self, area: Area) -> tuple[RowPhrase, ...]:
        """What is said of the batch that is due."""
        return tuple(replace(one, words=one.words.replace("{bucket}", bucket_due(area))) for one in self.batch)

    def row(self, letter: str, before: Sequence[str]) -> tuple[RowPhrase, ...] | None:
        """What is said of the next sample of this letter; None where the script has no more.

        before: the letters of the samples that came up before, in their order.
        """
        came = Counter(before)[letter] + 1
        if (letter, came) in self.instead:
            return self.instead[letter, came]
        if letter not in self.fills:
            return None
        taken = came - 1 - sum(one == letter and at < came for one, at in self.instead)
        values = self.fills[letter]
        if any(1 < len(of_name) <= taken for of_name in values.values()):
            return None
        filled = {name: of_name[taken if len(of_name) > 1 else 0] for name, of_name in values.items()}
        return tuple(replace(one, words=_FILLED.sub(lambda m: filled[m[1]], one.words)) for one in self.each)


def names_in(phrases: Sequence[RowPhrase]) -> tuple[str, ...]:
    """The names that a row of phrases wants to have filled in."""
    return tuple(dict.fromkeys(name for phrase in phrases for name in _FILLED.findall(phrase.words)))


def letters_tried(plan: DayPlan) -> tuple[str, ...]:
    """The letters of the combinations of a plan's trials."""
    trials: list[TrialPlan] = [area.trial for area in plan.areas if area.trial is not None]
    return tuple(dict.fromkeys(letter for trial in trials for letter in trial.letters))
