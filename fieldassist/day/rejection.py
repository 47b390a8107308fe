"""How much other talk may explain what was heard before it is asked about, and before it is dropped: by where it was said.

| where | what is heard there | what is not taken |
|---|---|---|
| a key is held, or the tablet was just called | whoever does so speaks to the tablet | is answered: "not understood" |
| behind the attention phrase | the phrase itself is evidence, and counts | where it is near: "say it again" |
| right after a question, what answers it | most likely the answer | "say it again" once a question, then a low sound |
| within the work, what goes on with it | work or talk | a low sound, and it is shown |
| anything else at an open microphone | mostly talk | dropped |

Evidence is `Heard.foreign`: by how many nats other talk explains the sound better than what was understood. Up to the first
limit it is done; up to the second it is asked about ("did you say ...?"), and a reading waits for its yes; less than
`NEAR_BY` beyond that it may have been meant, and whoever spoke is told; further on it is talk. How the limits were measured,
and on whose speech: `tests/bench/voice/limits.py`.
"""  # noqa: E501 (a table's line cannot be broken)

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.prompt import Prompt
from fieldassist.checklist.window import goes_on
from fieldassist.voice.phrases import core, is_number_alone


class Where(StrEnum):
    """Where something was said."""

    HELD = "a key is held, or the tablet was just called"
    CALLED = "behind the attention phrase"
    ASKED = "right after a question, what answers it"
    WORK = "within the work, what goes on with it"
    OPEN = "anything else at an open microphone"


class Kind(StrEnum):
    """What was understood. The shorter it is, and where it is a number, the more talk sounds like it."""

    PHRASE = "a phrase of several words"
    WORD = "a phrase of one word"
    ANSWER = "yes, no or understood"
    VALUE = "a number with more than one word beside it"
    SHORT = "a number with one word beside it"
    NUMBER = "a number alone"


class Ruling(StrEnum):
    """What comes of it."""

    SURE = "done"
    UNSURE = "asked about"
    NEAR = "not taken, and told"
    TALK = "dropped"


@dataclass(frozen=True, slots=True)
class Limits:
    """In nats: up to which it is done, and up to which it is asked about."""

    sure: float
    asked: float


LIMITS: Mapping[Where, Mapping[Kind, Limits]] = {
    Where.HELD: {
        Kind.PHRASE: Limits(-3.0, 12.0),
        Kind.WORD: Limits(2.5, 12.0),
        Kind.ANSWER: Limits(2.5, 4.0),
        Kind.VALUE: Limits(-3.0, 12.0),
        Kind.SHORT: Limits(-3.0, 12.0),
        Kind.NUMBER: Limits(0.0, 12.0),
    },
    Where.CALLED: {kind: Limits(-10.0, -5.0) for kind in Kind},
    Where.ASKED: {
        Kind.PHRASE: Limits(-3.0, 4.0),
        Kind.WORD: Limits(2.5, 6.0),
        Kind.ANSWER: Limits(2.5, 4.0),
        Kind.VALUE: Limits(-5.0, 0.0),
        Kind.SHORT: Limits(-8.0, 4.0),
        Kind.NUMBER: Limits(0.0, 8.0),
    },
    Where.WORK: {
        Kind.PHRASE: Limits(-3.0, 0.0),
        Kind.WORD: Limits(2.5, 2.5),
        Kind.ANSWER: Limits(0.0, 0.0),
        Kind.VALUE: Limits(-6.0, -6.0),
        Kind.SHORT: Limits(-12.0, -6.0),
        Kind.NUMBER: Limits(-12.0, -12.0),
    },
    Where.OPEN: {
        Kind.PHRASE: Limits(-6.0, -6.0),
        Kind.WORD: Limits(-8.0, -8.0),
        Kind.ANSWER: Limits(-6.0, -6.0),
        Kind.VALUE: Limits(-8.0, -8.0),
        Kind.SHORT: Limits(-14.0, -14.0),
        Kind.NUMBER: Limits(-14.0, -14.0),
    },
}
# Beyond the second limit, what may still have been meant for the tablet.
NEAR_BY = 6.0

_ANSWERS = (cmd.Keep, cmd.Withdraw, cmd.AcknowledgeCaution)


def where_said(understood: Sequence[Command], asked: Prompt, *, just_asked: bool) -> Where:
    """Where something was said that nobody pressed anything for, and that does not begin with the attention phrase.

    understood: as what; asked: what the tablet asks; just_asked: it has only just asked.
    """
    if just_asked and understood and goes_on(understood, asked.answers):
        return Where.ASKED
    return Where.WORK if understood and goes_on(understood, asked.window) else Where.OPEN


def kind_of(commands: Sequence[Command], words: str) -> Kind:
    """What sort of thing was understood. words: as they were heard, without the attention phrase.

    >>> kind_of([cmd.Keep()], "yes").name, kind_of([cmd.Ask(about="what now")], "what now").name
    ('ANSWER', 'PHRASE')
    >>> kind_of([cmd.Ask(about="repeat")], "okay repeat please").name
    'WORD'
    """
    if is_number_alone(words):
        return Kind.NUMBER
    if any(_numbered(one) for one in commands):
        return Kind.VALUE if len(core(words.split())) > 2 else Kind.SHORT
    if len(commands) == 1 and isinstance(commands[0], _ANSWERS):
        return Kind.ANSWER
    return Kind.PHRASE if len(core(words.split())) > 1 else Kind.WORD


def _numbered(command: Command) -> bool:
    return isinstance(command, cmd.GiveReading | cmd.TilesIn) or (
        isinstance(command, cmd.SpreadMortar) and command.tiles is not None
    )


def ruling(foreign: float | None, where: Where, kind: Kind) -> Ruling:
    """What comes of what was heard so. foreign: `Heard.foreign`; None, of typed words and of a model that hears freely,
    rejects nothing.

    >>> [ruling(foreign, Where.ASKED, Kind.PHRASE).name for foreign in (-9.0, 2.0, 9.0, 40.0)]
    ['SURE', 'UNSURE', 'NEAR', 'TALK']
    """
    limits = LIMITS[where][kind]
    if foreign is None or foreign <= limits.sure:
        return Ruling.SURE
    if foreign <= limits.asked:
        return Ruling.UNSURE
    return Ruling.NEAR if foreign <= limits.asked + NEAR_BY else Ruling.TALK
