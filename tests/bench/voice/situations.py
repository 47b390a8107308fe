"""Moments of real work, and what may be said in them: steps of the shipped checklists, and a whole day of the demo."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from random import Random

from fieldassist.checklist.commands import AcknowledgeCaution, Ask, GiveReading, SetterIs
from fieldassist.checklist.loader import load_file, load_folder, load_plan
from fieldassist.checklist.moment import SPOKEN
from fieldassist.checklist.offers import SETS, Offer
from fieldassist.checklist.schema import Checklist
from fieldassist.cli.demo import ByHandEntry, Scenario
from fieldassist.cli.offers import offers_for
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import act, interpret_text
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.rehearsal.by_hand import ByHand
from fieldassist.rehearsal.play import seed_from
from fieldassist.voice.phrases import VALUE, Taken, sample_sentences, understand


@dataclass(frozen=True)
class Situation:
    """A moment: its name, and what may be said."""

    name: str
    offers: tuple[Offer, ...]


@dataclass(frozen=True)
class Sentence:
    """What is said at a moment, and what it means."""

    at: Situation
    meant: Taken

    @property
    def has_value(self) -> bool:
        """Whether it carries a reading or a name."""
        return bool(self.meant.value)


@dataclass(frozen=True)
class Moment:
    """A day on disk, left at some prompt: `opened` gives it back as often as wanted, each time unchanged."""

    name: str
    database: Path
    at: datetime
    offers: tuple[Offer, ...]

    @contextmanager
    def opened(self, folder: Path) -> Iterator[Day]:
        """A copy of the day in `folder`, ready to be spoken to."""
        copy = folder / "day.db"
        for stale in folder.glob("day.db*"):
            stale.unlink()
        shutil.copyfile(self.database, copy)
        with Day.resume(copy, SimulatedClock(self.at)) as day:
            yield day


def checklists() -> dict[str, Checklist]:
    """The shipped checklists."""
    return load_folder(shipped("checklists"))[0]


def steps() -> list[Situation]:
    """Every step of the shipped checklists that can be answered by voice."""
    shipped_ones = checklists()
    found = []
    for name, checklist in shipped_ones.items():
        for step_id in dict.fromkeys(step.id for _, step in checklist.all_steps() if step.kind != "photo"):
            found.append(Situation(f"{name}:{step_id}", tuple(offers_for(f"{name}:{step_id}", shipped_ones))))
    return found


def demo_day(folder: Path) -> list[Moment]:
    """The demo's day, spoken as text, as it stood before each of its phrases."""
    home = shipped("assets") / "demo"
    scenario = load_file(home / "scenario.yaml", Scenario)
    plan = load_plan(home / scenario.plan)
    clock = SimulatedClock(_time(plan.date, scenario.utterances[0].at, scenario.offset))
    folder.mkdir(parents=True, exist_ok=True)
    for stale in folder.glob("*.db*"):
        stale.unlink()
    path = folder / "whole.db"
    found: list[Moment] = []
    day = Day.begin(path, plan, checklists(), clock, kind="rehearsal", lot_seed=seed_from(scenario.seed))
    for utterance in scenario.utterances:
        moment = _time(plan.date, utterance.at, scenario.offset)
        while (due := day.minutes_to_next_alarm()) is not None and (moment - clock.time).total_seconds() > due * 60:
            clock.advance(due)
            if day.tick() is None:
                break
        clock.advance_to(max(moment, clock.time))
        if isinstance(utterance, ByHandEntry):
            ByHand(day, folder / "people", scenario.pin, home).come_to(utterance.by, utterance.typed)
        elif not utterance.talk:
            for said in _one_by_one(day, utterance.said):
                offers = day.prompt.offers
                day.close()  # folds the journal into the file, which can then be copied
                kept = folder / f"{len(found):03d}.db"
                shutil.copyfile(path, kept)
                day = Day.resume(path, clock)
                found.append(Moment(f"day:{said}", kept, clock.time, offers))
                act(day, replace(interpret_text(said, offers, day.trial(SPOKEN)), source=SPOKEN))
    day.close()
    return found


