"""The seals of a record: what each covers, what came after the last, and whether the reader knows the key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any

from fieldassist.checklist.told import write_figure
from fieldassist.proof.beside import Witness
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short, short_name
from fieldassist.proof.vouching import tell_doubt, tell_roster, vouched
from fieldassist.record.chain import Chain
from fieldassist.record.keys import fingerprint, same_key
from fieldassist.record.roster import RosterDoubt
from fieldassist.record.seal import SealCheck, check_seals, unsealed_after
from fieldassist.trade.message import Figure


def check_sealing(chain: Chain, known: Known, witnesses: Sequence[Witness], found: Findings) -> None:
    """What became of the seals of a chain."""
    key = known.key
    checks = check_seals(chain.events, chain.hashes)
    found.facts["seals"] = [_seal_fact(check, key) for check in checks]
    for check in checks:
        who: dict[str, Figure] = {"part": check.part, "name": short_name(check.name), "role": check.role.value}
        if check.why is not None:
            found.say("seal-not-good", DAMAGED, event=str(check.seq), why=short(check.why), **who)
            continue
        covers, at = str(check.covers), short_name(check.signed_at)
        found.say("sealed", covers=covers, at=at, key=check.fingerprint, **who)
        if check.warning is not None:
            found.say("look-into", UNSEALED, warning=short(check.warning))
    good = [check for check in checks if check.good]
    if chain.bad is None:
        _check_what_is_open(len(chain.events), unsealed_after(chain.events, chain.hashes), found)
    _check_key(key, good, found)
    if known.roster is not None:
        _check_roster(known, chain, good, witnesses, found)
    elif key is None and good:
        found.say("whose-key", UNSEALED)


def _check_what_is_open(events: int, unsealed: int, found: Findings) -> None:
    found.facts["unsealed_events"] = unsealed
    if unsealed == events:
        found.say("no-seal", UNSEALED)
    elif unsealed:
        found.say("after-the-seal", UNSEALED, events=unsealed, first=str(events - unsealed + 1))


def _check_key(key: str | None, good: Sequence[SealCheck], found: Findings) -> None:
    found.facts["key"] = None if key is None else "no match"
    if key is None:
        return
    given = fingerprint(key) if len(key) == 64 else " ".join(key[i : i + 4] for i in range(0, 32, 4))
    matching = [check for check in good if same_key(key, check.public_key)]
    if not matching:
        found.say("key-made-none", UNSEALED, key=given)
    elif matching[-1] != good[-1]:
        found.facts["key"] = "earlier part"
        found.say("key-made-earlier", UNSEALED, key=given, covers=str(matching[-1].covers))
    else:
        found.facts["key"] = "match"
        found.say("key-made-last", key=given)


def _check_roster(
    known: Known, chain: Chain, good: Sequence[SealCheck], witnesses: Sequence[Witness], found: Findings
) -> None:
    """Whether the reader's roster vouches for each good seal."""
    roster = known.roster
    assert roster is not None
    doubts = []
    tell_roster(roster, good[-1].signed_at if good else "", found)
    told: set[str] = set()
    for check in good:
        entry = vouched(roster, chain, witnesses, check, check.signed_at)
        if isinstance(entry, RosterDoubt):
            doubts.append(entry.code)
            if not (entry.code == "unknown" and known.key is not None and same_key(known.key, check.public_key)):
                tell_doubt(entry, check, found)
            continue
        if entry.certificate and check.certificate and entry.certificate != check.certificate:
            found.say("vouch-certificate", UNSEALED, event=str(check.seq), name=short_name(check.name))
        if check.public_key not in told:
            told.add(check.public_key)
            found.say("vouched", name=short_name(check.name), role=check.role.value, key=check.fingerprint)
    found.facts["roster"] = {
        "firm": roster.firm,
        "made": roster.made,
        "signed_by": roster.signed.name,
        "fingerprint": roster.fingerprint,
        "doubts": doubts,
    }


def _seal_fact(check: SealCheck, key: str | None) -> dict[str, Any]:
    fact = asdict(replace(check, why=None, warning=None)) | {"good": check.good, "role": check.role.value}
    fact["key_matches"] = key and same_key(key, check.public_key)
    for name, told in (("why", check.why), ("warning", check.warning)):
        fact[name] = None if told is None else write_figure(told)
    return fact
