"""A day in a language that is English letter by letter in disguise: whatever still reads as plain English is a
sentence that stands in no language file."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import get_args

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.offers import READY
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayPlan, Person, Role
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Fate, Reply, act, interpret
from fieldassist.day.session import Answer, Day
from fieldassist.trade.message import Figure
from fieldassist.trade.quantities import UNITS, System
from fieldassist.voice.recognizer import Alternative, Heard
from tests.checklist.days import MORNING, PHOTO, all_checklists, site
from tests.conftest import Crew

PLAIN = re.compile(r"(?<![\w'])[A-Za-z]{2,}(?:[ ,;:.]+[A-Za-z]{2,})+")
QUOTED = re.compile(r"'[^']*'|“[^”]*”")
# What a person wrote in the plan, or said: it is told as it stands.
NOTE = "the door sticks badly"
REMARKS = ("a reading was wrong", "it was the other wall", "too early")
UNKNOWN = ("nobody", "cellar", "no notch", "nothing at all")


def english(text: str, names: tuple[str, ...]) -> list[str]:
    """The runs of plain words of a text, without what may be said ('...'), names, and values with their units."""
    for known in (QUOTED, *(re.compile(re.escape(name), re.IGNORECASE) for name in names)):
        text = known.sub(" … ", text)
    units = "|".join(sorted({re.escape(u.symbol) for u in UNITS.values() if u.symbol}, key=len, reverse=True))
    text = re.sub(rf"[0-9][0-9./-]* ?(?:{units})(?![A-Za-z])", " … ", text)
    return PLAIN.findall(text)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Ýéś óŕ ńó?", []),
        ("Śáý 'next tile' now please", ["now please"]),
        ("Ŕóśá: shower wall, 2 mm óƒ 58.1 cm² (9 in²)", []),
        ("Empty it. Śťíŕ", ["Empty it"]),
    ],
)
def test_plain_english_is_found_and_nothing_else(text: str, found: list[str]) -> None:
    assert english(text, ("shower wall",)) == found


class Listener(Crew):
    """A crew that writes down all that is told, for an eye and for an ear."""

    def __init__(self, day: Day, clock: SimulatedClock) -> None:
        super().__init__(day, clock)
        self.heard: dict[str, str] = {}

    def note(self, where: str, *figures: Figure | None) -> None:
        for figure in figures:
            if figure is not None:
                for words in (self.day.words, self.day.words.aloud):
                    self.heard.setdefault(words(figure), where)

    def look(self, where: str) -> None:
        """All that screen and voice could tell now."""
        asked = self.day.prompt
        self.note(f"prompt {where}", asked.say, asked.ask, asked.basis, asked.requirement, asked.caution)
        self.note(f"offers {where}", *(offer.label for offer in asked.offers))
        self.note(f"clocks {where}", *(clock.title for clock in asked.clocks))
        self.note(f"open points {where}", *(point.line for point in open_points(self.day.state)))

    def hear(self, words: str) -> Reply:
        outcome = super().hear(words)
        self.note(f"answer to {words}", outcome.spoken, outcome.catch.why, *outcome.catch.rivals)
        if outcome.answer is not None:
            self.note(f"answer to {words}", outcome.answer.say)
        self.look(f"after {words}")
        return outcome

    def do(self, command: cmd.Command, *, taken: bool = True) -> Answer:
        answer = self.day.do(command)
        assert answer.taken is taken, self.day.words(answer.say)
        self.note(f"answer to {command.do}", answer.say)
        self.look(f"after {command.do}")
        return answer

    def wait(self, minutes: float) -> None:
        self.clock.advance(minutes)
        answer = self.day.tick()
        if answer is not None:
            self.note("clock", answer.say)
        self.do(cmd.Ask(about="how long"))


def work(crew: Listener) -> None:
    """A day with everything in it."""
    crew.look("at first")
    crew.hear("start area shower wall")
    crew.do(cmd.MakeNote(text=NOTE, audio="5a5a5a5a5a5a5a5a.flac", sha256="5a" * 32))
    written = cmd.AddTranscript(
        target=crew.day.state.last_seq, text=NOTE, likelihood=-0.7, model=NOTE, weights="7b" * 32
    )
    crew.do(written)
    crew.do(written, taken=False)
    crew.hear("weather cloudy")
    crew.hear("this is rosa")
    crew.hear("next tile")
    crew.hear("did anybody bring the long level")
    crew.hear("start area shower wall")
    crew.hear("air temperature twenty one degrees celsius")  # a caution is due
    crew.say("understood", "understood")
    crew.hear("air temperature ninety degrees celsius")  # impossible
    crew.hear("tile set")  # belongs elsewhere
    crew.hear("air temperature two degrees celsius")
    crew.hear("bananas")  # yes or no?
    crew.do(cmd.StartArea(area="hall floor"), taken=False)
    crew.hear("correct 999 twenty")
    crew.say("no", "air temperature two degrees celsius", "air temperature twenty one degrees celsius", "yes")
    crew.say("wall temperature eighteen degrees celsius!", "humidity fifty percent!")
    crew.say("membrane checked", "gap nine millimeters!")
    crew.hear("gap two millimeters")  # its corrective action comes first
    crew.say("base flattened")
    crew.hear("gap two millimeters")  # the patch cures first
    crew.hear("go on early")
    crew.say("go on early quick patch", "gap two millimeters!", "short gap one millimeter!", "wall clean")
    crew.hear("base released")  # waits for the foreman
    crew.say("this is edwin", "base released", "this is rosa")
    crew.hear("scratch that")
    crew.hear("scratch that")
    for command in refused_anyway():
        crew.do(command, taken=False)
    crew.hear("new batch")
    crew.say("understood", "one bag!", "lot b seven!", "water nine liters!", "water poured off", "water five liters!")
    crew.say("batch mixed")
    crew.hear("remixed")  # too early
    crew.wait(8)
    crew.say("remixed", "near miss", "new lot", "lot c nine!", "new batch bucket two", "one bag!")
    crew.say("water five liters!", "batch mixed")
    crew.wait(8)
    crew.say("remixed", "bucket two", "bucket one")
    crew.hear("bucket one")
    crew.hear("bucket three")
    crew.hear("what now")
    crew.hear("how long")
    crew.hear("make a note")
    crew.set_tile()
    crew.lift(percent="seventy", void="nine", corners="corner empty")
    crew.hear("scratch that")
    crew.say("bed five millimeters!", "scraped clean", "both sides")
    crew.hear("method released")
    crew.say("this is edwin", "method released", "this is otto", "otto sets", "set again")
    crew.lift(percent="eighty")
    crew.say(
        "scraped clean",
        "change method to large slanted",
        "this is edwin",
        "method released",
        "this is otto",
        "set again",
    )
    crew.say("test tile lifted", "no photo", "coverage ninety seven percent", "corners full", "corner empty", "no")
    crew.say(
        "corners full",
        "edges full",
        "coverage ninety seven percent",
        "void zero square inches",
        "yes",
        "no gauge",
    )
    crew.say("correct air temperature twenty degrees celsius!", "correct coverage of lift three ninety eight percent!")
    crew.hear("change to both sides")  # too much mortar
    crew.say("put back", "change to both sides on the word of edwin", "change notch to half inch square")
    crew.say("next tile", "back keyed")
    crew.hear("back keyed")
    crew.say("spread", "combed in swirls", "scraped off", "combed straight")
    for minutes in (16, 5):
        crew.wait(minutes)
    crew.say("set in time hands were full")
    for minutes in (60, 20):
        crew.wait(minutes)
    crew.hear("next tile")
    doubts(crew)
    first = crew.day.state.plan.areas[0] if crew.day.state.plan is not None else None
    assert first is not None
    crew.do(cmd.PlanArea(planned=first.model_copy(update={"name": "cellar"})))
    crew.do(cmd.PlanArea(planned=first), taken=False)
    crew.do(cmd.PlanArea(planned=first.model_copy(update={"name": "yard", "spoken": "cellar"})), taken=False)
    crew.do(cmd.AddPerson(person=Person(name="nobody", role=Role.INSTALLER)))
    crew.do(cmd.AddPerson(person=Person(name="nobody", role=Role.FOREMAN)), taken=False)
    crew.do(cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(20)))
    entry = crew.day.state.last_seq
    crew.do(cmd.NoteDust(task="sanding by hand", place="outdoors", minutes=Fraction(5), replaces=entry))
    crew.do(cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(0), replaces=entry + 1))
    crew.do(cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(0)), taken=False)
    crew.do(cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(1441)), taken=False)
    crew.do(cmd.DustStarts(task="handheld power saw", place="outdoors"))
    crew.do(cmd.DustStarts(task="handheld power saw", place="outdoors"), taken=False)
    crew.do(cmd.DustStarts(task="sweeping"))
    crew.do(cmd.DustEnds(minutes=Fraction(90)), taken=False)
    crew.do(cmd.DustEnds())
    crew.do(cmd.DustEnds(), taken=False)
    crew.do(PHOTO)
    for area in ("lobby wall", "hall floor", "attic"):
        crew.hear(f"start area {area}")
        crew.hear("finish area")
    crew.hear("weather rain")
    crew.hear("covered")
    crew.hear("it is over")
    crew.say("go to shower wall")
    crew.hear("sign off")
    crew.hear("answer point one")
    crew.hear("this is edwin")
    crew.hear("answer point two")
    for point, ready in zip([p for p in open_points(crew.day.state) if p.answerable], READY, strict=False):
        crew.do(cmd.AnswerPoint(point=point.id, ready=ready))
    crew.do(cmd.AnswerPoint(value=Fraction(99), ready="looked again"), taken=False)
    crew.hear("sign off")
    crew.say("sign off with open points")
    crew.hear("next tile")
    crew.do(cmd.OpenAddendum(reason=REMARKS[0]))
    crew.do(cmd.Correct(target=9, text=REMARKS[1]))
    crew.do(cmd.Correct(target=9999, text=REMARKS[1]), taken=False)
    crew.do(cmd.OpenAddendum(reason=REMARKS[0]), taken=False)
    crew.say("sign off with open points")


def refused_anyway() -> Iterator[cmd.Command]:
    """Commands that nobody can say, and that a screen or a program could send."""
    yield cmd.SpeakAs(name="nobody")
    yield cmd.StartArea(area="cellar")
    yield cmd.ChangeMethod(method="no notch")
    yield cmd.StartRound(section="nothing at all")
    yield cmd.StartRound(section="tile")
    yield cmd.FinishArea()
    yield cmd.Keep()
    yield cmd.AcknowledgeCaution()
    yield cmd.Correct(target=3, text=REMARKS[2])
    yield cmd.OpenAddendum(reason=REMARKS[2])
    yield cmd.ConfirmStep(section="tile", step="nothing at all")
    yield cmd.GiveReading(section="tile", step="set", value=Fraction(1), unit="mm")
    yield cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(5), replaces=1)


def doubts(crew: Listener) -> None:
    """Words that were heard almost as others, and a bare number that could be two things."""
    offers = crew.day.prompt.offers
    both = Heard((Alternative("weather cloudy", 50.0, ()), Alternative("weather foggy", 49.0, ())), 1.0, foreign=-9.0)
    outcome = act(crew.day, interpret(both, offers))
    assert outcome.fate is Fate.ASKED
    crew.note("doubt", outcome.spoken, outcome.catch.why)
    crew.look("in doubt")
    crew.hear("no")


@pytest.fixture
def listener(tmp_path: Path) -> Iterator[Callable[[System], Listener]]:
    opened: list[Day] = []

    def begin(units: System) -> Listener:
        clock = SimulatedClock(MORNING)
        day = Day.begin(tmp_path / f"{units}.db", site(units), all_checklists(), clock, language="pseudo")
        opened.append(day)
        return Listener(day, clock)

    yield begin
    for day in opened:
        day.close()


def names_of(plan: DayPlan) -> tuple[str, ...]:
    """What the plan's people wrote: names, places, products."""
    named = [plan.site, plan.address, plan.owner, NOTE, *REMARKS, *UNKNOWN]
    for area in plan.areas:
        named += [area.name, area.where, area.mortar.name]
    named += [person.name for person in plan.crew] + list(plan.methods)
    return tuple(sorted(filter(None, named), key=len, reverse=True))


