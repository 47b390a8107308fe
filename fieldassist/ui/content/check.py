"""What is shown of a record that was checked: one of four states, what was found by what it is about, the head to be
compared, and what no check can prove. Nothing is judged here: that is done by `proof`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, get_args

from fieldassist.printable import printable
from fieldassist.proof.verdict import DAMAGED, UNREADABLE, UNSEALED, WHOLE, Finding, Judgment
from fieldassist.trade.message import Message, message

# The four states of a check; and a day that is no work, of which nothing is proof.
CheckState = Literal["holds", "open", "bad", "unread", "no-work"]
# What findings are about, as they stand on the page.
CheckSubject = Literal["record", "sense", "seals", "pages", "files", "time"]
SUBJECTS: tuple[CheckSubject, ...] = get_args(CheckSubject)
# Whether what was found about one of them holds, asks to be looked into or does not hold; absent: there is none of it.
CheckSubjectState = Literal["holds", "missing", "fails", "absent"]

_STATES: Mapping[int, CheckState] = {WHOLE: "holds", UNSEALED: "open", DAMAGED: "bad", UNREADABLE: "unread"}
# By how the codes of `proof` begin, the longest first. What is not among them is of the record itself.
_SUBJECTS: Mapping[str, CheckSubject] = {
    "sense": "sense",
    "lot": "sense",
    "trial": "sense",
    "seal": "seals",
    "look-into": "seals",
    "no-seal": "seals",
    "after-the-seal": "seals",
    "whose-key": "seals",
    "key": "seals",
    "pin": "seals",
    "method-by-pin": "seals",
    "released-by-pin": "seals",
    "releases-called": "seals",
    "roster": "seals",
    "vouch": "seals",
    "receipt": "seals",
    "pages": "pages",
    "page-strange": "files",
    "paper": "pages",
    "no-paper": "pages",
    "difference": "pages",
    "added": "pages",
    "another-version": "pages",
    "signature": "pages",
    "signed-by-another": "pages",
    "certificate": "pages",
    "attachment": "files",
    "file-not": "files",
    "files": "files",
    "continues": "time",
    "stamp": "time",
    "clock": "time",
    "date": "time",
    "tablet": "time",
    "set": "time",
}


def subject_of(code: str) -> CheckSubject:
    """What a finding of `proof` is about.

    >>> subject_of("proof-lots-good"), subject_of("proof-pages-same-bytes"), subject_of("proof-chain")
    ('sense', 'pages', 'record')
    """
    bare = code.removeprefix("proof-")
    begins = [begin for begin in _SUBJECTS if bare.startswith(begin)]
    return _SUBJECTS[max(begins, key=len)] if begins else "record"


@dataclass(frozen=True, slots=True)
class CheckedSubject:
    """What was found about one thing. told: that, in a few words."""

    subject: CheckSubject
    state: CheckSubjectState
    told: Message
    found: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class CheckShown:
    """What the page shows. told: the state, large; day: site and date, None where they are not known; head: in fours,
    empty where there is none; unproven: what stays to be trusted."""

    state: CheckState
    told: Message
    day: Message | None
    subjects: tuple[CheckedSubject, ...]
    head: tuple[str, ...]
    unproven: tuple[Message, ...]


def short_file(name: str) -> str:
    """A file's name where there is little room: its beginning and its end.

    >>> short_file("day.db"), short_file("2026-03-17-quay-baths-house-four-43f172.bundle")
    ('day.db', '2026-03-17-qu...43f172.bundle')
    """
    name = printable(name)
    return name if len(name) <= 30 else f"{name[:13]}...{name[-13:]}"


def together(files: Sequence[Path], judged: Sequence[Judgment], of_all: Judgment) -> Judgment:
    """What several files came to, as one: each file in a line, and then what their days say of each other."""
    each = tuple(
        Finding(message("check-one-of", file=short_file(file.name), state=_STATES[one.exit_code]), one.exit_code)
        for file, one in zip(files, judged, strict=False)
    )
    facts = {**of_all.facts, "files": len(files)}
    return Judgment((*each, *of_all.findings), of_all.verdict, of_all.exit_code, facts)


def shown(judgment: Judgment) -> CheckShown:
    """A check as the page shows it."""
    facts = judgment.facts
    state: CheckState = _STATES[judgment.exit_code]
    if state == "holds" and facts.get("day", "work") != "work":
        state = "no-work"
    head = str(facts.get("head", ""))
    day = None
    if "site" in facts:
        day = message("check-day", site=printable(facts["site"])[:60], date=printable(facts["date"])[:20])
    if "files" in facts:
        day = message("check-files", count=int(facts["files"]))
    return CheckShown(
        state,
        message("check-state", state=state),
        day,
        tuple(_subject(subject, judgment) for subject in SUBJECTS),
        tuple(head[at : at + 4] for at in range(0, len(head), 4)),
        tuple(_unproven(facts, judgment)),
    )


def _subject(subject: CheckSubject, judgment: Judgment) -> CheckedSubject:
    found = tuple(finding for finding in judgment.findings if subject_of(finding.told.code) == subject)
    bad = sum(finding.gravity in (DAMAGED, UNREADABLE) for finding in found)
    looked = sum(finding.gravity == UNSEALED for finding in found)
    if bad:
        return CheckedSubject(subject, "fails", message("check-not-good", count=bad), found)
    if looked:
        return CheckedSubject(subject, "missing", message("check-look", count=looked), found)
    told = _good(subject, judgment.facts) if found else None
    if told is None:
        return CheckedSubject(subject, "absent", message("check-none-of-it", subject=subject), found)
    return CheckedSubject(subject, "holds", told, found)


def _good(subject: CheckSubject, facts: Mapping[str, Any]) -> Message | None:
    """What holds, in a few words; None where there is nothing of it to hold."""
    if subject == "record":
        if "files" in facts:
            return message("check-files", count=int(facts["files"]))
        events = facts.get("good_events")
        return message("check-record-holds", events=int(events)) if events else None
    if subject == "seals":
        good = [seal for seal in facts.get("seals", ()) if seal["good"]]
        return message("check-sealed-by", name=printable(good[-1]["name"])[:30]) if good else None
    if subject == "files":
        files = facts.get("attachments") or {}
        return message("check-files-hold", count=int(files["whole"])) if files.get("whole") else None
    if subject == "pages":
        pages = facts.get("pages")
        return message("check-pages-hold", signed="yes" if pages == "signed" else "no") if pages is not None else None
    if subject == "time":
        return message("check-time-holds", stamped="yes" if _stamped(facts) else "no")
    return message("check-sense-holds")


def _stamped(facts: Mapping[str, Any]) -> bool:
    """Whether an authority that the reader knows says when the record was there."""
    return any(stamp["good"] and stamp["known"] for stamp in facts.get("stamps", ()))


def _unproven(facts: Mapping[str, Any], judgment: Judgment) -> Sequence[Message]:
    """What no check of this file can prove, most telling first."""
    if judgment.exit_code == UNREADABLE:
        return (message("check-unproven-all"),)
    found = [message("check-unproven-true")]
    roster: Mapping[str, Any] = facts.get("roster") or {}
    listed = bool(roster) and bool(facts.get("seals")) and not roster["doubts"]
    knows = listed or any(seal.get("key_matches") for seal in facts.get("seals", ()))
    found.append(message("check-unproven-held" if knows else "check-unproven-whose"))
    if roster:
        found.append(message("check-unproven-roster", firm=printable(roster["firm"])[:60], key=roster["fingerprint"]))
    found.append(message("check-unproven-end"))
    if not _stamped(facts):
        found.append(message("check-unproven-time"))
    if facts.get("kind") == "log":
        found.append(message("check-unproven-pages"))
    return found
