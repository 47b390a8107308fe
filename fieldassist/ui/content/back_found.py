"""What a back comes to on its photo, as it is shown; the figures follow the finger, and answer a sample's step."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.backs import BackRecord
from fieldassist.checklist.kinds import Reading
from fieldassist.checklist.moment import How, Source
from fieldassist.checklist.rules import Criterion
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity, convert_exact
from fieldassist.trade.voids import (
    PieceCorner,
    PieceEdge,
    Reckoned,
    contact_as_read,
    painted_doubt,
    void_as_read,
    void_between,
)
from fieldassist.ui.content.lift_page import (
    Holds,
    LiftDraft,
    Measure,
    area_unit,
    back_of,
    lift_page,
    missing_told,
)
from fieldassist.ui.content.measuring import MeasuredOf, MeasureDraft, at_hand, is_at_hand, is_sample, measured
from fieldassist.ui.content.on_photo import OnPhoto, as_reckoned, between_told

# From here on a void is shown without its decimal.
_WHOLE_FROM = 100


def found_of(draft: MeasureDraft) -> OnPhoto | None:
    """What the back comes to as it stands now; None while nobody has looked at it."""
    done = draft.back.reckoned
    if done is None:
        return None
    low, high = _interval(draft, done)
    how: How = "painted on a photo" if draft.proposed is None else "measured on a photo"
    return as_reckoned(Source(how=how), done, low, high, void_between(draft.back.cells))


def _interval(draft: MeasureDraft, done: Reckoned) -> tuple[float, float]:
    below, above = doubts_of(draft, done)
    return max(0.0, done.percent - below), min(100.0, done.percent + above)


def doubts_of(draft: MeasureDraft, done: Reckoned) -> tuple[float, float]:
    """How far the contact may lie below and above what was found: as the proposal says, else as strokes may err."""
    first = draft.proposed
    if first is not None:
        return first.percent - first.low, first.high - first.percent
    wide, high = draft.back.size_mm
    doubt = painted_doubt(done, wide * high)
    return doubt, doubt


@dataclass(frozen=True, slots=True)
class FoundRow:
    """One of the figures: its value, what stands beside it, and whether it holds, "" where nothing judges it."""

    measure: Measure
    value: Figure
    note: Figure
    holds: Holds | Literal[""]


def found_rows(state: State, area: Area, what: MeasuredOf, draft: MeasureDraft, *, us: bool) -> tuple[FoundRow, ...]:
    """The figures of a back as it stands, none while nobody has looked at it."""
    from fieldassist.photo.back import inscribed_circle_mm

    found, done = found_of(draft), draft.back.reckoned
    if found is None or done is None:
        return ()
    judged = _judged(state, area, what, found, us=us)
    unit = area_unit(("cm2", "in2"), us=us)
    circle = convert_exact(Fraction(round(inscribed_circle_mm(draft.back.cells))), "mm", "in" if us else "mm")
    circle_told = Quantity(Fraction(round(circle * 8), 8), "in") if us else Quantity(circle, "mm")
    contact = Quantity(contact_as_read(done.percent), "percent")
    weakest = Quantity(contact_as_read(min(done.corner_percents)), "percent")
    band = Quantity(contact_as_read(done.band_percent), "percent")
    return (
        FoundRow("coverage", contact, interval_told(found), judged.get("coverage", "")),
        FoundRow(
            "largest void",
            Quantity(_seen_large(void_as_read(done.void_mm2, unit)), unit),
            message("measuring-circle", circle=circle_told) if done.void_mm2 else "",
            judged.get("largest void", ""),
        ),
        FoundRow("corners", weakest, _full(found.corners), judged.get("corners", "")),
        FoundRow("edges", band, _full(found.edges), judged.get("edges", "")),
    )


def _seen_large(area: Fraction) -> Fraction:
    """A large void is shown in whole units, upward; the record has its decimal."""
    return Fraction(math.ceil(area)) if area >= _WHOLE_FROM else area


def _judged(
    state: State, area: Area, what: MeasuredOf, found: OnPhoto, *, us: bool
) -> dict[Measure, Holds | Literal[""]]:
    section = area.checklist.section(what.section)
    if section is None or section.lift is None or not is_at_hand(area, what):
        return {}
    page = lift_page(state, area, section, LiftDraft(back_of(area.plan.piece)), us=us, photo=found)
    return {one.measure: one.holds or "" for one in page.fields}


def _full(missing: Sequence[PieceCorner | PieceEdge]) -> Figure:
    if not missing:
        return message("lifted-all-full")
    # Beside a figure there is room for one name.
    return missing_told(missing) if len(missing) == 1 else message("lifted-not-full")


def limit_of(area: Area, what: MeasuredOf) -> Criterion | None:
    """What the contact of this back must come to, None where nothing asks for it now."""
    section = area.checklist.section(what.section)
    if section is None or section.lift is None or not is_at_hand(area, what):
        return None
    step = next((one for one in section.steps if one.measures == "coverage"), None)
    return area.criterion(step) if isinstance(step, Reading) else None


def keep_told(rows: Sequence[FoundRow]) -> Message:
    """What the one key says: what is kept, that it fails, that the photo alone is kept; or, of no figures, that nobody
    has looked yet."""
    if not rows:
        return message("lifted-look-first")
    contact = rows[0]
    if contact.holds == "cannot tell":
        return message("measuring-keep-cannot")
    failed = any(row.holds == "failed" for row in rows)
    return message("lifted-fails-keep" if failed else "measuring-keep", contact=contact.value)


def interval_told(found: OnPhoto) -> Message:
    """The contact's interval."""
    return between_told(found.interval)


def cannot_tell_told(required: Message, *, fails: bool) -> Message:
    """What is said where the limit lies inside the interval. fails: something else does not hold, and so the lift."""
    return message("measuring-cannot-tell", required=required, fails="yes" if fails else "no")


def recorded_by(record: BackRecord) -> Message:
    """How a back was measured, and by whom."""
    code = {
        "painted": "measuring-painted-by",
        "proposed": "measuring-proposed-by",
        "corrected": "measuring-corrected-by",
    }
    return message(code[record.back.way], name=record.by)


# --- a sample of a mock-up ----------------------------------------------------------------------------------------


def sample_to_measure(state: State) -> MeasuredOf | None:
    """The sample at hand, while what is asked of it may be measured."""
    area, what = state.area, at_hand(state)
    if area is None or what is None or not is_sample(area, what):
        return None
    return what if getattr(area.step, "measures", None) in ("counted", "largest void", "edges") else None


def reading_by_photo(state: State, *, us: bool) -> tuple[cmd.GiveReading, Source] | None:
    """What the measured back of the sample at hand answers to the reading that is asked now, and how it was come by."""
    area, what = state.area, sample_to_measure(state)
    record = measured(state, what) if what is not None else None
    if area is None or area.task is None or record is None or not isinstance(area.step, Reading):
        return None
    step, back = area.step, record.back
    if step.measures == "largest void":
        unit = area_unit(step.units, us=us)
        value = void_as_read(back.void_mm2, unit)
    elif step.measures == "counted":
        unit, value = "percent", contact_as_read(back.percent)
    else:
        return None
    command = cmd.GiveReading(section=area.task.section, step=step.id, value=value, unit=unit)
    return command, Source(how=back.how)
