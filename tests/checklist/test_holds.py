"""Who releases a hold point, in whose turn, and what is open about a release that was only called out."""

from __future__ import annotations

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.engine import Decision, Refusal, decide
from fieldassist.checklist.loader import WrongFile, load_plan
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import DayPlan, Role
from tests import SITE
from tests.checklist.days import Bench
from tests.conftest import TO_THE_HOLD, Crew

KEY, SIGNATURE = "ab" * 32, "cd" * 64


def at_the_hold(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD)
    assert crew.step == "release-base"


def called(crew: Crew) -> list[str]:
    """The open points about releases."""
    return [p.told.code for p in open_points(crew.day.state) if p.told.code.startswith("open-release")]


def crewed(plan: DayPlan, *people: dict[str, str]) -> DayPlan:
    """The plan with these people besides its crew, or in place of those of the same name."""
    names = {person["name"] for person in people}
    kept = [p.model_dump(mode="json") for p in plan.crew if p.name not in names]
    return DayPlan.model_validate(plan.model_dump(mode="json") | {"crew": [*kept, *people]})


def bench_at_the_hold(plan: DayPlan) -> Bench:
    bench = Bench.begun(plan=plan)
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="shower wall"))
    while bench.state.area.step.kind != "hold":
        bench.go_on(1)
    return bench


def release(bench: Bench, name: str = "", **proof: str) -> Decision | Refusal:
    task = bench.state.area.task
    return bench.do(cmd.ReleaseHold(section=task.section, step=task.step, name=name, **proof))


# --- by voice -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("phrase", ["base released by edwin", "edwin base released", "Edwin, base released"])
def test_a_release_is_called_in_the_foremans_name_without_a_change_of_speaker(crew: Crew, phrase: str) -> None:
    at_the_hold(crew)
    crew.say(phrase)
    (released,) = crew.events(ev.HoldReleased)
    assert (released.name, released.role, released.how) == ("edwin", Role.FOREMAN, "called")
    assert (released.deputy_for, released.key, released.signature) == ("", "", "")
    assert crew.day.state.speaker.name == "rosa"
    assert [b.name for b in crew.events(ev.SpeakerChanged)] == ["rosa"]
    assert called(crew) == ["open-release-called"]


def test_the_phrases_are_offered_at_the_hold_and_the_bare_one_only_to_who_may_release(crew: Crew) -> None:
    at_the_hold(crew)
    offers = {o.command.name: o for o in crew.day.prompt.answers if isinstance(o.command, cmd.ReleaseHold)}
    assert set(offers) == {"edwin"}
    assert offers["edwin"].phrases[:2] == ("base released by edwin", "edwin base released")
    crew.say("this is edwin")
    assert [o.command.name for o in crew.day.prompt.answers if isinstance(o.command, cmd.ReleaseHold)] == [""]


def test_a_foremans_release_ends_his_turn_and_the_installer_speaks_again(crew: Crew) -> None:
    at_the_hold(crew)
    crew.say("this is edwin", "base released")
    assert crew.day.state.speaker.name == "rosa"
    assert [b.name for b in crew.events(ev.SpeakerChanged)] == ["rosa", "edwin", "rosa"]
    crew.mix()
    assert crew.day.log.events[-1].by == "rosa", "what follows is not written to the foreman"


def test_a_foreman_who_spoke_first_keeps_his_turn(plan: DayPlan) -> None:
    bench = Bench.begun(plan=plan)
    bench.speak("edwin")
    bench.take(cmd.StartArea(area="shower wall"))
    while bench.state.area.step.kind != "hold":
        bench.go_on(1)
    assert isinstance(release(bench), Decision)
    assert bench.state.speaker.name == "edwin"


def test_of_two_foremen_the_one_who_works_does_not_lose_his_turn_to_the_one_who_released(plan: DayPlan) -> None:
    bench = bench_at_the_hold(crewed(plan, {"name": "ruth", "role": "foreman"}))
    bench.speak("edwin")
    bench.speak("ruth")
    assert isinstance(release(bench), Decision)
    assert bench.state.speaker.name == "edwin", "he spoke before her"
    assert bench.state.spoke_before is None, "and his turn is nobody's to end"
    bench.take(cmd.SpeakAs(name="edwin"))
    assert bench.state.speaker.name == "edwin"


