"""People, PINs and signatures as they are used on the command line."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from fieldassist.checklist.events import CorrectionMade, DaySigned, HoldReleased, PinRefused, ReleaseStruck
from fieldassist.cli import main
from fieldassist.record.keys import read_public
from fieldassist.record.log import DayLog
from fieldassist.record.seal import check_releases, check_seals
from tests import SITE
from tests.conftest import TO_THE_HOLD

pytestmark = pytest.mark.usefixtures("cheap_hash")


class Tablet:
    """A tablet of its own: its people and one day."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        monkeypatch.setenv("FIELDASSIST_DATA", str(folder / "data"))
        self.day = folder / "day.db"
        self._patch, self._capsys = monkeypatch, capsys

    def run(self, *arguments: str, typed: str = "") -> tuple[int, str]:
        self._patch.setattr("sys.stdin", io.StringIO(typed))
        self._capsys.readouterr()
        code = main(arguments)
        told = self._capsys.readouterr()
        return code, told.out + told.err


@pytest.fixture
def tablet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Tablet:
    made = Tablet(tmp_path, monkeypatch, capsys)
    assert made.run("begin", str(SITE), str(made.day), "--today")[0] == 0
    assert made.run("people", "edwin", "--role", "foreman", typed="271828\n271828\n")[0] == 0
    return made


def test_a_person_gets_a_pin_and_changes_it_with_the_old_one(tablet: Tablet) -> None:
    code, told = tablet.run("people")
    assert code == 0
    assert told.startswith("edwin, foreman, key ")
    assert tablet.run("people", "edwin", "--role", "foreman", typed="271828\n314159\n141421\n")[0] == 1
    code, told = tablet.run("people", "edwin", "--role", "foreman", typed="9999\n314159\n314159\n")
    assert code == 2
    assert "4 tries are left" in told
    assert tablet.run("people", "edwin", "--role", "foreman", typed="271828\n314159\n314159\n")[0] == 0
    code, told = tablet.run("people", "rosa")
    assert code == 2
    assert told.endswith("fieldassist people rosa --role foreman\n")


def test_the_signed_file_is_made_with_the_seal_handed_out_and_made_later_where_it_is_missing(
    tablet: Tablet, tmp_path: Path
) -> None:
    day = str(tablet.day)
    signed, handed = tmp_path / "day.signed.pdf", tmp_path / "daily-log.pdf"
    assert tablet.run("sign", day, "--as", "edwin", "--with-open-points", "--units", "us", typed="271828\n")[0] == 0
    made = signed.read_bytes()
    code, told = tablet.run("report", day)
    assert (code, handed.read_bytes()) == (0, made)
    assert told.endswith("pages, signed.\n")
    assert tablet.run("bundle", day)[0] == 0
    with zipfile.ZipFile(tmp_path / "day.bundle") as bundle:
        assert bundle.read("daily-log.pdf") == made
    # On another tablet it lies beside the day too, and goes on from there.
    assert tablet.run("import", str(tmp_path / "day.bundle"), "--into", str(tmp_path / "office"))[0] == 0
    (there,) = (tmp_path / "office").glob("*.signed.pdf")
    assert there.read_bytes() == made
    # A copy in other units is printed, and the signed file stays.
    assert ", signed." not in tablet.run("report", day, "--units", "metric", "--out", str(tmp_path / "copy.pdf"))[1]
    assert signed.read_bytes() == made
    signed.unlink()
    assert ", signed." not in tablet.run("report", day)[1]
    assert tablet.run("report", day, "--sign", typed="314159\n")[0] != 0
    assert not signed.exists()
    code, told = tablet.run("report", day, "--sign", "--units", "us", typed="271828\n")
    assert (code, handed.read_bytes()) == (0, signed.read_bytes())
    assert tablet.run("addendum", day, "late")[0] == 0
    assert ", signed." not in tablet.run("report", day)[1], "it does not show the addendum"
    code, told = tablet.run("report", day, "--sign", typed="271828\n")
    assert (code, "not sealed to its last event" in told) == (2, True)


