"""What a reader holds to check a record with, that came to them by another way than the record."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fieldassist.record.roster import Roster


@dataclass(frozen=True, slots=True)
class Known:
    """key: the signer's public key or its fingerprint, as `record.keys.read_public` gives it; roster: who signs with
    which key; root: certificates, in PEM, of the time-stamping authority; None for none."""

    key: str | None = None
    roster: Roster | None = None
    root: bytes | None = None


NOTHING_KNOWN = Known()


@dataclass(frozen=True, slots=True)
class KnownFiles:
    """What `known_by` takes, not read yet: it is read in the process that checks, which needs its libraries anyway."""

    key: str | None = None
    roster: Path | None = None
    root: Path | None = None

    def read(self) -> Known:
        """What the reader knows; errors as `known_by`."""
        return known_by(self.key, self.roster, self.root)


def known_by(key: str | None = None, roster: Path | None = None, root: Path | None = None) -> Known:
    """What a reader knows who was given a key (the path of a PEM file, 64 hexadecimal digits, or a fingerprint), a
    roster, the root of a time-stamping authority (PEM), or several of them.

    Errors: KeyProblem when it is no key, RosterProblem when it is no roster, StampProblem when it is no root.
    """
    from fieldassist.record.keys import read_public
    from fieldassist.record.roster import load_roster

    return Known(
        None if key is None else read_public(key),
        None if roster is None else load_roster(roster),
        None if root is None else _read_root(root),
    )


def _read_root(path: Path) -> bytes:
    # It loads a library that a reader without a root does not need.
    from fieldassist.record.stamp import read_root

    return read_root(path)
