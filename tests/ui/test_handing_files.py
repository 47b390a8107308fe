"""A day's files go where they are sent, can be read as pages, and its key's fingerprint by a camera."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from PIL import Image

from fieldassist import qr
from fieldassist.checklist.plan import Role
from fieldassist.day.clock import SimulatedClock
from fieldassist.proof.known import known_by
from fieldassist.proof.verify import verify
from fieldassist.record.keys import fingerprint, keyring_for
from fieldassist.trade.message import Message
from fieldassist.ui.content import pages
from fieldassist.ui.content.export import (
    NotPrinted,
    folders_in,
    hand_over,
    places,
    print_pages,
)
from fieldassist.ui.content.jobs import Stopped
from tests.checklist.believed import believed

# The fingerprint of the public key of RFC 8032, section 7.1, test 1.
PRINT = fingerprint("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a")


def nothing(_done: int, _total: int) -> None:
    """Nobody waits."""


@pytest.fixture
def day(tmp_path: Path, clock: SimulatedClock) -> Path:
    """A day that is at work."""
    with believed(tmp_path, clock) as crew:
        crew.batch()
        crew.tile()
        return crew.day.log.path


@pytest.fixture
def sealed(tmp_path: Path, clock: SimulatedClock, cheap_hash: None) -> Path:  # noqa: ARG001
    """A day that is signed and sealed."""
    keys = keyring_for(tmp_path, "work")
    keys.set_pin("edwin", Role.FOREMAN, "271828", now=clock.now())
    with believed(tmp_path, clock) as crew:
        crew.say("this is edwin")
        assert crew.day.sign(keys, "271828", accept_open=True).taken
        return crew.day.log.path


# --- places -------------------------------------------------------------------------------------------------------


def test_the_places_are_those_that_take_files_and_sticks_come_first(tmp_path: Path) -> None:
    day, own, media = tmp_path / "days", tmp_path / "Documents", tmp_path / "media"
    stick, empty = media / "rosa" / "STICK", media / "rosa" / "nothing mounted"
    for folder in (day, own, stick, empty):
        folder.mkdir(parents=True)
    found = places(day, own=[own, tmp_path / "gone"], roots=[media, tmp_path / "none"], mounted=lambda p: p == stick)
    assert [(place.kind, place.folder) for place in found] == [("stick", stick), ("own", own), ("beside", day)]
    if os.getuid():  # root may write everywhere
        own.chmod(0o500)
        assert own not in [place.folder for place in places(day, own=[own], roots=[])]


def test_any_folder_can_be_walked_to_and_hidden_ones_are_left_out(tmp_path: Path) -> None:
    for name in ("b", "a", ".hidden"):
        (tmp_path / name).mkdir()
    (tmp_path / "file").touch()
    assert folders_in(tmp_path) == (tmp_path / "a", tmp_path / "b")
    assert folders_in(tmp_path / "gone") == ()


# --- files --------------------------------------------------------------------------------------------------------


def test_what_is_handed_over_is_the_pages_and_the_whole_day_and_both_verify(sealed: Path, tmp_path: Path) -> None:
    out = tmp_path / "stick"
    out.mkdir()
    shares: list[float] = []
    done = hand_over(sealed, out, "metric", lambda at, total: shares.append(at / total))
    assert sorted(out.iterdir()) == sorted((done.pdf, done.bundle))
    key = keyring_for(tmp_path, "work").people()[0].fingerprint
    for path in (done.pdf, done.bundle):
        assert verify(path, known=known_by(key)).ok, path
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
    assert not holds_code(done.told, "signing-written-unsealed")
    hand_over(sealed, out, "metric", nothing)
    assert len(list(out.iterdir())) == 2, "the newer files take the place of the older"


def test_of_a_day_that_nobody_signed_it_is_said_that_nobodys_key_stands_for_it(day: Path, tmp_path: Path) -> None:
    out = tmp_path / "stick"
    out.mkdir()
    done = hand_over(day, out, "metric", nothing)
    assert holds_code(done.told, "signing-written-unsealed")
    assert not verify(done.bundle).ok


def holds_code(told: Message, code: str) -> bool:
    return f"{code}(" in str(told)


def test_what_is_stopped_leaves_nothing_behind(day: Path, tmp_path: Path) -> None:
    out = tmp_path / "stick"
    out.mkdir()

    def stop(_done: int, _total: int) -> None:
        raise Stopped("stopped")

    with pytest.raises(Stopped):
        hand_over(day, out, "metric", stop)
    assert list(out.iterdir()) == []


# --- the printer --------------------------------------------------------------------------------------------------


class Printer:
    """The system's printer, or none."""

    def __init__(self, known: str, code: int = 0) -> None:
        self.known, self.code = known, code
        self.ran: list[tuple[str, ...]] = []

    def __call__(self, command: Sequence[str]) -> subprocess.CompletedProcess[str]:
        self.ran.append(tuple(command))
        if command[0] == "lpstat":
            return subprocess.CompletedProcess(command, 0, stdout=self.known, stderr="")
        return subprocess.CompletedProcess(command, self.code, stdout="", stderr="paper jam")


def test_pages_go_to_the_printer_that_the_system_has(tmp_path: Path) -> None:
    printer = Printer("office\n")
    print_pages(tmp_path / "-log.pdf", printer)
    assert printer.ran[-1] == ("lp", "--", str(tmp_path / "-log.pdf"))


