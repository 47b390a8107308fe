"""A lift on one page: what its back was painted, typed or heard to show, whether that holds, and what one yes tells the
day."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby
from typing import Literal, TypeAlias

from fieldassist.assess.tiles import next_test_tile
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import proven, rules
from fieldassist.checklist.commands import Command
from fieldassist.checklist.kinds import Choice, Lift, Reading
from fieldassist.checklist.moment import PRESSED, Source
from fieldassist.checklist.offers import VALUE
from fieldassist.checklist.plan import Piece
from fieldassist.checklist.schema import Section
from fieldassist.checklist.state import Area, Pending, State
from fieldassist.day.session import Answer, Day
from fieldassist.photo.back import Back, Brush
from fieldassist.trade.message import Bound, Figure, Message, Several, message, term
from fieldassist.trade.quantities import Quantity, convert_exact, unit_in_system
from fieldassist.trade.voids import PieceCorner, PieceEdge, contact_as_read, void_as_read, void_is_unsure
from fieldassist.ui.content.on_photo import OnPhoto, OnPhotoHolds, as_reckoned

# How what was painted is put down in the record.
SKETCHED = Source(how="sketched")

Measure: TypeAlias = Literal[
    "coverage", "largest void", "corners", "edges", "bed", "counted", "mortar", "effort", "air"
]
Holds = OnPhotoHolds
# What a field is called, by what it tells.
FIELD_TITLES: dict[Measure, str] = {
    "coverage": "lifted-coverage",
    "largest void": "lifted-void",
    "corners": "lifted-corners",
    "edges": "lifted-edges",
    "bed": "lifted-bed",
}


@dataclass
class LiftDraft:
    """What was painted and typed of one lift, and not told yet. By step: typed readings, chosen answers; label: as it
    stands on the piece; cure: which one is looked at."""

    back: Back
    label: str = ""
    typed: dict[str, Quantity] = field(default_factory=dict)
    chosen: dict[str, str] = field(default_factory=dict)
    brush: Brush = "void"
    cure: int = 0


@dataclass
class LiftDrafts:
    """What was painted and typed, by day, area, section and round; it stays until the program ends."""

    by_round: dict[tuple[Hashable, ...], LiftDraft] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class LiftField:
    """One of a lift's verdicts.

    value: the reading, None for a choice or while nobody has told it; option: of a choice, by id; holds: None while it
    is not told, or where nothing judges it; needed: what it must come to; missing: the corners or edges that are not
    full, as they were painted; source: how it was told; waits: it was heard, and waits for its yes already; between:
    the ends of its interval, where it was measured on a photo.
    """

    step: Reading | Choice
    measure: Measure
    value: Quantity | None
    option: str | None
    holds: Holds | None
    needed: Message | None
    missing: tuple[PieceCorner | PieceEdge, ...] = ()
    source: Source = PRESSED
    waits: bool = False
    between: tuple[Quantity, Quantity] | None = None

    @property
    def told(self) -> bool:
        """Whether anybody has told it: what a photo cannot tell nobody has."""
        return (self.value is not None or self.option is not None) and self.holds != "cannot tell"

    @property
    def may_be_left_out(self) -> bool:
        """Whether the lift is judged without it."""
        return isinstance(self.step, Reading) and any(self.step.skip.values())


@dataclass(frozen=True, slots=True)
class LiftPage:
    """A lift as it stands: its number, its piece's number, how it came, and its fields in the checklist's order."""

    section: Section
    lift: int
    piece: int | None
    came: Figure | None
    fields: tuple[LiftField, ...]

    def field_of(self, measure: Measure) -> LiftField | None:
        """The field that tells this, None where the checklist does not ask for it."""
        return next((one for one in self.fields if one.measure == measure), None)

    @property
    def missing(self) -> tuple[LiftField, ...]:
        """What must be told before the lift can be kept."""
        return tuple(one for one in self.fields if not one.told and not one.may_be_left_out)

    @property
    def failed(self) -> bool:
        """Whether something that was told does not hold."""
        return any(one.holds == "failed" for one in self.fields)


# --- the lift at hand ---------------------------------------------------------------------------------------------


def lift_at_hand(area: Area) -> Section | None:
    """The section of the step at hand, where that is a lift's."""
    holder = area.holder
    return holder if isinstance(holder, Section) and holder.lift is not None else None


def back_of(piece: Piece) -> Back:
    """An unjudged back of a piece, its longer side across."""
    longer, shorter = sides(piece)
    return Back(float(longer), float(shorter))