@pytest.mark.parametrize("units", ["metric", "us"])
def test_no_sentence_of_a_day_is_plain_english(listener: Callable[[System], Listener], units: System) -> None:
    crew = listener(units)
    work(crew)
    listing = Listing()
    for event in crew.day.log.events:
        crew.note(f"event {event.body.type}", listing.line(event))
    names = names_of(site(units))
    found = {text: where for text, where in crew.heard.items() if english(text, names)}
    assert not found, "\n".join(f"{where}: {text} -> {english(text, names)}" for text, where in found.items())
    assert len(crew.heard) > 300
    assert not [text for text in crew.heard if "{" in text or "None" in text]


def test_that_day_holds_every_kind_of_event_but_pins_seals_some_of_lifts_trials_and_the_end_of_an_area(
    listener: Callable[[System], Listener],
) -> None:
    crew = listener("metric")
    work(crew)
    happened = {type(event.body) for event in crew.day.log.events}
    kinds = set(get_args(get_args(ev.Body)[0]))
    by_pin = {ev.PinRefused, ev.KeyReplaced, ev.ReleasesConfirmed, ev.ReleaseStruck, ev.DaySealed}
    of_lifts = {ev.LotsRuled, ev.LiftDue, ev.LiftLeft, ev.TilesAccepted, ev.TileTakenOff, ev.InspectionTightened}
    of_lifts |= {ev.MortarSpread, ev.TileCounted, ev.RoundTakenUp, ev.BackMeasured}
    of_trials = {ev.SamplesOrdered, ev.SampleSpoiled, ev.MethodReleased}
    assert kinds - happened == {
        *by_pin,
        *of_lifts,
        *of_trials,
        ev.ClockJumped,
        ev.ClockUnwatched,
        ev.DayRecovered,
        ev.FinishHeld,
        ev.AreaFinished,
        ev.AreaCarried,
    }
    refused = {event.reason.code for event in crew.events(ev.CommandRefused)}
    assert len(refused) >= 20, sorted(refused)