def _one_by_one(day: Day, said: str) -> list[str]:
    """The phrases that were called in one breath, so that the day stands before each of them."""
    chain = interpret_text(said, day.prompt.offers, day.trial(SPOKEN)).chain
    named = (f"{piece.text} {SETS}" if isinstance(piece.command, SetterIs) else piece.text for piece in chain)
    return list(named) or [said]


def _time(date: str, at: str, offset: str) -> datetime:
    return datetime.fromisoformat(f"{date}T{at}{offset}")


def spread(found: Sequence[Situation], count: int) -> list[Situation]:
    """`count` of them, evenly spread; half of them, where there are as many, take a reading or a name."""
    different = list({repr([(o.phrases, o.now, o.slot) for o in one.offers]): one for one in found}.values())
    valued = [one for one in different if any(o.now and o.slot is not None for o in one.offers)]
    plain = [one for one in different if one not in valued]
    some = _evenly(valued, count // 2)
    return [*some, *_evenly(plain, count - len(some))]


def _evenly(found: Sequence[Situation], count: int) -> list[Situation]:
    if len(found) <= count:
        return list(found)
    return [found[round(place * (len(found) - 1) / max(1, count - 1))] for place in range(count)]


def sentences(found: Sequence[Situation], each: int, random: Random) -> list[Sentence]:
    """`each` sentences a situation: half of them readings where one may be given, then work, then questions."""
    drawn = []
    for situation in found:
        may = [o for o in situation.offers if o.now and o.phrases]
        valued = [o for o in may if any(VALUE in p for p in o.phrases)]
        work = [o for o in may if o not in valued and not isinstance(o.command, Ask | AcknowledgeCaution)]
        meant = draw(valued, situation.offers, random, each // 2)
        meant += draw(work, situation.offers, random, (each - len(meant) + 1) // 2)
        meant += draw([o for o in may if o not in valued], situation.offers, random, each - len(meant))
        drawn += [Sentence(situation, one) for one in meant]
    return drawn


def draw(these: Sequence[Offer], among: Sequence[Offer], random: Random, count: int) -> list[Taken]:
    """Sentences for these offers that mean the same among all of them."""
    found: list[Taken] = []
    for _ in range(20 * count):
        if len(found) == count or not these:
            break
        for taken in sample_sentences(these, random, 1):
            meaning = understand(taken.text, among)
            if isinstance(meaning, Taken) and meaning.command == taken.command:
                found.append(taken)
    return found


def readings(moments: Sequence[Moment], count: int, random: Random) -> list[tuple[Moment, Taken]]:
    """`count` spoken readings, the steps taking turns, each with the moment at which it is asked for."""
    asked = reading_moments(moments)
    return [
        (moment, taken)
        for place in range(count)
        for moment, offer in [asked[place % len(asked)]]
        for taken in draw([offer], moment.offers, random, 1)
    ]


def reading_moments(moments: Sequence[Moment]) -> list[tuple[Moment, Offer]]:
    """Moments at which a reading in numbers is asked for, each step of each area once, with the offer for it."""
    found: dict[tuple[str, str, str, str], tuple[Moment, Offer]] = {}
    for moment in moments:
        for offer in moment.offers:
            if offer.now and isinstance(offer.command, GiveReading) and offer.slot is not None:
                key = (offer.command.section, offer.command.step, repr(offer.slot), repr(offer.phrases))
                found.setdefault(key, (moment, offer))
    return list(found.values())


def first_moment(moments: Sequence[Moment], fits: Callable[[Day], bool], folder: Path) -> Moment | None:
    """The first moment whose day fits."""
    for moment in moments:
        with moment.opened(folder) as day:
            if fits(day):
                return moment
    return None
