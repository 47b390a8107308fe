"""To a lift and its failure, for the tests of the screens that show them."""

from __future__ import annotations

from fieldassist.ui.widgets.back_painting import BackPainting
from tests.ui.conftest import Hands

SHOWER = (
    "this is rosa",
    "start area shower wall",
    "understood",
    "understood",
    "air temperature twenty one degrees!",
    "wall temperature eighteen degrees!",
    "humidity fifty percent!",
    "membrane checked",
    "gap two millimeters!",
    "short gap one millimeter!",
    "wall clean",
    "this is edwin",
    "base released",
    "this is rosa",
    "new batch",
    "understood",
    "one bag!",
    "lot b seven!",
    "water five liters!",
    "batch mixed",
)
TILE = ("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch!", "beaten in")


def work(hands: Hands, *lines: str) -> None:
    """Say lines; "gap two millimeters!" stands for it and its yes."""
    for line in lines:
        hands.say(line.rstrip("!"), *(["yes"] if line.endswith("!") else []))


def until_lift(hands: Hands) -> None:
    """Work the shower wall until its first test tile is due."""
    work(hands, *SHOWER)
    hands.clock.advance(8)
    work(hands, "remixed", *TILE)


def painting(hands: Hands) -> BackPainting:
    """The back that is painted."""
    [found] = [widget for widget in hands.widgets() if isinstance(widget, BackPainting)]
    return found
