"""The seal of a signed day: a person's Ed25519 signature (RFC 8032) over what the log says up to the sign-off.

Signed is a short statement in canonical JSON (RFC 8785): whose signature it is, when and for which site, date and part,
how many events it covers, the hash in which their chain ends, and the certificate by which the pages are signed, where
they are. Since every event carries the hash of the one before, that one hash stands for all of them, so whoever has the
log and the public key can check the seal without this program.

A good seal says that the holder of the key signed exactly these events. It does not say who held the key: for that,
compare its fingerprint with the one that the signer gave.

What is released or confirmed by PIN before that is signed in the same way, event by event: `check_releases`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import rfc8785

from fieldassist.checklist.events import (
    DayOpened,
    DaySealed,
    DaySigned,
    Event,
    HoldReleased,
    MethodReleased,
    ReleasesConfirmed,
)
from fieldassist.checklist.plan import DayKind, DayPlan, Role
from fieldassist.checklist.replanning import plan_of
from fieldassist.record.keys import SigningKey, certificate_hash, fingerprint
from fieldassist.record.signature import is_signed
from fieldassist.trade.message import Message, Refused, message


class SealProblem(Refused):
    """The day cannot be sealed as asked; `told` says why and what to do."""


@dataclass(frozen=True, slots=True)
class SealCheck:
    """What became of one seal.

    seq: the seal's event; part: 0 for the day, n for addendum n; signed_at: wall time of the sign-off, ISO 8601 with
    offset, "" when there is none; certificate: SHA-256 of the certificate that signs the pages, "" where it names none;
    why: why it is not good, None for a good one; warning: what somebody should look into although the seal is good, or
    None.
    """

    seq: int
    part: int
    name: str
    role: Role
    signed_at: str
    covers: int
    public_key: str
    fingerprint: str
    certificate: str = ""
    why: Message | None = None
    warning: Message | None = None

    @property
    def good(self) -> bool:
        """Whether the events up to `covers` are exactly those that the key signed."""
        return self.why is None


def statement(
    *,
    covers: int,
    date: str,
    head: str,
    name: str,
    part: int,
    role: str,
    signed_at: str,
    site: str,
    certificate: str = "",
) -> bytes:
    """What is signed, as the canonical JSON (RFC 8785) of it in UTF-8.

    covers: the sign-off's event number, which is the number of events signed; head: their chain's hash, 64 hexadecimal
    digits; date, site: the plan's; signed_at: the wall time of the sign-off as it stands in the log; certificate: the
    SHA-256 of the signer's certificate for pages, "" where there is none: the statement is then of the first form.

    >>> statement(covers=7, date="2026-03-17", head="0" * 64, name="edwin", part=0, role="foreman",
    ...           signed_at="2026-03-17T15:40:00+01:00", site="Harbour Hall").decode()[:46]
    '{"covers":7,"date":"2026-03-17","head":"000000'
    """
    named = {"certificate": certificate} if certificate else {}
    return rfc8785.dumps(
        {
            **named,
            "covers": covers,
            "date": date,
            "head": head,
            "name": name,
            "part": part,
            "role": str(role),
            "seal": f"fieldassist day {2 if certificate else 1}",
            "signed_at": signed_at,
            "site": site,
        }
    )


def make_seal(events: Sequence[Event], hashes: Sequence[str], key: SigningKey) -> DaySealed:
    """The seal over a whole log whose last event is the sign-off; `hashes` are the chain hashes of `events`.

    Sign-off and seal can so be written in one go (`DayLog.written` gives the texts to hash). SealProblem when the last
    event is no sign-off, or when the key is not that of the person who signed, was made for another role, or for
    practice where the day is work (or the other way round).
    """
    found = _sign_off(events, hashes, len(events), certificate_hash(key.certificate))
    if found is None:
        raise SealProblem(message("record-seal-unsigned"))
    signed = found.signed
    if signed.name != key.name:
        raise SealProblem(message("record-seal-other-pin", signed=signed.name, given=key.name))
    if signed.role is not key.role:
        raise SealProblem(message("record-seal-other-role", name=key.name, made=key.role.value, role=signed.role.value))
    wrong = not_for(found.kind, key)
    if wrong is not None:
        raise SealProblem(wrong)
    return DaySealed(
        name=signed.name,
        role=signed.role,
        part=signed.part,
        covers=len(events),
        head=found.head,
        public_key=key.public_key,
        signature=key.sign(found.statement).hex(),
        certificate=certificate_hash(key.certificate),
    )


def not_for(kind: DayKind, key: SigningKey) -> Message | None:
    """Why a key signs nothing in a day of this kind, None where it may: keys for practice and real ones are apart."""
    if key.practice is (kind != "work"):
        return None
    return message("record-seal-practice-key" if key.practice else "record-seal-real-key", name=key.name)


def check_seals(events: Sequence[Event], hashes: Sequence[str]) -> tuple[SealCheck, ...]:
    """What became of each seal among `events`, in order.

    hashes: the chain hash after each event, computed from the texts as stored (`DayLog.hashes`); a list that somebody
    hands over proves nothing.
    """
    checks: list[SealCheck] = []
    for index, event in enumerate(events):
        if isinstance(event.body, DaySealed):
            check = _checked(event.body, index, events, hashes)
            checks.append(replace(check, warning=_warning(check, checks)) if check.good else check)
    return tuple(checks)


def unsealed_after(events: Sequence[Event], hashes: Sequence[str]) -> int:
    """How many events follow the last good seal: nobody's key vouches for them. All of them when there is none."""
    return len(events) - max((check.seq for check in check_seals(events, hashes) if check.good), default=0)


