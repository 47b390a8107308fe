"""A roster vouches for a key in one role and for a time; another roster than the one that was signed is refused."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import rfc8785

from fieldassist.checklist.plan import Role
from fieldassist.record.keys import KeyHolder, KeyRole, Office, SigningKey
from fieldassist.record.roster import (
    Roster,
    RosterDoubt,
    RosterEntry,
    RosterProblem,
    load_roster,
    make_roster,
    read_roster,
    with_people,
    without,
    write_roster,
)

MORNING = datetime.fromisoformat("2026-03-17T07:00:00+01:00")
EVENING = datetime.fromisoformat("2026-03-17T16:00:00+01:00")


def key(name: str, role: KeyRole, *, practice: bool = False, replaces: str = "") -> SigningKey:
    seed = f"{name} {role.value} {replaces}".encode()[:32].ljust(32, b".")
    return SigningKey(name, role, seed, practice=practice, replaces=replaces)


def holder(key: SigningKey) -> KeyHolder:
    return KeyHolder(key.name, key.role, key.public_key, key.practice, key.replaces)


EDWIN, ROSA = key("edwin", Role.FOREMAN), key("rosa", Role.INSTALLER)
OWEN, INES, FIRM = key("owen", Role.OWNER), key("ines", Office.INSPECTOR), key("harbour tiling", Office.FIRM)


def people(*keys: SigningKey, since: datetime = MORNING) -> tuple[RosterEntry, ...]:
    return with_people((), [holder(one) for one in keys], since)


def roster(*keys: SigningKey, by: SigningKey = OWEN) -> Roster:
    return make_roster("Harbour Tiling", people(*(keys or (EDWIN, ROSA, OWEN, INES))), by, MORNING)


def doubt(found: RosterEntry | RosterDoubt) -> str:
    return found.code if isinstance(found, RosterDoubt) else "none"


# --- what is read ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("by", [OWEN, FIRM])
def test_a_roster_is_read_as_it_was_written(tmp_path: Path, by: SigningKey) -> None:
    made = roster(by=by)
    write_roster(tmp_path / "roster.json", made)
    assert load_roster(tmp_path / "roster.json") == made
    written = json.loads((tmp_path / "roster.json").read_bytes())
    assert [entry["name"] for entry in written["people"]] == ["edwin", "ines", "owen", "rosa"]
    assert set(written["people"][0]) == {"name", "role", "record_key", "from"}, "what is nothing is not written"


@pytest.mark.parametrize("by", [EDWIN, ROSA, INES])
def test_nobody_but_an_owner_or_a_firm_signs_one(by: SigningKey) -> None:
    with pytest.raises(RosterProblem, match="record-roster-signer"):
        roster(by=by)


def changed(change: Any, *, by: SigningKey | None = None) -> bytes:
    """A roster with something changed, signed anew by `by`, or not."""
    raw = json.loads(roster().to_bytes())
    change(raw)
    if by is not None:
        raw["signature"] = by.sign(rfc8785.dumps({k: v for k, v in raw.items() if k != "signature"})).hex()
    return rfc8785.dumps(raw)


def twice(raw: dict[str, Any]) -> None:
    """Edwin's key, once as foreman and once as owner."""
    raw["people"].insert(1, raw["people"][0] | {"role": "owner", "from": "2026-03-17T08:00:00+01:00"})


@pytest.mark.parametrize(
    ("change", "by", "why"),
    [
        (lambda raw: raw["people"][3].update(role="foreman"), None, "signature"),
        (lambda raw: raw.update(firm="Another Firm"), None, "signature"),
        (lambda raw: raw.update(made="2026-03-18T07:00:00+01:00"), None, "signature"),
        (lambda raw: raw["people"].pop(), None, "signature"),
        (lambda raw: raw.update(firm="Another Firm"), EDWIN, "signature"),
        (lambda raw: raw["people"].reverse(), OWEN, "form"),
        (twice, OWEN, "key-twice"),
        (lambda raw: raw["signed"].update(role="foreman"), OWEN, "none"),
        (lambda raw: raw["people"][0].update(role="firm"), OWEN, "none"),
        (lambda raw: raw["people"][0].update(extra=1), OWEN, "none"),
        (lambda raw: raw["people"][0].update({"from": "2026-03-17"}), OWEN, "none"),
        (lambda raw: raw["people"][0].update(to=""), OWEN, "form"),
        (lambda raw: raw["people"][0].update(name="Edwin"), OWEN, "form"),
    ],
)
def test_any_other_roster_is_refused(change: Any, by: SigningKey | None, why: str) -> None:
    with pytest.raises(RosterProblem, match=f"record-roster-{why}"):
        read_roster(changed(change, by=by))


def test_a_member_that_stands_twice_or_a_blank_more_is_found() -> None:
    good = roster().to_bytes()
    for bad in (
        good.replace(b'{"firm"', b'{"firm":"Another Firm","firm"'),
        good + b"\n",
        good.replace(b":1,", b":1.0,"),
    ):
        assert bad != good
        with pytest.raises(RosterProblem, match="record-roster-form"):
            read_roster(bad)


def test_no_changed_byte_of_a_roster_goes_unseen() -> None:
    good = roster().to_bytes()
    for place in range(len(good)):
        changed = bytearray(good)
        changed[place] ^= 1 << place % 8
        with pytest.raises(RosterProblem):
            read_roster(bytes(changed))


