"""Backs that were measured on their photos, as the pages tell them: a figure with its interval and how it came about,
what the eye read beside it, and what the photo shows."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fieldassist.facts.model import BackFact, LiftFact
from fieldassist.report.area_model import PrintedPhoto
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.figures import contact, measure, people, person, void, whole_percent
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.voids import contact_as_read, side_of

# The bar that tells the scale [mm].
_BARS = {"us": 101.6, "metric": 100.0}


def is_told_of(back: BackFact, percent: float | None) -> bool:
    """Whether a contact that was read is what was measured of this back."""
    return percent is not None and contact_as_read(back.percent) == percent


def between(low: float, high: float) -> Message:
    """The ends of an interval, the lower rounded down and the upper up: told no better than it is."""
    return message("area-between", low=str(math.floor(low)), high=Quantity(-contact_as_read(-high), "percent"))


# --- in a lift's row ------------------------------------------------------------------------------------------------


def doubt_told(told: AreaWords, lift: LiftFact) -> str:
    """How sure a lift's contact is: its interval where it was told of its photo."""
    if lift.percent is None:
        return told.say("area-not-read")
    back = _read_on(lift)
    return told.say("area-doubt-unknown") if back is None else told.words(between(back.low, back.high))


def way_told(told: AreaWords, lift: LiftFact) -> str:
    """How a lift was read, and by whom."""
    back = _read_on(lift)
    if back is not None:
        return told.say("area-way-back", way=back.way, name=person(back.by))
    return told.say(
        "area-way", how=lift.way or "unknown", read="yes" if lift.read_by else "no", name=person(lift.read_by)
    )


def beside_told(told: AreaWords, lift: LiftFact) -> Iterator[str]:
    """What stands beside the contact that was read: the eye's figure, or the photo's."""
    back = lift.back
    if back is None:
        return
    if _read_on(lift) is None:
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
    if _read_on(lift) is None:
        yield told.say("area-back-void", void=_void(told, back)), False
    if back.void_mm2:
        yield told.say("area-back-circle", circle=measure(math.ceil(back.circle_mm), "mm")), False
    yield told.say("area-back-strip", contact=whole_percent(back.band_percent)), False
    if back.ridges:
        yield told.say("area-back-ridges", ridges=back.ridges.replace(" ", "-")), back.ridges == "swirled"
    yield told.say("area-back-kind", kind=back.kind.replace(" ", "-")), False


def marks_of_back(told: AreaWords, lift: LiftFact) -> Iterator[str]:
    """That the photo contradicts how the lift was judged; that it could not tell by itself, and why."""
    back = lift.back
    if back is None:
        return
    if lift.required_percent is not None and _read_on(lift) is None:
        side = side_of(back.low, back.high, lift.required_percent)
        if (side, lift.verdict) in (("under", "passed"), ("reached", "failed")):
            figures: dict[str, Figure] = {"contact": contact(back.percent, lift.required_percent)}
            yield told.say("area-back-against", **figures, between=between(back.low, back.high))
    if back.cannot is not None:
        yield told.say("area-back-cannot", why=back.cannot.text)


def short_told(told: AreaWords, lift: LiftFact) -> str:
    """What stands below the figure of a lift that shares its row."""
    back, read = _read_on(lift), told.void(lift)
    largest = told.say("area-no-void-read") if read is None else told.say("area-void", void=read)
    return largest if back is None else f"{told.words(between(back.low, back.high))}; {largest}"


def _read_on(lift: LiftFact) -> BackFact | None:
    """The measured back that a lift's contact was told of; None where it was read otherwise."""
    back = lift.back
    return back if back is not None and lift.way == "photo" and is_told_of(back, lift.percent) else None


def _void(told: AreaWords, back: BackFact) -> Figure:
    most = told.area.required.void_mm2 if told.area.required is not None else None
    return void(back.void_mm2, most, told.words)


# --- its picture ----------------------------------------------------------------------------------------------------


def squared_photo(told: AreaWords, lift: LiftFact, back: BackFact) -> PrintedPhoto:
    """The squared photo of a lift's back, with what is drawn over it."""
    left, top, right, bottom = (measure(round(side), "mm") for side in back.void_box)
    alt = told.say(
        "area-back-alt",
        lift=str(lift.number),
        piece=told.piece(lift.tile),
        contact=contact(back.percent, lift.required_percent),
        verdict=(lift.verdict or "none").replace(" ", "-"),
        void="some" if back.void_mm2 else "none",
        largest=_void(told, back),
        left=left,
        right=right,
        top=top,
        bottom=bottom,
    )
    caption = told.say("area-photo-of", lift=str(lift.number), piece=told.piece(lift.tile))
    system = "us" if told.words.units == "us" else "metric"
    drawn = BackDrawn(
        size_mm=(back.size_mm[0], back.size_mm[1]),
        cells=back.cells_file,
        frame=(back.void_box[0], back.void_box[1], back.void_box[2], back.void_box[3]) if back.void_mm2 else None,
        void=told.words(_void(told, back)),
        bar=(_BARS[system], told.say("area-back-bar", system=system)),
    )
    return PrintedPhoto(back.picture_file, alt, caption, drawn)


# --- below the table ------------------------------------------------------------------------------------------------


def how_measured(told: AreaWords) -> Iterator[str]:
    """How the figures of photos came about and what they cannot say, once for all lifts of an area."""
    backs = [(lift.number, lift.back) for lift in told.area.lifts if lift.back is not None]
    for code, ways in (("measured", ("proposed", "corrected")), ("painted", ("painted",))):
        some = [(number, back) for number, back in backs if back.way in ways]
        if some:
            names = people(back.by for _, back in some)
            yield told.say(f"area-feet-{code}", names=names, lifts=told.lifts(number for number, _ in some))
