"""What is assumed where nobody said or measured it: one table, so that nobody assumes something else elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

from fieldassist.checklist.methods import KEYED_SKIM_MM
from fieldassist.trade import lifting, mortar, times
from fieldassist.trade.basis import BASES, PRACTICE, Basis
from fieldassist.trade.message import Message, message
from fieldassist.trade.quantities import Quantity

__all__ = ["ASSUMPTIONS", "Assumption", "assumed"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """A figure or choice that nobody gave.

    name: of the table; value: a quantity, or a choice by its code, None where a rule gives it for each piece; basis:
    why this one.
    """

    name: str
    value: Quantity | str | None
    basis: Basis

    @property
    def told(self) -> Message:
        """What is assumed and why, for whoever reads or hears it."""
        return message(f"assess-assumed-{self.name}", value="" if self.value is None else self.value)


def _number(value: float, unit: str) -> Quantity:
    return Quantity(Fraction(str(value)), unit)


_OURS, _LIMITATIONS, _P_8 = BASES["assumed"], BASES["lifting-limitations"], BASES["lifting-reach"]

_TABLE = (
    # Handling. A wall's piece is picked up where crates are opened and packs are put down, and is set at the highest
    # row that one still reaches from the floor; a floor's piece is taken off a stack at the height at which the
    # equation's height factor is best and goes down to the floor.
    Assumption("wall-from", _number(0, "mm"), _OURS),
    Assumption("wall-to", _number(1400, "mm"), BASES["assumed-shoulder"]),
    Assumption("floor-from", _number(750, "mm"), _OURS),
    Assumption("floor-to", _number(0, "mm"), _OURS),
    Assumption("reach", None, _P_8),
    Assumption("end-reach", None, _P_8),
    # What the equation cannot do without; where it is not so, there is no figure (`lifting.NOT_COVERED`).
    Assumption("standing", None, _LIMITATIONS),
    Assumption("framed", None, _LIMITATIONS),
    Assumption("turn", _number(0, "count"), _OURS),
    # The least frequency that the equation knows; a piece in five minutes is the pace of large pieces.
    Assumption("pace", _number(0.2, "count"), BASES["assumed-least-pace"]),
    # Pieces are lifted all through a shift, and no recovery by light work is planned between them.
    Assumption("duration", "long", BASES["assumed-long-work"]),
    Assumption("grip", "poor", BASES["lifting-grips"]),
    Assumption(
        "single-limit",
        _number(lifting.HSE_FILTER_KG, "kg"),
        lifting.handling_filter().basis,
    ),
    # Method.
    Assumption("warpage", _number(0, "mm"), _OURS),
    Assumption("base", _number(0, "mm"), _OURS),
    Assumption("skim", _number(KEYED_SKIM_MM, "mm"), _OURS),
    Assumption("vibrated", "vibrated", BASES["assumed-vibrator"]),
    # Mortar.
    Assumption("waste", _number(mortar.WASTE_PERCENT, "percent"), PRACTICE),
    # The longer end of what is usual leaves less of the pot life.
    Assumption("slake", _number(times.slake().greatest_min, "min"), times.slake().basis),
    # Dust.
    Assumption("dust-place", "indoors", BASES["assumed-indoors"]),
    Assumption("dust-held", None, _OURS),
    Assumption("dust-clean-air", None, BASES["dust-average"]),
)

ASSUMPTIONS: Mapping[str, Assumption] = MappingProxyType({one.name: one for one in _TABLE})


def assumed(name: str, value: Quantity | None = None) -> Assumption:
    """An assumption of the table; value: what its rule gives for the piece at hand.

    >>> assumed("waste").value
    Quantity(value=Fraction(10, 1), unit='percent')
    """
    found = ASSUMPTIONS[name]
    return found if value is None else replace(found, value=value)
