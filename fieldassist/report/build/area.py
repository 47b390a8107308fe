"""The pages of an area, from its facts."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.area_model import AreaPages, FailureCard, KeyFigure, LiftTable, PhotoBlock
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.cures import failures, finding_told
from fieldassist.report.build.dates import short_day_told
from fieldassist.report.build.figures import contact, measure, size, to_a_hundredth, void_allowed, whole_percent
from fieldassist.report.build.holds import holds, how_released, what_goes_on
from fieldassist.report.build.lift_lines import lift_table, other_photo, other_photos
from fieldassist.report.build.methods import bed_ends, methods, unused
from fieldassist.report.build.mortar import mortar
from fieldassist.report.build.states import in_reach
from fieldassist.report.build.trial import trial_report
from fieldassist.report.build.wall import wall
from fieldassist.trade.message import Bound, Figure, Message, Several, Text, message, term

# Sentences that tell of something open today.
_RED = frozenset({"area-verdict-failures", "area-verdict-suspect", "area-verdict-failed"})


def area_pages(facts: DayFacts, number: int, words: Words) -> AreaPages:
    """The pages of the area that has this number in the facts (from 0)."""
    area = facts.areas[number]
    told = AreaWords(facts, area, words)
    place: dict[str, Figure] = {"number": number + 1, "areas": len(facts.areas), "name": area.name}
    cards, lifts, blocks, coming = failures(told), lift_table(told), methods(told), what_goes_on(told)
    return AreaPages(
        key=told.key,
        name=told.say("area-title", name=area.name),
        running=words(Message("area-running", place)),
        again=words(Message("area-running-on", place)),
        status=_status(told),
        status_red=any(card.open for card in cards),
        about=tuple(_about(told)),
        verdict=tuple((words(sentence), sentence.code in _RED) for sentence in verdict(told)),
        figures=tuple(_figures(told)),
        wall=wall(area, words),
        methods_title=told.say("area-methods", count=len(blocks)),
        methods_note=told.say("area-methods-note"),
        methods=blocks,
        unused=unused(told),
        failures=cards,
        lifts=lifts,
        mortar=mortar(told),
        holds_title=told.say("area-holds"),
        holds=holds(told),
        tomorrow_title=told.say("area-next"),
        tomorrow=coming,
        photos=_photos(told, lifts, cards),
        feet=tuple(_feet(told)),
        trial=trial_report(facts, area, words),
    )


def _photos(told: AreaWords, lifts: LiftTable | None, cards: tuple[FailureCard, ...]) -> PhotoBlock | None:
    """The photos that stand neither at a lift nor at a failure: none is left out in silence."""
    shown = {photo.file for line in (lifts.lines if lifts is not None else ()) for photo in line.photos}
    shown |= {card.photo.file for card in cards if card.photo is not None}
    # These stand at their lifts as they were squared up.
    measured = {lift.back.photo for lift in told.area.lifts if lift.back is not None}
    shown |= {photo.file for photo in told.photos if photo.sha256 in measured and not photo.withdrawn}
    rest = other_photos(told, frozenset(shown))
    if not rest:
        return None
    return PhotoBlock(told.say("area-photos"), told.say("area-photos-note", count=len(rest)), rest)


def photos_between(facts: DayFacts, words: Words) -> PhotoBlock | None:
    """The photos of a day that belong to no area with a page; None where there are none."""
    paged = {area.name for area in facts.areas if area.phase != "not started"}
    rest = tuple(other_photo(photo, facts.date, words) for photo in facts.photos if photo.area not in paged)
    if not rest:
        return None
    return PhotoBlock(words(message("area-photos-between")), words(message("area-photos-count", count=len(rest))), rest)


# --- the head of the page -------------------------------------------------------------------------------------------


def _status(told: AreaWords) -> str:
    area = told.area
    if area.phase != "finished":
        return told.say("area-goes-on")
    release = area.final_release
    if release is None:
        return told.say("area-finished-at", time=told.time(area.finished), timed="yes" if area.finished else "no")
    return told.say(
        "area-finished",
        time=told.time(area.finished),
        timed="yes" if area.finished else "no",
        how=Text.plain(how_released(told, release)),
    )


def _about(told: AreaWords) -> Iterator[str]:
    area, words = told.area, told.words
    piece = area.piece
    yield told.say(
        "area-about",
        where=Text.plain(area.where),
        place=area.place,
        product=term("area-product", piece.product),
        size=size((piece.length_mm, piece.width_mm), words),
        thick=measure(piece.thickness_mm, "mm"),
        rectified="yes" if piece.rectified else "no",
        joined="no" if area.joint_mm is None else "yes",
        joint=measure(area.joint_mm or 0.0, "mm"),
        weighed="no" if piece.kg is None else "yes",
        weight=measure(round(piece.kg or 0.0, 1), "kg"),
    )
    earlier = next((day for day in told.day.continues if area.continues == day.head), None)
    if earlier is not None:
        sealed = "yes" if earlier.sealed else "no"
        yield told.say("area-carried", date=short_day_told(earlier.date), head=earlier.head[:12], sealed=sealed)


# --- the sentence of verdict ----------------------------------------------------------------------------------------


def verdict(told: AreaWords) -> Iterator[Message]:
    """The verdict on an area, sentence by sentence, built from counts alone: what is open stands first."""
    area = told.area
    open_ones = [failure for failure in area.failures if failure.open]
    if open_ones:
        finding = Text.plain(finding_told(told, open_ones[0]))
        yield message("area-verdict-failures", count=len(open_ones), finding=finding)
    pieces = told.set_tiles
    if not pieces:
        yield message("area-verdict-nothing")
        return
    reach = [tile for tile in pieces if in_reach(tile)]
    full = len(reach) == len(pieces)
    good = {lift.tile for lift in area.lifts if lift.verdict == "passed"}
    yield _set(told, len(pieces))
    if full:
        yield message("area-verdict-all", pieces=told.count(len(pieces)), count=len(pieces), lifts=len(good))
    elif area.required is not None:
        yield message("area-verdict-reach", count=len(reach), pieces=told.count(len(pieces)))
    for state, code in (
        ("suspect", "area-verdict-suspect"),
        ("lifted failed", "area-verdict-failed"),
        ("not yet covered", "area-verdict-uncovered"),
        ("accepted", "area-verdict-accepted"),
    ):
        numbers = told.in_state(state)
        if numbers and (state != "not yet covered" or area.required is not None):
            yield message(code, pieces=told.pieces(numbers), count=len(numbers))
    yield from _cured(told)
    bags = area.bags
    if bags is not None and bags.verdict != "as predicted" and (told.looks("open-bags") or told.looks("doubt-bags")):
        yield message("area-verdict-bags", verdict=bags.verdict.replace(" ", "-"))


def _set(told: AreaWords, pieces: int) -> Message:
    """Whether all is set that was planned."""
    area = told.area
    less = not told.all_set
    state = "full" if not less else "less" if area.phase == "finished" else "part"
    if area.phase != "finished" and not less:
        state = "open"
    return message(
        "area-verdict-set",
        state=state,
        pieces=told.count(pieces),
        count=pieces,
        gridded="no" if told.planned is None else "yes",
        planned=told.planned or 0,
        set=measure(round(area.set_m2, 2), "m2"),
        surface=measure(round(area.planned_m2, 2), "m2"),
    )


def _cured(told: AreaWords) -> Iterator[Message]:
    area = told.area
    failed = [lift for lift in area.lifts if lift.verdict == "failed"]
    if not failed or any(failure.open for failure in area.failures):
        return
    cleared = [tile.number for tile in area.tiles if tile.cleared_by]
    again = [tile.number for tile in told.set_tiles if tile.put_back == "set again" or tile.seen == "set again"]
    yield message("area-verdict-cured", count=len(failed), cleared=len(cleared), again=len(again))


# --- four figures ---------------------------------------------------------------------------------------------------


def _figures(told: AreaWords) -> Iterator[KeyFigure]:
    area = told.area
    yield KeyFigure(
        told.say("area-head-set"),
        told.words(measure(round(area.set_m2, 2), "m2")),
        told.say(
            "area-of-planned",
            planned=measure(round(area.planned_m2, 2), "m2"),
            pieces=told.count(len(told.set_tiles)),
        ),
    )
    yield KeyFigure(told.say("area-head-required"), "", _required(told))
    yield _lifts(told)
    yield KeyFigure(told.say("area-head-proven"), "", _proven(told))


def _required(told: AreaWords) -> str:
    need = told.area.required
    if need is None:
        return told.say("area-none-required")
    percent = Bound(measure(need.percent, "percent"), "at least")
    parts: list[Figure] = [message("area-need-contact", percent=percent, dagger=told.dagger("required coverage"))]
    if need.void_mm2 is not None:
        void = void_allowed(need.void_mm2)
        parts.append(message("area-need-void", void=void, dagger=told.dagger("largest void")))
    if need.corners:
        edges = "yes" if need.edges else "no"
        parts.append(message("area-need-corners", edges=edges, dagger=told.dagger("corners")))
    parts.append(message("area-need-lifts", count=told.area.lifts_needed, dagger=told.dagger("lifts")))
    return told.words(Several(tuple(parts), "list"))


def _lifts(told: AreaWords) -> KeyFigure:
    judged = [lift for lift in told.area.lifts if lift.verdict is not None]
    good = [lift for lift in judged if lift.verdict == "passed" and lift.percent is not None]
    failed = sum(lift.verdict == "failed" for lift in judged)
    unread = sum(lift.verdict == "not complete" for lift in judged)
    head = told.say("area-head-lifts")
    waiting = len(told.area.lifts) - len(judged)
    if not judged:
        return KeyFigure(head, told.say("area-no-lift", open=waiting), "")
    rest = [told.say("area-lifts-failed", failed=failed, unread=unread, open=waiting)]
    if good:
        read = [(lift.percent or 0.0, lift.required_percent) for lift in good]
        worst = min(read, key=lambda one: one[0])
        mean = sum(percent for percent, _ in read) / len(read)
        rest.append(told.say("area-worst-mean", worst=contact(*worst), mean=contact(mean, worst[1])))
    return KeyFigure(head, told.say("area-lifts-good", good=len(good)), "".join(rest))


def _proven(told: AreaWords) -> str:
    """What lifts by lot prove: nothing else carries a bound."""
    lots = told.area.lots
    if lots.good_share is None:
        return told.say("area-proven-nothing", lifted=lots.lifted)
    share = whole_percent(lots.good_share * 100)
    if not share.value:
        return told.say("area-proven-no-share", good=lots.drawn_good, drawn=lots.drawn)
    sure = measure(lots.confidence * 100, "percent")
    return told.say("area-proven", good=lots.drawn_good, drawn=lots.drawn, share=share, sure=sure)


# --- the foot -------------------------------------------------------------------------------------------------------


def _feet(told: AreaWords) -> Iterator[str]:
    """What is said once, at the foot: how figures are rounded, what the sign behind a limit means, other units."""
    if told.area.lifts:
        yield told.say("area-rounded")
    if told.area.required is not None and told.area.required.second_hand:
        yield told.say("area-dagger-means", dagger=told.say("area-dagger"))
    if told.other_days:
        yield told.say("area-days-after")
    yield _other_units(told)


def _other_units(told: AreaWords) -> str:
    area = told.area
    own = told.words.units
    other = told.words.in_units("us" if own != "us" else "metric")
    piece, method = area.piece, area.methods[-1] if area.methods else None
    parts: list[Figure] = [
        message("area-other-piece", size=size((piece.length_mm, piece.width_mm), other)),
    ]
    if area.joint_mm is not None:
        parts.append(message("area-other-joint", joint=to_a_hundredth(measure(area.joint_mm, "mm"), other)))
    if method is not None:
        parts.append(message("area-other-notch", notch=size((method.width_mm, method.depth_mm), other)))
    least, most = (to_a_hundredth(end, other) for end in bed_ends(told))
    parts.append(message("area-other-bed", at_least=least, at_most=most))
    if area.required is not None and area.required.void_mm2 is not None:
        parts.append(message("area-other-void", void=void_allowed(area.required.void_mm2)))
    parts.append(message("area-other-surface", surface=measure(round(area.planned_m2, 2), "m2")))
    if piece.kg is not None:
        parts.append(message("area-other-weight", weight=measure(round(piece.kg, 1), "kg")))
    return other(message("area-other-units", system=other.units, figures=Several(tuple(parts), "clauses")))
