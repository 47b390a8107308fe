"""Who let an area go on, what was read before, and how a piece is carried."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import ReadingFact, ReleaseFact
from fieldassist.report.area_model import HoldLine
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.figures import measure, person
from fieldassist.trade.message import Figure, Several, Text, message


def holds(told: AreaWords) -> tuple[HoldLine, ...]:
    """The hold points in order, those of earlier days first; before them how a piece is handled."""
    handled = HoldLine("", told.say("area-handling"), told.area.handling.told.text, "")
    return (handled, *(_line(told, release) for release in told.area.releases))


def how_released(told: AreaWords, release: ReleaseFact) -> str:
    """By PIN at the wall, called by voice and confirmed by PIN later, or not confirmed."""
    return told.say(
        "area-released-how",
        how=_how(release),
        name=person(release.by),
        deputy="no" if not release.deputy_for else "yes",
        foreman=person(release.deputy_for),
        time=told.time(release.confirmed_at),
    )


def _how(release: ReleaseFact) -> str:
    if release.struck:
        return "struck"
    if release.how == "pin":
        return "pin"
    return "confirmed" if release.confirmed else "called"


def _line(told: AreaWords, release: ReleaseFact) -> HoldLine:
    before = [
        reading
        for reading in told.area.readings
        if (reading.section, reading.round) == (release.section, release.round) and reading.event < release.event
    ]
    steps = Several(tuple(_read(reading) for reading in before), "clauses")
    return HoldLine(
        time=told.words(told.time(release.at)) if release.event > 0 else told.say("area-earlier-day"),
        strong=told.say("area-hold", name=Text.plain(release.name)),
        text=told.say("area-hold-after", steps=steps) if before else "",
        who=how_released(told, release),
        red=release.struck or not release.confirmed,
    )


def _read(reading: ReadingFact) -> Figure:
    """A step by its name, with what was read."""
    name = Text.plain(reading.name)
    if reading.value is not None and reading.unit is not None:
        return message("area-step-read", step=name, value=measure(reading.value, reading.unit))
    if reading.label is not None:
        return message("area-step-read", step=name, value=Text.plain(reading.label))
    if reading.option_told is not None:
        return message("area-step-read", step=name, value=Text.plain(reading.option_told.text))
    return name


def what_goes_on(told: AreaWords) -> tuple[str, ...]:
    """What is still to come, in sentences; none where the area is finished."""
    if told.area.phase == "finished":
        return ()
    return tuple(_to_come(told)) or (told.say("area-next-close"),)


def _to_come(told: AreaWords) -> Iterator[str]:
    """Pieces to set, what no good lift covers, lifts that are missing, points to answer, times that still run."""
    area = told.area
    not_set = told.in_state("not set", "taken off")
    if not_set and told.planned is not None:
        yield told.say("area-next-set", pieces=told.pieces(not_set))
    elif told.left_m2:
        yield told.say("area-next-surface", left=measure(told.left_m2, "m2"))
    open_ones = told.in_state("not yet covered")
    if open_ones:
        yield told.say("area-next-cover", pieces=told.pieces(open_ones))
    suspect = told.in_state("suspect", "lifted failed")
    if suspect:
        yield told.say("area-next-suspect", pieces=told.pieces(suspect))
    missing = area.lifts_needed - area.good_tiles
    if missing > 0:
        yield told.say("area-next-lifts", count=missing)
    for look in told.day.look_at:
        if look.area == area.name and look.kind == "unanswered" and look.open:
            yield told.say("area-next-open", point=Text.plain(look.text))
    for clock in area.clocks:
        if clock.outcome == "running":
            yield told.say("area-next-clock", clock=Text.plain(clock.title), since=told.time(clock.started))
