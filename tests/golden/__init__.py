"""Logs of each format that must stay readable, with the day that they fold to.

`python -m tests.golden write` works those days that have no log yet: a log is written once, and never again, for what
is stored here is what crews have on disk. `python -m tests.golden states` folds the stored logs anew, where the shape
of a state has changed, and names what else differs: nothing may.
"""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import covering
from fieldassist.checklist import events as ev
from fieldassist.checklist.backs import MeasuredBack
from fieldassist.checklist.fold import apply
from fieldassist.checklist.moment import TYPED, Source
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Done, State
from fieldassist.checklist.told import write_figure
from fieldassist.record.chain import GENESIS, canonical_text, chain_hash, read_event
from fieldassist.record.seal import make_seal
from fieldassist.trade.message import Message, Text, message
from fieldassist.trade.quantities import System
from fieldassist.trade.voids import contact_as_read, void_as_read
from fieldassist.trial.drawn import more_for, order_for
from fieldassist.trial.released import made_up, shown
from fieldassist.trial.samples import analysis_of
from tests.checklist.days import PHOTO, Bench, all_checklists, counted_day, site
from tests.report.conftest import measured_back
from tests.small_day import EDWIN
from tests.trial.worked import planned

FOLDER = Path(__file__).parent
_EVERY = 40


@dataclasses.dataclass(frozen=True)
class Golden:
    """How a checklist is worked: in which area and units, what its rounds are called, and where answers fail."""

    area: str
    units: System
    batch: str = "batch"
    piece: str = "tile"
    fails: tuple[str, str] = ("water", "coverage")


DAYS = {
    "wet-area-wall": Golden("shower wall", "metric"),
    "dry-floor": Golden("hall floor", "us"),
    "gauged-panel-wall": Golden("lobby wall", "metric", piece="panel"),
    "every-kind": Golden("attic", "us", batch="bucket", fails=("joint", "contact")),
}


# Days that came later, with what there was not before: how they are worked.
LATER: Mapping[str, Callable[[], Bench]] = {
    "counted": lambda: _signed(counted_day(5)),
    "trial": lambda: _signed(_trial()),
    # The first whose events show what was asked: it can be decided again.
    "asked": lambda: worked("wet-area-wall", pace=0.04),
    "measured": lambda: _signed(_measured()),
    "transcribed": lambda: _signed(_transcribed()),
}
LOGS = (*DAYS, *LATER)


def _trial() -> Bench:
    """A trial with a combination that is only shown, a spoiled sample, two readers, more samples and a released
    method."""
    tried = [{"notch": "half inch square", "sides": ["one", "both"]}, {"notch": "quarter inch square", "shown": True}]
    plan, head = planned(repeats=2, counted=True, **{"try": tried}), "5a" * 32
    bench = Bench.begun(plan=plan)
    bench.speak("rosa")
    order = order_for(plan.areas[0], all_checklists()["mock-up"], head)
    bench.take(cmd.StartArea(area="mock up", head=head, order=order))
    bench.go_on()
    bench.call("batch")
    for number in range(1, len(order) + 2):
        bench.take(cmd.StartRound(section="sample"))
        if number == 2:
            bench.go_on(5)
            bench.take(cmd.SpoilSample(reason="ridges broke"))
        bench.go_on()
        if number == 4:
            bench.call("batch")
    more = more_for(plan.areas[0], ("A",), 1, head)
    bench.take(cmd.MoreSamples(letters=("A",), head=head, order=more))
    bench.call("sample")
    area = bench.state.area
    assert area is not None
    figures = shown(area, analysis_of(area), "B", date=plan.date, site=plan.site, head=head, by="edwin", why="at hand")
    release = cmd.ReleaseMethod(
        letter="B", areas=("hall",), made=made_up(area, "B", figures), name="edwin", key="11" * 32, signature="22" * 64
    )
    bench.take(release)
    bench.take(cmd.FinishArea())
    return bench


def _measured() -> Bench:
    """Lifts whose backs were measured on their photos: painted since the photo could not tell, measured beside what the
    eye had read, put right by paint, and one that fails."""
    whole = site("metric")
    bench = Bench.begun(plan=whole.model_copy(update={"areas": whole.areas[:1]}))
    bench.pace = 0.04
    bench.start(whole.areas[0].name)
    bench.call("batch")
    backs: tuple[tuple[tuple[float, float, float], dict[str, Any]], ...] = (
        ((98.0, 97.0, 99.0), {"way": "painted", "kind": "combed", "cannot": message("engine-photo-first", area="a")}),
        ((98.2, 96.4, 99.1), {"mortar": ((40, 50),), "bare": ((300, 40),), "eye_percent": 95, "eye_by": "rosa"}),
        ((97.7, 96.2, 98.4), {"way": "corrected", "ridges": "swirled", "direction_deg": 12.5}),
        ((80.3, 78.0, 82.5), {"voids": 1, "ridges": "not readable"}),
    )  # fmt: skip
    for interval, other in backs:
        while not _told_of_photo(bench, measured_back(PHOTO.sha256, *interval, {}, **{"voids": 12, **other})):
            bench.take(cmd.StartRound(section="tile"))
    bench.go_on()
    return bench


