"""Page one, from the facts of the day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldassist.facts.model import AreaFacts, DayFacts, FailureFact, LookFact, ReleaseFact
from fieldassist.language import Words
from fieldassist.report.build.answering import answering
from fieldassist.report.build.chart import lift_chart
from fieldassist.report.build.dates import day_told, time_told
from fieldassist.report.build.figures import contact, measure, people, person, piece, told_again, whole_percent
from fieldassist.report.build.places import place_of
from fieldassist.report.build.states import in_reach, set_tiles, signature_of, standing_lifts
from fieldassist.report.front_model import DOUBT, NOTHING, FrontArea, FrontFailure, FrontPage, FrontPoint
from fieldassist.report.keys import area_key
from fieldassist.trade.message import Figure, Message, Several, message, term
from fieldassist.trade.quantities import convert, unit_in_system, unit_info

# Numbers up to here are told as words, and so many areas are named: of more their number is told.
_IN_WORDS, _NAMED = 12, 2
# With how many decimals a surface is told in a column.
_DECIMALS = {"m2": 2}
_HAIR = 1e-9
# What may be open in an area, the worst first.
_RANKED = ("failure", "unproven", "contradiction", "unanswered")
# What tells of something that failed and is no failure, or none any more.
_NO_FAILURE_NOW = ("doubt-undone", "doubt-not-judged", "doubt-correction")
# What a lift may fall short of beside its contact.
_SHORT = ("coverage-void-too-large", "coverage-void-near-edge", "coverage-corner-unsupported")


def front(facts: DayFacts, words: Words) -> FrontPage:
    """Page one."""
    worst, limits = _looked_at(facts)
    chart = lift_chart(facts, words)
    # Where areas share a panel, their lifts go by the numbers of the areas.
    numbered = chart is not None and not chart.by_area
    areas = tuple(
        _area(facts, at, words, rank=worst.get(area.name, NOTHING), second_hand=area.name in limits, numbered=numbered)
        for at, area in enumerate(facts.areas)
    )
    return FrontPage(
        site=facts.site,
        date=words(message("front-date", date=day_told(facts.date))),
        about=words(Several(tuple(_about(facts)), "sentences")),
        alarm=words(Several(tuple(_alarm(facts)), "sentences")),
        verdict=words(Several(tuple(_verdict(facts)), "sentences")),
        goes_on=words(Several(tuple(_goes_on(facts, words)), "sentences")),
        areas=areas,
        dagger=words(message("front-dagger")) if _is_unexplained(facts) else "",
        chart=chart,
        points=tuple(_points(facts, words)),
        points_note=_points_note(facts, words),
        failures=tuple(_failures(facts, words)),
        none_failed=_none_failed(facts, words),
        answers=answering(facts, words),
    )


def _about(facts: DayFacts) -> Iterator[Figure]:
    if facts.address:
        yield message("front-address", address=facts.address)
    if facts.owner:
        yield message("front-owner", owner=facts.owner)
    crew = {role: [p.name for p in facts.crew if p.role == role] for role in ("installer", "foreman")}
    if crew["installer"]:
        yield message("front-set-by", names=people(crew["installer"]))
    if crew["foreman"]:
        yield message("front-foreman", names=people(crew["foreman"]), count=len(crew["foreman"]))


# --- the sentence of verdict --------------------------------------------------------------------------------------


def _number(count: int) -> Figure:
    return term("front-number", str(count)) if count <= _IN_WORDS else str(count)


def _named(areas: Sequence[AreaFacts]) -> Figure:
    return Several(tuple(area.name for area in areas), "and")


def _alarm(facts: DayFacts) -> Iterator[Figure]:
    """What is open today and nobody may read past."""
    where = [area for area in facts.areas if any(failure.open for failure in area.failures)]
    count = sum(failure.open for area in where for failure in area.failures)
    if count:
        named = "yes" if len(where) <= _NAMED else "no"
        yield message(
            "front-open-failures", count=count, number=_number(count), areas=_named(where[:_NAMED]), named=named
        )


def _verdict(facts: DayFacts) -> Iterator[Figure]:
    """What is done, and how much of it a good lift speaks for."""
    if facts.kind != "work":
        yield term("front-no-work", facts.kind)
    areas = [area for area in facts.areas if area.trial is None]
    started = [area for area in areas if area.phase != "not started"]
    finished = [area for area in areas if area.phase == "finished"]
    yield from _trials(facts)
    if areas and not started:
        yield message("front-nothing", count=len(areas), number=_number(len(areas)), name=_named(areas[:1]))
    elif areas:
        code = "all" if len(finished) == len(areas) else "some" if finished else "none"
        yield message(
            f"front-finished-{code}",
            count=len(finished) if code == "some" else len(areas),
            finished=_number(len(finished)),
            areas=_number(len(areas)),
            name=_named(areas[:1]),
        )
        yield from _reach(finished or started, finished=bool(finished))


def _reach(areas: Sequence[AreaFacts], *, finished: bool) -> Iterator[Figure]:
    """How many of their tiles lie within reach of a good lift. Where no tile is lifted there is nothing to tell."""
    tiles = [tile for area in areas if area.lifts_needed or area.lifts for tile in set_tiles(area)]
    reached, accepted = sum(map(in_reach, tiles)), sum(tile.state == "accepted" for tile in tiles)
    if not tiles:
        return
    if finished and reached + accepted == len(tiles):
        yield message(
            "front-reach-all", areas=len(areas), tiles=len(tiles), accepted=accepted, number=_number(accepted)
        )
    else:
        yield message("front-reach-some", reached=reached, tiles=len(tiles), accepted=accepted)


def _trials(facts: DayFacts) -> Iterator[Figure]:
    for area in facts.areas:
        trial = area.trial
        if trial is not None:
            yield message(
                "front-trial",
                area=area.name,
                methods=sum(one.run for one in trial.combinations),
                made=trial.made,
                planned=trial.planned,
            )


def _goes_on(facts: DayFacts, words: Words) -> Iterator[Figure]:
    """What is not finished, and how much there is to look at."""
    areas = [area for area in facts.areas if area.trial is None]
    going = [area for area in areas if area.phase not in ("not started", "finished")]
    waiting = [area for area in areas if area.phase == "not started"]
    if len(going) <= _NAMED:
        for area in going:
            yield message("front-goes-on", area=area.name, done=_set_of(area, words))
    else:
        yield message("front-go-on", number=_number(len(going)))
    if waiting and len(waiting) < len(areas):
        code = "front-not-started" if len(waiting) <= _NAMED else "front-many-not-started"
        yield message(code, areas=_named(waiting[:_NAMED]), count=len(waiting), number=_number(len(waiting)))
    if signature_of(facts, 0) is None:
        yield message("front-not-signed")
    if facts.addenda:
        corrected = sum(one.part > 0 for one in facts.corrections)
        about = {"count": len(facts.addenda), "number": _number(len(facts.addenda)), "corrected": corrected}
        yield Message("front-reopened", about)
    count = len(facts.look_at)
    yield message("front-points", count=count, number=_number(count))


# --- a row an area ------------------------------------------------------------------------------------------------


def _looked_at(facts: DayFacts) -> tuple[dict[str, int], set[str]]:
    """Of the areas with something to look at that is more than where they stand the rank of the worst, and the areas
    whose limit is looked at."""
    worst: dict[str, int] = {}
    for one in facts.look_at:
        if one.kind not in ("limit", "unfinished"):
            rank = _RANKED.index(one.kind) if one.open and one.kind in _RANKED else DOUBT
            worst |= {name: min(rank, worst.get(name, NOTHING)) for name in one.areas}
    return worst, {name for one in facts.look_at if one.kind == "limit" for name in one.areas}


def _area(facts: DayFacts, number: int, words: Words, *, rank: int, second_hand: bool, numbered: bool) -> FrontArea:
    area = facts.areas[number]
    standing = standing_lifts(area)
    note, red = _reach_note(area)
    released, how, waits, released_red = _released(facts, area)
    tiles = set_tiles(area)
    good_lifts = sum(lift.verdict == "passed" for lift in area.lifts)
    return FrontArea(
        key=area_key(number + 1) if area.phase != "not started" else "",
        name=words(
            message("front-area-numbered", number=str(number + 1), area=area.name)
            if numbered
            else message("front-area", area=area.name)
        ),
        where=words(message("front-where", where=area.where, named="yes" if area.where else "no", place=area.place)),
        set_of=_set_of(area, words),
        short=area.trial is None and area.set_m2 < area.planned_m2 - _HAIR,
        required=_required(area, words, second_hand=second_hand),
        worst="" if standing.worst is None else words(contact(standing.worst, area.required_percent)),
        worst_open=standing.failed,
        mean="" if standing.mean is None else words(whole_percent(standing.mean)),
        lifts=words(message("front-of", part=good_lifts, whole=len(area.lifts))) if area.lifts else "",
        reach=words(message("front-of", part=sum(map(in_reach, tiles)), whole=len(tiles)))
        if tiles and (area.lifts_needed or area.lifts)
        else "",
        reach_note=words(note),
        reach_red=red,
        released=words(released),
        how_released=words(how),
        waits=waits,
        released_red=released_red,
        rank=rank,
    )


def _set_of(area: AreaFacts, words: Words) -> str:
    """Set, of planned: both with as many decimals, the unit once."""
    if area.trial is not None:
        return words(message("front-samples", made=area.trial.made, planned=area.trial.planned))
    unit = unit_in_system("m2", words.units)
    decimals = _DECIMALS.get(unit, 1)
    done, planned = (f"{convert(m2, 'm2', unit):.{decimals}f}" for m2 in (area.set_m2, area.planned_m2))
    return words(message("front-set", done=done, planned=planned, unit=unit_info(unit).symbol))


def _required(area: AreaFacts, words: Words, *, second_hand: bool) -> str:
    """What is required; † where that is among the limits to look at, or will be once a tile is lifted."""
    if area.required_percent is None:
        return ""
    second_hand = second_hand or (area.required is not None and area.required.second_hand)
    return words(
        message(
            "front-required", percent=measure(area.required_percent, "percent"), sign="yes" if second_hand else "no"
        )
    )


def _is_unexplained(facts: DayFacts) -> bool:
    """Whether a † stands in a row, and no point tells what it means: before a tile was lifted."""
    marked = any(area.required is not None and area.required.second_hand for area in facts.areas)
    return marked and not any(look.kind == "limit" for look in facts.look_at)


def _reach_note(area: AreaFacts) -> tuple[Figure, bool]:
    """What of the tiles that no good lift reaches, the worst first, and whether it is open today; a lift that nobody
    judged goes before tiles that none reaches yet."""
    states = [tile.state for tile in set_tiles(area)]
    lifted = bool(area.lifts_needed or area.lifts)
    not_judged = sum(lift.verdict is None for lift in area.lifts)
    for state, red in (("lifted failed", True), ("suspect", True), ("accepted", True), ("not yet covered", False)):
        if state == "not yet covered" and not_judged:
            return message("front-reach-note", state="not-judged", count=not_judged), False
        count = states.count(state)  # type: ignore[arg-type]
        if count and lifted:
            return message("front-reach-note", state=state.replace(" ", "-"), count=count), red
    return "", False


def _released(facts: DayFacts, area: AreaFacts) -> tuple[Figure, Figure, bool, bool]:
    """Who released the area, how, whether that is still to come, and whether it is open today."""
    if area.trial is not None:
        return _trial_released(facts, area)
    if area.phase == "not started":
        return message("front-area-not-started"), "", True, False
    release = area.final_release
    if release is None:
        if area.phase == "finished":
            return message("front-no-release"), "", False, False
        return message("front-not-released"), "", True, False
    named = message("front-released", name=person(release.by), at=time_told(release.at, facts.date))
    red = release.struck or not release.confirmed
    return named, _how(facts, release), red, red


def _how(facts: DayFacts, release: ReleaseFact) -> Figure:
    if release.struck:
        return message("front-how-struck")
    if release.how == "pin":
        return message("front-how-pin")
    if release.confirmed_at is None:
        return message("front-how-called" if not release.confirmed else "front-how-confirmed-before")
    return message("front-how-confirmed", at=time_told(release.confirmed_at, facts.date))


def _trial_released(facts: DayFacts, area: AreaFacts) -> tuple[Figure, Figure, bool, bool]:
    releases = area.trial.releases if area.trial is not None else []
    if not releases:
        return message("front-no-method"), "", False, False
    last = releases[-1]
    named = message("front-released", name=person(last.by), at=time_told(last.at, facts.date))
    letters = Several(tuple(dict.fromkeys(one.letter for one in releases)), "and")
    return named, message("front-how-method", letters=letters), False, False


# --- what to look at, and what failed -----------------------------------------------------------------------------


def _points(facts: DayFacts, words: Words) -> Iterator[FrontPoint]:
    for look in facts.look_at:
        yield _point(facts, look, words)


def _point(facts: DayFacts, look: LookFact, words: Words) -> FrontPoint:
    key, on = place_of(facts, look)
    return FrontPoint(
        number=look.number,
        kind=look.kind,
        lead=words(_lead(look)),
        text=words(_point_told(look, words)),
        key=key,
        on=on,
        red=look.red,
    )


def _lead(look: LookFact) -> Message:
    """What it is: of what is open and red, that it is open, since on a grey print red is the paler black."""
    if look.red:
        return term("front-lead-open", look.kind)
    return term("front-lead", look.code if look.kind == "doubt" else look.kind)


def _point_told(look: LookFact, words: Words) -> Message:
    """A point as a sentence."""
    asks = look.open and look.kind == "contradiction"
    return message(
        "front-point",
        point=look.answer or told_again(look.code, look.figures, look.text, words),
        asks="yes" if asks else "no",
    )


def _points_note(facts: DayFacts, words: Words) -> str:
    opened, answered = sum(one.open for one in facts.look_at), sum(one.answered for one in facts.look_at)
    counts = (("open", opened), ("answered", answered), ("doubt", len(facts.look_at) - opened - answered))
    told = [message(f"front-count-{code}", count=count) for code, count in counts if count]
    return words(Several(tuple(told), "list"))


def _none_failed(facts: DayFacts, words: Words) -> str:
    """That nothing failed; no more than that no failure stands, where points tell of one that is none any more."""
    told = tuple(str(one.number) for one in facts.look_at if one.code in _NO_FAILURE_NOW)
    return words(message("front-none-failed", count=len(told), points=Several(told, "and")))


def _failures(facts: DayFacts, words: Words) -> Iterator[FrontFailure]:
    found = [(area, failure) for area in facts.areas for failure in area.failures]
    for area, failure in sorted(found, key=lambda one: one[1].number):
        yield FrontFailure(
            number=failure.number,
            time=words(time_told(_when(area, failure), facts.date)) if failure.at else words(message("front-earlier")),
            area=words(message("front-area", area=area.name)),
            found=words(_found(area, failure)),
            cure=words(_cure(area, failure)),
            open=failure.open,
        )


def _when(area: AreaFacts, failure: FailureFact) -> str:
    """When it was found: of a lift, when that was made, as wherever the lift is told."""
    return next((lift.at for lift in area.lifts if lift.number == failure.lift), failure.at)


def _found(area: AreaFacts, failure: FailureFact) -> Figure:
    """What was found, in one line: of a lift its contact, and what else it fell short of."""
    lift = next((one for one in area.lifts if one.number == failure.lift), None)
    if lift is None or not lift.reasons or lift.percent is None or lift.required_percent is None:
        return message("front-found", found=failure.text, place=failure.place, named="yes" if failure.place else "no")
    others = tuple(term("front-short", one.code) for one in lift.reasons if one.code in _SHORT)
    return message(
        "front-found-lift",
        piece=piece(area.piece.product, lift.tile),
        percent=contact(lift.percent, lift.required_percent),
        required=measure(lift.required_percent, "percent"),
        also=len(others),
        others=Several(others),
    )


def _cure(area: AreaFacts, failure: FailureFact) -> Figure:
    """What was done, and what showed that it helped."""
    if failure.closed is None:
        return message("front-not-cured", asks=failure.corrective_told.text)
    shown = failure.closed.shown_by
    passed = next((one for one in area.lifts if str(one.number) == shown.figures.get("lift")), None)
    done = failure.corrective_told.text
    if shown.code == "engine-lift-passed" and passed is not None and passed.percent is not None:
        return message(
            "front-cured-lift",
            done=done,
            lift=str(passed.number),
            percent=contact(passed.percent, passed.required_percent),
        )
    if shown.code == "engine-corrective-done":
        return message("front-cured-done", done=done)
    return message("front-cured", done=done, shown=shown.text)
