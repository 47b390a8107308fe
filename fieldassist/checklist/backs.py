"""The back of a lifted tile or a sample, measured on its photo: kept beside the lift, and what may be told of it.

A measured back moves nothing: it is evidence. A reading that says that it was told of a photo has to agree with it, and
contact so told is judged only where the whole interval lies on one side of what is required.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Literal, TypeAlias

from pydantic import Field, model_validator

from fieldassist.checklist import rules
from fieldassist.checklist.event_base import EventBody, RecordedId, RecordedName
from fieldassist.checklist.kinds.base import Asked
from fieldassist.checklist.kinds.photo import Sha256
from fieldassist.checklist.moment import How, Moment
from fieldassist.checklist.told import Told
from fieldassist.trade.message import Figure, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.voids import BackKind as BackKind
from fieldassist.trade.voids import contact_as_read, side_of, void_as_read, void_is_unsure

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.kinds import Choice, Reading
    from fieldassist.checklist.listing import Listing
    from fieldassist.checklist.rules import Criterion
    from fieldassist.checklist.state import Area, State, Task

Share = Annotated[float, Field(ge=0, le=1, allow_inf_nan=False)]
BackPercent = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
VoidMm2 = Annotated[float, Field(ge=0, le=1e8, allow_inf_nan=False)]
Millimetres = Annotated[float, Field(ge=0, le=20_000, allow_inf_nan=False)]
AttachedFile = Annotated[str, Field(max_length=120)]
# A point of a photo by shares of its width and height, of a back by millimetres; both from the upper left, down.
PhotoShare: TypeAlias = tuple[Share, Share]
BackMm: TypeAlias = tuple[Millimetres, Millimetres]

# How its cells came about: voids painted by hand, or the photo reckoned, confirmed as it was or put right by paint.
BackWay = Literal["painted", "proposed", "corrected"]
RidgesWay = Literal["", "straight", "curved", "swirled", "not readable"]

ON_A_PHOTO: tuple[How, ...] = ("painted on a photo", "measured on a photo")
_MOST_TAPS = 24


class MeasuredBack(EventBody):
    """What was measured on a photo of a back, and how.

    photo: SHA-256 of the photo's file as it is kept; corners: of the piece in it, clockwise, the first becomes the
    upper left one and the longer side lies across; size_mm: longer and shorter side; picture_file: the photo squared
    up; cells_file: the back's cells (`trade.voids`) as a grey PNG picture, a dot a cell; kind: what the back was said
    to be; way: how the cells came about; mortar, bare: where was tapped on mortar that touched and on bare back [mm];
    percent, low, high: contact and the ends of its interval; proposed_percent: of one that was put right by paint, what
    the photo proposed before; void_mm2, void_box: the largest void, and its left, upper, right and lower end [mm];
    void_low_mm2, void_high_mm2: between what it lies, None where that was not kept; circle_mm: the diameter of the
    largest circle in it; band_percent, corner_percents: of the strip along the edges and of the corners' squares (upper
    left, upper right, lower left, lower right); corners_full, edges_full: whether those are full; ridges: how the
    ridges ran, where they were looked at, direction_deg: from the longer side [0, 180); cannot: why the photo by itself
    could not tell, where it was painted after that; eye_percent, eye_by: what was read by eye before the photo's figure
    was shown, and by whom.
    """

    photo: Sha256
    corners: tuple[PhotoShare, PhotoShare, PhotoShare, PhotoShare]
    size_mm: BackMm
    picture_file: AttachedFile
    picture_sha256: Sha256
    cells_file: AttachedFile
    cells_sha256: Sha256
    kind: BackKind
    way: BackWay
    mortar: Annotated[tuple[BackMm, ...], Field(max_length=_MOST_TAPS)] = ()
    bare: Annotated[tuple[BackMm, ...], Field(max_length=_MOST_TAPS)] = ()
    percent: BackPercent
    low: BackPercent
    high: BackPercent
    proposed_percent: BackPercent | None = None
    void_mm2: VoidMm2
    void_low_mm2: VoidMm2 | None = None
    void_high_mm2: VoidMm2 | None = None
    void_box: tuple[Millimetres, Millimetres, Millimetres, Millimetres]
    circle_mm: Millimetres
    band_percent: BackPercent
    corner_percents: tuple[BackPercent, BackPercent, BackPercent, BackPercent]
    corners_full: bool
    edges_full: bool
    ridges: RidgesWay = ""
    direction_deg: Annotated[float, Field(ge=0, lt=180, allow_inf_nan=False)] | None = None
    cannot: Told | None = None
    eye_percent: BackPercent | None = None
    eye_by: RecordedName | Literal[""] = ""

    @model_validator(mode="after")
    def _in_order(self) -> MeasuredBack:
        if not self.low <= self.percent <= self.high:
            raise ValueError("the figure lies outside of its interval")
        return self

    @property
    def void_ends(self) -> tuple[float, float]:
        """Between what the largest void lies [mm2]: the void itself where that was not kept."""
        low, high = self.void_low_mm2, self.void_high_mm2
        return self.void_mm2 if low is None else low, self.void_mm2 if high is None else high

    @property
    def how(self) -> How:
        """How a reading comes to the tablet that is told of it."""
        return "painted on a photo" if self.way == "painted" else "measured on a photo"


class MeasureBack(Asked):
    """The back of a lift or a sample was measured on a photo of its round."""

    do: Literal["measure back"] = "measure back"
    section: RecordedId
    round: int
    back: MeasuredBack


class BackMeasured(EventBody):
    """A back was measured on its photo. lifted: the number of the event of its lift, or with which its sample began."""

    type: Literal["back measured"] = "back measured"
    area: RecordedName
    section: RecordedId
    round: int
    lifted: int
    back: MeasuredBack


@dataclass(frozen=True, slots=True)
class BackRecord:
    """A measured back: its event, that of its lift or of its sample's beginning, who confirmed it, and when."""

    seq: int
    lifted: int
    back: MeasuredBack
    by: str
    at: Moment


