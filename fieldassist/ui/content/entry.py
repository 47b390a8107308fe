"""A number while it is typed on the pad or read off the ruler, and whether it holds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from fieldassist.checklist.rules import Criterion, ends
from fieldassist.trade.limits import Side, exactly, shown
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity, canonical, convert, convert_exact, unit_info

_LONGEST = 7
BACK = "←"
POINT = "."
BELOW_ZERO = "below zero"

# The greatest length that is read off the ruler [mm], 6 in; longer ones are typed, in decimals or sixteenths.
RULER_UP_TO_MM = 152.4
SIXTEENTH = Fraction(1, 16)
# How much of the bar lies beside what is allowed, on each side, as a share of the allowed part.
_BESIDE = Fraction(2, 5)
_TEMPERATURES = ("degC", "degF")


@dataclass(frozen=True, slots=True)
class LastValue:
    """A value that may stand again: the same reading's before, or another one's of the same quantity.

    of: the other reading's name, None where it is the same one's.
    """

    value: Fraction
    unit: str
    of: Figure | None = None

    @property
    def told(self) -> Message:
        """What stands on its key."""
        read = Quantity(self.value, self.unit)
        return (
            message("work-last-same", value=read) if self.of is None else message("work-last", value=read, of=self.of)
        )


@dataclass(frozen=True, slots=True)
class NumberQuestion:
    """A number that is asked for.

    question: in a few words, for far; note: the whole question, or more about it, for near; units: the usual one
    first, none for a plain number; low, high: what it can be at all, in the canonical unit; limit: what it is held
    against; last: values that may stand again; whole: only whole numbers; keep: what the big key says instead of
    "Keep".
    """

    question: Figure
    units: tuple[str, ...] = ("count",)
    low: float = 0
    high: float = 1_000_000
    limit: Criterion | None = None
    last: tuple[LastValue, ...] = ()
    note: Figure | None = None
    whole: bool = False
    keep: Message | None = None


@dataclass(frozen=True, slots=True)
class Scale:
    """A ruler or a bar: from `start` to `end` in the unit typed; allowed: what of it passes; marks: where the limit's
    ends lie; at: where the value stands, as a share from 0 to 1, None while nothing is typed."""

    start: Fraction
    end: Fraction
    allowed: tuple[Fraction, Fraction]
    marks: tuple[Fraction, ...]
    at: Fraction | None

    def share(self, value: Fraction) -> Fraction:
        """Where a value lies, from 0 to 1; what lies outside is put at its end."""
        return min(Fraction(1), max(Fraction(0), (value - self.start) / (self.end - self.start)))


@dataclass(frozen=True, slots=True)
class NumberTyped:
    """A number while it is entered: digits with or without a point, or sixteenths of an inch off the ruler.

    A fraction exists on the ruler only, and is always inches. sixteenths: None while nothing stands there.

    >>> q = NumberQuestion("Gap", ("mm", "in"), high=50)
    >>> NumberTyped.begun(q, "in").snap(0.19).value, NumberTyped.begun(q, "mm").press("2").press(".").press("5").value
    (Fraction(3, 16), Fraction(5, 2))
    """

    asked: NumberQuestion
    unit: str
    digits: str = ""
    negative: bool = False
    sixteenths: int | None = None

    @classmethod
    def begun(cls, asked: NumberQuestion, unit: str = "") -> NumberTyped:
        """Nothing entered yet; unit: the one that was used last, where the question takes it."""
        return cls(asked, unit if unit in asked.units else asked.units[0])

    @property
    def ruled(self) -> bool:
        """Whether it is read off the ruler: a short length in inches."""
        return self.unit == "in" and self.asked.high <= RULER_UP_TO_MM

    @property
    def signed(self) -> bool:
        """Whether it can lie below zero."""
        return any(unit in _TEMPERATURES for unit in self.asked.units)

    # --- entering it ----------------------------------------------------------------------------------------------

    def press(self, key: str) -> NumberTyped:
        """What stands there after a key: a digit, POINT, BACK or BELOW_ZERO. A key that makes no sense changes
        nothing."""
        if key == BELOW_ZERO:
            return replace(self, negative=not self.negative) if self.signed else self
        if key == BACK:
            return replace(self, digits=self.digits[:-1], sixteenths=None, negative=self.negative and bool(self.digits))
        begun = "" if self.sixteenths is not None else self.digits
        if len(begun) >= _LONGEST or (key == POINT and (POINT in begun or self.asked.whole)):
            return self
        if key == POINT:
            return replace(self, digits=f"{begun or '0'}{POINT}", sixteenths=None)
        return replace(self, digits=key if begun == "0" else begun + key, sixteenths=None)

    def snap(self, share: float) -> NumberTyped:
        """A press on the ruler at a share of its length: the nearest sixteenth of the inch that it shows."""
        inch = int(self.scale.start)
        return replace(self, digits="", sixteenths=16 * inch + min(16, max(0, round(16 * share))))

    def nudge(self, sixteenths: int) -> NumberTyped:
        """So many sixteenths more or less, never below zero."""
        value = self.value or Fraction(0)
        stands = round(value / SIXTEENTH)
        most = int(self.asked.high / 25.4 * 16)
        return replace(self, digits="", sixteenths=min(most, max(0, stands + sixteenths)))

    def use(self, unit: str) -> NumberTyped:
        """In another unit. What was typed stays as it was typed; to and from the ruler it is begun anew."""
        other = replace(self, unit=unit)
        return replace(other, digits="", sixteenths=None) if other.ruled != self.ruled else other

    def take(self, last: LastValue) -> NumberTyped:
        """A value that stands again, in its own unit."""
        other = NumberTyped(self.asked, last.unit if last.unit in self.asked.units else self.unit)
        value = convert_exact(last.value, last.unit, other.unit) if last.unit != "count" else last.value
        if other.ruled and value % SIXTEENTH == 0:
            return replace(other, sixteenths=int(value / SIXTEENTH))
        return replace(other, digits=_decimal(abs(value)), negative=value < 0)

    # --- what stands there ----------------------------------------------------------------------------------------

    @property
    def value(self) -> Fraction | None:
        """The number, exact; None where there is none yet."""
        if self.sixteenths is not None:
            return self.sixteenths * SIXTEENTH
        if not self.digits:
            return None
        number = Fraction(self.digits.rstrip(POINT) or "0")
        return -number if self.negative else number

    @property
    def shown(self) -> str:
        """The figures in the largest letters, without their unit: as they were typed; sixteenths as a fraction."""
        if self.sixteenths is not None:
            whole, part = divmod(self.sixteenths * SIXTEENTH, 1)
            fraction = f"{part.numerator}/{part.denominator}" if part else ""
            return " ".join(one for one in (str(whole) if whole or not part else "", fraction) if one)
        return ("–" if self.negative else "") + self.digits

    @property
    def symbol(self) -> str:
        """The unit as it is written behind the figures."""
        return "" if self.unit == "count" else unit_info(self.unit).symbol

    @property
    def told(self) -> str:
        """Figures and unit, "" while nothing stands there."""
        return f"{self.shown} {self.symbol}".strip() if self.value is not None else ""

    # --- whether it holds -----------------------------------------------------------------------------------------

    @property
    def judged(self) -> Literal["passed", "under", "over"] | None:
        """Whether it keeps to the limit, exactly at an end it does; None where nothing is typed or limits it."""
        if self.value is None or self.asked.limit is None:
            return None
        return self.asked.limit.judge(self.value, self.unit).verdict

    @property
    def fails(self) -> bool:
        """Whether it breaks the limit."""
        return self.judged in ("under", "over")

    @property
    def limit_told(self) -> Message | None:
        """What is allowed, in the unit typed and rounded to its safe side; None where nothing limits it."""
        ends = self._ends
        if not ends:
            return None
        if len(ends) == 2:
            least = Quantity(ends["at least"].value, "count")
            return message("work-limit-between", least=least, most=ends["at most"])
        if "at least" in ends:
            return message("work-limit-at-least", least=ends["at least"])
        return message("work-limit-at-most", most=ends["at most"])

    @property
    def off_told(self) -> Message | None:
        """By how much it breaks the limit, in the unit typed; None where it does not."""
        if self.value is None or self.judged is None or not self.fails:
            return None
        side: Side = "at least" if self.judged == "under" else "at most"
        by = Quantity(abs(self.value - self._ends[side].value), self.unit)
        kind = "temperature" if self.unit in _TEMPERATURES else "amount"
        return message(f"work-off-{kind}-{self.judged}", by=by)

    @property
    def keep_told(self) -> Message:
        """What the big key says."""
        if self.value is None:
            return message("work-keep-nothing")
        if self.fails:
            return message("work-keep-fails", value=self.told)
        return self.asked.keep if self.asked.keep is not None else message("work-keep", value=self.told)

    @property
    def why_not(self) -> Message | None:
        """Why it cannot be kept: nothing is typed, or it can be no such number; None where it can."""
        if self.value is None:
            return message("work-type-first")
        value = canonical(self.value, self.unit)
        if not self.asked.low - 1e-9 <= value <= self.asked.high + 1e-9:
            low, high = (_in_unit(end, self.unit) for end in (self.asked.low, self.asked.high))
            return message("work-implausible", value=self.told, low=low, high=high)
        return message("work-whole-only") if self.asked.whole and self.value.denominator != 1 else None

    @property
    def scale(self) -> Scale:
        """The ruler, an inch long from the whole inch below the value; else a bar with what is allowed in its middle.

        Without a limit a bar is all allowed.
        """
        ends = self._ends
        least, most = (ends[side].value if side in ends else None for side in ("at least", "at most"))
        if self.ruled:
            start = Fraction(self._inch)
            end = start + 1
        else:
            start, end = self._bar(least, most)
        low = start if least is None else max(start, min(end, least))
        high = end if most is None else max(start, min(end, most))
        marks = tuple(m for m in (least, most) if m is not None and start <= m <= end)
        scale = Scale(start, end, (low, max(low, high)), marks, None)
        return scale if self.value is None else replace(scale, at=scale.share(self.value))

    @property
    def _inch(self) -> int:
        """The whole inch that the ruler begins with: 1 in exactly is read at the end of the first one."""
        value = self.value or Fraction(0)
        return max(0, int(value) - (1 if value and value.denominator == 1 else 0))

    def _bar(self, least: Fraction | None, most: Fraction | None) -> tuple[Fraction, Fraction]:
        if least is not None and most is not None:
            beside = max(most - least, Fraction(1)) * _BESIDE
            return least - beside, most + beside
        end = most if most is not None else least
        if end is None:
            return Fraction(0), max(Fraction(1), 2 * abs(self.value or Fraction(0)))
        if self.unit == "percent":
            return Fraction(0), Fraction(100)
        return Fraction(0), 2 * end if end > 0 else Fraction(1)

    @property
    def _ends(self) -> dict[Side, Quantity]:
        """The ends of the limit in the unit typed, as they are shown: each on its safe side."""
        limit = self.asked.limit
        if limit is None:
            return {}
        given = ends(limit.at_least, limit.at_most, limit.unit)
        return {side: shown(end, side, self.unit) for side, end in given}


def _decimal(value: Fraction) -> str:
    """A number as digits: to the hundredth, without idle zeros.

    >>> _decimal(Fraction(17)), _decimal(Fraction(25, 2))
    ('17', '12.5')
    """
    return f"{float(value):.2f}".rstrip("0").rstrip(POINT)


def _in_unit(end: float, unit: str) -> Quantity:
    """An end of what a number can be, in a unit, rounded as far as it is read."""
    base = unit_info(unit).canonical
    return exactly(float(f"{convert(end, base, unit):.4g}"), unit)
