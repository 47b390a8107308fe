"""Notches and ridges, against numerical integration of the outline and the trade's own claims."""

from __future__ import annotations

import math
from typing import get_args

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import integrate

from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.coverage import greatest_contact
from fieldassist.trade.message import Refused
from fieldassist.trade.mortar import BedLimits, bed_limits, mass_balance
from fieldassist.trade.ridges import (
    COMMON_NOTCHES,
    Family,
    Notch,
    advise,
    air_path,
    bed_after_collapse,
    calibrated_filling,
    collapse_effort,
    mortar_per_m2,
    notch_area,
    notch_at_pitch,
    notch_depth_for_edge,
    outline,
    ridge,
    slide_distance,
    two_sided_combing,
)
from tests.trade.telling import US, words

IN = 25.4
FAMILIES = get_args(Family)
THIN_SET = bed_limits("thin-set")
HEAVY = bed_limits("large-and-heavy-tile")
HALF_SQUARE = Notch("square", IN / 2, IN / 2, IN / 2)
HALF_SLANTED = Notch("slanted", IN / 2, IN / 2, IN / 2)
MODERATE_U = Notch("U", IN / 4, IN * 3 / 8, IN / 4)
RIDGE_COLLAPSE = COMMON_NOTCHES["half inch ridge-collapse"]

sizes = st.floats(2, 30)
angles = st.floats(30, 90)


@st.composite
def notches(draw: st.DrawFn, family: str | None = None) -> Notch:
    kind = family or draw(st.sampled_from(FAMILIES))
    width, depth, spacing = draw(sizes), draw(sizes), draw(sizes)
    if kind == "square":
        depth = width
    if kind in ("U", "ridge-collapse"):
        depth = max(depth, width / 2)
    return Notch(kind, width, depth, spacing)  # type: ignore[arg-type]


def opening_at(notch: Notch, y: float) -> float:
    """How wide the notch is at a depth y, written down from the description of the family."""
    w, d = notch.width_mm, notch.depth_mm
    if notch.family == "V":
        return w * (1 - y / d)
    if notch.family == "half-round":
        return w * math.sqrt(max(0.0, 1 - (y / d) ** 2))
    if notch.family in ("U", "ridge-collapse"):
        above = y - (d - w / 2)
        return w if above <= 0 else 2 * math.sqrt(max(0.0, (w / 2) ** 2 - above**2))
    return w


@given(notches())
def test_the_notch_area_is_the_integral_of_its_opening_over_its_depth(notch: Notch) -> None:
    start_of_curve = max(0.0, min(notch.depth_mm, notch.depth_mm - notch.width_mm / 2))
    integral = sum(
        integrate.quad(lambda y: opening_at(notch, y), low, high)[0]
        for low, high in ((0, start_of_curve), (start_of_curve, notch.depth_mm))
    )
    assert notch_area(notch) == pytest.approx(integral, rel=1e-5)


@given(notches())
def test_the_drawn_outline_encloses_the_notch_area(notch: Notch) -> None:
    x, y = np.array(outline(notch, points=400)).T
    shoelace = abs(float(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1)))) / 2
    assert shoelace == pytest.approx(notch_area(notch), rel=1e-4)
    assert y.max() == pytest.approx(notch.depth_mm)
    assert y.min() == pytest.approx(0, abs=1e-9)


def test_a_lean_moves_the_crown_and_not_the_area() -> None:
    upright, leaning = Notch("rectangular", 10, 12, 10), Notch("slanted", 10, 12, 10, lean_deg=45)
    assert notch_area(upright) == notch_area(leaning)
    assert max(x for x, _ in outline(leaning)) == pytest.approx(10 + 12)
    assert max(x for x, _ in outline(upright)) == 10


