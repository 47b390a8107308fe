"""What is told of a method that cannot do by the reckoning, and when the record holds such a doubt."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from fieldassist.checklist import events as ev
from fieldassist.checklist import methods
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.offers import CHANGE_METHOD, CHANGE_TO, ON_THE_WORD_OF, THIS_METHOD
from fieldassist.checklist.plan import DayPlan, Method, Role
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Figure, Message, Several, message

# How each part of a method is called for: short, where the method is asked for, and after "change to" at any time.
PARTS: Mapping[tuple[str, str], tuple[str, str]] = {
    ("sides", "both"): ("both sides", "both sides"),
    ("sides", "one"): ("one side", "one side"),
    ("back", "keyed"): ("key the backs", "keyed backs"),
    ("back", "bare"): ("leave the backs bare", "bare backs"),
    ("movement", "there and back"): ("slide there and back", "a slide there and back"),
    ("movement", "one way"): ("slide it one way", "a one way slide"),
    ("movement", "none"): ("no slide", "no slide"),
    ("seating", "vibrated"): ("vibrate it", "vibrated"),
    ("seating", "beaten"): ("beat it in", "beaten in"),
    ("seating", "by hand"): ("by hand", "set by hand"),
}


def phrase_of(plan: DayPlan, way: methods.Way) -> str:
    """What is said for a way that works."""
    if way.part is not None:
        return f"{CHANGE_TO} {PARTS[way.part][1]}"
    return f"{CHANGE_METHOD} {plan.method_calls(way.name)[0]}"


def ways_told(state: State, area: Area, method: Method, failed: Collection[Method] = ()) -> Message:
    """What to say for another method: the nearest that work, with their beds."""
    found = methods.ways(area, method, failed)
    if not found or state.plan is None:
        return message("method-no-way")
    told = tuple(
        message("method-way", phrase=phrase_of(state.plan, way), bed=methods.millimetres(way.bed_mm)) for way in found
    )
    return message("method-ways", ways=Several(told, "or"))


def cannot(state: State, area: Area, method: Method, phrase: str = THIS_METHOD) -> Message:
    """Why a method cannot do in an area, what would, and how the foreman gives his word for it.

    phrase: what calls for the method; "" where nothing can be said for it.
    """
    may = state.plan.releasing(Role.FOREMAN) if state.plan is not None else ()
    word: Figure = message("method-word-nobody")
    if may and phrase:
        word = message("method-word-how", phrase=f"{phrase} {ON_THE_WORD_OF} {may[0].said}")
    return message(
        "method-cannot",
        method=methods.called(methods.name_of(area, method), method),
        reasons=Several(methods.judge(area, method).reasons, "clauses"),
        ways=ways_told(state, area, method),
        word=word,
    )


def hold_at_start(draft: Draft) -> bool:
    """Whether an area that has just been started waits for another method, or the foreman's word for its own."""
    area = draft.area
    if methods.stands(area, area.method):
        tell_if_hard(draft)
        return False
    _doubt(draft, holds=True)
    draft.alarm = True
    draft.say(message("method-waits", area=area.plan.name, told=cannot(draft.state, draft.area, area.method)))
    return True


def doubt_if_new(draft: Draft) -> None:
    """Before a tile: say once that the base as it was read leaves the method too little, and keep it as a doubt."""
    area = draft.area
    method = area.method
    if methods.stands(area, method) or (area.doubt is not None and area.doubt.method == method):
        return
    _doubt(draft, holds=False)
    draft.alarm = True
    draft.say(
        message(
            "method-doubted",
            method=methods.called(methods.name_of(area, method), method),
            reasons=Several(methods.judge(area, method).reasons, "clauses"),
            ways=ways_told(draft.state, area, method),
        )
    )


def tell_if_hard(draft: Draft) -> None:
    """What stands against the method in use by judgement only: its ridges may not collapse by hand."""
    area = draft.area
    verdict = methods.judge(area, area.method)
    if not verdict.works and verdict.possible and methods.proof(area, area.method) is None:
        name = methods.called(methods.name_of(area, area.method), area.method)
        draft.say(message("method-hard", method=name, reasons=Several(verdict.reasons, "clauses")))


def _doubt(draft: Draft, *, holds: bool) -> None:
    area = draft.area
    draft.emit(
        ev.MethodDoubted(
            area=area.plan.name,
            name=methods.name_of(area, area.method),
            method=area.method,
            reasons=methods.judge(area, area.method).reasons,
            holds=holds,
        )
    )


def method_points(area: Area) -> Iterator[tuple[str, Message]]:
    """What is open about the methods of an area, each under its id: doubts, and words that nothing has borne out."""
    name, doubt = area.plan.name, area.doubt
    if doubt is not None and methods.proof(area, doubt.method) is None:
        told = methods.called(methods.name_of(area, doubt.method), doubt.method)
        reasons = Several(doubt.reasons, "clauses")
        yield f"method/{name}/{doubt.seq}", message("open-method-doubted", area=name, method=told, reasons=reasons)
    for word in area.words_given:
        if methods.proof(area, word.method) is None:
            told = methods.called(word.called, word.method)
            code = message("open-method-vouched", area=name, method=told, name=word.by, word=word.told)
            yield f"method/{name}/{word.seq}", code
