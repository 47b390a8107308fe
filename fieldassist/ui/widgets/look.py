"""How everything looks: theme, size of text and hand; sizes in the dots of a tablet of 149 dots an inch."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)

from kivy.metrics import Metrics  # isort: skip

from fieldassist.ui.content.theme import DAY, ColourName, Theme, rgb
from fieldassist.ui.content.typescale import DOTS_AN_INCH, SizeName, dots_of

# The least height and width of what is pressed: 18.06 mm. Ours, for a glove; ISO 9241-410 has 15 mm for a bare finger
# (from memory).
TARGET = 106
GAP = 8
MARGIN = 16
CORNER = 14


@dataclass(frozen=True, slots=True)
class Look:
    """theme; text: size of text, 1.0 to 1.5; left_hand: everything that is pressed lies at the left."""

    theme: Theme = DAY
    text: float = 1.0
    left_hand: bool = False

    def dots(self, number: float) -> float:
        """So many dots as pixels of this screen."""
        return float(number * Metrics.dpi / DOTS_AN_INCH)

    def font(self, size: SizeName) -> float:
        """The size of letters, in pixels."""
        return self.dots(dots_of(size, self.text))

    def ink(self, name: ColourName) -> tuple[float, float, float, float]:
        """A colour as Kivy takes it."""
        return (*rgb(self.theme.colour(name)), 1.0)
