"""A question with answers to choose from: "combed straight" or "combed in swirls".

An answer is taken at once; of a lift, where other answers of it wait to be kept, it waits with them.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from pydantic import Field, model_validator

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.event_base import RecordedId as RecordId
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AtStepAsked, Id, StepBase, check_phrases
from fieldassist.checklist.offers import Offer, StepSetting
from fieldassist.checklist.plan import Written
from fieldassist.checklist.state import (
    Pending,
    Remedy,
    SampleAnswer,
    State,
    Task,
    answered,
    with_answer,
    with_measured,
    with_waiting,
)
from fieldassist.checklist.wording import WRITTEN_IN, Phrases, Wording, in_language
from fieldassist.trade.message import Figure, Several, Text, message
from fieldassist.trade.quantities import Quantity

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing


# What an answer tells of a back.
ToldOff = Literal["corners", "edges", "effort", "air"]


class Promised(Written):
    """What an answer promises of the method from then on: fields of the method as they will be, or a larger notch."""

    sides: Literal["one", "both"] | None = None
    back: Literal["keyed", "bare"] | None = None
    movement: Literal["none", "one way", "there and back"] | None = None
    seating: Literal["by hand", "beaten", "vibrated"] | None = None
    notch: Literal["larger"] | None = None


class ChoiceOption(Written):
    """One answer of a choice. `fails`: taking it is a non-conformance; `promises`: of a corrective action, what the
    method of the tiles that follow must show."""

    id: Id
    say: Phrases
    label: Wording
    fails: bool = False
    promises: Promised | None = None


class Choice(StepBase):
    """A choice. `measures`: of a lifted tile or a sample, whether its corners are full, or the strip along its edges;
    of a sample also the effort that it took, and where air was trapped."""

    kind: Literal["choice"]
    options: Annotated[tuple[ChoiceOption, ...], Field(min_length=1)]
    measures: ToldOff | None = None
    limit: ClassVar[None] = None

    @model_validator(mode="after")
    def _check(self) -> Choice:
        faults = Faults()
        faults.twice([option.id for option in self.options], "options")
        for index, option in enumerate(self.options):
            if not any(option.say.values()):
                faults.add("step-without-say", "options", index, "say")
            check_phrases(faults, option.say, "options", index, "say", value=False)
        faults.tell()
        return self

    @property
    def judged(self) -> bool:
        """Whether one of the answers is a non-conformance."""
        return any(option.fails for option in self.options)

    def option(self, option_id: str) -> ChoiceOption | None:
        """The answer called `option_id`, or None."""
        return next((o for o in self.options if o.id == option_id), None)

    def phrases(self, language: str = WRITTEN_IN) -> tuple[str, ...]:
        """The first phrase of each answer."""
        return tuple(in_language(option.say, language)[0] for option in self.options)

    def offers(self, place: StepSetting) -> list[Offer]:
        """One offer an answer."""
        return [
            Offer(
                in_language(option.say, place.language),
                option.label,
                Choose(section=place.holder, step=self.id, option=option.id),
                now=place.now,
            )
            for option in self.options
        ]

    def asked(self, language: str = WRITTEN_IN) -> Figure:
        """The question; it names its answers itself."""
        return self.ask


class Choose(AtStepAsked):
    """One option of a choice."""

    do: Literal["choose"] = "choose"
    option: str


class ChoiceCalled(AtStep):
    """An option was called and read back with other answers of a lift; it counts for nothing until it is kept."""

    type: Literal["choice called"] = "choice called"
    option: RecordId


class ChoiceMade(AtStep):
    """An option was chosen. passed: None where no answer of this choice fails; measures: what of a lift it tells;
    promises: what the method of the tiles that follow must show; called: the event that called it, where it was read
    back first."""

    type: Literal["choice made"] = "choice made"
    option: RecordId
    passed: bool | None = None
    measures: ToldOff | None = None
    promises: Promised | None = None
    called: int | None = None


def decide(draft: Draft, command: Choose) -> Answered | None:
    """The answer is taken, if its step is at hand; of a lift, it waits with what waits of it already."""
    from fieldassist.checklist.backs import check_choice  # it imports the kinds
    from fieldassist.checklist.kinds.reading import asked_back  # it imports this

    waiting = draft.state.waiting
    if waiting and not draft.state.joins(command.section, command.step):
        raise draft.yes_or_no_first()
    area, task, step = draft.at_hand(command, Choice)
    option = step.option(command.option)
    if option is None:
        answers = Several(tuple(step.phrases()), "or")
        raise draft.refusal("engine-no-such-answer", ask=step.ask, answers=answers)
    check_choice(draft, area, task, step, fails=option.fails)
    if not waiting and task == area.task:
        return _make(draft, task, step, option)
    for again in (one for one in waiting if one.task == task):
        draft.withdraw(again.area, again.seq, "said again")
    draft.emit(
        ChoiceCalled(area=area.plan.name, section=task.section, round=task.round, step=step.id, option=option.id)
    )
    draft.say(asked_back(draft.state))
    return None


def keep_called(draft: Draft, pending: Pending) -> Answered:
    """The answer that waits is taken."""
    step = draft.area.checklist.step(pending.task.section, pending.task.step)
    assert isinstance(step, Choice)
    option = step.option(pending.option or "")
    assert option is not None  # it was there when it was called
    return _make(draft, pending.task, step, option, pending.seq)


def _make(draft: Draft, task: Task, step: Choice, option: ChoiceOption, called: int | None = None) -> Answered:
    area = draft.area
    draft.emit(
        ChoiceMade(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            option=option.id,
            passed=not option.fails if step.judged else None,
            measures=step.measures,
            promises=option.promises,
            called=called,
        )
    )
    if not option.fails and called is None:
        draft.say(message("engine-chosen", what=option.label))
    return task, step, option.label if option.fails else None


def fold_called(state: State, event: Event, body: ChoiceCalled) -> State:
    """The answer waits to be kept, with what waits of its lift already."""
    task = state.areas[body.area].answerable(body.section, body.step)
    if task is None:
        raise ValueError(f"event {event.seq} is an answer to {body.step!r}, but no step was at hand")
    called = Pending(event.seq, body.area, task, "", Fraction(0), "count", None, option=body.option)
    return with_waiting(state, (*state.called, called))


def fold(state: State, event: Event, body: ChoiceMade) -> State:
    """The step is answered; what it tells of a lift is kept as 1 (full) or 0."""
    changes: dict[str, Any] = {}
    if body.called is not None:
        waiting = [one for one in state.called if one.seq != body.called]
        if len(waiting) == len(state.called):
            raise ValueError(f"event {event.seq} keeps answer {body.called}, which was not waiting")
        state = with_waiting(state, waiting)
    if body.measures in ("corners", "edges"):
        full = Quantity(Fraction(body.passed is not False), "count")
        changes["measured"] = with_measured(state, body, full)
    answer = SampleAnswer(body.step, body.measures or "", option=body.option, how=event.source.how, kept=event.seq)
    changes |= with_answer(state, body, answer)
    if body.promises is not None:
        area = state.areas[body.area]
        step = area.checklist.step(body.section, body.step)
        option = step.option(body.option) if isinstance(step, Choice) else None
        progress, method = area.progress, area.methods_used.index(area.method)
        what = option.label if option is not None else Text.plain(body.option)
        promises = body.promises.model_dump(exclude_none=True)
        changes["remedies"] = (*progress.remedies, Remedy(event.seq, what, progress.settings, promises, method))
    return answered(state, event, body, **changes)


def tell(listing: Listing, body: ChoiceMade | ChoiceCalled) -> dict[str, Figure]:
    """The answer, for a list of events."""
    step = listing.step_of(body)
    option = step.option(body.option) if isinstance(step, Choice) else None
    return {"option": option.label if option is not None else body.option}


DECIDERS = {Choose: decide}
FOLDS = {ChoiceCalled: fold_called, ChoiceMade: fold}
TELLS = {ChoiceCalled: tell, ChoiceMade: tell}
