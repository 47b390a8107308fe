"""Backs that were measured on their photos, as the pages tell them: a figure with its interval and how it came about,
what the eye read beside it, and what the photo shows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fieldassist.facts.model import BackFact, LiftFact, SampleFact
from fieldassist.language import Words
from fieldassist.report.area_model import PrintedPhoto
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.figures import contact, numbers, on_tape, people, person, void, whole_percent
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.voids import contact_as_read, side_of

# The bar that tells the scale [mm].
_BARS = {"us": 101.6, "metric": 100.0}


def is_told_of(back: BackFact, percent: float | None) -> bool:
    """Whether a contact that was read is what was measured of this back."""
    return percent is not None and contact_as_read(back.percent) == percent


def read_on(lift: LiftFact) -> BackFact | None:
    """The measured back that a lift's contact was told of; None where it was read otherwise."""
    back = lift.back
    return back if back is not None and lift.way == "photo" and is_told_of(back, lift.percent) else None


def between(low: float, high: float) -> Message:
    """The ends of an interval, the lower rounded down and the upper up: told no better than it is."""
    return message("area-between", low=str(math.floor(low)), high=Quantity(-contact_as_read(-high), "percent"))


# --- in a lift's row ------------------------------------------------------------------------------------------------


def doubt_told(told: AreaWords, lift: LiftFact) -> str:
    """How sure a lift's contact is: its interval where it was told of its photo."""
    if lift.percent is None:
        return told.say("area-not-read")
    back = read_on(lift)
    return told.say("area-doubt-unknown") if back is None else told.words(between(back.low, back.high))


def way_told(told: AreaWords, lift: LiftFact) -> str:
    """How a lift was read, and by whom."""
    back = read_on(lift)
    if back is not None:
        before = back.proposed_percent
        return told.say(
            "area-way-back",
            way=back.way,
            known="no" if before is None else "yes",
            before="" if before is None else whole_percent(before),
            name=person(back.by),
        )
    return told.say(
        "area-way", how=lift.way or "unknown", read="yes" if lift.read_by else "no", name=person(lift.read_by)
    )


def beside_told(told: AreaWords, lift: LiftFact) -> Iterator[str]:
    """What stands beside the contact that was read: the eye's figure, or the photo's."""
    back = lift.back
    if back is None:
        return
    if read_on(lift) is None:
        yield told.say(
            "area-back-photo",
            contact=contact(back.percent, lift.required_percent),
            between=between(back.low, back.high),
            way=back.way,
            name=person(back.by),
        )
    elif back.eye_percent is not None:
        eye = contact(back.eye_percent, lift.required_percent)
        yield told.say("area-back-eye", contact=eye, name=person(back.eye_by))


def read_of_back(told: AreaWords, lift: LiftFact) -> Iterator[tuple[str, bool]]:
    """What its photo shows besides contact, each with whether it is to be looked at."""
    back = lift.back
    if back is None:
        return
    if read_on(lift) is None:
        yield told.say("area-back-void", void=_void(told, back)), _is_over(told, back)
    if back.void_mm2:
        yield told.say("area-back-circle", circle=on_tape(back.circle_mm, told.words, up=True)), False
    yield told.say("area-back-strip", contact=whole_percent(back.band_percent)), False
    if back.ridges:
        yield told.say("area-back-ridges", ridges=back.ridges.replace(" ", "-")), back.ridges == "swirled"
    against = _is_against_method(told, lift, back)
    kind = back.kind.replace(" ", "-")
    yield told.say("area-back-kind", kind=kind, against="yes" if against else "no"), against


def marks_of_back(told: AreaWords, lift: LiftFact) -> Iterator[str]:
    """That the photo contradicts how the lift was judged; that it could not tell by itself, and why."""
    back = lift.back
    if back is None:
        return
    if lift.required_percent is not None and read_on(lift) is None:
        side = side_of(back.low, back.high, lift.required_percent)
        if (side, lift.verdict) in (("under", "passed"), ("reached", "failed")):
            figures: dict[str, Figure] = {"contact": contact(back.percent, lift.required_percent)}
            yield told.say("area-back-against", **figures, between=between(back.low, back.high))
        elif lift.verdict == "passed" and _is_over(told, back):
            yield told.say("area-back-void-against", void=_void(told, back))
    if back.cannot is not None:
        yield told.say("area-back-cannot", why=back.cannot.text)


