"""Photos and their copies as an inspector is told of them: where each belongs, and that both show the same."""

from __future__ import annotations

import io
import shutil
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image, ImageDraw
from pypdf import PdfReader

from fieldassist.checklist import commands as cmd
from fieldassist.proof.examine import examine
from fieldassist.proof.known import Known
from fieldassist.proof.photos import look_alike
from fieldassist.proof.verdict import DAMAGED, WHOLE, Judgment
from fieldassist.record import attachments
from fieldassist.record.bundle import pack
from fieldassist.record.log import DayLog
from fieldassist.record.picture import printable_copy
from fieldassist.report.daily import record_of, write_daily_pdf
from tests.small_day import EDWIN, asked, begun, seal


def picture(*, void: bool = False) -> bytes:
    """The back of a tile, with ridges; void: with a bare place of one percent."""
    image = Image.effect_noise((1000, 750), 30).convert("RGB")
    draw = ImageDraw.Draw(image)
    for x in range(0, 1000, 16):
        draw.rectangle((x, 0, x + 7, 750), fill=(120, 115, 110))
    if void:
        draw.ellipse((400, 300, 500, 400), fill=(230, 225, 220))
    paper = io.BytesIO()
    image.save(paper, "JPEG", quality=92)
    return paper.getvalue()


@dataclass(frozen=True)
class Handed:
    """A day in its three forms, its photo and that photo's copy by name."""

    day: Path
    pdf: Path
    bundle: Path
    photo: str
    copy: str


def handed_over(folder: Path, photo: bytes, copy: bytes) -> Handed:
    day = folder / "day.db"
    with DayLog.create(day) as log:
        begun(log)
        asked(log, cmd.SpeakAs(name="edwin"))
        kept, small = attachments.keep(day, photo, ".jpg"), attachments.keep(day, copy, ".jpg")
        command = cmd.AttachPhoto(
            file=kept.file, sha256=kept.sha256, copy_file=small.file, copy_sha256=small.sha256, bare=True
        )
        asked(log, cmd.StartArea(area="hall floor"), command)
        seal(log)
        write_daily_pdf(record_of(log), folder / "day.pdf")
    pack(day, folder / "day.bundle", folder / "day.pdf")
    return Handed(day, folder / "day.pdf", folder / "day.bundle", kept.file, small.file)


@pytest.fixture(scope="module")
def honest(tmp_path_factory: pytest.TempPathFactory) -> Handed:
    photo = picture(void=True)
    return handed_over(tmp_path_factory.mktemp("honest"), photo, printable_copy(photo))


def checked(path: Path, tmp_path: Path) -> Judgment:
    scratch = tmp_path / "scratch"
    shutil.rmtree(scratch, ignore_errors=True)
    scratch.mkdir()
    return examine(path, Known(EDWIN.public_key), scratch)


def codes(judgment: Judgment) -> set[str]:
    return {finding.told.code for finding in judgment.findings}


def test_a_photo_lies_once_in_the_bundle_and_its_copy_with_the_pages(honest: Handed) -> None:
    photo = (attachments.folder_of(honest.day) / honest.photo).read_bytes()
    with zipfile.ZipFile(honest.bundle) as bundle:
        assert {f"attached/{honest.photo}", f"attached/{honest.copy}"} <= set(bundle.namelist())
    assert honest.bundle.read_bytes().count(photo) == 1
    files = set(PdfReader(honest.pdf).attachments)
    assert {name for name in files if name.startswith("attached/")} == {f"attached/{honest.copy}"}


def test_a_pdf_without_the_photo_itself_is_whole_and_says_where_it_is(honest: Handed, tmp_path: Path) -> None:
    judgment = checked(honest.pdf, tmp_path)
    assert judgment.exit_code == WHOLE, judgment.told
    assert "proof-attachments-in-bundle" in codes(judgment)
    assert judgment.facts["attachments"]["in_bundle"] == [honest.photo]
    assert judgment.facts["attachments"]["elsewhere"] == []
    assert judgment.facts["attachments"]["whole"] == 1
    for file in (honest.bundle, honest.day):
        judgment = checked(file, tmp_path)
        assert judgment.exit_code == WHOLE, judgment.told
        assert judgment.facts["attachments"]["whole"] == 2
        assert "proof-copies-not-compared" not in codes(judgment)


def test_a_copy_that_shows_another_picture_than_its_photo_is_named(tmp_path: Path) -> None:
    """Pages, record and every hash are as they should be, and the void was painted over before the copy was laid in."""
    forged = handed_over(tmp_path, picture(void=True), printable_copy(picture()))
    for file in (forged.bundle, forged.day):
        judgment = checked(file, tmp_path)
        assert judgment.exit_code == DAMAGED
        assert "proof-copy-shows-other" in codes(judgment)
    # The photo is not in it, so nothing in it shows that. But it says that this was not looked at.
    judgment = checked(forged.pdf, tmp_path)
    [told] = [one.told for one in judgment.findings if one.told.code == "proof-copies-not-compared"]
    assert told.figures == {"count": 1}


def test_a_copy_that_was_changed_or_lost_is_named_with_its_event(honest: Handed, tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    shutil.copy(honest.day, day)
    shutil.copytree(attachments.folder_of(honest.day), attachments.folder_of(day))
    copy = attachments.folder_of(day) / honest.copy
    copy.write_bytes(copy.read_bytes()[:-2] + b"\0\0")
    judgment = checked(day, tmp_path)
    assert judgment.exit_code == DAMAGED
    assert list(judgment.facts["attachments"]["wrong"]) == [honest.copy]


@pytest.mark.parametrize("quality", [60, 95])
def test_a_picture_packed_anew_looks_alike_and_a_void_painted_over_does_not(quality: int) -> None:
    photo, paper = picture(void=True), io.BytesIO()
    Image.open(io.BytesIO(photo)).save(paper, "JPEG", quality=quality)
    assert look_alike(photo, paper.getvalue()) is True
    assert look_alike(photo, printable_copy(picture())) is False
    assert look_alike(b"no photo", paper.getvalue()) is None
    turned = io.BytesIO()
    Image.open(io.BytesIO(photo)).rotate(90, expand=True).save(turned, "JPEG")
    assert look_alike(photo, turned.getvalue()) is False
