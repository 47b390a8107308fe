"""Lifted test tiles and their verdicts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist import proven
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds.reading import JudgedBy
from fieldassist.report.build.answers import Measured
from fieldassist.report.build.tiles import letter
from fieldassist.report.report_model import LiftLine, PhotoLine
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
    about = context.rounds[(body.area, *key)]
    lifted = about.lifted or event
    made = _setting_of(area, body.tile, lifted)
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
            came=words(proven.how_it_came(about.came)) if about.came else "",
            setter=words.person(made.setter) if made is not None else "–",
            method=letter(made.method) if made is not None else "",
            time=context.time(lifted),
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
            batch=area.batch_title(made.batch) if made is not None else "",
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


def _setting_of(area: AreaBuilder, tile: int, lifted: Event) -> ev.SetTile | None:
    """How the tile that was lifted had been set; None where that was on a day before."""
    found = (made for event, made in reversed(area.settings) if made.number == tile and event.seq < lifted.seq)
    return next(found, None)


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
