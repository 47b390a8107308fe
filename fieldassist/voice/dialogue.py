"""When a reading is read back, how, and when it is asked again: a table that a foreman can read.

| sign | what the tablet does |
|---|---|
| the words fit more than one value | asks which one |
| the value is impossible for this step | asks again |
| another value was heard almost as well | reads it back digit by digit, and names the other |
| only a number was heard, without its unit and its name | reads it back digit by digit |
| it would fail its criterion | reads it back digit by digit, and says what fails |
| it sounds like another number (13 and 30) | reads it back digit by digit |
| it is far from the last readings of this step | reads it back digit by digit, and says the last one |
| none of these, and it is a reading of a lift, or a name | reads it back |
| none of these | reads it back without a question: the next phrase that fits keeps it, "no" withdraws it |

What is read off a lifted tile is read back together, in one sentence, each value as the table has it.

| sign, for a step, an answer or another command | what the tablet does |
|---|---|
| "yes" was heard almost as "no", or "no" as "yes" | reads the value back once more |
| another command that is due was heard almost as well | asks "did you say ...?" and waits for "yes" |
| neither | does it and says what comes next |

Nothing is kept that was not read back, and nothing without "yes" where a sign makes it doubtful: a wrong reading that
enters the log silently is the worst that can happen here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from fieldassist.checklist.kinds.reading import far_from
from fieldassist.language import numbers
from fieldassist.trade.message import Digits, Figure, Message, Read, Several, message
from fieldassist.trade.quantities import Quantity

# A log-likelihood difference (nats) under which two alternatives count as heard equally well. Measured with the voice
# benchmark, half of it in noise: 4 flags 70 in 100 wrong readings and 19 in 100 right ones, 2 flags 54 and 10, and more
# than 4 flags hardly more of either. Too large only makes the tablet ask more carefully.
CLOSE_RIVAL = 4.0


@dataclass(frozen=True, slots=True)
class Signs:
    """What is known about a reading that was just heard.

    fails: why it would fail its criterion; rivals: other values heard almost as well; doubt: there were some; last:
    earlier kept readings of the same step in this area, newest last, in the unit of this one.
    """

    fails: Figure | None = None
    rivals: tuple[Figure, ...] = ()
    doubt: bool = False
    last: Sequence[float] = ()


@dataclass(frozen=True, slots=True)
class ReadBack:
    """How a reading is read back. `reasons`: the rows of the table that made it careful."""

    told: Figure
    digit_by_digit: bool
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CalledAnswer:
    """One of several answers that are read back together: a value of what it is called; or, without one, an answer that
    says itself what it answers. signs: what makes it doubtful."""

    name: Figure
    value: Fraction | None = None
    unit: str = "count"
    signs: Signs = field(default_factory=Signs)


def read_back(name: Figure, value: Fraction, unit: str, signs: Signs | None = None, *, asks: bool = True) -> ReadBack:
    """The question that a numeric reading waits with; without the question where it waits for no yes.

    name: what is read, as it is called; value: exact, in `unit`; signs: what makes it doubtful; asks: whether it waits
    for yes or no.

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
    reasons, warnings = _careful(value, unit, signs)
    reading = Read(Quantity(value, unit))
    if signs.rivals:
        first = message("readback-rival", name=name, reading=reading, digits=Digits(value), rival=signs.rivals[0])
    elif reasons:
        first = message("readback-digits", name=name, reading=reading, digits=Digits(value))
    else:
        first = message("readback-plain", name=name, reading=reading)
    question = (message("readback-yes-or-no"),) if asks else ()
    return ReadBack(Several((first, *warnings, *question), "sentences"), bool(reasons), reasons)


def _careful(value: Fraction, unit: str, signs: Signs) -> tuple[tuple[str, ...], list[Figure]]:
    """The rows of the table that make a value worth care, and what is said of it besides its digits."""
    reasons, warnings = [], []
    if signs.rivals or signs.doubt:
        reasons.append("another value was heard almost as well")
    if signs.fails:
        reasons.append("it would fail its criterion")
        warnings.append(message("readback-fails", finding=signs.fails))
    if numbers.confusable(value):
        reasons.append("it sounds like another number")
    if far_from(float(value), signs.last):
        reasons.append("it is far from the last readings")
        last = Read(Quantity(Fraction(signs.last[-1]).limit_denominator(1000), unit))
        warnings.append(message("readback-last", last=last))
    return tuple(reasons), [*warnings]


def read_back_together(answers: Sequence[CalledAnswer]) -> ReadBack:
    """The question that several answers wait with, all in one sentence; then what fails of them.

    >>> from fieldassist.language import Words
    >>> fails = message("limit-under", **{"pair-read": "70 %", "pair-limit": "95 %"})
    >>> called = [
    ...     CalledAnswer("Coverage", Fraction(70), "percent", Signs(fails=fails)),
    ...     CalledAnswer("Bed", Fraction(6), "mm"),
    ...     CalledAnswer("Corners full"),
    ... ]
    >>> print(Words(ear=True)(read_back_together(called).told).replace("full. ", "full.\\n"))
    Coverage, seventy percent, seven zero; Bed, six millimeters; Corners full.
    Fails: 70 % is under 95 %. Yes?
    """
    told: list[Figure] = []
    found: list[str] = []
    warnings: list[Figure] = []
    for answer in answers:
        value, signs = answer.value, answer.signs
        if value is None:
            told.append(answer.name)
            warnings += [message("readback-fails", finding=signs.fails)] if signs.fails else []
            continue
        reasons, more = _careful(value, answer.unit, signs)
        found += reasons
        warnings += more
        figures: dict[str, Figure] = {"name": answer.name, "reading": Read(Quantity(value, answer.unit))}
        if not reasons:
            told.append(Message("readback-answer", figures))
        elif signs.rivals:
            told.append(
                Message("readback-answer-rival", {**figures, "digits": Digits(value), "rival": signs.rivals[0]})
            )
        else:
            told.append(Message("readback-answer-digits", {**figures, "digits": Digits(value)}))
    first = message("readback-answers", answers=Several(tuple(told), "clauses"))
    return ReadBack(
        Several((first, *warnings, message("readback-yes-or-no")), "sentences"),
        bool(found),
        tuple(dict.fromkeys(found)),
    )


def read_back_name(name: Figure, label: str) -> ReadBack:
    """The question that a name waits with.

    >>> from fieldassist.language import Words
    >>> Words(ear=True)(read_back_name("Tile", "B12").told)
    'Tile, B12. Yes?'
    """
    first = message("readback-plain", name=name, reading=label)
    return ReadBack(Several((first, message("readback-yes-or-no")), "sentences"), False, ())