@given(notches(), angles)
def test_the_ridge_is_the_notch_cut_by_the_plane_across_the_ridges(notch: Notch, angle: float) -> None:
    # Independent recomputation: project every point of the outline from the tilted trowel onto that plane.
    x, y = np.array(outline(notch, points=400)).T
    y = y * math.cos(math.radians(90 - angle))
    section = abs(float(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1)))) / 2
    made = ridge(notch, angle)
    assert made.section_mm2 == pytest.approx(section, rel=1e-4)
    assert made.height_mm == pytest.approx(float(y.max()))


@given(notches(), angles, st.floats(0.3, 1.5))
def test_a_square_metre_of_ridges_flattens_to_the_bed(notch: Notch, angle: float, filling: float) -> None:
    made = ridge(notch, angle, filling)
    # Volume of all the ridges of a square metre, spread over it.
    assert made.per_m * made.section_mm2 * 1000 / 1e6 == pytest.approx(made.bed_mm)
    assert made.volume_l_per_m2 == made.bed_mm
    assert made.pitch_mm == pytest.approx(notch.width_mm + notch.spacing_mm)


@pytest.mark.parametrize(
    ("notch", "at_90", "at_60", "at_45"),
    # Arithmetic w d sin(angle) / (w + t), worked by hand.
    [
        (Notch("square", IN / 4, IN / 4, IN / 4), 3.175, 2.75, 2.245),
        (Notch("rectangular", IN / 4, IN * 3 / 8, IN / 4), 4.7625, 4.124, 3.368),
        (Notch("square", IN * 3 / 8, IN * 3 / 8, IN * 3 / 8), 4.7625, 4.124, 3.368),
        (HALF_SQUARE, 6.35, 5.499, 4.490),
        (Notch("square", 8, 8, 8), 4.0, 3.464, 2.828),
        (Notch("square", 10, 10, 10), 5.0, 4.330, 3.536),
        (Notch("square", 12, 12, 12), 6.0, 5.196, 4.243),
    ],
)
def test_the_beds_of_common_notches(notch: Notch, at_90: float, at_60: float, at_45: float) -> None:
    beds = [bed_after_collapse(notch, angle) for angle in (90, 60, 45)]
    assert beds == pytest.approx([at_90, at_60, at_45], abs=0.001)


def test_the_laboratory_trowel_of_iso_13007_2_leaves_2_6_mm() -> None:
    # ISO 13007-2:2013 §4.1: notches 6 x 6 mm at 12 mm centres, held at about 60 degrees.
    trowel = notch_at_pitch("square", 6, 6, 12)
    assert ridge(trowel, 60).per_m == pytest.approx(1000 / 12)
    assert bed_after_collapse(trowel, 60) == pytest.approx(3 * math.sqrt(3) / 2)
    assert COMMON_NOTCHES["laboratory trowel"] == trowel


def test_half_the_notch_depth_holds_for_a_vertical_trowel_only() -> None:
    quarter = Notch("square", IN / 4, IN / 4, IN / 4)
    assert bed_after_collapse(quarter, 90) == pytest.approx(quarter.depth_mm / 2)
    # 3/32 in: Materials and Methods Standards Association bulletin 18 (May 2020).
    assert bed_after_collapse(quarter, 90) > THIN_SET.minimum_mm
    assert bed_after_collapse(quarter, 45) < THIN_SET.minimum_mm


@given(notches(), angles, st.floats(1.01, 2))
def test_a_deeper_notch_or_a_steeper_trowel_leaves_more_and_a_wider_tooth_less(
    notch: Notch, angle: float, times: float
) -> None:
    family = "rectangular" if notch.family == "square" else notch.family
    bed = bed_after_collapse(notch, angle)
    deeper = Notch(family, notch.width_mm, notch.depth_mm * times, notch.spacing_mm)
    wider_tooth = Notch(notch.family, notch.width_mm, notch.depth_mm, notch.spacing_mm * times)
    assert bed_after_collapse(deeper, angle) > bed
    assert bed_after_collapse(wider_tooth, angle) < bed
    assert bed_after_collapse(notch, min(90, angle * times)) >= bed