def test_without_a_printer_nothing_is_printed_and_it_is_said(tmp_path: Path) -> None:
    printer = Printer("")
    with pytest.raises(NotPrinted) as refused:
        print_pages(tmp_path / "log.pdf", printer)
    assert refused.value.told.code == "signing-no-printer"
    assert [command[0] for command in printer.ran] == ["lpstat"]

    def no_such_program(command: Sequence[str]) -> subprocess.CompletedProcess[str]:
        raise FileNotFoundError(command[0])

    with pytest.raises(NotPrinted) as missing:
        print_pages(tmp_path / "log.pdf", no_such_program)
    assert missing.value.told.code == "signing-no-printer"


def test_a_printer_that_refuses_is_quoted(tmp_path: Path) -> None:
    with pytest.raises(NotPrinted) as refused:
        print_pages(tmp_path / "log.pdf", Printer("office\n", code=1))
    assert refused.value.told.figures["why"] == "paper jam"


# --- pages --------------------------------------------------------------------------------------------------------


def test_the_daily_log_is_printed_once_a_head_and_read_as_pages(day: Path, tmp_path: Path) -> None:
    folder = tmp_path / "pages"
    first = pages.printed_day(day, "a" * 64, "metric", folder)
    written = first.pdf.stat().st_mtime_ns
    assert pages.printed_day(day, "a" * 64, "metric", folder) == first
    assert first.pdf.stat().st_mtime_ns == written
    pages.printed_day(day, "b" * 64, "metric", folder)
    assert [path.name for path in folder.iterdir()] == [f"{'b' * 24}-metric.pdf"]


def test_a_page_is_as_wide_as_asked_in_the_proportions_of_paper(day: Path, tmp_path: Path) -> None:
    printed = pages.printed_day(day, "a" * 64, "metric", tmp_path / "pages")
    assert printed.pages > 1
    picture = pages.page_picture(printed.pdf, 1, 400)
    assert picture.width == pytest.approx(400, abs=1)
    # ISO 216: A4 is 210 mm by 297 mm.
    assert picture.height / picture.width == pytest.approx(297 / 210, rel=0.01)
    assert len(picture.rgb) == picture.width * picture.height * 3
    drawn = np.asarray(Image.frombytes("RGB", (picture.width, picture.height), picture.rgb))
    assert tuple(drawn[2, 2]) == (255, 255, 255), "paper is white"
    assert drawn.min() < 80, "and something stands on it"
    for number in (0, printed.pages + 1):
        with pytest.raises(IndexError):
            pages.page_picture(printed.pdf, number, 400)


def test_the_last_few_pages_are_kept_and_the_oldest_goes(tmp_path: Path) -> None:
    cache, page = pages.PageCache(), pages.PagePicture(1, 1, b"abc")
    for number in range(1, 7):
        cache.keep(tmp_path, number, 100, page)
    assert cache.get(tmp_path, 1, 100) is page
    cache.keep(tmp_path, 7, 100, page)
    assert cache.get(tmp_path, 2, 100) is None, "it was not asked for the longest time"
    assert cache.get(tmp_path, 1, 100) is page


# --- the code -----------------------------------------------------------------------------------------------------


def read_by_a_camera(modules: Sequence[Sequence[bool]], side: int = 6) -> str:
    """What a reader of another make finds (ZXing; it shares nothing with the library that drew it)."""
    light = ~np.array(modules, dtype=bool)
    border = np.pad(light, qr.QUIET_ZONE, constant_values=True)
    found = zxingcpp.read_barcode(np.kron(border, np.ones((side, side))).astype(np.uint8) * 255)
    return str(found.text) if found is not None else ""


@pytest.mark.parametrize("text", [PRINT, "0", "Edwin\n" + PRINT, "a" * 300])
def test_a_code_is_read_as_the_text_that_it_was_made_of(text: str) -> None:
    assert read_by_a_camera(qr.qr_modules(text)) == text


def test_a_code_is_built_as_the_standard_says() -> None:
    modules = qr.qr_modules(PRINT)
    size = len(modules)
    # ISO/IEC 18004:2015, 5.3.1: version 1 has 21 modules a side, each further version four more (from memory).
    assert (size - 21) % 4 == 0
    assert all(len(row) == size for row in modules)
    # The same, 5.3.2: in three corners a dark square of 7 with a light ring and a dark square of 3 in it.
    finder = [[max(abs(r - 3), abs(c - 3)) != 2 for c in range(7)] for r in range(7)]
    for top, left in ((0, 0), (0, size - 7), (size - 7, 0)):
        assert [list(row[left : left + 7]) for row in modules[top : top + 7]] == finder
    # The same, 5.3.4: between them, row and column 6 are dark and light in turn.
    assert [modules[6][at] for at in range(8, size - 8)] == [at % 2 == 0 for at in range(8, size - 8)]


def test_a_code_with_a_dirty_corner_is_read_all_the_same() -> None:
    dirty = [list(row) for row in qr.qr_modules(PRINT)]
    for row in range(20, 23):
        for column in range(20, 23):
            dirty[row][column] = not dirty[row][column]
    assert read_by_a_camera(dirty) == PRINT


@pytest.mark.parametrize("text", ["", "a" * 301])
def test_what_no_code_is_made_of_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="bytes"):
        qr.qr_modules(text)
