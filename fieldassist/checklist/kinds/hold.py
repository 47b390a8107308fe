"""A hold point: work stops until somebody of the named role, or a deputy of such a one, releases it.

How it was released stands in the event. "pin": the person gave the PIN in place, and the key that it opens signed the
release (`record.seal`). "called": it was called out in the person's name, by whoever; nobody's word is proven by that,
so it is open until the person confirms it by PIN.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import Field, model_validator

from fieldassist.checklist.event_base import AtStep, EventBody, RecordedName
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AS_ONE_LINE, AtStepAsked, Said
from fieldassist.checklist.offers import RELEASED_BY, THIS_IS, Offer, StepSetting
from fieldassist.checklist.plan import DayPlan, Person, Role
from fieldassist.checklist.state import HoldRelease, State, advance, answered, beyond_recall
from fieldassist.trade.message import Figure, Refused, Several, message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event

# An Ed25519 public key and a signature (RFC 8032) in hexadecimal.
PublicKey = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
KeySignature = Annotated[str, Field(pattern=r"^[0-9a-f]{128}$")]


class Hold(Said):
    """A hold point, released by `by`."""

    kind: Literal["hold"]

    @model_validator(mode="after")
    def _check(self) -> Hold:
        faults = Faults()
        self.check_said(faults)
        if self.by is None:
            faults.add("step-without-by")
        faults.tell()
        return self

    def taken_from(self, speaker: Person | None) -> bool:
        """Anybody may call a release out, in the name of one who may release: `decide` asks for that name."""
        return True

    def releasing(self, plan: DayPlan) -> tuple[Person, ...]:
        """Who of the crew may release it."""
        return plan.releasing(self.by) if self.by is not None else ()

    def offers(self, place: StepSetting) -> list[Offer]:
        """Its phrases, bare and with the name of each who may release it."""
        said = self.phrases(place.language)
        bare = ReleaseHold(section=place.holder, step=self.id)
        people = self.releasing(place.plan) if place.plan is not None else ()
        own = place.now and (place.plan is None or place.speaker in people)
        offers = [Offer(said, message("prompt-release", what=place.title), bare, now=own)]
        for person in people:
            offers.append(
                Offer(
                    calls_in_name(said, person),
                    message("prompt-release-by", what=place.title, name=person.name),
                    bare.model_copy(update={"name": person.name}),
                    now=place.now and place.speaker != person,
                )
            )
        return offers


def calls_in_name(phrases: tuple[str, ...], person: Person) -> tuple[str, ...]:
    """How a release is called out in a person's name: "base released by edwin", "edwin base released"."""
    return tuple(
        called
        for phrase in phrases
        for call in person.calls
        for called in (f"{phrase} {RELEASED_BY} {call}", f"{call} {phrase}")
    )


class ReleaseHold(AtStepAsked):
    """Release the hold point at hand, as whoever speaks or in the name of another.

    name: who releases, "" for whoever speaks. key, signature: given where the person's PIN opened the key that signed
    this release; "" where it is only called out.
    """

    do: Literal["release hold"] = "release hold"
    name: Annotated[str, AS_ONE_LINE, Field(max_length=80)] = ""
    key: PublicKey | Literal[""] = ""
    signature: KeySignature | Literal[""] = ""


class HoldReleased(AtStep):
    """A hold point was released.

    name, role: who released it, and the role that the plan gives this person; deputy_for: the foreman in whose place,
    "" for none; key, signature: by PIN, the public key and its Ed25519 signature over this release, in hexadecimal.
    """

    type: Literal["hold released"] = "hold released"
    name: RecordedName
    role: Role
    how: Literal["called", "pin"]
    deputy_for: RecordedName | Literal[""] = ""
    key: PublicKey | Literal[""] = ""
    signature: KeySignature | Literal[""] = ""


class ReleasesConfirmed(EventBody):
    """Releases that were called out in this person's name are confirmed by PIN. releases: the numbers of their events.

    key, signature: the public key and its Ed25519 signature over this confirmation, in hexadecimal.
    """

    type: Literal["releases confirmed"] = "releases confirmed"
    releases: Annotated[tuple[int, ...], Field(min_length=1)]
    name: RecordedName
    role: Role
    key: PublicKey
    signature: KeySignature


class ReleaseStruck(EventBody):
    """A release that was called out in this person's name, who says by PIN that it was none."""

    type: Literal["release struck"] = "release struck"
    release: int
    name: RecordedName


def decide(draft: Draft, command: ReleaseHold) -> Answered:
    """The hold point is released, if it is at hand and whoever releases it may."""
    area, task, step = draft.at_hand(command, Hold)
    person = _who(draft, command, step)
    deputy = person.deputy_for if person.role is not step.by else None
    body = HoldReleased(
        area=area.plan.name,
        section=task.section,
        round=task.round,
        step=step.id,
        name=person.name,
        role=person.role,
        how="pin" if command.key else "called",
        deputy_for=deputy or "",
        key=command.key,
        signature=command.signature,
    )
    draft.emit(body, by=person.name if body.how == "pin" else None)
    draft.say(message("engine-released", how=body.how, name=person.name, deputy=body.deputy_for or "no"))
    if body.how == "called":
        draft.end_turn_of(person)
    return task, step, None


