"""The screens by name, in the order of the working day."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.ui import area, lift, photos, plan, safety, settings, signoff, today
from fieldassist.ui.screen import Make


@dataclass(frozen=True, slots=True)
class Entry:
    """A screen: what the way to it says, "" where it is reached from another screen, and how it is made."""

    title: str
    make: Make


SCREENS: dict[str, Entry] = {
    "today": Entry("Today", today.Today),
    "area": Entry("Step", area.AtStep),
    "lift": Entry("Lift", lift.Lift),
    "photos": Entry("", photos.Photos),
    "plan": Entry("Plan", plan.Plan),
    "safety": Entry("Safety", safety.Safety),
    "signoff": Entry("Sign-off", signoff.SignOff),
    "settings": Entry("Settings", settings.TabletSettings),
}