def _checked(seal: DaySealed, before: int, events: Sequence[Event], hashes: Sequence[str]) -> SealCheck:
    """The check of the seal that follows `before` events."""
    found = _sign_off(events, hashes, before, seal.certificate)
    check = SealCheck(
        seq=before + 1,
        part=seal.part,
        name=seal.name,
        role=seal.role,
        signed_at=found.signed_at if found is not None else "",
        covers=seal.covers,
        public_key=seal.public_key,
        fingerprint=fingerprint(seal.public_key),
        certificate=seal.certificate,
    )
    if found is None:
        return replace(check, why=message("record-seal-no-sign-off"))
    signed = found.signed
    why: Message | None = None
    if seal.covers != before:
        why = message("record-seal-covers", covers=str(seal.covers), event=str(before))
    elif (seal.name, seal.role) != (signed.name, signed.role):
        why = message(
            "record-seal-by", name=seal.name, role=seal.role.value, signed=signed.name, signed_role=signed.role.value
        )
    elif not _is_foreman(found.plan, signed):
        why = message("record-seal-no-foreman", name=signed.name)
    elif seal.part != signed.part:
        why = message("record-seal-part", part=seal.part, signed=signed.part)
    elif seal.head != found.head:
        why = message("record-seal-head", event=str(before))
    elif not is_signed(found.statement, seal.public_key, seal.signature):
        why = message("record-seal-signature")
    return replace(check, why=why)


@dataclass(frozen=True, slots=True)
class _SignOff:
    """A sign-off and what its seal has to say."""

    plan: DayPlan
    kind: DayKind
    signed: DaySigned
    signed_at: str
    head: str
    statement: bytes


def _sign_off(events: Sequence[Event], hashes: Sequence[str], count: int, certificate: str) -> _SignOff | None:
    """The sign-off that is the last of the first `count` events of a day, or None when it is something else.

    certificate: what its seal names as the SHA-256 of the certificate for pages.
    """
    if count < 2:
        return None
    opened, last = events[0].body, events[count - 1]
    if not isinstance(opened, DayOpened) or not isinstance(last.body, DaySigned):
        return None
    signed = statement(
        covers=count,
        date=opened.plan.date,
        head=hashes[count - 1],
        name=last.body.name,
        part=last.body.part,
        role=last.body.role,
        signed_at=last.at.wall,
        site=opened.plan.site,
        certificate=certificate,
    )
    return _SignOff(opened.plan, opened.kind, last.body, last.at.wall, hashes[count - 1], signed)


def _is_foreman(plan: DayPlan, signed: DaySigned) -> bool:
    """Whether whoever signed was a foreman of the plan's crew, and signed as one."""
    person = plan.person(signed.name)
    return signed.role is Role.FOREMAN and person is not None and person.role is Role.FOREMAN


def _warning(check: SealCheck, earlier: Sequence[SealCheck]) -> Message | None:
    """What does not fit the good seals before this one."""
    for other in reversed([other for other in earlier if other.good]):
        if other.name == check.name and other.public_key != check.public_key:
            return message("record-seal-another-key", name=check.name, event=str(other.seq))
        if other.name != check.name and other.public_key == check.public_key:
            return message("record-seal-shared-key", name=other.name, event=str(other.seq))
    return None