def _told_of_photo(bench: Bench, back: MeasuredBack) -> bool:
    """Answer well until nothing waits, and of a lift what was measured of its back; whether there was one."""
    lifted = False
    while (command := bench.next_answer()) is not None:
        area = bench.state.area
        assert area is not None
        task, step = area.task, area.step
        measures = getattr(step, "measures", None)
        if task is not None and isinstance(command, cmd.GiveReading | cmd.Choose) and measures in _ON_A_BACK:
            if measures == "coverage":
                bench.take(cmd.MeasureBack(section=task.section, round=task.round, back=back))
                command = command.model_copy(update={"value": contact_as_read(back.percent)})
                lifted = True
            elif isinstance(command, cmd.Choose):
                fails = not (back.corners_full if measures == "corners" else back.edges_full)
                command = bench.next_answer(fail=fails)
                assert command is not None
            else:
                command = command.model_copy(update={"value": void_as_read(back.void_mm2, command.unit)})
            bench.source = Source(how=back.how)
        bench.take(command)
        bench.source = TYPED
        if lifted and measures not in _ON_A_BACK and bench.state.pending is None:
            return True
    return lifted


# What of a lift a photo of its back tells.
_ON_A_BACK = ("coverage", "largest void", "corners", "edges")


def dump_state(given: object) -> Any:
    """A state as JSON has it, in one form only: sets in order, numbers exact, plan and checklist by their names.

    Of what a thing done would put back only whether it can be: that it is right, undoing it shows.
    """
    match given:
        case DayPlan():
            return given.site
        case Checklist():
            return f"{given.checklist} {given.edition}"
        case Message() | Text():
            return write_figure(given)
        case BaseModel():
            return given.model_dump(mode="json")
        case Fraction():
            return str(given)
        case Mapping():
            return {str(key): dump_state(value) for key, value in given.items()}
        case frozenset():
            return sorted(dump_state(one) for one in given)
        case tuple():
            return [dump_state(one) for one in given]
        case Done():
            return dump_state((given.seq, given.command, given.what, given.brought, given.before is not None))
        case _ if dataclasses.is_dataclass(given) and not isinstance(given, type):
            return {one.name: dump_state(getattr(given, one.name)) for one in dataclasses.fields(given)}
        case _:
            return given


def differences(stored: Any, found: Any, place: str = "state") -> list[str]:
    """Where a folded state differs from the one that was stored. What a later version adds is no difference."""
    if isinstance(stored, dict) and isinstance(found, dict):
        gone = [f"{place}.{key} is gone" for key in stored if key not in found]
        shared = [(key, value) for key, value in stored.items() if key in found]
        return gone + [each for key, value in shared for each in differences(value, found[key], f"{place}.{key}")]
    if isinstance(stored, list) and isinstance(found, list) and len(stored) == len(found):
        pairs = enumerate(zip(stored, found, strict=True))
        return [each for n, (old, new) in pairs for each in differences(old, new, f"{place}[{n}]")]
    return [] if stored == found else [f"{place}: {stored!r} was stored, {found!r} is folded"]


def worked(checklist: str, pace: float = 0.0) -> Bench:
    """A day with all that can happen: failures and their cures, clocks, changes, takings back, refusals, addenda.

    pace: minutes from one command to the next; without it they are hurried as no crew works.
    """
    golden = DAYS[checklist]
    whole = site(golden.units)
    areas = tuple(area for area in whole.areas if area.name == golden.area)
    bench = Bench.begun(golden.units, whole.model_copy(update={"areas": areas}))
    bench.pace = pace
    bench.take(cmd.NoteWeather(text="overcast"))
    bench.do(cmd.StartArea(area=golden.area))  # refused: nobody speaks
    bench.start(golden.area)
    bench.take(cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(20)))
    bench.take(cmd.NoteDust(task="drill", place="indoors", minutes=Fraction(25, 2), replaces=bench.state.last_seq))
    bench.do(cmd.StartRound(section=golden.piece))  # refused: no batch
    bench.speak("rosa")
    bench.take(cmd.StartRound(section=golden.batch))
    bench.take(cmd.Withdraw())
    for section in (golden.batch, golden.piece, golden.piece):
        _failing(bench, section, golden.fails)
    bench.speak("otto")
    bench.take(cmd.SetterIs(name="otto"))
    bench.take(cmd.ChangeMethod(method=next(iter(whole.methods))))
    bench.call(golden.piece)
    bench.take(PHOTO)
    bench.take(cmd.StartRound(section=golden.piece))
    _said_again(bench)
    bench.go_on()
    for minutes in ((16, 5), (60, 15)):  # open time runs out over a piece, then pot life over the next one
        bench.take(cmd.StartRound(section=golden.piece))
        bench.go_on(2)
        for each in minutes:
            bench.clock.advance(each)
            bench.take(cmd.Tick())
        bench.go_on()
    bench.call(golden.batch, *[golden.piece] * 3)
    if bench.state.area is not None and covering.may_finish(bench.state.area):
        bench.finish()
        bench.go_on()
    return _signed(bench)


