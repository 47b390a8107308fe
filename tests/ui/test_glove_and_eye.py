"""What can be pressed is large enough for a glove, and what is read stands out, on every screen at every size."""

from __future__ import annotations

from itertools import product

import pytest
from kivy.metrics import mm
from kivy.uix.label import Label
from kivy.uix.scrollview import ScrollView
from kivy.uix.widget import Widget

from fieldassist.ui.content.theme import TARGET_MM, THEMES, contrast, rgb
from fieldassist.ui.screens.registry import SCREENS
from fieldassist.ui.widgets.parts import Target, gap
from tests.ui.conftest import Hands, resize

# A dot is lost to rounding here and there: the tests draw with half of a tablet's.
DOT_MM = 0.35
TO_A_READING = (
    *("this is rosa", "start area shower wall", "understood", "understood"),
    *("air temperature twenty one degrees", "yes", "wall temperature eighteen degrees", "yes"),
    *("humidity fifty percent", "yes", "membrane checked"),
)
TO_THE_BATCH = (
    *("gap two millimeters", "yes", "short gap one millimeter", "yes", "wall clean"),
    *("this is edwin", "base released", "this is rosa", "new batch", "understood"),
    *("one bag", "yes", "lot b seven", "yes", "water five liters", "yes", "batch mixed"),
)
TO_A_TILE = ("remixed", "next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch", "yes")


def to_a_lift(hands: Hands, done: int = 0) -> None:
    """From the base of the shower wall to its first test tile, lifted; done: how many lines of that were said."""
    hands.say(*TO_THE_BATCH[done:])
    hands.clock.advance(8)
    hands.say(*TO_A_TILE, "beaten in", "test tile lifted")


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_every_text_stands_out_from_its_ground_by_seven_to_one(theme: object) -> None:
    # WCAG 2.2, success criterion 1.4.6: contrast of at least 7:1.
    for pair in theme.pairs():  # type: ignore[attr-defined]
        assert contrast(pair.ground, pair.foreground) >= 7.0, pair


def test_contrast_is_what_the_standard_computes() -> None:
    # WCAG 2.2, definition of contrast ratio: 21:1 is black on white. #767676 on white is the lightest grey of six equal
    # digits that reaches 4.5:1 (from memory; the definition gives it).
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


def seen_whole(widget: Widget) -> bool:
    """Whether a widget is drawn at all: what lies in a list that is pulled may lie outside of it."""
    return widget.opacity > 0 and widget.width > 1 and widget.get_parent_window() is not None


def check(hands: Hands, what: str) -> None:
    """All that stands on the window now."""
    inks = {tuple(round(c, 3) for c in rgb(ink)) for ink in inks_of(hands)}
    targets = [t for t in hands.targets() if seen_whole(t)]
    assert targets, what
    for target in targets:
        size = f"{what}: {target.text!r} is {target.width / mm(1):.1f} x {target.height / mm(1):.1f} mm"
        assert min(target.width, target.height) >= mm(TARGET_MM - DOT_MM), size
        assert target.texture_size[1] <= target.height + 1, f"{what}: {target.text!r} is cut"
        words = max((target.widest_word(), 0.0))
        shrunk = target.font_size / target._font
        assert words * shrunk <= target.width - 2 * gap() + 1, f"{what}: a word of {target.text!r} is broken"
        assert shrunk > 0.6, f"{what}: {target.text!r} is too small to read"
        x, _ = target.to_window(*target.pos)
        assert x >= -1, f"{what}: {target.text!r} begins off the window"
        assert x + target.width <= hands.tablet._frame.width + 1, f"{what}: {target.text!r} ends off the window"
    for label in (w for w in hands.widgets() if isinstance(w, Label) and w.text and seen_whole(w)):
        assert tuple(round(c, 3) for c in label.color[:3]) in inks, f"{what}: {label.text!r} is in no ink of the theme"
        if not isinstance(label, Target) and not label.max_lines:
            assert label.texture_size[1] <= label.height + 1, f"{what}: {label.text!r} is cut"
    for one, other in overlaps(targets):
        raise AssertionError(f"{what}: {one.text!r} lies over {other.text!r}")


def inks_of(hands: Hands) -> set[str]:
    return {pair.foreground for pair in hands.tablet.look.theme.pairs()}


def overlaps(targets: list[Target]) -> list[tuple[Target, Target]]:
    """Targets that lie over each other, of those that nothing scrolls."""
    fixed = [t for t in targets if not any(isinstance(p, ScrollView) for p in parents(t))]
    return [(a, b) for i, a in enumerate(fixed) for b in fixed[i + 1 :] if _over(a, b)]


def parents(widget: Widget) -> list[Widget]:
    found = []
    while widget.parent is not None and widget.parent is not widget:
        widget = widget.parent
        found.append(widget)
    return found


def _over(a: Target, b: Target) -> bool:
    (ax, ay), (bx, by) = a.to_window(*a.pos), b.to_window(*b.pos)
    return ax + a.width > bx + 1 and bx + b.width > ax + 1 and ay + a.height > by + 1 and by + b.height > ay + 1


@pytest.mark.parametrize(("size", "theme"), [((1280, 800), "day"), ((800, 1280), "dark"), ((1920, 1200), "day")])
def test_every_screen_fits_glove_and_eye_at_every_size_of_text(hands: Hands, size: tuple[int, int], theme: str) -> None:
    resize(*size)
    looks = list(product((1.0, 1.25, 1.5), ("metric", "us")))[:: 2 if size[0] > 1280 else 1]
    hands.say(*TO_A_READING)
    for text, units in ((1.0, "metric"), (1.5, "us")):
        hands.tablet.choose(text=text, theme=theme, units=units)
        hands.go("area")
        hands.frames(6)
        check(hands, f"a reading, {size}, text {text}")
    hands.say("gap two millimeters")
    hands.frames(6)
    check(hands, f"yes or no, {size}")
    hands.say("yes")
    to_a_lift(hands, 2)
    for text, units in looks:
        hands.tablet.choose(text=text, theme=theme, units=units)
        for name in SCREENS:
            hands.go(name)
            hands.frames(6)
            check(hands, f"{name}, {size}, text {text}, {units}")
