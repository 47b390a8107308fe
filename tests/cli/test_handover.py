"""A day is handed over in one file and taken in from it, on the command line."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.cli import main
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.record import attachments
from fieldassist.record.bundle import Packed, open_bundle, pack
from fieldassist.record.keys import Keyring
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import PAGE, PDF
from fieldassist.report import whole_day
from fieldassist.report.daily import record_of, write_daily_pdf
from tests.conftest import Crew

Heard = Callable[[], tuple[str, str]]
PHOTO = b"\xff\xd8\xff no picture that opens"


def run(*arguments: str | Path) -> int:
    return main([str(a) for a in arguments])


@pytest.fixture
def day(crew: Crew) -> Path:
    """A day with a photo, closed."""
    photo = attachments.keep(crew.day.log.path, PHOTO, ".jpg")
    crew.say("this is rosa", "start area shower wall")
    crew.day.do(cmd.AttachPhoto(file=photo.file, sha256=photo.sha256))
    crew.day.close()
    return crew.day.log.path


def texts_of(day: Path) -> list[str]:
    with DayLog.open(day, read_only=True) as log:
        return log.texts


@pytest.fixture
def heard(capsys: pytest.CaptureFixture[str]) -> Heard:
    """What was printed since the last time, and what was warned of."""
    return lambda: tuple(capsys.readouterr())


def test_a_day_is_put_beside_itself_with_its_daily_log_and_comes_out_on_another_tablet(
    day: Path, tmp_path: Path, heard: Heard
) -> None:
    assert run("bundle", day) == 0
    out, _ = heard()
    file = day.with_suffix(".bundle")
    bundle = open_bundle(file)
    assert f"{file}: {len(bundle.events)} events, 4 files, " in out
    assert bundle.read(PAGE) == (shipped("assets") / PAGE).read_bytes()
    assert f"Head {bundle.head}." in out
    assert "fieldassist verify day.bundle" in out
    with DayLog.open(day, read_only=True) as log:
        write_daily_pdf(record_of(log), tmp_path / "same.pdf")
    assert bundle.read(PDF) == (tmp_path / "same.pdf").read_bytes()

    assert run("import", file, "--into", tmp_path / "office") == 0
    out, err = heard()
    there = tmp_path / "office" / "2026-03-17.db"
    assert out == f"{there}: a new day here, {len(bundle.events)} events, 1 attachment; head {bundle.head}.\n"
    assert err == f"Not sealed: {len(bundle.events)} events at its end, so nobody's key vouches for them.\n"
    assert texts_of(there) == texts_of(day)


def test_the_bundle_goes_where_it_is_asked_to_and_is_the_same_bytes_each_time(day: Path, tmp_path: Path) -> None:
    one, two = tmp_path / "one.bundle", tmp_path / "usb" / "two.bundle"
    assert run("bundle", day, "--out", one) == run("bundle", day, "--out", two) == 0
    assert one.read_bytes() == two.read_bytes()
    assert not day.with_suffix(".bundle").exists()


def test_the_daily_log_in_it_is_in_us_units_when_asked(day: Path, tmp_path: Path) -> None:
    for name, asked, width in (
        ("plan.bundle", [], "595"),
        ("us.bundle", ["--units", "us"], "612"),
    ):  # A4, US Letter in points
        assert run("bundle", day, "--out", tmp_path / name, *asked) == 0
        boxes = re.findall(rb"/MediaBox \[ ?0 0 (\d+)", open_bundle(tmp_path / name).read(PDF))
        assert set(boxes) == {width.encode()}


def test_importing_again_changes_nothing_and_says_so(day: Path, tmp_path: Path, heard: Heard) -> None:
    run("bundle", day)
    run("import", day.with_suffix(".bundle"), "--into", tmp_path / "office")
    heard()
    assert run("import", day.with_suffix(".bundle"), "--into", tmp_path / "office") == 0
    assert "has all of it already; nothing was changed" in heard()[0]


def test_the_day_itself_comes_back_to_its_own_folder(
    day: Path, clock: SimulatedClock, tmp_path: Path, heard: Heard, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The office adds an addendum, and the tablet takes it in: the day there keeps its own name."""
    run("bundle", day)
    run("import", day.with_suffix(".bundle"), "--into", tmp_path / "office")
    with Day.resume(tmp_path / "office" / "2026-03-17.db", clock) as there:
        there.do(cmd.MakeNote(text="the owner was here"))
        texts = list(there.log.texts)
    run("bundle", tmp_path / "office" / "2026-03-17.db")
    heard()
    monkeypatch.chdir(day.parent)
    assert run("import", tmp_path / "office" / "2026-03-17.bundle") == 0
    out, _ = heard()
    added = len(texts) - len(open_bundle(day.with_suffix(".bundle")).texts)
    assert out.startswith(f"day.db: {added} event")
    assert f"0 attachments added to the day that was here; it has {len(texts)} events now." in out
    assert texts_of(day) == texts


