"""Hold points and methods said to be released by PIN: whose key stands behind each, and which are nobody's."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldassist.checklist.events import HoldReleased, KeyReplaced, MethodReleased
from fieldassist.checklist.standing import standing
from fieldassist.checklist.told import write_figure
from fieldassist.proof.beside import Witness
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short, short_name
from fieldassist.proof.vouching import tell_doubt, vouched
from fieldassist.record.chain import Chain
from fieldassist.record.roster import Roster, RosterDoubt
from fieldassist.record.seal import ReleaseCheck, check_releases, check_seals
from fieldassist.trade.message import Figure, Several

# More events than this are not named one by one.
_MOST_NAMED = 20


def check_pins(chain: Chain, known: Known, witnesses: Sequence[Witness], found: Findings) -> None:
    """Each signature by PIN below the seals is checked; what was only called out is told as that."""
    checks = check_releases(chain.events, chain.hashes)
    released = [event for event in standing(chain.events).bodies(HoldReleased) if isinstance(event.body, HoldReleased)]
    answered = {check.seq for check in checks if check.good and not check.confirms}
    answered |= {seq for check in checks if check.good for seq in check.confirms}
    nobodys = [event.seq for event in released if event.seq not in answered]
    found.facts["releases"] = {
        "by_pin": [_fact(check) for check in checks],
        "released": len(released),
        "not_confirmed": nobodys,
    }
    for check in checks:
        if check.why is not None:
            found.say("pin-not-good", DAMAGED, event=str(check.seq), name=short_name(check.name), why=short(check.why))
        elif check.warning is not None:
            found.say("pin-look-into", UNSEALED, event=str(check.seq), warning=short(check.warning))
    if known.roster is not None:
        _check_roster([check for check in checks if check.good], chain, known.roster, witnesses, found)
    methods = {event.seq: event.body for event in chain.events if isinstance(event.body, MethodReleased)}
    _tell_keys(chain, [check for check in checks if check.good and check.seq not in methods], found)
    for check in checks:
        if check.good and check.seq in methods:
            found.say(
                "method-by-pin",
                name=short_name(check.name),
                letter=methods[check.seq].letter,
                areas=Several(tuple(short_name(area) for area in methods[check.seq].areas[:_MOST_NAMED]), "and"),
                event=str(check.seq),
                key=check.fingerprint,
            )
    if nobodys:
        found.say("releases-called", count=len(nobodys), events=_events(nobodys))
    for event in chain.events:
        if isinstance(event.body, KeyReplaced):
            found.say("key-replaced", event=str(event.seq), name=short_name(event.body.name))


def _check_roster(
    good: Sequence[ReleaseCheck], chain: Chain, roster: Roster, witnesses: Sequence[Witness], found: Findings
) -> None:
    """Whether the reader's roster vouches for the keys that released: each doubt of a key is told once."""
    told: set[tuple[str, str]] = set()
    for check in good:
        entry = vouched(roster, chain, witnesses, check, chain.events[check.seq - 1].at.wall)
        if isinstance(entry, RosterDoubt) and (check.public_key, entry.code) not in told:
            told.add((check.public_key, entry.code))
            tell_doubt(entry, check, found)


def _tell_keys(chain: Chain, good: Sequence[ReleaseCheck], found: Findings) -> None:
    """Of each person who gave a PIN, what it stands behind, and whether the same key seals."""
    sealing = {seal.public_key for seal in check_seals(chain.events, chain.hashes) if seal.good}
    for key in dict.fromkeys((check.name, check.role, check.public_key) for check in good):
        his = [check for check in good if (check.name, check.role, check.public_key) == key]
        events = sorted({seq for check in his for seq in (check.confirms or (check.seq,))})
        found.say(
            "released-by-pin",
            name=short_name(key[0]),
            role=key[1].value,
            count=len(events),
            events=_events(events),
            key=his[0].fingerprint,
            seals="yes" if key[2] in sealing else "no",
        )


def _events(numbers: Sequence[int]) -> Figure:
    return Several(tuple(str(number) for number in numbers[:_MOST_NAMED]))


def _fact(check: ReleaseCheck) -> dict[str, Any]:
    return {
        "event": check.seq,
        "name": check.name,
        "role": check.role.value,
        "confirms": list(check.confirms),
        "fingerprint": check.fingerprint,
        "good": check.good,
        "why": None if check.why is None else write_figure(check.why),
        "warning": None if check.warning is None else write_figure(check.warning),
    }
