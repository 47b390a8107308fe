"""The contact that a setting requires, and how an area stands by its test tiles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from fieldassist.checklist.schema import Checklist
from fieldassist.trade import coverage
from fieldassist.trade.verdict import Outcome

__all__ = ["area_contact", "required_contact"]


def required_contact(
    product: coverage.Product, checklist: Checklist, asked: Iterable[float] = ()
) -> coverage.Requirement | None:
    """What the setting requires; a stricter figure that the checklist asked of its test tiles goes before it.

    Parameters: product; checklist; asked, the contact that was asked of each test tile [percent].
    Result: None where the checklist lifts no test tile.
    """
    if not any(section.lift for section in checklist.sections):
        return None
    need = coverage.required_contact(product, checklist.place, checklist.surface)
    wanted = checklist.finish.lifts_at_least
    return replace(
        need,
        minimum_percent=max([need.minimum_percent, *asked]),
        least_lifts=wanted if isinstance(wanted, int) else need.least_lifts,
    )


def area_contact(
    lifts: Iterable[tuple[int, float, Outcome]], requirement: coverage.Requirement | None
) -> coverage.AreaVerdict | None:
    """The area by the test tiles that stand: a tile that was reset counts with its last lift.

    Parameters: lifts, in order: tile, contact [percent], outcome. Result: None without a requirement.
    """
    if requirement is None:
        return None
    last = {tile: (contact, outcome) for tile, contact, outcome in lifts}
    return coverage.area_verdict(list(last.values()), requirement)
