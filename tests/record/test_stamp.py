"""Time stamps by an authority of our own, made with OpenSSL: what is taken, and what is not (RFC 3161)."""

from __future__ import annotations

import subprocess
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from fieldassist.record.beside import proofs_beside
from fieldassist.record.chain import chain_hash
from fieldassist.record.stamp import (
    OfAnotherAuthority,
    StampProblem,
    check_stamp,
    covered,
    read_root,
    read_stamp,
    take_answer,
    write_request,
)
from tests.authority import Authority

TEXTS = ('{"seq":1}', '{"seq":2}', '{"seq":3}')
HASHES = [chain_hash(text) for text in TEXTS]


@dataclass
class Asked:
    """A day with three events, and a request over the last."""

    day: Path
    request: Path
    authority: Authority

    def take(self, answer: Path, root: bytes | None = None) -> str:
        """The code of why the answer is not taken in, "" where it is."""
        try:
            take_answer(self.day, HASHES, answer, root)
        except StampProblem as problem:
            return problem.told.code
        return ""


@pytest.fixture(scope="module")
def authority(tmp_path_factory: pytest.TempPathFactory) -> Authority:
    return Authority(tmp_path_factory.mktemp("authority"))


@pytest.fixture
def asked(tmp_path: Path, authority: Authority) -> Asked:
    day = tmp_path / "2026-03-17.db"
    return Asked(day, write_request(day, TEXTS[2], 3), authority)


def test_a_request_is_over_the_head_itself_and_asks_for_the_certificate(asked: Asked) -> None:
    told = subprocess.run(["openssl", "ts", "-query", "-in", asked.request, "-text"], capture_output=True, text=True)
    assert "Hash Algorithm: sha256" in told.stdout
    assert "Certificate required: yes" in told.stdout
    data = asked.request.read_bytes()
    assert bytes.fromhex(HASHES[2]) in data
    assert write_request(asked.day, TEXTS[2], 3).read_bytes() != data  # another nonce


def test_an_answer_is_taken_in_and_says_when_the_record_was_there(asked: Asked) -> None:
    before = datetime.now(UTC).replace(microsecond=0)
    answer = asked.authority.answer(asked.request)
    stamp, kept = take_answer(asked.day, HASHES, answer, asked.authority.root)
    assert (stamp.head, stamp.authority) == (HASHES[2], "Clock 1, Quillhaven Time")
    assert before <= stamp.at <= datetime.now(UTC)
    assert covered(stamp, HASHES) == 3
    assert proofs_beside(asked.day, "stamp") == (kept,)
    assert check_stamp(kept.read_bytes(), asked.authority.root) == stamp
    # The same with OpenSSL, from nothing but the head.
    verified = [
        "openssl",
        "ts",
        "-verify",
        "-digest",
        HASHES[2],
        "-in",
        kept,
        "-CAfile",
        asked.authority.file("root.pem"),
    ]
    assert subprocess.run(verified, capture_output=True).returncode == 0


def test_what_is_no_answer_to_our_request_is_not_taken_in(asked: Asked, tmp_path: Path) -> None:
    authority = asked.authority
    elsewhere = write_request(tmp_path / "other.db", '{"seq":9}', 1)
    assert asked.take(authority.answer(elsewhere)) == "record-stamp-other-head"
    again = write_request(tmp_path / "same.db", TEXTS[2], 3)
    assert asked.take(authority.answer(again)) == "record-stamp-other-request"
    assert asked.take(authority.answer(asked.request, digest_only=HASHES[2])) == "record-stamp-other-request"
    assert asked.take(asked.request) == "record-stamp-none"
    assert asked.take(tmp_path / "none.tsr") == "record-stamp-unread"
    assert (
        asked.take(authority.answer(asked.request), Authority(tmp_path / "other").root)
        == "record-stamp-other-authority"
    )
    assert proofs_beside(asked.day, "stamp") == ()


@pytest.mark.parametrize(
    ("made", "code"),
    [
        ({"valid": ("20200101000000Z", "20200201000000Z")}, "record-stamp-expired"),
        ({"valid": ("20990101000000Z", "20990201000000Z")}, "record-stamp-expired"),
    ],
)
def test_a_signer_that_could_not_stamp_then_is_told(asked: Asked, made: dict[str, object], code: str) -> None:
    answer = asked.authority.answer(asked.request, signer=asked.authority.signer(**made))  # type: ignore[arg-type]
    with pytest.raises(StampProblem) as problem:
        check_stamp(answer.read_bytes(), asked.authority.root)
    assert problem.value.told.code == code


@pytest.mark.parametrize("use", ["critical,timeStamping,codeSigning", "timeStamping"])
def test_a_certificate_that_is_not_for_stamps_alone_vouches_for_none(asked: Asked, use: str) -> None:
    authority = asked.authority
    answer = authority.answer(asked.request)
    assert check_stamp(authority.exchanged(answer, authority.signer()), authority.root).head == HASHES[2]
    with pytest.raises(StampProblem) as problem:
        check_stamp(authority.exchanged(answer, authority.signer(use=use)), authority.root)
    assert problem.value.told.code == "record-stamp-use"


def test_an_authority_of_the_same_name_is_another_one(asked: Asked, tmp_path: Path) -> None:
    answer = Authority(tmp_path / "same name").answer(asked.request)
    with pytest.raises(OfAnotherAuthority):
        check_stamp(answer.read_bytes(), asked.authority.root)


def test_no_changed_byte_changes_what_a_good_stamp_says(asked: Asked) -> None:
    data = asked.authority.answer(asked.request).read_bytes()
    said = check_stamp(data, asked.authority.root)
    refused = 0
    for place in range(0, len(data), 3):
        changed = bytearray(data)
        changed[place] ^= 0x01
        try:
            assert check_stamp(bytes(changed), asked.authority.root) == said
        except StampProblem:
            refused += 1
    assert refused > 0.9 * len(range(0, len(data), 3))
    for broken in (data[:-1], data + b"\0", b"", b"0" * 2000):
        with pytest.raises(StampProblem):
            read_stamp(broken)


def test_a_root_is_a_certificate_in_pem(tmp_path: Path, authority: Authority) -> None:
    assert read_root(authority.file("root.pem")) == authority.root
    (tmp_path / "key.pem").write_bytes(b"-----BEGIN PUBLIC KEY-----\n-----END PUBLIC KEY-----\n")
    for path, code in ((tmp_path / "key.pem", "record-root-none"), (tmp_path / "none.pem", "record-root-unread")):
        with pytest.raises(StampProblem) as problem:
            read_root(path)
        assert problem.value.told.code == code
