"""A back measured on its photo: whose it is, what is asked next, and what was set and painted so far."""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeAlias, get_args

from fieldassist.checklist import backs
from fieldassist.checklist import events as ev
from fieldassist.checklist.backs import BackKind, BackRecord, BackWay
from fieldassist.checklist.events import Event
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Area, State
from fieldassist.day.photo import Picture
from fieldassist.photo.back import Back
from fieldassist.record.attachments import folder_of
from fieldassist.trade.message import Message, message
from fieldassist.trade.voids import contact_as_read
from fieldassist.ui.content.lift_page import (
    LiftDraft,
    back_of,
    sides,
)

if TYPE_CHECKING:
    from fieldassist.photo.measuring import MeasuredPhoto
    from fieldassist.photo.square import Squared

MeasureStage = Literal["eye", "kind", "photo", "corners", "taps", "finding"]
# What a finger does on the finding: nothing, it is looked at; strokes; or a tap fills to the border.
MeasureTool = Literal["look", "void", "mortar", "fill"]
TapKind = Literal["mortar", "bare"]
_TAP_KINDS: tuple[TapKind, ...] = get_args(TapKind)
# From the upper left corner, down: in shares of a photo's width and height, or in millimetres of a back.
SharePoint: TypeAlias = tuple[float, float]

# So many taps of each kind are asked for; more may be set.
TAPS_ASKED, MOST_TAPS = 3, 6
# A back that may be reckoned from taps. On a keyed one colour says nothing of what touched, and in a clear sheet things
# mirror: those are painted.
_TAPPED: tuple[BackKind, ...] = ("bare",)
# Where corners stand while nobody has set them: in shares of the photo.
FIRST_CORNERS: tuple[SharePoint, ...] = ((0.15, 0.15), (0.85, 0.15), (0.85, 0.85), (0.15, 0.85))
# How close a part of the back is seen when it is looked at closely.
CLOSE = 2.5


@dataclass(frozen=True, slots=True)
class MeasuredOf:
    """Whose back is measured: an area's round of a section that lifts, or that makes a sample."""

    area: str
    section: str
    round: int


