"""The appendix as plain data: for whoever has an hour."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Appendix:
    """What stands out of the usual sequence, and where figures and limits come from."""

    running: str
    title: str
