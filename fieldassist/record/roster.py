"""The roster: who signs with which key, in which role, and from when to when.

A fingerprint on a slip of paper tells one key. A roster tells all of a firm's or a tablet's: it is handed over with the
contract, before the work, and whoever has it needs nothing else to know a signer by. It is one file of canonical JSON
(RFC 8785), signed by the owner, or by a firm whose key was made for that: its signature covers all of it but itself, so
a name that was added on the way shows. It is believed because of the way on which it came, like the contract; one that
travels with a record proves nothing by itself.

A key stands in it once, for one person in one role. Revoked is a key from a moment on: what it signed before stays good
where a trusted time shows that it was before, since whoever has a stolen key can set the tablet's clock back. From when
and to when a key signs is held against the record's own times: a key that may be in wrong hands is revoked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any, Literal

import rfc8785
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from fieldassist.checklist.plan import DayKind, Remark, Role, ShortText, SpokenName
from fieldassist.files import read_regular
from fieldassist.record.disk import whole_file
from fieldassist.record.keys import KeyHolder, Office, SigningKey, certificate_hash, fingerprint
from fieldassist.record.manifest import LARGEST_PROOF, Hash
from fieldassist.record.signature import is_signed
from fieldassist.trade.message import Refused, message

MOST_PEOPLE = 500


class RosterProblem(Refused):
    """A roster cannot be made, read or believed; `told` says why."""


def a_time(given: str) -> str:
    """A wall time in the one form in which it is written: ISO 8601 to the second, with its offset. ValueError else.

    >>> a_time("2026-03-17T07:00:00+01:00")
    '2026-03-17T07:00:00+01:00'
    """
    read = datetime.fromisoformat(given)
    if read.tzinfo is None or read.isoformat(timespec="seconds") != given:
        raise ValueError("no time of this form")
    return given


WallTime = Annotated[str, AfterValidator(a_time)]


class RosterEntry(BaseModel):
    """One key. since: from when on it signs; until: to when, "" for no end; revoked: from when on it is not to be
    believed, "" for never; why: in words; certificate: SHA-256 of the certificate of its pages, "" where there is none.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)

    name: SpokenName
    role: Role | Literal[Office.INSPECTOR]
    record_key: Hash
    certificate: Hash | Literal[""] = ""
    since: WallTime = Field(alias="from")
    until: WallTime | Literal[""] = Field(default="", alias="to")
    revoked: WallTime | Literal[""] = ""
    why: Remark = ""

    def place(self) -> tuple[str, str, str]:
        """Where it stands among the others."""
        return self.name, self.since, self.record_key


class RosterSigner(BaseModel):
    """Who signed a roster: an owner, or the firm."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    name: SpokenName
    role: Literal["owner", "firm"]
    public_key: Hash


@dataclass(frozen=True, slots=True)
class RosterDoubt:
    """Why a key that signed is not vouched for. code: "unknown", it is not in the roster; "other", it is there for
    another person or role; "practice", the roster is of another kind of days; "early", "late", it signed before or
    after its time; "revoked". entry: what the roster says of it, None where nothing."""

    code: Literal["unknown", "other", "practice", "early", "late", "revoked"]
    entry: RosterEntry | None = None


class Roster(BaseModel):
    """A roster, as it is written. made: when; practice: its keys sign days of practice and rehearsals only."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    roster: Literal[1] = 1
    firm: ShortText
    made: WallTime
    practice: bool = False
    people: Annotated[tuple[RosterEntry, ...], Field(max_length=MOST_PEOPLE)]
    signed: RosterSigner
    signature: Annotated[str, Field(pattern=r"^[0-9a-f]{128}$")]

    @property
    def fingerprint(self) -> str:
        """That of the key that signed the roster."""
        return fingerprint(self.signed.public_key)

    def entry_of(self, public_key: str) -> RosterEntry | None:
        """What it says of a key."""
        return next((entry for entry in self.people if entry.record_key == public_key), None)

    def entry_for(
        self,
        public_key: str,
        name: str,
        role: str,
        at: datetime,
        *,
        kind: DayKind = "work",
        proven: Sequence[datetime] = (),
    ) -> RosterEntry | RosterDoubt:
        """Who signed with a key as this person, in this role, at this time; or why nobody vouches for that.

        at: the time that the record gives, with its offset; kind: of the day; proven: trusted times at which the
        signature was there already, which only a revocation asks for.
        """
        entry = self.entry_of(public_key)
        if entry is None:
            return RosterDoubt("unknown")
        if self.practice is (kind == "work"):
            return RosterDoubt("practice", entry)
        if (entry.name, entry.role.value) != (name, str(role)):
            return RosterDoubt("other", entry)
        if at < datetime.fromisoformat(entry.since):
            return RosterDoubt("early", entry)
        if entry.until and at > datetime.fromisoformat(entry.until):
            return RosterDoubt("late", entry)
        if entry.revoked and not any(time < datetime.fromisoformat(entry.revoked) for time in proven):
            return RosterDoubt("revoked", entry)
        return entry

    def statement(self) -> bytes:
        """What is signed: the canonical JSON (RFC 8785) of all but the signature."""
        return rfc8785.dumps(self._written(signature=False))

    def to_bytes(self) -> bytes:
        """The roster as it is stored."""
        return rfc8785.dumps(self._written(signature=True))

    def _written(self, *, signature: bool) -> dict[str, Any]:
        raw = self.model_dump(mode="json", by_alias=True)
        raw["people"] = [{name: value for name, value in entry.items() if value != ""} for entry in raw["people"]]
        left_out = set() if signature else {"signature"}
        return {name: value for name, value in raw.items() if name not in left_out and (name != "practice" or value)}