@dataclass
class MeasureDraft:
    """What was set and painted of one back, and not kept yet.

    eye, eye_by: what was read by eye before, and by whom; eye_told: that was asked, and may have been left out; kind:
    what was on the back; photo: SHA-256 of the photo that is measured; seen: that photo, as it is worked on; corners:
    in shares of it; corner: which one is moved by keys; squared: the plan, once the corners are right; taps: in
    millimetres of the back, in their order; proposed: what the taps came to; cannot: why the photo by itself does not
    tell; by_hand: it is painted without taps; back: what is painted on; tool; strokes: how many can be taken back;
    only_paint: the photo is too poor to be reckoned; told: a figure of the photo was seen; part: which part is looked
    at closely, from 1, 0 for the whole; view: where that begins and how wide it is, in shares of the back; busy: what
    is worked on beside the screen; refused: why that came to nothing; unfit: the plan of a photo on which only
    painting goes, and unfit_by the corners that it is squared up by; snapped: the corners that were drawn to their
    borders once, and stay from then on where a finger sets them.
    """

    back: Back
    eye: float | None = None
    eye_by: str = ""
    eye_told: bool = False
    kind: BackKind | None = None
    photo: str = ""
    seen: Picture | None = None
    corners: list[SharePoint] = field(default_factory=lambda: list(FIRST_CORNERS))
    corner: int = 0
    squared: Squared | None = None
    taps: list[tuple[TapKind, SharePoint]] = field(default_factory=list)
    tapping: TapKind = "mortar"
    proposed: MeasuredPhoto | None = None
    cannot: Message | None = None
    by_hand: bool = False
    tool: MeasureTool = "look"
    strokes: int = 0
    only_paint: bool = False
    told: bool = False
    part: int = 0
    view: tuple[float, float, float] = (0.0, 0.0, 1.0)
    busy: Message | None = None
    refused: Message | None = None
    unfit: Squared | None = None
    unfit_by: list[SharePoint] = field(default_factory=list)
    snapped: set[int] = field(default_factory=set)

    @property
    def stage(self) -> MeasureStage:
        """What is asked next."""
        if not self.eye_told:
            return "eye"
        if self.kind is None:
            return "kind"
        if not self.photo:
            return "photo"
        if self.squared is None:
            return "corners"
        if self.kind in _TAPPED and self.proposed is None and not self.by_hand:
            return "taps"
        return "finding"

    @property
    def way(self) -> BackWay:
        """How the cells came about."""
        if self.proposed is None:
            return "painted"
        return "proposed" if self.as_proposed else "corrected"

    @property
    def as_proposed(self) -> bool:
        """Whether the proposal stands as it came: nothing was painted over it."""
        return self.proposed is not None and self.back.cells == self.proposed.cells

    @property
    def begun(self) -> bool:
        """Whether anything was painted, tapped or proposed on this photo, which another one would take away."""
        return bool(self.taps) or self.strokes > 0 or self.proposed is not None

    def taps_of(self, kind: TapKind) -> tuple[SharePoint, ...]:
        """The taps of a kind, in their order [mm]."""
        return tuple(point for one, point in self.taps if one == kind)

    def step_back(self) -> bool:
        """Ask the question before anew; whether there was one. What was proposed goes with its taps' question: nobody
        painted it. The eye is not asked again once the photo has told."""
        self.refused, stage = None, self.stage
        self.look_at_part(0)
        if stage == "finding" and self.kind in _TAPPED and not self.only_paint:
            self._drop_proposal()
            self.by_hand, self.tool = False, "look"
        elif stage in ("finding", "taps"):
            self.squared = None
        elif stage == "corners":
            self.photo, self.seen = "", None
        elif stage == "photo":
            self.kind = None
        elif stage == "kind" and not self.told:
            self.eye_told = False
        return self.stage != stage

    def _drop_proposal(self) -> None:
        if self.proposed is not None:
            self.proposed, self.strokes = None, 0
            self.back = Back(*self.back.size_mm)

    def take_photo(self, sha256: str) -> None:
        """Measure this photo: nothing that was set on another one holds for it."""
        self.photo, self.seen, self.squared, self.refused = sha256, None, None, None
        self.corners, self.corner = list(FIRST_CORNERS), 0
        self.unfit, self.snapped = None, set()
        self._drop_finding()

    def take_plan(self, squared: Squared, unfit: Message | None = None) -> None:
        """The corners are right. What was painted stays where the piece has it; taps and what came of them are of
        another plan. unfit: why it can be painted on only."""
        self.squared, self.refused, self.unfit = squared, None, None
        self.taps, self.tapping = [], "mortar"
        self.look_at_part(0)
        self._drop_proposal()
        self.cannot, self.only_paint = unfit, unfit is not None
        self.by_hand, self.tool = self.only_paint, "void" if self.only_paint else "look"

    def take_kind(self, kind: BackKind) -> None:
        """What the back was said to be; another one takes away what was reckoned of it."""
        if kind != self.kind:
            self._drop_finding()
        self.kind = kind

    def take_proposal(self, found: MeasuredPhoto) -> None:
        """The taps came to this."""
        import numpy as np

        self.proposed, self.cannot, self.tool, self.strokes = found, None, "look", 0
        cells = np.frombuffer(found.cells.cells, np.uint8).reshape(found.cells.rows, found.cells.columns)
        self.back.propose(cells)

    def paint(self) -> None:
        """Paint by hand from here on."""
        self.by_hand = True
        self.tool = "void"

    def all_mortar(self) -> None:
        """Somebody has looked, and found no void."""
        self.back.all_covered()
        self.strokes += 1

    def undo(self) -> None:
        """Take the last stroke back: never what lay there before the first."""
        if self.strokes > 0:
            self.strokes -= 1
            self.back.undo()

    def _drop_finding(self) -> None:
        size = self.back.size_mm
        self.back = Back(*size)
        self.taps, self.tapping, self.proposed, self.cannot = [], "mortar", None, None
        self.by_hand, self.tool, self.strokes, self.only_paint = False, "look", 0, False
        self.look_at_part(0)

    def look_at_part(self, part: int) -> None:
        """Look at one part closely, or for 0 at the whole."""
        self.part, self.view = part, part_shown(part)


@dataclass
class MeasureDrafts:
    """What was set and painted, by day and round; it stays until the program ends."""

    by_round: dict[tuple[Hashable, MeasuredOf], MeasureDraft] = field(default_factory=dict)

    def of(self, day: Path, what: MeasuredOf, area: Area) -> MeasureDraft:
        """The one of a round of a day; made where there is none yet."""
        key = (day, what)
        if key not in self.by_round:
            self.by_round[key] = MeasureDraft(back_of(area.plan.piece))
        return self.by_round[key]


# --- whose back ---------------------------------------------------------------------------------------------------


def at_hand(state: State) -> MeasuredOf | None:
    """The lifted piece or the sample at hand, where it may be measured now; None where there is neither."""
    what = photographed(state)
    return what if what is not None and may_be_measured(state, what) else None


def photographed(state: State) -> MeasuredOf | None:
    """The lifted piece or the sample at hand, to which a photo that is taken now belongs."""
    area = state.area
    if area is None or area.task is None or state.closed:
        return None
    what = MeasuredOf(area.plan.name, area.task.section, area.task.round)
    lifted = area.progress.lift_of(what.section, what.round) is not None
    return what if lifted or (area.sample is not None and area.sample.seen is not None) else None


