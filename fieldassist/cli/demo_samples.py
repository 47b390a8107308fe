"""What is said of a trial's samples in a demo, by the letter of their combination: which comes next the tablet says."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Annotated

from pydantic import Field

from fieldassist.checklist.plan import Letter, Written
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.rehearsal.samples import due

_FILLED = re.compile(r"\{(\w+)\}")


class SpokenLine(Written):
    """A line of a sample: who, how many seconds after the one before, and what is said or typed, with {names} for what
    is filled in. yes: a yes follows where one is waited for."""

    by: str
    after: Annotated[float, Field(ge=0)]
    said: str = ""
    typed: str = ""
    yes: bool = False

    def filled(self, fill: Mapping[str, str]) -> SpokenLine | None:
        """The line as it is said; None where it is not filled in."""
        wanted = set(_FILLED.findall(self.said + self.typed))
        if not wanted <= set(fill):
            return None
        return self.model_copy(update={"said": self.said.format(**fill), "typed": self.typed.format(**fill)})


class SpokenInstead(Written):
    """A sample of which other lines are said: one that is spoiled. They begin as all do."""

    lines: Annotated[tuple[SpokenLine, ...], Field(min_length=1)]


class SpokenLetter(Written):
    """What is filled in for a combination, and for each of its samples in turn."""

    fill: dict[str, str] = Field(default_factory=dict)
    made: Annotated[tuple[SpokenInstead | dict[str, str], ...], Field(min_length=1)]


class SpokenSamples(Written):
    """What is said of the samples of a trial.

    apart: seconds from the end of one to the beginning of the next; speed: of the recordings; voices: by who speaks;
    each: the lines of a sample; first: in place of its first line, of the first one; batch: the lines of another batch;
    fill: for every letter that does not say otherwise; of: by letter.
    """

    apart: float
    speed: float = 1.0
    voices: dict[str, str]
    each: Annotated[tuple[SpokenLine, ...], Field(min_length=1)]
    first: tuple[SpokenLine, ...]
    batch: tuple[SpokenLine, ...]
    fill: dict[str, str] = Field(default_factory=dict)
    of: dict[Letter, SpokenLetter]

    def played(self, day: Day, clock: SimulatedClock, begins: datetime) -> Iterator[tuple[datetime, SpokenLine]]:
        """The lines of all samples of the area at hand, one by one: each comes of what the one before has led to."""
        at = begins
        while (area := day.state.area) is not None and (what := due(area)) is not None:
            made = [sample.letter for sample in area.progress.samples.values()]
            lines = self.batch if what == "batch" else self._sample(what, made)
            before = (len(made), len(area.progress.batches))
            for line in lines:
                at = max(at, clock.time) + timedelta(seconds=line.after)
                yield at, line
                # What was heard with doubt is asked back before what was read is read back.
                for _ in range(2 if line.yes else 0):
                    if day.prompt.waits_for_yes or day.state.pending is not None:
                        at = max(at, clock.time) + timedelta(seconds=1)
                        yield at, SpokenLine(by=line.by, after=1, said="yes")
            at += timedelta(seconds=self.apart)
            now = day.state.areas[area.plan.name].progress
            if (len(now.samples), len(now.batches)) == before:
                return

    def _sample(self, letter: str, made: list[str]) -> tuple[SpokenLine, ...]:
        spoken = self.of.get(letter)
        at = Counter(made)[letter]
        if spoken is None or at >= len(spoken.made):
            return ()
        one = spoken.made[at]
        lines, own = (one.lines, {}) if isinstance(one, SpokenInstead) else (self.each, one)
        lines = lines if made else (*self.first, *lines[1:])
        fill = {**self.fill, **spoken.fill, **own}
        return tuple(filled for line in lines if (filled := line.filled(fill)) is not None)

    def recording(self, line: SpokenLine) -> str:
        """The file of a line: called by who speaks and the words."""
        return "-".join([line.by, *re.findall(r"[a-z']+", line.said), "brisk"]) + ".flac"
