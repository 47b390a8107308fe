"""What could be said, for trying recordings without a day: digits, numbers, between steps, or one checklist step."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.loader import load_checklist
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.offers import Offer, Slot
from fieldassist.checklist.plan import AreaPlan, DayPlan, Person, Role
from fieldassist.checklist.prompt import place_of, prompt
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Area, LiftRecord, Progress, State, Task
from fieldassist.trade.message import Refused, message


class NoSuchChoice(Refused):
    """What was asked for cannot be said; `told` lists what can."""


def offers_for(what: str, checklists: Mapping[str, Checklist]) -> list[Offer]:
    """The offers that `what` names: 'digits', 'numbers', 'idle', or CHECKLIST:STEP.

    CHECKLIST is a file or the id of a shipped checklist. NoSuchChoice or WrongFile when there is no such thing.
    """
    if what == "digits":
        return [_bare(Slot("digits", "digits", (), 0, 0))]
    if what == "numbers":
        return [_bare(Slot("number", "number", (), 0, 0))]
    if what == "idle":
        return _idle(checklists)
    name, _, step_id = what.rpartition(":")
    if not name:
        raise NoSuchChoice(message("cli-no-such-choice", what=what, known=", ".join(sorted(checklists))))
    checklist = checklists.get(name) or load_checklist(Path(name))
    for holder, step in checklist.all_steps():
        if step.id == step_id:
            here = step.offers(place_of(checklist, holder, now=True, at_hand=True))
            return [*here, *_always(checklist, holder, step_id)]
    steps = ", ".join(dict.fromkeys(f"“{step.id}”" for _, step in checklist.all_steps()))
    raise NoSuchChoice(message("cli-no-such-step", checklist=name, step=step_id, steps=steps))


def _bare(slot: Slot) -> Offer:
    return Offer(("{value}",), slot.quantity, cmd.GiveReading(section="-", step=slot.quantity), slot)


def _example(checklist: Checklist, progress: Progress) -> State:
    """A day of one area with this checklist, for the phrases only."""
    area = AreaPlan.model_validate(
        {
            "name": "area one",
            "checklist": checklist.checklist,
            "where": "here",
            "size": "10 m2",
            "piece": {
                "product": checklist.products[0],
                "length": "1200 mm",
                "width": "600 mm",
                "thickness": "10 mm",
            },
            "mortar": {
                "name": "mortar",
                "kind": "large-and-heavy-tile",
                "pot_life": "60 min",
                "open_time": "20 min",
            },
            "method": {"family": "square", "width": "1/2 in", "depth": "1/2 in", "spacing": "1/2 in"},
        }
    )
    plan = DayPlan(site="example", date="2026-01-01", crew=(Person(name="frank", role=Role.FOREMAN),), areas=(area,))
    held = Area(plan=area, checklist=checklist, method=area.method, progress=progress)
    return State(
        plan=plan,
        checklists={checklist.checklist: checklist},
        areas={area.name: held},
        active=area.name,
        speaker=plan.crew[0],
    )


def _good(tile: int) -> LiftRecord:
    """A tile that was lifted and found good, so that an area may be finished."""
    at = Moment(wall="2026-01-01T00:00:00+00:00", mono=0.0, boot="example")
    return LiftRecord(tile, tile, tile, 1, "asked", "lift", tile, tile, at, verdict="passed")


def _idle(checklists: Mapping[str, Checklist]) -> list[Offer]:
    """What the open microphone would accept between steps, over all checklists given."""
    now = Moment(wall="2026-01-01T00:00:00+00:00", mono=0.0, boot="example")
    found: dict[str, Offer] = {}
    for checklist in checklists.values():
        every = {s.id: 1 for s in checklist.sections}
        progress = Progress(phase="working", good=every, lifts={n: _good(n) for n in range(1, 4)})
        for offer in prompt(_example(checklist, progress), now).offers:
            found.setdefault(repr((offer.phrases, offer.now)), offer)
    return list(found.values())


def _always(checklist: Checklist, holder: str, step_id: str) -> list[Offer]:
    """What may be said beside the answer while this step is at hand."""
    now = Moment(wall="2026-01-01T00:00:00+00:00", mono=0.0, boot="example")
    progress = Progress(phase="working", tasks=(Task(holder, 1, step_id),))
    return [o for o in prompt(_example(checklist, progress), now).offers if _is_general(o)]


def _is_general(offer: Offer) -> bool:
    return isinstance(offer.command, cmd.Keep | cmd.Withdraw | cmd.Ask | cmd.AcknowledgeCaution)