# --- making -----------------------------------------------------------------------------------------------------------


def make_roster(firm: str, people: Iterable[RosterEntry], key: SigningKey, made: datetime) -> Roster:
    """A roster signed with the key of an owner or a firm. RosterProblem where the key is for another role."""
    if key.role not in (Role.OWNER, Office.FIRM):
        raise RosterProblem(message("record-roster-signer", name=key.name, role=key.role.value))
    unsigned = Roster(
        firm=firm,
        made=written_time(made),
        practice=key.practice,
        people=tuple(sorted(people, key=RosterEntry.place)),
        signed=RosterSigner.model_validate({"name": key.name, "role": key.role.value, "public_key": key.public_key}),
        signature="0" * 128,
    )
    return unsigned.model_copy(update={"signature": key.sign(unsigned.statement()).hex()})


def written_time(at: datetime) -> str:
    """A time as a roster writes it."""
    if at.tzinfo is None:
        raise ValueError("the time needs its offset from UTC")
    return at.isoformat(timespec="seconds")


def with_people(
    before: Sequence[RosterEntry], holders: Iterable[KeyHolder], now: datetime, since: datetime | None = None
) -> tuple[RosterEntry, ...]:
    """What stood in a roster, and the keys that came since.

    A key that another one took the place of ends where that one begins: its PIN was forgotten. since: from when on the
    new ones sign; None for when their certificates were made, or `now` where there is none.
    """
    entries = {entry.record_key: entry for entry in before}
    for holder in holders:
        if holder.role is Office.FIRM:
            continue
        known = entries.get(holder.public_key)
        certificate = certificate_hash(holder.certificate) if holder.certificate else ""
        if known is not None:
            entries[holder.public_key] = known.model_copy(update={"certificate": known.certificate or certificate})
            continue
        begins = written_time(since or _made(holder) or now)
        entries[holder.public_key] = RosterEntry.model_validate(
            {
                "name": holder.name,
                "role": holder.role,
                "record_key": holder.public_key,
                "certificate": certificate,
                "from": begins,
            }
        )
        replaced = entries.get(holder.replaces)
        if replaced is not None and not replaced.until:
            entries[replaced.record_key] = replaced.model_copy(update={"until": begins})
    return tuple(sorted(entries.values(), key=RosterEntry.place))


def without(people: Sequence[RosterEntry], name: str, since: datetime, why: str) -> tuple[RosterEntry, ...]:
    """The same people, the keys of one of them revoked from a moment on. RosterProblem where there is nobody of the
    name whose key is still believed."""
    if not any(entry.name == name and not entry.revoked for entry in people):
        raise RosterProblem(message("record-roster-nobody", name=name))
    revoked = {"revoked": written_time(since), "why": " ".join(why.split())}
    return tuple(
        RosterEntry.model_validate(entry.model_dump() | revoked) if entry.name == name and not entry.revoked else entry
        for entry in people
    )


def _made(holder: KeyHolder) -> datetime | None:
    if not holder.certificate:
        return None
    # Whoever only checks does not wait for what reads certificates.
    from cryptography import x509

    return x509.load_der_x509_certificate(holder.certificate).not_valid_before_utc


# --- files ------------------------------------------------------------------------------------------------------------


def roster_for(data: Path, kind: DayKind) -> Path:
    """Where a tablet keeps the roster of whoever signs days of this kind. data: the tablet's own folder.

    >>> roster_for(Path("tablet"), "work").as_posix(), roster_for(Path("tablet"), "rehearsal").as_posix()
    ('tablet/roster.json', 'tablet/roster-for-practice.json')
    """
    return data / ("roster.json" if kind == "work" else "roster-for-practice.json")


def read_roster(data: bytes) -> Roster:
    """The roster in these bytes, which have to be in the one form in which it is written, and signed by whom they name.

    Errors: RosterProblem.
    """
    if len(data) > LARGEST_PROOF:
        raise RosterProblem(message("record-roster-large"))
    try:
        roster = Roster.model_validate_json(data)
    except ValidationError as error:
        first = error.errors()[0]
        what = f"{'.'.join(map(str, first['loc']))}: {first['type']}"
        raise RosterProblem(message("record-roster-none", what=what[:80])) from error
    # So a member that stands there twice is found, too.
    if roster.to_bytes() != data or list(roster.people) != sorted(roster.people, key=RosterEntry.place):
        raise RosterProblem(message("record-roster-form"))
    for keys in ([e.record_key for e in roster.people], [e.certificate for e in roster.people if e.certificate]):
        if len(set(keys)) < len(keys):
            raise RosterProblem(message("record-roster-key-twice"))
    if not is_signed(roster.statement(), roster.signed.public_key, roster.signature):
        raise RosterProblem(message("record-roster-signature", name=roster.signed.name))
    return roster


def load_roster(path: Path) -> Roster:
    """The roster in a file, as somebody was given it. RosterProblem when it cannot be read, or as `read_roster`."""
    try:
        data = read_regular(path, LARGEST_PROOF)
    except OSError as error:
        why = error.strerror or str(error)
        raise RosterProblem(message("record-roster-no-file", file=str(path), why=why)) from error
    return read_roster(data)


def write_roster(path: Path, roster: Roster) -> None:
    """Write a roster, whole or not at all. RosterProblem when the disk refuses."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with whole_file(path) as file:
            file.write(roster.to_bytes())
    except OSError as error:
        why = error.strerror or str(error)
        raise RosterProblem(message("record-roster-not-written", file=str(path), why=why)) from error
