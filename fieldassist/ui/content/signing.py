"""What an inspector asks first, and whoever signs a day has to know: each with whether it holds, and what answers it.

Nothing is judged here: what is open comes from `checklist.open_points`, as on the page and in the log.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.checklist.bags import balance
from fieldassist.checklist.cautions import key, not_heard
from fieldassist.checklist.events import DaySigned, Event
from fieldassist.checklist.kinds.hold import as_answered, called_for
from fieldassist.checklist.kinds.reading import read_as
from fieldassist.checklist.open_points import OpenPoint, open_points
from fieldassist.checklist.places import planned_m2
from fieldassist.checklist.plan import Role
from fieldassist.checklist.proven import tiles_in
from fieldassist.checklist.state import Area, HoldRelease, State
from fieldassist.record.seal import check_seals
from fieldassist.trade.message import Figure, Message, Several, Text, message
from fieldassist.trade.quantities import Quantity

# It holds; an answer is missing; the signature itself confirms it; nobody answers it, but whoever signs should know.
AskedState = Literal["holds", "missing", "confirms", "noted"]
# What the key beside it does: say why it stands, let tiles stay, take a person's PIN, go to the work that closes it,
# show the cautions; "" for no key.
AnsweredBy = Literal["", "why", "accept", "release", "work", "cautions"]
_Subject = Literal["surface", "lifts", "mortar", "releases", "times", "method", "record"]

# By the first part of a point's id. What is not among them belongs to the record.
_SUBJECTS: dict[str, _Subject] = {
    "surface-set": "surface",
    "area": "surface",
    "start": "surface",
    "failure": "lifts",
    "suspect": "lifts",
    "lift left": "lifts",
    "lot missed": "lifts",
    "accepted": "lifts",
    "lift waits": "lifts",
    "not put back": "lifts",
    "due waits": "lifts",
    "percent-void": "lifts",
    "bags": "mortar",
    "release": "releases",
    "called-late": "times",
    "went-on-early": "times",
    "longer-than-passed": "times",
    "too-fast": "times",
    "date": "times",
    "method": "method",
    "remedy": "method",
}


@dataclass(frozen=True, slots=True)
class AskedFirst:
    """A thing that is asked: its state, what is so in a few words, and why in a line.

    point: what the key beside it answers, None where there is no key for it; by: how; name: whose PIN that takes.
    """

    state: AskedState
    head: Message
    reason: Message | None = None
    point: OpenPoint | None = None
    by: AnsweredBy = ""
    name: str = ""


def signer(state: State) -> str:
    """Whose signature it would be: of a signed day whoever signed it; else the foreman who speaks, or the first of the
    crew, who does not have to take over the work for that. "" where the crew has none."""
    if state.closed:
        return state.signed[-1]
    if state.speaker is not None and state.speaker.role is Role.FOREMAN:
        return state.speaker.name
    return next(iter(signers(state)), "")


def signers(state: State) -> tuple[str, ...]:
    """The crew's foremen, who may sign."""
    return tuple(p.name for p in state.plan.crew if p.role is Role.FOREMAN) if state.plan is not None else ()


def stay_open(state: State, by: str, strike: Sequence[int] = ()) -> tuple[OpenPoint, ...]:
    """What nobody has answered and stays open although `by` signs; strike: releases that are struck out with that."""
    return tuple(point for point in open_points(as_answered(state, by, tuple(strike))) if point.answer is None)


def asked_first(state: State, by: str, strike: Sequence[int] = ()) -> tuple[AskedFirst, ...]:
    """What is asked first of a day that `by` is to sign: surface, lifts, mortar, releases, times, method, cautions.

    With more than four of them, what lacks an answer comes first.
    """
    points = open_points(as_answered(state, by, tuple(strike)))
    found: list[AskedFirst] = []
    for subject, tell in _TELLS:
        found += tell(state, tuple(p for p in points if subject_of(p) == subject), by, tuple(strike))
    found += _cautions(state)
    if len(found) > _IN_SIGHT:
        order: tuple[AskedState, ...] = ("missing", "confirms", "noted", "holds")
        found.sort(key=lambda row: order.index(row.state))
    return tuple(found)


_IN_SIGHT = 4  # rows beside the page, as the screen has them


def subject_of(point: OpenPoint) -> _Subject:
    """What a point is about."""
    return _SUBJECTS.get(point.id.partition("/")[0], "record")


# --- each subject -------------------------------------------------------------------------------------------------


def _surface(state: State, points: Sequence[OpenPoint], _by: str, _strike: Sequence[int]) -> Iterator[AskedFirst]:
    plan = state.plan
    if plan is None:
        return
    planned = sum(planned_m2(area) for area in plan.areas if _sets_tiles(state, area.checklist))
    done = sum(area.progress.set_m2 for area in state.areas.values())
    if not planned:
        return
    head = message("signing-surface", set=_m2(done), planned=_m2(planned))
    waiting = [point for point in points if point.answer is None]
    if waiting:
        names = Several(tuple(dict.fromkeys(p.area for p in waiting if p.area is not None)), "list")
        reason = message("signing-surface-open", areas=names)
        yield AskedFirst("missing", head, reason, waiting[0], "why")
    else:
        yield AskedFirst("holds", head, _answered(points) or message("signing-surface-whole"))


