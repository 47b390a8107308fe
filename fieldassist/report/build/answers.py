"""Steps that were answered, and answers that were taken back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Choice, Photo
from fieldassist.checklist.kinds.reading import as_read
from fieldassist.checklist.moment import Source
from fieldassist.report.build.words import capital, in_words
from fieldassist.report.report_model import ConditionLine, WithdrawnLine
from fieldassist.report.report_model import PhotoLine as PhotoLine
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.verdict import Outcome

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


@dataclass(frozen=True, slots=True)
class Measured:
    """What was read of a lifted tile, in words, and how it came to the tablet."""

    text: str
    source: Source


def outcome(passed: bool | None) -> Outcome | None:
    """The answer of a judgement with two of them."""
    return None if passed is None else "passed" if passed else "failed"


def reading_words(area: AreaBuilder, called: ev.ReadingCalled) -> str:
    """A reading without what was required of it."""
    return called.label if called.label is not None else area.context.words(as_read(called.value, called.unit))


# --- handlers -----------------------------------------------------------------------------------------------------


def step_answered(area: AreaBuilder, event: Event, body: AtStep) -> None:
    """A step was answered, in a way that has no handler of its own: what a list of events tells of it."""
    area.add_answer(event, body, "step", reading=_details(area, body))


def _details(area: AreaBuilder, body: AtStep) -> str:
    return ", ".join(area.context.words(figure) for figure in area.context.listing.details(body).values())


def tile_lifted(area: AreaBuilder, event: Event, body: ev.TileLifted) -> None:
    """A test tile was lifted."""
    area.add_answer(event, body, "lift", reading=body.label or "")


def answer_called(area: AreaBuilder, event: Event, body: ev.ReadingCalled | ev.ChoiceCalled) -> None:
    """A reading, or an answer of a lift, that was never kept; one that was kept is told where it was."""
    if event.seq in area.context.standing.kept:
        return
    text = reading_words(area, body) if isinstance(body, ev.ReadingCalled) else _option(area, body)
    if area.context.counts(event):
        why = "never answered at the read-back: does not count"
        line = area.add_answer(event, body, "reading", reading=text, withdrawn=True, why_withdrawn=why)
        area.unanswered.append(line)
    else:
        area.add_answer(event, body, "reading", reading=text)


def reading_kept(area: AreaBuilder, event: Event, body: ev.JudgedReading) -> None:
    """A reading was kept, or took the place of another, and was judged where it has a criterion."""
    context = area.context
    found = context.called(body)
    if found is None:
        return
    called, source = found
    text, required, finding = reading_words(area, called), "", ""
    criterion = body.criterion
    if criterion is not None:
        beside = context.words.beside(Quantity(called.value, called.unit), criterion)
        text, required = beside.read, beside.required
        finding = "" if body.passed else _finding(area, called, criterion)
    ref = context.ref(criterion.basis if criterion is not None else body.basis)
    verdict = outcome(body.passed)
    line = area.add_answer(
        event,
        body,
        "reading",
        reading=text,
        criterion=required,
        verdict=verdict,
        ref=ref,
        detail="; ".join(part for part in (_instead(area, body), finding) if part),
        source=source,
        kept=body.kept if isinstance(body, ev.ReadingKept) else "yes",
    )
    if body.measures is not None:
        area.measured.setdefault((body.section, body.round), {})[body.measures] = Measured(text, source)
    if called.quantity in ("temperature", "humidity"):
        area.conditions.append(
            ConditionLine(
                event.seq,
                line.time,
                line.who,
                area.name,
                line.what,
                text,
                required,
                verdict,
                ref,
                line.withdrawn,
                source,
                line.corrected,
            )
        )
    if called.quantity == "bags" and body.batch is None and context.counts(event):
        area.bags = (event, called)


def _instead(area: AreaBuilder, body: ev.JudgedReading) -> str:
    """In whose place a corrected reading stands; "" for one that is the first."""
    if not isinstance(body, ev.ReadingCorrected):
        return ""
    wrong = area.context.by_seq.get(body.corrects)
    found = area.context.called(wrong.body) if wrong is not None and isinstance(wrong.body, ev.JudgedReading) else None
    before = f", {reading_words(area, found[0])}" if found is not None else ""
    return f"CORRECTED, in place of event {body.corrects}{before}"


def _finding(area: AreaBuilder, called: ev.ReadingCalled, judged: ev.JudgedBy) -> str:
    """Why a reading fails its criterion; "" where it does not."""
    criterion = rules.Criterion(judged.rule, judged.at_least, judged.at_most, judged.unit, judged.basis)
    found = criterion.judge(called.value, called.unit).finding
    return area.context.words.finding(found, judged) if found is not None else ""


def choice_made(area: AreaBuilder, event: Event, body: ev.ChoiceMade) -> None:
    """An answer was chosen."""
    text = _option(area, body)
    kept = "yes" if body.called is not None else ""
    area.add_answer(event, body, "choice", reading=text, verdict=outcome(body.passed), kept=kept)
    if body.measures is not None:
        area.measured.setdefault((body.section, body.round), {})[body.measures] = Measured(text, event.source)


def _option(area: AreaBuilder, body: ev.ChoiceMade | ev.ChoiceCalled) -> str:
    step = area.step(body.section, body.step)
    option = step.option(body.option) if isinstance(step, Choice) else None
    return area.context.words(option.label) if option is not None else capital(in_words(body.option))


def photo_attached(area: AreaBuilder, event: Event, body: ev.PhotoAttached) -> None:
    """A photo: of a photo step, or a remark that no step asked for."""
    at = f"at {area.place(body.section, body.round, body.step)}" if body.step else "between rounds"
    photo = PhotoLine(
        event.seq,
        area.context.time(event),
        area.context.who(event),
        area.name,
        at,
        body.file,
        body.sha256,
        not area.context.counts(event),
    )
    area.photos.append(((body.section, body.round), photo))
    detail = f"SHA-256 {body.sha256}" + (", without place and camera" if body.bare else "")
    if isinstance(area.step(body.section, body.step), Photo):
        area.add_answer(event, body, "photo", reading=body.file, detail=detail, source=None)
    else:
        area.add(event, "photo", f"Photo, {at}", reading=body.file, detail=detail)


def withdrawn(area: AreaBuilder, event: Event, body: ev.Withdrawn) -> None:
    """Something was taken back, and what fell with it."""
    context = area.context
    target = context.by_seq.get(body.target)
    if target is None:
        return
    what, text, is_reading = _taken_back(area, target)
    area.withdrawn.append(
        WithdrawnLine(
            seq=event.seq,
            target=target.seq,
            said=context.time(target),
            time=context.time(event),
            who=context.who(event),
            what=what,
            reading=text,
            reason=context.because(body),
            consequences=tuple(_consequences(area, context.standing.fell.get(event.seq, ()))),
            is_reading=is_reading,
        )
    )


def _taken_back(area: AreaBuilder, target: Event) -> tuple[str, str, bool]:
    """What was taken back, its value, and whether it was a reading."""
    body = target.body
    if isinstance(body, ev.SectionOpened):
        return area.title(body.section, body.round), "", False
    if not isinstance(body, AtStep):
        return str(body.type), "", False
    place = area.place(body.section, body.round, body.step, ": ")
    if isinstance(body, ev.ReadingCalled):
        return place, reading_words(area, body), True
    if isinstance(body, ev.JudgedReading):
        found = area.context.called(body)
        return place, reading_words(area, found[0]) if found is not None else "", True
    if isinstance(body, ev.ChoiceMade | ev.ChoiceCalled):
        return place, _option(area, body), False
    if isinstance(body, ev.TileLifted):
        return place, body.label or "", False
    if isinstance(body, ev.PhotoAttached):
        return place, body.file, False
    return place, _details(area, body), False


def _consequences(area: AreaBuilder, fallen: tuple[Event, ...]) -> Iterator[str]:
    context = area.context
    for event in fallen:
        body = event.body
        if isinstance(body, ev.LiftJudged):
            yield f"the verdict of lift {body.lift} ({body.verdict})"
        elif isinstance(body, ev.FailureOpened):
            yield f"the failure of event {event.seq} ({context.words(body.finding)})"
        elif isinstance(body, ev.FailureClosed):
            yield f"the cure of {context.failure_name(body.failure)}"
        elif isinstance(body, ev.ClockStarted):
            yield f"the start of the clock “{area.clock_title(body.clock)}”"
        elif isinstance(body, ev.ClockStopped):
            yield f"the stop of the clock “{area.clock_title(body.clock)}”, which runs on"


HANDLERS: Mapping[type, Callable[..., None]] = {
    ev.TileLifted: tile_lifted,
    ev.ReadingCalled: answer_called,
    ev.ChoiceCalled: answer_called,
    ev.ReadingKept: reading_kept,
    ev.ReadingCorrected: reading_kept,
    ev.ChoiceMade: choice_made,
    ev.PhotoAttached: photo_attached,
    ev.Withdrawn: withdrawn,
}
