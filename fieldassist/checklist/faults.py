"""What is wrong in a file that somebody wrote: a code, its figures, and the place below the thing that was checked.

The checks of `schema` and `plan` raise these; `loader` adds file, line and field, and says them in words.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic_core import PydanticCustomError

KIND = "faults"  # the type of the pydantic error that carries them


@dataclass(frozen=True, slots=True)
class Fault:
    """One mistake; `at` is its place below the model that was checked, such as ("limit", "unit")."""

    code: str
    at: tuple[str | int, ...]
    figures: Mapping[str, Any]


@dataclass(slots=True)
class Faults:
    """Gathers the mistakes of one check, so that they are told together."""

    found: list[Fault] = field(default_factory=list)

    def add(self, code: str, *at: str | int, **figures: Any) -> None:
        """One more mistake; its code is one of `WORDS`."""
        self.found.append(Fault(code, at, figures))

    def names(self, name: str | None, allowed: Sequence[str] | set[str], *at: str | int) -> None:
        """A mistake where `name` stands for something that the file does not hold."""
        if name is not None and name not in allowed:
            self.add("name-not-in-file", *at, given=name, allowed=sorted(allowed))

    def twice(self, what: str, names: Sequence[str], place: str) -> None:
        """A mistake for each of `names` that stood before in the list called `place`."""
        for index, name in enumerate(names):
            if name in names[:index]:
                self.add("id-twice", place, index, "id", what=what, given=name)

    def tell(self) -> None:
        """Raises what was found, if anything was."""
        if self.found:
            raise PydanticCustomError(KIND, "{count} faults", {"count": len(self.found), KIND: tuple(self.found)})


def in_words(fault: Fault) -> str:
    """The sentence. Lists are joined by commas; where a name is near to one that is allowed, that one is offered."""
    figures = {
        name: ", ".join(map(str, value)) if isinstance(value, list | tuple) else value
        for name, value in fault.figures.items()
    }
    text = WORDS[fault.code].format(**figures)
    near = difflib.get_close_matches(
        str(fault.figures.get("given", "")), [str(a) for a in fault.figures.get("allowed", ())], 1, 0.75
    )
    return f"{text} (did you mean {near[0]!r}?)" if near else text


WORDS = {
    # limits, facts, clocks
    "limit-mixed": "a limit is numbers, a rule or a calculation, not several of them",
    "limit-without-result": "a limit by calculation names the result that is the limit: result: greatest gap",
    "limit-result-alone": "given and result belong to a limit by calculation",
    "limit-empty": "a limit needs at_least, at_most, rule or calculation",
    "limit-without-unit": "a limit in numbers needs its unit",
    "limit-without-basis": "a limit in numbers needs its basis: the document and clause, or "
    "'common practice, no published source'",
    "limit-impossible": "at_least {least} lies above at_most {most}: nothing could pass",
    "calculation-unknown": "no computation is called {given!r}; `fieldassist calc` lists all",
    "rule-unknown": "no rule is called {given!r}; allowed: {allowed}",
    "fact-unknown": "no fact is called {given!r}; allowed: {allowed}",
    "unit-unfit": "{given!r} does not measure {measured}; allowed: {allowed}",
    "clock-rule-or-lasts": "a clock has either a rule or lasts",
    "clock-without-basis": "a fixed duration needs its basis",
    # steps
    "phrase-unspeakable": "{given!r} must be lower-case words as they are spoken{reading}",
    "phrase-without-value": "{given!r} has no {{value}} for the reading",
    "phrase-with-value": "{{value}} stands only in the phrases of a reading",
    "step-not-reading": "only a reading has {field!r}; this step's kind is {kind!r}",
    "step-without-say": "'say' lists the words that answer it; at least one phrase is needed",
    "step-photo-say": "a photo is not answered in words: leave 'say' out",
    "step-options": "options belong to kind 'choice', and a choice needs at least one",
    "step-choice-say": "the phrases of a choice stand at its options",
    "step-without-by": "a hold point names who releases it: by: foreman",
    "step-without-on-fail": "it can fail but has no on_fail: say which corrective action cures a failure",
    "quantity-unknown": "no quantity is called {given!r}; allowed: {allowed}",
    "label-with-units": "a label has neither units nor limits",
    "reading-without-units": "a reading lists its units, the usual one first; allowed: {allowed}",
    # sections
    "section-called": "'called' lists the words that open a section with when: called",
    "section-due": "'due' belongs to when: due, and is needed there",
    "section-needs": "only a called section has needs",
    "section-lifts": "one lift a round",
    "section-measures": "'measures' belongs to a section with a step of kind lift",
    "section-lift-unmeasured": "a lift needs a reading that measures: coverage",
    # the file as a whole
    "id-twice": "{what} {given!r} stands twice; ids must differ",
    "name-not-in-file": "this file holds no {given!r}; allowed: {allowed}",
    # plans
    "name-unfit": "{given!r} is no name: up to six words of letters, hyphens and apostrophes, such as Jean-Luc O'Brien",
    "name-needs-spoken": "write how {given!r} is said, in letters a to z, beside it: spoken: ivan",
    "notch-needs-spoken": "write how {given!r} is said, in letters a to z, under notches_spoken: {{{given}: ivan}}",
    "crew-share-name": "two people are called {given!r}; the voice could not tell them apart",
    "areas-share-name": "two areas are called {given!r}; the voice could not tell them apart",
    "notches-share-name": "two notches are called {given!r}; the voice could not tell them apart",
    "crew-without-foreman": "the crew has no foreman: nobody could release a hold point or sign the day",
}
