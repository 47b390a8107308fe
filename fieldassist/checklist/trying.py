"""Samples of a mock-up trial: which combination comes next, what is spoiled, and the method that is released from it.

A trial is an area in which methods are tried. Its order is drawn above this room from the head of the record as it
stands when the area is started (`SamplesOrdered`): the plan and its questions are in the chain by then, and anybody can
draw it again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import follow, methods
from fieldassist.checklist.draft import Draft, how_to_be
from fieldassist.checklist.kinds import Reading, Step
from fieldassist.checklist.offers import BUCKET, BUCKETS, READS, SPOILED, SPOILED_REASONS, VALUE, WORDS, Offer
from fieldassist.checklist.plan import AreaPlan, Combination, Role
from fieldassist.checklist.schema import Checklist, Section
from fieldassist.checklist.state import Area, State, TrialSample
from fieldassist.trade.message import Figure, Message, Several, Text, message, term

# --- what is tried ------------------------------------------------------------------------------------------------


def looked_at(plan: AreaPlan, checklist: Checklist, letter: str) -> methods.MethodVerdict:
    """What the reckoning says of one combination: its bed against the limits of its mortar, what it can reach."""
    assert plan.trial is not None
    one = plan.trial.by_letter[letter]
    mortar = next((m for m in plan.trial.mortars if m.name == one.mortar), plan.mortar)
    area = Area(plan=plan.model_copy(update={"mortar": mortar}), checklist=checklist, method=one.method)
    return methods.judge(area, one.method)


def ruled_out(plan: AreaPlan, checklist: Checklist) -> Mapping[str, tuple[Message, ...]]:
    """The combinations that the mortar's limits or geometry rule out, each with the reasons."""
    if plan.trial is None:
        return {}
    verdicts = {letter: looked_at(plan, checklist, letter) for letter in plan.trial.letters}
    return {letter: verdict.reasons for letter, verdict in verdicts.items() if not verdict.possible}


def eligible(plan: AreaPlan, checklist: Checklist) -> tuple[str, ...]:
    """The combinations that may win, by their letters."""
    out = ruled_out(plan, checklist)
    return tuple(letter for letter in (plan.trial.letters if plan.trial is not None else ()) if letter not in out)


def letters_run(plan: AreaPlan, checklist: Checklist) -> tuple[str, ...]:
    """The combinations that are run: the eligible ones, and those that are only shown."""
    if plan.trial is None:
        return ()
    out = ruled_out(plan, checklist)
    return tuple(letter for letter, one in plan.trial.by_letter.items() if letter not in out or one.shown)


def told(one: Combination) -> Message:
    """A combination in words: its notch, sides, how it is moved and seated, and its mortar where it has one of its
    own."""
    return message(
        "trial-combination",
        notch=one.notch or methods.trowel_words(one),
        sides=one.sides,
        back=one.back,
        movement=moved(one),
        seating=seated(one),
        mortar=one.mortar or "none",
    )


def moved(one: Combination) -> Message:
    """How a combination is moved, and how far where that is written."""
    how = term("trial-movement", one.movement)
    return how if one.slide is None else message("trial-by-so-much", what=how, much=one.slide)


def seated(one: Combination) -> Message:
    """How a combination is seated, and how long where that is written."""
    how = term("trial-seating", one.seating)
    return how if one.seconds is None else message("trial-by-so-much", what=how, much=one.seconds)


# --- how far it is ------------------------------------------------------------------------------------------------


def next_letter(area: Area) -> str | None:
    """The combination of the sample that comes next; None where no more is to be made."""
    return area.next_sample[0] if area.next_sample is not None else None


def made(area: Area) -> int:
    """How many samples are made and read, without those that were spoiled."""
    return sum(sample.done for sample in area.progress.samples.values())


def planned(area: Area) -> int:
    """How many samples are to be made."""
    return len(area.progress.order)


def missing(area: Area) -> Mapping[str, int]:
    """How many samples are still to be made, by letter."""
    done = Counter(sample.letter for sample in area.progress.samples.values() if sample.done)
    wanted = Counter(area.progress.order)
    return {letter: count - done[letter] for letter, count in wanted.items() if count > done[letter]}


def asked_at(state: State, area: Area, sample: TrialSample, step: Step, ask: Figure) -> Figure:
    """What is asked at a step of a sample: at its first one with all that is tried in it, where it is moved and seated
    with how, and of a reader with the name."""
    assert area.plan.trial is not None
    one, section = area.plan.trial.by_letter[sample.letter], area.checklist.trying
    if section is not None and step.id == section.steps[0].id:
        return asked(area, sample, ask)
    if isinstance(step, Reading) and step.reader is not None and state.plan is not None:
        reader = state.plan.person(area.reader(step.reader))
        called = f"{reader.said} {READS}" if reader is not None else ""
        return message("trial-ask-reader", name=area.reader(step.reader), phrase=called) if called else ask
    if step.only == "moved":
        return message("trial-ask-so", ask=ask, how=moved(one))
    return message("trial-ask-so", ask=ask, how=seated(one)) if step.only == "vibrated" else ask


