"""What every screen is."""

from __future__ import annotations

from typing import Any

from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.parts import gap

from kivy.uix.boxlayout import BoxLayout  # isort: skip


class Screen(BoxLayout):
    """One screen: `refresh` is called whenever the day, a report, a job or a preference has changed.

    What is drawn is only made anew when what it depends on has changed, so that a finger on its way to a target does
    not find another one there.
    """

    def __init__(self, tablet: Tablet, **rest: Any) -> None:
        super().__init__(orientation="vertical", padding=gap(), spacing=gap(), **rest)
        self.tablet = tablet
        self.look = tablet.look
        self._drawn: dict[str, object] = {}

    def refresh(self) -> None:
        """Show what has changed."""

    def changed(self, what: str, by: object) -> bool:
        """Whether `by`, on which the part called `what` depends, is another than at the last call."""
        if what in self._drawn and self._drawn[what] == by:
            return False
        self._drawn[what] = by
        return True
