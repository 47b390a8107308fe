"""Colours of the screens, for wet gloves, bright sun and two metres of distance: one meaning each, and never alone.

Every text stands on a ground that it was paired with here, and every pair reaches 7:1 (WCAG 2.2, success criterion
1.4.6, which asks it of text of any size but large); every edge of a target reaches 3:1 (1.4.11).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

ColourName = Literal[
    "ground",
    "sheet",
    "key",
    "bare",
    "ink",
    "quiet",
    "edge",
    "action",
    "on_action",
    "action_low",
    "pass_",
    "on_pass",
    "fail",
    "fail_plate",
    "on_fail",
    "due",
    "on_due",
    "mortar",
    "tile",
]


@dataclass(frozen=True, slots=True)
class Pair:
    """A ground and the foreground that is read on it, as "#rrggbb"."""

    ground: str
    foreground: str


@dataclass(frozen=True, slots=True)
class Theme:
    """The colours, as "#rrggbb".

    ground, sheet, key: the three surfaces; bare: the base where no piece is; ink, quiet: what must be read and what
    may be; edge: borders of what is pressed; action: the one key that goes on (on_action: its words, action_low: its
    lower edge); pass_: holds; fail, fail_plate: does not hold, as a line and as a field; due: wants somebody soon;
    mortar, tile: the material.
    """

    name: str
    ground: str
    sheet: str
    key: str
    bare: str
    ink: str
    quiet: str
    edge: str
    action: str
    on_action: str
    action_low: str
    pass_: str
    on_pass: str
    fail: str
    fail_plate: str
    on_fail: str
    due: str
    on_due: str
    mortar: str
    tile: str

    def colour(self, name: ColourName) -> str:
        """A colour by its name."""
        found: str = getattr(self, name)
        return found

    def texts(self) -> tuple[Pair, ...]:
        """Every ground with every foreground that is read on it."""
        surfaces = (self.ground, self.sheet, self.key)
        return (
            *(Pair(ground, self.ink) for ground in (*surfaces, self.tile, self.bare)),
            *(Pair(ground, self.quiet) for ground in (*surfaces, self.bare)),
            Pair(self.action, self.on_action),
            Pair(self.pass_, self.on_pass),
            Pair(self.fail_plate, self.on_fail),
            Pair(self.due, self.on_due),
            *(Pair(ground, self.pass_) for ground in (self.ground, self.sheet, self.tile)),
            *(Pair(ground, self.fail) for ground in (self.ground, self.sheet, self.tile)),
        )

    def edges(self) -> tuple[Pair, ...]:
        """Every ground with every line or field that has to be seen on it."""
        return (
            *(Pair(ground, self.edge) for ground in (self.ground, self.sheet, self.key, self.bare)),
            Pair(self.ground, self.action),
            *(Pair(ground, self.mortar) for ground in (self.ground, self.sheet, self.tile)),
            Pair(self.mortar, self.ink),
            Pair(self.fail_plate, self.fail) if self.fail != self.fail_plate else Pair(self.ground, self.fail_plate),
        )


DAY = Theme(
    name="day",
    ground="#E6EAEC",
    sheet="#F7F9F9",
    key="#FFFFFF",
    bare="#D9DFE2",
    ink="#12191D",
    quiet="#39444B",
    edge="#5F6B73",
    action="#0A3F9E",
    on_action="#FFFFFF",
    action_low="#062863",
    pass_="#084F30",
    on_pass="#FFFFFF",
    fail="#8E0B24",
    fail_plate="#8E0B24",
    on_fail="#FFFFFF",
    due="#FFB92E",
    on_due="#12191D",
    mortar="#737C7F",
    tile="#FFFFFF",
)
DARK = Theme(
    name="dark",
    ground="#0D1214",
    sheet="#171E21",
    key="#222C33",
    bare="#070A0B",
    ink="#F2F6F7",
    quiet="#C3CDD2",
    edge="#8B98A0",
    action="#8FBBFF",
    on_action="#071428",
    action_low="#4E7DC7",
    pass_="#74DBA6",
    on_pass="#04150C",
    fail="#FFA8AF",
    fail_plate="#AE0A22",
    on_fail="#FFFFFF",
    due="#FFC247",
    on_due="#160F00",
    mortar="#7F8B8F",
    tile="#28323A",
)
SUN = Theme(
    name="sun",
    ground="#FFFFFF",
    sheet="#FFFFFF",
    key="#FFFFFF",
    bare="#E4E4E4",
    ink="#000000",
    quiet="#1C1C1C",
    edge="#000000",
    action="#00256B",
    on_action="#FFFFFF",
    action_low="#000000",
    pass_="#00401F",
    on_pass="#FFFFFF",
    fail="#7A0018",
    fail_plate="#7A0018",
    on_fail="#FFFFFF",
    due="#FFC400",
    on_due="#000000",
    mortar="#5A5A5A",
    tile="#FFFFFF",
)
THEMES: Mapping[str, Theme] = {theme.name: theme for theme in (DAY, DARK, SUN)}


@cache
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