@given(notches(), angles, st.floats(0.1, 10))
def test_the_bed_scales_with_the_trowel_whatever_the_unit(notch: Notch, angle: float, scale: float) -> None:
    scaled = Notch(notch.family, *(scale * s for s in (notch.width_mm, notch.depth_mm, notch.spacing_mm)))
    assert bed_after_collapse(scaled, angle) == pytest.approx(scale * bed_after_collapse(notch, angle))


@given(notches(), notches(), angles, st.floats(0, 3), st.floats(0, 3))
def test_mortar_adds_up_over_both_sides_skim_and_back_profile(
    base: Notch, back: Notch, angle: float, skim: float, profile: float
) -> None:
    total = ridge(base, angle).bed_mm + ridge(back, angle).bed_mm + skim
    volume = mortar_per_m2(base, angle, sides="both", back_notch=back, skim_mm=skim)
    assert volume == pytest.approx(total)
    assume(profile < total)
    bed = bed_after_collapse(base, angle, sides="both", back_notch=back, skim_mm=skim, back_profile_mm=profile)
    assert bed == pytest.approx(total - profile)


def test_a_back_profile_that_takes_all_the_mortar_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^ridges-profile-takes-all"):
        bed_after_collapse(Notch("V", 3, 3, 3), 45, back_profile_mm=2)


def test_crossed_ridges_are_refused_because_they_close_the_air_in() -> None:
    # Article on the combined method of DIN 18157-3:2017: crossed ridges leave clearly more voids than
    # parallel.
    with pytest.raises(OutOfRange, match=r"^ridges-crossed"):
        two_sided_combing(MODERATE_U, THIN_SET, direction="crossed")


@pytest.mark.parametrize("angle", [29.9, 0, 90.1, math.nan])
def test_an_angle_at_which_no_ridge_stands_is_refused(angle: float) -> None:
    with pytest.raises(OutOfRange, match=r"^ridges-trowel-angle-outside"):
        ridge(HALF_SQUARE, angle)


# Common practice, no published source, for the three claims below; limits from bulletin 18 (May 2020).


@pytest.mark.parametrize("notch", [HALF_SQUARE, HALF_SLANTED], ids=["half inch square", "large slanted"])
def test_two_sided_combing_with_a_large_notch_leaves_more_mortar_than_allowed(notch: Notch) -> None:
    assert two_sided_combing(notch, THIN_SET).verdict == "too thick"
    # Even in the mortar with the widest limit, once the back is keyed and the trowel stands upright.
    assert two_sided_combing(notch, HEAVY, 90, skim_mm=0.5).verdict == "too thick"


@pytest.mark.parametrize("notch", [MODERATE_U, RIDGE_COLLAPSE], ids=["moderate U", "ridge-collapse"])
def test_two_sided_combing_with_a_moderate_u_or_ridge_collapse_notch_works_and_nears_full_contact(
    notch: Notch,
) -> None:
    verdict = two_sided_combing(notch, THIN_SET)
    assert verdict.passed
    # Over a gap from the least bed to 2.5 mm more (tile 1 mm warped, base 1.5 mm off under it).
    gaps = [float(g) for g in np.linspace(THIN_SET.minimum_mm, THIN_SET.minimum_mm + 2.5, 51)]
    both = bed_after_collapse(notch, sides="both")
    assert greatest_contact(both, gaps) >= 95
    assert greatest_contact(bed_after_collapse(notch), gaps) < 95


def test_the_slide_is_an_inch_there_and_back_for_half_inch_square_and_half_one_way_for_leaning() -> None:
    square, curved = slide_distance(HALF_SQUARE), slide_distance(RIDGE_COLLAPSE)
    assert square.mm / IN == pytest.approx(1)
    assert not square.one_way
    assert square.mm == 2 * square.out_mm
    assert curved.mm / IN == pytest.approx(0.5)
    assert curved.one_way


