"""Lots: recomputable from the seed, as seldom as the rule says, never further apart than the cap, honestly bounded."""

from __future__ import annotations

import hashlib
import hmac
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from fieldassist.checklist import lots
from fieldassist.checklist.loader import WrongFile, load_checklist
from fieldassist.checklist.lots import LotRule, LotsGiven
from fieldassist.trade.coverage import Product
from tests import simulate_lots

SEEDS = st.binary(min_size=32, max_size=32).map(bytes.hex)
GIVEN = TypeAdapter(LotsGiven)


def test_hmac_and_hash_are_those_of_the_published_standards() -> None:
    # RFC 4231 (2005), test case 6's method with case 1's data: key of 20 bytes 0b, "Hi There" (from memory).
    digest = hmac.digest(b"\x0b" * 20, b"Hi There", "sha256").hex()
    assert digest == "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"
    # FIPS 180-4, the example of one block: "abc" (from memory).
    assert hashlib.sha256(b"abc").hexdigest() == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


@given(SEEDS, st.integers(1, 5000), st.integers(1, lots.RAREST))
def test_anybody_can_recompute_a_lot_from_the_seed(seed: str, setting: int, one_in: int) -> None:
    digest = hmac.new(bytes.fromhex(seed), f"{setting}".encode(), hashlib.sha256).digest()
    fraction = Fraction(int.from_bytes(digest[:8], "big"), 2**64)
    assert lots.falls(seed, setting, one_in) is (fraction < Fraction(1, one_in))


@given(SEEDS)
def test_the_commitment_is_the_hash_of_the_seeds_bytes(seed: str) -> None:
    assert lots.commitment(seed) == hashlib.sha256(bytes.fromhex(seed)).hexdigest()


@given(SEEDS, st.integers(1, 400), st.integers(1, lots.RAREST), st.integers(0, 30))
def test_a_lift_is_forced_only_at_the_cap_and_then_whatever_the_seed_says(
    seed: str, setting: int, one_in: int, unlifted: int
) -> None:
    lot = lots.draw(seed, setting, one_in, unlifted)
    assert lot.forced is (unlifted >= 2 * one_in - 1)
    assert lot.fell is lots.falls(seed, setting, one_in)
    assert lot.lifts is (lot.fell or lot.forced)


@pytest.mark.parametrize("one_in", [2, 3, 4, 5, 6])
def test_one_tile_in_n_is_drawn(one_in: int) -> None:
    seed = Random(one_in).randbytes(32).hex()
    fell = sum(lots.falls(seed, setting, one_in) for setting in range(1, 10_001))
    expected = 10_000 / one_in
    assert abs(fell - expected) < 4 * (expected * (1 - 1 / one_in)) ** 0.5  # four standard deviations


# Ours, by simulation: 4 m2 divided by the tile's face, 2 to 6; panels 4. No published source.
@pytest.mark.parametrize(
    ("face_m2", "product", "rule", "columns", "n"),
    [
        (0.72, "tile", None, None, 6),
        (0.9, "tile", None, None, 4),
        (1.44, "natural stone", None, None, 3),
        (0.09, "tile", None, None, 6),
        (3.9, "tile", None, None, 2),
        (3.24, "gauged panel", None, None, 4),
        (3.24, "gauged panel", "4 m2", None, 2),
        (0.72, "tile", "2 m2", None, 3),
        (0.72, "tile", "5 tiles", None, 5),
        (0.72, "tile", "1 tile", None, 1),
        (0.72, "tile", "2 rows", 4, 8),
        (0.72, "tile", "3 rows", 9, 12),
        (0.72, "tile", "2 rows", None, 6),
    ],
)
def test_how_often_a_lot_falls_follows_the_face_the_product_and_the_rule(
    face_m2: float, product: Product, rule: str | None, columns: int | None, n: int
) -> None:
    assert lots.one_in(face_m2, product, lots.read_rule(rule) if rule else None, columns) == n


@given(st.floats(0.01, 12), st.sampled_from(["tile", "natural stone"]))
def test_by_area_a_lot_falls_for_one_tile_in_two_to_six(face_m2: float, product: Product) -> None:
    assert 2 <= lots.one_in(face_m2, product) <= 6


