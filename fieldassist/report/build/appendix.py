"""The appendix, from the facts of the day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from types import MappingProxyType

from fieldassist.facts.model import AreaFacts, ConditionFact, DayFacts, HeardFact, LimitFact, TileFact, TranscriptFact
from fieldassist.language import Words
from fieldassist.record.manifest import EVENTS, SEQUENCE_CSV, SEQUENCE_JSON
from fieldassist.report.appendix_model import Appendix, AppendixBlock, AppendixRow, FileRow, PieceTable
from fieldassist.report.build.dates import short_day_told
from fieldassist.report.build.exceptions import ExceptionsTeller
from fieldassist.report.build.figures import measure, person
from fieldassist.report.grid import in_fours
from fieldassist.report.keys import LIMITS
from fieldassist.report.wall_model import DrawnWall
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.ranges import rows

# Widths of labels [mm]: a time, a word, how well a source is known.
_TIME_MM, _WORD_MM, _STANDING_MM = 11.5, 18.0, 22.0
_DIGITS = 12  # of 64, beside which a file is compared
# Up to how many pieces each has its own row, and how many numbers stand in one row of those alike. Ours.
_MOST_PIECES, _MOST_NUMBERS = 60, 200


def appendix(facts: DayFacts, words: Words, walls: Mapping[str, DrawnWall | None] = MappingProxyType({})) -> Appendix:
    """The appendix. walls: the drawings of areas, by their names."""
    teller = _AppendixTeller(facts, words)
    return Appendix(
        running=words(message("appendix-running")),
        title=words(message("appendix-title")),
        intro=words(
            message("appendix-intro", events=facts.events, lines=EVENTS, table=SEQUENCE_CSV, list=SEQUENCE_JSON)
        ),
        blocks=tuple(block for block in teller.blocks() if block.rows or block.lead),
        files_title=words(message("appendix-files")),
        files_note=words(message("appendix-files-note")),
        files=tuple(teller.files()),
        pieces=tuple(teller.pieces(area, wall) for area in facts.areas if (wall := walls.get(area.name)) is not None),
    )


class _AppendixTeller:
    def __init__(self, facts: DayFacts, words: Words) -> None:
        self.facts, self.words = facts, words
        self.exceptions = ExceptionsTeller(facts, words)

    def said(self, code: str, **figures: Figure) -> str:
        return self.words(message(code, **figures))

    def person(self, name: str) -> str:
        return self.words(person(name))

    def blocks(self) -> Iterator[AppendixBlock]:
        """In the order in which they are read."""
        yield self._sequence()
        yield self._refused()
        yield self._conditions()
        yield self._cautions()
        yield self._dust()
        yield self._remarks()
        yield self._crew()
        yield self._days()
        yield self._not_started()
        yield self._limits()
        yield self._ways()
        yield self._explained()
        yield self._questions()

    # --- what happened

    def _sequence(self) -> AppendixBlock:
        letters = self.exceptions.letters
        legend = Several(
            tuple(message("appendix-letter", letter=letters[area.name], area=area.name) for area in self.facts.areas)
        )
        rows = self.exceptions.rows()
        return AppendixBlock(
            self.said("appendix-sequence"), rows, label_mm=_TIME_MM, foot=self.words(legend) if rows else ""
        )

    def _refused(self) -> AppendixBlock:
        rows = []
        for _, same in groupby(self.facts.refused, key=lambda one: (one.area, one.attempt.text, one.reason.text)):
            first, *more = same
            told = message(
                "appendix-refused-line",
                area=self.exceptions.letters.get(first.area, "none"),
                attempt=self.exceptions.short(first.attempt),
                reason=self.exceptions.short(first.reason),
                times=len(more) + 1,
            )
            rows.append((first.at, AppendixRow("", self.words(told))))
        return AppendixBlock(self.said("appendix-refused"), self.exceptions.dated(rows), label_mm=_TIME_MM)

    def _conditions(self) -> AppendixBlock:
        read = sorted(self.facts.conditions, key=lambda one: (one.area, one.event))
        rows = [
            AppendixRow("", self._condition(list(several)), lead=area or self.said("appendix-weather"))
            for area, several in groupby(read, key=lambda one: one.area)
        ]
        required = {one.name: one.required for one in read if one.required}
        alike = tuple(
            message("appendix-condition-required", names=Several(tuple(names), "and"), required=limit)
            for limit, names in _by_value(required).items()
        )
        return AppendixBlock(
            self.said("appendix-conditions"), tuple(rows), foot=self.words(Several(alike, "sentences"))
        )

    def _condition(self, several: Sequence[ConditionFact]) -> str:
        """What was read at one place: each thing with its times."""
        each: dict[str, list[Message]] = {}
        for one in several:
            time = self.exceptions.time(one.at)
            passed = "no" if one.passed is False else "yes"
            each.setdefault(one.name, []).append(
                message("appendix-condition-read", time=time, value=one.text, passed=passed)
            )
        told = tuple(
            message("appendix-condition", name=name or "none", readings=Several(tuple(readings)))
            for name, readings in each.items()
        )
        return self.words(Several(told, "clauses"))

    def _cautions(self) -> AppendixBlock:
        rows = []
        for one in self.facts.cautions:
            went_on = [heard for heard in one.heard if heard.how == "went on"]
            answered = [heard for heard in one.heard if heard.how != "went on"]
            answers = tuple(
                message(f"appendix-caution-{how}", heard=self._heard(several))
                for how, several in (("understood", answered), ("shown", went_on))
                if several
            )
            told = message("appendix-caution", caution=one.text, answers=Several(answers, "sentences"), basis=one.basis)
            rows.append(AppendixRow("", self.words(told)))
        return AppendixBlock(self.said("appendix-cautions"), tuple(rows))

    def _heard(self, several: Iterable[HeardFact]) -> Several:
        """Each person with all the times at which that one heard a caution."""
        each: dict[str, list[Message]] = {}
        for heard in several:
            time, again = self.exceptions.time(heard.at), "yes" if heard.how == "understood again" else "no"
            for name in heard.persons:
                each.setdefault(name, []).append(message("appendix-heard-at", time=time, again=again))
        told = tuple(
            message("appendix-heard", name=person(name), times=Several(tuple(times), "list"))
            for name, times in each.items()
        )
        return Several(told, "clauses")

    def _dust(self) -> AppendixBlock:
        rows = [
            self._at(
                one.at,
                self.said(
                    "appendix-dust-line",
                    who=self.person(one.by),
                    minutes=measure(one.minutes, "min"),
                    task=one.task_told,
                    place=one.place_told,
                    replaced="no" if one.no_longer is None else "yes",
                    basis=one.basis.text,
                ),
            )
            for one in self.facts.dust
        ]
        sums = tuple(
            message(
                "appendix-dust-sum",
                who=self.person(one.by),
                listed=measure(one.listed_min, "min"),
                other=measure(one.other_min, "min"),
                over="yes" if one.over else "no",
            )
            for one in self.facts.dust_sums
        )
        return AppendixBlock(
            self.said("appendix-dust"),
            self.exceptions.dated(rows),
            label_mm=_TIME_MM,
            foot=self.words(Several(sums, "sentences")),
        )

    def _remarks(self) -> AppendixBlock:
        rows = []
        for one in self.facts.notes:
            told = message(
                "appendix-remark",
                area=self.exceptions.letters.get(one.area, "none"),
                who=self.person(one.by),
                text=one.text,
                sound="no" if one.sound is None else "yes",
            )
            written = () if one.transcript is None else (_written(one.transcript),)
            rows.append(self._at(one.at, self.words(Several((told, *written), "clauses"))))
        return AppendixBlock(self.said("appendix-remarks"), self.exceptions.dated(rows), label_mm=_TIME_MM)

    @staticmethod
    def _at(at: str, told: str) -> tuple[str, AppendixRow]:
        return at, AppendixRow("", told)

    def _crew(self) -> AppendixBlock:
        rows = [
            AppendixRow(
                "",
                self.said(
                    "appendix-person",
                    name=self.person(one.name),
                    role=message("page-role", role=one.role),
                    entries=one.entries,
                    first="" if one.first is None else self.exceptions.time(one.first),
                    last="" if one.last is None else self.exceptions.time(one.last),
                ),
            )
            for one in self.facts.crew
        ]
        heard = ", ".join(self.facts.speech_models)
        return AppendixBlock(
            self.said("appendix-crew"), tuple(rows), foot=self.said("appendix-heard-by", models=heard) if heard else ""
        )

    def _days(self) -> AppendixBlock:
        """Days that areas go on from, and which of its tablet's days this is."""
        told: list[Message] = [
            message(
                "appendix-goes-on",
                areas=Several(tuple(day.areas), "and"),
                date=short_day_told(day.date),
                head=in_fours(day.head[: 2 * _DIGITS]),
                left="sealed" if day.sealed else "signed" if day.signed else "open",
            )
            for day in self.facts.continues
        ]
        tablet = self.facts.tablet
        if tablet is not None:
            told.append(message("appendix-tablet", number=tablet.number, tablet=tablet.tablet, book=tablet.book))
            told += [
                message(
                    "appendix-day-before",
                    number=day.number,
                    date=short_day_told(day.date),
                    events=day.events,
                    head=in_fours(day.head[: 2 * _DIGITS]),
                )
                for day in tablet.announces
            ]
        return AppendixBlock(self.said("appendix-days"), tuple(AppendixRow("", self.words(one)) for one in told))

    def _not_started(self) -> AppendixBlock:
        rows = [
            AppendixRow(
                "",
                self.said(
                    "appendix-area-planned",
                    area=area.name,
                    where=area.where,
                    surface=measure(area.planned_m2, "m2"),
                ),
            )
            for area in self.facts.areas
            if area.phase == "not started"
        ]
        return AppendixBlock(self.said("appendix-not-started"), tuple(rows))

    # --- where figures come from

    def _limits(self) -> AppendixBlock:
        rows = [self._limit(alike) for alike in _out_of_one_source(self.facts.limits)]
        return AppendixBlock(
            self.said("appendix-limits"),
            tuple(rows),
            mark_mm=_STANDING_MM,
            foot=self.said("appendix-limits-foot") if rows else "",
            key=LIMITS,
        )

    def _limit(self, alike: Sequence[LimitFact]) -> AppendixRow:
        """What one source asks for."""
        first = alike[0]
        asked: dict[str, dict[str, None]] = {}
        for one in alike:
            asked.setdefault(one.limits, {})[one.text] = None
        each = tuple(
            message("appendix-limit", limits=limits, asked=Several(tuple(texts))) for limits, texts in asked.items()
        )
        told = message("appendix-limit-source", source=first.source, note=first.note or "none")
        standing = message(f"appendix-standing-{first.standing.replace(' ', '-')}")
        lead = message("appendix-limits-of", limits=Several(each, "clauses"))
        return AppendixRow("", self.words(told), self.words(standing), lead=self.words(lead))

    def _ways(self) -> AppendixBlock:
        """How the figures were taken, as far as any was taken so."""
        lifts = [lift for area in self.facts.areas for lift in area.lifts]
        ways = {lift.way for lift in lifts}
        used: list[str] = [way for way in ("photo", "grid", "eye") if way in ways]
        used += ["lot"] if any(lift.came in ("lot", "forced") for lift in lifts) else []
        used += ["clock"] if any(area.clocks for area in self.facts.areas) else []
        lots = [tile.lot for area in self.facts.areas for tile in area.tiles if tile.lot is not None]
        fell = sum(lot.fell for lot in lots)
        rows = [
            AppendixRow(
                self.said(f"appendix-way-{way}"), self.said(f"appendix-taken-by-{way}", drawn=len(lots), fell=fell)
            )
            for way in used
        ]
        return AppendixBlock(self.said("appendix-ways"), tuple(rows), label_mm=_WORD_MM)

    def _explains(self, word: str, text: str) -> AppendixRow:
        return AppendixRow(self.said(word), self.said(text))

    def _explained(self) -> AppendixBlock:
        rows = [self._explains(f"appendix-word-{word}", f"appendix-means-{word}") for word in self._words_used()]
        return AppendixBlock(self.said("appendix-words"), tuple(rows), label_mm=_WORD_MM)

    def _words_used(self) -> Iterator[str]:
        """The words of ours that these pages use."""
        states = {tile.state for area in self.facts.areas for tile in area.tiles}
        seen = {tile.seen for area in self.facts.areas for tile in area.tiles}
        lifts = [lift for area in self.facts.areas for lift in area.lifts]
        if "covered" in states:
            yield "reach"
        if states & {"suspect", "lifted failed"} or any(lift.verdict == "failed" for lift in lifts):
            yield "suspect"
        yield from (word for word in ("witnessed", "counted") if word in seen)
        if any(lift.came == "lot" for lift in lifts):
            yield "lot"
        if "accepted" in states:
            yield "accepted"
        if any(limit.standing in ("second-hand", "from memory") for limit in self.facts.limits):
            yield "second-hand"

    def _questions(self) -> AppendixBlock:
        """Each question once, though several checklists may ask it."""
        sections: dict[str, dict[str, int]] = {}
        for one in self.facts.questions:
            asked = sections.setdefault(one.section, {})
            asked[one.asked] = asked.get(one.asked, 0) + one.answered
        rows = [
            AppendixRow("", self.words(Several(tuple(self._asked(asked)), "sentences")), lead=f"{section}.")
            for section, asked in sections.items()
        ]
        lead = self.said("appendix-questions-lead") if rows else ""
        return AppendixBlock(self.said("appendix-questions"), tuple(rows), lead=lead)

    @staticmethod
    def _asked(asked: Mapping[str, int]) -> Iterator[Message]:
        for question, times in asked.items():
            yield message("appendix-asked", asked=question, times=times)

    # --- what goes with the pages, and pieces

    def files(self) -> Iterator[FileRow]:
        """Photos and sounds."""
        for photo in self.facts.photos:
            what = message(
                "appendix-photo",
                area=photo.area or "none",
                lift=photo.lift or 0,
                name=photo.name or "none",
                time=self.exceptions.time(photo.at),
            )
            yield FileRow(self.words(what), in_fours(photo.sha256[:_DIGITS]), struck=photo.withdrawn)
        for sound in self.facts.sounds:
            what = message("appendix-sound", who=self.person(sound.by), time=self.exceptions.time(sound.at))
            yield FileRow(self.words(what), in_fours(sound.sha256[:_DIGITS]))

    def pieces(self, area: AreaFacts, wall: DrawnWall) -> PieceTable:
        """The pieces of an area: each in a row, or, where those are too many, all that are alike."""
        letters = {method.number: method.letter for method in area.methods}
        many = len(wall.rows) > _MOST_PIECES
        return PieceTable(
            self.said("appendix-pieces", area=area.name),
            area.seen_told.text if area.tiles else "",
            () if many else wall.rows,
            tuple(self.said(f"appendix-head-{head}") for head in ("state", "setter", "method", "pieces")),
            tuple(self._by_state(area.tiles, letters)) if many else (),
        )

    def _method_of(self, tile: TileFact, letters: Mapping[int, str]) -> tuple[str, str]:
        """Who set it, and with which method."""
        setter = self.person(tile.setter) if tile.setter else ""
        return setter, letters.get(tile.method, "") if tile.method is not None else ""

    def _by_state(self, tiles: Sequence[TileFact], letters: Mapping[int, str]) -> list[tuple[str, ...]]:
        """Pieces in one state, set by one person with one method, by their numbers."""
        found: dict[tuple[str, ...], list[int]] = {}
        for tile in tiles:
            state = self.said("appendix-state", state=tile.state.replace(" ", "-"))
            found.setdefault((state, *self._method_of(tile, letters)), []).append(tile.number)
        return [
            (*told, self._numbers(numbers[at : at + _MOST_NUMBERS]))
            for told, numbers in found.items()
            for at in range(0, len(numbers), _MOST_NUMBERS)
        ]

    def _numbers(self, numbers: Sequence[int]) -> str:
        """Numbers with each row of neighbours as one."""
        told = (
            str(first) if first == last else self.said("appendix-numbers", first=str(first), last=str(last))
            for first, last in rows(numbers)
        )
        return self.words(Several(tuple(told)))


def _by_value(given: Mapping[str, str]) -> dict[str, list[str]]:
    """The names of each value."""
    found: dict[str, list[str]] = {}
    for name, value in given.items():
        found.setdefault(value, []).append(name)
    return found


def _out_of_one_source(limits: Iterable[LimitFact]) -> list[list[LimitFact]]:
    """Limits by what they come out of, in the order in which they first come."""
    found: dict[tuple[str, ...], list[LimitFact]] = {}
    for limit in limits:
        found.setdefault((limit.source, limit.standing, limit.note), []).append(limit)
    return list(found.values())


def _written(one: TranscriptFact) -> Message:
    """What a machine wrote from a sound, with which model."""
    sure = "none" if not one.text else "no" if one.unsure else "yes"
    return message("appendix-transcript", model=one.model, sure=sure, text=one.text)