@given(notches())
def test_no_stroke_is_under_the_notch_width_that_an_article_asks_for_nor_under_half_the_pitch(notch: Notch) -> None:
    # A trade article: at least one notch width, half an inch for a half-inch notch. Half the pitch: geometry.
    slide = slide_distance(notch)
    assert slide.out_mm == max(notch.width_mm, notch.pitch_mm / 2)
    assert slide.mm == slide.out_mm * (1 if notch.leans else 2)


def test_the_slide_of_a_notch_wider_than_its_tooth_is_the_width_that_its_own_note_asks_for() -> None:
    # 1/4 in V with a tooth of 1/16 in: half the pitch would be 4 mm, the article asks for 6.4 mm.
    slide = slide_distance(COMMON_NOTCHES["quarter inch V"])
    assert slide.out_mm == pytest.approx(IN / 4)
    assert "6.4 mm" in words(slide.instruction)
    assert "(6.4 mm)" in words(slide.note)


def test_the_narrow_toothed_slant_leaves_half_as_much_again_as_that_of_equal_teeth() -> None:
    # 1/2 x 1/2 in with a tooth of 5/32 in, one pass at 45 degrees: 6.8 mm against 4.5 mm, plane geometry;
    # both sizes are common practice, no published source.
    narrow, equal = COMMON_NOTCHES["half inch slanted, narrow tooth"], HALF_SLANTED
    assert bed_after_collapse(narrow) == pytest.approx(12.7**2 * math.sin(math.pi / 4) / (12.7 + 25.4 * 5 / 32))
    assert (round(bed_after_collapse(narrow), 1), round(bed_after_collapse(equal), 1)) == (6.8, 4.5)


def test_the_u_of_a_quarter_by_half_an_inch_is_a_rectangle_with_a_half_circle_for_its_end() -> None:
    # 1/4 in wide: 3/8 in of straight flank and a half circle of 1/8 in; common practice, no published source.
    u = COMMON_NOTCHES["quarter by half inch U"]
    assert notch_area(u) / IN**2 == pytest.approx(1 / 4 * 3 / 8 + math.pi / 128)
    assert u.pitch_mm / IN == pytest.approx(1 / 2)


def test_the_slide_names_its_basis_and_what_to_do_in_a_narrow_joint() -> None:
    slide = slide_distance(HALF_SQUARE)
    assert US(slide.instruction) == "Push 1/2 in across the ridges and 1/2 in back."
    assert "common practice" in words(slide.basis.told)
    assert "beside its place" in words(slide.note)


def test_half_inch_square_collapses_worst_then_u_then_leaning_ridges() -> None:
    # Common practice, no published source.
    u = COMMON_NOTCHES["half inch U"]
    assert collapse_effort(HALF_SQUARE) > collapse_effort(u) > collapse_effort(HALF_SLANTED)
    assert collapse_effort(HALF_SLANTED) > collapse_effort(RIDGE_COLLAPSE)


@given(notches(), st.floats(1.01, 3))
def test_the_taller_the_ridge_the_harder_it_collapses(notch: Notch, times: float) -> None:
    family = "rectangular" if notch.family == "square" else notch.family
    taller = Notch(family, notch.width_mm, notch.depth_mm * times, notch.spacing_mm)
    assert collapse_effort(taller) > collapse_effort(notch)


@given(st.floats(100, 3300), st.floats(100, 3300))
def test_ridges_along_the_short_side_give_the_shortest_way_out(one: float, other: float) -> None:
    # ANSI A108.5, as cited by an association reference manual (2024/25): one way, parallel to the short side.
    short, long = sorted((one, other))
    right, wrong = air_path(one, other, 0), air_path(one, other, 90)
    assert right.longest_mm == pytest.approx(short)
    assert right.times_longer == pytest.approx(1)
    assert wrong.longest_mm == pytest.approx(long)
    assert wrong.times_longer == pytest.approx(long / short)
    assert wrong.escape_mm == pytest.approx(long / 2)


