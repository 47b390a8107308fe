"""Time stamps of an authority (RFC 3161) over the head of a day: the record was there at a time that no tablet tells.

The hash that is stamped is the head itself, which is the SHA-256 of the last event's text, so that anybody can check a
stamp with `openssl ts -verify -digest HEAD -in ANSWER -CAfile ROOT`. The tablet is offline: it writes a request, and
the answer is taken in whenever somebody was online. That a root certificate is the authority's own, no file can tell.

The library is one made for this alone. It checks the signature over the stamp, and the certificates as they were valid
at its time; that the signer's certificate is for time stamps and nothing else (RFC 3161, 2.3) is checked here.
"""

from __future__ import annotations

import contextlib
import warnings
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from rfc3161_client import (
    HashAlgorithm,
    PKIStatus,
    TimestampRequestBuilder,
    TimeStampResponse,
    TimeStampTokenInfo,
    VerifierBuilder,
    decode_timestamp_response,
)

from fieldassist.files import UnfitFile, read_regular
from fieldassist.record.beside import keep_beside, proofs_folder
from fieldassist.record.disk import whole_file
from fieldassist.record.log import LogProblem
from fieldassist.record.manifest import LARGEST_PROOF
from fieldassist.trade.message import Message, Refused, message

_SHA256 = x509.ObjectIdentifier("2.16.840.1.101.3.4.2.1")


class StampProblem(Refused):
    """A stamp, a request or a root that is not good; `told` says why."""


class OfAnotherAuthority(StampProblem):
    """A stamp that is none of the authority whose root was given."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a stamp says: this head was there `at`, says `authority`. nonce: of the request that it answers, None for
    none."""

    head: str
    at: datetime
    authority: str
    nonce: int | None


def write_request(day: Path, text: str, events: int) -> Path:
    """Write a request over the head of a day, which is the hash of its last event's `text`, beside it; where it lies.

    events: how many there are. Each request has a nonce of its own, which stands in its file's name too: so an answer
    is told from that to another request. LogProblem when the disk refuses.
    """
    made = TimestampRequestBuilder().data(text.encode("utf-8")).hash_algorithm(HashAlgorithm.SHA256)
    request = made.nonce(nonce=True).cert_request(cert_request=True).build()
    path = proofs_folder(day, "stamp") / f"{events}-{request.nonce:x}.tsq"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with whole_file(path) as file:
            file.write(request.as_bytes())
    except OSError as error:
        raise LogProblem(message("record-proof-not-kept", why=error.strerror or str(error))) from error
    return path


def take_answer(day: Path, hashes: Sequence[str], file: Path, root: bytes | None = None) -> tuple[Stamp, Path]:
    """Keep an authority's answer beside its day; the stamp, and where it lies.

    hashes: the day's chain hashes; root: as `read_root` gives it, None to leave it unchecked whose answer it is.
    StampProblem where it is no stamp of this day, answers no request that was written here, or is not of that
    authority; LogProblem from the disk.
    """
    try:
        data = read_regular(file, LARGEST_PROOF)
    except UnfitFile as problem:
        raise StampProblem(message("record-stamp-unread", file=str(file), why=_why(problem))) from problem
    stamp = read_stamp(data)
    covered(stamp, hashes)
    asked = {path.stem.rpartition("-")[2] for path in proofs_folder(day, "stamp").glob("*.tsq")}
    if stamp.nonce is None or f"{stamp.nonce:x}" not in asked:
        raise StampProblem(message("record-stamp-other-request"))
    if root is not None:
        check_stamp(data, root)
    path, _ = keep_beside(day, "stamp", data)
    return stamp, path


def read_stamp(data: bytes) -> Stamp:
    """What an answer says; nothing vouches for it yet. StampProblem where it is none."""
    answer, told = _decoded(data)
    with _reading():
        imprint = told.message_imprint
        if imprint.hash_algorithm != _SHA256:
            raise StampProblem(message("record-stamp-other-hash"))
        return Stamp(imprint.message.hex(), told.gen_time, _name(_signer(answer)), told.nonce)


def covered(stamp: Stamp, hashes: Sequence[str]) -> int:
    """How many events the stamp covers. StampProblem where its head is none of these."""
    if stamp.head not in hashes:
        raise StampProblem(message("record-stamp-other-head", head=stamp.head))
    return hashes.index(stamp.head) + 1