def sides(piece: Piece) -> tuple[Fraction, Fraction]:
    """The longer and the shorter side of a piece, exact [mm]."""
    length, width = (convert_exact(side.value, side.unit, "mm") for side in (piece.length, piece.width))
    return max(length, width), min(length, width)


def lift_page(
    state: State, area: Area, section: Section, draft: LiftDraft, *, us: bool, photo: OnPhoto | None = None
) -> LiftPage:
    """A lift as it stands. us: whether the reader's units are those of the US; photo: what its back comes to on its
    photo, which goes before what was painted on the drawing."""
    waiting = {p.task.step: p for p in state.waiting if p.area == area.plan.name and p.task.section == section.id}
    return LiftPage(
        section,
        len(area.progress.lifts) + isinstance(area.step, Lift),
        area.aimed.tile if area.aimed is not None else None,
        proven.how_it_came(area.aimed.came) if area.aimed is not None else None,
        tuple(_fields(area, section, draft, photo or _sketched(draft), waiting, us=us)),
    )


def _sketched(draft: LiftDraft) -> OnPhoto | None:
    """What was painted on the drawing: by eye, and so without an interval of its own."""
    done = draft.back.reckoned
    return as_reckoned(SKETCHED, done, done.percent, done.percent) if done is not None else None


def _fields(
    area: Area,
    section: Section,
    draft: LiftDraft,
    seen: OnPhoto | None,
    waiting: dict[str, Pending],
    *,
    us: bool,
) -> Iterator[LiftField]:
    for step in section.steps:
        if step.measures is None:
            continue
        if isinstance(step, Reading):
            yield _reading(area, step, draft, seen, waiting.get(step.id), us=us)
        elif isinstance(step, Choice):
            yield _choice(step, draft, seen, waiting.get(step.id))


def _reading(
    area: Area, step: Reading, draft: LiftDraft, seen: OnPhoto | None, heard: Pending | None, *, us: bool
) -> LiftField:
    assert step.measures is not None
    criterion = area.criterion(step)
    needed = criterion.told if criterion is not None else None
    value, source, waits = draft.typed.get(step.id), PRESSED, False
    if value is None and seen is not None and step.measures != "bed":
        value, source = _seen(step, seen, us=us), seen.source
        if source != SKETCHED and step.measures == "coverage":
            return LiftField(
                step, "coverage", value, None, seen.holds(criterion), needed, (), source, False, seen.interval
            )
        most_mm2 = rules.requirement(area.facts).largest_void_mm2 if step.measures == "largest void" else None
        if source != SKETCHED and void_is_unsure(*seen.void_between, most_mm2):
            low, high = (Quantity(void_as_read(end, value.unit), value.unit) for end in seen.void_between)
            return LiftField(step, "largest void", value, None, "cannot tell", needed, (), source, False, (low, high))
    if value is None and heard is not None:
        value, waits = Quantity(heard.value, heard.unit), True
    holds: Holds | None = None
    if value is not None and criterion is not None:
        holds = "passed" if criterion.judge(value.value, value.unit).verdict == "passed" else "failed"
    return LiftField(step, step.measures, value, None, holds, needed, (), source, waits)


def _seen(step: Reading, seen: OnPhoto, *, us: bool) -> Quantity:
    """What a painted back answers to a reading: no contact is told that was not painted, and no void made smaller."""
    if step.measures == "largest void":
        unit = area_unit(step.units, us=us)
        return Quantity(void_as_read(seen.void_mm2, unit), unit)
    return Quantity(contact_as_read(seen.percent), "percent")


def _choice(step: Choice, draft: LiftDraft, seen: OnPhoto | None, heard: Pending | None) -> LiftField:
    assert step.measures is not None
    option = draft.chosen.get(step.id)
    source, waits = PRESSED, False
    missing: tuple[PieceCorner | PieceEdge, ...] = ()
    if option is None and seen is not None:
        corners = step.measures == "corners"
        missing = seen.corners if corners else seen.edges
        full = seen.corners_full if corners else seen.edges_full
        option = next((each.id for each in step.options if each.fails != full), None)
        source = seen.source
    if option is None and heard is not None:
        option, waits = heard.option, True
    made = step.option(option) if option is not None else None
    holds: Holds | None = None if made is None else "failed" if made.fails else "passed"
    return LiftField(step, step.measures, None, option, holds, None, missing, source, waits)


def area_unit(units: tuple[str, ...], *, us: bool) -> str:
    """In which of a step's units a painted area is given.

    >>> [area_unit(("mm2", "cm2", "in2"), us=us) for us in (False, True)], area_unit(("m2",), us=True)
    (['cm2', 'in2'], 'm2')
    """
    fitting = [unit for unit in units if unit_in_system(unit, "us" if us else "metric") == unit]
    return next((unit for unit in ("in2" if us else "cm2", *fitting) if unit in units), units[0])