@given(st.floats(100, 3300), st.floats(100, 3300), st.floats(0, 90))
def test_a_slanted_comb_has_the_longest_chord_of_the_tile_in_its_direction(
    one: float, other: float, angle: float
) -> None:
    short, long = sorted((one, other))
    # Independent recomputation: walk lines of that direction from points of two sides through the rectangle.
    dx, dy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    longest = 0.0
    starts = [(0.0, float(y)) for y in np.linspace(0, long, 201)]
    starts += [(float(x), 0.0) for x in np.linspace(0, short, 201)]
    for x, y in starts:
        across = (short - x) / dx if dx > 1e-12 else math.inf
        along = (long - y) / dy if dy > 1e-12 else math.inf
        longest = max(longest, min(across, along))
    assert air_path(one, other, angle).longest_mm == pytest.approx(longest, rel=1e-6)


def test_the_air_path_says_how_much_longer_the_wrong_way_is() -> None:
    assert "2 times" in words(air_path(1200, 2400, 90).advice)
    assert air_path(1200, 2400).advice.code == "ridges-air-right"
    assert air_path(600, 600, 90).advice.code == "ridges-air-right"


@given(notches(), angles, st.sampled_from(["one", "both"]), st.floats(0, 1), st.floats(0.4, 1.4))
def test_the_calibrated_filling_gives_back_the_bed_that_was_measured(
    notch: Notch, angle: float, sides: str, skim: float, filling: float
) -> None:
    bed = mortar_per_m2(notch, angle, filling, sides=sides, skim_mm=skim)  # type: ignore[arg-type]
    found = calibrated_filling(bed, notch, angle, sides=sides, skim_mm=skim)  # type: ignore[arg-type]
    assert found.factor == pytest.approx(filling)
    assert found.basis.standing is Provenance.CREW


def test_the_mass_balance_corrects_the_prediction() -> None:
    notch = Notch("square", 10, 10, 10)
    balance = mass_balance(8, 15, 36, mortar_per_m2(notch, 45))
    filling = calibrated_filling(balance.implied_bed_mm, notch, 45).factor
    assert filling < 1
    corrected = mass_balance(8, 15, 36, mortar_per_m2(notch, 45, filling))
    assert corrected.difference_mm == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("implied", [0.1, 20.0])
def test_a_filling_that_nobody_would_believe_is_refused(implied: float) -> None:
    with pytest.raises(OutOfRange, match=r"^ridges-filling-unbelievable"):
        calibrated_filling(implied, HALF_SQUARE)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("round", 6, 6, 6), "what-not-a-word"),
        (("square", 0, 6, 6), "what-not-above-zero"),
        (("square", 6, 6, math.inf), "what-not-above-zero"),
        (("square", 6, 9, 6), "ridges-not-square"),
        (("U", 12, 5, 6), "ridges-too-shallow-to-be-round"),
        (("square", 6, 6, 6, 20.0), "ridges-do-not-lean"),
        (("slanted", 6, 6, 6, 75.0), "ridges-lean-outside"),
    ],
)
def test_a_notch_that_cannot_be_is_refused_with_what_to_call_it(words: tuple[object, ...], says: str) -> None:
    with pytest.raises(Refused, match=rf"^{says}\b"):
        Notch(*words)  # type: ignore[arg-type]


