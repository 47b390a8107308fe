"""The words of a document: messages, times, names and quantities in its language and its one system of units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from itertools import groupby

from fieldassist.checklist import rules
from fieldassist.checklist.kinds.reading import JudgedBy
from fieldassist.checklist.plan import Method
from fieldassist.language import Words
from fieldassist.trade.limits import Side, judge, shown
from fieldassist.trade.message import Compared, Figure, Message, Read, Text, message
from fieldassist.trade.quantities import (
    FractionOfInch,
    Quantity,
    Units,
    as_written,
    convert,
    convert_exact,
    decimals_of,
    format_quantity,
    format_size,
    unit_in_system,
)

# A reading that lies closer to its limit than this many decimals tell lies at it, as far as any judgement goes
# (`trade.limits`).
_MOST_DECIMALS = 12


@dataclass(frozen=True, slots=True)
class Beside:
    """A reading in words, what was required of it in words, and each end of that as it is told."""

    read: str
    required: str
    limits: Mapping[Side, Quantity]


class ReportWords:
    """Words for one document, each figure put into words once.

    units: of the document; plan_date: the day's own, so that only the times of other dates carry theirs.
    """

    def __init__(self, units: Units, plan_date: str) -> None:
        self.units: Units = units
        self.other: Units = "us" if units == "metric" else "metric"
        self._plan_date = plan_date
        self._words = Words("en", units)
        self._as_read = Words("en")
        self._known: dict[Figure, str] = {}
        self._known_otherwise: dict[Figure, str] = {}
        self._sizes: dict[tuple[Quantity, Quantity, bool], str] = {}
        self._people: dict[str, str] = {}
        self._besides: dict[tuple[object, ...], Beside] = {}

    def __call__(self, told: Figure) -> str:
        """What is told, in words."""
        known = self._known.get(told)
        if known is None:
            known = self._known[told] = self._words(told)
        return known

    def sentence(self, told: object) -> str:
        """A basis, a reason or a refusal of trade/ in words; "" for none."""
        return "" if told is None else " ".join(self(rules.as_told(told)).split())

    def in_other_units(self, told: Figure) -> str:
        """What is told, in the other system of units."""
        known = self._known_otherwise.get(told)
        if known is None:
            known = self._known_otherwise[told] = self._words.in_units(self.other)(told)
        return known

    def person(self, name: str) -> str:
        """A person's name as it is written, a dash for nobody."""
        if name not in self._people:
            self._people[name] = self(message("prompt-person", name=name)) if name else "–"
        return self._people[name]

    def time(self, wall: str) -> str:
        """Wall time to the second; the date too where it is not the day's own."""
        when = datetime.fromisoformat(wall)
        text = when.strftime("%H:%M:%S")
        return text if when.date().isoformat() == self._plan_date else f"{when.date().isoformat()} {text}"

    def required(self, finding: Message | Text, judged: JudgedBy) -> str:
        """What a criterion requires, told beside the reading of the finding, where it names one."""
        pair = _pair(finding)
        if pair is not None:
            return self.beside(pair.read, judged).required
        return self(rules.required(judged.at_least, judged.at_most, judged.unit))

    def required_minutes(self, judged: JudgedBy) -> str:
        """What a measured time must come to."""
        return self(rules.required(judged.at_least, judged.at_most, judged.unit))

    def finding(self, finding: Message | Text, judged: JudgedBy | None) -> str:
        """Why something failed, in the figures that stand beside each other."""
        pair = _pair(finding)
        if pair is None or judged is None or not isinstance(finding, Message):
            return self.sentence(finding)
        beside = self.beside(pair.read, judged)
        return self._words(Message(finding.code, {"pair-read": beside.read, "pair-limit": beside.limits[pair.side]}))

    def beside(self, read: Quantity, judged: JudgedBy) -> Beside:
        """A reading, and what was required of it: the figures on paper agree with the judgement.

        Both have as many decimals as that takes; a reading taken in the other system stands as it was read, with the
        document's unit beside it.

        >>> words = ReportWords("us", "2026-03-04")
        >>> sixteenth = JudgedBy(rule="", at_most=Fraction(1, 16), unit="in", basis=Text.plain(""))
        >>> told = words.beside(Quantity(Fraction(16, 10), "mm"), sixteenth)
        >>> told.read, told.required
        ('1.6 mm (0.063 in)', 'at most 0.0625 in')
        """
        key = read.value, read.unit, judged.at_least, judged.at_most, judged.unit
        if key not in self._besides:
            self._besides[key] = self._beside(read, judged)
        return self._besides[key]

    def _beside(self, read: Quantity, judged: JudgedBy) -> Beside:
        unit = unit_in_system(read.unit, self.units)
        value = Quantity(convert_exact(read.value, read.unit, unit), unit)
        ends = rules.ends(judged.at_least, judged.at_most, judged.unit)
        keeps = {side: judge(read, ((side, end),)).passed for side, end in ends}
        for extra in range(_MOST_DECIMALS + 1):
            told = _with_decimals(value, extra)
            number = value.value if unit == read.unit else _number(told)
            limits = {side: shown(end, side, unit, extra) for side, end in ends}
            if all(_within(number, limits[side], side) == keeps[side] for side in limits):
                break
        figures: dict[str, Figure] = {side.replace(" ", "-"): limit for side, limit in limits.items()}
        code = "limit-between" if len(figures) == 2 else f"limit-{next(iter(figures))}"
        as_read = self._as_read(Read(read))
        if unit != read.unit:
            as_read = f"{as_read} ({format_quantity(told.value, unit, decimals=told.decimals)})"
        return Beside(as_read, self._words(Message(code, figures)), limits)

    def size(self, first: Quantity, second: Quantity, *, other: bool = False) -> str:
        """Two sides: "1200 × 600 mm"."""
        key = first, second, other
        if key not in self._sizes:
            unit = unit_in_system(first.unit, self.other if other else self.units)
            sides = (convert(side.value, side.unit, unit) for side in (first, second))
            self._sizes[key] = format_size(next(sides), next(sides), unit)
        return self._sizes[key]

    def method(self, method: Method) -> str:
        """Notch and spacing, trowel angle, sides combed, back, stroke and seating."""
        sides = "mortar combed on the base only" if method.sides == "one" else "mortar combed on base and back"
        notch = f"{self.size(method.width, method.depth)} {method.family} notch, spacing {self(method.spacing)}"
        back = "back keyed" if method.back == "keyed" else "back not keyed"
        stroke = "no stroke" if method.movement == "none" else f"moved {method.movement}"
        return f"{notch}, at {method.angle:g}°, {sides}, {back}, {stroke}, seated: {method.seating}"


