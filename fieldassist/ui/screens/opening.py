"""The four places until each has its page."""

from __future__ import annotations

from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import Text


class WorkPage(Screen):
    """Stands for the page."""

    place = "work"

    def refresh(self) -> None:
        """Show it."""
        view = self.tablet.view
        if self.changed("all", view is not None and view.prompt):
            self.page.clear_widgets()
            if view is not None:
                self.page.add_widget(Text(self.look, self.tablet.words(view.prompt.ask), "far"))
                offers = [o for o in view.prompt.answers if o.slot is None]
                keys = [
                    Key(
                        self.look,
                        self.tablet.words(o.label),
                        lambda o=o: self.tablet.send(o.command),
                        kind="action" if i == 0 else "plain",
                    )  # type: ignore[misc]
                    for i, o in enumerate(offers[:4])
                ]
                self.act(*keys)
