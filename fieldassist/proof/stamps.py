"""The time stamps that came with a record: each is held against the root that the reader has from elsewhere."""

from __future__ import annotations

from datetime import datetime, timedelta

from fieldassist.checklist.told import write_figure
from fieldassist.proof.beside import CameWith, Witness
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short, short_name
from fieldassist.record.chain import Chain

# A tablet's clock may be off by so much before its times are doubted. Ours.
_CLOCK_OFF = timedelta(minutes=5)


def check_stamps(chain: Chain, came: CameWith, known: Known, found: Findings) -> tuple[Witness, ...]:
    """Tell each stamp; those of the authority whose root the reader gave witness. One that is damaged, or about another
    record than this, is as bad as a broken seal."""
    if not came.stamps:
        return ()
    # It loads a library that no other record needs.
    from fieldassist.record.stamp import OfAnotherAuthority, StampProblem, check_stamp, covered, read_stamp

    witnesses: list[Witness] = []
    facts = []
    for file, data in came.stamps:
        fact: dict[str, object] = {"file": file, "good": False, "known": False, "why": None}
        facts.append(fact)
        try:
            stamp = read_stamp(data)
            events = covered(stamp, chain.hashes)
            fact |= {"at": stamp.at.isoformat(), "authority": stamp.authority, "events": events, "good": True}
            if known.root is not None:
                check_stamp(data, known.root)
                fact["known"] = True
                witnesses.append(Witness(events, stamp.at))
            found.say(
                "stamp",
                at=f"{stamp.at:%Y-%m-%d %H:%M:%S} UTC",
                authority=short_name(stamp.authority),
                events=str(events),
                known="yes" if known.root is not None else "no",
            )
            _tell_clock(chain.events[events - 1].at.wall, stamp.at, events, found)
        except OfAnotherAuthority as problem:
            fact["why"] = write_figure(problem.told)
            found.say("stamp-not-known", UNSEALED, file=short_name(file), why=short(problem.told))
        except StampProblem as problem:
            fact |= {"good": False, "why": write_figure(problem.told)}
            found.say("stamp-not-good", DAMAGED, file=short_name(file), why=short(problem.told))
    found.facts["stamps"] = facts
    return tuple(witnesses)


def _tell_clock(wall: str, stamped: datetime, events: int, found: Findings) -> None:
    """A record cannot be stamped before it is made: the tablet's clock was ahead then."""
    if datetime.fromisoformat(wall) - stamped > _CLOCK_OFF:
        found.say("stamp-before", UNSEALED, event=str(events), wall=wall)
