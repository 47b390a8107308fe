"""Lifted test tiles and their verdicts."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist import proven
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds.reading import JudgedBy, as_read
from fieldassist.checklist.rules import as_told
from fieldassist.checklist.told import exact
from fieldassist.report.build.answers import Measured
from fieldassist.report.build.tiles import letter
from fieldassist.report.report_model import LiftLine, PhotoLine
from fieldassist.trade import coverage
from fieldassist.trade.message import Bound
from fieldassist.trade.quantities import Quantity

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


def judged(area: AreaBuilder, event: Event, body: ev.LiftJudged) -> None:
    """A lifted test tile was judged by what was read of it."""
    context, words = area.context, area.context.words
    key = (body.section, body.round)
    measured = area.measured.get(key, {})
    reasons = tuple(words.sentence(reason) for reason in body.reasons)
    need = JudgedBy(rule="", at_least=body.required, unit="percent", basis=body.basis)
    contact = words.beside(Quantity(body.coverage, "percent"), need)
    ref = context.ref(body.basis)
    void, corners, edges, bed = (_read(measured, what) for what in ("largest void", "corners", "edges", "bed"))
    read = measured.get("coverage")
    lifted = context.by_seq.get(body.lifted)
    before = area.held.lifts.get(body.lift) if area.held is not None else None
    method, batch = _set_with(area, body.order)
    line = area.add(
        event,
        "lift",
        f"Lift {body.lift} judged (tile {body.tile}{f', “{body.label}”' if body.label else ''})",
        reading=contact.read,
        criterion=contact.required,
        verdict=body.verdict,
        detail="; ".join([*reasons, *([f"not read: {', '.join(_unread(area, body))}"] if body.unread else [])]),
        ref=ref,
    )
    area.lifts.append(
        LiftLine(
            seq=event.seq,
            number=body.lift,
            tile=body.tile,
            label=body.label or "",
            came=words(proven.how_it_came(body.came)),
            setter=words.person(body.setter),
            method=method,
            time=context.time(lifted) if lifted is not None else words.time((before or event).at.wall),
            who=line.who,
            contact=float(body.coverage),
            required=float(body.required),
            contact_told=contact.read,
            required_told=words(Bound(Quantity(body.required, "percent"), "at least")),
            source=read.source if read is not None else None,
            verdict=body.verdict,
            reasons=reasons,
            unread=_unread(area, body),
            void=void,
            corners=corners,
            edges=edges,
            bed=bed,
            photos=_photos(area, key, body.lift),
            batch=batch,
            ref=ref,
            withdrawn=line.withdrawn,
            corrected=_corrected(area, event, body),
            judged_anew=isinstance(getattr(context.standing.struck.get(event.seq), "body", None), ev.LiftJudged),
        )
    )
    if key in area.cures and area.cures[key] in area.failures.all:
        area.failures.all[area.cures[key]].checks.append(line)


def _read(measured: Mapping[str, Measured], what: str) -> str:
    return measured[what].text if what in measured else ""


def _set_with(area: AreaBuilder, order: int) -> tuple[str, str]:
    """Method and batch of a setting, of this day or one before; "" where nothing is known of them."""
    made = next((made for _, made in area.settings if made.order == order), None)
    tiles = area.held.tiles.values() if area.held is not None else ()
    earlier = next((tile for tile in tiles if tile.order == order), None)
    if made is not None:
        return letter(made.method), area.batch_title(made.batch)
    return (letter(earlier.method), area.batch_title(earlier.batch)) if earlier is not None else ("", "")


def earlier(area: AreaBuilder, required: coverage.Requirement | None) -> Iterator[LiftLine]:
    """The lifts of days before that were judged then, as far as they go on with the area."""
    held, words = area.held, area.context.words
    if held is None or required is None:
        return
    here = {lift.number for lift in area.lifts}
    need = JudgedBy(rule="", at_least=exact(required.minimum_percent), unit="percent", basis=as_told(required.basis))
    for record in held.lifts.values():
        read = held.measured.get((record.section, record.round), {})
        percent = read.get("coverage")
        if record.verdict is None or percent is None or record.number in here:
            continue
        method, batch = _set_with(area, record.order)
        full = read.get("corners")
        void = read.get("largest void")
        yield LiftLine(
            seq=record.lifted,
            number=record.number,
            tile=record.tile,
            label=record.label or "",
            came=words(proven.how_it_came(record.came)),
            setter=words.person(held.runs[record.run - 1][0]),
            method=method,
            time=words.time(record.at.wall),
            who="–",
            contact=float(percent.value),
            required=required.minimum_percent,
            contact_told=words.beside(percent, need).read,
            required_told=words(Bound(Quantity(exact(required.minimum_percent), "percent"), "at least")),
            source=None,
            verdict=record.verdict,
            reasons=("on an earlier day",),
            unread=(),
            void=words(as_read(Fraction(void.value), void.unit)) if void is not None else "",
            corners="" if full is None else "full" if full.value else "not full",
            edges="",
            bed="",
            photos=(),
            batch=batch,
            ref=area.context.ref(required.basis),
            withdrawn=False,
        )


def _unread(area: AreaBuilder, body: ev.LiftJudged) -> tuple[str, ...]:
    return tuple(area.context.words.sentence(one) for one in body.unread)


def _photos(area: AreaBuilder, key: tuple[str, int], lift: int) -> tuple[PhotoLine, ...]:
    """The photos of a lift's round that stand; they are told as the lift's from here on."""
    found = []
    for place, (where, photo) in enumerate(area.photos):
        if where == key and photo.lift is None:
            area.photos[place] = (where, replace(photo, lift=lift))
            found.append(area.photos[place][1])
    return tuple(photo for photo in found if not photo.withdrawn)


def _corrected(area: AreaBuilder, event: Event, body: ev.LiftJudged) -> tuple[str, ...]:
    """What addenda say about a lift or about one of its readings."""
    context = area.context
    told = list(context.corrected(event.seq))
    for seq in sorted(context.corrections):
        other = context.by_seq[seq].body if seq in context.by_seq else None
        if isinstance(other, ev.JudgedReading | ev.ChoiceMade) and (other.area, other.section, other.round) == (
            body.area,
            body.section,
            body.round,
        ):
            told += context.corrected(seq)
    return tuple(dict.fromkeys(told))


HANDLERS: Mapping[type, Callable[..., None]] = {ev.LiftJudged: judged}
