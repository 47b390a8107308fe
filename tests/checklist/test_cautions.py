"""Cautions are told to each person once a day, and again after a break: common practice, no published source."""

from __future__ import annotations

from fractions import Fraction

from fieldassist.checklist import cautions
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.engine import Refusal
from fieldassist.checklist.fold import fold
from fieldassist.checklist.moment import BREAK_MIN
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Caution
from fieldassist.trade.message import Several, Text
from tests.checklist.days import Bench, site


def heard(bench: Bench) -> list[tuple[str, tuple[str, ...], str]]:
    """What was acknowledged, for whom and how."""
    bodies = [e.body for e in bench.events]
    return [(b.caution, b.persons, b.how) for b in bodies if isinstance(b, ev.CautionAcknowledged)]


def waiting(bench: Bench) -> list[tuple[str, tuple[str, ...], bool]]:
    return [(one.caution.id, one.persons, one.heard) for one in bench.waiting_cautions]


def understood(bench: Bench) -> list[str]:
    """Say "understood" until nothing is due; what each answered."""
    said = []
    while bench.waiting_cautions:
        came = bench.take(cmd.AcknowledgeCaution())
        answered = [e.body.caution for e in came.events if isinstance(e.body, ev.CautionAcknowledged)]
        said.append("+".join(answered))
    return said


def rest(bench: Bench, minutes: float = BREAK_MIN) -> None:
    """Nobody calls anything for so long; the clock ticks on."""
    for _ in range(10):
        bench.clock.advance(minutes / 10)
        bench.do(cmd.Tick())


def released(bench: Bench) -> None:
    """Rosa begins the shower wall, and Edwin releases its base."""
    bench.start("shower wall")
    bench.speak("rosa")


def with_bath() -> DayPlan:
    """The site with a second area of the first one's checklist."""
    plan = site("metric")
    bath = plan.areas[0].model_copy(update={"name": "bath"})
    return plan.model_copy(update={"areas": (*plan.areas, bath)})


def test_each_caution_stops_the_work_until_the_person_has_understood_it() -> None:
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="shower wall"))
    assert waiting(bench) == [("silica", ("rosa",), False), ("electricity", ("rosa",), False)]
    assert isinstance(bench.do(cmd.FinishArea()), Refusal)
    assert understood(bench) == ["silica", "electricity"], "what was never heard is answered by itself"
    assert heard(bench) == [("silica", ("rosa",), "understood"), ("electricity", ("rosa",), "understood")]


def test_what_a_person_heard_is_not_told_again_in_another_area_where_it_says_the_same() -> None:
    bench = Bench.begun(plan=with_bath())
    released(bench)
    bench.take(cmd.StartArea(area="bath"))
    assert waiting(bench) == []


def test_a_caution_of_the_same_id_is_told_where_it_says_something_else() -> None:
    bench = Bench.begun()
    released(bench)
    bench.take(cmd.StartArea(area="hall floor"))
    assert waiting(bench) == [("silica", ("rosa",), False), ("kneeling", ("rosa",), False)]
    wall, floor = (bench.state.areas[name].checklist.caution("silica") for name in ("shower wall", "hall floor"))
    assert wall is not None
    assert floor is not None
    assert wall.text != floor.text
    understood(bench)
    bench.take(cmd.StartArea(area="shower wall"))
    bench.take(cmd.StartArea(area="hall floor"))
    assert waiting(bench) == [], "going to and fro tells nothing twice"


def test_somebody_new_is_told_and_who_knows_is_not() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch")
    bench.take(cmd.StartRound(section="tile"))
    assert waiting(bench) == []
    bench.speak("otto")
    assert waiting(bench) == [("silica", ("otto",), False), ("electricity", ("otto",), False)]
    assert understood(bench) == ["silica", "electricity"]
    bench.speak("rosa")
    assert waiting(bench) == []


def test_whoever_is_named_the_setter_is_told_through_whoever_speaks() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch")
    bench.take(cmd.SetterIs(name="otto"))
    bench.take(cmd.StartRound(section="tile"))
    assert waiting(bench) == [("silica", ("otto",), False), ("electricity", ("otto",), False)]
    understood(bench)
    bench.speak("otto")
    assert waiting(bench) == [], "the answer counted for both"


