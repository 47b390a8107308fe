"""Another method in an area: by one command, refused where it cannot do, or on the foreman's word."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING, Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import doubting, follow, methods
from fieldassist.checklist import events as ev
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.kinds import MethodStep
from fieldassist.checklist.kinds.method import MethodChosen
from fieldassist.checklist.offers import CHANGE_METHOD, CHANGE_TO, ON_MY_WORD, ON_THE_WORD_OF, THIS_METHOD, Offer
from fieldassist.checklist.plan import DayPlan, Method, Person, Role
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Figure, Message, Refused, Several, Text, message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered

_PARTS = ("sides", "back", "movement", "seating")


def wished(area: Area, plan: DayPlan, wish: cmd.MethodWish) -> Method | None:
    """The method that is asked for; None where it names one that the plan does not hold."""
    method: Method | None = area.method
    if wish.method is not None:
        method = plan.methods.get(wish.method)
    if method is None or (wish.notch is not None and wish.notch not in plan.methods):
        return None
    if wish.notch is not None:
        notch = plan.methods[wish.notch]
        method = method.model_copy(update={field: getattr(notch, field) for field in methods.NOTCH})
    if wish.trowel is not None:
        method = method.model_copy(update={field: getattr(wish.trowel, field) for field in methods.NOTCH})
    given = {part: value for part in _PARTS if (value := getattr(wish, part)) is not None}
    return method.model_copy(update=given)


def wish_told(wish: cmd.MethodWish) -> Figure:
    """What is asked for, in words."""
    named = [name for name in (wish.method, wish.notch) if name is not None]
    parts = [methods.part_words(part, value) for part in _PARTS if (value := getattr(wish, part)) is not None]
    if wish.trowel is not None:
        parts.insert(0, methods.trowel_words(wish.trowel))
    return Several((*named, *parts), "and") if named or parts else message("method-in-use")


def _phrase(plan: DayPlan, wish: cmd.MethodWish) -> str:
    """What is said for a wish; "" for one that takes more than one phrase."""
    given = [(field, value) for field in ("method", "notch", *_PARTS) if (value := getattr(wish, field)) is not None]
    if len(given) != 1 or wish.trowel is not None:
        return "" if given or wish.trowel is not None else THIS_METHOD
    field, value = given[0]
    if field in _PARTS:
        return f"{CHANGE_TO} {doubting.PARTS[(field, value)][1]}"
    return f"change {field} to {plan.method_calls(value)[0]}"


def change_method(draft: Draft, command: cmd.ChangeMethod) -> Answered | None:
    """The area goes on with the method that is asked for, where that can do."""
    area, method, phrase = _asked(draft, command)
    if not methods.stands(area, method):
        raise Refused(doubting.cannot(draft.state, area, method, phrase))
    return _go_on_with(draft, method, changes=True, waits=_waits(area))


def vouch_method(draft: Draft, command: cmd.VouchMethod) -> Answered | None:
    """The area goes on with a method that cannot do by the reckoning, on the word of the foreman or a deputy."""
    state = draft.state
    plan = state.plan
    assert plan is not None
    area, method, phrase = _asked(draft, command)
    person = plan.person(command.name) if command.name else state.speaker
    may = plan.releasing(Role.FOREMAN)
    if command.name and person is None:
        names = Several(tuple(p.name for p in plan.crew))
        raise draft.refusal("engine-nobody-called", name=command.name, names=names)
    if person is None or person not in may:
        raise draft.refusal("method-word-whose", phrase=f"{phrase or THIS_METHOD} {ON_THE_WORD_OF} {may[0].said}")
    if methods.stands(area, method):
        told = methods.called(methods.name_of(area, method), method)
        raise draft.refusal("method-can-do", method=told)
    draft.emit(
        ev.MethodVouched(
            area=area.plan.name,
            called=methods.name_of(area, method),
            method=method,
            name=person.name,
            role=person.role,
            deputy_for=(person.deputy_for or "") if person.role is not Role.FOREMAN else "",
            told=_word(command, person),
            reasons=methods.judge(area, method).reasons,
        )
    )
    told = methods.called(methods.name_of(area, method), method)
    draft.say(message("method-vouched", name=person.name, method=told))
    answered = _go_on_with(draft, method, changes=method != area.method, waits=_waits(area))
    draft.end_turn_of(person)
    return answered


def _word(command: cmd.VouchMethod, person: Person) -> Message | Text:
    if command.words:
        return Text.plain(command.words)
    ready = {
        "done before": message("method-word-done-before"),
        "data sheet": message("method-word-data-sheet"),
        "tried here": message("method-word-tried-here"),
    }
    return ready[command.ready] if command.ready is not None else message("method-word-plain", name=person.name)


def _asked(draft: Draft, wish: cmd.MethodWish) -> tuple[Area, Method, str]:
    """The area, the method that is asked for, and what is said for it; refused where there is none, or it failed."""
    area, plan = draft.area, draft.state.plan
    assert plan is not None
    method = wished(area, plan, wish)
    if method is None:
        wanted = wish.method if wish.method is not None and wish.method not in plan.methods else wish.notch
        raise draft.refusal(
            "engine-no-method", method=wanted or "", names=Several(tuple(plan.methods)), count=len(plan.methods)
        )
    if isinstance(wish, cmd.ChangeMethod) and not wish.model_fields_set - {"do"}:
        parts = tuple(message("prompt-quoted", phrase=f"{CHANGE_TO} {long}") for _, long in doubting.PARTS.values())
        raise draft.refusal("method-which", parts=Several(parts, "or"))
    if _has_failed(area, method):
        told, failed = methods.called(methods.name_of(area, method), method), methods.failed_here(area)
        raise draft.refusal("method-failed", method=told, ways=doubting.ways_told(draft.state, area, method, failed))
    return area, method, _phrase(plan, wish)


def _has_failed(area: Area, method: Method) -> bool:
    """Whether a tile set with it has failed here, so that it is not gone on with."""
    return method in methods.failed_here(area) and (method != area.method or isinstance(area.step, MethodStep))


def _waits(area: Area) -> bool:
    return area.doubt is not None and area.doubt.holds


def _go_on_with(draft: Draft, method: Method, *, changes: bool, waits: bool) -> Answered | None:
    """The method changes, and what waited for it goes on: the start of the area, or the step that asks for it."""
    area = draft.area
    step, task = area.step, area.task
    asked = isinstance(step, MethodStep) and task is not None
    if asked:
        assert step is not None
        draft.check_cautions()
        draft.check_role(step)
    name = methods.name_of(area, method)
    if changes:
        makes_due = follow.due_after_change(area, "method")
        draft.emit(ev.MethodChanged(area=area.plan.name, name=name, method=method, makes_due=makes_due))
        draft.say(message("engine-method", method=methods.called(name, method)))
        doubting.tell_if_hard(draft)
    if waits:
        follow.open_start(draft, after=None)
        follow.stop_work(draft, area.plan.name)
    if not asked:
        return None
    assert step is not None
    assert task is not None
    draft.emit(MethodChosen(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    return task, step, None


# --- what may be said ---------------------------------------------------------------------------------------------


def offers(state: State, area: Area, *, free: bool) -> Iterator[Offer]:
    """What may be said for another method: at a step that asks for one what works comes first, and in few words."""
    plan = state.plan
    if plan is None:
        return
    step = area.step
    asked = isinstance(step, MethodStep)
    failed = methods.failed_here(area)
    takes = free and (not asked or (step is not None and step.taken_from(state.speaker)))
    first = [way.method for way in methods.ways(area, area.method, failed)] if asked or area.doubt is not None else []
    wishes = list(_wishes(plan, area, short=asked or area.doubt is not None))
    wishes.sort(key=lambda each: first.index(each[0]) if each[0] in first else len(first))
    for method, label, phrases, wish in wishes:
        fits = not _has_failed(area, method)
        able = fits and methods.stands(area, method)
        yield Offer(phrases, label, cmd.ChangeMethod(**wish), now=takes and able)
        if fits and not able:
            yield from _words(state, plan, phrases[0], label, wish, free=takes)
    if area.doubt is not None and not methods.stands(area, area.method):
        free = takes and not _has_failed(area, area.method)
        yield from _words(state, plan, THIS_METHOD, message("method-in-use"), {}, free=free)


def _wishes(
    plan: DayPlan, area: Area, *, short: bool
) -> Iterator[tuple[Method, Figure, tuple[str, ...], dict[str, Any]]]:
    """Every method that can be asked for in one phrase: method, label, phrases, and the fields of its command."""
    for name, method in plan.methods.items():
        calls = plan.method_calls(name)
        whole, only = _called(CHANGE_METHOD, calls), _called("change notch to", calls)
        notch = wished(area, plan, cmd.ChangeMethod(notch=name))
        assert notch is not None
        same = notch == method
        yield method, message("prompt-method", method=name), whole + (only if same else ()), {"method": name}
        if not same:
            yield notch, message("prompt-notch", method=name), only, {"notch": name}
    for (part, value), (brief, long) in doubting.PARTS.items():
        if getattr(area.method, part) == value:
            continue
        method = methods.changed_part(area.method, part, value)
        phrases = (f"{CHANGE_TO} {long}", brief) if short else (f"{CHANGE_TO} {long}",)
        yield method, methods.part_words(part, value), phrases, {part: value}


def _called(words: str, calls: Collection[str]) -> tuple[str, ...]:
    return tuple(f"{words} {call}" for call in calls)


def _words(
    state: State, plan: DayPlan, phrase: str, label: Figure, wish: dict[str, Any], *, free: bool
) -> Iterator[Offer]:
    """How the foreman, or one who stands for him, gives his word for a method that cannot do."""
    may = plan.releasing(Role.FOREMAN)
    speaker = state.speaker
    if speaker in may and speaker is not None:
        told = message("prompt-method-word", what=label, name=speaker.name)
        yield Offer((f"{phrase} {ON_MY_WORD}",), told, cmd.VouchMethod(**wish), now=free)
    for person in may:
        told = message("prompt-method-word", what=label, name=person.name)
        called = tuple(f"{phrase} {ON_THE_WORD_OF} {call}" for call in person.calls)
        yield Offer(called, told, cmd.VouchMethod(name=person.name, **wish), now=free and person != speaker)
