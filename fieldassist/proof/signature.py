"""The signature of a daily log on paper: over all of the file but itself, in the one form (`strict`, `record.cms`)."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass

from fieldassist.proof.strict import Loose, read_strict
from fieldassist.record.cms import read_signature
from fieldassist.trade.message import message

# ISO 32000-1, 12.8.1, as it is written here: keys in the order of the alphabet, the numbers filled up with spaces.
_SIGNATURE = re.compile(
    rb"[0-9]+ 0 obj\n<< /ByteRange \[ 0 (?P<start>[0-9]{1,10}) (?P<end>[0-9]{1,10}) (?P<rest>[0-9]{1,10}) \] {1,40}"
    rb"/Contents <(?P<hex>[0-9a-f]{2,32768})> /Filter /Adobe\.PPKLite /M \((?P<at>D:[0-9]{14}[+-][0-9]{2}'[0-9]{2}')\) "
    rb"/Name (?P<name>\((?:[^()\\]|\\.){1,400}\)|<[0-9a-f]{2,800}>) /SubFilter /ETSI\.CAdES\.detached /Type /Sig >>\n"
    rb"endobj\n",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class SignedPaper:
    """A PDF whose bytes are those that somebody signed. files: what is attached, by name; language: in which it says
    that it is written; certificate: of whoever signed, in DER; at: the time that the signer claims, as ISO 32000-1,
    7.9.4 writes it."""

    files: dict[str, bytes]
    language: str
    certificate: bytes
    at: str


def read_signed(data: bytes) -> SignedPaper:
    """The signed file in `data`: in the one form, and with a good signature over the whole of it.

    Errors: `strict.Loose` when it is in another form, `record.cms.NoSuchSignature` when the signature is not good.
    Whose certificate it is, is for the caller to ask.
    """
    pdf = read_strict(data)
    signature = pdf.signature
    found = _SIGNATURE.fullmatch(signature.text)
    if found is None:
        raise Loose(message("proof-loose-signature"))
    start, end = (signature.at + found.start("hex") - 1, signature.at + found.end("hex") + 1)
    if (int(found["start"]), int(found["end"]), int(found["rest"])) != (start, end, len(data) - end):
        raise Loose(message("proof-loose-range"))
    written = bytes.fromhex(found["hex"].decode("ascii"))
    # What is left of the room is filled with zeros; the signature says itself how long it is (X.690, 8.1.3).
    size = 4 + int.from_bytes(written[2:4], "big") if written[:2] == b"\x30\x82" else 0
    if size > len(written) or written[size:].strip(b"\0"):
        raise Loose(message("proof-loose-signature"))
    digest = hashlib.sha256(memoryview(data)[:start])
    digest.update(memoryview(data)[end:])
    signed = read_signature(written[:size], digest.digest())
    return SignedPaper(pdf.files, pdf.language, signed.certificate, found["at"].decode("ascii"))