def test_after_a_break_one_word_answers_all_that_was_heard_and_each_is_told_by_its_first_sentence() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch", "tile")
    bench.take(cmd.StartRound(section="tile"))
    step = bench.next_answer()
    assert step is not None
    rest(bench)
    assert waiting(bench) == [("silica", ("rosa",), True), ("electricity", ("rosa",), True)]
    assert bench.prompt.caution == Several(
        (
            Text((("en", "Cutting, drilling and grinding tile makes silica dust."),)),
            Text((("en", "Water and power tools meet here."),)),
        ),
        "sentences",
    )
    came = bench.do(step)
    assert isinstance(came, Refusal)
    assert came.why.code == "engine-cautions-again"
    assert understood(bench) == ["silica+electricity"]
    assert heard(bench)[-1] == ("electricity", ("rosa",), "understood again")
    bench.take(step)


def test_less_than_a_break_asks_nothing_again() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch")
    bench.take(cmd.StartRound(section="tile"))
    rest(bench, BREAK_MIN - 1)
    assert waiting(bench) == []


def test_whatever_is_called_ends_the_break_and_its_cautions_still_wait() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch")
    rest(bench)
    bench.take(cmd.NoteWeather(text="cloudy"))
    bench.take(cmd.StartRound(section="tile"))
    assert [one for one, *_ in waiting(bench)] == ["silica", "electricity"]
    assert understood(bench) == ["silica+electricity"]


def test_a_caution_before_what_is_not_done_is_not_asked_again() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch", "tile")
    assert "wet-cement" in [name for name, *_ in heard(bench)]
    rest(bench)
    bench.take(cmd.StartRound(section="tile"))
    assert "wet-cement" not in [one for one, *_ in waiting(bench)]
    understood(bench)
    bench.go_on()
    bench.take(cmd.StartRound(section="batch"))
    assert waiting(bench) == [("wet-cement", ("rosa",), True)]


def test_after_a_break_what_was_never_heard_comes_first_whole_and_by_itself() -> None:
    bench = Bench.begun()
    released(bench)
    rest(bench)
    bench.take(cmd.StartRound(section="batch"))
    assert understood(bench) == ["wet-cement", "silica+electricity"]
    assert heard(bench)[-3:] == [
        ("wet-cement", ("rosa",), "understood"),
        ("silica", ("rosa",), "understood again"),
        ("electricity", ("rosa",), "understood again"),
    ]


def test_a_foreman_who_releases_after_a_break_is_asked_for_no_caution() -> None:
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="shower wall"))
    while bench.state.area is None or bench.state.area.step is None or bench.state.area.step.kind != "hold":
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    rest(bench)
    assert bench.state.area.task is not None
    at = {"section": bench.state.area.task.section, "step": bench.state.area.task.step}
    bench.take(cmd.ReleaseHold(**at, name="edwin"))
    assert {person for _, persons, _ in heard(bench) for person in persons} == {"rosa"}


def test_a_foreman_who_works_alone_is_told() -> None:
    bench = Bench.begun()
    bench.speak("edwin")
    bench.take(cmd.StartArea(area="shower wall"))
    assert waiting(bench) == [("silica", ("edwin",), False), ("electricity", ("edwin",), False)]


def test_a_round_beside_that_is_answered_is_taken_up_and_its_caution_asked() -> None:
    bench = Bench.begun()
    released(bench)
    bench.call("batch")
    bench.take(cmd.StartRound(section="tile"))
    bench.take(cmd.StartRound(section="batch"))
    back = cmd.ConfirmStep(section="tile", step="back")
    bench.take(back)
    bench.speak("otto")
    understood(bench)
    bags = cmd.GiveReading(section="batch", step="bags", value=Fraction(2), unit="count")
    came = bench.take(bags)
    assert not any(isinstance(e.body, ev.ReadingCalled) for e in came.events), "nothing is answered yet"
    assert waiting(bench) == [("wet-cement", ("otto",), False)]
    assert understood(bench) == ["wet-cement"]
    assert any(isinstance(e.body, ev.ReadingCalled) for e in bench.take(bags).events)


