"""The page of signatures and the pages of addenda, as plain data."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SigningPage:
    """Who signs for what, the seal, and how all of it is checked."""

    running: str
    title: str


@dataclass(frozen=True, slots=True)
class AddendumPages:
    """The day opened again after it was signed. key: by which references lead here."""

    key: str
    running: str
    title: str
