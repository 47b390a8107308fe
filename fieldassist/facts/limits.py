"""Where the limits of a day come from, and how well each source is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.follow import minutes
from fieldassist.checklist.kinds.reading import JudgedBy
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.lots import LotRule
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area
from fieldassist.facts import model
from fieldassist.facts.telling import Tell
from fieldassist.trade.basis import BASES, Basis, Cited, Provenance, cited
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Bound, Figure, Message, Text, message, term
from fieldassist.trade.quantities import Quantity, convert_exact

_STANDINGS: Mapping[Provenance | None, model.LimitStanding] = {
    Provenance.READ: "seen",
    Provenance.REPORTED: "second-hand",
    Provenance.MEMORY: "from memory",
    Provenance.COMPUTED: "computed",
    Provenance.PRACTICE: "practice",
    Provenance.DATA_SHEET: "data sheet",
    Provenance.CREW: "own rule",
    # Nothing but the words of the checklist's author.
    None: "own rule",
}


@dataclass(frozen=True, slots=True)
class _Limit:
    """A limit: what names it, what it limits, what it asks for, and where it comes from."""

    name: str
    limits: Figure
    told: Figure
    basis: Message | Text

    @property
    def id(self) -> str:
        """The same for the same limit out of the same source, in every language and system of units."""
        return f"{self.name}, {_from(cited(self.basis))}"


def _from(source: Cited) -> str:
    """A source in a few words for an id."""
    figures = source.source.figures if isinstance(source.source, Message) else {}
    document = figures.get("document")
    if isinstance(document, str):
        return f"{document}{figures.get('place', '')}"
    words = "" if source.standing is not None else f" {sha256(str(source.source).encode()).hexdigest()[:8]}"
    return f"{_STANDINGS[source.standing]}{words}"


def _required(area: Area) -> list[_Limit]:
    """What a lift of this area must show, and how many lifts there must be; nothing where no tile is lifted here."""
    if not area.lifts_needed[0]:
        return []
    facts = area.facts
    need = rules.requirement(facts)
    voids = (need.void_basis or need.basis).told
    contact = rules.required_coverage(facts)
    found = [_judged(JudgedBy(**_ends(contact)), contact.rule, _named(contact.rule))]
    if need.largest_void_mm2 is not None:
        void = rules.LIMITS["largest void"](facts)
        assert void is not None  # where the requirement has one
        found.append(_judged(JudgedBy(**_ends(void)), void.rule, _named(void.rule)))
    if need.edge_clear_mm is not None:
        strip = Bound(exactly(need.edge_clear_mm, "mm"), "at least")
        found.append(_Limit("edges", message("facts-limit-edges"), message("facts-limit-strip", strip=strip), voids))
    if need.corners:
        told = message("facts-limit-supported")
        found.append(_Limit("corners", message("facts-limit-corners"), told, need.basis.told))
    lifts, basis = area.lifts_needed
    assert isinstance(basis, Message | Text)  # lifts are needed, and something says why
    told = message("facts-limit-count", count=lifts)
    return [*found, _Limit(f"lifts at least {lifts}", message("facts-limit-lifts"), told, basis)]


def required_ids(area: Area) -> list[str]:
    """The ids in `DayFacts.limits` of what is required of this area's lifts."""
    return [limit.id for limit in _required(area)]


