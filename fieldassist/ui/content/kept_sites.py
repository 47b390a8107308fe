"""Sites that are planned and not begun: each a file of its own in the tablet's folder, half done or whole; and plans
that were written by hand and put beside the days.

A site that is begun is in its day's log, and goes on from there; its file is taken away.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from fieldassist.checklist.loader import WrongFile, load_plan
from fieldassist.checklist.plan import DayPlan
from fieldassist.record.disk import whole_file
from fieldassist.trade.message import Message
from fieldassist.ui.content.site_draft import PlanDraft, site_of

FOLDER = "sites"


@dataclass(frozen=True, slots=True)
class KeptSite:
    """One of them. path: of the file that what is entered goes to, None for a plan that was written by hand: that file
    is left as it is; wrong: why such a plan cannot be used."""

    path: Path | None
    draft: PlanDraft
    wrong: Message | None = None

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
    found += [_written_by_hand(path) for path in sorted((data / "days").glob("*.yaml"))]
    return tuple(sorted(found, key=lambda one: one.name.lower()))


def _written_by_hand(path: Path) -> KeptSite:
    try:
        plan = load_plan(path)
    except WrongFile as wrong:
        return KeptSite(None, PlanDraft(DayPlan, {"site": path.name}), wrong.told)
    return KeptSite(None, site_of(plan, plan.date))


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