def _sets_tiles(state: State, checklist: str) -> bool:
    known = state.checklists.get(checklist)
    return known is not None and any(section.sets == "tile" for section in known.sections)


def _lifts(state: State, points: Sequence[OpenPoint], _by: str, _strike: Sequence[int]) -> Iterator[AskedFirst]:
    yield from (_lift_point(state, point) for point in points if point.answer is None)
    areas = [area for area in state.areas.values() if area.checklist.lift_section is not None]
    bare = [(area, tiles_in(area, "not yet covered")) for area in areas]
    for area, tiles in bare:
        if tiles:
            numbers = Several(tuple(map(str, tiles)), "list")
            head = message("signing-not-covered", count=len(tiles), tiles=numbers)
            yield AskedFirst("noted", head, message("signing-not-covered-why", area=area.plan.name))
    if areas and not any(tiles for _, tiles in bare) and all(point.answer is not None for point in points):
        lifts = [lift for area in areas for lift in area.progress.lifts.values()]
        passed = sum(lift.verdict == "passed" for lift in lifts)
        failed = sum(lift.verdict == "failed" for lift in lifts)
        reason = _answered(points) or message("signing-lifts-why", passed=passed, failed=failed)
        yield AskedFirst("holds", message("signing-lifts", count=len(lifts)), reason)


def _lift_point(state: State, point: OpenPoint) -> AskedFirst:
    kind, _, rest = point.id.partition("/")
    if kind != "suspect":
        return _open(point)
    name, _, number = rest.rpartition("/")
    area = state.areas[name]
    figures = {"count": point.told.figures["count"], "tiles": point.told.figures["tiles"]}
    return AskedFirst("missing", Message("signing-suspects", figures), _since(area, int(number)), point, "accept")


def _since(area: Area, number: int) -> Message:
    """Since which lift tiles are suspect, with what it read, and whether anything was lifted after it."""
    lift = area.progress.lifts.get(number)
    if lift is None:
        return message("signing-suspects-earlier", area=area.plan.name)
    read = [
        r for r in area.readings.values() if (r.section, r.round, r.measures) == (lift.section, lift.round, "coverage")
    ]
    later = sum(other.number > number for other in area.progress.lifts.values())
    told: Figure = read_as(read[-1]) if read else message("signing-lift-not-read")
    return message("signing-suspects-since", area=area.plan.name, lift=str(number), read=told, later=later)


def _mortar(state: State, points: Sequence[OpenPoint], _by: str, _strike: Sequence[int]) -> Iterator[AskedFirst]:
    waiting = [point for point in points if point.answer is None]
    for point in waiting:
        told = point.told.figures
        head = message("signing-bags", bags=told["bags"], predicted=told["predicted"])
        reason = message("signing-bags-why", area=point.area or "", verdict=told["verdict"])
        yield AskedFirst("missing", head, reason, point, "why")
    if waiting:
        return
    counted = [found for area in state.areas.values() if (found := balance(area)) is not None]
    if counted:
        used = Quantity(sum((found.used for found in counted), Fraction()), "count")
        predicted = Quantity(_tenths(sum(found.predicted for found in counted)), "count")
        reason = _answered(points) or message("signing-bags-agree")
        yield AskedFirst("holds", message("signing-bags", bags=used, predicted=predicted), reason)


def _releases(state: State, points: Sequence[OpenPoint], by: str, strike: Sequence[int]) -> Iterator[AskedFirst]:
    for point in points:
        if point.answer is None:
            release = _release_of(state, point)
            waits = release is not None and release.waits and release.name != by
            name = release.name if release is not None and waits else ""
            yield AskedFirst(
                "missing",
                message("signing-release", struck="no" if waits else "yes"),
                point.told,
                point if waits else None,
                "release" if waits else "",
                name,
            )
    mine = [release for release in called_for(state, by) if release.seq not in strike]
    if mine:
        told = tuple(_release_line(state, release) for release in mine)
        head = message("signing-releases-called", count=len(mine), name=by)
        yield AskedFirst(
            "confirms", head, message("signing-releases-confirm", releases=Several(told, "list")), None, "release", by
        )
    known = [release for area in state.areas.values() for release in area.progress.releases.values()]
    if known and not mine and not points:
        yield AskedFirst("holds", message("signing-releases", count=len(known)), message("signing-releases-by-pin"))


def _release_of(state: State, point: OpenPoint) -> HoldRelease | None:
    name, _, seq = point.id.partition("/")[2].rpartition("/")
    return state.areas[name].progress.releases.get(int(seq))


def _release_line(state: State, release: HoldRelease) -> Message:
    step = state.areas[release.area].checklist.step(release.section, release.step)
    return message("signing-release-line", at=release.at.wall[11:16], hold=step.name)


