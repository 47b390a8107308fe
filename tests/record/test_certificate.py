"""The certificate for pages is what its description says, to other programs too."""

from __future__ import annotations

import hashlib
import hmac
import subprocess
from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256

from fieldassist.checklist.plan import Role
from fieldassist.record.certificate import CertifiedPerson, certificate_name, make_certificate, pages_key
from fieldassist.record.keys import SigningKey, certificate_hash

SEED = bytes(range(32))
NOW = datetime.fromisoformat("2026-03-17T15:40:00.7+01:00")
EDWIN = CertifiedPerson("edwin", Role.FOREMAN, practice=False)


def test_the_page_key_is_hkdf_of_the_records_seed_brought_into_the_group_of_p_256() -> None:
    # RFC 5869, section 2, and FIPS 186-5, A.2.1, by themselves; n: SP 800-186, 3.2.1.3.
    drawn, block = b"", b""
    extracted = hmac.new(bytes(32), SEED, "sha256").digest()
    for number in (1, 2):
        block = hmac.new(extracted, block + b"fieldassist pages 1" + bytes([number]), "sha256").digest()
        drawn += block
    n = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
    wanted = int.from_bytes(drawn[:48], "big") % (n - 1) + 1
    key = pages_key(SEED)
    assert key.private_numbers().private_value == wanted
    assert isinstance(key.curve, ec.SECP256R1)


def test_a_certificate_names_the_person_and_signs_itself_for_thirty_years() -> None:
    der = make_certificate(pages_key(SEED), EDWIN, NOW)
    assert certificate_name(der) == EDWIN
    read = x509.load_der_x509_certificate(der)
    assert read.subject.rfc4514_string() == "2.5.4.12=foreman,CN=edwin"
    assert read.not_valid_before_utc.isoformat() == "2026-03-17T14:40:00+00:00"
    assert read.not_valid_after_utc.isoformat() == "2056-03-17T14:40:00+00:00"
    usage = read.extensions.get_extension_for_class(x509.KeyUsage)
    assert usage.critical
    # RFC 5280, 4.2.1.3: bits 0 and 1.
    assert usage.value.digital_signature
    assert usage.value.content_commitment
    others = (usage.value.key_cert_sign, usage.value.crl_sign, usage.value.key_agreement, usage.value.key_encipherment)
    assert others == (False,) * 4
    pages_key(SEED).public_key().verify(read.signature, read.tbs_certificate_bytes, ec.ECDSA(SHA256()))


def test_the_same_key_person_and_second_give_the_same_certificate_and_practice_shows_in_its_name() -> None:
    key = SigningKey("edwin", Role.FOREMAN, SEED).with_certificate(NOW)
    assert key.certificate == make_certificate(pages_key(SEED), EDWIN, NOW.replace(microsecond=0))
    assert certificate_hash(key.certificate) == hashlib.sha256(key.certificate).hexdigest()
    practice = SigningKey("edwin", Role.FOREMAN, SEED, practice=True).with_certificate(NOW)
    assert certificate_name(practice.certificate).practice
    assert "practice only" in x509.load_der_x509_certificate(practice.certificate).subject.rfc4514_string()


def test_openssl_finds_the_certificate_good(tmp_path: Path) -> None:
    (tmp_path / "edwin.der").write_bytes(make_certificate(pages_key(SEED), EDWIN, NOW))
    read = ["openssl", "x509", "-in", tmp_path / "edwin.der", "-inform", "DER", "-out", tmp_path / "edwin.pem"]
    subprocess.run(read, check=True)
    at = str(int(NOW.timestamp()) + 60)
    check = ["openssl", "verify", "-attime", at, "-x509_strict", "-CAfile", "edwin.pem", "edwin.pem"]
    told = subprocess.run(check, cwd=tmp_path, capture_output=True, text=True)
    assert (told.returncode, told.stdout) == (0, "edwin.pem: OK\n"), told.stderr
