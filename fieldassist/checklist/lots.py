"""Which tiles are lifted by lot: drawn from a hidden seed after each setting, so that nobody knew beforehand and
anybody can check afterwards.

A seed of 32 random bytes belongs to one day on one tablet. Its SHA-256 stands in the record before the first tile; the
seed itself is shown at sign-off. The lot of the k-th setting of the day falls where the first eight bytes of
HMAC-SHA256(seed, k in ASCII digits), read as a fraction of 2^64, lie under 1/N (FIPS 198-1 for HMAC, FIPS 180-4 for
SHA-256). Whoever was not looked under for 2N - 1 settings of a run is lifted by force next: such a lift is known
beforehand and proves nothing.

How often a lot falls (4 m2, 2 to 6, a panel in four) and the cap are ours, chosen by simulation; no standard gives an
interval (ANSI A108.5 asks for tiles to be lifted "periodically").
"""

from __future__ import annotations

import hashlib
import hmac
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Literal, TypeAlias

from pydantic import BeforeValidator, PlainSerializer

from fieldassist.checklist.faults import refused
from fieldassist.checklist.fields import write_number
from fieldassist.trade.coverage import Product
from fieldassist.trade.quantities import canonical as canonical_value
from fieldassist.trade.quantities import dimension_of, parse_quantity

SEED_BYTES = 32
# By area, from the most to the least often; a panel's lift costs more than a tile's, so it has a number of its own.
SHARE_M2 = 4.0
MOST_OFTEN, LEAST_OFTEN, PANELS = 2, 6, 4
# What a foreman or a checklist may choose: beyond one in twelve, most bad tiles stay covered.
RAREST = 12

LotUnit = Literal["tiles", "m2", "rows"]
_RULE = re.compile(r"^\s*(?P<value>[^\sa-z]+)\s*(?P<unit>tiles?|pieces?|panels?|rows?)\s*$")


@dataclass(frozen=True, slots=True)
class LotRule:
    """How often a lot falls: one in so many tiles, in so many square metres or in so many rows of the grid."""

    value: Fraction
    unit: LotUnit

    def __str__(self) -> str:
        return f"{write_number(self.value)} {self.unit}"


def read_rule(given: object) -> LotRule:
    """A rule as a file has it: "6 tiles", "4 m2", "2 rows". A fault where it is none."""
    if isinstance(given, LotRule):
        return given
    if not isinstance(given, str):
        raise refused("lots-unfit", given=str(given))
    counted = _RULE.match(given)
    if counted is None:
        quantity = parse_quantity(given)
        if dimension_of(quantity.unit) != "area" or quantity.value <= 0:
            raise refused("lots-unfit", given=given)
        return LotRule(Fraction(str(round(canonical_value(float(quantity.value), quantity.unit), 6))), "m2")
    value = counted["value"]
    if not value.isdigit() or not 1 <= int(value) <= RAREST:
        raise refused("lots-unfit", given=given)
    return LotRule(Fraction(int(value)), "rows" if counted["unit"].startswith("row") else "tiles")


LotsGiven = Annotated[LotRule, BeforeValidator(read_rule), PlainSerializer(str, return_type=str)]


@dataclass(frozen=True, slots=True)
class Lot:
    """The lot of one setting.

    setting: k, its number among the settings of the day on this tablet; one_in: N; fell: by the seed; forced: the run
    had gone 2N - 1 settings without a lift, so that this one was known beforehand, whatever the seed says.
    """

    setting: int
    one_in: int
    fell: bool
    forced: bool

    @property
    def lifts(self) -> bool:
        """Whether the tile is to be lifted."""
        return self.fell or self.forced


def one_in(face_m2: float, product: Product, rule: LotRule | None = None, columns: int | None = None) -> int:
    """N: one tile in so many is lifted, on average.

    N is the whole number nearest to 4 m2 divided by the face of one tile, from 2 to 6, and 4 for gauged panels; a rule
    of the checklist or the foreman stands before that, square metres again from 2 to 6.

    Parameters: face_m2 [m2]; product; rule; columns of the grid, without which a rule in rows counts as none.
    Result: N, from 1 to 12.

    >>> one_in(0.72, "tile"), one_in(3.24, "gauged panel"), one_in(0.36, "tile", LotRule(Fraction(2), "m2"))
    (6, 4, 6)
    """
    if rule is not None and rule.unit == "tiles":
        return int(rule.value)
    if rule is not None and rule.unit == "rows" and columns is not None:
        return min(RAREST, int(rule.value) * columns)
    if rule is not None and rule.unit == "m2":
        return _by_area(float(rule.value), face_m2)
    return PANELS if product == "gauged panel" else _by_area(SHARE_M2, face_m2)


def _by_area(share_m2: float, face_m2: float) -> int:
    return min(LEAST_OFTEN, max(MOST_OFTEN, int(share_m2 / face_m2 + 0.5)))


def cap(one_in: int) -> int:
    """The longest row of settings in a run that the lots leave unlifted: 2N - 1."""
    return 2 * one_in - 1


def commitment(seed: str) -> str:
    """What stands in the record before the first tile: SHA-256 of the seed's bytes, both in hexadecimal.

    >>> commitment("00" * 32)[:16]
    '66687aadf862bd77'
    """
    return hashlib.sha256(bytes.fromhex(seed)).hexdigest()


def falls(seed: str, setting: int, one_in: int) -> bool:
    """Whether the lot of the k-th setting of the day falls: HMAC-SHA256(seed, k), as a fraction, under 1/N.

    Parameters: seed, hexadecimal; setting, k, from 1; one_in, N.
    """
    digest = hmac.digest(bytes.fromhex(seed), str(setting).encode("ascii"), "sha256")
    return int.from_bytes(digest[:8], "big") * one_in < 1 << 64


@dataclass(frozen=True, slots=True)
class AsRecorded:
    """The lots of a seed that a record does not show, as they stand in it: by setting, whether each fell. A setting
    that stands nowhere has no lot."""

    commitment: str
    fell: Mapping[int, bool]


# Where lots come from: a seed in hexadecimal, or a record that is decided again.
Lottery: TypeAlias = str | AsRecorded


def of_commitment(lottery: Lottery | None, committed: str) -> bool:
    """Whether lots are drawn from the seed that was committed."""
    if isinstance(lottery, AsRecorded):
        return lottery.commitment == committed
    return lottery is not None and commitment(lottery) == committed


def draw(lottery: Lottery, setting: int, one_in: int, unlifted: int) -> Lot | None:
    """The lot of a setting, None where a record has none. unlifted: how many settings of its run came before it since
    the last that is lifted."""
    fell = lottery.fell.get(setting) if isinstance(lottery, AsRecorded) else falls(lottery, setting, one_in)
    return None if fell is None else Lot(setting, one_in, fell, unlifted >= cap(one_in))
