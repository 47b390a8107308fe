"""How figures of facts are rounded: finely enough that nothing is decided by it, coarsely enough to be read."""

from __future__ import annotations

from fieldassist.checklist.fields import canonical
from fieldassist.trade.quantities import Quantity


def rounded(given: Quantity) -> float:
    """A figure in its canonical unit, to six decimals."""
    return round(canonical(given), 6)


def rounded_if_known(given: Quantity | None) -> float | None:
    """The same; None where it is not known."""
    return None if given is None else rounded(given)
