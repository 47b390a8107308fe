"""What of an answer is told to an ear: all its words, a few, or only a sound. The eye is always told all of it.

| level | what is spoken |
|---|---|
| all words | every answer, and whole what is asked next |
| few words | a question whole when a person hears it for the first time today, then its name; the third time that the same answer follows the same thing, only the sound; what changes, fails, is in doubt or fell due, always |
| sounds | what fails, was refused, is in doubt, was asked for, must be done before anything else, has run out of time, or waits for a yes; a tile to be lifted. For everything else the sound |

The sounds (`voice.earcons`): "kept", it was taken, and what comes next is known; "asking", an answer is wanted;
"refused", it was not taken; "time is up", a clock speaks. Two answers are the same where the same was done and the same
is told and asked next, whatever the figures are.
"""  # noqa: E501 (a table's line cannot be broken)

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.kinds.hold import HoldReleased, ReleasesConfirmed, ReleaseStruck
from fieldassist.checklist.prompt import Prompt
from fieldassist.day.ear import Fate, Reply, spoken_answer
from fieldassist.day.session import Answer, Day
from fieldassist.trade.message import Figure, Message, Several, Text, holds, message
from fieldassist.voice.earcons import ChimeName
from fieldassist.voice.speaker import WORDS_PER_MINUTE

SpeakingLevel: TypeAlias = Literal["all words", "few words", "sounds"]
# From the one that says most to the one that says least.
LEVELS: tuple[SpeakingLevel, ...] = ("all words", "few words", "sounds")
# How often the same answer is given in words before it is a sound.
_TOLD_IN_WORDS = 2

_SOUND: dict[Fate, ChimeName] = {
    Fate.TAKEN: "kept",
    Fate.CALLED: "asking",
    Fate.ASKED: "asking",
    Fate.REFUSED: "refused",
}
# A failure, or time that has run out: told at every level.
_FAILS = (
    ev.FailureOpened, ev.StillFailing, ev.WorkStopped, ev.ClockRanOut, ev.ClockWarned, ev.ClockUp, ev.MethodDoubted,
    ev.FinishHeld, ev.InspectionTightened, ev.StepReopened, ev.PinRefused,
)  # fmt: skip
# A change of what the crew goes on with, or a number that is kept without a yes: told in few words too.
_CHANGES = (
    ev.SpeakerChanged, ev.SetterChanged, ev.MethodChanged, ev.MethodVouched, ev.AreaStarted, ev.AreaEntered,
    ev.AreaFinished, ev.FailureClosed, ev.LiftJudged, ev.LiftLeft, ev.TilesAccepted, ev.TileTakenOff, ev.LotsRuled,
    ev.BucketTaken, ev.WentOnEarly, ev.CalledLate, ev.Withdrawn, HoldReleased, ReleasesConfirmed, ReleaseStruck,
    ev.TileCounted, ev.DaySigned, ev.DaySealed, ev.AddendumOpened, ev.CorrectionMade, ev.PointAnswered,
    ev.SamplesOrdered, ev.SampleSpoiled, ev.MethodReleased,
)  # fmt: skip
# What the sound "kept" says as well.
_SOUNDED = {
    "engine-kept",
    "engine-kept-already",
    "engine-acknowledged",
    "engine-ready",
    "engine-noted",
    "engine-photo-left-out",
    "engine-reading-left-out",
}
_DUE = {"engine-is-due", "engine-lift-due"}
# What makes a number doubtful that was kept.
_DOUBTS = {"engine-spread-too-much"}


@dataclass(frozen=True, slots=True)
class ToSay:
    """What is told of an answer. whole: to an eye; words: to an ear, None for the sound alone; sound: before the words,
    `times` of it."""

    whole: Figure | None
    words: Figure | None
    sound: ChimeName | None = None
    times: int = 1


@dataclass(slots=True)
class Counts:
    """How much was said. utterances: by the crew, understood or not; crew_words: in them; tablet_words: spoken by the
    tablet. Talk that was not meant for the tablet is not among them."""

    utterances: int = 0
    crew_words: int = 0
    tablet_words: int = 0

    def __add__(self, other: Counts) -> Counts:
        return Counts(
            self.utterances + other.utterances,
            self.crew_words + other.crew_words,
            self.tablet_words + other.tablet_words,
        )

    @property
    def seconds(self) -> float:
        """How long the tablet spoke, at the speed of its voice [s]."""
        return 60 * self.tablet_words / WORDS_PER_MINUTE


@dataclass(slots=True)
class _Memory:
    """What a person has heard today: whole questions, how often each answer, and the last answer to each thing done."""

    questions: set[Hashable] = field(default_factory=set)
    answers: Counter[Hashable] = field(default_factory=Counter)
    last: dict[Hashable, Hashable] = field(default_factory=dict)