def _pair(finding: Message | Text) -> Compared | None:
    """The reading and the limit that a finding names."""
    pair = finding.figures.get("pair") if isinstance(finding, Message) else None
    return pair if isinstance(pair, Compared) else None


def _with_decimals(value: Quantity, extra: int) -> Quantity:
    if not extra:
        return value
    return Quantity(value.value, value.unit, decimals_of(value.value, value.unit) + extra)


def _number(told: Quantity) -> Fraction:
    """The number that stands on paper."""
    written = as_written(told.value, told.unit, told.decimals)
    if isinstance(written, FractionOfInch):
        return written.whole + Fraction(written.numerator, written.denominator)
    return Fraction(written)


def _within(number: Fraction, limit: Quantity, side: Side) -> bool:
    return number >= limit.value if side == "at least" else number <= limit.value


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def in_words(identifier: str) -> str:
    """An identifier that no checklist of the day explains, with spaces."""
    return identifier.replace("-", " ")


def ranges(numbers: Iterable[int]) -> str:
    """Numbers in words, each row of neighbours as one; in the order given.

    >>> ranges([1, 2, 3, 7, 5, 6]), ranges([4]), ranges([])
    ('1 to 3, 7, 5, 6', '4', 'none')
    """
    told: list[str] = []
    for _, row in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        each = [number for _, number in row]
        told += [f"{each[0]} to {each[-1]}"] if len(each) > 2 else [str(number) for number in each]
    return ", ".join(told) or "none"


def minutes(value: float) -> str:
    """Minutes, which all systems of units share."""
    return format_quantity(value, "min")


def short_time(time: str) -> str:
    """Hours and minutes of a time as the report tells it, which may carry a date.

    >>> short_time("2026-03-05 00:12:44"), short_time("09:58:01")
    ('00:12', '09:58')
    """
    return time.rsplit(" ", 1)[-1][:5]


def weekday(day: str) -> str:
    """The day of the week of an ISO date; "" for another text."""
    try:
        return date.fromisoformat(day).strftime("%A")
    except ValueError:
        return ""


def zone(wall: str) -> str:
    """The offset of a wall clock from UTC, as ISO 8601 writes it."""
    offset = datetime.fromisoformat(wall).strftime("%z")
    return f"UTC{offset[:3]}:{offset[3:5]}" if offset else "local"
