"""Pages that are printed anew show what the record says, whatever the pages at hand show."""

from __future__ import annotations

import re
from pathlib import Path

import pikepdf
import pytest

from fieldassist.cli import main
from fieldassist.proof import reprint
from fieldassist.proof.verify import verify
from fieldassist.record.bundle import pack
from fieldassist.record.log import DayLog
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.trade.message import Refused
from tests.proof.conftest import SignedDay
from tests.proof.test_verify import REMARK


@pytest.fixture
def forged(signed: SignedDay, tmp_path: Path) -> Path:
    """The signed file with another first page, from which the remark is gone."""
    with pikepdf.open(signed.pdf) as pdf:
        for page in pdf.pages:
            page.Contents.write(b"0 0 m 9 9 l S")
        pdf.save(tmp_path / "forged.pdf", fix_metadata_version=False)
    return tmp_path / "forged.pdf"


def again(path: Path, tmp_path: Path) -> bytes:
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    content, _ = reprint._printed(scratch, path, None)
    return content


def test_a_forged_file_gives_the_pages_of_its_record(forged: Path, signed: SignedDay, tmp_path: Path) -> None:
    assert again(forged, tmp_path) == signed.copy.read_bytes()


@pytest.mark.parametrize("form", ["log", "bundle", "lines"])
def test_a_log_and_a_bundle_give_the_same_pages(form: str, signed: SignedDay, tmp_path: Path) -> None:
    path = signed.day
    if form == "bundle":
        path = tmp_path / "day.bundle"
        pack(signed.day, path)
    elif form == "lines":
        path = signed.day.with_name("day.db.lines")
    assert again(path, tmp_path) == signed.copy.read_bytes()


def test_the_command_prints_and_never_writes_over_what_it_reads(
    forged: Path, signed: SignedDay, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["reprint", str(forged)]) == 0
    out = forged.with_name("forged.reprint.pdf")
    assert out.read_bytes() == signed.copy.read_bytes()
    assert re.match(rf"{re.escape(str(out))}, \d pages: ", capsys.readouterr().out)
    before = forged.read_bytes()
    assert main(["reprint", str(forged), "--out", str(forged)]) == 2
    assert forged.read_bytes() == before


def test_a_copy_in_another_language_says_so_and_agrees_with_its_record(signed: SignedDay, tmp_path: Path) -> None:
    """The signed file is in the language of the plan; whoever asks for another one gets a copy."""
    out = tmp_path / "copy.pdf"
    assert main(["report", str(signed.day), "--documents", "pseudo", "--out", str(out)]) == 0
    with pikepdf.open(out) as pdf:
        assert pdf.Root.Lang == "pseudo"
    assert out.read_bytes() != signed.copy.read_bytes()
    assert "proof-pages-same-bytes" in {told.code for told in verify(out).told}


def test_a_record_that_is_not_whole_is_not_printed(tmp_path: Path, signed: SignedDay) -> None:
    with DayLog.open(signed.day, read_only=True) as log:
        write_daily_pdf(record_of(log), tmp_path / "day.pdf")
    with pikepdf.open(tmp_path / "day.pdf", allow_overwriting_input=True) as pdf:
        stream = pdf.attachments["events.jsonl"].get_file().obj
        stream.write(stream.read_bytes().replace(REMARK.encode(), REMARK.replace("eighty", "ninety").encode()))
        pdf.save(tmp_path / "day.pdf", fix_metadata_version=False)
    (tmp_path / "scratch").mkdir()
    with pytest.raises(Refused, match="proof-facts-damaged"):
        reprint._printed(tmp_path / "scratch", tmp_path / "day.pdf", None)
