"""The phones of English."""

from __future__ import annotations

from models.build.units import Units

UNITS = Units(
    (
        *("AA", "AE", "AH", "AX", "AO", "AW", "AY", "B", "CH", "D", "DH", "EH", "ER", "EY", "F", "G", "HH", "IH", "IY"),
        *("JH", "K", "L", "M", "N", "NG", "OW", "OY", "P", "R", "S", "SH", "T", "TH", "UH", "UW", "V", "W", "Y", "Z"),
        "ZH",
    )
)
"""CMUdict's 39 ARPAbet phones, and AX for the unstressed AH ("a", "the")."""
