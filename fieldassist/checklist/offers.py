"""What may be said or pressed: one source for the voice, the screen's keys and its hints."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, get_args

from fieldassist.checklist.wording import WRITTEN_IN
from fieldassist.trade.message import Figure
from fieldassist.trade.quantities import Quantity, System

if TYPE_CHECKING:
    from fieldassist.checklist.commands import Command
    from fieldassist.checklist.plan import DayPlan, Person

VALUE = "{value}"

# What may be said whatever the checklist; where a message names one of these, it is a figure of it.
Weather = Literal["sunny", "cloudy", "overcast", "rain", "snow", "windy", "foggy", "indoors"]
WEATHER: tuple[Weather, ...] = get_args(Weather)
UNDERSTOOD = ("understood", "acknowledged")
# Not "correct": in saw-like noise "no" and "scratch that" were heard as it.
YES = ("yes", "yes keep it")
NO = ("no", "scratch that", "wrong")
UNDO = ("scratch that", "take that back")
# Buckets are called by their number: the first one is meant where none is named.
BUCKET = "bucket"
BUCKETS = ("one", "two", "three", "four")
GO_ON_EARLY = "go on early"
# Ready reasons, as they are said after what was called late or where is gone on early. Others are typed.
LATE_REASONS = ("hands were full", "holding the tile", "could not reach it", "helping the others")
EARLY_REASONS = ("it is hard", "quick patch", "foreman agreed")
START_AREA = "start area"
# A dusty task starts and ends; each of those that the crew may be at for long, as it is said.
DUST_STARTS, DUST_ENDS = "dust starts", "dust ends"
DUSTY: Mapping[str, str] = {
    "stationary masonry saw": "wet saw",
    "handheld power saw": "hand saw",
    "handheld saw for fibre-cement board": "board saw",
    "walk-behind saw": "floor saw",
    "drill": "drill",
    "chipping tool": "chisel",
    "grinder for mortar removal": "joint grinder",
    "grinder for other uses": "grinder",
    "floor grinder": "floor grinder",
    "mixing mortar": "mixing",
}
THIS_IS = "this is"
# Between what was released and the name of whoever released it.
RELEASED_BY = "by"
SETS = "sets"
# Between a reader's name and the figure that was read.
READS = "reads"
# The model of speech knows no "spoiled".
SPOILED = "sample ruined"
# Why a sample is spoiled, in ready words behind it; others are typed.
SPOILED_REASONS = ("piece slipped", "mortar skinned", "ridges broke", "somebody touched it")
CHANGE_METHOD = "change method to"
CHANGE_TO = "change to"
ON_MY_WORD = "on my word"
ON_THE_WORD_OF = "on the word of"
THIS_METHOD = "method stands"
SIGN_OFF_OPEN = "sign off with open points"
# Why an open point stands, in ready sentences, and how each is said after "point" and its number.
Ready = Literal["looked again", "goes on", "fewer pieces", "counted again", "clock wrong"]
READY: Mapping[Ready, tuple[str, ...]] = {
    "looked again": ("looked again", "looked again it is as read"),
    "goes on": ("goes on tomorrow",),
    "fewer pieces": ("fewer pieces than planned",),
    "counted again": ("counted again",),
    "clock wrong": ("the clock was wrong",),
}
_SMALL = (
    *("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def number_said(number: int) -> str:
    """A number from 1 to 99 as it is said in a phrase, "" for another.

    >>> number_said(7), number_said(30), number_said(42)
    ('seven', 'thirty', 'forty two')
    """
    if not 0 < number < 100:
        return ""
    return _SMALL[number] if number < 20 else f"{_TENS[number // 10]} {_SMALL[number % 10]}".strip()


@dataclass(frozen=True, slots=True)
class Slot:
    """The value that a phrase carries: quantity, units (the usual one first) and how low and high it can be.

    low and high are in the canonical unit of the dimension; whole: only whole numbers, such as a tile's. The dimension
    "words" takes any words; they are typed, and not listened for.
    """

    quantity: str
    dimension: str
    units: tuple[str, ...]
    low: float
    high: float
    whole: bool = False

    @property
    def heard(self) -> bool:
        """Whether a recognizer listens for its values."""
        return self.dimension != "words"


WORDS = Slot("words", "words", (), 0, 0)


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that may be said or tapped.

    phrases: word templates, {value} where the slot goes; label: on a key; command: what it means, lacking the value
    if there is a slot; now: whether the sequence would take it at this moment (what is not `now` is heard all the
    same, and refused with the reason); aside: it may be said, and answers nothing that is asked; into: the command's
    field that takes the value, where it is none of value, unit and label.
    """

    phrases: tuple[str, ...]
    label: Figure
    command: Command
    slot: Slot | None = None
    now: bool = True
    aside: bool = False
    into: Literal["piece", "column", "face", "number", "one_in", "tiles"] | None = None

    def fill(self, value: Fraction, unit: str, label: str | None = None) -> Command:
        """The command with its value, or with its name where it takes no value."""
        if self.into is not None:
            # 0 is the number of nothing: what is no whole number is refused as such.
            whole = int(value) if value.denominator == 1 else 0
            # A face is measured, and written in a few figures.
            face = Quantity(value.limit_denominator(10_000), unit)
            return self.command.model_copy(update={self.into: face if self.into == "face" else whole})
        given = {"value": value, "unit": unit, "label": label, "reason": label}
        fields = type(self.command).model_fields
        return self.command.model_copy(update={name: one for name, one in given.items() if name in fields})


@dataclass(frozen=True, slots=True)
class StepSetting:
    """Where a step is asked: in which section or corrective action, and for whom.

    now: the sequence would take it; at_hand: it is the step that is asked, so that the bare answer will do; system:
    the units that a bare number means; language: in which one speaks; plan: whose crew it is, None where steps are
    looked at without a day; speaker: who speaks; readers: of the area's trial, the first one first.
    """

    holder: str
    title: Figure
    now: bool = False
    at_hand: bool = False
    system: System = "metric"
    language: str = WRITTEN_IN
    plan: DayPlan | None = None
    speaker: Person | None = None
    readers: tuple[str, ...] = ()

    @property
    def two_read(self) -> bool:
        """Whether two read each sample."""
        return len(self.readers) > 1

    def reads(self, which: Literal["first", "second"]) -> tuple[str, ...]:
        """What the first or the second reader is called by."""
        at = 0 if which == "first" else 1
        person = self.plan.person(self.readers[at]) if self.plan is not None and at < len(self.readers) else None
        return person.calls if person is not None else ()
