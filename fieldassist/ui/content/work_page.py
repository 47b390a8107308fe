"""What stands on the page of the step at hand: the order in far letters, its drawing, and what answers it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from fractions import Fraction
from typing import Literal, TypedDict

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import keeping, promised
from fieldassist.checklist.draft import hindrance
from fieldassist.checklist.kinds import Choice, Hold, MethodStep, Photo, Reading, Step
from fieldassist.checklist.kinds.base import Act
from fieldassist.checklist.kinds.reading import asked_back
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.offers import Offer, Slot
from fieldassist.checklist.plan import Person
from fieldassist.checklist.prompt import Prompt
from fieldassist.checklist.rules import Criterion
from fieldassist.checklist.state import Area, ReadingRecord, Spread, State
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import System, unit_in_system
from fieldassist.ui.content.clocks import clock_row
from fieldassist.ui.content.entry import LastValue, NumberQuestion, NumberTyped
from fieldassist.ui.content.further import answers_of
from fieldassist.ui.content.rail import RailStep, cycle, rail
from fieldassist.ui.content.trial_work import SampleShown, sample_shown

# How many of the last things done are told before the last of them is taken back.
LAST = 5
# So many answers have their keys beside each other under the page; more of them lie on it.
_BESIDE = 2

WorkShape = Literal[
    "no day", "signed", "speaker", "area", "caution", "expired", "yes or no", "hold", "number", "name", "method",
    "cure", "lift", "photo", "spread", "finished", "waits", "step", "choice", "tried",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class WorkAnswer:
    """A key of the page: what it says, and the offer that it takes."""

    told: Figure
    offer: Offer
    fails: bool = False


@dataclass(frozen=True, slots=True)
class WorkPage:
    """The page of the step at hand.

    order: in far letters; under: what stands under it, in parts; note: the whole question, a caution, or why something
    must wait; answers: those that have a key on the page, the big key's first; others: those that have none there;
    asked, valued: the number that is asked for, and the offer that takes it; read: what was read back; limit: what
    must be reached; people: who may
    release a hold point, with the command; piece: the number of the piece at hand; last: the last thing done, which may
    be taken back, and done: the last ones, newest first; sample: of a trial, that is at hand or comes next; spoils: the
    ways in which it may be called spoiled, while it may be; drawn: whether the answers are places on the piece.
    """

    shape: WorkShape
    order: Figure
    under: tuple[Figure, ...] = ()
    note: Figure | None = None
    act: Act | None = None
    rail: tuple[RailStep, ...] = ()
    answers: tuple[WorkAnswer, ...] = ()
    asked: NumberQuestion | None = None
    valued: Offer | None = None
    people: tuple[Person, ...] = ()
    release: cmd.ReleaseHold | None = None
    piece: str = ""
    last: Figure | None = None
    done: tuple[Figure, ...] = ()
    others: tuple[WorkAnswer, ...] = ()
    read: NumberTyped | None = None
    limit: Figure | None = None
    sample: SampleShown | None = None
    spoils: tuple[WorkAnswer, ...] = ()
    drawn: bool = False


def work_page(state: State, asked: Prompt, now: Moment, units: System = "metric") -> WorkPage:
    """What the page shows of a day at a moment. units: those of the screen."""
    page = _page(state, asked, now, units)
    area = state.area
    may_undo = any(isinstance(o.command, cmd.Withdraw) and o.now for o in asked.offers) and not asked.waits_for_yes
    done = [one.what for one in area.done if one.before is not None] if area is not None else []
    last = done[-1] if may_undo and done else None
    spoils = tuple(
        WorkAnswer(o.label, o) for o in asked.offers if isinstance(o.command, cmd.SpoilSample) and o.now and not o.slot
    )
    page = replace(page, last=last, done=tuple(reversed(done[-LAST:])) if last is not None else (), spoils=spoils)
    return replace(page, sample=sample_shown(area)) if page.shape in _OF_SAMPLES else page


# The pages that tell which sample is at hand, or comes next.
_OF_SAMPLES: tuple[WorkShape, ...] = ("step", "choice", "number", "photo", "waits", "tried")


def _page(state: State, asked: Prompt, now: Moment, units: System) -> WorkPage:
    if state.plan is None:
        return WorkPage("no day", message("work-no-day"))
    if state.closed:
        return WorkPage("signed", message("work-signed"), note=asked.ask)
    if state.speaker is None:
        return WorkPage("speaker", asked.ask, answers=_answers(asked, None))
    if asked.waits_for_yes:
        return _yes_or_no(state, asked, units)
    here = keeping.after_keeping(state, now)
    area = here.area
    if area is None:
        return WorkPage("area", message("work-which-area"), answers=_answers(asked, None))
    # A caution that comes again after a break is heard before anything is answered, a clock that ran out too.
    if asked.caution is not None:
        return WorkPage("caution", message("work-caution"), note=asked.caution, answers=_answers(asked, area))
    ran_out = clock_row(here, now).expired
    if ran_out is not None and ran_out.at_hand and ran_out.face.area == area.plan.name:
        return WorkPage("expired", ran_out.question)
    if area.spread is not None and (area.task is None or area.yields):
        return _spread(area, area.spread, asked)
    if area.task is not None and area.step is not None:
        return _step(here, area, area.step, asked, now, units)
    if area.doubt is not None and area.doubt.holds:
        return WorkPage("method", message("work-method-waits"), note=asked.say, answers=_answers(asked, area))
    if area.progress.phase == "finished":
        return WorkPage("finished", message("work-area-done"), (area.plan.name,), answers=_answers(asked, area))
    return _between(area, asked)


def _yes_or_no(state: State, asked: Prompt, units: System) -> WorkPage:
    """Something was read back, or heard with doubt, and is kept by a yes only."""
    pending = state.pending
    offers = {type(o.command): o for o in asked.answers if isinstance(o.command, cmd.Keep | cmd.Withdraw)}
    read, order = None, asked.ask
    if pending is not None and len(state.called) == 1 and pending.label is None and pending.option is None:
        area = state.areas[pending.area]
        step = area.checklist.step(pending.task.section, pending.task.step)
        if isinstance(step, Reading) and asked.ask == asked_back(state):
            question = number_question(area, step, step.slot(units), units)
            read = NumberTyped.begun(question).take(LastValue(pending.value, pending.unit))
            order = question.question
    fails = read is not None and read.fails
    keys = ((cmd.Keep, message("work-yes", fails=fails)), (cmd.Withdraw, message("prompt-no")))
    answers = tuple(WorkAnswer(told, offers[kind], fails and kind is cmd.Keep) for kind, told in keys if kind in offers)
    return WorkPage("yes or no", order, answers=answers, read=read)


# --- the step at hand ---------------------------------------------------------------------------------------------


def _step(state: State, area: Area, step: Step, asked: Prompt, now: Moment, units: System) -> WorkPage:
    assert area.task is not None  # there is a step
    shown = _shown_of(area, step)
    steps = rail(state)
    why = hindrance(state, area, now)
    if _lifts(area):
        lifted = area.aimed
        number = str(lifted.tile) if lifted is not None else ""
        return WorkPage(
            "lift",
            message("work-lift", piece=number),
            (message("work-lift-fresh"),),
            act="lift",
            rail=steps,
            **_beside_lift(asked, area),
            limit=asked.requirement,
            piece=number,
        )
    order = step.order or step.name
    if isinstance(step, Hold) and state.plan is not None:
        people = step.releasing(state.plan)
        release = cmd.ReleaseHold(section=area.task.section, step=step.id)
        return WorkPage(
            "hold", order, shown, step.ask, rail=steps, people=people, release=release, **_own(asked, area, step)
        )
    if not step.taken_from(state.speaker) and state.plan is not None:
        crew = tuple(person for person in state.plan.crew if person.role is step.by)
        return WorkPage("speaker", order, shown, step.ask, rail=steps, people=crew)
    if why is not None:
        return WorkPage("waits", order, shown, why, step.act, steps, **_own(asked, area, step))
    valued = next((o for o in answers_of(asked) if o.slot is not None and isinstance(o.command, cmd.GiveReading)), None)
    if isinstance(step, Reading) and valued is not None and valued.slot is not None:
        if valued.slot.dimension == "name":
            return WorkPage(
                "name", order, shown, step.ask, rail=steps, valued=valued, answers=_names(area, step, valued)
            )
        question, others = number_question(area, step, valued.slot, units), _answers(asked, area)
        return WorkPage("number", order, shown, step.ask, step.act, steps, valued=valued, asked=question, others=others)
    if isinstance(step, Choice) and len(step.options) > _BESIDE:
        own = [a for a in _answers(asked, area) if _at(a.offer.command) == (area.task.section, step.id)]
        drawn = step.measures == "air"
        return WorkPage("choice", order, shown, step.ask, rail=steps, answers=tuple(own), drawn=drawn)
    shape: WorkShape = "photo" if isinstance(step, Photo) else "method" if isinstance(step, MethodStep) else "step"
    note = asked.say if shape == "method" else step.ask
    if shape == "method" and area.task.failure is not None:
        return WorkPage("cure", order, shown, step.ask, rail=steps, others=_answers(asked, area))
    if shape == "method":
        return WorkPage(shape, order, shown, note, rail=steps, answers=_answers(asked, area))
    return WorkPage(shape, order, shown, note, step.act, steps, piece=_piece(area), **_own(asked, area, step))


def _between(area: Area, asked: Prompt) -> WorkPage:
    """Nothing is at hand: the next piece, the next batch, or the end of the area."""
    if area.plan.trial is not None:
        return _between_samples(area, asked)
    offers = answers_of(asked)
    section = next((s for s in area.checklist.sections if s.sets is not None), None)
    steps, piece = cycle(area), _piece(area)
    spread = next((o for o in offers if isinstance(o.command, cmd.SpreadMortar) and o.slot is None), None)
    if spread is not None:
        under = (message("work-piece", piece=piece), *_method(area))
        return WorkPage(
            "step",
            message("work-spread-for", piece=piece),
            under,
            act="spread",
            rail=steps,
            **_begins(asked, area, first=spread),
            piece=piece,
        )
    first = next(iter(area.opens_with(section)), None) if section is not None else None
    if section is not None and first is not None:
        step = area.checklist.step(section.id, first)
        opening = [o for o in offers if (_at(o.command) == (section.id, first))]
        if opening and not isinstance(step, Reading):
            under = (message("work-piece", piece=piece), message("work-called"))
            now_first = tuple(RailStep(s.number, s.sign, s.name, "now" if s.number == 1 else "to come") for s in steps)
            return WorkPage(
                "step",
                step.order or step.name,
                under,
                step.ask,
                step.act,
                now_first,
                piece=piece,
                **_begins(asked, area, first=opening[0]),
            )
    mixing = next((o for o in offers if _mixes(area, o)), None)
    finish = next((o for o in offers if isinstance(o.command, cmd.FinishArea)), None)
    if mixing is not None and (finish is None or area.most_at_once):
        return WorkPage("step", message("work-mix-first"), rail=steps, **_begins(asked, area, first=mixing))
    if finish is not None:
        return WorkPage("step", message("work-all-in"), **_begins(asked, area, first=finish))
    return WorkPage("step", message("work-go-on"), note=asked.ask, **_begins(asked, area))


def _between_samples(area: Area, asked: Prompt) -> WorkPage:
    """Of a trial: the next sample, mortar for it, or what came of all of them."""
    offers = answers_of(asked)
    next_one = next((o for o in offers if isinstance(o.command, cmd.StartRound) and _tries(area, o.command)), None)
    mixing = next((o for o in offers if _mixes(area, o)), None)
    if area.next_sample is None:
        finish = next((o for o in offers if isinstance(o.command, cmd.FinishArea)), None)
        return WorkPage("tried", message("mockup-all-made"), **_begins(asked, area, first=finish))
    if mixing is not None and not any(batch.alive for batch in area.progress.batches.values()):
        return WorkPage("step", message("work-mix-first"), **_begins(asked, area, first=mixing))
    return WorkPage("step", message("mockup-next"), **_begins(asked, area, first=next_one))


def _spread(area: Area, spread: Spread, asked: Prompt) -> WorkPage:
    """Mortar is spread, and pieces go into it one by one."""
    offers = answers_of(asked)
    one_in = next((o for o in offers if isinstance(o.command, cmd.TilesIn) and o.slot is None), None)
    order = (
        message("work-spread-some", done=spread.done)
        if spread.wanted is None
        else message("work-spread-of", done=str(spread.done), wanted=str(spread.wanted))
    )
    under: tuple[Figure, ...] = (*_batch(spread.batch), *_method(area))
    witnessed = [t.number for t in area.progress.tiles.values() if t.witnessed]
    if witnessed:
        under = (*under, message("work-counted-as", piece=str(max(witnessed))))
    answers = _answers(asked, area, first=one_in)
    return WorkPage("spread", order, under, answers=answers[:1], others=answers[1:], piece=_piece(area))


# --- the parts of a page ------------------------------------------------------------------------------------------


class _Keys(TypedDict):
    """What has a key on the page, and what has none there."""

    answers: tuple[WorkAnswer, ...]
    others: tuple[WorkAnswer, ...]


def _answers(asked: Prompt, area: Area | None, *, first: Offer | None = None) -> tuple[WorkAnswer, ...]:
    """The offers that answer and take no value, as keys."""
    offers = [o for o in answers_of(asked) if o.slot is None and not isinstance(o.command, cmd.Keep | cmd.Withdraw)]
    if first is not None:
        offers = [first, *(o for o in offers if o.command != first.command)]
    return tuple(WorkAnswer(_told(offer, area), offer, _fails(offer, area)) for offer in offers)


def _own(asked: Prompt, area: Area, step: Step) -> _Keys:
    """The answers to a step have keys; where it can wait, so has what may be begun instead of it."""
    assert area.task is not None  # there is a step
    here = (area.task.section, step.id)
    every = _answers(asked, area)
    own = tuple(answer for answer in every if _at(answer.offer.command) == here)
    left = tuple(answer for answer in every if answer not in own and not _same_tile(answer, own))
    begun = next((a for a in left if len(own) == 1 and area.yields and _begins_piece(a.offer.command, area)), None)
    answers = own if begun is None else (*own, begun)
    return _Keys(answers=answers[:2], others=(*answers[2:], *(a for a in left if a is not begun)))


def _same_tile(answer: WorkAnswer, own: tuple[WorkAnswer, ...]) -> bool:
    """Whether it only says in another way that the piece at hand is in."""
    return isinstance(answer.offer.command, cmd.TilesIn) and bool(own)


def _begins(asked: Prompt, area: Area, *, first: Offer | None = None) -> _Keys:
    """What may be begun: that of the big key, a second one, and the others."""
    every = _answers(asked, area, first=first)
    rest = [a for a in every[1:] if _mixes(area, a.offer) or isinstance(a.offer.command, cmd.FinishArea)]
    second = next(iter(rest), None)
    shown = every[:1] if second is None else (every[0], second)
    return _Keys(answers=shown, others=tuple(a for a in every if a not in shown))


def _beside_lift(asked: Prompt, area: Area) -> _Keys:
    """While a lift is at hand: what may be begun instead has a key, its own answers are on its page and besides."""
    begun = next((a for a in _answers(asked, area) if _begins_piece(a.offer.command, area)), None)
    offers = [o for o in answers_of(asked) if not isinstance(o.command, cmd.Keep | cmd.Withdraw)]
    others = tuple(WorkAnswer(_told(o, area), o, _fails(o, area)) for o in offers if begun is None or o != begun.offer)
    return _Keys(answers=() if begun is None else (begun,), others=others)


def _begins_piece(command: object, area: Area) -> bool:
    """Whether a command begins the next piece."""
    return isinstance(command, cmd.SpreadMortar) or (isinstance(command, cmd.StartRound) and _sets(area, command))


def _told(offer: Offer, area: Area | None) -> Figure:
    """What stands on the key of an offer: in words of the act."""
    command = offer.command
    if area is not None:
        if isinstance(command, cmd.TilesIn) and offer.slot is None:
            return message("work-piece-in", piece=_piece(area))
        if _mixes(area, offer):
            return message("work-mix")
        if isinstance(command, cmd.StartRound) and _sets(area, command):
            return message("work-next-piece")
        if isinstance(command, cmd.StartRound) and _tries(area, command):
            return message("mockup-next-sample")
    return offer.label


def _fails(offer: Offer, area: Area | None) -> bool:
    command = offer.command
    if area is None or not isinstance(command, cmd.Choose):
        return False
    step = area.checklist.step(command.section, command.step)
    option = step.option(command.option) if isinstance(step, Choice) else None
    return option is not None and option.fails


def _lifts(area: Area) -> bool:
    """Whether the round at hand lifts a piece: it has a page of its own."""
    section = area.checklist.section(area.task.section) if area.task is not None else None
    return section is not None and section.lift is not None


def _mixes(area: Area, offer: Offer) -> bool:
    mixing = area.checklist.mixing
    command = offer.command
    return isinstance(command, cmd.StartRound) and mixing is not None and command.section == mixing.id


def _sets(area: Area, command: cmd.StartRound) -> bool:
    section = area.checklist.section(command.section)
    return section is not None and section.sets is not None


def _tries(area: Area, command: cmd.StartRound) -> bool:
    trying = area.checklist.trying
    return trying is not None and command.section == trying.id


def _at(command: object) -> tuple[str, str] | None:
    """The step that a command answers; None where it answers none."""
    section, step = getattr(command, "section", None), getattr(command, "step", None)
    return (section, step) if section and step else None


def _piece(area: Area) -> str:
    """The number of the piece at hand, or of the next one."""
    task = area.task
    place = area.progress.taking.get((task.section, task.round)) if task is not None else None
    number = place.number if place is not None else area.next_place.number
    return str(number or max(area.progress.tiles, default=0) + 1)


def _shown_of(area: Area, step: Step) -> tuple[Figure, ...]:
    """What stands under the order: of a piece which, out of which batch and combed how; else the section."""
    task = area.task
    assert task is not None  # there is a step
    section = area.checklist.section(task.section)
    if area.sample is not None:
        shown = sample_shown(area)
        return (shown.told,) if shown is not None else ()
    if section is not None and section.sets is not None:
        piece = message("work-piece", piece=_piece(area))
        run = next((r for r in area.progress.clocks if (r.section, r.round) == (task.section, task.round)), None)
        if run is not None and step.act == "set":
            began = datetime.fromisoformat(run.started.wall)
            return (piece, message("work-skins-at", time=f"{began + timedelta(minutes=run.minutes):%H:%M}"))
        return (piece, *_batch(area.progress.batch), *_method(area))
    return (area.checklist.holder(task.section).title,)


def _batch(batch: int) -> tuple[Figure, ...]:
    return (message("work-batch", batch=str(batch)),) if batch else ()


def _method(area: Area) -> tuple[Figure, ...]:
    sides = message("work-sides", sides=area.method.sides)
    found = promised.shown_of(area)
    if found is None or found[1] != area.method:
        return (sides,)
    return sides, message("mockup-released-as", letter=found[0].letter)


def _names(area: Area, step: Reading, valued: Offer) -> tuple[WorkAnswer, ...]:
    """Names that were given at this step before, the last first: such as the lot of the bags."""
    given = [r for r in area.readings.values() if r.label and r.step == step.id]
    names = list(dict.fromkeys(r.label for r in reversed(given)))[:2]
    return tuple(
        WorkAnswer(
            message("work-name-again", name=name),
            Offer((), valued.label, valued.fill(Fraction(0), "count", name)),
        )
        for name in names
        if name is not None
    )


def number_question(area: Area, step: Reading, slot: Slot, units: System) -> NumberQuestion:
    """What the pad asks for a reading: with its limit, and the last values that may stand again."""
    limit: Criterion | None = area.criterion(step)
    reader = area.reader(step.reader) if area.sample is not None and step.reader is not None else ""
    return NumberQuestion(
        question=message("mockup-who-reads", name=reader) if reader else step.order or step.name,
        units=tuple(sorted(slot.units, key=lambda unit: unit_in_system(unit, units) != unit)),
        low=slot.low,
        high=slot.high,
        limit=limit,
        # Whoever reads a sample is told no other figure.
        last=() if reader else _last_values(area, step),
        note=step.ask,
        whole=slot.whole,
    )


def _last_values(area: Area, step: Reading) -> tuple[LastValue, ...]:
    """The last value of this reading, and that of another one of the same quantity where this one has none."""
    task = area.task
    readings = [r for r in area.readings.values() if r.quantity == step.quantity and r.label is None]
    same = [r for r in readings if r.step == step.id and (task is None or r.section == task.section)]
    if same:
        return (LastValue(same[-1].value, same[-1].unit),)
    if step.quantity not in ("temperature",) or not readings:
        return ()
    last = readings[-1]
    return (LastValue(last.value, last.unit, _short_name(area, last)),)


def _short_name(area: Area, reading: ReadingRecord) -> Figure:
    other = area.checklist.step(reading.section, reading.step)
    return message("work-other-reading", name=other.order or other.name)


# --- a row of pieces in a spread ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RowPiece:
    """A piece of the row that is being set: its number, whether it is in, when, and what its lift showed."""

    number: str
    standing: Literal["in", "next", "to come"]
    at: str = ""
    witnessed: bool = False
    lifted: Literal["passed", "failed", ""] = ""
    told: Message | None = None


def spread_row(area: Area, most: int = 4) -> tuple[RowPiece, ...]:
    """The last pieces that are in, and the one that comes next, in the order of the wall."""
    tiles = sorted((t for t in area.progress.tiles.values() if t.state != "taken off"), key=lambda t: t.order)
    pieces = []
    for tile in tiles[-(most - 1) :]:
        lifts = [x for x in area.progress.lifts.values() if x.order == tile.order and x.verdict is not None]
        verdict = lifts[-1].verdict if lifts else None
        covered = (
            area.progress.measured.get((lifts[-1].section, lifts[-1].round), {}).get("coverage") if lifts else None
        )
        pieces.append(
            RowPiece(
                str(tile.number),
                "in",
                f"{datetime.fromisoformat(tile.at.wall):%H:%M}",
                tile.witnessed,
                "passed" if verdict == "passed" else "failed" if verdict == "failed" else "",
                message("work-lifted", coverage=covered) if covered is not None else None,
            )
        )
    return (*pieces, RowPiece(_piece(area), "next"))


def unlooked(pieces: Sequence[RowPiece]) -> int:
    """How many of them nobody looked under yet."""
    return sum(piece.standing == "in" and not piece.lifted for piece in pieces)