def _who(draft: Draft, command: ReleaseHold, step: Hold) -> Person:
    """Who releases; refused where that person may not, with what to say instead."""
    plan, speaker = draft.state.plan, draft.state.speaker
    assert plan is not None
    may = step.releasing(plan)
    person = plan.person(command.name) if command.name else speaker
    if command.name and person is None:
        names = Several(tuple(p.name for p in plan.crew))
        raise draft.refusal("engine-nobody-called", name=command.name, names=names)
    if person is not None and person in may:
        return person
    if not may:
        raise draft.refusal("engine-nobody-releases", role=str(step.by), ask=step.asked())
    if command.name:
        names = Several(tuple(p.name for p in may), "or")
        raise draft.refusal("engine-may-not-release", name=command.name, names=names)
    raise draft.refusal("engine-release-by-whom", role=str(step.by), ask=step.ask, **how_to_release(step, may[0]))


def how_to_release(step: Hold, person: Person) -> Mapping[str, Figure]:
    """What to say so that this person releases: in another's turn, and in their own."""
    return {"phrase": f"{step.phrases()[0]} {RELEASED_BY} {person.said}", "turn": f"{THIS_IS} {person.said}"}


# --- confirming what was called -----------------------------------------------------------------------------------


def called_for(state: State, name: str) -> tuple[HoldRelease, ...]:
    """The releases that were called out in this person's name, neither confirmed nor struck out, oldest first."""
    found = (r for area in state.areas.values() for r in area.progress.releases.values())
    return tuple(sorted((r for r in found if r.name == name and r.waits), key=lambda r: r.seq))


def to_confirm(state: State, name: str, strike: tuple[int, ...]) -> tuple[int, ...]:
    """The numbers of the releases that a PIN of this person confirms where those in `strike` are struck out.

    Refused where one of `strike` was not called out in this name, or does not wait any more.
    """
    waiting = [release.seq for release in called_for(state, name)]
    for seq in strike:
        if seq not in waiting:
            raise Refused(message("engine-no-such-release", event=str(seq), name=name))
    return tuple(seq for seq in waiting if seq not in strike)


def as_answered(state: State, name: str, strike: tuple[int, ...]) -> State:
    """The state as it would be once this person's PIN has confirmed what waits, without what is in `strike`."""
    for release in called_for(state, name):
        struck = release.seq in strike
        now = replace(release, struck=struck, confirmed=None if struck else release.at)
        releases = {**state.areas[release.area].progress.releases, release.seq: now}
        state = advance(state, release.area, releases=releases)
    return state


def confirm(draft: Draft, name: str, strike: tuple[int, ...], key: str, signature: str) -> None:
    """By this person's PIN: what was called out in their name is confirmed, and what they strike out is struck."""
    person = draft.state.plan.person(name) if draft.state.plan is not None else None
    if person is None:
        names = Several(tuple(p.name for p in draft.state.plan.crew) if draft.state.plan is not None else ())
        raise draft.refusal("engine-nobody-called", name=name, names=names)
    confirmed = to_confirm(draft.state, name, strike)
    if confirmed:
        body = ReleasesConfirmed(releases=confirmed, name=name, role=person.role, key=key, signature=signature)
        draft.emit(body, by=name)
        draft.say(message("engine-releases-confirmed", count=len(confirmed), name=name))
    for seq in sorted(strike):
        draft.emit(ReleaseStruck(release=seq, name=name), by=name)
        draft.say(message("engine-release-struck", event=str(seq), name=name))


# --- folds --------------------------------------------------------------------------------------------------------


def fold(state: State, event: Event, body: HoldReleased) -> State:
    """What one released by PIN or in the own turn is not taken back by another's "scratch that"; what was called out
    for somebody can be, since it may have been misheard."""
    release = HoldRelease(
        seq=event.seq,
        area=body.area,
        section=body.section,
        round=body.round,
        step=body.step,
        name=body.name,
        role=body.role,
        deputy_for=body.deputy_for,
        how=body.how,
        at=event.at,
    )
    releases = {**state.areas[body.area].progress.releases, event.seq: release}
    state = answered(state, event, body, releases=releases)
    return state if body.how == "called" and event.by != body.name else beyond_recall(state, body.area, event)


def _confirmed(state: State, event: Event, body: ReleasesConfirmed) -> State:
    for seq in body.releases:
        state = _now(state, event, seq, confirmed=event.at)
    return state


def _struck(state: State, event: Event, body: ReleaseStruck) -> State:
    return _now(state, event, body.release, struck=True)


def _now(state: State, event: Event, seq: int, **changes: Any) -> State:
    """The state with one release changed. What a PIN has answered is not taken back, nor is anything before it."""
    for name, area in state.areas.items():
        release = area.progress.releases.get(seq)
        if release is not None:
            releases = {**area.progress.releases, seq: replace(release, **changes)}
            return beyond_recall(advance(state, name, releases=releases), name, event)
    raise ValueError(f"event {event.seq} answers the release of event {seq}, which does not stand")


DECIDERS = {ReleaseHold: decide}
FOLDS = {HoldReleased: fold, ReleasesConfirmed: _confirmed, ReleaseStruck: _struck}
TELLS: Mapping[type, Any] = {
    HoldReleased: lambda _, b: {"how": b.how, "deputy": b.deputy_for or "no"},
    ReleasesConfirmed: lambda _, b: {"events": Several(tuple(str(seq) for seq in b.releases), "and")},
    ReleaseStruck: lambda _, b: {"release": str(b.release)},
}