def test_a_bare_release_by_an_installer_is_refused_with_what_to_say(crew: Crew) -> None:
    at_the_hold(crew)
    why = crew.why("base released")
    assert (why.code, why.figures["role"]) == ("engine-release-by-whom", "foreman")
    assert (why.figures["phrase"], why.figures["turn"]) == ("base released by edwin", "this is edwin")
    assert not crew.events(ev.HoldReleased)


def test_who_may_not_release_is_not_released_for(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    for name, code in (("otto", "engine-may-not-release"), ("nemo", "engine-nobody-called")):
        came = release(bench, name)
        assert isinstance(came, Refusal)
        assert came.why.code == code


def test_what_was_called_for_somebody_can_be_taken_back_and_is_open_no_more(crew: Crew) -> None:
    at_the_hold(crew)
    crew.say("base released by edwin", "scratch that")
    assert crew.step == "release-base"
    assert called(crew) == []
    assert not crew.day.state.area.progress.releases


def test_what_the_foreman_released_in_his_own_turn_is_not_taken_back_by_another(crew: Crew) -> None:
    at_the_hold(crew)
    crew.say("this is edwin", "base released")
    assert crew.why("scratch that").code == "engine-nothing-to-take-back"
    assert called(crew) == ["open-release-called"], "his own word by voice is no PIN either"


# --- a deputy -----------------------------------------------------------------------------------------------------

OTTO = {"name": "otto", "role": "installer", "deputy_for": "edwin"}


def test_a_deputy_releases_and_is_marked_as_one(plan: DayPlan) -> None:
    bench = bench_at_the_hold(crewed(plan, OTTO))
    assert isinstance(release(bench, "otto"), Decision)
    body = next(e.body for e in bench.events if isinstance(e.body, ev.HoldReleased))
    assert (body.name, body.role, body.deputy_for) == ("otto", Role.INSTALLER, "edwin")
    (point,) = [p.told for p in open_points(bench.state) if p.told.code == "open-release-called"]
    assert (point.figures["name"], point.figures["deputy"]) == ("otto", "edwin")


def test_a_deputy_who_works_releases_in_his_turn_and_keeps_it(plan: DayPlan) -> None:
    bench = bench_at_the_hold(crewed(plan, OTTO))
    bench.speak("otto")
    assert isinstance(release(bench), Decision)
    assert bench.state.speaker.name == "otto"


def test_a_deputy_does_not_sign_the_day(plan: DayPlan) -> None:
    bench = Bench.begun(plan=crewed(plan, OTTO))
    bench.speak("otto")
    came = bench.do(cmd.SignDay(accept_open=True))
    assert isinstance(came, Refusal)
    assert came.why.code == "engine-foreman-signs"


@pytest.mark.parametrize(
    ("person", "code"),
    [
        ({"name": "otto", "role": "installer", "deputy_for": "rosa"}, "file-deputy-for-no-foreman"),
        ({"name": "otto", "role": "installer", "deputy_for": "nemo"}, "file-deputy-for-no-foreman"),
        ({"name": "edwin", "role": "foreman", "deputy_for": "edwin"}, "file-foreman-as-deputy"),
    ],
)
def test_a_deputy_stands_for_a_foreman_of_the_crew(tmp_path, person: dict[str, str], code: str) -> None:
    text = SITE.read_text(encoding="utf-8")
    line = f"  - {{ name: {person['name']}, role: {person['role']}, deputy_for: {person['deputy_for']} }}"
    lines = [line if f"name: {person['name']}," in old else old for old in text.splitlines()]
    assert line in lines
    (tmp_path / "site.yaml").write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(WrongFile) as wrong:
        load_plan(tmp_path / "site.yaml")
    assert code in str(wrong.value.problems[0].told)


# --- by PIN, as the decider sees it -------------------------------------------------------------------------------


def test_a_release_by_pin_is_no_open_point_and_changes_no_turn(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    assert isinstance(release(bench, "edwin", key=KEY, signature=SIGNATURE), Decision)
    event = next(e for e in bench.events if isinstance(e.body, ev.HoldReleased))
    assert (event.by, event.body.how, event.body.key) == ("edwin", "pin", KEY)
    assert bench.state.speaker.name == "rosa"
    assert not [p.told for p in open_points(bench.state) if p.told.code.startswith("open-release")]
    assert isinstance(bench.do(cmd.Withdraw()), Refusal)


def test_a_pin_confirms_what_was_called_in_its_name_and_nothing_else(plan: DayPlan) -> None:
    bench = bench_at_the_hold(crewed(plan, {"name": "ruth", "role": "foreman"}))
    release(bench, "edwin")
    theirs = bench.do(cmd.ConfirmReleases(name="ruth", key=KEY, signature=SIGNATURE))
    assert isinstance(theirs, Refusal)
    assert theirs.why.code == "engine-nothing-called"
    bench.take(cmd.ConfirmReleases(name="edwin", key=KEY, signature=SIGNATURE))
    (confirmed,) = [e.body for e in bench.events if isinstance(e.body, ev.ReleasesConfirmed)]
    (seq,) = [e.seq for e in bench.events if isinstance(e.body, ev.HoldReleased)]
    assert (confirmed.releases, confirmed.name, confirmed.role) == ((seq,), "edwin", Role.FOREMAN)
    assert bench.state.area.progress.releases[seq].confirmed == bench.clock.now()
    assert not [p.told for p in open_points(bench.state) if p.told.code.startswith("open-release")]
    assert isinstance(bench.do(cmd.Withdraw()), Refusal), "what a PIN has answered for is not taken back"


def test_a_struck_release_stays_open_and_is_not_confirmed_later(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    release(bench, "edwin")

    seq = next(e.seq for e in bench.events if isinstance(e.body, ev.HoldReleased))
    bench.take(cmd.ConfirmReleases(name="edwin", strike=(seq,), key=KEY, signature=SIGNATURE))
    assert [e.body.release for e in bench.events if isinstance(e.body, ev.ReleaseStruck)] == [seq]
    assert not [e for e in bench.events if isinstance(e.body, ev.ReleasesConfirmed)]
    assert next(p.told.code for p in open_points(bench.state)) == "open-release-struck"
    again = bench.do(cmd.ConfirmReleases(name="edwin", key=KEY, signature=SIGNATURE))
    assert isinstance(again, Refusal)


def test_only_what_was_called_in_ones_own_name_is_struck_out(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    release(bench, "edwin")
    came = bench.do(cmd.ConfirmReleases(name="edwin", strike=(1,), key=KEY, signature=SIGNATURE))
    assert isinstance(came, Refusal)
    assert came.why.code == "engine-no-such-release"


def test_a_signature_by_voice_confirms_nothing(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    release(bench, "edwin")
    bench.speak("edwin")
    assert isinstance(bench.do(cmd.SignDay()), Refusal), "it is an open point"
    bench.take(cmd.SignDay(accept_open=True))
    assert not [e for e in bench.events if isinstance(e.body, ev.ReleasesConfirmed)]
    signed = bench.events[-1].body
    assert "open-release-called" in [p.code for p in signed.open_points]


def test_the_signers_pin_confirms_first_and_signs_then(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    release(bench, "edwin")
    bench.speak("edwin")
    bench.take(cmd.SignDay(accept_open=True, key=KEY, signature=SIGNATURE))
    assert [type(e.body) for e in bench.events[-3:]] == [ev.ReleasesConfirmed, ev.LotsRevealed, ev.DaySigned]
    assert not [p for p in bench.events[-1].body.open_points if p.code.startswith("open-release")]


def test_what_was_left_unconfirmed_can_be_confirmed_in_an_addendum(plan: DayPlan) -> None:
    bench = bench_at_the_hold(plan)
    release(bench, "edwin")
    bench.speak("edwin")
    bench.take(cmd.SignDay(accept_open=True))
    closed = decide(bench.state, cmd.ConfirmReleases(name="edwin", key=KEY, signature=SIGNATURE), bench.clock.now())
    assert isinstance(closed, Refusal), "a signed day stays as it is"
    bench.take(cmd.OpenAddendum(reason="the releases"))
    bench.take(cmd.ConfirmReleases(name="edwin", key=KEY, signature=SIGNATURE))
    assert not [p.told for p in open_points(bench.state) if p.told.code.startswith("open-release")]


def test_whoever_spoke_first_gives_the_turn_back_too(crew: Crew) -> None:
    """The foreman opened the day, left, and comes back to release: his turn ends again."""
    crew.say("this is edwin", "weather overcast", *TO_THE_HOLD)
    crew.say("this is edwin", "base released")
    assert crew.day.state.speaker is not None
    assert crew.day.state.speaker.name == "rosa"
