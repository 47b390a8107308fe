"""Who may give somebody a PIN: the person alone while a crew is set up, later only with a foreman or owner beside them.

Whoever holds the tablet could otherwise make another one's key. Where nobody who answers for the site has a PIN yet
there is nobody to ask, and a first PIN is given by the person alone. A key that is made in place of a forgotten one
says so in every day that it signs (`record.keys`).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from fieldassist.checklist.plan import Role
from fieldassist.record.keys import KeyHolder

PinWay = Literal["give", "change", "reset"]


def vouchers(holders: Iterable[KeyHolder], name: str, way: PinWay) -> tuple[str, ...]:
    """Whose PIN is asked for before somebody gets one, any of them; empty where none is needed or there is nobody.

    With the old PIN (way "change") nobody else is asked.
    """
    if way == "change":
        return ()
    return tuple(h.name for h in holders if h.role in (Role.FOREMAN, Role.OWNER) and h.name != name)