# --- a heavy piece ------------------------------------------------------------------------------------------------


def panels(bench: Bench, count: int) -> list[list[str]]:
    """So many panels, each up to its last step; what was said "understood" to at each."""
    asked = []
    for _ in range(count):
        bench.clock.advance(1)
        seen = len(heard(bench))
        bench.take(cmd.StartRound(section="panel"))
        bench.go_on()
        asked.append([f"{name}, {how}" for name, _, how in heard(bench)[seen:]])
    return asked


def test_a_heavy_piece_stops_the_first_time_and_later_ones_are_answered_by_going_on() -> None:
    bench = Bench.begun()
    bench.start("lobby wall")
    bench.speak("rosa")
    bench.call("batch")
    assert panels(bench, 4) == [["heavy-panel, understood"], *[["heavy-panel, went on"]] * 3]
    rounds = [b.round for e in bench.events if isinstance(b := e.body, ev.CautionAcknowledged) and b.round]
    assert rounds == [1, 2, 3, 4], "each panel has its own line in the record"
    bench.clock.advance(1)
    bench.take(cmd.StartRound(section="panel"))
    shown: set[str] = set()
    while bench.state.area is not None and bench.state.area.step is not None and bench.state.area.step.id != "spread":
        shown |= {bench.state.area.step.id for _ in bench.prompt.reminders}
        assert bench.prompt.caution is None
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    assert shown == {"carry"}


def test_a_heavy_piece_stops_each_person_and_again_after_a_break() -> None:
    bench = Bench.begun()
    bench.start("lobby wall")
    bench.speak("rosa")
    bench.call("batch")
    panels(bench, 2)
    bench.speak("otto")
    assert panels(bench, 1)[0][-2:] == ["heavy-panel, understood", "heavy-panel, went on"]
    assert heard(bench)[-2:] == [("heavy-panel", ("otto",), "understood"), ("heavy-panel", ("rosa",), "went on")]
    bench.speak("rosa")
    rest(bench)
    bench.call("batch")
    assert panels(bench, 1)[0][-1] == "heavy-panel, understood again"


def test_taking_back_the_phrase_that_went_on_takes_back_its_acknowledgement() -> None:
    bench = Bench.begun()
    bench.start("lobby wall")
    bench.speak("rosa")
    bench.call("batch")
    panels(bench, 1)
    bench.clock.advance(1)
    bench.take(cmd.StartRound(section="panel"))
    while heard(bench)[-1][2] != "went on":
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    went_on = next(e.seq for e in reversed(bench.events) if isinstance(e.body, ev.CautionAcknowledged))
    came = bench.take(cmd.Withdraw())
    assert any(isinstance(e.body, ev.Withdrawn) and went_on in e.body.strikes for e in came.events)


# --- what was written before --------------------------------------------------------------------------------------


def test_an_event_without_persons_counts_for_whoever_spoke() -> None:
    bench = Bench.begun()
    released(bench)
    old = [
        e.model_copy(update={"body": ev.CautionAcknowledged(area=e.body.area, caution=e.body.caution)})
        if isinstance(e.body, ev.CautionAcknowledged)
        else e
        for e in bench.events
    ]
    assert fold(old).cautioned == bench.state.cautioned
    assert {person for _, person in bench.state.cautioned} == {"rosa"}


def test_a_caution_that_was_written_to_come_each_round_is_answered_by_going_on() -> None:
    given = {"id": "heavy", "before": "carry", "text": "Two people lift.", "basis": "ours"}
    assert Caution.model_validate({**given, "again": "round"}).answered_by == "going on"
    assert Caution.model_validate({**given, "again": "area"}) == Caution.model_validate(given)


def test_the_first_sentence_is_taken_in_each_language() -> None:
    both = {"en": "Wear gloves. Wash splashes off.", "es": "Guantes puestos! Lave las salpicaduras."}
    caution = Caution.model_validate({"id": "skin", "before": "area", "text": both, "basis": "ours"})
    assert cautions.brief(caution) == Text((("en", "Wear gloves."), ("es", "Guantes puestos!")))
