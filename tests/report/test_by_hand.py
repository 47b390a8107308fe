"""The commands on the pages, run as they are printed, with no part of this program."""

from __future__ import annotations

import io
import json
import subprocess
from datetime import datetime
from pathlib import Path

import pikepdf
import pytest

from fieldassist.record.chain import chain_hash
from fieldassist.record.keys import fingerprint
from fieldassist.record.manifest import EVENTS
from fieldassist.report.by_hand import NAME, PAGES, RECIPE
from fieldassist.report.signed import write_signed_pages
from tests.report.conftest import RUTH, HandedOver, Site


def printed(pdf: Path) -> list[str]:
    """The lines of the pages as pdftotext (Poppler) reads them."""
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True).stdout
    return text.splitlines()


@pytest.fixture(scope="module")
def commands(handed_over_pdf: Path) -> str:
    """The commands as they stand on the pages, up to those for the signature of the pages."""
    lines = printed(handed_over_pdf)
    first = lines.index(RECIPE[0])
    return "\n".join(lines[first : first + len(RECIPE)]) + "\n"


def run(commands: str, pdf: bytes, folder: Path) -> str:
    """What somebody reads who types them."""
    (folder / NAME).write_bytes(pdf)
    done = subprocess.run(["bash", "-c", commands], cwd=folder, capture_output=True, text=True, timeout=60)
    return done.stdout + done.stderr


def with_events(pdf: bytes, lines: list[str]) -> bytes:
    """The PDF with other events attached."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        spec = next(x for x in opened.objects if isinstance(x, pikepdf.Dictionary) and "/EF" in x and x.UF == EVENTS)
        spec.EF.F.write("".join(f"{line}\n" for line in lines).encode())
        out = io.BytesIO()
        opened.save(out)
    return out.getvalue()


def test_the_pages_show_the_commands_word_for_word(handed_over_pdf: Path) -> None:
    lines = printed(handed_over_pdf)
    for block in (RECIPE, PAGES):
        first = lines.index(block[0])
        assert tuple(lines[first : first + len(block)]) == block


def test_an_untouched_day_is_found_good_by_hand(
    commands: str, handed_over: HandedOver, handed_over_pdf: Path, tmp_path: Path
) -> None:
    texts = handed_over.record.texts
    sealed = max(json.loads(text)["body"].get("covers", 0) for text in texts)
    assert run(commands, handed_over_pdf.read_bytes(), tmp_path).splitlines() == [
        f"{len(texts)} events, head {chain_hash(texts[-1])}",
        "Signature Verified Successfully",
        f"events 1 to {sealed} of {len(texts)}, sealed by ruth",
        f"fingerprint {fingerprint(RUTH.public_key).replace(' ', '')}",
    ]


def test_a_changed_reading_is_found_by_hand(
    commands: str, handed_over: HandedOver, handed_over_pdf: Path, tmp_path: Path
) -> None:
    texts = [*handed_over.record.texts]
    at = next(n for n, text in enumerate(texts) if '"step":"coverage"' in text and '"value":"92"' in text)
    texts[at] = texts[at].replace('"value":"92"', '"value":"96"')
    found = run(commands, with_events(handed_over_pdf.read_bytes(), texts), tmp_path)
    assert f"NOT GOOD: event {at + 2} does not follow from the one before" in found.splitlines()


def test_a_chain_that_was_made_anew_is_found_by_its_seal_by_hand(
    commands: str, handed_over: HandedOver, handed_over_pdf: Path, tmp_path: Path
) -> None:
    made: list[str] = []
    for text in handed_over.record.texts:
        before = json.loads(text)["prev"]
        again = text.replace('"value":"92"', '"value":"96"')
        made.append(again.replace(f'"prev":"{before}"', f'"prev":"{chain_hash(made[-1]) if made else before}"'))
    found = run(commands, with_events(handed_over_pdf.read_bytes(), made), tmp_path)
    assert "NOT GOOD" not in found
    assert "Signature Verification Failure" in found


def test_the_signature_of_the_pages_is_checked_by_hand(tmp_path: Path) -> None:
    key = RUTH.with_certificate(datetime.fromisoformat("2026-01-01T00:00:00+01:00"))
    site = Site().sign(accept_open=True).seal(key)
    (tmp_path / "attached").mkdir()
    write_signed_pages(site.record(tmp_path / "attached"), key, tmp_path / "signed.pdf", site.now)
    pdf = (tmp_path / "signed.pdf").read_bytes()
    commands = "\n".join((*RECIPE, *PAGES)) + "\n"
    said = run(commands, pdf, tmp_path)
    for good in ("Signature Verified Successfully", "Signature is Valid.", "Total document signed"):
        assert good in said
    assert "the seal names this certificate" in said.splitlines()
    at = len(pdf) // 2
    touched = pdf[:at] + bytes([pdf[at] ^ 1]) + pdf[at + 1 :]
    assert "Signature is Valid." not in run(commands, touched, tmp_path)
