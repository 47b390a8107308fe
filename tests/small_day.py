"""A day of a few kilobytes, by command or event by event: for tests that look at every byte."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.engine import Decision, decide
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.checklist.schema import Checklist
from fieldassist.record.keys import SigningKey
from fieldassist.record.log import DayLog
from fieldassist.record.seal import make_seal

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


CHECKLIST: dict[str, Any] = {
    "checklist": "dry-floor",
    "edition": 1,
    "title": "Dry floor for tests",
    "place": "dry",
    "surface": "floor",
    "products": ["tile"],
    "sections": [
        {
            "id": "base",
            "title": "Base",
            "when": "start",
            "steps": [{"id": "clean", "ask": "Base clean?", "say": ["base clean"]}],
        }
    ],
}


def _minute(log: DayLog) -> Moment:
    seq = len(log.events) + 1
    return Moment(wall=f"2026-03-17T07:{seq % 60:02}:00+01:00", mono=60.0 * seq, boot="b")


def kept(log: DayLog, *bodies: Any, by: str = "edwin") -> None:
    """Append these facts, a minute apart."""
    for body in bodies:
        seq = len(log.events) + 1
        log.append([Event(seq=seq, id=f"e{seq}", at=_minute(log), by=by, source=TYPED, body=body)])


def begun(log: DayLog, **plan: Any) -> None:
    """Begin the day. plan: what is other than in `PLAN`."""
    planned = DayPlan.model_validate(PLAN | plan)
    asked(log, cmd.OpenDay(plan=planned, checklists=(Checklist.model_validate(CHECKLIST),)))


def asked(log: DayLog, *commands: cmd.Command) -> None:
    """Carry out these commands, each a minute or more after the one before."""
    for command in commands:
        came = decide(fold(log.events), command, _minute(log), f"e{len(log.events) + 1}")
        assert isinstance(came, Decision), came
        log.append(came.events)


def seal(log: DayLog, key: SigningKey = EDWIN) -> None:
    """Sign the day, or the addendum that is open, whatever is open, and seal it with this key."""
    speaker = fold(log.events).speaker
    if speaker is None or speaker.name != key.name:
        asked(log, cmd.SpeakAs(name=key.name))
    asked(log, cmd.SignDay(accept_open=True))
    kept(log, make_seal(log.events, log.hashes, key), by=key.name)
