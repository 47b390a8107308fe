"""What was signed and sealed, and what an addendum holds, as facts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds.reading import as_told
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.standing import Standing
from fieldassist.facts import model
from fieldassist.facts.telling import Tell
from fieldassist.record.seal import check_seals
from fieldassist.trade.message import Message

# What frames an addendum, or is told among its corrections: no entry of its own.
_FRAME = (
    ev.AddendumOpened,
    ev.DaySigned,
    ev.DaySealed,
    ev.SpeakerChanged,
    ev.CorrectionMade,
    ev.ReadingCorrected,
)


class ClosingTeller:
    """Tells signatures, seals, confirmations, corrections and addenda of one day."""

    def __init__(self, events: Sequence[Event], hashes: Sequence[str], standing: Standing, tell: Tell) -> None:
        self._events, self._hashes, self._standing, self._tell = events, hashes, standing, tell
        self._lines = _lines_in_question(events)

    def signatures(self) -> Iterator[model.SignatureFact]:
        """Every sign-off."""
        for event in self._standing.bodies(ev.DaySigned):
            body = event.body
            assert isinstance(body, ev.DaySigned)
            yield model.SignatureFact(
                part=body.part,
                name=body.name,
                role=body.role.value,
                at=event.at.wall,
                open_points=[self._tell(point) for point in body.open_points],
                strokes=[list(stroke) for stroke in body.strokes],
                event=event.seq,
            )

    def seals(self) -> Iterator[model.SealFact]:
        """Every seal, and what became of it."""
        for check in check_seals(self._events, self._hashes):
            body = self._events[check.seq - 1].body
            assert isinstance(body, ev.DaySealed)
            yield model.SealFact(
                part=check.part,
                name=check.name,
                role=check.role.value,
                covers=check.covers,
                key=check.fingerprint,
                public_key=check.public_key,
                head=body.head,
                signature=body.signature,
                certificate=check.certificate,
                good=check.good,
                why=None if check.why is None else self._tell(check.why),
                warning=None if check.warning is None else self._tell(check.warning),
                event=check.seq,
            )

    def confirmations(self) -> Iterator[model.ConfirmationFact]:
        """Releases that were called in somebody's name and confirmed by that person's PIN later."""
        for event in self._standing.bodies(ev.ReleasesConfirmed):
            body = event.body
            assert isinstance(body, ev.ReleasesConfirmed)
            yield model.ConfirmationFact(
                by=body.name,
                role=body.role.value,
                releases=list(body.releases),
                at=event.at.wall,
                event=event.seq,
            )

    def corrections(self) -> Iterator[model.CorrectionFact]:
        """Entries that were corrected."""
        part = 0
        for event in self._events:
            body = event.body
            if isinstance(body, ev.AddendumOpened):
                part = body.number
            elif isinstance(body, ev.CorrectionMade):
                yield self._correction(event, body.target, part, self._tell(body.text))
            elif isinstance(body, ev.ReadingCorrected):
                called = self._events[body.target - 1].body
                assert isinstance(called, ev.ReadingCalled)  # the fold has seen that it is
                anew = self._tell(as_told(called.value, called.unit, called.label))
                yield self._correction(event, body.corrects, part, anew)

    def _correction(self, event: Event, target: int, part: int, anew: model.ToldFact) -> model.CorrectionFact:
        return model.CorrectionFact(
            target=target,
            told=self._tell(self._lines.get(target)),
            event=event.seq,
            part=part,
            text=anew.text,
            by=event.by,
            at=event.at.wall,
        )

    def addenda(self) -> Iterator[model.AddendumFact]:
        """Each time the signed day was opened again, with what was added to it."""
        opened = [event for event in self._events if isinstance(event.body, ev.AddendumOpened)]
        ends = [*(event.seq for event in opened[1:]), len(self._events) + 1]
        for event, end in zip(opened, ends, strict=False):
            body = event.body
            assert isinstance(body, ev.AddendumOpened)
            yield model.AddendumFact(
                number=body.number,
                reason=body.reason,
                added=[self._added(one) for one in self._events[event.seq : end - 1] if self._is_entry(one)],
                by=event.by,
                at=event.at.wall,
                event=event.seq,
            )

    def _is_entry(self, event: Event) -> bool:
        """Whether an event is told by itself: a reading that was kept is told where it was kept."""
        return not isinstance(event.body, _FRAME) and event.seq not in self._standing.kept

    def _added(self, event: Event) -> model.AddedFact:
        return model.AddedFact(
            area=getattr(event.body, "area", None) or "",
            told=self._tell(self._lines[event.seq]),
            withdrawn=not self._standing.counts(event),
            by=event.by,
            at=event.at.wall,
            event=event.seq,
        )

    def unsealed(self, seals: Sequence[model.SealFact]) -> int:
        """How many events follow the last good seal, all of them where there is none: no key vouches for those."""
        return len(self._events) - max((one.event for one in seals if one.good), default=0)


def _lines_in_question(events: Sequence[Event]) -> Mapping[int, Message]:
    """What the events of addenda and those that are corrected say, by their numbers."""
    corrected = {_target(event.body) for event in events}
    lines: dict[int, Message] = {}
    listing = Listing()
    addendum = False
    for event in events:
        addendum = addendum or isinstance(event.body, ev.AddendumOpened)
        if addendum or event.seq in corrected:
            lines[event.seq] = listing.line(event)
        else:
            listing.remember(event)
    return lines


def _target(body: object) -> int | None:
    if isinstance(body, ev.CorrectionMade):
        return body.target
    return body.corrects if isinstance(body, ev.ReadingCorrected) else None
