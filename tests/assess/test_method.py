"""Whether a notch does for a piece and a base, and what would."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.assess.contact import area_contact, required_contact
from fieldassist.assess.inputs import area_inputs
from fieldassist.assess.method import advise, advise_at_limit, bed, picture, setting
from fieldassist.assess.tiles import pieces, wanted
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.verdict import Outcome
from tests.assess.areas import AREAS, CHECKLISTS, PLAN, area_of, bare, inch, inputs, mm


def test_the_bed_of_the_laboratorys_trowel_is_the_published_one() -> None:
    # ISO 13007-2:2013 §4.1: notches of 6 x 6 mm at 12 mm centres, at about 60 degrees: 2.6 mm of bed.
    laboratory = inputs("shower wall", depth=mm(6), width=mm(6), spacing=mm(6))
    assert bed(laboratory).bed_mm == pytest.approx(2.6, abs=0.05)


def test_what_nobody_measured_is_assumed_and_its_limit_judged_beside_it() -> None:
    found, at_limit = advise(inputs("shower wall")), advise_at_limit(inputs("shower wall"))
    assert found.works
    assert {one.name for one in found.assumed} == {"skim", "base"}
    # ANSI A108.02 §4.2.2: 1/8 in in 10 ft for an edge of 15 in and more, as reported in trade literature.
    assert at_limit is not None
    assert (at_limit.works, at_limit.base_mm) == (False, 3.175)
    assert "base" not in {one.name for one in at_limit.assumed}
    assert advise_at_limit(inputs("shower wall", base=mm(1))) is None


def test_nothing_is_assumed_to_be_off_and_nothing_to_be_keyed_in() -> None:
    # Common practice, no published source: a true base, a flat piece, no coat in the back.
    panel = inputs("lobby wall")
    assert [panel.number(field) for field in ("warpage", "base", "skim")] == [0, 0, 0]
    assert (panel.setting.value, inputs("shower wall").setting.value) == ("vibrated", "by hand")
    assert inputs("shower wall").waste.value.value == 10


def test_a_piece_that_the_short_straightedge_spans_stands_on_its_gap() -> None:
    # ANSI A108.02 §4.2.2: 1/16 in over 24 in (609.6 mm) beside 1/8 in over 10 ft, as reported in trade literature.
    area = area_of("shower wall")
    for length, worst in ((600, 1.5875), (620, 3.175)):
        piece = area.plan.piece.model_copy(update={"length": mm(length)})
        found = area_inputs(
            type(area)(area.plan.model_copy(update={"piece": piece}), area.checklist, area.method), PLAN.units
        )
        assert float(found.worst.value) == worst


def test_what_a_method_proposes_works_and_nothing_is_proposed_that_does_not() -> None:
    have = inputs("hall floor")
    found = advise(have)
    assert (found.works, found.no_way) == (False, False)
    assert [one.told.code for one in found.alternatives] == [
        "assess-try-vibrated",
        "assess-try-plan",
        "assess-try-usual",
    ]
    for other in found.alternatives:
        assert advise(inputs("hall floor", **other.entries)).works
    # No bed that the mortar allows (12 mm) reaches over a base that is 20 mm off.
    hopeless = advise(inputs("hall floor", base=mm(20)))
    assert (hopeless.works, hopeless.alternatives, hopeless.no_way) == (False, (), True)


def test_a_notch_that_cannot_be_says_why_in_place_of_a_verdict() -> None:
    found = advise(inputs("shower wall", depth=mm(12)))
    assert (found.works, len(found.reasons)) == (None, 1)
    with pytest.raises(ValueError, match="square"):
        bed(inputs("shower wall", depth=mm(12)))


def test_a_bed_is_judged_by_the_mortars_limits_for_both_ways_to_comb() -> None:
    # Bulletin 18 of the Materials and Methods Standards Association (May 2020): thin-set from 3/32 to 1/4 in.
    found = bed(inputs("hall floor", mortar="thin-set", least=inch("3/32"), most=inch("1/4")))
    assert [(way.sides, way.grade) for way in found.ways] == [("one", "within"), ("both", "thick")]
    assert found.high_mm - found.low_mm == pytest.approx(0.6)  # the piece's warpage, on a true base


def test_the_picture_holds_as_much_mortar_before_as_after() -> None:
    for area in AREAS:
        drawn = picture(inputs(area))
        pairs = zip(drawn.ridge, (*drawn.ridge[1:], drawn.ridge[0]), strict=True)
        section = abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2
        assert section * (2 if drawn.both else 1) == pytest.approx(drawn.bed_mm * drawn.pitch_mm, rel=0.01)


def test_a_trowel_held_flatter_lays_lower_ridges() -> None:
    # A notch's depth by the sine of the angle: 3/8 in at 60 and at 30 degrees.
    assert bed(inputs("shower wall")).ridge.height_mm == pytest.approx(9.525 * 3**0.5 / 2)
    assert bed(inputs("shower wall", angle=bare(30))).ridge.height_mm == pytest.approx(9.525 / 2)


def test_a_piece_is_slid_across_and_combed_along_its_short_side() -> None:
    slide, air = setting(inputs("shower wall"))
    assert slide.out_mm == pytest.approx(9.525)  # one notch width at least, as a trade article asks
    assert air.shortest_choice_mm == 600


def test_test_tiles_are_the_settings_least_and_never_more_than_there_are_pieces() -> None:
    # ANSI A108.5 §3.3.2, as reported in trade literature: three tiles.
    found = wanted(inputs("shower wall"))
    assert found is not None
    assert (found.least, found.lot) == (3, 14)  # 9.6 m2 of 1.2 m x 0.6 m
    small = wanted(inputs("shower wall", area=Quantity(Fraction(1), "m2")))
    assert small is not None
    assert (small.lot, small.proof.share) == (2, 1.0)
    assert pieces(inputs("lobby wall")) == 4  # 12 m2 of 3 m x 1 m


def test_a_stricter_figure_that_was_asked_goes_before_the_settings_and_a_reset_tile_counts_with_its_last_lift() -> None:
    checklist = CHECKLISTS["wet-area-wall"]
    # ANSI A108.5 §3.3.2, as reported in trade literature: 95 % in wet places.
    plain, strict = required_contact("tile", checklist), required_contact("tile", checklist, [90.0, 98.0])
    assert plain is not None
    assert strict is not None
    assert (plain.minimum_percent, strict.minimum_percent) == (95, 98)
    passed: Outcome = "passed"
    lifts: list[tuple[int, float, Outcome]] = [(1, 80.0, "failed"), (1, 97.0, passed), (2, 97.0, passed)]
    stands = area_contact([*lifts, (3, 99.0, passed)], plain)
    assert stands is not None
    assert (stands.passed, stands.worst, stands.lifts) == (True, 97, 3)
    again = area_contact([*lifts, (3, 99.0, passed), (2, 70.0, "failed")], plain)
    assert again is not None
    assert (again.passed, again.worst) == (False, 70)
    assert area_contact(lifts, None) is None
