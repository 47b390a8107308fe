"""What to look at before a day is accepted: open points first, then what is none and may still be doubted."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any, Literal

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.doubts import RANKS, LookAt, look_at
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.standing import standing
from fieldassist.trade.message import Figure, Message, Read, Several
from fieldassist.trade.quantities import Quantity
from tests.report.conftest import CHECKLIST, Site, eventful_day, picture, plan_of
from tests.report.days import measured as measured_day


def looks(site: Site) -> tuple[LookAt, ...]:
    return look_at(site.state, standing(site.events))


def of(site: Site, code: str) -> list[LookAt]:
    return [one for one in looks(site) if one.told.code == f"doubt-{code}"]


def places(one: LookAt) -> list[Mapping[str, Figure]]:
    """The figures of each place that a doubt names."""
    named = one.told.figures["places"]
    assert isinstance(named, Several)
    return [place.figures for place in named.items if isinstance(place, Message)]


def lifted(percent: str = "97", *, how: str = "typed", reader: str = "ana", photo: bool = True, **given: Any) -> Site:
    """A tile that ana set, lifted and read."""
    site = Site(**given).start("shower wall").release().batch().tile()
    site.lift_up()
    if photo:
        site.photo()
    site.speak(reader).understood()
    if how == "measured on a photo":
        site.measured(float(percent) + 0.2, float(percent) - 0.5, float(percent) + 0.5)
    site.by(how).read("lift", "coverage", percent, "percent").by("typed")
    return site


def ended(site: Site) -> Site:
    """What is left to read of the lift."""
    while site.state.area is not None and site.state.area.task is not None and site.state.area.task.section == "lift":
        step = site.state.area.task.step
        if step == "void":
            site.read("lift", "void", "300", "mm2")
        else:
            assert step == "corners"
            site.do(cmd.Choose(section="lift", step="corners", option="full"))
    return site


def checklist(without: str = "", **changed: Any) -> dict[str, Any]:
    """The checklist without one step of its lifts."""
    made = {**copy.deepcopy(CHECKLIST), **changed}
    lift = next(section for section in made["sections"] if section["id"] == "lift")
    lift["steps"] = [step for step in lift["steps"] if step["id"] != without]
    return made


def test_every_open_point_is_looked_at_and_the_worst_comes_first() -> None:
    site = eventful_day()
    found = looks(site)
    assert {one.id for one in found if one.point is not None} == {point.id for point in open_points(site.state)}
    ranks = [RANKS.index(one.kind) for one in found]
    assert ranks == sorted(ranks)
    assert found[0].kind == "failure"
    assert found[-1].kind == "unfinished"


@pytest.mark.parametrize(
    ("how", "reader", "doubted"),
    [("typed", "ana", True), ("spoken", "ana", True), ("typed", "ben", False), ("counted on a grid", "ana", False),
     ("measured on a photo", "ana", False)],
)  # fmt: skip
def test_a_lift_is_doubted_that_nobody_but_its_setter_read_and_only_by_eye(
    how: str, reader: str, doubted: bool
) -> None:
    site = ended(lifted(how=how, reader=reader))
    found = of(site, "alone-with-photo")
    assert [one.lifts for one in found] == ([(1,)] if doubted else [])


def test_without_a_photo_nobody_can_look_again_and_that_is_told_apart() -> None:
    site = ended(lifted(photo=False, checklist=checklist("photo")))
    assert [one.lifts for one in of(site, "alone")] == [(1,)]
    assert of(site, "alone-with-photo") == []


@pytest.mark.parametrize(("percent", "how", "doubted"), [("95", "typed", True), ("96", "typed", False),
                                                         ("95", "counted on a grid", False)])  # fmt: skip
def test_a_lift_that_by_eye_reaches_the_limit_and_no_more_is_doubted(percent: str, how: str, doubted: bool) -> None:
    # ANSI A108.5 §3.3.2 (2017), as reported in trade literature: 95 % in wet areas.
    assert bool(of(ended(lifted(percent, how=how)), "at-the-limit")) is doubted


def judged(percent: str, back: tuple[float, float, float], **other: Any) -> Site:
    """A lift that was read by eye and judged, after its back was measured on its photo."""
    site = Site().start("shower wall").release().batch().tile().lift_up().photo().measured(*back, **other)
    return ended(site.read("lift", "coverage", percent, "percent"))


@pytest.mark.parametrize(
    ("percent", "back", "kind", "code"),
    [
        # ANSI A108.5 §3.3.2 (2017), as reported in trade literature: 95 % in wet areas.
        ("96", (88.3, 85.0, 94.9), "contradiction", "photo-less"),
        ("94", (98.2, 95.0, 99.1), "doubt", "photo-more"),
    ],
)
def test_a_lift_whose_photo_lies_wholly_on_the_other_side_of_the_limit_is_looked_at(
    percent: str, back: tuple[float, float, float], kind: str, code: str
) -> None:
    (one,) = of(judged(percent, back, voids=9), code)
    assert (one.kind, one.lifts, one.point) == (kind, (1,), None)
    (says,) = places(one)
    assert (says["way"], says["contact"]) == ("eye", Quantity(Fraction(int(back[0])), "percent"))


@pytest.mark.parametrize(("percent", "back"), [("96", (94.0, 92.0, 95.0)), ("94", (96.0, 94.9, 97.0))])
def test_a_photo_whose_interval_holds_the_limit_contradicts_no_eye(
    percent: str, back: tuple[float, float, float]
) -> None:
    site = judged(percent, back, voids=12)
    assert of(site, "photo-less") == of(site, "photo-more") == []


def test_a_lift_that_passed_with_a_void_that_its_photo_shows_larger_than_is_allowed_is_looked_at() -> None:
    # 2 in2, as trade practice has it: 1,290.32 mm2.
    (one,) = of(judged("97", (98.8, 97.0, 99.4)), "photo-less")
    (shows,) = places(one)
    void, allowed = shows["void"], shows["allowed"]
    assert isinstance(void, Quantity)
    assert isinstance(allowed, Quantity)
    assert void.value > allowed.value == Fraction(13)
    assert of(judged("97", (98.8, 97.0, 99.4), voids=4), "photo-less") == []


def test_who_paints_his_own_lift_alone_is_one_person_and_a_photo_that_was_reckoned_is_said_to_be() -> None:
    day = measured_day()
    (alone,), (reckoned,), (swirls,) = (of(day, code) for code in ("alone-painted", "reckoned", "swirls"))
    assert (alone.lifts, reckoned.lifts, swirls.lifts) == ((1, 3), (2, 3), (1,))
    assert [one.lifts for one in of(day, "alone-with-photo")] == [(4,)]
    other = Site().start("shower wall").release().batch().tile().lift_up().photo().speak("ben").understood()
    other.measured(97.0, way="painted", voids=9).told_of_photo("painted on a photo", "97")
    assert of(other, "alone-painted") == of(other, "alone-with-photo") == []


def test_bags_that_do_not_fit_the_bed_are_doubted_as_soon_as_all_is_set_and_not_before() -> None:
    # A bed of square notches of 1/2 in and 1.44 m2 take about 0.4 bags of 25 kg: none is too little, nine are too many.
    plan = plan_of(areas=("shower wall",))
    plan["areas"][0]["size"] = "1.44 m2"
    plan["areas"][0]["mortar"]["bag"] = "25 kg"
    site = Site(plan).start("shower wall").release().batch().tile().lift("97")

    def verdicts(bags: str, phase: Literal["working", "finishing"] = "working") -> list[Figure]:
        area = site.state.areas["shower wall"]
        batches = {1: replace(area.progress.batches[1], bags=Fraction(bags))}
        other = replace(area, progress=replace(area.progress, batches=batches, phase=phase))
        found = look_at(replace(site.state, areas={"shower wall": other}), standing(site.events))
        return [one.told.figures["verdict"] for one in found if one.told.code == "doubt-bags"]

    assert verdicts("9") == []
    site.tile()
    assert [verdicts(bags) for bags in ("0", "1", "9")] == [["less"], [], ["more"]]
    # From here on it is an open point.
    assert verdicts("9", "finishing") == []


def test_a_void_that_nothing_asks_for_and_nobody_read_is_doubted_where_the_back_is_not_full() -> None:
    dry = checklist("void", place="dry")
    assert [one.lifts for one in of(ended(lifted("90", checklist=dry)), "no-void")] == [(1,)]
    assert of(ended(lifted("100", checklist=dry)), "no-void") == []
    assert of(ended(lifted("90", checklist=checklist(place="dry"))), "no-void") == []


def test_a_doubt_that_holds_in_two_areas_is_told_once() -> None:
    site = ended(lifted())
    site.start("plunge pool").release().batch().tile().lift("97")
    (found,) = of(site, "alone-with-photo")
    assert found.areas == ("shower wall", "plunge pool")


def read_to_the_end(site: Site, percent: str, void: str = "300", corners: str = "full") -> Site:
    site.read("lift", "coverage", percent, "percent").read("lift", "void", void, "mm2")
    return site.do(cmd.Choose(section="lift", step="corners", option=corners))


def test_a_failed_lift_that_was_taken_back_and_read_anew_is_looked_at_with_what_was_read() -> None:
    site = ended(lifted("61"))
    assert of(site, "undone") == []
    read_to_the_end(site.do(*[cmd.Withdraw()] * 3), "97")
    (found,) = of(site, "undone")
    assert (found.areas, found.lifts) == (("shower wall",), (1,))
    (was,) = places(found)
    assert was["was"] == Several((Read(Quantity(Fraction(61), "percent")),), "list")
    assert (was["judged"], was["how"]) == ("yes", "taken-back")


def test_what_was_taken_back_hides_nothing_where_what_stands_in_its_place_fails_too() -> None:
    site = ended(lifted("61"))
    assert of(read_to_the_end(site.do(*[cmd.Withdraw()] * 3), "62"), "undone") == []


@pytest.mark.parametrize(("how", "percent", "told"), [("typed", "61", True), ("typed", "96", False),
                                                      ("spoken", "61", False)])  # fmt: skip
def test_a_reading_below_the_limit_that_was_denied_is_looked_at_unless_it_may_have_been_misheard(
    how: str, percent: str, told: bool
) -> None:
    site = Site().start("shower wall").release().batch().tile().lift_up()
    site.photo()
    site.by(how).read("lift", "coverage", percent, "percent", keep=False).do(cmd.Withdraw()).by("typed")
    assert bool(of(read_to_the_end(site, "97"), "undone")) is told


def test_a_failing_reading_of_no_lift_that_was_taken_back_is_looked_at_by_its_step() -> None:
    site = Site().start("shower wall", temperature="8")
    site.do(cmd.Withdraw()).read("conditions", "air-temperature", "21", "degC")
    (found,) = of(site, "undone")
    assert (found.areas, found.lifts, places(found)[0]["judged"]) == (("shower wall",), (), "no")


def test_a_lift_below_the_limit_that_nobody_read_to_the_end_is_looked_at_though_no_verdict_failed() -> None:
    # ANSI A108.5 §3.3.2 (2017), as reported in trade literature: 95 % in wet areas.
    (found,) = of(lifted("94"), "not-judged")
    (short,) = places(found)
    assert (found.lifts, short["required"], short["count"]) == ((1,), Quantity(Fraction(95), "percent"), 2)
    assert of(lifted("95"), "not-judged") == of(ended(lifted("94")), "not-judged") == []


def test_a_photo_of_a_lift_that_was_taken_back_is_looked_at() -> None:
    site = Site().start("shower wall").release().batch().tile().lift_up()
    site.photo()
    assert of(site, "photo-taken-back") == []
    site.do(cmd.Withdraw()).photo()
    assert [one.lifts for one in of(site, "photo-taken-back")] == [(1,)]


@pytest.mark.parametrize("same", [True, False])
def test_one_photo_beside_several_lifts_is_looked_at_and_photos_that_differ_are_not(same: bool) -> None:
    site = lifted(camera=lambda number: picture(7 if same else number))
    ended(site).tile().do(cmd.AskLift(number=2)).lift("98")
    assert [one.lifts for one in of(site, "same-photo")] == ([(1, 2)] if same else [])


def test_each_correction_of_an_addendum_is_looked_at_at_its_lift() -> None:
    site = ended(lifted()).sign(accept_open=True).seal()
    site.do(cmd.OpenAddendum(reason="It was read from the wrong side."))
    kept = next(event.seq for event in site.events if isinstance(event.body, ev.LiftJudged))
    for text in ("The contact was 60 %, not 97 %.", "It was lift 1."):
        site.do(cmd.Correct(target=kept, text=text))
    found = of(site, "correction")
    assert [(one.areas, one.lifts, one.told.figures["part"]) for one in found] == [(("shower wall",), (1,), "1")] * 2


@pytest.mark.parametrize(("face", "told"), [("8.16 m2", True), ("0.73 m2", False), ("0.4 m2", False)])
def test_a_piece_that_is_told_as_larger_than_a_whole_one_of_the_plan_is_looked_at(face: str, told: bool) -> None:
    site = Site().start("shower wall").release().batch()
    site.do(cmd.StartRound(section="tile", face=face)).understood().confirm("tile", "combed").confirm("tile", "set")
    assert [one.tiles for one in of(site, "larger")] == ([(1,)] if told else [])


def test_limits_that_lifts_were_held_against_are_looked_at_where_they_are_known_second_hand() -> None:
    assert of(Site().start("shower wall"), "second-hand") == []
    (found,) = of(ended(lifted()), "second-hand")
    assert (found.kind, found.areas, found.told.figures["standing"]) == ("limit", ("shower wall",), "reported")


@pytest.mark.parametrize(("seconds", "told"), [(3600.0, True), (-600.0, True), (20.0, False)])
def test_a_clock_that_was_set_by_more_than_a_minute_is_looked_at(seconds: float, told: bool) -> None:
    site = Site()
    site.add(ev.ClockJumped(seconds=seconds), by="clock")
    assert bool(of(site, "clock-set")) is told


def test_a_log_that_was_put_together_again_is_looked_at() -> None:
    site = Site()
    site.add(ev.DayRecovered(events=len(site.events), behind=2, missing=((5, 7),)), by="clock")
    (found,) = of(site, "recovered")
    assert found.told.figures["lost"] == 5


def test_a_back_that_was_reckoned_as_bare_where_the_method_keys_it_contradicts_the_record() -> None:
    (one,) = of(judged("97", (97.4, 96.1, 98.2), voids=9), "photo-bare")
    assert (one.kind, one.lifts) == ("contradiction", (1,))
    assert of(judged("97", (97.4, 96.1, 98.2), voids=9, way="painted", kind="skim-coated"), "photo-bare") == []


@pytest.mark.parametrize(("size", "told"), [((1200, 600), False), ((1180, 600), False), ((1200, 540), True)])
def test_a_photo_that_was_squared_up_to_another_size_than_its_pieces_contradicts_the_record(
    size: tuple[float, float], told: bool
) -> None:
    site = judged("97", (97.4, 96.1, 98.2), voids=9, size_mm=size)
    assert site.state.areas["shower wall"].progress.tiles[1].place.face_m2 == pytest.approx(0.72)
    assert [one.kind for one in of(site, "photo-size")] == (["contradiction"] if told else [])


def test_a_back_that_was_measured_until_it_pleased_is_told_with_each_figure() -> None:
    site = lifted("96").measured(92.2, 90.1, 94.9).measured(97.4, 96.1, 98.2)
    (one,) = of(site, "photo-again")
    (told,) = places(one)
    assert told["count"] == 2
    figures = told["figures"]
    assert isinstance(figures, Several)
    assert [figure.value for figure in figures.items if isinstance(figure, Quantity)] == [92, 97]
    assert of(lifted("96").measured(), "photo-again") == []
