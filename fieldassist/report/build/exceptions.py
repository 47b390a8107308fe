"""What stands out of a day's sequence, a line each, from its facts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fieldassist.checklist.told import read_figure
from fieldassist.facts.model import DayFacts, EntryFact, ToldFact, WithdrawnFact
from fieldassist.language import Words
from fieldassist.report.appendix_model import AppendixRow
from fieldassist.report.build.dates import time_told
from fieldassist.trade.message import Figure, Message, Several, message, term

# Of one kind in one area the first few are told, the others counted. Ours, common practice, no published source.
_OF_A_KIND = 6
# What nothing went wrong by: two of them show what there is.
_SLIGHT = frozenset({"photo left out", "reading left out", "setter changed", "section closed"})
_OF_SLIGHT = 3
# What is told one by one however often it came: whoever looks for it wants every time.
_EACH = frozenset({"failure opened", "pin refused", "key replaced", "day recovered", "clock jumped", "day signed"})
# What is told shorter here than in a list of all events, behind the letter of its area.
_SHORT = frozenset(
    {
        "area started",
        "area finished",
        "section closed",
        "setter changed",
        "hold released",
        "photo left out",
        "reading left out",
        "failure opened",
        "failure closed",
        "still failing",
    }
)
_STRONG = frozenset({"failure opened", "still failing", "pin refused", "release struck", "day recovered"})


@dataclass(frozen=True, slots=True)
class _Line:
    at: str
    event: int
    row: AppendixRow


def area_letters(facts: DayFacts) -> Mapping[str, str]:
    """A short name of each area: its first letter where no other begins so, else its number.

    The same areas have the same letters in every language: they are names that the crew gave.
    """
    first = Counter(area.name[:1].upper() for area in facts.areas)
    return {
        area.name: letter if (letter := area.name[:1].upper()).isalpha() and first[letter] == 1 else str(number)
        for number, area in enumerate(facts.areas, start=1)
    }


class ExceptionsTeller:
    """Tells lines of one day; areas are told by their letters."""

    def __init__(self, facts: DayFacts, words: Words) -> None:
        self._facts, self._words = facts, words
        self.letters = area_letters(facts)

    def rows(self) -> tuple[AppendixRow, ...]:
        """Everything that stands out, in order."""
        lines = [*self._entries(), *self._breaks()]
        return tuple(line.row for line in sorted(lines, key=lambda line: (line.event, line.at)))

    def short(self, told: ToldFact) -> str:
        """What is told, with the letter of its area in the place of the name."""
        if told.figures.get("area") not in self.letters:
            return told.text
        return self._words(Message(told.code, self._figures(told)))

    def _figures(self, told: ToldFact) -> Mapping[str, Figure]:
        figures = {name: read_figure(figure) for name, figure in told.figures.items()}
        area = figures.get("area")
        return {**figures, "area": self.letters[area]} if isinstance(area, str) and area in self.letters else figures

    def time(self, wall: str) -> str:
        """Hours and minutes, with the date where it is not the day's."""
        return self._words(time_told(wall, self._facts.date))

    def _entries(self) -> Iterator[_Line]:
        taken_back = {one.event: one for one in self._facts.withdrawn}
        entries = [one for one in self._facts.sequence if one.stands_out]
        counts = Counter((one.area, one.kind) for one in entries)
        seen: Counter[tuple[str, str]] = Counter()
        for entry in entries:
            key = entry.area, entry.kind
            seen[key] += 1
            most = _OF_SLIGHT if entry.kind in _SLIGHT else _OF_A_KIND
            folds = entry.kind not in _EACH and counts[key] > most
            if folds and seen[key] == most:
                yield self._more(entry, counts[key] - most + 1)
            elif not folds or seen[key] < most:
                yield self._line(entry, taken_back.get(entry.event))

    def _line(self, entry: EntryFact, taken_back: WithdrawnFact | None) -> _Line:
        told, lead = self._told(entry, taken_back), ""
        if entry.no_longer is not None:
            told = self._words(message("appendix-no-longer", told=told, event=entry.no_longer))
        if entry.kind in _STRONG:
            lead = self._words(term("appendix-lead", entry.kind))
        return _Line(entry.at, entry.event, AppendixRow(self.time(entry.at), told, lead=lead))

    def _told(self, entry: EntryFact, taken_back: WithdrawnFact | None) -> str:
        if taken_back is not None:
            return self._words(self._withdrawn(taken_back))
        if entry.kind in _SHORT:
            return self._words(Message(f"appendix-entry-{entry.kind.replace(' ', '-')}", self._figures(entry.told)))
        return self.short(entry.told)

    def _withdrawn(self, one: WithdrawnFact) -> Message:
        return message(
            "appendix-taken-back",
            told=self.short(one.told),
            said=self.time(one.said),
            reason=one.reason.replace(" ", "-"),
            fell=Several(tuple(self.short(told) for told in one.fell), "clauses"),
            count=len(one.fell),
        )

    def _more(self, entry: EntryFact, count: int) -> _Line:
        told = message("appendix-more-like-it", area=self.letters.get(entry.area, ""), count=count, kind=entry.kind)
        return _Line(entry.at, entry.event, AppendixRow(self.time(entry.at), self._words(told)))

    def _breaks(self) -> Iterator[_Line]:
        for one in self._facts.time_breaks:
            yield _Line(one.at, one.after, AppendixRow(self.time(one.at), one.told.text))
