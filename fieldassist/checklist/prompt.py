"""What to ask now and what may be said: one source for the voice, the screen's keys and its hints."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from fieldassist.checklist import cautions, changing, covering, doubting, dusty, keeping, methods, trying
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.contradictions import contradictions
from fieldassist.checklist.draft import between_rounds, hindrance, how_to_be
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.follow import late_to_call, midday_due
from fieldassist.checklist.kinds import KINDS, Choice, Hold, Lift, MethodStep, Reading, Step
from fieldassist.checklist.kinds.hold import how_to_release
from fieldassist.checklist.kinds.reading import asked_back, kept_already, read_as
from fieldassist.checklist.lots import RAREST
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.offers import (
    BUCKET,
    BUCKETS,
    EARLY_REASONS,
    GO_ON_EARLY,
    LATE_REASONS,
    NO,
    READY,
    SETS,
    SIGN_OFF_OPEN,
    START_AREA,
    THIS_IS,
    UNDERSTOOD,
    UNDO,
    VALUE,
    WEATHER,
    WORDS,
    YES,
    Offer,
    Slot,
    StepSetting,
    number_said,
)
from fieldassist.checklist.open_points import open_points, unanswered
from fieldassist.checklist.opening import answered_beside, opened_by_answer, photo_left_out_by
from fieldassist.checklist.plan import DayPlan, Person, Role, spoken_form
from fieldassist.checklist.schema import Checklist, Section
from fieldassist.checklist.state import Area, ClockRun, ReadingRecord, Spread, State
from fieldassist.checklist.window import Cycle, cycle, window
from fieldassist.checklist.witnessing import why_witnessed
from fieldassist.checklist.wording import WRITTEN_IN, in_language
from fieldassist.trade.message import Figure, Message, Several, Text, message, term
from fieldassist.trade.quantities import System

# What answers the step at hand.
_ANSWERS = (
    cmd.Withdraw,
    cmd.AcknowledgeCaution,
    cmd.StartRound,
    cmd.SpreadMortar,
    cmd.TilesIn,
    cmd.TakeBucket,
    cmd.CallLate,
    cmd.GoOnEarly,
    cmd.FinishArea,
    *(command for kind in KINDS for command in kind.DECIDERS),
)


_YES_OR_NO = (
    Offer(YES, message("prompt-yes"), cmd.Keep()),
    Offer(NO, message("prompt-no"), cmd.Withdraw()),
)

# What is offered whatever the day: made once.
_ASKS = (
    Offer(("what now",), message("prompt-what-now"), cmd.Ask(about="what now")),
    Offer(("repeat", "say again"), message("prompt-repeat"), cmd.Ask(about="repeat")),
    Offer(("how long", "how much time is left"), message("prompt-how-long"), cmd.Ask(about="how long")),
    Offer(("quiet", "be quiet"), message("prompt-quiet"), cmd.Ask(about="quiet"), aside=True),
    Offer(("talk to me", "say more"), message("prompt-talk"), cmd.Ask(about="talk"), aside=True),
)
_HOW_MANY = Offer(("how many", "how many tiles fit"), message("prompt-how-many"), cmd.Ask(about="how many"))
_UNDERSTOOD = Offer(UNDERSTOOD, message("prompt-understood"), cmd.AcknowledgeCaution())
_NOT_ASKED = (Offer(("yes", "no"), message("prompt-yes"), cmd.Keep(), now=False),)
_NOBODY_WAITS_FOR = tuple(replace(offer, aside=True) for offer in _YES_OR_NO)
# After what was typed or pressed and kept at once, a yes is one too many and a no takes it back.
_ASKED_NO_MORE = tuple(replace(offer, now=False) for offer in _YES_OR_NO)
_WEATHER = tuple(
    Offer(
        (f"weather {w}", f"weather is {w}"),
        message("prompt-weather", weather=message("prompt-weather-word", word=w)),
        cmd.NoteWeather(text=w),
    )
    for w in WEATHER
)


@dataclass(frozen=True, slots=True)
class RunningClock:
    """A clock as it stands. least: it must be over before something is done; negative minutes are left once it is."""

    area: str
    clock: str
    title: Text
    left_minutes: float
    total_minutes: float
    least: bool = False


@dataclass(frozen=True, slots=True)
class Prompt:
    """What the crew is asked now.

    say: the question, with the words that answer it; ask: the question alone; requirement: what the answer must reach;
    basis: why it is asked, or where the requirement comes from; short: what is enough for whoever has heard `say`
    today, "" where a sound is, None where only the whole is. waits_for_yes: something was read back and is kept by a
    yes only. goes_on: where a reading was read back that waits for no yes, what is asked once the next phrase keeps it;
    `say` and `ask` tell both, all else is as it will be then. caution: must be acknowledged first; reminders: cautions
    heard earlier, which going on acknowledges: they are for the screen, and neither told nor asked; cycle: what the
    crew is in the middle of, None for nothing.
    """

    area: str | None
    say: Figure
    ask: Figure
    basis: Figure | None
    requirement: Figure | None
    offers: tuple[Offer, ...]
    clocks: tuple[RunningClock, ...]
    waits_for_yes: bool = False
    caution: Figure | None = None
    reminders: tuple[Text, ...] = ()
    asks_for: tuple[type, ...] = ()
    short: Figure | None = None
    goes_on: Figure | None = None
    cycle: Cycle | None = None

    @property
    def answers(self) -> tuple[Offer, ...]:
        """The offers that answer what is asked. The others may be said too, but nobody waits for them.

        Who speaks, another area or method, the weather and the signature are answers only where they are asked for.
        """
        return tuple(o for o in self.offers if o.now and not o.aside and isinstance(o.command, self.asks_for))

    @property
    def window(self) -> tuple[Offer, ...]:
        """The offers that are heard without the attention phrase."""
        return window(self.offers, self.cycle)

    @property
    def hints(self) -> tuple[str, ...]:
        """What may be said now, one phrase an offer."""
        return tuple(o.phrases[0].replace(VALUE, "…") for o in self.offers if o.now and not o.aside and o.phrases)


def prompt(state: State, now: Moment, language: str = WRITTEN_IN) -> Prompt:
    """What is asked at `now`, what may be said in `language`, and how the clocks stand."""
    pending = state.pending
    if pending is not None and pending.unquestioned and not state.closed and state.speaker is not None:
        return _before_it_is_kept(state, now, language)
    area = state.area
    due = cautions.due(state, area, now) if area is not None else ()
    basis: Figure | None = None
    requirement: Figure | None = None
    caution: Figure | None = None
    reminders: tuple[Text, ...] = ()
    asks_for: tuple[type, ...] = _ANSWERS
    ask: Figure
    say: Figure | None = None
    short: Figure | None = None
    if state.plan is None:
        ask = message("prompt-open-day")
    elif state.closed:
        ask = message("prompt-signed", part=state.part, name=state.signed[-1], sealed=state.sealed)
    elif state.speaker is None:
        ask, asks_for = message("prompt-who-speaks"), (cmd.SpeakAs,)
    elif pending is not None:
        ask = asked_back(state)
    elif area is None:
        names = Several(tuple(a.name for a in state.plan.areas))
        ask, asks_for, short = message("prompt-start-area", phrase=START_AREA, names=names), (cmd.StartArea,), ""
    elif due:
        caution, ask = cautions.told(due), cautions.question(due)
        basis = None if due[0].heard else due[0].caution.basis
    elif area.spread is not None and (area.task is None or area.yields):
        ask, short = _spread_asked(area, area.spread), ""
    elif area.step is not None:
        ask, say, basis = area.step.ask, area.step.asked(language), area.step.basis
        plain, short = say, _short(area.step)
        if area.sample is not None:
            say = trying.asked_at(state, area, area.sample, area.step, say)
        if area.task is not None:
            reminders = tuple(one.text for one, _ in cautions.reminders(state, area, area.task))
        if isinstance(area.step, Hold):
            say = _who_releases(state.plan, state.speaker, area.step, say)
        elif area.step.by is not None and not area.step.taken_from(state.speaker):
            say = message("prompt-role-first", ask=ask, who=how_to_be(state, area.step.by))
        if isinstance(area.step, MethodStep):
            asks_for = (*_ANSWERS, cmd.ChangeMethod, cmd.VouchMethod)
            ways = doubting.ways_told(state, area, area.method, methods.failed_here(area))
            say = message("method-ask", ask=say, ways=ways)
        why = hindrance(state, area, now)
        if why is not None:
            say = why
        if say is not plain:
            short = None
        criterion = area.criterion(area.step)
        if criterion is not None:
            requirement, basis = criterion.told, criterion.basis
    elif area.doubt is not None and area.doubt.holds:
        told = doubting.cannot(state, area, area.method)
        ask, asks_for = message("method-waits", area=area.plan.name, told=told), (cmd.ChangeMethod, cmd.VouchMethod)
    elif area.progress.phase == "finished":
        ask, asks_for, short = message("prompt-next-area"), (*_ANSWERS, cmd.StartArea), ""
    else:
        ask, short = between_rounds(area, now), ""
    return Prompt(
        area=area.plan.name if area else None,
        say=ask if say is None else say,
        ask=ask,
        basis=basis,
        requirement=requirement,
        offers=_offers(state, area, now, language, blocked=bool(due)) if state.plan is not None else (),
        clocks=_clocks(state, now),
        waits_for_yes=pending is not None,
        caution=caution,
        reminders=reminders,
        asks_for=asks_for,
        short=short,
        cycle=cycle(state, now),
    )


def _spread_asked(area: Area, spread: Spread) -> Message:
    """What is asked while tiles are set into mortar that is spread."""
    section = area.checklist.section(spread.section)
    counting = section.counting if section is not None else None
    phrase = counting.tiles_in.number_phrase if counting is not None else ""
    return message("prompt-spread-open", done=spread.done, left=spread.left or 0, phrase=phrase)


def _short(step: Step) -> Message:
    """A step in a word or two, for whoever knows its question."""
    name: Figure = step.name
    if isinstance(step, Choice) and step.label is None:
        name = Several(tuple(option.label for option in step.options), "or")
    return message("prompt-short", name=name, asks=isinstance(step, Choice | Reading))


def _clocks(state: State, now: Moment) -> tuple[RunningClock, ...]:
    """The clocks that run, in every area."""
    return tuple(
        RunningClock(name, run.clock, clock.title, run.left(now), run.minutes, clock.bound == "at least")
        for name, area in state.areas.items()
        for run in area.progress.clocks
        if (clock := area.checklist.clock(run.clock)) is not None
    )


def _before_it_is_kept(state: State, now: Moment, language: str) -> Prompt:
    """The prompt while a reading waits for no yes: it is read back, and what may be said is what may be said after it,
    and besides yes, no and the reading with another value.

    No bare value for the step after it: that would rather be the same reading again.
    """
    after = prompt(keeping.after_keeping(state, now), now, language)
    told, here = asked_back(state), cycle(state, now)
    following = (
        replace(offer, phrases=tuple(phrase for phrase in offer.phrases if phrase != VALUE))
        for offer in after.offers
        if not isinstance(offer.command, cmd.Keep | cmd.Withdraw)
    )
    return replace(
        after,
        say=Several((told, after.say), "sentences"),
        ask=Several((told, after.ask), "sentences"),
        offers=(*following, *_NOBODY_WAITS_FOR, *_again(state, language)),
        clocks=_clocks(state, now),
        goes_on=after.say,
        cycle=here | after.cycle if here is not None and after.cycle is not None else here,
    )


def _who_releases(plan: DayPlan, speaker: Person, step: Hold, say: Figure) -> Figure:
    """The question of a hold point, and what to say where whoever speaks may not release it."""
    may = step.releasing(plan)
    if speaker in may:
        return say
    if not may:
        return message("engine-nobody-releases", role=str(step.by), ask=step.ask)
    return message(
        "prompt-release-by-whom", role=str(step.by), ask=step.ask, phrase=how_to_release(step, may[0])["phrase"]
    )


def whether_meant(asked: Prompt, words: str, name: Figure | None = None) -> Prompt:
    """The prompt with a question before it: whether these words were said. What was asked can be answered anew.

    name: that they name a tile by, as it is read back.
    """
    others = tuple(o for o in asked.offers if not isinstance(o.command, cmd.Keep | cmd.Withdraw))
    question = message("prompt-did-you-say", words=words)
    if name is not None:
        question = message("prompt-did-you-say-name", words=words, name=name)
    return replace(
        asked,
        say=question,
        ask=question,
        short=None,
        offers=(*_YES_OR_NO, *others),
        waits_for_yes=True,
        asks_for=(*asked.asks_for, cmd.Keep, cmd.Withdraw),
    )


def minutes_to_next_alarm(state: State, now: Moment) -> float | None:
    """Minutes until a clock warns, runs out or is over, or noon makes something due; None for never, 0 for now."""
    times: list[float] = []
    if state.closed:
        return None
    for area in state.areas.values():
        for run in area.progress.clocks:
            left = run.left(now)
            if run.up:
                continue
            times.append(left)
            clock = area.checklist.clock(run.clock)
            if clock is not None and clock.warn is not None and not run.warned:
                times.append(left - canonical(clock.warn))
        if area.between_rounds and any("midday" in s.again for s in area.checklist.sections):
            if now.minutes_past_noon < 0:
                times.append(-now.minutes_past_noon)
            elif midday_due(area, now):
                times.append(0.0)
    return max(0.0, min(times)) if times else None


# So late a clock may be told that its time is up: the tablet looks at it each second, where it is on.
LATEST_MIN = 1.0


def run_out_untold(state: State, now: Moment) -> ClockRun | None:
    """A clock that ran out more than `LATEST_MIN` before `now` and nobody was told of, None for none.

    Whatever is done then is done after that: the day lets it run out first.
    """
    if state.closed:
        return None
    for area in state.areas.values():
        for run in area.progress.clocks:
            clock = area.checklist.clock(run.clock)
            if run.left(now) < -LATEST_MIN and not run.up and (clock is None or clock.bound != "at least"):
                return run
    return None


def _offers(state: State, area: Area | None, now: Moment, language: str, *, blocked: bool) -> tuple[Offer, ...]:
    """Everything that can be understood, what the sequence takes now first. `now` is said only of what it takes."""
    offers = _open_offers(state, area, now, language, blocked=blocked)
    if state.closed:
        return tuple(o if isinstance(o.command, cmd.Ask) else replace(o, now=False) for o in offers)
    return tuple(offers)


def _open_offers(state: State, area: Area | None, now: Moment, language: str, *, blocked: bool) -> list[Offer]:
    plan = state.plan
    if state.pending is not None:
        return [*_YES_OR_NO, *_again(state, language), *_of_the_same_lift(state, language), *_ASKS]
    offers: list[Offer] = []
    if area is not None:
        if blocked:
            offers.append(_UNDERSTOOD)
        offers += _step_offers(state, area, now, blocked, language)
        offers += _clock_offers(state, area, now, blocked, language)
        offers.append(Offer(UNDO, message("prompt-take-back"), cmd.Withdraw(), now=area.last_done is not None))
        if state.speaker is not None:
            offers += correction_offers(state, area, language)
        offers += _ASKED_NO_MORE if kept_already(state) else _NOT_ASKED
        if not blocked:
            offers.append(replace(_UNDERSTOOD, now=False))
    if plan is None:
        return offers
    free = not blocked and state.speaker is not None
    offers += [
        Offer(
            tuple(f"{verb} {call}" for call in a.calls for verb in (START_AREA, "go to")),
            message("prompt-start", area=a.name),
            cmd.StartArea(area=a.name),
            now=free and state.active != a.name,
        )
        for a in plan.areas
    ]
    offers += [
        Offer(
            tuple(f"{THIS_IS} {call}" for call in p.calls),
            message("prompt-person", name=p.name),
            cmd.SpeakAs(name=p.name),
        )
        for p in plan.crew
    ]
    offers += _WEATHER
    offers += dusty.offers(state, now, free=state.speaker is not None)
    if area is not None:
        offers += changing.offers(state, area, free=free)
        offers += [
            Offer(
                tuple(f"{call} {SETS}" for call in p.calls),
                message("prompt-setter", name=p.name),
                cmd.SetterIs(name=p.name),
                now=free and area.setter != p.name and area.progress.phase != "finished",
            )
            for p in plan.crew
        ]
        offers += _lift_offers(state, area, free=free)
        offers += trying.offers(area, free=free)
        if area.checklist.counted_section is not None:
            offers.append(_HOW_MANY)
    foreman = state.speaker is not None and state.speaker.role is Role.FOREMAN
    signs = foreman and not blocked
    open_now = unanswered(state)
    # Who else speaks hears who answers, but only while something contradicts itself: a day under way is always open.
    if any(point.answerable for point in open_now) and (foreman or contradictions(state)):
        offers += _answer_offers(len(open_points(state)))
    with_open = cmd.SignDay(accept_open=True)
    offers += [
        Offer(
            ("sign off the day", "sign off"),
            message("prompt-sign-off"),
            cmd.SignDay(),
            now=signs and not open_now,
        ),
        Offer((SIGN_OFF_OPEN,), message("prompt-sign-off-open"), with_open, now=signs),
        # "Note" alone sounds like "no".
        Offer(
            ("make a note", "take a note"), message("prompt-note"), cmd.Ask(about="note"), now=state.speaker is not None
        ),
        *_ASKS,
    ]
    return offers


def correction_offers(state: State, area: Area, language: str = WRITTEN_IN) -> list[Offer]:
    """A correction of each reading that counts in an area: by its event; of a lift by its number, of another step the
    last one by its name. Taken at any time, and waited for at none.

    "correct coverage of lift two {value}", "correct air temperature {value}", and typed "correct 250 {value}".
    """
    lifts = {(lift.section, lift.round): number for number, lift in area.progress.lifts.items()}
    last = {(r.section, r.step): r.kept for r in area.readings.values()}
    system: System = state.plan.units if state.plan else "metric"
    offers = []
    for reading in area.readings.values():
        lift = lifts.get((reading.section, reading.round), 0)
        step = area.checklist.step(reading.section, reading.step)
        if isinstance(step, Reading):
            by_name = bool(lift) or last[(reading.section, reading.step)] == reading.kept
            offers.append(
                _correction(reading, lift, step.name, step.phrases(language) if by_name else (), step.slot(system))
            )
    return offers


# A day's readings stay, and are offered at every look.
@lru_cache(maxsize=4096)
def _correction(reading: ReadingRecord, lift: int, name: Text, phrases: tuple[str, ...], slot: Slot) -> Offer:
    of = f" of lift {number_said(lift)}" if lift else ""
    names = (" ".join(phrase.replace(VALUE, " ").split()) for phrase in phrases)
    return Offer(
        (
            *dict.fromkeys(f"correct {one}{of} {VALUE}" for one in names if one),
            *(f"correct {event} {VALUE}" for event in (reading.kept, reading.called)),
        ),
        message("prompt-correct", name=name, lift=str(lift), was=read_as(reading)),
        cmd.GiveReading(section=reading.section, step=reading.step, corrects=reading.kept),
        slot,
        now=False,
    )


def _answer_offers(points: int) -> list[Offer]:
    """Why an open point stands, by its number in the list: ready sentences, or words of one's own that are dictated.

    Not every number is of a point that words close, so none is waited for: whoever names another hears why not."""
    number = Slot("count", "count", ("count",), 1, points)
    ready = [
        Offer(
            tuple(f"point {VALUE} {said}" for said in phrases),
            term("open-ready", which),
            cmd.AnswerPoint(ready=which),
            number,
            now=False,
        )
        for which, phrases in READY.items()
    ]
    return [
        *ready,
        Offer((f"answer point {VALUE}",), message("prompt-answer"), cmd.Ask(about="answer"), number, now=False),
    ]


def _lift_offers(state: State, area: Area, *, free: bool) -> list[Offer]:
    """What may be asked of the tiles that are set: to be lifted, accepted or taken off."""
    section = area.checklist.lift_section
    if section is None or section.lift is None:
        return []
    progress = area.progress
    most = max(progress.tiles, default=0)
    word = "panel" if area.plan.piece.product == "gauged panel" else "tile"
    numbered = Slot("count", "count", ("count",), 1, max(most, 1), whole=True)
    goes_on = free and progress.phase != "finished"
    due = covering.to_be_lifted(area)
    liftable = {t.number for t in progress.tiles.values() if t.order not in progress.taken_off and t.number not in due}
    any_of_them = goes_on and most > 0 and liftable == set(range(1, most + 1))
    this_one = goes_on and progress.last_set is not None and progress.last_set.number in liftable
    foreman = free and state.speaker is not None and state.speaker.role is Role.FOREMAN
    suspects = any(t.number not in due for t in covering.in_state(area, "suspect"))
    at_hand = free and area.task is not None and isinstance(area.step, Lift) and area.task.failure is None
    place = {"section": section.id, "step": section.lift.id}
    by_inspector = cmd.AskLift(inspector=True)
    lift_tile, accept, take_off = (
        message(code) for code in ("prompt-lift-tile", "prompt-accept-tile", "prompt-take-off")
    )
    asks = f"inspector asks for {word} {VALUE}"
    return [
        Offer((f"lift this {word}", "lift this one"), message("prompt-lift-this"), cmd.AskLift(), now=this_one),
        Offer((f"lift {word} {VALUE}",), lift_tile, cmd.AskLift(), numbered, any_of_them, into="number"),
        Offer((f"inspector asks for this {word}",), message("prompt-inspector-this"), by_inspector, now=this_one),
        Offer((asks,), message("prompt-inspector-tile"), by_inspector, numbered, any_of_them, into="number"),
        *(
            Offer(phrases, term("engine-left", ready), cmd.LeaveLift(ready=ready, **place), now=at_hand)
            for ready, phrases in _LEFT.items()
        ),
        Offer(
            ("accept suspects", "accept the suspects"),
            message("prompt-accept-suspects"),
            cmd.AcceptTiles(),
            now=foreman and suspects,
        ),
        Offer(
            (f"accept {word} {VALUE}",),
            accept,
            cmd.AcceptTiles(),
            numbered,
            False,
            into="number",
        ),
        Offer((f"{word} {VALUE} taken off",), take_off, cmd.TakeOff(), numbered, False, into="number"),
        Offer(
            (f"lift one in {VALUE}",),
            message("prompt-lots"),
            cmd.SetLots(),
            Slot("count", "count", ("count",), 1, RAREST, whole=True),
            foreman and covering.lot_rule(area) is not None,
            into="one_in",
        ),
    ]


_LEFT: Mapping[cmd.LeftReady, tuple[str, ...]] = {
    "cannot": ("cannot be lifted",),
    "hard": ("mortar is too hard to lift", "too late to lift"),
    "reach": ("out of reach to lift",),
}


def _place_offers(area: Area, section: Section, *, now: bool) -> list[Offer]:
    """Where the next piece may go: a place of the grid by number or by row and column, a piece with a name, a cut."""
    word = "panel" if area.plan.piece.product == "gauged panel" else "tile"
    start = cmd.StartRound(section=section.id)
    offers: list[Offer] = []
    standing = [t for t in area.progress.tiles.values() if t.state != "taken off"]
    grid = area.plan.grid
    if grid is not None:
        # Any number may be said now only where every place is free.
        free = now and not standing and len(area.places) == grid.rows * grid.columns
        numbered = Slot("count", "count", ("count",), 1, grid.rows * grid.columns, whole=True)
        across = Slot("count", "count", ("count",), 1, grid.columns, whole=True)
        offers.append(
            Offer((f"next {word} is {VALUE}",), message("prompt-place"), start, numbered, free, True, "piece")
        )
        for row, said in zip(range(1, grid.rows + 1), _ROWS, strict=False):
            asked = cmd.StartRound(section=section.id, row=row)
            label = message("prompt-row", row=str(row))
            offers.append(Offer((f"row {said} {word} {VALUE}",), label, asked, across, free, True, "column"))
    taken = {t.place.name for t in standing}
    offers += [
        Offer(
            (f"next {word} is {spoken_form(place.name)}",),
            message("prompt-piece", name=place.name),
            cmd.StartRound(section=section.id, named=place.name),
            now=now and place.name not in taken,
            aside=True,
        )
        for place in area.places
        if place.name is not None and spoken_form(place.name)
    ]
    face = Slot("area", "area", ("m2", "ft2"), 0.001, area.piece_area)
    offers.append(Offer((f"cut {word} {VALUE}",), message("prompt-cut"), start, face, now, True, "face"))
    return offers


_ROWS = (
    *("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"),
    *("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
)


def _again(state: State, language: str) -> list[Offer]:
    """What may be said to what waits besides yes and no: any of it said again with its name.

    Nothing else is even listened for where a yes is waited for: any other word would only be one more that "no" could
    be misheard as. A bare value would be another: in noise "yes" was heard as "a fourth", and the next yes kept that.
    """
    offers: list[Offer] = []
    system: System = state.plan.units if state.plan else "metric"
    for pending in state.waiting:
        area = state.areas[pending.area]
        if pending.corrects is not None:
            offers += (o for o in correction_offers(state, area, language) if _same(o, pending.corrects))
            continue
        step = area.checklist.step(pending.task.section, pending.task.step)
        offers += step.offers(place_of(area.checklist, pending.task.section, system=system, language=language))
    return offers


def _of_the_same_lift(state: State, language: str) -> list[Offer]:
    """What else was read off the lifted tile whose answers are at hand: it may be told in any order."""
    area, plan = state.area, state.plan
    task = area.task if area is not None else None
    pending = state.pending
    if (
        area is None
        or task is None
        or plan is None
        or (pending is not None and not state.joins(task.section, task.step))
    ):
        return []
    place = place_of(area.checklist, task.section, now=True, system=plan.units, language=language, state=state)
    called = {pending.task for pending in state.waiting}
    return [
        # What waits for its yes is joined by answers only: that another is not taken is said after it.
        replace(offer, aside=True, now=not called or not isinstance(offer.command, cmd.LeaveOutReading))
        for later in area.progress.tasks
        if later not in called and (later != task or called) and later == area.answerable(later.section, later.step)
        for offer in area.checklist.step(later.section, later.step).offers(place)
    ]


def _same(offer: Offer, corrects: int) -> bool:
    return isinstance(offer.command, cmd.GiveReading) and offer.command.corrects == corrects


def place_of(
    checklist: Checklist,
    holder: str,
    *,
    now: bool = False,
    at_hand: bool = False,
    system: System = "metric",
    language: str = WRITTEN_IN,
    state: State | None = None,
) -> StepSetting:
    """Where a step of this section or corrective action is asked; state: in which day, None where in none."""
    plan, speaker = (state.plan, state.speaker) if state is not None else (None, None)
    trial = state.area.plan.trial if state is not None and state.area is not None else None
    readers = trial.readers if trial is not None else ()
    return StepSetting(holder, checklist.holder(holder).title, now, at_hand, system, language, plan, speaker, readers)


def _clock_offers(state: State, area: Area, now: Moment, blocked: bool, language: str) -> list[Offer]:
    """To take from another bucket, to call late what was done in time, and to go on before a time is over."""
    free = not blocked and state.speaker is not None
    step, batches = area.step, area.progress.batches
    offers = [
        Offer(
            (f"{BUCKET} {word}",),
            message("prompt-bucket", bucket=str(number)),
            cmd.TakeBucket(bucket=number),
            now=state.speaker is not None
            and any(b.alive and b.bucket == number and b.round != area.progress.batch for b in batches.values()),
        )
        for number, word in enumerate(BUCKETS, 1)
        if area.checklist.mixing is not None
    ]
    for clock in area.checklist.clocks:
        for phrase in in_language(clock.late, language):
            may = state.speaker is not None and late_to_call(area, clock) is not None
            ready = {reason: term("engine-late-reason", reason) for reason in LATE_REASONS}
            offers += _with_reasons(phrase, ready, cmd.CallLate(clock=clock.id, reason="..."), may)
    if any(s.after is not None for _, s in area.checklist.all_steps()):
        run = area.waits_for(step) if step is not None else None
        speaks = step is not None and (step.by is None or (state.speaker is not None and state.speaker.role is step.by))
        waits = free and speaks and run is not None and run.left(now) > 0
        ready = {reason: term("engine-early-reason", reason) for reason in EARLY_REASONS}
        offers += _with_reasons(GO_ON_EARLY, ready, cmd.GoOnEarly(reason="..."), waits)
    return offers


def _with_reasons(
    phrase: str, reasons: Mapping[str, Message], command: cmd.CallLate | cmd.GoOnEarly, now: bool
) -> list[Offer]:
    """One offer a ready reason, said behind the phrase, and one for any other, which is typed there."""
    ready = [
        Offer((f"{phrase} {reason}",), label, command.model_copy(update={"reason": reason}), now=now)
        for reason, label in reasons.items()
    ]
    return [*ready, Offer((f"{phrase} {VALUE}",), message("prompt-other-reason"), command, WORDS, now, aside=True)]


def _step_offers(state: State, area: Area, now: Moment, blocked: bool, language: str) -> list[Offer]:
    checklist, task, step = area.checklist, area.task, area.step
    system: System = state.plan.units if state.plan else "metric"
    between = not blocked and area.between_rounds
    here: list[Offer] = []
    of_lift: list[Offer] = []
    beside = answered_beside(state, area, now) if not blocked else set()
    if task is not None and step is not None:
        # A step of one role is taken from nobody else: whoever speaks hears who must, and others are asked for nothing.
        speaks = state.speaker is not None and step.taken_from(state.speaker)
        takes = speaks and not blocked and hindrance(state, area, now) is None
        here = step.offers(
            place_of(checklist, task.section, now=takes, at_hand=True, system=system, language=language, state=state)
        )
        of_lift = _of_the_same_lift(state, language) if takes else []
    called = [
        offer
        for s in checklist.sections
        if s.when == "called"
        for offer in _calls(
            area,
            s,
            language,
            state.speaker is not None
            and (s.anytime or not blocked)
            and area.may_open(s)
            and all(need in area.progress.good for need in s.needs),
        )
    ]
    places = [
        offer
        for s in checklist.sections
        if s.when == "called" and s.sets is not None
        for offer in _place_offers(
            area, s, now=not blocked and area.may_open(s) and all(need in area.progress.good for need in s.needs)
        )
    ]
    counted = _counted_offers(state, area, now, blocked, language)
    call = in_language(checklist.finish.call, language)
    finish = Offer(
        call,
        message("prompt-finish-area"),
        cmd.FinishArea(),
        now=between and covering.may_finish(area) and not area.progress.open_spreads,
    )
    elsewhere = [
        offer
        for holder, other in checklist.all_steps()
        if task is None or (holder, other.id) != (task.section, task.step)
        for offer in _by_itself(state, area, now, language, holder, other, beside=(holder, other.id) in beside)
        # While a yes or an acknowledgement is waited for, numbers for other steps would only be misheard.
        if not (blocked and offer.slot is not None)
    ]
    return [*here, *of_lift, *counted, *called, *places, finish, *elsewhere]


def _by_itself(
    state: State, area: Area, now: Moment, language: str, holder: str, step: Step, *, beside: bool
) -> Iterator[Offer]:
    """What answers a step that is not at hand: taken now where the answer opens its round or leaves a photo out, or
    goes on beside the round at hand; what may be answered beside it or at any time is no answer to what is asked."""
    system: System = state.plan.units if state.plan else "metric"
    opens = None if beside else opened_by_answer(state, area, now, holder, step.id)
    follows = opens is not None or photo_left_out_by(state, area, now, holder, step.id) is not None
    aside = beside or (opens is not None and (opens.anytime or not area.free_for_next))
    place = place_of(area.checklist, holder, now=beside or follows, system=system, language=language, state=state)
    for offer in step.offers(place):
        yield replace(offer, aside=True) if aside and offer.now else offer


def _counted_offers(state: State, area: Area, now: Moment, blocked: bool, language: str) -> list[Offer]:
    """Mortar for tiles that are counted, and how many of them are in."""
    section = area.checklist.counted_section
    counting = section.counting if section is not None else None
    if section is None or counting is None:
        return []
    task, places, speaks = area.task, area.most_at_once, state.speaker is not None and not blocked
    most = Slot("count", "count", ("count",), 1, max(1, places), whole=True)
    witnessed = task is not None and (task.section, task.step) == (section.id, counting.spread.id)
    good = all(need in area.progress.good for need in section.needs)
    may = area.free_for_next and speaks and good and area.spread is None and places > 0 and not why_witnessed(area, now)
    spread = cmd.SpreadMortar(section=section.id)
    tiles_in = cmd.TilesIn(section=section.id)
    numbered = in_language(counting.spread.number, language)
    said = () if witnessed else counting.spread.phrases(language)
    ends = in_language(counting.tiles_in.number, language)
    mine = area.spread
    under_way = {(t.section, t.round) for t in area.progress.tasks}
    others = [each for each in area.progress.open_spreads if each.section == section.id]
    meant = mine or (others[0] if len(others) == 1 else None)
    # The tile in front of mortar that waits for others is called to its end first.
    come = speaks and meant is not None and (section.id, meant.round) not in under_way
    here = task is not None and (task.section, task.step) == (section.id, counting.tiles_in.id) and area.spread is None
    offers = [
        Offer(said, message("prompt-spread"), spread, now=may),
        Offer(
            numbered, message("prompt-spread-for"), spread, most, may or (witnessed and speaks), not witnessed, "tiles"
        ),
        Offer(tuple(p for p in ends if VALUE in p), message("prompt-tiles-in"), tiles_in, most, come, False, "tiles"),
        Offer(
            tuple(p for p in ends if VALUE not in p), message("prompt-tile-in"), tiles_in, now=come or (here and speaks)
        ),
    ]
    return [offer for offer in offers if offer.phrases]


def _calls(area: Area, section: Section, language: str, now: bool) -> list[Offer]:
    """What opens a called section; a batch also in another bucket than the first. What goes on beside the round at hand
    answers nothing that is asked."""
    phrases = in_language(section.called, language)
    asked = area.free_for_next or (area.step is not None and section.id in area.step.needs)
    offers = [
        Offer(phrases, section.title, cmd.StartRound(section=section.id), now=now, aside=section.anytime or not asked)
    ]
    if section.changes == "batch":
        offers += [
            Offer(
                tuple(f"{phrase} {BUCKET} {word}" for phrase in phrases),
                message("prompt-into-bucket", section=section.title, bucket=str(number)),
                cmd.StartRound(section=section.id, bucket=number),
                now=now,
                aside=True,
            )
            for number, word in enumerate(BUCKETS, 1)
        ]
    return offers