def asked(area: Area, sample: TrialSample, ask: Figure) -> Message:
    """What is asked of a sample, with what is tried in it."""
    assert area.plan.trial is not None
    return message(
        "trial-ask",
        number=str(sample.number),
        planned=planned(area),
        again="yes" if sample.place == 0 else "no",
        letter=sample.letter,
        combination=told(area.plan.trial.by_letter[sample.letter]),
        ask=ask,
    )


# --- deciding -----------------------------------------------------------------------------------------------------


def begin(draft: Draft, command: cmd.StartArea) -> None:
    """The order of the samples, once the area is started: as it was drawn where the tablet has drawn it."""
    area = draft.area
    trial = area.plan.trial
    if trial is None or not command.order:
        return
    run = letters_run(area.plan, area.checklist)
    if Counter(command.order) != Counter(dict.fromkeys(run, trial.repeats)):
        raise draft.refusal("trial-order-unfit")
    out = ruled_out(area.plan, area.checklist)
    draft.emit(
        ev.SamplesOrdered(
            area=area.plan.name,
            head=command.head,
            order=command.order,
            ruled_out=tuple(
                ev.RuledOut(letter=letter, reasons=reasons, shown=trial.by_letter[letter].shown)
                for letter, reasons in out.items()
            ),
        )
    )
    draft.say(message("trial-begun", samples=len(command.order), combinations=len(run), repeats=trial.repeats))
    for letter, reasons in out.items():
        one = trial.by_letter[letter]
        draft.say(
            message(
                "trial-ruled-out",
                letter=letter,
                combination=told(one),
                reasons=Several(reasons, "clauses"),
                shown="yes" if one.shown else "no",
            )
        )


def more_samples(draft: Draft, command: cmd.MoreSamples) -> None:
    """So many more of some combinations, behind those that were drawn before."""
    area = draft.area
    run = _run(draft, area)
    strange = [letter for letter in command.letters if letter not in run]
    if strange:
        raise draft.refusal("trial-no-such-letter", letter=strange[0], letters=Several(run))
    if Counter(command.order) != Counter(dict.fromkeys(dict.fromkeys(command.letters), command.repeats)):
        raise draft.refusal("trial-order-unfit")
    draft.emit(ev.SamplesOrdered(area=area.plan.name, head=command.head, order=command.order, more=True))
    draft.say(
        message("trial-more", samples=len(command.order), letters=Several(tuple(dict.fromkeys(command.letters)), "and"))
    )


def _run(draft: Draft, area: Area) -> tuple[str, ...]:
    if area.plan.trial is None:
        raise draft.refusal("trial-none-here", area=area.plan.name)
    return tuple(sorted(set(area.progress.order)))


def sample_wanted(draft: Draft, area: Area, section: Section) -> ev.SampleBegun | None:
    """The sample that a round of this section makes, None where it makes none; refused where none is to be made, or
    where its mortar is not mixed. The bucket of its mortar is taken."""
    if section.tries is None:
        return None
    trial = area.plan.trial
    if trial is None:
        raise draft.refusal("trial-none-here", area=area.plan.name)
    if area.next_sample is None:
        raise draft.refusal("trial-all-made" if area.progress.order else "trial-not-drawn", area=area.plan.name)
    letter, place = area.next_sample
    if trial.mortars:
        _take_mortar(draft, area, letter)
    batch = draft.area.progress.batch
    mixed = [run.started for run in draft.area.progress.clocks if run.round == batch and _mixes(area, run.section)]
    age = max((moment.minutes_to(draft.now) for moment in mixed), default=0.0)
    return ev.SampleBegun(letter=letter, place=place, batch=batch, age_min=round(age, 2))


def _mixes(area: Area, section: str) -> bool:
    return area.checklist.mixing is not None and area.checklist.mixing.id == section


def _take_mortar(draft: Draft, area: Area, letter: str) -> None:
    """Mortar for the sample out of the bucket that its mortar has: the first one for the area's own, then in order."""
    assert area.plan.trial is not None
    at = area.plan.trial.mortar_place(letter)
    wanted = next((b for b in area.progress.batches.values() if b.alive and b.bucket == at + 1), None)
    if wanted is None:
        mixing = area.checklist.mixing
        names = (area.plan.mortar.name, *(mortar.name for mortar in area.plan.trial.mortars))
        call = mixing.call() if mixing is not None else None
        phrase = f"{call} {BUCKET} {BUCKETS[at]}" if at else call or ""
        raise draft.refusal("trial-other-mortar", letter=letter, mortar=names[at], phrase=phrase)
    if wanted.round != area.progress.batch:
        draft.emit(
            ev.BucketTaken(area=area.plan.name, section=wanted.section, round=wanted.round, bucket=wanted.bucket)
        )


