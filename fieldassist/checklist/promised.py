"""Lifts of a method that was released from a mock-up trial, beside what the trial has shown of it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fieldassist.checklist.fields import canonical
from fieldassist.checklist.methods import method_of
from fieldassist.checklist.plan import Method, TrialShown
from fieldassist.checklist.state import AFTER_FAILURE, Area, LiftRecord, State
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.promise import KeptPromise, LaterLift, Promise, kept, one_tile
from fieldassist.trade.quantities import Quantity


def shown_of(area: Area) -> tuple[TrialShown, Method] | None:
    """What a trial has shown, and of which method, where the area's method was released from one; None otherwise."""
    made = area.plan.mock_up
    if made is None or made.trial is None:
        return None
    method = area.plan.method if made.method is None else area.named_methods.get(made.method)
    return None if method is None else (made.trial, method)


def promise_of(shown: TrialShown) -> Promise:
    """What a trial has shown, as the reckoning takes it. Of one sample its own spread is all that is known."""
    return Promise(
        centre=shown.centre,
        variance=shown.variance or shown.spread**2 / shown.samples,
        spread=shown.spread,
        between=shown.between,
        batches=shown.batches,
        readers=shown.readers,
    )


def standing(area: Area) -> KeptPromise | None:
    """How the lifts so far stand beside the trial, over all days of the area; None without a trial or a lift.

    Lifts that a failure asked for do not count: they lie where bad mortar was found already.
    """
    found = shown_of(area)
    if found is None:
        return None
    shown, method = found
    lifts = (lift for lift in area.progress.lifts.values() if lift.came not in AFTER_FAILURE)
    return kept(promise_of(shown), [one for lift in lifts if (one := _read(area, lift, method)) is not None])


def _read(area: Area, lift: LiftRecord, method: Method) -> LaterLift | None:
    """A lift of this method whose contact was read; None for any other."""
    coverage = area.progress.measured.get((lift.section, lift.round), {}).get("coverage")
    if coverage is None or method_of(area, lift) != method:
        return None
    return LaterLift(lift.at.wall[:10], canonical(coverage), lift.by)


def beside(area: Area, lift: LiftRecord) -> Message | None:
    """One lift beside what the trial has shown: the trial's mean with its interval, and whether the lift is among what
    single tiles of it are; None where the method is no trial's, or the contact was not read."""
    found = shown_of(area)
    one = None if found is None else _read(area, lift, found[1])
    if found is None or one is None:
        return None
    low, high = one_tile(promise_of(found[0]), one.reader)
    how = "below" if one.percent < low else "above" if one.percent > high else "among"
    return message(
        "trial-lift-beside",
        **_shown_figures(found[0]),
        contact=_percent(one.percent),
        how=how,
        least=_percent(low),
        most=_percent(high),
    )


def points(state: State) -> Iterator[tuple[str, str, Message]]:
    """Where lifts are lower than a mock-up promised, by more than noise: the area, the cause, and what to tell."""
    for name, area in state.areas.items():
        found, so_far = shown_of(area), standing(area)
        if found is None or so_far is None or not so_far.lower:
            continue
        told = message(
            "open-lower-than-promised",
            area=name,
            **_shown_figures(found[0]),
            lifts=so_far.lifts,
            days=so_far.days,
            contact=_percent(so_far.mean),
        )
        yield name, f"{found[0].head[:12]}/{found[0].letter}", told


def _shown_figures(shown: TrialShown) -> dict[str, Figure]:
    return {
        "date": shown.date,
        "letter": shown.letter,
        "mean": _percent(shown.mean),
        "spanned": "no" if shown.low is None or shown.high is None else "yes",
        "low": int(shown.low or 0),
        "high": int(shown.high or 0),
    }


def _percent(value: float) -> Quantity:
    """Contact without decimals, rounded down as contact always is."""
    return Quantity(Fraction(int(value + 1e-9)), "percent")