class LimitTeller:
    """The limits that a day was held against: those by which lifts are judged, and those that stand in its events."""

    def __init__(self, areas: Mapping[str, Area], stands: Standing, listing: Listing, told: Tell) -> None:
        self._areas, self._standing, self._listing, self._told = areas, stands, listing, told

    def facts(self) -> list[model.LimitFact]:
        """Each once, with the areas in which it holds, in the order in which they first came up."""
        found: dict[str, tuple[_Limit, dict[str, None]]] = {}
        for area, limit in self._all():
            _, areas = found.setdefault(limit.id, (limit, {}))
            areas[area] = None
        return [self._fact(limit, list(areas)) for limit, areas in found.values()]

    def _fact(self, limit: _Limit, areas: list[str]) -> model.LimitFact:
        told, source = self._told(limit.told), cited(limit.basis)
        return model.LimitFact(
            id=limit.id,
            limits=self._told(limit.limits).text,
            code=told.code,
            figures=told.figures,
            text=told.text,
            source=self._source(source),
            standing=_STANDINGS[source.standing],
            note="" if source.note is None else self._told(source.note).text,
            areas=areas,
        )

    def _source(self, source: Cited) -> str:
        if source.source is None:
            assert source.standing is not None  # a basis names a document, or says how it is known
            return self._told(source.standing.told).text
        return self._told(source.source).text

    def _all(self) -> Iterator[tuple[str, _Limit]]:
        for name, area in self._areas.items():
            for limit in (*_required(area), *_lots(area.checklist), *_reckoned(area)):
                yield name, limit
        for reading in self._standing.readings:
            if (judged := reading.judged.criterion) is not None:
                yield reading.body.area, self._of_step(judged, reading.body)
        for event in self._standing.bodies(ev.ClockStarted):
            body: Any = event.body
            yield body.area, _clock(body, self._listing.clock(body)["clock"])

    def _of_step(self, judged: JudgedBy, body: Any) -> _Limit:
        named = judged.rule in rules.LIMITS
        step = self._listing.step_of(body)
        name: Figure = step.name if step is not None else body.step
        return _judged(judged, judged.rule or body.step, _named(judged.rule) if named else name)


def _ends(criterion: rules.Criterion) -> dict[str, Any]:
    return {name: getattr(criterion, name) for name in ("rule", "at_least", "at_most", "unit", "basis")}


def _named(rule: str) -> Message:
    """What one of `rules.LIMITS` is for."""
    return term("facts-limit", rule.replace(",", ""))


def _judged(judged: JudgedBy, subject: str, limits: Figure) -> _Limit:
    ends = [
        f"{side} {float(end):g}"
        for side, end in (("at least", judged.at_least), ("at most", judged.at_most))
        if end is not None
    ]
    return _Limit(f"{subject} {', '.join(ends)} {judged.unit}", limits, _told(judged), judged.basis)


def _told(judged: JudgedBy) -> Message:
    """What is asked for; a void in the unit in which voids are told."""
    if judged.unit != "mm2":
        return judged.told
    least, most = (
        None if end is None else convert_exact(end, "mm2", "cm2") for end in (judged.at_least, judged.at_most)
    )
    return rules.required(least, most, "cm2")


def _clock(body: ev.ClockStarted, title: Figure) -> _Limit:
    allowed = minutes(body.minutes)
    return _Limit(f"{body.clock} {float(allowed.value):g} min", title, allowed, body.basis)


def _lots(checklist: Checklist) -> Iterator[_Limit]:
    """How often a lot falls."""
    for section in checklist.sections:
        if section.due is not None and section.due.lots is not None:
            rule = section.due.lots
            yield _Limit(f"lots {rule}", message("facts-limit-lots"), _often(rule), section.due.basis)


def _often(rule: LotRule) -> Message:
    if rule.unit == "m2":
        return message("facts-limit-lots-m2", surface=Quantity(rule.value, "m2"))
    return message("facts-limit-lots-counted", count=int(rule.value), unit=rule.unit)


def _reckoned(area: Area) -> Iterator[_Limit]:
    """What is worked out rather than read anywhere: the bed that a notch leaves, and what lifts by lot prove."""
    computed: tuple[tuple[str, Basis], ...] = (("bed", BASES["volume"]), ("proof", BASES["exact-limits"]))
    if area.lifts_needed[0]:
        for what, basis in computed:
            yield _Limit(
                f"computed {what}", term("facts-limit-computed", what), term("facts-limit-by", what), basis.told
            )
