"""Page one as plain data: what an owner sees in thirty seconds."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FrontPage:
    """Page one. site: its title; verdict: the sentence that stands first."""

    site: str
    date: str
    about: str
    verdict: str