# --- words --------------------------------------------------------------------------------------------------------


def yes_told(page: LiftPage) -> Message:
    """What the one key says: what is kept, or what must be told first."""
    missing = page.missing
    if missing and not any(one.told for one in page.fields):
        return message("lifted-look-first")
    if missing:
        names = Several(tuple(one.step.name for one in missing), "and")
        return message("lifted-tell-first", what=names)
    coverage = page.field_of("coverage")
    assert coverage is not None
    assert coverage.value is not None
    return message("lifted-fails-keep" if page.failed else "lifted-yes", contact=coverage.value)


# So many corners or edges are named; more are "not full".
_NAMED = 2


def value_told(one: LiftField) -> Figure:
    """What a field shows: the reading; whether all is full, or which corners or edges are not, as they were painted; ""
    while nobody has told it."""
    if isinstance(one.step, Choice):
        if one.option is None:
            return ""
        return message("lifted-all-full") if one.holds == "passed" else missing_told(one.missing)
    return one.value if one.value is not None else ""


def missing_told(missing: Sequence[PieceCorner | PieceEdge]) -> Figure:
    """Which corners or edges are not full, by name where they are few."""
    if 0 < len(missing) <= _NAMED:
        return Several(tuple(term("lifted-at", at) for at in missing), "list")
    return message("lifted-not-full")


def needed_told(one: LiftField, *, us: bool) -> Figure:
    """What a reading must come to, an area in the unit in which it is told; "" for nothing."""
    if one.needed is None or not isinstance(one.step, Reading):
        return ""
    unit = area_unit(one.step.units, us=us) if one.measure == "largest void" else None
    ends = {bound.side: bound for bound in one.needed.figures.values() if isinstance(bound, Bound)}
    if unit is not None:
        ends = {
            side: Bound(Quantity(convert_exact(end.quantity.value, end.quantity.unit, unit), unit), side)
            for side, end in ends.items()
        }
    if len(ends) == 1:
        [(side, end)] = ends.items()
        return message("lifted-most" if side == "at most" else "lifted-least", end=end)
    return message("lifted-between", least=ends["at least"], most=ends["at most"])


def next_due(area: Area) -> Figure:
    """When the next piece is to be lifted."""
    return next_test_tile(area).told


# --- telling the day ----------------------------------------------------------------------------------------------


def what_is_told(page: LiftPage) -> tuple[tuple[Command, Source], ...]:
    """The commands of one yes: all that was not heard already, the yes to it, and what is left out."""
    told: list[tuple[Command, Source]] = []
    for one in page.fields:
        at = {"section": page.section.id, "step": one.step.id}
        if one.waits or not one.told:
            continue
        if one.value is not None:
            told.append((cmd.GiveReading(**at, value=one.value.value, unit=one.value.unit), one.source))
        elif one.option is not None:
            told.append((cmd.Choose(**at, option=one.option), one.source))
    if any(one.value is not None or one.waits for one in page.fields):
        told.append((cmd.Keep(), PRESSED))
    left = (one for one in page.fields if not one.told and one.may_be_left_out)
    told += [(cmd.LeaveOutReading(section=page.section.id, step=one.step.id), PRESSED) for one in left]
    return tuple(told)


def tell_day(day: Day, told: tuple[tuple[Command, Source], ...]) -> Answer | None:
    """Tell the day all of a lift, each with how it came about, up to the first that is refused; the last answer."""
    answer: Answer | None = None
    for source, group in groupby(told, key=lambda each: each[1]):
        answer = day.do_all([command for command, _ in group], source)
        if not answer.taken or answer.refused is not None:
            return answer
    return answer


def hint_told(page: LiftPage) -> Message:
    """What may be said instead: the fields' own phrases, each with its value or the one that it must come to."""
    said = [_phrase(one) for one in page.fields if one.measure != "bed" and one.step.phrases()]
    return message("lifted-say", phrases=Several(tuple(said), "list"))


def _phrase(one: LiftField) -> Message:
    before, _, after = one.step.phrases()[0].partition(VALUE)
    value: Figure = one.value if one.value is not None else ""
    if isinstance(one.step, Reading) and one.value is None and one.needed is not None:
        bound = next(iter(one.needed.figures.values()))
        value = bound.quantity if isinstance(bound, Bound) else ""
    return message("lifted-phrase", before=before, value=value, after=after)
