"""A day of a few kilobytes, written event by event: for tests that look at every byte."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from fieldassist.checklist.events import Event
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.plan import Role
from fieldassist.record.keys import SigningKey
from fieldassist.record.log import DayLog

EDWIN = SigningKey("edwin", Role.FOREMAN, b"\x01" * 32)
# The same key with a certificate, by which it signs pages too.
EDWIN_SIGNS = EDWIN.with_certificate(datetime(2026, 3, 1, tzinfo=UTC))
PLAN: dict[str, Any] = {
    "site": "Quillhaven Baths",
    "date": "2026-03-17",
    "crew": [{"name": "edwin", "role": "foreman"}],
    "areas": [
        {
            "name": "hall floor",
            "checklist": "dry-floor",
            "where": "hall",
            "size": "18 m2",
            "piece": {"product": "tile", "length": "900 mm", "width": "900 mm", "thickness": "9 mm"},
            "mortar": {"name": "Sample", "kind": "thin-set", "pot_life": "90 min", "open_time": "20 min"},
            "method": {"family": "square", "width": "1/2 in", "depth": "1/2 in", "spacing": "1/2 in"},
        }
    ],
}


def kept(log: DayLog, *bodies: Any) -> None:
    """Append these facts, a minute apart."""
    for body in bodies:
        seq = len(log.events) + 1
        at = Moment(wall=f"2026-03-17T07:{seq % 60:02}:00+01:00", mono=60.0 * seq, boot="b")
        log.append([Event(seq=seq, id=f"e{seq}", at=at, by="edwin", source=TYPED, body=body)])
