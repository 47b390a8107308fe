"""What stands out of a day's sequence, a line each, from its facts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from fieldassist.checklist.told import MOST_IN_A_FIGURE, read_figure
from fieldassist.facts.model import DayFacts, EntryFact, ToldFact, WithdrawnFact
from fieldassist.language import Words
from fieldassist.record.manifest import SEQUENCE_CSV
from fieldassist.report.appendix_model import AppendixRow
from fieldassist.report.build.dates import short_day_told, time_told
from fieldassist.report.build.figures import on_page
from fieldassist.trade.message import Figure, Message, Several, message, term

# Of one kind in one area the first few are told, the others counted. Ours, common practice, no published source.
_OF_A_KIND = 6
# What nothing went wrong by: two of them show what there is.
_SLIGHT = frozenset({"photo left out", "reading left out", "setter changed", "section closed"})
_OF_SLIGHT = 3
# What is told one by one however often it came: whoever looks for it wants every time. So is a failure that is open.
_EACH = frozenset({"pin refused", "key replaced", "day recovered", "clock jumped", "day signed"})
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
        "day signed",
    }
)
_STRONG = frozenset({"failure opened", "still failing", "pin refused", "release struck", "day recovered"})


@dataclass(frozen=True, slots=True)
class _Line:
    at: str
    event: int
    row: AppendixRow


def area_letters(facts: DayFacts) -> Mapping[str, str]:
    """A short name of each area: its first letter where that is a Latin one and no other begins so, else its number.

    The same areas have the same letters in every language: they are names that the crew gave.
    """
    first = Counter(area.name[:1].upper() for area in facts.areas)
    return {
        area.name: letter if _is_latin(letter := area.name[:1].upper()) and first[letter] == 1 else str(number)
        for number, area in enumerate(facts.areas, start=1)
    }


def _is_latin(letter: str) -> bool:
    """Whether it is of Basic Latin to Latin Extended-B (Unicode), which every page can print."""
    return letter.isalpha() and letter < "\u0250"


def _is_long(told: ToldFact) -> bool:
    """Whether it names more than a message may: then it stands as it was told."""
    return any(
        isinstance(one, dict) and len(one.get("several", ())) > MOST_IN_A_FIGURE for one in told.figures.values()
    )


def _alike(entry: EntryFact) -> tuple[str, str]:
    return entry.area, entry.kind


class ExceptionsTeller:
    """Tells lines of one day; areas are told by their letters."""

    def __init__(self, facts: DayFacts, words: Words) -> None:
        self._facts, self._words = facts, words
        self.letters = area_letters(facts)

    def rows(self) -> tuple[AppendixRow, ...]:
        """Everything that stands out, in order."""
        lines = sorted((*self._entries(), *self._breaks()), key=lambda line: (line.event, line.at))
        return self.dated((line.at, line.row) for line in lines)

    def dated(self, rows: Iterable[tuple[str, AppendixRow]]) -> tuple[AppendixRow, ...]:
        """Rows at their times, each labelled with hours and minutes; another date than the day's stands between."""
        found, date = [], self._facts.date
        for at, row in rows:
            if at[:10] != date:
                date = at[:10]
                found.append(AppendixRow("", "", lead=self._words(short_day_told(date))))
            found.append(replace(row, label=at[11:16]))
        return tuple(found)

    def short(self, told: ToldFact) -> str:
        """What is told, with the letter of its area in the place of the name."""
        if told.figures.get("area") not in self.letters or _is_long(told):
            return told.text
        return self._words(Message(told.code, self._figures(told)))

    def _figures(self, told: ToldFact) -> Mapping[str, Figure]:
        """Its figures, with the letter of its area. Points that were open then stand on the pages before this one."""
        figures = {
            name: on_page(read_figure(figure), self._words) for name, figure in told.figures.items() if name != "points"
        }
        area = figures.get("area")
        return {**figures, "area": self.letters[area]} if isinstance(area, str) and area in self.letters else figures

    def time(self, wall: str) -> str:
        """Hours and minutes, with the date where it is not the day's."""
        return self._words(time_told(wall, self._facts.date))

    def _entries(self) -> Iterator[_Line]:
        taken_back = {one.event: one for one in self._facts.withdrawn}
        entries = [one for one in self._facts.sequence if one.stands_out]
        folds = self._may_fold(entries)
        counts = Counter(_alike(one) for one in entries if one.event in folds)
        seen: Counter[tuple[str, str]] = Counter()
        for entry in entries:
            most = _OF_SLIGHT if entry.kind in _SLIGHT else _OF_A_KIND
            key = _alike(entry)
            if entry.event not in folds or counts[key] <= most or seen[key] < most - 1:
                yield self._line(entry, taken_back.get(entry.event))
            elif seen[key] == most - 1:
                yield self._more(entry, counts[key] - most + 1)
            seen[key] += entry.event in folds

    def _may_fold(self, entries: Iterable[EntryFact]) -> frozenset[int]:
        """What may be counted rather than told."""
        still_open = {failure.id for area in self._facts.areas for failure in area.failures if failure.open}
        return frozenset(one.event for one in entries if one.kind not in _EACH and str(one.event) not in still_open)

    def _line(self, entry: EntryFact, taken_back: WithdrawnFact | None) -> _Line:
        told, lead = self._told(entry, taken_back), ""
        if entry.no_longer is not None:
            told = self._words(message("appendix-no-longer", told=told, event=entry.no_longer))
        if entry.kind in _STRONG:
            lead = self._words(term("appendix-lead", entry.kind))
        return _Line(entry.at, entry.event, AppendixRow("", told, lead=lead))

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
        about: dict[str, Figure] = {"area": self.letters.get(entry.area, ""), "count": count}
        if entry.kind in _SLIGHT:
            told = Message(f"appendix-more-{entry.kind.replace(' ', '-')}", about)
        else:
            told = Message("appendix-more-like-it", {**about, "kind": entry.kind, "table": SEQUENCE_CSV})
        return _Line(entry.at, entry.event, AppendixRow("", self._words(told)))

    def _breaks(self) -> Iterator[_Line]:
        for one in self._facts.time_breaks:
            yield _Line(one.at, one.after, AppendixRow("", one.told.text))
