"""The seals of a record: what each covers, what came after the last, and whether the reader knows the key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import Any

from fieldassist.checklist.told import write_figure
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short, short_name
from fieldassist.record.chain import Chain
from fieldassist.record.keys import fingerprint, same_key
from fieldassist.record.seal import SealCheck, check_seals, unsealed_after
from fieldassist.trade.message import Figure


def check_sealing(chain: Chain, known: Known, found: Findings) -> None:
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


def _check_what_is_open(events: int, unsealed: int, found: Findings) -> None:
    found.facts["unsealed_events"] = unsealed
    if unsealed == events:
        found.say("no-seal", UNSEALED)
    elif unsealed:
        found.say("after-the-seal", UNSEALED, events=unsealed, first=str(events - unsealed + 1))


def _check_key(key: str | None, good: Sequence[SealCheck], found: Findings) -> None:
    found.facts["key"] = None if key is None else "no match"
    if key is None:
        if good:
            found.say("whose-key")
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


def _seal_fact(check: SealCheck, key: str | None) -> dict[str, Any]:
    fact = asdict(replace(check, why=None, warning=None)) | {"good": check.good}
    fact["key_matches"] = key and same_key(key, check.public_key)
    for name, told in (("why", check.why), ("warning", check.warning)):
        fact[name] = None if told is None else write_figure(told)
    return fact
