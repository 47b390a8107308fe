"""The facts of signatures by PIN below the seals: whose they are, and whether each is good."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldassist.checklist.events import Event
from fieldassist.facts import model
from fieldassist.facts.telling import Tell
from fieldassist.record.seal import check_releases


def pin_facts(events: Sequence[Event], hashes: Sequence[str], told: Tell) -> Iterator[model.PinFact]:
    """Each release by PIN and each confirmation of releases, in order."""
    for check in check_releases(events, hashes):
        yield model.PinFact(
            event=check.seq,
            name=check.name,
            role=check.role.value,
            key=check.fingerprint,
            confirms=list(check.confirms),
            good=check.good,
            why=None if check.why is None else told(check.why),
            warning=None if check.warning is None else told(check.warning),
        )
