"""The methods of an area: each with its ridges, its bed, what its lifts showed and what it rests on."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import MethodFact
from fieldassist.report.area_model import MethodBlock
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.dates import short_day_told
from fieldassist.report.build.figures import measure, people, person, whole_percent
from fieldassist.report.build.ridges import ridge_section
from fieldassist.report.ridge_model import RidgeSection
from fieldassist.trade.message import Bound, Message, Refused, message

# How much of the base is drawn [mm].
_WIDE = 45.0


def methods(told: AreaWords) -> tuple[MethodBlock, ...]:
    """The methods that something was set or lifted with, and the one in use where nothing was yet."""
    return tuple(_block(told, one) for one in _used(told))


def unused(told: AreaWords) -> str:
    """The methods that nothing was set with, in a sentence; "" for none."""
    used = {one.number for one in _used(told)}
    rest = {one.number: one for one in told.area.methods if one.number not in used}
    return " ".join(
        told.say("area-method-unused", letter=one.letter, method=_named(told, one)) for one in rest.values()
    )


def _used(told: AreaWords) -> list[MethodFact]:
    """Each once, in the order of first use."""
    area = told.area
    numbers = {tile.method for tile in area.tiles if tile.method is not None} | {lift.method for lift in area.lifts}
    each = {one.number: one for one in area.methods if one.number in numbers}
    return list(each.values()) or area.methods[-1:]


def _named(told: AreaWords, one: MethodFact) -> Message:
    return message(
        "area-method",
        family=message("method-family", family=one.family),
        size=told.size(one.width_mm, one.depth_mm),
        angle=measure(one.angle_degrees, "count"),
        sides=one.sides,
        surface=told.area.surface,
        kind=told.kind,
        back=one.back,
        movement=one.movement.replace(" ", "-"),
        seating=one.seating.replace(" ", "-"),
    )


def _block(told: AreaWords, one: MethodFact) -> MethodBlock:
    least, most = bed_ends(told)
    keyed = "yes" if one.back == "keyed" and one.sides == "one" else "no"
    return MethodBlock(
        letter=one.letter,
        told=told.say("area-method-sentence", method=_named(told, one)),
        section=_section(one),
        alt=told.say("area-method-alt", method=_named(told, one), bed=measure(one.bed_mm, "mm")),
        bed=(
            told.say("area-bed", bed=measure(one.bed_mm, "mm")),
            told.say("area-bed-allowed", keyed=keyed, at_least=least, at_most=most),
        ),
        lifts=_lifted(told, one),
        rest=tuple(part for part in _rest(told, one) if part),
    )


def bed_ends(told: AreaWords) -> tuple[Bound, Bound]:
    """The bed that the mortar allows, each end rounded to the side on which it still holds."""
    mortar = told.area.mortar
    return (
        Bound(measure(mortar.least_bed_mm, "mm"), "at least"),
        Bound(measure(mortar.greatest_bed_mm, "mm"), "at most"),
    )


def _section(one: MethodFact) -> RidgeSection | None:
    try:
        return ridge_section(one, _WIDE)
    except Refused:
        return None


def _lifted(told: AreaWords, one: MethodFact) -> str:
    lifts = [lift for lift in told.area.lifts if lift.method == one.number and lift.verdict is not None]
    good = sum(lift.verdict == "passed" for lift in lifts)
    return told.say("area-method-lifts", good=good, lifted=len(lifts))


def _rest(told: AreaWords, one: MethodFact) -> Iterator[str]:
    yield _rests_on(told, one)
    tiles = [tile for tile in told.set_tiles if tile.method == one.number]
    if len(_used(told)) > 1:
        yield (
            told.say("area-method-on", pieces=told.pieces(tile.number for tile in tiles))
            if tiles
            else told.say("area-method-on-none")
        )
    when = sorted(tile.at for tile in tiles if tile.at)
    if when:
        who = people(tile.setter for tile in tiles)
        first, last = told.time(when[0]), told.time(when[-1])
        yield told.say("area-method-by", names=who, first=first, last=last, one="yes" if first == last else "no")
    for release in told.area.releases:
        changed = [step for failure in told.area.failures for step in failure.cure if step.method == one.number]
        if any(step.event < release.event for step in changed) and _cures(told, release.section) and not release.struck:
            yield told.say("area-method-released", name=person(release.by), time=told.time(release.at), how=release.how)
            break


def _cures(told: AreaWords, section: str) -> bool:
    return any(failure.corrective == section for failure in told.area.failures)


def _rests_on(told: AreaWords, one: MethodFact) -> str:
    shown, first = told.area.from_trial, told.area.methods[0]
    if shown is not None and one.number == first.number and one.rests_on != "word":
        return told.say(
            "area-rests-trial",
            date=short_day_told(shown.date),
            area=shown.area,
            letter=shown.letter,
            head=shown.head[:12],
            samples=shown.samples,
            mean=whole_percent(shown.mean),
            spanned="no" if shown.low is None else "yes",
            low=whole_percent(shown.low or 0.0),
            high=whole_percent(shown.high or 0.0),
            name=person(shown.by),
        )
    if one.rests_on == "word":
        return told.say("area-rests-word", name=person(one.word_by or ""))
    return told.say(f"area-rests-{one.rests_on}")