def check_stamp(data: bytes, root: bytes) -> Stamp:
    """The stamp, once its signature is good, by a certificate that was valid at its time and leads to the root.

    OfAnotherAuthority where it leads to another one; StampProblem where anything else is not good.
    """
    stamp = read_stamp(data)
    answer, _ = _decoded(data)
    _for_stamps_alone(_signer(answer))
    try:
        with _reading():
            VerifierBuilder(roots=_certificates(root)).build().verify(answer, bytes.fromhex(stamp.head))
    except StampProblem as problem:
        why = str(problem.__cause__)
        if any(sign in why for sign in _NOT_FROM_THERE):
            raise OfAnotherAuthority(message("record-stamp-other-authority", authority=stamp.authority)) from problem
        if "expired" in why or "not yet valid" in why:
            raise StampProblem(message("record-stamp-expired", authority=stamp.authority)) from problem
        raise StampProblem(message("record-stamp-signature")) from problem
    return stamp


# What OpenSSL says of a chain that does not end at a given root (X509_STORE_CTX_get_error, codes 2 and 18 to 21).
_NOT_FROM_THERE = (
    *("unable to get issuer certificate", "unable to get local issuer certificate", "self-signed certificate"),
    *("self signed certificate", "unable to verify the first certificate"),
)


def read_root(path: Path) -> bytes:
    """An authority's root, one certificate or several in PEM, as they stand in the file. StampProblem for none."""
    try:
        data = read_regular(path, LARGEST_PROOF)
    except UnfitFile as problem:
        raise StampProblem(message("record-root-unread", file=str(path), why=_why(problem))) from problem
    _certificates(data)
    return data


def _why(problem: UnfitFile) -> Message:
    if problem.code == "file-too-large":
        return message("file-too-large", most=str(LARGEST_PROOF // 1000))
    return message(problem.code, why=problem.why)


def _certificates(root: bytes) -> list[x509.Certificate]:
    try:
        with _reading():
            return x509.load_pem_x509_certificates(root)
    except StampProblem as error:
        raise StampProblem(message("record-root-none")) from error


def _decoded(data: bytes) -> tuple[TimeStampResponse, TimeStampTokenInfo]:
    """An answer, and the stamp in it."""
    with _reading():
        answer = decode_timestamp_response(data)
        if answer.status != PKIStatus.GRANTED:
            raise StampProblem(message("record-stamp-not-granted", status=str(answer.status)))
        return answer, answer.tst_info


def _signer(answer: TimeStampResponse) -> x509.Certificate:
    """The certificate of whoever signed; requests ask for it to be in the answer."""
    with _reading():
        certificates = [x509.load_der_x509_certificate(der) for der in answer.signed_data.certificates]
        signers = [(one.issuer, one.serial_number) for one in answer.signed_data.signer_infos]
        found = [one for one in certificates if [(one.issuer, one.serial_number)] == signers]
    if not found:
        raise StampProblem(message("record-stamp-no-certificate"))
    return found[0]


def _for_stamps_alone(certificate: x509.Certificate) -> None:
    with _reading():
        uses = [one for one in certificate.extensions if isinstance(one.value, x509.ExtendedKeyUsage)]
        alone = [(use.critical, list(use.value)) for use in uses] == [(True, [ExtendedKeyUsageOID.TIME_STAMPING])]
    if not alone:
        raise StampProblem(message("record-stamp-use", authority=_name(certificate)))


@contextlib.contextmanager
def _reading() -> Iterator[None]:
    """What the libraries raise of bytes that were made to do harm has no common kind: all of it means no stamp."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what a later version will refuse is none of the reader's business
            yield
    except (MemoryError, StampProblem):
        raise
    except Exception as error:
        raise StampProblem(message("record-stamp-none")) from error


def _name(certificate: x509.Certificate) -> str:
    """Who a certificate is made out to: common name and organisation, or all of it where it has neither."""
    with _reading():
        parts = [
            str(one.value)
            for kind in (NameOID.COMMON_NAME, NameOID.ORGANIZATION_NAME)
            for one in certificate.subject.get_attributes_for_oid(kind)
        ]
        return ", ".join(parts) or certificate.subject.rfc4514_string()