def decide(draft: Draft, command: MeasureBack) -> None:
    """The measured back is kept beside its lift or sample; whatever waits goes on waiting."""
    area = draft.area
    at = (area.plan.name, command.section, command.round)
    lifted = lifted_at(area, command.section, command.round)
    if lifted is None:
        raise draft.refusal("engine-nothing-lifted-here", area=area.plan.name)
    if command.back.photo not in draft.state.photos.get(at, ()):
        raise draft.refusal("engine-photo-first", area=area.plan.name)
    if command.back.way != "painted" and command.back.kind != "bare":
        raise draft.refusal("engine-only-bare-reckoned")
    if command.back.eye_by and (draft.state.plan is None or draft.state.plan.person(command.back.eye_by) is None):
        raise draft.refusal("engine-eye-unknown", name=command.back.eye_by)
    draft.emit(
        BackMeasured(
            area=area.plan.name, section=command.section, round=command.round, lifted=lifted, back=command.back
        )
    )
    draft.say(message("engine-back-measured", **contact_figures(command.back)))


def back_of(state: State, area: str, section: str, at_round: int) -> BackRecord | None:
    """What was measured last of the back of a lift or a sample, None where nothing was; of one that was taken back and
    made anew, nothing yet."""
    found = state.backs.get((area, section, at_round))
    if found is None or lifted_at(state.areas[area], section, at_round) != found.lifted:
        return None
    return found


def read_by_eye(state: State, area: str, section: str, at_round: int) -> tuple[float, str] | None:
    """The contact that a lift or a sample was read to have before a photo told of it [percent], and by whom, "" for
    nobody by name: kept, or waiting for its yes. None where nobody called it before."""
    found, at = state.areas[area], (section, at_round)
    earlier = back_of(state, area, section, at_round)
    if earlier is not None:
        eye = earlier.back.eye_percent
        return None if eye is None else (eye, earlier.back.eye_by)
    shows = found.checklist.section(section)
    if shows is not None and shows.tries:
        sample = found.progress.samples.get(at_round)
        answers = sample.answers if sample is not None else ()
        return next(((one.canonical, one.reader) for one in answers if one.measures == "coverage"), None)
    speaker = state.speaker.name if state.speaker is not None else ""
    kept = [one for one in found.readings.values() if (one.section, one.round) == at and one.measures == "coverage"]
    if kept:
        lift = found.progress.lift_of(section, at_round)
        return kept[-1].canonical, (lift.by if lift is not None else "") or speaker
    for one in state.waiting:
        if (one.area, one.task.section, one.task.round) == (area, *at) and one.option is None:
            step = found.checklist.step(section, one.task.step)
            if getattr(step, "measures", None) == "coverage":
                return one.canonical, speaker
    return None


