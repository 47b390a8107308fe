"""kill -9 at random moments takes nothing that was acknowledged and leaves nothing half written."""

from __future__ import annotations

from pathlib import Path
from random import Random

from fieldassist.record.lines import lines_of
from tests.bench.kills import LONGEST_S, Acknowledged, begin, faults, killed


def test_thirty_kills_take_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    random = Random(11)
    acknowledged: list[Acknowledged] = []
    patience = 1.0
    for day in (tmp_path / "one.db", tmp_path / "two.db"):
        begin(day)
        for kill in range(15):
            said = killed(day, kill, random.uniform(0, LONGEST_S) * patience)
            assert not faults(day, said), f"kill {kill} of {day.name}"
            acknowledged += said
            # A machine that is busy with something else gets no further in the same time.
            patience = 1.0 if said else min(2.0 * patience, 32.0)
    assert {"event", "photo"} <= {one.what for one in acknowledged}


def test_a_fault_would_be_found(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    begin(day)
    said = killed(day, 1, 1.0)
    photos = [one for one in said if one.what == "photo"]
    [*_, event] = [one for one in said if one.what == "event"]
    assert photos
    assert not faults(day, said)
    whole = (day.with_suffix(".attached") / photos[0].name).read_bytes()
    (day.with_suffix(".attached") / photos[0].name).write_bytes(whole[:-1])
    day.with_suffix(".pdf").write_bytes(b"%PDF-1.7\nhalf of it")
    day.with_suffix(".bundle").write_bytes(b"PK\3\4half of it")
    lines_of(day).write_bytes(b"")
    found = faults(day, [*said, event._replace(name=str(int(event.name) + 10_000))])
    events = sum(one.what == "event" for one in said) + 1
    assert len(found) == 5 + events, found
