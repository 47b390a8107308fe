"""The screens by name, in the order of the working day."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from fieldassist.ui.screens import area, lift, more, photos, plan, safety, settings, signoff, today
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet


@dataclass(frozen=True, slots=True)
class ScreenEntry:
    """A screen: what the way to it says, "" where it is reached from another screen, and how it is made."""

    title: str
    make: Callable[[Tablet], Screen]


SCREENS: Mapping[str, ScreenEntry] = {
    "today": ScreenEntry("Today", today.Today),
    "area": ScreenEntry("Step", area.StepPane),
    "more": ScreenEntry("", more.More),
    "lift": ScreenEntry("Lift", lift.LiftScreen),
    "photos": ScreenEntry("", photos.Photos),
    "plan": ScreenEntry("Plan", plan.Plan),
    "safety": ScreenEntry("Safety", safety.Safety),
    "signoff": ScreenEntry("Sign-off", signoff.SignOff),
    "settings": ScreenEntry("Settings", settings.TabletSettings),
}
