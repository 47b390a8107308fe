"""The mortars of a tablet: what their data sheets say, kept between days and sites."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError

from fieldassist.checklist.plan import DayPlan, Mortar
from fieldassist.record.disk import whole_file

FILE = "mortars.json"


class KeptMortars(BaseModel):
    """The list, by name."""

    model_config = ConfigDict(extra="ignore", frozen=True)

    mortars: tuple[Mortar, ...] = ()

    def named(self, name: str) -> Mortar | None:
        """The one of this name."""
        return next((mortar for mortar in self.mortars if mortar.name == name), None)

    def with_mortar(self, mortar: Mortar, instead_of: str = "") -> KeptMortars:
        """With one more, or in place of the one that had its name, or the name in `instead_of`."""
        others = [one for one in self.mortars if one.name not in (mortar.name, instead_of)]
        return KeptMortars(mortars=tuple(sorted([*others, mortar], key=lambda one: one.name.lower())))

    def without(self, name: str) -> KeptMortars:
        """Without the one of this name."""
        return KeptMortars(mortars=tuple(one for one in self.mortars if one.name != name))

    def with_those_of(self, plan: DayPlan) -> KeptMortars:
        """With the mortars of a plan that are not known yet; what stands here is not overwritten."""
        kept = self
        for mortar in _unlike(area.mortar for area in plan.areas):
            kept = kept if kept.named(mortar.name) is not None else kept.with_mortar(mortar)
        return kept


def _unlike(mortars: Iterable[Mortar]) -> Iterable[Mortar]:
    return {mortar.name: mortar for mortar in mortars}.values()


def load(folder: Path) -> KeptMortars:
    """Those kept in a tablet's folder; none where there is no list, or the file is damaged."""
    try:
        return KeptMortars.model_validate_json((folder / FILE).read_bytes())
    except (OSError, ValidationError):
        return KeptMortars()


def save(folder: Path, kept: KeptMortars) -> None:
    """Write them down: the old list or the new one is there, whole. OSError when the disk refuses."""
    folder.mkdir(parents=True, exist_ok=True)
    with whole_file(folder / FILE) as file:
        file.write(kept.model_dump_json(indent=1, exclude_defaults=True).encode())
