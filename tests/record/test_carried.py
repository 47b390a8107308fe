"""A key reaches another tablet as it was, and only with its words and its PIN."""

from __future__ import annotations

import json
import stat
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import rfc8785

from fieldassist.checklist.plan import Role
from fieldassist.record import carried
from fieldassist.record.carried import drawn_words, read_carried, write_carried
from fieldassist.record.keys import KeyProblem, Keyring

pytestmark = pytest.mark.usefixtures("cheap_hash")
NOW = datetime.fromisoformat("2026-03-17T15:40:00+01:00")
PIN = "271828"


@pytest.fixture
def here(tmp_path: Path) -> Keyring:
    """A tablet on which Edwin's PIN was reset once."""
    ring = Keyring(tmp_path / "here")
    ring.set_pin("edwin", Role.FOREMAN, PIN, now=NOW)
    ring.reset("edwin", Role.FOREMAN, PIN, now=NOW)
    return ring


@pytest.fixture
def there(tmp_path: Path) -> Keyring:
    return Keyring(tmp_path / "there")


def test_a_key_arrives_with_role_certificate_and_what_it_replaced_and_the_pin_opens_it(
    here: Keyring, there: Keyring, tmp_path: Path
) -> None:
    out = tmp_path / "edwin.carried"
    words = write_carried(out, here.hand_on("edwin", PIN, NOW))
    assert stat.S_IMODE(out.stat().st_mode) == 0o600
    assert len(words.split()) == 6
    for secret in (words, PIN, "edwin", here.people()[0].public_key):
        assert secret.encode() not in out.read_bytes()
    arrived = there.take_over(read_carried(out, f"  {words.upper().replace(' ', ' - ')} "), PIN)
    assert (arrived,) == here.people() == there.people()
    assert arrived.replaces
    assert arrived.certificate
    assert there.unlock("edwin", PIN, NOW).sign(b"x") == here.unlock("edwin", PIN, NOW).sign(b"x")


def test_neither_words_nor_pin_alone_open_it_and_nothing_is_left_behind(
    here: Keyring, there: Keyring, tmp_path: Path
) -> None:
    out = tmp_path / "edwin.carried"
    words = write_carried(out, here.hand_on("edwin", PIN, NOW))
    other = write_carried(tmp_path / "again.carried", here.hand_on("edwin", PIN, NOW))
    assert other != words, "each file has words of its own"
    for said, why in (
        (other, "words"),
        (" ".join(reversed(words.split())), "words"),
        (words.rsplit(" ", 1)[0], "count"),
        (f"{words} apple", "count"),
        (f"{words.rsplit(' ', 1)[0]} xylograph", "word"),
        ("", "count"),
    ):
        with pytest.raises(KeyProblem, match=rf"record-carried-{why}\b"):
            read_carried(out, said)
    for pin in ("314159", "1", ""):
        with pytest.raises(KeyProblem, match="record-carried-pin"):
            there.take_over(read_carried(out, words), pin)
    assert there.people() == ()


def test_it_is_handed_on_only_by_pin(here: Keyring) -> None:
    with pytest.raises(KeyProblem, match="record-key-wrong-pin"):
        here.hand_on("edwin", "314159", NOW)


def test_nobody_gets_a_second_key_and_practice_stays_apart(here: Keyring, there: Keyring, tmp_path: Path) -> None:
    file = here.hand_on("edwin", PIN, NOW)
    with pytest.raises(KeyProblem, match="record-carried-practice"):
        Keyring(tmp_path / "practice", practice=True).take_over(file, PIN)
    there.take_over(file, PIN)
    for ring, same in ((there, "yes"), (Keyring(tmp_path / "third"), "no")):
        if same == "no":
            ring.set_pin("edwin", Role.FOREMAN, PIN, now=NOW)
        with pytest.raises(KeyProblem, match=rf"record-carried-here\(name=edwin, same={same}\)"):
            ring.take_over(file, PIN)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"passes": 2}, "words"),
        ({"salt": "0" * 32}, "words"),
        ({"encrypted": ""}, "words"),
        ({"memory_kib": 1 << 30}, "none"),
        ({"more": 1}, "none"),
    ],
)
def test_a_changed_file_is_refused(here: Keyring, tmp_path: Path, change: dict[str, Any], why: str) -> None:
    out = tmp_path / "edwin.carried"
    words = write_carried(out, here.hand_on("edwin", PIN, NOW))
    out.write_bytes(rfc8785.dumps(json.loads(out.read_bytes()) | change))
    with pytest.raises(KeyProblem, match=f"record-carried-{why}"):
        read_carried(out, words)


def test_there_are_2048_short_words_of_plain_letters() -> None:
    words = drawn_words()
    assert len(set(words)) == len(words) == 2048
    assert all(3 <= len(word) <= 8 and word.isascii() and word.islower() for word in words)
    assert carried.WORDS * 11 == 66, "bits: 2^11 words each"
