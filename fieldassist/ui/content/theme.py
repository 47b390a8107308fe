"""Colours and sizes of the screens, for wet gloves, bright sun and two metres of distance.

Every text stands on a ground that it was paired with here, and every pair reaches 7:1 (WCAG 2.2, success criterion
1.4.6, which asks it of text of any size but large). Nothing is told by colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

# A gloved finger's target and the gap beside it, in mm. Ours; ISO 9241-410 has 15 mm for a bare one (from memory).
TARGET_MM = 18.0
GAP_MM = 1.5

ColourRole = Literal["ground", "panel", "button", "first", "alarm", "good"]


@dataclass(frozen=True, slots=True)
class Pair:
    """A ground and the foreground that is read on it, as "#rrggbb"."""

    ground: str
    foreground: str


@dataclass(frozen=True, slots=True)
class Theme:
    """The colours of all parts.

    ground: behind everything; panel: a field with figures in it; button: what may be pressed; first: what will most
    likely be pressed; alarm: what is wrong or dangerous; good: what holds. quiet: lesser words, on ground and panel.
    line: edges, which are no text.
    """

    name: str
    ground: Pair
    panel: Pair
    button: Pair
    first: Pair
    alarm: Pair
    good: Pair
    quiet: str
    line: str

    def pair(self, role: ColourRole) -> Pair:
        """The colours of one part."""
        found: Pair = getattr(self, role)
        return found

    def pairs(self) -> tuple[Pair, ...]:
        """Every ground with every foreground that is read on it."""
        pairs = (self.ground, self.panel, self.button, self.first, self.alarm, self.good)
        return (*pairs, Pair(self.ground.ground, self.quiet), Pair(self.panel.ground, self.quiet))


DAY = Theme(
    name="day",
    ground=Pair("#f4f1ea", "#15191d"),
    panel=Pair("#ffffff", "#15191d"),
    button=Pair("#ddd6c6", "#15191d"),
    first=Pair("#123f5c", "#ffffff"),
    alarm=Pair("#7d1d12", "#ffffff"),
    good=Pair("#1c4a2c", "#ffffff"),
    quiet="#3f474e",
    line="#6b6f73",
)
DARK = Theme(
    name="dark",
    ground=Pair("#0f1316", "#f3efe6"),
    panel=Pair("#1a2025", "#f3efe6"),
    button=Pair("#333d45", "#f3efe6"),
    first=Pair("#f0c65a", "#15191d"),
    alarm=Pair("#ffb3a3", "#15191d"),
    good=Pair("#b4e2c3", "#15191d"),
    quiet="#c3c9cd",
    line="#8d959b",
)
THEMES = {theme.name: theme for theme in (DAY, DARK)}


def rgb(colour: str) -> tuple[float, float, float]:
    """A colour "#rrggbb" as shares of 1.

    >>> rgb("#ff0000")
    (1.0, 0.0, 0.0)
    """
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return red, green, blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21.

    References: WCAG 2.2, "contrast ratio" and "relative luminance".

    >>> round(contrast("#000000", "#ffffff"), 1), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)
    """
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in rgb(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