@pytest.mark.parametrize("written", ["6 tiles", "2 rows", "4 m2", "2.5 m2"])
def test_a_rule_is_read_back_as_it_was_written(written: str) -> None:
    rule = GIVEN.validate_python(written)
    assert GIVEN.dump_python(rule) == written
    assert GIVEN.validate_python(GIVEN.dump_python(rule)) == rule


def test_a_rule_in_square_feet_is_kept_in_square_metres() -> None:
    assert lots.read_rule("43 sq ft") == LotRule(Fraction("3.994831"), "m2")


@pytest.mark.parametrize("written", ["", "six", "0 tiles", "13 tiles", "2.5 tiles", "4 mm", "0 m2", 6, None])
def test_what_is_no_rule_is_refused(written: object) -> None:
    with pytest.raises((ValidationError, ValueError)):
        GIVEN.validate_python(written)


# --- what the lots prove, in simulated worlds; targets of the same worlds counted in full by `tests.simulate_lots`


@pytest.fixture(scope="module")
def worlds() -> list[tuple[str, float, int]]:
    return list(simulate_lots.bound_errors(40))


def test_the_bound_on_what_was_drawn_claims_too_much_in_no_more_than_one_case_of_twenty(
    worlds: list[tuple[str, float, int]],
) -> None:
    assert sum(wrong for _, wrong, _ in worlds) / len(worlds) <= 0.05
    # Of 40 runs five are 12.5 %: with a true rate of 5 % as many or more come in one world of twenty.
    assert max(wrong for _, wrong, _ in worlds) <= 0.125


def test_the_bound_is_tight_enough_that_a_world_can_break_it(worlds: list[tuple[str, float, int]]) -> None:
    assert any(wrong > 0 for _, wrong, _ in worlds)


def test_no_row_that_nobody_looked_under_is_longer_than_the_cap(worlds: list[tuple[str, float, int]]) -> None:
    assert max(over for _, _, over in worlds) == 0


@pytest.mark.parametrize(("one_in", "left", "planned"), [(4, 0.28, 30), (6, 0.40, 20)])
def test_lifting_outward_to_two_good_in_a_row_leaves_few_bad_tiles_covered(
    one_in: int, left: float, planned: float
) -> None:
    got = simulate_lots.follow(Random(f"follow {one_in}"), one_in, 6, 600)
    assert got.left <= left
    assert got.planned <= planned
    assert got.lifted < 2 * got.planned


# --- in a checklist ---------------------------------------------------------------------------------------------------

EVERY_KIND = (Path(__file__).parent / "every-kind.yaml").read_text(encoding="utf-8")
KNOWN_PLACES = "first: true, every: 1 m2, changes: [batch, method, setter]"


def with_due(tmp_path: Path, due: str, old: str = KNOWN_PLACES) -> Path:
    assert old in EVERY_KIND
    path = tmp_path / "mine.yaml"
    path.write_text(EVERY_KIND.replace(old, due, 1), encoding="utf-8")
    return path


def test_a_checklist_says_how_often_a_lot_falls(tmp_path: Path) -> None:
    section = load_checklist(with_due(tmp_path, "lots: 6 tiles")).section("lifting")
    assert section is not None
    assert section.due is not None
    assert section.due.lots == LotRule(Fraction(6), "tiles")


@pytest.mark.parametrize(
    ("due", "code"),
    [
        ("lots: 4 m2, every: 1 m2", "lots-mixed"),
        ("lots: 4 m2, changes: [batch]", "lots-mixed"),
        ("lots: 4 m2, always: true", "lots-mixed"),
        ("lots: 4 mm", "lots-unfit"),
        ("lots: 0 rows", "lots-unfit"),
    ],
)
def test_lots_that_cannot_be_are_refused(tmp_path: Path, due: str, code: str) -> None:
    with pytest.raises(WrongFile) as caught:
        load_checklist(with_due(tmp_path, due))
    assert [problem.code for problem in caught.value.problems] == [code]


def test_lots_belong_to_a_section_that_lifts(tmp_path: Path) -> None:
    with pytest.raises(WrongFile) as caught:
        load_checklist(with_due(tmp_path, "after: tile, lots: 4 m2, basis", "after: tile, always: true, basis"))
    assert [problem.code for problem in caught.value.problems] == ["lots-without-lift"]
