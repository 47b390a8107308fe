"""The page that checks a day in a browser, for whoever has this program and gives it to somebody who has not."""

from __future__ import annotations

import hashlib
from pathlib import Path

from fieldassist.places import shipped
from fieldassist.record.disk import whole_file
from fieldassist.record.manifest import PAGE
from fieldassist.trade.message import Refused, message

# SHA-256 of the pages of earlier versions, which lie in bundles of theirs: each is added when the page changes after it
# was handed out with a version.
EARLIER: frozenset[str] = frozenset(
    {
        "436d0a216de70e9fb09e6a22f9edb97c4f01bb4a21f92c4997595ce974cf3894",  # 0.2.0, before photos had copies
    }
)


def is_ours(sha256: str) -> bool:
    """Whether a page with this SHA-256 is this version's, or was an earlier one's."""
    return sha256 in EARLIER or sha256 == hashlib.sha256((shipped("assets") / PAGE).read_bytes()).hexdigest()


def write_page(path: Path) -> Path:
    """Write the page to `path`: the same bytes each time. Errors: `Refused` where the disk refuses."""
    try:
        with whole_file(path) as file:
            file.write((shipped("assets") / PAGE).read_bytes())
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise Refused(message("proof-page-not-written", file=str(path), why=why)) from error
    return path
