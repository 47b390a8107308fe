"""The phones of Spanish, as it is spoken in America: c before e, z and s are one sound, ll and y are one."""

from __future__ import annotations

from models.build.units import Units

VOWELS = ("a", "e", "i", "o", "u")
UNITS = Units(
    (
        *VOWELS,
        *("j", "w"),  # the glides of "pie", "rey" and of "cuatro", "pausa"
        *("b", "ch", "d", "f", "g", "k", "l", "m", "n", "ny", "p", "r", "rr", "s", "t", "x", "y"),
    )
)
"""Named as they are written, but ny (ñ), r (one tap), rr (rolled) and x (the j of "caja")."""