def may_be_measured(state: State, what: MeasuredOf) -> bool:
    """Whether a back of this round may be measured now: its area is the one worked on, and its piece is off; of a
    sample, all its readers have called what they saw, else the photo's figure would be in their ears."""
    area = state.areas.get(what.area)
    if area is None or state.closed or state.active != what.area:
        return False
    if area.progress.lift_of(what.section, what.round) is not None:
        return True
    sample = area.progress.samples.get(what.round)
    if sample is None or not is_sample(area, what):
        return False
    readers = area.plan.trial.readers if area.plan.trial is not None else ()
    read = [answer for answer in sample.answers if answer.measures == "coverage"]
    return len(read) >= max(1, len(readers))


def is_sample(area: Area, what: MeasuredOf) -> bool:
    """Whether it is a sample of a mock-up."""
    return area.checklist.trying is not None and area.checklist.trying.id == what.section


def was_coated(area: Area, what: MeasuredOf) -> bool:
    """Whether the record says that mortar was keyed or combed onto this back before its piece was set."""
    if is_sample(area, what):
        sample, trial = area.progress.samples.get(what.round), area.plan.trial
        made = trial.by_letter.get(sample.letter) if sample is not None and trial is not None else None
        return made is not None and (made.back == "keyed" or made.sides == "both")
    lift = area.progress.lift_of(what.section, what.round)
    tile = area.progress.tiles.get(lift.tile) if lift is not None else None
    if tile is None or not 0 <= tile.method < len(area.methods_used):
        return False
    method = area.methods_used[tile.method]
    return method.back == "keyed" or method.sides == "both"


def is_at_hand(area: Area, what: MeasuredOf) -> bool:
    """Whether its values are asked now: what the photo shows is told at once."""
    return area.task is not None and (area.task.section, area.task.round) == (what.section, what.round)


def size_of(area: Area) -> tuple[float, float]:
    """The longer and the shorter side of the area's pieces [mm]."""
    longer, shorter = sides(area.plan.piece)
    return float(longer), float(shorter)


def measured(state: State, what: MeasuredOf) -> BackRecord | None:
    """What is kept of this back, None while nothing is."""
    return backs.back_of(state, what.area, what.section, what.round)


@dataclass(frozen=True, slots=True)
class RoundPhoto:
    """A photo that was kept of this round: its digest, its file beside the day, and when."""

    sha256: str
    path: Path
    at: str


def photos_of(events: Sequence[Event], day: Path, what: MeasuredOf) -> tuple[RoundPhoto, ...]:
    """The photos that were kept of this round and count, newest first."""
    found = [
        RoundPhoto(event.body.sha256, folder_of(day) / event.body.file, event.at.wall[11:16])
        for event in standing(events).photos
        if isinstance(event.body, ev.PhotoAttached)
        and (event.body.area, event.body.section, event.body.round) == (what.area, what.section, what.round)
    ]
    return tuple(reversed(found))


# --- by eye first -------------------------------------------------------------------------------------------------


def speaker_of(state: State) -> str:
    """Who speaks, by name; "" for nobody."""
    return state.speaker.name if state.speaker is not None else ""


def eye_first(state: State, area: Area, what: MeasuredOf, lift: LiftDraft | None) -> tuple[float, str] | None:
    """What was read by eye already, and by whom: kept, waiting for its yes, typed, or painted on the drawing; None
    where nobody has looked."""
    read = backs.read_by_eye(state, area.plan.name, what.section, what.round)
    if read is not None or lift is None:
        return read
    speaker = speaker_of(state)
    section = area.checklist.section(what.section)
    for step in section.steps if section is not None else ():
        if getattr(step, "measures", None) == "coverage" and step.id in lift.typed:
            return float(lift.typed[step.id].value), speaker
    painted = lift.back.reckoned
    return (float(contact_as_read(painted.percent)), speaker) if painted is not None else None


# --- what is tapped, and which part is seen ------------------------------------------------------------------------


def taps_told(draft: MeasureDraft) -> Message:
    """What is to be tapped now, and how many are set of how many."""
    if all(len(draft.taps_of(kind)) >= TAPS_ASKED for kind in _TAP_KINDS):
        return message("measuring-tap-done", most=str(MOST_TAPS))
    count = len(draft.taps_of(draft.tapping))
    return message("measuring-tap", what=draft.tapping, count=str(min(count + 1, TAPS_ASKED)), most=str(TAPS_ASKED))


def parts() -> int:
    """How many parts the whole has, looked at closely, each over its neighbour by a little."""
    return len(_part_starts()) ** 2


def part_shown(part: int) -> tuple[float, float, float]:
    """Of a part from 1, and of the whole for 0: where it begins at the left and from the top, and how wide and high it
    is, in shares of the back.

    >>> part_shown(0), part_shown(2)
    ((0.0, 0.0, 1.0), (0.3, 0.0, 0.4))
    """
    if part == 0:
        return 0.0, 0.0, 1.0
    starts = _part_starts()
    row, column = divmod(part - 1, len(starts))
    return starts[column], starts[row], 1 / CLOSE


def _part_starts() -> tuple[float, ...]:
    count = math.ceil(CLOSE)
    return tuple(round(k * (1 - 1 / CLOSE) / (count - 1), 6) for k in range(count))
