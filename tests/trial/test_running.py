"""A trial is worked by the same engine as a wall: drawn order, spoiled samples, readers apart, release by PIN."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from pydantic import ValidationError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import trying
from fieldassist.checklist.contradictions import contradictions
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import MockUp, Role
from fieldassist.checklist.state import Area
from fieldassist.day.session import CannotOpen
from fieldassist.record.keys import Keyring
from fieldassist.record.seal import check_releases
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.drawn import order_for
from fieldassist.trial.released import with_released
from fieldassist.trial.samples import FRESH_KG_PER_L, analysis_of, design_of, fresh_density, samples_of
from tests.trial.worked import TRIED, Crew, planned, worked

MEANS = {"A": 70.0, "B": 84.0, "C": 78.0, "D": 96.0}


def read(letter: str, number: int, reader: str) -> float:
    """Invented figures: the second reader reads a point less."""
    return MEANS[letter] + number - 2 - (reader == "otto")


def area_of(crew: Crew) -> Area:
    area = crew.day.state.area
    assert area is not None
    return area


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Crew:
    """A trial that was begun, and whose mortar is mixed."""
    crew = worked(tmp_path_factory.mktemp("begun") / "day.db", read)
    crew.mix()
    return crew


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Crew:
    """A trial with all its samples, of which the second one was spoiled."""
    crew = worked(tmp_path_factory.mktemp("whole") / "day.db", read)
    crew.all_samples(spoiled={2: "sample ruined piece slipped"})
    return crew


def test_the_order_is_drawn_from_the_head_of_the_record_as_it_stood(begun: Crew) -> None:
    events = begun.day.log.events
    (drawn,) = (event for event in events if isinstance(event.body, ev.SamplesOrdered))
    assert isinstance(drawn.body, ev.SamplesOrdered)
    area = area_of(begun)
    assert drawn.body.head in begun.day.log.hashes[: drawn.seq - 1]
    assert drawn.body.order == order_for(area.plan, area.checklist, drawn.body.head)
    # Two heads may give one order by chance.
    assert len({order_for(area.plan, area.checklist, digit * 64) for digit in "01234"}) > 1


def test_what_the_reckoning_rules_out_is_named_and_not_mixed(begun: Crew) -> None:
    # A quarter inch notch on one side leaves under 3 mm in this mortar, whose least bed is 3 mm.
    area = area_of(begun)
    assert set(area.progress.ruled_out) == {"A"}
    assert "A" not in area.progress.order
    assert design_of(area).eligible == ("B", "C", "D")


def test_a_combination_that_is_only_shown_is_run_and_cannot_win(tmp_path: Path) -> None:
    tried = [TRIED | {"notch": "half inch square"}, {"notch": "quarter inch square", "shown": True}]
    crew = worked(tmp_path / "day.db", read, planned(**{"try": tried}))
    area = area_of(crew)
    assert area.progress.order.count("C") == 3
    assert design_of(area).eligible == ("A", "B")
    made = MockUp(date="2026-03-10", percent=96, corners="full", by="rosa")
    release = cmd.ReleaseMethod(letter="C", areas=("hall",), made=made, name="edwin", key="1" * 64, signature="2" * 128)
    for letter, code in (("C", "trial-not-eligible"), ("A", "trial-nothing-seen"), ("Z", "trial-no-such-letter")):
        refused = crew.day.do(release.model_copy(update={"letter": letter}))
        assert (refused.taken, refused.say.code) == (False, code)  # type: ignore[union-attr]


def test_a_spoiled_sample_stays_in_the_record_and_is_made_again_at_the_end(whole: Crew) -> None:
    samples = samples_of(area_of(whole))
    (spoiled,) = (one for one in samples if one.spoiled is not None)
    assert spoiled.number == 2
    assert not spoiled.counts
    again = samples[-1]
    assert (again.letter, again.place) == (spoiled.letter, 0)
    counted = [one.letter for one in samples if one.counts]
    assert {letter: counted.count(letter) for letter in "BCD"} == {"B": 3, "C": 3, "D": 3}


def test_a_sample_that_was_looked_at_is_not_called_spoiled(tmp_path: Path) -> None:
    crew = worked(tmp_path / "day.db", read, planned(readers=["rosa"], **{"try": [{"notch": "half inch square"}]}))
    crew.mix()
    crew.say("next sample")
    crew.say("understood")
    while area_of(crew).sample is not None and area_of(crew).sample.seen is None:  # type: ignore[union-attr]
        crew.say(area_of(crew).step.phrases()[0])  # type: ignore[union-attr]
    answer = crew.try_to_say("sample ruined piece slipped")
    assert not answer.taken
    assert answer.say.code == "trial-seen-already"  # type: ignore[union-attr]
    # Nor is the look taken back, to call it spoiled then.
    assert not crew.try_to_say("scratch that").taken
    assert not crew.try_to_say("sample ruined piece slipped").taken
    # One reader is named by nobody: the plan says who reads.
    crew.say("no photo")
    crew.say("coverage 91")
    crew.say("void 2 square centimeters")
    assert crew.day.state.pending is not None


def test_each_figure_has_its_reader_whoever_calls_it(whole: Crew) -> None:
    for sample in samples_of(area_of(whole)):
        if sample.counts:
            assert [one.reader for one in sample.readings] == ["rosa", "otto"]
            assert sample.readings[0].percent - sample.readings[1].percent == 1


def test_taking_back_the_last_thing_done_takes_a_sample_back_too(begun: Crew) -> None:
    before = len(area_of(begun).progress.samples)
    begun.say("next sample")
    assert len(area_of(begun).progress.samples) == before + 1
    if begun.day.prompt.caution is not None:
        begun.say("understood")
    begun.say("scratch that")
    assert len(area_of(begun).progress.samples) == before


def test_age_and_batch_of_each_sample_are_measured(whole: Crew) -> None:
    samples = samples_of(area_of(whole))
    assert {one.batch for one in samples} == {1, 2}
    for batch in (1, 2):
        ages = [one.age_min for one in samples if one.batch == batch]
        assert ages == sorted(ages)
        assert ages[0] > 7


def test_fewer_samples_than_planned_are_an_open_point(tmp_path: Path) -> None:
    crew = worked(tmp_path / "day.db", read)
    crew.mix()
    crew.sample()
    crew.say("finish area")
    (point,) = (one for one in open_points(crew.day.state) if one.id.startswith("samples/"))
    assert point.told.figures["samples"] == 8


def test_more_samples_of_some_are_drawn_and_made(tmp_path: Path) -> None:
    crew = worked(tmp_path / "day.db", read, planned(repeats=1))
    crew.all_samples()
    crew.say("finish area")
    assert trying.next_letter(area_of(crew)) is None
    answer = crew.day.do(cmd.MoreSamples(letters=("B", "D"), repeats=2))
    assert answer.taken
    assert sorted(area_of(crew).progress.order[-4:]) == ["B", "B", "D", "D"]
    crew.mix()
    crew.sample()
    assert trying.made(area_of(crew)) == 4


def test_a_method_is_released_by_pin_and_signed_where_it_stands(whole: Crew, tmp_path: Path) -> None:
    keys = Keyring(tmp_path / "keys")
    keys.set_pin("edwin", Role.FOREMAN, "471182", now=whole.clock.now())
    refused = whole.day.release_method(keys, "471182", "edwin", "C", ["hall"])
    assert refused.say.code == "trial-why-not-best"  # type: ignore[union-attr]
    answer = whole.day.release_method(keys, "471182", "edwin", "D", ["hall", "mock up"])
    assert answer.taken, whole.day.words(answer.say)
    (release,) = area_of(whole).progress.released
    shown = release.made.trial
    assert shown is not None
    said = analysis_of(area_of(whole)).of("D")
    assert said.mean is not None
    assert (shown.letter, shown.samples, shown.head) == ("D", 3, whole.day.log.hashes[-2])
    assert shown.mean == pytest.approx(said.mean, abs=0.01)
    (check,) = check_releases(whole.day.log.events, whole.day.log.hashes)
    assert check.good
    # The plan of an area that it was released for takes method and figures; the worst sample is what it is judged by.
    hall = whole.day.state.plan.areas[0].model_copy(update={"name": "hall", "trial": None})  # type: ignore[union-attr]
    plan = planned().model_copy(update={"areas": (hall, *planned().areas)})
    taken = with_released(plan, [release])
    assert taken.areas[0].method == release.method
    assert taken.areas[0].mock_up == release.made
    assert taken.areas[1].mock_up is None
    assert release.made.percent == MEANS["D"] - 2


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"readers": ["nobody"]}, "name-not-in-file"),
        ({"try": [{"notch": "none such"}]}, "trial-notch"),
        ({"try": [{"notch": "half inch square", "seconds": "5 s"}]}, "trial-seconds"),
        ({"try": [{"notch": "half inch square", "movement": "none", "slide": "8 mm"}]}, "trial-slide"),
        ({"questions": [{"part": "seating", "one": "by hand", "other": "vibrated"}]}, "trial-question-without-pair"),
        ({"questions": [{"part": "seating"}]}, "trial-question"),
        ({"combinations": [{"notch": "half inch square"}, {"notch": "half inch square"}]}, "trial-twice"),
    ],
)
def test_a_trial_that_cannot_be_is_refused_with_its_mistake(wrong: dict[str, object], code: str) -> None:
    with pytest.raises(ValidationError, match=code):
        planned(**wrong)


def test_a_void_larger_than_what_is_uncovered_is_asked_about(tmp_path: Path) -> None:
    plan = planned(readers=["rosa"], repeats=1, bed="none", **{"try": [{"notch": "half inch square"}]})
    crew = worked(tmp_path / "day.db", lambda *_: 99, plan)
    crew.mix()
    crew.sample()
    # Of 600 by 600 mm one percent are 36 cm2: a void of 2 cm2 fits.
    assert not contradictions(crew.day.state)
    crew.day.do(cmd.MoreSamples(letters=("A",)))
    crew.mix()
    crew.sample(void="void 60 square centimeters")
    (found,) = contradictions(crew.day.state)
    assert (found.told.code, found.told.figures["sample"]) == ("open-sample-void", "2")


def test_a_trial_and_its_checklist_belong_together(tmp_path: Path) -> None:
    plan = planned()
    wall = plan.model_copy(update={"areas": (plan.areas[0].model_copy(update={"checklist": "dry-floor"}),)})
    with pytest.raises(CannotOpen) as caught:
        worked(tmp_path / "day.db", read, wall)
    assert caught.value.told.code == "trial-unfit-checklist"


def test_a_figure_that_is_put_right_later_counts_and_says_so(tmp_path: Path) -> None:
    crew = worked(tmp_path / "day.db", read, planned(repeats=1))
    crew.mix()
    crew.sample()
    (sample,) = samples_of(area_of(crew))
    assert not any(one.corrected for one in sample.readings)
    kept = next(one.kept for one in area_of(crew).progress.samples[1].answers if one.reader == "rosa")
    crew.say(f"correct {kept} 50")
    crew.say("yes")
    (sample,) = samples_of(area_of(crew))
    assert {one.percent: one.corrected for one in sample.readings}[50] is True
    assert sum(one.corrected for one in sample.readings) == 1


def test_a_bed_is_told_by_the_mass_of_the_mortar_that_the_sample_took(tmp_path: Path) -> None:
    plan = planned(readers=["rosa"], repeats=1, bed="mass", **{"try": [{"notch": "half inch square"}]})
    crew = worked(tmp_path / "day.db", read, plan)
    crew.mix()
    crew.sample()
    (sample,) = samples_of(area_of(crew))
    # A bag of 20 kg with 6 L of water gives 14 L: 26 kg in 14 L. 2.6 kg are 1.4 L, on 0.36 m2.
    assert sample.by_mass_mm == pytest.approx(1.4 / 0.36)
    # Another mortar has a density of its own, and one that tells none the usual one.
    heavy = plan.areas[0].mortar.model_copy(update={"bag_yield": Quantity(Fraction(13), "L")})
    assert fresh_density(heavy) == pytest.approx(2.0)
    assert fresh_density(heavy.model_copy(update={"bag": None})) == FRESH_KG_PER_L
