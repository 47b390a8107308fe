"""A countersignature is about one head, and a record without that head is another one."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import rfc8785

from fieldassist.checklist import events as ev
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.record.keys import KeyRole, Office, SigningKey
from fieldassist.record.log import DayLog
from fieldassist.record.receipt import (
    Receipt,
    ReceiptProblem,
    SealedHead,
    make_receipt,
    read_receipt,
    sealed_head,
    why_of_another_record,
)
from fieldassist.record.seal import make_seal
from tests.small_day import EDWIN, PLAN, kept

EVENING = datetime.fromisoformat("2026-03-17T16:30:00+01:00")
INES = SigningKey("ines", Office.INSPECTOR, b"\x07" * 32)


def sealed_log(path: Path, *, note: str = "north corner reset") -> DayLog:
    log = DayLog.create(path)
    kept(log, ev.DayOpened(plan=DayPlan.model_validate(PLAN)), ev.NoteMade(text=note))
    kept(log, ev.DaySigned(name="edwin", role=Role.FOREMAN))
    kept(log, make_seal(log.events, log.hashes, EDWIN))
    return log


def receipt_of(log: DayLog, key: SigningKey = INES) -> Receipt:
    return make_receipt(sealed_head(log.events, log.hashes), key, EVENING)


@pytest.mark.parametrize("role", [Role.OWNER, Office.INSPECTOR])
def test_a_countersignature_is_read_as_it_was_written_and_fits_its_record(tmp_path: Path, role: KeyRole) -> None:
    with sealed_log(tmp_path / "day.db") as log:
        made = receipt_of(log, SigningKey("ines", role, b"\x07" * 32))
        assert read_receipt(made.to_bytes()) == made
        assert (made.events, made.head) == (4, log.head)
        assert why_of_another_record(made, log.events, log.hashes) is None
        kept(log, ev.AddendumOpened(number=1, reason="a lift was misread"))
        assert why_of_another_record(made, log.events, log.hashes) is None, "of what went on it is still the beginning"


def test_a_record_that_was_made_anew_or_cut_is_another_one(tmp_path: Path) -> None:
    with sealed_log(tmp_path / "day.db") as log, sealed_log(tmp_path / "other.db", note="all well") as other:
        made = receipt_of(log)
        codes = [
            why_of_another_record(made, *of)
            for of in ((other.events, other.hashes), (log.events[:3], log.hashes[:3]), ([], []))
        ]
        assert [told and told.code for told in codes] == [
            "record-receipt-head",
            "record-receipt-cut",
            "record-receipt-other-day",
        ]


def test_only_a_day_sealed_to_its_last_event_is_countersigned(tmp_path: Path) -> None:
    with sealed_log(tmp_path / "day.db") as log:
        for count in range(4):
            with pytest.raises(ReceiptProblem, match=r"record-receipt-(unsealed|no-day)"):
                sealed_head(log.events[:count], log.hashes[:count])
        kept(log, ev.AddendumOpened(number=1, reason="a lift was misread"))
        with pytest.raises(ReceiptProblem, match="record-receipt-unsealed"):
            sealed_head(log.events, log.hashes)


@pytest.mark.parametrize("role", [Role.FOREMAN, Role.INSTALLER, Office.FIRM])
def test_who_works_on_the_day_does_not_countersign_it(tmp_path: Path, role: KeyRole) -> None:
    with sealed_log(tmp_path / "day.db") as log, pytest.raises(ReceiptProblem, match="record-receipt-role"):
        receipt_of(log, SigningKey("otto", role, b"\x08" * 32))


def test_a_key_for_practice_countersigns_no_work_and_the_other_way_round(tmp_path: Path) -> None:
    sealed = SealedHead("Quillhaven Baths", "2026-03-17", "rehearsal", 4, "ab" * 32)
    with pytest.raises(ReceiptProblem, match="record-seal-real-key"):
        make_receipt(sealed, INES, EVENING)
    with sealed_log(tmp_path / "day.db") as log, pytest.raises(ReceiptProblem, match="record-seal-practice-key"):
        receipt_of(log, SigningKey("ines", Office.INSPECTOR, b"\x07" * 32, practice=True))


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"head": "00" * 32}, "signature"),
        ({"at": "2026-03-16T16:30:00+01:00"}, "signature"),
        ({"role": "owner"}, "signature"),
        ({"name": "owen"}, "signature"),
        ({"public_key": EDWIN.public_key}, "signature"),
        # Under the key of order 1 anything would be signed.
        ({"public_key": "01" + "00" * 31, "signature": "01" + "00" * 63}, "signature"),
        ({"name": "Ines"}, "form"),
        ({"role": "foreman"}, "none"),
        ({"events": 0}, "none"),
        ({"note": "x"}, "none"),
        ({"at": "today"}, "none"),
    ],
)
def test_a_changed_countersignature_is_refused(tmp_path: Path, change: dict[str, Any], why: str) -> None:
    with sealed_log(tmp_path / "day.db") as log:
        good = receipt_of(log).to_bytes()
    with pytest.raises(ReceiptProblem, match=f"record-receipt-{why}"):
        read_receipt(rfc8785.dumps(json.loads(good) | change))


def test_no_changed_byte_of_a_countersignature_goes_unseen(tmp_path: Path) -> None:
    with sealed_log(tmp_path / "day.db") as log:
        good = receipt_of(log).to_bytes()
    for place in range(len(good)):
        changed = bytearray(good)
        changed[place] ^= 1 << place % 8
        with pytest.raises(ReceiptProblem):
            read_receipt(bytes(changed))


def test_a_member_that_stands_twice_is_found(tmp_path: Path) -> None:
    with sealed_log(tmp_path / "day.db") as log:
        good = receipt_of(log).to_bytes()
    with pytest.raises(ReceiptProblem, match="record-receipt-form"):
        read_receipt(good.replace(b'{"at"', b'{"at":"2026-03-01T16:30:00+01:00","at"'))
