"""What a reader holds to check a record with, that came to them by another way than the record."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Known:
    """key: the signer's public key or its fingerprint, as `record.keys.read_public` gives it; None for none."""

    key: str | None = None


NOTHING_KNOWN = Known()


def known_by(key: str | None) -> Known:
    """What a reader knows who was given this key: the path of a PEM file, 64 hexadecimal digits, or a fingerprint.

    Errors: KeyProblem when it is no key.
    """
    if key is None:
        return NOTHING_KNOWN
    from fieldassist.record.keys import read_public

    return Known(read_public(key))