class Speaking:
    """Decides what is said of a day, and counts it. It makes no sound itself.

    changed: called with the new level when somebody says "quiet" or "talk to me".
    """

    def __init__(
        self, level: SpeakingLevel = "few words", changed: Callable[[SpeakingLevel], None] = lambda _level: None
    ) -> None:
        self.level = level
        self._changed = changed
        # By the area that was open, "" for none.
        self.by_area: dict[str, Counts] = {}
        self._memory: dict[str, _Memory] = {}
        self._last: Figure | None = None

    # --- what was said --------------------------------------------------------------------------------------------

    @property
    def counts(self) -> Counts:
        """Of the whole run."""
        return sum(self.by_area.values(), Counts())

    @property
    def utterances(self) -> int:
        """How often the crew spoke to the tablet, understood or not."""
        return self.counts.utterances

    @property
    def words_said(self) -> int:
        """How many words the tablet spoke."""
        return self.counts.tablet_words

    def heard(self, day: Day, words: str) -> None:
        """Count an utterance of the crew."""
        counts = self._counts(day)
        counts.utterances += 1
        counts.crew_words += len(words.split())

    def _counts(self, day: Day) -> Counts:
        return self.by_area.setdefault(day.state.active or "", Counts())

    # --- what is to be said ---------------------------------------------------------------------------------------

    def reply(self, day: Day, reply: Reply) -> ToSay:
        """What is told of something heard or typed, which is counted."""
        command = reply.catch.command
        ends_note = isinstance(command, cmd.MakeNote | cmd.AnswerPoint) and command.audio is not None
        if reply.fate is not Fate.IGNORED and not ends_note:
            self.heard(day, reply.catch.words)
        sound = _SOUND.get(reply.fate)
        if reply.answer is None or ends_note or reply.fate is not Fate.TAKEN:
            return self._tell(day, reply.spoken, reply.spoken, sound)
        return self._answered(day, reply.answer, command, reply.spoken)

    def answer(self, day: Day, answer: Answer, command: cmd.Command | None = None) -> ToSay:
        """What is told of something that was pressed."""
        return self._answered(day, answer, command, spoken_answer(day, answer))

    def clock(self, day: Day, answer: Answer) -> ToSay:
        """What is told when time has passed: always all of it."""
        return self._tell(day, answer.say, answer.say, "time is up", 2)

    def tell(self, day: Day, said: Figure, fate: Fate | None = None) -> ToSay:
        """What is told whole, whatever the level."""
        return self._tell(day, said, said, _SOUND.get(fate) if fate is not None else None)

    def _tell(
        self, day: Day, whole: Figure | None, words: Figure | None, sound: ChimeName | None, times: int = 1
    ) -> ToSay:
        spoken = len(day.words.aloud(words).split()) if words is not None else 0
        self._counts(day).tablet_words += spoken
        if whole is not None:
            self._last = whole
        return ToSay(whole, words if spoken else None, sound, times)

    def _answered(self, day: Day, answer: Answer, command: cmd.Command | None, whole: Figure | None) -> ToSay:
        if not answer.taken:
            return self._tell(day, whole, whole, "refused")
        if isinstance(command, cmd.Ask) and not answer.events:
            whole = self._asked(command, whole)
            self._knows(day, answer.then, whole)
            return self._tell(day, whole, whole, "kept")
        words = whole if self.level == "all words" else _trimmed(self._few(day, answer, whole))
        self._knows(day, answer.then, words)
        return self._tell(day, whole, words, "kept")

    def _asked(self, command: cmd.Ask, whole: Figure | None) -> Figure | None:
        """What a question is answered with, where the tablet's own speaking answers it."""
        if command.about == "repeat":
            return self._last if self._last is not None else whole
        if command.about not in ("quiet", "talk"):
            return whole
        step = 1 if command.about == "quiet" else -1
        self.level = LEVELS[min(max(LEVELS.index(self.level) + step, 0), len(LEVELS) - 1)]
        self._changed(self.level)
        return message("ear-level", level=self.level.replace(" ", "-"))

    # --- few words ------------------------------------------------------------------------------------------------

    def _person(self, day: Day) -> _Memory:
        return self._memory.setdefault(day.state.speaker.name if day.state.speaker is not None else "", _Memory())

    def _knows(self, day: Day, asked: Prompt, words: Figure | None) -> None:
        """Whoever speaks has heard a question whole, where it was spoken whole."""
        question = _question(asked)
        if words is not None and holds(words, question):
            self._person(day).questions.add(_shape(question))

    def _few(self, day: Day, answer: Answer, whole: Figure | None) -> Figure | None:
        """The words for an ear where it is not told all of them; "" for none."""
        memory, done, told = self._person(day), _what_was_done(answer), _shape(whole)
        changed = memory.last.get(done, told) != told
        often = memory.answers[(done, told)]
        memory.answers[(done, told)] += 1
        memory.last[done] = told
        must_hear = answer.alarm or _is_read_back(day, answer) or _has(answer, _FAILS) or _codes(answer.say) & _DOUBTS
        if _goes_on(answer, whole):
            return self._read_back_and(answer.then, whole, memory)
        if must_hear:
            return whole
        asked, says, lifts = answer.then, answer.say, _asks_for_lift(day, answer)
        question = "" if holds(says, _question(asked)) else _question(asked)
        must = question != "" and asked.short is None
        # What was called in one breath and kept by its next phrase was read back here only, and a lifted tile's name.
        reads = any(
            isinstance(e.body, ev.ReadingCalled) or (isinstance(e.body, ev.TileLifted) and e.body.label is not None)
            for e in answer.events
            if e.source.how == "spoken"
        )
        if self.level == "sounds":
            return Several((says if lifts or reads else "", question if must else ""), "sentences")
        due = lifts or bool(_codes(says) & _DUE)
        if often >= _TOLD_IN_WORDS and not (due or changed or _has(answer, _CHANGES)):
            return Several((says if reads else "", question if must else ""), "sentences")
        if question != "" and asked.short is not None and _shape(question) in memory.questions:
            # What fell due is named already.
            question = "" if due else asked.short
        return Several((says, question), "sentences")

    def _read_back_and(self, asked: Prompt, whole: Figure | None, memory: _Memory) -> Figure:
        """A value that the next phrase keeps: it is told at every level, what is asked after it as any question."""
        assert isinstance(whole, Several)
        *told, question = whole.items
        if asked.short is not None:
            if self.level == "sounds":
                question = ""
            elif _shape(question) in memory.questions:
                question = asked.short
        return Several((*told, question), "sentences")