def short_told(told: AreaWords, lift: LiftFact) -> str:
    """What stands below the figure of a lift that shares its row."""
    back, read = read_on(lift), told.void(lift)
    largest = told.say("area-no-void-read") if read is None else told.say("area-void", void=read)
    return largest if back is None else f"{told.words(between(back.low, back.high))}; {largest}"


def _is_over(told: AreaWords, back: BackFact) -> bool:
    """Whether its photo shows a larger void than is allowed."""
    need = told.area.required
    return need is not None and need.void_mm2 is not None and back.void_mm2 > need.void_mm2


def _is_against_method(told: AreaWords, lift: LiftFact, back: BackFact) -> bool:
    """Whether colour was read of a back that the method keys or combs."""
    method = told.method(lift.method)
    return back.way != "painted" and (method.back == "keyed" or method.sides == "both")


def _void(told: AreaWords, back: BackFact) -> Figure:
    most = told.area.required.void_mm2 if told.area.required is not None else None
    return void(back.void_mm2, most, told.words)


# --- its picture ----------------------------------------------------------------------------------------------------


def squared_photo(told: AreaWords, lift: LiftFact, back: BackFact) -> PrintedPhoto:
    """The squared photo of a lift's back, with what is drawn over it."""
    alt = told.say(
        "area-back-alt",
        lift=str(lift.number),
        piece=told.piece(lift.tile),
        contact=contact(back.percent, lift.required_percent),
        verdict=(lift.verdict or "none").replace(" ", "-"),
        seen=seen_told(back, _void(told, back), told.words),
    )
    caption = told.say("area-photo-of", lift=str(lift.number), piece=told.piece(lift.tile))
    drawn = back_drawn(back, told.words, _void(told, back), us=told.words.units == "us")
    return PrintedPhoto(back.picture_file, alt, caption, drawn)


def seen_told(back: BackFact, largest: Figure, words: Words) -> Message:
    """What is drawn over a back, in words. largest: how large its largest void is told."""
    if not back.void_mm2:
        return message("area-back-no-void")
    left, top, right, bottom = (on_tape(side, words) for side in back.void_box)
    return message("area-back-voids", largest=largest, left=left, right=right, top=top, bottom=bottom)


def back_drawn(back: BackFact, words: Words, largest: Figure, *, us: bool) -> BackDrawn:
    """What is drawn over a back. largest: how large its largest void is told; us: its bar is told in inches."""
    system = "us" if us else "metric"
    left, top, right, bottom = back.void_box
    return BackDrawn(
        size_mm=(back.size_mm[0], back.size_mm[1]),
        cells=back.cells_file,
        frame=(left, top, right, bottom) if back.void_mm2 else None,
        void=words(largest),
        bar=(_BARS[system], words(message("area-back-bar", system=system))),
    )


# --- below the table ------------------------------------------------------------------------------------------------


def how_measured(told: AreaWords) -> Iterator[str]:
    """How the figures of photos came about and what they cannot say, once for all lifts of an area."""
    for figures in _ways([(lift.number, lift.back) for lift in told.area.lifts if lift.back is not None]):
        yield told.words(message(figures.code, names=figures.names, of=told.lifts(figures.numbers)))


def how_samples_measured(samples: Sequence[SampleFact], words: Words) -> Iterator[str]:
    """The same for the samples of a trial."""
    for figures in _ways([(sample.number, sample.back) for sample in samples if sample.back is not None]):
        of = message("trialpage-samples", count=len(figures.numbers), numbers=numbers(figures.numbers))
        yield words(message(figures.code, names=figures.names, of=of))


@dataclass(frozen=True, slots=True)
class _OneWay:
    code: str
    names: Several
    numbers: list[int]


def _ways(backs: Sequence[tuple[int, BackFact]]) -> Iterator[_OneWay]:
    for code, ways in (("measured", ("proposed", "corrected")), ("painted", ("painted",))):
        some = [(number, back) for number, back in backs if back.way in ways]
        if some:
            yield _OneWay(f"area-feet-{code}", people(back.by for _, back in some), [number for number, _ in some])
