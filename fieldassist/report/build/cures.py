"""What failed in an area and what was done about it: lifts as a story step by step, anything else in a paragraph."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from fieldassist.facts.model import CureFact, FailureFact, LiftFact
from fieldassist.report.area_model import FailureCard, StoryRow
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.figures import measure, person, void_allowed
from fieldassist.report.build.lift_lines import photos_of, step_photos
from fieldassist.report.keys import failure_key
from fieldassist.trade.message import Figure, Several, Text, message


def failures(told: AreaWords) -> tuple[FailureCard, ...]:
    """All of them, in order."""
    return tuple(_card(told, failure) for failure in told.area.failures)


def _card(told: AreaWords, failure: FailureFact) -> FailureCard:
    lift = told.lift(failure.lift) if failure.lift is not None else None
    story = tuple(_story(told, failure, lift)) if lift is not None else ()
    photos = photos_of(told, lift) if lift is not None else step_photos(told, failure.section, failure.round)
    return FailureCard(
        key=failure_key(told.key, failure.number),
        title=told.say("area-failure", number=failure.number, state="open" if failure.open else "cured"),
        open=failure.open,
        rows=_timed(story),
        brief="" if story else _brief(told, failure),
        end=_end(told, failure),
        photo=photos[0] if photos else None,
    )


def _timed(rows: Sequence[StoryRow]) -> tuple[StoryRow, ...]:
    """A time stands once, at the first step that has it."""
    before, found = "", []
    for row in rows:
        found.append(StoryRow("" if row.time == before else row.time, row.strong, row.text))
        before = row.time
    return tuple(found)


def _end(told: AreaWords, failure: FailureFact) -> str:
    if failure.open:
        return told.say("area-failure-open")
    suspects = set(failure.suspect) & set(told.in_state("suspect", "accepted"))
    if suspects:
        return told.say("area-failure-cured-but", pieces=told.pieces(suspects))
    return told.say("area-failure-cured")


def finding_told(told: AreaWords, failure: FailureFact) -> str:
    """What failed, in a few words without a stop at its end."""
    lift = told.lift(failure.lift) if failure.lift is not None else None
    return failure.text if lift is None else told.words(_clauses(told, lift))


# --- a failed lift ------------------------------------------------------------------------------------------------


def _story(told: AreaWords, failure: FailureFact, lift: LiftFact) -> Iterator[StoryRow]:
    def row(step: str, at: str, text: str) -> StoryRow:
        return StoryRow(told.words(told.time(at)), told.say(f"area-story-{step}"), text)

    yield row("found", lift.at, _found(told, lift))
    cure = failure.cure
    outward = [step for step in cure if step.kind == "lifted"]
    if failure.suspect:
        text = told.say("area-story-suspects", pieces=told.pieces(failure.suspect))
        yield row("suspect", failure.at or lift.at, text)
    elif not failure.open or outward:
        yield row("suspect", failure.at or lift.at, told.say("area-story-no-suspects"))
    parts: dict[str, list[CureFact]] = {}
    for step in cure:
        parts.setdefault(_part(step, told), []).append(step)
    for kind, steps in sorted(parts.items(), key=lambda part: datetime.fromisoformat(_when(told, part[1][0]))):
        if kind:
            yield row(kind, _when(told, steps[0]), _told(told, steps))


def _when(told: AreaWords, step: CureFact) -> str:
    """When a step was done: of a lift, when that was made, as wherever the lift is told."""
    lift = told.lift(step.lift) if step.lift is not None else None
    return step.at if lift is None else lift.at


def _part(step: CureFact, told: AreaWords) -> str:
    """Under which word of the story a step stands."""
    if step.kind in ("not lifted", "accepted", "taken off"):
        return "left"
    if step.kind in ("changed", "done", "answered", "released"):
        return "changed"
    if step.kind == "lifted":
        lift = told.lift(step.lift) if step.lift is not None else None
        return "shown" if lift is not None and lift.came == "after failure" else "outward"
    return "shown" if step.kind in ("failed again", "closed") else ""


def _found(told: AreaWords, lift: LiftFact) -> str:
    return told.say("area-story-clauses", clauses=_clauses(told, lift))


def _clauses(told: AreaWords, lift: LiftFact) -> Several:
    need, voids = told.area.required, told.void(lift)
    least = lift.required_percent if lift.required_percent is not None else need.percent if need is not None else 0.0
    sentences: list[Figure] = [
        message(
            "area-story-lift",
            lift=str(lift.number),
            piece=told.piece(lift.tile),
            contact=told.contact(lift) or message("area-not-read"),
            required=measure(least, "percent"),
        )
    ]
    most = need.void_mm2 if need is not None else None
    if voids is not None and most is not None and (lift.void_mm2 or 0.0) > most:
        sentences.append(message("area-story-void", void=voids, allowed=void_allowed(most)))
    if lift.corners == "not full":
        sentences.append(message("area-story-corner"))
    if lift.edges == "not full":
        sentences.append(message("area-story-edge"))
    return Several(tuple(sentences), "clauses")


def _told(told: AreaWords, steps: Sequence[CureFact]) -> str:
    """Several steps of one part, as sentences."""
    return told.words(Several(tuple(_step(told, step) for step in steps), "sentences"))


def _step(told: AreaWords, step: CureFact) -> Figure:
    text = "" if step.told is None else step.told.text
    if step.kind == "lifted":
        lift = told.lift(step.lift) if step.lift is not None else None
        if lift is None:
            return ""
        return message(
            "area-story-lifted",
            lift=str(lift.number),
            piece=told.piece(lift.tile),
            contact=told.contact(lift) or message("area-not-read"),
            verdict=(lift.verdict or "not complete").replace(" ", "-"),
        )
    if step.kind == "changed":
        letter = "" if step.method is None else told.method(step.method).letter
        return message("area-story-method", letter=letter)
    if step.kind in ("done", "answered"):
        return message("area-story-done", step=Text.plain(text))
    if step.kind == "released":
        return message("area-story-released", step=Text.plain(text), name=person(step.by))
    if step.kind == "not lifted":
        return message("area-story-not-lifted", pieces=told.pieces(step.tiles), why=Text.plain(text))
    if step.kind == "accepted":
        return message(
            "area-story-accepted", pieces=told.pieces(step.tiles), name=person(step.by), words=Text.plain(text)
        )
    if step.kind == "taken off":
        return message("area-story-taken-off", pieces=told.pieces(step.tiles))
    code = "area-story-again" if step.kind == "failed again" else "area-story-closed"
    return message(code, shown=Text.plain(text))


# --- anything else ------------------------------------------------------------------------------------------------


def _brief(told: AreaWords, failure: FailureFact) -> str:
    """Found, what was required, and each step with its time."""
    required: Figure = "" if failure.required is None else Text.plain(failure.required.text)
    both = failure.code.startswith("limit-")  # such a finding names its limit
    sentences: list[Figure] = [
        message(
            "area-brief-found",
            earlier="no" if failure.at else "yes",
            time=told.time(failure.at),
            place=Text.plain(failure.place),
            finding=Text.plain(failure.text),
            required="no" if failure.required is None or failure.clock is not None or both else "yes",
            limit=required,
        )
    ]
    for step in failure.cure:
        # That the action was done is all that closes such a failure; its step says it already.
        done = step.kind == "closed" and step.told is not None and step.told.code == "engine-corrective-done"
        if step.kind != "suspect" and not done:
            sentences.append(message("area-brief-step", time=told.time(_when(told, step)), step=_step(told, step)))
    return told.words(Several(tuple(sentences), "sentences"))