def _signed(bench: Bench) -> Bench:
    """The day, signed and sealed, with an addendum under way."""
    bench.speak("edwin")
    bench.do(cmd.SignDay())
    if not bench.state.closed:
        bench.take(cmd.SignDay(accept_open=True))
    _seal(bench)
    bench.take(cmd.OpenAddendum(reason="a reading was wrong"))
    bench.take(cmd.Correct(target=12, text="it was the other wall"))
    bench.take(cmd.MakeNote(text="the north corner was reset"))
    return bench


def _transcribed() -> Bench:
    """Two notes dictated, of which a model wrote the one out, was unsure of it, and made no word out of the other."""
    whole = site("metric")
    bench = Bench.begun(plan=whole.model_copy(update={"areas": whole.areas[:1]}))
    bench.start(whole.areas[0].name)
    for digit, (heard, text, likelihood) in enumerate((("lamp corner", "Damp corner.", -0.62), ("uh", "", -0.9))):
        sound = f"{digit}a" * 32
        bench.take(cmd.MakeNote(text=heard, audio=f"{sound[:16]}.flac", sha256=sound))
        note = bench.state.last_seq
        bench.take(cmd.AddTranscript(target=note, text=text, likelihood=likelihood, model="a model", weights="7b" * 32))
    return bench


def _failing(bench: Bench, section: str, fails: tuple[str, str]) -> None:
    """A round in which the first answers to some of its steps fail."""
    bench.take(cmd.StartRound(section=section))
    failed: set[str] = set()
    for _ in range(80):
        area = bench.state.area
        step = area.step.id if area is not None and area.step is not None and bench.state.pending is None else ""
        fail = step in fails and step not in failed and not bench.waiting_cautions
        command = bench.next_answer(fail=fail)
        if command is None:
            return
        failed |= {step} if fail else set()
        bench.take(command)


def _said_again(bench: Bench) -> None:
    """A reading that is said in other words, and then answered with no."""
    area = bench.state.area
    while area is not None and area.step is not None and area.step.kind != "reading":
        bench.go_on(1)
        area = bench.state.area
    wrong, right = bench.next_answer(fail=True), bench.next_answer()
    assert wrong is not None
    assert right is not None
    for command in (wrong, right, cmd.Withdraw()):
        bench.take(command)


def _seal(bench: Bench) -> None:
    hashes, before = [], GENESIS
    for event in bench.events:
        before = chain_hash(canonical_text(event, before))
        hashes.append(before)
    last = bench.events[-1]
    seal = make_seal(bench.events, hashes, EDWIN)
    bench.add(last.model_copy(update={"seq": last.seq + 1, "id": "seal.0", "body": seal}))


def texts_of(events: list[ev.Event]) -> list[str]:
    """The events as a log stores them."""
    texts, before = [], GENESIS
    for event in events:
        texts.append(canonical_text(event, before))
        before = chain_hash(texts[-1])
    return texts


def log_of(checklist: str) -> Path:
    """The file that holds the texts, one a line."""
    return FOLDER / f"format-{ev.FORMAT}-{checklist}.jsonl"


def states_of(checklist: str) -> Path:
    """The file that holds the states that they fold to, by the number of the last event."""
    return FOLDER / f"format-{ev.FORMAT}-{checklist}.json"


def write(checklist: str) -> None:
    """Work the day and store it with its state."""
    bench = LATER[checklist]() if checklist in LATER else worked(checklist)
    log_of(checklist).write_text("".join(f"{text}\n" for text in texts_of(bench.events)), encoding="utf-8")
    store_states(checklist, bench.events)


def events_of(checklist: str) -> list[ev.Event]:
    """The events of a stored log, checked to follow from each other."""
    found: list[ev.Event] = []
    before = GENESIS
    for text in log_of(checklist).read_text(encoding="utf-8").splitlines():
        found.append(read_event(text, len(found) + 1, before))
        before = chain_hash(text)
    return found


def store_states(checklist: str, events: list[ev.Event]) -> None:
    """Store the states that the events fold to."""
    dumped = json.dumps(folded_states(events), ensure_ascii=False, indent=1, sort_keys=True)
    states_of(checklist).write_text(dumped + "\n", encoding="utf-8")


def folded_states(events: list[ev.Event]) -> dict[str, Any]:
    """The state after every so many events, and after the last one."""
    state, found = State(), {}
    for event in events:
        state = apply(state, event)
        if event.seq % _EVERY == 0 or event.seq == len(events):
            found[str(event.seq)] = dump_state(state)
    return found
