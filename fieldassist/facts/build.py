"""A day's facts, drawn from state, standing and open points. Nothing is decided here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from fieldassist import __version__
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import TRIPPED, fold
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.standing import Standing, standing
from fieldassist.checklist.state import State
from fieldassist.checklist.tablet_chain import TabletChain
from fieldassist.facts import model
from fieldassist.facts.area import AreaTeller
from fieldassist.facts.besides import BesidesTeller
from fieldassist.facts.closing import ClosingTeller
from fieldassist.facts.limits import LimitTeller
from fieldassist.facts.look import looks
from fieldassist.facts.photos import photo_facts
from fieldassist.facts.pins import pin_facts
from fieldassist.facts.sequence import SequenceTeller
from fieldassist.facts.telling import Telling, told_fact
from fieldassist.facts.undone import UndoneTeller
from fieldassist.trade.message import Figure, Refused, message


class NoFacts(Refused):
    """These events are no day, or do not follow from each other; `told` says so."""


def facts_of(events: Sequence[Event], hashes: Sequence[str], words: Telling) -> dict[str, Any]:
    """The facts of a day, in the shape of `assets/facts.schema.json`; parameters and errors as `day_facts`."""
    return day_facts(events, hashes, words).model_dump(mode="json")


def day_facts(events: Sequence[Event], hashes: Sequence[str], words: Telling) -> model.DayFacts:
    """The facts of a day: of screens, pages and of whoever reads them as JSON.

    events: of one log, in order; hashes: the chain hash after each; words: how messages are told. Errors: `NoFacts`.
    """
    opened = events[0].body if events else None
    if not isinstance(opened, ev.DayOpened):
        raise NoFacts(message("facts-no-day"))
    try:
        state, stands = fold(events), standing(events)
        return _Builder(events, hashes, words, state, stands, opened).facts()
    except (*TRIPPED, ValueError) as wrong:
        # Events that were made to do harm need not follow from each other; whatever trips over them means that.
        raise NoFacts(message("facts-unsound", why=str(wrong))) from wrong


class _Builder:
    """One day."""

    def __init__(
        self,
        events: Sequence[Event],
        hashes: Sequence[str],
        words: Telling,
        state: State,
        stands: Standing,
        opened: ev.DayOpened,
    ) -> None:
        self.events, self.hashes, self.words = events, hashes, words
        self.state, self.standing, self.opened = state, stands, opened
        self.listing = Listing()
        for event in events:
            self.listing.remember(event)

    def facts(self) -> model.DayFacts:
        """All of it."""
        state = self.state
        plan = state.plan
        assert plan is not None  # an event opened the day
        points = list(self._points())
        closing = ClosingTeller(self.events, self.hashes, self.standing, self._told)
        seals = list(closing.seals())
        besides = BesidesTeller(state, self.standing, self._told)
        sequence = SequenceTeller(self.standing, self._told)
        units = self.opened.plan.units
        undone = UndoneTeller(state, self.standing, self._told)
        tellers = [AreaTeller(area, state, self.standing, self._told, units, undone) for area in plan.areas]
        areas = {teller.plan.name: teller.area for teller in tellers}
        return model.DayFacts(
            program=f"fieldassist {__version__}",
            kind=self.opened.kind,
            site=plan.site,
            address=plan.address,
            owner=plan.owner,
            date=plan.date,
            units=plan.units,
            events=len(self.events),
            head=self.hashes[-1],
            continues=[
                model.ContinuedFact(
                    date=day.date, head=day.head, signed=day.signed, sealed=day.sealed, areas=list(day.areas)
                )
                for day in self.opened.continues
            ],
            tablet=_tablet(self.opened.tablet),
            crew=list(besides.crew(plan)),
            speaker=state.speaker.name if state.speaker else None,
            areas=[teller.fact() for teller in tellers],
            open_points=points,
            open_count=sum(not point.answered for point in points),
            limits=LimitTeller(areas, self.standing, self.listing, self._told).facts(),
            look_at=list(looks(state, self.standing, self.words)),
            conditions=list(besides.conditions()),
            corrections=list(closing.corrections()),
            refused=list(self._refused()),
            notes=list(besides.notes()),
            photos=list(photo_facts(state, self.standing, self._told)),
            sounds=list(besides.sounds()),
            sequence=list(sequence.entries()),
            withdrawn=list(sequence.withdrawn()),
            time_breaks=list(sequence.time_breaks()),
            cautions=list(besides.cautions()),
            questions=list(besides.questions()),
            dust=list(besides.dust()),
            dust_sums=list(besides.dust_sums()),
            speech_models=besides.speech_models(),
            signed=state.closed,
            sealed=state.sealed,
            pins=list(pin_facts(self.events, self.hashes, self._told)),
            signatures=list(closing.signatures()),
            seals=seals,
            unsealed=closing.unsealed(seals),
            confirmations=list(closing.confirmations()),
            addenda=list(closing.addenda()),
        )

    def _told(self, told: Figure | None) -> model.ToldFact:
        return told_fact(told, self.words)

    # --- the day as a whole

    def _points(self) -> Iterator[model.PointFact]:
        for point in open_points(self.state):
            told = self._told(point.told)
            yield model.PointFact(
                id=point.id,
                code=told.code,
                figures=told.figures,
                text=told.text,
                area=point.area,
                answered=point.answer is not None,
                answer=None if point.answer is None else self.words(point.line),
            )

    def _refused(self) -> Iterator[model.RefusedFact]:
        for event in self._of(ev.CommandRefused):
            body: Any = event.body
            yield model.RefusedFact(
                area=body.area or "",
                attempt=self._told(body.attempt),
                reason=self._told(body.reason),
                by=event.by,
                at=event.at.wall,
                event=event.seq,
            )

    def _of(self, kind: type) -> Iterable[Event]:
        return self.standing.bodies(kind)


def _tablet(chain: TabletChain | None) -> model.TabletFact | None:
    if chain is None:
        return None
    before = [
        model.DayBeforeFact(number=day.number, date=day.date, events=day.events, head=day.head)
        for day in chain.announces
    ]
    return model.TabletFact(tablet=chain.tablet, number=chain.number, book=chain.book, announces=before)
