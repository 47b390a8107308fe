"""The screens by name."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldassist.ui.screens.base import Screen
from fieldassist.ui.screens.opening import DayPage, PlanPage, WorkPage
from fieldassist.ui.screens.wall import WallScreen
from fieldassist.ui.tablet import Tablet

SCREENS: Mapping[str, Callable[[Tablet], Screen]] = {
    # the four places
    "wall": WallScreen,
    "work": WorkPage,
    "plan": PlanPage,
    "day": DayPage,
    # behind them
}
