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
| it is a name | reads it back, each letter with its word: "V as in victor, nine" |
| it is a name, and another was heard almost as well | names the other by the letters in which they differ |
| it is a name without a letter, and a letter before it may have gone unheard | says "no letter" |
| none of these, and it is a reading of a lift | reads it back |
| none of these | reads it back without a question: the next phrase that fits keeps it, "no" withdraws it |

What is read off a lifted tile is read back together, in one sentence, each value as the table has it. What sounds much
alike (B and D, five and nine) was heard almost as well within a wider margin: `language/en/alike.py` has each pair's.

| sign, for a step, an answer or another command | what the tablet does |
|---|---|
| "yes" was heard almost as "no", or "no" as "yes" | reads the value back once more |
| another command that is due was heard almost as well | asks "did you say ...?" and waits for "yes" |
| it names a tile: another name was heard almost as well, or a letter may have gone unheard | asks so, and spells it |
| it names a tile | does it, and says the name, each letter with its word; "scratch that" takes it back |
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
from fieldassist.language.likeness import margin, swallows_letter
from fieldassist.language.names import name_form
from fieldassist.trade.message import Digits, Figure, Message, Read, Several, Spelled, message
from fieldassist.trade.quantities import Quantity

# A log-likelihood difference (nats) under which two alternatives count as heard equally well, where nothing else is
# known of their words. Measured with the voice benchmark, half of it in noise: 4 flags 70 in 100 wrong readings and 19
# in 100 right ones, 2 flags 54 and 10, and more than 4 flags hardly more of either. Too large only makes the tablet ask
# more carefully.
CLOSE_RIVAL = 4.0


def almost_as_well(words: str, other: str, lead: float) -> bool:
    """Whether `other` was heard almost as well as `words`, which were heard better by `lead` [nats].

    >>> almost_as_well("coverage ninety five", "coverage ninety two", 5.0)
    False
    >>> almost_as_well("coverage ninety five", "coverage ninety nine", 5.0)
    True
    """
    return lead < max(CLOSE_RIVAL, margin(words.split(), other.split()))


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
class NameSigns:
    """What is known about a name that was just heard.

    rivals: other names heard almost as well; lettered: whether other names of the same kind in this area have letters,
    None where there are none.
    """

    rivals: tuple[str, ...] = ()
    lettered: bool | None = None


@dataclass(frozen=True, slots=True)
class ReadBack:
    """How a reading is read back. `reasons`: the rows of the table that made it careful."""

    told: Figure
    digit_by_digit: bool
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CalledAnswer:
    """One of several answers that are read back together: a value of what it is called, or a name of it (`label`); or,
    without either, an answer that says itself what it answers. signs, name_signs: what makes it doubtful."""

    name: Figure
    value: Fraction | None = None
    unit: str = "count"
    signs: Signs = field(default_factory=Signs)
    label: str | None = None
    name_signs: NameSigns = field(default_factory=NameSigns)


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
        if answer.label is not None:
            clause, reasons = _name_told("readback-answer", answer.name, answer.label, answer.name_signs)
            told.append(clause)
            found += reasons
            continue
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


def read_back_name(name: Figure, label: str, signs: NameSigns | None = None) -> ReadBack:
    """The question that a name waits with.

    >>> from fieldassist.language import Words
    >>> aloud = Words(ear=True)
    >>> aloud(read_back_name("Tile", "V9").told)
    'Tile, V as in victor, nine. Yes?'
    >>> aloud(read_back_name("Tile", "V9", NameSigns(rivals=("D9",))).told)
    'Tile, V as in victor, nine, not D as in delta. Yes?'
    >>> aloud(read_back_name("Tile", "8", NameSigns(rivals=("A8",))).told)
    'Tile, eight, no letter, not A, as in alpha. Yes?'
    """
    first, reasons = _name_told("readback", name, label, signs or NameSigns())
    return ReadBack(Several((first, message("readback-yes-or-no")), "sentences"), False, reasons)


def _name_told(code: str, name: Figure, label: str, signs: NameSigns) -> tuple[Message, tuple[str, ...]]:
    """A name read back as a sentence ("readback") or a clause ("readback-answer"), and what made it careful."""
    reading, reasons = name_read(label, signs), []
    if reading != Spelled(label):
        reasons.append("a letter before it may have gone unheard")
    if not signs.rivals:
        plain = code if code == "readback-answer" else f"{code}-plain"
        return message(plain, name=name, reading=reading), tuple(reasons)
    reasons.append("another was heard almost as well")
    rival = _told_apart(label, signs.rivals[0])
    return message(f"{code}-name-rival", name=name, reading=reading, rival=rival), tuple(reasons)


def name_read(label: str, signs: NameSigns) -> Figure:
    """A name spelled, with "no letter" where one may have gone unheard.

    >>> from fieldassist.language import Words
    >>> [Words(ear=True)(name_read(label, NameSigns(lettered=True))) for label in ("8", "A8")]
    ['eight, no letter', 'A, as in alpha, eight']
    """
    return message("readback-no-letter", reading=Spelled(label)) if letter_unheard(label, signs) else Spelled(label)


def letter_unheard(label: str, signs: NameSigns) -> bool:
    """Whether a letter before a name that is a number may have gone unheard: a name with one was heard almost as well,
    or other names here have letters, or there is no other, and the number begins as a letter ends ("a eight").

    >>> [letter_unheard(label, NameSigns()) for label in ("8", "12", "A8")]
    [True, False, False]
    >>> letter_unheard("12", NameSigns(lettered=True)), letter_unheard("8", NameSigns(lettered=False))
    (True, False)
    """
    form = name_form(label)
    if form is None or form.lettered:
        return False
    if signs.lettered or any(map(has_letter, signs.rivals)):
        return True
    return signs.lettered is None and swallows_letter(numbers.say(int(form.number), None).split()[0])


def has_letter(label: str) -> bool:
    """Whether a name is more than a number.

    >>> has_letter("A8"), has_letter("8")
    (True, False)
    """
    form = name_form(label)
    return form is None or form.lettered


def _told_apart(label: str, rival: str) -> Figure:
    """The rival of a name, by what tells it apart: the letters where only they differ, otherwise all of it."""
    own, other = name_form(label), name_form(rival)
    if own is None or other is None or (own.noun, own.number) != (other.noun, other.number):
        return Spelled(rival)
    if own.lettered and not other.lettered:
        return message("readback-number-alone", number=Spelled(rival))
    if len(own.before) != len(other.before) or own.after != other.after:
        return Spelled(rival if own.lettered else other.before or other.after)
    return Spelled("".join(b for a, b in zip(own.before, other.before, strict=True) if a != b))
