"""One breath: several phrases that the sequence takes one after the other, read as a chain.

Every phrase is tried on the state that the ones before it would leave, at the same moment, on throw-away states: so a
chain means what its phrases said one by one would mean, and nothing is understood that the sequence would refuse.

| what stands in a chain | what becomes of it |
|---|---|
| a phrase that the sequence takes there | it is taken |
| a phrase that is refused there, such as behind a value that needs its yes | the chain ends before it, and says why |
| "understood" or "yes", but at the beginning | the chain ends before it: what it answers was not told yet |
| a question, a signature | the chain ends before it: it is said alone |
| "no" or "scratch that", behind anything but a value or another one | the chain ends before it: it is said alone |
| "no" and one of several values that wait together, named again | that value is replaced, the others wait on |
| words that are no phrase | typed: the chain ends before them; spoken: it is asked back as a whole |
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine
from fieldassist.checklist.ahead import ALONE, AT_FIRST
from fieldassist.checklist.commands import Command
from fieldassist.checklist.moment import Moment, Source
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.plan import Role, fold_letters
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.state import State
from fieldassist.trade.message import Message, Several, message
from fieldassist.voice.phrases import SPEECH, Beginnings, Taken, Unclear, Understood, core

# A breath has some phrases; more trials than that are a puzzle, not a breath. Ours, not measured.
_MOST_TRIALS = 80


@dataclass(frozen=True, slots=True)
class DayOnTrial:
    """A day at a moment, to try phrases on: nothing of it reaches the record.

    source: how the words came; lot_seed: as `engine.decide` takes it; doubted: the commands that were heard with doubt
    and wait for a yes.
    """

    state: State
    now: Moment
    source: Source
    lot_seed: str | None = None
    doubted: tuple[Command, ...] = ()

    def after(self, command: Command) -> DayOnTrial | Message:
        """The day once the command was carried out; why it would be refused."""
        if self.doubted and isinstance(command, cmd.Keep | cmd.Withdraw):
            meant = replace(self, doubted=())
            return meant.after_all(self.doubted) if isinstance(command, cmd.Keep) else meant
        outcome = engine.decide(self.state, command, self.now, "trial", self.source, self.lot_seed)
        if isinstance(outcome, engine.Refusal):
            return outcome.why
        return replace(self, state=outcome.after, doubted=())

    def takes(self, command: Command) -> bool:
        """Whether the sequence takes the command at this moment."""
        return isinstance(self.after(command), DayOnTrial)

    def after_all(self, commands: Sequence[Command]) -> DayOnTrial | Message:
        """The day once all of the commands were carried out; why the first is refused that would be."""
        trial = self
        for command in commands:
            after = trial.after(command)
            if isinstance(after, Message):
                return after
            trial = after
        return trial

    def beginnings(self) -> Beginnings:
        """What may be said: while a value waits also what may be said once it is kept, to tell what comes first."""
        offers = prompt(self.state, self.now).offers
        if self.state.pending is not None:
            kept = self.after(cmd.Keep())
            if isinstance(kept, DayOnTrial):
                offers += prompt(kept.state, self.now).offers
        return Beginnings(offers)


@dataclass(frozen=True, slots=True)
class Stop:
    """The words at which a chain ends before its end, and why. known: from there on all is phrases, refused or not."""

    words: str
    why: Message
    known: bool


@dataclass(frozen=True, slots=True)
class Chained:
    """Phrases that are taken one after the other; where it ends early. apart: a comma or "and" stands at its end.

    refused: the phrase there that the sequence refuses, tried with the chain so that the record has it. Without pieces
    it is the first that is refused, and only where all is phrases.
    """

    pieces: tuple[Taken, ...]
    stop: Stop | None = None
    refused: Taken | None = None
    apart: bool = False

    @property
    def commands(self) -> tuple[Command, ...]:
        """What is carried out, the phrase that is refused at the end included."""
        return tuple(piece.command for piece in (*self.pieces, *([self.refused] if self.refused else [])))


def read(words: str, offers: Sequence[Offer], trial: DayOnTrial) -> Chained | None:
    """The words as a chain that begins with one of the offers; None where they are none.

    The chain that goes furthest is meant, with the longest phrases where several go as far.
    """
    return _Reader(_Breath.of(words), trial).read(Beginnings(offers))


@dataclass(frozen=True, slots=True)
class _Breath:
    """The words that carry something; before which of them a comma stands."""

    words: tuple[str, ...]
    breaks: frozenset[int]

    @classmethod
    def of(cls, text: str) -> _Breath:
        words: list[str] = []
        breaks: set[int] = set()
        for token in re.sub(r"(?<=[a-z])-(?=[a-z])", " ", fold_letters(text).lower()).split():
            bare = token.rstrip(",;")
            words += core([bare]) if bare else ()
            if bare != token:
                breaks.add(len(words))
        return cls(tuple(words), frozenset(breaks))

    def joined(self, at: int) -> int:
        """Where the next phrase begins: after "and" and "then"."""
        while at < len(self.words) - 1 and self.words[at] in SPEECH.joins:
            at += 1
        return at


@dataclass(frozen=True, slots=True)
class _End:
    """How far phrases go: up to which word, in a day that stands so, where what begins there may be said so."""

    at: int
    pieces: tuple[Taken, ...]
    trial: DayOnTrial
    ready: Beginnings


@dataclass
class _Reader:
    breath: _Breath
    trial: DayOnTrial
    trials: int = 0
    furthest: _End | None = None
    # Where the first phrase may begin: with the first word, or behind a name, before and after that one sets.
    begins: list[_End] = field(default_factory=list)

    def read(self, first: Beginnings) -> Chained | None:
        self.begins = [_End(0, (), self.trial, first)]
        whole = self._one_anew(first) or self._whole(self.begins[0]) or self._named(first)
        if whole is not None:
            return Chained(whole)
        for end in self.begins if self.furthest is None else (self.furthest,):
            stop, refused = self._stop(end)
            if end is self.furthest or (refused is not None and stop.known):
                return Chained(end.pieces, stop, refused, apart=self._apart(end.at))
        return None

    def _one_anew(self, first: Beginnings) -> tuple[Taken, ...] | None:
        """As `_whole`, where "no" begins it and names one of several answers that wait: the no is for that one."""
        words, waiting = self.breath.words, {(one.task.section, one.task.step) for one in self.trial.state.waiting}
        if len(waiting) < 2 or self.trial.doubted:
            return None
        for length, meaning in first.of(words).items():
            if not (isinstance(meaning, Taken) and isinstance(meaning.command, cmd.Withdraw)):
                continue
            at = self.breath.joined(length)
            for anew in first.of(words[at:]).values():
                if not (isinstance(anew, Taken) and isinstance(anew.command, cmd.GiveReading | cmd.Choose)):
                    continue
                if (anew.command.section, anew.command.step) in waiting:
                    return self._whole(_End(at, (), self.trial, first), begun=True)
        return None

    def _named(self, first: Beginnings) -> tuple[Taken, ...] | None:
        """As `_whole`, with the name of whoever sets called first: who it is already is not said again."""
        words, state = self.breath.words, self.trial.state
        area = state.area
        for person in state.plan.crew if state.plan is not None and area is not None else ():
            said = tuple(person.said.split())
            if person.role is not Role.INSTALLER or not said or words[: len(said)] != said:
                continue
            self.begins.append(_End(len(said), (), self.trial, first))
            if area is None or area.setter != person.name:
                sets = Taken(cmd.SetterIs(name=person.name), " ".join(said))
                trial = self.trial.after(sets.command)
                if isinstance(trial, Message):
                    return None
                self.begins.append(_End(len(said), (sets,), trial, first))
            return self._whole(self.begins[-1], begun=True)
        return None

    def _whole(self, end: _End, *, begun: bool = False, cut: bool = False) -> tuple[Taken, ...] | None:
        """Phrases from there to the last word; None where there are none.

        begun: no phrase was said before; cut: words behind a value that belong to it would be left over.
        """
        if end.at == len(self.breath.words):
            return None if begun else end.pieces or None
        if not begun and not cut and end.pieces and (self.furthest is None or end.at > self.furthest.at):
            self.furthest = end
        refused: set[tuple[str, str]] = set()
        for length, meaning in self._found(end):
            if self.trials >= _MOST_TRIALS:
                return None
            if not isinstance(meaning, Taken) or _said_alone(meaning.command, end.pieces, end.trial) is not None:
                continue
            self.trials += 1
            after = end.trial.after(meaning.command)
            read = meaning.command
            step = (read.section, read.step) if isinstance(read, cmd.GiveReading) else None
            if isinstance(after, Message):
                # "Three inches" is refused: then it is not "three" with a word too many.
                refused |= {step} if step is not None else set()
            else:
                at = self.breath.joined(end.at + length)
                pieces = (*end.pieces, meaning)
                last = at == len(self.breath.words)
                ready = end.ready if last else after.beginnings()
                found = self._whole(_End(at, pieces, after, ready), cut=cut or step in refused)
                if found is not None:
                    return found
        return None

    def _found(self, end: _End) -> Iterator[tuple[int, Understood]]:
        """Phrases at the beginning of what is left: those within commas first, then the longest."""
        words, breaks = self.breath.words, self.breath.breaks
        comma = min((b for b in breaks if b > end.at), default=len(words))
        bare = not end.pieces or self._apart(end.at) or isinstance(end.pieces[-1].command, cmd.Withdraw)
        # "And" stands in numbers too: two values are told apart by a comma, or by what they are called.
        if end.pieces and isinstance(end.pieces[-1].command, cmd.GiveReading) and end.at not in breaks:
            bare = False
        found = end.ready.of(words[end.at :], bare=bare)
        yield from sorted(found.items(), key=lambda each: (end.at + each[0] > comma, -each[0]))

    def _apart(self, at: int) -> bool:
        """Whether a comma, "and" or "then" stands before the word."""
        return at in self.breath.breaks or self.breath.words[at - 1 : at] in [(join,) for join in SPEECH.joins]

    def _stop(self, end: _End) -> tuple[Stop, Taken | None]:
        """Why phrases do not go on there, and the one that is refused."""
        known = self._known(end)
        # A caution that is due by then leaves little that may be said: it is told, and phrases they are all the same.
        for _, meaning in (*self._found(end), *self._found(replace(end, ready=self.begins[0].ready))):
            if isinstance(meaning, Unclear):
                values = Several(tuple(choice.value for choice in meaning.choices), "or")
                return Stop(meaning.text, message("ear-could-be", values=values), known), None
            if isinstance(meaning, Taken):
                why = _said_alone(meaning.command, end.pieces, end.trial)
                if why is not None:
                    return Stop(meaning.text, why, known), None
                after = end.trial.after(meaning.command)
                if isinstance(after, Message):
                    return Stop(meaning.text, after, known), meaning
        rest = " ".join(self.breath.words[end.at :])
        return Stop(rest, message("ear-none-of-the-phrases"), False), None

    def _known(self, end: _End) -> bool:
        """Whether all that is left is phrases, whatever the sequence says to them."""
        words = self.breath.words
        reached, last = {end.at}, len(words)
        for at in range(end.at, last):
            if at in reached:
                for ready in (end.ready, self.begins[0].ready):
                    reached |= {self.breath.joined(at + length) for length in ready.of(words[at:], bare=True)}
        return last in reached


def _said_alone(command: Command, pieces: Sequence[Taken], trial: DayOnTrial) -> Message | None:
    """Why a command is no part of the chain that has these phrases already; None where it may be."""
    if isinstance(command, ALONE):
        return message("ear-said-alone")
    if not pieces:
        return None
    if isinstance(command, AT_FIRST):
        return message("ear-not-told-yet")
    if isinstance(command, cmd.Withdraw) and trial.state.pending is None:
        return None if isinstance(pieces[-1].command, cmd.Withdraw) else message("ear-said-alone")
    return None
