"""The certificate of a signer's page key: what a viewer of a signed PDF shows as the name of the signer.

Pages are signed with ECDSA on P-256 (FIPS 186-5), since hardly a viewer knows Ed25519. The key is drawn from the seed
of the record's key, so that one PIN opens both and nothing more has to be kept secret. No authority stands behind the
certificate (RFC 5280): the person's key signed it itself, on the tablet. What ties it to the person is that the seal
in the record names its SHA-256, and that the roster does.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509.oid import NameOID

from fieldassist.record.keys import KeyRole, key_role

# Longer than anybody asks for the papers of a wall.
VALID_YEARS = 30
PRACTICE_ONLY = "practice only: signs no work"
_INFO = b"fieldassist pages 1"
# The order n of the group of P-256: SP 800-186, 3.2.1.3.
_ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551


@dataclass(frozen=True, slots=True)
class CertifiedPerson:
    """Whom a certificate names. practice: its key signs rehearsals only."""

    name: str
    role: KeyRole
    practice: bool


def pages_key(seed: bytes) -> ec.EllipticCurvePrivateKey:
    """The key for pages that belongs to the record's key of this seed (32 bytes); the same each time.

    HKDF-SHA256 (RFC 5869) gives 48 bytes, of which the remainder by n - 1, plus one, is the private key: 128 bits more
    than n has leave no bias that anybody could find (FIPS 186-5, A.2.1).
    """
    drawn = HKDF(hashes.SHA256(), length=48, salt=None, info=_INFO).derive(seed)
    return ec.derive_private_key(int.from_bytes(drawn, "big") % (_ORDER - 1) + 1, ec.SECP256R1())


def make_certificate(key: ec.EllipticCurvePrivateKey, person: CertifiedPerson, made: datetime) -> bytes:
    """The certificate of a page key, in DER: the same for the same key, person and second.

    made: when the key was made, with its offset from UTC; the certificate is good from then on for 30 years.
    """
    start = made.astimezone(UTC).replace(microsecond=0)
    public = key.public_key()
    about = [x509.NameAttribute(NameOID.COMMON_NAME, person.name), x509.NameAttribute(NameOID.TITLE, person.role.value)]
    if person.practice:
        about.append(x509.NameAttribute(NameOID.ORGANIZATIONAL_UNIT_NAME, PRACTICE_ONLY))
    name = x509.Name(about)
    identifier = x509.SubjectKeyIdentifier.from_public_key(public)
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(public)
        # RFC 5280, 4.1.2.2: positive, at most 20 octets; no authority keeps a list, and one key has one certificate.
        .serial_number(int.from_bytes(hashlib.sha256(identifier.digest).digest()[:16], "big") | 1)
        .not_valid_before(start)
        .not_valid_after(_years_later(start))
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_for_signatures(), critical=True)
        .add_extension(identifier, critical=False)
        .sign(key, hashes.SHA256(), ecdsa_deterministic=True)
        .public_bytes(Encoding.DER)
    )


def certificate_name(der: bytes) -> CertifiedPerson:
    """Whom a certificate of ours names. ValueError when it is none: it is not believed before its key was checked."""
    try:
        found = {part.oid: str(part.value) for part in x509.load_der_x509_certificate(der).subject}
    except x509.InvalidVersion as error:
        raise ValueError("the certificate is of another version") from error
    name, role = found.get(NameOID.COMMON_NAME), found.get(NameOID.TITLE)
    if name is None or role is None:
        raise ValueError("the certificate names nobody")
    return CertifiedPerson(name, key_role(role), found.get(NameOID.ORGANIZATIONAL_UNIT_NAME) == PRACTICE_ONLY)


def is_certificate_of(der: bytes, key: ec.EllipticCurvePrivateKey, person: CertifiedPerson) -> bool:
    """Whether a certificate is that of this page key and person, and signed by the key itself."""
    try:
        read = x509.load_der_x509_certificate(der)
        public = read.public_key()
        if public != key.public_key() or certificate_name(der) != person:
            return False
        assert isinstance(public, ec.EllipticCurvePublicKey)
        public.verify(read.signature, read.tbs_certificate_bytes, ec.ECDSA(hashes.SHA256()))
    except (ValueError, InvalidSignature):
        return False
    return True


def _years_later(start: datetime) -> datetime:
    """The same day so many years later; of 29 February, the day before it.

    >>> _years_later(datetime(2028, 2, 29, tzinfo=UTC)).date().isoformat()
    '2058-02-28'
    """
    day = 28 if (start.month, start.day) == (2, 29) else start.day
    return start.replace(year=start.year + VALID_YEARS, day=day)


@cache
def _for_signatures() -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=True,
        content_commitment=True,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )
