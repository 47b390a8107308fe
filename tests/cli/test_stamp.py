"""`fieldassist stamp`: from a day to a request, and from an answer to a checked day."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fieldassist.cli import main
from fieldassist.record.log import DayLog
from tests.authority import Authority
from tests.small_day import PLAN, kept


@pytest.fixture
def day(tmp_path: Path) -> Path:
    from fieldassist.checklist.events import DayOpened, NoteMade
    from fieldassist.checklist.plan import DayPlan

    path = tmp_path / "2026-03-17.db"
    with DayLog.create(path) as log:
        kept(log, DayOpened(plan=DayPlan.model_validate(PLAN)), NoteMade(text="the gate stays locked"))
    return path


def test_a_day_is_stamped_by_an_authority_and_verify_says_since_when_it_is_there(
    day: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    authority = Authority(tmp_path / "authority")
    root = str(authority.file("root.pem"))
    assert main(["stamp", str(day)]) == 0
    (request,) = (tmp_path / "2026-03-17.stamps").glob("2-*.tsq")
    answer = authority.answer(request)
    assert main(["stamp", str(day), "--take", str(request)]) == 2
    assert main(["stamp", str(day), "--take", str(answer), "--root", root]) == 0
    assert "Clock 1, Quillhaven Time" in capsys.readouterr().out
    assert main(["verify", str(day), "--root", root, "--json"]) == 3  # nobody sealed it
    (stamp,) = json.loads(capsys.readouterr().out)["stamps"]
    assert (stamp["good"], stamp["known"], stamp["events"], stamp["authority"]) == (
        True,
        True,
        2,
        "Clock 1, Quillhaven Time",
    )