def test_other_figures_that_cannot_be_are_refused() -> None:
    for call, says in (
        (lambda: notch_at_pitch("square", 6, 6, 6), "ridges-no-tooth"),
        (lambda: ridge(HALF_SQUARE, 45, 0), "ridges-filling-outside"),
        (lambda: outline(HALF_SQUARE, 3), "ridges-too-few-points"),
        (lambda: mortar_per_m2(HALF_SQUARE, skim_mm=-1), "what-below-zero"),
        (lambda: mortar_per_m2(HALF_SQUARE, back_notch=HALF_SQUARE), "ridges-back-notch-without-back"),
        (lambda: mortar_per_m2(HALF_SQUARE, sides="top"), "what-not-a-word"),  # type: ignore[arg-type]
        (lambda: bed_after_collapse(HALF_SQUARE, back_profile_mm=-1), "what-below-zero"),
        (lambda: air_path(0, 600), "what-not-above-zero"),
        (lambda: air_path(600, 600, 91), "what-outside"),
        (lambda: advise({}, THIN_SET), "ridges-no-notch"),
        (lambda: advise(COMMON_NOTCHES, THIN_SET, warpage_mm=-1), "what-below-zero"),
        (lambda: advise(COMMON_NOTCHES, THIN_SET, minimum_percent=0), "ridges-contact-outside"),
        (lambda: advise(COMMON_NOTCHES, THIN_SET, setting="hammer"), "what-not-a-word"),  # type: ignore[arg-type]
    ):
        with pytest.raises(Refused, match=rf"^{says}\b"):
            call()


@pytest.mark.parametrize(("edge", "depth"), [(50, 3), (50.1, 4), (108, 4), (108.1, 6), (200, 6), (200.1, 8), (600, 8)])
def test_the_old_notch_table_steps_at_its_edges(edge: float, depth: float) -> None:
    # DIN 18157-1:1979, from memory.
    assert notch_depth_for_edge(edge) == depth


def test_the_old_notch_table_is_not_stretched_to_large_tile() -> None:
    with pytest.raises(OutOfRange, match=r"^ridges-edge-over-table"):
        notch_depth_for_edge(1200)
    with pytest.raises(Refused, match=r"^what-not-above-zero"):
        notch_depth_for_edge(0)


def test_advice_ranks_what_works_first_and_gives_every_failure_its_reason() -> None:
    ranked = advise(COMMON_NOTCHES, THIN_SET, tile_mm=(1200, 600), warpage_mm=1.0, substrate_mm=1.5)
    assert len(ranked) == 2 * len(COMMON_NOTCHES)
    working = [advice.works for advice in ranked]
    assert working == sorted(working, reverse=True)
    found = {(advice.name, advice.sides): advice for advice in ranked}
    assert found["quarter inch square", "one"].reasons[0].code == "ridges-too-little-mortar"
    assert found["half inch square", "both"].reasons[0].code == "mortar-bed-too-thick"
    assert found["half inch square", "one"].reasons[0].code == "ridges-does-not-collapse"
    assert found["quarter by three eighths U", "both"].works
    assert found["half inch ridge-collapse", "both"].works
    assert all(advice.reasons for advice in ranked)
    assert ranked[0].air is not None
    assert ranked[0].air.longest_mm == 600


def test_of_two_that_fill_the_gap_the_easier_to_collapse_goes_before_the_one_with_less_mortar() -> None:
    # Common practice, no published source: leaning ridges give way first.
    choice = {"upright": Notch("U", 10, 10, 10), "leaning": Notch("slanted", 12, 12, 10)}
    easy, hard = (collapse_effort(choice[name]) for name in ("leaning", "upright"))
    ranked = [one for one in advise(choice, HEAVY, substrate_mm=0.5) if one.sides == "one"]
    assert easy < hard
    assert [one.works for one in ranked] == [True, True]
    assert [one.name for one in ranked] == ["leaning", "upright"]
    assert ranked[0].bed_mm > ranked[1].bed_mm


def test_vibration_lifts_the_limit_of_the_hand() -> None:
    by_hand = advise({"half": HALF_SQUARE}, HEAVY, substrate_mm=2.0)
    vibrated = advise({"half": HALF_SQUARE}, HEAVY, substrate_mm=2.0, setting="vibrated")
    assert not any(advice.works for advice in by_hand)
    assert any(advice.works for advice in vibrated)


