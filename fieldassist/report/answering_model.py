"""Who answers for a day's pages, as plain data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Answering:
    """Who answers. told: in sentences; alarms: what is missing or does not fit, each red; key: digits to be compared,
    "" where no key answers; about: what the code holds; code: what a camera reads."""

    title: str
    told: str
    alarms: tuple[str, ...]
    key: str
    about: str
    code: str
