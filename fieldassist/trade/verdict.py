"""The three answers that a judgement may give."""

from __future__ import annotations

from typing import Literal

__all__ = ["Outcome", "outcome_of"]

Outcome = Literal["passed", "failed", "not complete"]


def outcome_of(*, failed: bool, complete: bool) -> Outcome:
    """The answer: what failed has failed however much is unread; without a failure a gap leaves it open.

    >>> outcome_of(failed=False, complete=False), outcome_of(failed=True, complete=False)
    ('not complete', 'failed')
    """
    if failed:
        return "failed"
    return "passed" if complete else "not complete"
