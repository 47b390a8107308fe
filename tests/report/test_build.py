"""What a day's events tell. The counts are checked against the engine's own fold, an independent reading of the log."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction
from typing import Any

import pytest

from fieldassist.checklist import cautions, engine
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.kinds import Choice, Confirm, Lift, Photo
from fieldassist.checklist.open_points import open_points
from fieldassist.language import Words
from fieldassist.report.build import NoDay, area, build_report
from fieldassist.report.build.words import capital
from fieldassist.trade.message import Read, Text, message
from fieldassist.trade.quantities import Quantity


def read(value: int, unit: str) -> Read:
    return Read(Quantity(Fraction(value), unit))


def test_a_log_without_an_opened_day_is_refused_in_words() -> None:
    with pytest.raises(NoDay) as refused:
        build_report([])
    assert refused.value.told.code == "report-no-day"


def test_a_day_that_was_only_opened_lists_every_planned_area_as_an_open_point(site: Any) -> None:
    day = build_report(site.events)
    assert day.areas == ()
    assert [a.name for a in day.not_started] == ["shower wall", "plunge pool"]
    points = [message("open-not-started", area=area) for area in ("shower wall", "plunge pool")]
    assert [point.told for point in open_points(site.state)] == points
    assert day.open_points == tuple(capital(Words()(point)) for point in points)
    assert day.summary.areas_started == 0
    assert not day.signatures


def test_a_reading_answered_no_is_struck_and_judges_nothing(site: Any) -> None:
    site.start("shower wall").release().batch().tile().lift_up()
    site.do(cmd.AttachPhoto(file="a.jpg", sha256="ab" * 32))
    site.read("lift", "coverage", "59", "percent", keep=False).do(cmd.Withdraw())
    site.read("lift", "coverage", "95", "percent")
    area = build_report(site.events).areas[0]
    coverage = [line for line in area.sequence if line.what == "Coverage"]
    assert [(line.reading, line.withdrawn, line.passed) for line in coverage] == [
        ("59 %", True, None),
        ("95 %", False, True),
    ]
    (withdrawal,) = (e.seq for e in site.events if isinstance(e.body, ev.Withdrawn))
    assert [(w.seq, w.target) for w in area.withdrawn] == [(withdrawal, coverage[0].seq)]
    assert [(w.reading, w.is_reading) for w in area.withdrawn] == [("59 %", True)]


def test_a_reading_that_nobody_answered_is_struck_and_an_open_point(site: Any) -> None:
    site.speak("ana").do(cmd.StartArea(area="shower wall")).understood()
    site.by("spoken")
    site.read("conditions", "air-temperature", "21", "degC", keep=False)
    day = build_report(site.events)
    (line,) = day.areas[0].unanswered
    assert (line.reading, line.withdrawn) == ("21 °C", True)
    reading = message(
        "open-reading", area="shower wall", name=Text((("en", "Air temperature"),)), reading=read(21, "degC")
    )
    assert reading in [point.told for point in open_points(site.state)]
    assert capital(Words()(reading)) in day.open_points
    assert day.conditions == ()


def test_a_reading_said_again_withdraws_the_first(site: Any) -> None:
    site.start("shower wall")
    before = len(build_report(site.events).areas[0].withdrawn)
    fresh = site.start("plunge pool", temperature="22")
    fresh.by("spoken")
    fresh.do(cmd.GiveReading(section="conditions", step="humidity", value=Fraction(50), unit="percent"))
    fresh.do(cmd.GiveReading(section="conditions", step="humidity", value=Fraction(60), unit="percent"), cmd.Keep())
    pool = build_report(fresh.events).areas[1]
    assert before == 0
    assert [(w.reading, w.reason) for w in pool.withdrawn] == [("50 %", "said again with another value")]
    assert [
        c.reading for c in build_report(fresh.events).conditions if c.what == "Humidity" and c.area == "Plunge pool"
    ] == ["60 %"]


def _failed_lift_taken_back(site: Any) -> Any:
    site.start("shower wall").release().batch().tile()
    return site.lift("96", corners="not-full").do(cmd.Withdraw())


def test_taking_back_a_failing_answer_takes_its_verdict_and_failure_with_it(site: Any) -> None:
    _failed_lift_taken_back(site)
    day = build_report(site.events)
    area = day.areas[0]
    assert [(x.withdrawn, x.passed) for x in area.lifts] == [(True, False)]
    assert [(f.withdrawn, f.number) for f in area.failures] == [(True, None)]
    assert (day.summary.lifts, day.summary.failures, day.summary.failures_open) == (0, 0, 0)
    fell = next(e.body.strikes for e in site.events if isinstance(e.body, ev.Withdrawn))
    kinds = [type(site.events[seq - 1].body) for seq in fell]
    assert {ev.LiftJudged, ev.FailureOpened} <= set(kinds)
    told = sum(kind in (ev.LiftJudged, ev.FailureOpened, ev.FailureClosed, ev.ClockStarted) for kind in kinds)
    assert len(area.withdrawn[0].consequences) == told


def test_what_was_said_before_the_answer_taken_back_still_counts(site: Any) -> None:
    _failed_lift_taken_back(site)
    lines = {line.what: line.withdrawn for line in build_report(site.events).areas[0].sequence if line.kind != "round"}
    assert lines["Coverage"] is False
    assert lines["Photo."] is False
    assert lines["Corners?"] is True
    assert lines["Lift 1 judged (tile 1)"] is True


def test_a_withdrawn_lift_that_is_judged_again_counts_once(site: Any) -> None:
    _failed_lift_taken_back(site).do(cmd.Choose(section="lift", step="corners", option="full"))
    day = build_report(site.events)
    assert [(x.number, x.withdrawn, x.passed, x.corners) for x in day.areas[0].lifts] == [
        (1, True, False, "A corner is empty"),
        (1, False, True, "Corners full"),
    ]
    assert (day.summary.lifts, day.summary.lifts_passed) == (1, 1)


def test_a_clock_whose_start_was_taken_back_is_struck_and_runs_for_nobody(site: Any) -> None:
    site.start("shower wall").release().batch()
    site.do(cmd.StartRound(section="tile")).confirm("tile", "combed").do(cmd.Withdraw())
    clocks = {c.title: c for c in build_report(site.events).areas[0].clocks}
    assert clocks["Open time"].withdrawn
    assert not clocks["Pot life"].withdrawn


def test_a_clock_whose_stop_was_taken_back_runs_on_and_can_run_out(site: Any) -> None:
    site.start("shower wall").release().batch()
    site.do(cmd.StartRound(section="tile")).confirm("tile", "combed").wait(4).confirm("tile", "set")
    site.do(cmd.Withdraw())
    running = build_report(site.events).areas[0].clocks[-1]
    assert (running.title, running.outcome) == ("Open time", "still running")
    site.wait(20).do(cmd.Tick())
    day = build_report(site.events)
    assert day.areas[0].clocks[-1].outcome == "ran out"
    assert day.areas[0].clocks[-1].dropped == ("Tile",)
    assert day.summary.clocks_run_out == 1


def test_a_clock_that_ran_out_while_nobody_looked_says_how_late_it_was_noted(site: Any) -> None:
    site.start("shower wall").release().batch()
    started = next(e for e in site.events if isinstance(e.body, ev.ClockStarted))
    site.wait(75 - started.at.minutes_to(site.now)).do(cmd.Tick())
    clock = build_report(site.events).areas[0].clocks[0]
    assert clock.allowed == 60
    # Half a minute passes with the command itself.
    assert clock.noted_late == pytest.approx(15.5)


def test_a_cured_failure_tells_its_corrective_steps_and_what_showed_the_cure(site: Any) -> None:
    site.start("shower wall").release().batch().tile().lift("90").cure().lift("97")
    failure = build_report(site.events).areas[0].failures[0]
    assert failure.number == 1
    assert failure.corrective == "Scrape off and set with more mortar"
    assert [s.what for s in failure.steps] == ["Scraped", "Set again"]
    assert [(c.what, c.passed) for c in failure.checks] == [("Lift 2 judged (tile 1)", True)]
    assert failure.tightened == 2
    assert failure.shown_by == Words()(message("engine-lift-passed", lift="2"))
    assert failure.cured


def test_a_check_that_fails_again_is_told_under_the_same_failure(site: Any) -> None:
    site.start("shower wall").release().batch().tile().lift("90").cure().lift("91").cure().lift("97")
    area = build_report(site.events).areas[0]
    assert len(area.failures) == 1
    assert [(c.reading, c.passed) for c in area.failures[0].checks] == [("91 %", False), ("97 %", True)]
    assert [s.what for s in area.failures[0].steps] == ["Scraped", "Set again"] * 2


def test_taking_back_the_proof_of_a_cure_opens_the_failure_again(site: Any) -> None:
    site.start("shower wall").release().batch().tile().lift("90").cure().lift("97")
    assert build_report(site.events).areas[0].failures[0].cured
    site.do(cmd.Withdraw())
    day = build_report(site.events)
    assert not day.areas[0].failures[0].cured
    assert day.summary.failures_open == 1


def test_a_step_that_is_read_again_after_its_cure_is_the_failures_check(site: Any) -> None:
    site.start("shower wall", temperature="8").confirm("warm-up", "warmed")
    site.read("conditions", "air-temperature", "12", "degC")
    failure = build_report(site.events).areas[0].failures[0]
    assert [s.what for s in failure.steps] == ["Warmed up"]
    assert [(c.what, c.reading, c.passed) for c in failure.checks] == [("Air temperature", "12 °C", True)]


def test_failures_are_numbered_through_the_day_and_withdrawn_ones_take_no_number(eventful: Any) -> None:
    day = build_report(eventful.events)
    numbers = [(f.number, f.withdrawn) for a in day.areas for f in a.failures]
    assert [n for n, _ in numbers if n] == [1, 2, 3, 4, 5]
    assert (None, True) in numbers


def test_the_signature_names_who_signed_as_what_and_the_open_points_accepted(eventful: Any) -> None:
    (signature,) = build_report(eventful.events).signatures
    assert (signature.name, signature.role) == ("Ruth", "foreman")
    signed = next(e.body for e in eventful.events if isinstance(e.body, ev.DaySigned))
    assert {p.code for p in signed.open_points} == {"open-failure", "open-release-called", "open-area"}
    assert signature.open_points == tuple(capital(Words(units="metric")(p)) for p in signed.open_points)


def test_batches_hold_their_readings_their_pot_life_and_the_tiles_set_from_them(eventful: Any) -> None:
    first, second = build_report(eventful.events).areas[0].batches
    assert [(s.what, s.reading) for s in first.steps] == [("Batch mixed", ""), ("Slake", "6 min")]
    assert first.clock is not None
    assert first.clock.outcome == "ran out"
    assert (first.tiles, second.tiles) == (3, 1)


def test_a_batch_taken_back_lends_nothing_to_the_one_opened_in_its_place(site: Any) -> None:
    site.start("shower wall").release().do(cmd.StartRound(section="batch")).do(cmd.Withdraw()).batch().tile()
    batches = build_report(site.events).areas[0].batches
    assert [(b.title, b.withdrawn, b.done, b.tiles) for b in batches] == [
        ("Batch 1", True, False, 0),
        ("Batch 1", False, True, 1),
    ]
    assert batches[0].clock is None
    assert batches[0].steps == ()
    assert batches[1].clock is not None


def test_cautions_are_told_once_with_each_acknowledgement(eventful: Any) -> None:
    mixer = next(c for c in build_report(eventful.events).areas[0].cautions if "mixer" in c.text)
    assert [who for _, who, _ in mixer.acknowledged] == ["Ana", "Ana, heard again"]
    bodies = [eventful.events[seq - 1].body for _, _, seq in mixer.acknowledged]
    assert [(b.caution, b.round) for b in bodies] == [("mixer", 1), ("mixer", 2)]


def test_every_temperature_and_humidity_reading_of_the_day_is_listed_with_its_area(eventful: Any) -> None:
    listed = [(c.area, c.what, c.reading) for c in build_report(eventful.events).conditions if c.what != "Weather"]
    assert listed == [
        ("Shower wall", "Air temperature", "21 °C"),
        ("Shower wall", "Humidity", "55 %"),
        ("Plunge pool", "Air temperature", "8 °C"),
        ("Plunge pool", "Air temperature", "12 °C"),
        ("Plunge pool", "Humidity", "61 %"),
    ]


def test_a_wet_tile_wall_needs_95_percent_and_three_lifts(eventful: Any) -> None:
    # ANSI A108.5 §3.3.2 (2017): 95 % in showers and wet areas, no fewer than three tiles removed for inspection.
    need = build_report(eventful.events).areas[0].need
    assert need is not None
    assert (need.minimum, need.least_lifts) == (95, 3)


def test_a_dry_tile_wall_needs_80_percent(a_site: Callable[..., Any], raw_checklist: dict[str, Any]) -> None:
    # ANSI A108.5 §3.3.2 (2017): 80 % in dry interiors.
    site = a_site(checklist={**raw_checklist, "place": "dry"}).start("shower wall")
    day = build_report(site.events)
    need = day.areas[0].need
    assert need is not None
    assert need.minimum == 80
    assert day.references[need.ref - 1].startswith("ANSI A108.5 §3.3.2 (2017)")


def test_a_tile_that_was_reset_counts_with_its_last_lift(eventful: Any) -> None:
    # Contacts that stand: tile a 97 (was 92), b 95, c 99, d 96; their mean by hand is 96.75.
    verdict = build_report(eventful.events).areas[0].verdict
    assert verdict is not None
    assert (verdict.lifts, verdict.worst, verdict.outcome) == (4, 95, "passed")
    assert verdict.told == "mean 96.75 %, worst 95 %"


def test_each_distinct_basis_is_listed_once_and_every_number_leads_to_it(eventful: Any) -> None:
    day = build_report(eventful.events)
    assert len(set(day.references)) == len(day.references)
    lines = [line for a in day.areas for line in a.sequence if line.ref is not None]
    assert lines
    assert all(1 <= (line.ref or 0) <= len(day.references) for line in lines)
    judged = [e.body.criterion for e in eventful.events if isinstance(e.body, ev.ReadingKept) and e.body.criterion]
    assert judged
    assert {capital(Words()(j.basis)) for j in judged} <= set(day.references)


def test_a_wall_clock_set_back_is_said_and_intervals_do_not_follow_it(site: Any) -> None:
    site.start("shower wall").release().do(cmd.StartRound(section="batch")).understood().confirm("batch", "mixed")
    site.wait(10)
    site.wall -= timedelta(minutes=30)
    site.by("spoken")
    site.read("batch", "slake", "9", "min")
    day = build_report(site.events)
    assert any("set back by 30 min" in t for t in day.time_keeping)
    assert day.areas[0].clocks[0].used == pytest.approx(11, abs=0.01)


def test_a_restart_of_the_tablet_is_said(site: Any) -> None:
    site.speak("ana")
    site.boot, site.mono = "b", 3.0
    site.speak("ruth")
    assert any("restarted" in t for t in build_report(site.events).time_keeping)


# --- against the engine's own fold --------------------------------------------------------------------------------


def _wander(site: Any, dice: random.Random, steps: int) -> None:
    """A crew that answers, errs, takes back, changes notch and lets clocks run out, as the dice fall."""
    site.start("shower wall").release()
    for _ in range(steps):
        roll = dice.random()
        if roll < 0.10:
            _try(site, cmd.Withdraw())
        elif roll < 0.14:
            _try(site, cmd.ChangeMethod(method="large"))
        elif roll < 0.18:
            site.wait(dice.choice([2, 15, 25, 61])).do(cmd.Tick())
        elif roll < 0.22:
            _try(site, cmd.SpeakAs(name=dice.choice(["ana", "ben"])))
        else:
            _answer(site, dice)


def _try(site: Any, command: Any) -> None:
    site.wait(0.2)
    outcome = engine.decide(site.state, command, site.now)
    if isinstance(outcome, engine.Decision):
        site._take(*outcome.events)


def _answer(site: Any, dice: random.Random) -> None:
    state, area = site.state, site.state.area
    if state.pending is not None:
        _try(site, cmd.Withdraw() if dice.random() < 0.2 else cmd.Keep())
        return
    if cautions.due(state, area, site.now):
        _try(site, cmd.AcknowledgeCaution())
        return
    task, step = area.task, area.step
    if task is None:
        _try(site, cmd.StartRound(section=dice.choice(["batch", "tile", "tile", "tile"])))
        return
    at = {"section": task.section, "step": step.id}
    if isinstance(step, Confirm):
        _try(site, cmd.ConfirmStep(**at))
    elif isinstance(step, Lift):
        _try(site, cmd.ConfirmLift(**at))
    elif isinstance(step, Photo):
        _try(site, cmd.AttachPhoto(file=f"{'ef' * 8}.jpg", sha256="ef" * 32))
    elif isinstance(step, Choice):
        _try(site, cmd.Choose(**at, option=dice.choice([o.id for o in step.options])))
    else:
        value = {"coverage": dice.randint(85, 100), "void": dice.randint(0, 1500)}.get(step.id, dice.randint(3, 9))
        _try(site, cmd.GiveReading(**at, value=Fraction(value), unit=step.units[0]))


@pytest.mark.parametrize("seed", range(12))
def test_counts_agree_with_the_engines_state_however_much_is_taken_back(seed: int, a_site: Callable[..., Any]) -> None:
    site = a_site()
    _wander(site, random.Random(seed), 150)
    day = build_report(site.events)
    area, progress = day.areas[0], site.state.areas["shower wall"].progress
    assert any(isinstance(e.body, ev.Withdrawn) for e in site.events)
    assert day.summary.lifts_passed == sum(lift.verdict == "passed" for lift in progress.lifts.values())
    assert area.tiles == len(progress.tiles)
    assert {f.seq for f in area.failures if not f.withdrawn and not f.cured} == set(progress.failures)
    running = {c.run for c in area.clocks if not c.withdrawn and c.outcome == "still running"}
    assert running == {c.run for c in progress.clocks}
    taken_back = sum(isinstance(e.body, ev.Withdrawn) for e in site.events)
    assert len(area.withdrawn) == taken_back


@pytest.mark.parametrize("seed", range(4))
def test_every_entry_of_an_area_is_told_exactly_once(seed: int, a_site: Callable[..., Any]) -> None:
    site = a_site()
    _wander(site, random.Random(100 + seed), 120)
    kinds = (AtStep, ev.LiftJudged, ev.ClockRanOut)
    read_back = {e.body.target for e in site.events if isinstance(e.body, ev.ReadingKept)}
    wanted = [e.seq for e in site.events if isinstance(e.body, kinds) and e.seq not in read_back]
    told = [line.seq for line in build_report(site.events).areas[0].sequence if line.kind != "round"]
    assert [seq for seq in told if seq in set(wanted)] == wanted
    assert len(told) == len(set(told))


def test_an_answer_whose_kind_has_no_handler_stands_on_the_pages_with_what_its_event_holds(
    site: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    site.start("shower wall").release().batch().tile().lift("96")
    (chosen,) = (e.seq for e in site.events if isinstance(e.body, ev.ChoiceMade))
    handled = next(line for line in build_report(site.events).areas[0].sequence if line.seq == chosen)
    monkeypatch.delitem(area._HANDLERS, ev.ChoiceMade)
    line = next(line for line in build_report(site.events).areas[0].sequence if line.seq == chosen)
    assert (line.kind, line.what, line.reading) == ("step", handled.what, handled.reading)
    assert line.reading


def test_a_photo_that_is_taken_back_is_told_with_its_place_and_its_file(site: Any) -> None:
    site.start("shower wall").release().batch().tile().lift_up()
    site.do(cmd.AttachPhoto(file="a.jpg", sha256="ab" * 32)).do(cmd.Withdraw())
    (taken_back,) = build_report(site.events).areas[0].withdrawn
    assert taken_back.reading == "a.jpg"
    assert taken_back.what.startswith("Test tile (lift 1, tile 1): ")


def test_events_that_do_not_follow_from_each_other_are_no_day(site: Any) -> None:
    site.start("shower wall")
    with pytest.raises(NoDay, match="report-events-unsound"):
        build_report([e for e in site.events if not isinstance(e.body, ev.SpeakerChanged)])
