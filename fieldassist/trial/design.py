"""What a trial costs and what it will be able to tell, before anybody mixes, so that nobody hopes in vain."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from fieldassist.checklist.bags import bed_mm
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import AreaPlan, Combination, Mortar, TrialPlan
from fieldassist.trade import mortar, times
from fieldassist.trade.contact import normal_below, on_scale, t_quantile
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.gains import Pairs
from fieldassist.trial.order import batches_of
from fieldassist.trial.telling import question

__all__ = ["ASKED_ABOUT", "SPREAD", "MortarShare", "Power", "TrialNeeds", "can_tell", "hopes", "needs"]

# --- what it costs ----------------------------------------------------------------------------------------------------

# Common practice, no published source: to comb, set, move, seat, lift, read and scrape one sample, and to weigh and mix
# one batch; what of so small batches stays in the bucket and on the trowel.
MINUTES_A_SAMPLE = 6.0
MINUTES_MIXING = 5.0
WASTE_PERCENT = 25.0


@dataclass(frozen=True, slots=True)
class MortarShare:
    """What is mixed of one mortar. name; samples: made of it; volume_l: mixed, waste counted [L], None where a notch's
    mortar is out of reach of the reckoning; powder_kg [kg]; bags: None where the plan has no weight of a bag; batches:
    how many; batch_samples: of the largest one, and batch_min: how long that takes from its mixing on [min]; pot_min:
    how long it may [min]."""

    name: str
    samples: int
    volume_l: float | None
    powder_kg: float | None
    bags: int | None
    batches: int
    batch_samples: int
    batch_min: float
    pot_min: float

    @property
    def told(self) -> tuple[Message, ...]:
        """In words; with a caution where a batch will not last as long as it is planned to."""
        counts: dict[str, Figure] = {"mortar": self.name, "samples": self.samples, "batches": self.batches}
        if self.volume_l is None or self.powder_kg is None:
            mixed = message("trial-needs-mortar-unknown", **counts)
        else:
            volume, powder = _quantity(self.volume_l, "L"), _quantity(self.powder_kg, "kg")
            bags: Figure = "none" if self.bags is None else self.bags
            mixed = message("trial-needs-mortar", **counts, volume=volume, powder=powder, bags=bags)
        if self.batch_min <= self.pot_min:
            return (mixed,)
        ends = {"lasts": _quantity(self.pot_min, "min"), "takes": _quantity(self.batch_min, "min")}
        return mixed, message("trial-needs-smaller-batches", mortar=self.name, samples=self.batch_samples, **ends)


@dataclass(frozen=True, slots=True)
class TrialNeeds:
    """What a trial takes. samples; face_m2: of one [m2]; base_m2: of all, set once each [m2]; sheets: they are clear
    sheets, no pieces; mortars; minutes: from the first mixing to the last reading, by one who sets [min]."""

    samples: int
    face_m2: float
    sheets: bool
    mortars: tuple[MortarShare, ...]
    minutes: float

    @property
    def base_m2(self) -> float:
        """The base that all samples take, set once each [m2]."""
        return self.samples * self.face_m2

    @property
    def told(self) -> tuple[Message, ...]:
        """In words: pieces, each mortar, time."""
        return (
            message(
                "trial-needs-pieces",
                samples=self.samples,
                what="sheets" if self.sheets else "pieces",
                face=_quantity(self.face_m2, "m2"),
                base=_quantity(self.base_m2, "m2"),
            ),
            *(told for share in self.mortars for told in share.told),
            message("trial-needs-time", minutes=_quantity(float(round(self.minutes, -1)), "min")),
        )

    @property
    def assumed(self) -> tuple[Message, ...]:
        """What all this rests on that nobody wrote down: common practice, no published source."""
        return (
            message("trial-assumed-own-piece", what="sheet" if self.sheets else "piece"),
            message("trial-assumed-waste", waste=_quantity(WASTE_PERCENT, "percent")),
            message(
                "trial-assumed-minutes",
                sample=_quantity(MINUTES_A_SAMPLE, "min"),
                mixing=_quantity(MINUTES_MIXING, "min"),
            ),
        )


def needs(plan: AreaPlan, letters: Sequence[str] | None = None) -> TrialNeeds:
    """What a trial takes: pieces or sheets, mortar, batches, time.

    V = sum over samples of face x mortar per area of the notch (`trade.ridges.mortar_per_m2`) x (1 + waste)

    Parameters: plan, an area with a trial; letters: of the combinations that are run, all where none are given.
    Errors: ValueError for an area without a trial.
    """
    trial = plan.trial
    if trial is None:
        raise ValueError(f"nothing is tried in {plan.name}")
    run = tuple(letters if letters is not None else trial.letters)
    sheets = {one.name: one for one in trial.mortars}
    mortar_of = {letter: trial.by_letter[letter].mortar for letter in run}
    face = canonical(trial.sheet) if trial.sheet is not None else _face_m2(plan)
    shares = []
    minutes = 0.0
    for name, sizes in _batch_sizes(run, trial, mortar_of).items():
        ways = [trial.by_letter[letter] for letter in run if mortar_of[letter] == name]
        sheet = sheets.get(name, plan.mortar)
        shares.append(_share(sheet, ways, trial.repeats, face, sizes))
        minutes += sum(trial.repeats * (MINUTES_A_SAMPLE + _vibrating(way)) for way in ways)
        minutes += len(sizes) * (MINUTES_MIXING + _slake(sheet))
    return TrialNeeds(len(run) * trial.repeats, face, trial.seen == "through the sheet", tuple(shares), minutes)


def _face_m2(plan: AreaPlan) -> float:
    return canonical(plan.piece.length) * canonical(plan.piece.width) / 1e6


def _batch_sizes(run: Sequence[str], trial: TrialPlan, mortar_of: dict[str, str]) -> dict[str, list[int]]:
    """How many samples each batch of each mortar is for, in blocks of mortars there and back as they are drawn."""
    mortars = list(dict.fromkeys(mortar_of.values()))
    order: list[str] = []
    for block in range(trial.repeats):
        for name in mortars[:: -1 if block % 2 else 1]:
            order += [letter for letter in run if mortar_of[letter] == name]
    batches = batches_of(order, trial.a_batch, mortar_of)
    counted = Counter(batches)
    first = dict(zip(reversed(batches), reversed(order), strict=True))
    sizes: dict[str, list[int]] = {name: [] for name in mortars}
    for batch, size in counted.items():
        sizes[mortar_of[first[batch]]].append(size)
    return sizes


def _share(sheet: Mortar, ways: Sequence[Combination], repeats: int, face_m2: float, sizes: list[int]) -> MortarShare:
    beds = [bed_mm(way) for way in ways]
    known = [bed for bed in beds if bed is not None]
    samples = len(ways) * repeats
    need = None
    bag_kg = canonical(sheet.bag) if sheet.bag is not None else None
    if known and len(known) == len(beds):
        # Without a bag's weight its powder all the same: of one kilogram.
        bag = mortar.bag_yield(bag_kg or 1.0, canonical(sheet.bag_yield) if bag_kg and sheet.bag_yield else None)
        bed = sum(known) / len(known)
        need = mortar.mortar_for_area(samples * face_m2, bed, bag_kg or 1.0, bag.litres, waste_percent=WASTE_PERCENT)
    longest = MINUTES_A_SAMPLE + max(_vibrating(way) for way in ways)
    return MortarShare(
        name=sheet.name,
        samples=samples,
        volume_l=None if need is None else need.volume_l,
        powder_kg=None if need is None else need.powder_kg,
        bags=None if need is None or bag_kg is None else need.whole_bags,
        batches=len(sizes),
        batch_samples=max(sizes),
        batch_min=_slake(sheet) + max(sizes) * longest,
        pot_min=canonical(sheet.pot_life),
    )


def _vibrating(way: Combination) -> float:
    return canonical(way.seconds) if way.seconds is not None else 0.0


def _slake(sheet: Mortar) -> float:
    return times.slake(None if sheet.slake is None else canonical(sheet.slake)).greatest_min


# --- what it can tell -------------------------------------------------------------------------------------------------

# How much a sample's mean reading spreads on the scale of contact, between 75 and 95 percent, where nobody knows:
# assumed; the rule below then comes nearest to trials that were simulated.
SPREAD = 0.42
# Contacts whose difference one would like to see [percent].
ASKED_ABOUT = ((85.0, 95.0), (75.0, 85.0), (90.0, 95.0))
# How far apart two of so many must lie to differ, in standard errors of their difference, so that no pair of all is
# called different by chance in 95 trials of 100: simulated; two alone as the normal distribution has it.
_APART = {2: 1.96, 4: 2.7, 8: 3.2, 12: 3.4, 20: 3.7}
MOST_REPEATS = 20
ENOUGH = 0.8
# What the analysis asks before it ranks: samples of each, residual degrees of freedom.
LEAST_REPEATS = 3
LEAST_FREEDOM = 8
LEAST_PAIRS = 6


@dataclass(frozen=True, slots=True)
class Power:
    """How likely a difference is found. question: number of the planned question from 0, None for all pairs; low,
    high: the contacts [percent]; power: the chance, 0 where no claim may be made; repeats: least for four trials of
    five, None above 20."""

    question: int | None
    low: float
    high: float
    power: float
    repeats: int | None


def can_tell(
    letters: Sequence[str], repeats: int, questions: Sequence[Pairs] = (), spread: float = SPREAD, a_batch: int = 8
) -> tuple[Power, ...]:
    """How likely a trial finds a difference like 85 against 95, 75 against 85, 90 against 95 percent: among all pairs
    of its combinations, and in each question that was named beforehand.

    power = Phi(D/(s sqrt(2/m)) - q), so that m = 2 (q + 0.84)^2 s^2/D^2 for four trials of five

    with D the difference on the scale of contact, s the spread of samples there, m the samples of each side (of a
    question over all its pairs), and q how far apart they must lie, in standard errors.

    Parameters: letters that are run; repeats; questions: of each its pairs of letters; spread: the crew's own where it
    has one; a_batch: samples of one batch. A question without a pair is left out.
    Limits: a rule of thumb, beside trials that were simulated: within 0.2, two of three within 0.06.
    """
    all_pairs = [(None, ())] if len(letters) > 1 else []
    return tuple(
        _power(number, pairs, ends, len(letters), repeats, spread, a_batch)
        for number, pairs in (*all_pairs, *((number, pairs) for number, pairs in enumerate(questions) if pairs))
        for ends in ASKED_ABOUT
    )


def _power(
    question: int | None, pairs: Pairs, ends: tuple[float, float], many: int, repeats: int, spread: float, a_batch: int
) -> Power:
    def chance(n: int) -> float:
        apart = _apart(many, len(pairs), n, a_batch)
        if apart is None:
            return 0.0
        error = spread * math.sqrt(2 / (n * max(1, len(pairs))))
        return normal_below((on_scale(ends[1]) - on_scale(ends[0])) / error - apart)

    least = next((n for n in range(1, MOST_REPEATS + 1) if chance(n) >= ENOUGH), None)
    return Power(question, *ends, chance(repeats), least)


def _apart(many: int, pairs: int, repeats: int, a_batch: int) -> float | None:
    """How many standard errors two sides must lie apart to differ; None where nothing may be claimed.

    many: combinations; pairs: of the question, 0 for all of the combinations with one another.
    """
    if pairs > 1:
        # Samples are compared pair by pair: six pairs, or two of each.
        return t_quantile(0.975, pairs * repeats - 1) if repeats > 1 or pairs >= LEAST_PAIRS else None
    freedom = many * repeats - many - math.ceil(many * repeats / a_batch)
    if repeats < LEAST_REPEATS or freedom < LEAST_FREEDOM:
        return None
    if pairs == 1:
        return _APART[2]
    return float(np.interp(math.log(many), [math.log(size) for size in _APART], list(_APART.values())))


def hopes(plan: AreaPlan, letters: Sequence[str] | None = None, spread: float = SPREAD) -> tuple[Message, ...]:
    """What a trial will be able to tell, in words: of all its combinations, and of each planned question.

    Parameters as for `needs`. Errors: ValueError for an area without a trial.
    """
    trial = plan.trial
    if trial is None:
        raise ValueError(f"nothing is tried in {plan.name}")
    run = tuple(letters if letters is not None else trial.letters)
    pairs = [tuple(pair for pair in trial.pairs(asked) if set(pair) <= set(run)) for asked in trial.questions]
    found = can_tell(run, trial.repeats, pairs, spread, trial.a_batch)
    told = []
    for number in (None, *range(len(pairs))):
        of_it = [power for power in found if power.question == number]
        if number is None:
            told.append(_hope(message("trial-hope-all", combinations=len(run)), of_it, trial.repeats))
        elif of_it:
            told.append(
                _hope(message("trial-hope-asked", asked=question(trial.questions[number])), of_it, trial.repeats)
            )
        else:
            told.append(message("trial-hope-nothing", asked=question(trial.questions[number])))
    return tuple(told)


def _hope(asked: Message, found: Sequence[Power], repeats: int) -> Message:
    seen = [
        message(
            "trial-hope-difference",
            low=_quantity(power.low, "percent"),
            high=_quantity(power.high, "percent"),
            tenths=round(power.power * 10),
            repeats="more" if power.repeats is None else power.repeats,
        )
        for power in found
    ]
    if not any(power.power for power in found):
        least = [power.repeats for power in found if power.repeats is not None]
        return message("trial-hope-none", asked=asked, repeats=repeats, least=min(least) if least else "more")
    return message("trial-hope", asked=asked, repeats=repeats, seen=Several(tuple(seen), "clauses"))


def _quantity(value: float, unit: str) -> Quantity:
    return Quantity(Fraction(repr(value)), unit)
