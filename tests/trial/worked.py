"""Trials worked on a real day: typed as a crew would, whatever order was drawn. Figures are invented."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from fieldassist.checklist.loader import load_folder
from fieldassist.checklist.plan import DayPlan
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Answer, Day
from fieldassist.places import shipped
from fieldassist.voice.phrases import Taken, understand

MORNING = datetime.fromisoformat("2026-03-10T07:00:00+01:00")
MORTAR: dict[str, Any] = {
    "name": "Sample Mortar L",
    "kind": "large-and-heavy-tile",
    "pot_life": "90 min",
    "open_time": "20 min",
    "slake": "7 min",
    "least_bed": "3 mm",
    "greatest_bed": "12 mm",
    "bag": "20 kg",
    "bag_yield": "14 L",
    "water_per_bag": "6 L",
}
TRIED = {"notch": ["quarter inch square", "half inch square"], "sides": ["one", "both"]}


def planned(**trial: Any) -> DayPlan:
    """A day with one trial, "mock up", of two notches on one side and on both, read by two; `trial`: other fields."""
    given = {
        "place": "wet",
        "surface": "wall",
        "readers": ["rosa", "otto"],
        "repeats": 3,
        "a_batch": 6,
        **({} if "combinations" in trial else {"try": [TRIED]}),
        **trial,
    }
    return DayPlan.model_validate(
        {
            "site": "Quillhaven Baths, house four",
            "date": "2026-03-10",
            "crew": [
                {"name": "rosa", "role": "installer"},
                {"name": "otto", "role": "installer"},
                {"name": "edwin", "role": "foreman"},
            ],
            "areas": [
                {
                    "name": "mock up",
                    "checklist": "mock-up",
                    "where": "bench in the yard",
                    "piece": {"product": "tile", "length": "600 mm", "width": "600 mm", "thickness": "10 mm"},
                    "mortar": MORTAR,
                    "trial": given,
                }
            ],
        }
    )


@dataclass
class Crew:
    """A crew that works a trial. read: contact of a sample by its letter and its number of that letter, by reader;
    reader: "grid" for what is counted."""

    day: Day
    clock: SimulatedClock
    read: Callable[[str, int, str], float]
    made: dict[str, int] = field(default_factory=dict)

    def say(self, words: str, minutes: float = 0.3) -> Answer:
        """Type a phrase; it must be taken."""
        answer = self.try_to_say(words, minutes)
        assert answer.taken, f"{words}: {self.day.words(answer.say)}"
        return answer

    def try_to_say(self, words: str, minutes: float = 0.3) -> Answer:
        self.clock.advance(minutes)
        found = understand(words, self.day.prompt.offers)
        assert isinstance(found, Taken), f"{words}: {found}"
        return self.day.do(found.command)

    def begin(self) -> None:
        """Up to the first sample."""
        for words in ("this is rosa", "start area mock up", "understood"):
            self.say(words)
        for words in ("air temperature 20", "base temperature 18", "base checked"):
            self.say(words)

    def mix(self) -> None:
        self.say("new batch")
        while self.day.prompt.caution is not None:
            self.say("understood")
        self.say("1 bag")
        if not self.day.state.area.progress.lot:  # type: ignore[union-attr]
            self.say("lot 47")
            self.say("yes")
        for words in ("water 6 liters", "batch mixed"):
            self.say(words)
        self.say("remixed", 7.5)

    def sample(self, *, spoiled: str = "", void: str = "void 2 square centimeters") -> str:
        """One sample, up to the end of its reading; spoiled: why, said once it is set; void: how it is called."""
        self.say("next sample")
        while self.day.prompt.caution is not None:
            self.say("understood")
        area = self.day.state.area
        assert area is not None
        assert area.sample is not None
        letter = area.sample.letter
        self.say("spread")
        self.say("combed straight")
        while area.sample.seen is None:
            step = self.day.state.area.step  # type: ignore[union-attr]
            assert step is not None
            if spoiled and step.id == "looked":
                self.say(spoiled)
                return letter
            self.say(step.phrases()[0], 1.0)
            area = self.day.state.area
            assert area is not None
            if area.sample is None:
                break
        self.say("no photo")
        trial = area.plan.trial
        assert trial is not None
        self.made[letter] = self.made.get(letter, 0) + 1
        for reader in trial.readers if len(trial.readers) > 1 else ("",):
            if reader == trial.readers[0]:
                self.say("both noted")
            percent = self.read(letter, self.made[letter], reader or trial.readers[0])
            self.say(f"{reader} reads {percent:g}" if reader else f"coverage {percent:g}")
        if trial.counted:
            self.say(f"counted {self.read(letter, self.made[letter], 'grid'):g}")
        beds: tuple[str, ...] = ("bed 5 mm", "second bed 5 mm", "third bed 5 mm") if trial.bed == "gauge" else ()
        beds = ("mortar used 2.6 kg",) if trial.bed == "mass" else beds
        for words in (void, "edges full", *beds):
            self.say(words)
        for words in ("effort fair", "free of air", "yes"):
            self.say(words)
        return letter

    def all_samples(self, spoiled: Mapping[int, str] | None = None) -> None:
        """Every sample there is; spoiled: by the number of the sample, why."""
        area = self.day.state.area
        assert area is not None
        number = 0
        while self.day.state.area.next_sample is not None:  # type: ignore[union-attr]
            if number % 6 == 0:
                self.mix()
            number += 1
            self.sample(spoiled=(spoiled or {}).get(number, ""))


def worked(path: Path, read: Callable[[str, int, str], float], plan: DayPlan | None = None) -> Crew:
    """A day at `path` with a crew that has begun the trial."""
    clock = SimulatedClock(MORNING)
    checklists, _ = load_folder(shipped("checklists"))
    day = Day.begin(path, plan or planned(), checklists, clock, lot_seed="5eed" * 16)
    crew = Crew(day, clock, read)
    crew.begin()
    return crew