# --- what is released and confirmed by PIN ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ReleaseCheck:
    """What became of one signature by PIN below the seals: of a release, or of the confirmation of releases.

    seq: its event; confirms: the releases that it confirms, () for a release; why: why it is not good, None for a good
    one; warning: what somebody should look into although it is good, or None.
    """

    seq: int
    name: str
    role: Role
    public_key: str
    fingerprint: str
    confirms: tuple[int, ...] = ()
    why: Message | None = None
    warning: Message | None = None

    @property
    def good(self) -> bool:
        """Whether the key signed exactly this, at this place of the chain."""
        return self.why is None


# What a PIN signs where it stands in the chain: a hold point or a method that is released, releases that are confirmed.
SignedByPin: TypeAlias = HoldReleased | ReleasesConfirmed | MethodReleased


def release_statement(body: SignedByPin, plan: DayPlan, *, seq: int, after: str) -> bytes:
    """What a PIN signs when it releases or confirms: the canonical JSON (RFC 8785) of the event without its signature,
    and where it stands.

    seq: its event number; after: the hash in which the chain of the events before it ends, 64 hexadecimal digits.
    """
    told = body.model_dump(mode="json", exclude={"key", "signature"})
    return rfc8785.dumps(
        {
            "after": after,
            "date": plan.date,
            "event": told,
            "pin": "fieldassist release 1",
            "seq": seq,
            "site": plan.site,
        }
    )


def check_releases(events: Sequence[Event], hashes: Sequence[str]) -> tuple[ReleaseCheck, ...]:
    """What became of each signature by PIN among `events`, in order; `hashes` as for `check_seals`."""
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened):
        return ()
    plan = plan_of(events) or opened.plan
    seals = [(one.seq, one.name, one.role, one.public_key) for one in check_seals(events, hashes) if one.good]
    checks: list[ReleaseCheck] = []
    for index, event in enumerate(events):
        body = event.body
        if not isinstance(body, SignedByPin) or index == 0 or (isinstance(body, HoldReleased) and body.how != "pin"):
            continue
        check = ReleaseCheck(
            seq=event.seq,
            name=body.name,
            role=body.role,
            public_key=body.key,
            fingerprint=fingerprint(body.key) if body.key else "",
            confirms=body.releases if isinstance(body, ReleasesConfirmed) else (),
            why=_why_no_release(body, plan, events[:index], hashes[index - 1]),
        )
        checks.append(replace(check, warning=_key_warning(check, checks, seals)) if check.good else check)
    return tuple(checks)


def _why_no_release(body: SignedByPin, plan: DayPlan, before: Sequence[Event], after: str) -> Message | None:
    """Why a release or confirmation by PIN is not good; None where it is."""
    person = plan.person(body.name)
    if person is None or person.role is not body.role:
        return message("record-release-role", name=body.name, role=body.role.value)
    if isinstance(body, HoldReleased | MethodReleased) and body.deputy_for and person.deputy_for != body.deputy_for:
        return message("record-release-deputy", name=body.name, foreman=body.deputy_for)
    if isinstance(body, ReleasesConfirmed):
        called = {e.seq: e.body.name for e in before if isinstance(e.body, HoldReleased)}
        for seq in body.releases:
            if called.get(seq) != body.name:
                return message("record-release-not-called", event=str(seq), name=body.name)
    signed = release_statement(body, plan, seq=len(before) + 1, after=after)
    if not body.key or not body.signature or not is_signed(signed, body.key, body.signature):
        return message("record-release-signature")
    return None


def _key_warning(
    check: ReleaseCheck, earlier: Sequence[ReleaseCheck], seals: Sequence[tuple[int, str, Role, str]]
) -> Message | None:
    """What does not fit the other keys of the day: those of good signatures by PIN before, and of its good seals."""
    used = [*((one.seq, one.name, one.role, one.public_key) for one in earlier if one.good), *seals]
    for seq, name, role, public_key in used:
        if name == check.name and public_key != check.public_key:
            return message("record-release-another-key", name=name, event=str(seq))
        if public_key == check.public_key and (name, role) != (check.name, check.role):
            return message("record-release-shared-key", name=name, event=str(seq))
    return None