def lifted_at(area: Area, section: str, at_round: int) -> int | None:
    """What a back measured there is of: the number of the event of the lift of a round, or of the sample that it makes;
    None where it is neither, or of an earlier day."""
    lift, shows = area.progress.lift_of(section, at_round), area.checklist.section(section)
    sample = area.progress.samples.get(at_round) if shows is not None and shows.tries else None
    made = lift.lifted if lift is not None else sample.begun if sample is not None else 0
    return made if made > 0 else None


def check_reading(draft: Draft, area: Area, task: Task, step: Reading, told: Quantity) -> None:
    """Refuse a reading that says that it was told of a photo and is not what was measured there; and contact whose
    interval has what is required inside."""
    if draft.source.how not in ON_A_PHOTO:
        return
    back = _told_of(draft, area, task)
    if step.measures == "largest void":
        agrees = told.value == void_as_read(back.void_mm2, told.unit)
    else:
        agrees = step.measures in ("coverage", "counted") and told.value == contact_as_read(back.percent)
    if not agrees:
        raise draft.refusal("engine-back-says-other", name=step.name)
    if step.measures == "coverage":
        of_lift = rules.required_coverage(area.facts) if area.progress.lift_of(task.section, task.round) else None
        for criterion in (of_lift, area.criterion(step)):
            if criterion is not None:
                check_interval(draft, back, criterion)
    elif step.measures == "largest void" and area.progress.lift_of(task.section, task.round) is not None:
        check_void(draft, back, rules.requirement(area.facts).largest_void_mm2)


def check_interval(draft: Draft, back: MeasuredBack, criterion: Criterion) -> None:
    """Refuse contact that may be on either side of what is required."""
    if criterion.at_least is not None and side_of(back.low, back.high, criterion.at_least) == "either":
        raise draft.refusal("engine-photo-cannot-tell", required=criterion.told, **contact_figures(back))


def check_void(draft: Draft, back: MeasuredBack, most_mm2: float | None) -> None:
    """Refuse a largest void that may be on either side of what is allowed."""
    low, high = back.void_ends
    if void_is_unsure(low, high, most_mm2):
        raise draft.refusal(
            "engine-photo-void-unsure",
            low=Quantity(void_as_read(low, "cm2"), "cm2"),
            high=Quantity(void_as_read(high, "cm2"), "cm2"),
        )


def check_choice(draft: Draft, area: Area, task: Task, step: Choice, *, fails: bool) -> None:
    """Refuse an answer about corners or edges that says that it was told of a photo and is not what was measured."""
    if draft.source.how not in ON_A_PHOTO:
        return
    back = _told_of(draft, area, task)
    full = {"corners": back.corners_full, "edges": back.edges_full}.get(step.measures or "")
    if full is None or full == fails:
        raise draft.refusal("engine-back-says-other", name=step.name)


def _told_of(draft: Draft, area: Area, task: Task) -> MeasuredBack:
    found = back_of(draft.state, area.plan.name, task.section, task.round)
    if found is None or found.back.how != draft.source.how:
        raise draft.refusal("engine-back-not-measured")
    return found.back


def contact_figures(back: MeasuredBack) -> dict[str, Figure]:
    """Contact and its interval, as they are told: nothing is told better than it is."""
    return {
        "contact": Quantity(contact_as_read(back.percent), "percent"),
        "low": Quantity(contact_as_read(back.low), "percent"),
        "high": Quantity(-contact_as_read(-back.high), "percent"),
    }


def fold(state: State, event: Event, body: BackMeasured) -> State:
    """It is kept beside the round; taking back what was read of it does not take it back."""
    from fieldassist.checklist.state import changed  # it imports this

    record = BackRecord(event.seq, body.lifted, body.back, event.by, event.at)
    return changed(state, backs={**state.backs, (body.area, body.section, body.round): record})


def tell(_: Listing, body: BackMeasured) -> dict[str, Figure]:
    """What was measured, for a list of events."""
    return {"way": body.back.way, **contact_figures(body.back)}
