"""What can be said of `assets/verify.html` without a browser. In browsers: `python -m tests.browsers`."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest

from fieldassist.cli import main
from fieldassist.proof.verdict import UNREADABLE
from fieldassist.record import manifest
from fieldassist.record.seal import SignedByPin
from tests.browsers.page import PAGE, part, with_hashes

TEXT = PAGE.read_text(encoding="ascii")


def test_the_page_allows_its_own_script_and_style_and_nothing_else() -> None:
    # W3C, Content Security Policy Level 3: the hashes are those of what is in it, and there is no other source.
    assert with_hashes(TEXT) == TEXT, "write them anew: python -m tests.browsers hashes"
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', TEXT)
    assert policy is not None
    assert re.sub(r"'sha256-[\w+/=]{44}'", "HASH", policy[1]).split("; ") == [
        "default-src 'none'",
        "script-src HASH",
        "style-src HASH",
        "base-uri 'none'",
        "form-action 'none'",
    ]


def test_the_page_reaches_for_nothing_outside_itself() -> None:
    assert not re.findall(r"\bhttps?:|\bsrc=|\bhref=|@import|url\(|\bimport\(", TEXT)
    assert not re.findall(
        r"\b(?:fetch|XMLHttpRequest|WebSocket|EventSource|sendBeacon|open)\s*\(", part(TEXT, "script")
    )


def test_what_a_file_says_never_becomes_markup_or_script() -> None:
    forbidden = r"innerHTML|outerHTML|insertAdjacent|document\.write|\beval\b|\bFunction\b|setAttribute|\.on[a-z]+ ="
    assert not re.findall(forbidden, part(TEXT, "script"))


def test_the_page_is_small_enough_to_lie_in_every_bundle() -> None:
    assert len(TEXT) < 120_000 < manifest.LARGEST_PAGE


def test_the_page_knows_whatever_a_pin_signs() -> None:
    known = re.search(r"BY_PIN = new Set\(\[(.*?)\]\)", TEXT)
    assert known is not None
    assert set(re.findall(r'"(.*?)"', known[1])) == {
        get_args(m.model_fields["type"].annotation)[0] for m in get_args(SignedByPin)
    }


def test_the_page_is_written_by_command_and_cannot_be_confused_with_a_file_to_check(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "verify.html"
    assert main(["verify", "--page", str(out)]) == 0
    assert out.read_bytes() == PAGE.read_bytes()
    assert main(["verify", str(out)]) == UNREADABLE
    assert main(["verify"]) == 2
    assert main(["verify", "--page", str(tmp_path / "no" / "such" / "folder.html")]) == 2
    assert "No such file" in capsys.readouterr().err


NAMES = (
    "events.jsonl",
    "daily-log.pdf",
    "attached/0123456789abcdef.flac",
    "proof/receipt-9.json",
    "proof/roster.json",
    "proof/stamp-99.tsr",
    "verify.html",
)


@pytest.mark.parametrize("name", NAMES)
def test_the_page_takes_the_names_that_a_bundle_has_and_no_other(name: str) -> None:
    written = re.search(r"OF_BUNDLE = /\^(.*)\$/;", TEXT)
    assert written is not None
    of_bundle = re.compile(written[1].replace(r"\/", "/"))
    assert of_bundle.fullmatch(name) is not None
    assert [bad for bad in (f"../{name}", f"/{name}", f"{name}/x", name + "\n") if of_bundle.fullmatch(bad)] == []
