"""A short text as a square of light and dark that a camera reads: ISO/IEC 18004, QR Code."""

from __future__ import annotations

from functools import lru_cache

# The light border on each side, in modules: ISO/IEC 18004:2015, 5.3.8 (four for QR Code; number from memory).
QUIET_ZONE = 4


@lru_cache(maxsize=8)
def qr_modules(text: str) -> tuple[tuple[bool, ...], ...]:
    """The rows of a code for a text, from above; True is dark. Without its light border: `QUIET_ZONE` modules of it
    have to be left around.

    Error correction level M: about 15 % of it may be lost or dirty. ValueError for a text that is empty or too long.

    >>> len(qr_modules("21fe 31df a154 a261 626b f854 046f d227"))
    29
    """
    # Loaded only when a code is shown: nobody waits for it at the start.
    from reportlab.graphics.barcode import qrencoder

    if not 0 < len(text.encode()) <= _LONGEST:
        raise ValueError(f"a code takes 1 to {_LONGEST} bytes, this are {len(text.encode())}")
    code = qrencoder.QRCode(None, qrencoder.QRErrorCorrectLevel.M)
    code.addData(text)
    code.make()
    return tuple(tuple(bool(dark) for dark in row) for row in code.modules)


# What a camera still reads off a tablet at arm's length; far below what the standard takes. Ours.
_LONGEST = 300