def test_what_nobodys_key_vouches_for_is_said_before_it_is_handed_over(
    crew: Crew, tmp_path: Path, heard: Heard
) -> None:
    crew.say("this is edwin")
    path, now = crew.day.log.path, crew.clock.now()
    assert run("bundle", path) == 0
    assert f"Not sealed: {len(crew.day.log.events)} events at its end" in heard()[1]
    keys = Keyring(tmp_path / "people")
    keys.set_pin("edwin", Role.FOREMAN, "835261", now=now)
    assert crew.day.sign(keys, "835261", accept_open=True).taken
    assert run("bundle", path) == 0
    assert heard()[1] == ""
    assert run("import", path.with_suffix(".bundle"), "--into", tmp_path / "office") == 0
    out, err = heard()
    [edwin] = keys.people()
    sealed = f"The day is sealed by Edwin, foreman, up to event {len(crew.day.log.events)}; key {edwin.fingerprint}.\n"
    assert out.endswith(sealed)
    assert err == ""
    sealed_to = len(crew.day.log.events)
    crew.day.do(cmd.OpenAddendum(reason="a reading was missed"))
    assert run("bundle", path) == 0
    added = len(crew.day.log.events) - sealed_to
    assert added == 2, "the addendum, and what its lots are committed to"
    assert f"Not sealed: {added} events at its end" in heard()[1]


def test_a_photo_that_was_lost_is_named_on_both_sides(day: Path, tmp_path: Path, heard: Heard) -> None:
    [photo] = attachments.folder_of(day).iterdir()
    photo.unlink()
    assert run("bundle", day) == 0
    assert f"Not in it, since it is missing or was changed in {photo.parent}: “{photo.name}”" in heard()[1]
    assert run("import", day.with_suffix(".bundle"), "--into", tmp_path / "office") == 0
    assert f"the tablet that made it had lost it: {photo.name}" in heard()[1]


def test_a_day_that_goes_on_while_it_is_packed_is_packed_whole_and_the_older_daily_log_told(
    day: Path, clock: SimulatedClock, heard: Heard, monkeypatch: pytest.MonkeyPatch
) -> None:
    def late(path: Path, *rest: object) -> Packed:
        with Day.resume(path, clock) as open_day:
            open_day.do(cmd.MakeNote(text="one more"))
        return pack(path, *rest)

    monkeypatch.setattr(whole_day, "pack", late)
    before = len(texts_of(day))
    assert run("bundle", day) == 0
    after = len(texts_of(day))
    assert after > before
    assert f"does not show the last {after - before} event" in heard()[1]
    assert len(open_bundle(day.with_suffix(".bundle")).events) == after


# --- refusals -----------------------------------------------------------------------------------------------------


def test_a_damaged_bundle_is_refused_and_nothing_written(day: Path, tmp_path: Path, heard: Heard) -> None:
    run("bundle", day)
    file = day.with_suffix(".bundle")
    file.write_bytes(file.read_bytes().replace(b"day opened", b"day closed"))
    heard()
    assert run("import", file, "--into", tmp_path / "office") == 1
    out, err = heard()
    assert out == ""
    assert "day.bundle is damaged: event 1" in err
    assert "Ask for the bundle again" in err
    assert not (tmp_path / "office").exists()


def test_a_day_that_went_on_differently_is_refused(
    day: Path, clock: SimulatedClock, tmp_path: Path, heard: Heard
) -> None:
    run("bundle", day)
    run("import", day.with_suffix(".bundle"), "--into", tmp_path / "office")
    for path, text in ((day, "here"), (tmp_path / "office" / "2026-03-17.db", "there")):
        with Day.resume(path, clock) as open_day:
            open_day.do(cmd.MakeNote(text=text))
    run("bundle", day)
    heard()
    before = texts_of(tmp_path / "office" / "2026-03-17.db")
    assert run("import", day.with_suffix(".bundle"), "--into", tmp_path / "office") == 1
    assert "went on differently from event" in heard()[1]
    assert texts_of(tmp_path / "office" / "2026-03-17.db") == before


def test_a_bundle_that_is_not_there_is_misuse(tmp_path: Path, heard: Heard) -> None:
    assert run("import", tmp_path / "none.bundle") == 2
    assert heard() == ("", f"There is no bundle at {tmp_path / 'none.bundle'}. Check the name.\n")


def test_a_day_that_is_not_there_is_the_logs_own_sentence(tmp_path: Path, heard: Heard) -> None:
    assert run("bundle", tmp_path / "none.db") == 2
    assert str(tmp_path / "none.db") in heard()[1]


def test_a_place_that_cannot_be_written_is_refused_with_a_sentence(day: Path, heard: Heard) -> None:
    assert run("bundle", day, "--out", day / "within.bundle") == 1
    assert "could not be written to" in heard()[1]
    assert run("bundle", day, "--out", day) == 1
    assert "Choose another name" in heard()[1]


def test_a_tablet_without_room_to_print_is_refused_with_a_sentence(
    day: Path, heard: Heard, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(**_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(whole_day.tempfile, "TemporaryDirectory", full)
    assert run("bundle", day) == 1
    assert "no room to print the daily log first (No space left on device)" in heard()[1]
    assert not day.with_suffix(".bundle").exists()


def test_a_log_without_a_day_is_refused(tmp_path: Path, heard: Heard) -> None:
    DayLog.create(tmp_path / "day.db").close()
    assert run("bundle", tmp_path / "day.db") == 1
    assert heard()[1].strip()