def _question(asked: Prompt) -> Figure:
    """What is asked now, or once the next phrase keeps what was read back."""
    return asked.say if asked.goes_on is None else asked.goes_on


def _goes_on(answer: Answer, whole: Figure | None) -> bool:
    """Whether a reading was called just now that the next phrase keeps, and nothing failed before it."""
    asked = answer.then.goes_on
    if asked is None or answer.alarm or _has(answer, _FAILS) or not isinstance(whole, Several):
        return False
    return whole.items[-1] == asked


def _what_was_done(answer: Answer) -> Hashable:
    """The steps that an answer is about, in order; what else was done where it is about none."""
    steps = dict.fromkeys(
        (type(event.body).__name__, event.body.section, event.body.step)
        for event in answer.events
        if isinstance(event.body, AtStep)
    )
    return tuple(steps) or tuple(dict.fromkeys(type(event.body).__name__ for event in answer.events))


def _is_read_back(day: Day, answer: Answer) -> bool:
    """Whether something waits for its yes."""
    return bool(answer.events) and day.state.pending is not None and answer.then.goes_on is None


def _has(answer: Answer, kinds: tuple[type, ...]) -> bool:
    return any(isinstance(event.body, kinds) for event in answer.events)


def _asks_for_lift(day: Day, answer: Answer) -> bool:
    """Whether a tile is to be lifted from here on."""
    for event in answer.events:
        if isinstance(event.body, ev.LiftDue):
            return True
        if isinstance(event.body, ev.SectionOpened):
            section = day.state.areas[event.body.area].checklist.section(event.body.section)
            if section is not None and section.lift:
                return True
    return False


def _trimmed(words: Figure | None) -> Figure | None:
    """Without what the sound says already, where there is anything else."""
    told = _sentences(words)
    loud = [one for one in told if not (isinstance(one, Message) and one.code in _SOUNDED)]
    return Several(tuple(loud or told), "sentences")


def _sentences(told: Figure | None) -> list[Figure]:
    if isinstance(told, Several) and told.link == "sentences":
        return [one for item in told.items for one in _sentences(item)]
    return [] if told is None or told == "" else [told]


def _codes(told: Figure) -> set[str]:
    match told:
        case Message():
            return {told.code}
        case Several():
            return {code for item in told.items for code in _codes(item)}
        case Text():
            return {""}
        case _:
            return set()


def _shape(told: Figure | None) -> Hashable:
    """What is told without its figures: codes, a checklist's own words, and phrases that may be said.

    >>> from fractions import Fraction
    >>> from fieldassist.trade.quantities import Quantity
    >>> six, nine = (message("engine-lift-passes", lift=Quantity(Fraction(n), "count")) for n in (6, 9))
    >>> _shape(six) == _shape(nine), _shape(six) == _shape(message("engine-kept"))
    (True, False)
    """
    match told:
        case Message():
            return (
                told.code,
                tuple(
                    (name, figure if name == "phrase" and isinstance(figure, str) else _shape(figure))
                    for name, figure in sorted(told.figures.items())
                ),
            )
        case Several():
            return (told.link, tuple(_shape(item) for item in told.items))
        case Text():
            return told.by_language
        case None:
            return None
        case _:
            return type(told).__name__