def test_a_roster_that_somebody_signs_with_a_key_of_their_own_names_that_key() -> None:
    forger = key("owen", Role.OWNER, replaces="mine")
    forged = read_roster(roster(by=forger).to_bytes())
    assert forged.signed.public_key != OWEN.public_key
    assert forged.fingerprint != roster().fingerprint


def test_no_bytes_are_read_as_a_roster_with_anything_but_a_sentence() -> None:
    for data in (b"", b"{}", b"[]", b"\xff", b'{"roster":1}', b"9" * 300_000, b"[" * 10_000, b'{"roster":1e999}'):
        with pytest.raises(RosterProblem):
            read_roster(data)


# --- whom it vouches for ----------------------------------------------------------------------------------------------


def test_a_key_signs_as_one_person_in_one_role_and_on_days_of_one_kind() -> None:
    known = roster()
    assert doubt(known.entry_for(EDWIN.public_key, "edwin", "foreman", EVENING)) == "none"
    assert doubt(known.entry_for(ROSA.public_key, "rosa", "foreman", EVENING)) == "other"
    assert doubt(known.entry_for(ROSA.public_key, "edwin", "installer", EVENING)) == "other"
    assert doubt(known.entry_for("ab" * 32, "edwin", "foreman", EVENING)) == "unknown"
    assert doubt(known.entry_for(EDWIN.public_key, "edwin", "foreman", EVENING, kind="rehearsal")) == "practice"
    practice = key("edwin", Role.FOREMAN, practice=True)
    trained = make_roster("Harbour Tiling", people(practice), key("owen", Role.OWNER, practice=True), MORNING)
    assert doubt(trained.entry_for(practice.public_key, "edwin", "foreman", EVENING)) == "practice"
    assert doubt(trained.entry_for(practice.public_key, "edwin", "foreman", EVENING, kind="practice")) == "none"


@pytest.mark.parametrize(
    ("at", "why"),
    [
        ("2026-03-17T06:59:59+01:00", "early"),
        ("2026-03-17T07:00:00+01:00", "none"),
        # The same two instants by another clock: their offsets count.
        ("2026-03-17T05:59:59+00:00", "early"),
        ("2026-03-17T15:00:00+09:00", "none"),
        ("2026-03-20T18:00:00+01:00", "none"),
        ("2026-03-20T18:00:01+01:00", "late"),
    ],
)
def test_a_key_signs_from_when_to_when(at: str, why: str) -> None:
    [edwin] = people(EDWIN)
    ended = edwin.model_copy(update={"until": "2026-03-20T18:00:00+01:00"})
    known = make_roster("Harbour Tiling", [ended], OWEN, MORNING)
    assert doubt(known.entry_for(EDWIN.public_key, "edwin", "foreman", datetime.fromisoformat(at))) == why


def test_what_a_revoked_key_signed_is_believed_only_where_a_trusted_time_is_older() -> None:
    known = make_roster(
        "Harbour Tiling", without(people(EDWIN, ROSA), "edwin", EVENING, "tablet stolen"), OWEN, EVENING
    )
    before, later = EVENING - timedelta(hours=1), EVENING + timedelta(seconds=1)
    for at in (before, later):
        assert doubt(known.entry_for(EDWIN.public_key, "edwin", "foreman", at)) == "revoked"
        assert doubt(known.entry_for(EDWIN.public_key, "edwin", "foreman", at, proven=[later, EVENING])) == "revoked"
    assert doubt(known.entry_for(EDWIN.public_key, "edwin", "foreman", before, proven=[later, before])) == "none"
    assert doubt(known.entry_for(ROSA.public_key, "rosa", "installer", later)) == "none"
    assert read_roster(known.to_bytes()).people[0].why == "tablet stolen"


# --- how it goes on ---------------------------------------------------------------------------------------------------


def test_who_came_later_begins_later_and_a_key_that_was_replaced_ends() -> None:
    new = key("edwin", Role.FOREMAN, replaces=EDWIN.public_key)
    tomorrow = MORNING + timedelta(days=1)
    grown = with_people(people(EDWIN), [holder(new), holder(ROSA), holder(FIRM)], tomorrow)
    assert [(e.name, e.since, e.until) for e in grown] == [
        ("edwin", "2026-03-17T07:00:00+01:00", "2026-03-18T07:00:00+01:00"),
        ("edwin", "2026-03-18T07:00:00+01:00", ""),
        ("rosa", "2026-03-18T07:00:00+01:00", ""),
    ], "a firm signs rosters and stands in none"
    assert with_people(grown, [holder(new)], tomorrow + timedelta(days=1)) == grown, "who is not here any more stays"


def test_a_key_signs_from_when_its_certificate_was_made() -> None:
    certified = EDWIN.with_certificate(MORNING)
    made = KeyHolder("edwin", Role.FOREMAN, EDWIN.public_key, certificate=certified.certificate)
    [entry] = with_people((), [made], EVENING)
    assert datetime.fromisoformat(entry.since) == MORNING
    assert len(entry.certificate) == 64
    [earlier] = with_people((), [made], EVENING, since=MORNING - timedelta(days=9))
    assert earlier.since == "2026-03-08T07:00:00+01:00"


def test_only_who_stands_in_it_is_revoked_and_once() -> None:
    gone = without(people(EDWIN), "edwin", EVENING, "left")
    for entries, name in ((gone, "edwin"), (people(EDWIN), "rosa")):
        with pytest.raises(RosterProblem, match="record-roster-nobody"):
            without(entries, name, EVENING, "")
