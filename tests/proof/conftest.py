"""A signed day that is only read."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import NamedTuple

import pytest

from fieldassist.report.daily import print_pages, record_of, write_daily_pdf
from fieldassist.report.pdf import SignatureField
from fieldassist.report.signed import sign_pages
from tests.proof.test_verify import begin, seal
from tests.small_day import EDWIN_SIGNS


class SignedDay(NamedTuple):
    """A sealed day, its signed file, a copy, and the same file before it was signed."""

    day: Path
    pdf: Path
    copy: Path
    unsigned: bytes


@pytest.fixture(scope="session")
def signed(tmp_path_factory: pytest.TempPathFactory) -> SignedDay:
    """Only to read."""
    day = tmp_path_factory.mktemp("signed") / "day.db"
    with begin(day) as log:
        seal(log, EDWIN_SIGNS)
        at = log.events[-1].at
        made = sign_pages(log, EDWIN_SIGNS, at)
        copy = write_daily_pdf(record_of(log), day.with_name("copy.pdf"))
        field = SignatureField("edwin", datetime.fromisoformat(at.wall))
        unsigned = print_pages(record_of(log), signature=field).content
    return SignedDay(day, made.path, copy.path, unsigned)