def test_a_day_is_signed_sealed_reopened_and_corrected(tablet: Tablet, tmp_path: Path) -> None:
    day = str(tablet.day)
    code, told = tablet.run("sign", day, "--as", "edwin", "--with-open-points", typed="1111\n")
    assert code == 1
    assert "4 tries are left" in told
    code, told = tablet.run("sign", day, "--with-open-points", typed="271828\n")
    assert code == 0, told
    assert "signed and sealed" in told
    assert tablet.run("sign", day, typed="271828\n")[0] == 1
    assert tablet.run("correct", day, "2", "too late")[0] == 1
    assert tablet.run("addendum", day, "weather was forgotten")[0] == 0
    assert tablet.run("correct", day, "2", "it rained from ten")[0] == 0
    assert tablet.run("sign", day, "--with-open-points", typed="271828\n")[0] == 0
    with DayLog.open(tablet.day, read_only=True) as log:
        assert [(c.part, c.good) for c in check_seals(log.events, log.hashes)] == [(0, True), (1, True)]
        assert sum(isinstance(e.body, PinRefused) for e in log.events) == 1
        assert sum(isinstance(e.body, CorrectionMade) for e in log.events) == 1
        public = check_seals(log.events, log.hashes)[0].public_key
    pem = tmp_path / "edwin.pem"
    assert tablet.run("people", "edwin", "--public-key", str(pem))[0] == 0
    assert read_public(pem) == public


def test_a_forgotten_pin_means_a_new_key_and_who_left_cannot_sign(tablet: Tablet) -> None:
    before = tablet.run("people")[1]
    assert tablet.run("people", "edwin", "--role", "foreman", "--new-key", typed="577215\n577215\n")[0] == 0
    assert tablet.run("people")[1] != before
    assert tablet.run("people", "edwin", "--forget")[0] == 0
    code, told = tablet.run("sign", str(tablet.day), "--as", "edwin", "--with-open-points", typed="577215\n")
    assert code == 1
    assert "has no PIN on this tablet" in told


def test_a_weak_pin_is_refused_with_the_reason(tablet: Tablet) -> None:
    code, told = tablet.run("people", "rosa", "--role", "installer", typed="123456\n123456\n")
    assert code == 2
    assert "count up or down" in told


BEFORE_THE_HOLD = "".join(line.replace("!", "\nyes") + "\n" for line in TO_THE_HOLD)


def test_a_hold_point_is_released_by_a_pin_that_is_typed_unseen(tablet: Tablet) -> None:
    typed = f"{BEFORE_THE_HOLD}release edwin\n9999\nrelease edwin\n271828\nleave\n"
    code, told = tablet.run("work", str(tablet.day), "--quiet", typed=typed)
    assert code == 0, told
    assert "271828" not in told
    with DayLog.open(tablet.day, read_only=True) as log:
        (released,) = [e.body for e in log.events if isinstance(e.body, HoldReleased)]
        assert (released.name, released.how) == ("edwin", "pin")
        assert sum(isinstance(e.body, PinRefused) for e in log.events) == 1
        assert [check.good for check in check_releases(log.events, log.hashes)] == [True]


def test_what_was_called_out_is_listed_struck_out_or_confirmed_at_work_and_at_the_signature(tablet: Tablet) -> None:
    day = str(tablet.day)
    tablet.run("work", day, "--quiet", typed=f"{BEFORE_THE_HOLD}base released by edwin\nleave\n")
    with DayLog.open(tablet.day, read_only=True) as log:
        (seq,) = [e.seq for e in log.events if isinstance(e.body, HoldReleased)]
    code, told = tablet.run("sign", day, "--as", "edwin", "--with-open-points", "--strike", "1", typed="271828\n")
    assert code == 1
    assert f"event {seq}," in told
    code, told = tablet.run("work", day, "--quiet", typed=f"confirm edwin without {seq}\n271828\nleave\n")
    assert code == 0
    assert f"event {seq}," in told
    assert tablet.run("sign", day, "--as", "edwin", "--with-open-points", typed="271828\n")[0] == 0
    with DayLog.open(tablet.day, read_only=True) as log:
        assert [e.body.release for e in log.events if isinstance(e.body, ReleaseStruck)] == [seq]
        (signed,) = [e.body for e in log.events if isinstance(e.body, DaySigned)]
        assert "open-release-struck" in [p.code for p in signed.open_points]


def test_keys_for_practice_are_listed_apart(tablet: Tablet) -> None:
    assert tablet.run("people", "edwin", "--role", "foreman", "--practice", typed="314159\n314159\n")[0] == 0
    (real,) = tablet.run("people")[1].splitlines()
    (practice,) = tablet.run("people", "--practice")[1].splitlines()
    assert "practice" in practice
    assert "practice" not in real
