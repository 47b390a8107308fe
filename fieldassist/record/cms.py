"""The signature in a signed PDF: a CMS SignedData (RFC 5652) in the form of PAdES baseline B (ETSI EN 319 142-1).

Written in one way only, in DER (ITU-T X.690): SHA-256, ECDSA on P-256, the signer's certificate and nothing else,
three signed attributes. So a reader needs no parser of CMS: it takes certificate and signature out, writes the whole
again and compares, and nothing has room to hide.

The time of signing is no signed attribute: PAdES keeps it in the signature's dictionary of the PDF.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import load_der_public_key

from fieldassist.trade.message import Refused, message

if TYPE_CHECKING:
    from fieldassist.record.keys import SigningKey

# X.690, 8.1.2: tags of what stands here.
_INTEGER, _OCTETS, _OID, _SEQUENCE, _SET, _FIRST = 0x02, 0x04, 0x06, 0x30, 0x31, 0xA0


class NoSuchSignature(Refused):
    """What should be a signature of ours is none; `told` says why."""


@dataclass(frozen=True, slots=True)
class SignedData:
    """A signature that was read. certificate: in DER, of whoever signed; it is good for no other bytes than those of
    the hash with which it was read."""

    certificate: bytes


def _tlv(tag: int, *content: bytes) -> bytes:
    """One value in DER (X.690, 8.1.3): its tag, the length in the shortest form, what is in it."""
    body = b"".join(content)
    size = len(body)
    if size < 0x80:
        return bytes((tag, size)) + body
    length = size.to_bytes((size.bit_length() + 7) // 8, "big")
    return bytes((tag, 0x80 | len(length))) + length + body


def _oid(dotted: str) -> bytes:
    """An object identifier (X.690, 8.19).

    >>> _oid("1.2.840.10045.4.3.2").hex()
    '06082a8648ce3d040302'
    """
    first, second, *rest = map(int, dotted.split("."))
    out = bytearray((40 * first + second,))
    for arc in rest:
        groups = [arc & 0x7F]
        while arc := arc >> 7:
            groups.append(0x80 | arc & 0x7F)
        out += bytes(reversed(groups))
    return _tlv(_OID, bytes(out))


_DATA = _oid("1.2.840.113549.1.7.1")
_SIGNED_DATA = _oid("1.2.840.113549.1.7.2")
_CONTENT_TYPE = _oid("1.2.840.113549.1.9.3")
_MESSAGE_DIGEST = _oid("1.2.840.113549.1.9.4")
_SIGNING_CERTIFICATE_V2 = _oid("1.2.840.113549.1.9.16.2.47")  # RFC 5035, section 3
_SHA_256 = _tlv(_SEQUENCE, _oid("2.16.840.1.101.3.4.2.1"))  # RFC 5754, section 2.2: no parameters
_ECDSA_SHA_256 = _tlv(_SEQUENCE, _oid("1.2.840.10045.4.3.2"))  # RFC 5758, section 3.2: no parameters


def sign_hash(digest: bytes, key: SigningKey) -> bytes:
    """The signature by the page key of `key` over bytes whose SHA-256 is `digest`, in DER; the same each time.

    ValueError when the key has no certificate.
    """
    if not key.certificate:
        raise ValueError("a key without a certificate signs no pages")
    # RFC 6979: no randomness, which a bad source could give the key away by.
    how = ec.ECDSA(SHA256(), deterministic_signing=True)
    signature = key.pages_key().sign(_tlv(_SET, *_attributes(key.certificate, digest)), how)
    return _written(key.certificate, digest, signature)


def read_signature(data: bytes, digest: bytes) -> SignedData:
    """The signature in `data`, which has to be whole and good over bytes whose SHA-256 is `digest`.

    NoSuchSignature when it is in another form than ours, is not by the key of its certificate, or over other bytes.
    Whose certificate that is, is for the caller to ask.
    """
    try:
        certificate, signature = _taken_out(data)
        key = load_der_public_key(_part_of_certificate(certificate, 6))
    except (ValueError, IndexError, UnsupportedAlgorithm):
        raise NoSuchSignature(message("record-signature-form")) from None
    if not isinstance(key, ec.EllipticCurvePublicKey) or not isinstance(key.curve, ec.SECP256R1):
        raise NoSuchSignature(message("record-signature-form"))
    attributes = _attributes(certificate, digest)
    try:
        key.verify(signature, _tlv(_SET, *attributes), ec.ECDSA(SHA256()))
    except InvalidSignature:
        raise NoSuchSignature(message("record-signature-other-bytes")) from None
    # Only now: bytes that were changed are to be told as that.
    if _written(certificate, digest, signature) != data:
        raise NoSuchSignature(message("record-signature-form"))
    return SignedData(certificate)


def _attributes(certificate: bytes, digest: bytes) -> list[bytes]:
    """What is signed, in the order of a SET OF in DER (X.690, 11.6).

    RFC 5652, 11.1 and 11.2; RFC 5035, section 3: the certificate by its SHA-256, which is the default and not named.
    """
    named = _tlv(_SEQUENCE, _tlv(_SEQUENCE, _tlv(_SEQUENCE, _tlv(_OCTETS, hashlib.sha256(certificate).digest()))))
    return sorted(
        (
            _tlv(_SEQUENCE, _CONTENT_TYPE, _tlv(_SET, _DATA)),
            _tlv(_SEQUENCE, _MESSAGE_DIGEST, _tlv(_SET, _tlv(_OCTETS, digest))),
            _tlv(_SEQUENCE, _SIGNING_CERTIFICATE_V2, _tlv(_SET, named)),
        )
    )


def _written(certificate: bytes, digest: bytes, signature: bytes) -> bytes:
    """The whole: RFC 5652, sections 3 and 5.1, the signer named by issuer and serial number (5.3)."""
    signer = _tlv(
        _SEQUENCE,
        _tlv(_INTEGER, b"\x01"),
        _tlv(_SEQUENCE, _part_of_certificate(certificate, 3), _part_of_certificate(certificate, 1)),
        _SHA_256,
        _tlv(_FIRST, *_attributes(certificate, digest)),
        _ECDSA_SHA_256,
        _tlv(_OCTETS, signature),
    )
    signed = _tlv(
        _SEQUENCE,
        _tlv(_INTEGER, b"\x01"),
        _tlv(_SET, _SHA_256),
        _tlv(_SEQUENCE, _DATA),
        _tlv(_FIRST, certificate),
        _tlv(_SET, signer),
    )
    return _tlv(_SEQUENCE, _SIGNED_DATA, _tlv(_FIRST, signed))


# --- taking out ---------------------------------------------------------------------------------------------------


def _parts(data: bytes) -> list[bytes]:
    """The values that a value in DER is made of. ValueError when it does not end where it says."""
    _, body, after = _opened(data, 0)
    if after != len(data):
        raise ValueError("more follows")
    found, at = [], body
    while at < len(data):
        _, _, end = _opened(data, at)
        found.append(data[at:end])
        at = end
    return found


def _opened(data: bytes, at: int) -> tuple[int, int, int]:
    """Tag, begin of the content and end of the value at `at`. ValueError, IndexError where there is none."""
    tag, size, body = data[at], data[at + 1], at + 2
    if size >= 0x80:
        body += size & 0x7F
        size = int.from_bytes(data[at + 2 : body], "big")
    if body + size > len(data):
        raise ValueError("it ends too early")
    return tag, body, body + size


def _part_of_certificate(certificate: bytes, number: int) -> bytes:
    """A field of a certificate of version 3 (RFC 5280, 4.1): 1 the serial number, 3 the issuer, 6 the public key."""
    return _parts(_parts(certificate)[0])[number]


def _taken_out(data: bytes) -> tuple[bytes, bytes]:
    """Certificate and signature of a SignedData."""
    (signed,) = _parts(_parts(data)[1])
    *_, certificates, signers = _parts(signed)
    (certificate,), (signer,) = _parts(certificates), _parts(signers)
    octets = _parts(signer)[-1]
    _, body, end = _opened(octets, 0)
    return certificate, octets[body:end]
