"""What a check came to: findings in order, and how grave the gravest is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from fieldassist.proof.handed import HandedDay
from fieldassist.trade.message import Figure, Message, Several, message

WHOLE, DAMAGED, UNREADABLE, UNSEALED = 0, 1, 2, 3
_GRAVITY = {WHOLE: 0, UNSEALED: 1, DAMAGED: 2, UNREADABLE: 3}
_LAST = {
    WHOLE: message("proof-whole"),
    UNSEALED: message("proof-unsealed"),
    DAMAGED: message("proof-damaged"),
    UNREADABLE: message("proof-unread"),
}


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was found. gravity: the exit code to which it alone comes, `WHOLE` where it is as it should be."""

    told: Message
    gravity: int = WHOLE


@dataclass(frozen=True, slots=True)
class Judgment:
    """What the check came to. findings: one by one; verdict: what they come to, in a sentence; facts: the same for a
    program; exit_code: as `proof.verify` tells them; day: to hold it against others, None where there is none. Names
    may come from a file made to do harm: whoever shows them makes them printable.
    """

    findings: tuple[Finding, ...]
    verdict: Message
    exit_code: int
    facts: dict[str, Any]
    day: HandedDay | None = None

    @property
    def told(self) -> tuple[Message, ...]:
        """Finding by finding, the verdict last."""
        return (*(finding.told for finding in self.findings), self.verdict)

    @property
    def ok(self) -> bool:
        """Whole, sealed to the last event, and pages that agree."""
        return self.exit_code == WHOLE


def short_name(text: str) -> str:
    """A name, cut where it is longer than any of ours."""
    return text if len(text) <= 120 else f"{text[:120]} ..."


def short(told: Message) -> Message:
    """The same with no name in it that is longer than any of ours: it may come from a file made to do harm."""

    def shortened(figure: Figure) -> Figure:
        if isinstance(figure, str):
            return short_name(figure)
        if isinstance(figure, Message):
            return short(figure)
        if isinstance(figure, Several):
            return Several(tuple(shortened(item) for item in figure.items[:5]), figure.link)
        return figure

    return Message(told.code, {name: shortened(figure) for name, figure in told.figures.items()})


def some(things: Sequence[Message | str]) -> Message:
    """The first few of many, and how many more there are."""
    shown: list[Figure] = [short(one) if isinstance(one, Message) else short_name(one) for one in things[:5]]
    return message("proof-some", first=Several(tuple(shown)), more=len(things) - len(shown))


@dataclass(slots=True)
class Findings:
    """What was found so far. watched: called with each finding as it is found; pages_open: nobody vouches for what the
    pages show, although the record is whole."""

    found: list[Finding] = field(default_factory=list)
    facts: dict[str, Any] = field(default_factory=dict)
    code: int = WHOLE
    marked: bool = False
    pages_open: bool = False
    day: HandedDay | None = None
    watched: Callable[[Finding], None] | None = None

    @property
    def told(self) -> list[Message]:
        """What is told of it."""
        return [finding.told for finding in self.found]

    def say(self, code: str, gravity: int = WHOLE, /, **figures: Figure) -> None:
        """Add the finding "proof-CODE"."""
        self._add(len(self.found), Finding(message(f"proof-{code}", **figures), gravity))
        if _GRAVITY[gravity] > _GRAVITY[self.code]:
            self.code = gravity

    def mark(self, kind: Literal["practice", "rehearsal"]) -> None:
        """The day is no work: said before everything else, and once more with the verdict."""
        self._add(0, Finding(message(f"proof-is-{kind}")))
        self.marked = True

    def _add(self, at: int, finding: Finding) -> None:
        self.found.insert(at, finding)
        if self.watched is not None:
            self.watched(finding)

    def verdict(self) -> Judgment:
        """All of it, with the verdict."""
        last = message("proof-whole-no-proof") if self.marked and self.code == WHOLE else _LAST[self.code]
        if self.pages_open and self.code == UNSEALED:
            last = message("proof-pages-open")
        if self.code == UNSEALED and any(one.told.code == "proof-whose-key" for one in self.found):
            last = message("proof-unvouched")
        return Judgment(tuple(self.found), last, self.code, {**self.facts, "exit_code": self.code}, self.day)


def gave_up(why: Message) -> Judgment:
    """Nothing is known of the file."""
    found = Findings()
    found.say("gave-up", UNREADABLE, why=why)
    return found.verdict()
