"""Addenda: why the signed day was opened again, what was corrected and added, who signed it."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.report.build.context import Context
from fieldassist.report.report_model import (
    AddedLine,
    Addendum,
    AreaReport,
    ConditionLine,
    CorrectionLine,
    DustLine,
    NoteLine,
    PhotoLine,
    Signature,
)


class Addenda:
    """What an addendum may speak of: all that is told of the day."""

    def __init__(
        self,
        context: Context,
        areas: Sequence[AreaReport],
        notes: Sequence[NoteLine],
        dust: Sequence[DustLine],
        weather: Sequence[ConditionLine],
        photos: Sequence[PhotoLine],
        signatures: Sequence[Signature],
    ) -> None:
        self._context = context
        self._areas, self._notes, self._dust = areas, notes, dust
        self._weather, self._photos, self._signatures = weather, photos, signatures

    def told(self) -> tuple[Addendum, ...]:
        """All of them, in order."""
        return tuple(
            self._addendum(event, event.body)
            for event in self._context.opened
            if isinstance(event.body, ev.AddendumOpened)
        )

    def _addendum(self, event: Event, body: ev.AddendumOpened) -> Addendum:
        context, number = self._context, body.number
        corrections = tuple(
            CorrectionLine(
                e.seq, context.time(e), context.who(e), e.body.target, self._named(e.body.target), e.body.text
            )
            for e in context.events
            if isinstance(e.body, ev.CorrectionMade) and context.parts[e.seq] == number
        )
        signature = next((s for s in reversed(self._signatures) if s.part == number), None)
        return Addendum(
            number,
            event.seq,
            context.time(event),
            context.who(event),
            body.reason,
            corrections,
            self._added(number),
            signature,
        )

    def _added(self, number: int) -> tuple[AddedLine, ...]:
        added = [
            AddedLine(x.seq, x.time, x.who, a.name, x.what, x.reading, x.verdict, x.withdrawn)
            for a in self._areas
            for x in a.sequence
            if x.kind != "round"
        ]
        added += [AddedLine(n.seq, n.time, n.who, n.area, n.text) for n in self._notes]
        added += [
            AddedLine(d.seq, d.time, d.who, "", f"Dust: {d.task}, {d.place}", d.minutes, withdrawn=d.withdrawn)
            for d in self._dust
        ]
        added += [AddedLine(p.seq, p.time, p.who, p.area, "PhotoLine", p.file) for p in self._photos]
        added += [AddedLine(c.seq, c.time, c.who, c.area, "Weather", c.reading) for c in self._weather]
        within = (line for line in added if self._context.parts[line.seq] == number)
        return tuple(sorted(within, key=lambda line: line.seq))

    def _named(self, target: int) -> str:
        """An event in a few words, as it stands on its line of the log."""
        shown = self._context.shown_at(target)
        for area in self._areas:
            for line in area.sequence:
                if line.seq in shown and line.kind != "round":
                    return ", ".join(part for part in (area.name, line.what, line.reading) if part)
        for note in self._notes:
            if note.seq == target:
                return f"remark: {note.text}"
        for entry in self._dust:
            if entry.seq == target:
                return f"dust: {entry.task}, {entry.minutes}"
        event = self._context.by_seq.get(target)
        return str(event.body.type) if event is not None else "no such event"
