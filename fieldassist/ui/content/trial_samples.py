"""Every sample of a trial in a line: what was read of it and by whom, what was measured, and what spoiled it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from fieldassist.trade.message import Figure, Message, Several, message, term
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.model import Sample, whole_percent
from fieldassist.trial.readers import agreement, bias
from fieldassist.ui.content.names import person


@dataclass(frozen=True, slots=True)
class SampleTold:
    """A sample. number, letter: which; head: what was read, or why it does not count; counts; rest: all else."""

    number: str
    letter: str
    head: Message
    counts: bool
    rest: Figure


def sample_lines(samples: Sequence[Sample]) -> tuple[SampleTold, ...]:
    """Every sample, in the order in which they were made."""
    return tuple(
        SampleTold(str(one.number), one.letter, _head(one), one.counts, Several(tuple(_rest(one)))) for one in samples
    )


def _head(one: Sample) -> Message:
    if one.spoiled is not None:
        return message("mockup-spoiled", why=one.spoiled)
    if not one.readings:
        return message("mockup-being-read")
    reads = tuple(
        message("mockup-reads", name=person(each.reader), percent=str(whole_percent(each.percent)))
        if each.reader
        else message("mockup-read", percent=str(whole_percent(each.percent)))
        for each in one.readings
    )
    return message("mockup-readings", reads=Several(reads))


def _rest(one: Sample) -> list[Figure]:
    found: list[Figure] = [
        message("mockup-batch", batch=str(one.batch), age=Quantity(Fraction(round(one.age_min)), "min"))
    ]
    if one.place == 0:
        found.append(message("mockup-made-again"))
    if one.spoiled is not None or not one.readings:
        return found
    if one.counted is not None:
        found.append(message("mockup-counted", percent=str(whole_percent(one.counted))))
    if one.void_mm2 is not None:
        found.append(message("mockup-void", void=Quantity(Fraction(repr(round(one.void_mm2 / 100, 1))), "cm2")))
    if one.edges_full is not None:
        found.append(term("mockup-edges", "full" if one.edges_full else "not full"))
    if one.bed_mm:
        found.append(message("mockup-bed", bed=_mm(sum(one.bed_mm) / len(one.bed_mm))))
    elif one.by_mass_mm is not None:
        found.append(message("mockup-bed-by-mass", bed=_mm(one.by_mass_mm)))
    if one.effort:
        found.append(message("mockup-effort", effort=one.effort))
    if one.air:
        found.append(message("mockup-air", where=one.air))
    return found


def _mm(value: float) -> Quantity:
    return Quantity(Fraction(repr(round(value, 1))), "mm")


def readers_told(samples: Sequence[Sample], readers: Sequence[str], speaker: str | None) -> tuple[Message, ...]:
    """What the readers' eyes are worth: how two agree; and how far one is off what was counted, to that person only.

    speaker: who is at the tablet.
    """
    both, own = agreement(samples), bias(speaker, samples) if speaker is not None and speaker in readers else None
    return (*((both.told,) if both is not None else ()), *((own.told,) if own is not None else ()))
