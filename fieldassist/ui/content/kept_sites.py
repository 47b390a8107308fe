"""Sites that are planned and not begun: each a file of its own in the tablet's folder, half done or whole.

A site that is begun is in its day's log, and goes on from there; its file is taken away.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from fieldassist.checklist.plan import DayPlan
from fieldassist.record.disk import whole_file
from fieldassist.ui.content.site_draft import PlanDraft

FOLDER = "sites"


@dataclass(frozen=True, slots=True)
class KeptSite:
    """One of them."""

    path: Path
    draft: PlanDraft

    @property
    def name(self) -> str:
        """What the site is called, "" where it has no name yet."""
        return str(self.draft.get("site") or "")


def kept_sites(data: Path) -> tuple[KeptSite, ...]:
    """All of them, by name; a file that cannot be read is left out."""
    found = []
    for path in sorted((data / FOLDER).glob("*.json")):
        try:
            fields = json.loads(path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            continue
        if isinstance(fields, dict):
            found.append(KeptSite(path, PlanDraft(DayPlan, fields)))
    return tuple(sorted(found, key=lambda one: one.name.lower()))


def new_path(data: Path, name: str) -> Path:
    """A file that is not there yet, for a site of this name."""
    stem = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40] or "site"
    path, number = data / FOLDER / f"{stem}.json", 1
    while path.exists():
        number += 1
        path = path.with_name(f"{stem}-{number}.json")
    return path


def keep(path: Path, draft: PlanDraft) -> None:
    """Write a site down, whole. OSError when the disk refuses."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with whole_file(path) as file:
        file.write(json.dumps(draft.fields, ensure_ascii=False, indent=1).encode())
