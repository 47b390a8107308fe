"""Ed25519 signatures (RFC 8032) as they stand in a record and beside it: hexadecimal, over canonical JSON."""

from __future__ import annotations

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

# Points of order 1, 2, 4 and 8 (their y, the sign bit left out), and the two forms of them past the field's prime:
# under such a "key" one signature fits many statements, so it signs nothing. RFC 8032 does not rule them out.
_P = 2**255 - 19
_Y_OF_ORDER_8 = 0x7A03AC9277FDC74EC6CC392CFA53202A0F67100D760B3CBA4FD84D3D706A17C7
_SIGNS_NOTHING = frozenset({0, 1, _P - 1, _Y_OF_ORDER_8, _P - _Y_OF_ORDER_8, _P, _P + 1})


def is_signed(signed: bytes, public_key: str, signature: str) -> bool:
    """Whether `signature` (128 hexadecimal digits) is that of `public_key` (64 digits) over these bytes."""
    raw = bytes.fromhex(public_key)
    if int.from_bytes(raw, "little") % 2**255 in _SIGNS_NOTHING:
        return False
    try:
        Ed25519PublicKey.from_public_bytes(raw).verify(bytes.fromhex(signature), signed)
    except (InvalidSignature, ValueError):
        return False
    return True