def test_a_base_too_far_off_is_sent_back_to_be_flattened_and_not_filled_with_mortar() -> None:
    ranked = advise(COMMON_NOTCHES, THIN_SET, substrate_mm=5.0)
    assert not any(advice.works for advice in ranked)
    assert {advice.reasons[0].code for advice in ranked} == {"ridges-gap-over-limit"}


def test_a_bed_under_the_mortars_least_is_no_advice_even_where_little_contact_is_asked_for() -> None:
    found = advise(COMMON_NOTCHES, HEAVY, minimum_percent=30.0)
    thin = [one for one in found if one.bed_mm < HEAVY.minimum_mm]
    reached = [one for one in thin if one.greatest_contact_percent >= 30.0]
    assert reached, "there are beds that reach the contact and are too thin for the mortar"
    assert not any(one.works for one in thin)
    assert all("ridges-too-little-mortar" not in {reason.code for reason in one.reasons} for one in reached)


@given(
    notches(),
    st.floats(0, 3),
    st.floats(0, 3),
    st.floats(0, 1),
    st.sampled_from([80.0, 95.0, 100.0]),
    st.sampled_from([THIN_SET, HEAVY]),
)
def test_advice_agrees_with_contact_summed_over_the_gap_and_with_the_bed_limits(
    notch: Notch, warpage: float, substrate: float, profile: float, minimum: float, limits: BedLimits
) -> None:
    high = limits.minimum_mm + warpage + substrate
    middles = limits.minimum_mm + (high - limits.minimum_mm) * (np.arange(4000) + 0.5) / 4000
    for advice in advise(
        {"it": notch},
        limits,
        warpage_mm=warpage,
        substrate_mm=substrate,
        back_profile_mm=profile,
        minimum_percent=minimum,
        setting="vibrated",
    ):
        # Independent recomputation: a sum over narrow strips of the wedge.
        strips = 100 * float(np.minimum(1, advice.bed_mm / middles).mean())
        assert advice.greatest_contact_percent == pytest.approx(strips, abs=0.05)
        if abs(strips - minimum) > 0.05 and min(abs(advice.bed_mm - limits.maximum_mm), abs(high - 6.35)) > 1e-6:
            fits = limits.minimum_mm <= advice.bed_mm <= limits.maximum_mm and high <= limits.maximum_mm
            assert advice.works == (fits and strips >= minimum)


SIZES = {"quarter": 1 / 4, "three eighths": 3 / 8, "half inch": 1 / 2, "three quarter": 3 / 4}


@pytest.mark.parametrize("name", [name for name in COMMON_NOTCHES if any(size in name for size in SIZES)])
def test_a_common_notch_has_the_size_that_its_name_says(name: str) -> None:
    # Sizes met in the trade: common practice, no published source.
    notch = COMMON_NOTCHES[name]
    said = sorted((name.index(word), size) for word, size in SIZES.items() if word in name)
    sizes = [size for _, size in said]
    assert notch.width_mm / IN == pytest.approx(sizes[0])
    if notch.family not in ("ridge-collapse", "half-round"):
        assert notch.depth_mm / IN == pytest.approx(sizes[-1])
    tooth = {"quarter inch V": 1 / 16, "half inch slanted, narrow tooth": 5 / 32, "three quarter half-round": 3 / 8}
    assert notch.spacing_mm / IN == pytest.approx(tooth.get(name, sizes[0]))


@pytest.mark.parametrize(("name", "mm"), [("eight", 8), ("ten", 10), ("twelve", 12)])
def test_a_metric_notch_has_the_size_that_its_name_says_and_equal_teeth(name: str, mm: int) -> None:
    assert COMMON_NOTCHES[f"{name} millimeter square"] == Notch("square", mm, mm, mm)


def test_a_lean_is_measured_up_to_sixty_degrees() -> None:
    assert Notch("slanted", 6, 6, 6, 60).lean_deg == 60
    with pytest.raises(Refused, match=r"^ridges-lean-outside"):
        Notch("slanted", 6, 6, 6, 60.5)
