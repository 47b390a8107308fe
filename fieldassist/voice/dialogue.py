"""When a reading is read back, how, and when it is asked again: a table that a foreman can read.

| sign | what the tablet does |
|---|---|
| the words fit more than one value | asks which one |
| the value is impossible for this step | asks again |
| another value was heard almost as well | reads it back digit by digit, and names the other |
| it would fail its criterion | reads it back digit by digit, and says what fails |
| it sounds like another number (13 and 30) | reads it back digit by digit |
| it is far from the last readings of this step | reads it back digit by digit, and says the last one |
| none of these | reads it back |

| sign, for a step, an answer or another command | what the tablet does |
|---|---|
| "yes" was heard almost as "no", or "no" as "yes" | reads the value back once more |
| another command that is due was heard almost as well | asks "did you say ...?" and waits for "yes" |
| neither | does it and says what comes next |

Nothing is kept without "yes": a wrong reading that enters the log silently is the worst that can happen here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import median

from fieldassist.language import numbers
from fieldassist.trade.message import Digits, Figure, Message, Read, Several, message
from fieldassist.trade.quantities import Quantity

# A log-likelihood difference (nats) under which two alternatives count as heard equally well. Measured with the voice
# benchmark, half of it in noise: 4 flags 70 in 100 wrong readings and 19 in 100 right ones, 2 flags 54 and 10, and more
# than 4 flags hardly more of either. Too large only makes the tablet ask more carefully.
CLOSE_RIVAL = 4.0
# How far from the median of the last readings is worth a word, as a share of that median. Ours, not measured.
_FAR_SHARE = 0.5


@dataclass(frozen=True, slots=True)
class Signs:
    """What is known about a reading that was just heard.

    fails: why it would fail its criterion; rivals: other values heard almost as well; last: earlier kept readings of
    the same step in this area, newest last, in the unit of this one.
    """

    fails: Message | None = None
    rivals: tuple[Figure, ...] = ()
    last: Sequence[float] = ()


@dataclass(frozen=True, slots=True)
class ReadBack:
    """How a reading is read back. `reasons`: the rows of the table that made it careful."""

    told: Figure
    digit_by_digit: bool
    reasons: tuple[str, ...]


def read_back(name: Figure, value: Fraction, unit: str, signs: Signs | None = None) -> ReadBack:
    """The question that a numeric reading waits with.

    name: what is read, as it is called; value: exact, in `unit`; signs: what makes it doubtful.

    >>> from fieldassist.language import Words
    >>> aloud = Words(ear=True)
    >>> aloud(read_back("Coverage", Fraction(95), "percent").told)
    'Coverage, ninety five percent. Yes?'
    >>> fails = message("limit-under", **{"pair-read": "70 %", "pair-limit": "95 %"})
    >>> aloud(read_back("Coverage", Fraction(70), "percent", Signs(fails=fails)).told)
    'Coverage, seventy percent, seven zero. Fails: 70 % is under 95 %. Yes?'
    >>> aloud(read_back("Slake", Fraction(15), "min", Signs(rivals=(Read(Quantity(Fraction(50), "min")),))).told)
    'Slake, fifteen minutes, one five, not fifty minutes. Yes?'
    """
    signs = signs or Signs()
    reasons = []
    warnings: list[Figure] = []
    if signs.rivals:
        reasons.append("another value was heard almost as well")
    if signs.fails:
        reasons.append("it would fail its criterion")
        warnings.append(message("readback-fails", finding=signs.fails))
    if numbers.confusable(value):
        reasons.append("it sounds like another number")
    if _far_from(float(value), signs.last):
        reasons.append("it is far from the last readings")
        last = Read(Quantity(Fraction(signs.last[-1]).limit_denominator(1000), unit))
        warnings.append(message("readback-last", last=last))
    reading = Read(Quantity(value, unit))
    if signs.rivals:
        first = message("readback-rival", name=name, reading=reading, digits=Digits(value), rival=signs.rivals[0])
    elif reasons:
        first = message("readback-digits", name=name, reading=reading, digits=Digits(value))
    else:
        first = message("readback-plain", name=name, reading=reading)
    told = Several((first, *warnings, message("readback-yes-or-no")), "sentences")
    return ReadBack(told, bool(reasons), tuple(reasons))


def _far_from(value: float, last: Sequence[float]) -> bool:
    if len(last) < 2:
        return False
    middle = median(last[-5:])
    spread = max(abs(x - middle) for x in last[-5:])
    return abs(value - middle) > max(_FAR_SHARE * abs(middle), 3 * spread)


def read_back_name(name: Figure, label: str) -> ReadBack:
    """The question that a name waits with.

    >>> from fieldassist.language import Words
    >>> Words(ear=True)(read_back_name("Tile", "B12").told)
    'Tile, B12. Yes?'
    """
    first = message("readback-plain", name=name, reading=label)
    return ReadBack(Several((first, message("readback-yes-or-no")), "sentences"), False, ())