def _times(state: State, points: Sequence[OpenPoint], _by: str, _strike: Sequence[int]) -> Iterator[AskedFirst]:
    yield from (_open(point) for point in points if point.answer is None)
    if state.areas and all(point.answer is not None for point in points):
        yield AskedFirst("holds", message("signing-times"), _answered(points) or message("signing-times-why"))


def _others(_state: State, points: Sequence[OpenPoint], _by: str, _strike: Sequence[int]) -> Iterator[AskedFirst]:
    yield from (_open(point) for point in points if point.answer is None)
    if points and all(point.answer is not None for point in points):
        yield AskedFirst("holds", message("signing-answered-points", count=len(points)), _answered(points))


def _cautions(state: State) -> Iterator[AskedFirst]:
    """The cautions that hold in the areas under way, and who of the crew has not heard one."""
    held = {key(c): c for area in state.areas.values() for c in area.checklist.cautions if area.holds(c)}
    if not held:
        return
    missed = {words: not_heard(state, caution) for words, caution in held.items()}
    unseen = [words for words, names in missed.items() if names]
    if not unseen:
        yield AskedFirst("holds", message("signing-cautions", count=len(held)))
        return
    names = dict.fromkeys(name for words in unseen for name in missed[words])
    told = Several(tuple(message("signing-name", name=name) for name in names), "and")
    head = message("signing-cautions-unseen", count=len(unseen))
    yield AskedFirst("noted", head, message("signing-cautions-by", names=told), None, "cautions")


_Tell = Callable[[State, Sequence[OpenPoint], str, Sequence[int]], Iterator[AskedFirst]]
_TELLS: tuple[tuple[_Subject, _Tell], ...] = (
    ("surface", _surface),
    ("lifts", _lifts),
    ("mortar", _mortar),
    ("releases", _releases),
    ("times", _times),
    ("method", _others),
    ("record", _others),
)


def _open(point: OpenPoint) -> AskedFirst:
    """A point that is open, told as everywhere; where that does not go into a line, only its place."""
    kind = point.id.partition("/")[0]
    head = message("signing-open", kind=kind.replace(" ", "-"))
    reason = point.told
    if kind == "method":
        reason = message("signing-method-why", area=point.area or "")
    elif kind == "percent-void":
        reason = message("signing-percent-why", area=point.area or "", lift=point.told.figures["lift"])
    return AskedFirst("missing", head, reason, point, "why" if point.answerable else "work")


def _answered(points: Sequence[OpenPoint]) -> Message | None:
    """What the foreman answered last of these, None where he answered none."""
    answers = [point.answer for point in points if point.answer is not None]
    if not answers:
        return None
    last = max(answers, key=lambda answer: answer.seq)
    return message("signing-answered", answer=last.answer, name=last.by, at=last.at.wall[11:16])


def _m2(value: float) -> Quantity:
    return Quantity(_tenths(value), "m2")


def _tenths(value: float) -> Fraction:
    return Fraction(str(round(value, 1)))


# --- head and key -------------------------------------------------------------------------------------------------


def headline(state: State, by: str, strike: Sequence[int] = ()) -> Message:
    """How many answers are missing."""
    return message("signing-missing", count=len(stay_open(state, by, strike)))


def sign_key(state: State, by: str, strike: Sequence[int] = ()) -> Message:
    """What the big key says: that it signs, and how much stays open."""
    if state.closed:
        return message("signing-seal")
    count = len(stay_open(state, by, strike))
    return message("signing-sign-addendum" if state.part else "signing-sign", count=count, part=state.part)


# --- once it is signed ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ProofState:
    """What stands under a day: who signed last and when, and the seal on it.

    told: that, in a line; fingerprint: of the key, "" where nothing is sealed; good: whether the last signature is
    sealed and the seal fits; accepted: the points that were open, as the log has them; certified: the seal names the
    certificate by which pages are signed.
    """

    told: Message
    signed: Message
    fingerprint: str
    good: bool
    accepted: tuple[Message | Text, ...] = ()
    certified: bool = False


def proof(events: Sequence[Event], hashes: Sequence[str]) -> ProofState | None:
    """The state of the proof after the last signature; None before one.

    hashes: computed from the log as stored, never handed in from elsewhere.
    """
    signed = [event for event in events if isinstance(event.body, DaySigned)]
    if not signed:
        return None
    last = signed[-1]
    assert isinstance(last.body, DaySigned)
    head = message("signing-signed", at=last.at.wall[11:16], part=last.body.part)
    seal = next((check for check in check_seals(events, hashes) if check.seq > last.seq), None)
    name = last.body.name
    if seal is None:
        return ProofState(message("signing-not-sealed", name=name), head, "", False, last.body.open_points)
    if seal.why is not None:
        return ProofState(message("signing-seal-wrong", why=seal.why), head, "", False, last.body.open_points)
    told = message("signing-sealed", name=name, events=str(seal.covers))
    if seal.warning is not None:
        told = message("signing-sealed-but", told=told, warning=seal.warning)
    return ProofState(told, head, seal.fingerprint, True, last.body.open_points, bool(seal.certificate))
