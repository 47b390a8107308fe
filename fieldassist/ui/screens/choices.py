"""How this tablet looks and keeps itself: theme, size of text, hand, units, reading aloud, lock."""

from __future__ import annotations

from functools import partial
from typing import Any

from fieldassist.trade.message import message
from fieldassist.ui.content.locked import MINUTES
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.picks import picks
from fieldassist.ui.widgets.text import TextLabel

# What is chosen here: each with its values, in the order in which they stand.
_CHOICES: tuple[tuple[str, tuple[Any, ...]], ...] = (
    ("theme", ("day", "dark", "sun")),
    ("text", (1.0, 1.25, 1.5)),
    ("hand", ("right", "left")),
    ("units", (None, "metric", "us")),
    ("press_to_hear", (False, True)),
    ("lock_minutes", MINUTES),
    ("keyboard", (True, False)),
    ("keep_places", (False, True)),
)


class ChoicesPage(Screen):
    """The screen."""

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        return self.tablet.words(message("person-tablet")), ""

    def refresh(self) -> None:
        """Show what has changed."""
        if self.changed("all", (self.tablet.preferences, self._signs())):
            self._draw()

    def _signs(self) -> bool:
        return bool(self.tablet.keys.people())

    def _draw(self) -> None:
        look, words = self.look, self.tablet.words
        self.page.clear_widgets()
        inside = ColumnBox(look, gap=12, rises=True)
        large = self.tablet.upright or look.text > 1.2
        for field, values in _CHOICES:
            chosen = getattr(self.tablet.preferences, field)
            options = [(value, self._told(field, value)) for value in values]
            columns = 3 if len(values) > 3 and large else len(values)
            keys = picks(look, options, chosen, partial(self._choose, field), columns=columns)
            title = TextLabel(look, words(message(f"person-choose-{field.replace('_', '-')}")), "near", bold=True)
            if large:
                inside.add_widget(title)
                inside.add_widget(keys)
            else:
                title.size_hint_x, title.pos_hint = 0.32, {"center_y": 0.5}
                keys.size_hint_x = 0.68
                inside.add_widget(
                    RowBox(look, *((keys, title) if look.left_hand else (title, keys)), gap=20, rises=True)
                )
        for code in ("person-units-kept", "person-places-kept"):
            inside.add_widget(TextLabel(look, words(message(code)), "small", role="quiet"))
        self.page.add_widget(Scroll(look, inside))
        self.act(Key(look, words(message("frame-back")), self.tablet.back, kind="plain", high=None))

    def _told(self, field: str, value: Any) -> str:
        words = self.tablet.words
        if field == "text":
            return f"{round(100 * value)} %"
        if field == "lock_minutes":
            return words(message("person-lock", minutes=int(value)))
        which = "plan" if value is None else "yes" if value is True else "no" if value is False else str(value)
        return words(message(f"person-chosen-{field.replace('_', '-')}", which=which))

    def _choose(self, field: str, value: Any) -> None:
        if field == "lock_minutes" and value and not self._signs():
            self.tablet.refuse(self.tablet.words(message("person-lock-needs-pin")))
            return
        # Whoever wants to hear what is pressed hears nothing where everything is only written.
        hears = {"aloud": True} if field == "press_to_hear" and value else {}
        self.tablet.choose(**{field: value}, **hears)
