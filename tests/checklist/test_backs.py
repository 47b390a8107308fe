"""A back measured on its photo: kept beside its lift, and nothing may be told of it that it does not show."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine
from fieldassist.checklist import events as ev
from fieldassist.checklist.backs import back_of, read_by_eye
from fieldassist.checklist.moment import Source
from fieldassist.trade.message import Bound
from fieldassist.trade.voids import void_as_read
from tests.report.conftest import Site, measured_back


def lifted() -> Site:
    """A lifted tile with the photo of its back."""
    return Site().start("shower wall").release().batch().tile().lift_up().photo()


def refusal(site: Site, command: cmd.Command, how: Any = "typed") -> str:
    """The code with which a command is refused."""
    came = engine.decide(site.state, command, site.now, source=Source(how=how))
    assert isinstance(came, engine.Refusal), came
    return came.why.code


def contact(value: str) -> cmd.GiveReading:
    return cmd.GiveReading(section="lift", step="coverage", value=Fraction(value), unit="percent")


def test_contact_measured_on_the_photo_passes_when_the_lower_end_of_its_interval_clears_the_limit() -> None:
    # ANSI A108.5 §3.3.2 (2017), as reported in trade literature: 95 % in wet areas.
    site = lifted().measured(97.4, 95.0, 98.9).by("measured on a photo").read("lift", "coverage", "97", "percent")
    kept = [event.body for event in site.events if isinstance(event.body, ev.ReadingKept)][-1]
    assert kept.passed is True


@pytest.mark.parametrize(("percent", "low", "high"), [(97.4, 94.9, 98.9), (93.2, 90.1, 95.0)])
def test_contact_whose_interval_holds_the_limit_is_not_judged_and_says_what_to_do(
    percent: float, low: float, high: float
) -> None:
    site = lifted().measured(percent, low, high)
    came = engine.decide(site.state, contact(str(int(percent))), site.now, source=Source(how="measured on a photo"))
    assert isinstance(came, engine.Refusal)
    assert came.why.code == "engine-photo-cannot-tell"
    required = came.why.figures["required"]
    assert isinstance(required.figures["at-least"], Bound)  # type: ignore[union-attr]
    # By eye it can be read: whoever reads answers for it, and the record says so.
    assert site.by("spoken").read("lift", "coverage", str(int(percent)), "percent")


def test_contact_fails_when_the_upper_end_of_its_interval_lies_below_the_limit() -> None:
    site = lifted().measured(89.4, 87.0, 94.9).by("measured on a photo").read("lift", "coverage", "89", "percent")
    kept = [event.body for event in site.events if isinstance(event.body, ev.ReadingKept)][-1]
    assert kept.verdict == "under"


@pytest.mark.parametrize(
    ("command", "how", "code"),
    [
        (contact("98"), "measured on a photo", "engine-back-says-other"),
        (contact("97"), "painted on a photo", "engine-back-not-measured"),
        (
            cmd.GiveReading(section="lift", step="void", value=Fraction("0.1"), unit="mm2"),
            "measured on a photo",
            "engine-back-says-other",
        ),
        (
            cmd.Choose(section="lift", step="corners", option="not-full"),
            "measured on a photo",
            "engine-back-says-other",
        ),
    ],
)
def test_nothing_is_told_of_the_photo_that_was_not_measured_on_it(command: cmd.Command, how: str, code: str) -> None:
    assert refusal(lifted().measured(97.4, 96.0, 98.9), command, how) == code


def test_a_reading_of_a_photo_needs_a_back_that_was_measured_and_that_one_a_photo_of_its_own_lift() -> None:
    site = lifted()
    assert refusal(site, contact("97"), "measured on a photo") == "engine-back-not-measured"
    back = measured_back("0" * 64, 97.4, 96.0, 98.0, {})
    assert refusal(site, cmd.MeasureBack(section="lift", round=1, back=back)) == "engine-photo-first"
    assert refusal(site, cmd.MeasureBack(section="tile", round=1, back=back)) == "engine-nothing-lifted-here"


def test_a_back_is_measured_beside_what_waits_for_its_yes_and_takes_nothing_from_it() -> None:
    site = lifted().by("spoken").read("lift", "coverage", "95", "percent", keep=False)
    site.by("pressed").measured(97.4, 96.0, 98.9, eye_percent=95, eye_by="ana")
    assert site.state.pending is not None
    site.do(cmd.Keep())
    found = back_of(site.state, "shower wall", "lift", 1)
    assert found is not None
    assert (found.back.eye_percent, found.by) == (95, "ana")


def test_of_a_lift_that_was_taken_back_and_made_anew_nothing_is_measured_yet() -> None:
    site = lifted().measured()
    assert back_of(site.state, "shower wall", "lift", 1) is not None
    site.do(cmd.Withdraw()).do(cmd.Withdraw())  # the photo, the lift
    assert back_of(site.state, "shower wall", "lift", 1) is None
    site.lift_up()
    assert back_of(site.state, "shower wall", "lift", 1) is None


def test_an_interval_that_does_not_hold_its_figure_is_no_measured_back() -> None:
    with pytest.raises(ValueError, match="interval"):
        measured_back("0" * 64, 97.4, 98.0, 99.0, {})


def test_what_the_eye_read_before_the_photo_told_is_the_eyes_and_nothing_after_it() -> None:
    at = ("shower wall", "lift", 1)
    site = lifted()
    assert read_by_eye(site.state, *at) is None
    site.read("lift", "coverage", "96", "percent", keep=False)
    assert read_by_eye(site.state, *at) == (96, "ana"), "it waits for its yes"
    site.do(cmd.Keep())
    assert read_by_eye(site.state, *at) == (96, "ana")
    site.measured(eye_percent=96.0, eye_by="ana")
    assert read_by_eye(site.state, *at) == (96, "ana")
    told = lifted().measured().by("measured on a photo").read("lift", "coverage", "97", "percent")
    assert read_by_eye(told.state, *at) is None


def test_a_figure_is_reckoned_of_bare_backs_only() -> None:
    site = lifted()
    photo = site.state.photos["shower wall", "lift", 1][-1]
    for kind in ("skim-coated", "combed", "clear sheet"):
        back = measured_back(photo, 97.4, 96.0, 98.0, {}, kind=kind)
        assert refusal(site, cmd.MeasureBack(section="lift", round=1, back=back)) == "engine-only-bare-reckoned"


def test_who_read_by_eye_is_one_of_the_crew() -> None:
    site = lifted()
    photo = site.state.photos["shower wall", "lift", 1][-1]
    back = measured_back(photo, 97.4, 96.0, 98.0, {}, eye_percent=95, eye_by="napoleon")
    assert refusal(site, cmd.MeasureBack(section="lift", round=1, back=back)) == "engine-eye-unknown"


@pytest.mark.parametrize(
    ("low", "high", "told"), [(300.0, 1290.0, True), (1200.0, 1400.0, False), (1400.0, 2100.0, True)]
)
def test_a_largest_void_that_may_be_on_either_side_of_what_is_allowed_is_read_by_eye(
    low: float, high: float, told: bool
) -> None:
    # 2 in2, as trade practice has it: 1,290.32 mm2.
    site = lifted().measured(97.4, 95.5, 98.9, voids=5, void_low_mm2=low, void_high_mm2=high)
    back = back_of(site.state, "shower wall", "lift", 1)
    assert back is not None
    void = cmd.GiveReading(section="lift", step="void", value=void_as_read(back.back.void_mm2, "mm2"), unit="mm2")
    if told:
        site.by("measured on a photo").read("lift", "coverage", "97", "percent").do(void)
    else:
        assert refusal(site, void, "measured on a photo") == "engine-photo-void-unsure"
        site.by("typed").read("lift", "coverage", "97", "percent").do(void)
