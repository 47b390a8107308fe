"""Several days that were handed over together: whether days of a tablet are missing, older copies, or there twice.

Each opening of a day holds its number on the tablet and the heads of the days before (`checklist.tablet_chain`). So a
later day tells of an earlier one: how many events it had at least, and the hash that its chain had there.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.tablet_chain import DayHead, TabletChain
from fieldassist.proof.handed import HandedDay
from fieldassist.proof.verdict import DAMAGED, UNREADABLE, UNSEALED, WHOLE, Findings, Judgment, short_name
from fieldassist.trade.message import Several, message

_MOST_NAMED = 20
# Of several files the gravest tells: damaged before unreadable, since that hides nothing.
_GRAVEST = (DAMAGED, UNREADABLE, UNSEALED, WHOLE)
_LAST = {
    WHOLE: message("proof-set-whole"),
    UNSEALED: message("proof-set-open"),
    UNREADABLE: message("proof-set-unread"),
    DAMAGED: message("proof-set-damaged"),
}


# --- one day --------------------------------------------------------------------------------------------------------


def check_tablet(opened: DayOpened, found: Findings) -> None:
    """Tell which of its tablet's days this one is, and what it says of those before."""
    tablet = opened.tablet
    found.facts["tablet"] = None if tablet is None else tablet.model_dump(mode="json")
    if tablet is None:
        return
    before = next((day for day in tablet.announces if day.number == tablet.number - 1 > 0), None)
    if not _makes_sense(tablet, before):
        found.say("tablet-nonsense", DAMAGED, number=str(tablet.number))
        return
    if before is None:
        found.say("tablet-first", tablet=tablet.tablet)
    else:
        found.say("tablet-day", tablet=tablet.tablet, number=str(tablet.number), **_said(before))
    if tablet.book in ("lost", "damaged"):
        found.say("tablet-book", UNSEALED, book=tablet.book)
    for day in [one for one in tablet.announces if one is not before][:_MOST_NAMED]:
        found.say("tablet-announces", number=day.number, **_said(day))


def _makes_sense(tablet: TabletChain, before: DayHead | None) -> bool:
    numbers = [day.number for day in tablet.announces if day.number]
    once = len(set(numbers)) == len(numbers) and all(number < tablet.number for number in numbers)
    return once and (before is not None) == (tablet.number > 1)


def _said(day: DayHead) -> dict[str, str]:
    return {"date": short_name(day.date), "events": str(day.events), "head": day.head}


# --- several days ---------------------------------------------------------------------------------------------------


def judge_set(judged: Sequence[Judgment]) -> Judgment:
    """What the days of several files come to together; its exit code is the gravest of all."""
    found = Findings()
    days = [one.day for one in judged if one.day is not None]
    tablets: dict[str, list[HandedDay]] = {}
    for day in days:
        if day.tablet is not None:
            tablets.setdefault(day.tablet.tablet, []).append(day)
    found.facts["tablets"] = {}
    for name, group in tablets.items():
        _check_tablet_of(name, group, found)
    _check_twice(days, found)
    for day in days:
        _check_announced(day, days, found)
    for day in days:
        _tell_going_on(day, days, found)
    bare = [day.file for day in days if day.tablet is None]
    if bare:
        found.say("set-unnumbered", files=Several(tuple(bare[:_MOST_NAMED])), count=len(bare))
    if len(tablets) > 1:
        found.say("set-tablets", UNSEALED, tablets=Several(tuple(tablets)), count=len(tablets))
    codes = {found.code, *(one.exit_code for one in judged)}
    gravest = next(code for code in _GRAVEST if code in codes)
    return Judgment(tuple(found.found), _LAST[gravest], gravest, {**found.facts, "exit_code": gravest})


def _check_tablet_of(name: str, group: Sequence[HandedDay], found: Findings) -> None:
    """Which numbers of one tablet are there, and which between them are not."""
    chains = [day.tablet for day in group if day.tablet is not None]
    numbers = sorted({chain.number for chain in chains})
    told: dict[int, DayHead] = {}
    for chain in sorted(chains, key=lambda chain: chain.number):
        told |= {day.number: day for day in chain.announces}
    missing = [number for number in range(numbers[0], numbers[-1]) if number not in numbers]
    found.facts["tablets"][name] = {"days": numbers, "missing": missing[:1000]}
    found.say("set-days", tablet=name, days=Several(tuple(map(str, numbers[:_MOST_NAMED])), "and"), count=len(numbers))
    for number in missing[:_MOST_NAMED]:
        if number in told:
            found.say("set-gap", UNSEALED, number=str(number), tablet=name, **_said(told[number]))
        else:
            found.say("set-gap-unknown", UNSEALED, number=str(number), tablet=name)
    if len(missing) > _MOST_NAMED:
        found.say("set-gaps-more", UNSEALED, count=len(missing) - _MOST_NAMED, tablet=name)


def _check_twice(days: Sequence[HandedDay], found: Findings) -> None:
    """Two files of one day: the same, one an older copy of the other, or two records that went apart."""
    for one, other in combinations(days, 2):
        same_number = (
            one.tablet is not None
            and other.tablet is not None
            and (one.tablet.tablet, one.tablet.number) == (other.tablet.tablet, other.tablet.number)
        )
        if one.hashes[0] != other.hashes[0]:
            if same_number:
                found.say("set-fork", DAMAGED, file=one.file, other=other.file, event="1")
            continue
        pairs = enumerate(zip(one.hashes, other.hashes, strict=False), start=1)
        apart = next((at for at, (here, there) in pairs if here != there), 0)
        if apart:
            found.say("set-fork", DAMAGED, file=one.file, other=other.file, event=str(apart))
        elif len(one.hashes) != len(other.hashes):
            older, newer = sorted((one, other), key=lambda day: len(day.hashes))
            lacks = len(newer.hashes) - len(older.hashes)
            found.say("set-older-than", UNSEALED, file=older.file, other=newer.file, lacks=lacks)


def _check_announced(by: HandedDay, days: Sequence[HandedDay], found: Findings) -> None:
    """Whether the days that an opening announces are those that were handed over."""
    if by.tablet is None:
        return
    for said in by.tablet.announces:
        for day in days:
            numbered = (
                said.number > 0
                and day.tablet is not None
                and (day.tablet.tablet, day.tablet.number) == (by.tablet.tablet, said.number)
            )
            if not numbered and day.hashes[0] != said.first:
                continue
            if day.holds(said.events, said.head) and day.hashes[0] == said.first:
                continue
            if day.hashes[0] == said.first and len(day.hashes) < said.events:
                lacks = said.events - len(day.hashes)
                found.say("set-older", UNSEALED, file=day.file, other=by.file, lacks=lacks, head=said.head)
            else:
                found.say("set-not-as-announced", DAMAGED, file=day.file, other=by.file, **_said(said))


def _tell_going_on(day: HandedDay, days: Sequence[HandedDay], found: Findings) -> None:
    for events, head in day.goes_on_from:
        before = next((one for one in days if one.holds(events, head)), None)
        if before is not None:
            found.say("set-continued", WHOLE, file=day.file, other=before.file)


def nothing_in(folder: str) -> Judgment:
    """A folder in which there is no file that can be checked."""
    found = Findings()
    found.say("folder-empty", UNREADABLE, folder=folder)
    return found.verdict()
