"""The order of a trial's samples: fair, drawn again by anybody, and never by who runs the trial."""

from __future__ import annotations

import hashlib
from collections import Counter
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest

from fieldassist.trial import order
from fieldassist.trial.order import batches_of, draw_order, order_quality

LETTERS = "ABCDEFGHJKLM"


def head(number: int) -> str:
    return hashlib.sha256(b"%d" % number).hexdigest()


def worst_pair(drawn: tuple[str, ...], batches: tuple[int, ...]) -> float:
    """By plain least squares: y = combination + batch + age, over the variance without batch and age."""
    letters = sorted(set(drawn))
    columns = [[float(letter == one) for one in drawn] for letter in letters]
    columns += [[float(batch == one) for one in batches] for batch in sorted(set(batches))[1:]]
    columns.append([float(batches[:at].count(batch)) for at, batch in enumerate(batches)])
    design = np.array(columns).T
    covariance = np.linalg.pinv(design.T @ design)
    ideal = 2 * len(letters) / len(drawn)
    pairs = combinations(range(len(letters)), 2)
    return float(max((covariance[i, i] + covariance[j, j] - 2 * covariance[i, j]) / ideal for i, j in pairs))


def test_an_order_is_the_same_for_the_same_head_on_every_machine() -> None:
    # Pinned: a verifier has to come to these in ten years too.
    assert "".join(draw_order("ABCD", 3, 6, "0" * 64)) == "DBACBDCABDCA"
    assert "".join(draw_order(LETTERS[:7], 2, 5, head(1))) == "BCEGADFECBAGFD"
    assert "".join(draw_order("ABCDEF", 2, 4, head(2), dict.fromkeys("DEF", "white"))) == "ABCFDEEDFCBA"


def test_the_numbers_are_sha256_in_counter_mode() -> None:
    numbers = next(iter(order._draws(b"seed", 1)))
    first = hashlib.sha256(b"fieldassist order 1seed" + bytes(8)).digest()
    again = hashlib.sha256(b"fieldassist order 1seed" + bytes(7) + b"\1").digest()
    words = [int.from_bytes(block[at : at + 4], "big") for block in (first, again) for at in range(0, 32, 4)]
    assert [next(numbers) for _ in words] == words


def test_a_number_that_would_favour_the_low_ones_is_thrown_away() -> None:
    # 2**32 is 1 more than a multiple of 3 and 5: its last number would make 0 likelier.
    for most in (3, 5):
        assert order._below(most, iter([2**32 - 1, 2**32 - 2])) == (2**32 - 2) % most


def test_all_orders_of_a_block_are_alike_likely() -> None:
    drawn = Counter(draw_order("ABC", 1, 8, head(number)) for number in range(120))
    assert len(drawn) == 6
    # Chi-square with 5 degrees of freedom: above 20.5 in one case of a thousand.
    assert sum((count - 20) ** 2 / 20 for count in drawn.values()) < 20.5


@pytest.mark.parametrize(
    ("many", "repeats", "a_batch", "most"),
    # 11 and 12 in batches of 6 are two batches a block: the pairs that never meet there cost a little more.
    [
        (4, 3, 6, 1.25),
        (5, 3, 7, 1.25),
        (6, 4, 10, 1.25),
        (8, 3, 8, 1.25),
        (9, 3, 6, 1.25),
        (12, 3, 12, 1.25),
        (12, 3, 6, 1.29),
    ],
)
def test_the_worst_pair_costs_at_most_a_quarter_more_than_without_batch_and_age(
    many: int, repeats: int, a_batch: int, most: float
) -> None:
    drawn = draw_order(LETTERS[:many], repeats, a_batch, head(many))
    blocks = [drawn[at : at + many] for at in range(0, len(drawn), many)]
    assert [sorted(block) for block in blocks] == [sorted(LETTERS[:many])] * repeats
    quality = order_quality(drawn, a_batch)
    assert quality == pytest.approx(worst_pair(drawn, batches_of(drawn, a_batch)))
    assert 1 - 1e-9 <= quality <= most


def test_method_after_method_costs_far_more_than_the_order_that_is_drawn() -> None:
    after = tuple(letter for letter in "ABCDEF" for _ in range(3))
    assert order_quality(after, 6) == float("inf")
    assert order_quality(after, 9) > 5
    assert order_quality(draw_order("ABCDEF", 3, 9, head(3)), 9) < 1.25


def test_where_no_pair_can_be_told_apart_the_first_draw_is_the_order() -> None:
    drawn = draw_order("ABCDE", 1, 3, head(4))
    assert sorted(drawn) == list("ABCDE")
    assert order_quality(drawn, 3) == float("inf")


def test_an_exchange_is_taken_only_where_it_helps_and_within_its_block() -> None:
    plain = tuple("ABCDABCDDCBA")
    better = order._exchanged(plain, 4, 6, {})
    assert order_quality(better, 6) < order_quality(plain, 6)
    assert [sorted(better[at : at + 4]) for at in (0, 4, 8)] == [list("ABCD")] * 3


def test_floats_that_cannot_say_which_order_is_better_leave_it_to_fractions() -> None:
    one, mirrored = (order._judged(tuple(drawn), 4, {}) for drawn in ("ABCDBADC", "CDABDCBA"))
    assert isinstance(one.exactly(), Fraction)
    assert one.exactly() == mirrored.exactly()
    assert not one.better_than(mirrored)
    assert not mirrored.better_than(one)
    assert one.roughly() == pytest.approx(float(one.exactly()), rel=1e-6)


def test_batches_are_as_few_as_they_can_be_and_of_one_size() -> None:
    assert batches_of("ABCDEFG", 3) == (1, 1, 1, 2, 2, 3, 3)
    assert Counter(batches_of("A" * 36, 7)) == dict.fromkeys(range(1, 7), 6)
    assert batches_of("AB", 60) == (1, 1)


def test_two_mortars_never_share_a_batch_and_change_as_seldom_as_blocks_allow() -> None:
    mortar_of = {"A": "grey", "B": "grey", "C": "grey", "D": "white", "E": "white", "F": "white"}
    drawn = draw_order("ABCDEF", 3, 6, head(5), mortar_of)
    batches = batches_of(drawn, 6, mortar_of)
    assert all(len({mortar_of[x] for x, y in zip(drawn, batches, strict=True) if y == batch}) == 1 for batch in batches)
    assert len(set(batches)) == 4
    assert [sorted(drawn[at : at + 6]) for at in (0, 6, 12)] == [list("ABCDEF")] * 3
    assert order_quality(drawn, 6, mortar_of) < 1.25


def test_one_combination_alone_has_nobody_to_be_told_apart_from() -> None:
    assert draw_order("A", 3, 8, head(6)) == ("A", "A", "A")
    assert order_quality(("A", "A", "A"), 8) == 1.0
