"""The step at hand, in huge words, with big answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldassist.ui.parts import Column, Scroll, Words
from fieldassist.ui.screen import Screen

if TYPE_CHECKING:
    from fieldassist.ui.app import Tablet


class AtStep(Screen):
    """One step, what it asks, what may be said or pressed."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._content = Column()
        self.add_widget(Scroll(self._content))

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        if view is not None and self.changed("prompt", view.prompt.say):
            self._content.clear_widgets()
            self._content.add_widget(Words(self.look, view.prompt.say, "huge"))