def spoil(draft: Draft, command: cmd.SpoilSample) -> None:
    """The sample at hand does not count. Once it was looked at it does, whatever is said of it."""
    area = draft.area
    sample, task = area.sample, area.task
    if sample is None or task is None:
        raise draft.refusal("trial-no-sample", area=area.plan.name)
    if sample.seen is not None:
        raise draft.refusal("trial-seen-already", number=str(sample.number))
    given = command.reason
    reason = term("trial-spoiled-reason", given) if given in SPOILED_REASONS else Text.plain(given)
    for run in area.progress.clocks:
        if (run.section, run.round) == (task.section, task.round):
            follow.stop_clock(draft, run, judge=False)
    drops = tuple(
        ev.StepPlace(section=t.section, round=t.round, step=t.step)
        for t in area.progress.tasks
        if (t.section, t.round) == (task.section, task.round)
    )
    draft.emit(
        ev.SampleSpoiled(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            letter=sample.letter,
            reason=reason,
            drops=drops,
        )
    )
    draft.say(message("trial-spoiled", number=str(sample.number), letter=sample.letter))


def release(draft: Draft, command: cmd.ReleaseMethod) -> None:
    """The foreman releases a method from the trial by PIN."""
    area, plan = draft.area, draft.state.plan
    run = _run(draft, area)
    assert plan is not None
    assert area.plan.trial is not None
    if command.letter not in run:
        raise draft.refusal("trial-no-such-letter", letter=command.letter, letters=Several(run))
    if command.letter in area.progress.ruled_out:
        reasons = Several(area.progress.ruled_out[command.letter], "clauses")
        raise draft.refusal("trial-not-eligible", letter=command.letter, reasons=reasons)
    if not any(sample.done and sample.letter == command.letter for sample in area.progress.samples.values()):
        raise draft.refusal("trial-nothing-seen", letter=command.letter)
    person = plan.person(command.name)
    may = plan.releasing(Role.FOREMAN)
    if person is None or person not in may:
        names = Several(tuple(p.name for p in may), "or")
        raise draft.refusal("engine-may-not-release", name=command.name, names=names)
    if not command.key or not command.signature:
        raise draft.refusal("trial-release-by-pin", who=how_to_be(draft.state, Role.FOREMAN))
    one = area.plan.trial.by_letter[command.letter]
    draft.emit(
        ev.MethodReleased(
            area=area.plan.name,
            letter=command.letter,
            method=one.method,
            areas=tuple(dict.fromkeys(command.areas)),
            made=command.made,
            name=person.name,
            role=person.role,
            deputy_for=(person.deputy_for or "") if person.role is not Role.FOREMAN else "",
            key=command.key,
            signature=command.signature,
        ),
        by=person.name,
    )
    draft.say(message("trial-released", letter=command.letter, areas=Several(command.areas, "and"), name=person.name))


# --- what may be said, and what is open ---------------------------------------------------------------------------


def offers(area: Area, *, free: bool) -> list[Offer]:
    """To call the sample at hand spoiled, with a reason."""
    if area.checklist.trying is None:
        return []
    sample = area.sample
    may = free and sample is not None and sample.seen is None
    return [
        *(
            Offer(
                (f"{SPOILED} {reason}", *((SPOILED,) if at == 0 else ())),
                term("trial-spoiled-reason", reason),
                cmd.SpoilSample(reason=reason),
                now=may,
                aside=True,
            )
            for at, reason in enumerate(SPOILED_REASONS)
        ),
        Offer((f"{SPOILED} {VALUE}",), message("prompt-other-reason"), cmd.SpoilSample(), WORDS, may, aside=True),
    ]


def points(state: State) -> Iterator[tuple[str, str, Message]]:
    """What is open about trials: samples that were planned and not made, once the area is finished. The area, the
    cause, and what to tell."""
    for name, area in state.areas.items():
        left = missing(area)
        if area.plan.trial is not None and area.progress.phase == "finished" and left:
            letters = Several(tuple(left), "and")
            yield (
                name,
                str(sum(left.values())),
                message("trial-samples-missing", samples=sum(left.values()), letters=letters),
            )


def read_apart(area: Area, step: Reading) -> bool:
    """Whether a figure of this step is shown to nobody yet: another reader has still to give theirs."""
    sample = area.sample
    if sample is None or step.reader is None or not sample.under_way:
        return False
    readers = len(area.plan.trial.readers) if area.plan.trial is not None else 0
    given = {answer.reader for answer in sample.answers if answer.measures == "coverage"}
    return len(given) < readers
