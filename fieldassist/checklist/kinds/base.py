"""What every kind of step has: its question, what answers it, and what follows from it."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Annotated, ClassVar, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, StringConstraints

from fieldassist.checklist.faults import Faults
from fieldassist.checklist.offers import VALUE, Offer, StepSetting
from fieldassist.checklist.plan import OnlyOf, Person, Role, Written
from fieldassist.checklist.wording import WRITTEN_IN, Phrases, Wording, in_language
from fieldassist.printable import one_line
from fieldassist.trade.message import Figure, Message, Text

Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=60)]
# One id, or several.
Ids = Annotated[tuple[Id, ...], BeforeValidator(lambda given: (given,) if isinstance(given, str) else given)]
# In the annotation of a text that somebody says or types: in the record it is one line, and nothing in it acts.
AS_ONE_LINE = BeforeValidator(one_line)
_SPOKEN = re.compile(r"^(\{value\}|[a-z']+)( (\{value\}|[a-z']+))*$")
_SPOKEN_ELSEWHERE = re.compile(r"^(\{value\}|[^\W\d_']+)( (\{value\}|[^\W\d_']+))*$")


class Asked(BaseModel):
    """Base of all commands: what is asked of a day."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class AtStepAsked(Asked):
    """A command that answers a step."""

    section: str
    step: str


# A movement of the hands that a screen can draw.
Act = Literal["key", "spread", "comb", "set", "slide", "beat in", "lift", "carry", "edges"]


class StepBase(Written, ABC):
    """One thing to do. `label`: what it is called in a sentence and on a key, where the phrase does not tell.

    order: what is to be done, in two to six words that are read from two metres; done: what stands on the key of
    whoever has done it; act: the movement, so that it can be drawn.
    starts, stops: clocks; after: the clock whose time must be over first; needs: sections that change the batch, whose
    batch must be alive; once: asked in the section's first round only; calls: of a section that sets a tile, whether it
    is called for every tile, or on the first one after a change (`witnessing`) and not at those that are counted;
    only: of a sample of a trial, of which combinations it is asked.
    """

    id: Id
    ask: Wording
    label: Wording | None = None
    order: Wording | None = None
    done: Wording | None = None
    act: Act | None = None
    basis: Wording | None = None
    by: Role | None = None
    starts: Ids = ()
    stops: Id | None = None
    after: Id | None = None
    needs: tuple[Id, ...] = ()
    once: bool = False
    calls: Literal["every round", "after a change"] = "every round"
    on_fail: Id | None = None
    only: OnlyOf | None = None

    @property
    def spoken(self) -> Mapping[str, tuple[str, ...]]:
        """The phrases that answer it, by language; none where it is answered otherwise."""
        return {}

    def phrases(self, language: str = WRITTEN_IN) -> tuple[str, ...]:
        """What may be said for it."""
        return in_language(self.spoken, language)

    def taken_from(self, speaker: Person | None) -> bool:
        """Whether whoever speaks may answer it: a step of one role is taken from nobody else."""
        return self.by is None or (speaker is not None and speaker.role is self.by)

    @abstractmethod
    def offers(self, place: StepSetting) -> list[Offer]:
        """What answers it. Only the step at hand also takes the bare answer: a number alone, or 'done'."""

    @property
    def name(self) -> Text:
        """What it is called: its label, the words that answer it, or its question."""
        if self.label is not None:
            return self.label
        said = {language: phrases[0] for language, phrases in self.spoken.items() if phrases}
        named = tuple((language, _as_name(phrase)) for language, phrase in said.items())
        return Text(named) if named else self.ask

    @property
    def called_done(self) -> Text:
        """What stands on the key that answers it once it is done."""
        return self.name if self.done is None else self.done

    def asked(self, language: str = WRITTEN_IN) -> Figure:
        """The question, and the words that answer it where it does not hold them itself; a value needs none."""
        phrases = [phrase for phrase in self.phrases(language) if VALUE not in phrase]
        if not phrases:
            return self.ask
        return Message("prompt-ask-and-say", {"ask": self.ask, "phrase": phrases[0]})


@lru_cache(maxsize=1024)
def _as_name(phrase: str) -> str:
    words = " ".join(phrase.replace(VALUE, " ").split())
    return words[:1].upper() + words[1:]


class Unjudged(StepBase):
    """A step without an acceptance criterion, that tells nothing of a lifted tile."""

    limit: ClassVar[None] = None
    measures: ClassVar[None] = None
    judged: ClassVar[bool] = False


def check_phrases(faults: Faults, phrases: Mapping[str, Sequence[str]], *path: str | int, value: bool) -> None:
    """Phrases must be words as they are spoken; {value} only where a value goes."""
    for language, spoken in phrases.items():
        for index, phrase in enumerate(spoken):
            at = (*path, index) if language == WRITTEN_IN else (*path, language, index)
            if not (_SPOKEN if language == WRITTEN_IN else _SPOKEN_ELSEWHERE).match(phrase):
                faults.add("phrase-unspeakable", *at, given=phrase)
            elif VALUE in phrase and not value:
                faults.add("phrase-with-value", *at, given=phrase)


class Said(Unjudged):
    """A step that is answered by its own phrases."""

    say: Phrases

    @property
    def spoken(self) -> Mapping[str, tuple[str, ...]]:
        """Its own phrases."""
        return self.say

    def check_said(self, faults: Faults) -> None:
        """At least one phrase, and none with a value."""
        if not any(self.say.values()):
            faults.add("step-without-say", "say")
        check_phrases(faults, self.say, "say", value=False)
